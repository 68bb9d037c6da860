//! Ways in on the screens: keys in, poses out.

mod common;

use std::sync::Arc;

use common::{example, key, press, rows, screen, shows};
use job::evaluate;
use job::way_in::ways_in;
use ratatui::crossterm::event::KeyCode;
use tui::input::Input;
use tui::model::{Effect, Model, Overlay};
use tui::run::feed;
use tui::update::update;
use tui::{Report, Task};

fn layout(name: &str, size: (u16, u16)) -> Model {
    let mut model = example(name, size);
    feed(&mut model, [key(KeyCode::F(4))]);
    model
}

#[test]
fn g_shows_the_way_of_the_selected_box_step_by_step() {
    let mut model = layout("orchard-flatbed", (80, 24));
    press(&mut model, "g");
    assert!(matches!(model.overlay, Some(Overlay::Ways)));
    assert!(
        shows(&model, "2 of 2 boxes go in, in this order: left box, right box"),
        "{:#?}",
        rows(&model)
    );
    assert!(shows(&model, "step 1 of 2"));
    insta::assert_snapshot!("way_in_80x24", screen(&model).backend());
    feed(&mut model, [key(KeyCode::Right)]);
    assert!(shows(&model, "step 2 of 2: level, in its place"), "{:#?}", rows(&model));
    press(&mut model, "+");
    assert!(shows(&model, "step 2 of 2"), "it stays at the last");
    press(&mut model, "-");
    assert!(shows(&model, "step 1 of 2"));
    feed(&mut model, [key(KeyCode::Down)]);
    assert!(shows(&model, "right box (2 of 2)"));
    feed(&mut model, [key(KeyCode::Esc)]);
    assert!(model.overlay.is_none());
    press(&mut model, "g");
    assert!(
        model.running.is_none() && matches!(model.overlay, Some(Overlay::Ways)),
        "it is there at once"
    );
}

#[test]
fn t_tells_what_comes_off_before_the_selected_module() {
    let mut model = layout("orchard-flatbed", (120, 40));
    press(&mut model, "g");
    insta::assert_snapshot!("way_in_120x40", screen(&model).backend());
    press(&mut model, "t");
    assert!(shows(&model, "to take out M13 in left box"), "{:#?}", rows(&model));
    insta::assert_snapshot!("take_out_120x40", screen(&model).backend());
    press(&mut model, "t");
    assert!(!shows(&model, "to take out"));
}

#[test]
fn what_stops_a_box_is_named_and_marked() {
    let mut model = layout("orchard-flatbed", (120, 40));
    let mut job = (*model.history.shared()).clone();
    let cavity = &mut job.cavities[0];
    cavity.openings.truncate(1);
    let mut bar = cavity.keep_outs[0].clone();
    bar.name = "tow bar".to_owned();
    let length = |mm: i64| job::Len::exactly(tape::Length::mm(mm), tape::Units::Millimetre);
    bar.from = [500, 0, -60].map(length);
    bar.to = [540, 430, 0].map(length);
    cavity.keep_outs[0] = bar;
    model.show_job(job, None, tui::page::Page::Layout);
    let before = model.evaluation.headline.stops;
    let counted = |model: &Model| {
        rows(model)
            .iter()
            .any(|row| row.contains(&format!("!!{} ", before + 1)))
    };
    assert!(!counted(&model), "{:#?}", rows(&model));
    press(&mut model, "g");
    assert!(shows(&model, "!! tow bar is in the way of its"), "{:#?}", rows(&model));
    insta::assert_snapshot!("way_in_stopped_120x40", screen(&model).backend());
    assert!(shows(&model, "fix: take tow bar out of the way"));
    // It counts among the stops as long as the job is the one that was looked at, and ! tells it.
    feed(&mut model, [key(KeyCode::Esc)]);
    assert!(counted(&model), "{:#?}", rows(&model));
    press(&mut model, "!");
    assert!(shows(&model, "left box: no way in"), "{:#?}", rows(&model));
    feed(&mut model, [key(KeyCode::Esc), key(KeyCode::Right)]);
    assert!(!counted(&model), "{:#?}", rows(&model));
    press(&mut model, "u");
    assert!(counted(&model), "{:#?}", rows(&model));
}

#[test]
fn esc_stops_it_and_a_late_answer_is_dropped() {
    let mut model = layout("orchard-flatbed", (80, 24));
    assert_eq!(update(&mut model, key(KeyCode::Char('g'))), [Effect::Start(Task::Ways)]);
    assert!(shows(&model, "looking for ways in; Esc stops"));
    let asked = Arc::clone(&model.running.as_ref().unwrap().job);
    assert_eq!(update(&mut model, key(KeyCode::Esc)), [Effect::Stop]);
    feed(&mut model, [key(KeyCode::Right)]);
    let found = Box::new(ways_in(&asked, &evaluate(&asked)));
    update(&mut model, Input::Worker(Report::Ways { job: asked, found }));
    assert!(model.ways.is_none() && model.running.is_none());
    assert!(model.message.words.contains("is dropped"), "{}", model.message.words);
}

#[test]
fn faces_and_the_bed_are_entered_on_the_boxes_page() {
    let mut model = example("orchard-flatbed", (100, 200));
    feed(&mut model, [key(KeyCode::F(6))]);
    assert!(
        shows(&model, "left saddle, open faces") && shows(&model, "bottom, left"),
        "{:#?}",
        rows(&model)
    );
    press(&mut model, "g");
    assert_eq!(model.job().way_in.bed_parts.len(), 1);
    assert!(shows(&model, "bed: sweep not checked"), "{:#?}", rows(&model));
}

/// Two boxes: the selected module is in the first, and the second has no way.
#[test]
fn what_is_told_of_a_module_has_the_heading_and_the_picture_of_its_box() {
    let mut model = layout("orchard-flatbed", (120, 40));
    press(&mut model, "g");
    feed(&mut model, [key(KeyCode::Down)]);
    assert!(shows(&model, "right box (2 of 2)"));
    press(&mut model, "t");
    assert!(shows(&model, "to take out M13 in left box"), "{:#?}", rows(&model));
    assert!(shows(&model, "left box (1 of 2)"), "{:#?}", rows(&model));
    // Another box is told of by its way.
    feed(&mut model, [key(KeyCode::Down)]);
    assert!(!shows(&model, "to take out") && shows(&model, "right box (2 of 2)"));
}

/// Open at the bottom and at the left, through holes that are much too small.
fn two_ways_tried(size: (u16, u16)) -> Model {
    let mut model = layout("orchard-flatbed", size);
    let mut job = (*model.history.shared()).clone();
    let length = |mm: i64| job::Len::exactly(tape::Length::mm(mm), tape::Units::Millimetre);
    for opening in &mut job.cavities[0].openings {
        opening.clear = Some([length(200), length(100)]);
    }
    job.way_in.bed = Some(job::BedName::Tilted);
    (job.way_in.hinge_x, job.way_in.hinge_z) = (Some(length(4000)), Some(length(900)));
    job.way_in.tilt_deg = Some(20);
    job.way_in.bed_parts = vec![job::BedPart {
        name: "bed floor".to_owned(),
        from: length(1000),
        to: length(4200),
        lowest: length(900),
        highest: length(940),
    }];
    model.show_job(job, None, tui::page::Page::Layout);
    press(&mut model, "g");
    let order = model.ways.as_ref().expect("they were looked at").found.in_order();
    let left = order.iter().position(|&i| i == 0).expect("it is among them");
    for _ in 0..left {
        feed(&mut model, [key(KeyCode::Down)]);
    }
    model
}

#[test]
fn each_face_that_was_tried_is_shown_with_the_bed_as_it_stands() {
    let mut model = two_ways_tried((120, 40));
    assert!(
        shows(&model, "1 of 2, up from below: where it stops"),
        "{:#?}",
        rows(&model)
    );
    assert!(shows(&model, "the bed tilted up"), "{:#?}", rows(&model));
    feed(&mut model, [key(KeyCode::Right), key(KeyCode::Right)]);
    assert!(
        shows(&model, "2 of 2, in from the left: where it stops"),
        "{:#?}",
        rows(&model)
    );
    insta::assert_snapshot!("way_in_tried_120x40", screen(&model).backend());
}

#[test]
fn a_small_window_shows_the_reason_what_would_do_and_the_keys() {
    let model = two_ways_tried((80, 24));
    assert!(
        shows(&model, "lip of the bottom opening is in the way"),
        "{:#?}",
        rows(&model)
    );
    assert!(
        shows(&model, "fix: ") && shows(&model, "Esc back"),
        "{:#?}",
        rows(&model)
    );
    insta::assert_snapshot!("way_in_tried_80x24", screen(&model).backend());
}

#[test]
fn the_boxes_page_says_whether_ways_in_were_looked_at() {
    let mut model = layout("orchard-flatbed", (100, 200));
    feed(&mut model, [key(KeyCode::F(6))]);
    assert!(shows(&model, "ways in: not looked at yet"), "{:#?}", rows(&model));
    feed(&mut model, [key(KeyCode::F(4))]);
    press(&mut model, "g");
    feed(&mut model, [key(KeyCode::Esc), key(KeyCode::F(6))]);
    assert!(
        shows(&model, "ways in, looked at: 2 of 2 boxes go in"),
        "{:#?}",
        rows(&model)
    );
}

/// A module with much on its terminals, in a box that comes down: no step is cut off in a small window.
#[test]
fn all_that_comes_off_before_a_module_is_told_in_a_small_window() {
    let mut model = layout("orchard-flatbed", (80, 24));
    press(&mut model, "gt");
    let service = model
        .ways
        .as_mut()
        .and_then(|ways| ways.service.as_mut())
        .expect("it is asked");
    service
        .links
        .extend((50..62).map(|n| format!("link {n}: M{n} + to M{} -", n + 1)));
    service.taps.extend((50..62).map(|n| format!("channel {n} at M{n} +")));
    assert!(
        shows(&model, "page 1 of 2: left and right turn it"),
        "{:#?}",
        rows(&model)
    );
    assert!(shows(&model, "open the service disconnect") && !shows(&model, "lift M13 out"));
    feed(&mut model, [key(KeyCode::Right), key(KeyCode::Right)]);
    assert!(
        shows(&model, "page 2 of 2") && shows(&model, "lift M13 out"),
        "{:#?}",
        rows(&model)
    );
    insta::assert_snapshot!("take_out_80x24", screen(&model).backend());
    feed(&mut model, [key(KeyCode::Left)]);
    assert!(shows(&model, "page 1 of 2"));
    feed(&mut model, [key(KeyCode::Down), key(KeyCode::Up)]);
    assert!(shows(&model, "step 1 of 2"));
}

/// In a small window the reasons are cut beside the picture: the pages of words have every one of them.
#[test]
fn all_words_of_a_way_are_read_page_by_page_in_a_small_window() {
    let mut model = two_ways_tried((80, 24));
    let all = tui::pages::ways::reading(model.ways.as_ref().expect("they were looked at"), 80, 200).concat();
    let mut words: Vec<String> = all
        .iter()
        .filter_map(|row| match row {
            tui::widgets::rows::Row::Text(text, _) => Some(text.clone()),
            _ => None,
        })
        .collect();
    assert!(shows(&model, " more lines: PgDn shows all"), "{:#?}", rows(&model));
    for _ in 0..9 {
        feed(&mut model, [key(KeyCode::PageDown)]);
        let seen = rows(&model);
        words.retain(|text| !seen.iter().any(|row| row.contains(text.as_str())));
    }
    assert!(words.is_empty(), "never seen: {words:#?}");
    for _ in 0..9 {
        feed(&mut model, [key(KeyCode::PageUp)]);
    }
    assert!(shows(&model, " more lines: PgDn shows all"), "{:#?}", rows(&model));
    press(&mut model, "?");
    assert!(shows(&model, "PgDn all the words"), "{:#?}", rows(&model));
}

#[test]
fn t_with_a_box_selected_says_that_a_module_is_needed() {
    let mut model = layout("orchard-flatbed", (80, 24));
    press(&mut model, "og");
    press(&mut model, "t");
    assert!(matches!(model.overlay, Some(Overlay::Ways)));
    assert!(shows(&model, "no module is selected"), "{:#?}", rows(&model));
}

/// What an unknown key was told goes with the next one, and the bar names what left and right do there.
#[test]
fn the_keys_of_the_panel_are_told_as_they_are_there() {
    let mut model = layout("orchard-flatbed", (80, 24));
    press(&mut model, "gx");
    assert!(model.message.words.starts_with("here: left and right step"));
    assert!(shows(&model, "left right step"), "{:#?}", rows(&model));
    press(&mut model, "t");
    assert_eq!(model.message.words, "");
    let hint = |model: &Model| rows(model).pop().unwrap_or_default();
    // All of it is on one page, and no picture is left to step through.
    let last = hint(&model);
    assert!(
        !last.contains("left right") && last.contains("t way in again"),
        "{last}"
    );
    press(&mut model, "t");
    feed(&mut model, [key(KeyCode::PageDown)]);
    assert!(hint(&model).contains("left right other page"), "{:#?}", rows(&model));
    press(&mut model, "x");
    assert!(model.message.words.starts_with("here: left and right turn pages"));
    feed(&mut model, [key(KeyCode::Esc)]);
    assert_eq!(model.message.words, "");
}
