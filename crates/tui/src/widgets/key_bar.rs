//! The key bar: what can be pressed now.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

use super::pen::{Pen, width};
use crate::theme::{Meaning, Theme};

/// A key and what it does here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct KeyHint<'a> {
    /// The key as it is called, such as `tab` or `ctrl-z`.
    pub key: &'a str,
    /// What it does, in a word or two.
    pub words: &'a str,
    /// When room is short, the larger number goes first; 0 stays longest.
    pub rank: u8,
}

/// A line or more of keys.
#[derive(Clone, Copy, Debug)]
pub struct KeyBar<'a> {
    /// The keys, in the order shown.
    pub keys: &'a [KeyHint<'a>],
    /// What the terminal can show.
    pub theme: Theme,
}

/// Columns between two hints, in a narrow window and in a roomy one.
const GAPS: [u16; 2] = [2, 3];

const fn gap(columns: u16) -> u16 {
    GAPS[(columns >= 100) as usize]
}

impl KeyHint<'_> {
    fn width(&self) -> u16 {
        width(self.key) + 1 + width(self.words)
    }
}

impl<'a> KeyBar<'a> {
    /// The lines that the keys take in `columns`, at most `rows` of them; those of least rank are left out.
    fn lines(&self, columns: u16, rows: u16) -> Vec<Vec<&'a KeyHint<'a>>> {
        let mut kept: Vec<&KeyHint<'_>> = self.keys.iter().collect();
        loop {
            let lines = wrap(&kept, columns);
            if lines.len() <= usize::from(rows) {
                return lines;
            }
            let last = (0..kept.len()).max_by_key(|i| (kept[*i].rank, *i));
            match last {
                Some(last) => drop(kept.remove(last)),
                None => return Vec::new(),
            }
        }
    }

    /// Rows that all keys take in `columns`.
    pub fn height(&self, columns: u16) -> u16 {
        let keys: Vec<&KeyHint<'_>> = self.keys.iter().collect();
        u16::try_from(wrap(&keys, columns).len()).unwrap_or(u16::MAX)
    }
}

fn wrap<'a>(keys: &[&'a KeyHint<'a>], columns: u16) -> Vec<Vec<&'a KeyHint<'a>>> {
    let mut lines: Vec<Vec<&KeyHint<'_>>> = Vec::new();
    let mut used = columns;
    for key in keys {
        if !lines.is_empty() && used + gap(columns) + key.width() <= columns {
            used += gap(columns) + key.width();
        } else {
            used = key.width();
            lines.push(Vec::new());
        }
        if let Some(line) = lines.last_mut() {
            line.push(key);
        }
    }
    lines
}

impl Widget for &KeyBar<'_> {
    fn render(self, area: Rect, buf: &mut Buffer) {
        let mut pen = Pen::new(buf, area, self.theme);
        // One column stays free at the left, as in every other line of the page.
        let lines = self.lines(area.width.saturating_sub(1), area.height);
        for (line, y) in lines.iter().zip(area.y..) {
            let mut x = area.x + 1;
            for hint in line {
                pen.text(x, y, hint.key, self.theme.style(Meaning::Key));
                pen.text(x + width(hint.key) + 1, y, hint.words, self.theme.style(Meaning::Dim));
                x += hint.width() + gap(area.width.saturating_sub(1));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;
    use crate::widgets::{drawn, shown};

    const KEYS: [KeyHint<'_>; 7] = [
        KeyHint {
            key: "arrows",
            words: "nudge 1/16",
            rank: 1,
        },
        KeyHint {
            key: "[ ]",
            words: "step",
            rank: 2,
        },
        KeyHint {
            key: "tab",
            words: "next",
            rank: 2,
        },
        KeyHint {
            key: "r",
            words: "turn",
            rank: 3,
        },
        KeyHint {
            key: "u",
            words: "undo",
            rank: 1,
        },
        KeyHint {
            key: "?",
            words: "all keys",
            rank: 0,
        },
        KeyHint {
            key: "q",
            words: "back",
            rank: 0,
        },
    ];

    #[rstest]
    #[case("key_bar_80", 80, 1)]
    #[case("key_bar_50", 50, 1)]
    #[case("key_bar_50_two_lines", 50, 2)]
    #[case("key_bar_24", 24, 1)]
    fn looks(#[case] name: &str, #[case] width: u16, #[case] height: u16) {
        let bar = KeyBar {
            keys: &KEYS,
            theme: Theme::default(),
        };
        insta::assert_snapshot!(name, shown(&drawn(&bar, width, height)));
    }

    #[test]
    fn help_stays_longest() {
        let bar = KeyBar {
            keys: &KEYS,
            theme: Theme::default(),
        };
        for width in 11..90 {
            assert!(shown(&drawn(&bar, width, 1)).contains("? all keys"), "{width}");
        }
        assert_eq!(bar.height(200), 1);
        assert!(bar.height(30) > 2);
    }
}
