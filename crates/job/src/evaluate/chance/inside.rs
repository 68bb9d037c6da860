//! The room of the modules in their box.

use std::collections::BTreeMap;

use geometry::{Axis, Cuboid};
use tape::Length;

use super::built;
use super::room::{Cause, Off, room, sigma_of};
use crate::assumed::{Build, Limits, Trust};
use crate::document::BatteryBox;
use crate::evaluate::boxes::Losses;
use crate::evaluate::{BoxResult, KindResult, ModuleResult, Near};
use crate::{Id, Len};

/// What the rooms of modules follow from.
pub(in crate::evaluate) struct Look<'a> {
    pub(in crate::evaluate) trust: &'a Trust,
    pub(in crate::evaluate) limits: &'a Limits,
    pub(in crate::evaluate) build: &'a Build,
    pub(in crate::evaluate) kinds: &'a [KindResult],
}

/// Works out the rooms of the modules along length, width and height, none for a box without modules, and the standard
/// uncertainty of each clearance inside.
///
/// What is free is the inside less the modules with the gaps between them.
pub(in crate::evaluate) fn rooms(look: &Look<'_>, told: &BatteryBox, result: &mut BoxResult) {
    let modules = result.modules.iter().map(|m| m.cuboid).reduce(|a, b| a.hull(&b));
    let (Some(inside), Some(modules)) = (result.inside, modules) else {
        return;
    };
    let shell = Axis::ALL.map(|axis| {
        let taped = built::as_taped(told, result, axis);
        let mut offs = shell(look, taped, &inside, axis);
        // What was taped has both in it.
        if taped.is_none() {
            offs.extend(losses(&result.losses, axis.index()));
        }
        offs
    });
    let own = Axis::ALL.map(|axis| -> Vec<Off> { result.modules.iter().map(|m| module(look, m, axis)).collect() });
    let one = |axis: Axis| {
        let i = axis.index();
        let mut offs = shell[i].clone();
        offs.extend(row(&result.modules, &own[i], axis));
        room(axis, inside.size()[axis] - modules.size()[axis], Length::ZERO, &offs)
    };
    result.fit.inside = Axis::ALL.into_iter().map(one).collect();
    give_or_take(&shell.map(|offs| sigma_of(&offs)), &own, &mut result.modules);
}

/// What the inside of a box may be off along an axis.
fn shell(look: &Look<'_>, taped: Option<&Len>, inside: &Cuboid, axis: Axis) -> Vec<Off> {
    let (size, limits) = (inside.size(), look.limits);
    let mut offs = match taped {
        // The inside is what was taped less the sheets, and less the coating that was on it.
        Some(taped) => vec![
            built::taped(taped, look.trust),
            built::coating(limits, look.trust.coating),
        ],
        None => vec![built::shop(limits, size[axis])],
    };
    offs.push(built::flatness(limits, size, axis));
    let faces = if axis == Axis::Z {
        offs.push(Off::limits(Cause::Sheet, limits.floor, 1));
        offs.push(Off::limits(Cause::Sheet, limits.lid, 1));
        // No liner lies under the lid.
        1
    } else {
        offs.push(Off::limits(Cause::Sheet, limits.wall, 2));
        2
    };
    if look.build.liner > Length::ZERO {
        offs.push(Off::limits(Cause::Liner, limits.liner.min(look.build.liner), faces));
    }
    offs
}

/// What only ever takes from the inside along an axis.
fn losses(losses: &Losses, axis: usize) -> impl Iterator<Item = Off> {
    let each = [
        (Cause::DrawIn, losses.welds[axis]),
        (Cause::Rounding, losses.rounding[axis]),
    ];
    each.into_iter()
        .filter(|(_, most)| *most > Length::ZERO)
        .map(|(cause, most)| Off::taking(cause, most))
}

/// What a module, or all modules of a stack together, may be off along an axis.
fn module(look: &Look<'_>, module: &ModuleResult, axis: Axis) -> Off {
    let kind = look.kinds.iter().find(|k| k.id == module.kind);
    let own = module.stands.own_face(geometry::Face::low(axis)).axis();
    let limits = kind.and_then(|k| k.limits[own.index()]).unwrap_or(look.limits.module);
    let is_along = kind.is_some_and(|k| k.stack.map_or(Axis::X, |stack| stack.along) == own);
    Off::limits(Cause::Modules, limits, if is_along { module.count } else { 1 })
}

/// What the modules that stand one behind the other along an axis may be off together: the row that may be off most.
fn row(modules: &[ModuleResult], own: &[Off], axis: Axis) -> Option<Off> {
    let beside = |a: &Cuboid, b: &Cuboid| {
        let mut others = Axis::ALL.into_iter().filter(|&x| x != axis);
        others.all(|x| a.gap_along(b, x) < Length::ZERO)
    };
    let rows = modules.iter().map(|of| {
        let along = modules
            .iter()
            .zip(own)
            .filter(|(m, _)| beside(&of.cuboid, &m.cuboid))
            .map(|(_, off)| *off);
        along.reduce(|a, b| a.and(&b))
    });
    rows.flatten().max_by(|a, b| a.sigma_mm().total_cmp(&b.sigma_mm()))
}

/// Notes the standard uncertainty of each clearance inside: half of what each of the two things it lies between is off,
/// which comes out at both of their sides.
fn give_or_take(shell: &[f64; 3], own: &[Vec<Off>; 3], modules: &mut [ModuleResult]) {
    let places: BTreeMap<Id, usize> = modules.iter().enumerate().map(|(i, m)| (m.id, i)).collect();
    for (i, module) in modules.iter_mut().enumerate() {
        let Some(around) = &mut module.around else { continue };
        for clearance in around.faces.iter_mut().chain([&mut around.nearest]) {
            let axis = clearance.face.axis().index();
            let other = match clearance.near {
                Near::Liner(_) | Near::Step => shell[axis],
                Near::Module(id) => places.get(&id).map_or(0.0, |&other| own[axis][other].sigma_mm()),
                Near::Wall(_) | Near::KeepOut(_) | Near::Box(_) => 0.0,
            };
            clearance.sigma = Length::from_mm_up(other.hypot(own[axis][i].sigma_mm()) / 2.0);
        }
    }
}
