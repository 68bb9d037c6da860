//! A box with a step in its underside, from the command line.

use crate::shop::Shop;

/// A job with one welded box over a crossmember.
const STEPPED: &str = include_str!("../../../job/tests/stepped.json");

#[test]
fn the_cut_list_of_a_stepped_box_has_all_its_panels() {
    let shop = Shop::holding(STEPPED);
    let list = shop.run(&["cutlist", "job.json"]);
    assert_eq!(list.code, Some(0), "{}", list.err);
    let only = |word: &str| {
        // The liner has sheets for the same.
        let steel = list.out.lines().filter(|line| !line.contains("liner"));
        let lines: Vec<&str> = steel.filter(|line| line.contains(word)).collect();
        assert_eq!(lines.len(), 1, "{word}: {}", list.out);
        lines[0].to_owned()
    };
    for part in ["raised floor", "riser", "end, front", "end, rear"] {
        assert!(only(part).contains(" 1 "), "{part}");
    }
    // 479 long over the walls, 250 of them 100 higher.
    let side = only("long side");
    assert!(side.contains("less 250.0 x 100.0 mm") && side.contains(" 2 "), "{side}");
    for part in [
        "liner floor",
        "liner raised floor",
        "liner riser",
        "liner long side, less 252.0 x 100.0 mm",
    ] {
        assert!(list.out.contains(part), "{part}: {}", list.out);
    }
    let json = shop.run(&["cutlist", "job.json", "--format", "json"]).json();
    let tables = json["cut"]["tables"].as_array().unwrap();
    let lines = tables.iter().flat_map(|table| table["lines"].as_array().unwrap());
    let notches: Vec<_> = lines.filter(|line| !line["notch_mm"].is_null()).collect();
    let sizes: Vec<&serde_json::Value> = notches.iter().map(|line| &line["notch_mm"]["length_mm"]).collect();
    assert_eq!(sizes, [250.0, 252.0]);
    assert!(notches.iter().all(|line| line["notch_mm"]["at"] == "lower left"));
}

#[test]
fn a_step_that_no_box_can_have_is_refused_with_what_it_may_be() {
    let deep = STEPPED.replace("\"run\": \"250 mm\"", "\"run\": \"600 mm\"");
    let said = Shop::holding(deep).run(&["check", "job.json"]);
    assert_eq!(said.code, Some(1));
    let wanted = "the step runs in 600 mm: it may be above 3 and below";
    assert!(said.out.contains(wanted), "{}", said.out);
    let low = STEPPED.replace("\"at\": \"front\", \"run\"", "\"at\": \"bottom\", \"run\"");
    let said = Shop::holding(low).run(&["check", "job.json"]).refused();
    assert!(said.contains("boxes[0].step.at"), "{said}");
}

#[test]
fn laying_out_everything_anew_would_lose_the_step_so_it_is_refused() {
    let said = Shop::holding(STEPPED).run(&["fit", "job.json"]).refused();
    assert!(said.contains("step in its underside"), "{said}");
}
