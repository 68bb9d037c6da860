//! The lift plan: each box without and with its modules, how many hands or a hoist, and where its mass is.

use job::way_in::{State, WaysIn};
use job::{BoxLift, Evaluation, lift_words};

use super::lifts::{centre, sources};
use crate::html::page::{Cell, Page};

/// What to heed before a box is lifted.
const CAUTIONS: [&str; 8] = [
    "Boxes are heavy and their edges cut: gloves, boots, a clear floor, and one who gives the word.",
    "The figures for hands hold close to the body at waist height. Under a truck hardly anything is lifted so: take them as \
     the most, and use a jack or a hoist early.",
    "Nobody stands or reaches under a hanging box or under a truck on a jack alone: stands, blocks, and a second look.",
    "Hoist and slings are rated for what hangs in them, with room; a sling leg at a slant pulls more than its share.",
    "Straps, forks and jack plates bear under the floor close to its bends or seams and beside stiffeners, across the whole box, \
     never under its middle alone, a lid, a rim or a bracket: a bare sheet dishes.",
    "What stands on forks, straps or a jack slides: hold it sideways, with cleats or a strap round box and carriage, and keep the \
     middle of its mass between what bears it.",
    "Terminals covered, links to the next box not fitted: a box on a hook is live inside.",
    "What hangs level on the bench may tip on the hook: lift it a hand high, look, then go on.",
];

/// The plan. `ways` tell in which states each box goes in; `date` is printed as given.
pub fn lift_plan_html(evaluation: &Evaluation, ways: &WaysIn, date: &str) -> String {
    let mut page = Page::with_cautions("Lift plan", evaluation, date, &CAUTIONS);
    let lifts = &evaluation.vehicle.lifts;
    if lifts.is_empty() {
        page.paragraph("No box can be built yet, or the mass of a module is not entered.");
        return page.finish();
    }
    let head = ["box", "empty", "hands", "with its modules", "hands", "how", "looked at"];
    let rows = lifts.iter().map(|lift| {
        let strength = evaluation
            .battery_box(lift.battery_box)
            .and_then(|b| b.strength.as_ref()?.lift.as_ref());
        let sling = strength.map_or_else(String::new, |lift| format!("; {}", lift.words(evaluation.units)));
        let modules = evaluation.battery_box(lift.battery_box).map_or(0, |b| b.modules.len());
        let as_it_is = match lift.loaded_hands.limit() {
            Some(_) => "as it is",
            None => "hoist or jack under the middle of its mass",
        };
        let how = match in_its_place(ways, lift) {
            InPlace::Loaded => {
                let what = if modules == 1 {
                    "module or stack in"
                } else {
                    "modules or stacks in one by one"
                };
                format!("{as_it_is}; or lift it empty and put its {modules} {what}")
            }
            InPlace::Barred => format!("{as_it_is}; its modules do not go in where it stands"),
            InPlace::NoWay => format!("{as_it_is}; no way in is known for it, empty or loaded"),
            InPlace::NotLookedAt => format!("{as_it_is}; whether its modules go in where it stands was not looked at"),
        };
        vec![
            Cell::text(lift.name.clone()),
            Cell::figure(lift_words(lift.shell_kg)),
            Cell::text(lift.shell_hands.words()),
            Cell::figure(lift_words(lift.loaded_kg)),
            Cell::text(lift.loaded_hands.words()),
            Cell::text(format!("{how}{sling}")),
            Cell::Tick,
        ]
    });
    page.table(&head, rows);
    let lines: Vec<String> = lifts.iter().flat_map(|lift| in_place(ways, lift)).collect();
    if !lines.is_empty() {
        page.heading("Empty, half loaded, loaded");
        page.paragraph("By which way each goes is in way-in.html; what is not in the box when it is lifted goes in where it stands, its lid off.");
        page.list(lines);
    }
    page.heading("Where its mass is");
    page.list(lifts.iter().map(|lift| {
        let niosh = if lift.above_niosh {
            "; more than one person should lift by either figure"
        } else {
            ""
        };
        format!("{}: {}{niosh}", lift.name, centre(evaluation, lift))
    }));
    page.paragraph("The empty box, with its bars and brackets, is taken at the middle of its body (one with a step in its underside at the middle of its parts' mass), each module at its own middle; glands, links and cables are not counted.");
    page.heading("Where the figures for hands come from");
    page.list(sources());
    page.finish()
}

/// The states of a box that is lifted.
fn states<'a>(ways: &'a WaysIn, lift: &BoxLift) -> Option<(usize, &'a [State])> {
    let at = ways.boxes.iter().position(|b| b.id == lift.battery_box)?;
    Some((at, &ways.states[at]))
}

/// Whether a box goes in empty and is loaded where it stands.
enum InPlace {
    /// All its modules go in there.
    Loaded,
    /// Something bars lid or modules.
    Barred,
    /// The box itself does not go in.
    NoWay,
    /// Nobody looked.
    NotLookedAt,
}

fn in_its_place(ways: &WaysIn, lift: &BoxLift) -> InPlace {
    match states(ways, lift) {
        None => InPlace::NotLookedAt,
        Some((at, _)) if ways.boxes[at].outcome.way().is_none() => InPlace::NoWay,
        Some((_, states)) if states.first().is_some_and(|empty| empty.goes) => InPlace::Loaded,
        Some(_) => InPlace::Barred,
    }
}

/// A line for each state.
fn in_place(ways: &WaysIn, lift: &BoxLift) -> Vec<String> {
    let Some((at, _)) = states(ways, lift) else {
        return Vec::new();
    };
    let words = ways.state_words(at).into_iter();
    words.map(|words| format!("{}, {words}", lift.name)).collect()
}
