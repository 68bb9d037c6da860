//! Sheets and bars as they are on sale, from the tables in `assets/stock`.

use std::sync::LazyLock;

use tape::Length;

use crate::listed;

/// A stock sheet on sale.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StockSheet {
    /// What it is called: `4x8 ft`, `1250x2500`.
    pub name: &'static str,
    /// Its two sides, the shorter first.
    pub sides: [Length; 2],
}

/// A stock bar or a threaded rod on sale.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StockBar {
    /// What it is called: `20 ft`, `6 m`.
    pub name: &'static str,
    /// Its length.
    pub length: Length,
}

pub(crate) const SHEETS: &str = include_str!("../../../assets/stock/sheets.csv");
pub(crate) const BARS: &str = include_str!("../../../assets/stock/bars.csv");
pub(crate) const RODS: &str = include_str!("../../../assets/stock/rods.csv");
pub(crate) const THICKNESSES: &str = include_str!("../../../assets/stock/thicknesses.csv");

/// Common sheets, those in feet first.
pub fn sheets() -> &'static [StockSheet] {
    static LIST: LazyLock<Vec<StockSheet>> = LazyLock::new(|| {
        let sheet = |row: listed::Row| StockSheet {
            name: row.text(0),
            sides: [row.length(1), row.length(2)],
        };
        listed::rows(SHEETS).map(sheet).collect()
    });
    &LIST
}

/// Common bars, the one in feet first.
pub fn bars() -> &'static [StockBar] {
    static LIST: LazyLock<Vec<StockBar>> = LazyLock::new(|| read_bars(BARS));
    &LIST
}

/// Common lengths of threaded rod, those in feet first, each from short to long.
pub fn rods() -> &'static [StockBar] {
    static LIST: LazyLock<Vec<StockBar>> = LazyLock::new(|| read_bars(RODS));
    &LIST
}

fn read_bars(table: &'static str) -> Vec<StockBar> {
    let bar = |row: listed::Row| StockBar {
        name: row.text(0),
        length: row.length(1),
    };
    listed::rows(table).map(bar).collect()
}

/// Common metric sheet thicknesses, thinnest first.
pub fn thicknesses() -> &'static [Length] {
    static LIST: LazyLock<Vec<Length>> = LazyLock::new(|| listed::rows(THICKNESSES).map(|row| row.length(0)).collect());
    &LIST
}

/// The sheet of that name; `None` when it is not on the list.
pub fn sheet(name: &str) -> Option<StockSheet> {
    sheets().iter().copied().find(|sheet| sheet.name == name)
}

/// The bar of that name; `None` when it is not on the list.
pub fn bar(name: &str) -> Option<StockBar> {
    bars().iter().copied().find(|bar| bar.name == name)
}

pub(crate) const RIVET_NUTS: &str = include_str!("../../../assets/stock/rivet-nuts.csv");

/// A round rivet nut with a flat rim.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RivetNut {
    /// The hole that it wants.
    pub hole: Length,
    /// How thick its rim is, which stays on the face of the sheet.
    pub rim: Length,
}

/// The rivet nut of this thread: the next larger one on the list, else with a hole of one and a half threads and a rim of a fifth of one.
pub fn rivet_nut(thread: Length) -> RivetNut {
    static LIST: LazyLock<Vec<(Length, RivetNut)>> = LazyLock::new(|| {
        let nut = |row: listed::Row| {
            let [thread, hole, rim] = [0, 1, 2].map(|column| row.length(column));
            (thread, RivetNut { hole, rim })
        };
        listed::rows(RIVET_NUTS).map(nut).collect()
    });
    let listed = LIST.iter().find(|(own, _)| *own >= thread);
    listed.map_or_else(
        || RivetNut {
            hole: thread + thread.half_down(),
            rim: Length::from_nm(thread.nm() / 5),
        },
        |(_, nut)| *nut,
    )
}
