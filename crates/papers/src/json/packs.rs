//! Kinds and packs.

use job::{Evaluation, KindResult, PackResult};
use pack::CellVolts;
use pack::arrangement::{Arrangement, Choice, Figures, Objection};
use serde_json::{Value, json};

use super::{kg, mm, mm3};

pub(super) fn kind(evaluation: &Evaluation, kind: &KindResult) -> Value {
    let service: Vec<Value> = geometry::Face::ALL
        .into_iter()
        .map(|face| json!({ "own_face": face.name(), "depth_mm": mm(kind.service[face]) }))
        .collect();
    json!({
        "id": kind.id.0,
        "name": kind.name,
        "size_mm": kind.size.map(|size| mm3(size.0)),
        "size_text": kind.size.map(|size| size.0.map(|length| evaluation.up(length))),
        "mass_kg": kind.mass_g.map(kg),
        "module": kind.module.as_ref().map(|m| json!({
            "cells_series": m.cells_series,
            "cells_parallel": m.cells_parallel,
            "volts": volts(m.volts),
            "capacity_ah": m.capacity.get(),
            "continuous_a": m.continuous.map(pack::Amps::get),
            "peak_a": m.peak.map(pack::Amps::get),
        })),
        "may_stand": kind.orientations.iter().map(|o| json!({
            "own_face_up": o.up().name(),
            "own_face_rear": o.rear().name(),
        })).collect::<Vec<_>>(),
        "terminals": kind.terminals.name(),
        "service": service,
        "stack": kind.stack.as_ref().map(|s| json!({
            "along": s.along.extent_name(),
            "fewest": s.min,
            "most": s.max,
            "end_mm": mm(s.end),
            "growth_mm": mm(s.growth),
        })),
        "on_hand": kind.on_hand,
        "placed": kind.placed,
    })
}

pub(super) fn pack(pack: &PackResult) -> Value {
    json!({
        "kind": pack.kind.0,
        "name": pack.name,
        "on_hand": pack.on_hand,
        "placed": pack.placed,
        "series_that_fit": pack.fits.map(|(least, most)| json!({ "least": least, "most": most })),
        "wanted": pack.wanted.map(arrangement),
        "arrangement": pack.arrangement.map(arrangement),
        "missing": pack.missing,
        "left_over": pack.left_over,
        "figures": pack.figures.as_ref().map(figures),
        "objections": objections(&pack.objections),
        "electric": pack.electric.as_ref().map(super::electric::electric),
        "choices": pack.choices.iter().map(choice).collect::<Vec<_>>(),
        "not_known": pack.unknown.map(|unknown| json!({ "what": unknown.what, "fix": unknown.fix })),
    })
}

fn choice(choice: &Choice) -> Value {
    json!({
        "arrangement": arrangement(choice.arrangement),
        "figures": figures(&choice.figures),
        "fits": choice.fits(),
        "objections": objections(&choice.objections),
        "left_over": choice.left_over,
    })
}

fn objections(objections: &[Objection]) -> Vec<Value> {
    let grave = |o: &Objection| match o.grave() {
        pack::arrangement::Grave::Stop => "stop",
        pack::arrangement::Grave::Caution => "caution",
    };
    objections
        .iter()
        .map(|o| json!({ "grave": grave(o), "words": o.words(), "fix": o.fix() }))
        .collect()
}

pub(super) fn arrangement(arrangement: Arrangement) -> Value {
    json!({ "series": arrangement.series, "parallel": arrangement.parallel })
}

pub(super) fn volts(volts: CellVolts) -> Value {
    json!({ "empty_v": volts.empty.get(), "nominal_v": volts.nominal.get(), "full_v": volts.full.get() })
}

fn figures(figures: &Figures) -> Value {
    json!({
        "volts": volts(figures.volts),
        "capacity_ah": figures.capacity.get(),
        "energy_kwh": figures.energy.kwh(),
        "continuous_a": figures.continuous.map(pack::Amps::get),
        "peak_a": figures.peak.map(pack::Amps::get),
        "cells_series": figures.cells.0,
        "cells_parallel": figures.cells.1,
    })
}
