//! The cut list as one page that prints in black and white and needs nothing beside it.

pub(crate) mod page;
mod sections;

use std::fmt::Write as _;

use drawing::svg::{Options, escape, svg};
use drawing::{Side, box_view};
use enclosure::cutlist::Table;
use job::nesting::Nesting;
use job::shopping::ToBuy;
use job::{BoxResult, Evaluation};

use crate::row;
use crate::words;

/// A table of so many holes is not parted.
const FEW: usize = 16;
const STYLE: &str = include_str!("html/style.css");

/// The cut list as one self-contained page for the printer: heading, boxes with their drawings, a table for each stock
/// by length falling with boxes to tick, hole tables, totals, what it rests on, cautions. `date` is printed as given.
pub fn cutlist_html(evaluation: &Evaluation, to_buy: &ToBuy, date: &str) -> String {
    let mut out = String::new();
    let title = escape(&words::title(evaluation));
    let _ = write!(
        out,
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>Cut list: {title}</title>\n\
         <style>\n{STYLE}</style>\n</head>\n<body>\n<h1>Cut list: {title}</h1>\n"
    );
    sections::heading(&mut out, evaluation, date);
    sections::stops(&mut out, evaluation);
    for (index, table) in evaluation.cut.list.tables.iter().enumerate() {
        parts(&mut out, evaluation, &to_buy.nesting, index, table);
    }
    sections::cautioned(&mut out, evaluation);
    sections::totals(&mut out, evaluation, &to_buy.nesting);
    sections::to_buy(&mut out, to_buy);
    for battery_box in &evaluation.boxes {
        drawings(&mut out, evaluation, battery_box);
    }
    sections::assumptions(&mut out, evaluation);
    sections::cautions(&mut out);
    out += "</body>\n</html>\n";
    out
}

/// One table of parts, its foot, and the hole tables of its lines.
fn parts(out: &mut String, evaluation: &Evaluation, nesting: &Nesting, index: usize, table: &Table) {
    let _ = writeln!(
        out,
        "<section class=\"parts\">\n<h2>{}</h2>\n<table>",
        escape(&table.label())
    );
    let columns = row::printed(evaluation);
    let heads: Vec<String> = columns.iter().map(|&column| row::head(evaluation, column)).collect();
    let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
    head(out, &heads);
    out.push_str("<tbody>\n");
    let assumed = evaluation.headline.assumed;
    for line in &table.lines {
        out.push_str("<tr>");
        let cells = row::paper_cells(evaluation, table, line);
        for &column in &columns {
            let cell = &cells[column];
            let _ = match column {
                c if row::SIZES.contains(&c) => {
                    write!(out, "<td class=\"n\">{}{}</td>", words::mark(assumed.cut), escape(cell))
                }
                c if row::MASSES.contains(&c) => {
                    write!(
                        out,
                        "<td class=\"n\">{}{}</td>",
                        words::mark(assumed.mass),
                        escape(cell)
                    )
                }
                0 => write!(out, "<th scope=\"row\">{}</th>", escape(cell)),
                row::NUMBER_OFF | row::BENDS => {
                    write!(out, "<td class=\"n\">{}</td>", escape(cell))
                }
                c if row::MADE.contains(&c) => write!(out, "<td class=\"tick\"><span class=\"box\"></span></td>"),
                _ => write!(out, "<td>{}</td>", escape(cell)),
            };
        }
        out.push_str("</tr>\n");
    }
    let foot = escape(&row::foot(evaluation, nesting, index, table));
    let _ = writeln!(
        out,
        "</tbody>\n<tfoot><tr><td colspan=\"{}\">{foot}</td></tr></tfoot>\n</table>\n</section>",
        columns.len()
    );
    holes(out, evaluation, table);
}

/// The hole tables of a table's lines, in columns that go on from page to page.
fn holes(out: &mut String, evaluation: &Evaluation, table: &Table) {
    let mut lines = table.lines.iter().filter(|line| !line.holes.is_empty()).peekable();
    if lines.peek().is_none() {
        return;
    }
    out.push_str("<div class=\"columns\">\n");
    for line in lines {
        let few = if line.holes.len() <= FEW { " few" } else { "" };
        let holes = row::hole_table(evaluation, line);
        let purpose = holes.purpose_words();
        let _ = writeln!(
            out,
            "<section class=\"holes{few}\">\n<h3>Holes of {}, {}{purpose}: from the lower left corner, length along x{}</h3>\n<table>",
            escape(&line.mark),
            escape(&line.name),
            escape(&row::seen_behind(line))
        );
        head(out, &holes.heads);
        out.push_str("<tbody>\n");
        for cells in holes.rows {
            out.push_str("<tr>");
            for cell in cells {
                let _ = write!(out, "<td class=\"n\">{}</td>", escape(&cell));
            }
            out.push_str("</tr>\n");
        }
        out.push_str("</tbody>\n</table>\n</section>\n");
    }
    out.push_str("</div>\n");
}

fn head(out: &mut String, columns: &[&str]) {
    out.push_str("<thead><tr>");
    for column in columns {
        let _ = write!(out, "<th scope=\"col\">{column}</th>");
    }
    out.push_str("</tr></thead>\n");
}

/// A box from above and from the left.
fn drawings(out: &mut String, evaluation: &Evaluation, battery_box: &BoxResult) {
    for side in [Side::Plan, Side::FromLeft] {
        let Some(view) = box_view(evaluation, battery_box.id, side) else {
            continue;
        };
        // Fill patterns are named in each picture: on one page each picture needs names of its own. A quotation mark
        // in a user's text is written out, so nothing but attributes can match.
        let own = format!("box{}-{}-", battery_box.id.0, side.name());
        let picture = svg(&view, Options::default())
            .replace(" id=\"", &format!(" id=\"{own}"))
            .replace("\"url(#", &format!("\"url(#{own}"));
        let _ = writeln!(out, "<figure>\n{picture}</figure>");
    }
}
