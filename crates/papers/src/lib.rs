//! Every output file, written from an evaluation. A paper computes no figure: it says what [`job::Evaluation`] and the
//! views of [`drawing`] hold, each length rounded in a stated direction.
//!
//! Start with [`all`]. The cut list comes as [`cutlist_csv`], [`cutlist_markdown`] and [`cutlist_html`] with the same
//! columns ([`COLUMNS`]); [`check_text`] is the report, [`evaluation_json`] the same as data. [`tape_sheet_html`] is to be
//! filled in before there is anything to evaluate, and is made from the job alone.

mod caution;
mod comma;
mod electric;
mod files;
mod html;
mod json;
mod markdown;
mod pack_text;
mod report;
mod row;
mod survey;
mod survey_page;
mod tape_sheet;
mod words;

pub use caution::cautions;
pub use comma::cutlist_csv;
pub use electric::{inspector_html, strength_html, test_sheet_html, weld_map_html, wiring_csv, wiring_html};
pub use files::{Paper, all};
pub use html::cutlist_html;
pub use json::{evaluation_json, pack_json, survey_json};
pub use markdown::cutlist_markdown;
pub use pack_text::pack_text;
pub use report::check_text;
pub use row::COLUMNS;
pub use survey::{Details, survey_text};
pub use survey_page::survey_html;
pub use tape_sheet::{blank_tape_sheet_html, tape_sheet_html};

#[cfg(test)]
mod tests;
