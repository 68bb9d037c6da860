//! The message line: the last thing the program had to say. It stays until something else is said.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

use super::pen::{Pen, width};
use crate::theme::{Meaning, Theme};

/// A message with its weight, over as many rows as it is given.
#[derive(Clone, Copy, Debug)]
pub struct MessageLine<'a> {
    /// How much it weighs: [`Meaning::Stop`], [`Meaning::Caution`], [`Meaning::Note`], [`Meaning::Good`].
    pub meaning: Meaning,
    /// What there is to say.
    pub text: &'a str,
    /// What the person can do about it; empty for nothing.
    pub fix: &'a str,
    /// What the terminal can show.
    pub theme: Theme,
}

impl MessageLine<'_> {
    fn lines(&self, columns: u16) -> Vec<String> {
        let whole = if self.fix.is_empty() {
            self.text.to_owned()
        } else {
            format!("{}; fix: {}", self.text, self.fix)
        };
        wrap(&whole, columns.saturating_sub(self.indent()))
    }

    fn indent(&self) -> u16 {
        let mark = width(self.meaning.mark());
        1 + if mark == 0 { 0 } else { mark + 1 }
    }

    /// Rows that the whole message takes in `columns`.
    pub fn height(&self, columns: u16) -> u16 {
        u16::try_from(self.lines(columns).len()).unwrap_or(u16::MAX)
    }
}

impl Widget for &MessageLine<'_> {
    fn render(self, area: Rect, buf: &mut Buffer) {
        let style = self.theme.style(self.meaning);
        let mut pen = Pen::new(buf, area, self.theme);
        let mut lines = self.lines(area.width);
        let rows = usize::from(area.height);
        if lines.len() > rows {
            // What does not fit is marked, so that nobody takes half a message for the whole.
            lines.truncate(rows);
            if let Some(last) = lines.last_mut() {
                let room = area.width.saturating_sub(self.indent() + 3);
                *last = format!("{}...", super::pen::cut(last, room).trim_end_matches(['.', ' ']));
            }
        }
        pen.text(area.x + 1, area.y, self.meaning.mark(), style);
        for (line, y) in lines.iter().zip(area.y..) {
            pen.text(area.x + self.indent(), y, line, style);
        }
    }
}

/// Text broken at spaces into lines of at most `columns`; a longer word is broken anywhere. A whole number stays with
/// its fraction and a figure with its unit wherever a line holds both.
pub(crate) fn wrap(text: &str, columns: u16) -> Vec<String> {
    let columns = columns.max(1);
    let mut lines = Vec::new();
    let mut line = String::new();
    for piece in pieces(text) {
        // What no line holds is broken at its spaces after all.
        let words: Vec<&str> = if width(&piece) > columns {
            piece.split(' ').collect()
        } else {
            vec![&piece]
        };
        for word in words {
            if !line.is_empty() && width(&line) + 1 + width(word) > columns {
                lines.push(std::mem::take(&mut line));
            }
            if !line.is_empty() {
                line.push(' ');
            }
            for c in word.chars() {
                line.push(c);
                if width(&line) > columns && line.chars().count() > 1 {
                    line.pop();
                    lines.push(std::mem::take(&mut line));
                    line.push(c);
                }
            }
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// Units that are set off from their figure by a space.
const UNITS: [&str; 29] = [
    "%", "A", "Ah", "GPa", "MPa", "N", "Nm", "V", "W", "Wh", "cm", "degrees", "ft", "g", "h", "in", "kN", "kW", "kWh",
    "kg", "km", "lb", "litres", "m", "min", "mm", "mohm", "ohm", "s",
];

/// The words of a text, those that are read as one figure in one piece.
fn pieces(text: &str) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    let mut before = "";
    for word in text.split_whitespace() {
        match all.last_mut() {
            Some(piece) if is_one_figure(before, word) => {
                piece.push(' ');
                piece.push_str(word);
            }
            _ => all.push(word.to_owned()),
        }
        before = word;
    }
    all
}

/// Whether two words are a whole number with its fraction, or a figure with its unit.
fn is_one_figure(word: &str, next: &str) -> bool {
    let figure = word.trim_start_matches(|c: char| !c.is_ascii_digit());
    let is_whole = !figure.is_empty() && figure.chars().all(|c| c.is_ascii_digit());
    let is_fraction = next.split_once('/').is_some_and(|(over, under)| {
        !over.is_empty() && over.chars().all(|c| c.is_ascii_digit()) && under.starts_with(|c: char| c.is_ascii_digit())
    });
    let is_unit = UNITS.contains(&next.trim_end_matches([',', ';', ':', '.', ')']));
    (is_whole && is_fraction) || (figure.ends_with(|c: char| c.is_ascii_digit()) && is_unit)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::widgets::{drawn, shown};

    fn message<'a>(meaning: Meaning, text: &'a str, fix: &'a str) -> MessageLine<'a> {
        MessageLine {
            meaning,
            text,
            fix,
            theme: Theme::default(),
        }
    }

    #[test]
    fn looks() {
        let stop = message(
            Meaning::Stop,
            "modules in series: 18 gives 453.6 V fully charged, outside the controller's 200 to 400 V",
            "use 12 to 15 in series",
        );
        let good = message(Meaning::Good, "saved", "");
        let plain = message(Meaning::Plain, "undid: nudge M08 by 1/8\"", "");
        let all = [
            shown(&drawn(&stop, 80, 2)),
            shown(&drawn(&stop, 60, 1)),
            shown(&drawn(&good, 60, 1)),
            shown(&drawn(&plain, 60, 1)),
        ];
        insta::assert_snapshot!("message_line", all.concat());
        assert_eq!(stop.height(80), 2);
    }

    #[test]
    fn a_figure_is_not_broken() {
        let text = "set the box 10 7/8\" up, of (~2 1/4 in) and 25.4 mm, at most";
        for columns in 10..60 {
            let lines = wrap(text, columns);
            for figure in ["10 7/8\"", "(~2 1/4 in)", "25.4 mm,"] {
                let is_whole = lines.iter().any(|line| line.contains(figure));
                assert!(is_whole || width(figure) > columns, "{columns} {lines:?}");
            }
        }
        assert_eq!(
            wrap("12 34 modules of 3 kinds", 6),
            ["12 34", "module", "s of 3", "kinds"]
        );
    }

    #[test]
    fn wrapping_loses_no_word_and_keeps_the_width() {
        let text = "a clearance of 3/8 where the rule asks for 1/2, see supercalifragilistic";
        for columns in 1..40 {
            let lines = wrap(text, columns);
            assert!(lines.iter().all(|line| width(line) <= columns), "{columns} {lines:?}");
            let without = |s: &str| s.replace(' ', "");
            assert_eq!(without(&lines.concat()), without(text));
        }
    }
}
