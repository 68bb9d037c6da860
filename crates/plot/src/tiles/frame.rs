//! What is on a sheet of a template besides the drawing.

use super::Grid;
use crate::font::{Face, text_width};
use crate::ink::{Ink, Layer, Line, Pen};
use crate::item::{Anchor, Base, Item, Text};
use crate::shape::{Point, Rect};

/// Everything that helps to put the sheets together.
const LAYER: Layer = Layer::new("SHEETS");
const THIN: Ink = Ink::new(Pen::new(0.18, Line::Continuous), LAYER);
const DASHED: Ink = Ink::new(Pen::new(0.18, Line::Dashed), LAYER);
/// Half of a cross, in millimetres.
const ARM: f64 = 3.0;
const MEASURE: &str = "print at 100 %; measure this line";
const CUT: &str = "cut here";

/// A sheet; rows and columns from 0.
pub(super) struct Frame<'a> {
    pub(super) name: &'a str,
    pub(super) paper: [f64; 2],
    /// What is within the margins, on the sheet.
    pub(super) printed: Rect,
    pub(super) overlap: f64,
    /// The spaces of what is small on the sheet, such as holes and names: what is large is only crossed by what is written.
    pub(super) drawn: Vec<Rect>,
    pub(super) grid: Grid,
    pub(super) row: u32,
    pub(super) column: u32,
}

impl Frame<'_> {
    pub(super) fn items(&self) -> Vec<Item> {
        let mut items = vec![self.crosses()];
        items.extend(self.joins());
        items.extend(self.check_lines());
        items.extend(self.names().map(Item::Text));
        items
    }

    fn margin(&self) -> f64 {
        self.printed.x
    }

    /// The height of what is written in the margins.
    fn height(&self) -> f64 {
        (self.margin() * 0.25).min(2.0)
    }

    /// How far from the edge of the paper the margin is written in: as near to the drawing as crosses let it.
    fn inset(&self) -> f64 {
        self.margin() * 0.85 - self.height()
    }

    fn has_left(&self) -> bool {
        self.column > 0
    }

    fn has_right(&self) -> bool {
        self.column + 1 < self.grid.columns
    }

    fn has_above(&self) -> bool {
        self.row > 0
    }

    fn has_below(&self) -> bool {
        self.row + 1 < self.grid.rows
    }

    /// Crosses at the corners of what this sheet shares with its neighbours.
    fn crosses(&self) -> Item {
        let [[left, low], [right, high]] = [self.printed.low(), self.printed.high()];
        let across = shared([left, right], self.overlap, [self.has_left(), self.has_right()]);
        let upward = shared([low, high], self.overlap, [self.has_below(), self.has_above()]);
        let every = |ends: [f64; 2], shared: &[f64]| [&ends[..], shared].concat();
        let columns = pairs(&across, &every([low, high], &upward));
        let rows = pairs(&every([left, right], &across), &upward);
        let mut places: Vec<Point> = Vec::new();
        for place in columns.into_iter().chain(rows) {
            if !places.contains(&place) {
                places.push(place);
            }
        }
        let arms = |[x, y]: Point| {
            [
                Item::line([x - ARM, y], [x + ARM, y], THIN),
                Item::line([x, y - ARM], [x, y + ARM], THIN),
            ]
        };
        Item::Clipped {
            // They stop short of what is written in the margins.
            rect: self.printed.grown(self.margin() * 0.1),
            items: places.into_iter().flat_map(arms).collect(),
        }
    }

    /// Where this sheet is cut, and where its neighbours are laid on it.
    fn joins(&self) -> Vec<Item> {
        let [[left, low], [right, high]] = [self.printed.low(), self.printed.high()];
        let mut items = Vec::new();
        if self.has_left() {
            items.push(Item::line([left, low], [left, high], THIN));
        }
        if self.has_above() {
            items.push(Item::line([left, high], [right, high], THIN));
            let [width, height] = self.paper;
            let at = [width / 2.0, height - self.inset() - self.height()];
            items.push(Item::Text(self.level(CUT, at).anchored(Anchor::Middle, Base::Baseline)));
        }
        if self.has_right() {
            let x = right - self.overlap;
            items.push(Item::line([x, low], [x, high], DASHED));
            let words = glue(self.row, self.column + 1);
            let x = right - self.overlap / 2.0;
            let at = |share: f64| self.upwards(&words, [x, low + (high - low) * share]);
            items.extend(self.in_strip(at));
        }
        if self.has_below() {
            let y = low + self.overlap;
            items.push(Item::line([left, y], [right, y], DASHED));
            let words = glue(self.row + 1, self.column);
            let y = low + self.overlap / 2.0;
            let at = |share: f64| self.level(&words, [left + (right - left) * share, y]);
            items.extend(self.in_strip(at));
        }
        items
    }

    /// A text that the neighbour will lie on, at the share of the strip's length that is nearest its middle and clear of holes
    /// and names; none where the strip is too narrow for it.
    fn in_strip(&self, at: impl Fn(f64) -> Text) -> Option<Item> {
        /// The middle first: where nothing is clear it stands there.
        const SHARES: [f64; 7] = [0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74];
        let place = |share: f64| Item::Text(at(share).anchored(Anchor::Middle, Base::Middle));
        let is_clear = |item: &Item| {
            let space = item.bounds().unwrap_or_default();
            self.printed.with(space) == self.printed && self.drawn.iter().all(|small| small.common(space).is_none())
        };
        let clear = || SHARES.into_iter().map(place).find(is_clear);
        let fits = self.overlap >= self.height() * 1.6;
        fits.then(|| clear().unwrap_or_else(|| place(SHARES[0])))
    }

    /// 100 mm across in the lower margin; 4 in upwards in the left one, and after it that it is cut off.
    fn check_lines(&self) -> Vec<Item> {
        const INCHES: f64 = 4.0 * 25.4;
        const GAP: f64 = 3.0;
        let (inset, height, from) = (self.inset(), self.height(), self.margin());
        let far = inset + height;
        let middle = f64::midpoint(inset, far);
        let across = |x: f64| Item::line([x, inset], [x, far], THIN);
        let upward = |y: f64| Item::line([inset, y], [far, y], THIN);
        let measured = self.upwards(&format!("4 in: {MEASURE}"), [far, from + INCHES + GAP]);
        let after = measured.at[1] + measured.width() + 2.0 * GAP;
        let mut items = vec![
            Item::line([from, middle], [from + 100.0, middle], THIN),
            across(from),
            across(from + 100.0),
            Item::Text(self.level(&format!("100 mm: {MEASURE}"), [from + 100.0 + GAP, inset])),
            Item::line([middle, from], [middle, from + INCHES], THIN),
            upward(from),
            upward(from + INCHES),
            Item::Text(measured),
        ];
        if self.has_left() {
            items.push(Item::Text(self.upwards(CUT, [far, after])));
        }
        items
    }

    /// Row and column at the left of the upper margin, the name at its right.
    fn names(&self) -> [Text; 2] {
        let [width, height] = self.paper;
        let (row, column) = (self.row + 1, self.column + 1);
        let Grid { columns, rows } = self.grid;
        let place = format!("row {row} of {rows}, column {column} of {columns}");
        let foot = height - self.inset() - self.height();
        // The middle belongs to the words at the line to cut along.
        let taken = text_width(CUT, self.height()) / 2.0 + 3.0;
        let room = self.printed.width / 2.0 - taken;
        let wanted = Face::Bold.width(self.name, self.height());
        let name = Text {
            height_mm: self.height() * (room / wanted.max(room)),
            ..self.level(self.name, [width - self.margin(), foot])
        };
        [
            self.level(&place, [self.margin(), foot]),
            name.anchored(Anchor::Right, Base::Baseline).bold(),
        ]
    }

    fn level(&self, words: &str, at: Point) -> Text {
        Text::new(words, at, self.height(), LAYER)
    }

    fn upwards(&self, words: &str, at: Point) -> Text {
        self.level(words, at).turned(90.0)
    }
}

/// What stands where a neighbour comes to lie; its row and column from 0.
fn glue(row: u32, column: u32) -> String {
    let (row, column) = (row + 1, column + 1);
    format!("lay row {row}, column {column} along the dashed line and glue it on here")
}

/// The borders of what is shared with the neighbours along one axis.
fn shared([first, last]: [f64; 2], overlap: f64, [before, after]: [bool; 2]) -> Vec<f64> {
    let mut borders = Vec::new();
    if before {
        borders.extend([first, first + overlap]);
    }
    if after {
        borders.extend([last - overlap, last]);
    }
    borders
}

fn pairs(across: &[f64], upward: &[f64]) -> Vec<Point> {
    let column = |&x: &f64| upward.iter().map(move |&y| [x, y]);
    across.iter().flat_map(column).collect()
}
