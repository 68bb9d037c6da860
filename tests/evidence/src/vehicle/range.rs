//! Energy of drives and speeds, and the range that follows.

use serde_json::{Value, json};
use truck::cycle::{energy, label, range};
use truck::cycles::{ALL, Known};
use truck::road::{Resistance, Steady, Vehicle};
use truck::units::{J_PER_WH, M_PER_MILE, MPS_PER_MPH, N_PER_LBF, wh_per_mile};

use super::{Answer, Refused, Worked, floats};
use crate::inputs::Inputs;

pub(super) fn answer(kind: &str) -> Option<Answer> {
    Some(match kind {
        "cycle_totals" => totals,
        "cycle_energy" => cycle_energy,
        "steady_speed" => steady_speed,
        "grade_power" => grade_power,
        "coastdown_units" => coastdown,
        "label_range" => label_range,
        _ => return None,
    })
}

const J_PER_KWH: f64 = J_PER_WH * 1_000.0;

/// The drive of this name, which the crate brings along: `udds`, or `traces.udds_mph`.
fn known(name: &str) -> Worked<Known> {
    let bare = name.trim_start_matches("traces.").trim_end_matches("_mph");
    let found = ALL.into_iter().find(|known| known.name().eq_ignore_ascii_case(bare));
    found.ok_or_else(|| Refused::because(format!("{name} is no drive that is known")))
}

fn totals(inputs: Inputs<'_>) -> Worked<Value> {
    let cycle = known(inputs.text("trace")?)?.cycle();
    let mean_mps = cycle.distance_m() / cycle.duration_s();
    Ok(json!({
        "points": cycle.speeds_mps().len(),
        "duration_s": cycle.duration_s(),
        "distance_mi": cycle.distance_m() / M_PER_MILE,
        "distance_m": cycle.distance_m(),
        "avg_mph": mean_mps / MPS_PER_MPH,
        "max_mph": cycle.highest_mps() / MPS_PER_MPH,
    }))
}

fn vehicle(inputs: Inputs<'_>) -> Worked<Vehicle> {
    let resistance = if inputs.has("A_N") {
        Resistance::Coastdown {
            a_n: inputs.float("A_N")?,
            b_n_per_mps: inputs.float("B_N_per_mps")?,
            c_n_per_mps2: inputs.float("C_N_per_mps2")?,
        }
    } else {
        Resistance::Formula {
            rolling: inputs.float("crr")?,
            drag_area_m2: inputs.float("cda_m2")?,
            air_kg_per_m3: inputs.float("rho_kg_m3")?,
        }
    };
    Ok(Vehicle {
        mass_kg: inputs.float("mass_kg")?,
        mass_factor: inputs.float("mass_factor")?,
        resistance,
        drive_efficiency: inputs.float("eta_drive")?,
        regen_efficiency: inputs.float("regen_eff")?,
        aux_w: inputs.float("aux_W")?,
    })
}

fn cycle_energy(inputs: Inputs<'_>) -> Worked<Value> {
    let found = energy(&vehicle(inputs)?, known(inputs.text("cycle")?)?.cycle())?;
    let band = range(inputs.float("usable_pack_kWh")?, 0.0, &found)?;
    Ok(json!({
        "distance_mi": found.distance_m / M_PER_MILE,
        "duration_s": found.duration_s,
        "wheel_pos_kWh": found.wheel_out_j / J_PER_KWH,
        "wheel_neg_kWh": found.wheel_back_j / J_PER_KWH,
        "wheel_pos_Wh_per_mi": wh_per_mile(found.wheel_out_j, found.distance_m),
        "battery_kWh": found.pack_j / J_PER_KWH,
        "battery_Wh_per_mi": found.wh_per_mile(),
        "peak_wheel_kW": found.peak_wheel_w / 1_000.0,
        "range_mi_cycle": band.cycle_m / M_PER_MILE,
        "range_mi_times_0p7": band.everyday_m / M_PER_MILE,
    }))
}

fn steady_speed(inputs: Inputs<'_>) -> Worked<Value> {
    let speeds: Vec<f64> = floats(inputs, "speeds_mph")?
        .iter()
        .map(|mph| mph * MPS_PER_MPH)
        .collect();
    let row = |steady: &Steady| {
        json!({
            "mph": steady.speed_mps / MPS_PER_MPH,
            "force_N": steady.force_n,
            "wheel_kW": steady.wheel_w / 1_000.0,
            "battery_kW": steady.pack_w / 1_000.0,
            "battery_Wh_per_mi": steady.wh_per_mile(),
        })
    };
    let rows: Vec<Value> = vehicle(inputs)?.curve(&speeds)?.iter().map(row).collect();
    Ok(json!({ "rows": rows }))
}

fn grade_power(inputs: Inputs<'_>) -> Worked<Value> {
    let speed_mps = inputs.float("mph")? * MPS_PER_MPH;
    let found = vehicle(inputs)?.steady(speed_mps, inputs.float("grade_rise_over_run")?)?;
    Ok(json!({
        "force_N": found.force_n,
        "wheel_kW": found.wheel_w / 1_000.0,
        "motor_kW": found.drive_w / 1_000.0,
    }))
}

fn coastdown(inputs: Inputs<'_>) -> Worked<Value> {
    let [a, b, c] = ["A_lbf", "B_lbf_per_mph", "C_lbf_per_mph2"].map(|key| inputs.float(key));
    let resistance = Resistance::coastdown_us(a?, b?, c?);
    // The mass does not enter a coast-down on the level.
    let any = Vehicle {
        mass_kg: 1.0,
        mass_factor: 1.0,
        resistance,
        drive_efficiency: 1.0,
        regen_efficiency: 0.0,
        aux_w: 0.0,
    };
    let found = any.steady(inputs.float("mph")? * MPS_PER_MPH, 0.0)?;
    let Resistance::Coastdown {
        a_n,
        b_n_per_mps,
        c_n_per_mps2,
    } = resistance
    else {
        return Err(Refused::because("a coast-down should stay one".to_owned()));
    };
    Ok(json!({
        "A_N": a_n,
        "B_N_per_mps": b_n_per_mps,
        "C_N_per_mps2": c_n_per_mps2,
        "force_lbf": found.force_n / N_PER_LBF,
        "force_N": found.force_n,
        "wheel_kW": found.wheel_w / 1_000.0,
    }))
}

fn label_range(inputs: Inputs<'_>) -> Worked<Value> {
    let [city, highway] = ["city_cycle_mi", "highway_cycle_mi"].map(|key| inputs.float(key));
    let [factor, share] = ["factor", "city_weight"].map(|key| inputs.float(key));
    let found = label(city? * M_PER_MILE, highway? * M_PER_MILE, factor?, share?)?;
    Ok(json!({
        "city_mi": found.city_m / M_PER_MILE,
        "highway_mi": found.highway_m / M_PER_MILE,
        "combined_mi": found.combined_m / M_PER_MILE,
    }))
}
