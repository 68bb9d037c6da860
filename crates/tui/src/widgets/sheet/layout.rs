//! Where everything lies: gutters for the numbers, and one grid for all edges.

use ratatui::layout::Rect;
use tape::Length;

use super::{Across, Along, DimLine, GapMark, SheetView, Shown, Side, Upright, ViewBox, Window};
use crate::widgets::pen::{Drawn, Edges, width};
use crate::widgets::snap::{Snap, scale_for, snap, snap_merged};

/// How a view lies in an area.
pub(super) struct Laid {
    columns: Snap,
    rows: Snap,
    /// The cell of the first column and row.
    origin: (u16, u16),
    across: Across,
    upright: Upright,
    window: Option<Window>,
    /// Dimension lines that are drawn, with their lanes.
    pub(super) dims: Vec<Lane>,
    /// Gaps whose pointers have a place.
    pub(super) gaps: Vec<usize>,
    pub(super) shown: Shown,
}

/// A dimension line's place: which one, and how far from the drawing.
#[derive(Clone, Copy)]
pub(super) struct Lane {
    /// Its place in the view's list.
    pub(super) dim: usize,
    /// The first cell of its lane, counted outwards from the drawing's edge; 1 is the cell beside it.
    pub(super) offset: u16,
    /// Cells that its lane takes outwards.
    pub(super) size: u16,
}

/// What a layout tries to show.
#[derive(Clone)]
struct Wanted {
    dims: Vec<usize>,
    gaps: Vec<usize>,
    sep: Option<u16>,
}

/// Cells around the drawing.
#[derive(Default)]
struct Gutters {
    left: u16,
    right: u16,
    top: u16,
    bottom: u16,
}

impl Laid {
    /// The fullest layout that fits, or `None` when not even a rough outline does.
    pub(super) fn new(view: &SheetView<'_>, area: Rect) -> Option<Self> {
        let dims: Vec<usize> = indices(view.dims, |dim| view.shows(dim.along(), dim.from, dim.to));
        let gaps: Vec<usize> = indices(view.gaps, |gap| view.shows(gap.along, gap.from, gap.to));
        let everything = dims.len() == view.dims.len() && gaps.len() == view.gaps.len();
        let ladder = [
            (true, true, Some(2)),
            (false, true, Some(2)),
            (false, true, Some(1)),
            (false, false, Some(1)),
            (false, false, None),
        ];
        for (with_dims, with_gaps, sep) in ladder {
            let wanted = Wanted {
                dims: if with_dims { dims.clone() } else { Vec::new() },
                gaps: if with_gaps { gaps.clone() } else { Vec::new() },
                sep,
            };
            if let Some(mut laid) = Self::with(view, area, wanted) {
                if sep.is_none() {
                    laid.shown = Shown::ZoomIn;
                } else if !everything || laid.dims.len() < dims.len() || laid.gaps.len() < gaps.len() {
                    laid.shown = Shown::Fewer;
                }
                return Some(laid);
            }
        }
        None
    }

    /// A layout of just this, without the dimension lines that turn out not to fit.
    fn with(view: &SheetView<'_>, area: Rect, mut wanted: Wanted) -> Option<Self> {
        loop {
            let laid = Self::try_with(view, area, &wanted)?;
            let fits = |lane: &Lane| laid.has_room_for(&view.dims[lane.dim]);
            let kept: Vec<usize> = laid.dims.iter().filter(|l| fits(l)).map(|l| l.dim).collect();
            if kept.len() == wanted.dims.len() {
                return Some(laid);
            }
            wanted.dims = kept;
        }
    }

    fn try_with(view: &SheetView<'_>, area: Rect, wanted: &Wanted) -> Option<Self> {
        let (gutters, dims) = gutters(view, wanted);
        let across = area.width.checked_sub(gutters.left + gutters.right + 1)?;
        let down = area.height.checked_sub(gutters.top + gutters.bottom + 1)?;
        let hint = u16::from(wanted.sep.is_none());
        let down = down.checked_sub(hint)?;
        if across < 2 || down < 2 {
            return None;
        }
        let [us, vs] = edges_of(view, wanted);
        let sep = wanted.sep.unwrap_or(0);
        let [per_column, per_row] = per_cell(view, [&us, &vs], [across, down], sep)?;
        let (columns, rows) = match wanted.sep {
            Some(sep) => (snap(us, per_column, across, sep)?, snap(vs, per_row, down, sep)?),
            None => (snap_merged(us, per_column, across), snap_merged(vs, per_row, down)),
        };
        Some(Self {
            columns,
            rows,
            origin: (area.x + gutters.left, area.y + gutters.top),
            across: view.across,
            upright: view.upright,
            window: view.window,
            dims,
            gaps: wanted.gaps.clone(),
            shown: Shown::Whole,
        })
    }

    /// The column of an edge in u.
    pub(super) fn column(&self, u: Length) -> Option<u16> {
        Some(self.origin.0 + self.columns.cell(turn_u(self.across, u))?)
    }

    /// The row of an edge in v.
    pub(super) fn row(&self, v: Length) -> Option<u16> {
        Some(self.origin.1 + self.rows.cell(turn_v(self.upright, v))?)
    }

    /// The two columns or rows of a range, the smaller first.
    pub(super) fn span(&self, along: Along, from: Length, to: Length) -> Option<(u16, u16)> {
        let (a, b) = match along {
            Along::U => (self.column(from)?, self.column(to)?),
            Along::V => (self.row(from)?, self.row(to)?),
        };
        Some((a.min(b), a.max(b)))
    }

    /// The cells that the whole drawing covers.
    pub(super) fn extent(&self) -> Edges {
        Edges {
            left: self.origin.0,
            right: self.origin.0 + self.columns.last(),
            top: self.origin.1,
            bottom: self.origin.1 + self.rows.last(),
        }
    }

    /// The cells of a box, and which of its edges the window shows; `None` if it lies outside the window.
    pub(super) fn edges(&self, part: &ViewBox) -> Option<(Edges, Drawn)> {
        let (u, v) = (
            clip(self.window.map(|w| w.u), part.u0, part.u1)?,
            clip(self.window.map(|w| w.v), part.v0, part.v1)?,
        );
        let (left, right) = self.span(Along::U, u.0, u.1)?;
        let (top, bottom) = self.span(Along::V, v.0, v.1)?;
        let mut across = [u.0 == part.u0, u.1 == part.u1];
        let mut down = [v.0 == part.v0, v.1 == part.v1];
        if self.across == Across::Left {
            across.reverse();
        }
        if self.upright == Upright::Up {
            down.reverse();
        }
        Some((
            Edges {
                left,
                right,
                top,
                bottom,
            },
            Drawn { across, down },
        ))
    }

    /// The cell that stands for a place nearest to it, within the drawing.
    pub(super) fn cell_of(&self, u: Length, v: Length) -> (u16, u16) {
        let nearest = |snap: &Snap, to: Length| {
            (0..=snap.last())
                .min_by_key(|&cell| (snap.length_at(i32::from(cell)) - to).abs())
                .unwrap_or(0)
        };
        let (u, v) = (turn_u(self.across, u), turn_v(self.upright, v));
        (
            self.origin.0 + nearest(&self.columns, u),
            self.origin.1 + nearest(&self.rows, v),
        )
    }

    pub(super) fn world_at(&self, x: u16, y: u16) -> (Length, Length) {
        let from = |cell: u16, origin: u16| i32::from(cell) - i32::from(origin);
        let u = self.columns.length_at(from(x, self.origin.0));
        let v = self.rows.length_at(from(y, self.origin.1));
        (turn_u(self.across, u), turn_v(self.upright, v))
    }

    pub(super) fn is_to_scale(&self, cell_height: u16) -> bool {
        let [columns, rows] = [&self.columns, &self.rows].map(Snap::overall);
        // One cell more or less over the whole of a small drawing is no other scale.
        let wide = i128::from(columns.nm()) * i128::from(cell_height) / 100;
        let high = i128::from(rows.nm());
        let cells = i128::from(self.columns.last().min(self.rows.last()).max(1));
        let same = (wide - high).abs() * cells <= wide.max(high) * 2;
        same && self.columns.is_even() && self.rows.is_even()
    }

    /// Whether a dimension's text fits whole between its ends: with arrows across, at least alone downwards.
    fn has_room_for(&self, dim: &DimLine) -> bool {
        let Some((low, high)) = self.span(dim.along(), dim.from, dim.to) else {
            return false;
        };
        let inside = (high - low).saturating_sub(1);
        match dim.along() {
            Along::U => inside >= width(&dim.shown_text()) + 4,
            Along::V => inside >= 1,
        }
    }
}

impl SheetView<'_> {
    /// Whether a range lies in the part that is shown.
    fn shows(&self, along: Along, from: Length, to: Length) -> bool {
        let Some(window) = self.window else {
            return true;
        };
        let range = match along {
            Along::U => window.u,
            Along::V => window.v,
        };
        range[0] <= from && to <= range[1]
    }
}

impl DimLine {
    /// The direction that it measures.
    pub(super) const fn along(&self) -> Along {
        match self.side {
            Side::Above | Side::Below => Along::U,
            Side::Left | Side::Right => Along::V,
        }
    }

    /// Its number, marked if it breaks a rule.
    pub(super) fn shown_text(&self) -> String {
        marked(&self.text, self.flagged)
    }
}

impl GapMark {
    /// Its number, marked if it breaks a rule.
    pub(super) fn shown_text(&self) -> String {
        marked(&self.text, self.flagged)
    }
}

fn marked(text: &str, flagged: bool) -> String {
    format!("{}{text}", if flagged { "!" } else { "" })
}

fn indices<T>(items: &[T], keep: impl Fn(&T) -> bool) -> Vec<usize> {
    (0..items.len()).filter(|i| keep(&items[*i])).collect()
}

fn turn_u(across: Across, u: Length) -> Length {
    if across == Across::Left { -u } else { u }
}

fn turn_v(upright: Upright, v: Length) -> Length {
    if upright == Upright::Up { -v } else { v }
}

/// The part of `low..high` inside a range, or `None` if they do not meet.
fn clip(range: Option<[Length; 2]>, low: Length, high: Length) -> Option<(Length, Length)> {
    let Some([from, to]) = range else {
        return Some((low, high));
    };
    (low <= to && from <= high).then(|| (low.max(from), high.min(to)))
}

/// All edges that need a column, and all that need a row, as they run on the sheet.
fn edges_of(view: &SheetView<'_>, wanted: &Wanted) -> [Vec<Length>; 2] {
    let (mut us, mut vs) = (Vec::new(), Vec::new());
    for part in view.boxes {
        let u = clip(view.window.map(|w| w.u), part.u0, part.u1);
        let v = clip(view.window.map(|w| w.v), part.v0, part.v1);
        if let (Some(u), Some(v)) = (u, v) {
            us.extend([u.0, u.1]);
            vs.extend([v.0, v.1]);
        }
        if let Some([u, v]) = part.lacks {
            let clipped = |window, [from, to]: [Length; 2]| clip(window, from, to).map(|(from, to)| [from, to]);
            let (u, v) = (
                clipped(view.window.map(|w| w.u), u),
                clipped(view.window.map(|w| w.v), v),
            );
            if let (Some(u), Some(v)) = (u, v) {
                us.extend(u);
                vs.extend(v);
            }
        }
    }
    let dims = wanted
        .dims
        .iter()
        .map(|i| &view.dims[*i])
        .map(|d| (d.along(), d.from, d.to));
    let gaps = wanted
        .gaps
        .iter()
        .map(|i| &view.gaps[*i])
        .map(|g| (g.along, g.from, g.to));
    for (along, from, to) in dims.chain(gaps) {
        match along {
            Along::U => us.extend([from, to]),
            Along::V => vs.extend([from, to]),
        }
    }
    for u in &mut us {
        *u = turn_u(view.across, *u);
    }
    for v in &mut vs {
        *v = turn_v(view.upright, *v);
    }
    [us, vs]
}

/// How much smaller than its room a drawing may be for the sake of its shape, in hundredths.
const FOR_SHAPE: i64 = 120;

/// The lengths of a column and of a row with which the whole view just fits both ways, or `None` if it never does.
///
/// Shapes are kept, so that a turned module looks turned, unless that would leave much of the room empty: where
/// many edges crowd one way, the other way must not shrink with them until no name fits. A view so small that gaps
/// close up uses all the room it has each way.
fn per_cell(view: &SheetView<'_>, [us, vs]: [&[Length]; 2], room: [u16; 2], sep: u16) -> Option<[Length; 2]> {
    let by_width = scale_for(us.iter().copied(), room[0], sep)?;
    let by_height = scale_for(vs.iter().copied(), room[1], sep)?;
    if sep == 1 {
        return Some([by_width, by_height]);
    }
    let ratio = i64::from(view.cell_height.max(1));
    let shape = by_width
        .nm()
        .max(by_height.nm().saturating_mul(100).saturating_add(ratio - 1) / ratio);
    let within = |kept: i64, least: Length| kept.min(least.nm().saturating_mul(FOR_SHAPE) / 100).max(least.nm());
    Some([
        Length::from_nm(within(shape, by_width)),
        Length::from_nm(within(shape.saturating_mul(ratio) / 100, by_height)),
    ])
}

/// The cells that numbers need around the drawing, and the lane of each dimension line.
fn gutters(view: &SheetView<'_>, wanted: &Wanted) -> (Gutters, Vec<Lane>) {
    let gaps = |along| {
        wanted
            .gaps
            .iter()
            .map(|i| &view.gaps[*i])
            .filter(move |gap| gap.along == along)
    };
    let mut gutters = Gutters {
        top: if gaps(Along::U).next().is_some() { 2 } else { 0 },
        right: gaps(Along::V)
            .map(|gap| width(&gap.shown_text()) + 2)
            .max()
            .unwrap_or(0),
        ..Gutters::default()
    };
    let mut lanes = Vec::new();
    for side in [Side::Above, Side::Below, Side::Left, Side::Right] {
        let used = match side {
            Side::Above => &mut gutters.top,
            Side::Below => &mut gutters.bottom,
            Side::Left => &mut gutters.left,
            Side::Right => &mut gutters.right,
        };
        for shared in share_lanes(view.dims, &wanted.dims, side) {
            let widest = shared
                .iter()
                .map(|i| width(&view.dims[*i].shown_text()))
                .max()
                .unwrap_or(0);
            let size = match side {
                Side::Above | Side::Below => 1,
                Side::Left | Side::Right => widest.max(1) + 1,
            };
            lanes.extend(shared.into_iter().map(|dim| Lane {
                dim,
                offset: *used + 1,
                size,
            }));
            *used += size;
        }
    }
    (gutters, lanes)
}

/// Dimension lines of one side, those that do not overlap on one lane, short ones nearest to the drawing.
fn share_lanes(dims: &[DimLine], wanted: &[usize], side: Side) -> Vec<Vec<usize>> {
    let mut order: Vec<usize> = wanted.iter().copied().filter(|i| dims[*i].side == side).collect();
    order.sort_by_key(|i| (dims[*i].to - dims[*i].from, *i));
    let mut lanes: Vec<Vec<usize>> = Vec::new();
    for i in order {
        let overlaps = |j: &usize| dims[i].from < dims[*j].to && dims[*j].from < dims[i].to;
        // A long line stays outside of every shorter one that it spans.
        let first = lanes
            .iter()
            .rposition(|lane| lane.iter().any(overlaps))
            .map_or(0, |l| l + 1);
        match lanes.get_mut(first) {
            Some(lane) => lane.push(i),
            None => lanes.push(vec![i]),
        }
    }
    lanes
}
