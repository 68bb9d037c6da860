//! What a person typed, turned into an exact length, or refused with the reason and the place.
//!
//! The notation is that of a tape and a pencil: `41 5/8"`, `41-5/8`, `3' 5 1/2"`, `3 ft 5`, `41⅝`, `105.8 cm`,
//! `1 m 58 mm`, `1058 mm ± 1`. A number without a unit takes the unit the person works in; after feet it is inches.
//! What is nearly always a slip is refused, not guessed at: `415/8` (the space was left out), `41 5/6` (a digit was
//! lost), `41 - 5/8` (or is it less 5/8?), `1,058` (thousands or decimals?).
//!
//! The value is worked out exactly and rounded once, to the nearest nanometre, ties to even. 1 in = 25.4 mm and
//! 1 ft = 304.8 mm exactly, so every mark on a tape is a whole number of nanometres.
//!
//! Source of the rules, the reasons for refusing and their check values: `tests/cases/survey.json`, part
//! `d_tape_notation`; known by: computed by hand as fractions and with a separate exact-rational parser.

mod amount;
mod grammar;
mod number;
mod refusal;
mod token;

use std::fmt;

pub use refusal::{NotationError, Reason};

use crate::{Length, show};
use amount::Amount;
use grammar::Found;
use token::Unit;

/// The unit of a bare number: the unit the person works in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Units {
    /// Inches, with fractions.
    #[default]
    Inch,
    /// Millimetres.
    Millimetre,
}

impl Units {
    /// The unit of a bare number, and the mark that is added to it.
    const fn bare(self) -> (Unit, &'static str) {
        match self {
            Self::Inch => (Unit::Inch, show::INCH_MARK),
            Self::Millimetre => (Unit::Millimetre, show::MILLIMETRE_MARK),
        }
    }
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
/// `1058 mm`, `41 5/8 +- 1/16` becomes `41 5/8" +- 1/16"`) and each run of spaces made one.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Written {
    text: String,
    value: Length,
    plus_minus: Option<Length>,
    exact: bool,
}

impl Written {
    /// A length that the program worked out, in a form that reads back as exactly this length.
    ///
    /// In inches when the person works in inches and it is a whole number of 1/64 in (`41 5/8"`, `-3/4"`), else in
    /// millimetres with as many decimals as it needs (`123.456789 mm`). Reads back for lengths within 100 m of zero.
    pub fn exactly(length: Length, units: Units) -> Self {
        let on_a_mark = length.nm() % Length::sixty_fourths(1).nm() == 0;
        let text = if units == Units::Inch && on_a_mark {
            show::inches(length, show::Fraction::SixtyFourth, show::Rounding::Nearest)
        } else {
            show::exact_millimetres(length)
        };
        Self {
            text,
            value: length,
            plus_minus: None,
            exact: true,
        }
    }

    /// The text, unit included.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The units it was written in: no name of an inch or a foot has an `m`.
    pub fn units(&self) -> Units {
        if self.text.contains(['m', 'M']) {
            Units::Millimetre
        } else {
            Units::Inch
        }
    }

    /// The value, to the nearest nanometre.
    pub const fn value(&self) -> Length {
        self.value
    }

    /// What was typed after `+-`, as limits.
    pub const fn plus_minus(&self) -> Option<Length> {
        self.plus_minus
    }

    /// Whether the value is just what was typed: false when it had to be rounded to the nanometre (`41.6253712"`).
    pub const fn exact(&self) -> bool {
        self.exact
    }
}

impl fmt::Display for Written {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.text)
    }
}

/// The most characters that a written length may have, unit included.
const LONGEST: usize = 64;

/// Reads one length as a person in a shop writes it.
///
/// - `units`: the unit of a number without one;
/// - `allow`: whether zero and a leading minus are taken; whatever it says, nothing over 100 m is.
///
/// Reading the [`Written::text`] that comes out gives the same [`Written`] again, whatever `units` is.
///
/// # Errors
///
/// [`NotationError`] with one of the [`Reason`]s and the character where the trouble is. No text makes it panic.
///
/// # Examples
///
/// ```
/// use tape::{Allow, Length, Reason, Units, notation};
///
/// let width = notation::read("41 5/8", Units::Inch, Allow::AboveZero)?;
/// assert_eq!(width.text(), "41 5/8\"");
/// assert_eq!(width.value(), Length::sixty_fourths(41 * 64 + 40));
///
/// let slip = notation::read("415/8", Units::Inch, Allow::AboveZero).unwrap_err();
/// assert_eq!(slip.reason, Reason::ImproperFraction);
/// assert!(slip.mend().starts_with("did you mean 41 5/8?"));
/// # Ok::<(), tape::NotationError>(())
/// ```
pub fn read(text: &str, units: Units, allow: Allow) -> Result<Written, NotationError> {
    if text.trim().is_empty() {
        return Err(NotationError {
            reason: Reason::Empty,
            at: 0,
            text: String::new(),
        });
    }
    let mut chars: Vec<char> = text.chars().take(LONGEST + 1).collect();
    if chars.len() > LONGEST {
        chars[LONGEST] = '…';
        return Err(NotationError {
            reason: Reason::TrailingText,
            at: LONGEST,
            text: chars.iter().collect(),
        });
    }
    written(&chars, units, allow).map_err(|trouble| NotationError {
        reason: trouble.reason,
        at: trouble.at,
        text: text.to_owned(),
    })
}

/// A refusal before the text is put to it.
struct Trouble {
    reason: Reason,
    at: usize,
}

impl Trouble {
    const fn new(reason: Reason, at: usize) -> Self {
        Self { reason, at }
    }
}

fn written(chars: &[char], units: Units, allow: Allow) -> Result<Written, Trouble> {
    let (unit, mark) = units.bare();
    let found = grammar::parse(&token::scan(chars)?, unit, allow)?;
    let text = with_marks(chars, &found, mark);
    if text.chars().count() > LONGEST {
        return Err(Trouble::new(Reason::TrailingText, found.length.end));
    }
    let out_of_range = |at| move || Trouble::new(Reason::OutOfRange, at);
    let (value, exact) = in_range(found.length.amount).ok_or_else(out_of_range(found.length.at))?;
    if value == Length::ZERO && allow == Allow::AboveZero {
        return Err(Trouble::new(Reason::ZeroLength, found.length.at));
    }
    let plus_minus = match &found.plus_minus {
        Some(limits) => Some(in_range(limits.amount).ok_or_else(out_of_range(limits.at))?.0),
        None => None,
    };
    let value = if found.negative { -value } else { value };
    Ok(Written {
        text,
        value,
        plus_minus,
        exact,
    })
}

/// The amount to the nearest nanometre and whether that is exact; `None` above 100 m.
fn in_range(amount: Amount) -> Option<(Length, bool)> {
    (amount <= Amount::whole(MOST_NM)).then(|| amount.nearest()).flatten()
}

/// 100 m, longer than any vehicle.
const MOST_NM: u128 = 100_000_000_000;

/// The typed text with a unit mark after each bare number, if the length has no unit at all, and single spaces.
fn with_marks(chars: &[char], found: &Found, mark: &str) -> String {
    let mut text = String::new();
    for (i, c) in chars.iter().enumerate() {
        text.push(*c);
        let ends = |part: &grammar::Part| !part.named && part.end == i + 1;
        if !found.length.named && (ends(&found.length) || found.plus_minus.as_ref().is_some_and(ends)) {
            text.push_str(mark);
        }
    }
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests;
