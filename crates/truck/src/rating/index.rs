//! The load index of tyres.

use crate::check::within;
use crate::{Source, TruckError};

/// The lowest index of the table.
pub const LOWEST: u32 = 60;
/// The highest index of the table.
pub const HIGHEST: u32 = 126;
/// From this index up the table is recalled, not read.
pub const RECALLED_FROM: u32 = 120;

/// Kilograms a tyre, from [`LOWEST`].
const LOAD_KG: [u16; 67] = [
    250, 257, 265, 272, 280, 290, 300, 307, 315, 325, // 60
    335, 345, 355, 365, 375, 387, 400, 412, 425, 437, // 70
    450, 462, 475, 487, 500, 515, 530, 545, 560, 580, // 80
    600, 615, 630, 650, 670, 690, 710, 730, 750, 775, // 90
    800, 825, 850, 875, 900, 925, 950, 975, 1000, 1030, // 100
    1060, 1090, 1120, 1150, 1180, 1215, 1250, 1285, 1320, 1360, // 110
    1400, 1450, 1500, 1550, 1600, 1650, 1700, // 120
];

/// What one tyre of this load index carries, kilograms.
///
/// Source: [`source`].
///
/// # Errors
///
/// [`TruckError::Outside`] for an index that the table does not hold.
pub fn load_kg(index: u32) -> Result<f64, TruckError> {
    within(
        "load index",
        f64::from(index),
        [f64::from(LOWEST), f64::from(HIGHEST)],
        "read the side wall again, or enter its kilograms",
    )?;
    Ok(f64::from(LOAD_KG[(index - LOWEST) as usize]))
}

/// Where the row of this index is from: to 119 agreed between public pages, above from memory.
pub const fn source(index: u32) -> Source {
    if index < RECALLED_FROM {
        Source::found("ISO 4223-1 / ETRTO load index series, as printed on three public tyre pages")
    } else {
        Source::memory("ISO 4223-1 / ETRTO load index series")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::KnownBy;

    /// The series is geometric, which shows up misprints: two were caught with it.
    #[test]
    fn every_row_is_near_the_rule_of_thumb() {
        for index in LOWEST..=HIGHEST {
            let rule = 45.0 * 10.0_f64.powf(f64::from(index) / 80.0);
            let load = load_kg(index).unwrap();
            assert!((load / rule - 1.0).abs() < 0.02, "{index}: {load} for {rule}");
        }
    }

    #[test]
    fn rows_rise_and_the_table_ends_where_it_says() {
        assert!(LOAD_KG.windows(2).all(|pair| pair[0] < pair[1]));
        assert!(load_kg(LOWEST - 1).is_err());
        assert!(load_kg(HIGHEST + 1).is_err());
        assert_eq!(source(119).known_by, KnownBy::Found);
        assert_eq!(source(120).known_by, KnownBy::Memory);
    }
}
