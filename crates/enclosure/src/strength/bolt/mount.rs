//! What the bolts of a mount bear together.

use super::super::{Limit, Utilisation, force_n};
use super::Bolt;
use super::grade::Grade;
use crate::KnownBy;

/// Which way a force pulls at a bolt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Pull {
    /// Across the thread.
    Shear,
    /// Along the thread.
    Tension,
}

impl Pull {
    /// What one bolt of this stress area bears, in newtons.
    pub fn resistance_n(self, grade: Grade, area_mm2: f64) -> f64 {
        match self {
            Self::Shear => grade.shear_n(area_mm2),
            Self::Tension => grade.tension_n(area_mm2),
        }
    }

    /// The formula of what one bolt bears.
    pub const fn formula(self, grade: Grade) -> &'static str {
        match (self, grade) {
            (Self::Shear, Grade::Class4_6 | Grade::Class8_8 | Grade::Grade5) => {
                "m g a / bolts against 0.6 fub As / 1.25"
            }
            (Self::Shear, Grade::Class10_9 | Grade::Class12_9 | Grade::Grade8) => {
                "m g a / bolts against 0.5 fub As / 1.25"
            }
            (Self::Tension, _) => "m g a / bolts against 0.9 fub As / 1.25",
        }
    }
}

/// Bolts that share a force evenly.
///
/// They bear this much as through bolts with plates or crush tubes; threads cut in sheet do not.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mount {
    /// How many.
    pub bolts: u32,
    /// Their class.
    pub grade: Grade,
    /// Stress area of one, in square millimetres: [`Bolt::stress_area_mm2`] or a table's.
    pub area_mm2: f64,
}

/// A mount under load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shared {
    /// The whole force, in newtons.
    pub force_n: f64,
    /// What each bolt gets, in newtons. Infinite without bolts.
    pub per_bolt_n: f64,
    /// What one bolt bears, in newtons.
    pub resistance_n: f64,
    /// How many such bolts the rule wants; `None` when no number will do.
    pub least_bolts: Option<u32>,
}

impl Mount {
    /// Bolts from the list.
    pub fn of(bolts: u32, bolt: &Bolt, grade: Grade) -> Self {
        Self {
            bolts,
            grade,
            area_mm2: bolt.stress_area_mm2(),
        }
    }

    /// Shares out the force of a mass at `load_factor` times gravity: `F = m g a`, least bolts `= ceil(F / resistance)`.
    ///
    /// Source: statics; the resistance is EN 1993-1-8 Table 3.4, by memory.
    pub fn share(&self, pull: Pull, mass_kg: f64, load_factor: f64) -> Shared {
        let force_n = force_n(mass_kg, load_factor);
        let resistance_n = pull.resistance_n(self.grade, self.area_mm2);
        Shared {
            force_n,
            per_bolt_n: force_n / f64::from(self.bolts),
            resistance_n,
            least_bolts: least(force_n / resistance_n),
        }
    }

    /// What each bolt gets against what it bears.
    pub fn utilisation(&self, what: &str, pull: Pull, mass_kg: f64, load_factor: f64) -> Utilisation {
        let shared = self.share(pull, mass_kg, load_factor);
        let limit = Limit {
            value: shared.resistance_n,
            formula: pull.formula(self.grade),
            source: RESISTANCE_SOURCE,
            known: KnownBy::Memory,
        };
        Utilisation::of(what, shared.per_bolt_n, "N", limit)
    }

    /// Pulls at one bolt in both ways at once against what it bears of them together.
    ///
    /// The larger of `Fv / Fv,Rd + Ft / (1.4 Ft,Rd)` and `Ft / Ft,Rd`, against 1.
    ///
    /// - `[across_n, along_n]`: newtons across and along the thread.
    ///
    /// Source: EN 1993-1-8 Table 3.4, by memory.
    pub fn combined(&self, what: &str, [across_n, along_n]: [f64; 2], formula: &'static str) -> Utilisation {
        let of = |pull: Pull, force_n: f64| force_n / pull.resistance_n(self.grade, self.area_mm2);
        let [across, along] = [of(Pull::Shear, across_n), of(Pull::Tension, along_n)];
        let limit = Limit {
            value: 1.0,
            formula,
            source: COMBINED_SOURCE,
            known: KnownBy::Memory,
        };
        Utilisation::of(what, (across + along / 1.4).max(along), "of 1", limit)
    }
}

/// Where what a bolt bears of two pulls at once comes from.
const COMBINED_SOURCE: &str = "EN 1993-1-8 Table 3.4, from memory";

/// Where the resistances come from.
const RESISTANCE_SOURCE: &str = "EN 1993-1-8 Table 3.4, from memory; every bolt takes an even share";

impl Shared {
    /// Whether `bolts` are as many as the rule wants.
    pub fn enough(&self, bolts: u32) -> bool {
        self.least_bolts.is_some_and(|least| bolts >= least)
    }
}

/// The next whole number; `None` of what is no count.
fn least(bolts: f64) -> Option<u32> {
    let up = bolts.ceil();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "only what fits gets there"
    )]
    (0.0..=f64::from(u32::MAX)).contains(&up).then_some(up as u32)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rstest::rstest;

    use super::*;

    fn mount(bolts: u32) -> Mount {
        Mount::of(bolts, Bolt::named("M10").unwrap(), Grade::Class8_8)
    }

    /// 57.99 mm2 x 800 x 0.6 / 1.25 = 22.27 kN; 100 kg at 20 g pulls 19.6 kN, 240 kg 47.1 kN.
    #[rstest]
    #[case::one_does(100.0, Some(1))]
    #[case::three(240.0, Some(3))]
    #[case::nothing_to_hold(0.0, Some(0))]
    #[case::no_number_of_bolts(f64::INFINITY, None)]
    #[case::no_mass_at_all(f64::NAN, None)]
    fn least_bolts_are_force_over_resistance(#[case] mass_kg: f64, #[case] least: Option<u32>) {
        assert_eq!(mount(4).share(Pull::Shear, mass_kg, 20.0).least_bolts, least);
    }

    #[test]
    fn no_bolts_hold_nothing() {
        let none = mount(0);
        assert!(none.utilisation("mount", Pull::Shear, 10.0, 1.0).share.is_infinite());
        assert!(!none.share(Pull::Shear, 10.0, 1.0).enough(0));
    }

    #[test]
    fn pull_along_alone_takes_up_less_by_the_1_4_of_the_formula() {
        let mount = mount(4);
        let along = mount.utilisation("mount", Pull::Tension, 100.0, 10.0).share;
        let each = mount.share(Pull::Tension, 100.0, 10.0).per_bolt_n;
        // Half of what it bears along, and a tenth of what it bears across: 0.5 / 1.4 + 0.1.
        let [across_n, along_n] =
            [Pull::Shear, Pull::Tension].map(|pull| pull.resistance_n(mount.grade, mount.area_mm2));
        let both = mount.combined("mount", [across_n * 0.1, along_n * 0.5], "").share;
        assert!(
            (both - 0.5).abs() < 1e-12,
            "the pull along alone is the harder of the two: {both}"
        );
        let both = mount.combined("mount", [across_n * 0.5, along_n * 0.5], "").share;
        assert!((both - (0.5 + 0.5 / 1.4)).abs() < 1e-12, "{both}");
        assert!((mount.combined("mount", [0.0, each], "").share - along).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn as_many_bolts_as_the_rule_wants_are_within_it_and_one_fewer_is_not(
            mass_kg in 1.0..5_000.0,
            factor in 0.1..40.0,
        ) {
            let least = mount(1).share(Pull::Shear, mass_kg, factor).least_bolts.unwrap();
            let share = |bolts| mount(bolts).utilisation("mount", Pull::Shear, mass_kg, factor);
            prop_assert!(share(least).share <= 1.0 + 1e-12);
            prop_assert!(least == 1 || !share(least - 1).within());
            prop_assert!(mount(1).share(Pull::Shear, mass_kg, factor).enough(least));
        }

        #[test]
        fn more_bolts_never_make_it_worse(bolts in 1..50_u32, factor in 0.1..40.0) {
            let share = |bolts| mount(bolts).utilisation("mount", Pull::Tension, 180.0, factor).share;
            prop_assert!(share(bolts + 1) < share(bolts));
        }
    }
}
