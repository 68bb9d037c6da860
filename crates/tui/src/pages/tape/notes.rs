//! What a reading or a statement is called, and what is told beside it.

use geometry::Axis;
use job::{Decided, Field, Id, KeepOut, KeepOutShape, Line, MeasuredFrom, ReadingResult, Suspect, Used};
use tape::show::{Fraction, Style};

use crate::model::Model;
use crate::theme::Meaning;

/// What a reading's row is called: its line, and for two corners the dimension they span.
pub fn reading_label(model: &Model, cavity: Id, index: usize) -> String {
    let Some(reading) = model.job().cavity(cavity).and_then(|c| c.readings.get(index)) else {
        return String::new();
    };
    line_label(&reading.line)
}

/// What the row of a line is called.
pub fn line_label(line: &Line) -> String {
    match (line, line.dimension()) {
        (Line::Corners(..), Some((axis, _))) => format!("{line}  {}", axis.extent_name()),
        (Line::Corners(..), None) => format!("{line}  across"),
        _ => line.to_string(),
    }
}

/// What a statement's row is called.
pub fn statement_label(model: &Model, cavity: Id, index: usize) -> String {
    let statement = model.job().cavity(cavity).and_then(|c| c.statements.get(index));
    statement.map_or(String::new(), |statement| {
        let lines: Vec<String> = statement.lines.iter().map(Line::to_string).collect();
        format!("{} {} within", lines.join(" and "), statement.says.name())
    })
}

/// What is told beside a statement: how far off it comes out.
pub fn statement_note(model: &Model, cavity: Id, index: usize) -> String {
    let result = model.evaluation.cavity(cavity);
    let off = result.and_then(|r| r.survey.statements.get(index)).and_then(|s| s.off);
    let style = Style {
        fraction: Fraction::SixtyFourth,
        ..model.evaluation.style()
    };
    off.map_or("not used".to_owned(), |off| {
        format!("comes out {} off", style.near(off))
    })
}

/// What is told beside a reading.
pub fn reading_note(model: &Model, cavity: Id, index: usize) -> (String, Meaning) {
    let none = (String::new(), Meaning::Dim);
    let (Some(result), Some(taped)) = (model.evaluation.cavity(cavity), model.job().cavity(cavity)) else {
        return none;
    };
    let (Some(reading), Some(taped)) = (result.survey.readings.get(index), taped.readings.get(index)) else {
        return none;
    };
    let style = fine(reading);
    let (words, meaning) = match (&reading.suspect, reading.used) {
        (_, Used::LeftOut) => ("left out".to_owned(), Meaning::Dim),
        (Some(suspect), _) => {
            let coarse = model.evaluation.style();
            suspected(
                suspect,
                Style {
                    units: style.units,
                    ..coarse
                },
            )
        }
        (None, Used::Shape) => in_shape(reading, style, model.taping.details),
        (None, Used::SetAside) => ("set aside".to_owned(), Meaning::Caution),
        (None, Used::Cap) => ("between the corners: the space is no larger".to_owned(), Meaning::Dim),
        (None, Used::Square) => return square(model, cavity, index),
        (None, Used::Kept) => ("kept until the shape is held".to_owned(), Meaning::Dim),
    };
    let mut more = Vec::new();
    if let Some(taken) = taped.taken {
        more.push(taken.name());
    }
    if taped.decided == Some(Decided::Stands) {
        more.push("stands");
    }
    let more = if more.is_empty() {
        String::new()
    } else {
        format!("  [{}]", more.join(", "))
    };
    (format!("{words}{more}"), meaning)
}

/// To 1/64 in, in the units that the reading was written in.
fn fine(reading: &ReadingResult) -> Style {
    Style {
        units: reading.read.written().units(),
        fraction: Fraction::SixtyFourth,
    }
}

fn suspected(suspect: &Suspect, style: Style) -> (String, Meaning) {
    let words = match suspect.should_be {
        Some((value, _)) => format!("wrong? about {}", style.near(value)),
        None if suspect.tied > 1 => format!("may be wrong, or one of {} others", suspect.tied - 1),
        None => "looks wrong".to_owned(),
    };
    // As grave as the finding that tells of it.
    (words, Meaning::Caution)
}

fn in_shape(reading: &ReadingResult, style: Style, details: bool) -> (String, Meaning) {
    let Some(adjusted) = reading.adjusted else {
        return (String::new(), Meaning::Dim);
    };
    let off = reading.read.value() - adjusted;
    let by = style.near(off.abs());
    let words = match (by == style.near(tape::Length::ZERO), off.is_negative()) {
        (true, _) => "agrees".to_owned(),
        (_, true) => format!("{by} short"),
        (_, false) => format!("{by} long"),
    };
    let unchecked = reading.checked.is_some_and(|r| r < tape::survey::UNCHECKED);
    let checked = if unchecked { ", nothing checks it" } else { "" };
    let details = match (details, reading.checked, reading.standardised) {
        (true, Some(checked), Some(times)) => {
            format!("  ({:.0} % checked, {:.1} sigma off)", 100.0 * checked, times.abs())
        }
        _ => String::new(),
    };
    let meaning = if unchecked { Meaning::Note } else { Meaning::Dim };
    (format!("{words}{checked}{details}"), meaning)
}

/// Taken as square: whether it sets the usable figure, and its sigma.
fn square(model: &Model, cavity: Id, index: usize) -> (String, Meaning) {
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
            let usable = model.evaluation.down(dimension.usable.value);
            (format!("smallest: usable {usable}  ({sigma})"), Meaning::Plain)
        } else {
            (sigma, Meaning::Dim)
        };
    }
    (String::new(), Meaning::Dim)
}

/// The directions that places of a keep-out are counted in, and where from.
fn counted(keep_out: &KeepOut) -> ([&'static str; 3], &'static str) {
    let measured = keep_out.measured_from.unwrap_or(MeasuredFrom::FrontLeftBottom);
    let Some(corner) = measured.corner() else {
        return (["rearward", "right", "up"], "from its middle");
    };
    let words = [
        if corner.rear { "forward" } else { "rearward" },
        if corner.right { "left" } else { "right" },
        if corner.top { "down" } else { "up" },
    ];
    (words, measured.name())
}

/// Where a keep-out is, in a line: shape, and its places from the corner that they are counted from.
pub(super) fn keep_out_words(keep_out: &KeepOut) -> String {
    let along = keep_out.shape.and_then(KeepOutShape::along);
    let (towards, from) = counted(keep_out);
    let each = Axis::ALL.map(|axis| {
        let (i, towards) = (axis.index(), towards[axis.index()]);
        match along {
            Some(own) if own != axis => format!("middle {} {towards}", keep_out.from[i]),
            _ => format!("{} to {} {towards}", keep_out.from[i], keep_out.to[i]),
        }
    });
    let round = match (along, &keep_out.diameter) {
        (Some(_), Some(diameter)) => format!("round, {diameter}; "),
        (Some(_), None) => "round, diameter needed; ".to_owned(),
        (None, _) => String::new(),
    };
    let corner = if keep_out.measured_from.is_some() {
        format!("; {from}")
    } else {
        String::new()
    };
    format!("{round}{}{corner}", each.join(", "))
}

/// What a place of a keep-out is called: by the corner that it is counted from, and what it is of a round one.
pub fn keep_out_label(model: &Model, field: Field) -> Option<String> {
    let (id, axis, end) = match field {
        Field::KeepOutFrom(id, axis) => (id, axis, "from"),
        Field::KeepOutTo(id, axis) => (id, axis, "to"),
        _ => return None,
    };
    let keep_out = model.job().keep_out(id)?;
    let along = keep_out.shape.and_then(KeepOutShape::along);
    let end = if along.is_some_and(|own| own != axis) {
        "its middle"
    } else {
        end
    };
    Some(format!("{end}, {}", counted(keep_out).0[axis.index()]))
}
