//! The 24 ways a module can stand, told by which of its own faces points up and which points rearward.

use crate::{Axis, Face, Point, Size};

/// How a body stands in a cavity: which of its own faces points up, and which of its own faces points rearward.
///
/// A body's own frame has its size as length (x), width (y) and height (z) when it stands upright and unturned, with
/// its own front, rear, left, right, bottom and top faces.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Orientation {
    up: Face,
    rear: Face,
}

impl Orientation {
    /// Upright and unturned: its own top up, its own rear face rearward.
    pub const UPRIGHT: Self = Self {
        up: Face::Top,
        rear: Face::Rear,
    };

    /// The orientation with own face `up` pointing up and own face `rear` pointing rearward; `None` when the two
    /// faces share an axis.
    pub fn new(up: Face, rear: Face) -> Option<Self> {
        (up.axis() != rear.axis()).then_some(Self { up, rear })
    }

    /// All 24, upright unturned first, in a fixed order.
    pub fn all() -> Vec<Self> {
        let ups = [
            Face::Top,
            Face::Left,
            Face::Right,
            Face::Front,
            Face::Rear,
            Face::Bottom,
        ];
        let rears = [
            Face::Rear,
            Face::Right,
            Face::Front,
            Face::Left,
            Face::Top,
            Face::Bottom,
        ];
        ups.iter()
            .flat_map(|&up| rears.iter().filter_map(move |&rear| Self::new(up, rear)))
            .collect()
    }

    /// The own face that points up.
    pub const fn up(self) -> Face {
        self.up
    }

    /// The own face that points rearward.
    pub const fn rear(self) -> Face {
        self.rear
    }

    /// The own face that points along world direction `world`.
    pub fn own_face(self, world: Face) -> Face {
        match world {
            Face::Top => self.up,
            Face::Bottom => self.up.opposite(),
            Face::Rear => self.rear,
            Face::Front => self.rear.opposite(),
            Face::Right => self.right(),
            Face::Left => self.right().opposite(),
        }
    }

    /// The world direction that own face `own` points to.
    ///
    /// # Panics
    ///
    /// Never: every own face points to one of the six directions.
    pub fn world_face(self, own: Face) -> Face {
        Face::ALL
            .into_iter()
            .find(|&world| self.own_face(world) == own)
            .expect("an orientation is a permutation")
    }

    /// The extents along the world's axes of a body of own size `own`.
    pub fn extents(self, own: Size) -> Size {
        Size(Axis::ALL.map(|axis| own[self.own_face(Face::high(axis)).axis()]))
    }

    /// Where a point of a body of own size `own` is, from the body's lowest world corner; `at` is told from the body's
    /// own front-left-bottom corner.
    pub fn point(self, at: Point, own: Size) -> Point {
        Point(Axis::ALL.map(|axis| {
            let face = self.own_face(Face::high(axis));
            let along = at[face.axis()];
            if face.is_high() {
                along
            } else {
                own[face.axis()] - along
            }
        }))
    }

    /// Turned a quarter about the vertical, clockwise as seen from above.
    #[must_use]
    pub fn turned(self) -> Self {
        Self {
            up: self.up,
            rear: self.right(),
        }
    }

    /// The own face that points right: up x rear, in the body's own right-handed frame.
    fn right(self) -> Face {
        cross(self.up, self.rear)
    }
}

/// The direction of `a` x `b` for two directions on different axes (x rearward, y right, z up: z x x = y).
fn cross(a: Face, b: Face) -> Face {
    let third = Axis::ALL
        .into_iter()
        .find(|&axis| axis != a.axis() && axis != b.axis())
        .expect("two different axes leave a third");
    let cyclic = (a.axis().index() + 1) % 3 == b.axis().index();
    let positive = cyclic ^ !a.is_high() ^ !b.is_high();
    if positive { Face::high(third) } else { Face::low(third) }
}

#[cfg(test)]
mod tests {
    use tape::Length;

    use super::*;

    #[test]
    fn there_are_24_and_each_is_a_permutation_of_the_faces() {
        let all = Orientation::all();
        assert_eq!(all.len(), 24);
        for orientation in all {
            let mut faces: Vec<Face> = Face::ALL.map(|world| orientation.own_face(world)).to_vec();
            faces.sort_unstable();
            assert_eq!(faces, Face::ALL);
        }
    }

    #[test]
    fn a_point_goes_round_with_its_body() {
        let own = Size([Length::mm(30), Length::mm(20), Length::mm(10)]);
        let at = Point([Length::mm(29), Length::mm(5), Length::mm(10)]);
        assert_eq!(Orientation::UPRIGHT.point(at, own), at);
        // Clockwise from above: what was near the rear is near the left, what was near the left is near the front.
        let turned = Orientation::UPRIGHT.turned().point(at, own);
        assert_eq!(turned, Point([Length::mm(5), Length::mm(1), Length::mm(10)]));
        for orientation in Orientation::all() {
            let half = Point(own.0.map(|side| Length::from_nm(side.nm() / 2)));
            let middle = orientation.point(half, own);
            assert_eq!(
                middle,
                Point(orientation.extents(own).0.map(|s| Length::from_nm(s.nm() / 2)))
            );
        }
    }

    #[test]
    fn upright_keeps_the_size_and_a_quarter_turn_swaps_length_and_width() {
        let own = Size([Length::mm(3), Length::mm(2), Length::mm(1)]);
        assert_eq!(Orientation::UPRIGHT.extents(own), own);
        assert_eq!(Orientation::UPRIGHT.own_face(Face::Right), Face::Right);
        let turned = Orientation::UPRIGHT.turned();
        assert_eq!(turned.extents(own), Size([Length::mm(2), Length::mm(3), Length::mm(1)]));
        assert_eq!(turned.turned().turned().turned(), Orientation::UPRIGHT);
        // Clockwise from above, what pointed rearward now points left (rear -> left -> front -> right).
        assert_eq!(turned.world_face(Face::Rear), Face::Left);
    }
}
