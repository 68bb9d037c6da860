//! The screens.
//!
//! [`term`] owns the terminal: how it is taken, given back and read. [`theme`] says how a meaning looks, with
//! colour and without. [`widgets`] are small pictures made of plain values; they know nothing of a job.

pub mod input;
pub mod term;
pub mod theme;
pub mod widgets;
