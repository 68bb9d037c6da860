//! The point of a flat underside that touches first.

use std::f64::consts::FRAC_PI_2;

use super::{Flat, Point, Wheels};

/// One wheel, looked at along its axle.
#[derive(Clone, Copy)]
struct Tyre {
    /// Where its hub is, behind the front axle, metres.
    hub_m: f64,
    radius_m: f64,
    /// `1.0` for the ground behind its hub, `-1.0` for that ahead of it.
    side: f64,
}

impl Tyre {
    fn front(wheels: Wheels, side: f64) -> Self {
        Self {
            hub_m: 0.0,
            radius_m: wheels.front_radius_m,
            side,
        }
    }

    fn rear(wheels: Wheels, side: f64) -> Self {
        Self {
            hub_m: wheels.wheelbase_m,
            radius_m: wheels.rear_radius_m,
            side,
        }
    }

    /// The angle of the line through a point that touches the circle; `None` for a point within it, and for one over it, as
    /// the line would lean back beyond plumb: no ramp does.
    fn angle_rad(self, point: Point) -> Option<f64> {
        let along_m = (point.x_m - self.hub_m) * self.side;
        let up_m = point.z_m - self.radius_m;
        let away_m = along_m.hypot(up_m);
        let outside = (away_m >= self.radius_m).then(|| up_m.atan2(along_m) + (self.radius_m / away_m).asin());
        outside.filter(|angle_rad| *angle_rad < FRAC_PI_2)
    }

    /// How fast that angle grows towards the rear along a line that rises by `slope`, radians a metre: the derivative of
    /// `atan2(h - r, d) + asin(r / hypot(d, h - r))`. At the circle itself it is without bound.
    fn rate(self, point: Point, slope: f64) -> f64 {
        let along_m = (point.x_m - self.hub_m) * self.side;
        let up_m = point.z_m - self.radius_m;
        let away_squared = along_m.powi(2) + up_m.powi(2);
        let tangent_m = (away_squared - self.radius_m.powi(2)).max(0.0).sqrt();
        let by_along = -(up_m * tangent_m + self.radius_m * along_m) * self.side;
        let by_up = along_m * tangent_m - self.radius_m * up_m;
        (by_along + by_up * slope) / (away_squared * tangent_m)
    }
}

/// A flat as a line over the ground.
#[derive(Clone, Copy)]
struct Line {
    from: Point,
    slope: f64,
}

impl Line {
    fn of(flat: Flat) -> Self {
        let along_m = flat.to.x_m - flat.from.x_m;
        let slope = if along_m > 0.0 {
            (flat.to.z_m - flat.from.z_m) / along_m
        } else {
            0.0
        };
        Self { from: flat.from, slope }
    }

    fn at(self, x_m: f64) -> Point {
        Point {
            x_m,
            z_m: self.from.z_m + (x_m - self.from.x_m) * self.slope,
        }
    }
}

/// Where the part ahead of the front axle touches first.
pub(super) fn ahead(wheels: Wheels, flat: Flat) -> Option<(Point, f64)> {
    let tyre = Tyre::front(wheels, -1.0);
    on_ramp(tyre, Line::of(flat), flat.from.x_m, flat.to.x_m.min(0.0))
}

/// Where the part behind the rear axle touches first.
pub(super) fn behind(wheels: Wheels, flat: Flat) -> Option<(Point, f64)> {
    let tyre = Tyre::rear(wheels, 1.0);
    on_ramp(tyre, Line::of(flat), flat.to.x_m, flat.from.x_m.max(wheels.wheelbase_m))
}

/// A ramp is a straight line from below the tyre: the points under it are those on one side of a line, so the least along another
/// line is at one of its ends. These are the far end of the flat and where it comes up to the tyre.
fn on_ramp(tyre: Tyre, line: Line, far_m: f64, near_m: f64) -> Option<(Point, f64)> {
    let angle_rad = |x_m: f64| tyre.angle_rad(line.at(x_m));
    let near_m = touching_from(|x_m| angle_rad(x_m).is_some(), near_m, far_m)?;
    let ends = [far_m, near_m]
        .into_iter()
        .filter_map(|x_m| Some((line.at(x_m), angle_rad(x_m)?)));
    ends.min_by(|a, b| a.1.total_cmp(&b.1))
}

/// Where the part between the axles touches a crest first.
///
/// Along a level flat the angle to either wheel falls with the distance from it and is convex in it, `d = (r + (h - r) cos
/// angle) / sin angle` being so; their sum then has one least point. With the frame out of level by what springs give it still
/// falls and rises once. That point is bracketed by the sign of the derivative and halved down to a millionth of a millimetre.
pub(super) fn between(wheels: Wheels, flat: Flat) -> Option<(Point, f64)> {
    const HALVINGS: usize = 32;
    let [front, rear] = [Tyre::front(wheels, 1.0), Tyre::rear(wheels, -1.0)];
    let line = Line::of(flat);
    let [from_m, to_m] = [flat.from.x_m.max(0.0), flat.to.x_m.min(wheels.wheelbase_m)];
    let touches = |tyre: Tyre| move |x_m: f64| tyre.angle_rad(line.at(x_m)).is_some();
    let mut low_m = touching_from(touches(front), from_m, to_m)?;
    let mut high_m = touching_from(touches(rear), to_m, from_m)?;
    if low_m > high_m {
        return None;
    }
    let falls = |x_m: f64| front.rate(line.at(x_m), line.slope) + rear.rate(line.at(x_m), line.slope) < 0.0;
    let at_m = if !falls(low_m) {
        low_m
    } else if falls(high_m) {
        high_m
    } else {
        for _ in 0..HALVINGS {
            let middle_m = f64::midpoint(low_m, high_m);
            if falls(middle_m) {
                low_m = middle_m;
            } else {
                high_m = middle_m;
            }
        }
        f64::midpoint(low_m, high_m)
    };
    let at = line.at(at_m);
    Some((at, front.angle_rad(at)? + rear.angle_rad(at)?))
}

/// Where a flat begins to touch, going away from a wheel: from `near_m` on where it does so there already. What a wheel shields
/// is all in one piece, the circle and what is over it. `None` when not even `far_m` touches.
fn touching_from(touches: impl Fn(f64) -> bool, near_m: f64, far_m: f64) -> Option<f64> {
    const HALVINGS: usize = 48;
    if touches(near_m) {
        return Some(near_m);
    }
    if !touches(far_m) {
        return None;
    }
    let [mut shielded_m, mut touching_m] = [near_m, far_m];
    for _ in 0..HALVINGS {
        let middle_m = f64::midpoint(shielded_m, touching_m);
        if touches(middle_m) {
            touching_m = middle_m;
        } else {
            shielded_m = middle_m;
        }
    }
    Some(touching_m)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rstest::rstest;

    use super::super::{Angles, angles};
    use super::*;

    const WHEELS: Wheels = Wheels {
        wheelbase_m: 3.0,
        front_radius_m: 0.35,
        rear_radius_m: 0.35,
    };

    fn flat(x_m: [f64; 2], z_m: [f64; 2]) -> Flat {
        let [from, to] = [0, 1].map(|end| Point {
            x_m: x_m[end],
            z_m: z_m[end],
        });
        Flat { from, to }
    }

    fn of(wheels: Wheels, flat: Flat) -> Angles {
        angles(wheels, &[flat]).unwrap()
    }

    /// Halfway under a level flat, by hand: 2 (atan((h - r) / (L/2)) + asin(r / hypot(L/2, h - r))), L 3 m, r 350 mm. For
    /// h 249.5 mm: atan(-0.1005 / 1.5) = -3.8331, asin(0.35 / 1.503363) = 13.4626 degrees; twice their sum is 19.2591. Its ends
    /// alone would give 27.9762 in front and 26.2357 behind. A flat that ends short of the halfway, 1.2 m from one axle and
    /// 1.8 m from the other: -4.7873 + 16.8968 - 3.1957 + 11.1946 = 20.1084.
    #[rstest]
    #[case::across_the_halfway([0.6925, 2.2475], 0.2495, 1.5, 19.2591)]
    #[case::all_ahead_of_it([0.6925, 1.2], 0.2495, 1.2, 20.1084)]
    #[case::all_behind_it([1.8, 2.2475], 0.2495, 1.8, 20.1084)]
    #[case::from_tyre_to_tyre([0.0, 3.0], 0.2495, 1.5, 19.2591)]
    fn a_crest_touches_a_level_flat_at_the_halfway(
        #[case] x_m: [f64; 2],
        #[case] z_m: f64,
        #[case] at_m: f64,
        #[case] degrees: f64,
    ) {
        let (_, at, angle_rad) = of(WHEELS, flat(x_m, [z_m, z_m])).least_breakover().unwrap();
        assert!((at.x_m - at_m).abs() < 1e-6, "{at:?}");
        assert!(
            (angle_rad.to_degrees() - degrees).abs() < 0.0001,
            "{}",
            angle_rad.to_degrees()
        );
    }

    #[test]
    fn a_flat_across_both_axles_counts_in_three_parts() {
        let found = of(WHEELS, flat([-1.0, 4.2], [0.4, 0.4]));
        let at = |least: Option<super::super::Least>| least.unwrap().1.x_m;
        assert!((at(found.least_approach()) + 1.0).abs() < 1e-12);
        assert!((at(found.least_breakover()) - 1.5).abs() < 1e-6);
        assert!((at(found.least_departure()) - 4.2).abs() < 1e-12);
    }

    #[test]
    fn a_flat_behind_a_tyre_never_touches() {
        let found = of(WHEELS, flat([-0.3, 0.3], [0.3, 0.3]));
        assert_eq!(found.approach.len(), 1);
        assert_eq!(found.least_approach(), None);
        assert_eq!(found.least_breakover(), None);
    }

    #[test]
    fn ends_that_change_places_are_refused() {
        assert!(angles(WHEELS, &[flat([1.0, 0.5], [0.3, 0.3])]).is_err());
    }

    proptest! {
        /// Against a thousand points of the flat, each by itself: none is less than what was found, and one comes near it.
        #[test]
        fn no_point_of_a_flat_has_less(
            front_radius_m in 0.25..0.5_f64,
            rear_radius_m in 0.25..0.5_f64,
            from_m in -1.2..4.0_f64,
            long_m in 0.0..3.0_f64,
            z_m in 0.08..0.7_f64,
            slope in -0.06..0.06_f64,
        ) {
            let wheels = Wheels { front_radius_m, rear_radius_m, ..WHEELS };
            let end_m = z_m + slope * long_m;
            prop_assume!(end_m > 0.02);
            let found = of(wheels, flat([from_m, from_m + long_m], [z_m, end_m]));
            let points: Vec<Flat> = (0..=1000)
                .map(|n| {
                    let on_m = long_m * f64::from(n) / 1000.0;
                    Point { x_m: from_m + on_m, z_m: z_m + slope * on_m }.into()
                })
                .collect();
            let each = angles(wheels, &points).unwrap();
            for (least, of_points) in [
                (found.least_approach(), each.least_approach()),
                (found.least_breakover(), each.least_breakover()),
                (found.least_departure(), each.least_departure()),
            ] {
                let Some((.., sampled)) = of_points else { continue };
                let (.., least) = least.expect("a flat one point of which touches, touches");
                prop_assert!(least <= sampled + 1e-9, "{least} {sampled}");
                prop_assert!(least > sampled - 0.05, "{least} {sampled}");
            }
        }
    }
}
