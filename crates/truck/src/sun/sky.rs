//! Sun by latitude and day: outside the air, and under a clear sky. Both are ceilings.

use std::f64::consts::PI;

use crate::TruckError;
use crate::check::{positive, within};

/// What falls on a square metre that faces the sun outside the air, watts.
///
/// Source: the value of the textbooks, 1367 (satellites of today measure some 6 less).
pub const SOLAR_CONSTANT_W_PER_M2: f64 = 1_367.0;

const JOULES_A_KWH: f64 = 3.6e6;
const SECONDS_A_DAY: f64 = 86_400.0;

/// The sun of one day at one latitude.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Day {
    /// Declination of the sun, radians: `23.45 deg sin(360 deg (284 + n) / 365)`.
    pub declination_rad: f64,
    /// Half the length of the day as an hour angle, radians: `acos(-tan L tan d)`. 0 when the sun does not rise, pi when
    /// it does not set.
    pub sunset_rad: f64,
    latitude_rad: f64,
    of_year: f64,
}

/// The sun on a day of the year (1 to 366) at a latitude (degrees, south below zero).
///
/// Source: Cooper's formula for the declination and the sunset equation, any text of solar engineering.
///
/// # Errors
///
/// [`TruckError::Outside`] for a latitude outside -90 to 90 or a day outside 1 to 366.
pub fn day(latitude_deg: f64, day_of_year: f64) -> Result<Day, TruckError> {
    let latitude = within(
        "latitude",
        latitude_deg,
        [-90.0, 90.0],
        "enter degrees, south below zero",
    )?;
    let day_of_year = within("day of the year", day_of_year, [1.0, 366.0], "count from 1 January")?;
    let latitude_rad = latitude.to_radians();
    let year_rad = 2.0 * PI / 365.0;
    let declination_rad = 23.45_f64.to_radians() * (year_rad * (284.0 + day_of_year)).sin();
    let cos_sunset = -latitude_rad.tan() * declination_rad.tan();
    // Beyond +-1 there is no sunset: night or day lasts all round.
    let sunset_rad = if cos_sunset >= 1.0 {
        0.0
    } else if cos_sunset <= -1.0 {
        PI
    } else {
        cos_sunset.acos()
    };
    Ok(Day {
        declination_rad,
        sunset_rad,
        latitude_rad,
        of_year: day_of_year,
    })
}

impl Day {
    /// What falls on a level square metre outside the air in the day, kilowatt-hours:
    /// `H0 = 24 h Gsc / pi (1 + 0.033 cos(360 n / 365)) (cos L cos d sin ws + ws sin L sin d)`.
    ///
    /// - `solar_constant`: watts a square metre; [`SOLAR_CONSTANT_W_PER_M2`].
    ///
    /// Source: any text of solar engineering.
    ///
    /// # Errors
    ///
    /// [`TruckError::NotAbove`] for a constant not above zero.
    pub fn outside_air_kwh_per_m2(&self, solar_constant: f64) -> Result<f64, TruckError> {
        let constant = positive("solar constant", solar_constant, "enter watts a square metre")?;
        let distance = 1.0 + 0.033 * (2.0 * PI * self.of_year / 365.0).cos();
        let [level, polar] = self.products();
        let sum = level * self.sunset_rad.sin() + self.sunset_rad * polar;
        Ok(SECONDS_A_DAY * constant / PI * distance * sum / JOULES_A_KWH)
    }

    /// What falls on a level square metre under a clear sky in the day, kilowatt-hours: the sum over the day of
    /// `1098 cos z exp(-0.059 / cos z)` watts, `z` the sun's angle from overhead.
    ///
    /// A ceiling on peak sun hours: clear-sky models differ among themselves by up to 20 %, worst in low winter sun and
    /// hazy summer, and most days are not clear.
    ///
    /// Source: Haurwitz's model of the clear sky.
    pub fn clear_sky_kwh_per_m2(&self) -> f64 {
        // Halves of the day are alike. 720 steps to noon are two minutes each at the most.
        const STEPS: u32 = 720;
        let [level, polar] = self.products();
        let width_rad = self.sunset_rad / f64::from(STEPS);
        let sum: f64 = (0..STEPS)
            .map(|step| (f64::from(step) + 0.5) * width_rad)
            .map(|hour_rad| haurwitz_w_per_m2(level * hour_rad.cos() + polar))
            .sum();
        2.0 * sum * width_rad / (2.0 * PI) * SECONDS_A_DAY / JOULES_A_KWH
    }

    /// `cos L cos d` and `sin L sin d`.
    fn products(&self) -> [f64; 2] {
        let (latitude, declination) = (self.latitude_rad, self.declination_rad);
        [latitude.cos() * declination.cos(), latitude.sin() * declination.sin()]
    }
}

fn haurwitz_w_per_m2(cos_z: f64) -> f64 {
    if cos_z > 0.0 {
        1_098.0 * cos_z * (-0.059 / cos_z).exp()
    } else {
        0.0
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn beyond_the_circle_there_is_night_all_day_and_day_all_night() {
        let [winter, summer] = [355.0, 172.0].map(|n| day(75.0, n).unwrap());
        assert!(winter.sunset_rad.abs() < 1e-12);
        assert!(winter.clear_sky_kwh_per_m2().abs() < 1e-12);
        assert_eq!(winter.outside_air_kwh_per_m2(1_367.0), Ok(0.0));
        assert!((summer.sunset_rad - PI).abs() < 1e-12);
        assert!(summer.clear_sky_kwh_per_m2() > 5.0);
    }

    #[test]
    fn nonsense_is_refused() {
        assert!(day(90.1, 1.0).is_err());
        assert!(day(40.0, 0.0).is_err());
        assert!(day(f64::NAN, 1.0).is_err());
        assert!(day(40.0, 1.0).unwrap().outside_air_kwh_per_m2(0.0).is_err());
    }

    proptest! {
        #[test]
        fn air_always_takes_something(latitude in -66.0..66.0_f64, n in 1..=365_u32) {
            let found = day(latitude, f64::from(n)).unwrap();
            let [clear, outside] = [found.clear_sky_kwh_per_m2(), found.outside_air_kwh_per_m2(1_367.0).unwrap()];
            prop_assert!(clear < outside, "{clear} under {outside}");
        }

        #[test]
        fn north_in_june_is_south_half_a_year_on(latitude in 0.0..66.0_f64) {
            let north = day(latitude, 81.0 + 91.25).unwrap();
            let south = day(-latitude, 81.0 + 273.75).unwrap();
            prop_assert!((north.clear_sky_kwh_per_m2() - south.clear_sky_kwh_per_m2()).abs() < 1e-6);
        }
    }
}
