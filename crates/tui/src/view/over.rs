//! What lies over the page.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

use super::long::{changed_sections, finding_sections, help_sections};
use super::{Areas, clear, nests, pick, ways};
use crate::model::{Model, Overlay, Prompt};
use crate::pages::{takes, wiring};
use crate::theme::Meaning;
use crate::widgets::confirm::Confirm;
use crate::widgets::field::FieldView;
use crate::widgets::help::{HelpPage, HelpSection};
use crate::widgets::pen::{Pen, cut};
use crate::widgets::rows::RowsView;
use crate::widgets::toast::wrap;

/// The window without the key bar.
const fn above_keys(window: Rect, areas: &Areas) -> Rect {
    Rect {
        height: window.height - areas.keys.height,
        ..window
    }
}

/// A long text over the page, from line `scroll` on.
fn draw_long(model: &Model, title: &str, sections: &[HelpSection], scroll: u16, place: Rect, buf: &mut Buffer) {
    let page = HelpPage {
        title,
        sections,
        scroll: usize::from(scroll),
        theme: model.theme,
    };
    (&page).render(place, buf);
}

pub(super) fn draw(model: &Model, area: Rect, areas: &Areas, buf: &mut Buffer) {
    match &model.overlay {
        None | Some(Overlay::Offer(_)) => {}
        Some(Overlay::Help(scroll)) => {
            let title = format!("help: {}", model.page.name());
            draw_long(
                model,
                &title,
                &help_sections(model),
                *scroll,
                above_keys(area, areas),
                buf,
            );
        }
        Some(Overlay::Findings(scroll)) => {
            let title = "everything the program has to say";
            draw_long(
                model,
                title,
                &finding_sections(model),
                *scroll,
                above_keys(area, areas),
                buf,
            );
        }
        Some(Overlay::Changed(scroll)) => {
            let title = "what the last edit changed";
            draw_long(
                model,
                title,
                &changed_sections(model),
                *scroll,
                above_keys(area, areas),
                buf,
            );
        }
        Some(Overlay::Ask(ask)) => {
            let answers = [("y", ask.yes), ("n", ask.no)];
            let confirm = Confirm {
                question: &ask.words,
                detail: "",
                answers: &answers,
                chosen: 0,
                theme: model.theme,
            };
            (&confirm).render(area, buf);
        }
        Some(Overlay::Prompt(prompt)) => {
            let place = prompt_area(areas, prompt);
            clear(place, buf);
            let mut pen = Pen::new(buf, place, model.theme);
            let line = pen.glyphs().light.across.repeat(usize::from(place.width));
            pen.text(place.x, place.y, &line, model.theme.style(Meaning::Dim));
            for (line, y) in help_lines(prompt, place.width).iter().zip(place.y + 1..) {
                pen.text(place.x + 1, y, line, model.theme.style(Meaning::Dim));
            }
            let refused = prompt.typing.refused.as_ref();
            let error = refused.map(|r| format!("{}; {}", r.problem, r.mend));
            (&prompt_field(model, prompt, error.as_deref())).render(field_line(place, prompt), buf);
        }
        Some(Overlay::Pick(choices)) => pick::draw(model, choices, areas.body, buf),
        Some(Overlay::Choose(choose)) => {
            let numbers = ["1", "2", "3", "4", "5", "6", "7", "8", "9"];
            let tasks = choose.tasks.iter().zip(numbers);
            let answers: Vec<(&str, &str)> = tasks.map(|((_, words), n)| (n, words.as_str())).collect();
            let confirm = Confirm {
                question: choose.question,
                detail: "",
                answers: &answers,
                chosen: choose.cursor,
                theme: model.theme,
            };
            (&confirm).render(area, buf);
        }
        Some(Overlay::Takes) => draw_takes(model, areas.body, buf),
        Some(Overlay::Nests) => {
            clear(areas.body, buf);
            nests::draw(model, areas.body, buf);
        }
        Some(Overlay::Ways) => {
            clear(areas.body, buf);
            ways::draw(model, areas.body, buf);
        }
        Some(Overlay::Orders(orders, at)) => {
            let answers = [("1", "the shortest links"), ("2", "low volts between neighbours")];
            let detail = wiring::orders_words(model, orders);
            let confirm = Confirm {
                question: "Take which order of the wiring?",
                detail: &detail,
                answers: &answers,
                chosen: *at,
                theme: model.theme,
            };
            (&confirm).render(area, buf);
        }
    }
}

/// The panel that tells what one more module would take, over the page.
fn draw_takes(model: &Model, body: Rect, buf: &mut Buffer) {
    clear(body, buf);
    let mut pen = Pen::new(buf, body, model.theme);
    let title = cut(&takes::title(model), body.width.saturating_sub(2));
    pen.text(body.x + 1, body.y, &title, model.theme.style(Meaning::Heading));
    let area = Rect {
        x: body.x + 1,
        y: body.y + 1,
        width: body.width.saturating_sub(2),
        height: body.height.saturating_sub(1),
    };
    let (rows, cursor) = takes::rows(model, area.width);
    (&RowsView {
        rows: &rows,
        cursor,
        theme: model.theme,
    })
        .render(area, buf);
}

/// What a line takes, as it is told over it.
fn help_lines(prompt: &Prompt, columns: u16) -> Vec<String> {
    wrap(&prompt.help, columns.saturating_sub(2))
}

/// Rows over the field of a line: what sets it off from the page, and what it takes.
fn over_field(prompt: &Prompt, columns: u16) -> u16 {
    1 + u16::try_from(help_lines(prompt, columns).len()).unwrap_or(0)
}

/// The lines at the bottom of the page, and the one of the message: what it takes, the field, what is wrong with it.
pub(super) fn prompt_area(areas: &Areas, prompt: &Prompt) -> Rect {
    let body = areas.body;
    let over = over_field(prompt, body.width);
    Rect {
        y: body.y + body.height.saturating_sub(over + 2),
        height: over + 3,
        ..body
    }
}

pub(super) fn field_line(place: Rect, prompt: &Prompt) -> Rect {
    Rect {
        x: place.x + 1,
        y: place.y + over_field(prompt, place.width),
        width: place.width.saturating_sub(2),
        height: 3,
    }
}

pub(super) fn prompt_field<'a>(model: &'a Model, prompt: &'a Prompt, error: Option<&'a str>) -> FieldView<'a> {
    FieldView {
        label: prompt.label,
        label_width: 22,
        text: &prompt.typing.input,
        text_width: 50,
        unit: "",
        error,
        assumed: false,
        focused: true,
        theme: model.theme,
    }
}
