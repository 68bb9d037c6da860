//! The Boxes page with brackets, bars, dividers, strips and a stiffened lid asked for.

mod common;

use common::{built_in, key, screen};
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
