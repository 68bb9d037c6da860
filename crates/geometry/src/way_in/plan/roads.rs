//! A way that is sure: found on lines, with every step between them proved free.
//!
//! On a line (one height, one turn) the free stretches along the first axis are exact. From line to line of one turn the
//! pivot moves straight up or down, where the octagons of the whole strip are out of the way; from turn to turn it turns on
//! the spot, where shapes that hold the part at every turn between are out of the way. Nothing else is a step, so what
//! is found is a true way however coarse the lines are.

use std::collections::VecDeque;

use super::lines::Lines;
use super::rows::Rows;
use super::scene::{Place, Scene};
use crate::plane::Octagon;
use crate::plane::Span;
use crate::way_in::watch::Meter;

/// Stretches in the way are taken this much longer, since floats round (mm).
const SLACK: f64 = 1e-7;
/// No stretch.
const NONE: usize = usize::MAX;

/// Whether there is a way on these lines, and the way.
pub(super) enum Found {
    Way(Vec<Place>),
    None,
    /// The work ran out.
    Cut,
}

/// Looks for a way on these lines.
pub(super) fn search(scene: &Scene, lines: &Lines, meter: &mut Meter<'_>) -> Found {
    match Roads::lay(scene, lines, meter) {
        Some(roads) => roads.walk(scene),
        None => Found::Cut,
    }
}

struct Roads<'l> {
    lines: &'l Lines,
    /// Free stretches of each line: turn by turn, height by height.
    free: Rows,
    /// Free all the way up to the next height.
    rises: Rows,
    /// Free all the way to the next turn.
    turns: Rows,
}

impl<'l> Roads<'l> {
    fn lay(scene: &Scene, lines: &'l Lines, meter: &mut Meter<'_>) -> Option<Self> {
        let (mut free, mut rises, mut turns) = (Rows::default(), Rows::default(), Rows::default());
        let strips: Vec<Span> = lines.ups.windows(2).map(|pair| [pair[0], pair[1]]).collect();
        let each = u64::try_from(lines.ups.len() * (scene.pairs.len() + 2)).unwrap_or(u64::MAX);
        let mut taken = Vec::new();
        for (k, &turn) in lines.turns.iter().enumerate() {
            if !meter.spend(3 * each) {
                return None;
            }
            let octagons = scene.octagons(&scene.turned(turn));
            lay_lines(scene, &octagons, &lines.ups, &mut taken, &mut free);
            for &strip in &strips {
                let near = |octagon: &&Octagon| reaches(octagon, strip);
                taken.extend(
                    octagons
                        .iter()
                        .filter(near)
                        .map(|octagon| longer(octagon.anywhere(strip))),
                );
                rises.add(scene.along, &mut taken);
            }
            if let Some(&next) = lines.turns.get(k + 1) {
                let octagons = scene.octagons(&scene.reach([turn, next]));
                lay_lines(scene, &octagons, &lines.ups, &mut taken, &mut turns);
            }
        }
        Some(Self {
            lines,
            free,
            rises,
            turns,
        })
    }

    /// The shortest way by number of lines crossed.
    fn walk(&self, scene: &Scene) -> Found {
        let node = |place: &Place| {
            let row = Lines::nearest(&self.lines.turns, place.turn) * self.lines.ups.len()
                + Lines::nearest(&self.lines.ups, place.at[1]);
            self.free.holding(row, place.at[0])
        };
        let (Some(start), Some(goal)) = (node(&scene.start), node(&scene.goal)) else {
            return Found::None;
        };
        // Backwards from the goal, so that the way comes out in order.
        let mut next = vec![(NONE, [0.0; 2]); self.free.stretches()];
        next[goal] = (goal, [0.0; 2]);
        let mut queue = VecDeque::from([goal]);
        let mut reached = Vec::new();
        while let Some(here) = queue.pop_front() {
            if here == start {
                return Found::Way(self.places(scene, start, goal, &next));
            }
            self.neighbours(here, &mut reached);
            for &(there, by) in &reached {
                if next[there].0 == NONE {
                    next[there] = (here, by);
                    queue.push_back(there);
                }
            }
        }
        Found::None
    }

    /// The stretches one step away, and the stretch within which the step may be taken.
    fn neighbours(&self, stretch: usize, reached: &mut Vec<(usize, Span)>) {
        reached.clear();
        let ups = self.lines.ups.len();
        let row = self.free.row_of(stretch);
        let (k, j) = (row / ups, row % ups);
        let mut step = |through: &Rows, over: usize, to: usize| {
            let own = self.free.span(stretch);
            for gate in through.row(over) {
                let [low, high] = through.span(gate);
                let (low, high) = (low.max(own[0]), high.min(own[1]));
                if low > high {
                    continue;
                }
                // Rounding may put the middle of a gate a hair outside: then it is no gate.
                if let Some(there) = self.free.holding(to, f64::midpoint(low, high)) {
                    let [a, b] = self.free.span(there);
                    reached.push((there, [low.max(a), high.min(b)]));
                }
            }
        };
        let strips = ups - 1;
        if j > 0 {
            step(&self.rises, k * strips + j - 1, row - 1);
        }
        if j < strips {
            step(&self.rises, k * strips + j, row + 1);
        }
        if k > 0 {
            step(&self.turns, row - ups, row - ups);
        }
        if k + 1 < self.lines.turns.len() {
            step(&self.turns, row, row + ups);
        }
    }

    /// The way as places, sliding along a line only where the next gates ask for it.
    fn places(&self, scene: &Scene, start: usize, goal: usize, next: &[(usize, Span)]) -> Vec<Place> {
        let ups = self.lines.ups.len();
        let mut steps = vec![];
        let mut here = start;
        while here != goal {
            let (there, gate) = next[here];
            steps.push((self.free.row_of(there), gate));
            here = there;
        }
        let mut places = vec![scene.start];
        let mut at = scene.start;
        let mut done = 0;
        while done < steps.len() {
            // As many gates as can be gone through without sliding.
            let mut shared = steps[done].1;
            let mut last = done + 1;
            while let Some(&(_, [low, high])) = steps.get(last) {
                let both = [shared[0].max(low), shared[1].min(high)];
                if both[0] > both[1] {
                    break;
                }
                shared = both;
                last += 1;
            }
            at.at[0] = at.at[0].max(shared[0]).min(shared[1]);
            places.push(at);
            for &(row, _) in &steps[done..last] {
                at.turn = self.lines.turns[row / ups];
                at.at[1] = self.lines.ups[row % ups];
                places.push(at);
            }
            done = last;
        }
        at.at[0] = scene.goal.at[0];
        places.push(at);
        places.dedup();
        places
    }
}

fn lay_lines(scene: &Scene, octagons: &[Octagon], ups: &[f64], taken: &mut Vec<Span>, rows: &mut Rows) {
    for &up in ups {
        let near = |octagon: &&Octagon| reaches(octagon, [up, up]);
        taken.extend(octagons.iter().filter(near).filter_map(|octagon| {
            let span = longer(octagon.at(up.max(octagon.up[0]).min(octagon.up[1])));
            (span[0] < span[1]).then_some(span)
        }));
        rows.add(scene.along, taken);
    }
}

/// Whether the inside of an octagon reaches into a strip; a little is added for rounding.
fn reaches(octagon: &Octagon, strip: Span) -> bool {
    octagon.up[0] < strip[1] + SLACK && strip[0] - SLACK < octagon.up[1]
}

fn longer([low, high]: Span) -> Span {
    [low - SLACK, high + SLACK]
}
