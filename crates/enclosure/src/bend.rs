//! What a bend takes of the sheet.
//!
//! A sheet keeps its length along a line inside it, the neutral line. Where that line lies is known by a rule: a share
//! of the thickness, a handbook's class of metal, a standard's formula, or what the shop found by bending a test strip.
//! On 2 to 3 mm sheet the rules differ by a few tenths of a millimetre a bend, so a drawing says which one was used.

use std::str::FromStr;

use tape::{Allow, Length, Units};

use crate::KnownBy;

/// Classes of metal that the handbook tells apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Temper {
    /// Soft brass and copper.
    Soft,
    /// Half-hard copper and brass, soft steel, aluminium.
    HalfHard,
    /// Bronze, hard copper, cold-rolled and spring steel.
    Hard,
}

impl Temper {
    /// The handbook's factor of the thickness, for a bend of 90 degrees.
    pub const fn factor(self) -> f64 {
        match self {
            Self::Soft => 0.55,
            Self::HalfHard => 0.64,
            Self::Hard => 0.71,
        }
    }

    /// The K factor that gives the same length at 90 degrees, were the handbook's 1.57 a right angle exactly.
    pub fn as_k(self) -> f64 {
        self.factor() / std::f64::consts::FRAC_PI_2
    }
}

/// How the length of a bend is worked out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BendRule {
    /// The neutral line lies this share of the thickness outside the inside face, 0 to 0.5.
    K(f64),
    /// `(C t + 1.57 r)` for 90 degrees, in proportion for others.
    Handbook(Temper),
    /// The standard's formula.
    Din6935,
    /// What a test strip lost in one bend of 90 degrees: both outside legs less the strip's length.
    Measured {
        /// The deduction.
        deduction: Length,
    },
}

impl BendRule {
    /// As printed on a drawing.
    pub fn words(self) -> String {
        match self {
            Self::K(k) => format!("K = {k:.3}"),
            Self::Handbook(Temper::Soft) => "0.55 t + 1.57 r (soft metal)".to_owned(),
            Self::Handbook(Temper::HalfHard) => "0.64 t + 1.57 r (soft steel, aluminium)".to_owned(),
            Self::Handbook(Temper::Hard) => "0.71 t + 1.57 r (cold-rolled steel)".to_owned(),
            Self::Din6935 => "DIN 6935".to_owned(),
            Self::Measured { deduction } => format!("test strip, deduction {:.2} mm", deduction.as_mm()),
        }
    }

    /// As it is typed in and stored.
    pub fn text(self) -> String {
        match self {
            Self::K(k) => format!("K {k}"),
            Self::Handbook(Temper::Soft) => "soft".to_owned(),
            Self::Handbook(Temper::HalfHard) => "soft steel".to_owned(),
            Self::Handbook(Temper::Hard) => "cold-rolled".to_owned(),
            Self::Din6935 => "DIN 6935".to_owned(),
            Self::Measured { deduction } => format!("deduction {} mm", tape::show::thousandths_bare(deduction)),
        }
    }

    /// Where the rule comes from, and how it is known.
    pub const fn source(self) -> (&'static str, KnownBy) {
        match self {
            Self::K(_) => ("arc length along the neutral line, turn x (r + K t)", KnownBy::Computed),
            Self::Handbook(_) => (
                "Machinery's Handbook, 31st ed., bending sheet metal, p. 1421",
                KnownBy::Found,
            ),
            Self::Din6935 => ("DIN 6935: k = 0.65 + 0.5 log10(r/s), at most 1", KnownBy::Memory),
            Self::Measured { .. } => ("measured on a test strip", KnownBy::Found),
        }
    }
}

/// A bend rule that is none.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{given} is no bend rule")]
pub struct NoRule {
    /// What was given.
    pub given: String,
}

impl NoRule {
    /// How to mend it.
    pub const MEND: &str = "write soft steel, cold-rolled, soft, DIN 6935, K with a number from 0 to 0.5 as K 0.44, or deduction with what a \
         test strip lost at 90 degrees, as deduction 3.4 mm";
}

impl FromStr for BendRule {
    type Err = NoRule;

    /// Reads what [`BendRule::text`] writes, whatever the case of its letters.
    fn from_str(text: &str) -> Result<Self, NoRule> {
        let lower = text.trim().to_ascii_lowercase();
        let rule = match lower.as_str() {
            "soft" => Some(Self::Handbook(Temper::Soft)),
            "soft steel" | "half-hard" | "aluminium" => Some(Self::Handbook(Temper::HalfHard)),
            "cold-rolled" | "hard" => Some(Self::Handbook(Temper::Hard)),
            "din 6935" | "din" => Some(Self::Din6935),
            _ => numbered(&lower),
        };
        rule.ok_or_else(|| NoRule { given: text.to_owned() })
    }
}

/// `k 0.44` and `deduction 3.4 mm`.
fn numbered(lower: &str) -> Option<BendRule> {
    if let Some(rest) = lower.strip_prefix("deduction") {
        let deduction = tape::notation::read(rest.trim(), Units::Millimetre, Allow::AboveZero)
            .ok()?
            .value();
        return (deduction <= Length::mm(100)).then_some(BendRule::Measured { deduction });
    }
    let rest = lower.strip_prefix('k').unwrap_or(lower);
    let k: f64 = rest.trim_start_matches(['=', ' ']).trim().parse().ok()?;
    (0.0..=0.5).contains(&k).then_some(BendRule::K(k))
}

/// One bend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// The angle that the sheet is turned through, in degrees, above 0 and below 180: not the angle left between the
    /// legs.
    pub turn_deg: f64,
    /// Inside radius.
    pub radius: Length,
    /// Thickness.
    pub thickness: Length,
    /// How its length is worked out.
    pub rule: BendRule,
}

impl Bend {
    /// A bend of 90 degrees.
    pub const fn square(radius: Length, thickness: Length, rule: BendRule) -> Self {
        Self {
            turn_deg: 90.0,
            radius,
            thickness,
            rule,
        }
    }

    /// The length of sheet in the bend, between its two tangent lines, to the nearest nanometre.
    ///
    /// The sources are those of [`BendRule::source`]. A measured deduction is that of 90 degrees; at other angles the
    /// neutral line that it tells is used.
    pub fn allowance(&self) -> Length {
        let (r, t) = (self.radius.as_mm(), self.thickness.as_mm());
        let turn = self.turn_deg.to_radians();
        Length::from_mm(match self.rule {
            BendRule::K(k) => turn * (r + k * t),
            BendRule::Handbook(temper) => (temper.factor() * t + 1.57 * r) * self.turn_deg / 90.0,
            BendRule::Din6935 => turn * (r + din_k(r / t) * t / 2.0),
            BendRule::Measured { deduction } => (2.0 * (r + t) - deduction.as_mm()) * self.turn_deg / 90.0,
        })
    }

    /// From the tangent line to where the outside faces would meet: `(r + t) tan(turn / 2)`.
    pub fn set_back(&self) -> Length {
        let reach = self.radius.as_mm() + self.thickness.as_mm();
        Length::from_mm(reach * libm::tan(self.turn_deg.to_radians() / 2.0))
    }

    /// What the two outside legs are longer together than the flat sheet: twice the set-back less the allowance.
    pub fn deduction(&self) -> Length {
        self.set_back() * 2 - self.allowance()
    }
}

/// The factor k of DIN 6935 for inside radius over thickness, at most 1; the neutral line lies k/2 of the thickness
/// outside the inside face. From memory.
pub fn din_k(radius_over_thickness: f64) -> f64 {
    if radius_over_thickness > 5.0 {
        1.0
    } else {
        // Radii far below the thickness would give nothing or less; the neutral line stays in the sheet.
        (0.65 + 0.5 * libm::log10(radius_over_thickness)).clamp(0.0, 1.0)
    }
}

/// The correction v of DIN 6935 in millimetres: flat length = both legs + v.
///
/// `opening_deg` is the angle left between the legs. Up to 90 degrees the legs are measured to the outermost tangent
/// across the bend, above to the crossing of the outside faces; from 165 degrees on it is nothing. From memory; its change
/// of sign at 65 degrees 24 minutes 30 seconds is as published.
pub fn din_correction_mm(opening_deg: f64, radius_mm: f64, thickness_mm: f64) -> f64 {
    if opening_deg > 165.0 {
        return 0.0;
    }
    let turn = (180.0 - opening_deg).to_radians();
    let arc = turn * (radius_mm + din_k(radius_mm / thickness_mm) * thickness_mm / 2.0);
    let legs = 2.0 * (radius_mm + thickness_mm);
    if opening_deg <= 90.0 {
        arc - legs
    } else {
        arc - legs * libm::tan(turn / 2.0)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rstest::rstest;

    use super::*;

    fn rules() -> impl Strategy<Value = BendRule> {
        prop_oneof![
            (0.2..0.5).prop_map(BendRule::K),
            prop_oneof![Just(Temper::Soft), Just(Temper::HalfHard), Just(Temper::Hard)].prop_map(BendRule::Handbook),
            Just(BendRule::Din6935),
            (3_000_000_i64..5_000_000).prop_map(|nm| BendRule::Measured {
                deduction: Length::from_nm(nm)
            }),
        ]
    }

    proptest! {
        /// Allowance and deduction together are twice the set-back, whatever the rule.
        #[test]
        fn what_the_bend_takes_and_saves_is_twice_the_set_back(
            rule in rules(), turn_deg in 1.0..170.0, r in 1_i64..8_000, t in 500_i64..6_000,
        ) {
            let bend = Bend { turn_deg, radius: Length::from_nm(r * 1_000), thickness: Length::from_nm(t * 1_000), rule };
            prop_assert_eq!(bend.allowance() + bend.deduction(), bend.set_back() * 2);
        }

        /// With the neutral line in the middle, the sheet is as long as its middle surface when folded.
        #[test]
        fn a_neutral_line_in_the_middle_keeps_the_middle_surface(turn_deg in 1.0..170.0, r in 1_i64..8_000) {
            let (radius, thickness) = (Length::from_nm(r * 1_000), Length::mm(2));
            let bend = Bend { turn_deg, radius, thickness, rule: BendRule::K(0.5) };
            let middle = turn_deg.to_radians() * (radius.as_mm() + 1.0);
            prop_assert!((bend.allowance().as_mm() - middle).abs() < 1e-6);
        }
    }

    /// A strip of 100 mm that measures 52 and 51.5 over its legs after bending has lost 3.5 mm.
    #[test]
    fn a_test_strip_gives_its_own_deduction_back() {
        let rule = BendRule::Measured {
            deduction: Length::tenths_mm(35),
        };
        let bend = Bend::square(Length::mm(2), Length::mm(2), rule);
        assert_eq!(bend.deduction(), Length::tenths_mm(35));
        assert_eq!(bend.allowance(), Length::tenths_mm(45));
    }

    #[rstest]
    #[case::published_change_of_sign(65.4084, 1000.0, 1.0)]
    fn the_din_correction_is_nothing_at(#[case] opening: f64, #[case] r: f64, #[case] s: f64) {
        // For radii far above the thickness the sign changes where pi - b = 2.
        assert!(din_correction_mm(opening, r, s).abs() < 0.002 * r);
        assert!(din_correction_mm(opening - 1.0, r, s) > 0.0);
        assert!(din_correction_mm(opening + 1.0, r, s) < 0.0);
    }
}
