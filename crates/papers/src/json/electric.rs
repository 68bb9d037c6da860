//! The electrics of a pack.

use job::{Electric, Group, LinkResult, LoadRow, Matched, UnitResult, Verdict, WiringResult};
use pack::{Ohms, Volts};
use serde_json::{Value, json};

use super::{kg, mm};

pub(super) fn electric(electric: &Electric) -> Value {
    let energy = &electric.energy;
    let milliohms = |r: Option<Ohms>| r.map(Ohms::milliohms);
    json!({
        "joined": electric.joined.name(),
        "energy": {
            "sticker_kwh": energy.sticker_kwh,
            "worn_kwh": energy.worn_kwh,
            "usable_kwh": energy.usable_kwh,
            "health": energy.health,
            "used_between": energy.used,
            "by_measured_units": energy.measured,
        },
        "resistance_mohm": {
            "modules": milliohms(electric.resistances.modules),
            "links": electric.resistances.links.milliohms(),
            "leads": electric.resistances.leads.milliohms(),
            "total": milliohms(electric.resistances.total),
            "modules_measured": electric.resistances.measured,
        },
        "load": electric.load.as_ref().map(load),
        "volts_over_charge": electric.curve.iter().map(|p| json!({
            "charge": p.charge,
            "rest_v": p.rest.get(),
            "at_peak_v": p.loaded.map(Volts::get),
        })).collect::<Vec<_>>(),
        "volts_over_charge_source": electric.curve_source,
        "charging": electric.charging.as_ref().map(|c| json!({
            "line_kw": c.line_kw,
            "pack_kw": c.pack_kw,
            "held_by": c.held_by,
            "amps_a": c.amps,
            "hours": c.hours,
        })),
        "checks": electric.checks.iter().map(|c| json!({
            "topic": c.topic,
            "words": c.words,
            "limit": c.limit,
            "verdict": match c.verdict {
                Verdict::NotMet(grave) => format!("not met: {}", grave.name()),
                other => other.name().to_owned(),
            },
            "source": c.source,
            "fix": c.fix,
        })).collect::<Vec<_>>(),
        "wiring": electric.wiring.as_ref().map(wiring),
        "units": electric.matched.as_ref().map(matched),
    })
}

fn load(load: &job::Load) -> Value {
    let loaded = |l: &job::Loaded| json!({ "amps_a": l.amps, "volts_v": l.volts.get(), "power_w": l.power_w, "heat_w": l.heat_w });
    let row = |r: &LoadRow| {
        json!({
            "when": r.name,
            "rest_v": r.rest.get(),
            "continuous": r.continuous.as_ref().map(loaded),
            "peak": r.peak.as_ref().map(loaded),
            "cuts_out": r.cuts_out,
        })
    };
    json!({
        "rows": load.rows.iter().map(row).collect::<Vec<_>>(),
        "most_power_w": load.most.map(|m| m.map(|m| json!({ "power_w": m.at.power_w, "limit": m.limit.name() }))),
        "cruise": load.cruise.as_ref().map(|c| json!({ "kw": c.kw, "at": loaded(&c.at), "c_rate": c.c_rate, "efficiency": c.at.efficiency })),
        "returned_a": load.regen.map(|both| both.map(|r| r.amps)),
        "module_warms_k_per_hour": load.warmth.hour_k,
        "module_warms_k_per_peak_minute": load.warmth.peak_minute_k,
    })
}

fn wiring(wiring: &WiringResult) -> Value {
    let link = |l: &LinkResult| {
        json!({
            "number": l.number,
            "from": wiring.end_name(l.from),
            "to": wiring.end_name(l.to),
            "what": l.kind.name(),
            "section": l.to_cut().map(|_| &l.section),
            "run_mm": mm(l.run),
            "cut_mm": l.to_cut().map(mm),
            "resistance_mohm": l.resistance.milliohms(),
            "amps_a": l.amps,
            "drop_v": l.drop.map(Volts::get),
            "heat_w": l.heat_w,
            "mass_kg": kg(l.mass_g),
            "makes_v": l.makes.get(),
            "kept": l.locked,
            "disconnect": l.disconnect,
            "crosses": l.crosses,
            "passes_over": l.passes_over,
        })
    };
    json!({
        "order_from": match wiring.from {
            job::OrderFrom::Given => "given",
            job::OrderFrom::Mended => "mended",
            job::OrderFrom::Nearest => "nearest to nearest",
        },
        "order": wiring.seats.iter().map(|s| json!({
            "place": s.seat.to_string(),
            "turned": s.turned,
            "unit": s.unit,
        })).collect::<Vec<_>>(),
        "length_mm": mm(wiring.length),
        "cable_mm": mm(wiring.cable),
        "neighbour_v": wiring.neighbour.map(|n| n.volts.get()),
        "links": wiring.links.iter().map(link).collect::<Vec<_>>(),
        "fitting": wiring.fitting.iter().map(|f| json!({
            "order": f.name,
            "above_60_v": f.above,
            "largest_v": f.largest.get(),
            "steps": f.steps.iter().map(|s| json!({ "link": s.link, "piece_v": s.piece.get(), "largest_v": s.largest.get() })).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "taps": wiring.taps.iter().map(|t| json!({
            "channel": t.channel,
            "string": t.string,
            "place": wiring.seats[t.at.0].seat.to_string(),
            "plus": t.at.1,
            "nominal_v": t.volts.get(),
        })).collect::<Vec<_>>(),
    })
}

fn matched(matched: &Matched) -> Value {
    let unit = |u: &UnitResult| {
        json!({
            "name": u.name,
            "amp_hours": u.amp_hours,
            "milliohms": u.milliohms,
            "rest_v": u.rest_volts,
            "health": u.health,
            "place": u.seat.map(|s| s.to_string()),
            "group": u.place,
            "odd": u.odd,
            "set_aside": u.set_aside,
        })
    };
    let group = |g: &Group| {
        json!({
            "number": g.number,
            "units": g.units.iter().map(|&i| matched.units[i].name.clone()).collect::<Vec<_>>(),
            "amp_hours": g.amp_hours,
            "apart_v": g.apart.map(Volts::get),
            "first_a": g.first_amps,
            "weakest": g.weakest,
        })
    };
    json!({
        "units": matched.units.iter().map(unit).collect::<Vec<_>>(),
        "groups": matched.groups.iter().map(group).collect::<Vec<_>>(),
        "amp_hours": matched.amp_hours,
    })
}
