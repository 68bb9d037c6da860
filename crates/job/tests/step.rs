//! A step in the underside of a box: over a crossmember, with modules on the raised floor.

mod common;

use std::collections::BTreeSet;

use enclosure::Role;
use geometry::fit::{Budget, Unwatched};
use geometry::{Axis, Face, Point};
use job::layout::{Aim, propose, take_over};
use job::{
    BoxResult, ConstructionName, Edit, Evaluation, Field, Finding, Grave, Id, Job, Near, PartSize, PlacesOf, Subject,
    Sum, evaluate, load,
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
        (below.near, &*below.name, below.distance),
        (Near::Step, "raised floor", Length::ZERO)
    );
    let ahead = &behind.faces[Face::Front.index()];
    assert_eq!((ahead.near, &*ahead.name), (Near::Step, "riser"));
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
    // Of the steel, and of its liner, which covers the edge of the riser's.
    let sizes: Vec<_> = notched.iter().map(|(count, notch)| (*count, notch.size)).collect();
    assert_eq!(
        sizes,
        [(2, [250, 100].map(Length::mm)), (2, [252, 100].map(Length::mm))]
    );
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
    // Three sums, each once. 15 kg on 200 x 300 mm stand on either: from 14 mm on across the 223 x 308 mm of the deep floor, from 9
    // on across the 250 x 308 of the raised one, which is the wider. By Navier's series with 80 terms: 6.558 N/mm2 and 0.0899 mm, and
    // 6.954 N/mm2 and 0.11458 mm.
    assert_eq!(floors.len(), 3);
    let of = |sum| strength.check(sum).unwrap().of.clone();
    for (sum, load) in [(Sum::FloorStress, 6.954), (Sum::FloorGives, 0.114_58)] {
        assert!(of(sum).what.starts_with("raised floor"), "{floors:?}");
        assert!((of(sum).load - load).abs() < 2e-3 * load, "{}", of(sum).load);
    }
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

/// By hand, from the corner of the space inside the steel (473 x 308 x 252, 3 mm all round, corners A), steel 7.85 and
/// liner 1.85 g/cm3, each plate at its middle: deep floor 229 x 314 at 361.5, -1.5; raised floor 250 x 314 at 122, 98.5;
/// riser 308 x 100 at 248.5, 50; two sides 479 x 252 less 250 x 100 at 266.4, 145.9; ends 308 x 152 at -1.5, 176 and 308 x
/// 252 at 474.5, 126; flange 42 150 mm2 at 236.5, 250.5; lid 529 x 364 x 2 at 236.5, 256; liner 1791 g of six sheets. In
/// all 17 513 g before holes (24 of 7 mm through lid and flange take 36 g) at 257.34, 144.02: 20.8 mm rearward and 17 mm up of the middle of the block round the body.
#[test]
fn the_empty_box_weighs_where_its_parts_do() {
    let evaluation = evaluate(&job());
    let b = own(&evaluation);
    assert_eq!((b.mass.shell_g, b.mass.added_g), (15_685, 1_791));
    let at = b.empty_middle.unwrap().0.map(Length::as_mm);
    for (got, wanted) in at.into_iter().zip([308.336_469, 210.0, 157.019_487]) {
        assert!((got - wanted).abs() < 1e-5, "{at:?}");
    }
    // With two modules of 15 kg, their middles 160 and 415 behind the corner of the cavity, 175 and 75 up; from the corner of
    // the body at 48, 53, 10.
    let lift = &evaluation.vehicle.lifts[0];
    for (got, wanted) in lift.centre_m.into_iter().zip([0.247_170, 0.157, 0.126_787]) {
        assert!((got - wanted).abs() < 2e-6, "{:?}", lift.centre_m);
    }
    assert!((lift.loaded_kg - 47.476).abs() < 1e-3);
    // A plain one is taken at the middle of its body.
    assert_eq!(
        own(&evaluate(&set(&job(), Field::BoxStep(id(&job())), "none"))).empty_middle,
        None
    );
}

/// While no module's mass is known the bolts hold the empty box where its parts weigh: 20.8 mm rearward and 17 mm up of the
/// middle of the block round it, as summed above.
#[test]
fn bolts_hold_the_empty_box_where_its_parts_weigh() {
    let mut job = job();
    for kind in &mut job.kinds {
        kind.mass_kg = None;
    }
    let says = |job: &Job| {
        let evaluation = evaluate(job);
        let checks = &own(&evaluation).strength.as_ref().unwrap().checks;
        let found = checks.iter().find(|check| check.says.contains("centre of mass"));
        found.expect("bolts are summed").says.clone()
    };
    let stepped = says(&job);
    assert!(stepped.contains("21 mm off it along"), "{stepped}");
    let plain = says(&set(&job, Field::BoxStep(id(&job)), "none"));
    assert!(plain.contains("0 mm off it along"), "{plain}");
}

/// Another box beside it keeps off both of its depths, and it stays itself; by itself there is nothing to move.
#[test]
fn spreading_keeps_off_both_depths_and_leaves_the_stepped_box() {
    use job::layout::{Which, spread};
    let mut job = job();
    let cavity = job.cavities[0].id;
    let refused = spread(&job, &evaluate(&job), Which::Boxes(cavity)).unwrap_err();
    assert!(refused.needs.contains("has a step in its underside"), "{refused}");
    // A box of one module close behind the deep part, and one under the raised floor's end, before it.
    job.kinds[0].on_hand = Some(8);
    let mut other = job.boxes[0].clone();
    other.id = Id(900);
    "other".clone_into(&mut other.name);
    other.step = None;
    other.modules.truncate(1);
    other.modules[0].id = Id(901);
    let body = own(&evaluate(&job)).body.unwrap();
    other.at[0] = exactly(0);
    other.modules[0].at = [0, 0, 0].map(exactly);
    job.boxes.push(other);
    let outside = evaluate(&job).boxes[1].solids.clone();
    let front = outside.iter().map(|solid| solid.lo()[Axis::X]).min().unwrap();
    let beside = body.hi()[Axis::X] - front + Length::mm(30);
    job.boxes[1].at[0] = job::Len::exactly(beside, tape::Units::Millimetre);
    let evaluation = evaluate(&job);
    let met = |evaluation: &Evaluation| {
        let [a, b] = [0, 1].map(|i| evaluation.boxes[i].solids.clone());
        let least = a.iter().flat_map(|a| b.iter().map(move |b| a.separation(b))).min();
        least.unwrap()
    };
    let spreading = spread(&job, &evaluation, Which::Boxes(cavity)).unwrap();
    let after = job.with(&spreading.edit).unwrap();
    assert_eq!(after.boxes[0], job.boxes[0]);
    let found = evaluate(&after);
    assert!(spreading.helps(), "{spreading:?}");
    assert!(!met(&found).is_negative());
}

fn exactly(mm: i64) -> job::Len {
    job::Len::exactly(Length::mm(mm), tape::Units::Millimetre)
}

#[test]
fn the_side_of_the_truck_has_an_l_and_the_ramp_its_raised_edge() {
    let mut job = job();
    job.vehicle.masses.wheelbase = Some(exactly(1_200));
    let corners = |evaluation: &Evaluation| {
        let ground = evaluation.vehicle.ground.as_ref().expect("there is a wheelbase");
        let corners = &ground.outline.boxes[0].corners_m;
        corners
            .iter()
            .map(|corner| corner.map(|m| (m * 1e3).round()))
            .collect::<Vec<_>>()
    };
    // The cavity 1500 behind the axle and 400 up, the body 48 and 10 from its corner: 479 long, 260 high.
    assert_eq!(
        corners(&evaluate(&job)),
        [
            [1548.0, 510.0],
            [1798.0, 510.0],
            [1798.0, 410.0],
            [2027.0, 410.0],
            [2027.0, 670.0],
            [1548.0, 670.0]
        ]
    );
    // At the rear, it is the raised edge that a ramp behind the rear axle touches; of a plain box its lowest one.
    let rear = set(&job, Field::BoxStep(id(&job)), "rear");
    let evaluation = evaluate(&rear);
    assert_eq!(
        corners(&evaluation)[1..4],
        [[1777.0, 410.0], [1777.0, 510.0], [2027.0, 510.0]]
    );
    let departs = |evaluation: &Evaluation| {
        let ground = evaluation.vehicle.ground.as_ref().expect("there is a wheelbase");
        let corner = ground.boxes.departure.as_ref().expect("the box is behind the axle");
        format!("{:.3} {:.3}", corner.at.x_m, corner.at.z_m)
    };
    assert_eq!(departs(&evaluation), "2.027 0.510");
    assert_eq!(
        departs(&evaluate(&set(&rear, Field::BoxStep(id(&job)), "none"))),
        "2.027 0.410"
    );
    // At a side it runs in across: from the left the block, with the raised edge.
    let left = evaluate(&set(&job, Field::BoxStep(id(&job)), "left"));
    assert_eq!(corners(&left).len(), 4);
    let raised = left.vehicle.ground.as_ref().unwrap().outline.boxes[0].raised_m.unwrap();
    assert!((raised - 0.510).abs() < 1e-9);
}

fn with_fitting(what: &str, up: &str) -> Job {
    let text = include_str!("stepped.json").replace(
        "\"step\": {",
        &format!(
            "\"fittings\": [{{ \"id\": 20, \"what\": \"{what}\", \"wall\": \"riser\", \"along\": \"150 mm\", \"up\": \"{up}\", \
             \"hole\": \"20.5 mm\", \"across\": \"28 mm\", \"out\": \"10 mm\", \"inward\": \"10 mm\" }}],\n \"step\": {{"
        ),
    );
    load(text.as_bytes()).expect("a job that is whole")
}

#[test]
fn a_gland_goes_into_the_riser() {
    let told = with_fitting("gland", "50 mm");
    assert_eq!(load(job::to_text(&told).as_bytes()).unwrap(), told);
    let evaluation = evaluate(&told);
    let gland = &own(&evaluation).fittings[0];
    assert_eq!(
        (gland.fault.as_deref(), gland.label.as_str(), gland.wall),
        (None, "cable gland, riser", Face::Front)
    );
    // The riser's outer face is 250 behind the front of the body at 48, its liner's 250 behind that of the wall at 53; the
    // inside of the steel begins at 56 to the left and 13 up.
    let block = |lo: [i64; 3], hi: [i64; 3]| {
        Some(geometry::Cuboid::between(
            Point(lo.map(Length::mm)),
            Point(hi.map(Length::mm)),
        ))
    };
    assert_eq!(gland.outside, block([288, 192, 49], [298, 220, 77]));
    assert_eq!(gland.inside, block([303, 192, 49], [311, 220, 77]));
    assert!(own(&evaluation).solids.contains(&gland.outside.unwrap()));
    let built = own(&evaluation).built.as_ref().unwrap();
    let hole_of = |role| built.parts.iter().find(|p| p.role == role).unwrap().holes.len();
    assert_eq!([Role::Riser, Role::LinerRiser, Role::Floor].map(hole_of), [1, 1, 0]);
    // As far out as the crossmember at 280 it has 8; 20 out, it runs into it.
    assert!(stops(&evaluation).is_empty(), "{:?}", stops(&evaluation));
    let fitting = told.boxes[0].fittings[0].id;
    let long = evaluate(&set(&told, Field::FittingOut(fitting), "20 mm"));
    assert!(words(&long).contains("crossmember"), "{}", words(&long));
    assert!(!stops(&long).is_empty());
}

#[rstest::rstest]
#[case::into_the_raised_floor("gland", "90 mm", "riser")]
#[case::an_eye("lifting_eye", "50 mm", "nothing is lifted by the riser")]
fn what_does_not_go_into_a_riser_is_left_out_and_told(#[case] what: &str, #[case] up: &str, #[case] why: &str) {
    let evaluation = evaluate(&with_fitting(what, up));
    let fault = own(&evaluation).fittings[0].fault.clone().expect("refused");
    assert!(fault.contains(why), "{fault}");
    assert!(stops(&evaluation).iter().any(|f| f.words.contains(&fault)));
}

#[test]
fn without_a_step_there_is_no_riser() {
    let told = with_fitting("gland", "50 mm");
    let evaluation = evaluate(&set(&told, Field::BoxStep(id(&told)), "none"));
    let fault = own(&evaluation).fittings[0].fault.clone().expect("refused");
    assert_eq!(fault, "there is no riser to make a hole in");
}

#[test]
fn the_liner_over_a_step_is_on_the_cut_list() {
    let evaluation = evaluate(&job());
    let lines: Vec<_> = evaluation.cut.list.tables.iter().flat_map(|t| &t.lines).collect();
    let sized = |name: &str| {
        let line = lines
            .iter()
            .find(|line| line.name == name)
            .unwrap_or_else(|| panic!("{name}"));
        (line.quantity, line.length.exact.as_mm(), line.width.exact.as_mm())
    };
    assert_eq!(sized("liner floor"), (1, 223.0, 308.0));
    assert_eq!(sized("liner raised floor"), (1, 252.0, 308.0));
    assert_eq!(sized("liner riser"), (1, 308.0, 98.0));
    let side = lines.iter().find(|line| line.name == "liner long side").unwrap();
    assert_eq!(
        (side.quantity, side.notch().unwrap().size.map(Length::as_mm)),
        (2, [252.0, 100.0])
    );
}

/// Modules of 120 mm, one of them 100 mm higher: a bar for each, 8 mm of pad over its own, its lugs 3 mm of gap lower. Every bar
/// bears one module of 15 kg.
#[test]
fn each_hold_down_bar_lies_on_the_modules_that_it_crosses() {
    let job = set(&job(), Field::HoldDown, "bars on lugs at the walls");
    let evaluation = evaluate(&job);
    let b = own(&evaluation);
    assert_eq!(b.added.meets, Vec::<String>::new());
    let floor = b.added.steel.unwrap().lo()[Axis::Z];
    let built = b.built.as_ref().unwrap();
    let level = |role: Role| -> Vec<_> {
        let pieces = built.added.iter().filter(|piece| piece.role == role && piece.thin == 2);
        pieces.map(|piece| [piece.block.lo[2], piece.block.hi[2]]).collect()
    };
    let tops = [0, 1].map(|i| b.modules[i].cuboid.hi()[Axis::Z] - floor);
    assert_eq!(tops[0] - tops[1], Length::mm(100));
    let bars = level(Role::HoldDownBar);
    assert_eq!(
        bars.iter().map(|up| up[0]).collect::<Vec<_>>(),
        tops.map(|top| top + Length::mm(8))
    );
    let lugs: Vec<_> = level(Role::Lug).iter().map(|up| up[1]).collect();
    assert_eq!(
        lugs,
        [tops[0], tops[0], tops[1], tops[1]].map(|top| top + Length::mm(5))
    );
    let held = b.added.held_down.as_ref().unwrap();
    assert_eq!((held.bars, held.mass_kg), (2, 15.0));
    assert!(held.not_held.is_empty() && held.lower.is_empty() && held.idle.is_empty());
    // One wide bar over both lies on the higher one alone, 100 mm over the other, 55 mm farther back.
    let wide = set(&job, Field::PartSize(PartSize::BarWidth), "80 mm");
    let place = |at: &str| evaluate(&set(&wide, Field::BoxPlaces(id(&job), PlacesOf::Bars), at));
    let edge = b.modules[0].cuboid.hi()[Axis::X] - b.added.steel.unwrap().lo()[Axis::X];
    let one = place(&format!("{} mm", (edge + Length::mm(27)).as_mm()));
    let found = said(&one, "no hold-down bar lies on M6");
    assert_eq!(found.grave, Grave::Stop);
    assert!(found.words.contains("lies on M5, and M6 ends"), "{}", found.words);
    assert!((own(&one).added.held_down.as_ref().unwrap().mass_kg - 15.0).abs() < 1e-9);
}

/// Beside each other under one bar, one 6 mm higher: as much as a pad of 14 mm fills, and 9 mm are more than one does.
#[test]
fn a_bar_over_modules_of_unequal_height_touches_the_highest() {
    let held = |by: i64| {
        let job = set(&job(), Field::HoldDown, "bars on lugs at the walls");
        let mut job = set(&job, Field::BoxStep(id(&job)), "none");
        job.boxes[0].fixed = Some(["700 mm", "620 mm", "200 mm"].map(as_told));
        job.boxes[0].modules[0].at = ["0 mm", "305 mm", &format!("{by} mm")].map(as_told);
        job.boxes[0].modules[1].at = ["0 mm", "0 mm", "0 mm"].map(as_told);
        evaluate(&job)
    };
    let packed = held(6);
    let found = said(&packed, "lies on M5 alone: M6 ends");
    assert_eq!(found.grave, Grave::Caution);
    assert!(found.fix.contains(&packed.up(Length::mm(14))), "{}", found.fix);
    assert!((own(&packed).added.held_down.as_ref().unwrap().mass_kg - 30.0).abs() < 1e-9);
    let apart = held(9);
    assert_eq!(said(&apart, "no hold-down bar lies on M6").grave, Grave::Stop);
    assert!((own(&apart).added.held_down.as_ref().unwrap().mass_kg - 15.0).abs() < 1e-9);
}

fn as_told(text: &str) -> job::Len {
    let value = tape::notation::read(text, tape::Units::Millimetre, tape::Allow::ZeroOrMore).expect(text);
    job::Len::exactly(value.value(), tape::Units::Millimetre)
}

fn said<'a>(evaluation: &'a Evaluation, words: &str) -> &'a Finding {
    let found = evaluation.findings.iter().find(|f| f.words.contains(words));
    found.unwrap_or_else(|| panic!("{words}: {:?}", evaluation.findings))
}
