//! What panels put into the pack, and how far that goes.

use crate::TruckError;
use crate::check::{efficiency, finite, not_negative, positive, within};

/// Heat of the cells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Heat {
    /// Change of power for each degree: -0.004 or so.
    pub per_c: f64,
    /// Degrees Celsius of the cells.
    pub cell_c: f64,
}

/// The temperature that panels are rated at, Celsius.
const RATED_AT_C: f64 = 25.0;

/// Panels and what is behind them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Array {
    /// Watts on the plates of all panels together.
    pub panel_w: f64,
    /// Share lost, from [`super::losses`].
    pub losses: f64,
    /// Of the step up to pack volts: power out over power in, 0 to 1.
    pub step_up_efficiency: f64,
    /// Heat of the cells; `None` leaves it out.
    pub heat: Option<Heat>,
}

/// What they put into the pack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trickle {
    /// Watt-hours a day.
    pub wh_per_day: f64,
    /// Watts into the pack over watts on the plates, in full sun.
    pub overall: f64,
}

impl Trickle {
    /// Kilowatt-hours in a week.
    pub fn kwh_per_week(&self) -> f64 {
        self.wh_per_day * 7.0 / 1_000.0
    }

    /// Miles a week.
    ///
    /// # Errors
    ///
    /// [`TruckError::NotAbove`] for watt-hours a mile not above zero.
    pub fn miles_per_week(&self, wh_per_mile: f64) -> Result<f64, TruckError> {
        let wh_per_mile = positive("watt-hours a mile", wh_per_mile, "take them from the range")?;
        Ok(self.kwh_per_week() * 1_000.0 / wh_per_mile)
    }
}

/// What an array gives: `watts x sun hours x (1 - losses) x step up`, with heat `x (1 + per_c (cell - 25))`.
///
/// - `sun_hours`: peak sun hours, kilowatt-hours on a level square metre in a day.
///
/// Source: energy balance with the convention of the loss model.
///
/// # Errors
///
/// [`TruckError`] for watts not above zero, sun hours below zero, shares outside their range, or cells so hot that
/// nothing is left.
pub fn trickle(array: &Array, sun_hours: f64) -> Result<Trickle, TruckError> {
    let panel_w = positive("panels", array.panel_w, "enter the watts on their plates")?;
    let sun_hours = not_negative("peak sun hours", sun_hours, "enter zero or more")?;
    let losses = within("losses", array.losses, [0.0, 1.0], "enter a share")?;
    let step_up = efficiency("efficiency of the step up", array.step_up_efficiency)?;
    let warm = array.heat.map_or(Ok(1.0), warm)?;
    let overall = (1.0 - losses) * step_up * warm;
    Ok(Trickle {
        wh_per_day: panel_w * sun_hours * overall,
        overall,
    })
}

fn warm(heat: Heat) -> Result<f64, TruckError> {
    let per_c = finite("change of power with heat", heat.per_c)?;
    let cell_c = finite("heat of the cells", heat.cell_c)?;
    let left = 1.0 + per_c * (cell_c - RATED_AT_C);
    not_negative(
        "power left in the heat",
        left,
        "enter a change of about -0.004 for each degree",
    )
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const ARRAY: Array = Array {
        panel_w: 400.0,
        losses: 0.1408,
        step_up_efficiency: 0.94,
        heat: None,
    };

    #[test]
    fn nonsense_is_refused() {
        let wrong = [
            Array { panel_w: 0.0, ..ARRAY },
            Array { losses: 14.08, ..ARRAY },
            Array {
                step_up_efficiency: 0.0,
                ..ARRAY
            },
            Array {
                heat: Some(Heat {
                    per_c: -0.4,
                    cell_c: 60.0,
                }),
                ..ARRAY
            },
        ];
        for array in wrong {
            assert!(trickle(&array, 5.0).is_err(), "{array:?}");
        }
        assert!(trickle(&ARRAY, -1.0).is_err());
        assert!(trickle(&ARRAY, 5.0).unwrap().miles_per_week(0.0).is_err());
    }

    proptest! {
        #[test]
        fn heat_and_losses_take_and_sun_gives(hours in 0.1..8.0_f64, cell_c in 26.0..80.0_f64, more in 0.01..0.5_f64) {
            let at = trickle(&ARRAY, hours).unwrap().wh_per_day;
            let hot = Array { heat: Some(Heat { per_c: -0.004, cell_c }), ..ARRAY };
            prop_assert!(trickle(&hot, hours).unwrap().wh_per_day < at);
            let shaded = Array { losses: ARRAY.losses + more, ..ARRAY };
            prop_assert!(trickle(&shaded, hours).unwrap().wh_per_day < at);
            prop_assert!(trickle(&ARRAY, hours + more).unwrap().wh_per_day > at);
            prop_assert!(at <= ARRAY.panel_w * hours);
        }
    }
}
