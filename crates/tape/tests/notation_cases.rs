//! The check values for tape notation, case by case.

use serde_json::Value;
use tape::{Allow, Reason, Units, notation};

fn part_d() -> Value {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/cases/survey.json");
    let text = std::fs::read_to_string(path).expect("the check values are there");
    serde_json::from_str::<Value>(&text).expect("the check values are JSON")["d_tape_notation"].take()
}

/// What reading the text of `case` gives, if it is not what is stated.
fn disagreement(case: &Value) -> Option<String> {
    let units = match case["session_unit"].as_str() {
        Some("in") => Units::Inch,
        Some("mm") => Units::Millimetre,
        other => panic!("unknown session unit {other:?}"),
    };
    let got = notation::read(case["text"].as_str().expect("a text"), units, Allow::AboveZero);
    let agrees = match &got {
        Ok(written) => {
            case["accept"] == true
                && case["nanometres"] == written.value().nm()
                && case["nanometres_exact"] == written.exact()
                && case["plus_minus_nanometres"].as_i64() == written.plus_minus().map(tape::Length::nm)
        }
        Err(error) => case["accept"] == false && case["reason"] == error.reason.id(),
    };
    (!agrees).then(|| format!("{case}: got {got:?}"))
}

#[test]
fn every_case_is_read_or_refused_as_stated() {
    let part = part_d();
    let cases = part["cases"].as_array().unwrap();
    assert_eq!(cases.len(), 66);
    let wrong: Vec<String> = cases.iter().filter_map(disagreement).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_reasons_are_the_stated_ones() {
    let part = part_d();
    let mut stated: Vec<&String> = part["reasons"].as_object().unwrap().keys().collect();
    let mut ours: Vec<&str> = Reason::ALL.iter().map(|reason| reason.id()).collect();
    stated.sort_unstable();
    ours.sort_unstable();
    assert_eq!(ours, stated);
}
