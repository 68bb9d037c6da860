//! What each file of [`all`](crate::all) is and who reads it: the list from which a person takes some.

use crate::Paper;

/// Who reads a paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reader {
    /// Who cuts, folds and welds.
    Shop,
    /// Who tapes, lays out and wires.
    Helper,
    /// Who has to pass it.
    Inspector,
    /// Other programs, and papers that stand nowhere else.
    Data,
}

impl Reader {
    /// The heading over the papers for them.
    pub const fn heading(self) -> &'static str {
        match self {
            Self::Shop => "for the shop",
            Self::Helper => "for the helper",
            Self::Inspector => "for the inspector",
            Self::Data => "data",
        }
    }
}

/// One paper: every file with the same on it, whatever their forms and sheets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// What stands for it: the beginning of its files' names.
    pub key: String,
    /// Who reads it.
    pub reader: Reader,
    /// What it is.
    pub title: String,
    /// Its files, as places in the list of papers; the one to look at first in front.
    pub files: Vec<usize>,
}

/// A row of the table: how the name of a file begins.
struct Known {
    begins: &'static str,
    key: &'static str,
    reader: Reader,
    title: &'static str,
    /// Whether the rest of the name, up to its form or sheet, tells of what it is: a paper for each.
    each: bool,
}

const fn row(begins: &'static str, key: &'static str, reader: Reader, title: &'static str) -> Known {
    Known {
        begins,
        key,
        reader,
        title,
        each: false,
    }
}

/// The papers, in the order in which they are wanted by each reader. The first row that fits a file's name counts.
const KNOWN: [Known; 29] = [
    row("cut-list.", "cut-list", Reader::Shop, "cut list"),
    row("changes.", "changes", Reader::Shop, "what changed"),
    Known {
        each: true,
        ..row("drawing-", "drawing", Reader::Shop, "drawing")
    },
    row("flat-patterns.", "flat-patterns", Reader::Shop, "patterns of parts"),
    row("pattern-", "pattern", Reader::Shop, "parts for the laser"),
    row("nests.", "nests", Reader::Shop, "nests on sheets, bars"),
    row("nest-", "nests", Reader::Shop, "nests on sheets, bars"),
    row("holes.", "holes", Reader::Shop, "hole table"),
    row("labels.", "labels", Reader::Shop, "labels"),
    row("weld-map.", "weld-map", Reader::Shop, "weld map"),
    Known {
        each: true,
        ..row("templates-", "templates", Reader::Shop, "cardboard")
    },
    row("shopping-list.", "shopping-list", Reader::Shop, "shopping list"),
    row("tape-sheet.", "tape-sheet", Reader::Helper, "tape sheet"),
    row("survey.", "survey", Reader::Helper, "survey"),
    row("layout-sheet.", "layout-sheet", Reader::Helper, "layout on the truck"),
    row("layout-", "layout", Reader::Helper, "pictures of the layout"),
    row("wiring.", "wiring", Reader::Helper, "wiring schedule"),
    row("single-line.", "single-line", Reader::Helper, "single-line diagram"),
    row("single-line-", "single-line", Reader::Helper, "single-line diagram"),
    row("way-in.", "way-in", Reader::Helper, "way in"),
    row("lift-plan.", "lift-plan", Reader::Helper, "lift plan"),
    row("dossier.", "dossier", Reader::Inspector, "dossier, all of it"),
    row("inspector.", "inspector", Reader::Inspector, "inspector's sheet"),
    row("strength.", "strength", Reader::Inspector, "how boxes are held"),
    row("weight-sheet.", "weight-sheet", Reader::Inspector, "weight sheet"),
    row("range-sheet.", "range-sheet", Reader::Inspector, "range sheet"),
    row("test-sheet.", "test-sheet", Reader::Inspector, "test sheet"),
    row("report.", "report", Reader::Inspector, "report"),
    row("evaluation.", "evaluation", Reader::Data, "figures as JSON"),
];

/// The papers among some files, grouped by who reads them. A file that no row of the table fits is a paper of its own, at
/// the end.
pub fn catalog(papers: &[Paper]) -> Vec<Entry> {
    let mut entries: Vec<(usize, Entry)> = Vec::new();
    for (index, paper) in papers.iter().enumerate() {
        let stem = paper.file_name.split('.').next().unwrap_or_default();
        // A sheet of a drawing: `drawing-left-box-sheet-2`.
        let sheet = stem
            .rsplit_once("-sheet-")
            .filter(|(_, n)| n.bytes().all(|b| b.is_ascii_digit()));
        let stem = sheet
            .filter(|_| {
                std::path::Path::new(&paper.file_name)
                    .extension()
                    .is_some_and(|form| form == "svg")
            })
            .map_or(stem, |(name, _)| name);
        let at = KNOWN.iter().position(|known| paper.file_name.starts_with(known.begins));
        let (key, reader, title) = match at.map(|at| &KNOWN[at]) {
            Some(known) if known.each => {
                let of = stem.strip_prefix(known.begins).unwrap_or(stem).replace('-', " ");
                (stem.to_owned(), known.reader, format!("{}, {of}", known.title))
            }
            Some(known) => (known.key.to_owned(), known.reader, known.title.to_owned()),
            None => (stem.to_owned(), Reader::Data, stem.replace('-', " ")),
        };
        match entries.iter_mut().find(|(_, entry)| entry.key == key) {
            Some((_, entry)) => entry.files.push(index),
            None => entries.push((
                at.unwrap_or(KNOWN.len()),
                Entry {
                    key,
                    reader,
                    title,
                    files: vec![index],
                },
            )),
        }
    }
    entries.sort_by_key(|(at, entry)| (entry.reader, *at));
    let mut entries: Vec<Entry> = entries.into_iter().map(|(_, entry)| entry).collect();
    for entry in &mut entries {
        entry.files.sort_by_key(|&file| form_rank(&papers[file].file_name));
    }
    entries
}

/// The forms that are read on a screen come first.
fn form_rank(name: &str) -> usize {
    const FORMS: [&str; 7] = [".txt", ".html", ".md", ".pdf", ".csv", ".svg", ".dxf"];
    FORMS
        .iter()
        .position(|form| name.ends_with(form))
        .unwrap_or(FORMS.len())
}
