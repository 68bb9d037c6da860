//! A bar for work that takes a while.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

use super::pen::{Pen, cut};
use crate::theme::{Meaning, Theme};

/// How far a piece of work is: `[━━━━━━╌╌╌╌]  60%  best so far: 31 modules`.
#[derive(Clone, Copy, Debug)]
pub struct Progress<'a> {
    /// What is done.
    pub done: u64,
    /// All there is to do, or `None` if nobody knows.
    pub total: Option<u64>,
    /// What to say beside the bar.
    pub text: &'a str,
    /// What the terminal can show.
    pub theme: Theme,
}

/// Columns of the bar inside its brackets, at most.
const BAR: u16 = 20;

impl Progress<'_> {
    /// Done parts of `whole`, rounded down: a bar is full only when the work is finished.
    fn share(&self, whole: u16) -> Option<u16> {
        let total = self.total?;
        let share = u128::from(self.done.min(total)) * u128::from(whole) / u128::from(total.max(1));
        Some(if total == 0 {
            whole
        } else {
            u16::try_from(share).unwrap_or(whole)
        })
    }
}

impl Widget for &Progress<'_> {
    fn render(self, area: Rect, buf: &mut Buffer) {
        if area.is_empty() {
            return;
        }
        let mut pen = Pen::new(buf, area, self.theme);
        let plain = self.theme.style(Meaning::Plain);
        let mut x = area.x;
        let bar = BAR.min(area.width.saturating_sub(9) / 2);
        if let (Some(done), Some(percent), true) = (self.share(bar), self.share(100), bar > 0) {
            let [full, open] = pen.glyphs().bar;
            pen.text(x, area.y, "[", plain);
            for i in 0..bar {
                let (symbol, meaning) = if i < done {
                    (full, Meaning::Heading)
                } else {
                    (open, Meaning::Dim)
                };
                pen.stamp(x + 1 + i, area.y, symbol, self.theme.style(meaning));
            }
            pen.text(x + 1 + bar, area.y, &format!("] {percent:>3}%"), plain);
            x += bar + 9;
        }
        pen.text(x, area.y, &cut(self.text, area.right().saturating_sub(x)), plain);
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;
    use crate::widgets::{drawn, shown};

    #[rstest]
    #[case::some(12, Some(20), "[━━━━━━━━━━━━╌╌╌╌╌╌╌╌]  60%  31 modules\n")]
    #[case::nearly(9_999, Some(10_000), "[━━━━━━━━━━━━━━━━━━━╌]  99%  31 modules\n")]
    #[case::all(20, Some(20), "[━━━━━━━━━━━━━━━━━━━━] 100%  31 modules\n")]
    #[case::more_than_all(30, Some(20), "[━━━━━━━━━━━━━━━━━━━━] 100%  31 modules\n")]
    #[case::nothing_to_do(0, Some(0), "[━━━━━━━━━━━━━━━━━━━━] 100%  31 modules\n")]
    #[case::nobody_knows(12, None, "31 modules\n")]
    fn looks(#[case] done: u64, #[case] total: Option<u64>, #[case] text: &str) {
        let bar = Progress {
            done,
            total,
            text: "31 modules",
            theme: Theme::default(),
        };
        assert_eq!(shown(&drawn(&bar, 60, 1)), text);
    }

    #[test]
    fn a_narrow_place_and_plain_characters() {
        let theme = Theme {
            colour: false,
            ascii: true,
        };
        let bar = Progress {
            done: 1,
            total: Some(2),
            text: "31 modules",
            theme,
        };
        assert_eq!(shown(&drawn(&bar, 26, 1)), "[====----]  50%  31 modu..\n");
        for width in 0..30 {
            drawn(&bar, width, 1);
        }
    }
}
