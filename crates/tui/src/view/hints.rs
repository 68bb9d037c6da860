//! The key bar: what can be pressed now.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

use crate::keys::{Binding, Command, table};
use crate::model::{About, Model, Overlay};
use crate::page::Page;
use crate::pages::ways::turned;
use crate::widgets::key_bar::{KeyBar, KeyHint};

pub(super) fn draw(model: &Model, area: Rect, buf: &mut Buffer) {
    let hint = |key, words, rank| KeyHint { key, words, rank };
    let typing = model.form().is_some_and(|f| f.typing.is_some());
    let hints: Vec<KeyHint<'_>> = match &model.overlay {
        Some(Overlay::Help(_) | Overlay::Findings(_) | Overlay::Changed(_)) => {
            let mut hints = vec![hint("up down", "scroll", 1)];
            if model.behind.is_none() && model.page != Page::Start {
                hints.extend([
                    hint("F2 to F9", "to a page", 2),
                    hint("s", "save", 2),
                    hint("u", "undo", 2),
                ]);
            }
            hints.push(hint("any other key", "back", 0));
            hints
        }
        Some(Overlay::Ask(ask)) if ask.about == About::Recover => vec![hint("y", ask.yes, 0), hint("n", ask.no, 0)],
        Some(Overlay::Ask(ask)) => vec![hint("y", ask.yes, 0), hint("n", ask.no, 0), hint("Esc", "stay", 1)],
        Some(Overlay::Prompt(prompt)) => {
            let mut hints = vec![hint("Enter", "do it", 0)];
            hints.extend(in_field(prompt.typing.input.is_offered()));
            hints.push(hint("Esc", "leave", 0));
            hints
        }
        Some(Overlay::Pick(_)) => vec![
            hint("up down", "choose", 1),
            hint("first letters", "find", 1),
            hint("Enter", "take it, next", 0),
            hint("Esc", "leave it as it was", 0),
        ],
        Some(Overlay::Offer(_)) => vec![
            hint("Enter", "take over", 0),
            hint("Esc", "keep what is there", 0),
            hint("up down", "other layout", 1),
            hint("v", "view", 2),
            hint("c", "next cavity", 2),
            hint("z", "zoom", 3),
            hint("1 to 9", "that layout", 3),
            hint("!", "its findings", 3),
            hint("?", "help", 2),
        ],
        Some(Overlay::Choose(choose)) => {
            let keys = ["1", "1 2", "1 2 3"][choose.tasks.len().clamp(1, 3) - 1];
            vec![
                hint(keys, "do it", 0),
                hint("up down Enter", "choose", 1),
                hint("Esc", "leave", 0),
            ]
        }
        Some(Overlay::Orders(..)) => vec![
            hint("1 2", "take it over", 0),
            hint("up down Enter", "choose", 1),
            hint("Esc", "leave it", 0),
        ],
        Some(Overlay::Ways) => {
            let body = super::areas(model, model.size).body;
            let is_service = model.ways.as_ref().is_some_and(|ways| ways.service.is_some());
            let mut hints = match model.ways.as_ref().and_then(|ways| turned(ways, body)) {
                None => vec![hint("left right", "step", 0)],
                Some(0 | 1) => Vec::new(),
                Some(_) => vec![hint("left right", "other page", 0)],
            };
            if !is_service {
                hints.push(hint("PgDn", "all words", 1));
            }
            hints.push(hint("up down", "other box", 1));
            let t = if is_service { "way in again" } else { "take module out" };
            hints.extend([hint("t", t, 1), hint("Esc", "back", 0)]);
            hints
        }
        Some(Overlay::Nests) => vec![hint("left right", "other nest", 0), hint("Esc", "back", 0)],
        Some(Overlay::Takes) if model.running.is_some() => vec![
            hint("up down", "scroll", 1),
            hint("Enter", "to the value", 1),
            hint("Esc", "stop", 0),
        ],
        Some(Overlay::Takes) => vec![
            hint("up down", "scroll", 1),
            hint("Enter", "to the value", 1),
            hint("w", "ask of another part", 2),
            hint("Esc", "back", 0),
        ],
        None if typing => {
            let offered = model
                .form()
                .and_then(|f| f.typing.as_ref())
                .is_some_and(|t| t.input.is_offered());
            let mut hints = vec![hint("Enter", "take it, next", 0), hint("up down", "take, move", 2)];
            hints.extend(in_field(offered));
            hints.push(hint("Esc", "leave it as it was", 0));
            hints
        }
        None => of_page(model, area),
    };
    (&KeyBar {
        keys: &hints,
        theme: model.theme,
    })
        .render(area, buf);
}

/// The keys of the page itself.
fn of_page(model: &Model, area: Rect) -> Vec<KeyHint<'static>> {
    let mut hints = Vec::new();
    if model.running.as_ref().is_some_and(|running| running.live.is_some()) && model.live().is_none() {
        hints.push(KeyHint {
            key: "f",
            words: "see the best so far",
            rank: 0,
        });
    }
    let mut place = 0;
    for b in table(model.page).into_iter().filter(|b| b.bar || area.height > 1) {
        hints.push(KeyHint {
            key: b.show,
            words: b.words,
            rank: rank(b, place),
        });
        place += u8::from(b.bar && !is_section(b));
    }
    hints
}

/// What there is to know of a text that is being typed.
fn in_field(offered: bool) -> Vec<KeyHint<'static>> {
    let hint = |key, words, rank| KeyHint { key, words, rank };
    let mut hints = vec![hint("Ctrl-U", "clear", 1)];
    if offered {
        hints.insert(0, hint("a letter", "replaces it", 1));
        hints.insert(1, hint("arrows", "change it", 1));
    }
    hints
}

/// How long a key stays when room is short: help and the way out always, then what the page is for, then saving, taking
/// back and what is wrong, then the rest.
fn rank(binding: &Binding, place: u8) -> u8 {
    match binding.commands {
        [Command::Help | Command::Quit] => 0,
        [Command::Save | Command::Undo | Command::Findings] => 2,
        [Command::NextPage] => 4,
        _ if !binding.bar => 5,
        _ if place < FIRST && !is_section(binding) => 1,
        _ => OTHERS,
    }
}

const fn is_section(binding: &Binding) -> bool {
    matches!(binding.commands, [Command::SectionUp, Command::SectionDown])
}

/// The rank of what is not among the first keys of a page.
const OTHERS: u8 = 3;

/// The keys of a page that stay longest: the first of its table.
const FIRST: u8 = 2;
