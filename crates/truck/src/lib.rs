//! The truck: what it weighs on which wheel, what it may weigh, how far it goes, and how it is charged.
//!
//! Knows nothing of boxes, modules or volts of a pack: it is told masses at places, a usable energy and a few figures of
//! the truck. SI units throughout, each in the name of its field: kilograms, metres, metres a second, watts; mass is
//! what a scale shows, and becomes a force only where a formula needs one. [`units`] converts.
//!
//! **Axes**: x rearward, y to the driver's right, z up; the origin is on the ground, on the centre plane, under the front axle.
//!
//! Start with [`mass`] (items put on and taken off, axle and wheel loads), then [`rating`] (what the plate and the tyres
//! allow). [`ramp`] is what hits the ground. [`road`] is the force at a speed, [`cycle`] the energy of a drive, [`cycles`]
//! the drives themselves. [`gear`], [`charge`], [`sun`] and [`lift`] stand alone.
//!
//! Every figure that is not entered carries its [`Source`]. What is out of range is refused with a [`TruckError`]; nothing
//! is clamped.

pub mod charge;
mod check;
pub mod cycle;
pub mod cycles;
mod error;
pub mod gear;
pub mod lift;
pub mod mass;
pub mod ramp;
pub mod rating;
pub mod road;
pub mod source;
pub mod sun;
pub mod units;

pub use error::{Quantity, Towards, TruckError, short};
pub use source::{KnownBy, Source, Sourced};
