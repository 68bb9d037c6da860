//! Sizes of paper.

/// A size of paper.
///
/// Source: ISO 216 for A4 and A3; 8½ × 11 in and 11 × 17 in for the other two, by definition.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Paper {
    /// 210 × 297 mm.
    A4,
    /// 297 × 420 mm.
    A3,
    /// 8½ × 11 in.
    Letter,
    /// 11 × 17 in.
    Tabloid,
}

/// Which way paper lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Orientation {
    /// The short side below.
    Portrait,
    /// The long side below.
    Landscape,
}

impl Paper {
    /// Every size.
    pub const ALL: [Self; 4] = [Self::A4, Self::A3, Self::Letter, Self::Tabloid];

    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::A3 => "A3",
            Self::Letter => "Letter",
            Self::Tabloid => "Tabloid",
        }
    }

    /// Width and height in millimetres.
    pub const fn size_mm(self, orientation: Orientation) -> [f64; 2] {
        let [short, long] = match self {
            Self::A4 => [210.0, 297.0],
            Self::A3 => [297.0, 420.0],
            Self::Letter => [215.9, 279.4],
            Self::Tabloid => [279.4, 431.8],
        };
        match orientation {
            Orientation::Portrait => [short, long],
            Orientation::Landscape => [long, short],
        }
    }
}

impl Orientation {
    /// Both ways.
    pub const ALL: [Self; 2] = [Self::Portrait, Self::Landscape];
}
