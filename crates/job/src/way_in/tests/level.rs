//! Boxes that go in level along more axes than one, and what was once told as proved of them.

use super::fixes::Dice;
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

/// Half steps of a whole mesh see every cell of a scene on it, so this is the whole truth, found otherwise: whether the box
/// comes from its place to where all is far off, with nothing of it ever in what stands round it.
fn comes_out(moved: &Moved, things: &[(usize, Thing)]) -> bool {
    const FAR: [i64; 3] = [30, 24, 20];
    let half = Length::from_nm(MESH.nm() / 2);
    let around = moved.walls.iter().chain(things.iter().map(|(_, thing)| thing));
    let forbidden: Vec<[[i64; 2]; 3]> = around
        .flat_map(|thing| moved.parts.iter().map(|part| (part.solid, thing.expected)))
        .map(|(part, other)| {
            Axis::ALL.map(|axis| {
                [other.lo()[axis] - part.hi()[axis], other.hi()[axis] - part.lo()[axis]].map(|by| by.nm() / half.nm())
            })
        })
        .collect();
    let free = |at: [i64; 3]| {
        !forbidden
            .iter()
            .any(|not| (0..3).all(|i| not[i][0] < at[i] && at[i] < not[i][1]))
    };
    let mut seen = std::collections::HashSet::from([[0_i64; 3]]);
    let mut open = vec![[0_i64; 3]];
    while let Some(at) = open.pop() {
        if (0..3).any(|i| at[i].abs() == FAR[i]) {
            return true;
        }
        for i in 0..3 {
            for by in [-1, 1] {
                let mut to = at;
                to[i] += by;
                if free(to) && seen.insert(to) {
                    open.push(to);
                }
            }
        }
    }
    false
}

/// All lengths of the scenes below are whole meshes.
const MESH: Length = Length::mm(50);

/// A hollow of 8 by 5 by 4 meshes, open at one to three faces, with blocks in it and about it, and a box with a flange.
fn any_level_scene(seed: u64) -> Question {
    let mut dice = Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) + 1);
    let mesh = |lo: [i64; 3], hi: [i64; 3]| block(lo.map(|n| 50 * n), hi.map(|n| 50 * n));
    let through: Vec<Face> = (0..dice.between(1, 3))
        .map(|_| Face::ALL[usize::try_from(dice.between(0, 6)).unwrap()])
        .collect();
    let size = [dice.between(2, 6), dice.between(2, 5), dice.between(1, 4)];
    let at = [0, 1, 2].map(|i| dice.between(0, [8, 5, 4][i] - size[i] + 1));
    let hi = [0, 1, 2].map(|i| at[i] + size[i]);
    let mut parts = vec![mesh(at, hi)];
    if at[0] > 0 && dice.between(0, 2) == 0 {
        parts.push(mesh([at[0] - 1, at[1], hi[2] - 1], [hi[0], hi[1], hi[2]]));
    }
    let mut moved = moved(1, &parts, &through);
    moved.space = mesh([0; 3], [8, 5, 4]);
    moved.world = 1;
    moved.walls = walls(&moved.space, &through, Length::mm(4000));
    let mut things = Vec::new();
    for id in 0..u32::try_from(dice.between(8, 26)).unwrap() {
        let lo = [dice.between(-3, 8), dice.between(-2, 5), dice.between(-2, 4)];
        let hi = [
            lo[0] + dice.between(1, 6),
            lo[1] + dice.between(1, 5),
            lo[2] + dice.between(1, 3),
        ];
        let solid = mesh(lo, hi);
        if parts.iter().all(|part| !part.overlaps(&solid)) {
            let (_, thing) = thing(id + 10, [0; 3], [1; 3]);
            things.push((
                1,
                Thing {
                    expected: solid,
                    sure: solid,
                    ..thing
                },
            ));
        }
    }
    let mut question = asked(vec![moved], things);
    // Never pitched.
    question.pitch_deg = 0.0;
    question
}

#[test]
fn what_is_told_of_seeded_scenes_is_the_whole_truth() {
    let mut told = [0, 0, 0];
    for seed in 0..200 {
        let question = any_level_scene(seed);
        let comes = comes_out(&question.boxes[0], &question.things);
        let ways = answer(question, WORK, &mut |_| true);
        let outcome = &ways.boxes[0].outcome;
        match (outcome.way().is_some(), outcome.is_impossible()) {
            (true, _) => assert!(comes, "seed {seed}"),
            (_, true) => assert!(!comes, "seed {seed}: {outcome:?}"),
            // Round the outside of its cavity.
            _ => told[2] += 1,
        }
        told[usize::from(comes)] += 1;
    }
    assert!(told[0] > 40 && told[1] > 40 && told[2] < 10, "{told:?}");
}
