//! The planner against a plain sampled search written apart from it, and what holds for every scene.

use std::collections::VecDeque;

use geometry::fit::Unwatched;
use geometry::way_in::Budget;
use geometry::way_in::plan::{Decision, Limits, Plane, Pose, Query, changes, decide, plan};
use geometry::{Cuboid, Face, Faces, Point};
use proptest::prelude::*;
use tape::Length;

const BUDGET: Budget = Budget { work: 3_000_000 };

/// Whole numbers in a fixed order for a seed (a linear congruence; Knuth's multiplier, from memory).
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: u64) -> i64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        i64::try_from((self.0 >> 33) % n).expect("below n")
    }
}

fn block(x: i64, z: i64, length: i64, height: i64) -> Cuboid {
    let corner = |x, y, z| Point([x, y, z].map(Length::mm));
    Cuboid::between(corner(x, 0, z), corner(x + length, 100, z + height))
}

fn pose(x: i64, z: i64) -> Pose {
    Pose {
        along: Length::mm(x),
        up: Length::mm(z),
        turn_deg: 0.0,
    }
}

/// A room of 40 by 40 with a few blocks, and a small box with or without a flange.
fn scene(seed: u64) -> Query {
    let mut dice = Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) + 1);
    let (length, height) = (10 + dice.below(10), 3 + dice.below(5));
    let mut parts = vec![block(-length / 2, -height / 2, length, height)];
    if dice.below(2) == 0 {
        parts.push(block(-length / 2 - 1, height / 2, length + 2, 2));
    }
    // A shelf with a gap, and some blocks anywhere.
    let gap = 4 + dice.below(12);
    let left = dice.below(20);
    let mut obstacles = vec![block(-20, 16, 20 + left, 3), block(left + gap, 16, 80, 3)];
    for _ in 0..2 + dice.below(3) {
        let (x, z) = (dice.below(40), dice.below(40));
        obstacles.push(block(x, z, 1 + dice.below(8), 1 + dice.below(8)));
    }
    let (start, goal) = (pose(8 + dice.below(24), 30), pose(8 + dice.below(24), 8));
    // Mostly both ends are free.
    if dice.below(8) > 0 {
        let free = |end: &Pose, o: &Cuboid| {
            let to = Point([end.along, Length::ZERO, end.up]);
            parts.iter().all(|part| !part.moved(to).overlaps(o))
        };
        obstacles.retain(|o| free(&start, o) && free(&goal, o));
    }
    Query {
        plane: Plane::Side,
        parts,
        pivot: [Length::ZERO; 2],
        obstacles,
        start,
        goal,
        limits: Limits {
            along: [0, 40].map(Length::mm),
            up: [0, 40].map(Length::mm),
            turn_deg: [-90.0, 90.0],
        },
    }
}

/// Rectangles as (low x, low z, high x, high z) in millimetres.
fn rects(solids: &[Cuboid]) -> Vec<[f64; 4]> {
    let rect = |c: &Cuboid| [c.lo().0[0], c.lo().0[2], c.hi().0[0], c.hi().0[2]].map(Length::as_mm);
    solids.iter().map(rect).collect()
}

/// Whether two convex shapes overlap by more than `deep`: no line along an edge of either parts them.
fn overlap(a: &[[f64; 2]; 4], b: &[[f64; 2]; 4], deep: f64) -> bool {
    let normals = [a, b].into_iter().flat_map(|shape| {
        [0, 1].map(|k| {
            let edge = [shape[k + 1][0] - shape[k][0], shape[k + 1][1] - shape[k][1]];
            let length = edge[0].hypot(edge[1]);
            [edge[1] / length, -edge[0] / length]
        })
    });
    let reach = |shape: &[[f64; 2]; 4], n: [f64; 2]| {
        let along = shape.map(|p| p[0] * n[0] + p[1] * n[1]);
        (
            along.into_iter().fold(f64::MAX, f64::min),
            along.into_iter().fold(f64::MIN, f64::max),
        )
    };
    normals.into_iter().all(|n| {
        let ((a0, a1), (b0, b1)) = (reach(a, n), reach(b, n));
        a1 - b0 > deep && b1 - a0 > deep
    })
}

fn corners([x0, z0, x1, z1]: [f64; 4], grow: f64) -> [[f64; 2]; 4] {
    let (x0, z0, x1, z1) = (x0 - grow, z0 - grow, x1 + grow, z1 + grow);
    [[x0, z0], [x1, z0], [x1, z1], [x0, z1]]
}

/// Whether any part, grown all round, overlaps any obstacle at a pose of the pivot.
fn hits(query: &Query, x: f64, z: f64, turn: f64, grow: f64) -> bool {
    let (sin, cos) = turn.sin_cos();
    rects(&query.parts).iter().any(|&part| {
        if part[2] - part[0] + 2.0 * grow <= 0.0 || part[3] - part[1] + 2.0 * grow <= 0.0 {
            return false;
        }
        let moved = corners(part, grow).map(|[u, w]| [x + u * cos - w * sin, z + u * sin + w * cos]);
        rects(&query.obstacles)
            .iter()
            .any(|&o| overlap(&moved, &corners(o, 0.0), 1e-6))
    })
}

/// A plain search over evenly sampled poses: parts grown by `grow`, steps to the 6 or to all 26 neighbours.
fn sampled(query: &Query, grow: f64, all_26: bool) -> bool {
    const N: usize = 41;
    const TURNS: usize = 46;
    let turn = |k: usize| (f64::from(u32::try_from(k).expect("small")) * 4.0 - 90.0).to_radians();
    let at = |i: usize| f64::from(u32::try_from(i).expect("small"));
    let index = |i: usize, j: usize, k: usize| (k * N + j) * N + i;
    let cell = |pose: &Pose| {
        let whole = |length: Length| usize::try_from(length.nm() / 1_000_000).expect("in the room");
        // Level lies between two samples; the nearer one of either side is a step away, and both are tried.
        index(whole(pose.along), whole(pose.up), 22)
    };
    let mut free: Vec<Option<bool>> = vec![None; N * N * TURNS];
    let mut seen = vec![false; free.len()];
    let (start, goal) = (cell(&query.start), cell(&query.goal));
    let mut queue = VecDeque::from([start]);
    seen[start] = true;
    let mut is_free = |c: usize| {
        *free[c].get_or_insert_with(|| {
            let (i, j, k) = (c % N, c / N % N, c / (N * N));
            !hits(query, at(i), at(j), turn(k), grow)
        })
    };
    if !is_free(start) || !is_free(goal) {
        return false;
    }
    while let Some(c) = queue.pop_front() {
        if c == goal {
            return true;
        }
        let here = [c % N, c / N % N, c / (N * N)];
        for code in 0..27_usize {
            let step = [code % 3, code / 3 % 3, code / 9];
            let moved = step.iter().filter(|&&s| s != 1).count();
            if moved == 0 || (!all_26 && moved > 1) {
                continue;
            }
            let [i, j, k] = std::array::from_fn(|a| (here[a] + step[a]).wrapping_sub(1));
            if i < N && j < N && k < TURNS && !seen[index(i, j, k)] && is_free(index(i, j, k)) {
                seen[index(i, j, k)] = true;
                queue.push_back(index(i, j, k));
            }
        }
    }
    false
}

/// The farthest corner from the pivot.
fn radius(query: &Query) -> f64 {
    let parts = rects(&query.parts);
    let all = parts.iter().flat_map(|&part| corners(part, 0.0));
    all.map(|[x, z]| x.hypot(z)).fold(0.0, f64::max)
}

#[test]
fn agrees_with_a_plain_sampled_search() {
    let half_turn = 2.0_f64.to_radians();
    let (mut ways, mut none, mut open) = (0, 0, 0);
    for seed in 0..200 {
        let query = scene(seed);
        let decision = decide(&query, BUDGET, &mut Unwatched).unwrap().decision;
        match decision {
            Decision::Goes => ways += 1,
            Decision::Impossible => none += 1,
            Decision::NoRoom { .. } => {
                let ends = [&query.start, &query.goal];
                let blocked = |p: &&Pose| hits(&query, p.along.as_mm(), p.up.as_mm(), 0.0, 0.0);
                assert!(ends.iter().any(blocked), "seed {seed}");
                continue;
            }
            Decision::TooClose => open += 1,
        }
        // Grown by how far a point moves in half a step: a way found is a true one. The corner of a grown part is
        // farther out than that of the part itself.
        let far = radius(&query) + 1.0;
        if decision != Decision::Goes {
            assert!(
                !sampled(&query, (far * half_turn).max(0.5), false),
                "seed {seed}: {decision:?}"
            );
        }
        // Shrunk by how far it moves in half a cell: a way missed is none.
        if decision != Decision::Impossible {
            let shrink = 0.5_f64.hypot(0.5) + far * half_turn;
            assert!(sampled(&query, -shrink, true), "seed {seed}: {decision:?}");
        }
    }
    println!("{ways} ways, {none} without, {open} too close to call");
    assert!(ways >= 40 && none >= 40 && open <= 10, "{ways} {none} {open}");
}

/// Every pose of the way, looked at closely.
fn all_free(query: &Query, poses: &[Pose]) -> bool {
    poses.windows(2).all(|pair| {
        (0..=400_u32).all(|n| {
            let share = f64::from(n) / 400.0;
            let between = |a: f64, b: f64| a + (b - a) * share;
            let x = between(pair[0].along.as_mm(), pair[1].along.as_mm());
            let z = between(pair[0].up.as_mm(), pair[1].up.as_mm());
            let turn = between(pair[0].turn_deg, pair[1].turn_deg).to_radians();
            !hits(query, x, z, turn, -2e-5)
        })
    })
}

fn moved(query: &Query, x: i64, z: i64) -> Query {
    let step = Point([Length::mm(x), Length::ZERO, Length::mm(z)]);
    let mut moved = query.clone();
    for obstacle in &mut moved.obstacles {
        *obstacle = obstacle.moved(step);
    }
    for pose in [&mut moved.start, &mut moved.goal] {
        pose.along += step.0[0];
        pose.up += step.0[2];
    }
    moved.limits.along = moved.limits.along.map(|v| v + step.0[0]);
    moved.limits.up = moved.limits.up.map(|v| v + step.0[2]);
    moved
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn every_pose_of_a_way_is_free(seed in 0..1_000_000_u64) {
        let query = scene(seed);
        let answer = plan(&query, BUDGET, &mut Unwatched).unwrap();
        prop_assert_eq!(answer.way.is_some(), answer.decision == Decision::Goes);
        if let Some(way) = answer.way {
            prop_assert_eq!(way.poses.first(), Some(&query.start));
            prop_assert_eq!(way.poses.last(), Some(&query.goal));
            prop_assert!(all_free(&query, &way.poses), "{:#?}", way);
            for margin in &way.margins {
                // At the pose told, the obstacle is as near as told: grown by a little more it is met.
                let mut only = query.clone();
                only.obstacles = vec![query.obstacles[margin.obstacle]];
                let (x, z, turn) = (margin.at.along.as_mm(), margin.at.up.as_mm(), margin.at.turn_deg.to_radians());
                prop_assert!(hits(&only, x, z, turn, margin.distance.as_mm() + 0.06));
            }
        }
    }

    /// The changed thing is made here by hand: the body, and the flange over it where there is one, of its own thickness.
    #[test]
    fn what_would_make_it_work_does(seed in 0..1_000_000_u64) {
        let query = scene(seed);
        // The same for both: what the one finds in it, the other does.
        let budget = Budget { work: 30_000_000 };
        let told = changes(&query, Length::from_mm(0.25), budget, &mut Unwatched).unwrap();
        for cut in &told.cuts {
            let shorter = |solid: &Cuboid| {
                let mut less = Faces::all(Length::ZERO);
                less[cut.face] = -cut.goes;
                solid.grown(less).unwrap()
            };
            let mut changed = query.clone();
            changed.parts[0] = shorter(&query.parts[0]);
            if let Some(flange) = changed.parts.get_mut(1) {
                *flange = match cut.face {
                    Face::Top => flange.moved(Point::along(geometry::Axis::Z, -cut.goes)),
                    Face::Bottom => *flange,
                    _ => shorter(flange),
                };
            }
            let found = decide(&changed, budget, &mut Unwatched).unwrap().decision;
            prop_assert_eq!(found, Decision::Goes, "{:?}", cut);
        }
        for &obstacle in &told.without {
            let mut changed = query.clone();
            changed.obstacles.remove(obstacle);
            let found = decide(&changed, budget, &mut Unwatched).unwrap().decision;
            prop_assert_eq!(found, Decision::Goes, "without {}", obstacle);
        }
    }

    #[test]
    fn moving_everything_changes_nothing(seed in 0..1_000_000_u64, x in -500..500_i64, z in -500..500_i64) {
        let query = scene(seed);
        let here = decide(&query, BUDGET, &mut Unwatched).unwrap().decision;
        let there = decide(&moved(&query, x, z), BUDGET, &mut Unwatched).unwrap().decision;
        match (here, there) {
            (Decision::NoRoom { end: a, .. }, Decision::NoRoom { end: b, .. }) => prop_assert_eq!(a, b),
            _ => prop_assert_eq!(here, there),
        }
    }

    #[test]
    fn one_obstacle_more_never_makes_a_way(seed in 0..1_000_000_u64, x in 0..40_i64, z in 0..40_i64) {
        let query = scene(seed);
        let before = decide(&query, BUDGET, &mut Unwatched).unwrap().decision;
        let mut more = query;
        more.obstacles.push(block(x, z, 4, 4));
        let after = decide(&more, BUDGET, &mut Unwatched).unwrap().decision;
        if matches!(before, Decision::Impossible | Decision::NoRoom { .. }) {
            prop_assert!(!matches!(after, Decision::Goes), "{:?} then {:?}", before, after);
        }
        if after == Decision::Goes {
            prop_assert!(matches!(before, Decision::Goes | Decision::TooClose), "{:?} then {:?}", before, after);
        }
    }
}
