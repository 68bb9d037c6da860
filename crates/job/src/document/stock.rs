//! What sheets and bars there are to cut from, bought or on hand, and how they are cut.

use enclosure::Form;
use enclosure::material::Material;
use enclosure::nest::sheets::Cutting;
use serde::{Deserialize, Serialize};

use super::quantity::optional;
use super::settings::named;
use super::{Len, LinerName, MaterialName, Price, Thickness};

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
    pub material: Option<StockMaterialName>,
    /// How thick it is, of a rod its thread; none for whatever is asked for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness: Option<Thickness>,
    /// Its length.
    pub length: Len,
    /// Of a sheet, its other side; of a flat bar, its width; of an angle, its leg; none for any bar and for rods.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width: Option<Len>,
    /// What one costs, in the person's own money.
    #[serde(default, with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub price: Option<Price>,
}

named! {
    /// What a sheet or a bar on sale or on hand is made of.
    StockMaterialName {
        /// Mild steel.
        MildSteel = "mild steel" / "mild steel",
        /// Zinc-coated steel.
        Galvanised = "galvanised steel" / "galvanised steel",
        /// Stainless 304.
        Stainless = "stainless 304" / "stainless 304",
        /// Aluminium 5052.
        Aluminium5052 = "aluminium 5052" / "aluminium 5052",
        /// Aluminium 6061.
        Aluminium6061 = "aluminium 6061" / "aluminium 6061",
        /// Glass cloth and epoxy.
        GlassFibre = "glass-fibre laminate" / "glass-fibre laminate",
        /// Paper and phenolic resin.
        PhenolicPaper = "phenolic paper laminate" / "phenolic paper laminate",
        /// Polycarbonate.
        Polycarbonate = "polycarbonate" / "polycarbonate",
        /// Polypropylene.
        Polypropylene = "polypropylene" / "polypropylene",
        /// Polyethylene of high density.
        Polyethylene = "polyethylene" / "polyethylene",
        /// EPDM rubber.
        Epdm = "EPDM rubber" / "EPDM rubber",
    }
}

impl From<MaterialName> for StockMaterialName {
    fn from(material: MaterialName) -> Self {
        match material {
            MaterialName::MildSteel => Self::MildSteel,
            MaterialName::Galvanised => Self::Galvanised,
            MaterialName::Stainless => Self::Stainless,
            MaterialName::Aluminium5052 => Self::Aluminium5052,
            MaterialName::Aluminium6061 => Self::Aluminium6061,
        }
    }
}

impl StockMaterialName {
    /// The material.
    pub const fn material(self) -> Material {
        match self {
            Self::MildSteel => MaterialName::MildSteel.material(),
            Self::Galvanised => MaterialName::Galvanised.material(),
            Self::Stainless => MaterialName::Stainless.material(),
            Self::Aluminium5052 => MaterialName::Aluminium5052.material(),
            Self::Aluminium6061 => MaterialName::Aluminium6061.material(),
            Self::GlassFibre => Material::Liner(LinerName::GlassFibre.sort()),
            Self::PhenolicPaper => Material::Liner(LinerName::PhenolicPaper.sort()),
            Self::Polycarbonate => Material::Liner(LinerName::Polycarbonate.sort()),
            Self::Polypropylene => Material::Liner(LinerName::Polypropylene.sort()),
            Self::Polyethylene => Material::Liner(LinerName::Polyethylene.sort()),
            Self::Epdm => Material::Liner(LinerName::Epdm.sort()),
        }
    }
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
        /// Flat bar or angle of any section.
        Bar = "bar" / "any bar",
        /// Flat bar.
        FlatBar = "flat bar" / "flat bar",
        /// Equal angle.
        Angle = "angle" / "angle",
        /// Threaded rod; its thickness is its thread.
        Rod = "rod" / "threaded rod",
    }
}

impl StockForm {
    /// Whether parts of this form may be cut from it.
    pub const fn serves(self, form: Form) -> bool {
        match self {
            Self::Sheet => matches!(form, Form::Sheet),
            // No thread is cut from a plain bar.
            Self::Bar => matches!(form, Form::FlatBar | Form::Angle),
            Self::FlatBar => matches!(form, Form::FlatBar),
            Self::Angle => matches!(form, Form::Angle),
            Self::Rod => matches!(form, Form::Rod),
        }
    }

    /// Whether it may have a width: any bar has any, and a rod is as wide as its thread.
    pub const fn has_width(self) -> bool {
        !matches!(self, Self::Bar | Self::Rod)
    }
}
