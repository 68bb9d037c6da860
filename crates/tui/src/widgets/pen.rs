//! The pen: lines, rectangles and text on a grid of cells, joined where they meet.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::symbols::merge::MergeStrategy;
use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

use crate::theme::{Glyphs, LineGlyphs, Theme};

/// The sort of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stroke {
    /// Modules.
    Light,
    /// Steel.
    Heavy,
    /// The shell of a box.
    Double,
    /// Rims, bands, hidden things.
    Dashed,
}

impl Stroke {
    /// The characters of this sort of line.
    pub const fn glyphs(self, glyphs: &Glyphs) -> &LineGlyphs {
        match self {
            Self::Light => &glyphs.light,
            Self::Heavy => &glyphs.heavy,
            Self::Double => &glyphs.double,
            Self::Dashed => &glyphs.dashed,
        }
    }
}

/// A rectangle of cells by its edges, all inclusive.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Edges {
    /// Leftmost column.
    pub left: u16,
    /// Rightmost column.
    pub right: u16,
    /// Topmost row.
    pub top: u16,
    /// Bottommost row.
    pub bottom: u16,
}

impl Edges {
    /// Free columns between the left and the right edge.
    pub const fn inner_width(&self) -> u16 {
        self.right.saturating_sub(self.left).saturating_sub(1)
    }

    /// Free rows between the top and the bottom edge.
    pub const fn inner_height(&self) -> u16 {
        self.bottom.saturating_sub(self.top).saturating_sub(1)
    }

    /// Whether the cell lies on an edge or between them.
    pub const fn holds(&self, x: u16, y: u16) -> bool {
        self.left <= x && x <= self.right && self.top <= y && y <= self.bottom
    }

    /// How many cells the rectangle covers with its edges.
    pub fn cells(&self) -> u32 {
        u32::from(self.right.saturating_sub(self.left) + 1) * u32::from(self.bottom.saturating_sub(self.top) + 1)
    }
}

/// Which edges of a rectangle are drawn; one that a window cuts off is not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Drawn {
    /// The left and the right edge.
    pub across: [bool; 2],
    /// The top and the bottom edge.
    pub down: [bool; 2],
}

impl Drawn {
    /// All four.
    pub const WHOLE: Self = Self {
        across: [true; 2],
        down: [true; 2],
    };
}

/// Draws into a part of a buffer; what lies outside is left alone.
#[derive(Debug)]
pub struct Pen<'a> {
    buffer: &'a mut Buffer,
    area: Rect,
    theme: Theme,
}

impl<'a> Pen<'a> {
    /// A pen that draws within `area`.
    pub fn new(buffer: &'a mut Buffer, area: Rect, theme: Theme) -> Self {
        let area = area.intersection(buffer.area);
        Self { buffer, area, theme }
    }

    /// The characters that the pen draws with.
    pub const fn glyphs(&self) -> &'static Glyphs {
        self.theme.glyphs()
    }

    /// Puts one line character into a cell, joined with the line that is there.
    pub fn put(&mut self, x: u16, y: u16, symbol: &str, style: Style) {
        if !self.area.contains((x, y).into()) {
            return;
        }
        let cell = &mut self.buffer[(x, y)];
        if self.theme.ascii {
            let joined = join_ascii(cell.symbol(), symbol).to_owned();
            cell.set_symbol(&joined);
        } else if is_line(cell.symbol()) {
            cell.merge_symbol(symbol, MergeStrategy::Exact);
        } else {
            cell.set_symbol(symbol);
        }
        cell.set_style(alone(style));
    }

    /// Puts one character into a cell in place of what is there.
    pub fn stamp(&mut self, x: u16, y: u16, symbol: &str, style: Style) {
        if self.area.contains((x, y).into()) {
            self.buffer[(x, y)].set_symbol(symbol).set_style(alone(style));
        }
    }

    /// Whether the cell is inside and nothing has been drawn there.
    pub fn is_free(&self, x: u16, y: u16) -> bool {
        self.area.contains((x, y).into()) && self.buffer[(x, y)].symbol() == " "
    }

    /// A line along row `y`; half strokes at its ends make clean corners with lines that end there too.
    pub fn hline(&mut self, x0: u16, x1: u16, y: u16, stroke: Stroke, style: Style) {
        let line = stroke.glyphs(self.glyphs());
        if x0 >= x1 {
            return;
        }
        self.put(x0, y, line.ends[0], style);
        for x in x0 + 1..x1 {
            self.put(x, y, line.across, style);
        }
        self.put(x1, y, line.ends[1], style);
    }

    /// A line along column `x`; see [`Pen::hline`].
    pub fn vline(&mut self, x: u16, y0: u16, y1: u16, stroke: Stroke, style: Style) {
        let line = stroke.glyphs(self.glyphs());
        if y0 >= y1 {
            return;
        }
        self.put(x, y0, line.ends[2], style);
        for y in y0 + 1..y1 {
            self.put(x, y, line.down, style);
        }
        self.put(x, y1, line.ends[3], style);
    }

    /// A rectangle with corners of its own, joined with the lines that it meets.
    ///
    /// One that is a single column wide or a single row high is drawn as a line.
    pub fn rect(&mut self, edges: Edges, drawn: Drawn, stroke: Stroke, style: Style) {
        let Edges {
            left,
            right,
            top,
            bottom,
        } = edges;
        if left == right || top == bottom {
            self.hline(left, right, top, stroke, style);
            self.vline(left, top, bottom, stroke, style);
            return;
        }
        let line = stroke.glyphs(self.glyphs());
        for (x, shown) in [(left, drawn.across[0]), (right, drawn.across[1])] {
            for y in (top + 1..bottom).filter(|_| shown) {
                self.put(x, y, line.down, style);
            }
        }
        for (y, shown) in [(top, drawn.down[0]), (bottom, drawn.down[1])] {
            for x in (left + 1..right).filter(|_| shown) {
                self.put(x, y, line.across, style);
            }
        }
        for (i, (x, y)) in [(left, top), (right, top), (left, bottom), (right, bottom)]
            .into_iter()
            .enumerate()
        {
            match (drawn.across[i % 2], drawn.down[i / 2]) {
                (true, true) => self.put(x, y, line.corners[i], style),
                (true, false) => self.put(x, y, line.down, style),
                (false, true) => self.put(x, y, line.across, style),
                (false, false) => {}
            }
        }
    }

    /// A rectangle less another that lies in one of its corners.
    pub fn rect_without(&mut self, edges: Edges, corner: Edges, stroke: Stroke, style: Style) {
        let [outer_x, inner_x, far_x] = if corner.left == edges.left {
            [edges.left, corner.right, edges.right]
        } else {
            [edges.right, corner.left, edges.left]
        };
        let [outer_y, inner_y, far_y] = if corner.bottom == edges.bottom {
            [edges.bottom, corner.top, edges.top]
        } else {
            [edges.top, corner.bottom, edges.bottom]
        };
        for (a, b, y) in [
            (outer_x, far_x, far_y),
            (inner_x, far_x, outer_y),
            (outer_x, inner_x, inner_y),
        ] {
            self.hline(a.min(b), a.max(b), y, stroke, style);
        }
        for (a, b, x) in [
            (outer_y, far_y, far_x),
            (inner_y, far_y, outer_x),
            (outer_y, inner_y, inner_x),
        ] {
            self.vline(x, a.min(b), a.max(b), stroke, style);
        }
    }

    /// Fills the free cells of a rectangle, edges included, with one character.
    pub fn fill(&mut self, edges: Edges, symbol: &str, style: Style) {
        for y in edges.top..=edges.bottom {
            for x in edges.left..=edges.right {
                self.stamp(x, y, symbol, style);
            }
        }
    }

    /// Writes text from a cell rightwards, over what is there.
    pub fn text(&mut self, x: u16, y: u16, text: &str, style: Style) {
        let room = usize::from(self.area.right().saturating_sub(x));
        if self.area.contains((x, y).into()) {
            self.buffer.set_stringn(x, y, text, room, alone(style));
        }
    }

    /// Adds to the style of the cells that a rectangle covers.
    pub fn restyle(&mut self, edges: Edges, style: Style) {
        let area = Rect::new(
            edges.left,
            edges.top,
            edges.right.saturating_sub(edges.left) + 1,
            edges.bottom.saturating_sub(edges.top) + 1,
        );
        self.buffer.set_style(area.intersection(self.area), style);
    }
}

/// The style alone: nothing of what was drawn there before shines through.
fn alone(style: Style) -> Style {
    Style::reset().patch(style)
}

/// Whether a cell holds a line that another can join; merging would keep anything else, such as a hatch.
fn is_line(symbol: &str) -> bool {
    symbol
        .chars()
        .all(|c| matches!(c, '\u{2500}'..='\u{2570}' | '\u{2574}'..='\u{257f}'))
}

/// What two ASCII lines in one cell make: the stronger of two that run one way, else a crossing.
fn join_ascii<'a>(there: &'a str, new: &'a str) -> &'a str {
    const ACROSS: [&str; 3] = [".", "-", "="];
    const DOWN: [&str; 3] = [":", "|", "#"];
    let strength = |way: [&str; 3], symbol: &str| way.iter().position(|s| *s == symbol);
    for way in [ACROSS, DOWN] {
        if let (Some(there_is), Some(new_is)) = (strength(way, there), strength(way, new)) {
            return if there_is > new_is { there } else { new };
        }
    }
    let is_line = |symbol: &str| symbol == "+" || ACROSS.contains(&symbol) || DOWN.contains(&symbol);
    match (there, new) {
        _ if !is_line(there) || !is_line(new) => new,
        ("#", _) | (_, "#") => "#",
        ("." | ":", _) => new,
        (_, "." | ":") => there,
        _ => "+",
    }
}

/// Columns that a text takes.
pub fn width(text: &str) -> u16 {
    u16::try_from(text.width()).unwrap_or(u16::MAX)
}

/// The text cut to `room` columns; full stops at the end show that something is lost, if there is room for them.
pub fn cut(text: &str, room: u16) -> String {
    if width(text) <= room {
        return text.to_owned();
    }
    let mark = cut_mark(room);
    first_columns(text, room - width(mark)) + mark
}

/// The text cut at its start: for names whose end tells them apart, such as `M01`.
pub fn cut_start(text: &str, room: u16) -> String {
    if width(text) <= room {
        return text.to_owned();
    }
    let mark = if room < 4 { "" } else { "." };
    let mut left = usize::from(room - width(mark));
    let from = text
        .char_indices()
        .rev()
        .take_while(|(_, c)| takes(&mut left, *c))
        .last()
        .map_or(text.len(), |(i, _)| i);
    format!("{mark}{}", &text[from..])
}

/// The first characters that fit, with no mark for what is lost.
pub fn first_columns(text: &str, room: u16) -> String {
    let mut left = usize::from(room);
    text.chars().take_while(|c| takes(&mut left, *c)).collect()
}

const fn cut_mark(room: u16) -> &'static str {
    match room {
        0 | 1 => "",
        2 | 3 => ".",
        _ => "..",
    }
}

/// Takes the columns of a character off what is left; says whether there were enough.
fn takes(left: &mut usize, c: char) -> bool {
    let wide = c.width().unwrap_or(0);
    let fits = wide <= *left;
    *left = left.saturating_sub(wide);
    fits
}

#[cfg(test)]
mod tests {
    use ratatui::style::Modifier;
    use rstest::rstest;

    use super::*;
    use crate::widgets::shown;

    fn edges(left: u16, right: u16, top: u16, bottom: u16) -> Edges {
        Edges {
            left,
            right,
            top,
            bottom,
        }
    }

    fn drawing(ascii: bool) -> String {
        let area = Rect::new(0, 0, 24, 7);
        let mut buffer = Buffer::empty(area);
        let theme = Theme { colour: false, ascii };
        let mut pen = Pen::new(&mut buffer, area, theme);
        let plain = Style::new();
        pen.rect(edges(2, 9, 0, 4), Drawn::WHOLE, Stroke::Light, plain);
        pen.rect(edges(9, 15, 0, 4), Drawn::WHOLE, Stroke::Light, plain);
        pen.rect(edges(0, 17, 0, 6), Drawn::WHOLE, Stroke::Heavy, plain);
        pen.rect(edges(19, 23, 0, 2), Drawn::WHOLE, Stroke::Double, plain);
        pen.rect(edges(19, 23, 4, 6), Drawn::WHOLE, Stroke::Dashed, plain);
        pen.hline(4, 13, 2, Stroke::Light, plain);
        shown(&buffer)
    }

    #[test]
    fn lines_join_where_they_meet() {
        insta::assert_snapshot!("pen", drawing(false));
    }

    #[test]
    fn plain_lines_join_where_they_meet() {
        insta::assert_snapshot!("pen_ascii", drawing(true));
    }

    #[test]
    fn an_edge_that_is_cut_off_leaves_the_side_open() {
        let area = Rect::new(0, 0, 8, 3);
        let mut buffer = Buffer::empty(area);
        let mut pen = Pen::new(&mut buffer, area, Theme::default());
        let open = Drawn {
            across: [true, false],
            down: [true; 2],
        };
        pen.rect(edges(0, 7, 0, 2), open, Stroke::Light, Style::new());
        assert_eq!(shown(&buffer), "┌───────\n│\n└───────\n");
    }

    #[test]
    fn nothing_is_drawn_outside_the_area() {
        let mut buffer = Buffer::empty(Rect::new(0, 0, 10, 5));
        let mut pen = Pen::new(&mut buffer, Rect::new(2, 1, 4, 3), Theme::default());
        pen.rect(edges(0, 9, 0, 4), Drawn::WHOLE, Stroke::Heavy, Style::new());
        pen.text(3, 2, "long text", Style::new().add_modifier(Modifier::BOLD));
        assert_eq!(shown(&buffer), "\n\n   lon\n\n\n");
    }

    #[rstest]
    #[case::fits("M01", 3, "M01")]
    #[case::lost("right rail", 6, "righ..")]
    #[case::hardly_room("M01", 2, "M.")]
    #[case::one_cell("M01", 1, "M")]
    #[case::none("M01", 0, "")]
    #[case::wide_character_is_not_halved("電池", 3, "電.")]
    fn text_is_cut_to_its_room(#[case] text: &str, #[case] room: u16, #[case] kept: &str) {
        assert_eq!(cut(text, room), kept);
    }

    #[rstest]
    #[case::fits("M01", 3, "M01")]
    #[case::two_digits("M01", 2, "01")]
    #[case::long("front M01", 5, ". M01")]
    #[case::none("M01", 0, "")]
    fn a_name_keeps_its_end(#[case] text: &str, #[case] room: u16, #[case] kept: &str) {
        assert_eq!(cut_start(text, room), kept);
    }

    #[test]
    fn a_line_over_a_hatch_is_the_line() {
        let mut buffer = Buffer::empty(Rect::new(0, 0, 3, 1));
        let area = buffer.area;
        let mut pen = Pen::new(&mut buffer, area, Theme::default());
        pen.fill(edges(0, 2, 0, 0), "╱", Style::new());
        pen.put(1, 0, "━", Style::new());
        assert_eq!(shown(&buffer), "╱━╱\n");
    }
}
