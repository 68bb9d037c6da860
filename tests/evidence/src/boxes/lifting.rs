//! Slings, lifting eyes, and how many hands.

use enclosure::material::Material;
use enclosure::strength::lift::{Eye, Sling, leg_n};
use serde_json::{Value, json};
use truck::lift::{Load, hands, lift};

use super::{floats, jobs};
use crate::inputs::{Clear, Inputs, Unclear};

/// A leg of a sling, an eye, hands at a load, or the lift of a job, by what is given.
pub(super) fn worked(inputs: Inputs<'_>) -> Clear<Value> {
    if inputs.has("job") {
        of_job(inputs)
    } else if inputs.has("legs") {
        sling(inputs)
    } else if inputs.has("pin_mm") {
        eye(inputs)
    } else {
        by_hand(inputs)
    }
}

fn sling(inputs: Inputs<'_>) -> Clear<Value> {
    let legs = usize::try_from(inputs.count("legs")?).unwrap_or(usize::MAX);
    let sling = Sling::of_eyes(legs).ok_or_else(|| Unclear("legs should be one or more".to_owned()))?;
    Ok(
        match leg_n(inputs.float("mass_kg")?, sling, inputs.float("angle_deg")?) {
            Ok(leg) => json!({ "leg_N": leg, "refused": false }),
            Err(_) => json!({ "refused": true }),
        },
    )
}

fn eye(inputs: Inputs<'_>) -> Clear<Value> {
    let [width, thickness, hole, edge, pin] =
        ["width_mm", "t_mm", "hole_mm", "edge_mm", "pin_mm"].map(|key| inputs.mm(key));
    let eye = Eye {
        width: width?,
        thickness: thickness?,
        hole: hole?,
        edge: edge?,
        pin: pin?,
    };
    let [out, across, bearing] = eye
        .utilisations("", inputs.float("force_N")?, Material::MildSteel)
        .map(|sum| sum.load);
    Ok(json!({ "tearing_out_MPa": out, "tearing_across_MPa": across, "bearing_MPa": bearing }))
}

fn by_hand(inputs: Inputs<'_>) -> Clear<Value> {
    let mass_kg = inputs.float("mass_kg")?;
    let refused = |refusal: truck::TruckError| Unclear(refusal.to_string());
    if !inputs.has("grips_m") {
        return Ok(json!({ "hands": hands(mass_kg).map_err(refused)?.words() }));
    }
    let load = Load {
        mass_kg,
        centre_m: inputs.float("centre_m")?,
        grips_m: floats(inputs, "grips_m")?,
    };
    let found = lift(&load).map_err(refused)?;
    Ok(json!({ "hands": found.hands.words(), "at_grips_kg": found.at_grips_kg, "above_niosh": found.above_niosh }))
}

fn of_job(inputs: Inputs<'_>) -> Clear<Value> {
    let (_, evaluation) = jobs::evaluated(inputs)?;
    let strength = jobs::strength(&evaluation)?;
    let mut got = jobs::sums(strength);
    got["mass_kg"] = json!(strength.mass_kg);
    if let Some(lift) = &strength.lift {
        got["lift"] = json!({ "legs": lift.legs, "carrying": lift.carrying, "leg_N": lift.leg_n });
    }
    Ok(got)
}
