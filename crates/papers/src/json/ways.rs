//! Ways in as data.

use geometry::way_in::plan::Plane;
use job::way_in::{
    Bar, Barred, BedSweep, BoxWay, Filled, Help, Known, LOOKED_AT, Loading, Motion, Outcome, Service, State, Then,
    Tried, Way, WaysIn, What,
};
use serde_json::{Value, json};

use super::{kg, mm};

/// The way of each box, the order in which they go in, and how each is loaded. Places are in millimetres: x rearward, y to
/// the right, z up.
pub fn ways_json(ways: &WaysIn) -> Value {
    let names = |places: &[usize]| -> Vec<&str> { places.iter().map(|&i| ways.boxes[i].name.as_str()).collect() };
    json!({
        "summary": ways.summary(),
        "order": names(&ways.order),
        "cannot_be_loaded": ways.not_loadable().into_iter().map(|(b, why)| {
            json!({ "box": b.name, "why": why })
        }).collect::<Vec<_>>(),
        "bed": ways.question.bed.name(),
        "with_another_bed": ways.other_beds().into_iter().map(|(bed, names)| {
            json!({ "bed": bed.name(), "boxes": names })
        }).collect::<Vec<_>>(),
        "stuck": ways.stuck.as_ref().map(|stuck| json!({ "boxes": stuck.names, "proved": stuck.proved })),
        "boxes": ways.boxes.iter().enumerate().map(|(i, b)| battery_box(ways, i, b, &names(&b.after))).collect::<Vec<_>>(),
        "left_out": ways.question.left_out.iter().map(|(name, why)| json!({ "box": name, "why": why })).collect::<Vec<_>>(),
        "motions": LOOKED_AT,
        "not_looked_at": ways.question.not_looked_at,
        "assumed": ways.question.assumed,
        "stopped": ways.stopped,
    })
}

/// How near the bed comes to each box, or what has to be entered for that.
pub fn bed_json(swept: &Result<BedSweep, String>) -> Value {
    match swept {
        Ok(swept) => json!({
            "tilt_deg": swept.tilt_deg,
            "nearest": swept.nearest.iter().map(|near| json!({
                "box": near.box_name,
                "part": near.part_name,
                "distance_mm": mm(near.distance),
                "at_deg": near.at_deg,
                "meets_deg": near.meets_deg,
            })).collect::<Vec<_>>(),
            "not_placed": swept.not_placed,
        }),
        Err(missing) => json!({ "missing": missing }),
    }
}

/// What comes off before a module comes out.
pub fn service_json(service: &Service) -> Value {
    json!({
        "module": service.label,
        "units": service.units,
        "box": service.box_name,
        "lid_opens_in_place": service.not_in_place.is_empty(),
        "over_the_lid": service.over_it(),
        "barred_in_place": service.not_in_place.iter().map(|b| barred(b, service.style)).collect::<Vec<_>>(),
        "barred_under_the_truck": service.low_under.as_ref().map(|b| barred(b, service.style)),
        "bed": service.bed.map(job::BedName::name),
        "boxes_out": service.boxes.iter().map(|out| json!({
            "box": out.name,
            "kg": kg(out.mass_g),
            "cables": out.cables,
            "taken_off": out.without,
            "through": out.by.as_ref().map(|(through, _)| through.name()),
            "drawn_out_from_under": out.is_under(),
        })).collect::<Vec<_>>(),
        "modules_first": service.before.iter().map(|(label, grams)| json!({
            "module": label,
            "kg": grams.map(kg),
        })).collect::<Vec<_>>(),
        "bars_off": service.bars,
        "monitoring": service.taps,
        "links": service.links,
        "kg": service.mass_g.map(kg),
        "steps": service.steps(),
        "troubles": service.troubles(),
    })
}

fn battery_box(ways: &WaysIn, at: usize, battery_box: &BoxWay, after: &[&str]) -> Value {
    let moved = &ways.question.boxes[at];
    let (way, tried, help) = match &battery_box.outcome {
        Outcome::Goes(found) => (Some(way(found)), Vec::new(), Vec::new()),
        Outcome::Stays { tried, help } => (
            None,
            tried.iter().map(self::tried).collect(),
            help.iter().map(|one| self::help(one, ways.question.style)).collect(),
        ),
    };
    json!({
        "box": battery_box.name,
        "goes": way.is_some(),
        "proved_impossible": battery_box.outcome.is_impossible(),
        "way": way,
        "tried": tried,
        "help": help,
        "comes_out_after": after,
        "kg": kg(moved.mass_g),
        "kg_empty": kg(moved.empty_g),
        "loading": loading(ways, at, &ways.loading[at]),
        "states": ways.states[at].iter().map(|s| state(ways, at, s)).collect::<Vec<_>>(),
    })
}

/// A box lifted empty, half loaded or loaded.
fn state(ways: &WaysIn, at: usize, state: &State) -> Value {
    let open = &ways.question.loading[at];
    let labels = |places: &[usize]| -> Vec<&str> { places.iter().map(|&m| open.modules[m].label.as_str()).collect() };
    json!({
        "state": match state.filled {
            Filled::Empty => "empty",
            Filled::Half => "half",
            Filled::Loaded => "loaded",
        },
        "kg": state.mass_g.map(kg),
        "lifted_by": state.hands().map(truck::lift::Hands::words),
        "goes": state.goes,
        "modules_in_it": labels(&state.within),
        "modules_in_place": labels(&state.rest),
        "held": state.held.iter().map(|held| held.words(ways.question.style)).collect::<Vec<_>>(),
        "barred": state.barred.iter().map(|b| barred(b, ways.question.style)).collect::<Vec<_>>(),
    })
}

/// What bars a lid or a module where its box stands.
fn barred(barred: &Barred, style: tape::show::Style) -> Value {
    let (needs, has) = match &barred.bar {
        Bar::Low { needs, has, .. } => (Some(mm(*needs)), Some(mm(*has))),
        Bar::OnTheWay { .. } | Bar::Closed | Bar::Screws { .. } => (None, None),
    };
    json!({
        "part": barred.part,
        "by": barred.by(),
        "needs_mm": needs,
        "has_mm": has,
        "words": barred.words(style),
    })
}

fn way(way: &Way) -> Value {
    let (axis, by) = match way.motion {
        Motion::ThenSlid { axis, by } => (Some(axis.extent_name()), Some(mm(by))),
        Motion::Straight | Motion::Level | Motion::Pitched(_) => (None, None),
    };
    json!({
        "through": way.through.name(),
        "motion": motion(way.motion),
        "off_along": axis,
        "off_mm": by,
        "steps": way.steps.iter().map(|step| json!({
            "by_mm": step.by.0.map(mm),
            "turn_deg": step.turn_deg,
            "above_ground_mm": step.above_ground.map(|ends| ends.map(mm)),
        })).collect::<Vec<_>>(),
        "margin": way.margin.as_ref().map(|margin| json!({
            "mm": mm(margin.distance),
            "to": margin.name,
            "what": what(margin.what),
        })),
        "play": way.play.iter().map(|(axis, [low, high])| json!({
            "along": axis.extent_name(),
            "mm": [mm(*low), mm(*high)],
        })).collect::<Vec<_>>(),
        "for_sure": way.sure,
        "fitted_afterwards": way.without,
        "lid_off": way.off.lid,
        "brackets_off": way.off.brackets,
    })
}

fn tried(tried: &Tried) -> Value {
    json!({
        "through": tried.through.name(),
        "proved": tried.is_proved(),
        "known": known(tried.known),
        "openings_taken_in_the_middle": tried.in_the_middle.iter().map(|face| face.name()).collect::<Vec<_>>(),
        "stops": tried.stops.iter().map(|stop| json!({
            "name": stop.name,
            "what": what(stop.what),
            "part": stop.part,
            "along": stop.overlap.0.extent_name(),
            "overlap_mm": mm(stop.overlap.1),
            "left_mm": mm(stop.left),
        })).collect::<Vec<_>>(),
    })
}

/// What is known of a face, with how closely it was looked at where that is too close to call.
fn known(known: Known) -> Value {
    match known {
        Known::Proved => json!({ "is": "proved" }),
        Known::TooClose { up, turn_deg } => {
            json!({ "is": "too close to call", "every_mm": mm(up), "every_degrees": turn_deg })
        }
        Known::Steps => json!({ "is": "not settled within the steps allowed" }),
        Known::Outside => json!({ "is": "the way outside of the cavity not looked at in full" }),
    }
}

fn help(told: &Help, style: tape::show::Style) -> Value {
    match told {
        Help::TakeOut { name, what: is, then } => {
            json!({ "take_out": name, "what": what(*is), "then": self::then(then) })
        }
        Help::Together { out, and, then } => json!({
            "take_out_all": out.iter().map(|(name, is)| json!({ "name": name, "what": what(*is) })).collect::<Vec<_>>(),
            "and": and.as_ref().map(|and| help(and, style)),
            "then": self::then(then),
        }),
        Help::Smaller {
            axis,
            cut,
            free,
            bay,
            then,
        } => json!({
            "smaller_along": axis.extent_name(),
            "by_mm": mm(cut[0] + cut[1]),
            "at_ends_mm": cut.map(mm),
            "free_inside_mm": mm(*free),
            "bay_less_mm": mm(*bay),
            "then": self::then(then),
        }),
        Help::Wider {
            opening,
            lips,
            sizes,
            then,
        } => json!({
            "wider_opening": opening.name(),
            "lips_back": lips.iter().map(|(end, by)| json!({ "lip": end.name(), "by_mm": mm(*by) })).collect::<Vec<_>>(),
            "sizes": sizes.iter().map(|(axis, is, needs)| json!({
                "along": axis.extent_name(), "is_mm": mm(*is), "needs_mm": mm(*needs),
            })).collect::<Vec<_>>(),
            "then": self::then(then),
        }),
        Help::LidOn { why } => json!({ "lid_keeps_it_out": why }),
        Help::LidBarred { barred } => json!({ "lid_keeps_it_out": barred.words(style) }),
        Help::Bed { bed, then } => json!({ "bed": bed.name(), "then": self::then(then) }),
        Help::Raise { by, then } => json!({ "raise_truck_mm": mm(*by), "then": self::then(then) }),
    }
}

/// How a box goes once something is changed.
fn then(then: &Then) -> Value {
    json!({
        "through": then.through.name(),
        "motion": motion(then.motion),
        "for_sure": then.sure,
        "lid_off": then.off.lid,
        "brackets_off": then.off.brackets,
    })
}

const fn motion(motion: Motion) -> &'static str {
    match motion {
        Motion::Straight => "straight",
        Motion::ThenSlid { .. } => "then slid",
        Motion::Level => "level, step by step",
        Motion::Pitched(Plane::Side) => "pitched front to rear",
        Motion::Pitched(Plane::Across) => "pitched left to right",
    }
}

fn loading(ways: &WaysIn, at: usize, loading: &Loading) -> Value {
    let open = &ways.question.loading[at];
    json!({
        "order": loading.order.iter().map(|&i| open.modules[i].label.as_str()).collect::<Vec<_>>(),
        "bars_on_last": open.bars.len(),
        "held": loading.held.iter().map(|held| held.words(ways.question.style)).collect::<Vec<_>>(),
    })
}

const fn what(what: What) -> &'static str {
    match what {
        What::Wall(_) => "wall",
        What::Lip(..) => "lip",
        What::KeepOut(_) => "keep-out",
        What::Box(_) => "box",
        What::Bed(_) => "bed",
        What::Ground => "ground",
    }
}
