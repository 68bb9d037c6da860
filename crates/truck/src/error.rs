//! What is refused: which entry, what was given, what is allowed, how to mend it.

/// An entry that a formula does not hold for.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum TruckError {
    /// A figure that has to be more than another.
    #[error("{field}: {given} is not above {least}; {mend}")]
    NotAbove {
        /// The entry.
        field: String,
        /// What was given.
        given: f64,
        /// What it has to be more than.
        least: f64,
        /// What to do, as an instruction.
        mend: &'static str,
    },
    /// A figure outside its range, both ends of which are allowed.
    #[error("{field}: {given} is outside {least} to {most}; {mend}")]
    Outside {
        /// The entry.
        field: String,
        /// What was given.
        given: f64,
        /// The least allowed.
        least: f64,
        /// The most allowed.
        most: f64,
        /// What to do, as an instruction.
        mend: &'static str,
    },
    /// A figure that is no number, or without end.
    #[error("{field}: {given} is no finite number; enter a figure")]
    NotFinite {
        /// The entry.
        field: String,
        /// What was given.
        given: f64,
    },
    /// Too few of something.
    #[error("{field}: {given} given, {least} at least; {mend}")]
    TooFew {
        /// Of what.
        field: String,
        /// How many were given.
        given: usize,
        /// How many there have to be.
        least: usize,
        /// What to do, as an instruction.
        mend: &'static str,
    },
}
