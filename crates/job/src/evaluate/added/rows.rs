//! What goes under, between and round the rows of modules: standoffs, dividers, clamps.

use enclosure::Built;
use enclosure::added::{Clamp, Divider, Standoffs};
use geometry::{Axis, Face};
use tape::Length;

use super::super::boxes::ModuleResult;
use super::super::strength::whole;
use super::{AddedResult, Site, places, put, ruled};
use crate::document::{DividersName, PlacesOf, StandoffsName};
use crate::{Figure, Kind, PartSize};

pub(super) fn standoffs(here: &Site<'_>, made: &mut Built, result: &mut AddedResult) {
    if here.job.design.added.standoffs != Some(StandoffsName::Strips) || here.modules.is_empty() {
        return;
    }
    let width = here.size(PartSize::StandoffWidth);
    let side = here.steel.size()[here.long];
    let places = places::under_each(&here.ranges(), width, side);
    let strips = Standoffs {
        along: 1 - here.long.index(),
        places,
        width,
        ends: here.build.liner,
        sheet: here.sheet(here.size(PartSize::StandoffHeight)),
        joined: here.fixed_by(here.job.design.added.standoffs_fixed),
    };
    if put(here, made, result, strips.group(&here.spec)) {
        let stood = |range: &[Length; 2]| places::on_at_least_two(*range, &strips.places, width);
        let floor = here.steel.lo()[Axis::Z] + strips.sheet.thickness;
        let from = here.steel.lo()[here.long];
        let badly = |m: &&ModuleResult| {
            let range = [m.cuboid.lo()[here.long] - from, m.cuboid.hi()[here.long] - from];
            m.cuboid.lo()[Axis::Z] == floor && !stood(&range)
        };
        result.badly_stood = here.modules.iter().filter(badly).map(|m| m.label.clone()).collect();
    }
}

pub(super) fn dividers(here: &Site<'_>, made: &mut Built, result: &mut AddedResult) {
    let loose = match here.job.design.added.dividers.unwrap_or(DividersName::None) {
        DividersName::None => return,
        DividersName::Rows => false,
        DividersName::Loose => true,
    };
    let thickness = here.size(PartSize::DividerThickness);
    let own = here.places.of(PlacesOf::Dividers);
    let places = if own.is_empty() {
        let (places, narrow) = places::between_rows(&here.ranges(), thickness);
        result.undivided = narrow;
        places
    } else {
        own
    };
    // What comes out again stands on the liner and between its sheets.
    let liner = if loose { here.build.liner } else { Length::ZERO };
    let entered = here.job.design.added.sizes.get(PartSize::DividerHeight);
    let height = entered.or(here.highest().map(|top| top - liner));
    let Some(height) = height.filter(|_| !places.is_empty()) else {
        return;
    };
    let divider = Divider {
        across: here.long.index(),
        places,
        height,
        sheet: here.sheet(thickness),
        loose,
        liner,
    };
    if put(here, made, result, divider.group(&here.spec)) {
        ruled(here, result, PlacesOf::Dividers, &divider.places);
    }
}

pub(super) fn clamps(here: &Site<'_>, made: &mut Built, result: &mut AddedResult) {
    let are_cut = here.job.design.are_clamps_cut();
    for module in here.modules {
        let rule = here.job.kind(module.kind).and_then(|kind: &Kind| kind.stack.as_ref());
        let kind = here.kinds.iter().find(|kind| kind.id == module.kind);
        let (Some(rule), Some(stack)) = (rule, kind.and_then(|kind| kind.stack)) else {
            continue;
        };
        let thickness = rule.end_plate.value();
        if thickness <= Length::ZERO {
            continue;
        }
        let clamp = Clamp {
            stack: here.block(&module.cuboid),
            along: module.stands.world_face(Face::low(stack.along)).axis().index(),
            plate: here.sheet(thickness),
            rod_end: rule.rod_end.value(),
            rods: whole(here.figures().sure(Figure::TieRods)),
            thread: here.size(PartSize::TieRod),
            inset: here.size(PartSize::TieInset),
        };
        match clamp.group() {
            Ok(group) if are_cut => made.add(group),
            // Those on hand are not cut, but they are in the box.
            Ok(group) => {
                let grams = |part: &enclosure::Part| part.grams() * f64::from(part.quantity);
                result.on_hand_grams += group.parts.iter().map(grams).sum::<f64>();
            }
            Err(fault) => {
                let why = fault.words(here.job.units.units());
                result.faults.push(format!("{}: {why}", module.label));
            }
        }
    }
}
