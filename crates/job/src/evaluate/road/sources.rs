//! Where the defaults of the road are from.

use truck::Source;
use truck::charge::CONTINUOUS_SHARE;
use truck::cycle::CITY_SHARE;
use truck::road::usual;
use truck::sun::losses::USUAL_SOURCE;
use truck::sun::place::CLEARNESS;

use crate::document::{Figure, RoadFigure};
use crate::{Field, RoadField};

const NOTHING_KNOWN: Source =
    Source::computed("nothing is counted until it is known that the drive brakes the truck and charges by it");
const STEADY: Source = Source::memory("12 V converter, pumps and lamps of small electric trucks, 200 to 400 W");
const HEAT: Source =
    Source::memory("electric cabin heaters of 4 to 6 kW run about half of the time at freezing; measure yours");
const COLD: Source = Source::memory("lithium packs give 10 to 30 % less at freezing; the older the more");
const RESERVE: Source = Source::memory("common practice: a tenth is not planned on");
const SPEEDS: Source = Source::memory("usual speeds of country roads and highways");
const TAPER: Source = Source::memory("chargers end near a fifth of their power; an estimate");
const STAGE: Source = Source::memory("plain step-up stages of a few hundred watts, 0.88 to 0.95");
const GAP: Source = Source::memory("clamps between panels of a rack take 20 mm");
const ONE: Source = Source::computed("one, until more are entered");
const MIDDLE: Source = Source::computed("the middle one of the places that are known");
const ELECTRICS: Source = Source::memory("default of the pack's own figure");

/// Where the default of a field is from; `None` for fields that have none.
pub(super) fn of_default(field: Field) -> Option<Source> {
    use RoadFigure as F;
    let source = match field {
        Field::OfRoad(RoadField::Cruise | RoadField::Top) => SPEEDS,
        Field::OfRoad(RoadField::Panels | RoadField::InSeries) => ONE,
        Field::OfRoad(RoadField::PanelGap) => GAP,
        Field::OfRoad(RoadField::Place) => MIDDLE,
        Field::OfRoad(RoadField::Figure(figure)) => match figure {
            F::Rolling => usual::ROLLING.source,
            F::DragArea => usual::DRAG_AREA_M2.source,
            F::Air => usual::AIR_KG_PER_M3.source,
            F::MassFactor => usual::MASS_FACTOR.source,
            F::DriveEfficiency => usual::DRIVE_EFFICIENCY.source,
            F::Regen => NOTHING_KNOWN,
            F::SteadyDraw => STEADY,
            F::CabinHeat => HEAT,
            F::ColdLeft => COLD,
            F::Reserve => RESERVE,
            F::CityShare => CITY_SHARE.source,
            F::TaperLeft => TAPER,
            F::Shade => USUAL_SOURCE,
            F::StepUp => STAGE,
            F::Clearness => CLEARNESS.source,
            _ => return None,
        },
        Field::Figure(Figure::LineAmps) => CONTINUOUS_SHARE.source,
        Field::Figure(_) => ELECTRICS,
        _ => return None,
    };
    Some(source)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The table of figures holds the same defaults as the formulas' crate.
    #[test]
    fn defaults_are_those_of_their_source() {
        let given = crate::RoadFigures::default();
        let same = [
            (RoadFigure::Rolling, usual::ROLLING.value * 1_000.0),
            (RoadFigure::DragArea, usual::DRAG_AREA_M2.value),
            (RoadFigure::Air, usual::AIR_KG_PER_M3.value),
            (RoadFigure::MassFactor, usual::MASS_FACTOR.value),
            (RoadFigure::DriveEfficiency, usual::DRIVE_EFFICIENCY.value * 100.0),
            (RoadFigure::CityShare, CITY_SHARE.value * 100.0),
            (RoadFigure::Clearness, CLEARNESS.value * 100.0),
        ];
        for (figure, value) in same {
            assert!((given.sure(figure) - value).abs() < 1e-9, "{figure:?}");
        }
    }

    #[test]
    fn every_default_says_where_it_is_from() {
        for figure in RoadFigure::ALL {
            let source = of_default(Field::OfRoad(RoadField::Figure(figure)));
            assert_eq!(figure.row().default.is_some(), source.is_some(), "{figure:?}");
        }
    }
}
