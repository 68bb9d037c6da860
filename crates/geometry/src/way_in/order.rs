//! In which order several boxes go in, when those already in are in the way of the next.
//!
//! Backwards: of the boxes that are in, take out any that can come out. With fewer in, no box is harder to take out, so
//! taking one never spoils the rest, and if this gets stuck no order works. The way in is the way out reversed.

/// Whether a thing can come out past others.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Comes {
    /// It can.
    Out,
    /// It is proved that it cannot.
    Not,
    /// Nothing was found, and nothing proved.
    Unknown,
}

/// No order was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stuck {
    /// The things that would have to be in before each other.
    pub left: Vec<usize>,
    /// The others, in the order in which they go in past those.
    pub rest: Vec<usize>,
    /// Whether that is proved: none of them can come out while the others are in.
    pub proved: bool,
}

/// The order in which `count` things go in, first one first.
///
/// `comes(thing, others)` tells whether a thing can come out while the others are in.
///
/// # Errors
///
/// [`Stuck`] with those that keep each other in.
pub fn order(count: usize, mut comes: impl FnMut(usize, &[usize]) -> Comes) -> Result<Vec<usize>, Stuck> {
    let mut left: Vec<usize> = (0..count).collect();
    let mut out = Vec::new();
    while !left.is_empty() {
        let mut proved = true;
        let mut found = None;
        // The last one first, so that where any order does things go in as they are listed.
        for place in (0..left.len()).rev() {
            let mut others = left.clone();
            let thing = others.remove(place);
            match comes(thing, &others) {
                Comes::Out => {
                    found = Some(place);
                    break;
                }
                Comes::Not => {}
                Comes::Unknown => proved = false,
            }
        }
        match found {
            Some(place) => out.push(left.remove(place)),
            None => {
                let rest = out.into_iter().rev().collect();
                return Err(Stuck { left, rest, proved });
            }
        }
    }
    out.reverse();
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Each thing comes out when none of those in its way is in.
    fn past<'a>(in_the_way: &'a [&'a [usize]]) -> impl FnMut(usize, &[usize]) -> Comes + 'a {
        |thing, others| {
            if in_the_way[thing].iter().any(|other| others.contains(other)) {
                Comes::Not
            } else {
                Comes::Out
            }
        }
    }

    #[test]
    fn the_one_behind_goes_in_first() {
        // Both from below; one stands under the other, and the upper cannot come out past it.
        assert_eq!(order(2, past(&[&[], &[0]])), Ok(vec![1, 0]));
        assert_eq!(order(2, past(&[&[1], &[]])), Ok(vec![0, 1]));
    }

    #[test]
    fn two_that_keep_each_other_in_are_told() {
        // The first and the last come in past where the other stands; the middle one is free.
        let stuck = order(3, past(&[&[2], &[], &[0]])).unwrap_err();
        assert_eq!((stuck.left, stuck.rest, stuck.proved), (vec![0, 2], vec![1], true));
    }

    #[test]
    fn not_knowing_is_no_proof() {
        let stuck = order(2, |_, _| Comes::Unknown).unwrap_err();
        assert!(!stuck.proved);
    }

    #[test]
    fn every_order_given_works_forwards() {
        // Things that can come out only after those of higher number: the order has to be the one listed.
        let comes = |thing: usize, others: &[usize]| {
            if others.iter().all(|&other| other < thing) {
                Comes::Out
            } else {
                Comes::Not
            }
        };
        assert_eq!(order(5, comes), Ok(vec![0, 1, 2, 3, 4]));
    }
}
