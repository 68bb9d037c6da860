//! What touches the ground: approach, breakover, departure, and how far the truck sinks under its load.

mod crest;
pub mod settle;

use crate::TruckError;
use crate::check::{finite, in_m, not_negative, positive, within};

/// The wheels seen from the side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wheels {
    /// From hub to hub, metres.
    pub wheelbase_m: f64,
    /// From the ground to the front hub, tyre loaded, metres.
    pub front_radius_m: f64,
    /// From the ground to the rear hub, tyre loaded, metres.
    pub rear_radius_m: f64,
}

/// A point of the underside, seen from the side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Behind the front axle, metres; negative ahead of it.
    pub x_m: f64,
    /// Above the ground, metres.
    pub z_m: f64,
}

/// A flat of the underside, seen from the side: a straight line. One that is as long as nothing is a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flat {
    /// Its front end.
    pub from: Point,
    /// Its rear end: not ahead of the front one.
    pub to: Point,
}

impl From<Point> for Flat {
    fn from(point: Point) -> Self {
        Self { from: point, to: point }
    }
}

/// Where a flat of the underside touches first, and at which angle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Touch {
    /// Which of the flats.
    pub flat: usize,
    /// Its point that touches first, and the angle of the ramp or of the crest, radians; `None` when it never does.
    pub first: Option<(Point, f64)>,
}

/// What the underside allows.
#[derive(Clone, Debug, PartialEq)]
pub struct Angles {
    /// Of what is ahead of the front axle.
    pub approach: Vec<Touch>,
    /// Of what is between the axles.
    pub breakover: Vec<Touch>,
    /// Of what is behind the rear axle.
    pub departure: Vec<Touch>,
    /// The height of the lowest point above level ground, metres; `None` without flats.
    pub running_clearance_m: Option<f64>,
}

/// The least angle, radians, with the flat and the point of it that touches.
pub type Least = (usize, Point, f64);

impl Angles {
    /// The least approach angle; `None` when nothing ahead of the axle touches.
    pub fn least_approach(&self) -> Option<Least> {
        least(&self.approach)
    }

    /// The least breakover angle: its point is often not the lowest one.
    pub fn least_breakover(&self) -> Option<Least> {
        least(&self.breakover)
    }

    /// The least departure angle.
    pub fn least_departure(&self) -> Option<Least> {
        least(&self.departure)
    }
}

fn least(touches: &[Touch]) -> Option<Least> {
    let angles = touches.iter().filter_map(|touch| {
        let (point, angle_rad) = touch.first?;
        Some((touch.flat, point, angle_rad))
    });
    angles.min_by(|a, b| a.2.total_cmp(&b.2))
}

/// The angles of an underside told by `flats`, in any order: each counts for where it is, in parts where it passes an axle.
///
/// The ramp is the line through a point that touches the tyre's circle from below; with `d` the distance along, `h` the
/// height of the point and `r` the loaded radius: `angle = atan2(h - r, d) + asin(r / hypot(d, h - r))`. Between the
/// axles the angle of a crest is the sum of the two. A point within the circle of the tyre, seen from the side, or
/// over it is passed by every ramp that the tyre is on: it never touches.
///
/// What counts of a flat is its point with the least angle. A ramp is a straight line, so ahead of the front axle and behind the
/// rear one an end touches first. A crest comes up between the ends as well: under a level flat it does so at the halfway of the
/// axles, or as near to that as the flat reaches, when the wheels are equal.
///
/// Tyres are circles and do not squash further; springs do not move. On a real ramp both do: see [`settle`].
///
/// Source: definitions of 49 CFR 523.2; tangent to a circle.
///
/// # Errors
///
/// [`TruckError`] for a figure that is no number, a point below the ground, a flat whose ends change places, a wheelbase or
/// radius not above zero.
pub fn angles(wheels: Wheels, flats: &[Flat]) -> Result<Angles, TruckError> {
    let wheels = checked(wheels)?;
    let mut found = Angles {
        approach: Vec::new(),
        breakover: Vec::new(),
        departure: Vec::new(),
        running_clearance_m: None,
    };
    for (index, flat) in flats.iter().enumerate() {
        let flat = checked_flat(index, *flat)?;
        let touch = |first| Touch { flat: index, first };
        let [from_m, to_m] = [flat.from.x_m, flat.to.x_m];
        if from_m < 0.0 {
            found.approach.push(touch(crest::ahead(wheels, flat)));
        }
        if to_m >= 0.0 && from_m <= wheels.wheelbase_m {
            found.breakover.push(touch(crest::between(wheels, flat)));
        }
        if to_m > wheels.wheelbase_m {
            found.departure.push(touch(crest::behind(wheels, flat)));
        }
        let z_m = flat.from.z_m.min(flat.to.z_m);
        found.running_clearance_m = Some(found.running_clearance_m.map_or(z_m, |least| least.min(z_m)));
    }
    Ok(found)
}

fn checked_flat(index: usize, flat: Flat) -> Result<Flat, TruckError> {
    let which = index + 1;
    for point in [flat.from, flat.to] {
        finite(&format!("x of point {which}"), point.x_m)?;
        not_negative(
            &format!("height of point {which}"),
            point.z_m,
            "measure it from the ground",
        )
        .map_err(in_m)?;
    }
    not_negative(
        &format!("length of flat {which}"),
        flat.to.x_m - flat.from.x_m,
        "its rear end is not ahead of its front end",
    )
    .map_err(in_m)?;
    Ok(flat)
}

/// The short form of breakover, radians: `2 atan(2 clearance / wheelbase)`. It leaves out the curve of the tyres and
/// reads low, and serves the check values alone.
///
/// Source: public calculator pages; plain geometry of a wedge in the middle.
///
/// # Errors
///
/// [`TruckError`] for a clearance below zero or a wheelbase not above.
pub fn simple_breakover_rad(clearance_m: f64, wheelbase_m: f64) -> Result<f64, TruckError> {
    let clearance_m = not_negative("clearance", clearance_m, "measure it from the ground").map_err(in_m)?;
    let wheelbase_m = positive("wheelbase", wheelbase_m, "measure it from hub to hub").map_err(in_m)?;
    Ok(2.0 * (2.0 * clearance_m / wheelbase_m).atan())
}

fn checked(wheels: Wheels) -> Result<Wheels, TruckError> {
    const MEND: &str = "measure from the ground to the hub, less than half the wheelbase";
    let wheelbase_m = positive("wheelbase", wheels.wheelbase_m, "measure it from hub to hub").map_err(in_m)?;
    for (field, radius_m) in [
        ("loaded radius in front", wheels.front_radius_m),
        ("loaded radius behind", wheels.rear_radius_m),
    ] {
        positive(field, radius_m, MEND).map_err(in_m)?;
        within(field, radius_m, [0.0, wheelbase_m / 2.0], MEND).map_err(in_m)?;
    }
    Ok(wheels)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const WHEELS: Wheels = Wheels {
        wheelbase_m: 3.0,
        front_radius_m: 0.33,
        rear_radius_m: 0.33,
    };

    fn one(x_m: f64, z_m: f64) -> Angles {
        angles(WHEELS, &[Point { x_m, z_m }.into()]).unwrap()
    }

    #[test]
    fn a_point_counts_for_where_it_is() {
        let points = [-0.8, 1.5, 3.9].map(|x_m| Point { x_m, z_m: 0.3 }.into());
        let found = angles(WHEELS, &points).unwrap();
        assert_eq!(found.least_approach().unwrap().0, 0);
        assert_eq!(found.least_breakover().unwrap().0, 1);
        assert_eq!(found.least_departure().unwrap().0, 2);
        assert_eq!(found.running_clearance_m, Some(0.3));
    }

    #[test]
    fn a_point_behind_the_tyre_never_touches() {
        assert_eq!(one(-0.1, 0.3).least_approach(), None);
        assert_eq!(one(-0.1, 0.3).approach.len(), 1);
    }

    #[test]
    fn the_governing_point_need_not_be_the_lowest() {
        let points = [[0.5, 0.20], [1.5, 0.21]].map(|[x_m, z_m]| Point { x_m, z_m }.into());
        let found = angles(WHEELS, &points).unwrap();
        assert_eq!(found.least_breakover().unwrap().0, 1);
    }

    #[test]
    fn nonsense_is_refused() {
        assert!(angles(WHEELS, &[Point { x_m: 1.0, z_m: -0.01 }.into()]).is_err());
        let flat = Wheels {
            rear_radius_m: 0.0,
            ..WHEELS
        };
        assert!(angles(flat, &[]).is_err());
        assert!(simple_breakover_rad(0.2, 0.0).is_err());
    }

    proptest! {
        #[test]
        fn the_ramp_goes_through_the_point_and_just_touches_the_tyre(ahead in 0.4..1.5_f64, z_m in 0.0..0.6_f64) {
            let Some((.., angle)) = one(-ahead, z_m).least_approach() else { return Ok(()); };
            // Distance of the hub from the line through (ahead, z) that falls towards the tyre at that angle.
            let off = (ahead * angle.sin() - (z_m - WHEELS.front_radius_m) * angle.cos()).abs();
            prop_assert!((off - WHEELS.front_radius_m).abs() < 1e-9);
        }

        #[test]
        fn the_short_form_reads_low(z_m in 0.05..0.3_f64) {
            let (.., exact) = one(1.5, z_m).least_breakover().unwrap();
            prop_assert!(simple_breakover_rad(z_m, 3.0).unwrap() <= exact);
        }

        #[test]
        fn higher_is_never_worse(x_m in -1.2..4.2_f64, z_m in 0.02..0.4_f64) {
            let all = |angles: &Angles| {
                [angles.least_approach(), angles.least_breakover(), angles.least_departure()]
                    .map(|least| least.map_or(f64::INFINITY, |(.., angle)| angle))
            };
            let (low, high) = (all(&one(x_m, z_m)), all(&one(x_m, z_m + 0.01)));
            for (low, high) in low.into_iter().zip(high) {
                prop_assert!(high >= low);
            }
        }
    }
}
