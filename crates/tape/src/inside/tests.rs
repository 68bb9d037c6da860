//! Tests of the usable cuboid.

mod cavities;
mod refused;
mod room;
mod safe;
mod shapes;
