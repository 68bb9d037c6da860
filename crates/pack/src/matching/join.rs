//! Joining two units, groups or strings in parallel.

/// What flows when two are joined at different volts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joining {
    /// Amps at the first moment.
    pub amps: f64,
    /// Those over the smaller capacity.
    pub c_rate: f64,
    /// Heat in all resistances together at the first moment, watts.
    pub heat_w: f64,
}

/// Joining two at `volts` through their own resistances and the lead's, milliohms; the first is the one with more volts
/// for a positive current. `None` without any resistance or capacity.
pub fn joining(volts: [f64; 2], milliohms: [f64; 2], lead_mohm: f64, amp_hours: [f64; 2]) -> Option<Joining> {
    let ohms = (milliohms[0] + milliohms[1] + lead_mohm) / 1000.0;
    let smaller = amp_hours[0].min(amp_hours[1]);
    if ohms <= 0.0 || smaller <= 0.0 {
        return None;
    }
    let apart = volts[0] - volts[1];
    let amps = apart / ohms;
    Some(Joining {
        amps,
        c_rate: amps / smaller,
        heat_w: amps * apart,
    })
}

/// How far units are apart that are joined in parallel, volts, and the amps of the highest into the lowest at the first
/// moment where both resistances are known. `units`: volts at rest and milliohms of each; `None` without any.
pub fn widest(units: &[(f64, Option<f64>)]) -> Option<(f64, Option<f64>)> {
    let low = units.iter().min_by(|a, b| a.0.total_cmp(&b.0))?;
    let high = units.iter().max_by(|a, b| a.0.total_cmp(&b.0))?;
    // The capacities only matter to the rate, which is not asked for.
    let amps = high
        .1
        .zip(low.1)
        .and_then(|(a, b)| joining([high.0, low.0], [a, b], 0.0, [1.0; 2]));
    Some((high.0 - low.0, amps.map(|joining| joining.amps)))
}

/// Where two settle: the state of charge of both, by balance of charge for equal curves, and the amp-hours that leave
/// the first.
pub fn settled_charge(amp_hours: [f64; 2], charge: [f64; 2]) -> (f64, f64) {
    let settled = (amp_hours[0] * charge[0] + amp_hours[1] * charge[1]) / (amp_hours[0] + amp_hours[1]);
    (settled, amp_hours[0] * (charge[0] - settled))
}
