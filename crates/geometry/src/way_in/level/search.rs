//! The search over the cells.

use std::cmp::Reverse;
use std::collections::{BinaryHeap, HashMap};

use tape::Length;

use super::Level;
use super::grid::{Cell, Grid};
use crate::way_in::watch::Meter;
use crate::{Axis, Face, Point};

/// What a search came to.
pub(super) enum Found {
    /// Out by this face; the shifts from outside to the goal.
    Way(Face, Vec<Point>),
    /// All that is within reach of the goal was seen; whether that went to an end beyond which it may go on.
    None { beyond: bool },
    /// Neither, within the budget.
    Cut,
}

/// A cell, and the axis along which it was come to.
type At = (Cell, usize);

/// Seen from the goal outward, fewest moves first, then the shortest.
pub(super) fn search(
    grid: &Grid,
    asked: &Level<'_>,
    is_out: &dyn Fn(Face, Point) -> bool,
    meter: &mut Meter<'_>,
) -> Found {
    let goal = grid.goal();
    if !grid.is_free(goal) {
        return Found::None { beyond: false };
    }
    let mut open = BinaryHeap::new();
    let mut before: HashMap<At, (u32, Length, At)> = HashMap::new();
    for axis in 0..3 {
        let at = (goal, axis);
        before.insert(at, (0, Length::ZERO, at));
        open.push(Reverse((0, Length::ZERO, at)));
    }
    let mut beyond = false;
    while let Some(Reverse((moves, far, at))) = open.pop() {
        if before.get(&at).is_some_and(|known| (known.0, known.1) < (moves, far)) {
            continue;
        }
        if !meter.spend(grid.cost()) {
            return Found::Cut;
        }
        let (cell, along) = at;
        for face in ends(grid, cell) {
            if asked.doors.contains(&face) {
                if is_out(face, grid.point(cell)) {
                    return Found::Way(face, steps(grid, &before, at));
                }
            } else {
                beyond |= !asked.ends.contains(&face);
            }
        }
        for axis in 0..3 {
            // Turning back along the way is no way on.
            let moves = if moves == 0 || axis != along { moves + 1 } else { moves };
            for next in [cell[axis].checked_sub(1), Some(cell[axis] + 1)] {
                let Some(next) = next.filter(|&next| next < grid.count(axis)) else {
                    continue;
                };
                let mut to = cell;
                to[axis] = next;
                if !grid.is_free(to) {
                    continue;
                }
                let far = far + (grid.place(axis, next) - grid.place(axis, cell[axis])).abs();
                let known = before.get(&(to, axis));
                if known.is_none_or(|known| (moves, far) < (known.0, known.1)) {
                    before.insert((to, axis), (moves, far, at));
                    open.push(Reverse((moves, far, (to, axis))));
                }
            }
        }
    }
    Found::None { beyond }
}

/// The sides of what is looked at that a cell lies at.
fn ends(grid: &Grid, cell: Cell) -> impl Iterator<Item = Face> {
    let last = [0, 1, 2].map(|axis| grid.count(axis) - 1);
    Axis::ALL.into_iter().flat_map(move |axis| {
        let i = axis.index();
        let low = (cell[i] == 0).then_some(Face::low(axis));
        let high = (cell[i] == last[i]).then_some(Face::high(axis));
        low.into_iter().chain(high)
    })
}

/// The shifts from outside to the goal: where it turns, and both ends.
fn steps(grid: &Grid, before: &HashMap<At, (u32, Length, At)>, out: At) -> Vec<Point> {
    let mut steps = vec![grid.point(out.0)];
    let mut at = out;
    while let Some(&(_, _, from)) = before.get(&at).filter(|(.., from)| *from != at) {
        if from.1 != at.1 || before.get(&from).is_some_and(|(.., start)| *start == from) {
            steps.push(grid.point(from.0));
        }
        at = from;
    }
    steps
}
