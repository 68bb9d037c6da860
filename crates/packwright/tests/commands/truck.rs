//! What the boxes do to the truck.

use insta::assert_snapshot;

use crate::shop::{Shop, changed};

#[test]
fn truck_tells_loads_limits_clearance_and_lifting() {
    let shop = Shop::with("orchard-flatbed");
    let text = shop.run(&["truck", "job.json"]);
    assert_eq!((text.code, text.err.as_str()), (Some(0), ""));
    assert_snapshot!("truck_orchard", text.out);
    assert!(text.out.lines().all(|line| line.chars().count() <= 80), "{}", text.out);
    let other = shop.run(&["example", "mountain-rescue", "--to", "other.json"]);
    assert_eq!(other.code, Some(0));
    let other = shop.run(&["truck", "other.json"]);
    assert!(
        other.out.contains("FOR 46 % ON THE REAR AXLE, ONE BOX ALONE MOVES"),
        "{}",
        other.out
    );
}

#[test]
fn truck_prints_all_of_it_as_json() {
    let shop = Shop::with("harbour-tender");
    let ended = shop.run(&["truck", "job.json", "--json"]);
    assert_eq!((ended.code, ended.err.as_str()), (Some(0), ""));
    let data: serde_json::Value = serde_json::from_str(&ended.out).unwrap();
    let axles = &data["vehicle"]["axles"];
    let after = &axles["after"];
    let sum = after["front_kg"].as_f64().unwrap() + after["rear_kg"].as_f64().unwrap();
    assert!((sum - after["total_kg"].as_f64().unwrap()).abs() < 1e-9);
    assert_eq!(axles["laden"].as_array().unwrap().len(), 3);
    assert_eq!(data["vehicle"]["lifts"][0]["loaded_hands"], "hoist or jack");
    let subjects: Vec<&str> = data["findings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|finding| finding["subject"].as_str().unwrap())
        .collect();
    assert!(subjects.contains(&"truck"), "{subjects:?}");
}

#[test]
fn a_truck_over_its_plate_ends_with_one() {
    let job = changed("orchard-flatbed", |job| {
        job["vehicle"]["masses"]["rear_rating_kg"] = 1800.into();
    });
    let ended = Shop::holding(job).run(&["truck", "job.json"]);
    assert_eq!(ended.code, Some(1));
    assert!(ended.out.contains("!! rear axle rating"), "{}", ended.out);
}

/// A bar across under the left saddle, which is open at the bottom alone: told in one line, among the data, and a stop.
#[test]
fn a_box_with_no_way_in_is_told_and_ends_with_one() {
    let open = Shop::with("orchard-flatbed").run(&["truck", "job.json"]);
    assert!(
        open.out.contains("left box        goes in: up from below, straight"),
        "{}",
        open.out
    );
    let job = changed("orchard-flatbed", |job| {
        let cavity = &mut job["cavities"][0];
        cavity["openings"].as_array_mut().unwrap().truncate(1);
        cavity["keep_outs"][0]["name"] = "tow bar".into();
        cavity["keep_outs"][0]["from"] = serde_json::json!(["500 mm", "0 mm", "-60 mm"]);
        cavity["keep_outs"][0]["to"] = serde_json::json!(["540 mm", "430 mm", "0 mm"]);
    });
    let shop = Shop::holding(job);
    let ended = shop.run(&["truck", "job.json"]);
    assert_eq!(ended.code, Some(1));
    let told = ended
        .out
        .split_once("\nleft box        !! no way in")
        .expect(&ended.out)
        .1;
    let told: String = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("tow bar is in the way of its"), "{told}");
    let data = shop.run(&["truck", "job.json", "--json"]).json();
    assert_eq!(data["ways_in"]["boxes"].as_array().map(Vec::len), Some(2));
}
