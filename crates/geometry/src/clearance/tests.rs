use proptest::prelude::*;
use rstest::rstest;
use tape::Length;

use super::*;
use crate::{Axis, Point, Size};

/// A block in nanometres, small enough to step through.
fn block(lo: [i64; 3], size: [i64; 3]) -> Cuboid {
    Cuboid::at(Point(lo.map(Length::from_nm)), Size(size.map(Length::from_nm)))
}

fn solid(thing: usize, lo: [i64; 3], size: [i64; 3]) -> Solid {
    Solid {
        thing,
        cuboid: block(lo, size),
    }
}

fn space() -> Cuboid {
    block([0; 3], [20; 3])
}

fn seen(solids: &[Solid], thing: usize) -> Around {
    around(&Scene { space: space(), solids }, thing).unwrap()
}

fn brief(clearance: Clearance) -> (Face, i64, Neighbour) {
    (clearance.face, clearance.distance.nm(), clearance.neighbour)
}

#[test]
fn a_lone_thing_sees_the_six_walls() {
    let around = seen(&[solid(0, [3, 4, 5], [10, 10, 10])], 0);
    assert_eq!(around.faces.map(|c| c.distance.nm()), [3, 7, 4, 6, 5, 5]);
    assert_eq!(around.faces.map(|c| c.neighbour), Face::ALL.map(Neighbour::Wall));
    assert_eq!(brief(around.nearest), (Face::Front, 3, Neighbour::Wall(Face::Front)));
}

#[test]
fn a_number_without_a_solid_has_no_clearances() {
    let solids = [solid(0, [0; 3], [5; 3]), solid(2, [9; 3], [5; 3])];
    let scene = Scene {
        space: space(),
        solids: &solids,
    };
    assert_eq!(around(&scene, 1), None);
    assert_eq!(all_around(&scene).len(), 2);
}

/// The thing in question is 4 x 4 x 4 at (8, 8, 8).
#[rstest]
#[case::straight_behind([14, 9, 9], Face::Rear, 2, Neighbour::Thing(1))]
#[case::touching([12, 9, 9], Face::Rear, 0, Neighbour::Thing(1))]
#[case::edge_in_line_is_passed([14, 12, 8], Face::Rear, 8, Neighbour::Wall(Face::Rear))]
#[case::one_nanometre_in_the_way([14, 11, 8], Face::Rear, 2, Neighbour::Thing(1))]
#[case::overlap_is_told_through_the_nearest_face([11, 9, 7], Face::Rear, -1, Neighbour::Thing(1))]
#[case::the_other_faces_look_past_an_overlap([11, 9, 7], Face::Right, 8, Neighbour::Wall(Face::Right))]
#[case::behind_the_wall([22, 8, 8], Face::Rear, 8, Neighbour::Wall(Face::Rear))]
fn looks_straight_out(
    #[case] other: [i64; 3],
    #[case] face: Face,
    #[case] distance: i64,
    #[case] neighbour: Neighbour,
) {
    let around = seen(&[solid(0, [8; 3], [4; 3]), solid(1, other, [4; 3])], 0);
    assert_eq!(brief(around.faces[face.index()]), (face, distance, neighbour));
}

#[test]
fn sticking_out_of_the_space_is_a_negative_distance_to_the_wall() {
    let solids = [solid(0, [-3, 5, 5], [5; 3])];
    let around = seen(&solids, 0);
    assert_eq!(brief(around.faces[0]), (Face::Front, -3, Neighbour::Wall(Face::Front)));
    assert_eq!(brief(around.nearest), (Face::Front, -3, Neighbour::Wall(Face::Front)));
    assert_eq!(
        outside(&Scene {
            space: space(),
            solids: &solids
        }),
        [0]
    );
}

#[test]
fn at_the_same_distance_a_thing_comes_before_a_wall_and_the_lower_number_first() {
    let solids = [
        solid(0, [7; 3], [6; 3]),
        solid(2, [20, 7, 7], [3; 3]),
        solid(1, [20, 10, 10], [3; 3]),
    ];
    assert_eq!(brief(seen(&solids, 0).faces[1]), (Face::Rear, 7, Neighbour::Thing(1)));
}

/// 3, 4, 12 -> 13 exactly, and 1, 1, 1 -> 1.73 down to 1.
#[rstest]
#[case::exact([5, 6, 14], 13, Face::Top)]
#[case::rounded_down([3, 3, 3], 1, Face::Rear)]
#[case::along_an_edge([1, 5, 6], 5, Face::Top)]
fn the_nearest_distance_goes_over_corners(#[case] other: [i64; 3], #[case] distance: i64, #[case] face: Face) {
    let solids = [solid(0, [0; 3], [2; 3]), solid(1, other, [2; 3])];
    let scene = Scene {
        space: block([-50; 3], [100; 3]),
        solids: &solids,
    };
    let nearest = around(&scene, 0).unwrap().nearest;
    assert_eq!(brief(nearest), (face, distance, Neighbour::Thing(1)));
}

/// 1, 1, 1 -> 1.73 down to 1, as far as three walls.
#[test]
fn over_a_corner_too_a_thing_comes_before_a_wall_at_the_same_distance() {
    let solids = [solid(0, [1; 3], [2; 3]), solid(1, [4; 3], [2; 3])];
    assert_eq!(brief(seen(&solids, 0).nearest), (Face::Rear, 1, Neighbour::Thing(1)));
}

#[test]
fn the_flange_of_a_lid_counts_as_its_box() {
    // A body with a lid that overhangs by 2, beside a bare module.
    let solids = [
        solid(0, [2, 2, 2], [6; 3]),
        solid(0, [0, 0, 8], [10, 10, 1]),
        solid(1, [13, 2, 2], [4, 4, 9]),
    ];
    let around = seen(&solids, 0);
    assert_eq!(brief(around.faces[1]), (Face::Rear, 3, Neighbour::Thing(1)));
    assert_eq!(brief(around.faces[5]), (Face::Top, 11, Neighbour::Wall(Face::Top)));
}

#[test]
fn two_things_in_the_same_place_tell_of_one_pair_of_faces() {
    let solids = [solid(0, [5; 3], [4; 3]), solid(1, [5; 3], [4; 3])];
    assert_eq!(brief(seen(&solids, 0).nearest), (Face::Front, -4, Neighbour::Thing(1)));
    assert_eq!(brief(seen(&solids, 1).nearest), (Face::Rear, -4, Neighbour::Thing(0)));
}

#[test]
fn the_separation_of_things_is_that_of_their_closest_cuboids() {
    let a = [block([0; 3], [2; 3]), block([0; 3], [4, 1, 1])];
    let b = [block([9, 0, 0], [2; 3]), block([7, 3, 0], [2; 3])];
    assert_eq!(separation(&a, &b), Length::from_nm(3));
    assert_eq!(separation(&a, &a), Length::from_nm(-2));
    assert_eq!(separation(&a, &[]), Length::from_nm(i64::MAX));
}

#[test]
fn service_space_may_overlap_service_space_but_no_solid_and_no_wall() {
    let solids = [solid(0, [2, 2, 2], [4; 3]), solid(1, [10, 2, 2], [4; 3])];
    let scene = Scene {
        space: space(),
        solids: &solids,
    };
    let behind_0 = |depth| (0, block([6, 2, 2], [depth, 4, 4]));
    let before_1 = |depth| (1, block([10 - depth, 2, 2], [depth, 4, 4]));
    let none = [behind_0(4), before_1(4), behind_0(4)];
    assert_eq!(blocked_service(&scene, &none), []);
    let blocked = [behind_0(5), before_1(3), behind_0(20)];
    assert_eq!(
        blocked_service(&scene, &blocked),
        [(0, Neighbour::Wall(Face::Rear)), (0, Neighbour::Thing(1))]
    );
}

/// Up to nine solids that belong to four things, some sticking out or overlapping.
fn crowd() -> impl Strategy<Value = Vec<Solid>> {
    let one = (
        0..4_usize,
        prop::array::uniform3(-4..20_i64),
        prop::array::uniform3(1..9_i64),
    );
    prop::collection::vec(one.prop_map(|(thing, lo, size)| solid(thing, lo, size)), 1..10)
}

/// Up to seven things of one solid each, inside the space, none overlapping another.
fn apart() -> impl Strategy<Value = Vec<Solid>> {
    let one = (prop::array::uniform3(0..15_i64), prop::array::uniform3(1..6_i64));
    prop::collection::vec(one, 1..12).prop_map(|drawn| {
        let mut kept: Vec<Solid> = Vec::new();
        for (lo, size) in drawn {
            let next = solid(kept.len(), lo, size);
            if space().contains(&next.cuboid) && !kept.iter().any(|s| s.cuboid.overlaps(&next.cuboid)) {
                kept.push(next);
            }
        }
        kept
    })
}

/// How far a solid can be drawn out through one face before it runs into something, tried step by step.
fn drawn_out(solids: &[Solid], of: &Solid, face: Face) -> i64 {
    let free = |by: i64| {
        let mut faces = crate::Faces::default();
        faces[face] = Length::from_nm(by);
        let longer = of.cuboid.grown(faces).unwrap();
        space().contains(&longer) && !solids.iter().any(|s| s.thing != of.thing && s.cuboid.overlaps(&longer))
    };
    (0..20).take_while(|&by| free(by)).last().unwrap()
}

/// The square of the true distance between two blocks, from their closest points.
fn straight_squared(a: &Cuboid, b: &Cuboid) -> i64 {
    let part = |axis| {
        let near = b.lo()[axis].max(a.lo()[axis].min(b.hi()[axis]));
        let mine = near.max(a.lo()[axis]).min(a.hi()[axis]);
        (near - mine).nm().pow(2)
    };
    Axis::ALL.into_iter().map(part).sum()
}

proptest! {
    #[test]
    fn all_at_once_is_the_same_as_one_by_one(solids in crowd(), wide in 1..40_i64) {
        let scene = Scene { space: block([0; 3], [wide, 20, 20]), solids: &solids };
        let slow: Vec<Around> = (0..4).filter_map(|thing| around(&scene, thing)).collect();
        prop_assert_eq!(all_around(&scene), slow);
    }

    #[test]
    fn overlaps_are_those_of_all_pairs(solids in crowd()) {
        let scene = Scene { space: space(), solids: &solids };
        let of = |thing| solids.iter().filter(move |s| s.thing == thing).map(|s| s.cuboid).collect::<Vec<_>>();
        let mut slow = Vec::new();
        for a in 0..4 {
            for b in a + 1..4 {
                if separation(&of(a), &of(b)).is_negative() {
                    slow.push((a, b));
                }
            }
        }
        prop_assert_eq!(overlaps(&scene), slow);
    }

    #[test]
    fn a_face_can_be_drawn_out_by_its_clearance_and_no_more(solids in apart()) {
        for (of, around) in solids.iter().zip(all_around(&Scene { space: space(), solids: &solids })) {
            for clearance in around.faces {
                prop_assert_eq!(clearance.distance.nm(), drawn_out(&solids, of, clearance.face));
            }
        }
    }

    #[test]
    fn the_nearest_distance_is_the_least_straight_one(solids in apart()) {
        for (of, around) in solids.iter().zip(all_around(&Scene { space: space(), solids: &solids })) {
            let walls = Around::walls(&space(), &of.cuboid).faces.map(|c| c.distance.nm().pow(2));
            let things =
                solids.iter().filter(|s| s.thing != of.thing).map(|s| straight_squared(&of.cuboid, &s.cuboid));
            let least = things.chain(walls).min().unwrap();
            let nearest = around.nearest.distance.nm();
            prop_assert!(nearest.pow(2) <= least && least < (nearest + 1).pow(2));
        }
    }

    #[test]
    fn a_neighbour_sees_at_most_the_same_distance_back(solids in crowd()) {
        let all = all_around(&Scene { space: space(), solids: &solids });
        let numbers: Vec<usize> = (0..4).filter(|&n| solids.iter().any(|s| s.thing == n)).collect();
        for around in &all {
            for clearance in around.faces {
                let Neighbour::Thing(other) = clearance.neighbour else { continue };
                let back = &all[numbers.iter().position(|&n| n == other).unwrap()];
                prop_assert!(back.faces[clearance.face.opposite().index()].distance <= clearance.distance);
                prop_assert!(back.nearest.distance <= clearance.distance.max(Length::ZERO));
            }
        }
    }

    #[test]
    fn two_things_alone_see_each_other_alike(
        lo in prop::array::uniform3(-9..9_i64), size in prop::array::uniform3(1..9_i64),
    ) {
        let solids = [solid(0, [0; 3], [5; 3]), solid(1, lo, size)];
        let scene = Scene { space: block([-500; 3], [1000; 3]), solids: &solids };
        let [a, b] = [0, 1].map(|thing| around(&scene, thing).unwrap());
        prop_assert_eq!(a.nearest.distance, b.nearest.distance);
        prop_assert_eq!(a.nearest.face, b.nearest.face.opposite());
        for face in Face::ALL {
            let (out, back) = (a.faces[face.index()], b.faces[face.opposite().index()]);
            let sees = out.neighbour == Neighbour::Thing(1);
            prop_assert_eq!(sees, back.neighbour == Neighbour::Thing(0));
            prop_assert!(!sees || out.distance == back.distance);
        }
    }

    #[test]
    fn moving_everything_with_the_space_changes_nothing(
        solids in crowd(), step in prop::array::uniform3(-1_000_000_000..1_000_000_000_i64),
    ) {
        let step = Point(step.map(Length::from_nm));
        let moved: Vec<Solid> =
            solids.iter().map(|s| Solid { cuboid: s.cuboid.moved(step), ..*s }).collect();
        prop_assert_eq!(
            all_around(&Scene { space: space(), solids: &solids }),
            all_around(&Scene { space: space().moved(step), solids: &moved })
        );
    }

    #[test]
    fn moving_one_thing_and_back_changes_nothing(solids in crowd(), step in prop::array::uniform3(-9..9_i64)) {
        let step = Point(step.map(Length::from_nm));
        let there_and_back = |s: &Solid| {
            let by = if s.thing == solids[0].thing { step } else { Point::ZERO };
            Solid { cuboid: s.cuboid.moved(by).moved(-by), ..*s }
        };
        let again: Vec<Solid> = solids.iter().map(there_and_back).collect();
        prop_assert_eq!(
            all_around(&Scene { space: space(), solids: &solids }),
            all_around(&Scene { space: space(), solids: &again })
        );
    }

    #[test]
    fn the_order_of_the_solids_does_not_matter(solids in crowd()) {
        let mut turned = solids.clone();
        turned.reverse();
        prop_assert_eq!(
            all_around(&Scene { space: space(), solids: &solids }),
            all_around(&Scene { space: space(), solids: &turned })
        );
    }
}
