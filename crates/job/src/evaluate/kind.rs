//! A kind of module with its defaults filled in.

use geometry::fit::Stack;
use geometry::{Axis, Cuboid, Face, Faces, Orientation, Point, Size};
use pack::{CellVolts, Module, Ohms};
use tape::Length;

use crate::document::{Kind, Terminals};
use crate::{Id, Job, assumed};

/// A kind as it counts.
#[derive(Clone, Debug, PartialEq)]
pub struct KindResult {
    /// Its number.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// Own size, once all three are known.
    pub size: Option<Size>,
    /// How far one module may be off its own length, width and height, either way, where that was typed with them.
    pub limits: [Option<Length>; 3],
    /// Mass of one module in grams, once known.
    pub mass_g: Option<i64>,
    /// What one module can do, once volts and amp-hours are known.
    pub module: Option<Module>,
    /// Internal resistance of one module, if known.
    pub resistance: Option<Ohms>,
    /// The ways it may stand, upright first.
    pub orientations: Vec<Orientation>,
    /// Which own faces carry terminals.
    pub terminals: Terminals,
    /// Room needed in front of each own face.
    pub service: Faces<Length>,
    /// How it is clamped, if it only lives in stacks.
    pub stack: Option<Stack>,
    /// Units on hand.
    pub on_hand: Option<u32>,
    /// Modules placed.
    pub placed: u32,
}

pub(super) fn evaluate(kind: &Kind, job: &Job) -> KindResult {
    let size = match &kind.size {
        [Some(x), Some(y), Some(z)] => Some(Size([x.value(), y.value(), z.value()])),
        _ => None,
    };
    let terminals = kind.terminals.unwrap_or_default();
    let mut service = Faces::all(Length::ZERO);
    for &face in terminals.faces() {
        service[face] = assumed::service(kind);
    }
    let placed = job
        .boxes
        .iter()
        .flat_map(|b| &b.modules)
        .filter(|m| m.kind == kind.id)
        .map(|m| m.count)
        .sum();
    KindResult {
        id: kind.id,
        name: kind.name.clone(),
        size,
        limits: kind.size.each_ref().map(|size| size.as_ref()?.plus_minus()),
        mass_g: kind.mass_kg.map(|g| g.0),
        module: module(kind),
        resistance: kind.resistance_mohm.map(|r| Ohms::from_nano(r.0 * 1000)),
        orientations: kind.stance.unwrap_or_default().orientations(terminals),
        terminals,
        service,
        stack: kind.stack.as_ref().map(|rule| Stack {
            along: rule.along.axis(),
            min: rule.fewest,
            max: rule.most,
            end: rule.end_plate.value() + rule.rod_end.value(),
            growth: if rule.growth_held {
                Length::ZERO
            } else {
                rule.growth.value()
            },
        }),
        on_hand: kind.on_hand,
        placed,
    }
}

fn module(kind: &Kind) -> Option<Module> {
    Some(Module {
        cells_series: assumed::cells_series(kind)?,
        cells_parallel: kind.cells_parallel.unwrap_or(1),
        volts: CellVolts {
            empty: assumed::empty_volts(kind)?,
            nominal: kind.nominal_volts?,
            full: assumed::full_volts(kind)?,
        },
        capacity: kind.amp_hours?,
        continuous: kind.continuous_amps,
        peak: kind.peak_amps,
        charge: kind.charge_amps,
    })
}

impl KindResult {
    /// Own size of one module, or of a stack of `count`.
    pub fn own_size(&self, count: u32) -> Option<Size> {
        let mut size = self.size?;
        match &self.stack {
            Some(stack) => size[stack.along] = stack.length(size[stack.along], count),
            // More than one without a clamp is a fault that a finding tells; the solid is still drawn, side by side.
            None => size[Axis::X] = size[Axis::X] * i64::from(count),
        }
        Some(size)
    }

    /// The space that one module or a stack takes with its corner at `at`.
    pub fn cuboid(&self, at: Point, stands: Orientation, count: u32) -> Option<Cuboid> {
        Some(Cuboid::at(at, stands.extents(self.own_size(count)?)))
    }

    /// Service space towards each world face of one that stands so. Faces at the ends of a stack are the clamp's.
    pub fn service_towards(&self, stands: Orientation) -> Faces<Length> {
        let clamped = self.stack.map(|s| s.along);
        Faces(Face::ALL.map(|world| {
            let own = stands.own_face(world);
            if clamped == Some(own.axis()) {
                Length::ZERO
            } else {
                self.service[own]
            }
        }))
    }
}
