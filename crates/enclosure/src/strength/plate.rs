//! A rectangular panel under an evenly spread load.
//!
//! `deflection = alpha q b^4 / (E t^3)`, `stress = beta q b^2 / t^2`, with `b` the shorter side and
//! both coefficients from [`coefficients`]. Real edges lie between resting and clamped.

mod clamped;
mod simple;
pub mod standing;

use tape::Length;

use super::{Limit, Utilisation, force_n};
use crate::KnownBy;
use crate::material::Material;

/// How a panel is held at its edges.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Edges {
    /// Resting on all four, free to turn: gives most.
    Simple,
    /// Welded to something that does not turn.
    Clamped,
}

/// The two coefficients of a panel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coefficients {
    /// Of the deflection in the middle: `y = alpha q b^4 / (E t^3)`.
    pub alpha: f64,
    /// Of the largest stress, in the middle of a simply supported panel and in the middle of the long edge of a clamped
    /// one: `stress = beta q b^2 / t^2`.
    pub beta: f64,
}

/// The coefficients of a panel `ratio` times as long as wide.
///
/// - `ratio`: long side over short side; a ratio below 1 is turned round.
/// - `nu`: Poisson's ratio. The stress at a clamped edge does not depend on it.
///
/// Good to 1e-6 for simple edges, 1e-4 (deflection) and 5e-4 (stress) for clamped ones. Takes a few microseconds.
///
/// Source: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells: Levy's series for simple edges, simply
/// supported plate with edge moments superposed for clamped ones.
pub fn coefficients(edges: Edges, ratio: f64, nu: f64) -> Coefficients {
    let ratio = ratio.max(ratio.recip());
    match edges {
        Edges::Simple => simple::coefficients(ratio, nu),
        Edges::Clamped => clamped::coefficients(ratio, nu),
    }
}

/// How far a plate may give for its sums to hold, in millimetres: half its thickness. Beyond, it hangs like a cloth and both
/// deflection and stress are overstated, at many thicknesses beyond all sense.
///
/// Source: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells; Roark, chapter on flat plates; from memory.
pub fn most_held_mm(thickness: Length) -> f64 {
    thickness.as_mm() / 2.0
}

/// Sizes that are no panel.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("panel: {what} is {} mm; give one above zero", given.as_mm())]
pub struct PanelError {
    /// Which size.
    pub what: &'static str,
    /// What it is.
    pub given: Length,
}

/// A panel between its supports.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Panel {
    long: Length,
    short: Length,
    thickness: Length,
    edges: Edges,
}

impl Panel {
    /// A panel of these sides, in either order, between its supports.
    ///
    /// # Errors
    ///
    /// [`PanelError`] when a side or the thickness is not above zero.
    pub fn new(sides: [Length; 2], thickness: Length, edges: Edges) -> Result<Self, PanelError> {
        let above_zero = |what, given: Length| {
            let is = given > Length::ZERO;
            is.then_some(()).ok_or(PanelError { what, given })
        };
        above_zero("side", sides[0])?;
        above_zero("side", sides[1])?;
        above_zero("thickness", thickness)?;
        Ok(Self {
            long: sides[0].max(sides[1]),
            short: sides[0].min(sides[1]),
            thickness,
            edges,
        })
    }

    /// The pressure in megapascals of a mass spread evenly over the panel, at `load_factor` times gravity.
    pub fn pressure_mpa(&self, mass_kg: f64, load_factor: f64) -> f64 {
        force_n(mass_kg, load_factor) / (self.long * self.short).as_mm2()
    }

    /// What a pressure does to the panel.
    ///
    /// - `e_mpa`, `nu`: modulus of elasticity and Poisson's ratio.
    ///
    /// Linear: above half the thickness of deflection it overstates both figures, since the panel then starts to hang
    /// like a cloth; [`Bent::small_deflection_valid`] tells.
    pub fn under(&self, pressure_mpa: f64, e_mpa: f64, nu: f64) -> Bent {
        let [long, short, t] = [self.long, self.short, self.thickness].map(Length::as_mm);
        let Coefficients { alpha, beta } = coefficients(self.edges, long / short, nu);
        let deflection_mm = alpha * pressure_mpa * short.powi(4) / (e_mpa * t.powi(3));
        Bent {
            alpha,
            beta,
            deflection_mm,
            stress_mpa: beta * pressure_mpa * (short / t).powi(2),
            small_deflection_valid: deflection_mm <= most_held_mm(self.thickness),
        }
    }

    /// What a pressure does to the panel, against the yield strength of its material and half its thickness.
    ///
    /// A clamped panel is welded at its edge, where it is stressed most, so the strength beside a weld counts there.
    pub fn utilisations(&self, what: &str, pressure_mpa: f64, material: Material) -> [Utilisation; 2] {
        let figures = material.stiffness();
        let bent = self.under(pressure_mpa, figures.e_mpa, figures.nu);
        let formulas = [
            "beta q b^2 / t^2 against yield strength",
            "alpha q b^4 / (E t^3) against t / 2",
        ];
        self.against(what, [bent.stress_mpa, bent.deflection_mm], formulas, material)
    }

    /// A stress and a deflection against the yield strength of the material and half the thickness.
    fn against(
        &self,
        what: &str,
        [stress_mpa, deflection_mm]: [f64; 2],
        formulas: [&'static str; 2],
        material: Material,
    ) -> [Utilisation; 2] {
        let figures = material.stiffness();
        let strength = match self.edges {
            Edges::Simple => figures.strength,
            Edges::Clamped => figures.near_weld,
        };
        let stress = Limit {
            value: strength.yield_mpa,
            formula: formulas[0],
            source: figures.source,
            known: figures.known,
        };
        let most_mm = most_held_mm(self.thickness);
        let deflection = Limit {
            value: most_mm,
            formula: formulas[1],
            source: "small-deflection plate theory holds to half the thickness",
            known: KnownBy::Memory,
        };
        [
            Utilisation::of(format!("{what}, stress"), stress_mpa, "MPa", stress),
            Utilisation::of(format!("{what}, deflection"), deflection_mm, "mm", deflection),
        ]
        .map(|of| of.holding(deflection_mm <= most_mm))
    }
}

/// `beta` of a point load in the middle of a simply supported panel, by length over width from 1.0 to 2.0 in fifths, then
/// very long: Roark's Formulas for Stress and Strain, 7th ed., Table 11.4 case 1b, by memory.
const POINT_BETA: [f64; 7] = [0.435, 0.650, 0.789, 0.875, 0.927, 0.958, 1.0];

impl Panel {
    /// The stress in megapascals of a force in newtons that pulls straight off the middle of the panel, spread over a round
    /// plate: `3 F / (2 pi t^2) ((1 + nu) ln(2 b / (pi r)) + beta)`.
    ///
    /// - `plate`: diameter of the backing plate or washer; at least the sheet's thickness counts.
    ///
    /// The middle is the worst place, so a pull nearer to an edge is on the safe side. Between the ratios of the table the
    /// next higher `beta` is taken.
    ///
    /// Source: Roark's Formulas for Stress and Strain, 7th ed., Table 11.4 case 1b, by memory.
    pub fn pulled_stress_mpa(&self, force_n: f64, plate: Length, nu: f64) -> f64 {
        let [long, short, t] = [self.long, self.short, self.thickness].map(Length::as_mm);
        let radius = plate.as_mm().max(t) / 2.0;
        let fifths = (long / short - 1.0) * 5.0;
        let beta = POINT_BETA
            .iter()
            .zip(0_u32..)
            .find(|(_, step)| fifths <= f64::from(*step) + 1e-9)
            .map_or(1.0, |(beta, _)| *beta);
        let spread = (2.0 * short / (std::f64::consts::PI * radius)).ln().max(0.0);
        3.0 * force_n / (2.0 * std::f64::consts::PI * t * t) * ((1.0 + nu) * spread + beta)
    }

    /// That stress against the yield strength of the material.
    pub fn pulled(&self, what: &str, force_n: f64, plate: Length, material: Material) -> Utilisation {
        let figures = material.stiffness();
        let limit = Limit {
            value: figures.strength.yield_mpa,
            formula: "3 F / (2 pi t^2) ((1 + nu) ln(2 b / (pi r)) + beta), pulled in its middle, against yield strength",
            source: "Roark 7th ed. Table 11.4 case 1b, from memory",
            known: KnownBy::Memory,
        };
        Utilisation::of(what, self.pulled_stress_mpa(force_n, plate, figures.nu), "MPa", limit)
    }
}

/// A panel under load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bent {
    /// The coefficient of deflection.
    pub alpha: f64,
    /// The coefficient of stress.
    pub beta: f64,
    /// How far the middle gives, in millimetres.
    pub deflection_mm: f64,
    /// The largest stress, in megapascals.
    pub stress_mpa: f64,
    /// Whether the deflection is at most half the thickness, where the linear sum holds.
    pub small_deflection_valid: bool,
}

#[cfg(test)]
mod tests;
