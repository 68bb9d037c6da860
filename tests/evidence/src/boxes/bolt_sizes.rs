//! Holes, spanner widths and nuts of the bolts on the list.

use enclosure::strength::bolt::Bolt;
use serde_json::{Value, json};

use crate::inputs::{Clear, Inputs, Unclear};

/// The sizes of a thread, in millimetres and in inches.
pub(super) fn worked(inputs: Inputs<'_>) -> Clear<Value> {
    let name = inputs.text("thread")?;
    let bolt = Bolt::named(name).ok_or_else(|| Unclear(format!("no bolt {name}")))?;
    let widest = inputs.has("ring_head_at_most_mm");
    let within = widest
        .then(|| inputs.mm("ring_head_at_most_mm").map(|most| bolt.ring_head <= most))
        .transpose()?;
    Ok(json!({
        "hole_mm": bolt.hole.as_mm(),
        "across_flats_mm": bolt.across_flats.as_mm(),
        "nut_height_mm": bolt.nut_height.as_mm(),
        "stress_area_mm2": bolt.stress_area_mm2(),
        "hole_in": bolt.hole.as_inches(),
        "across_flats_in": bolt.across_flats.as_inches(),
        "ring_head_within": within,
    }))
}
