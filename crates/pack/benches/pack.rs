//! How long matching units and ordering the wiring take.

use criterion::{Criterion, criterion_group, criterion_main};
use pack::matching::{Goal, WORK as MATCH_WORK, match_groups, shuffled};
use pack::wiring::{self, Joined, Module, Question, WORK};

/// Capacities in milliamp-hours round a mean, the same at every run.
fn lot(count: i64) -> Vec<i64> {
    let even: Vec<i64> = (0..count).map(|i| 48_000 + 137 * i + (i * i * 7_919) % 3_001).collect();
    shuffled(&even, 11)
}

fn matching(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("matching");
    group.sample_size(10);
    for (count, groups, per_group) in [(96, 48, 2), (100, 48, 2), (60, 20, 3), (96, 24, 4)] {
        let units = lot(count);
        group.bench_function(format!("{count} units, {groups} groups of {per_group}"), |bencher| {
            bencher.iter(|| match_groups(&units, &[], groups, per_group, Goal::Strongest, MATCH_WORK));
        });
    }
    group.finish();
}

const MM: i64 = 1_000_000;

/// Rows of modules in each of four boxes, terminals near both ends on top.
fn four_boxes(per_box: i64, columns: i64) -> Vec<Module> {
    let mut modules = Vec::new();
    for in_box in 0..4 {
        let (left, front) = ((in_box % 2) * 1_200 * MM, (in_box / 2) * 1_500 * MM);
        for i in 0..per_box {
            let (x, y) = (front + (i / columns) * 150 * MM, left + (i % columns) * 90 * MM);
            modules.push(Module {
                plus: [x + 110 * MM, y + 40 * MM, 200 * MM],
                minus: [x + 30 * MM, y + 40 * MM, 200 * MM],
                body: [[x, y, 0], [x + 140 * MM, y + 80 * MM, 200 * MM]],
                in_box: u32::try_from(in_box).expect("four boxes"),
                may_turn: true,
            });
        }
    }
    modules
}

fn order(criterion: &mut Criterion) {
    let modules = four_boxes(24, 4);
    let question = Question {
        modules: &modules,
        series: 96,
        parallel: 1,
        joined: Joined::Strings,
        exits: [Some([0, 600 * MM, 0]); 2],
        disconnect: None,
        locks: &[],
        reach: 30 * MM,
    };
    let mut group = criterion.benchmark_group("wiring, 96 modules in 4 boxes");
    group.sample_size(10);
    group.bench_function("shortest", |bencher| {
        bencher.iter(|| wiring::order(&question, wiring::Goal::Shortest, WORK, &mut |_| true));
    });
    group.bench_function("nearest to nearest", |bencher| {
        bencher.iter(|| wiring::nearest(&question));
    });
    group.bench_function("links of an order", |bencher| {
        let order = wiring::nearest(&question);
        bencher.iter(|| wiring::links(&question, &order));
    });
    group.finish();
}

criterion_group!(benches, matching, order);
criterion_main!(benches);
