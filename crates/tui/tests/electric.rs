//! Pack, Units and Wiring as a person sees them, and keys in, job out.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod common;

use std::sync::Arc;

use common::{built_in, example, key, press, rows, screen, shows};
use job::units::{kind_of_sheet, matching, read_sheet, units_of};
use job::wiring::orders;
use job::{Edit, Field, Id, Job, OrderFrom, UnitsEdit, UnitsName};
use pack::matching::Goal;
use pack::wiring::WORK;
use ratatui::crossterm::event::KeyCode;
use tui::input::Input;
use tui::model::{Effect, Model, Overlay};
use tui::page::Page;
use tui::run::{feed, open_model};
use tui::theme::Theme;
use tui::update::update;
use tui::{Report, Task};

fn set(job: &Job, field: Field, text: &str) -> Job {
    let text = text.to_owned();
    job.with(&Edit::Set { field, text }).expect("the field takes it")
}

/// Two kinds on hand and three cavities, nothing laid out: 8-cell modules of 33.6 V full, and smaller ones of 4 cells.
fn from_nothing() -> Job {
    let mut job = Job::empty(UnitsName::Millimetre);
    for edit in [Edit::AddCavity, Edit::AddCavity, Edit::AddKind] {
        job = job.with(&edit).unwrap();
    }
    let [eights, fours] = [job.kinds[0].id, job.kinds[1].id];
    for (kind, name, nominal, full, empty, hand) in [
        (eights, "eight", "28.8", "33.6", "24", "14"),
        (fours, "four", "14.4", "16.8", "12", "10"),
    ] {
        for (field, text) in [
            (Field::KindName(kind), name),
            (Field::KindNominal(kind), nominal),
            (Field::KindFull(kind), full),
            (Field::KindEmpty(kind), empty),
            (Field::KindAmpHours(kind), "63"),
            (Field::KindOnHand(kind), hand),
            (Field::KindCellsSeries(kind), if name == "eight" { "8" } else { "4" }),
        ] {
            job = set(&job, field, text);
        }
    }
    set(&set(&job, Field::DriveMin, "240"), Field::DriveMax, "410")
}

#[test]
fn why_96s_fits_and_104s_does_not_is_seen_at_one_glance() {
    let mut model = open_model(from_nothing(), Theme::default(), (80, 24));
    feed(&mut model, [key(KeyCode::Esc), key(KeyCode::F(5))]);
    insta::assert_snapshot!("pack_from_nothing_80x24", screen(&model).backend());
    let shown = rows(&model);
    let row = |name: &str| {
        shown
            .iter()
            .find(|r| r.contains(name))
            .unwrap_or_else(|| panic!("{name} is on the first screen"))
    };
    assert!(row("12s1p    96s").contains("ok 288-403 V"), "{}", row("12s1p    96s"));
    assert!(
        row("13s1p   104s").contains("!! full 436.8 V"),
        "{}",
        row("13s1p   104s")
    );
    assert!(
        row("13s1p   104s").contains("]!"),
        "its bar sticks out: {}",
        row("13s1p")
    );
    assert!(!row("12s1p    96s").contains('!'));
}

#[test]
fn the_wiring_is_drawn_over_the_modules_and_followed_with_keys() {
    let mut model = example("orchard-flatbed", (80, 24));
    press(&mut model, "l");
    assert_eq!(model.page, Page::Wiring);
    insta::assert_snapshot!("wiring_80x24", screen(&model).backend());
    feed(&mut model, [key(KeyCode::Right)]);
    assert_eq!(model.link, 1);
    let before = chain(&model);
    press(&mut model, ">");
    let mut swapped = before.clone();
    swapped.swap(1, 2);
    assert_eq!(chain(&model), swapped);
    assert_eq!(wiring(&model).from, OrderFrom::Given);
    press(&mut model, "i");
    assert_eq!(model.job().wiring.locks, [[swapped[2], swapped[3]]]);
    let turned = wiring(&model).seats[2].turned;
    press(&mut model, "t");
    assert_eq!(wiring(&model).seats[2].turned, !turned);
    press(&mut model, "e");
    assert_eq!(model.job().wiring.exit_box, Some(Id(12)));
    press(&mut model, "uuuux");
    assert!(model.job().wiring.order.is_empty());
    press(&mut model, "l");
    assert_eq!(model.page, Page::Layout);
}

fn wiring(model: &Model) -> &job::WiringResult {
    let pack = model.evaluation.packs.iter().find(|p| p.placed > 0).unwrap();
    pack.electric.as_ref().unwrap().wiring.as_ref().unwrap()
}

fn chain(model: &Model) -> Vec<job::Seat> {
    wiring(model).seats.iter().map(|s| s.seat).collect()
}

#[test]
fn two_orders_are_worked_out_and_one_is_taken_over() {
    let mut model = example("orchard-flatbed", (80, 24));
    press(&mut model, "l");
    let kind = model.evaluation.packs[0].kind;
    assert_eq!(
        update(&mut model, key(KeyCode::Char('f'))),
        [Effect::Start(Task::Order(kind))]
    );
    let job = model.history.shared();
    let found = orders(&job, &model.evaluation, kind, WORK, &mut |_| true).map(Box::new);
    feed(
        &mut model,
        [Input::Worker(Report::Ordered {
            job: Arc::clone(&job),
            result: found,
        })],
    );
    assert!(matches!(model.overlay, Some(Overlay::Orders(..))));
    insta::assert_snapshot!("wiring_orders_80x24", screen(&model).backend());
    press(&mut model, "2");
    assert!(model.overlay.is_none());
    assert_eq!(wiring(&model).from, OrderFrom::Given);
    assert!(shows(&model, "take over the wiring order") || shows(&model, "of 10"));
}

#[test]
fn units_are_read_matched_and_built_in() {
    let mut model = example("orchard-flatbed", (80, 24));
    feed(&mut model, [key(KeyCode::F(8))]);
    insta::assert_snapshot!("units_empty_80x24", screen(&model).backend());
    press(&mut model, "i");
    let effects = feed(
        &mut model,
        "units.csv"
            .chars()
            .map(|c| key(KeyCode::Char(c)))
            .chain([key(KeyCode::Enter)]),
    );
    assert_eq!(effects, [Effect::ReadSheet("units.csv".into())]);
    let text: String = std::iter::once("unit,Ah,mohm,V\n".to_owned())
        .chain((1..=11).map(|i| format!("U{i},{},2.6,26.4\n", 100 - i)))
        .collect();
    let kind = kind_of_sheet(model.job()).unwrap();
    let units = units_of(&read_sheet(&text).rows, kind);
    model.apply(Edit::Units(UnitsEdit::TakeSheet(units))).unwrap();
    assert_eq!(
        update(&mut model, key(KeyCode::Char('m'))),
        [Effect::Start(Task::Match(kind))]
    );
    let job = model.history.shared();
    let result = Box::new(matching(&job, &model.evaluation, kind, Goal::Strongest));
    feed(
        &mut model,
        [Input::Worker(Report::Matched {
            job: Arc::clone(&job),
            result,
        })],
    );
    assert!(shows(&model, "185.00 Ah matched so"), "{:?}", rows(&model));
    press(&mut model, "y");
    assert_eq!(model.job().tested.iter().filter(|u| u.seat.is_some()).count(), 10);
    insta::assert_snapshot!("units_80x24", screen(&model).backend());
    feed(
        &mut model,
        [key(KeyCode::Enter), key(KeyCode::Down), key(KeyCode::Down)],
    );
    common::enter(&mut model, "55");
    assert_eq!(
        model.job().tested[0].amp_hours,
        Some(pack::AmpHours::from_milli(55_000))
    );
    press(&mut model, "u");
    assert_eq!(built_in("orchard-flatbed").tested.len(), 0);
}

/// Nothing is `ok` against a window that nobody entered: it is open, and the line above says what to enter.
#[test]
fn no_choice_is_ok_while_the_drives_volts_are_not_known() {
    for (cleared, words) in [
        (
            &[Field::DriveMin, Field::DriveMax][..],
            "the drive's volts are not known",
        ),
        (&[Field::DriveMin][..], "the drive's least volts are not known"),
        (&[Field::DriveMax][..], "the drive's most volts are not known"),
    ] {
        let job = cleared.iter().fold(from_nothing(), |job, field| set(&job, *field, ""));
        let mut model = open_model(job, Theme::default(), (80, 24));
        feed(&mut model, [key(KeyCode::Esc), key(KeyCode::F(5))]);
        let shown = rows(&model);
        let choices: Vec<&String> = shown.iter().filter(|row| row.contains("kWh, ")).collect();
        assert!(!choices.is_empty(), "{shown:?}");
        for row in choices {
            assert!(row.contains(" ? ") && !row.contains(" ok "), "{row}");
        }
        assert!(
            shown
                .iter()
                .any(|row| row.contains(words) && row.contains("enter the drive's")),
            "{shown:?}"
        );
    }
}

/// In groups a module has a link more than in strings: all of them are read whole, and what has no room is counted.
#[test]
fn the_links_of_the_selected_module_are_whole_in_a_small_window() {
    let job = set(&built_in("mountain-rescue"), Field::Joined, "groups");
    let mut model = open_model(job, Theme::default(), (80, 24));
    feed(&mut model, [key(KeyCode::F(4))]);
    press(&mut model, "l");
    feed(&mut model, [KeyCode::Right; 3].map(key));
    let panel: String = rows(&model)
        .iter()
        .map(|row| row.chars().skip(49).collect::<String>().trim().to_owned() + " ")
        .collect();
    for link in ["5 S12.3 - > S12.4 -", "6 S12.3 + > S12.4 +", "7 S12.4 + > S12.5 -"] {
        let (_, after) = panel.split_once(link).unwrap_or_else(|| panic!("{link}: {panel}"));
        let told: Vec<&str> = after.split_whitespace().take(7).collect();
        assert_eq!(told[..5], ["25", "x", "3", "mm", "copper"], "{panel}");
        assert!(after.trim_start()[..40].contains('"'), "its length: {panel}");
    }
    assert!(shows(&model, "! 2 more lines"), "{:#?}", rows(&model));
    feed(&mut model, [Input::Resize(120, 40)]);
    assert!(
        !shows(&model, "more lines") && shows(&model, "low "),
        "{:#?}",
        rows(&model)
    );
}
