//! Backing plates under lifting eyes.

use enclosure::added::EyePlate;
use enclosure::material::Material;
use enclosure::{Built, Role, Sheet};
use geometry::Cuboid;
use tape::Length;

use super::super::fitting::{FittingResult, hole_of};
use super::{AddedResult, Site, put};
use crate::document::{BatteryBox, FittingName};
use crate::{Id, assumed};

/// The plate under the nut of an eye, in its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct EyePlateResult {
    /// The eye, by its number.
    pub eye: Id,
    /// The plate as a solid, in the cavity's frame.
    pub solid: Cuboid,
}

/// How thick a plate is: a quarter of the eye's hole, at least 3 mm, whole millimetres up (common practice, no source).
fn thickness(hole: Length) -> Length {
    Length::from_nm(hole.nm() / 4)
        .round_up_to(Length::mm(1))
        .max(Length::mm(3))
}

/// Lays a plate under each eye that is let in: of mild steel, square, as wide as the eye's body, which the sum of the sheet takes
/// it for.
pub(super) fn plates(
    here: &Site<'_>,
    (told, fittings): (&BatteryBox, &[FittingResult]),
    made: &mut Built,
    result: &mut AddedResult,
) {
    let eyes = told
        .fittings
        .iter()
        .filter(|fitting| fitting.what == FittingName::LiftingEye);
    for eye in eyes {
        let is_let_in = |fitting: &&FittingResult| fitting.id == eye.id && fitting.fault.is_none();
        let Some(fitting) = fittings.iter().find(is_let_in) else {
            continue;
        };
        let hole = hole_of(eye);
        let plate = EyePlate {
            wall: hole.wall,
            at: [hole.along, hole.up],
            side: fitting.across,
            hole: hole.diameter,
            play: assumed::PLAY + here.build.liner,
            sheet: Sheet {
                material: Material::MildSteel,
                thickness: thickness(hole.diameter),
            },
        };
        if put(here, made, result, plate.group(&here.spec, made)) {
            let last = made.added.last().filter(|piece| piece.role == Role::EyePlate);
            result.eye_plates.extend(last.map(|piece| EyePlateResult {
                eye: eye.id,
                solid: here.cuboid(&piece.block),
            }));
        } else if let Some(fault) = result.faults.last_mut() {
            *fault = format!("{}: {fault}", fitting.label);
        }
    }
}
