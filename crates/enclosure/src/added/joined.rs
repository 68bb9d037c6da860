//! How what goes in and on a box is held to it: by seams, or by rivets.

use tape::Length;

use super::Group;
use crate::build::wall_holes::role_of;
use crate::weld::{At, Draft, Form, Side};
use crate::{BoxSpec, Construction, Role, Wall};

/// How a strip or an angle that lies flat is held to what it lies on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Joined {
    /// Welded along both edges.
    #[default]
    Welded,
    /// Riveted in one line, drilled through both in place; one at each end, and none further from the next than this.
    Riveted {
        /// The widest pitch.
        pitch: Length,
    },
    /// Bonded.
    Bonded,
}

impl Joined {
    /// Holds `count` pieces of a group, all of one length, to what they lie on.
    pub(super) fn hold(self, group: &mut Group, count: u32, along: Draft) {
        match self {
            Self::Welded => group.seams.push(Draft {
                count: count * 2,
                ..along
            }),
            Self::Riveted { pitch } => {
                let pitch = pitch.nm().max(1);
                let pitches = u32::try_from((along.length.nm() + pitch - 1) / pitch).unwrap_or(u32::MAX);
                let each = pitches.max(1).saturating_add(1);
                let what = format!("rivets, {}s", along.joins[0].name());
                group.fasteners.push((what, count.saturating_mul(each)));
            }
            Self::Bonded => {}
        }
    }
}

/// The part that a wall is made of, and its thickness. On a frame of angle what is outside meets the angle at the floor.
pub(super) fn part_of(spec: &BoxSpec, wall: Wall, side: Side) -> (Role, Length) {
    let thickness = match wall {
        Wall::Floor => spec.floor.thickness,
        Wall::Lid => super::lid_sheet(spec).map_or(spec.wall.thickness, |sheet| sheet.thickness),
        _ => spec.wall.thickness,
    };
    match (role_of(spec, wall), spec.construction, side) {
        (Role::LongSide, Construction::Framed(skeleton), Side::Outside) => (Role::FrameLong, skeleton.thickness),
        (Role::End, Construction::Framed(skeleton), Side::Outside) => (Role::FrameShort, skeleton.thickness),
        (role, ..) => (role, thickness),
    }
}

/// A fillet between an added part of this thickness and a wall; it keeps no water out.
pub(super) fn fillet(
    spec: &BoxSpec,
    (role, thickness): (Role, Length),
    (wall, side): (Wall, Side),
    (at, form, place): (At, Form, &'static str),
    (length, count): (Length, u32),
) -> Draft {
    let (other, its) = part_of(spec, wall, side);
    Draft {
        joins: [role, other],
        at,
        place,
        form,
        length,
        count,
        side,
        thinner: thickness.min(its),
        seals: false,
    }
}
