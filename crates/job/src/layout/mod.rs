//! From a job to the question for the automatic layout, and from its answer back to boxes.

mod aim;
mod candidate;
mod hung;
mod others;
mod pins;
mod place;
mod propose;
mod question;
mod reaches;
mod rule;
mod spread;
mod take_over;
mod wanted;

pub use aim::{Aim, Count, CountError, counts};
pub use candidate::{Candidate, Figures};
pub use others::Other;
pub use place::{next_place, start_corner};
pub use propose::{ForLegs, GoIn, Proposal, propose, propose_any};
pub(crate) use question::needs;
pub use question::{NotYet, Question, question};
pub use spread::{Spreading, Which, spread};
pub use take_over::take_over;
