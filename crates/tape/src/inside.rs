//! The usable cuboid of a cavity that nothing is square in.
//!
//! A survey gives eight corners and how well they are known together ([`Shape`]). [`Cavity::new`] lays axes on it and
//! puts a wall through each face, on the safe side of a warped one. [`Cavity::largest`] is the largest cuboid along
//! these axes, [`Cavity::roomiest`] the place where a cuboid of a given size has the most room,
//! [`Cavity::clearances`] what a cuboid at a given place has, [`Cavity::slack`] what it has along an axis on both sides
//! together. [`Cavity::goes_in`] is how likely it goes in when it may be moved about, [`Cavity::chance`] how likely cuboids
//! are inside where they are. What is kept back from the walls is a
//! [`KeepBack`].
//!
//! # Method
//!
//! - *Axes*: z square to both diagonals of the base, x along a rail laid flat; origin at the rail's end. The axes are
//!   worked out from the corners too, so a cuboid is told from the floor and the rail that are really there.
//! - *Walls*: the normal of a face is square to both its diagonals. Each diagonal holds one wall; where the face is
//!   warped, the inner one counts. Both ways to fold the face along a diagonal, and any skin stretched inside the four
//!   corners, lie on or outside of it.
//! - *Uncertainty*: the distance of a point from a wall is differentiated with respect to the 24 coordinates of the
//!   corners, through wall and axes; its variance is g'·C·g (GUM, JCGM 100:2008, 5.2.2, known by: memory). It does not
//!   depend on where the survey put its own axes.
//! - *Room*: distance less what is kept back is a concave function of the point, so the cuboids that fit make a convex
//!   set, and the largest one (of the sum of the logarithms of its sides) and the roomiest are found by cutting planes
//!   (Kelley 1960, known by: memory), each time with an interior-point method (Mehrotra 1992, known by: memory).
//!
//! Corners say nothing about what lies between them: weld beads, bolt heads, a bowed rail. Readings taken there are
//! [`Cap`]s, and [`capped`] makes a space no longer than they leave.

mod cap;
mod cavity;
mod chance;
mod clearance;
mod cuts;
mod frame;
mod interior;
mod jet;
mod keep_back;
mod largest;
mod places;
mod refusal;
mod roomiest;
mod rounding;
mod sensitivity;
mod shape;
mod side;
mod slack;
#[cfg(test)]
mod tests;
mod wall;

pub use cap::{Cap, capped};
pub use cavity::Cavity;
pub use clearance::Clearance;
pub use frame::{Axes, Base, Frame, Hold, Rail};
pub use keep_back::{Corners, KeepBack};
pub use largest::{Limit, Usable};
pub use refusal::NoCuboid;
pub use roomiest::Placed;
pub use rounding::Space;
pub use shape::Shape;
pub use side::{Side, corner_name};
pub use slack::Slack;
