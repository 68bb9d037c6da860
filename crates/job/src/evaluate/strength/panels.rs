//! The rivets or the adhesive that hold the panels of a box in its frame of angle.

use enclosure::strength::crash::Factor;
use enclosure::strength::joint::{self, Allowed};
use enclosure::strength::{Utilisation, force_n};
use enclosure::{Built, Construction, Held, Hole, Part, Purpose, rivet};
use tape::Length;

use super::{OWN, StrengthCheck, Sum, keep_worst};
use crate::assumed::{self, Build};
use crate::document::Figures;
use crate::evaluate::boxes::BoxResult;
use crate::evaluate::kg_words;
use crate::evaluate::rivets::{Asked, pushed};
use crate::{Figure, Job};

/// Each sort of panel, pushed out of the frame by all the modules behind it: as if its own joint alone held them.
pub(super) fn checks(job: &Job, build: &Build, result: &BoxResult, made: &Built, checks: &mut Vec<StrengthCheck>) {
    let (figures, units) = (&job.electrics.figures, job.units.units());
    let Construction::Framed(skeleton) = build.construction else {
        return;
    };
    let modules_kg = crate::Grams(result.mass.modules_g).kg();
    for panel in &made.parts {
        let Some((name, direction, factor)) = pushed(job, usize::from(made.shell[1] > made.shell[0]), panel.role)
        else {
            continue;
        };
        let Some((_, area)) = made.shared.iter().find(|(role, _)| *role == panel.role) else {
            continue;
        };
        let panel_kg = panel.grams() / 1000.0;
        let force = force_n(modules_kg + panel_kg, factor.g);
        let behind = format!(
            "{} of modules behind it and its own {} push like {} times their weight, {:.2} kN",
            kg_words(modules_kg, 1, units),
            kg_words(panel_kg, 1, units),
            factor.g,
            force / 1000.0
        );
        let (sum, of, on, fix) = match skeleton.held {
            Held::Riveted { hole, .. } => {
                let count = u32::try_from(panel.holes_for(Purpose::Rivet).count()).unwrap_or(u32::MAX);
                let allowed = rivets_allowed(figures);
                let of = joint::rivets(&format!("rivets of the {name}"), force, count, hole, allowed);
                let on = format!("on {count} rivets, each an even share");
                let fix = || closer(job, panel, force, hole, allowed);
                let fix = if of.within() { String::new() } else { fix() };
                (Sum::Rivets(direction), of, on, fix)
            }
            Held::Bonded => {
                let allowed = allowed(figures, Figure::BondBears, joint::BOND_MPA);
                let of = joint::bond(&format!("bond of the {name}"), force, *area, allowed);
                let on = format!("over {:.0} cm2 shared with the angle", area.as_mm2() / 100.0);
                let fix = "take a wider angle, rivet as well, or a stronger adhesive and enter what it is allowed";
                let fix = if of.within() { "" } else { fix };
                (Sum::Bond(direction), of, on, fix.to_owned())
            }
        };
        // Of a pair that a hole in one of them has parted, the one that bears less counts.
        keep_worst(checks, check(sum, of, factor, format!("{behind}, {on}; {TAKEN}"), fix));
    }
}

const TAKEN: &str =
    "as if the joint of this panel alone held them: the angle behind it, friction, bars and dividers are left out";

fn check(sum: Sum, of: Utilisation, factor: Factor, says: String, fix: String) -> StrengthCheck {
    StrengthCheck {
        sum,
        of,
        factor: Some(factor),
        says,
        fix,
    }
}

/// What would do for rivets that do not: closer ones, or where those would be too close, larger ones or adhesive as well.
fn closer(job: &Job, panel: &Part, force: f64, hole: Length, allowed: Allowed) -> String {
    let Some(around) = around(panel) else {
        return "take a wider angle, so that rivets have room".to_owned();
    };
    let fraction = job.settings.fraction.unwrap_or(assumed::FRACTION);
    let style = crate::evaluate::style(job.units.units(), fraction);
    // Drills are told closer than a rule is read.
    let across = |hole| assumed::told(hole, job.units.units());
    let asked = Asked::of(around, force, hole, allowed);
    if asked.can_be(hole) {
        // A mark of the rule down must not come closer than rivets may be.
        let spare = asked.pitch - rivet::least_pitch(hole);
        let pitch = if spare >= Length::tenths_mm(32) {
            style.down(asked.pitch)
        } else {
            across(asked.pitch)
        };
        return format!(
            "put rivets at most {pitch} apart, or take thicker or harder ones and enter what they are allowed"
        );
    }
    // Pitches are whole millimetres, so it may take a little more than the sum.
    let least = asked.hole.round_up_to(Length::tenths_mm(1));
    let bears = |hole: &Length| {
        let closest = rivet::least_pitch(*hole).round_up_to(Length::mm(1));
        Asked::of(around, force, *hole, allowed).pitch >= closest
    };
    let enough = (0..100)
        .map(|n| least + Length::tenths_mm(n))
        .find(bears)
        .unwrap_or(least);
    format!(
        "rivets in holes of {} do not bear it even {} apart, as close as they may be: take rivets in holes of {} or more, harder \
         ones and enter what they are allowed, or bond the panels as well as rivet them",
        across(hole),
        style.up(rivet::least_pitch(hole)),
        across(enough)
    )
}

/// Once round the line of a panel's rivets.
fn around(panel: &Part) -> Option<Length> {
    let rivets = || panel.holes_for(Purpose::Rivet);
    let run = |at: fn(&Hole) -> Length| Some(rivets().map(at).max()? - rivets().map(at).min()?);
    Some((run(|hole| hole.x)? + run(|hole| hole.y)?) * 2).filter(|around| *around > Length::ZERO)
}

/// What the rivets of a job are allowed.
pub(in crate::evaluate) fn rivets_allowed(figures: &Figures) -> Allowed {
    allowed(figures, Figure::RivetBears, joint::RIVET_MPA)
}

/// What a joint is allowed: as entered, else as usual. One who enters what is usual anyway rests on the same source.
fn allowed(figures: &Figures, figure: Figure, usual: Allowed) -> Allowed {
    let mpa = figures.sure(figure);
    let is_usual = (mpa - usual.mpa).abs() < 1e-9;
    Allowed {
        mpa,
        source: if is_usual { usual.source } else { OWN },
        known: usual.known,
    }
}
