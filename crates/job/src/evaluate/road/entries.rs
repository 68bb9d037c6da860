//! Every entry that the results rest on, with where it is from.

use super::given::Given;
use super::sources;
use crate::document::{Figure, RoadFigure};
use crate::{Field, Job, RoadField, State, field};

/// An entry as it is used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// The field.
    pub field: Field,
    /// What it is called.
    pub label: &'static str,
    /// The value with its unit.
    pub text: String,
    /// Whether the default holds because nobody entered it.
    pub is_assumed: bool,
    /// Where it is from.
    pub source: String,
}

/// Where an entry is from that the person made.
pub(super) const YOURS: &str = "your entry";

const fn figure(figure: RoadFigure) -> Field {
    Field::OfRoad(RoadField::Figure(figure))
}

/// In place of a coast-down.
const BY_FORMULA: [RoadFigure; 3] = [RoadFigure::Rolling, RoadFigure::DragArea, RoadFigure::Air];

/// What the panels' share rests on.
pub(super) const OF_SUN: [Field; 20] = [
    figure(RoadFigure::PanelWatts),
    Field::OfRoad(RoadField::Panels),
    Field::OfRoad(RoadField::InSeries),
    figure(RoadFigure::PanelVolts),
    figure(RoadFigure::PanelOpenVolts),
    Field::OfRoad(RoadField::PanelLength),
    Field::OfRoad(RoadField::PanelWidth),
    Field::OfRoad(RoadField::RoofLength),
    Field::OfRoad(RoadField::RoofWidth),
    Field::OfRoad(RoadField::PanelGap),
    Field::OfRoad(RoadField::Place),
    Field::OfRoad(RoadField::SunHours),
    figure(RoadFigure::Latitude),
    figure(RoadFigure::Clearness),
    Field::OfRoad(RoadField::SummerMonth),
    Field::OfRoad(RoadField::WinterMonth),
    figure(RoadFigure::Shade),
    figure(RoadFigure::StepUp),
    Field::OfRoad(RoadField::Isolated),
    Field::OfRoad(RoadField::CutOut),
];

/// The fields that are used, in the order they are told.
pub(in crate::evaluate) fn used(job: &Job) -> Vec<Field> {
    let road = &job.vehicle.road;
    let mut fields = vec![Field::OfRoad(RoadField::Mass)];
    if road.coastdown.is_some() {
        fields.push(Field::OfRoad(RoadField::Coastdown));
    } else {
        fields.extend(BY_FORMULA.map(figure));
    }
    fields.extend(
        [
            RoadFigure::MassFactor,
            RoadFigure::DriveEfficiency,
            RoadFigure::Regen,
            RoadFigure::SteadyDraw,
            RoadFigure::CabinHeat,
            RoadFigure::ColdLeft,
            RoadFigure::UsableKwh,
            RoadFigure::Reserve,
            RoadFigure::CityShare,
            RoadFigure::Grade,
            RoadFigure::MotorKw,
            RoadFigure::MotorNm,
        ]
        .map(figure),
    );
    fields.extend([RoadField::Cruise, RoadField::Top, RoadField::ADay].map(Field::OfRoad));
    fields.extend(if road.rolled.is_some() {
        [RoadField::Rolled, RoadField::Gears].map(Field::OfRoad)
    } else {
        [RoadField::Tyre, RoadField::Gears].map(Field::OfRoad)
    });
    fields.extend(
        [
            RoadFigure::FinalDrive,
            RoadFigure::BaseRpm,
            RoadFigure::BestRpm,
            RoadFigure::LimitRpm,
        ]
        .map(figure),
    );
    let of_line = [
        Figure::LineVolts,
        Figure::LineAmps,
        Figure::ChargerPercent,
        Figure::SocLow,
        Figure::SocHigh,
    ];
    fields.extend(of_line.map(Field::Figure));
    fields.extend(
        [
            RoadFigure::Circuit,
            RoadFigure::ChargeFrom,
            RoadFigure::ChargeTo,
            RoadFigure::TaperKnee,
        ]
        .map(figure),
    );
    if road.figures.is_given(RoadFigure::TaperKnee) {
        fields.push(figure(RoadFigure::TaperLeft));
    }
    if road.figures.is_given(RoadFigure::PanelWatts) {
        let by_latitude = road.figures.is_given(RoadFigure::Latitude);
        let by_hours = road.sun_hours.is_some();
        let is_used = |field: &Field| match *field {
            Field::OfRoad(RoadField::Place) => !by_latitude,
            field => field != figure(RoadFigure::Clearness) || (by_latitude && !by_hours),
        };
        fields.extend(OF_SUN.into_iter().filter(is_used));
    }
    fields
}

pub(super) fn list(job: &Job, given: &Given<'_>) -> Vec<Entry> {
    field::show(job, &used(job))
        .into_iter()
        .filter_map(|(field, shown)| match (field, &given.mass) {
            // Not entered, but known from the axles.
            (Field::OfRoad(RoadField::Mass), Some(mass)) if shown.state != State::Given => Some(Entry {
                field,
                label: shown.label,
                text: format!("{:.0} kg", mass.kg),
                is_assumed: mass.is_assumed,
                source: mass.from.clone(),
            }),
            // Not entered, but known from the packs.
            (field, _) if field == figure(RoadFigure::UsableKwh) && shown.state != State::Given => {
                let kwh = given.usable_kwh()?;
                let packs = given.packs.count.iter();
                let each: Vec<String> = packs
                    .map(|pack| format!("{} {:.1} kWh", pack.name, pack.usable_kwh))
                    .collect();
                Some(Entry {
                    field,
                    label: shown.label,
                    text: format!("{kwh:.1} kWh"),
                    is_assumed: false,
                    source: format!("the pack as laid out: {}", each.join(" + ")),
                })
            }
            _ if shown.state == State::Given => Some(Entry {
                field,
                label: shown.label,
                text: shown.text,
                is_assumed: false,
                source: YOURS.to_owned(),
            }),
            _ if shown.state == State::Assumed => Some(Entry {
                field,
                label: shown.label,
                text: shown.text,
                is_assumed: true,
                source: sources::of_default(field)
                    .map(|source| source.words())
                    .unwrap_or_default(),
            }),
            _ => None,
        })
        .collect()
}
