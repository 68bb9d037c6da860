//! In which order seams are welded: tacks, diagonals, then opposite seams in turn.
//!
//! Common practice, known by: memory. What it does is sound whatever the source: each seam pulls, and its opposite pulls
//! back.

use super::{Seam, Side};

/// One thing to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// Tack every one of this sort, ends first, opposite ones in turn.
    Tack {
        /// The seams' number.
        seam: u32,
        /// How many are of that sort.
        count: u32,
        /// Tacks on each.
        tacks: u32,
    },
    /// Measure the diagonals, and pull the box square.
    Measure,
    /// Weld one, from its middle out.
    Weld {
        /// The seam's number.
        seam: u32,
        /// Which of that sort, from 0, going round the box.
        which: u32,
        /// On which side.
        side: Side,
    },
}

/// The letter of a seam among those of its sort: `a` for the first.
pub(super) const fn letter(which: u32) -> char {
    const LETTERS: [char; 8] = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'];
    LETTERS[(which % 8) as usize]
}

impl Step {
    /// The step in words.
    pub fn words(self) -> String {
        match self {
            Self::Tack { seam, count, tacks } => {
                format!("tack seam {seam}, all {count}: {tacks} tacks each, both ends first, opposite ones in turn")
            }
            Self::Measure => "measure the diagonals; pull the box square".to_owned(),
            Self::Weld { seam, which, side } => {
                format!("weld {seam}{}, {}, from the middle out", letter(which), side.name())
            }
        }
    }
}

/// Tacks of all, corners first; then the seams in the order of their numbers, of each sort opposite ones in turn.
///
/// Seams of one sort are lettered going round the box, so the opposite of the first of four is the third.
pub(super) fn of(seams: &[Seam]) -> Vec<Step> {
    let tacks = seams.iter().map(|seam| Step::Tack {
        seam: seam.number,
        count: seam.count,
        tacks: seam.tacks,
    });
    let welds = seams.iter().flat_map(|seam| {
        let half = seam.count.div_ceil(2);
        (0..half)
            .flat_map(move |first| [first, first + half])
            .filter(|&which| which < seam.count)
            .map(|which| Step::Weld {
                seam: seam.number,
                which,
                side: seam.side,
            })
    });
    tacks
        .chain([Step::Measure])
        .chain(welds)
        .chain([Step::Measure])
        .collect()
}
