//! The help page: every key and what it does, over the whole window.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::{Clear, Widget};

use super::pen::{Drawn, Edges, Pen, Stroke, cut, width};
use super::rows::draw_more;
use super::toast::wrap;
use crate::theme::{Meaning, Theme};

/// A part of the help page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HelpSection {
    /// Its heading.
    pub title: String,
    /// Keys with what they do.
    pub keys: Vec<(String, String)>,
    /// Plain text under them; empty for none.
    pub text: String,
}

/// The help page, scrolled.
#[derive(Clone, Copy, Debug)]
pub struct HelpPage<'a> {
    /// What the help is about.
    pub title: &'a str,
    /// Its parts.
    pub sections: &'a [HelpSection],
    /// Lines out of sight above; more than [`HelpPage::last_scroll`] counts as that.
    pub scroll: usize,
    /// What the terminal can show.
    pub theme: Theme,
}

/// One line of the page: bold key or heading, then plain text.
struct Line {
    strong: String,
    /// Column of `text`.
    indent: u16,
    text: String,
}

impl HelpPage<'_> {
    /// The largest scroll that still fills the window.
    pub fn last_scroll(&self, area: Rect) -> usize {
        let inner = inner(area);
        self.lines(inner.width).len().saturating_sub(usize::from(inner.height))
    }

    fn lines(&self, columns: u16) -> Vec<Line> {
        let keys = self.sections.iter().flat_map(|section| &section.keys);
        let indent = keys.map(|(key, _)| width(key)).max().unwrap_or(0).min(columns / 2) + 4;
        let mut lines = Vec::new();
        for section in self.sections {
            if !lines.is_empty() {
                lines.push(Line {
                    strong: String::new(),
                    indent: 0,
                    text: String::new(),
                });
            }
            lines.push(Line {
                strong: section.title.clone(),
                indent: 0,
                text: String::new(),
            });
            for (key, words) in &section.keys {
                let wrapped = wrap(words, columns.saturating_sub(indent));
                for (i, text) in wrapped.into_iter().enumerate() {
                    let strong = if i == 0 { format!("  {key}") } else { String::new() };
                    lines.push(Line { strong, indent, text });
                }
            }
            if !section.text.is_empty() {
                for text in wrap(&section.text, columns.saturating_sub(2)) {
                    lines.push(Line {
                        strong: String::new(),
                        indent: 2,
                        text,
                    });
                }
            }
        }
        lines
    }
}

/// The part inside the frame, with a column of air at both sides.
fn inner(area: Rect) -> Rect {
    Rect::new(
        area.x + 2.min(area.width),
        area.y + 1.min(area.height),
        area.width.saturating_sub(4),
        area.height.saturating_sub(2),
    )
}

impl Widget for &HelpPage<'_> {
    fn render(self, area: Rect, buf: &mut Buffer) {
        if area.width < 8 || area.height < 3 {
            return;
        }
        Clear.render(area, buf);
        let inner = inner(area);
        let (heading, plain) = (self.theme.style(Meaning::Heading), self.theme.style(Meaning::Plain));
        let frame = Edges {
            left: area.x,
            right: area.right() - 1,
            top: area.y,
            bottom: area.bottom() - 1,
        };
        let mut pen = Pen::new(buf, area, self.theme);
        pen.rect(frame, Drawn::WHOLE, Stroke::Light, self.theme.style(Meaning::Dim));
        let title = format!(" {} ", cut(self.title, inner.width.saturating_sub(2)));
        pen.text(area.x + 2, area.y, &title, heading);
        let lines = self.lines(inner.width);
        let first = self.scroll.min(self.last_scroll(area));
        let mut pen = Pen::new(buf, inner, self.theme);
        for (line, y) in lines.iter().skip(first).zip(inner.top()..inner.bottom()) {
            let room = if line.text.is_empty() {
                inner.width
            } else {
                line.indent.saturating_sub(1)
            };
            pen.text(inner.x, y, &cut(&line.strong, room), heading);
            pen.text(inner.x + line.indent, y, &line.text, plain);
        }
        let side = Rect {
            width: inner.width + 2,
            ..inner
        };
        draw_more(&mut Pen::new(buf, side, self.theme), side, first, lines.len());
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::widgets::{drawn, shown};

    fn sections() -> Vec<HelpSection> {
        let key = |key: &str, words: &str| (key.to_owned(), words.to_owned());
        vec![
            HelpSection {
                title: "move".into(),
                keys: vec![
                    key("arrows h j k l", "nudge the module by one step"),
                    key("[ ]", "make the step smaller or larger, from 1/64 to 1 inch"),
                ],
                text: String::new(),
            },
            HelpSection {
                title: "the mouse".into(),
                keys: vec![key("m", "leave the mouse to the terminal, so that text can be marked")],
                text: "A click picks a module, a drag moves it. Hold shift to mark text while the mouse is used here."
                    .into(),
            },
        ]
    }

    fn page(sections: &[HelpSection], scroll: usize) -> HelpPage<'_> {
        HelpPage {
            title: "layout",
            sections,
            scroll,
            theme: Theme::default(),
        }
    }

    #[test]
    fn looks() {
        let sections = sections();
        insta::assert_snapshot!("help_60", shown(&drawn(&page(&sections, 0), 60, 13)));
        insta::assert_snapshot!("help_scrolled", shown(&drawn(&page(&sections, 3), 50, 8)));
    }

    #[test]
    fn scrolling_stops_at_the_end() {
        let sections = sections();
        let area = Rect::new(0, 0, 50, 8);
        let last = page(&sections, 0).last_scroll(area);
        assert!(last > 0);
        let at = |scroll| shown(&drawn(&page(&sections, scroll), 50, 8));
        assert_eq!(at(last), at(last + 100));
        assert_ne!(at(last), at(last - 1));
        assert_eq!(page(&sections, 0).last_scroll(Rect::new(0, 0, 80, 60)), 0);
    }
}
