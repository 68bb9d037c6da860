//! The truck on paper: the weight sheet for the inspector, the lift plan, and both as text and data. Each section of the
//! text has a file of its own.

mod json;
mod lift_plan;
mod lifts;
mod masses;
mod weight_sheet;

use job::Evaluation;
use job::way_in::WaysIn;

use crate::report::sheet::Sheet;
use crate::words;

pub use json::truck_json;
pub(crate) use json::vehicle;
pub use lift_plan::lift_plan_html;
pub(crate) use lifts::sources as hands_sources;
pub use weight_sheet::weight_sheet_html;

/// The truck, for a terminal; `ways` are those of the same job.
pub fn truck_text(evaluation: &Evaluation, ways: &WaysIn) -> String {
    let mut sheet = Sheet::default();
    sheet.line(&words::title(evaluation));
    masses::write(&mut sheet, evaluation);
    lifts::write(&mut sheet, evaluation);
    into_place(&mut sheet, ways);
    crate::road::text::write(&mut sheet, evaluation);
    sheet.heading("care");
    for caution in weight_sheet::CAUTIONS {
        sheet.item(0, "! ", caution);
    }
    sheet.done()
}

/// A fact for each box: which way it goes in, or what stops it.
fn into_place(sheet: &mut Sheet, ways: &WaysIn) {
    if ways.boxes.is_empty() && ways.question.left_out.is_empty() {
        return;
    }
    sheet.heading("ways in");
    for at in ways.in_order() {
        let battery_box = &ways.boxes[at];
        let mark = if battery_box.outcome.way().is_none() { "!! " } else { "" };
        let words = format!("{mark}{}", battery_box.in_short(ways.question.style));
        sheet.fact(&battery_box.name, &words);
    }
    let stuck = ways.stuck_words();
    if !stuck.is_empty() {
        sheet.item(0, "!! ", &stuck);
    }
    for (name, why) in &ways.question.left_out {
        sheet.fact(name, &format!("not looked at: {why}"));
    }
}
