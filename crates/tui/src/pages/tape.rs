//! The Tape page: readings of each cavity, and what must stay free in it.

use geometry::Axis;
use job::{Cavity, Field, Id, KeepOut, Line};

use crate::form::Row;
use crate::model::Model;
use crate::theme::Meaning;

/// The rows: for each cavity its readings by dimension, a place for one more of each, and its keep-outs.
pub fn rows(model: &Model) -> Vec<Row> {
    let mut rows = Vec::new();
    for cavity in &model.job().cavities {
        rows.push(Row::Heading(heading(model, cavity)));
        rows.push(Row::Field(Field::CavityName(cavity.id)));
        for axis in Axis::ALL {
            let of_axis = |i: &usize| cavity.readings[*i].line.dimension().is_some_and(|(a, _)| a == axis);
            let taken: Vec<usize> = (0..cavity.readings.len()).filter(of_axis).collect();
            rows.extend(taken.iter().map(|&i| Row::Field(Field::ReadingValue(cavity.id, i))));
            let line = next_line(cavity, axis);
            rows.push(Row::NewReading {
                cavity: cavity.id,
                line,
                needed: taken.is_empty(),
            });
        }
        let diagonals = (0..cavity.readings.len()).filter(|&i| cavity.readings[i].line.dimension().is_none());
        rows.extend(diagonals.map(|i| Row::Field(Field::ReadingValue(cavity.id, i))));
        for keep_out in &cavity.keep_outs {
            rows.extend(keep_out_rows(model, keep_out));
        }
    }
    rows.push(Row::Heading("how readings are trusted".to_owned()));
    rows.extend(
        [
            Field::TapeClass,
            Field::Sigmas,
            Field::Margin,
            Field::Units,
            Field::JobName,
            Field::Truck,
            Field::Revision,
        ]
        .map(Row::Field),
    );
    rows
}

fn heading(model: &Model, cavity: &Cavity) -> String {
    let result = model.evaluation.cavity(cavity.id);
    match result.and_then(|r| Some((r, model.evaluation.usable_text(r)?))) {
        Some((result, size)) => format!("{}: usable {size}, {}", cavity.name, result.survey.basis()),
        None => format!("{}: not yet measured", cavity.name),
    }
}

/// A line that has no reading yet along this dimension: first the plain dimension, then its usual places.
fn next_line(cavity: &Cavity, axis: Axis) -> Line {
    let places: &[&str] = match axis {
        Axis::X => &["", "left bottom", "right bottom", "left top", "right top"],
        Axis::Y => &["", "front", "middle", "rear", "front top", "rear top"],
        Axis::Z => &["", "front left", "front right", "rear left", "rear right"],
    };
    let line = |place: &str| Line::Along {
        axis,
        place: place.to_owned(),
    };
    let free = places
        .iter()
        .map(|p| line(p))
        .find(|l| !cavity.readings.iter().any(|r| r.line == *l));
    // A second reading at a place is a repeat, which counts too.
    free.unwrap_or_else(|| line("middle"))
}

fn keep_out_rows(model: &Model, keep_out: &KeepOut) -> Vec<Row> {
    let open = model.tape.open == Some(keep_out.id);
    let span = |i: usize| format!("{} to {}", keep_out.from[i], keep_out.to[i]);
    let taken_out = if keep_out.taken_out { ", taken out" } else { "" };
    let mut rows = vec![Row::Group {
        id: keep_out.id,
        title: format!("keep-out: {}", keep_out.name),
        detail: format!(
            "{}{taken_out}; {}, {}, {}",
            keep_out.source.name(),
            span(0),
            span(1),
            span(2)
        ),
        open,
    }];
    if open {
        let id = keep_out.id;
        rows.push(Row::Field(Field::KeepOutName(id)));
        for axis in Axis::ALL {
            rows.push(Row::Field(Field::KeepOutFrom(id, axis)));
            rows.push(Row::Field(Field::KeepOutTo(id, axis)));
        }
        rows.extend(
            [
                Field::KeepOutSource(id),
                Field::KeepOutTaken(id),
                Field::KeepOutMargin(id),
                Field::KeepOutNote(id),
            ]
            .map(Row::Field),
        );
    }
    rows
}

/// The cavity that the row under the cursor belongs to.
pub fn cavity_at(model: &Model, rows: &[Row], cursor: usize) -> Option<Id> {
    let cavities = &model.job().cavities;
    let of_keep_out = |id: Id| {
        cavities
            .iter()
            .find(|c| c.keep_outs.iter().any(|k| k.id == id))
            .map(|c| c.id)
    };
    let own = |row: &Row| match row {
        Row::Field(Field::CavityName(id) | Field::ReadingValue(id, _)) | Row::NewReading { cavity: id, .. } => {
            Some(*id)
        }
        Row::Group { id, .. } => of_keep_out(*id),
        _ => None,
    };
    rows[..=cursor.min(rows.len().saturating_sub(1))]
        .iter()
        .rev()
        .find_map(own)
        .or(cavities.first().map(|c| c.id))
}

/// What a reading's row is called: its line, and for two corners the dimension they span.
pub fn reading_label(model: &Model, cavity: Id, index: usize) -> String {
    let Some(reading) = model.job().cavity(cavity).and_then(|c| c.readings.get(index)) else {
        return String::new();
    };
    match (&reading.line, reading.line.dimension()) {
        (Line::Corners(..), Some((axis, _))) => format!("{} {}", axis.extent_name(), reading.line),
        (Line::Corners(..), None) => format!("diagonal {}", reading.line),
        _ => reading.line.to_string(),
    }
}

/// What is told beside a reading: whether it sets the usable figure, and its sigma.
pub fn reading_note(model: &Model, cavity: Id, index: usize) -> (String, Meaning) {
    let Some(result) = model.evaluation.cavity(cavity) else {
        return (String::new(), Meaning::Dim);
    };
    for dimension in result.dimensions.iter().flatten() {
        let Some(used) = dimension.readings.iter().position(|&i| i == index) else {
            continue;
        };
        let places = &dimension.usable.places;
        let Some((at, place)) = places.iter().enumerate().find(|(_, p)| p.indices.contains(&used)) else {
            continue;
        };
        let sigma = format!("sigma {:.1} mm", place.sigma.as_mm());
        return if at == dimension.usable.limiting {
            (
                format!(
                    "smallest: usable {}  ({sigma})",
                    model.evaluation.down(dimension.usable.value)
                ),
                Meaning::Plain,
            )
        } else {
            (sigma, Meaning::Dim)
        };
    }
    ("kept, only compared".to_owned(), Meaning::Dim)
}
