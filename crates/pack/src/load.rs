//! What happens when amps flow: volts, power, heat, charging.
//!
//! A pack is taken as its volts at rest behind one resistance: `V = Voc - I R`. That is what holds for some seconds;
//! over minutes cells sag further.

use crate::{Amps, Ohms, Volts, WattHours};

/// A pack under load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loaded {
    /// Amps drawn.
    pub amps: f64,
    /// How far the volts fall.
    pub sag: Volts,
    /// Volts at the terminals.
    pub volts: Volts,
    /// Power at the terminals, watts.
    pub power_w: f64,
    /// Heat inside, watts.
    pub heat_w: f64,
    /// Power at the terminals over what the cells give.
    pub efficiency: f64,
}

fn ohms(resistance: Ohms) -> f64 {
    resistance.milliohms() / 1000.0
}

/// `amps` drawn from a pack at rest at `voc`.
pub fn loaded(voc: Volts, resistance: Ohms, amps: f64) -> Loaded {
    let (rest, ohms) = (voc.get(), ohms(resistance));
    let sag = amps * ohms;
    Loaded {
        amps,
        sag: Volts::nearest(sag),
        volts: Volts::nearest(rest - sag),
        power_w: (rest - sag) * amps,
        heat_w: amps * sag,
        efficiency: if rest > 0.0 { (rest - sag) / rest } else { 0.0 },
    }
}

/// The amps that give `power_w` at the terminals: `(Voc - sqrt(Voc^2 - 4 R P)) / (2 R)`, the smaller root; `None` when
/// the pack cannot give it.
pub fn at_power(voc: Volts, resistance: Ohms, power_w: f64) -> Option<Loaded> {
    let (rest, ohms) = (voc.get(), ohms(resistance));
    if rest <= 0.0 {
        return None;
    }
    let amps = if ohms > 0.0 {
        let inside = rest * rest - 4.0 * ohms * power_w;
        (inside >= 0.0).then(|| (rest - inside.sqrt()) / (2.0 * ohms))?
    } else {
        power_w / rest
    };
    Some(loaded(voc, resistance, amps))
}

/// Which limit is met first when ever more is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PowerLimit {
    /// The drive's least volts.
    DriveVolts,
    /// Half the volts at rest: beyond it more amps give less power.
    HalfVolts,
    /// The most amps.
    Amps,
}

impl PowerLimit {
    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::DriveVolts => "the drive's least volts",
            Self::HalfVolts => "half the volts at rest",
            Self::Amps => "the most amps",
        }
    }
}

/// The most power a pack gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MostPower {
    /// What limits it.
    pub limit: PowerLimit,
    /// The pack then.
    pub at: Loaded,
    /// What it would give without limits, watts: `Voc^2 / 4 R`, half of it heat, never a figure to use.
    pub unconstrained_w: f64,
}

/// The most power: the least amps of `(Voc - least) / R`, `Voc / (2 R)` and `most`. `None` without resistance, or when
/// the pack at rest is under the drive's least.
pub fn most_power(voc: Volts, resistance: Ohms, least: Volts, most: f64) -> Option<MostPower> {
    let (rest, ohms) = (voc.get(), ohms(resistance));
    if ohms <= 0.0 || rest <= 0.0 || voc < least {
        return None;
    }
    let candidates = [
        (PowerLimit::DriveVolts, (rest - least.get()) / ohms),
        (PowerLimit::HalfVolts, rest / (2.0 * ohms)),
        (PowerLimit::Amps, most),
    ];
    let (limit, amps) = candidates.into_iter().min_by(|a, b| a.1.total_cmp(&b.1))?;
    Some(MostPower {
        limit,
        at: loaded(voc, resistance, amps),
        unconstrained_w: rest * rest / (4.0 * ohms),
    })
}

/// What a pack may take back near full.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Regen {
    /// The volts not to be passed.
    pub limit: Volts,
    /// Amps.
    pub amps: f64,
    /// Power at the terminals, watts.
    pub power_w: f64,
}

/// What may be charged without passing `limit`: `I = (limit - Voc) / R`, none at the limit, and at most `most` amps.
pub fn regen(voc: Volts, resistance: Ohms, limit: Volts, most: f64) -> Regen {
    let ohms = ohms(resistance);
    let room = (limit - voc).get().max(0.0);
    let amps = if ohms > 0.0 { (room / ohms).min(most) } else { most };
    let amps = if room > 0.0 { amps } else { 0.0 };
    Regen {
        limit,
        amps,
        power_w: (voc.get() + amps * ohms) * amps,
    }
}

/// How long charging takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChargeTime {
    /// Energy into the pack.
    pub energy: WattHours,
    /// Hours; the slow end of a charge is not counted.
    pub hours: f64,
    /// Mean share of the worn capacity in an hour.
    pub c_rate: f64,
}

/// Charging at a power: `t = E x health x (to - from) / (P x efficiency)`.
///
/// - `energy`: nominal.
/// - `health`, `from`, `to`, `efficiency`: shares, 0 to 1.
/// - `line_w`: drawn from the line; `None` is returned when nothing is, or the charge does not rise.
pub fn charge_at_power(
    energy: WattHours,
    health: f64,
    [from, to]: [f64; 2],
    line_w: f64,
    efficiency: f64,
) -> Option<ChargeTime> {
    let power = line_w * efficiency;
    if power <= 0.0 || to <= from {
        return None;
    }
    let energy = WattHours::nearest(energy.get() * health * (to - from));
    let hours = energy.get() / power;
    Some(ChargeTime {
        energy,
        hours,
        c_rate: (to - from) / hours,
    })
}

/// Hours of charging at constant amps, and amps over amp-hours; `None` when either is zero.
pub fn charge_at_amps(amp_hours: f64, [from, to]: [f64; 2], amps: f64) -> Option<(f64, f64)> {
    (amps > 0.0 && amp_hours > 0.0).then(|| (amp_hours * (to - from) / amps, amps / amp_hours))
}

/// The most amps, as [`most_power`] takes them: none known is no limit.
pub fn most_amps(amps: Option<Amps>) -> f64 {
    amps.map_or(f64::INFINITY, Amps::get)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn what_cannot_be_had_is_told_so() {
        let voc = Volts::nearest(300.0);
        let resistance = Ohms::nearest_milliohms(100.0);
        assert_eq!(at_power(voc, resistance, 225_001.0), None);
        assert!(at_power(voc, resistance, 224_999.0).is_some());
        assert_eq!(most_power(voc, resistance, Volts::nearest(300.1), 1e3), None);
        assert_eq!(most_power(voc, Ohms::default(), Volts::nearest(200.0), 1e3), None);
        assert!(charge_at_power(WattHours::nearest(1e4), 1.0, [0.9, 0.2], 1e3, 0.9).is_none());
        assert!(charge_at_power(WattHours::nearest(1e4), 1.0, [0.2, 0.9], 0.0, 0.9).is_none());
        assert!(regen(voc, resistance, voc, 50.0).amps == 0.0);
    }

    proptest! {
        #[test]
        fn the_amps_for_a_power_give_that_power(volts in 50.0..800.0_f64, mohm in 1.0..500.0_f64, share in 0.0..0.99_f64) {
            let (voc, resistance) = (Volts::nearest(volts), Ohms::nearest_milliohms(mohm));
            let power = share * voc.get().powi(2) / (4.0 * ohms(resistance));
            let found = at_power(voc, resistance, power).unwrap();
            prop_assert!((found.power_w - power).abs() <= 1e-6 * power.max(1.0));
            prop_assert!(found.volts.get() >= voc.get() / 2.0 - 0.001);
        }

        #[test]
        fn no_other_draw_within_the_limits_gives_more(
            volts in 50.0..800.0_f64, mohm in 1.0..500.0_f64, least in 0.1..1.0_f64, most in 1.0..3_000.0_f64, share in 0.0..1.0_f64,
        ) {
            let (voc, resistance) = (Volts::nearest(volts), Ohms::nearest_milliohms(mohm));
            let best = most_power(voc, resistance, Volts::nearest(volts * least), most).unwrap();
            let less = loaded(voc, resistance, best.at.amps * share);
            prop_assert!(less.power_w <= best.at.power_w + 1e-6);
        }
    }
}
