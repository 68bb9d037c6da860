//! How far every thing is from its neighbours.
//!
//! [`around`] looks at one thing and compares it with everything; [`all_around`] answers the same for all things at
//! once and is quick enough for every key press. [`overlaps`], [`outside`] and [`blocked_service`] say what is wrong;
//! [`separation`] is the figure that a margin or a gap is compared with.
//!
//! **What is reported.** Straight out from each face of a thing, the free distance to the first solid of another
//! thing, or to the wall. Only solids whose outlines, seen along that direction, overlap are in the way; a solid that
//! merely lines up with an edge is passed.
//!
//! **Overlap.** Two solids that overlap are told of by one face only, the one through which they could be parted by
//! the shortest step; its distance is that step, negative. The other faces look past the overlapping solid to what
//! lies beyond. Equal steps go to x before y before z. Where even the two ends of an axis tie (the middles coincide),
//! the thing with the lower number tells it by its low face and the other by its high face, so that both tell of the
//! same pair of faces.
//!
//! **Ties.** Of two neighbours at the same distance a thing comes before a wall, and the lower number first.

mod pair;
mod rules;
mod sweep;
#[cfg(test)]
mod tests;

use tape::Length;

use crate::{Cuboid, Face};

pub use rules::{blocked_service, outside, overlaps, separation};
pub use sweep::all_around;

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

/// A space and the solids in it, in one frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scene<'a> {
    /// The space whose walls bound the clearances.
    pub space: Cuboid,
    /// Everything that stands in it, in any order.
    pub solids: &'a [Solid],
}

/// The clearances of one thing; `None` when no solid carries its number.
///
/// A face of the thing has the least clearance of that face of all its solids. The true nearest distance is rounded
/// down to the nanometre, and negative when the thing overlaps another or sticks out of the space: then it is the
/// deepest overlap.
///
/// Compares the thing's solids with all others; for all things at once see [`all_around`].
///
/// # Examples
///
/// ```
/// use geometry::clearance::{Neighbour, Scene, Solid, around};
/// use geometry::{Cuboid, Face, Point, Size};
/// use tape::Length;
///
/// let block = |x: i64, size: i64| {
///     Cuboid::at(Point([Length::mm(x), Length::ZERO, Length::ZERO]), Size([Length::mm(size); 3]))
/// };
/// let solids = [Solid { thing: 0, cuboid: block(5, 20) }, Solid { thing: 1, cuboid: block(37, 20) }];
/// let scene = Scene { space: block(0, 100), solids: &solids };
/// let rear = around(&scene, 0).expect("thing 0 has a solid").faces[Face::Rear.index()];
/// assert_eq!((rear.distance, rear.neighbour), (Length::mm(12), Neighbour::Thing(1)));
/// ```
pub fn around(scene: &Scene<'_>, thing: usize) -> Option<Around> {
    let of_solid = |solid: &Solid| {
        let mut around = Around::walls(&scene.space, &solid.cuboid);
        for other in scene.solids {
            around.meet(solid, other);
        }
        around
    };
    scene
        .solids
        .iter()
        .filter(|solid| solid.thing == thing)
        .map(of_solid)
        .reduce(Around::least)
}
