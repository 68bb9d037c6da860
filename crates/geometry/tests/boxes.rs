//! Jobs with boxes against figures worked out by hand, and against every grid counted out.

mod common;

use common::{orchard, rescue};
use geometry::fit::{Answer, Budget, EmptyMass, Layout, MassLimit, Request, Unwatched, Wanted, check, fit};
use geometry::{Axis, Cuboid, Face, Point, Size};
use proptest::prelude::*;
use rstest::rstest;
use tape::Length;

fn answer(request: &Request) -> Answer {
    let answer = fit(request, Budget::default(), &mut Unwatched).expect("the request can be worked on");
    for layout in &answer.layouts {
        assert_eq!(check(request, layout), Ok(()));
    }
    answer
}

fn modules_in(layout: &Layout, index: usize) -> u32 {
    layout
        .placements
        .iter()
        .filter(|p| p.in_box == Some(index))
        .map(|p| p.count)
        .sum()
}

fn size_tenths(size: [i64; 3]) -> Size {
    Size(size.map(Length::tenths_mm))
}

#[test]
fn two_strings_of_five_crates_make_two_equal_boxes() {
    let answer = answer(&orchard());
    let best = &answer.layouts[0];
    assert_eq!((best.count, answer.upper_bound, answer.proved), (10, 10, true));
    assert_eq!((modules_in(best, 0), modules_in(best, 1)), (5, 5));
    for place in &best.boxes {
        // 5 x 142 + 4 x 2 + 2 x 3 + 170 + 2 x 4.5; 320 + 2 x 3 + 2 x 4.5; 212 + 32 + 4.5 + 6.
        assert_eq!(place.body.size(), size_tenths([9030, 3350, 2545]));
        assert!(place.bay.is_some_and(|bay| bay.axis() == Axis::X));
    }
    // Across: (425 - 335 - 2 x 25) / 2 - 12.7.
    assert_eq!(best.to_spare, Length::tenths_mm(73));
}

#[test]
fn two_strings_of_tiles_make_a_box_of_three_stacks_and_a_box_of_one() {
    let answer = answer(&rescue());
    let best = &answer.layouts[0];
    assert_eq!((best.count, answer.proved), (48, true));
    assert_eq!((modules_in(best, 0), modules_in(best, 1)), (36, 12));
    assert!(best.placements.iter().all(|p| p.count == 12));
    assert_eq!(best.boxes[0].body.size(), size_tenths([6070, 7230, 3185]));
    assert_eq!(best.boxes[1].body.size(), size_tenths([2470, 6070, 3185]));
    // Ahead of the axle: between brake line and bolt head (762 - 15.9 - 723 - 4) / 2 - 6.35 = 3.2.
    // Behind it: (276.2 - 247) / 2 - 6.35 = 8.25, more.
    assert_eq!(best.to_spare, Length::tenths_mm(32));
}

/// The orchard's crates and boxes, without a bay, in cavities of these lengths.
fn rows(lengths_mm: &[i64]) -> Request {
    let mut request = orchard();
    let cavity = |&long: &i64| {
        let mut cavity = request.cavities[0].clone();
        cavity.space = Cuboid::at(Point::ZERO, Size([long, 425, 297].map(Length::mm)));
        cavity
    };
    request.cavities = lengths_mm.iter().map(cavity).collect();
    request.boxes.as_mut().expect("boxed").bay = None;
    request
}

/// 16 crates where two tiers of eight would go in: one tier of eight is the most, and that is proved; with something in
/// the way over half of the cavity's height at one end, the lower half stays open for it.
#[rstest]
#[case::several(false, 16)]
#[case::one(true, 8)]
fn one_tier_holds_what_stands_on_the_floor(#[case] one_tier: bool, #[case] expected: u32) {
    let mut request = rows(&[700]);
    request.cavities[0].space = Cuboid::at(Point::ZERO, Size([700, 700, 700].map(Length::mm)));
    request.kinds[0].on_hand = None;
    request.wanted = Wanted::AsMany;
    request.boxes.as_mut().expect("boxed").one_tier = one_tier;
    let answer = answer(&request);
    let best = &answer.layouts[0];
    assert_eq!(
        (best.count, answer.upper_bound, answer.proved),
        (expected, expected, true)
    );
    let over = |i: usize, j: usize| best.placements[i].cuboid.shares_floor(&best.placements[j].cuboid);
    let any = (0..best.placements.len()).any(|i| (0..i).any(|j| over(i, j)));
    assert_eq!(any, !one_tier);
}

fn counts(layout: &Layout) -> Vec<u32> {
    (0..layout.boxes.len()).map(|index| modules_in(layout, index)).collect()
}

/// One row of n crates needs n x 142 + (n - 1) x 2 + 15 for the body, 50 for the flange and 25.4 of margin: 664.4 for
/// four, 808.4 for five, 1096.4 for seven.
#[rstest]
#[case::a_string_in_each(&[1100, 810], &[5, 5])]
#[case::split_rather_than_left_out(&[1100, 670], &[6, 4])]
#[case::whole_though_a_third_is_there(&[1100, 670, 810], &[5, 5])]
#[case::split_rather_than_a_third_box(&[1100, 670, 670], &[6, 4])]
#[case::a_millimetre_short_for_the_fourth(&[1100, 664], &[7, 3])]
fn strings_stay_whole_where_that_takes_no_further_box(#[case] lengths: &[i64], #[case] expected: &[u32]) {
    let best = answer(&rows(lengths)).layouts.remove(0);
    assert_eq!((best.count, best.boxes.len()), (10, expected.len()));
    assert_eq!(counts(&best), expected);
}

/// 24 kg/m2 of inside length x width and so on: the box for ten is 0.894 x 0.648 x 0.244 inside and weighs 23 kg, those
/// for five 0.894 x 0.326 x 0.244 and 14.139 kg (rounded up 14 140 g).
#[rstest]
#[case::one_box_may_weigh_all(204_000, &[10])]
#[case::split_when_too_heavy(150_000, &[5, 5])]
#[case::just_light_enough(104_140, &[5, 5])]
fn a_box_too_heavy_is_split_in_equal_ones(#[case] limit_g: i64, #[case] expected: &[u32]) {
    let mut request = orchard();
    request.cavities.truncate(1);
    request.cavities[0].space = Cuboid::at(Point::ZERO, Size([1290, 825, 297].map(Length::mm)));
    let rule = request.boxes.as_mut().expect("boxed");
    rule.per_cavity = 3;
    rule.most_g = Some(MassLimit {
        limit_g,
        empty: EmptyMass {
            ug_per_m2: [24_000_000_000; 3],
            ..EmptyMass::default()
        },
    });
    let best = answer(&request).layouts.remove(0);
    assert_eq!(counts(&best), expected);
    let sizes: Vec<Size> = best.boxes.iter().map(|place| place.body.size()).collect();
    assert!(sizes.iter().all(|size| *size == sizes[0]), "{sizes:?}");
}

/// Six crates in each of two cavities. In the narrow one 3 x 320 along and 2 x 142 across spare most (979 x 301 outside);
/// in the wide one every grid spares as much, and 3 x 142 by 2 x 320 takes least steel. But equal boxes are cut once.
#[test]
fn boxes_that_hold_as_many_are_made_equal() {
    let mut request = rows(&[1290, 1290]);
    request.cavities[1].space = Cuboid::at(Point::ZERO, Size([1290, 900, 297].map(Length::mm)));
    request.wanted = Wanted::Strings {
        kind: 0,
        series: vec![6],
        parallel: 2,
    };
    // All twelve in the second alone would be fewer boxes.
    request.boxes.as_mut().expect("boxed").most_g = Some(MassLimit {
        limit_g: 120_000,
        empty: EmptyMass::default(),
    });
    let best = answer(&request).layouts.remove(0);
    assert_eq!(counts(&best), [6, 6]);
    for place in &best.boxes {
        let [x, y, z] = place.body.size().0;
        assert_eq!([x.max(y), x.min(y), z], [9790, 3010, 2545].map(Length::tenths_mm));
    }
}

/// Eleven crates go in: two strings of five are ten, one of six is six; four strings of two would be eight.
#[test]
fn of_several_acceptable_strings_those_that_hold_most() {
    let mut request = rows(&[1100, 670]);
    request.wanted = Wanted::Strings {
        kind: 0,
        series: vec![6, 5, 2],
        parallel: 4,
    };
    let answer = answer(&request);
    assert_eq!(answer.layouts[0].count, 10);
    // The others come after it, whole too.
    for layout in &answer.layouts[1..] {
        assert!([10, 8, 6].contains(&layout.count), "{}", layout.count);
    }
    assert!(answer.layouts.iter().any(|layout| layout.count < 10));
}

/// 24 tiles in one box are two full stacks, not three of eight.
#[test]
fn few_full_stacks_before_many_short_ones() {
    let mut request = rescue();
    request.cavities.truncate(1);
    request.wanted = Wanted::Exactly(vec![24]);
    let best = answer(&request).layouts.remove(0);
    let stacks: Vec<u32> = best.placements.iter().map(|p| p.count).collect();
    assert_eq!(stacks, [12, 12]);
}

/// Ten crates in one wide cavity: more than one way to stand, and no two alike.
#[test]
fn candidates_truly_differ() {
    let mut request = rows(&[1290]);
    request.cavities[0].space = Cuboid::at(Point::ZERO, Size([1290, 825, 297].map(Length::mm)));
    request.boxes.as_mut().expect("boxed").per_cavity = 2;
    let answer = answer(&request);
    let mut kinds: Vec<(usize, [Length; 3])> = answer
        .layouts
        .iter()
        .map(|layout| (layout.boxes.len(), layout.boxes[0].body.size().0))
        .collect();
    assert!(kinds.len() >= 3, "{kinds:?}");
    assert!(kinds.iter().any(|(boxes, _)| *boxes == 2));
    kinds.sort_unstable();
    kinds.dedup();
    assert_eq!(kinds.len(), answer.layouts.len());
}

/// A lid that needs 200 mm of body refuses crates laid on their side; one that needs more than there is refuses all.
#[rstest]
#[case::laid_down(0, 1)]
#[case::only_upright(200, 1)]
#[case::none(283, 0)]
fn a_body_lower_than_its_lid_needs_is_not_made(#[case] least_mm: i64, #[case] expected: u32) {
    let mut request = rows(&[700]);
    request.wanted = Wanted::Exactly(vec![1]);
    request.kinds[0].orientations = geometry::Orientation::all();
    request.kinds[0].service[Face::Top] = Length::ZERO;
    request.boxes.as_mut().expect("boxed").least_height = Length::mm(least_mm);
    let best = answer(&request).layouts.remove(0);
    assert_eq!(best.count, expected);
    for place in &best.boxes {
        assert!(place.body.size()[Axis::Z] >= Length::mm(least_mm));
    }
}

/// Upright modules of whole millimetres in one box in one cavity without anything else: what every full grid spares,
/// counted out from the sizes.
fn most_to_spare(request: &Request, number: i64) -> Option<Length> {
    let rule = request.boxes.as_ref().expect("boxed");
    let (kind, cavity) = (&request.kinds[0], &request.cavities[0]);
    let mut best: Option<Length> = None;
    for long in (1..=number).filter(|long| number % long == 0) {
        for wide in (1..=number / long).filter(|wide| number / long % wide == 0) {
            let grid = [long, wide, number / long / wide];
            for orientation in &kind.orientations {
                let module = orientation.extents(kind.size);
                let spare = Axis::ALL.into_iter().map(|axis| {
                    let n = grid[axis.index()];
                    let row = module[axis] * n + request.gap * (n - 1);
                    let (low, high) = (Face::low(axis), Face::high(axis));
                    let wall =
                        |face: Face| rule.shell[face] + rule.fit[face] + rule.room[face] + cavity.wall_margin[face];
                    let out = if axis == Axis::Z {
                        Length::ZERO
                    } else {
                        rule.rims[0].out
                    };
                    cavity.space.size()[axis] - row - wall(low) - wall(high) - out * 2
                });
                let spare = spare.min().expect("three axes").half_down();
                if !spare.is_negative() {
                    best = best.max(Some(spare));
                }
            }
        }
    }
    best
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn no_full_grid_spares_more_than_the_one_offered(
        space in [150..700_i64, 150..500_i64, 80..400_i64],
        module in [30..120_i64, 30..100_i64, 20..90_i64],
        number in 1..25_u32,
        (gap, margin) in (0..6_i64, 0..8_i64),
    ) {
        let mut request = rows(&[1000]);
        request.cavities[0].space = Cuboid::at(Point::ZERO, Size(space.map(Length::mm)));
        request.cavities[0].wall_margin = geometry::Faces::all(Length::mm(margin));
        request.kinds[0].size = Size(module.map(Length::mm));
        request.kinds[0].service = geometry::Faces::default();
        request.kinds[0].on_hand = None;
        request.gap = Length::mm(gap);
        request.wanted = Wanted::Exactly(vec![number]);
        let best = answer(&request).layouts.remove(0);
        if let Some(spare) = most_to_spare(&request, i64::from(number)) {
            prop_assert_eq!(best.count, number);
            prop_assert_eq!(best.boxes.len(), 1);
            prop_assert_eq!(best.to_spare, spare);
        }
    }
}
