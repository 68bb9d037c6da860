//! The page that is a list of things to do: Start.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

use crate::model::Model;
use crate::pages::start;
use crate::theme::Meaning;
use crate::widgets::pen::Pen;
use crate::widgets::rows::{Row, RowsView, ValueRow};
use crate::widgets::toast::wrap;

pub(super) fn draw_start(model: &Model, body: Rect, buf: &mut Buffer) {
    let rows: Vec<Row> = start::offers(model)
        .iter()
        .map(|offer| {
            let (title, about) = start::words(model, offer);
            Row::Value(ValueRow::new(Meaning::Plain, title, "").note(about))
        })
        .collect();
    let intro = "Salvaged modules into boxes under an old truck: tape readings in, cut list out.";
    let mut pen = Pen::new(buf, body, model.theme);
    pen.text(body.x + 1, body.y + 1, intro, model.theme.style(Meaning::Plain));
    let below = Rect {
        x: body.x + 1,
        y: body.y + 3,
        width: body.width - 2,
        height: body.height.saturating_sub(12),
    };
    (&RowsView {
        rows: &rows,
        cursor: Some(model.start.cursor),
        theme: model.theme,
    })
        .render(below, buf);
    let mut y = body.bottom().saturating_sub(8);
    let mut pen = Pen::new(buf, body, model.theme);
    for caution in ::papers::cautions().iter().take(4) {
        for line in wrap(&format!("! {caution}"), body.width.saturating_sub(2)) {
            if y < body.bottom() {
                pen.text(body.x + 1, y, &line, model.theme.style(Meaning::Caution));
            }
            y += 1;
        }
    }
}
