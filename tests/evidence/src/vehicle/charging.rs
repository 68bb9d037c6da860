//! Charging from the wall.

use serde_json::{Value, json};
use truck::charge::{Charge, Fill, Supply, Taper, charge, continuous_a};

use super::{Answer, Worked, floats};
use crate::inputs::Inputs;

pub(super) fn answer(kind: &str) -> Option<Answer> {
    Some(match kind {
        "charge_time" => time,
        "charge_taper" => taper,
        "continuous_load" => continuous,
        _ => return None,
    })
}

fn charged(inputs: Inputs<'_>) -> Worked<Charge> {
    let supply = Supply {
        volts: inputs.float("volts")?,
        amps: inputs.float("amps")?,
        efficiency: inputs.float("charger_efficiency")?,
    };
    let fill = Fill {
        pack_kwh: inputs.float("pack_kWh")?,
        from: inputs.float("soc_from")?,
        to: inputs.float("soc_to")?,
    };
    let taper = || -> Worked<Taper> {
        Ok(Taper {
            knee: inputs.float("taper_from_soc")?,
            share_at_full: inputs.float("power_fraction_at_full")?,
        })
    };
    let taper = inputs.has("taper_from_soc").then(taper).transpose()?;
    Ok(charge(supply, fill, taper)?)
}

fn time(inputs: Inputs<'_>) -> Worked<Value> {
    let found = charged(inputs)?;
    Ok(json!({
        "ac_kW": found.ac_kw,
        "dc_kW": found.dc_kw,
        "dc_kWh": found.dc_kwh,
        "ac_kWh": found.ac_kwh,
        "hours": found.hours(),
    }))
}

fn taper(inputs: Inputs<'_>) -> Worked<Value> {
    let found = charged(inputs)?;
    Ok(json!({
        "dc_kW": found.dc_kw,
        "hours_constant": found.hours_full_power,
        "hours_taper": found.hours_taper,
        "hours": found.hours(),
        "hours_if_no_taper": found.hours_without_taper(),
    }))
}

fn continuous(inputs: Inputs<'_>) -> Worked<Value> {
    let amps: Result<Vec<f64>, _> = floats(inputs, "breaker_A")?.into_iter().map(continuous_a).collect();
    Ok(json!({ "continuous_A": amps? }))
}
