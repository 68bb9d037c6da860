//! How far live parts must be apart, over surfaces (creepage) and through air (clearance). Rows are read as they stand:
//! a value between two rows takes the next higher one.

use crate::source::Source;

/// How dirty and damp it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pollution {
    /// 2: dry dirt that at times gets damp.
    Two,
    /// 3: conducting dirt, or dirt that gets damp: under a truck bed.
    Three,
}

/// How well the insulator keeps tracks from forming.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Group {
    /// Tracking index 600 and more.
    I,
    /// 400 to 600.
    II,
    /// Below 400, or not known.
    III,
}

/// Volts, then millimetres for pollution degree 2 groups I to III, degree 3 groups I to III.
pub const CREEPAGE: [(u32, [f64; 6]); 13] = [
    (63, [0.63, 0.9, 1.25, 1.6, 1.8, 2.0]),
    (80, [0.67, 0.95, 1.3, 1.7, 1.9, 2.1]),
    (100, [0.71, 1.0, 1.4, 1.8, 2.0, 2.2]),
    (125, [0.75, 1.05, 1.5, 1.9, 2.1, 2.4]),
    (160, [0.8, 1.1, 1.6, 2.0, 2.2, 2.5]),
    (200, [1.0, 1.4, 2.0, 2.5, 2.8, 3.2]),
    (250, [1.25, 1.8, 2.5, 3.2, 3.6, 4.0]),
    (320, [1.6, 2.2, 3.2, 4.0, 4.5, 5.0]),
    (400, [2.0, 2.8, 4.0, 5.0, 5.6, 6.3]),
    (500, [2.5, 3.6, 5.0, 6.3, 7.1, 8.0]),
    (630, [3.2, 4.5, 6.3, 8.0, 9.0, 10.0]),
    (800, [4.0, 5.6, 8.0, 10.0, 11.0, 12.5]),
    (1000, [5.0, 7.1, 10.0, 12.5, 14.0, 16.0]),
];

/// Where [`CREEPAGE`] comes from. Group III b is not for pollution degree 3 above 630 V.
pub const CREEPAGE_SOURCE: Source = Source::found(
    "IEC 60664-1 table F.4, read as the excerpt of DIN EN 60664-1 in a connector maker's 2015 catalogue; next higher row",
);

/// Metres, then the factor on clearances.
pub const ALTITUDE: [(u32, f64); 9] = [
    (2000, 1.0),
    (3000, 1.14),
    (4000, 1.29),
    (5000, 1.48),
    (6000, 1.7),
    (7000, 1.95),
    (8000, 2.25),
    (9000, 2.62),
    (10_000, 3.02),
];

/// Where a row of [`ALTITUDE`] comes from.
pub const fn altitude_source(metres: u32) -> Source {
    match metres {
        2000 | 5000 => Source::found("IEC 60664-1 table A.2"),
        _ => Source::memory("IEC 60664-1 table A.2"),
    }
}

/// Rated impulse volts in kV, then millimetres up to 2000 m for pollution degrees 2 and 3.
pub const CLEARANCE: [(f64, [f64; 2]); 5] = [
    (1.5, [0.5, 0.8]),
    (2.5, [1.5, 1.5]),
    (4.0, [3.0, 3.0]),
    (6.0, [5.5, 5.5]),
    (8.0, [8.0, 8.0]),
];

/// Where a row of [`CLEARANCE`] comes from.
pub fn clearance_source(impulse_kv: f64) -> Source {
    const TEXT: &str = "IEC 60664-1 table F.2 case A, inhomogeneous field";
    if impulse_kv > 6.0 {
        Source::memory(TEXT)
    } else {
        Source::found(TEXT)
    }
}

/// A creepage distance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Creepage {
    /// The row that was used, volts.
    pub row_volts: u32,
    /// For basic insulation, millimetres.
    pub basic_mm: f64,
    /// For reinforced insulation: twice that (from memory).
    pub reinforced_mm: f64,
}

/// The creepage distance for `volts`; `None` above the table. It does not change with altitude.
pub fn creepage(volts: f64, pollution: Pollution, group: Group) -> Option<Creepage> {
    let (row_volts, row) = CREEPAGE.iter().find(|(row, _)| f64::from(*row) >= volts)?;
    let first = match pollution {
        Pollution::Two => 0,
        Pollution::Three => 3,
    };
    let basic_mm = row[first + group as usize];
    Some(Creepage {
        row_volts: *row_volts,
        basic_mm,
        reinforced_mm: 2.0 * basic_mm,
    })
}

/// The factor on clearances at an altitude; `None` above the table.
pub fn altitude_factor(metres: f64) -> Option<f64> {
    ALTITUDE
        .iter()
        .find(|(row, _)| f64::from(*row) >= metres)
        .map(|row| row.1)
}

/// The clearance through air for a rated impulse voltage, millimetres: up to 2000 m, and at the altitude; `None` above
/// either table.
pub fn clearance(impulse_kv: f64, metres: f64, pollution: Pollution) -> Option<[f64; 2]> {
    let (_, row) = CLEARANCE.iter().find(|(row, _)| *row >= impulse_kv)?;
    let low = row[pollution as usize];
    Some([low, low * altitude_factor(metres)?])
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn more_volts_dirt_or_worse_plastic_never_need_less(volts in 1.0..1_000.0_f64, more in 0.0..500.0_f64) {
            let Some(low) = creepage(volts, Pollution::Two, Group::I) else { return Ok(()) };
            if let Some(high) = creepage(volts + more, Pollution::Two, Group::I) {
                prop_assert!(high.basic_mm >= low.basic_mm);
            }
            prop_assert!(creepage(volts, Pollution::Three, Group::I).unwrap().basic_mm >= low.basic_mm);
            prop_assert!(creepage(volts, Pollution::Two, Group::III).unwrap().basic_mm >= low.basic_mm);
        }
    }

    #[test]
    fn beyond_the_tables_nothing_is_told() {
        assert_eq!(creepage(1_000.1, Pollution::Two, Group::I), None);
        assert_eq!(altitude_factor(10_001.0), None);
        assert_eq!(clearance(8.1, 0.0, Pollution::Three), None);
    }
}
