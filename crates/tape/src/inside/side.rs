//! The sides of a cavity and the names of its corners.

use std::fmt;

use crate::survey::Corner;

/// A side of a cavity or of a cuboid in it: x rearward, y to the right, z up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// Low x.
    Front,
    /// High x.
    Rear,
    /// Low y.
    Left,
    /// High y.
    Right,
    /// Low z.
    Bottom,
    /// High z.
    Top,
}

impl Side {
    /// The six sides: front, rear, left, right, bottom, top.
    pub const ALL: [Self; 6] = [
        Self::Front,
        Self::Rear,
        Self::Left,
        Self::Right,
        Self::Bottom,
        Self::Top,
    ];

    /// Its place in [`Side::ALL`].
    pub const fn index(self) -> usize {
        self as usize
    }

    /// The axis that it is square to: 0 for x, 1 for y, 2 for z.
    pub const fn axis(self) -> usize {
        self as usize / 2
    }

    /// Whether it is the high end of its axis.
    pub const fn is_high(self) -> bool {
        self as usize % 2 == 1
    }

    /// The four corners of the cavity on this side, in a ring that turns anticlockwise as seen from inside.
    ///
    /// Corners 0 to 3 run round the floor anticlockwise as seen from above, from the front left; 4 to 7 stand over them.
    pub const fn corners(self) -> [usize; 4] {
        match self {
            Self::Front => [0, 3, 7, 4],
            Self::Rear => [1, 5, 6, 2],
            Self::Left => [0, 4, 5, 1],
            Self::Right => [3, 2, 6, 7],
            Self::Bottom => [0, 1, 2, 3],
            Self::Top => [4, 7, 6, 5],
        }
    }
}

impl fmt::Display for Side {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Front => "front",
            Self::Rear => "rear",
            Self::Left => "left",
            Self::Right => "right",
            Self::Bottom => "bottom",
            Self::Top => "top",
        })
    }
}

/// The name of a corner by its number, 0 to 7, as `rear-left-bottom`.
///
/// # Panics
///
/// When there is no such corner.
pub fn corner_name(corner: usize) -> String {
    Corner::ALL[corner].words().replace(' ', "-")
}
