//! Ink on paper: pages in millimetres, and the files they are written to.
//!
//! A [`Page`] holds [`Item`]s: lines, arcs, filled shapes and words, each with its pen and layer. [`pdf`] and [`svg`]
//! write pages at true scale. A [`Flat`] is the outline of one part as a laser wants it: [`dxf()`] writes it, and
//! [`Flat::items`] draws the same outline on paper. [`tile_pages`] spreads a drawing over sheets of paper that are
//! glued together to a template in full size.
//!
//! This is a device layer: it takes millimetres as `f64`, knows nothing of jobs or boxes, and computes no size that
//! anything is cut by; whoever draws turns exact lengths into millimetres once. The frame is that of paper: origin at
//! the lower left corner, x to the right, y up, angles anticlockwise. No file is opened, no clock is read, and the same
//! pages always give the same bytes.

mod dxf;
mod flat;
mod font;
mod ink;
mod item;
mod paper;
mod pdf;
mod place;
mod shape;
mod svg;
mod tiles;

pub use dxf::dxf;
pub use flat::{Contour, Fault, Flat, Hole, Note, On, Straight};
pub use font::{Face, text_width};
pub use ink::{Ink, Layer, Line, Pen};
pub use item::{Anchor, Base, Item, Page, Text, bounds};
pub use paper::{Orientation, Paper};
pub use pdf::{Meta, pdf};
pub use place::{Placement, Quarter};
pub use shape::{Arc, Path, Piece, Point, Rect, Vertex, circle};
pub use svg::svg;
pub use tiles::{Grid, Template, Tile, TileError, Tiling, tile_pages, tiles};
