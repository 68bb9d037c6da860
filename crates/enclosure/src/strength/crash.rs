//! How many times its weight a box is taken to pull with, by direction: the person chooses the set.
//!
//! None of these is told as law. Three are from memory of regulation texts that nobody here has read; one has a figure
//! found in a public summary.

use crate::KnownBy;

/// A direction that the load pulls in, seen from the truck.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Direction {
    /// Forwards: the truck hits something.
    Front,
    /// Rearwards: something hits the truck.
    Rear,
    /// To either side.
    Side,
    /// Upwards: off the frame.
    Up,
    /// Downwards.
    Down,
}

impl Direction {
    /// All of them.
    pub const ALL: [Self; 5] = [Self::Front, Self::Rear, Self::Side, Self::Up, Self::Down];

    /// The name: `front`, `rear`, `side`, `up`, `down`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Rear => "rear",
            Self::Side => "side",
            Self::Up => "up",
            Self::Down => "down",
        }
    }
}

/// A load factor in one direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Factor {
    /// Times gravity.
    pub g: f64,
    /// Where it comes from.
    pub source: &'static str,
    /// How it is known.
    pub known: KnownBy,
}

/// A named set of load factors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoadSet {
    /// What it is called.
    pub name: &'static str,
    /// By [`Direction`], in the order of [`Direction::ALL`]; `None` where the set says nothing.
    factors: [Option<Factor>; 5],
}

const FIXING: &str = "tank fixing rule of UN R67 par. 17 and R110 par. 17/18, as recalled; texts not read";
const CONVERSIONS: &str = "Australian conversion code NCOP 14 / VSB 14, a public summary: 20 times battery weight";
const CONVERSIONS_SPLIT: &str =
    "Australian conversion code NCOP 14 / VSB 14: split by direction as recalled, text not read";

/// The sets on offer, lightest vehicles first.
pub const SETS: [LoadSet; 4] = [
    fixing("cars and vans to 3.5 t (M1, N1)", 20.0, 8.0),
    fixing("buses to 5 t, trucks 3.5 to 12 t (M2, N2)", 10.0, 5.0),
    fixing("heavier buses and trucks (M3, N3)", 6.6, 5.0),
    LoadSet {
        name: "Australian conversions",
        factors: [
            Some(factor(20.0, CONVERSIONS, KnownBy::Found)),
            Some(factor(10.0, CONVERSIONS_SPLIT, KnownBy::Memory)),
            Some(factor(15.0, CONVERSIONS_SPLIT, KnownBy::Memory)),
            Some(factor(10.0, CONVERSIONS_SPLIT, KnownBy::Memory)),
            Some(factor(10.0, CONVERSIONS_SPLIT, KnownBy::Memory)),
        ],
    },
];

/// `travel`: along the truck, both ways. The rule says nothing of up and down.
const fn fixing(name: &'static str, travel: f64, side: f64) -> LoadSet {
    let along = Some(factor(travel, FIXING, KnownBy::Memory));
    LoadSet {
        name,
        factors: [along, along, Some(factor(side, FIXING, KnownBy::Memory)), None, None],
    }
}

const fn factor(g: f64, source: &'static str, known: KnownBy) -> Factor {
    Factor { g, source, known }
}

impl LoadSet {
    /// The factor in a direction; `None` where the set says nothing.
    pub const fn factor(&self, direction: Direction) -> Option<Factor> {
        self.factors[direction as usize]
    }
}

/// The harshest of [`SETS`] in each direction: of equals one that was read, else the first.
pub fn harshest() -> LoadSet {
    let most = |direction| {
        let factors = SETS.iter().filter_map(|set| set.factor(direction));
        let known = |factor: Factor| factor.known != KnownBy::Memory;
        let harsher = |other: Factor, most: Factor| (other.g, known(other)) > (most.g, known(most));
        factors.reduce(|most, other| if harsher(other, most) { other } else { most })
    };
    LoadSet {
        name: "the harshest of all, by direction",
        factors: Direction::ALL.map(most),
    }
}

/// Load factors of the person's own that are none.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("load factor {}: {g} g is out of range; write 0 to 100", direction.name())]
pub struct FactorError {
    /// In which direction.
    pub direction: Direction,
    /// What was given.
    pub g: f64,
}

/// A set of the person's own figures, by direction in the order of [`Direction::ALL`].
///
/// # Errors
///
/// [`FactorError`] for the first that is not within 0 to 100 g.
pub fn own_figures(g: [f64; 5]) -> Result<LoadSet, FactorError> {
    let wrong = Direction::ALL
        .into_iter()
        .zip(g)
        .find(|(_, g)| !(0.0..=100.0).contains(g));
    match wrong {
        Some((direction, g)) => Err(FactorError { direction, g }),
        None => Ok(LoadSet {
            name: "own figures",
            factors: g.map(|g| Some(factor(g, "the person's own figure", KnownBy::Memory))),
        }),
    }
}

/// The set that is taken.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Choice {
    /// The harshest in each direction.
    #[default]
    Harshest,
    /// One of [`SETS`], or [`own_figures`].
    One(LoadSet),
}

impl Choice {
    /// The factors.
    pub fn set(self) -> LoadSet {
        match self {
            Self::Harshest => harshest(),
            Self::One(set) => set,
        }
    }
}

/// A shock pulse: the plateau that a test has to reach and may not exceed, times gravity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShockPulse {
    /// Vehicle categories.
    pub categories: &'static str,
    /// Along the truck: least and most.
    pub longitudinal: [f64; 2],
    /// Across it: least and most.
    pub transverse: [f64; 2],
}

/// Shock pulses of UN R100 rev. 2, Annex 8C, by memory: for information, no sum rests on them.
pub const SHOCK_PULSES: [ShockPulse; 3] = [
    shock("M1/N1", [20.0, 28.0], [8.0, 15.0]),
    shock("M2/N2", [10.0, 17.0], [5.0, 10.0]),
    shock("M3/N3", [6.6, 12.0], [5.0, 10.0]),
];

/// How [`SHOCK_PULSES`] are known.
pub const SHOCK_PULSES_KNOWN_BY: KnownBy = KnownBy::Memory;

const fn shock(categories: &'static str, longitudinal: [f64; 2], transverse: [f64; 2]) -> ShockPulse {
    ShockPulse {
        categories,
        longitudinal,
        transverse,
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[test]
    fn the_harshest_is_no_milder_than_any_set_and_taken_from_one() {
        let harshest = harshest();
        for direction in Direction::ALL {
            let all: Vec<f64> = SETS
                .iter()
                .filter_map(|set| set.factor(direction))
                .map(|f| f.g)
                .collect();
            let most = harshest.factor(direction).unwrap().g;
            assert!(
                all.iter().all(|&g| g <= most) && all.iter().any(|&g| g >= most),
                "{}",
                direction.name()
            );
        }
        assert_eq!(Choice::default().set(), harshest);
    }

    #[rstest]
    #[case(Direction::Front, 20.0)]
    #[case(Direction::Rear, 20.0)]
    #[case(Direction::Side, 15.0)]
    #[case(Direction::Up, 10.0)]
    #[case(Direction::Down, 10.0)]
    fn the_harshest_figures(#[case] direction: Direction, #[case] g: f64) {
        assert!((harshest().factor(direction).unwrap().g - g).abs() < 1e-12);
    }

    #[test]
    fn a_set_that_says_nothing_of_up_gives_nothing() {
        assert_eq!(SETS[0].factor(Direction::Up), None);
        assert!(SETS[3].factor(Direction::Up).is_some());
    }

    #[rstest]
    #[case::negative(-1.0)]
    #[case::too_much(101.0)]
    #[case::no_number(f64::NAN)]
    fn own_figures_have_to_be_some(#[case] g: f64) {
        let refused = own_figures([20.0, 20.0, g, 10.0, 10.0]).unwrap_err();
        assert_eq!(refused.direction, Direction::Side);
    }

    #[test]
    fn own_figures_are_taken_as_given() {
        let own = own_figures([1.0, 2.0, 3.0, 4.0, 0.0]).unwrap();
        let given = Direction::ALL.map(|direction| own.factor(direction).map(|factor| factor.g));
        assert_eq!(given, [1.0, 2.0, 3.0, 4.0, 0.0].map(Some));
    }
}
