//! Every value of the truck's masses, components and underside, by name.

mod access;
mod words;

use geometry::Axis;
use truck::mass::wheel::Wheel;

use super::Field;
use crate::{Id, Job, TruckFigure};

pub(super) use access::slot;
pub(super) use words::row;

/// Names one value of the truck.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "the label of each field says what it is; see `Field::label`")]
pub enum TruckField {
    Wheelbase,
    FrontTrack,
    RearTrack,
    FrontBefore,
    RearBefore,
    WheelBefore(Wheel),
    BeforeBy,
    ReadingOff,
    WeighedWith,
    CentreHeight,
    RaisedFront,
    RaisedBy,
    GrossRating,
    FrontRating,
    RearRating,
    FrontTyre,
    RearTyre,
    TyreSort,
    FrontWheels,
    RearWheels,
    Person,
    SeatsAt,
    Cargo,
    CargoAt,
    LeastPayload,
    FrontAfter,
    RearAfter,
    WheelAfter(Wheel),
    FrontRadius,
    RearRadius,
    FrontOverhang,
    FrontLow,
    RearOverhang,
    RearLow,
    FrameHeight,
    FrontSettled,
    RearSettled,
    Figure(TruckFigure),
    /// Where a cavity stands in the truck.
    CavityAt(Id),
    /// The place of a component is its index in the list.
    ComponentName(usize),
    ComponentWay(usize),
    ComponentMass(usize),
    ComponentAt(usize, Axis),
    /// The place of a low point is its index in the list.
    PointName(usize),
    PointAlong(usize),
    PointTo(usize),
    PointHeight(usize),
    PointRidesOn(usize),
    /// The place of what is carried is its index in the list.
    CarriedName(usize),
    CarriedSets(usize),
    CarriedMass(usize),
    CarriedAlong(usize),
}

impl TruckField {
    /// The values that every truck has, in the order they are asked for.
    pub const OF_TRUCK: [Self; 43] = [
        Self::Wheelbase,
        Self::FrontTrack,
        Self::RearTrack,
        Self::FrontBefore,
        Self::RearBefore,
        Self::WheelBefore(Wheel::FrontLeft),
        Self::WheelBefore(Wheel::FrontRight),
        Self::WheelBefore(Wheel::RearLeft),
        Self::WheelBefore(Wheel::RearRight),
        Self::BeforeBy,
        Self::ReadingOff,
        Self::WeighedWith,
        Self::CentreHeight,
        Self::RaisedFront,
        Self::RaisedBy,
        Self::GrossRating,
        Self::FrontRating,
        Self::RearRating,
        Self::FrontTyre,
        Self::RearTyre,
        Self::TyreSort,
        Self::FrontWheels,
        Self::RearWheels,
        Self::Person,
        Self::SeatsAt,
        Self::Cargo,
        Self::CargoAt,
        Self::LeastPayload,
        Self::FrontAfter,
        Self::RearAfter,
        Self::WheelAfter(Wheel::FrontLeft),
        Self::WheelAfter(Wheel::FrontRight),
        Self::WheelAfter(Wheel::RearLeft),
        Self::WheelAfter(Wheel::RearRight),
        Self::FrontRadius,
        Self::RearRadius,
        Self::FrontOverhang,
        Self::FrontLow,
        Self::RearOverhang,
        Self::RearLow,
        Self::FrameHeight,
        Self::FrontSettled,
        Self::RearSettled,
    ];

    /// The values of the component at a place in the list.
    pub const fn of_component(index: usize) -> [Self; 6] {
        [
            Self::ComponentName(index),
            Self::ComponentWay(index),
            Self::ComponentMass(index),
            Self::ComponentAt(index, Axis::X),
            Self::ComponentAt(index, Axis::Y),
            Self::ComponentAt(index, Axis::Z),
        ]
    }

    /// The values of the low point at a place in the list.
    pub const fn of_point(index: usize) -> [Self; 5] {
        [
            Self::PointName(index),
            Self::PointAlong(index),
            Self::PointTo(index),
            Self::PointHeight(index),
            Self::PointRidesOn(index),
        ]
    }

    /// The values of what is carried at a place in the list.
    pub const fn of_carried(index: usize) -> [Self; 4] {
        [
            Self::CarriedName(index),
            Self::CarriedSets(index),
            Self::CarriedMass(index),
            Self::CarriedAlong(index),
        ]
    }
}

/// Every value of the truck that `job` has now, each with its place in the file.
pub(super) fn placed(job: &Job) -> Vec<(String, Field)> {
    let vehicle = || "vehicle".to_owned();
    let of_truck = TruckField::OF_TRUCK.into_iter();
    let of_figures = TruckFigure::ALL.into_iter().map(TruckField::Figure);
    let mut found: Vec<(String, TruckField)> = of_truck.chain(of_figures).map(|field| (vehicle(), field)).collect();
    let cavities = job.cavities.iter().enumerate();
    found.extend(cavities.map(|(i, cavity)| (format!("cavities[{i}].place"), TruckField::CavityAt(cavity.id))));
    for i in 0..job.vehicle.components.len() {
        let place = format!("vehicle.components[{i}]");
        found.extend(TruckField::of_component(i).map(|field| (place.clone(), field)));
    }
    for i in 0..job.vehicle.ground.points.len() {
        let place = format!("vehicle.ground.points[{i}]");
        found.extend(TruckField::of_point(i).map(|field| (place.clone(), field)));
    }
    for i in 0..job.vehicle.carried.len() {
        let place = format!("vehicle.carried[{i}]");
        found.extend(TruckField::of_carried(i).map(|field| (place.clone(), field)));
    }
    found
        .into_iter()
        .map(|(place, field)| (place, Field::OfTruck(field)))
        .collect()
}
