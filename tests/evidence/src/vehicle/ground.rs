//! What touches the ground.

use serde_json::{Value, json};
use truck::ramp::{Flat, Least, Point, Wheels, angles, simple_breakover_rad};
use truck::units::M_PER_IN;

use super::{Answer, Refused, Worked, array};
use crate::inputs::Inputs;

pub(super) fn answer(kind: &str) -> Option<Answer> {
    Some(match kind {
        "ramp_angles" => ramp,
        "simple_breakover" => simple,
        _ => return None,
    })
}

fn ramp(inputs: Inputs<'_>) -> Worked<Value> {
    let wheelbase = inputs.float("wheelbase_in")?;
    let radius_m = inputs.float("static_loaded_radius_in")? * M_PER_IN;
    let [ahead, ahead_height] = array(inputs, "approach_point_ahead_of_front_axle_and_height_in")?;
    let [behind, behind_height] = array(inputs, "departure_point_behind_rear_axle_and_height_in")?;
    let mut points = vec![[-ahead, ahead_height], [wheelbase + behind, behind_height]];
    points.extend(between(inputs)?);
    let mut flats: Vec<Flat> = points.iter().map(|point| at(*point).into()).collect();
    flats.extend(spanning(inputs)?);
    let wheels = Wheels {
        wheelbase_m: wheelbase * M_PER_IN,
        front_radius_m: radius_m,
        rear_radius_m: radius_m,
    };
    let found = angles(wheels, &flats)?;
    let lowest_m = flats[2..]
        .iter()
        .map(|flat| flat.from.z_m.min(flat.to.z_m))
        .fold(f64::INFINITY, f64::min);
    let degrees = |least: Option<Least>| least.map(|(.., angle)| angle.to_degrees());
    let each: Vec<Option<f64>> = found
        .breakover
        .iter()
        .map(|touch| touch.first.map(|(_, angle_rad)| angle_rad.to_degrees()))
        .collect();
    Ok(json!({
        "approach_deg": degrees(found.least_approach()),
        "departure_deg": degrees(found.least_departure()),
        "breakover_each_deg": each,
        "breakover_deg": degrees(found.least_breakover()),
        "simple_2atan_of_lowest_mid_point_deg": simple_breakover_rad(lowest_m, wheels.wheelbase_m)?.to_degrees(),
        "running_clearance_in": found.running_clearance_m.map(|clearance_m| clearance_m / M_PER_IN),
    }))
}

fn at([x, z]: [f64; 2]) -> Point {
    Point {
        x_m: x * M_PER_IN,
        z_m: z * M_PER_IN,
    }
}

/// Points between the axles, inches.
fn between(inputs: Inputs<'_>) -> Worked<Vec<[f64; 2]>> {
    const KEY: &str = "underside_points_from_front_axle_and_height_in";
    let pair = |value: &Value| Some([value[0].as_f64()?, value[1].as_f64()?]);
    let pairs: Option<Vec<[f64; 2]>> = inputs.list(KEY)?.iter().map(pair).collect();
    pairs
        .filter(|pairs| !pairs.is_empty() || inputs.has(FLATS))
        .ok_or_else(|| Refused::because(format!("{KEY} should be pairs of numbers")))
}

const FLATS: &str = "underside_flats_from_and_to_behind_front_axle_and_height_in";

/// Level flats, where told: front and rear end behind the front axle and height, inches.
fn spanning(inputs: Inputs<'_>) -> Worked<Vec<Flat>> {
    if !inputs.has(FLATS) {
        return Ok(Vec::new());
    }
    let flat = |value: &Value| {
        let [from, to, height] = [value[0].as_f64()?, value[1].as_f64()?, value[2].as_f64()?];
        Some(Flat {
            from: at([from, height]),
            to: at([to, height]),
        })
    };
    let flats: Option<Vec<Flat>> = inputs.list(FLATS)?.iter().map(flat).collect();
    flats.ok_or_else(|| Refused::because(format!("{FLATS} should be threes of numbers")))
}

fn simple(inputs: Inputs<'_>) -> Worked<Value> {
    let [clearance, wheelbase] = ["clearance_in", "wheelbase_in"].map(|key| inputs.float(key));
    let angle = simple_breakover_rad(clearance? * M_PER_IN, wheelbase? * M_PER_IN)?;
    Ok(json!({ "breakover_deg": angle.to_degrees() }))
}
