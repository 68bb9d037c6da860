//! What is noted beside the lines between corners: smallest places, keep-outs, statements, remarks.

use std::fmt::Write as _;

use drawing::svg::escape;
use geometry::{Axis, Face};
use job::{Cavity, Decided, Job, KeepOut, KeepOutShape, Len, MeasuredFrom, Says, Source, Statement};

use super::{TICK, both, cell, head, lines, other, unit, unit_word};

/// Rows left free for what is found under the truck.
const FREE_PLACES: usize = 2;
const FREE_KEEP_OUTS: usize = 3;

/// Everything after the table of lines.
pub(super) fn write(out: &mut String, job: &Job, cavity: &Cavity) {
    between_corners(out, job, cavity);
    keep_outs(out, job, cavity);
    statements(out, job, cavity);
    out.push_str("<div class=\"remarks\">remarks</div>\n<p class=\"small\">");
    out.push_str(&escape(&crate::cautions().join(" ")));
    out.push_str("</p>\n");
}

fn heading(out: &mut String, title: &str, advice: &str) {
    let _ = writeln!(out, "<section>\n<h2>{title}</h2>\n<p>{advice}</p>");
}

/// Widths and heights between the corners, and whatever else was read not from corner to corner.
fn between_corners(out: &mut String, job: &Job, cavity: &Cavity) {
    heading(
        out,
        "Smallest places between the corners",
        "Where rails bow in, or a weld, a bolt head or a patch sticks out: the smallest width or height there.",
    );
    let reading = format!("reading ({})", unit(job));
    out.push_str("<table>\n");
    head(
        out,
        &[
            ("words", "width or height?"),
            ("words", "along bottom, top, left or right?"),
            ("blank", "distance behind the front wall"),
            ("blank", &reading),
            ("blank", "again"),
            ("tick", "done"),
        ],
    );
    out.push_str("<tbody>\n");
    for reading in cavity
        .readings
        .iter()
        .filter(|r| lines::line_of(r).is_none() && r.decided != Some(Decided::LeftOut))
    {
        let _ = writeln!(
            out,
            "<tr><td colspan=\"3\">{}<br><small>so far {}</small></td><td></td><td></td>{TICK}</tr>",
            escape(&reading.line.to_string()),
            escape(&both(&reading.read)),
        );
    }
    for _ in 0..FREE_PLACES {
        let _ = writeln!(out, "<tr>{}{TICK}</tr>", "<td></td>".repeat(5));
    }
    out.push_str("</tbody>\n</table>\n</section>\n");
}

/// What must stay free.
fn keep_outs(out: &mut String, job: &Job, cavity: &Cavity) {
    let advice = format!(
        "Whatever a box must not touch: pipes, lines, bolts, brackets. For what moves (axle, springs, shafts, the bed's \
         hinge) note all that it can reach. From the front left bottom corner, or name another; in {}.",
        unit_word(job)
    );
    heading(out, "Keep-outs", &advice);
    out.push_str("<table class=\"keep-outs\">\n");
    head(
        out,
        &[
            ("words", "what it is"),
            ("corner", "from corner"),
            ("", "rearward from"),
            ("", "to"),
            ("", "right from"),
            ("", "to"),
            ("", "up from"),
            ("", "to"),
            ("margin", "margin"),
            ("moves", "moves? comes out?"),
        ],
    );
    out.push_str("<tbody>\n");
    for keep_out in &cavity.keep_outs {
        noted(out, keep_out);
    }
    for _ in 0..FREE_KEEP_OUTS {
        let _ = writeln!(out, "<tr>{}</tr>", "<td></td>".repeat(10));
    }
    out.push_str("</tbody>\n</table>\n</section>\n");
}

fn noted(out: &mut String, keep_out: &KeepOut) {
    let along = keep_out.shape.and_then(KeepOutShape::along);
    let round = match (along, &keep_out.diameter) {
        (Some(axis), diameter) => format!(
            ", round along the {}, diameter {}; across it: its middle",
            axis.extent_name(),
            diameter.as_ref().map_or("?", Len::text)
        ),
        (None, _) => String::new(),
    };
    let _ = write!(out, "<tr><td>{}{}</td>", escape(&keep_out.name), escape(&round));
    let measured = keep_out.measured_from.unwrap_or(MeasuredFrom::FrontLeftBottom);
    cell(
        out,
        &measured
            .corner()
            .map_or("its middle".to_owned(), |corner| corner.to_string()),
    );
    for (axis, (from, to)) in Axis::ALL.into_iter().zip(keep_out.from.iter().zip(&keep_out.to)) {
        for (end, counts) in [(from, true), (to, along.is_none_or(|own| own == axis))] {
            if !counts {
                cell(out, "");
                continue;
            }
            let _ = write!(
                out,
                "<td><small>{}<br>({})</small></td>",
                escape(end.text()),
                escape(&other(end))
            );
        }
    }
    cell(out, &keep_out.margin.as_ref().map_or_else(String::new, Len::to_string));
    let moves: Vec<String> = Face::ALL
        .into_iter()
        .filter_map(|face| Some(format!("{} {}", face.towards(), keep_out.travel.towards(face)?)))
        .collect();
    let source = match (keep_out.source, moves.is_empty()) {
        (_, false) => format!("moves {}", moves.join(", ")),
        (Source::Frame, true) => "neither".to_owned(),
        (Source::Sweep, true) => "moves".to_owned(),
        (Source::Removable, true) => "comes out".to_owned(),
    };
    cell(out, &source);
    out.push_str("</tr>\n");
}

/// What is known of an edge without a tape.
fn statements(out: &mut String, job: &Job, cavity: &Cavity) {
    heading(
        out,
        "Level, plumb, parallel, square",
        "Only what you checked with a spirit level, a plumb bob or a square, over the whole line. Ring the word.",
    );
    out.push_str("<table>\n");
    head(
        out,
        &[
            ("says", "what holds"),
            ("", "of the line from corner to corner"),
            ("", "and of the line"),
            ("within", &format!("within ({})", unit(job))),
            ("tick", "done"),
        ],
    );
    out.push_str("<tbody>\n");
    for statement in &cavity.statements {
        stated(out, statement);
    }
    for (words, second) in [
        ("level / plumb", "-"),
        ("level / plumb", "-"),
        ("parallel / square", "to"),
    ] {
        let _ = writeln!(
            out,
            "<tr><td>{words}</td><td class=\"to\">to</td><td class=\"to\">{second}</td><td></td>{TICK}</tr>"
        );
    }
    out.push_str("</tbody>\n</table>\n</section>\n");
}

fn stated(out: &mut String, statement: &Statement) {
    let _ = write!(out, "<tr><td>{}</td>", word(statement.says));
    for i in 0..2 {
        cell(
            out,
            &statement.lines.get(i).map_or_else(String::new, ToString::to_string),
        );
    }
    cell(out, &statement.within.as_ref().map_or_else(String::new, both));
    let _ = writeln!(out, "{TICK}</tr>");
}

const fn word(says: Says) -> &'static str {
    match says {
        Says::Level => "level",
        Says::Plumb => "plumb",
        Says::Parallel => "parallel",
        Says::Square => "square",
    }
}
