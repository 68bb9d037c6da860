//! Tables as comma-separated values: the cut list, and what other papers write.

use job::Evaluation;

use crate::row::{self, COLUMNS, HOLE_COLUMNS};
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

/// The holes of every part as comma-separated values, one a row: the mark of its part, what that is, then the columns of a
/// hole table. Places are exact ones to the nearest mark, from the lower left corner of the part.
pub fn holes_csv(evaluation: &Evaluation) -> String {
    let mut rows: Vec<[String; HOLE_COLUMNS.len() + 2]> = Vec::new();
    let mut row = |first: [&str; 2], cells: [String; HOLE_COLUMNS.len()]| {
        let mut all = first.into_iter().map(str::to_owned).chain(cells);
        rows.push(std::array::from_fn(|_| all.next().unwrap_or_default()));
    };
    row(["mark", "name"], HOLE_COLUMNS.map(str::to_owned));
    for line in evaluation.cut.list.tables.iter().flat_map(|table| &table.lines) {
        for cells in row::hole_cells(evaluation, line) {
            row([&line.mark, &line.name], cells);
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
