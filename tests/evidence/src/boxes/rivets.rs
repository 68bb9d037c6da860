//! Blind rivets: lengths by grip, how near they may be, what flush heads ask for.

use enclosure::RivetHeads;
use enclosure::rivet::{least_edge, least_pitch, least_sunk_sheet, length};
use serde_json::{Value, json};
use tape::Units;

use crate::inputs::{Clear, Inputs};

/// The length for a grip, or what a hole asks for, by what is given.
pub(super) fn worked(inputs: Inputs<'_>) -> Clear<Value> {
    let (key, units) = if inputs.has("hole_in") {
        ("hole_in", Units::Inch)
    } else {
        ("hole_mm", Units::Millimetre)
    };
    let hole = super::length(inputs, key)?;
    let grip = |key| super::length(inputs, key);
    Ok(if inputs.has("grip_mm") {
        json!({ "length_mm": length(hole, grip("grip_mm")?, units).as_mm() })
    } else if inputs.has("grip_in") {
        json!({ "length_in": length(hole, grip("grip_in")?, units).as_inches() })
    } else if inputs.has("at_least_of_hole") {
        let [edge, pitch] = super::floats(inputs, "at_least_of_hole")?;
        // Lengths are compared, to the nanometre: a quotient may come out a hair below.
        let of_hole = |times: f64| tape::Length::from_mm(hole.as_mm() * times);
        json!({ "is_kept": least_edge(hole) >= of_hole(edge) && least_pitch(hole) >= of_hole(pitch) })
    } else if inputs.has("head_mm") {
        let [head, _] = RivetHeads::Outside.stand(hole);
        json!({ "is_as_high": head >= super::length(inputs, "head_mm")? })
    } else {
        json!({ "least_sheet_in": least_sunk_sheet(hole).as_inches() })
    })
}
