//! How a cavity is divided into berths, one for each box.

use super::berth::Berth;
use super::boxing::Boxing;
use super::meter::Meter;
use super::shape::{V3, faces};

/// Divisions kept for one number of boxes.
const MOST_DIVISIONS: usize = 3;
/// Cuts tried along one axis.
const MOST_CUTS: usize = 14;

/// What a berth would hold: modules and whole strings.
pub(super) type Held = (u32, u32);

/// The best divisions of berths into one more, by modules (up to `enough`), then whole strings, then evenness.
///
/// `bodies` are sizes of boxes worth making room for.
pub(super) fn divisions(
    boxing: Boxing,
    from: &[Vec<Berth>],
    enough: u32,
    bodies: &[V3],
    hold: &mut impl FnMut(&Berth, &mut Meter) -> Held,
    meter: &mut Meter,
) -> Vec<Vec<Berth>> {
    let mut found: Vec<((u32, u32, u32), Vec<Berth>)> = Vec::new();
    for berths in from {
        let before: Vec<Held> = berths.iter().map(|berth| hold(berth, meter)).collect();
        for (index, berth) in berths.iter().enumerate() {
            for axis in 0..3 {
                for at in cuts(boxing, berth, axis, bodies) {
                    if meter.stopped() || (!meter.goes_on() && !found.is_empty()) {
                        return best(found);
                    }
                    let Some(halves) = berth.split(axis, at, boxing.rule) else {
                        continue;
                    };
                    let new = halves.each_ref().map(|half| hold(half, meter));
                    if new.iter().any(|&(most, _)| most == 0) {
                        continue;
                    }
                    let others = (0..berths.len()).filter(|&i| i != index).map(|i| before[i]);
                    let all: Vec<Held> = others.chain(new).collect();
                    let room: u32 = all.iter().map(|&(most, _)| most).fold(0, u32::saturating_add);
                    let whole: u32 = all.iter().map(|&(_, whole)| whole).fold(0, u32::saturating_add);
                    let least = all.iter().map(|&(most, _)| most).min().unwrap_or(0);
                    let mut divided: Vec<Berth> = berths.clone();
                    divided.splice(index..=index, halves);
                    found.push(((room.min(enough), whole, least), divided));
                }
            }
        }
    }
    best(found)
}

fn best(mut found: Vec<((u32, u32, u32), Vec<Berth>)>) -> Vec<Vec<Berth>> {
    found.sort_by_key(|(held, _)| std::cmp::Reverse(*held));
    found.truncate(MOST_DIVISIONS);
    found.into_iter().map(|(_, berths)| berths).collect()
}

/// A cavity cut into `parts` slabs of the same thickness across each axis.
pub(super) fn slabs(boxing: Boxing, berth: &Berth, parts: i64) -> Vec<Vec<Berth>> {
    let apart = boxing.rule.apart.nm().max(0);
    let slabs = |axis: usize| {
        let thick = (berth.free(axis) - (parts - 1) * apart) / parts;
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
        (thick > 0).then_some(all)
    };
    (0..3).filter_map(slabs).collect()
}

/// Places for a cut across an axis: faces of what is in the way, even shares, and just behind or before a box.
fn cuts(boxing: Boxing, berth: &Berth, axis: usize, bodies: &[V3]) -> Vec<i64> {
    let out = boxing.rule.rims.iter().map(|rim| rim.out.nm()).fold(0, i64::max);
    let (low, high) = faces(axis);
    let (start, end) = (berth.lo[axis] + berth.margin[low], berth.hi[axis] - berth.margin[high]);
    let reach = if axis == 2 { 0 } else { 2 * out };
    let apart = boxing.rule.apart.nm().max(0);
    let mut thick: Vec<i64> = bodies.iter().map(|body| body[axis] + reach).collect();
    thick.sort_unstable();
    thick.dedup();
    let mut cuts = berth.cuts(axis);
    let room = MOST_CUTS.saturating_sub(cuts.len()).max(4) / 2;
    let step = (thick.len() / room.max(1)).max(1);
    let behind_or_before = thick
        .iter()
        .step_by(step)
        .flat_map(|thick| [start + thick, end - thick - apart]);
    cuts.extend(behind_or_before.filter(|&at| start < at && at < end));
    cuts.sort_unstable();
    cuts.dedup();
    cuts
}
