//! How long nesting takes: two hundred panels of mixed boxes, cut both ways, and lengths on bars.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use enclosure::nest::sheets::{Cutting, Part, Request, Stock};
use enclosure::nest::{Budget, Supply, Unwatched, bars, sheets};
use tape::Length;

/// Floor, lid and four walls of each of so many boxes in eight sizes, with 3 mm kerf on 4 x 8 ft sheets.
fn panels(boxes: i64, cutting: Cutting) -> Request {
    let mut parts = Vec::new();
    for size in 0..8 {
        let quantity = u32::try_from((boxes + 7 - size) / 8).expect("few");
        let inside = [420 + size * 97 % 610, 260 + size * 61 % 290, 150 + size * 37 % 130];
        for [a, b] in [[0, 1], [0, 2], [1, 2]] {
            let turns = [Length::mm(inside[a]) + Length::mm(6), Length::mm(inside[b])];
            parts.push(Part {
                sides: turns,
                quantity: quantity * 2,
                id: parts.len(),
                may_turn: true,
            });
        }
    }
    Request {
        parts,
        stock: vec![Stock {
            sides: [Length::inches(96), Length::inches(48)],
            supply: Supply::Bought,
        }],
        kerf: Length::mm(3),
        trim: Length::mm(10),
        cutting,
        keep: [Length::mm(200), Length::mm(100)],
    }
}

fn nests(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("nest");
    group.sample_size(10);
    for (name, cutting) in [("sheared", Cutting::Guillotine), ("freely", Cutting::Free)] {
        let request = panels(34, cutting);
        let pieces: u32 = request.parts.iter().map(|part| part.quantity).sum();
        let nest = sheets::nest(&request, Budget::default(), &mut Unwatched).expect("sizes make sense");
        group.bench_function(
            format!(
                "{pieces} panels {name}: {} sheets, at least {}",
                nest.bought, nest.at_least
            ),
            |bencher| bencher.iter(|| sheets::nest(black_box(&request), Budget::default(), &mut Unwatched)),
        );
    }
    let request = bars::Request {
        parts: (0..40)
            .map(|n| bars::Part {
                length: Length::mm(220 + n * 173 % 1_400),
                quantity: 5,
                id: usize::try_from(n).expect("few"),
            })
            .collect(),
        stock: vec![bars::Stock {
            length: Length::mm(6_000),
            supply: Supply::Bought,
        }],
        kerf: Length::mm(3),
        trim: Length::mm(10),
    };
    let nest = bars::nest(&request, Budget::default(), &mut Unwatched).expect("sizes make sense");
    group.bench_function(
        format!("200 lengths: {} bars, at least {}", nest.bought, nest.at_least),
        |bencher| bencher.iter(|| bars::nest(black_box(&request), Budget::default(), &mut Unwatched)),
    );
    group.finish();
}

criterion_group!(benches, nests);
criterion_main!(benches);
