//! How the truck stands on its wheels, and what is lowest under it.

use job::TruckField as F;
use job::{Field, TruckFigure};

use super::lists;
use crate::form::Row;
use crate::model::Model;

/// Wheels, overhangs, frame, springs.
const ENTRIES: [F; 13] = [
    F::FrontRadius,
    F::RearRadius,
    F::FrontOverhang,
    F::FrontLow,
    F::RearOverhang,
    F::RearLow,
    F::FrameHeight,
    F::Figure(TruckFigure::FrontSpring),
    F::Figure(TruckFigure::RearSpring),
    F::FrontSettled,
    F::RearSettled,
    F::Figure(TruckFigure::FrontTyreRate),
    F::Figure(TruckFigure::RearTyreRate),
];

/// The entries, then the low points.
pub(super) fn rows(model: &Model) -> Vec<Row> {
    let mut rows = vec![Row::Heading("wheels and ground, before the work".to_owned())];
    rows.extend(ENTRIES.map(|field| Row::Field(Field::OfTruck(field))));
    rows.extend(lists::points(model));
    rows
}
