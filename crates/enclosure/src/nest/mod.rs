//! Nesting: what is cut from which bar or sheet, and a proved count that it cannot go below.
//!
//! [`bars`] lays lengths on bars, [`sheets`] rectangles on sheets, and [`fill`] puts what is worth most on one sheet.
//! All of them take what a cut removes into account the same way: each part grows by the kerf, and the stock, less its
//! trim, grows by the kerf too, since the last part needs no cut beyond it. Counts are of stock that must be bought;
//! stock on hand is free, and is used where it saves some.
//!
//! Code that knows nothing of how an answer was found tells whether it keeps every rule: [`bars::check`] and
//! [`sheets::check`]. Tests and builds with debug assertions run it on every answer.

pub mod bars;
mod cover;
mod dual;
pub mod fill;
mod meter;
pub mod sheets;
mod tally;

pub use meter::{Budget, Ended, Progress, Unwatched, Watch};

use tape::Length;

/// How long kept stock lasts: it is there in a number, or bought as wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Supply {
    /// Bought, as many as wanted.
    Bought,
    /// So many lie there already.
    OnHand(u32),
}

impl Supply {
    /// How many there are; `u16::MAX` when bought.
    fn number(self) -> u16 {
        match self {
            Self::Bought => u16::MAX,
            Self::OnHand(n) => u16::try_from(n).unwrap_or(u16::MAX),
        }
    }

    /// Whether so many can be used.
    fn lasts_for(self, used: u32) -> bool {
        match self {
            Self::Bought => true,
            Self::OnHand(n) => used <= n,
        }
    }
}

/// Why nothing can be nested: a size that makes no sense.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NestError {
    /// A part has a side that is not above zero.
    #[error("part {id}: a side of {side} nm is not above zero: give its cut size", side = side.nm())]
    PartSize {
        /// The part.
        id: usize,
        /// The side.
        side: Length,
    },
    /// A stock size has a side that is not above zero.
    #[error("stock {index}: a side of {side} nm is not above zero: give its full size", side = side.nm())]
    StockSize {
        /// Index into the stock that was told.
        index: usize,
        /// The side.
        side: Length,
    },
    /// Kerf or trim is below zero.
    #[error("kerf or trim of {given} nm is below zero: give 0 when there is none", given = given.nm())]
    Negative {
        /// What was given.
        given: Length,
    },
    /// A side is larger than [`LARGEST`], or there are more than [`MOST_PARTS`] parts.
    #[error("too large to nest: at most {MOST_PARTS} parts, and no side above 1 km")]
    TooLarge,
}

/// The longest side that is worked with.
pub const LARGEST: Length = Length::mm(1_000_000);
/// The most parts that are worked with.
pub const MOST_PARTS: u32 = 20_000;

/// Why some parts are not in the answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// Larger than every stock size.
    FitsNoStock,
    /// All stock on hand is used up, and none can be bought that is large enough.
    StockUsedUp,
}

/// Parts that are not in the answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LeftOut {
    /// The id they were told with.
    pub id: usize,
    /// How many.
    pub quantity: u32,
    /// Why.
    pub why: Why,
}

/// Refuses sizes that make no sense.
fn validate(
    parts: impl Iterator<Item = (usize, Vec<Length>, u32)>,
    stock: impl Iterator<Item = Vec<Length>>,
    takes: [Length; 2],
) -> Result<(), NestError> {
    let bad = |side: &Length| *side <= Length::ZERO;
    let mut pieces = 0_u32;
    for (id, sides, quantity) in parts {
        if let Some(&side) = sides.iter().find(|side| bad(side)) {
            return Err(NestError::PartSize { id, side });
        }
        pieces = pieces.saturating_add(quantity);
        if sides.iter().any(|&side| side > LARGEST) {
            return Err(NestError::TooLarge);
        }
    }
    for (index, sides) in stock.enumerate() {
        if let Some(&side) = sides.iter().find(|side| bad(side)) {
            return Err(NestError::StockSize { index, side });
        }
        if sides.iter().any(|&side| side > LARGEST) {
            return Err(NestError::TooLarge);
        }
    }
    if let Some(&given) = takes.iter().find(|take| take.is_negative()) {
        return Err(NestError::Negative { given });
    }
    if pieces > MOST_PARTS || takes.iter().any(|&take| take > LARGEST) {
        return Err(NestError::TooLarge);
    }
    Ok(())
}
