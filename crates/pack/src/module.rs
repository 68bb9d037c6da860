//! What one module can do.

use crate::chemistry::Chemistry;
use crate::{AmpHours, Amps, Volts, WattHours};

/// Volts at three states of charge, at rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CellVolts {
    /// Discharged to the cut-off.
    pub empty: Volts,
    /// For energy: nominal.
    pub nominal: Volts,
    /// At the end of charge.
    pub full: Volts,
}

impl CellVolts {
    /// The volts of `count` of these in series.
    #[must_use]
    pub fn in_series(self, count: u32) -> Self {
        Self {
            empty: self.empty * count,
            nominal: self.nominal * count,
            full: self.full * count,
        }
    }
}

/// One module of a kind, as its terminals show it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Module {
    /// Cells in series inside.
    pub cells_series: u32,
    /// Cells in parallel inside.
    pub cells_parallel: u32,
    /// Volts of the whole module.
    pub volts: CellVolts,
    /// Capacity of the whole module.
    pub capacity: AmpHours,
    /// The most amps for long, if known.
    pub continuous: Option<Amps>,
    /// The most amps for a short time, if known.
    pub peak: Option<Amps>,
    /// The most amps it may be charged with for long, if known.
    pub charge: Option<Amps>,
}

impl Module {
    /// A module of cells with the typical volts of their family, its amps unknown. The module's own data, where there
    /// are any, are better.
    pub fn from_cells(chemistry: Chemistry, cells_series: u32, cells_parallel: u32, cell_capacity: AmpHours) -> Self {
        Self {
            cells_series,
            cells_parallel,
            volts: chemistry.cell_volts().in_series(cells_series),
            capacity: cell_capacity * cells_parallel,
            continuous: None,
            peak: None,
            charge: None,
        }
    }

    /// Nominal energy: nominal volts times capacity.
    pub fn energy(&self) -> WattHours {
        self.volts.nominal * self.capacity
    }
}
