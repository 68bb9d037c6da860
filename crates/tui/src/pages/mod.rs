//! One module for each page: its rows, its commands, its picture.

pub mod anchor;
pub mod beside;
pub mod boxes;
pub mod layout;
pub mod modules;
pub mod nests;
pub mod pack;
pub mod papers;
pub mod start;
pub mod takes;
pub mod tape;
pub mod truck;
pub mod units;
pub mod ways;
pub mod wiring;

use crate::form::Row;
use crate::model::Model;
use crate::page::Page;
use crate::theme::Meaning;
use crate::widgets::pen::width;

/// The rows of the page shown, when it is one of rows; words that are longer than a row go on in the next.
pub fn rows(model: &Model) -> Vec<Row> {
    let room = beside::columns_of_rows(model).saturating_sub(BESIDE_ROWS);
    own_rows(model).into_iter().flat_map(|row| folded(row, room)).collect()
}

/// Columns of a row that no words have: the page's edges, the pointer, the mark of what is out of sight.
const BESIDE_ROWS: u16 = 6;

/// A row as as many rows as its words need.
fn folded(row: Row, room: u16) -> Vec<Row> {
    let rest = |lines: Vec<String>, meaning| lines.into_iter().map(move |line| Row::Text(line, meaning));
    match row {
        Row::Text(text, meaning) => rest(fold(&text, room), meaning).collect(),
        Row::Line(text, meaning) => fold(&text, room)
            .into_iter()
            .map(|line| Row::Line(line, meaning))
            .collect(),
        Row::Heading(title) => {
            let mut lines = fold(&title, room + 2);
            let more = lines.split_off(1);
            let first = lines.pop().map(Row::Heading);
            first.into_iter().chain(rest(more, Meaning::Heading)).collect()
        }
        Row::Group {
            of,
            title,
            detail,
            open,
        } => {
            // As the row is drawn: an indent, its sign, the title.
            let before = 7 + width(&title);
            let whole = format!("{}{detail}", " ".repeat(usize::from(before)));
            if width(&whole) <= room {
                return vec![Row::Group {
                    of,
                    title,
                    detail,
                    open,
                }];
            }
            let mut lines = fold(&whole, room);
            let more = lines.split_off(1);
            let detail = lines.pop().map_or(detail, |line| line.trim_start().to_owned());
            let group = Row::Group {
                of,
                title,
                detail,
                open,
            };
            let more = more
                .into_iter()
                .map(|line| format!("       {}", line.trim_start()))
                .collect();
            std::iter::once(group).chain(rest(more, Meaning::Plain)).collect()
        }
        row => vec![row],
    }
}

/// Text in lines of at most `room` columns, broken at blanks, each after the first further in than it: columns within a
/// line stay as they are.
fn fold(text: &str, room: u16) -> Vec<String> {
    let indent = text.chars().take_while(|c| *c == ' ').count();
    let indent = " ".repeat((indent + 2).min(usize::from(room) / 3));
    let mut lines = Vec::new();
    let mut left = text.to_owned();
    while width(&left) > room {
        let begin = crate::widgets::pen::first_columns(&left, room + 1);
        let blank = begin.trim_end().rfind(' ').filter(|at| !begin[..*at].trim().is_empty());
        let Some(blank) = blank else { break };
        lines.push(left[..blank].trim_end().to_owned());
        left = format!("{indent}{}", left[blank..].trim_start());
    }
    lines.push(left);
    lines
}

fn own_rows(model: &Model) -> Vec<Row> {
    match model.page {
        Page::Tape => tape::rows(model),
        Page::Modules => modules::rows(model),
        Page::Pack => pack::rows(model),
        Page::Boxes => boxes::rows(model),
        Page::Units => units::rows(model),
        Page::Truck => truck::rows(model),
        Page::Start | Page::Layout | Page::Wiring | Page::Papers => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::fold;
    use crate::widgets::pen::width;

    #[test]
    fn long_words_go_on_in_the_next_row_and_none_is_lost() {
        let text = "  keep-out: propshaft  sweep; 10\" to 44\" rearward, middle 8\" right; front left bottom corner";
        for room in 24..120 {
            let lines = fold(text, room);
            assert!(lines.iter().all(|line| width(line) <= room), "{room}: {lines:#?}");
            let words = |text: &str| text.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
            assert_eq!(words(&lines.join(" ")), words(text), "{room}");
        }
        assert_eq!(fold("  F    3/4\"   ok", 30), ["  F    3/4\"   ok"]);
    }
}
