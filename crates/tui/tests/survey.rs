//! The Tape page with a survey: keys in, job out, and what is seen of it.

mod common;

use common::{built_in, enter, example, key, press, rows, screen, shows};
use job::{Decided, Job, Line, Says, Taken, UnitsName};
use ratatui::crossterm::event::KeyCode;
use ratatui::style::Modifier;
use tape::survey;
use tui::form::Row;
use tui::model::{Model, Overlay};
use tui::run::{feed, open_model};
use tui::theme::Theme;

/// A hollow of 48 x 16 x 12 in whose roof is half an inch to the rear: every line in walking order, in 1/16 in.
fn walk() -> Vec<String> {
    let at = |corner: survey::Corner| {
        let lean = if corner.top { 0.5 } else { 0.0 };
        let [rear, right, top] = [corner.rear, corner.right, corner.top].map(f64::from);
        [48.0 * rear + lean, 16.0 * right, 12.0 * top]
    };
    let reads = |line: survey::Line| {
        let [a, b] = line.ends().map(at);
        let inches = a.iter().zip(b).map(|(a, b)| (a - b).powi(2)).sum::<f64>().sqrt();
        #[expect(clippy::cast_possible_truncation, reason = "a few hundred sixteenths")]
        let sixteenths = (inches * 16.0).round() as i64;
        format!("{} {}/16", sixteenths / 16, sixteenths % 16)
    };
    drawing::hollow::Station::ALL
        .into_iter()
        .flat_map(|station| station.lines())
        .map(|(_, line)| reads(line))
        .collect()
}

/// A new job, its Tape page open and the start walk left.
fn blank(size: (u16, u16)) -> Model {
    let mut model = open_model(Job::empty(UnitsName::Inch), Theme::default(), size);
    feed(&mut model, [key(KeyCode::Esc)]);
    model
}

fn go_to(model: &mut Model, is: impl Fn(&Row) -> bool) {
    let rows = tui::pages::rows(model);
    model.tape.cursor = rows.iter().position(is).expect("the row is there");
}

fn is_line(row: &Row, words: &str) -> bool {
    matches!(row, Row::NewReading { line, .. } if line.to_string() == words)
}

/// Puts the cursor on the reading of a line of the first cavity, and gives its place in the list.
fn go_to_reading(model: &mut Model, words: &str) -> usize {
    let cavity = &model.job().cavities[0];
    let index = cavity.readings.iter().position(|r| r.line.to_string() == words).unwrap();
    let id = cavity.id;
    go_to(model, |row| *row == Row::Field(job::Field::ReadingValue(id, index)));
    index
}

/// Opens the lines from corner to corner and puts the cursor on the first of them, open for typing.
fn begin(model: &mut Model) {
    go_to(model, |row| matches!(row, Row::Group { .. }));
    feed(model, [key(KeyCode::Enter)]);
    if model.tape.typing.is_none() {
        go_to(model, |row| is_line(row, "FLB to RLB"));
        feed(model, [key(KeyCode::Enter)]);
    }
}

#[test]
fn a_hollow_is_taped_with_nothing_but_numbers_and_enter() {
    let mut model = blank((80, 24));
    begin(&mut model);
    let walk = walk();
    for reading in &walk {
        enter(&mut model, reading);
    }
    let cavity = &model.job().cavities[0];
    let taped: Vec<String> = cavity.readings.iter().map(|r| r.line.to_string()).collect();
    let asked: Vec<String> = drawing::hollow::Station::ALL
        .into_iter()
        .flat_map(|station| station.lines())
        .map(|(_, line)| line.to_string())
        .collect();
    assert_eq!(taped, asked);
    let survey = &model.evaluation.cavities[0].survey;
    assert_eq!(survey.standing, job::Standing::Held);
    assert!(survey.suspects().is_empty());
    assert_eq!(survey.spare, 10);
}
