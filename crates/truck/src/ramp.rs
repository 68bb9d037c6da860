//! What touches the ground: approach, breakover, departure, and how far the truck sinks under its load.

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

/// A point of the underside and the angle at which it touches, radians; `None` when it never does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Touch {
    /// Which of the points.
    pub point: usize,
    /// The angle of the ramp, or of the crest.
    pub angle_rad: Option<f64>,
}

/// What the underside allows.
#[derive(Clone, Debug, PartialEq)]
pub struct Angles {
    /// Of the points ahead of the front axle.
    pub approach: Vec<Touch>,
    /// Of the points between the axles.
    pub breakover: Vec<Touch>,
    /// Of the points behind the rear axle.
    pub departure: Vec<Touch>,
    /// The height of the lowest point above level ground, metres; `None` without points.
    pub running_clearance_m: Option<f64>,
}

impl Angles {
    /// The least approach angle, radians, and its point; `None` when nothing ahead of the axle touches.
    pub fn least_approach(&self) -> Option<(usize, f64)> {
        least(&self.approach)
    }

    /// The least breakover angle, radians, and its point: often not the lowest one.
    pub fn least_breakover(&self) -> Option<(usize, f64)> {
        least(&self.breakover)
    }

    /// The least departure angle, radians, and its point.
    pub fn least_departure(&self) -> Option<(usize, f64)> {
        least(&self.departure)
    }
}

fn least(touches: &[Touch]) -> Option<(usize, f64)> {
    let angles = touches.iter().filter_map(|touch| Some((touch.point, touch.angle_rad?)));
    angles.min_by(|a, b| a.1.total_cmp(&b.1))
}

/// The angles of an underside told by `points`, in any order: each counts for where it is.
///
/// The ramp is the line through the point that touches the tyre's circle from below; with `d` the distance along, `h` the
/// height of the point and `r` the loaded radius: `angle = atan2(h - r, d) + asin(r / hypot(d, h - r))`. Between the
/// axles the angle of a crest is the sum of the two. A point within the circle of the tyre, seen from the side, or
/// over it is passed by every ramp that the tyre is on: it never touches.
///
/// Tyres are circles and do not squash further; springs do not move. On a real ramp both do: see [`settle`].
///
/// Source: definitions of 49 CFR 523.2; tangent to a circle.
///
/// # Errors
///
/// [`TruckError`] for a figure that is no number, a point below the ground, a wheelbase or radius not above zero.
pub fn angles(wheels: Wheels, points: &[Point]) -> Result<Angles, TruckError> {
    let wheels = checked(wheels)?;
    let mut found = Angles {
        approach: Vec::new(),
        breakover: Vec::new(),
        departure: Vec::new(),
        running_clearance_m: None,
    };
    for (index, point) in points.iter().enumerate() {
        let x_m = finite(&format!("x of point {}", index + 1), point.x_m)?;
        let z_m = not_negative(
            &format!("height of point {}", index + 1),
            point.z_m,
            "measure it from the ground",
        )
        .map_err(in_m)?;
        let touch = |angle_rad| Touch {
            point: index,
            angle_rad,
        };
        let front = tangent_rad(x_m.abs(), z_m, wheels.front_radius_m);
        let rear = tangent_rad((x_m - wheels.wheelbase_m).abs(), z_m, wheels.rear_radius_m);
        if x_m < 0.0 {
            found.approach.push(touch(front));
        } else if x_m > wheels.wheelbase_m {
            found.departure.push(touch(rear));
        } else {
            found
                .breakover
                .push(touch(front.zip(rear).map(|(front, rear)| front + rear)));
        }
        found.running_clearance_m = Some(found.running_clearance_m.map_or(z_m, |least| least.min(z_m)));
    }
    Ok(found)
}

/// The angle of the line through a point that touches the circle; `None` for a point within it, and for one over it, as the
/// line would lean back beyond plumb: no ramp does.
fn tangent_rad(along_m: f64, height_m: f64, radius_m: f64) -> Option<f64> {
    let up_m = height_m - radius_m;
    let away_m = along_m.hypot(up_m);
    let leans = |angle_rad: &f64| *angle_rad < std::f64::consts::FRAC_PI_2;
    let outside = (away_m >= radius_m).then(|| up_m.atan2(along_m) + (radius_m / away_m).asin());
    outside.filter(leans)
}

/// The short form of breakover, radians: `2 atan(2 clearance / wheelbase)`. It leaves out the curve of the tyres and
/// reads low.
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
        angles(WHEELS, &[Point { x_m, z_m }]).unwrap()
    }

    #[test]
    fn a_point_counts_for_where_it_is() {
        let points = [-0.8, 1.5, 3.9].map(|x_m| Point { x_m, z_m: 0.3 });
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
        let points = [Point { x_m: 0.5, z_m: 0.20 }, Point { x_m: 1.5, z_m: 0.21 }];
        let found = angles(WHEELS, &points).unwrap();
        assert_eq!(found.least_breakover().unwrap().0, 1);
    }

    #[test]
    fn nonsense_is_refused() {
        assert!(angles(WHEELS, &[Point { x_m: 1.0, z_m: -0.01 }]).is_err());
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
            let Some((_, angle)) = one(-ahead, z_m).least_approach() else { return Ok(()); };
            // Distance of the hub from the line through (ahead, z) that falls towards the tyre at that angle.
            let off = (ahead * angle.sin() - (z_m - WHEELS.front_radius_m) * angle.cos()).abs();
            prop_assert!((off - WHEELS.front_radius_m).abs() < 1e-9);
        }

        #[test]
        fn the_short_form_reads_low(z_m in 0.05..0.3_f64) {
            let (_, exact) = one(1.5, z_m).least_breakover().unwrap();
            prop_assert!(simple_breakover_rad(z_m, 3.0).unwrap() <= exact);
        }

        #[test]
        fn higher_is_never_worse(x_m in -1.2..4.2_f64, z_m in 0.02..0.4_f64) {
            let all = |angles: &Angles| {
                [angles.least_approach(), angles.least_breakover(), angles.least_departure()]
                    .map(|least| least.map_or(f64::INFINITY, |(_, angle)| angle))
            };
            let (low, high) = (all(&one(x_m, z_m)), all(&one(x_m, z_m + 0.01)));
            for (low, high) in low.into_iter().zip(high) {
                prop_assert!(high >= low);
            }
        }
    }
}
