//! The eight corners of a cavity and the 28 lines between them.

use std::fmt;
use std::str::FromStr;

/// A corner of a cavity: front or rear, left or right (as the driver sees it), bottom or top.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Corner {
    /// Rear, not front.
    pub rear: bool,
    /// Right, not left.
    pub right: bool,
    /// Top, not bottom.
    pub top: bool,
}

/// One of the three directions of a cavity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Direction {
    /// From front to rear.
    Length,
    /// From left to right.
    Width,
    /// From bottom to top.
    Height,
}

impl Direction {
    /// Length, width, height.
    pub const ALL: [Self; 3] = [Self::Length, Self::Width, Self::Height];

    /// 0, 1, 2.
    pub const fn index(self) -> usize {
        self as usize
    }
}

impl Corner {
    /// All corners, round the floor (seen from above, against the clock) and then round the roof.
    pub const ALL: [Self; 8] = [
        Self::at(false, false, false),
        Self::at(true, false, false),
        Self::at(true, true, false),
        Self::at(false, true, false),
        Self::at(false, false, true),
        Self::at(true, false, true),
        Self::at(true, true, true),
        Self::at(false, true, true),
    ];

    const fn at(rear: bool, right: bool, top: bool) -> Self {
        Self { rear, right, top }
    }

    /// Its place in [`Corner::ALL`].
    pub const fn index(self) -> usize {
        let round = match (self.rear, self.right) {
            (false, false) => 0,
            (true, false) => 1,
            (true, true) => 2,
            (false, true) => 3,
        };
        if self.top { round + 4 } else { round }
    }

    /// Whether it is at the far end (rear, right, top) of a direction.
    pub const fn far(self, direction: Direction) -> bool {
        match direction {
            Direction::Length => self.rear,
            Direction::Width => self.right,
            Direction::Height => self.top,
        }
    }

    /// The corner at the other end of its edge in a direction.
    #[must_use]
    pub const fn across(mut self, direction: Direction) -> Self {
        match direction {
            Direction::Length => self.rear = !self.rear,
            Direction::Width => self.right = !self.right,
            Direction::Height => self.top = !self.top,
        }
        self
    }

    /// In full, as `front left bottom`.
    pub fn words(self) -> String {
        self.sides().map(|(_, word)| word).join(" ")
    }

    fn sides(self) -> [(char, &'static str); 3] {
        [
            if self.rear { ('R', "rear") } else { ('F', "front") },
            if self.right { ('R', "right") } else { ('L', "left") },
            if self.top { ('T', "top") } else { ('B', "bottom") },
        ]
    }
}

impl fmt::Display for Corner {
    /// As `FLB`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text: String = self.sides().iter().map(|(letter, _)| letter).collect();
        f.pad(&text)
    }
}

/// Not three letters for a corner.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0:?} is no corner; write F or R (front, rear), L or R (left, right), B or T (bottom, top), as FLB")]
pub struct CornerError(pub String);

impl FromStr for Corner {
    type Err = CornerError;

    fn from_str(text: &str) -> Result<Self, CornerError> {
        let found = Self::ALL
            .into_iter()
            .find(|corner| text.eq_ignore_ascii_case(&corner.to_string()));
        found.ok_or_else(|| CornerError(text.chars().take(20).collect()))
    }
}

/// A face of a cavity, by the direction across it and the end it lies at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Face {
    /// The direction from one face to the opposite one.
    pub across: Direction,
    /// Whether it is the rear, right or top one.
    pub far: bool,
}

impl fmt::Display for Face {
    /// As `floor`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match (self.across, self.far) {
            (Direction::Length, false) => "front wall",
            (Direction::Length, true) => "rear wall",
            (Direction::Width, false) => "left wall",
            (Direction::Width, true) => "right wall",
            (Direction::Height, false) => "floor",
            (Direction::Height, true) => "roof",
        })
    }
}

/// What a line is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LineKind {
    /// One of the 12 edges.
    Edge(Direction),
    /// One of the 12 diagonals of faces.
    FaceDiagonal(Face),
    /// One of the four lines from corner to opposite corner through the middle.
    SpaceDiagonal,
}

/// A line from a corner to another; the same line whichever end is told first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Line {
    from: Corner,
    to: Corner,
}

impl Line {
    /// The line between two corners; `None` when they are the same.
    pub fn new(a: Corner, b: Corner) -> Option<Self> {
        let (from, to) = if a.index() < b.index() { (a, b) } else { (b, a) };
        (from != to).then_some(Self { from, to })
    }

    /// All 28, in the order in which a person walks them: floor ring, floor cross, posts, the cross of each wall,
    /// roof ring, roof cross, and through the middle.
    pub fn all() -> [Self; 28] {
        const WALK: [(usize, usize); 28] = [
            (0, 1),
            (1, 2),
            (2, 3),
            (0, 3),
            (0, 2),
            (1, 3),
            (0, 4),
            (1, 5),
            (2, 6),
            (3, 7),
            (0, 5),
            (1, 4),
            (1, 6),
            (2, 5),
            (2, 7),
            (3, 6),
            (3, 4),
            (0, 7),
            (4, 5),
            (5, 6),
            (6, 7),
            (4, 7),
            (4, 6),
            (5, 7),
            (0, 6),
            (1, 7),
            (2, 4),
            (3, 5),
        ];
        WALK.map(|(from, to)| Self {
            from: Corner::ALL[from],
            to: Corner::ALL[to],
        })
    }

    /// Its two corners.
    pub const fn ends(self) -> [Corner; 2] {
        [self.from, self.to]
    }

    /// Whether it is an edge or a diagonal.
    pub fn kind(self) -> LineKind {
        let [a, b] = self.ends();
        let differs = |&direction: &Direction| a.far(direction) != b.far(direction);
        let differing: Vec<Direction> = Direction::ALL.into_iter().filter(differs).collect();
        match differing[..] {
            [direction] => LineKind::Edge(direction),
            [_, _] => {
                let across = Direction::ALL
                    .into_iter()
                    .find(|direction| !differs(direction))
                    .unwrap_or(Direction::Height);
                LineKind::FaceDiagonal(Face {
                    across,
                    far: a.far(across),
                })
            }
            _ => LineKind::SpaceDiagonal,
        }
    }

    /// In full, as `front left bottom to rear right top`.
    pub fn words(self) -> String {
        format!("{} to {}", self.from.words(), self.to.words())
    }
}

impl fmt::Display for Line {
    /// As `FLB to RRT`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("{} to {}", self.from, self.to))
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn corners_know_their_place_and_read_back() {
        for (index, corner) in Corner::ALL.into_iter().enumerate() {
            assert_eq!(corner.index(), index);
            assert_eq!(corner.to_string().to_lowercase().parse(), Ok(corner));
        }
        assert!("FLX".parse::<Corner>().is_err());
        assert_eq!(Corner::ALL[6].words(), "rear right top");
    }

    #[test]
    fn every_pair_of_corners_is_one_line() {
        let lines: BTreeSet<Line> = Line::all().into_iter().collect();
        assert_eq!(lines.len(), 28);
        let count = |wanted: fn(LineKind) -> bool| lines.iter().filter(|line| wanted(line.kind())).count();
        assert_eq!(count(|kind| matches!(kind, LineKind::Edge(_))), 12);
        assert_eq!(count(|kind| matches!(kind, LineKind::FaceDiagonal(_))), 12);
        assert_eq!(count(|kind| kind == LineKind::SpaceDiagonal), 4);
        for line in Line::all() {
            let [a, b] = line.ends();
            assert_eq!(Line::new(b, a), Some(line));
        }
        assert_eq!(Line::new(Corner::ALL[0], Corner::ALL[0]), None);
    }

    #[test]
    fn a_diagonal_knows_its_face() {
        let line = Line::new("RLB".parse().unwrap(), "RRT".parse().unwrap()).unwrap();
        let LineKind::FaceDiagonal(face) = line.kind() else {
            panic!("{line} lies in a face");
        };
        assert_eq!(face.to_string(), "rear wall");
        assert_eq!(line.to_string(), "RLB to RRT");
    }
}
