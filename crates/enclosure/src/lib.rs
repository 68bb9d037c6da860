//! Battery boxes in sheet metal: how they are put together, their exact parts, and the cut list.
//!
//! Knows nothing of modules or volts: it is told inside sizes and builds round them. Start with [`BoxSpec`] and
//! [`build`].

pub mod build;
pub mod gauge;
pub mod material;
mod part;
mod spec;

pub use build::build;
pub use part::{EndCut, Hole, HolePattern, Part, Role};
pub use spec::{BoxSpec, Corners, Fastener, Flange, Frame, Gasket, Joint, Lid, Sheet, SpecError};
