//! Usual figures that carry where they come from.

pub use ::source::{KnownBy, Source};

/// A usual figure and where it comes from. The truck's own is better.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sourced<T> {
    /// The figure.
    pub value: T,
    /// Where it comes from.
    pub source: Source,
}
