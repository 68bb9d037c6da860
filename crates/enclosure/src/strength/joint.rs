//! Rivets and adhesive that hold a panel in its frame.

use tape::{Area, Length};

use super::{Limit, Utilisation};
use crate::KnownBy;

/// What a joint is allowed to bear across itself, and what stands behind that figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Allowed {
    /// Megapascals over the rivet's section, or over the bonded area.
    pub mpa: f64,
    /// Where it comes from.
    pub source: &'static str,
    /// How it is known.
    pub known: KnownBy,
}

/// What a soft blind rivet is allowed, in megapascals over its section: three quarters of the 60 at which the softest
/// class of aluminium rivets shears.
pub const RIVET_MPA: Allowed = Allowed {
    mpa: 45.0,
    source: "three quarters of 60 MPa, at which the softest blind rivets of aluminium shear (ISO 15977 as recalled)",
    known: KnownBy::Memory,
};

/// What an adhesive is allowed for good, in megapascals: a tenth of what makers of structural ones print.
pub const BOND_MPA: Allowed = Allowed {
    mpa: 2.0,
    source: "a tenth of the 20 MPa of lap shear that makers of structural adhesives print: common practice, no source",
    known: KnownBy::Memory,
};

/// An even share of a force on each of so many rivets, in newtons: `F / n` against `tau pi d^2 / 4`.
///
/// Nothing bears a force on no rivets.
pub fn rivets(what: &str, force_n: f64, count: u32, diameter: Length, allowed: Allowed) -> Utilisation {
    let section_mm2 = std::f64::consts::FRAC_PI_4 * diameter.as_mm().powi(2);
    let limit = Limit {
        value: if count == 0 { 0.0 } else { allowed.mpa * section_mm2 },
        formula: "F / n against tau pi d^2 / 4, d the hole, which the rivet fills",
        source: allowed.source,
        known: allowed.known,
    };
    Utilisation::of(what, force_n / f64::from(count.max(1)), "N", limit)
}

/// A force spread evenly over a bonded area, in megapascals: `F / A`.
pub fn bond(what: &str, force_n: f64, area: Area, allowed: Allowed) -> Utilisation {
    let limit = Limit {
        value: allowed.mpa,
        formula: "F / A against the shear that the adhesive is allowed",
        source: allowed.source,
        known: allowed.known,
    };
    Utilisation::of(what, force_n / area.as_mm2(), "MPa", limit)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 10 kN on 20 rivets are 500 N each; a hole of 4.9 mm is 18.857 mm2, at 45 N/mm2 848.58 N.
    #[test]
    fn a_rivet_gets_its_even_share() {
        let sum = rivets("floor", 10_000.0, 20, Length::tenths_mm(49), RIVET_MPA);
        assert!((sum.load - 500.0).abs() < 1e-9);
        assert!((sum.limit - 848.58).abs() < 0.01, "{}", sum.limit);
        assert!(rivets("floor", 1.0, 0, Length::mm(5), RIVET_MPA).share.is_infinite());
    }

    /// 10 kN over 500 x 20 mm are 1 N/mm2, half of what is allowed.
    #[test]
    fn a_bond_is_sheared_over_its_area() {
        let sum = bond("end", 10_000.0, Length::mm(500) * Length::mm(20), BOND_MPA);
        assert!((sum.load - 1.0).abs() < 1e-9 && (sum.share - 0.5).abs() < 1e-9);
    }
}
