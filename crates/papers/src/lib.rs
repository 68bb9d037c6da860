//! Every output file, written from an evaluation. A paper computes no figure: it says what [`job::Evaluation`] and the
//! views of [`drawing`] hold, each length rounded in a stated direction.
//!
//! Start with [`all`]. The cut list comes as [`cutlist_csv`], [`cutlist_markdown`] and [`cutlist_html`] with the same
//! columns ([`COLUMNS`]); [`check_text`] is the report, [`evaluation_json`] the same as data. [`tape_sheet_html`] is to be
//! filled in before there is anything to evaluate, and is made from the job alone. For the shop there are drawings of each
//! box ([`box_drawing_pdf`]) and of what is cut ([`flat_patterns_pdf`]), a file for the laser of each piece of sheet
//! ([`pattern_dxf`]) and cardboard templates of each box ([`templates_pdf`]). What sheets and bars are cut into, and what
//! to buy, comes from [`job::shopping::to_buy`].

mod assembly;
mod catalog;
mod caution;
mod changes;
mod comma;
mod dossier;
mod electric;
mod files;
mod glance;
mod html;
mod json;
mod labels;
mod layout_sheet;
mod markdown;
mod nests;
mod outline;
mod pack_text;
mod page;
mod patterns;
mod report;
mod road;
mod row;
mod shop;
mod single_line_sheet;
mod survey;
mod survey_page;
mod tape_sheet;
mod templates;
mod truck;
mod ways;
mod words;

pub use self::truck::{lift_plan_html, truck_json, truck_text, weight_sheet_html};
pub use assembly::{box_drawing, box_drawing_pdf};
pub use catalog::{Entry, Reader, catalog};
pub use caution::cautions;
pub use changes::{changes_html, changes_json, changes_text, since_json, since_text};
pub use comma::{cutlist_csv, holes_csv};
pub use electric::{inspector_html, strength_html, test_sheet_html, weld_map_html, wiring_csv, wiring_html};
pub use files::{Content, Paper, all, chosen};
pub use glance::{Glance, glance};
pub use html::cutlist_html;
pub use json::{bed_json, evaluation_json, nesting_json, nests_json, pack_json, service_json, survey_json, ways_json};
pub use labels::labels_html;
pub use layout_sheet::layout_sheet_pdf;
pub use markdown::cutlist_markdown;
pub use nests::{nest_dxf, nest_svgs, nests_pdf};
pub use outline::pattern_dxf;
pub use pack_text::pack_text;
pub use page::paper::drawing_paper;
pub use patterns::flat_patterns_pdf;
pub use report::check_text;
pub use road::range_sheet_html;
pub use row::COLUMNS;
pub use shop::{nests_text, shopping_csv, shopping_html};
pub use single_line_sheet::single_line_pdf;
pub use survey::{Details, survey_text};
pub use survey_page::survey_html;
pub use tape_sheet::{blank_tape_sheet_html, tape_sheet_html};
pub use templates::templates_pdf;
pub use ways::way_in_html;

#[cfg(test)]
mod tests;
