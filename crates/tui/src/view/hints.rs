//! The key bar: what can be pressed now.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

use crate::keys::table;
use crate::model::{About, Model, Overlay};
use crate::widgets::key_bar::{KeyBar, KeyHint};

pub(super) fn draw(model: &Model, area: Rect, buf: &mut Buffer) {
    let hint = |key, words, rank| KeyHint { key, words, rank };
    let typing = model.form().is_some_and(|f| f.typing.is_some());
    let hints: Vec<KeyHint<'_>> = match &model.overlay {
        Some(Overlay::Help(_) | Overlay::Findings(_) | Overlay::Changed(_)) => {
            vec![hint("up down", "scroll", 1), hint("any other key", "back", 0)]
        }
        Some(Overlay::Ask(ask)) if ask.about == About::Recover => vec![hint("y", ask.yes, 0), hint("n", ask.no, 0)],
        Some(Overlay::Ask(ask)) => vec![hint("y", ask.yes, 0), hint("n", ask.no, 0), hint("Esc", "stay", 1)],
        Some(Overlay::Prompt(_)) => vec![hint("Enter", "do it", 0), hint("Esc", "leave", 0)],
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
        Some(Overlay::Ways) => vec![
            hint("left right", "step", 0),
            hint("up down", "other box", 1),
            hint("t", "take the selected module out", 1),
            hint("Esc", "back", 0),
        ],
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
        None if typing => vec![
            hint("Enter", "take it, next", 0),
            hint("up down", "take it, move", 1),
            hint("Esc", "leave it as it was", 0),
        ],
        None => {
            let shown = table(model.page).into_iter().filter(|b| b.bar || area.height > 1);
            let keys = shown.map(|b| hint(b.show, b.words, if b.bar { 1 } else { 2 }));
            match &model.running {
                Some(running) if running.live.is_some() && model.live().is_none() => {
                    std::iter::once(hint("f", "see the best so far", 0))
                        .chain(keys)
                        .collect()
                }
                _ => keys.collect(),
            }
        }
    };
    (&KeyBar {
        keys: &hints,
        theme: model.theme,
    })
        .render(area, buf);
}
