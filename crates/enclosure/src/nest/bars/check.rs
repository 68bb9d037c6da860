//! Whether a nest of bars keeps every rule.

use tape::Length;

use super::{Nest, Request};
use crate::nest::Supply;
use crate::nest::tally::{self, Pieces};

/// What is wrong with a nest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flaw {
    /// A bar of a kind that was not told.
    NoSuchStock,
    /// More bars of a kind than there are.
    TooManyBars,
    /// A piece reaches into the trim, or the kerf between two pieces is missing.
    TooClose,
    /// Trims, pieces, cuts and offcut do not come to the length of the bar.
    DoesNotAddUp,
    /// Parts are missing, or there are more than asked for.
    Quantity,
    /// The figures of the nest are not those of its bars.
    Figures,
}

/// Tells what is wrong with a nest, if anything is: every rule is worked out anew from the request.
///
/// # Errors
///
/// The first [`Flaw`] found.
pub fn check(request: &Request, nest: &Nest) -> Result<(), Flaw> {
    let mut used = vec![0_u32; request.stock.len()];
    let mut cut = Pieces::new();
    for bar in &nest.bars {
        let stock = request.stock.get(bar.stock).ok_or(Flaw::NoSuchStock)?;
        used[bar.stock] += 1;
        let mut from = request.trim;
        let mut total = request.trim * 2 + bar.sawn + bar.offcut;
        for piece in &bar.pieces {
            if piece.offset < from || piece.offset + piece.length > stock.length - request.trim {
                return Err(Flaw::TooClose);
            }
            from = piece.offset + piece.length + request.kerf;
            total += piece.length;
            *cut.entry((piece.id, piece.length)).or_default() += 1;
        }
        let all_sawn = request.kerf * i64::from(bar.cuts);
        let past_the_end = all_sawn - bar.sawn;
        let runs_out = bar.offcut == Length::ZERO && past_the_end < request.kerf;
        if total != stock.length
            || past_the_end.is_negative()
            || bar.offcut.is_negative()
            || (past_the_end > Length::ZERO && !runs_out)
        {
            return Err(Flaw::DoesNotAddUp);
        }
    }
    for (stock, &used) in request.stock.iter().zip(&used) {
        if !stock.supply.lasts_for(used) {
            return Err(Flaw::TooManyBars);
        }
    }
    let parts = request.parts.iter().map(|part| (part.id, part.length, part.quantity));
    if !tally::comes_to(parts, &cut, &nest.left_out) {
        return Err(Flaw::Quantity);
    }
    let bought = nest
        .bars
        .iter()
        .filter(|bar| request.stock[bar.stock].supply == Supply::Bought);
    let right = u32::try_from(bought.count()) == Ok(nest.bought)
        && nest.at_least <= nest.bought
        && nest.proved == (nest.at_least == nest.bought);
    if right { Ok(()) } else { Err(Flaw::Figures) }
}
