//! The solids that may be put down, and the hollow they are put into, in plain whole nanometres.

use super::{Cavity, Kind, Placement, Request};
use crate::{Axis, Cuboid, Face, Orientation, Point, Size};
use tape::Length;

/// Three whole nanometre values, along x, y and z.
pub(super) type V3 = [i64; 3];

/// A module in one orientation, or a stack of so many in one orientation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Shape {
    pub(super) kind: usize,
    pub(super) orientation: Orientation,
    pub(super) extent: V3,
    /// Service space per world direction, in the order of [`Face::ALL`].
    pub(super) service: [i64; 6],
    /// Modules in it.
    pub(super) count: u32,
}

/// A shape put down with its low corner at a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Put {
    pub(super) shape: Shape,
    pub(super) at: V3,
}

impl Put {
    /// A pinned module or stack as it stands.
    pub(super) fn of(request: &Request, pinned: &Placement) -> Self {
        let kind = &request.kinds[pinned.kind];
        Self {
            shape: shape(kind, pinned.kind, pinned.orientation, pinned.count),
            at: nm(pinned.cuboid.lo().0),
        }
    }

    /// It as a solid in the way of others, with the gap and its own service space to keep.
    fn block(&self, gap: i64) -> Block {
        Block {
            lo: self.at,
            hi: std::array::from_fn(|k| self.at[k] + self.shape.extent[k]),
            margin: self.shape.service.map(|service| service.max(gap)),
        }
    }

    pub(super) fn cuboid(&self) -> Cuboid {
        Cuboid::at(point(self.at), Size(self.shape.extent.map(Length::from_nm)))
    }

    pub(super) fn moved(mut self, by: V3) -> Self {
        self.at = std::array::from_fn(|k| self.at[k] + by[k]);
        self
    }
}

pub(super) fn point(at: V3) -> Point {
    Point(at.map(Length::from_nm))
}

pub(super) fn nm(lengths: [Length; 3]) -> V3 {
    lengths.map(Length::nm)
}

/// Modules in all of them.
pub(super) fn modules(puts: &[Put]) -> u32 {
    puts.iter().map(|put| put.shape.count).sum()
}

/// Every different shape of the kinds with any left to place, kinds and orientations in the order they are liked, large
/// stacks first.
pub(super) fn shapes(request: &Request, caps: &[u32]) -> Vec<Shape> {
    let mut all: Vec<Shape> = Vec::new();
    for (index, kind) in request.kinds.iter().enumerate().filter(|&(index, _)| caps[index] > 0) {
        for (place, &orientation) in kind.orientations.iter().enumerate() {
            let counts = kind.stack.map_or(1..=1, |stack| stack.min..=stack.max.min(caps[index]));
            for count in counts.rev().filter(|&count| count <= caps[index]) {
                let shape = shape(kind, index, orientation, count);
                // Only another orientation can give the same shape: the counts of one all differ.
                let same = |&earlier: &Orientation| {
                    let other = self::shape(kind, index, earlier, count);
                    other.extent == shape.extent && other.service == shape.service
                };
                if !kind.orientations[..place].iter().any(same) {
                    all.push(shape);
                }
            }
        }
    }
    all
}

fn shape(kind: &Kind, index: usize, orientation: Orientation, count: u32) -> Shape {
    let mut own = kind.size;
    let mut service = kind.service.0.map(|depth| depth.nm().max(0));
    if let Some(stack) = kind.stack {
        own[stack.along] = stack.length(own[stack.along], count);
        service[Face::low(stack.along).index()] = 0;
        service[Face::high(stack.along).index()] = 0;
    }
    Shape {
        kind: index,
        orientation,
        extent: nm(orientation.extents(own).0),
        service: Face::ALL.map(|world| service[orientation.own_face(world).index()]),
        count,
    }
}

/// Takes modules away, the highest first, until no kind has more than its cap. A stack is shortened where that does it.
pub(super) fn trim(puts: &mut Vec<Put>, caps: &[u32], shapes: &[Shape]) {
    puts.sort_by_key(|put| (put.at[2], put.at[0], put.at[1], put.shape.kind));
    for (kind, &cap) in caps.iter().enumerate() {
        let mut over = puts
            .iter()
            .filter(|p| p.shape.kind == kind)
            .map(|p| p.shape.count)
            .sum::<u32>()
            .saturating_sub(cap);
        while over > 0 {
            let Some(last) = puts.iter().rposition(|put| put.shape.kind == kind) else {
                break;
            };
            let shape = puts[last].shape;
            let shorter = shapes
                .iter()
                .filter(|s| s.kind == kind && s.orientation == shape.orientation && s.count < shape.count)
                .find(|s| shape.count - s.count == over);
            if let Some(&shorter) = shorter {
                puts[last].shape = shorter;
                over = 0;
            } else {
                puts.remove(last);
                over = over.saturating_sub(shape.count);
            }
        }
    }
}

/// A solid in the way, with the distance to keep beyond each of its faces.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Block {
    pub(super) lo: V3,
    pub(super) hi: V3,
    pub(super) margin: [i64; 6],
}

/// A hollow to put shapes into.
///
/// The distance to each wall is `base + max(room, service of the shape's face)`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Hall {
    pub(super) lo: V3,
    pub(super) hi: V3,
    pub(super) base: [i64; 6],
    pub(super) room: [i64; 6],
    pub(super) blocks: Vec<Block>,
    pub(super) gap: i64,
    /// Nothing stands over or under anything else.
    pub(super) one_tier: bool,
}

impl Hall {
    /// The cavity itself, for bare modules.
    pub(super) fn bare(cavity: &Cavity, gap: i64) -> Self {
        let blocks = cavity
            .keep_outs
            .iter()
            .map(|keep| Block {
                lo: nm(keep.cuboid.lo().0),
                hi: nm(keep.cuboid.hi().0),
                margin: [keep.margin.nm(); 6],
            })
            .collect();
        Self {
            lo: nm(cavity.space.lo().0),
            hi: nm(cavity.space.hi().0),
            base: [0; 6],
            room: cavity.wall_margin.0.map(Length::nm),
            blocks,
            gap,
            one_tier: false,
        }
    }

    /// The distance that `shape` keeps to the wall at `face`.
    pub(super) fn to_wall(&self, shape: &Shape, face: Face) -> i64 {
        let i = face.index();
        self.base[i] + self.room[i].max(shape.service[i])
    }
}

/// The pinned modules and stacks of a box, or of a cavity where they are bare (`in_box` of `None`).
pub(super) fn pinned_in(request: &Request, cavity: usize, in_box: Option<usize>) -> Vec<Put> {
    let here = |p: &&Placement| p.cavity == cavity && p.in_box == in_box;
    request
        .pinned
        .iter()
        .filter(here)
        .map(|p| Put::of(request, p))
        .collect()
}

/// What stands already, as blocks of a hall: others keep the gap and its service space.
pub(super) fn as_blocks(puts: &[Put], gap: Length) -> Vec<Block> {
    puts.iter().map(|put| put.block(gap.nm().max(0))).collect()
}

/// The service indices of the low and the high face along axis `k`.
pub(super) fn faces(k: usize) -> (usize, usize) {
    (Face::low(Axis::ALL[k]).index(), Face::high(Axis::ALL[k]).index())
}
