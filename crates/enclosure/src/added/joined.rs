//! How what goes in and on a box is held to it: by seams, or by rivets.

use tape::Length;

use super::{AddedError, Group, MOST, within};
use crate::build::holes::{intervals, station};
use crate::build::past::layer;
use crate::build::wall_holes::role_of;
use crate::weld::{At, Draft, Form, Side};
use crate::{BoxSpec, Construction, Hole, Purpose, RivetHeads, Role, Wall, WallHole, rivet};

/// How a strip or an angle that lies flat is held to what it lies on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Joined {
    /// Welded along both edges.
    #[default]
    Welded,
    /// Riveted in one line through holes in both; one near each end, and none further from the next than this.
    Riveted {
        /// The widest pitch.
        pitch: Length,
        /// Diameter of the hole.
        hole: Length,
        /// Which side they are set from.
        heads: RivetHeads,
    },
    /// Bonded.
    Bonded,
}

/// Rivets that hold what lies flat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fixing {
    /// What they hold.
    pub role: Role,
    /// What they hold it to.
    pub wall: Wall,
    /// How many in all.
    pub rivets: u32,
    /// Diameter of the hole.
    pub hole: Length,
    /// What they clamp: both thicknesses.
    pub grip: Length,
    /// Which side of the box their heads are on.
    pub heads: RivetHeads,
    /// The sheet that is on the inside, which flush heads are sunk into.
    pub inner: Length,
}

/// Pieces that lie flat on floor or lid, all of one length.
pub(super) struct Lying<'a> {
    pub(super) wall: Wall,
    pub(super) side: Side,
    /// The axis that they lie along, and from where to where.
    pub(super) along: (usize, [Length; 2]),
    /// Where each begins on the other level axis.
    pub(super) starts: &'a [Length],
    /// From there to the rivets' line.
    pub(super) line: Length,
    /// How wide what lies flat is, the line in its middle.
    pub(super) flat: Length,
}

/// From the end of a piece to its first rivet: two holes.
///
/// Source: FAA AC 43.13-1B.
const fn edge(hole: Length) -> Length {
    Length::from_nm(hole.nm() * 2)
}

/// Places of rivets along a piece, none further from the next than `pitch`.
fn places(length: Length, pitch: Length, hole: Length) -> Vec<Length> {
    let line = length - edge(hole) * 2;
    if line <= Length::ZERO || pitch <= Length::ZERO {
        return vec![length.half_down()];
    }
    let count = intervals(line, pitch);
    (0..=count).map(|i| edge(hole) + station(line, count, i)).collect()
}

impl Joined {
    /// Refuses rivets too near to each other, or to the edges of what they hold, `flat` wide.
    fn check(self, flat: Length) -> Result<(), AddedError> {
        let Self::Riveted { pitch, hole, .. } = self else {
            return Ok(());
        };
        let mend = "enter a wider pitch, at least three holes";
        let least = rivet::least_pitch(hole);
        within("rivets of what lies on floor or lid, pitch", pitch, [least, MOST], mend)?;
        let mend = "take a wider piece or a thinner rivet";
        within(
            "what is riveted to floor or lid, width of its flat",
            flat,
            [rivet::least_edge(hole) * 2, MOST],
            mend,
        )
    }

    /// Holds the pieces of a group, the part at its beginning, to what they lie on.
    ///
    /// # Errors
    ///
    /// [`AddedError`] for rivets too close to each other, or to the edges of what they hold.
    pub(super) fn hold(
        self,
        group: &mut Group,
        spec: &BoxSpec,
        lying: &Lying<'_>,
        along: Draft,
    ) -> Result<(), AddedError> {
        self.check(lying.flat)?;
        let count = u32::try_from(lying.starts.len()).unwrap_or(u32::MAX);
        let (pitch, diameter, heads) = match self {
            Self::Bonded => {
                group.bonded = group.bonded + along.length * lying.flat * i64::from(count);
                return Ok(());
            }
            Self::Welded => {
                group.seams.push(Draft {
                    count: count * 2,
                    ..along
                });
                return Ok(());
            }
            // A lid lies on the bench: its rivets go in from above.
            Self::Riveted { pitch, hole, .. } if lying.wall == Wall::Lid => (pitch, hole, RivetHeads::Outside),
            Self::Riveted { pitch, hole, heads } => (pitch, hole, heads),
        };
        let places = places(along.length, pitch, diameter);
        let is_inside = lying.side == Side::Inside;
        let sunk = heads.inside(Purpose::FixingRivet);
        let [its, others] = if is_inside {
            [sunk, Purpose::FixingRivet]
        } else {
            [Purpose::FixingRivet, sunk]
        };
        let own = &mut group.parts[0];
        own.holes.extend(places.iter().map(|&x| Hole {
            x,
            y: lying.line,
            diameter,
            purpose: its,
        }));
        let thickness = own.sheet.thickness;
        let other = part_of(spec, lying.wall, Side::Inside).1;
        let (axis, [from, _]) = lying.along;
        let [outside, inside] = heads.stand(diameter);
        let (below, above) = if is_inside {
            (-other, thickness)
        } else {
            (-other - thickness, Length::ZERO)
        };
        let ends = [[below - outside, below], [above, above + inside]];
        for &start in lying.starts {
            for &x in &places {
                let at = [from + x, start + lying.line];
                let [along, up] = if axis == 0 { at } else { [at[1], at[0]] };
                group.through.push(WallHole {
                    wall: lying.wall,
                    along,
                    up,
                    diameter,
                    purpose: others,
                });
                if lying.wall == Wall::Floor {
                    let ranges = [along, up].map(|middle| [middle - diameter, middle + diameter]);
                    let stand = ends.into_iter().filter(|[low, high]| low < high);
                    group
                        .ends
                        .extend(stand.map(|heights| layer(spec, lying.wall, heights, ranges)));
                }
            }
        }
        group.fixings.push(Fixing {
            role: along.joins[0],
            wall: lying.wall,
            rivets: count.saturating_mul(u32::try_from(places.len()).unwrap_or(u32::MAX)),
            hole: diameter,
            grip: thickness + other,
            heads,
            inner: if is_inside { thickness } else { other },
        });
        Ok(())
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
