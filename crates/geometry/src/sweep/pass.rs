//! How near a turning bed comes to what is fixed: exact, from arcs and corners.
//!
//! While a rectangle turns, its distance from a fixed one is that of a corner of one from the other. Seen from the frame, the
//! corners of the turning one go round circles; seen from the bed, those of the fixed one do. The distance of a point on
//! a circle from a rectangle can be least only at an end of the turn, where the point is in line with a corner of it as seen from the
//! hinge, where it is farthest out along u or z, or where it passes a side. Whether the two overlap changes only where a
//! corner passes a side. So all that can matter are some hundred turns in closed form, and nothing is sampled.

use std::f64::consts::{FRAC_PI_2, PI};

use libm::{acos, asin, atan2, floor, hypot};
use tape::Length;

use super::{Outline, Turn};
use crate::plane::{Octagon, Rect, Turned, distance};

/// Overlaps less deep than this are touching, in millimetres.
const TOUCH: f64 = 1e-5;

/// How near one outline of the bed comes to a fixed one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Near {
    /// Index of the outline of the bed.
    pub bed: usize,
    /// Index of the fixed outline.
    pub fixed: usize,
    /// The least distance over the whole turn, rounded down; zero when they touch or overlap.
    pub distance: Length,
    /// The turn, in degrees, at which it is least; the first one of several.
    pub at_deg: f64,
    /// The first turn, in degrees, past which the two overlap; touching is no overlap.
    pub meets_deg: Option<f64>,
}

/// What happens over the whole turn.
#[derive(Clone, Debug, PartialEq)]
pub struct Passed {
    /// Every outline of the bed with every fixed one, nearest first; those that meet before all others, first met first.
    pub pairs: Vec<Near>,
}

impl Passed {
    /// The pair that limits the turn: the first to meet, otherwise the nearest.
    pub fn nearest(&self) -> Option<&Near> {
        self.pairs.first()
    }
}

/// Turns a bed past what is fixed.
pub fn pass(bed: &[Outline], fixed: &[Outline], turn: Turn) -> Passed {
    let mut pairs = Vec::new();
    for (b, moving) in bed.iter().enumerate() {
        for (f, still) in fixed.iter().enumerate() {
            let (distance, at, meets) = near(&moving.rect(), &still.rect(), turn);
            pairs.push(Near {
                bed: b,
                fixed: f,
                distance: Length::from_mm_down(distance),
                at_deg: at.to_degrees(),
                meets_deg: meets.map(f64::to_degrees),
            });
        }
    }
    pairs.sort_by(|a, b| {
        let meets = |near: &Near| near.meets_deg.unwrap_or(f64::INFINITY);
        let first = meets(a).total_cmp(&meets(b));
        first
            .then(a.distance.cmp(&b.distance))
            .then((a.bed, a.fixed).cmp(&(b.bed, b.fixed)))
    });
    Passed { pairs }
}

fn near(moving: &Rect, still: &Rect, turn: Turn) -> (f64, f64, Option<f64>) {
    let mut turns = vec![turn.from, turn.to];
    let mut add = |at: f64| {
        // The same direction, as many whole turns on as it takes.
        let at = at - 2.0 * PI * floor((at - turn.from) / (2.0 * PI));
        if at <= turn.to {
            turns.push(at);
        }
    };
    for [u, z] in moving.corners() {
        for direction in directions(hypot(u, z), still) {
            add(direction - atan2(z, u));
        }
    }
    for [u, z] in still.corners() {
        for direction in directions(hypot(u, z), moving) {
            add(atan2(z, u) - direction);
        }
    }
    turns.sort_unstable_by(f64::total_cmp);
    let apart = |at: f64| distance(moving, [0.0; 2], at, still);
    let overlap = |at: f64| Octagon::of(&Turned::by(moving, at), still).depth([0.0; 2]) > TOUCH;
    let meets = if turns[0] < turns[turns.len() - 1] {
        let mut between = turns.windows(2);
        between
            .find(|pair| overlap(f64::midpoint(pair[0], pair[1])))
            .map(|pair| pair[0])
    } else {
        overlap(turn.from).then_some(turn.from)
    };
    let (mut least, mut at) = (f64::INFINITY, turn.from);
    for &turn in &turns {
        let found = apart(turn);
        // Rounding must not move the answer to a later turn that is as near.
        if found < least - 1e-9 {
            (least, at) = (found, turn);
        }
    }
    match meets {
        Some(meets) if least > 0.0 => (0.0, meets, Some(meets)),
        _ => (least, at, meets),
    }
}

/// The directions from the hinge in which a point of a circle about it can be nearest to a rectangle or pass a side of it.
fn directions(radius: f64, rect: &Rect) -> Vec<f64> {
    let mut found = vec![0.0, FRAC_PI_2, PI, -FRAC_PI_2];
    found.extend(rect.corners().map(|[u, z]| atan2(z, u)));
    for side in rect.along.into_iter().filter(|side| side.abs() <= radius) {
        let angle = acos(side / radius);
        found.extend([angle, -angle]);
    }
    for side in rect.up.into_iter().filter(|side| side.abs() <= radius) {
        let angle = asin(side / radius);
        found.extend([angle, PI - angle]);
    }
    // A corner on the hinge itself is in no direction.
    found.retain(|direction| direction.is_finite());
    found
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn outline([u0, z0, u1, z1]: [i64; 4]) -> Outline {
        Outline {
            u: [u0, u1].map(Length::mm),
            z: [z0, z1].map(Length::mm),
        }
    }

    #[test]
    fn a_hanging_rib_creeps_forward() {
        // 3-4-5: the lower front corner at (400, -300) comes as far forward as 500, at 36.87 degrees.
        let rib = outline([380, -300, 400, -100]);
        let ahead = |face: i64| {
            pass(
                &[rib],
                &[outline([face, -900, 2000, 900])],
                Turn::between(0.0, 60.0).unwrap(),
            )
        };
        let clear = *ahead(512).nearest().unwrap();
        assert!(
            (clear.distance - Length::mm(12)).abs() < Length::from_nm(2),
            "{clear:?}"
        );
        assert!((clear.at_deg - 36.869_897_645_844_02).abs() < 1e-6);
        assert_eq!(clear.meets_deg, None);
        // At 480 it meets: 500 cos(a) = 480 at 16.26 degrees before that.
        let met = *ahead(480).nearest().unwrap();
        assert_eq!(met.distance, Length::ZERO);
        assert!(
            (met.meets_deg.unwrap() - (36.869_897_645_844_02 - 16.260_204_708_311_957)).abs() < 1e-6,
            "{met:?}"
        );
    }

    #[test]
    fn a_bed_that_rests_on_a_rail_does_not_meet_it() {
        let (bed, rail) = (outline([0, 0, 2000, 50]), outline([500, -100, 900, 0]));
        let near = *pass(&[bed], &[rail], Turn::between(0.0, 50.0).unwrap())
            .nearest()
            .unwrap();
        assert_eq!((near.distance, near.meets_deg), (Length::ZERO, None));
        // Down it would.
        let near = *pass(&[bed], &[rail], Turn::between(-5.0, 0.0).unwrap())
            .nearest()
            .unwrap();
        assert_eq!(near.meets_deg, Some(-5.0));
    }

    #[test]
    fn agrees_with_the_closed_form_of_a_tail() {
        let (behind, gap, depth) = (Length::mm(230), Length::mm(32), Length::mm(50));
        let contact = super::super::closed_forms::underside_contact_deg(behind, gap, depth).unwrap();
        let tail = outline([-600, -50, 0, 0]);
        let bumper = outline([-230, -300, -100, -82]);
        let near = *pass(&[tail], &[bumper], Turn::between(0.0, 45.0).unwrap())
            .nearest()
            .unwrap();
        assert!((near.meets_deg.unwrap() - contact).abs() < 1e-6, "{near:?} {contact}");
    }

    proptest! {
        #[test]
        fn no_turn_looked_at_is_nearer(
            a in [-80..80_i64, -80..80_i64, 1..60_i64, 1..60_i64],
            b in [-80..80_i64, -80..80_i64, 1..60_i64, 1..60_i64],
            from in -90..90_i32, by in 1..90_i32,
        ) {
            let whole = |[u, z, l, h]: [i64; 4]| outline([u, z, u + l, z + h]);
            let (moving, still) = (whole(a), whole(b));
            let (from, to) = (f64::from(from), f64::from(from + by));
            let near = *pass(&[moving], &[still], Turn::between(from, to).unwrap()).nearest().unwrap();
            let (mut least, mut first) = (f64::INFINITY, None);
            for n in 0..=2000_u32 {
                let at = from + (to - from) * f64::from(n) / 2000.0;
                let apart = distance(&moving.rect(), [0.0; 2], at.to_radians(), &still.rect());
                least = least.min(apart);
                let deep = Octagon::of(&Turned::by(&moving.rect(), at.to_radians()), &still.rect()).depth([0.0; 2]);
                if deep > TOUCH && first.is_none() {
                    first = Some(at);
                }
            }
            // Between two turns looked at, no point moves farther than this.
            let step = (to - from).to_radians() / 2000.0 * 200.0;
            prop_assert!(near.distance.as_mm() <= least + 1e-6, "{:?} {}", near, least);
            prop_assert!(least - step <= near.distance.as_mm() + 1e-6, "{:?} {}", near, least);
            if let Some(first) = first {
                let meets = near.meets_deg;
                prop_assert!(meets.is_some_and(|meets| meets <= first + 1e-6), "{:?} {}", near, first);
            }
        }
    }
}
