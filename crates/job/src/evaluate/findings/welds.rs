//! Weld beads and bends in the inside corners.

use enclosure::weld::corner::Fill;

use super::{Look, finding};
use crate::evaluate::CornerMet;
use crate::evaluate::welds::Fills;
use crate::finding::{Finding, Grave, Subject};

const BEAD_SOURCE: &str =
    "plain geometry; a build diary tells of inside beads of 1/8 in that kept the corner cells from seating";

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    for met in look.evaluation.boxes.iter().flat_map(|b| &b.corners_met) {
        findings.push(module(look, met));
    }
    liner(look, findings);
}

fn module(look: &Look<'_>, met: &CornerMet) -> Finding {
    let more = look.up(met.short);
    let fix = match met.fill {
        Fill::Bead(_) => format!("weld outside there, or give it {more} more room off one of the two walls"),
        Fill::Radius(_) => format!("give it {more} more room off the wall, or stand it on a thicker liner"),
    };
    finding(
        Grave::Caution,
        Subject::Module(met.module),
        &met.label,
        format!(
            "its square edge meets the {} of {} in the {}: {more} short",
            met.fill.name(),
            look.up(met.fill.reach()),
            met.place
        ),
        BEAD_SOURCE,
        fix,
    )
}

/// The liner is cut to the inside size, so its sheets reach into every corner that is filled.
fn liner(look: &Look<'_>, findings: &mut Vec<Finding>) {
    let fills = Fills::of(look.build);
    let Some(reach) = fills.floor.into_iter().chain(fills.upright).map(Fill::reach).max() else {
        return;
    };
    let built: Vec<_> = look.evaluation.boxes.iter().filter(|b| b.built.is_some()).collect();
    let Some(first) = built.first().filter(|_| look.build.liner > tape::Length::ZERO) else {
        return;
    };
    let names: Vec<&str> = built.iter().map(|b| b.name.as_str()).collect();
    findings.push(finding(
        Grave::Note,
        Subject::Box(first.id),
        &names.join(", "),
        format!(
            "beads or bends of up to {} lie in the inside corners: liner sheets of the full size would stand on them",
            look.up(reach)
        ),
        "",
        format!("cut the liner's sheets {} short at each such edge", look.up(reach)),
    ));
}
