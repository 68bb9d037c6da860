//! A box with a step in its underside on the screens.

mod common;

use common::{key, press, screen, shows};
use drawing::Side;
use job::{Edit, Field, load};
use ratatui::crossterm::event::KeyCode;
use rstest::rstest;
use tui::form::Row;
use tui::model::Model;
use tui::page::Page;
use tui::pages::layout::Thing;
use tui::run::{feed, open_model};
use tui::theme::Theme;

fn stepped(size: (u16, u16)) -> Model {
    let job = load(include_str!("../../job/tests/stepped.json").as_bytes()).expect("a job that is whole");
    open_model(job, Theme::default(), size)
}

#[rstest]
#[case::narrow((80, 24))]
#[case::wide((120, 40))]
fn its_step_is_entered_beside_its_size(#[case] size: (u16, u16)) {
    let mut model = stepped(size);
    feed(&mut model, [key(KeyCode::F(6))]);
    let id = model.shown().boxes[0].id;
    model.boxes.open = Some(tui::form::Group::Box(id));
    let is_run = |row: &Row| matches!(row, Row::Field(field) if *field == Field::BoxStepRun(id));
    let at = tui::pages::boxes::rows(&model).iter().position(is_run);
    model.boxes.cursor = at.expect("the step has a row");
    insta::assert_snapshot!(format!("boxes_{}x{}", size.0, size.1), screen(&model).backend());
}

#[rstest]
#[case::narrow((80, 24))]
#[case::wide((120, 40))]
fn the_sheet_shows_an_l_over_the_crossmember(#[case] size: (u16, u16)) {
    let mut model = stepped(size);
    model.page = Page::Layout;
    model.sheet.side = Side::FromLeft;
    insta::assert_snapshot!(format!("layout_{}x{}", size.0, size.1), screen(&model).backend());
}

#[test]
fn a_module_comes_to_rest_on_the_raised_floor() {
    let mut model = stepped((120, 40));
    model.page = Page::Layout;
    model.sheet.side = Side::FromLeft;
    let module = model.shown().boxes[0].modules[0].id;
    let before = model.job().clone();
    let by = geometry::Point::along(geometry::Axis::Z, tape::Length::mm(7));
    model
        .apply(Edit::NudgeModule { module, by })
        .expect("there is such a module");
    model.sheet.selected = Some(Thing::Module(module));
    assert!(shows(&model, "raised floor"));
    press(&mut model, "j");
    feed(&mut model, [key(KeyCode::Down)]);
    assert_eq!(
        model.job().boxes[0].modules[0].corner(),
        before.boxes[0].modules[0].corner()
    );
}

#[rstest]
#[case::narrow((80, 24))]
#[case::wide((120, 40))]
fn the_truck_page_draws_the_l(#[case] size: (u16, u16)) {
    let mut job = load(include_str!("../../job/tests/stepped.json").as_bytes()).expect("a job that is whole");
    let exactly = |mm: i64| job::Len::exactly(tape::Length::mm(mm), tape::Units::Millimetre);
    job.vehicle.masses.wheelbase = Some(exactly(2_800));
    let mut model = open_model(job, Theme::default(), size);
    feed(&mut model, [key(KeyCode::F(9))]);
    insta::assert_snapshot!(format!("truck_{}x{}", size.0, size.1), screen(&model).backend());
}
