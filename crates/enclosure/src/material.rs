//! What sheets and bars are made of.

/// A material that boxes are made of.
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
}

impl Material {
    /// All of them, in the order they are offered.
    pub const ALL: [Self; 5] =
        [Self::MildSteel, Self::Galvanised, Self::Stainless304, Self::Aluminium5052, Self::Aluminium6061];

    /// The name as printed on a cut list: `mild steel`, `galvanised steel`, `stainless 304`, `aluminium 5052`, ...
    pub const fn name(self) -> &'static str {
        todo!()
    }

    /// Density in kilograms per cubic metre.
    pub const fn density_kg_m3(self) -> f64 {
        todo!()
    }
}
