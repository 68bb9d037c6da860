//! Dimension lines: the line with its arrowheads, its text, and the extension lines back to the drawing.

use ratatui::style::Style;

use super::layout::{Laid, Lane};
use super::{DimLine, SheetView, Side};
use crate::theme::Meaning;
use crate::widgets::pen::{Pen, width};

/// Draws the dimension lines that have a lane, the outer ones last so that their extension lines see what is free.
pub(super) fn draw(pen: &mut Pen<'_>, view: &SheetView<'_>, laid: &Laid) {
    let text_style = |dim: &DimLine| {
        let meaning = if dim.flagged { Meaning::Stop } else { Meaning::Plain };
        view.theme.style(meaning)
    };
    let line_style = view.theme.style(Meaning::Dim);
    for lane in &laid.dims {
        let dim = &view.dims[lane.dim];
        let Some(span) = laid.span(dim.along(), dim.from, dim.to) else {
            continue;
        };
        let styles = (line_style, text_style(dim));
        match dim.side {
            Side::Above | Side::Below => across(pen, laid, *lane, dim, span, styles),
            Side::Left | Side::Right => upright(pen, laid, *lane, dim, span, styles),
        }
    }
}

/// `│◂──── 46 3/8" ────▸│` in a row of its own.
fn across(
    pen: &mut Pen<'_>,
    laid: &Laid,
    lane: Lane,
    dim: &DimLine,
    (left, right): (u16, u16),
    (stroke, number): (Style, Style),
) {
    let (glyphs, extent) = (pen.glyphs(), laid.extent());
    let row = match dim.side {
        Side::Above => extent.top - lane.offset,
        _ => extent.bottom + lane.offset,
    };
    let between = match dim.side {
        Side::Above => row + 1..extent.top,
        _ => extent.bottom + 1..row,
    };
    for x in [left, right] {
        pen.stamp(x, row, glyphs.light.down, stroke);
        for y in between.clone() {
            if pen.is_free(x, y) {
                pen.stamp(x, y, glyphs.extension[1], stroke);
            }
        }
    }
    for x in left + 2..right - 1 {
        pen.stamp(x, row, glyphs.light.across, stroke);
    }
    pen.stamp(left + 1, row, glyphs.left, stroke);
    pen.stamp(right - 1, row, glyphs.right, stroke);
    let text = format!(" {} ", dim.shown_text());
    let spare = (right - left - 1).saturating_sub(width(&text));
    pen.text(left + 1 + spare / 2, row, &text, number);
}

/// An upright line in a lane as wide as its text, which stands across the line.
fn upright(
    pen: &mut Pen<'_>,
    laid: &Laid,
    lane: Lane,
    dim: &DimLine,
    (top, bottom): (u16, u16),
    (stroke, number): (Style, Style),
) {
    let (glyphs, extent) = (pen.glyphs(), laid.extent());
    let text = dim.shown_text();
    let room = lane.size - 1;
    // The lane keeps one free column on the drawing's side.
    let start = match dim.side {
        Side::Left => extent.left - lane.offset - room,
        _ => extent.right + lane.offset + 1,
    };
    let x = start + room / 2;
    let extension = match dim.side {
        Side::Left => x + 1..extent.left - 1,
        _ => extent.right + 2..x,
    };
    for y in [top, bottom] {
        pen.stamp(x, y, glyphs.light.across, stroke);
        for x in extension.clone() {
            if pen.is_free(x, y) {
                pen.stamp(x, y, glyphs.extension[0], stroke);
            }
        }
    }
    let inside = bottom - top - 1;
    if inside >= 3 {
        for y in top + 2..bottom - 1 {
            pen.stamp(x, y, glyphs.light.down, stroke);
        }
        pen.stamp(x, top + 1, glyphs.up, stroke);
        pen.stamp(x, bottom - 1, glyphs.down, stroke);
    }
    let spare = room.saturating_sub(width(&text));
    pen.text(start + spare / 2, top + 1 + (inside - 1) / 2, &text, number);
}
