//! The truck on the road.

use std::fs;

use insta::assert_snapshot;

use crate::shop::Shop;

/// The orchard flatbed with its road entered in the file.
fn on_the_road() -> Shop {
    let shop = Shop::with("orchard-flatbed");
    let path = shop.path().join("job.json");
    let mut job: serde_json::Value = serde_json::from_slice(&fs::read(&path).unwrap()).unwrap();
    job["vehicle"]["road"] = serde_json::json!({
        "mass_kg": 1900,
        "tyre": "P215/75R15",
        "gears": "3.5, 2, 1.4, 1",
        "a_day": "40 mi",
        "cut_out": "yes",
        "isolated": "yes",
        "figures": {
            "regen_percent": 40,
            "final_drive": 3.73,
            "base_rpm": 2500,
            "limit_rpm": 6000,
            "circuit_amps": 15,
            "panel_w": 400,
            "panel_volts": 36,
        },
    });
    fs::write(path, job.to_string()).unwrap();
    shop
}

#[test]
fn truck_tells_range_gears_charging_and_sun() {
    let text = on_the_road().run(&["truck", "job.json"]).quiet();
    let road = &text[text.find("ON THE ROAD").expect("a section of the road")..];
    assert_snapshot!("truck_on_the_road", road);
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
}

#[test]
fn truck_gives_the_road_as_data() {
    let data = on_the_road().run(&["truck", "job.json", "--json"]).json();
    assert_eq!(data["road"]["driven"]["mass_kg"], 1_900.0);
    assert_eq!(data["road"]["gears"]["best"], 4);
    let subjects: Vec<&str> = data["findings"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|f| f["subject"].as_str())
        .collect();
    assert!(subjects.contains(&"road"), "{subjects:?}");
}

#[test]
fn the_range_sheet_is_one_of_the_papers() {
    let shop = on_the_road();
    shop.run(&["papers", "job.json", "--to", "out", "--only", "range-sheet"])
        .quiet();
    let sheet = fs::read_to_string(shop.path().join("out/range-sheet.html")).unwrap();
    assert!(sheet.contains("<h2>motor, revolutions a minute</h2>"));
}

#[test]
fn an_entry_out_of_range_is_refused_by_its_place() {
    let shop = on_the_road();
    let path = shop.path().join("job.json");
    let text = fs::read_to_string(&path).unwrap().replace("P215/75R15", "round");
    fs::write(path, text).unwrap();
    let said = shop.run(&["truck", "job.json"]).refused();
    assert!(said.contains("driven tyres"), "{said}");
}
