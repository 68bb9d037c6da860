//! Checks of ways in and of the tilting bed.

use geometry::fit::Unwatched;
use geometry::sweep::closed_forms as tilting;
use geometry::way_in::plan::{Decision, Limits, Plane, Pose, Query, decide};
use geometry::way_in::straight::{Straight, gaps, shifts, straight};
use geometry::way_in::{Budget, closed_forms};
use geometry::{Axis, Cuboid, Face, OutOfRange, Point};
use serde_json::{Map, Value, json};
use tape::Length;

use crate::compare::magnitude;
use crate::inputs::{Clear, Inputs, Unclear};
use crate::question::{Outcome, Question};

type Work = fn(Inputs<'_>, &Value) -> Clear<Value>;

/// Work for each height tried on the way to the largest.
const BUDGET: Budget = Budget { work: 20_000_000 };
/// The largest height is looked for to within this.
const WITHIN_IN: f64 = 1.0 / 128.0;

/// The case of a check of a way in or of the bed; `None` when it is neither.
pub(super) fn check<'a>(kind: &str, entry: &'a Value, fallback: &str) -> Option<Question<'a>> {
    let work: Work = match kind {
        "bar_round_corner" => bar_round_corner,
        "box_shaft_channel" => box_shaft_channel,
        "thick_slot" => thick_slot,
        "tilt_between_rails" => tilt_between_rails,
        "straight_lift" => straight_lift,
        "oblique_level" => oblique_level,
        "planned_path" => planned_path,
        "tail_drop" => tail_drop,
        "rib_sweep" => rib_sweep,
        "underside_contact" => underside_contact,
        "headroom" => headroom,
        _ => return None,
    };
    let expected = bounds_as_one(&entry["expected"]);
    let question = Question::of("checks", entry, fallback).expecting(expected.clone());
    Some(question.worked_out(move || {
        let tolerance = Inputs(&entry["tolerance"]);
        let [abs, rel] = ["abs", "rel"].map(|key| tolerance.float(key).unwrap_or(0.0));
        let got = work(Inputs(&entry["inputs"]), &entry["expected"])?;
        Ok(Outcome::compared(&expected, got, &|_, number| {
            (rel * magnitude(number)).max(abs).max(1e-9)
        }))
    }))
}

/// What is expected, with two bounds of a figure made one question: whether the figure is within them.
fn bounds_as_one(expected: &Value) -> Value {
    let mut expected = expected.clone();
    if let Some(keys) = expected.as_object_mut()
        && keys.remove(LOWER).is_some()
        && keys.remove(UPPER).is_some()
    {
        keys.insert("largest_height_is_within_the_bounds".to_owned(), json!(true));
    }
    expected
}

const LOWER: &str = "max_box_height_lower_bound_in";
const UPPER: &str = "max_box_height_upper_bound_in";

fn inches(value: f64) -> Length {
    Length::from_mm(value * 25.4)
}

fn inch(inputs: Inputs<'_>, key: &str) -> Clear<Length> {
    inputs.float(key).map(inches)
}

fn told<T>(result: Result<T, OutOfRange>) -> Clear<T> {
    result.map_err(|refusal| Unclear(refusal.to_string()))
}

/// For each figure named by the keys of `feasible_at`, what `goes` says of it.
fn feasible(expected: &Value, mut goes: impl FnMut(f64) -> Clear<Value>) -> Clear<Value> {
    let mut told = Map::new();
    for key in expected["feasible_at"].as_object().into_iter().flat_map(Map::keys) {
        let figure = key.parse().map_err(|_| Unclear(format!("{key} should be a number")))?;
        told.insert(key.clone(), goes(figure)?);
    }
    Ok(Value::Object(told))
}

fn bar_round_corner(inputs: Inputs<'_>, expected: &Value) -> Clear<Value> {
    let (shaft, channel) = (inch(inputs, "shaft_a")?, inch(inputs, "channel_b")?);
    let thickness = inch(inputs, "thickness")?;
    let longest = if thickness == Length::ZERO {
        told(closed_forms::bar_round_corner(shaft, channel))?
    } else {
        told(closed_forms::box_round_corner(shaft, channel, thickness))?.length
    };
    Ok(json!({
        "max_length": longest.as_inches(),
        "feasible_at": feasible(expected, |length| Ok(json!(inches(length) <= longest)))?,
    }))
}

fn box_shaft_channel(inputs: Inputs<'_>, expected: &Value) -> Clear<Value> {
    let (shaft, channel) = (inch(inputs, "shaft_width_in")?, inch(inputs, "channel_height_in")?);
    let round = told(closed_forms::box_round_corner(
        shaft,
        channel,
        inch(inputs, "box_height_in")?,
    ))?;
    Ok(json!({
        "max_length_in": round.length.as_inches(),
        "at_deg": round.at_deg,
        "feasible_at": feasible(expected, |length| Ok(json!(inches(length) <= round.length)))?,
    }))
}

fn thick_slot(inputs: Inputs<'_>, _: &Value) -> Clear<Value> {
    let (width, depth) = (inch(inputs, "slot_width_in")?, inch(inputs, "slot_depth_in")?);
    let thickest = closed_forms::thick_slot(width, depth, inputs.float("angle_to_opening_plane_deg")?);
    Ok(json!({ "max_box_thickness_in": told(thickest)?.as_inches() }))
}

fn tilt_between_rails(inputs: Inputs<'_>, _: &Value) -> Clear<Value> {
    let clear = inch(inputs, "clear_between_rails_in")?;
    let (width, height) = (inch(inputs, "box_width_in")?, inch(inputs, "box_height_in")?);
    let out = told(closed_forms::out_of_level(clear, width, height))?;
    Ok(json!({
        "max_tilt_deg": out.map(|out| out.turn_deg),
        "corner_rise_over_width_in": out.map(|out| out.rise.as_inches()),
    }))
}

/// The rails as blocks beside the gap, the flanges at their feet, and the box above the flanges.
fn straight_lift(inputs: Inputs<'_>, _: &Value) -> Clear<Value> {
    let pair = |value: &Value| {
        value
            .as_f64()
            .map(inches)
            .ok_or_else(|| Unclear("a face should be a number".into()))
    };
    let faces = inputs
        .list("rail_faces_x_in")?
        .iter()
        .map(pair)
        .collect::<Clear<Vec<_>>>()?;
    let &[left, right] = faces.as_slice() else {
        return Err(Unclear("two rail faces are expected".to_owned()));
    };
    let far = inches(1000.0);
    let block = |x: [Length; 2], z: [f64; 2]| {
        let corner = |k: usize, y| Point([x[k], y, inches(z[k])]);
        Cuboid::between(corner(0, Length::ZERO), corner(1, inches(10.0)))
    };
    let mut obstacles = vec![
        block([left - far, left], [0.0, 30.0]),
        block([right, right + far], [0.0, 30.0]),
    ];
    for flange in inputs.list("flanges")? {
        let flange = Inputs(flange);
        obstacles.push(block([inch(flange, "x0")?, inch(flange, "x1")?], [0.0, 1.0]));
    }
    let (width, centre) = (inputs.float("box_width_in")?, inputs.float("box_centre_x_in")?);
    let parts = [block(
        [inches(centre - width / 2.0), inches(centre + width / 2.0)],
        [10.0, 20.0],
    )];
    let way = Straight {
        parts: &parts,
        obstacles: &obstacles,
        through: Face::Bottom,
        from: inches(40.0),
    };
    let found = straight(&way);
    let overlap = found.stops.iter().map(|stop| stop.overlap.1).max().unwrap_or_default();
    let widest = gaps(&way, Axis::X, [left, right])
        .iter()
        .map(|[low, high]| *high - *low)
        .max();
    let [along, _] = shifts(&way, right - left);
    let range = along.free.iter().max_by_key(|[low, high]| *high - *low);
    Ok(json!({
        "feasible_at_given_centre": found.goes(),
        "overlap_in": overlap.as_inches(),
        "max_width_in": widest.unwrap_or_default().as_inches(),
        "feasible_centre_range_in": range.map(|range| range.map(|shift| centre + shift.as_inches())),
    }))
}

fn oblique_level(inputs: Inputs<'_>, _: &Value) -> Clear<Value> {
    // Towards larger x is the same picture seen from the other side.
    let mirror = if inputs.text("travel")?.contains("larger x") {
        -1.0
    } else {
        1.0
    };
    let edge = |key: &str| match inputs.list(key)? {
        [x, z] => match (x.as_f64(), z.as_f64()) {
            (Some(x), Some(z)) => Ok([inches(mirror * x), inches(z)]),
            _ => Err(Unclear(format!("{key} should be two numbers"))),
        },
        _ => Err(Unclear(format!("{key} should be two numbers"))),
    };
    let height = inch(inputs, "box_height_in")?;
    let oblique = told(closed_forms::oblique(
        edge("upper_edge_xz_in")?,
        edge("lower_edge_xz_in")?,
        inch(inputs, "box_length_in")?,
        height,
        inputs.float("descent_angle_deg")?,
    ))?;
    Ok(json!({
        "gap_in": oblique.gap.as_inches(),
        "need_in": oblique.need.as_inches(),
        "feasible": height <= oblique.most_height,
        "max_height_in": oblique.most_height.as_inches(),
    }))
}

fn planned_path(inputs: Inputs<'_>, expected: &Value) -> Clear<Value> {
    let goes = |height: f64, level: bool| -> Clear<Decision> {
        let mut query = query(inputs, height)?;
        if level {
            query.limits.turn_deg = [0.0; 2];
        }
        // A box so high that an end is out of the limits does not go.
        let answer = decide(&query, BUDGET, &mut Unwatched);
        Ok(answer.map_or(Decision::Impossible, |answer| answer.decision))
    };
    let largest = |level: bool| -> Clear<Option<f64>> {
        let (mut low, mut high) = (WITHIN_IN, inputs.float("box_length_in")?);
        if goes(low, level)? != Decision::Goes {
            return Ok(None);
        }
        while high - low > WITHIN_IN {
            let middle = f64::midpoint(low, high);
            if goes(middle, level)? == Decision::Goes {
                low = middle;
            } else {
                high = middle;
            }
        }
        Ok(Some(low))
    };
    let found = largest(false)?;
    let [lower, upper] = [LOWER, UPPER].map(|key| Inputs(expected).float(key));
    let within = found.is_some_and(|found| (lower.unwrap_or(f64::NAN)..=upper.unwrap_or(f64::NAN)).contains(&found));
    Ok(json!({
        "largest_height_found_in": found,
        "largest_height_is_within_the_bounds": within,
        "level_only_max_height_in": largest(true)?,
        "feasible_at": feasible(expected, |height| Ok(match goes(height, false)? {
            Decision::Goes => json!(true),
            Decision::Impossible | Decision::NoRoom { .. } => json!(false),
            Decision::TooClose => json!("too close to call"),
        }))?,
    }))
}

/// The query of a planned path for a box of one height.
fn query(inputs: Inputs<'_>, height: f64) -> Clear<Query> {
    let block = |[x0, z0, x1, z1]: [f64; 4]| {
        let corner = |x, y, z| Point([inches(x), y, inches(z)]);
        Cuboid::between(corner(x0, Length::ZERO, z0), corner(x1, inches(10.0), z1))
    };
    let numbers = |value: &Value| -> Clear<Vec<f64>> {
        let list = value.as_array().map(Vec::as_slice).unwrap_or_default();
        let numbers: Option<Vec<f64>> = list.iter().map(Value::as_f64).collect();
        numbers.ok_or_else(|| Unclear(format!("{value} should be numbers")))
    };
    let mut obstacles = Vec::new();
    for obstacle in inputs.list("obstacles_x0_z0_x1_z1_in")? {
        let edges = <[f64; 4]>::try_from(numbers(obstacle)?);
        obstacles.push(block(
            edges.map_err(|_| Unclear("an obstacle should be four numbers".to_owned()))?,
        ));
    }
    let pose = |key: &str| -> Clear<Pose> {
        let pose = inputs.part(key);
        Ok(Pose {
            along: inch(pose, "x_in")?,
            up: inches(with_height(pose.text("z_in")?, height)?),
            turn_deg: pose.float("pitch_deg")?,
        })
    };
    let limit = |key: &str| -> Clear<[f64; 2]> {
        let pair = <[f64; 2]>::try_from(numbers(&inputs.part("limits").0[key])?);
        pair.map_err(|_| Unclear(format!("{key} should be two numbers")))
    };
    let half = inputs.float("box_length_in")? / 2.0;
    Ok(Query {
        plane: Plane::Side,
        parts: vec![block([-half, -height / 2.0, half, height / 2.0])],
        pivot: [Length::ZERO; 2],
        obstacles,
        start: pose("start_pose")?,
        goal: pose("goal_pose")?,
        limits: Limits {
            along: limit("centre_x_in")?.map(inches),
            up: limit("centre_z_in")?.map(inches),
            turn_deg: limit("pitch_deg")?,
        },
    })
}

/// "c + H/2" or "c", for a box of one height.
fn with_height(text: &str, height: f64) -> Clear<f64> {
    let (number, half) = match text.split_once("+ H/2") {
        Some((number, "")) => (number, height / 2.0),
        _ => (text, 0.0),
    };
    let number: f64 = number
        .trim()
        .parse()
        .map_err(|_| Unclear(format!("{text} should be a height")))?;
    Ok(number + half)
}

fn tail_drop(inputs: Inputs<'_>, _: &Value) -> Clear<Value> {
    let (overhang, depth) = (
        inch(inputs, "overhang_behind_hinge_in")?,
        inch(inputs, "underside_below_hinge_axis_in")?,
    );
    let tail = told(tilting::tail_drop(overhang, depth, inputs.float("max_tilt_deg")?))?;
    Ok(json!({
        "lowest_depth_below_hinge_in": tail.lowest.as_inches(),
        "at_deg": tail.at_deg,
        "drop_from_rest_in": tail.drop.as_inches(),
    }))
}

fn rib_sweep(inputs: Inputs<'_>, _: &Value) -> Clear<Value> {
    let pass = told(tilting::rib_pass(
        inch(inputs, "rib_bottom_corner_forward_in")?,
        inch(inputs, "rib_bottom_below_hinge_in")?,
        inch(inputs, "box_rear_face_forward_in")?,
        inch(inputs, "box_top_z_from_hinge_in")?,
        inputs.float("max_tilt_deg")?,
    ))?;
    Ok(json!({
        "radius_in": pass.radius.as_inches(),
        "gap_at_rest_in": pass.gap_at_rest.as_inches(),
        "min_distance_in": pass.least.as_inches(),
        "forward_creep_in": pass.creep.as_inches(),
    }))
}

fn underside_contact(inputs: Inputs<'_>, _: &Value) -> Clear<Value> {
    let (behind, gap) = (
        inch(inputs, "distance_behind_hinge_in")?,
        inch(inputs, "gap_at_rest_in")?,
    );
    let depth = inch(inputs, "underside_below_hinge_axis_in")?;
    let contact = told(tilting::underside_contact_deg(behind, gap, depth))?;
    let half = told(tilting::underside_gap(behind, gap, depth, contact / 2.0))?;
    Ok(json!({ "contact_tilt_deg": contact, "gap_at_half_that_angle_in": half.as_inches() }))
}

fn headroom(inputs: Inputs<'_>, _: &Value) -> Clear<Value> {
    let (forward, depth) = (
        inch(inputs, "rear_edge_of_lift_forward_in")?,
        inch(inputs, "underside_below_hinge_axis_in")?,
    );
    let under = told(tilting::headroom(forward, depth, inputs.float("tilt_deg")?))?;
    let least = told(tilting::least_tilt_deg(
        forward,
        depth,
        inch(inputs, "box_top_at_hoist_z_in")?,
    ))?;
    Ok(json!({ "underside_z_in": under.as_inches(), "min_tilt_deg": least }))
}
