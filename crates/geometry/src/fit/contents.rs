//! What may go into one box together: grids of equal modules or stacks, and fillings of whatever shape.

use super::Kind;
use super::rank::Arrangement;
use super::shape::{Put, Shape, V3, faces, modules};

/// Numbers of stacks tried beyond the fewest.
const MORE_STACKS: u32 = 6;
/// The most grids round what is pinned.
const MOST_ANCHORED: usize = 4_000;

/// Modules or stacks that go into a box together, seen from anywhere; what is pinned comes first.
#[derive(Clone, Debug)]
pub(super) enum Content {
    Grid(Box<Grid>),
    Puts(Vec<Put>),
}

impl Content {
    pub(super) fn puts(&self) -> Vec<Put> {
        match self {
            Self::Grid(grid) => grid.puts(),
            Self::Puts(puts) => puts.clone(),
        }
    }

    /// How many modules or stacks.
    pub(super) fn solids(&self) -> usize {
        match self {
            Self::Grid(grid) => grid.solids,
            Self::Puts(puts) => puts.len(),
        }
    }

    pub(super) fn arrangement(&self) -> Arrangement {
        match self {
            Self::Grid(grid) => Arrangement {
                up: Some(Arrangement::up(grid.cell.orientation)),
                grid: grid.counts.map(|n| usize::try_from(n).unwrap_or(0)),
                solids: grid.solids,
            },
            Self::Puts(puts) => Arrangement::of(puts.iter().map(|put| (put.shape.orientation, put.at))),
        }
    }
}

/// A grid of one shape, or of stacks as even as can be: the larger ones first.
#[derive(Clone, Copy, Debug)]
pub(super) struct Grid {
    pub(super) cell: Shape,
    /// What stands in the places after the `larger` first ones.
    smaller: Shape,
    larger: usize,
    solids: usize,
    counts: V3,
    pitch: V3,
}

impl Grid {
    /// Whether all places hold the same.
    pub(super) fn is_even(&self) -> bool {
        self.larger == self.solids
    }

    /// From the first place's low corner to the last one's high corner.
    pub(super) fn extent(&self) -> V3 {
        std::array::from_fn(|k| self.cell.extent[k] + (self.counts[k] - 1) * self.pitch[k])
    }

    fn places(&self) -> impl Iterator<Item = V3> {
        let [long, wide, high] = self.counts;
        let pitch = self.pitch;
        let places = (0..high).flat_map(move |z| (0..long).flat_map(move |x| (0..wide).map(move |y| [x, y, z])));
        places.map(move |at| std::array::from_fn(|k| at[k] * pitch[k]))
    }

    fn puts(&self) -> Vec<Put> {
        let shapes = (0..self.solids).map(|i| if i < self.larger { self.cell } else { self.smaller });
        shapes.zip(self.places()).map(|(shape, at)| Put { shape, at }).collect()
    }
}

/// Every grid of at most so many tiers without an empty layer that holds `total` of a kind within `most`.
pub(super) fn grids(
    kind: (usize, &Kind),
    shapes: &[Shape],
    total: u32,
    (most, tiers): (V3, i64),
    gap: i64,
) -> Vec<Grid> {
    let (index, stack) = (kind.0, kind.1.stack);
    let mut all = Vec::new();
    if total == 0 {
        return all;
    }
    let (fewest, largest) = stack.map_or((total, total), |s| (total.div_ceil(s.max), total / s.min));
    for solids in fewest..=largest.min(fewest.saturating_add(MORE_STACKS)) {
        let (each, more) = match stack {
            Some(_) => (total / solids, total % solids),
            None => (1, 0),
        };
        let largest = if more > 0 { each + 1 } else { each };
        let (solids, more) = (whole(solids), whole(more));
        for cell in shapes.iter().filter(|s| s.kind == index && s.count == largest) {
            let smaller = shapes
                .iter()
                .find(|s| s.kind == index && s.count == each && s.orientation == cell.orientation);
            let (Some(&smaller), larger) = (smaller, if more > 0 { more } else { solids }) else {
                continue;
            };
            let grid = Grid {
                cell: *cell,
                smaller,
                larger,
                solids,
                counts: [1; 3],
                pitch: pitch(cell, gap),
            };
            every_size(grid, most, tiers, &mut all);
        }
    }
    all
}

/// From one of a row to the next.
pub(super) fn pitch(cell: &Shape, gap: i64) -> V3 {
    std::array::from_fn(|k| {
        let (low, high) = faces(k);
        cell.extent[k] + gap.max(cell.service[low]).max(cell.service[high])
    })
}

fn every_size(grid: Grid, most: V3, tiers: i64, all: &mut Vec<Grid>) {
    let n = i64::try_from(grid.solids).unwrap_or(i64::MAX);
    let fits = |count: i64, k: usize| grid.cell.extent[k] + (count - 1) * grid.pitch[k] <= most[k];
    for high in (1..=n.min(tiers)).take_while(|&count| fits(count, 2)) {
        for wide in (1..=n).take_while(|&count| fits(count, 1)) {
            let long = (n + high * wide - 1) / (high * wide);
            if fits(long, 0) && long * wide * (high - 1) < n && long * (wide - 1) * high < n {
                all.push(Grid {
                    counts: [long, wide, high],
                    ..grid
                });
            }
        }
    }
}

/// Grids with what is pinned in some of their places, and whatever is in the way of it left out: `total` in all.
pub(super) fn anchored(pinned: &[Put], grids: &[Grid], total: u32, gap: i64) -> Vec<Vec<Put>> {
    let mut all: Vec<Vec<Put>> = Vec::new();
    let Some(first) = pinned.first() else {
        return all;
    };
    let mut tried = 0;
    for grid in grids {
        let same = |shape: &Shape| shape.extent == first.shape.extent && shape.count == first.shape.count;
        let puts = grid.puts();
        for anchor in puts.iter().filter(|put| same(&put.shape)) {
            tried += 1;
            if tried > MOST_ANCHORED {
                return all;
            }
            let by: V3 = std::array::from_fn(|k| first.at[k] - anchor.at[k]);
            let free = |put: &Put| pinned.iter().all(|other| clear(put, other, gap));
            let mut set = pinned.to_vec();
            set.extend(puts.iter().map(|put| put.moved(by)).filter(free));
            if modules(&set) == total {
                all.push(set);
            }
        }
    }
    all
}

/// Whether two keep the gap and each other's service space.
fn clear(one: &Put, other: &Put, gap: i64) -> bool {
    (0..3).any(|k| {
        let (low, high) = faces(k);
        let between = |before: &Put, behind: &Put| {
            let room = gap.max(before.shape.service[high]).max(behind.shape.service[low]);
            before.at[k] + before.shape.extent[k] + room <= behind.at[k]
        };
        between(one, other) || between(other, one)
    })
}

fn whole(n: u32) -> usize {
    usize::try_from(n).unwrap_or(usize::MAX)
}
