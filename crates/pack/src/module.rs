//! What one module can do.

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
}

impl Module {
    /// Nominal energy: nominal volts times capacity.
    pub fn energy(&self) -> WattHours {
        self.volts.nominal * self.capacity
    }
}
