//! Small sums about a pack: what fits a window, where charging ends, what can be used, what it resists.

use crate::arrangement::Arrangement;
use crate::window::{ChargerWindow, DriveWindow};
use crate::{Amps, CellVolts, Ohms, Volts, WattHours};

/// The least and the most in series that a drive's window allows. `least` is above `most` when nothing fits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SeriesWindow {
    /// So many are needed to stay at or above the drive's least when empty; at least 1.
    pub least: u32,
    /// More than these are above the drive's most when full.
    pub most: u32,
}

impl SeriesWindow {
    /// Every number of modules, each of `cells` in series, whose cells are within a window counted in cells.
    pub fn module_counts(&self, cells: u32) -> Vec<u32> {
        let most = self.most.checked_div(cells).unwrap_or(0);
        (self.least.div_ceil(cells.max(1))..=most).collect()
    }
}

/// How many with these volts, cells or modules, go in series in a drive's window; `None` when their volts are not
/// above zero.
///
/// `least = ceil(drive's least / empty)`, `most = floor(drive's most / full)`, in whole millivolts. The drive's most is
/// what destroys it, where that is stated lower.
pub fn series_window(volts: &CellVolts, drive: &DriveWindow) -> Option<SeriesWindow> {
    let (empty, full) = (volts.empty.milli(), volts.full.milli());
    if empty <= 0 || full <= 0 {
        return None;
    }
    let max = drive
        .absolute_max
        .map_or(drive.max, |absolute| absolute.min(drive.max))
        .milli();
    let most = max.max(0) / full;
    // Rounded up: div_euclid of the negative rounds down.
    let least = -(-drive.min.milli()).div_euclid(empty);
    let count = |n: i64| u32::try_from(n).unwrap_or(u32::MAX);
    Some(SeriesWindow {
        least: count(least.max(1)),
        most: count(most),
    })
}

/// A full pack against an upper limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overshoot {
    /// Full volts of the pack.
    pub full: Volts,
    /// How far full is above the limit; negative when there is room.
    pub over: Volts,
    /// Whether full is not above the limit.
    pub fits: bool,
    /// The volts of each cell at which the pack is at the limit, in volts, not rounded.
    pub cell_stop_v: f64,
}

/// How far `series` cells, each full at `cell_full`, are above `limit`, and where charging would have to stop instead.
///
/// `series` of zero stands for 1.
pub fn full_overshoot(cell_full: Volts, series: u32, limit: Volts) -> Overshoot {
    let series = series.max(1);
    let full = cell_full * series;
    Overshoot {
        full,
        over: full - limit,
        fits: full <= limit,
        cell_stop_v: limit.get() / f64::from(series),
    }
}

/// What a charger makes of a pack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChargerReach {
    /// Whether it reaches the pack's full volts.
    pub reaches_full: bool,
    /// Whether it starts on an empty pack; so it is taken when its least is not known.
    pub starts_empty: bool,
    /// The volts of each cell where charging ends, in volts, not rounded: full, or what the charger's most gives.
    pub cell_reached_v: f64,
}

/// How far `charger` charges `series` cells. `series` of zero stands for 1.
///
/// The charger must still be set so that it cannot go above full.
pub fn charger_reach(cell: &CellVolts, series: u32, charger: &ChargerWindow) -> ChargerReach {
    let series = series.max(1);
    ChargerReach {
        reaches_full: charger.max >= cell.full * series,
        starts_empty: charger.min.is_none_or(|min| min <= cell.empty * series),
        cell_reached_v: cell.full.get().min(charger.max.get() / f64::from(series)),
    }
}

/// The part of a nominal energy that can be used: `energy x health x (high - low)`, to the nearest microwatt-hour.
///
/// - `health`: the state of health, what is left of the capacity, `0.0..=1.0`.
/// - `low`, `high`: the states of charge used between, `0.0..=1.0`.
pub fn usable_energy(energy: WattHours, health: f64, low: f64, high: f64) -> WattHours {
    WattHours::nearest(energy.get() * health * (high - low))
}

/// The resistance of equal units in `arrangement`: `series / parallel x each`, to the nearest nano-ohm.
///
/// Holds for cells as for modules; links and cables not counted. No strings resist as one.
pub fn units_resistance(each: Ohms, arrangement: Arrangement) -> Ohms {
    (each * arrangement.series).shared_by(arrangement.parallel)
}

/// The resistance of a pack between the ends of its cables: `series / parallel x module + (series - 1) x link + cables`,
/// to the nearest nano-ohm.
///
/// - `link`: one link, in the common path: one for each step in series.
/// - `cables`: both pack cables together.
pub fn pack_resistance(module: Ohms, arrangement: Arrangement, link: Ohms, cables: Ohms) -> Ohms {
    units_resistance(module, arrangement) + link * arrangement.series.saturating_sub(1) + cables
}

/// What a pack of this resistance sags by when `draw` amps flow: `V = I x R`, to the nearest millivolt.
pub fn sag(resistance: Ohms, draw: Amps) -> Volts {
    Volts::nearest(draw.get() * resistance.milliohms() / 1000.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The check value E009 of the pack electrics: 82 milliohms at 300 A.
    #[test]
    fn a_pack_sags_by_amps_times_ohms() {
        assert_eq!(
            sag(Ohms::nearest_milliohms(82.0), Amps::from_milli(300_000)),
            Volts::from_milli(24_600)
        );
    }

    #[test]
    fn resistance_is_rounded_once_to_the_nearest() {
        let thirds = Arrangement { series: 1, parallel: 3 };
        assert_eq!(units_resistance(Ohms::from_nano(10), thirds), Ohms::from_nano(3));
        assert_eq!(units_resistance(Ohms::from_nano(11), thirds), Ohms::from_nano(4));
    }

    #[test]
    fn module_counts_of_a_window_too_narrow_are_none() {
        assert_eq!(SeriesWindow { least: 17, most: 23 }.module_counts(8), []);
        assert_eq!(SeriesWindow { least: 16, most: 24 }.module_counts(8), [2, 3]);
        assert_eq!(SeriesWindow { least: 1, most: 9 }.module_counts(0), []);
    }
}
