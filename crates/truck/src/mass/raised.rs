//! Height of the centre of gravity, by raising the rear axle on a scale.

use super::axle::AxleLoads;
use super::{checked_total, checked_wheelbase};
use crate::TruckError;
use crate::check::{finite, in_kg, in_m, positive, within};

/// What is measured: springs locked, tanks empty or full, wheels free to roll.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Raising {
    /// Level, on both scales.
    pub level: AxleLoads,
    /// The front reading with the rear raised. It goes up.
    pub front_raised_kg: f64,
    /// How far the rear hubs were raised, metres.
    pub lift_m: f64,
    /// Height of the hubs above the ground, metres; tyres are taken as not squashing any further.
    pub hub_height_m: f64,
    /// From hub to hub, metres.
    pub wheelbase_m: f64,
}

/// What follows from it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Height {
    /// How far the truck was tilted, radians.
    pub tilt_rad: f64,
    /// The centre of gravity behind the front axle, metres.
    pub centre_x_m: f64,
    /// The centre of gravity above the ground, metres.
    pub height_m: f64,
    /// Metres that the height is off for each kilogram that the raised reading is off.
    pub height_m_per_kg: f64,
}

/// What to do about a reading that puts the centre where none is.
const AGAIN: &str =
    "weigh both again: the centre of a truck is above the ground, and no higher than half its wheelbase";

/// The height of the centre of gravity: `sin(tilt) = lift / L`, `h = hub height + L dF / (W tan(tilt))`.
///
/// Source: moments about the front hub; as in a racing-scale maker's article, checked by rotating the mass point.
///
/// # Errors
///
/// [`TruckError`] for a figure that is no number, no mass, or a lift that is not above zero and below the wheelbase.
pub fn height(raising: &Raising) -> Result<Height, TruckError> {
    let wheelbase_m = checked_wheelbase(raising.wheelbase_m)?;
    let total_kg = checked_total(raising.level.total_kg())?;
    let hub_m = positive(
        "hub height",
        raising.hub_height_m,
        "measure it from the ground to the hub",
    )
    .map_err(in_m)?;
    let lift_m = checked_lift(raising.lift_m, wheelbase_m)?;
    finite("front reading, raised", raising.front_raised_kg)?;
    let more_kg = raising.front_raised_kg - raising.level.front_kg;
    let tilt_rad = (lift_m / wheelbase_m).asin();
    let height_m_per_kg = wheelbase_m / (total_kg * tilt_rad.tan());
    let most_kg = raising.level.front_kg + (wheelbase_m / 2.0 - hub_m).max(0.0) / height_m_per_kg;
    // A centre below the ground or higher than it is long to the middle is a slip of the scale.
    let least_kg = raising.level.front_kg - hub_m / height_m_per_kg;
    within(
        "front reading, raised",
        raising.front_raised_kg,
        [least_kg, most_kg],
        AGAIN,
    )
    .map_err(in_kg)?;
    Ok(Height {
        tilt_rad,
        centre_x_m: raising.level.centre_x_m(wheelbase_m)?,
        height_m: hub_m + height_m_per_kg * more_kg,
        height_m_per_kg,
    })
}

fn checked_lift(lift_m: f64, wheelbase_m: f64) -> Result<f64, TruckError> {
    const MEND: &str = "raise the rear hubs, by less than the wheelbase";
    positive("lift of the rear axle", lift_m, MEND).map_err(in_m)?;
    // At the wheelbase itself the truck stands on its nose, and the tangent has no value.
    let most_m = wheelbase_m * 0.99;
    within("lift of the rear axle", lift_m, [0.0, most_m], MEND).map_err(in_m)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const LEVEL: AxleLoads = AxleLoads {
        front_kg: 864.0,
        rear_kg: 687.0,
    };

    fn raising(lift_m: f64, more_kg: f64) -> Raising {
        Raising {
            level: LEVEL,
            front_raised_kg: LEVEL.front_kg + more_kg,
            lift_m,
            hub_height_m: 0.34,
            wheelbase_m: 3.0,
        }
    }

    #[test]
    fn no_lift_or_too_much_is_refused() {
        for lift in [0.0, -0.1, 3.0, f64::NAN] {
            assert!(height(&raising(lift, 20.0)).is_err());
        }
    }

    #[test]
    fn five_pounds_are_worth_about_an_inch_at_twenty_inches() {
        use crate::units::{KG_PER_LB, M_PER_IN};
        let found = height(&Raising {
            wheelbase_m: 118.0 * M_PER_IN,
            ..raising(20.0 * M_PER_IN, 20.0)
        })
        .unwrap();
        let inches = found.height_m_per_kg * 5.0 * KG_PER_LB / M_PER_IN;
        assert!((0.9..1.2).contains(&inches), "{inches}");
    }

    proptest! {
        /// The way round: a mass point at a known height, turned about the front hub.
        #[test]
        fn a_mass_point_at_a_known_height_is_found_again(height_m in 0.3..1.2_f64, lift_m in 0.1..1.5_f64) {
            let asked = raising(lift_m, 0.0);
            let tilt = (lift_m / asked.wheelbase_m).asin();
            let (x, up) = (LEVEL.centre_x_m(asked.wheelbase_m).unwrap(), height_m - asked.hub_height_m);
            // Nose down: the point goes forward of where it was seen from the front hub by up sin(tilt).
            let arm = x * tilt.cos() - up * tilt.sin();
            let rear_kg = LEVEL.total_kg() * arm / (asked.wheelbase_m * tilt.cos());
            let front_raised_kg = LEVEL.total_kg() - rear_kg;
            let found = height(&Raising { front_raised_kg, ..asked }).unwrap();
            prop_assert!((found.height_m - height_m).abs() < 1e-9, "{}", found.height_m);
        }
    }
}
