//! The truck on the road as data.

use job::{ChargeRow, DriveRow, Driven, Gears, RoadResult, SpeedRow, Sun, SunSeason};
use serde_json::{Value, json};
use truck::cycle::Band;

/// Energies from the pack in watt-hours a mile, distances in metres, speeds in metres a second.
pub(crate) fn road(road: &RoadResult) -> Value {
    json!({
        "driven": road.driven.as_ref().map(driven),
        "cruise_m_per_s": road.cruise_mps,
        "top_m_per_s": road.top_mps,
        "wanted_a_day_m": road.wanted_m,
        "gears": road.gears.as_ref().map(gears),
        "charging": road.charging.iter().map(charge).collect::<Vec<_>>(),
        "circuit": road.circuit.map(|circuit| json!({
            "rated_a": circuit.rated_a,
            "for_hours_a": circuit.for_hours_a,
            "drawn_a": circuit.drawn_a,
        })),
        "sun": road.sun.as_ref().map(sun),
        "entries": road.entries.iter().map(|entry| json!({
            "label": entry.label,
            "text": entry.text,
            "assumed": entry.is_assumed,
            "source": entry.source,
        })).collect::<Vec<_>>(),
        "usable_share": road.share.map(|share| json!({
            "used_between": share.between,
            "reserve": share.reserve,
            "driven_on": share.driven(),
            "words": share.words(),
        })),
        "packs": road.drives.iter().map(|pack| json!({
            "name": pack.name, "usable_kwh": pack.usable_kwh, "missing": pack.missing,
        })).collect::<Vec<_>>(),
        "packs_left_out": road.apart.iter().map(|apart| json!({
            "name": apart.name, "why": apart.why,
        })).collect::<Vec<_>>(),
        "waits_for": road.waits(),
        "troubles": road.troubles,
    })
}

fn driven(driven: &Driven) -> Value {
    json!({
        "mass_kg": driven.mass_kg,
        "mass_from": driven.mass_from,
        "grade": driven.grade,
        "steady": driven.curve.iter().map(speed).collect::<Vec<_>>(),
        "cruise": { "summer": speed(&driven.cruise[0]), "winter": speed(&driven.cruise[1]) },
        "top": speed(&driven.top),
        "drives": driven.drives.iter().map(drive).collect::<Vec<_>>(),
        "mixed_wh_per_mile": { "summer": driven.mixed_wh_per_mile[0], "winter": driven.mixed_wh_per_mile[1] },
        "usable_kwh": driven.usable_kwh.map(|[summer, winter]| json!({ "summer": summer, "winter": winter })),
        "range": driven.range.map(|range| json!({ "summer": band(range.summer), "winter": band(range.winter) })),
        "over_power": driven.over.iter().map(|over| json!({
            "asks": over.asks,
            "of": over.of,
            "asked_w": over.asked_w,
            "there_is_w": over.there_is_w,
        })).collect::<Vec<_>>(),
    })
}

fn band(band: Band) -> Value {
    json!({ "everyday_m": band.everyday_m, "cycle_m": band.cycle_m })
}

fn speed(row: &SpeedRow) -> Value {
    json!({
        "speed_m_per_s": row.speed_mps,
        "wheel_w": row.wheel_w,
        "pack_w": row.pack_w,
        "wh_per_mile": row.wh_per_mile,
        "range_m": row.range_m,
    })
}

fn drive(drive: &DriveRow) -> Value {
    json!({
        "name": drive.name,
        "words": drive.words,
        "source": drive.source,
        "distance_m": drive.distance_m,
        "wh_per_mile": { "summer": drive.wh_per_mile[0], "winter": drive.wh_per_mile[1] },
        "peak_wheel_w": drive.peak_wheel_w,
        "peak_pack_w": drive.peak_pack_w,
        "range": drive.range.map(|[summer, winter]| json!({ "summer": band(summer), "winter": band(winter) })),
    })
}

fn gears(gears: &Gears) -> Value {
    json!({
        "rolling_m": gears.rolling_m,
        "rolling_from": gears.rolling_from,
        "final_drive": gears.final_drive,
        "limit_rpm": gears.limit_rpm,
        "speeds_m_per_s": gears.speeds_mps,
        "gears": gears.rows.iter().map(|row| json!({
            "number": row.number,
            "ratio": row.ratio,
            "rpm": row.rpm,
            "cruise_rpm": row.at_cruise.0,
            "top_rpm": row.at_top.0,
            "limit_m_per_s": row.top_mps,
            "pull_n": row.pull.map(|pull| pull.force_n),
            "climb": row.pull.and_then(|pull| pull.climb),
        })).collect::<Vec<_>>(),
        "best": gears.best.and_then(|place| gears.rows.get(place)).map(|row| row.number),
        "best_why": gears.best_why,
    })
}

fn charge(row: &ChargeRow) -> Value {
    json!({
        "own": row.is_own,
        "volts": row.volts,
        "circuit_a": row.circuit_a,
        "line_a": row.line_a,
        "held_by": row.held_by,
        "into_pack_kw": row.charge.dc_kw,
        "into_pack_kwh": row.charge.dc_kwh,
        "from_line_kwh": row.charge.ac_kwh,
        "hours": row.charge.hours(),
        "metres_an_hour": row.metres_an_hour,
    })
}

fn sun(sun: &Sun) -> Value {
    json!({
        "panels": sun.panels,
        "counted": sun.counted,
        "in_series": sun.in_series,
        "in_no_whole_string": sun.odd,
        "watts": sun.watts,
        "place": sun.place,
        "sun_from": sun.sun_from,
        "losses": sun.losses,
        "losses_from": sun.losses_from,
        "summer": season(&sun.summer),
        "winter": season(&sun.winter),
        "year": season(&sun.year),
        "months": sun.months.iter().map(|month| json!({
            "month": month.month + 1,
            "sun_hours": month.sun_hours,
            "wh_a_day": month.wh_a_day,
            "metres_a_week": month.metres_a_week.map(|both| both[0]),
            "metres_a_week_heated": month.metres_a_week.map(|both| both[1]),
        })).collect::<Vec<_>>(),
        "room": sun.room.map(|room| json!({ "go_on": room.laid.count(), "wanted": room.wanted, "share": room.laid.share })),
        "step_up": sun.step.map(|step| json!({
            "in_series": step.in_series,
            "panel_v": step.panel_v,
            "pack_v": step.pack_v,
            "ratio": step.up.ratio,
            "advice": step.verdict(),
            "advised_in_series": step.advised,
        })),
        "open_volts": sun.open.map(|open| json!({
            "in_series": open.in_series,
            "one_v": open.one_v,
            "all_v": open.all_v,
            "entered": open.is_entered,
            "pack_empty_v": open.empty_v,
            "pack_full_v": open.full_v,
            "drive_absolute_v": open.absolute_v,
            "words": open.words(),
            "fix": open.words().map(|_| open.fix()),
        })),
        "isolation_needed": sun.isolation.map(|isolation| isolation.is_needed()),
        "isolated": sun.isolation.and_then(|isolation| isolation.is_isolated),
        "cut_out": sun.cut_out,
    })
}

fn season(season: &SunSeason) -> Value {
    json!({
        "month": season.month.map(|month| month + 1),
        "sun_hours": season.sun_hours,
        "clear_sky_hours": season.clear_sky,
        "kwh_a_week": season.kwh_a_week,
        "metres_a_week": season.metres_a_week,
    })
}
