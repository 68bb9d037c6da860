//! What speaks against an arrangement.

use crate::arrangement::Figures;
use crate::window::{ChargerWindow, DriveWindow};
use crate::{Amps, Volts};

/// How grave an objection is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grave {
    /// It works, but not to the full.
    Caution,
    /// It cannot work, or is outside a stated limit.
    Stop,
}

/// Something that speaks against an arrangement, with the figure and the limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Objection {
    /// Full volts above the drive's most.
    FullAboveDrive {
        /// Full volts.
        full: Volts,
        /// The drive's most.
        limit: Volts,
    },
    /// Full volts above what destroys the drive.
    FullAboveAbsolute {
        /// Full volts.
        full: Volts,
        /// The drive's absolute most.
        limit: Volts,
    },
    /// Empty volts below the drive's least.
    EmptyBelowDrive {
        /// Empty volts.
        empty: Volts,
        /// The drive's least.
        limit: Volts,
    },
    /// The charger cannot reach full.
    ChargerTooLow {
        /// Full volts.
        full: Volts,
        /// The charger's most.
        limit: Volts,
    },
    /// The charger does not start when empty.
    ChargerStartsAbove {
        /// Empty volts.
        empty: Volts,
        /// The charger's least.
        limit: Volts,
    },
    /// The drive draws more at its peak than the modules give.
    PeakAmps {
        /// What the modules give.
        gives: Amps,
        /// What the drive draws.
        draws: Amps,
    },
    /// The drive draws more for long than the modules give.
    ContinuousAmps {
        /// What the modules give.
        gives: Amps,
        /// What the drive draws.
        draws: Amps,
    },
}

impl Objection {
    /// How grave it is: outside the drive's window is a stop; the charger's start and amps are cautions; a charger
    /// that cannot reach full is a caution (the pack works, part of the capacity is given up).
    pub const fn grave(&self) -> Grave {
        match self {
            Self::FullAboveDrive { .. } | Self::FullAboveAbsolute { .. } | Self::EmptyBelowDrive { .. } => Grave::Stop,
            Self::ChargerTooLow { .. }
            | Self::ChargerStartsAbove { .. }
            | Self::PeakAmps { .. }
            | Self::ContinuousAmps { .. } => Grave::Caution,
        }
    }

    /// In plain words, with both figures: `full 170.4 V is over the drive's 160 V`.
    ///
    /// One decimal at most, unless the two figures would then read the same.
    pub fn words(&self) -> String {
        match *self {
            Self::FullAboveDrive { full, limit } => {
                let [full, limit] = told_apart(full, limit);
                format!("full {full} V is over the drive's {limit} V")
            }
            Self::FullAboveAbsolute { full, limit } => {
                let [full, limit] = told_apart(full, limit);
                format!("full {full} V is over the {limit} V that destroys the drive")
            }
            Self::EmptyBelowDrive { empty, limit } => {
                let [empty, limit] = told_apart(empty, limit);
                format!("empty {empty} V is under the drive's least {limit} V")
            }
            Self::ChargerTooLow { full, limit } => {
                let [full, limit] = told_apart(full, limit);
                format!("the charger stops at {limit} V, short of full {full} V")
            }
            Self::ChargerStartsAbove { empty, limit } => {
                let [empty, limit] = told_apart(empty, limit);
                format!("the charger starts at {limit} V, above empty {empty} V")
            }
            Self::PeakAmps { gives, draws } => {
                let [gives, draws] = amps_told_apart(gives, draws);
                format!("the drive draws {draws} A at its peak, the modules give {gives} A")
            }
            Self::ContinuousAmps { gives, draws } => {
                let [gives, draws] = amps_told_apart(gives, draws);
                format!("the drive draws {draws} A for long, the modules give {gives} A")
            }
        }
    }

    /// What would put it right, as an instruction.
    pub const fn fix(&self) -> &'static str {
        match self {
            Self::FullAboveDrive { .. } => "put fewer modules in series, or take a drive for more volts",
            Self::FullAboveAbsolute { .. } => "put fewer modules in series; never connect this one",
            Self::EmptyBelowDrive { .. } => "put more modules in series, or take a drive for fewer volts",
            Self::ChargerTooLow { .. } => {
                "take a charger that reaches higher or put fewer modules in series, or give up the last of the capacity"
            }
            Self::ChargerStartsAbove { .. } => {
                "put more modules in series, take a charger that starts lower, or stop discharging before empty"
            }
            Self::PeakAmps { .. } => "put more strings in parallel, or set the drive to draw less at its peak",
            Self::ContinuousAmps { .. } => "put more strings in parallel, or set the drive to draw less for long",
        }
    }
}

/// What speaks against a pack with these figures, gravest first.
///
/// A figure equal to its limit is within it. Amps that nobody knows raise no objection. Full volts above what destroys
/// the drive are above its most as well, and both are said.
pub fn objections(figures: &Figures, drive: Option<&DriveWindow>, charger: Option<&ChargerWindow>) -> Vec<Objection> {
    let mut found = Vec::new();
    if let Some(drive) = drive {
        against_drive(figures, drive, &mut found);
    }
    if let Some(charger) = charger {
        against_charger(figures, charger, &mut found);
    }
    found.sort_by_key(|objection| std::cmp::Reverse(objection.grave()));
    found
}

fn against_drive(figures: &Figures, drive: &DriveWindow, found: &mut Vec<Objection>) {
    let (empty, full) = (figures.volts.empty, figures.volts.full);
    if let Some(limit) = drive.absolute_max.filter(|&limit| full > limit) {
        found.push(Objection::FullAboveAbsolute { full, limit });
    }
    if full > drive.max {
        found.push(Objection::FullAboveDrive { full, limit: drive.max });
    }
    if empty < drive.min {
        found.push(Objection::EmptyBelowDrive {
            empty,
            limit: drive.min,
        });
    }
    if let Some((gives, draws)) = figures.peak.zip(drive.peak).filter(|(gives, draws)| gives < draws) {
        found.push(Objection::PeakAmps { gives, draws });
    }
    if let Some((gives, draws)) = figures
        .continuous
        .zip(drive.continuous)
        .filter(|(gives, draws)| gives < draws)
    {
        found.push(Objection::ContinuousAmps { gives, draws });
    }
}

fn against_charger(figures: &Figures, charger: &ChargerWindow, found: &mut Vec<Objection>) {
    let (empty, full) = (figures.volts.empty, figures.volts.full);
    if charger.max < full {
        found.push(Objection::ChargerTooLow {
            full,
            limit: charger.max,
        });
    }
    if let Some(limit) = charger.min.filter(|&limit| limit > empty) {
        found.push(Objection::ChargerStartsAbove { empty, limit });
    }
}

fn told_apart(a: Volts, b: Volts) -> [String; 2] {
    apart(|decimals| [a.shown(decimals), b.shown(decimals)])
}

fn amps_told_apart(a: Amps, b: Amps) -> [String; 2] {
    apart(|decimals| [a.shown(decimals), b.shown(decimals)])
}

/// Two figures with the fewest decimals, but at least one, that show a difference: "160 V is over 160 V" would help
/// nobody.
fn apart(shown: impl Fn(usize) -> [String; 2]) -> [String; 2] {
    (1..3).map(&shown).find(|[a, b]| a != b).unwrap_or_else(|| shown(3))
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;
    use crate::{AmpHours, CellVolts, WattHours};

    fn volts(milli: i64) -> Volts {
        Volts::from_milli(milli)
    }

    fn amps(milli: i64) -> Amps {
        Amps::from_milli(milli)
    }

    #[rstest]
    #[case::one_decimal(
        Objection::FullAboveDrive { full: volts(170_400), limit: volts(160_000) },
        "full 170.4 V is over the drive's 160 V"
    )]
    #[case::more_decimals_where_they_would_read_the_same(
        Objection::FullAboveDrive { full: volts(160_020), limit: volts(160_000) },
        "full 160.02 V is over the drive's 160 V"
    )]
    #[case::destroys(
        Objection::FullAboveAbsolute { full: volts(170_400), limit: volts(170_000) },
        "full 170.4 V is over the 170 V that destroys the drive"
    )]
    #[case::too_low(
        Objection::EmptyBelowDrive { empty: volts(83_200), limit: volts(90_000) },
        "empty 83.2 V is under the drive's least 90 V"
    )]
    #[case::charger_short(
        Objection::ChargerTooLow { full: volts(403_200), limit: volts(400_000) },
        "the charger stops at 400 V, short of full 403.2 V"
    )]
    #[case::charger_late(
        Objection::ChargerStartsAbove { empty: volts(99_999), limit: volts(100_000) },
        "the charger starts at 100 V, above empty 99.999 V"
    )]
    #[case::peak(
        Objection::PeakAmps { gives: amps(300_000), draws: amps(400_000) },
        "the drive draws 400 A at its peak, the modules give 300 A"
    )]
    #[case::continuous(
        Objection::ContinuousAmps { gives: amps(112_500), draws: amps(150_000) },
        "the drive draws 150 A for long, the modules give 112.5 A"
    )]
    fn says_both_figures(#[case] objection: Objection, #[case] words: &str) {
        assert_eq!(objection.words(), words);
        assert!(!objection.fix().is_empty());
    }

    fn figures() -> Figures {
        Figures {
            volts: CellVolts {
                empty: volts(90_000),
                nominal: volts(120_000),
                full: volts(160_000),
            },
            capacity: AmpHours::from_milli(100_000),
            energy: WattHours::default(),
            continuous: Some(amps(100_000)),
            peak: Some(amps(400_000)),
            cells: (40, 1),
        }
    }

    fn drive() -> DriveWindow {
        DriveWindow {
            min: volts(90_000),
            max: volts(160_000),
            absolute_max: Some(volts(160_000)),
            peak: Some(amps(400_000)),
            continuous: Some(amps(100_000)),
        }
    }

    #[test]
    fn a_figure_equal_to_its_limit_is_within_it() {
        let charger = ChargerWindow {
            min: Some(volts(90_000)),
            max: volts(160_000),
        };
        assert_eq!(objections(&figures(), Some(&drive()), Some(&charger)), []);
        assert_eq!(objections(&figures(), None, None), []);
    }

    #[test]
    fn one_step_beyond_each_limit_is_said_gravest_first() {
        let one = volts(1);
        let mut figures = figures();
        figures.volts.empty = figures.volts.empty - one;
        figures.volts.full = figures.volts.full + one;
        figures.peak = Some(amps(399_999));
        figures.continuous = Some(amps(99_999));
        let charger = ChargerWindow {
            min: Some(volts(90_000)),
            max: volts(160_000),
        };
        let found = objections(&figures, Some(&drive()), Some(&charger));
        let graves: Vec<Grave> = found.iter().map(Objection::grave).collect();
        assert_eq!(found.len(), 7);
        assert_eq!(graves, [[Grave::Stop; 3].as_slice(), &[Grave::Caution; 4]].concat());
    }

    #[test]
    fn unknown_amps_raise_no_objection() {
        let mut figures = figures();
        (figures.peak, figures.continuous) = (None, None);
        assert_eq!(objections(&figures, Some(&drive()), None), []);
    }
}
