//! Axle and wheel loads before, stripped, after and laden, against what they may be.

use geometry::{Axis, Face};
use tape::Length;
use truck::TruckError;
use truck::mass::axle::{AxleLoads, stages};
use truck::mass::centre::centre;
use truck::mass::shift::moves_for_split;
use truck::mass::wheel::{Split, Track, Weighed, Wheel, WheelLoads, wheel_loads};
use truck::mass::{Axle, Item, Place};
use truck::rating::payload::{Payload, payload};
use truck::rating::{AxleRating, Limit, Margin, PASSENGER_TYRE_SOURCE, Ratings, Tyres, weakest};

use super::height::{HeightConflict, after_off_m, height_before};
use super::laden::{Basis, stated};
use super::scale::{self, Scale, When};
use super::{Counted, Of, entered_m, length, metres};
use crate::assumed::truck as usual;
use crate::document::{KnownName, Masses, TruckFigure, TyreLoad, TyreSortName, Vehicle};
use crate::evaluate::boxes::BoxResult;
use crate::finding::Touches;
use crate::{Grams, Id, Job, Len};

/// Axle loads and what follows from them.
#[expect(
    clippy::struct_excessive_bools,
    reason = "each tells of other figures whether they are assumed"
)]
#[derive(Clone, Debug, PartialEq)]
pub struct Axles {
    /// From hub to hub, metres.
    pub wheelbase_m: f64,
    /// As weighed, or as calculated.
    pub before: AxleLoads,
    /// How the loads before are known.
    pub before_by: KnownName,
    /// What was in the tank and who was aboard then, as entered.
    pub weighed_with: String,
    /// With what comes out gone.
    pub stripped: AxleLoads,
    /// With what goes in put in, nobody aboard, by calculation.
    pub worked_out: AxleLoads,
    /// Nobody aboard, what limits and payload rest on: the scale's once both axles were weighed after the work, else
    /// [`Self::worked_out`].
    pub after: AxleLoads,
    /// Whether the loads after are those of the scale.
    pub is_weighed: bool,
    /// How far off the loads before may be, either way.
    pub before_off: OffBy,
    /// How far off those after may be: the readings and the masses together, or the readings of the scale after the work.
    pub after_off: OffBy,
    /// How far off those worked out may be.
    pub worked_out_off: OffBy,
    /// The centre of gravity before.
    pub centre_before: Place,
    /// The centre of gravity after, nobody aboard.
    pub centre_after: Place,
    /// Whether the height of the centre before was weighed with the rear raised: then how far it moves for a kilogram that
    /// the reading is off, metres.
    pub height_m_per_kg: Option<f64>,
    /// How far the height of the centre may be off before and after, metres, where it was weighed.
    pub height_off_m: Option<[f64; 2]>,
    /// The height as entered beside the one weighed, where they are farther apart than the weighing may be off.
    pub height_conflict: Option<HeightConflict>,
    /// The wheels after, nobody aboard, by calculation: an estimate.
    pub wheels_worked_out: WheelLoads,
    /// The wheels after, nobody aboard: as read off a scale, else an estimate that adds up to the axles after.
    pub wheels: WheelLoads,
    /// What the wheels rest on.
    pub wheels_by: String,
    /// Whether both wheels of the front and of the rear axle were weighed after the work.
    pub wheels_read: [bool; 2],
    /// The loads against every limit that is known: nobody aboard, people, people and cargo, then each set of loads.
    pub stated: Vec<Stated>,
    /// The limit of which the least is left, whoever is aboard then; `None` while no limit is.
    pub weakest: Option<(Margin, Aboard)>,
    /// The least that may still be put on where the cargo is, with what is aboard then; `None` while no limit is known.
    pub payload: Option<(Payload, Aboard)>,
    /// What is asked to be left.
    pub payload_wanted_kg: f64,
    /// How far behind the front axle that is told for, metres.
    pub cargo_x_m: f64,
    /// The front axle's least share, whoever is aboard then.
    pub front_share: FrontShare,
    /// What moving one box alone would take for the wanted share of the rear axle; the shortest way first.
    pub moves: Vec<BoxMove>,
    /// The share of the rear axle that is wanted.
    pub wanted_rear: Option<f64>,
    /// The scale after the work beside what was worked out.
    pub reweighed: Option<Reweighed>,
    /// Where each limit that is known comes from.
    pub sources: Vec<(Limit, String)>,
    /// Why the weighing with the rear raised does not tell the height.
    pub height_fault: Option<TruckError>,
    /// Whether the loads after rest on assumed values.
    pub loads_assumed: bool,
    /// Whether those worked out do.
    pub worked_out_assumed: bool,
    /// Whether the place of the cargo is assumed.
    pub cargo_at_assumed: bool,
    /// Whether what is aboard, and so the margins and the payload, rests on assumed values.
    pub aboard_assumed: bool,
    /// Whether the height of the centre rests on assumed values.
    pub height_assumed: bool,
    /// Whether the wheels' loads rest on assumed values: a track, or how far off the middle something is.
    pub wheels_assumed: bool,
}

impl Axles {
    /// Whether both wheels of an axle were weighed after the work.
    pub fn are_read(&self, axle: Axle) -> bool {
        let [front, rear] = self.wheels_read;
        match axle {
            Axle::Front => front,
            Axle::Rear => rear,
        }
    }

    /// Whether each wheel was weighed after the work.
    pub fn wheels_weighed(&self) -> bool {
        self.wheels_read == [true; 2]
    }
}

/// How far off figures may be, either way, kilograms.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct OffBy {
    /// The front axle.
    pub front_kg: f64,
    /// The rear axle.
    pub rear_kg: f64,
    /// Both together.
    pub total_kg: f64,
}

impl OffBy {
    /// Front and rear axle, each to the next whole kilogram.
    pub fn axles_up(self) -> [f64; 2] {
        [self.front_kg, self.rear_kg].map(f64::ceil)
    }

    /// That of a limit's load.
    pub const fn of(&self, limit: Limit) -> f64 {
        match limit.axle() {
            None => self.total_kg,
            Some(Axle::Front) => self.front_kg,
            Some(Axle::Rear) => self.rear_kg,
        }
    }
}

/// Who and what is aboard.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Aboard {
    /// Nobody.
    Nobody,
    /// So many people.
    People(u32),
    /// People and cargo.
    Cargo(u32),
    /// The set of loads of this name.
    Set(String),
}

impl Aboard {
    /// In words: `nobody aboard`, `1 aboard`, `2 aboard and cargo`, `crew and tools`.
    pub fn words(&self) -> String {
        match self {
            Self::Nobody => "nobody aboard".to_owned(),
            Self::People(n) => format!("{n} aboard"),
            Self::Cargo(0) => "cargo".to_owned(),
            Self::Cargo(n) => format!("{n} aboard and cargo"),
            Self::Set(name) => name.clone(),
        }
    }
}

/// The loads with this much aboard, against every limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Stated {
    /// Who and what is aboard.
    pub aboard: Aboard,
    /// The axle loads then.
    pub loads: AxleLoads,
    /// The wheels then, who and what is aboard taken in the middle of the truck.
    pub wheels: WheelLoads,
    /// Against every limit that is known.
    pub margins: Vec<Margin>,
    /// Each wheel against half of what the tyres and the rims of its axle may carry together.
    pub of_wheels: Vec<(Wheel, Margin)>,
    /// Whether the loads rest on assumed values.
    pub assumed: bool,
}

/// The front axle's share of the whole.
#[derive(Clone, Debug, PartialEq)]
pub struct FrontShare {
    /// As it is.
    pub is: f64,
    /// Who and what is aboard then.
    pub aboard: Aboard,
    /// The least that is asked for.
    pub least: f64,
}

/// What moving one box alone would take.
#[derive(Clone, Debug, PartialEq)]
pub struct BoxMove {
    /// The box.
    pub battery_box: Id,
    /// Its name.
    pub name: String,
    /// How far; rearward above zero.
    pub by: Length,
    /// How far it can go that way now, to what stands next there; `None` when that is not known.
    pub clearance: Option<Length>,
}

impl BoxMove {
    /// Whether there is room for it as things stand.
    pub fn has_room(&self) -> bool {
        self.clearance.is_some_and(|clearance| self.by.abs() <= clearance)
    }
}

/// The scale after the work beside what was worked out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reweighed {
    /// As read.
    pub read: AxleLoads,
    /// As read wheel by wheel: front and rear, left and right of each; `None` of an axle whose wheels were not read.
    pub wheels_kg: [Option<[f64; 2]>; 2],
    /// Reading less what was worked out: front, rear, both.
    pub differs_kg: [f64; 3],
    /// How far they may be apart by what each may be off: front, rear, both.
    pub may_differ_kg: [f64; 3],
}

impl Reweighed {
    /// Whether each is within what both may be off.
    pub fn agrees(&self) -> bool {
        self.differs_kg
            .iter()
            .zip(self.may_differ_kg)
            .all(|(differs, may)| differs.abs() <= may)
    }
}

/// `None` while wheelbase or an axle's load before the work is not entered.
pub(super) fn evaluate(
    job: &Job,
    counted: &[Counted],
    boxes: &[BoxResult],
    assumed: Touches,
) -> Result<Option<Axles>, TruckError> {
    let masses = &job.vehicle.masses;
    let (Some(wheelbase_m), Some(weighed)) = (entered_m(masses.wheelbase.as_ref()), scale::read(masses, When::Before))
    else {
        return Ok(None);
    };
    let before = weighed.loads();
    let again = scale::read(masses, When::After);
    let changes: Vec<Item> = counted.iter().map(Counted::item).collect();
    let steps = stages(before, wheelbase_m, &changes)?;
    let height = height_before(job, &weighed, wheelbase_m);
    let centre_before = Place {
        x_m: before.centre_x_m(wheelbase_m)?,
        y_m: 0.0,
        z_m: height.height_m,
    };
    let whole = Item {
        mass_kg: before.total_kg(),
        at: centre_before,
    };
    let with_changes: Vec<Item> = std::iter::once(whole).chain(changes.iter().copied()).collect();
    let track = track(masses);
    let split = Split::FlexibleFrame;
    let ratings = ratings(job);
    let cargo_x_m = usual::cargo_at(&job.vehicle).map_or(0.0, metres);
    let cargo_x_m = entered_m(masses.cargo_at.as_ref()).unwrap_or(cargo_x_m);
    // What the components weigh was entered; what a box weighs may rest on its build.
    let worked_out_assumed = assumed.mass && counted.iter().any(|one| matches!(one.of, Of::Box(_)));
    let loads_assumed = worked_out_assumed && again.is_none();
    let after = again.map_or(steps.after, |again| again.loads());
    let wheels_worked_out = wheel_loads(Weighed::Wheels(weighed.wheels()), wheelbase_m, track, &changes, split)?;
    let wheels = again.map_or(wheels_worked_out, |again| again.leaning_as(wheels_worked_out));
    let wheels_read = again.map_or([false; 2], |again| again.has_wheels());
    let wheels_weighed = wheels_read == [true; 2];
    let basis = Basis {
        after,
        wheels,
        loads_assumed,
    };
    let stated = stated(job, &ratings, &basis, wheelbase_m, cargo_x_m)?;
    let reading_off_kg = scale::before_off_kg(job);
    let doubt = job.vehicle.figures.sure(TruckFigure::MassDoubt) / 100.0;
    let before_off = off(weighed.readings_off(reading_off_kg), &[], wheelbase_m, doubt);
    let worked_out_off = off(weighed.readings_off(reading_off_kg), &changes, wheelbase_m, doubt);
    let scale_off = again.map(|again| off(again.readings_off(scale::after_off_kg(job)), &[], wheelbase_m, doubt));
    let figures = &job.vehicle.figures;
    let wanted_rear = figures.get(TruckFigure::WantedRear).map(|percent| percent / 100.0);
    Ok(Some(Axles {
        wheelbase_m,
        before,
        before_by: masses.before_by.unwrap_or(usual::BEFORE_BY),
        weighed_with: masses.weighed_with.clone(),
        stripped: steps.stripped,
        worked_out: steps.after,
        after,
        is_weighed: again.is_some(),
        before_off,
        after_off: scale_off.unwrap_or(worked_out_off),
        worked_out_off,
        centre_before,
        // A scale tells where along it is, and nothing of its height.
        centre_after: Place {
            x_m: after.centre_x_m(wheelbase_m)?,
            ..centre(&with_changes)?
        },
        height_m_per_kg: height.m_per_kg,
        height_off_m: height
            .off_m
            .map(|off_m| Ok::<_, TruckError>([off_m, after_off_m(off_m, whole, &changes, doubt)?]))
            .transpose()?,
        height_conflict: height.conflict,
        height_fault: height.fault,
        wheels_worked_out,
        wheels,
        wheels_by: wheels_words(&weighed, wheels_read, split),
        wheels_read,
        weakest: weakest_of(&stated),
        payload: least_payload(&ratings, &stated, wheelbase_m, cargo_x_m)?,
        payload_wanted_kg: masses.least_payload_kg.unwrap_or(usual::LEAST_PAYLOAD).kg(),
        cargo_x_m,
        front_share: least_front(&stated, figures.sure(TruckFigure::LeastFront) / 100.0)?,
        moves: wanted_rear.map_or(Ok(Vec::new()), |share| moves(after, wheelbase_m, share, counted, boxes))?,
        wanted_rear,
        reweighed: again.map(|again| reweighed(&again, steps.after, worked_out_off, scale_off.unwrap_or_default())),
        sources: sources(job, &stated),
        loads_assumed,
        worked_out_assumed,
        cargo_at_assumed: masses.cargo_at.is_none(),
        aboard_assumed: stated.iter().any(|stated| stated.assumed),
        height_assumed: height.is_assumed || job.vehicle.components.iter().any(|c| c.at[Axis::Z.index()].is_none()),
        wheels_assumed: !wheels_weighed && (worked_out_assumed || is_lean_assumed(&job.vehicle)),
        stated,
    }))
}

/// From wheel to wheel across each axle, as entered or as usual.
fn track(masses: &Masses) -> Track {
    let across = |entered: Option<&Len>| entered_m(entered).unwrap_or_else(|| metres(usual::TRACK));
    Track {
        front_m: across(masses.front_track.as_ref()),
        rear_m: across(masses.rear_track.as_ref()),
    }
}

/// Whether a track, or how far off the middle something is, was not entered.
fn is_lean_assumed(vehicle: &Vehicle) -> bool {
    let masses = &vehicle.masses;
    masses.front_track.is_none()
        || masses.rear_track.is_none()
        || vehicle.components.iter().any(|c| c.at[Axis::Y.index()].is_none())
}

/// The limit with the least of it left, whoever is aboard then: cargo behind the rear axle relieves the front one.
fn weakest_of(stated: &[Stated]) -> Option<(Margin, Aboard)> {
    let each = stated
        .iter()
        .filter_map(|state| Some((weakest(&state.margins)?, state.aboard.clone())));
    each.reduce(|least, next| {
        if least.0.left_share() < next.0.left_share() {
            least
        } else {
            next
        }
    })
}

/// The least that may still be put on, whoever is aboard then.
fn least_payload(
    ratings: &Ratings,
    stated: &[Stated],
    wheelbase_m: f64,
    cargo_x_m: f64,
) -> Result<Option<(Payload, Aboard)>, TruckError> {
    let mut least: Option<(Payload, Aboard)> = None;
    for state in stated {
        let Some(found) = payload(ratings, state.loads, wheelbase_m, cargo_x_m)? else {
            continue;
        };
        // Of two alike the fuller one, which comes later.
        if least.as_ref().is_none_or(|(so_far, _)| found.left_kg <= so_far.left_kg) {
            least = Some((found, state.aboard.clone()));
        }
    }
    Ok(least)
}

/// The least share of the front axle, whoever is aboard then.
fn least_front(stated: &[Stated], least: f64) -> Result<FrontShare, TruckError> {
    let mut lightest = FrontShare {
        is: f64::INFINITY,
        aboard: Aboard::Nobody,
        least,
    };
    for state in stated {
        let is = 1.0 - state.loads.rear_share()?;
        if is <= lightest.is {
            lightest = FrontShare {
                is,
                aboard: state.aboard.clone(),
                least,
            };
        }
    }
    Ok(lightest)
}

/// What the truck may weigh, as far as it was entered.
fn ratings(job: &Job) -> Ratings {
    let masses = &job.vehicle.masses;
    let figures = &job.vehicle.figures;
    let kg = |grams: Option<Grams>| grams.map(Grams::kg);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "rounded, and within 2 to 8 by the table"
    )]
    let tyres = |tyre: Option<TyreLoad>, count| {
        Some(Tyres {
            rated_kg_each: tyre?.kg(),
            count: figures.sure(count).round() as u32,
            passenger_on_truck: masses.tyres == Some(TyreSortName::Passenger),
        })
    };
    Ratings {
        gross_kg: kg(masses.gross_rating_kg),
        front: AxleRating {
            axle_kg: kg(masses.front_rating_kg),
            tyres: tyres(masses.front_tyre, TruckFigure::FrontTyres),
            wheels_kg: kg(masses.front_wheels_kg),
        },
        rear: AxleRating {
            axle_kg: kg(masses.rear_rating_kg),
            tyres: tyres(masses.rear_tyre, TruckFigure::RearTyres),
            wheels_kg: kg(masses.rear_wheels_kg),
        },
    }
}

/// What the wheels rest on, in words.
fn wheels_words(before: &Scale, are_read: [bool; 2], split: Split) -> String {
    let read = match are_read {
        [true, true] => return "each read off a scale".to_owned(),
        [true, false] => "front read off a scale; rear: ",
        [false, true] => "rear read off a scale; front: ",
        [false, false] => "",
    };
    let even = match (before.front.wheels_kg, before.rear.wheels_kg) {
        (Some(_), Some(_)) => "",
        (None, None) => "; before the work left is taken as equal to right",
        (None, _) => "; before the work front left is taken as equal to right",
        (_, None) => "; before the work rear left is taken as equal to right",
    };
    format!("{read}{}{even}", split.words())
}

/// How far off the loads may be: each reading by as much as it may be, each mass by its doubt, none of them knowing of
/// another: the root of the sum of squares.
fn off([front_kg, rear_kg]: [f64; 2], changes: &[Item], wheelbase_m: f64, doubt: f64) -> OffBy {
    let sum = |share: &dyn Fn(&Item) -> f64, reading_kg: f64| {
        let masses: f64 = changes
            .iter()
            .map(|item| (item.mass_kg * doubt * share(item)).powi(2))
            .sum();
        (reading_kg.powi(2) + masses).sqrt()
    };
    OffBy {
        front_kg: sum(&|item| 1.0 - item.at.x_m / wheelbase_m, front_kg),
        rear_kg: sum(&|item| item.at.x_m / wheelbase_m, rear_kg),
        total_kg: sum(&|_| 1.0, front_kg.hypot(rear_kg)),
    }
}

/// What moving each box alone would take.
fn moves(
    after: AxleLoads,
    wheelbase_m: f64,
    share: f64,
    counted: &[Counted],
    boxes: &[BoxResult],
) -> Result<Vec<BoxMove>, TruckError> {
    let of_boxes: Vec<(Id, &Counted)> = counted
        .iter()
        .filter_map(|one| match one.of {
            Of::Box(id) => Some((id, one)),
            Of::Component(_) => None,
        })
        .collect();
    let items: Vec<Item> = of_boxes.iter().map(|(_, one)| one.item()).collect();
    let found = moves_for_split(after, wheelbase_m, share, &items)?;
    Ok(found
        .into_iter()
        .map(|found| {
            let (id, one) = of_boxes[found.item];
            let towards = if found.by_m < 0.0 {
                Face::low(Axis::X)
            } else {
                Face::high(Axis::X)
            };
            let around = boxes.iter().find(|b| b.id == id).and_then(|b| b.around.as_ref());
            BoxMove {
                battery_box: id,
                name: one.name.clone(),
                by: length(found.by_m),
                clearance: around.map(|around| around.faces[towards.index()].distance),
            }
        })
        .collect())
}

/// The scale after the work beside what was worked out.
fn reweighed(again: &Scale, worked_out: AxleLoads, worked_out_off: OffBy, scale_off: OffBy) -> Reweighed {
    let read = again.loads();
    Reweighed {
        read,
        wheels_kg: [again.front.wheels_kg, again.rear.wheels_kg],
        differs_kg: [
            read.front_kg - worked_out.front_kg,
            read.rear_kg - worked_out.rear_kg,
            read.total_kg() - worked_out.total_kg(),
        ],
        may_differ_kg: [
            worked_out_off.front_kg.hypot(scale_off.front_kg),
            worked_out_off.rear_kg.hypot(scale_off.rear_kg),
            worked_out_off.total_kg.hypot(scale_off.total_kg),
        ],
    }
}

impl Axles {
    /// Where a limit comes from, in words; empty for one that is not known.
    pub fn source_words(&self, limit: Limit) -> &str {
        self.sources
            .iter()
            .find(|(of, _)| *of == limit)
            .map_or("", |(_, words)| words)
    }
}

/// Where each limit comes from.
fn sources(job: &Job, stated: &[Stated]) -> Vec<(Limit, String)> {
    let limits = stated.iter().take(1).flat_map(|s| &s.margins).map(|m| m.limit);
    limits.map(|limit| (limit, source_of(job, limit))).collect()
}

/// Where a limit comes from, in words.
fn source_of(job: &Job, limit: Limit) -> String {
    let masses = &job.vehicle.masses;
    match limit {
        Limit::Gross | Limit::Axle(_) => "plate of the truck, as entered".to_owned(),
        Limit::Wheels(_) => "stamped in the rims, as entered".to_owned(),
        Limit::Lifts(_) => "moments about the axles".to_owned(),
        Limit::Tyres(axle) => {
            let tyre = match axle {
                Axle::Front => masses.front_tyre,
                Axle::Rear => masses.rear_tyre,
            };
            let source = tyre.map_or_else(String::new, TyreLoad::source);
            if masses.tyres == Some(TyreSortName::Passenger) {
                format!("{source}; over 1.10 on a truck: {}", PASSENGER_TYRE_SOURCE.words())
            } else {
                source
            }
        }
    }
}
