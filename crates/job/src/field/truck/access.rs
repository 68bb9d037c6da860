//! From a field's name to what it names of the truck.

use geometry::Axis;
use tape::{Allow, Length, Units, notation};
use truck::mass::Axle;
use truck::mass::wheel::Wheel;

use super::TruckField as F;
use crate::assumed::{self, truck as usual};
use crate::document::WheelReadings;
use crate::document::quantity::thousandths_text;
use crate::document::truck::settled;
use crate::field::access::{choice, needed_choice};
use crate::field::slot::{Otherwise, Slot, Wrong};
use crate::{Carried, Grams, Job, KnownName, Len, LowPoint, RidesName, TyreError, TyreLoad, TyreSortName, WayName};

/// The longest truck, and the farthest that anything is from its front axle.
const MOST: Length = Length::mm(20_000);

/// Access to the value that `field` names; `None` when its subject is not in the job.
pub(in crate::field) fn slot(job: &mut Job, field: F) -> Option<Slot<'_>> {
    let units = job.units.units();
    let length = |to, allow, otherwise| Slot::Length {
        to,
        allow,
        most: MOST,
        otherwise,
    };
    let taken = |length: Length| Otherwise::Assumed(assumed::text(length, units));
    let mass = |grams: Grams| Otherwise::Assumed(format!("{} kg", thousandths_text(grams.0)));
    let seats = usual::seats_at(&job.vehicle).map_or(Otherwise::Open, taken);
    let cargo = usual::cargo_at(&job.vehicle).map_or(Otherwise::Open, taken);
    let off = usual::reading_off(&job.vehicle);
    let masses = &mut job.vehicle.masses;
    let ground = &mut job.vehicle.ground;
    Some(match field {
        F::Wheelbase => length(&mut masses.wheelbase, Allow::AboveZero, Otherwise::Missing),
        F::FrontTrack => length(&mut masses.front_track, Allow::AboveZero, taken(usual::TRACK)),
        F::RearTrack => length(&mut masses.rear_track, Allow::AboveZero, taken(usual::TRACK)),
        F::FrontBefore => Slot::Mass(
            &mut masses.front_before_kg,
            by_wheels(&masses.wheels_before, Axle::Front),
        ),
        F::RearBefore => Slot::Mass(&mut masses.rear_before_kg, by_wheels(&masses.wheels_before, Axle::Rear)),
        F::WheelBefore(wheel) => Slot::Mass(masses.wheels_before.place_of(wheel), Otherwise::Open),
        F::WheelAfter(wheel) => Slot::Mass(masses.wheels_after.place_of(wheel), Otherwise::Open),
        F::BeforeBy => choice(
            &mut masses.before_by,
            KnownName::ALL,
            KnownName::name,
            usual::BEFORE_BY.name(),
        ),
        F::ReadingOff => Slot::Mass(&mut masses.reading_off_kg, mass(off)),
        F::WeighedWith => Slot::Text {
            to: &mut masses.weighed_with,
            needed: false,
        },
        F::CentreHeight => length(
            &mut masses.centre_height,
            Allow::AboveZero,
            if masses.raised_front_kg.is_some() && masses.raised_by.is_some() {
                Otherwise::Open
            } else {
                taken(usual::CENTRE_HEIGHT)
            },
        ),
        F::RaisedFront => Slot::Mass(&mut masses.raised_front_kg, Otherwise::Open),
        F::RaisedBy => length(&mut masses.raised_by, Allow::AboveZero, Otherwise::Open),
        F::GrossRating => Slot::Mass(&mut masses.gross_rating_kg, Otherwise::Missing),
        F::FrontRating => Slot::Mass(&mut masses.front_rating_kg, Otherwise::Missing),
        F::RearRating => Slot::Mass(&mut masses.rear_rating_kg, Otherwise::Missing),
        F::FrontTyre => tyre(&mut masses.front_tyre),
        F::RearTyre => tyre(&mut masses.rear_tyre),
        F::TyreSort => choice(
            &mut masses.tyres,
            TyreSortName::ALL,
            TyreSortName::name,
            usual::TYRES.name(),
        ),
        F::FrontWheels => Slot::Mass(&mut masses.front_wheels_kg, Otherwise::Open),
        F::RearWheels => Slot::Mass(&mut masses.rear_wheels_kg, Otherwise::Open),
        F::Person => Slot::Mass(&mut masses.person_kg, mass(usual::PERSON)),
        F::SeatsAt => length(&mut masses.seats_at, Allow::Signed, seats),
        F::Cargo => Slot::Mass(&mut masses.cargo_kg, Otherwise::Open),
        F::CargoAt => length(&mut masses.cargo_at, Allow::Signed, cargo),
        F::LeastPayload => Slot::Mass(&mut masses.least_payload_kg, mass(usual::LEAST_PAYLOAD)),
        F::FrontAfter => Slot::Mass(&mut masses.front_after_kg, Otherwise::Open),
        F::RearAfter => Slot::Mass(&mut masses.rear_after_kg, Otherwise::Open),
        F::FrontRadius => length(&mut ground.front_radius, Allow::AboveZero, taken(usual::RADIUS)),
        F::RearRadius => length(&mut ground.rear_radius, Allow::AboveZero, taken(usual::RADIUS)),
        F::FrontOverhang => length(&mut ground.front_overhang, Allow::AboveZero, Otherwise::Open),
        F::FrontLow => length(&mut ground.front_low, Allow::AboveZero, Otherwise::Open),
        F::RearOverhang => length(&mut ground.rear_overhang, Allow::AboveZero, Otherwise::Open),
        F::RearLow => length(&mut ground.rear_low, Allow::AboveZero, Otherwise::Open),
        F::FrameHeight => length(&mut ground.frame, Allow::AboveZero, Otherwise::Open),
        F::FrontSettled => settled(&mut ground.front_settled, units),
        F::RearSettled => settled(&mut ground.rear_settled, units),
        F::Figure(figure) => Slot::Figure(figure.row(), job.vehicle.figures.slot(figure)),
        F::CavityAt(id) => cavity_at(&mut job.cavities.iter_mut().find(|c| c.id == id)?.place, units),
        F::ComponentName(i) => Slot::Text {
            to: &mut job.vehicle.components.get_mut(i)?.name,
            needed: true,
        },
        F::ComponentWay(i) => needed_choice(&mut job.vehicle.components.get_mut(i)?.way, WayName::ALL, WayName::name),
        F::ComponentMass(i) => Slot::Mass(&mut job.vehicle.components.get_mut(i)?.mass_kg, Otherwise::Missing),
        F::ComponentAt(i, axis) => length(
            &mut job.vehicle.components.get_mut(i)?.at[axis.index()],
            Allow::Signed,
            component_at(axis, units),
        ),
        F::PointName(i) | F::PointAlong(i) | F::PointTo(i) | F::PointHeight(i) | F::PointRidesOn(i) => {
            return point(ground.points.get_mut(i)?, field);
        }
        F::CarriedName(i) | F::CarriedSets(i) | F::CarriedMass(i) | F::CarriedAlong(i) => {
            return carried(job.vehicle.carried.get_mut(i)?, field);
        }
    })
}

/// Where a component is while nobody said: in the middle of the truck, at the usual height.
fn component_at(axis: Axis, units: Units) -> Otherwise {
    let taken = |length: Length| Otherwise::Assumed(assumed::text(length, units));
    match axis {
        Axis::X => Otherwise::Missing,
        Axis::Y => taken(Length::ZERO),
        Axis::Z => taken(usual::COMPONENT_HEIGHT),
    }
}

fn needed_length(to: &mut Option<Len>, allow: Allow) -> Slot<'_> {
    Slot::Length {
        to,
        allow,
        most: MOST,
        otherwise: Otherwise::Missing,
    }
}

/// An axle may stay open when both its wheels were weighed.
fn by_wheels(wheels: &WheelReadings, axle: Axle) -> Otherwise {
    if Wheel::of(axle).iter().all(|wheel| wheels.of(*wheel).is_some()) {
        Otherwise::Open
    } else {
        Otherwise::Missing
    }
}

/// What a low point is told by.
fn point(low: &mut LowPoint, field: F) -> Option<Slot<'_>> {
    Some(match field {
        F::PointName(_) => Slot::Text {
            to: &mut low.name,
            needed: true,
        },
        F::PointAlong(_) => needed_length(&mut low.along, Allow::Signed),
        F::PointTo(_) => Slot::Length {
            to: &mut low.to,
            allow: Allow::Signed,
            most: MOST,
            otherwise: Otherwise::Open,
        },
        F::PointHeight(_) => needed_length(&mut low.height, Allow::AboveZero),
        F::PointRidesOn(_) => needed_choice(&mut low.rides_on, RidesName::ALL, RidesName::name),
        _ => return None,
    })
}

/// What a load of the sets is told by.
fn carried(load: &mut Carried, field: F) -> Option<Slot<'_>> {
    Some(match field {
        F::CarriedName(_) => Slot::Text {
            to: &mut load.name,
            needed: true,
        },
        F::CarriedSets(_) => Slot::Text {
            to: &mut load.sets,
            needed: true,
        },
        F::CarriedMass(_) => Slot::Mass(&mut load.mass_kg, Otherwise::Missing),
        F::CarriedAlong(_) => needed_length(&mut load.along, Allow::Signed),
        _ => return None,
    })
}

/// What one tyre may carry.
fn tyre(to: &mut Option<TyreLoad>) -> Slot<'_> {
    let now = to.map(|tyre| tyre.to_string());
    let put = move |text: Option<&str>| -> Result<(), Wrong> {
        let read = text.map(str::parse).transpose();
        *to = read.map_err(|e: TyreError| (e.to_string(), TyreError::MEND.to_owned()))?;
        Ok(())
    };
    Slot::words(now, put, Otherwise::Open)
}

/// A load and two heights in one line, since none of them tells anything alone.
fn settled(to: &mut Option<String>, units: Units) -> Slot<'_> {
    let now = to.clone();
    let put = move |text: Option<&str>| -> Result<(), Wrong> {
        *to = text
            .map(|text| settled::read(text, units))
            .transpose()?
            .map(|read| read.text);
        Ok(())
    };
    Slot::words(now, put, Otherwise::Open)
}

/// What stands between semicolons; between commas where there is no semicolon.
fn parts(text: &str) -> Vec<&str> {
    let between = if text.contains(';') { ';' } else { ',' };
    text.split(between).collect()
}

/// Where a cavity stands: three lengths in one line, since two of them alone place nothing.
fn cavity_at(to: &mut Option<[Len; 3]>, units: Units) -> Slot<'_> {
    let now = to
        .as_ref()
        .map(|at| at.iter().map(Len::text).collect::<Vec<_>>().join("; "));
    let put = move |text: Option<&str>| -> Result<(), Wrong> {
        const MEND: &str = "type three lengths with a semicolon between them: rearward; right; up, as 40; -36 1/2; 18";
        let Some(text) = text else {
            *to = None;
            return Ok(());
        };
        let read = |text: &str| {
            let written = notation::read(text.trim(), units, Allow::Signed).map_err(|e| (e.to_string(), e.mend()))?;
            if written.value().abs() > MOST {
                let problem = format!("{} is too much; at most {}", written.text(), assumed::text(MOST, units));
                return Err((problem, "check the unit and the decimal point".to_owned()));
            }
            Ok(Len::new(written))
        };
        let read: Vec<Len> = parts(text).into_iter().map(read).collect::<Result<_, Wrong>>()?;
        let given = read.len();
        *to = Some(<[Len; 3]>::try_from(read).map_err(|_| (format!("{given} of three lengths"), MEND.to_owned()))?);
        Ok(())
    };
    Slot::words(now, put, Otherwise::Open)
}
