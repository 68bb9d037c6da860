//! The Truck page as a person sees it, and keys in, job out.

mod common;

use common::{enter, example, key, press, rows, screen, shows};
use job::{Field, Job, TruckField, UnitsName, WayName, evaluate};
use ratatui::crossterm::event::KeyCode;
use rstest::rstest;
use tui::form::Row;
use tui::model::Model;
use tui::page::Page;
use tui::pages;
use tui::run::{feed, open_model};
use tui::theme::Theme;

fn truck(name: &str, size: (u16, u16)) -> Model {
    let mut model = example(name, size);
    feed(&mut model, [key(KeyCode::F(9))]);
    assert_eq!(model.page, Page::Truck);
    model
}

fn put_cursor(model: &mut Model, is: impl Fn(&Row) -> bool) {
    let at = pages::rows(model).iter().position(is).expect("the row is there");
    model.form_mut().expect("it is there").cursor = at;
}

#[rstest]
#[case::easy("orchard-flatbed")]
#[case::hard("mountain-rescue")]
fn the_page_at_two_sizes(#[case] name: &str, #[values((80, 24), (120, 40))] size: (u16, u16)) {
    let model = truck(name, size);
    insta::assert_snapshot!(format!("{name}_{}x{}", size.0, size.1), screen(&model).backend());
}

/// Loads and limits stand below the facts, entries below them; v gives the view's room to the rows.
#[test]
fn v_gives_the_room_of_the_side_view_to_the_rows() {
    let mut model = truck("harbour-tender", (80, 24));
    assert!(shows(&model, "▴ front 835 kg"), "{:#?}", rows(&model));
    press(&mut model, "v");
    assert!(!shows(&model, "▴ front 835 kg"));
    assert!(shows(&model, "payload left"), "{:#?}", rows(&model));
    insta::assert_snapshot!("rows_80x24", screen(&model).backend());
    press(&mut model, "v");
    assert!(shows(&model, "▴ front 835 kg"));
}

#[test]
fn the_side_view_is_there_without_colour_and_line_drawing() {
    let mut model = truck("orchard-flatbed", (120, 40));
    model.theme = Theme {
        colour: false,
        ascii: true,
    };
    let terminal = screen(&model);
    let buffer = terminal.backend().buffer();
    assert!(buffer.content().iter().all(|cell| cell.symbol().is_ascii()));
    insta::assert_snapshot!("ascii_120x40", terminal.backend());
}

/// The figures of the view are those of the evaluation, and follow the job.
#[test]
fn arrows_tell_the_axle_loads() {
    let model = truck("orchard-flatbed", (120, 40));
    let axles = model.evaluation.vehicle.axles.as_ref().unwrap();
    for (name, kg) in [("front", axles.after.front_kg), ("rear", axles.after.rear_kg)] {
        let words = format!("{name} {}", job::mass_words(kg));
        assert!(shows(&model, &words), "{words}: {:#?}", rows(&model));
    }
}

#[test]
fn a_adds_a_component_x_takes_it_out_and_u_brings_it_back() {
    let mut model = truck("orchard-flatbed", (120, 40));
    let before = model.job().clone();
    press(&mut model, "a");
    feed(&mut model, [key(KeyCode::Esc)]);
    let last = model.job().vehicle.components.len() - 1;
    assert_eq!(last, before.vehicle.components.len());
    assert!(
        model
            .evaluation
            .vehicle
            .uncounted
            .iter()
            .any(|one| one.why.contains("mass"))
    );
    for (field, text) in [
        (TruckField::ComponentMass(last), "55 lb"),
        (TruckField::ComponentAt(last, geometry::Axis::X), "100"),
    ] {
        put_cursor(&mut model, |row| *row == Row::Field(Field::OfTruck(field)));
        feed(&mut model, [key(KeyCode::Enter)]);
        enter(&mut model, text);
    }
    put_cursor(&mut model, |row| {
        *row == Row::Field(Field::OfTruck(TruckField::ComponentWay(last)))
    });
    feed(&mut model, [key(KeyCode::Left)]);
    assert_eq!(model.job().vehicle.components[last].way, WayName::Out);
    assert_eq!(model.evaluation.vehicle.uncounted, []);
    assert_eq!(model.evaluation, evaluate(model.job()));
    put_cursor(
        &mut model,
        |row| matches!(row, Row::Group { title, .. } if title.contains("component 1")),
    );
    press(&mut model, "x");
    assert_eq!(*model.job(), before);
    press(&mut model, "u");
    assert_eq!(model.job().vehicle.components.len(), last + 1);
}

#[test]
fn k_adds_a_low_point_and_x_takes_it_out() {
    let mut model = truck("orchard-flatbed", (120, 40));
    let before = model.job().clone();
    press(&mut model, "k");
    feed(&mut model, [key(KeyCode::Esc)]);
    let last = before.vehicle.ground.points.len();
    assert_eq!(model.job().vehicle.ground.points.len(), last + 1);
    put_cursor(
        &mut model,
        |row| matches!(row, Row::Group { title, .. } if title == "low point 1"),
    );
    press(&mut model, "x");
    assert_eq!(*model.job(), before);
}

/// A new job says what it needs, in the order it is read: nothing is drawn that was not entered.
#[test]
fn an_empty_page_asks_kindly_and_three_values_bring_it_to_life() {
    let mut model = open_model(Job::empty(UnitsName::Inch), Theme::default(), (80, 24));
    feed(&mut model, [key(KeyCode::Esc), key(KeyCode::F(9))]);
    assert!(
        shows(&model, "The axle loads need the wheelbase"),
        "{:#?}",
        rows(&model)
    );
    insta::assert_snapshot!("empty_80x24", screen(&model).backend());
    for (field, text) in [
        (TruckField::Wheelbase, "110"),
        (TruckField::FrontBefore, "2000 lb"),
        (TruckField::RearBefore, "1500 lb"),
    ] {
        put_cursor(&mut model, |row| *row == Row::Field(Field::OfTruck(field)));
        feed(&mut model, [key(KeyCode::Enter)]);
        enter(&mut model, text);
    }
    assert!(shows(&model, "front 907 kg"), "{:#?}", rows(&model));
}

/// The letters of the name are not taken as commands, which would add more, turn the page and save.
#[test]
fn what_is_added_is_open_for_its_name() {
    for (add, of) in [("a", "component"), ("k", "low point"), ("j", "load")] {
        let mut model = truck("harbour-tender", (80, 24));
        press(&mut model, add);
        enter(&mut model, "gas engine");
        let truck = &model.job().vehicle;
        let name = match of {
            "component" => truck.components.last().map(|c| c.name.clone()),
            "low point" => truck.ground.points.last().map(|p| p.name.clone()),
            _ => truck.carried.last().map(|c| c.name.clone()),
        };
        assert_eq!(name.as_deref(), Some("gas engine"), "{of}");
    }
}
