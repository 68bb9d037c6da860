//! Boxes as large as their modules need, and whether a layout belongs to a request at all.

use super::SpreadError;
use crate::fit::{BoxRule, Layout, Placement, Request, service, to_spare};
use crate::{Cuboid, Face, Faces, Point};
use tape::Length;

/// The layout with modules of the size the request now gives them, grown about their middle, and each box as large as
/// its modules need.
pub(super) fn rebuilt(request: &Request, layout: &Layout) -> Result<Layout, SpreadError> {
    sound(request, layout)?;
    let mut layout = layout.clone();
    for placement in &mut layout.placements {
        let kind = &request.kinds[placement.kind];
        let mut own = kind.size;
        if let Some(stack) = kind.stack {
            own[stack.along] = stack.length(own[stack.along], placement.count);
        }
        let size = placement.orientation.extents(own);
        let shift = |k: usize| (placement.cuboid.size().0[k] - size.0[k]).half_down();
        placement.cuboid = Cuboid::at(placement.cuboid.lo() + Point(std::array::from_fn(shift)), size);
    }
    if let Some(rule) = &request.boxes {
        for (index, place) in layout.boxes.iter_mut().enumerate() {
            let mine = layout.placements.iter().filter(|p| p.in_box == Some(index));
            place.body = body_round(mine.map(|p| {
                let asked = Face::ALL.map(|face| rule.shell[face] + allowance(request, rule, p, place.bay, face));
                (p.cuboid, Faces(asked))
            }));
            place.inside = inside_of(&place.body, rule);
        }
    }
    layout.to_spare = to_spare(request, &layout);
    Ok(layout)
}

/// Refuses a layout that names what is not there.
pub(super) fn sound(request: &Request, layout: &Layout) -> Result<(), SpreadError> {
    let boxed = request.boxes.is_some();
    for (index, placement) in layout.placements.iter().enumerate() {
        let there = placement.cavity < request.cavities.len() && placement.kind < request.kinds.len();
        let box_there = match placement.in_box {
            None => !boxed,
            Some(in_box) => boxed && layout.boxes.get(in_box).is_some_and(|b| b.cavity == placement.cavity),
        };
        if !there || !box_there {
            return Err(SpreadError::Placement(index));
        }
    }
    for index in 0..layout.boxes.len() {
        if !layout.placements.iter().any(|p| p.in_box == Some(index)) {
            return Err(SpreadError::EmptyBox(index));
        }
    }
    if layout.placements.len() < request.pinned.len() {
        return Err(SpreadError::Pinned(request.pinned.len()));
    }
    Ok(())
}

/// What a module asks for between itself and the inside of its box at `face`.
pub(super) fn allowance(
    request: &Request,
    rule: &BoxRule,
    placement: &Placement,
    bay: Option<Face>,
    face: Face,
) -> Length {
    let service = service(&request.kinds[placement.kind], placement, face);
    let bay = rule
        .bay
        .filter(|_| bay == Some(face))
        .map_or(Length::ZERO, |(_, depth)| depth);
    rule.fit[face] + rule.room[face].max(service) + bay
}

pub(super) fn body_round(modules: impl Iterator<Item = (Cuboid, Faces<Length>)>) -> Cuboid {
    let round = |(cuboid, asked): (Cuboid, Faces<Length>)| cuboid.grown(asked).unwrap_or(cuboid);
    modules.map(round).reduce(|a, b| a.hull(&b)).unwrap_or_default()
}

pub(super) fn inside_of(body: &Cuboid, rule: &BoxRule) -> Cuboid {
    let inward = Faces(rule.shell.0.map(|thickness| -thickness));
    body.grown(inward).unwrap_or(*body)
}
