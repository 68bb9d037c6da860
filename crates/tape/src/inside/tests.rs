//! Tests of the usable cuboid.

mod cavities;
mod refused;
mod safe;
mod shapes;
