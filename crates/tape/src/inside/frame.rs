//! The axes that a cuboid is told in.

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
    /// The corner at the origin and the corner that the rail runs to.
    pub(super) fn rail_corners(self) -> [usize; 2] {
        let level = match self.base {
            Base::Bottom => 0,
            Base::Top => 4,
        };
        let ends = match self.rail {
            Rail::Left => [0, 1],
            Rail::Right => [3, 2],
            Rail::Front => [0, 3],
            Rail::Rear => [1, 2],
        };
        ends.map(|corner| corner + level)
    }

    /// The directions of x, y and z.
    pub(super) fn directions(self, corners: &[Vector; 8]) -> [Vector; 3] {
        let [origin, end] = self.rail_corners();
        let level = origin / 4 * 4;
        let diagonal = |from: usize, to: usize| between(corners[level + from], corners[level + to]);
        let z = unit(cross(diagonal(0, 2), diagonal(1, 3)));
        let flat = unit(laid_flat(between(corners[origin], corners[end]), z));
        match self.rail {
            Rail::Left | Rail::Right => [flat, cross(z, flat), z],
            Rail::Front | Rail::Rear => [cross(flat, z), flat, z],
        }
    }
}

/// An edge without its part along `z`.
fn laid_flat(edge: Vector, z: Vector) -> Vector {
    let rise: Jet = dot(edge, z);
    std::array::from_fn(|axis| edge[axis] - rise * z[axis])
}
