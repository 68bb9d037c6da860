//! The layouts that were found, side by side.

use job::Grams;
use job::layout::Candidate;
use serde_json::{Value, json};

use super::find::Found;
use super::{show, table};

/// One column for each layout, one line for each figure.
pub(super) fn text(found: &Found) -> String {
    let names = [
        "layout",
        "modules",
        "series x parallel",
        "volts, empty to full",
        "kWh",
        "boxes",
        "margin asked for",
        "tightest",
        "  of",
        "  to",
        "heaviest box",
        "strings that cross",
        "centre of modules",
        "stops",
    ];
    let mut rows: Vec<Vec<String>> = names.iter().map(|name| vec![(*name).to_owned()]).collect();
    for candidate in &found.candidates {
        let taken = if candidate.index == found.chosen().index {
            " (shown)"
        } else {
            ""
        };
        let title = format!("{}{taken}", candidate.index + 1);
        let cells = column(candidate);
        for (row, cell) in rows.iter_mut().zip(std::iter::once(title).chain(cells)) {
            row.push(cell);
        }
    }
    format!(
        "\nlayouts side by side (take another with --take)\n{}",
        table::of(&rows)
    )
}

fn column(candidate: &Candidate) -> [String; 13] {
    let Candidate {
        figures, evaluation, ..
    } = candidate;
    let or_none = |text: Option<String>| text.unwrap_or_else(|| "-".to_owned());
    let tightest = figures.tightest.as_ref();
    [
        figures.count.to_string(),
        or_none(figures.strings()),
        or_none(
            figures
                .volts
                .map(|v| format!("{} to {}", v.empty.shown(1), v.full.shown(1))),
        ),
        or_none(figures.energy()),
        figures.boxes.to_string(),
        evaluation.down(candidate.margin),
        or_none(tightest.map(|t| evaluation.down(t.clearance.distance))),
        or_none(tightest.map(|t| t.name.clone())),
        or_none(tightest.map(|t| t.clearance.name.to_string())),
        or_none(figures.heaviest_box()),
        figures.crossing.to_string(),
        or_none(figures.centre_over(evaluation)),
        figures.stops.to_string(),
    ]
}

/// Every layout as data, placements included.
pub(super) fn json(found: &Found) -> Value {
    let one = |candidate: &Candidate| {
        let figures = &candidate.figures;
        let mut value = show::boxes_json(&candidate.evaluation);
        let more = json!({
            "layout": candidate.index + 1,
            "count": figures.count,
            "margin_mm": candidate.margin.as_mm(),
            "series": figures.arrangement.map(|a| a.series),
            "parallel": figures.arrangement.map(|a| a.parallel),
            "volts": figures.volts.map(|v| [v.empty.get(), v.nominal.get(), v.full.get()]),
            "kwh": figures.energy_kwh,
            "tightest": figures.tightest.as_ref().map(|t| json!({
                "box": t.battery_box.0,
                "name": t.name,
                "free_mm": t.clearance.distance.as_mm(),
                "face": t.clearance.face.name(),
                "to": &*t.clearance.name,
                "asked_mm": t.clearance.asked.as_mm(),
            })),
            "heaviest": figures.heaviest.as_ref().map(|h| json!({
                "box": h.battery_box.0,
                "name": h.name,
                "kg": Grams(h.mass_g).kg(),
            })),
            "strings_that_cross": figures.crossing,
            "centre": figures.centre.map(|c| json!({
                "height_mm": c.height.as_mm(),
                "above": c.above.name(),
            })),
            "stops": figures.stops,
        });
        if let (Value::Object(value), Value::Object(more)) = (&mut value, more) {
            value.extend(more);
        }
        value
    };
    found.candidates.iter().map(one).collect()
}
