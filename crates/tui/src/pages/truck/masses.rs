//! What the truck weighs and what it may weigh.

use job::TruckField as F;
use job::{Field, TruckFigure, Wheel};

use crate::form::Row;
use crate::model::Model;

/// As it stood before the work.
const BEFORE: [F; 13] = [
    F::Wheelbase,
    F::FrontBefore,
    F::RearBefore,
    F::WheelBefore(Wheel::FrontLeft),
    F::WheelBefore(Wheel::FrontRight),
    F::WheelBefore(Wheel::RearLeft),
    F::WheelBefore(Wheel::RearRight),
    F::BeforeBy,
    F::ReadingOff,
    F::WeighedWith,
    F::CentreHeight,
    F::RaisedFront,
    F::RaisedBy,
];

/// What it may weigh.
const RATINGS: [F; 10] = [
    F::GrossRating,
    F::FrontRating,
    F::RearRating,
    F::FrontTyre,
    F::Figure(TruckFigure::FrontTyres),
    F::RearTyre,
    F::Figure(TruckFigure::RearTyres),
    F::TyreSort,
    F::FrontWheels,
    F::RearWheels,
];

/// Who and what is aboard, and what is wanted.
const ABOARD: [F; 8] = [
    F::Figure(TruckFigure::People),
    F::Person,
    F::SeatsAt,
    F::Cargo,
    F::CargoAt,
    F::LeastPayload,
    F::Figure(TruckFigure::LeastFront),
    F::Figure(TruckFigure::WantedRear),
];

/// Weighed again, and what only estimates rest on.
const AFTER: [F; 9] = [
    F::FrontAfter,
    F::RearAfter,
    F::WheelAfter(Wheel::FrontLeft),
    F::WheelAfter(Wheel::FrontRight),
    F::WheelAfter(Wheel::RearLeft),
    F::WheelAfter(Wheel::RearRight),
    F::Figure(TruckFigure::MassDoubt),
    F::FrontTrack,
    F::RearTrack,
];

/// The entries.
pub(super) fn rows(_: &Model) -> Vec<Row> {
    let groups: [(&str, &[F]); 4] = [
        ("the truck before the work", &BEFORE),
        (
            "what it may weigh, from the plate in the door and the side walls",
            &RATINGS,
        ),
        ("aboard, and wanted", &ABOARD),
        ("weighed after the work", &AFTER),
    ];
    let mut rows = Vec::new();
    for (title, fields) in groups {
        rows.push(Row::Heading(title.to_owned()));
        rows.extend(fields.iter().map(|&field| Row::Field(Field::OfTruck(field))));
    }
    rows
}
