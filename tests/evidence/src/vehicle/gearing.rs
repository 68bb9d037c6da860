//! Tyre sizes and gears.

use std::f64::consts::PI;

use serde_json::{Value, json};
use truck::gear::tyre::Tyre;
use truck::gear::{Gearing, Row, SHOP_CONSTANT, Suits};
use truck::units::{M_PER_IN, M_PER_MILE, MPS_PER_MPH};

use super::{Answer, Refused, Worked, floats};
use crate::inputs::Inputs;

pub(super) fn answer(kind: &str) -> Option<Answer> {
    Some(match kind {
        "gear_table" => table,
        "tyre_diameter" => diameter,
        "shop_constant" => shop_constant,
        _ => return None,
    })
}

fn tyre(inputs: Inputs<'_>) -> Worked<Tyre> {
    let code = inputs.text("tyre")?;
    code.parse()
        .map_err(|error: truck::gear::tyre::SizeError| Refused::because(error.to_string()))
}

fn diameter(inputs: Inputs<'_>) -> Worked<Value> {
    let diameter_m = tyre(inputs)?.size.diameter_m()?;
    Ok(json!({ "od_mm": diameter_m * 1_000.0, "od_in": diameter_m / M_PER_IN }))
}

fn table(inputs: Inputs<'_>) -> Worked<Value> {
    let size = tyre(inputs)?.size;
    let diameter_m = size.diameter_m()?;
    let rolling_m = size.rolling_m(inputs.float("rolling_factor")?)?;
    let gearing = Gearing {
        rolling_m,
        final_drive: inputs.float("final_drive")?,
        gears: floats(inputs, "gear_ratios")?,
        limit_rpm: inputs.float("motor_limit_rpm")?,
        base_rpm: None,
    };
    let row = |row: &Row| {
        json!({
            "gear_ratio": row.ratio,
            "motor_rpm": row.motor_rpm,
            "top_mph_at_motor_limit": row.top_mps / MPS_PER_MPH,
            "over_limit": row.suits == Suits::OverLimit,
        })
    };
    let rows: Vec<Value> = gearing
        .table(inputs.float("road_mph")? * MPS_PER_MPH)?
        .iter()
        .map(row)
        .collect();
    Ok(json!({
        "od_mm": diameter_m * 1_000.0,
        "od_in": diameter_m / M_PER_IN,
        "rolling_circumference_m": rolling_m,
        "rolling_radius_m": rolling_m / (2.0 * PI),
        "revs_per_mile": M_PER_MILE / rolling_m,
        "rows": rows,
    }))
}

#[expect(clippy::unnecessary_wraps, reason = "one shape for all kinds")]
fn shop_constant(_: Inputs<'_>) -> Worked<Value> {
    Ok(json!({ "constant": SHOP_CONSTANT }))
}
