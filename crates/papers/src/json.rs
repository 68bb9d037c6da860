//! The evaluation as data, for other programs.
//!
//! Every key carries its unit: `_mm` is an exact decimal of millimetres (lengths are whole nanometres), `_text` the same
//! as a person reads it, rounded as the other papers round it; `_kg`, `_v`, `_a`, `_ah`, `_kwh` likewise.

mod cut;
mod electric;
mod nests;
mod packs;
mod place;
mod survey;
mod ways;
mod welds;

pub use nests::{nesting_json, nests_json};
pub use survey::survey_json;
pub use ways::{bed_json, service_json, ways_json};

use job::{Evaluation, Subject, Touches};
use serde_json::{Value, json};
use tape::{Length, Units};

/// The evaluation as data: complete, and the same for the same job. `format` and `version` name this layout.
pub fn evaluation_json(evaluation: &Evaluation) -> Value {
    json!({
        "format": "packwright-evaluation",
        "version": 1,
        "job": evaluation.name,
        "truck": evaluation.truck,
        "revision": evaluation.revision,
        "units": match evaluation.units { Units::Inch => "in", Units::Millimetre => "mm" },
        "fraction": evaluation.fraction.name(),
        "margin_mm": mm(evaluation.margin),
        "margin_text": evaluation.up(evaluation.margin),
        "gap_mm": mm(evaluation.gap),
        "gap_text": evaluation.up(evaluation.gap),
        "sigmas": evaluation.sigmas,
        "headline": headline(evaluation),
        "findings": findings(evaluation),
        "assumptions": assumptions(evaluation),
        "cavities": evaluation.cavities.iter().map(|c| place::cavity(evaluation, c)).collect::<Vec<_>>(),
        "kinds": evaluation.kinds.iter().map(|k| packs::kind(evaluation, k)).collect::<Vec<_>>(),
        "boxes": evaluation.boxes.iter().map(|b| place::battery_box(evaluation, b)).collect::<Vec<_>>(),
        "packs": evaluation.packs.iter().map(packs::pack).collect::<Vec<_>>(),
        "cut": cut::cut(evaluation),
        "road": crate::road::json::road(&evaluation.road),
        "vehicle": crate::truck::vehicle(evaluation),
        "cautions": crate::cautions(),
    })
}

/// The packs with their electrics, as they stand in [`evaluation_json`].
pub fn pack_json(evaluation: &Evaluation) -> Value {
    json!({ "packs": evaluation.packs.iter().map(packs::pack).collect::<Vec<_>>() })
}

/// An exact decimal: a length of up to 9 km has at most 15 digits, which a double keeps.
fn mm(length: Length) -> f64 {
    length.as_mm()
}

/// Three exact decimals.
fn mm3(lengths: [Length; 3]) -> [f64; 3] {
    lengths.map(mm)
}

/// Kilograms of whole grams.
fn kg(grams: i64) -> f64 {
    job::Grams(grams).kg()
}

fn headline(evaluation: &Evaluation) -> Value {
    let headline = &evaluation.headline;
    json!({
        "placed": headline.placed,
        "arrangement": headline.arrangement.map(packs::arrangement),
        "volts": headline.volts.map(packs::volts),
        "energy_kwh": headline.energy_kwh,
        "mass_kg": headline.mass_g.map(kg),
        "tightest": headline.tightest.as_ref().map(|t| json!({
            "box": t.battery_box.0,
            "name": t.name,
            "clearance": place::clearance(evaluation, &t.clearance),
            "give_or_take_mm": mm(t.give_or_take),
            "fits": t.fits,
            "text": t.text(evaluation.style()),
        })),
        "stops": headline.stops,
        "cautions": headline.cautions,
        "assumed": touches(headline.assumed),
    })
}

fn touches(touches: Touches) -> Value {
    json!({
        "volts": touches.volts,
        "energy": touches.energy,
        "mass": touches.mass,
        "clearance": touches.clearance,
        "cut": touches.cut,
    })
}

pub(crate) fn findings(evaluation: &Evaluation) -> Vec<Value> {
    let one = |finding: &job::Finding| {
        let (subject, id) = subject(finding.subject);
        json!({
            "grave": finding.grave.name(),
            "subject": subject,
            "id": id,
            "name": finding.name,
            "words": finding.words,
            "source": finding.source,
            "fix": finding.fix,
        })
    };
    evaluation.findings.iter().map(one).collect()
}

const fn subject(subject: Subject) -> (&'static str, Option<u32>) {
    match subject {
        Subject::Job => ("job", None),
        Subject::Cavity(id) => ("cavity", Some(id.0)),
        Subject::KeepOut(id) => ("keep-out", Some(id.0)),
        Subject::Kind(id) => ("kind", Some(id.0)),
        Subject::Box(id) => ("box", Some(id.0)),
        Subject::Module(id) => ("module", Some(id.0)),
        Subject::Pack => ("pack", None),
        Subject::Truck => ("truck", None),
        Subject::Road => ("road", None),
    }
}

fn assumptions(evaluation: &Evaluation) -> Vec<Value> {
    let one = |a: &job::Assumption| json!({ "label": a.label, "text": a.text, "touches": touches(a.touches) });
    evaluation.assumptions.iter().map(one).collect()
}
