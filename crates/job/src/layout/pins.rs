//! Modules that the person pinned, as the automatic layout is told of them.

use geometry::fit::Placement;

use super::NotYet;
use super::question::needs;
use crate::evaluate::{BoxResult, KindResult};
use crate::{Evaluation, Id, Job};

/// The pinned modules of what is laid out anew.
pub(super) struct Pins {
    /// The kind that is laid out, then each other kind of which some are pinned.
    pub(super) kinds: Vec<Id>,
    /// The pinned modules, box after box.
    pub(super) placements: Vec<Placement>,
    /// The boxes that hold them, in that order.
    pub(super) boxes: Vec<Id>,
}

/// Gathers the pinned modules of the boxes in `cavities` that are laid out anew.
pub(super) fn pins(
    job: &Job,
    evaluation: &Evaluation,
    kind: &KindResult,
    cavities: &[Id],
    lays_out: impl Fn(&BoxResult) -> bool,
) -> Result<Pins, NotYet> {
    let mut pins = Pins {
        kinds: vec![kind.id],
        placements: Vec::new(),
        boxes: Vec::new(),
    };
    for battery_box in evaluation.boxes.iter().filter(|b| lays_out(b)) {
        let pinned: Vec<_> = battery_box.modules.iter().filter(|m| m.pinned).collect();
        let Some(cavity) = cavities.iter().position(|&id| id == battery_box.cavity) else {
            continue;
        };
        if pinned.is_empty() {
            continue;
        }
        if job.battery_box(battery_box.id).is_some_and(|b| b.fixed.is_some()) {
            let name = &battery_box.name;
            return Err(needs(format!(
                "{name} holds pinned modules and its inside has a fixed size; let {name} wrap its modules, or unpin them"
            )));
        }
        for module in pinned {
            let at = pins.kinds.iter().position(|&id| id == module.kind);
            let kind = at.unwrap_or_else(|| {
                pins.kinds.push(module.kind);
                pins.kinds.len() - 1
            });
            pins.placements.push(Placement {
                cavity,
                in_box: Some(pins.boxes.len()),
                kind,
                orientation: module.stands,
                cuboid: module.cuboid,
                count: module.count,
            });
        }
        pins.boxes.push(battery_box.id);
    }
    Ok(pins)
}
