//! How long charging takes, and what it draws from the wall.

use crate::check::{efficiency, positive, within};
use crate::{Source, Sourced, TruckError};

/// The share of a circuit's rating that a load may draw that runs for hours.
pub const CONTINUOUS_SHARE: Sourced<f64> = Sourced {
    value: 0.8,
    source: Source::memory(
        "NEC 210 and 625: charging is a continuous load, its circuit sized at 125 %; the local code and a licensed electrician decide",
    ),
};

/// What a circuit may give for hours, amps: `0.8 x rating`.
///
/// Source: [`CONTINUOUS_SHARE`].
///
/// # Errors
///
/// [`TruckError::NotAbove`] for a rating not above zero.
pub fn continuous_a(circuit_a: f64) -> Result<f64, TruckError> {
    Ok(positive("circuit", circuit_a, "read it off the breaker")? * CONTINUOUS_SHARE.value)
}

/// A charger on its line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Supply {
    /// Volts of the line.
    pub volts: f64,
    /// Amps that the charger draws.
    pub amps: f64,
    /// Power into the pack over power from the line, 0 to 1.
    pub efficiency: f64,
}

/// From where to where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fill {
    /// The whole of the pack, kilowatt-hours, at its age.
    pub pack_kwh: f64,
    /// State of charge to begin with, 0 to 1.
    pub from: f64,
    /// State of charge to end with, above `from`.
    pub to: f64,
}

/// The slow end of a charge: full power to the knee, from there falling in a straight line over the state of charge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Taper {
    /// State of charge from which power falls, 0 to below 1.
    pub knee: f64,
    /// Share of the power that is left when full, above 0 to 1.
    pub share_at_full: f64,
}

/// How long it takes and what it draws.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Charge {
    /// From the line, kilowatts, at full power.
    pub ac_kw: f64,
    /// Into the pack, kilowatts, at full power.
    pub dc_kw: f64,
    /// Into the pack, kilowatt-hours.
    pub dc_kwh: f64,
    /// From the line, kilowatt-hours: what the meter counts.
    pub ac_kwh: f64,
    /// Hours at full power.
    pub hours_full_power: f64,
    /// Hours of falling power; an estimate.
    pub hours_taper: f64,
}

impl Charge {
    /// Hours in all.
    pub fn hours(&self) -> f64 {
        self.hours_full_power + self.hours_taper
    }

    /// Hours for the same energy, all of it at full power, as if there were no knee: `dc_kwh / dc_kw`. Without a taper these are
    /// [`Charge::hours`]; with one never more. A yardstick for what the taper costs, not a time to plan by.
    pub fn hours_without_taper(&self) -> f64 {
        self.dc_kwh / self.dc_kw
    }
}

/// A charge: `t = E (to - from) / (V A efficiency)`; with a taper, beyond its knee
/// `t = E / k ln(P / P_end)`, `k = P (1 - f) / (1 - knee)`, `P_end` the power at `to`.
///
/// Source: energy balance; the taper is the integral of `E ds / P(s)`.
///
/// # Errors
///
/// [`TruckError`] for a figure not above zero, a state of charge outside 0 to 1, a charge that does not rise.
///
/// # Examples
///
/// ```
/// use truck::charge::{Fill, Supply, charge};
///
/// let supply = Supply { volts: 240.0, amps: 24.0, efficiency: 0.9 };
/// let fill = Fill { pack_kwh: 30.0, from: 0.2, to: 0.9 };
/// let found = charge(supply, fill, None)?;
/// assert!((found.hours() - 21.0 / 5.184).abs() < 1e-9);
/// # Ok::<(), truck::TruckError>(())
/// ```
pub fn charge(supply: Supply, fill: Fill, taper: Option<Taper>) -> Result<Charge, TruckError> {
    let volts = positive("volts of the line", supply.volts, "enter its volts")?;
    let amps = positive("amps from the line", supply.amps, "enter what the charger draws")?;
    let charger = efficiency("efficiency of the charger", supply.efficiency)?;
    let fill = checked_fill(fill)?;
    let ac_kw = volts * amps / 1_000.0;
    let dc_kw = ac_kw * charger;
    let dc_kwh = fill.pack_kwh * (fill.to - fill.from);
    let (full_kwh, hours_taper) = match taper {
        None => (dc_kwh, 0.0),
        Some(taper) => tapered(fill, checked_taper(taper)?, dc_kw),
    };
    Ok(Charge {
        ac_kw,
        dc_kw,
        dc_kwh,
        ac_kwh: dc_kwh / charger,
        hours_full_power: full_kwh / dc_kw,
        hours_taper,
    })
}

/// Kilowatt-hours at full power, and the hours of falling power.
fn tapered(fill: Fill, taper: Taper, dc_kw: f64) -> (f64, f64) {
    let full_kwh = fill.pack_kwh * (fill.to.min(taper.knee) - fill.from).max(0.0);
    let falling_from = fill.from.max(taper.knee);
    if fill.to <= falling_from {
        return (full_kwh, 0.0);
    }
    let slope_kw = dc_kw * (1.0 - taper.share_at_full) / (1.0 - taper.knee);
    let hours = if slope_kw > 0.0 {
        let power_kw = |state: f64| dc_kw - slope_kw * (state - taper.knee);
        fill.pack_kwh / slope_kw * (power_kw(falling_from) / power_kw(fill.to)).ln()
    } else {
        fill.pack_kwh * (fill.to - falling_from) / dc_kw
    };
    (full_kwh, hours)
}

fn checked_fill(fill: Fill) -> Result<Fill, TruckError> {
    const MEND: &str = "enter a state of charge from 0 to 1";
    positive("pack", fill.pack_kwh, "enter its kilowatt-hours")?;
    within("charge to begin with", fill.from, [0.0, 1.0], MEND)?;
    within("charge to end with", fill.to, [0.0, 1.0], MEND)?;
    positive("rise of the charge", fill.to - fill.from, "end higher than it begins")?;
    Ok(fill)
}

fn checked_taper(taper: Taper) -> Result<Taper, TruckError> {
    const MEND: &str = "enter a state of charge below 1";
    within("knee of the taper", taper.knee, [0.0, 1.0], MEND)?;
    positive("charge beyond the knee", 1.0 - taper.knee, MEND)?;
    efficiency("share of power at full", taper.share_at_full)?;
    Ok(taper)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rstest::rstest;

    use super::*;

    const SUPPLY: Supply = Supply {
        volts: 240.0,
        amps: 24.0,
        efficiency: 0.9,
    };

    fn fill(from: f64, to: f64) -> Fill {
        Fill {
            pack_kwh: 30.0,
            from,
            to,
        }
    }

    #[rstest]
    #[case::does_not_rise(fill(0.9, 0.9), None)]
    #[case::over_full(fill(0.2, 1.01), None)]
    #[case::no_knee(fill(0.2, 0.9), Some(Taper { knee: 1.0, share_at_full: 0.2 }))]
    #[case::never_full(fill(0.2, 1.0), Some(Taper { knee: 0.8, share_at_full: 0.0 }))]
    fn nonsense_is_refused(#[case] fill: Fill, #[case] taper: Option<Taper>) {
        assert!(charge(SUPPLY, fill, taper).is_err());
    }

    #[test]
    fn a_circuit_gives_four_fifths_for_hours() {
        assert!((continuous_a(30.0).unwrap() - 24.0).abs() < 1e-12);
        assert!(continuous_a(0.0).is_err());
    }

    proptest! {
        #[test]
        fn the_taper_is_the_sum_of_small_steps(
            from in 0.0..0.7_f64, rise in 0.05..0.3_f64, knee in 0.0..0.95_f64, share_at_full in 0.05..=1.0_f64,
        ) {
            let fill = fill(from, from + rise);
            let found = charge(SUPPLY, fill, Some(Taper { knee, share_at_full })).unwrap();
            let steps = 20_000;
            let width = rise / f64::from(steps);
            let hours: f64 = (0..steps)
                .map(|step| from + (f64::from(step) + 0.5) * width)
                .map(|state| {
                    let fallen = ((state - knee) / (1.0 - knee)).max(0.0);
                    fill.pack_kwh * width / (found.dc_kw * (1.0 - (1.0 - share_at_full) * fallen))
                })
                .sum();
            prop_assert!((found.hours() - hours).abs() < 1e-4 * hours, "{} for {hours}", found.hours());
            prop_assert!(found.hours() >= found.hours_without_taper() - 1e-9);
        }

        #[test]
        fn two_charges_one_after_the_other_take_as_long_as_both(middle in 0.3..0.9_f64) {
            let taper = Some(Taper { knee: 0.7, share_at_full: 0.2 });
            let hours = |from, to| charge(SUPPLY, fill(from, to), taper).unwrap().hours();
            prop_assert!((hours(0.2, middle) + hours(middle, 0.95) - hours(0.2, 0.95)).abs() < 1e-9);
        }
    }
}
