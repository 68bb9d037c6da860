//! What stands on every drawn sheet of the job: whose it is, and on what paper it is drawn.

use serde::{Deserialize, Serialize};

use super::settings::named;
use crate::UnitsName;

/// What stands on every drawn sheet. An empty text leaves its place in the title block empty; `None` means that the stated
/// default holds.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Sheets {
    /// The shop: the owner of the drawings.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub shop: String,
    /// Who drew them.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub drawn_by: String,
    /// The paper in the printer; default: Tabloid for drawings and Letter for the rest in inches, A3 and A4 in millimetres.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub paper: Option<PaperName>,
    /// How views stand to each other; default: third angle in inches, first angle in millimetres.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub projection: Option<ProjectionName>,
    /// What the cardboard templates have besides the box; default: nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub dummies: Option<DummiesName>,
}

impl Sheets {
    /// Whether nothing was entered.
    pub(crate) fn is_open(&self) -> bool {
        *self == Self::default()
    }
}

named! {
    /// A size of paper.
    PaperName {
        /// 210 x 297 mm.
        A4 = "A4" / "A4",
        /// 297 x 420 mm.
        A3 = "A3" / "A3",
        /// 8 1/2 x 11 in.
        Letter = "Letter" / "Letter",
        /// 11 x 17 in.
        Tabloid = "Tabloid" / "Tabloid",
        /// A3 for drawings, A4 for the rest.
        A3AndA4 = "A3, patterns A4" / "A3, patterns A4",
        /// Tabloid for drawings, Letter for the rest.
        TabloidAndLetter = "Tabloid, patterns Letter" / "Tabloid, patterns Letter",
    }
}

impl PaperName {
    /// What is usual with the units.
    pub const fn default_of(units: UnitsName) -> Self {
        match units {
            UnitsName::Inch => Self::TabloidAndLetter,
            UnitsName::Millimetre => Self::A3AndA4,
        }
    }
}

named! {
    /// How the views of a drawing stand to each other (ISO 5456-2).
    ProjectionName {
        /// The plan under the view from the left.
        First = "first angle" / "first angle",
        /// The plan over the view from the left.
        Third = "third angle" / "third angle",
    }
}

named! {
    /// What the cardboard templates have besides the box.
    DummiesName {
        /// Nothing.
        None = "none" / "the box alone",
        /// The faces of its modules, to make dummies of.
        Modules = "modules" / "faces of modules too",
    }
}

impl ProjectionName {
    /// What holds while nothing was entered: what is usual where such units are used.
    pub(crate) const fn default_of(units: UnitsName) -> Self {
        match units {
            UnitsName::Inch => Self::Third,
            UnitsName::Millimetre => Self::First,
        }
    }
}
