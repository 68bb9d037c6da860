//! A hollow with everything that is searched in it: its parts, worked on side by side.

use super::folded::{Folded, Laid};
use super::meter::{Dice, Meter};
use super::part::{Part, with_copies};
use super::raster::{Places, parts, spots};
use super::shape::V3;

/// The most spots searched over.
const MOST_SPOTS: usize = 12_000;

/// The search in one hollow.
pub(super) struct Hollow {
    places: Places,
    parts: Vec<Part>,
}

impl Hollow {
    /// `None` when there are no places, or too many to search.
    pub(super) fn new(folded: &Folded, caps: &[u32], dice: &mut Dice) -> Option<Self> {
        let places = Places::new(folded, MOST_SPOTS)?;
        let all = spots(folded, &places, MOST_SPOTS)?;
        if all.is_empty() {
            return None;
        }
        let parts = if coupled(folded, caps) {
            vec![(all, vec![[0; 3]])]
        } else {
            with_copies(parts(all))
        };
        let parts = parts
            .into_iter()
            .map(|(spots, copies)| Part::new(spots, copies, caps, dice.next()))
            .collect();
        Some(Self { places, parts })
    }

    pub(super) fn count(&self) -> u32 {
        self.sum(Part::count)
    }

    pub(super) fn bound(&self) -> u32 {
        self.sum(Part::bound)
    }

    fn sum(&self, of: impl Fn(&Part) -> u32) -> u32 {
        let each = self.parts.iter().map(|part| of(part).saturating_mul(u32::try_from(part.copies.len()).unwrap_or(u32::MAX)));
        each.fold(0, u32::saturating_add)
    }

    pub(super) fn best(&self) -> Vec<Laid> {
        let mut laid = Vec::new();
        for part in &self.parts {
            for by in &part.copies {
                laid.extend(part.best().iter().map(|&spot| {
                    let one = part.raster.spots[spot].laid;
                    let at: V3 = std::array::from_fn(|k| one.at[k] + by[k]);
                    Laid { at, ..one }
                }));
            }
        }
        laid
    }

    pub(super) fn offer(&mut self, folded: &Folded, laid: &[Laid]) {
        let snapped = self.places.snap(folded, laid);
        for part in &mut self.parts {
            let spots: Vec<usize> = snapped.iter().filter_map(|l| part.raster.find(l)).collect();
            part.offer(&spots);
        }
    }

    pub(super) fn search(&mut self, target: u32, meter: &mut Meter) {
        let mut slice = 400;
        while self.count() < target && self.count() < self.bound() && meter.goes_on() {
            let mut spent = 0;
            for part in &mut self.parts {
                for task in part.tasks() {
                    spent += task.work(slice);
                }
            }
            self.parts.iter_mut().for_each(Part::take_stock);
            meter.tell_count(self.count());
            meter.spend(spent.max(1));
            slice = (slice * 2).min(10_000);
        }
    }
}

/// Whether what one part takes leaves less for another: several kinds, of which one may run out.
fn coupled(folded: &Folded, caps: &[u32]) -> bool {
    let kinds = folded.kinds();
    kinds.len() > 1 && kinds.iter().any(|&kind| caps[kind] < u32::MAX)
}
