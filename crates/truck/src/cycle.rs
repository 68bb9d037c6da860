//! The energy of a drive, second by second, and the range that follows.

use crate::check::{finite, not_negative, positive, within};
use crate::road::{Slope, Vehicle};
use crate::units::{J_PER_WH, wh_per_mile};
use crate::{Source, Sourced, TruckError};

/// Speeds at whole seconds.
#[derive(Clone, Debug, PartialEq)]
pub struct Cycle {
    speeds_mps: Vec<f64>,
}

impl Cycle {
    /// A drive with a speed for every whole second from 0.
    ///
    /// # Errors
    ///
    /// [`TruckError`] for fewer than two speeds, or one below zero or no number.
    pub fn new(speeds_mps: Vec<f64>) -> Result<Self, TruckError> {
        const LEAST: usize = 2;
        if speeds_mps.len() < LEAST {
            return Err(TruckError::TooFew {
                field: "speeds of the cycle".to_owned(),
                given: speeds_mps.len(),
                least: LEAST,
                mend: "give one for every second",
            });
        }
        for (second, speed) in speeds_mps.iter().enumerate() {
            not_negative(
                &format!("speed at second {second}"),
                *speed,
                "give it in metres a second",
            )?;
        }
        Ok(Self { speeds_mps })
    }

    /// The speeds, metres a second.
    pub fn speeds_mps(&self) -> &[f64] {
        &self.speeds_mps
    }

    /// How long it takes, seconds: one less than there are speeds.
    pub fn duration_s(&self) -> f64 {
        self.steps().map(|_| STEP_S).sum()
    }

    /// How far it goes, metres: trapezoids over the seconds.
    pub fn distance_m(&self) -> f64 {
        self.steps().map(|step| step.mean_mps * STEP_S).sum()
    }

    /// The highest speed, metres a second; serves the check values.
    pub fn highest_mps(&self) -> f64 {
        self.speeds_mps.iter().copied().fold(0.0, f64::max)
    }

    fn steps(&self) -> impl Iterator<Item = Step> + '_ {
        self.speeds_mps.windows(2).map(|pair| Step {
            mean_mps: f64::midpoint(pair[0], pair[1]),
            gain_mps2: (pair[1] - pair[0]) / STEP_S,
        })
    }
}

/// Seconds from one speed to the next.
const STEP_S: f64 = 1.0;

struct Step {
    mean_mps: f64,
    gain_mps2: f64,
}

/// What a truck takes for a drive. Energies in joules.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Energy {
    /// Metres.
    pub distance_m: f64,
    /// Seconds.
    pub duration_s: f64,
    /// Given to the wheels.
    pub wheel_out_j: f64,
    /// Taken from the wheels by braking; zero or below.
    pub wheel_back_j: f64,
    /// Steady draw.
    pub aux_j: f64,
    /// From the pack: `out / efficiency + regeneration x back + aux`.
    pub pack_j: f64,
    /// The most power at the wheels, watts.
    pub peak_wheel_w: f64,
    /// The most power from the pack, watts.
    pub peak_pack_w: f64,
    /// The most power into the pack, watts; zero or below.
    pub peak_back_w: f64,
}

impl Energy {
    /// From the pack, watt-hours a mile.
    pub fn wh_per_mile(&self) -> f64 {
        wh_per_mile(self.pack_j, self.distance_m)
    }
}

/// What `vehicle` takes for `cycle`, on the level.
///
/// For each second: `v` the mean of the two speeds, `a` their difference; `F` the road load with `factor m a`;
/// `E+` the sum of `max(F v, 0)`, `E-` of `min(F v, 0)`; from the pack `E+ / efficiency + regeneration E- + aux t`.
/// Friction brakes, a full pack that takes nothing back, and motor limits are left out: where peak power is above the
/// drive's, the truck does not follow the cycle.
///
/// Source: mechanics; the stepping is that of the check values.
///
/// # Errors
///
/// [`TruckError`] for figures as [`Vehicle::checked`].
pub fn energy(vehicle: &Vehicle, cycle: &Cycle) -> Result<Energy, TruckError> {
    let vehicle = vehicle.checked()?;
    let mut sum = Energy::default();
    for step in cycle.steps() {
        let wheel_w = vehicle.force_n(step.mean_mps, step.gain_mps2, Slope::LEVEL) * step.mean_mps;
        let (out_w, back_w) = (wheel_w.max(0.0), wheel_w.min(0.0));
        let pack_w = out_w / vehicle.drive_efficiency + vehicle.regen_efficiency * back_w + vehicle.aux_w;
        sum.distance_m += step.mean_mps * STEP_S;
        sum.duration_s += STEP_S;
        sum.wheel_out_j += out_w * STEP_S;
        sum.wheel_back_j += back_w * STEP_S;
        sum.aux_j += vehicle.aux_w * STEP_S;
        sum.pack_j += pack_w * STEP_S;
        sum.peak_wheel_w = sum.peak_wheel_w.max(wheel_w);
        sum.peak_pack_w = sum.peak_pack_w.max(pack_w);
        sum.peak_back_w = sum.peak_back_w.min(pack_w);
    }
    Ok(sum)
}

/// What the range of label tests is multiplied by for everyday use.
pub const LABEL_FACTOR: Sourced<f64> = Sourced {
    value: 0.7,
    source: Source::memory("label practice for electric vehicles, 40 CFR 600.210-12; read on a secondary page only"),
};
/// The share of city driving in mixed use.
pub const CITY_SHARE: Sourced<f64> = Sourced {
    value: 0.55,
    source: Source::memory("combined label figures, 55 % city and 45 % highway"),
};

/// A range as a band, never one figure. Metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// As in everyday use: [`LABEL_FACTOR`] of the cycle.
    pub everyday_m: f64,
    /// As on the cycle: a warm day, a gentle driver, a new pack.
    pub cycle_m: f64,
}

impl Band {
    /// The band of a range on a cycle.
    pub fn of_cycle(cycle_m: f64) -> Self {
        Self::with_factor(cycle_m, LABEL_FACTOR.value)
    }

    fn with_factor(cycle_m: f64, factor: f64) -> Self {
        Self {
            everyday_m: cycle_m * factor,
            cycle_m,
        }
    }
}

/// How far a pack goes on a cycle, repeated: `usable (1 - reserve) / energy x distance`.
///
/// - `usable_kwh`: what the pack gives within its window of charge at its age, never the figure on its plate.
/// - `reserve`: share of it kept back, 0 to below 1.
///
/// # Errors
///
/// [`TruckError`] for a usable energy not above zero, a reserve outside its range, or a drive that takes no energy.
pub fn range(usable_kwh: f64, reserve: f64, energy: &Energy) -> Result<Band, TruckError> {
    const MEND: &str = "keep back less than all";
    let usable_kwh = positive(
        "usable energy",
        usable_kwh,
        "enter what the pack gives within its window",
    )?;
    within("reserve", reserve, [0.0, 1.0], MEND)?;
    let kept = positive("what the reserve leaves", 1.0 - reserve, MEND)?;
    let taken_j = positive("energy of the cycle", energy.pack_j, "choose a cycle that takes energy")?;
    let usable_j = usable_kwh * 1_000.0 * J_PER_WH;
    Ok(Band::of_cycle(usable_j * kept / taken_j * energy.distance_m))
}

/// City and highway range as a label mixes them, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Label {
    /// City.
    pub city_m: f64,
    /// Highway.
    pub highway_m: f64,
    /// Both.
    pub combined_m: f64,
}

/// The label-style range from two ranges on cycles: `factor x (share city + (1 - share) highway)`.
///
/// Usual values: [`LABEL_FACTOR`], [`CITY_SHARE`].
///
/// # Errors
///
/// [`TruckError`] for a range below zero, or a factor or share outside 0 to 1.
pub fn label(city_m: f64, highway_m: f64, factor: f64, city_share: f64) -> Result<Label, TruckError> {
    const MEND: &str = "enter a share";
    not_negative("city range", city_m, "enter zero or more")?;
    not_negative("highway range", highway_m, "enter zero or more")?;
    within("factor for everyday use", factor, [0.0, 1.0], MEND)?;
    within("share of city driving", city_share, [0.0, 1.0], MEND)?;
    let [city_m, highway_m] = [city_m * factor, highway_m * factor];
    Ok(Label {
        city_m,
        highway_m,
        combined_m: city_share * city_m + (1.0 - city_share) * highway_m,
    })
}

/// Watt-hours a mile of mixed driving, by miles: `share city + (1 - share) highway`.
///
/// Mixing energy for each mile, not ranges, is what an odometer does.
///
/// # Errors
///
/// [`TruckError`] for a share outside 0 to 1, or drives of no length.
pub fn mixed_wh_per_mile(city: &Energy, highway: &Energy, city_share: f64) -> Result<f64, TruckError> {
    within("share of city driving", city_share, [0.0, 1.0], "enter a share")?;
    for energy in [city, highway] {
        positive("distance of the cycle", energy.distance_m, "choose a cycle that moves")?;
        finite("energy of the cycle", energy.pack_j)?;
    }
    Ok(city_share * city.wh_per_mile() + (1.0 - city_share) * highway.wh_per_mile())
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::cycles::Known;
    use crate::road::Resistance;
    use crate::road::tests::PICKUP;

    #[test]
    fn speeding_up_without_friction_takes_the_kinetic_energy() {
        let free = Vehicle {
            resistance: Resistance::Coastdown {
                a_n: 0.0,
                b_n_per_mps: 0.0,
                c_n_per_mps2: 0.0,
            },
            aux_w: 0.0,
            ..PICKUP
        };
        let cycle = Cycle::new(vec![0.0, 4.0, 10.0, 3.0, 0.0]).unwrap();
        let found = energy(&free, &cycle).unwrap();
        let kinetic = 0.5 * 1.05 * 1_900.0 * 100.0;
        assert!((found.wheel_out_j - kinetic).abs() < 1e-6);
        assert!((found.wheel_back_j + kinetic).abs() < 1e-6);
        assert!((found.pack_j - kinetic / 0.85 + 0.5 * kinetic).abs() < 1e-6);
    }

    #[test]
    fn nonsense_is_refused() {
        assert!(Cycle::new(vec![1.0]).is_err());
        assert!(Cycle::new(vec![0.0, -1.0]).is_err());
        let standing = energy(&Vehicle { aux_w: 0.0, ..PICKUP }, &Cycle::new(vec![0.0, 0.0]).unwrap()).unwrap();
        assert!(range(30.0, 0.0, &standing).is_err());
        let city = energy(&PICKUP, Known::Udds.cycle()).unwrap();
        assert!(range(30.0, 1.0, &city).is_err());
        assert!(range(0.0, 0.0, &city).is_err());
        assert!(label(1.0, 1.0, 0.7, 1.2).is_err());
        assert!(mixed_wh_per_mile(&city, &standing, 0.5).is_err());
    }

    fn drive() -> impl Strategy<Value = Vec<f64>> {
        prop::collection::vec(0.0..30.0_f64, 1..60).prop_map(|mut speeds| {
            speeds.insert(0, 0.0);
            speeds.push(0.0);
            speeds
        })
    }

    fn range_of(vehicle: &Vehicle, cycle: &Cycle) -> f64 {
        range(30.0, 0.1, &energy(vehicle, cycle).unwrap()).unwrap().cycle_m
    }

    proptest! {
        #[test]
        fn no_drive_from_rest_to_rest_gains_energy(speeds in drive(), regen_efficiency in 0.0..=1.0_f64) {
            let found = energy(&Vehicle { regen_efficiency, ..PICKUP }, &Cycle::new(speeds).unwrap()).unwrap();
            prop_assert!(found.pack_j >= 0.0);
            prop_assert!(found.wheel_back_j <= 0.0 && found.wheel_out_j >= 0.0);
        }

        #[test]
        fn range_falls_with_mass_drag_and_heating(more in 1.01..1.5_f64, which in 0..3_usize) {
            let cycle = [Known::Udds, Known::Hwfet, Known::Us06][which].cycle();
            let at = range_of(&PICKUP, cycle);
            let heavier = Vehicle { mass_kg: PICKUP.mass_kg * more, ..PICKUP };
            let Resistance::Formula { rolling, drag_area_m2, air_kg_per_m3 } = PICKUP.resistance else { unreachable!() };
            let blunter = Vehicle {
                resistance: Resistance::Formula { rolling, drag_area_m2: drag_area_m2 * more, air_kg_per_m3 },
                ..PICKUP
            };
            let warmer = Vehicle { aux_w: PICKUP.aux_w * more, ..PICKUP };
            for worse in [heavier, blunter, warmer] {
                prop_assert!(range_of(&worse, cycle) < at);
            }
            let more_regen = Vehicle { regen_efficiency: 0.5 * more, ..PICKUP };
            prop_assert!(range_of(&more_regen, cycle) > at);
        }

        #[test]
        fn a_steady_drive_takes_what_the_steady_speed_does(speed in 1.0..35.0_f64, seconds in 2..100_usize) {
            let cycle = Cycle::new(vec![speed; seconds + 1]).unwrap();
            let [drive, steady] = [energy(&PICKUP, &cycle).unwrap().wh_per_mile(), PICKUP.steady(speed, 0.0).unwrap().wh_per_mile()];
            prop_assert!((drive - steady).abs() < 1e-6 * steady);
        }

        #[test]
        fn the_everyday_end_of_the_band_is_the_lower(kwh in 1.0..100.0_f64) {
            let band = range(kwh, 0.0, &energy(&PICKUP, Known::Udds.cycle()).unwrap()).unwrap();
            prop_assert!(band.everyday_m < band.cycle_m);
        }
    }
}
