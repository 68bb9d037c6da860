//! From which side, and how a cuboid is seen from there.

use geometry::{Axis, Cuboid, Face};
use tape::Length;

use crate::{Direction, Rect};

/// From which side things are looked at.
///
/// The three views belong together as on a drawing sheet: the plan stands above the view from the left with the same
/// `u`, and what is near in one is low in the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// From above: `u` rearward, the driver's left at the bottom of the sheet.
    ///
    /// With the front of the truck on the left of the sheet, a view from above has the driver's right at the top; the
    /// other way up it would be a mirror image, and the box built from it the wrong hand.
    Plan,
    /// From the left side: `u` rearward, up at the top.
    FromLeft,
    /// From the rear, looking forward: `u` to the driver's right, so that left is left; up at the top.
    FromRear,
}

/// Where a face shows in a view: along an edge of the rectangle, or towards or away from the viewer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(missing_docs, reason = "the doc of the enum says what they are")]
pub enum Edge {
    Left,
    Right,
    Top,
    Bottom,
    Facing,
    Away,
}

impl Side {
    /// All of them: plan, from the left, from the rear.
    pub const ALL: [Self; 3] = [Self::Plan, Self::FromLeft, Self::FromRear];

    /// The view's short name: `plan`, `side`, `rear`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Plan => "plan",
            Self::FromLeft => "side",
            Self::FromRear => "rear",
        }
    }

    /// The view's name in words: `seen from above`.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Plan => "seen from above",
            Self::FromLeft => "seen from the left",
            Self::FromRear => "seen from the rear",
        }
    }

    /// The axis that runs along the sheet in this direction.
    pub const fn axis(self, along: Direction) -> Axis {
        match (along, self) {
            (Direction::U, Self::Plan | Self::FromLeft) => Axis::X,
            (Direction::U, Self::FromRear) | (Direction::V, Self::Plan) => Axis::Y,
            (Direction::V, Self::FromLeft | Self::FromRear) => Axis::Z,
        }
    }

    /// What lies at the left, right, top and bottom of the sheet: `front`, `rear`, `right`, `left` in a plan.
    pub fn edge_words(self) -> [&'static str; 4] {
        [Edge::Left, Edge::Right, Edge::Top, Edge::Bottom].map(|edge| {
            Face::ALL
                .into_iter()
                .find(|&face| self.edge(face) == edge)
                .map_or("", Face::name)
        })
    }

    /// Where `face` shows.
    pub fn edge(self, face: Face) -> Edge {
        let axis = face.axis();
        if axis == self.axis(Direction::U) {
            return if face.is_high() { Edge::Right } else { Edge::Left };
        }
        if axis == self.axis(Direction::V) {
            return if face.is_high() { Edge::Top } else { Edge::Bottom };
        }
        // The viewer is above, to the left, or behind.
        let near_is_high = self != Self::FromLeft;
        if face.is_high() == near_is_high {
            Edge::Facing
        } else {
            Edge::Away
        }
    }

    /// The rectangle that `cuboid` covers on the sheet.
    pub fn rect(self, cuboid: &Cuboid) -> Rect {
        let (u, v) = (self.axis(Direction::U), self.axis(Direction::V));
        Rect {
            u0: cuboid.lo()[u],
            v0: -cuboid.hi()[v],
            u1: cuboid.hi()[u],
            v1: -cuboid.lo()[v],
        }
    }

    /// The nearest and the farthest depth of `cuboid`; depth grows away from the viewer.
    pub fn depth(self, cuboid: &Cuboid) -> [Length; 2] {
        match self {
            Self::Plan => [-cuboid.hi()[Axis::Z], -cuboid.lo()[Axis::Z]],
            Self::FromLeft => [cuboid.lo()[Axis::Y], cuboid.hi()[Axis::Y]],
            Self::FromRear => [-cuboid.hi()[Axis::X], -cuboid.lo()[Axis::X]],
        }
    }

    /// The direction on the sheet that `face` looks along; `None` towards or away from the viewer.
    pub(crate) fn along(self, face: Face) -> Option<Direction> {
        [Direction::U, Direction::V]
            .into_iter()
            .find(|&along| self.axis(along) == face.axis())
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    /// Hold the truck's picture in hand: front at the left of the sheet, seen from above, the driver looks left and
    /// has the right hand at the top of the sheet.
    #[rstest]
    #[case::plan(Side::Plan, ["front", "rear", "right", "left"])]
    #[case::from_left(Side::FromLeft, ["front", "rear", "top", "bottom"])]
    #[case::from_rear(Side::FromRear, ["left", "right", "top", "bottom"])]
    fn no_view_is_a_mirror_image(#[case] side: Side, #[case] words: [&str; 4]) {
        assert_eq!(side.edge_words(), words);
    }

    /// What faces the viewer, and that right x up on the sheet points at the viewer (x rearward, y right, z up is a
    /// right-handed frame, so a picture that is no mirror image is right-handed too).
    #[rstest]
    #[case(Side::Plan, Face::Top)]
    #[case(Side::FromLeft, Face::Left)]
    #[case(Side::FromRear, Face::Rear)]
    fn the_near_face_is_right_cross_up(#[case] side: Side, #[case] near: Face) {
        assert_eq!(side.edge(near), Edge::Facing);
        assert_eq!(side.edge(near.opposite()), Edge::Away);
        let vector = |face: Face| {
            let mut v = [0_i32; 3];
            v[face.axis().index()] = if face.is_high() { 1 } else { -1 };
            v
        };
        let of = |edge| vector(Face::ALL.into_iter().find(|&f| side.edge(f) == edge).unwrap());
        let (r, u) = (of(Edge::Right), of(Edge::Top));
        let cross = [
            r[1] * u[2] - r[2] * u[1],
            r[2] * u[0] - r[0] * u[2],
            r[0] * u[1] - r[1] * u[0],
        ];
        assert_eq!(cross, vector(near));
    }
}
