//! Edges that stand out among those of their direction, before anything is adjusted.

use geometry::Axis;
use tape::Length;

use crate::document::{Cavity, Decided, Reading};

/// Rails are seldom farther apart at one end than this share more of what they are at the other three corners.
const APART: i64 = 4;
/// What a slip of the tape is at least: less is a bent frame.
const LEAST: Length = Length::mm(15);

/// The odd one of three or four edges, by its place in the list, and by how much it is longer than the nearest of the others.
pub(super) fn odd_edges(cavity: &Cavity) -> Vec<(usize, Length)> {
    Axis::ALL
        .into_iter()
        .filter_map(|axis| odd_along(cavity, axis))
        .collect()
}

fn odd_along(cavity: &Cavity, axis: Axis) -> Option<(usize, Length)> {
    let counts = |r: &Reading| {
        let edge = r.line.of_survey().is_some() && r.line.dimension().is_some_and(|(a, _)| a == axis);
        edge && r.decided != Some(Decided::LeftOut)
    };
    let all = cavity.readings.iter().enumerate().filter(|(_, r)| counts(r));
    let mut edges: Vec<(usize, Length)> = all.map(|(i, r)| (i, r.read.value())).collect();
    edges.sort_by_key(|&(i, value)| (value, i));
    let (&(low, lowest), &(high, highest)) = (edges.first()?, edges.last()?);
    if edges.len() < 3 {
        return None;
    }
    let (second, last_but_one) = (edges[1].1, edges[edges.len() - 2].1);
    // One end stands out when it is far from its neighbour and the rest is close together.
    let stands_out = |gap: Length, rest: Length| gap > LEAST && gap > rest * APART;
    if stands_out(highest - last_but_one, last_but_one - lowest) {
        Some((high, highest - last_but_one))
    } else if stands_out(second - lowest, highest - second) {
        Some((low, lowest - second))
    } else {
        None
    }
}
