//! What the pack gives cause to say.

use pack::arrangement::Grave as PackGrave;
use pack::hazard::{Current, VoltageClass, voltage_class};

use super::{Look, finding};
use crate::evaluate::{Crossing, PackResult};
use crate::finding::{Finding, Grave, Subject};

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    for kind in &look.evaluation.kinds {
        if let Some(on_hand) = kind.on_hand
            && kind.placed > on_hand
        {
            findings.push(finding(
                Grave::Stop,
                Subject::Kind(kind.id),
                &kind.name,
                format!("{} are placed, and {on_hand} are on hand", kind.placed),
                "",
                format!("take out {}, or get more", kind.placed - on_hand),
            ));
        }
    }
    for kind in &look.evaluation.kinds {
        let Some(volts) = kind.module.map(|m| m.volts) else {
            continue;
        };
        if volts.empty > volts.nominal || volts.nominal > volts.full {
            let words = format!(
                "its volts do not rise: {} V empty, {} V nominal, {} V full",
                volts.empty.shown(1),
                volts.nominal.shown(1),
                volts.full.shown(1)
            );
            let fix = "correct its volts, cells in series or cell family";
            findings.push(finding(Grave::Stop, Subject::Kind(kind.id), &kind.name, words, "", fix));
        }
    }
    let placed: Vec<&PackResult> = look.evaluation.laid_out().collect();
    for pack in &placed {
        strings(look, pack, findings);
    }
    if placed.len() > 1 {
        let names: Vec<&str> = placed.iter().map(|p| p.name.as_str()).collect();
        findings.push(finding(
            Grave::Caution,
            Subject::Pack,
            "pack",
            format!(
                "{} are laid out together; each is reckoned as a pack of its own",
                names.join(" and ")
            ),
            "",
            "different kinds must not be joined in one string",
        ));
    }
    let full = placed
        .iter()
        .filter_map(|p| p.figures.as_ref())
        .map(|f| f.volts.full)
        .max();
    if let Some(full) = full.filter(|&v| voltage_class(v, Current::Dc) != VoltageClass::A) {
        findings.push(finding(
            Grave::Note,
            Subject::Pack,
            "pack",
            format!(
                "{:.1} V full is over 60 V dc: voltage class {}, touching it can kill",
                full.get(),
                voltage_class(full, Current::Dc).name()
            ),
            VoltageClass::SOURCE,
            "work insulated, cover what is finished, keep the service disconnect out",
        ));
    }
}

fn strings(look: &Look<'_>, pack: &PackResult, findings: &mut Vec<Finding>) {
    let (subject, name) = (Subject::Pack, pack.name.as_str());
    // A string under construction is no fault of the finished pack: its objections are told once it is whole, or when
    // the person has said how many are to be in series.
    if pack.missing > 0 {
        let series = pack.arrangement.map_or(0, |a| a.series);
        findings.push(finding(
            Grave::Caution,
            subject,
            name,
            format!("{} placed, {} short of a string of {series}", pack.placed, pack.missing),
            "",
            format!("place {} more", pack.missing),
        ));
        if look.job.wanted.series.is_none() {
            return;
        }
    }
    for objection in &pack.objections {
        let grave = match objection.grave() {
            PackGrave::Stop => Grave::Stop,
            PackGrave::Caution => Grave::Caution,
        };
        findings.push(finding(
            grave,
            subject,
            name,
            objection.words(),
            objection.source(),
            objection.fix(),
        ));
    }
    if pack.left_over > 0 {
        let a = pack
            .arrangement
            .map_or(String::new(), |a| format!("{}s{}p", a.series, a.parallel));
        findings.push(finding(
            Grave::Caution,
            subject,
            name,
            format!(
                "{} of the {} placed belong to no whole string ({a} takes the rest)",
                pack.left_over, pack.placed
            ),
            "",
            format!("take {} out, or place enough for another string", pack.left_over),
        ));
    }
    if let Some(crossing) = &pack.crossing {
        findings.push(crosses(pack, crossing));
    }
    if let (Some(wanted), Some(arrangement)) = (pack.wanted, pack.arrangement)
        && arrangement.series == wanted.series
        && arrangement.parallel < wanted.parallel
    {
        let more = wanted.modules() - arrangement.modules();
        findings.push(finding(
            Grave::Note,
            subject,
            name,
            format!(
                "{}s{}p laid out; the units on hand allow {}s{}p",
                arrangement.series, arrangement.parallel, wanted.series, wanted.parallel
            ),
            "",
            format!("place {more} more if there is room"),
        ));
    }
    if let (Some(most), Some(arrangement)) = (look.job.wanted.parallel, pack.arrangement)
        && arrangement.parallel > most
    {
        let words = format!(
            "{} strings are laid out, and at most {most} are wanted",
            arrangement.parallel
        );
        let fix = format!("take out {}", (arrangement.parallel - most) * arrangement.series);
        findings.push(finding(Grave::Caution, subject, name, words, "", fix));
    }
    if let Some(unknown) = pack.unknown {
        let words = format!("{}: no choice was held against its window", unknown.what);
        findings.push(finding(Grave::Note, subject, name, words, "", unknown.fix));
    }
}

/// Strings that run from box to box.
fn crosses(pack: &PackResult, crossing: &Crossing) -> Finding {
    let held: Vec<String> = crossing
        .boxes
        .iter()
        .map(|b| format!("{} holds {}", b.name, b.modules))
        .collect();
    let which = match (crossing.strings, crossing.of) {
        (1, 1) => format!("the string of {} has", crossing.series),
        (1, of) => format!("1 of the {of} strings of {} has", crossing.series),
        (n, of) if n == of => format!("all {of} strings of {} have", crossing.series),
        (n, of) => format!("{n} of the {of} strings of {} have", crossing.series),
    };
    finding(
        Grave::Note,
        Subject::Pack,
        &pack.name,
        format!("{which} to run from box to box: {}", held.join(", ")),
        "",
        format!(
            "put {} or a multiple of it in a box, or plan a cable from box to box with its disconnect",
            crossing.series
        ),
    )
}
