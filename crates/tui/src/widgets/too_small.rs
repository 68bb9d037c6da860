//! What is shown when the window has no room for a page.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

use super::pen::{Pen, width};
use super::toast::wrap;
use crate::theme::{Meaning, Theme};

/// Says how large the window is and how large it needs to be.
#[derive(Clone, Copy, Debug)]
pub struct TooSmall {
    /// Columns and rows that the page needs.
    pub needed: (u16, u16),
    /// What the terminal can show.
    pub theme: Theme,
}

impl TooSmall {
    /// Whether `area` has too little room.
    pub const fn is_needed(&self, area: Rect) -> bool {
        area.width < self.needed.0 || area.height < self.needed.1
    }
}

impl Widget for &TooSmall {
    fn render(self, area: Rect, buf: &mut Buffer) {
        let (columns, rows) = self.needed;
        let text = format!("window {}x{}: {columns}x{rows} needed", area.width, area.height);
        let lines = wrap(&text, area.width);
        let mut pen = Pen::new(buf, area, self.theme);
        let count = u16::try_from(lines.len()).unwrap_or(u16::MAX);
        let top = area.y + area.height.saturating_sub(count) / 2;
        for (line, y) in lines.iter().zip(top..) {
            let x = area.x + area.width.saturating_sub(width(line)) / 2;
            pen.text(x, y, line, self.theme.style(Meaning::Heading));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::widgets::{drawn, shown};

    const PAGE: TooSmall = TooSmall {
        needed: (80, 24),
        theme: Theme {
            colour: true,
            ascii: false,
        },
    };

    #[test]
    fn both_sizes_are_named() {
        assert_eq!(shown(&drawn(&PAGE, 40, 3)), "\n       window 40x3: 80x24 needed\n\n");
        assert_eq!(shown(&drawn(&PAGE, 12, 3)), "window 12x3:\n80x24 needed\n\n");
    }

    #[test]
    fn the_needed_size_is_enough() {
        assert!(!PAGE.is_needed(Rect::new(0, 0, 80, 24)));
        assert!(PAGE.is_needed(Rect::new(0, 0, 79, 60)));
        assert!(PAGE.is_needed(Rect::new(0, 0, 200, 23)));
    }
}
