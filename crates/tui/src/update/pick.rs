//! The choices of the value under the cursor: arrows or first letters, Enter takes, Esc leaves.

use job::field::Shown;
use job::{Edit, Field};
use ratatui::crossterm::event::{KeyCode, KeyEvent};

use super::{commands, typing};
use crate::keys;
use crate::model::{Effect, Model, Overlay, Pick};

/// Opens the choices of a field, the cursor on the one that holds; `first` is a letter that was typed for one of them.
pub(super) fn open(model: &mut Model, field: Field, shown: Shown, first: Option<char>) {
    let cursor = shown.options.iter().position(|o| *o == shown.text).unwrap_or(0);
    let mut pick = Pick {
        field,
        options: shown.options,
        cursor,
        letters: String::new(),
    };
    model.tell("");
    if let Some(letter) = first {
        spell(model, &mut pick, letter);
    }
    model.overlay = Some(Overlay::Pick(pick));
}

/// A key while the choices are open.
pub(super) fn on_key(model: &mut Model, mut pick: Pick, key: KeyEvent, away: bool) -> Vec<Effect> {
    let last = pick.options.len().saturating_sub(1);
    let to = match key.code {
        _ if away => {
            model.walking = false;
            model.tell("left as it was");
            return Vec::new();
        }
        KeyCode::Enter => return take(model, &pick),
        KeyCode::F(_) => {
            // Nothing is taken by going away, and the walk from value to value ends.
            model.walking = false;
            let command = keys::command(model.page, &key);
            return command.map_or_else(Vec::new, |command| commands::carry_out(model, command));
        }
        KeyCode::Char(letter) => {
            spell(model, &mut pick, letter);
            model.overlay = Some(Overlay::Pick(pick));
            return Vec::new();
        }
        KeyCode::Up | KeyCode::Left => pick.cursor.saturating_sub(1),
        KeyCode::Down | KeyCode::Right => pick.cursor + 1,
        KeyCode::Home | KeyCode::PageUp => 0,
        KeyCode::End | KeyCode::PageDown => last,
        _ => pick.cursor,
    };
    pick.cursor = to.min(last);
    pick.letters.clear();
    model.overlay = Some(Overlay::Pick(pick));
    Vec::new()
}

/// Puts the cursor on the choice that begins with the letters typed so far; a letter that goes on with none of them
/// begins anew, from the choice under the cursor on.
fn spell(model: &mut Model, pick: &mut Pick, letter: char) {
    let begins = |letters: &str, from: usize| {
        let all = 0..pick.options.len();
        let round: Vec<usize> = all.clone().skip(from).chain(all.take(from)).collect();
        let first = |i: &&usize| pick.options[**i].to_lowercase().starts_with(letters);
        // Choices that begin alike are told apart by a later word.
        let later = |i: &&usize| pick.options[**i].to_lowercase().contains(&format!(" {letters}"));
        round.iter().find(first).or_else(|| round.iter().find(later)).copied()
    };
    let letter: String = letter.to_lowercase().collect();
    let whole = format!("{}{letter}", pick.letters);
    let found = match begins(&whole, pick.cursor) {
        Some(at) => Some((at, whole)),
        None => begins(&letter, pick.cursor + 1).map(|at| (at, letter.clone())),
    };
    match found {
        Some((at, letters)) => {
            (pick.cursor, pick.letters) = (at, letters);
            model.tell("");
        }
        None => model.refuse(format!(
            "no choice has a word with {letter:?}; up and down choose too, Esc leaves"
        )),
    }
}

/// Takes the choice under the cursor and goes on as after any other value.
fn take(model: &mut Model, pick: &Pick) -> Vec<Effect> {
    let edit = Edit::Set {
        field: pick.field,
        text: pick.options[pick.cursor].to_owned(),
    };
    // A refusal is already told in the message line.
    if model.apply(edit).is_err() {
        return Vec::new();
    }
    let told = model.message.clone();
    let effects = typing::advance(model);
    model.message = told;
    effects
}
