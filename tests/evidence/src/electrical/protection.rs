//! Fuses, short circuit, pre-charge, insulation and distances.

use pack::protection::adiabatic::{self, Insulated};
use pack::protection::bleed;
use pack::protection::bonding;
use pack::protection::distance::{self, Group, Pollution};
use pack::protection::fuse;
use pack::protection::isolation::{self, Readings};
use pack::protection::precharge;
use pack::protection::short_circuit::short_circuit;
use pack::protection::touch::{self, Place};
use serde_json::{Value, json};

use super::Answer;
use crate::inputs::{Clear, Inputs, Unclear};

pub(super) fn answer(kind: &str) -> Option<Answer> {
    Some(match kind {
        "fuse_pick" => fuse_pick,
        "short_circuit" => short,
        "cable_survival" => survival,
        "k_factor" => k_factor,
        "precharge_resistor" => precharge_resistor,
        "precharge_times" => precharge_times,
        "bleed_down" => bleed_down,
        "isolation_minimum" => isolation_minimum,
        "isolation_reading" => isolation_reading,
        "bonding_reading" => bonding_reading,
        "protection_degree" => degree,
        "y_capacitor" => y_capacitor,
        "creepage" => creepage,
        "altitude_factor" => altitude,
        "clearance" => clearance,
        _ => return None,
    })
}

fn beyond(key: &str) -> Unclear {
    Unclear(format!("{key} is beyond the table"))
}

fn farads(inputs: Inputs<'_>) -> Clear<f64> {
    Ok(inputs.float("c_uF")? * 1e-6)
}

fn fuse_pick(inputs: Inputs<'_>) -> Clear<Value> {
    let [amps, load, warm, cable] =
        ["i_cont_a", "load_factor", "temp_factor", "cable_iz_a"].map(|key| inputs.float(key));
    let least = fuse::least_rating(amps?, load?, warm?);
    let pick = fuse::pick(least).ok_or_else(|| beyond("i_cont_a"))?;
    Ok(json!({
        "i_min_rating_a": least,
        "pick_a": pick,
        "cable_protected": f64::from(pick) <= cable?,
        "vdc_ok": inputs.float("fuse_vdc")? >= inputs.float("v_max_pack")?,
    }))
}

fn short(inputs: Inputs<'_>) -> Clear<Value> {
    let [volts, pack, leads, henry] = ["voc", "r_pack_mohm", "r_leads_mohm", "l_uH"].map(|key| inputs.float(key));
    let found = short_circuit(volts?, pack?, leads?, henry?).ok_or_else(|| beyond("r_pack_mohm"))?;
    Ok(json!({
        "isc_a": found.amps,
        "tau_ms": found.tau_s * 1000.0,
        "i_at_1ms_a": found.amps_at(0.001),
        "breaking_ok": found.amps <= inputs.float("fuse_breaking_kA")? * 1000.0,
    }))
}

fn insulated(inputs: Inputs<'_>) -> Clear<&'static Insulated> {
    let key = inputs.text("k_key")?;
    adiabatic::ALL
        .iter()
        .find(|i| i.key == key)
        .ok_or_else(|| beyond("k_key"))
}

fn survival(inputs: Inputs<'_>) -> Clear<Value> {
    let k = insulated(inputs)?.k;
    let [amps, seconds, mm2] = ["i_a", "t_s", "s_mm2"].map(|key| inputs.float(key));
    let (amps, mm2) = (amps?, mm2?);
    let least = adiabatic::least_mm2(amps, seconds?, k);
    Ok(json!({ "s_min_mm2": least, "t_max_s": adiabatic::longest_s(amps, mm2, k), "ok": mm2 >= least }))
}

fn k_factor(inputs: Inputs<'_>) -> Clear<Value> {
    let tabled = insulated(inputs)?;
    let constants = Insulated {
        beta: inputs.float("B_C")?,
        heat_capacity: inputs.float("Qc_J_per_K_mm3")?,
        rho20: inputs.float("rho20_ohm_mm")?,
        initial_c: inputs.float("t_initial_C")?,
        final_c: inputs.float("t_final_C")?,
        ..*tabled
    };
    // The tabled factors are whole numbers, and stand so in the file.
    #[expect(clippy::cast_possible_truncation, reason = "whole and small")]
    let whole = tabled.k as i64;
    Ok(json!({ "k": adiabatic::k_from_constants(&constants), "k_tabled": whole }))
}

fn precharge_resistor(inputs: Inputs<'_>) -> Clear<Value> {
    let [volts, level, seconds] = ["v", "target", "t_target_s"].map(|key| inputs.float(key));
    let found = precharge::resistor(volts?, farads(inputs)?, level?, seconds?);
    Ok(json!({
        "r_ohm": found.ohms,
        "i_peak_a": found.peak_amps,
        "p_peak_W": found.peak_w,
        "e_cap_J": found.capacitor_j,
        "e_resistor_J": found.resistor_j,
        "p_avg_W": found.mean_w,
    }))
}

fn precharge_times(inputs: Inputs<'_>) -> Clear<Value> {
    let [volts, ohms, apart, path] = ["v", "r_ohm", "delta_v", "r_path_mohm"].map(|key| inputs.float(key));
    let (volts, ohms, apart, farads) = (volts?, ohms?, apart?, farads(inputs)?);
    let level = precharge::level_at(volts, apart);
    let to = |level| precharge::seconds_to(ohms, farads, level);
    Ok(json!({
        "tau_s": ohms * farads,
        "t90_s": to(0.9),
        "t95_s": to(0.95),
        "t99_s": to(0.99),
        "t_delta_v_s": to(level),
        "level_at_delta_v": level,
        "i_peak_a": volts / ohms,
        "p_peak_W": volts * volts / ohms,
        "inrush_at_close_a": apart / (path? / 1000.0),
    }))
}

fn bleed_down(inputs: Inputs<'_>) -> Clear<Value> {
    let [volts, ohms, limit] = ["v", "r_ohm", "limit_s"].map(|key| inputs.float(key));
    let (volts, ohms, limit, farads) = (volts?, ohms?, limit?, farads(inputs)?);
    let seconds = bleed::seconds_to_class_a(volts, farads, ohms);
    Ok(json!({
        "t_to_60v_s": seconds,
        "meets_limit": seconds <= limit,
        "r_max_ohm": bleed::largest_ohms(volts, farads, limit),
        "standing_W": bleed::standing_w(volts, ohms),
        "e_at_60v_J": precharge::stored_j(bleed::TO_VOLTS, farads),
        "v_at_0p2J": bleed::harmless_volts(farads),
    }))
}

fn isolation_minimum(inputs: Inputs<'_>) -> Clear<Value> {
    let kohm = isolation::least_kohm(inputs.float("v")?, inputs.float("ohm_per_v")?);
    Ok(json!({ "r_min_kohm": kohm }))
}

fn isolation_reading(inputs: Inputs<'_>) -> Clear<Value> {
    let [pack, minus, plus, resistor_kohm, with_resistor] =
        ["vb", "v1", "v2", "ro_kohm", "v_with_ro"].map(|key| inputs.float(key));
    let readings = Readings {
        pack: pack?,
        minus: minus?,
        plus: plus?,
        resistor_kohm: resistor_kohm?,
        with_resistor: with_resistor?,
    };
    let kohm = readings.kohm().ok_or_else(|| beyond("v_with_ro"))?;
    let per_volt = kohm * 1000.0 / inputs.float("v_nominal")?;
    Ok(json!({
        "ri_kohm": kohm,
        "ohm_per_v": per_volt,
        "passes_100": per_volt >= 100.0,
        "passes_500": per_volt >= 500.0,
    }))
}

fn bonding_reading(inputs: Inputs<'_>) -> Clear<Value> {
    let (millivolts, amps) = (inputs.float("u_mv")?, inputs.float("i_a")?);
    Ok(json!({ "r_ohm": bonding::ohms(millivolts, amps), "passes": bonding::passes(millivolts, amps) }))
}

fn degree(inputs: Inputs<'_>) -> Clear<Value> {
    let place = match inputs.text("place")? {
        "passenger_compartment" => Place::PassengerCompartment,
        "luggage_compartment" => Place::LuggageCompartment,
        _ => Place::Elsewhere,
    };
    Ok(json!({ "degree": touch::degree(place) }))
}

fn y_capacitor(inputs: Inputs<'_>) -> Clear<Value> {
    let volts = inputs.float("v")?;
    let energy = touch::y_energy_j(inputs.float("cy_uF")?, volts);
    Ok(json!({
        "e_J": energy,
        "below_limit": energy < bleed::HARMLESS_J,
        "cy_max_uF": touch::y_most_uf(volts),
    }))
}

fn pollution(degree: u32) -> Pollution {
    if degree == 2 { Pollution::Two } else { Pollution::Three }
}

fn creepage(inputs: Inputs<'_>) -> Clear<Value> {
    let group = match inputs.text("material_group")? {
        "I" => Group::I,
        "II" => Group::II,
        _ => Group::III,
    };
    let pollution = pollution(inputs.count("pollution_degree")?);
    let found = distance::creepage(inputs.float("v_dc")?, pollution, group).ok_or_else(|| beyond("v_dc"))?;
    Ok(json!({
        "row_v": found.row_volts,
        "creepage_basic_mm": found.basic_mm,
        "creepage_reinforced_mm": found.reinforced_mm,
    }))
}

fn altitude(inputs: Inputs<'_>) -> Clear<Value> {
    let factor = distance::altitude_factor(inputs.float("altitude_m")?).ok_or_else(|| beyond("altitude_m"))?;
    Ok(json!({ "factor": factor }))
}

fn clearance(inputs: Inputs<'_>) -> Clear<Value> {
    let [low, high] = distance::clearance(inputs.float("impulse_kV")?, inputs.float("altitude_m")?, Pollution::Two)
        .ok_or_else(|| beyond("impulse_kV"))?;
    Ok(json!({ "clearance_2000m_mm": low, "clearance_mm": high }))
}
