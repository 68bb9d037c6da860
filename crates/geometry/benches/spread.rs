//! How long sharing out the room takes: ragged grids of 8, 50 and 200 modules, bare and in one box.

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use geometry::fit::{BoxPlace, BoxRule, Cavity, KeepOut, Kind, Layout, Placement, Request, Wanted};
use geometry::spread::{Move, spread};
use geometry::{Cuboid, Face, Faces, Orientation, Point, Size};
use tape::Length;

/// Modules in layers of rows, pushed into the corner of a cavity with room to spare; every third row lacks one, so that
/// rows differ.
fn grid(count: i64, boxed: bool) -> (Request, Layout) {
    let size = Size([Length::mm(150), Length::mm(60), Length::mm(110)]);
    let gap = Length::mm(3);
    let mut service = Faces::default();
    service[Face::Top] = Length::mm(25);
    let (across, layers) = if count > 100 { (10, 2) } else { (4, 1) };
    let placements: Vec<Placement> = (0..)
        .filter(|n| n % (across * 3) != across - 1)
        .take(usize::try_from(count).expect("a few hundred"))
        .map(|n| {
            let (y, z, x) = (n % across, n / across % layers, n / across / layers);
            let steps = [
                (x, size.0[0] + gap),
                (y, size.0[1] + gap),
                (z, size.0[2] + Length::mm(25)),
            ];
            let lo = Point(steps.map(|(n, step)| step * n + Length::mm(20)));
            Placement {
                cavity: 0,
                in_box: boxed.then_some(0),
                kind: 0,
                orientation: Orientation::UPRIGHT,
                cuboid: Cuboid::at(lo, size),
                count: 1,
            }
        })
        .collect();
    let hull = placements
        .iter()
        .map(|p| p.cuboid)
        .reduce(|a, b| a.hull(&b))
        .expect("some");
    let space = Cuboid::between(Point::ZERO, hull.hi() + Point([Length::mm(90); 3]));
    let rear = Point([space.hi().0[0] - Length::mm(20), Length::mm(-10), Length::mm(60)]);
    let keep_outs = vec![KeepOut {
        cuboid: Cuboid::between(rear, Point([space.hi().0[0], Length::mm(200), Length::mm(120)])),
        margin: Length::mm(5),
    }];
    let rule = BoxRule {
        shell: Faces::all(Length::mm(4)),
        fit: Faces::all(Length::mm(1)),
        room: Faces::default(),
        bay: None,
        rims: Vec::new(),
        least_height: Length::ZERO,
        most_g: None,
        one_tier: false,
        per_cavity: 1,
        apart: Length::ZERO,
    };
    let placed = u32::try_from(count).expect("a few hundred");
    let layout = Layout {
        boxes: boxed
            .then_some(BoxPlace {
                cavity: 0,
                body: Cuboid::default(),
                inside: Cuboid::default(),
                bay: None,
            })
            .into_iter()
            .collect(),
        placements,
        count: placed,
        by_kind: vec![placed],
        to_spare: Length::ZERO,
    };
    let request = Request {
        cavities: vec![Cavity {
            space,
            wall_margin: Faces::all(Length::mm(6)),
            keep_outs,
        }],
        kinds: vec![Kind {
            size,
            orientations: vec![Orientation::UPRIGHT],
            service,
            on_hand: None,
            mass_g: 5000,
            stack: None,
        }],
        gap,
        boxes: boxed.then_some(rule),
        wanted: Wanted::AsMany,
        pinned: Vec::new(),
    };
    (request, layout)
}

fn spreads(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("spread");
    for count in [8, 50, 200] {
        for (name, boxed) in [("bare modules", false), ("modules in a box", true)] {
            let (request, layout) = grid(count, boxed);
            group.bench_function(BenchmarkId::new(name, count), |bencher| {
                bencher.iter(|| {
                    spread(&request, &layout, Move::Everything)
                        .expect("the layout is sound")
                        .least
                });
            });
        }
    }
    group.finish();
}

criterion_group!(benches, spreads);
criterion_main!(benches);
