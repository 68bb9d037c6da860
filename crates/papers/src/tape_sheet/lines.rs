//! The 28 lines in walking order, each station beside its picture.

use std::fmt::Write as _;

use drawing::hollow::{Hollow, Station};
use drawing::svg::{escape, hollow_svg};
use job::{Cavity, Decided, Job, Reading};
use tape::survey::Line;

use super::{TICK, both, head, unit};

/// The line from corner to corner that a reading was taken along, if it was.
pub(super) fn line_of(reading: &Reading) -> Option<Line> {
    reading.line.of_survey()
}

/// The table of all lines.
pub(super) fn write(out: &mut String, job: &Job, cavity: &Cavity) {
    let reading = format!("reading ({})", unit(job));
    out.push_str("<table class=\"lines\">\n");
    head(
        out,
        &[
            ("picture", "lines"),
            ("number", "no."),
            ("words", "from corner to corner"),
            ("blank", &reading),
            ("blank", "again"),
            ("tick", "done"),
        ],
    );
    for station in Station::ALL {
        let lines = station.lines();
        let picture = hollow_svg(&Hollow::of_station(station), 35);
        let mut first = format!(
            "<th scope=\"rowgroup\" class=\"picture\" rowspan=\"{}\">{picture}{}{}</th>",
            lines.len(),
            station.name(),
            if station == Station::Middle {
                "<br>where the tape can cross"
            } else {
                ""
            }
        );
        out.push_str("<tbody>\n");
        for (number, line) in lines {
            let _ = writeln!(
                out,
                "<tr>{}<td class=\"number\">{number}</td><td class=\"words\"><b>{line}</b>{}<br>{}</td>\
                 <td></td><td></td>{TICK}</tr>",
                std::mem::take(&mut first),
                so_far(cavity, line),
                line.words(),
            );
        }
        out.push_str("</tbody>\n");
    }
    out.push_str("</table>\n");
}

/// What was read along a line so far, so that nobody tapes it twice unawares.
fn so_far(cavity: &Cavity, line: Line) -> String {
    let taken = cavity
        .readings
        .iter()
        .filter(|reading| line_of(reading) == Some(line) && reading.decided != Some(Decided::LeftOut));
    let texts: Vec<String> = taken.map(|reading| both(&reading.read)).collect();
    if texts.is_empty() {
        return String::new();
    }
    format!(" <small>so far {}</small>", escape(&texts.join("; ")))
}
