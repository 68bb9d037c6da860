//! The truck on the road, on the Truck page.

mod common;

use common::{built_in, enter, key, press, rows, screen, shows};
use job::{Edit, Field, Job, RoadField, RoadFigure};
use ratatui::crossterm::event::KeyCode;
use tui::model::Model;
use tui::run::{feed, open_model};
use tui::theme::Theme;

fn set(job: &Job, values: &[(Field, &str)]) -> Job {
    values.iter().fold(job.clone(), |job, (field, text)| {
        let edit = Edit::Set {
            field: *field,
            text: (*text).to_owned(),
        };
        job.with(&edit).expect("the field takes it")
    })
}

const fn figure(figure: RoadFigure) -> Field {
    Field::OfRoad(RoadField::Figure(figure))
}

fn on_the_road(size: (u16, u16)) -> Model {
    let values = [
        (Field::OfRoad(RoadField::Mass), "1900 kg"),
        (figure(RoadFigure::Regen), "40"),
        (Field::OfRoad(RoadField::Tyre), "P215/75R15"),
        (Field::OfRoad(RoadField::Gears), "3.5, 2, 1.4, 1"),
        (figure(RoadFigure::FinalDrive), "3.73"),
        (figure(RoadFigure::BaseRpm), "2500"),
        (figure(RoadFigure::LimitRpm), "6000"),
        (figure(RoadFigure::PanelWatts), "400"),
        (Field::OfRoad(RoadField::CutOut), "yes"),
        (Field::OfRoad(RoadField::Isolated), "yes"),
    ];
    let job = set(&built_in("orchard-flatbed"), &values);
    let mut model = open_model(job, Theme::default(), size);
    feed(&mut model, [key(KeyCode::F(9))]);
    model
}

#[test]
fn g_goes_to_the_road_and_back() {
    let mut model = on_the_road((80, 24));
    assert!(!shows(&model, "range, winter"));
    press(&mut model, "g");
    assert!(shows(&model, "range, winter"));
    assert!(model.truck.cursor > 0);
    press(&mut model, "g");
    assert!(!shows(&model, "range, winter"));
}

#[test]
fn facts_and_picture_are_seen_at_80_by_24() {
    let mut model = on_the_road((80, 24));
    press(&mut model, "g");
    insta::assert_snapshot!("road_80x24", screen(&model).backend());
    assert!(rows(&model).iter().any(|row| row.contains("55 mph =")));
}

#[test]
fn facts_picture_and_entries_are_seen_in_a_wide_window() {
    let mut model = on_the_road((120, 40));
    press(&mut model, "g");
    insta::assert_snapshot!("road_120x40", screen(&model).backend());
}

/// The cursor goes to the mass, a mass in pounds is typed, and the range is there.
#[test]
fn a_mass_typed_gives_a_range() {
    let mut job = built_in("orchard-flatbed");
    job.vehicle = job::Vehicle::default();
    let mut model = open_model(job, Theme::default(), (100, 30));
    feed(&mut model, [key(KeyCode::F(9))]);
    press(&mut model, "g");
    assert!(
        shows(&model, "how far it goes: enter mass on the road"),
        "{:#?}",
        rows(&model)
    );
    let at = tui::pages::rows(&model)
        .iter()
        .position(|row| *row == tui::form::Row::Field(Field::OfRoad(RoadField::Mass)))
        .unwrap();
    // g stands in the middle of what there is to see.
    while model.truck.cursor != at {
        let step = if model.truck.cursor < at {
            KeyCode::Down
        } else {
            KeyCode::Up
        };
        feed(&mut model, [key(step)]);
    }
    feed(&mut model, [key(KeyCode::Enter)]);
    enter(&mut model, "4000 lb");
    assert_eq!(model.job().vehicle.road.mass_kg, Some(job::Grams(1_814_369)));
    let range = model.evaluation.road.driven.as_ref().unwrap().range.unwrap();
    assert!(range.summer.cycle_m > range.winter.cycle_m);
    press(&mut model, "u");
    assert_eq!(model.job().vehicle.road.mass_kg, None);
}
