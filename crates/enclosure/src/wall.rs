//! The walls of a box, and holes through them.

use tape::Length;

use crate::Purpose;

/// A wall of a box; front and rear close its length, left and right its width.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Wall {
    /// Where its length begins.
    Front,
    /// Where its length ends.
    Rear,
    /// Where its width begins.
    Left,
    /// Where its width ends.
    Right,
    /// Its floor.
    Floor,
    /// Its lid.
    Lid,
    /// The upright of a step in its underside, where it has one.
    Riser,
}

impl Wall {
    /// Those that every box has.
    pub const ALL: [Self; 6] = [Self::Front, Self::Rear, Self::Left, Self::Right, Self::Floor, Self::Lid];

    /// The name: `front`, `lid`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Rear => "rear",
            Self::Left => "left",
            Self::Right => "right",
            Self::Floor => "floor",
            Self::Lid => "lid",
            Self::Riser => "riser",
        }
    }

    /// The wall across from it; a riser has none, and is told itself.
    #[must_use]
    pub const fn opposite(self) -> Self {
        match self {
            Self::Front => Self::Rear,
            Self::Rear => Self::Front,
            Self::Left => Self::Right,
            Self::Right => Self::Left,
            Self::Floor => Self::Lid,
            Self::Lid => Self::Floor,
            Self::Riser => Self::Riser,
        }
    }
}

/// A round hole through a wall, told on the inside of the box.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WallHole {
    /// Through which wall.
    pub wall: Wall,
    /// Its middle along the wall: from the left on front and rear, from the front on all others; on a riser as on the wall
    /// that it stands before.
    pub along: Length,
    /// Its middle up the wall from the floor; on floor and lid, from the left.
    pub up: Length,
    /// Its diameter.
    pub diameter: Length,
    /// What it is for.
    pub purpose: Purpose,
}
