//! How long one frame of the Layout page takes to draw, everything in it changed.

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use tui::input::Input;
use tui::run::{feed, open_model};
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
    over_the_page(c);
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

/// Layouts offered over the sheet, and the panel of changes.
fn over_the_page(c: &mut Criterion) {
    let key = |code| Input::Key(KeyEvent::new(code, KeyModifiers::NONE));
    let mut group = c.benchmark_group("over the page");
    for (name, keys) in [("offer", "f"), ("what it takes", "w2")] {
        for (columns, rows) in [(80, 24), (200, 60)] {
            let text = job::example("orchard-flatbed").expect("a built-in job").text;
            let job = job::load(text.as_bytes()).expect("a built-in job loads");
            let mut model = open_model(job, Theme::default(), (columns, rows));
            feed(&mut model, keys.chars().map(|c| key(KeyCode::Char(c))));
            let mut terminal = Terminal::new(TestBackend::new(columns, rows)).expect("a buffer never fails");
            group.bench_function(BenchmarkId::new(name, format!("{columns}x{rows}")), |b| {
                b.iter(|| terminal.draw(|frame| tui::view::draw(&model, frame)).map(|_| ()));
            });
        }
    }
    group.finish();
}

criterion_group!(frames, benches);
criterion_main!(frames);
