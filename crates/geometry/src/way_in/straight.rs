//! A way straight in along one axis: exact, in whole nanometres.
//!
//! The thing is swept from where it is to stand out through the face it came in by. What the sweep overlaps is in the way;
//! touching is not.

use tape::Length;

use crate::{Axis, Cuboid, Face, Point};

/// A thing where it is to stand, what is round it, and where it comes from.
#[derive(Clone, Copy, Debug)]
pub struct Straight<'a> {
    /// The solids of the thing at its goal: body, flange, brackets, glands.
    pub parts: &'a [Cuboid],
    /// What stays where it is.
    pub obstacles: &'a [Cuboid],
    /// The side it comes in by: top is down from above, bottom is up from below.
    pub through: Face,
    /// How far off its goal it starts.
    pub from: Length,
}

/// An obstacle in the way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stop {
    /// Index of the obstacle.
    pub obstacle: usize,
    /// Index of the part it stops first.
    pub part: usize,
    /// How far the thing still is from its goal when it touches.
    pub left: Length,
    /// The smallest sideways step that clears it: along which axis, and by how much they overlap.
    pub overlap: (Axis, Length),
}

/// The least room along the way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Room {
    /// Index of the obstacle.
    pub obstacle: usize,
    /// Index of the part that is nearest to it.
    pub part: usize,
    /// Along which axis, across the travel.
    pub axis: Axis,
    /// The free distance.
    pub distance: Length,
}

/// Whether the straight way is free.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StraightWay {
    /// What is in the way, by obstacle, the one met first in front; empty when the thing goes in.
    pub stops: Vec<Stop>,
    /// The least room beside the travel, over what the thing passes; `None` when it passes nothing, or is stopped.
    pub room: Option<Room>,
}

impl StraightWay {
    /// Whether nothing is in the way.
    pub fn goes(&self) -> bool {
        self.stops.is_empty()
    }
}

/// Sweeps a thing in.
pub fn straight(way: &Straight<'_>) -> StraightWay {
    let mut stops = Vec::new();
    for (obstacle, other) in way.obstacles.iter().enumerate() {
        let parts = way.parts.iter().enumerate();
        let met = parts
            .filter(|(_, solid)| way.sweep(solid).overlaps(other))
            .map(|(part, solid)| Stop {
                obstacle,
                part,
                left: way.left(solid, other),
                overlap: way.overlap(solid, other),
            });
        // The part that is stopped first, and of those the one that overlaps most.
        stops.extend(met.max_by_key(|stop| (stop.left, stop.overlap.1)));
    }
    stops.sort_by_key(|stop| (-stop.left, stop.obstacle));
    let room = if stops.is_empty() { way.room() } else { None };
    StraightWay { stops, room }
}

/// Shifts along one axis across the travel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shifts {
    /// Along which axis.
    pub axis: Axis,
    /// Each stretch of shifts from the goal, from least to most, with which the whole travel is free.
    pub free: Vec<[Length; 2]>,
    /// Those of them from which the thing can then be slid over to its goal.
    pub then_slid: Vec<[Length; 2]>,
}

/// By how much the thing may be off its goal to either side while it comes in, up to `most` either way: for each of the two
/// axes across the travel.
pub fn shifts(way: &Straight<'_>, most: Length) -> [Shifts; 2] {
    way.across().map(|axis| {
        let whole = [-most.abs(), most.abs()];
        let mut taken = Vec::new();
        let mut slid = whole;
        for solid in way.parts {
            let sweep = way.sweep(solid);
            for other in way.obstacles {
                let beside = |solid: &Cuboid| {
                    let others = Axis::ALL.into_iter().filter(|&a| a != axis);
                    others.into_iter().all(|a| solid.gap_along(other, a).is_negative())
                };
                let off = [other.lo()[axis] - solid.hi()[axis], other.hi()[axis] - solid.lo()[axis]];
                if off[0] < off[1] && beside(&sweep) {
                    taken.push(off);
                }
                // On the level of the goal: how far it can be slid either way.
                if off[0] < off[1] && beside(solid) {
                    if off[0] >= Length::ZERO {
                        slid[1] = slid[1].min(off[0]);
                    } else if off[1] <= Length::ZERO {
                        slid[0] = slid[0].max(off[1]);
                    } else {
                        // The goal itself is not free.
                        slid = [Length::from_nm(1), Length::ZERO];
                    }
                }
            }
        }
        let free = left_free(whole, taken);
        let reach = |&[low, high]: &[Length; 2]| {
            let both = [low.max(slid[0]), high.min(slid[1])];
            (both[0] <= both[1]).then_some(both)
        };
        let then_slid = free.iter().filter_map(reach).collect();
        Shifts { axis, free, then_slid }
    })
}

/// The gaps that a thing can be brought in by, seen along the travel: stretches of one axis across it, within `within`, that no
/// obstacle reaches into which the thing, as wide as it is across the other axis, would pass.
///
/// The widest of them is the widest thing that goes straight in.
pub fn gaps(way: &Straight<'_>, axis: Axis, within: [Length; 2]) -> Vec<[Length; 2]> {
    let hull = Cuboid::hull_of(way.parts).unwrap_or_default();
    let sweep = way.sweep(&hull);
    let in_the_way = |other: &&Cuboid| {
        let others = Axis::ALL.into_iter().filter(|&a| a != axis);
        others.into_iter().all(|a| sweep.gap_along(other, a).is_negative())
    };
    let taken = way.obstacles.iter().filter(in_the_way);
    let mut gaps = left_free(within, taken.map(|o| [o.lo()[axis], o.hi()[axis]]).collect());
    gaps.retain(|[low, high]| low < high);
    gaps
}

/// What of a stretch no open stretch of `taken` covers.
fn left_free(whole: [Length; 2], mut taken: Vec<[Length; 2]>) -> Vec<[Length; 2]> {
    taken.sort_unstable();
    let mut free = Vec::new();
    let mut from = whole[0];
    for [low, high] in taken {
        // Past the end: the last stretch is left as it is.
        if low > whole[1] {
            break;
        }
        if low >= from {
            free.push([from, low]);
        }
        from = from.max(high);
    }
    if from <= whole[1] {
        free.push([from, whole[1]]);
    }
    free
}

impl Straight<'_> {
    fn across(&self) -> [Axis; 2] {
        match self.through.axis() {
            Axis::X => [Axis::Y, Axis::Z],
            Axis::Y => [Axis::X, Axis::Z],
            Axis::Z => [Axis::X, Axis::Y],
        }
    }

    /// Everything that a solid goes through.
    fn sweep(&self, solid: &Cuboid) -> Cuboid {
        let by = self.from.max(Length::ZERO);
        let by = if self.through.is_high() { by } else { -by };
        solid.hull(&solid.moved(Point::along(self.through.axis(), by)))
    }

    /// How far a solid still has to go when it touches an obstacle that it is stopped by; at most where it starts.
    fn left(&self, solid: &Cuboid, other: &Cuboid) -> Length {
        let left = if self.through.is_high() {
            other.face(self.through) - solid.face(self.through.opposite())
        } else {
            solid.face(self.through.opposite()) - other.face(self.through)
        };
        left.min(self.from)
    }

    fn overlap(&self, solid: &Cuboid, other: &Cuboid) -> (Axis, Length) {
        let [a, b] = self.across().map(|axis| (axis, -solid.gap_along(other, axis)));
        if b.1 < a.1 { b } else { a }
    }

    /// The least room beside the travel: only what lies beside the sweep counts, not what lies off its corners.
    fn room(&self) -> Option<Room> {
        let mut least: Option<Room> = None;
        for (part, solid) in self.parts.iter().enumerate() {
            let sweep = self.sweep(solid);
            for (obstacle, other) in self.obstacles.iter().enumerate() {
                for axis in self.across() {
                    let mut others = Axis::ALL.into_iter().filter(|&a| a != axis);
                    let distance = sweep.gap_along(other, axis);
                    let beside = others.all(|a| sweep.gap_along(other, a).is_negative());
                    if beside && least.is_none_or(|least| distance < least.distance) {
                        least = Some(Room {
                            obstacle,
                            part,
                            axis,
                            distance,
                        });
                    }
                }
            }
        }
        least
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn block(lo: [i64; 3], hi: [i64; 3]) -> Cuboid {
        Cuboid::between(Point(lo.map(Length::mm)), Point(hi.map(Length::mm)))
    }

    /// Two rails with a flange at the foot of the right one, and a box between them.
    fn rails(left: i64) -> (Vec<Cuboid>, Vec<Cuboid>) {
        let obstacles = vec![
            block([0, -100, 0], [1000, 0, 300]),
            block([0, 500, 0], [1000, 600, 300]),
            block([0, 470, 0], [1000, 500, 20]),
        ];
        (vec![block([100, left, 50], [600, left + 460, 250])], obstacles)
    }

    fn from_below<'a>(parts: &'a [Cuboid], obstacles: &'a [Cuboid]) -> Straight<'a> {
        Straight {
            parts,
            obstacles,
            through: Face::Bottom,
            from: Length::mm(500),
        }
    }

    #[test]
    fn a_flange_stops_it_and_says_by_how_much() {
        let (parts, obstacles) = rails(20);
        let way = straight(&from_below(&parts, &obstacles));
        assert!(!way.goes());
        let stop = way.stops[0];
        assert_eq!((stop.obstacle, stop.overlap), (2, (Axis::Y, Length::mm(10))));
        // The box's top at 250 meets the flange's underside at 0.
        assert_eq!(stop.left, Length::mm(250));
        // From above nothing is in its way, and the rails are 20 mm off.
        let from_above = Straight {
            through: Face::Top,
            ..from_below(&parts, &obstacles)
        };
        let way = straight(&from_above);
        assert!(way.goes());
        assert_eq!(way.room.map(|room| room.distance), Some(Length::mm(20)));
    }

    #[test]
    fn off_centre_it_goes_and_is_slid_over() {
        let (parts, obstacles) = rails(20);
        let [_, across] = shifts(&from_below(&parts, &obstacles), Length::mm(100));
        assert_eq!(across.axis, Axis::Y);
        let expected = vec![[Length::mm(-20), Length::mm(-10)]];
        assert_eq!((&across.free, &across.then_slid), (&expected, &expected));
        let gaps = gaps(
            &from_below(&parts, &obstacles),
            Axis::Y,
            [Length::ZERO, Length::mm(500)],
        );
        assert_eq!(gaps, [[Length::ZERO, Length::mm(470)]]);
    }

    /// A wall farther off than is looked at takes nothing of what is free before it.
    #[test]
    fn what_is_beyond_the_range_leaves_the_last_stretch() {
        let free = left_free(
            [Length::mm(-100), Length::mm(100)],
            vec![[Length::mm(300), Length::mm(400)]],
        );
        assert_eq!(free, [[Length::mm(-100), Length::mm(100)]]);
        let whole = [Length::mm(-100), Length::mm(100)];
        let free = left_free(
            whole,
            vec![[Length::mm(-20), Length::mm(30)], [Length::mm(300), Length::mm(400)]],
        );
        assert_eq!(
            free,
            [[Length::mm(-100), Length::mm(-20)], [Length::mm(30), Length::mm(100)]]
        );
    }

    #[test]
    fn touching_all_the_way_is_no_stop() {
        let (_, obstacles) = rails(0);
        let parts = [block([100, 0, 50], [600, 470, 250])];
        let way = straight(&from_below(&parts, &obstacles));
        assert!(way.goes());
        assert_eq!(way.room.map(|room| room.distance), Some(Length::ZERO));
    }

    #[test]
    fn a_wider_flange_of_the_thing_is_what_is_stopped() {
        let (mut parts, obstacles) = rails(5);
        parts.push(block([100, 0, 245], [600, 480, 250]));
        let way = straight(&from_below(&parts, &obstacles));
        assert_eq!((way.stops.len(), way.stops[0].part), (1, 1));
    }
}
