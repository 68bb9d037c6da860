//! The edges of solids as they are seen from a side: what is in front hides what is behind.

use std::collections::BTreeMap;

use geometry::Cuboid;
use tape::Length;

use crate::{Direction, Rect, Side};

/// A straight edge on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct EdgeLine {
    /// Along which direction it runs.
    pub along: Direction,
    /// Where it lies across that.
    pub at: Length,
    /// Where it begins (the smaller coordinate).
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// Whether something nearer hides it.
    pub hidden: bool,
}

/// A stretch of a line, the smaller end first.
type Span = [Length; 2];

/// The edges of axis-parallel solids, each told once: as seen where any solid shows it, else as hidden.
///
/// An edge is hidden where it lies inside the face of a solid whose near face is nearer than its own. Exact.
pub fn edges(solids: &[Cuboid], side: Side) -> Vec<EdgeLine> {
    let apart: Vec<(Cuboid, usize)> = solids.iter().copied().zip(0..).collect();
    edges_of_pieces(&apart, side)
}

/// The same of pieces of several blocks each, told by a number: where two blocks of one piece lie flush there is no edge.
pub(crate) fn edges_of_pieces(solids: &[(Cuboid, usize)], side: Side) -> Vec<EdgeLine> {
    let seen: Vec<(Rect, Length)> = solids.iter().map(|(s, _)| (side.rect(s), side.depth(s)[0])).collect();
    let mut lines: BTreeMap<(Direction, Length), [Vec<Span>; 2]> = BTreeMap::new();
    for (index, (rect, near)) in seen.iter().enumerate() {
        // The blocks of the same piece whose near faces are level with this one's.
        let flush = seen
            .iter()
            .zip(solids)
            .enumerate()
            .filter(|(other, ((_, its), (_, piece)))| *other != index && *piece == solids[index].1 && its == near);
        let flush: Vec<&Rect> = flush.map(|(_, ((other, _), _))| other).collect();
        for along in [Direction::U, Direction::V] {
            for at in rect.ends(along.across()) {
                let covers = |(other, its): &(Rect, Length)| {
                    let [low, high] = other.ends(along.across());
                    (its < near && low < at && at < high).then(|| other.ends(along))
                };
                let covered = merged(seen.iter().filter_map(covers).collect());
                let joined = flush.iter().filter_map(|other| {
                    let opposite = other.ends(along.across()).contains(&at);
                    let apart = !other.overlaps(rect);
                    (opposite && apart).then(|| other.ends(along))
                });
                let joined = merged(joined.collect());
                let [shown, hidden] = lines.entry((along, at)).or_default();
                for own in without(rect.ends(along), &joined) {
                    shown.extend(without(own, &covered));
                    hidden.extend(covered.iter().filter_map(|span| common(own, *span)));
                }
            }
        }
    }
    let mut told = Vec::new();
    for ((along, at), [shown, hidden]) in lines {
        let shown = merged(shown);
        let hidden = merged(hidden).into_iter().flat_map(|span| without(span, &shown));
        let line = |[from, to]: Span, hidden| EdgeLine {
            along,
            at,
            from,
            to,
            hidden,
        };
        told.extend(hidden.map(|span| line(span, true)));
        told.extend(shown.into_iter().map(|span| line(span, false)));
    }
    told
}

fn common(a: Span, b: Span) -> Option<Span> {
    let both = [a[0].max(b[0]), a[1].min(b[1])];
    (both[0] < both[1]).then_some(both)
}

/// Stretches in order, those that touch made one.
fn merged(mut spans: Vec<Span>) -> Vec<Span> {
    spans.sort_unstable();
    let mut all: Vec<Span> = Vec::with_capacity(spans.len());
    for span in spans {
        match all.last_mut() {
            Some(last) if span[0] <= last[1] => last[1] = last[1].max(span[1]),
            _ => all.push(span),
        }
    }
    all
}

/// What of a stretch none of the others covers; they are in order and apart.
fn without(span: Span, others: &[Span]) -> Vec<Span> {
    let mut left = Vec::new();
    let mut from = span[0];
    for other in others.iter().filter_map(|other| common(span, *other)) {
        if from < other[0] {
            left.push([from, other[0]]);
        }
        from = other[1];
    }
    if from < span[1] {
        left.push([from, span[1]]);
    }
    left
}

#[cfg(test)]
mod tests {
    use geometry::{Point, Size};
    use proptest::prelude::*;

    use super::*;

    fn block(lo: [i64; 3], size: [i64; 3]) -> Cuboid {
        Cuboid::at(Point(lo.map(Length::mm)), Size(size.map(Length::mm)))
    }

    fn told(lines: &[EdgeLine], hidden: bool) -> Vec<(Direction, i64, i64, i64)> {
        let mm = |length: Length| length.nm() / 1_000_000;
        let wanted = lines.iter().filter(|line| line.hidden == hidden);
        wanted
            .map(|line| (line.along, mm(line.at), mm(line.from), mm(line.to)))
            .collect()
    }

    #[test]
    fn a_lid_hides_the_wall_under_it() {
        let lid = block([0, 0, 10], [20, 10, 1]);
        let wall = block([2, 2, 0], [16, 1, 10]);
        let lines = edges(&[wall, lid], Side::Plan);
        assert_eq!(
            told(&lines, true),
            [
                (Direction::U, -3, 2, 18),
                (Direction::U, -2, 2, 18),
                (Direction::V, 2, -3, -2),
                (Direction::V, 18, -3, -2)
            ]
        );
        assert_eq!(told(&lines, false).len(), 4);
        let from_left = edges(&[wall, lid], Side::FromLeft);
        // The lid's edge stands nearer than the wall, but above it: all of the wall is seen.
        assert!(told(&from_left, true).is_empty());
        assert_eq!(told(&from_left, false).len(), 7);
    }

    #[test]
    fn a_post_hides_the_middle_of_a_rail() {
        let rail = block([0, 5, 0], [30, 1, 1]);
        let post = block([10, 0, -5], [10, 1, 20]);
        let lines = edges(&[rail, post], Side::FromLeft);
        let rails = [-1, 0].map(|at| (Direction::U, at, 10, 20));
        assert_eq!(told(&lines, true), rails);
        for at in [-1, 0] {
            assert!(told(&lines, false).contains(&(Direction::U, at, 0, 10)));
            assert!(told(&lines, false).contains(&(Direction::U, at, 20, 30)));
        }
    }

    #[test]
    fn blocks_of_one_piece_have_no_edge_where_they_lie_flush() {
        // A wall that lacks its lower front corner.
        let lower = block([4, 0, 0], [6, 1, 3]);
        let upper = block([0, 0, 3], [10, 1, 5]);
        let lines = edges_of_pieces(&[(lower, 7), (upper, 7)], Side::FromLeft);
        let at_the_level: Vec<_> = told(&lines, false)
            .into_iter()
            .filter(|line| (line.0, line.1) == (Direction::U, -3))
            .collect();
        assert_eq!(at_the_level, [(Direction::U, -3, 0, 4)]);
        assert!(told(&lines, true).is_empty());
        // As two pieces there is one all along.
        let two = edges(&[lower, upper], Side::FromLeft);
        assert!(told(&two, false).contains(&(Direction::U, -3, 0, 10)));
    }

    proptest! {
        /// No stretch is told twice, and what a single solid shows is all there whatever else there is.
        #[test]
        fn each_edge_is_told_once(
            all in prop::collection::vec(
                ([0_i64..12, 0..12, 0..12], [1_i64..6, 1..6, 1..6]), 1..8)
        ) {
            let solids: Vec<Cuboid> = all.into_iter().map(|(lo, size)| block(lo, size)).collect();
            for side in Side::ALL {
                let lines = edges(&solids, side);
                for (index, one) in lines.iter().enumerate() {
                    for other in &lines[index + 1..] {
                        let apart = one.to <= other.from || other.to <= one.from;
                        prop_assert!(apart || (one.along, one.at) != (other.along, other.at));
                    }
                }
                for rect in solids.iter().map(|s| side.rect(s)) {
                    for along in [Direction::U, Direction::V] {
                        for at in rect.ends(along.across()) {
                            let own = rect.ends(along);
                            let on = lines.iter().filter(|l| l.along == along && l.at == at);
                            let there: Length = on
                                .filter_map(|l| common(own, [l.from, l.to]))
                                .map(|[from, to]| to - from)
                                .fold(Length::ZERO, |all, part| all + part);
                            prop_assert_eq!(there, own[1] - own[0]);
                        }
                    }
                }
            }
        }
    }
}
