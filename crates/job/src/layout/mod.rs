//! From a job to the question for the automatic layout, and from its answer back to boxes.

mod place;
mod propose;
mod question;
mod rule;
mod take_over;

pub use place::{next_place, start_corner};
pub use propose::{Proposal, propose};
pub use question::{Aim, NotYet, Question, question};
pub use take_over::take_over;
