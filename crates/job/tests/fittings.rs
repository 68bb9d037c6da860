//! Fittings in the walls of boxes: holes in parts, room taken, and what is refused.

mod common;

use enclosure::Wall;
use geometry::{Axis, Face};
use job::{BoxResult, Edit, Evaluation, Field, Grave, Id, Job, evaluate};
use tape::Length;

fn set(job: &Job, field: Field, text: &str) -> Job {
    let text = text.to_owned();
    job.with(&Edit::Set { field, text }).expect("the edit fits the job")
}

/// The orchard flatbed with a gland in its left box, and the gland's number.
fn with_gland() -> (Job, Id) {
    let job = common::built_in("orchard-flatbed");
    let middle = left(&evaluate(&job)).inside.expect("it wraps modules").size();
    let at = [Axis::Y, Axis::Z].map(|axis| middle[axis].half_down());
    let into = job.boxes[0].id;
    let job = job.with(&Edit::AddFitting { into, at }).expect("there is a box");
    let id = job.boxes[0].fittings[0].id;
    (job, id)
}

fn left(evaluation: &Evaluation) -> &BoxResult {
    &evaluation.boxes[0]
}

#[test]
fn a_gland_is_a_hole_in_its_wall_and_takes_room_on_both_sides() {
    let bare = common::built_in("orchard-flatbed");
    let before = evaluate(&bare);
    let (job, id) = with_gland();
    let job = set(
        &set(&job, Field::FittingWall(id), "left"),
        Field::FittingAlong(id),
        "200 mm",
    );
    let after = evaluate(&job);
    let gland = &left(&after).fittings[0];
    assert_eq!(gland.fault, None);
    let parts = &left(&after).built.as_ref().unwrap().parts;
    let pierced: Vec<_> = parts
        .iter()
        .filter(|p| p.wall == Some(Wall::Left) && !p.role.is_liner())
        .collect();
    assert_eq!(pierced.len(), 1);
    assert_eq!(pierced[0].holes[0].diameter, Length::tenths_mm(405));
    // It stands 60 mm out of the coated wall, 35 mm more than the flange: the box has that much less room to its left.
    let to_left = |e: &Evaluation| left(e).around.as_ref().unwrap().faces[Face::Left.index()].distance;
    assert_eq!(to_left(&after), to_left(&before) - Length::mm(35));
    // 15 mm reach in from the sheet; the liner takes 1.5 of them.
    let inside = gland.inside.unwrap().size();
    assert_eq!(inside.0[1], Length::tenths_mm(135));
    // The lines of the cut list add up to as many pieces as before, the pierced side with a mark of its own.
    let pieces = |e: &Evaluation| e.cut.list.tables.iter().map(|t| t.pieces).sum::<u32>();
    assert_eq!(pieces(&before), pieces(&after));
    let names: Vec<&str> = after
        .cut
        .list
        .tables
        .iter()
        .flat_map(|t| &t.lines)
        .map(|l| l.name.as_str())
        .collect();
    assert!(names.contains(&"long side, left"), "{names:?}");
    assert!(names.contains(&"long side, right"), "{names:?}");
}

#[test]
fn a_fitting_off_its_wall_is_left_out_and_said() {
    let (job, id) = with_gland();
    let evaluation = evaluate(&set(&job, Field::FittingUp(id), "1 mm"));
    let gland = &left(&evaluation).fittings[0];
    assert!(gland.fault.is_some());
    assert_eq!((gland.outside, gland.inside), (None, None));
    assert!(left(&evaluation).built.is_some());
    let found = evaluation
        .findings
        .iter()
        .find(|f| f.words.starts_with("cable gland, front"))
        .unwrap();
    assert_eq!(found.grave, Grave::Stop);
    assert!(found.words.contains("must have its middle"), "{}", found.words);
}

#[test]
fn a_module_in_its_way_is_a_stop() {
    let (job, id) = with_gland();
    // The front of the box is its bay; behind the left wall stand modules.
    let job = set(&job, Field::FittingWall(id), "left");
    let free = evaluate(&set(&job, Field::FittingInward(id), "0 mm"));
    assert!(left(&free).fittings[0].meets.is_empty());
    let deep = evaluate(&set(&job, Field::FittingInward(id), "80 mm"));
    assert!(!left(&deep).fittings[0].meets.is_empty());
    let found = deep.findings.iter().find(|f| f.words.contains("it reaches into M"));
    assert_eq!(found.map(|f| f.grave), Some(Grave::Stop));
}

#[test]
fn fittings_are_kept_in_the_file_and_when_a_layout_is_taken_over_and_can_be_removed() {
    let (job, id) = with_gland();
    let read = job::load(job::to_text(&job).as_bytes()).unwrap();
    assert_eq!(read.boxes[0].fittings, job.boxes[0].fittings);
    let without = job.with(&Edit::RemoveFitting(id)).unwrap();
    assert!(without.boxes[0].fittings.is_empty());
    assert!(without.with(&Edit::RemoveFitting(id)).is_err());
}
