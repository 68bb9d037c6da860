//! The truck on the road: what it takes, its gears, where it is charged, and its panels. Every entry may be left out.

mod amount;
pub(crate) mod coastdown;
mod figures;
pub(crate) mod gears;
pub(crate) mod sun_hours;

use serde::{Deserialize, Serialize};
use truck::sun::place::{PLACES, Place};

use crate::document::quantity::optional;
use crate::document::settings::named;
use crate::{Grams, Len};

pub use amount::{Amount, Distance, Measure, OfDistance, OfSpeed, Speed, Unit as AmountUnit};
pub use figures::{RoadFigure, RoadFigures};

/// What was entered of the truck on the road. `None` means that the stated default holds, if there is one.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Road {
    /// The truck as driven, people and load with it.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub mass_kg: Option<Grams>,
    /// A coast-down in place of rolling resistance and drag, as `38 lbf, 0.25, 0.0224`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub coastdown: Option<String>,
    /// Size of the driven tyres as on their side wall.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tyre: Option<String>,
    /// How far the truck goes for one turn of the driven wheels, rolled out on the floor; wins over the size.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rolled: Option<Len>,
    /// Ratios of the gears that are kept, first gear first, as `3.59, 2.09, 1.38, 1`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gears: Option<String>,
    /// The speed that is driven most on open roads.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cruise: Option<Speed>,
    /// The highest speed that is asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub top: Option<Speed>,
    /// How far it has to go in a day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub a_day: Option<Distance>,
    /// How many panels there are.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub panels: Option<u32>,
    /// How many of them are in series.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub in_series: Option<u32>,
    /// Length of one panel.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub panel_length: Option<Len>,
    /// Width of one panel.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub panel_width: Option<Len>,
    /// Length of the level place for panels.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub roof_length: Option<Len>,
    /// Its width.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub roof_width: Option<Len>,
    /// Gap from panel to panel.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub panel_gap: Option<Len>,
    /// A place whose sun is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<PlaceName>,
    /// Peak sun hours of a day that the person has, summer and winter or month by month, as `5.8, 2.1`; wins over the place.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sun_hours: Option<String>,
    /// The month that summer is told for, 1 to 12.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub summer_month: Option<u32>,
    /// The month that winter is told for, 1 to 12.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub winter_month: Option<u32>,
    /// Whether the step-up stage isolates the panels from the pack.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub isolated: Option<IsolatedName>,
    /// Whether something other than the step-up stage's own setting stops charging at the pack's highest volts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cut_out: Option<CutOutName>,
    /// Plain figures, each by its key.
    #[serde(skip_serializing_if = "RoadFigures::is_empty")]
    pub figures: RoadFigures,
}

impl Road {
    /// Whether nothing was entered.
    pub(crate) fn is_open(&self) -> bool {
        *self == Self::default()
    }
}

named! {
    /// A place whose sun is known.
    PlaceName {
        /// 25.8 degrees north.
        Miami = "Miami" / "Miami, Florida",
        /// 36.1 degrees north.
        Greensboro = "Greensboro" / "Greensboro, North Carolina",
        /// 55.3 degrees north.
        SandPoint = "Sand Point" / "Sand Point, Alaska",
    }
}

impl PlaceName {
    /// The place with its sun.
    pub const fn place(self) -> &'static Place {
        match self {
            Self::Miami => &PLACES[0],
            Self::Greensboro => &PLACES[1],
            Self::SandPoint => &PLACES[2],
        }
    }
}

named! {
    /// Whether the step-up stage isolates.
    IsolatedName {
        /// It has a transformer.
        Yes = "yes" / "yes, by a transformer",
        /// Panels and pack are one circuit.
        No = "no" / "no, one circuit",
    }
}

named! {
    /// Whether charging by the panels is cut out.
    CutOutName {
        /// By something of its own.
        Yes = "yes" / "yes, on its own",
        /// Only by the stage's setting, or not at all.
        No = "no" / "no, by the stage's setting at most",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_place_is_the_one_of_its_name() {
        let names: Vec<&str> = PlaceName::ALL.iter().map(|name| name.name()).collect();
        assert_eq!(
            names,
            PlaceName::ALL.iter().map(|name| name.place().name).collect::<Vec<_>>()
        );
        assert_eq!(names.len(), PLACES.len());
    }

    #[test]
    fn a_road_is_read_as_it_was_written() {
        let text =
            r#"{"mass_kg":1650,"cruise":"55 mph","a_day":"60 km","place":"Miami","figures":{"regen_percent":50}}"#;
        let road: Road = serde_json::from_str(text).unwrap();
        assert_eq!(serde_json::to_string(&road).unwrap(), text);
        assert!(serde_json::from_str::<Road>(r#"{"cruise":"55"}"#).is_err());
        assert!(serde_json::from_str::<Road>(r#"{"figures":{"regen_percent":101}}"#).is_err());
        assert!(serde_json::from_str::<Road>(r#"{"speed":1}"#).is_err());
        assert!(Road::default().is_open());
    }
}
