//! What is done to a reading or a line on the Tape page.

use job::{Decided, Edit, Field, Id, Line, Says, Taken, Used};
use tape::survey;

use super::commands::go_to;
use crate::form::{Refusal, Row};
use crate::model::{About, Ask, Goal, Model, Overlay, Prompt};
use crate::pages;
use crate::pages::tape::lines;

/// The reading under the cursor.
fn reading_here(model: &mut Model, rows: &[Row]) -> Option<(Id, usize)> {
    match model.form().and_then(|f| f.row(rows)) {
        Some(Row::Field(Field::ReadingValue(cavity, index))) => Some((*cavity, *index)),
        _ => {
            model.tell("put the cursor on a reading first");
            None
        }
    }
}

/// The line from corner to corner under the cursor.
fn line_here(model: &mut Model, rows: &[Row]) -> Option<(Id, survey::Line)> {
    let row = model.form().and_then(|f| f.row(rows)).cloned();
    let found = row.and_then(|row| lines::line_at(model, &row));
    if found.is_none() {
        model.tell("put the cursor on a line from corner to corner first");
    }
    found
}

/// Opens the first line of a cavity that nobody has taped yet for typing.
pub(super) fn start(model: &mut Model, cavity: Id) {
    let rows = pages::rows(model);
    let cursor = model.tape.cursor;
    if let Some(next) = lines::next_untaped(model, &rows, cursor, cavity) {
        model.tape.cursor = next;
        model.tape.type_in("");
        model.tell("Enter goes on to the next line, Enter alone passes one over, Esc leaves");
    }
}

/// The next of a few words, then nothing again.
fn after<T: PartialEq + Copy>(all: &[T], now: Option<T>) -> Option<T> {
    match now {
        None => all.first().copied(),
        Some(now) => all.iter().skip_while(|&&t| t != now).nth(1).copied(),
    }
}

/// Leaves a reading out, lets it stand, or takes the decision back.
pub(super) fn decide(model: &mut Model, rows: &[Row]) {
    let Some((cavity, index)) = reading_here(model, rows) else {
        return;
    };
    let reading = model.job().cavity(cavity).and_then(|c| c.readings.get(index));
    let next = after(Decided::ALL, reading.and_then(|r| r.decided));
    let words = match next {
        Some(Decided::LeftOut) => "left out: it counts for nothing; e again if it stands",
        Some(Decided::Stands) => "it stands: it is not set aside, whatever the others say",
        None => "not decided",
    };
    let text = next.map_or("", Decided::name).to_owned();
    let field = Field::ReadingDecided(cavity, index);
    if model.apply(Edit::Set { field, text }).is_ok() {
        model.tell(words);
    }
}

/// Tells what the readings are good for now, or which of them looks wrong: whoever tapes looks at one line only.
pub(super) fn tell(model: &mut Model, cavity: Id) {
    let Some(result) = model.evaluation.cavity(cavity) else {
        return;
    };
    let style = model.evaluation.style();
    let alone = result
        .survey
        .suspects()
        .into_iter()
        .find(|(_, suspect)| suspect.tied == 1);
    match alone.and_then(|(index, _)| result.survey.suspect_words(index, style)) {
        Some(words) => model.refuse(words),
        None => model.tell(result.survey.verdict(style)),
    }
}

/// How a reading was taken.
pub(super) fn taken(model: &mut Model, rows: &[Row]) {
    let Some((cavity, index)) = reading_here(model, rows) else {
        return;
    };
    let reading = model.job().cavity(cavity).and_then(|c| c.readings.get(index));
    let next = after(Taken::ALL, reading.and_then(|r| r.taken));
    let words = next.map_or("with the tape, both ends in view", Taken::name);
    let text = next.map_or("", Taken::name).to_owned();
    let field = Field::ReadingTaken(cavity, index);
    if model.apply(Edit::Set { field, text }).is_ok() {
        model.tell(format!("taken: {words}"));
    }
}

/// Asks for another reading of the line under the cursor.
pub(super) fn again(model: &mut Model, rows: &[Row]) {
    let Some((cavity, index)) = reading_here(model, rows) else {
        return;
    };
    let reading = model.job().cavity(cavity).and_then(|c| c.readings.get(index));
    let Some(line) = reading.map(|r| r.line.clone()) else {
        return;
    };
    let help = format!("{line}: what the tape says this time; the reading before stays beside it");
    let goal = Goal::Again(cavity, line);
    model.overlay = Some(Overlay::Prompt(Prompt::new("tape it again", &help, goal, "")));
}

/// Takes the reading that was asked for again. Where one of the line looked wrong and this one says something else, it
/// asks whether the one before is left out now.
pub(super) fn take_again(model: &mut Model, cavity: Id, line: &Line, text: &str) -> Result<(), Refusal> {
    let doubted = doubted(model, cavity, line);
    let index = model.job().cavity(cavity).map_or(0, |c| c.readings.len());
    model.apply(Edit::AddReading {
        cavity,
        line: line.clone(),
        text: text.to_owned(),
    })?;
    go_to(model, |row| *row == Row::Field(Field::ReadingValue(cavity, index)));
    let read = |model: &Model, at: usize| {
        let reading = model.job().cavity(cavity).and_then(|c| c.readings.get(at));
        reading.map(|r| r.read.clone())
    };
    let (Some(before), Some(now)) = (doubted, read(model, index)) else {
        return Ok(());
    };
    let Some(then) = read(model, before) else { return Ok(()) };
    if then.value() == now.value() {
        model.tell(format!(
            "{line} reads {now} again: e on a reading of it says that it stands"
        ));
        return Ok(());
    }
    let edit = Edit::Set {
        field: Field::ReadingDecided(cavity, before),
        text: Decided::LeftOut.name().to_owned(),
    };
    let words = format!("{then} looked wrong along {line}, and now the tape says {now}. Leave {then} out?");
    model.overlay = Some(Overlay::Ask(Ask::new(
        words,
        "leave it out",
        "keep both",
        About::Take(Box::new(edit)),
    )));
    Ok(())
}

/// The reading of a line that looks wrong, or is set aside.
fn doubted(model: &Model, cavity: Id, line: &Line) -> Option<usize> {
    let readings = &model.job().cavity(cavity)?.readings;
    let told = &model.evaluation.cavity(cavity)?.survey.readings;
    let is_doubted = |i: &usize| {
        let told = told
            .get(*i)
            .is_some_and(|r| r.suspect.is_some() || r.used == Used::SetAside);
        told && readings[*i].line == *line && readings[*i].decided.is_none()
    };
    (0..readings.len()).find(is_doubted)
}

/// Notes that no tape passes along a line; or that one does.
pub(super) fn reach(model: &mut Model, rows: &[Row]) {
    let Some((cavity, line)) = line_here(model, rows) else {
        return;
    };
    let is = model
        .job()
        .cavity(cavity)
        .is_some_and(|c| !lines::is_out_of_reach(c, line));
    if model.apply(Edit::OutOfReach { cavity, line, is }).is_ok() {
        let words = if is {
            format!("{line} is out of reach: it is not asked for")
        } else {
            format!("{line} can be reached")
        };
        model.tell(words);
    }
}

/// Asks what holds of the line under the cursor.
pub(super) fn ask_statement(model: &mut Model, rows: &[Row]) {
    let Some((cavity, line)) = line_here(model, rows) else {
        return;
    };
    let help = format!("{line} is: level, plumb, parallel FRB RRB, or square FLB FRB (the other line)");
    let goal = Goal::Statement(cavity, line);
    model.overlay = Some(Overlay::Prompt(Prompt::new("what holds of it", &help, goal, "")));
}

/// Takes what was stated of a line: a word, and for parallel and square the other line.
pub(super) fn state(model: &mut Model, cavity: Id, line: survey::Line, text: &str) -> Result<(), Refusal> {
    let (word, rest) = text.split_once(' ').unwrap_or((text, ""));
    let says = Says::ALL
        .into_iter()
        .find(|says| says.name().starts_with(&word.to_lowercase()));
    let refuse = |problem: String| Refusal {
        problem,
        mend: "type level, plumb, parallel FRB RRB, or square FLB FRB".to_owned(),
    };
    let says = says.ok_or_else(|| refuse(format!("{word:?} is nothing that can be stated")))?;
    let [from, to] = line.ends();
    let mut lines = vec![Line::Corners(from, to)];
    let rest = rest.trim().trim_start_matches("to ");
    if !rest.is_empty() {
        let other = rest.parse().map_err(|_| refuse(format!("{rest:?} is no line")))?;
        lines.push(other);
    }
    model.apply(Edit::AddStatement { cavity, says, lines })
}
