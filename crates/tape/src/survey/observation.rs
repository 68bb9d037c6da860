//! What was taped or said about a cavity, and how each of it follows from the corners.

use std::fmt;

use super::corner::{Corner, Direction, Line, LineKind};
use super::slope::{self, Sloped, Vector};
use crate::Length;
use crate::reading::limits_sigma;

/// Where the eight corners are, in the order of [`Corner::ALL`]: x rearward, y to the right, z up, in millimetres.
pub type Corners = [[f64; 3]; 8];

/// What was measured or said.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Told {
    /// The distance between two corners: a reading.
    Distance(Corner, Corner),
    /// The shortest distance of a corner from the straight (string) line through two others.
    Offset {
        /// The corner.
        corner: Corner,
        /// Two corners that the line goes through.
        line: Line,
    },
    /// How much higher the second corner is than the first.
    Rise(Corner, Corner),
    /// How far the second corner lies from plumb over (or under) the first, along the length of the cavity: positive
    /// towards the other end of the first corner's lengthwise edge.
    LeanLengthwise(Corner, Corner),
    /// The same across the length: positive towards the side that a turn from that edge upwards by the right hand
    /// leads to.
    LeanCrosswise(Corner, Corner),
    /// How far one edge spreads from another of the same direction over its own length, within their common face.
    Splay {
        /// The edge that is held to the other.
        edge: Line,
        /// The edge that it is held to.
        to: Line,
    },
    /// The same at right angles to their common face.
    Twist {
        /// The edge that is held to the other.
        edge: Line,
        /// The edge that it is held to.
        to: Line,
    },
    /// How far the end of one edge at a corner lies from square to another edge there, measured along that other:
    /// positive when the angle is below 90°.
    OutOfSquare {
        /// The corner.
        at: Corner,
        /// Direction of the edge that it is square to.
        along: Direction,
        /// Direction of the edge whose end is meant.
        end: Direction,
    },
}

/// One reading or statement with its value and standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Observation {
    /// What it is about.
    pub told: Told,
    /// What the tape showed; for statements what is said, zero for most.
    pub value: Length,
    /// One standard uncertainty.
    pub sigma: Length,
}

impl Observation {
    /// A reading between two corners.
    pub const fn distance(from: Corner, to: Corner, value: Length, sigma: Length) -> Self {
        Self {
            told: Told::Distance(from, to),
            value,
            sigma,
        }
    }

    /// A corner's distance from the straight line through two others.
    pub const fn offset(corner: Corner, line: Line, value: Length, sigma: Length) -> Self {
        Self {
            told: Told::Offset { corner, line },
            value,
            sigma,
        }
    }

    /// The second corner is so much higher than the first; lower when negative.
    pub const fn rise(from: Corner, to: Corner, value: Length, sigma: Length) -> Self {
        Self {
            told: Told::Rise(from, to),
            value,
            sigma,
        }
    }

    /// The two ends of a line are level within `tolerance`, either way.
    pub fn level(line: Line, tolerance: Length) -> Self {
        let [from, to] = line.ends();
        Self::said(Told::Rise(from, to), tolerance)
    }

    /// The two ends of a line are plumb over each other within `tolerance`, either way.
    pub fn plumb(line: Line, tolerance: Length) -> [Self; 2] {
        let [from, to] = line.ends();
        [Told::LeanLengthwise(from, to), Told::LeanCrosswise(from, to)].map(|told| Self::said(told, tolerance))
    }

    /// An edge is parallel to another within `tolerance` at its end; `None` when they are not edges of the same
    /// direction.
    pub fn parallel(edge: Line, to: Line, tolerance: Length) -> Option<[Self; 2]> {
        let same = matches!(edge.kind(), LineKind::Edge(_)) && edge.kind() == to.kind() && edge != to;
        let both = [Told::Splay { edge, to }, Told::Twist { edge, to }];
        same.then(|| both.map(|told| Self::said(told, tolerance)))
    }

    /// Two edges at a corner are square within `tolerance` at the end of the second; `None` when they are the same.
    pub fn square(at: Corner, along: Direction, end: Direction, tolerance: Length) -> Option<Self> {
        (along != end).then(|| Self::said(Told::OutOfSquare { at, along, end }, tolerance))
    }

    fn said(told: Told, tolerance: Length) -> Self {
        Self {
            told,
            value: Length::ZERO,
            sigma: limits_sigma(tolerance),
        }
    }
}

impl Told {
    /// The line of a reading; `None` for everything else.
    pub fn line(self) -> Option<Line> {
        match self {
            Self::Distance(from, to) => Line::new(from, to),
            _ => None,
        }
    }

    /// Whether it knows which way is up.
    pub(super) const fn ties_the_vertical(self) -> bool {
        matches!(
            self,
            Self::Rise(..) | Self::LeanLengthwise(..) | Self::LeanCrosswise(..)
        )
    }

    /// Whether it is about corners that differ and edges that can be compared.
    pub(super) fn makes_sense(self) -> bool {
        match self {
            Self::Distance(a, b) | Self::Rise(a, b) => a != b,
            Self::LeanLengthwise(a, b) | Self::LeanCrosswise(a, b) => a != b && b != a.across(Direction::Length),
            Self::Offset { corner, line } => !line.ends().contains(&corner),
            Self::Splay { edge, to } | Self::Twist { edge, to } => {
                matches!(edge.kind(), LineKind::Edge(_)) && edge.kind() == to.kind() && edge != to
            }
            Self::OutOfSquare { along, end, .. } => along != end,
        }
    }

    /// The corners it depends on, at most four.
    fn corners(self) -> [Corner; 4] {
        match self {
            Self::Distance(a, b) | Self::Rise(a, b) => [a, b, a, b],
            Self::LeanLengthwise(a, b) | Self::LeanCrosswise(a, b) => [a, b, a.across(Direction::Length), b],
            Self::Offset { corner, line } => {
                let [a, b] = line.ends();
                [corner, a, b, b]
            }
            Self::Splay { edge, to } | Self::Twist { edge, to } => {
                let ([a, b], [c, d]) = (near_to_far(to), near_to_far(edge));
                [a, b, c, d]
            }
            Self::OutOfSquare { at, along, end } => [at, at.across(along), at.across(end), at],
        }
    }

    /// What it would be at these corners, and its slopes by the 24 coordinates, corner by corner.
    pub(super) fn at(self, corners: &Corners) -> (f64, [f64; 24]) {
        if let Self::Distance(from, to) = self {
            return distance(corners, from.index(), to.index());
        }
        let involved = self.corners();
        let points: [Vector; 4] = std::array::from_fn(|k| {
            std::array::from_fn(|i| Sloped::variable(corners[involved[k].index()][i], k * 3 + i))
        });
        let found = self.formula(&points);
        let mut slopes = [0.0; 24];
        for (k, corner) in involved.into_iter().enumerate() {
            for i in 0..3 {
                slopes[corner.index() * 3 + i] += found.slopes[k * 3 + i];
            }
        }
        (found.value, slopes)
    }

    fn formula(self, [a, b, c, d]: &[Vector; 4]) -> Sloped {
        use slope::{cross, dot, from_to, length};
        match self {
            Self::Distance(..) => length(&from_to(a, b)),
            Self::Rise(..) => b[2] - a[2],
            // The corner a off the line from b to c.
            Self::Offset { .. } => {
                let along = from_to(b, c);
                length(&cross(&from_to(b, a), &along)) / length(&along)
            }
            // b over a; c is the other end of the lengthwise edge at a. Only what is horizontal counts.
            Self::LeanLengthwise(..) => {
                let (post, edge) = (from_to(a, b), from_to(a, c));
                (post[0] * edge[0] + post[1] * edge[1]) / horizontal(&edge)
            }
            Self::LeanCrosswise(..) => {
                let (post, edge) = (from_to(a, b), from_to(a, c));
                (edge[0] * post[1] - edge[1] * post[0]) / horizontal(&edge)
            }
            // The edge from c to d against the one from a to b; the face they span holds c - a.
            Self::Splay { .. } => {
                let (to, edge, over) = (from_to(a, b), from_to(c, d), from_to(a, c));
                let across = cross(&cross(&to, &over), &to);
                dot(&edge, &across) / length(&across)
            }
            Self::Twist { .. } => {
                let (to, edge, over) = (from_to(a, b), from_to(c, d), from_to(a, c));
                let out = cross(&to, &over);
                dot(&edge, &out) / length(&out)
            }
            Self::OutOfSquare { .. } => {
                let (along, end) = (from_to(a, b), from_to(a, c));
                dot(&along, &end) / length(&along)
            }
        }
    }
}

impl fmt::Display for Told {
    /// As `FLB to RRT`, or the statement in words.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Distance(a, b) => write!(f, "{a} to {b}"),
            Self::Offset { corner, line } => write!(f, "{corner} off the line {line}"),
            Self::Rise(a, b) => write!(f, "rise from {a} to {b}"),
            Self::LeanLengthwise(a, b) => write!(f, "lengthwise lean of {b} over {a}"),
            Self::LeanCrosswise(a, b) => write!(f, "crosswise lean of {b} over {a}"),
            Self::Splay { edge, to } => write!(f, "splay of {edge} from {to}"),
            Self::Twist { edge, to } => write!(f, "twist of {edge} from {to}"),
            Self::OutOfSquare { at, along, end } => {
                let [along, end] = [*along, *end].map(|direction| at.across(direction));
                write!(f, "square of {end} at {at} to {along}")
            }
        }
    }
}

fn horizontal(vector: &Vector) -> Sloped {
    (vector[0] * vector[0] + vector[1] * vector[1]).sqrt()
}

/// The ends of an edge, the front, left or bottom one first.
fn near_to_far(edge: Line) -> [Corner; 2] {
    let mut ends = edge.ends();
    ends.sort_unstable();
    ends
}

/// The distance between two corners and its slopes.
pub(super) fn distance(corners: &Corners, from: usize, to: usize) -> (f64, [f64; 24]) {
    let along: [f64; 3] = std::array::from_fn(|i| corners[to][i] - corners[from][i]);
    let length = along.iter().map(|part| part * part).sum::<f64>().sqrt();
    let mut slopes = [0.0; 24];
    if length > 0.0 {
        for (i, part) in along.into_iter().enumerate() {
            slopes[to * 3 + i] = part / length;
            slopes[from * 3 + i] = -part / length;
        }
    }
    (length, slopes)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    fn line(a: usize, b: usize) -> Line {
        Line::new(Corner::ALL[a], Corner::ALL[b]).unwrap()
    }

    /// A box of 1000 x 400 x 300 with two corners moved: rear right top by (7, -5, 3), front left top by (2, 4, 0).
    fn moved() -> Corners {
        let mut corners = Corner::ALL.map(|corner| {
            let far = [(corner.rear, 1000.0), (corner.right, 400.0), (corner.top, 300.0)];
            far.map(|(far, size)| if far { size } else { 0.0 })
        });
        corners[6] = [1007.0, 395.0, 303.0];
        corners[4] = [2.0, 4.0, 300.0];
        corners
    }

    #[rstest]
    #[case::distance(Told::Distance(Corner::ALL[0], Corner::ALL[2]), (1000.0_f64 * 1000.0 + 400.0 * 400.0).sqrt())]
    #[case::offset(Told::Offset { corner: Corner::ALL[6], line: line(0, 1) }, (395.0_f64 * 395.0 + 303.0 * 303.0).sqrt())]
    #[case::rise(Told::Rise(Corner::ALL[2], Corner::ALL[6]), 303.0)]
    #[case::lean_lengthwise(Told::LeanLengthwise(Corner::ALL[0], Corner::ALL[4]), 2.0)]
    #[case::lean_crosswise(Told::LeanCrosswise(Corner::ALL[0], Corner::ALL[4]), 4.0)]
    #[case::splay(Told::Splay { edge: line(2, 6), to: line(1, 5) }, -5.0)]
    #[case::twist(Told::Twist { edge: line(2, 6), to: line(1, 5) }, -7.0)]
    #[case::square(Told::OutOfSquare { at: Corner::ALL[0], along: Direction::Length, end: Direction::Height }, 2.0)]
    fn a_statement_is_what_it_says(#[case] told: Told, #[case] expected: f64) {
        assert!(told.makes_sense());
        let (value, _) = told.at(&moved());
        assert!((value - expected).abs() < 1e-9, "{told}: {value}");
    }

    #[rstest]
    #[case(Told::Distance(Corner::ALL[0], Corner::ALL[6]))]
    #[case(Told::Offset { corner: Corner::ALL[6], line: line(0, 1) })]
    #[case(Told::Rise(Corner::ALL[2], Corner::ALL[6]))]
    #[case(Told::LeanLengthwise(Corner::ALL[0], Corner::ALL[4]))]
    #[case(Told::LeanCrosswise(Corner::ALL[2], Corner::ALL[6]))]
    #[case(Told::Splay { edge: line(2, 6), to: line(1, 5) })]
    #[case(Told::Twist { edge: line(6, 7), to: line(0, 1) })]
    #[case(Told::OutOfSquare { at: Corner::ALL[6], along: Direction::Length, end: Direction::Height })]
    fn slopes_are_those_of_the_value(#[case] told: Told) {
        let corners = moved();
        let (_, slopes) = told.at(&corners);
        for coordinate in 0..24 {
            let moved = |by: f64| {
                let mut corners = corners;
                corners[coordinate / 3][coordinate % 3] += by;
                told.at(&corners).0
            };
            let numeric = (moved(1e-3) - moved(-1e-3)) / 2e-3;
            assert!((numeric - slopes[coordinate]).abs() < 1e-6, "{told} {coordinate}");
        }
    }

    #[test]
    fn statements_about_edges_need_edges_of_one_direction() {
        let tolerance = Length::mm(2);
        assert!(Observation::parallel(line(0, 1), line(6, 7), tolerance).is_some());
        assert!(Observation::parallel(line(0, 1), line(0, 1), tolerance).is_none());
        assert!(Observation::parallel(line(0, 1), line(1, 2), tolerance).is_none());
        assert!(Observation::parallel(line(0, 2), line(4, 6), tolerance).is_none());
        assert!(Observation::square(Corner::ALL[0], Direction::Length, Direction::Length, tolerance).is_none());
        let sigma = Observation::level(line(0, 1), tolerance).sigma.as_mm();
        assert!((sigma - 2.0 / 3.0_f64.sqrt()).abs() < 1e-5);
    }
}
