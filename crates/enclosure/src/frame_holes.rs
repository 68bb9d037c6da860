//! Where a truck's frame may be drilled: the rules of a body builders' book and of a drilling guide.
//!
//! The truck maker's own book decides. What no figure can tell is in [`ADVICE`].

use std::fmt;

use tape::Length;

use crate::KnownBy;

/// What a rule is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Subject {
    /// Holes in a flange of the rail.
    InFlange,
    /// From the hole's edge to the inside of the flange.
    ToFlange,
    /// From the hole's edge to that of another.
    BetweenHoles,
    /// The diameter of a hole.
    Diameter,
    /// Holes above each other.
    InRow,
    /// The hole's diameter over the bolt's.
    OverBolt,
}

/// A figure of a rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figure {
    /// A length.
    Length(Length),
    /// A number of holes.
    Holes(u32),
}

impl fmt::Display for Figure {
    /// Lengths to 0.01 mm and in inches, since the rules are in both.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Length(length) => write!(f, "{:.2} mm ({:.3} in)", length.as_mm(), length.as_inches()),
            Self::Holes(count) => write!(f, "{count}"),
        }
    }
}

/// A rule of drilling a frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rule {
    /// What it is about.
    pub subject: Subject,
    /// What it says.
    pub says: &'static str,
    /// The figure that it sets.
    pub limit: Figure,
    /// Where it comes from.
    pub source: &'static str,
    /// How it is known.
    pub known: KnownBy,
}

const BODY_BUILDERS: &str = "a truck maker's body builders' book of 2022, as quoted by owners";
const DRILLING_GUIDE: &str = "a modifier's drilling guide that restates the heavy-vehicle code VSB 6";

/// The rules that have a figure, in the order they are checked.
pub const RULES: [Rule; 6] = [
    rule(
        Subject::InFlange,
        "never drill the flanges",
        Figure::Holes(0),
        BODY_BUILDERS,
    ),
    rule(
        Subject::ToFlange,
        "at least 1.5 in from the hole's edge to the inside of the flange",
        Figure::Length(Length::sixty_fourths(96)),
        BODY_BUILDERS,
    ),
    rule(
        Subject::BetweenHoles,
        "at least 1.00 in between the edges of holes up to 5/8 in; no figure is given for larger ones",
        Figure::Length(Length::inches(1)),
        BODY_BUILDERS,
    ),
    rule(
        Subject::Diameter,
        "no hole larger than 3/4 in",
        Figure::Length(Length::sixty_fourths(48)),
        BODY_BUILDERS,
    ),
    rule(
        Subject::InRow,
        "avoid more than 3 holes in a vertical row",
        Figure::Holes(3),
        BODY_BUILDERS,
    ),
    rule(
        Subject::OverBolt,
        "holes at most 1 mm larger than the bolt",
        Figure::Length(Length::mm(1)),
        DRILLING_GUIDE,
    ),
];

const fn rule(subject: Subject, says: &'static str, limit: Figure, source: &'static str) -> Rule {
    Rule {
        subject,
        says,
        limit,
        source,
        known: KnownBy::Found,
    }
}

/// What is to be heeded and cannot be checked from sizes, with its source.
pub const ADVICE: [(&str, &str); 5] = [
    ("use existing holes first", BODY_BUILDERS),
    ("bolts of grade 8 or class 10.9", BODY_BUILDERS),
    ("put the earth clamp within 12 in of a weld", BODY_BUILDERS),
    ("drill, never burn, a hole", DRILLING_GUIDE),
    ("no slots", DRILLING_GUIDE),
];

/// Where in the rail a hole is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// In the upright web.
    Web {
        /// From the hole's edge to the inside of the nearer flange.
        to_flange: Length,
    },
    /// In a flange.
    Flange,
}

/// A hole to be drilled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FrameHole<'a> {
    /// Its diameter.
    pub diameter: Length,
    /// Where it is.
    pub place: Place,
    /// From its edge to the edges of its neighbours, old and new.
    pub to_others: &'a [Length],
    /// How many holes are in its vertical row, itself included.
    pub in_row: u32,
    /// The bolt's diameter, if it is known.
    pub bolt: Option<Length>,
}

/// A rule that a hole breaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Broken {
    /// The rule, with its limit and source.
    pub rule: Rule,
    /// What the hole has.
    pub has: Figure,
}

/// The rules that a hole breaks, in the order of [`RULES`]: at most one of each, by the worst figure.
pub fn broken(hole: &FrameHole<'_>) -> Vec<Broken> {
    let breaks = |rule: &Rule| {
        figure(rule.subject, hole)
            .filter(|&has| out(rule, has))
            .map(|has| Broken { rule: *rule, has })
    };
    RULES.iter().filter_map(breaks).collect()
}

/// What a hole has of what a rule is about; `None` where the rule does not touch it.
fn figure(subject: Subject, hole: &FrameHole<'_>) -> Option<Figure> {
    match (subject, hole.place) {
        (Subject::InFlange, place) => Some(Figure::Holes(u32::from(place == Place::Flange))),
        (Subject::ToFlange, Place::Web { to_flange }) => Some(Figure::Length(to_flange)),
        (Subject::ToFlange, Place::Flange) => None,
        (Subject::BetweenHoles, _) => hole.to_others.iter().min().copied().map(Figure::Length),
        (Subject::Diameter, _) => Some(Figure::Length(hole.diameter)),
        (Subject::InRow, _) => Some(Figure::Holes(hole.in_row)),
        (Subject::OverBolt, _) => hole.bolt.map(|bolt| Figure::Length(hole.diameter - bolt)),
    }
}

/// Whether a figure is on the wrong side of the rule's.
fn out(rule: &Rule, has: Figure) -> bool {
    let at_least = matches!(rule.subject, Subject::ToFlange | Subject::BetweenHoles);
    match (has, rule.limit) {
        (Figure::Length(has), Figure::Length(least)) if at_least => has < least,
        (Figure::Length(has), Figure::Length(most)) => has > most,
        (Figure::Holes(has), Figure::Holes(most)) => has > most,
        // Every subject has figures of one kind.
        (Figure::Length(_), Figure::Holes(_)) | (Figure::Holes(_), Figure::Length(_)) => false,
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rstest::rstest;

    use super::*;

    /// On every limit at once.
    const ON_THE_LIMITS: FrameHole<'static> = FrameHole {
        diameter: Length::sixty_fourths(48),
        place: Place::Web {
            to_flange: Length::sixty_fourths(96),
        },
        to_others: &[Length::inches(4), Length::inches(1)],
        in_row: 3,
        bolt: Some(Length::from_nm(18_050_000)),
    };

    fn subjects(hole: &FrameHole<'_>) -> Vec<Subject> {
        broken(hole).iter().map(|broken| broken.rule.subject).collect()
    }

    #[test]
    fn what_is_on_a_limit_keeps_to_the_rule() {
        assert_eq!(subjects(&ON_THE_LIMITS), []);
    }

    #[rstest]
    #[case::in_a_flange(FrameHole { place: Place::Flange, ..ON_THE_LIMITS }, Subject::InFlange)]
    #[case::near_a_flange(
        FrameHole { place: Place::Web { to_flange: Length::sixty_fourths(95) }, ..ON_THE_LIMITS },
        Subject::ToFlange
    )]
    #[case::near_another(
        FrameHole { to_others: &[Length::inches(4), Length::sixty_fourths(63)], ..ON_THE_LIMITS },
        Subject::BetweenHoles
    )]
    #[case::four_in_a_row(FrameHole { in_row: 4, ..ON_THE_LIMITS }, Subject::InRow)]
    #[case::sloppy(FrameHole { bolt: Some(Length::mm(18)), ..ON_THE_LIMITS }, Subject::OverBolt)]
    #[case::large(
        FrameHole { diameter: Length::sixty_fourths(49), bolt: None, ..ON_THE_LIMITS },
        Subject::Diameter
    )]
    fn each_rule_can_be_broken_alone(#[case] hole: FrameHole<'_>, #[case] wanted: Subject) {
        assert_eq!(subjects(&hole), [wanted]);
    }

    #[test]
    fn a_broken_rule_tells_the_worst_figure() {
        let hole = FrameHole {
            to_others: &[Length::mm(20), Length::mm(10), Length::mm(15)],
            ..ON_THE_LIMITS
        };
        let [broken] = broken(&hole)[..] else {
            panic!("one rule")
        };
        assert_eq!(broken.has.to_string(), "10.00 mm (0.394 in)");
        assert_eq!(broken.rule.limit.to_string(), "25.40 mm (1.000 in)");
    }

    proptest! {
        #[test]
        fn moving_away_never_breaks_a_rule(to_flange in 0..80_i64, to_other in 0..80_i64, more in 0..40_i64) {
            let count = |away: i64| {
                broken(&FrameHole {
                    place: Place::Web { to_flange: Length::mm(to_flange + away) },
                    to_others: &[Length::mm(to_other + away)],
                    ..ON_THE_LIMITS
                })
                .len()
            };
            prop_assert!(count(more) <= count(0));
        }
    }
}
