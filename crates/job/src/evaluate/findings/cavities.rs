//! What the readings and keep-outs of a cavity give cause to say.

use geometry::Axis;
use tape::Length;

use super::{Look, finding};
use crate::evaluate::CavityResult;
use crate::finding::{Finding, Grave, Subject};

/// Readings or diagonals that differ by more mean a skewed or bowed frame.
const SKEW: Length = Length::sixty_fourths(16);
const SKEW_SOURCE: &str = "military truck maintenance manual, frame inspection: diagonals differing by more than 1/4 in (6 mm) mean skewed rails";

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    for cavity in &look.evaluation.cavities {
        missing(cavity, findings);
        shape(look, cavity, findings);
        keep_outs(cavity, findings);
    }
}

fn missing(cavity: &CavityResult, findings: &mut Vec<Finding>) {
    let missing: Vec<&str> = Axis::ALL
        .into_iter()
        .filter(|axis| cavity.dimensions[axis.index()].is_none())
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

fn shape(look: &Look<'_>, cavity: &CavityResult, findings: &mut Vec<Finding>) {
    let subject = Subject::Cavity(cavity.id);
    let mut skewed = false;
    if let Some((difference, face)) = &cavity.skew
        && *difference > SKEW
    {
        skewed = true;
        findings.push(finding(
            Grave::Caution,
            subject,
            &cavity.name,
            format!(
                "the two diagonals of the {face} differ by {}: it is not square, or one is misread",
                look.up(*difference)
            ),
            SKEW_SOURCE,
            "tape both diagonals again; allow for the lean when you set the margin",
        ));
    }
    for dimension in cavity.dimensions.iter().flatten() {
        if dimension.usable.spread > SKEW {
            findings.push(finding(
                Grave::Caution,
                subject,
                &cavity.name,
                format!(
                    "the {} differs by {} from place to place; the smallest is used",
                    dimension.axis.extent_name(),
                    look.up(dimension.usable.spread)
                ),
                SKEW_SOURCE,
                "tape the odd one again",
            ));
        }
    }
    if cavity.space.is_some() {
        let single = cavity
            .dimensions
            .iter()
            .flatten()
            .filter(|d| d.usable.places.len() == 1)
            .count();
        let more = match (single, skewed) {
            (_, true) => "",
            (0, _) => "compare the diagonals before you cut",
            _ => {
                "tape each dimension at several places (front, rear, top, bottom) and compare the diagonals before you cut"
            }
        };
        let diagonals = match cavity.unused {
            0 => String::new(),
            1 => "; 1 diagonal is kept but only compared".to_owned(),
            n => format!("; {n} diagonals are kept but only compared"),
        };
        findings.push(finding(
            Grave::Note,
            subject,
            &cavity.name,
            format!(
                "assumed square: smallest reading of each dimension less {} sigma{diagonals}",
                look.evaluation.sigmas
            ),
            "",
            more,
        ));
    }
}

fn keep_outs(cavity: &CavityResult, findings: &mut Vec<Finding>) {
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
