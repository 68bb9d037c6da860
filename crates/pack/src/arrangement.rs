//! Series and parallel: every arrangement that the units on hand allow, and the pack as laid out.

use crate::window::{ChargerWindow, DriveWindow};
use crate::{AmpHours, Amps, CellVolts, Module, Volts, WattHours};

/// Modules in series and strings in parallel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Arrangement {
    /// Modules in series in each string.
    pub series: u32,
    /// Strings in parallel.
    pub parallel: u32,
}

impl Arrangement {
    /// Modules it takes.
    pub const fn modules(self) -> u32 {
        self.series * self.parallel
    }
}

/// The figures of a pack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Figures {
    /// Volts empty, nominal and full.
    pub volts: CellVolts,
    /// Capacity.
    pub capacity: AmpHours,
    /// Nominal energy.
    pub energy: WattHours,
    /// The most amps for long, if the module's is known.
    pub continuous: Option<Amps>,
    /// The most amps for a short time, if the module's is known.
    pub peak: Option<Amps>,
    /// Cells in series and in parallel.
    pub cells: (u32, u32),
}

/// How grave an objection is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grave {
    /// It works, but not to the full.
    Caution,
    /// It cannot work, or is outside a stated limit.
    Stop,
}

/// Something that speaks against an arrangement, with the figure and the limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Objection {
    /// Full volts above the drive's most.
    FullAboveDrive {
        /// Full volts.
        full: Volts,
        /// The drive's most.
        limit: Volts,
    },
    /// Full volts above what destroys the drive.
    FullAboveAbsolute {
        /// Full volts.
        full: Volts,
        /// The drive's absolute most.
        limit: Volts,
    },
    /// Empty volts below the drive's least.
    EmptyBelowDrive {
        /// Empty volts.
        empty: Volts,
        /// The drive's least.
        limit: Volts,
    },
    /// The charger cannot reach full.
    ChargerTooLow {
        /// Full volts.
        full: Volts,
        /// The charger's most.
        limit: Volts,
    },
    /// The charger does not start when empty.
    ChargerStartsAbove {
        /// Empty volts.
        empty: Volts,
        /// The charger's least.
        limit: Volts,
    },
    /// The drive draws more at its peak than the modules give.
    PeakAmps {
        /// What the modules give.
        gives: Amps,
        /// What the drive draws.
        draws: Amps,
    },
    /// The drive draws more for long than the modules give.
    ContinuousAmps {
        /// What the modules give.
        gives: Amps,
        /// What the drive draws.
        draws: Amps,
    },
}

impl Objection {
    /// How grave it is: outside the drive's window is a stop; the charger's start and amps are cautions; a charger
    /// that cannot reach full is a caution (the pack works, part of the capacity is given up).
    pub const fn grave(&self) -> Grave {
        todo!()
    }

    /// In plain words, with both figures: `full 170.4 V is over the drive's 160 V`.
    pub fn words(&self) -> String {
        todo!()
    }
}

/// One arrangement with its figures and what speaks against it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// Series and parallel.
    pub arrangement: Arrangement,
    /// The figures.
    pub figures: Figures,
    /// What speaks against it, gravest first; empty when it fits.
    pub objections: Vec<Objection>,
    /// Units on hand that stay unused.
    pub left_over: u32,
}

impl Choice {
    /// Whether nothing graver than a caution speaks against it.
    pub fn fits(&self) -> bool {
        todo!()
    }
}

/// The figures of `module` arranged so.
pub fn figures(_module: &Module, _arrangement: Arrangement) -> Figures {
    todo!()
}

/// What speaks against a pack with these figures, gravest first.
pub fn objections(
    _figures: &Figures,
    _drive: Option<&DriveWindow>,
    _charger: Option<&ChargerWindow>,
) -> Vec<Objection> {
    todo!()
}

/// Every arrangement that `on_hand` units allow: 1 to `on_hand` in series, 1 to `on_hand / series` in parallel.
///
/// Best first: those that fit before those that do not, then more energy, then fewer objections, then fewer in
/// series; a fixed order for equal inputs.
pub fn choices(
    _module: &Module,
    _on_hand: u32,
    _drive: Option<&DriveWindow>,
    _charger: Option<&ChargerWindow>,
) -> Vec<Choice> {
    todo!()
}

/// The series counts that fit the drive's window: empty at or above its least and full at or below its most, as an
/// inclusive range; `None` when there is none.
pub fn series_that_fit(_module: &Module, _drive: &DriveWindow) -> Option<(u32, u32)> {
    todo!()
}
