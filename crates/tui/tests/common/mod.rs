//! A job on the screens without a terminal: keys in, picture out.
#![allow(dead_code, reason = "each test program uses its part of it")]

use job::{Job, load};
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use tui::Report;
use tui::input::Input;
use tui::model::{Effect, Model};
use tui::run::{feed, open_model};
use tui::theme::Theme;

pub(crate) fn built_in(name: &str) -> Job {
    let text = job::example(name).expect("a built-in job").text;
    load(text.as_bytes()).expect("a built-in job loads")
}

/// A built-in job with its cavities taken as square and nothing held back for the tape: for tests of what is laid out,
/// which are not to follow what the readings are trusted with.
pub(crate) fn plain(name: &str, size: (u16, u16)) -> Model {
    let mut job = built_in(name);
    job.settings.sigmas = job::Sigmas::new(0.0);
    for cavity in &mut job.cavities {
        cavity.readings.retain(|r| r.line.dimension().is_some());
    }
    open_model(job, Theme::default(), size)
}

pub(crate) fn example(name: &str, size: (u16, u16)) -> Model {
    open_model(built_in(name), Theme::default(), size)
}

pub(crate) fn screen(model: &Model) -> Terminal<TestBackend> {
    let mut terminal = Terminal::new(TestBackend::new(model.size.0, model.size.1)).unwrap();
    terminal.draw(|frame| tui::view::draw(model, frame)).unwrap();
    terminal
}

pub(crate) fn key(code: KeyCode) -> Input<Report> {
    Input::Key(KeyEvent::new(code, KeyModifiers::NONE))
}

pub(crate) fn press(model: &mut Model, keys: &str) -> Vec<Effect> {
    feed(model, keys.chars().map(|c| key(KeyCode::Char(c))))
}

pub(crate) fn enter(model: &mut Model, text: &str) {
    press(model, text);
    feed(model, [key(KeyCode::Enter)]);
}

/// What the screen shows, row by row.
pub(crate) fn rows(model: &Model) -> Vec<String> {
    let terminal = screen(model);
    let buffer = terminal.backend().buffer();
    let columns = usize::from(buffer.area.width);
    let rows = buffer.content().chunks(columns);
    rows.map(|row| row.iter().map(ratatui::buffer::Cell::symbol).collect())
        .collect()
}

/// Whether `text` stands on one row of the screen.
pub(crate) fn shows(model: &Model, text: &str) -> bool {
    rows(model).iter().any(|row| row.contains(text))
}
