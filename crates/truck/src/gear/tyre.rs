//! Tyre size codes and how far a tyre rolls in one turn.

use std::str::FromStr;

use crate::check::positive;
use crate::units::M_PER_IN;
use crate::{Source, Sourced, TruckError};

/// Rolling circumference over overall diameter of a radial tyre; pi would be a tyre that does not give.
pub const ROLLING_FACTOR: Sourced<f64> = Sourced {
    value: 3.05,
    source: Source::memory("ETRTO rule for radial tyres; one reference page has 0.8 % more"),
};

/// What a code begins with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Marking {
    /// `P`: a passenger-car tyre, which counts for less on a truck.
    Passenger,
    /// `LT`, before the size or after it, or `C` (commercial) after it.
    LightTruck,
    /// None.
    None,
}

/// The figures of a size code.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Size {
    /// `215/75R15`: width in millimetres, height of the side wall in percent of it, rim in inches.
    Metric {
        /// Millimetres.
        section_mm: f64,
        /// Percent.
        aspect_pct: f64,
        /// Inches.
        rim_in: f64,
    },
    /// `31x10.50R15`: overall diameter, width and rim in inches.
    Flotation {
        /// Inches.
        diameter_in: f64,
        /// Inches.
        section_in: f64,
        /// Inches.
        rim_in: f64,
    },
}

/// A code as read off a side wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tyre {
    /// What it is marked with.
    pub marking: Marking,
    /// Its size.
    pub size: Size,
    /// Whether its code names no height of the side wall, which is then taken as [`UNNAMED_ASPECT_PCT`].
    pub is_unnamed: bool,
}

/// Height of the side wall in percent of the width, of a metric code that names none: `185R14`, `195R15C`.
pub const UNNAMED_ASPECT_PCT: Sourced<f64> = Sourced {
    value: 82.0,
    source: Source::found("practice of older radial tyres, as two public tyre pages tell it; another has 80"),
};

/// Text that is no size code.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SizeError {
    /// It cannot be read.
    #[error("tyre size: \"{0}\" cannot be read")]
    Unreadable(String),
    /// It is of a numeric code in inches, which names no height of the side wall.
    #[error("tyre size: \"{0}\" names its width and its rim, and not how high its side wall is")]
    NoHeight(String),
    /// Its figures cannot be those of a tyre.
    #[error("tyre size: \"{0}\" is no size of a road tyre")]
    Unlikely(String),
}

impl SizeError {
    /// What to do, as an instruction.
    pub const fn mend(&self) -> &'static str {
        match self {
            Self::Unreadable(_) => "write it as on the side wall: P215/75R15, 195/70R15C, 195R15C or 31x10.50R15LT",
            Self::NoHeight(_) => {
                "leave the size open, roll the wheel out on the floor for one turn, the truck loaded, and enter how far it rolled"
            }
            Self::Unlikely(_) => "look for a slip in its figures",
        }
    }
}

impl Size {
    /// Overall diameter, metres: `25.4 rim + 2 w a / 100` in millimetres, or as the code says.
    ///
    /// Source: the code's own definition; ETRTO and US tyre pages.
    ///
    /// # Errors
    ///
    /// [`TruckError::NotAbove`] for a figure not above zero.
    pub fn diameter_m(self) -> Result<f64, TruckError> {
        const MEND: &str = "read the side wall again";
        match self {
            Self::Metric {
                section_mm,
                aspect_pct,
                rim_in,
            } => {
                let section_m = positive("tyre width", section_mm, MEND)? / 1_000.0;
                let aspect = positive("height of the side wall", aspect_pct, MEND)? / 100.0;
                Ok(positive("rim", rim_in, MEND)? * M_PER_IN + 2.0 * section_m * aspect)
            }
            Self::Flotation { diameter_in, .. } => Ok(positive("tyre diameter", diameter_in, MEND)? * M_PER_IN),
        }
    }

    /// How far it rolls in one turn, metres: `factor x diameter`; see [`ROLLING_FACTOR`].
    ///
    /// Within 1 % at best. A turn rolled out on the floor with a chalk mark, truck loaded, is better.
    ///
    /// # Errors
    ///
    /// As [`Size::diameter_m`], or a factor not above zero.
    pub fn rolling_m(self, factor: f64) -> Result<f64, TruckError> {
        Ok(self.diameter_m()? * positive("rolling factor", factor, "enter about 3.05")?)
    }
}

impl FromStr for Tyre {
    type Err = SizeError;

    /// Reads `P215/75R15`, `LT235/85R16`, `215/75-15`, `195/70R15C`, `185R14`, `31x10.50R15LT`; what follows after a space (load index, speed) is
    /// passed over.
    fn from_str(text: &str) -> Result<Self, SizeError> {
        let unreadable = || SizeError::Unreadable(text.to_owned());
        let code = text
            .split_whitespace()
            .next()
            .ok_or_else(unreadable)?
            .to_ascii_uppercase();
        let (marking, rest) = marking(&code);
        if is_numeric(rest) {
            return Err(SizeError::NoHeight(text.to_owned()));
        }
        let unnamed = unnamed(rest);
        let size = metric(rest)
            .or_else(|| flotation(rest))
            .or(unnamed)
            .ok_or_else(unreadable)?;
        let likely = size.diameter_m().is_ok_and(|diameter_m| LIKELY_M.contains(&diameter_m));
        if likely {
            Ok(Self {
                marking,
                size,
                is_unnamed: unnamed.is_some(),
            })
        } else {
            Err(SizeError::Unlikely(text.to_owned()))
        }
    }
}

/// Overall diameters of road tyres, metres.
const LIKELY_M: std::ops::RangeInclusive<f64> = 0.4..=1.4;

fn marking(code: &str) -> (Marking, &str) {
    let before = code.strip_prefix("LT");
    let rest = before.unwrap_or(code);
    let behind = rest.strip_suffix("LT").or_else(|| rest.strip_suffix('C'));
    if before.or(behind).is_some() {
        (Marking::LightTruck, behind.unwrap_or(rest))
    } else if let Some(rest) = code.strip_prefix('P') {
        (Marking::Passenger, rest)
    } else {
        (Marking::None, code)
    }
}

fn metric(code: &str) -> Option<Size> {
    let (section, rest) = code.split_once('/')?;
    let (aspect, rim) = at_rim(rest)?;
    Some(Size::Metric {
        section_mm: section.parse().ok()?,
        aspect_pct: aspect.parse().ok()?,
        rim_in: rim.parse().ok()?,
    })
}

/// Of an older metric code without the height of its side wall: a width of three figures, as no width in inches has.
fn unnamed(code: &str) -> Option<Size> {
    let (section, rim) = at_rim(code)?;
    let is_metric = section.len() == 3 && section.bytes().all(|byte| byte.is_ascii_digit());
    Some(Size::Metric {
        section_mm: section.parse().ok().filter(|_| is_metric)?,
        aspect_pct: UNNAMED_ASPECT_PCT.value,
        rim_in: rim.parse().ok()?,
    })
}

/// Whether it is a width in inches and a rim: `7.50R16`, `6.00-16`.
fn is_numeric(code: &str) -> bool {
    at_rim(code).is_some_and(|(section, rim)| {
        section.contains('.')
            && section
                .parse::<f64>()
                .is_ok_and(|section_in| (3.0..=14.0).contains(&section_in))
            && rim.parse::<f64>().is_ok_and(|rim_in| (8.0..=26.0).contains(&rim_in))
    })
}

fn flotation(code: &str) -> Option<Size> {
    let (diameter, rest) = code.split_once('X')?;
    let (section, rim) = at_rim(rest)?;
    Some(Size::Flotation {
        diameter_in: diameter.parse().ok()?,
        section_in: section.parse().ok()?,
        rim_in: rim.parse().ok()?,
    })
}

/// What is before and after the letters of the build: `R`, `ZR`, `B`, `D` or a dash.
fn at_rim(text: &str) -> Option<(&str, &str)> {
    let (before, rim) = text.split_once(['R', 'B', 'D', '-'])?;
    Some((before.strip_suffix('Z').unwrap_or(before), rim))
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case::passenger("P215/75R15", Marking::Passenger, 703.5)]
    #[case::plain("245/55R18", Marking::None, 726.7)]
    #[case::light_truck("LT235/85R16", Marking::LightTruck, 805.9)]
    #[case::with_its_load_index("P215/75R15 100S", Marking::Passenger, 703.5)]
    #[case::fast("245/35ZR17", Marking::None, 603.3)]
    #[case::cross_ply("215/75-15", Marking::None, 703.5)]
    #[case::flotation("31x10.50R15LT", Marking::LightTruck, 787.4)]
    #[case::marked_at_both_ends("LT235/75R15C", Marking::LightTruck, 733.5)]
    #[case::van("195/70R15C", Marking::LightTruck, 654.0)]
    #[case::van_with_its_load_index("185/80R14C 102/100Q", Marking::LightTruck, 651.6)]
    #[case::van_without_height("195R15C", Marking::LightTruck, 700.8)]
    #[case::old_radial("185R14", Marking::None, 659.0)]
    fn reads_a_side_wall(#[case] text: &str, #[case] marking: Marking, #[case] diameter_mm: f64) {
        let tyre: Tyre = text.parse().unwrap();
        assert_eq!(tyre.marking, marking);
        assert!((tyre.size.diameter_m().unwrap() * 1_000.0 - diameter_mm).abs() < 1e-9);
    }

    /// How high the side wall of these is follows from no published ratio: a turn rolled out tells it.
    #[rstest]
    fn a_numeric_code_asks_for_the_wheel_to_be_rolled_out(
        #[values("7.50R16LT", "7.50-16", "6.00-16C", "7.00R15 8PR")] text: &str,
    ) {
        let refused = text.parse::<Tyre>().unwrap_err();
        assert_eq!(refused, SizeError::NoHeight(text.to_owned()));
        assert!(refused.mend().contains("roll the wheel out"));
    }

    #[rstest]
    #[case("")]
    #[case("215")]
    #[case("95R15")]
    #[case("C")]
    #[case("215/75")]
    #[case("215/75R")]
    #[case("31xR15")]
    #[case("tyre")]
    fn what_is_no_code_is_refused(#[case] text: &str) {
        assert_eq!(text.parse::<Tyre>(), Err(SizeError::Unreadable(text.to_owned())));
    }

    #[rstest]
    #[case("2155/75R15")]
    #[case("215/75R150")]
    #[case("-215/75R15")]
    #[case("215/NaNR15")]
    fn a_slip_in_the_figures_is_refused(#[case] text: &str) {
        assert_eq!(text.parse::<Tyre>(), Err(SizeError::Unlikely(text.to_owned())));
    }
}
