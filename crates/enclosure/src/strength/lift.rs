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

/// How much more than at rest a leg pulls while the load is picked up: of a hoist at 8 m/min and a stiff sling.
///
/// `1.20 + 0.68 v` with v in m/s, 1.29 at 8 m/min, rounded up. Source: EN 13001-2, hoisting class HC4, as recalled, text not read.
pub const JERK: f64 = 1.3;

/// Where [`JERK`] comes from.
pub const JERK_SOURCE: &str =
    "hoisting factor of EN 13001-2, class HC4 at 8 m/min, 1.20 + 0.68 v, as recalled, text not read";

/// The most of the weight that each eye may get, as a share of it, by where the eyes and the centre of mass are, seen from above.
///
/// Of two eyes by the lever between them. Of more, three carry at a time, since legs are never of one length: of every three that
/// have the centre of mass between them each gets its share by moments, and of all threes the largest counts. Four at the corners
/// of a rectangle round the centre of mass get one half each, which is the rule that two of them carry.
///
/// - `eyes`, `centre`: millimetres in one frame.
///
/// `None` when the centre of mass is not between the eyes, or there are none: then it tips. One eye is taken as straight over it.
///
/// Source: statics.
pub fn shares(eyes: &[[f64; 2]], centre: [f64; 2]) -> Option<Vec<f64>> {
    let mut most = vec![f64::NEG_INFINITY; eyes.len()];
    let mut take = |which: &[usize], shares: &[f64]| {
        if shares.iter().all(|share| *share >= -ROUNDED) {
            for (&eye, &share) in which.iter().zip(shares) {
                most[eye] = most[eye].max(share);
            }
        }
    };
    match eyes.len() {
        0 => return None,
        1 => take(&[0], &[1.0]),
        _ => {}
    }
    let threes = || {
        (0..eyes.len()).flat_map(|a| (a + 1..eyes.len()).flat_map(move |b| (b + 1..eyes.len()).map(move |c| [a, b, c])))
    };
    let mut in_one_line = true;
    for three in threes() {
        let [a, b, c] = three.map(|eye| eyes[eye]);
        let whole = turned(a, b, c);
        if whole.abs() > ROUNDED {
            in_one_line = false;
            take(
                &three,
                &[turned(centre, b, c), turned(a, centre, c), turned(a, b, centre)].map(|part| part / whole),
            );
        }
    }
    if in_one_line {
        for (a, b) in (0..eyes.len()).flat_map(|a| (a + 1..eyes.len()).map(move |b| (a, b))) {
            let along = [0, 1].map(|axis| eyes[b][axis] - eyes[a][axis]);
            let length = along[0].hypot(along[1]).powi(2);
            if length > ROUNDED {
                let far = [0, 1].map(|axis| (centre[axis] - eyes[a][axis]) * along[axis] / length);
                take(&[a, b], &[1.0 - far[0] - far[1], far[0] + far[1]]);
            }
        }
    }
    let carries = most.iter().any(|share| share.is_finite());
    carries.then(|| most.into_iter().map(|share| share.max(0.0)).collect())
}

/// What rounding may leave of nothing.
const ROUNDED: f64 = 1e-9;

/// Twice the area of a triangle, above zero the one way round and below it the other.
fn turned(a: [f64; 2], b: [f64; 2], c: [f64; 2]) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])
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

    const CORNERS: [[f64; 2]; 4] = [[0.0, 0.0], [800.0, 0.0], [0.0, 400.0], [800.0, 400.0]];

    /// Round the middle each of four gets a half. 100 mm off it along: of three with the centre between them, the one alone at
    /// its end gets 500 / 800 at the most.
    #[rstest]
    #[case::in_the_middle([400.0, 200.0], [0.5; 4])]
    #[case::beside_it([500.0, 200.0], [0.375, 0.5, 0.375, 0.5])]
    #[case::at_a_corner([0.0, 0.0], [1.0, 0.0, 0.0, 0.0])]
    fn four_eyes_share_by_place(#[case] centre: [f64; 2], #[case] wanted: [f64; 4]) {
        let got = shares(&CORNERS, centre).unwrap();
        for (got, wanted) in got.iter().zip(wanted) {
            assert!((got - wanted).abs() < 1e-9, "{got} {wanted}");
        }
    }

    #[test]
    fn a_centre_of_mass_that_no_eyes_have_between_them_tips() {
        assert_eq!(shares(&CORNERS, [801.0, 200.0]), None);
        assert_eq!(shares(&CORNERS[..2], [-1.0, 0.0]), None);
        assert_eq!(shares(&[], [0.0; 2]), None);
        assert_eq!(shares(&CORNERS[..1], [300.0, 100.0]), Some(vec![1.0]));
        // Beside the line of two it hangs askew, and they share by the lever.
        assert_eq!(shares(&CORNERS[..2], [600.0, 50.0]), Some(vec![0.25, 0.75]));
        let line = [[0.0, 0.0], [400.0, 0.0], [800.0, 0.0]];
        assert_eq!(shares(&line, [200.0, 0.0]), Some(vec![0.75, 0.5, 0.25]));
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
        /// Any three eyes carry the weight and turn nothing.
        #[test]
        fn three_eyes_balance(eyes in prop::array::uniform3(prop::array::uniform2(0.0..900.0_f64)), centre in prop::array::uniform2(0.0..900.0_f64)) {
            let Some(got) = shares(&eyes, centre) else { return Ok(()) };
            prop_assert!((got.iter().sum::<f64>() - 1.0).abs() < 1e-6);
            for axis in 0..2 {
                let at = got.iter().zip(&eyes).map(|(share, eye)| share * eye[axis]).sum::<f64>();
                prop_assert!((at - centre[axis]).abs() < 1e-3);
            }
        }

        #[test]
        fn legs_and_weight_balance(mass_kg in 1.0..2_000.0, angle in 0.0..=60.0) {
            let leg: f64 = leg_n(mass_kg, Sling::Two, angle).unwrap();
            let up = 2.0 * leg * angle.to_radians().cos();
            prop_assert!((up - mass_kg * 9.806_65).abs() < 1e-6);
        }
    }
}
