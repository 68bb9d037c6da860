//! The papers of the pack's electrics: wiring schedule, test sheet, and one sheet for the inspector; and how the boxes are
//! held, which that one points to.

mod inspector;
mod schedule;
mod strength;
mod tests_to_do;
mod weld_map;

pub use inspector::inspector_html;
pub use schedule::{wiring_csv, wiring_html};
pub use strength::strength_html;
pub use tests_to_do::test_sheet_html;
pub use weld_map::weld_map_html;

/// What to heed before a hand goes near a terminal.
pub(crate) const CAUTIONS: [&str; 8] = [
    "A pack cannot be switched off: every module is live on the bench, and every link raises the volts.",
    "Dc arcs do not go out by themselves: eyes, face and hands out of the line of a link.",
    "Insulated tools, rated gloves, no rings, watch or loose metal; one hand where possible; somebody near who can call for help.",
    "Cover finished terminals before you touch the next ones.",
    "Prove it dead with a meter that you tried on something live, and wait: capacitors keep their charge.",
    "Swollen, leaking, dented, hot or over-discharged modules do not go in. Plan for a fire that comes back.",
    "Never weld, grind or drill with modules in or near the box.",
    "Figures are arithmetic on what was entered. Local vehicle rules and licensed practice decide.",
];
