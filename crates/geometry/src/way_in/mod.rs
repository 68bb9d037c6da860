//! Whether a box can go into its cavity, which way, and what stops it.
//!
//! In the order of what the questions cost: [`closed_forms`] for the sketch; [`straight`] sweeps a thing along one axis,
//! exactly, in whole nanometres; [`level`] moves it along all three, one after the other, just as exactly; [`plan`] moves and
//! pitches it in one plane; [`order`] tells in which order several boxes go in, [`service`] what has to come out of a box
//! before a module does.
//!
//! Touching is allowed everywhere, as in the rest of the crate.

pub mod closed_forms;
pub mod level;
pub mod order;
pub mod plan;
pub mod service;
pub mod straight;
mod watch;

pub use watch::{Budget, Progress, Watch};
