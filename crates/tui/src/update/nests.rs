//! Keys in the panel of nests.

use ratatui::crossterm::event::{KeyCode, KeyEvent};

use super::tasks;
use crate::model::{Effect, Model, Overlay};
use crate::pages::nests::{count, of_job};
use crate::task::Task;

/// Shows the nests of the job as it is, or works them out.
pub(super) fn show(model: &mut Model) -> Vec<Effect> {
    if of_job(model).is_some_and(|nests| !nests.nesting.stopped) {
        model.overlay = Some(Overlay::Nests);
        return Vec::new();
    }
    if model.evaluation.cut.list.tables.is_empty() {
        model.refuse("nothing to cut yet: no box can be built; lay modules out first");
        return Vec::new();
    }
    tasks::start(model, Task::Nest)
}

/// A key while the panel is open.
pub(super) fn on_key(model: &mut Model, key: KeyEvent, away: bool) {
    let Some(nests) = &mut model.nests else {
        return;
    };
    let last = count(&nests.nesting).saturating_sub(1);
    let here = nests.at.min(last);
    nests.at = match key.code {
        _ if away => return,
        KeyCode::Char('n') => return,
        KeyCode::Left | KeyCode::Up => here.saturating_sub(1),
        KeyCode::Right | KeyCode::Down | KeyCode::Char(' ') => (here + 1).min(last),
        KeyCode::Home => 0,
        KeyCode::End => last,
        _ => here,
    };
    model.overlay = Some(Overlay::Nests);
}
