//! A bed that turns about its hinge, against what stays where it is.
//!
//! **Frame.** The hinge is the origin; u points forward, z up, in millimetres. A turn is in degrees and lifts what is
//! forward of the hinge.
//!
//! [`closed_forms`] are the figures of the sketch.

pub mod closed_forms;
