//! Lengths as exact integers, the way people in a shop write them, and readings of a cavity.
//!
//! Start with [`Length`]. [`notation`] turns what a person typed into a [`Written`] length and says what is
//! wrong when it cannot; [`show`] prints a length again with a stated rounding direction; [`reading`] gives a
//! reading its standard uncertainty; [`square`] turns several readings per dimension into the usable figure of a
//! cavity that is assumed to be square; [`survey`] gives the shape of one that is not, from readings between corners;
//! [`inside`] fits the usable cuboid into that, and [`point`] places what is taped from its corners.

pub mod inside;
mod length;
pub mod notation;
pub mod point;
pub mod reading;
pub mod show;
pub mod square;
pub mod survey;

pub use length::{Area, Length, Volume};
pub use notation::{Allow, NotationError, Reason, Units, Written};
