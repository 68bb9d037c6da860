//! In which order several boxes go in, when those already in are in the way of the next.
//!
//! Backwards: of the boxes that are in, take out any that can come out. With fewer in, no box is harder to take out, so
//! taking one never spoils the rest, and if this gets stuck no order works. The way in is the way out reversed.

use tape::Length;

use super::straight::{Straight, straight};
use crate::{Cuboid, Face};

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

/// A box at its goal, with the sides it may come in by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Boxed {
    /// Its solids where it is to stand.
    pub parts: Vec<Cuboid>,
    /// The sides it may come straight in by.
    pub through: Vec<Face>,
}

/// The order in which boxes go in along straight ways, each from `from` off its goal.
///
/// # Errors
///
/// [`Stuck`], always proved: straight ways are exact. Other ways may still do.
pub fn straight_order(boxes: &[Boxed], obstacles: &[Cuboid], from: Length) -> Result<Vec<usize>, Stuck> {
    order(boxes.len(), |thing, others| {
        let mut around = obstacles.to_vec();
        around.extend(others.iter().flat_map(|&other| &boxes[other].parts));
        let goes = |&through: &Face| {
            straight(&Straight {
                parts: &boxes[thing].parts,
                obstacles: &around,
                through,
                from,
            })
            .goes()
        };
        if boxes[thing].through.iter().any(goes) {
            Comes::Out
        } else {
            Comes::Not
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Point;

    fn boxed(lo: [i64; 3], hi: [i64; 3], through: Face) -> Boxed {
        Boxed {
            parts: vec![Cuboid::between(Point(lo.map(Length::mm)), Point(hi.map(Length::mm)))],
            through: vec![through],
        }
    }

    #[test]
    fn the_one_behind_goes_in_first() {
        // Both from below; the first stands under the second.
        let below = boxed([0, 0, 0], [100, 100, 100], Face::Bottom);
        let above = boxed([0, 0, 100], [100, 100, 200], Face::Bottom);
        assert_eq!(
            straight_order(&[below.clone(), above.clone()], &[], Length::mm(900)),
            Ok(vec![1, 0])
        );
        assert_eq!(straight_order(&[above, below], &[], Length::mm(900)), Ok(vec![0, 1]));
    }

    #[test]
    fn two_that_keep_each_other_in_are_told() {
        // Each comes in past where the other stands.
        let front = boxed([0, 0, 0], [100, 100, 100], Face::Rear);
        let rear = boxed([200, 0, 0], [300, 100, 100], Face::Front);
        let free = boxed([0, 300, 0], [100, 400, 100], Face::Top);
        let stuck = straight_order(&[front, free, rear], &[], Length::mm(900)).unwrap_err();
        assert_eq!((stuck.left, stuck.proved), (vec![0, 2], true));
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
