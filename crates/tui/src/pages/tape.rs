//! The Tape page: readings of each cavity, and what must stay free in it.

/// The lines from corner to corner.
pub mod lines;
mod notes;
/// The cavity from three sides.
pub mod picture;

use geometry::{Axis, Face};
use job::{Cavity, CavityResult, Corner, Field, Id, KeepOut, KeepOutShape, Line, MeasuredFrom, Source, Standing};

use crate::form::{Group, Row};
use crate::model::Model;
use crate::pages::beside::columns_of_rows;
use crate::theme::Meaning;
use crate::widgets::toast::wrap;
pub use notes::{keep_out_label, line_label, reading_label, reading_note, statement_label, statement_note};

/// The rows: for each cavity what is known of it, its dimensions, the lines from corner to corner in walking order, what
/// was read between them, what is stated of it, and its keep-outs.
pub fn rows(model: &Model) -> Vec<Row> {
    let mut rows = Vec::new();
    for cavity in &model.job().cavities {
        rows.push(Row::Heading(heading(model, cavity)));
        rows.push(Row::Field(Field::CavityName(cavity.id)));
        let result = model.evaluation.cavity(cavity.id);
        rows.extend(result.into_iter().flat_map(|result| told(model, result)));
        let is_shaped = result.is_some_and(|r| r.survey.is_shaped());
        rows.extend(plain(cavity, is_shaped));
        if lines::is_begun(cavity) {
            rows.push(Row::Field(Field::LaidOn(cavity.id)));
        }
        rows.extend(lines::rows(model, cavity));
        let statements = (0..cavity.statements.len()).map(|i| Row::Field(Field::StatementWithin(cavity.id, i)));
        rows.extend(statements);
        for keep_out in &cavity.keep_outs {
            rows.extend(keep_out_rows(model, keep_out));
        }
    }
    rows.push(Row::Heading("how readings are trusted".to_owned()));
    rows.extend(
        [
            Field::TapeClass,
            Field::ReadingSigma,
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

/// What is known of a cavity: what its readings are good for, which look wrong, what to tape next.
fn told(model: &Model, cavity: &CavityResult) -> Vec<Row> {
    let (survey, style) = (&cavity.survey, model.evaluation.style());
    let mut rows = Vec::new();
    if cavity.survey.readings.iter().all(|r| r.line.of_survey().is_none()) {
        return rows;
    }
    let meaning = match survey.standing {
        Standing::Held => Meaning::Good,
        Standing::AssumedSquare => Meaning::Note,
        Standing::Doubtful | Standing::Contradictory => Meaning::Caution,
    };
    let room = columns_of_rows(model).saturating_sub(12);
    let mut say = |meaning: Meaning, words: String| {
        let mut mark = meaning.mark();
        for line in wrap(&words, room) {
            rows.push(Row::Text(format!(" {mark:<3} {line}"), meaning));
            mark = "";
        }
    };
    say(meaning, survey.verdict(style));
    if let Some(trouble) = &survey.trouble {
        say(Meaning::Note, trouble.clone());
    }
    for (index, suspect) in survey.suspects() {
        if suspect.tied == 1
            && let Some(words) = survey.suspect_words(index, style)
        {
            say(Meaning::Caution, words);
        }
    }
    if survey.standing != Standing::Held {
        for &(index, by) in &survey.odd {
            if let Some(words) = survey.odd_words(index, by, style) {
                say(Meaning::Caution, words);
            }
        }
    }
    if let Some(found) = &survey.out_of_square {
        let by = model.evaluation.up(found.by);
        say(
            Meaning::Note,
            format!("not square by {by} over the diagonal of the {}", found.face),
        );
    }
    if let Some(next) = survey.next.iter().chain(&cavity.next).next() {
        let words = format!("next: {} ({})", next.instruction(), next.reason(style));
        say(Meaning::Note, words);
    }
    rows
}

/// Length, width and height as single readings, each with a place for one more. Where the survey holds the shape they
/// are readings between the corners, and one more of each is asked for at mid-length.
fn plain(cavity: &Cavity, is_shaped: bool) -> Vec<Row> {
    let mut rows = Vec::new();
    for axis in Axis::ALL {
        let of_axis = |i: &usize| {
            let line = &cavity.readings[*i].line;
            line.of_survey().is_none() && line.dimension().is_some_and(|(a, _)| a == axis)
        };
        let taken: Vec<usize> = (0..cavity.readings.len()).filter(of_axis).collect();
        rows.extend(taken.iter().map(|&i| Row::Field(Field::ReadingValue(cavity.id, i))));
        let line = if is_shaped {
            Line::Along {
                axis,
                place: "middle".to_owned(),
            }
        } else {
            next_line(cavity, axis)
        };
        rows.push(Row::NewReading {
            cavity: cavity.id,
            line,
            needed: taken.is_empty() && !is_shaped && !lines::has_edge(cavity, axis),
        });
    }
    let others = |i: &usize| {
        let line = &cavity.readings[*i].line;
        line.of_survey().is_none() && line.dimension().is_none()
    };
    rows.extend(
        (0..cavity.readings.len())
            .filter(others)
            .map(|i| Row::Field(Field::ReadingValue(cavity.id, i))),
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
    let open = model.tape.open == Some(Group::KeepOut(keep_out.id));
    let taken_out = if keep_out.taken_out { ", taken out" } else { "" };
    let mut rows = vec![Row::Group {
        of: Group::KeepOut(keep_out.id),
        title: format!("keep-out: {}", keep_out.name),
        detail: format!(
            "{}{taken_out}; {}",
            keep_out.source.name(),
            notes::keep_out_words(keep_out)
        ),
        open,
    }];
    if open {
        let id = keep_out.id;
        rows.push(Row::Field(Field::KeepOutName(id)));
        rows.extend(told_by(keep_out));
        rows.push(Row::Field(Field::KeepOutSource(id)));
        // Under the word that brings them, so that the cursor stays where it is.
        if keep_out.source == Source::Sweep || !keep_out.travel.is_none() {
            rows.extend(Face::ALL.map(|face| Row::Field(Field::KeepOutTravel(id, face))));
        }
        rows.extend(
            [
                Field::KeepOutTaken(id),
                Field::KeepOutMargin(id),
                Field::KeepOutNote(id),
            ]
            .map(Row::Field),
        );
    }
    rows
}

/// How the place and size of a keep-out are told.
fn told_by(keep_out: &KeepOut) -> Vec<Row> {
    let id = keep_out.id;
    let along = keep_out.shape.and_then(KeepOutShape::along);
    let mut fields = Vec::new();
    // Places first: they are typed one after the other, Enter by Enter; the rest is chosen where it is not as usual.
    for axis in Axis::ALL {
        fields.push(Field::KeepOutFrom(id, axis));
        // Across a round one there is only its middle.
        if along.is_none_or(|own| own == axis) {
            fields.push(Field::KeepOutTo(id, axis));
        }
    }
    fields.push(Field::KeepOutMeasured(id));
    if keep_out.measured_from == Some(MeasuredFrom::Distances) {
        fields.extend(Corner::ALL.map(|corner| Field::KeepOutDistance(id, corner)));
    }
    fields.push(Field::KeepOutShape(id));
    if along.is_some() {
        fields.push(Field::KeepOutDiameter(id));
    }
    fields.into_iter().map(Row::Field).collect()
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
        Row::Field(
            Field::CavityName(id) | Field::ReadingValue(id, _) | Field::StatementWithin(id, _) | Field::LaidOn(id),
        )
        | Row::NewReading { cavity: id, .. }
        | Row::Group {
            of: Group::Cavity(id), ..
        } => Some(*id),
        Row::Group {
            of: Group::KeepOut(id), ..
        } => of_keep_out(*id),
        _ => None,
    };
    rows[..=cursor.min(rows.len().saturating_sub(1))]
        .iter()
        .rev()
        .find_map(own)
        .or(cavities.first().map(|c| c.id))
}
