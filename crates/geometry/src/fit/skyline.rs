//! The exact search for a flat layer: so many pieces of one kind in a rectangle, or the proof that they do not go in.
//!
//! With the rectangle's sides rounded down to sums of sizes, all but a known waste must be covered. The search looks at
//! the lowest, leftmost open place of the skyline: a piece starts there, or the place is wasted. Every layout pushed to
//! the low corner is found exactly once that way, so an exhausted search is a proof. It gives up a branch when the waste
//! is used up, counting columns whose remaining height and pits whose width no sum of sizes reaches.

use std::collections::HashMap;

use super::folded::{Folded, Laid, others, sizes_along, sums};
use super::meter::{Dice, Meter};
use super::shape::V3;

/// Finer rasters than this along a side are not searched.
const MOST_LINES: usize = 400;
/// Skylines remembered as hopeless.
const MOST_KNOWN: usize = 150_000;
/// Places looked at before the search starts again with other likings.
const PATIENCE: u64 = 30_000;

/// What the search for one count came to.
enum Outcome {
    Found(Vec<(usize, usize, usize)>),
    Impossible,
    GaveUp,
}

/// A folded question that is nothing but equal flat layers on each other.
pub(super) struct Flat<'f> {
    folded: &'f Folded,
    /// The axis across the layers, the one along the skyline, and the one of its height.
    axes: [usize; 3],
    layers: i64,
    /// Size along the two other axes, with a piece that has it.
    rects: Vec<(i64, i64, usize)>,
    us: Vec<i64>,
    vs: Vec<i64>,
}

impl<'f> Flat<'f> {
    /// The question as flat layers, if it is that: no blocks, single modules of one kind, all of the same thickness.
    pub(super) fn new(folded: &'f Folded) -> Option<Self> {
        let plain = folded.blocks.is_empty() && folded.kinds().len() == 1 && folded.pieces.iter().all(|p| p.count == 1);
        let across = [2, 1, 0]
            .into_iter()
            .find(|&k| sizes_along(&folded.pieces, k).len() == 1)?;
        // Along the shorter side there are fewer skylines.
        let (u, v) = match others(across) {
            (u, v) if folded.dims[u] > folded.dims[v] => (v, u),
            sides => sides,
        };
        let mut rects: Vec<(i64, i64, usize)> = Vec::new();
        for (i, piece) in folded.pieces.iter().enumerate() {
            if !rects.iter().any(|r| (r.0, r.1) == (piece.size[u], piece.size[v])) {
                rects.push((piece.size[u], piece.size[v], i));
            }
        }
        let lines = |k| sums(&[0], &sizes_along(&folded.pieces, k), folded.dims[k], MOST_LINES);
        let (us, vs) = (lines(u), lines(v));
        let layers = folded.dims[across] / folded.pieces.first()?.size[across];
        let fine = us.len() > MOST_LINES || vs.len() > MOST_LINES;
        let area = |r: &(i64, i64, usize)| i128::from(r.0) * i128::from(r.1);
        let equal = rects.iter().all(|r| area(r) == area(&rects[0]));
        (plain && equal && !fine && layers > 0).then_some(Self {
            folded,
            axes: [across, u, v],
            layers,
            rects,
            us,
            vs,
        })
    }

    /// Pieces in one layer when there are `count` in all.
    pub(super) fn per_layer(&self, count: u32) -> u32 {
        count / u32::try_from(self.layers).unwrap_or(u32::MAX)
    }

    /// Looks for more than `have` per layer, one more at a time; the best layout found, if any, and the most that can be
    /// in all layers, if that was proved.
    pub(super) fn improve(&self, have: u32, dice: &mut Dice, meter: &mut Meter) -> (Option<Vec<Laid>>, Option<u32>) {
        let mut best = None;
        let mut count = have;
        loop {
            match self.search(count + 1, dice, meter) {
                Outcome::Found(layer) => {
                    best = Some(self.lay(&layer));
                    count += 1;
                }
                Outcome::Impossible => {
                    return (best, u32::try_from(i64::from(count) * self.layers).ok());
                }
                Outcome::GaveUp => return (best, None),
            }
        }
    }

    fn search(&self, count: u32, dice: &mut Dice, meter: &mut Meter) -> Outcome {
        let area = |w: i64, h: i64| i128::from(w) * i128::from(h);
        let (Some(&width), Some(&height)) = (self.us.last(), self.vs.last()) else {
            return Outcome::Impossible;
        };
        let each = area(self.rects[0].0, self.rects[0].1);
        let spare = area(width, height) - each * i128::from(count);
        if spare < 0 {
            return Outcome::Impossible;
        }
        let mut skyline = Skyline::new(self, spare);
        for attempt in 0.. {
            skyline.left = PATIENCE << (attempt / 4).min(8);
            match skyline.go(0, attempt > 0, dice, meter) {
                Some(true) => return Outcome::Found(skyline.placed),
                Some(false) => return Outcome::Impossible,
                None if meter.goes_on() => skyline.clear(),
                None => break,
            }
        }
        Outcome::GaveUp
    }

    fn lay(&self, layer: &[(usize, usize, usize)]) -> Vec<Laid> {
        let [across, u, v] = self.axes;
        let mut laid = Vec::new();
        for n in 0..self.layers {
            for &(rect, column, row) in layer {
                let piece = self.rects[rect].2;
                let mut at: V3 = [0; 3];
                at[u] = self.us[column];
                at[v] = self.vs[row];
                at[across] = n * self.folded.pieces[piece].size[across];
                laid.push(Laid { piece, at });
            }
        }
        laid
    }
}

/// The state of the search: how high each column is filled, in rows.
struct Skyline<'f> {
    flat: &'f Flat<'f>,
    heights: Vec<u16>,
    spare: i128,
    /// Columns and rows that a rectangle ends at, by where it starts.
    columns: Vec<Vec<Option<usize>>>,
    rows: Vec<Vec<Option<usize>>>,
    /// Height that no sum reaches above each row.
    lost: Vec<i64>,
    hopeless: HashMap<Box<[u16]>, i128>,
    placed: Vec<(usize, usize, usize)>,
    left: u64,
}

impl<'f> Skyline<'f> {
    fn new(flat: &'f Flat<'f>, spare: i128) -> Self {
        let ends = |lines: &[i64], size: i64| {
            lines
                .iter()
                .map(|at| lines.binary_search(&(at + size)).ok())
                .collect::<Vec<Option<usize>>>()
        };
        let top = flat.vs.last().copied().unwrap_or(0);
        Self {
            flat,
            heights: vec![0; flat.us.len() - 1],
            spare,
            columns: flat.rects.iter().map(|r| ends(&flat.us, r.0)).collect(),
            rows: flat.rects.iter().map(|r| ends(&flat.vs, r.1)).collect(),
            lost: flat.vs.iter().map(|at| top - at - reach(&flat.vs, top - at)).collect(),
            hopeless: HashMap::new(),
            placed: Vec::new(),
            left: 0,
        }
    }

    /// Back to the empty layer; what is known to be hopeless stays known.
    fn clear(&mut self) {
        self.heights.fill(0);
        self.placed.clear();
    }

    fn width(&self, from: usize, to: usize) -> i64 {
        self.flat.us[to] - self.flat.us[from]
    }

    /// Fills the rest with `wasted` gone already: whether it can be done; `None` when the work ran out.
    fn go(&mut self, wasted: i128, shuffle: bool, dice: &mut Dice, meter: &mut Meter) -> Option<bool> {
        let top = self.flat.vs.len() - 1;
        let (column, row) = self.lowest();
        if row == top {
            return Some(true);
        }
        if self.left == 0 || !meter.spend(1) {
            return None;
        }
        self.left -= 1;
        let pit = self.pit_end(column, row);
        if wasted + self.least_waste(column, pit, row) > self.spare {
            return Some(false);
        }
        if self
            .hopeless
            .get(self.heights.as_slice())
            .is_some_and(|&known| known <= wasted)
        {
            return Some(false);
        }
        let number = self.flat.rects.len();
        let first = if shuffle { dice.below(number) } else { 0 };
        for rect in (0..number).map(|i| (i + first) % number) {
            let (Some(end), Some(up)) = (self.columns[rect][column], self.rows[rect][row]) else {
                continue;
            };
            if end <= pit {
                self.placed.push((rect, column, row));
                self.raise(column, end, up);
                if self.go(wasted, shuffle, dice, meter)? {
                    return Some(true);
                }
                self.raise(column, end, row);
                self.placed.pop();
            }
        }
        let cell = i128::from(self.width(column, column + 1)) * i128::from(self.flat.vs[row + 1] - self.flat.vs[row]);
        if wasted + cell <= self.spare {
            self.raise(column, column + 1, row + 1);
            if self.go(wasted + cell, shuffle, dice, meter)? {
                return Some(true);
            }
            self.raise(column, column + 1, row);
        }
        if self.hopeless.len() < MOST_KNOWN {
            let known = self.hopeless.entry(self.heights.as_slice().into()).or_insert(wasted);
            *known = wasted.min(*known);
        }
        Some(false)
    }

    /// The lowest column, the leftmost of several, and its row.
    fn lowest(&self) -> (usize, usize) {
        let lowest = self
            .heights
            .iter()
            .enumerate()
            .min_by_key(|&(column, height)| (height, column));
        lowest.map_or((0, 0), |(column, &height)| (column, usize::from(height)))
    }

    fn pit_end(&self, column: usize, row: usize) -> usize {
        let level = self.heights[column..]
            .iter()
            .take_while(|&&height| usize::from(height) == row);
        column + level.count()
    }

    fn raise(&mut self, from: usize, to: usize, row: usize) {
        self.heights[from..to].fill(u16::try_from(row).unwrap_or(u16::MAX));
    }

    /// What must still be wasted, by columns or in the lowest pit.
    fn least_waste(&self, column: usize, pit: usize, row: usize) -> i128 {
        let columns: i128 = (0..self.heights.len())
            .map(|c| i128::from(self.lost[usize::from(self.heights[c])]) * i128::from(self.width(c, c + 1)))
            .sum();
        let top = self.flat.vs.len() - 1;
        let beside = |c: Option<usize>| {
            c.and_then(|c| self.heights.get(c))
                .map_or(top, |&height| usize::from(height))
        };
        let wall = beside(column.checked_sub(1)).min(beside(Some(pit)));
        let width = self.width(column, pit);
        let lost = width - reach(&self.flat.us, width);
        columns.max(i128::from(lost) * i128::from(self.flat.vs[wall] - self.flat.vs[row]))
    }
}

/// The largest of the sums that is not above `length`.
fn reach(sums: &[i64], length: i64) -> i64 {
    sums[sums.partition_point(|&s| s <= length) - 1]
}
