//! The picture: everything shown is already in the model; drawing computes nothing but places.

mod facts;
mod form;
mod hints;
mod lists;
mod long;
mod message;
mod nests;
mod over;
mod papers;
mod pick;
mod ways;

use ratatui::Frame;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

use crate::model::{Model, Overlay};
use crate::page::Page;
use crate::pages::{layout, wiring};
use crate::theme::Meaning;
use crate::widgets::pen::{Pen, cut, width};
use crate::widgets::too_small::TooSmall;

pub(crate) use form::form_row_at;

/// The least window, columns and rows.
const LEAST: (u16, u16) = (80, 24);

/// Columns from which the tabs stand well apart.
const ROOMY: u16 = 100;
/// The least part of the job's name that says anything.
const LEAST_NAME: u16 = 8;

/// Where the parts of the window stand.
pub(crate) struct Areas {
    tabs: Rect,
    /// The page.
    pub(crate) body: Rect,
    message: Rect,
    title: Rect,
    keys: Rect,
}

/// The places in a window of this size; a message that would be cut takes a row from the page.
pub(crate) fn areas(model: &Model, (columns, rows): (u16, u16)) -> Areas {
    let line = |y: u16, height: u16| Rect::new(0, y, columns, height);
    let key_rows = if rows >= 30 { 2 } else { 1 };
    let usual = if rows >= 30 { 2 } else { 1 };
    let (keys, title) = (rows.saturating_sub(key_rows), 3);
    let message = message::height(model, columns, usual);
    let title_y = keys.saturating_sub(title);
    let message_y = title_y.saturating_sub(message);
    Areas {
        tabs: line(0, 1),
        body: line(1, message_y.saturating_sub(1)),
        message: line(message_y, message),
        title: line(title_y, title),
        keys: line(keys, key_rows),
    }
}

/// Draws the whole window.
pub fn draw(model: &Model, frame: &mut Frame<'_>) {
    let area = frame.area();
    let too_small = TooSmall {
        needed: LEAST,
        theme: model.theme,
    };
    if too_small.is_needed(area) {
        frame.render_widget(&too_small, area);
        return;
    }
    let areas = areas(model, (area.width, area.height));
    let buf = frame.buffer_mut();
    draw_tabs(model, areas.tabs, buf);
    match model.page {
        Page::Start => lists::draw_start(model, areas.body, buf),
        Page::Layout => layout::picture::draw(model, areas.body, buf),
        Page::Papers => papers::draw(model, areas.body, buf),
        Page::Wiring => wiring::draw(model, areas.body, buf),
        Page::Tape | Page::Modules | Page::Pack | Page::Boxes | Page::Units | Page::Truck => {
            form::draw(model, areas.body, buf);
        }
    }
    message::draw(model, areas.message, buf);
    if model.page != Page::Start {
        facts::draw(model, areas.title, buf);
    }
    hints::draw(model, areas.keys, buf);
    over::draw(model, area, &areas, buf);
    if let Some(cursor) = cursor(model, &areas) {
        frame.set_cursor_position(cursor);
    }
}

/// The tabs: each page's key and name, the page shown in brackets, and what is open.
fn tabs(model: &Model) -> Vec<(Page, u16, String)> {
    let mut x = 1;
    // A narrow window has no room for two blanks between all of them.
    let apart = if model.size.0 < ROOMY { 1 } else { 2 };
    Page::ALL
        .into_iter()
        .zip(2..)
        .map(|(page, n)| {
            let text = if page == model.page.tab() {
                format!("[{}]", model.page.name())
            } else {
                format!("F{n} {}", page.name())
            };
            let at = x;
            x += width(&text) + apart;
            (page, at, text)
        })
        .collect()
}

fn draw_tabs(model: &Model, area: Rect, buf: &mut Buffer) {
    let mut pen = Pen::new(buf, area, model.theme);
    if model.page == Page::Start {
        pen.text(1, area.y, "packwright", model.theme.style(Meaning::Heading));
        return;
    }
    let mut end = 0;
    for (page, x, text) in tabs(model) {
        let meaning = if page == model.page.tab() {
            Meaning::Selected
        } else {
            Meaning::Dim
        };
        pen.text(x, area.y, &text, model.theme.style(meaning));
        end = x + width(&text);
    }
    // The mark comes first: it must stand even when the name is cut.
    let changed = if model.is_changed() { "* " } else { "" };
    let room = area.width.saturating_sub(end + 3);
    let name = if room < LEAST_NAME {
        changed.trim_end().to_owned()
    } else {
        cut(&format!("{changed}{}", model.job().name), room)
    };
    pen.text(
        area.width.saturating_sub(width(&name) + 1),
        area.y,
        &name,
        model.theme.style(Meaning::Heading),
    );
}

/// The page whose tab is at this cell.
pub(crate) fn tab_at(model: &Model, x: u16, y: u16) -> Option<Page> {
    let on = |(_, from, text): &&(Page, u16, String)| (*from..from + width(text)).contains(&x);
    if y != 0 || model.page == Page::Start {
        return None;
    }
    tabs(model).iter().find(on).map(|(page, ..)| *page)
}

fn clear(area: Rect, buf: &mut Buffer) {
    ratatui::widgets::Clear.render(area, buf);
}

/// Where the terminal's own cursor stands, when something is being typed.
fn cursor(model: &Model, areas: &Areas) -> Option<ratatui::layout::Position> {
    match &model.overlay {
        Some(Overlay::Prompt(prompt)) => {
            over::prompt_field(model, prompt, None).cursor(over::field_line(over::prompt_area(areas, prompt), prompt))
        }
        Some(_) => None,
        None => form::typing_field(model, areas.body).and_then(|(field, place)| field.cursor(place)),
    }
}
