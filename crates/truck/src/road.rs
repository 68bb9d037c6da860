//! What the road asks for: force and power at a speed, on a grade, when gaining speed.

use crate::check::{efficiency, finite, not_negative, positive, within};
use crate::units::{GRAVITY, M_PER_MILE, MPS_PER_MPH, N_PER_LBF, wh_per_mile};
use crate::{Source, Sourced, TruckError};

/// What holds a truck back at steady speed on a level road.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Resistance {
    /// By formula: `m g Crr cos(grade) + 0.5 rho CdA v^2`.
    Formula {
        /// Rolling resistance over weight.
        rolling: f64,
        /// Drag coefficient times frontal area, square metres.
        drag_area_m2: f64,
        /// Density of the air, kilograms a cubic metre.
        air_kg_per_m3: f64,
    },
    /// As coasted down: `A + B v + C v^2`. It holds for the mass that was coasted.
    Coastdown {
        /// At standstill, newtons.
        a_n: f64,
        /// Newtons for each metre a second.
        b_n_per_mps: f64,
        /// Newtons for each metre a second squared.
        c_n_per_mps2: f64,
    },
}

impl Resistance {
    /// A coast-down in pounds of force and miles an hour.
    ///
    /// Source: definitions of the units.
    pub fn coastdown_us(a_lbf: f64, b_lbf_per_mph: f64, c_lbf_per_mph2: f64) -> Self {
        Self::Coastdown {
            a_n: a_lbf * N_PER_LBF,
            b_n_per_mps: b_lbf_per_mph * N_PER_LBF / MPS_PER_MPH,
            c_n_per_mps2: c_lbf_per_mph2 * N_PER_LBF / (MPS_PER_MPH * MPS_PER_MPH),
        }
    }

    /// Newtons at a speed, for a mass that stands on a slope of this cosine.
    fn force_n(self, mass_kg: f64, slope_cos: f64, speed_mps: f64) -> f64 {
        match self {
            Self::Formula {
                rolling,
                drag_area_m2,
                air_kg_per_m3,
            } => mass_kg * GRAVITY * rolling * slope_cos + 0.5 * air_kg_per_m3 * drag_area_m2 * speed_mps * speed_mps,
            Self::Coastdown {
                a_n,
                b_n_per_mps,
                c_n_per_mps2,
            } => a_n + (b_n_per_mps + c_n_per_mps2 * speed_mps) * speed_mps,
        }
    }
}

/// A truck on the road.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vehicle {
    /// As driven, people and load with it, kilograms.
    pub mass_kg: f64,
    /// Mass that has to be sped up over mass: more than 1 for what turns.
    pub mass_factor: f64,
    /// What holds it back.
    pub resistance: Resistance,
    /// From the pack to the wheels: power out over power in, 0 to 1.
    pub drive_efficiency: f64,
    /// What comes back into the pack of the energy that braking takes from the wheels, 0 to 1; 0 without regeneration.
    pub regen_efficiency: f64,
    /// What draws on the pack all the time, watts: converter for 12 V, pumps, cabin heat.
    pub aux_w: f64,
}

/// Usual figures, where the truck's own are not known. A coast-down is better than all of them.
pub mod usual {
    use super::{Source, Sourced};

    /// Rolling resistance over weight, of light-truck tyres on asphalt.
    pub const ROLLING: Sourced<f64> = Sourced {
        value: 0.011,
        source: Source::memory("tyre and vehicle handbooks: 0.009 to 0.015 for radials on asphalt"),
    };
    /// Drag coefficient times frontal area of a small pickup, square metres.
    pub const DRAG_AREA_M2: Sourced<f64> = Sourced {
        value: 1.1,
        source: Source::memory("vehicle handbooks: Cd 0.45 to 0.5 over 2.1 to 2.4 square metres"),
    };
    /// Density of air at 20 C near sea level, kilograms a cubic metre.
    pub const AIR_KG_PER_M3: Sourced<f64> = Sourced {
        value: 1.2,
        source: Source::computed("ideal gas at 101.3 kPa and 20 C: 1.204"),
    };
    /// Mass that has to be sped up over mass.
    pub const MASS_FACTOR: Sourced<f64> = Sourced {
        value: 1.05,
        source: Source::memory("vehicle handbooks: 1.03 to 1.06 in a high gear"),
    };
    /// From pack to wheels.
    pub const DRIVE_EFFICIENCY: Sourced<f64> = Sourced {
        value: 0.85,
        source: Source::memory("inverter, motor, gearbox and axle together, 0.8 to 0.9"),
    };
}

impl Vehicle {
    /// The same, its figures looked at.
    ///
    /// # Errors
    ///
    /// [`TruckError`] for a mass not above zero, a mass factor below 1, an efficiency outside its range, a resistance
    /// or draw below zero.
    pub fn checked(&self) -> Result<&Self, TruckError> {
        const MEND: &str = "enter zero or more";
        positive("mass of the truck", self.mass_kg, "enter it as driven")?;
        finite("mass factor", self.mass_factor)?;
        within(
            "mass factor",
            self.mass_factor,
            [1.0, 2.0],
            "enter 1 and a little for what turns",
        )?;
        efficiency("efficiency of the drive", self.drive_efficiency)?;
        within("regeneration", self.regen_efficiency, [0.0, 1.0], "enter a share")?;
        not_negative("steady draw", self.aux_w, MEND)?;
        match self.resistance {
            Resistance::Formula {
                rolling,
                drag_area_m2,
                air_kg_per_m3,
            } => {
                not_negative("rolling resistance", rolling, MEND)?;
                not_negative("drag area", drag_area_m2, MEND)?;
                not_negative("density of the air", air_kg_per_m3, MEND)?;
            }
            Resistance::Coastdown {
                a_n,
                b_n_per_mps,
                c_n_per_mps2,
            } => {
                not_negative("coast-down A", a_n, MEND)?;
                // A fitted B is below zero now and then.
                finite("coast-down B", b_n_per_mps)?;
                not_negative("coast-down C", c_n_per_mps2, MEND)?;
            }
        }
        Ok(self)
    }

    /// Newtons at the wheels: resistance, `m g sin(slope)`, and `factor m a`.
    pub(crate) fn force_n(&self, speed_mps: f64, gain_mps2: f64, slope: Slope) -> f64 {
        self.resistance.force_n(self.mass_kg, slope.cos, speed_mps)
            + self.mass_kg * GRAVITY * slope.sin
            + self.mass_factor * self.mass_kg * gain_mps2
    }

    /// What a steady speed takes, on a grade of `rise over run` (0.06 for 6 in 100, below zero downhill).
    ///
    /// `F = m g Crr cos + m g sin + 0.5 rho CdA v^2`, or `A + B v + C v^2 + m g sin`. Downhill what the wheels give back
    /// is taken with the efficiency of regeneration.
    ///
    /// Source: mechanics; `slope = atan(grade)`.
    ///
    /// # Errors
    ///
    /// [`TruckError`] for figures as [`Vehicle::checked`], a speed not above zero, or a grade steeper than 1 in 1.
    pub fn steady(&self, speed_mps: f64, grade: f64) -> Result<Steady, TruckError> {
        let vehicle = self.checked()?;
        let speed_mps = positive("speed", speed_mps, "enter a speed")?;
        let grade = within("grade", grade, [-1.0, 1.0], "enter rise over run, 0.06 for 6 in 100")?;
        let force_n = vehicle.force_n(speed_mps, 0.0, Slope::of(grade));
        let wheel_w = force_n * speed_mps;
        let drive_w = if wheel_w >= 0.0 {
            wheel_w / vehicle.drive_efficiency
        } else {
            wheel_w * vehicle.regen_efficiency
        };
        Ok(Steady {
            speed_mps,
            force_n,
            wheel_w,
            drive_w,
            pack_w: drive_w + vehicle.aux_w,
        })
    }

    /// The steepest grade, rise over run, on which `force_n` at the wheels moves the truck off: where it equals
    /// `m g sin + m g Crr cos`, or `m g sin + A`. At most 1 in 1; below zero where it does not even move on the level.
    ///
    /// Source: mechanics; with `t = atan(Crr)`, `sin + Crr cos = sin(slope + t) / cos(t)`.
    ///
    /// # Errors
    ///
    /// [`TruckError`] for figures as [`Vehicle::checked`], or a force below zero.
    pub fn climb(&self, force_n: f64) -> Result<f64, TruckError> {
        let vehicle = self.checked()?;
        let force_n = not_negative("pull", force_n, "enter the motor's torque")?;
        let weight_n = vehicle.mass_kg * GRAVITY;
        let (over_weight, rolling) = match vehicle.resistance {
            Resistance::Formula { rolling, .. } => (force_n / weight_n, rolling),
            Resistance::Coastdown { a_n, .. } => ((force_n - a_n) / weight_n, 0.0),
        };
        let lean = rolling.atan();
        let sin = (over_weight * lean.cos()).clamp(-1.0, 1.0);
        Ok((sin.asin() - lean).min(std::f64::consts::FRAC_PI_4).tan())
    }

    /// [`Vehicle::steady`] on the level, for each speed.
    ///
    /// # Errors
    ///
    /// As [`Vehicle::steady`].
    pub fn curve(&self, speeds_mps: &[f64]) -> Result<Vec<Steady>, TruckError> {
        speeds_mps.iter().map(|speed| self.steady(*speed, 0.0)).collect()
    }
}

/// Speeds of the table to show first, miles an hour.
pub const TABLE_MPH: [f64; 9] = [25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 55.0, 60.0, 65.0];

/// Sine and cosine of a grade.
#[derive(Clone, Copy)]
pub(crate) struct Slope {
    sin: f64,
    cos: f64,
}

impl Slope {
    pub(crate) const LEVEL: Self = Self { sin: 0.0, cos: 1.0 };

    fn of(grade: f64) -> Self {
        let (sin, cos) = grade.atan().sin_cos();
        Self { sin, cos }
    }
}

/// What a steady speed takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Steady {
    /// Metres a second.
    pub speed_mps: f64,
    /// At the wheels, newtons.
    pub force_n: f64,
    /// At the wheels, watts.
    pub wheel_w: f64,
    /// Into the drive, watts.
    pub drive_w: f64,
    /// From the pack, watts: the drive and the steady draw.
    pub pack_w: f64,
}

impl Steady {
    /// From the pack, watt-hours a mile.
    pub fn wh_per_mile(&self) -> f64 {
        wh_per_mile(self.pack_w, self.speed_mps)
    }

    /// How far `usable_kwh` goes, metres; `None` when the pack gains (downhill).
    pub fn range_m(&self, usable_kwh: f64) -> Option<f64> {
        let per_mile = self.wh_per_mile();
        (per_mile > 0.0).then(|| usable_kwh * 1_000.0 / per_mile * M_PER_MILE)
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use proptest::prelude::*;

    use super::*;

    pub(crate) const PICKUP: Vehicle = Vehicle {
        mass_kg: 1_900.0,
        mass_factor: usual::MASS_FACTOR.value,
        resistance: Resistance::Formula {
            rolling: usual::ROLLING.value,
            drag_area_m2: usual::DRAG_AREA_M2.value,
            air_kg_per_m3: usual::AIR_KG_PER_M3.value,
        },
        drive_efficiency: usual::DRIVE_EFFICIENCY.value,
        regen_efficiency: 0.5,
        aux_w: 300.0,
    };

    #[test]
    fn standing_on_a_slope_of_one_in_one_half_the_root_of_two_of_the_weight_pulls() {
        let slippery = Vehicle {
            resistance: Resistance::Coastdown {
                a_n: 0.0,
                b_n_per_mps: 0.0,
                c_n_per_mps2: 0.0,
            },
            ..PICKUP
        };
        let found = slippery.steady(1.0, 1.0).unwrap();
        assert!((found.force_n - 1_900.0 * GRAVITY * 0.5_f64.sqrt()).abs() < 1e-6);
    }

    #[test]
    fn downhill_the_pack_gains_and_the_range_has_no_end() {
        let found = PICKUP.steady(15.0, -0.08).unwrap();
        assert!(found.pack_w < 0.0);
        assert_eq!(found.range_m(30.0), None);
        let none = Vehicle {
            regen_efficiency: 0.0,
            ..PICKUP
        };
        assert!((none.steady(15.0, -0.08).unwrap().pack_w - 300.0).abs() < 1e-9);
    }

    #[test]
    fn nonsense_is_refused() {
        let wrong = [
            Vehicle { mass_kg: 0.0, ..PICKUP },
            Vehicle {
                mass_factor: 0.9,
                ..PICKUP
            },
            Vehicle {
                drive_efficiency: 85.0,
                ..PICKUP
            },
            Vehicle {
                regen_efficiency: -0.1,
                ..PICKUP
            },
            Vehicle {
                aux_w: f64::NAN,
                ..PICKUP
            },
            Vehicle {
                resistance: Resistance::coastdown_us(-1.0, 0.0, 0.0),
                ..PICKUP
            },
        ];
        for vehicle in wrong {
            assert!(vehicle.steady(10.0, 0.0).is_err(), "{vehicle:?}");
        }
        assert!(PICKUP.steady(0.0, 0.0).is_err());
        assert!(PICKUP.steady(10.0, 6.0).is_err());
        assert!(PICKUP.curve(&[10.0, -1.0]).is_err());
    }

    proptest! {
        #[test]
        fn more_speed_or_grade_takes_more(speed in 1.0..35.0_f64, more in 0.1..5.0_f64, grade in 0.0..0.2_f64) {
            let at = PICKUP.steady(speed, grade).unwrap();
            prop_assert!(PICKUP.steady(speed + more, grade).unwrap().wheel_w > at.wheel_w);
            prop_assert!(PICKUP.steady(speed, grade + 0.01).unwrap().wheel_w > at.wheel_w);
            prop_assert!(at.drive_w > at.wheel_w);
        }

        #[test]
        fn miles_an_hour_and_metres_a_second_give_one_force(a in 0.0..80.0_f64, b in 0.0..1.0_f64, c in 0.0..0.1_f64, mph in 1.0..80.0_f64) {
            let vehicle = Vehicle { resistance: Resistance::coastdown_us(a, b, c), ..PICKUP };
            let newtons = vehicle.steady(mph * MPS_PER_MPH, 0.0).unwrap().force_n;
            let pounds = a + b * mph + c * mph * mph;
            prop_assert!((newtons - pounds * N_PER_LBF).abs() < 1e-6);
        }
    }
}
