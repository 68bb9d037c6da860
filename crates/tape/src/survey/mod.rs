//! The shape of a cavity that nothing is square in, from readings between its corners.
//!
//! [`Observation`]s between the eight [`Corner`]s, readings and statements, make a survey. [`adjust`] gives the shape
//! that fits all of them best, with its uncertainty, or says why there is none.

mod adjust;
pub mod chance;
mod closing;
mod corner;
mod guess;
mod influence;
pub mod least_squares;
pub mod network;
mod next;
mod observation;
mod refusal;
mod search;
mod slope;
mod solve;
mod start;
mod strength;

pub use adjust::{Adjustment, Agreement, Figure, LineFigure, adjust};
pub use closing::{OpenTriangle, open_triangles};
pub use corner::{Corner, CornerError, Direction, Face, Line, LineKind};
pub use guess::{Body, Guess, Slip, guesses};
pub use next::{Gain, Repair, effect, gains, repairs, telling_apart, what_fixes};
pub use observation::{Corners, Observation, Told};
pub use refusal::{Refusal, Short};
pub use search::{Search, Suspect, UNCHECKED, nameable_mm, search, search_with};
pub use start::{square_box, start_box};
pub use strength::{Strength, WEAK, strength};
