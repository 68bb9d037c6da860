//! Plain tables for the terminal.

use unicode_width::UnicodeWidthStr;

/// Rows with their columns lined up, two spaces before and between, the first column as it is and the others too.
pub(super) fn lines<const N: usize>(rows: &[[String; N]]) -> String {
    let rows: Vec<Vec<String>> = rows.iter().map(|row| row.to_vec()).collect();
    of(&rows)
}

/// The same for rows whose number of columns is only known when the program runs.
pub(super) fn of(rows: &[Vec<String>]) -> String {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let width = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column));
        cells.map(|cell| cell.width()).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..columns).map(width).collect();
    let mut text = String::new();
    for row in rows {
        let mut line = String::new();
        for (cell, width) in row.iter().zip(&widths) {
            line.push_str("  ");
            line.push_str(cell);
            line.push_str(&" ".repeat(width - cell.width()));
        }
        text.push_str(line.trim_end());
        text.push('\n');
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_line_up_and_lines_do_not_end_in_spaces() {
        let rows = [["a", "bb", "c"], ["ддд", "４", ""]].map(|row| row.map(str::to_owned));
        assert_eq!(lines(&rows), "  a    bb  c\n  ддд  ４\n");
        assert_eq!(of(&[]), "");
    }
}
