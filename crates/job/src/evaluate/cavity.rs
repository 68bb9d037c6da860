//! From readings to the space of a cavity.

use geometry::{Axis, Cuboid, Face, Point};
use tape::Length;
use tape::inside::{self, Cap, Space};
use tape::reading::Reading;
use tape::square::{self, Taped, Usable};

use super::keep_outs::{self, KeepOutResult, Unplaced};
use super::survey::{self, Next, Survey, sigma};
use crate::assumed::Trust;
use crate::document::{Cavity, Decided};
use crate::{Id, Job};

/// A cavity as its readings tell it.
#[derive(Clone, Debug, PartialEq)]
pub struct CavityResult {
    /// Its number.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// Length, width and height by their smallest readings, the cavity being taken as square; where the survey holds
    /// its shape, only readings between the corners count here, and cap the space. `None` where there is no reading.
    pub dimensions: [Option<Dimension>; 3],
    /// The space up to where the walls are expected, with its front-left-bottom corner at the corner of the cavity or
    /// near it; `None` until all three dimensions are known.
    pub space: Option<Cuboid>,
    /// The usable cuboid: what the readings guarantee. Within `space`.
    pub usable: Option<Cuboid>,
    /// What the readings tell of its shape.
    pub survey: Survey,
    /// The line to tape next, when nothing is wrong and one more would make the tightest room better known.
    pub next: Option<Next>,
    /// The keep-outs that have a place.
    pub keep_outs: Vec<KeepOutResult>,
    /// Those that have none yet, and why.
    pub unplaced: Vec<Unplaced>,
}

/// One dimension of a cavity.
#[derive(Clone, Debug, PartialEq)]
pub struct Dimension {
    /// Which.
    pub axis: Axis,
    /// The smallest reading less k sigma, and what each place says. Place indices count the readings used.
    pub usable: Usable,
    /// For each reading used, its index in the cavity's list.
    pub readings: Vec<usize>,
    /// The smallest reading as read.
    pub smallest: Length,
}

impl Dimension {
    /// So many sigma of the place that reads smallest, rounded up.
    pub(crate) fn tape_may_be_off(&self, sigmas: f64) -> Length {
        let place = self.usable.places.iter().min_by_key(|place| place.value);
        place.map_or(Length::ZERO, |place| Length::from_mm_up(place.sigma.as_mm() * sigmas))
    }
}

impl CavityResult {
    /// What is held back at a wall for what the readings may be off.
    pub fn held(&self, face: Face) -> Length {
        match (self.space, self.usable) {
            (Some(space), Some(usable)) => (space.face(face) - usable.face(face)).abs(),
            _ => Length::ZERO,
        }
    }
}

impl CavityResult {
    /// The standard uncertainty of the space along an axis where a reading between the corners caps it; `None` where the
    /// corners decide.
    pub(crate) fn cap_sigma(&self, axis: Axis) -> Option<Length> {
        let shape = self.survey.shape.as_ref()?;
        let dimension = self.dimensions[axis.index()].as_ref()?;
        let place = dimension.usable.places.iter().min_by_key(|place| place.value)?;
        (place.value < shape.expected_cuboid().size()[axis]).then_some(place.sigma)
    }
}

/// Works out a cavity; what depends on its readings alone is taken over from `before` when nothing of that changed.
pub(super) fn evaluate(
    cavity: &Cavity,
    job: &Job,
    trust: &Trust,
    before: Option<(&Cavity, &CavityResult)>,
) -> CavityResult {
    let taken_over = before.filter(|(was, _)| taped(was) == taped(cavity));
    let (survey, dimensions) = match taken_over {
        Some((_, result)) => (result.survey.clone(), result.dimensions.clone()),
        None => {
            let survey = survey::of(cavity, trust, job.units);
            let dimensions = Axis::ALL.map(|axis| dimension(cavity, &survey, axis, trust));
            (survey, dimensions)
        }
    };
    let (space, usable) = space(&survey, &dimensions, trust.sigmas);
    let (keep_outs, unplaced) = match taken_over.filter(|(was, _)| was.keep_outs == cavity.keep_outs) {
        Some((_, result)) => (with_margins(cavity, result, trust), result.unplaced.clone()),
        None => keep_outs::evaluate(cavity, &survey, &dimensions, trust),
    };
    CavityResult {
        id: cavity.id,
        name: cavity.name.clone(),
        dimensions,
        space,
        usable,
        survey,
        next: None,
        keep_outs,
        unplaced,
    }
}

/// The keep-outs where they were, with the margins of now.
fn with_margins(cavity: &Cavity, before: &CavityResult, trust: &Trust) -> Vec<KeepOutResult> {
    let mut keep_outs = before.keep_outs.clone();
    for result in &mut keep_outs {
        if let Some(keep_out) = cavity.keep_outs.iter().find(|k| k.id == result.id) {
            result.margin = keep_outs::margin(keep_out, trust);
        }
    }
    keep_outs
}

/// Whether readings are trusted alike in two jobs.
pub(super) fn same_trust(a: &Job, b: &Job) -> bool {
    let of = |job: &Job| {
        let settings = &job.settings;
        (
            job.units,
            settings.sigmas,
            settings.tape_class,
            settings.reading_sigma.clone(),
        )
    };
    of(a) == of(b)
}

/// What of a cavity its survey follows from.
fn taped(cavity: &Cavity) -> impl PartialEq + '_ {
    (
        &cavity.readings,
        &cavity.statements,
        &cavity.out_of_reach,
        cavity.laid_on,
    )
}

/// The space up to the expected walls, and what of it is usable for sure.
fn space(survey: &Survey, dimensions: &[Option<Dimension>; 3], sigmas: f64) -> (Option<Cuboid>, Option<Cuboid>) {
    if survey.nothing_left {
        return (None, None);
    }
    if let Some(shape) = &survey.shape {
        let caps = caps(dimensions);
        let space = capped(shape.expected_cuboid(), &caps, 0.0);
        let usable = shape.usable_cuboid().intersection(&space).unwrap_or(space);
        return (Some(space), Some(capped(usable, &caps, sigmas)));
    }
    let [Some(x), Some(y), Some(z)] = dimensions else {
        return (None, None);
    };
    let to = |far: [Length; 3]| Some(Cuboid::between(Point::ZERO, Point(far)));
    (
        to([x.smallest, y.smallest, z.smallest]),
        to([x.usable.value, y.usable.value, z.usable.value]),
    )
}

/// What was read between the corners, each place with its repeats together.
fn caps(dimensions: &[Option<Dimension>; 3]) -> Vec<Cap> {
    let each = dimensions.iter().flatten().flat_map(|dimension| {
        let axis = dimension.axis.index();
        let places = dimension.usable.places.iter();
        places.map(move |place| Cap {
            axis,
            value: place.value,
            sigma: place.sigma,
        })
    });
    each.collect()
}

/// The space made no longer than what was read between the corners, less so many sigma.
fn capped(space: Cuboid, caps: &[Cap], sigmas: f64) -> Cuboid {
    let whole = Space {
        lo: space.lo().0,
        hi: space.hi().0,
    };
    // Sigmas are 0 to 6, and that of a place is none below zero.
    inside::capped(&whole, caps, sigmas).map_or(space, |left| Cuboid::between(Point(left.lo), Point(left.hi)))
}

/// One dimension by its smallest reading. Where the survey holds the shape, edges are part of that and only readings
/// between the corners are left.
fn dimension(cavity: &Cavity, survey: &Survey, axis: Axis, trust: &Trust) -> Option<Dimension> {
    let used = cavity.readings.iter().enumerate().filter_map(|(i, reading)| {
        let (along, place) = reading.line.dimension()?;
        let counts =
            reading.decided != Some(Decided::LeftOut) && !(survey.is_shaped() && reading.line.of_survey().is_some());
        (along == axis && counts).then_some((i, place, reading))
    });
    let (readings, taped): (Vec<usize>, Vec<Taped>) = used
        .map(|(i, place, reading)| {
            let value = reading.read.value();
            let sigma = sigma(reading, trust);
            let common = Reading::new(value, None, &trust.tape_of(&reading.read))
                .common
                .min(sigma);
            let reading = Reading { value, sigma, common };
            (i, Taped { place, reading })
        })
        .unzip();
    // Where they only cap the space, what they hold back is taken off there.
    let sigmas = if survey.is_shaped() { 0.0 } else { trust.sigmas };
    let usable = square::usable(&taped, sigmas).ok()?;
    let smallest = taped.iter().map(|t| t.reading.value).min()?;
    Some(Dimension {
        axis,
        usable,
        readings,
        smallest,
    })
}
