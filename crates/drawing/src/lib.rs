//! An evaluation seen from a side: one model of what a view shows, built for no device, in exact lengths.
//!
//! The terminal, SVG and any later back end draw the same [`View`], so a dimension cannot differ between screen and
//! paper. A back end may move lines apart to keep them readable, never the numbers.
//!
//! **Frame of a view.** `u` grows to the right of the sheet and `v` **down** the sheet, in every view, so that a back
//! end draws without asking which view it is. Both are coordinates of the cavity's frame (`u` as it is, `v` with its
//! sign changed): a difference of two is a true length.
//!
//! Start with [`cavity_view`] and [`box_view`]; [`assembly()`] is a box put together, lid on, for the shop. [`hollow`] is no view of an evaluation: it shows which corners and lines
//! are meant when a cavity is taped.

mod assembly;
mod battery_box;
mod cavity;
mod dims;
mod edges;
mod gaps;
pub mod hollow;
mod parts;
mod side;
mod single_line;
mod solids;
mod survey;
pub mod svg;
mod truck;
mod view;

pub use assembly::{AddedPiece, Assembly, Opening, Seen, assembly};
pub use battery_box::{WITH_HEADS, WITHOUT_HEADS, box_view};
pub use cavity::cavity_view;
pub use edges::{EdgeLine, edges};
pub use parts::Piece;
pub use side::{Edge, Side};
pub use single_line::{DOT, Diagram, Mark, single_line, single_line_svg};
pub use survey::{EdgeView, SurveyView, survey_view};
pub use truck::truck_view;
pub use view::{Dim, Direction, Gap, Outline, Rect, Role, View};
