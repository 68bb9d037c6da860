//! What of a box stands under water when the truck goes through it as deep as the person says.

use geometry::{Axis, Face};
use tape::Length;

use super::{Look, finding};
use crate::Figure;
use crate::document::FittingName;
use crate::evaluate::BoxResult;
use crate::finding::{Finding, Grave, Subject};

/// Boxes and what is let into them, of cavities that have their place in the truck.
pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    let Some(wading) = look.figure(Figure::Wading).map(Length::from_mm) else {
        return;
    };
    for battery_box in &look.evaluation.boxes {
        let place = look
            .job
            .cavity(battery_box.cavity)
            .and_then(|cavity| cavity.place.as_ref());
        let Some(ground) = place.map(|place| -place[Axis::Z.index()].value()) else {
            continue;
        };
        in_water(look, battery_box, wading, ground, findings);
    }
}

/// `ground`: its height in the cavity's frame.
fn in_water(look: &Look<'_>, battery_box: &BoxResult, wading: Length, ground: Length, findings: &mut Vec<Finding>) {
    let mut say = |grave, words: String, source: &'static str, fix: &str| {
        findings.push(finding(
            grave,
            Subject::Box(battery_box.id),
            &battery_box.name,
            words,
            source,
            fix,
        ));
    };
    let water = look.up(wading);
    let above = |at: Length| look.down((at - ground).max(Length::ZERO));
    for what in [
        FittingName::Breather,
        FittingName::Gland,
        FittingName::Drain,
        FittingName::Disconnect,
    ] {
        let under = battery_box
            .fittings
            .iter()
            .filter(|f| f.what == what && f.fault.is_none());
        let under = under.filter_map(|f| Some((f.label.as_str(), f.middle_up?)));
        let under: Vec<(&str, Length)> = under.filter(|(_, up)| *up - ground <= wading).collect();
        let Some(lowest) = under.iter().map(|(_, up)| *up).min() else {
            continue;
        };
        let labels: Vec<&str> = under.iter().map(|(label, _)| *label).collect();
        let (source, fix) = advice(what);
        let whose = if labels.len() == 1 {
            "its middle is"
        } else {
            "the lowest one's middle is"
        };
        let words = format!(
            "{}: {whose} {} above the ground, and water stands {water} high",
            labels.join(", "),
            above(lowest)
        );
        say(Grave::Caution, words, source, fix);
    }
    let Some(body) = battery_box.body else { return };
    let build = look.build;
    let joint = body.face(Face::Top) - build.lid - build.gasket_squeezed.min(build.gasket);
    let bottom = body.face(Face::Bottom);
    if joint - ground <= wading {
        say(
            Grave::Caution,
            format!(
                "its lid closes {} above the ground, and water stands {water} high",
                above(joint)
            ),
            "a gasket that keeps out splashes need not keep out water that stands: IP67 and IP68 are tested for it, IP65 is not",
            "stand the box higher, or take a gasket, screws and fittings for IP67 or more, and test it in water before the modules \
             go in",
        );
    } else if bottom - ground <= wading {
        say(
            Grave::Note,
            format!(
                "its underside is {} above the ground, and water stands {water} high: the lowest {} of the box stand in water",
                above(bottom),
                look.up(wading - (bottom - ground))
            ),
            "what is under the wading line is tight by itself or lets water in",
            "make its seams tight up to there, and look inside after each time",
        );
    }
}

/// Why each of them is told, and what would do.
const fn advice(what: FittingName) -> (&'static str, &'static str) {
    match what {
        FittingName::Breather => (
            "a membrane under water lets none through for a time only: its maker says how deep and how long",
            "let it in higher up, or lead it up through a hose",
        ),
        FittingName::Drain => (
            "a drain lets water in as it lets it out",
            "take one with a plug or a valve that closes upwards, and close it before the water",
        ),
        FittingName::Gland => (
            "glands are sold by how deep and how long they stand in water: IP67 and IP68, on the gland in hand",
            "let them in higher up, or take glands rated for that depth, with the cable's outside well inside their range",
        ),
        FittingName::Disconnect | FittingName::LiftingEye | FittingName::EarthStud => (
            "its maker says whether it stands in water, how deep and how long",
            "let it in higher up, or take one rated for that depth",
        ),
    }
}
