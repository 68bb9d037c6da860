//! The pieces to cut.

use tape::{Area, Length};

use crate::Sheet;

/// What a part is in the box.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// The floor.
    Floor,
    /// A long side.
    LongSide,
    /// An end.
    End,
    /// A long bar of the lid flange.
    FlangeLong,
    /// A short bar of the lid flange.
    FlangeShort,
    /// The lid plate, or the plate of a cap.
    LidPlate,
    /// A long strip of a cap's skirt.
    SkirtLong,
    /// A short strip of a cap's skirt.
    SkirtShort,
    /// A long bar of the angle frame.
    FrameLong,
    /// A short bar of the angle frame.
    FrameShort,
}

/// How an end is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EndCut {
    /// Square.
    Square,
    /// At 45 degrees; the length is told to the long point.
    Mitre45,
    /// Square with the foot coped to fit.
    Coped,
}

/// A round hole, placed from the part's lower left corner, length along x.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hole {
    /// Along the length.
    pub x: Length,
    /// Along the width.
    pub y: Length,
    /// Diameter.
    pub diameter: Length,
}

/// An even row of holes round a rectangle, corners shared.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HolePattern {
    /// Length of the hole line.
    pub line_length: Length,
    /// Width of the hole line.
    pub line_width: Length,
    /// Pitches along the length.
    pub intervals_long: u32,
    /// Pitches along the width.
    pub intervals_short: u32,
    /// Holes in all.
    pub count: u32,
}

/// One row of a cut list: a piece and how many of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// What it is.
    pub role: Role,
    /// How many.
    pub quantity: u32,
    /// What it is cut from.
    pub sheet: Sheet,
    /// Exact length (for a mitred bar, to the long point).
    pub length: Length,
    /// Exact width (for an angle bar, its leg).
    pub width: Length,
    /// How its two ends are cut.
    pub ends: [EndCut; 2],
    /// Holes to make before welding.
    pub holes: Vec<Hole>,
    /// Exact face area: of a mitred bar, the trapezoid's.
    pub area: Area,
    /// Mass of one in grams, from the exact area (holes not taken off); of an angle bar from its mass per metre.
    pub grams: f64,
}
