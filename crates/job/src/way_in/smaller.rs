//! A box made smaller, and by how little that has to be.

use geometry::way_in::plan::{Plane, changes, ends_moved};
use geometry::way_in::straight::gaps;
use geometry::{Axis, Cuboid, Face, Point};
use tape::Length;
use tape::show::Style;

use super::help::CLOSED;
use super::look::Meter;
use super::scene::{Scene, Start, Trust};
use super::search::{self, Look};
use super::{Help, Moved, PLAN_WORK, Way};

/// Cuts of pitched ways are found to within this.
const TO: Length = Length::mm(1);
/// How many cuts of one dimension are looked at closely, the smallest first.
const CLOSELY: usize = 8;

/// How much comes off along one axis, at the low end and at the high one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Cut {
    pub(super) axis: Axis,
    pub(super) ends: [Length; 2],
}

impl Cut {
    fn at(face: Face, by: Length) -> Self {
        let ends = if face.is_high() {
            [Length::ZERO, by]
        } else {
            [by, Length::ZERO]
        };
        Self {
            axis: face.axis(),
            ends,
        }
    }

    fn total(self) -> Length {
        self.ends[0] + self.ends[1]
    }

    /// As much as is told of it: up to the next mark that is shown.
    fn told(self, style: Style) -> Self {
        Self {
            ends: self.ends.map(|by| by.round_up_to(style.step())),
            ..self
        }
    }
}

/// The box as it is when it is built so much smaller; `None` where half of its body or more would come off.
pub(super) fn made(moved: &Moved, cut: Cut) -> Option<Moved> {
    let whole = moved.parts.first()?.solid.size()[cut.axis];
    if cut.total() >= whole.half_down() {
        return None;
    }
    let mut changed = moved.clone();
    for (face, by) in [Face::low(cut.axis), Face::high(cut.axis)].into_iter().zip(cut.ends) {
        let body = changed.parts.first()?.solid;
        for part in &mut changed.parts {
            let moved = |of: &Cuboid, solid: Cuboid| {
                let [low, high] = ends_moved(&body, of, face, by).map(|by| Point::along(cut.axis, by));
                Cuboid::between(solid.lo() + low, solid.hi() + high)
            };
            let whole = part.solid;
            (part.solid, part.open) = (moved(&whole, whole), part.open.map(|open| moved(&whole, open)));
            part.own = part.own.iter().map(|&steel| moved(&steel, steel)).collect();
        }
    }
    Some(changed)
}

/// Of each dimension the least cut that was found, with the way that the smaller box then has, the least of them first.
pub(super) fn of(scene: &Scene<'_>, style: Style, meter: &mut Meter<'_>) -> Vec<Help> {
    let mut cuts = straight(scene);
    cuts.extend(pitched(scene, meter));
    let mut found: Vec<(Cut, Way)> = Vec::new();
    for axis in Axis::ALL {
        let mut along: Vec<Cut> = cuts.iter().filter(|cut| cut.axis == axis).copied().collect();
        // Of two that take off as much, that which leaves one end as it is.
        along.sort_by_key(|cut| (cut.total(), cut.ends[0].min(cut.ends[1])));
        along.dedup();
        let mut told = along.into_iter().map(|cut| cut.told(style)).take(CLOSELY);
        found.extend(told.find_map(|cut| {
            let changed = made(scene.moved, cut)?;
            let scene = Scene {
                moved: &changed,
                ..scene.clone()
            };
            Some((cut, search::some_way(&scene, meter)?))
        }));
    }
    found.sort_by_key(|(cut, _)| cut.total());
    let help = |(cut, way): (Cut, Way)| Help::Smaller {
        axis: cut.axis,
        cut: cut.ends,
        free: scene.moved.free[cut.axis.index()],
        bay: bay_at(scene.moved, cut),
        then: way.then(),
    };
    found.into_iter().map(help).collect()
}

/// How much of a cut the bay gives: no more than is cut off at its side.
fn bay_at(moved: &Moved, cut: Cut) -> Length {
    let there = moved.bay.filter(|(face, _)| face.axis() == cut.axis);
    there.map_or(Length::ZERO, |(face, deep)| {
        deep.min(cut.ends[usize::from(face.is_high())])
    })
}

/// Cuts with which it goes straight or slid: of each face the least to the nanometre, and of both ends of an axis what
/// reaches past the widest gap.
fn straight(scene: &Scene<'_>) -> Vec<Cut> {
    let goes = |cut: Cut| {
        made(scene.moved, cut).is_some_and(|changed| {
            let scene = Scene {
                moved: &changed,
                ..scene.clone()
            };
            search::simple(&scene).is_some()
        })
    };
    let Some(body) = scene.moved.parts.first().map(|part| part.solid) else {
        return Vec::new();
    };
    let least = |face: Face| {
        let [mut low, mut high] = [Length::ZERO, body.size()[face.axis()].half_down() - Length::from_nm(1)];
        if !goes(Cut::at(face, high)) {
            return None;
        }
        while high - low > Length::from_nm(1) {
            let middle = (low + high).half_down();
            if goes(Cut::at(face, middle)) {
                high = middle;
            } else {
                low = middle;
            }
        }
        Some(Cut::at(face, high))
    };
    let mut cuts: Vec<Cut> = Face::ALL.into_iter().filter_map(least).collect();
    let solids = scene.solids(CLOSED);
    let hull = Cuboid::hull_of(&solids).unwrap_or_default();
    let look = Look::new(scene, Trust::Expected, CLOSED);
    for &through in &scene.moved.through {
        let Start::From(from) = scene.start(&solids, through, Trust::Expected) else {
            continue;
        };
        for axis in Axis::ALL.into_iter().filter(|&axis| axis != through.axis()) {
            let within = [scene.moved.space.lo()[axis], scene.moved.space.hi()[axis]];
            let gaps = gaps(&look.question(through, from), axis, within);
            let widest = gaps.into_iter().max_by_key(|[low, high]| *high - *low);
            cuts.extend(widest.map(|[low, high]| Cut {
                axis,
                ends: [low - hull.lo()[axis], hull.hi()[axis] - high].map(|by| by.max(Length::ZERO)),
            }));
        }
    }
    cuts.retain(|cut| cut.total() > Length::ZERO);
    cuts
}

/// Cuts with which it goes pitched in a plane; half of the work is left for looking at them closely.
fn pitched(scene: &Scene<'_>, meter: &mut Meter<'_>) -> Vec<Cut> {
    let look = Look::new(scene, Trust::Expected, CLOSED);
    let solids = scene.solids(CLOSED);
    let asked: Vec<(Face, Plane)> = scene
        .moved
        .through
        .iter()
        .flat_map(|&through| search::planes(through).iter().map(move |&plane| (through, plane)))
        .collect();
    let count = u64::try_from(asked.len().max(1)).unwrap_or(u64::MAX);
    let each = (meter.left() / 2 / count).min(PLAN_WORK);
    let mut cuts = Vec::new();
    for (through, plane) in asked {
        let Start::From(from) = scene.start(&solids, through, Trust::Expected) else {
            continue;
        };
        let query = look.query(through, from, plane);
        let budget = meter.whole(each);
        let Ok(found) = changes(&query, TO, budget, meter) else {
            continue;
        };
        meter.spent(found.work);
        cuts.extend(found.cuts.iter().map(|change| Cut::at(change.face, change.goes)));
    }
    cuts
}
