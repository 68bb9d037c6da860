//! Cables and bars.

use pack::conductor::awg::Awg;
use pack::conductor::class5::{self, Finish};
use pack::conductor::{Metal, ambient_factor, ampacity, bar, drop, joints};
use serde_json::{Value, json};

use super::Answer;
use crate::inputs::{Clear, Inputs, Unclear};

pub(super) fn answer(kind: &str) -> Option<Answer> {
    Some(match kind {
        "awg_wire" => awg_wire,
        "resistance_at_temperature" => at_temperature,
        "cable_drop" => cable_drop,
        "cable_pick_by_drop" => cable_pick,
        "busbar_link" => bar_link,
        "busbar_rating" => bar_rating,
        "ambient_factor" => ambient,
        "joint_heat" => joint_heat,
        "table_nec_310_16" => nec,
        "table_iec_method_F" => method_f,
        "table_class5" => class_5,
        _ => return None,
    })
}

fn unknown(key: &str) -> Unclear {
    Unclear(format!("{key} is in no table"))
}

fn metal(inputs: Inputs<'_>) -> Clear<Metal> {
    let name = inputs.text("metal")?;
    Metal::ALL
        .into_iter()
        .find(|m| m.name() == name)
        .ok_or_else(|| unknown("metal"))
}

fn awg_wire(inputs: Inputs<'_>) -> Clear<Value> {
    let gauge: Awg = inputs.text("awg")?.parse().map_err(|()| unknown("awg"))?;
    Ok(json!({
        "d_mm": gauge.diameter_mm(),
        "area_mm2": gauge.area_mm2(),
        "r20_ohm_per_km": gauge.ohm_per_km(),
    }))
}

fn at_temperature(inputs: Inputs<'_>) -> Clear<Value> {
    let warm = metal(inputs)?.at_temperature(inputs.float("r20_mohm")?, inputs.float("t_C")?);
    Ok(json!({ "r_mohm": warm }))
}

fn cable_drop(inputs: Inputs<'_>) -> Clear<Value> {
    let [length, amps, temp, nominal] = ["one_way_m", "i_a", "t_C", "v_nom"].map(|key| inputs.float(key));
    let found = drop::cable_loop(inputs.count("mm2")?, length?, amps?, temp?).ok_or_else(|| unknown("mm2"))?;
    Ok(json!({
        "r_loop_mohm": found.milliohms,
        "drop_v": found.drop_v,
        "heat_W": found.heat_w,
        "drop_percent": 100.0 * found.drop_v / nominal?,
    }))
}

fn cable_pick(inputs: Inputs<'_>) -> Clear<Value> {
    let [length, amps, most, temp] = ["one_way_m", "i_a", "drop_max_v", "t_C"].map(|key| inputs.float(key));
    let found = drop::pick_by_drop(length?, amps?, most?, temp?);
    Ok(json!({ "r20_needed_ohm_per_km": found.ohm_per_km, "pick_mm2": found.mm2 }))
}

fn bar_link(inputs: Inputs<'_>) -> Clear<Value> {
    let [width, thick, length, amps, temp] = ["w_mm", "t_mm", "len_mm", "i_a", "temp_C"].map(|key| inputs.float(key));
    let found = bar::bar_link(metal(inputs)?, [width?, thick?], length?, amps?, temp?);
    Ok(json!({
        "area_mm2": found.area_mm2,
        "r_uohm": found.micro_ohms,
        "drop_mv": found.drop_v * 1000.0,
        "heat_W": found.heat_w,
        "a_per_mm2": found.amps_per_mm2,
    }))
}

fn bar_rating(inputs: Inputs<'_>) -> Clear<Value> {
    let (width, thick) = (inputs.float("w_mm")?, inputs.float("t_mm")?);
    Ok(json!({
        "area_mm2": width * thick,
        "perimeter_mm": 2.0 * (width + thick),
        "rating_a": bar::rating_amps(width, thick),
    }))
}

fn ambient(inputs: Inputs<'_>) -> Clear<Value> {
    let [conductor, air, reference, rating] =
        ["t_cond_C", "t_amb_C", "t_ref_C", "rating_ref_a"].map(|key| inputs.float(key));
    let factor = ambient_factor(conductor?, air?, reference?);
    Ok(json!({ "factor": factor, "rating_a": factor * rating? }))
}

fn joint_heat(inputs: Inputs<'_>) -> Clear<Value> {
    let found = joints(inputs.count("n")?, inputs.float("i_a")?, inputs.float("joint_uohm")?);
    Ok(json!({
        "heat_each_W": found.each_w,
        "heat_total_W": found.total_w,
        "drop_total_mv": found.drop_v * 1000.0,
    }))
}

fn nec(inputs: Inputs<'_>) -> Clear<Value> {
    let column = inputs.text("column")?;
    let (metal, insulation) = column.split_at_checked(2).ok_or_else(|| unknown("column"))?;
    let metal = if metal == "al" { Metal::Aluminium } else { Metal::Copper };
    let insulation = insulation.parse().map_err(|_| unknown("column"))?;
    let amps = ampacity::nec(metal).amps(inputs.text("awg")?, insulation);
    Ok(json!({ "rating_a": amps.ok_or_else(|| unknown("awg"))? }))
}

fn method_f(inputs: Inputs<'_>) -> Clear<Value> {
    let table = ampacity::method_f(inputs.count("insulation_C")?).ok_or_else(|| unknown("insulation_C"))?;
    let size = inputs.count("mm2")?.to_string();
    let amps = table
        .amps(&size, inputs.count("t_amb_C")?)
        .ok_or_else(|| unknown("mm2"))?;
    Ok(json!({ "rating_a": amps }))
}

fn class_5(inputs: Inputs<'_>) -> Clear<Value> {
    let finish = match inputs.text("finish")? {
        "tinned" => Finish::Tinned,
        _ => Finish::Plain,
    };
    let found = class5::ohm_per_km(inputs.count("mm2")?, finish).ok_or_else(|| unknown("mm2"))?;
    Ok(json!({ "r20_max_ohm_per_km": found }))
}
