//! How long the usable cuboid takes: part of what every typed reading waits for.

use std::hint::black_box;

use criterion::Criterion;
use tape::Length;
use tape::inside::{Cavity, Corners, Frame, KeepBack, Shape, Space};
use tape::point::{FromCorner, locate};
use tape::survey::Corner;

/// A hollow of about 1065 x 405 x 230 mm, no two edges of one length, each coordinate known to 1 mm.
fn shape() -> Shape {
    let corners = [
        [0.0, 0.0, 0.0],
        [1066.0, 0.0, 0.0],
        [1071.5, 409.0, -2.5],
        [3.0, 405.0, 1.0],
        [-4.0, 3.5, 229.0],
        [1063.0, -6.0, 233.0],
        [1069.0, 403.5, 227.5],
        [6.0, 411.0, 230.0],
    ];
    let covariance: Vec<f64> = (0..24 * 24).map(|n| f64::from(u8::from(n % 25 == 0))).collect();
    Shape::new(corners, &covariance).expect("a shape")
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    let mut group = criterion.benchmark_group("inside");
    let shape = shape();
    let cavity = Cavity::new(&shape, Frame::default()).expect("a cavity");
    group.bench_function("cavity", |b| {
        b.iter(|| Cavity::new(black_box(&shape), Frame::default()));
    });
    let each_at_worst = KeepBack {
        corners: Corners::EachAtWorst,
        ..KeepBack::sigmas(2.0)
    };
    for (name, keep) in [
        ("nothing kept back", KeepBack::default()),
        ("2 sigma", KeepBack::sigmas(2.0)),
        ("2 sigma of each corner", each_at_worst),
    ] {
        group.bench_function(format!("largest, {name}"), |b| {
            b.iter(|| cavity.largest(black_box(keep)));
        });
        let size = [1020, 380, 210].map(Length::mm);
        group.bench_function(format!("roomiest, {name}"), |b| {
            b.iter(|| cavity.roomiest(black_box(size), black_box(keep)));
        });
    }
    let usable = cavity.largest(KeepBack::sigmas(2.0)).expect("a cuboid").space;
    group.bench_function("slack", |b| b.iter(|| cavity.slack(black_box(&usable), 2)));
    group.bench_function("chance, 1 cuboid", |b| b.iter(|| cavity.chance(black_box(&[usable]))));
    // A body with five bands, each a little wider than the one below it.
    let bands: Vec<Space> = (0..6)
        .map(|n| {
            let mut band = usable;
            for axis in 0..2 {
                band.lo[axis] += Length::mm(5 - n);
                band.hi[axis] -= Length::mm(5 - n);
            }
            band.lo[2] += Length::mm(30 * n);
            band.hi[2] = band.lo[2] + Length::mm(30);
            band
        })
        .collect();
    group.bench_function("chance, 6 cuboids", |b| b.iter(|| cavity.chance(black_box(&bands))));
    let readings = [(0, 400), (2, 750), (5, 720), (7, 455)].map(|(corner, mm)| FromCorner {
        corner: Corner::ALL[corner],
        value: Length::mm(mm),
        sigma: Length::mm(20),
    });
    locate(&cavity, &readings).expect("a point");
    group.bench_function("point", |b| b.iter(|| locate(&cavity, black_box(&readings))));
    group.finish();
    criterion.final_summary();
}
