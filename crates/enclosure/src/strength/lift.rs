//! Lifting the box by eyes and a sling.

use tape::Length;

use super::{Limit, Utilisation, force_n};
use crate::KnownBy;
use crate::material::Material;

/// The legs of a sling.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sling {
    /// One leg, upright whatever its angle is told to be.
    One,
    /// Two legs.
    Two,
    /// Three legs, of which two are taken as carrying.
    Three,
    /// Four legs, of which two are taken as carrying: four of unequal length never share.
    Four,
}

impl Sling {
    /// The sling for so many eyes: of more than four, four are used; `None` without any.
    pub const fn of_eyes(eyes: usize) -> Option<Self> {
        match eyes {
            0 => None,
            1 => Some(Self::One),
            2 => Some(Self::Two),
            3 => Some(Self::Three),
            _ => Some(Self::Four),
        }
    }

    /// How many legs there are.
    pub const fn legs(self) -> u32 {
        match self {
            Self::One => 1,
            Self::Two => 2,
            Self::Three => 3,
            Self::Four => 4,
        }
    }

    /// How many of them are taken as carrying: two at the most.
    pub fn carrying(self) -> u32 {
        self.legs().min(2)
    }
}

/// A sling that spreads too far.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("sling: {angle_deg} degrees from upright is outside 0 to {WIDEST_DEG:.0}; use longer legs")]
pub struct LiftError {
    /// The angle that was given.
    pub angle_deg: f64,
}

/// The widest angle of a leg from upright that is summed: 60 degrees, where each carries the whole weight.
///
/// By memory of EN 818-4, which rates chain slings up to it.
pub const WIDEST_DEG: f64 = 60.0;

/// The force in one leg in newtons: `m g / (2 cos angle)`, for two legs and for more; `m g` for one, which hangs upright.
///
/// - `angle_deg`: of a leg from upright, `0.0..=60.0`.
///
/// At rest: a jerk adds to it.
///
/// Source: statics.
///
/// # Errors
///
/// [`LiftError`] when the angle is outside its range.
pub fn leg_n(mass_kg: f64, sling: Sling, angle_deg: f64) -> Result<f64, LiftError> {
    if !(0.0..=WIDEST_DEG).contains(&angle_deg) {
        return Err(LiftError { angle_deg });
    }
    let upright_n = force_n(mass_kg, 1.0) / f64::from(sling.carrying());
    match sling {
        Sling::One => Ok(upright_n),
        _ => Ok(upright_n / angle_deg.to_radians().cos()),
    }
}

/// A plate with a hole that a shackle goes through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Eye {
    /// Across the pull, at the hole.
    pub width: Length,
    /// Thickness.
    pub thickness: Length,
    /// Diameter of the hole.
    pub hole: Length,
    /// From the rim of the hole to the edge that the pull goes towards.
    pub edge: Length,
    /// Diameter of the shackle's pin.
    pub pin: Length,
}

/// Share of the yield strength at which a metal shears: `1 / sqrt 3`, von Mises.
const SHEAR_OF_YIELD: f64 = 0.577;

impl Eye {
    /// What a pull in the plane of the eye does to it: tearing out, tearing across, the pin's bearing; stresses against
    /// yield beside a weld, since eyes are welded on.
    ///
    /// - tearing out: `F / (2 e t)` against 0.577 yield;
    /// - tearing across: `F / ((w - d) t)` against yield;
    /// - bearing: `F / (d_pin t)` against 1.5 yield, by memory.
    ///
    /// Lifting gear is rated far below yield, four to five times by memory: look for a small share, not for just under 1.
    ///
    /// Source: statics; even stress.
    pub fn utilisations(&self, what: &str, force_n: f64, material: Material) -> [Utilisation; 3] {
        let figures = material.stiffness();
        let yield_mpa = figures.near_weld.yield_mpa;
        let across = |length: Length, times: f64| {
            let area_mm2 = times * length.as_mm() * self.thickness.as_mm();
            if area_mm2 > 0.0 {
                force_n / area_mm2
            } else {
                f64::INFINITY
            }
        };
        let sum = |part: &str, stress_mpa, share_of_yield, formula| {
            let limit = Limit {
                value: share_of_yield * yield_mpa,
                formula,
                source: figures.source,
                known: KnownBy::Memory,
            };
            Utilisation::of(format!("{what}, {part}"), stress_mpa, "MPa", limit)
        };
        [
            sum(
                "tearing out",
                across(self.edge, 2.0),
                SHEAR_OF_YIELD,
                "F / (2 e t) against 0.577 yield",
            ),
            sum(
                "tearing across",
                across(self.width - self.hole, 1.0),
                1.0,
                "F / ((w - d) t) against yield",
            ),
            sum(
                "bearing of the pin",
                across(self.pin, 1.0),
                1.5,
                "F / (d t) against 1.5 yield",
            ),
        ]
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rstest::rstest;

    use super::*;

    /// Half the weight upright, the whole of it at 60 degrees; 100 kg weigh 980.665 N.
    #[rstest]
    #[case(0.0, 490.332_5)]
    #[case(45.0, 693.434_9)]
    #[case(60.0, 980.665)]
    fn legs_pull_harder_the_wider_they_spread(
        #[case] angle: f64,
        #[case] newtons: f64,
        #[values(Sling::Two, Sling::Three, Sling::Four)] sling: Sling,
    ) {
        assert!((leg_n(100.0, Sling::One, angle).unwrap() - 980.665).abs() < 1e-9);
        assert!((leg_n(100.0, sling, angle).unwrap() - newtons).abs() < 1e-3);
    }

    #[rstest]
    #[case(-1.0)]
    #[case(60.1)]
    #[case(90.0)]
    #[case(f64::NAN)]
    fn wide_slings_are_refused(#[case] angle: f64) {
        assert!(leg_n(100.0, Sling::Two, angle).is_err());
    }

    const EYE: Eye = Eye {
        width: Length::mm(50),
        thickness: Length::mm(8),
        hole: Length::mm(20),
        edge: Length::mm(15),
        pin: Length::mm(16),
    };

    /// 4.8 kN: over 2 x 15 x 8, 30 x 8 and 16 x 8 mm2.
    #[test]
    fn an_eye_tears_out_across_or_is_crushed() {
        let sums = EYE.utilisations("eye", 4_800.0, Material::MildSteel);
        for (sum, stress) in sums.iter().zip([20.0, 20.0, 37.5]) {
            assert!((sum.load - stress).abs() < 1e-9, "{}", sum.what);
        }
    }

    #[test]
    fn a_hole_as_wide_as_the_plate_holds_nothing() {
        let eye = Eye {
            hole: Length::mm(50),
            ..EYE
        };
        let [_, across, _] = eye.utilisations("eye", 1.0, Material::MildSteel);
        assert!(across.share.is_infinite());
    }

    proptest! {
        #[test]
        fn legs_and_weight_balance(mass_kg in 1.0..2_000.0, angle in 0.0..=60.0) {
            let leg: f64 = leg_n(mass_kg, Sling::Two, angle).unwrap();
            let up = 2.0 * leg * angle.to_radians().cos();
            prop_assert!((up - mass_kg * 9.806_65).abs() < 1e-6);
        }
    }
}
