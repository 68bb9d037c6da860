//! Stock and nests on the screens: keys in, job and picture out.

mod common;

use std::sync::Arc;

use common::{built_in, example, key, press, rows, screen, shows};
use job::nesting::nested;
use job::{CuttingName, Field, StockForm, evaluate};
use ratatui::crossterm::event::KeyCode;
use tui::input::Input;
use tui::model::{Effect, Model, Overlay};
use tui::run::{feed, open_model};
use tui::theme::Theme;
use tui::update::update;
use tui::{Report, Task};

fn boxes(name: &str, size: (u16, u16)) -> Model {
    let mut model = example(name, size);
    feed(&mut model, [key(KeyCode::F(6))]);
    model
}

#[test]
fn n_shows_the_nests_and_arrows_step_through_them() {
    let mut model = boxes("orchard-flatbed", (80, 24));
    press(&mut model, "n");
    assert!(matches!(model.overlay, Some(Overlay::Nests)));
    assert!(shows(&model, "nest 1 of 5: sheet of ~4x8 ft"), "{:#?}", rows(&model));
    assert!(shows(&model, "mild steel 3 mm sheet: 1 sheet of ~4x8 ft, proved"));
    insta::assert_snapshot!("nest_of_lids_80x24", screen(&model).backend());
    feed(&mut model, [key(KeyCode::Right)]);
    insta::assert_snapshot!("nest_of_walls_80x24", screen(&model).backend());
    // The liner's sheet and the floors of 4 mm stand between the walls and the bars.
    feed(&mut model, [key(KeyCode::Down), key(KeyCode::Down), key(KeyCode::Down)]);
    assert!(shows(&model, "nest 5 of 5: bar of ~20 ft"));
    insta::assert_snapshot!("nest_of_bars_80x24", screen(&model).backend());
    feed(&mut model, [key(KeyCode::Right)]);
    assert!(shows(&model, "nest 5 of 5"), "it stays at the last");
    feed(&mut model, [key(KeyCode::Home)]);
    assert!(shows(&model, "nest 1 of 5"));
    feed(&mut model, [key(KeyCode::Esc)]);
    assert!(model.overlay.is_none());
    press(&mut model, "n");
    assert!(
        model.running.is_none() && matches!(model.overlay, Some(Overlay::Nests)),
        "it is there at once"
    );
}

#[test]
fn a_wide_window_has_room_for_sizes() {
    let mut model = boxes("orchard-flatbed", (120, 40));
    press(&mut model, "n");
    feed(&mut model, [key(KeyCode::Right)]);
    insta::assert_snapshot!("nest_of_walls_120x40", screen(&model).backend());
}

#[test]
fn the_cut_list_of_the_page_has_what_to_buy_once_it_is_known() {
    let mut model = boxes("orchard-flatbed", (100, 200));
    assert!(shows(&model, "n lays it on sheets and bars"));
    press(&mut model, "n");
    feed(&mut model, [key(KeyCode::Esc)]);
    assert!(shows(&model, "  1 sheet of ~4x8 ft, proved"), "{:#?}", rows(&model));
}

#[test]
fn nests_of_the_job_before_are_not_shown() {
    let mut model = boxes("orchard-flatbed", (80, 24));
    press(&mut model, "n");
    feed(&mut model, [key(KeyCode::Esc)]);
    press(&mut model, "b");
    assert!(tui::pages::nests::of_job(&model).is_none());
}

/// The worker's answer for a job that has changed since is dropped, and said so.
#[test]
fn a_late_answer_is_dropped() {
    let mut model = boxes("orchard-flatbed", (80, 24));
    assert_eq!(update(&mut model, key(KeyCode::Char('n'))), [Effect::Start(Task::Nest)]);
    let asked = Arc::clone(&model.running.as_ref().unwrap().job);
    press(&mut model, "b");
    let nesting = Box::new(nested(&asked, &evaluate(&asked)));
    update(&mut model, Input::Worker(Report::Nested { job: asked, nesting }));
    assert!(model.nests.is_none() && model.running.is_none());
    assert!(model.message.words.contains("is dropped"), "{}", model.message.words);
}

#[test]
fn esc_stops_it_and_the_best_so_far_is_shown() {
    let mut model = boxes("orchard-flatbed", (80, 24));
    update(&mut model, key(KeyCode::Char('n')));
    assert!(shows(&model, "laying parts on sheets and bars; Esc stops"));
    assert_eq!(update(&mut model, key(KeyCode::Esc)), [Effect::Stop]);
    let job = Arc::clone(&model.running.as_ref().unwrap().job);
    let mut nesting = Box::new(nested(&job, &evaluate(&job)));
    nesting.stopped = true;
    update(&mut model, Input::Worker(Report::Nested { job, nesting }));
    assert!(shows(&model, "stopped, the best so far"));
    feed(&mut model, [key(KeyCode::Esc)]);
    assert_eq!(
        update(&mut model, key(KeyCode::Char('n'))),
        [Effect::Start(Task::Nest)],
        "what was stopped is worked out anew"
    );
}

#[test]
fn stock_is_added_changed_and_removed_on_the_page() {
    let mut model = boxes("orchard-flatbed", (80, 24));
    press(&mut model, "b");
    assert_eq!(model.job().stock.pieces.len(), 1);
    assert!(shows(&model, "sheet, on sale"), "{:#?}", rows(&model));
    feed(&mut model, [key(KeyCode::Right)]);
    assert_eq!(model.job().stock.pieces[0].form, StockForm::Bar);
    press(&mut model, "o");
    let offcut = &model.job().stock.pieces[1];
    assert_eq!((offcut.form, offcut.on_hand), (StockForm::Sheet, Some(1)));
    // The cursor is on its length.
    press(&mut model, "30 1/2");
    feed(&mut model, [key(KeyCode::Enter)]);
    assert_eq!(model.job().stock.pieces[1].length.text(), "30 1/2\"");
    insta::assert_snapshot!("stock_80x24", screen(&model).backend());
    while !matches!(
        model.boxes.row(&tui::pages::rows(&model)),
        Some(tui::form::Row::Group { .. })
    ) {
        feed(&mut model, [key(KeyCode::Up)]);
    }
    press(&mut model, "x");
    assert_eq!(model.job().stock.pieces.len(), 1, "the offcut is gone");
    assert_eq!(model.job().stock.pieces[0].form, StockForm::Bar);
    press(&mut model, "u");
    assert_eq!(model.job().stock.pieces.len(), 2);
}

#[test]
fn a_job_without_boxes_has_nothing_to_cut() {
    let mut job = built_in("orchard-flatbed");
    job.boxes.clear();
    let mut model = open_model(job, Theme::default(), (80, 24));
    feed(&mut model, [key(KeyCode::Esc), key(KeyCode::F(6))]);
    press(&mut model, "n");
    assert!(
        model.message.words.contains("nothing to cut yet"),
        "{}",
        model.message.words
    );
}

#[test]
fn every_example_is_drawn_both_ways_of_cutting_in_plain_characters_too() {
    for example in job::EXAMPLES {
        for &cutting in CuttingName::ALL {
            let mut job = built_in(example.name);
            job.stock.cutting = Some(cutting);
            let theme = Theme {
                ascii: true,
                ..Theme::default()
            };
            let mut model = open_model(job, theme, (80, 24));
            feed(&mut model, [key(KeyCode::F(6))]);
            press(&mut model, "n");
            for _ in 0..tui::pages::nests::count(&model.nests.as_ref().unwrap().nesting) {
                let shown = rows(&model);
                assert!(shown.iter().all(|row| row.is_ascii()), "{shown:#?}");
                assert!(!shown.iter().any(|row| row.contains("zoom in")), "{shown:#?}");
                feed(&mut model, [key(KeyCode::Right)]);
            }
        }
    }
}

#[test]
fn the_page_offers_every_field_of_the_stock() {
    let mut model = boxes("orchard-flatbed", (80, 24));
    press(&mut model, "b");
    let rows = tui::pages::rows(&model);
    for field in [
        Field::CuttingMethod,
        Field::Kerf,
        Field::EdgeTrim,
        Field::Turning,
        Field::SawKerf,
        Field::SawTrim,
        Field::KeepOffcut,
        Field::StockForm(0),
        Field::StockLength(0),
        Field::StockWidth(0),
        Field::StockMaterial(0),
        Field::StockThickness(0),
        Field::StockOnHand(0),
        Field::StockPrice(0),
    ] {
        assert!(rows.contains(&tui::form::Row::Field(field)), "{field:?}");
    }
}

/// A job of which every sort of addition asks for stock of its own: what has no room is told, and steps into view.
#[test]
fn a_list_of_stock_that_is_cut_says_how_much_is_left_out() {
    let values = [
        (Field::Brackets, "to the web of a rail"),
        (Field::HoldDown, "bars on lugs at the walls"),
        (Field::Standoffs, "strips across the floor"),
        (Field::LidStiffened, "angles over it"),
        (Field::PartSize(job::PartSize::LugThickness), "4 mm"),
    ];
    let job = values
        .into_iter()
        .fold(built_in("orchard-flatbed"), |job, (field, text)| {
            let text = text.to_owned();
            job.with(&job::Edit::Set { field, text })
                .expect("the edit fits the job")
        });
    let stocks = evaluate(&job).cut.list.tables.len();
    assert!(stocks > 5, "more than there is room for: {stocks}");
    let mut model = open_model(job, Theme::default(), (80, 24));
    feed(&mut model, [key(KeyCode::F(6))]);
    press(&mut model, "n");
    assert!(
        shows(&model, &format!("... {} more below", stocks - 4)),
        "{:#?}",
        rows(&model)
    );
    feed(&mut model, [key(KeyCode::End)]);
    assert!(
        shows(&model, &format!("... {} more above", stocks - 4)),
        "{:#?}",
        rows(&model)
    );
}

/// A box whose number is as high as any is a box, and no piece of stock.
#[test]
fn a_box_of_a_high_number_is_removed_as_a_box() {
    let mut job = built_in("orchard-flatbed");
    job.boxes[0].id = job::Id(2_000_000);
    job.stock.pieces.clear();
    let mut model = open_model(job, Theme::default(), (80, 24));
    feed(&mut model, [key(KeyCode::F(6))]);
    press(&mut model, "x");
    assert!(
        model.overlay.is_some(),
        "it asks before it removes a box: {:#?}",
        rows(&model)
    );
}
