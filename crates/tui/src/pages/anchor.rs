//! What a row is about, so that the cursor stays on it when rows above it come and go.

use job::{Field, Id, Line};

use crate::form::Row;
use crate::model::Model;

/// What a row is about.
#[derive(Clone, Debug, PartialEq)]
pub struct Anchor {
    row: Row,
    /// The cavity and the line, when it is about one: a reading may have come or gone.
    line: Option<(Id, Line)>,
}

/// What the row under the cursor is about, on a page of rows.
pub fn hold(model: &Model) -> Option<Anchor> {
    let rows = super::rows(model);
    let row = model.form()?.row(&rows)?.clone();
    let line = line_of(model, &row);
    Some(Anchor { row, line })
}

/// Puts the cursor back on what it was on; where that is gone it stays at its place.
pub fn keep(model: &mut Model, anchor: &Anchor) {
    let rows = super::rows(model);
    let is_same = |row: &Row| match (&anchor.line, &anchor.row, row) {
        (Some(line), ..) => line_of(model, row).as_ref() == Some(line),
        (None, Row::Group { of, .. }, Row::Group { of: other, .. }) => of == other,
        (None, held, row) => held == row,
    };
    // Of several readings of one line, the very same one.
    let itself = rows.iter().position(|row| *row == anchor.row && is_same(row));
    let at = itself.or_else(|| rows.iter().position(is_same));
    if let (Some(at), Some(form)) = (at, model.form_mut()) {
        form.cursor = at;
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
