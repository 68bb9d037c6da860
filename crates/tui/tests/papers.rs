//! The Papers page: what is ticked, how a paper begins, where papers went.

mod common;

use std::path::PathBuf;
use std::sync::Arc;

use common::{built_in, enter, example, key, press, rows, screen, shows};
use ratatui::crossterm::event::KeyCode;
use rstest::rstest;
use tui::Report;
use tui::input::Input;
use tui::model::{Effect, Model};
use tui::page::Page;
use tui::pages::papers::{Written, of_job};
use tui::run::feed;
use tui::update::update;

fn page(name: &str, size: (u16, u16)) -> Model {
    let mut model = example(name, size);
    feed(&mut model, [key(KeyCode::F(7))]);
    model
}

/// Puts the cursor on the paper with this key.
fn go_to(model: &mut Model, paper: &str) {
    let made = model.papers.made.as_ref().expect("the papers are made");
    let at = made
        .entries
        .iter()
        .position(|e| e.key == paper)
        .expect("there is such a paper");
    feed(model, [key(KeyCode::Home)]);
    model.papers.cursor = 0;
    for _ in 0..at {
        feed(model, [key(KeyCode::Down)]);
    }
}

fn ticked(model: &Model) -> Vec<String> {
    let made = model.papers.made.as_ref().expect("the papers are made");
    let (files, _) = model.papers.ticked(made);
    files.iter().map(|paper| paper.file_name.clone()).collect()
}

#[test]
fn every_paper_is_ticked_at_first_and_space_takes_one_out() {
    let mut model = page("orchard-flatbed", (80, 24));
    let all = ticked(&model);
    let made = model.papers.made.clone().unwrap();
    assert_eq!(all.len(), made.papers.len());
    go_to(&mut model, "drawing-left-box");
    press(&mut model, " ");
    let left: Vec<&String> = all
        .iter()
        .filter(|name| !name.starts_with("drawing-left-box"))
        .collect();
    assert!(left.len() < all.len());
    assert_eq!(ticked(&model).iter().collect::<Vec<_>>(), left);
    assert!(shows(&model, "[ ] drawing, left box"), "{:#?}", rows(&model));
    press(&mut model, "a");
    assert_eq!(ticked(&model), all, "a ticks all again");
    press(&mut model, "a");
    assert!(ticked(&model).is_empty(), "and then none");
    press(&mut model, "w");
    assert!(model.overlay.is_none() && shows(&model, "no paper is ticked"));
    feed(&mut model, [key(KeyCode::Enter)]);
    assert!(ticked(&model).iter().all(|name| name.starts_with("drawing-left-box")));
}

#[rstest]
#[case::text("report", "report_80x24", (80, 24))]
#[case::table("cut-list", "cut_list_80x24", (80, 24))]
#[case::drawing("drawing-left-box", "drawing_80x24", (80, 24))]
#[case::page("shopping-list", "shopping_120x40", (120, 40))]
fn a_paper_is_looked_at(#[case] paper: &str, #[case] name: &str, #[case] size: (u16, u16)) {
    let mut model = page("orchard-flatbed", size);
    go_to(&mut model, paper);
    insta::assert_snapshot!(name, screen(&model).backend());
}

#[test]
fn page_down_reads_on_and_another_paper_begins_at_its_top() {
    let mut model = page("orchard-flatbed", (80, 24));
    go_to(&mut model, "report");
    let top = rows(&model);
    feed(&mut model, [key(KeyCode::PageDown)]);
    assert_ne!(rows(&model), top);
    feed(&mut model, [key(KeyCode::PageUp)]);
    assert_eq!(rows(&model), top);
    for _ in 0..200 {
        feed(&mut model, [key(KeyCode::PageDown)]);
    }
    assert!(!shows(&model, "more lines"), "the end is reached");
    feed(&mut model, [key(KeyCode::Up), key(KeyCode::Down)]);
    assert_eq!(rows(&model), top);
}

#[test]
fn w_asks_for_the_folder_and_where_they_went_stays_until_they_are_written_again() {
    let mut model = page("orchard-flatbed", (80, 24));
    press(&mut model, "w");
    let effects = feed(&mut model, [key(KeyCode::Enter)]);
    assert_eq!(effects, [Effect::WritePapers(PathBuf::from("papers"))]);
    model.papers.written = Some(Written {
        job: model.history.shared(),
        folder: PathBuf::from("/shop/papers"),
        files: 3,
        titles: vec!["cut list".to_owned(), "weld map".to_owned()],
        when: "2026-03-09 14:05 UTC".to_owned(),
    });
    let words = "written to /shop/papers, 2026-03-09 14:05 UTC: 3 files: cut list; weld map";
    assert!(shows(&model, words), "{:#?}", rows(&model));
    for _ in 0..30 {
        feed(&mut model, [key(KeyCode::Down)]);
    }
    assert!(shows(&model, words), "it is not scrolled away");
    insta::assert_snapshot!("written_80x24", screen(&model).backend());
    feed(&mut model, [key(KeyCode::F(6))]);
    press(&mut model, "b");
    feed(&mut model, [key(KeyCode::F(7))]);
    assert!(shows(&model, "the job has changed"), "{:#?}", rows(&model));
    press(&mut model, "u");
    // What is taken back is shown on its own page.
    assert_eq!(model.page, Page::Boxes);
    feed(&mut model, [key(KeyCode::F(7))]);
    assert!(shows(&model, words), "the job is again the one that was written");
    press(&mut model, "w");
    assert!(shows(&model, "/shop/papers"), "the folder is offered again");
}

#[test]
fn papers_are_made_once_for_a_state_of_the_job_and_anew_after_a_change() {
    let mut model = example("orchard-flatbed", (80, 24));
    assert_eq!(update(&mut model, key(KeyCode::F(7))), [Effect::MakePapers]);
    assert!(shows(&model, "the papers are being made"));
    assert_eq!(
        update(&mut model, key(KeyCode::Down)),
        [],
        "they are being made already"
    );
    let mut other = page("orchard-flatbed", (80, 24));
    let made = other.papers.made.take().unwrap();
    // What is of another state of the job is not taken, and asked for again.
    assert_eq!(
        update(&mut model, Input::Worker(Report::Papers(made))),
        [Effect::MakePapers]
    );
    assert!(of_job(&model).is_none());
    let why = "fault".to_owned();
    let job = model.history.shared();
    assert_eq!(update(&mut model, Input::Worker(Report::NoPapers { job, why })), []);
    assert!(shows(&model, "not made: fault"));
}

#[test]
fn the_nests_that_papers_needed_are_on_the_boxes_page_at_once() {
    let model = page("orchard-flatbed", (80, 24));
    let nests = tui::pages::nests::of_job(&model).expect("the papers brought them");
    assert!(Arc::ptr_eq(&nests.job, &model.history.shared()));
    assert_eq!(model.page, Page::Papers);
}

#[test]
fn ticks_outlast_the_job() {
    let mut model = page("orchard-flatbed", (80, 24));
    go_to(&mut model, "weld-map");
    press(&mut model, " ");
    model.show_job(built_in("harbour-tender"), None, Page::Papers);
    feed(&mut model, [key(KeyCode::Down)]);
    assert!(!ticked(&model).iter().any(|name| name == "weld-map.html"));
    assert!(ticked(&model).iter().any(|name| name == "cut-list.html"));
    enter(&mut model, " ");
    assert!(model.papers.unticked.contains("weld-map"));
}
