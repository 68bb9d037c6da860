//! What a press brake's die and the corners of a tray ask of a bend.
//!
//! How much stock a bend takes is told elsewhere; here is what can be bent at all.

use tape::Length;

use crate::material::Material;
use crate::{KnownBy, listed};

/// The die that a sheet is bent in, and what follows from it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct VDie {
    /// Opening of the V.
    pub opening: Length,
    /// The widest opening of the rule: above `opening` only for plate over 8 mm.
    pub widest: Length,
    /// Inside radius that an air bend comes to.
    pub inside_radius: Length,
    /// The shortest flange by the trade's rule, `2 t + r`.
    pub least_flange_by_rule: Length,
    /// The shortest flange that still rests on the shoulder of the die, `V / (2 cos 45) = 0.7071 V`.
    pub least_flange_in_die: Length,
}

/// How the figures of [`v_die`] are known: a press brake maker's chart and a trade design guide.
pub const V_DIE_KNOWN_BY: KnownBy = KnownBy::Found;

/// Where the figures of [`v_die`] come from.
pub const V_DIE_SOURCE: &str = "a press-brake capacity chart: V = 8 t, radius 0.16 V; a trade design guide: flange 2 t + r; \
     the shoulder of the die by geometry";

/// The usual die for a 90 degree air bend in a sheet of this thickness.
///
/// `V = 6 t` below 3 mm, `8 t` from 3 to 8 mm, `10 t` to `12 t` above; radius `0.16 V`. The shop's own dies decide.
///
/// Radius and flanges are rounded to the nanometre.
pub fn v_die(thickness: Length) -> VDie {
    let (times, widest) = match thickness {
        t if t < Length::mm(3) => (6, 6),
        t if t <= Length::mm(8) => (8, 8),
        _ => (10, 12),
    };
    let opening = thickness * times;
    let inside_radius = Length::from_mm(0.16 * opening.as_mm());
    VDie {
        opening,
        widest: thickness * widest,
        inside_radius,
        least_flange_by_rule: thickness * 2 + inside_radius,
        least_flange_in_die: Length::from_mm_up(opening.as_mm() * std::f64::consts::FRAC_1_SQRT_2),
    }
}

impl VDie {
    /// The shortest flange, outside, that meets both.
    pub fn least_flange(&self) -> Length {
        self.least_flange_by_rule.max(self.least_flange_in_die)
    }
}

/// The relief hole at a corner where two bends meet, centred where their inside tangent lines cross.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ReliefHole {
    /// The least diameter.
    pub least: Length,
    /// What is commonly drilled: twice the bend radius, or the least where that is more.
    pub usual: Length,
}

/// How the figures of [`relief_hole`] are known.
pub const RELIEF_KNOWN_BY: KnownBy = KnownBy::Found;

/// Where the figures of [`relief_hole`] come from.
pub const RELIEF_SOURCE: &str = "US airframe maintenance handbook, public training copy";

/// How far a relief hole should reach past the tangent lines: 1/32 to 1/16 in.
pub const RELIEF_PAST_TANGENT: [Length; 2] = [Length::sixty_fourths(2), Length::sixty_fourths(4)];

/// The relief hole for a sheet of this thickness bent to this inside radius.
///
/// At least 1/8 in to 0.064 in of sheet and 3/16 in for 0.072 to 0.128 in (and between, where nothing is said); above
/// that twice the radius.
pub fn relief_hole(thickness: Length, inside_radius: Length) -> ReliefHole {
    let twice = inside_radius * 2;
    let least = match thickness {
        t if t <= thousandths_in(64) => Length::sixty_fourths(8),
        t if t <= thousandths_in(128) => Length::sixty_fourths(12),
        _ => twice,
    };
    ReliefHole {
        least,
        usual: least.max(twice),
    }
}

const fn thousandths_in(n: i64) -> Length {
    Length::from_nm(n * 25_400)
}

pub(crate) const LEAST_RADII: &str = include_str!("../../../assets/materials/bend-radii.csv");

/// The smallest inside radius of a 90 degree cold bend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeastRadius {
    /// The radius.
    pub radius: Length,
    /// As so many thicknesses.
    pub times: f64,
    /// Where it comes from.
    pub source: &'static str,
    /// How it is known.
    pub known: KnownBy,
}

/// The smallest inside radius that a sheet of this material and thickness is bent to, from the table in `assets/materials`; a
/// sheet between two rows, and one thicker than all, goes by the thicker. `None` of what is not folded.
///
/// Rounded up to the nanometre.
pub fn least_radius(material: Material, thickness: Length) -> Option<LeastRadius> {
    let own = || listed::rows(LEAST_RADII).filter(|row| row.text(0) == material.name());
    let row = own().find(|row| thickness <= row.length(1)).or_else(|| own().last())?;
    let times: f64 = row.number(2);
    Some(LeastRadius {
        radius: Length::from_mm_up(times * thickness.as_mm()),
        times,
        source: row.source(),
        known: row.known_by(),
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case::thin(20, 12, 12)]
    #[case::just_thin(29, 17, 17)]
    #[case::middle(30, 24, 24)]
    #[case::just_middle(80, 64, 64)]
    #[case::plate(100, 100, 120)]
    fn the_die_grows_with_the_sheet(#[case] tenths: i64, #[case] opening: i64, #[case] widest: i64) {
        let die = v_die(Length::tenths_mm(tenths));
        assert_eq!(die.opening.round_down_to(Length::mm(1)), Length::mm(opening));
        assert_eq!(die.widest.round_down_to(Length::mm(1)), Length::mm(widest));
    }

    /// 3 mm: V 24, radius 3.84, flange 9.84 by the rule; 24 / (2 cos 45) = 16.9706 in the die.
    #[test]
    fn the_longer_of_both_flanges_counts() {
        let die = v_die(Length::mm(3));
        assert_eq!(die.least_flange_by_rule, Length::from_mm(9.84));
        assert!((die.least_flange().as_mm() - 24.0 / (2.0 * 45_f64.to_radians().cos())).abs() < 1e-5);
    }

    #[rstest]
    #[case::thin(40, 8)]
    #[case::to_064(64, 8)]
    #[case::between(68, 12)]
    #[case::from_072(72, 12)]
    #[case::to_128(128, 12)]
    fn relief_holes_are_those_of_the_handbook(#[case] thousandths: i64, #[case] sixty_fourths: i64) {
        let hole = relief_hole(thousandths_in(thousandths), Length::ZERO);
        assert_eq!(hole.least, Length::sixty_fourths(sixty_fourths));
        assert_eq!(hole.usual, hole.least);
    }

    /// 6061-T6 of 3 mm is under 1/8 in: 2.5 t, of 4 mm under 3/16 in: 3 t; 5052-H32 of 3 mm 1.5 t.
    #[rstest]
    #[case(Material::Aluminium6061, 30, 75)]
    #[case(Material::Aluminium6061, 40, 120)]
    #[case(Material::Aluminium6061, 200, 1000)]
    #[case(Material::Aluminium5052, 30, 45)]
    #[case(Material::MildSteel, 30, 30)]
    fn least_radii_are_those_of_the_table(#[case] material: Material, #[case] t: i64, #[case] radius: i64) {
        let least = least_radius(material, Length::tenths_mm(t)).unwrap();
        assert_eq!(least.radius, Length::tenths_mm(radius));
    }

    #[test]
    fn every_sheet_has_a_least_radius_and_a_thicker_one_none_smaller() {
        for material in Material::ALL {
            let all = (1..150).map(|t| least_radius(material, Length::tenths_mm(t)).unwrap().radius);
            assert!(all.is_sorted(), "{}", material.name());
        }
    }

    #[test]
    fn thick_sheet_wants_twice_the_radius() {
        let hole = relief_hole(Length::mm(4), Length::mm(5));
        assert_eq!([hole.least, hole.usual], [Length::mm(10); 2]);
    }

    proptest! {
        #[test]
        fn a_thicker_sheet_never_bends_to_a_shorter_flange(tenths in 1..200_i64) {
            let [thin, thick] = [tenths, tenths + 1].map(|t| v_die(Length::tenths_mm(t)).least_flange());
            prop_assert!(thin < thick);
        }
    }
}
