//! A panel that rests on its four edges: Levy's series.
//!
//! Written as a strip across the short side less what the short edges hold up, so that what is summed falls by
//! `exp(-pi a/b)` from term to term; the strip's own series are known in closed form.

use std::f64::consts::PI;

use super::Coefficients;

/// Terms are taken until they are this small beside the strip's.
const ENOUGH: f64 = 1e-9;

pub(super) fn coefficients(ratio: f64, nu: f64) -> Coefficients {
    // Shares of q b^4 / D and of q b^2.
    let mut deflection = 5.0 / 384.0;
    let mut moment = 1.0 / 8.0;
    let mut sign = 1.0;
    for m in (1..).step_by(2).map(f64::from) {
        let half = m * PI * ratio / 2.0;
        let [a, b] = [(2.0 + half * half.tanh()) / (2.0 * half.cosh()), 0.5 / half.cosh()];
        deflection -= 4.0 / PI.powi(5) * sign * a / m.powi(5);
        moment -= 4.0 / PI.powi(3) * sign * (a * (1.0 - nu) + 2.0 * nu * b) / m.powi(3);
        sign = -sign;
        // Also false of what is no number, so that no ratio keeps it going for ever.
        let more = a > ENOUGH;
        if !more {
            break;
        }
    }
    Coefficients {
        alpha: 12.0 * (1.0 - nu * nu) * deflection,
        beta: 6.0 * moment,
    }
}
