//! How far off a welded box may come out of the shop, by the class that the shop works to.
//!
//! Source: ISO 13920, Table 1 (linear dimensions) and Table 3 (straightness, flatness, parallelism), as reprinted by a
//! fabricator: found for classes A to F, and for G and H up to 4 m in a second listing; G and H above that known by:
//! memory. The standard for the drawing decides. It is for the welded piece, so weld shrinkage lies within it.

use tape::Length;

/// Class for lengths.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LengthClass {
    /// The finest.
    A,
    /// What shops usually hold.
    B,
    /// Coarse.
    C,
    /// The coarsest.
    D,
}

/// Class for flatness.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FlatnessClass {
    /// The finest.
    E,
    /// What goes with class B.
    F,
    /// Coarse.
    G,
    /// The coarsest.
    H,
}

/// Upper ends of the ranges of nominal sizes, in mm: those of both tables but for the first of Table 1, up to 30 mm.
const UP_TO: [i64; 6] = [120, 400, 1000, 2000, 4000, 8000];

impl LengthClass {
    /// The limits, either way, of a size.
    ///
    /// Sizes over 8 m have those of 4 to 8 m: no box is that long.
    pub fn limits(self, size: Length) -> Length {
        if size <= Length::mm(30) {
            return Length::mm(1);
        }
        Length::mm(in_range(
            size,
            match self {
                Self::A => [1, 1, 2, 3, 4, 5],
                Self::B => [2, 2, 3, 4, 6, 8],
                Self::C => [3, 4, 6, 8, 11, 14],
                Self::D => [4, 7, 9, 12, 16, 21],
            },
        ))
    }
}

impl FlatnessClass {
    /// How far a surface may be out of flat, by its longer side.
    ///
    /// Sides below 30 mm have what those of 30 to 120 mm have, those over 8 m what those of 4 to 8 m have.
    pub fn limits(self, longer_side: Length) -> Length {
        Length::tenths_mm(in_range(
            longer_side,
            match self {
                Self::E => [5, 10, 15, 20, 30, 40],
                Self::F => [10, 15, 30, 45, 60, 80],
                Self::G => [15, 30, 55, 90, 110, 160],
                Self::H => [25, 50, 90, 140, 180, 260],
            },
        ))
    }
}

/// The entry of the range that a size lies in.
fn in_range(size: Length, entries: [i64; 6]) -> i64 {
    let range = UP_TO.iter().position(|&up_to| size <= Length::mm(up_to)).unwrap_or(5);
    entries[range]
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    /// The ranges end at, not below, their upper sizes.
    #[rstest]
    #[case(LengthClass::A, 30, 1)]
    #[case(LengthClass::B, 400, 2)]
    #[case(LengthClass::B, 401, 3)]
    #[case(LengthClass::B, 1000, 3)]
    #[case(LengthClass::B, 1609, 4)]
    #[case(LengthClass::C, 607, 6)]
    #[case(LengthClass::D, 2001, 16)]
    #[case(LengthClass::D, 9000, 21)]
    fn lengths_are_held_as_the_table_says(#[case] class: LengthClass, #[case] mm: i64, #[case] limits: i64) {
        assert_eq!(class.limits(Length::mm(mm)), Length::mm(limits));
    }

    #[rstest]
    #[case(FlatnessClass::E, 1000, 15)]
    #[case(FlatnessClass::E, 1001, 20)]
    #[case(FlatnessClass::F, 953, 30)]
    #[case(FlatnessClass::F, 1609, 45)]
    fn walls_are_flat_as_the_table_says(#[case] class: FlatnessClass, #[case] mm: i64, #[case] tenths: i64) {
        assert_eq!(class.limits(Length::mm(mm)), Length::tenths_mm(tenths));
    }
}
