//! A value being typed into the row under the cursor.

use job::{Field, Id};
use ratatui::crossterm::event::{KeyCode, KeyEvent};

use super::{commands, is_away, pick, survey, walk};
use crate::form::{Row, edit_of};
use crate::keys::{self, Command};
use crate::model::{Effect, Model, Overlay};
use crate::pages;
use crate::pages::tape::lines;

/// Opens the field under the cursor with the character just typed.
pub(super) fn begin_with(model: &mut Model, key: KeyEvent) {
    let rows = pages::rows(model);
    let KeyCode::Char(c) = key.code else { return };
    if let Some((field, shown)) = commands::field_here(model, &rows).filter(|(_, shown)| !shown.options.is_empty()) {
        return pick::open(model, field, shown, Some(c));
    }
    if let Some(form) = model.form_mut()
        && matches!(form.row(&rows), Some(Row::Field(_) | Row::NewReading { .. }))
    {
        form.type_in(&c.to_string());
    }
}

/// A key while typing.
pub(super) fn on_key(model: &mut Model, key: KeyEvent) -> Vec<Effect> {
    match key.code {
        _ if is_away(&key) => {
            if let Some(form) = model.form_mut() {
                form.typing = None;
            }
            model.walking = false;
            model.tell("left as it was");
            Vec::new()
        }
        KeyCode::Enter => {
            let survey = untaped_line(model);
            let is_read = typed(model).is_some_and(|text| !text.trim().is_empty());
            let taped = line_here(model).filter(|_| is_read);
            if !take(model) {
                return Vec::new();
            }
            if let Some(cavity) = taped {
                survey::tell(model, cavity);
            }
            match survey {
                Some(cavity) => to_next_line(model, cavity),
                None => advance(model),
            }
        }
        KeyCode::Up | KeyCode::BackTab => {
            let empty = typed(model).is_some_and(|t| t.is_empty());
            if empty {
                drop_typing(model);
            }
            if empty || take(model) {
                step(model, -1);
            }
            Vec::new()
        }
        KeyCode::Down | KeyCode::Tab => {
            let empty = typed(model).is_some_and(|t| t.is_empty());
            if empty {
                drop_typing(model);
            }
            if empty || take(model) {
                step(model, 1);
            }
            Vec::new()
        }
        KeyCode::F(_) => {
            let command = keys::command(model.page, &key);
            // Help lies over the page and leaves the field as it is.
            if command == Some(Command::Help) {
                return commands::carry_out(model, Command::Help);
            }
            let Some(command) = command else { return Vec::new() };
            let empty = typed(model).is_some_and(|t| t.is_empty());
            if empty {
                drop_typing(model);
            }
            if empty || take(model) {
                model.walking = false;
                return commands::carry_out(model, command);
            }
            Vec::new()
        }
        _ => {
            if let Some(typing) = model.form_mut().and_then(|f| f.typing.as_mut())
                && typing.input.key(key)
            {
                typing.refused = None;
            }
            Vec::new()
        }
    }
}

/// The cavity of the row under the cursor, when it is a line from corner to corner that nobody has taped yet.
fn untaped_line(model: &Model) -> Option<Id> {
    let rows = pages::rows(model);
    match model.form()?.row(&rows)? {
        Row::NewReading { cavity, line, .. } if line.of_survey().is_some() && !model.walking => Some(*cavity),
        _ => None,
    }
}

/// The cavity of the row under the cursor, when it is about a line from corner to corner.
fn line_here(model: &Model) -> Option<Id> {
    let rows = pages::rows(model);
    let row = model.form()?.row(&rows)?;
    lines::line_at(model, row).map(|(cavity, _)| cavity)
}

/// On to the next line that nobody has taped yet, open for typing: one hand holds the tape. An empty Enter passes a line
/// over.
fn to_next_line(model: &mut Model, cavity: Id) -> Vec<Effect> {
    let rows = pages::rows(model);
    let cursor = model.form().map_or(0, |form| form.cursor);
    // After the last line nothing else opens under the next Enter.
    if let (Some(next), Some(form)) = (lines::next_untaped(model, &rows, cursor, cavity), model.form_mut()) {
        form.cursor = next;
        form.type_in("");
    }
    Vec::new()
}

fn typed(model: &Model) -> Option<String> {
    model.form()?.typing.as_ref().map(|t| t.input.text().to_owned())
}

fn drop_typing(model: &mut Model) {
    if let Some(form) = model.form_mut() {
        form.typing = None;
    }
}

/// Makes an edit of what was typed. A refusal stays with the field, and so does the text.
fn take(model: &mut Model) -> bool {
    let rows = pages::rows(model);
    let Some(form) = model.form() else { return true };
    let (Some(row), Some(text)) = (form.row(&rows).cloned(), typed(model)) else {
        return true;
    };
    let result = match edit_of(&row, &text) {
        Some(edit) => model.apply(edit),
        None => Ok(()),
    };
    let Some(form) = model.form_mut() else { return true };
    match result {
        Ok(()) => {
            form.typing = None;
            true
        }
        Err(refusal) => {
            if let Some(typing) = &mut form.typing {
                typing.refused = Some(refusal);
            }
            // It stands at the field; once is enough.
            model.tell("");
            false
        }
    }
}

/// After a value was taken: on to the next needed value, or the next row.
pub(super) fn advance(model: &mut Model) -> Vec<Effect> {
    if model.walking {
        return walk::on(model);
    }
    if !to_needed_reading(model) {
        step(model, 1);
    }
    Vec::new()
}

/// After a reading, on to the next dimension of the same cavity that has none yet, open for typing.
fn to_needed_reading(model: &mut Model) -> bool {
    let rows = pages::rows(model);
    let Some(form) = model.form() else { return false };
    let here = match rows.get(form.cursor) {
        Some(Row::NewReading { cavity, .. } | Row::Field(Field::ReadingValue(cavity, _))) => *cavity,
        _ => return false,
    };
    let is_needed = |row: &Row| matches!(row, Row::NewReading { cavity, needed: true, .. } if *cavity == here);
    let Some(next) = rows.iter().position(is_needed) else {
        return false;
    };
    if let Some(form) = model.form_mut() {
        form.cursor = next;
        form.type_in("");
    }
    true
}

fn step(model: &mut Model, by: isize) {
    let rows = pages::rows(model);
    if let Some(form) = model.form_mut() {
        form.settle(&rows);
        form.step(&rows, by);
    }
}

/// Pasted text goes to the field that has the cursor, never to commands.
pub(super) fn paste(model: &mut Model, text: &str) {
    let typing = match &mut model.overlay {
        Some(Overlay::Prompt(prompt)) => Some(&mut prompt.typing),
        Some(_) => None,
        None => model.form_mut().and_then(|f| f.typing.as_mut()),
    };
    match typing {
        Some(typing) => {
            typing.input.paste(text);
            typing.refused = None;
        }
        None => model.tell("nothing takes the pasted text: open a field first (Enter)"),
    }
}
