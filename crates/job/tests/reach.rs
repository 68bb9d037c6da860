//! Whether a lid's screws can be reached with the box in its place.

mod common;

use geometry::{Axis, Face};
use job::{Closing, Edit, Evaluation, Field, Grave, Job, LidReach, NoRoom, PartSize, ToolAt, evaluate};
use rstest::rstest;
use tape::Length;

fn orchard() -> Job {
    common::built_in("orchard-flatbed")
}

fn reach(evaluation: &Evaluation) -> &LidReach {
    evaluation.boxes[0].reach.as_ref().expect("its lid is screwed")
}

/// One keep-out in the first cavity, at these places, in millimetres from the cavity's corner.
fn with_block(job: &Job, from: [i64; 3], to: [i64; 3]) -> Job {
    let mut job = job.clone();
    let cavity = &mut job.cavities[0];
    let mut block = orchard().cavities[0].keep_outs[0].clone();
    block.id = job::Id(9_000);
    "pipe".clone_into(&mut block.name);
    let len = |mm: i64| job::Len::exactly(Length::mm(mm), tape::Units::Millimetre);
    (block.from, block.to) = (from.map(len), to.map(len));
    cavity.keep_outs.push(block);
    job
}

/// A pipe over the whole front edge of the lid blocks the screws of that edge, and no others.
#[test]
fn what_stands_over_an_edge_is_counted_screw_by_screw() {
    let mut bare = orchard();
    bare.cavities[0].keep_outs.clear();
    let evaluation = evaluate(&bare);
    let built = evaluation.boxes[0].built.as_ref().unwrap();
    let pattern = built.lid_holes.unwrap();
    assert_eq!(reach(&evaluation).screws, pattern.count);
    assert!(reach(&evaluation).over.is_empty(), "{:?}", reach(&evaluation).over);
    let as_taped = evaluate(&orchard());
    assert_eq!(reach(&as_taped).over, [("bed bolt, front".to_owned(), 1)]);

    let body = evaluation.boxes[0].body.unwrap();
    let mm = |length: Length| length.nm() / 1_000_000;
    let (lo, hi) = (body.lo(), body.hi());
    // The front row of holes lies half a flange, 12.5 mm, before the body.
    let front = mm(lo[Axis::X]) - 12;
    let over = mm(hi[Axis::Z]) + 20;
    let from = [front - 2, mm(lo[Axis::Y]) - 60, over];
    let to = [front + 2, mm(hi[Axis::Y]) + 60, over + 10];
    let blocked = with_block(&bare, from, to);
    let evaluation = evaluate(&blocked);
    let row = pattern.intervals_short + 1;
    assert_eq!(reach(&evaluation).over, [("pipe".to_owned(), row)]);
    let told = evaluation.findings.iter().find(|f| f.words.contains("spanner over"));
    let told = told.expect("it is told");
    assert_eq!(told.grave, Grave::Caution);
    let words = format!("over {row} of the {} screws", pattern.count);
    assert!(
        told.words.contains(&words) && told.words.contains("pipe"),
        "{}",
        told.words
    );

    // 60 mm over the lid a socket and its ratchet are done; leaning walls make the block a little larger than told.
    let high = |z: i64| [z, z + 10];
    let [bottom, top] = high(mm(hi[Axis::Z]) + 65);
    let above = with_block(&bare, [from[0], from[1], bottom], [to[0], to[1], top]);
    assert_eq!(reach(&evaluate(&above)).over, []);
}

/// Clamps without room at several walls are one finding of their box: it names each wall, with how many stand there.
#[test]
fn clamps_at_several_walls_are_told_once_with_every_wall() {
    let mut job = orchard();
    job.design.closing = Some(Closing::Cap);
    job.design.cap_held = Some(job::CapHeldName::Toggles);
    let evaluation = evaluate(&job);
    for battery_box in &evaluation.boxes {
        let over = &battery_box.reach.as_ref().expect("it has clamps").over;
        assert!(over.len() > 1, "{over:?}");
        let told = evaluation.findings.iter().filter(|f| {
            let is_of_it = f.subject == job::Subject::Box(battery_box.id);
            is_of_it && f.words.starts_with("no room for a hand beside")
        });
        let told: Vec<_> = told.map(|f| f.words.as_str()).collect();
        let each: Vec<String> = over.iter().map(|(name, count)| format!("{name} at {count}")).collect();
        let all: u32 = over.iter().map(|(_, count)| count).sum();
        let of = battery_box.reach.as_ref().map_or(0, |reach| reach.screws);
        let words = format!(
            "no room for a hand beside {all} of the {of} toggle clamps of its lid: {}",
            each.join(", ")
        );
        assert_eq!(told, [words]);
    }
}

#[test]
fn nuts_under_a_flange_want_a_hand_beside_it() {
    let evaluation = evaluate(&orchard());
    let beside = &reach(&evaluation).beside;
    let around = evaluation.boxes[0].around.as_ref().unwrap();
    for face in [Face::Front, Face::Rear, Face::Left, Face::Right] {
        let room = around.faces[face.index()].sure();
        assert_eq!(beside.contains(&(face, room)), room < LidReach::fingers());
    }
    assert!(!beside.is_empty(), "there is less than an inch beside this box");
    let notes = evaluation.findings.iter().filter(|f| f.words.contains("nuts under it"));
    assert_eq!(notes.count(), 1, "one for all boxes");
}

#[rstest]
#[case(Closing::Cap)]
#[case(Closing::Flat)]
fn a_lid_without_screws_has_none_to_reach(#[case] closing: Closing) {
    let mut job = orchard();
    job.design.closing = Some(closing);
    job.design.cap_held = Some(job::CapHeldName::Nothing);
    let evaluation = evaluate(&job);
    assert!(evaluation.boxes.iter().all(|b| b.reach.is_none()));
    assert!(!evaluation.findings.iter().any(|f| f.words.contains("nuts under it")));
}

fn set(job: &Job, field: Field, text: &str) -> Job {
    let text = text.to_owned();
    job.with(&Edit::Set { field, text }).expect("the edit fits the job")
}

fn no_room(evaluation: &Evaluation, at: ToolAt) -> Vec<&NoRoom> {
    evaluation.boxes[0]
        .tools
        .iter()
        .filter(|no_room| no_room.at == at)
        .collect()
}

/// Rods keep far enough off the wall for a ring spanner. In a lug of 20 mm a nut of M8 stands 8.5 mm from the upright leg,
/// and a ring spanner for it is 20.15 mm wide: every nut is too near.
#[test]
fn nuts_in_narrow_lugs_stand_too_near_for_a_ring_spanner_and_those_of_rods_and_wide_lugs_do_not() {
    let on_rods = set(&orchard(), Field::HoldDown, "bars on rods from the floor");
    assert!(no_room(&evaluate(&on_rods), ToolAt::HoldDownNut).is_empty());
    let narrow = set(&orchard(), Field::HoldDown, "bars on lugs at the walls");
    let narrow = set(&narrow, Field::PartSize(PartSize::BarThread), "8 mm");
    let narrow = set(&narrow, Field::PartSize(PartSize::LugGap), "0");
    let narrow = evaluate(&set(&narrow, Field::PartSize(PartSize::LugLeg), "20 mm"));
    let found = no_room(&narrow, ToolAt::HoldDownNut);
    assert!(!found.is_empty(), "{:?}", narrow.boxes[0].added.faults);
    let nuts: u32 = found.iter().map(|no_room| no_room.count).sum();
    assert_eq!(nuts, found[0].of, "all of them");
    let told = narrow
        .findings
        .iter()
        .find(|f| f.words.contains("over the nut of a hold-down bar"))
        .unwrap();
    assert_eq!(told.grave, Grave::Note);
    assert!(told.fix.contains("open-ended"), "{}", told.fix);
    // In L 40 the stud is 18.5 mm from the leg at the wall.
    let lugs = set(&orchard(), Field::HoldDown, "bars on lugs at the walls");
    let wide = evaluate(&set(&lugs, Field::PartSize(PartSize::LugLeg), "40 mm"));
    let by_wall = no_room(&wide, ToolAt::HoldDownNut);
    assert!(
        by_wall
            .iter()
            .all(|no_room| !no_room.by.contains("lug") && !no_room.by.contains("wall")),
        "{by_wall:?}"
    );
}

/// A foot that lies right under the flange leaves no room over its bolts; one lower down does.
#[test]
fn bolts_in_feet_want_a_socket_under_the_flange() {
    let feet = set(&orchard(), Field::Brackets, "down on the frame's flange");
    let high = evaluate(&feet);
    let found = no_room(&high, ToolAt::MountBolt);
    // The fourth meets a bed bolt first.
    assert!(found.iter().any(|n| n.by == "its own rim" && n.count == 3), "{found:?}");
    let low = evaluate(&set(&feet, Field::PartSize(PartSize::BracketUp), "60 mm"));
    assert!(no_room(&low, ToolAt::MountBolt).iter().all(|n| n.by != "its own rim"));
}
