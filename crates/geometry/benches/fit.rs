//! How long the automatic layout takes: the packing cases by group, and two jobs with boxes.

#[path = "../tests/common/mod.rs"]
mod common;

use criterion::{Criterion, criterion_group, criterion_main};
use geometry::fit::{Budget, Cavity, KeepOut, Request, Unwatched, Wanted, fit};
use geometry::{Axis, Cuboid, Faces, Orientation, Point, Size};
use tape::Length;

fn packing_groups(criterion: &mut Criterion) {
    let cases = common::packing_cases();
    let mut groups: Vec<&str> = cases.iter().map(|case| case.group.as_str()).collect();
    groups.sort_unstable();
    groups.dedup();
    let mut group = criterion.benchmark_group("bare layouts");
    group.sample_size(10);
    for name in groups {
        let requests: Vec<&Request> = cases
            .iter()
            .filter(|case| case.group == name)
            .map(|case| &case.request)
            .collect();
        group.bench_function(format!("{name}: {} cases", requests.len()), |bencher| {
            bencher.iter(|| requests.iter().map(|request| count(request)).sum::<u32>());
        });
    }
    group.finish();
}

/// About so many crates of 320 x 142 x 228 mm, lying or standing any way, over cavities of different lengths with a pipe
/// across each at another place.
fn crates(modules: i64, cavities: i64) -> Request {
    let mut request = common::orchard();
    request.boxes = None;
    request.wanted = Wanted::AsMany;
    request.kinds[0].on_hand = None;
    request.kinds[0].service = Faces::default();
    request.kinds[0].orientations = Orientation::all();
    let each = modules / cavities;
    // Cavities about twice as long as wide, and up to three crates high.
    let high = if each >= 24 { 3 } else { 1 };
    let area = each / high;
    let wide = (1..=area)
        .take_while(|wide| wide * wide * 2 <= area * 3)
        .last()
        .unwrap_or(1);
    let long = (area + wide - 1) / wide;
    let mm = Length::mm;
    request.cavities = (0..cavities)
        .map(|i| {
            let space = Size([
                mm(long * 146 + 35 + 17 * i),
                mm(wide * 324 + 71 - 7 * i),
                mm(high * 231 + 24),
            ]);
            Cavity {
                space: Cuboid::at(Point::ZERO, space),
                wall_margin: Faces::all(mm(6)),
                keep_outs: vec![KeepOut {
                    cuboid: Cuboid::between(
                        Point([mm(90 + 13 * i), Length::ZERO, Length::ZERO]),
                        Point([mm(122 + 13 * i), space[Axis::Y], mm(30)]),
                    ),
                    margin: mm(5),
                }],
            }
        })
        .collect();
    request
}

fn scaling(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("scaling, bare");
    group.sample_size(10);
    for modules in [8, 32, 128, 512, 2_048] {
        for cavities in [1, 4, 20] {
            if modules < cavities {
                continue;
            }
            let request = crates(modules, cavities);
            let answer = fit(&request, Budget::default(), &mut Unwatched).expect("the request is sound");
            let name = format!(
                "{modules} wanted in {cavities}: {} of at most {}",
                answer.layouts[0].count, answer.upper_bound
            );
            group.bench_function(name, |bencher| bencher.iter(|| count(&request)));
        }
    }
    group.finish();
}

fn boxes(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("boxed layouts");
    group.sample_size(10);
    for (name, request) in [
        ("10 crates, two boxes", common::orchard()),
        ("48 stacked tiles, two boxes", common::rescue()),
        ("2048 modules, 20 cavities", common::many_boxes()),
    ] {
        group.bench_function(name, |bencher| bencher.iter(|| count(&request)));
    }
    group.finish();
}

fn count(request: &Request) -> u32 {
    fit(request, Budget::default(), &mut Unwatched)
        .expect("the requests are sound")
        .layouts[0]
        .count
}

criterion_group!(benches, packing_groups, scaling, boxes);
criterion_main!(benches);
