//! Tests of the usable cuboid.
