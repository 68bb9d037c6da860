//! Entries that each may stand alone and that contradict each other.

use geometry::{Axis, Face};
use pack::{Amps, Volts};
use tape::Length;

use super::{Look, finding};
use crate::document::{Cavity, Drive, KeepOut, Opening};
use crate::evaluate::CavityResult;
use crate::finding::{Finding, Grave, Subject};

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    drive(&look.job.drive, findings);
    for kind in &look.job.kinds {
        let words = amps(kind.continuous_amps, kind.peak_amps);
        say(findings, Grave::Caution, Subject::Kind(kind.id), &kind.name, words);
    }
    for (cavity, result) in look.job.cavities.iter().zip(&look.evaluation.cavities) {
        for keep_out in &cavity.keep_outs {
            turned_round(keep_out, findings);
        }
        openings(look, cavity, result, findings);
    }
}

fn say(findings: &mut Vec<Finding>, grave: Grave, subject: Subject, name: &str, words: Option<String>) {
    if let Some(words) = words {
        findings.push(finding(
            grave,
            subject,
            name,
            words,
            "",
            "correct the one that is wrong",
        ));
    }
}

fn drive(drive: &Drive, findings: &mut Vec<Finding>) {
    let above = |low: Option<Volts>, called: &str, high: Option<Volts>, than: &str| {
        let (low, high) = (low?, high?);
        let (low_text, high_text) = (low.shown(1), high.shown(1));
        (low > high).then(|| format!("{called} {low_text} V is over {than} {high_text} V: no pack can fit both"))
    };
    let volts = [
        above(drive.min_volts, "its least volts,", drive.max_volts, "its most,"),
        above(
            drive.max_volts,
            "its most volts,",
            drive.absolute_max_volts,
            "what destroys it,",
        ),
    ];
    for words in volts {
        say(findings, Grave::Stop, Subject::Pack, "drive", words);
    }
    let words = amps(drive.continuous_amps, drive.peak_amps);
    say(findings, Grave::Caution, Subject::Pack, "drive", words);
}

fn amps(for_long: Option<Amps>, for_short: Option<Amps>) -> Option<String> {
    let (long, short) = (for_long?, for_short?);
    (long > short).then(|| {
        let (long, short) = (long.shown(1), short.shown(1));
        format!("{long} A for long is over {short} A for a short time")
    })
}

/// A block whose `from` lies beyond its `to`: the same block, and often a slip.
fn turned_round(keep_out: &KeepOut, findings: &mut Vec<Finding>) {
    let lies_along = keep_out.shape.and_then(crate::document::KeepOutShape::along);
    for axis in Axis::ALL {
        let (from, to) = (&keep_out.from[axis.index()], &keep_out.to[axis.index()]);
        let across = lies_along.is_some_and(|along| along != axis);
        if across || keep_out.is_counted_back(axis) || from.value() <= to.value() {
            continue;
        }
        let words = format!(
            "{}: from {} lies beyond to {}; it is taken the other way round",
            Face::high(axis).towards(),
            from.text(),
            to.text()
        );
        let fix = "read both again, and correct the one that is wrong";
        let subject = Subject::KeepOut(keep_out.id);
        findings.push(finding(Grave::Caution, subject, &keep_out.name, words, "", fix));
    }
}

/// A clear size larger than the face that it is in.
fn openings(look: &Look<'_>, cavity: &Cavity, result: &CavityResult, findings: &mut Vec<Finding>) {
    let Some(space) = result.space else { return };
    for Opening { face, clear, at, .. } in &cavity.openings {
        let Some(clear) = clear else { continue };
        let face = face.face();
        let across = Axis::ALL.into_iter().filter(|&axis| axis != face.axis());
        for (k, (axis, clear)) in across.zip(clear).enumerate() {
            let there_is = space.size()[axis];
            let from = at.as_ref().map_or(Length::ZERO, |at| at[k].value());
            let ends = from + clear.value();
            // A wall that leans may leave more at its edge than the space inside.
            if ends <= there_is + Length::mm(25) {
                continue;
            }
            let words = if from > Length::ZERO {
                format!(
                    "the opening at the {} ends {} along the {}, and the cavity {}",
                    face.name(),
                    look.up(ends),
                    axis.extent_name(),
                    look.down(there_is)
                )
            } else {
                format!(
                    "the opening at the {} is {} clear along the {}, and the cavity only {}",
                    face.name(),
                    clear.text(),
                    axis.extent_name(),
                    look.down(there_is)
                )
            };
            say(
                findings,
                Grave::Caution,
                Subject::Cavity(cavity.id),
                &cavity.name,
                Some(words),
            );
        }
    }
}
