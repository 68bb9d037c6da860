//! The automatic layout.

use insta::assert_snapshot;
use rstest::rstest;
use serde_json::Value;

use crate::shop::{Shop, changed, checked, example_text, plain_orchard, too_tight};

#[test]
fn fit_shows_the_layout_and_saves_nothing() {
    let orchard = plain_orchard();
    let shop = Shop::holding(&orchard);
    let text = shop.run(&["fit", "job.json"]).quiet();
    assert!(
        text.starts_with("10 modules, every whole string that the units on hand allow"),
        "{text}"
    );
    assert!(text.contains("left saddle") && text.contains("right saddle"), "{text}");
    assert_eq!(shop.read("job.json"), orchard);
    assert_eq!(shop.feed(&["fit", "-"], &orchard).quiet(), text);
}

#[test]
fn fit_as_json_keeps_to_the_count() {
    let shop = Shop::holding(plain_orchard());
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
    let data = shop.run(&["check", "job.json", "--json"]).quiet();
    assert!(data == checked(&saved).2, "check shows other figures than fit");
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

/// Column `n` of the table of layouts, by the name of its line.
fn side_by_side<'a>(text: &'a str, line: &str) -> &'a str {
    let found = text.lines().find(|l| l.trim_start().starts_with(line));
    found.unwrap_or_else(|| panic!("no {line} in\n{text}")).trim_start()[line.len()..].trim()
}

#[test]
fn candidates_stand_side_by_side_with_the_figures_that_check_then_shows() {
    let shop = Shop::with("mountain-rescue");
    let text = shop.run(&["fit", "job.json", "--candidates"]).quiet();
    let data = shop.run(&["fit", "job.json", "--candidates", "--json"]).json();
    let first = &data["candidates"][0];
    assert_eq!(first["layout"], 1);
    assert_eq!(first["count"], data["count"]);
    assert_eq!(first["placements"], data["placements"]);
    let [series, parallel] = ["series", "parallel"].map(|name| first[name].as_u64().unwrap());
    assert!(side_by_side(&text, "series x parallel").starts_with(&format!("{series}s{parallel}p")));
    assert!(side_by_side(&text, "modules").starts_with(&first["count"].to_string()));
    assert!(side_by_side(&text, "strings that cross").starts_with(&first["strings_that_cross"].to_string()));
    let columns = data["candidates"].as_array().unwrap().len();
    for take in 1..=columns {
        let shop = Shop::with("mountain-rescue");
        let taken = take.to_string();
        let ended = shop.run(&["fit", "job.json", "--take", &taken, "--write", "--json"]);
        let candidate = &data["candidates"][take - 1];
        assert_eq!(ended.json()["placements"], candidate["placements"]);
        let checked = job::evaluate(&job::load(shop.read("job.json").as_bytes()).unwrap());
        assert_eq!(checked.headline.placed, candidate["count"]);
        assert_eq!(checked.headline.energy_kwh, candidate["kwh"].as_f64());
        assert_eq!(checked.headline.crossing, candidate["strings_that_cross"]);
        let heaviest = checked.headline.heaviest.unwrap();
        assert_eq!(candidate["heaviest"]["name"], heaviest.name.as_str());
    }
}

#[test]
fn a_wanted_number_is_laid_out_saved_and_undone_by_the_file_before() {
    let shop = Shop::with("mountain-rescue");
    // It goes in, though the drive wants more volts than 12 in series have: that is told as a stop.
    let text = shop.run(&["fit", "job.json", "--wanted", "12s2p"]).out;
    assert!(text.starts_with("wanted 12s2p = 24: all go in\n"), "{text}");
    let ended = shop.run(&["fit", "job.json", "--wanted", "50s2p,12s2p", "--write"]);
    assert!(
        ended.err.contains("take over the layout of 12s2p: saved"),
        "{}",
        ended.err
    );
    let saved = job::load(shop.read("job.json").as_bytes()).unwrap();
    assert_eq!((saved.wanted.series, saved.wanted.parallel), (Some(12), Some(2)));
    assert_eq!(job::evaluate(&saved).headline.placed, 24);
}

#[test]
fn one_box_is_laid_out_by_name() {
    let shop = Shop::with("mountain-rescue");
    let before = job::load(example_text("mountain-rescue").as_bytes()).unwrap();
    let ended = shop.run(&["fit", "job.json", "--box", "BOX C2", "--write"]);
    assert!(matches!(ended.code, Some(0 | 1)), "{}", ended.err);
    let after = job::load(shop.read("job.json").as_bytes()).unwrap();
    assert_eq!(after.boxes[0], before.boxes[0]);
    assert_eq!(after.boxes[1].id, before.boxes[1].id);
    assert_eq!(after.boxes.len(), 2);
}

#[test]
fn what_if_gives_three_tables_and_the_same_as_data() {
    let shop = Shop::with("harbour-tender");
    let text = shop.run(&["fit", "job.json", "--what-if"]).out;
    for heading in [
        "8 go in with the margins asked for; for 16 (2 strings of 8) it would take one of these:",
        "what would be gained by moving a keep-out away",
        "how much too long a reading may be",
    ] {
        assert!(text.contains(heading), "{heading}\n{text}");
    }
    let data = shop.run(&["fit", "job.json", "--what-if", "--json"]).json();
    let rows = data["what_if"]["rows"].as_array().unwrap();
    assert_eq!(
        (&data["what_if"]["now"], &data["what_if"]["wanted"]),
        (&8.into(), &16.into())
    );
    let helps: Vec<bool> = rows.iter().map(|row| row["helps"].as_bool().unwrap()).collect();
    assert!(helps.is_sorted_by_key(|helps| !helps) && helps[0]);
    let by: Vec<f64> = rows.iter().filter_map(|row| row["by_mm"].as_f64()).collect();
    assert!(by.is_sorted());
    // A margin of 10 mm is what keeps the second string out; the line says how much smaller will do.
    let margin = rows.iter().find(|row| row["change"] == "margin").unwrap();
    let smaller = format!("{} mm", margin["to_mm"]);
    let narrower = changed("harbour-tender", |job| job["settings"]["margin"] = smaller.into());
    let then = Shop::holding(narrower).run(&["fit", "job.json", "--json"]).json();
    assert_eq!(
        (&then["count"], &then["count_with_asked_margin"]),
        (&16.into(), &Value::Null)
    );
    assert!(!data["keep_outs"].as_array().unwrap().is_empty());
    let readings = data["readings"].as_array().unwrap();
    assert!(
        readings
            .iter()
            .all(|r| r["until_it_touches"]["standing_still_mm"].is_number())
    );
    // On two threads as on one: the same again.
    assert_eq!(shop.run(&["fit", "job.json", "--what-if"]).out, text);
}

#[test]
fn spreading_keeps_the_modules_and_says_what_limits_it() {
    let shop = Shop::with("mountain-rescue");
    let before = job::load(example_text("mountain-rescue").as_bytes()).unwrap();
    let ended = shop.run(&[
        "fit",
        "job.json",
        "--spread",
        "--fill",
        "C2, behind the axle",
        "--write",
    ]);
    assert!(ended.out.contains("\nlimited by "), "{}", ended.out);
    assert!(
        ended.err.contains("spread the boxes of C2, behind the axle: saved"),
        "{}",
        ended.err
    );
    let after = job::load(shop.read("job.json").as_bytes()).unwrap();
    assert_eq!(after.boxes[0], before.boxes[0]);
    assert_eq!(after.boxes[1].modules, before.boxes[1].modules);
    let data = shop.run(&["fit", "job.json", "--spread", "--json"]).json();
    assert!(data["after_mm"].as_f64() >= data["before_mm"].as_f64());
    assert!(data["placements"].is_array() && data["limited_by"].is_string());
}

#[test]
fn pinned_modules_are_told_in_the_data() {
    let text = changed("orchard-flatbed", |job| {
        job["boxes"][0]["modules"][1]["pinned"] = true.into();
    });
    let data = Shop::holding(text)
        .run(&["fit", "job.json", "--spread", "--json"])
        .json();
    let pinned = data["placements"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|p| p["pinned"] == true);
    assert_eq!(pinned.count(), 1);
}

#[rstest]
#[case::no_count(&["--wanted", "many"])]
#[case::one_count_of_two(&["--wanted", "12s2p,12s0p"])]
#[case::more_than_on_hand(&["--wanted", "50s2p"])]
#[case::no_such_layout(&["--take", "9"])]
#[case::layouts_count_from_one(&["--take", "0"])]
#[case::layouts_below_one(&["--take", "-1"])]
#[case::unknown_box(&["--box", "attic"])]
#[case::no_number_of_steps(&["--budget", "2,000"])]
fn fit_names_the_option_and_how_to_mend_it(#[case] args: &[&str]) {
    let mut all = vec!["fit", "job.json"];
    all.extend(args);
    let refusal = Shop::with("mountain-rescue").run(&all).refused();
    assert_snapshot!(args.join(" ").replace(['-', ' ', ','], "_").trim_matches('_'), refusal);
}

#[rstest]
#[case::two_aims(&["--fill", "x", "--box", "y"])]
#[case::wanted_in_one_cavity(&["--wanted", "12s", "--fill", "x"])]
#[case::spread_lays_nothing_out(&["--spread", "--candidates"])]
#[case::no_steps(&["--budget", "0"])]
fn options_that_exclude_each_other_are_refused(#[case] args: &[&str]) {
    let mut all = vec!["fit", "job.json"];
    all.extend(args);
    let ended = Shop::with("mountain-rescue").run(&all);
    assert_eq!((ended.code, ended.out.as_str()), (Some(2), ""));
}

#[test]
fn the_headline_is_of_the_layout_taken() {
    let shop = Shop::holding(plain_orchard());
    let last = shop.run(&["fit", "job.json", "--take", "3", "--json"]).json();
    let first = shop.run(&["fit", "job.json", "--json"]).json();
    let (count, most) = (last["count"].as_u64().unwrap(), first["count"].as_u64().unwrap());
    assert!(count < most);
    let text = shop.run(&["fit", "job.json", "--take", "3"]).out;
    let said = format!("layout 3 of 3: {count} modules with the margin of 1/2\" asked for; most found {most}");
    assert_eq!(text.lines().next(), Some(said.as_str()));
    assert_eq!(last["words"], said);
    // The second gives some of the margin up.
    let second = shop.run(&["fit", "job.json", "--take", "2", "--json"]).json();
    assert!(second["margin_mm"].as_f64() < first["margin_mm"].as_f64());
    let words = second["words"].as_str().unwrap();
    assert!(
        words.contains("a margin of 1/4\" instead of the 1/2\" asked for"),
        "{words}"
    );
}

#[test]
fn a_budget_may_have_spaces_and_underscores() {
    let shop = Shop::with("mountain-rescue");
    let run = |budget| shop.run(&["fit", "job.json", "--budget", budget, "--json"]).out;
    let plain = run("5000");
    assert!(!plain.is_empty());
    assert_eq!((run("5_000"), run("5 000")), (plain.clone(), plain));
}

#[test]
fn a_mistyped_command_is_suggested() {
    let refusal = Shop::with("mountain-rescue").run(&["chekc", "job.json"]).refused();
    assert_eq!(
        refusal.trim_end(),
        "error: \"chekc\" is no command, and no file of that name is there\n  fix: packwright check"
    );
}

#[test]
fn the_same_budget_gives_the_same_answer() {
    let shop = Shop::with("mountain-rescue");
    let run = || shop.run(&["fit", "job.json", "--budget", "5000", "--json"]).out;
    assert_eq!(run(), run());
}
