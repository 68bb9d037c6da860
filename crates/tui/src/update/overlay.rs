//! Keys while something lies over the page.

use std::path::PathBuf;

use job::{Edit, Field};
use ratatui::crossterm::event::{KeyCode, KeyEvent};

use super::{commands, is_away, nests, offer, pick, survey, takes, tasks, ways};
use crate::form::{Refusal, Typing};
use crate::keys::{self, Command};
use crate::model::{About, Ask, Effect, Goal, Model, Overlay, Prompt, job_edit::Removal};
use crate::page::Page;
use crate::widgets::field::FieldText;

impl Prompt {
    /// A line to fill in, with `text` offered in it.
    pub fn new(label: &'static str, help: &str, goal: Goal, text: &str) -> Self {
        let typing = Typing {
            input: FieldText::offered(text),
            refused: None,
        };
        Self {
            label,
            help: help.to_owned(),
            typing,
            goal,
        }
    }
}

/// A key while an overlay is open.
pub(super) fn on_key(model: &mut Model, key: KeyEvent) -> Vec<Effect> {
    let away = is_away(&key);
    if let Some(command) = through(model, &key) {
        model.overlay = None;
        return commands::carry_out(model, command);
    }
    match model.overlay.take() {
        Some(Overlay::Help(at)) => {
            let still = scrolled(key, at, away).map(Overlay::Help);
            model.overlay = still.or_else(|| model.behind.take().map(Overlay::Offer));
        }
        Some(Overlay::Findings(at)) => {
            let still = scrolled(key, at, away).map(Overlay::Findings);
            model.overlay = still.or_else(|| model.behind.take().map(Overlay::Offer));
        }
        Some(Overlay::Changed(at)) => model.overlay = scrolled(key, at, away).map(Overlay::Changed),
        Some(Overlay::Ask(ask)) => return on_ask(model, ask, key, away),
        Some(Overlay::Prompt(prompt)) => return on_prompt(model, prompt, key, away),
        Some(Overlay::Pick(pick)) => return pick::on_key(model, pick, key, away),
        Some(Overlay::Offer(offer)) => offer::on_key(model, offer, key, away),
        Some(Overlay::Choose(choose)) => return tasks::on_choose(model, choose, key, away),
        Some(Overlay::Takes) => return takes::on_key(model, key, away),
        Some(Overlay::Nests) => nests::on_key(model, key, away),
        Some(Overlay::Ways) => ways::on_key(model, key, away),
        Some(Overlay::Orders(orders, at)) => super::wiring::on_orders(model, orders, at, key, away),
        None => {}
    }
    Vec::new()
}

/// What a key does although something to read lies over the page: another page, saving, taking back and doing again
/// close that and are done.
fn through(model: &Model, key: &KeyEvent) -> Option<Command> {
    let is_read = match model.overlay {
        Some(Overlay::Help(_) | Overlay::Findings(_) | Overlay::Changed(_) | Overlay::Nests | Overlay::Ways) => true,
        Some(Overlay::Takes) => model.running.is_none(),
        _ => false,
    };
    // Layouts on offer wait underneath for an answer.
    if !is_read || model.behind.is_some() || model.page == Page::Start {
        return None;
    }
    keys::command(model.page, key).filter(|command| {
        matches!(
            command,
            Command::To(_)
                | Command::NextPage
                | Command::PreviousPage
                | Command::Save
                | Command::SaveAs
                | Command::Undo
                | Command::Redo
        )
    })
}

/// The first line after a key; `None` closes.
fn scrolled(key: KeyEvent, at: u16, away: bool) -> Option<u16> {
    match key.code {
        _ if away => None,
        KeyCode::Up => Some(at.saturating_sub(1)),
        KeyCode::Down => Some(at.saturating_add(1)),
        KeyCode::PageUp => Some(at.saturating_sub(10)),
        KeyCode::PageDown | KeyCode::Char(' ') => Some(at.saturating_add(10)),
        KeyCode::Home => Some(0),
        _ => None,
    }
}

fn on_ask(model: &mut Model, ask: Ask, key: KeyEvent, away: bool) -> Vec<Effect> {
    if away && ask.about == About::Recover {
        // Work left behind is dropped only when told to.
        model.tell("y takes the work up, n drops it");
        model.overlay = Some(Overlay::Ask(ask));
        return Vec::new();
    }
    if away {
        model.tell("left as it was");
        return Vec::new();
    }
    let yes = match key.code {
        KeyCode::Char('y' | 'Y') | KeyCode::Enter => true,
        KeyCode::Char('n' | 'N') => false,
        _ => {
            model.overlay = Some(Overlay::Ask(ask));
            return Vec::new();
        }
    };
    match (ask.about, yes) {
        (About::Leave { program }, true) => match (&model.file, &model.read_only) {
            (Some(file), None) => {
                vec![
                    Effect::Save(file.clone()),
                    if program { Effect::Quit } else { Effect::Close },
                ]
            }
            _ => {
                ask_file(model, Some(program));
                Vec::new()
            }
        },
        (About::Leave { program: true }, false) => vec![Effect::Close, Effect::Quit],
        (About::Leave { program: false }, false) => vec![Effect::Close],
        (About::Recover, yes) => vec![Effect::Recover(yes)],
        (About::Overwrite(path), true) => vec![Effect::Save(path)],
        (About::Take(edit), true) => {
            // A refusal is already told in the message line.
            let _ = model.apply(*edit);
            Vec::new()
        }
        (About::Remove(removal), true) => {
            let edit = match removal {
                Removal::Cavity(id) => Edit::RemoveCavity(id),
                Removal::Kind(id) => Edit::RemoveKind(id),
                Removal::Box(id) => Edit::RemoveBox(id),
            };
            // A refusal is already told in the message line.
            let _ = model.apply(edit);
            Vec::new()
        }
        (About::Overwrite(_) | About::Remove(_) | About::Take(_), false) => {
            model.tell("left as it was");
            Vec::new()
        }
    }
}

fn on_prompt(model: &mut Model, mut prompt: Prompt, key: KeyEvent, away: bool) -> Vec<Effect> {
    if away {
        model.tell("left as it was");
        return Vec::new();
    }
    if let KeyCode::F(_) = key.code {
        prompt.typing.refused = Some(Refusal {
            problem: format!("this line asks for: {}", prompt.label),
            mend: "Enter does it, Esc leaves; then the other page".to_owned(),
        });
        model.overlay = Some(Overlay::Prompt(prompt));
        return Vec::new();
    }
    if key.code != KeyCode::Enter {
        if prompt.typing.input.key(key) {
            prompt.typing.refused = None;
        }
        model.overlay = Some(Overlay::Prompt(prompt));
        return Vec::new();
    }
    let text = prompt.typing.input.text().trim().to_owned();
    if text.is_empty() {
        let mend = "type it, or Esc to leave".to_owned();
        prompt.typing.refused = Some(Refusal {
            problem: format!("{} is empty", prompt.label),
            mend,
        });
        model.overlay = Some(Overlay::Prompt(prompt));
        return Vec::new();
    }
    model.asked = Some(prompt.clone());
    match prompt.goal {
        Goal::SaveAs { then_leave } => {
            let path = with_ending(&text);
            let mut effects = vec![Effect::Save(path)];
            match then_leave {
                Some(true) => effects.push(Effect::Quit),
                Some(false) => effects.push(Effect::Close),
                None => {}
            }
            effects
        }
        Goal::Open => vec![Effect::Open(PathBuf::from(text))],
        Goal::Papers => vec![Effect::WritePapers(PathBuf::from(text))],
        Goal::Sheet => vec![Effect::ReadSheet(PathBuf::from(text))],
        Goal::Statement(..) | Goal::Again(..) => {
            let done = match &prompt.goal {
                Goal::Statement(cavity, line) => survey::state(model, *cavity, *line, &text),
                Goal::Again(cavity, line) => survey::take_again(model, *cavity, line, &text),
                _ => Ok(()),
            };
            if let Err(refusal) = done {
                prompt.typing.refused = Some(refusal);
                model.overlay = Some(Overlay::Prompt(prompt));
            }
            Vec::new()
        }
        Goal::ReadingLine(cavity, index) => {
            let field = Field::ReadingLine(cavity, index);
            if let Err(refusal) = model.apply(Edit::Set { field, text }) {
                prompt.typing.refused = Some(refusal);
                model.overlay = Some(Overlay::Prompt(prompt));
            }
            Vec::new()
        }
    }
}

/// A job's file ends in `.json`, so that other programs know what it is.
fn with_ending(text: &str) -> PathBuf {
    let path = PathBuf::from(text);
    if path.extension().is_some() {
        path
    } else {
        path.with_extension("json")
    }
}

/// Asks for the job's file.
pub(super) fn ask_file(model: &mut Model, then_leave: Option<bool>) {
    let text = match &model.file {
        Some(file) => file.display().to_string(),
        None => format!("{}.json", model.job().name.replace(' ', "-")),
    };
    let goal = Goal::SaveAs { then_leave };
    model.overlay = Some(Overlay::Prompt(Prompt::new(
        "save as",
        "a file name; a folder before it may be given",
        goal,
        &text,
    )));
}

/// Asks for a file to open.
pub(super) fn ask_open(model: &mut Model) {
    model.overlay = Some(Overlay::Prompt(Prompt::new("open", "the job's file", Goal::Open, "")));
}

/// Asks for a test sheet of units.
pub(super) fn ask_sheet(model: &mut Model) {
    let help = "a table as text: unit, Ah, mohm, V in any order; its heads say which is which";
    model.overlay = Some(Overlay::Prompt(Prompt::new("test sheet", help, Goal::Sheet, "")));
}

/// Asks before something goes with all that belongs to it.
pub(super) fn ask_remove(model: &mut Model, removal: Removal) {
    let job = model.job();
    let words = match removal {
        Removal::Cavity(id) => {
            let name = job.cavity(id).map_or("the cavity", |c| c.name.as_str());
            format!("Remove {name} with its readings, keep-outs and boxes?")
        }
        Removal::Kind(id) => {
            let name = job.kind(id).map_or("the kind", |k| k.name.as_str());
            format!("Remove {name} and every module of it?")
        }
        Removal::Box(id) => {
            let name = job.battery_box(id).map_or("the box", |b| b.name.as_str());
            format!("Remove {name} with its modules?")
        }
    };
    model.overlay = Some(Overlay::Ask(Ask::new(words, "remove", "keep", About::Remove(removal))));
}

/// Leaves the job, or the program from the start page; asks first when something is not saved.
pub(super) fn leave(model: &mut Model, program: bool) -> Vec<Effect> {
    if model.page == crate::page::Page::Start {
        return vec![Effect::Quit];
    }
    if model.is_changed() {
        let words = "This job has changes that are not saved. Save them?";
        model.overlay = Some(Overlay::Ask(Ask::new(
            words,
            "save",
            "drop them",
            About::Leave { program },
        )));
        return Vec::new();
    }
    if program {
        vec![Effect::Close, Effect::Quit]
    } else {
        vec![Effect::Close]
    }
}
