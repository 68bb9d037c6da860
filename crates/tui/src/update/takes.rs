//! Keys in the panel that tells what one more would take.

use job::Field;
use ratatui::crossterm::event::{KeyCode, KeyEvent};

use super::commands::{go_to, turn_to};
use super::tasks;
use crate::form::Row;
use crate::model::{Effect, Model, Overlay};
use crate::pages::takes::{fields, page_of};
use crate::task::Task;

/// A key while the panel is open.
pub(super) fn on_key(model: &mut Model, key: KeyEvent, away: bool) -> Vec<Effect> {
    let is_running = matches!(&model.running, Some(running) if matches!(running.task, Task::Takes(_)));
    let last = fields(model).len().saturating_sub(1);
    let Some(takes) = &mut model.takes else {
        return Vec::new();
    };
    let here = takes.cursor.min(last);
    match key.code {
        _ if away && !is_running => return Vec::new(),
        _ if away => {
            model.overlay = Some(Overlay::Takes);
            return tasks::stop(model);
        }
        KeyCode::Char('w') if !is_running => {
            tasks::ask_takes(model);
            return Vec::new();
        }
        KeyCode::Enter => {
            if let Some(field) = fields(model).get(here).copied().flatten() {
                jump(model, field);
                return Vec::new();
            }
        }
        KeyCode::Up => takes.cursor = here.saturating_sub(1),
        KeyCode::Down => takes.cursor = (here + 1).min(last),
        KeyCode::PageUp => takes.cursor = here.saturating_sub(10),
        KeyCode::PageDown | KeyCode::Char(' ') => takes.cursor = (here + 10).min(last),
        KeyCode::Home => takes.cursor = 0,
        KeyCode::End => takes.cursor = last,
        _ => {}
    }
    model.overlay = Some(Overlay::Takes);
    Vec::new()
}

/// Goes to the row of a field, opening the keep-out that it belongs to.
fn jump(model: &mut Model, field: Field) {
    turn_to(model, page_of(field));
    if let Field::KeepOutFrom(id, _) | Field::KeepOutTaken(id) = field {
        model.tape.open = Some(crate::form::Group::KeepOut(id));
    }
    go_to(model, |row| *row == Row::Field(field));
    model.tell("w goes back to what it would take");
}
