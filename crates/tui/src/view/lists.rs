//! The pages that are lists of things to do: Start and Papers.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

use crate::model::Model;
use crate::pages::boxes::pieces;
use crate::pages::{papers, start};
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

pub(super) fn draw_papers(model: &Model, body: Rect, buf: &mut Buffer) {
    let mut rows: Vec<Row> = papers_rows();
    rows.push(Row::Blank);
    let shown = &model.evaluation;
    rows.push(Row::Section("what stands on them".to_owned()));
    for table in &shown.cut.list.tables {
        rows.push(Row::Text(
            format!("{}: {}", table.label(), pieces(table.pieces)),
            Meaning::Plain,
        ));
    }
    let assumed = shown.assumptions.len();
    if assumed > 0 {
        let text =
            format!("~ {assumed} values are assumed; sizes and masses that rest on them say so. c confirms one.");
        rows.push(Row::Text(text, Meaning::Assumed));
    }
    for finding in shown.findings.iter().filter(|f| f.grave == job::Grave::Stop) {
        rows.push(Row::Text(
            format!("!! {} {}", finding.name, finding.words),
            Meaning::Stop,
        ));
    }
    rows.push(Row::Text(
        "Try a cardboard mock-up in the real opening before steel is cut.".to_owned(),
        Meaning::Caution,
    ));
    let area = Rect {
        x: body.x + 1,
        y: body.y + 1,
        width: body.width - 2,
        height: body.height.saturating_sub(1),
    };
    (&RowsView {
        rows: &rows,
        cursor: Some(model.paper),
        theme: model.theme,
    })
        .render(area, buf);
}

fn papers_rows() -> Vec<Row> {
    papers::ACTIONS
        .iter()
        .map(|(_, title, about)| Row::Value(ValueRow::new(Meaning::Plain, *title, "").note(*about)))
        .collect()
}
