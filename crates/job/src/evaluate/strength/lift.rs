//! Lifting by the eyes that are let in: the pull of a leg, the eye, and the plate it sits in.

use enclosure::KnownBy;
use enclosure::strength::lift::{Sling, leg_n};
use enclosure::strength::plate::{Edges, Panel};
use enclosure::strength::{GRAVITY, Limit, Utilisation};
use geometry::{Axis, Face};
use tape::Length;

use super::{StrengthCheck, Sum};
use crate::Figure;
use crate::assumed::Build;
use crate::document::{Figures, FittingName};
use crate::evaluate::boxes::BoxResult;
use crate::evaluate::fitting::FittingResult;

/// Lifting by a sling with as many legs as there are eyes, of which two at the most are taken as carrying.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lift {
    /// Lifting eyes that are let in.
    pub eyes: usize,
    /// Legs of the sling.
    pub legs: u32,
    /// Legs that are taken as carrying.
    pub carrying: u32,
    /// Of a leg from upright; 0 of a single one.
    pub angle_deg: f64,
    /// The force in a leg, newtons, at rest.
    pub leg_n: f64,
}

impl Lift {
    /// In one sentence, with what the number of eyes means and what mends it.
    pub fn words(&self) -> String {
        let mend = match self.eyes {
            0 => ", or add eyes on the Boxes page",
            1 => ", or add eyes",
            3 => ", or add one",
            _ => "",
        };
        format!("{}{mend}", self.label_words())
    }

    /// The same for who stands before the box that is built: without what would change it.
    pub fn label_words(&self) -> String {
        let kn = self.leg_n / 1000.0;
        let by = match self.legs {
            1 => format!("lifted by one leg, upright, it pulls {kn:.2} kN at rest; a jerk adds to it"),
            legs => format!(
                "lifted by a sling of {} legs, {} degrees from upright, each of the two that carry pulls {kn:.2} kN at rest; \
                 a jerk adds to it",
                match legs {
                    2 => "two",
                    3 => "three",
                    _ => "four",
                },
                self.angle_deg
            ),
        };
        let but = match self.eyes {
            0 => "; no lifting eye is let in: the sling goes round the box",
            1 => "; with one eye it turns and hangs askew: steady it with a line",
            2 => "; with two eyes it tips over unless both stand beside the centre of mass",
            3 => "; an odd number of eyes hangs askew: use two",
            4 => "",
            _ => "; of more than four eyes four are used",
        };
        format!("{by}{but}")
    }
}

pub(super) fn of(figures: &Figures, result: &BoxResult, mass_kg: f64) -> Option<Lift> {
    let eyes = eyes(result).count();
    let sling = Sling::of_eyes(eyes).unwrap_or(Sling::Four);
    let angle_deg = if sling == Sling::One {
        0.0
    } else {
        figures.sure(Figure::LiftAngle)
    };
    Some(Lift {
        eyes,
        legs: sling.legs(),
        carrying: sling.carrying(),
        angle_deg,
        leg_n: leg_n(mass_kg, sling, angle_deg).ok()?,
    })
}

fn eyes(result: &BoxResult) -> impl Iterator<Item = &FittingResult> {
    result
        .fittings
        .iter()
        .filter(|fitting| fitting.what == FittingName::LiftingEye && fitting.fault.is_none())
}

/// The eye against its rating, and a lid or floor that it pulls straight at; of an eye in a wall, the pull lies along the
/// sheet but for its slant, which is what is summed.
pub(super) fn checks(
    figures: &Figures,
    build: &Build,
    lift: &Lift,
    result: &BoxResult,
    checks: &mut Vec<StrengthCheck>,
) {
    let Some(first) = eyes(result).next() else { return };
    if let Some(rated) = figures.get(Figure::EyeRated) {
        let limit = Limit {
            value: rated,
            formula: "pull of a leg / g against the working load limit",
            source: "the rating entered, your own figure",
            known: KnownBy::Memory,
        };
        let of = Utilisation::of("lifting eye, pull of a leg", lift.leg_n / GRAVITY, "kg", limit);
        let fix = if of.within() {
            ""
        } else {
            "take eyes with a higher rating, more of them, or longer legs"
        };
        checks.push(StrengthCheck {
            sum: Sum::Eye,
            says: format!(
                "{}; an eye pulled on a slant bears less than upright: ask its maker",
                lift.words()
            ),
            fix: fix.to_owned(),
            of,
            factor: None,
        });
    }
    let worst = eyes(result)
        .filter_map(|eye| Some((eye, pulled(build, lift, result, eye)?)))
        .reduce(|most, other| if other.1.share > most.1.share { other } else { most });
    let Some((eye, of)) = worst else { return };
    let fix = if of.within() {
        ""
    } else {
        "put a wider and thicker plate under the eye, weld the eye to the walls, or lift by a sling round the box"
    };
    checks.push(StrengthCheck {
        sum: Sum::EyePlate,
        says: format!(
            "{}, over a plate of {:.0} mm, as if in the middle of the sheet; what holds the sheet (lid screws, welds) is not \
             summed{}",
            eye.label,
            eye.across.as_mm(),
            if first.wall == eye.wall { "" } else { "; the worst of its eyes" }
        ),
        fix: fix.to_owned(),
        of,
        factor: None,
    });
}

/// What the part of the pull that goes straight off the sheet does to it.
fn pulled(build: &Build, lift: &Lift, result: &BoxResult, eye: &FittingResult) -> Option<Utilisation> {
    let size = result.body?.size();
    let slant = lift.angle_deg.to_radians();
    let level = [Axis::X, Axis::Y].into_iter().filter(|&axis| axis != eye.wall.axis());
    let (sides, thickness, off): ([Length; 2], Length, f64) = match eye.wall {
        Face::Top => ([size[Axis::X], size[Axis::Y]], build.lid, slant.cos()),
        Face::Bottom => ([size[Axis::X], size[Axis::Y]], build.floor, slant.cos()),
        _ => {
            let along = level.map(|axis| size[axis]).next()?;
            ([along, size[Axis::Z]], build.wall, slant.sin())
        }
    };
    let panel = Panel::new(sides, thickness, Edges::Simple).ok()?;
    let what = format!("sheet under a lifting eye, {}", eye.wall.name());
    Some(panel.pulled(&what, lift.leg_n * off, eye.across, build.material))
}
