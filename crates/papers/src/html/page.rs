//! A page that prints in black and white and needs nothing beside it: headings, tables, lists.

use std::fmt::Write as _;

use drawing::svg::escape;
use job::Evaluation;

use crate::words;

const STYLE: &str = include_str!("style.css");

/// Truck, job, revision and date in one row, so that what the page is for stands high on it.
pub(super) fn title_block(evaluation: &Evaluation, date: &str) -> String {
    let mut out = "<table class=\"title\">\n<tr>".to_owned();
    for (label, value) in [
        ("truck", evaluation.truck.as_str()),
        ("job", &evaluation.name),
        ("revision", &evaluation.revision),
        ("date", date),
    ] {
        let _ = write!(out, "<th>{label}</th><td>{}</td>", escape(value));
    }
    out.push_str("</tr>\n</table>\n");
    out
}

/// A page under way.
pub(crate) struct Page {
    out: String,
}

/// A cell of a table.
pub(crate) enum Cell {
    /// Words.
    Text(String),
    /// Words that stay on one line.
    Whole(String),
    /// A figure.
    Figure(String),
    /// A box to tick.
    Tick,
    /// A blank to fill in.
    Blank,
}

impl Cell {
    pub(crate) fn text(words: impl Into<String>) -> Self {
        Self::Text(words.into())
    }

    pub(crate) fn figure(words: impl Into<String>) -> Self {
        Self::Figure(words.into())
    }
}

impl Page {
    /// A page with its title block (truck, job, revision, date) and the cautions of live work.
    pub(crate) fn new(name: &str, evaluation: &Evaluation, date: &str) -> Self {
        Self::with_cautions(name, evaluation, date, &crate::electric::CAUTIONS)
    }

    /// The same with cautions of its own.
    pub(crate) fn with_cautions(name: &str, evaluation: &Evaluation, date: &str, cautions: &[&str]) -> Self {
        let title = escape(&format!("{name}: {}", words::title(evaluation)));
        let mut out = format!(
            "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>{title}</title>\n<style>\n{STYLE}\
             .blank {{ min-width: 16mm; }}\n</style>\n</head>\n<body>\n<h1>{title}</h1>\n"
        );
        out.push_str(&title_block(evaluation, date));
        let mut page = Self { out };
        page.cautions(cautions);
        page
    }

    fn cautions(&mut self, cautions: &[&str]) {
        self.out.push_str("<div class=\"care\">\n<ul>\n");
        for caution in cautions {
            let _ = writeln!(self.out, "<li>{}</li>", escape(caution));
        }
        self.out.push_str("</ul>\n</div>\n");
    }

    pub(crate) fn heading(&mut self, words: &str) {
        let _ = writeln!(self.out, "<h2>{}</h2>", escape(words));
    }

    pub(crate) fn paragraph(&mut self, words: &str) {
        let _ = writeln!(self.out, "<p>{}</p>", escape(words));
    }

    pub(crate) fn list(&mut self, lines: impl IntoIterator<Item = String>) {
        self.out.push_str("<ul>\n");
        for line in lines {
            let _ = writeln!(self.out, "<li>{}</li>", escape(&line));
        }
        self.out.push_str("</ul>\n");
    }

    /// Short steps, numbered, in columns.
    pub(crate) fn steps(&mut self, lines: impl IntoIterator<Item = String>) {
        self.out.push_str("<ol class=\"short\">\n");
        for line in lines {
            let _ = writeln!(self.out, "<li>{}</li>", escape(&line));
        }
        self.out.push_str("</ol>\n");
    }

    /// A list of lines that are escaped already.
    pub(crate) fn unescaped_list(&mut self, lines: impl IntoIterator<Item = String>) {
        self.out.push_str("<ol>\n");
        for line in lines {
            let _ = writeln!(self.out, "<li>{line}</li>");
        }
        self.out.push_str("</ol>\n");
    }

    /// Another page's content, on a sheet of its own.
    pub(crate) fn bound(&mut self, html: &str) {
        let _ = writeln!(self.out, "<section class=\"bound\">\n{html}</section>");
    }

    pub(crate) fn picture(&mut self, svg: &str) {
        let _ = writeln!(self.out, "<figure>\n{svg}</figure>");
    }

    /// Pictures side by side where there is room.
    pub(crate) fn pictures(&mut self, svgs: impl IntoIterator<Item = String>) {
        self.out.push_str("<div class=\"pictures\">\n");
        for svg in svgs {
            self.picture(&svg);
        }
        self.out.push_str("</div>\n");
    }

    /// A narrow table that goes on in a second column.
    pub(crate) fn narrow(&mut self, head: &[&str], rows: impl IntoIterator<Item = Vec<Cell>>) {
        self.out.push_str("<div class=\"columns\">\n");
        self.table(head, rows);
        self.out.push_str("</div>\n");
    }

    pub(crate) fn table(&mut self, head: &[&str], rows: impl IntoIterator<Item = Vec<Cell>>) {
        self.out.push_str("<table>\n<thead><tr>");
        for column in head {
            let _ = write!(self.out, "<th scope=\"col\">{}</th>", escape(column));
        }
        self.out.push_str("</tr></thead>\n<tbody>\n");
        for row in rows {
            self.out.push_str("<tr>");
            for cell in row {
                let _ = match cell {
                    Cell::Text(words) => write!(self.out, "<td>{}</td>", escape(&words)),
                    Cell::Whole(words) => write!(self.out, "<td class=\"whole\">{}</td>", escape(&words)),
                    Cell::Figure(words) => write!(self.out, "<td class=\"n\">{}</td>", escape(&words)),
                    Cell::Tick => write!(self.out, "<td class=\"tick\"><span class=\"box\"></span></td>"),
                    Cell::Blank => write!(self.out, "<td class=\"blank\"></td>"),
                };
            }
            self.out.push_str("</tr>\n");
        }
        self.out.push_str("</tbody>\n</table>\n");
    }

    pub(crate) fn finish(mut self) -> String {
        self.out.push_str("</body>\n</html>\n");
        self.out
    }
}
