//! How long the automatic layout takes: the packing cases by group, and two jobs with boxes.

#[path = "../tests/common/mod.rs"]
mod common;

use criterion::{Criterion, criterion_group, criterion_main};
use geometry::fit::{Budget, Request, Unwatched, fit};

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

criterion_group!(benches, packing_groups, boxes);
criterion_main!(benches);
