//! What panels on the truck add: sun hours, losses, miles a week, the step up to pack volts, and room for the panels.
//!
//! A panel on a truck lies flat, so its peak sun hours are the kilowatt-hours that fall on a level square metre in a day.

pub mod losses;
pub mod place;
pub mod room;
pub mod sky;
pub mod step_up;
pub mod trickle;
