//! What an edit changed, and issuing to the shop.

mod common;

use common::{example, key, press, rows, screen, shows};
use job::{Edit, Field};
use ratatui::crossterm::event::KeyCode;
use tui::model::{Model, Overlay};
use tui::run::feed;

fn set(model: &mut Model, field: Field, text: &str) {
    let text = text.to_owned();
    model.apply(Edit::Set { field, text }).expect("the field takes it");
}

fn boxes(name: &str, size: (u16, u16)) -> Model {
    let mut model = example(name, size);
    feed(&mut model, [key(KeyCode::F(6))]);
    model
}

#[test]
fn what_an_edit_on_the_boxes_page_changed_stands_there_until_the_next_edit() {
    let mut model = boxes("orchard-flatbed", (80, 24));
    assert!(model.changed.is_none() && !shows(&model, "changed by"));
    set(&mut model, Field::Wall, "4 mm");
    assert!(shows(&model, "changed by: set wall to 4 mm"), "{:#?}", rows(&model));
    insta::assert_snapshot!("wall_80x24", screen(&model).backend());
    feed(&mut model, [key(KeyCode::Down), key(KeyCode::F(5)), key(KeyCode::F(6))]);
    assert!(
        shows(&model, "changed by: set wall to 4 mm"),
        "looking round drops nothing"
    );
    set(&mut model, Field::Wall, "4 mm");
    assert!(
        shows(&model, "changed by: set wall to 4 mm"),
        "an edit that changes nothing drops nothing"
    );
    press(&mut model, "u");
    assert!(
        shows(&model, "changed by: undo of set wall to 4 mm"),
        "{:#?}",
        rows(&model)
    );
    set(&mut model, Field::ScrewPitch, "74 mm");
    assert!(shows(&model, "changed by: set "), "the next edit takes its place");
    feed(&mut model, [key(KeyCode::F(2))]);
    set(&mut model, Field::Truck, "another");
    assert!(model.changed.is_none(), "an edit elsewhere drops it");
}

#[test]
fn a_roomy_window_has_more_of_it_and_d_has_all() {
    let mut model = boxes("mountain-rescue", (120, 40));
    set(&mut model, Field::Wall, "4 mm");
    insta::assert_snapshot!("wall_120x40", screen(&model).backend());
    press(&mut model, "d");
    assert!(matches!(model.overlay, Some(Overlay::Changed(0))));
    insta::assert_snapshot!("all_changed_120x40", screen(&model).backend());
    feed(&mut model, [key(KeyCode::Esc)]);
    assert!(model.overlay.is_none());
}

#[test]
fn sheets_to_buy_are_compared_once_both_are_worked_out() {
    let mut model = boxes("orchard-flatbed", (120, 40));
    press(&mut model, "n");
    feed(&mut model, [key(KeyCode::Esc)]);
    set(&mut model, Field::Wall, "5 mm");
    assert!(
        shows(&model, "n lays the parts on sheets and bars"),
        "{:#?}",
        rows(&model)
    );
    press(&mut model, "n");
    feed(&mut model, [key(KeyCode::Esc)]);
    let words = rows(&model)
        .into_iter()
        .find(|row| row.contains("mild steel 5 mm sheet 0 -> "));
    assert!(words.is_some(), "{:#?}", rows(&model));
}

#[test]
fn i_issues_on_the_papers_page_and_what_changes_after_it_is_told_there() {
    let mut model = example("orchard-flatbed", (80, 24));
    model.date = "2026-03-09".to_owned();
    feed(&mut model, [key(KeyCode::F(7))]);
    assert!(shows(&model, "revision A, not issued"), "{:#?}", rows(&model));
    feed(&mut model, [key(KeyCode::Down)]);
    assert!(shows(&model, "▸ [x] drawing, left box"));
    press(&mut model, "i");
    assert!(
        shows(&model, "▸ [x] drawing, left box"),
        "one paper more above it moves no cursor"
    );
    assert!(
        shows(&model, "revision A of 2026-03-09 is what the shop has"),
        "{:#?}",
        rows(&model)
    );
    press(&mut model, "i");
    assert!(shows(&model, "as it is: no part"), "{:#?}", rows(&model));
    feed(&mut model, [key(KeyCode::F(6))]);
    set(&mut model, Field::Lid, "3 mm");
    feed(&mut model, [key(KeyCode::F(7))]);
    assert!(
        shows(&model, "since revision A of 2026-03-09 went out"),
        "{:#?}",
        rows(&model)
    );
    insta::assert_snapshot!("not_issued_80x24", screen(&model).backend());
    press(&mut model, "i");
    assert_eq!(model.job().revision, "B");
    assert!(shows(&model, "revision B of 2026-03-09 is what the shop has"));
    let made = model.papers.made.as_ref().expect("the papers are made anew");
    assert!(made.papers.iter().any(|paper| paper.file_name == "changes.html"));
    press(&mut model, "u");
    assert_eq!((model.job().revision.as_str(), model.job().issued.len()), ("A", 1));
}
