//! The panel that tells what one more module would take, what keep-outs cost, and how wrong readings may be.

use geometry::Axis;
use job::layout::Aim;
use job::what_if::{Figure, Gain, Outcome, Tolerance};
use job::{CavityResult, Evaluation, Field, Used};
use tape::Length;

use crate::model::{Model, Takes};
use crate::page::Page;
use crate::theme::Meaning;
use crate::widgets::rows::Row;
use crate::widgets::table::{Column, lines};
use crate::widgets::toast::wrap;

const CHANGES: [Column; 7] = [
    Column::words("change", 0, 18),
    Column::words("", 0, 14),
    Column::number("from", 4),
    Column::number("to", 3),
    Column::number("by", 1),
    Column::number("go in", 2),
    Column::words("", 0, 10),
];
const KEEP_OUTS: [Column; 3] = [
    Column::words("keep-out", 0, 16),
    Column::words("source", 2, 9),
    Column::words("gains", 1, 14),
];
const READINGS: [Column; 6] = [
    Column::words("reading", 0, 30),
    Column::number("read", 3),
    Column::number("margins kept", 1),
    Column::number("if moved", 4),
    Column::number("till it touches", 2),
    Column::number("if moved", 5),
];

/// One line of the panel.
struct Line {
    row: Row,
    stop: Stop,
}

/// Whether the cursor may stand on a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stop {
    No,
    /// It may; with the field that the line is about, if it is about one.
    Here(Option<Field>),
}

impl Line {
    fn words(text: String, meaning: Meaning) -> Self {
        Self {
            row: Row::Text(text, meaning),
            stop: Stop::No,
        }
    }
}

/// The field of each row that can hold the cursor.
pub fn fields(model: &Model) -> Vec<Option<Field>> {
    let stops = panel(model, 80).into_iter().filter_map(|line| match line.stop {
        Stop::No => None,
        Stop::Here(field) => Some(field),
    });
    stops.collect()
}

/// The rows in so many columns, and the one under the cursor.
pub fn rows(model: &Model, columns: u16) -> (Vec<Row>, Option<usize>) {
    let lines = panel(model, columns);
    let stops: Vec<usize> = (0..lines.len()).filter(|&i| lines[i].stop != Stop::No).collect();
    let at = model.takes.as_ref().map_or(0, |takes| takes.cursor);
    let cursor = stops.get(at).or(stops.last()).copied();
    (lines.into_iter().map(|line| line.row).collect(), cursor)
}

/// What the panel is about.
pub fn title(model: &Model) -> String {
    let of = model.takes.as_ref().map_or(String::new(), |takes| match takes.aim {
        Aim::Whole => "the whole job".to_owned(),
        Aim::Wanted(count) => count.to_string(),
        Aim::Fill(id) => model.job().cavity(id).map_or_else(String::new, |c| c.name.clone()),
        Aim::Box(id) => model.job().battery_box(id).map_or_else(String::new, |b| b.name.clone()),
    });
    format!("what one more would take: {of}")
}

fn panel(model: &Model, columns: u16) -> Vec<Line> {
    let Some(takes) = &model.takes else { return Vec::new() };
    let evaluation = &model.evaluation;
    let room = columns.saturating_sub(4);
    let mut all = changes(takes, model, room);
    if !takes.gains.is_empty() {
        all.push(blank());
        all.push(heading("gained by moving a keep-out away, however many are on hand"));
        all.extend(table(&KEEP_OUTS, takes.gains.iter().map(gain).collect(), room));
    }
    all.push(blank());
    all.push(heading(
        "how much too long a reading may be before what is laid out no longer fits",
    ));
    if takes.tolerances.is_empty() {
        all.push(Line::words("no box stands in a taped cavity".to_owned(), Meaning::Dim));
    }
    let readings = takes.tolerances.iter().map(|t| reading(evaluation, t));
    all.extend(table(&READINGS, readings.collect(), room));
    if !takes.tolerances.is_empty() {
        let notes = "margins kept: what is held back for the tape stays held back, too. If moved: with the boxes moved over to the front, the left or the bottom.";
        all.extend(
            wrap(notes, room)
                .into_iter()
                .map(|line| Line::words(line, Meaning::Dim)),
        );
    }
    all
}

fn changes(takes: &Takes, model: &Model, room: u16) -> Vec<Line> {
    let mut all = Vec::new();
    let say = |text: &str, meaning: Meaning| -> Vec<Line> {
        wrap(text, room)
            .into_iter()
            .map(|line| Line::words(line, meaning))
            .collect()
    };
    match (&takes.what_if, &takes.needs) {
        (_, Some(needs)) => all.extend(say(&format!("! not known yet: {needs}"), Meaning::Caution)),
        (None, None) if takes.is_whole || model.running.is_none() => {
            all.extend(say("stopped before anything was known; w asks again", Meaning::Dim));
        }
        (None, None) => all.extend(say("finding what goes in now", Meaning::Dim)),
        (Some(what_if), None) => {
            all.extend(say(&what_if.words(), Meaning::Heading));
            // What is laid out anew may be fewer than what was placed by hand.
            let now = &model.evaluation.headline;
            if takes.aim == Aim::Whole && now.placed > what_if.now && model.evaluation.keeps_room() {
                let words = format!("what stands now keeps the margins with {}", now.placed);
                all.extend(say(&words, Meaning::Note));
            }
            let rows = what_if.telling().map(|row| change(&model.evaluation, row));
            all.extend(table(&CHANGES, rows.collect(), room));
            if !what_if.rows.is_empty() {
                let notes =
                    "proved: less will not do. found: less may do. Where nothing helps, by is how far was looked.";
                all.extend(say(notes, Meaning::Dim));
            }
            let none_helps = !what_if.rows.is_empty() && !what_if.rows.iter().any(|row| row.outcome.helps());
            if takes.is_whole && none_helps {
                all.extend(say(
                    "none of them is enough alone; w asks of one cavity or box",
                    Meaning::Note,
                ));
            }
            if !takes.is_whole {
                let more = if model.running.is_some() {
                    "more to come"
                } else {
                    "stopped here; w asks again"
                };
                all.extend(say(more, Meaning::Dim));
            }
        }
    }
    all
}

fn heading(text: &str) -> Line {
    Line {
        row: Row::Section(text.to_owned()),
        stop: Stop::No,
    }
}

const fn blank() -> Line {
    Line {
        row: Row::Blank,
        stop: Stop::No,
    }
}

type Cells = (Vec<String>, Meaning, Option<Field>);

fn table(columns: &[Column], rows: Vec<Cells>, room: u16) -> Vec<Line> {
    if rows.is_empty() {
        return Vec::new();
    }
    let (cells, about): (Vec<_>, Vec<_>) = rows
        .into_iter()
        .map(|(cells, meaning, field)| (cells, (meaning, field)))
        .unzip();
    let mut lines = lines(columns, &cells, room).into_iter();
    let head = lines.next().map(|line| Line::words(line, Meaning::Dim));
    let rows = lines.zip(about).map(|(line, (meaning, field))| Line {
        row: Row::Text(line, meaning),
        stop: Stop::Here(field),
    });
    head.into_iter().chain(rows).collect()
}

/// A change as the table tells it; lengths are rounded so that the change as printed is never too small.
fn change(evaluation: &Evaluation, row: &job::what_if::Row) -> Cells {
    let shown = row.shown(evaluation);
    let (by, count, how) = match row.outcome {
        Outcome::Helps { count, proved, .. } | Outcome::More { count, proved, .. } => {
            let how = if proved { "proved" } else { "found" };
            (shown.by, count.to_string(), how)
        }
        Outcome::Does { count } => (String::new(), count.to_string(), "found"),
        Outcome::NoHelp { up_to, proved } => {
            let how = if proved { "no help" } else { "none found" };
            let by = up_to.map_or_else(String::new, |up_to| evaluation.near(up_to));
            (by, String::new(), how)
        }
        Outcome::NoMore { up_to, proved } => {
            let how = if proved { "no help" } else { "none found" };
            (format!("to {}", up_to.up()), String::new(), how)
        }
        Outcome::Stopped => (String::new(), String::new(), "stopped"),
    };
    let meaning = if row.outcome.helps() {
        Meaning::Plain
    } else {
        Meaning::Dim
    };
    let (name, change) = in_two(row.figure, &shown.name);
    let cells = vec![name, change, shown.from, shown.to, by, count, how.to_owned()];
    (cells, meaning, field_of(evaluation, row.figure))
}

/// A row's name in two columns, so that a long name of a thing does not hide what is done to it.
fn in_two(figure: Figure, name: &str) -> (String, String) {
    let at = match figure {
        Figure::KeepOutMoved(..) => name.rfind(" moved "),
        Figure::KeepOutGone(_) => name.rfind(" taken away"),
        Figure::Usable(..) => name.find(" of "),
        // How it stands tells one row from the next, so that is what has a column of its own.
        Figure::Stands(..) => name.rfind(" may stand ").map(|at| at + " may stand".len()),
        _ => None,
    };
    let (thing, change) = name.split_at(at.unwrap_or(name.len()));
    (thing.to_owned(), change.trim_start().to_owned())
}

fn gain(gain: &Gain) -> Cells {
    let cells = vec![gain.name.clone(), gain.source.name().to_owned(), gain.words()];
    let meaning = if gain.modules() > 0 {
        Meaning::Plain
    } else {
        Meaning::Dim
    };
    (cells, meaning, Some(Field::KeepOutTaken(gain.keep_out)))
}

fn reading(evaluation: &Evaluation, t: &Tolerance) -> Cells {
    let room = |length: Length| {
        if length.is_negative() {
            format!("{} short", evaluation.up(-length))
        } else {
            evaluation.down(length)
        }
    };
    let is_short = t.keeps.still.is_negative();
    let mark = if is_short { "! " } else { "" };
    let cells = vec![
        format!("{mark}{}, {}", t.place, t.name),
        evaluation.near(t.read),
        room(t.keeps.still),
        room(t.keeps.moved),
        room(t.touches.still),
        room(t.touches.moved),
    ];
    let meaning = if is_short { Meaning::Caution } else { Meaning::Plain };
    (cells, meaning, Some(Field::ReadingValue(t.cavity, t.reading)))
}

/// The field of the job in which a figure is entered.
fn field_of(evaluation: &Evaluation, figure: Figure) -> Option<Field> {
    Some(match figure {
        Figure::Usable(id, axis) => {
            let cavity = evaluation.cavity(id)?;
            if let Some(edge) = shortest_edge(cavity, axis) {
                return Some(Field::ReadingValue(id, edge));
            }
            let dimension = cavity.dimensions[axis.index()].as_ref()?;
            let place = dimension.usable.places.get(dimension.usable.limiting)?;
            Field::ReadingValue(id, *dimension.readings.get(*place.indices.first()?)?)
        }
        Figure::KeepOutMoved(id, face) => Field::KeepOutFrom(id, face.axis()),
        Figure::KeepOutGone(id) => Field::KeepOutTaken(id),
        Figure::Gap => Field::Gap,
        Figure::Margin => Field::Margin,
        Figure::Wall => Field::Wall,
        Figure::Floor => Field::Floor,
        Figure::Lid => Field::Lid,
        Figure::Liner => Field::Liner,
        Figure::Fit => Field::Fit,
        Figure::BoxMass => Field::BoxKg,
        Figure::BoxesPerCavity => Field::BoxesPerCavity,
        Figure::Stands(id, _) => Field::KindStance(id),
    })
}

/// The shortest of the edges that hold a cavity's shape along an axis, by its reading.
fn shortest_edge(cavity: &CavityResult, axis: Axis) -> Option<usize> {
    let readings = cavity.survey.readings.iter().enumerate();
    let along = readings.filter(|(_, r)| r.used == Used::Shape && r.line.dimension().is_some_and(|(a, _)| a == axis));
    along.min_by_key(|(_, r)| r.adjusted).map(|(i, _)| i)
}

/// The page on which a field of the panel is entered.
pub const fn page_of(field: Field) -> Page {
    match field {
        Field::KindStance(_) | Field::Gap => Page::Modules,
        Field::Wall | Field::Floor | Field::Lid | Field::Liner | Field::Fit | Field::BoxKg | Field::BoxesPerCavity => {
            Page::Boxes
        }
        _ => Page::Tape,
    }
}
