//! The panel of ways in, over the page.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::widgets::Widget;
use tape::Length;

use crate::model::Model;
use crate::pages::ways;
use crate::theme::Meaning;
use crate::widgets::pen::{Pen, cut};
use crate::widgets::rows::{Row, RowsView};
use crate::widgets::sheet::{SheetView, Upright};

pub(super) fn draw(model: &Model, body: Rect, buf: &mut Buffer) {
    let Some(shown) = ways::of_job(model) else { return };
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
    if shown.service.is_none() && shown.page > 0 {
        let pages = ways::reading(shown, body.width, body.height);
        list(
            &pages[(shown.page - 1).min(pages.len() - 1)],
            room(body.y, body.height),
            buf,
        );
        return;
    }
    let above = ways::above(shown, body.width, ways::lines_each(body.height));
    let above_rows = u16::try_from(above.len()).unwrap_or(u16::MAX);
    list(&above, room(body.y, above_rows), buf);
    let top = body.y + above_rows;
    if let Some(pages) = ways::pages(shown, body.width, body.height) {
        let page = &pages[shown.page.min(pages.len() - 1)];
        list(page, room(top, body.bottom().saturating_sub(top)), buf);
        return;
    }
    let mut below = ways::below(shown, body.width, ways::lines_below(body.height));
    let left_out = ways::left_out(shown, body.width, body.height);
    if left_out > 0 {
        let lines = if left_out == 1 { "line" } else { "lines" };
        below.push(Row::Text(
            format!("{left_out} more {lines}: PgDn shows all"),
            Meaning::Dim,
        ));
    }
    let below_rows = u16::try_from(below.len()).unwrap_or(u16::MAX);
    let picture = room(top + 1, body.bottom().saturating_sub(top + 1 + below_rows));
    if let Some(scene) = ways::scene(shown) {
        let columns = body.width.saturating_sub(2);
        let title = cut(scene.title(columns), columns);
        Pen::new(buf, body, model.theme).text(body.x + 1, top, &title, model.theme.style(Meaning::Heading));
        let view = SheetView {
            upright: Upright::Up,
            ..SheetView::new(&scene.boxes, model.theme)
        };
        (&view).render(picture, buf);
        let style = model.theme.style(Meaning::Steel);
        for corners in &scene.turned {
            outline(&mut Pen::new(buf, picture, model.theme), &view, picture, corners, style);
        }
    }
    list(&below, room(picture.bottom(), below_rows), buf);
}

/// A turned outline, edge by edge.
fn outline(pen: &mut Pen<'_>, view: &SheetView<'_>, area: Rect, corners: &[[Length; 2]], style: Style) {
    for (i, from) in corners.iter().enumerate() {
        let to = corners[(i + 1) % corners.len()];
        if let (Some(a), Some(b)) = (view.cell_of(area, from[0], from[1]), view.cell_of(area, to[0], to[1])) {
            line(pen, a, b, style);
        }
    }
}

/// Cells from one to another: as many as the longer of the two ways.
fn line(pen: &mut Pen<'_>, a: (u16, u16), b: (u16, u16), style: Style) {
    let far = |a: u16, b: u16| i32::from(b) - i32::from(a);
    let (across, down) = (far(a.0, b.0), far(a.1, b.1));
    let cells = across.abs().max(down.abs()).max(1);
    // A cell is twice as high as wide.
    let symbol = match (across, down) {
        (_, 0) => "-",
        (0, _) => "|",
        _ if across.abs() > 6 * down.abs() => "-",
        _ if down.abs() > 3 * across.abs() => "|",
        _ if (across > 0) == (down > 0) => "\\",
        _ => "/",
    };
    for n in 0..=cells {
        let at = |from: u16, by: i32| u16::try_from(i32::from(from) + (2 * by * n + cells) / (2 * cells)).unwrap_or(0);
        let rounded = |from: u16, by: i32| {
            if by < 0 {
                u16::try_from(i32::from(from) - (2 * -by * n + cells) / (2 * cells)).unwrap_or(0)
            } else {
                at(from, by)
            }
        };
        pen.stamp(rounded(a.0, across), rounded(a.1, down), symbol, style);
    }
}
