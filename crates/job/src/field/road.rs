//! The values of the truck on the road: what they are called, what they take, and where they are.

use tape::{Allow, Length};

use super::access::{choice, open_choice};
use super::slot::{Otherwise, Slot, Words, Wrong};
use crate::document::truck::road::{Amount, Measure, coastdown, gears, sun_hours};
use crate::{CutOutName, IsolatedName, PlaceName};
use crate::{Job, RoadFigure, assumed};

/// Names one value of the truck on the road.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "the label and help of each say what it is")]
pub enum RoadField {
    Mass,
    Coastdown,
    Tyre,
    Rolled,
    Gears,
    Cruise,
    Top,
    ADay,
    Panels,
    InSeries,
    PanelLength,
    PanelWidth,
    RoofLength,
    RoofWidth,
    PanelGap,
    Place,
    SunHours,
    SummerMonth,
    WinterMonth,
    Isolated,
    CutOut,
    Figure(RoadFigure),
}

/// Those that are no plain figure.
const OWN: [RoadField; 21] = [
    RoadField::Mass,
    RoadField::Coastdown,
    RoadField::Tyre,
    RoadField::Rolled,
    RoadField::Gears,
    RoadField::Cruise,
    RoadField::Top,
    RoadField::ADay,
    RoadField::Panels,
    RoadField::InSeries,
    RoadField::PanelLength,
    RoadField::PanelWidth,
    RoadField::RoofLength,
    RoadField::RoofWidth,
    RoadField::PanelGap,
    RoadField::Place,
    RoadField::SunHours,
    RoadField::SummerMonth,
    RoadField::WinterMonth,
    RoadField::Isolated,
    RoadField::CutOut,
];

impl RoadField {
    /// All of them.
    pub fn all() -> impl Iterator<Item = Self> {
        OWN.into_iter().chain(RoadFigure::ALL.map(Self::Figure))
    }
}

/// Label and help.
pub(super) fn row(field: RoadField) -> (&'static str, &'static str) {
    match field {
        RoadField::Mass => (
            "mass on the road",
            "the truck as driven, with people and load; empty for what its axle loads come to",
        ),
        RoadField::Coastdown => (
            "coast-down",
            "A, B, C of A + B v + C v2 in place of rolling resistance and drag: 38 lbf, 0.25, 0.0224 (mph) or 170 N, 1.1, 0.042 (km/h)",
        ),
        RoadField::Tyre => (
            "driven tyres",
            "size as on the side wall: P215/75R15, 235/75R15 or 31x10.50R15LT",
        ),
        RoadField::Rolled => (
            "rolled in one turn",
            "chalk the tyre, roll the laden truck one turn of the wheel, measure; wins over the size",
        ),
        RoadField::Gears => (
            "gears kept",
            "turns of the motor for one of the propshaft, first gear first: 3.59, 2.09, 1.38, 1; 1 without a gearbox",
        ),
        RoadField::Cruise => (
            "cruising speed",
            "what you drive most on open roads; the gear is chosen for it",
        ),
        RoadField::Top => ("top speed asked for", "the highest speed you want to hold"),
        RoadField::ADay => (
            "wanted in a day",
            "how far it has to go between charges, on a winter day too",
        ),
        RoadField::Panels => ("panels", "how many there are"),
        RoadField::InSeries => (
            "panels in series",
            "how many of them are in series before the step-up stage",
        ),
        RoadField::PanelLength => ("panel, length", "of one panel with its frame"),
        RoadField::PanelWidth => ("panel, width", "of one panel with its frame"),
        RoadField::RoofLength => (
            "place for panels, length",
            "the level rectangle that they lie on: rack, cap or bed cover",
        ),
        RoadField::RoofWidth => ("place for panels, width", "its other side"),
        RoadField::PanelGap => ("gap between panels", "for clamps and for growing in the sun"),
        RoadField::Place => (
            "place",
            "whose sun it is: the nearest of those known; or enter the latitude",
        ),
        RoadField::SunHours => (
            "peak sun hours",
            "your own, of a day on a level panel: summer and winter, 5.8, 2.1, or twelve, January first; they win over place and latitude",
        ),
        RoadField::SummerMonth => (
            "summer told for month",
            "1 to 12; empty for the month with the most sun",
        ),
        RoadField::WinterMonth => (
            "winter told for month",
            "1 to 12; empty for the month with the least sun",
        ),
        RoadField::Isolated => (
            "panels apart from pack",
            "whether the step-up stage has a transformer, so that panels and pack are two circuits",
        ),
        RoadField::CutOut => (
            "over-charge cut-out",
            "whether something other than the stage's own setting stops it at the pack's and each module's highest volts",
        ),
        RoadField::Figure(figure) => (figure.row().label, figure.row().help),
    }
}

/// The longest panel or place for panels.
const MOST_ROOF: Length = Length::mm(15_000);
/// The longest way that a wheel rolls in one turn.
const MOST_ROLLED: Length = Length::mm(6_000);
/// The widest gap between panels.
const MOST_GAP: Length = Length::mm(1_000);
const MOST_PANELS: u32 = 64;

/// Access to the value that `field` names.
pub(super) fn slot(job: &mut Job, field: RoadField) -> Slot<'_> {
    let units = job.units.units();
    let road = &mut job.vehicle.road;
    let size = |to, most| Slot::Length {
        to,
        allow: Allow::AboveZero,
        most,
        otherwise: Otherwise::Open,
    };
    let count = |to, most, otherwise| Slot::Count { to, most, otherwise };
    match field {
        RoadField::Mass => Slot::Mass(&mut road.mass_kg, Otherwise::Open),
        RoadField::Coastdown => text(&mut road.coastdown, |words| coastdown::read(words).map(drop)),
        RoadField::Tyre => text(&mut road.tyre, |words| {
            words.parse::<truck::gear::tyre::Tyre>().map(drop).map_err(|error| {
                let mend = error.mend().to_owned();
                (error.to_string(), mend)
            })
        }),
        RoadField::Gears => text(&mut road.gears, |words| gears::read(words).map(drop)),
        RoadField::Rolled => size(&mut road.rolled, MOST_ROLLED),
        RoadField::Cruise => amount(
            &mut road.cruise,
            units,
            Otherwise::Assumed(assumed::cruise(units).to_string()),
        ),
        RoadField::Top => amount(
            &mut road.top,
            units,
            Otherwise::Assumed(assumed::top(units).to_string()),
        ),
        RoadField::ADay => amount(&mut road.a_day, units, Otherwise::Open),
        RoadField::Panels => count(
            &mut road.panels,
            MOST_PANELS,
            Otherwise::Assumed(assumed::PANELS.to_string()),
        ),
        RoadField::InSeries => count(
            &mut road.in_series,
            MOST_PANELS,
            Otherwise::Assumed(assumed::IN_SERIES.to_string()),
        ),
        RoadField::PanelLength => size(&mut road.panel_length, MOST_ROOF),
        RoadField::PanelWidth => size(&mut road.panel_width, MOST_ROOF),
        RoadField::RoofLength => size(&mut road.roof_length, MOST_ROOF),
        RoadField::RoofWidth => size(&mut road.roof_width, MOST_ROOF),
        RoadField::PanelGap => Slot::Length {
            to: &mut road.panel_gap,
            allow: Allow::ZeroOrMore,
            most: MOST_GAP,
            otherwise: Otherwise::Assumed(assumed::text(assumed::PANEL_GAP, units)),
        },
        RoadField::Place => choice(&mut road.place, PlaceName::ALL, PlaceName::name, assumed::PLACE.name()),
        RoadField::SunHours => text(&mut road.sun_hours, |words| sun_hours::read(words).map(drop)),
        RoadField::SummerMonth => count(&mut road.summer_month, 12, Otherwise::Open),
        RoadField::WinterMonth => count(&mut road.winter_month, 12, Otherwise::Open),
        RoadField::Isolated => open_choice(&mut road.isolated, IsolatedName::ALL, IsolatedName::name),
        RoadField::CutOut => open_choice(&mut road.cut_out, CutOutName::ALL, CutOutName::name),
        RoadField::Figure(figure) => Slot::Figure(figure.row(), road.figures.slot(figure)),
    }
}

/// Words that have to mean something.
fn text(to: &mut Option<String>, reads: fn(&str) -> Result<(), Wrong>) -> Slot<'_> {
    let now = to.clone();
    let put = Box::new(move |words: Option<&str>| {
        words.map_or(Ok(()), reads)?;
        *to = words.map(str::to_owned);
        Ok(())
    });
    Slot::Words(Words { now, put }, Otherwise::Open)
}

/// A speed or a distance.
fn amount<M: Measure>(to: &mut Option<Amount<M>>, units: tape::Units, otherwise: Otherwise) -> Slot<'_> {
    let now = to.map(|amount| amount.to_string());
    let put = Box::new(move |words: Option<&str>| {
        *to = words.map(|words| Amount::read(words, Some(units))).transpose()?;
        Ok(())
    });
    Slot::Words(Words { now, put }, otherwise)
}
