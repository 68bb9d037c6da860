//! Which gland for which cable, its hole, and what is left of the wall between two.

use enclosure::seal::gland::{GLANDS, for_cable, serves};
use enclosure::{Purpose, Wall, WallHole};
use job::Len;
use job::glands::{Proposed, propose};
use serde_json::{Value, json};
use tape::Length;

use super::{jobs, length, lengths, open_box};
use crate::inputs::{Clear, Inputs, Unclear};

/// Glands of a job, of a thread, or of a cable, by what is given.
pub(super) fn worked(inputs: Inputs<'_>) -> Clear<Value> {
    if inputs.has("job") {
        proposed(inputs)
    } else if inputs.has("thread") {
        of_thread(inputs)
    } else if inputs.has("middles_apart_mm") {
        side_by_side(inputs)
    } else if inputs.has("hole_mm") {
        let (hole, cable) = (inputs.mm("hole_mm")?, inputs.mm("cable_mm")?);
        Ok(json!({ "serves": serves(hole, cable) }))
    } else {
        let gland = for_cable(length(inputs, "cable_mm")?);
        Ok(json!({ "gland": gland.map(|gland| gland.name) }))
    }
}

fn of_thread(inputs: Inputs<'_>) -> Clear<Value> {
    let name = inputs.text("thread")?;
    let gland = GLANDS.iter().find(|gland| gland.name == name);
    let gland = gland.ok_or_else(|| Unclear(format!("no gland {name}")))?;
    // Across the corners of a hexagon, by its width across the flats.
    let corners = inputs.float("across_flats_mm")? * 2.0 / 3.0_f64.sqrt();
    Ok(json!({
        "hole_mm": gland.hole.as_mm(),
        "thread_goes_through": gland.hole.as_mm() > inputs.float("thread_mm")?,
        "body_covers_hexagon": gland.across.as_mm() >= corners,
    }))
}

/// Whether two bodies go into the long wall of a box side by side, and what is left of the wall between their holes.
fn side_by_side(inputs: Inputs<'_>) -> Clear<Value> {
    let spec = open_box(lengths(inputs, "inside_mm")?, inputs.mm("t_mm")?);
    let cable = inputs.mm("cable_mm")?;
    let gland = for_cable(cable).ok_or_else(|| Unclear("no gland seals on that cable".to_owned()))?;
    let apart = inputs.mm("middles_apart_mm")?;
    let [along, up] = lengths::<2>(inputs, "first_at_mm")?;
    let body = |along: Length| WallHole {
        wall: Wall::Left,
        along,
        up,
        diameter: gland.across,
        purpose: Purpose::CableGland,
    };
    let bodies = [body(along), body(along + apart)];
    Ok(json!({
        "both_go_in": spec.check_holes(&bodies).is_ok(),
        "wall_left_mm": (apart - gland.hole).as_mm(),
    }))
}

/// The glands that are proposed for the first box of a job, and the least that they leave of a wall between them.
fn proposed(inputs: Inputs<'_>) -> Clear<Value> {
    let (job, evaluation) = jobs::evaluated(inputs)?;
    let found = propose(&job, &evaluation);
    let glands: &[Proposed] = found.first().map_or(&[], |proposal| &proposal.glands);
    let sizes: Vec<&str> = glands.iter().map(|gland| gland.size).collect();
    let holes: Vec<f64> = glands.iter().map(|gland| hole(gland).as_mm()).collect();
    let least = inputs.float("least_wall_left_mm")?;
    let kept = (1..glands.len()).all(|i| glands[..i].iter().all(|other| wall_left(other, &glands[i]) >= least));
    Ok(json!({ "glands": sizes, "holes_mm": holes, "wall_left_is_kept": kept }))
}

fn hole(gland: &Proposed) -> Length {
    gland.fitting.hole.as_ref().map_or(Length::ZERO, Len::value)
}

/// Between the rims of two holes in one wall, in millimetres.
fn wall_left(one: &Proposed, other: &Proposed) -> f64 {
    let radii = (hole(one) + hole(other)).as_mm() / 2.0;
    let (one, other) = (&one.fitting, &other.fitting);
    if one.wall != other.wall {
        return f64::INFINITY;
    }
    let [along, up] = [
        one.along.value() - other.along.value(),
        one.up.value() - other.up.value(),
    ]
    .map(Length::as_mm);
    along.hypot(up) - radii
}
