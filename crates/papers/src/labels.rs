//! Labels to print on sheets of stickers: one for each piece, one for each box, one for each module.

mod boxes;
mod modules;
mod parts;

use std::fmt::Write as _;

use drawing::svg::escape;
use job::Evaluation;
use plot::{Orientation, Paper};

use crate::page::paper::label_paper;
use crate::words;

const STYLE: &str = include_str!("labels/style.css");

/// How labels lie on a sheet of stickers, in the middle of it, without gaps between them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Grid {
    pub(crate) paper: Paper,
    pub(crate) columns: usize,
    pub(crate) rows: usize,
    /// Width and height of a label, in millimetres.
    pub(crate) label: [f64; 2],
}

impl Grid {
    /// Fourteen to a sheet of A4, twelve to one of Letter: parts and modules.
    pub(crate) const fn small(paper: Paper) -> Self {
        match paper {
            Paper::Letter | Paper::Tabloid => Self {
                paper: Paper::Letter,
                columns: 2,
                rows: 6,
                label: [101.6, 38.1],
            },
            Paper::A4 | Paper::A3 => Self {
                paper: Paper::A4,
                columns: 2,
                rows: 7,
                label: [95.0, 38.0],
            },
        }
    }

    /// Three to a sheet: boxes.
    pub(crate) const fn large(paper: Paper) -> Self {
        match paper {
            Paper::Letter | Paper::Tabloid => Self {
                paper: Paper::Letter,
                columns: 1,
                rows: 3,
                label: [203.2, 76.2],
            },
            Paper::A4 | Paper::A3 => Self {
                paper: Paper::A4,
                columns: 1,
                rows: 3,
                label: [190.0, 88.0],
            },
        }
    }

    const fn count(&self) -> usize {
        self.columns * self.rows
    }

    /// The upper left corner of the label at a place, from the upper left corner of the paper.
    pub(crate) fn corner(&self, index: usize) -> [f64; 2] {
        let [width, height] = self.paper.size_mm(Orientation::Portrait);
        let (column, row) = (index % self.columns, index / self.columns);
        #[expect(clippy::cast_precision_loss, reason = "a dozen labels")]
        let place =
            |paper: f64, label: f64, all: usize, at: usize| (paper - label * all as f64) / 2.0 + label * at as f64;
        [
            place(width, self.label[0], self.columns, column),
            place(height, self.label[1], self.rows, row),
        ]
    }
}

/// Every label as one page for sheets of stickers, A4 or Letter. `date` is printed as given.
pub fn labels_html(evaluation: &Evaluation, date: &str) -> String {
    let paper = label_paper(evaluation);
    let title = escape(&format!("Labels: {}", words::title(evaluation)));
    let mut out = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>{title}</title>\n<style>\n\
         @page {{ size: {} portrait; margin: 0; }}\n{STYLE}</style>\n</head>\n<body>\n",
        paper.name()
    );
    let sheets = [
        ("parts", Grid::small(paper), parts::labels(evaluation)),
        ("boxes", Grid::large(paper), boxes::labels(evaluation)),
        ("modules", Grid::small(paper), modules::labels(evaluation)),
    ];
    for (what, grid, labels) in sheets {
        let of = labels.len().div_ceil(grid.count());
        for (number, labels) in (1..).zip(labels.chunks(grid.count())) {
            let [width, height] = grid.paper.size_mm(Orientation::Portrait);
            let _ = writeln!(
                out,
                "<section class=\"sheet {what}\" style=\"width:{width}mm;height:{height}mm\">\n<p class=\"note\">Labels of {what}, \
                 sheet {number} of {of}; {}, {}; {} x {} of {} x {} mm on {}, print at 100 %</p>",
                escape(&words::title(evaluation)),
                escape(&words::plain(date)),
                grid.columns,
                grid.rows,
                grid.label[0],
                grid.label[1],
                grid.paper.name(),
            );
            for (index, label) in labels.iter().enumerate() {
                let ([x, y], [width, height]) = (grid.corner(index), grid.label);
                let _ = writeln!(
                    out,
                    "<div class=\"label\" style=\"left:{x:.2}mm;top:{y:.2}mm;width:{width}mm;height:{height}mm\">{label}</div>"
                );
            }
            out.push_str("</section>\n");
        }
    }
    out.push_str("</body>\n</html>\n");
    out
}

/// A line of a label: markup already made of escaped text.
fn line(class: &str, text: &str) -> String {
    format!("<p class=\"{class}\">{}</p>", escape(text))
}

/// Text of a person on one line of at most so many letters; what is longer ends in dots.
fn short(text: &str, most: usize) -> String {
    let plain = words::plain(text);
    if plain.chars().count() <= most {
        return plain;
    }
    plain.chars().take(most.saturating_sub(1)).collect::<String>() + "…"
}

/// The revision, in words.
fn revision(evaluation: &Evaluation) -> String {
    let revision = short(&evaluation.revision, 12);
    if revision.is_empty() {
        "no revision".to_owned()
    } else {
        format!("revision {revision}")
    }
}
