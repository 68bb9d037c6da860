//! The program itself: what it prints where, and how it exits.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use rstest::rstest;
use serde_json::{Value, json};

/// A file of that name with these words, in the folder that tests may write to.
fn written(name: &str, words: &str) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    fs::write(&path, words).expect("the folder is for that");
    path
}

fn run(arguments: &[&str], files: &[PathBuf]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_evidence"))
        .args(arguments)
        .args(files)
        .output()
        .expect("the program is built")
}

fn text(bytes: &[u8]) -> &str {
    std::str::from_utf8(bytes).expect("it prints text")
}

/// One check that passes, one of a kind that nobody knows, in a file without tables or topic; and one more that is
/// `class` at 60 V.
fn checks(class: &str) -> String {
    let file = json!({ "checks": [
        { "id": "H1", "kind": "full_overshoot", "source": "a rule", "known_by": "computed",
          "inputs": { "series": 100, "cell_v_max": 4.1, "v_max_controller": 400.0 },
          "expected": { "v_full": 410.0, "over_v": 10.0, "fits": false, "cell_v_stop": 4.0 },
          "tolerance": { "rel": 1e-5 } },
        { "id": "H2", "kind": "horoscope", "inputs": {}, "expected": { "luck": 1.0 } },
        { "id": "H3", "kind": "voltage_class", "inputs": { "v_max_dc": 60.0 },
          "expected": { "voltage_class": class }, "tolerance": { "exact": true } },
    ] });
    file.to_string()
}

#[test]
fn the_last_line_counts_and_all_good_exits_with_0() {
    let output = run(&[], &[written("good.json", &checks("A"))]);
    let out = text(&output.stdout);
    assert_eq!(output.status.code(), Some(0), "{out}");
    assert_eq!(out.lines().last(), Some("evidence: 2 passed, 0 failed, 1 not yet"));
    assert!(out.contains("unknown kind"), "{out}");
    assert_eq!(text(&output.stderr), "");
}

#[test]
fn a_fail_exits_with_1_and_is_told() {
    let output = run(&[], &[written("wrong.json", &checks("B"))]);
    let out = text(&output.stdout);
    assert_eq!(output.status.code(), Some(1), "{out}");
    assert_eq!(out.lines().last(), Some("evidence: 1 passed, 1 failed, 1 not yet"));
    assert!(out.contains("voltage_class: expected \"B\", got \"A\""), "{out}");
}

#[test]
fn json_is_one_list_and_nothing_else() {
    let output = run(&["--json"], &[written("list.json", &checks("A"))]);
    let list: Value = serde_json::from_slice(&output.stdout).unwrap();
    let list = list.as_array().unwrap();
    let told: Vec<(&str, &str)> = list
        .iter()
        .map(|case| (case["id"].as_str().unwrap(), case["verdict"].as_str().unwrap()))
        .collect();
    assert_eq!(told, [("H1", "pass"), ("H2", "not yet"), ("H3", "pass")]);
    for key in [
        "file", "section", "kind", "what", "expected", "got", "source", "known_by", "note",
    ] {
        assert!(list[0].get(key).is_some(), "{key}");
    }
    assert_eq!(list[0]["got"]["cell_v_stop"], 4.0);
}

#[test]
fn json_holds_the_layout_in_the_units_of_the_case() {
    let file = json!({ "instances": [{
        "name": "two cavities", "kind": "multi", "item": [3, 2, 2], "orientations": "all",
        "containers": [{ "size": [5, 4, 4], "obstructions": [] }, { "size": [4, 4, 5], "obstructions": [] }],
        "margin": 1, "gap": 0, "best_known": 2, "upper_bound": 2,
    }] });
    let output = run(&["--json"], &[written("layout.json", &file.to_string())]);
    let list: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(list[0]["verdict"], "pass", "{list:#}");
    // There is one way only to place each.
    let mut placed = list[0]["placements"].as_array().unwrap().clone();
    placed.sort_by_key(|module| module["cavity"].as_u64());
    assert_eq!(
        placed,
        [
            json!({ "cavity": 0, "kind": 0, "lo": [1, 1, 1], "hi": [4, 3, 3] }),
            json!({ "cavity": 1, "kind": 0, "lo": [1, 1, 1], "hi": [3, 3, 4] }),
        ]
    );
}

#[rstest]
#[case::not_there(None, "cannot be read")]
#[case::no_json(Some("{\"checks\": ["), "is no JSON")]
#[case::empty(Some(""), "is no JSON")]
#[case::no_object(Some("[1, 2]"), "is no JSON object")]
#[case::no_checks(Some("{\"read_me\": [\"nothing\"]}"), "holds no checks")]
#[case::misshapen(Some("{\"checks\": 5}"), "checks should be a list")]
fn a_file_that_cannot_be_read_exits_with_2_and_one_message(#[case] words: Option<&str>, #[case] message: &str) {
    let name = message.replace(' ', "-") + if words == Some("") { "-empty" } else { "" };
    let path = words.map_or_else(
        || Path::new(env!("CARGO_TARGET_TMPDIR")).join("nowhere.json"),
        |words| written(&format!("{name}.json"), words),
    );
    // A good file beside it does not hide it.
    let good = written(&format!("{name}-beside.json"), &checks("A"));
    let output = run(&[], &[good, path.clone()]);
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(text(&output.stdout), "");
    let said = text(&output.stderr);
    assert_eq!(said.lines().count(), 1, "{said}");
    assert!(said.contains(message), "{said}");
    assert!(said.contains(path.to_str().unwrap()), "{said}");
}

#[test]
fn a_broken_case_does_not_take_the_others_down() {
    let file = json!({
        "checks": [
            { "id": "B1", "kind": "voltage_class", "inputs": {}, "expected": { "voltage_class": "A" } },
            { "id": "B2" },
            7,
        ],
        "cut_lists": [
            { "id": "B3", "inputs": { "inside": [1, 2], "t": 1, "material": "mild steel", "convention": "A" },
              "expected": {} },
        ],
        "instances": [
            { "name": "B4", "container": [i64::MAX, 9, 9], "item": [i64::MAX, 9, 9], "orientations": "all",
              "margin": -5, "gap": i64::MAX, "best_known": 1, "upper_bound": 1 },
            { "name": "B5", "container": [4, 4, 4], "item": [0, 4, 4], "orientations": "all",
              "margin": 0, "gap": 0, "best_known": 1, "upper_bound": 1 },
        ],
        "gauge": [
            { "id": "G", "inputs": { "system": "MSG steel", "gauge": 10 },
              "expected": { "thickness_in": 0.1345 }, "tolerance": { "abs_in": 5e-5 } },
        ],
    });
    let output = run(&["--json"], &[written("broken.json", &file.to_string())]);
    assert_eq!(output.status.code(), Some(1));
    let list: Value = serde_json::from_slice(&output.stdout).unwrap();
    let verdict = |id: &str| {
        let cases = list.as_array().unwrap();
        let case = cases.iter().find(|case| case["id"] == id);
        case.unwrap_or_else(|| panic!("{id} in {list:#}"))["verdict"].clone()
    };
    assert_eq!(verdict("G"), "pass");
    for id in ["B1", "B3", "B4", "B5"] {
        assert_eq!(verdict(id), "FAIL", "{id}");
    }
    for id in ["B2", "checks 3"] {
        assert_eq!(verdict(id), "not yet", "{id}");
    }
}
