//! Whether an answer holds the parts that were asked for, each in its size.

use std::collections::BTreeMap;

use super::LeftOut;

/// Pieces in number, by id and size.
pub(super) type Pieces<S> = BTreeMap<(usize, S), u32>;

/// Whether pieces and parts left out come to the parts asked for: no more of a size of an id than was told, and of each
/// id as many.
pub(super) fn comes_to<S: Copy + Ord>(
    parts: impl Iterator<Item = (usize, S, u32)>,
    pieces: &Pieces<S>,
    left_out: &[LeftOut],
) -> bool {
    let mut wanted: BTreeMap<usize, u32> = BTreeMap::new();
    let mut sizes: Pieces<S> = BTreeMap::new();
    for (id, size, quantity) in parts.filter(|&(_, _, quantity)| quantity > 0) {
        *wanted.entry(id).or_default() += quantity;
        *sizes.entry((id, size)).or_default() += quantity;
    }
    let mut given: BTreeMap<usize, u32> = BTreeMap::new();
    for (key, &n) in pieces {
        if sizes.get(key).is_none_or(|&most| n > most) {
            return false;
        }
        *given.entry(key.0).or_default() += n;
    }
    for left in left_out {
        *given.entry(left.id).or_default() += left.quantity;
    }
    given == wanted
}
