//! The voltage class: which rules for touching apply.

use crate::Volts;

/// What kind of voltage is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Current {
    /// Direct.
    Dc,
    /// Alternating, as its effective (r.m.s.) value.
    Ac,
}

/// The voltage class of a circuit by the highest volts that occur in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum VoltageClass {
    /// Up to 60 V dc or 30 V ac.
    A,
    /// Above class A, up to 1500 V dc or 1000 V ac: protection against touching is asked for.
    B,
    /// Above both; the standard does not deal with it.
    Outside,
}

impl VoltageClass {
    /// The standard that draws the lines.
    pub const SOURCE: &str = "ISO 6469-3; UN R100 uses the same limits for high voltage";

    /// How the limits are known.
    pub const KNOWN_BY: &str = "found for 60/30 V (secondary page); memory for 1500/1000 V";

    /// `A`, `B` or `outside`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::A => "A",
            Self::B => "B",
            Self::Outside => "outside",
        }
    }
}

/// The voltage class at `volts`, whichever way round they are. The limits belong to the lower class.
///
/// Source: [`VoltageClass::SOURCE`].
pub const fn voltage_class(volts: Volts, current: Current) -> VoltageClass {
    let (most_a, most_b) = match current {
        Current::Dc => (60_000, 1_500_000),
        Current::Ac => (30_000, 1_000_000),
    };
    let height = volts.milli().unsigned_abs();
    if height <= most_a {
        VoltageClass::A
    } else if height <= most_b {
        VoltageClass::B
    } else {
        VoltageClass::Outside
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    /// The limits are those of the standard, told in the doc of [`VoltageClass`].
    #[rstest]
    #[case(30_000, Current::Ac, VoltageClass::A)]
    #[case(30_001, Current::Ac, VoltageClass::B)]
    #[case(1_000_000, Current::Ac, VoltageClass::B)]
    #[case(1_000_001, Current::Ac, VoltageClass::Outside)]
    #[case(60_001, Current::Dc, VoltageClass::B)]
    #[case(-60_001, Current::Dc, VoltageClass::B)]
    fn sorts_volts(#[case] milli: i64, #[case] current: Current, #[case] class: VoltageClass) {
        assert_eq!(voltage_class(Volts::from_milli(milli), current), class);
    }
}
