//! All files of checks, run through the library.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use evidence::{Case, Options, Report, Verdict, run};
use geometry::fit::Budget;

fn file(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).with_file_name("cases").join(name)
}

/// Layouts with little work each, since tests are built without speed in mind; the program uses the whole budget.
fn quick() -> Options {
    Options {
        budget: Budget { work: 60_000, seed: 1 },
    }
}

fn report(name: &str) -> Report {
    let report = run(&[file(name)], quick()).expect("the checks are in the repository");
    let failed: Vec<&Case> = report
        .cases
        .iter()
        .filter(|case| case.verdict == Verdict::Fail)
        .collect();
    assert!(failed.is_empty(), "{failed:#?}");
    report
}

/// Passed and not yet, by section.
fn by_section(report: &Report) -> BTreeMap<&str, (usize, usize)> {
    let mut sections: BTreeMap<&str, (usize, usize)> = BTreeMap::new();
    for case in &report.cases {
        let (passed, not_yet) = sections.entry(&case.section).or_default();
        match case.verdict {
            Verdict::Pass => *passed += 1,
            Verdict::NotYet => *not_yet += 1,
            Verdict::Fail => unreachable!("looked for before"),
        }
    }
    sections
}

#[test]
fn chance() {
    let report = report("chance.json");
    let sections = by_section(&report);
    assert_eq!(sections["chance_of_fit"], (8, 0));
    assert_eq!(sections["shop_tolerance"], (32, 0));
}

#[test]
fn survey() {
    let report = report("survey.json");
    let sections = by_section(&report);
    assert_eq!(sections["c_largest_box"], (6, 0));
    assert_eq!(sections["critical_values"], (1, 0));
    assert_eq!(sections["a_published_networks"], (6, 0));
    assert_eq!(sections["a_nonlinear_regression_certified"], (3, 0));
    assert_eq!(sections["b_synthetic_hexahedra"], (13, 0));
    assert_eq!(sections["d_tape_notation"], (66, 0));
    assert_eq!(sections["e_tape_accuracy"], (12, 0));
    for case in &report.cases {
        let other_reason = case.section == "d_tape_notation" && !case.note.is_empty();
        assert!(!other_reason, "{}: {}", case.id, case.note);
    }
}

#[test]
fn electrical() {
    let report = report("electrical.json");
    assert_eq!(report.count(Verdict::Pass), report.cases.len());
    let sections = by_section(&report);
    assert_eq!(sections["checks"], (97, 0));
    assert_eq!(sections["tables"], (19, 0));
    assert_eq!(sections["partition_instances"], (5, 0));
    assert_eq!(sections["partition_literature"], (3, 0));
    assert_eq!(sections["wiring_instances"], (4, 0));
}

#[test]
fn volts_at_rest() {
    let report = report("ocv.json");
    assert_eq!(report.count(Verdict::Pass), report.cases.len());
    assert_eq!(report.cases.len(), 156);
}

#[test]
fn fabrication() {
    let report = report("fabrication.json");
    let sections = by_section(&report);
    assert_eq!(sections["gauge"], (14, 0));
    assert_eq!(sections["cut_lists"], (5, 0));
    assert_eq!(sections["identities"], (14, 0));
    assert_eq!(sections["bending"], (14, 0));
    assert_eq!(sections["flat_patterns"], (5, 0));
    assert_eq!(sections["one_d"], (6, 0));
    assert_eq!(sections["two_d"], (10, 0));
    assert_eq!(sections["shop_nesting"], (9, 0));
    assert_eq!(sections["shop_bars"], (3, 0));
    assert_eq!(sections["stock"], (9, 0));
    assert_eq!(sections["sections"], (7, 0));
    assert_eq!(sections["structure"], (20, 0));
    assert_eq!(sections["sealing"], (10, 0));
    assert_eq!(sections["formats"], (7, 0));
}

#[test]
fn boxes() {
    let report = report("boxes.json");
    assert_eq!(report.count(Verdict::Pass), report.cases.len());
    let sections = by_section(&report);
    assert_eq!(sections["bolt_groups"], (11, 0));
    assert_eq!(sections["bolt_sizes"], (22, 0));
    assert_eq!(sections["electrical_shopping"], (7, 0));
    assert_eq!(sections["floor_rails"], (8, 0));
    assert_eq!(sections["glands"], (17, 0));
    assert_eq!(sections["joints"], (10, 0));
    assert_eq!(sections["lifting"], (13, 0));
    assert_eq!(sections["liners"], (5, 0));
    assert_eq!(sections["load_sets"], (9, 0));
    assert_eq!(sections["states"], (5, 0));
    assert_eq!(sections["tool_room"], (8, 0));
}

#[test]
fn vehicle() {
    let report = report("vehicle.json");
    assert_eq!(by_section(&report)["checks"], (56, 0));
    assert_eq!(report.cases.len(), 56);
}

/// The crate brings the drives along; the file tells them as well.
#[test]
fn drives_are_those_of_the_file() {
    let text = std::fs::read_to_string(file("vehicle.json")).unwrap();
    let told: serde_json::Value = serde_json::from_str(&text).unwrap();
    for known in truck::cycles::ALL {
        let key = format!("{}_mph", known.name().to_lowercase());
        let told = told["traces"][&key].as_array().unwrap();
        let speeds = known.cycle().speeds_mps();
        assert_eq!(told.len(), speeds.len(), "{key}");
        for (mph, mps) in told.iter().zip(speeds) {
            let off = mph.as_f64().unwrap() * truck::units::MPS_PER_MPH - mps;
            assert!(off.abs() < 1e-9, "{key}: {off}");
        }
    }
}

#[test]
fn packing() {
    let report = report("packing.json");
    let reached = report.count(Verdict::Pass);
    assert!(reached >= 45, "{reached} of {}", report.cases.len());
    for case in &report.cases {
        let placed = case.placements.as_ref().map(Vec::len);
        let count = case.got["count"].as_u64().map(|n| n.try_into().unwrap());
        assert_eq!(placed, count, "{}", case.id);
        if case.kind == "definition" {
            assert_eq!(case.verdict, Verdict::Pass, "{}", case.id);
        }
    }
}

#[test]
fn nothing_is_left_without_a_word() {
    let names = [
        "survey.json",
        "electrical.json",
        "ocv.json",
        "fabrication.json",
        "boxes.json",
        "vehicle.json",
    ];
    let report = run(&names.map(file), quick()).unwrap();
    for case in &report.cases {
        let told = case.verdict != Verdict::NotYet || !case.note.is_empty();
        assert!(told, "{} does not say what is missing", case.id);
        assert_ne!(case.note, "unknown kind", "{}", case.id);
        assert!(!case.id.is_empty() && !case.kind.is_empty(), "{case:?}");
        let where_from = !case.source.is_empty() || !case.known_by.is_empty();
        assert!(where_from, "{} has no source", case.id);
    }
}
