//! How long the clearances of everything take: what a nudge waits for.

use std::hint::black_box;

use criterion::{BenchmarkId, Criterion};
use geometry::clearance::{Scene, Solid, all_around, around, overlaps};
use geometry::{Cuboid, Point, Size};
use tape::Length;

/// `count` modules in rows of `columns`, in layers, none quite in line with the next.
fn stand(count: usize, columns: usize) -> (Cuboid, Vec<Solid>) {
    let (pitch, size) = (
        [212, 160, 131],
        Size([Length::mm(200), Length::mm(150), Length::mm(120)]),
    );
    let mut space = Cuboid::default();
    let mut solids = Vec::new();
    for thing in 0..count {
        let cell = [thing % columns, thing / columns % columns, thing / (columns * columns)];
        let lo = Point(std::array::from_fn(|axis| {
            let shift = (thing * 7919 + axis * 104_729) % 9;
            let steps = i64::try_from(cell[axis]).expect("small");
            Length::mm(pitch[axis] * steps) + Length::mm(i64::try_from(shift).expect("below 9"))
        }));
        let cuboid = Cuboid::at(lo, size);
        space = space.hull(&cuboid);
        solids.push(Solid { thing, cuboid });
    }
    (space, solids)
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    let mut group = criterion.benchmark_group("clearances");
    for (count, columns) in [(10, 5), (100, 6), (500, 10)] {
        let (space, solids) = stand(count, columns);
        let scene = Scene { space, solids: &solids };
        group.bench_function(BenchmarkId::new("all_around", count), |b| {
            b.iter(|| all_around(black_box(&scene)));
        });
        group.bench_function(BenchmarkId::new("around", count), |b| {
            b.iter(|| around(black_box(&scene), count / 2));
        });
        group.bench_function(BenchmarkId::new("overlaps", count), |b| {
            b.iter(|| overlaps(black_box(&scene)));
        });
    }
    group.finish();
    criterion.final_summary();
}
