//! How long every key press waits: evaluating a job, and a nudge through the history.

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use geometry::{Axis, Orientation, Point};
use job::{Edit, Field, History, Job, UnitsName, evaluate, evaluate_after};
use tape::Length;

fn with(job: &Job, edit: &Edit) -> Job {
    job.with(edit).expect("the edits of the benchmark fit")
}

/// As in the program.
#[global_allocator]
static HEAP: mimalloc::MiMalloc = mimalloc::MiMalloc;

/// A job with `modules` modules, ten to a box, in one long cavity.
fn job(modules: u32) -> Job {
    let mut job = Job::empty(UnitsName::Millimetre);
    let (cavity, kind) = (job.cavities[0].id, job.kinds[0].id);
    for (line, text) in [("length", "12000"), ("width", "9000"), ("height", "500")] {
        let line = line.parse().expect("a line");
        let text = text.to_owned();
        job = with(&job, &Edit::AddReading { cavity, line, text });
    }
    let on_hand = modules.to_string();
    let values = [
        (Field::KindSize(kind, Axis::X), "320"),
        (Field::KindSize(kind, Axis::Y), "142"),
        (Field::KindSize(kind, Axis::Z), "212"),
        (Field::KindMass(kind), "18"),
        (Field::KindNominal(kind), "25.6"),
        (Field::KindAmpHours(kind), "105"),
        (Field::KindOnHand(kind), on_hand.as_str()),
        (Field::DriveMin, "90"),
        (Field::DriveMax, "420"),
    ];
    for (field, text) in values {
        let text = text.to_owned();
        job = with(&job, &Edit::Set { field, text });
    }
    for b in 0..modules.div_ceil(10) {
        let at = Point([
            Length::mm(i64::from(60 + b % 15 * 780)),
            Length::mm(i64::from(60 + b / 15 * 900)),
            Length::mm(20),
        ]);
        job = with(&job, &Edit::AddBox { cavity, at });
        let into = job.boxes.last().expect("it was added").id;
        for m in 0..10.min(modules - b * 10) {
            let at = Point([
                Length::mm(i64::from(m % 2 * 324)),
                Length::mm(i64::from(m / 2 * 146)),
                Length::ZERO,
            ]);
            let module = Edit::AddModule {
                into,
                kind,
                at,
                stands: Orientation::UPRIGHT,
                count: 1,
            };
            job = with(&job, &module);
        }
    }
    job
}

fn benches(c: &mut Criterion) {
    let mut group = c.benchmark_group("evaluate");
    for modules in [10, 100, 500] {
        let job = job(modules);
        group.bench_with_input(BenchmarkId::from_parameter(modules), &job, |b, job| {
            b.iter(|| evaluate(job));
        });
    }
    group.finish();
    let job = job(100);
    let module = job.boxes[0].modules[0].id;
    let by = Point::along(Axis::X, Length::mm(1));
    c.bench_function("nudge, 100 modules", |b| {
        let mut history = History::new(job.clone());
        b.iter(|| history.apply(Edit::NudgeModule { module, by }));
    });
}

/// A job with two surveyed cavities: all of it from nothing, after a reading was typed, and after a box was moved.
fn surveyed(criterion: &mut Criterion) {
    let text = job::example("orchard-flatbed").expect("a built-in job").text;
    let job = job::load(text.as_bytes()).expect("built-in jobs load");
    let before = evaluate(&job);
    let cavity = job.cavities[0].id;
    let field = Field::ReadingValue(cavity, 13);
    let read = Edit::Set {
        field,
        text: "53 9/16".to_owned(),
    };
    let read = job.with(&read).expect("a reading");
    let by = Point([Length::mm(1); 3]);
    let battery_box = job.boxes[0].id;
    let moved = job.with(&Edit::NudgeBox { battery_box, by }).expect("a nudge");
    criterion.bench_function("surveyed, from nothing", |b| b.iter(|| evaluate(&job)));
    criterion.bench_function("surveyed, a reading typed", |b| {
        b.iter(|| evaluate_after(&read, Some((&job, &before))));
    });
    criterion.bench_function("surveyed, a box moved", |b| {
        b.iter(|| evaluate_after(&moved, Some((&job, &before))));
    });
}

criterion_group!(evaluation, benches, surveyed);
criterion_main!(evaluation);
