//! Undo and redo: what they take back is shown on its own page, whatever page is open.

mod common;

use common::{built_in, example, key, press, rows, shows};
use job::{Edit, Field};
use ratatui::crossterm::event::KeyCode;
use tui::model::Model;
use tui::page::Page;
use tui::run::feed;

fn set(model: &mut Model, field: Field, text: &str) {
    let text = text.to_owned();
    model.apply(Edit::Set { field, text }).expect("it is taken");
}

#[test]
fn undo_goes_to_the_page_of_what_it_takes_back_and_says_so() {
    let mut model = example("orchard-flatbed", (80, 24));
    feed(&mut model, [key(KeyCode::F(5))]);
    set(&mut model, Field::DriveContinuous, "131");
    feed(&mut model, [key(KeyCode::F(4)), key(KeyCode::Char('u'))]);
    assert_eq!(*model.job(), built_in("orchard-flatbed"));
    assert_eq!(model.page, Page::Pack);
    let told = "undid on Pack: set \"drive, continuous amps\" to 131; you were on Layout";
    assert!(shows(&model, told), "{:#?}", rows(&model));
    let pointed = rows(&model)
        .into_iter()
        .find(|row| row.contains("drive, continuous amps") && !row.contains("undid"));
    assert!(
        pointed.is_some_and(|row| row.contains('>') || row.contains('▸')),
        "{:#?}",
        rows(&model)
    );
    // Doing it again from elsewhere likewise.
    feed(&mut model, [key(KeyCode::F(2))]);
    press(&mut model, "y");
    assert_eq!(model.page, Page::Pack);
    assert!(
        model.message.words.starts_with("did again on Pack: "),
        "{}",
        model.message.words
    );
    assert!(shows(&model, "131"), "{:#?}", rows(&model));
}

#[test]
fn undo_on_the_page_of_the_change_stays_there() {
    let mut model = example("orchard-flatbed", (80, 24));
    feed(&mut model, [key(KeyCode::F(4))]);
    for _ in 0..4 {
        feed(&mut model, [key(KeyCode::Right)]);
    }
    press(&mut model, "u");
    assert_eq!(model.page, Page::Layout);
    // Four nudges are one step, told by the whole way: 4 x 1/16.
    assert!(
        model.message.words.starts_with("undid: nudge M"),
        "{}",
        model.message.words
    );
    assert!(model.message.words.contains(" by 1/4\" "), "{}", model.message.words);
    // A value that two pages show is taken back on the one that is open.
    feed(&mut model, [key(KeyCode::F(6))]);
    set(&mut model, Field::Coating, "0.3 mm");
    press(&mut model, "u");
    assert_eq!(model.page, Page::Boxes);
    assert!(
        model.message.words.starts_with("undid: set "),
        "{}",
        model.message.words
    );
}

#[test]
fn undo_opens_the_keep_out_whose_value_it_takes_back() {
    let mut model = example("orchard-flatbed", (80, 24));
    let keep_out = model.job().cavities[0].keep_outs[0].id;
    set(&mut model, Field::KeepOutNote(keep_out), "measured cold");
    feed(&mut model, [key(KeyCode::F(6)), key(KeyCode::Char('u'))]);
    assert_eq!(model.page, Page::Tape);
    assert_eq!(model.tape.open, Some(tui::form::Group::KeepOut(keep_out)));
    assert!(
        model.message.words.starts_with("undid on Tape: "),
        "{}",
        model.message.words
    );
}

#[test]
fn undo_of_what_was_moved_selects_it() {
    let mut model = example("orchard-flatbed", (120, 40));
    feed(&mut model, [key(KeyCode::F(4)), key(KeyCode::Right)]);
    let moved = model.sheet.selected;
    press(&mut model, "nn");
    feed(&mut model, [key(KeyCode::F(3)), key(KeyCode::Char('u'))]);
    assert_eq!((model.page, model.sheet.selected), (Page::Layout, moved));
}

/// A refusal of more than two lines is read to its end, and so is the help of every field.
#[test]
fn what_a_row_has_to_say_is_whole_at_80_columns() {
    let mut model = example("orchard-flatbed", (80, 24));
    feed(&mut model, [key(KeyCode::F(6))]);
    let at = tui::pages::rows(&model)
        .iter()
        .position(|row| *row == tui::form::Row::Field(Field::Construction));
    model.boxes.cursor = at.expect("the page has it");
    assert!(shows(&model, "flat on the ring"), "{:#?}", rows(&model));
    let long = "word ".repeat(40);
    model.refuse(format!("{long}to the end"));
    assert!(shows(&model, "to the end"), "{:#?}", rows(&model));
}

/// What was added is gone with its group: the cursor goes to the row before it, on whatever page it was taken back.
#[test]
fn undo_of_what_was_added_stays_where_it_was() {
    use tui::form::{Group, Row};
    let under_cursor = |model: &Model| {
        let rows = tui::pages::rows(model);
        model.form().and_then(|form| form.row(&rows)).cloned()
    };
    for keys in [
        &[key(KeyCode::Char('u'))][..],
        &[key(KeyCode::F(4)), key(KeyCode::Char('u'))],
    ] {
        let mut model = example("orchard-flatbed", (80, 24));
        let last = model.job().vehicle.components.len() - 1;
        feed(&mut model, [KeyCode::F(9), KeyCode::Char('a'), KeyCode::Esc].map(key));
        assert_eq!(model.job().vehicle.components.len(), last + 2);
        feed(&mut model, keys.iter().cloned());
        assert_eq!(model.page, Page::Truck);
        let row = under_cursor(&model);
        assert!(
            matches!(row, Some(Row::Group { of: Group::Component(at), .. }) if at == last),
            "{row:?}"
        );
    }
    // A kind, with the cursor on the first value that it needs.
    let mut model = example("orchard-flatbed", (80, 24));
    let kind = model.job().kinds[0].id;
    feed(&mut model, [KeyCode::F(3), KeyCode::Char('a'), KeyCode::Esc].map(key));
    press(&mut model, "u");
    let row = under_cursor(&model);
    assert!(
        matches!(row, Some(Row::Field(field)) if field == Field::KindText(kind)),
        "{row:?}"
    );
    // A low point.
    let mut model = example("orchard-flatbed", (80, 24));
    let points = model.job().vehicle.ground.points.len();
    feed(&mut model, [key(KeyCode::F(9))]);
    model.apply(Edit::Truck(job::TruckEdit::AddPoint)).expect("it is added");
    model.truck.open = Some(Group::Point(points));
    let at = tui::pages::rows(&model)
        .iter()
        .position(|row| *row == Row::Field(Field::OfTruck(job::TruckField::PointName(points))));
    model.truck.cursor = at.expect("it is open");
    press(&mut model, "u");
    let row = under_cursor(&model);
    assert!(
        matches!(row, Some(Row::Group { of: Group::Point(at), .. }) if at + 1 == points),
        "{row:?}"
    );
}
