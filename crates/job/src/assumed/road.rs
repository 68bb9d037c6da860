//! What is taken of the truck on the road when the person has not said. Plain figures have theirs in their table; where all
//! of them are from is told in `evaluate::road`.

use tape::{Length, Units};

use crate::{PlaceName, Speed};

/// What is driven most on open roads: 55 mph, or 90 km/h.
pub(crate) const fn cruise(units: Units) -> Speed {
    match units {
        Units::Inch => Speed::whole(55, units),
        Units::Millimetre => Speed::whole(90, units),
    }
}

/// What it should hold: 65 mph, or 105 km/h.
pub(crate) const fn top(units: Units) -> Speed {
    match units {
        Units::Inch => Speed::whole(65, units),
        Units::Millimetre => Speed::whole(105, units),
    }
}

/// One panel, until more are entered.
pub(crate) const PANELS: u32 = 1;
/// None in series with another.
pub(crate) const IN_SERIES: u32 = 1;
/// Between the frames of panels, for clamps and for growing in the sun.
pub(crate) const PANEL_GAP: Length = Length::mm(20);
/// The middle one of the places that are known.
pub(crate) const PLACE: PlaceName = PlaceName::Greensboro;
