//! Each box in the report: sizes, mass, clearances, ledgers.

use job::{BoxResult, ClearanceResult, Evaluation, Ledger, Room, give_or_take, percent};
use tape::Length;

use super::sheet::Sheet;
use crate::words;

pub(super) fn write(sheet: &mut Sheet, evaluation: &Evaluation) {
    for battery_box in &evaluation.boxes {
        let cavity = evaluation.cavity(battery_box.cavity).map_or("", |c| &c.name);
        sheet.heading(&format!("box {} in {cavity}", battery_box.name));
        sizes(sheet, evaluation, battery_box);
        if let Some(around) = &battery_box.around {
            sheet.line("");
            sheet.item(0, "", "clearances, coating on:");
            for clearance in &around.faces {
                sheet.item(
                    2,
                    &format!("{:<8}", clearance.face.name()),
                    &words_of(evaluation, clearance),
                );
            }
            sheet.item(2, "nearest ", &words_of(evaluation, &around.nearest));
        }
        if let Some(found) = &battery_box.roomiest {
            sheet.item(2, "", &evaluation.roomiest_text(found));
        }
        for ledger in &battery_box.ledgers {
            write_ledger(sheet, evaluation, ledger);
        }
        chances(sheet, evaluation, "the box in its cavity", &battery_box.fit.outside);
        chances(sheet, evaluation, "the modules in the box", &battery_box.fit.inside);
    }
}

fn sizes(sheet: &mut Sheet, evaluation: &Evaluation, battery_box: &BoxResult) {
    let assumed = evaluation.headline.assumed;
    let size = words::mark(assumed.cut);
    if let Some(inside) = &battery_box.inside {
        let text = words::triple(inside.size().0, |length| evaluation.down(length));
        sheet.fact(
            "inside liner",
            &format!("{size}{text}{}", if battery_box.fixed { ", fixed" } else { "" }),
        );
    }
    if let (Some(drawn), Some(stands)) = (battery_box.drawn, battery_box.coated) {
        let near = |cuboid: geometry::Cuboid| words::triple(cuboid.size().0, |length| evaluation.near(length));
        sheet.fact("as built", &format!("{}; drawn {}", near(stands), near(drawn)));
    }
    if let Some(built) = &battery_box.built {
        let up = |lengths| words::triple(lengths, |length| evaluation.up(length));
        sheet.fact("body", &format!("{size}{}", up(built.body)));
        if let Some(step) = &built.step {
            let [run, rise] = [step.run, step.rise].map(|length| evaluation.near(length));
            let words = format!(
                "at the {}, {run} in from its outside, the underside {rise} higher",
                step.at.name()
            );
            sheet.fact("step", &format!("{size}{words}"));
        }
        if let Some(over) = words::OverAll::of(evaluation, battery_box) {
            let told = over.told(evaluation).map(|words| format!("{size}{words}"));
            sheet.fact("before coating", &told.join(", "));
        }
        let mass = words::mark(assumed.mass);
        sheet.fact(
            "mass",
            &format!(
                "{mass}{} empty, {} modules, {mass}{} loaded",
                words::mass_of(evaluation, battery_box.mass.empty_g()),
                words::mass_of(evaluation, battery_box.mass.modules_g),
                words::mass_of(evaluation, battery_box.mass.total_g())
            ),
        );
    }
    if let Some(fault) = &battery_box.fault {
        sheet.fact("cannot be built", &fault.to_string());
    }
    if battery_box.modules.is_empty() {
        sheet.fact("modules", "none");
    } else {
        let labels: Vec<&str> = battery_box.modules.iter().map(|m| m.label.as_str()).collect();
        sheet.fact("modules", &labels.join(" "));
    }
}

fn words_of(evaluation: &Evaluation, clearance: &ClearanceResult) -> String {
    let mark = words::mark(evaluation.headline.assumed.clearance);
    let short = if clearance.is_short() {
        " ! less than asked for"
    } else {
        ""
    };
    format!(
        "{mark}{} to {} ({} asked for){short}",
        evaluation.down(clearance.distance),
        clearance.name,
        evaluation.up(clearance.asked)
    )
}

/// The room along each axis, what may take from it, and how likely it does.
fn chances(sheet: &mut Sheet, evaluation: &Evaluation, what: &str, rooms: &[Room]) {
    if rooms.is_empty() {
        return;
    }
    sheet.line("");
    sheet.item(0, "", &format!("chance of fit, {what} (both sides together):"));
    sheet.item(2, "", job::NOT_IN_CHANCE);
    for room in rooms {
        let words = format!(
            "{}: {} to share +-{}; squares of the limits leave {}, all of them together {}",
            percent(room.fits),
            evaluation.down(room.free),
            give_or_take(
                evaluation.style(),
                Length::from_mm_up(room.sigma.as_mm() * evaluation.sigmas)
            ),
            evaluation.down(room.likely),
            evaluation.down(room.worst),
        );
        sheet.item(2, &format!("{:<8}", room.axis.extent_name()), &words);
        let shares: Vec<String> = room
            .shares
            .iter()
            .map(|share| format!("{} ({})", share.words(evaluation.style()), percent(share.fits_without)))
            .collect();
        sheet.item(
            10,
            "",
            &format!("takes from it (chance if that one were exact): {}", shares.join("; ")),
        );
    }
}

fn write_ledger(sheet: &mut Sheet, evaluation: &Evaluation, ledger: &Ledger) {
    sheet.line("");
    let heading = format!("every bit of the {}:", ledger.axis.extent_name());
    sheet.item(0, "", &heading);
    let column = |length| format!("{:>12}  ", words::fine(evaluation, length));
    for entry in &ledger.entries {
        sheet.item(0, &column(entry.length), &entry.words);
    }
    sheet.item(
        0,
        &column(ledger.total),
        "in all: the cavity, up to where its walls are expected",
    );
}
