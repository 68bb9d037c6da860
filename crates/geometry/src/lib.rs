//! Axis-parallel solids in exact integers: cuboids, orientations, clearances, and the automatic fit.
//!
//! **Frame.** Every cavity has its own: x rearward, y to the right, z up, origin at its front-left-bottom corner.
//! Left and right are as the driver sees them.
//!
//! Start with [`Cuboid`] and [`Face`], then [`clearance`]; [`fit`] is the automatic layout, [`spread`] shares out the room
//! that a layout leaves.

pub mod clearance;
mod cuboid;
pub mod fit;
mod frame;
mod orientation;
pub mod spread;

pub use cuboid::{Cuboid, Point, Size};
pub use frame::{Axis, Face, Faces};
pub use orientation::Orientation;
