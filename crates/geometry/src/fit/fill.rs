//! The best filling of one hollow.

use super::hollow::{Hollow, search};
use super::meter::{Dice, Meter};
use super::shape::{Hall, Put, Shape};

/// How hard to try.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Effort {
    /// Grids in regions.
    Quick,
    /// Grids and blocks in regions.
    Construct,
    /// Grids, then the search.
    Search,
}

/// What to fill a hollow with.
#[derive(Clone, Copy)]
pub(super) struct Wish<'a> {
    pub(super) shapes: &'a [Shape],
    /// The most of each kind.
    pub(super) caps: &'a [u32],
    /// Enough is enough.
    pub(super) target: u32,
    pub(super) effort: Effort,
}

/// What came of filling a hollow.
pub(super) struct Filled {
    /// Fillings that differ, best first; the first may be empty.
    pub(super) found: Vec<Vec<Put>>,
}

/// Fills the hall.
pub(super) fn fill(hall: &Hall, wish: Wish, dice: &mut Dice, meter: &mut Meter) -> Filled {
    let mut hollow = match wish.effort {
        Effort::Search => Hollow::new(hall, wish.shapes, wish.caps, dice, meter),
        _ => Hollow::with_grids(hall, wish.shapes, wish.caps, dice, meter),
    };
    let few = hollow.count() < wish.target;
    match wish.effort {
        Effort::Construct if few => hollow.build_blocks(meter.left() / 3, true, meter),
        Effort::Search if few => {
            let enough = |count, _| count >= wish.target;
            search(std::slice::from_mut(&mut hollow), enough, meter);
        }
        _ => {}
    }
    Filled {
        found: hollow.into_found(),
    }
}
