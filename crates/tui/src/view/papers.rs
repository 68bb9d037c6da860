//! The Papers page: the list on the left, a look at one on the right, what stands whatever is scrolled below.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

use crate::model::Model;
use crate::pages::papers::{is_roomy, list_columns, look_columns, preview, rows, standing};
use crate::theme::Meaning;
use crate::widgets::pen::{Pen, cut};
use crate::widgets::rows::{Row, RowsView};
use crate::widgets::toast::wrap;

/// Lines that one thing below may take in a small and in a roomy window.
const LINES: [usize; 2] = [2, 4];

pub(super) fn draw(model: &Model, body: Rect, buf: &mut Buffer) {
    let roomy = usize::from(is_roomy(body.width));
    let inner = Rect {
        x: body.x + 1,
        width: body.width.saturating_sub(2),
        ..body
    };
    let below = below(model, inner.width, LINES[roomy]);
    let high = u16::try_from(below.len()).unwrap_or(u16::MAX);
    let top = Rect {
        height: inner.height.saturating_sub(high + u16::from(high > 0)),
        ..inner
    };
    let list = Rect {
        width: list_columns(body.width).min(top.width),
        ..top
    };
    let look = Rect {
        x: list.right() + 2,
        width: look_columns(body.width),
        ..top
    };
    let (rows, cursor) = rows(model);
    let show = |rows: &[Row], cursor, area: Rect, buf: &mut Buffer| {
        (&RowsView {
            rows,
            cursor,
            theme: model.theme,
        })
            .render(area, buf);
    };
    show(&rows, cursor, list, buf);
    draw_look(model, look, buf);
    let mut pen = Pen::new(buf, body, model.theme);
    for ((line, meaning), y) in below.iter().zip(top.bottom() + 1..) {
        pen.text(inner.x, y, line, model.theme.style(*meaning));
    }
}

/// The paper under the cursor from the line that it is scrolled to; what does not go in is told in its last line.
fn draw_look(model: &Model, area: Rect, buf: &mut Buffer) {
    let rows = preview(model);
    let first = model.papers.first_line.min(rows.len().saturating_sub(1));
    let room = usize::from(area.height);
    let mut pen = Pen::new(buf, area, model.theme);
    let left = rows.len() - first.min(rows.len());
    let fits = if left > room { room.saturating_sub(1) } else { room };
    for (row, y) in rows.iter().skip(first).take(fits).zip(area.top()..) {
        let (text, meaning) = match row {
            Row::Section(title) => (title, Meaning::Heading),
            Row::Text(text, meaning) => (text, *meaning),
            Row::Value(_) | Row::Blank => continue,
        };
        pen.text(area.x, y, &cut(text, area.width), model.theme.style(meaning));
    }
    if left > room && area.height > 0 {
        let words = format!("{} more lines, PgDn reads on", left - fits);
        let style = model.theme.style(Meaning::Dim);
        pen.text(area.x, area.bottom() - 1, &cut(&words, area.width), style);
    }
}

/// What stands below, wrapped; what is longer than its room ends in dots.
fn below(model: &Model, width: u16, most: usize) -> Vec<(String, Meaning)> {
    let mut lines = Vec::new();
    for (words, meaning) in standing(model) {
        let wrapped = wrap(&words, width);
        let too_long = wrapped.len() > most;
        let last = most.min(wrapped.len()).saturating_sub(1);
        for (index, line) in wrapped.into_iter().take(most).enumerate() {
            let line = if too_long && index == last {
                format!("{} ...", cut(&line, width.saturating_sub(4)))
            } else {
                line
            };
            lines.push((line, meaning));
        }
    }
    lines
}
