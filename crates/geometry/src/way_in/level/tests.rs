use std::collections::VecDeque;

use proptest::prelude::*;

use super::*;
use crate::fit::Unwatched;

fn block(lo: [i64; 3], hi: [i64; 3]) -> Cuboid {
    Cuboid::between(Point(lo.map(Length::mm)), Point(hi.map(Length::mm)))
}

fn look(parts: &[Cuboid], obstacles: &[Cuboid], within: [[i64; 2]; 3], doors: &[Face]) -> Outcome {
    let asked = Level {
        parts,
        obstacles,
        within: within.map(|ends| ends.map(Length::mm)),
        doors,
        ends: &Face::ALL,
    };
    let answer = level(&asked, &|_, _| true, Budget::default(), &mut Unwatched);
    if let Outcome::Goes(way) = &answer.outcome {
        // Swept move by move, as the straight ways are, it meets nothing.
        for ends in way.steps.windows(2) {
            let by = ends[0] - ends[1];
            let axis = Axis::ALL.into_iter().find(|&axis| by[axis] != Length::ZERO).unwrap();
            let parts: Vec<Cuboid> = parts.iter().map(|part| part.moved(ends[1])).collect();
            let through = if by[axis].is_negative() {
                Face::low(axis)
            } else {
                Face::high(axis)
            };
            let from = by[axis].abs();
            assert!(
                straight(&Straight {
                    parts: &parts,
                    obstacles,
                    through,
                    from
                })
                .goes(),
                "{way:?}"
            );
            let moved = Axis::ALL.into_iter().filter(|&axis| by[axis] != Length::ZERO);
            assert_eq!(moved.count(), 1, "{way:?}");
        }
        assert_eq!(way.steps.last(), Some(&Point::ZERO));
    }
    answer.outcome
}

/// A room of 100 by 100 by 30, its floor open between 40 and 60 in both directions, and a block 20 by 20 in a corner: in
/// through the hole with nothing to spare, then along two walls.
#[test]
fn through_a_hole_in_the_middle_into_a_corner() {
    let floor = [
        block([0, 0, -5], [40, 100, 0]),
        block([60, 0, -5], [100, 100, 0]),
        block([40, 0, -5], [60, 40, 0]),
        block([40, 60, -5], [60, 100, 0]),
    ];
    let part = [block([0, 0, 0], [20, 20, 20])];
    let within = [[0, 80], [0, 80], [-60, 10]];
    let Outcome::Goes(way) = look(&part, &floor, within, &[Face::Bottom]) else {
        panic!("it goes");
    };
    let steps = [[40, 40, -60], [40, 40, 0], [0, 40, 0], [0, 0, 0]].map(|by| Point(by.map(Length::mm)));
    // Along which wall first does not matter.
    assert_eq!((way.steps.len(), way.steps[0], way.steps[1]), (4, steps[0], steps[1]));
    assert_eq!(way.room.map(|room| room.distance), Some(Length::ZERO));
    // One less in one direction, and there is none.
    let mut narrow = floor;
    narrow[0] = block([0, 0, -5], [41, 100, 0]);
    assert_eq!(look(&part, &narrow, within, &[Face::Bottom]), Outcome::Impossible);
}

/// Over a sill and down behind it, with the room above and below shared.
#[test]
fn over_a_sill_in_the_middle_of_the_room() {
    let sill = [block([-10, 0, -10], [0, 100, 40])];
    let lintel = [block([-10, 0, 70], [0, 100, 110])];
    let part = [block([20, 0, 0], [50, 30, 20])];
    let things = [sill, lintel].concat();
    let Outcome::Goes(way) = look(&part, &things, [[-80, 50], [0, 70], [0, 80]], &[Face::Front]) else {
        panic!("it goes");
    };
    assert_eq!(way.through, Face::Front);
    // 30 between sill and lintel, 20 high: 5 over and under it, to within what halving finds.
    let room = way.room.unwrap().distance;
    assert!(room > Length::from_mm(3.0) && room <= Length::mm(5), "{room:?}");
    assert_eq!(way.steps.len(), 3);
}

/// What goes on beyond what was looked at is no proof.
#[test]
fn an_end_that_may_go_on_is_told() {
    let part = [block([0, 0, 0], [10, 10, 10])];
    let lid = [block([-100, -100, 20], [100, 100, 30])];
    let asked = Level {
        parts: &part,
        obstacles: &lid,
        within: [[Length::mm(-30), Length::mm(30)]; 3],
        doors: &[Face::Top],
        ends: &[Face::Bottom, Face::Left, Face::Right, Face::Front],
    };
    let answer = level(&asked, &|_, _| true, Budget::default(), &mut Unwatched);
    assert_eq!(answer.outcome, Outcome::Beyond);
    let cut = level(&asked, &|_, _| true, Budget { work: 10 }, &mut Unwatched);
    assert_eq!(cut.outcome, Outcome::Cut(Ended::Budget));
}

/// Half-millimetre steps over whole-millimetre scenes see every cell, so this is the whole truth, found otherwise.
fn stepped(parts: &[Cuboid], obstacles: &[Cuboid], within: [[i64; 2]; 3]) -> bool {
    let at = |n: [i64; 3]| Point(n.map(|n| Length::from_nm(n * 500_000)));
    let free = |n: [i64; 3]| {
        let inside = (0..3).all(|i| (2 * within[i][0]..=2 * within[i][1]).contains(&n[i]));
        let hits = |part: &Cuboid| obstacles.iter().any(|o| part.moved(at(n)).overlaps(o));
        inside && !parts.iter().any(hits)
    };
    let mut seen = std::collections::HashSet::from([[0; 3]]);
    let mut open = VecDeque::from([[0; 3]]);
    if !free([0; 3]) {
        return false;
    }
    while let Some(n) = open.pop_front() {
        if n[2] == 2 * within[2][0] {
            return true;
        }
        for i in 0..3 {
            for d in [-1, 1] {
                let mut next = n;
                next[i] += d;
                if free(next) && seen.insert(next) {
                    open.push_back(next);
                }
            }
        }
    }
    false
}

fn any_block(most: i64) -> impl Strategy<Value = Cuboid> {
    ([-8..8_i64, -8..8_i64, -8..8_i64], [1..most, 1..most, 1..most])
        .prop_map(|(lo, size)| block(lo, [lo[0] + size[0], lo[1] + size[1], lo[2] + size[2]]))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn agrees_with_small_steps(
        first in [1..5_i64, 1..5_i64, 1..4_i64],
        more in proptest::option::of([1..7_i64, 1..7_i64]),
        obstacles in proptest::collection::vec(any_block(9), 3..9),
    ) {
        let mut parts = vec![block([0; 3], first)];
        parts.extend(more.map(|[x, y]| block([-1, -1, first[2]], [x, y, first[2] + 1])));
        let within = [[-7, 6], [-6, 7], [-8, 5]];
        let outcome = look(&parts, &obstacles, within, &[Face::Bottom]);
        prop_assert_eq!(matches!(outcome, Outcome::Goes(_)), stepped(&parts, &obstacles, within));
        prop_assert!(matches!(outcome, Outcome::Goes(_) | Outcome::Impossible));
    }
}
