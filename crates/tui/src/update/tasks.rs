//! Starting a task, choosing one, stopping it.

use std::sync::Arc;

use job::layout::{Aim, Which, question};
use ratatui::crossterm::event::{KeyCode, KeyEvent};

use super::commands::turn_to;
use crate::model::{Choose, Effect, Model, Overlay, Running, Takes};
use crate::page::Page;
use crate::pages::layout::Thing;
use crate::task::{Task, show_offer};

/// Lays out; shows what is ready already, or the best so far of what is running.
pub(super) fn fit(model: &mut Model, aim: Aim) -> Vec<Effect> {
    if let Some(running) = &mut model.running
        && matches!(running.task, Task::Fit(_))
    {
        running.watching = true;
        turn_to(model, Page::Layout);
        return Vec::new();
    }
    let is_ready = model
        .ready
        .as_ref()
        .is_some_and(|offer| offer.found.proposal.question.aim == aim);
    if is_ready && show_offer(model) {
        return Vec::new();
    }
    start(model, Task::Fit(aim))
}

/// Starts a task, or says what it still needs.
pub(super) fn start(model: &mut Model, task: Task) -> Vec<Effect> {
    if let Some(running) = &model.running {
        let doing = running.task.doing();
        model.tell(format!("one thing after the other: still {doing}; Esc stops that"));
        return Vec::new();
    }
    let mut first = false;
    match task {
        Task::Fit(aim) => {
            if let Err(not_yet) = question(model.job(), &model.evaluation, aim) {
                model.refuse(not_yet.to_string());
                return Vec::new();
            }
            first = model.job().boxes.is_empty();
            turn_to(model, Page::Layout);
        }
        Task::Takes(aim) => {
            if let Err(not_yet) = question(model.job(), &model.evaluation, aim) {
                model.refuse(not_yet.to_string());
                return Vec::new();
            }
            model.takes = Some(Takes {
                job: model.history.shared(),
                aim,
                tolerances: Vec::new(),
                what_if: None,
                gains: Vec::new(),
                needs: None,
                is_whole: false,
                cursor: 0,
            });
            model.overlay = Some(Overlay::Takes);
        }
        Task::Spread(_) | Task::Match(_) | Task::Order(_) | Task::Nest | Task::Ways => {}
    }
    model.tell("");
    model.running = Some(Running {
        task,
        job: model.history.shared(),
        first,
        done: (0, 1),
        best: None,
        live: None,
        watching: true,
        stopping: false,
    });
    vec![Effect::Start(task)]
}

/// Stops the running task, which then tells what it has.
pub(super) fn stop(model: &mut Model) -> Vec<Effect> {
    match &mut model.running {
        Some(running) => {
            running.stopping = true;
            vec![Effect::Stop]
        }
        None => Vec::new(),
    }
}

/// Stops a task whose job has changed: what it finds would be dropped.
pub(super) fn stop_when_pointless(model: &mut Model) -> Vec<Effect> {
    let now = model.history.shared();
    let is_pointless = |running: &Running| !running.stopping && !Arc::ptr_eq(&running.job, &now);
    if model.running.as_ref().is_some_and(is_pointless) {
        stop(model)
    } else {
        Vec::new()
    }
}

/// The box that is selected or holds what is selected, and its name.
fn box_here(model: &Model) -> Option<(job::Id, String)> {
    let id = model.sheet.battery_box(&model.evaluation)?;
    Some((id, model.job().battery_box(id)?.name.clone()))
}

fn cavity_here(model: &Model) -> Option<(job::Id, String)> {
    let id = model.sheet.cavity?;
    Some((id, model.job().cavity(id)?.name.clone()))
}

/// Asks what to lay out.
pub(super) fn ask_fit(model: &mut Model) {
    let mut tasks = vec![(
        Task::Fit(Aim::Whole),
        "the whole job: all cavities, whole strings".to_owned(),
    )];
    if let Some((id, name)) = cavity_here(model) {
        tasks.push((Task::Fit(Aim::Fill(id)), format!("{name}: as many as go in")));
    }
    if let Some((id, name)) = box_here(model) {
        tasks.push((Task::Fit(Aim::Box(id)), format!("{name} alone, the rest stays")));
    }
    let is_box = matches!(model.sheet.selected, Some(Thing::Box(_)));
    let cursor = if is_box { 2 } else { 1 };
    choose(model, "Lay out what?", tasks, cursor);
}

/// Asks what to move apart.
pub(super) fn ask_spread(model: &mut Model) {
    let mut tasks = Vec::new();
    if let Some((id, name)) = box_here(model) {
        tasks.push((
            Task::Spread(Which::Modules(id)),
            format!("the modules of {name}, the box along with them"),
        ));
    }
    if let Some((id, name)) = cavity_here(model) {
        tasks.push((
            Task::Spread(Which::Boxes(id)),
            format!("the boxes of {name}, as they are"),
        ));
    }
    tasks.push((Task::Spread(Which::AllBoxes), "all boxes, as they are".to_owned()));
    let is_box = matches!(model.sheet.selected, Some(Thing::Box(_)));
    choose(model, "Move what apart, as far as it goes?", tasks, usize::from(is_box));
}

/// Shows what one more would take, if it was asked of the job as it is; else asks of what.
pub(super) fn show_takes(model: &mut Model) {
    let now = model.history.shared();
    if model.takes.as_ref().is_some_and(|takes| Arc::ptr_eq(&takes.job, &now)) {
        model.overlay = Some(Overlay::Takes);
    } else {
        ask_takes(model);
    }
}

/// Asks of what to tell what one more would take.
pub(super) fn ask_takes(model: &mut Model) {
    let mut tasks = vec![(
        Task::Takes(Aim::Whole),
        "the whole job: one more whole string".to_owned(),
    )];
    if let Some((id, name)) = cavity_here(model) {
        tasks.push((Task::Takes(Aim::Fill(id)), format!("{name}: one more module")));
    }
    if let Some((id, name)) = box_here(model) {
        tasks.push((Task::Takes(Aim::Box(id)), format!("{name}: one more module")));
    }
    choose(model, "What would one more take?", tasks, 0);
}

fn choose(model: &mut Model, question: &'static str, tasks: Vec<(Task, String)>, cursor: usize) {
    let cursor = cursor.min(tasks.len().saturating_sub(1));
    model.overlay = Some(Overlay::Choose(Choose {
        question,
        tasks,
        cursor,
    }));
}

/// A key while a task is chosen.
pub(super) fn on_choose(model: &mut Model, mut choose: Choose, key: KeyEvent, away: bool) -> Vec<Effect> {
    let n = choose.tasks.len();
    let taken = match key.code {
        _ if away => {
            model.tell("left as it was");
            return Vec::new();
        }
        KeyCode::Enter => choose.tasks.get(choose.cursor),
        KeyCode::Char(c @ '1'..='9') => choose.tasks.get(usize::from(c as u8 - b'1')),
        KeyCode::Up => {
            choose.cursor = choose.cursor.saturating_sub(1);
            None
        }
        KeyCode::Down => {
            choose.cursor = (choose.cursor + 1).min(n.saturating_sub(1));
            None
        }
        _ => None,
    };
    match taken {
        Some(&(Task::Fit(aim), _)) => fit(model, aim),
        Some(&(task, _)) => start(model, task),
        None => {
            model.overlay = Some(Overlay::Choose(choose));
            Vec::new()
        }
    }
}
