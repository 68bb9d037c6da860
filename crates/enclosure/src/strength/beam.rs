//! Strips and bars on two supports, and the leg of an angle under a bolt.

use tape::Length;

use super::{Limit, Utilisation};
use crate::material::Material;

/// A strip of sheet, or a flat bar lying down, resting on two supports.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Strip {
    /// From support to support.
    pub span: Length,
    /// Across the span.
    pub width: Length,
    /// In the direction of the load.
    pub thickness: Length,
}

/// A strip under load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bent {
    /// How far the middle gives, in millimetres.
    pub deflection_mm: f64,
    /// The largest stress, in megapascals.
    pub stress_mpa: f64,
}

impl Strip {
    /// What a load spread evenly along the span does to the strip.
    ///
    /// `deflection = 5 w L^4 / (384 E I)`, `stress = (w L^2 / 8) / (b t^2 / 6)`, with `I = b t^3 / 12`.
    ///
    /// - `load_n_per_mm`: newtons for each millimetre of span.
    /// - `e_mpa`: modulus of elasticity.
    ///
    /// Both are infinite, or no number, for a strip without width or thickness.
    ///
    /// Source: beam theory.
    pub fn under(&self, load_n_per_mm: f64, e_mpa: f64) -> Bent {
        let span = self.span.as_mm();
        let moment_of_area = self.width.as_mm() * self.thickness.as_mm().powi(3) / 12.0;
        Bent {
            deflection_mm: 5.0 * load_n_per_mm * span.powi(4) / (384.0 * e_mpa * moment_of_area),
            stress_mpa: load_n_per_mm * span.powi(2) / 8.0 / section_modulus_mm3(self.width, self.thickness),
        }
    }

    /// The stress of a load spread evenly along the span, against the yield strength of the material.
    pub fn utilisation(&self, what: &str, load_n_per_mm: f64, material: Material) -> Utilisation {
        let figures = material.stiffness();
        let limit = Limit {
            value: figures.strength.yield_mpa,
            formula: "(w L^2 / 8) / (b t^2 / 6) against yield strength",
            source: figures.source,
            known: figures.known,
        };
        Utilisation::of(what, self.under(load_n_per_mm, figures.e_mpa).stress_mpa, "MPa", limit)
    }
}

/// Section modulus of a rectangle bent across its thickness, in cubic millimetres: `b t^2 / 6`.
pub fn section_modulus_mm3(width: Length, thickness: Length) -> f64 {
    width.as_mm() * thickness.as_mm().powi(2) / 6.0
}

/// The stress of a bar that rests on two supports under a load spread evenly between them, against the yield strength of
/// its material: `F L / 8 / W`.
///
/// Source: beam theory.
pub fn bar_utilisation(what: &str, stress_mpa: f64, material: Material) -> Utilisation {
    let figures = material.stiffness();
    let limit = Limit {
        value: figures.strength.yield_mpa,
        formula: "F L / 8 / W against yield strength",
        source: figures.source,
        known: figures.known,
    };
    Utilisation::of(what, stress_mpa, "MPa", limit)
}

/// The leg of an angle, hanger or foot that sticks out and is pulled by a bolt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Leg {
    /// How much of the angle's length works for one bolt: its length for a single bolt, else at most the pitch.
    pub width: Length,
    /// Thickness of the leg.
    pub thickness: Length,
    /// From the bolt to the face of the other leg, where the root is.
    pub lever: Length,
}

impl Leg {
    /// The stress at the root in megapascals under a bolt force: `F c / (b t^2 / 6)`.
    ///
    /// A cantilever: that the bolt's head holds the leg flat, which would halve it, is left out.
    ///
    /// Source: beam theory.
    pub fn stress_mpa(&self, force_n: f64) -> f64 {
        force_n * self.lever.as_mm() / section_modulus_mm3(self.width, self.thickness)
    }

    /// The stress at the root against the yield strength of the material, beside a weld if there is one at its root.
    pub fn utilisation(&self, what: &str, force_n: f64, material: Material, root: Root) -> Utilisation {
        let figures = material.stiffness();
        let strength = match root {
            Root::Rolled => figures.strength,
            Root::Welded => figures.near_weld,
        };
        let limit = Limit {
            value: strength.yield_mpa,
            formula: "F c / (b t^2 / 6) against yield strength",
            source: figures.source,
            known: figures.known,
        };
        Utilisation::of(what, self.stress_mpa(force_n), "MPa", limit)
    }
}

/// What is at the root of a leg.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Root {
    /// The leg is one piece with the other.
    Rolled,
    /// The leg is welded on, or a weld runs along its root.
    Welded,
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const STRIP: Strip = Strip {
        span: Length::mm(400),
        width: Length::mm(100),
        thickness: Length::mm(6),
    };

    /// The same strip by summing the curvature twice in 20 000 steps.
    #[test]
    fn deflection_is_curvature_summed_twice() {
        let (w, e, span) = (0.5, 205_000.0, 400.0_f64);
        let inertia = 100.0 * 216.0 / 12.0;
        let steps = 20_000;
        let step = span / 2.0 / f64::from(steps);
        // From the middle, where the slope is none, out to the support.
        let (mut slope, mut rise) = (0.0, 0.0);
        for i in 0..steps {
            let x = (f64::from(i) + 0.5) * step;
            slope += w / 2.0 * ((span / 2.0).powi(2) - x * x) / (e * inertia) * step;
            rise += slope * step;
        }
        let bent = STRIP.under(w, e);
        assert!((bent.deflection_mm - rise).abs() < 1e-4 * rise);
        assert!((bent.stress_mpa - 10_000.0 / 600.0).abs() < 1e-9);
    }

    /// 10 kN at 25 mm on 100 x 6: 250 000 N mm over 600 mm3.
    #[test]
    fn a_leg_bends_by_force_and_lever() {
        let leg = Leg {
            width: Length::mm(100),
            thickness: Length::mm(6),
            lever: Length::mm(25),
        };
        assert!((leg.stress_mpa(10_000.0) - 250_000.0 / 600.0).abs() < 1e-9);
        let [rolled, welded] =
            [Root::Rolled, Root::Welded].map(|root| leg.utilisation("foot", 1_000.0, Material::Aluminium6061, root));
        assert!(rolled.share < welded.share);
    }

    proptest! {
        #[test]
        fn twice_as_thick_is_a_quarter_of_the_stress(t in 1..20_i64, force in 1.0..1e5) {
            let leg = |t| Leg { width: Length::mm(50), thickness: Length::mm(t), lever: Length::mm(30) };
            let [thin, thick] = [leg(t), leg(2 * t)].map(|leg| leg.stress_mpa(force));
            prop_assert!((thin / thick - 4.0).abs() < 1e-9);
        }
    }
}
