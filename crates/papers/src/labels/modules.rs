//! A label for each module: where it goes, which unit it is, its place in the wiring.

use drawing::svg::escape;
use job::Evaluation;

use super::{line, revision, short};

/// Labels along the wiring of each pack; of a pack without one along its boxes.
pub(super) fn labels(evaluation: &Evaluation) -> Vec<String> {
    let mut labels = Vec::new();
    for pack in evaluation.laid_out() {
        let wiring = pack.electric.as_ref().and_then(|electric| electric.wiring.as_ref());
        if let Some(wiring) = wiring {
            for (index, seat) in wiring.seats.iter().enumerate() {
                let place = wiring.berth(index).unwrap_or_default();
                labels.push(label(
                    evaluation,
                    &Tag {
                        name: seat.seat.to_string(),
                        kind: &pack.name,
                        unit: seat.unit.as_deref(),
                        place,
                        battery_box: seat.battery_box,
                        turned: seat.turned,
                    },
                ));
            }
            continue;
        }
        for battery_box in &evaluation.boxes {
            for module in battery_box.modules.iter().filter(|module| module.kind == pack.kind) {
                labels.push(label(
                    evaluation,
                    &Tag {
                        name: module.label.clone(),
                        kind: &pack.name,
                        unit: None,
                        place: "not wired yet".to_owned(),
                        battery_box: battery_box.id,
                        turned: false,
                    },
                ));
            }
        }
    }
    labels
}

/// What stands on a module's label.
struct Tag<'a> {
    name: String,
    kind: &'a str,
    unit: Option<&'a str>,
    place: String,
    battery_box: job::Id,
    turned: bool,
}

fn label(evaluation: &Evaluation, tag: &Tag<'_>) -> String {
    let battery_box = evaluation.boxes.iter().find(|b| b.id == tag.battery_box);
    let cavity = battery_box.and_then(|b| evaluation.cavity(b.cavity));
    let unit = tag.unit.map_or_else(
        || "unit no. ______________".to_owned(),
        |unit| format!("unit {}", short(unit, 30)),
    );
    let mut lines = vec![
        format!(
            "<p class=\"mark\">{}<span>{}</span></p>",
            escape(&tag.name),
            escape(&tag.place)
        ),
        line("strong", &unit),
        line("", &short(tag.kind, 40)),
        line(
            "",
            &format!(
                "in {}, {}",
                short(battery_box.map_or("", |b| b.name.as_str()), 24),
                job::Cavity::said(&short(cavity.map_or("", |c| c.name.as_str()), 24))
            ),
        ),
    ];
    if tag.turned {
        lines.push(line(
            "strong",
            "built in half a turn round: plus and minus change places",
        ));
    }
    lines.push(line("", "Live always: cover its terminals before you turn it."));
    lines.push(line(
        "",
        &format!("{}, {}", short(&evaluation.name, 30), revision(evaluation)),
    ));
    lines.concat()
}
