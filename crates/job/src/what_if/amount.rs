//! Figures that are counted and not measured: the grams that a box may weigh, the boxes of a cavity.

use std::cmp::Ordering;

/// A figure in whole grams or whole boxes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Amount {
    /// Grams; told in kilograms.
    Grams(i64),
    /// Boxes.
    Boxes(u32),
}

impl Amount {
    /// The number, in grams or boxes.
    pub const fn number(self) -> i64 {
        match self {
            Self::Grams(grams) => grams,
            Self::Boxes(boxes) => boxes as i64,
        }
    }

    /// So many grams or boxes more.
    pub(super) fn more(self, by: i64) -> Self {
        match self {
            Self::Grams(grams) => Self::Grams(grams + by),
            Self::Boxes(boxes) => Self::Boxes(u32::try_from(i64::from(boxes) + by).unwrap_or(u32::MAX)),
        }
    }

    /// A limit that there is: a mass rounded down to a tenth of a kilogram.
    pub fn down(self) -> String {
        self.shown(Ordering::Less)
    }

    /// A limit that is needed: a mass rounded up to a tenth of a kilogram.
    pub fn up(self) -> String {
        self.shown(Ordering::Greater)
    }

    /// By how much it has to grow to be `to`, rounded up.
    pub fn to(self, to: Self) -> String {
        match (self, to) {
            (Self::Grams(from), Self::Grams(to)) => Self::Grams(to - from).up(),
            _ => (to.number() - self.number()).to_string(),
        }
    }

    fn shown(self, towards: Ordering) -> String {
        match self {
            Self::Grams(grams) => {
                let tenths = match towards {
                    Ordering::Greater => -(-grams).div_euclid(100),
                    _ => grams.div_euclid(100),
                };
                format!("{}.{} kg", tenths / 10, tenths % 10)
            }
            Self::Boxes(boxes) => boxes.to_string(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn masses_are_told_to_the_safe_tenth_of_a_kilogram() {
        let (now, then) = (Amount::Grams(119_960), Amount::Grams(120_001));
        assert_eq!((now.down().as_str(), then.up().as_str()), ("119.9 kg", "120.1 kg"));
        assert_eq!(now.to(then), "0.1 kg");
        assert_eq!(Amount::Grams(45_000).up(), "45.0 kg");
        assert_eq!(Amount::Boxes(1).to(Amount::Boxes(3)), "2");
    }
}
