//! What conductors are made of.

use crate::source::Source;

/// The metal of a conductor.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Metal {
    /// Annealed copper.
    Copper,
    /// Hard-drawn aluminium of 61 % of copper's conductivity.
    Aluminium,
}

impl Metal {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Copper, Self::Aluminium];

    /// `copper` or `aluminium`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Copper => "copper",
            Self::Aluminium => "aluminium",
        }
    }

    /// Resistivity at 20 C, ohm mm2/m.
    pub const fn resistivity(self) -> f64 {
        match self {
            Self::Copper => 0.017_241,
            Self::Aluminium => 0.028_264,
        }
    }

    /// Where [`Metal::resistivity`] comes from.
    pub const fn resistivity_source(self) -> Source {
        match self {
            Self::Copper => Source::found("NBS Handbook 100 (1966)"),
            Self::Aluminium => Source::computed("61 % of the copper conductivity of NBS Handbook 100 (1966)"),
        }
    }

    /// How much of its resistance at 20 C it gains with each kelvin.
    pub const fn per_kelvin(self) -> f64 {
        match self {
            Self::Copper => 0.003_93,
            Self::Aluminium => 0.004_03,
        }
    }

    /// Where [`Metal::per_kelvin`] comes from.
    pub const PER_KELVIN_SOURCE: Source = Source::memory("IEC 60028 (copper) and IEC 60889 (aluminium)");

    /// Density, kg per mm2 of section and metre: 8.89 and 2.70 g/cm3.
    pub const fn kg_per_mm2_m(self) -> f64 {
        match self {
            Self::Copper => 0.008_89,
            Self::Aluminium => 0.002_70,
        }
    }

    /// A resistance at 20 C as it is at `temp_c`: `R x (1 + a (T - 20))`, in the unit it is given in.
    pub fn at_temperature(self, at_20: f64, temp_c: f64) -> f64 {
        at_20 * (1.0 + self.per_kelvin() * (temp_c - 20.0))
    }
}
