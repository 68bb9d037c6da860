//! Pages as a person sees them, and keys in, job out. No terminal.

mod common;

use common::{built_in, enter, example, key, press, rows, screen, shows};
use job::{Job, UnitsName, evaluate};
use ratatui::crossterm::event::KeyCode;
use ratatui::style::Modifier;
use rstest::rstest;
use tui::model::{Effect, Model, Overlay};
use tui::page::Page;
use tui::pages::layout::Thing;
use tui::run::{feed, open_model};
use tui::theme::Theme;

#[rstest]
#[case::tape(Page::Tape)]
#[case::modules(Page::Modules)]
#[case::layout(Page::Layout)]
#[case::pack(Page::Pack)]
#[case::boxes(Page::Boxes)]
#[case::papers(Page::Papers)]
fn every_page_of_the_easy_example(#[case] page: Page, #[values((80, 24), (120, 40))] size: (u16, u16)) {
    let mut model = example("orchard-flatbed", size);
    let n = Page::ALL.iter().position(|&p| p == page).unwrap();
    feed(&mut model, [key(KeyCode::F(u8::try_from(n).unwrap() + 2))]);
    let name = format!("{}_{}x{}", page.name().to_lowercase(), size.0, size.1);
    insta::assert_snapshot!(name, screen(&model).backend());
}

#[rstest]
#[case("mountain-rescue", (200, 60))]
#[case("harbour-tender", (120, 40))]
fn the_layout_of_the_other_examples(#[case] name: &str, #[case] size: (u16, u16)) {
    insta::assert_snapshot!(format!("layout_{name}"), screen(&example(name, size)).backend());
}

/// In a small window the cut through the rim stands over the rows, on demand; every construction changes it.
#[test]
fn the_boxes_page_shows_what_a_choice_of_construction_means() {
    let mut model = example("orchard-flatbed", (80, 24));
    model.page = Page::Boxes;
    model.theme = Theme {
        colour: false,
        ascii: true,
    };
    press(&mut model, "v");
    insta::assert_snapshot!("boxes_picture_ascii", screen(&model).backend());
    let mut seen = Vec::new();
    for construction in job::ConstructionName::ALL {
        let text = construction.name().to_owned();
        let field = job::Field::Construction;
        model.apply(job::Edit::Set { field, text }).unwrap();
        let text = screen(&model).backend().to_string();
        assert!(text.contains("cut through the rim"), "{text}");
        let cut: String = text.lines().skip(7).take(9).collect();
        assert!(!seen.contains(&cut), "{text}");
        seen.push(cut);
    }
    press(&mut model, "v");
    assert!(!screen(&model).backend().to_string().contains("cut through the rim"));
}

#[test]
fn the_start_page_help_and_findings() {
    let mut model = Model::new(Theme::default());
    insta::assert_snapshot!("start", screen(&model).backend());
    model = example("orchard-flatbed", (80, 24));
    press(&mut model, "?");
    insta::assert_snapshot!("help", screen(&model).backend());
    feed(&mut model, [key(KeyCode::Esc)]);
    press(&mut model, "!");
    insta::assert_snapshot!("findings", screen(&model).backend());
}

#[test]
fn the_selected_module_is_reversed_or_pointed_at_even_without_colour() {
    let mut model = example("orchard-flatbed", (120, 40));
    model.theme = Theme {
        colour: false,
        ascii: true,
    };
    let terminal = screen(&model);
    let buffer = terminal.backend().buffer();
    assert!(
        buffer.content().iter().all(|cell| cell.symbol().is_ascii()),
        "ASCII mode draws ASCII only"
    );
    assert!(
        buffer
            .content()
            .iter()
            .any(|cell| cell.modifier.contains(Modifier::REVERSED))
    );
}

#[test]
fn a_small_window_is_told_kindly() {
    let mut model = example("orchard-flatbed", (60, 20));
    model.page = Page::Tape;
    let text = screen(&model).backend().to_string();
    assert!(text.contains("window 60x20: 80x24 needed"), "{text}");
}

/// Twelve typed values and the first layout is there, nothing else asked.
#[test]
fn from_nothing_to_a_first_layout_in_twelve_values() {
    let mut model = open_model(Job::empty(UnitsName::Inch), Theme::default(), (80, 24));
    let values = [
        "50 7/8", "16 3/4", "11 13/16", "12", "5 1/2", "8 1/4", "18", "25.6", "105", "14", "90", "160",
    ];
    for value in values {
        assert!(model.job().boxes.is_empty());
        enter(&mut model, value);
    }
    assert_eq!(model.page, Page::Layout);
    assert_eq!(model.evaluation.headline.placed, 5);
    let pack = model.evaluation.headline.arrangement.unwrap();
    assert_eq!((pack.series, pack.parallel), (5, 1));
    // Whatever was not entered is assumed, and the figures that rest on it say so.
    assert!(model.evaluation.headline.assumed.clearance && model.evaluation.headline.assumed.volts);
    let text = screen(&model).backend().to_string();
    assert!(text.contains("~105"), "{text}");
}

#[test]
fn an_arrow_nudges_by_the_step_and_the_clearances_follow() {
    let mut model = example("orchard-flatbed", (80, 24));
    let Some(Thing::Module(id)) = model.sheet.selected else {
        panic!("a module is selected")
    };
    let rear = |model: &Model| model.evaluation.module(id).unwrap().1.around.as_ref().unwrap().faces[1].distance;
    let before = rear(&model);
    feed(&mut model, [key(KeyCode::Left)]);
    assert_eq!(rear(&model) - before, tape::Length::sixty_fourths(4));
    press(&mut model, "]]");
    feed(&mut model, [key(KeyCode::Left)]);
    assert_eq!(
        rear(&model) - before,
        tape::Length::sixty_fourths(4) + tape::Length::inches(1)
    );
    // Nudges of one module one way undo together.
    press(&mut model, "u");
    assert_eq!(*model.job(), built_in("orchard-flatbed"));
}

#[test]
fn touch_and_keep_stop_where_they_say() {
    let mut model = example("orchard-flatbed", (80, 24));
    press(&mut model, "o");
    let Some(Thing::Box(id)) = model.sheet.selected else {
        panic!("the box is selected")
    };
    let front = |model: &Model| model.evaluation.battery_box(id).unwrap().around.as_ref().unwrap().faces[0].clone();
    press(&mut model, "k");
    feed(&mut model, [key(KeyCode::Left)]);
    assert_eq!(front(&model).sure(), front(&model).asked);
    press(&mut model, "j");
    feed(&mut model, [key(KeyCode::Left)]);
    assert_eq!(front(&model).sure(), tape::Length::ZERO);
}

#[test]
fn turning_adding_removing_and_moving_are_edits_that_undo() {
    let mut model = example("orchard-flatbed", (80, 24));
    press(&mut model, "t");
    assert_ne!(*model.job(), built_in("orchard-flatbed"));
    press(&mut model, "a");
    assert_eq!(model.evaluation.headline.placed, 11);
    press(&mut model, "b");
    press(&mut model, "x");
    assert_eq!(model.evaluation.headline.placed, 10);
    press(&mut model, "uuuu");
    assert_eq!(*model.job(), built_in("orchard-flatbed"));
    press(&mut model, "yyyy");
    assert_eq!(model.evaluation.headline.placed, 10);
}

#[test]
fn a_layout_is_offered_and_taken_over_only_when_the_person_says_so() {
    let mut model = example("mountain-rescue", (120, 40));
    press(&mut model, "f");
    assert!(matches!(model.overlay, Some(Overlay::Offer(_))));
    press(&mut model, "n");
    assert_eq!(*model.job(), built_in("mountain-rescue"));
    press(&mut model, "f");
    feed(&mut model, [key(KeyCode::Enter)]);
    assert_ne!(*model.job(), built_in("mountain-rescue"));
    assert_eq!(evaluate(model.job()).headline.placed, 48);
}

#[test]
fn a_wrong_reading_keeps_what_was_typed_and_says_how_to_mend_it() {
    let mut model = open_model(Job::empty(UnitsName::Inch), Theme::default(), (80, 24));
    enter(&mut model, "41 5/6");
    let typing = model.tape.typing.as_ref().expect("the field stays open");
    assert_eq!(typing.input.text(), "41 5/6");
    assert!(typing.refused.is_some());
    assert!(model.job().cavities[0].readings.is_empty());
    insta::assert_snapshot!("refused", screen(&model).backend());
    feed(&mut model, [key(KeyCode::Esc)]);
    assert!(model.tape.typing.is_none());
}

#[test]
fn leaving_with_changes_asks_first() {
    let mut model = example("orchard-flatbed", (80, 24));
    assert_eq!(press(&mut model, "q"), vec![Effect::Close, Effect::Quit]);
    feed(&mut model, [key(KeyCode::Left)]);
    assert_eq!(press(&mut model, "q"), vec![]);
    assert!(matches!(model.overlay, Some(Overlay::Ask(_))));
    feed(&mut model, [key(KeyCode::Esc)]);
    assert!(model.overlay.is_none());
}

#[test]
fn assumed_values_are_confirmed_one_by_one_or_all_of_a_page() {
    let mut model = open_model(Job::empty(UnitsName::Inch), Theme::default(), (80, 24));
    feed(&mut model, [key(KeyCode::Esc)]);
    feed(&mut model, [key(KeyCode::F(6))]);
    let before = model.evaluation.assumptions.len();
    press(&mut model, "c");
    assert_eq!(model.evaluation.assumptions.len(), before - 1);
    press(&mut model, "C");
    let left = &model.evaluation.assumptions;
    let of_boxes = [
        job::Field::Wall,
        job::Field::Corners,
        job::Field::Gasket,
        job::Field::Coating,
    ];
    assert!(left.iter().all(|a| !of_boxes.contains(&a.field)), "{left:?}");
}

/// A file that needs nothing more but has no boxes is shown as it is: nothing runs that nobody asked for.
#[test]
fn a_job_without_boxes_waits_for_the_word() {
    let mut job = built_in("orchard-flatbed");
    job.boxes.clear();
    let mut model = open_model(job, Theme::default(), (80, 24));
    assert_eq!(model.page, Page::Layout);
    assert!(model.running.is_none());
    press(&mut model, "f");
    assert_eq!(model.evaluation.headline.placed, 10);
}

/// The size that a box takes is told in the words that stand on every paper.
#[test]
fn the_size_of_a_box_says_that_it_is_with_screw_heads() {
    let mut model = example("orchard-flatbed", (80, 24));
    feed(&mut model, [key(KeyCode::F(6))]);
    assert!(
        shows(&model, "x 10 5/16\" over all with screw heads"),
        "{:#?}",
        rows(&model)
    );
}
