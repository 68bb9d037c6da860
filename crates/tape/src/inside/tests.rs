//! Tests of the usable cuboid.

mod caps;
mod cavities;
mod places;
mod refused;
mod room;
mod safe;
mod shapes;
