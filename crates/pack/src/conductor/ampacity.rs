//! What conductors carry for long, from tables for fixed wiring and stage cable. They are guidance under a truck bed:
//! what the cable's maker says for the way it lies wins.

use super::Metal;
use crate::source::Source;

/// A table of currents: a row for each size, a column for each insulation or ambient.
#[derive(Clone, Copy, Debug)]
pub struct Table<const N: usize> {
    /// Under which conditions it holds.
    pub conditions: &'static str,
    /// Where it comes from.
    pub source: Source,
    /// What the columns are.
    pub columns: [u32; N],
    /// The rows: the size, and amps by column.
    pub rows: &'static [(&'static str, [u32; N])],
}

impl<const N: usize> Table<N> {
    /// Amps for a size in the column headed so.
    pub fn amps(&self, size: &str, column: u32) -> Option<u32> {
        let at = self.columns.iter().position(|&c| c == column)?;
        self.rows.iter().find(|row| row.0 == size).map(|row| row.1[at])
    }
}

const NEC_CONDITIONS: &str = "30 C ambient, at most three loaded conductors in raceway, cable or earth";
const NEC_SOURCE: Source = Source::found("NEC table 310.16, editions from 2011 on, read on two open pages that agree");

/// Copper, columns by insulation temperature.
pub const NEC_COPPER: Table<3> = Table {
    conditions: NEC_CONDITIONS,
    source: NEC_SOURCE,
    columns: [60, 75, 90],
    rows: &[
        ("8", [40, 50, 55]),
        ("6", [55, 65, 75]),
        ("4", [70, 85, 95]),
        ("2", [95, 115, 130]),
        ("1", [110, 130, 145]),
        ("1/0", [125, 150, 170]),
        ("2/0", [145, 175, 195]),
        ("3/0", [165, 200, 225]),
        ("4/0", [195, 230, 260]),
    ],
};

/// Aluminium, columns by insulation temperature.
pub const NEC_ALUMINIUM: Table<3> = Table {
    conditions: NEC_CONDITIONS,
    source: NEC_SOURCE,
    columns: [60, 75, 90],
    rows: &[
        ("8", [35, 40, 45]),
        ("6", [40, 50, 55]),
        ("4", [55, 65, 75]),
        ("2", [75, 90, 100]),
        ("1", [85, 100, 115]),
        ("1/0", [100, 120, 135]),
        ("2/0", [115, 135, 150]),
        ("3/0", [130, 155, 175]),
        ("4/0", [150, 180, 205]),
    ],
};

/// The table of fixed wiring for a metal.
pub const fn nec(metal: Metal) -> &'static Table<3> {
    match metal {
        Metal::Copper => &NEC_COPPER,
        Metal::Aluminium => &NEC_ALUMINIUM,
    }
}

/// One flexible cable, columns by insulation temperature.
pub const SINGLE_FLEXIBLE: Table<3> = Table {
    conditions: "one conductor, stage and portable cable, columns for 60/75/90 C cable",
    source: Source::found(
        "NEC table 400.5(B) in the appendix of a lighting technicians' handbook, 4th edition; equal to NEC 310.17 \
         free-air values as remembered",
    ),
    columns: [60, 75, 90],
    rows: &[
        ("4", [105, 125, 140]),
        ("2", [140, 170, 190]),
        ("1/0", [195, 230, 260]),
        ("2/0", [225, 265, 300]),
        ("3/0", [260, 310, 350]),
        ("4/0", [300, 360, 405]),
    ],
};

const METHOD_F_CONDITIONS: &str =
    "three loaded single-core copper cables touching in free air; columns are ambient 30,40,45,50,55 C";
const METHOD_F_SOURCE: Source =
    Source::found("IEC 60364-5-52 method F (table B.52), reproduced in a compressor maker's manual");

/// Insulation for 70 C, columns by ambient temperature, rows by mm2.
pub const METHOD_F_70: Table<5> = Table {
    conditions: METHOD_F_CONDITIONS,
    source: METHOD_F_SOURCE,
    columns: [30, 40, 45, 50, 55],
    rows: &[
        ("25", [110, 96, 87, 78, 67]),
        ("35", [137, 119, 108, 97, 84]),
        ("50", [167, 145, 132, 119, 102]),
        ("70", [216, 188, 171, 153, 132]),
        ("95", [264, 230, 209, 187, 161]),
        ("120", [308, 268, 243, 219, 188]),
    ],
};

/// Insulation for 90 C, columns by ambient temperature, rows by mm2.
pub const METHOD_F_90: Table<5> = Table {
    conditions: METHOD_F_CONDITIONS,
    source: METHOD_F_SOURCE,
    columns: [30, 40, 45, 50, 55],
    rows: &[
        ("25", [135, 123, 117, 110, 103]),
        ("35", [169, 154, 147, 139, 128]),
        ("50", [207, 188, 180, 170, 157]),
        ("70", [268, 244, 233, 220, 204]),
        ("95", [328, 298, 285, 269, 249]),
        ("120", [383, 349, 333, 314, 291]),
    ],
};

/// The table of method F for cable whose insulation stands for so many Celsius: 70 or 90.
pub const fn method_f(insulation_c: u32) -> Option<&'static Table<5>> {
    match insulation_c {
        70 => Some(&METHOD_F_70),
        90 => Some(&METHOD_F_90),
        _ => None,
    }
}
