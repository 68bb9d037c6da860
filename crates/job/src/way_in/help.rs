//! What single change would make a way.

use geometry::way_in::plan::{Plane, changes};
use geometry::way_in::straight::{gaps, straight};
use geometry::{Axis, Cuboid, Face};
use tape::Length;

use super::look::Meter;
use super::question::BED;
use super::scene::{Scene, Start, Trust};
use super::search::Look;
use super::{Help, Off, PLAN_WORK, What, in_place, lid};

/// With its lid on and all else off that can be put on afterwards.
const CLOSED: Off = Off {
    fittings: true,
    lid: false,
    brackets: true,
};
/// A cut is found to within this.
const TO: Length = Length::mm(1);

/// Changes for a box that does not go, the smallest first: things taken out, then sizes, then the truck.
pub(super) fn of(scene: &Scene<'_>, meter: &mut Meter<'_>) -> Vec<Help> {
    let solids = scene.solids(CLOSED);
    let mut help = Vec::new();
    if scene
        .moved
        .walls
        .iter()
        .any(|wall| wall.what == What::Wall(Face::Top) && wall.name == BED)
    {
        help.push(Help::BedOff);
    }
    help.extend(lid_on(scene, meter));
    let mut smaller: Vec<(Axis, Length, Face)> = Vec::new();
    for &through in &scene.moved.through {
        let from = match scene.start(&solids, through, Trust::Expected) {
            Start::From(from) => from,
            Start::NoRoom(by) => {
                help.push(Help::Raise { by });
                continue;
            }
        };
        taken_out(scene, through, &mut help);
        smaller.extend(narrower(scene, through, from));
        smaller.extend(planned(scene, through, from, meter));
    }
    // Of each dimension the smallest cut.
    smaller.sort_by_key(|(_, by, _)| *by);
    for (axis, by, through) in smaller {
        if !help
            .iter()
            .any(|h| matches!(h, Help::Smaller { axis: told, .. } if *told == axis))
        {
            help.push(Help::Smaller { axis, by, through });
        }
    }
    help
}

/// Why its lid keeps it out, where it goes straight in without it.
fn lid_on(scene: &Scene<'_>, meter: &mut Meter<'_>) -> Option<Help> {
    let open = Off { lid: true, ..CLOSED };
    Look::new(scene, Trust::Expected, open).straight_or_slid()?;
    if let Some(why) = scene.moved.lid_stays.clone() {
        return Some(Help::LidOn { why });
    }
    if lid::goes_on(scene, open, meter) {
        return None;
    }
    let barred = in_place::lid_barred(scene).map(|barred| Help::LidBarred { barred });
    barred.or_else(|| {
        let why = "it does not go over the box there".to_owned();
        Some(Help::LidOn { why })
    })
}

/// Things any one of which, taken out, lets the box go straight in. Walls stay.
fn taken_out(scene: &Scene<'_>, through: Face, help: &mut Vec<Help>) {
    let look = Look::new(scene, Trust::Expected, CLOSED);
    for stop in look.tried(through, false).stops {
        if matches!(stop.what, What::Wall(_) | What::Ground) {
            continue;
        }
        let without = Scene {
            moved: scene.moved,
            things: scene
                .things
                .iter()
                .filter(|thing| thing.what != stop.what)
                .cloned()
                .collect(),
            ground: scene.ground,
            pitch_deg: scene.pitch_deg,
        };
        let solids = without.solids(CLOSED);
        let Start::From(from) = without.start(&solids, through, Trust::Expected) else {
            continue;
        };
        let look = Look::new(&without, Trust::Expected, CLOSED);
        let told = help
            .iter()
            .any(|h| matches!(h, Help::TakeOut { what, .. } if *what == stop.what));
        if !told && straight(&look.question(through, from)).goes() {
            help.push(Help::TakeOut {
                name: stop.name,
                what: stop.what,
                through,
            });
        }
    }
}

/// By how much it is larger over everything than the widest gap that it would go straight through.
fn narrower(scene: &Scene<'_>, through: Face, from: Length) -> Vec<(Axis, Length, Face)> {
    let look = Look::new(scene, Trust::Expected, CLOSED);
    let solids = scene.solids(CLOSED);
    let hull = Cuboid::hull_of(&solids).unwrap_or_default();
    let across = Axis::ALL.into_iter().filter(|&axis| axis != through.axis());
    across
        .filter_map(|axis| {
            let within = [scene.moved.space.lo()[axis], scene.moved.space.hi()[axis]];
            let gaps = gaps(&look.question(through, from), axis, within);
            let widest = gaps.iter().map(|[low, high]| *high - *low).max()?;
            let by = hull.size()[axis] - widest;
            (by > Length::ZERO && by < hull.size()[axis].half_down()).then_some((axis, by, through))
        })
        .collect()
}

/// Smallest cuts with which it goes pitched in a plane, and things without which it does.
fn planned(scene: &Scene<'_>, through: Face, from: Length, meter: &mut Meter<'_>) -> Vec<(Axis, Length, Face)> {
    let plane = match through {
        Face::Left | Face::Right => Plane::Across,
        _ => Plane::Side,
    };
    let look = Look::new(scene, Trust::Expected, CLOSED);
    let query = look.query(through, from, plane);
    let budget = meter.budget(PLAN_WORK);
    let Ok(found) = changes(&query, TO, budget, meter) else {
        return Vec::new();
    };
    meter.spent(found.work);
    found
        .cuts
        .iter()
        .map(|cut| (cut.face.axis(), cut.goes, through))
        .collect()
}
