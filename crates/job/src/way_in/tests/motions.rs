//! How a box goes in, and what stops it.

use super::*;

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
                bay: Length::ZERO,
                then: Then {
                    through: Face::Bottom,
                    motion: Motion::Straight,
                    off: Off::default(),
                    sure: true,
                },
            };
            assert_eq!(help[1..], [lower]);
            assert_eq!((tried[0].stops[0].what, tried[0].is_proved()), (What::Ground, false));
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

/// What is told where nothing was found names the motions that were looked at.
#[test]
fn no_way_is_told_with_what_was_looked_at() {
    let narrow = vec![
        thing(7, [0, 470, 0], [1000, 500, 20]),
        thing(8, [0, 0, 0], [1000, 30, 20]),
    ];
    let ways = worked_out(vec![moved(1, &[body()], &[Face::Bottom])], narrow);
    let verdict = ways.boxes[0].verdict(ways.question.style);
    assert!(verdict.contains("level along all axes, and pitched") && verdict.contains("not turned in plan"));
    let lines = ways.boxes[0].lines(ways.question.style);
    assert!(lines[0].contains("not looked at: turned in plan"), "{lines:?}");
}
