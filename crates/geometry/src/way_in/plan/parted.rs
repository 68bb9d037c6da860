//! A proof that there is no way: start and goal are parted by poses that are surely in the way.
//!
//! Heights and turns are cut into cells. Of a cell, those places along the first axis count as in the way at which the moved
//! thing overlaps an obstacle at *every* height and turn of the cell. Whatever way there is runs through cells over places
//! that do not count, and goes from cell to cell where both leave the same place open. So if what is left open falls into
//! pieces with start and goal in different ones, there is no way, however coarse the cells are.

use std::collections::VecDeque;

use super::lines::Lines;
use super::rows::Rows;
use super::scene::{Place, Scene};
use crate::plane::Span;
use crate::way_in::watch::Meter;

/// Stretches surely in the way are taken this much shorter, since floats round (mm).
const SLACK: f64 = 1e-7;

/// Whether start and goal are proved to be parted; `None` when the work ran out.
pub(super) fn parted(scene: &Scene, lines: &Lines, meter: &mut Meter<'_>) -> Option<bool> {
    let (slabs, strips) = (Lines::between(&lines.turns), Lines::between(&lines.ups));
    let mut open = Rows::default();
    let mut taken = Vec::new();
    let each = u64::try_from(strips.len() * (scene.pairs.len() + 2)).unwrap_or(u64::MAX);
    for &slab in &slabs {
        if !meter.spend(each) {
            return None;
        }
        let octagons = scene.sure(slab);
        for &strip in &strips {
            let inside = octagons
                .iter()
                .filter(|o| o.up[0] + SLACK < strip[0] && strip[1] < o.up[1] - SLACK);
            taken.extend(
                inside
                    .map(|octagon| shorter(octagon.throughout(strip)))
                    .filter(|[low, high]| low < high),
            );
            open.add(scene.along, &mut taken);
        }
    }
    Some(!connected(scene, &open, &slabs, &strips))
}

fn connected(scene: &Scene, open: &Rows, slabs: &[Span], strips: &[Span]) -> bool {
    // A pose on a line is in the cells on both sides.
    let around = |place: &Place| {
        let mut found = Vec::new();
        for (k, _) in slabs.iter().enumerate().filter(|(_, slab)| holds(slab, place.turn)) {
            for (j, _) in strips.iter().enumerate().filter(|(_, strip)| holds(strip, place.at[1])) {
                found.extend(open.holding(k * strips.len() + j, place.at[0]));
            }
        }
        found
    };
    let mut goal = vec![false; open.stretches()];
    for stretch in around(&scene.goal) {
        goal[stretch] = true;
    }
    let mut seen = vec![false; open.stretches()];
    let mut queue: VecDeque<usize> = around(&scene.start).into();
    for &stretch in &queue {
        seen[stretch] = true;
    }
    while let Some(here) = queue.pop_front() {
        if goal[here] {
            return true;
        }
        let row = open.row_of(here);
        let (k, j) = (row / strips.len(), row % strips.len());
        let rows = [
            (j > 0).then(|| row - 1),
            (j + 1 < strips.len()).then_some(row + 1),
            (k > 0).then(|| row - strips.len()),
            (k + 1 < slabs.len()).then_some(row + strips.len()),
        ];
        let [low, high] = open.span(here);
        for there in rows.into_iter().flatten().flat_map(|row| open.row(row)) {
            let [a, b] = open.span(there);
            if !seen[there] && a <= high && low <= b {
                seen[there] = true;
                queue.push_back(there);
            }
        }
    }
    false
}

fn holds(span: &Span, value: f64) -> bool {
    span[0] - SLACK <= value && value <= span[1] + SLACK
}

fn shorter([low, high]: Span) -> Span {
    [low + SLACK, high - SLACK]
}
