//! The range sheet, and the road as text and data.

use job::{Edit, Field, Job, RoadField, RoadFigure, evaluate};

use crate::{evaluation_json, range_sheet_html};

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

/// The orchard flatbed with everything of the road entered.
fn on_the_road() -> Job {
    let job = job::load(job::example("orchard-flatbed").unwrap().text.as_bytes()).unwrap();
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
    ];
    set(&job, &values)
}

#[test]
fn the_range_sheet_holds_every_entry_with_its_source_and_every_table() {
    let evaluation = evaluate(&on_the_road());
    let html = range_sheet_html(&evaluation, "2026-11-29");
    roxmltree::Document::parse(
        &html
            .replacen("<!DOCTYPE html>", "", 1)
            .replace("<meta charset=\"utf-8\">", ""),
    )
    .expect("its tags are closed");
    let escaped = |text: &str| drawing::svg::escape(text).clone();
    assert!(evaluation.road.entries.len() > 20);
    for entry in &evaluation.road.entries {
        let mark = if entry.is_assumed { "~" } else { "" };
        for part in [
            entry.label.to_owned(),
            format!("{mark}{}", entry.text),
            entry.source.clone(),
        ] {
            assert!(html.contains(&*escaped(&part)), "{part}");
        }
    }
    let tables = evaluation.road.tables();
    assert_eq!(tables.len(), 5);
    for table in &tables {
        assert!(html.contains(&format!("<h2>{}</h2>", table.title)), "{}", table.title);
        for cell in table.rows.iter().flatten() {
            assert!(html.contains(&*escaped(cell)), "{cell}");
        }
    }
    for words in [
        "UDDS, city driving",
        "HWFET",
        "US06",
        "40 CFR Part 86",
        "from memory, check it",
    ] {
        assert!(html.contains(words), "{words}");
    }
    for caution in super::super::road::cautions() {
        assert!(html.contains(&*escaped(caution)), "{caution}");
    }
    let lower = html.to_lowercase();
    assert!(!lower.contains("approved") && !lower.contains(" safe"));
}

#[test]
fn without_a_mass_the_sheet_says_what_to_enter() {
    let evaluation = evaluate(&Job::empty(job::UnitsName::Inch));
    let html = range_sheet_html(&evaluation, "");
    assert!(html.contains("Nothing can be told yet"));
    assert!(html.contains("how far it goes: enter mass on the road"));
}

#[test]
fn the_data_hold_what_the_evaluation_holds() {
    let evaluation = evaluate(&on_the_road());
    let json = &evaluation_json(&evaluation)["road"];
    let driven = evaluation.road.driven.as_ref().unwrap();
    assert_eq!(json["driven"]["mass_kg"], 1_900.0);
    assert_eq!(
        json["driven"]["range"]["winter"]["everyday_m"],
        driven.range.unwrap().winter.everyday_m
    );
    assert_eq!(json["driven"]["drives"].as_array().unwrap().len(), 3);
    assert_eq!(json["gears"]["best"], 4);
    assert_eq!(json["charging"].as_array().unwrap().len(), 4);
    assert_eq!(json["sun"]["winter"]["month"], 12);
    assert_eq!(json["sun"]["isolation_needed"], true);
    assert!(json["sun"]["isolated"].is_null());
    assert_eq!(json["entries"].as_array().unwrap().len(), evaluation.road.entries.len());
}
