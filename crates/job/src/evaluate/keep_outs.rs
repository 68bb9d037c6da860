//! What must stay free in a cavity, as it counts.

use geometry::{Cuboid, Face, Faces};
use tape::Length;

use crate::Id;
use crate::assumed::Trust;
use crate::document::{Cavity, Source};

/// A keep-out as it counts.
#[derive(Clone, Debug, PartialEq)]
pub struct KeepOutResult {
    /// Its number.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// Where it comes from.
    pub source: Source,
    /// The region, as it was taped.
    pub cuboid: Cuboid,
    /// Standard uncertainty of each of its faces.
    pub sigmas: Faces<Length>,
    /// The region that is kept free for sure: with so many of them at each face.
    pub sure: Cuboid,
    /// The margin asked for to it.
    pub margin: Length,
    /// Whether it counts: not taken out.
    pub counts: bool,
}

impl KeepOutResult {
    /// What is kept free beyond a face for what the tape may be off.
    pub fn held(&self, face: Face) -> Length {
        (self.sure.face(face) - self.cuboid.face(face)).abs()
    }
}

pub(super) fn evaluate(cavity: &Cavity, trust: &Trust) -> Vec<KeepOutResult> {
    cavity
        .keep_outs
        .iter()
        .map(|keep_out| KeepOutResult {
            id: keep_out.id,
            name: keep_out.name.clone(),
            source: keep_out.source,
            cuboid: keep_out.cuboid(),
            sigmas: Faces::all(Length::ZERO),
            sure: keep_out.cuboid(),
            margin: keep_out.margin.as_ref().map_or(trust.margin, crate::Len::value),
            counts: !(keep_out.taken_out && keep_out.source == Source::Removable),
        })
        .collect()
}
