//! How far materials give and what they bear.

use crate::KnownBy;
use crate::material::Material;

/// A stress that a material bears and the one it tears at, in megapascals.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strength {
    /// Least yield strength, or 0.2 % proof strength.
    pub yield_mpa: f64,
    /// Least tensile strength.
    pub ultimate_mpa: f64,
}

/// Elastic figures of a material.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stiffness {
    /// Modulus of elasticity in megapascals.
    pub e_mpa: f64,
    /// Poisson's ratio.
    pub nu: f64,
    /// Away from welds.
    pub strength: Strength,
    /// Within about 25 mm of a weld. Equal to `strength` where welding takes nothing away.
    pub near_weld: Strength,
    /// The grade the strengths are those of, and where they come from.
    pub source: &'static str,
    /// How the strengths are known.
    pub known: KnownBy,
}

impl Material {
    /// Elastic figures and least strengths of the commonest grade of the material.
    ///
    /// All by memory; [`Stiffness::source`] tells the grade. The certificate of the sheet in hand is better.
    pub const fn stiffness(self) -> Stiffness {
        match self {
            Self::MildSteel => unwelded(
                [205_000.0, 0.3],
                [235.0, 360.0],
                "S235 least values to 16 mm, EN 10025-2; E as handbooks of steel give it",
            ),
            Self::Galvanised => unwelded(
                [205_000.0, 0.3],
                [140.0, 270.0],
                "DX51D, EN 10346: no structural grade, yield is what its softest coils have",
            ),
            Self::Stainless304 => unwelded(
                [193_000.0, 0.3],
                [205.0, 515.0],
                "304 annealed, least values of ASTM A240",
            ),
            Self::Aluminium5052 => Stiffness {
                e_mpa: 69_000.0,
                nu: 0.33,
                strength: Strength {
                    yield_mpa: 160.0,
                    ultimate_mpa: 215.0,
                },
                near_weld: Strength {
                    yield_mpa: 65.0,
                    ultimate_mpa: 170.0,
                },
                source: "5052-H32, least values of ASTM B209; as-welded values of aluminium design manuals",
                known: KnownBy::Memory,
            },
            // No liner carries anything.
            Self::Liner(_) => unwelded(
                [1_000.0, 0.4],
                [20.0, 20.0],
                "a soft plastic taken for every liner, common values, no source",
            ),
            Self::Aluminium6061 => Stiffness {
                e_mpa: 69_000.0,
                nu: 0.33,
                strength: Strength {
                    yield_mpa: 240.0,
                    ultimate_mpa: 290.0,
                },
                near_weld: Strength {
                    yield_mpa: 105.0,
                    ultimate_mpa: 165.0,
                },
                source: "6061-T6, least values of ASTM B209; as-welded values of aluminium design manuals",
                known: KnownBy::Memory,
            },
        }
    }
}

/// A material that welding does not weaken: `[E, nu]` and `[yield, ultimate]`.
const fn unwelded([e_mpa, nu]: [f64; 2], [yield_mpa, ultimate_mpa]: [f64; 2], source: &'static str) -> Stiffness {
    let strength = Strength {
        yield_mpa,
        ultimate_mpa,
    };
    Stiffness {
        e_mpa,
        nu,
        strength,
        near_weld: strength,
        source,
        known: KnownBy::Memory,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn materials_yield_before_they_tear_and_no_weld_makes_them_stronger() {
        for material in Material::ALL {
            let figures = material.stiffness();
            for strength in [figures.strength, figures.near_weld] {
                assert!(0.0 < strength.yield_mpa && strength.yield_mpa < strength.ultimate_mpa);
            }
            assert!(
                figures.near_weld.yield_mpa <= figures.strength.yield_mpa,
                "{}",
                material.name()
            );
            assert!(figures.near_weld.ultimate_mpa <= figures.strength.ultimate_mpa);
            assert!((0.25..0.35).contains(&figures.nu));
        }
    }

    #[test]
    fn aluminium_gives_about_three_times_as_far_as_steel() {
        let ratio = Material::MildSteel.stiffness().e_mpa / Material::Aluminium6061.stiffness().e_mpa;
        assert!((2.8..3.1).contains(&ratio));
    }
}
