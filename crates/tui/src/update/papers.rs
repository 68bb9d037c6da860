//! What each command does on the Papers page.

use std::sync::Arc;

use job::{Job, changes};

use crate::keys::Command;
use crate::model::{Effect, Goal, Model, Nests, Overlay, Prompt};
use crate::pages::nests;
use crate::pages::papers::{Made, folder, preview};

/// Lines that a key goes on in the paper that is looked at.
const MANY: usize = 8;

pub(super) fn carry_out(model: &mut Model, command: Command) -> Vec<Effect> {
    let last = model
        .papers
        .made
        .as_ref()
        .map_or(0, |made| made.entries.len().saturating_sub(1));
    let here = model.papers.cursor.min(last);
    match command {
        Command::Up => go_to(model, here.saturating_sub(1)),
        Command::Down => go_to(model, (here + 1).min(last)),
        Command::PageUp => model.papers.first_line = model.papers.first_line.saturating_sub(MANY),
        Command::PageDown => {
            let most = preview(model).len().saturating_sub(MANY);
            model.papers.first_line = (model.papers.first_line + MANY).min(most);
        }
        Command::Tick => {
            if let Some(key) = model.papers.here().map(|(_, entry)| entry.key.clone())
                && !model.papers.unticked.remove(&key)
            {
                model.papers.unticked.insert(key);
            }
        }
        Command::TickAll => tick_all(model),
        Command::Write => ask_folder(model),
        Command::Issue => issue(model),
        _ => {}
    }
    Vec::new()
}

fn go_to(model: &mut Model, to: usize) {
    model.papers.cursor = to;
    model.papers.first_line = 0;
}

/// Ticks every paper; when every one is, none.
fn tick_all(model: &mut Model) {
    let Some(made) = &model.papers.made else { return };
    let keys: Vec<String> = made.entries.iter().map(|entry| entry.key.clone()).collect();
    if keys.iter().any(|key| model.papers.unticked.contains(key)) {
        model.papers.unticked.clear();
        model.tell(format!("all {} papers ticked", keys.len()));
    } else {
        model.papers.unticked.extend(keys);
        model.tell("no paper ticked");
    }
}

fn ask_folder(model: &mut Model) {
    let none = |made: &Arc<Made>| model.papers.ticked(made).0.is_empty();
    if model.papers.made.as_ref().is_some_and(none) {
        model.refuse("no paper is ticked; Space ticks one, a all of them");
        return;
    }
    let text = folder(model).display().to_string();
    let help = "it is made when it is not there; files of the same names are written anew";
    model.overlay = Some(Overlay::Prompt(Prompt::new(
        "folder for the papers",
        help,
        Goal::Papers,
        &text,
    )));
}

/// Notes what the shop gets, under the next letter where one was issued before.
fn issue(model: &mut Model) {
    let edit = match changes::issue(model.job(), &model.evaluation, &model.date, None) {
        Ok(edit) => edit,
        Err(why) => return model.refuse(format!("{why}; {}", why.mend())),
    };
    if model.apply(edit).is_ok() {
        let revision = &model.job().revision;
        let words = format!("revision {revision} is noted as what the shop gets: w writes its papers; u undoes");
        model.tell(words);
    }
}

/// Takes the papers that were made, and what is cut from which sheet with them.
pub(crate) fn take_in(model: &mut Model, made: Arc<Made>) {
    model.papers.making = None;
    if !Arc::ptr_eq(&made.job, &model.history.shared()) {
        return;
    }
    if nests::of_job(model).is_none() {
        model.nests = Some(Nests {
            job: Arc::clone(&made.job),
            nesting: made.nesting.clone(),
            at: 0,
        });
    }
    model.papers.made = Some(made);
}

/// Notes that they could not be made.
pub(crate) fn not_made(model: &mut Model, job: Arc<Job>, why: String) {
    model.papers.making = None;
    model.refuse(format!("the papers could not be made ({why}); the job is as it was"));
    model.papers.failed = Some((job, why));
}
