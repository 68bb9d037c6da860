//! What sheets and bars are made of.

use std::sync::LazyLock;

use crate::gauge::Scale;
use crate::liner::Liner;
use crate::{KnownBy, listed};

/// A material that parts are made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Material {
    /// Mild steel.
    MildSteel,
    /// Zinc-coated mild steel.
    Galvanised,
    /// Stainless steel 304.
    Stainless304,
    /// Aluminium 5052.
    Aluminium5052,
    /// Aluminium 6061.
    Aluminium6061,
    /// An insulating sheet: what liners are cut from, and no box.
    Liner(Liner),
}

impl Material {
    /// Those that boxes are made of, in the order they are offered.
    pub const ALL: [Self; 5] = [
        Self::MildSteel,
        Self::Galvanised,
        Self::Stainless304,
        Self::Aluminium5052,
        Self::Aluminium6061,
    ];

    /// The name as printed on a cut list: `mild steel`, `galvanised steel`, `stainless 304`, `aluminium 5052`, ...
    pub const fn name(self) -> &'static str {
        match self {
            Self::MildSteel => "mild steel",
            Self::Galvanised => "galvanised steel",
            Self::Stainless304 => "stainless 304",
            Self::Aluminium5052 => "aluminium 5052",
            Self::Aluminium6061 => "aluminium 6061",
            Self::Liner(sort) => sort.name(),
        }
    }

    /// Whether it is aluminium, which steel is not welded to.
    pub const fn is_aluminium(self) -> bool {
        matches!(self, Self::Aluminium5052 | Self::Aluminium6061)
    }

    /// Density in kilograms per cubic metre.
    ///
    /// [`Material::density_source`] says where each comes from. A sheet's mass by its gauge number (pounds per
    /// square foot) is another convention: for steel it is 2.4 % more than thickness times 7850.
    pub fn density_kg_m3(self) -> f64 {
        match self {
            Self::Liner(sort) => sort.figures().density_kg_m3,
            _ => self.density().kg_m3,
        }
    }

    /// Where the density comes from, and how it is known.
    pub fn density_source(self) -> (&'static str, KnownBy) {
        match self {
            Self::Liner(sort) => (sort.figures().source, sort.figures().known),
            _ => (self.density().source, self.density().known_by),
        }
    }

    /// That of what boxes are made of.
    fn density(self) -> &'static Density {
        static DENSITIES: LazyLock<[Density; Material::ALL.len()]> = LazyLock::new(|| Material::ALL.map(read));
        let at = Self::ALL.iter().position(|&known| known == self);
        &DENSITIES[at.expect("a liner has its own table")]
    }

    /// The scale that a gauge number for a sheet of this material is on; `None` of a liner, which is sold by its thickness.
    pub const fn scale(self) -> Option<Scale> {
        match self {
            Self::MildSteel => Some(Scale::SheetSteel),
            Self::Galvanised => Some(Scale::Galvanised),
            Self::Stainless304 => Some(Scale::Stainless),
            Self::Aluminium5052 | Self::Aluminium6061 => Some(Scale::Aluminium),
            Self::Liner(_) => None,
        }
    }
}

/// Densities by material.
pub(crate) const TABLE: &str = include_str!("../../../assets/materials/densities.csv");

struct Density {
    kg_m3: f64,
    known_by: KnownBy,
    source: &'static str,
}

fn read(material: Material) -> Density {
    let row = listed::rows(TABLE).find(|row| row.text(0) == material.name());
    let row = row.expect("a test reads the density of every material");
    Density {
        kg_m3: row.number(1),
        known_by: row.known_by(),
        source: row.source(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_tell_materials_apart() {
        let mut names = Material::ALL.map(Material::name).to_vec();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), Material::ALL.len());
    }

    #[test]
    fn every_density_says_where_it_comes_from() {
        for material in Material::ALL {
            assert!(!material.density_source().0.is_empty(), "{}", material.name());
        }
    }
}
