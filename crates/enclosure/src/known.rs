//! How a figure in a table is known.

/// How a figure is known, shown beside it wherever it decides something.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum KnownBy {
    /// Read in a published table or standard.
    Found,
    /// Worked out from a stated rule.
    Computed,
    /// Recalled, not read: check before relying on it.
    Memory,
}
