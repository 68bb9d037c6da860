//! Which line through a cavity a reading was taken along.

use std::fmt;
use std::str::FromStr;

use geometry::Axis;
use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error as _};
use tape::survey::{Corner, Direction, LineKind};
use tape::{Allow, Units, notation, survey};

use super::Len;

/// Which line a reading was taken along.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Line {
    /// Straight along one dimension of the cavity, at a place told in words ("front", "rear top"; may be empty).
    Along {
        /// Length, width or height.
        axis: Axis,
        /// Where, in words.
        place: String,
    },
    /// From one corner to another: one of the 28 lines of the full survey.
    Corners(Corner, Corner),
    /// Across at mid-length: a width (or height) taken so far behind the front wall.
    Across {
        /// Width or height.
        axis: Axis,
        /// Where across, in words: bottom, top, left, right.
        place: String,
        /// How far behind the front wall.
        at: Len,
    },
    /// How far a corner lies off the straight line (a string) between two others.
    Off {
        /// The corner.
        corner: Corner,
        /// The two corners that the string is held to.
        string: survey::Line,
    },
}

/// The axis of the cavity's frame along a direction of the survey.
const fn axis_of(direction: Direction) -> Axis {
    Axis::ALL[direction.index()]
}

impl Line {
    /// The dimension that the line runs along and the place it was taken at; `None` for diagonals.
    pub fn dimension(&self) -> Option<(Axis, String)> {
        match self {
            Self::Along { axis, place } => Some((*axis, place.clone())),
            Self::Across { axis, place, at } => Some((*axis, format!("{place} at {at}").trim_start().to_owned())),
            Self::Corners(a, b) => {
                let LineKind::Edge(direction) = survey::Line::new(*a, *b)?.kind() else {
                    return None;
                };
                let axis = axis_of(direction);
                let words = a.words();
                let shared: Vec<&str> = words
                    .split(' ')
                    .enumerate()
                    .filter(|(i, _)| *i != axis.index())
                    .map(|(_, word)| word)
                    .collect();
                Some((axis, shared.join(" ")))
            }
            Self::Off { .. } => None,
        }
    }
}

impl Line {
    /// The line from corner to corner; `None` for what does not run between two corners.
    pub fn of_survey(&self) -> Option<survey::Line> {
        match self {
            Self::Corners(a, b) => survey::Line::new(*a, *b),
            _ => None,
        }
    }
}

impl fmt::Display for Line {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Along { axis, place } if place.is_empty() => f.write_str(axis.extent_name()),
            Self::Along { axis, place } => write!(f, "{} at {place}", axis.extent_name()),
            Self::Corners(a, b) => write!(f, "{a} to {b}"),
            Self::Across { axis, place, at } => write!(f, "{} across {place} at {at}", axis.extent_name()),
            Self::Off { corner, string } => write!(f, "{corner} off {string}"),
        }
    }
}

/// The most characters of a line as typed.
const LONGEST: usize = 100;

/// A line that cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "{0:?} is not a line through a cavity; write length, width at front top, FLB to RLB, width across bottom at 12 5/8\", or RLT off FLB to RLB"
)]
pub struct LineError(pub String);

impl FromStr for Line {
    type Err = LineError;

    fn from_str(text: &str) -> Result<Self, LineError> {
        let wrong = || LineError(text.chars().take(LONGEST).collect());
        if text.chars().count() > LONGEST || text.chars().any(char::is_control) {
            return Err(wrong());
        }
        // It is stored as it is printed, which may be longer than what was typed, and has to read back.
        Self::of_words(text)
            .filter(|line| line.to_string().chars().count() <= LONGEST)
            .ok_or_else(wrong)
    }
}

impl Line {
    fn of_words(text: &str) -> Option<Self> {
        let words: Vec<&str> = text.split_whitespace().collect();
        let axis = |word: &str| {
            Axis::ALL
                .into_iter()
                .find(|a| a.extent_name().eq_ignore_ascii_case(word))
        };
        Some(match words[..] {
            [from, "to", to] | [from, to] if from.parse::<Corner>().is_ok() => {
                let (from, to) = (from.parse().ok()?, to.parse().ok()?);
                if from == to {
                    return None;
                }
                Self::Corners(from, to)
            }
            [corner, "off", from, "to", to] | [corner, "off", from, to] => {
                let [corner, from, to] = [corner.parse().ok()?, from.parse().ok()?, to.parse().ok()?];
                let string = survey::Line::new(from, to).filter(|string| !string.ends().contains(&corner))?;
                Self::Off { corner, string }
            }
            [first] => Self::Along {
                axis: axis(first)?,
                place: String::new(),
            },
            [first, "across", ref rest @ ..] => {
                let at = rest.iter().position(|&w| w == "at")?;
                let far = rest[at + 1..].join(" ");
                // A line does not know the person's units, so the length has to name its own.
                let [inch, metric] =
                    [Units::Inch, Units::Millimetre].map(|u| notation::read(&far, u, Allow::ZeroOrMore));
                let far = inch.ok().filter(|far| metric.is_ok_and(|m| m.value() == far.value()))?;
                Self::Across {
                    axis: axis(first)?,
                    place: rest[..at].join(" "),
                    at: Len::new(far),
                }
            }
            // `width front` is as clear as `width at front`.
            [first, "at", ref rest @ ..] if !rest.is_empty() => Self::Along {
                axis: axis(first)?,
                place: rest.join(" "),
            },
            [first, ref rest @ ..] => Self::Along {
                axis: axis(first)?,
                place: rest.join(" "),
            },
            [] => return None,
        })
    }
}

impl Serialize for Line {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Line {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        String::deserialize(d)?.parse().map_err(D::Error::custom)
    }
}

#[cfg(test)]
impl schemars::JsonSchema for Line {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Line".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": "string",
            "description": "length; width at front top; FLB to RLB (corners: front/rear, left/right, bottom/top); width across bottom at 12 5/8\"; RLT off FLB to RLB (a corner off a string between two others)"
        })
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case("length", Some((Axis::X, "")))]
    #[case("width at front top", Some((Axis::Y, "front top")))]
    #[case("FLB to RLB", Some((Axis::X, "left bottom")))]
    #[case("RRT to RRB", Some((Axis::Z, "rear right")))]
    #[case("FLB to RRT", None)]
    #[case("width across bottom at 12 5/8\"", Some((Axis::Y, "bottom at 12 5/8\"")))]
    #[case("FLT off FLB to RLB", None)]
    fn a_line_reads_back_and_knows_its_dimension(#[case] text: &str, #[case] dimension: Option<(Axis, &str)>) {
        let line: Line = text.parse().unwrap();
        assert_eq!(line.to_string(), text);
        assert_eq!(
            line.dimension(),
            dimension.map(|(axis, place)| (axis, place.to_owned()))
        );
    }

    #[rstest]
    #[case("")]
    #[case("depth")]
    #[case("FLB to FLB")]
    #[case("FLB to XXX")]
    #[case("FLB off FLB to RLB")]
    #[case("width across bottom")]
    #[case::longer_printed_than_typed(
        "width xxxxxxxxxxxxxxxxxxxx xxxxxxxxxxxxxxxxxxxx xxxxxxxxxxxxxxxxxxxx xxxxxxxxxxxxxxxxxxxx xxxxxxxxx"
    )]
    #[case::no_unit("width across bottom at 300")]
    #[case::control("width at \u{1b}[2J")]
    fn nonsense_is_refused(#[case] text: &str) {
        assert!(text.parse::<Line>().is_err());
    }
}
