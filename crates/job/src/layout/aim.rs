//! What the automatic layout is to do, and how many are wanted.

use std::fmt;
use std::str::FromStr;

use pack::arrangement::Arrangement;

use crate::Id;

/// What the automatic layout is to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aim {
    /// Lay out everything anew: whole strings that fit the drive, in all cavities.
    Whole,
    /// Lay out everything anew with this number of modules, whatever the drive says to it.
    Wanted(Count),
    /// Fill one cavity with as many modules as go in, whatever the strings.
    Fill(Id),
    /// Lay one box out anew in its cavity, with as many modules of its kind as go in; everything else stays.
    Box(Id),
}

impl Aim {
    /// Whether all boxes are laid out anew.
    pub const fn is_everything(self) -> bool {
        matches!(self, Self::Whole | Self::Wanted(_))
    }
}

/// A number of modules as strings, as a person writes it: `96s2p`, or `12s` for as many strings of 12 as go in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Count {
    /// Modules in series in each string.
    pub series: u32,
    /// Strings in parallel; `None` for as many as go in.
    pub parallel: Option<u32>,
}

/// The most modules that can be asked for, as many as can be entered as on hand.
const MOST: u32 = 2_048;

impl Count {
    /// Modules it takes; `None` when that is left open.
    pub fn modules(self) -> Option<u32> {
        self.parallel.map(|parallel| self.series.saturating_mul(parallel))
    }
}

impl From<Arrangement> for Count {
    fn from(arrangement: Arrangement) -> Self {
        Self {
            series: arrangement.series,
            parallel: Some(arrangement.parallel),
        }
    }
}

impl fmt::Display for Count {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}s", self.series)?;
        self.parallel.map_or(Ok(()), |parallel| write!(f, "{parallel}p"))
    }
}

/// Text that is no number of strings.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{given:?} is no number of strings: {problem}")]
pub struct CountError {
    /// What was given.
    pub given: String,
    /// What is wrong with it.
    pub problem: String,
}

impl CountError {
    /// How to mend it, as an instruction.
    pub const fn mend(&self) -> &'static str {
        "write 96s2p for 2 strings of 96 in series, 12s for as many strings of 12 as go in, or several with commas"
    }
}

impl FromStr for Count {
    type Err = CountError;

    fn from_str(text: &str) -> Result<Self, CountError> {
        let wrong = |problem: String| CountError {
            given: text.trim().chars().take(40).collect(),
            problem,
        };
        let number = |digits: &str, what: &str| {
            let plain = !digits.is_empty() && digits.chars().all(|c| c.is_ascii_digit());
            let number = digits.parse::<u32>().ok().filter(|n| plain && (1..=MOST).contains(n));
            number.ok_or_else(|| wrong(format!("{what} is a whole number from 1 to {MOST}")))
        };
        let lower = text.trim().to_ascii_lowercase();
        let (series, rest) = lower
            .split_once('s')
            .ok_or_else(|| wrong("modules in series come first, with an s behind".to_owned()))?;
        let series = number(series, "modules in series")?;
        let parallel = match rest {
            "" => None,
            _ => {
                let digits = rest
                    .strip_suffix('p')
                    .ok_or_else(|| wrong("strings in parallel have a p behind".to_owned()))?;
                Some(number(digits, "strings in parallel")?)
            }
        };
        let count = Self { series, parallel };
        match count.modules() {
            Some(modules) if modules > MOST => Err(wrong(format!(
                "that takes {modules} modules; at most {MOST} can be laid out"
            ))),
            _ => Ok(count),
        }
    }
}

/// Several acceptable numbers with commas between them, most liked first.
///
/// # Errors
///
/// [`CountError`] for the first that is none.
pub fn counts(text: &str) -> Result<Vec<Count>, CountError> {
    text.split(',').map(str::parse).collect()
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case("96s2p", 96, Some(2), "96s2p")]
    #[case(" 12S ", 12, None, "12s")]
    #[case("1s1P", 1, Some(1), "1s1p")]
    #[case("2048s", 2048, None, "2048s")]
    fn a_count_reads_as_a_person_writes_it(
        #[case] text: &str,
        #[case] series: u32,
        #[case] parallel: Option<u32>,
        #[case] shown: &str,
    ) {
        let count: Count = text.parse().unwrap();
        assert_eq!(count, Count { series, parallel });
        assert_eq!(count.to_string(), shown);
    }

    #[rstest]
    #[case::nothing("", "modules in series come first")]
    #[case::number("48", "modules in series come first")]
    #[case::no_series("s2p", "modules in series is a whole number")]
    #[case::zero("0s2p", "modules in series is a whole number")]
    #[case::no_p("96s2", "strings in parallel have a p behind")]
    #[case::zero_p("96s0p", "strings in parallel is a whole number")]
    #[case::sign("+9s2p", "modules in series is a whole number")]
    #[case::too_many("96s96p", "that takes 9216 modules; at most 2048")]
    #[case::wrong_order("2p96s", "modules in series is a whole number")]
    fn nonsense_is_refused_with_the_reason(#[case] text: &str, #[case] problem: &str) {
        let error = text.parse::<Count>().unwrap_err();
        assert_eq!(error.given, text);
        assert!(error.problem.starts_with(problem), "{error}");
    }

    #[test]
    fn several_are_read_in_order() {
        let all = counts("96s2p, 48s").unwrap();
        assert_eq!(all.iter().map(Count::to_string).collect::<Vec<_>>(), ["96s2p", "48s"]);
        assert!(counts("96s2p,").is_err());
    }
}
