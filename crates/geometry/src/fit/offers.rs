//! Boxes on offer for so many modules in one berth, each in its best place.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::berth::{Berth, solids};
use super::boxing::{Boxing, Loads};
use super::contents::{Content, anchored, grids};
use super::meter::Meter;
use super::place::{Standing, best_place, goes_in, spare_at};
use super::rank::{Arrangement, laid_long};
use super::shape::{Put, V3, modules, trim};
use crate::Face;

/// Boxes kept, each of another arrangement.
const MOST_OFFERS: usize = 6;
/// Fillings cut down to the number asked for.
const MOST_TRIMMED: usize = 8;
/// Places worked out for one number of modules in one berth, at most.
const MOST_PLACED: usize = 400;
/// Grids may be this much larger than asked for, where what is pinned leaves places of them out.
const MORE_ANCHORED: u32 = 4;

/// A box in its place with what is in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Boxed {
    pub(super) cavity: usize,
    /// The number of the box, when something in it is pinned.
    pub(super) number: Option<usize>,
    /// The low corner of the body, and its size.
    pub(super) at: V3,
    pub(super) body: V3,
    pub(super) bay: Option<Face>,
    /// In the cavity's frame; the pinned ones first.
    pub(super) puts: Vec<Put>,
    pub(super) spare: i64,
}

impl Boxed {
    /// The box and all in it moved to stand at `at`.
    pub(super) fn moved_to(&self, at: V3) -> Self {
        let by: V3 = std::array::from_fn(|k| at[k] - self.at[k]);
        Self {
            at,
            puts: self.puts.iter().map(|put| put.moved(by)).collect(),
            ..self.clone()
        }
    }
}

/// A body that could be made, not yet in a place.
#[derive(Clone, Copy, Debug)]
struct Body {
    content: usize,
    bay: Option<Face>,
    /// The low corner, with the content where it was told.
    lo: V3,
    size: V3,
    /// No place spares more than this.
    at_most: i64,
    solids: usize,
    ragged: bool,
}

/// Everything that could hold so many modules in one berth.
pub(super) struct Offers {
    contents: Vec<Content>,
    bodies: Vec<Body>,
    /// The best boxes, each of another arrangement, best first.
    pub(super) best: Vec<Boxed>,
}

/// Places known of bodies in one berth.
pub(super) type Places = BTreeMap<V3, Option<Standing>>;

impl Offers {
    /// Boxes that hold exactly `counts` of each kind.
    pub(super) fn new(
        boxing: Boxing,
        berth: &Berth,
        loads: &Loads,
        counts: &[u32],
        places: &mut Places,
        meter: &mut Meter,
    ) -> Self {
        let contents = contents(boxing, berth, loads, counts);
        let bodies = bodies(boxing, berth, &contents, counts);
        let mut offers = Self {
            contents,
            bodies,
            best: Vec::new(),
        };
        offers.place(boxing, berth, places, meter);
        offers
    }

    /// Places the most promising bodies until no other could be better than those kept.
    fn place(&mut self, boxing: Boxing, berth: &Berth, places: &mut Places, meter: &mut Meter) {
        type Key = (usize, bool, Reverse<i64>, i64, i128);
        let mut kept: Vec<(Key, Arrangement, Boxed)> = Vec::new();
        for (placed, body) in self.bodies.iter().enumerate() {
            let hope = (body.solids, body.ragged, Reverse(body.at_most));
            if kept.len() == MOST_OFFERS && kept.last().is_some_and(|(key, ..)| hope > (key.0, key.1, key.2)) {
                break;
            }
            if !kept.is_empty() && (placed >= MOST_PLACED || !meter.goes_on()) || meter.stopped() {
                break;
            }
            let Some(standing) = standing(boxing, berth, body.lo, body.size, places, meter) else {
                continue;
            };
            let here = self.boxed(berth, body, standing);
            let volume = here.body.iter().map(|&side| i128::from(side)).product();
            let key = (body.solids, body.ragged, Reverse(here.spare), height(&here), volume);
            let arrangement = self.contents[body.content].arrangement();
            if let Some(same) = kept.iter().position(|(_, other, _)| *other == arrangement) {
                if kept[same].0 <= key {
                    continue;
                }
                kept.remove(same);
            }
            let at = kept.partition_point(|(other, ..)| *other <= key);
            kept.insert(at, (key, arrangement, here));
            kept.truncate(MOST_OFFERS);
        }
        self.best = kept.into_iter().map(|(.., here)| here).collect();
    }

    fn boxed(&self, berth: &Berth, body: &Body, standing: Standing) -> Boxed {
        Boxed {
            cavity: berth.cavity,
            number: berth.pinned.as_ref().map(|pinned| pinned.number),
            at: body.lo,
            body: body.size,
            bay: body.bay,
            puts: self.contents[body.content].puts(),
            spare: standing.spare,
        }
        .moved_to(standing.at)
    }

    /// The outside sizes that could be made, longer side first, with the most that one of that size could spare.
    pub(super) fn sizes(&self) -> BTreeMap<V3, i64> {
        let mut sizes = BTreeMap::new();
        for body in &self.bodies {
            let most = sizes.entry(laid_long(body.size)).or_insert(body.at_most);
            *most = body.at_most.max(*most);
        }
        sizes
    }

    /// The best box of an outside size, turned or not.
    pub(super) fn of_size(
        &self,
        boxing: Boxing,
        berth: &Berth,
        size: V3,
        places: &mut Places,
        meter: &mut Meter,
    ) -> Option<Boxed> {
        let fewest = self.bodies.first()?.solids;
        let alike = |body: &&Body| laid_long(body.size) == size && body.solids == fewest;
        let boxes = self.bodies.iter().filter(alike).take(8).filter_map(|body| {
            let standing = standing(boxing, berth, body.lo, body.size, places, meter)?;
            Some(self.boxed(berth, body, standing))
        });
        boxes.min_by_key(|here| (Reverse(here.spare), height(here)))
    }
}

/// Whether some box holds exactly `counts`.
pub(super) fn any_box(boxing: Boxing, berth: &Berth, loads: &Loads, counts: &[u32], meter: &mut Meter) -> bool {
    let contents = contents(boxing, berth, loads, counts);
    let rims = &boxing.rule.rims;
    meter.spend(1 + u64::try_from(contents.len() / 16).unwrap_or(0));
    bodies(boxing, berth, &contents, counts)
        .iter()
        .any(|body| match berth.pinned {
            Some(_) => spare_at(berth, body.lo, body.size, rims).is_some(),
            None => goes_in(berth, body.size, rims, meter),
        })
}

fn standing(
    boxing: Boxing,
    berth: &Berth,
    lo: V3,
    size: V3,
    places: &mut Places,
    meter: &mut Meter,
) -> Option<Standing> {
    let rims = &boxing.rule.rims;
    if berth.pinned.is_some() {
        meter.spend(1);
        return spare_at(berth, lo, size, rims).map(|spare| Standing { at: lo, spare });
    }
    *places
        .entry(size)
        .or_insert_with(|| best_place(berth, size, rims, meter))
}

/// What could go into the box: grids, fillings cut down, and what is pinned with more round it.
fn contents(boxing: Boxing, berth: &Berth, loads: &Loads, counts: &[u32]) -> Vec<Content> {
    let total: u32 = counts.iter().sum();
    let pinned = berth.pinned.as_ref().map_or(&[][..], |pinned| &pinned.puts);
    let of_kind = |kind: usize| -> u32 {
        let mine = pinned.iter().filter(|put| put.shape.kind == kind);
        mine.map(|put| put.shape.count).sum()
    };
    let open: Option<Vec<u32>> = (0..counts.len())
        .map(|kind| counts[kind].checked_sub(of_kind(kind)))
        .collect();
    let Some(open) = open else {
        return Vec::new();
    };
    if modules(pinned) == total {
        return vec![Content::Puts(pinned.to_vec())];
    }
    let mut all = Vec::new();
    let kinds: Vec<usize> = (0..counts.len()).filter(|&kind| counts[kind] > 0).collect();
    if let [kind] = kinds[..] {
        let most: V3 = std::array::from_fn(|k| berth.hi[k] - berth.lo[k]);
        let tiers = if boxing.rule.one_tier { 1 } else { i64::MAX };
        let grids = |total| {
            grids(
                (kind, &boxing.request.kinds[kind]),
                boxing.shapes,
                total,
                (most, tiers),
                boxing.gap(),
            )
        };
        if pinned.is_empty() {
            all.extend(grids(total).into_iter().map(|grid| Content::Grid(Box::new(grid))));
        } else {
            for more in 0..=MORE_ANCHORED {
                let anchored = anchored(pinned, &grids(total + more), total, boxing.gap());
                all.extend(anchored.into_iter().map(Content::Puts));
            }
        }
    }
    let mut trimmed = 0;
    for filling in &loads.fillings {
        let mut puts = filling.clone();
        trim(&mut puts, &open, boxing.shapes);
        if modules(&puts) + modules(pinned) == total && trimmed < MOST_TRIMMED {
            trimmed += 1;
            all.push(Content::Puts(pinned.iter().copied().chain(puts).collect()));
        }
    }
    all
}

/// The bodies round the contents that are light and high enough and could go in, most promising first.
fn bodies(boxing: Boxing, berth: &Berth, contents: &[Content], counts: &[u32]) -> Vec<Body> {
    let modules_g = boxing.mass_of(counts);
    let free: V3 = std::array::from_fn(|k| berth.free(k));
    let mut all: Vec<(i128, Body)> = Vec::new();
    for (index, content) in contents.iter().enumerate() {
        let arrangement = content.arrangement();
        for bay in boxing.bays() {
            let (lo, size) = boxing.body_of(content, bay);
            let rims = solids(size, &boxing.rule.rims);
            let over = |k: usize| {
                let low = rims.iter().map(|(lo, _)| lo[k]).min().unwrap_or(0);
                let high = rims.iter().map(|(_, hi)| hi[k]).max().unwrap_or(0);
                high - low
            };
            let at_most = (0..3).map(|k| (free[k] - over(k)).div_euclid(2)).min().unwrap_or(-1);
            if at_most < 0 || boxing.refused(modules_g, size) {
                continue;
            }
            let volume = size.iter().map(|&side| i128::from(side)).product();
            let body = Body {
                content: index,
                bay,
                lo,
                size,
                at_most,
                solids: content.solids(),
                ragged: arrangement.is_ragged(),
            };
            all.push((volume, body));
        }
    }
    all.sort_by_key(|(volume, body)| (body.solids, body.ragged, Reverse(body.at_most), *volume));
    all.into_iter().map(|(_, body)| body).collect()
}

/// Twice the height of the modules' centre, weighed by count.
fn height(here: &Boxed) -> i64 {
    let sum: i128 = here
        .puts
        .iter()
        .map(|put| i128::from(2 * put.at[2] + put.shape.extent[2]) * i128::from(put.shape.count))
        .sum();
    i64::try_from(sum / i128::from(modules(&here.puts).max(1))).unwrap_or(i64::MAX)
}
