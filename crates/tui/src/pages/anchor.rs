//! What a row is about, so that the cursor stays on it when rows above it come and go.

use job::{Field, Id, Line};

use crate::form::Row;
use crate::model::Model;

/// What a row is about.
#[derive(Clone, Debug, PartialEq)]
pub struct Anchor {
    row: Row,
    /// The rows before it.
    before: Vec<Row>,
    /// The cavity and the line, when it is about one: a reading may have come or gone.
    line: Option<(Id, Line)>,
}

/// What the row under the cursor is about, on a page of rows.
pub fn hold(model: &Model) -> Option<Anchor> {
    let mut before = super::rows(model);
    let form = model.form()?;
    let row = form.row(&before)?.clone();
    before.truncate(form.cursor);
    let line = line_of(model, &row);
    Some(Anchor { row, before, line })
}

/// Puts the cursor back on what it was on; where that is gone it stays at its place.
pub fn keep(model: &mut Model, anchor: &Anchor) {
    put_back(model, anchor);
}

/// Puts the cursor back, and tells whether what it was on is still there.
fn put_back(model: &mut Model, anchor: &Anchor) -> bool {
    let rows = super::rows(model);
    let is_same = |row: &Row| match (&anchor.line, &anchor.row, row) {
        (Some(line), ..) => line_of(model, row).as_ref() == Some(line),
        (None, held, row) => is_of_same(held, row),
    };
    // Of several readings of one line, the very same one.
    let itself = rows.iter().position(|row| *row == anchor.row && is_same(row));
    let at = itself.or_else(|| rows.iter().position(is_same));
    if let (Some(at), Some(form)) = (at, model.form_mut()) {
        form.cursor = at;
    }
    at.is_some()
}

/// The same; where a value or a group is gone, as one that was added and is taken back, the cursor goes to the nearest row
/// before it that is still there.
pub fn keep_or_before(model: &mut Model, anchor: &Anchor) {
    if put_back(model, anchor) || !matches!(anchor.row, Row::Field(_) | Row::Group { .. }) {
        return;
    }
    let rows = super::rows(model);
    let place = |held: &Row| {
        rows.iter()
            .position(|row| row.can_hold_cursor() && is_of_same(held, row))
    };
    let at = anchor.before.iter().rev().find_map(place);
    if let (Some(at), Some(form)) = (at, model.form_mut()) {
        form.cursor = at;
    }
}

/// Whether two rows are about the same; what a group says of itself may have changed.
fn is_of_same(one: &Row, other: &Row) -> bool {
    match (one, other) {
        (Row::Group { of, .. }, Row::Group { of: other, .. }) => of == other,
        (one, other) => one == other,
    }
}

fn line_of(model: &Model, row: &Row) -> Option<(Id, Line)> {
    match row {
        Row::NewReading { cavity, line, .. } => Some((*cavity, line.clone())),
        Row::Field(Field::ReadingValue(cavity, index)) => {
            let reading = model.job().cavity(*cavity)?.readings.get(*index)?;
            Some((*cavity, reading.line.clone()))
        }
        _ => None,
    }
}
