//! What to buy, as far as areas and lengths tell it.

use std::fmt;

use tape::{Area, Length};

use crate::cutlist::Table;
use crate::{Form, KnownBy};

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

/// What cutting takes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Cutting {
    /// Width of a cut; zero when not known.
    pub kerf: Length,
    /// What is cut off each edge of a stock sheet; zero when not known.
    pub trim: Length,
}

/// How many stock sheets a table of parts needs, by area alone.
///
/// Prints as `at least 2`: it takes laying the parts on the sheets to know how many it really is.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetsNeeded {
    /// Whole sheets, a lower bound.
    pub at_least: u32,
    /// Net face area of the parts.
    pub net_area: Area,
    /// Marks of parts that are larger than the sheet either way round.
    pub too_large: Vec<String>,
}

impl fmt::Display for SheetsNeeded {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "at least {}", self.at_least)
    }
}

/// Returns the stock a table of sheet parts needs at least; `None` for bars and for a sheet that trim uses up.
///
/// Every part is inflated by the kerf both ways, and usable stock is `side - 2 trim + kerf` each way, since the last
/// piece needs no cut beyond it.
pub fn stock_needed(table: &Table, stock: [Length; 2], cutting: Cutting) -> Option<SheetsNeeded> {
    let usable = stock.map(|side| side - cutting.trim * 2);
    if table.form != Form::Sheet || usable.iter().any(|&side| side <= Length::ZERO) {
        return None;
    }
    let inflate = |[length, width]: [Length; 2]| (length + cutting.kerf) * (width + cutting.kerf);
    let wanted: Area = table
        .lines
        .iter()
        .map(|line| inflate([line.length.exact, line.width.exact]) * i64::from(line.quantity))
        .sum();
    let too_large = table
        .lines
        .iter()
        .filter(|line| !fits([line.length.exact, line.width.exact], usable))
        .map(|line| line.mark.clone())
        .collect();
    let each = inflate(usable).nm2();
    let whole = (wanted.nm2() + each - 1) / each;
    Some(SheetsNeeded {
        at_least: u32::try_from(whole).unwrap_or(u32::MAX),
        net_area: table.area,
        too_large,
    })
}

/// Whether a rectangle goes on another, square to it.
fn fits(part: [Length; 2], sheet: [Length; 2]) -> bool {
    let ascending = |[a, b]: [Length; 2]| if a <= b { [a, b] } else { [b, a] };
    let (part, sheet) = (ascending(part), ascending(sheet));
    part[0] <= sheet[0] && part[1] <= sheet[1]
}
