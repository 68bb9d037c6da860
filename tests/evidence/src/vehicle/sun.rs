//! Sun on the panels.

use serde_json::{Value, json};
use truck::sun::losses;
use truck::sun::sky::{SOLAR_CONSTANT_W_PER_M2, day};
use truck::sun::step_up::step_up;
use truck::sun::trickle::{Array, Heat, trickle};

use super::{Answer, Refused, Worked, may_be};
use crate::inputs::Inputs;

pub(super) fn answer(kind: &str) -> Option<Answer> {
    Some(match kind {
        "solar_losses" => lost,
        "solar_trickle" => week,
        "clear_day" => clear_day,
        "extraterrestrial" => outside,
        "boost_duty" => boost,
        _ => return None,
    })
}

const MJ_PER_KWH: f64 = 3.6;

fn lost(inputs: Inputs<'_>) -> Worked<Value> {
    let stated = inputs.part("losses_pct").0.as_object();
    let percents: Option<Vec<f64>> = stated.map(|stated| stated.values().filter_map(Value::as_f64).collect());
    let percents = percents.ok_or_else(|| Refused::because("losses_pct should be an object of numbers".to_owned()))?;
    Ok(json!({ "total_loss_pct": losses::total(percents)? * 100.0 }))
}

fn week(inputs: Inputs<'_>) -> Worked<Value> {
    let heat = || -> Worked<Heat> {
        let heat = inputs.part("temperature");
        Ok(Heat {
            per_c: heat.float("gamma_per_C")?,
            cell_c: heat.float("cell_C")?,
        })
    };
    let array = Array {
        panel_w: inputs.float("panel_W")?,
        losses: inputs.float("system_loss")?,
        step_up_efficiency: inputs.float("boost_efficiency")?,
        heat: inputs.has("temperature").then(heat).transpose()?,
    };
    let found = trickle(&array, inputs.float("peak_sun_hours")?)?;
    Ok(json!({
        "Wh_per_day": found.wh_per_day,
        "kWh_per_week": found.kwh_per_week(),
        "miles_per_week": found.miles_per_week(inputs.float("battery_Wh_per_mi")?)?,
        "overall_factor": found.overall,
    }))
}

fn clear_day(inputs: Inputs<'_>) -> Worked<Value> {
    let day = day(inputs.float("lat_deg")?, inputs.float("day_of_year")?)?;
    Ok(json!({
        "haurwitz_kWh_m2_day": day.clear_sky_kwh_per_m2(),
        "extraterrestrial_MJ_m2_day": day.outside_air_kwh_per_m2(SOLAR_CONSTANT_W_PER_M2)? * MJ_PER_KWH,
        "declination_deg": day.declination_rad.to_degrees(),
        "sunset_hour_angle_deg": day.sunset_rad.to_degrees(),
    }))
}

fn outside(inputs: Inputs<'_>) -> Worked<Value> {
    let day = day(inputs.float("lat_deg")?, inputs.float("day_of_year")?)?;
    let kwh = day.outside_air_kwh_per_m2(inputs.float("solar_constant")?)?;
    Ok(json!({
        "H0_MJ_m2": kwh * MJ_PER_KWH,
        "declination_deg": day.declination_rad.to_degrees(),
        "sunset_hour_angle_deg": day.sunset_rad.to_degrees(),
    }))
}

fn boost(inputs: Inputs<'_>) -> Worked<Value> {
    let found = step_up(
        inputs.float("vin")?,
        inputs.float("vout")?,
        may_be(inputs, "efficiency")?,
    )?;
    Ok(json!({
        "duty_ideal": found.duty,
        "ratio": found.ratio,
        "duty_with_losses": found.duty_with_losses,
    }))
}
