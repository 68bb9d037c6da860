//! Why a survey has no shape, by the names of the readings.

use std::fmt;

use super::closing::OpenTriangle;
use super::corner::{Corner, Face, Line};
use super::observation::Told;
use super::strength::Strength;

/// Why a survey has no shape.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Refusal {
    /// A reading or statement makes no sense by itself.
    #[error("number {}, {told}, {wrong}", index + 1)]
    Senseless {
        /// Which one, from 0.
        index: usize,
        /// What it is about.
        told: Told,
        /// What is wrong with it and how to mend it.
        wrong: &'static str,
    },
    /// Readings that cannot all be true, whatever the shape.
    #[error("{}", closing_words(.0))]
    CannotClose(Vec<OpenTriangle>),
    /// Readings to one corner that no place of the corner comes near: it falls flat between the others. One of them is
    /// wrong, or one that places their far ends.
    #[error("{}", meeting_words(*.corner, .lines))]
    CannotMeet {
        /// The corner.
        corner: Corner,
        /// The lines read to it.
        lines: Vec<Line>,
        /// The readings of them, by index.
        readings: Vec<usize>,
    },
    /// The shape can still move.
    #[error("{0}")]
    Short(Short),
    /// No shape comes near the readings: something is grossly wrong, or far too little known.
    #[error("no shape fits these readings; look for a gross slip in them")]
    Unsettled,
}

/// Readings that leave the shape open.
#[derive(Clone, Debug, PartialEq)]
pub struct Short {
    /// How many readings and statements there are.
    pub count: usize,
    /// How far they hold the shape.
    pub strength: Strength,
    /// The lines whose length is open, in walking order.
    pub lines: Vec<Line>,
    /// The faces that can still be pushed out of square.
    pub faces: Vec<Face>,
}

impl fmt::Display for Short {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let open = self.strength.wanted - self.strength.held;
        let ways = if open == 1 { "way" } else { "ways" };
        write!(
            f,
            "these {} readings do not hold the shape: it can still move in {open} {ways}",
            self.count
        )?;
        if self.faces.is_empty() {
            return Ok(());
        }
        let faces: Vec<String> = self.faces.iter().map(ToString::to_string).collect();
        write!(f, "; not held square: {}", faces.join(", "))
    }
}

fn closing_words(open: &[OpenTriangle]) -> String {
    let each: Vec<String> = open.iter().map(ToString::to_string).collect();
    each.join("; ")
}

fn meeting_words(corner: Corner, lines: &[Line]) -> String {
    let lines: Vec<String> = lines.iter().map(ToString::to_string).collect();
    format!(
        "{} do not meet in {corner}: one of them, or a reading between their far ends, is wrong; tape them again",
        lines.join(", ")
    )
}
