//! What is taken of the truck when the person has not said.

use tape::Length;

use crate::{Grams, KnownName, TyreSortName, Vehicle};

/// Nobody said that it was weighed.
pub(crate) const BEFORE_BY: KnownName = KnownName::Calculated;
/// One step of a public weighbridge (from memory: look at its ticket).
pub(crate) const WEIGHBRIDGE_OFF: Grams = Grams(20_000);
/// Options, a full tank and years of repairs (from memory).
const CALCULATED_OFF: Grams = Grams(75_000);
/// Across the axle of a light truck (from memory: tape it).
pub(crate) const TRACK: Length = Length::mm(1_500);
/// The centre of gravity of an empty light truck (from memory: weigh it with the rear wheels raised).
pub(crate) const CENTRE_HEIGHT: Length = Length::mm(650);
/// Tyres with a truck's mark; a passenger car's have to be entered as such.
pub(crate) const TYRES: TyreSortName = TyreSortName::Truck;
/// See [`truck::rating::payload::PERSON_KG`].
pub(crate) const PERSON: Grams = Grams(68_000);
/// Two sacks of feed and a toolbox: below it a truck is hardly one (our own figure).
pub(crate) const LEAST_PAYLOAD: Grams = Grams(150_000);
/// From the ground to the hub of a light truck's wheel (from memory: tape it).
pub(crate) const RADIUS: Length = Length::mm(340);
/// Where engines, tanks and motors of light trucks have their middle (from memory).
pub(crate) const COMPONENT_HEIGHT: Length = Length::mm(650);

/// How far off an axle's reading is taken to be.
pub(crate) fn reading_off(vehicle: &Vehicle) -> Grams {
    match vehicle.masses.before_by.unwrap_or(BEFORE_BY) {
        KnownName::Weighbridge => WEIGHBRIDGE_OFF,
        KnownName::Calculated => CALCULATED_OFF,
    }
}

/// Who sits, sits halfway between the axles of a regular cab (from memory: tape it).
pub(crate) fn seats_at(vehicle: &Vehicle) -> Option<Length> {
    part(vehicle, 50)
}

/// The middle of a bed is a little before the rear axle (from memory: tape it).
pub(crate) fn cargo_at(vehicle: &Vehicle) -> Option<Length> {
    part(vehicle, 92)
}

/// That many hundredths of the wheelbase, to the centimetre.
fn part(vehicle: &Vehicle, hundredths: i64) -> Option<Length> {
    let wheelbase = vehicle.masses.wheelbase.as_ref()?.value();
    Some(Length::from_nm(wheelbase.nm() / 100 * hundredths).round_to(Length::mm(10)))
}
