//! Lifting by the eyes that are let in: the pull of a leg, the eye, and the plate it sits in.

use enclosure::KnownBy;
use enclosure::strength::hang::{Hang, hang};
use enclosure::strength::lift::{JERK_SOURCE, Sling, leg_n, shares};
use enclosure::strength::plate::{Edges, Panel};
use enclosure::strength::{GRAVITY, Limit, Utilisation};
use geometry::{Axis, Face};
use tape::{Length, Units};

use super::told::place;
use super::{StrengthCheck, Sum, Told};
use crate::Figure;
use crate::assumed::Build;
use crate::document::{Figures, FittingName};
use crate::evaluate::boxes::BoxResult;
use crate::evaluate::fitting::FittingResult;

/// Lifting by a sling with as many legs as there are eyes, which share by where they and the centre of mass are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lift {
    /// Lifting eyes that are let in.
    pub eyes: usize,
    /// Legs of the sling.
    pub legs: u32,
    /// Legs that are taken as carrying when the centre of mass is in the middle of them.
    pub carrying: u32,
    /// Of a leg from upright; 0 of a single one.
    pub angle_deg: f64,
    /// The share of the weight that the eye gets which gets most.
    pub most_share: f64,
    /// Whether the centre of mass is not between the eyes, seen from above, of which one leg is taken to get it all, or not below
    /// them: it tips when it is lifted.
    pub tips: bool,
    /// Whether that is since the centre of mass is not between them.
    pub is_beside: bool,
    /// How far the centre of mass is from the middle of the eyes, millimetres: rearward and right. Nothing without eyes.
    pub off_mm: [f64; 2],
    /// How far out of level it hangs from its eyes; `None` without eyes, and when it turns over.
    pub hang: Option<Hang>,
    /// How many times what it pulls at rest a leg pulls while the box is picked up.
    pub jerk: f64,
    /// The force in the leg that gets most, newtons, at rest.
    pub leg_n: f64,
}

/// Farther out of level than this it is told as tipping: what stands in it slides. Common practice, no source.
const MOST_HANG_DEG: f64 = 15.0;

impl Lift {
    /// The force in the leg that gets most while the box is picked up, newtons.
    pub fn picked_up_n(&self) -> f64 {
        self.leg_n * self.jerk
    }

    /// In one sentence, with what the number of eyes means and what mends it.
    pub fn words(&self, units: Units) -> String {
        let mend = match self.eyes {
            0 => ", or add eyes on the Boxes page",
            1 => ", or add eyes",
            3 => ", or add one",
            _ => "",
        };
        format!("{}{mend}", self.label_words(units))
    }

    /// The same for who stands before the box that is built: without what would change it.
    pub fn label_words(&self, units: Units) -> String {
        let pulls = format!(
            "pulls {:.2} kN at rest and {:.2} kN when it is picked up",
            self.leg_n / 1000.0,
            self.picked_up_n() / 1000.0
        );
        let by = match self.legs {
            1 => format!("lifted by one leg, upright, it {pulls}"),
            legs => {
                let legs = match legs {
                    2 => "two",
                    3 => "three",
                    _ => "four",
                };
                let most = if self.eyes == 0 {
                    "each of the two that carry".to_owned()
                } else {
                    format!("the one that gets most gets {:.0} % of it and", self.most_share * 100.0)
                };
                format!(
                    "lifted by a sling of {legs} legs, {} degrees from upright, {most} {pulls}",
                    self.angle_deg
                )
            }
        };
        let but = match self.eyes {
            0 => "; no lifting eye is let in: the sling goes round the box",
            1 => "; with one eye it turns and hangs askew: steady it with a line",
            2 => "; with two eyes it tips over unless both stand beside the centre of mass",
            3 => "; an odd number of eyes hangs askew: use two",
            4 => "",
            _ => "; of more than four eyes take the four that are farthest apart",
        };
        let hangs = if self.tips {
            format!("; IT TIPS: {}", self.tips_words(units))
        } else {
            self.hang_words().map_or_else(String::new, |words| format!("; {words}"))
        };
        format!("{by}{but}{hangs}")
    }

    /// How far out of level it hangs and which side is lower; `None` where that is not seen by eye.
    fn hang_words(&self) -> Option<String> {
        /// Less is lost in legs that are never of one length.
        const SEEN_DEG: f64 = 0.5;
        let hang = self.hang.filter(|hang| hang.deg >= SEEN_DEG)?;
        // What is a tenth of the slope the other way is not told.
        let lower = |part: f64, [low, high]: [&'static str; 2]| {
            let side = if part < 0.0 { low } else { high };
            (part.abs() > 0.1).then_some(side)
        };
        let [along, across] = [
            lower(hang.towards[0], ["front", "rear"]),
            lower(hang.towards[1], ["left", "right"]),
        ];
        let sides: Vec<&str> = along.into_iter().chain(across).collect();
        Some(format!(
            "it hangs {:.1} degrees out of level, {} lower",
            hang.deg,
            sides.join(" and ")
        ))
    }

    /// Why it tips.
    pub fn tips_words(&self, units: Units) -> String {
        match self.hang {
            None if self.eyes > 0 => return "its lifting eyes are not above its centre of mass".to_owned(),
            Some(_) if self.is_beside => {}
            _ => {
                if let Some(words) = self.hang_words() {
                    return words;
                }
            }
        }
        let off = |mm: f64, [low, high]: [&str; 2]| {
            format!("{} {}", place(mm.abs(), 0, units), if mm < 0.0 { low } else { high })
        };
        format!(
            "its centre of mass is not between its lifting eyes but {} and {} of their middle",
            off(self.off_mm[0], ["in front", "behind"]),
            off(self.off_mm[1], ["left", "right"])
        )
    }
}

pub(super) fn of(figures: &Figures, result: &BoxResult, centre_mm: [f64; 3], mass_kg: f64) -> Option<Lift> {
    let places: Vec<[f64; 3]> = eyes(result)
        .filter_map(|eye| eye.middle)
        .map(|at| [Axis::X, Axis::Y, Axis::Z].map(|axis| at[axis].as_mm()))
        .collect();
    let at: Vec<[f64; 2]> = places.iter().map(|&[x, y, _]| [x, y]).collect();
    let sling = Sling::of_eyes(at.len()).unwrap_or(Sling::Four);
    let angle_deg = if sling == Sling::One {
        0.0
    } else {
        figures.sure(Figure::LiftAngle)
    };
    let centre = [centre_mm[0], centre_mm[1]];
    let shared = shares(&at, centre);
    let hang = hang(&places, centre_mm, angle_deg);
    let beside = shared.is_none() && !at.is_empty();
    let even = 1.0 / f64::from(sling.carrying());
    let most_share = match &shared {
        Some(each) => each.iter().copied().fold(0.0, f64::max),
        None if beside => 1.0,
        None => even,
    };
    let count = f64::from(u32::try_from(at.len()).unwrap_or(u32::MAX).max(1));
    let middle = |axis: usize| at.iter().map(|eye| eye[axis]).sum::<f64>() / count;
    Some(Lift {
        eyes: at.len(),
        legs: sling.legs(),
        carrying: sling.carrying(),
        angle_deg,
        most_share,
        tips: beside || (!at.is_empty() && hang.is_none_or(|hang| hang.deg > MOST_HANG_DEG)),
        is_beside: beside,
        hang,
        off_mm: if at.is_empty() {
            [0.0; 2]
        } else {
            [0, 1].map(|axis| centre[axis] - middle(axis))
        },
        jerk: figures.sure(Figure::LiftJerk),
        leg_n: leg_n(mass_kg, sling, angle_deg).ok()? / even * most_share,
    })
}

fn jerk_source(figures: &Figures) -> &'static str {
    if figures.is_given(Figure::LiftJerk) {
        "your own figure"
    } else {
        JERK_SOURCE
    }
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
    (figures, told): (&Figures, Told),
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
        let of = Utilisation::of("lifting eye, pull of a leg", lift.picked_up_n() / GRAVITY, "kg", limit);
        let fix = if of.within() {
            ""
        } else {
            "take eyes with a higher rating, put them so that the centre of mass is in the middle of them, or take longer legs"
        };
        checks.push(StrengthCheck {
            sum: Sum::Eye,
            says: format!(
                "{}, {} times at rest ({}); an eye pulled on a slant bears less than upright: ask its maker",
                lift.words(told.units),
                lift.jerk,
                jerk_source(figures)
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
        "enter a wider body of the eye, which its plate is as wide as, take a thicker sheet, weld the eye to the walls, or lift by a sling \
         round the box"
    };
    checks.push(StrengthCheck {
        sum: Sum::EyePlate,
        says: format!(
            "{}, pulled with {:.2} kN when it is picked up, over a plate of {}, as if in the middle of the sheet; what \
             holds the sheet (lid screws, welds) is not summed{}",
            eye.label,
            lift.picked_up_n() / 1000.0,
            told.place(eye.across.as_mm(), 0),
            if first.wall == eye.wall {
                ""
            } else {
                "; the worst of its eyes"
            }
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
    Some(panel.pulled(&what, lift.picked_up_n() * off, eye.across, build.material))
}
