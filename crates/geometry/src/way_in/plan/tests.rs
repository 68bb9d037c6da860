//! The planner on small scenes.

use tape::Length;

use super::*;
use crate::fit::Unwatched;
use crate::{Axis, Cuboid, Face, Point};

fn inches(value: f64) -> Length {
    Length::from_mm(value * 25.4)
}

fn block([x0, z0, x1, z1]: [f64; 4]) -> Cuboid {
    let corner = |x, z, y| Point([inches(x), y, inches(z)]);
    Cuboid::between(corner(x0, z0, Length::ZERO), corner(x1, z1, Length::mm(500)))
}

fn pose(x: f64, z: f64, turn_deg: f64) -> Pose {
    Pose {
        along: inches(x),
        up: inches(z),
        turn_deg,
    }
}

/// A box of this length and height about its middle.
fn body(length: f64, height: f64) -> Vec<Cuboid> {
    vec![block([-length / 2.0, -height / 2.0, length / 2.0, height / 2.0])]
}

/// A box 40 in long lowered under a lip, over a low member at the rear.
fn under_a_lip(height: f64) -> Query {
    Query {
        plane: Plane::Side,
        parts: body(40.0, height),
        pivot: [Length::ZERO; 2],
        obstacles: [
            [-10.0, -6.0, 58.0, 0.0],
            [-8.0, 0.0, 0.0, 19.0],
            [48.0, 0.0, 54.0, 8.0],
            [-8.0, 15.0, 14.0, 19.0],
        ]
        .map(block)
        .to_vec(),
        start: pose(35.5, 40.667, 0.0),
        goal: pose(21.5, 0.3 + height / 2.0, 0.0),
        limits: Limits {
            along: [0.0, 62.0].map(inches),
            up: [0.0, 60.0].map(inches),
            turn_deg: [-80.0, 20.0],
        },
    }
}

fn answer(query: &Query) -> Answer {
    plan(query, Budget::default(), &mut Unwatched).unwrap()
}

#[test]
fn lower_and_pitch_under_a_lip() {
    // Bounds from an independent search: a way at 13.375 in, none at 13.9 in.
    let goes = answer(&under_a_lip(13.375));
    assert_eq!(goes.decision, Decision::Goes);
    let way = goes.way.unwrap();
    assert_eq!(way.poses[0], under_a_lip(13.375).start);
    assert!((3..12).contains(&way.poses.len()), "{:#?}", way.poses);
    // It has to pitch, and ends 0.3 in above the floor; on the way it may come nearer.
    assert!(way.poses.iter().any(|pose| pose.turn_deg > 5.0));
    let floor = way.margins.iter().find(|margin| margin.obstacle == 0).unwrap();
    assert!(floor.distance > Length::ZERO && floor.distance < inches(0.3));
    let none = answer(&under_a_lip(13.9));
    assert_eq!((none.decision, none.way), (Decision::Impossible, None));
}

#[test]
fn level_only_a_slot_is_exact() {
    // The lip leaves 7 in above the rear member: exactly that goes, a thousandth more does not.
    let level = |height: f64| {
        let mut query = under_a_lip(height);
        query.limits.turn_deg = [0.0, 0.0];
        answer(&query).decision
    };
    assert_eq!(level(7.0), Decision::Goes);
    assert_eq!(level(7.001), Decision::Impossible);
}

#[test]
fn an_end_that_is_not_free_is_told() {
    let mut query = under_a_lip(10.0);
    query.goal.up = inches(4.0);
    let expected = Decision::NoRoom {
        end: End::Goal,
        obstacle: 0,
        overlap: inches(1.0),
    };
    match answer(&query).decision {
        Decision::NoRoom { end, obstacle, overlap } => {
            assert_eq!((end, obstacle), (End::Goal, 0));
            assert!((overlap - inches(1.0)).abs() < Length::from_nm(100), "{overlap:?}");
        }
        other => panic!("{other:?}, not {expected:?}"),
    }
}

#[test]
fn what_is_beside_the_thing_is_not_in_the_way() {
    let mut query = under_a_lip(14.0);
    query.limits.turn_deg = [0.0, 0.0];
    assert_eq!(answer(&query).decision, Decision::Impossible);
    let aside = Point([Length::ZERO, Length::mm(500), Length::ZERO]);
    query.obstacles[3] = query.obstacles[3].moved(aside);
    assert_eq!(answer(&query).decision, Decision::Goes);
}

#[test]
fn a_flange_at_the_top_counts() {
    // Straight down between two members 42 in apart: the body goes, a flange 44 in long below its top does not.
    let mut query = under_a_lip(10.0);
    query.obstacles = [[-10.0, 0.0, 0.0, 8.0], [42.0, 0.0, 60.0, 8.0]].map(block).to_vec();
    query.start = pose(21.0, 40.0, 0.0);
    query.goal = pose(21.0, 6.0, 0.0);
    assert_eq!(answer(&query).decision, Decision::Goes);
    let flange = |below: f64| {
        let mut query = query.clone();
        query.parts.push(block([-22.0, 4.5 - below, 22.0, 5.0 - below]));
        answer(&query).decision
    };
    assert_eq!(flange(0.0), Decision::Goes);
    assert!(matches!(flange(5.0), Decision::NoRoom { end: End::Goal, .. }));
}

#[test]
fn what_would_make_it_work() {
    let told = changes(
        &under_a_lip(14.2),
        Length::mm(2),
        Budget { work: 100_000_000 },
        &mut Unwatched,
    )
    .unwrap();
    // Without the low member, without the lip, or with room to dip below the floor; the front wall stops nothing.
    assert_eq!(told.without, [0, 2, 3]);
    let height = told.cuts.iter().find(|cut| cut.face == crate::Face::Top).unwrap();
    let left = |less: Length| (inches(14.2) - less).as_inches();
    assert!(left(height.goes) > 13.3 && left(height.goes) < 13.9, "{height:?}");
    assert!(
        left(height.not) > left(height.goes) && left(height.not) < 14.1,
        "{height:?}"
    );
}

#[test]
fn a_flange_that_is_too_long_is_helped_by_no_height() {
    // The body goes straight down, its flange is 2 in longer than the way: only the length helps.
    let mut query = under_a_lip(10.0);
    query.obstacles = [[-10.0, 0.0, 0.0, 8.0], [42.0, 0.0, 60.0, 8.0]].map(block).to_vec();
    query.parts.push(block([-22.0, 2.0, 22.0, 2.5]));
    query.start = pose(21.0, 40.0, 0.0);
    query.goal = pose(21.0, 5.0, 0.0);
    query.limits.turn_deg = [0.0, 0.0];
    let told = changes(&query, Length::mm(1), Budget::default(), &mut Unwatched).unwrap();
    assert!(
        told.cuts.iter().all(|cut| cut.face.axis() != Axis::Z),
        "{:?}",
        told.cuts
    );
}

#[test]
fn a_smaller_thing_keeps_what_it_carries() {
    // A flange below the top, a lid on it, a gland in the front wall, rails under the floor.
    let parts = [
        [0.0, 0.0, 40.0, 10.0],
        [-1.0, 9.5, 41.0, 9.75],
        [0.0, 10.0, 40.0, 10.25],
        [-1.5, 6.0, 0.0, 7.0],
        [0.0, -1.0, 40.0, 0.0],
    ]
    .map(block);
    let made = |face, by| brought_in(&parts, face, inches(by)).unwrap();
    let lower = [
        [0.0, 0.0, 40.0, 8.0],
        [-1.0, 7.5, 41.0, 7.75],
        [0.0, 8.0, 40.0, 8.25],
        [-1.5, 4.0, 0.0, 5.0],
        [0.0, -1.0, 40.0, 0.0],
    ];
    assert_eq!(made(Face::Top, 2.0), lower.map(block));
    // From below the rails come up, and all above the middle stays.
    let raised = made(Face::Bottom, 2.0);
    assert_eq!((raised[0], raised[1]), (block([0.0, 2.0, 40.0, 10.0]), parts[1]));
    assert_eq!((raised[3], raised[4]), (parts[3], block([0.0, 1.0, 40.0, 2.0])));
    // In length all that is as long as the body gets shorter; the gland at the other end stays.
    let shorter = made(Face::Rear, 4.0);
    assert_eq!(shorter[1], block([-1.0, 9.5, 37.0, 9.75]));
    assert_eq!(shorter[3], parts[3]);
    assert_eq!(made(Face::Front, 4.0)[3], block([2.5, 6.0, 4.0, 7.0]));
    // By half of it or more it is another thing.
    assert_eq!(brought_in(&parts, Face::Top, inches(5.0)), None);
}

#[test]
fn a_watcher_stops_it() {
    struct Never;
    impl Watch for Never {
        fn carry_on(&mut self, _: crate::way_in::Progress) -> bool {
            false
        }
    }
    let stopped = plan(&under_a_lip(13.6), Budget::default(), &mut Never).unwrap();
    assert_eq!((stopped.decision, stopped.ended), (Decision::TooClose, Ended::Stopped));
    let short = plan(&under_a_lip(13.6), Budget { work: 1_000_000 }, &mut Unwatched).unwrap();
    assert_eq!((short.decision, short.ended), (Decision::TooClose, Ended::Budget));
    assert!(short.work <= 1_000_000);
}

#[test]
fn what_makes_no_sense_is_refused() {
    let mut query = under_a_lip(10.0);
    query.start.along = inches(-1.0);
    let refused = decide(&query, Budget::default(), &mut Unwatched).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "the place along of the start: -25.4 is outside the limits 0 to 1574.8; widen them or move it"
    );
    query.parts.clear();
    assert_eq!(
        decide(&query, Budget::default(), &mut Unwatched),
        Err(QueryError::NoParts)
    );
}

#[test]
fn rolling_in_is_pitching_in_seen_from_the_rear() {
    for height in [12.0, 14.0] {
        let side = under_a_lip(height);
        let turned = |solid: &Cuboid| {
            let swap = |Point([x, y, z]): Point| Point([y, x, z]);
            Cuboid::between(swap(solid.lo()), swap(solid.hi()))
        };
        let mut across = side.clone();
        across.plane = Plane::Across;
        across.parts = side.parts.iter().map(turned).collect();
        across.obstacles = side.obstacles.iter().map(turned).collect();
        assert_eq!(answer(&across), answer(&side));
    }
}
