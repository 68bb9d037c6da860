//! Series and parallel: every arrangement that the units on hand allow, and the pack as laid out.

use std::cmp::Reverse;

use crate::arithmetic::series_window;
use crate::window::{DriveWindow, Suits};
use crate::{AmpHours, Amps, CellVolts, Module, WattHours};

pub use crate::objection::{Grave, Low, Objection, objections};

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
        self.series.saturating_mul(self.parallel)
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
    /// The most amps it may be charged with for long, if the module's is known.
    pub charge: Option<Amps>,
    /// Cells in series and in parallel.
    pub cells: (u32, u32),
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
        self.objections.iter().all(|objection| objection.grave() < Grave::Stop)
    }
}

/// The figures of `module` arranged so: volts add up in series, capacity and amps in parallel.
pub fn figures(module: &Module, arrangement: Arrangement) -> Figures {
    let Arrangement { series, parallel } = arrangement;
    let volts = module.volts.in_series(series);
    let capacity = module.capacity * parallel;
    Figures {
        volts,
        capacity,
        energy: volts.nominal * capacity,
        continuous: module.continuous.map(|amps| amps * parallel),
        peak: module.peak.map(|amps| amps * parallel),
        charge: module.charge.map(|amps| amps * parallel),
        cells: (
            module.cells_series.saturating_mul(series),
            module.cells_parallel.saturating_mul(parallel),
        ),
    }
}

/// Every arrangement that `on_hand` units allow: 1 to `on_hand` in series, 1 to `on_hand / series` in parallel.
///
/// Best first: those that fit before those that do not, then more energy, then fewer objections, then fewer in
/// series; a fixed order for equal inputs.
pub fn choices(module: &Module, on_hand: u32, suits: &Suits) -> Vec<Choice> {
    let arrangements =
        (1..=on_hand).flat_map(|series| (1..=on_hand / series).map(move |parallel| Arrangement { series, parallel }));
    let mut choices: Vec<Choice> = arrangements
        .map(|arrangement| {
            let figures = figures(module, arrangement);
            let objections = objections(&figures, arrangement, suits);
            Choice {
                arrangement,
                figures,
                objections,
                left_over: on_hand - arrangement.modules(),
            }
        })
        .collect();
    // The key looks at every objection: made once for each choice, not once for each comparison.
    choices.sort_by_cached_key(|choice| {
        (
            !choice.fits(),
            Reverse(choice.figures.energy),
            choice.objections.len(),
            choice.arrangement,
        )
    });
    choices
}

/// The best of the choices that fit: the first of them, in the order of [`choices`]; `None` when none fits.
pub fn best(choices: &[Choice]) -> Option<&Choice> {
    choices.iter().find(|choice| choice.fits())
}

/// The series counts that fit the drive's window: empty at or above its least and full at or below its most (and not
/// above what destroys it), as an inclusive range; `None` when there is none.
pub fn series_that_fit(module: &Module, drive: &DriveWindow) -> Option<(u32, u32)> {
    let window = series_window(&module.volts, drive)?;
    (window.least <= window.most).then_some((window.least, window.most))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::Volts;

    fn module(empty: i64, span: i64) -> Module {
        let volts = |milli| Volts::from_milli(milli);
        Module {
            cells_series: 4,
            cells_parallel: 1,
            volts: CellVolts {
                empty: volts(empty),
                nominal: volts(empty + span / 2),
                full: volts(empty + span),
            },
            capacity: AmpHours::from_milli(50_000),
            continuous: Some(Amps::from_milli(100_000)),
            peak: None,
            charge: None,
        }
    }

    fn window(min: i64, span: i64) -> DriveWindow {
        DriveWindow {
            min: Volts::from_milli(min),
            max: Volts::from_milli(min + span),
            absolute_max: None,
            peak: None,
            continuous: Some(Amps::from_milli(150_000)),
            returns: None,
        }
    }

    fn only(drive: DriveWindow) -> Suits {
        Suits {
            drive: Some(drive),
            ..Suits::default()
        }
    }

    #[test]
    fn no_units_allow_no_arrangement() {
        assert_eq!(choices(&module(10_000, 4_000), 0, &Suits::default()), []);
        assert_eq!(best(&[]), None);
    }

    #[test]
    fn a_module_without_volts_fits_no_drive() {
        assert_eq!(series_that_fit(&module(0, 0), &window(90_000, 70_000)), None);
    }

    proptest! {
        #[test]
        fn every_arrangement_is_there_once_and_the_best_come_first(
            on_hand in 0..60_u32, empty in 1_000..40_000_i64, span in 0..20_000_i64,
            min in 0..400_000_i64, wide in 0..200_000_i64,
        ) {
            let found = choices(&module(empty, span), on_hand, &only(window(min, wide)));
            prop_assert_eq!(found.len(), (1..=on_hand).map(|s| (on_hand / s) as usize).sum::<usize>());
            let mut seen: Vec<Arrangement> = found.iter().map(|c| c.arrangement).collect();
            seen.sort_unstable();
            seen.dedup();
            prop_assert_eq!(seen.len(), found.len());
            for choice in &found {
                prop_assert_eq!(choice.arrangement.modules() + choice.left_over, on_hand);
            }
            for pair in found.windows(2) {
                let (first, next) = (&pair[0], &pair[1]);
                prop_assert!(first.fits() || !next.fits());
                let alike = first.fits() == next.fits();
                prop_assert!(!alike || first.figures.energy >= next.figures.energy);
            }
        }

        #[test]
        fn a_series_count_fits_exactly_when_no_stop_speaks_against_it(
            empty in 1..40_000_i64, span in 0..20_000_i64, min in -5..400_000_i64, wide in 0..200_000_i64,
            absolute in proptest::option::of(0..600_000_i64),
        ) {
            let mut drive = window(min, wide);
            drive.absolute_max = absolute.map(Volts::from_milli);
            let module = module(empty, span);
            let range = series_that_fit(&module, &drive);
            for series in 1..200 {
                let arrangement = Arrangement { series, parallel: 1 };
                let figures = figures(&module, arrangement);
                let stopped = objections(&figures, arrangement, &only(drive)).iter().any(|o| o.grave() == Grave::Stop);
                prop_assert_eq!(range.is_some_and(|(least, most)| (least..=most).contains(&series)), !stopped);
            }
        }
    }
}
