//! From a layout back to boxes, as one edit.

use geometry::Point;
use geometry::fit::{BoxPlace, Layout, Placement};

use super::{Aim, Question};
use crate::document::{AsBuilt, BatteryBox, FaceName, Placed, Stands};
use crate::edit::place;
use crate::{Edit, Id, Job};

/// The edit that takes over `layout` as the answer to `question`.
///
/// Pinned modules stay as they are, and so do number, name and datum of the boxes that hold them and of a box that is
/// laid out by itself. Other boxes get the cavity's name and new numbers, so that no box or module that stays shares
/// its number with a new one.
pub fn take_over(job: &Job, question: &Question, layout: &Layout) -> Edit {
    let boxes = boxes(job, question, layout);
    match question.aim {
        Aim::Wanted(count) => Edit::AcceptWanted { count, boxes },
        Aim::Whole | Aim::Fill(_) | Aim::Box(_) => Edit::AcceptLayout(boxes),
    }
}

fn boxes(job: &Job, question: &Question, layout: &Layout) -> Vec<BatteryBox> {
    let mut boxes = staying(job, question);
    let rest = Job {
        boxes: boxes.clone(),
        ..job.clone()
    };
    // A box that takes an old one's place has its fittings too.
    let is_free = |id: &Id| job.fitting(*id).is_none();
    let box_ids: Vec<Id> = rest.free_ids().filter(is_free).take(layout.boxes.len()).collect();
    // Near the largest number there is, both would go on with the same gaps.
    let mut ids = rest.free_module_ids().filter(|id| is_free(id) && !box_ids.contains(id));
    let mut box_ids = box_ids.iter().copied();
    let pinned = question.request.pinned.len();
    for (index, placed_box) in layout.boxes.iter().enumerate() {
        let new: Vec<&Placement> = layout.placements[pinned.min(layout.placements.len())..]
            .iter()
            .filter(|p| p.in_box == Some(index))
            .collect();
        let old = old_box(question, index).and_then(|id| boxes.iter_mut().find(|b| b.id == id));
        if let Some(old) = old {
            let held = !old.modules.is_empty();
            let datum = if held { old.datum() } else { corner(&new) };
            old.at = place(datum, job.units.units());
            old.bay = bay(placed_box);
            old.fixed = None;
            old.modules.extend(modules(job, question, &new, datum, &mut ids));
            continue;
        }
        let datum = corner(&new);
        let cavity = question.cavities[placed_box.cavity];
        let modules = modules(job, question, &new, datum, &mut ids);
        let old = gone(job, cavity, &boxes);
        boxes.push(BatteryBox {
            id: box_ids.next().unwrap_or_default(),
            name: old.map_or_else(|| free_name(job, cavity, &boxes), |old| old.name.clone()),
            cavity,
            at: place(datum, job.units.units()),
            bay: bay(placed_box),
            step: None,
            as_built: AsBuilt::default(),
            bracket_leg: old.and_then(|old| old.bracket_leg.clone()),
            fixed: None,
            fittings: old.map_or_else(Vec::new, |old| old.fittings.clone()),
            places: old.map_or_else(Default::default, |old| old.places.clone()),
            modules,
        });
    }
    boxes
}

/// The boxes that stay, each with the modules that stay in it.
fn staying(job: &Job, question: &Question) -> Vec<BatteryBox> {
    let laid_out = |b: &BatteryBox| {
        let aimed_at = match question.aim {
            Aim::Whole | Aim::Wanted(_) => true,
            Aim::Fill(cavity) => b.cavity == cavity,
            Aim::Box(id) => b.id == id,
        };
        // What the layout does not know of stays.
        aimed_at && b.step.is_none()
    };
    let mut boxes = job.boxes.clone();
    for battery_box in boxes.iter_mut().filter(|b| laid_out(b)) {
        battery_box.modules.retain(|m| m.pinned);
    }
    boxes.retain(|b| !laid_out(b) || !b.modules.is_empty() || question.aim == Aim::Box(b.id));
    boxes
}

/// The number of the box in the job that the layout's box of this index is.
fn old_box(question: &Question, index: usize) -> Option<Id> {
    match question.aim {
        Aim::Box(id) => (index == 0).then_some(id),
        _ => question.pinned_boxes.get(index).copied(),
    }
}

/// The corner of all modules: as the datum it makes their places in the box plain sums.
fn corner(placements: &[&Placement]) -> Point {
    placements
        .iter()
        .map(|p| p.cuboid)
        .reduce(|a, b| a.hull(&b))
        .map_or(Point::ZERO, |all| all.lo())
}

fn modules(
    job: &Job,
    question: &Question,
    placements: &[&Placement],
    datum: Point,
    ids: &mut impl Iterator<Item = Id>,
) -> Vec<Placed> {
    placements
        .iter()
        .map(|p| Placed {
            // A job has room for far more numbers than modules, so there is always a next one.
            id: ids.next().unwrap_or_default(),
            kind: question.kinds[p.kind],
            at: place(p.cuboid.lo() - datum, job.units.units()),
            stands: Stands::of(p.orientation),
            count: p.count,
            pinned: false,
        })
        .collect()
}

fn bay(placed_box: &BoxPlace) -> Option<FaceName> {
    placed_box.bay.map(FaceName::of)
}

/// The first box that was in the cavity and is not among `boxes`.
fn gone<'a>(job: &'a Job, cavity: Id, boxes: &[BatteryBox]) -> Option<&'a BatteryBox> {
    let mut before = job.boxes.iter().filter(|b| b.cavity == cavity);
    before.find(|b| boxes.iter().all(|other| other.name != b.name))
}

/// "box" and the cavity's name, with the first number that is free where there are several.
fn free_name(job: &Job, cavity: Id, boxes: &[BatteryBox]) -> String {
    let cavity_name = job.cavity(cavity).map_or("", |c| c.name.as_str());
    let names = (1..).map(|n| match n {
        1 => format!("{cavity_name} box"),
        _ => format!("{cavity_name} box {n}"),
    });
    let free = |name: &String| boxes.iter().all(|b| b.name != *name);
    names.into_iter().find(free).unwrap_or_default()
}
