//! The lines from corner to corner, in walking order.

use drawing::hollow::Station;
use geometry::Axis;
use job::{Cavity, Field, Id, Line};
use tape::survey;

use crate::form::{Group, Row};
use crate::model::Model;
use crate::theme::Meaning;

/// Whether anything was taped from corner to corner.
pub fn is_begun(cavity: &Cavity) -> bool {
    cavity.readings.iter().any(|r| r.line.of_survey().is_some())
}

/// Whether an edge along an axis was taped.
pub(super) fn has_edge(cavity: &Cavity, axis: Axis) -> bool {
    let along = |line: &Line| line.of_survey().is_some() && line.dimension().is_some_and(|(a, _)| a == axis);
    cavity.readings.iter().any(|r| along(&r.line))
}

/// The readings along a line, by their place in the list.
fn taken(cavity: &Cavity, line: survey::Line) -> Vec<usize> {
    let along = |i: &usize| cavity.readings[*i].line.of_survey() == Some(line);
    (0..cavity.readings.len()).filter(along).collect()
}

/// Whether the person noted that no tape passes along a line.
pub fn is_out_of_reach(cavity: &Cavity, line: survey::Line) -> bool {
    cavity.out_of_reach.iter().any(|l| l.of_survey() == Some(line))
}

/// The group of all lines, open once something was taped, and under each station its lines.
pub(super) fn rows(model: &Model, cavity: &Cavity) -> Vec<Row> {
    let open = is_begun(cavity) || model.tape.open == Some(Group::Cavity(cavity.id));
    let count = survey::Line::all()
        .into_iter()
        .filter(|&line| !taken(cavity, line).is_empty())
        .count();
    let all = survey::Line::all().len();
    let detail = match count {
        0 => format!("0 of {all} lines taped: is it square?"),
        n => format!("{n} of {all} lines taped"),
    };
    let mut rows = vec![Row::Group {
        of: Group::Cavity(cavity.id),
        title: "from corner to corner".to_owned(),
        detail,
        open,
    }];
    if !open {
        return rows;
    }
    for station in Station::ALL {
        let middle = if station == Station::Middle {
            ", where the tape can cross"
        } else {
            ""
        };
        rows.push(Row::Text(format!("     {}{middle}", station.name()), Meaning::Dim));
        for (_, line) in station.lines() {
            let taken = taken(cavity, line);
            if taken.is_empty() {
                let [from, to] = line.ends();
                rows.push(Row::NewReading {
                    cavity: cavity.id,
                    line: Line::Corners(from, to),
                    needed: false,
                });
            }
            rows.extend(taken.into_iter().map(|i| Row::Field(Field::ReadingValue(cavity.id, i))));
        }
    }
    rows
}

/// The first line after this row that nobody has taped yet, in the same cavity, leaving out what is out of reach.
pub fn next_untaped(model: &Model, rows: &[Row], after: usize, of: Id) -> Option<usize> {
    let cavity = model.job().cavity(of)?;
    let wanted = |row: &Row| match row {
        Row::NewReading { cavity: id, line, .. } => {
            *id == of && line.of_survey().is_some_and(|line| !is_out_of_reach(cavity, line))
        }
        _ => false,
    };
    (after + 1..rows.len()).find(|&i| wanted(&rows[i]))
}

/// The line from corner to corner that a row is about, and its cavity.
pub fn line_at(model: &Model, row: &Row) -> Option<(Id, survey::Line)> {
    match row {
        Row::NewReading { cavity, line, .. } => Some((*cavity, line.of_survey()?)),
        Row::Field(Field::ReadingValue(cavity, index)) => {
            let reading = model.job().cavity(*cavity)?.readings.get(*index)?;
            Some((*cavity, reading.line.of_survey()?))
        }
        _ => None,
    }
}
