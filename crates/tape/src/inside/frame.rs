//! The axes that a cuboid is told in.

use std::ops::Add;

use super::jet::{Jet, Vector, between, cross, dot, unit};

/// What the cuboid lies flat on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Base {
    /// The floor.
    #[default]
    Bottom,
    /// The roof.
    Top,
}

/// The edge of the base that the cuboid runs along.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Rail {
    /// The left edge, front to rear.
    #[default]
    Left,
    /// The right edge, front to rear.
    Right,
    /// The front edge, left to right.
    Front,
    /// The rear edge, left to right.
    Rear,
}

/// What a cuboid keeps its place from, as far as the true cavity turns out other than the adjusted one.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Hold {
    /// From the corner at the origin: what is marked out from floor and rail.
    #[default]
    Corner,
    /// From the middle of the eight corners: what is free to slide until it has the same gap on both sides. Less has to
    /// be kept back then, since an error of a length is shared by both of its ends.
    Middle,
}

/// Which floor and rail the axes are laid on; floor and left rail unless told.
///
/// z is square to both diagonals of the base, upward; the rail laid flat is x (or y, for the front and the rear edge);
/// the third axis makes x rearward, y to the right, z up. The origin is the front or left end of the rail.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Frame {
    /// What the cuboid lies flat on.
    pub base: Base,
    /// What it runs along.
    pub rail: Rail,
    /// What it keeps its place from.
    pub hold: Hold,
}

/// Where the axes lie in the axes of the survey.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Axes {
    /// The origin, in mm.
    pub origin: [f64; 3],
    /// x, y and z, each of length one.
    pub directions: [[f64; 3]; 3],
}

impl Frame {
    /// The corner at the origin.
    pub(super) fn origin(self) -> usize {
        self.level()
            + match self.rail {
                Rail::Left | Rail::Front => 0,
                Rail::Rear => 1,
                Rail::Right => 3,
            }
    }

    /// The first corner of the base.
    fn level(self) -> usize {
        match self.base {
            Base::Bottom => 0,
            Base::Top => 4,
        }
    }

    /// The directions of x, y and z.
    pub(super) fn directions(self, corners: &[Vector; 8]) -> [Vector; 3] {
        let edge = |from: usize, to: usize| between(corners[self.level() + from], corners[self.level() + to]);
        let z = unit(cross(edge(0, 2), edge(1, 3)));
        let flat = |edge: Vector| unit(laid_flat(edge, z));
        let along = |x: Vector| [x, cross(z, x), z];
        let across = |y: Vector| [cross(y, z), y, z];
        match self.rail {
            Rail::Left => along(flat(edge(0, 1))),
            Rail::Right => along(flat(edge(3, 2))),
            Rail::Front => across(flat(edge(0, 3))),
            Rail::Rear => across(flat(edge(1, 2))),
        }
    }

    /// The point that a cuboid keeps its place from.
    pub(super) fn held(self, corners: &[Vector; 8]) -> Vector {
        match self.hold {
            Hold::Corner => corners[self.origin()],
            Hold::Middle => std::array::from_fn(|axis| {
                let sum = corners
                    .iter()
                    .map(|corner| corner[axis])
                    .fold(Jet::fixed(0.0), Jet::add);
                sum * Jet::fixed(0.125)
            }),
        }
    }
}

/// An edge without its part along `z`.
fn laid_flat(edge: Vector, z: Vector) -> Vector {
    let rise = dot(edge, z);
    std::array::from_fn(|axis| edge[axis] - rise * z[axis])
}
