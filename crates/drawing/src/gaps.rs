//! Free distances in a view: boxes to their neighbours, modules to each other and to the liner.

use geometry::{Cuboid, Face};
use job::{BoxResult, CavityResult, ClearanceResult, Evaluation, ModuleResult, Near, Subject};
use tape::Length;

use crate::dims::middle_of_shared;
use crate::solids::Texts;
use crate::{Direction, Gap, Side};

/// A free distance between two faces, before it has words.
struct Found<'a> {
    along: Direction,
    /// The face of the thing, and of its neighbour, in the cavity's frame.
    ends: [Length; 2],
    at: Length,
    clearance: &'a ClearanceResult,
    subject: Subject,
}

impl Found<'_> {
    fn gap(&self, texts: Texts<'_>) -> Gap {
        let mut ends = self.ends.map(|end| on_sheet(self.along, end));
        ends.sort_unstable();
        Gap {
            along: self.along,
            from: ends[0],
            to: ends[1],
            at: self.at,
            length: self.clearance.distance,
            text: texts.space(self.clearance.distance),
            short: self.clearance.is_short(),
            subject: self.subject,
            name: self.clearance.name.to_string(),
            times: 1,
        }
    }
}

/// A coordinate of the cavity's frame as it stands on the sheet.
fn on_sheet(along: Direction, coordinate: Length) -> Length {
    match along {
        Direction::U => coordinate,
        Direction::V => -coordinate,
    }
}

/// The clearances of a box on each side of the view. A gap between two boxes is told once.
pub(crate) fn of_box(evaluation: &Evaluation, cavity: &CavityResult, battery_box: &BoxResult, side: Side) -> Vec<Gap> {
    let (Some(around), Some(space)) = (&battery_box.around, &cavity.space) else {
        return Vec::new();
    };
    let texts = Texts::of(evaluation);
    let found = around.faces.iter().filter_map(|clearance| {
        // Of two boxes that face each other, the one that looks towards the higher face tells it.
        if matches!(clearance.near, Near::Box(_)) && !clearance.face.is_high() {
            return None;
        }
        let neighbours: Vec<Cuboid> = match clearance.near {
            Near::Wall(_) => Vec::new(),
            Near::KeepOut(id) => cavity
                .keep_outs
                .iter()
                .filter(|k| k.id == id)
                .map(|k| k.cuboid)
                .collect(),
            Near::Box(id) => evaluation.battery_box(id)?.solids.clone(),
            Near::Liner(_) | Near::Step | Near::Module(_) => return None,
        };
        let (ends, at) = facing(&battery_box.solids, &neighbours, space, clearance, side)?;
        let along = side.along(clearance.face)?;
        Some(
            Found {
                along,
                ends,
                at,
                clearance,
                subject: Subject::Box(battery_box.id),
            }
            .gap(texts),
        )
    });
    found.collect()
}

/// Where a clearance begins and ends, and where across it lies: the pair of solids that it was measured between.
fn facing(
    solids: &[Cuboid],
    neighbours: &[Cuboid],
    space: &Cuboid,
    clearance: &ClearanceResult,
    side: Side,
) -> Option<([Length; 2], Length)> {
    let face = clearance.face;
    let across = side.along(face)?.across();
    let measured = |from: Length, to: Length| {
        let free = if face.is_high() { to - from } else { from - to };
        free == clearance.distance
    };
    let span = |cuboid: &Cuboid| side.rect(cuboid).ends(across);
    if let Near::Wall(wall) = clearance.near {
        let to = space.face(wall);
        let solid = solids.iter().find(|s| measured(s.face(face), to))?;
        return Some(([solid.face(face), to], middle_of_shared(span(solid), span(space))));
    }
    let pairs = solids.iter().flat_map(|s| neighbours.iter().map(move |n| (s, n)));
    let (solid, neighbour) = pairs
        .filter(|(s, n)| measured(s.face(face), n.face(face.opposite())) && in_the_way(s, n, face))
        .min_by_key(|(s, n)| middle_of_shared(span(s), span(n)))?;
    let ends = [solid.face(face), neighbour.face(face.opposite())];
    Some((ends, middle_of_shared(span(solid), span(neighbour))))
}

/// Whether two solids overlap as seen along `face`.
fn in_the_way(a: &Cuboid, b: &Cuboid, face: Face) -> bool {
    let across = geometry::Axis::ALL.into_iter().filter(|&axis| axis != face.axis());
    across.into_iter().all(|axis| a.gap_along(b, axis) < Length::ZERO)
}

/// The gaps between modules in a row: each length once for a direction, with how often it comes.
pub(crate) fn between_modules(evaluation: &Evaluation, battery_box: &BoxResult, side: Side) -> Vec<Gap> {
    let texts = Texts::of(evaluation);
    let mut gaps: Vec<Gap> = Vec::new();
    for module in &battery_box.modules {
        for clearance in module.around.iter().flat_map(|a| &a.faces).filter(|c| c.face.is_high()) {
            let Near::Module(id) = clearance.near else {
                continue;
            };
            let Some(other) = battery_box.modules.iter().find(|m| m.id == id) else {
                continue;
            };
            let Some(found) = to_neighbour(module, clearance, Some(&other.cuboid), side) else {
                continue;
            };
            let gap = found.gap(texts);
            match gaps.iter_mut().find(|g| g.along == gap.along && g.length == gap.length) {
                Some(same) => same.times += 1,
                None => gaps.push(gap),
            }
        }
    }
    gaps
}

/// For each side of the view, the least room between a module and the liner.
pub(crate) fn to_liner(evaluation: &Evaluation, battery_box: &BoxResult, side: Side) -> Vec<Gap> {
    let texts = Texts::of(evaluation);
    Face::ALL
        .into_iter()
        .filter(|&face| side.along(face).is_some())
        .filter_map(|face| {
            let rooms = battery_box.modules.iter().filter_map(|m| {
                let clearance = &m.around.as_ref()?.faces[face.index()];
                matches!(clearance.near, Near::Liner(_)).then_some((m, clearance))
            });
            let (module, clearance) = rooms.min_by_key(|(m, clearance)| (clearance.distance, m.id))?;
            Some(to_neighbour(module, clearance, None, side)?.gap(texts))
        })
        .collect()
}

fn to_neighbour<'a>(
    module: &ModuleResult,
    clearance: &'a ClearanceResult,
    other: Option<&Cuboid>,
    side: Side,
) -> Option<Found<'a>> {
    let face = clearance.face;
    let along = side.along(face)?;
    let from = module.cuboid.face(face);
    let to = if face.is_high() {
        from + clearance.distance
    } else {
        from - clearance.distance
    };
    let span = |cuboid: &Cuboid| side.rect(cuboid).ends(along.across());
    let own = span(&module.cuboid);
    let at = middle_of_shared(own, other.map_or(own, span));
    Some(Found {
        along,
        ends: [from, to],
        at,
        clearance,
        subject: Subject::Module(module.id),
    })
}
