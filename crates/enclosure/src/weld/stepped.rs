//! The seams of a shell with a step.
//!
//! The seam between riser and raised floor is welded outside whatever the others are: there it has an angle to fill, inside
//! it lies on an edge that stands out.

use tape::Length;

use super::seams::Draft;
use super::{At, Form, Side};
use crate::{BoxSpec, Corners, Role, Step};

/// Corners, then the floors, then what the riser closes.
pub(super) fn shell(spec: &BoxSpec, step: &Step, side: Side) -> Vec<Draft> {
    let (t, floor) = (spec.wall.thickness, spec.floor.thickness);
    let [along, across] = [step.axis(), 1 - step.axis()].map(|axis| spec.inside[axis]);
    let [cut, other] = if step.axis() == spec.long_axis() {
        [Role::LongSide, Role::End]
    } else {
        [Role::End, Role::LongSide]
    };
    // How far floors reach past the inside at every edge, and how far uprights reach below it.
    let (edge, foot, place) = match (side, spec.corners) {
        (Side::Inside, _) => (Length::ZERO, Length::ZERO, "inside along the floor"),
        (_, Corners::WallsWrapFloor) => (Length::ZERO, floor, "under the floor, along its edge"),
        (_, Corners::CornerToCorner) => (Length::ZERO, Length::ZERO, "along the floor's edge"),
        (_, Corners::LongSidesRun | Corners::EndsRun) => (t, Length::ZERO, "along the floor's edge"),
    };
    let form = match spec.corners {
        Corners::CornerToCorner => Form::OpenCorner,
        _ => Form::Corner,
    };
    let upright = spec.inside[2] + foot;
    // Outside the riser's corners end under the raised floor; walls that wrap it begin lower, too.
    let riser = match side {
        Side::Inside => step.rise,
        Side::Outside => step.rise + foot - floor,
    };
    // Outside the raised floor ends at the riser's outer face, inside it goes on over its edge.
    let raised = match side {
        Side::Inside => step.run,
        Side::Outside => step.run - t + edge,
    };
    let seam = |joins, at, place, length, count, thinner| Draft {
        joins,
        at,
        place,
        form,
        length,
        count,
        side,
        thinner,
        seals: true,
    };
    let thin = t.min(floor);
    let corner = |place, length| seam([Role::LongSide, Role::End], At::Upright, place, length, 2, t);
    vec![
        corner("upright corner away from the step", upright),
        corner("upright corner over the step", upright - step.rise),
        seam(
            [Role::Riser, cut],
            At::Upright,
            "upright corner of the riser",
            riser,
            2,
            t,
        ),
        seam(
            [Role::Floor, cut],
            At::FloorEdge,
            place,
            along - step.run + edge * 2,
            2,
            thin,
        ),
        seam([Role::Floor, other], At::FloorEdge, place, across + edge * 2, 1, thin),
        seam(
            [Role::Floor, Role::Riser],
            At::FloorEdge,
            place,
            across + edge * 2,
            1,
            thin,
        ),
        seam([Role::RaisedFloor, cut], At::FloorEdge, place, raised, 2, thin),
        seam(
            [Role::RaisedFloor, other],
            At::FloorEdge,
            place,
            across + edge * 2,
            1,
            thin,
        ),
        Draft {
            form: Form::Tee,
            side: Side::Outside,
            ..seam(
                [Role::RaisedFloor, Role::Riser],
                At::StepEdge,
                "in the angle under the raised floor",
                across + if edge > Length::ZERO { t * 2 } else { Length::ZERO },
                1,
                thin,
            )
        },
    ]
}
