//! What the readings of a cavity tell of its shape.

mod observe;
mod odd;
mod shape;
mod sharpen;
mod verdict;
mod words;

use std::sync::Arc;

use tape::survey::{self, Agreement, Guess, LineFigure};
use tape::{Length, inside};

use crate::{Len, Line};

use observe::From;
pub(crate) use observe::{Observed, observe, sigma};
pub use shape::{OutOfSquare, Surveyed};
pub(super) use sharpen::next;
pub(super) use verdict::of;

/// What a cavity's space rests on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Standing {
    /// Readings from corner to corner do not hold the shape: it is taken as square, by its smallest readings.
    #[default]
    AssumedSquare,
    /// They hold the shape, and agree as far as there are any to spare.
    Held,
    /// They hold the shape without those that look wrong, which are set aside until the person decides.
    Doubtful,
    /// They hold a shape but contradict each other, and it cannot be told which of them is wrong.
    Contradictory,
}

/// The survey of a cavity.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Survey {
    /// What the space rests on.
    pub standing: Standing,
    /// What is said of each reading, in the order of the cavity's list.
    pub readings: Vec<ReadingResult>,
    /// What is said of each statement, in the order of the cavity's list.
    pub statements: Vec<StatementResult>,
    /// Readings beyond what the shape takes.
    pub spare: usize,
    /// Whether they agree as well as their sigmas say; `None` while there is no shape.
    pub agreement: Option<Agreement>,
    /// The most that any reading which holds the shape is off; `None` without a spare one.
    pub most_off: Option<Length>,
    /// The standard uncertainty that would fit readings which agree much better or worse than theirs say.
    pub fitting_sigma: Option<Length>,
    /// The adjusted shape.
    pub shape: Option<Arc<Surveyed>>,
    /// Why there is none, when there are readings from corner to corner.
    pub trouble: Option<String>,
    /// Whether the readings hold a shape in which no space is left for sure: then none is told, square or not.
    pub nothing_left: bool,
    /// Edges that differ from the three others along the same direction much more than those do from each other: their
    /// place in the list, and by how much they are longer. What two slips at once hide from the adjustment.
    pub odd: Vec<(usize, Length)>,
    /// Triangles that cannot close, in words: one of their readings is wrong for sure.
    pub open: Vec<String>,
    /// Statements that the readings speak against, by their place in the list: they are set aside.
    pub disproved: Vec<usize>,
    /// Statements that lines of that sort cannot have: their place in the list, and what is wrong.
    pub senseless: Vec<(usize, &'static str)>,
    /// The plainest sign that the cavity is not square.
    pub out_of_square: Option<OutOfSquare>,
    /// The lines to tape next, in this order, and why.
    pub next: Vec<Next>,
}

/// What is said of a statement.
#[derive(Clone, Debug, PartialEq)]
pub struct StatementResult {
    /// What was stated, as `FLB to FRB level within 1/8"`.
    pub words: String,
    /// How far off it comes out at most; `None` while there is no shape, or when it is not used.
    pub off: Option<Length>,
    /// That over what is usually off.
    pub standardised: Option<f64>,
}

/// What is said of a reading.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadingResult {
    /// Along which line.
    pub line: Line,
    /// What was read, as written.
    pub read: Len,
    /// Its standard uncertainty.
    pub sigma: Length,
    /// What it is used for.
    pub used: Used,
    /// What the adjusted shape gives in its place.
    pub adjusted: Option<Length>,
    /// How much of it the others check, 0 not at all, 1 fully.
    pub checked: Option<f64>,
    /// Adjusted less read, over what that is usually off.
    pub standardised: Option<f64>,
    /// The smallest slip in it that would be caught 8 times in 10.
    pub detectable: Option<Length>,
    /// Set when it looks wrong.
    pub suspect: Option<Suspect>,
}

/// What a reading is used for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Used {
    /// It holds the shape together with the others.
    Shape,
    /// The space may be no larger than it, between the corners.
    Cap,
    /// It is one of those that the smallest is taken from, the cavity being taken as square.
    Square,
    /// Nothing rests on it yet.
    Kept,
    /// It looks wrong and is set aside until the person decides.
    SetAside,
    /// The person left it out.
    LeftOut,
}

/// A reading that looks wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// Its rank among the suspects, from 0.
    pub rank: usize,
    /// How many readings could equally be to blame, itself counted; 1 when it alone is named.
    pub tied: usize,
    /// Other readings that may be to blame instead, by their place in the list.
    pub rivals: Vec<usize>,
    /// What the others say it should be, with the standard uncertainty of that.
    pub should_be: Option<(Length, Length)>,
    /// What may have happened, likeliest first.
    pub guesses: Vec<Guess>,
}

/// A line to tape.
#[derive(Clone, Debug, PartialEq)]
pub struct Next {
    /// Which.
    pub line: survey::Line,
    /// What for.
    pub why: Why,
}

/// What a line is to be taped for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// Its reading looks wrong.
    Again,
    /// None stands out, but together they agree badly, and it agrees least.
    AgreesLeast,
    /// It tells which of several readings is wrong.
    TellsApart,
    /// The shape is not held without it.
    Holds,
    /// It makes the tightest room better known: from this standard uncertainty to that.
    Sharpens {
        /// Now.
        from: Length,
        /// With it.
        to: Length,
    },
}

impl Survey {
    /// The adjusted length of a line.
    pub fn line(&self, line: survey::Line) -> Option<LineFigure> {
        let shape = self.shape.as_ref()?;
        shape
            .adjustment
            .lines
            .iter()
            .find(|figure| figure.line == line)
            .copied()
    }

    /// What the space rests on, in a few words.
    pub const fn basis(&self) -> &'static str {
        match self.standing {
            Standing::AssumedSquare => "assumed square",
            Standing::Held => "as surveyed",
            Standing::Doubtful => "as surveyed, without what looks wrong",
            Standing::Contradictory => "readings contradict",
        }
    }

    /// Whether the space follows from the shape, not from the assumption that the cavity is square.
    pub const fn is_shaped(&self) -> bool {
        self.shape.is_some()
    }

    /// The readings that look wrong, the most suspect first, with their place in the list.
    pub fn suspects(&self) -> Vec<(usize, &Suspect)> {
        let mut found: Vec<(usize, &Suspect)> = self
            .readings
            .iter()
            .enumerate()
            .filter_map(|(i, reading)| Some((i, reading.suspect.as_ref()?)))
            .collect();
        found.sort_by_key(|(i, suspect)| (suspect.rank, *i));
        found
    }

    /// Readings of the shape that no other checks, by their place in the list.
    pub fn unchecked(&self) -> Vec<usize> {
        let unchecked = |reading: &&ReadingResult| reading.checked.is_some_and(|checked| checked < survey::UNCHECKED);
        self.readings
            .iter()
            .enumerate()
            .filter(|(_, reading)| unchecked(reading))
            .map(|(i, _)| i)
            .collect()
    }
}

/// What the usable cuboid is laid along.
pub(crate) fn frame(laid_on: Option<crate::LaidOn>) -> inside::Frame {
    use inside::{Base, Rail};

    use crate::LaidOn;
    let (base, rail) = match laid_on.unwrap_or(LaidOn::FloorLeft) {
        LaidOn::FloorLeft => (Base::Bottom, Rail::Left),
        LaidOn::FloorRight => (Base::Bottom, Rail::Right),
        LaidOn::FloorFront => (Base::Bottom, Rail::Front),
        LaidOn::FloorRear => (Base::Bottom, Rail::Rear),
        LaidOn::RoofLeft => (Base::Top, Rail::Left),
        LaidOn::RoofRight => (Base::Top, Rail::Right),
    };
    inside::Frame {
        base,
        rail,
        ..inside::Frame::default()
    }
}
