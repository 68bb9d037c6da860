//! What goes into one box, and the box round it.

use std::collections::BTreeMap;

use super::berth::{Berth, largest_bodies};
use super::fill::{Effort, Wish, fill};
use super::meter::{Dice, Meter};
use super::place::{Standing, best_place, goes_in};
use super::shape::{Hall, Put, Shape, V3, modules, trim};
use super::{BoxRule, MassLimit, Request};
use crate::{Axis, Face, Size};
use tape::Length;

/// Variants of a box kept.
const MOST_VARIANTS: usize = 3;
/// Bodies filled with more than grids.
const CONSTRUCTED: usize = 4;

/// A box in its place with what is in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Boxed {
    pub(super) cavity: usize,
    /// The low corner of the body, and its size.
    pub(super) at: V3,
    pub(super) body: V3,
    pub(super) bay: Option<Face>,
    /// In the cavity's frame.
    pub(super) puts: Vec<Put>,
    pub(super) spare: i64,
    /// Whether the arrangement leaves places of its grid empty, or is no grid: more steel and no tight strapping.
    pub(super) ragged: bool,
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

/// What goes into a box, seen from anywhere.
struct Content {
    puts: Vec<Put>,
    ragged: bool,
}

/// The request, seen from one box.
#[derive(Clone, Copy)]
pub(super) struct Boxing<'a> {
    pub(super) request: &'a Request,
    pub(super) rule: &'a BoxRule,
    pub(super) shapes: &'a [Shape],
}

/// Fillings of the largest bodies of a berth, best first.
pub(super) struct Loads {
    fillings: Vec<Vec<Put>>,
}

impl Loads {
    /// The most modules in one filling.
    pub(super) fn most(&self) -> u32 {
        self.fillings.first().map_or(0, |puts| modules(puts))
    }

    /// What the fullest filling holds of each kind.
    pub(super) fn by_kind(&self, kinds: usize) -> Vec<u32> {
        let mut counts = vec![0; kinds];
        for put in self.fillings.first().into_iter().flatten() {
            counts[put.shape.kind] += put.shape.count;
        }
        counts
    }
}

impl Boxing<'_> {
    /// The sides that the bay may be on, the asked one first; one `None` without a bay.
    fn bays(&self) -> Vec<Option<Face>> {
        let Some((asked, _)) = self.rule.bay else {
            return vec![None];
        };
        let sides = [Face::Front, Face::Rear, Face::Left, Face::Right];
        let others = sides
            .into_iter()
            .filter(|&face| face != asked && asked.axis() != Axis::Z);
        std::iter::once(asked).chain(others).map(Some).collect()
    }

    /// What a box with this bay keeps free inside each face, whatever the modules.
    fn base(&self, bay: Option<Face>) -> [i64; 6] {
        let deep = self.rule.bay.map_or(0, |(_, depth)| depth.nm());
        Face::ALL.map(|face| self.rule.fit[face].nm() + if bay == Some(face) { deep } else { 0 })
    }

    fn hall(&self, lo: V3, hi: V3, bay: Option<Face>) -> Hall {
        let room = self.rule.room.0.map(Length::nm);
        Hall {
            lo,
            hi,
            base: self.base(bay),
            room,
            blocks: Vec::new(),
            gap: self.request.gap.nm().max(0),
        }
    }

    fn shell(&self, face: Face) -> i64 {
        self.rule.shell[face].nm()
    }

    /// Fills the largest bodies of the berth.
    pub(super) fn loads(
        &self,
        berth: &Berth,
        caps: &[u32],
        effort: Effort,
        dice: &mut Dice,
        meter: &mut Meter,
    ) -> Loads {
        let caps = self.light_caps(caps);
        let target = caps.iter().copied().fold(0, u32::saturating_add);
        let wish = |effort| Wish {
            shapes: self.shapes,
            caps: &caps,
            target,
            effort,
        };
        let mut halls = Vec::new();
        for (lo, hi) in largest_bodies(berth, self.rule) {
            let inner_lo: V3 = std::array::from_fn(|k| lo[k] + self.shell(Face::low(Axis::ALL[k])));
            let inner_hi: V3 = std::array::from_fn(|k| hi[k] - self.shell(Face::high(Axis::ALL[k])));
            for bay in self.bays() {
                let hall = self.hall(inner_lo, inner_hi, bay);
                let found = fill(&hall, wish(Effort::Quick), dice, meter).found;
                halls.push((modules(&found[0]), hall, found));
            }
        }
        halls.sort_by_key(|(count, ..)| std::cmp::Reverse(*count));
        let mut fillings: Vec<Vec<Put>> = Vec::new();
        for (i, (_, hall, found)) in halls.into_iter().enumerate() {
            if effort != Effort::Quick && i < CONSTRUCTED && fillings.first().is_none_or(|best| modules(best) < target)
            {
                let share = meter.left() / 16;
                fillings.extend(meter.stage(share, |meter| fill(&hall, wish(effort), dice, meter).found));
            }
            fillings.extend(found);
        }
        fillings.retain(|puts| !puts.is_empty());
        fillings.sort_by_key(|puts| std::cmp::Reverse(modules(puts)));
        Loads { fillings }
    }

    /// The caps that one box's mass limit leaves.
    fn light_caps(&self, caps: &[u32]) -> Vec<u32> {
        let Some(most) = self.rule.most_g else {
            return caps.to_vec();
        };
        let light = |(kind, &cap): (usize, &u32)| {
            let each = self.request.kinds[kind].mass_g;
            if each <= 0 {
                cap
            } else {
                cap.min(u32::try_from(most.limit_g.max(0) / each).unwrap_or(u32::MAX))
            }
        };
        caps.iter().enumerate().map(light).collect()
    }

    /// Boxes that hold exactly `counts` of each kind, best first and each of another size; none when there is none.
    pub(super) fn boxes(&self, berth: &Berth, loads: &Loads, counts: &[u32], meter: &mut Meter) -> Vec<Boxed> {
        let mut variants: Vec<(Boxed, i64, usize)> = Vec::new();
        let mut places: BTreeMap<V3, Option<Standing>> = BTreeMap::new();
        let mut solids = usize::MAX;
        for (liking, Content { puts, ragged }) in self.contents(berth, loads, counts).into_iter().enumerate() {
            // Few large stacks before many small ones, whatever they spare.
            if !variants.is_empty() && puts.len() > solids {
                break;
            }
            for bay in self.bays() {
                let (lo, body) = self.wrapped(&puts, bay);
                if self.refused(&puts, body) {
                    continue;
                }
                let standing = *places
                    .entry(body)
                    .or_insert_with(|| best_place(berth, body, &self.rule.rims, meter));
                let Some(Standing { at, spare }) = standing else {
                    continue;
                };
                solids = puts.len();
                let here = Boxed {
                    cavity: berth.cavity,
                    at: lo,
                    body,
                    bay,
                    puts: puts.clone(),
                    spare,
                    ragged,
                }
                .moved_to(at);
                let height = height(&here);
                variants.push((here, height, liking));
            }
        }
        variants.sort_by_key(|(here, height, liking)| (here.ragged, std::cmp::Reverse(here.spare), *height, *liking));
        let mut kept: Vec<Boxed> = Vec::new();
        for (here, ..) in variants {
            if kept.len() < MOST_VARIANTS && !kept.iter().any(|other| other.body == here.body) {
                kept.push(here);
            }
        }
        kept
    }

    /// Whether some box holds exactly `counts`.
    pub(super) fn any_box(&self, berth: &Berth, loads: &Loads, counts: &[u32], meter: &mut Meter) -> bool {
        self.contents(berth, loads, counts).iter().any(|Content { puts, .. }| {
            self.bays().into_iter().any(|bay| {
                let (_, body) = self.wrapped(puts, bay);
                !self.refused(puts, body) && goes_in(berth, body, &self.rule.rims, meter)
            })
        })
    }

    /// Arrangements of exactly `counts`, fewest solids first.
    fn contents(&self, berth: &Berth, loads: &Loads, counts: &[u32]) -> Vec<Content> {
        let total: u32 = counts.iter().sum();
        let mut all: Vec<Content> = Vec::new();
        let kinds: Vec<usize> = (0..counts.len()).filter(|&kind| counts[kind] > 0).collect();
        if let [kind] = kinds[..] {
            let most: V3 = std::array::from_fn(|k| berth.hi[k] - berth.lo[k]);
            self.grids(kind, total, most, &mut all);
        }
        let mut trimmed = 0;
        for filling in &loads.fillings {
            let mut puts = filling.clone();
            trim(&mut puts, counts, self.shapes);
            if modules(&puts) == total && trimmed < 8 {
                trimmed += 1;
                all.push(Content { puts, ragged: true });
            }
        }
        all.sort_by_key(|content| (content.puts.len(), content.ragged));
        all
    }

    /// Grids of one shape, or of stacks as even as can be.
    fn grids(&self, kind: usize, total: u32, most: V3, all: &mut Vec<Content>) {
        let stack = self.request.kinds[kind].stack;
        let (fewest, largest) = stack.map_or((total, total), |s| (total.div_ceil(s.max), total / s.min));
        for solids in fewest..=largest.min(fewest + 6) {
            let (each, more) = (total / solids.max(1), total % solids.max(1));
            let size = if more > 0 { each + 1 } else { each };
            let size = if stack.is_some() { size } else { 1 };
            for shape in self.shapes.iter().filter(|s| s.kind == kind && s.count == size) {
                let smaller = self.shapes.iter().find(|s| {
                    s.kind == kind && s.orientation == shape.orientation && stack.is_some() && s.count == each
                });
                let larger = if stack.is_some() && more > 0 { more } else { solids };
                let shapes = (0..solids).map(|i| if i < larger { Some(*shape) } else { smaller.copied() });
                let Some(shapes) = shapes.collect::<Option<Vec<Shape>>>() else {
                    continue;
                };
                self.grids_of(shape, &shapes, most, all);
            }
        }
    }

    /// Every grid of cells for `cell` that holds the shapes and has no empty layer.
    fn grids_of(&self, cell: &Shape, shapes: &[Shape], most: V3, all: &mut Vec<Content>) {
        let pitch: V3 = std::array::from_fn(|k| {
            let (low, high) = super::shape::faces(k);
            cell.extent[k]
                + self
                    .request
                    .gap
                    .nm()
                    .max(0)
                    .max(cell.service[low])
                    .max(cell.service[high])
        });
        let n = i64::try_from(shapes.len()).unwrap_or(i64::MAX);
        let fits = |count: i64, k: usize| cell.extent[k] + (count - 1) * pitch[k] <= most[k];
        for high in (1..=n).take_while(|&count| fits(count, 2)) {
            for wide in (1..=n).take_while(|&count| fits(count, 1)) {
                let long = (n + high * wide - 1) / (high * wide);
                if !fits(long, 0) || long * wide * (high - 1) >= n || long * (wide - 1) * high >= n {
                    continue;
                }
                let places = (0..high).flat_map(|z| (0..long).flat_map(move |x| (0..wide).map(move |y| [x, y, z])));
                let puts = shapes.iter().zip(places).map(|(&shape, at)| Put {
                    shape,
                    at: std::array::from_fn(|k| at[k] * pitch[k]),
                });
                all.push(Content {
                    puts: puts.collect(),
                    ragged: high * wide * long > n,
                });
            }
        }
    }

    /// The low corner and the size of the body round an arrangement.
    fn wrapped(&self, puts: &[Put], bay: Option<Face>) -> (V3, V3) {
        let hall = self.hall([0; 3], [0; 3], bay);
        let lo: V3 = std::array::from_fn(|k| {
            let face = Face::low(Axis::ALL[k]);
            let inside = puts
                .iter()
                .map(|put| put.at[k] - hall.to_wall(&put.shape, face))
                .min()
                .unwrap_or(0);
            inside - self.shell(face)
        });
        let hi: V3 = std::array::from_fn(|k| {
            let face = Face::high(Axis::ALL[k]);
            let reach = |put: &Put| put.at[k] + put.shape.extent[k] + hall.to_wall(&put.shape, face);
            puts.iter().map(reach).max().unwrap_or(0) + self.shell(face)
        });
        (lo, std::array::from_fn(|k| hi[k] - lo[k]))
    }

    /// Whether a body round this is lower than its lid needs, or heavier than a box may be.
    fn refused(&self, puts: &[Put], body: V3) -> bool {
        let inside: V3 = std::array::from_fn(|k| {
            let axis = Axis::ALL[k];
            body[k] - self.shell(Face::low(axis)) - self.shell(Face::high(axis))
        });
        let empty_g = |most: MassLimit| most.empty.grams(Size(inside.map(Length::from_nm)));
        let heavy = |most: MassLimit| empty_g(most) + self.mass(puts) > most.limit_g;
        body[2] < self.rule.least_height.nm() || self.rule.most_g.is_some_and(heavy)
    }

    fn mass(&self, puts: &[Put]) -> i64 {
        puts.iter()
            .map(|put| self.request.kinds[put.shape.kind].mass_g * i64::from(put.shape.count))
            .sum()
    }
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
