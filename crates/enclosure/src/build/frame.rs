//! The angle frame round the box at the floor.

use tape::{Area, Length};

use super::RimBand;
use super::shell::Shell;
use crate::material::Material;
use crate::{EndCut, Frame, Joint, Part, Role, Sheet};

/// Two long and two short bars of angle.
///
/// Long bars, and mitred short ones, reach over the uprights beside them; a butted short bar stands between, its foot
/// coped. Mass is that of the ordered length.
pub(super) fn bars(frame: Frame, material: Material, shell: &Shell) -> [Part; 2] {
    let over_walls = shell.within_angle();
    let [long, over_short] = over_walls.map(|side| side + frame.thickness * 2);
    let (short, long_end, short_end) = match frame.joint {
        Joint::Mitred => (over_short, EndCut::Mitre45, EndCut::Mitre45),
        Joint::Butt => (over_walls[1], EndCut::Square, EndCut::Coped),
    };
    let sheet = Sheet {
        material,
        thickness: frame.thickness,
    };
    [(Role::FrameLong, long, long_end), (Role::FrameShort, short, short_end)].map(|(role, length, end)| {
        let mut bar = Part::plate(role, 2, sheet, [length, frame.leg]);
        bar.ends = [end; 2];
        bar.solid_grams = grams(frame, length);
        bar
    })
}

/// Mass of a length of the angle.
#[expect(clippy::cast_precision_loss, reason = "grams per metre are far below 2^53")]
pub(super) fn grams(frame: Frame, length: Length) -> f64 {
    length.as_mm() * frame.grams_per_m as f64 / 1e3
}

/// The frame as a band: uprights outside the walls, feet under the floor.
pub(super) fn band(frame: Frame, top: Length) -> RimBand {
    RimBand {
        is_solid: true,
        out: frame.thickness,
        below_top: top + frame.thickness,
        above_top: frame.leg - frame.thickness - top,
    }
}

/// What the angle round the foot adds to the outside. Both legs cover as much of wall and floor as they are themselves, so it
/// is only that the upright one stands out at the corners, and the free edges: of the upright leg, of the level one, and
/// its rim round the floor.
pub(super) fn coat_area(frame: Frame, shell: &Shell) -> Area {
    let girth: Length = shell.within_angle().into_iter().sum();
    let corners = frame.leg * ((frame.thickness + shell.line) * 8);
    let edges = (girth * 2 + frame.thickness * 8) * (frame.thickness * 3);
    corners + edges
}
