//! The exact search for a flat layer: so many pieces of one kind in a rectangle, or the proof that they do not go in.
//!
//! With the rectangle's sides rounded down to sums of sizes, all but a known waste must be covered. The search looks at
//! the lowest, leftmost open place of the skyline: a piece starts there, or the place is wasted. Every layout pushed to
//! the low corner is found exactly once that way, so an exhausted search is a proof. It gives up a branch when the waste
//! is used up, counting columns whose remaining height and pits whose width no sum of sizes reaches. It can be left and
//! taken up again after any step.

use std::collections::HashMap;

use super::folded::{Folded, Laid, others, sizes_along, sums};
use super::meter::Dice;
use super::shape::V3;

/// Finer rasters than this along a side are not searched.
const MOST_LINES: usize = 400;
/// Skylines remembered as hopeless.
const MOST_KNOWN: usize = 150_000;
/// Places looked at before the search starts again with other likings.
const PATIENCE: u64 = 30_000;

/// One piece in so many is turned at random.
const KEEPING: usize = 8;

/// The search for one count in one flat layer.
pub(super) struct Skyline {
    layer: Layer,
    target: u32,
    spare: i128,
    /// How high each column is filled, in rows.
    heights: Vec<u16>,
    hopeless: HashMap<Box<[u16]>, i128>,
    frames: Vec<Frame>,
    attempt: u32,
    patience: u64,
    ended: Option<bool>,
}

/// A rectangle and the pieces that may lie in it.
struct Layer {
    /// Along the skyline, and of its height.
    axes: [usize; 2],
    rects: Vec<Rect>,
    us: Vec<i64>,
    vs: Vec<i64>,
    /// Height that no sum reaches above each row.
    lost: Vec<i64>,
}

/// One piece as it lies in the layer.
struct Rect {
    piece: usize,
    area: i128,
    /// Column and row that it ends at, by where it starts.
    columns: Vec<Option<usize>>,
    rows: Vec<Option<usize>>,
}

/// One open place of the skyline.
struct Frame {
    column: usize,
    row: usize,
    pit: usize,
    wasted: i128,
    /// The option tried first, how many have been tried, and the columns raised by the last one.
    first: usize,
    tried: usize,
    raised: Option<(usize, Option<usize>)>,
}

impl Skyline {
    /// The search in a hollow without blocks; `None` when that is no flat layer: other kinds or thicknesses than one,
    /// stacks, or too many lines.
    pub(super) fn new(folded: &Folded) -> Option<Self> {
        let dims = folded.dims;
        let plain = folded.kinds().len() == 1 && folded.pieces.iter().all(|p| p.count == 1);
        let flat = |&k: &usize| matches!(sizes_along(&folded.pieces, k)[..], [one] if dims[k] < 2 * one);
        let across = [2, 1, 0].into_iter().find(flat)?;
        // Along the shorter side there are fewer skylines.
        let (u, v) = match others(across) {
            (u, v) if dims[u] > dims[v] => (v, u),
            sides => sides,
        };
        let lines = |k: usize| sums(&[0], &sizes_along(&folded.pieces, k), dims[k], MOST_LINES);
        let (us, vs) = (lines(u), lines(v));
        if !plain || us.len() > MOST_LINES || vs.len() > MOST_LINES {
            return None;
        }
        let ends = |lines: &[i64], size: i64| -> Vec<Option<usize>> {
            lines.iter().map(|at| lines.binary_search(&(at + size)).ok()).collect()
        };
        let mut rects: Vec<Rect> = Vec::new();
        let mut known: Vec<(i64, i64)> = Vec::new();
        for (piece, p) in folded.pieces.iter().enumerate() {
            let (w, h) = (p.size[u], p.size[v]);
            if !known.contains(&(w, h)) {
                known.push((w, h));
                rects.push(Rect {
                    piece,
                    area: i128::from(w) * i128::from(h),
                    columns: ends(&us, w),
                    rows: ends(&vs, h),
                });
            }
        }
        let top = *vs.last()?;
        let equal = rects.iter().all(|rect| rect.area == rects[0].area);
        let layer = Layer {
            axes: [u, v],
            lost: vs.iter().map(|at| top - at - reach(&vs, top - at)).collect(),
            rects,
            us,
            vs,
        };
        (equal && layer.us.len() > 1).then(|| Self {
            heights: vec![0; layer.us.len() - 1],
            layer,
            target: 0,
            spare: 0,
            hopeless: HashMap::new(),
            frames: Vec::new(),
            attempt: 0,
            patience: 0,
            ended: None,
        })
    }

    /// Looks for so many pieces from now on.
    pub(super) fn look_for(&mut self, target: u32) {
        if self.target == target {
            return;
        }
        let area = i128::from(reach(&self.layer.us, i64::MAX)) * i128::from(reach(&self.layer.vs, i64::MAX));
        self.target = target;
        self.spare = area - self.layer.rects[0].area * i128::from(target);
        self.hopeless.clear();
        self.attempt = 0;
        self.ended = (self.spare < 0).then_some(false);
        self.restart();
    }

    pub(super) fn target(&self) -> u32 {
        self.target
    }

    /// Whether the count was found, or proved impossible; `None` while that is open.
    pub(super) fn outcome(&self) -> Option<bool> {
        self.ended
    }

    /// The layer found.
    pub(super) fn laid(&self) -> Vec<Laid> {
        let Layer {
            axes: [u, v],
            rects,
            us,
            vs,
            ..
        } = &self.layer;
        let placed = self.frames.iter().filter_map(|frame| Some((frame, frame.raised?.1?)));
        placed
            .map(|(frame, rect)| {
                let mut at: V3 = [0; 3];
                at[*u] = us[frame.column];
                at[*v] = vs[frame.row];
                Laid {
                    piece: rects[rect].piece,
                    at,
                }
            })
            .collect()
    }

    /// Searches for about so many steps; the steps it took.
    pub(super) fn search(&mut self, steps: u64, dice: &mut Dice) -> u64 {
        let mut spent = 0;
        while self.ended.is_none() && spent < steps {
            spent += 1;
            if self.patience == 0 {
                self.attempt += 1;
                self.restart();
            }
            self.patience -= 1;
            self.step(dice);
        }
        spent
    }

    /// Back to the empty layer; what is known to be hopeless stays known.
    fn restart(&mut self) {
        self.heights.fill(0);
        self.frames.clear();
        self.patience = PATIENCE << (self.attempt / 4).min(20);
    }

    fn step(&mut self, dice: &mut Dice) {
        let wasted = match self.frames.last() {
            // Before the first place.
            None => 0,
            Some(_) => match self.next_option() {
                Some(wasted) => wasted,
                None => {
                    self.leave();
                    return;
                }
            },
        };
        self.enter(wasted, dice);
    }

    /// Tries the next option of the place at hand: what is wasted then; `None` when there is none left.
    fn next_option(&mut self) -> Option<i128> {
        let layer = &self.layer;
        let frame = self.frames.last_mut()?;
        if let Some((end, _)) = frame.raised.take() {
            self.heights[frame.column..end].fill(height(frame.row));
        }
        let number = layer.rects.len();
        while frame.tried < number {
            let rect = (frame.tried + frame.first) % number;
            frame.tried += 1;
            let ends = (
                layer.rects[rect].columns[frame.column],
                layer.rects[rect].rows[frame.row],
            );
            if let (Some(end), Some(up)) = ends
                && end <= frame.pit
            {
                self.heights[frame.column..end].fill(height(up));
                frame.raised = Some((end, Some(rect)));
                return Some(frame.wasted);
            }
        }
        let cell = i128::from(layer.us[frame.column + 1] - layer.us[frame.column])
            * i128::from(layer.vs[frame.row + 1] - layer.vs[frame.row]);
        if frame.tried > number || frame.wasted + cell > self.spare {
            return None;
        }
        frame.tried += 1;
        self.heights[frame.column] = height(frame.row + 1);
        frame.raised = Some((frame.column + 1, None));
        Some(frame.wasted + cell)
    }

    /// Leaves a place where everything was tried, and remembers that.
    fn leave(&mut self) {
        let Some(frame) = self.frames.pop() else { return };
        if self.hopeless.len() < MOST_KNOWN {
            let known = self
                .hopeless
                .entry(self.heights.as_slice().into())
                .or_insert(frame.wasted);
            *known = frame.wasted.min(*known);
        }
        if self.frames.is_empty() {
            self.ended = Some(false);
        }
    }

    /// Goes on to the lowest, leftmost open place, if it is worth it.
    fn enter(&mut self, wasted: i128, dice: &mut Dice) {
        let top = self.layer.vs.len() - 1;
        let (column, row) = self.lowest();
        if row == top {
            self.ended = Some(true);
            return;
        }
        let pit = self.pit_end(column, row);
        let known = self.hopeless.get(self.heights.as_slice());
        let hopeless =
            wasted + self.least_waste(column, pit, row) > self.spare || known.is_some_and(|&known| known <= wasted);
        if hopeless {
            if self.frames.is_empty() {
                self.ended = Some(false);
            }
            return;
        }
        let last = self.frames.iter().rev().find_map(|frame| frame.raised?.1).unwrap_or(0);
        // Good layouts are made of blocks, so the piece beside is a good guess.
        let first = match self.attempt {
            0 => 0,
            _ if dice.below(KEEPING) > 0 => last,
            _ => dice.below(self.layer.rects.len()),
        };
        self.frames.push(Frame {
            column,
            row,
            pit,
            wasted,
            first,
            tried: 0,
            raised: None,
        });
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

    /// What must still be wasted, by columns or in the lowest pit.
    fn least_waste(&self, column: usize, pit: usize, row: usize) -> i128 {
        let Layer { us, vs, lost, .. } = &self.layer;
        let columns = self.heights.iter().zip(us.windows(2));
        let columns: i128 = columns
            .map(|(&height, sides)| i128::from(lost[usize::from(height)]) * i128::from(sides[1] - sides[0]))
            .sum();
        let beside = |c: Option<usize>| {
            c.and_then(|c| self.heights.get(c))
                .map_or(vs.len() - 1, |&height| usize::from(height))
        };
        let wall = beside(column.checked_sub(1)).min(beside(Some(pit)));
        let width = us[pit] - us[column];
        let in_pit = i128::from(width - reach(us, width)) * i128::from(vs[wall] - vs[row]);
        columns.max(in_pit)
    }
}

fn height(row: usize) -> u16 {
    u16::try_from(row).expect("no more rows than lines")
}

/// The largest of the sums that is not above `length`.
fn reach(sums: &[i64], length: i64) -> i64 {
    sums[sums.partition_point(|&s| s <= length) - 1]
}
