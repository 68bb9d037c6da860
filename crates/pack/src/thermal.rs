//! What temperature does to resistance, what heat does to temperature, and the window to stay in.

use std::ops::RangeInclusive;

use crate::Sourced;
use crate::chemistry::Chemistry;

/// Kelvin at 0 °C.
const ZERO_C_K: f64 = 273.15;

/// The temperatures for which [`resistance_factor`] assumes anything, in °C.
pub const FACTOR_RANGE_C: RangeInclusive<f64> = -30.0..=60.0;

/// How many times as much a cell resists at `temp_c` as at 25 °C, where nobody measured it: an assumption, which the
/// person's own figure overrides.
///
/// Arrhenius' law with 20 kJ/mol: about 2 times at 0 °C, 3 times at -10 °C, 4 times at -20 °C. Above 25 °C it stays at
/// 1, so that warm cells are not counted on. `None` outside [`FACTOR_RANGE_C`]. It holds for cells; links and cables
/// resist less when cold.
///
/// Its `value` is the factor.
pub fn resistance_factor(temp_c: f64) -> Option<Sourced<f64>> {
    const KELVIN: f64 = 20_000.0 / 8.314_462_618;
    if !FACTOR_RANGE_C.contains(&temp_c) {
        return None;
    }
    let over_25 = 1.0 / (temp_c + ZERO_C_K) - 1.0 / (25.0 + ZERO_C_K);
    Some(Sourced {
        value: (KELVIN * over_25).exp().max(1.0),
        source: "from memory: check it; 20 kJ/mol, chosen so that -20 °C comes within the 3 to 5 times that an open \
                 teaching page gives without a source; cells differ widely",
        known_by: "memory",
    })
}

/// How much warmer a mass gets that keeps all its heat: `T = P t / (m c)`, in kelvin.
///
/// No cooling at all: after a minute at the peak about right, after an hour in steel the most it can be.
///
/// - `heat_w`: the heat that stays in it, for a pack [`crate::load::Loaded::heat_w`].
/// - `mass_kg`, `specific_heat`: of the cells, in kilograms and joules for each kilogram and kelvin:
///   [`Chemistry::specific_heat`].
///
/// `None` unless mass and specific heat are above zero and time is not below.
///
/// Source: energy balance.
pub fn warming(heat_w: f64, mass_kg: f64, specific_heat: f64, seconds: f64) -> Option<f64> {
    (mass_kg > 0.0 && specific_heat > 0.0 && seconds >= 0.0).then(|| heat_w * seconds / (mass_kg * specific_heat))
}

impl Chemistry {
    /// Typical specific heat of a whole cell, in joules for each kilogram and kelvin. About room temperature and half
    /// charged.
    pub const fn specific_heat(self) -> Sourced<f64> {
        const PAGE: &str = "open trade page on the design of batteries: specific heat of lithium-ion cells, 30 to 40 °C \
                            and half charged";
        let (value, source, known_by) = match self {
            Self::Nca => (830.0, PAGE, "found"),
            Self::Nmc => (1040.0, PAGE, "found"),
            Self::Lfp => (1130.0, PAGE, "found"),
            Self::Lmo | Self::NmcLmoBlend | Self::Lto => (
                1000.0,
                "from memory: check it; an open trade page gives 800 to 1100 for lithium-ion cells in general",
                "memory",
            ),
        };
        Sourced {
            value,
            source,
            known_by,
        }
    }

    /// Typical rate that a cell is charged at for long, in capacities an hour, and the most that is spoken of.
    pub const fn charge_rate(self) -> Sourced<RangeInclusive<f64>> {
        let (value, source, known_by) = match self {
            Self::Nmc | Self::Lmo => (0.7..=1.0, FAMILIES, "found"),
            Self::Lfp | Self::Nca => (1.0..=1.0, FAMILIES, "found"),
            Self::Lto => (1.0..=5.0, FAMILIES, "found"),
            Self::NmcLmoBlend => (0.7..=1.0, "from memory: check it; taken as of both its parts", "memory"),
        };
        Sourced {
            value,
            source,
            known_by,
        }
    }

    /// Temperatures of the cell at which it is charged, in °C.
    ///
    /// Below 0 °C metallic lithium settles on graphite and stays. LTO has no graphite and is spoken of as taking charge
    /// colder; that is from memory too, so that its window is the same here.
    pub const fn charge_window_c(self) -> Sourced<RangeInclusive<f64>> {
        let (source, known_by) = match self {
            Self::Lfp => (
                "data sheet of an LFP cell: at most 0.2 C up to 15 °C, 0.5 C above",
                "found",
            ),
            _ => ("from memory: check it; data sheets of LFP cells say the same", "memory"),
        };
        Sourced {
            value: 0.0..=45.0,
            source,
            known_by,
        }
    }
}

const FAMILIES: &str = "summary table of lithium-ion families on an open trade page";

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    // exp(20000 / 8.314462618 x (1 / T - 1 / 298.15)), by hand.
    #[case::as_measured(25.0, Some(1.0))]
    #[case::freezing(0.0, Some(2.0926))]
    #[case::cold(-10.0, Some(2.9243))]
    #[case::warm_cells_are_not_counted_on(45.0, Some(1.0))]
    #[case::colder_than_assumed(-30.1, None)]
    #[case::no_number(f64::NAN, None)]
    fn cold_cells_resist_more(#[case] temp_c: f64, #[case] wanted: Option<f64>) {
        let got = resistance_factor(temp_c).map(|factor| factor.value);
        assert_eq!(got.is_some(), wanted.is_some());
        assert!(
            got.zip(wanted).is_none_or(|(got, wanted)| (got - wanted).abs() < 1e-4),
            "{got:?}"
        );
    }

    #[test]
    fn a_kilogram_of_water_warms_by_one_kelvin_with_4186_joules() {
        assert_eq!(warming(41.86, 1.0, 4186.0, 100.0), Some(1.0));
        assert_eq!(warming(1.0, 0.0, 1000.0, 1.0), None);
        assert_eq!(warming(1.0, 1.0, 0.0, 1.0), None);
        assert_eq!(warming(1.0, 1.0, 1000.0, -1.0), None);
    }

    #[test]
    fn what_is_from_memory_says_so() {
        let told = |source: &str, known_by: &str| (known_by == "memory") == source.contains("from memory");
        for family in Chemistry::ALL {
            let (heat, rate, charge) = (family.specific_heat(), family.charge_rate(), family.charge_window_c());
            assert!(told(heat.source, heat.known_by), "{family:?}");
            assert!(told(rate.source, rate.known_by), "{family:?}");
            assert!(told(charge.source, charge.known_by), "{family:?}");
        }
    }
}
