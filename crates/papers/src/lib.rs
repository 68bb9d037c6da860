//! Every output file, written from an evaluation. A paper computes no figure.
//!
//! Start with [`all`].

use job::Evaluation;

/// Short plain cautions.
pub fn cautions() -> &'static [&'static str] {
    &[]
}

/// The cut list as comma-separated values, one row a mark.
pub fn cutlist_csv(evaluation: &Evaluation) -> String {
    evaluation.name.clone()
}

/// The cut list as Markdown.
pub fn cutlist_markdown(evaluation: &Evaluation) -> String {
    evaluation.name.clone()
}

/// The cut list as one self-contained page that prints; `date` as the person wants it printed.
pub fn cutlist_html(evaluation: &Evaluation, date: &str) -> String {
    evaluation.name.clone() + date
}

/// The report in plain text, 80 columns wide.
pub fn check_text(evaluation: &Evaluation) -> String {
    evaluation.name.clone()
}

/// The evaluation as data.
pub fn evaluation_json(evaluation: &Evaluation) -> serde_json::Value {
    serde_json::json!({ "job": evaluation.name })
}

/// One output file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Paper {
    /// Its name, without a folder.
    pub file_name: String,
    /// What is in it.
    pub content: String,
}

/// Every output file.
pub fn all(evaluation: &Evaluation, date: &str) -> Vec<Paper> {
    vec![Paper { file_name: "cut-list.html".to_owned(), content: cutlist_html(evaluation, date) }]
}
