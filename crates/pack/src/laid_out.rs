//! The pack that the placed modules make.

use crate::arrangement::{Arrangement, Figures, figures};
use crate::{Module, WattHours};

/// How far the placed modules make up the arrangement that is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AsLaidOut {
    /// The arrangement that is wanted.
    pub arrangement: Arrangement,
    /// Modules that it takes.
    pub wanted: u32,
    /// Modules placed.
    pub placed: u32,
    /// Modules still to be placed; zero when all strings are complete.
    pub missing: u32,
    /// Of the missing ones, how many the units on hand cannot supply.
    pub short: u32,
    /// Modules placed that belong to no complete string: the start of one, or more than are wanted.
    pub idle: u32,
    /// Units on hand that are not placed.
    pub left_over: u32,
    /// Strings that are complete, at most those wanted.
    pub strings: u32,
    /// The figures of the complete strings; `None` while there is none.
    pub figures: Option<Figures>,
}

impl AsLaidOut {
    /// Whether all strings are complete.
    pub const fn is_complete(&self) -> bool {
        self.missing == 0
    }

    /// Nominal energy of the complete strings.
    pub fn energy(&self) -> WattHours {
        self.figures.map(|figures| figures.energy).unwrap_or_default()
    }
}

/// What `placed` modules make of the wanted `arrangement`, with `on_hand` units in the shop, the placed ones among
/// them.
pub fn as_laid_out(module: &Module, placed: u32, on_hand: u32, arrangement: Arrangement) -> AsLaidOut {
    let wanted = arrangement.modules();
    let missing = wanted.saturating_sub(placed);
    let left_over = on_hand.saturating_sub(placed);
    let strings = placed
        .checked_div(arrangement.series)
        .unwrap_or(0)
        .min(arrangement.parallel);
    let complete = Arrangement {
        parallel: strings,
        ..arrangement
    };
    AsLaidOut {
        arrangement,
        wanted,
        placed,
        missing,
        short: missing.saturating_sub(left_over),
        idle: placed.saturating_sub(complete.modules()),
        left_over,
        strings,
        figures: (strings > 0).then(|| figures(module, complete)),
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;
    use crate::AmpHours;
    use crate::chemistry::Chemistry;

    /// Wanted 5 in series, 2 in parallel; 14 on hand. `told`: missing, short, idle, left over, strings.
    #[rstest]
    #[case::nothing_placed(0, 14, [10, 0, 0, 14, 0])]
    #[case::a_string_begun(4, 14, [6, 0, 4, 10, 0])]
    #[case::one_string(5, 14, [5, 0, 0, 9, 1])]
    #[case::one_and_a_half(8, 14, [2, 0, 3, 6, 1])]
    #[case::complete(10, 14, [0, 0, 0, 4, 2])]
    #[case::more_than_wanted(12, 14, [0, 0, 2, 2, 2])]
    #[case::too_few_on_hand(6, 8, [4, 2, 1, 2, 1])]
    #[case::placed_more_than_on_hand(10, 9, [0, 0, 0, 0, 2])]
    fn counts_what_is_placed(#[case] placed: u32, #[case] on_hand: u32, #[case] told: [u32; 5]) {
        let module = Module::from_cells(Chemistry::Lfp, 8, 1, AmpHours::from_milli(105_000));
        let pack = as_laid_out(&module, placed, on_hand, Arrangement { series: 5, parallel: 2 });
        assert_eq!(
            [pack.missing, pack.short, pack.idle, pack.left_over, pack.strings],
            told
        );
        assert_eq!(pack.is_complete(), told[0] == 0);
        // 8 x 3.2 V x 105 Ah = 2.688 kWh a module.
        assert!((pack.energy().kwh() - f64::from(5 * pack.strings) * 2.688).abs() < 1e-9);
    }

    #[test]
    fn an_arrangement_of_nothing_has_no_strings() {
        let module = Module::from_cells(Chemistry::Lfp, 8, 1, AmpHours::from_milli(105_000));
        let pack = as_laid_out(&module, 3, 3, Arrangement { series: 0, parallel: 2 });
        assert_eq!((pack.strings, pack.idle, pack.figures), (0, 3, None));
    }
}
