//! How wrong a reading may be before the layout that there is no longer fits.

use geometry::{Axis, Cuboid};
use tape::Length;

use crate::evaluate::{BoxResult, CavityResult, Dimension, KeepOutResult};
use crate::{Evaluation, Id, Job};

/// How much a reading may be too long before the boxes no longer fit along it, nothing but them being moved.
#[derive(Clone, Debug, PartialEq)]
pub struct Tolerance {
    /// The cavity.
    pub cavity: Id,
    /// Its name.
    pub name: String,
    /// Along which dimension.
    pub axis: Axis,
    /// The reading's place in the cavity's list; for repeats at one place, that of the first.
    pub reading: usize,
    /// Where it was taken, in words; empty when nothing was said.
    pub place: String,
    /// What was read; for repeats, their mean.
    pub read: Length,
    /// How much of a slip in it reaches the room that the boxes have: 1 where the cavity is taken as square; less where
    /// other readings of its shape hold against it.
    pub share: f64,
    /// How much shorter it could have been read with every margin kept, sigmas held back as they are.
    pub keeps: Room,
    /// How much shorter it can really be before a box meets something, nothing held back and no margin kept.
    pub touches: Room,
}

/// Room along one direction; negative when that much is short already.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Room {
    /// With the boxes where they stand.
    pub still: Length,
    /// With the boxes moved over to the low side as far as they go. Less than standing still only where something is
    /// short at the low side already: then that is made good first, and this is what both sides are short together.
    pub moved: Length,
}

/// The readings of all cavities that hold boxes, the one with the least room first.
pub fn tolerances(job: &Job, evaluation: &Evaluation) -> Vec<Tolerance> {
    let mut all: Vec<Tolerance> = evaluation
        .cavities
        .iter()
        .flat_map(|cavity| {
            Axis::ALL
                .into_iter()
                .flat_map(|axis| along(job, evaluation, cavity, axis))
        })
        .collect();
    all.sort_by_key(|t| (t.keeps.still, t.cavity, t.axis, t.reading));
    all
}

fn along(job: &Job, evaluation: &Evaluation, cavity: &CavityResult, axis: Axis) -> Vec<Tolerance> {
    let boxes = evaluation.boxes.iter();
    let boxes: Vec<&BoxResult> = boxes
        .filter(|b| b.cavity == cavity.id && !b.solids.is_empty())
        .collect();
    if boxes.is_empty() {
        return Vec::new();
    }
    let with_margin = Row::sure(&boxes, cavity, axis).needs(evaluation.margin);
    let bare = Row::expected(&boxes, cavity, axis).needs_bare();
    // Where a reading between the corners caps the space, those of the corners move nothing.
    let mut all = match cavity.cap_sigma(axis) {
        None => by_shape(job, cavity, &boxes, axis, [with_margin, bare]),
        Some(_) => Vec::new(),
    };
    if let Some(dimension) = &cavity.dimensions[axis.index()] {
        all.extend(by_smallest(job, evaluation, cavity, dimension, [with_margin, bare]));
    }
    all
}

/// A reading that moves the room by less than this share of itself is not worth naming.
const TELLS: f64 = 0.1;

/// The readings that hold the shape: each moves the room along the axis by its own share.
///
/// To first order, at the walls as they lean next to the boxes. Of a slip that the other readings show, this is what it
/// would do unseen.
fn by_shape(
    job: &Job,
    cavity: &CavityResult,
    boxes: &[&BoxResult],
    axis: Axis,
    [with_margin, bare]: [Room; 2],
) -> Vec<Tolerance> {
    let (Some(shape), Some(space), Some(usable)) = (&cavity.survey.shape, cavity.space, cavity.usable) else {
        return Vec::new();
    };
    let overall = boxes.iter().flat_map(|b| &b.solids).copied().reduce(|a, b| a.hull(&b));
    let (Some(taped), Some(overall)) = (job.cavity(cavity.id), overall) else {
        return Vec::new();
    };
    let left = |has: Length, needs: Room, share: f64| Room {
        still: Length::from_mm_down((has - needs.still).as_mm() / share),
        moved: Length::from_mm_down((has - needs.moved).as_mm() / share),
    };
    let each = shape.influence(&shape.slack_slopes(&overall, axis)).into_iter();
    each.filter(|(_, share)| *share >= TELLS)
        .filter_map(|(reading, share)| {
            let taped = taped.readings.get(reading)?;
            Some(Tolerance {
                cavity: cavity.id,
                name: cavity.name.clone(),
                axis,
                reading,
                place: taped.line.to_string(),
                read: taped.read.value(),
                share,
                keeps: left(usable.hi()[axis], with_margin, share),
                touches: left(space.hi()[axis], bare, share),
            })
        })
        .collect()
}

fn by_smallest(
    job: &Job,
    evaluation: &Evaluation,
    cavity: &CavityResult,
    dimension: &Dimension,
    [with_margin, bare]: [Room; 2],
) -> Vec<Tolerance> {
    let axis = dimension.axis;
    dimension
        .usable
        .places
        .iter()
        .filter_map(|place| {
            let reading = dimension.readings[*place.indices.first()?];
            let words = job.cavity(cavity.id)?.readings.get(reading)?.line.to_string();
            let sure = place.sure(evaluation.sigmas);
            // Of a surveyed cavity it caps the space, half at each wall; else the low wall stays where it is.
            let (ends, half) = if cavity.survey.is_shaped() {
                (2, true)
            } else {
                (1, false)
            };
            let middle = |space: Option<Cuboid>| match (space, half) {
                (Some(space), true) => Length::from_nm(i64::midpoint(space.lo()[axis].nm(), space.hi()[axis].nm())),
                _ => Length::ZERO,
            };
            let left = |has: Length, needs: Room, middle: Length| Room {
                still: has - (needs.still - middle) * ends,
                moved: has - (needs.moved - middle) * ends,
            };
            Some(Tolerance {
                cavity: cavity.id,
                name: cavity.name.clone(),
                axis,
                reading,
                place: words,
                read: place.value,
                share: 1.0,
                keeps: left(sure, with_margin, middle(cavity.usable)),
                touches: left(place.value, bare, middle(cavity.space)),
            })
        })
        .collect()
}

/// The boxes and keep-outs of a cavity along one direction, from its low wall.
struct Row<'a> {
    axis: Axis,
    low: Length,
    boxes: Vec<&'a [Cuboid]>,
    /// Keep-outs with the margin asked for to them.
    keep_outs: Vec<(Cuboid, Length)>,
}

impl<'a> Row<'a> {
    /// Up to where everything may be.
    fn sure(boxes: &[&'a BoxResult], cavity: &CavityResult, axis: Axis) -> Self {
        Self::of(boxes, cavity, axis, cavity.usable, |k| k.sure)
    }

    /// Up to where everything is expected.
    fn expected(boxes: &[&'a BoxResult], cavity: &CavityResult, axis: Axis) -> Self {
        Self::of(boxes, cavity, axis, cavity.space, |k| k.cuboid)
    }

    fn of(
        boxes: &[&'a BoxResult],
        cavity: &CavityResult,
        axis: Axis,
        space: Option<Cuboid>,
        region: impl Fn(&KeepOutResult) -> Cuboid,
    ) -> Self {
        let mut boxes: Vec<&[Cuboid]> = boxes.iter().map(|b| b.solids.as_slice()).collect();
        boxes.sort_by_key(|solids| solids.iter().map(|s| s.lo()[axis]).min());
        let counts = cavity.keep_outs.iter().filter(|k| k.counts);
        Self {
            axis,
            low: space.map_or(Length::ZERO, |s| s.lo()[axis]),
            boxes,
            keep_outs: counts.map(|k| (region(k), k.margin)).collect(),
        }
    }

    fn needs(&self, margin: Length) -> Room {
        self.extent(margin, |own| own)
    }

    fn needs_bare(&self) -> Room {
        self.extent(Length::ZERO, |_| Length::ZERO)
    }

    /// How far the high wall has to be from the low one.
    fn extent(&self, margin: Length, to_keep_out: impl Fn(Length) -> Length) -> Room {
        let axis = self.axis;
        let end = |solids: &[Cuboid]| solids.iter().map(|s| s.hi()[axis]).max().unwrap_or_default();
        let mut steps: Vec<Length> = Vec::new();
        let (mut still, mut moved) = (self.low, self.low);
        for (i, solids) in self.boxes.iter().enumerate() {
            // The least step that keeps the distance to the low wall and to everything that stands before it.
            let to_wall = solids.iter().map(|s| self.low + margin - s.lo()[axis]).max();
            let before = self.boxes[..i].iter().zip(&steps);
            let to_boxes = before.filter_map(|(other, &step)| Some(self.behind(solids, other, margin)? + step));
            let to_keep_outs = self
                .keep_outs
                .iter()
                .filter_map(|(cuboid, own)| self.behind(solids, std::slice::from_ref(cuboid), to_keep_out(*own)));
            let least = to_wall.into_iter().chain(to_boxes).chain(to_keep_outs).max();
            // Where less than asked is kept already, it is moved the other way: both sides share what is short.
            let step = least.unwrap_or_default();
            steps.push(step);
            still = still.max(end(solids) + margin);
            moved = moved.max(end(solids) + step + margin);
        }
        Room { still, moved }
    }

    /// The step that brings `solids` right behind `other` with the distance kept; `None` where neither stands in the
    /// other's way along the direction, or `other` is the one behind.
    fn behind(&self, solids: &[Cuboid], other: &[Cuboid], asked: Length) -> Option<Length> {
        let axis = self.axis;
        // Only what is not clear of each other in another direction, and is farthest apart in this one: where the margin
        // is short already, that is told where they are farthest apart, and not once more in the others.
        let in_the_way = |a: &Cuboid, b: &Cuboid| {
            let here = a.gap_along(b, axis);
            let mut across = Axis::ALL.into_iter().filter(|&x| x != axis).map(|x| a.gap_along(b, x));
            across.all(|gap| gap < asked && gap <= here)
        };
        let middle = |c: &Cuboid| c.lo()[axis] + c.hi()[axis];
        solids
            .iter()
            .flat_map(|a| other.iter().map(move |b| (a, b)))
            .filter(|(a, b)| in_the_way(a, b) && middle(b) < middle(a))
            .map(|(a, b)| b.hi()[axis] + asked - a.lo()[axis])
            .max()
    }
}
