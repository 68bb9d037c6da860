//! The sheet view: an orthographic view of boxes with dimension lines and gaps, drawn in cells.
//!
//! Edges may be moved apart so that each keeps a cell of its own (see [`super::snap`]); the numbers never change.
//! All edges at hand share one grid, so that what is flush in the truck is flush on the screen.

mod boxes;
mod dims;
mod gaps;
mod layout;
#[cfg(test)]
mod tests;

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;
use tape::Length;

use super::pen::{Pen, width};
use crate::theme::{Meaning, Theme};
use layout::Laid;

/// What a box in a view is, which decides how it is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outline {
    /// The walls of a cavity: heavy.
    Space,
    /// The shell of a battery box: double.
    Body,
    /// A rim, a flange, a band: dashed.
    Rim,
    /// A module: light.
    Module,
    /// Space that must stay free: hatched.
    KeepOut,
    /// Room in front of terminals: dotted.
    Service,
}

/// Where on a box a mark stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum At {
    /// At the edge with the smaller u.
    LowU,
    /// At the edge with the larger u.
    HighU,
    /// At the edge with the smaller v.
    LowV,
    /// At the edge with the larger v.
    HighV,
    /// On the face that is looked at.
    Facing,
}

/// A mark inside a box, such as the sign of a terminal at the face that it sits on.
///
/// The first mark at an edge stands at its start, the second at its end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct EdgeMark {
    /// Where it stands.
    pub at: At,
    /// What it is; `-` is drawn as a minus sign.
    pub sign: char,
}

/// One box as seen from the side that the view shows; u runs across the sheet, v along its height.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ViewBox {
    /// The smaller u.
    pub u0: Length,
    /// The larger u.
    pub u1: Length,
    /// The smaller v.
    pub v0: Length,
    /// The larger v.
    pub v1: Length,
    /// The corner of it that is missing: ranges of u and v.
    pub lacks: Option<[[Length; 2]; 2]>,
    /// What it is.
    pub outline: Outline,
    /// Its name; empty for none.
    pub label: String,
    /// A second line under the name, shown if there is room; empty for none.
    pub sub: String,
    /// Marks inside it.
    pub marks: Vec<EdgeMark>,
    /// The cursor is on it.
    pub selected: bool,
    /// Something is wrong with it.
    pub flagged: bool,
    /// A sign before its name, such as that of what is pinned; empty for none.
    pub sign: &'static str,
    /// It lies behind what is looked at.
    pub hidden: bool,
}

impl ViewBox {
    /// A box with a name and nothing else.
    ///
    /// - `u`, `v`: the smaller and the larger end.
    pub fn new(outline: Outline, u: [Length; 2], v: [Length; 2], label: impl Into<String>) -> Self {
        Self {
            u0: u[0],
            u1: u[1],
            v0: v[0],
            v1: v[1],
            lacks: None,
            outline,
            label: label.into(),
            sub: String::new(),
            marks: Vec::new(),
            selected: false,
            flagged: false,
            sign: "",
            hidden: false,
        }
    }
}

/// On which side of the drawing a dimension line stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Above it; measures u.
    Above,
    /// Below it; measures u.
    Below,
    /// To its left; measures v.
    Left,
    /// To its right; measures v.
    Right,
}

/// A dimension line outside the drawing; left out if its text does not fit whole between its ends.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DimLine {
    /// The smaller end, in u or v by its side.
    pub from: Length,
    /// The larger end.
    pub to: Length,
    /// The true number.
    pub text: String,
    /// Where it stands.
    pub side: Side,
    /// The number breaks a rule.
    pub flagged: bool,
}

/// Along which direction of the sheet a gap is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Along {
    /// Across the sheet.
    U,
    /// Along its height.
    V,
}

/// A gap's number, outside the drawing, with a pointer at the gap.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GapMark {
    /// The direction that it is measured in.
    pub along: Along,
    /// Where the gap starts.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// The true number.
    pub text: String,
    /// The number breaks a rule.
    pub flagged: bool,
}

/// Where growing u points on the sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Across {
    /// To the right: x in a plan, so that the front of the truck is left.
    #[default]
    Right,
    /// To the left: y in a view from the front.
    Left,
}

/// Where growing v points on the sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Upright {
    /// Downwards: y in a plan.
    #[default]
    Down,
    /// Upwards: z in a view from a side.
    Up,
}

/// The part of the world that is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Window {
    /// The smallest and the largest u.
    pub u: [Length; 2],
    /// The smallest and the largest v.
    pub v: [Length; 2],
}

/// How much of the view the area has room for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shown {
    /// Everything.
    Whole,
    /// All boxes, but not all numbers; the page has to list them.
    Fewer,
    /// Edges melt together; the person has to zoom in or widen the window.
    ZoomIn,
}

/// An orthographic view made of plain values.
#[derive(Clone, Copy, Debug)]
pub struct SheetView<'a> {
    /// What is seen, in any order.
    pub boxes: &'a [ViewBox],
    /// Dimension lines; of two on one side, the shorter stands nearer.
    pub dims: &'a [DimLine],
    /// Gaps with their numbers.
    pub gaps: &'a [GapMark],
    /// Where growing u points.
    pub across: Across,
    /// Where growing v points.
    pub upright: Upright,
    /// The part shown, or everything.
    pub window: Option<Window>,
    /// Whether a key of the page brings part of the view nearer, to be named where the whole is too small.
    pub zooms: bool,
    /// The height of a cell in hundredths of its width, 200 on most screens.
    pub cell_height: u16,
    /// What the terminal can show.
    pub theme: Theme,
}

impl<'a> SheetView<'a> {
    /// A view of boxes alone, u to the right and v downwards, in cells twice as high as wide.
    pub const fn new(boxes: &'a [ViewBox], theme: Theme) -> Self {
        Self {
            boxes,
            dims: &[],
            gaps: &[],
            across: Across::Right,
            upright: Upright::Down,
            window: None,
            zooms: false,
            cell_height: 200,
            theme,
        }
    }

    /// How much of the view `area` has room for.
    pub fn shown(&self, area: Rect) -> Shown {
        Laid::new(self, area).map_or(Shown::ZoomIn, |laid| laid.shown)
    }

    /// Whether the drawing is to scale in `area`: both ways by one scale, and no edge moved by more than a cell. A view
    /// that cannot be drawn counts as such.
    pub fn is_to_scale(&self, area: Rect) -> bool {
        Laid::new(self, area).is_none_or(|laid| laid.is_to_scale(self.cell_height))
    }

    /// Columns and rows from edge to edge of a box, by its place in `boxes`; `None` if it is not drawn.
    pub fn size_of(&self, area: Rect, at: usize) -> Option<(u16, u16)> {
        let (edges, _) = Laid::new(self, area)?.edges(self.boxes.get(at)?)?;
        Some((edges.right - edges.left, edges.bottom - edges.top))
    }

    /// Which box is drawn at a cell: the smallest one that covers it, by its place in `boxes`.
    pub fn hit(&self, area: Rect, x: u16, y: u16) -> Option<usize> {
        let laid = Laid::new(self, area)?;
        self.boxes
            .iter()
            .enumerate()
            .filter_map(|(i, part)| Some((i, laid.edges(part)?.0)))
            .filter(|(_, edges)| edges.holds(x, y))
            .min_by_key(|(i, edges)| (edges.cells(), self.boxes[*i].hidden, std::cmp::Reverse(*i)))
            .map(|(i, _)| i)
    }

    /// The cell that a place falls on, within the drawing; `None` if nothing can be drawn.
    pub fn cell_of(&self, area: Rect, u: Length, v: Length) -> Option<(u16, u16)> {
        Some(Laid::new(self, area)?.cell_of(u, v))
    }

    /// The u and v that a cell stands for, also beyond the drawing; `None` if nothing can be drawn.
    pub fn world_at(&self, area: Rect, x: u16, y: u16) -> Option<(Length, Length)> {
        Some(Laid::new(self, area)?.world_at(x, y))
    }
}

impl Widget for &SheetView<'_> {
    fn render(self, area: Rect, buf: &mut Buffer) {
        let mut pen = Pen::new(buf, area, self.theme);
        let laid = Laid::new(self, area);
        if let Some(laid) = &laid {
            boxes::draw(&mut pen, self, laid);
            gaps::draw(&mut pen, self, laid, area);
            dims::draw(&mut pen, self, laid);
        }
        if !self.boxes.is_empty() && laid.is_none_or(|laid| laid.shown == Shown::ZoomIn) {
            draw_hint(&mut pen, self, area);
        }
    }
}

/// Says in the last row that there is more than can be shown.
fn draw_hint(pen: &mut Pen<'_>, view: &SheetView<'_>, area: Rect) {
    let hints = if view.zooms {
        [
            "! too small to show every edge: zoom in (z)",
            "! too small: zoom in (z)",
            "! zoom in",
            "!",
        ]
    } else {
        [
            "! too small to show every edge: a larger window does",
            "! too small: larger window",
            "! too small",
            "!",
        ]
    };
    let hint = hints.into_iter().find(|hint| width(hint) <= area.width);
    if let (Some(hint), true) = (hint, area.height > 0) {
        pen.text(area.x, area.bottom() - 1, hint, view.theme.style(Meaning::Caution));
    }
}
