//! Drives that the program brings along: schedules of US federal regulation, as text in `assets/cycles`.

use std::sync::LazyLock;

use crate::cycle::Cycle;
use crate::units::MPS_PER_MPH;
use crate::{Source, TruckError};

/// A drive that the program brings along.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Known {
    /// City driving.
    Udds,
    /// Country road.
    Hwfet,
    /// Hard driving.
    Us06,
}

/// All of them.
pub const ALL: [Known; 3] = [Known::Udds, Known::Hwfet, Known::Us06];

static UDDS: LazyLock<Cycle> = LazyLock::new(|| read(include_str!("../../../assets/cycles/udds.csv")));
static HWFET: LazyLock<Cycle> = LazyLock::new(|| read(include_str!("../../../assets/cycles/hwfet.csv")));
static US06: LazyLock<Cycle> = LazyLock::new(|| read(include_str!("../../../assets/cycles/us06.csv")));

impl Known {
    /// `UDDS`, `HWFET`, `US06`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Udds => "UDDS",
            Self::Hwfet => "HWFET",
            Self::Us06 => "US06",
        }
    }

    /// What it is, in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Udds => "city driving",
            Self::Hwfet => "country road",
            Self::Us06 => "hard driving",
        }
    }

    /// Its speeds.
    pub fn cycle(self) -> &'static Cycle {
        match self {
            Self::Udds => &UDDS,
            Self::Hwfet => &HWFET,
            Self::Us06 => &US06,
        }
    }

    /// Where it is from.
    pub const fn source(self) -> Source {
        match self {
            Self::Udds => Source::found(
                "40 CFR Part 86, Appendix I (a); from an open-source package that carries it, 130 points compared with the table",
            ),
            Self::Hwfet => Source::found(
                "40 CFR Part 600, Appendix I; from an open-source package that carries it, totals compared",
            ),
            Self::Us06 => Source::found(
                "40 CFR Part 86, Appendix I; from an open-source package that carries it, totals compared",
            ),
        }
    }
}

/// Reads a drive from text: a line of headings, then `second,mph` for every second from 0.
///
/// # Errors
///
/// The number of the first line that is not so (from 1), or what is wrong with the speeds.
pub fn parse(text: &str) -> Result<Cycle, CycleError> {
    let rows = text.lines().enumerate().skip(1);
    let speed = |(line, row): (usize, &str)| {
        let (second, mph) = row.split_once(',').ok_or(CycleError::Line(line + 1))?;
        let in_turn = second.trim().parse() == Ok(line - 1);
        let mph: f64 = mph.trim().parse().map_err(|_| CycleError::Line(line + 1))?;
        if in_turn {
            Ok(mph * MPS_PER_MPH)
        } else {
            Err(CycleError::Line(line + 1))
        }
    };
    let speeds: Result<Vec<f64>, CycleError> = rows.map(speed).collect();
    Ok(Cycle::new(speeds?)?)
}

/// Text that is no drive.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum CycleError {
    /// A line is not as it should be.
    #[error("line {0}: not `second,mph`; give a row for every second from 0 under one line of headings")]
    Line(usize),
    /// The speeds make no drive.
    #[error(transparent)]
    Speeds(#[from] TruckError),
}

fn read(text: &str) -> Cycle {
    parse(text).expect("a test reads every drive that the program brings along")
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;
    use crate::units::M_PER_MILE;

    /// Printed in public references: miles, seconds, highest miles an hour.
    #[rstest]
    #[case(Known::Udds, 7.45, 1_369.0, 56.7)]
    #[case(Known::Hwfet, 10.26, 765.0, 59.9)]
    #[case(Known::Us06, 8.01, 600.0, 80.3)]
    fn each_is_as_long_and_fast_as_printed(
        #[case] known: Known,
        #[case] miles: f64,
        #[case] seconds: f64,
        #[case] highest_mph: f64,
    ) {
        let cycle = known.cycle();
        assert!((cycle.distance_m() / M_PER_MILE - miles).abs() < 0.005);
        assert!((cycle.duration_s() - seconds).abs() < 1e-9);
        assert!((cycle.highest_mps() / MPS_PER_MPH - highest_mph).abs() < 1e-9);
        let speeds = cycle.speeds_mps();
        assert!(speeds[0] == 0.0 && speeds[speeds.len() - 1] == 0.0, "{}", known.name());
    }

    #[rstest]
    #[case("second,mph\n0,0.0\n2,1.0\n", CycleError::Line(3))]
    #[case("second,mph\n0,0.0\n1;1.0\n", CycleError::Line(3))]
    #[case("second,mph\n0,fast\n1,1.0\n", CycleError::Line(2))]
    fn a_line_out_of_turn_is_named(#[case] text: &str, #[case] error: CycleError) {
        assert_eq!(parse(text), Err(error));
    }

    #[test]
    fn speeds_below_zero_or_none_are_refused() {
        assert!(matches!(parse("second,mph\n0,1\n1,-1\n"), Err(CycleError::Speeds(_))));
        assert!(matches!(parse(""), Err(CycleError::Speeds(_))));
    }
}
