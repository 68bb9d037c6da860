//! Cases worked by hand, and what holds of the built-in jobs.

mod fixes;
mod lids;
mod service;

use geometry::{Axis, Cuboid, Face, Faces, Point, Size};
use rstest::rstest;
use tape::Length;
use tape::show::{Fraction, Style};

use super::*;
use crate::{BedEdit, EXAMPLES, Edit, Evaluation, Field, Id, Job, WayField, evaluate, load};

fn block(lo: [i64; 3], hi: [i64; 3]) -> Cuboid {
    Cuboid::between(Point(lo.map(Length::mm)), Point(hi.map(Length::mm)))
}

/// The hollow of every case: 1000 long, 500 wide, 300 high, with its floor 400 over the ground.
fn hollow() -> Cuboid {
    block([0, 0, 0], [1000, 500, 300])
}

fn thing(id: u32, lo: [i64; 3], hi: [i64; 3]) -> (usize, Thing) {
    let solid = block(lo, hi);
    let thing = Thing {
        name: format!("thing {id}"),
        what: What::KeepOut(Id(id)),
        expected: solid,
        sure: solid,
    };
    (0, thing)
}

/// A box in the hollow, open at these faces alone.
fn moved(id: u32, solids: &[Cuboid], through: &[Face]) -> Moved {
    let closed = Face::ALL.into_iter().filter(|face| !through.contains(face));
    let wall = |face: Face| {
        let mut grown = Faces::all(Length::ZERO);
        grown[face] = Length::mm(2000);
        grown[face.opposite()] = -hollow().size()[face.axis()];
        let solid = hollow().grown(grown).unwrap();
        Thing {
            name: format!("{} wall", face.name()),
            what: What::Wall(face),
            expected: solid,
            sure: solid,
        }
    };
    let part = |(i, &solid): (usize, &Cuboid)| Part {
        name: ["body", "flange", "cable gland"][i].to_owned(),
        solid,
        open: Some(solid),
        loose: None,
        own: Vec::new(),
    };
    Moved {
        id: Id(id),
        name: format!("box {id}"),
        cavity: Id(1),
        world: 0,
        from_cavity: Point::ZERO,
        parts: solids.iter().enumerate().map(part).collect(),
        lid_stays: None,
        space: hollow(),
        through: through.to_vec(),
        walls: closed.map(wall).collect(),
        in_the_middle: Vec::new(),
        free: [Length::mm(100); 3],
        mass_g: 60_000,
        empty_g: 12_000,
    }
}

fn asked(boxes: Vec<Moved>, things: Vec<(usize, Thing)>) -> Question {
    Question {
        style: Style {
            units: tape::Units::Millimetre,
            fraction: Fraction::Sixteenth,
        },
        bed: crate::BedName::Off,
        bed_names: Vec::new(),
        bed_outlines: Vec::new(),
        other_beds: Vec::new(),
        assumed: Vec::new(),
        not_looked_at: Vec::new(),
        loading: Vec::new(),
        left_out: Vec::new(),
        boxes,
        things,
        ground: Length::mm(-400),
        jack: Length::mm(100),
        pitch_deg: 20.0,
    }
}

fn worked_out(boxes: Vec<Moved>, things: Vec<(usize, Thing)>) -> WaysIn {
    answer(asked(boxes, things), WORK, &mut |_| true)
}

/// 600 long, 460 wide, 200 high, 20 from both side walls and 100 under the roof at most.
fn body() -> Cuboid {
    block([100, 20, 50], [700, 480, 250])
}

#[test]
fn nothing_in_the_way_is_straight_with_the_room_beside_it() {
    let ways = worked_out(vec![moved(1, &[body()], &[Face::Bottom])], Vec::new());
    let way = ways.boxes[0].outcome.way().unwrap();
    assert_eq!(
        (way.through, way.motion, way.sure),
        (Face::Bottom, Motion::Straight, true)
    );
    let margin = way.margin.as_ref().unwrap();
    assert_eq!((margin.distance, margin.what), (Length::mm(20), What::Wall(Face::Left)));
    // Its top at 250 starts 50 under the floor of the hollow: 300 lower, its underside 150 over the ground.
    assert_eq!(way.steps[0].by, Point::along(Axis::Z, Length::mm(-300)));
    assert_eq!(way.steps[0].above_ground, Some([Length::mm(150); 2]));
    // It may hang 20 to either side, 100 forward and 300 rearward.
    let expected = [(Axis::X, [-100, 300]), (Axis::Y, [-20, 20])];
    assert_eq!(way.play, expected.map(|(axis, play)| (axis, play.map(Length::mm))));
    assert_eq!(ways.order, [0]);
}

#[test]
fn past_one_flange_it_is_slid_over() {
    // The foot of the right rail reaches 30 in: 10 too far. The box may hang 10 to 20 to the left.
    let ways = worked_out(
        vec![moved(1, &[body()], &[Face::Bottom])],
        vec![thing(7, [0, 470, 0], [1000, 500, 20])],
    );
    let way = ways.boxes[0].outcome.way().unwrap();
    let by = Length::mm(-15);
    assert_eq!(way.motion, Motion::ThenSlid { axis: Axis::Y, by });
    assert_eq!(way.margin.as_ref().map(|m| m.distance), Some(Length::mm(5)));
    assert_eq!(way.steps.len(), 3);
}

#[test]
fn two_flanges_stop_it_and_what_would_do_is_told() {
    let ways = worked_out(
        vec![moved(1, &[body()], &[Face::Bottom])],
        vec![
            thing(7, [0, 470, 0], [1000, 500, 20]),
            thing(8, [0, 0, 0], [1000, 30, 20]),
        ],
    );
    let Outcome::Stays { tried, help } = &ways.boxes[0].outcome else {
        panic!("460 wide does not go through 440: {:?}", ways.boxes[0].outcome)
    };
    assert!(ways.boxes[0].outcome.is_impossible());
    let stop = &tried[0].stops[0];
    // Its top at 250 meets the undersides at 0.
    assert_eq!((stop.overlap, stop.left), ((Axis::Y, Length::mm(10)), Length::mm(250)));
    // One of them out of the way leaves 470, which is not in line with its place: so only the width is told.
    let smaller =
        |h: &&Help| matches!(h, Help::Smaller { axis: Axis::Y, cut, .. } if cut[0] + cut[1] == Length::mm(20));
    let told = help.iter().find(smaller).map(|h| h.words(ways.question.style));
    let words = "make it 20.0 mm less in width, at its left: then it goes up from below, 10.0 mm off to the left, then slid over";
    assert_eq!(told.as_deref(), Some(words), "{help:?}");
    assert!(ways.order.is_empty());
}

#[test]
fn a_thing_right_under_it_has_to_come_out() {
    // A bar across the whole opening, 100 under its middle.
    let ways = worked_out(
        vec![moved(1, &[body()], &[Face::Bottom])],
        vec![thing(9, [390, 0, 0], [410, 500, 20])],
    );
    let Outcome::Stays { tried, help } = &ways.boxes[0].outcome else {
        panic!("600 long does not go past a bar in the middle of 1000")
    };
    assert_eq!(tried[0].stops[0].what, What::KeepOut(Id(9)));
    assert!(
        matches!(
            &help[0],
            Help::TakeOut {
                what: What::KeepOut(Id(9)),
                ..
            }
        ),
        "{help:?}"
    );
}

#[test]
fn under_a_lip_it_is_pitched() {
    // 600 long and 100 high; the front 100 of the opening are closed by a lip, and its place reaches under it.
    let low = block([50, 20, 150], [650, 480, 250]);
    let ways = worked_out(
        vec![moved(1, &[low], &[Face::Bottom])],
        vec![
            thing(7, [0, 0, 0], [100, 500, 20]),
            thing(8, [660, 0, 0], [1000, 500, 20]),
        ],
    );
    // 560 of opening for 600 of box: neither straight nor slid.
    let way = ways.boxes[0]
        .outcome
        .way()
        .expect("pitched by 20 degrees it is 564 + 34 long at most, and slips under");
    assert!(
        matches!(way.motion, Motion::Pitched(geometry::way_in::plan::Plane::Side)),
        "{way:?}"
    );
    assert!(way.steps.iter().any(|step| step.turn_deg.abs() > 5.0));
    // Nothing of it is in the ground, and both ends are at one height where it is level.
    for step in &way.steps {
        let [front, rear] = step.above_ground.unwrap();
        assert!(front.min(rear) >= Length::ZERO, "{step:?}");
        assert_eq!(front < rear, step.turn_deg > 0.0, "{step:?}");
    }
    assert!(way.margin.as_ref().is_some_and(|m| m.distance >= Length::ZERO));
}

#[rstest]
#[case::just_enough(100, None)]
#[case::one_too_high(101, Some(1))]
fn the_jack_needs_its_room_under_the_truck(#[case] jack: i64, #[case] short: Option<i64>) {
    // 400 over the ground, on a jack of 100, a box of 300: nothing to spare.
    let high = block([100, 20, 0], [700, 480, 300]);
    let mut question = asked(vec![moved(1, &[high], &[Face::Bottom])], Vec::new());
    question.jack = Length::mm(jack);
    let ways = answer(question, WORK, &mut |_| true);
    match (&ways.boxes[0].outcome, short) {
        (Outcome::Goes(_), None) => {}
        (Outcome::Stays { tried, help }, Some(short)) => {
            let by = Length::mm(short);
            assert!(
                matches!(help[0], Help::Raise { by: told, .. } if told == by),
                "{help:?}"
            );
            // A box so much lower does as well, and nothing else does.
            let lower = Help::Smaller {
                axis: Axis::Z,
                cut: [by, Length::ZERO],
                free: Length::mm(100),
                then: Then {
                    through: Face::Bottom,
                    motion: Motion::Straight,
                    off: Off::default(),
                    sure: true,
                },
            };
            assert_eq!(help[1..], [lower]);
            assert_eq!((tried[0].stops[0].what, tried[0].proved), (What::Ground, false));
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn what_is_screwed_in_afterwards_is_no_stop() {
    // A gland 30 long on the front wall, 20 from the end of the hollow.
    let gland = block([70, 200, 150], [100, 250, 200]);
    let lip = thing(7, [0, 0, 0], [80, 500, 20]);
    let flange = block([100, 20, 245], [700, 480, 250]);
    let mut tight = moved(1, &[body(), flange, gland], &[Face::Bottom]);
    let ways = worked_out(vec![tight.clone()], vec![lip.clone()]);
    // With it on, it comes in off its place; screwed in afterwards, straight. Straight comes first only with all on.
    assert!(matches!(
        ways.boxes[0].outcome.way().map(|way| way.motion),
        Some(Motion::ThenSlid { axis: Axis::X, .. })
    ));
    // Where the hollow ends behind it there is no other place to come in by.
    let behind = thing(8, [700, 0, 0], [1000, 500, 300]);
    tight.parts[2].loose = Some(Loose::Fitting);
    let ways = worked_out(vec![tight], vec![lip, behind]);
    let way = ways.boxes[0].outcome.way().unwrap();
    assert_eq!(
        (way.motion, &way.without[..]),
        (Motion::Straight, &["cable gland".to_owned()][..])
    );
}

#[test]
fn the_lower_one_goes_in_last_and_comes_out_first() {
    let lower = block([100, 20, 0], [700, 480, 100]);
    let upper = block([100, 20, 100], [700, 480, 300]);
    let boxes = vec![moved(1, &[lower], &[Face::Bottom]), moved(2, &[upper], &[Face::Bottom])];
    let ways = worked_out(boxes, Vec::new());
    assert_eq!(ways.order, [1, 0]);
    assert_eq!(
        (&ways.boxes[0].after[..], &ways.boxes[1].after[..]),
        (&[][..], &[0][..])
    );
    assert_eq!(ways.stuck, None);
}

#[test]
fn two_that_keep_each_other_out_are_told() {
    // Each goes in alone along the whole length, and ends up in front of the other's opening.
    let front = block([0, 20, 50], [450, 480, 250]);
    let rear = block([450, 20, 50], [1000, 480, 250]);
    let boxes = vec![moved(1, &[front], &[Face::Rear]), moved(2, &[rear], &[Face::Front])];
    let ways = worked_out(boxes, Vec::new());
    let stuck = ways.stuck.clone().unwrap();
    assert_eq!((stuck.names.len(), stuck.proved), (2, true), "{}", ways.text_of(None));
    assert!(ways.order.is_empty());
}

#[test]
fn told_to_stop_it_stops() {
    let two = vec![
        thing(7, [0, 470, 0], [1000, 500, 20]),
        thing(8, [0, 0, 0], [1000, 30, 20]),
    ];
    let question = asked(vec![moved(1, &[body()], &[Face::Bottom])], two);
    let ways = answer(question, WORK, &mut |_| false);
    assert!(ways.stopped);
    assert!(!ways.boxes[0].outcome.is_impossible());
}

fn built_in(name: &str) -> (Job, Evaluation) {
    let example = EXAMPLES.iter().find(|e| e.name == name).unwrap();
    let job = load(example.text.as_bytes()).unwrap();
    let evaluation = evaluate(&job);
    (job, evaluation)
}

fn set(job: &Job, field: WayField, text: &str) -> Job {
    let field = Field::Way(field);
    let text = text.to_owned();
    job.with(&Edit::Set { field, text }).unwrap()
}

#[test]
fn the_boxes_of_every_built_in_job_go_in() {
    for example in EXAMPLES {
        let (job, evaluation) = built_in(example.name);
        let ways = ways_in(&job, &evaluation);
        assert_eq!(ways.order.len(), evaluation.boxes.len(), "{}", ways.text_of(None));
        // The same question gives the same answer.
        assert_eq!(ways, ways_in(&job, &evaluation));
    }
}

#[test]
fn a_face_that_is_closed_is_no_way() {
    let (job, _) = built_in("orchard-flatbed");
    let cavity = job.cavities[0].id;
    let side = set(&job, WayField::Opening(cavity, Face::Bottom), "closed");
    let ways = ways_in(&side, &evaluate(&side));
    assert_eq!(ways.boxes[0].outcome.way().map(|way| way.through), Some(Face::Left));
    // The last one stays open.
    let text = "closed".to_owned();
    let field = Field::Way(WayField::Opening(cavity, Face::Left));
    let refused = side.with(&Edit::Set { field, text }).unwrap_err();
    assert_eq!(refused.mend(), "open another face first");
    // An opening 300 mm too short for the box, and no other.
    let overall = evaluate(&side).boxes[0]
        .solids
        .iter()
        .copied()
        .reduce(|a, b| a.hull(&b))
        .unwrap()
        .size();
    let Size([length, _, height]) = overall;
    let clear = format!("{} mm x {} mm", length.as_mm() - 300.0, height.as_mm() + 20.0);
    let narrow = set(&side, WayField::Opening(cavity, Face::Left), &clear);
    let ways = ways_in(&narrow, &evaluate(&narrow));
    let Outcome::Stays { tried, .. } = &ways.boxes[0].outcome else {
        panic!("300 mm too long for its opening")
    };
    assert!(
        tried[0]
            .stops
            .iter()
            .any(|stop| matches!(stop.what, What::Lip(Face::Left, _)))
    );
}

#[test]
fn what_comes_off_before_a_module_comes_out() {
    let (job, evaluation) = built_in("orchard-flatbed");
    let ways = ways_in(&job, &evaluation);
    let module = unit_named(&ways, "m14").unwrap();
    let service = ways.take_out(&evaluation, module).unwrap();
    // Under a roof the lid does not open: the box comes down, with all that is in it.
    assert_eq!(service.over_it(), Some("cavity roof"));
    let down: Vec<(&str, i64)> = service.down.iter().map(|d| (d.name.as_str(), d.mass_g)).collect();
    assert_eq!(down, [("left box", evaluation.boxes[0].mass.total_g())]);
    // One link at each of its terminals.
    assert_eq!((service.links.len(), service.before.len()), (2, 0), "{service:?}");
    assert!(service.troubles().is_empty());
    assert_eq!(service.mass_g, evaluation.kinds[0].mass_g);
    // A stack of a box under an open top comes out where it stands.
    let (job, evaluation) = built_in("mountain-rescue");
    let ways = ways_in(&job, &evaluation);
    let stack = unit_named(&ways, "S16").unwrap();
    let service = ways.take_out(&evaluation, stack).unwrap();
    assert_eq!((service.not_in_place.len(), service.down.len()), (0, 0));
    // With the bed on the frame it does not.
    let job = set(&job, WayField::Bed, "on the frame");
    let evaluation = evaluate(&job);
    let ways = ways_in(&job, &evaluation);
    let service = ways.take_out(&evaluation, stack).unwrap();
    assert_eq!((service.over_it(), service.down.len()), (Some("bed"), 1));
    // The other box has no other way than from above, and what would do is told.
    let Outcome::Stays { help, .. } = &ways.boxes[0].outcome else {
        panic!("its one open face is under the bed")
    };
    assert!(
        matches!(&help[..], [Help::Bed { bed: crate::BedName::Off, then }] if then.through == Face::Top),
        "{help:?}"
    );
}

#[test]
fn a_module_is_lifted_only_when_nothing_lies_on_it() {
    let lifted = |id: u32, solid: Cuboid| super::loading::Lifted {
        id: Id(id),
        label: format!("M{id}"),
        units: Vec::new(),
        mass_g: Some(18_000),
        solid,
        room: vec![],
    };
    let mut open = super::loading::Open {
        id: Id(1),
        name: "box".to_owned(),
        modules: vec![
            lifted(2, block([0, 0, 0], [100, 100, 100])),
            lifted(3, block([0, 0, 100], [100, 100, 200])),
            lifted(4, block([110, 0, 0], [210, 100, 100])),
        ],
        fixed: vec![("the rear wall".to_owned(), block([210, -50, 0], [900, 150, 300]))],
        bars: Vec::new(),
        lift: Length::mm(310),
        hand: Length::ZERO,
    };
    assert_eq!(open.over(true).before(0), Ok(vec![1]));
    let loading = super::loading::of(&open);
    assert_eq!((&loading.order[..], loading.held.len()), (&[0, 1, 2][..], 0));
    // A spanner of 30 in front of its rear face: in the wall. It still goes in, and that is told.
    open.modules[2].room = vec![block([210, 40, 50], [240, 60, 100])];
    let loading = super::loading::of(&open);
    assert_eq!(loading.order.len(), 3);
    let held = &loading.held[0];
    assert_eq!((held.room_only, held.by.as_str()), (true, "the rear wall"));
    // A spanner over the first module, where the second lies: the first is bolted before the second is in.
    open.modules[2].room = vec![block([60, 40, 120], [100, 60, 150])];
    assert_eq!(super::loading::of(&open).order, [0, 2, 1]);
}

#[test]
fn a_rib_of_the_bed_creeps_up_to_the_box() {
    let (job, evaluation) = built_in("orchard-flatbed");
    assert_eq!(evaluation.bed_sweep, None);
    let missing = |job: &Job| evaluate(job).bed_sweep.and_then(Result::err).unwrap();
    let place = Point(
        job.cavities[0]
            .place
            .as_ref()
            .unwrap()
            .each_ref()
            .map(crate::Len::value),
    );
    let body = evaluation.boxes[0].solids[0].moved(place);
    // 3-4-5: a rib whose lower front corner is 400 ahead of the hinge and 300 under it comes as far as 500 ahead of it, level
    // with it, at 36.87 degrees. The box ends 512 ahead of it.
    let hinge = [
        body.face(Face::Rear) + Length::mm(512),
        (body.face(Face::Bottom) + body.face(Face::Top)).half_down(),
    ];
    let text = |length: Length| format!("{} mm", length.as_mm());
    let mut job = set(&job, WayField::HingeX, &text(hinge[0]));
    assert!(missing(&job).contains("hinge"));
    job = set(&job, WayField::HingeZ, &text(hinge[1]));
    job = set(&job, WayField::Tilt, "37");
    assert!(missing(&job).contains("crossmembers"));
    job = job.with(&Edit::Bed(BedEdit::Add)).unwrap();
    for (field, at) in [
        (WayField::PartFrom(0), hinge[0] - Length::mm(400)),
        (WayField::PartTo(0), hinge[0] - Length::mm(380)),
        (WayField::PartLowest(0), hinge[1] - Length::mm(300)),
        (WayField::PartHighest(0), hinge[1] - Length::mm(100)),
    ] {
        job = set(&job, field, &text(at));
    }
    let found = evaluate(&job);
    let swept = found.bed_sweep.clone().unwrap().unwrap();
    let near = swept
        .nearest
        .iter()
        .find(|near| near.battery_box == evaluation.boxes[0].id)
        .unwrap();
    assert!((near.distance - Length::mm(12)).abs() < Length::from_nm(5), "{near:?}");
    assert!(
        (near.at_deg - 36.869_898).abs() < 1e-3 && near.meets_deg.is_none(),
        "{near:?}"
    );
    // 30 nearer: the lower edge of the box's end meets the rib's front face, 400 ahead of the hinge.
    let job = set(&job, WayField::HingeX, &text(hinge[0] - Length::mm(30)));
    let moved_with_it = [(WayField::PartFrom(0), 430), (WayField::PartTo(0), 410)];
    let job = moved_with_it.iter().fold(job, |job, (field, ahead)| {
        set(&job, *field, &text(hinge[0] - Length::mm(*ahead)))
    });
    let found = evaluate(&job);
    let swept = found.bed_sweep.clone().unwrap().unwrap();
    let near = swept
        .nearest
        .iter()
        .find(|near| near.battery_box == evaluation.boxes[0].id)
        .unwrap();
    let edge = [482.0, (body.size()[Axis::Z].as_mm()) / 2.0];
    let up = f64::hypot(edge[0], edge[1]).powi(2) - 400.0 * 400.0;
    let expected = (up.sqrt().atan2(400.0) - edge[1].atan2(edge[0])).to_degrees();
    assert!(
        found
            .findings
            .iter()
            .any(|f| f.grave == crate::Grave::Stop && f.words.contains("bed floor meets left box"))
    );
    assert!((near.meets_deg.unwrap() - expected).abs() < 1e-6, "{near:?} {expected}");
}

#[test]
fn entries_survive_the_file_and_are_checked_in_it() {
    let (job, _) = built_in("mountain-rescue");
    let job = set(&job, WayField::Bed, "tilted up");
    let job = set(&job, WayField::Jack, "5 1/2");
    let job = job.with(&Edit::Bed(BedEdit::Add)).unwrap();
    let text = crate::to_text(&job);
    assert_eq!(load(text.as_bytes()).unwrap(), job);
    let wrong = text.replace("\"jack\": \"5 1/2\\\"\"", "\"jack\": \"-1\\\"\"");
    assert_ne!(wrong, text);
    let refused = load(wrong.as_bytes()).unwrap_err().to_string();
    assert!(refused.contains("way_in"), "{refused}");
}

#[test]
fn the_first_face_that_is_entered_leaves_the_assumed_one_open() {
    let job = Job::empty(crate::UnitsName::Millimetre);
    let cavity = job.cavities[0].id;
    let shown = |job: &Job, face| {
        let field = Field::Way(WayField::Opening(cavity, face));
        let shown = crate::field::show(job, &[field]).remove(0).1;
        (shown.text, shown.state)
    };
    assert_eq!(shown(&job, Face::Bottom), ("open".to_owned(), crate::State::Assumed));
    let job = set(&job, WayField::Opening(cavity, Face::Left), "open");
    for (face, word) in [(Face::Bottom, "open"), (Face::Left, "open"), (Face::Top, "closed")] {
        assert_eq!(shown(&job, face), (word.to_owned(), crate::State::Given), "{face:?}");
    }
}

#[test]
fn a_picture_shows_every_pose_and_what_is_met() {
    let ways = worked_out(
        vec![moved(1, &[body()], &[Face::Bottom])],
        vec![
            thing(7, [0, 470, 0], [1000, 500, 20]),
            thing(8, [0, 0, 0], [1000, 30, 20]),
        ],
    );
    let picture = &ways.pictures[0][0];
    assert_eq!(picture.plane, geometry::way_in::plan::Plane::Across);
    assert!(picture.things.iter().all(|thing| thing.is_met));
    // Where its top at 250 is stopped at 0, and its place.
    let low = |pose: usize| picture.poses[pose][0][0];
    assert_eq!(low(0), [20, -200].map(Length::mm));
    assert_eq!(low(1), [20, 50].map(Length::mm));
}

/// A box 200 high whose lid is the uppermost 10, open at its left.
fn lidded(id: u32) -> Moved {
    let mut tight = moved(id, &[block([100, 100, 5], [700, 480, 205])], &[Face::Left]);
    tight.parts[0].open = Some(block([100, 100, 5], [700, 480, 195]));
    tight
}

/// A rail beside it, its underside 8 under the top of the lid and 2 over the rim: open it passes under with 2, and the lid
/// goes over the rail and down.
#[test]
fn a_box_goes_in_with_its_lid_off_where_the_lid_goes_on_after_it() {
    let rail = thing(7, [0, 0, 197], [1000, 20, 235]);
    let ways = worked_out(vec![lidded(1)], vec![rail]);
    let way = ways.boxes[0].outcome.way().expect("it goes in open");
    assert_eq!((way.off.lid, &way.without[..]), (true, &["lid".to_owned()][..]));
    let margin = way.margin.as_ref().expect("it passes the rail");
    assert_eq!((margin.distance, margin.what), (Length::mm(2), What::KeepOut(Id(7))));
    let verdict = ways.boxes[0].verdict(ways.question.style);
    assert!(verdict.ends_with(", with its lid off"), "{verdict}");
    let lines = ways.boxes[0].lines(ways.question.style);
    assert!(lines.contains(&"fitted when it is in: lid".to_owned()), "{lines:?}");
}

/// The same rail up to the roof: the box passes under it, the lid does not.
#[test]
fn a_lid_that_does_not_go_on_is_told() {
    let rail = thing(7, [0, 0, 197], [1000, 95, 300]);
    let ways = worked_out(vec![lidded(1)], vec![rail]);
    let Outcome::Stays { help, .. } = &ways.boxes[0].outcome else {
        panic!("its lid does not go on")
    };
    assert!(
        help.iter()
            .any(|h| matches!(h, Help::LidBarred { barred } if barred.by() == "thing 7")),
        "{help:?}"
    );
    let mut out_of_reach = lidded(1);
    out_of_reach.lid_stays = Some("no room for a spanner over 4 of its screws: rail".to_owned());
    let ways = worked_out(vec![out_of_reach], vec![thing(7, [0, 0, 197], [1000, 20, 235])]);
    let Outcome::Stays { help, .. } = &ways.boxes[0].outcome else {
        panic!("its lid stays on")
    };
    assert!(
        help.iter()
            .any(|h| matches!(h, Help::LidOn { why } if why.contains("spanner"))),
        "{help:?}"
    );
}

/// A bracket that reaches 30 forward where only 20 are free: bolted on afterwards it goes in straight.
#[test]
fn brackets_that_keep_it_out_are_put_on_afterwards_and_that_is_told() {
    let bracket = block([70, 200, 150], [100, 250, 200]);
    let things = || {
        vec![
            thing(7, [0, 0, 0], [80, 500, 20]),
            thing(8, [700, 0, 0], [1000, 500, 300]),
        ]
    };
    let mut tight = moved(
        1,
        &[body(), block([100, 20, 245], [700, 480, 250]), bracket],
        &[Face::Bottom],
    );
    tight.parts[2].name = "brackets".to_owned();
    tight.parts[2].loose = Some(Loose::Bracket);
    let ways = worked_out(vec![tight.clone()], things());
    let way = ways.boxes[0].outcome.way().expect("it goes in without them");
    assert!(way.off.brackets && !way.off.lid);
    let lines = ways.boxes[0].lines(ways.question.style);
    assert!(
        lines.iter().any(|line| line.contains("bolt them on in its place")),
        "{lines:?}"
    );
    // Another box finds them in its way once they are on.
    tight.parts[2].loose = None;
    assert!(
        worked_out(vec![tight], things()).boxes[0]
            .outcome
            .way()
            .is_none_or(|way| !way.off.brackets)
    );
}

/// Brackets of the design go in with the box, and stiffeners are not taken for fittings.
#[test]
fn brackets_and_stiffeners_of_a_design_are_parts_of_what_goes_in() {
    let (mut job, _) = built_in("orchard-flatbed");
    job.design.added.brackets = Some(crate::BracketsName::Web);
    let evaluation = evaluate(&job);
    let asked = question(&job, &evaluation);
    let battery_box = &evaluation.boxes[0];
    let of_box = asked
        .boxes
        .iter()
        .find(|b| b.id == battery_box.id)
        .expect("it can be brought in");
    let brackets = of_box.parts.iter().filter(|part| part.loose == Some(Loose::Bracket));
    assert_eq!(brackets.count(), battery_box.added.brackets.len());
    assert!(!battery_box.added.brackets.is_empty());
    assert_eq!(
        of_box.parts.len(),
        battery_box.solids.len() + battery_box.added.brackets.len()
    );
    let open: i64 = of_box
        .parts
        .iter()
        .filter_map(|p| p.open)
        .map(|s| s.face(Face::Top).nm())
        .max()
        .expect("a rim");
    let closed: i64 = of_box
        .parts
        .iter()
        .map(|p| p.solid.face(Face::Top).nm())
        .max()
        .expect("a top");
    assert!(open < closed, "the lid lies on the rim");
}

/// A box 120 high on the floor of the hollow, its lid the uppermost 10, with two modules 90 high that stand 10 over its
/// underside: lifted, each needs 90 and a hand of 20 over the rim at 110. Open at the bottom and these sides.
fn loaded(sides: &[Face]) -> (Moved, super::loading::Open) {
    let mut through = vec![Face::Bottom];
    through.extend(sides);
    let mut low = moved(1, &[block([100, 20, 0], [700, 480, 120])], &through);
    low.parts[0].open = Some(block([100, 20, 0], [700, 480, 110]));
    let lifted = |id: u32, x: i64| super::loading::Lifted {
        id: Id(id),
        label: format!("M{id}"),
        units: Vec::new(),
        mass_g: Some(18_000),
        solid: block([x, 40, 10], [x + 200, 240, 100]),
        room: vec![],
    };
    let open = super::loading::Open {
        id: Id(1),
        name: "box 1".to_owned(),
        modules: vec![lifted(2, 120), lifted(3, 400)],
        fixed: Vec::new(),
        bars: Vec::new(),
        lift: Length::mm(100),
        hand: Length::mm(20),
    };
    (low, open)
}

fn with_modules(sides: &[Face], things: Vec<(usize, Thing)>) -> WaysIn {
    let (low, open) = loaded(sides);
    let mut question = asked(vec![low], things);
    question.loading = vec![open];
    answer(question, WORK, &mut |_| true)
}

/// A module 2 into the step of its box goes in in no order, so the box goes in no state with all that is to be in it.
#[test]
fn a_module_in_the_step_is_told_as_that_and_no_state_goes() {
    let (low, mut open) = loaded(&[Face::Left]);
    open.fixed = vec![("the step".to_owned(), block([598, 20, 0], [700, 480, 60]))];
    let ask = |open: &super::loading::Open| {
        let mut question = asked(vec![low.clone()], Vec::new());
        question.loading = vec![open.clone()];
        answer(question, WORK, &mut |_| true)
    };
    let ways = ask(&open);
    let style = ways.question.style;
    assert_eq!(ways.loading[0].held[0].words(style), "M3 stands 2.0 mm in the step");
    assert_eq!(ways.states[0].iter().map(|s| s.goes).collect::<Vec<_>>(), [false; 3]);
    let words = ways.state_words(0);
    assert!(
        words
            .iter()
            .all(|words| words.ends_with("M3 stands 2.0 mm in the step")),
        "{words:?}"
    );
    // Beside the step, where only the hand meets it: it goes.
    open.fixed[0].1 = block([600, 20, 0], [700, 480, 60]);
    open.modules[1].room = vec![block([600, 100, 40], [620, 200, 60])];
    let ways = ask(&open);
    assert!(ways.loading[0].held[0].room_only);
    assert_eq!(ways.states[0].iter().map(|s| s.goes).collect::<Vec<_>>(), [true; 3]);
}

/// A lead is as live as a link: with no box coming down, nothing else would say that it comes off.
#[test]
fn all_that_is_on_a_module_comes_off_before_it_comes_out() {
    let (job, evaluation) = built_in("mountain-rescue");
    let ways = ways_in(&job, &evaluation);
    let mut leads = 0;
    for wiring in evaluation.electrics().filter_map(|(_, found)| found.wiring.as_ref()) {
        for (at, seat) in wiring.seats.iter().enumerate() {
            let Some(service) = ways.take_out(&evaluation, seat.seat.placed) else {
                continue;
            };
            let steps = service.steps();
            let out = steps.iter().position(|step| step.starts_with("lift "));
            for link in wiring.links.iter().filter(|link| link.touches(at)) {
                let name = format!("{} {}: ", link.kind.name(), link.number);
                let off = steps.iter().position(|step| step.contains(&name));
                assert!(off.is_some() && off < out, "{name}in {steps:?}");
                let count = steps.iter().filter(|step| step.contains(&name)).count();
                assert_eq!(count, 1, "{name}is told once: {steps:?}");
                assert!(service.links.iter().any(|told| told.starts_with(&name)), "{service:?}");
                leads += usize::from(service.down.is_empty() && link.kind.is_cable());
            }
        }
    }
    assert!(leads > 0, "no lead ends in a box that stays");
}

/// Lugs are welded to the walls and stay: a module under them is lifted out by no order, and goes in by none. A box keeps
/// its modules clear of them; the inside of one whose size was fixed before there were any does not.
#[rstest]
#[case::lugs(crate::HoldDownName::Lugs, false)]
#[case::lugs_in_a_box_of_fixed_size(crate::HoldDownName::Lugs, true)]
#[case::rods_beside_them(crate::HoldDownName::Rods, false)]
fn what_is_welded_to_the_walls_stays_when_modules_are_lifted(
    #[case] hold_down: crate::HoldDownName,
    #[case] holds: bool,
) {
    let (mut job, before) = built_in("orchard-flatbed");
    let exactly = |length| crate::Len::exactly(length, tape::Units::Millimetre);
    for (told, result) in job.boxes.iter_mut().zip(before.boxes.iter().filter(|_| holds)) {
        let inside = result.inside.expect("it has modules");
        told.at = inside.lo().0.map(exactly);
        told.fixed = Some(inside.size().0.map(exactly));
        for (placed, module) in told.modules.iter_mut().zip(&result.modules) {
            placed.at = (module.cuboid.lo() - inside.lo()).0.map(exactly);
        }
    }
    job.design.added.hold_down = Some(hold_down);
    let evaluation = evaluate(&job);
    let ways = ways_in(&job, &evaluation);
    let role = if hold_down == crate::HoldDownName::Lugs {
        enclosure::Role::Lug
    } else {
        enclosure::Role::HoldDownRod
    };
    let made = evaluation.boxes[0].built.as_ref().expect("it is built");
    let count = made.added.iter().filter(|piece| piece.role == role).count();
    let of_role = |(name, _): &&(String, Cuboid)| name.ends_with(role.name());
    assert_eq!(ways.question.loading[0].fixed.iter().filter(of_role).count(), count);
    assert!(count > 0);
    let module = unit_named(&ways, "14").expect("it is in the job");
    let held = ways.take_out(&evaluation, module).expect("it is in a box").held;
    let by_lug = |held: &super::loading::Held| held.by == "a hold-down lug" && !held.room_only;
    assert_eq!(held.as_ref().is_some_and(by_lug), holds, "{held:?}");
    assert_eq!(ways.loading[0].held.iter().any(by_lug), holds, "{:?}", ways.loading[0]);
    let style = ways.question.style;
    let told = ways.loading[0].held.iter().map(|held| held.words(style));
    assert_eq!(
        told.filter(|words| words.contains("lugs of a shorter leg")).count(),
        usize::from(holds)
    );
}

/// Hold-down bars lie over the modules: they go on last, and those over a module come off before it does.
#[test]
fn bars_over_a_module_come_off_first_and_go_on_last() {
    let (mut job, _) = built_in("orchard-flatbed");
    job.design.added.hold_down = Some(crate::HoldDownName::Lugs);
    let evaluation = evaluate(&job);
    let ways = ways_in(&job, &evaluation);
    let module = unit_named(&ways, "14").expect("it is in the job");
    let service = ways.take_out(&evaluation, module).expect("it is in a box");
    let steps = service.steps();
    let place = |words: &str| steps.iter().position(|step| step.contains(words));
    let bar = place("take off the bar over M14 (2 nuts)");
    assert!(
        place("take the lid off") < bar && bar < place("lift M14 out"),
        "{steps:?}"
    );
    // One over each row, and one module in a row.
    let held = evaluation.boxes[0].added.held_down.as_ref().expect("bars");
    let count = held.bars;
    let words = ways.loading[0].words(&ways.question.loading[0]);
    let last = format!("; then the {count} bars over them ({} nuts)", count * 2);
    assert!(words.ends_with(&last), "{words}");
    // An angle is one bar too, and so is what lies half beside a module.
    let (_, mut open) = loaded(&[]);
    open.bars = vec![
        block([110, 0, 105], [125, 480, 110]),
        block([320, 0, 105], [400, 480, 110]),
    ];
    assert_eq!(
        (open.bars_over(&[0]), open.bars_over(&[1]), open.bars_over(&[0, 1])),
        (1, 0, 1)
    );
}

/// A cap is got at from beside, so low room over it is no matter of tools: it goes up by its skirt.
#[test]
fn a_cap_held_by_clamps_is_judged_by_a_hand_beside_them_and_by_its_skirt() {
    let (mut job, _) = built_in("orchard-flatbed");
    job.design.closing = Some(crate::Closing::Cap);
    job.design.cap_held = Some(crate::CapHeldName::Toggles);
    let evaluation = evaluate(&job);
    let asked = question(&job, &evaluation);
    let reach = evaluation.boxes[0].reach.as_ref().expect("clamps");
    assert_eq!((reach.what, reach.from_above), ("toggle clamps", false));
    let beside = "there is no room for a hand beside 5 of its toggle clamps (in the way: front wall of the cavity)";
    assert_eq!(asked.boxes[0].lid_stays.as_deref(), Some(beside));
    // With room beside every clamp nothing is asked for over them, however low the roof.
    let mut roomy = evaluation.clone();
    roomy.boxes[0].reach.as_mut().expect("clamps").over.clear();
    let asked = question(&job, &roomy);
    assert_eq!(asked.boxes[0].lid_stays, None);
    // Its own height, skirt and all; the clamps, which stand higher, stay on the walls.
    let parts = &asked.boxes[0].parts;
    let cap = parts.iter().find(|part| part.name == "cap").expect("a cap");
    let clamps = parts.iter().find(|part| part.name == "toggle clamps").expect("clamps");
    assert!(clamps.solid.face(Face::Top) > cap.solid.face(Face::Top));
    let barred = super::in_place::lid_barred(&super::scene::Scene::of(&asked, 0, &[])).expect("it is under a roof");
    let Bar::Low { needs, has, .. } = barred.bar else {
        panic!("{barred:?}")
    };
    assert_eq!(needs, cap.solid.size()[Axis::Z]);
    assert!(has < needs, "{has:?}");
}

/// What comes off with a cap is its own steel, and goes straight up off the open box, past clamps and screws: nothing of it
/// stands in what stays.
#[rstest]
#[case::clamps(crate::CapHeldName::Toggles)]
#[case::screws(crate::CapHeldName::Screws)]
#[case::loose(crate::CapHeldName::Nothing)]
fn the_solids_of_a_cap_are_round_the_body_and_not_in_it(#[case] held: crate::CapHeldName) {
    for name in ["orchard-flatbed", "harbour-tender"] {
        let (mut job, _) = built_in(name);
        job.design.closing = Some(crate::Closing::Cap);
        job.design.cap_held = Some(held);
        let asked = question(&job, &evaluate(&job));
        assert!(!asked.boxes.is_empty());
        for (i, moved) in asked.boxes.iter().enumerate() {
            let own = super::lid::of(moved);
            let scene = super::scene::Scene::of(&asked, i, &[]);
            let off = Off {
                lid: true,
                fittings: true,
                ..Off::default()
            };
            let around = super::lid::around(&scene, &own, off);
            let of_box = |thing: &&Thing| matches!(thing.what, What::Box(_));
            let stays: Vec<Cuboid> = around
                .things
                .iter()
                .filter(of_box)
                .map(|thing| thing.expected)
                .collect();
            assert!(own.parts.len() >= 5 && !stays.is_empty());
            for part in &own.parts {
                let up = part
                    .solid
                    .grown(Faces::floor_walls_top(Length::ZERO, Length::ZERO, Length::mm(500)));
                let met = stays.iter().find(|solid| up.is_some_and(|up| up.overlaps(solid)));
                assert_eq!(met, None, "{name}, {}: {:?}", moved.name, part.solid);
            }
        }
    }
}

/// A box under a cap of 30, its skirt 10 out, before a bar across the front of its hollow: closed it meets the bar, by 4;
/// open it passes under it and the cap over it, 36 up and down again under the roof at 300. Neither is pitched. A bar up to 272 leaves the cap no
/// room between it and the roof.
#[rstest]
#[case::the_cap_passes_over(256, true)]
#[case::the_cap_does_not(272, false)]
fn a_cap_goes_over_the_box_in_its_place_where_it_has_room(#[case] top: i64, #[case] goes: bool) {
    let mut capped = moved(1, &[block([100, 20, 50], [700, 480, 250])], &[Face::Front]);
    capped.parts[0].open = Some(block([100, 20, 50], [700, 480, 240]));
    let band = block([90, 10, 220], [710, 490, 250]);
    capped.parts.push(Part {
        name: "cap".to_owned(),
        solid: band,
        open: None,
        loose: None,
        own: super::lid::cap(&band, Length::mm(240), Length::mm(2)),
    });
    let floor = thing(7, [0, 0, 0], [1000, 500, 49]);
    let bar = thing(8, [0, 0, 246], [20, 500, top]);
    let level = Question {
        pitch_deg: 0.0,
        ..asked(vec![capped], vec![floor, bar])
    };
    let ways = answer(level, WORK, &mut |_| true);
    let outcome = &ways.boxes[0].outcome;
    if goes {
        let way = outcome.way().expect("open it goes in, and its cap after it");
        assert!(way.off.lid, "{way:?}");
        return;
    }
    let Outcome::Stays { help, .. } = outcome else {
        panic!("{outcome:?}")
    };
    let told = help.iter().find_map(|help| match help {
        Help::LidBarred { barred } => Some(&barred.bar),
        _ => None,
    });
    // Lifted by its height, the cap has 22 of itself before the bar.
    let overlap = (Axis::Z, Length::mm(22));
    let (by, through) = ("thing 8".to_owned(), Face::Front);
    assert_eq!(told, Some(&Bar::OnTheWay { through, by, overlap }));
}

fn bars(ways: &WaysIn, filled: Filled) -> Vec<(&str, &Bar)> {
    let state = ways.states[0].iter().find(|state| state.filled == filled);
    let barred = &state.expect("it is told of").barred;
    barred.iter().map(|b| (b.part.as_str(), &b.bar)).collect()
}

#[test]
fn a_box_is_lifted_empty_half_loaded_or_loaded() {
    let ways = with_modules(&[Face::Left], Vec::new());
    // 12 kg, and 18 for each module: one person to 25, two to 33.
    let told: Vec<(Filled, Option<i64>, Option<&str>, bool)> = ways.states[0]
        .iter()
        .map(|s| (s.filled, s.mass_g, s.hands().map(truck::lift::Hands::words), s.goes))
        .collect();
    assert_eq!(
        told,
        [
            (Filled::Empty, Some(12_000), Some("one person"), true),
            (Filled::Half, Some(30_000), Some("two persons"), true),
            (Filled::Loaded, Some(48_000), Some("hoist or jack"), true),
        ]
    );
    // The second half goes in where the box stands, in the order of loading.
    assert_eq!(ways.states[0][1].within, ways.loading[0].order[..1]);
    assert_eq!(ways.states[0][1].rest, ways.loading[0].order[1..]);
    let lines = ways.state_words(0);
    assert_eq!(
        lines[1],
        "half loaded 30.0 kg, two persons: goes; then in its place M3, and the lid"
    );
    // Without the mass of a module only the empty box is weighed.
    let (low, mut open) = loaded(&[Face::Left]);
    open.modules[1].mass_g = None;
    let mut question = asked(vec![low], Vec::new());
    question.loading = vec![open];
    let ways = answer(question, WORK, &mut |_| true);
    let masses: Vec<Option<i64>> = ways.states[0].iter().map(|s| s.mass_g).collect();
    assert_eq!(masses, [Some(12_000), Some(30_000), None]);
}

#[rstest]
#[case::just_enough(220, None)]
#[case::one_too_low(219, Some(109))]
fn a_module_needs_its_height_and_a_hand_over_the_rim(#[case] underside: i64, #[case] has: Option<i64>) {
    // A rail over M2 alone: 90 and 20 over the rim at 110 end at 220.
    let rail = thing(7, [100, 0, underside], [330, 500, 300]);
    let ways = with_modules(&[Face::Left], vec![rail]);
    let expected = has.map(|has| Bar::Low {
        by: "thing 7".to_owned(),
        needs: Length::mm(110),
        has: Length::mm(has),
    });
    assert_eq!(
        bars(&ways, Filled::Empty),
        expected.iter().map(|bar| ("M2", bar)).collect::<Vec<_>>()
    );
    // M2 is the first half: with it in, nothing is in the way of M3.
    assert_eq!(ways.loading[0].order, [0, 1]);
    assert!(bars(&ways, Filled::Half).is_empty() && bars(&ways, Filled::Loaded).is_empty());
    assert_eq!(ways.states[0][0].goes, has.is_none());
    let words = ways.state_words(0).remove(0);
    let told = words.contains("M2 needs 110.0 mm over the rim, thing 7 leaves 109.0 mm: 1.0 mm too little");
    assert_eq!(told, has.is_some(), "{words}");
}

/// 1 19/32 is read as 1 5/8 when it is needed, 27/64 as 3/8 when it is there: 1 1/4 is what those two lack, where 1 11/64 alone
/// would be told as 1 3/16.
#[test]
fn what_is_too_little_adds_up_as_it_is_read() {
    let barred = super::Barred {
        part: "M2".to_owned(),
        bar: Bar::Low {
            by: "rail".to_owned(),
            needs: Length::sixty_fourths(102),
            has: Length::sixty_fourths(27),
        },
    };
    assert_eq!(
        barred.words(tape::show::Style::default()),
        "M2 needs 1 5/8\" over the rim, rail leaves 3/8\": 1 1/4\" too little"
    );
}

/// What bars a lid and the modules under it is a sentence.
#[test]
fn several_things_that_are_barred_make_a_sentence() {
    let why = "there is no room for a spanner over 1 of its screws (in the way: bed bolt, front)";
    let barred = |part: &str| super::Barred {
        part: part.to_owned(),
        bar: Bar::Screws { why: why.to_owned() },
    };
    let mut state = with_modules(&[Face::Left], Vec::new()).states[0][0].clone();
    state.barred = ["the lid", "M13", "M14", "M15"].map(barred).to_vec();
    let ways = with_modules(&[Face::Left], Vec::new());
    let way = ways.boxes[0].outcome.way();
    let words = |state: &super::State| state.goes_words(&ways.question.loading[0], way, tape::show::Style::default());
    assert_eq!(
        words(&state),
        format!(
            "no: the lid cannot be taken off or put on there, since {why}; M13, M14 and M15 do not go in there either"
        )
    );
    state.barred.truncate(2);
    assert!(words(&state).ends_with("; M13 does not go in there either"));
}

#[test]
fn a_lid_needs_its_own_height_over_it_and_a_side_to_leave_by() {
    // 9 over the top of the lid at 120, all over it and past the sides: it neither lifts off by its 10, nor...
    let roof = || thing(7, [0, 0, 129], [1000, 500, 300]);
    let ways = with_modules(&[], vec![roof()]);
    let expected = Bar::Low {
        by: "thing 7".to_owned(),
        needs: Length::mm(10),
        has: Length::mm(9),
    };
    assert_eq!(bars(&ways, Filled::Empty)[0], ("the lid", &expected));
    // ... but it is slid out by an open side.
    let ways = with_modules(&[Face::Left], vec![roof()]);
    assert!(bars(&ways, Filled::Empty).iter().all(|(part, _)| *part != "the lid"));
    // With all the room over it and no side open it comes off, and stays in there.
    let ways = with_modules(&[], Vec::new());
    assert_eq!(bars(&ways, Filled::Empty)[0], ("the lid", &Bar::Closed));
    assert!(ways.states[0][2].goes, "loaded, nothing is opened in its place");
}

#[test]
fn what_is_beside_the_opening_stops_a_module_on_its_way_out() {
    // Over the left sill a rail from 150 up: lifted by 100 the module and the hand reach from 110 to 220.
    let rail = thing(7, [0, 0, 150], [1000, 10, 300]);
    let ways = with_modules(&[Face::Left], vec![rail]);
    let found = bars(&ways, Filled::Half);
    let expected = Bar::OnTheWay {
        through: Face::Left,
        by: "thing 7".to_owned(),
        overlap: (Axis::Z, Length::mm(70)),
    };
    assert_eq!(found, [("M3", &expected)]);
}

/// What is told where nothing was found names the motions that were looked at.
#[test]
fn no_way_is_told_with_what_was_looked_at() {
    let narrow = vec![
        thing(7, [0, 470, 0], [1000, 500, 20]),
        thing(8, [0, 0, 0], [1000, 30, 20]),
    ];
    let ways = worked_out(vec![moved(1, &[body()], &[Face::Bottom])], narrow);
    let verdict = ways.boxes[0].verdict(ways.question.style);
    assert!(verdict.contains("straight, slid, pitched") && verdict.contains("not turned in plan"));
    let lines = ways.boxes[0].lines(ways.question.style);
    assert!(lines[0].contains("not looked at: turned in plan"), "{lines:?}");
}

#[test]
fn a_service_trial_tells_what_is_too_low_and_what_comes_off_first() {
    let (job, evaluation) = built_in("orchard-flatbed");
    let ways = ways_in(&job, &evaluation);
    let module = unit_named(&ways, "14").unwrap();
    let service = ways.take_out(&evaluation, module).unwrap();
    let battery_box = &evaluation.boxes[0];
    let solid = battery_box.modules.iter().find(|m| m.id == module).unwrap().cuboid;
    let rim =
        ways.question.boxes[0].parts[0].open.unwrap().face(Face::Top) - ways.question.boxes[0].from_cavity[Axis::Z];
    let roof = evaluation
        .cavity(battery_box.cavity)
        .unwrap()
        .space
        .unwrap()
        .face(Face::Top);
    // A screw of the lid is under a bolt of the bed; and the module is under the roof.
    let [lid, barred] = &service.not_in_place[..] else {
        panic!("{service:?}")
    };
    assert!(
        matches!(&lid.bar, Bar::Screws { why } if why.contains("bed bolt")),
        "{lid:?}"
    );
    let Bar::Low { needs, has, .. } = &barred.bar else {
        panic!("{barred:?}")
    };
    // Its height over the rim, nobody having entered a hand; and from the rim to the roof, less what bulges.
    assert_eq!((barred.part.as_str(), *needs), ("M14", solid.size()[Axis::Z]));
    assert!((*has - (roof - rim)).abs() < Length::mm(10), "{has:?} {:?}", roof - rim);
    let text = service.text();
    assert!(
        text.contains("first off: left box") && text.contains("too little"),
        "{text}"
    );
}

/// Whole numbers in a fixed order for a seed (a linear congruence; Knuth's multiplier, from memory).
struct Dice(u64);

impl Dice {
    fn between(&mut self, low: i64, high: i64) -> i64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        low + i64::try_from((self.0 >> 33) % u64::try_from(high - low).unwrap()).unwrap()
    }
}

/// A body with a flange and screw heads over it and a gland at its front, under and beside things anywhere.
fn any_scene(seed: u64) -> Question {
    let mut dice = Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) + 1);
    let (x, y, z) = (dice.between(60, 200), dice.between(20, 60), dice.between(20, 80));
    let (x1, y1, z1) = (
        x + dice.between(300, 700),
        500 - dice.between(20, 60),
        280 - dice.between(0, 80),
    );
    let solids = [
        block([x, y, z], [x1, y1, z1]),
        block([x - 10, y - 10, z1 - 20], [x1 + 10, y1 + 10, z1 - 15]),
        block([x - 5, y - 5, z1], [x1 + 5, y1 + 5, z1 + 8]),
    ];
    let through = [
        &[Face::Bottom][..],
        &[Face::Left],
        &[Face::Rear],
        &[Face::Bottom, Face::Left],
    ];
    let mut moved = moved(1, &solids, through[usize::try_from(dice.between(0, 4)).unwrap()]);
    for (part, name) in moved.parts.iter_mut().zip(["body", "flange", "screw heads"]) {
        part.name = name.to_owned();
    }
    let gland = block([x - 25, 200, z + 60], [x, 230, z + 90]);
    moved.parts.push(Part {
        name: "gland".to_owned(),
        solid: gland,
        open: Some(gland),
        loose: None,
        own: Vec::new(),
    });
    let things = (7..7 + u32::try_from(dice.between(1, 5)).unwrap()).filter_map(|id| {
        let low = [dice.between(-20, 980), dice.between(-20, 480), dice.between(-20, 280)];
        let high = [0, 1, 2].map(|k| low[k] + [dice.between(10, 500), dice.between(10, 200), dice.between(5, 40)][k]);
        let thing = thing(id, low, high);
        let free = moved.parts.iter().all(|part| !part.solid.overlaps(&thing.1.expected));
        free.then_some(thing)
    });
    let things: Vec<_> = things.collect();
    // Now and then its opening is narrowed at two ends.
    let open = moved.through[0];
    let axis = if open.axis() == Axis::Y { Axis::X } else { Axis::Y };
    for end in [Face::low(axis), Face::high(axis)] {
        if dice.between(0, 3) > 0 {
            continue;
        }
        let mut lip = Faces::all(Length::ZERO);
        lip[open] = Length::mm(3);
        lip[open.opposite()] = -hollow().size()[open.axis()];
        lip[end.opposite()] = Length::mm(dice.between(40, 120)) - hollow().size()[axis];
        let solid = hollow().grown(lip).unwrap();
        moved.walls.push(Thing {
            name: format!("{} lip of the {} opening", end.name(), open.name()),
            what: What::Lip(open, end),
            expected: solid,
            sure: solid,
        });
    }
    asked(vec![moved], things)
}

/// The thing as it is after a fix, made here by hand.
fn mended(question: &Question, help: &Help) -> Option<Question> {
    let mut mended = question.clone();
    match help {
        Help::TakeOut { what, .. } => mended.things.retain(|(_, thing)| thing.what != *what),
        Help::Raise { by, .. } => mended.ground -= *by,
        Help::Smaller { axis, cut, .. } => {
            let body = question.boxes[0].parts[0].solid;
            for part in &mut mended.boxes[0].parts {
                let mut corners = [part.solid.lo(), part.solid.hi()];
                let rides_at_the_top = part.name != "body" && part.name != "gland" && *axis == Axis::Z;
                for (end, corner) in corners.iter_mut().enumerate() {
                    corner[*axis] += match part.name.as_str() {
                        // At the front wall, in the lower or the upper half of it, on one side.
                        "gland" => {
                            let middle = |solid: &Cuboid| (solid.lo()[*axis] + solid.hi()[*axis]).half_down();
                            if middle(&part.solid) < middle(&body) {
                                cut[0]
                            } else {
                                -cut[1]
                            }
                        }
                        _ if end == 1 || rides_at_the_top => -cut[1],
                        _ => cut[0],
                    };
                }
                part.solid = Cuboid::between(corners[0], corners[1]);
                part.open = Some(part.solid);
            }
        }
        Help::Wider { opening, lips, .. } => {
            for wall in &mut mended.boxes[0].walls {
                for (_, by) in lips.iter().filter(|(end, _)| wall.what == What::Lip(*opening, *end)) {
                    let What::Lip(_, end) = wall.what else { continue };
                    let mut less = Faces::all(Length::ZERO);
                    less[end.opposite()] = -*by;
                    wall.expected = wall.expected.grown(less).unwrap();
                    wall.sure = wall.expected;
                }
            }
        }
        Help::Bed { .. } | Help::LidOn { .. } | Help::LidBarred { .. } => return None,
    }
    Some(mended)
}

#[test]
fn every_fix_that_is_told_makes_a_way() {
    let (mut stays, mut told, mut wider) = (0, 0, 0);
    for seed in 0..150 {
        let question = any_scene(seed);
        let ways = answer(question.clone(), WORK, &mut |_| true);
        let Outcome::Stays { help, .. } = &ways.boxes[0].outcome else {
            continue;
        };
        stays += 1;
        for help in help {
            let Some(mended) = mended(&question, help) else {
                continue;
            };
            told += 1;
            wider += usize::from(matches!(help, Help::Wider { .. }));
            let then = answer(mended, WORK, &mut |_| true);
            assert!(
                then.boxes[0].outcome.way().is_some(),
                "seed {seed}: {}",
                help.words(question.style)
            );
        }
    }
    assert!(
        stays >= 15 && told >= 30 && wider >= 5,
        "{stays} without a way, {told} fixes, {wider} of them openings"
    );
}

#[test]
fn a_flange_that_is_longer_than_the_opening_is_helped_by_no_height() {
    // Open at the left through 40 less than the flange is long; the height is free.
    let solids = [
        block([100, 20, 50], [700, 480, 200]),
        block([80, 10, 170], [720, 490, 175]),
    ];
    let question = asked(
        vec![moved(1, &solids, &[Face::Left])],
        vec![
            thing(7, [0, -10, 0], [100, 0, 300]),
            thing(8, [700, -10, 0], [1000, 0, 300]),
        ],
    );
    let ways = answer(question, WORK, &mut |_| true);
    let Outcome::Stays { help, .. } = &ways.boxes[0].outcome else {
        panic!("640 does not go through 600")
    };
    let cuts: Vec<(Axis, Length)> = help
        .iter()
        .filter_map(|h| match h {
            Help::Smaller { axis, cut, .. } => Some((*axis, cut[0] + cut[1])),
            _ => None,
        })
        .collect();
    assert_eq!(cuts, [(Axis::X, Length::mm(40))]);
}

/// The job built in with its first cavity closed at the bottom: that cavity, all of the box in it, and its space.
fn closed_below() -> (Job, Id, Cuboid, Cuboid) {
    let (job, evaluation) = built_in("orchard-flatbed");
    let cavity = job.cavities[0].id;
    let side = set(&job, WayField::Opening(cavity, Face::Bottom), "closed");
    let hull = Cuboid::hull_of(&evaluation.boxes[0].solids).expect("it is built");
    let space = evaluation
        .cavity(cavity)
        .expect("it is there")
        .space
        .expect("it is taped");
    (side, cavity, hull, space)
}

/// Modules lower by what is told: the box that is built round them goes in.
#[test]
fn a_job_changed_as_told_goes() {
    let (side, cavity, hull, space) = closed_below();
    // The upper lip is 12 mm into what stands over the box, and the lower one as far from the middle of the face.
    let half = hull.face(Face::Top) - Length::mm(12) - (space.lo()[Axis::Z] + space.hi()[Axis::Z]).half_down();
    let clear = format!("{} mm x {} mm", space.size()[Axis::X].as_mm(), (half + half).as_mm());
    let low = set(&side, WayField::Opening(cavity, Face::Left), &clear);
    let evaluation = evaluate(&low);
    let ways = ways_in(&low, &evaluation);
    let Outcome::Stays { help, .. } = &ways.boxes[0].outcome else {
        panic!("too high for its opening: {}", ways.text_of(None))
    };
    let lower = help.iter().find_map(|h| match h {
        Help::Smaller { axis: Axis::Z, cut, .. } => Some(*cut),
        _ => None,
    });
    let [bottom, top] = lower.unwrap_or_else(|| panic!("{}", ways.text_of(None)));
    let mut changed = low.clone();
    let height = changed.kinds[0].size[2].as_ref().unwrap().value() - bottom - top;
    changed.kinds[0].size[2] = Some(crate::Len::exactly(height, tape::Units::Millimetre));
    let at = &mut changed.boxes[0].at;
    at[2] = crate::Len::exactly(at[2].value() + bottom, tape::Units::Millimetre);
    let ways = ways_in(&changed, &evaluate(&changed));
    assert!(ways.boxes[0].outcome.way().is_some(), "{}", ways.text_of(None));
}

/// A job open at the rear alone, with a bed whose tail hangs behind the box, level with it, and whose floor is over all.
fn under_a_bed(bed: &str) -> Job {
    let (job, evaluation) = built_in("orchard-flatbed");
    let cavity = job.cavities[0].id;
    let at = Point(
        job.cavities[0]
            .place
            .as_ref()
            .unwrap()
            .each_ref()
            .map(crate::Len::value),
    );
    let mut job = job;
    job.cavities[0].keep_outs.clear();
    let job = set(&job, WayField::Opening(cavity, Face::Rear), "open");
    let job = set(&job, WayField::Opening(cavity, Face::Left), "closed");
    let mut job = set(&job, WayField::Opening(cavity, Face::Bottom), "closed");
    let body = evaluation.boxes[0].solids[0].moved(at);
    let space = evaluation.cavity(cavity).unwrap().space.unwrap().moved(at);
    let text = |length: Length| format!("{} mm", length.as_mm());
    let parts = [
        (
            "bed floor",
            body.face(Face::Front),
            space.face(Face::Rear) + Length::mm(300),
            150,
            190,
        ),
        (
            "tail",
            space.face(Face::Rear) + Length::mm(200),
            space.face(Face::Rear) + Length::mm(300),
            -100,
            150,
        ),
    ];
    for (n, (name, from, to, low, high)) in parts.into_iter().enumerate() {
        job = job.with(&Edit::Bed(BedEdit::Add)).unwrap();
        let top = body.face(Face::Top);
        job = set(&job, WayField::PartName(n), name);
        // The rear first: the front may not be behind it.
        job = set(&job, WayField::PartTo(n), &text(to));
        job = set(&job, WayField::PartFrom(n), &text(from));
        job = set(&job, WayField::PartHighest(n), &text(top + Length::mm(high)));
        job = set(&job, WayField::PartLowest(n), &text(top + Length::mm(low)));
    }
    // Its hinge is over the tail: tilted by 60 degrees the tail is turned forward and up.
    job = set(&job, WayField::HingeX, &text(space.face(Face::Rear) + Length::mm(250)));
    job = set(&job, WayField::HingeZ, &text(body.face(Face::Top) + Length::mm(170)));
    job = set(&job, WayField::Tilt, "60");
    set(&job, WayField::Bed, bed)
}

#[test]
fn the_bed_as_it_stands_is_in_the_way_of_every_opening() {
    // On the frame its tail hangs 100 below the box's top, behind the opening.
    let job = under_a_bed("on the frame");
    let ways = ways_in(&job, &evaluate(&job));
    let Outcome::Stays { tried, .. } = &ways.boxes[0].outcome else {
        panic!("through the tail: {}", ways.text_of(None))
    };
    assert_eq!((tried[0].through, tried[0].stops[0].what), (Face::Rear, What::Bed(1)));
    assert_eq!(tried[0].stops[0].overlap.0, Axis::Z);
    let off = set(&job, WayField::Bed, "off the truck");
    let ways = ways_in(&off, &evaluate(&off));
    assert_eq!(
        ways.boxes[0].outcome.way().map(|w| (w.through, w.motion)),
        Some((Face::Rear, Motion::Straight))
    );
    // What of it nobody entered is told as not looked at.
    let mut bare = job.clone();
    bare.way_in.bed_parts.clear();
    let asked = question(&bare, &evaluate(&bare));
    assert!(
        asked
            .not_looked_at
            .contains(&"the bed on the frame: enter its floor and its crossmembers".to_owned()),
        "{:?}",
        asked.not_looked_at
    );
}

#[test]
fn how_else_the_bed_may_stand_is_told_and_holds() {
    let job = under_a_bed("on the frame");
    let ways = ways_in(&job, &evaluate(&job));
    let Outcome::Stays { help, .. } = &ways.boxes[0].outcome else {
        panic!("its tail is in the way: {}", ways.text_of(None))
    };
    let beds: Vec<&str> = help
        .iter()
        .filter_map(|h| match h {
            Help::Bed { bed, .. } => Some(bed.name()),
            _ => None,
        })
        .collect();
    assert!(beds.contains(&"off the truck"), "{}", ways.text_of(None));
    for bed in &beds {
        let job = set(&job, WayField::Bed, bed);
        let then = ways_in(&job, &evaluate(&job));
        assert!(then.boxes[0].outcome.way().is_some(), "{bed}: {}", then.text_of(None));
    }
    // Every state that is not told is none.
    for bed in ["on the frame", "tilted up", "off the truck"] {
        let job = set(&job, WayField::Bed, bed);
        let goes = ways_in(&job, &evaluate(&job)).boxes[0].outcome.way().is_some();
        assert_eq!(goes, beds.contains(&bed), "{bed}");
    }
    let told = format!("with the bed {} also {}", beds[0], ways.boxes[0].name);
    assert!(ways.summary().contains(&told), "{}", ways.summary());
    assert!(
        ways.text_of(None)
            .contains("fix: take the bed off the truck: then it goes in from the rear, straight")
    );
}

/// A narrowed opening in the middle of its face stops the box; where it was measured to be, it goes in.
#[test]
fn where_a_narrowed_opening_is_is_entered_and_else_told_as_assumed() {
    let (side, cavity, hull, space) = closed_below();
    // As long as the face, 30 mm higher than the box, and lying where the box is, not in the middle.
    let mut high = side.clone();
    high.cavities[0].keep_outs.clear();
    let text = |length: Length| format!("{} mm", length.as_mm());
    let clear = format!(
        "{} x {}",
        text(hull.size().0[0] + Length::mm(30)),
        text(space.size()[Axis::Z])
    );
    let narrow = set(&high, WayField::Opening(cavity, Face::Left), &clear);
    let place = |job: &Job| {
        let field = Field::Way(WayField::OpeningAt(cavity, Face::Left));
        let shown = crate::field::show(job, &[field]).remove(0).1;
        (shown.text, shown.state)
    };
    assert_eq!(place(&narrow), ("middle".to_owned(), crate::State::Assumed));
    let asked = question(&narrow, &evaluate(&narrow));
    let words = "the left opening in the middle of its face";
    assert!(asked.assumed.iter().any(|a| a.ends_with(words)), "{:?}", asked.assumed);
    let lips = |asked: &Question| -> Vec<(Face, Cuboid)> {
        let walls = asked.boxes[0].walls.iter();
        let lips = walls.filter_map(|w| match w.what {
            What::Lip(Face::Left, end) => Some((end, w.expected.moved(-asked.boxes[0].from_cavity))),
            _ => None,
        });
        lips.collect()
    };
    let ends: Vec<Face> = lips(&asked).iter().map(|(end, _)| *end).collect();
    assert_eq!(ends, [Face::Front, Face::Rear]);
    // 15 mm before the box.
    let at = hull.face(Face::Front) - space.face(Face::Front) - Length::mm(15);
    let placed = set(
        &narrow,
        WayField::OpeningAt(cavity, Face::Left),
        &format!("{} x 0 mm", text(at)),
    );
    assert_eq!(place(&placed).1, crate::State::Given);
    let asked = question(&placed, &evaluate(&placed));
    assert!(asked.assumed.iter().all(|a| !a.contains(words)), "{:?}", asked.assumed);
    let [front, rear] = lips(&asked)[..] else {
        panic!("a lip at each end")
    };
    assert_eq!(front.1.face(Face::Rear), hull.face(Face::Front) - Length::mm(15));
    assert_eq!(rear.1.face(Face::Front), hull.face(Face::Rear) + Length::mm(15));
    assert!(asked.boxes[0].in_the_middle.is_empty());
    // It survives the file, and goes with the size that it belongs to.
    assert_eq!(load(crate::to_text(&placed).as_bytes()).unwrap(), placed);
    let open = set(&placed, WayField::Opening(cavity, Face::Left), "open");
    assert_eq!(open.cavities[0].openings.iter().find(|o| o.at.is_some()), None);
    let field = Field::Way(WayField::OpeningAt(cavity, Face::Left));
    let refused = placed
        .with(&Edit::Set {
            field,
            text: "3".to_owned(),
        })
        .unwrap_err();
    assert!(refused.mend().contains("front and lower edges"), "{}", refused.mend());
}

#[test]
fn a_proof_says_that_it_rests_on_an_opening_in_the_middle() {
    let narrow = || {
        let mut narrow = moved(1, &[body()], &[Face::Bottom]);
        narrow.walls.extend([Face::Left, Face::Right].map(|end| {
            let solid = match end {
                Face::Left => block([0, 0, -3], [1000, 30, 0]),
                _ => block([0, 470, -3], [1000, 500, 0]),
            };
            Thing {
                name: format!("{} lip of the bottom opening", end.name()),
                what: What::Lip(Face::Bottom, end),
                expected: solid,
                sure: solid,
            }
        }));
        narrow
    };
    let words = "with the bottom opening in the middle of its face";
    let mut in_the_middle = narrow();
    in_the_middle.in_the_middle = vec![Face::Bottom];
    for (moved, told) in [(narrow(), false), (in_the_middle, true)] {
        let ways = worked_out(vec![moved], Vec::new());
        assert!(ways.boxes[0].outcome.is_impossible());
        let style = ways.question.style;
        assert_eq!(ways.boxes[0].verdict(style).contains(words), told);
        assert_eq!(ways.boxes[0].lines(style)[0].contains(words), told);
    }
}

/// 460 wide and 440 of opening, 10 of it at each side: what has to be cut back, how large it is and has to be.
#[test]
fn a_lip_is_told_with_its_end_and_the_opening_with_its_sizes() {
    let mut narrow = moved(1, &[body(), block([100, 20, 245], [700, 480, 250])], &[Face::Bottom]);
    for (end, lo, hi) in [
        (Face::Left, [0, 0, -3], [1000, 30, 0]),
        (Face::Right, [0, 470, -3], [1000, 500, 0]),
    ] {
        let solid = block(lo, hi);
        narrow.walls.push(Thing {
            name: format!("{} lip of the bottom opening", end.name()),
            what: What::Lip(Face::Bottom, end),
            expected: solid,
            sure: solid,
        });
    }
    // Nothing slides: a rail stands at each side of its place.
    let rails = vec![
        thing(7, [0, 0, 100], [1000, 20, 150]),
        thing(8, [0, 480, 100], [1000, 500, 150]),
    ];
    let mut question = asked(vec![narrow], rails);
    question.pitch_deg = 0.0;
    let ways = answer(question, WORK, &mut |_| true);
    let text = ways.boxes[0].lines(ways.question.style).join("\n");
    let words = "fix: make the bottom opening larger, the left lip by 10.0 mm and the right lip by 10.0 mm: it has to be 460.0 mm \
                 in width, it is 440.0 mm; then it goes up from below, straight";
    assert!(text.contains(words), "{text}");
    // Each lip is told once, though body and flange meet it.
    for end in ["left", "right"] {
        let name = format!("{end} lip of the bottom opening is in the way");
        assert_eq!(text.matches(&name).count(), 1, "{text}");
    }
}

#[test]
fn every_face_that_was_tried_has_its_picture_and_the_bed_is_in_it() {
    let job = under_a_bed("on the frame");
    let cavity = job.cavities[0].id;
    let job = set(&job, WayField::Opening(cavity, Face::Top), "open");
    let job = set(&job, WayField::Opening(cavity, Face::Front), "20 mm x 20 mm");
    let ways = ways_in(&job, &evaluate(&job));
    let Outcome::Stays { tried, .. } = &ways.boxes[0].outcome else {
        panic!("{}", ways.text_of(None))
    };
    assert_eq!((tried.len(), ways.pictures[0].len()), (2, 2));
    for picture in &ways.pictures[0] {
        assert_eq!(picture.bed_words, "the bed on the frame");
        let names: Vec<&str> = picture.bed.iter().map(|bed| bed.name.as_str()).collect();
        assert!(names.contains(&"bed floor"), "{names:?}");
        let [along, up] = picture.window;
        let is_shown = |[a, u]: &[Length; 2]| along[0] <= *a && *a <= along[1] && up[0] <= *u && *u <= up[1];
        assert!(picture.bed.iter().flat_map(|bed| &bed.corners).all(is_shown));
    }
    let rear = tried.iter().position(|t| t.through == Face::Rear).unwrap();
    assert!(
        ways.pictures[0][rear]
            .bed
            .iter()
            .any(|bed| bed.name == "tail" && bed.is_met)
    );
    // Tilted, each outline is within the blocks that stand for it.
    let job = set(&job, WayField::Bed, "tilted up");
    let asked = question(&job, &evaluate(&job));
    for (part, outline) in asked.bed_outlines.iter().enumerate() {
        let blocks = asked.things.iter().filter(|(_, thing)| thing.what == What::Bed(part));
        let blocks: Vec<Cuboid> = blocks.map(|(_, thing)| thing.expected).collect();
        for [x, z] in outline {
            let near = Length::from_nm(5);
            let holds = |b: &Cuboid| {
                b.face(Face::Front) - near <= *x
                    && *x <= b.face(Face::Rear) + near
                    && b.face(Face::Bottom) - near <= *z
                    && *z <= b.face(Face::Top) + near
            };
            assert!(blocks.iter().any(holds), "{part}: {x:?} {z:?}");
        }
    }
}
