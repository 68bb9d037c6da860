//! What a key means where: chords, steps that undo, choices, offered text, texts that lie over the page.

mod common;

use common::{built_in, enter, example, key, press, rows, screen, shows};
use job::Field;
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use rstest::rstest;
use tui::form::Row;
use tui::input::Input;
use tui::model::{Effect, Model, Overlay};
use tui::page::Page;
use tui::run::feed;

fn held(model: &mut Model, c: char, with: KeyModifiers) -> Vec<Effect> {
    feed(model, [Input::Key(KeyEvent::new(KeyCode::Char(c), with))])
}

/// Opens a page with the cursor on the row of `field`.
fn at(name: &str, page: u8, field: Field) -> Model {
    let mut model = example(name, (80, 24));
    feed(&mut model, [key(KeyCode::F(page))]);
    stand_on(&mut model, field);
    model
}

fn stand_on(model: &mut Model, field: Field) {
    let rows = tui::pages::rows(model);
    let row = rows.iter().position(|row| *row == Row::Field(field));
    model.form_mut().expect("a page of rows").cursor = row.expect("the field has a row");
}

#[test]
fn a_letter_held_with_ctrl_or_alt_does_not_do_what_the_letter_does() {
    let mut model = example("orchard-flatbed", (80, 24));
    model.date = "2026-01-31".to_owned();
    feed(&mut model, [key(KeyCode::F(7))]);
    press(&mut model, "i");
    let issued = model.job().clone();
    assert_eq!(issued.issued.len(), 1, "{:#?}", rows(&model));
    for c in ('a'..='z').filter(|c| *c != 'c' && *c != 'z') {
        for with in [KeyModifiers::CONTROL, KeyModifiers::ALT] {
            assert_eq!(held(&mut model, c, with), vec![], "{with:?} {c}");
            assert!(model.overlay.is_none(), "{with:?} {c}");
            assert_eq!(*model.job(), issued, "{with:?} {c}");
        }
    }
    // Nor does it answer a question.
    press(&mut model, "q");
    assert!(matches!(model.overlay, Some(Overlay::Ask(_))));
    for c in ['y', 'n'] {
        assert_eq!(held(&mut model, c, KeyModifiers::CONTROL), vec![]);
        assert!(matches!(model.overlay, Some(Overlay::Ask(_))), "Ctrl-{c}");
    }
}

#[test]
fn nudges_in_two_directions_are_two_steps_and_each_is_told_as_far_as_it_went() {
    let mut model = example("orchard-flatbed", (80, 24));
    press(&mut model, "n");
    let start = model.job().clone();
    feed(&mut model, [key(KeyCode::Right), key(KeyCode::Right)]);
    let right = model.job().clone();
    feed(&mut model, [key(KeyCode::Up)]);
    press(&mut model, "u");
    assert_eq!(*model.job(), right, "{}", model.message.words);
    press(&mut model, "u");
    assert_eq!(*model.job(), start, "{}", model.message.words);
    assert!(
        model.message.words.contains("1/8\" rearward"),
        "{}",
        model.message.words
    );
    // There and back is two steps as well: neither is lost.
    feed(&mut model, [key(KeyCode::Right), key(KeyCode::Left)]);
    press(&mut model, "uu");
    assert_eq!(*model.job(), start);
    assert_eq!(model.undo(), None);
}

#[test]
fn enter_on_a_choice_opens_its_list_and_letters_stay_in_it() {
    let mut model = at("orchard-flatbed", 6, Field::Brackets);
    let before = model.job().clone();
    feed(&mut model, [key(KeyCode::Enter)]);
    assert!(matches!(model.overlay, Some(Overlay::Pick(_))));
    insta::assert_snapshot!("choices_80x24", screen(&model).backend());
    // `x` removes on this page and `g` adds a part of the bed; here no choice begins with them.
    press(&mut model, "xg");
    assert_eq!(*model.job(), before);
    assert!(
        model.message.words.contains("no choice has a word with \"g\""),
        "{}",
        model.message.words
    );
    // A later word finds a choice as well; `a` adds nothing.
    press(&mut model, "rail");
    let Some(Overlay::Pick(pick)) = &model.overlay else {
        panic!("the list is gone")
    };
    assert_eq!(pick.options[pick.cursor], "to the web of a rail");
    assert_eq!(*model.job(), before);
    feed(&mut model, [key(KeyCode::Esc)]);
    assert!(model.overlay.is_none());
    assert_eq!(*model.job(), before);
}

#[test]
fn first_letters_choose_enter_takes_and_the_cursor_goes_on() {
    let mut model = at("orchard-flatbed", 6, Field::Construction);
    let row = model.boxes.cursor;
    feed(&mut model, [key(KeyCode::Enter)]);
    press(&mut model, "fo");
    feed(&mut model, [key(KeyCode::Enter)]);
    let made = model.job().design.construction.map(job::ConstructionName::name);
    assert_eq!(
        made,
        Some(job::ConstructionName::Folded.name()),
        "{}",
        model.message.words
    );
    assert!(model.overlay.is_none());
    assert_eq!(model.boxes.cursor, row + 1);
    assert!(model.message.words.starts_with("set "), "{}", model.message.words);
}

#[test]
fn a_digit_on_a_choice_opens_no_text_field() {
    let mut model = at("orchard-flatbed", 6, Field::Brackets);
    press(&mut model, "4");
    assert!(model.boxes.typing.is_none());
    assert!(matches!(model.overlay, Some(Overlay::Pick(_))));
}

#[test]
fn the_first_letter_replaces_what_is_offered_and_arrows_keep_it() {
    let mut model = at("orchard-flatbed", 2, Field::JobName);
    enter(&mut model, "\n");
    feed(&mut model, [key(KeyCode::Up)]);
    stand_on(&mut model, Field::JobName);
    feed(&mut model, [key(KeyCode::Enter)]);
    press(&mut model, "van");
    let typed = |model: &Model| model.tape.typing.as_ref().map(|t| t.input.text().to_owned());
    assert_eq!(typed(&model).as_deref(), Some("van"));
    feed(&mut model, [key(KeyCode::Enter)]);
    stand_on(&mut model, Field::JobName);
    feed(&mut model, [key(KeyCode::Enter), key(KeyCode::Backspace)]);
    press(&mut model, "t");
    assert_eq!(typed(&model).as_deref(), Some("vat"));
    feed(&mut model, [key(KeyCode::Esc)]);
    // The same where a file's name is offered.
    press(&mut model, "S");
    assert!(shows(&model, "Ctrl-U clear"), "{:#?}", rows(&model));
    press(&mut model, "truck");
    assert_eq!(
        feed(&mut model, [key(KeyCode::Enter)]),
        vec![Effect::Save("truck.json".into())]
    );
}

#[test]
fn what_could_not_be_done_is_asked_again_with_what_was_typed() {
    let mut model = example("orchard-flatbed", (80, 24));
    feed(&mut model, [key(KeyCode::F(7))]);
    press(&mut model, "w");
    press(&mut model, "/proc/zz");
    let effects = feed(&mut model, [key(KeyCode::Enter)]);
    assert_eq!(effects, vec![Effect::WritePapers("/proc/zz".into())]);
    model.refuse_asked(
        "no papers written to /proc/zz: no such folder",
        "name a folder that you may write in",
    );
    let Some(Overlay::Prompt(prompt)) = &model.overlay else {
        panic!("the line is gone")
    };
    assert_eq!(prompt.typing.input.text(), "/proc/zz");
    assert!(shows(&model, "folder that you may write in"), "{:#?}", rows(&model));
    // What is typed now changes the line and commands nothing.
    let before = model.job().clone();
    assert_eq!(press(&mut model, "iq"), vec![]);
    assert_eq!(*model.job(), before);
}

#[rstest]
#[case::help('?')]
#[case::findings('!')]
fn from_a_long_text_another_page_saving_and_undo_are_one_key_away(#[case] opens: char) {
    let mut model = example("orchard-flatbed", (80, 24));
    feed(&mut model, [key(KeyCode::Right)]);
    let over = opens.to_string();
    press(&mut model, &over);
    press(&mut model, "u");
    assert_eq!(*model.job(), built_in("orchard-flatbed"));
    assert!(model.overlay.is_none());
    press(&mut model, &over);
    press(&mut model, "s");
    assert!(matches!(model.overlay, Some(Overlay::Prompt(_))), "s saves");
    feed(&mut model, [key(KeyCode::Esc)]);
    press(&mut model, &over);
    feed(&mut model, [key(KeyCode::F(6))]);
    assert_eq!(model.page, Page::Boxes);
    assert!(model.overlay.is_none());
}

#[test]
fn a_page_key_keeps_what_is_typed_in_a_field_and_goes() {
    let mut model = at("orchard-flatbed", 6, Field::Wall);
    press(&mut model, "4 mm");
    feed(&mut model, [key(KeyCode::F(3))]);
    assert_eq!(model.page, Page::Modules);
    assert_eq!(model.job().design.wall.as_ref().map(job::Thickness::text), Some("4 mm"));
    feed(&mut model, [key(KeyCode::F(6))]);
    stand_on(&mut model, Field::Wall);
    press(&mut model, "4 furlongs");
    feed(&mut model, [key(KeyCode::F(3))]);
    assert_eq!(model.page, Page::Boxes, "what cannot be kept is not lost by going away");
    assert!(model.boxes.typing.is_some());
}

#[test]
fn what_was_told_on_one_page_is_gone_on_the_next() {
    let mut model = example("orchard-flatbed", (80, 24));
    feed(&mut model, [key(KeyCode::Right)]);
    assert!(!model.message.words.is_empty());
    feed(&mut model, [key(KeyCode::F(3))]);
    assert_eq!(model.message.words, "");
}

#[test]
fn help_and_quit_stand_in_every_key_bar_of_a_small_window() {
    let mut model = example("orchard-flatbed", (80, 24));
    for n in 2..10 {
        feed(&mut model, [key(KeyCode::F(n))]);
        for words in ["? help", "q quit", "s save", "u undo", "! findings"] {
            assert!(
                shows(&model, words),
                "{words:?} on {}: {:#?}",
                model.page.name(),
                rows(&model)
            );
        }
    }
    feed(&mut model, [key(KeyCode::F(4))]);
    press(&mut model, "l");
    assert!(shows(&model, "? help") && shows(&model, "q quit"));
}
