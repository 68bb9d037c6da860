//! Boxes that go in level along more axes than one, and what was once told as proved of them.

use super::*;

/// The floor of the hollow open from 300 to 680 along it and from 150 to 350 across: a box 300 by 160 in the corner comes
/// up in the middle and is moved along two walls.
#[test]
fn through_an_opening_in_the_middle_into_a_corner() {
    let lips = vec![
        thing(7, [0, 0, -5], [300, 500, 0]),
        thing(8, [680, 0, -5], [1000, 500, 0]),
        thing(9, [300, 0, -5], [680, 150, 0]),
        thing(10, [300, 350, -5], [680, 500, 0]),
    ];
    let body = block([0, 0, 20], [300, 160, 220]);
    let ways = worked_out(vec![moved(1, &[body], &[Face::Bottom])], lips.clone());
    let way = ways.boxes[0].outcome.way().expect("it goes");
    assert_eq!((way.through, way.motion, way.sure), (Face::Bottom, Motion::Level, true));
    // Seen from the left and from the rear, since it is moved along both.
    assert_eq!(ways.pictures[0].len(), 2);
    let verdict = ways.boxes[0].verdict(ways.question.style);
    assert!(verdict.contains("moved over level step by step"), "{verdict}");
    // 390 by 201 it is wider than the opening whichever way it is moved; it is not turned in plan.
    let wide = block([0, 0, 20], [390, 201, 220]);
    let ways = worked_out(vec![moved(1, &[wide], &[Face::Bottom])], lips);
    assert!(ways.boxes[0].outcome.is_impossible(), "{ways:?}");
}

/// Open at the bottom at the far end of a long cavity alone: up there, and 600 along it.
#[test]
fn along_a_long_cavity_from_its_opening() {
    let floor = vec![thing(7, [0, 0, -5], [600, 500, 0])];
    let body = block([0, 20, 20], [300, 480, 220]);
    let ways = worked_out(vec![moved(1, &[body], &[Face::Bottom])], floor);
    let way = ways.boxes[0].outcome.way().expect("it goes");
    // Up and then along is two moves.
    assert!(
        matches!(way.motion, Motion::ThenSlid { axis: Axis::X, .. } | Motion::Level),
        "{way:?}"
    );
}

/// A sill of 250 at the open left side, and 300 of height inside: the box, 45 high, goes in over it and down.
#[test]
fn over_a_sill_and_down() {
    let sill = vec![thing(7, [-3000, -10, -3000], [4000, 0, 250])];
    let body = block([100, 5, 0], [700, 480, 45]);
    let ways = worked_out(vec![moved(1, &[body], &[Face::Left])], sill);
    let way = ways.boxes[0].outcome.way().expect("it goes");
    assert_eq!(way.through, Face::Left);
}

/// Six boxes that each need a pitched way, in worlds of their own: none takes the steps of another.
#[test]
fn boxes_in_hollows_of_their_own_do_not_take_each_others_steps() {
    let mut boxes = Vec::new();
    let mut things = Vec::new();
    for world in 0..6 {
        let mut one = moved(
            u32::try_from(world).unwrap() + 1,
            &[block([10, 20, 5], [610, 480, 105])],
            &[Face::Bottom],
        );
        one.world = world + 1;
        boxes.push(one);
        // Free from 0 to 560 only, under a lip: 600 long, it goes pitched or not at all.
        things.push((world + 1, thing(7, [565, 0, -40], [1000, 500, -30]).1));
    }
    let together = worked_out(boxes.clone(), things.clone());
    for (at, one) in boxes.iter().enumerate() {
        let alone = worked_out(vec![one.clone()], vec![things[at].clone()]);
        let (a, b) = (&alone.boxes[0].outcome, &together.boxes[at].outcome);
        assert_eq!(a.way().map(|way| &way.steps), b.way().map(|way| &way.steps));
        assert!(a.way().is_some(), "{alone:?}");
    }
    assert_eq!(together.order.len(), 6);
}
