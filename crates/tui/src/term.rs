//! Ownership of the terminal: taking it, giving it back whatever happens, and reading what comes from it.
//!
//! [`Console`] holds the terminal and draws; [`Events`] reads. Both belong on the same thread: the terminal answers
//! questions in the stream that carries the keys, so a second reader would swallow the answers.

mod console;
mod events;
mod modes;
#[cfg(unix)]
mod signals;

pub use console::{Console, Options, reset_colours};
pub use events::{Events, Reports};
pub use modes::take_worker_panic;
