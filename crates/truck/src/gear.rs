//! Gears that are kept: how fast the motor turns, and which gear suits.

pub mod tyre;

use std::f64::consts::PI;

use crate::TruckError;
use crate::check::positive;

/// The constant of the shop formula `mph = rpm x tyre diameter in inches / (336.1 x ratio)`: `63360 / (60 pi)`.
///
/// Source: inches in a mile, minutes in an hour; no give of the tyre in it.
pub const SHOP_CONSTANT: f64 = 63_360.0 / (60.0 * PI);

const SECONDS_A_MINUTE: f64 = 60.0;

/// What is between motor and road.
#[derive(Clone, Debug, PartialEq)]
pub struct Gearing {
    /// How far the truck goes for one turn of the wheel, metres. Rolled out with a chalk mark is better than from a size.
    pub rolling_m: f64,
    /// Turns of the propshaft for one of the wheel.
    pub final_drive: f64,
    /// Turns of the motor for one of the propshaft, gear by gear.
    pub gears: Vec<f64>,
    /// What the motor may turn, revolutions a minute.
    pub limit_rpm: f64,
    /// Where the motor's full power begins, revolutions a minute; below it, it gives full torque only.
    pub base_rpm: Option<f64>,
}

/// How a gear suits a speed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Suits {
    /// The motor turns faster than it may.
    OverLimit,
    /// The motor turns so slowly that it does not give its full power.
    BelowBase,
    /// Neither.
    Well,
}

/// One gear at a speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// Turns of the motor for one of the propshaft.
    pub ratio: f64,
    /// What the motor turns at the speed, revolutions a minute.
    pub motor_rpm: f64,
    /// The speed at the motor's limit, metres a second.
    pub top_mps: f64,
    /// How the gear suits the speed.
    pub suits: Suits,
}

impl Gearing {
    /// The same, its figures looked at.
    ///
    /// # Errors
    ///
    /// [`TruckError`] for a figure not above zero, or no gear.
    pub fn checked(&self) -> Result<&Self, TruckError> {
        positive(
            "rolling circumference",
            self.rolling_m,
            "roll the truck one turn of the wheel and measure",
        )?;
        positive(
            "final drive",
            self.final_drive,
            "count turns of the propshaft for one of the wheel",
        )?;
        positive("limit of the motor", self.limit_rpm, "enter its highest speed")?;
        if let Some(base_rpm) = self.base_rpm {
            positive("base speed of the motor", base_rpm, "leave it out if not known")?;
        }
        if self.gears.is_empty() {
            return Err(TruckError::TooFew {
                field: "gears".to_owned(),
                given: 0,
                least: 1,
                mend: "enter 1 where the motor drives the propshaft straight",
            });
        }
        for (index, ratio) in self.gears.iter().enumerate() {
            positive(
                &format!("ratio of gear {}", index + 1),
                *ratio,
                "enter turns of the motor for one behind it",
            )?;
        }
        Ok(self)
    }

    /// Every gear at one speed: `rpm = v / circumference x gear x final drive x 60`.
    ///
    /// Source: definition of the ratios.
    ///
    /// # Errors
    ///
    /// As [`Gearing::checked`], or a speed not above zero.
    pub fn table(&self, speed_mps: f64) -> Result<Vec<Row>, TruckError> {
        let gearing = self.checked()?;
        let speed_mps = positive("speed", speed_mps, "enter a speed")?;
        let row = |ratio: &f64| {
            let motor_rpm = gearing.motor_rpm(*ratio, speed_mps);
            Row {
                ratio: *ratio,
                motor_rpm,
                top_mps: gearing.speed_mps(*ratio, gearing.limit_rpm),
                suits: gearing.suits(motor_rpm),
            }
        };
        Ok(gearing.gears.iter().map(row).collect())
    }

    /// The gears (from 0, in their order) that suit the speed: within the motor's limit, and not below its base speed.
    ///
    /// # Errors
    ///
    /// As [`Gearing::table`].
    pub fn sensible(&self, speed_mps: f64) -> Result<Vec<usize>, TruckError> {
        let rows = self.table(speed_mps)?;
        let suiting = rows.iter().enumerate().filter(|(_, row)| row.suits == Suits::Well);
        Ok(suiting.map(|(index, _)| index).collect())
    }

    /// What the motor turns, revolutions a minute.
    pub fn motor_rpm(&self, ratio: f64, speed_mps: f64) -> f64 {
        speed_mps / self.rolling_m * ratio * self.final_drive * SECONDS_A_MINUTE
    }

    /// How fast the truck goes, metres a second.
    pub fn speed_mps(&self, ratio: f64, motor_rpm: f64) -> f64 {
        motor_rpm / SECONDS_A_MINUTE / (ratio * self.final_drive) * self.rolling_m
    }

    /// The pull at the wheels, newtons, of a torque at the motor: `torque x gear x final drive x efficiency / radius`.
    ///
    /// - `efficiency`: of gearbox and axle, 0 to 1.
    ///
    /// Source: work at motor and road for one turn of the wheel.
    pub fn pull_n(&self, ratio: f64, torque_nm: f64, efficiency: f64) -> f64 {
        torque_nm * ratio * self.final_drive * efficiency * 2.0 * PI / self.rolling_m
    }

    fn suits(&self, motor_rpm: f64) -> Suits {
        if motor_rpm > self.limit_rpm {
            Suits::OverLimit
        } else if self.base_rpm.is_some_and(|base_rpm| motor_rpm < base_rpm) {
            Suits::BelowBase
        } else {
            Suits::Well
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::units::{M_PER_IN, MPS_PER_MPH};

    fn gearing() -> Gearing {
        Gearing {
            rolling_m: 2.1,
            final_drive: 4.0,
            gears: vec![3.5, 2.0, 1.0],
            limit_rpm: 6_000.0,
            base_rpm: Some(2_500.0),
        }
    }

    /// 63 km/h is 500 turns a minute of the wheel: 7000, 4000 and 2000 of the motor.
    #[test]
    fn each_gear_is_told_how_it_suits() {
        let rows = gearing().table(17.5).unwrap();
        let found: Vec<(f64, Suits)> = rows.iter().map(|row| (row.motor_rpm.round(), row.suits)).collect();
        assert_eq!(
            found,
            [
                (7_000.0, Suits::OverLimit),
                (4_000.0, Suits::Well),
                (2_000.0, Suits::BelowBase),
            ]
        );
        assert_eq!(gearing().sensible(17.5), Ok(vec![1]));
    }

    #[test]
    fn nonsense_is_refused() {
        let none = Gearing {
            gears: Vec::new(),
            ..gearing()
        };
        assert!(none.table(10.0).is_err());
        let zero = Gearing {
            gears: vec![1.0, 0.0],
            ..gearing()
        };
        assert!(zero.table(10.0).is_err());
        assert!(gearing().table(0.0).is_err());
    }

    /// Power at motor and road is the same without loss.
    #[test]
    fn pull_times_speed_is_torque_times_turns() {
        let gearing = gearing();
        let speed = gearing.speed_mps(2.0, 3_000.0);
        let motor_w = 150.0 * 3_000.0 / 60.0 * 2.0 * PI;
        assert!((gearing.pull_n(2.0, 150.0, 1.0) * speed - motor_w).abs() < 1e-6);
    }

    proptest! {
        #[test]
        fn turns_and_speed_are_each_others_inverse(ratio in 0.5..6.0_f64, speed in 0.1..50.0_f64) {
            let gearing = gearing();
            let back = gearing.speed_mps(ratio, gearing.motor_rpm(ratio, speed));
            prop_assert!((back - speed).abs() < 1e-9);
        }

        #[test]
        fn the_shop_formula_says_the_same(diameter_in in 20.0..40.0_f64, rpm in 100.0..8_000.0_f64, ratio in 0.5..20.0_f64) {
            let gearing = Gearing {
                rolling_m: PI * diameter_in * M_PER_IN,
                final_drive: 1.0,
                ..gearing()
            };
            let mph = rpm * diameter_in / (SHOP_CONSTANT * ratio);
            prop_assert!((gearing.speed_mps(ratio, rpm) / MPS_PER_MPH - mph).abs() < 1e-9 * mph.max(1.0));
        }
    }
}
