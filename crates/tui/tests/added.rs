//! The Boxes page with brackets, bars, dividers, strips and a stiffened lid asked for.

mod common;

use common::{built_in, key, rows, screen, shows};
use job::{Edit, Field, Job};
use ratatui::crossterm::event::KeyCode;
use rstest::rstest;
use tui::run::{feed, open_model};
use tui::theme::Theme;

/// The easy example with everything that can be added to its boxes.
fn asked() -> Job {
    let values = [
        (Field::Brackets, "to the web of a rail"),
        (Field::HoldDown, "bars on lugs at the walls"),
        (Field::Dividers, "between rows"),
        (Field::Standoffs, "strips across the floor"),
        (Field::LidStiffened, "angles under it"),
    ];
    values
        .into_iter()
        .fold(built_in("orchard-flatbed"), |job, (field, text)| {
            let text = text.to_owned();
            job.with(&Edit::Set { field, text }).expect("the edit fits the job")
        })
}

/// From the top, the first box opened, and on down through what was added to it and what can be chosen.
#[rstest]
fn the_page_shows_what_was_added(#[values((80, 24), (120, 40))] size: (u16, u16)) {
    let mut model = open_model(asked(), Theme::default(), size);
    feed(&mut model, [key(KeyCode::F(6)), key(KeyCode::Enter)]);
    for part in ["box", "on", "choices", "sizes"] {
        let name = format!("added_{part}_{}x{}", size.0, size.1);
        insta::assert_snapshot!(name, screen(&model).backend());
        let steps = if part == "box" { 14 } else { 18 };
        feed(&mut model, (0..steps).map(|_| key(KeyCode::Down)));
    }
}

/// Every row of a page is called something else, else nobody knows which of them is meant.
#[test]
fn no_two_choices_of_the_boxes_page_read_alike() {
    let text = "angles across under it".to_owned();
    let edit = Edit::Set {
        field: Field::FloorRails,
        text,
    };
    let job = asked().with(&edit).expect("the edit fits the job");
    let model = open_model(job, Theme::default(), (80, 24));
    let mut labels: Vec<&str> = tui::pages::boxes::rows(&model)
        .into_iter()
        .filter_map(|row| match row {
            tui::form::Row::Field(field) => Some(field.label()),
            _ => None,
        })
        .collect();
    labels.sort_unstable();
    let twice: Vec<_> = labels.windows(2).filter(|two| two[0] == two[1]).collect();
    assert!(twice.is_empty(), "{twice:?}");
}

/// A tray is one sheet: the floor that was entered is told on the page, where it is cleared.
#[test]
fn an_entry_that_the_construction_makes_no_use_of_has_its_row() {
    let text = "folded tray".to_owned();
    let edit = Edit::Set {
        field: Field::Construction,
        text,
    };
    let job = built_in("orchard-flatbed").with(&edit).expect("the edit fits the job");
    let mut model = open_model(job, Theme::default(), (80, 24));
    feed(&mut model, [key(KeyCode::F(6))]);
    for _ in 0..3 {
        feed(&mut model, [key(KeyCode::PageDown)]);
    }
    assert!(shows(&model, "entered, and not used"), "{:#?}", rows(&model));
    assert!(shows(
        &model,
        "not used: a folded tray is one sheet, its floor as thick as its wall"
    ));
    insta::assert_snapshot!("unused_80x24", screen(&model).backend());
}
