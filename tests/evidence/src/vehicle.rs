//! Checks of loads, ways in, range and charging.

mod way_in;

use serde_json::Value;

use crate::question::Question;

/// Every kind of check that is for a crate of its own.
const KINDS: [&str; 41] = [
    "axle_limit",
    "axle_loads",
    "bar_round_corner",
    "boost_duty",
    "box_inertia",
    "box_shaft_channel",
    "cg_height",
    "cg_of_set",
    "charge_taper",
    "charge_time",
    "clear_day",
    "coastdown_units",
    "continuous_load",
    "cycle_energy",
    "cycle_totals",
    "extraterrestrial",
    "gear_table",
    "grade_power",
    "headroom",
    "label_range",
    "lever_balance",
    "load_index_table",
    "oblique_level",
    "planned_path",
    "point_load",
    "ramp_angles",
    "rating_check",
    "rib_sweep",
    "shift_weight",
    "shop_constant",
    "simple_breakover",
    "solar_losses",
    "solar_trickle",
    "steady_speed",
    "straight_lift",
    "tail_drop",
    "thick_slot",
    "tilt_between_rails",
    "tyre_diameter",
    "underside_contact",
    "wheel_loads",
];

/// The case of a check of this topic; `None` when the kind is none of ours.
pub(crate) fn check<'a>(kind: &str, entry: &'a Value, fallback: &str) -> Option<Question<'a>> {
    if let Some(question) = way_in::check(kind, entry, fallback) {
        return Some(question);
    }
    KINDS
        .contains(&kind)
        .then(|| Question::of("checks", entry, fallback).not_yet("no crate for the truck: loads, range, charging"))
}
