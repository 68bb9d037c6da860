//! What an input changes: dispatch only. No terminal, clock, file or thread in here.

mod back;
mod commands;
mod nests;
mod offer;
mod overlay;
pub(crate) mod papers;
mod pick;
mod survey;
mod takes;
mod tasks;
mod typing;
mod walk;
pub(crate) mod ways;
mod wiring;

use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers, MouseButton, MouseEvent, MouseEventKind};
use tape::Length;

use crate::input::{Input, asks_to_suspend};
use crate::keys::{self, Command};
use crate::model::{Effect, Model, Overlay};
use crate::page::Page;
use crate::pages::{self, layout};
use crate::task::Report;
use crate::view;

/// Takes one input in, and tells what the shell has to do.
pub fn update(model: &mut Model, input: Input<Report>) -> Vec<Effect> {
    let mut effects = take(model, input);
    effects.extend(tasks::stop_when_pointless(model));
    effects.extend(pages::papers::make_when_shown(model));
    effects
}

fn take(model: &mut Model, input: Input<Report>) -> Vec<Effect> {
    match input {
        Input::Key(key) if asks_to_suspend(&key) => vec![Effect::Suspend],
        Input::Key(key) => on_key(model, key),
        Input::Paste(text) => {
            typing::paste(model, &text);
            Vec::new()
        }
        Input::Mouse(mouse) => {
            on_mouse(model, mouse);
            Vec::new()
        }
        Input::Resize(columns, rows) => {
            model.resize((columns, rows));
            Vec::new()
        }
        Input::Worker(report) => {
            crate::task::take_in(model, report);
            Vec::new()
        }
        Input::Focus(_) | Input::Tick => Vec::new(),
    }
}

fn on_key(model: &mut Model, key: KeyEvent) -> Vec<Effect> {
    model.asked = None;
    if is_chord(&key) && !is_written_in(model) && !is_away(&key) {
        // A letter held with Ctrl or Alt is not that letter: what it does elsewhere must not happen here.
        model.tell("that key does nothing here; ? shows the keys");
        return Vec::new();
    }
    if model.overlay.is_some() {
        return overlay::on_key(model, key);
    }
    if model.form().is_some_and(|form| form.typing.is_some()) {
        return typing::on_key(model, key);
    }
    if starts_typing(model, &key) {
        typing::begin_with(model, key);
        return Vec::new();
    }
    match keys::command(model.page, &key) {
        Some(command) => commands::carry_out(model, command),
        None => {
            if let KeyCode::Char(_) = key.code {
                model.tell("that key does nothing here; ? shows the keys");
            }
            Vec::new()
        }
    }
}

/// Whether a character is held with Ctrl, Alt or the like.
fn is_chord(key: &KeyEvent) -> bool {
    matches!(key.code, KeyCode::Char(_)) && key.modifiers - KeyModifiers::SHIFT != KeyModifiers::NONE
}

/// Whether a field has the keys, which edits with Ctrl and Alt too.
fn is_written_in(model: &Model) -> bool {
    match &model.overlay {
        Some(overlay) => matches!(overlay, Overlay::Prompt(_)),
        None => model.form().is_some_and(|form| form.typing.is_some()),
    }
}

/// Whether a key means away from here, whatever is open.
fn is_away(key: &KeyEvent) -> bool {
    key.code == KeyCode::Esc || (key.code == KeyCode::Char('c') && key.modifiers.contains(KeyModifiers::CONTROL))
}

/// A digit or a point on a form goes straight into the field under the cursor.
fn starts_typing(model: &Model, key: &KeyEvent) -> bool {
    let plain = key.modifiers - KeyModifiers::SHIFT == KeyModifiers::NONE;
    let begins = matches!(key.code, KeyCode::Char(c) if c.is_ascii_digit() || c == '.' || c == '-');
    plain && begins && model.form().is_some()
}

/// The mouse selects and drags on the layout sheet, and moves the cursor of a form.
fn on_mouse(model: &mut Model, mouse: MouseEvent) {
    if model.overlay.is_some() {
        return;
    }
    let (x, y) = (mouse.column, mouse.row);
    match mouse.kind {
        MouseEventKind::ScrollUp => pages_scroll(model, -3),
        MouseEventKind::ScrollDown => pages_scroll(model, 3),
        MouseEventKind::Down(MouseButton::Left) => match view::tab_at(model, x, y) {
            Some(page) => {
                commands::carry_out(model, Command::To(page));
            }
            None if model.page == Page::Layout => grab(model, x, y),
            None => put_cursor(model, y),
        },
        MouseEventKind::Drag(MouseButton::Left) if model.page == Page::Layout => drag(model, x, y),
        MouseEventKind::Up(_) => model.sheet.drag = None,
        _ => {}
    }
}

fn pages_scroll(model: &mut Model, by: isize) {
    let rows = pages::rows(model);
    if let Some(form) = model.form_mut().filter(|f| f.typing.is_none()) {
        form.step(&rows, by);
    }
}

fn put_cursor(model: &mut Model, y: u16) {
    if let Some(row) = view::form_row_at(model, y) {
        let rows = pages::rows(model);
        if let Some(form) = model.form_mut().filter(|f| f.typing.is_none()) {
            form.cursor = row;
            form.settle(&rows);
        }
    }
}

fn grab(model: &mut Model, x: u16, y: u16) {
    model.look_away();
    let Some(hit) = layout::picture::hit(model, x, y) else {
        return;
    };
    if let Some(thing) = hit.thing {
        model.sheet.selected = Some(thing);
        model.sheet.drag = Some(layout::Drag {
            from: hit.world,
            begun: false,
        });
    }
}

/// Moves the grabbed thing by whole steps after the pointer.
fn drag(model: &mut Model, x: u16, y: u16) {
    let (Some(drag), Some(thing)) = (model.sheet.drag, model.sheet.selected) else {
        return;
    };
    let Some(hit) = layout::picture::hit(model, x, y) else {
        return;
    };
    let step = model.sheet.nudge(model.evaluation.units);
    let whole = |now: Length, then: Length| (now - then).round_to(step);
    let (du, dv) = (whole(hit.world.0, drag.from.0), whole(hit.world.1, drag.from.1));
    if (du, dv) != (Length::ZERO, Length::ZERO) {
        let by = layout::hand::on_sheet(model.sheet.side, du, dv);
        let moved = layout::hand::drag(model, thing, by, drag.begun);
        // The sheet may be laid out anew around the moved thing, so the pointer is told again in the new picture.
        let from = layout::picture::hit(model, x, y).map_or(hit.world, |h| h.world);
        model.sheet.drag = Some(layout::Drag {
            from,
            begun: drag.begun || moved,
        });
    }
}

/// Starts a task, or says what it still needs.
pub(crate) fn start_task(model: &mut Model, task: crate::task::Task) -> Vec<Effect> {
    tasks::start(model, task)
}

/// What comes first when a job is shown: one without any layout walks from needed value to needed value.
pub fn begin(model: &mut Model) {
    if model.job().boxes.is_empty() {
        commands::begin_walk(model);
    }
}
