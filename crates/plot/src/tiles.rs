//! A drawing in full size on sheets of paper that overlap, to be glued together to a template.

mod frame;

use crate::item::{Item, Page};
use crate::paper::{Orientation, Paper};
use crate::place::Placement;
use crate::shape::{Point, Rect};

/// How a drawing is spread over sheets of paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tiling {
    /// The size of the sheets.
    pub paper: Paper,
    /// How they lie; the drawing is not turned.
    pub orientation: Orientation,
    /// What stays free on all four sides, in millimetres: 5 to 20. Printers do not reach the edge of the paper.
    pub margin_mm: f64,
    /// How far neighbours show the same, in millimetres: 0 to half of what is free of margins.
    pub overlap_mm: f64,
}

/// How many sheets there are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Grid {
    /// From left to right.
    pub columns: u32,
    /// From top to bottom.
    pub rows: u32,
}

/// One sheet of many.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tile {
    /// From 0, from the top down.
    pub row: u32,
    /// From 0, from the left.
    pub column: u32,
    /// What of the drawing is on it, in millimetres of the drawing.
    pub window: Rect,
}

/// Why a drawing cannot be spread over paper.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum TileError {
    /// The margin is too narrow for a printer, or too wide for what is written beside it.
    #[error("margin: {given} mm is outside 5–20 mm")]
    Margin {
        /// In millimetres.
        given: f64,
    },
    /// The overlap is below 0 or more than half of what is printed.
    #[error("overlap: {given} mm is outside 0–{most} mm")]
    Overlap {
        /// In millimetres.
        given: f64,
        /// In millimetres.
        most: f64,
    },
    /// The drawing needs more sheets than anyone glues together.
    #[error("a drawing of {:.0} × {:.0} mm needs more than {} sheets", .size_mm[0], .size_mm[1], Tiling::MOST)]
    TooMany {
        /// Its sides.
        size_mm: [f64; 2],
    },
}

/// How many sheets a drawing of `size_mm` (width and height) needs.
///
/// `n = 1` when `L ≤ u`, else `1 + ceil((L − u) / (u − overlap))`, with `u` what is left of the paper within its
/// margins. What is over by less than a nanometre is not over.
///
/// # Errors
///
/// When the margin or the overlap is out of range, or there would be more than [`Tiling::MOST`] sheets.
///
/// # Examples
///
/// ```
/// use plot::{Grid, Orientation, Paper, Tiling, tiles};
///
/// let tiling = Tiling {
///     paper: Paper::A4,
///     orientation: Orientation::Portrait,
///     margin_mm: 10.0,
///     overlap_mm: 10.0,
/// };
/// assert_eq!(tiles([620.0, 410.0], &tiling), Ok(Grid { columns: 4, rows: 2 }));
/// ```
pub fn tiles(size_mm: [f64; 2], tiling: &Tiling) -> Result<Grid, TileError> {
    const GRAIN: f64 = 1e-6;
    let usable = tiling.usable()?;
    let too_many = TileError::TooMany { size_mm };
    let count = |axis: usize| {
        let over = size_mm[axis] - usable[axis];
        if over <= GRAIN {
            return Ok(1);
        }
        let more = libm::ceil((over - GRAIN) / (usable[axis] - tiling.overlap_mm));
        (0..=Tiling::MOST)
            .find(|&n| f64::from(n) >= more)
            .map(|n| n + 1)
            .ok_or(too_many)
    };
    let grid = Grid {
        columns: count(0)?,
        rows: count(1)?,
    };
    if grid.pages() > Tiling::MOST {
        return Err(too_many);
    }
    Ok(grid)
}

impl Grid {
    /// How many sheets there are in all.
    pub const fn pages(self) -> u32 {
        self.columns.saturating_mul(self.rows)
    }
}

impl Tiling {
    /// More sheets than this are refused.
    pub const MOST: u32 = 400;

    /// The same with the paper lying the way that takes fewer sheets for a drawing of `size_mm`; upright when both take
    /// as many.
    ///
    /// # Errors
    ///
    /// As [`tiles()`], when neither way will do.
    pub fn with_fewest_pages(self, size_mm: [f64; 2]) -> Result<Self, TileError> {
        let [upright, lying] = Orientation::ALL.map(|orientation| Self { orientation, ..self });
        match [&upright, &lying].map(|tiling| tiles(size_mm, tiling).map(Grid::pages)) {
            [Ok(first), Ok(second)] => Ok(if second < first { lying } else { upright }),
            [Ok(_), Err(_)] => Ok(upright),
            [Err(_), Ok(_)] => Ok(lying),
            [Err(error), Err(_)] => Err(error),
        }
    }

    /// What is left of the paper within its margins, in millimetres.
    ///
    /// # Errors
    ///
    /// When the margin or the overlap is out of range.
    pub fn usable(&self) -> Result<[f64; 2], TileError> {
        if !(5.0..=20.0).contains(&self.margin_mm) {
            return Err(TileError::Margin { given: self.margin_mm });
        }
        let usable = self.paper_mm().map(|side| side - 2.0 * self.margin_mm);
        let most = usable[0].min(usable[1]) / 2.0;
        if !(0.0..=most).contains(&self.overlap_mm) {
            let given = self.overlap_mm;
            return Err(TileError::Overlap { given, most });
        }
        Ok(usable)
    }

    /// The sheets of a drawing, row by row from the upper left one.
    ///
    /// The first begins at the upper left corner of `drawing`; the last ones reach beyond its other sides.
    ///
    /// # Errors
    ///
    /// As [`tiles()`].
    pub fn windows(&self, drawing: Rect) -> Result<Vec<Tile>, TileError> {
        let [width, height] = self.usable()?;
        let grid = tiles([drawing.width, drawing.height], self)?;
        let top = drawing.y + drawing.height;
        let tile = |row: u32, column: u32| Tile {
            row,
            column,
            window: Rect::new(
                drawing.x + f64::from(column) * (width - self.overlap_mm),
                top - f64::from(row) * (height - self.overlap_mm) - height,
                width,
                height,
            ),
        };
        let rows = 0..grid.rows;
        Ok(rows
            .flat_map(|row| (0..grid.columns).map(move |column| tile(row, column)))
            .collect())
    }

    fn paper_mm(&self) -> [f64; 2] {
        self.paper.size_mm(self.orientation)
    }
}

/// A drawing to be used in full size.
#[derive(Clone, Copy, Debug)]
pub struct Template<'a> {
    /// What it is called on each sheet.
    pub name: &'a str,
    /// The space that is spread over the sheets, in millimetres.
    pub drawing: Rect,
    /// What is drawn, in the same millimetres.
    pub items: &'a [Item],
}

/// The sheets of a template, row by row from the upper left one.
///
/// Each shows its window of the drawing, cut to it. Where it has a neighbour there is a line to cut along (at its left
/// and upper side) or to lay the neighbour's cut edge on (at its right and lower side), with crosses that both sheets
/// have at the same place. In the margins: name, row and column, a line of 100 mm across and one of 4 in upwards, to be
/// measured, since a printer can be off in one direction alone.
///
/// # Errors
///
/// As [`tiles()`].
pub fn tile_pages(template: &Template<'_>, tiling: &Tiling) -> Result<Vec<Page>, TileError> {
    let drawing = template.drawing;
    let grid = tiles([drawing.width, drawing.height], tiling)?;
    let tiles = tiling.windows(drawing)?;
    Ok(tiles.iter().map(|tile| page(template, tiling, grid, tile)).collect())
}

/// In millimetres; half of the widest line that parts are drawn with.
const HALF_A_LINE: f64 = 0.5;

/// The spaces of what is no larger than a hand, moved onto a sheet.
fn small(items: &[Item], by: Point) -> Vec<Rect> {
    const HAND: f64 = 80.0;
    let spaces = items.iter().filter_map(Item::bounds);
    spaces
        .filter(|space| space.width.max(space.height) <= HAND)
        .map(|space| Rect::new(space.x + by[0], space.y + by[1], space.width, space.height))
        .collect()
}

fn page(template: &Template<'_>, tiling: &Tiling, grid: Grid, tile: &Tile) -> Page {
    let margin = tiling.margin_mm;
    let [x, y] = tile.window.low();
    let drawing = Item::Placed {
        placement: Placement::moved([margin - x, margin - y]),
        items: template.items.to_vec(),
    };
    let printed = Rect::new(margin, margin, tile.window.width, tile.window.height);
    let mut page = Page::new(tiling.paper_mm());
    page.items.push(Item::Clipped {
        // An edge of the part along the border keeps the whole width of its line.
        rect: printed.grown(HALF_A_LINE),
        items: vec![drawing],
    });
    let frame = frame::Frame {
        name: template.name,
        paper: tiling.paper_mm(),
        printed,
        overlap: tiling.overlap_mm,
        drawn: small(template.items, [margin - x, margin - y]),
        grid,
        row: tile.row,
        column: tile.column,
    };
    page.items.extend(frame.items());
    page
}
