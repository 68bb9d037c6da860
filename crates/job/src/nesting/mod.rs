//! What is cut from which sheet and bar: the cut list as a question to `enclosure::nest`, and its answer with marks,
//! counts to buy and cost.
//!
//! Nothing of it is stored: it follows from the job, takes a while, and is worked out anew where it is shown. The work is
//! counted in steps, so screens, papers and the command line give the same answer.

mod answer;
mod parts;
mod question;
mod size;
#[cfg(test)]
mod tests;
mod words;

use enclosure::Form;
use enclosure::nest::Ended;
use enclosure::nest::sheets::{Cut, Cutting, Offcut};
use tape::{Length, Units};

use crate::Price;

pub use answer::{nest, nested};
pub use parts::{PartsFault, PartsSheet, parts_question, read_parts};
pub use question::question;
pub use size::{SizeError, named_size, read_size};
pub(crate) use words::stock_text;
pub use words::{exact_text, place_text};

/// Steps of work for each material and thickness, and each section.
pub const WORK: u64 = 10_000_000;

/// How sheets and bars are cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct How {
    /// Edge to edge or along any line.
    pub cutting: Cutting,
    /// What a cut through a sheet takes.
    pub kerf: Length,
    /// What is lost along each edge of a sheet.
    pub trim: Length,
    /// Whether parts may lie across the sheet.
    pub may_turn: bool,
    /// What a cut through a bar takes.
    pub saw_kerf: Length,
    /// What is cut off each end of a bar.
    pub saw_trim: Length,
    /// The least side of an offcut worth keeping.
    pub keep: Length,
}

/// What is to be cut from what.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// The units the person works in.
    pub units: Units,
    /// How it is cut.
    pub how: How,
    /// What of it nobody entered, as `kerf 3 mm`.
    pub assumed: Vec<String>,
    /// What there is to cut from.
    pub pieces: Vec<Piece>,
    /// The parts, a group for each material and thickness, and each section.
    pub groups: Vec<Group>,
}

/// A sheet or bar of one size, on sale or on hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// Length and width of a sheet; length and nothing of a bar.
    pub sides: [Length; 2],
    /// How many are on hand; none when it is bought.
    pub on_hand: Option<u32>,
    /// What one costs.
    pub price: Option<Price>,
    /// Whether nobody entered it.
    pub assumed: bool,
}

impl Piece {
    /// Whether it is a bar.
    pub fn is_bar(&self) -> bool {
        self.sides[1] == Length::ZERO
    }
}

/// Parts that are cut from the same sort of stock.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// `mild steel 3 mm sheet`.
    pub label: String,
    /// Whether they are cut from bars.
    pub is_bar: bool,
    /// The section of the bars; none for sheets, or when it is only known by its label.
    pub form: Option<Form>,
    /// The parts.
    pub parts: Vec<Wanted>,
    /// Which of the pieces serve for it.
    pub pieces: Vec<usize>,
}

/// A line of the cut list.
#[derive(Clone, Debug, PartialEq)]
pub struct Wanted {
    /// Its mark.
    pub mark: String,
    /// What it is.
    pub name: String,
    /// The box it belongs to.
    pub box_name: String,
    /// Length and width as cut; of a bar, its length and how wide it is.
    pub sides: [Length; 2],
    /// How many.
    pub quantity: u32,
    /// Square millimetres of the rectangle of `sides` that are not the piece: corners cut out, the notch beside a step. Nothing of a
    /// bar, or where only the sides are known.
    pub cut_out_mm2: f64,
}

/// All parts laid out.
#[derive(Clone, Debug, PartialEq)]
pub struct Nesting {
    /// What was asked.
    pub question: Question,
    /// An answer for each group.
    pub stocks: Vec<Nested>,
    /// Whether it was stopped before its work was done.
    pub stopped: bool,
}

/// The parts of one group laid out.
#[derive(Clone, Debug, PartialEq)]
pub struct Nested {
    /// `mild steel 3 mm sheet`.
    pub label: String,
    /// Whether they are cut from bars.
    pub is_bar: bool,
    /// The sheets or bars in use, bought ones first.
    pub nests: Vec<Nest>,
    /// What is bought, by size.
    pub buy: Vec<Buy>,
    /// How many are bought.
    pub bought: u32,
    /// No way of cutting buys fewer.
    pub at_least: u32,
    /// Whether no way of cutting buys fewer: `bought == at_least`.
    pub proved: bool,
    /// How the search ended.
    pub ended: Ended,
    /// Parts that are on none of them.
    pub left_out: Vec<Left>,
    /// Share of the stock in use that is in no part, by its own edge, and in no offcut worth keeping.
    pub waste: f64,
    /// The longest side of the stock in use, or that of what was on offer: what a drawing has to hold.
    pub longest: Length,
}

impl Nested {
    /// Whether it is laminate or plastic for the liner, told by its label: never for a laser.
    pub fn is_liner(&self) -> bool {
        let names = enclosure::liner::Liner::ALL.iter().map(|sort| sort.name());
        names.into_iter().any(|name| self.label.starts_with(name))
    }
}

/// What is bought of one size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Buy {
    /// The size.
    pub piece: Piece,
    /// How many.
    pub count: u32,
}

/// One sheet or bar with what is cut from it; places from the corner of the untrimmed piece, x along its length.
#[derive(Clone, Debug, PartialEq)]
pub struct Nest {
    /// What it is cut from.
    pub piece: Piece,
    /// The parts on it.
    pub parts: Vec<Placing>,
    /// The cuts in an order they can be made in; none when cut along any line.
    pub cuts: Vec<Cut>,
    /// What is left and worth keeping, largest first.
    pub offcuts: Vec<Offcut>,
    /// Share of it that is in no part, by its own edge, and in no offcut worth keeping.
    pub waste: f64,
}

/// A part in its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Placing {
    /// Its line among the parts of its group.
    pub wanted: usize,
    /// Its mark.
    pub mark: String,
    /// What it is.
    pub name: String,
    /// The box it belongs to.
    pub box_name: String,
    /// Its near corner.
    pub at: [Length; 2],
    /// Its sides along x and y, as it lies.
    pub sides: [Length; 2],
    /// Whether it lies across.
    pub turned: bool,
}

/// Parts that are on no sheet or bar.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Left {
    /// The mark.
    pub mark: String,
    /// How many.
    pub quantity: u32,
    /// Why, in words.
    pub why: &'static str,
}

/// How far it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Which group, from 1.
    pub group: usize,
    /// Of how many.
    pub of: usize,
    /// Steps done, all groups together.
    pub done: u64,
    /// Steps allowed, all groups together.
    pub work: u64,
    /// Sheets or bars of this group to buy so far.
    pub so_far: u32,
    /// It cannot be fewer.
    pub at_least: u32,
}
