//! From a layout back to boxes, as one edit.

use geometry::Point;
use geometry::fit::Layout;

use super::{Aim, Question};
use crate::document::{BatteryBox, FaceName, Placed, Stands};
use crate::edit::place;
use crate::{Edit, Id, Job};

/// The edit that takes over `layout` as the answer to `question`.
///
/// Boxes get the cavity's name. Numbers start after the largest that stays in use, so that no box or module that stays
/// shares its number with a new one.
pub fn take_over(job: &Job, question: &Question, layout: &Layout) -> Edit {
    let units = job.units.units();
    let mut boxes: Vec<BatteryBox> = match question.aim {
        Aim::Whole => Vec::new(),
        Aim::Fill(cavity) => job.boxes.iter().filter(|b| b.cavity != cavity).cloned().collect(),
    };
    let mut next = Job {
        boxes: boxes.clone(),
        ..job.clone()
    }
    .next_id()
    .0;
    let mut id = || {
        next += 1;
        Id(next - 1)
    };
    for (index, placed_box) in layout.boxes.iter().enumerate() {
        let inside = layout.placements.iter().filter(|p| p.in_box == Some(index));
        // The datum is the corner of the modules, so that their places in the box are plain sums.
        let corner = inside
            .clone()
            .map(|p| p.cuboid)
            .reduce(|a, b| a.hull(&b))
            .map_or(Point::ZERO, |all| all.lo());
        let cavity = question.cavities[placed_box.cavity];
        let modules: Vec<Placed> = inside
            .map(|p| Placed {
                id: id(),
                kind: question.kinds[p.kind],
                at: place(p.cuboid.lo() - corner, units),
                stands: Stands::of(p.orientation),
                count: p.count,
            })
            .collect();
        let name = box_name(job, cavity, &boxes);
        let bay = placed_box.bay.map(FaceName::of);
        boxes.push(BatteryBox {
            id: id(),
            name,
            cavity,
            at: place(corner, units),
            bay,
            fixed: None,
            modules,
        });
    }
    Edit::AcceptLayout(boxes)
}

/// "box" and the cavity's name, with a number where there are several.
fn box_name(job: &Job, cavity: Id, boxes: &[BatteryBox]) -> String {
    let cavity_name = job.cavity(cavity).map_or("", |c| c.name.as_str());
    let before = boxes.iter().filter(|b| b.cavity == cavity).count();
    if before == 0 {
        format!("{cavity_name} box")
    } else {
        format!("{cavity_name} box {}", before + 1)
    }
}
