//! How long one frame of the Layout page takes to draw, everything in it changed.

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use tui::run::open_model;
use tui::theme::Theme;

fn benches(c: &mut Criterion) {
    let mut group = c.benchmark_group("layout page");
    for (columns, rows) in [(80, 24), (200, 60)] {
        for name in ["orchard-flatbed", "mountain-rescue"] {
            let text = job::example(name).expect("a built-in job").text;
            let job = job::load(text.as_bytes()).expect("a built-in job loads");
            let model = open_model(job, Theme::default(), (columns, rows));
            let mut terminal = Terminal::new(TestBackend::new(columns, rows)).expect("a buffer never fails");
            let id = BenchmarkId::new(name, format!("{columns}x{rows}"));
            group.bench_function(id, |b| {
                b.iter(|| terminal.draw(|frame| tui::view::draw(&model, frame)).map(|_| ()));
            });
        }
    }
    group.finish();
    c.bench_function("start to first frame, mountain-rescue 80x24", |b| {
        b.iter(|| {
            let text = job::example("mountain-rescue").expect("a built-in job").text;
            let job = job::load(text.as_bytes()).expect("a built-in job loads");
            let model = open_model(job, Theme::default(), (80, 24));
            let mut terminal = Terminal::new(TestBackend::new(80, 24)).expect("a buffer never fails");
            terminal.draw(|frame| tui::view::draw(&model, frame)).map(|_| ())
        });
    });
}

criterion_group!(frames, benches);
criterion_main!(frames);
