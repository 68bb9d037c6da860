//! Expected values that are not true must not pass.

use std::fs;
use std::path::Path;

use evidence::{Case, Options, Verdict, run_value};
use rstest::rstest;
use serde_json::{Map, Value, json};

fn file(name: &str) -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).with_file_name("cases").join(name);
    let text = fs::read_to_string(path).expect("the checks are in the repository");
    serde_json::from_str(&text).expect("the checks are JSON")
}

fn verdicts(file: &Value) -> Vec<Case> {
    run_value("altered", file, Options::default())
        .expect("there are checks")
        .cases
}

/// Another value of the same sort, further off than any tolerance.
fn altered(value: &Value) -> Value {
    match value {
        Value::Bool(truth) => json!(!truth),
        Value::Number(number) => match number.as_i64() {
            Some(whole) => json!(whole + 1 + whole / 50),
            None => json!(number.as_f64().expect("a float") * 1.05 + 0.1),
        },
        Value::String(text) => json!(format!("{text}?")),
        other => panic!("{other} is no single value"),
    }
}

/// Where each single value within a value is, as JSON pointers.
fn leaves(value: &Value, at: &str, found: &mut Vec<String>) {
    match value {
        Value::Object(keys) => {
            for (key, value) in keys {
                // Names of parts are how they are told apart; the rest is for people.
                let label = key == "part" || key == "note" || key.starts_with("table_");
                if !label {
                    leaves(value, &format!("{at}/{key}"), found);
                }
            }
        }
        Value::Array(items) => {
            for (index, value) in items.iter().enumerate() {
                leaves(value, &format!("{at}/{index}"), found);
            }
        }
        Value::Null => {}
        _ => found.push(at.to_owned()),
    }
}

/// Every single value that a passed check expects is altered in turn; each time the check fails.
#[rstest]
#[case::checks("electrical.json", "checks", 60)]
#[case::rest("ocv.json", "checks", 155)]
#[case::vehicle("vehicle.json", "checks", 250)]
#[case::chance("chance.json", "chance_of_fit", 16)]
#[case::shop("chance.json", "shop_tolerance", 32)]
#[case::gauge("fabrication.json", "gauge", 26)]
#[case::stock("fabrication.json", "stock", 11)]
#[case::sections("fabrication.json", "sections", 6)]
#[case::cut_lists("fabrication.json", "cut_lists", 150)]
#[case::identities("fabrication.json", "identities", 7)]
#[case::glands("boxes.json", "glands", 38)]
#[case::bolts("boxes.json", "bolt_sizes", 41)]
#[case::tools("boxes.json", "tool_room", 12)]
#[case::load_sets("boxes.json", "load_sets", 30)]
#[case::bolt_groups("boxes.json", "bolt_groups", 55)]
#[case::liners("boxes.json", "liners", 75)]
#[case::floor_rails("boxes.json", "floor_rails", 36)]
#[case::joints("boxes.json", "joints", 36)]
#[case::shopping("boxes.json", "electrical_shopping", 38)]
#[case::lifting("boxes.json", "lifting", 28)]
#[case::states("boxes.json", "states", 58)]
fn any_altered_value_fails(#[case] name: &str, #[case] section: &str, #[case] at_least: usize) {
    let mut tried = 0;
    for entry in file(name)[section].as_array().unwrap() {
        let alone = |entry: &Value| {
            let mut file = Map::new();
            file.insert(section.to_owned(), json!([entry]));
            verdicts(&file.into()).remove(0)
        };
        if alone(entry).verdict != Verdict::Pass {
            continue;
        }
        let mut places = Vec::new();
        leaves(&entry["expected"], "", &mut places);
        // A bound that is moved outwards rightly still holds what lies within.
        places.retain(|place| !place.ends_with("_bound_in"));
        for place in places {
            let mut wrong = entry.clone();
            let value = wrong["expected"].pointer_mut(&place).unwrap();
            *value = altered(value);
            let case = alone(&wrong);
            assert_eq!(case.verdict, Verdict::Fail, "{} {place}", case.id);
            let key = place.rsplit('/').find(|part| part.parse::<usize>().is_err());
            assert!(case.note.contains(key.unwrap()), "{place}: {}", case.note);
            tried += 1;
        }
    }
    assert!(tried >= at_least, "only {tried} values altered");
}

#[rstest]
#[case::limit("survey.json", "/critical_values/chi2_two_sided_95/6/1")]
#[case::power("survey.json", "/critical_values/delta0_alpha_0_001_power_0_80")]
#[case::network("survey.json", "/a_published_networks/4/computed/points/86/adjusted/1")]
#[case::network_sd("survey.json", "/a_published_networks/1/computed/points/P/sd_a_priori/0")]
#[case::network_w("survey.json", "/a_published_networks/0/computed/standardised_residuals/2")]
#[case::published_sd("survey.json", "/a_published_networks/2/published/points/Campus/sd_cm/1")]
#[case::published_residual(
    "survey.json",
    "/a_published_networks/0/published/residuals_cm_adjusted_minus_read/4"
)]
#[case::certified("survey.json", "/a_nonlinear_regression_certified/2/certified/parameters/3")]
#[case::certified_sd("survey.json", "/a_nonlinear_regression_certified/0/certified/standard_deviations/1")]
#[case::certified_freedoms("survey.json", "/a_nonlinear_regression_certified/1/certified/degrees_of_freedom")]
#[case::planted_w("survey.json", "/b_synthetic_hexahedra/2/planted_blunder/w_of_planted")]
#[case::located("survey.json", "/b_synthetic_hexahedra/4/planted_blunder/located_by_largest_w")]
#[case::nanometres("survey.json", "/d_tape_notation/cases/0/nanometres")]
#[case::exact("survey.json", "/d_tape_notation/cases/0/nanometres_exact")]
#[case::plus_minus("survey.json", "/d_tape_notation/cases/9/plus_minus_nanometres")]
#[case::accepted("survey.json", "/d_tape_notation/cases/0/accept")]
#[case::refused("survey.json", "/d_tape_notation/cases/49/accept")]
#[case::reason("survey.json", "/d_tape_notation/cases/49/reason")]
#[case::class("survey.json", "/e_tape_accuracy/tape_classes/table/II/a_mm")]
#[case::per_metre("survey.json", "/e_tape_accuracy/tape_classes/table/III/b_mm_per_m")]
#[case::hook("survey.json", "/e_tape_accuracy/tape_classes/table/I/c_mm")]
#[case::limits("survey.json", "/e_tape_accuracy/examples/1/class_II/mpe_mm")]
#[case::sigma(
    "survey.json",
    "/e_tape_accuracy/examples/2/class_III/sigma_mm_from_end_surface_limits"
)]
#[case::budget("survey.json", "/e_tape_accuracy/reading_budget/0/combined_sigma_mm")]
#[case::budget_part("survey.json", "/e_tape_accuracy/reading_budget/0/sigmas_mm/aim_first_end")]
#[case::rectangular("survey.json", "/e_tape_accuracy/rectangular/example/sigma")]
#[case::worst_case("survey.json", "/e_tape_accuracy/stack_up/examples/0/worst_case")]
#[case::rss("survey.json", "/e_tape_accuracy/stack_up/examples/1/rss")]
#[case::metal("survey.json", "/e_tape_accuracy/us_metal_tapes/table_in/0/tolerance_in")]
#[case::metal_feet("survey.json", "/e_tape_accuracy/us_metal_tapes/table_in/4/from_zero_ft")]
#[case::sides("survey.json", "/c_largest_box/cases/4/expected/dims_x_y_z/1")]
#[case::volume("survey.json", "/c_largest_box/cases/0/expected/volume")]
#[case::margin(
    "survey.json",
    "/c_largest_box/cases/1/expected/with_margin/inward_shift_of_every_face"
)]
#[case::sides_with_margin("survey.json", "/c_largest_box/cases/2/expected/with_margin/dims_x_y_z/2")]
#[case::volume_with_margin("survey.json", "/c_largest_box/cases/3/expected/with_margin/volume")]
#[case::warp("survey.json", "/c_largest_box/cases/5/expected/face_warp_between_diagonals/back")]
#[case::corner("survey.json", "/c_largest_box/cases/5/corners/G/0")]
#[case::cell("electrical.json", "/tables/cell_limits/rows/LFP/2")]
#[case::cell_known_by("electrical.json", "/tables/cell_limits/known_by/LFP")]
fn one_altered_value_fails_one_case(#[case] name: &str, #[case] place: &str) {
    let mut file = file(name);
    let before = verdicts(&file);
    let value = file.pointer_mut(place).unwrap();
    *value = altered(value);
    let after = verdicts(&file);
    let changed: Vec<&Case> = before
        .iter()
        .zip(&after)
        .filter(|(before, after)| before.verdict != after.verdict)
        .map(|(_, after)| after)
        .collect();
    assert_eq!(changed.len(), 1, "{changed:#?}");
    assert_eq!(changed[0].verdict, Verdict::Fail);
}

/// What is altered for nothing: notes of what was measured elsewhere, and all but the flagged reading of a case that is
/// compared only once it is left out.
fn is_not_compared(entry: &Value, place: &str) -> bool {
    let expected = &entry["expected"];
    let before = expected["compare_before_removal"] != json!(false);
    let flagged = expected["largest_w"]["flagged_at_3_29"] == json!(true);
    let tied = expected["largest_w"]["tied_indices"].is_array();
    let after_removal = place.starts_with("/after_removing_flagged") || place == "/status";
    let largest = |keys: &[&str]| keys.iter().any(|key| place == format!("/largest_w/{key}"));
    place.starts_with("/pairs_note")
        || (!before && !after_removal && !largest(&["index", "points", "flagged_at_3_29"]))
        || ((!flagged || tied) && largest(&["index", "points"]))
}

/// Redundancy below which what divides by its root is not compared.
fn is_hardly_checked(entry: &Value, place: &str) -> bool {
    let divided = ["/standardised_residuals/", "/minimal_detectable_blunder/"];
    let index = divided
        .iter()
        .find_map(|key| place.strip_prefix(key)?.parse::<usize>().ok());
    let redundancy = index.and_then(|index| entry["expected"]["redundancy_numbers"][index].as_f64());
    redundancy.is_some_and(|redundancy| redundancy < 1e-4)
}

/// The same for cavities out of square, in files of a single one.
#[test]
fn any_altered_figure_of_a_cavity_fails() {
    let whole = file("survey.json");
    let alone = |entry: &Value| {
        let file = json!({ "convention": whole["convention"], "b_synthetic_hexahedra": [entry] });
        verdicts(&file).remove(0)
    };
    let mut tried = 0;
    for entry in whole["b_synthetic_hexahedra"].as_array().unwrap() {
        let mut places = Vec::new();
        leaves(&entry["expected"], "", &mut places);
        places.retain(|place| !is_not_compared(entry, place) && !is_hardly_checked(entry, place));
        for place in places {
            let mut wrong = entry.clone();
            let value = wrong["expected"].pointer_mut(&place).unwrap();
            *value = altered(value);
            let case = alone(&wrong);
            assert_eq!(case.verdict, Verdict::Fail, "{} {place}", case.id);
            tried += 1;
        }
    }
    assert!(tried > 2_000, "only {tried} values altered");
}

/// A nanometre, or just outside the tolerance, is enough.
#[rstest]
#[case::one_nanometre("survey.json", "/d_tape_notation/cases/2/nanometres", json!(1_054_100_001))]
#[case::sigma("survey.json", "/e_tape_accuracy/rectangular/example/sigma", json!(0.866_05))]
#[case::sides("survey.json", "/c_largest_box/cases/5/expected/dims_x_y_z/1", json!(13.7175))]
#[case::volume("survey.json", "/c_largest_box/cases/4/expected/volume", json!(4781.4))]
#[case::least_volume(
    "survey.json",
    "/c_largest_box/cases/5/expected/volume_if_all_four_corner_triple_planes_of_each_face_are_kept",
    json!(5928.4)
)]
#[case::most_volume(
    "survey.json",
    "/c_largest_box/cases/5/expected/volume_upper_limit_both_triangulations",
    json!(5922.0)
)]
#[case::adjusted("survey.json", "/b_synthetic_hexahedra/0/expected/adjusted_distances/AG", json!(45.310_230))]
#[case::standardised("survey.json", "/b_synthetic_hexahedra/1/expected/standardised_residuals/3", json!(0.228_35))]
#[case::energy("electrical.json", "/checks/0/expected/kWh_nominal", json!(43.545_65))]
#[case::gauge("fabrication.json", "/gauge/0/expected/thickness_in", json!(0.134_56))]
fn just_outside_the_tolerance_fails(#[case] name: &str, #[case] place: &str, #[case] expected: Value) {
    let mut file = file(name);
    *file.pointer_mut(place).unwrap() = expected;
    let failed = verdicts(&file)
        .iter()
        .filter(|case| case.verdict == Verdict::Fail)
        .count();
    assert_eq!(failed, 1);
}

/// One small layout case, its best known count and bound as told.
fn layout(best_known: u32, upper_bound: u32) -> Case {
    let file = json!({ "instances": [{
        "name": "row", "kind": "definition", "container": [8, 3, 3], "item": [2, 3, 3],
        "orientations": [[0, 1, 2]], "obstructions": [], "margin": 0, "gap": 1,
        "best_known": best_known, "upper_bound": upper_bound,
    }] });
    verdicts(&file).remove(0)
}

#[rstest]
#[case::as_it_is(3, 3, Verdict::Pass)]
#[case::more_is_said_to_fit(4, 4, Verdict::Fail)]
#[case::less_is_said_to_fit(2, 2, Verdict::Fail)]
#[case::a_record(2, 3, Verdict::Pass)]
fn a_layout_is_held_to_what_is_known(#[case] best_known: u32, #[case] upper_bound: u32, #[case] verdict: Verdict) {
    let case = layout(best_known, upper_bound);
    assert_eq!(case.verdict, verdict, "{}", case.note);
}
