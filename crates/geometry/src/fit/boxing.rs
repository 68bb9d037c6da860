//! The box round what goes into it, and the fullest boxes of a berth.

use super::berth::{Berth, largest_bodies};
use super::contents::Content;
use super::fill::{Effort, Wish, fill};
use super::meter::{Dice, Meter};
use super::shape::{Hall, Put, Shape, V3, as_blocks, modules, point};
use super::{BoxPlace, BoxRule, MassLimit, Request};
use crate::{Axis, Cuboid, Face, Faces, Size};
use tape::Length;

/// Bodies filled with more than grids.
const CONSTRUCTED: usize = 4;
/// Bodies filled with grids where a quick answer is asked for.
const QUICK: usize = 8;
/// Steps that filling one hollow with grids counts for.
const GRIDS: u64 = 20;

/// The request, seen from one box.
#[derive(Clone, Copy)]
pub(super) struct Boxing<'a> {
    pub(super) request: &'a Request,
    pub(super) rule: &'a BoxRule,
    pub(super) shapes: &'a [Shape],
}

/// Fillings of the largest bodies of a berth, best first; what is pinned is not among them.
pub(super) struct Loads {
    pub(super) fillings: Vec<Vec<Put>>,
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
    pub(super) fn gap(&self) -> i64 {
        self.request.gap.nm().max(0)
    }

    /// The sides that the bay may be on, the asked one first; one `None` without a bay.
    pub(super) fn bays(&self) -> Vec<Option<Face>> {
        let Some((asked, _)) = self.rule.bay else {
            return vec![None];
        };
        let sides = [Face::Front, Face::Rear, Face::Left, Face::Right];
        let others = sides
            .into_iter()
            .filter(|&face| face != asked && asked.axis() != Axis::Z);
        std::iter::once(asked).chain(others).map(Some).collect()
    }

    /// The berths that a cavity starts with; where several boxes have something pinned, several ways to part them.
    pub(super) fn berths(&self, cavity: usize) -> Vec<Vec<Berth>> {
        let bodies = |puts: &[Put]| self.bays().into_iter().map(|bay| self.wrapped(puts, bay)).collect();
        let parted = |quarters| Berth::first(self.request, self.rule, cavity, quarters, &bodies);
        let mut all = vec![parted(2)];
        if all[0].len() > 1 {
            all.extend([0, 4, 1, 3].map(parted));
        }
        all
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
            gap: self.gap(),
            one_tier: self.rule.one_tier,
        }
    }

    fn shell(&self, face: Face) -> i64 {
        self.rule.shell[face].nm()
    }

    /// Fills the largest bodies of the berth with no more than `caps`, beside what is pinned there.
    pub(super) fn loads(
        &self,
        berth: &Berth,
        caps: &[u32],
        effort: Effort,
        dice: &mut Dice,
        meter: &mut Meter,
    ) -> Loads {
        let pinned = berth.pinned.as_ref().map_or(&[][..], |pinned| &pinned.puts);
        let caps = self.light_caps(caps, pinned);
        let target = caps.iter().copied().fold(0, u32::saturating_add);
        let wish = |effort| Wish {
            shapes: self.shapes,
            caps: &caps,
            target,
            effort,
        };
        let mut halls = Vec::new();
        let bodies = largest_bodies(berth, self.rule);
        let most = if effort == Effort::Quick { QUICK } else { bodies.len() };
        for (lo, hi) in bodies.into_iter().take(most) {
            let inner_lo: V3 = std::array::from_fn(|k| lo[k] + self.shell(Face::low(Axis::ALL[k])));
            let inner_hi: V3 = std::array::from_fn(|k| hi[k] - self.shell(Face::high(Axis::ALL[k])));
            let mut seen = Vec::new();
            for bay in self.bays() {
                // With nothing in the way, a bay at the front leaves as much as one at the rear.
                let along = bay.map(Face::axis);
                if pinned.is_empty() && along.is_some() && seen.contains(&along) {
                    continue;
                }
                seen.push(along);
                if !meter.spend(GRIDS) && !halls.is_empty() {
                    break;
                }
                if !pinned.is_empty() {
                    let (at, body) = self.wrapped(pinned, bay);
                    if (0..3).any(|k| at[k] < lo[k] || at[k] + body[k] > hi[k]) {
                        continue;
                    }
                }
                let hall = Hall {
                    blocks: as_blocks(pinned, self.request.gap),
                    ..self.hall(inner_lo, inner_hi, bay)
                };
                let found = fill(&hall, wish(Effort::Quick), dice, meter).found;
                let most = found.first().map_or(0, |puts| modules(puts));
                halls.push((most, hall, found));
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

    /// Modules that one box may hold by its mass limit, its own mass left out.
    pub(super) fn light(&self, caps: &[u32]) -> u32 {
        self.light_caps(caps, &[]).into_iter().fold(0, u32::saturating_add)
    }

    /// The caps that one box's mass limit leaves beside what is pinned in it.
    fn light_caps(&self, caps: &[u32], pinned: &[Put]) -> Vec<u32> {
        let Some(most) = self.rule.most_g else {
            return caps.to_vec();
        };
        let left = (most.limit_g - self.mass(pinned)).max(0);
        let light = |(kind, &cap): (usize, &u32)| {
            let each = self.request.kinds[kind].mass_g;
            if each <= 0 {
                cap
            } else {
                cap.min(u32::try_from(left / each).unwrap_or(u32::MAX))
            }
        };
        caps.iter().enumerate().map(light).collect()
    }

    /// The low corner and the size of the body round an arrangement.
    pub(super) fn wrapped(&self, puts: &[Put], bay: Option<Face>) -> (V3, V3) {
        let hall = self.hall([0; 3], [0; 3], bay);
        let lo: V3 = std::array::from_fn(|k| {
            let face = Face::low(Axis::ALL[k]);
            let reach = |put: &Put| put.at[k] - hall.to_wall(&put.shape, face);
            puts.iter().map(reach).min().unwrap_or(0) - self.shell(face)
        });
        let hi: V3 = std::array::from_fn(|k| {
            let face = Face::high(Axis::ALL[k]);
            let reach = |put: &Put| put.at[k] + put.shape.extent[k] + hall.to_wall(&put.shape, face);
            puts.iter().map(reach).max().unwrap_or(0) + self.shell(face)
        });
        (lo, std::array::from_fn(|k| hi[k] - lo[k]))
    }

    /// The low corner and the size of the body round a content; of an even grid without looking at each place.
    pub(super) fn body_of(&self, content: &Content, bay: Option<Face>) -> (V3, V3) {
        match content {
            Content::Grid(grid) if grid.is_even() => {
                let whole = Shape {
                    extent: grid.extent(),
                    ..grid.cell
                };
                self.wrapped(
                    &[Put {
                        shape: whole,
                        at: [0; 3],
                    }],
                    bay,
                )
            }
            Content::Grid(_) => self.wrapped(&content.puts(), bay),
            Content::Puts(puts) => self.wrapped(puts, bay),
        }
    }

    /// A body with the space inside its liner.
    pub(super) fn box_place(&self, cavity: usize, at: V3, body: V3, bay: Option<Face>) -> BoxPlace {
        let body = Cuboid::at(point(at), Size(body.map(Length::from_nm)));
        let inward = Faces(self.rule.shell.0.map(|thick| -thick));
        BoxPlace {
            cavity,
            body,
            inside: body.grown(inward).unwrap_or(body),
            bay,
        }
    }

    /// Whether a body round modules of this mass is lower than its lid needs, or heavier than a box may be.
    pub(super) fn refused(&self, modules_g: i64, body: V3) -> bool {
        let inside: V3 = std::array::from_fn(|k| {
            let axis = Axis::ALL[k];
            body[k] - self.shell(Face::low(axis)) - self.shell(Face::high(axis))
        });
        let empty_g = |most: MassLimit| most.empty.grams(Size(inside.map(Length::from_nm)));
        let heavy = |most: MassLimit| empty_g(most) + modules_g > most.limit_g;
        body[2] < self.rule.least_height.nm() || self.rule.most_g.is_some_and(heavy)
    }

    /// Mass of so many of each kind in grams.
    pub(super) fn mass_of(&self, counts: &[u32]) -> i64 {
        let kinds = self.request.kinds.iter().zip(counts);
        kinds.map(|(kind, &count)| kind.mass_g * i64::from(count)).sum()
    }

    fn mass(&self, puts: &[Put]) -> i64 {
        let each = |put: &Put| self.request.kinds[put.shape.kind].mass_g * i64::from(put.shape.count);
        puts.iter().map(each).sum()
    }
}
