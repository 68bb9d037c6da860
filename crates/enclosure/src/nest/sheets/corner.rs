//! Whether some parts go on one sheet cut freely: every way, lowest corner first.
//!
//! Parts may be pushed left and down until their corners lie on raster points (Terno, Lindemann and Scheithauer 1987).
//! At the lowest corner of what is built so far either a part begins, or the raster cell there is wasted; the area to
//! spare cuts the search off.

use std::collections::BTreeSet;

use super::job::{Class, Job, Laid, Spot, area};
use crate::nest::cover::{Counts, Holds};
use crate::nest::meter::Meter;

/// The most raster points along one side.
const MOST_POINTS: usize = 4_000;

/// Settles it with at most so many steps; the layout is there when it holds.
pub(super) fn settle(
    job: &Job,
    kind: usize,
    counts: &Counts,
    steps: u64,
    meter: &mut Meter<'_>,
) -> (Holds, Option<Laid>) {
    let sides = job.kinds[kind].sides;
    let spare = area(sides) - job.content(counts);
    if spare < 0 {
        return (Holds::No, None);
    }
    let (Some(across), Some(up)) = (raster(job, counts, sides, 0), raster(job, counts, sides, 1)) else {
        return (Holds::Open, None);
    };
    let mut search = Search {
        job,
        meter,
        sides,
        across,
        up,
        left: counts.clone(),
        pieces: counts.iter().map(|&n| u32::from(n)).sum(),
        spots: Vec::new(),
        steps: 0,
        most: steps,
        cut_short: false,
    };
    let ground = [Level {
        x: 0,
        y: 0,
        w: sides[0],
    }];
    let holds = search.from(&ground, spare);
    match (holds, search.cut_short) {
        (true, _) => {
            let laid = Laid {
                kind,
                counts: counts.clone(),
                spots: search.spots,
                tree: None,
            };
            (Holds::Yes, Some(laid))
        }
        (false, true) => (Holds::Open, None),
        (false, false) => (Holds::No, None),
    }
}

/// Where parts may begin along one side, rising; `None` when there are too many places.
fn raster(job: &Job, counts: &Counts, sides: [i64; 2], axis: usize) -> Option<Vec<i64>> {
    let whole = sides[axis];
    let mut sums = BTreeSet::from([0]);
    for (class, &n) in job.classes.iter().zip(counts) {
        let lengths = fitting(class, sides, axis);
        for _ in 0..n {
            let more: Vec<i64> = sums
                .iter()
                .flat_map(|sum| lengths.iter().map(move |length| sum + length))
                .filter(|&sum| sum <= whole)
                .collect();
            sums.extend(more);
            if sums.len() > MOST_POINTS {
                return None;
            }
        }
    }
    let below = |length: i64| sums.range(..=length).next_back().copied().unwrap_or(0);
    let reduced: BTreeSet<i64> = sums.iter().map(|&sum| below(whole - sum)).collect();
    Some(reduced.into_iter().collect())
}

/// The lengths along one side, each way the class fits.
fn fitting(class: &Class, sides: [i64; 2], axis: usize) -> Vec<i64> {
    let fits = class.ways.iter().filter(|way| way.w <= sides[0] && way.h <= sides[1]);
    fits.map(|way| [way.w, way.h][axis]).collect()
}

/// A level stretch of what is built so far.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Level {
    x: i64,
    y: i64,
    w: i64,
}

struct Search<'a, 'w> {
    job: &'a Job,
    meter: &'a mut Meter<'w>,
    sides: [i64; 2],
    across: Vec<i64>,
    up: Vec<i64>,
    left: Counts,
    pieces: u32,
    spots: Vec<Spot>,
    steps: u64,
    most: u64,
    cut_short: bool,
}

impl Search<'_, '_> {
    fn from(&mut self, levels: &[Level], spare: i128) -> bool {
        if self.pieces == 0 {
            return true;
        }
        self.steps += 1;
        if self.steps > self.most || !self.meter.spend(1) {
            self.cut_short = true;
            return false;
        }
        let Some((at, low)) = levels
            .iter()
            .copied()
            .enumerate()
            .min_by_key(|(_, level)| (level.y, level.x))
        else {
            return false;
        };
        if low.y >= self.sides[1] {
            return false;
        }
        let beside = |at: Option<usize>| at.and_then(|at| levels.get(at)).map_or(self.sides[1], |level| level.y);
        let rim = beside(at.checked_sub(1)).min(beside(Some(at + 1)));
        if let Some(wasted) = self.surely_wasted(low, rim) {
            return self.waste(levels, at, wasted, spare);
        }
        for class in 0..self.left.len() {
            if self.left[class] == 0 {
                continue;
            }
            for way in self.job.classes[class].ways.clone() {
                if way.w > low.w || low.y + way.h > self.sides[1] {
                    continue;
                }
                self.left[class] -= 1;
                self.pieces -= 1;
                self.spots.push(Spot {
                    class,
                    x: low.x,
                    y: low.y,
                    way,
                });
                let built = raised(levels, at, way.w, low.y + way.h);
                if self.from(&built, spare) {
                    return true;
                }
                self.spots.pop();
                self.pieces += 1;
                self.left[class] += 1;
                if self.cut_short {
                    return false;
                }
            }
        }
        let next_x = after(&self.across, low.x).unwrap_or(self.sides[0]);
        let next_y = after(&self.up, low.y).unwrap_or(self.sides[1]);
        let cell = [(next_x - low.x).min(low.w), next_y];
        self.waste(levels, at, cell, spare)
    }

    /// What no part can begin in, as a width and a level: the whole stretch, or up to the next raster point.
    fn surely_wasted(&self, low: Level, rim: i64) -> Option<[i64; 2]> {
        let next_y = after(&self.up, low.y).unwrap_or(self.sides[1]);
        if self.up.binary_search(&low.y).is_err() {
            return Some([low.w, next_y]);
        }
        let fits = |class: usize| {
            let ways = self.job.classes[class].ways.iter();
            let mut ways = ways.filter(|way| way.w <= low.w && low.y + way.h <= self.sides[1]);
            self.left[class] > 0 && ways.next().is_some()
        };
        if !(0..self.left.len()).any(fits) {
            return Some([low.w, rim]);
        }
        let next_x = after(&self.across, low.x).unwrap_or(self.sides[0]);
        let off_raster = self.across.binary_search(&low.x).is_err();
        off_raster.then(|| [(next_x - low.x).min(low.w), next_y])
    }

    fn waste(&mut self, levels: &[Level], at: usize, [w, to]: [i64; 2], spare: i128) -> bool {
        let spare = spare - area([w, to - levels[at].y]);
        spare >= 0 && self.from(&raised(levels, at, w, to), spare)
    }
}

/// The first raster point beyond a place.
fn after(points: &[i64], place: i64) -> Option<i64> {
    points.get(points.partition_point(|&point| point <= place)).copied()
}

/// The levels when the left end of one is raised, so wide.
fn raised(levels: &[Level], at: usize, w: i64, to: i64) -> Vec<Level> {
    let mut built: Vec<Level> = Vec::with_capacity(levels.len() + 1);
    for (i, &level) in levels.iter().enumerate() {
        let parts = if i == at {
            let rest = Level {
                x: level.x + w,
                w: level.w - w,
                ..level
            };
            [Level { y: to, w, ..level }, rest]
        } else {
            [level, Level { w: 0, ..level }]
        };
        for part in parts.into_iter().filter(|part| part.w > 0) {
            match built.last_mut() {
                Some(last) if last.y == part.y => last.w += part.w,
                _ => built.push(part),
            }
        }
    }
    built
}
