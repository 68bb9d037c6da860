//! Peak sun hours: of a few measured places, and an estimate for any latitude.

use super::sky::{self, SOLAR_CONSTANT_W_PER_M2};
use super::trickle::{Array, trickle};
use crate::check::{positive, within};
use crate::{Source, Sourced, TruckError};

/// A place whose typical year is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Its name.
    pub name: &'static str,
    /// Degrees north.
    pub latitude_deg: f64,
    /// Peak sun hours of a day, the mean of the year, on a level panel.
    pub yearly: f64,
    /// Of each month, January first; `None` where only the year is known.
    pub monthly: Option<[f64; 12]>,
    /// Where they are from.
    pub source: Source,
}

const TMY2: Source = Source::computed("NREL typical meteorological year (TMY2), sums of level irradiation");
const TMY3: Source = Source::computed("NREL typical meteorological year (TMY3), sums of level irradiation");

/// Places from the south to the north.
pub const PLACES: [Place; 3] = [
    Place {
        name: "Miami, Florida",
        latitude_deg: 25.8,
        yearly: 4.911_28,
        monthly: Some([
            3.494, 4.427, 5.157, 6.165, 6.029, 5.761, 5.993, 5.669, 4.915, 4.371, 3.568, 3.362,
        ]),
        source: TMY2,
    },
    Place {
        name: "Greensboro, North Carolina",
        latitude_deg: 36.1,
        yearly: 4.29,
        monthly: None,
        source: TMY3,
    },
    Place {
        name: "Sand Point, Alaska",
        latitude_deg: 55.317,
        yearly: 2.271_9,
        monthly: Some([
            0.583, 1.047, 1.853, 3.058, 3.278, 3.806, 5.005, 2.704, 3.041, 1.614, 0.743, 0.462,
        ]),
        source: TMY3,
    },
];

/// The share of the sun outside the air that reaches the ground, where nothing is measured.
///
/// Over the year the places here have 0.54 (Miami), 0.52 (Greensboro) and 0.37 (Sand Point).
pub const CLEARNESS: Sourced<f64> = Sourced {
    value: 0.5,
    source: Source::memory("clearness of temperate places, 0.3 in a dull winter to 0.65 in a dry summer"),
};

/// For each month, January first, the day whose sun is nearest to the month's mean.
///
/// Source: Klein 1977, as texts of solar engineering reprint it; from memory.
pub const MEAN_DAYS: [f64; 12] = [
    17.0, 47.0, 75.0, 105.0, 135.0, 162.0, 198.0, 228.0, 258.0, 288.0, 318.0, 344.0,
];

/// An estimate of peak sun hours, January first: `clearness x H0` on the mean day of each month.
///
/// It is not held below a clear sky: show [`sky::Day::clear_sky_kwh_per_m2`] beside it as the ceiling.
///
/// # Errors
///
/// [`TruckError::Outside`] for a latitude outside -90 to 90, or a clearness outside 0 to 1.
pub fn monthly(latitude_deg: f64, clearness: f64) -> Result<[f64; 12], TruckError> {
    let clearness = within(
        "clearness",
        clearness,
        [0.0, 1.0],
        "enter the share of the sun that reaches the ground",
    )?;
    let mut months = [0.0; 12];
    for (hours, day) in months.iter_mut().zip(MEAN_DAYS) {
        let outside = sky::day(latitude_deg, day)?.outside_air_kwh_per_m2(SOLAR_CONSTANT_W_PER_M2)?;
        *hours = clearness * outside;
    }
    Ok(months)
}

/// Miles a week in the month with the least sun and in that with the most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seasons {
    /// The month with the least sun, January is 0.
    pub winter_month: usize,
    /// Miles a week then.
    pub winter_miles: f64,
    /// The month with the most sun.
    pub summer_month: usize,
    /// Miles a week then.
    pub summer_miles: f64,
}

/// Miles a week that an array adds in winter and in summer.
///
/// - `sun_hours`: peak sun hours of each month, from [`monthly`] or measured.
///
/// # Errors
///
/// As [`trickle`], or watt-hours a mile not above zero.
pub fn seasons(array: &Array, sun_hours: &[f64; 12], wh_per_mile: f64) -> Result<Seasons, TruckError> {
    let wh_per_mile = positive("watt-hours a mile", wh_per_mile, "take them from the range")?;
    let mut miles = [0.0; 12];
    for (miles, hours) in miles.iter_mut().zip(sun_hours) {
        *miles = trickle(array, *hours)?.miles_per_week(wh_per_mile)?;
    }
    let [mut winter_month, mut summer_month] = [0, 0];
    for month in 1..miles.len() {
        if miles[month] < miles[winter_month] {
            winter_month = month;
        }
        if miles[month] > miles[summer_month] {
            summer_month = month;
        }
    }
    Ok(Seasons {
        winter_month,
        winter_miles: miles[winter_month],
        summer_month,
        summer_miles: miles[summer_month],
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::sun::sky::day;

    fn mean(months: &[f64; 12]) -> f64 {
        const DAYS: [f64; 12] = [31.0, 28.0, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0];
        months.iter().zip(DAYS).map(|(hours, days)| hours * days).sum::<f64>() / 365.0
    }

    #[test]
    fn months_add_up_to_their_year() {
        for place in &PLACES {
            if let Some(months) = &place.monthly {
                assert!(
                    (mean(months) - place.yearly).abs() < 0.005,
                    "{}: {}",
                    place.name,
                    mean(months)
                );
            }
        }
    }

    #[test]
    fn no_month_of_a_place_has_more_sun_than_a_clear_sky() {
        for place in &PLACES {
            for (hours, n) in place.monthly.iter().flatten().zip(MEAN_DAYS) {
                let clear = day(place.latitude_deg, n).unwrap().clear_sky_kwh_per_m2();
                assert!(*hours < clear, "{} day {n}: {hours} of {clear}", place.name);
            }
        }
    }

    /// The clearness that the doc comment tells of.
    #[test]
    fn places_have_the_clearness_that_is_told() {
        for (place, told) in PLACES.iter().zip([0.54, 0.52, 0.37]) {
            let outside = mean(&monthly(place.latitude_deg, 1.0).unwrap());
            let found = place.yearly / outside;
            assert!((found - told).abs() < 0.005, "{}: {found}", place.name);
        }
    }

    proptest! {
        #[test]
        fn winter_is_never_better_than_summer(latitude in -60.0..60.0_f64, clearness in 0.1..0.8_f64) {
            let array = Array { panel_w: 400.0, losses: 0.14, step_up_efficiency: 0.9, heat: None };
            let found = seasons(&array, &monthly(latitude, clearness).unwrap(), 300.0).unwrap();
            prop_assert!(found.winter_miles <= found.summer_miles);
            if latitude > 20.0 {
                prop_assert_eq!((found.winter_month, found.summer_month), (11, 5));
            }
            if latitude < -20.0 {
                prop_assert_eq!(found.winter_month, 5);
            }
        }
    }
}
