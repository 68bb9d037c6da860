//! The report in plain text.

mod boxes;
pub(crate) mod packs;
pub(crate) mod sheet;

use geometry::Axis;
use job::{CavityResult, Evaluation, KeepOutResult, Touches};

use crate::{cautions, words};
use sheet::Sheet;

/// The report in plain text, at most 80 columns wide: the big facts, findings with fix and source, assumed values,
/// cavities, each box with its clearances and ledgers, and the packs that come near the drive's window.
pub fn check_text(evaluation: &Evaluation) -> String {
    let mut sheet = Sheet::default();
    facts(&mut sheet, evaluation);
    findings(&mut sheet, evaluation);
    assumptions(&mut sheet, evaluation);
    cavities(&mut sheet, evaluation);
    boxes::write(&mut sheet, evaluation);
    packs::write(&mut sheet, evaluation);
    sheet.heading("take care");
    for caution in cautions() {
        sheet.item(0, "- ", caution);
    }
    sheet.done()
}

fn facts(sheet: &mut Sheet, evaluation: &Evaluation) {
    let headline = &evaluation.headline;
    let assumed = headline.assumed;
    sheet.heading(&words::title(evaluation));
    sheet.fact("truck", &evaluation.truck);
    sheet.fact("modules placed", &headline.placed.to_string());
    let none = || "none yet".to_owned();
    sheet.fact("pack", &headline.arrangement.map_or_else(none, words::arrangement));
    let volts = |v| format!("{}{}", words::mark(assumed.volts), words::volts(v));
    sheet.fact("volts", &headline.volts.map_or_else(none, volts));
    let energy = |kwh| format!("{}{kwh:.1} kWh nominal", words::mark(assumed.energy));
    sheet.fact("energy", &headline.energy_kwh.map_or_else(none, energy));
    let mass = |grams| {
        format!(
            "{}{}, boxes with modules",
            words::mark(assumed.mass),
            words::mass_of(evaluation, grams)
        )
    };
    sheet.fact("mass", &headline.mass_g.map_or_else(none, mass));
    let tightest = headline.tightest.as_ref().map_or_else(none, |t| {
        let mark = words::mark(assumed.clearance);
        format!(
            "{mark}{}; {} to {} at the {} ({} asked for)",
            t.text(evaluation.style()),
            t.name,
            t.clearance.name,
            t.clearance.face.name(),
            evaluation.up(t.clearance.asked)
        )
    });
    sheet.fact("tightest", &tightest);
    sheet.fact(
        "findings",
        &format!(
            "{} stop{}, {} caution{}",
            headline.stops,
            if headline.stops == 1 { "" } else { "s" },
            headline.cautions,
            if headline.cautions == 1 { "" } else { "s" }
        ),
    );
    sheet.item(
        0,
        "",
        "Spaces and clearances are rounded down, outside sizes of boxes up.",
    );
    if assumed != Touches::default() {
        sheet.item(
            0,
            "",
            "~ stands before a figure that rests on assumed values; they are listed below.",
        );
    }
    sheet.item(
        0,
        "",
        "Not known here: bulges between taped points, things nobody entered, a frame that moves when loaded.",
    );
}

fn findings(sheet: &mut Sheet, evaluation: &Evaluation) {
    sheet.heading("findings");
    if evaluation.findings.is_empty() {
        sheet.item(0, "", "none");
    }
    for finding in &evaluation.findings {
        let grave = format!("{:<8}", finding.grave.name());
        sheet.item(0, &grave, &format!("{}: {}", finding.name, finding.words));
        for (word, text) in [("fix: ", finding.fix.as_str()), ("source: ", &*finding.source)] {
            if !text.is_empty() {
                sheet.item(8, word, text);
            }
        }
    }
}

fn assumptions(sheet: &mut Sheet, evaluation: &Evaluation) {
    sheet.heading("assumed values");
    if evaluation.assumptions.is_empty() {
        sheet.item(0, "", "none");
    }
    for assumption in &evaluation.assumptions {
        let on = rests(assumption.touches);
        let on = if on.is_empty() {
            String::new()
        } else {
            format!(" (on it: {on})")
        };
        sheet.item(0, "- ", &format!("{}: {}{on}", assumption.label, assumption.text));
    }
}

fn rests(touches: Touches) -> String {
    [
        (touches.volts, "volts"),
        (touches.energy, "energy"),
        (touches.mass, "mass"),
        (touches.clearance, "clearances and sizes"),
        (touches.cut, "cut list"),
    ]
    .into_iter()
    .filter_map(|(touched, word)| touched.then_some(word))
    .collect::<Vec<_>>()
    .join(", ")
}

/// What is usable along an axis, up to where the walls are expected, and what was read between the corners.
fn dimension(evaluation: &Evaluation, cavity: &CavityResult, axis: Axis, mark: &str) -> String {
    let (Some(space), Some(usable)) = (cavity.space, cavity.usable) else {
        return "not taped yet".to_owned();
    };
    let read = cavity.dimensions[axis.index()].as_ref().map_or(String::new(), |d| {
        format!(
            ", smallest reading across {}, spread {}",
            evaluation.near(d.smallest),
            evaluation.up(d.usable.spread)
        )
    });
    format!(
        "{mark}{} usable of {} expected{read}",
        evaluation.down(usable.size()[axis]),
        evaluation.down(space.size()[axis])
    )
}

/// Where a keep-out reaches, from the front left bottom corner of the cavity.
fn reaches(evaluation: &Evaluation, keep_out: &KeepOutResult) -> String {
    let each = Axis::ALL.map(|axis| {
        let along = ["rearward", "right", "up"][axis.index()];
        let [lo, hi] = [keep_out.cuboid.lo(), keep_out.cuboid.hi()].map(|corner| evaluation.near(corner[axis]));
        format!("{lo} to {hi} {along}")
    });
    each.join(", ")
}

fn cavities(sheet: &mut Sheet, evaluation: &Evaluation) {
    let mark = words::mark(evaluation.headline.assumed.clearance);
    for cavity in &evaluation.cavities {
        sheet.heading(&job::Cavity::said(&cavity.name));
        for axis in Axis::ALL {
            sheet.fact(axis.extent_name(), &dimension(evaluation, cavity, axis, mark));
        }
        sheet.fact("rests on", cavity.survey.basis());
        sheet.fact("survey", &cavity.survey.verdict(evaluation.style()));
        if let Some(found) = &cavity.survey.out_of_square {
            sheet.fact(
                "diagonals",
                &format!("the two of the {} differ by {}", found.face, evaluation.up(found.by)),
            );
        }
        for keep_out in &cavity.keep_outs {
            let counts = if keep_out.counts { "stays free" } else { "taken out" };
            sheet.fact(
                "keep-out",
                &format!(
                    "{}: {}, {counts}, margin {}; {}",
                    keep_out.name,
                    keep_out.source.name(),
                    evaluation.up(keep_out.margin),
                    reaches(evaluation, keep_out)
                ),
            );
        }
        for unplaced in &cavity.unplaced {
            sheet.fact(
                "keep-out",
                &format!("{}: no place yet, {}", unplaced.name, unplaced.why),
            );
        }
    }
}
