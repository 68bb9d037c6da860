//! A table made to fit: its columns are as wide as they need, and the least important ones go when room is short.

use super::pen::{cut, width};

/// A column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Column {
    /// What stands over it.
    pub head: &'static str,
    /// Whether it is set to the right, as numbers are.
    pub right: bool,
    /// When room is short, the larger number goes first; 0 stays longest.
    pub rank: u8,
    /// Columns below which it is not cut but goes; `None` if it is never cut.
    pub least: Option<u16>,
}

impl Column {
    /// A column of numbers, which are never cut.
    pub const fn number(head: &'static str, rank: u8) -> Self {
        Self {
            head,
            right: true,
            rank,
            least: None,
        }
    }

    /// A column of words, cut down to `least` columns.
    pub const fn words(head: &'static str, rank: u8, least: u16) -> Self {
        Self {
            head,
            right: false,
            rank,
            least: Some(least),
        }
    }
}

/// Columns between two of the table.
const BETWEEN: u16 = 2;

/// The lines of a table in so many columns, the heads first. A column without a word in any row is left out.
pub fn lines(columns: &[Column], rows: &[Vec<String>], room: u16) -> Vec<String> {
    let widest = |i: usize| {
        let cells = rows.iter().filter_map(|row| row.get(i));
        cells.map(|cell| width(cell)).max().unwrap_or(0)
    };
    let mut kept: Vec<(usize, u16)> = (0..columns.len())
        .filter(|&i| widest(i) > 0)
        .map(|i| (i, widest(i).max(width(columns[i].head))))
        .collect();
    loop {
        let needed: u16 = kept.iter().map(|(_, wide)| wide + BETWEEN).sum();
        let over = needed.saturating_sub(room.saturating_add(BETWEEN));
        if over == 0 {
            break;
        }
        // The longest words give way first.
        let spare = |(i, wide): &(usize, u16)| columns[*i].least.map_or(0, |least| wide.saturating_sub(least));
        let most = (0..kept.len()).max_by_key(|&at| (spare(&kept[at]), at));
        match most.filter(|&at| spare(&kept[at]) > 0) {
            Some(at) => kept[at].1 -= over.min(spare(&kept[at])),
            None => {
                let Some(last) = (0..kept.len()).max_by_key(|&at| (columns[kept[at].0].rank, at)) else {
                    break;
                };
                kept.remove(last);
                // What was cut for a column that has gone may grow again.
                for (i, wide) in &mut kept {
                    *wide = widest(*i).max(width(columns[*i].head));
                }
            }
        }
    }
    let line = |text: &dyn Fn(usize) -> String| {
        let cells = kept.iter().map(|&(i, wide)| cell(&text(i), wide, columns[i].right));
        cells.collect::<Vec<_>>().join("  ").trim_end().to_owned()
    };
    let heads = line(&|i| columns[i].head.to_owned());
    let rows = rows
        .iter()
        .map(|row| line(&|i| row.get(i).cloned().unwrap_or_default()));
    std::iter::once(heads).chain(rows).collect()
}

fn cell(text: &str, wide: u16, right: bool) -> String {
    let text = cut(text, wide);
    let blank = " ".repeat(usize::from(wide.saturating_sub(width(&text))));
    if right { blank + &text } else { text + &blank }
}

#[cfg(test)]
mod tests {
    use super::*;

    const COLUMNS: [Column; 4] = [
        Column::number("modules", 0),
        Column::number("kWh", 2),
        Column::words("tightest", 1, 10),
        Column::words("note", 3, 4),
    ];

    fn rows() -> Vec<Vec<String>> {
        [
            ["48", "103.20", "1/4\" front, left box", ""],
            ["5", "9.75", "1/16\" to crossmember", ""],
        ]
        .map(|row| row.map(str::to_owned).to_vec())
        .to_vec()
    }

    #[test]
    fn columns_are_as_wide_as_they_need_and_an_empty_one_is_left_out() {
        assert_eq!(
            lines(&COLUMNS, &rows(), 80),
            [
                "modules     kWh  tightest",
                "     48  103.20  1/4\" front, left box",
                "      5    9.75  1/16\" to crossmember",
            ]
        );
    }

    #[test]
    fn words_are_cut_before_a_column_goes_and_numbers_never() {
        assert_eq!(lines(&COLUMNS, &rows(), 30)[1], "     48  103.20  1/4\" front,..");
        assert_eq!(lines(&COLUMNS, &rows(), 24)[1], "     48  1/4\" front, l..");
        assert_eq!(lines(&COLUMNS, &rows(), 12), ["modules", "     48", "      5"]);
    }

    #[test]
    fn no_line_is_wider_than_the_room() {
        for room in 0..90 {
            assert!(
                lines(&COLUMNS, &rows(), room).iter().all(|line| width(line) <= room),
                "{room}"
            );
        }
    }
}
