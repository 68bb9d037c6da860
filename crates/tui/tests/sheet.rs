//! The sheet: tiers over each other, the scale, zooming.

mod common;

use common::{example, key, press, rows, shows};
use geometry::{Axis, Point};
use job::{Edit, Job};
use ratatui::crossterm::event::KeyCode;
use tui::model::Model;
use tui::pages::layout::Thing;
use tui::pages::layout::picture::selected_size;
use tui::run::{feed, open_model};
use tui::theme::Theme;

/// The easy example with its second module set on top of the first.
fn stacked(size: (u16, u16)) -> Model {
    let mut job: Job = common::built_in("orchard-flatbed");
    let height = {
        let evaluation = job::evaluate(&job);
        evaluation.boxes[0].modules[0].cuboid.size()[Axis::Z]
    };
    let (first, second) = (job.boxes[0].modules[0].clone(), job.boxes[0].modules[1].id);
    let here = job.boxes[0].modules[1].corner();
    let by = first.corner() - here + Point::along(Axis::Z, height + tape::Length::inches(1));
    job = job.with(&Edit::NudgeModule { module: second, by }).expect("it moves");
    open_model(job, Theme::default(), size)
}

#[test]
fn the_tier_of_the_selected_module_lies_on_top_and_is_told() {
    let mut model = stacked((120, 40));
    let (low, high) = {
        let modules = &model.job().boxes[0].modules;
        (modules[0].clone(), modules[1].clone())
    };
    for (selected, seen, under, words) in [
        (&low, &low, &high, "tier 1 of 2 on top"),
        (&high, &high, &low, "tier 2 of 2 on top"),
    ] {
        model.sheet.selected = Some(Thing::Module(selected.id));
        assert!(shows(&model, words), "{words}: {:#?}", rows(&model));
        // The plan is the upper part; beside it stands the panel.
        let plan: Vec<String> = rows(&model)[2..18]
            .iter()
            .map(|row| row.chars().take(80).collect())
            .collect();
        assert!(plan.iter().any(|row| row.contains(&seen.label())), "{plan:#?}");
        assert!(!plan.iter().any(|row| row.contains(&under.label())), "{plan:#?}");
    }
}

#[test]
fn where_cells_do_not_do_the_title_says_that_it_is_not_to_scale() {
    let model = example("orchard-flatbed", (80, 24));
    assert!(shows(&model, "not to scale"), "{:#?}", rows(&model));
}

#[test]
fn zooming_never_makes_the_box_smaller() {
    for name in ["orchard-flatbed", "mountain-rescue", "harbour-tender"] {
        for size in [(80, 24), (120, 40), (200, 60)] {
            let mut model = example(name, size);
            let before = selected_size(&model).expect("it is drawn");
            press(&mut model, "z");
            let after = selected_size(&model).expect("it is drawn");
            let is_smaller = after.0 < before.0 || after.1 < before.1;
            assert!(!is_smaller, "{name} {size:?}: {before:?} then {after:?}");
        }
    }
}

#[test]
fn what_is_left_out_of_the_panel_is_counted_in_findings() {
    let model = example("orchard-flatbed", (80, 24));
    let count = model
        .evaluation
        .findings
        .iter()
        .filter(|f| f.grave != job::Grave::Note)
        .count();
    let told = format!("left out: place; ! {count} more");
    assert!(shows(&model, &told), "{:#?}", rows(&model));
}

#[test]
fn home_end_and_section_keys_go_far_at_once() {
    let mut model = example("orchard-flatbed", (80, 24));
    feed(&mut model, [key(KeyCode::F(6)), key(KeyCode::End)]);
    let rows = tui::pages::rows(&model);
    let last = rows.iter().rposition(tui::form::Row::can_hold_cursor).expect("rows");
    assert_eq!(model.boxes.cursor, last);
    feed(&mut model, [key(KeyCode::Home)]);
    let first = rows.iter().position(tui::form::Row::can_hold_cursor).expect("rows");
    assert_eq!(model.boxes.cursor, first);
    press(&mut model, "]");
    let heading = rows[..model.boxes.cursor]
        .iter()
        .rposition(|row| matches!(row, tui::form::Row::Heading(_)));
    assert_eq!(
        rows[heading.expect("a heading")],
        tui::form::Row::Heading("how boxes are built".to_owned())
    );
    press(&mut model, "][");
    let again = rows[..model.boxes.cursor]
        .iter()
        .rposition(|row| matches!(row, tui::form::Row::Heading(_)));
    assert_eq!(again, heading);
}
