//! What must hold for every request: layouts keep all rules, bounds are honest, answers are repeatable.

mod common;

use geometry::fit::{
    BoxRule, Budget, Cavity, EmptyMass, Ended, KeepOut, Kind, MassLimit, Progress, Request, RequestError, Rim, Stack,
    Unwatched, Wanted, Watch, check, fit,
};
use geometry::{Axis, Cuboid, Face, Faces, Orientation, Point, Size};
use proptest::collection::vec;
use proptest::prelude::*;
use rstest::rstest;
use tape::Length;

const BUDGET: Budget = Budget { work: 4_000, seed: 7 };

fn size(lengths: [i64; 3]) -> Size {
    Size(lengths.map(Length::mm))
}

fn faces(lengths: [i64; 6]) -> Faces<Length> {
    Faces(lengths.map(Length::mm))
}

fn keep_outs() -> impl Strategy<Value = Vec<KeepOut>> {
    let corner = || prop::array::uniform3(-10..120_i64);
    let one = (corner(), prop::array::uniform3(0..50_i64), 0..6_i64).prop_map(|(lo, extent, margin)| KeepOut {
        cuboid: Cuboid::at(Point(lo.map(Length::mm)), size(extent)),
        margin: Length::mm(margin),
    });
    vec(one, 0..3)
}

fn cavities() -> impl Strategy<Value = Vec<Cavity>> {
    let one = (
        prop::array::uniform3(20..140_i64),
        prop::array::uniform6(0..8_i64),
        keep_outs(),
    )
        .prop_map(|(extent, margins, keep_outs)| Cavity {
            space: Cuboid::at(Point::ZERO, size(extent)),
            wall_margin: faces(margins),
            keep_outs,
        });
    vec(one, 1..3)
}

fn stack() -> impl Strategy<Value = Option<Stack>> {
    let axis = prop::sample::select(Axis::ALL.to_vec());
    prop::option::weighted(
        0.3,
        (axis, 1..3_u32, 0..5_u32, 0..6_i64).prop_map(|(along, min, more, end)| Stack {
            along,
            min,
            max: min + more,
            end: Length::mm(end),
            growth: Length::tenths_mm(end),
        }),
    )
}

fn kinds() -> impl Strategy<Value = Vec<Kind>> {
    let orientations = prop::sample::subsequence(Orientation::all(), 1..=24);
    let service = prop::array::uniform6(prop_oneof![4 => Just(0), 1 => 1..15_i64]);
    let one = (
        prop::array::uniform3(12..50_i64),
        orientations,
        service,
        prop::option::of(0..12_u32),
        stack(),
    )
        .prop_map(|(extent, orientations, service, on_hand, stack)| Kind {
            size: size(extent),
            orientations,
            service: faces(service),
            on_hand,
            mass_g: 500,
            stack,
        });
    vec(one, 1..3)
}

fn boxes() -> impl Strategy<Value = Option<BoxRule>> {
    let bay = prop::option::of((prop::sample::select(Face::ALL.to_vec()), 0..20_i64));
    let rims = vec(
        (0..6_i64, 0..20_i64, 0..4_i64).prop_map(|(out, below, above)| Rim {
            out: Length::mm(out),
            below_top: Length::mm(below),
            above_top: Length::mm(above),
        }),
        0..3,
    );
    let six = || prop::array::uniform6(0..5_i64);
    let limits = (0..60_i64, prop::option::of(500..6_000_i64));
    let rule = (six(), six(), six(), bay, rims, limits, 1..4_u32, 0..8_i64).prop_map(
        |(shell, fit, room, bay, rims, (least_height, limit), per_cavity, apart)| BoxRule {
            shell: faces(shell),
            fit: faces(fit),
            room: faces(room),
            bay: bay.map(|(face, depth)| (face, Length::mm(depth))),
            rims,
            least_height: Length::mm(least_height),
            most_g: limit.map(|limit_g| MassLimit {
                limit_g,
                // 10 kg for each square metre of inside surface, 2 kg for each metre of its edges.
                empty: EmptyMass {
                    fixed_ug: 0,
                    ug_per_m: [8_000_000_000; 3],
                    ug_per_m2: [20_000_000_000; 3],
                },
            }),
            one_tier: false,
            per_cavity,
            apart: Length::mm(apart),
        },
    );
    prop::option::of(rule)
}

fn wanted(kinds: &[Kind]) -> BoxedStrategy<Wanted> {
    let caps: Vec<u32> = kinds.iter().map(|kind| kind.on_hand.unwrap_or(8)).collect();
    let exactly: Vec<_> = caps.iter().map(|&cap| 0..=cap).collect();
    let strings = (0..kinds.len(), vec(1..6_u32, 1..3), 1..5_u32)
        .prop_map(|(kind, series, parallel)| Wanted::Strings { kind, series, parallel });
    prop_oneof![Just(Wanted::AsMany), exactly.prop_map(Wanted::Exactly), strings].boxed()
}

fn requests() -> impl Strategy<Value = Request> {
    (cavities(), kinds(), 0..8_i64, boxes())
        .prop_flat_map(|(cavities, kinds, gap, boxes)| {
            let wanted = wanted(&kinds);
            (Just(cavities), Just(kinds), Just(gap), Just(boxes), wanted)
        })
        .prop_map(|(cavities, kinds, gap, boxes, wanted)| Request {
            cavities,
            kinds,
            gap: Length::mm(gap),
            boxes,
            wanted,
            pinned: Vec::new(),
        })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(192))]

    #[test]
    fn every_layout_keeps_every_rule_and_the_bound(request in requests()) {
        let answer = fit(&request, BUDGET, &mut Unwatched).unwrap();
        prop_assert!(!answer.layouts.is_empty());
        for layout in &answer.layouts {
            prop_assert_eq!(check(&request, layout), Ok(()));
            prop_assert!(layout.count <= answer.upper_bound);
            prop_assert!(layout.count <= answer.layouts[0].count);
            prop_assert!(!layout.to_spare.is_negative());
        }
        prop_assert_eq!(answer.proved, answer.layouts[0].count == answer.upper_bound);
        prop_assert_eq!(fit(&request, BUDGET, &mut Unwatched).unwrap(), answer);
    }

    /// What goes in with more margin would go in with less, so it never passes the bound for less. (The bounds
    /// themselves need not fall: a share of a shorter length may be a worse argument than a share of a longer one.)
    #[test]
    fn a_layout_with_more_margin_keeps_the_bound_for_less(request in requests(), more in 1..10_i64) {
        let none = Budget { work: 0, seed: 1 };
        let before = fit(&request, none, &mut Unwatched).unwrap();
        let mut tighter = request;
        for cavity in &mut tighter.cavities {
            cavity.wall_margin = Faces(cavity.wall_margin.0.map(|margin| margin + Length::mm(more)));
        }
        let after = fit(&tighter, BUDGET, &mut Unwatched).unwrap();
        prop_assert!(after.layouts[0].count <= before.upper_bound);
    }

    #[test]
    fn the_check_refuses_a_layout_that_was_moved_out(request in requests(), out in 200..400_i64) {
        let answer = fit(&request, BUDGET, &mut Unwatched).unwrap();
        let mut layout = answer.layouts[0].clone();
        if let Some(first) = layout.placements.first_mut() {
            first.cuboid = first.cuboid.moved(Point::along(Axis::Y, Length::mm(out)));
            prop_assert!(check(&request, &layout).is_err());
        }
    }
}

/// Says stop at the given look.
struct StopAt(u32);

impl Watch for StopAt {
    fn carry_on(&mut self, progress: Progress) -> bool {
        assert!(progress.done <= progress.of && progress.count <= progress.upper_bound);
        self.0 = self.0.saturating_sub(1);
        self.0 > 0
    }
}

#[rstest]
#[case::at_once(1)]
#[case::early(3)]
#[case::later(40)]
fn stopping_gives_the_best_so_far(#[case] look: u32) {
    let case = common::packing_cases()
        .into_iter()
        .find(|case| case.name == "real-s-hard-02")
        .unwrap();
    let answer = fit(&case.request, Budget::default(), &mut StopAt(look)).unwrap();
    assert_eq!(answer.ended, Ended::Stopped);
    assert_eq!(check(&case.request, &answer.layouts[0]), Ok(()));
    assert!(answer.work < 100_000);
}

#[test]
fn a_job_with_boxes_can_be_stopped_too() {
    let request = common::rescue();
    let answer = fit(&request, Budget::default(), &mut StopAt(2)).unwrap();
    assert_eq!(answer.ended, Ended::Stopped);
    assert_eq!(check(&request, &answer.layouts[0]), Ok(()));
}

fn crates_in(space: [i64; 3]) -> Request {
    let mut request = common::orchard();
    request.boxes = None;
    request.wanted = Wanted::AsMany;
    request.kinds[0].on_hand = None;
    request.cavities = vec![Cavity {
        space: Cuboid::at(Point::ZERO, size(space)),
        wall_margin: Faces::default(),
        keep_outs: vec![],
    }];
    request
}

/// Service space counts to walls and to solids above, and the gap counts between all.
#[rstest]
#[case::room_for_the_spanner([320, 142, 244], 1)]
#[case::a_millimetre_short([320, 142, 243], 0)]
#[case::two_with_the_gap([320, 286, 244], 2)]
#[case::two_without_it([320, 285, 244], 1)]
#[case::two_high_with_a_room_each([320, 142, 488], 2)]
#[case::two_high_a_millimetre_short([320, 142, 487], 1)]
fn service_space_and_gap_are_kept(#[case] space: [i64; 3], #[case] expected: u32) {
    let request = crates_in(space);
    let answer = fit(&request, BUDGET, &mut Unwatched).unwrap();
    assert_eq!(answer.layouts[0].count, expected);
    assert_eq!(check(&request, &answer.layouts[0]), Ok(()));
}

#[test]
fn a_stack_of_tiles_is_as_long_as_its_parts() {
    let mut request = common::rescue();
    request.boxes = None;
    request.wanted = Wanted::Exactly(vec![7]);
    let answer = fit(&request, BUDGET, &mut Unwatched).unwrap();
    let stack = answer.layouts[0].placements[0];
    assert_eq!(
        (answer.layouts[0].count, answer.layouts[0].placements.len(), stack.count),
        (7, 1, 7)
    );
    // 7 x 46 + 2 x 20.
    assert!(stack.cuboid.size().0.contains(&Length::mm(362)));
}

#[test]
fn the_mass_limit_splits_the_load() {
    let mut request = common::orchard();
    // 12 kg/m2 on 2 x (0.894 x 0.326 + 0.894 x 0.244 + 0.326 x 0.244) m2 make 14.139 kg: five crates are 104.139 kg.
    let rule = request.boxes.as_mut().unwrap();
    rule.most_g = Some(MassLimit {
        limit_g: 104_000,
        empty: EmptyMass {
            ug_per_m2: [24_000_000_000; 3],
            ..EmptyMass::default()
        },
    });
    let answer = fit(&request, BUDGET, &mut Unwatched).unwrap();
    let best = &answer.layouts[0];
    assert_eq!(check(&request, best), Ok(()));
    assert_eq!(best.count, 5);
    assert_eq!(best.boxes.len(), 2, "four crates at most in a box");
}

#[test]
fn two_boxes_stand_in_a_cavity_that_a_keep_out_divides() {
    let mut request = common::orchard();
    request.cavities.truncate(1);
    request.cavities[0].keep_outs = vec![KeepOut {
        cuboid: Cuboid::between(
            Point([Length::mm(640), Length::ZERO, Length::ZERO]),
            Point([Length::mm(650), Length::mm(425), Length::mm(297)]),
        ),
        margin: Length::mm(5),
    }];
    request.wanted = Wanted::AsMany;
    let mut rule = request.boxes.clone().unwrap();
    rule.bay = None;
    request.boxes = Some(rule.clone());
    let one = fit(&request, BUDGET, &mut Unwatched).unwrap();
    rule.per_cavity = 2;
    request.boxes = Some(rule);
    let two = fit(&request, BUDGET, &mut Unwatched).unwrap();
    assert_eq!(check(&request, &two.layouts[0]), Ok(()));
    // A part is some 635 - 12.7 long: 3 x 142 + 2 x 2 + 15 + 50 goes in, four do not.
    assert_eq!(
        (one.layouts[0].count, two.layouts[0].count, two.layouts[0].boxes.len()),
        (3, 6, 2)
    );
}

#[test]
fn requests_that_mean_nothing_are_refused() {
    let refused = |change: &dyn Fn(&mut Request)| {
        let mut request = common::orchard();
        change(&mut request);
        fit(&request, BUDGET, &mut Unwatched).unwrap_err()
    };
    assert_eq!(refused(&|r| r.cavities.clear()), RequestError::Nothing("no cavity"));
    let flat = refused(&|r| r.kinds[0].size[Axis::Y] = Length::ZERO);
    assert_eq!(flat, RequestError::NoSize { kind: 0, axis: "width" });
    assert!(matches!(
        refused(&|r| r.wanted = Wanted::Exactly(vec![15])),
        RequestError::Wanted(_)
    ));
    assert!(matches!(
        refused(&|r| r.wanted = Wanted::Exactly(vec![])),
        RequestError::Wanted(_)
    ));
}

/// A flat cavity of whole millimetres, with kinds that lie in it either way.
fn flat(space: [i64; 2], keep_out: Option<([i64; 2], [i64; 2])>, kinds: &[([i64; 2], Option<u32>)]) -> Request {
    let mm = |n: [i64; 2]| [Length::mm(n[0]), Length::mm(n[1])];
    let deep = |[x, y]: [Length; 2], z: i64| [x, y, Length::mm(z)];
    let mut request = crates_in([1, 1, 1]);
    request.gap = Length::ZERO;
    request.cavities[0].space = Cuboid::at(Point::ZERO, Size(deep(mm(space), 1)));
    request.cavities[0].keep_outs = keep_out
        .into_iter()
        .map(|(lo, hi)| KeepOut {
            cuboid: Cuboid::between(Point(deep(mm(lo), 0)), Point(deep(mm(hi), 1))),
            margin: Length::ZERO,
        })
        .collect();
    let first = request.kinds[0].clone();
    let turns = |size: Size| {
        let lies = |o: &Orientation| o.extents(size).0[2] == Length::mm(1);
        Orientation::all().into_iter().filter(lies).collect::<Vec<_>>()
    };
    let kind = |&(size, on_hand): &([i64; 2], Option<u32>)| Kind {
        size: Size(deep(mm(size), 1)),
        orientations: turns(Size(deep(mm(size), 1))),
        service: Faces::default(),
        on_hand,
        ..first.clone()
    };
    request.kinds = kinds.iter().map(kind).collect();
    request
}

/// 48 of 12 x 5 are all that goes into 56 x 52, and beside the keep-out is a niche of 2 x 2 for the other kind: what few
/// there are of a kind never hides that it goes in too.
#[rstest]
#[case::one(1, 49)]
#[case::two(2, 50)]
fn few_of_another_kind_are_counted(#[case] on_hand: u32, #[case] expected: u32) {
    let request = flat(
        [58, 52],
        Some(([56, 2], [58, 52])),
        &[([12, 5], None), ([2, 2], Some(on_hand))],
    );
    let answer = fit(&request, Budget::default(), &mut Unwatched).unwrap();
    assert_eq!(check(&request, &answer.layouts[0]), Ok(()));
    assert!(answer.upper_bound >= expected, "at most {}", answer.upper_bound);
    assert!(!answer.proved || answer.layouts[0].count == expected);
}

/// Two columns corner to corner, at the gap from each other but not at the service space: a bound for pieces that are
/// grown by that is no bound for them.
#[test]
fn service_space_at_the_corners_does_not_lower_the_bound() {
    let mut request = crates_in([305, 120, 80_000]);
    request.gap = Length::mm(5);
    let first = request.kinds[0].clone();
    let kind = |high: i64| {
        let mut service = Faces::all(Length::ZERO);
        service[Face::Front] = Length::mm(50);
        service[Face::Rear] = Length::mm(50);
        Kind {
            size: size([100, 60, high]),
            orientations: vec![Orientation::UPRIGHT],
            service,
            ..first.clone()
        }
    };
    request.kinds = [997, 1009, 1013].map(kind).to_vec();
    let answer = fit(&request, Budget::default(), &mut Unwatched).unwrap();
    // 79 of the lowest in each of two columns: 79 x 997 + 78 x 5 are 79 153.
    assert!(answer.upper_bound >= 158, "at most {}", answer.upper_bound);
}

#[test]
fn lengths_beyond_all_cavities_are_refused() {
    let refused = |change: &dyn Fn(&mut Request)| {
        let mut request = common::orchard();
        change(&mut request);
        fit(&request, BUDGET, &mut Unwatched).unwrap_err()
    };
    assert_eq!(
        refused(&|r| r.gap = Length::mm(200_000)),
        RequestError::TooLong("the gap")
    );
    let thin = refused(&|r| r.boxes.as_mut().unwrap().shell = Faces::all(Length::mm(-1)));
    assert!(matches!(thin, RequestError::BelowZero(_)));
}
