//! The screens.
//!
//! [`model`] holds what is shown, [`update`] decides what an input changes and asks the shell for effects, [`view`] draws
//! the model, and [`mod@run`] is the shell: terminal, files, worker. [`keys`] are tables that drive the commands and print
//! the help. [`widgets`] are small pictures of plain values; they know nothing of a job.

pub mod form;
pub mod input;
pub mod keys;
pub mod model;
pub mod page;
pub mod pages;
pub mod run;
mod session;
mod task;
pub mod term;
pub mod theme;
pub mod update;
pub mod view;
pub mod widgets;

pub use run::{Open, Options, run};
pub use task::{Found, Report, Task, Told};
