//! The truck on paper: the weight sheet for the inspector, the lift plan, and both as text and data. Each section of the
//! text has a file of its own.

mod json;
mod lift_plan;
mod lifts;
mod masses;
mod weight_sheet;

use job::Evaluation;

use crate::report::sheet::Sheet;
use crate::words;

pub use json::truck_json;
pub(crate) use json::vehicle;
pub use lift_plan::lift_plan_html;
pub(crate) use lifts::sources as hands_sources;
pub use weight_sheet::weight_sheet_html;

/// The truck, for a terminal.
pub fn truck_text(evaluation: &Evaluation) -> String {
    let mut sheet = Sheet::default();
    sheet.line(&words::title(evaluation));
    let sections = [masses::write, lifts::write, crate::road::text::write];
    for write in sections {
        write(&mut sheet, evaluation);
    }
    sheet.heading("care");
    for caution in weight_sheet::CAUTIONS {
        sheet.item(0, "! ", caution);
    }
    sheet.done()
}
