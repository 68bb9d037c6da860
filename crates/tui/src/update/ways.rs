//! Keys in the panel of ways in.

use ratatui::crossterm::event::{KeyCode, KeyEvent};

use super::tasks;
use crate::model::{Effect, Message, Model, Overlay, Ways};
use crate::pages::layout::Thing;
use crate::pages::ways::{of_job, pages, poses, reading};
use crate::task::Task;

/// Shows the ways of the job as it is, from the selected box; or works them out.
pub(super) fn show(model: &mut Model) -> Vec<Effect> {
    if of_job(model).is_some_and(|ways| !ways.found.stopped) {
        open(model);
        return Vec::new();
    }
    if model.evaluation.boxes.is_empty() {
        model.refuse("no box to bring in yet: lay modules out first (f)");
        return Vec::new();
    }
    tasks::start(model, Task::Ways)
}

/// Opens the panel at the selected box.
pub(crate) fn open(model: &mut Model) {
    let selected = model.sheet.battery_box(&model.evaluation);
    if let Some(ways) = &mut model.ways {
        let order = ways.found.in_order();
        let here = order.iter().position(|&i| Some(ways.found.boxes[i].id) == selected);
        ways.at = here.unwrap_or(0);
        (ways.step, ways.page) = (0, 0);
        ways.service = None;
        model.overlay = Some(Overlay::Ways);
    }
}

/// How the keys of the panel are told after one that does nothing.
const HERE: &str = "here: ";

/// A key while the panel is open.
pub(super) fn on_key(model: &mut Model, key: KeyEvent, away: bool) {
    let selected = match model.sheet.selected_in(&model.evaluation) {
        Some(Thing::Module(id)) => Some(id),
        _ => None,
    };
    let body = crate::view::areas(model, model.size).body;
    let Some(ways) = &mut model.ways else { return };
    let of_service = pages(ways, body.width, body.height).map(|pages| pages.len() - 1);
    // The picture comes before the pages of its words.
    let last_page = match (&ways.service, of_service) {
        (Some(_), last) => last.unwrap_or(0),
        (None, _) => reading(ways, body.width, body.height).len(),
    };
    let is_read = ways.service.is_none() && ways.page > 0;
    let turns_pages = is_read || of_service.is_some();
    let page = ways.page.min(last_page);
    let last_step = poses(ways).saturating_sub(1);
    let last_box = ways.found.boxes.len().saturating_sub(1);
    let step = ways.step.min(last_step);
    // What was told of the key before says nothing of this one.
    if model.message.words.starts_with(HERE) {
        model.message = Message::default();
    }
    match key.code {
        _ if away => return,
        KeyCode::Char('g') => return,
        KeyCode::PageDown => ways.page = (page + 1).min(last_page),
        KeyCode::PageUp => ways.page = page.saturating_sub(1),
        KeyCode::Right | KeyCode::Char(' ') if turns_pages => ways.page = (page + 1).min(last_page),
        KeyCode::Left if turns_pages => ways.page = page.saturating_sub(1),
        KeyCode::Home if turns_pages => ways.page = 0,
        KeyCode::End if turns_pages => ways.page = last_page,
        KeyCode::Right | KeyCode::Char('+' | '=' | ' ') => ways.step = (step + 1).min(last_step),
        KeyCode::Left | KeyCode::Char('-') => ways.step = step.saturating_sub(1),
        KeyCode::Home => ways.step = 0,
        KeyCode::End => ways.step = last_step,
        KeyCode::Down => turn_to(ways, (ways.at + 1).min(last_box)),
        KeyCode::Up => turn_to(ways, ways.at.saturating_sub(1)),
        KeyCode::Char('t') if ways.service.is_none() && selected.is_none() => {
            model.tell("no module is selected: Esc, n to a module, then g and t take it out");
        }
        KeyCode::Char('t') => {
            ways.page = 0;
            ways.service = match (ways.service.take(), selected) {
                (None, Some(module)) => ways.found.take_out(&model.evaluation, module),
                _ => None,
            };
            // The box that it is in is what is told of, in the heading and in the picture too.
            let of = ways.service.as_ref().map(|service| service.box_name.clone());
            let order = ways.found.in_order();
            let here = order
                .iter()
                .position(|&i| Some(&ways.found.boxes[i].name) == of.as_ref());
            if let Some(here) = here.filter(|&here| here != ways.at) {
                (ways.at, ways.step) = (here, 0);
            }
        }
        KeyCode::Char(_) => {
            let across = match (turns_pages, last_page) {
                (false, _) => "left and right step, ",
                (true, 0) => "",
                (true, _) => "left and right turn pages, ",
            };
            let words = if ways.service.is_some() {
                ""
            } else {
                "PgDn all the words, "
            };
            model.tell(format!("{HERE}{across}up and down another box, {words}t, Esc back"));
        }
        _ => {}
    }
    model.overlay = Some(Overlay::Ways);
}

/// Another box is shown, and no longer what comes off before a module of the one before.
fn turn_to(ways: &mut Ways, at: usize) {
    if at != ways.at {
        (ways.at, ways.step, ways.page, ways.service) = (at, 0, 0, None);
    }
}
