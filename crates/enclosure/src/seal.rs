//! Keeping water out, letting air through, and bonding the box to the chassis.

pub mod air;
pub mod gland;
pub mod ip;
pub mod squeeze;

use tape::Length;

use crate::KnownBy;

/// Standard atmosphere in kilopascals, exact by definition: what a box is closed at.
pub const ATMOSPHERE_KPA: f64 = 101.325;

/// The widest pitch of lid bolts: `P = 2 d + 6 t / (m + 0.5)`.
///
/// - `bolt`: thread diameter.
/// - `flange`: thickness of the flange, or of the lid when that is thinner.
/// - `m`: gasket factor, 0.5 for a soft elastomer below 75 Shore A.
///
/// A starting point: a thin lid bows between bolts and wants them closer. Rounded down to the nanometre.
///
/// Source: flange practice, by memory ([`PITCH_KNOWN_BY`]).
pub fn widest_pitch(bolt: Length, flange: Length, m: f64) -> Length {
    Length::from_mm_down(2.0 * bolt.as_mm() + 6.0 * flange.as_mm() / (m + 0.5))
}

/// How the formula of [`widest_pitch`] is known.
pub const PITCH_KNOWN_BY: KnownBy = KnownBy::Memory;

/// Gasket factor of a soft elastomer below 75 Shore A, by memory.
pub const SOFT_GASKET_FACTOR: f64 = 0.5;

/// What the air in a box does when it warms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Breath {
    /// What goes out through the vent, in litres; below zero it is drawn in.
    pub volume_l: f64,
    /// The mean flow through the vent, in millilitres a minute.
    pub flow_ml_per_min: f64,
    /// The pressure above the air outside if nothing gets out, in kilopascals, when closed at one atmosphere.
    pub pressure_if_sealed_kpa: f64,
}

/// What `free_air_l` litres do when they warm from one temperature to another within `minutes`.
///
/// `dV = V (T2 - T1) / T1` at constant pressure, `dp = p (T2 - T1) / T1` at constant volume.
///
/// - `from_k`, `to_k`: kelvins.
///
/// Source: ideal gas.
pub fn breath(free_air_l: f64, from_k: f64, to_k: f64, minutes: f64) -> Breath {
    let share = (to_k - from_k) / from_k;
    Breath {
        volume_l: free_air_l * share,
        flow_ml_per_min: free_air_l * share * 1e3 / minutes,
        pressure_if_sealed_kpa: ATMOSPHERE_KPA * share,
    }
}

/// The force on a lid in newtons from pressure inside: `F = p A`.
pub fn lid_force_n(sides: [Length; 2], pressure_kpa: f64) -> f64 {
    (sides[0] * sides[1]).as_mm2() * pressure_kpa * 1e-3
}

/// What the bond between box and chassis is measured against.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BondingLimit {
    /// Resistance to stay below, in ohms.
    pub below_ohm: f64,
    /// Least current to measure it at, in amperes.
    pub least_test_a: f64,
    /// Where it comes from.
    pub source: &'static str,
    /// How it is known.
    pub known: KnownBy,
}

/// Below 0.1 ohm at 0.2 A or more; a weld counts as met. Paint under the strap is the usual fault.
pub const BONDING: BondingLimit = BondingLimit {
    below_ohm: 0.1,
    least_test_a: 0.2,
    source: "UN R100 par. 5.1.2.2 as repeated in an Indian AIS draft of 2019",
    known: KnownBy::Found,
};

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// What a mask of 700 x 450 mm sees of 10 kPa: 3.15 kN.
    #[test]
    fn pressure_times_area() {
        let force = lid_force_n([Length::mm(700), Length::mm(450)], 10.0);
        assert!((force - 3_150.0).abs() < 1e-9);
    }

    #[test]
    fn a_cooling_box_draws_air_in() {
        let breath = breath(20.0, 313.15, 293.15, 30.0);
        assert!(breath.volume_l < 0.0 && breath.flow_ml_per_min < 0.0 && breath.pressure_if_sealed_kpa < 0.0);
    }

    proptest! {
        /// Boyle: the air that would have gone out, pressed back in, gives the pressure.
        #[test]
        fn volume_and_pressure_tell_of_one_air(litres in 1.0..200.0, from in 250.0..310.0, warmer in 0.0..60.0) {
            let breath = breath(litres, from, from + warmer, 10.0);
            let pressed = ATMOSPHERE_KPA * (litres + breath.volume_l) / litres - ATMOSPHERE_KPA;
            prop_assert!((pressed - breath.pressure_if_sealed_kpa).abs() < 1e-9);
        }

        #[test]
        fn a_thicker_flange_and_a_softer_gasket_allow_more(t in 1..20_i64, m in 0.0..4.0) {
            let pitch = |t, m| widest_pitch(Length::mm(6), Length::mm(t), m);
            prop_assert!(pitch(t + 1, m) > pitch(t, m));
            prop_assert!(pitch(t, m + 0.1) < pitch(t, m));
        }
    }
}
