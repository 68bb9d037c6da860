//! Sheets and bars as they are on sale.

use tape::Length;

use crate::KnownBy;

/// A stock sheet on sale.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StockSheet {
    /// What it is called: `4x8 ft`, `1250x2500`.
    pub name: &'static str,
    /// Its two sides, the shorter first.
    pub sides: [Length; 2],
}

/// A stock bar on sale.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StockBar {
    /// What it is called: `20 ft`, `6 m`.
    pub name: &'static str,
    /// Its length.
    pub length: Length,
}

/// Common sheets. From memory of the trade: ask the supplier.
pub const SHEETS: [StockSheet; 6] = [
    sheet("4x8 ft", Length::inches(48), Length::inches(96)),
    sheet("4x10 ft", Length::inches(48), Length::inches(120)),
    sheet("5x10 ft", Length::inches(60), Length::inches(120)),
    sheet("1000x2000", Length::mm(1_000), Length::mm(2_000)),
    sheet("1250x2500", Length::mm(1_250), Length::mm(2_500)),
    sheet("1500x3000", Length::mm(1_500), Length::mm(3_000)),
];

/// Common bars. From memory of the trade: ask the supplier.
pub const BARS: [StockBar; 2] = [
    StockBar {
        name: "20 ft",
        length: Length::inches(240),
    },
    StockBar {
        name: "6 m",
        length: Length::mm(6_000),
    },
];

/// Common metric sheet thicknesses. From memory of the trade: ask the supplier.
pub const THICKNESSES: [Length; 10] = [
    Length::tenths_mm(8),
    Length::mm(1),
    Length::tenths_mm(12),
    Length::tenths_mm(15),
    Length::mm(2),
    Length::tenths_mm(25),
    Length::mm(3),
    Length::mm(4),
    Length::mm(5),
    Length::mm(6),
];

/// How [`SHEETS`], [`BARS`] and [`THICKNESSES`] are known.
pub const KNOWN_BY: KnownBy = KnownBy::Memory;

const fn sheet(name: &'static str, shorter: Length, longer: Length) -> StockSheet {
    StockSheet {
        name,
        sides: [shorter, longer],
    }
}
