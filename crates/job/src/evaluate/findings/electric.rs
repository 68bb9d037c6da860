//! Conductors, protection, wiring order and tested units.

use pack::arrangement::Objection;

use super::{Look, finding};
use crate::evaluate::electric::{Electric, Matched, OrderFrom, Verdict};
use crate::evaluate::pack::PackResult;
use crate::finding::{Finding, Grave, Subject};

/// Above this between neighbours it is worth saying, volts: what may be touched.
const NEIGHBOURS: i64 = 60_000;

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    for (pack, electric) in look.evaluation.electrics() {
        sagging(look, pack, electric, findings);
        checked(pack, electric, findings);
        wired(pack, electric, findings);
        if let Some(matched) = &electric.matched {
            units(pack, matched, findings);
        }
    }
}

/// What sags below the drive's least volts by its own curve, with links and leads: the choice knows the modules alone.
fn sagging(look: &Look<'_>, pack: &PackResult, electric: &Electric, findings: &mut Vec<Finding>) {
    let known = pack.objections.iter().any(|o| matches!(o, Objection::Sags { .. }));
    let Some(load) = electric.load.as_ref().filter(|_| !known) else {
        return;
    };
    // Volts that are too low at rest are told by the choice.
    let least = look.job.drive.min_volts.unwrap_or_default();
    let row = load.rows.iter().find(|r| r.cuts_out && r.rest >= least);
    if let Some((row, peak)) = row.and_then(|r| Some((r, r.peak?))) {
        findings.push(finding(
            Grave::Caution,
            Subject::Pack,
            &pack.name,
            format!(
                "{}, the drive's peak amps take the pack from {} V to {} V at its leads: the drive cuts out",
                row.name,
                row.rest.shown(1),
                peak.volts.shown(1)
            ),
            "Ohm's law, with modules, links and leads",
            "put more in parallel or series, thicker leads, or limit the drive's amps",
        ));
    }
}

fn checked(pack: &PackResult, electric: &Electric, findings: &mut Vec<Finding>) {
    for check in &electric.checks {
        if let Verdict::NotMet(grave) = check.verdict {
            let words = if check.limit.is_empty() {
                format!("{}: {}", check.topic, check.words)
            } else {
                format!("{}: {}; asked: {}", check.topic, check.words, check.limit)
            };
            findings.push(finding(
                grave,
                Subject::Pack,
                &pack.name,
                words,
                check.source.clone(),
                check.fix.clone(),
            ));
        }
    }
}

fn wired(pack: &PackResult, electric: &Electric, findings: &mut Vec<Finding>) {
    let Some(wiring) = &electric.wiring else { return };
    let mut say = |grave, words: String, source: &'static str, fix: &str| {
        findings.push(finding(grave, Subject::Pack, &pack.name, words, source, fix));
    };
    if wiring.seats.len() > 1 {
        match wiring.from {
            OrderFrom::Given => {}
            OrderFrom::Nearest => say(
                Grave::Note,
                "the wiring goes from nearest to nearest; nobody has looked at the order".to_owned(),
                "",
                "work out the order on the Wiring page",
            ),
            OrderFrom::Mended => say(
                Grave::Caution,
                "modules came or went since the wiring order was taken over".to_owned(),
                "",
                "look at the order again on the Wiring page, or work it out anew",
            ),
        }
    }
    if wiring.crossing + wiring.passing_over > 0 {
        let words = format!(
            "{} links cross another, {} pass over a terminal",
            wiring.crossing, wiring.passing_over
        );
        let source = "common practice, no source: what rubs or slips shorts";
        say(
            Grave::Note,
            words,
            source,
            "work out the order again, or cover and fix those links",
        );
    }
    if let Some(neighbour) = &wiring.neighbour
        && neighbour.volts.milli() > NEIGHBOURS
    {
        let [a, b] = neighbour.seats.map(|s| wiring.seats[s].seat);
        let words = format!(
            "{a} and {b} stand side by side with up to {} V between them",
            neighbour.volts.shown(1)
        );
        let source = "voltage class A ends at 60 V dc (ISO 6469-3)";
        say(
            Grave::Note,
            words,
            source,
            "put a barrier between them, or choose the order that keeps volts low",
        );
    }
    if wiring.estimated && wiring.links.iter().any(|l| l.kind.is_cable()) {
        let words = "cables from cavity to cavity are estimates: not all cavities have a place in the truck".to_owned();
        say(
            Grave::Note,
            words,
            "",
            "enter where each cavity stands, or measure the cables",
        );
    }
}

fn units(pack: &PackResult, matched: &Matched, findings: &mut Vec<Finding>) {
    let odd: Vec<String> = matched
        .units
        .iter()
        .filter(|u| !u.odd.is_empty() && !u.set_aside)
        .map(|u| format!("{}: {}", u.name, u.odd))
        .collect();
    if !odd.is_empty() {
        let shown = odd.iter().take(3).cloned().collect::<Vec<_>>().join("; ");
        let more = odd.len().saturating_sub(3);
        let rest = if more > 0 {
            format!("; and {more} more")
        } else {
            String::new()
        };
        let source = "three scaled median deviations from the others (robust statistics, common practice); typical least volts of the family";
        let fix = "measure those again, or set them aside";
        findings.push(finding(
            Grave::Caution,
            Subject::Pack,
            &pack.name,
            format!("{shown}{rest}"),
            source,
            fix,
        ));
    }
    if let Some(limit) = matched.may_be_apart {
        for group in matched
            .groups
            .iter()
            .filter(|g| g.apart.is_some_and(|apart| apart > limit.volts))
        {
            let apart = group.apart.unwrap_or_default();
            let amps = group
                .first_amps
                .map_or(String::new(), |a| format!(", {a:.0} A at first"));
            let words = format!(
                "in parallel {}: volts {} V apart{amps}; {}",
                group.number,
                apart.shown(3),
                limit.words()
            );
            let fix = "do not join them: bring them to the same volts first, through a resistor or a charger";
            findings.push(finding(
                Grave::Caution,
                Subject::Pack,
                &pack.name,
                words,
                limit.source,
                fix,
            ));
        }
    }
    if matched.seated > 0 && matched.unassigned > 0 {
        let words = format!("{} modules placed have no tested unit", matched.unassigned);
        findings.push(finding(
            Grave::Note,
            Subject::Pack,
            &pack.name,
            words,
            "",
            "match the units on the Units page",
        ));
    }
}
