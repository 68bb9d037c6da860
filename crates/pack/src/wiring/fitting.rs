//! In which order links are fitted, and what volts are met by hand.
//!
//! Every link makes one live piece of two. A piece that stays at or under 60 V is of class A; above, every bare end of it
//! can kill. All orders end at the full volts; they differ in how many links are fitted above 60 V, and how early.

use crate::Volts;

/// The volts up to which a piece is of class A (ISO 6469-3).
pub const CLASS_A: Volts = Volts::from_milli(60_000);

/// One link fitted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// Which link: between the module or group at this place (from 1) and the next.
    pub link: u32,
    /// Modules in series in the piece that it makes.
    pub piece: u32,
    /// Modules in series in the largest piece then.
    pub largest: u32,
}

/// Along the chain, from the pack's minus: the piece grows with every link.
///
/// - `series`: modules or groups in series.
/// - `open`: the link that is left to the plug of the service disconnect, and so is not fitted by hand.
pub fn along(series: u32, open: Option<u32>) -> Vec<Step> {
    pieces(series, (1..series).filter(|link| Some(*link) != open))
}

/// Low volts as long as can be: first pieces of class A, as even as they can be; then neighbouring pieces joined, always
/// the two that make the smallest.
///
/// - `module`: full volts of one module.
pub fn low(series: u32, module: Volts, open: Option<u32>) -> Vec<Step> {
    let fits = u32::try_from(CLASS_A.milli() / module.milli().max(1))
        .unwrap_or(1)
        .max(1);
    let mut fitted: Vec<u32> = Vec::new();
    let mut ends: Vec<u32> = Vec::new();
    let halves = match open {
        Some(after) if after > 0 && after < series => vec![(0, after), (after, series)],
        _ => vec![(0, series)],
    };
    for &(from, to) in &halves {
        let long = to - from;
        let count = long.div_ceil(fits);
        for piece in 0..count {
            let (start, end) = (from + long * piece / count, from + long * (piece + 1) / count);
            fitted.extend(start + 1..end);
            ends.push(end);
        }
    }
    // What is left joins pieces: each joint by the size of what it makes, which changes as pieces grow.
    let mut joints: Vec<u32> = ends
        .into_iter()
        .filter(|end| *end < series && Some(*end) != open)
        .collect();
    while !joints.is_empty() {
        let best = (0..joints.len())
            .min_by_key(|&i| (piece_of(series, &fitted, joints[i]), joints[i]))
            .unwrap_or(0);
        let link = joints.remove(best);
        fitted.push(link);
    }
    pieces(series, fitted.into_iter())
}

/// Modules in the piece that a link makes among links that are fitted.
fn piece_of(series: u32, fitted: &[u32], link: u32) -> u32 {
    let is = |l: u32| l == link || fitted.contains(&l);
    let mut low = link;
    while low > 1 && is(low - 1) {
        low -= 1;
    }
    let mut high = link;
    while high + 1 < series && is(high + 1) {
        high += 1;
    }
    high - low + 2
}

fn pieces(series: u32, links: impl Iterator<Item = u32>) -> Vec<Step> {
    let mut fitted = Vec::new();
    let mut largest = 1;
    links
        .map(|link| {
            let piece = piece_of(series, &fitted, link);
            fitted.push(link);
            largest = largest.max(piece);
            Step { link, piece, largest }
        })
        .collect()
}

/// Steps that make a piece above class A.
pub fn above(steps: &[Step], module: Volts) -> usize {
    steps.iter().filter(|step| module * step.piece > CLASS_A).count()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn both_orders_fit_every_link_once_and_low_is_never_worse(
            series in 1..40_u32, volts in 5.0..70.0_f64, open in proptest::option::of(1..40_u32),
        ) {
            let module = Volts::nearest(volts);
            let open = open.filter(|o| *o < series);
            let (chain, low) = (along(series, open), low(series, module, open));
            let sorted = |steps: &[Step]| { let mut l: Vec<u32> = steps.iter().map(|s| s.link).collect(); l.sort_unstable(); l };
            let expected: Vec<u32> = (1..series).filter(|l| Some(*l) != open).collect();
            prop_assert_eq!(sorted(&chain), expected.clone());
            prop_assert_eq!(sorted(&low), expected);
            prop_assert!(above(&low, module) <= above(&chain, module));
            for (a, b) in low.iter().zip(&chain) {
                prop_assert!(a.largest <= b.largest || module * a.largest <= CLASS_A);
            }
        }
    }

    /// Ten modules of 29 V: two are 58 V. Pairs first, five links at class A; then four joints above it. Opened in the
    /// middle: pieces of 2, 2 and 1 on each side, six links at class A or below, at most 5 modules together by hand.
    #[test]
    fn pieces_of_class_a_come_first() {
        let module = Volts::nearest(29.0);
        let whole = low(10, module, None);
        assert_eq!(above(&whole, module), 4);
        assert_eq!(whole[..5].iter().map(|s| s.piece).max(), Some(2));
        assert_eq!(above(&along(10, None), module), 8);
        let opened = low(10, module, Some(5));
        assert_eq!(opened.last().unwrap().largest, 5);
        assert_eq!(above(&opened, module), 4);
    }
}
