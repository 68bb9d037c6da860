//! Which of two layouts is better, and which two are as good as the same.

use std::cmp::Reverse;

use super::goal::Goal;
use super::shape::V3;
use super::{Layout, Request};
use crate::{Axis, Orientation};
use tape::Length;

/// How good a layout is; of two, the lesser is better. The fields are compared in their order.
///
/// A string that is split over boxes has its price here: it is dearer than any clearance and cheaper than a box, so no
/// box more is made to keep a string whole.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Rank {
    /// Modules placed: the more the better.
    count: Reverse<u32>,
    /// Boxes to make.
    pub(super) boxes: usize,
    /// Strings that no box holds whole.
    pub(super) split: u32,
    /// Outside sizes to cut for: a box may be turned or mirrored.
    sizes: usize,
    /// Stacks to clamp (or modules, where none are stacked).
    solids: usize,
    /// Boxes with an empty place in their grid: more steel, and no tight strapping, whatever they spare.
    ragged: usize,
    /// The smallest clearance beyond what is asked: the more the better.
    spare: Reverse<Length>,
    /// Twice the height of the modules' centre of gravity above the floors of their cavities, in nanometres.
    height: i64,
    /// Outside volume of all boxes, in cubic nanometres.
    volume: i128,
}

impl Rank {
    pub(super) fn of(request: &Request, goal: &Goal, layout: &Layout) -> Self {
        let arrangements = arrangements(layout);
        Self {
            count: Reverse(layout.count),
            boxes: layout.boxes.len(),
            split: split_strings(layout, goal.string(layout.count)),
            sizes: sizes(layout),
            solids: layout.placements.len(),
            spare: Reverse(layout.to_spare),
            height: height(request, layout),
            ragged: arrangements.iter().filter(|a| a.is_ragged()).count(),
            volume: layout.boxes.iter().map(|place| place.body.size().volume().nm3()).sum(),
        }
    }
}

/// Strings of `string` modules that do not lie whole in one box.
fn split_strings(layout: &Layout, string: u32) -> u32 {
    let held = |index: usize| -> u32 {
        let mine = layout.placements.iter().filter(|p| p.in_box == Some(index));
        mine.map(|p| p.count).sum()
    };
    let whole: u32 = (0..layout.boxes.len()).map(|index| held(index) / string).sum();
    (layout.count / string).saturating_sub(whole)
}

/// How many different outside sizes there are; turned and mirrored ones are the same.
fn sizes(layout: &Layout) -> usize {
    let mut sizes: Vec<[i64; 3]> = layout
        .boxes
        .iter()
        .map(|place| laid_long(place.body.size().0.map(Length::nm)))
        .collect();
    sizes.sort_unstable();
    sizes.dedup();
    sizes.len()
}

/// The size with the longer horizontal side first.
pub(super) fn laid_long([x, y, z]: V3) -> V3 {
    [x.max(y), x.min(y), z]
}

fn height(request: &Request, layout: &Layout) -> i64 {
    let (mut moment, mut mass) = (0_i128, 0_i128);
    for placement in &layout.placements {
        let floor = request.cavities[placement.cavity].space.lo()[Axis::Z];
        let (lo, hi) = (placement.cuboid.lo()[Axis::Z], placement.cuboid.hi()[Axis::Z]);
        // Modules without a mass count alike.
        let each = request.kinds[placement.kind].mass_g.max(1);
        let grams = i128::from(each) * i128::from(placement.count);
        moment += grams * i128::from((lo + hi - floor * 2).nm());
        mass += grams;
    }
    i64::try_from(moment / mass.max(1)).unwrap_or(i64::MAX)
}

/// How the modules of one box stand: which of their own axes is up, and how many of them along each axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Arrangement {
    /// The own axis that is up; `None` when it differs.
    pub(super) up: Option<Axis>,
    /// Different places along each axis.
    pub(super) grid: [usize; 3],
    pub(super) solids: usize,
}

impl Arrangement {
    pub(super) fn up(orientation: Orientation) -> Axis {
        orientation.own_face(crate::Face::Top).axis()
    }

    /// Of solids by how they stand and where their low corners are.
    pub(super) fn of(solids: impl Iterator<Item = (Orientation, V3)> + Clone) -> Self {
        let mut ups = solids.clone().map(|(orientation, _)| Self::up(orientation));
        let first = ups.next();
        let up = first.filter(|&first| ups.all(|up| up == first));
        let grid = std::array::from_fn(|k| {
            let mut places: Vec<i64> = solids.clone().map(|(_, at)| at[k]).collect();
            places.sort_unstable();
            places.dedup();
            places.len()
        });
        Self {
            up,
            grid,
            solids: solids.count(),
        }
    }

    /// Whether places of the grid are empty.
    pub(super) fn is_ragged(&self) -> bool {
        self.grid.iter().product::<usize>() != self.solids
    }
}

fn arrangements(layout: &Layout) -> Vec<Arrangement> {
    let of = |index: usize| {
        let mine = layout.placements.iter().filter(move |p| p.in_box == Some(index));
        Arrangement::of(mine.map(|p| (p.orientation, p.cuboid.lo().0.map(Length::nm))))
    };
    (0..layout.boxes.len()).map(of).collect()
}

/// A box as it counts for what is truly different.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Kept {
    /// Cavities that are the same in all count as one.
    cavity: usize,
    modules: u32,
    arrangement: Arrangement,
    size: V3,
}

impl Kept {
    /// Whether the other is as good as the same: as many modules that stand alike, or a box cut alike with the same side
    /// up.
    fn is_like(&self, other: &Self) -> bool {
        let cut_alike = self.arrangement.up == other.arrangement.up && self.size == other.size;
        self.cavity == other.cavity
            && self.modules == other.modules
            && (self.arrangement == other.arrangement || cut_alike)
    }
}

/// What tells truly different layouts from near-copies.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Signature(Vec<Kept>);

impl Signature {
    pub(super) fn of(request: &Request, layout: &Layout) -> Self {
        let alike = |cavity: usize| {
            let same = |other: &super::Cavity| *other == request.cavities[cavity];
            request.cavities.iter().position(same).unwrap_or(cavity)
        };
        let held = |index: usize| {
            let mine = layout.placements.iter().filter(|p| p.in_box == Some(index));
            mine.map(|p| p.count).sum::<u32>()
        };
        let mut boxes: Vec<Kept> = layout
            .boxes
            .iter()
            .zip(arrangements(layout))
            .enumerate()
            .map(|(index, (place, arrangement))| Kept {
                cavity: alike(place.cavity),
                modules: held(index),
                arrangement,
                size: laid_long(place.body.size().0.map(Length::nm)),
            })
            .collect();
        boxes.sort_unstable();
        Self(boxes)
    }

    /// Whether more than half of the boxes of this layout are none of the other's.
    fn truly_differs(&self, other: &Self) -> bool {
        let mut left = other.0.clone();
        let new = self.0.iter().filter(|one| {
            let same = left.iter().position(|known| known.is_like(one));
            same.map(|same| left.swap_remove(same)).is_none()
        });
        2 * new.count() > self.0.len()
    }

    /// How many boxes with how many modules are in each cavity.
    fn sharing(&self) -> Vec<(usize, u32)> {
        self.0.iter().map(|one| (one.cavity, one.modules)).collect()
    }
}

/// A layout with its rank and signature.
pub(super) type Candidate = (Rank, Signature, Layout);

/// The best candidates that truly differ, `most` at most, best first: the best of each way of sharing out before other
/// ways of standing, with a place kept for the best of another way of standing and of another number of modules.
///
/// One that splits more strings than the best without saving a box is no alternative.
pub(super) fn truly_different(mut ranked: Vec<Candidate>, most: usize) -> Vec<Layout> {
    ranked.sort_by(|a, b| a.0.cmp(&b.0));
    let Some(best) = ranked.first().map(|(rank, ..)| rank.clone()) else {
        return Vec::new();
    };
    ranked.retain(|(rank, ..)| rank.count != best.count || rank.split <= best.split || rank.boxes < best.boxes);
    let (mut sharings, mut standings, mut fewer) = (Vec::new(), Vec::new(), Vec::new());
    let mut seen: Vec<Candidate> = Vec::new();
    for candidate in ranked {
        if seen.iter().any(|kept| !candidate.1.truly_differs(&kept.1)) {
            continue;
        }
        seen.push(candidate.clone());
        let shared = |kept: &Candidate| kept.1.sharing() == candidate.1.sharing();
        if candidate.0.count != best.count {
            fewer.push(candidate);
        } else if sharings.iter().any(shared) {
            standings.push(candidate);
        } else {
            sharings.push(candidate);
        }
    }
    let kept_free = usize::from(!standings.is_empty()) + usize::from(!fewer.is_empty());
    sharings.truncate(most.saturating_sub(kept_free).max(1));
    standings.truncate(most.saturating_sub(sharings.len() + usize::from(!fewer.is_empty())));
    let mut chosen = sharings;
    chosen.extend(standings);
    chosen.extend(fewer);
    chosen.truncate(most);
    chosen.sort_by(|a, b| a.0.cmp(&b.0));
    chosen.into_iter().map(|(.., layout)| layout).collect()
}

#[cfg(test)]
mod tests;
