//! A page of rows under each other: mark, name, value, note, with a cursor that stays in view.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

use super::pen::{Pen, cut, width};
use crate::theme::{Meaning, Theme};

/// One row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Row {
    /// A heading over the rows that follow.
    Section(String),
    /// A value with its name.
    Value(ValueRow),
    /// A line of words with what it means.
    Text(String, Meaning),
    /// An empty row.
    Blank,
}

/// A value with its name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ValueRow {
    /// What is known about it: [`Meaning::Good`], [`Meaning::Caution`], [`Meaning::Stop`], [`Meaning::Note`],
    /// [`Meaning::Assumed`], or [`Meaning::Plain`] for nothing.
    pub mark: Meaning,
    /// Its name.
    pub label: String,
    /// The value as text, set to the right of its column.
    pub value: String,
    /// What else there is to say; empty for nothing.
    pub note: String,
}

impl ValueRow {
    /// A row with nothing more to say.
    pub fn new(mark: Meaning, label: impl Into<String>, value: impl Into<String>) -> Self {
        Self {
            mark,
            label: label.into(),
            value: value.into(),
            note: String::new(),
        }
    }

    /// The row with a note.
    #[must_use]
    pub fn note(self, note: impl Into<String>) -> Self {
        Self {
            note: note.into(),
            ..self
        }
    }
}

/// The rows of a page, or the part of them around the cursor.
#[derive(Clone, Copy, Debug)]
pub struct RowsView<'a> {
    /// All rows.
    pub rows: &'a [Row],
    /// The row that the cursor is on, if any.
    pub cursor: Option<usize>,
    /// What the terminal can show.
    pub theme: Theme,
}

/// The columns of a page of rows.
struct Columns {
    label: u16,
    value: u16,
    note: u16,
}

/// Pointer, space, two columns of mark, space.
const BEFORE_LABEL: u16 = 5;
/// Columns that a value usually needs.
const USUAL_VALUE: u16 = 20;

impl RowsView<'_> {
    /// The first row in sight when `height` of them are: the cursor stays as near to the middle as the ends allow.
    pub fn first_in_sight(&self, height: u16) -> usize {
        let height = usize::from(height);
        let last_start = self.rows.len().saturating_sub(height);
        let start = self.cursor.unwrap_or(0).saturating_sub(height / 2);
        start.min(last_start)
    }

    /// The row that is drawn at line `y` of the screen.
    pub fn row_at(&self, area: Rect, y: u16) -> Option<usize> {
        let line = usize::from(y.checked_sub(area.y)?);
        let row = self.first_in_sight(area.height) + line;
        (y < area.bottom() && row < self.rows.len()).then_some(row)
    }

    /// The column, from the left of the area, at which a field may be laid over a row's value.
    pub fn value_column(&self, room: u16) -> u16 {
        BEFORE_LABEL + self.columns(room).label + 1
    }

    fn columns(&self, room: u16) -> Columns {
        let values = || {
            self.rows.iter().filter_map(|row| match row {
                Row::Value(value) => Some(value),
                Row::Section(_) | Row::Text(..) | Row::Blank => None,
            })
        };
        let widest = |text: fn(&ValueRow) -> &str| values().map(|row| width(text(row))).max().unwrap_or(0);
        let room = room.saturating_sub(BEFORE_LABEL);
        // A name may take up to two thirds before it is cut. One long value must not push every note off the page, so
        // the column is made for the usual ones and a longer value runs on into the room for its note.
        let usual = widest(|row| {
            if width(&row.value) <= USUAL_VALUE {
                &row.value
            } else {
                ""
            }
        });
        let longest = widest(|row| &row.value).min(USUAL_VALUE);
        let value = if usual == 0 { longest } else { usual }.min(room);
        let label = widest(|row| &row.label)
            .min((room - value).saturating_sub(1))
            .min(room * 2 / 3);
        let note = room.saturating_sub(label + 1 + value + 2);
        Columns { label, value, note }
    }

    fn draw_row(&self, pen: &mut Pen<'_>, area: Rect, y: u16, row: &Row, is_cursor: bool, columns: &Columns) {
        let style = |meaning| self.theme.style(meaning);
        match row {
            Row::Blank => {}
            Row::Text(text, meaning) => {
                pen.text(area.x + 2, y, &cut(text, area.width.saturating_sub(2)), style(*meaning));
            }
            Row::Section(title) => {
                pen.text(area.x, y, &cut(title, area.width), style(Meaning::Heading));
            }
            Row::Value(row) => {
                let x = area.x + 2;
                pen.text(x, y, row.mark.mark(), style(row.mark));
                let x = area.x + BEFORE_LABEL;
                pen.text(x, y, &cut(&row.label, columns.label), style(Meaning::Plain));
                let x = x + columns.label + 1;
                let meaning = if row.mark == Meaning::Good {
                    Meaning::Plain
                } else {
                    row.mark
                };
                if width(&row.value) > columns.value {
                    let room = area.right().saturating_sub(x);
                    pen.text(x, y, &cut(&row.value, room), style(meaning));
                } else {
                    let x = x + (columns.value - width(&row.value));
                    pen.text(x, y, &row.value, style(meaning));
                    let x = x + width(&row.value) + 2;
                    if columns.note > 0 {
                        pen.text(x, y, &cut(&row.note, columns.note), style(Meaning::Dim));
                    }
                }
            }
        }
        if is_cursor {
            pen.stamp(area.x, y, pen.glyphs().right, style(Meaning::Selected));
            let end = match row {
                Row::Text(text, _) => 1 + width(text),
                _ => BEFORE_LABEL + columns.label + columns.value,
            };
            let line = super::pen::Edges {
                left: area.x,
                right: (area.x + end).min(area.right().saturating_sub(1)),
                top: y,
                bottom: y,
            };
            pen.restyle(line, style(Meaning::Selected));
        }
    }
}

impl Widget for &RowsView<'_> {
    fn render(self, area: Rect, buf: &mut Buffer) {
        let is_scrolled = self.rows.len() > usize::from(area.height);
        let inner = Rect {
            width: area.width.saturating_sub(2 * u16::from(is_scrolled)),
            ..area
        };
        let columns = self.columns(inner.width);
        let first = self.first_in_sight(area.height);
        let mut pen = Pen::new(buf, inner, self.theme);
        for ((row, i), y) in self.rows.iter().zip(0..).skip(first).zip(area.top()..area.bottom()) {
            self.draw_row(&mut pen, inner, y, row, self.cursor == Some(i), &columns);
        }
        if is_scrolled && area.width > 0 {
            draw_more(&mut Pen::new(buf, area, self.theme), area, first, self.rows.len());
        }
    }
}

/// Pointers in the last column where there is more above or below.
pub(crate) fn draw_more(pen: &mut Pen<'_>, area: Rect, first: usize, rows: usize) {
    if area.height == 0 || area.width == 0 {
        return;
    }
    let style = Theme::default().style(Meaning::Heading);
    if first > 0 {
        pen.stamp(area.right() - 1, area.top(), pen.glyphs().up, style);
    }
    if first + usize::from(area.height) < rows {
        pen.stamp(area.right() - 1, area.bottom() - 1, pen.glyphs().down, style);
    }
}

#[cfg(test)]
mod tests {
    use ratatui::style::Modifier;

    use super::*;
    use crate::widgets::{drawn, shown};

    fn rows() -> Vec<Row> {
        vec![
            Row::Section("bay 2".into()),
            Row::Value(ValueRow::new(Meaning::Good, "length at the left rail", "46 3/8\"").note("two readings")),
            Row::Value(
                ValueRow::new(Meaning::Caution, "width at the front", "27 3/4\"")
                    .note("3/16\" more than at the back: take it again"),
            ),
            Row::Value(ValueRow::new(Meaning::Assumed, "height", "9 1/2\"").note("square corners")),
            Row::Blank,
            Row::Section("clearances".into()),
            Row::Value(ValueRow::new(Meaning::Stop, "M08 to the right rail", "3/8\"").note("wants 1/2\"")),
            Row::Value(ValueRow::new(Meaning::Plain, "M01 to M02", "1/4\"")),
        ]
    }

    fn view(rows: &[Row], cursor: usize) -> RowsView<'_> {
        RowsView {
            rows,
            cursor: Some(cursor),
            theme: Theme::default(),
        }
    }

    #[test]
    fn looks() {
        let rows = rows();
        insta::assert_snapshot!("rows_70", shown(&drawn(&view(&rows, 2), 70, 9)));
        insta::assert_snapshot!("rows_34", shown(&drawn(&view(&rows, 2), 34, 9)));
    }

    #[test]
    fn looks_when_there_are_more_than_fit() {
        let rows = rows();
        insta::assert_snapshot!("rows_scrolled", shown(&drawn(&view(&rows, 4), 50, 4)));
    }

    #[test]
    fn the_cursor_is_always_in_sight_and_rows_are_found_where_they_are_drawn() {
        let rows = rows();
        for cursor in 0..rows.len() {
            for height in 1..12 {
                let view = view(&rows, cursor);
                let area = Rect::new(0, 5, 40, height);
                let found: Vec<usize> = (5..5 + height).filter_map(|y| view.row_at(area, y)).collect();
                assert!(found.contains(&cursor), "{cursor} in {found:?}");
            }
        }
    }

    #[test]
    fn the_cursor_row_is_reversed_and_pointed_at() {
        let rows = rows();
        let buffer = drawn(&view(&rows, 6), 60, 9);
        assert_eq!(buffer[(0, 6)].symbol(), "▸");
        assert!(buffer[(8, 6)].modifier.contains(Modifier::REVERSED));
        assert!(!buffer[(8, 5)].modifier.contains(Modifier::REVERSED));
    }
}
