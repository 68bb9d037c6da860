//! Whether a nest of bars keeps every rule.

use std::collections::BTreeMap;

use tape::Length;

use super::{Nest, Request};
use crate::nest::Supply;

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
    let mut cut: BTreeMap<(usize, Length), u32> = BTreeMap::new();
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
        if matches!(stock.supply, Supply::OnHand(n) if used > n) {
            return Err(Flaw::TooManyBars);
        }
    }
    let mut wanted: BTreeMap<usize, u32> = BTreeMap::new();
    let mut sizes: BTreeMap<(usize, Length), u32> = BTreeMap::new();
    for part in request.parts.iter().filter(|part| part.quantity > 0) {
        *wanted.entry(part.id).or_default() += part.quantity;
        *sizes.entry((part.id, part.length)).or_default() += part.quantity;
    }
    let mut given: BTreeMap<usize, u32> = BTreeMap::new();
    for (&(id, length), &n) in &cut {
        if sizes.get(&(id, length)).is_none_or(|&most| n > most) {
            return Err(Flaw::Quantity);
        }
        *given.entry(id).or_default() += n;
    }
    for left in &nest.left_out {
        *given.entry(left.id).or_default() += left.quantity;
    }
    if given != wanted {
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
