//! The Tape page with a survey: keys in, job out, and what is seen of it.

mod common;

use common::{built_in, enter, example, key, press, rows, screen, shows};
use job::{Decided, Job, Line, Says, Taken, UnitsName};
use ratatui::crossterm::event::KeyCode;
use ratatui::style::Modifier;
use tape::survey;
use tui::form::Row;
use tui::input::Input;
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
        .flat_map(drawing::hollow::Station::lines)
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
    let index = cavity
        .readings
        .iter()
        .position(|r| r.line.to_string() == words)
        .expect("it was read");
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
        .flat_map(drawing::hollow::Station::lines)
        .map(|(_, line)| line.to_string())
        .collect();
    assert_eq!(taped, asked);
    let survey = &model.evaluation.cavities[0].survey;
    assert_eq!(survey.standing, job::Standing::Held);
    assert!(survey.suspects().is_empty());
    assert_eq!(survey.spare, 10);
}

/// Ten readings do not hold the shape: it says so, and what to tape, under the line that is open for typing.
#[test]
fn an_empty_enter_passes_a_line_over_and_ten_readings_say_what_is_missing() {
    let mut model = blank((120, 40));
    begin(&mut model);
    let walk = walk();
    enter(&mut model, &walk[0]);
    enter(&mut model, "");
    for reading in &walk[2..11] {
        enter(&mut model, reading);
    }
    let cavity = &model.job().cavities[0];
    assert_eq!(cavity.readings.len(), 10);
    let line: Line = "RLB to RRB".parse().unwrap();
    assert!(!cavity.readings.iter().any(|r| r.line == line));
    let survey = &model.evaluation.cavities[0].survey;
    assert!(survey.shape.is_none() && survey.trouble.is_some() && !survey.next.is_empty());
    press(&mut model, "50");
    insta::assert_snapshot!("ten_readings_while_typing_120x40", screen(&model).backend());
    // In a narrow window what is told over the lines takes more rows: the one being typed into stays the same.
    feed(&mut model, [Input::Resize(80, 24)]);
    assert!(
        rows(&model)
            .iter()
            .any(|row| row.contains("RLB to FLT") && row.contains("[50 "))
    );
    insta::assert_snapshot!("ten_readings_while_typing_80x24", screen(&model).backend());
}

/// The line that is asked for stands out without colour: another character in the picture, and bold.
#[test]
fn the_line_under_the_cursor_is_lit_in_the_picture() {
    let mut model = blank((120, 40));
    begin(&mut model);
    let lit = |model: &Model, symbol: &str| {
        let terminal = screen(model);
        let cells = terminal.backend().buffer().content().iter();
        cells
            .filter(|c| c.symbol() == symbol && c.modifier.contains(Modifier::BOLD))
            .count()
    };
    for colour in [true, false] {
        model.theme = Theme { colour, ascii: false };
        assert!(
            lit(&model, "█") > 20,
            "the left rail along the floor is seen from above and from the left"
        );
    }
    model.theme.ascii = true;
    assert!(lit(&model, "#") > 20);
}

#[test]
fn a_line_out_of_reach_is_not_asked_for() {
    let mut model = blank((80, 24));
    begin(&mut model);
    feed(&mut model, [key(KeyCode::Esc)]);
    go_to(&mut model, |row| is_line(row, "RLB to RRB"));
    press(&mut model, "n");
    assert_eq!(model.job().cavities[0].out_of_reach.len(), 1);
    assert!(shows(&model, "out of reach"));
    go_to(&mut model, |row| is_line(row, "FLB to RLB"));
    enter(&mut model, "48");
    assert!(model.tape.typing.is_some(), "the next line is open");
    let rows = tui::pages::rows(&model);
    assert!(
        is_line(&rows[model.tape.cursor], "RRB to FRB"),
        "{:?}",
        rows[model.tape.cursor]
    );
    feed(&mut model, [key(KeyCode::Esc)]);
    go_to(&mut model, |row| is_line(row, "RLB to RRB"));
    press(&mut model, "n");
    assert!(model.job().cavities[0].out_of_reach.is_empty());
}

/// The example has one misread diagonal: left out, it stands, not decided; the key means the same reading each time.
#[test]
fn a_suspect_is_decided_by_one_key_and_undone_by_another() {
    let mut model = example("orchard-flatbed", (80, 24));
    feed(&mut model, [key(KeyCode::F(2))]);
    let index = go_to_reading(&mut model, "FRB to RLB");
    let decided = |model: &Model| model.job().cavities[0].readings[index].decided;
    // As grave as the title block counts it.
    assert!(shows(&model, "!  FRB to RLB") && shows(&model, "!!0"));
    assert!(shows(&model, "wrong? about"));
    press(&mut model, "e");
    assert_eq!(decided(&model), Some(Decided::LeftOut));
    assert!(shows(&model, "left out"));
    assert!(model.evaluation.cavities[0].survey.suspects().is_empty());
    press(&mut model, "e");
    assert_eq!(decided(&model), Some(Decided::Stands));
    press(&mut model, "e");
    assert_eq!(decided(&model), None);
    press(&mut model, "uuu");
    assert_eq!(*model.job(), built_in("orchard-flatbed"));
    let rows = tui::pages::rows(&model);
    let cavity = model.job().cavities[0].id;
    assert_eq!(
        rows[model.tape.cursor],
        Row::Field(job::Field::ReadingValue(cavity, index))
    );
}

#[test]
fn a_reading_is_taken_again_and_both_stand() {
    let mut model = example("orchard-flatbed", (80, 24));
    feed(&mut model, [key(KeyCode::F(2))]);
    let index = go_to_reading(&mut model, "FRB to RLB");
    let line = model.job().cavities[0].readings[index].line.clone();
    press(&mut model, "r");
    assert!(matches!(model.overlay, Some(Overlay::Prompt(_))));
    enter(&mut model, "53 9/16");
    assert!(matches!(model.overlay, Some(Overlay::Ask(_))));
    press(&mut model, "n");
    let of_line = |model: &Model| {
        model.job().cavities[0]
            .readings
            .iter()
            .filter(|r| r.line == line)
            .count()
    };
    assert_eq!(of_line(&model), 2);
    let suspects = model.evaluation.cavities[0].survey.suspects();
    assert_eq!(
        suspects.iter().map(|(i, _)| *i).collect::<Vec<_>>(),
        [index],
        "the first one, not the second"
    );
    go_to_reading(&mut model, "FRB to RLB");
    press(&mut model, "h");
    assert_eq!(model.job().cavities[0].readings[index].taken, Some(Taken::Rule));
    press(&mut model, "x");
    assert_eq!(of_line(&model), 1);
    assert!(model.evaluation.cavities[0].survey.suspects().is_empty());
}

#[test]
fn a_suspect_that_was_taped_again_is_left_out_by_one_answer() {
    let mut model = example("orchard-flatbed", (80, 24));
    feed(&mut model, [key(KeyCode::F(2))]);
    let index = go_to_reading(&mut model, "FRB to RLB");
    press(&mut model, "r");
    enter(&mut model, "53 9/16");
    assert!(shows(&model, "Leave 54 1/16\" out?"), "{:#?}", rows(&model));
    feed(&mut model, [key(KeyCode::Enter)]);
    assert!(model.overlay.is_none());
    assert_eq!(model.job().cavities[0].readings[index].decided, Some(Decided::LeftOut));
    assert!(model.evaluation.cavities[0].survey.suspects().is_empty());
    assert!(!shows(&model, "looks wrong"), "{:#?}", rows(&model));
}

#[test]
fn the_same_once_more_is_no_reason_to_leave_a_suspect_out() {
    let mut model = example("orchard-flatbed", (80, 24));
    feed(&mut model, [key(KeyCode::F(2))]);
    go_to_reading(&mut model, "FRB to RLB");
    press(&mut model, "r");
    enter(&mut model, "54 1/16");
    assert!(model.overlay.is_none());
    assert!(
        model.message.words.contains("says that it stands"),
        "{}",
        model.message.words
    );
}

#[test]
fn what_is_level_plumb_parallel_or_square_is_stated_in_a_word() {
    let mut model = example("orchard-flatbed", (80, 24));
    feed(&mut model, [key(KeyCode::F(2))]);
    go_to_reading(&mut model, "FLB to RLB");
    for words in ["level", "parallel FRB RRB", "square to FLB FRB"] {
        press(&mut model, "l");
        enter(&mut model, words);
        assert!(model.overlay.is_none(), "{words} is taken");
    }
    let says: Vec<Says> = model.job().cavities[0].statements.iter().map(|s| s.says).collect();
    assert_eq!(says, [Says::Level, Says::Parallel, Says::Square]);
    // A diagonal is nothing that is plumb.
    go_to_reading(&mut model, "FLB to RRT");
    press(&mut model, "l");
    enter(&mut model, "plumb");
    let Some(Overlay::Prompt(prompt)) = &model.overlay else {
        panic!("it is asked for again")
    };
    assert!(prompt.typing.refused.is_some());
    feed(&mut model, [key(KeyCode::Esc)]);
    let id = model.job().cavities[0].id;
    go_to(&mut model, |row| *row == Row::Field(job::Field::StatementWithin(id, 1)));
    press(&mut model, "x");
    assert_eq!(model.job().cavities[0].statements.len(), 2);
}

/// In a small window the picture takes the rows' place, but never that of the value being typed.
#[test]
fn a_small_window_shows_the_picture_by_a_key_and_what_is_typed_with_it() {
    let mut model = example("orchard-flatbed", (80, 24));
    feed(&mut model, [key(KeyCode::F(2))]);
    go_to_reading(&mut model, "FRB to RLB");
    assert!(!shows(&model, "seen from the rear"));
    press(&mut model, "v");
    assert!(shows(&model, "seen from the rear"));
    insta::assert_snapshot!("picture_80x24", screen(&model).backend());
    press(&mut model, "53 9");
    assert!(
        rows(&model)
            .iter()
            .any(|row| row.contains("FRB to RLB") && row.contains("53 9"))
    );
    press(&mut model, "/16");
    feed(&mut model, [key(KeyCode::Enter)]);
    assert!(model.evaluation.cavities[0].survey.suspects().is_empty());
}

/// Whoever lies under the truck sees one line: it tells what the readings are good for, and a slip as soon as the others
/// speak against it.
#[test]
fn each_reading_is_answered_with_what_the_readings_are_good_for() {
    let mut model = blank((80, 24));
    begin(&mut model);
    let walk = walk();
    enter(&mut model, &walk[0]);
    assert!(shows(&model, "it is taken as square"));
    for reading in &walk[1..20] {
        enter(&mut model, reading);
    }
    // An inch too much on the roof's right rail.
    enter(&mut model, "49");
    for reading in &walk[21..] {
        enter(&mut model, reading);
    }
    assert!(shows(
        &model,
        "RRT to FRT looks wrong: you typed 49\", the others say about 48\""
    ));
    press(&mut model, "u");
    assert_eq!(model.job().cavities[0].readings.len(), 27);
    enter(&mut model, &walk[27]);
}

#[test]
fn beside_the_rows_the_verdict_and_the_next_line_stand_under_the_picture() {
    let mut model = example("orchard-flatbed", (120, 40));
    feed(&mut model, [key(KeyCode::F(2))]);
    go_to_reading(&mut model, "RRB to FLT");
    insta::assert_snapshot!("picture_120x40", screen(&model).backend());
    assert!(shows(&model, "One reading looks wrong; it is set aside"));
    assert!(shows(&model, "next: tape rear left bottom to front right"));
}
