//! How a cavity is divided into berths, one for each box.

use std::cmp::Reverse;

use super::berth::Berth;
use super::boxing::Boxing;
use super::contents::pitch;
use super::folded::sums;
use super::meter::Meter;
use super::shape::{Put, Shape, faces};

/// Divisions kept for one number of boxes, and as many that promise more.
pub(super) const MOST_DIVISIONS: usize = 3;
/// Thicknesses of boxes that cuts are made for, along one axis.
const MOST_THICK: usize = 12;
/// Thicknesses worked out.
const MOST_SUMS: usize = 500;

/// What a berth would hold.
#[derive(Clone, Copy, Debug)]
pub(super) struct Held {
    /// Modules in one box.
    pub(super) most: u32,
    /// Whole strings in one box.
    pub(super) whole: u32,
    /// Modules, if one box might weigh anything.
    pub(super) ample: u32,
}

/// A division with what it holds.
struct Found {
    /// Modules, whole strings, and the least in any part.
    worth: (u32, u32, u32),
    /// Modules that may go in when one part is divided further, for a box may weigh no more.
    promise: u32,
    berths: Vec<Berth>,
}

impl Found {
    fn new(berths: Vec<Berth>, held: &[Held], enough: u32, more: u32) -> Self {
        let sum = |of: fn(&Held) -> u32| held.iter().map(of).fold(0, u32::saturating_add);
        let (room, whole) = (sum(|part| part.most), sum(|part| part.whole));
        let divided = |part: &Held| {
            let most = part.most.saturating_mul(more + 1).min(part.ample);
            room - part.most + most.max(part.most)
        };
        Self {
            worth: (
                room.min(enough),
                whole,
                held.iter().map(|part| part.most).min().unwrap_or(0),
            ),
            promise: held.iter().map(divided).max().unwrap_or(0).min(enough),
            berths,
        }
    }
}

/// The best divisions of berths into one more, by modules (up to `enough`), then whole strings, then evenness; after them
/// those that promise most when they are divided further, up to `more` times.
pub(super) fn divisions(
    boxing: Boxing,
    from: &[Vec<Berth>],
    (enough, more): (u32, u32),
    hold: &mut impl FnMut(&Berth, &mut Meter) -> Held,
    meter: &mut Meter,
) -> Vec<Vec<Berth>> {
    let mut found: Vec<Found> = Vec::new();
    for berths in from {
        let before: Vec<Held> = berths.iter().map(|berth| hold(berth, meter)).collect();
        for (index, berth) in berths.iter().enumerate() {
            for axis in 0..2 {
                for at in cuts(boxing, berth, axis) {
                    if meter.stopped() || (!meter.goes_on() && !found.is_empty()) {
                        return best(found);
                    }
                    let Some(halves) = berth.split(axis, at, boxing.rule) else {
                        continue;
                    };
                    let new = halves.each_ref().map(|half| hold(half, meter));
                    if new.iter().any(|part| part.most == 0) {
                        continue;
                    }
                    let others = (0..berths.len()).filter(|&i| i != index).map(|i| before[i]);
                    let all: Vec<Held> = others.chain(new).collect();
                    let mut divided: Vec<Berth> = berths.clone();
                    divided.splice(index..=index, halves);
                    found.push(Found::new(divided, &all, enough, more));
                }
            }
        }
    }
    best(found)
}

/// The best divisions, then those that promise most.
fn best(mut found: Vec<Found>) -> Vec<Vec<Berth>> {
    found.sort_by_key(|division| Reverse(division.worth));
    let mut rest = found.split_off(found.len().min(MOST_DIVISIONS));
    rest.sort_by_key(|division| Reverse((division.promise, division.worth)));
    rest.truncate(MOST_DIVISIONS);
    found.into_iter().chain(rest).map(|division| division.berths).collect()
}

/// The best divisions of a cavity into `parts` slabs across one axis: all of the same thickness, or each as thick as some
/// rows of modules make it and the last as thick as what is left.
pub(super) fn slabs(
    boxing: Boxing,
    berth: &Berth,
    parts: i64,
    hold: &mut impl FnMut(&Berth, &mut Meter) -> Held,
    meter: &mut Meter,
) -> Vec<Vec<Berth>> {
    let apart = boxing.rule.apart.nm().max(0);
    let mut found = Vec::new();
    for axis in 0..2 {
        let even = (berth.free(axis) - (parts - 1) * apart) / parts;
        let mut thick = sampled(thicknesses(boxing, axis, even));
        thick.push(even);
        for thick in thick.into_iter().filter(|&thick| thick > 0) {
            let Some(slabs) = cut_off(boxing, berth, axis, (parts, thick)) else {
                continue;
            };
            if !meter.goes_on() && !found.is_empty() {
                return best(found);
            }
            let all: Vec<Held> = slabs.iter().map(|slab| hold(slab, meter)).collect();
            if all.iter().all(|part| part.most > 0) {
                found.push(Found::new(slabs, &all, u32::MAX, 0));
            }
        }
    }
    best(found)
}

/// So many slabs of a thickness cut off one after the other; the last is what is left.
fn cut_off(boxing: Boxing, berth: &Berth, axis: usize, (parts, thick): (i64, i64)) -> Option<Vec<Berth>> {
    let apart = boxing.rule.apart.nm().max(0);
    let start = berth.lo[axis] + berth.margin[faces(axis).0];
    let mut rest = berth.clone();
    let mut all = Vec::new();
    for part in 1..parts {
        let at = start + part * thick + (part - 1) * apart;
        let [slab, behind] = rest.split(axis, at, boxing.rule)?;
        all.push(slab);
        rest = behind;
    }
    all.push(rest);
    Some(all)
}

/// No more than are worth a look, spread evenly.
fn sampled(thick: Vec<i64>) -> Vec<i64> {
    let step = thick.len().div_ceil(MOST_THICK).max(1);
    thick.into_iter().step_by(step).collect()
}

/// Places for a cut across an axis: faces of what is in the way, even shares, and just behind or before a box as thick as
/// rows of modules make it.
fn cuts(boxing: Boxing, berth: &Berth, axis: usize) -> Vec<i64> {
    let (low, high) = faces(axis);
    let (start, end) = (berth.lo[axis] + berth.margin[low], berth.hi[axis] - berth.margin[high]);
    let apart = boxing.rule.apart.nm().max(0);
    let thick = sampled(thicknesses(boxing, axis, end - start));
    let beside = |thick: &i64| [start + thick, end - thick - apart];
    let mut cuts = berth.cuts(axis);
    cuts.extend(thick.iter().flat_map(beside).filter(|&at| start < at && at < end));
    cuts.sort_unstable();
    cuts.dedup();
    cuts
}

/// How thick boxes with rows of modules are along an axis, rims included, thinnest first.
fn thicknesses(boxing: Boxing, axis: usize, most: i64) -> Vec<i64> {
    let out = boxing.rule.rims.iter().map(|rim| rim.out.nm()).fold(0, i64::max);
    let reach = if axis == 2 { 0 } else { 2 * out };
    let single = |shape: &Shape| {
        let put = [Put {
            shape: *shape,
            at: [0; 3],
        }];
        let thick = |bay| boxing.wrapped(&put, bay).1[axis] + reach;
        boxing.bays().into_iter().map(thick).collect::<Vec<_>>()
    };
    let mut singles: Vec<i64> = boxing.shapes.iter().flat_map(single).collect();
    singles.sort_unstable();
    singles.dedup();
    let mut rows: Vec<i64> = boxing
        .shapes
        .iter()
        .map(|shape| pitch(shape, boxing.gap())[axis])
        .collect();
    rows.sort_unstable();
    rows.dedup();
    sums(&singles, &rows, most, MOST_SUMS)
}
