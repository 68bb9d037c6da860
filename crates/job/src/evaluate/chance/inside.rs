//! The room of the modules in their box.

use geometry::Axis;
use tape::Length;

use super::room::{Cause, Off, Room, room};
use crate::assumed::{Build, Limits, Trust};
use crate::document::BatteryBox;
use crate::evaluate::BoxResult;

/// The rooms of the modules along length, width and height; empty for a box without modules.
///
/// What is free is the inside less the modules with the gaps between them.
pub(in crate::evaluate) fn rooms(
    limits: &Limits,
    trust: &Trust,
    build: &Build,
    told: &BatteryBox,
    result: &BoxResult,
) -> Vec<Room> {
    let modules = result.modules.iter().map(|m| m.cuboid).reduce(|a, b| a.hull(&b));
    let (Some(inside), Some(modules)) = (result.inside, modules) else {
        return Vec::new();
    };
    let one = |axis: Axis| {
        let size = inside.size();
        let mut offs = Vec::new();
        // A box that was taped outside is as well known inside, but for sheets and coating.
        if let Some(taped) = told.as_built.along(axis) {
            offs.push(Off::sigma(Cause::AsBuilt, trust.sigma_of(taped).as_mm()));
            if trust.coating > Length::ZERO {
                offs.push(Off::limits(Cause::Coating, limits.coating.min(trust.coating), 2));
            }
        } else {
            let shop = limits.shop.unwrap_or_else(|| limits.class.limits(size[axis]));
            offs.push(Off::limits(Cause::Shop, shop, 1));
        }
        let across = Axis::ALL.into_iter().filter(|&a| a != axis).map(|a| size[a]).max();
        offs.push(Off::limits(
            Cause::Flatness,
            limits.flatness.limits(across.unwrap_or(size[axis])),
            2,
        ));
        offs.push(Off::limits(Cause::Sheet, limits.sheet, 2));
        if build.liner > Length::ZERO {
            // No liner lies under the lid.
            let faces = if axis == Axis::Z { 1 } else { 2 };
            offs.push(Off::limits(Cause::Liner, limits.liner.min(build.liner), faces));
        }
        offs.push(Off::limits(Cause::Modules, limits.module, in_a_row(result, axis)));
        room(axis, size[axis] - modules.size()[axis], Length::ZERO, &offs)
    };
    Axis::ALL.into_iter().map(one).collect()
}

/// The most modules that stand one behind the other along an axis.
fn in_a_row(result: &BoxResult, axis: Axis) -> u32 {
    let others = |a: Axis| a != axis;
    let beside = |a: &geometry::Cuboid, b: &geometry::Cuboid| {
        Axis::ALL
            .into_iter()
            .filter(|&x| others(x))
            .all(|x| a.gap_along(b, x) < Length::ZERO)
    };
    let row = |of: &crate::ModuleResult| {
        let along = result.modules.iter().filter(|m| beside(&of.cuboid, &m.cuboid));
        u32::try_from(along.count()).unwrap_or(u32::MAX)
    };
    result.modules.iter().map(row).max().unwrap_or(0)
}
