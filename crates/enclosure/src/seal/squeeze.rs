//! How far a gasket is squeezed, and what an uneven rim takes of it.

use tape::Length;

use crate::{Gasket, KnownBy};

/// Below this share of its thickness a gasket does not seal for sure: the lower end of "10 to 15 % least".
pub const LEAST: f64 = 0.10;
/// The upper end of "10 to 15 % least".
pub const LEAST_WANTED: f64 = 0.15;
/// What makers of sponge gaskets name as best.
pub const BEST: f64 = 0.40;
/// More than this crushes it for good.
pub const MOST: f64 = 0.50;

/// How the limits are known: read on two gasket makers' pages.
pub const LIMITS_KNOWN_BY: KnownBy = KnownBy::Found;

/// Where the limits come from.
pub const LIMITS_SOURCE: &str = "two gasket makers' pages: 10 to 15 % least, 40 % best, 50 % most";

/// The share of its thickness that a gasket is squeezed by: `(free - squeezed) / free`.
///
/// Below zero where the lid does not reach it. A gasket without thickness is not squeezed.
pub fn share(gasket: Gasket) -> f64 {
    if gasket.free <= Length::ZERO {
        return 0.0;
    }
    (gasket.free - gasket.squeezed).as_mm() / gasket.free.as_mm()
}

/// How a share stands to the limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// The lid does not reach the gasket.
    NoContact,
    /// Below [`LEAST`].
    TooLoose,
    /// Between [`LEAST`] and [`LEAST_WANTED`].
    BarelyTight,
    /// From [`LEAST_WANTED`] to [`MOST`].
    Within,
    /// Above [`MOST`].
    Crushed,
}

/// Tells how a share stands to the limits.
pub fn verdict(share: f64) -> Verdict {
    // Shares come from whole nanometres; this is less than one of the thinnest gasket.
    const ROUNDING: f64 = 1e-9;
    match share {
        share if share <= 0.0 => Verdict::NoContact,
        share if share < LEAST - ROUNDING => Verdict::TooLoose,
        share if share < LEAST_WANTED - ROUNDING => Verdict::BarelyTight,
        share if share <= MOST + ROUNDING => Verdict::Within,
        _ => Verdict::Crushed,
    }
}

/// What an uneven rim leaves of the squeeze.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// Where the rim is lowest: there is least.
    pub at_low_spot: f64,
    /// Where the rim is highest: there is most, at most all of it.
    pub at_high_spot: f64,
}

impl Range {
    /// Whether both spots are within the limits, not below [`LEAST`] and not above [`MOST`].
    pub fn holds(&self) -> bool {
        let within = |share| matches!(verdict(share), Verdict::BarelyTight | Verdict::Within);
        within(self.at_low_spot) && within(self.at_high_spot)
    }
}

/// The squeeze at the low and high spots of a rim.
///
/// - `flatness`: how far the rim may be out of flat, from lowest to highest spot:
///   [`crate::tolerance::FlatnessClass::limits`] of its longer side.
///
/// The gasket is taken to be squeezed as drawn half way between the two, under a lid that stays flat. A lid that follows
/// the rim does better: this is what to ask of the rim, or of a thicker gasket.
///
/// Source: geometry.
pub fn over(gasket: Gasket, flatness: Length) -> Range {
    if gasket.free <= Length::ZERO {
        return Range {
            at_low_spot: 0.0,
            at_high_spot: 0.0,
        };
    }
    let half = flatness.as_mm() / 2.0 / gasket.free.as_mm();
    Range {
        at_low_spot: share(gasket) - half,
        at_high_spot: (share(gasket) + half).min(1.0),
    }
}

/// The least free thickness that keeps within the limits on a rim this uneven: `flatness / (MOST - LEAST)`.
///
/// Squeezed to 30 %, half way between the limits. Rounded up to the nanometre.
///
/// Source: geometry.
pub fn least_free(flatness: Length) -> Length {
    Length::from_mm_up(flatness.as_mm() / (MOST - LEAST))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rstest::rstest;

    use super::*;

    fn tenths(free: i64, squeezed: i64) -> Gasket {
        Gasket {
            free: Length::tenths_mm(free),
            squeezed: Length::tenths_mm(squeezed),
        }
    }

    #[rstest]
    #[case::best(60, 36, Verdict::Within)]
    #[case::most(60, 30, Verdict::Within)]
    #[case::crushed(60, 29, Verdict::Crushed)]
    #[case::wanted(60, 51, Verdict::Within)]
    #[case::least(60, 54, Verdict::BarelyTight)]
    #[case::loose(60, 55, Verdict::TooLoose)]
    #[case::touching(60, 60, Verdict::NoContact)]
    #[case::gap(60, 70, Verdict::NoContact)]
    #[case::no_gasket(0, 0, Verdict::NoContact)]
    fn a_squeeze_stands_to_the_limits(#[case] free: i64, #[case] squeezed: i64, #[case] wanted: Verdict) {
        assert_eq!(verdict(share(tenths(free, squeezed))), wanted);
    }

    /// 6 mm to 3.6 mm on a rim 3 mm out: 1.5 mm either way, 15 % and 65 %.
    #[test]
    fn an_uneven_rim_eats_squeeze() {
        let range = over(tenths(60, 36), Length::mm(3));
        assert!((range.at_low_spot - 0.15).abs() < 1e-12 && (range.at_high_spot - 0.65).abs() < 1e-12);
        assert!(!range.holds());
        assert!(over(tenths(60, 36), Length::mm(1)).holds());
    }

    proptest! {
        #[test]
        fn a_flatter_rim_is_never_worse(free in 10..200_i64, squeezed in 1..200_i64, out in 0..50_i64) {
            let range = |out| over(tenths(free, squeezed), Length::tenths_mm(out));
            prop_assert!(range(out).at_low_spot >= range(out + 1).at_low_spot);
            prop_assert!(range(out).at_high_spot <= range(out + 1).at_high_spot);
            prop_assert!(range(out + 1).holds() <= range(out).holds());
        }

        #[test]
        fn the_least_gasket_holds_and_a_thinner_does_not(tenths_out in 1..60_i64) {
            let out = Length::tenths_mm(tenths_out);
            let holds = |free: Length| {
                let squeezed = Length::from_mm(free.as_mm() * 0.7);
                over(Gasket { free, squeezed }, out).holds()
            };
            let least = least_free(out);
            prop_assert!(holds(least));
            prop_assert!(!holds(Length::from_mm(least.as_mm() * 0.99)));
        }
    }
}
