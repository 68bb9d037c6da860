//! Whether a box can go into its cavity, which way, and what stops it.
//!
//! [`plan`](plan::plan) moves and pitches a thing in one plane.
//!
//! Touching is allowed everywhere, as in the rest of the crate.

pub mod plan;
mod watch;

pub use watch::{Budget, Progress, Watch};
