//! The set of files, and what they are called.

use std::collections::BTreeSet;

use drawing::svg::{Options, svg};
use drawing::{Side, cavity_view};
use job::nesting::Nesting;
use job::shopping::ToBuy;
use job::{Evaluation, Job};

/// One output file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Paper {
    /// Its name, without a folder: lower-case ASCII letters, digits, `-`, `_` and one `.` only.
    pub file_name: String,
    /// What is in it.
    pub content: Content,
}

/// What is in a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Content {
    /// UTF-8.
    Text(String),
    /// Anything else.
    Bytes(Vec<u8>),
}

impl Content {
    /// What is read, of a file of text.
    pub fn text(&self) -> Option<&str> {
        match self {
            Self::Text(text) => Some(text),
            Self::Bytes(_) => None,
        }
    }
}

impl AsRef<[u8]> for Content {
    fn as_ref(&self) -> &[u8] {
        match self {
            Self::Text(text) => text.as_bytes(),
            Self::Bytes(bytes) => bytes,
        }
    }
}

impl Paper {
    fn text(file_name: impl Into<String>, content: String) -> Self {
        Self {
            file_name: file_name.into(),
            content: Content::Text(content),
        }
    }

    fn bytes(file_name: impl Into<String>, content: Vec<u8>) -> Self {
        Self {
            file_name: file_name.into(),
            content: Content::Bytes(content),
        }
    }
}

/// What `asked` names of some papers: each by its whole name, or by its kind, which is its name up to the first dot, or
/// the beginning of that up to a dash (`drawing`, `drawing-left-box`).
///
/// # Errors
///
/// The first that names none of them.
pub fn chosen(papers: Vec<Paper>, asked: &[String]) -> Result<Vec<Paper>, &str> {
    let names = |paper: &Paper, asked: &str| {
        let rest = paper.file_name.strip_prefix(asked);
        !asked.is_empty() && rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(['-', '.']))
    };
    if let Some(wrong) = asked.iter().find(|a| !papers.iter().any(|paper| names(paper, a))) {
        return Err(wrong);
    }
    let wanted = |paper: &Paper| asked.iter().any(|a| names(paper, a));
    Ok(papers.into_iter().filter(wanted).collect())
}

/// The longest that a name made from user text gets.
const LONGEST: usize = 40;

/// Every output file: cut list, data, report, survey, tape sheet, wiring schedule, test sheet, the inspector's sheet, how
/// the boxes are held, the weld map, the holes, labels, the ways in, the range sheet, the weight sheet, the lift plan, the
/// single-line diagram of each pack, a picture of each cavity from each side, the drawings of what is cut, a file for the
/// laser of each piece of sheet, the cardboard templates of each box, what is cut from which sheet and bar, what to buy,
/// and a dossier that binds what has to be shown. `evaluation` and `to_buy` are of `job`; `date` is printed as given.
pub fn all(job: &Job, evaluation: &Evaluation, to_buy: &ToBuy, date: &str) -> Vec<Paper> {
    let mut json = crate::evaluation_json(evaluation);
    json["to_buy"] = crate::nests_json(to_buy);
    let ways = job::way_in::ways_in(job, evaluation);
    json["ways_in"] = crate::ways_json(&ways);
    let json = format!("{json:#}\n");
    let mut papers: Vec<Paper> = [
        ("cut-list.csv", crate::cutlist_csv(evaluation)),
        ("cut-list.md", crate::cutlist_markdown(evaluation, to_buy)),
        ("cut-list.html", crate::cutlist_html(evaluation, to_buy, date)),
        ("shopping-list.csv", crate::shopping_csv(to_buy)),
        ("shopping-list.html", crate::shopping_html(evaluation, to_buy, date)),
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
        ("holes.csv", crate::holes_csv(evaluation)),
        ("labels.html", crate::labels_html(evaluation, date)),
        ("way-in.html", crate::way_in_html(evaluation, &ways, date)),
        ("range-sheet.html", crate::range_sheet_html(evaluation, date)),
        ("weight-sheet.html", crate::weight_sheet_html(evaluation, date)),
        ("lift-plan.html", crate::lift_plan_html(evaluation, &ways, date)),
    ]
    .into_iter()
    .map(|(name, content)| Paper::text(name, content))
    .collect();
    papers.extend(crate::changes_html(evaluation, date).map(|content| Paper::text("changes.html", content)));
    let mut taken = BTreeSet::new();
    for pack in evaluation.laid_out() {
        if let Some(content) = drawing::single_line_svg(pack) {
            let name = unique(&format!("single-line-{}", slug(&pack.name)), &mut taken);
            papers.push(Paper::text(format!("{name}.svg"), content));
        }
    }
    for cavity in &evaluation.cavities {
        let name = unique(&slug(&cavity.name), &mut taken);
        for side in Side::ALL {
            if let Some(view) = cavity_view(evaluation, cavity.id, side) {
                papers.push(Paper::text(
                    format!("layout-{name}-{}.svg", side.name()),
                    svg(&view, Options::default()),
                ));
            }
        }
    }
    let sheets = [
        ("layout-sheet.pdf", crate::layout_sheet_pdf(job, evaluation, date)),
        ("single-line.pdf", crate::single_line_pdf(evaluation, date)),
    ];
    papers.extend(
        sheets
            .into_iter()
            .filter_map(|(name, bytes)| Some(Paper::bytes(name, bytes?))),
    );
    papers.extend(drawings(evaluation, date));
    papers.extend(nests(evaluation, &to_buy.nesting, date));
    let dossier = crate::dossier::dossier_html(evaluation, &papers, date);
    papers.push(Paper::text("dossier.html", dossier));
    papers
}

/// What is drawn for the shop: patterns and templates.
fn drawings(evaluation: &Evaluation, date: &str) -> Vec<Paper> {
    let mut papers = Vec::new();
    if let Some(bytes) = crate::flat_patterns_pdf(evaluation, date) {
        papers.push(Paper::bytes("flat-patterns.pdf", bytes));
    }
    for line in evaluation.cut.list.tables.iter().flat_map(|table| &table.lines) {
        // What cannot be cut as drawn has no file; its page of the drawings says why.
        if let Some(Ok(content)) = crate::pattern_dxf(line) {
            papers.push(Paper::text(format!("pattern-{}_mm.dxf", slug(&line.mark)), content));
        }
    }
    papers.extend(box_drawings(evaluation, date));
    let mut taken = BTreeSet::new();
    for battery_box in &evaluation.boxes {
        if let Some(bytes) = crate::templates_pdf(evaluation, battery_box) {
            let name = unique(&format!("templates-{}", slug(&battery_box.name)), &mut taken);
            papers.push(Paper::bytes(format!("{name}.pdf"), bytes));
        }
    }
    papers
}

/// What is cut from which sheet and bar: all of it in one file, each page as a picture, and a file for the laser of each
/// sheet that it cuts.
fn nests(evaluation: &Evaluation, nesting: &Nesting, date: &str) -> Vec<Paper> {
    let mut papers = Vec::new();
    if let Some(bytes) = crate::nests_pdf(evaluation, nesting, date) {
        papers.push(Paper::bytes("nests.pdf", bytes));
    }
    for (index, content) in crate::nest_svgs(evaluation, nesting, date).into_iter().enumerate() {
        papers.push(Paper::text(format!("nest-{}.svg", index + 1), content));
    }
    for (number, ..) in nesting.numbered() {
        // What cannot be cut as drawn has no file; the page of its pattern says why.
        if let Some(Ok(content)) = crate::nest_dxf(evaluation, nesting, number) {
            papers.push(Paper::text(format!("nest-{number}_mm.dxf"), content));
        }
    }
    papers
}

/// The drawing of each box, as one PDF and a picture of each of its sheets.
fn box_drawings(evaluation: &Evaluation, date: &str) -> Vec<Paper> {
    let paper = crate::drawing_paper(evaluation);
    let mut papers = Vec::new();
    let mut taken = BTreeSet::new();
    for battery_box in &evaluation.boxes {
        let (Some(pages), Some(bytes)) = (
            crate::box_drawing(evaluation, battery_box, date, paper),
            crate::box_drawing_pdf(evaluation, battery_box, date, paper),
        ) else {
            continue;
        };
        let name = unique(&format!("drawing-{}", slug(&battery_box.name)), &mut taken);
        papers.push(Paper::bytes(format!("{name}.pdf"), bytes));
        papers.extend(
            pages
                .iter()
                .enumerate()
                .map(|(index, page)| Paper::text(format!("{name}-sheet-{}.svg", index + 1), plot::svg(page))),
        );
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
