//! Where in a box the person put what was added to it.

use serde::{Deserialize, Serialize};
use tape::Length;

use super::super::Len;

/// What a list of places in a box is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PlacesOf {
    /// Brackets on the front or left wall.
    BracketsLow,
    /// Brackets on the rear or right wall.
    BracketsHigh,
    /// Hold-down bars.
    Bars,
    /// Dividers.
    Dividers,
    /// Lid stiffeners.
    Stiffeners,
    /// Rails under the floor.
    FloorRails,
    /// Holes that are in the rail beside the front or left wall already.
    HolesLow,
    /// Holes that are in the rail beside the rear or right wall already.
    HolesHigh,
}

impl PlacesOf {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::BracketsLow,
        Self::BracketsHigh,
        Self::Bars,
        Self::Dividers,
        Self::Stiffeners,
        Self::FloorRails,
        Self::HolesLow,
        Self::HolesHigh,
    ];

    /// How many lengths tell one entry: a hole is told along, up and across.
    pub const fn lengths(self) -> usize {
        match self {
            Self::HolesLow | Self::HolesHigh => 3,
            _ => 1,
        }
    }
}

/// Places in one box that the person told; an empty list leaves them to the stated rule.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Places {
    /// Middles of brackets along the front or left wall, inside the sheet.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub brackets_low: Vec<[Len; 1]>,
    /// Middles of brackets along the rear or right wall.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub brackets_high: Vec<[Len; 1]>,
    /// Middles of hold-down bars along the box, inside the sheet.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub bars: Vec<[Len; 1]>,
    /// Near faces of dividers along the box, inside the sheet.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub dividers: Vec<[Len; 1]>,
    /// Middles of lid stiffeners along the box, inside the sheet.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub stiffeners: Vec<[Len; 1]>,
    /// Middles of floor rails, along the box when they lie across it and across when they lie along it, inside the sheet.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub floor_rails: Vec<[Len; 1]>,
    /// Holes in the rail beside the front or left wall: along it from the cavity's front (or left), up from the cavity's
    /// floor, and across.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub holes_low: Vec<[Len; 3]>,
    /// Holes in the rail beside the rear or right wall.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub holes_high: Vec<[Len; 3]>,
}

impl Places {
    /// Whether nothing was told.
    pub(crate) fn is_open(&self) -> bool {
        *self == Self::default()
    }

    /// The middles or near faces that were told; none of holes.
    pub(crate) fn of(&self, which: PlacesOf) -> Vec<Length> {
        let list = match which {
            PlacesOf::BracketsLow => &self.brackets_low,
            PlacesOf::BracketsHigh => &self.brackets_high,
            PlacesOf::Bars => &self.bars,
            PlacesOf::Dividers => &self.dividers,
            PlacesOf::Stiffeners => &self.stiffeners,
            PlacesOf::FloorRails => &self.floor_rails,
            PlacesOf::HolesLow | PlacesOf::HolesHigh => return Vec::new(),
        };
        list.iter().map(|[place]| place.value()).collect()
    }

    /// The list as text, as `120 mm; 480 mm` or `120 mm x 60 mm x 17 mm; ...`; `None` when it is empty.
    pub(crate) fn text(&self, which: PlacesOf) -> Option<String> {
        fn joined<const N: usize>(list: &[[Len; N]]) -> Option<String> {
            let one = |entry: &[Len; N]| entry.each_ref().map(Len::text).join(" x ");
            (!list.is_empty()).then(|| list.iter().map(one).collect::<Vec<_>>().join("; "))
        }
        match which {
            PlacesOf::BracketsLow => joined(&self.brackets_low),
            PlacesOf::BracketsHigh => joined(&self.brackets_high),
            PlacesOf::Bars => joined(&self.bars),
            PlacesOf::Dividers => joined(&self.dividers),
            PlacesOf::Stiffeners => joined(&self.stiffeners),
            PlacesOf::FloorRails => joined(&self.floor_rails),
            PlacesOf::HolesLow => joined(&self.holes_low),
            PlacesOf::HolesHigh => joined(&self.holes_high),
        }
    }

    /// Takes over a list that was read; entries have as many lengths as [`PlacesOf::lengths`] says.
    pub(crate) fn put(&mut self, which: PlacesOf, list: Vec<Vec<Len>>) {
        fn of<const N: usize>(list: Vec<Vec<Len>>) -> Vec<[Len; N]> {
            list.into_iter().filter_map(|entry| entry.try_into().ok()).collect()
        }
        match which {
            PlacesOf::BracketsLow => self.brackets_low = of(list),
            PlacesOf::BracketsHigh => self.brackets_high = of(list),
            PlacesOf::Bars => self.bars = of(list),
            PlacesOf::Dividers => self.dividers = of(list),
            PlacesOf::Stiffeners => self.stiffeners = of(list),
            PlacesOf::FloorRails => self.floor_rails = of(list),
            PlacesOf::HolesLow => self.holes_low = of(list),
            PlacesOf::HolesHigh => self.holes_high = of(list),
        }
    }
}
