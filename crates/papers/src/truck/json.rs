//! The truck as data.

use job::{
    Aboard, Axles, BedAtStop, Counted, Evaluation, GroundFigures, GroundResult, Of, RampCorner as Corner, WayName,
};
use serde_json::{Value, json};
use truck::mass::Place;
use truck::mass::axle::AxleLoads;
use truck::mass::wheel::WheelLoads;
use truck::rating::Margin;

/// What follows for the truck, as it stands in [`crate::evaluation_json`], with the findings that are of it.
pub fn truck_json(evaluation: &Evaluation) -> Value {
    let findings: Vec<Value> = crate::json::findings(evaluation)
        .into_iter()
        .filter(|finding| finding["subject"] == "truck" || finding["subject"] == "road")
        .collect();
    json!({ "vehicle": vehicle(evaluation), "road": crate::road::json::road(&evaluation.road), "findings": findings })
}

/// Keys carry their unit. `centre_m` of a lift is from the front left bottom corner of the body, not of what stands out over
/// all.
pub(crate) fn vehicle(evaluation: &Evaluation) -> Value {
    let vehicle = &evaluation.vehicle;
    json!({
        "entered": vehicle.entered,
        "needed": vehicle.needed,
        "faults": vehicle.faults,
        "conflicts": vehicle.conflicts,
        "half_entered": vehicle.halves.iter().map(|half| json!({
            "words": half.words, "fix": half.fix,
        })).collect::<Vec<_>>(),
        "bed_at_stop": vehicle.bed.as_ref().map(bed),
        "counted": vehicle.counted.iter().map(counted).collect::<Vec<_>>(),
        "not_counted": vehicle.uncounted.iter().map(|one| json!({
            "name": one.name, "why": one.why, "fix": one.fix, "for_the_road_kg": one.mass_kg,
        })).collect::<Vec<_>>(),
        "carried": vehicle.carried.iter().map(|load| json!({
            "name": load.name, "sets": load.sets, "mass_kg": load.mass_kg, "x_m": load.x_m,
        })).collect::<Vec<_>>(),
        "axles": vehicle.axles.as_ref().map(|axles| of_axles(evaluation, axles)),
        "ground": vehicle.ground.as_ref().map(ground),
        "lifts": vehicle.lifts.iter().map(|lift| json!({
            "box": lift.battery_box.0,
            "name": lift.name,
            "shell_kg": lift.shell_kg,
            "shell_hands": lift.shell_hands.words(),
            "loaded_kg": lift.loaded_kg,
            "loaded_hands": lift.loaded_hands.words(),
            "above_niosh": lift.above_niosh,
            "centre_m": lift.centre_m,
            "off_middle_m": lift.off_middle_m,
            "held_along": lift.end_names(),
            "ends_kg": lift.ends_kg,
            "corners_kg": lift.corners_kg,
        })).collect::<Vec<_>>(),
        "facts": evaluation.truck_facts().iter().map(|fact| json!({
            "name": fact.name,
            "text": fact.text,
            "grave": fact.grave.map(job::Grave::name),
        })).collect::<Vec<_>>(),
    })
}

fn counted(one: &Counted) -> Value {
    json!({
        "box": match one.of { Of::Box(id) => Some(id.0), Of::Component(_) => None },
        "name": one.name,
        "way": match one.way { WayName::Out => "out", WayName::In => "in" },
        "mass_kg": one.mass_kg,
        "at_m": place(one.at),
    })
}

/// Lengths in metres.
fn bed(bed: &BedAtStop) -> Value {
    let metres = |length: tape::Length| length.as_mm() / 1_000.0;
    json!({
        "tilt_deg": bed.tilt_deg,
        "reaches_m": metres(bed.reaches),
        "tail": bed.tail.as_ref().map(|tail| json!({
            "part": tail.part_name,
            "drop_m": metres(tail.drop),
            "height_m": metres(tail.height),
            "at_deg": tail.at_deg,
        })),
        "boxes": bed.boxes.iter().map(|room| json!({
            "box": room.name,
            "rises_m": room.rises.map(metres),
            "least_tilt_deg": room.least_deg,
        })).collect::<Vec<_>>(),
    })
}

fn place(at: Place) -> [f64; 3] {
    [at.x_m, at.y_m, at.z_m]
}

fn loads(loads: AxleLoads) -> Value {
    json!({ "front_kg": loads.front_kg, "rear_kg": loads.rear_kg, "total_kg": loads.total_kg() })
}

fn of_axles(evaluation: &Evaluation, axles: &Axles) -> Value {
    let off = |off: job::OffBy| json!({ "front_kg": off.front_kg, "rear_kg": off.rear_kg, "total_kg": off.total_kg });
    let of_wheels = |wheels: WheelLoads| {
        json!({
            "front_left_kg": wheels.front_left_kg,
            "front_right_kg": wheels.front_right_kg,
            "rear_left_kg": wheels.rear_left_kg,
            "rear_right_kg": wheels.rear_right_kg,
        })
    };
    let mut wheels_after = of_wheels(axles.wheels);
    wheels_after["by"] = json!(axles.wheels_by);
    wheels_after["assumed"] = json!(axles.wheels_assumed);
    wheels_after["weighed"] = json!(axles.wheels_weighed());
    json!({
        "wheelbase_m": axles.wheelbase_m,
        "before": loads(axles.before),
        "before_by": axles.before_by.name(),
        "weighed_with": axles.weighed_with,
        "before_off": off(axles.before_off),
        "stripped": loads(axles.stripped),
        "after": loads(axles.after),
        "after_off": off(axles.after_off),
        "after_weighed": axles.is_weighed,
        "worked_out": loads(axles.worked_out),
        "worked_out_off": off(axles.worked_out_off),
        "centre_before_m": place(axles.centre_before),
        "centre_after_m": place(axles.centre_after),
        "height_m_per_kg": axles.height_m_per_kg,
        "height_off_m": axles.height_off_m.map(|[before, after]| json!({ "before": before, "after": after })),
        "height_conflict": axles.height_conflict.map(|conflict| json!({
            "entered_m": conflict.entered_m,
            "weighed_m": conflict.weighed_m,
            "off_m": conflict.off_m,
        })),
        "wheels_after": wheels_after,
        "wheels_worked_out": of_wheels(axles.wheels_worked_out),
        "laden": axles.stated.iter().map(|stated| json!({
            "aboard": stated.aboard.words(),
            "people": match stated.aboard { Aboard::Nobody | Aboard::Set(_) => 0, Aboard::People(n) | Aboard::Cargo(n) => n },
            "set": match &stated.aboard { Aboard::Set(name) => Some(name), _ => None },
            "assumed": stated.assumed,
            "loads": loads(stated.loads),
            "wheels": of_wheels(stated.wheels),
            "wheel_margins": stated.of_wheels.iter().map(|(wheel, m)| json!({
                "wheel": wheel.name(),
                "limit": m.limit.words(),
                "limit_kg": m.limit_kg,
                "load_kg": m.load_kg,
                "left_kg": m.left_kg(),
                "within": m.within(),
            })).collect::<Vec<_>>(),
            "margins": stated.margins.iter().map(|m| margin(axles, m)).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "weakest": axles.weakest.as_ref().map(|(m, _)| margin(axles, m)),
        "weakest_with": axles.weakest.as_ref().map(|(_, aboard)| aboard.words()),
        "payload": axles.payload.as_ref().map(|(payload, aboard)| json!({
            "aboard": aboard.words(),
            "left_kg": payload.left_kg,
            "share_of_gross": payload.share_of_gross,
            "limited_by": payload.limited_by.words(),
            "at_x_m": axles.cargo_x_m,
            "wanted_kg": axles.payload_wanted_kg,
        })),
        "front_share": axles.front_share.is,
        "front_share_with": axles.front_share.aboard.words(),
        "front_share_least": axles.front_share.least,
        "wanted_rear_share": axles.wanted_rear,
        "moves": axles.moves.iter().map(|one| json!({
            "box": one.battery_box.0,
            "name": one.name,
            "by_mm": one.by.as_mm(),
            "has_room": one.has_room(),
        })).collect::<Vec<_>>(),
        "moves_text": evaluation.move_words(),
        "weighed_after": axles.reweighed.map(|again| json!({
            "read": loads(again.read),
            "read_wheels_kg": again.wheels_kg,
            "differs_kg": again.differs_kg,
            "may_differ_kg": again.may_differ_kg,
            "agrees": again.agrees(),
        })),
        "assumed": { "loads": axles.loads_assumed, "aboard": axles.aboard_assumed, "height": axles.height_assumed },
    })
}

fn margin(axles: &Axles, margin: &Margin) -> Value {
    json!({
        "limit": margin.limit.words(),
        "limit_kg": margin.limit_kg,
        "load_kg": margin.load_kg,
        "left_kg": margin.left_kg(),
        "left_share": margin.left_share(),
        "within": margin.within(),
        "source": axles.source_words(margin.limit),
    })
}

fn ground(ground: &GroundResult) -> Value {
    json!({
        "before": figures(&ground.before),
        "with_boxes": figures(&ground.boxes),
        "sunk": ground.sunk.as_ref().map(figures),
        "sunk_with": ground.sunk_with.iter().map(|sunk| json!({
            "aboard": sunk.aboard.words(),
            "drop_front_m": sunk.drop.front_m,
            "drop_rear_m": sunk.drop.rear_m,
            "hub_drop_front_m": sunk.drop.front_hub_m,
            "hub_drop_rear_m": sunk.drop.rear_hub_m,
            "figures": figures(&sunk.figures),
        })).collect::<Vec<_>>(),
        "lowest_box": ground.lowest_box.as_ref().map(|low| json!({
            "box": low.battery_box.0,
            "name": low.name,
            "height_m": low.height_m,
            "below_frame_m": low.below_frame_m,
        })),
        "assumed": ground.is_assumed,
    })
}

fn figures(figures: &GroundFigures) -> Value {
    let corner = |corner: &Option<Corner>| {
        corner
            .as_ref()
            .map(|corner| json!({ "degrees": corner.degrees, "at": corner.at.name, "x_m": corner.at.x_m, "z_m": corner.at.z_m }))
    };
    json!({
        "approach": corner(&figures.approach),
        "breakover": corner(&figures.breakover),
        "departure": corner(&figures.departure),
        "touching": figures.touching,
        "lowest": figures.lowest.as_ref().map(|low| json!({ "at": low.name, "rides_on": low.rides_on.name(), "x_m": low.x_m, "z_m": low.z_m })),
    })
}
