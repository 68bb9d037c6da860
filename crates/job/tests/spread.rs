//! Moving apart what is laid out: whatever reaches out of the boxes or turns with the bed, no stop comes of it.

mod common;

use geometry::Face;
use job::layout::{Which, spread};
use job::{
    BracketsName, Edit, Evaluation, Field, FittingName, FloorRailsName, Grave, Id, Job, Len, PartSize, WallFitting,
    WallName, evaluate,
};
use proptest::prelude::*;
use tape::{Length, Units};

fn mm(n: i64) -> Len {
    Len::exactly(Length::mm(n), Units::Millimetre)
}

/// Fittings in two walls of every box, standing out so far, each so far along and up.
fn with_fittings(mut job: Job, out: [i64; 2], at: [i64; 2]) -> Job {
    let mut id = 50_000;
    for battery_box in &mut job.boxes {
        for ((what, wall), out) in [
            (FittingName::Gland, WallName::Front),
            (FittingName::Breather, WallName::Left),
        ]
        .into_iter()
        .zip(out)
        {
            id += 1;
            battery_box.fittings.push(WallFitting {
                id: Id(id),
                what,
                wall,
                along: mm(at[0]),
                up: mm(at[1]),
                hole: Some(mm(16)),
                across: Some(mm(22)),
                out: Some(mm(out)),
                inward: Some(mm(1)),
            });
        }
    }
    job
}

/// What each stop is of, with its words but for the figures in them.
fn stops(evaluation: &Evaluation) -> Vec<(String, String)> {
    let stops = evaluation.findings.iter().filter(|f| f.grave == Grave::Stop);
    let bare = |words: &str| words.chars().filter(|c| c.is_alphabetic()).collect();
    let mut found: Vec<(String, String)> = stops.map(|f| (f.name.clone(), bare(&f.words))).collect();
    found.sort();
    found
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn spreading_gives_no_new_stop(
        example in 0..3_usize,
        out in prop::array::uniform2(5..60_i64),
        at in prop::array::uniform2(20..140_i64),
        by in prop::array::uniform2(-15..15_i64),
        carried in prop::sample::select(vec![None, Some(BracketsName::Web), Some(BracketsName::OwnRail)]),
        what in 0..3_u8,
    ) {
        let name = ["orchard-flatbed", "harbour-tender", "mountain-rescue"][example];
        let mut job = with_fittings(common::built_in(name), out, at);
        job.design.added.brackets = carried;
        for (battery_box, axis) in job.boxes.iter_mut().zip([0, 1].into_iter().cycle()) {
            let moved = battery_box.at[axis].value() + Length::mm(by[axis]);
            battery_box.at[axis] = Len::exactly(moved, Units::Millimetre);
        }
        let before = evaluate(&job);
        let which = match what {
            0 => Which::AllBoxes,
            1 => Which::Boxes(job.cavities[0].id),
            _ => Which::Modules(job.boxes[0].id),
        };
        if let Ok(spreading) = spread(&job, &before, which) {
            let after = evaluate(&job.with(&spreading.edit).expect("it fits the job"));
            let had = stops(&before);
            for stop in stops(&after) {
                let count = |list: &[(String, String)]| list.iter().filter(|s| **s == stop).count();
                prop_assert!(count(&stops(&after)) <= count(&had), "{stop:?}; before {had:?}");
            }
            prop_assert!(spreading.after >= spreading.before);
        }
    }
}

/// A gland that stands out to the wall of the cavity and no farther: moving its box there would put it into the wall.
#[test]
fn a_fitting_keeps_its_room_when_boxes_are_moved_apart() {
    let mut fitted = 0;
    for name in ["orchard-flatbed", "harbour-tender", "mountain-rescue"] {
        let job = with_fittings(common::built_in(name), [8, 8], [100, 60]);
        let before = evaluate(&job);
        let spreading = spread(&job, &before, Which::AllBoxes).expect("boxes are laid out");
        let after = evaluate(&job.with(&spreading.edit).expect("it fits the job"));
        for battery_box in &after.boxes {
            let space = after
                .cavity(battery_box.cavity)
                .and_then(|c| c.usable)
                .expect("it is taped");
            for outside in battery_box.fittings.iter().filter_map(|f| f.outside) {
                let was = before.battery_box(battery_box.id).expect("it is there");
                let stood_free = was
                    .fittings
                    .iter()
                    .filter_map(|f| f.outside)
                    .all(|o| space.contains(&o));
                assert!(!stood_free || space.contains(&outside), "{name}, {}", battery_box.name);
                fitted += 1;
            }
        }
    }
    assert!(fitted > 0);
}

/// Rails under the floor are the lowest of a box: where they stand on the floor of its cavity, the box goes up.
#[test]
fn a_box_whose_rails_are_too_low_goes_up() {
    let mut job = common::built_in("harbour-tender");
    job.design.added.floor_rails = Some(FloorRailsName::Across);
    for (size, text) in [
        (PartSize::FloorRailLeg, "12 mm"),
        (PartSize::FloorRailThickness, "2 mm"),
    ] {
        let (field, text) = (Field::PartSize(size), text.to_owned());
        job = job.with(&Edit::Set { field, text }).expect("it fits the job");
    }
    let bottom = |evaluation: &Evaluation| {
        let around = evaluation.boxes[0].around.as_ref().expect("it stands in a cavity");
        [Face::Bottom, Face::Top].map(|face| around.faces[face.index()].sure())
    };
    let [under, over] = bottom(&evaluate(&job));
    let at = job.boxes[0].at[2].value() - under;
    job.boxes[0].at[2] = Len::exactly(at, Units::Millimetre);
    let before = evaluate(&job);
    assert!(before.boxes[0].added.floor_rails.is_some());
    assert_eq!(bottom(&before), [Length::ZERO, over + under]);
    let spreading = spread(&job, &before, Which::AllBoxes).expect("boxes are laid out");
    assert!(spreading.helps(), "{}", spreading.words);
    let [low, high] = bottom(&evaluate(&job.with(&spreading.edit).expect("it fits the job")));
    assert!((low - high).abs() <= Length::mm(1), "{low:?} {high:?}");
}

/// A box with a step is not moved, and where others are, that is told behind what limits them.
#[test]
fn a_box_with_a_step_stays_and_that_is_told() {
    let mut job = job::load(include_str!("stepped.json").as_bytes()).expect("a job that is whole");
    let stepped = job.boxes[0].clone();
    assert!(stepped.step.is_some());
    let mut cavity = job.cavities[0].clone();
    cavity.id = Id(70_000);
    cavity.name = "the other".to_owned();
    let mut plain = stepped.clone();
    (plain.id, plain.cavity, plain.step) = (Id(70_001), cavity.id, None);
    plain.name = "plain".to_owned();
    plain.modules.truncate(1);
    plain.modules[0].id = Id(70_002);
    plain.fittings.clear();
    for thing in &mut cavity.keep_outs {
        thing.id = Id(thing.id.0 + 71_000);
    }
    job.cavities.push(cavity);
    job.boxes.push(plain);
    let evaluation = evaluate(&job);
    let all = spread(&job, &evaluation, Which::AllBoxes).expect("one of them is moved");
    let told = format!(
        "; {} has a step in its underside, so it stays as it stands",
        stepped.name
    );
    assert!(all.words.contains(&told), "{}", all.words);
    let other = spread(&job, &evaluation, Which::Boxes(Id(70_000))).expect("it has no step");
    assert!(!other.words.contains("step"), "{}", other.words);
}
