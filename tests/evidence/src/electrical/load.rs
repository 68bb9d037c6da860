//! Volts, power, heat and charging.

use pack::load;
use pack::stack;
use pack::{Ohms, Volts, WattHours};
use serde_json::{Value, json};

use super::{Answer, milliohms, volts};
use crate::inputs::{Clear, Inputs, Unclear};

pub(super) fn answer(kind: &str) -> Option<Answer> {
    Some(match kind {
        "sag" => sag,
        "constant_power_current" => constant_power,
        "max_power" => most_power,
        "cold_sag" => cold_sag,
        "regen_near_full" => regen,
        "charge_time_power" => charge_power,
        "charge_time_current" => charge_current,
        "stack_growth" => growth,
        _ => return None,
    })
}

fn none(what: &str) -> Unclear {
    Unclear(format!("{what} cannot be had"))
}

fn sag(inputs: Inputs<'_>) -> Clear<Value> {
    let found = load::loaded(
        volts(inputs, "voc")?,
        milliohms(inputs, "r_mohm")?,
        inputs.float("i_a")?,
    );
    Ok(json!({
        "v_sag": found.sag.get(),
        "v_loaded": found.volts.get(),
        "p_terminal_kW": found.power_w / 1000.0,
        "heat_W": found.heat_w,
        "efficiency": found.efficiency,
    }))
}

fn constant_power(inputs: Inputs<'_>) -> Clear<Value> {
    let power = inputs.float("p_kW")? * 1000.0;
    let found =
        load::at_power(volts(inputs, "voc")?, milliohms(inputs, "r_mohm")?, power).ok_or_else(|| none("p_kW"))?;
    Ok(json!({ "i_a": found.amps, "v_loaded": found.volts.get(), "heat_W": found.heat_w }))
}

fn most_power(inputs: Inputs<'_>) -> Clear<Value> {
    let resistance = milliohms(inputs, "r_mohm")?;
    let least = volts(inputs, "v_min_inverter")?;
    let found = load::most_power(volts(inputs, "voc")?, resistance, least, inputs.float("i_max")?)
        .ok_or_else(|| none("power"))?;
    let governing = match found.limit {
        load::PowerLimit::DriveVolts => "inverter_min_voltage",
        load::PowerLimit::HalfVolts => "half_voc",
        load::PowerLimit::Amps => "current_limit",
    };
    Ok(json!({
        "governing": governing,
        "i_a": found.at.amps,
        "v_loaded": found.at.volts.get(),
        "p_max_kW": found.at.power_w / 1000.0,
        "p_unconstrained_kW": found.unconstrained_w / 1000.0,
    }))
}

fn cold_sag(inputs: Inputs<'_>) -> Clear<Value> {
    let cold = inputs.float("r_mohm_25C")? * inputs.float("cold_factor")?;
    let resistance = Ohms::nearest_milliohms(cold);
    let (voc, least) = (volts(inputs, "voc")?, volts(inputs, "v_min_controller")?);
    let found = load::loaded(voc, resistance, inputs.float("i_a")?);
    let at_limit = load::most_power(voc, resistance, least, f64::INFINITY).ok_or_else(|| none("power"))?;
    let limit = match at_limit.limit {
        load::PowerLimit::DriveVolts => at_limit.at.amps,
        _ => (voc - least).get() / (cold / 1000.0),
    };
    Ok(json!({
        "r_cold_mohm": cold,
        "v_loaded": found.volts.get(),
        "trips": found.volts < least,
        "i_max_a": limit,
        "p_at_limit_kW": limit * least.get() / 1000.0,
    }))
}

fn regen(inputs: Inputs<'_>) -> Clear<Value> {
    let full = volts(inputs, "cell_v_max")? * inputs.count("series")?;
    let limit: Volts = full.min(volts(inputs, "v_max_controller")?);
    let most = inputs.float("i_charge_max")?;
    let found = load::regen(volts(inputs, "voc")?, milliohms(inputs, "r_mohm")?, limit, most);
    Ok(json!({
        "v_limit": found.limit.get(),
        "i_regen_a": found.amps,
        "p_regen_kW": found.power_w / 1000.0,
    }))
}

fn charge_power(inputs: Inputs<'_>) -> Clear<Value> {
    let energy = WattHours::nearest(inputs.float("kWh_nominal")? * 1000.0);
    let [health, from, to, line, efficiency] =
        ["soh", "soc_from", "soc_to", "p_ac_kW", "efficiency"].map(|key| inputs.float(key));
    let found = load::charge_at_power(energy, health?, [from?, to?], line? * 1000.0, efficiency?)
        .ok_or_else(|| none("a charge"))?;
    Ok(json!({ "energy_kWh": found.energy.kwh(), "hours": found.hours, "avg_c_rate": found.c_rate }))
}

fn charge_current(inputs: Inputs<'_>) -> Clear<Value> {
    let [from, to] = ["soc_from", "soc_to"].map(|key| inputs.float(key));
    let (hours, c_rate) = load::charge_at_amps(inputs.float("Ah")?, [from?, to?], inputs.float("i_a")?)
        .ok_or_else(|| none("a charge"))?;
    Ok(json!({ "hours": hours, "c_rate": c_rate }))
}

fn growth(inputs: Inputs<'_>) -> Clear<Value> {
    let [thick, reversible, irreversible, pressure, width, height] =
        ["t_mm", "f_rev", "f_irr", "p_kPa", "w_mm", "h_mm"].map(|key| inputs.float(key));
    let found = stack::growth(inputs.count("n")?, thick?, reversible?, irreversible?);
    Ok(json!({
        "reversible_mm": found.reversible_mm,
        "irreversible_mm": found.irreversible_mm,
        "total_mm": found.total_mm,
        "force_N": stack::end_plate_force_n(pressure?, width?, height?),
    }))
}
