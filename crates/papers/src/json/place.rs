//! Cavities and boxes: where things are and how far apart.

use geometry::{Cuboid, Face};
use job::{
    BoxResult, BoxStrength, CavityResult, ClearanceResult, Dimension, Evaluation, FittingResult, Ledger, LidReach,
    ModuleResult, Near, Room, SixClearances, StrengthCheck,
};
use serde_json::{Value, json};
use tape::Length;

use super::{cut, kg, mm, mm3};
use crate::words;

pub(super) fn cavity(evaluation: &Evaluation, cavity: &CavityResult) -> Value {
    let keep_outs: Vec<Value> = cavity
        .keep_outs
        .iter()
        .map(|k| {
            json!({
                "id": k.id.0,
                "name": k.name,
                "source": k.source.name(),
                "cuboid": cuboid(&k.cuboid),
                "kept_free": cuboid(&k.sure),
                "sigma_mm": Face::ALL.map(|face| mm(k.sigmas[face])),
                "margin_mm": mm(k.margin),
                "margin_text": evaluation.up(k.margin),
                "counts": k.counts,
            })
        })
        .collect();
    let unplaced: Vec<Value> = cavity
        .unplaced
        .iter()
        .map(|k| json!({ "id": k.id.0, "name": k.name, "why": k.why }))
        .collect();
    json!({
        "id": cavity.id.0,
        "name": cavity.name,
        "dimensions": cavity.dimensions.each_ref().map(|d| d.as_ref().map(|d| dimension(evaluation, d))),
        "space": cavity.space.as_ref().map(cuboid),
        "usable": cavity.usable.as_ref().map(cuboid),
        "keep_outs": keep_outs,
        "keep_outs_without_place": unplaced,
        "rests_on": cavity.survey.basis(),
        "survey": super::survey::survey(evaluation, cavity),
        "diagonals_differ": cavity.survey.out_of_square.as_ref().map(|found| json!({
            "face": found.face.to_string(),
            "by_mm": mm(found.by),
            "by_text": evaluation.up(found.by),
        })),
    })
}

fn dimension(evaluation: &Evaluation, dimension: &Dimension) -> Value {
    let usable = &dimension.usable;
    let places: Vec<Value> = usable
        .places
        .iter()
        .map(|p| json!({ "place": p.place, "value_mm": mm(p.value), "sigma_mm": mm(p.sigma), "repeats": p.repeats }))
        .collect();
    json!({
        "extent": dimension.axis.extent_name(),
        "usable_mm": mm(usable.value),
        "usable_text": evaluation.down(usable.value),
        "smallest_mm": mm(dimension.smallest),
        "smallest_text": evaluation.near(dimension.smallest),
        "spread_mm": mm(usable.spread),
        "spread_text": evaluation.up(usable.spread),
        "limiting_place": usable.places.get(usable.limiting).map(|p| p.place.as_str()),
        "places": places,
    })
}

pub(super) fn battery_box(evaluation: &Evaluation, battery_box: &BoxResult) -> Value {
    json!({
        "id": battery_box.id.0,
        "name": battery_box.name,
        "cavity": battery_box.cavity.0,
        "fixed": battery_box.fixed,
        "bay": battery_box.bay.map(geometry::Face::name),
        "inside": battery_box.inside.as_ref().map(cuboid),
        "inside_text": battery_box.inside.map(|c| c.size().0.map(|length| evaluation.down(length))),
        "body": battery_box.body.as_ref().map(cuboid),
        "step_under": battery_box.step_under().as_ref().map(cuboid),
        "solids": battery_box.solids.iter().map(cuboid).collect::<Vec<_>>(),
        "built": battery_box.built.as_ref().map(|built| cut::built(evaluation, built)),
        "fault": battery_box.fault.as_ref().map(ToString::to_string),
        "clearances": battery_box.around.as_ref().map(|around| six(evaluation, around)),
        "modules": battery_box.modules.iter().map(|m| module(evaluation, m)).collect::<Vec<_>>(),
        "roomiest": battery_box.roomiest.map(|found| json!({
            "room_mm": mm(found.room),
            "now_mm": mm(found.now),
            "away_mm": mm3(found.away.0),
        })),
        "drawn": battery_box.drawn.as_ref().map(cuboid),
        "fit": json!({
            "not_in_it": job::NOT_IN_CHANCE,
            "goes_in": battery_box.fit.goes_in(),
            "modules_go_in": battery_box.fit.modules_go_in(),
            "outside": battery_box.fit.outside.iter().map(room).collect::<Vec<_>>(),
            "inside": battery_box.fit.inside.iter().map(room).collect::<Vec<_>>(),
        }),
        "ledgers": battery_box.ledgers.iter().map(|l| ledger(evaluation, l)).collect::<Vec<_>>(),
        "inside_may_lose_mm": {
            "welds": battery_box.losses.welds.map(mm),
            "rounding": battery_box.losses.rounding.map(mm),
        },
        "shell_kg": kg(battery_box.mass.shell_g),
        "added_kg": kg(battery_box.mass.added_g),
        "modules_kg": kg(battery_box.mass.modules_g),
        "total_kg": kg(battery_box.mass.total_g()),
        "fittings": battery_box.fittings.iter().map(fitting).collect::<Vec<_>>(),
        "cable_exits": evaluation.exits_of(battery_box.id).map(cable_exit).collect::<Vec<_>>(),
        "frame_holes": battery_box.added.frame_holes.iter().map(frame_hole).collect::<Vec<_>>(),
        "bracket_ends": battery_box.added.seats.iter().map(|seat| json!({
            "wall": seat.face.name(),
            "short_of_mm": mm(seat.gap),
            "to": seat.to,
        })).collect::<Vec<_>>(),
        "floor_rails": battery_box.added.floor_rails.as_ref().map(|rails| json!({
            "count": rails.count,
            "along": rails.along.extent_name(),
            "leg_mm": mm(rails.angle[0]),
            "thickness_mm": mm(rails.angle[1]),
            "length_mm": mm(rails.length),
            "widest_span_mm": mm(rails.span),
        })),
        "strength": battery_box.strength.as_ref().map(|sums| strength(sums, evaluation.units)),
        "welds": battery_box.welds.as_ref().map(super::welds::welds),
        "no_room_for_tools": battery_box.tools.iter().map(|no_room| json!({
            "at": no_room.at.words(),
            "by": no_room.by,
            "count": no_room.count,
            "of": no_room.of,
            "needs_mm": mm(no_room.at.needs()),
        })).collect::<Vec<_>>(),
        "lid_screws": battery_box.reach.as_ref().map(lid_screws),
    })
}

/// A cable that crosses its walls, and the terminal it comes from.
fn cable_exit(exit: &job::CableExit) -> Value {
    json!({
        "link": exit.link,
        "kind": exit.kind.name(),
        "cable": exit.name,
        "outside_mm": mm(exit.outside),
        "outside_is_typical": exit.is_typical,
        "from_mm": exit.from.0.map(mm),
    })
}

fn lid_screws(reach: &LidReach) -> Value {
    let over = |(name, count): &(String, u32)| json!({ "name": name, "screws": count });
    let beside = |(face, room): &(Face, Length)| json!({ "side": face.name(), "sure_mm": mm(*room) });
    json!({
        "screws": reach.screws,
        "no_room_over": reach.over.iter().map(over).collect::<Vec<_>>(),
        "no_hand_beside": reach.beside.iter().map(beside).collect::<Vec<_>>(),
    })
}

/// A hole that a bracket's bolt asks for in the frame; `at_mm` is along it and up from the cavity's floor, null in a flange.
fn frame_hole(hole: &job::FrameHole) -> Value {
    json!({
        "wall": hole.face.name(),
        "at_mm": hole.at.map(|at| at.map(mm)),
        "diameter_mm": mm(hole.diameter),
        "is_there": hole.is_there,
        "to_flange_mm": hole.to_flange.map(mm),
        "breaks": hole.says.iter().map(|says| json!({ "words": says.words, "source": says.source })).collect::<Vec<_>>(),
    })
}

/// Loads and limits in the unit told beside them; a share that has no end is null.
fn fitting(fitting: &FittingResult) -> Value {
    json!({
        "id": fitting.id.0,
        "what": fitting.what.name(),
        "wall": if fitting.in_riser { "riser" } else { fitting.wall.name() },
        "hole_mm": mm(fitting.hole),
        "across_mm": mm(fitting.across),
        "kept_bare_mm": fitting.bare().map(mm),
        "outside": fitting.outside.as_ref().map(cuboid),
        "inside": fitting.inside.as_ref().map(cuboid),
        "left_out": fitting.fault,
        "reaches_into": fitting.meets,
    })
}

fn strength(strength: &BoxStrength, units: tape::Units) -> Value {
    let check = |check: &StrengthCheck| {
        json!({
            "what": check.of.what,
            "load": check.of.is_told().then_some(check.of.load),
            "limit": check.of.limit,
            "bound": check.of.bound.name(),
            "unit": check.of.unit,
            "share": check.of.is_told().then_some(check.of.share),
            "outside": check.outside(),
            "over": check.over().map(job::Grave::name),
            "formula": check.of.formula,
            "source": check.of.source,
            "known_by": job::known_words(check.of.known),
            "load_factor": check.factor.map(|factor| json!({
                "g": factor.g,
                "source": factor.source,
                "known_by": job::known_words(factor.known),
            })),
            "says": check.says,
            "fix": check.fix,
        })
    };
    json!({
        "not_in_it": job::FIRST_ORDER,
        "mass_kg": strength.mass_kg,
        "bolts": strength.bolts,
        "taken": strength.taken,
        "not_summed": strength.not_summed,
        "governs": strength.governs_text(),
        "checks": strength.checks.iter().map(check).collect::<Vec<_>>(),
        "sling": strength.lift.map(|lift| json!({
            "eyes": lift.eyes,
            "legs": lift.legs,
            "carrying": lift.carrying,
            "angle_deg": lift.angle_deg,
            "leg_n": lift.leg_n,
            "picked_up_n": lift.picked_up_n(),
            "most_share": lift.most_share,
            "tips": lift.tips,
            "hang_deg": lift.hang.map(|hang| hang.deg),
            "words": lift.words(units),
        })),
    })
}

fn module(evaluation: &Evaluation, module: &ModuleResult) -> Value {
    json!({
        "id": module.id.0,
        "label": module.label,
        "kind": module.kind.0,
        "count": module.count,
        "pinned": module.pinned,
        "own_face_up": module.stands.up().name(),
        "own_face_rear": module.stands.rear().name(),
        "cuboid": cuboid(&module.cuboid),
        "terminals": module.terminals.iter().map(|f| f.name()).collect::<Vec<_>>(),
        "service": module.service.iter().map(cuboid).collect::<Vec<_>>(),
        "clearances": module.around.as_ref().map(|around| six(evaluation, around)),
        "blocked_by": module.blocked_by,
    })
}

fn ledger(evaluation: &Evaluation, ledger: &Ledger) -> Value {
    let entries: Vec<Value> = ledger
        .entries
        .iter()
        .map(|e| {
            json!({ "words": e.words, "length_mm": mm(e.length), "length_text": words::fine(evaluation, e.length) })
        })
        .collect();
    json!({
        "extent": ledger.axis.extent_name(),
        "entries": entries,
        "total_mm": mm(ledger.total),
        "total_text": words::fine(evaluation, ledger.total),
    })
}

fn room(room: &Room) -> Value {
    json!({
        "extent": room.axis.extent_name(),
        "free_mm": mm(room.free),
        "asked_mm": mm(room.asked),
        "sigma_mm": mm(room.sigma),
        "worst_mm": mm(room.worst),
        "root_sum_square_mm": mm(room.likely),
        "fits": room.fits,
        "keeps_margin": room.keeps,
        "shares": room.shares.iter().map(|share| json!({
            "cause": share.cause.words(),
            "limits_mm": mm(share.limits),
            "takes_mm": mm(share.takes),
            "sigma_mm": mm(share.sigma),
            "fits_without": share.fits_without,
        })).collect::<Vec<_>>(),
    })
}

fn six(evaluation: &Evaluation, around: &SixClearances) -> Value {
    json!({
        "faces": around.faces.each_ref().map(|c| clearance(evaluation, c)),
        "nearest": clearance(evaluation, &around.nearest),
    })
}

pub(super) fn clearance(evaluation: &Evaluation, clearance: &ClearanceResult) -> Value {
    let (near, id) = match clearance.near {
        Near::Wall(_) => ("wall", None),
        Near::Liner(_) => ("liner", None),
        Near::Step => ("step", None),
        Near::KeepOut(id) => ("keep-out", Some(id.0)),
        Near::Box(id) => ("box", Some(id.0)),
        Near::Module(id) => ("module", Some(id.0)),
    };
    json!({
        "face": clearance.face.name(),
        "distance_mm": mm(clearance.distance),
        "distance_text": evaluation.down(clearance.distance),
        "held_back_mm": mm(clearance.held),
        "sigma_mm": mm(clearance.sigma),
        "asked_mm": mm(clearance.asked),
        "asked_text": evaluation.up(clearance.asked),
        "short": clearance.is_short(),
        "near": near,
        "id": id,
        "name": &*clearance.name,
    })
}

pub(super) fn cuboid(cuboid: &Cuboid) -> Value {
    json!({ "from_mm": mm3(cuboid.lo().0), "to_mm": mm3(cuboid.hi().0) })
}
