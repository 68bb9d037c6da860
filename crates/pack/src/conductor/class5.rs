//! Flexible cable of class 5: the most that a kilometre may resist at 20 C.

use crate::source::Source;

/// Whether the wires are plain or tinned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Finish {
    /// Plain copper.
    Plain,
    /// Tinned copper.
    Tinned,
}

/// Section in mm2, then ohm/km at 20 C plain and tinned.
pub const ROWS: [(u32, f64, f64); 7] = [
    (16, 1.21, 1.24),
    (25, 0.78, 0.795),
    (35, 0.554, 0.565),
    (50, 0.386, 0.393),
    (70, 0.272, 0.277),
    (95, 0.206, 0.21),
    (120, 0.161, 0.164),
];

/// Where the table comes from.
pub const SOURCE: Source = Source::found("IEC 60228, class 5, read in two cable pages that agree");

/// The most that a kilometre of this section may resist at 20 C, in ohms; `None` for a section not in the table.
pub fn ohm_per_km(mm2: u32, finish: Finish) -> Option<f64> {
    let row = ROWS.iter().find(|row| row.0 == mm2)?;
    Some(match finish {
        Finish::Plain => row.1,
        Finish::Tinned => row.2,
    })
}
