//! What the shop was given, revision by revision, in the words of its papers.
//!
//! Texts are as printed, so that a person can read the file and nothing has to be worked out again to compare.

use serde::{Deserialize, Serialize};

use super::{Id, Len};

/// What the shop was given with one revision.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Issued {
    /// Its letter.
    pub revision: String,
    /// When, as it stands on the papers.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub date: String,
    /// The boxes with their parts.
    #[serde(default)]
    pub boxes: Vec<IssuedBox>,
    /// What they are cut from.
    #[serde(default)]
    pub stock: Vec<IssuedStock>,
}

/// A box as the shop was given it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct IssuedBox {
    /// The number of the box in the job.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// Length, width and height over everything, before coating.
    pub outside: [Len; 3],
    /// Mass of its parts, grams.
    pub grams: u32,
    /// Its welds in words; empty when nothing is welded.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub welds: String,
    /// Each sort of seam; `None` in files from before seams were noted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seams: Option<Vec<IssuedSeam>>,
    /// Where each piece goes that is neither shell nor lid; `None` in files from before places were noted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub added: Option<Vec<IssuedPlace>>,
    /// Tolerance, coating, gasket, fittings and fasteners; `None` in files from before they were noted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub made: Option<Vec<IssuedNote>>,
    /// Its lines of the cut list, by mark.
    #[serde(default)]
    pub parts: Vec<IssuedPart>,
}

/// Seams of one sort as the shop was given them. Their lengths follow from the parts.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct IssuedSeam {
    /// What it joins, and where.
    pub seam: String,
    /// Joint, number off, leg, side and how much of it.
    pub weld: String,
}

/// A piece in or on a box as the shop was given it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct IssuedPlace {
    /// What it is.
    pub what: String,
    /// Its corner at front, left and bottom from the inside of the sheet, and how large it is, millimetres.
    pub at: String,
}

/// What no line of the cut list tells of a box, as the shop was given it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct IssuedNote {
    /// What it is.
    pub what: String,
    /// Its size or class, where it is, or how many.
    pub how: String,
}

/// A line of the cut list as the shop was given it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct IssuedPart {
    /// The mark on the piece.
    pub mark: String,
    /// What it is.
    pub name: String,
    /// Number off.
    pub quantity: u32,
    /// What it is cut from: material and thickness.
    pub stock: String,
    /// Length and width in inches, as printed.
    pub inches: String,
    /// Length and width in millimetres, as printed.
    pub mm: String,
    /// How its ends are cut; empty when both are square.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub ends: String,
    /// Each bend, millimetres and degrees; empty when it is flat.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub bends: String,
    /// Each hole as diameter at x, y, millimetres; empty when it has none.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub holes: String,
    /// The corners of its edge, millimetres; empty when it is a rectangle.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub edge: String,
}

/// What parts are cut from, and how much of it they take, kerf and waste not counted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct IssuedStock {
    /// Sheet or bar.
    pub what: String,
    /// Pieces, area or length.
    pub takes: String,
}
