//! Spreading: figures worked out by hand, and what holds for every arrangement.

mod arranged;
mod common;

use arranged::{arranged, least};
use geometry::fit::{
    BoxPlace, BoxRule, Budget, Cavity, EmptyMass, KeepOut, Kind, Layout, MassLimit, Placement, Request, Rim, Unwatched,
    Wanted, check, fit,
};
use geometry::spread::{Chain, Link, Move, Spread, SpreadError, Thing, spread};
use geometry::{Axis, Cuboid, Face, Faces, Orientation, Point, Size};
use proptest::prelude::*;
use rstest::rstest;
use tape::Length;

fn mm(lengths: [i64; 3]) -> [Length; 3] {
    lengths.map(Length::mm)
}

/// Cubes of 100 mm at low corners given in millimetres, in a cavity of the size given in tenths, 5 mm from its walls and
/// 2 mm from each other.
fn cubes(cavity: [i64; 3], at: &[[i64; 3]]) -> (Request, Layout) {
    let placements: Vec<Placement> = at
        .iter()
        .map(|&lo| Placement {
            cavity: 0,
            in_box: None,
            kind: 0,
            orientation: Orientation::UPRIGHT,
            cuboid: Cuboid::at(Point(mm(lo)), Size(mm([100; 3]))),
            count: 1,
        })
        .collect();
    let count = u32::try_from(at.len()).expect("few");
    let request = Request {
        cavities: vec![Cavity {
            space: Cuboid::at(Point::ZERO, Size(cavity.map(Length::tenths_mm))),
            wall_margin: Faces::all(Length::mm(5)),
            keep_outs: Vec::new(),
        }],
        kinds: vec![Kind {
            size: Size(mm([100; 3])),
            orientations: vec![Orientation::UPRIGHT],
            service: Faces::default(),
            on_hand: None,
            mass_g: 5000,
            stack: None,
        }],
        gap: Length::mm(2),
        boxes: None,
        wanted: Wanted::AsMany,
        pinned: Vec::new(),
    };
    let layout = Layout {
        placements,
        count,
        by_kind: vec![count],
        ..Layout::default()
    };
    (request, layout)
}

/// The same in one box with walls of 4 mm and 1 mm of room at each wall.
fn box_up(request: &mut Request, layout: &mut Layout) {
    request.boxes = Some(BoxRule {
        shell: Faces::all(Length::mm(4)),
        fit: Faces::all(Length::mm(1)),
        room: Faces::default(),
        bay: None,
        rims: Vec::new(),
        least_height: Length::ZERO,
        most_g: None,
        one_tier: false,
        per_cavity: 1,
        apart: Length::ZERO,
    });
    layout.boxes = vec![BoxPlace {
        cavity: 0,
        body: Cuboid::default(),
        inside: Cuboid::default(),
        bay: None,
    }];
    for placement in &mut layout.placements {
        placement.in_box = Some(0);
    }
    arranged::wrap(request, layout);
}

fn lows(spread: &Spread, axis: Axis) -> Vec<Length> {
    spread.layout.placements.iter().map(|p| p.cuboid.lo()[axis]).collect()
}

fn wall(face: Face) -> Thing {
    Thing::Wall { cavity: 0, face }
}

fn link(thing: Thing, extent: i64, asked: i64, space: bool) -> Link {
    Link {
        thing,
        extent: Length::mm(extent),
        asked: Length::mm(asked),
        space,
    }
}

#[test]
fn six_modules_between_two_walls_share_what_is_over_in_seven() {
    let row: Vec<[i64; 3]> = (0..6).map(|n| [10, 5 + 102 * n, 10]).collect();
    // 6 x 100 + 5 x 2 + 2 x 5 and 3.2 over.
    let (request, layout) = cubes([2000, 6232, 2000], &row);
    let spread = spread(&request, &layout, Move::Everything).unwrap();
    assert_eq!(
        (spread.before, spread.least),
        (Length::ZERO, Length::from_nm(3_200_000 / 7))
    );
    assert_eq!(check(&request, &spread.layout), Ok(()));
    let mut links = vec![link(wall(Face::Left), 0, 5, true)];
    links.extend((0..5).map(|n| link(Thing::Placement(n), 100, 2, true)));
    links.push(link(Thing::Placement(5), 100, 5, true));
    links.push(link(wall(Face::Right), 0, 0, false));
    let chain = Chain {
        along: Axis::Y,
        links,
        length: Length::tenths_mm(6232),
        over: Length::tenths_mm(32),
        spaces: 7,
    };
    assert_eq!(spread.chain, Some(chain));
    // Ahead and behind, above and below: the middle of what is free.
    assert_eq!(lows(&spread, Axis::X), [Length::mm(50); 6]);
    assert_eq!(lows(&spread, Axis::Z), [Length::mm(50); 6]);
}

#[test]
fn a_box_grows_with_the_gaps_in_it_until_its_own_clearances_are_no_larger() {
    let (mut request, mut layout) = cubes([3000, 2400, 2000], &[[20, 20, 20], [122, 20, 20]]);
    box_up(&mut request, &mut layout);
    let everything = spread(&request, &layout, Move::Everything).unwrap();
    // 300 - 2 x 5 - 2 x 5 - 2 x 100 - 2 = 78, in three.
    assert_eq!(everything.least, Length::mm(26));
    assert_eq!(check(&request, &everything.layout), Ok(()));
    assert_eq!(everything.layout.boxes[0].body.lo(), Point(mm([31, 65, 45])));
    assert_eq!(everything.layout.boxes[0].body.hi(), Point(mm([269, 175, 155])));
    let links = vec![
        link(wall(Face::Front), 0, 5, true),
        link(Thing::Box(0), 0, 5, false),
        link(Thing::Placement(0), 100, 2, true),
        link(Thing::Placement(1), 100, 5, false),
        link(Thing::Box(0), 0, 5, true),
        link(wall(Face::Rear), 0, 0, false),
    ];
    assert_eq!(everything.chain.unwrap().links, links);
    // As one, the box is 212 long: 300 - 10 - 212 = 78, in two.
    let whole = spread(&request, &layout, Move::Boxes).unwrap();
    assert_eq!(whole.least, Length::mm(39));
    assert_eq!(whole.layout.boxes[0].body.lo(), Point(mm([44, 65, 45])));
    assert_eq!(check(&request, &whole.layout), Ok(()));
}

#[test]
fn a_box_that_would_get_too_heavy_moves_as_one() {
    let (mut request, mut layout) = cubes([3000, 2400, 2000], &[[20, 20, 20], [122, 20, 20]]);
    box_up(&mut request, &mut layout);
    // 204 mm inside at 12 kg for each metre: 12 448 g with the modules, and more when they move apart.
    let rule = request.boxes.as_mut().unwrap();
    rule.most_g = Some(MassLimit {
        limit_g: 12_448,
        empty: EmptyMass {
            ug_per_m: [12_000_000_000, 0, 0],
            ..EmptyMass::default()
        },
    });
    let spread = spread(&request, &layout, Move::Everything).unwrap();
    assert_eq!(spread.least, Length::mm(39));
    assert_eq!(spread.layout.boxes[0].body.size(), Size(mm([212, 110, 110])));
    assert_eq!(check(&request, &spread.layout), Ok(()));
}

#[test]
fn a_low_module_stays_on_the_floor_of_its_box() {
    let (mut request, mut layout) = cubes([3000, 2400, 2000], &[[20, 20, 20], [122, 20, 20]]);
    let low = Kind {
        size: Size(mm([40, 60, 50])),
        ..request.kinds[0].clone()
    };
    request.kinds.push(low);
    layout.placements.push(Placement {
        kind: 1,
        cuboid: Cuboid::at(Point(mm([224, 20, 20])), Size(mm([40, 60, 50]))),
        ..layout.placements[0]
    });
    (layout.count, layout.by_kind) = (3, vec![2, 1]);
    box_up(&mut request, &mut layout);
    let spread = spread(&request, &layout, Move::Everything).unwrap();
    assert_eq!(check(&request, &spread.layout), Ok(()));
    // 300 - 20 - 240 - 2 x 2 = 36, in four; across, it stands in the middle.
    assert_eq!(spread.least, Length::mm(9));
    let low = spread.layout.placements[2].cuboid;
    assert_eq!(low.lo(), Point(mm([241, 90, 50])));
    assert_eq!(lows(&spread, Axis::Z), [Length::mm(50); 3]);
}

#[test]
fn a_rim_and_what_is_below_it_limit_a_box() {
    let (mut request, mut layout) = cubes([2400, 2000, 2000], &[[70, 50, 70]]);
    box_up(&mut request, &mut layout);
    request.boxes.as_mut().unwrap().rims = vec![Rim {
        out: Length::mm(20),
        below_top: Length::mm(30),
        above_top: Length::mm(3),
    }];
    // Ledges at the front and the rear that reach under the rim, not under the body.
    request.cavities[0].keep_outs = [(0, 40), (200, 240)]
        .map(|(from, to)| KeepOut {
            cuboid: Cuboid::between(Point(mm([from, 0, 0])), Point(mm([to, 200, 130]))),
            margin: Length::mm(1),
        })
        .to_vec();
    let spread = spread(&request, &layout, Move::Everything).unwrap();
    assert_eq!(check(&request, &spread.layout), Ok(()));
    // Between ledge and top: 200 - 130 - 33 - 1 - 5 = 31, in two.
    assert_eq!(spread.least, Length::from_nm(15_500_000));
    let links = vec![
        link(Thing::KeepOut { cavity: 0, index: 0 }, 0, 1, true),
        link(Thing::Box(0), 33, 5, true),
        link(wall(Face::Top), 0, 0, false),
    ];
    assert_eq!(spread.chain.unwrap().links, links);
}

#[test]
fn things_nudged_into_each_other_are_parted_again() {
    let (request, layout) = cubes([3240, 1500, 1500], &[[5, 20, 20], [95, 20, 20], [200, 20, 20]]);
    let spread = spread(&request, &layout, Move::Everything).unwrap();
    // Reach past each other by 10, and 2 asked.
    assert_eq!(spread.before, Length::mm(-12));
    // 324 - 300 - 10 - 4 = 10, in four.
    assert_eq!(spread.least, Length::tenths_mm(25));
    assert_eq!(check(&request, &spread.layout), Ok(()));
    // And with too little room, what is short is shared too: 308 - 314 = -6, in four.
    let (request, layout) = cubes([3080, 1500, 1500], &[[5, 20, 20], [95, 20, 20], [200, 20, 20]]);
    let spread = geometry::spread::spread(&request, &layout, Move::Everything).unwrap();
    assert_eq!(spread.least, Length::tenths_mm(-15));
}

#[test]
fn a_solid_is_clear_of_a_service_space_beside_it() {
    let (mut request, layout) = cubes([4000, 2160, 1500], &[[10, 5, 20], [120, 110, 20]]);
    request.kinds[0].service[Face::Rear] = Length::mm(150);
    // Ahead of each other 10 mm, less than the 150 of service, but beside each other 5 mm.
    let spread = spread(&request, &layout, Move::Everything).unwrap();
    assert_eq!(spread.before, Length::ZERO);
    // Across, 216 - 2 x 5 - 2 x 100 = 6, in three: nothing is asked for beside a service space.
    assert_eq!(spread.least, Length::mm(2));
    assert_eq!(check(&request, &spread.layout), Ok(()));
}

/// A thin module beside a service space is between two others, and yet does not hold them as far apart as that space.
#[test]
fn a_thin_module_between_two_does_not_stand_for_their_distance() {
    let (mut request, mut layout) = cubes([4170, 1600, 1100], &[[5, 5, 5], [217, 5, 5]]);
    let mut thin = request.kinds[0].clone();
    thin.size = Size(mm([10, 20, 20]));
    request.kinds.push(thin);
    request.kinds[0].service[Face::Rear] = Length::mm(100);
    layout.placements.push(Placement {
        kind: 1,
        cuboid: Cuboid::at(Point(mm([150, 108, 5])), Size(mm([10, 20, 20]))),
        ..layout.placements[0]
    });
    (layout.count, layout.by_kind) = (3, vec![2, 1]);
    let spread = spread(&request, &layout, Move::Everything).unwrap();
    // Above and below there is nothing over. Along, 417 - 5 - 4 x 100 = 12, in three: the second has its service space
    // before the wall.
    assert_eq!(spread.least, Length::ZERO);
    assert_eq!(check(&request, &spread.layout), Ok(()));
    assert_eq!(lows(&spread, Axis::X)[..2], mm([9, 213, 0])[..2]);
}

#[test]
fn the_pinned_stay_and_the_rest_shares_what_they_leave() {
    let (mut request, layout) = cubes([3240, 1500, 1500], &[[5, 20, 20], [107, 20, 20], [209, 20, 20]]);
    request.pinned = vec![layout.placements[0]];
    let spread = spread(&request, &layout, Move::Everything).unwrap();
    // The pinned one touches its margin and cannot get better.
    assert_eq!((spread.before, spread.least), (Length::ZERO, Length::ZERO));
    // Behind it 324 - 105 - 200 - 2 x 2 - 5 = 10, in three.
    let third = Length::from_nm(10_000_000 / 3);
    let xs = lows(&spread, Axis::X);
    assert_eq!(xs[0], Length::mm(5));
    assert!(
        (xs[1] - Length::mm(107) - third).abs() <= Length::from_nm(1),
        "{:?}",
        xs[1]
    );
    assert!(
        (xs[2] - Length::mm(209) - third * 2).abs() <= Length::from_nm(1),
        "{:?}",
        xs[2]
    );
}

#[rstest]
#[case::kind(|layout: &mut Layout| layout.placements[0].kind = 7, SpreadError::Placement(0))]
#[case::cavity(|layout: &mut Layout| layout.placements[1].cavity = 1, SpreadError::Placement(1))]
#[case::boxed(|layout: &mut Layout| layout.placements[1].in_box = Some(0), SpreadError::Placement(1))]
fn a_layout_of_another_request_is_refused(#[case] spoil: fn(&mut Layout), #[case] error: SpreadError) {
    let (request, mut layout) = cubes([3240, 1500, 1500], &[[5, 20, 20], [107, 20, 20]]);
    spoil(&mut layout);
    assert_eq!(spread(&request, &layout, Move::Everything), Err(error));
}

#[test]
fn an_empty_box_and_missing_pinned_modules_are_refused() {
    let (mut request, mut layout) = cubes([3240, 1500, 1500], &[[5, 20, 20]]);
    box_up(&mut request, &mut layout);
    layout.boxes.push(layout.boxes[0]);
    assert_eq!(spread(&request, &layout, Move::Boxes), Err(SpreadError::EmptyBox(1)));
    layout.boxes.pop();
    request.pinned = vec![layout.placements[0]; 2];
    assert_eq!(spread(&request, &layout, Move::Boxes), Err(SpreadError::Pinned(2)));
}

#[test]
fn nothing_is_limited_by_nothing() {
    let (request, layout) = cubes([3240, 1500, 1500], &[]);
    let spread = spread(&request, &layout, Move::Everything).unwrap();
    assert_eq!((spread.least, spread.chain), (Length::ZERO, None));
}

#[rstest]
#[case::orchard(common::orchard())]
#[case::rescue(common::rescue())]
fn a_box_where_the_automatic_layout_puts_it_has_no_better_place(#[case] request: Request) {
    let answer = fit(&request, Budget::default(), &mut Unwatched).unwrap();
    for layout in &answer.layouts {
        let spread = spread(&request, layout, Move::Boxes).unwrap();
        assert_eq!(check(&request, &spread.layout), Ok(()));
        assert_eq!(spread.layout.to_spare, layout.to_spare);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn never_worse_then_settled_and_the_pinned_do_not_move(seed in 1_000_u64..1_000_000_000) {
        let case = arranged(seed);
        let (request, how) = (&case.request, case.how);
        let first = spread(request, &case.layout, how).unwrap();
        prop_assert!(first.least >= first.before);
        prop_assert_eq!(first.before, least(request, &case.layout, how).unwrap_or_default());
        prop_assert_eq!(first.least, least(request, &first.layout, how).unwrap_or_default());
        let again = spread(request, &first.layout, how).unwrap();
        prop_assert_eq!(&again.layout, &first.layout);
        prop_assert_eq!(again.least, first.least);
        for (pinned, placement) in request.pinned.iter().zip(&first.layout.placements) {
            prop_assert_eq!(pinned, placement);
        }
        let Some(chain) = first.chain else {
            prop_assert!(case.layout.placements.is_empty());
            return Ok(());
        };
        let taken: Length = chain.links.iter().map(|link| link.extent + link.asked).sum();
        prop_assert_eq!(chain.over, chain.length - taken);
        let spaces = chain.links.iter().filter(|link| link.space).count();
        prop_assert_eq!(spaces, chain.spaces as usize);
        prop_assert_eq!(chain.over.nm().div_euclid(i64::from(chain.spaces)), first.least.nm());
        // It runs between two that stay: its ends are walls, keep-outs, or what is pinned.
        for end in [chain.links.first(), chain.links.last()] {
            let stays = match end.unwrap().thing {
                Thing::Wall { .. } | Thing::KeepOut { .. } => true,
                Thing::Placement(index) => index < request.pinned.len(),
                Thing::Box(index) => request.pinned.iter().any(|p| p.in_box == Some(index)),
            };
            prop_assert!(stays);
        }
    }
}
