//! How far every thing is from its neighbours.

use tape::Length;

use crate::{Cuboid, Face};

/// One solid of a thing. A thing may be made of several solids (a body, a lid with its flange): they carry the same
/// `thing` number, touch or overlap each other freely, and are judged together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Solid {
    /// Which thing the solid belongs to; numbers run from 0 without holes.
    pub thing: usize,
    /// The space it takes.
    pub cuboid: Cuboid,
}

/// What a clearance ends at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Neighbour {
    /// A wall of the surrounding space.
    Wall(Face),
    /// Another thing.
    Thing(usize),
}

/// The free distance from one face of a thing, straight out, to the first thing in its way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Clearance {
    /// The direction looked in.
    pub face: Face,
    /// The free distance; negative when the two overlap along this direction, or the thing sticks out of the space.
    pub distance: Length,
    /// What is met.
    pub neighbour: Neighbour,
}

/// All clearances of one thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Around {
    /// One for each face, in the order of [`Face::ALL`].
    pub faces: [Clearance; 6],
    /// The true nearest distance to anything, over corners too; the face is the direction of its largest part.
    pub nearest: Clearance,
}
