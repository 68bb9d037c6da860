//! What air that cannot get out of a box pushes with, when the box warms or is taken up a pass.

use crate::KnownBy;

use super::{ATMOSPHERE_KPA, breath};

/// At how many kelvins a box is taken to be closed: 20 degrees Celsius.
pub const CLOSED_AT_K: f64 = 293.15;

/// Where the formula of [`atmosphere_kpa`] comes from.
pub const ATMOSPHERE_SOURCE: &str = "ideal gas at constant volume; standard atmosphere of ISO 2533 below 11 km";
/// How it is known.
pub const ATMOSPHERE_KNOWN_BY: KnownBy = KnownBy::Memory;

/// Pressure of the standard atmosphere in kilopascals.
///
/// `p = p0 (1 - L h / T0) ^ (g / (R L))`, with `p0` 101.325 kPa, `T0` 288.15 K, `L` 6.5 K a kilometre, `g` 9.80665 m/s2 and
/// `R` 287.05287 J/(kg K).
///
/// - `height_m`: geopotential height above the sea, -2 000 to 11 000; the height of a road is the same to a few metres.
///
/// Source: ISO 2533, from memory ([`ATMOSPHERE_KNOWN_BY`]).
pub fn atmosphere_kpa(height_m: f64) -> f64 {
    const SEA_K: f64 = 288.15;
    const LAPSE_K_PER_M: f64 = 0.0065;
    const EXPONENT: f64 = 9.806_65 / (287.052_87 * LAPSE_K_PER_M);
    ATMOSPHERE_KPA * libm::pow(1.0 - LAPSE_K_PER_M * height_m / SEA_K, EXPONENT)
}

/// How far the pressure in a box is above that of the air outside, in kilopascals, when nothing gets out.
///
/// `dp = p0 dT / T + p0 - p(h)`: closed at the level of the sea and [`CLOSED_AT_K`], then warmed at constant volume and taken
/// up. From the sea a metre takes off most, so a climb that begins higher pushes less.
pub fn trapped_kpa(warmed_k: f64, climbed_m: f64) -> f64 {
    let warmed = breath(1.0, CLOSED_AT_K, CLOSED_AT_K + warmed_k, 1.0);
    warmed.pressure_if_sealed_kpa + ATMOSPHERE_KPA - atmosphere_kpa(climbed_m)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// 40 K on 293.15 K are 13.825 kPa; the table of the standard has 79.495 kPa at 2000 m, which is 21.830 less.
    #[test]
    fn warmth_and_height_add_up() {
        assert!((trapped_kpa(40.0, 0.0) - 13.8255).abs() < 1e-3);
        assert!((trapped_kpa(0.0, 2_000.0) - 21.830).abs() < 1e-3);
        assert!((trapped_kpa(40.0, 2_000.0) - 35.656).abs() < 1e-2);
        assert!(trapped_kpa(0.0, 0.0).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn warmer_and_higher_push_more(k in 0.0..80.0, m in 0.0..8_000.0) {
            prop_assert!(trapped_kpa(k + 1.0, m) > trapped_kpa(k, m));
            prop_assert!(trapped_kpa(k, m + 10.0) > trapped_kpa(k, m));
        }
    }
}
