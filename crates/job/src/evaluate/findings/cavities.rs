//! What the readings and keep-outs of a cavity give cause to say.

use geometry::{Axis, Face};
use tape::Length;

use super::{Look, finding, survey};
use crate::document::Source;
use crate::evaluate::CavityResult;
use crate::finding::{Finding, Grave, Subject};

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    for cavity in &look.evaluation.cavities {
        missing(cavity, findings);
        survey::list(look, cavity, findings);
        keep_outs(cavity, findings);
        moving_frame(look, cavity, findings);
    }
}

fn missing(cavity: &CavityResult, findings: &mut Vec<Finding>) {
    let missing: Vec<&str> = Axis::ALL
        .into_iter()
        .filter(|axis| cavity.space.is_none() && cavity.dimensions[axis.index()].is_none())
        .map(Axis::extent_name)
        .collect();
    if !missing.is_empty() {
        findings.push(finding(
            Grave::Note,
            Subject::Cavity(cavity.id),
            &cavity.name,
            format!("no usable {} yet", missing.join(", no usable ")),
            "",
            format!("tape the {} (smallest place first)", missing.join(" and the ")),
        ));
    }
}

fn keep_outs(cavity: &CavityResult, findings: &mut Vec<Finding>) {
    for unplaced in &cavity.unplaced {
        findings.push(finding(
            Grave::Stop,
            Subject::KeepOut(unplaced.id),
            &unplaced.name,
            format!(
                "has no place in {} and is kept clear of nowhere: {}",
                cavity.name, unplaced.why
            ),
            "",
            "fill in what it is measured from, on the Tape page",
        ));
    }
    let Some(space) = cavity.space else { return };
    for keep_out in cavity.keep_outs.iter().filter(|k| k.counts) {
        // A keep-out right at a wall is in the way of nothing but still meant: only one wholly outside is odd.
        let beyond = Axis::ALL
            .into_iter()
            .any(|axis| keep_out.cuboid.gap_along(&space, axis) > keep_out.margin);
        if beyond {
            findings.push(finding(
                Grave::Note,
                Subject::KeepOut(keep_out.id),
                &keep_out.name,
                format!(
                    "lies outside {}, farther than its margin: it changes nothing",
                    cavity.name
                ),
                "",
                "check its readings",
            ));
        }
    }
}

/// What is said to be of the frame, which never moves, and to move.
fn moving_frame(look: &Look<'_>, cavity: &CavityResult, findings: &mut Vec<Finding>) {
    for result in cavity.keep_outs.iter().filter(|k| k.source == Source::Frame) {
        let travel = look.job.keep_out(result.id).map(|k| &k.travel);
        let moves = travel.and_then(|travel| {
            let each = Face::ALL
                .into_iter()
                .filter_map(|face| Some((face, travel.towards(face)?.value())));
            each.filter(|(_, by)| *by > Length::ZERO).max_by_key(|(_, by)| *by)
        });
        let Some((face, by)) = moves else { continue };
        findings.push(finding(
            Grave::Caution,
            Subject::KeepOut(result.id),
            &result.name,
            format!(
                "moves {} {}, yet is said to come from the frame, which never moves",
                look.up(by),
                face.towards()
            ),
            "",
            "say that it is a sweep, or clear how far it moves",
        ));
    }
}
