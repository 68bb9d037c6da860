//! What sheets and bars are made of.

use crate::KnownBy;
use crate::liner::Liner;

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
            Self::MildSteel | Self::Galvanised => 7850.0,
            Self::Stainless304 => 8000.0,
            Self::Aluminium5052 => 2680.0,
            Self::Aluminium6061 => 2700.0,
            Self::Liner(sort) => sort.figures().density_kg_m3,
        }
    }

    /// Where the density comes from, and how it is known.
    pub fn density_source(self) -> (&'static str, KnownBy) {
        match self {
            Self::MildSteel => ("EN section tables use 7.85 kg/dm3", KnownBy::Found),
            Self::Galvanised => (
                "taken as mild steel; the zinc is 5 to 10 % of a sheet and 9 % lighter",
                KnownBy::Memory,
            ),
            Self::Stainless304 => ("data sheets give 7.9 to 8.03 g/cm3", KnownBy::Memory),
            Self::Aluminium5052 | Self::Aluminium6061 => ("nominal density of the alloy", KnownBy::Memory),
            Self::Liner(sort) => (sort.figures().source, sort.figures().known),
        }
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
