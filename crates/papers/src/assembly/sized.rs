//! Which sizes a drawing of a box tells, and in which view: each once on the sheet.

use drawing::{AddedPiece, Direction, Side};
use enclosure::Role;
use geometry::{Axis, Cuboid};
use tape::Length;

use super::Sheets;

/// Places nearer than this to an even spacing are evenly spaced.
const EVEN: Length = Length::from_nm(50_000);

/// A size told beside or below a view.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Told {
    /// In which view.
    pub(super) side: Side,
    /// Along the sheet or up it.
    pub(super) along: Direction,
    /// From where to where on the sheet of the view, the smaller first.
    pub(super) ends: [Length; 2],
    /// Which row, from 1 next to the view.
    pub(super) row: u32,
    /// What is written.
    pub(super) words: String,
}

impl Told {
    /// What it measures.
    #[cfg(test)]
    pub(super) fn length(&self) -> Length {
        self.ends[1] - self.ends[0]
    }
}

impl Sheets<'_> {
    /// Every size, view by view.
    pub(super) fn told(&self) -> Vec<Told> {
        Side::ALL.into_iter().flat_map(|side| self.told_in(side)).collect()
    }

    fn told_in(&self, side: Side) -> Vec<Told> {
        if side == Side::Plan {
            return [Axis::X, Axis::Y]
                .into_iter()
                .flat_map(|axis| self.holes_along(axis))
                .collect();
        }
        let brackets = self.brackets_seen(side);
        let mut told = self.bracket_chain(side, &brackets);
        let first = told.iter().map(|told| told.row).max().unwrap_or(0);
        let step = self.step_seen(side);
        let run = step.map(|step| [step.u0, step.u1]);
        let level = run.into_iter().chain(self.distinct(side, Direction::U));
        told.extend((first + 1..).zip(level).map(|(row, ends)| Told {
            side,
            along: Direction::U,
            ends,
            row,
            words: self.both(ends[1] - ends[0]),
        }));
        told.extend(self.over_heads(side).map(|ends| Told {
            side,
            along: Direction::U,
            ends,
            row: told.iter().map(|told| told.row).max().unwrap_or(0) + 1,
            words: self.room(ends[1] - ends[0]),
        }));
        // Heights of the whole stand beside the view from the left, those of what is on the walls beside the other.
        let up = match side {
            Side::FromLeft => self.distinct(side, Direction::V),
            Side::Plan | Side::FromRear => self.up_the_wall(),
        };
        let rise = step.map(|step| [step.v0, step.v1]);
        told.extend((1..).zip(rise.into_iter().chain(up)).map(|(row, ends)| Told {
            side,
            along: Direction::V,
            ends,
            row,
            words: self.both(ends[1] - ends[0]),
        }));
        told
    }

    /// What the body lacks under its step, seen from beside it.
    pub(super) fn step_seen(&self, side: Side) -> Option<drawing::Rect> {
        let step = self.assembly.step?;
        (side != Side::Plan && side.axis(Direction::U) == self.assembly.step_axis).then(|| side.rect(&step))
    }

    /// Body, lid and over all along a direction, those that differ, the shorter first.
    fn distinct(&self, side: Side, along: Direction) -> Vec<[Length; 2]> {
        let assembly = &self.assembly;
        let mut spans: Vec<[Length; 2]> = Vec::new();
        for solid in [&assembly.body, &assembly.lidded, &assembly.whole] {
            let span = side.rect(solid).ends(along);
            if !spans.contains(&span) {
                spans.push(span);
            }
        }
        spans.sort_by_key(|span| span[1] - span[0]);
        spans
    }

    /// From the heads of screws on one wall to those on the other, where they stick out beyond all else.
    fn over_heads(&self, side: Side) -> Option<[Length; 2]> {
        let over = |solid| side.rect(solid).ends(Direction::U);
        let ends = over(&self.assembly.with_heads);
        (ends != over(&self.assembly.whole)).then_some(ends)
    }

    /// From under the floor to the rim, and to the top of the brackets, where those are not told already.
    fn up_the_wall(&self) -> Vec<[Length; 2]> {
        let floor = -self.assembly.body.lo()[Axis::Z];
        let rim = self.assembly.body.hi()[Axis::Z] - self.assembly.above_rim;
        let mut tops: Vec<Length> = self.brackets().map(|item| item.block.hi()[Axis::Z]).collect();
        if self.assembly.above_rim > Length::ZERO {
            tops.push(rim);
        }
        tops.sort_unstable();
        tops.dedup();
        tops.into_iter()
            .map(|top| [-top, floor])
            .filter(|ends| ends[0] < ends[1])
            .collect()
    }

    /// How far the first hole of the lid is from its edge, and how they are spaced.
    fn holes_along(&self, axis: Axis) -> Vec<Told> {
        let Some([first, last]) = self.hole_line(axis) else {
            return Vec::new();
        };
        let edge = self.assembly.lidded.lo()[axis];
        let along = if axis == Axis::X { Direction::U } else { Direction::V };
        // The driver's left is at the bottom of the sheet: places grow upwards.
        let sheet = |[from, to]: [Length; 2]| if axis == Axis::X { [from, to] } else { [-to, -from] };
        let pattern = self.assembly.pattern;
        let spaces = pattern.map_or(1, |pattern| {
            if axis == self.assembly.long {
                pattern.intervals_long
            } else {
                pattern.intervals_short
            }
        });
        let told = |ends, row, words| Told {
            side: Side::Plan,
            along,
            ends: sheet(ends),
            row,
            words,
        };
        vec![
            told([edge, first], 1, self.both(first - edge)),
            told([first, last], 2, self.spaces(spaces, last - first)),
        ]
    }

    /// The first and the last place of the lid's holes along an axis.
    fn hole_line(&self, axis: Axis) -> Option<[Length; 2]> {
        let along = || self.assembly.holes.iter().map(|hole| hole[axis.index()]);
        Some([along().min()?, along().max()?])
    }

    /// `13 equal spaces in 36 1/2" (927.0)`: a pitch rounded to a mark would not add up to the line.
    pub(super) fn spaces(&self, count: u32, line: Length) -> String {
        if count <= 1 {
            self.both(line)
        } else {
            format!("{count} equal spaces in {}", self.both(line))
        }
    }

    fn brackets(&self) -> impl Iterator<Item = AddedPiece<'_>> {
        let added = self.assembly.added().into_iter();
        added.filter(|item| item.piece.role == Role::Bracket)
    }

    /// The brackets of the wall that faces the viewer; where there are none, of the one behind.
    fn brackets_seen(&self, side: Side) -> Vec<Cuboid> {
        let across = if side == Side::FromLeft { Axis::Y } else { Axis::X };
        let body = &self.assembly.body;
        let blocks: Vec<Cuboid> = self.brackets().map(|item| item.block).collect();
        let low: Vec<Cuboid> = blocks
            .iter()
            .filter(|b| b.hi()[across] <= body.lo()[across])
            .copied()
            .collect();
        let high: Vec<Cuboid> = blocks
            .iter()
            .filter(|b| b.lo()[across] >= body.hi()[across])
            .copied()
            .collect();
        let (near, far) = if side == Side::FromLeft {
            (low, high)
        } else {
            (high, low)
        };
        if near.is_empty() { far } else { near }
    }

    /// From the end of the body to the middle of the first bracket, and on to the others.
    fn bracket_chain(&self, side: Side, brackets: &[Cuboid]) -> Vec<Told> {
        let mut middles: Vec<Length> = brackets
            .iter()
            .map(|block| {
                let [from, to] = side.rect(block).ends(Direction::U);
                (from + to).half_down()
            })
            .collect();
        middles.sort_unstable();
        let (Some(&first), Some(&last)) = (middles.first(), middles.last()) else {
            return Vec::new();
        };
        let told = |ends: [Length; 2], row: u32, words: String| Told {
            side,
            along: Direction::U,
            ends,
            row,
            words,
        };
        let edge = side.rect(&self.assembly.body).u0;
        let mut chain = vec![told([edge, first], 1, self.both(first - edge))];
        let gaps: Vec<Length> = middles.windows(2).map(|pair| pair[1] - pair[0]).collect();
        let widest = gaps.iter().max().copied().unwrap_or_default();
        let narrowest = gaps.iter().min().copied().unwrap_or_default();
        if widest - narrowest <= EVEN {
            if last > first {
                let count = u32::try_from(gaps.len()).unwrap_or(u32::MAX);
                chain.push(told([first, last], 2, self.spaces(count, last - first)));
            }
        } else {
            // Neighbours in rows of their own: their words may be longer than they are.
            let rows = [2, 3].into_iter().cycle();
            let gap = |(pair, row): (&[Length], u32)| told([pair[0], pair[1]], row, self.both(pair[1] - pair[0]));
            chain.extend(middles.windows(2).zip(rows).map(gap));
        }
        chain
    }
}
