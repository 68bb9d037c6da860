//! The cut list of all boxes, with the stock it needs at least.

use enclosure::cutlist::{CutList, Fineness, ListedBox, cut_list};
use enclosure::stock::{Cutting, SHEETS, SheetsNeeded, StockSheet, stock_needed};
use tape::{Length, Units};

use super::boxes::BoxResult;
use crate::document::{FractionName, UnitsName};

/// What to cut, and from how much.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// The tables, one for each thing that parts are cut from.
    pub list: CutList,
    /// For each table of sheet parts, what it needs at least of the usual stock sheet; `None` for bars.
    pub stock: Vec<Option<SheetsNeeded>>,
    /// The stock sheet that is reckoned with.
    pub sheet: StockSheet,
}

/// What one cut takes away at most: a thick cutting disc. Thinner ones only leave more.
const KERF: Length = Length::mm(3);

pub(super) fn evaluate(boxes: &[BoxResult], units: UnitsName, fraction: FractionName) -> Cut {
    let fineness = match fraction {
        FractionName::Sixteenth => Fineness::Sixteenth,
        FractionName::ThirtySecond => Fineness::ThirtySecond,
    };
    let listed: Vec<ListedBox<'_>> = boxes
        .iter()
        .filter_map(|b| {
            Some(ListedBox {
                name: &b.name,
                built: b.built.as_ref()?,
                count: 1,
            })
        })
        .collect();
    let list = cut_list(&listed, fineness);
    let sheet = match units.units() {
        Units::Inch => SHEETS[0],
        Units::Millimetre => SHEETS[4],
    };
    let cutting = Cutting {
        kerf: KERF,
        trim: Length::ZERO,
    };
    let stock = list
        .tables
        .iter()
        .map(|table| stock_needed(table, sheet.sides, cutting))
        .collect();
    Cut { list, stock, sheet }
}
