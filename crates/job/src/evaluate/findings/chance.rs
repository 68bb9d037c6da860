//! How likely it fits, and what was built other than drawn.

use geometry::{Axis, Face};
use tape::Length;

use super::{Look, finding};
use crate::evaluate::BoxResult;
use crate::evaluate::chance::{Room, percent};
use crate::finding::{Finding, Grave, Subject};

/// Below it, it is worth saying what costs most.
const WORTH_SAYING: f64 = 0.99;
/// Below it, it is more than worth saying: one box in twenty comes back from the shop too large.
const DOUBTFUL: f64 = 0.95;

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    for battery_box in &look.evaluation.boxes {
        // What does not fit as drawn is told as that.
        let outside = battery_box.fit.outside.iter().filter(|room| room.free >= Length::ZERO);
        for room in outside {
            doubtful(look, battery_box, room, "it goes in", findings);
        }
        let inside = battery_box.fit.inside.iter().filter(|room| room.free >= Length::ZERO);
        for room in inside {
            doubtful(look, battery_box, room, "its modules go in", findings);
        }
        built(look, battery_box, findings);
    }
}

fn doubtful(look: &Look<'_>, battery_box: &BoxResult, room: &Room, what: &str, findings: &mut Vec<Finding>) {
    if room.fits >= WORTH_SAYING {
        return;
    }
    let grave = if room.fits < DOUBTFUL {
        Grave::Caution
    } else {
        Grave::Note
    };
    let words = format!(
        "the chance that {what} along its {} is {}: {} to share, and all limits together take {}",
        room.axis.extent_name(),
        percent(room.fits),
        look.down(room.free),
        look.up(room.free - room.worst)
    );
    let fix = room.shares.first().map_or(String::new(), |first| {
        format!(
            "{} cost most: {} if that were exact; leave more room there, or try it in cardboard before steel is cut",
            first.words(look.evaluation.style()),
            percent(first.fits_without)
        )
    });
    let subject = Subject::Box(battery_box.id);
    findings.push(finding(grave, subject, &battery_box.name, words, SOURCE, fix));
}

const SOURCE: &str =
    "GUM (JCGM 100:2008), limits over the root of three, squares added; ISO 13920 for what the shop holds";

fn built(look: &Look<'_>, battery_box: &BoxResult, findings: &mut Vec<Finding>) {
    let subject = Subject::Box(battery_box.id);
    let told = look
        .job
        .battery_box(battery_box.id)
        .is_some_and(|b| !b.as_built.is_open());
    let (Some(drawn), Some(stands)) = (battery_box.drawn, battery_box.coated) else {
        if told && battery_box.built.is_some() {
            let words = "what was taped of it as built is not used: a box that small has no room for its own sheets";
            let fix = "check the as-built sizes on the Boxes page";
            findings.push(finding(Grave::Caution, subject, &battery_box.name, words, "", fix));
        }
        return;
    };
    for axis in Axis::ALL {
        let more = stands.size()[axis] - drawn.size()[axis];
        if more == Length::ZERO {
            continue;
        }
        let (by, than) = if more.is_negative() {
            (-more, "shorter")
        } else {
            (more, "longer")
        };
        let short = |face: Face| {
            let around = battery_box.around.as_ref();
            around.is_some_and(|around| around.faces[face.index()].is_short())
        };
        let too_long = !more.is_negative() && (short(Face::low(axis)) || short(Face::high(axis)));
        let (grave, fix) = if too_long {
            (Grave::Caution, "see what is left of its clearances before it is hung")
        } else {
            (Grave::Note, "")
        };
        let words = format!(
            "as built its {} is {} {than} than drawn ({})",
            axis.extent_name(),
            look.evaluation.near(by),
            look.evaluation.near(drawn.size()[axis])
        );
        findings.push(finding(grave, subject, &battery_box.name, words, "", fix));
    }
}
