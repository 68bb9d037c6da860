//! Tables as comma-separated values: the cut list, and what other papers write.

use job::Evaluation;

use crate::row::{self, COLUMNS};
use crate::words;

/// The cut list as comma-separated values: a row of [`COLUMNS`], then one row for each mark, by table and then by
/// length falling.
///
/// Inches keep their mark, since a spreadsheet takes a bare `3/16` for a date. When sizes rest on assumed values the
/// rounding column says so. A text that a spreadsheet would run as a formula gets a `'` in front.
pub fn cutlist_csv(evaluation: &Evaluation) -> String {
    let mut rows = vec![COLUMNS.map(str::to_owned)];
    for table in &evaluation.cut.list.tables {
        for line in &table.lines {
            let mut cells = row::cells(evaluation, table, line);
            if evaluation.headline.assumed.cut {
                cells[row::ROUNDING] += "; rests on assumed values";
            }
            rows.push(cells);
        }
    }
    written(&rows)
}

/// Rows as comma-separated values, with a `'` in front of what a spreadsheet would run.
pub(crate) fn written<const N: usize>(rows: &[[String; N]]) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        writer
            .write_record(row.each_ref().map(|cell| harmless(cell)))
            .expect("rows of one length, written to memory");
    }
    let bytes = writer.into_inner().expect("memory takes every byte");
    String::from_utf8(bytes).expect("made of texts")
}

fn harmless(cell: &str) -> String {
    let cell = words::plain(cell);
    if cell.starts_with(['=', '+', '-', '@']) {
        format!("'{cell}")
    } else {
        cell
    }
}
