//! What speaks against an arrangement.

use crate::arithmetic::{sag, units_resistance};
use crate::arrangement::{Arrangement, Figures};
use crate::window::{ChargerWindow, ConverterWindow, DriveWindow, Suits};
use crate::{Amps, Ohms, Volts};

/// How grave an objection is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grave {
    /// It works, but not to the full.
    Caution,
    /// It cannot work, or is outside a stated limit.
    Stop,
}

/// When a pack sags most.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Low {
    /// Empty, at room temperature.
    Empty,
    /// Half full, on the coldest morning.
    Cold,
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
    /// Under the drive's peak amps it falls below the drive's least. Modules alone: links and cables are not counted.
    Sags {
        /// When.
        low: Low,
        /// Volts under load.
        loaded: Volts,
        /// The drive's least.
        limit: Volts,
        /// The drive's peak.
        amps: Amps,
    },
    /// The charger gives more than the modules may take.
    ChargerAmps {
        /// What the modules may take.
        takes: Amps,
        /// What the charger gives.
        gives: Amps,
    },
    /// The drive returns more when braking than the modules may take.
    ReturnedAmps {
        /// What the modules may take.
        takes: Amps,
        /// What the drive returns.
        gives: Amps,
    },
    /// Full volts above what the 12 V converter takes.
    FullAboveConverter {
        /// Full volts.
        full: Volts,
        /// The converter's most.
        limit: Volts,
    },
    /// Empty volts below what the 12 V converter works at.
    EmptyBelowConverter {
        /// Empty volts.
        empty: Volts,
        /// The converter's least.
        limit: Volts,
    },
}

impl Objection {
    /// How grave it is: outside the drive's window, or above what the converter takes, is a stop; the charger's start,
    /// amps and sag are cautions; a charger that cannot reach full is a caution (the pack works, part of the capacity
    /// is given up).
    pub const fn grave(&self) -> Grave {
        match self {
            Self::FullAboveDrive { .. }
            | Self::FullAboveAbsolute { .. }
            | Self::EmptyBelowDrive { .. }
            | Self::FullAboveConverter { .. } => Grave::Stop,
            Self::ChargerTooLow { .. }
            | Self::ChargerStartsAbove { .. }
            | Self::PeakAmps { .. }
            | Self::ContinuousAmps { .. }
            | Self::Sags { .. }
            | Self::ChargerAmps { .. }
            | Self::ReturnedAmps { .. }
            | Self::EmptyBelowConverter { .. } => Grave::Caution,
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
            Self::Sags {
                low,
                loaded,
                limit,
                amps,
            } => {
                let [loaded, limit] = told_apart(loaded, limit);
                let when = match low {
                    Low::Empty => "empty",
                    Low::Cold => "cold and half full",
                };
                let amps = amps.shown(0);
                format!("{when} at {amps} A it sags to {loaded} V, under the drive's least {limit} V")
            }
            Self::ChargerAmps { takes, gives } => {
                let [takes, gives] = amps_told_apart(takes, gives);
                format!("the charger gives {gives} A, the modules may take {takes} A")
            }
            Self::ReturnedAmps { takes, gives } => {
                let [takes, gives] = amps_told_apart(takes, gives);
                format!("the drive returns {gives} A when braking, the modules may take {takes} A")
            }
            Self::FullAboveConverter { full, limit } => {
                let [full, limit] = told_apart(full, limit);
                format!("full {full} V is over the 12 V converter's {limit} V")
            }
            Self::EmptyBelowConverter { empty, limit } => {
                let [empty, limit] = told_apart(empty, limit);
                format!("empty {empty} V is under the 12 V converter's least {limit} V")
            }
        }
    }

    /// Where its limit comes from.
    pub const fn source(&self) -> &'static str {
        match self {
            Self::Sags { .. } => "Ohm's law; modules alone, links and cables not counted",
            _ => "your entries for drive, charger and module",
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
            Self::Sags { .. } => "set the drive to draw less when low or cold, or put more strings in parallel",
            Self::ChargerAmps { .. } => "set the charger to fewer amps, or put more strings in parallel",
            Self::ReturnedAmps { .. } => "set the drive to return less, or put more strings in parallel",
            Self::FullAboveConverter { .. } => "take a converter for more volts, or put fewer modules in series",
            Self::EmptyBelowConverter { .. } => {
                "take a converter that works lower, put more modules in series, or stop discharging before empty"
            }
        }
    }
}

/// What speaks against a pack with these figures, in this arrangement, gravest first.
///
/// A figure equal to its limit is within it. Amps and resistances that nobody knows raise no objection. Full volts above
/// what destroys the drive are above its most as well, and both are said. A pack that is under the drive's least even at
/// rest is not told to sag below it.
pub fn objections(figures: &Figures, arrangement: Arrangement, suits: &Suits) -> Vec<Objection> {
    let mut found = Vec::new();
    if let Some(drive) = &suits.drive {
        against_drive(figures, drive, &mut found);
        if let Some(module) = suits.module {
            let resistance = units_resistance(module, arrangement);
            sagging(figures, resistance, suits.cold_times, drive, &mut found);
        }
    }
    if let Some(charger) = &suits.charger {
        against_charger(figures, charger, &mut found);
    }
    if let Some(converter) = &suits.converter {
        against_converter(figures, converter, &mut found);
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
    if let Some((gives, draws)) = short(figures.peak, drive.peak) {
        found.push(Objection::PeakAmps { gives, draws });
    }
    if let Some((gives, draws)) = short(figures.continuous, drive.continuous) {
        found.push(Objection::ContinuousAmps { gives, draws });
    }
    if let Some((takes, gives)) = short(figures.charge, drive.returns) {
        found.push(Objection::ReturnedAmps { takes, gives });
    }
}

/// What there is and what is asked for, when both are known and it is too little.
fn short(have: Option<Amps>, asked: Option<Amps>) -> Option<(Amps, Amps)> {
    have.zip(asked).filter(|(have, asked)| have < asked)
}

fn sagging(figures: &Figures, resistance: Ohms, cold_times: f64, drive: &DriveWindow, found: &mut Vec<Objection>) {
    let Some(amps) = drive.peak else { return };
    let drop = sag(resistance, amps);
    let cold = Volts::nearest(drop.get() * cold_times);
    let limit = drive.min;
    for (low, rest, drop) in [
        (Low::Empty, figures.volts.empty, drop),
        (Low::Cold, figures.volts.nominal, cold),
    ] {
        let loaded = rest - drop;
        if rest >= limit && loaded < limit {
            found.push(Objection::Sags {
                low,
                loaded,
                limit,
                amps,
            });
        }
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
    if let Some((takes, gives)) = short(figures.charge, charger.amps) {
        found.push(Objection::ChargerAmps { takes, gives });
    }
}

fn against_converter(figures: &Figures, converter: &ConverterWindow, found: &mut Vec<Objection>) {
    let (empty, full) = (figures.volts.empty, figures.volts.full);
    if full > converter.max {
        found.push(Objection::FullAboveConverter {
            full,
            limit: converter.max,
        });
    }
    if empty < converter.min {
        found.push(Objection::EmptyBelowConverter {
            empty,
            limit: converter.min,
        });
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
            charge: Some(amps(50_000)),
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
            returns: Some(amps(50_000)),
        }
    }

    const AT: Arrangement = Arrangement { series: 1, parallel: 1 };

    /// Limits that the figures just keep.
    fn suits() -> Suits {
        Suits {
            drive: Some(drive()),
            charger: Some(ChargerWindow {
                min: Some(volts(90_000)),
                max: volts(160_000),
                amps: Some(amps(50_000)),
            }),
            converter: Some(ConverterWindow {
                min: volts(90_000),
                max: volts(160_000),
            }),
            module: None,
            cold_times: 0.0,
        }
    }

    #[test]
    fn a_figure_equal_to_its_limit_is_within_it() {
        assert_eq!(objections(&figures(), AT, &suits()), []);
        assert_eq!(objections(&figures(), AT, &Suits::default()), []);
    }

    #[test]
    fn one_step_beyond_each_limit_is_said_gravest_first() {
        let one = volts(1);
        let mut figures = figures();
        figures.volts.empty = figures.volts.empty - one;
        figures.volts.full = figures.volts.full + one;
        figures.peak = Some(amps(399_999));
        figures.continuous = Some(amps(99_999));
        figures.charge = Some(amps(49_999));
        let found = objections(&figures, AT, &suits());
        let graves: Vec<Grave> = found.iter().map(Objection::grave).collect();
        assert_eq!(found.len(), 11);
        assert_eq!(graves, [[Grave::Stop; 4].as_slice(), &[Grave::Caution; 7]].concat());
    }

    #[test]
    fn unknown_amps_raise_no_objection() {
        let mut figures = figures();
        (figures.peak, figures.continuous, figures.charge) = (None, None, None);
        assert_eq!(objections(&figures, AT, &suits()), []);
    }

    /// 1 milliohm at 400 A is 0.4 V; twenty times as much when cold, 8 V.
    #[test]
    fn a_pack_that_sags_below_the_drive_is_told_when() {
        let mut figures = figures();
        figures.volts.nominal = volts(97_999);
        let suits = Suits {
            drive: Some(drive()),
            module: Some(Ohms::nearest_milliohms(1.0)),
            cold_times: 20.0,
            ..Suits::default()
        };
        let words: Vec<String> = objections(&figures, AT, &suits).iter().map(Objection::words).collect();
        assert_eq!(
            words,
            [
                "empty at 400 A it sags to 89.6 V, under the drive's least 90 V",
                "cold and half full at 400 A it sags to 89.999 V, under the drive's least 90 V",
            ]
        );
        figures.volts.empty = volts(90_400);
        figures.volts.nominal = volts(98_000);
        assert_eq!(objections(&figures, AT, &suits), []);
        figures.volts.empty = volts(89_000);
        assert!(matches!(
            objections(&figures, AT, &suits)[..],
            [Objection::EmptyBelowDrive { .. }]
        ));
    }
}
