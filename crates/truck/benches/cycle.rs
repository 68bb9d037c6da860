//! How long the energy of a whole drive takes: it runs at every key press.

use criterion::{Criterion, criterion_group, criterion_main};
use truck::cycle::{energy, range};
use truck::cycles::ALL;
use truck::road::{Resistance, TABLE_MPH, Vehicle};
use truck::units::MPS_PER_MPH;

const PICKUP: Vehicle = Vehicle {
    mass_kg: 1_900.0,
    mass_factor: 1.05,
    resistance: Resistance::Formula {
        rolling: 0.011,
        drag_area_m2: 1.1,
        air_kg_per_m3: 1.2,
    },
    drive_efficiency: 0.85,
    regen_efficiency: 0.4,
    aux_w: 300.0,
};

fn cycles(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("truck");
    for known in ALL {
        let cycle = known.cycle();
        group.bench_function(known.name(), |bencher| {
            bencher.iter(|| range(30.0, 0.1, &energy(&PICKUP, cycle).expect("the figures are in range")));
        });
    }
    let speeds = TABLE_MPH.map(|mph| mph * MPS_PER_MPH);
    group.bench_function("table of speeds", |bencher| bencher.iter(|| PICKUP.curve(&speeds)));
    group.finish();
}

criterion_group!(benches, cycles);
criterion_main!(benches);
