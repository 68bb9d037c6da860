//! The set of files, and what they are called.

use std::collections::BTreeSet;

use drawing::svg::{Options, svg};
use drawing::{Side, cavity_view};
use job::{Evaluation, Job};

/// One output file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Paper {
    /// Its name, without a folder: lower-case ASCII letters, digits, `-` and one `.` only.
    pub file_name: String,
    /// What is in it.
    pub content: String,
}

/// The longest that a name made from user text gets.
const LONGEST: usize = 40;

/// Every output file: cut list, data, report, survey, tape sheet, wiring schedule, test sheet, the inspector's sheet, how
/// the boxes are held, the weld map, the single-line diagram of each pack, and a picture of each cavity from each side. `evaluation` is
/// of `job`; `date` is printed as given.
pub fn all(job: &Job, evaluation: &Evaluation, date: &str) -> Vec<Paper> {
    let json = format!("{:#}\n", crate::evaluation_json(evaluation));
    let mut papers: Vec<Paper> = [
        ("cut-list.csv", crate::cutlist_csv(evaluation)),
        ("cut-list.md", crate::cutlist_markdown(evaluation)),
        ("cut-list.html", crate::cutlist_html(evaluation, date)),
        ("evaluation.json", json),
        ("report.txt", crate::check_text(evaluation)),
        ("survey.html", crate::survey_html(evaluation, date)),
        ("tape-sheet.html", crate::tape_sheet_html(job, date)),
        ("wiring.html", crate::wiring_html(evaluation, date)),
        ("wiring.csv", crate::wiring_csv(evaluation)),
        ("test-sheet.html", crate::test_sheet_html(evaluation, date)),
        ("inspector.html", crate::inspector_html(evaluation, date)),
        ("strength.html", crate::strength_html(evaluation, date)),
        ("weld-map.html", crate::weld_map_html(evaluation, date)),
    ]
    .into_iter()
    .map(|(name, content)| Paper {
        file_name: name.to_owned(),
        content,
    })
    .collect();
    let mut taken = BTreeSet::new();
    for pack in evaluation.laid_out() {
        if let Some(content) = drawing::single_line_svg(pack) {
            let name = unique(&format!("single-line-{}", slug(&pack.name)), &mut taken);
            papers.push(Paper {
                file_name: format!("{name}.svg"),
                content,
            });
        }
    }
    for cavity in &evaluation.cavities {
        let name = unique(&slug(&cavity.name), &mut taken);
        for side in Side::ALL {
            if let Some(view) = cavity_view(evaluation, cavity.id, side) {
                papers.push(Paper {
                    file_name: format!("layout-{name}-{}.svg", side.name()),
                    content: svg(&view, Options::default()),
                });
            }
        }
    }
    papers
}

/// Lower-case ASCII letters and digits of `text`, everything else as single dashes; `cavity` when nothing is left.
fn slug(text: &str) -> String {
    let dashed: String = text
        .chars()
        .map(|c| {
            if c.is_ascii_alphanumeric() {
                c.to_ascii_lowercase()
            } else {
                '-'
            }
        })
        .collect();
    let joined = dashed
        .split('-')
        .filter(|part| !part.is_empty())
        .collect::<Vec<_>>()
        .join("-");
    let short = joined.get(..LONGEST).unwrap_or(&joined).trim_end_matches('-');
    if short.is_empty() {
        "cavity".to_owned()
    } else {
        short.to_owned()
    }
}

/// `name`, with the first number behind it that makes it one of its own.
fn unique(name: &str, taken: &mut BTreeSet<String>) -> String {
    let mut own = name.to_owned();
    let mut number = 1;
    while !taken.insert(own.clone()) {
        number += 1;
        own = format!("{name}-{number}");
    }
    own
}
