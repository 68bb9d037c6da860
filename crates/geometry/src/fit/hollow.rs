//! The search in one hollow: grids first, then its parts, worked on side by side, with blocks now and then.

use std::sync::Arc;

use super::BoundBy;
use super::bounds::{self, Bound};
use super::folded::{Folded, Laid, groups};
use super::meter::{Dice, Meter};
use super::part::{Part, Task, binding, with_copies};
use super::raster::{Places, Raster, parts, spots};
use super::regions::{grids, of_each_kind};
use super::shape::{Hall, Put, Shape, V3, modules, trim};
use super::spaces::Beam;
use super::weights::Weights;

/// The most spots searched over.
const MOST_SPOTS: usize = 24_000;
/// With more spots than this, spaces are filled with blocks besides.
const MANY_SPOTS: usize = 6_000;
/// Fillings kept of one hollow.
const MOST_FOUND: usize = 6;

/// One hollow with all that was found for it.
pub(super) struct Hollow<'a> {
    shapes: &'a [Shape],
    caps: Vec<u32>,
    /// Shapes that are searched together.
    groups: Vec<Group>,
    /// Parts that only give a bound, where service spaces make the searched ones too narrow for that.
    weighed: Option<Searched>,
    found: Vec<Vec<Put>>,
    bound: Bound,
    seed: u64,
    prepared: bool,
}

/// Shapes folded together.
struct Group {
    folded: Folded,
    searched: Option<Searched>,
    /// Where the places are many.
    beam: Option<Beam>,
}

/// The parts of a folded question.
struct Searched {
    places: Arc<Places>,
    parts: Vec<Part>,
}

impl<'a> Hollow<'a> {
    /// The hollow to be searched, with the best grids in it.
    pub(super) fn new(hall: &Hall, shapes: &'a [Shape], caps: &[u32], dice: &mut Dice, meter: &mut Meter) -> Self {
        let mut hollow = Self::with_grids(hall, shapes, caps, dice, meter);
        hollow.bound = bounds::in_hall(hall, shapes, caps);
        if shapes.iter().any(|shape| shape.service != [0; 6]) {
            let eased = bounds::eased(hall, shapes);
            hollow.weighed = Searched::new(&eased, caps, hollow.seed, meter);
        }
        hollow
    }

    /// The hollow with the best grids in it, and no bound.
    pub(super) fn with_grids(
        hall: &Hall,
        shapes: &'a [Shape],
        caps: &[u32],
        dice: &mut Dice,
        meter: &mut Meter,
    ) -> Self {
        let mut hollow = Self {
            shapes,
            caps: caps.to_vec(),
            groups: Vec::new(),
            weighed: None,
            found: vec![Vec::new()],
            bound: Bound {
                count: u32::MAX,
                by: BoundBy::Volume,
            },
            seed: dice.next(),
            prepared: false,
        };
        for group in groups(shapes) {
            let folded = Folded::new(hall, shapes, &group);
            if folded.pieces.is_empty() {
                continue;
            }
            for grid in grids(&folded, meter) {
                hollow.keep(&folded, &grid);
            }
            hollow.groups.push(Group {
                folded,
                searched: None,
                beam: None,
            });
        }
        hollow
    }

    /// Fillings that differ, best first; the first may be empty.
    pub(super) fn into_found(self) -> Vec<Vec<Put>> {
        self.found
    }

    /// Modules in the best filling.
    pub(super) fn count(&self) -> u32 {
        modules(&self.found[0])
    }

    /// No filling holds more.
    pub(super) fn bound(&self) -> Bound {
        self.bound
    }

    fn is_open(&self) -> bool {
        self.count() < self.bound.count
    }

    fn keep(&mut self, folded: &Folded, laid: &[Laid]) {
        let mut puts = folded.unfold(laid, self.shapes);
        trim(&mut puts, &self.caps, self.shapes);
        if puts.is_empty() || self.found.contains(&puts) {
            return;
        }
        // Of as many modules, few large stacks come before many small ones.
        let rank = |puts: &[Put]| (std::cmp::Reverse(modules(puts)), puts.len());
        let at = self.found.partition_point(|other| rank(other) <= rank(&puts));
        self.found.insert(at, puts);
        self.found.truncate(MOST_FOUND);
    }

    /// Finds the places that are searched over.
    fn prepare(&mut self, meter: &mut Meter) {
        if self.prepared {
            return;
        }
        self.prepared = true;
        for at in 0..self.groups.len() {
            let group = &mut self.groups[at];
            group.searched = Searched::new(&group.folded, &self.caps, self.seed.wrapping_add(1), meter);
            let spots = group.searched.as_ref().map_or(usize::MAX, Searched::spots);
            if spots > MANY_SPOTS {
                group.beam = Some(Beam::new(&group.folded, &self.caps));
            }
        }
        self.take_stock();
    }

    /// Fills empty parts, or the hollow cut along its blocks, by recursive blocks.
    pub(super) fn build_blocks(&mut self, steps: u64, last: bool, meter: &mut Meter) {
        for at in 0..self.groups.len() {
            let group = &mut self.groups[at];
            if last && group.searched.is_some() && group.beam.is_none() && group.folded.is_deep() {
                group.beam = Some(Beam::new(&group.folded, &self.caps));
            }
            let Group { folded, searched, .. } = group;
            if let Some(searched) = searched {
                for part in searched.parts.iter_mut().filter(|part| part.is_open()) {
                    meter.stage(steps, |meter| part.build_blocks(meter));
                }
            }
            // Cutting along blocks seldom beats the search over places, so it gets its turn last.
            if searched.is_some() && (folded.blocks.is_empty() || !last) {
                continue;
            }
            let found = meter.stage(steps, |meter| of_each_kind(folded, meter));
            if let Some(searched) = searched {
                for laid in &found {
                    searched.offer(folded, laid);
                }
            }
            let folded = folded.clone();
            for laid in found {
                self.keep(&folded, &laid);
            }
        }
        self.take_stock();
    }

    fn tasks(&mut self) -> Vec<Task<'_>> {
        if !self.is_open() {
            return Vec::new();
        }
        let (mut beams, mut searched) = (Vec::new(), Vec::new());
        for group in &mut self.groups {
            let aside = group
                .searched
                .as_ref()
                .is_some_and(|searched| searched.spots() <= MANY_SPOTS);
            let beam = group.beam.as_mut().filter(|beam| !beam.done());
            beams.extend(beam.map(|beam| Task::Spaces { beam, aside }));
            searched.extend(group.searched.as_mut());
        }
        let searched = searched.into_iter().chain(self.weighed.as_mut());
        let tasks = searched.flat_map(|searched| searched.parts.iter_mut().flat_map(Part::tasks));
        beams.into_iter().chain(tasks).collect()
    }

    /// Takes in what the tasks came to.
    fn take_stock(&mut self) {
        let mut proved = None;
        for at in 0..self.groups.len() {
            let group = &mut self.groups[at];
            if let Some(beam) = group
                .beam
                .as_ref()
                .filter(|beam| beam.count() > modules(&self.found[0]))
            {
                let (folded, best) = (group.folded.clone(), beam.best());
                if let Some(searched) = &mut group.searched {
                    searched.offer(&folded, &best);
                }
                self.keep(&folded, &best);
            }
            let group = &mut self.groups[at];
            let Some(searched) = &mut group.searched else { continue };
            searched.parts.iter_mut().for_each(Part::take_stock);
            proved = Some(searched.bound());
            if searched.sum(Part::count) > modules(&self.found[0]) {
                let (folded, best) = (group.folded.clone(), searched.best());
                self.keep(&folded, &best);
            }
        }
        if let Some(weighed) = &mut self.weighed {
            weighed.parts.iter_mut().for_each(Part::take_stock);
            proved = Some(weighed.bound());
        } else if self.shapes.iter().any(|shape| shape.service != [0; 6]) {
            proved = None;
        }
        if let Some(bound) = proved.filter(|bound| bound.count < self.bound.count) {
            self.bound = bound;
        }
    }
}

impl Searched {
    /// `None` when there are no places, or too many to search.
    fn new(folded: &Folded, caps: &[u32], seed: u64, meter: &mut Meter) -> Option<Self> {
        let places = Arc::new(Places::new(folded, MOST_SPOTS)?);
        let all = spots(folded, &places, MOST_SPOTS)?;
        meter.spend(u64::try_from(all.len() / 8).unwrap_or(0));
        let parts = if coupled(folded, caps) && !all.is_empty() {
            vec![(all, vec![[0; 3]])]
        } else {
            with_copies(parts(all))
        };
        let mut dice = Dice::new(seed);
        let parts = parts
            .into_iter()
            .map(|part| Part::new(folded, Arc::clone(&places), part, caps, dice.next(), meter));
        let parts = parts.collect();
        Some(Self { places, parts })
    }

    fn sum(&self, of: impl Fn(&Part) -> u32) -> u32 {
        let copies = |part: &Part| u32::try_from(part.copies.len()).unwrap_or(u32::MAX);
        let each = self.parts.iter().map(|part| of(part).saturating_mul(copies(part)));
        each.fold(0, u32::saturating_add)
    }

    fn bound(&self) -> Bound {
        let searched = self.parts.iter().any(|part| part.bound_by() == BoundBy::Search);
        Bound {
            count: self.sum(Part::bound),
            by: if searched { BoundBy::Search } else { BoundBy::Weights },
        }
    }

    /// Spots of the largest part.
    fn spots(&self) -> usize {
        self.parts.iter().map(Part::spots).max().unwrap_or(0)
    }

    fn best(&self) -> Vec<Laid> {
        let mut laid = Vec::new();
        for part in &self.parts {
            for by in &part.copies {
                laid.extend(part.best().iter().map(|&one| {
                    let at: V3 = std::array::from_fn(|k| one.at[k] + by[k]);
                    Laid { at, ..one }
                }));
            }
        }
        laid
    }

    fn offer(&mut self, folded: &Folded, laid: &[Laid]) {
        let mut laid = laid.to_vec();
        self.places.snap(folded, [0; 3], &mut laid);
        for part in &mut self.parts {
            part.offer_laid(&laid);
        }
    }
}

/// The bound by weights alone, without looking for a layout; `None` when there are too many places or none was found.
pub(super) fn weigh(folded: &Folded, caps: &[u32], meter: &mut Meter) -> Option<u32> {
    let places = Places::new(folded, MOST_SPOTS)?;
    let all = spots(folded, &places, MOST_SPOTS)?;
    let coupled = coupled(folded, caps) && !all.is_empty();
    let parts = if coupled {
        vec![(all, vec![[0; 3]])]
    } else {
        with_copies(parts(all))
    };
    let mut bound: u32 = 0;
    for (spots, copies) in parts {
        let mut weights = Weights::new(&Raster::of(spots), &binding(caps));
        while !weights.settled() && meter.spend(weights.round()) {}
        let copies = u32::try_from(copies.len()).ok()?;
        bound = bound.saturating_add(weights.bound().saturating_mul(copies));
    }
    Some(bound)
}

/// Whether what one part takes leaves less for another: several kinds, of which one may run out.
fn coupled(folded: &Folded, caps: &[u32]) -> bool {
    let kinds = folded.kinds();
    kinds.len() > 1 && kinds.iter().any(|&kind| caps[kind] < u32::MAX)
}

/// Rounds before blocks are built, each time with more work.
const BLOCKS_AT: [(u32, u64); 3] = [(2, 4_000), (6, 40_000), (20, 200_000)];
/// Work between two looks at the watcher, about: some milliseconds.
const ROUND: u64 = 12_000;

/// Searches in all hollows side by side until `enough` is content with what they hold and with their bounds.
pub(super) fn search(hollows: &mut [Hollow], enough: impl Fn(u32, u32) -> bool, meter: &mut Meter) {
    let mut slice = 400;
    for round in 0.. {
        let (count, bound) = totals(hollows);
        meter.tell_count(count);
        if count >= bound || enough(count, bound) || !meter.goes_on() {
            return;
        }
        for hollow in hollows.iter_mut().filter(|hollow| hollow.is_open()) {
            hollow.prepare(meter);
        }
        let tasks: Vec<Task> = hollows.iter_mut().flat_map(Hollow::tasks).collect();
        let number = u64::try_from(tasks.len()).unwrap_or(1).max(1);
        let idle = tasks.is_empty();
        let spent = run(tasks, slice.min(ROUND / number).max(50));
        hollows
            .iter_mut()
            .filter(|hollow| hollow.is_open())
            .for_each(Hollow::take_stock);
        meter.spend(spent.max(1));
        slice = (slice * 2).min(ROUND);
        let due = BLOCKS_AT.iter().find(|(at, _)| *at == round);
        if let Some(&(_, steps)) = due {
            for hollow in hollows.iter_mut().filter(|hollow| hollow.is_open()) {
                hollow.build_blocks(steps.min(meter.left() / 4), steps == BLOCKS_AT[2].1, meter);
            }
        } else if idle && round > 20 {
            return;
        }
    }
}

fn totals(hollows: &[Hollow]) -> (u32, u32) {
    let each = hollows.iter().map(|hollow| (hollow.count(), hollow.bound().count));
    each.fold((0, 0), |sum, one| (sum.0 + one.0, sum.1.saturating_add(one.1)))
}

/// Works on every task for so many steps, on two threads where that pays. Tasks share nothing, so the outcome is the
/// same in any order.
fn run(tasks: Vec<Task>, steps: u64) -> u64 {
    let work = |tasks: Vec<Task>| tasks.into_iter().map(|task| task.work(steps)).sum::<u64>();
    if tasks.len() < 2 || steps < 1_000 {
        return work(tasks);
    }
    let (mut here, mut there) = (Vec::new(), Vec::new());
    for (i, task) in tasks.into_iter().enumerate() {
        if i % 2 == 0 { here.push(task) } else { there.push(task) }
    }
    std::thread::scope(|scope| {
        let other = scope.spawn(|| work(there));
        work(here) + other.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))
    })
}
