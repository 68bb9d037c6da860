//! How long adjusting a cavity and looking for slips in it takes.

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use tape::Length;
use tape::survey::{Corner, Line, Observation, adjust, search, square_box, what_fixes};

/// A skewed cavity read along `lines`, to the nearest 1/16 in.
fn survey(lines: &[Line], repeats: usize) -> Vec<Observation> {
    let mut corners = square_box([1067.0, 406.0, 229.0]);
    for (corner, at) in corners.iter_mut().enumerate() {
        for (axis, part) in at.iter_mut().enumerate() {
            // As good as any: up to 10 mm off square, all different.
            let step = u32::try_from(corner * 3 + axis).expect("below 24");
            *part += f64::from(step * 37 % 21) - 10.0;
        }
    }
    let read = |line: &Line| {
        let [from, to] = line.ends();
        let [a, b] = [from, to].map(|corner: Corner| corners[corner.index()]);
        let mm = (0..3).map(|i| (a[i] - b[i]).powi(2)).sum::<f64>().sqrt();
        let mark = Length::sixty_fourths(4);
        Observation::distance(from, to, Length::from_mm(mm).round_down_to(mark), mark)
    };
    lines.iter().cycle().take(lines.len() * repeats).map(read).collect()
}

fn surveys(criterion: &mut Criterion) {
    let all = Line::all();
    for (name, lines, repeats) in [("24", &all[..24], 1), ("28", &all[..], 1), ("56", &all[..], 2)] {
        let readings = survey(lines, repeats);
        let mut slipped = readings.clone();
        slipped[9].value += Length::inches(1);
        criterion.bench_with_input(BenchmarkId::new("adjust", name), &readings, |b, readings| {
            b.iter(|| adjust(readings));
        });
        criterion.bench_with_input(BenchmarkId::new("search, one slip", name), &slipped, |b, readings| {
            b.iter(|| search(readings));
        });
        slipped[0].value += Length::inches(12);
        criterion.bench_with_input(
            BenchmarkId::new("search, an inch and a foot", name),
            &slipped,
            |b, readings| {
                b.iter(|| search(readings));
            },
        );
    }
    // Lengths that have nothing to do with each other.
    let mut nonsense = survey(&all, 1);
    for (index, reading) in nonsense.iter_mut().enumerate() {
        let step = u32::try_from(index).expect("below 28");
        reading.value = Length::from_mm(f64::from(step * 677 % 1999) + 50.0);
    }
    criterion.bench_with_input(BenchmarkId::new("search", "nonsense"), &nonsense, |b, readings| {
        b.iter(|| search(readings));
    });
    for count in [3, 16, 17] {
        let readings = survey(&all[..count], 1);
        criterion.bench_with_input(BenchmarkId::new("what fixes", count), &readings, |b, readings| {
            b.iter(|| what_fixes(readings, &all));
        });
    }
}

criterion_group!(benches, surveys);
criterion_main!(benches);
