//! What differs between two jobs, and since the shop got its papers.

mod common;

use common::built_in;
use geometry::{Axis, Point};
use job::changes::{Changes, Kept, NotIssued, changes, issue, next_letter};
use job::{EXAMPLES, Edit, Evaluation, Field, Grave, History, Job, evaluate, load, to_text};
use proptest::prelude::*;
use rstest::rstest;
use serde_json::json;
use tape::Length;

fn set(job: &Job, field: Field, text: &str) -> Job {
    let text = text.to_owned();
    job.with(&Edit::Set { field, text }).expect("the field takes it")
}

fn between(old: &Job, new: &Job) -> Changes {
    changes(old, &evaluate(old), new, &evaluate(new))
}

fn parts(evaluation: &Evaluation) -> usize {
    evaluation.cut.list.tables.iter().map(|table| table.lines.len()).sum()
}

#[test]
fn a_job_does_not_differ_from_itself() {
    for example in EXAMPLES {
        let job = built_in(example.name);
        assert!(between(&job, &job).is_none(), "{}", example.name);
        let again = load(to_text(&job).as_bytes()).unwrap();
        assert!(between(&job, &again).is_none(), "{}", example.name);
    }
}

#[test]
fn a_thicker_wall_is_one_entry_and_differs_in_parts_boxes_mass_and_stock() {
    let old = built_in("orchard-flatbed");
    let new = set(&old, Field::Wall, "5 mm");
    let found = between(&old, &new);
    let entries: Vec<String> = found.entries.iter().map(job::changes::EntryChange::words).collect();
    assert_eq!(entries, ["wall 3.0 mm -> 5 mm"]);
    assert_eq!(found.shop.boxes.len(), old.boxes.len(), "every box grows");
    let (was, is) = (evaluate(&old), evaluate(&new));
    for (change, (was, is)) in found.shop.boxes.iter().zip(was.boxes.iter().zip(&is.boxes)) {
        assert_eq!(change.kept, Kept::Changed);
        let outside = change
            .differences
            .iter()
            .find(|d| d.what == "outside")
            .expect("it grows");
        let told = |b: &job::BoxResult| {
            b.built
                .as_ref()
                .unwrap()
                .overall
                .map(|side| evaluate(&new).up(side))
                .join(" x ")
        };
        assert_eq!((outside.before.clone(), outside.after.clone()), (told(was), told(is)));
        assert!(change.differences.iter().any(|d| d.what == "mass"));
    }
    let walls = found
        .shop
        .boxes
        .iter()
        .flat_map(|b| &b.parts)
        .filter(|p| p.name.contains("side") || p.name.contains("end"));
    for part in walls {
        let from = part
            .differences
            .iter()
            .find(|d| d.what == "from")
            .expect("another sheet");
        assert_eq!(from.words(), "from mild steel 3 mm sheet -> mild steel 5 mm sheet");
    }
    assert!(
        found
            .shop
            .stock
            .iter()
            .any(|d| d.what == "mild steel 5 mm sheet" && d.before.is_empty())
    );
    assert!(found.facts.iter().any(|d| d.what == "mass of boxes and modules"));
    assert!(found.modules.words().is_empty(), "no module moved in its cavity");
}

#[test]
fn larger_screws_are_told_as_holes_of_another_size() {
    let old = built_in("orchard-flatbed");
    let new = set(&old, Field::Screw, "6.5 mm");
    let found = between(&old, &new);
    let holes: Vec<String> = found
        .shop
        .boxes
        .iter()
        .flat_map(|b| &b.parts)
        .flat_map(|part| part.differences.iter().filter(|d| d.what == "holes"))
        .map(|d| d.after.clone())
        .collect();
    assert!(
        !holes.is_empty() && holes.iter().all(|h| h.contains("elsewhere or of another size")),
        "{holes:?}"
    );
}

#[test]
fn modules_that_move_turn_come_and_go_are_counted() {
    let old = built_in("harbour-tender");
    let [first, second, third] = [0, 1, 2].map(|at| old.boxes[0].modules[at].clone());
    let by = Point::along(Axis::Z, Length::mm(1));
    let nudged = old.with(&Edit::NudgeModule { module: first.id, by }).unwrap();
    assert_eq!(between(&old, &nudged).modules.words(), "1 moved");
    let without = nudged.with(&Edit::RemoveModule(second.id)).unwrap();
    let found = between(&old, &without);
    assert_eq!(
        (found.modules.moved, found.modules.removed, found.modules.added),
        (1, 1, 0)
    );
    let back = between(&without, &old);
    assert_eq!(
        (back.modules.moved, back.modules.removed, back.modules.added),
        (1, 0, 1)
    );
    let to = third.stands.orientation().expect("it stands on something");
    assert_eq!(
        between(&old, &old.with(&Edit::Turn { module: third.id, to }).unwrap())
            .modules
            .words(),
        ""
    );
}

#[test]
fn a_box_that_goes_takes_all_its_parts_with_it() {
    let old = built_in("orchard-flatbed");
    let gone = old.boxes[1].id;
    let new = old.with(&Edit::RemoveBox(gone)).unwrap();
    let found = between(&old, &new);
    let change = found.shop.boxes.iter().find(|b| b.id == gone).expect("it is told");
    assert_eq!(change.kept, Kept::Removed);
    let was = evaluate(&old);
    let of_box = was
        .cut
        .list
        .tables
        .iter()
        .flat_map(|t| &t.lines)
        .filter(|line| line.mark.starts_with('B'))
        .count();
    assert_eq!(change.parts.len(), of_box);
    assert!(change.parts.iter().all(|part| part.kept == Kept::Removed));
    let back = between(&new, &old);
    assert_eq!(back.shop.counts()[0], of_box, "and they are new the other way");
}

#[rstest]
#[case::first("", Some("A"))]
#[case::next("A", Some("B"))]
#[case::no_i("H", Some("J"))]
#[case::no_o("N", Some("P"))]
#[case::no_q_or_s("R", Some("T"))]
#[case::after_the_last("Y", Some("AA"))]
#[case::two("AH", Some("AJ"))]
#[case::carried("AY", Some("BA"))]
#[case::number("7", Some("8"))]
#[case::left_out("I", None)]
#[case::small("b", None)]
#[case::words("as built", None)]
#[case::too_large("4294967295", None)]
fn letters_follow_each_other(#[case] letter: &str, #[case] next: Option<&str>) {
    assert_eq!(next_letter(letter).as_deref(), next);
}

fn issued(job: &Job, date: &str) -> Job {
    job.with(&issue(job, &evaluate(job), date, None).expect("there is something to issue"))
        .expect("the edit fits the job")
}

/// The finding on the revision.
fn revision_finding(job: &Job) -> Option<(Grave, String, String)> {
    let findings = evaluate(job).findings;
    let found = findings.into_iter().find(|f| f.name == "revision")?;
    Some((found.grave, found.words, found.fix))
}

#[test]
fn what_changed_since_an_issue_is_told_until_it_is_issued_under_the_next_letter() {
    let job = built_in("orchard-flatbed");
    assert_eq!((evaluate(&job).issued, revision_finding(&job)), (None, None));
    let first = issued(&job, "2026-03-09");
    assert_eq!(first.revision, "A", "the job's letter, since nobody has it yet");
    let since = evaluate(&first).issued.unwrap();
    assert!(since.changed.is_none() && since.same_letter && since.by_it.is_none());
    assert_eq!(revision_finding(&first), None);
    assert_eq!(
        issue(&first, &evaluate(&first), "2026-03-10", None),
        Err(NotIssued::Same {
            revision: "A".to_owned(),
            date: "2026-03-09".to_owned()
        })
    );

    let thicker = set(&first, Field::Lid, "3 mm");
    let since = evaluate(&thicker).issued.unwrap();
    assert_eq!(since.changed, between(&job, &thicker).shop, "as two jobs are compared");
    let (grave, words, fix) = revision_finding(&thicker).expect("papers of one letter must not differ");
    assert_eq!(grave, Grave::Caution);
    assert!(
        words.starts_with("the shop has revision A of 2026-03-09; since then "),
        "{words}"
    );
    assert!(fix.starts_with("issue revision B"), "{fix}");
    let raised = set(&thicker, Field::Revision, "B");
    assert_eq!(revision_finding(&raised).map(|(grave, ..)| grave), Some(Grave::Note));

    for changed in [&thicker, &raised] {
        let second = issued(changed, "2026-03-11");
        assert_eq!(second.revision, "B");
        assert_eq!(revision_finding(&second), None);
        let now = evaluate(&second).issued.unwrap();
        assert!(now.changed.is_none());
        assert_eq!(
            now.by_it,
            Some(since.changed.clone()),
            "what B changed of A is known later"
        );
        assert_eq!(now.earlier, [["A".to_owned(), "2026-03-09".to_owned()]]);
        let back = set(&second, Field::Lid, "5 mm");
        let taken = issue(&back, &evaluate(&back), "", Some("A"));
        assert_eq!(taken, Err(NotIssued::Taken("A".to_owned())));
    }
}

#[test]
fn nothing_is_issued_of_a_job_without_a_box_or_a_letter_that_follows() {
    let empty = Job::empty(job::UnitsName::Inch);
    assert_eq!(issue(&empty, &evaluate(&empty), "", None), Err(NotIssued::Nothing));
    // A file may hold what is refused where it is typed.
    let mut job = built_in("orchard-flatbed");
    "as built".clone_into(&mut job.revision);
    let first = set(&issued(&job, ""), Field::Lid, "3 mm");
    let none = NotIssued::NoNext("as built".to_owned());
    assert_eq!(issue(&first, &evaluate(&first), "", None), Err(none.clone()));
    assert!(none.mend().contains("--revision"));
    let wrong = issue(&first, &evaluate(&first), "", Some("as built 2")).unwrap_err();
    assert!(wrong.mend().contains("type a letter"), "{wrong}: {}", wrong.mend());
    let given = issue(&first, &evaluate(&first), "", Some("b")).unwrap();
    assert_eq!(first.with(&given).unwrap().revision, "B");
}

#[test]
fn an_issue_is_undone_and_kept_in_the_file() {
    let job = built_in("mountain-rescue");
    let mut history = History::new(job.clone());
    history
        .apply(issue(&job, &evaluate(&job), "2026-03-09", None).unwrap())
        .unwrap();
    let kept = load(to_text(history.job()).as_bytes()).unwrap();
    assert_eq!(&kept, history.job());
    assert_eq!(evaluate(&kept), evaluate(history.job()));
    assert_eq!(
        kept.issued[0].boxes.iter().map(|b| b.parts.len()).sum::<usize>(),
        parts(&evaluate(&job))
    );
    assert_eq!(history.undo().as_deref(), Some("issue revision A"));
    assert_eq!(history.job(), &job);
}

#[test]
fn a_file_from_before_issues_loads_and_a_garbled_issue_is_refused() {
    let job = issued(&built_in("orchard-flatbed"), "2026-03-09");
    let mut value: serde_json::Value = serde_json::from_str(&to_text(&job)).unwrap();
    value["issued"][0]["boxes"][0]["parts"][0]["mm"] = json!("1\u{1b}[2J");
    let refused = load(value.to_string().as_bytes()).unwrap_err();
    assert!(refused.to_string().starts_with("issued[0]: "), "{refused}");
    value["issued"][0]["boxes"][0]["parts"][0]["mm"] = json!("1.0 x 2.0");
    value["issued"][0]["boxes"][0]["outside"][0] = json!("-3 mm");
    let refused = load(value.to_string().as_bytes()).unwrap_err();
    assert_eq!(refused.to_string(), "issued[0]: -3 mm is no side of a box");
    // Texts that are empty are not written, and need not be there.
    value["issued"][0] = json!({ "revision": "A" });
    let bare = load(value.to_string().as_bytes()).unwrap();
    let since = evaluate(&bare).issued.unwrap();
    assert_eq!(
        since.changed.counts()[0],
        parts(&evaluate(&bare)),
        "all is new against nothing"
    );
    value.as_object_mut().unwrap().remove("issued");
    assert_eq!(load(value.to_string().as_bytes()).unwrap(), built_in("orchard-flatbed"));
}

/// A setting, and what it may be set to.
const SETTINGS: [(Field, [&str; 3]); 6] = [
    (Field::Wall, ["2 mm", "3 mm", "5 mm"]),
    (Field::Floor, ["2 mm", "3 mm", "4 mm"]),
    (
        Field::Corners,
        [
            "B: walls wrap the floor",
            "C: floor under walls, ends through",
            "D: corner to corner, groove for the weld",
        ],
    ),
    (
        Field::Closing,
        ["flat lid on a flange", "cap with a skirt", "flat lid on the rim"],
    ),
    (Field::Screw, ["5 mm", "6 mm", "8 mm"]),
    (Field::Bay, ["0 mm", "100 mm", "170 mm"]),
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// What differs one way differs the other way round, and what differs not has the same cut list.
    #[test]
    fn differences_are_the_same_both_ways(picks in prop::collection::vec((0..SETTINGS.len(), 0..3_usize), 0..4)) {
        let old = built_in("orchard-flatbed");
        let mut new = old.clone();
        for (which, value) in picks {
            let (field, texts) = SETTINGS[which];
            if let Ok(next) = new.with(&Edit::Set { field, text: texts[value].to_owned() }) {
                new = next;
            }
        }
        let (was, is) = (evaluate(&old), evaluate(&new));
        let (there, back) = (changes(&old, &was, &new, &is), changes(&new, &is, &old, &was));
        let [added, changed, removed] = there.shop.counts();
        prop_assert_eq!(back.shop.counts(), [removed, changed, added]);
        prop_assert_eq!(there.entries.len(), back.entries.len());
        prop_assert_eq!(there.facts.len(), back.facts.len());
        let lines = |e: &Evaluation| e.cut.list.tables.iter().map(|t| t.lines.clone()).collect::<Vec<_>>();
        if there.shop.is_none() {
            prop_assert_eq!(lines(&was), lines(&is));
        }
    }
}

/// What the shop has, and what of it differs in a job made otherwise, in words.
fn since(job: &Job, values: &[(Field, &str)]) -> Vec<String> {
    let issued = issued(job, "2026-05-01");
    let changed = values.iter().fold(issued, |job, &(field, text)| set(&job, field, text));
    let since = evaluate(&changed).issued.expect("it was issued");
    let boxes = since.changed.boxes.iter();
    boxes
        .flat_map(|b| b.differences.iter().map(job::changes::Difference::words))
        .collect()
}

/// The middle of the first that lies by rule, 20 mm on.
fn moved(evaluation: &Evaluation, which: job::PlacesOf) -> String {
    let added = &evaluation.boxes[0].added;
    let (_, places) = added
        .by_rule
        .iter()
        .find(|(of, _)| *of == which)
        .expect("it lies by rule");
    let on = places.iter().enumerate();
    let told = on.map(|(i, &place)| format!("{} mm", (place + Length::mm(if i == 0 { 20 } else { 0 })).as_mm()));
    told.collect::<Vec<_>>().join("; ")
}

#[rstest]
#[case::bracket(
    Field::Brackets,
    "to the web of a rail",
    job::PlacesOf::BracketsLow,
    "bracket down a web at "
)]
#[case::bar(
    Field::HoldDown,
    "bars on lugs at the walls",
    job::PlacesOf::Bars,
    "hold-down bar at "
)]
#[case::divider(Field::Dividers, "between rows", job::PlacesOf::Dividers, "divider at ")]
#[case::stiffener(
    Field::LidStiffened,
    "angles over it",
    job::PlacesOf::Stiffeners,
    "lid stiffener at "
)]
#[case::floor_rail(
    Field::FloorRails,
    "angles across under it",
    job::PlacesOf::FloorRails,
    "floor rail at "
)]
fn what_is_moved_in_a_box_is_told(
    #[case] choice: Field,
    #[case] chosen: &str,
    #[case] which: job::PlacesOf,
    #[case] words: &str,
) {
    let mut job = set(&built_in("orchard-flatbed"), choice, chosen);
    job = set(&job, Field::PartSize(job::PartSize::DividerThickness), "1 mm");
    job = set(&job, Field::Figure(job::Figure::LidStiffeners), "2");
    let places = moved(&evaluate(&job), which);
    let told = since(&job, &[(Field::BoxPlaces(job.boxes[0].id, which), &places)]);
    let found = told.iter().find(|told| told.starts_with(words));
    assert!(found.is_some_and(|found| found.contains(" -> at ")), "{told:?}");
    let kept = told.iter().filter(|told| told.starts_with(words)).count();
    assert_eq!(kept, 1, "the others stay: {told:?}");
}

#[test]
fn how_brackets_reach_and_how_seams_are_welded_is_told() {
    let job = set(
        &built_in("orchard-flatbed"),
        Field::Brackets,
        "down on a rail of your own",
    );
    let told = since(&job, &[(Field::Brackets, "to the web of a rail")]);
    assert!(
        told.iter()
            .any(|told| told.starts_with("bracket down a web none -> at ")),
        "{told:?}"
    );
    assert!(
        told.iter()
            .any(|told| told.starts_with("bracket standing on its foot at ")),
        "{told:?}"
    );
    let told = since(&job, &[(Field::WeldLeg, "4 mm")]);
    // 3 and 4 mm are 0.118 and 0.157 in.
    let seam = "seam, bracket to long side, up both ends of the upright leg lap, fillet, 8 off, leg 0.118\" (3.0 mm), outside, \
                full -> lap, fillet, 8 off, leg 0.157\" (4.0 mm), outside, full";
    assert!(told.iter().any(|told| told == seam), "{told:?}");
    let told = since(&job, &[(Field::WeldSide, "inside")]);
    assert!(
        told.iter()
            .any(|told| told.contains("outside, full -> ") && told.contains("inside, full")),
        "{told:?}"
    );
}

/// A file from before seams and places were noted loads, and is not another revision for that alone.
#[test]
fn papers_from_before_seams_were_noted_still_hold() {
    let mut job = issued(
        &set(&built_in("orchard-flatbed"), Field::Brackets, "to the web of a rail"),
        "2026-05-01",
    );
    let text = to_text(&job);
    assert!(text.contains("\"seams\"") && text.contains("bracket down a web"));
    for battery_box in &mut job.issued[0].boxes {
        (battery_box.seams, battery_box.added, battery_box.made) = (None, None, None);
    }
    let text = to_text(&job);
    assert!(!text.contains("\"seams\"") && !text.contains("bracket down a web"));
    let old = load(text.as_bytes()).unwrap();
    assert!(matches!(
        issue(&old, &evaluate(&old), "", None),
        Err(NotIssued::Same { .. })
    ));
    assert!(evaluate(&old).issued.unwrap().changed.is_none());
}

/// What a drawing tells beside parts: who cuts the same parts still has to know.
#[rstest]
#[case(Field::Gasket, "8 mm", "gasket ")]
#[case(Field::GasketSqueezed, "3.5 mm", "gasket ")]
#[case(Field::ShopClass, "ISO 13920 A", "tolerance ISO 13920-BF -> ISO 13920-AF")]
#[case(Field::Flatness, "ISO 13920 E", "tolerance ISO 13920-BF -> ISO 13920-BE")]
// 0.127 and 0.2 mm are 0.005 and 0.0079 in.
#[case(
    Field::Coating,
    "0.2 mm",
    "coating 0.005\" (0.13 mm) a face -> 0.008\" (0.20 mm) a face"
)]
fn what_no_part_tells_is_told_of_the_box(#[case] field: Field, #[case] text: &str, #[case] words: &str) {
    let mut job = built_in("orchard-flatbed");
    (job.settings.shop_class, job.settings.flatness, job.settings.shop_limits) = (None, None, None);
    job.settings.coating = None;
    let told = since(&job, &[(field, text)]);
    assert!(told.iter().any(|line| line.starts_with(words)), "{told:?}");
}

/// A class that was assumed and is entered as it was is not another for the shop, nor is a gasket.
#[test]
fn what_is_entered_as_it_was_assumed_does_not_differ() {
    let mut job = built_in("orchard-flatbed");
    (job.settings.shop_class, job.settings.flatness, job.settings.shop_limits) = (None, None, None);
    job.design.gasket = None;
    let told = since(
        &job,
        &[
            (Field::ShopClass, "ISO 13920 B"),
            (Field::Flatness, "ISO 13920 F"),
            (Field::Gasket, "6 mm"),
        ],
    );
    assert_eq!(told, Vec::<String>::new());
}

#[test]
fn another_fitting_in_the_same_hole_is_told_by_what_it_is() {
    let job = built_in("orchard-flatbed");
    let into = job.boxes[0].id;
    let job = job
        .with(&Edit::AddFitting {
            into,
            at: [Length::mm(120), Length::mm(60)],
        })
        .expect("there is a box");
    let id = job.boxes[0].fittings.last().expect("it was added").id;
    let job = [(Field::FittingWhat(id), "drain"), (Field::FittingHole(id), "14 mm")]
        .iter()
        .fold(job, |job, &(field, text)| set(&job, field, text));
    let told = since(&job, &[(Field::FittingWhat(id), "breather")]);
    let of = |what: &str| {
        told.iter()
            .find(|line| line.starts_with(what))
            .cloned()
            .unwrap_or_default()
    };
    assert!(of("breather none -> ").ends_with("hole 0.551\" (14.0 mm)"), "{told:?}");
    assert!(of("drain ").ends_with(" -> none"), "{told:?}");
}

/// Screws of another length go through the same holes; heads are asked for with the rivet.
#[test]
fn fasteners_of_another_length_or_head_are_told() {
    let told = since(
        &built_in("orchard-flatbed"),
        &[(Field::Gasket, "14 mm"), (Field::GasketSqueezed, "10 mm")],
    );
    assert!(
        told.iter().any(|line| line.starts_with("lid screws with nuts, M")),
        "{told:?}"
    );
    let framed = set(
        &built_in("orchard-flatbed"),
        Field::Construction,
        "panels in an angle frame",
    );
    let told = since(&framed, &[(Field::RivetHeads, "outside")]);
    assert!(
        told.iter().any(|line| line.starts_with("blind rivets for a hole")),
        "{told:?}"
    );
}
