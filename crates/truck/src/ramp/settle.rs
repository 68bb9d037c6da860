//! How far springs and tyres give under a changed load. It can cost more ground clearance than a box does.

use super::{Point, Wheels};
use crate::TruckError;
use crate::check::{finite, in_n_per_m, positive};
use crate::mass::axle::AxleLoads;
use crate::units::GRAVITY;

/// How stiff one axle's springs and tyres are, both sides together, newtons a metre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stiffness {
    /// Of the springs, as they work at the axle.
    pub springs_n_per_m: f64,
    /// Of the tyres; `None` leaves their give out.
    pub tyres_n_per_m: Option<f64>,
}

/// The stiffness of springs from two ride heights at two loads of the axle: `k = g dm / dh`.
///
/// - `lighter`, `heavier`: kilograms on the axle and the height of a mark on the frame, metres: above the hub for the springs
///   alone, above the ground for springs and tyres together.
///
/// Source: Hooke's law.
///
/// # Errors
///
/// [`TruckError`] when the heavier is not heavier, or does not stand lower.
pub fn springs_from_heights(lighter: (f64, f64), heavier: (f64, f64)) -> Result<f64, TruckError> {
    const MEND: &str = "measure the height of the same mark, without load and with";
    let more_kg = positive("load added to the axle", heavier.0 - lighter.0, MEND)?;
    let drop_m = positive("drop under the added load", lighter.1 - heavier.1, MEND)?;
    Ok(GRAVITY * more_kg / drop_m)
}

impl Stiffness {
    /// Springs and tyres apart, from what both give together and what the tyres give alone: in a row, so that
    /// `1/together = 1/springs + 1/tyres`. Without the tyres' own, what both give counts as the springs'.
    ///
    /// - `which`: the axle, for the refusal.
    ///
    /// Source: springs in a row, Hooke's law.
    ///
    /// # Errors
    ///
    /// [`TruckError`] when the tyres alone give more than springs and tyres together, or a figure is not above zero.
    pub fn apart(which: &str, together_n_per_m: f64, tyres_n_per_m: Option<f64>) -> Result<Self, TruckError> {
        const MEND: &str = "the tyres alone give less than springs and tyres together: measure both anew";
        let together = positive(&format!("{which} springs"), together_n_per_m, MEND).map_err(in_n_per_m)?;
        let Some(tyres) = tyres_n_per_m else {
            return Ok(Self {
                springs_n_per_m: together,
                tyres_n_per_m: None,
            });
        };
        let stiffer = positive(
            &format!("{which} tyres alone, less springs with tyres"),
            tyres - together,
            MEND,
        )
        .map_err(in_n_per_m)?;
        Ok(Self {
            springs_n_per_m: together * tyres / stiffer,
            tyres_n_per_m: Some(tyres),
        })
    }
}

/// How far a truck sinks, metres; rising is below zero.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drop {
    /// The frame at the front axle: springs and tyres.
    pub front_m: f64,
    /// The frame at the rear axle.
    pub rear_m: f64,
    /// The front hub: tyres alone.
    pub front_hub_m: f64,
    /// The rear hub.
    pub rear_hub_m: f64,
}

/// How far a truck sinks when its axle loads change from `before` to `after`: `g dm / k` for springs and tyres.
///
/// Springs are taken as straight: leaf packs with helpers, and bump rubbers, get stiffer.
///
/// Source: Hooke's law.
///
/// # Errors
///
/// [`TruckError`] for a stiffness not above zero or a load that is no number.
pub fn drop(before: AxleLoads, after: AxleLoads, front: Stiffness, rear: Stiffness) -> Result<Drop, TruckError> {
    let [front_frame, front_hub_m] = give("front", after.front_kg - before.front_kg, front)?;
    let [rear_frame, rear_hub_m] = give("rear", after.rear_kg - before.rear_kg, rear)?;
    Ok(Drop {
        front_m: front_frame,
        rear_m: rear_frame,
        front_hub_m,
        rear_hub_m,
    })
}

/// Drop of the frame and of the hub.
fn give(which: &str, more_kg: f64, stiffness: Stiffness) -> Result<[f64; 2], TruckError> {
    const MEND: &str = "measure two ride heights";
    let force_n = GRAVITY * finite(&format!("change of the {which} axle load"), more_kg)?;
    let springs = positive(&format!("{which} springs"), stiffness.springs_n_per_m, MEND)?;
    let hub_m = match stiffness.tyres_n_per_m {
        Some(tyres) => force_n / positive(&format!("{which} tyres"), tyres, "leave it out if not known")?,
        None => 0.0,
    };
    Ok([hub_m + force_n / springs, hub_m])
}

impl Drop {
    /// How far the frame sinks at `x_m` behind the front axle: along a straight line through both axles, and beyond them.
    pub fn at_m(&self, x_m: f64, wheelbase_m: f64) -> f64 {
        self.front_m + (self.rear_m - self.front_m) * x_m / wheelbase_m
    }

    /// The wheels after it.
    #[must_use]
    pub fn wheels(&self, wheels: Wheels) -> Wheels {
        Wheels {
            front_radius_m: wheels.front_radius_m - self.front_hub_m,
            rear_radius_m: wheels.rear_radius_m - self.rear_hub_m,
            ..wheels
        }
    }

    /// Points of the underside after it. Those on an axle itself sink with its hub instead: leave them out.
    pub fn points(&self, points: &[Point], wheelbase_m: f64) -> Vec<Point> {
        let sunk = |point: &Point| Point {
            z_m: point.z_m - self.at_m(point.x_m, wheelbase_m),
            ..*point
        };
        points.iter().map(sunk).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SPRINGS: Stiffness = Stiffness {
        springs_n_per_m: 49_033.25,
        tyres_n_per_m: Some(490_332.5),
    };

    #[test]
    fn a_load_sinks_the_frame_by_springs_and_tyres_and_the_hub_by_tyres() {
        let before = AxleLoads {
            front_kg: 900.0,
            rear_kg: 600.0,
        };
        let after = AxleLoads {
            front_kg: 900.0,
            rear_kg: 800.0,
        };
        let found = drop(before, after, SPRINGS, SPRINGS).unwrap();
        assert!((found.rear_m - 0.044).abs() < 1e-9);
        assert!((found.rear_hub_m - 0.004).abs() < 1e-9);
        assert!(found.front_m.abs() < 1e-12);
        assert!((found.at_m(4.5, 3.0) - 0.066).abs() < 1e-9);
        let point = Point { x_m: 1.5, z_m: 0.3 };
        assert!((found.points(&[point], 3.0)[0].z_m - 0.278).abs() < 1e-9);
    }

    /// 100 and 900 N/mm in a row are 90 N/mm: 1/100 + 1/900 = 10/900.
    #[test]
    fn springs_and_tyres_are_told_apart() {
        let found = Stiffness::apart("front", 90_000.0, Some(900_000.0)).unwrap();
        assert!((found.springs_n_per_m - 100_000.0).abs() < 1e-6);
        assert_eq!(found.tyres_n_per_m, Some(900_000.0));
        let springs_alone = Stiffness::apart("front", 90_000.0, None).unwrap();
        assert!((springs_alone.springs_n_per_m - 90_000.0).abs() < 1e-6);
        let error = Stiffness::apart("front", 90_000.0, Some(80_000.0)).unwrap_err();
        assert!(error.to_string().contains("measure both anew"), "{error}");
    }

    #[test]
    fn two_heights_give_the_stiffness() {
        let springs = springs_from_heights((600.0, 0.30), (800.0, 0.26)).unwrap();
        assert!((springs - 49_033.25).abs() < 1e-6);
        assert!(springs_from_heights((600.0, 0.26), (800.0, 0.30)).is_err());
        assert!(springs_from_heights((600.0, 0.30), (600.0, 0.26)).is_err());
    }

    #[test]
    fn nonsense_is_refused() {
        let none = Stiffness {
            springs_n_per_m: 0.0,
            tyres_n_per_m: None,
        };
        assert!(drop(AxleLoads::default(), AxleLoads::default(), none, SPRINGS).is_err());
    }
}
