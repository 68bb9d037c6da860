//! Battery boxes in sheet metal: how they are put together, their exact parts, and the cut list.
//!
//! Knows nothing of modules or volts: it is told inside sizes and builds round them. Start with [`BoxSpec`] and
//! [`build()`], and [`added`] for brackets and what is inside; [`cutlist`] turns built boxes into what goes to the saw, [`stock`] says what is on sale.

pub mod added;
pub mod bend;
pub mod bend_limits;
pub mod build;
mod check;
pub mod cutlist;
pub mod frame_holes;
pub mod gauge;
pub mod liner;
mod listed;
pub mod material;
pub mod nest;
mod part;
pub mod rivet;
pub mod seal;
pub mod section;
mod spec;
mod step;
pub mod stock;
pub mod strength;
pub mod tolerance;
mod wall;
pub mod weld;

pub use bend::{Bend, BendRule, Temper};
pub use build::{Built, Lies, RimBand, RivetLine, Strip, Unspaced, build, build_with, empty_middle_mm, rivet_lines};
pub use part::{BendLine, EndCut, Fold, Form, Hole, HolePattern, Part, Purpose, Role, Vertex};
pub use rivet::RivetHeads;
pub use source::KnownBy;
pub use spec::{
    BOND_LINE, BoxSpec, CapHold, Construction, Corners, Fastener, Flange, Folding, Frame, Gasket, Held, Joint, Lid,
    Sheet, SideScrew, Skeleton, SpecError, Toggle,
};
pub use step::{Notch, Step};
pub use wall::{Wall, WallHole};
