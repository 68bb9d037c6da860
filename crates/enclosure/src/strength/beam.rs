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

/// The stress of a bar that rests on two supports, against the yield strength of its material.
///
/// - `formula`: of the stress, as `F L / 8 / W` of a load spread evenly between them.
///
/// Source: beam theory.
pub fn bar_utilisation(what: &str, stress_mpa: f64, formula: &'static str, material: Material) -> Utilisation {
    let figures = material.stiffness();
    let limit = Limit {
        value: figures.strength.yield_mpa,
        formula,
        source: figures.source,
        known: figures.known,
    };
    Utilisation::of(what, stress_mpa, "MPa", limit)
}

/// The largest moment, in newton millimetres, of a beam that rests on its two ends under loads spread evenly over parts of it.
///
/// - `loads`: from where to where, millimetres from one end, and newtons; all within the span.
///
/// Where the shear is none, between or at the ends of the loads: there the moment is `R x - sum(F (x - middle))`.
///
/// Source: beam theory.
pub fn most_moment(span_mm: f64, loads: &[([f64; 2], f64)]) -> f64 {
    let middle = |[lo, hi]: [f64; 2]| f64::midpoint(lo, hi);
    let carried = loads
        .iter()
        .map(|&(over, force)| force * (1.0 - middle(over) / span_mm))
        .sum::<f64>();
    // What of a load lies before a place, and where the middle of that is.
    let before = |([lo, hi], force): ([f64; 2], f64), x: f64| {
        let end = x.clamp(lo, hi);
        let share = if hi > lo {
            (end - lo) / (hi - lo)
        } else {
            f64::from(u8::from(x > lo))
        };
        (force * share, middle([lo, end]))
    };
    let shear = |x: f64| carried - loads.iter().map(|&load| before(load, x).0).sum::<f64>();
    let moment = |x: f64| {
        let taken = loads.iter().map(|&load| before(load, x));
        carried * x - taken.map(|(force, at)| force * (x - at)).sum::<f64>()
    };
    let mut ends: Vec<f64> = loads.iter().flat_map(|(over, _)| *over).collect();
    ends.sort_unstable_by(f64::total_cmp);
    let between = ends.windows(2).filter_map(|pair| {
        let [one, other] = [shear(pair[0]), shear(pair[1])];
        (one > 0.0 && other < 0.0).then(|| pair[0] + (pair[1] - pair[0]) * one / (one - other))
    });
    ends.iter().copied().chain(between).map(moment).fold(0.0, f64::max)
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

    /// The stress at the root in megapascals under a bolt force, and another at the end of the other leg, which hangs down from
    /// the far edge of this one: `(F c + N d) / (b t^2 / 6)`.
    ///
    /// - `force_n`: newtons across the leg, at its lever.
    /// - `off_n`: newtons along the leg, away from its root.
    /// - `down`: how far below the middle of the leg those pull.
    ///
    /// That they pull at the section itself is left out: beside bending it is little.
    ///
    /// Source: beam theory.
    pub fn stress_of_both_mpa(&self, force_n: f64, off_n: f64, down: Length) -> f64 {
        let moment = force_n * self.lever.as_mm() + off_n * down.as_mm();
        moment.abs() / section_modulus_mm3(self.width, self.thickness)
    }

    /// The stress at the root against the yield strength of the material, beside a weld if there is one at its root.
    ///
    /// - `formula`: of the stress.
    pub fn against(
        &self,
        what: &str,
        stress_mpa: f64,
        formula: &'static str,
        (material, root): (Material, Root),
    ) -> Utilisation {
        let figures = material.stiffness();
        let strength = match root {
            Root::Rolled => figures.strength,
            Root::Welded => figures.near_weld,
        };
        let limit = Limit {
            value: strength.yield_mpa,
            formula,
            source: figures.source,
            known: figures.known,
        };
        Utilisation::of(what, stress_mpa, "MPa", limit)
    }

    /// The stress at the root under a bolt force against the yield strength of the material.
    pub fn utilisation(&self, what: &str, force_n: f64, material: Material, root: Root) -> Utilisation {
        let formula = "F c / (b t^2 / 6) against yield strength";
        self.against(what, self.stress_mpa(force_n), formula, (material, root))
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

    /// 1 kN up at 40 mm and 5 kN off at 30 mm below, on 80 x 6: 40 000 and 150 000 N mm over 480 mm3, together or against
    /// each other.
    #[test]
    fn a_leg_bends_by_what_pulls_at_the_other_one() {
        let leg = Leg {
            width: Length::mm(80),
            thickness: Length::mm(6),
            lever: Length::mm(40),
        };
        let stress = |force, off| leg.stress_of_both_mpa(force, off, Length::mm(30));
        assert!((stress(1_000.0, 5_000.0) - 190_000.0 / 480.0).abs() < 1e-9);
        assert!((stress(-1_000.0, 5_000.0) - 110_000.0 / 480.0).abs() < 1e-9);
    }

    /// 400 N over 100 to 300 of 400 mm: 200 x 200 - 200 x 50 = 30 N m; the whole span under 800 N: F L / 8; both at once. 100 N
    /// over the first 100 of 400: the near end carries 87.5 of it, so none is sheared at 87.5, under 87.5^2 / 2.
    #[test]
    fn moments_are_largest_where_nothing_shears() {
        let near = |got: f64, wanted: f64| assert!((got - wanted).abs() < 1e-9 * wanted, "{got} {wanted}");
        let (part, all) = (([100.0, 300.0], 400.0), ([0.0, 400.0], 800.0));
        near(most_moment(400.0, &[part]), 30_000.0);
        near(most_moment(400.0, &[all]), 40_000.0);
        near(most_moment(400.0, &[part, all]), 70_000.0);
        near(most_moment(400.0, &[([0.0, 100.0], 100.0)]), 87.5 * 87.5 / 2.0);
        assert!(most_moment(400.0, &[]) < 1e-12);
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
