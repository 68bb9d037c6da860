//! In which order seams are welded: tacks, diagonals, then opposite seams in turn; then what goes in and on the box.
//!
//! Common practice, known by: memory. What it does is sound whatever the source: each seam pulls, and its opposite pulls
//! back.

use tape::Length;

use super::{At, Seam, Side};
use crate::Held;
use crate::added::Fixing;

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
    /// Put the panels of a frame of angle in, held so.
    Panels(Held),
    /// Rivet on what lies flat on floor or lid.
    Rivet(Fixing),
    /// Go on to what was added there, for its reason.
    GoOn(At),
    /// Weld all of what was added, every other one first.
    WeldAll {
        /// The seams' number.
        seam: u32,
        /// How many are of that sort.
        count: u32,
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
            Self::Panels(Held::Riveted { bead, heads, .. }) if bead > Length::ZERO => {
                format!(
                    "clamp the panels in, drill through panel and angle, take them out and deburr; lay the bead of sealant on the angle \
                     all round, between the rivets' line and the edge of the panel; {}, before it skins over; what is welded to a \
                     panel is welded before the sealant",
                    heads.set()
                )
            }
            Self::Panels(Held::Riveted { heads, .. }) => {
                format!(
                    "clamp the panels in, drill through panel and angle; {}; what is welded to a panel comes after it",
                    heads.set()
                )
            }
            Self::Panels(Held::Bonded) => {
                "weld what goes on a panel while it is loose; bond it in when all is cold: heat takes the adhesive"
                    .to_owned()
            }
            Self::Rivet(Fixing {
                role,
                wall,
                rivets,
                heads,
                ..
            }) => format!(
                "{}s: clamp them flat to the {} when all is cold, the holes of both in line; {}: {rivets} rivets, from the \
                 middle of each out",
                role.name(),
                wall.name(),
                heads.set()
            ),
            Self::GoOn(at) => at.after_the_shell().unwrap_or("then").to_owned(),
            Self::WeldAll { seam, count: 1, side } => format!("weld seam {seam}, {}", side.name()),
            Self::WeldAll { seam, count, side } => {
                format!("weld seam {seam}, all {count}, {}: every other one first", side.name())
            }
        }
    }
}

/// Tacks of all of the shell, corners first; then its seams in the order of their numbers, of each sort opposite ones in
/// turn. Then the panels of a frame of angle, and sort by sort what was added: it is put in a shell that has drawn in
/// already; what is riveted comes when nothing is welded any more.
///
/// Seams of one sort are lettered going round the box, so the opposite of the first of four is the third.
pub(super) fn of(seams: &[Seam], panels: Option<Held>, fixings: &[Fixing]) -> Vec<Step> {
    let is_shell = |seam: &&Seam| seam.at.after_the_shell().is_none();
    let tack = |seam: &Seam| Step::Tack {
        seam: seam.number,
        count: seam.count,
        tacks: seam.tacks,
    };
    let mut steps: Vec<Step> = seams.iter().filter(is_shell).map(tack).collect();
    if !steps.is_empty() {
        steps.push(Step::Measure);
        steps.extend(seams.iter().filter(is_shell).flat_map(one_by_one));
        steps.push(Step::Measure);
    }
    steps.extend(panels.map(Step::Panels));
    let added: Vec<&Seam> = seams.iter().filter(|seam| !is_shell(seam)).collect();
    for sort in added.chunk_by(|a, b| a.at == b.at) {
        steps.push(Step::GoOn(sort[0].at));
        steps.extend(sort.iter().map(|seam| tack(seam)));
        steps.extend(sort.iter().map(|seam| Step::WeldAll {
            seam: seam.number,
            count: seam.count,
            side: seam.side,
        }));
    }
    if !added.is_empty() {
        steps.push(Step::Measure);
    }
    steps.extend(fixings.iter().copied().map(Step::Rivet));
    steps
}

/// Each of a sort by its letter, opposite ones in turn.
fn one_by_one(seam: &Seam) -> impl Iterator<Item = Step> {
    let (number, count, side) = (seam.number, seam.count, seam.side);
    let half = count.div_ceil(2);
    (0..half)
        .flat_map(move |first| [first, first + half])
        .filter(move |&which| which < count)
        .map(move |which| Step::Weld {
            seam: number,
            which,
            side,
        })
}
