//! Axis-parallel solids in exact integers: cuboids, orientations, clearances, and the automatic fit.
//!
//! **Frame.** Every cavity has its own: x rearward, y to the right, z up, origin at its front-left-bottom corner.
//! Left and right are as the driver sees them.
//!
//! Start with [`Cuboid`] and [`Face`], then [`clearance`]; [`fit`] is the automatic layout, [`spread`] shares out the room
//! that a layout leaves; [`way_in`] tells whether a box can go where it is laid out, [`sweep`] what a tilting bed meets.

pub mod clearance;
mod cuboid;
pub mod fit;
mod frame;
mod orientation;
mod out_of_range;
mod plane;
pub mod spread;
pub mod sweep;
pub mod way_in;

pub use cuboid::{Cuboid, Point, Size};
pub use frame::{Axis, Face, Faces};
pub use orientation::Orientation;
pub use out_of_range::OutOfRange;
