//! The Papers page: what can be written.

use std::path::PathBuf;

use crate::model::Model;

/// One thing that the page does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    /// Writes the cut list alone.
    CutList,
    /// Writes all papers into a folder.
    All,
    /// Saves the job.
    Save,
    /// Saves it under another name.
    SaveAs,
}

/// The rows, each with what it does.
pub const ACTIONS: [(Action, &str, &str); 4] = [
    (
        Action::CutList,
        "write the cut list",
        "one printable page (.html), table (.csv) or text (.md), by the name's ending",
    ),
    (
        Action::All,
        "write all papers",
        "cut list, drawings of the layout, report, figures for machines, into a folder",
    ),
    (Action::Save, "save the job", "to its file"),
    (Action::SaveAs, "save under another name", "and go on with that"),
];

/// Where papers go unless the person says otherwise: beside the job's file.
pub fn folder(model: &Model) -> PathBuf {
    beside(model).join("papers")
}

/// The file for the cut list unless the person says otherwise.
pub fn cut_list(model: &Model) -> PathBuf {
    beside(model).join("cut-list.html")
}

fn beside(model: &Model) -> PathBuf {
    model
        .file
        .as_ref()
        .and_then(|f| f.parent())
        .map_or_else(PathBuf::new, std::path::Path::to_path_buf)
}
