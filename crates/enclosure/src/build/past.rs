//! Screws and rivets along a line, spaced past what stands there.

use tape::Length;

use super::holes::{intervals, station};
use crate::added::Block;
use crate::{BoxSpec, Built, Held, Purpose, Skeleton, Wall, WallHole, rivet};

/// What a head, a tail or a nut stays clear of what it is spaced past (common practice, no source).
const CLEAR: Length = Length::mm(1);

/// A line of screws or rivets that is left as it was, since they find no place past what stands there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Unspaced {
    /// What they are.
    pub purpose: Purpose,
    /// The wall that they are in.
    pub wall: Wall,
    /// How far two of them would be apart; `None` where the end of their line is covered.
    pub needs: Option<Length>,
    /// How far they may.
    pub most: Length,
}

/// How far they may be apart: at most, at most past what is in their way, and at least.
#[derive(Clone, Copy)]
pub(super) struct Pitches {
    pub(super) most: Length,
    pub(super) past: Length,
    pub(super) least: Length,
}

/// Ranges that overlap, or leave less than nothing between them, as one; those narrower than the least pitch made as wide, since
/// there is one on both sides of each.
fn merged(mut ranges: Vec<[Length; 2]>, least: Length) -> Vec<[Length; 2]> {
    for [lo, hi] in &mut ranges {
        let short = (least - (*hi - *lo)).max(Length::ZERO);
        (*lo, *hi) = (*lo - short.half_down(), *hi + (short - short.half_down()));
    }
    ranges.sort_unstable();
    let mut merged: Vec<[Length; 2]> = Vec::new();
    for [lo, hi] in ranges {
        match merged.last_mut() {
            Some(before) if lo < before[1] => before[1] = before[1].max(hi),
            _ => merged.push([lo, hi]),
        }
    }
    merged
}

/// Whether a place is in none of the ranges; their ends are clear.
pub(super) fn is_clear(place: Length, blocked: &[[Length; 2]]) -> bool {
    blocked.iter().all(|[lo, hi]| place <= *lo || place >= *hi)
}

/// Places from one end of a line to the other, both ends with them, none in a blocked range: evenly if that can be had with a
/// few more, else evenly between the ranges, with one on both sides of each. With the same ranges from either end they are the
/// same from either end.
///
/// # Errors
///
/// How far two would be apart beyond what they may past something; `None` when an end is blocked.
pub(super) fn spaced(
    [from, to]: [Length; 2],
    pitches: Pitches,
    blocked: &[[Length; 2]],
) -> Result<Vec<Length>, Option<Length>> {
    if !is_clear(from, blocked) || !is_clear(to, blocked) {
        return Err(None);
    }
    let line = to - from;
    if line < pitches.least {
        // Too short for any to go between.
        return Ok(if line <= Length::ZERO {
            vec![from]
        } else {
            vec![from, to]
        });
    }
    let fewest = intervals(line, pitches.most);
    let even = |count: u32| -> Vec<Length> { (0..=count).map(|i| from + station(line, count, i)).collect() };
    let is_even = |count: &u32| {
        line >= pitches.least * i64::from(*count) && even(*count).iter().all(|&place| is_clear(place, blocked))
    };
    if let Some(count) = (fewest..fewest + 4).find(is_even) {
        return Ok(even(count));
    }
    let mut places = Vec::new();
    let mut start = from;
    let ranges = merged(blocked.to_vec(), pitches.least);
    let here = ranges.into_iter().filter(|range| range[1] > from && range[0] < to);
    for [end, next] in here.chain([[to, to]]) {
        let free = end - start;
        if free >= pitches.least {
            let count = intervals(free, pitches.most);
            places.extend((0..=count).map(|i| start + station(free, count, i)));
        } else if start == from {
            places.push(from);
        } else if end == to {
            places.push(to);
        } else if free >= Length::ZERO {
            places.push(start + free.half_down());
        }
        start = next;
    }
    let widest = places.windows(2).map(|pair| pair[1] - pair[0]).max();
    // A pitch that is divided may come out a nanometre wide.
    match widest.filter(|&widest| widest > pitches.past + Length::from_nm(1)) {
        Some(widest) => Err(Some(widest)),
        None => Ok(places),
    }
}

/// The axes that a wall lies along, first that along it, and the one that it is thin along.
const fn axes(wall: Wall) -> [usize; 3] {
    match wall {
        Wall::Front | Wall::Rear | Wall::Riser => [1, 2, 0],
        Wall::Left | Wall::Right => [0, 2, 1],
        Wall::Floor | Wall::Lid => [0, 1, 2],
    }
}

/// What lies between two heights over the inner face of a wall (below zero outside of it), from where to where along it and
/// up it.
pub(crate) fn layer(spec: &BoxSpec, wall: Wall, [low, high]: [Length; 2], [along, up]: [[Length; 2]; 2]) -> Block {
    let [a, b, thin] = axes(wall);
    let mut ranges = [[Length::ZERO; 2]; 3];
    ranges[a] = along;
    ranges[b] = up;
    ranges[thin] = match wall {
        Wall::Rear | Wall::Right | Wall::Lid => [spec.inside[thin] - high, spec.inside[thin] - low],
        _ => [low, high],
    };
    Block::of(ranges)
}

/// Where a block lies in front of a wall, between two heights over its inner face: from where to where along it and up it.
pub(super) fn before(spec: &BoxSpec, wall: Wall, heights: [Length; 2], block: &Block) -> Option<[[Length; 2]; 2]> {
    let [a, b, thin] = axes(wall);
    let whole = layer(spec, wall, heights, [[Length::ZERO; 2]; 2]);
    let is_here = block.lo[thin] < whole.hi[thin] && whole.lo[thin] < block.hi[thin];
    is_here.then(|| [a, b].map(|axis| [block.lo[axis], block.hi[axis]]))
}

/// A range with what a head of this radius stays clear of it on both sides.
pub(super) fn kept_clear([lo, hi]: [Length; 2], radius: Length) -> [Length; 2] {
    [lo - radius - CLEAR, hi + radius + CLEAR]
}

impl Built {
    /// Spaces rivets of panels, and the nuts of screws that hold a cap, past what is in their way: what was added, and `others`,
    /// solids in the frame of the space inside the steel. Gives back the lines for which that cannot be.
    pub fn space_past(&mut self, spec: &BoxSpec, others: &[Block]) -> Vec<Unspaced> {
        let riveted = match spec.construction {
            crate::Construction::Framed(Skeleton {
                held:
                    Held::Riveted {
                        hole,
                        most_pitch,
                        most_past,
                        heads,
                        ..
                    },
                ..
            }) => {
                let pitches = Pitches {
                    most: most_pitch,
                    past: most_past,
                    least: rivet::least_pitch(hole),
                };
                Some((hole, pitches, heads))
            }
            _ => None,
        };
        if riveted.is_none() && self.lid_nuts.is_empty() {
            return Vec::new();
        }
        let mut things: Vec<Block> = others.to_vec();
        let pieces = self.added.iter().filter(|piece| !piece.role.is_liner());
        things.extend(pieces.map(|piece| piece.block));
        things.extend(&self.nuts);
        things.extend(&self.fixing_ends);
        let around = |middle: Length, across: Length| [middle - across.half_down(), middle + across.half_down()];
        let holes = self.wall_holes.iter().filter(|hole| hole.wall != Wall::Riser);
        things.extend(holes.map(|hole| {
            let through = [-self.beside.max(self.under) - CLEAR, CLEAR];
            let [along, up] = [hole.along, hole.up].map(|at| around(at, hole.diameter));
            layer(spec, hole.wall, through, [along, up])
        }));
        let mut unspaced = Vec::new();
        if let Some(riveted) = riveted {
            super::skeleton::space_past(spec, self, riveted, &things, &mut unspaced);
        }
        super::cap_hold::space_past(spec, self, &things, &mut unspaced);
        unspaced
    }

    /// Drills the holes of rivets that hold what lies on floor or lid, which its own pieces have already.
    pub(crate) fn drill_through(&mut self, spec: &BoxSpec, holes: &[WallHole]) {
        super::wall_holes::pierce(spec, &super::Shell::of(spec), &mut self.parts, holes);
        self.grams = super::grams(self.parts.iter());
    }

    /// What is kept free for the rivets of panels beyond panel and angle, each with its wall: outside and inside, in the frame of
    /// the space inside the steel. A flush head takes up nothing inside, but needs the room to go in.
    pub fn rivet_ends(&self, spec: &BoxSpec) -> Vec<(Wall, [Block; 2])> {
        match spec.construction {
            crate::Construction::Framed(Skeleton {
                held: Held::Riveted { heads, .. },
                ..
            }) => super::skeleton::rivet_ends(spec, heads, self),
            _ => Vec::new(),
        }
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    const PITCHES: Pitches = Pitches {
        most: Length::mm(75),
        past: Length::mm(75),
        least: Length::mm(10),
    };

    fn mm<const N: usize>(places: [i64; N]) -> Vec<Length> {
        places.into_iter().map(Length::mm).collect()
    }

    /// 300 mm are four pitches of 75, five of 60: a range over 150 leaves the five. One from 100 to 170 leaves no even places
    /// with up to seven (300 i / 7: 128.6), so there is one at each of its ends: 100 mm in two pitches, 130 in two.
    #[rstest]
    #[case::nothing(&[], &[0, 75, 150, 225, 300])]
    #[case::another_even(&[[145, 155]], &[0, 60, 120, 180, 240, 300])]
    #[case::on_both_sides(&[[100, 170]], &[0, 50, 100, 170, 235, 300])]
    #[case::touching(&[[75, 150]], &[0, 75, 150, 225, 300])]
    fn places_keep_off_what_is_blocked(#[case] blocked: &[[i64; 2]], #[case] wanted: &[i64]) {
        let blocked: Vec<_> = blocked.iter().map(|range| range.map(Length::mm)).collect();
        let wanted: Vec<_> = wanted.iter().copied().map(Length::mm).collect();
        assert_eq!(spaced([Length::ZERO, Length::mm(300)], PITCHES, &blocked), Ok(wanted));
    }

    #[test]
    fn a_line_too_short_for_two_pitches_keeps_its_ends() {
        let line = |to| spaced([Length::ZERO, Length::mm(to)], PITCHES, &[]);
        assert_eq!(line(9), Ok(mm([0, 9])));
        assert_eq!(line(0), Ok(mm([0])));
        assert_eq!(line(10), Ok(mm([0, 10])));
    }

    #[test]
    fn what_is_too_wide_is_told_by_how_much() {
        let line = [Length::ZERO, Length::mm(300)];
        let blocked = |lo, hi| spaced(line, PITCHES, &[[Length::mm(lo), Length::mm(hi)]]);
        assert_eq!(blocked(100, 190), Err(Some(Length::mm(90))));
        assert_eq!(blocked(-10, 30), Err(None));
        // Closer ones are told by how far they may be past it: 100 mm in two pitches, 130 in three.
        let closer = Pitches {
            most: Length::mm(53),
            ..PITCHES
        };
        let past = |lo, hi| spaced(line, closer, &[[Length::mm(lo), Length::mm(hi)]]);
        let nm = |places: Vec<Length>| places.iter().map(|place| place.nm()).collect::<Vec<_>>();
        assert_eq!(
            past(100, 170).map(nm),
            Ok(vec![
                0,
                50_000_000,
                100_000_000,
                170_000_000,
                213_333_333,
                256_666_667,
                300_000_000
            ])
        );
        assert_eq!(past(100, 176), Err(Some(Length::mm(76))));
        // A range at a span's end leaves too little for two: one in the middle of it.
        let two = [[100, 140], [146, 180]].map(|range| range.map(Length::mm));
        assert_eq!(spaced(line, PITCHES, &two), Ok(mm([0, 50, 100, 143, 180, 240, 300])));
    }
}
