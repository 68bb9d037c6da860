//! A dead short across the pack.

/// What flows into a dead short.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShortCircuit {
    /// The current it rises to, amps.
    pub amps: f64,
    /// Time constant of the rise, seconds: `L / R`.
    pub tau_s: f64,
}

/// The prospective short-circuit current of a pack: `Voc / R`, `R` being the pack and its leads. Fewer milliohms mean
/// more amps, so good modules are the hard case. `None` without any resistance.
pub fn short_circuit(volts: f64, pack_mohm: f64, leads_mohm: f64, micro_henry: f64) -> Option<ShortCircuit> {
    let ohms = (pack_mohm + leads_mohm) / 1000.0;
    (ohms > 0.0).then(|| ShortCircuit {
        amps: volts / ohms,
        tau_s: micro_henry * 1e-6 / ohms,
    })
}

impl ShortCircuit {
    /// The current `seconds` after the short: `I (1 - e^(-t / tau))`.
    pub fn amps_at(&self, seconds: f64) -> f64 {
        if self.tau_s <= 0.0 {
            return self.amps;
        }
        self.amps * (1.0 - (-seconds / self.tau_s).exp())
    }
}
