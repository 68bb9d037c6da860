//! Modules that stay where they are: everything else is laid around them, or the request is refused by name.

mod common;

use common::orchard;
use geometry::fit::{
    Answer, Budget, Cavity, Flaw, Layout, Placement, Request, RequestError, Unwatched, Wanted, check, fit,
};
use geometry::{Axis, Cuboid, Face, Faces, Orientation, Point, Size};
use rstest::rstest;
use tape::Length;

fn mm(x: i64, y: i64, z: i64) -> Point {
    Point([x, y, z].map(Length::mm))
}

/// An upright crate of the orchard, 320 along and 142 across, or turned by a quarter.
fn pinned(request: &Request, at: Point, turned: bool, in_box: Option<usize>) -> Placement {
    let orientation = request.kinds[0].orientations[usize::from(turned)];
    Placement {
        cavity: 0,
        in_box,
        kind: 0,
        orientation,
        cuboid: Cuboid::at(at, orientation.extents(request.kinds[0].size)),
        count: 1,
    }
}

fn answer(request: &Request) -> Answer {
    let answer = fit(request, Budget::default(), &mut Unwatched).expect("the request can be worked on");
    for layout in &answer.layouts {
        assert_eq!(check(request, layout), Ok(()));
        assert_eq!(layout.placements[..request.pinned.len()], request.pinned);
    }
    answer
}

fn modules_in(layout: &Layout, index: usize) -> u32 {
    let mine = layout.placements.iter().filter(|p| p.in_box == Some(index));
    mine.map(|p| p.count).sum()
}

/// One wide cavity for one box, and no bay.
fn one_cavity() -> Request {
    let mut request = orchard();
    request.cavities.truncate(1);
    request.cavities[0].space = Cuboid::at(Point::ZERO, Size([Length::mm(1290), Length::mm(825), Length::mm(297)]));
    let rule = request.boxes.as_mut().expect("boxed");
    rule.bay = None;
    request
}

/// A layout that was found, with any one of its modules pinned, can be found again.
#[test]
fn what_was_found_is_found_again_round_any_of_its_modules() {
    let request = one_cavity();
    let before = answer(&request).layouts.remove(0);
    for index in 0..before.placements.len() {
        let mut again = request.clone();
        again.pinned = vec![before.placements[index]];
        let best = answer(&again).layouts.remove(0);
        assert_eq!((best.count, best.boxes.len()), (10, 1));
        assert_eq!(best.boxes[0].body.size(), before.boxes[0].body.size());
    }
}

/// A crate pinned across the row of the others: the box is built round it where it is, 50.2 mm from the front wall
/// (12.7 margin, 25 flange, 4.5 shell, 3 fit, and 5 more).
#[test]
fn a_box_is_built_round_what_is_pinned() {
    let mut request = one_cavity();
    let at = Point([Length::tenths_mm(502), Length::mm(300), Length::tenths_mm(172)]);
    request.pinned = vec![pinned(&request, at, true, Some(0))];
    let best = answer(&request).layouts.remove(0);
    assert_eq!(best.count, 10);
    assert_eq!(best.boxes.len(), 1);
    assert!(best.boxes[0].inside.contains(&best.placements[0].cuboid));
}

/// With all that is wanted pinned there is nothing left to lay out.
#[test]
fn a_layout_of_nothing_but_pinned_modules_is_that_layout() {
    let mut request = one_cavity();
    request.pinned = answer(&request).layouts.remove(0).placements;
    let again = answer(&request);
    assert_eq!(again.layouts[0].placements, request.pinned);
    assert_eq!(again.layouts[0].count, 10);
}

/// Both cavities of the orchard; one crate of the second box is pinned, so that box comes first.
#[test]
fn a_box_with_something_pinned_comes_first_and_counts_what_is_pinned() {
    let request = orchard();
    let found = answer(&request).layouts.remove(0);
    let mut one = *found.placements.last().expect("ten crates");
    one.in_box = Some(0);
    let request = Request {
        pinned: vec![one],
        ..request
    };
    let best = answer(&request).layouts.remove(0);
    assert_eq!((best.count, best.boxes.len()), (10, 2));
    assert_eq!(best.boxes[0].cavity, 1);
    assert_eq!((modules_in(&best, 0), modules_in(&best, 1)), (5, 5));
}

/// Two boxes pinned side by side in one cavity keep apart, and each takes more.
#[test]
fn two_pinned_boxes_share_a_cavity() {
    let mut request = one_cavity();
    request.boxes.as_mut().expect("boxed").per_cavity = 2;
    let low = Length::tenths_mm(172);
    request.pinned = vec![
        pinned(&request, Point([Length::mm(60), Length::mm(60), low]), true, Some(0)),
        pinned(&request, Point([Length::mm(60), Length::mm(450), low]), true, Some(1)),
    ];
    let best = answer(&request).layouts.remove(0);
    assert_eq!((best.count, best.boxes.len()), (10, 2));
    assert!(modules_in(&best, 0) >= 1 && modules_in(&best, 1) >= 1);
}

/// Three pinned crates are no whole string of five, and two more do not go in: they stay as they are.
#[test]
fn what_is_pinned_stays_though_it_makes_no_whole_string() {
    let mut request = one_cavity();
    // 4 x 142 + 3 x 2 + 15 + 50 + 25.4 goes in, five do not.
    request.cavities[0].space = Cuboid::at(Point::ZERO, Size([Length::mm(670), Length::mm(425), Length::mm(297)]));
    request.wanted = Wanted::Strings {
        kind: 0,
        series: vec![2, 5],
        parallel: 1,
    };
    let low = Length::tenths_mm(172);
    request.pinned = (0..3)
        .map(|i| {
            pinned(
                &request,
                Point([Length::mm(50 + 144 * i), Length::mm(52), low]),
                true,
                Some(0),
            )
        })
        .collect();
    let best = answer(&request).layouts.remove(0);
    assert_eq!(best.placements, request.pinned);
}

#[rstest]
#[case::outside_the_cavity(&[(mm(-5, 300, 18), true, Some(0))], 0)]
#[case::too_near_the_wall_for_a_box(&[(mm(300, 300, 18), true, Some(0)), (mm(44, 300, 18), true, Some(0))], 0)]
#[case::in_each_other(&[(mm(60, 60, 18), true, Some(0)), (mm(100, 60, 18), true, Some(0))], 0)]
#[case::nearer_than_the_gap(&[(mm(60, 60, 18), true, Some(0)), (mm(203, 60, 18), true, Some(0))], 0)]
#[case::boxes_in_each_other(&[(mm(60, 60, 18), true, Some(0)), (mm(210, 60, 18), true, Some(1))], 0)]
#[case::a_box_number_left_out(&[(mm(60, 60, 18), true, Some(0)), (mm(400, 60, 18), true, Some(2))], 1)]
#[case::bare_where_boxed(&[(mm(60, 60, 18), true, Some(0)), (mm(400, 60, 18), true, None)], 1)]
fn pins_that_break_a_rule_are_named(#[case] pins: &[(Point, bool, Option<usize>)], #[case] which: usize) {
    let mut request = one_cavity();
    request.boxes.as_mut().expect("boxed").per_cavity = 3;
    request.pinned = pins
        .iter()
        .map(|&(at, turned, in_box)| pinned(&request, at, turned, in_box))
        .collect();
    let refused = fit(&request, Budget::default(), &mut Unwatched).unwrap_err();
    assert!(
        matches!(refused, RequestError::Pinned { pinned, .. } if pinned == which),
        "{refused}"
    );
}

#[test]
fn a_pin_of_a_kind_or_cavity_that_is_not_there_is_refused() {
    let mut request = one_cavity();
    let good = pinned(&request, mm(60, 60, 18), true, Some(0));
    for bad in [Placement { kind: 1, ..good }, Placement { cavity: 1, ..good }] {
        request.pinned = vec![bad];
        let refused = fit(&request, Budget::default(), &mut Unwatched).unwrap_err();
        let flaw = Flaw::Index {
            index: 0,
            of_box: false,
        };
        assert_eq!(refused, RequestError::Pinned { pinned: 0, flaw });
    }
}

/// The check knows a pinned module that was moved, and one that is not first.
#[test]
fn the_check_refuses_moved_pins() {
    let mut request = one_cavity();
    let layout = answer(&request).layouts.remove(0);
    request.pinned = vec![layout.placements[0]];
    assert_eq!(check(&request, &layout), Ok(()));
    let mut moved = layout.clone();
    moved.placements[0].cuboid = moved.placements[0]
        .cuboid
        .moved(Point::along(Axis::Z, Length::from_nm(1)));
    assert!(check(&request, &moved).is_err());
    let mut later = layout.clone();
    later.placements.swap(0, 1);
    assert_eq!(check(&request, &later), Err(Flaw::Pinned { pinned: 0 }));
}

/// Bare pins are held to walls and to each other as any bare module is.
#[test]
fn bare_pins_that_meet_are_refused() {
    let mut request = one_cavity();
    request.boxes = None;
    request.cavities = vec![Cavity {
        space: Cuboid::at(Point::ZERO, Size([Length::mm(600); 3])),
        wall_margin: Faces::default(),
        keep_outs: vec![],
    }];
    let at = |x| pinned(&request, mm(x, 0, 0), true, None);
    let pins = vec![at(0), at(143)];
    request.pinned = pins;
    let refused = fit(&request, Budget::default(), &mut Unwatched).unwrap_err();
    assert!(matches!(
        refused,
        RequestError::Pinned {
            pinned: 0,
            flaw: Flaw::Gap { first: 0, second: 1 }
        }
    ));
    assert_eq!(request.pinned[0].orientation.own_face(Face::Top), Face::Top);
    assert_ne!(request.pinned[0].orientation, Orientation::UPRIGHT);
}

/// What was found bare, with any one of its modules pinned where it is, is found again: the bound never denies it.
#[rstest]
#[case::crossmembers("real-s-obst-02")]
#[case::one_layer("real-s-medium-04")]
#[case::turned_any_way("real-s-obst-01")]
#[case::two_kinds("real-s-kinds-02")]
#[case::several_cavities("multi-s-mixed-02")]
fn what_was_found_bare_is_found_again(#[case] name: &str) {
    let cases = common::packing_cases();
    let request = &cases.iter().find(|case| case.name == name).unwrap().request;
    let before = answer(request).layouts.remove(0);
    for index in [0, before.placements.len() / 2, before.placements.len() - 1] {
        let mut again = request.clone();
        again.pinned = vec![before.placements[index]];
        let answer = answer(&again);
        assert_eq!(answer.layouts[0].count, before.count, "{index}");
        assert!(answer.upper_bound >= before.count);
    }
}

/// Two crates pinned in the middle of a row leave room for one at each end, and the bound knows it.
#[test]
fn bare_modules_are_laid_around_the_pinned_ones() {
    let mut request = one_cavity();
    request.boxes = None;
    request.wanted = Wanted::AsMany;
    request.kinds[0].service = Faces::default();
    request.kinds[0].orientations.truncate(2);
    request.gap = Length::mm(2);
    // A row of turned crates, 142 long each: 320 wide and 228 high is all there is room for.
    request.cavities = vec![Cavity {
        space: Cuboid::at(Point::ZERO, Size([Length::mm(600), Length::mm(320), Length::mm(230)])),
        wall_margin: Faces::default(),
        keep_outs: vec![],
    }];
    assert_eq!(answer(&request).layouts[0].count, 4, "4 x 142 + 3 x 2 are 574");
    // 152 to 294 and 296 to 438: 150 are left before, 160 behind.
    request.pinned = vec![
        pinned(&request, mm(152, 0, 0), true, None),
        pinned(&request, mm(296, 0, 0), true, None),
    ];
    let with = answer(&request);
    assert_eq!((with.layouts[0].count, with.upper_bound, with.proved), (4, 4, true));
    // 9 mm to the front, and what is left before is a millimetre too short.
    request.pinned[0].cuboid = request.pinned[0].cuboid.moved(mm(-9, 0, 0));
    request.pinned[1].cuboid = request.pinned[1].cuboid.moved(mm(-9, 0, 0));
    let without = answer(&request);
    assert_eq!(
        (without.layouts[0].count, without.upper_bound, without.proved),
        (3, 3, true)
    );
}
