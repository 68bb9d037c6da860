//! What a person typed, turned into an exact length, or refused with the reason and the place.

use crate::Length;

/// The unit of a bare number: the unit the person works in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Units {
    /// Inches, with fractions.
    #[default]
    Inch,
    /// Millimetres.
    Millimetre,
}

/// Which values a field takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Allow {
    /// A taped distance or a size: above zero, at most 100 m.
    AboveZero,
    /// A margin, gap or thickness: zero or above, at most 100 m.
    ZeroOrMore,
    /// A position: either sign (one leading `-`), at most 100 m from zero.
    Signed,
}

/// A length with the form it was written in.
///
/// `text` always carries a unit, so that it means the same whatever the session's unit is: what the person typed,
/// trimmed, with the session's unit mark added where none was typed (`41 5/8` becomes `41 5/8"`, `1058` becomes
/// `1058 mm`).
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Written {
    text: String,
    value: Length,
    plus_minus: Option<Length>,
}

impl Written {
    /// The text, unit included.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The exact value.
    pub const fn value(&self) -> Length {
        self.value
    }

    /// What was typed after `+-`, as limits.
    pub const fn plus_minus(&self) -> Option<Length> {
        self.plus_minus
    }
}
/// placeholder
#[derive(Clone, Debug)] pub struct NotationError;
/// placeholder
#[derive(Clone, Debug)] pub enum Reason {}
