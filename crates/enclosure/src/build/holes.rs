//! Screw holes of a lid, and which of them lie on which piece.

use tape::Length;

use crate::{EndCut, Hole, HolePattern, Purpose};

/// The holes round a lid, seen from above, from the lid's lower left corner, longer side along `u`.
pub(super) struct Holes {
    pub(super) pattern: HolePattern,
    /// Centres, anticlockwise from the lower left one.
    centres: Vec<[Length; 2]>,
    drill: Drill,
}

/// What is drilled along a line.
#[derive(Clone, Copy)]
pub(super) struct Drill {
    pub(super) diameter: Length,
    /// The widest pitch.
    pub(super) most_pitch: Length,
    pub(super) purpose: Purpose,
}

impl Drill {
    fn hole(self, [x, y]: [Length; 2]) -> Hole {
        Hole {
            x,
            y,
            diameter: self.diameter,
            purpose: self.purpose,
        }
    }
}

impl Holes {
    /// Holes for the screws of a lid of the given size, on a line that runs `edge` inside it.
    pub(super) fn round(lid: [Length; 2], edge: Length, diameter: Length, most_pitch: Length) -> Self {
        let drill = Drill {
            diameter,
            most_pitch,
            purpose: Purpose::LidScrew,
        };
        Self::on_line([edge; 2], lid.map(|side| side - edge * 2), drill)
    }

    /// Holes on a rectangle of the given sides, its lower left corner at `start`.
    pub(super) fn on_line(start: [Length; 2], line: [Length; 2], drill: Drill) -> Self {
        let [along, across] = line.map(|side| intervals(side, drill.most_pitch));
        let pattern = HolePattern {
            line_length: line[0],
            line_width: line[1],
            intervals_long: along,
            intervals_short: across,
            count: 2 * (along + across),
        };
        let places = pattern.places();
        Self {
            pattern,
            centres: places.map(|[u, v]| [start[0] + u, start[1] + v]).collect(),
            drill,
        }
    }

    /// All of them, in the measures of the piece that they were laid out on.
    pub(super) fn all(&self) -> Vec<Hole> {
        let mut holes: Vec<Hole> = self.centres.iter().map(|&centre| self.drill.hole(centre)).collect();
        holes.sort_by_key(|hole| (hole.x, hole.y));
        holes
    }

    /// The holes that lie wholly on a piece, in its own measures, those nearest its left end first.
    pub(super) fn on(&self, place: &Place) -> Vec<Hole> {
        let mut holes: Vec<Hole> = self
            .centres
            .iter()
            .map(|&centre| self.drill.hole(place.locate(centre)))
            .filter(|hole| place.holds(hole))
            .collect();
        holes.sort_by_key(|hole| (hole.x, hole.y));
        holes
    }
}

impl HolePattern {
    /// The centres, anticlockwise from the lower left corner of the hole line, which they are measured from.
    pub fn places(&self) -> impl Iterator<Item = [Length; 2]> + use<> {
        let (along, across) = (self.intervals_long, self.intervals_short);
        let line = [self.line_length, self.line_width];
        let u = move |i| station(line[0], along, i);
        let v = move |i| station(line[1], across, i);
        let lower = (0..along).map(move |i| [u(i), v(0)]);
        let right = (0..across).map(move |i| [u(along), v(i)]);
        let upper = (1..=along).rev().map(move |i| [u(i), v(across)]);
        let left = (1..=across).rev().map(move |i| [u(0), v(i)]);
        lower.chain(right).chain(upper).chain(left)
    }
}

/// The fewest even pitches, none wider than `most_pitch`, along `line`.
pub(crate) fn intervals(line: Length, most_pitch: Length) -> u32 {
    let pitches = -(-line.nm()).div_euclid(most_pitch.nm());
    u32::try_from(pitches).expect("a checked box has at most 1000 pitches a side")
}

/// Where hole `i` stands on a line of `n` pitches, to the nearest nanometre.
///
/// The second half mirrors the first, so a piece may be turned end for end (only the middle hole of a line of odd
/// length stands half a nanometre off). Rounding makes no pitch wider than the next whole nanometre, so the widest
/// allowed is kept.
pub(crate) fn station(line: Length, n: u32, i: u32) -> Length {
    if 2 * i > n {
        return line - station(line, n, n - i);
    }
    let (i, n) = (i64::from(i), i64::from(n));
    Length::from_nm((2 * i * line.nm() + n).div_euclid(2 * n))
}

/// A piece under or in the lid: where it lies, and its outline.
pub(super) struct Place {
    /// Corner of the lid that the piece's own corner lies at, and whether it is turned a quarter anticlockwise.
    corner: [Length; 2],
    turned: bool,
    length: Length,
    width: Length,
    mitred: bool,
}

impl Place {
    /// The lid itself.
    pub(super) fn lid([length, width]: [Length; 2]) -> Self {
        Self {
            corner: [Length::ZERO; 2],
            turned: false,
            length,
            width,
            mitred: false,
        }
    }

    /// The long bar along the lid's lower edge; the upper one is the same, turned half round.
    pub(super) fn long_bar(over_flange: [Length; 2], width: Length, end: EndCut) -> Self {
        Self {
            corner: [Length::ZERO; 2],
            turned: false,
            length: over_flange[0],
            width,
            mitred: end == EndCut::Mitre45,
        }
    }

    /// The short bar along the lid's right edge, which starts `start` above the lower edge; the left one is the
    /// same, turned half round.
    pub(super) fn short_bar(over_flange: [Length; 2], start: Length, width: Length, end: EndCut) -> Self {
        Self {
            corner: [over_flange[0], start],
            turned: true,
            length: over_flange[1] - start * 2,
            width,
            mitred: end == EndCut::Mitre45,
        }
    }

    /// A point of the lid in the piece's own measures: x along its length, y away from its outer edge.
    fn locate(&self, [u, v]: [Length; 2]) -> [Length; 2] {
        let [right, up] = [u - self.corner[0], v - self.corner[1]];
        if self.turned { [up, -right] } else { [right, up] }
    }

    /// Whether the hole lies wholly on the piece.
    fn holds(&self, hole: &Hole) -> bool {
        let inside = |from_edge: Length| from_edge * 2 >= hole.diameter;
        let clear_of_end = |from_end: Length| {
            if self.mitred {
                // The mitre runs at 45 degrees from the long point: the distance to it is (x - y) / sqrt 2.
                let beyond = from_end - hole.y;
                beyond > Length::ZERO && (beyond * beyond * 2).nm2() >= (hole.diameter * hole.diameter).nm2()
            } else {
                inside(from_end)
            }
        };
        inside(hole.y) && inside(self.width - hole.y) && clear_of_end(hole.x) && clear_of_end(self.length - hole.x)
    }
}

#[cfg(test)]
mod tests;
