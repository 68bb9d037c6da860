//! The panel of nests, over the page.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

use crate::model::Model;
use crate::pages::nests;
use crate::theme::Meaning;
use crate::widgets::pen::{Pen, cut};
use crate::widgets::rows::RowsView;
use crate::widgets::sheet::{SheetView, Shown, Upright};

/// The most lines of stock over the picture in a small window.
const MOST: usize = 5;

/// Said where edges melt together.
const TOO_SMALL: &str = "! too small for every edge: widen the window; the papers have it to scale";

pub(super) fn draw(model: &Model, body: Rect, buf: &mut Buffer) {
    let Some(shown) = nests::of_job(model) else { return };
    let room = |y: u16, height: u16| Rect {
        x: body.x + 1,
        y,
        width: body.width.saturating_sub(2),
        height: height.min(body.bottom().saturating_sub(y)),
    };
    let list = |rows: &[_], area: Rect, buf: &mut Buffer| {
        (&RowsView {
            rows,
            cursor: None,
            theme: model.theme,
        })
            .render(area, buf);
    };
    let (most, lines_each) = if body.height >= 30 { (2 * MOST, 3) } else { (MOST, 1) };
    let summaries = nests::summaries(shown, most, body.width);
    let rows = u16::try_from(summaries.len()).unwrap_or(u16::MAX);
    list(&summaries, room(body.y, rows), buf);
    let heading = cut(&nests::heading(shown), body.width.saturating_sub(2));
    let top = body.y + rows;
    Pen::new(buf, body, model.theme).text(body.x + 1, top, &heading, model.theme.style(Meaning::Heading));
    let below = nests::below(shown, body.width, lines_each);
    let below_rows = u16::try_from(below.len()).unwrap_or(u16::MAX);
    let picture = room(top + 1, body.bottom().saturating_sub(top + 1 + below_rows));
    let boxes = nests::picture(shown);
    let view = SheetView {
        upright: Upright::Up,
        ..SheetView::new(&boxes, model.theme)
    };
    (&view).render(picture, buf);
    if view.shown(picture) == Shown::ZoomIn && picture.height > 0 {
        let line = picture.bottom() - 1;
        let hint = format!("{TOO_SMALL:<width$}", width = usize::from(picture.width));
        let hint = cut(&hint, picture.width);
        Pen::new(buf, body, model.theme).text(picture.x, line, &hint, model.theme.style(Meaning::Caution));
    }
    list(&below, room(picture.bottom(), below_rows), buf);
}
