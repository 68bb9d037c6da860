//! Judging answers, right and wrong.

use geometry::fit::{BoundBy, Ended, Placement};
use geometry::{Cuboid, Orientation, Point};
use rstest::rstest;
use tape::Length;

use super::rules::{Hollow, Item};
use super::*;

/// Three modules in a row, of 2 x 1 x 1 in 6 x 1 x 1.
fn instance() -> Instance {
    Instance {
        hollows: vec![Hollow {
            size: [6, 1, 1],
            obstructions: vec![],
        }],
        items: vec![Item {
            size: [2, 1, 1],
            most: None,
        }],
        turns: vec![[0, 1, 2]],
        margin: 0,
        gap: 0,
    }
}

fn answer(places: &[i64], upper_bound: u32) -> Answer {
    let placement = |&x: &i64| Placement {
        cavity: 0,
        in_box: None,
        kind: 0,
        orientation: Orientation::UPRIGHT,
        cuboid: Cuboid::between(
            Point([x, 0, 0].map(Length::from_nm)),
            Point([x + 2, 1, 1].map(Length::from_nm)),
        ),
        count: 1,
    };
    let count = u32::try_from(places.len()).unwrap();
    Answer {
        layouts: vec![Layout {
            placements: places.iter().map(placement).collect(),
            count,
            by_kind: vec![count],
            ..Layout::default()
        }],
        upper_bound,
        proved: count == upper_bound,
        bound_by: BoundBy::Volume,
        ended: Ended::Done,
        work: 0,
    }
}

#[rstest]
#[case::reached_and_proved(answer(&[0, 2, 4], 3), 3, Verdict::Pass, "proved")]
#[case::reached(answer(&[0, 2, 4], 4), 3, Verdict::Pass, "")]
#[case::record(answer(&[0, 2, 4], 4), 2, Verdict::Pass, "new record")]
#[case::short(answer(&[0, 2], 3), 3, Verdict::NotYet, "exact search: got 2 of 3")]
#[case::overlap(answer(&[0, 1, 4], 3), 3, Verdict::Fail, "breaks the rules")]
#[case::overlap_though_short(answer(&[0, 1], 3), 3, Verdict::Fail, "breaks the rules")]
#[case::out_of_the_cavity(answer(&[0, 2, 5], 3), 3, Verdict::Fail, "breaks the rules")]
#[case::bound_too_low(answer(&[0, 2], 2), 3, Verdict::Fail, "at most 2 go in, though 3")]
#[case::above_its_own_bound(answer(&[0, 2, 4], 2), 2, Verdict::Fail, "own bound")]
fn an_answer_is_judged_by_its_layouts_and_its_bound(
    #[case] answer: Answer,
    #[case] best: u32,
    #[case] verdict: Verdict,
    #[case] words: &str,
) {
    let known = Known { best, bound: 4 };
    let (got, note) = judged(&instance(), known, &answer);
    assert_eq!(got, verdict, "{note}");
    assert!(note.contains(words), "{note}");
}

#[test]
fn more_than_can_be_is_a_fail() {
    let known = Known { best: 2, bound: 2 };
    let (verdict, note) = judged(&instance(), known, &answer(&[0, 2, 4], 4));
    assert_eq!(verdict, Verdict::Fail);
    assert_eq!(note, "3 placed, though at most 2 can be");
}

#[test]
fn a_count_that_is_not_that_of_the_placements_is_a_fail() {
    let mut answer = answer(&[0, 2], 3);
    answer.layouts[0].count = 3;
    answer.proved = true;
    let (verdict, note) = judged(&instance(), Known { best: 3, bound: 3 }, &answer);
    assert_eq!(verdict, Verdict::Fail);
    assert!(note.contains("says 3 and places 2"), "{note}");
}

#[test]
fn a_false_proof_is_a_fail() {
    let mut answer = answer(&[0, 2], 3);
    answer.proved = true;
    let (verdict, _) = judged(&instance(), Known { best: 3, bound: 3 }, &answer);
    assert_eq!(verdict, Verdict::Fail);
}

/// The layouts that come with the checks keep the rules: they were made and checked elsewhere.
#[test]
fn layouts_from_outside_keep_the_rules_and_stop_keeping_them_when_moved() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
        .with_file_name("cases")
        .join("packing.json");
    let file: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let mut tried = 0;
    for entry in file["instances"].as_array().unwrap() {
        let Some(rows) = entry["witness"].as_array() else {
            continue;
        };
        let instance = instance::read(Inputs(entry)).unwrap();
        let mut layout: Vec<Placed> = rows.iter().map(witness).collect();
        assert_eq!(json!(layout.len()), entry["best_known"]);
        assert_eq!(rules::breach(&instance, &layout), None, "{}", entry["name"]);
        let twice = layout[0];
        layout.push(twice);
        assert!(rules::breach(&instance, &layout).is_some(), "{}", entry["name"]);
        tried += 1;
    }
    assert!(tried > 0, "no layout comes with the checks");
}

fn witness(row: &Value) -> Placed {
    let index = |value: &Value| usize::try_from(value.as_u64().unwrap()).unwrap();
    Placed {
        cavity: index(&row[0]),
        kind: index(&row[1]),
        lo: crate::inputs::triple(&row[2]).unwrap(),
        hi: crate::inputs::triple(&row[3]).unwrap(),
    }
}
