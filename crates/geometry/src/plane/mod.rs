//! Turned rectangles in a plane, in millimetres and radians: for moving and turning things, where whole numbers end.

mod distance;
mod octagon;
mod shape;

pub(crate) use distance::distance;
pub(crate) use octagon::Octagon;
pub(crate) use shape::{Rect, Span, Turned};
