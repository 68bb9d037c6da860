//! Checks of ways in and of the sweep of the bed.

use serde_json::Value;

use crate::question::Question;

const KINDS: [&str; 11] = [
    "bar_round_corner",
    "box_shaft_channel",
    "headroom",
    "oblique_level",
    "planned_path",
    "rib_sweep",
    "straight_lift",
    "tail_drop",
    "thick_slot",
    "tilt_between_rails",
    "underside_contact",
];

/// The case of a check of this topic; `None` when the kind is none of ours.
pub(super) fn check<'a>(kind: &str, entry: &'a Value, fallback: &str) -> Option<Question<'a>> {
    KINDS
        .contains(&kind)
        .then(|| Question::of("checks", entry, fallback).not_yet("nothing works out ways in and the sweep of the bed"))
}
