//! Moments, axle and wheel loads, the centre of gravity.

use serde_json::{Value, json};
use truck::mass::axle::{AxleLoads, Stages, stages};
use truck::mass::centre::{Moments, centre};
use truck::mass::inertia::{Size, of_box};
use truck::mass::raised::{Raising, height};
use truck::mass::shift::centre_shift_m;
use truck::mass::wheel::{Split, Track, Weighed, side_totals, wheel_loads};
use truck::mass::{Item, Place};
use truck::units::{KG_PER_LB, M_PER_IN};

use super::{Answer, Refused, Worked, array, floats, may_be};
use crate::inputs::Inputs;

pub(super) fn answer(kind: &str) -> Option<Answer> {
    Some(match kind {
        "lever_balance" => lever,
        "shift_weight" => shift,
        "point_load" => point_load,
        "axle_loads" => axle_loads,
        "wheel_loads" => wheels,
        "cg_of_set" => set,
        "cg_height" => cg_height,
        "box_inertia" => inertia,
        _ => return None,
    })
}

fn kg(inputs: Inputs<'_>, key: &str) -> Worked<f64> {
    Ok(inputs.float(key)? * KG_PER_LB)
}

fn metres(inputs: Inputs<'_>, key: &str) -> Worked<f64> {
    Ok(inputs.float(key)? * M_PER_IN)
}

fn lb(kg: f64) -> f64 {
    kg / KG_PER_LB
}

fn inches(metres: f64) -> f64 {
    metres / M_PER_IN
}

fn on_the_lever(mass_kg: f64, x_m: f64) -> Item {
    Item {
        mass_kg,
        at: Place {
            x_m,
            ..Place::default()
        },
    }
}

/// Moments hold in any units, so they are left in those of the case: pounds and inches stand for kilograms and metres,
/// and no rounding of a conversion is let in.
fn lever(inputs: Inputs<'_>) -> Worked<Value> {
    let (weights, arms) = (floats(inputs, "weights_lb")?, floats(inputs, "arms_in")?);
    if weights.len() != arms.len() {
        return Err(Refused::because("weights_lb and arms_in should be as many".to_owned()));
    }
    let items: Vec<Item> = weights
        .into_iter()
        .zip(arms)
        .map(|(lb, at)| on_the_lever(lb, at))
        .collect();
    let each: Result<Vec<f64>, _> = items
        .iter()
        .map(|item| Moments::of(&[*item]).map(|sum| sum.x_kgm))
        .collect();
    Ok(json!({ "moments_lb_in": each?, "cg_in": centre(&items)?.x_m }))
}

/// In the units of the case, as [`lever`].
fn shift(inputs: Inputs<'_>) -> Worked<Value> {
    let [total, moved, from, to] = ["total_lb", "moved_lb", "from_in", "to_in"].map(|key| inputs.float(key));
    let (total, moved, from, to) = (total?, moved?, from?, to?);
    let there = on_the_lever(moved, to);
    let moving = [there, on_the_lever(moved, from).taken_off()];
    let change = Moments::of(&moving)?.x_kgm;
    let by = centre_shift_m(total, moved, to - from)?;
    let Some(moment) = may_be(inputs, "total_moment_lb_in")? else {
        return Ok(json!({ "cg_shift_in": by }));
    };
    let whole = on_the_lever(total, moment / total);
    Ok(json!({
        "moment_change_lb_in": change,
        "new_moment_lb_in": moment + change,
        "new_cg_in": centre(&[whole, moving[0], moving[1]])?.x_m,
        "cg_shift_in": by,
    }))
}

fn point_load(inputs: Inputs<'_>) -> Worked<Value> {
    let item = on_the_lever(kg(inputs, "load_lb")?, metres(inputs, "cg_from_front_axle_in")?);
    let loads = AxleLoads::default().with(&[item], metres(inputs, "wheelbase_in")?)?;
    Ok(json!({ "rear_lb": lb(loads.rear_kg), "front_lb": lb(loads.front_kg) }))
}

fn items(inputs: Inputs<'_>, key: &str) -> Worked<Vec<Item>> {
    let item = |value: &Value| {
        let part = Inputs(value);
        Ok(Item {
            mass_kg: kg(part, "lb")?,
            at: Place {
                x_m: metres(part, "x_in")?,
                y_m: metres(part, "y_in")?,
                z_m: 0.0,
            },
        })
    };
    inputs.list(key)?.iter().map(item).collect()
}

fn changes(inputs: Inputs<'_>) -> Worked<Vec<Item>> {
    let removed = items(inputs, "removed")?.into_iter().map(Item::taken_off);
    Ok(removed.chain(items(inputs, "added")?).collect())
}

fn weighed(inputs: Inputs<'_>) -> Worked<AxleLoads> {
    Ok(AxleLoads {
        front_kg: kg(inputs, "scale_front_lb")?,
        rear_kg: kg(inputs, "scale_rear_lb")?,
    })
}

fn axle_loads(inputs: Inputs<'_>) -> Worked<Value> {
    let wheelbase_m = metres(inputs, "wheelbase_in")?;
    let (weighed, changes) = (weighed(inputs)?, changes(inputs)?);
    let Stages {
        before,
        stripped,
        after,
        centre_shift_m,
    } = stages(weighed, wheelbase_m, &changes)?;
    let told = |loads: AxleLoads| -> Worked<Value> {
        Ok(json!({
            "total": lb(loads.total_kg()),
            "rear": lb(loads.rear_kg),
            "front": lb(loads.front_kg),
            "cg_x": inches(loads.centre_x_m(wheelbase_m)?),
        }))
    };
    let sides = side_totals(Weighed::Axles(weighed), metres(inputs, "track_in")?, &changes)?;
    Ok(json!({
        "before": told(before)?,
        "stripped": told(stripped)?,
        "after": told(after)?,
        "cg_shift_in": inches(centre_shift_m),
        "side_totals_lb": { "left": lb(sides.left_kg), "right": lb(sides.right_kg) },
    }))
}

fn wheels(inputs: Inputs<'_>) -> Worked<Value> {
    let track_m = metres(inputs, "track_in")?;
    let track = Track {
        front_m: track_m,
        rear_m: track_m,
    };
    let weighed = Weighed::Axles(weighed(inputs)?);
    let wheelbase_m = metres(inputs, "wheelbase_in")?;
    let found = wheel_loads(weighed, wheelbase_m, track, &changes(inputs)?, Split::FlexibleFrame)?;
    Ok(json!({
        "front_left": lb(found.front_left_kg),
        "front_right": lb(found.front_right_kg),
        "rear_left": lb(found.rear_left_kg),
        "rear_right": lb(found.rear_right_kg),
    }))
}

fn place([x_m, y_m, z_m]: [f64; 3]) -> Place {
    Place { x_m, y_m, z_m }
}

fn set(inputs: Inputs<'_>) -> Worked<Value> {
    let item = |value: &Value| {
        let part = Inputs(value);
        Ok(Item {
            mass_kg: part.float("mass_kg")?,
            at: place(array(part, "xyz_m")?),
        })
    };
    let items: Worked<Vec<Item>> = inputs.list("items")?.iter().map(item).collect();
    let sums = Moments::of(&items?)?;
    let at = sums.centre()?;
    Ok(json!({ "total_kg": sums.mass_kg, "cg_m": [at.x_m, at.y_m, at.z_m] }))
}

fn cg_height(inputs: Inputs<'_>) -> Worked<Value> {
    let front_kg = kg(inputs, "front_level_lb")?;
    let found = height(&Raising {
        level: AxleLoads {
            front_kg,
            rear_kg: kg(inputs, "total_lb")? - front_kg,
        },
        front_raised_kg: kg(inputs, "front_raised_lb")?,
        lift_m: metres(inputs, "rear_axle_raised_in")?,
        hub_height_m: metres(inputs, "hub_height_in")?,
        wheelbase_m: metres(inputs, "wheelbase_in")?,
    })?;
    Ok(json!({
        "theta_deg": found.tilt_rad.to_degrees(),
        "cg_x_in": inches(found.centre_x_m),
        "cg_height_in": inches(found.height_m),
    }))
}

fn inertia(inputs: Inputs<'_>) -> Worked<Value> {
    let mass_kg = inputs.float("mass_kg")?;
    let own = of_box(
        mass_kg,
        Size {
            length_m: inputs.float("l_m")?,
            width_m: inputs.float("w_m")?,
            height_m: inputs.float("h_m")?,
        },
    )?;
    let item = Item {
        mass_kg,
        at: place(array(inputs, "offset_xyz_m")?),
    };
    let about = own.about(item, Place::default());
    Ok(json!({
        "Ixx_c": own.xx_kgm2,
        "Iyy_c": own.yy_kgm2,
        "Izz_c": own.zz_kgm2,
        "Ixx_o": about.xx_kgm2,
        "Iyy_o": about.yy_kgm2,
        "Izz_o": about.zz_kgm2,
    }))
}
