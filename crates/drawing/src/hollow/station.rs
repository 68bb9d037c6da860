//! Lines that are taped from one stand, in walking order.

use tape::survey::{Direction, Face, Line, LineKind};

/// A group of lines of a cavity that are taped together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Station {
    /// The four edges of the floor.
    FloorRing,
    /// The two diagonals of the floor.
    FloorCross,
    /// The four upright edges.
    Posts,
    /// The two diagonals of the left wall.
    LeftCross,
    /// The two diagonals of the rear wall.
    RearCross,
    /// The two diagonals of the right wall.
    RightCross,
    /// The two diagonals of the front wall.
    FrontCross,
    /// The four edges of the roof.
    RoofRing,
    /// The two diagonals of the roof.
    RoofCross,
    /// The four lines from corner to opposite corner.
    Middle,
}

impl Station {
    /// All of them, in walking order.
    pub const ALL: [Self; 10] = [
        Self::FloorRing,
        Self::FloorCross,
        Self::Posts,
        Self::LeftCross,
        Self::RearCross,
        Self::RightCross,
        Self::FrontCross,
        Self::RoofRing,
        Self::RoofCross,
        Self::Middle,
    ];

    /// The station at which a line is taped.
    pub fn of(line: Line) -> Self {
        match line.kind() {
            LineKind::Edge(Direction::Height) => Self::Posts,
            LineKind::Edge(_) if line.ends()[0].top => Self::RoofRing,
            LineKind::Edge(_) => Self::FloorRing,
            LineKind::FaceDiagonal(Face { across, far }) => match (across, far) {
                (Direction::Length, false) => Self::FrontCross,
                (Direction::Length, true) => Self::RearCross,
                (Direction::Width, false) => Self::LeftCross,
                (Direction::Width, true) => Self::RightCross,
                (Direction::Height, false) => Self::FloorCross,
                (Direction::Height, true) => Self::RoofCross,
            },
            LineKind::SpaceDiagonal => Self::Middle,
        }
    }

    /// Its lines with their numbers in walking order, from 1 to 28.
    pub fn lines(self) -> Vec<(usize, Line)> {
        let numbered = (1..).zip(Line::all());
        numbered.filter(|(_, line)| Self::of(*line) == self).collect()
    }

    /// What it is called.
    pub const fn name(self) -> &'static str {
        match self {
            Self::FloorRing => "floor ring",
            Self::FloorCross => "floor cross",
            Self::Posts => "posts",
            Self::LeftCross => "left wall cross",
            Self::RearCross => "rear wall cross",
            Self::RightCross => "right wall cross",
            Self::FrontCross => "front wall cross",
            Self::RoofRing => "roof ring",
            Self::RoofCross => "roof cross",
            Self::Middle => "through the middle",
        }
    }
}
