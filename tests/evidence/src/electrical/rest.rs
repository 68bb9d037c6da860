//! Checks of volts at rest, of cold and warmth, and of figures typical of a family of cells.

use pack::chemistry::Chemistry;
use pack::thermal::{resistance_factor, warming};
use pack::{CellVolts, Volts};
use serde_json::{Value, json};

use super::{Answer, volts};
use crate::inputs::{Clear, Inputs, Unclear};

/// How a kind of check is answered; `None` when the kind is none of ours.
pub(super) fn answer(kind: &str) -> Option<Answer> {
    Some(match kind {
        "ocv_at" => ocv_at,
        "ocv_mean" => ocv_mean,
        "soc_at" => soc_at,
        "ocv_of_module" => ocv_of_module,
        "resistance_factor" => factor,
        "warming" => warmer,
        "specific_heat" => specific_heat,
        "charge_rate" => charge_rate,
        _ => return None,
    })
}

fn ocv_at(inputs: Inputs<'_>) -> Clear<Value> {
    let at = family(inputs)?.ocv().volts_at(inputs.float("soc")?);
    Ok(json!({ "volts": at.map(Volts::get) }))
}

fn ocv_mean(inputs: Inputs<'_>) -> Clear<Value> {
    Ok(json!({ "mean_v": family(inputs)?.ocv().mean_v() }))
}

fn soc_at(inputs: Inputs<'_>) -> Clear<Value> {
    Ok(json!({ "soc": family(inputs)?.ocv().soc_at(volts(inputs, "volts")?) }))
}

fn ocv_of_module(inputs: Inputs<'_>) -> Clear<Value> {
    // Nominal volts do not count.
    let own = CellVolts {
        empty: volts(inputs, "empty_v")?,
        nominal: Volts::default(),
        full: volts(inputs, "full_v")?,
    };
    let fitted = family(inputs)?.ocv().for_module(&own, inputs.count("cells_series")?);
    let fitted = fitted.map_err(|why| Unclear(why.to_string()))?;
    Ok(json!({ "volts": fitted.volts_at(inputs.float("soc")?).map(Volts::get) }))
}

fn factor(inputs: Inputs<'_>) -> Clear<Value> {
    let factor = resistance_factor(inputs.float("temp_c")?);
    Ok(json!({ "factor": factor.map(|factor| factor.value) }))
}

fn warmer(inputs: Inputs<'_>) -> Clear<Value> {
    let [heat_w, mass_kg, specific_heat, seconds] =
        ["heat_w", "mass_kg", "specific_heat", "seconds"].map(|key| inputs.float(key));
    Ok(json!({ "kelvin": warming(heat_w?, mass_kg?, specific_heat?, seconds?) }))
}

fn specific_heat(inputs: Inputs<'_>) -> Clear<Value> {
    Ok(json!({ "joules_per_kg_kelvin": family(inputs)?.specific_heat().value }))
}

fn charge_rate(inputs: Inputs<'_>) -> Clear<Value> {
    let (usual, most) = family(inputs)?.charge_rate().value.into_inner();
    Ok(json!({ "c_rate": [usual, most] }))
}

fn family(inputs: Inputs<'_>) -> Clear<Chemistry> {
    let name = inputs.text("family")?;
    Chemistry::from_name(name).ok_or_else(|| Unclear(format!("{name} is no family of cells")))
}
