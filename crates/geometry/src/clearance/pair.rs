//! One solid against the walls, and against one other solid.

use tape::Length;

use super::{Around, Clearance, Neighbour, Solid};
use crate::{Axis, Cuboid, Face};

impl Clearance {
    /// Keeps the smaller of the two; see the module's note on ties. The face decides last, so that the result does
    /// not depend on the order in which neighbours are met.
    fn take(&mut self, other: Self) {
        let order = |c: &Self| match c.neighbour {
            Neighbour::Thing(number) => (0, number, c.face),
            Neighbour::Wall(face) => (1, face.index(), c.face),
        };
        let nearer = other.distance < self.distance;
        if nearer || other.distance == self.distance && order(&other) < order(self) {
            *self = other;
        }
    }
}

impl Around {
    /// The clearances of a solid that is alone in the space.
    pub(super) fn walls(space: &Cuboid, solid: &Cuboid) -> Self {
        let faces = Face::ALL.map(|face| {
            let outward = space.face(face) - solid.face(face);
            let distance = if face.is_high() { outward } else { -outward };
            Clearance {
                face,
                distance,
                neighbour: Neighbour::Wall(face),
            }
        });
        let mut nearest = faces[0];
        for &wall in &faces[1..] {
            nearest.take(wall);
        }
        Self { faces, nearest }
    }

    /// The clearances of two solids of one thing together.
    pub(super) fn least(mut self, other: Self) -> Self {
        for (mine, theirs) in self.faces.iter_mut().zip(other.faces) {
            mine.take(theirs);
        }
        self.nearest.take(other.nearest);
        self
    }

    /// Takes `other` into account, if it belongs to another thing than `solid`, whose clearances these are.
    pub(super) fn meet(&mut self, solid: &Solid, other: &Solid) {
        if solid.thing == other.thing {
            return;
        }
        let gaps = Axis::ALL.map(|axis| solid.cuboid.gap_along(&other.cuboid, axis));
        let apart_along = gaps.iter().filter(|gap| !gap.is_negative()).count();
        // Apart along no axis is an overlap and along one is a face in front of a face. In both the widest gap is the
        // whole story. Apart along more, the way leads over an edge or a corner and no face looks at the other solid.
        if apart_along > 1 {
            if let Some(distance) = over_the_corner(gaps, self.nearest.distance) {
                self.nearest.take(towards(solid, other, widest(gaps), distance));
            }
        } else {
            let widest = widest(gaps);
            let found = towards(solid, other, widest, gaps[widest.index()]);
            self.faces[found.face.index()].take(found);
            self.nearest.take(found);
        }
    }
}

/// The axis with the largest gap, the first of equals. For solids that overlap it is the one of the shortest step
/// that parts them.
fn widest(gaps: [Length; 3]) -> Axis {
    let mut widest = Axis::X;
    for axis in [Axis::Y, Axis::Z] {
        if gaps[axis.index()] > gaps[widest.index()] {
            widest = axis;
        }
    }
    widest
}

/// The clearance from `solid` to `other`, seen from the end of `axis` that is nearer to it.
fn towards(solid: &Solid, other: &Solid, axis: Axis, distance: Length) -> Clearance {
    let (mine, theirs) = (&solid.cuboid, &other.cuboid);
    let low_end = mine.lo()[axis] - theirs.hi()[axis];
    let high_end = theirs.lo()[axis] - mine.hi()[axis];
    let low = low_end > high_end || low_end == high_end && solid.thing < other.thing;
    let face = if low { Face::low(axis) } else { Face::high(axis) };
    Clearance {
        face,
        distance,
        neighbour: Neighbour::Thing(other.thing),
    }
}

/// The straight distance made up of the gaps above zero, rounded down; `None` when it is above `limit`, which saves
/// the root for nearly all solids.
fn over_the_corner(gaps: [Length; 3], limit: Length) -> Option<Length> {
    if gaps.iter().any(|&gap| gap > limit) {
        return None;
    }
    let square: i128 = gaps
        .iter()
        .map(|&gap| gap.max(Length::ZERO))
        .map(|gap| (gap * gap).nm2())
        .sum();
    let beyond = i128::from(limit.nm()) + 1;
    // Rounded down, the root is at most the limit exactly when the square is below that of the next nanometre.
    (square < beyond * beyond)
        .then(|| Length::from_nm(i64::try_from(square.isqrt()).expect("it is at most the limit, a length")))
}
