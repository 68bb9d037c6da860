//! How many could go in at most, by arguments that hold for every layout.
//!
//! All rest on conservative scales: a map of sizes along one axis to shares such that whatever fits beside each other
//! never has shares above one. For one such map per axis, the products of the shares of all modules in a hollow sum to at
//! most one (Fekete and Schepers). The share of the length itself gives the volume bound, with lengths replaced by the
//! largest sum of sizes that fits; counting shares give layers and lengths.

use super::folded::{Folded, Piece, sizes_along, sums};
use super::goal::Goal;
use super::meter::Meter;
use super::shape::{Block, Hall, Shape, V3, nm, shapes};
use super::{BoundBy, BoxRule, Request, hollow};
use crate::Face;
use tape::Length;

/// More sums than this along an axis and the whole length is taken instead.
const MOST_SUMS: usize = 4000;
/// Counting shares of up to this many are tried.
const MOST_COUNTED: i64 = 12;

/// A proved bound and what gave it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Bound {
    pub(super) count: u32,
    pub(super) by: BoundBy,
}

/// The bound for each cavity.
pub(super) fn bounds(request: &Request, goal: &Goal) -> Vec<Bound> {
    let shapes = shapes(request, &goal.caps);
    let light = by_mass(request, goal);
    let hall = |cavity| {
        let hall = relaxed(request, cavity);
        let mut bound = in_hall(&hall, &shapes, &goal.caps);
        if let Some(columns) = columns(request, &hall) {
            let lower = in_hall(&columns, &shapes, &goal.caps);
            if lower.count < bound.count {
                bound = lower;
            }
        }
        light.filter(|light| light.count < bound.count).unwrap_or(bound)
    };
    (0..request.cavities.len()).map(hall).collect()
}

/// What the boxes of one cavity may hold by mass: of the lightest kind, with the empty boxes left out.
fn by_mass(request: &Request, goal: &Goal) -> Option<Bound> {
    let rule = request.boxes.as_ref()?;
    let limit = rule.most_g?.limit_g.max(0);
    let kinds = request.kinds.iter().zip(&goal.caps).filter(|(_, cap)| **cap > 0);
    let lightest = kinds.map(|(kind, _)| kind.mass_g).min().filter(|&mass| mass > 0)?;
    let each = u32::try_from(limit / lightest).unwrap_or(u32::MAX);
    Some(Bound {
        count: each.saturating_mul(rule.per_cavity),
        by: BoundBy::Mass,
    })
}

/// The bound for the whole request.
pub(super) fn total(each: &[Bound], goal: &Goal) -> Bound {
    let sum = each.iter().map(|bound| bound.count).fold(0, u32::saturating_add);
    let count = goal.total(sum);
    // Of several cavities, the one that holds most names the argument.
    let by = each
        .iter()
        .max_by_key(|bound| bound.count)
        .map_or(BoundBy::Volume, |bound| bound.by);
    Bound {
        count,
        by: if sum >= goal.most() {
            BoundBy::OnHand
        } else if count < sum {
            BoundBy::WholeStrings
        } else {
            by
        },
    }
}

/// Lowers the bounds of cavities with boxes by weights, as far as the work left allows.
pub(super) fn weigh(request: &Request, goal: &Goal, bounds: &mut [Bound], meter: &mut Meter) {
    let stacked = request.kinds.iter().any(|kind| kind.stack.is_some());
    let mut shapes = shapes(request, &goal.caps);
    if stacked {
        shapes = singly(request, &shapes);
    }
    for (cavity, bound) in bounds.iter_mut().enumerate() {
        if !meter.goes_on() {
            return;
        }
        let mut hall = relaxed(request, cavity);
        if stacked {
            // Modules of one stack touch, and may stand one over another in it.
            hall.gap = 0;
        } else if let Some(columns) = columns(request, &hall) {
            hall = columns;
        }
        let weighed = hollow::weigh(&eased(&hall, &shapes), &goal.caps, meter);
        if let Some(count) = weighed.filter(|&count| count < bound.count) {
            *bound = Bound {
                count,
                by: BoundBy::Weights,
            };
        }
    }
}

/// Each module of a stack by itself, without end plates: whatever holds stacks holds these.
fn singly(request: &Request, shapes: &[Shape]) -> Vec<Shape> {
    let mut single: Vec<Shape> = Vec::new();
    for shape in shapes {
        let mut own = request.kinds[shape.kind].size;
        if let Some(stack) = request.kinds[shape.kind].stack {
            own[stack.along] += stack.growth.min(Length::ZERO);
        }
        let one = Shape {
            extent: nm(shape.orientation.extents(own).0),
            service: [0; 6],
            count: 1,
            ..*shape
        };
        if !single.contains(&one) {
            single.push(one);
        }
    }
    single
}

/// The hollow of a cavity that every module stays within, boxed or bare.
fn relaxed(request: &Request, cavity: usize) -> Hall {
    let space = &request.cavities[cavity];
    let mut hall = Hall::bare(space, request.gap.nm().max(0));
    let Some(rule) = &request.boxes else {
        return hall;
    };
    let inward = Face::ALL.map(|face| (rule.shell[face] + rule.fit[face]).nm());
    for face in Face::ALL {
        let i = face.index();
        hall.base[i] = space.wall_margin[face].nm() + inward[i] + overhang(rule, face);
        hall.room[i] = rule.room[face].nm();
    }
    for Block { margin, .. } in &mut hall.blocks {
        for face in Face::ALL {
            // What faces a block's low face is a box's high one.
            let facing = face.opposite();
            margin[face.index()] += inward[facing.index()] + rule.room[facing].nm();
        }
    }
    if rule.per_cavity > 1 {
        let least = inward.iter().copied().min().unwrap_or(0).max(0);
        hall.gap = hall.gap.min(rule.apart.nm().max(0) + 2 * least);
    }
    hall
}

/// The same hollow where nothing may stand over anything else. What is in the way over or under a module is left out:
/// something may stand there as well.
fn columns(request: &Request, hall: &Hall) -> Option<Hall> {
    request.boxes.as_ref().filter(|rule| rule.one_tier)?;
    let mut columns = hall.clone();
    columns.one_tier = true;
    let through = |block: &Block| block.lo[2] <= hall.lo[2] && block.hi[2] >= hall.hi[2];
    columns.blocks.retain(through);
    Some(columns)
}

/// How far the rims reach beyond the body on a face.
fn overhang(rule: &BoxRule, face: Face) -> i64 {
    let reach = rule.rims.iter().map(|rim| match face {
        Face::Top => rim.above_top,
        Face::Bottom => Length::ZERO,
        _ => rim.out,
    });
    reach.max().unwrap_or_default().nm().max(0)
}

/// The bound for one hollow.
pub(super) fn in_hall(hall: &Hall, shapes: &[Shape], caps: &[u32]) -> Bound {
    let folded = eased(hall, shapes);
    if folded.pieces.is_empty() {
        return Bound {
            count: 0,
            by: BoundBy::Lengths,
        };
    }
    let used: V3 = std::array::from_fn(|k| {
        let sums = sums(&[0], &sizes_along(&folded.pieces, k), folded.dims[k], MOST_SUMS);
        if sums.len() > MOST_SUMS {
            folded.dims[k]
        } else {
            sums.last().copied().unwrap_or(0)
        }
    });
    let all = product(used);
    let room = free_volume(&folded).min(all);
    let mut best = Bound {
        count: most(&folded.pieces, caps, room, |p| product(p.size)),
        by: BoundBy::Volume,
    };
    // The same scales whatever the lengths: a hollow made smaller never gets the larger bound.
    let scales: Vec<Scale> = std::iter::once(Scale::Length)
        .chain((1..=MOST_COUNTED).map(Scale::Counted))
        .collect();
    for x in &scales {
        for y in &scales {
            for z in &scales {
                let chosen = [x, y, z];
                let whole = (0..3).map(|k| chosen[k].whole(used[k])).product();
                let share = |p: &Piece| (0..3).map(|k| chosen[k].share(p.size[k], used[k])).product();
                let count = most(&folded.pieces, caps, whole, share);
                if count < best.count {
                    let counted = chosen.iter().filter(|scale| matches!(scale, Scale::Counted(_))).count();
                    let by = [BoundBy::Volume, BoundBy::Layers, BoundBy::Layers, BoundBy::Lengths][counted];
                    best = Bound { count, by };
                }
            }
        }
    }
    best
}

/// The question without service spaces, and with the nearest wall any shape may have: nothing that fits is lost.
pub(super) fn eased(hall: &Hall, shapes: &[Shape]) -> Folded {
    let mut eased = hall.clone();
    for face in Face::ALL {
        let nearest = shapes.iter().map(|shape| hall.to_wall(shape, face)).min().unwrap_or(0);
        eased.base[face.index()] = 0;
        eased.room[face.index()] = nearest;
    }
    // A margin below zero would be lifted to zero by the service of none; it moves to the base.
    for i in 0..6 {
        if eased.room[i] < 0 {
            eased.base[i] = eased.room[i];
            eased.room[i] = 0;
        }
    }
    let plain: Vec<Shape> = shapes
        .iter()
        .map(|shape| Shape {
            service: [0; 6],
            ..*shape
        })
        .collect();
    Folded::new(&eased, &plain, &(0..plain.len()).collect::<Vec<_>>())
}

/// A conservative scale along one axis, in whole numbers: a size's share of the whole.
#[derive(Clone, Copy, Debug)]
enum Scale {
    /// The size as a share of the length.
    Length,
    /// With `k`: sizes up to the length over `k + 1` vanish, others count in `k`ths; multiples of the length over
    /// `k + 1` stay as they are.
    Counted(i64),
}

impl Scale {
    fn whole(self, length: i64) -> i128 {
        match self {
            Self::Length => i128::from(length),
            Self::Counted(k) => i128::from(length) * i128::from(k),
        }
    }

    fn share(self, size: i64, length: i64) -> i128 {
        match self {
            Self::Length => i128::from(size),
            Self::Counted(k) if size * (k + 1) % length == 0 => i128::from(size) * i128::from(k),
            Self::Counted(k) => i128::from(size * (k + 1) / length) * i128::from(length),
        }
    }
}

/// The most modules whose shares make up no more than `whole`: the cheapest kind first, each up to its cap.
fn most(pieces: &[Piece], caps: &[u32], whole: i128, share: impl Fn(&Piece) -> i128) -> u32 {
    let mut cheapest: Vec<(usize, i128, u32)> = Vec::new();
    for piece in pieces {
        let (cost, count) = (share(piece), piece.count);
        match cheapest.iter_mut().find(|(kind, ..)| *kind == piece.kind) {
            Some(known) => {
                if cost * i128::from(known.2) < known.1 * i128::from(count) {
                    (known.1, known.2) = (cost, count);
                }
            }
            None => cheapest.push((piece.kind, cost, count)),
        }
    }
    cheapest.sort_by(|a, b| (a.1 * i128::from(b.2)).cmp(&(b.1 * i128::from(a.2))));
    let (mut left, mut total) = (whole, 0_u32);
    for (kind, cost, count) in cheapest {
        // What is left is counted in parts, since several modules of a stack share one cost.
        let fit = if cost <= 0 {
            i128::from(u32::MAX)
        } else {
            left * i128::from(count) / cost
        };
        let number = u32::try_from(fit).unwrap_or(u32::MAX).min(caps[kind]);
        total = total.saturating_add(number);
        // Rounded down: what is used is never told too large.
        left -= i128::from(number) * cost.max(0) / i128::from(count);
        if number < caps[kind] {
            break;
        }
    }
    total
}

fn product(size: V3) -> i128 {
    size.iter().map(|&s| i128::from(s)).product()
}

/// The volume of the folded hollow outside every block.
fn free_volume(folded: &Folded) -> i128 {
    let dims = folded.dims;
    let marks: [Vec<i64>; 3] = std::array::from_fn(|k| {
        let faces = folded.blocks.iter().flat_map(|(lo, hi)| [lo[k], hi[k]]);
        let mut marks: Vec<i64> = faces.map(|at| at.clamp(0, dims[k])).chain([0, dims[k]]).collect();
        marks.sort_unstable();
        marks.dedup();
        marks
    });
    let mut free = 0;
    for x in marks[0].windows(2) {
        for y in marks[1].windows(2) {
            for z in marks[2].windows(2) {
                let cell = [x, y, z];
                let taken = folded
                    .blocks
                    .iter()
                    .any(|(lo, hi)| (0..3).all(|k| lo[k] <= cell[k][0] && cell[k][1] <= hi[k]));
                if !taken {
                    free += cell.iter().map(|mark| i128::from(mark[1] - mark[0])).product::<i128>();
                }
            }
        }
    }
    free
}
