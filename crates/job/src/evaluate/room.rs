//! How much is free round boxes and between modules for sure, against what was asked for.

use std::borrow::Cow;

use geometry::clearance::separation;
use geometry::{Cuboid, Face};
use tape::Length;

use super::boxes::wall_name;
use super::{BoxResult, ClearanceResult, Evaluation, ModuleResult, Near, is_seat};

/// A free distance from a box.
pub(in crate::evaluate) struct Free<'a> {
    /// As it is expected; negative where they overlap.
    pub(in crate::evaluate) expected: Length,
    /// What of it there is for sure.
    pub(in crate::evaluate) sure: Length,
    /// The margin asked for.
    pub(in crate::evaluate) asked: Length,
    /// What it ends at.
    pub(in crate::evaluate) to: Cow<'a, str>,
    /// In which direction, where it is one.
    pub(in crate::evaluate) towards: Option<Face>,
}

impl Free<'_> {
    /// Whether less than asked for is sure.
    pub(in crate::evaluate) fn is_short(&self) -> bool {
        self.expected.is_negative() || self.sure < self.asked
    }
}

/// To each wall of the cavity; empty while it or the box has no size.
pub(in crate::evaluate) fn to_walls(evaluation: &Evaluation, battery_box: &BoxResult) -> Vec<Free<'static>> {
    let hull = battery_box.solids.iter().copied().reduce(|a, b| a.hull(&b));
    let cavity = evaluation.cavity(battery_box.cavity);
    let (Some(all), Some((space, usable))) = (hull, cavity.and_then(|c| c.space.zip(c.usable))) else {
        return Vec::new();
    };
    let brackets = battery_box.added.brackets.iter();
    let with_brackets = brackets.fold(all, |all, solid| all.hull(solid));
    let to_wall = |face: Face| {
        // Brackets are set against what carries them, so no margin is asked for there; they may not reach into it.
        let seat = is_seat(battery_box, face);
        let all = if seat { all } else { with_brackets };
        let to = |space: Cuboid| {
            if face.is_high() {
                space.face(face) - all.face(face)
            } else {
                all.face(face) - space.face(face)
            }
        };
        Free {
            expected: to(space),
            sure: to(usable),
            asked: evaluation.margin,
            to: format!("the {}", wall_name(face)).into(),
            towards: Some(face),
        }
    };
    Face::ALL.map(to_wall).into()
}

/// To each keep-out of the cavity that counts, with the room of the box's brackets to it.
pub(in crate::evaluate) fn to_keep_outs<'a>(
    evaluation: &'a Evaluation,
    battery_box: &'a BoxResult,
) -> Vec<(Free<'a>, Option<Length>)> {
    let cavity = evaluation.cavity(battery_box.cavity);
    let cavity = cavity.filter(|c| c.space.is_some() && c.usable.is_some() && !battery_box.solids.is_empty());
    let counted = cavity.into_iter().flat_map(|c| &c.keep_outs).filter(|k| k.counts);
    let to_one = counted.map(|keep_out| {
        let around = battery_box.around.as_ref();
        let mut faces = around.into_iter().flat_map(|around| &around.faces);
        let free = Free {
            expected: separation(&battery_box.solids, &[keep_out.cuboid]),
            sure: separation(&battery_box.solids, &[keep_out.sure]),
            asked: keep_out.margin,
            to: keep_out.name.as_str().into(),
            towards: faces.find(|c| c.near == Near::KeepOut(keep_out.id)).map(|c| c.face),
        };
        let brackets = &battery_box.added.brackets;
        let of_brackets = (!brackets.is_empty()).then(|| separation(brackets, &[keep_out.cuboid]));
        (free, of_brackets)
    });
    to_one.collect()
}

/// From one box to another of its cavity; `None` while one of them has no size, or stands elsewhere.
pub(in crate::evaluate) fn between<'a>(evaluation: &Evaluation, a: &BoxResult, b: &'a BoxResult) -> Option<Free<'a>> {
    if a.cavity != b.cavity || a.solids.is_empty() || b.solids.is_empty() {
        return None;
    }
    let all = |of: &BoxResult| -> Vec<Cuboid> { of.solids.iter().chain(&of.added.brackets).copied().collect() };
    let free = separation(&all(a), &all(b));
    Some(Free {
        expected: free,
        sure: free,
        asked: evaluation.margin,
        to: b.name.as_str().into(),
        towards: None,
    })
}

/// The clearances of a module for which room is asked of the person: in a box that wraps its modules the liner keeps its
/// own; a step stands where it was told, whatever wraps the modules.
pub(in crate::evaluate) fn asked_inside<'a>(
    battery_box: &BoxResult,
    module: &'a ModuleResult,
) -> impl Iterator<Item = &'a ClearanceResult> + use<'a> {
    let fixed = battery_box.fixed;
    let faces = module.around.iter().flat_map(|around| &around.faces);
    faces.filter(move |c| c.near == Near::Step || fixed && matches!(c.near, Near::Liner(_)))
}

/// Whether any box has less than its margin to something, or any module less than its gap or its room in the box.
pub(super) fn is_short(evaluation: &Evaluation) -> bool {
    let gap = evaluation.gap;
    evaluation.boxes.iter().enumerate().any(|(i, battery_box)| {
        let to_keep_outs = to_keep_outs(evaluation, battery_box);
        let others = &evaluation.boxes[i + 1..];
        let modules = &battery_box.modules;
        to_walls(evaluation, battery_box).iter().any(Free::is_short)
            || to_keep_outs
                .iter()
                .any(|(free, brackets)| free.is_short() || brackets.is_some_and(Length::is_negative))
            || others
                .iter()
                .filter_map(|other| between(evaluation, battery_box, other))
                .any(|free| free.is_short())
            || modules.iter().enumerate().any(|(j, module)| {
                let faces = module.around.iter().flat_map(|around| &around.faces);
                let mut after = modules[j + 1..].iter();
                faces.into_iter().any(|c| c.distance.is_negative())
                    || asked_inside(battery_box, module).any(ClearanceResult::is_short)
                    || after.any(|other| module.cuboid.separation(&other.cuboid) < gap)
            })
    })
}
