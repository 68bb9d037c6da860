//! The Papers page: what can be written, which of it is ticked, and where it went.

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::Arc;

use job::nesting::Nesting;
use job::{Evaluation, Job};
use papers::{Entry, Glance, Paper};

use crate::model::{Effect, Model};
use crate::page::Page;
use crate::theme::Meaning;
use crate::widgets::rows::Row;

/// Columns of the list in a small and in a roomy window.
const LIST: [u16; 2] = [31, 42];

/// Whether a window of so many columns is roomy.
pub(crate) const fn is_roomy(columns: u16) -> bool {
    columns >= 110
}

/// Columns of the list in a window of so many.
pub(crate) const fn list_columns(columns: u16) -> u16 {
    LIST[is_roomy(columns) as usize]
}

/// Columns beside it, in which a paper is looked at.
pub(crate) const fn look_columns(columns: u16) -> u16 {
    columns.saturating_sub(list_columns(columns) + 4)
}

/// The state of the page. Ticks are kept while the program runs, whatever job is open: what a person hands out is a
/// habit, not part of a job.
#[derive(Clone, Debug, Default)]
pub struct Papers {
    /// The paper under the cursor.
    pub cursor: usize,
    /// The first line of it that is shown.
    pub first_line: usize,
    /// The keys of papers that are not ticked; every other one is, so that a new paper is not missed.
    pub unticked: BTreeSet<String>,
    /// All papers, as they were made last.
    pub made: Option<Arc<Made>>,
    /// The job of which they are being made.
    pub making: Option<Arc<Job>>,
    /// The job of which they could not be made, which is a fault of the program, and why.
    pub failed: Option<(Arc<Job>, String)>,
    /// Where they went last.
    pub written: Option<Written>,
}

/// All papers of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Made {
    /// The state of the job that they are of.
    pub job: Arc<Job>,
    /// The files.
    pub papers: Vec<Paper>,
    /// How each of them begins.
    pub glances: Vec<Glance>,
    /// The papers that they belong to.
    pub entries: Vec<Entry>,
    /// What is cut from which sheet and bar, which the papers needed.
    pub nesting: Nesting,
}

/// Where papers went.
#[derive(Clone, Debug, PartialEq)]
pub struct Written {
    /// The state of the job that they are of.
    pub job: Arc<Job>,
    /// The folder.
    pub folder: PathBuf,
    /// How many files.
    pub files: usize,
    /// The titles of the papers.
    pub titles: Vec<String>,
    /// When, as date and time.
    pub when: String,
}

impl Papers {
    /// Whether a paper is ticked.
    pub fn is_ticked(&self, entry: &Entry) -> bool {
        !self.unticked.contains(&entry.key)
    }

    /// The paper under the cursor, with what was made.
    pub fn here(&self) -> Option<(&Made, &Entry)> {
        let made = self.made.as_deref()?;
        Some((
            made,
            made.entries.get(self.cursor.min(made.entries.len().checked_sub(1)?))?,
        ))
    }

    /// The files of the ticked papers, and the titles of these.
    pub fn ticked<'a>(&self, made: &'a Made) -> (Vec<&'a Paper>, Vec<String>) {
        let ticked: Vec<&Entry> = made.entries.iter().filter(|entry| self.is_ticked(entry)).collect();
        let files = ticked.iter().flat_map(|entry| &entry.files);
        (
            files.map(|&file| &made.papers[file]).collect(),
            ticked.iter().map(|entry| entry.title.clone()).collect(),
        )
    }
}

/// The papers of the job as it is, when they are made.
pub fn of_job(model: &Model) -> Option<&Arc<Made>> {
    let now = model.history.shared();
    let made = model.papers.made.as_ref();
    made.filter(|made| Arc::ptr_eq(&made.job, &now))
}

/// Asks for the papers while their page is shown and they are not made yet.
pub(crate) fn make_when_shown(model: &mut Model) -> Option<Effect> {
    let now = model.history.shared();
    let is_failed = model
        .papers
        .failed
        .as_ref()
        .is_some_and(|(job, _)| Arc::ptr_eq(job, &now));
    let is_idle = model.papers.making.is_none() && !is_failed;
    if model.page != Page::Papers || !is_idle || of_job(model).is_some() {
        return None;
    }
    model.papers.making = Some(now);
    Some(Effect::MakePapers)
}

/// Where papers go unless the person says otherwise: where they went last, or beside the job's file.
pub fn folder(model: &Model) -> PathBuf {
    if let Some(written) = &model.papers.written {
        return written.folder.clone();
    }
    let beside = model.file.as_ref().and_then(|file| file.parent());
    beside.unwrap_or(std::path::Path::new("")).join("papers")
}

/// The papers in groups, with a box each; and the row that the cursor is on.
pub fn rows(model: &Model) -> (Vec<Row>, Option<usize>) {
    let Some(made) = &model.papers.made else {
        let words = match &model.papers.failed {
            Some((_, why)) => (format!("!! not made: {why}"), Meaning::Stop),
            None => ("the papers are being made ...".to_owned(), Meaning::Dim),
        };
        return (vec![Row::Text(words.0, words.1)], None);
    };
    let mut rows = Vec::new();
    let mut cursor = None;
    let mut reader = None;
    for (index, entry) in made.entries.iter().enumerate() {
        if reader != Some(entry.reader) {
            rows.push(Row::Section(entry.reader.heading().to_owned()));
            reader = Some(entry.reader);
        }
        if index == model.papers.cursor.min(made.entries.len() - 1) {
            cursor = Some(rows.len());
        }
        let (mark, meaning) = if model.papers.is_ticked(entry) {
            ("[x]", Meaning::Plain)
        } else {
            ("[ ]", Meaning::Dim)
        };
        rows.push(Row::Text(format!("{mark} {}", entry.title), meaning));
    }
    (rows, cursor)
}

/// What is seen of the paper under the cursor: its title, then its files and how it begins.
pub fn preview(model: &Model) -> Vec<Row> {
    let Some((made, entry)) = model.papers.here() else {
        return Vec::new();
    };
    let room = usize::from(look_columns(model.size.0));
    let mut rows = vec![Row::Section(entry.title.clone())];
    for &file in &entry.files {
        let (name, form) = (&made.papers[file].file_name, &made.glances[file].form);
        let line = format!("{name}  {form}");
        if line.chars().count() <= room {
            rows.push(Row::Text(line, Meaning::Dim));
        } else {
            rows.push(Row::Text(name.clone(), Meaning::Dim));
            rows.push(Row::Text(format!("  {form}"), Meaning::Dim));
        }
    }
    rows.push(Row::Blank);
    if entry.key == "cut-list" {
        rows.extend(cut_list(model));
    } else {
        rows.extend(begins(made, entry));
    }
    while rows.last() == Some(&Row::Blank) {
        rows.pop();
    }
    rows
}

/// How the first file of a paper begins; of one that is not of words, what stands on each of its sheets.
fn begins(made: &Made, entry: &Entry) -> Vec<Row> {
    let row = |line: &String| match line.as_str() {
        "" => Row::Blank,
        line => Row::Text(line.to_owned(), Meaning::Plain),
    };
    let lines = |file: usize| made.glances[file].lines.iter();
    let Some(&first) = entry.files.first() else {
        return Vec::new();
    };
    if lines(first).len() > 0 {
        return lines(first).map(row).collect();
    }
    let mut rows = Vec::new();
    for &file in entry.files.iter().filter(|&&file| lines(file).len() > 0) {
        rows.push(Row::Text(made.papers[file].file_name.clone(), Meaning::Heading));
        rows.extend(lines(file).map(row));
    }
    rows
}

/// The cut list in few columns: mark, number off, size, name.
fn cut_list(model: &Model) -> Vec<Row> {
    let evaluation = &model.evaluation;
    let mut rows = Vec::new();
    for table in &evaluation.cut.list.tables {
        rows.push(Row::Text(table.label(), Meaning::Heading));
        let sizes: Vec<String> = table
            .lines
            .iter()
            .map(|line| {
                let [length, width] = [line.length, line.width].map(|size| evaluation.cut_size(size));
                format!("{length} x {width}")
            })
            .collect();
        let wide = sizes.iter().map(|size| size.chars().count()).max().unwrap_or(0);
        rows.extend(table.lines.iter().zip(&sizes).map(|(line, size)| {
            let words = format!("{:<4}{:>3} off  {size:<wide$}  {}", line.mark, line.quantity, line.name);
            Row::Text(words, Meaning::Plain)
        }));
    }
    if rows.is_empty() {
        rows.push(Row::Text(
            "nothing to cut yet: lay modules out first".to_owned(),
            Meaning::Dim,
        ));
    }
    rows
}

/// What the shop has, and whether the job is still that.
fn revision(evaluation: &Evaluation) -> (String, Meaning) {
    let now = &evaluation.revision;
    let Some(since) = &evaluation.issued else {
        let words = format!("revision {now}, not issued: i notes what the shop gets, to tell later what changed");
        return (words, Meaning::Dim);
    };
    let of = format!("revision {} of {}", since.revision, since.date);
    match (since.changed.is_none(), since.same_letter) {
        (true, true) => (format!("{of} is what the shop has"), Meaning::Good),
        (true, false) => (
            format!("revision {now}, not issued; the shop has the same as {of}"),
            Meaning::Note,
        ),
        (false, true) => {
            let changed = since.changed.words();
            (
                format!("! since {of} went out {changed}: i issues the next letter"),
                Meaning::Caution,
            )
        }
        (false, false) => {
            let changed = since.changed.words();
            (
                format!("revision {now}, not issued; against {of} {changed}: i issues it"),
                Meaning::Note,
            )
        }
    }
}

/// What stands under the list whatever is scrolled: where papers went, and what they rest on; the grave first.
pub fn standing(model: &Model) -> Vec<(String, Meaning)> {
    let evaluation = &model.evaluation;
    let mut lines = vec![revision(evaluation)];
    if let Some(written) = &model.papers.written {
        let changed = *written.job != *model.job();
        let (since, meaning) = if changed {
            ("; the job has changed since", Meaning::Caution)
        } else {
            ("", Meaning::Good)
        };
        let words = format!(
            "written to {}, {}: {} files{since}: {}",
            written.folder.display(),
            written.when,
            written.files,
            written.titles.join("; ")
        );
        lines.push((words, meaning));
    }
    let stops = super::ways::stops(model);
    if stops > 0 {
        let word = if stops == 1 { "stop stands" } else { "stops stand" };
        lines.push((format!("!! {stops} {word} on them: ! tells"), Meaning::Stop));
    }
    let assumed = evaluation.assumptions.len();
    if assumed > 0 {
        let words = format!("~ {assumed} values on them are assumed; try a cardboard mock-up before steel is cut");
        lines.push((words, Meaning::Assumed));
    }
    lines
}
