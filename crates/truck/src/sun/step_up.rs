//! From panel volts to pack volts.

use crate::check::{above, efficiency, positive};
use crate::{Source, TruckError};

/// How a plain step-up stage fares with its ratio.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Advice {
    /// To 4 times: a plain stage does it.
    Plain,
    /// From 4 to 6 times: it gets poor.
    Poor,
    /// Above 6 times: put panels in series, or take a stage with a transformer, which isolates as well.
    TooFar,
}

/// Up to this ratio a plain stage does it.
pub const PLAIN_TO: f64 = 4.0;
/// Up to this ratio it gets poor, beyond it is no use.
pub const POOR_TO: f64 = 6.0;
/// Where the two limits are from.
pub const RATIO_SOURCE: Source =
    Source::found("common practice of converter pages: duty 0.8 to 0.85 is the end of a plain stage");

impl Advice {
    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Plain => "a plain step-up stage does it",
            Self::Poor => "a plain step-up stage gets poor here; put more panels in series",
            Self::TooFar => "too far for a plain step-up stage; put panels in series, or use one with a transformer",
        }
    }
}

/// A step up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StepUp {
    /// Volts out over volts in.
    pub ratio: f64,
    /// Share of the time that the switch is closed, without loss: `1 - Vin / Vout`.
    pub duty: f64,
    /// The same with losses: `1 - Vin efficiency / Vout`; `None` when no efficiency is given.
    pub duty_with_losses: Option<f64>,
    /// What to make of it.
    pub advice: Advice,
}

/// The step from panel volts to pack volts, current flowing all the time.
///
/// Source: the ideal step-up (boost) relation, printed on public converter pages.
///
/// # Errors
///
/// [`TruckError`] for volts not above zero, a pack that is not above the panels, an efficiency outside its range.
pub fn step_up(panel_v: f64, pack_v: f64, stage_efficiency: Option<f64>) -> Result<StepUp, TruckError> {
    let panel_v = positive("panel volts", panel_v, "enter their volts at full power")?;
    let pack_v = above(
        "pack volts",
        pack_v,
        panel_v,
        "put fewer panels in series, or use a stage that steps down",
    )?;
    let stage = stage_efficiency
        .map(|share| efficiency("efficiency of the step up", share))
        .transpose()?;
    let ratio = pack_v / panel_v;
    let advice = if ratio <= PLAIN_TO {
        Advice::Plain
    } else if ratio <= POOR_TO {
        Advice::Poor
    } else {
        Advice::TooFar
    };
    Ok(StepUp {
        ratio,
        duty: 1.0 - panel_v / pack_v,
        duty_with_losses: stage.map(|share| 1.0 - panel_v * share / pack_v),
        advice,
    })
}

/// How many panels in series bring a plain stage to [`PLAIN_TO`] at most; `None` when even one is above the pack's least
/// volts.
///
/// - `panel_v`: of one panel at full power.
/// - `open_v`: of one panel without load on a cold day, the most it gives.
/// - `pack_least_v`, `pack_most_v`: volts of the pack empty and full.
///
/// More panels are no use once their open volts reach the empty pack: a step-up stage cannot hold them back then.
///
/// # Errors
///
/// [`TruckError::NotAbove`] for volts not above zero, or open volts below those at full power.
pub fn panels_in_series(
    panel_v: f64,
    open_v: f64,
    pack_least_v: f64,
    pack_most_v: f64,
) -> Result<Option<u32>, TruckError> {
    let panel_v = positive("panel volts", panel_v, "enter their volts at full power")?;
    let open_v = above("open volts of a panel", open_v, panel_v, "enter them for a cold day")?;
    let least_v = positive("empty volts of the pack", pack_least_v, "enter them")?;
    let most_v = above("full volts of the pack", pack_most_v, least_v, "enter more than empty")?;
    let mut count = 1;
    while f64::from(count) * open_v < least_v {
        if most_v / (f64::from(count) * panel_v) <= PLAIN_TO {
            return Ok(Some(count));
        }
        count += 1;
    }
    Ok(None)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case(36.0, 144.0, Advice::Plain)]
    #[case(36.0, 145.0, Advice::Poor)]
    #[case(36.0, 216.0, Advice::Poor)]
    #[case(36.0, 217.0, Advice::TooFar)]
    fn the_ratio_tells_the_stage(#[case] panel_v: f64, #[case] pack_v: f64, #[case] advice: Advice) {
        assert_eq!(step_up(panel_v, pack_v, None).unwrap().advice, advice);
    }

    #[test]
    fn a_pack_below_the_panels_is_refused() {
        assert!(step_up(40.0, 40.0, None).is_err());
        assert!(step_up(40.0, 80.0, Some(1.5)).is_err());
    }

    /// 34 V at full power, 44 V open, a pack of 90 to 145 V: one is too low (4.3 times), two are right.
    #[rstest]
    #[case(90.0, 145.0, Some(2))]
    #[case(300.0, 400.0, Some(3))]
    #[case(40.0, 60.0, None)]
    fn panels_go_in_series_until_a_plain_stage_does_it(
        #[case] least: f64,
        #[case] most: f64,
        #[case] expected: Option<u32>,
    ) {
        assert_eq!(panels_in_series(34.0, 44.0, least, most), Ok(expected));
    }

    proptest! {
        #[test]
        fn losses_ask_for_more_duty(panel_v in 10.0..100.0_f64, times in 1.01..20.0_f64, share in 0.5..0.99_f64) {
            let found = step_up(panel_v, panel_v * times, Some(share)).unwrap();
            prop_assert!(found.duty_with_losses.unwrap() > found.duty);
            prop_assert!((0.0..1.0).contains(&found.duty));
        }
    }
}
