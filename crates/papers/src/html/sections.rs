//! What stands round the tables: heading, findings, totals, assumed values, cautions.

use std::fmt::Write as _;

use drawing::svg::escape;
use job::nesting::Nesting;
use job::shopping::ToBuy;
use job::{Evaluation, Finding, Grave};
use tape::{Length, Units};

use crate::{shop, words};

/// Truck, job, boxes, revision, date, and how sizes are meant.
pub(super) fn heading(out: &mut String, evaluation: &Evaluation, date: &str) {
    out.push_str(&super::page::title_block(evaluation, date));
    boxes(out, evaluation);
    out.push_str("<ul class=\"rules\">\n");
    for line in words::SIZES {
        let _ = writeln!(out, "<li>{}</li>", escape(line));
    }
    let _ = writeln!(out, "<li>{}</li>", escape(&words::tolerance(evaluation)));
    if evaluation.headline.assumed.cut {
        let _ = writeln!(out, "<li><strong>{}</strong></li>", escape(words::ASSUMED_SIZES));
    }
    out.push_str("</ul>\n");
}

/// One line for each box: letter, name, sizes, masses, and what rounding can cost.
fn boxes(out: &mut String, evaluation: &Evaluation) {
    if evaluation.boxes.is_empty() {
        return;
    }
    let kg = words::mass_unit(evaluation);
    let unit = match evaluation.units {
        Units::Inch => "in",
        Units::Millimetre => "mm",
    };
    let _ = write!(
        out,
        "<table>\n<thead><tr><th>box</th><th>name</th><th>inside liner, rounded down</th><th>body</th>\
         <th>{}</th><th>{}</th><th>empty {kg}</th><th>modules {kg}</th><th>loaded {kg}</th>\
         <th>inside may lose by rounding, {unit}</th><th>outside may gain, {unit}</th></tr></thead>\n<tbody>\n",
        drawing::WITHOUT_HEADS,
        drawing::WITH_HEADS,
    );
    let summaries = &evaluation.cut.list.boxes;
    let mut built_before = 0;
    let assumed = evaluation.headline.assumed;
    let (size, mass) = (words::mark(assumed.cut), words::mark(assumed.mass));
    let grams = |grams| words::mass_cell_of(evaluation, grams);
    for battery_box in &evaluation.boxes {
        let name = escape(&battery_box.name);
        let Some(built) = &battery_box.built else {
            let why = battery_box
                .fault
                .as_ref()
                .map_or("nothing in it yet".to_owned(), ToString::to_string);
            let _ = writeln!(
                out,
                "<tr><td></td><td>{name}</td><td colspan=\"9\">not to be built: {}</td></tr>",
                escape(&why)
            );
            continue;
        };
        let summary = summaries.get(built_before);
        built_before += 1;
        let inside = battery_box.inside.map_or_else(String::new, |c| {
            words::triple(c.size().0, |length| evaluation.down(length))
        });
        let without = words::OverAll::of(evaluation, battery_box).map_or(built.overall, |over| over.without_heads);
        let fine = |lengths| words::triple(lengths, |length| fine_up(length, evaluation.units));
        let _ = writeln!(
            out,
            "<tr><th>{}</th><td>{name}</td><td>{size}{}</td><td>{size}{}</td><td>{size}{}</td><td>{size}{}</td>\
             <td class=\"n\">{mass}{}</td><td class=\"n\">{}</td><td class=\"n\">{mass}{}</td><td>{}</td><td>{}</td></tr>",
            summary.map_or("", |s| &s.letter),
            escape(&inside),
            escape(&words::triple(built.body, |length| evaluation.up(length))),
            escape(&words::triple(without, |length| evaluation.up(length))),
            escape(&words::triple(built.overall, |length| evaluation.up(length))),
            grams(battery_box.mass.empty_g()),
            grams(battery_box.mass.modules_g),
            grams(battery_box.mass.total_g()),
            summary.map_or_else(String::new, |s| fine(s.loss)),
            summary.map_or_else(String::new, |s| fine(s.growth)),
        );
    }
    out.push_str("</tbody>\n</table>\n");
}

/// What rounding may cost, without its unit, rounded up to 0.1 mm or 0.001 in.
fn fine_up(length: Length, units: Units) -> String {
    match units {
        Units::Millimetre => words::tenth_mm_up(length),
        Units::Inch => format!("{:.3}", length.round_up_to(Length::from_nm(25_400)).as_inches()),
    }
}

/// What stands against cutting; what needs a second look is counted here, and told behind the tables.
pub(super) fn stops(out: &mut String, evaluation: &Evaluation) {
    findings(out, evaluation, Grave::Stop, "Stops");
    let cautions = of(evaluation, Grave::Caution).count();
    if cautions > 0 {
        let (number, verb) = if cautions == 1 {
            ("One caution".to_owned(), "stands")
        } else {
            (format!("{cautions} cautions"), "stand")
        };
        let _ = writeln!(
            out,
            "<p><strong>{number} {verb} behind the tables: read on before steel is cut.</strong></p>"
        );
    }
}

/// What needs a second look.
pub(super) fn cautioned(out: &mut String, evaluation: &Evaluation) {
    findings(out, evaluation, Grave::Caution, "Cautions");
}

fn of(evaluation: &Evaluation, grave: Grave) -> impl Iterator<Item = &Finding> {
    evaluation.findings.iter().filter(move |f| f.grave == grave)
}

fn findings(out: &mut String, evaluation: &Evaluation, grave: Grave, heading: &str) {
    if of(evaluation, grave).next().is_none() {
        return;
    }
    let _ = writeln!(out, "<section class=\"findings\">\n<h2>{heading}</h2>\n<ul>");
    for finding in of(evaluation, grave) {
        let _ = write!(
            out,
            "<li><strong>{}</strong> {}: {}",
            finding.grave.name(),
            escape(&finding.name),
            escape(&finding.words)
        );
        for (word, text) in [("Fix", finding.fix.as_str()), ("Source", &*finding.source)] {
            if !text.is_empty() {
                let _ = write!(out, " <em>{word}:</em> {}", escape(text));
            }
        }
        out.push_str("</li>\n");
    }
    out.push_str("</ul>\n</section>\n");
}

/// Mass of everything, gasket and surface to coat of each box, holes that wait for welding.
pub(super) fn totals(out: &mut String, evaluation: &Evaluation, nesting: &Nesting) {
    out.push_str("<section>\n<h2>Totals</h2>\n<ul>\n");
    let assumed = evaluation.headline.assumed;
    let _ = writeln!(
        out,
        "<li>All tables: {}{}</li>",
        words::mark(assumed.mass),
        words::mass(evaluation, evaluation.cut.list.grams)
    );
    for line in shop::rests_on(nesting)
        .into_iter()
        .chain(words::weld_lines(evaluation))
        .chain(words::masking_lines(evaluation))
        .chain(words::liner_lines(evaluation))
    {
        let _ = writeln!(out, "<li>{}</li>", escape(&line));
    }
    let mark = words::mark(assumed.cut);
    for battery_box in &evaluation.boxes {
        let Some(built) = &battery_box.built else {
            continue;
        };
        let _ = write!(
            out,
            "<li>{}: surface to coat {mark}{} (outside, holes not taken off)",
            escape(&battery_box.name),
            words::area(evaluation, built.coat_area.as_m2(), 2)
        );
        if let Some(holes) = &built.lid_holes {
            let _ = write!(out, ", {} lid screws", holes.count);
        }
        if let Some(held) = words::cap_held(evaluation, built) {
            let _ = write!(out, ", {}", escape(&held));
        }
        if let Some(gasket) = words::gasket(evaluation, built) {
            let _ = write!(out, ", {}", escape(&gasket));
        }
        if let Some(after) = words::drilled_late(built) {
            let _ = write!(out, ", {after}");
        }
        out.push_str("</li>\n");
    }
    out.push_str("</ul>\n</section>\n");
}

/// Whole sheets and bars, fasteners, gasket and liner.
pub(super) fn to_buy(out: &mut String, to_buy: &ToBuy) {
    if to_buy.items.is_empty() {
        return;
    }
    out.push_str("<section>\n<h2>To buy</h2>\n<table>\n");
    super::head(out, &shop::COLUMNS);
    out.push_str("<tbody>\n");
    for row in shop::rows(to_buy) {
        out.push_str("<tr>");
        for (column, cell) in row.iter().enumerate() {
            let class = if (1..4).contains(&column) { " class=\"n\"" } else { "" };
            let _ = write!(out, "<td{class}>{}</td>", escape(cell));
        }
        out.push_str("</tr>\n");
    }
    let _ = writeln!(
        out,
        "</tbody>\n</table>\n<p>{}</p>\n</section>",
        escape(&shop::total(to_buy))
    );
}

/// What nobody entered.
pub(super) fn assumptions(out: &mut String, evaluation: &Evaluation) {
    if evaluation.assumptions.is_empty() {
        return;
    }
    out.push_str("<section>\n<h2>Assumed values</h2>\n<p>Nobody entered these; the stated default holds.</p>\n<ul class=\"short\">\n");
    for assumption in &evaluation.assumptions {
        let _ = writeln!(
            out,
            "<li>{}: {}</li>",
            escape(&assumption.label),
            escape(&assumption.text)
        );
    }
    out.push_str("</ul>\n</section>\n");
}

/// What every paper warns of.
pub(super) fn cautions(out: &mut String) {
    out.push_str("<section class=\"care\">\n<h2>Take care</h2>\n<ul>\n");
    for caution in crate::cautions() {
        let _ = writeln!(out, "<li>{}</li>", escape(caution));
    }
    out.push_str("</ul>\n</section>\n");
}
