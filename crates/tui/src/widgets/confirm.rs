//! A small question over the page.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::{Clear, Widget};

use super::pen::{Drawn, Edges, Pen, Stroke, cut, width};
use super::toast::wrap;
use crate::theme::{Meaning, Theme};

/// A question with its answers, centred in the area that it is drawn into.
#[derive(Clone, Copy, Debug)]
pub struct Confirm<'a> {
    /// The question.
    pub question: &'a str,
    /// What follows from the answers; empty for nothing to add.
    pub detail: &'a str,
    /// Each answer's key and words.
    pub answers: &'a [(&'a str, &'a str)],
    /// The answer that `enter` takes, by its place.
    pub chosen: usize,
    /// What the terminal can show.
    pub theme: Theme,
}

impl Confirm<'_> {
    fn lines(&self, columns: u16) -> Vec<(String, Meaning)> {
        let question = wrap(self.question, columns)
            .into_iter()
            .map(|line| (line, Meaning::Heading));
        let detail = wrap(self.detail, columns)
            .into_iter()
            .map(|line| (line, Meaning::Plain));
        question.chain(detail).collect()
    }

    /// Columns of the longest key.
    fn key_width(&self) -> u16 {
        self.answers.iter().map(|(key, _)| width(key)).max().unwrap_or(0)
    }

    /// The cells that the question covers.
    pub fn place(&self, area: Rect) -> Rect {
        let columns = area.width.saturating_sub(4).min(56);
        let lines = self.lines(columns);
        let answers = self
            .answers
            .iter()
            .map(|(_, words)| self.key_width() + width(words) + 4)
            .max();
        let widest = lines
            .iter()
            .map(|(line, _)| width(line))
            .chain(answers)
            .max()
            .unwrap_or(0);
        let rows = u16::try_from(lines.len() + 1 + self.answers.len()).unwrap_or(u16::MAX);
        area.centered(
            ratatui::layout::Constraint::Length(widest.min(columns) + 4),
            ratatui::layout::Constraint::Length(rows.saturating_add(2)),
        )
    }
}

impl Widget for &Confirm<'_> {
    fn render(self, area: Rect, buf: &mut Buffer) {
        let place = self.place(area).intersection(buf.area);
        if place.width < 6 || place.height < 3 {
            return;
        }
        Clear.render(place, buf);
        let mut pen = Pen::new(buf, place, self.theme);
        let frame = Edges {
            left: place.x,
            right: place.right() - 1,
            top: place.y,
            bottom: place.bottom() - 1,
        };
        pen.rect(frame, Drawn::WHOLE, Stroke::Heavy, self.theme.style(Meaning::Heading));
        let room = place.width - 4;
        let inside = Rect::new(place.x + 1, place.y + 1, place.width - 2, place.height - 2);
        let mut pen = Pen::new(buf, inside, self.theme);
        let x = place.x + 2;
        let mut y = place.y + 1;
        for (line, meaning) in self.lines(room) {
            pen.text(x, y, &line, self.theme.style(meaning));
            y += 1;
        }
        for ((key, words), i) in self.answers.iter().zip(0..) {
            y += 1;
            let is_chosen = i == self.chosen;
            let pointer = if is_chosen { pen.glyphs().right } else { " " };
            pen.text(x, y, pointer, self.theme.style(Meaning::Key));
            pen.text(x + 2, y, key, self.theme.style(Meaning::Key));
            let from = x + 4 + self.key_width();
            let meaning = if is_chosen { Meaning::Selected } else { Meaning::Plain };
            pen.text(
                from,
                y,
                &cut(words, inside.right().saturating_sub(from)),
                self.theme.style(meaning),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use ratatui::style::Modifier;

    use super::*;
    use crate::widgets::{drawn, shown};

    const QUESTION: Confirm<'_> = Confirm {
        question: "Leave without saving?",
        detail: "The last 3 changes are in the recovery file and are offered again next time.",
        answers: &[("s", "save and leave"), ("y", "leave as it is"), ("esc", "stay")],
        chosen: 0,
        theme: Theme {
            colour: true,
            ascii: false,
        },
    };

    #[test]
    fn looks() {
        insta::assert_snapshot!("confirm", shown(&drawn(&QUESTION, 70, 13)));
        insta::assert_snapshot!("confirm_narrow", shown(&drawn(&QUESTION, 30, 12)));
    }

    #[test]
    fn the_chosen_answer_is_reversed() {
        let buffer = drawn(&QUESTION, 70, 13);
        let place = QUESTION.place(buffer.area);
        let reversed = |y: u16| buffer[(place.x + 9, y)].modifier.contains(Modifier::REVERSED);
        let rows: Vec<bool> = (place.bottom() - 4..place.bottom() - 1).map(reversed).collect();
        assert_eq!(rows, [true, false, false]);
    }

    #[test]
    fn no_size_is_too_small_to_draw_into() {
        for width in 0..40 {
            for height in 0..10 {
                drawn(&QUESTION, width, height);
            }
        }
    }
}
