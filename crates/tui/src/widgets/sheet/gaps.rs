//! The gap row above the drawing and the gap column beside it: a number, and a pointer at the gap.

use ratatui::layout::Rect;

use super::layout::Laid;
use super::{Along, GapMark, SheetView};
use crate::theme::Meaning;
use crate::widgets::pen::{Pen, width};

/// Draws the gaps; numbers that would run into each other are left out, those that break a rule last.
pub(super) fn draw(pen: &mut Pen<'_>, view: &SheetView<'_>, laid: &Laid, area: Rect) {
    let mut gaps: Vec<&GapMark> = laid.gaps.iter().map(|i| &view.gaps[*i]).collect();
    gaps.sort_by_key(|gap| !gap.flagged);
    let mut taken: Vec<(Along, u16, u16)> = Vec::new();
    for gap in gaps {
        let Some((low, high)) = laid.span(gap.along, gap.from, gap.to) else {
            continue;
        };
        let middle = low + (high - low) / 2;
        let text = gap.shown_text();
        let wide = width(&text);
        let (from, to) = match gap.along {
            Along::U => {
                let rightmost = area.right().saturating_sub(wide).max(area.left());
                let start = middle.saturating_sub(wide / 2).clamp(area.left(), rightmost);
                (start, start + wide)
            }
            Along::V => (middle, middle),
        };
        // One free cell between two numbers in the row, none between two rows.
        let is_taken = taken
            .iter()
            .any(|(along, a, b)| *along == gap.along && from <= *b && *a <= to);
        if !is_taken {
            taken.push((gap.along, from, to));
            draw_one(pen, view, laid, gap, (middle, from, &text));
        }
    }
}

fn draw_one(
    pen: &mut Pen<'_>,
    view: &SheetView<'_>,
    laid: &Laid,
    gap: &GapMark,
    (middle, start, text): (u16, u16, &str),
) {
    let meaning = if gap.flagged { Meaning::Stop } else { Meaning::Plain };
    let style = view.theme.style(meaning);
    let (glyphs, extent) = (pen.glyphs(), laid.extent());
    match gap.along {
        Along::U => {
            pen.text(start, extent.top - 2, text, style);
            pen.stamp(middle, extent.top - 1, glyphs.down, style);
        }
        Along::V => {
            pen.stamp(extent.right + 1, middle, glyphs.left, style);
            pen.text(extent.right + 3, middle, text, style);
        }
    }
}
