//! Rows of values with a cursor: the pages Tape, Modules, Pack and Boxes.

use job::{Edit, Field, Id, Line, State};
use pack::arrangement::Arrangement;

use crate::theme::Meaning;
use crate::widgets::field::FieldText;

/// Whose rows a group opens on. What has no number of its own is told by its place in the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Group {
    /// A cavity, on the Tape page.
    Cavity(Id),
    /// A keep-out.
    KeepOut(Id),
    /// A box.
    Box(Id),
    /// The faces of a cavity that boxes go in through.
    Faces(Id),
    /// A part that turns with the bed.
    BedPart(usize),
    /// A piece of stock.
    Stock(usize),
    /// A tested unit.
    Unit(usize),
    /// A component that comes out of the truck or goes in.
    Component(usize),
    /// A low point of the truck.
    Point(usize),
    /// A load of a set that the truck carries.
    Carried(usize),
}

/// One row of a form.
#[derive(Clone, Debug, PartialEq)]
pub enum Row {
    /// The title of a section.
    Heading(String),
    /// A value of the job.
    Field(Field),
    /// A reading that is still to be taken.
    NewReading {
        /// Of which cavity.
        cavity: Id,
        /// Along which line.
        line: Line,
        /// Whether the cavity has no reading of this dimension yet.
        needed: bool,
    },
    /// A group that opens on its rows.
    Group {
        /// Whose group.
        of: Group,
        /// What it is.
        title: String,
        /// What it says when closed.
        detail: String,
        /// Whether its rows follow.
        open: bool,
    },
    /// A series and parallel that may be asked for, with what is to say of it.
    Choice {
        /// Series and parallel.
        arrangement: Arrangement,
        /// The words.
        words: String,
        /// How they are drawn.
        meaning: Meaning,
    },
    /// Words, told from the evaluation.
    Text(String, Meaning),
    /// The same where there is much of it: the cursor walks over it, so that it can be read line by line.
    Line(String, Meaning),
}

impl Row {
    /// Whether the cursor may stand on it.
    pub const fn can_hold_cursor(&self) -> bool {
        matches!(
            self,
            Self::Field(_) | Self::NewReading { .. } | Self::Group { .. } | Self::Choice { .. } | Self::Line(..)
        )
    }
}

/// A value being typed.
#[derive(Clone, Debug, Default)]
pub struct Typing {
    /// The text with its cursor.
    pub input: FieldText,
    /// Why it was refused, and how to mend it.
    pub refused: Option<Refusal>,
}

/// Why a typed value was refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// What is wrong.
    pub problem: String,
    /// How to mend it.
    pub mend: String,
}

/// Where the cursor is, what is being typed, which groups are open.
#[derive(Clone, Debug, Default)]
pub struct Form {
    /// The row under the cursor: an index into all rows.
    pub cursor: usize,
    /// The value being typed, if one is.
    pub typing: Option<Typing>,
    /// The group that is open.
    pub open: Option<Group>,
}

impl Form {
    /// Keeps the cursor on a row that can hold it, the nearest at or after where it is, else before.
    pub fn settle(&mut self, rows: &[Row]) {
        let after = (self.cursor..rows.len()).find(|&i| rows[i].can_hold_cursor());
        let before = (0..self.cursor.min(rows.len()))
            .rev()
            .find(|&i| rows[i].can_hold_cursor());
        self.cursor = after.or(before).unwrap_or(0);
    }

    /// Moves the cursor by `by` rows that can hold it, stopping at the ends.
    pub fn step(&mut self, rows: &[Row], by: isize) {
        let stops: Vec<usize> = (0..rows.len()).filter(|&i| rows[i].can_hold_cursor()).collect();
        let here = stops.iter().position(|&i| i >= self.cursor).unwrap_or(0);
        let last = stops.len().saturating_sub(1).cast_signed();
        let there = (here.cast_signed() + by).clamp(0, last).cast_unsigned();
        self.cursor = stops.get(there).copied().unwrap_or(0);
    }

    /// Puts the cursor on a row, or the nearest that can hold it.
    pub fn to(&mut self, rows: &[Row], at: usize) {
        self.cursor = at;
        self.settle(rows);
    }

    /// To the first row under the next heading, or under the one before; stays under the last and the first.
    pub fn to_section(&mut self, rows: &[Row], next: bool) {
        let mut firsts = (0..rows.len())
            .filter(|&i| matches!(rows[i], Row::Heading(_)))
            .filter_map(|i| (i + 1..rows.len()).find(|&row| rows[row].can_hold_cursor()));
        let here = self.cursor;
        let to = if next {
            firsts.find(|&row| row > here)
        } else {
            firsts.rfind(|&row| row < here)
        };
        if let Some(to) = to {
            self.cursor = to;
        }
    }

    /// The row under the cursor.
    pub fn row<'a>(&self, rows: &'a [Row]) -> Option<&'a Row> {
        rows.get(self.cursor).filter(|row| row.can_hold_cursor())
    }

    /// Starts typing with `text` in the field and the cursor behind it.
    pub fn type_in(&mut self, text: &str) {
        self.typing = Some(Typing {
            input: FieldText::new(text),
            refused: None,
        });
    }

    /// Opens the field with the value that it has: the first character typed takes its place.
    pub fn retype(&mut self, text: &str) {
        self.typing = Some(Typing {
            input: FieldText::offered(text),
            refused: None,
        });
    }
}

/// The edit that a row makes of what was typed.
pub fn edit_of(row: &Row, text: &str) -> Option<Edit> {
    match row {
        Row::Field(field) => Some(Edit::Set {
            field: *field,
            text: text.to_owned(),
        }),
        Row::NewReading { cavity, line, .. } if !text.trim().is_empty() => Some(Edit::AddReading {
            cavity: *cavity,
            line: line.clone(),
            text: text.to_owned(),
        }),
        _ => None,
    }
}

/// The mark of a field's state.
pub const fn state_meaning(state: State) -> Meaning {
    match state {
        State::Given => Meaning::Plain,
        State::Assumed => Meaning::Assumed,
        State::Missing => Meaning::Caution,
        State::Open => Meaning::Dim,
    }
}
