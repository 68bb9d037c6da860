//! The seams of each box, and whether square edges of modules meet what lies in its inside corners.

use enclosure::cutlist::rounding_loss_marked;
use enclosure::weld::corner::Fill;
use enclosure::weld::{Asked, HeldTo, Side, WeldMap, map};
use enclosure::{Construction, Step};
use geometry::{Axis, Cuboid, Face};
use tape::{Length, Units};

use super::boxes::{Allowances, BoxResult, Losses, spec};
use super::step;
use crate::Id;
use crate::assumed::{Build, Limits};
use crate::document::FractionName;

/// What fills the inside corners of every box of the job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Fills {
    /// The four upright corners.
    pub(crate) upright: Option<Fill>,
    /// The four edges of the floor.
    pub(crate) floor: Option<Fill>,
}

impl Fills {
    pub(crate) fn of(build: &Build) -> Self {
        let inside = build.weld_side == Side::Inside;
        let bead = |thinner| inside.then_some(Fill::Bead(build.weld_leg.unwrap_or(thinner)));
        match build.construction {
            Construction::Welded => Self {
                upright: bead(build.wall),
                floor: bead(build.wall.min(build.floor)),
            },
            Construction::Folded(folding) => Self {
                upright: bead(build.wall),
                floor: Some(Fill::Radius(folding.radius)),
            },
            Construction::Framed(_) => Self {
                upright: None,
                floor: None,
            },
        }
    }

    /// How far off the steel of every wall alike a square module has to stand to clear all corners, on a liner of this
    /// thickness. Off one wall less may do where it has more at the other.
    pub(crate) fn off_walls(&self, liner: Length) -> Length {
        let floor = self.floor.map_or(Length::ZERO, |fill| fill.least(liner));
        floor.max(self.upright.map_or(Length::ZERO, Fill::least_both))
    }
}

/// A square edge of a module that meets the bead or bend in a corner.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CornerMet {
    /// The module or stack.
    pub module: Id,
    /// Its name.
    pub label: String,
    /// Which corner, in words.
    pub place: String,
    /// What lies there.
    pub fill: Fill,
    /// How much more room it needs off one of the two walls.
    pub short: Length,
}

/// The welds of a box as drawn, none when it cannot be built, and what its making may take off the inside.
pub(super) fn of(
    build: &Build,
    limits: &Limits,
    fraction: FractionName,
    units: Units,
    battery_box: &BoxResult,
) -> (Option<WeldMap>, Losses) {
    let Some(made) = &battery_box.built else {
        return (None, Losses::default());
    };
    let [length, width, height] = made.shell;
    let walls = build.wall * 2;
    let spec = enclosure::BoxSpec {
        step: made.step,
        ..spec(build, [length - walls, width - walls, height - build.floor])
    };
    let asked = Asked {
        side: build.weld_side,
        leg: build.weld_leg,
        held: limits.shop.map_or(HeldTo::Class(limits.class), HeldTo::Limits),
    };
    let welds = map(&spec, made, asked);
    let losses = Losses {
        welds: welds.draws_in(&spec),
        rounding: rounding_loss_marked(made, super::cut::fineness(fraction), units),
    };
    (Some(welds), losses)
}

/// The worst corner of each module that meets one. A module that sticks out of the box is told of elsewhere.
pub(super) fn met(build: &Build, allowances: &Allowances, battery_box: &BoxResult) -> Vec<CornerMet> {
    let fills = Fills::of(build);
    if fills.upright.is_none() && fills.floor.is_none() {
        return Vec::new();
    }
    let Some(steel) = battery_box.inside.and_then(|inside| inside.grown(allowances.liner)) else {
        return Vec::new();
    };
    battery_box
        .modules
        .iter()
        .filter_map(|module| {
            let (place, fill, short) = match battery_box.step {
                Some(step) => worst_beside(&fills, &steel, &step, &module.cuboid)?,
                None => worst(&fills, &steel, None, &module.cuboid)?,
            };
            Some(CornerMet {
                module: module.id,
                label: module.label.clone(),
                place,
                fill,
                short,
            })
        })
        .collect()
}

/// The same in a box with a step. What stands wholly behind the riser and lower than the raised floor has the riser for a
/// wall; what reaches over the raised floor has no floor at the wall across from the step, which stands lower.
fn worst_beside(fills: &Fills, steel: &Cuboid, step: &Step, module: &Cuboid) -> Option<(String, Fill, Length)> {
    let block = step::lacking(step, steel);
    let [deep, upper] = step::parts(Some(step), steel).try_into().ok()?;
    let axis = Axis::ALL[step.axis()];
    let behind = if step.is_high() {
        module.hi()[axis] <= block.lo()[axis]
    } else {
        module.lo()[axis] >= block.hi()[axis]
    };
    if !behind {
        let across = if step.is_high() {
            Face::low(axis)
        } else {
            Face::high(axis)
        };
        worst(fills, &upper, Some(across), module)
    } else if module.lo()[Axis::Z] < block.hi()[Axis::Z] {
        worst(fills, &deep, None, module)
    } else {
        worst(fills, steel, None, module)
    }
}

/// The worst corner of a space with walls and a floor; no floor meets the wall `without`.
fn worst(fills: &Fills, steel: &Cuboid, without: Option<Face>, module: &Cuboid) -> Option<(String, Fill, Length)> {
    let off = |face: Face| {
        let out = steel.face(face) - module.face(face);
        if face.is_high() { out } else { -out }
    };
    if Face::ALL.into_iter().any(|face| off(face).is_negative()) {
        return None;
    }
    let walls = [Face::Front, Face::Rear, Face::Left, Face::Right];
    let floor = walls
        .into_iter()
        .filter(|wall| without != Some(*wall))
        .filter_map(|wall| {
            let fill = fills.floor?;
            let place = format!("{} edge of the floor", wall.name());
            Some((place, fill, fill.short(off(wall), off(Face::Bottom))))
        });
    let uprights = [Face::Front, Face::Rear].into_iter().flat_map(|end| {
        [Face::Left, Face::Right].into_iter().filter_map(move |side| {
            let fill = fills.upright?;
            let (a, b) = (off(end), off(side));
            let place = format!("{} {} corner", end.name(), side.name());
            Some((place, fill, fill.short(a, b).min(fill.short(b, a))))
        })
    });
    floor
        .chain(uprights)
        .filter(|(_, _, short)| *short > Length::ZERO)
        .max_by_key(|(_, _, short)| *short)
}
