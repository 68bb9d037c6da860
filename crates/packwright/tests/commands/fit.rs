//! The automatic layout.

use insta::assert_snapshot;
use serde_json::Value;

use crate::shop::{Shop, changed, example_text, figures, too_tight};

#[test]
fn fit_shows_the_layout_and_saves_nothing() {
    let shop = Shop::with("orchard-flatbed");
    let text = shop.run(&["fit", "job.json"]).quiet();
    assert!(
        text.starts_with("10 modules, every whole string that the units on hand allow"),
        "{text}"
    );
    assert!(text.contains("left saddle") && text.contains("right saddle"), "{text}");
    assert_eq!(shop.read("job.json"), example_text("orchard-flatbed"));
    assert_eq!(shop.feed(&["fit", "-"], example_text("orchard-flatbed")).quiet(), text);
}

#[test]
fn fit_as_json_keeps_to_the_count() {
    let shop = Shop::with("orchard-flatbed");
    let layout = shop.run(&["fit", "job.json", "--json"]).json();
    let placements = layout["placements"].as_array().unwrap();
    let placed: u64 = placements.iter().map(|p| p["count"].as_u64().unwrap()).sum();
    assert_eq!(layout["count"], placed);
    assert_eq!(layout["upper_bound"], placed);
    assert_eq!(layout["proved"], true);
    // The margin asked for in the job is 1/2 in.
    assert_eq!(layout["margin_mm"], 12.7);
    let boxes: Vec<&Value> = layout["boxes"].as_array().unwrap().iter().map(|b| &b["id"]).collect();
    for placement in placements {
        assert!(boxes.contains(&&placement["box"]), "{placement}");
        assert!(placement["at_mm"].as_array().unwrap().iter().all(Value::is_number));
    }
    for clearance in layout["boxes"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|b| b["clearances"].as_array().unwrap())
    {
        assert!(
            clearance["free_mm"].as_f64() >= layout["margin_mm"].as_f64(),
            "{clearance}"
        );
    }
}

#[test]
fn what_fit_writes_is_what_check_then_reads() {
    let shop = Shop::holding(changed("orchard-flatbed", |job| {
        job["boxes"] = Value::Array(Vec::new());
    }));
    let before = shop.read("job.json");
    let dry = shop.run(&["fit", "job.json", "--json"]).json();
    let ended = shop.run(&["fit", "job.json", "--write", "--json"]);
    assert_eq!(ended.code, Some(0), "{}", ended.err);
    assert!(ended.err.contains("saved in job.json"), "{}", ended.err);
    let mut written = ended.json();
    assert_eq!(written["written"], true);
    written["written"] = false.into();
    assert_eq!(written, dry, "saving changes nothing of the layout");

    let saved = job::load(shop.read("job.json").as_bytes()).unwrap();
    let evaluation = job::evaluate(&saved);
    assert_eq!(written["count"], evaluation.headline.placed);
    assert_eq!(written["boxes"].as_array().unwrap().len(), evaluation.boxes.len());
    for (told, is) in written["boxes"].as_array().unwrap().iter().zip(&evaluation.boxes) {
        assert_eq!(told["id"], is.id.0);
        let around = is.around.as_ref().unwrap();
        for (told, is) in told["clearances"].as_array().unwrap().iter().zip(&around.faces) {
            assert_eq!(told["free_mm"], is.distance.as_mm());
        }
    }
    let checked = shop.run(&["check", "job.json", "--json"]).quiet();
    assert!(checked == figures(&evaluation), "check shows other figures than fit");
    assert_eq!(shop.read("job.json.bak"), before);
    assert_eq!(shop.names(), ["job.json", "job.json.bak"], "the lock is given up");
}

#[test]
fn fit_fills_one_cavity_and_leaves_the_other() {
    let shop = Shop::with("orchard-flatbed");
    let before = job::load(example_text("orchard-flatbed").as_bytes()).unwrap();
    let right = before.cavities.iter().find(|c| c.name == "right saddle").unwrap().id;
    let ended = shop.run(&["fit", "job.json", "--fill", "Left Saddle", "--write"]);
    assert!(matches!(ended.code, Some(0 | 1)), "{}", ended.err);
    let after = job::load(shop.read("job.json").as_bytes()).unwrap();
    let in_right = |job: &job::Job| {
        job.boxes
            .iter()
            .filter(|b| b.cavity == right)
            .cloned()
            .collect::<Vec<_>>()
    };
    assert_eq!(in_right(&after), in_right(&before));
}

#[test]
fn fit_refuses_an_unknown_cavity_with_the_known_ones() {
    let refusal = Shop::with("orchard-flatbed")
        .run(&["fit", "job.json", "--fill", "attic"])
        .refused();
    assert_snapshot!(refusal);
}

#[test]
fn fit_says_what_is_still_needed() {
    let text = changed("orchard-flatbed", |job| {
        job["boxes"] = Value::Array(Vec::new());
        job["cavities"] = Value::Array(Vec::new());
    });
    assert_snapshot!(Shop::holding(text).run(&["fit", "job.json"]).refused());
}

#[test]
fn fit_leaves_the_file_when_nothing_goes_in() {
    let shop = Shop::holding(too_tight());
    let ended = shop.run(&["fit", "job.json", "--write"]);
    assert_eq!(ended.code, Some(1), "{}", ended.err);
    assert!(ended.out.starts_with("0 modules"), "{}", ended.out);
    assert_eq!(shop.read("job.json"), too_tight());
    assert_eq!(shop.names(), ["job.json"]);
}

#[test]
fn fit_does_not_write_to_standard_input() {
    Shop::new().feed(&["fit", "-", "--write"], "").refused();
}

#[test]
fn fit_does_not_write_a_job_that_is_open_elsewhere() {
    let shop = Shop::with("orchard-flatbed");
    let lock = job::store::Lock::take(&shop.path().join("job.json")).unwrap();
    let refusal = shop.run(&["fit", "job.json", "--write"]).refused();
    assert!(refusal.contains("already open"), "{refusal}");
    assert_eq!(shop.read("job.json"), example_text("orchard-flatbed"));
    drop(lock);
}
