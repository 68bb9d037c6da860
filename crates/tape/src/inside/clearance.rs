//! What a cuboid keeps from the walls.

use super::cavity::Cavity;
use super::cuts::{Touch, VERTICES, is_high};
use super::keep_back::Guard;
use super::rounding::{self, Space};
use super::shape::COORDINATES;
use super::side::Side;
use crate::Length;

/// The distance of a corner of a cuboid from a wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Clearance {
    /// The wall.
    pub wall: Side,
    /// The two corners of the cavity that hold the wall there.
    pub diagonal: [usize; 2],
    /// The corner of the cavity on that wall which is nearest.
    pub corner: usize,
    /// The corner of the cuboid, numbered as those of the cavity ([`corner_name`](super::corner_name)).
    pub cuboid_corner: usize,
    /// The distance, square to the wall, nothing kept back; rounded down.
    pub distance: Length,
    /// Its standard uncertainty, rounded up.
    pub sigma: Length,
    /// How the distance changes with each coordinate of the cavity's corners in the axes of the survey, a ratio;
    /// coordinate `axis` of corner `n` is number `3·n + axis`. The cuboid stays where it is in the axes of the cavity.
    pub gradient: [f64; COORDINATES],
}

impl Cavity {
    /// The smallest distance of a cuboid from each wall, in the order of [`Side::ALL`].
    pub fn clearances(&self, space: &Space) -> [Clearance; 6] {
        let vertices = self.vertices(space);
        Side::ALL.map(|side| touch_of(self, &vertices, smallest(self, &vertices, side)))
    }

    /// The corners of a cuboid, in the units of the cavity.
    pub(super) fn vertices(&self, space: &Space) -> [[f64; 3]; VERTICES] {
        std::array::from_fn(|vertex| {
            std::array::from_fn(|axis| {
                let ends = if is_high(vertex, axis) { space.hi } else { space.lo };
                ends[axis].as_mm() / self.scale
            })
        })
    }
}

/// The wall of a side and the vertex that are nearest to each other, both by number.
pub(super) fn smallest(cavity: &Cavity, vertices: &[[f64; 3]; VERTICES], side: Side) -> (usize, usize) {
    let mut nearest = (f64::INFINITY, (0, 0));
    for (number, wall) in cavity.walls.iter().enumerate().filter(|(_, wall)| wall.side == side) {
        for (vertex, point) in vertices.iter().enumerate() {
            let distance = wall.distance(*point);
            if distance < nearest.0 {
                nearest = (distance, (number, vertex));
            }
        }
    }
    nearest.1
}

/// The clearance of a vertex from a wall, both by number.
pub(super) fn touch_of(cavity: &Cavity, vertices: &[[f64; 3]; VERTICES], touch: (usize, usize)) -> Clearance {
    let (wall, vertex) = (&cavity.walls[touch.0], touch.1);
    let point = vertices[vertex];
    let apart = |corner: usize| -> f64 {
        let ways = cavity.corners[corner].iter().zip(point);
        ways.map(|(a, b)| (a - b) * (a - b)).sum()
    };
    let mut corner = wall.diagonal[0];
    for other in wall.side.corners() {
        if apart(other) < apart(corner) {
            corner = other;
        }
    }
    // Round the bottom, the corners of the cavity are numbered in a ring.
    let ring = [0, 1, 3, 2][vertex % 4] + vertex / 4 * 4;
    Clearance {
        wall: wall.side,
        diagonal: wall.diagonal,
        corner,
        cuboid_corner: ring,
        distance: rounding::distance(wall.distance(point) * cavity.scale),
        sigma: rounding::uncertainty(wall.sigma(point) * cavity.scale),
        gradient: wall.gradient(point),
    }
}

/// The wall and the vertex whose uncertainty costs the goal the most; whose touch does, when nothing is uncertain.
pub(super) fn dearest(guards: &[Guard<'_>], vertices: &[[f64; 3]; VERTICES], touches: &[Touch]) -> (usize, usize) {
    let mut best = ((0.0, 0.0), (0, 0));
    for touch in touches {
        let same = touches
            .iter()
            .filter(|other| (other.guard, other.vertex) == (touch.guard, touch.vertex));
        let price: f64 = same.map(|touch| touch.price).sum();
        let cost = price * guards[touch.guard].wall.sigma(vertices[touch.vertex]);
        if (cost, price) > best.0 {
            best = ((cost, price), (touch.guard, touch.vertex));
        }
    }
    best.1
}
