//! Blocks of like pieces put into the maximal empty spaces of a hollow, by beam search.
//!
//! For hollows with far too many places to search one by one. A state is what has been put down and the maximal empty
//! cuboids left (Lai and Chan 1997). One step takes the space nearest to a corner of the hollow and puts a grid of one
//! piece into the space's corner there: the state is as good as what a greedy completion makes of it, and the best few
//! states go on (block building with tree and beam search: Fanslau and Bortfeldt 2010; Araya and Riff 2014). Rounds of
//! twice the width follow each other while there is work left. (All three papers from memory.)

mod empties;
#[cfg(test)]
mod tests;

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use super::folded::{Folded, Laid, sizes_along, sums};
use super::shape::V3;
use empties::{Empties, Space, size};

/// The most sums of sizes kept along an axis; a length beyond them counts as one that can be filled.
const MOST_SUMS: usize = 4_000;
/// Numbers of pieces tried along one axis of a space.
const NUMBERS: usize = 3;
/// Grids tried in one space.
const MOST_GRIDS: usize = 24;
/// Menus remembered.
const MOST_MENUS: usize = 8_000;
/// Completed states kept for each that goes on, since some turn out equal.
const SPARE: usize = 8;
/// The last width.
const WIDEST: usize = 256;

/// So many of a piece along each axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
struct Grid {
    /// Index into the pieces.
    piece: usize,
    number: V3,
}

/// The hollow partly filled.
#[derive(Clone, Debug, Default)]
struct State {
    empties: Empties,
    placed: Vec<(Grid, V3)>,
    /// What is left of each kind.
    left: Vec<u32>,
    count: u32,
}

/// A state to go on from, with what its greedy completion comes to.
struct Branch {
    state: State,
    promise: u32,
}

impl Branch {
    fn new(state: &State) -> Self {
        Self {
            state: state.clone(),
            promise: state.count,
        }
    }
}

/// The search in one hollow, which can be left and taken up again.
pub(super) struct Beam {
    folded: Folded,
    start: State,
    kitchen: Kitchen,
    width: usize,
    /// The states of the level at hand.
    level: Vec<State>,
    /// What to put down next in which of them, and where; the most promising last.
    waiting: Vec<(usize, Grid, V3)>,
    completed: Vec<Branch>,
    best: Vec<(Grid, V3)>,
    count: u32,
}

/// Makes the menu of grids for a space, best first, and remembers it for spaces of equal size.
struct Kitchen {
    sums: [Vec<i64>; 3],
    menus: HashMap<V3, Arc<[Grid]>>,
    /// The most modules per volume.
    density: f64,
}

impl Beam {
    /// For a hollow with at most `caps` of each kind.
    pub(super) fn new(folded: &Folded, caps: &[u32]) -> Self {
        let start = State {
            empties: Empties::new(folded.dims, &folded.blocks, |size| useful(folded, size)),
            placed: Vec::new(),
            left: caps.to_vec(),
            count: 0,
        };
        Self {
            kitchen: Kitchen::new(folded),
            folded: folded.clone(),
            completed: vec![Branch::new(&start)],
            start,
            width: 1,
            level: Vec::new(),
            waiting: Vec::new(),
            best: Vec::new(),
            count: 0,
        }
    }

    /// Whether every width was tried.
    pub(super) fn done(&self) -> bool {
        self.width > WIDEST
    }

    /// Modules in the best so far.
    pub(super) fn count(&self) -> u32 {
        self.count
    }

    /// The best so far.
    pub(super) fn best(&self) -> Vec<Laid> {
        let mut laid = Vec::new();
        for &(Grid { piece, number }, at) in &self.best {
            let extent = self.folded.pieces[piece].size;
            for z in 0..number[2] {
                for y in 0..number[1] {
                    for x in 0..number[0] {
                        let step = [x, y, z];
                        laid.push(Laid {
                            piece,
                            at: std::array::from_fn(|k| at[k] + step[k] * extent[k]),
                        });
                    }
                }
            }
        }
        laid
    }

    /// Works for about so many steps; the steps it took.
    pub(super) fn search(&mut self, steps: u64) -> u64 {
        let mut spent = 0;
        while spent < steps && !self.done() {
            spent += match self.waiting.pop() {
                Some((from, grid, at)) => self.complete(from, grid, at),
                None => self.next_level(),
            };
        }
        spent
    }

    /// Puts a grid down, then completes by taking the best grid again and again; the steps it took.
    fn complete(&mut self, from: usize, grid: Grid, at: V3) -> u64 {
        let mut state = self.level[from].clone();
        let mut spent = 1 + self.put(&mut state, grid, at);
        let mut full = state.clone();
        while let Some((space, menu)) = self.open(&mut full, &mut spent)
            && let Some(at) = self.corners(menu[0], &space).next()
        {
            spent += self.put(&mut full, menu[0], at);
        }
        if full.count > self.count {
            self.count = full.count;
            self.best = full.placed;
        }
        self.completed.push(Branch {
            state,
            promise: full.count,
        });
        if self.completed.len() > SPARE * self.width {
            self.completed.sort_by_key(|branch| std::cmp::Reverse(branch.promise));
            self.completed.truncate(SPARE / 2 * self.width);
        }
        spent
    }

    /// Branches the best states of this level, or starts again with twice the width; the steps it took.
    fn next_level(&mut self) -> u64 {
        let mut spent = 1;
        let mut level = std::mem::take(&mut self.completed);
        level.sort_by_key(|branch| std::cmp::Reverse(branch.promise));
        let mut seen = HashSet::new();
        level.retain(|branch| {
            let mut spaces = branch.state.empties.0.clone();
            spaces.sort_unstable();
            seen.insert((branch.state.count, spaces))
        });
        level.truncate(self.width);
        self.level = level.into_iter().map(|branch| branch.state).collect();
        for from in 0..self.level.len() {
            let mut state = std::mem::take(&mut self.level[from]);
            if let Some((space, menu)) = self.open(&mut state, &mut spent) {
                let corners = |&grid| self.corners(grid, &space).map(move |at| (from, grid, at));
                let ways: Vec<_> = menu.iter().flat_map(corners).take(self.width.max(2)).collect();
                self.waiting.extend(ways);
            }
            self.level[from] = state;
        }
        self.waiting.reverse();
        if self.waiting.is_empty() {
            self.width *= 2;
            self.completed.push(Branch::new(&self.start));
        }
        spent
    }

    /// The space to fill next, and what to fill it with; spaces for which nothing is left are dropped.
    fn open(&mut self, state: &mut State, spent: &mut u64) -> Option<(Space, Arc<[Grid]>)> {
        loop {
            let spaces = &state.empties.0;
            let dims = self.folded.dims;
            let far = |(lo, hi): &Space| -> i64 { (0..3).map(|k| lo[k].min(dims[k] - hi[k])).sum() };
            let (at, &space) = spaces.iter().enumerate().min_by(|(_, a), (_, b)| {
                let larger = || volume(size(b)).total_cmp(&volume(size(a)));
                far(a).cmp(&far(b)).then_with(larger).then_with(|| a.cmp(b))
            })?;
            *spent += 1 + whole(spaces.len()) / 16;
            let menu = self.kitchen.menu(&self.folded, size(&space), &state.left, spent);
            if !menu.is_empty() {
                return Some((space, menu));
            }
            state.empties.0.swap_remove(at);
        }
    }

    /// Where a grid goes into a corner of the space that is nearest to a corner of the hollow; the low ones first.
    fn corners(&self, grid: Grid, &(lo, hi): &Space) -> impl Iterator<Item = V3> {
        let extent = self.extent(grid);
        let dims = self.folded.dims;
        let ends: [(bool, bool); 3] = std::array::from_fn(|k| {
            let nearer = lo[k].cmp(&(dims[k] - hi[k]));
            (
                nearer.is_le(),
                nearer.is_ge() && extent[k] < hi[k] - lo[k] || nearer.is_gt(),
            )
        });
        (0..8_u8).filter_map(move |bits| {
            let high = [bits & 1 != 0, bits & 2 != 0, bits & 4 != 0];
            let near = (0..3).all(|k| if high[k] { ends[k].1 } else { ends[k].0 });
            near.then(|| std::array::from_fn(|k| if high[k] { hi[k] - extent[k] } else { lo[k] }))
        })
    }

    fn extent(&self, grid: Grid) -> V3 {
        let piece = &self.folded.pieces[grid.piece];
        std::array::from_fn(|k| grid.number[k] * piece.size[k])
    }

    /// Puts a grid down; the steps it took.
    fn put(&self, state: &mut State, grid: Grid, at: V3) -> u64 {
        let folded = &self.folded;
        let extent = self.extent(grid);
        let count = modules(folded, grid);
        let spent = 1 + whole(state.empties.0.len()) / 8;
        let end = std::array::from_fn(|k| at[k] + extent[k]);
        state.empties.cut(&(at, end), |size| useful(folded, size));
        state.placed.push((grid, at));
        state.left[folded.pieces[grid.piece].kind] -= count;
        state.count += count;
        spent
    }
}

impl Kitchen {
    fn new(folded: &Folded) -> Self {
        let sums =
            std::array::from_fn(|k| sums(&[0], &sizes_along(&folded.pieces, k), folded.dims[k].max(0), MOST_SUMS));
        let densities = folded.pieces.iter().map(|p| f64::from(p.count) / volume(p.size));
        Self {
            sums,
            menus: HashMap::new(),
            density: densities.fold(0.0, f64::max),
        }
    }

    fn menu(&mut self, folded: &Folded, space: V3, left: &[u32], spent: &mut u64) -> Arc<[Grid]> {
        let known = self.menus.get(&space).cloned();
        let menu = known.unwrap_or_else(|| {
            let menu: Arc<[Grid]> = self.cook(folded, space, None, spent).into();
            if self.menus.len() >= MOST_MENUS {
                self.menus.clear();
            }
            self.menus.insert(space, Arc::clone(&menu));
            menu
        });
        let short = |&grid: &Grid| modules(folded, grid) > left[folded.pieces[grid.piece].kind];
        if menu.iter().any(short) {
            return self.cook(folded, space, Some(left), spent).into();
        }
        menu
    }

    /// The grids that waste least, told by what no sum of sizes fills beside them, large ones first. That the root of
    /// the modules weighs against the modules wasted was found by trial: waste matters most in large spaces.
    fn cook(&self, folded: &Folded, space: V3, left: Option<&[u32]>, spent: &mut u64) -> Vec<Grid> {
        let mut grids: Vec<(f64, Grid)> = Vec::new();
        for (piece, p) in folded.pieces.iter().enumerate() {
            let most = left.map_or(i64::MAX, |left| i64::from(left[p.kind] / p.count));
            if most == 0 || (0..3).any(|k| p.size[k] > space[k]) {
                continue;
            }
            let [xs, ys, zs]: [Vec<i64>; 3] = std::array::from_fn(|k| self.numbers(k, space[k], p.size[k]));
            for &x in &xs {
                for &y in &ys {
                    for &z in &zs {
                        let number = at_most([x, y, z], most);
                        let used: V3 = std::array::from_fn(|k| {
                            let own = number[k] * p.size[k];
                            own + self.reach(k, space[k] - own)
                        });
                        let grid = Grid { piece, number };
                        let waste = volume(space) - volume(used);
                        let worth = f64::from(modules(folded, grid)).sqrt() - self.density * waste;
                        grids.push((worth, grid));
                    }
                }
            }
        }
        *spent += whole(grids.len()) / 8;
        grids.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        grids.dedup();
        grids.truncate(MOST_GRIDS);
        grids.into_iter().map(|(_, grid)| grid).collect()
    }

    /// How many of a size to put along a length: as many as go in, and fewer that leave less waste.
    fn numbers(&self, k: usize, length: i64, size: i64) -> Vec<i64> {
        let most = length / size;
        let waste = |number: &i64| {
            let rest = length - number * size;
            rest - self.reach(k, rest)
        };
        let mut numbers: Vec<i64> = (1..most).rev().collect();
        numbers.sort_by_key(waste);
        numbers.truncate(NUMBERS - 1);
        numbers.insert(0, most);
        numbers
    }

    /// The largest sum of sizes that fits.
    fn reach(&self, k: usize, length: i64) -> i64 {
        let sums = &self.sums[k];
        if sums.len() > MOST_SUMS && sums.last().is_some_and(|&last| last < length) {
            return length;
        }
        let fitting = sums.partition_point(|&sum| sum <= length);
        fitting.checked_sub(1).map_or(0, |at| sums[at])
    }
}

/// Whether any piece goes into a space of this size.
fn useful(folded: &Folded, size: V3) -> bool {
    let fits = |extent: V3| (0..3).all(|k| extent[k] <= size[k]);
    folded.pieces.iter().any(|piece| fits(piece.size))
}

/// Modules in a grid.
fn modules(folded: &Folded, grid: Grid) -> u32 {
    let number: i64 = grid.number.iter().product();
    u32::try_from(number)
        .unwrap_or(u32::MAX)
        .saturating_mul(folded.pieces[grid.piece].count)
}

/// The grid with rows, then layers, left out until no more than `most` are in it.
fn at_most(number: V3, most: i64) -> V3 {
    let mut room = most;
    number.map(|n| {
        let n = n.min(room);
        room /= n;
        n
    })
}

#[expect(clippy::cast_precision_loss, reason = "an estimate to choose by")]
fn volume(size: V3) -> f64 {
    size[0] as f64 * size[1] as f64 * size[2] as f64
}

fn whole(n: usize) -> u64 {
    u64::try_from(n).unwrap_or(u64::MAX)
}
