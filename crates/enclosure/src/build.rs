//! From a box to its parts.

use tape::{Area, Length};

use crate::{BoxSpec, HolePattern, Part, SpecError};

/// A band that sticks out beyond the body, told from the top of the lid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RimBand {
    /// How far it reaches out from the walls.
    pub out: Length,
    /// Its lower edge, below the top of the lid.
    pub below_top: Length,
    /// Its upper edge, above the top of the lid (screw heads).
    pub above_top: Length,
}

/// A box as built: sizes, parts, mass.
#[derive(Clone, Debug, PartialEq)]
pub struct Built {
    /// Length and width over the walls, height from under the floor to the rim: no lid, flange or frame.
    pub shell: [Length; 3],
    /// Length and width over the walls, height from under the floor to the top of the lid.
    pub body: [Length; 3],
    /// Length and width over everything (flange, cap), height over screw heads.
    pub overall: [Length; 3],
    /// What sticks out beyond the body, as solids that take part in clearances: flange with lid edge, screw heads and
    /// nuts, or the cap's skirt.
    pub rims: Vec<RimBand>,
    /// Gasket when squeezed plus lid: from the rim to the top of the lid.
    pub above_rim: Length,
    /// The pieces, floor first.
    pub parts: Vec<Part>,
    /// The lid's holes, when it is screwed.
    pub lid_holes: Option<HolePattern>,
    /// Mass of all parts in grams.
    pub grams: f64,
    /// Outside surface to coat (body with lid closed, flange both sides).
    pub coat_area: Area,
    /// Length of gasket.
    pub gasket_length: Length,
}

/// Builds the box.
///
/// # Errors
///
/// [`SpecError`] when a size or thickness is not above zero or parts would pass through each other.
pub fn build(_spec: &BoxSpec) -> Result<Built, SpecError> {
    todo!()
}
