//! The sheet to fill in by pencil under the truck. It prints in black and white, on A4 and Letter, and needs nothing
//! beside it.
//!
//! It shows what was taped and said so far, as it was written, so it is made from the job: nothing on it is derived.

mod advice;
mod lines;
mod more;

use std::fmt::Write as _;

use drawing::hollow::Hollow;
use drawing::svg::{escape, hollow_svg};
use job::{Cavity, Id, Job, Len};
use tape::Units;
use tape::show::{self, Fraction, Rounding};

const STYLE: &str = include_str!("tape_sheet/style.css");

/// What a cavity is called on the sheet of a job that has none yet.
const FIRST: &str = "cavity 1";

/// A tape sheet for each cavity of the job, or a blank one when it has none. `date` is printed as given.
pub fn tape_sheet_html(job: &Job, date: &str) -> String {
    if job.cavities.is_empty() {
        return blank_tape_sheet_html(job, FIRST, date);
    }
    page(job, &job.cavities, date)
}

/// A tape sheet for a cavity that is not in the job yet.
pub fn blank_tape_sheet_html(job: &Job, cavity: &str, date: &str) -> String {
    page(job, &[Cavity::named(Id::default(), cavity)], date)
}

fn page(job: &Job, cavities: &[Cavity], date: &str) -> String {
    let mut out = String::new();
    let _ = write!(
        out,
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>Tape sheet: {}</title>\n\
         <style>\n{STYLE}</style>\n</head>\n<body>\n",
        escape(&job.name)
    );
    for cavity in cavities {
        out.push_str("<article>\n");
        title_block(&mut out, job, cavity, date);
        let picture = hollow_svg(&Hollow::whole(), 84);
        let _ = writeln!(
            out,
            "<div class=\"how\">\n<figure>\n{picture}<figcaption>{}</figcaption>\n</figure>\n<ol>",
            escape(advice::LETTERS)
        );
        for line in advice::how(job.units.units()) {
            let _ = writeln!(out, "<li>{}</li>", escape(line));
        }
        out.push_str("</ol>\n</div>\n");
        care(&mut out);
        lines::write(&mut out, job, cavity);
        more::write(&mut out, job, cavity);
        out.push_str("</article>\n");
    }
    out.push_str("</body>\n</html>\n");
    out
}

/// What it belongs to, and blanks for when, by whom and with what.
fn title_block(out: &mut String, job: &Job, cavity: &Cavity, date: &str) {
    let _ = writeln!(
        out,
        "<h1>Tape sheet: {}</h1>\n<table class=\"title\">",
        escape(&cavity.name)
    );
    let printed = [
        ("truck", &job.truck),
        ("job", &job.name),
        ("revision", &job.revision),
        ("printed", &date.to_owned()),
    ];
    out.push_str("<tr>");
    for (name, value) in printed {
        let _ = write!(out, "<td><b>{name}</b> {}</td>", escape(value));
    }
    out.push_str("</tr>\n<tr class=\"fill\">");
    for name in ["taped on", "taped by", "tape (class)", "length of its case"] {
        let _ = write!(out, "<td><b>{name}</b></td>");
    }
    out.push_str("</tr>\n</table>\n");
}

fn care(out: &mut String) {
    out.push_str("<p class=\"care\"><b>Take care.</b>");
    for caution in crate::caution::under_the_truck() {
        let _ = write!(out, " {}", escape(caution));
    }
    out.push_str("</p>\n");
}

/// A length as it was written, and in the other unit.
fn both(len: &Len) -> String {
    format!("{len} ({})", other(len))
}

/// A length in the unit that it was not written in, to the nearest 0.1 mm or 1/32 in.
fn other(len: &Len) -> String {
    match len.written().units() {
        Units::Inch => show::millimetres(len.value(), 1, Rounding::Nearest),
        Units::Millimetre => show::inches(len.value(), Fraction::ThirtySecond, Rounding::Nearest),
    }
}

/// A cell to write into, with what was written so far in small.
fn cell(out: &mut String, so_far: &str) {
    if so_far.is_empty() {
        out.push_str("<td></td>");
    } else {
        let _ = write!(out, "<td><small>{}</small></td>", escape(so_far));
    }
}

/// A cell to tick.
const TICK: &str = "<td class=\"tick\"><span class=\"box\"></span></td>";

/// The head of a table: column headings and their classes.
fn head(out: &mut String, columns: &[(&str, &str)]) {
    out.push_str("<thead><tr>");
    for (class, words) in columns {
        let _ = write!(out, "<th scope=\"col\" class=\"{class}\">{words}</th>");
    }
    out.push_str("</tr></thead>\n");
}

/// The unit that a bare number on the sheet is in.
const fn unit(job: &Job) -> &'static str {
    match job.units.units() {
        Units::Inch => "in",
        Units::Millimetre => "mm",
    }
}

/// The same unit in a sentence.
const fn unit_word(job: &Job) -> &'static str {
    match job.units.units() {
        Units::Inch => "inches",
        Units::Millimetre => "millimetres",
    }
}

#[cfg(test)]
mod tests;
