//! The Boxes page proposes glands for the cables that leave boxes, and names what governs.

mod common;

use common::{built_in, key, rows, screen};
use ratatui::crossterm::event::KeyCode;
use tui::run::{feed, open_model};
use tui::theme::Theme;

#[test]
fn p_lets_glands_in_and_u_takes_a_boxs_back() {
    let mut model = open_model(built_in("orchard-flatbed"), Theme::default(), (120, 40));
    feed(&mut model, [key(KeyCode::F(6))]);
    let count = |model: &tui::model::Model| model.job().boxes.iter().map(|b| b.fittings.len()).collect::<Vec<_>>();
    assert!(count(&model).iter().all(|&glands| glands == 0));
    feed(&mut model, [key(KeyCode::Char('p'))]);
    let all = count(&model);
    assert!(all.iter().any(|&glands| glands > 0), "{all:?}");
    assert!(
        model
            .evaluation
            .boxes
            .iter()
            .flat_map(|b| &b.fittings)
            .all(|f| f.fault.is_none() && f.meets.is_empty())
    );
    feed(&mut model, [key(KeyCode::Char('p'))]);
    assert_eq!(count(&model), all, "a second time there is nothing more to let in");
    feed(&mut model, [key(KeyCode::Char('u'))]);
    assert!(count(&model).iter().sum::<usize>() < all.iter().sum());
}

#[test]
fn an_opened_box_names_what_governs() {
    let mut model = open_model(built_in("orchard-flatbed"), Theme::default(), (120, 40));
    feed(&mut model, [key(KeyCode::F(6)), key(KeyCode::Enter)]);
    let mut seen = false;
    for _ in 0..60 {
        seen |= format!("{}", screen(&model).backend()).contains("governs: floor, pressed down on");
        feed(&mut model, [key(KeyCode::Down)]);
    }
    assert!(seen, "the line stands above the sums");
}

/// Under the bed there is no place that is free outside: the glands are told as blocked, and the stops that they make.
#[test]
fn glands_with_something_in_the_way_are_told_with_the_stops_they_make() {
    let mut model = open_model(built_in("orchard-flatbed"), Theme::default(), (80, 24));
    feed(&mut model, [key(KeyCode::F(6)), key(KeyCode::Char('p'))]);
    let proposed = job::glands::propose(
        &built_in("orchard-flatbed"),
        &job::evaluate(&built_in("orchard-flatbed")),
    );
    let blocked = proposed
        .iter()
        .flat_map(|proposal| &proposal.glands)
        .filter(|gland| !gland.is_clear_outside)
        .count();
    let stops = model.evaluation.headline.stops;
    let told = &model.message.words;
    assert!(blocked > 0 && stops > 0);
    assert!(
        told.contains(&format!("{blocked} with something in the way outside")),
        "{told}"
    );
    assert!(told.contains(&format!("{stops} new stops: ! tells")), "{told}");
    assert!(!told.contains("less than the margin"), "{told}");
}

/// What stops with the glands that were let in is told with them, whole in a small window.
#[test]
fn p_tells_the_stops_that_come_of_it() {
    let mut model = open_model(built_in("orchard-flatbed"), Theme::default(), (80, 24));
    feed(&mut model, [key(KeyCode::F(6))]);
    let before = model.evaluation.headline.stops;
    feed(&mut model, [key(KeyCode::Char('p'))]);
    let new = model.evaluation.headline.stops - before;
    assert!(new > 0, "they stand out farther than there is room");
    let told = model.message.words.clone();
    assert!(
        told.contains(&format!("{new} new stop")) && told.ends_with(": ! tells"),
        "{told}"
    );
    let shown = rows(&model).join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(shown.contains(&told), "{shown}");
}
