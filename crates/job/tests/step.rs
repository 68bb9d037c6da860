//! A step in the underside of a box: over a crossmember, with modules on the raised floor.

mod common;

use std::collections::BTreeSet;

use enclosure::Role;
use geometry::fit::{Budget, Unwatched};
use geometry::{Axis, Face, Point};
use job::layout::{Aim, propose, take_over};
use job::{
    BoxResult, ConstructionName, Edit, Evaluation, Field, Finding, Grave, Id, Job, Near, Subject, Sum, evaluate, load,
};
use tape::Length;

/// A cavity of 900 x 500 x 330 with a crossmember 200 long and 90 high across its front, and a box of two modules: one on
/// the floor behind it, one on the floor raised over it.
fn job() -> Job {
    load(include_str!("stepped.json").as_bytes()).expect("a job that is whole")
}

fn set(job: &Job, field: Field, text: &str) -> Job {
    let text = text.to_owned();
    job.with(&Edit::Set { field, text }).expect("the edit fits the job")
}

fn own(evaluation: &Evaluation) -> &BoxResult {
    &evaluation.boxes[0]
}

fn id(job: &Job) -> Id {
    job.boxes[0].id
}

fn stops(evaluation: &Evaluation) -> Vec<&Finding> {
    let here = |f: &&Finding| f.grave == Grave::Stop && !matches!(f.subject, Subject::Pack | Subject::Job);
    evaluation.findings.iter().filter(here).collect()
}

fn words(evaluation: &Evaluation) -> String {
    format!("{:?}", evaluation.findings)
}

#[test]
fn a_step_clears_a_crossmember_that_a_plain_box_runs_into() {
    let stepped = evaluate(&job());
    assert_eq!(own(&stepped).fault, None);
    assert!(stops(&stepped).is_empty(), "{:?}", stops(&stepped));
    let around = own(&stepped).around.as_ref().unwrap();
    // The crossmember is 90 high; the raised underside lies 100 above the coated one, which stands 10 over the floor.
    let below = &around.faces[Face::Bottom.index()];
    assert_eq!((below.near, below.distance), (Near::Wall(Face::Bottom), Length::mm(10)));
    let plain = evaluate(&set(&job(), Field::BoxStep(id(&job())), "none"));
    assert!(own(&plain).step.is_none());
    assert!(!stops(&plain).is_empty(), "the crossmember stands in a plain box");
}

#[test]
fn the_two_solids_are_the_body_less_the_step() {
    let evaluation = evaluate(&job());
    let b = own(&evaluation);
    let [deep, upper] = [b.solids[0], b.solids[1]];
    let coated = b.coated.unwrap();
    assert_eq!(deep.hull(&upper), coated);
    assert_eq!(coated.lo()[Axis::Z] + Length::mm(100), upper.lo()[Axis::Z]);
    assert_eq!(coated.lo()[Axis::X] + Length::mm(250), deep.lo()[Axis::X]);
    let volume = |c: &geometry::Cuboid| c.size().volume().nm3();
    let shared = deep.intersection(&upper).unwrap();
    let under = b.step_under().unwrap();
    let body = b.body.unwrap();
    assert_eq!(under.size().0, [Length::mm(250), body.size().0[1], Length::mm(100)]);
    let coated_under = Length::mm(250) * coated.size().0[1] * Length::mm(100);
    assert_eq!(
        volume(&deep) + volume(&upper) - volume(&shared) + coated_under.nm3(),
        volume(&coated)
    );
}

#[test]
fn modules_stand_off_the_riser_and_on_the_raised_floor() {
    let evaluation = evaluate(&job());
    let [over, behind] = [0, 1].map(|i| own(&evaluation).modules[i].around.clone().unwrap());
    let below = &over.faces[Face::Bottom.index()];
    assert_eq!(
        (below.near, below.name.as_str(), below.distance),
        (Near::Step, "raised floor", Length::ZERO)
    );
    let ahead = &behind.faces[Face::Front.index()];
    assert_eq!((ahead.near, ahead.name.as_str()), (Near::Step, "riser"));
    assert!(!ahead.is_short());
    // A millimetre down is into the step.
    let module = job().boxes[0].modules[0].id;
    let by = Point::along(Axis::Z, Length::mm(-1));
    let sunk = evaluate(&job().with(&Edit::NudgeModule { module, by }).unwrap());
    let found = stops(&sunk);
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(format!("{:?}", found[0]).contains("in the step of"));
    assert_eq!(found[0].subject, Subject::Module(module));
    // Forward, the other one comes too near the riser: told, though the box wraps its modules.
    let module = job().boxes[0].modules[1].id;
    let by = Point::along(Axis::X, -ahead.distance + Length::mm(1));
    let near = evaluate(&job().with(&Edit::NudgeModule { module, by }).unwrap());
    assert!(words(&near).contains("to the riser"), "{}", words(&near));
}

#[test]
fn parts_of_a_stepped_box_are_on_the_cut_list() {
    let evaluation = evaluate(&job());
    let built = own(&evaluation).built.as_ref().unwrap();
    let roles: BTreeSet<Role> = built.parts.iter().map(|p| p.role).collect();
    assert!(roles.contains(&Role::RaisedFloor) && roles.contains(&Role::Riser));
    let lines: Vec<_> = evaluation.cut.list.tables.iter().flat_map(|t| &t.lines).collect();
    let notched: Vec<_> = lines.iter().filter_map(|l| Some((l.quantity, l.notch()?))).collect();
    assert_eq!(notched.len(), 1);
    assert_eq!(notched[0].0, 2);
    assert_eq!(notched[0].1.size[1], Length::mm(100));
    let joins: Vec<[Role; 2]> = own(&evaluation)
        .welds
        .as_ref()
        .unwrap()
        .seams
        .iter()
        .map(|s| s.joins)
        .collect();
    assert!(joins.contains(&[Role::RaisedFloor, Role::Riser]));
}

#[test]
fn the_floor_that_carries_most_is_told() {
    let evaluation = evaluate(&job());
    let strength = own(&evaluation).strength.as_ref().unwrap();
    let floors: Vec<&str> = strength
        .checks
        .iter()
        .map(|c| c.of.what.as_str())
        .filter(|w| w.contains("floor"))
        .collect();
    // Three sums, each once: the deep floor is the shorter plate under as much and is stressed more, the raised one the
    // wider, which gives more.
    assert_eq!(floors.len(), 3);
    let of = |sum| strength.check(sum).unwrap().of.what.clone();
    assert!(of(Sum::FloorStress).starts_with("deep floor"), "{floors:?}");
    assert!(of(Sum::FloorGives).starts_with("raised floor"), "{floors:?}");
}

#[test]
fn only_a_welded_box_has_a_step() {
    let mut folded = job();
    folded.design.construction = Some(ConstructionName::Folded);
    let evaluation = evaluate(&folded);
    let fault = own(&evaluation).fault.as_ref().expect("refused").to_string();
    assert!(fault.contains("make the box welded, or take the step out"), "{fault}");
    assert!(
        stops(&evaluation)
            .iter()
            .any(|f| f.subject == Subject::Box(id(&folded)))
    );
}

#[test]
fn fields_of_the_step_are_set_and_taken_out() {
    let bare = set(&job(), Field::BoxStep(id(&job())), "none");
    assert_eq!(bare.boxes[0].step, None);
    let refused = bare.with(&Edit::Set {
        field: Field::BoxStepRun(id(&bare)),
        text: "200".to_owned(),
    });
    assert!(refused.is_err());
    let again = set(&bare, Field::BoxStep(id(&bare)), "rear");
    let again = set(
        &set(&again, Field::BoxStepRun(id(&bare)), "8 1/2\""),
        Field::BoxStepRise(id(&bare)),
        "60 mm",
    );
    let step = again.boxes[0].step.as_ref().unwrap();
    assert_eq!((step.run.text(), step.rise.text()), ("8 1/2\"", "60 mm"));
    assert_eq!(own(&evaluate(&again)).step.unwrap().at, enclosure::Wall::Rear);
    let refused = again.with(&Edit::Set {
        field: Field::BoxStepRise(id(&bare)),
        text: "0".to_owned(),
    });
    assert!(refused.unwrap_err().to_string().contains("step rises"));
    // Emptied, it is gone as well.
    assert_eq!(set(&again, Field::BoxStep(id(&bare)), "").boxes[0].step, None);
    let text = job::to_text(&again);
    assert_eq!(load(text.as_bytes()).unwrap(), again);
}

#[test]
fn a_step_at_the_lid_is_no_job() {
    let text = include_str!("stepped.json").replace("\"at\": \"front\", \"run\"", "\"at\": \"top\", \"run\"");
    let refused = load(text.as_bytes()).unwrap_err().to_string();
    assert!(
        refused.contains("boxes[0].step.at") && refused.contains("upright"),
        "{refused}"
    );
}

#[test]
fn filling_the_cavity_leaves_the_stepped_box_and_says_so() {
    let mut job = job();
    job.kinds[0].on_hand = Some(8);
    let evaluation = evaluate(&job);
    let cavity = job.cavities[0].id;
    let budget = Budget { work: 20_000, seed: 1 };
    let filled = propose(&job, &evaluation, Aim::Fill(cavity), budget, &mut Unwatched).unwrap();
    assert!(
        filled.words(&evaluation).contains("with its step, stays as it stands"),
        "{}",
        filled.words(&evaluation)
    );
    let layout = filled.answer.layouts.first().expect("an answer, if only an empty one");
    let after = job.with(&take_over(&job, &filled.question, layout)).unwrap();
    assert_eq!(after.boxes[0], job.boxes[0]);
    let refused = propose(&job, &evaluation, Aim::Box(id(&job)), budget, &mut Unwatched).unwrap_err();
    assert!(refused.needs.contains("step in its underside"));
    let refused = propose(&job, &evaluation, Aim::Whole, budget, &mut Unwatched).unwrap_err();
    assert!(refused.needs.contains("fill one cavity"));
}
