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
    let limit = Limit {
        value: if count == 0 {
            0.0
        } else {
            allowed.mpa * section_mm2(diameter)
        },
        formula: "F / n against tau pi d^2 / 4, d the hole, which the rivet fills",
        source: allowed.source,
        known: allowed.known,
    };
    Utilisation::of(what, force_n / f64::from(count.max(1)), "N", limit)
}

/// The widest pitch at which rivets on a line of this length round a panel bear a force, an even share on each.
///
/// `l / n`, `n` the fewest rivets that do, `F / (tau pi d^2 / 4)` rounded up: no side of the line has fewer than its
/// length over the pitch, so there are never fewer. Zero where none bear it.
pub fn widest_pitch(around: Length, force_n: f64, diameter: Length, allowed: Allowed) -> Length {
    let each_n = allowed.mpa * section_mm2(diameter);
    let count = (force_n / each_n).ceil().max(1.0);
    // Down, so that what is rounded is not too wide.
    Length::from_mm(around.as_mm() / count - 1e-6).max(Length::ZERO)
}

/// The least hole whose rivets bear a force on a line of this length round a panel, at the closest pitch of all.
///
/// `n d^2 pi tau / 4 = F` with `n = l / (3 d)`, so `d = 12 F / (l pi tau)`. Source: as [`rivets`] and
/// [`crate::rivet::least_pitch`].
pub fn least_hole(around: Length, force_n: f64, allowed: Allowed) -> Length {
    Length::from_mm_up(12.0 * force_n / (around.as_mm() * std::f64::consts::PI * allowed.mpa))
}

fn section_mm2(diameter: Length) -> f64 {
    std::f64::consts::FRAC_PI_4 * diameter.as_mm().powi(2)
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

    /// 848.58 N each: 18 kN need 21.21, so 22, on 1320 mm 60 mm apart. At 1 N/mm2 each bears 18.86 N: 954.6, so 955 of them.
    #[test]
    fn rivets_are_as_close_as_the_force_asks() {
        let pitch = |allowed| widest_pitch(Length::mm(1320), 18_000.0, Length::tenths_mm(49), allowed).as_mm();
        assert!((pitch(RIVET_MPA) - 60.0).abs() < 1e-5, "{}", pitch(RIVET_MPA));
        let soft = Allowed { mpa: 1.0, ..RIVET_MPA };
        assert!((pitch(soft) - 1320.0 / 955.0).abs() < 1e-5, "{}", pitch(soft));
        assert_eq!(
            widest_pitch(Length::mm(1), 1.0, Length::mm(5), Allowed { mpa: 0.0, ..soft }),
            Length::ZERO
        );
    }

    /// 12 x 60 000 / (1000 pi 45) = 5.093 mm: 65.4 rivets 15.28 mm apart, each 20.37 mm2 at 45.
    #[test]
    fn the_hole_that_does_at_the_closest_pitch() {
        let hole = least_hole(Length::mm(1000), 60_000.0, RIVET_MPA).as_mm();
        assert!((hole - 5.093).abs() < 1e-3, "{hole}");
        let bears = 1000.0 / (3.0 * hole) * 45.0 * section_mm2(Length::from_mm(hole));
        assert!((bears - 60_000.0).abs() < 1.0, "{bears}");
    }

    /// 10 kN over 500 x 20 mm are 1 N/mm2, half of what is allowed.
    #[test]
    fn a_bond_is_sheared_over_its_area() {
        let sum = bond("end", 10_000.0, Length::mm(500) * Length::mm(20), BOND_MPA);
        assert!((sum.load - 1.0).abs() < 1e-9 && (sum.share - 0.5).abs() < 1e-9);
    }
}
