//! Which way each box goes in, and what comes off before a module comes out.

use std::fs;

use rstest::rstest;

use crate::shop::{EXAMPLES, Shop};

#[test]
fn every_box_of_the_built_in_jobs_has_its_way() {
    for name in EXAMPLES {
        let shop = Shop::with(name);
        let ended = shop.run(&["way-in", "job.json"]);
        assert!(ended.out.starts_with("ways in: 2 of 2 boxes go in"), "{}", ended.out);
        let data = shop.run(&["way-in", "job.json", "--json"]).json();
        let boxes = data["ways_in"]["boxes"].as_array().unwrap();
        assert!(
            boxes.iter().all(|b| b["goes"] == true && b["way"]["steps"].is_array()),
            "{name}"
        );
        assert_eq!(data["ways_in"]["order"].as_array().map(Vec::len), Some(2));
        assert!(data["take_out"].is_null());
    }
}

#[test]
fn the_report_of_the_first_example() {
    let ended = Shop::with("orchard-flatbed").run(&["way-in", "job.json"]);
    assert_eq!(ended.code, Some(0), "{}", ended.err);
    insta::assert_snapshot!("way_in_orchard", ended.out);
}

#[test]
fn one_box_alone_is_told() {
    let shop = Shop::with("harbour-tender");
    let ended = shop.run(&["way-in", "job.json", "--box", "right box"]);
    assert!(
        ended.out.contains("right box, ") && !ended.out.contains("left box, 1"),
        "{}",
        ended.out
    );
    // The other box is named in the order alone: neither its room on the way nor how the bed passes it is told.
    let lines = ended.out.lines().filter(|line| line.contains("left box"));
    assert!(
        lines.clone().all(|line| line.contains("in this order")),
        "{}",
        ended.out
    );
    assert!(ended.out.contains("tightest on the way: "), "{}", ended.out);
    let data = shop.run(&["way-in", "job.json", "--box", "right box", "--json"]).json();
    assert_eq!(data["ways_in"]["boxes"].as_array().map(Vec::len), Some(1));
    assert!(data["bed_sweep"].is_null(), "nobody entered a bed");
}

#[test]
fn what_comes_off_before_a_module_is_told_in_order() {
    let shop = Shop::with("orchard-flatbed");
    let told = shop.run(&["way-in", "job.json", "--take-out", "14"]);
    assert!(
        told.out.starts_with("to take out M14 in left box: 18.0 kg"),
        "{}",
        told.out
    );
    let places: Vec<usize> = [
        "service disconnect",
        "take left box down",
        "lid off",
        "link",
        "lift M14",
    ]
    .iter()
    .map(|word| told.out.find(word).unwrap_or_else(|| panic!("{word}: {}", told.out)))
    .collect();
    assert!(places.is_sorted(), "{}", told.out);
    let data = shop.run(&["way-in", "job.json", "--take-out", "m14", "--json"]).json();
    assert_eq!(data["take_out"]["kg"], 18.0);
    assert_eq!(data["take_out"]["lid_opens_in_place"], false);
    assert_eq!(data["take_out"]["boxes_out"][0]["box"], "left box");
    assert_eq!(data["take_out"]["boxes_out"][0]["drawn_out_from_under"], true);
    assert_eq!(data["take_out"]["boxes_out"][0]["through"], "bottom");
    assert_eq!(data["take_out"]["bed"], serde_json::Value::Null);
    assert!(
        told.out.contains("draw left box out from under the truck"),
        "{}",
        told.out
    );
    // The module over the rim, and what the roof leaves: told with what is missing.
    let barred = &data["take_out"]["barred_in_place"][1];
    let [needs, has] = ["needs_mm", "has_mm"].map(|key| barred[key].as_f64().unwrap());
    assert_eq!(
        (barred["part"].as_str(), barred["by"].as_str()),
        (Some("M14"), Some("cavity roof"))
    );
    assert!(
        needs > has && barred["words"].as_str().unwrap().contains("too little"),
        "{barred}"
    );
}

#[test]
fn each_box_is_told_of_empty_half_loaded_and_loaded() {
    let shop = Shop::holding(include_str!("../../../job/tests/stepped.json"));
    let data = shop.run(&["way-in", "job.json", "--json"]).json();
    let states = data["ways_in"]["boxes"][0]["states"].as_array().unwrap();
    let told: Vec<_> = states
        .iter()
        .map(|s| (s["state"].as_str(), s["lifted_by"].as_str(), s["goes"] == true))
        .collect();
    assert_eq!(
        told,
        [
            (Some("empty"), Some("one person"), true),
            (Some("half"), Some("two persons"), true),
            (Some("loaded"), Some("hoist or jack"), true),
        ]
    );
    assert_eq!(states[1]["modules_in_place"], serde_json::json!(["M6"]));
    assert!(
        data["ways_in"]["motions"]
            .as_str()
            .unwrap()
            .contains("not turned in plan")
    );
}

#[rstest]
#[case::no_box(&["--box", "attic"], "--box: \"attic\"", "\"left box\", \"right box\"")]
#[case::no_module(&["--take-out", "999"], "--take-out: \"999\"", "M13 to M17, M19 to M23")]
#[case::no_work(&["--work", "0"], "--work: \"0\" is no number of millions of steps", "1 to 10 000 is allowed")]
fn wrong_names_are_refused_with_what_there_is(#[case] args: &[&str], #[case] given: &str, #[case] allowed: &str) {
    let shop = Shop::with("orchard-flatbed");
    let ended = shop.run(&[&["way-in", "job.json"], args].concat());
    assert_eq!(ended.code, Some(2));
    assert!(ended.out.is_empty());
    assert!(
        ended.err.contains(given) && ended.err.contains(allowed),
        "{}",
        ended.err
    );
}

#[test]
fn a_box_with_no_way_ends_with_a_stop_and_says_what_is_in_it() {
    let shop = barred();
    let ended = shop.run(&["way-in", "job.json"]);
    assert_eq!(ended.code, Some(1), "{}", ended.err);
    assert!(ended.out.contains("tow bar is in the way of its"), "{}", ended.out);
    assert!(ended.out.contains("fix: take tow bar out of the way"), "{}", ended.out);
}

/// A job of two boxes, from the one built in: the cavity of the first is open at the bottom alone, and a bar lies across it
/// under the middle of the box.
fn barred() -> Shop {
    let shop = Shop::with("orchard-flatbed");
    let path = shop.path().join("job.json");
    let mut job: serde_json::Value = serde_json::from_str(&fs::read_to_string(&path).unwrap()).unwrap();
    job["cavities"][0]["openings"] = serde_json::json!([{ "face": "bottom" }]);
    job["cavities"][0]["keep_outs"]
        .as_array_mut()
        .unwrap()
        .push(serde_json::json!({
            "id": 9_001, "name": "tow bar", "from": ["500 mm", "0 mm", "-60 mm"], "to": ["540 mm", "430 mm", "0 mm"],
        }));
    fs::write(path, job.to_string()).unwrap();
    shop
}

#[rstest]
#[case::everything(&[], 1)]
#[case::the_barred_box(&["--box", "left box"], 1)]
#[case::the_other_box(&["--box", "right box"], 0)]
#[case::a_module_of_the_other(&["--take-out", "23"], 0)]
fn the_end_is_about_what_was_asked(#[case] args: &[&str], #[case] code: i32) {
    let ended = barred().run(&[&["way-in", "job.json"], args].concat());
    assert_eq!(ended.code, Some(code), "{}{}", ended.out, ended.err);
}

#[test]
fn a_box_with_no_way_is_a_stop_of_check_and_fit_says_what_it_did_not_look_at() {
    let shop = barred();
    let ended = shop.run(&["check", "job.json"]);
    assert_eq!(ended.code, Some(1), "{}", ended.out);
    assert!(ended.out.contains("1 stop"), "{}", ended.out);
    assert!(ended.out.contains("left box: no way in"), "{}", ended.out);
    assert!(
        ended.out.contains("ways in: 1 of 2 boxes go in: right box"),
        "{}",
        ended.out
    );
    let data = shop.run(&["check", "job.json", "--json"]).json();
    let finding = &data["findings"][0];
    assert!(
        finding["fix"].as_str().unwrap().contains("take tow bar out of the way"),
        "{finding}"
    );
    assert_eq!(data["ways_in"]["boxes"][0]["goes"], false);
    let ended = shop.run(&["fit", "job.json", "--write"]);
    assert!(
        ended.err.contains("ways in not looked at: packwright way-in job.json"),
        "{}",
        ended.err
    );
}
