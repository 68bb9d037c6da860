//! A one-line field: its text with a cursor, and how it looks.

use ratatui::buffer::Buffer;
use ratatui::crossterm::event::{Event, KeyCode, KeyEvent, KeyModifiers};
use ratatui::layout::{Position, Rect};
use ratatui::style::Modifier;
use ratatui::widgets::Widget;
use tui_input::backend::crossterm::EventHandler;
use tui_input::{Input, InputRequest};

use super::pen::{Pen, cut, first_columns};
use super::toast::wrap;
use crate::input::clean_paste;
use crate::theme::{Meaning, Theme};

/// The text of a field while it is being changed, with its cursor.
#[derive(Clone, Debug, Default)]
pub struct FieldText {
    input: Input,
    /// Whether the text stands as it was offered: the first character typed takes its place.
    offered: bool,
}

impl FieldText {
    /// A field that holds `text`, the cursor behind it.
    pub fn new(text: &str) -> Self {
        Self {
            input: Input::new(text.to_owned()),
            offered: false,
        }
    }

    /// A field that offers `text`: the first character typed or pasted takes its place, any other key changes it.
    pub fn offered(text: &str) -> Self {
        Self {
            offered: !text.is_empty(),
            ..Self::new(text)
        }
    }

    /// Whether the text stands as it was offered.
    pub const fn is_offered(&self) -> bool {
        self.offered
    }

    /// What the person has written.
    pub fn text(&self) -> &str {
        self.input.value()
    }

    /// Takes a key; says whether the text changed. Keys that a field has no use for do nothing.
    pub fn key(&mut self, key: KeyEvent) -> bool {
        let plain = key.modifiers - KeyModifiers::SHIFT == KeyModifiers::NONE;
        let changes = match key.code {
            KeyCode::Char(_) if plain => {
                if self.offered {
                    self.input.reset();
                }
                true
            }
            KeyCode::F(_) | KeyCode::Null => false,
            _ => true,
        };
        self.offered &= !changes;
        self.input
            .handle_event(&Event::Key(key))
            .is_some_and(|change| change.value)
    }

    /// Takes pasted text at the cursor, made fit for one line; says whether the text changed.
    pub fn paste(&mut self, text: &str) -> bool {
        let clean = clean_paste(text);
        if self.offered && !clean.is_empty() {
            self.input.reset();
        }
        self.offered &= clean.is_empty();
        for c in clean.chars() {
            self.input.handle(InputRequest::InsertChar(c));
        }
        !clean.is_empty()
    }

    /// Replaces the text and puts the cursor behind it.
    pub fn set(&mut self, text: &str) {
        *self = Self::new(text);
    }

    /// Columns before the cursor, as many as are out of sight to the left of `room`, and the text from there on.
    fn seen(&self, room: u16) -> (u16, String) {
        // One column stays free behind the text for the cursor.
        let hidden = self.input.visual_scroll(usize::from(room.saturating_sub(1)));
        let mut columns = 0;
        let text: String = self
            .text()
            .chars()
            .skip_while(|c| {
                let before = columns < hidden;
                if before {
                    columns += unicode_width::UnicodeWidthChar::width(*c).unwrap_or(0);
                }
                before
            })
            .collect();
        let cursor = self.input.visual_cursor().saturating_sub(columns);
        (u16::try_from(cursor).unwrap_or(u16::MAX), text)
    }
}

/// A field as it stands on a page: `label ~[46 3/8   ] in`, and in the rows below it what is wrong with it.
#[derive(Clone, Copy, Debug)]
pub struct FieldView<'a> {
    /// Its name.
    pub label: &'a str,
    /// Columns that the name takes, so that fields under each other line up.
    pub label_width: u16,
    /// Its text.
    pub text: &'a FieldText,
    /// Columns for the text.
    pub text_width: u16,
    /// What it is measured in, or how it may be written; empty for none.
    pub unit: &'a str,
    /// What is wrong with the text, and what to do about it.
    pub error: Option<&'a str>,
    /// The value is assumed, not measured.
    pub assumed: bool,
    /// The field has the cursor.
    pub focused: bool,
    /// What the terminal can show.
    pub theme: Theme,
}

impl FieldView<'_> {
    /// The cell of the cursor, for the terminal's own; `None` if the field does not have it or has no room.
    pub fn cursor(&self, area: Rect) -> Option<Position> {
        let (x, room) = self.text_place(area);
        (self.focused && room > 0 && area.height > 0)
            .then(|| Position::new(x + self.text.seen(room).0.min(room - 1), area.y))
    }

    /// The first cell of the text, and how many there are.
    fn text_place(&self, area: Rect) -> (u16, u16) {
        // Name, space, mark, bracket; the closing bracket behind.
        let before = self.label_width.saturating_add(3);
        let room = self.text_width.min(area.width.saturating_sub(before + 1));
        (area.x + before, room)
    }
}

impl Widget for &FieldView<'_> {
    fn render(self, area: Rect, buf: &mut Buffer) {
        let mut pen = Pen::new(buf, area, self.theme);
        let style = |meaning| self.theme.style(meaning);
        let (x, room) = self.text_place(area);
        if area.height == 0 || room == 0 {
            return;
        }
        let label = if self.focused { Meaning::Heading } else { Meaning::Plain };
        pen.text(area.x, area.y, &cut(self.label, self.label_width), style(label));
        let mark = match (self.error, self.assumed) {
            (Some(_), _) => Meaning::Stop,
            (None, true) => Meaning::Assumed,
            (None, false) => Meaning::Plain,
        };
        let sign = if self.error.is_some() { "!" } else { mark.mark() };
        pen.text(x - 2, area.y, sign, style(mark));
        let (_, seen) = self.text.seen(room);
        pen.text(x - 1, area.y, "[", style(Meaning::Dim));
        pen.text(x + room, area.y, "]", style(Meaning::Dim));
        let value = match (self.text.is_offered(), self.assumed) {
            (true, _) => Meaning::Selected,
            (false, true) => Meaning::Assumed,
            (false, false) => Meaning::Plain,
        };
        pen.text(x, area.y, &first_columns(&seen, room), style(value));
        let unit = cut(self.unit, (area.right() - x - room).saturating_sub(2));
        pen.text(x + room + 2, area.y, &unit, style(Meaning::Dim));
        let lines = self.error.map(|error| wrap(error, area.right() - (x - 2)));
        for (line, y) in lines.iter().flatten().zip(area.top() + 1..area.bottom()) {
            pen.text(x - 2, y, line, style(Meaning::Stop));
        }
        if let Some(cell) = self.cursor(area).and_then(|at| buf.cell_mut(at)) {
            cell.modifier.insert(Modifier::REVERSED);
        }
    }
}

#[cfg(test)]
mod tests {
    use ratatui::crossterm::event::{KeyCode, KeyModifiers};

    use super::*;
    use crate::widgets::{drawn, shown};

    fn key(code: KeyCode) -> KeyEvent {
        KeyEvent::new(code, KeyModifiers::NONE)
    }

    fn view(text: &FieldText) -> FieldView<'_> {
        FieldView {
            label: "inside length",
            label_width: 14,
            text,
            text_width: 10,
            unit: "in",
            error: None,
            assumed: false,
            focused: true,
            theme: Theme::default(),
        }
    }

    #[test]
    fn keys_edit_and_a_paste_goes_in_at_the_cursor() {
        let mut text = FieldText::new("46 ");
        assert!(text.key(key(KeyCode::Char('3'))));
        assert!(text.paste("/8\n"));
        assert_eq!(text.text(), "46 3/8");
        assert!(!text.key(key(KeyCode::Home)));
        assert!(text.paste("1"));
        assert!(text.key(key(KeyCode::Delete)));
        assert_eq!(text.text(), "16 3/8");
        assert!(!text.key(key(KeyCode::F(5))));
        assert!(!text.paste("\n"));
    }

    #[test]
    fn looks() {
        let text = FieldText::new("46 3/8");
        let plain = view(&text);
        let assumed = FieldView {
            assumed: true,
            focused: false,
            ..plain
        };
        let wrong = FieldText::new("46 3/9");
        let wrong = FieldView {
            text: &wrong,
            error: Some("a fraction of an inch ends in 2, 4, 8, 16, 32 or 64: write 46 3/8"),
            ..plain
        };
        let all = [&plain, &assumed, &wrong]
            .map(|field| shown(&drawn(field, 60, 3)))
            .concat();
        insta::assert_snapshot!("field", all);
    }

    #[test]
    fn the_cursor_is_a_reversed_cell_behind_the_text() {
        let text = FieldText::new("46 3/8");
        let buffer = drawn(&view(&text), 40, 1);
        let at = view(&text).cursor(Rect::new(0, 0, 40, 1)).unwrap();
        assert_eq!(at, Position::new(17 + 6, 0));
        assert!(buffer[at].modifier.contains(Modifier::REVERSED));
        assert!(!buffer[(22, 0)].modifier.contains(Modifier::REVERSED));
    }

    #[test]
    fn long_text_scrolls_so_that_the_cursor_stays_in_sight() {
        let mut text = FieldText::new("abcdefghijklmnop");
        assert!(shown(&drawn(&view(&text), 40, 1)).contains("[hijklmnop ]"));
        text.key(key(KeyCode::Home));
        assert!(shown(&drawn(&view(&text), 40, 1)).contains("[abcdefghij]"));
    }

    #[test]
    fn wide_characters_do_not_push_the_cursor_out() {
        let text = FieldText::new("電池電池電池");
        let area = Rect::new(0, 0, 40, 1);
        let at = view(&text).cursor(area).unwrap();
        assert!(at.x < 17 + 10);
        drawn(&view(&text), 40, 1);
    }
}
