//! Lifting the boxes: how many hands, or a hoist.

use crate::check::{finite, positive};
use crate::{Source, Sourced, TruckError};

/// What one person may lift, close to the body at waist height, kilograms.
pub const ONE_PERSON_KG: Sourced<f64> = Sourced {
    value: 25.0,
    source: Source::found("HSE filter figures, as restated by safety pages; for men, close at waist height"),
};
/// What two persons may lift together, kilograms: less than twice one.
pub const TWO_PERSONS_KG: Sourced<f64> = Sourced {
    value: 33.0,
    source: Source::found("lifting guidance for two men (two thirds of their sum), as restated by safety pages"),
};
/// The load constant of another equation: what one person may lift at best, kilograms (51 lb).
pub const NIOSH_KG: Sourced<f64> = Sourced {
    value: 23.0,
    source: Source::found("NIOSH lifting equation, load constant 51 lb, as restated by safety pages"),
};

/// How something is lifted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hands {
    /// By one person.
    One,
    /// By two.
    Two,
    /// With a hoist or a jack.
    Hoist,
}

impl Hands {
    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::One => "one person",
            Self::Two => "two persons",
            Self::Hoist => "hoist or jack",
        }
    }

    /// The limit for these hands; none for a hoist, which has its own plate.
    pub const fn limit(self) -> Option<Sourced<f64>> {
        match self {
            Self::One => Some(ONE_PERSON_KG),
            Self::Two => Some(TWO_PERSONS_KG),
            Self::Hoist => None,
        }
    }
}

/// One thing to be lifted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// Kilograms, as it is lifted.
    pub mass_kg: f64,
    /// The centre of gravity along the box, metres from its one end.
    pub centre_m: f64,
    /// Where the two hands, straps or ears are, metres from the same end.
    pub grips_m: [f64; 2],
}

/// How one thing is lifted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lift {
    /// How many hands.
    pub hands: Hands,
    /// What each grip carries, kilograms.
    pub at_grips_kg: [f64; 2],
    /// Whether it is above [`NIOSH_KG`], which matters where one person lifts.
    pub above_niosh: bool,
}

/// How something of this mass is lifted: by one person to 25 kg, by two to 33 kg, beyond with a hoist.
///
/// The figures hold close to the body at waist height. Under a truck hardly anything is lifted so: take them as the most.
///
/// Source: [`ONE_PERSON_KG`], [`TWO_PERSONS_KG`].
///
/// # Errors
///
/// [`TruckError::NotAbove`] for a mass not above zero.
pub fn hands(mass_kg: f64) -> Result<Hands, TruckError> {
    let mass_kg = positive("mass to lift", mass_kg, "enter the mass")?;
    Ok(if mass_kg <= ONE_PERSON_KG.value {
        Hands::One
    } else if mass_kg <= TWO_PERSONS_KG.value {
        Hands::Two
    } else {
        Hands::Hoist
    })
}

/// How it is lifted, and what each grip carries by moments. A grip below zero has to be held down.
///
/// # Errors
///
/// [`TruckError`] for a mass not above zero, a figure that is no number, or grips that are not one before the other.
pub fn lift(load: &Load) -> Result<Lift, TruckError> {
    let [near_m, far_m] = load.grips_m;
    let apart_m = positive(
        "second grip beyond the first",
        far_m - near_m,
        "enter the grip nearer to the end first",
    )?;
    let centre_m = finite("centre of gravity", load.centre_m)?;
    let hands = hands(load.mass_kg)?;
    let far_kg = load.mass_kg * (centre_m - near_m) / apart_m;
    Ok(Lift {
        hands,
        at_grips_kg: [load.mass_kg - far_kg, far_kg],
        above_niosh: load.mass_kg > NIOSH_KG.value,
    })
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case(25.0, Hands::One)]
    #[case(25.1, Hands::Two)]
    #[case(33.0, Hands::Two)]
    #[case(33.1, Hands::Hoist)]
    #[case(135.0, Hands::Hoist)]
    fn a_mass_tells_the_hands(#[case] mass_kg: f64, #[case] expected: Hands) {
        assert_eq!(hands(mass_kg), Ok(expected));
        let limit = expected.limit().map_or(f64::INFINITY, |limit| limit.value);
        assert!(mass_kg <= limit);
    }

    #[test]
    fn two_persons_do_not_carry_the_same() {
        let load = Load {
            mass_kg: 30.0,
            centre_m: 0.3,
            grips_m: [0.0, 0.9],
        };
        let found = lift(&load).unwrap();
        assert_eq!(found.hands, Hands::Two);
        assert!((found.at_grips_kg[0] - 20.0).abs() < 1e-9);
        assert!((found.at_grips_kg[1] - 10.0).abs() < 1e-9);
        assert!(found.above_niosh);
    }

    #[test]
    fn nonsense_is_refused() {
        assert!(hands(0.0).is_err());
        let load = Load {
            mass_kg: 30.0,
            centre_m: 0.3,
            grips_m: [0.9, 0.9],
        };
        assert!(lift(&load).is_err());
    }
}
