//! A layout as text and as JSON.

use geometry::fit::Ended;
use geometry::{Axis, Cuboid, Face, Point};
use job::{BoxResult, Evaluation, Grave};
use serde_json::{Value, json};
use tape::Length;

use super::find::Found;

/// What was found, then each box with its sizes and clearances, then what stops it.
pub(super) fn text(words: &str, after: &Evaluation) -> String {
    let mut lines = vec![words.to_owned()];
    for battery_box in &after.boxes {
        lines.push(String::new());
        lines.extend(box_lines(after, battery_box));
    }
    let stops: Vec<_> = after.findings.iter().filter(|f| f.grave == Grave::Stop).collect();
    if !stops.is_empty() {
        lines.push(String::new());
    }
    for stop in stops {
        lines.push(format!("stop: {}: {}", stop.name, stop.words));
        if !stop.fix.is_empty() {
            lines.push(format!("  fix: {}", stop.fix));
        }
    }
    lines.join("\n") + "\n"
}

fn box_lines(evaluation: &Evaluation, battery_box: &BoxResult) -> Vec<String> {
    let modules: u32 = battery_box.modules.iter().map(|m| m.count).sum();
    let cavity = evaluation.cavity(battery_box.cavity).map_or("", |c| c.name.as_str());
    let mut lines = vec![format!("{}: {modules} modules, in {cavity}", battery_box.name)];
    let mut size = |name: &str, cuboid: Option<Cuboid>, shown: &dyn Fn(Length) -> String| {
        if let Some(cuboid) = cuboid {
            let size = Axis::ALL.map(|axis| shown(cuboid.size()[axis])).join(" x ");
            lines.push(format!("  {name:<9}{size}  (length x width x height)"));
        }
    };
    size("outside", battery_box.body, &|length| evaluation.up(length));
    size("inside", battery_box.inside, &|length| evaluation.down(length));
    for clearance in battery_box.around.iter().flat_map(|around| &around.faces) {
        let (face, free) = (clearance.face.name(), evaluation.down(clearance.distance));
        let asked = evaluation.up(clearance.asked);
        let short = match (clearance.is_short(), clearance.distance < clearance.asked) {
            (false, _) => String::new(),
            (true, true) if free != asked => format!("  short: {asked} asked"),
            // What is expected reads as enough: it is what the tape may be off that is wanting.
            (true, _) => format!("  short: {asked} asked, {} for sure", evaluation.down(clearance.sure())),
        };
        lines.push(format!("  {face:<9}{free} to {}{short}", clearance.name));
    }
    lines
}

/// Boxes and placements as data; lengths in millimetres, places in the cavity's frame.
pub(super) fn boxes_json(after: &Evaluation) -> Value {
    let placements = after.boxes.iter().flat_map(|battery_box| {
        battery_box.modules.iter().map(|module| {
            json!({
                "id": module.id.0,
                "label": module.label,
                "box": battery_box.id.0,
                "cavity": battery_box.cavity.0,
                "kind": module.kind.0,
                "count": module.count,
                "pinned": module.pinned,
                "up": module.stands.up().name(),
                "at_mm": point(module.cuboid.lo()),
                "size_mm": size(&module.cuboid),
            })
        })
    });
    json!({
        "boxes": after.boxes.iter().map(box_json).collect::<Vec<_>>(),
        "placements": placements.collect::<Vec<_>>(),
    })
}

/// The layout that is taken as data, with what is known of the answer.
pub(super) fn json(found: &Found) -> Value {
    let (proposal, answer) = (&found.proposal, &found.proposal.answer);
    let mut value = boxes_json(&found.chosen().evaluation);
    value["words"] = found.words().into();
    value["count"] = found.count().into();
    value["upper_bound"] = answer.upper_bound.into();
    value["proved"] = answer.proved.into();
    value["bound_by"] = answer.bound_by.words().into();
    value["ended"] = match answer.ended {
        Ended::Done => "done",
        Ended::Budget => "budget",
        Ended::Stopped => "stopped",
    }
    .into();
    value["margin_mm"] = found.chosen().margin.as_mm().into();
    value["count_with_asked_margin"] = proposal.with_asked_margin.into();
    value
}

fn box_json(battery_box: &BoxResult) -> Value {
    let clearances = battery_box
        .around
        .iter()
        .flat_map(|around| &around.faces)
        .map(|clearance| {
            json!({
                "face": clearance.face.name(),
                "free_mm": clearance.distance.as_mm(),
                "to": &*clearance.name,
                "asked_mm": clearance.asked.as_mm(),
            })
        });
    json!({
        "id": battery_box.id.0,
        "name": battery_box.name,
        "cavity": battery_box.cavity.0,
        "bay": battery_box.bay.map(Face::name),
        "at_mm": battery_box.body.map(|body| point(body.lo())),
        "outside_mm": battery_box.body.as_ref().map(size),
        "inside_mm": battery_box.inside.as_ref().map(size),
        "clearances": clearances.collect::<Vec<_>>(),
    })
}

fn point(at: Point) -> [f64; 3] {
    Axis::ALL.map(|axis| at[axis].as_mm())
}

fn size(cuboid: &Cuboid) -> [f64; 3] {
    Axis::ALL.map(|axis| cuboid.size()[axis].as_mm())
}
