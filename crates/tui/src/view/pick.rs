//! The choices of a value, in a frame over its row.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{clear, form};
use crate::model::{Model, Pick};
use crate::theme::Meaning;
use crate::widgets::pen::{Drawn, Edges, Pen, Stroke, cut, width};
use crate::widgets::rows::draw_more;

/// The frame: beside the row's name, its first choice under the row where there is room below, as high as the choices
/// or as the page.
fn place(model: &Model, pick: &Pick, body: Rect) -> Option<Rect> {
    let ((x, y), area) = form::value_place(model, body)?;
    let widest = pick.options.iter().map(|o| width(o)).max().unwrap_or(0);
    let wide = (widest + 6).min(area.width);
    let high = u16::try_from(pick.options.len())
        .unwrap_or(u16::MAX)
        .saturating_add(2)
        .min(area.height);
    Some(Rect {
        x: x.min(area.right().saturating_sub(wide)),
        y: (y + 1).min(area.bottom().saturating_sub(high)),
        width: wide,
        height: high,
    })
}

pub(super) fn draw(model: &Model, pick: &Pick, body: Rect, buf: &mut Buffer) {
    let Some(frame) = place(model, pick, body).filter(|frame| frame.height > 2 && frame.width > 6) else {
        return;
    };
    clear(frame, buf);
    let edges = Edges {
        left: frame.x,
        right: frame.right() - 1,
        top: frame.y,
        bottom: frame.bottom() - 1,
    };
    let style = |meaning| model.theme.style(meaning);
    let mut pen = Pen::new(buf, frame, model.theme);
    pen.rect(edges, Drawn::WHOLE, Stroke::Light, style(Meaning::Dim));
    let room = usize::from(frame.height - 2);
    let last = pick.options.len().saturating_sub(room);
    let first = pick.cursor.saturating_sub(room / 2).min(last);
    for ((option, i), y) in pick
        .options
        .iter()
        .zip(0..)
        .skip(first)
        .zip(frame.y + 1..frame.bottom() - 1)
    {
        let text = format!(" {} ", cut(option, frame.width - 6));
        let is_here = i == pick.cursor;
        if is_here {
            let pointer = pen.glyphs().right;
            pen.stamp(frame.x + 1, y, pointer, style(Meaning::Selected));
        }
        let meaning = if is_here { Meaning::Selected } else { Meaning::Plain };
        pen.text(frame.x + 2, y, &text, style(meaning));
    }
    let inside = Rect {
        x: frame.x + 1,
        y: frame.y + 1,
        width: frame.width - 2,
        height: frame.height - 2,
    };
    draw_more(&mut pen, inside, first, pick.options.len());
}
