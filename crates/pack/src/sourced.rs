//! Typical figures that carry where they come from.

/// A typical figure, where it comes from and how it is known. The module's own data are better.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sourced<T> {
    /// The figure.
    pub value: T,
    /// Where it comes from; of one from memory it says so.
    pub source: &'static str,
    /// `found` in a source that could be opened, `computed`, or from `memory`.
    pub known_by: &'static str,
}
