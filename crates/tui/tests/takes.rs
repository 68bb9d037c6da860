//! The panel that tells what one more module would take.

mod common;

use std::sync::Arc;

use common::{example, key, press, rows, screen, shows};
use geometry::{Axis, Face};
use job::layout::Aim;
use job::what_if::{Figure, Gain, Outcome, Row, WhatIf, tolerances};
use job::{Field, Id, Source};
use ratatui::crossterm::event::KeyCode;
use rstest::rstest;
use tape::Length;
use tui::input::Input;
use tui::model::{Effect, Model, Overlay};
use tui::page::Page;
use tui::run::feed;
use tui::update::update;
use tui::{Report, Task, Told};

fn tell(model: &mut Model, told: Told) {
    let job = model.history.shared();
    assert_eq!(update(model, Input::Worker(Report::Takes { job, told })), []);
}

/// The panel of the easy example with a few rows, nothing more to come.
fn told(size: (u16, u16)) -> Model {
    let mut model = asked(size);
    let tolerances = tolerances(model.job(), &model.evaluation);
    let (cavity, keep_out, kind) = ids(&model);
    tell(&mut model, Told::Tolerances(tolerances));
    let helps = |figure, name: &str, from, by, proved| Row {
        figure,
        name: name.to_owned(),
        outcome: Outcome::Helps {
            from: Length::sixty_fourths(from),
            to: Length::sixty_fourths(from + by),
            by: Length::sixty_fourths(by),
            proved,
            count: 15,
        },
    };
    let what_if = WhatIf {
        aim: Aim::Whole,
        now: 10,
        wanted: 15,
        string: 5,
        on_hand: 14,
        fits: false,
        rows: vec![
            helps(
                Figure::Usable(cavity, Axis::Y),
                "usable width of left saddle",
                1_060,
                26,
                true,
            ),
            helps(
                Figure::KeepOutMoved(keep_out, Face::Rear),
                "bed bolt, front moved rearward",
                700,
                60,
                false,
            ),
            Row {
                figure: Figure::KeepOutGone(keep_out),
                name: "bed bolt, front taken away".to_owned(),
                outcome: Outcome::Does { count: 15 },
            },
            Row {
                figure: Figure::Stands(kind, job::Stance::ALL[0]),
                name: "crate may stand any way".to_owned(),
                outcome: Outcome::NoHelp {
                    up_to: None,
                    proved: true,
                },
            },
            Row {
                figure: Figure::Wall,
                name: "wall thickness".to_owned(),
                outcome: Outcome::NoHelp {
                    up_to: Some(Length::sixty_fourths(5)),
                    proved: false,
                },
            },
        ],
    };
    tell(&mut model, Told::WhatIf(what_if));
    let gain = Gain {
        keep_out,
        name: "bed bolt, front".to_owned(),
        source: Source::Removable,
        now: 14,
        without: 16,
        string: 5,
        proved: true,
    };
    tell(&mut model, Told::Gains(vec![gain]));
    tell(&mut model, Told::End(Ok(())));
    model
}

fn asked(size: (u16, u16)) -> Model {
    let mut model = example("orchard-flatbed", size);
    press(&mut model, "w");
    let effects = update(&mut model, key(KeyCode::Char('1')));
    assert_eq!(effects, [Effect::Start(Task::Takes(Aim::Whole))]);
    model
}

/// A cavity, a keep-out in it, and a kind.
fn ids(model: &Model) -> (Id, Id, Id) {
    let cavity = &model.job().cavities[0];
    (cavity.id, cavity.keep_outs[0].id, model.job().kinds[0].id)
}

#[rstest]
fn the_smallest_changes_the_keep_outs_and_the_readings(#[values((80, 24), (200, 60))] size: (u16, u16)) {
    let model = told(size);
    insta::assert_snapshot!(format!("takes_{}x{}", size.0, size.1), screen(&model).backend());
}

#[test]
fn rows_come_as_they_are_ready_and_escape_stops_then_leaves() {
    let mut model = asked((80, 24));
    assert!(shows(&model, "finding what goes in now"));
    assert_eq!(feed(&mut model, [key(KeyCode::Esc)]), [Effect::Stop]);
    assert!(matches!(model.overlay, Some(Overlay::Takes)));
    tell(&mut model, Told::End(Ok(())));
    assert!(shows(&model, "stopped before anything was known"));
    feed(&mut model, [key(KeyCode::Esc)]);
    assert!(model.overlay.is_none() && model.running.is_none());
}

#[test]
fn the_panel_scrolls_to_its_last_row() {
    let mut model = told((80, 24));
    let last = "height";
    assert!(
        !rows(&model)
            .iter()
            .any(|row| row.starts_with(" ▸") && row.contains(last))
    );
    feed(&mut model, [key(KeyCode::End)]);
    assert!(
        rows(&model).iter().any(|row| row.starts_with(" ▸")),
        "{:#?}",
        rows(&model)
    );
    feed(&mut model, [key(KeyCode::Home), key(KeyCode::Down)]);
    let row = rows(&model)
        .into_iter()
        .find(|row| row.starts_with(" ▸"))
        .expect("a row is pointed at");
    assert!(
        row.contains("bed bolt, front") && row.contains("moved rearward"),
        "{row}"
    );
}

#[rstest]
#[case::reading(0, Page::Tape)]
#[case::keep_out_moved(1, Page::Tape)]
#[case::keep_out_gone(2, Page::Tape)]
#[case::stance(3, Page::Modules)]
#[case::wall(4, Page::Boxes)]
#[case::gain(5, Page::Tape)]
#[case::tolerance(6, Page::Tape)]
fn enter_goes_to_the_value_of_a_row(#[case] down: usize, #[case] page: Page) {
    let mut model = told((120, 40));
    let (cavity, keep_out, kind) = ids(&model);
    let first = tolerances(model.job(), &model.evaluation)[0].clone();
    // Of the width the rear edges are the shortest, bottom and top read alike; as adjusted, the one at the top.
    let limiting = 7;
    let field = [
        Field::ReadingValue(cavity, limiting),
        Field::KeepOutFrom(keep_out, Axis::X),
        Field::KeepOutTaken(keep_out),
        Field::KindStance(kind),
        Field::Wall,
        Field::KeepOutTaken(keep_out),
        Field::ReadingValue(first.cavity, first.reading),
    ][down];
    feed(&mut model, (0..down).map(|_| key(KeyCode::Down)));
    feed(&mut model, [key(KeyCode::Enter)]);
    assert_eq!(model.page, page);
    let rows = tui::pages::rows(&model);
    assert_eq!(model.form().unwrap().row(&rows), Some(&tui::form::Row::Field(field)));
    assert!(model.overlay.is_none());
}

#[test]
fn the_answer_is_kept_as_long_as_the_job_is_as_it_was() {
    let mut model = told((80, 24));
    feed(&mut model, [key(KeyCode::Esc)]);
    press(&mut model, "w");
    assert!(matches!(model.overlay, Some(Overlay::Takes)));
    feed(&mut model, [key(KeyCode::Esc), key(KeyCode::Left)]);
    press(&mut model, "w");
    assert!(matches!(model.overlay, Some(Overlay::Choose(_))), "it is asked anew");
}

#[test]
fn what_is_told_of_another_job_is_not_shown() {
    let mut model = asked((80, 24));
    let other = Arc::new(model.job().clone());
    let told = Told::End(Ok(()));
    update(&mut model, Input::Worker(Report::Takes { job: other, told }));
    assert!(model.running.is_some());
}

/// The whole way, worked out: every row is there, and the panel says that it is all.
#[test]
fn one_cavity_is_worked_out_to_the_end() {
    let mut model = example("orchard-flatbed", (120, 40));
    press(&mut model, "w2");
    let takes = model.takes.as_ref().expect("it was asked");
    assert!(takes.is_whole);
    assert!(takes.what_if.as_ref().is_some_and(|w| !w.rows.is_empty()));
    assert_eq!(takes.gains.len(), model.job().cavities[0].keep_outs.len());
    assert!(!takes.tolerances.is_empty());
    assert!(shows(&model, "all of it is worked out"));
}

/// A keep-out with a larger margin of its own may be short where the tightest clearance is not.
#[test]
fn what_stands_keeps_the_margins_only_where_no_clearance_is_short() {
    let words = "what stands now keeps the margins with 10";
    let shown_with = |margin_of_one: &str| {
        let mut model = example("orchard-flatbed", (120, 40));
        let keep_outs = &model.job().cavities[0].keep_outs;
        let bracket = keep_outs.last().expect("it has some").id;
        for (field, text) in [
            (Field::Margin, "1/16\""),
            (Field::KeepOutMargin(bracket), margin_of_one),
        ] {
            let text = text.to_owned();
            model.apply(job::Edit::Set { field, text }).expect("it is taken");
        }
        let tightest = model.evaluation.headline.tightest.as_ref().expect("boxes stand");
        assert!(!tightest.clearance.is_short());
        press(&mut model, "w");
        update(&mut model, key(KeyCode::Char('1')));
        let what_if = WhatIf {
            aim: Aim::Whole,
            now: 5,
            wanted: 10,
            string: 5,
            on_hand: 14,
            fits: false,
            rows: Vec::new(),
        };
        tell(&mut model, Told::WhatIf(what_if));
        shows(&model, words)
    };
    assert!(shown_with("1/16\""));
    assert!(!shown_with("30\""));
}
