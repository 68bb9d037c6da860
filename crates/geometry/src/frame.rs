//! Axes and the six faces of a cuboid, with the trade's names.

use std::ops::{Index, IndexMut};

/// One of the three directions of a frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Axis {
    /// Rearward; a cavity's length.
    X,
    /// To the right; a cavity's width.
    Y,
    /// Up; a cavity's height.
    Z,
}

impl Axis {
    /// The three axes in order.
    pub const ALL: [Self; 3] = [Self::X, Self::Y, Self::Z];

    /// 0, 1 or 2.
    pub const fn index(self) -> usize {
        self as usize
    }

    /// What the extent along this axis is called in a cavity: length, width or height.
    pub const fn extent_name(self) -> &'static str {
        match self {
            Self::X => "length",
            Self::Y => "width",
            Self::Z => "height",
        }
    }
}

/// One of the six faces of a cuboid, or the direction its outward normal points.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// Low x.
    Front,
    /// High x.
    Rear,
    /// Low y, as seen by the driver.
    Left,
    /// High y, as seen by the driver.
    Right,
    /// Low z.
    Bottom,
    /// High z.
    Top,
}

impl Face {
    /// The six faces: front, rear, left, right, bottom, top.
    pub const ALL: [Self; 6] = [
        Self::Front,
        Self::Rear,
        Self::Left,
        Self::Right,
        Self::Bottom,
        Self::Top,
    ];

    /// 0 to 5, in the order of [`Face::ALL`].
    pub const fn index(self) -> usize {
        self as usize
    }

    /// The axis of the face's normal.
    pub const fn axis(self) -> Axis {
        match self {
            Self::Front | Self::Rear => Axis::X,
            Self::Left | Self::Right => Axis::Y,
            Self::Bottom | Self::Top => Axis::Z,
        }
    }

    /// Whether the face is the one with the larger coordinate.
    pub const fn is_high(self) -> bool {
        matches!(self, Self::Rear | Self::Right | Self::Top)
    }

    /// The face across from this one.
    #[must_use]
    pub const fn opposite(self) -> Self {
        match self {
            Self::Front => Self::Rear,
            Self::Rear => Self::Front,
            Self::Left => Self::Right,
            Self::Right => Self::Left,
            Self::Bottom => Self::Top,
            Self::Top => Self::Bottom,
        }
    }

    /// The low face of `axis`.
    pub const fn low(axis: Axis) -> Self {
        match axis {
            Axis::X => Self::Front,
            Axis::Y => Self::Left,
            Axis::Z => Self::Bottom,
        }
    }

    /// The high face of `axis`.
    pub const fn high(axis: Axis) -> Self {
        Self::low(axis).opposite()
    }

    /// The direction the face looks in, as said of a movement: "rearward", "left", "up".
    pub const fn towards(self) -> &'static str {
        match self {
            Self::Front => "forward",
            Self::Rear => "rearward",
            Self::Left => "left",
            Self::Right => "right",
            Self::Bottom => "down",
            Self::Top => "up",
        }
    }

    /// The face's name in lower case.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Rear => "rear",
            Self::Left => "left",
            Self::Right => "right",
            Self::Bottom => "bottom",
            Self::Top => "top",
        }
    }
}

/// One value for each face.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Faces<T>(pub [T; 6]);

impl<T: Copy> Faces<T> {
    /// The same value on all six faces.
    pub const fn all(value: T) -> Self {
        Self([value; 6])
    }

    /// `floor` on the bottom, `walls` on the four sides, `top` on the top.
    pub const fn floor_walls_top(floor: T, walls: T, top: T) -> Self {
        Self([walls, walls, walls, walls, floor, top])
    }
}

impl<T> Index<Face> for Faces<T> {
    type Output = T;
    fn index(&self, face: Face) -> &T {
        &self.0[face.index()]
    }
}

impl<T> IndexMut<Face> for Faces<T> {
    fn index_mut(&mut self, face: Face) -> &mut T {
        &mut self.0[face.index()]
    }
}
