//! The line that tells what just happened, and how far a running task is.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

use crate::model::{Model, Overlay, Running, Tone};
use crate::pages::layout::verdict;
use crate::theme::Meaning;
use crate::widgets::progress::Progress;
use crate::widgets::toast::MessageLine;

/// What there is to say: of the layouts that are offered, else of what just happened.
fn said(model: &Model) -> (String, Meaning) {
    if let Some(Overlay::Offer(offer)) = &model.overlay {
        let n = offer.found.candidates.len();
        let which = if n > 1 {
            format!("layout {} of {n}; ", offer.shown + 1)
        } else {
            String::new()
        };
        let proposal = &offer.found.proposal;
        let chosen = offer.found.candidates.get(offer.shown);
        if let Some(chosen) = chosen.filter(|chosen| chosen.index > 0) {
            let meaning = if chosen.margin < model.evaluation.margin {
                Meaning::Caution
            } else {
                Meaning::Note
            };
            let words = proposal.words_of(chosen.index, &model.evaluation);
            return (format!("{which}{words}"), meaning);
        }
        let meaning = match proposal.with_asked_margin {
            Some(_) => Meaning::Caution,
            None if proposal.answer.proved => Meaning::Good,
            None => Meaning::Note,
        };
        return (format!("{which}{}", verdict(proposal, &model.evaluation)), meaning);
    }
    let meaning = match model.message.grave {
        Tone::Fine => Meaning::Plain,
        Tone::Refused => Meaning::Caution,
    };
    (model.message.words.clone(), meaning)
}

/// Rows beyond the usual ones that a message may take from the page.
const MORE: u16 = 3;

/// Rows that the message takes: as many as there usually are, and more where it would be cut.
pub(super) fn height(model: &Model, columns: u16, usual: u16) -> u16 {
    let (text, meaning) = said(model);
    let needed = line(model, &text, meaning).height(columns) + u16::from(model.running.is_some());
    needed.clamp(usual, usual + MORE)
}

fn line<'a>(model: &Model, text: &'a str, meaning: Meaning) -> MessageLine<'a> {
    MessageLine {
        meaning,
        text,
        fix: "",
        theme: model.theme,
    }
}

pub(super) fn draw(model: &Model, mut area: Rect, buf: &mut Buffer) {
    if let Some(running) = &model.running {
        let text = running_words(running);
        let progress = Progress {
            done: running.done.0,
            total: Some(running.done.1),
            text: &text,
            theme: model.theme,
        };
        (&progress).render(area, buf);
        area.y += 1;
        area.height = area.height.saturating_sub(1);
    }
    let (text, meaning) = said(model);
    if area.height > 0 && !text.is_empty() {
        (&line(model, &text, meaning)).render(area, buf);
    }
}

/// How far the running task is, in words.
fn running_words(running: &Running) -> String {
    let doing = running.task.doing();
    match running.best {
        _ if running.stopping => format!("{doing}: stopping"),
        None => format!("{doing}; Esc stops"),
        Some(best) => {
            let doing = if best.narrower { "less margin" } else { doing };
            format!(
                "{doing}: best so far {}, at most {}; Esc stops",
                best.count, best.at_most
            )
        }
    }
}
