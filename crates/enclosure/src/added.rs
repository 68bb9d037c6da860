//! What goes in and on a box beyond its shell, lid and frame: brackets that carry it, what holds its modules down and
//! apart, what clamps its stacks, and what stiffens its lid and its floor.
//!
//! Each sort is built by itself into a [`Group`] of parts and of the places of their solids, and joins the box by
//! [`Built::add`]: one that cannot be made leaves the box as it is. Places are told in the frame of the space inside the
//! steel: along the length from the front, along the width from the left, up from the floor.

mod brackets;
mod clamp;
mod divider;
mod eye_plate;
mod floor_rail;
pub mod hold_down;
mod joined;
mod liner;
mod standoff;
mod stiffener;
#[cfg(test)]
mod tests;

use tape::show::thousandths;
use tape::{Area, Length, Units};

use crate::spec::first_of_two;
use crate::weld::Draft;
use crate::{BoxSpec, Built, Part, Role, Sheet, Wall, WallHole};

pub use brackets::{Brackets, Reach, spread_evenly};
pub use clamp::Clamp;
pub use divider::Divider;
pub use eye_plate::EyePlate;
pub use floor_rail::FloorRails;
pub use hold_down::{Bar, Fixed, HoldDown};
pub use joined::{Fixing, Joined};
pub use liner::{Lined, Lining};
pub use standoff::Standoffs;
pub use stiffener::{Stiffeners, field_gives_mm, least_stiffeners};

/// An axis-parallel block, by its two far corners: length, width, height.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Block {
    /// The front-left-bottom corner.
    pub lo: [Length; 3],
    /// The rear-right-top corner.
    pub hi: [Length; 3],
}

impl Block {
    /// Whether two blocks share any volume; touching is not sharing.
    pub fn meets(&self, other: &Self) -> bool {
        (0..3).all(|axis| self.lo[axis] < other.hi[axis] && other.lo[axis] < self.hi[axis])
    }

    /// The smallest block round two.
    #[must_use]
    pub fn hull(&self, other: &Self) -> Self {
        let ends = |pick: fn(Length, Length) -> Length, a: &[Length; 3], b: &[Length; 3]| {
            [0, 1, 2].map(|axis| pick(a[axis], b[axis]))
        };
        Self {
            lo: ends(Length::min, &self.lo, &other.lo),
            hi: ends(Length::max, &self.hi, &other.hi),
        }
    }

    /// How deep two blocks stand in each other: the least way along one axis that clears them; `None` when they do not.
    pub fn depth_in(&self, other: &Self) -> Option<Length> {
        let way = |axis: usize| (self.hi[axis] - other.lo[axis]).min(other.hi[axis] - self.lo[axis]);
        (0..3).map(way).min().filter(|&depth| depth > Length::ZERO)
    }

    /// From the ranges along length, width and height.
    pub(crate) fn of([x, y, z]: [[Length; 2]; 3]) -> Self {
        Self {
            lo: [x[0], y[0], z[0]],
            hi: [x[1], y[1], z[1]],
        }
    }
}

/// A solid of a part, in its place. A piece of angle has two: one for each leg.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Piece {
    /// Which of the parts it is, by its place in the list.
    pub part: usize,
    /// What that part is.
    pub role: Role,
    /// Where it is.
    pub block: Block,
    /// Along which axis its thickness lies: 0 length, 1 width, 2 height.
    pub thin: usize,
}

/// Parts of one sort with the places of their solids.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Group {
    /// The parts.
    pub parts: Vec<Part>,
    /// Their solids; [`Piece::part`] counts in [`Group::parts`].
    pub pieces: Vec<Piece>,
    /// Nuts, bolt heads and thread ends: they take room and are bought, not cut.
    pub nuts: Vec<Block>,
    /// What is bought to fix them, each with how many.
    pub fasteners: Vec<(String, u32)>,
    /// The rivets that hold them.
    pub fixings: Vec<Fixing>,
    /// Heads and tails of those at the floor.
    pub ends: Vec<Block>,
    /// Their holes in what they are held to: see [`Built::add_to`].
    pub through: Vec<WallHole>,
    /// What of them is welded, and to what.
    pub seams: Vec<Draft>,
    /// What of them is bonded: the area that lies on the adhesive.
    pub bonded: Area,
    /// Their surface outside the box, to coat.
    pub coat_area: Area,
}

/// Something that does not go where it was asked for.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}", self.words(Units::Millimetre))]
pub struct AddedError {
    /// What was asked for.
    pub what: &'static str,
    /// The value, and what it may be.
    pub out: OutOf,
    /// How to mend it.
    pub mend: &'static str,
}

/// What was asked for against what it may be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum OutOf {
    /// A length outside a range, ends included; nothing is in a range whose least is above its most.
    Range {
        /// The value.
        given: Length,
        /// Least and most.
        allowed: [Length; 2],
    },
    /// Something else.
    Words {
        /// The value.
        given: &'static str,
        /// What it may be.
        allowed: &'static str,
    },
}

impl AddedError {
    /// The same, its lengths as a person reads them who works in those units.
    pub fn words(&self, units: Units) -> String {
        let (given, allowed) = match &self.out {
            OutOf::Range { given, allowed } => {
                let [least, most] = *allowed;
                let range = if least > most {
                    "nothing here".to_owned()
                } else {
                    format!("{} to {}", first_of_two(least, units), thousandths(most, units))
                };
                (thousandths(*given, units), range)
            }
            OutOf::Words { given, allowed } => ((*given).to_owned(), (*allowed).to_owned()),
        };
        format!(
            "{}: {given} is out of range; it may be {allowed}: {}",
            self.what, self.mend
        )
    }
}

/// Refuses a length outside a range, ends included.
fn within(what: &'static str, given: Length, range: [Length; 2], mend: &'static str) -> Result<(), AddedError> {
    let is = (range[0]..=range[1]).contains(&given);
    is.then_some(()).ok_or(AddedError {
        what,
        out: OutOf::Range { given, allowed: range },
        mend,
    })
}

/// Refuses places of which two are less than `least` apart.
fn apart(what: &'static str, places: &[Length], least: Length) -> Result<(), AddedError> {
    let mut sorted = places.to_vec();
    sorted.sort_unstable();
    let mut pairs = sorted.windows(2);
    pairs.try_for_each(|pair| within(what, pair[1] - pair[0], [least, MOST], "move them apart, or take fewer"))
}

/// The longest that anything in or on a box may be asked for.
const MOST: Length = Length::mm(12_000);

/// Refuses a size that is not above zero.
fn above_zero(what: &'static str, given: Length) -> Result<(), AddedError> {
    within(what, given, [Length::from_nm(1), MOST], "enter a size above zero")
}

impl Group {
    /// The place of one more of a part: one that it has already is counted once more.
    fn one_more(&mut self, part: Part) -> usize {
        let is_alike = |known: &Part| {
            Part {
                quantity: part.quantity,
                ..known.clone()
            } == part
        };
        match self.parts.iter().position(is_alike) {
            Some(at) => {
                self.parts[at].quantity += part.quantity;
                at
            }
            None => {
                self.parts.push(part);
                self.parts.len() - 1
            }
        }
    }
}

impl Built {
    /// Puts a group in or on the box: its parts join the cut list and the mass, its welds the seams, and what stands out
    /// the size over all.
    pub fn add(&mut self, group: Group) {
        let first = self.parts.len();
        for part in &group.parts {
            self.grams += part.grams() * f64::from(part.quantity);
        }
        self.parts.extend(group.parts);
        for piece in &group.pieces {
            self.hull = self.hull.hull(&piece.block);
        }
        for end in &group.ends {
            self.hull = self.hull.hull(end);
        }
        self.overall = [0, 1, 2].map(|axis| self.hull.hi[axis] - self.hull.lo[axis]);
        self.bonded = self.bonded + group.bonded;
        for seam in group.seams {
            // Brackets of two walls alike are one sort of seam.
            let alike = |known: &&mut Draft| {
                Draft {
                    count: seam.count,
                    ..**known
                } == seam
            };
            match self.seams.iter_mut().find(alike) {
                Some(known) => known.count += seam.count,
                None => self.seams.push(seam),
            }
        }
        self.added.extend(group.pieces.into_iter().map(|piece| Piece {
            part: first + piece.part,
            ..piece
        }));
        self.nuts.extend(group.nuts);
        self.fixings.extend(group.fixings);
        self.fixing_ends.extend(group.ends);
        for (what, count) in group.fasteners {
            match self.fasteners.iter_mut().find(|(known, _)| *known == what) {
                Some((_, so_far)) => *so_far += count,
                None => self.fasteners.push((what, count)),
            }
        }
        self.coat_area = self.coat_area + group.coat_area;
    }

    /// The same, with the holes that it asks for in floor or lid.
    pub fn add_to(&mut self, spec: &BoxSpec, mut group: Group) {
        let through = std::mem::take(&mut group.through);
        self.add(group);
        if !through.is_empty() {
            self.drill_through(spec, &through);
        }
    }

    /// Whether one of these solids stands in the step of the box, or below it, where there is no box.
    ///
    /// Brackets stand outside, in a place of their own.
    pub fn meets_step(&self, group: &Group) -> bool {
        let Some(step) = self.step else { return false };
        let [length, width, height] = self.shell;
        let inside = [length - self.beside * 2, width - self.beside * 2, height - self.under];
        let [lo, hi] = step.block(inside);
        let block = Block { lo, hi };
        let inside = group.pieces.iter().filter(|piece| piece.role != Role::Bracket);
        inside.map(|piece| &piece.block).any(|piece| piece.meets(&block))
    }

    /// Whether something that was added comes off with the lid: what lies on it or hangs under it.
    pub fn goes_with_lid(&self, piece: &Piece) -> bool {
        let rim = self.shell[2] - self.under;
        piece.role == Role::Stiffener || (piece.role == Role::EyePlate && piece.thin == 2 && piece.block.hi[2] >= rim)
    }

    /// Added parts that want the same place, by what they are, with how deep they stand in each other; each pair once, with
    /// the deepest. A rod goes through the holes of what it holds, so those are left out.
    pub fn added_that_meet(&self) -> Vec<([Role; 2], Length)> {
        let mut found: Vec<([Role; 2], Length)> = Vec::new();
        for (index, one) in self.added.iter().enumerate() {
            for other in &self.added[..index] {
                let through = one.role.is_rod_through(other.role) || other.role.is_rod_through(one.role);
                let depth = one.block.depth_in(&other.block);
                // A liner is cut round what is welded in.
                let soft = one.role.is_liner() || other.role.is_liner();
                let Some(depth) = depth.filter(|_| one.part != other.part && !through && !soft) else {
                    continue;
                };
                let roles = [other.role, one.role];
                match found.iter_mut().find(|(known, _)| *known == roles) {
                    Some((_, deepest)) => *deepest = depth.max(*deepest),
                    None => found.push((roles, depth)),
                }
            }
        }
        found
    }
}

/// The block at a wall: along it, out from its inner face (inward below zero), and up.
fn at_wall(spec: &BoxSpec, wall: Wall, along: [Length; 2], out: [Length; 2], up: [Length; 2]) -> Block {
    let [length, width, _] = spec.inside;
    let low = [-out[1], -out[0]];
    let high = |side: Length| [side + out[0], side + out[1]];
    match wall {
        Wall::Left | Wall::Floor | Wall::Lid | Wall::Riser => Block::of([along, low, up]),
        Wall::Right => Block::of([along, high(width), up]),
        Wall::Front => Block::of([low, along, up]),
        Wall::Rear => Block::of([high(length), along, up]),
    }
}

/// The axis that a wall is thin along: 0 length, 1 width.
const fn thin_axis(wall: Wall) -> usize {
    match wall {
        Wall::Front | Wall::Rear => 0,
        Wall::Left | Wall::Right | Wall::Floor | Wall::Lid | Wall::Riser => 1,
    }
}

/// The block that lies between two places along one level axis, two along the other, and two heights.
fn level(axis: usize, along: [Length; 2], across: [Length; 2], up: [Length; 2]) -> Block {
    if axis == 0 {
        Block::of([along, across, up])
    } else {
        Block::of([across, along, up])
    }
}

/// `size` around a middle.
fn around(middle: Length, size: Length) -> [Length; 2] {
    let lo = middle - size.half_down();
    [lo, lo + size]
}

/// Underside of a lid that lies flat over the box, from the floor.
fn under_lid(spec: &BoxSpec, built: &Built) -> Length {
    spec.inside[2] + built.above_rim - lid_sheet(spec).map_or(Length::ZERO, |sheet| sheet.thickness)
}

fn lid_sheet(spec: &BoxSpec) -> Option<Sheet> {
    match spec.lid {
        crate::Lid::None => None,
        crate::Lid::Flat { sheet, .. } | crate::Lid::Cap { sheet, .. } => Some(sheet),
    }
}
