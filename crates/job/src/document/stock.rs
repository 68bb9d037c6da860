//! What sheets and bars there are to cut from, bought or on hand, and how they are cut.

use enclosure::Form;
use enclosure::nest::sheets::Cutting;
use serde::{Deserialize, Serialize};

use super::quantity::optional;
use super::settings::named;
use super::{Len, MaterialName, Price, Thickness};

/// What parts are cut from, and how. `None` means that the stated default holds.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Stock {
    /// How sheets are cut.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cutting: Option<CuttingName>,
    /// What a cut through a sheet takes, or the bridge that is left between parts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kerf: Option<Len>,
    /// What is lost along each edge of a sheet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub trim: Option<Len>,
    /// Whether parts may lie across a sheet's grain.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub turning: Option<TurningName>,
    /// What a cut through a bar takes.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub saw_kerf: Option<Len>,
    /// What is cut off each end of a bar.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub saw_trim: Option<Len>,
    /// The least side of an offcut of sheet, and the least length of one of bar, that is worth keeping.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub keep: Option<Len>,
    /// Sheets and bars on sale, and offcuts on hand.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub pieces: Vec<StockPiece>,
}

impl Stock {
    /// Whether nothing was entered.
    pub(crate) fn is_open(&self) -> bool {
        *self == Self::default()
    }
}

/// A sheet or a bar of one size, on sale or on hand.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct StockPiece {
    /// Sheet or bar.
    pub form: StockForm,
    /// How many are on hand; none when it is bought, as many as wanted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub on_hand: Option<u32>,
    /// What it is made of; none for whatever is asked for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub material: Option<MaterialName>,
    /// How thick it is; none for whatever is asked for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness: Option<Thickness>,
    /// Its length.
    pub length: Len,
    /// Of a sheet, its other side; of a flat bar, its width; of an angle, its leg; none for any bar.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width: Option<Len>,
    /// What one costs, in the person's own money.
    #[serde(default, with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub price: Option<Price>,
}

named! {
    /// How sheets are cut.
    CuttingName {
        /// Edge to edge.
        Shear = "shear" / "shear or saw, edge to edge",
        /// Along any line.
        Laser = "laser" / "laser, along any line",
    }
}

impl CuttingName {
    /// The way of cutting.
    pub const fn cutting(self) -> Cutting {
        match self {
            Self::Shear => Cutting::Guillotine,
            Self::Laser => Cutting::Free,
        }
    }
}

named! {
    /// Whether parts may lie across the grain.
    TurningName {
        /// They may.
        Either = "either" / "either way round",
        /// They may not.
        WithGrain = "with grain" / "length along the sheet's",
    }
}

named! {
    /// Sheet or bar.
    StockForm {
        /// Sheet.
        Sheet = "sheet" / "sheet",
        /// Bar of any section.
        Bar = "bar" / "any bar",
        /// Flat bar.
        FlatBar = "flat bar" / "flat bar",
        /// Equal angle.
        Angle = "angle" / "angle",
    }
}

impl StockForm {
    /// Whether parts of this form may be cut from it.
    pub const fn serves(self, form: Form) -> bool {
        match self {
            Self::Sheet => matches!(form, Form::Sheet),
            Self::Bar => !matches!(form, Form::Sheet),
            Self::FlatBar => matches!(form, Form::FlatBar),
            Self::Angle => matches!(form, Form::Angle),
        }
    }
}
