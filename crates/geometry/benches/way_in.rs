//! How long a planned way in takes: a box with flange and brackets between twelve things under a bed.

use std::hint::black_box;

use criterion::{BenchmarkId, Criterion};
use geometry::fit::Unwatched;
use geometry::way_in::Budget;
use geometry::way_in::plan::{Limits, Plane, Pose, Query, changes, decide, plan};
use geometry::{Cuboid, Point};
use tape::Length;

fn block([x0, z0, x1, z1]: [i64; 4]) -> Cuboid {
    let corner = |x, y, z| Point([x, y, z].map(Length::mm));
    Cuboid::between(corner(x0, 0, z0), corner(x1, 500, z1))
}

fn pose(x: i64, z: i64) -> Pose {
    Pose {
        along: Length::mm(x),
        up: Length::mm(z),
        turn_deg: 0.0,
    }
}

/// A box 1016 mm long, lowered under a lip and over a low member, with pipes, bolts and brackets about.
fn scene(height: i64) -> Query {
    let half = height / 2;
    Query {
        plane: Plane::Side,
        parts: [
            [-508, -half, 508, half],
            [-520, half - 30, 520, half - 27],
            [-540, half - 60, -508, half - 30],
            [100, half, 140, half + 20],
        ]
        .map(block)
        .to_vec(),
        pivot: [Length::ZERO; 2],
        obstacles: [
            [-254, -152, 1473, 0],
            [-203, 0, -20, 483],
            [1219, 0, 1372, 203],
            [-203, 400, 300, 483],
            [-20, 60, -5, 90],
            [1200, 150, 1219, 170],
            [300, 440, 320, 483],
            [1372, 0, 1473, 300],
            [1473, 0, 1600, 483],
            [-203, 483, -100, 700],
            [1500, 483, 1600, 700],
            [250, 380, 262, 400],
        ]
        .map(block)
        .to_vec(),
        start: pose(900, 1050),
        goal: pose(550, 8 + half),
        limits: Limits {
            along: [0, 1575].map(Length::mm),
            up: [0, 1524].map(Length::mm),
            turn_deg: [-80.0, 20.0],
        },
    }
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    let mut group = criterion.benchmark_group("way_in");
    group.sample_size(10);
    // One that goes, one close to the limit, one that does not.
    for height in [200, 280, 340] {
        let query = scene(height);
        let told = decide(&query, Budget::default(), &mut Unwatched).expect("a sound question");
        let name = format!("{height} mm: {:?}", told.decision);
        group.bench_function(BenchmarkId::new("plan", &name), |b| {
            b.iter(|| plan(black_box(&query), Budget::default(), &mut Unwatched));
        });
    }
    group.bench_function("changes", |b| {
        b.iter(|| changes(black_box(&scene(340)), Length::mm(1), Budget::default(), &mut Unwatched));
    });
    group.finish();
    criterion.final_summary();
}
