//! The pack in words: choices, the pack as laid out, what was checked, wiring, units.

use job::{Electric, Evaluation, figures_in_words};

use crate::report::sheet::Sheet;
use crate::{report, words};

/// The electrics of every pack, for a terminal.
pub fn pack_text(evaluation: &Evaluation) -> String {
    let mut sheet = Sheet::default();
    sheet.line(&words::title(evaluation));
    report::packs::write(&mut sheet, evaluation);
    for (pack, electric) in evaluation.electrics() {
        sheet.heading(&format!("checked for {}", pack.name));
        for check in &electric.checks {
            sheet.item(0, &format!("{} ", check.verdict.mark()), &check.line());
            for (word, text) in [("to do: ", &check.fix), ("source: ", &check.source)] {
                if !text.is_empty() {
                    sheet.item(3, "", &format!("{word}{text}"));
                }
            }
        }
        wiring(&mut sheet, evaluation, electric);
        units(&mut sheet, electric);
    }
    sheet.heading("care");
    for caution in crate::cautions() {
        sheet.item(0, "! ", caution);
    }
    sheet.done()
}

/// The pack as laid out, in words.
pub(crate) fn figures(sheet: &mut Sheet, electric: &Electric) {
    for line in figures_in_words(electric) {
        sheet.item(16, "", &line);
    }
}

fn wiring(sheet: &mut Sheet, evaluation: &Evaluation, electric: &Electric) {
    let Some(wiring) = &electric.wiring else { return };
    sheet.heading("wiring");
    let from = match wiring.from {
        job::OrderFrom::Given => "as taken over",
        job::OrderFrom::Mended => "as taken over, mended: modules came or went",
        job::OrderFrom::Nearest => "~from nearest to nearest; nobody has looked at it",
    };
    sheet.fact("order", from);
    let chain: Vec<String> = wiring
        .seats
        .iter()
        .map(|s| format!("{}{}", s.seat, if s.turned { " turned" } else { "" }))
        .collect();
    sheet.fact("", &chain.join(", "));
    sheet.fact(
        "links",
        &format!(
            "{} together, {} of it cable; cable to cut, with the leads to the drive, lugs and slack: {}",
            evaluation.up(wiring.length),
            evaluation.up(wiring.cable),
            evaluation.up(wiring.cable_to_cut())
        ),
    );
    if let Some(neighbour) = &wiring.neighbour {
        let [a, b] = neighbour.seats.map(|s| wiring.seats[s].seat);
        sheet.fact(
            "neighbours",
            &format!("up to {} V between {a} and {b}", neighbour.volts.shown(1)),
        );
    }
    let [along, low] = &wiring.fitting;
    sheet.fact(
        "fitted by hand",
        &format!(
            "low volts first: {} links above 60 V, {} V most; along the chain: {} links, {} V",
            low.above,
            low.largest.shown(1),
            along.above,
            along.largest.shown(1)
        ),
    );
    for link in &wiring.links {
        let cut = link
            .to_cut()
            .map_or_else(String::new, |cut| format!(", cut {}", evaluation.up(cut)));
        sheet.item(
            2,
            &format!("{:>3} ", link.number),
            &format!(
                "{} to {}, {}: {}{cut}",
                wiring.end_name(link.from),
                wiring.end_name(link.to),
                link.kind.name(),
                link.made_of(),
            ),
        );
    }
}

fn units(sheet: &mut Sheet, electric: &Electric) {
    let Some(matched) = &electric.matched else { return };
    sheet.heading("tested units");
    sheet.fact(
        "units",
        &format!(
            "{}, {} built in, {} spare, {} modules without one",
            matched.units.len(),
            matched.seated,
            matched.spare,
            matched.unassigned
        ),
    );
    if let Some(ah) = matched.amp_hours {
        sheet.fact("pack", &format!("{ah:.2} Ah with them"));
    }
    for unit in matched.units.iter().filter(|u| !u.odd.is_empty()) {
        sheet.item(2, "! ", &format!("{}: {}", unit.name, unit.odd));
    }
}
