//! The bed that turns about its hinge: where it stands while boxes go in, and what it meets on its way up.

use geometry::sweep::{Outline, Turn, pass, swept};
use geometry::{Axis, Cuboid, Point};
use tape::Length;

use super::{Question, Thing, What, question};
use crate::{BedName, BedPart, BoxResult, Id, Job, Len};

/// A raised part is cut into pieces no longer than this, each a block: the bed is drawn as stairs, to the outside.
const PIECE: Length = Length::mm(100);
/// The bed reaches over everything under it.
const ACROSS: Length = Length::mm(3_000);

/// How near the bed comes to a box over its whole turn.
#[derive(Clone, Debug, PartialEq)]
pub struct BedMeets {
    /// The part of the bed, by its place in the list.
    pub part: usize,
    /// What it is called.
    pub part_name: String,
    /// The box.
    pub battery_box: Id,
    /// Its name.
    pub box_name: String,
    /// The least distance over the whole turn; zero when they touch or meet.
    pub distance: Length,
    /// The tilt at which it is least, in degrees.
    pub at_deg: f64,
    /// The tilt past which they overlap, in degrees.
    pub meets_deg: Option<f64>,
}

/// The whole turn of the bed.
#[derive(Clone, Debug, PartialEq)]
pub struct BedSweep {
    /// How far it tilts, in degrees.
    pub tilt_deg: u32,
    /// The nearest part of the bed for each box, the one that is met first, or comes nearest, in front.
    pub nearest: Vec<BedMeets>,
    /// Boxes whose cavity has no place in the truck.
    pub not_placed: Vec<String>,
}

/// How near the bed comes to boxes and lids over its whole turn, or what has to be entered first for that; `None` where
/// nothing of a bed that tilts was entered. Closed forms, nothing sampled.
pub(crate) fn bed_sweep(job: &Job, boxes: &[BoxResult]) -> Option<Result<BedSweep, String>> {
    let way = &job.way_in;
    let told = way.hinge_x.is_some() || way.hinge_z.is_some() || way.tilt_deg.is_some() || !way.bed_parts.is_empty();
    told.then(|| swept_over(job, boxes))
}

fn swept_over(job: &Job, boxes: &[BoxResult]) -> Result<BedSweep, String> {
    let hinge = Hinge::of(job)?;
    let turn = Turn::between(0.0, f64::from(hinge.tilt_deg)).map_err(|e| e.to_string())?;
    let parts: Vec<Outline> = job.way_in.bed_parts.iter().map(|part| hinge.outline(part)).collect();
    let mut found = BedSweep {
        tilt_deg: hinge.tilt_deg,
        nearest: Vec::new(),
        not_placed: Vec::new(),
    };
    for battery_box in boxes.iter().filter(|b| !b.solids.is_empty()) {
        let place = job.cavity(battery_box.cavity).and_then(|c| c.place.as_ref());
        let Some(place) = place else {
            found.not_placed.push(battery_box.name.clone());
            continue;
        };
        let at = Point(place.each_ref().map(Len::value));
        let solids = battery_box.solids.iter().chain(&battery_box.added.brackets);
        let still: Vec<Outline> = solids.map(|s| hinge.seen(&s.moved(at))).collect();
        if let Some(near) = pass(&parts, &still, turn).nearest() {
            found.nearest.push(BedMeets {
                part: near.bed,
                part_name: job.way_in.bed_parts[near.bed].name.clone(),
                battery_box: battery_box.id,
                box_name: battery_box.name.clone(),
                distance: near.distance,
                at_deg: near.at_deg,
                meets_deg: near.meets_deg,
            });
        }
    }
    found.nearest.sort_by(|a, b| {
        let met = |near: &BedMeets| near.meets_deg.unwrap_or(f64::INFINITY);
        met(a).total_cmp(&met(b)).then(a.distance.cmp(&b.distance))
    });
    Ok(found)
}

/// Shares of the turn that what is swept is told by.
const SHARES: std::num::NonZeroU32 = std::num::NonZeroU32::new(48).expect("it is not zero");
/// Slabs along a cavity that what is swept is told by.
const SLABS: i64 = 16;

/// What the bed sweeps of a space of this cavity over its whole turn, in the cavity's frame: in each slab along it all from
/// the lowest that any part comes down there up to the top, since nothing is put in over the bed. Empty without a bed
/// that tilts, or a place of the cavity in the truck.
pub(crate) fn swept_room(job: &Job, cavity: &crate::Cavity, space: Cuboid) -> Vec<Cuboid> {
    let (Ok(hinge), Some(place)) = (Hinge::of(job), cavity.place.as_ref()) else {
        return Vec::new();
    };
    let Ok(turn) = Turn::between(0.0, f64::from(hinge.tilt_deg)) else {
        return Vec::new();
    };
    let at = Point(place.each_ref().map(Len::value));
    let parts = job.way_in.bed_parts.iter();
    let pieces = parts.flat_map(|part| pieces(&hinge.outline(part)));
    let outlines = pieces.flat_map(|piece| swept(&piece, turn, SHARES));
    let solids: Vec<Cuboid> = outlines.map(|outline| hinge.solid(&outline).moved(-at)).collect();
    let slab = |n: i64| {
        let at = |n: i64| space.lo()[Axis::X] + Length::from_nm(space.size()[Axis::X].nm() / SLABS * n);
        let (front, rear) = (at(n), if n + 1 == SLABS { space.hi()[Axis::X] } else { at(n + 1) });
        let here = solids
            .iter()
            .filter(|s| s.lo()[Axis::X] < rear && s.hi()[Axis::X] > front);
        let low = here.map(|s| s.lo()[Axis::Z]).min()?.max(space.lo()[Axis::Z]);
        let [left, right] = [space.lo()[Axis::Y], space.hi()[Axis::Y]];
        (low < space.hi()[Axis::Z] && front < rear)
            .then(|| Cuboid::between(Point([front, left, low]), Point([rear, right, space.hi()[Axis::Z]])))
    };
    let mut kept: Vec<Cuboid> = Vec::new();
    for next in (0..SLABS).filter_map(slab) {
        match kept.last_mut() {
            Some(last) if last.hi()[Axis::X] == next.lo()[Axis::X] && last.lo()[Axis::Z] == next.lo()[Axis::Z] => {
                *last = last.hull(&next);
            }
            _ => kept.push(next),
        }
    }
    kept
}

/// A part of the bed cut along its length into pieces no longer than [`PIECE`].
fn pieces(whole: &Outline) -> Vec<Outline> {
    let [low, high] = [whole.u[0].min(whole.u[1]), whole.u[0].max(whole.u[1])];
    let mut pieces = Vec::new();
    let mut from = low;
    while from < high {
        let to = (from + PIECE).min(high);
        pieces.push(Outline {
            u: [from, to],
            z: whole.z,
        });
        from = to;
    }
    pieces
}

/// Where the bed turns.
struct Hinge {
    x: Length,
    z: Length,
    tilt_deg: u32,
}

impl BedSweep {
    /// Whether the bed meets any box.
    pub fn meets(&self) -> bool {
        self.nearest.iter().any(|near| near.meets_deg.is_some())
    }
}

impl Hinge {
    fn of(job: &Job) -> Result<Self, String> {
        let way = &job.way_in;
        let (Some(x), Some(z), Some(tilt_deg)) = (&way.hinge_x, &way.hinge_z, way.tilt_deg) else {
            return Err("the sweep of the bed: enter its hinge and how far it tilts".to_owned());
        };
        if way.bed_parts.is_empty() {
            return Err("the sweep of the bed: enter its floor and its crossmembers".to_owned());
        }
        Ok(Self {
            x: x.value(),
            z: z.value(),
            tilt_deg,
        })
    }

    /// A part of the bed at rest, about the hinge.
    fn outline(&self, part: &BedPart) -> Outline {
        Outline {
            u: [self.x - part.to.value(), self.x - part.from.value()],
            z: [part.lowest.value() - self.z, part.highest.value() - self.z],
        }
    }

    /// A solid of the vehicle, seen from the side about the hinge.
    fn seen(&self, solid: &Cuboid) -> Outline {
        Outline {
            u: [self.x - solid.hi()[Axis::X], self.x - solid.lo()[Axis::X]],
            z: [solid.lo()[Axis::Z] - self.z, solid.hi()[Axis::Z] - self.z],
        }
    }

    fn solid(&self, outline: &Outline) -> Cuboid {
        let corner = |k: usize, y: Length| Point([self.x - outline.u[k], y, self.z + outline.z[k]]);
        Cuboid::between(corner(0, -ACROSS), corner(1, ACROSS))
    }

    /// A point of the bed at its stop, as (rearward, up): what is ahead of the hinge goes up.
    fn turned(&self, [x, z]: [Length; 2]) -> [Length; 2] {
        let turn = f64::from(self.tilt_deg).to_radians();
        let (ahead, up) = ((self.x - x).as_mm(), (z - self.z).as_mm());
        [
            self.x - Length::from_mm(ahead * turn.cos() - up * turn.sin()),
            self.z + Length::from_mm(ahead * turn.sin() + up * turn.cos()),
        ]
    }

    /// A part of the bed at its stop, as blocks that hold all of it.
    fn raised(&self, part: &BedPart) -> Vec<Cuboid> {
        let Ok(turn) = Turn::between(f64::from(self.tilt_deg), f64::from(self.tilt_deg)) else {
            return Vec::new();
        };
        let swept = |piece: Outline| swept(&piece, turn, std::num::NonZeroU32::MIN);
        let pieces = pieces(&self.outline(part)).into_iter();
        pieces.flat_map(swept).map(|outline| self.solid(&outline)).collect()
    }
}

/// Puts the bed as it stands while boxes go in among what stays where it is: it is in the way of every box and opening.
pub(super) fn put(job: &Job, bed: BedName, asked: &mut Question) {
    if bed == BedName::Off {
        return;
    }
    let places = (0..).zip(&job.cavities);
    if places.map(|(i, c)| question::world(i, c).0).all(|world| world > 0) {
        let words = format!("the bed {}: no cavity has its place in the truck", bed.name());
        asked.not_looked_at.push(words);
        return;
    }
    match standing(job, bed) {
        Ok(parts) => {
            for (at, solids) in parts.into_iter().enumerate() {
                asked.things.extend(solids.into_iter().map(|solid| {
                    let thing = Thing {
                        name: job.way_in.bed_parts[at].name.clone(),
                        what: What::Bed(at),
                        expected: solid,
                        sure: solid,
                    };
                    (0, thing)
                }));
            }
        }
        Err(missing) => asked.not_looked_at.push(format!("the bed {}: {missing}", bed.name())),
    }
}

/// The blocks of each part of the bed as it stands, or what has to be entered first.
pub(super) fn standing(job: &Job, bed: BedName) -> Result<Vec<Vec<Cuboid>>, String> {
    let parts = &job.way_in.bed_parts;
    if bed != BedName::Off && parts.is_empty() {
        return Err("enter its floor and its crossmembers".to_owned());
    }
    match bed {
        BedName::Off => Ok(Vec::new()),
        BedName::On => Ok(parts.iter().map(|part| vec![at_rest(part)]).collect()),
        BedName::Tilted => {
            let hinge = Hinge::of(job).map_err(|_| "enter its hinge and how far it tilts".to_owned())?;
            Ok(parts.iter().map(|part| hinge.raised(part)).collect())
        }
    }
}

/// The corners of each part of the bed as it stands, seen from the left; none where that is not known.
pub(super) fn outlines(job: &Job, bed: BedName) -> Vec<[[Length; 2]; 4]> {
    let turn = match (bed, Hinge::of(job)) {
        (BedName::On, _) => None,
        (BedName::Tilted, Ok(hinge)) => Some(hinge),
        _ => return Vec::new(),
    };
    let parts = job.way_in.bed_parts.iter().map(|part| {
        let ([from, to], [low, high]) = (
            [part.from.value(), part.to.value()],
            [part.lowest.value(), part.highest.value()],
        );
        let corners = [[from, low], [to, low], [to, high], [from, high]];
        match &turn {
            None => corners,
            Some(hinge) => corners.map(|corner| hinge.turned(corner)),
        }
    });
    parts.collect()
}

/// A part of the bed as it lies on the frame.
fn at_rest(part: &BedPart) -> Cuboid {
    let corner = |x: &Len, y, z: &Len| Point([x.value(), y, z.value()]);
    Cuboid::between(
        corner(&part.from, -ACROSS, &part.lowest),
        corner(&part.to, ACROSS, &part.highest),
    )
}
