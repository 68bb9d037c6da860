//! Where each part stands in the finished box: the long side, the short side, upward, from the lower left corner of
//! the shell. Written apart from the code that sizes the parts, so that each checks the other.

use tape::Length;

use super::part;
use crate::{BoxSpec, Built, Corners, Joint, Lid, Part, Role};

/// An axis-parallel block.
#[derive(Debug)]
pub(super) struct Block {
    pub(super) at: [Length; 3],
    pub(super) size: [Length; 3],
}

impl Block {
    fn far(&self, axis: usize) -> Length {
        self.at[axis] + self.size[axis]
    }

    /// Whether they share any volume.
    pub(super) fn meets(&self, other: &Self) -> bool {
        (0..3).all(|axis| self.at[axis] < other.far(axis) && other.at[axis] < self.far(axis))
    }

    pub(super) fn holds(&self, other: &Self) -> bool {
        (0..3).all(|axis| self.at[axis] <= other.at[axis] && other.far(axis) <= self.far(axis))
    }
}

/// A part that lies flat.
fn flat(part: &Part, at: [Length; 3]) -> Block {
    Block {
        at,
        size: [part.length, part.width, part.sheet.thickness],
    }
}

/// Two like parts that stand along the long side, at two places across.
fn along(part: &Part, start: Length, across: [Length; 2], foot: Length) -> [Block; 2] {
    let size = [part.length, part.sheet.thickness, part.width];
    across.map(|v| Block {
        at: [start, v, foot],
        size,
    })
}

/// Two like parts that stand across, at two places along the long side.
fn across(part: &Part, start: Length, along: [Length; 2], foot: Length) -> [Block; 2] {
    let size = [part.sheet.thickness, part.length, part.width];
    along.map(|u| Block {
        at: [u, start, foot],
        size,
    })
}

/// Floor, sides and ends.
pub(super) fn panel_blocks(spec: &BoxSpec, built: &Built) -> Vec<Block> {
    let (t, f, zero) = (spec.wall.thickness, spec.floor.thickness, Length::ZERO);
    let long = spec.inside[spec.long_axis()] + t;
    let short = spec.inside[1 - spec.long_axis()] + t;
    let (floor_at, side_start, end_start, foot) = match spec.corners {
        Corners::LongSidesRun => (zero, zero, t, f),
        Corners::WallsWrapFloor => (t, zero, t, zero),
        Corners::EndsRun => (zero, t, zero, f),
        Corners::CornerToCorner => (t, t, t, f),
    };
    let mut blocks = vec![flat(part(built, Role::Floor), [floor_at, floor_at, zero])];
    blocks.extend(along(part(built, Role::LongSide), side_start, [zero, short], foot));
    blocks.extend(across(part(built, Role::End), end_start, [zero, long], foot));
    blocks
}

/// Plate and skirt of a cap.
pub(super) fn cap_blocks(spec: &BoxSpec, built: &Built) -> Vec<Block> {
    let Lid::Cap { sheet, out, deep, .. } = spec.lid else {
        unreachable!()
    };
    let t = sheet.thickness;
    let long = built.shell[spec.long_axis()] + out - t;
    let short = built.shell[1 - spec.long_axis()] + out - t;
    let top = built.body[2];
    let mut blocks = vec![flat(part(built, Role::LidPlate), [-out, -out, top - t])];
    blocks.extend(along(part(built, Role::SkirtLong), -out, [-out, short], top - deep));
    blocks.extend(across(
        part(built, Role::SkirtShort),
        -out + t,
        [-out, long],
        top - deep,
    ));
    blocks
}

/// The holes of all four flange bars, from the lower left corner of the lid above them.
pub(super) fn flange_holes(spec: &BoxSpec, built: &Built) -> Vec<[Length; 2]> {
    let Lid::Flat {
        flange: Some(flange), ..
    } = spec.lid
    else {
        unreachable!()
    };
    let lid = part(built, Role::LidPlate);
    let (length, width) = (lid.length, lid.width);
    let start = match flange.joint {
        Joint::Mitred => Length::ZERO,
        Joint::Butt => flange.width,
    };
    let long = part(built, Role::FlangeLong).holes.iter();
    let short = part(built, Role::FlangeShort).holes.iter();
    // Outer edges outward: the lower bar as it is, the others turned round to their sides.
    long.flat_map(|hole| [[hole.x, hole.y], [length - hole.x, width - hole.y]])
        .chain(short.flat_map(|hole| [[length - hole.y, start + hole.x], [hole.y, width - start - hole.x]]))
        .collect()
}
