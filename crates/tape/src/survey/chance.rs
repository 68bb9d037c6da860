//! Limits of the tests that a survey is put to.
//!
//! Source: the chi-square distribution is the regularised incomplete gamma function `P(k/2, x/2)`, by its series and
//! its continued fraction (Abramowitz and Stegun 6.5.29 and 6.5.31; known by: memory). The normal distribution
//! follows, its square being chi-square of one degree of freedom. W. Baarda, A testing procedure for use in geodetic
//! networks (1968), for testing each standardised misfit; known by: memory.

/// The share of noise that is called suspect by mistake, reading by reading.
pub const FALSE_ALARM: f64 = 0.001;

/// A standardised residual above it is suspect: two-sided, [`FALSE_ALARM`].
pub const SUSPECT: f64 = 3.290_526_731_491_91;

/// How many `sigma / √redundancy` a slip must be to be caught 8 times in 10: [`SUSPECT`] and 0.84162, the normal
/// quantile of 0.8.
pub const CAUGHT: f64 = 4.132_147_965_064_81;

/// Returns the chance that a standard normal is at most `x`.
pub fn normal_below(x: f64) -> f64 {
    0.5 * libm::erfc(-x * std::f64::consts::FRAC_1_SQRT_2)
}

/// Returns the chance that a sum of `freedoms` squares of standard normals is at most `x`.
pub fn chi_square_below(x: f64, freedoms: usize) -> f64 {
    if x <= 0.0 || freedoms == 0 {
        return if x < 0.0 { 0.0 } else { f64::from(freedoms == 0) };
    }
    let (half, x) = (count(freedoms) / 2.0, x / 2.0);
    let front = (half * x.ln() - x - ln_gamma_half(freedoms)).exp();
    if x < half + 1.0 {
        front * series(half, x)
    } else {
        1.0 - front * fraction(half, x)
    }
}

/// Returns the limit that a sum of `freedoms` squares of standard normals stays below with chance `below`, which lies
/// between 0 and 1.
pub fn chi_square_limit(below: f64, freedoms: usize) -> f64 {
    let (mut low, mut high) = (0.0, count(freedoms).max(1.0));
    while chi_square_below(high, freedoms) < below {
        (low, high) = (high, high * 2.0);
    }
    // The secant from both ends would stall where the curve is flat; halving is steady and fast enough.
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if chi_square_below(middle, freedoms) < below {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// Returns the limit that a standard normal exceeds, in one direction or the other, with chance `outside`.
pub fn two_sided_limit(outside: f64) -> f64 {
    chi_square_limit(1.0 - outside, 1).sqrt()
}

/// Returns how many `sigma / √redundancy` a slip must be to be flagged with chance `power` by a two-sided test with
/// false alarms `outside`; `power` is above one half.
pub fn detectable(outside: f64, power: f64) -> f64 {
    // Above one half, the one-sided quantile is the two-sided limit of twice the rest.
    two_sided_limit(outside) + two_sided_limit(2.0 * (1.0 - power))
}

#[expect(clippy::cast_precision_loss, reason = "counts of readings are small")]
fn count(n: usize) -> f64 {
    n as f64
}

/// Logarithm of the gamma function at `twice / 2`, by its recurrence from Γ(1/2) = √π or Γ(1) = 1.
fn ln_gamma_half(twice: usize) -> f64 {
    let start = if twice.is_multiple_of(2) {
        0.0
    } else {
        std::f64::consts::PI.sqrt().ln()
    };
    let first = if twice.is_multiple_of(2) { 2 } else { 1 };
    start + (first..twice).step_by(2).map(|n| (count(n) / 2.0).ln()).sum::<f64>()
}

fn series(half: f64, x: f64) -> f64 {
    let (mut term, mut sum, mut n) = (1.0 / half, 1.0 / half, half);
    while term > sum * 1e-17 {
        n += 1.0;
        term *= x / n;
        sum += term;
    }
    sum
}

/// By the modified Lentz rule.
fn fraction(half: f64, x: f64) -> f64 {
    let mut below = x + 1.0 - half;
    let (mut ratio, mut inverse) = (1e300, 1.0 / below);
    let mut found = inverse;
    for n in 1..1000 {
        let above = -count(n) * (count(n) - half);
        below += 2.0;
        inverse = 1.0 / (above * inverse + below);
        ratio = below + above / ratio;
        let by = ratio * inverse;
        found *= by;
        if (by - 1.0).abs() < 1e-16 {
            break;
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    // Values of printed tables of the chi-square distribution; two degrees are 1 - exp(-x/2).
    #[rstest]
    #[case(0.95, 1, 3.841)]
    #[case(0.05, 10, 3.940)]
    #[case(0.975, 10, 20.483)]
    #[case(0.025, 10, 3.247)]
    #[case(0.95, 30, 43.773)]
    #[case(0.99, 5, 15.086)]
    fn limits_are_those_of_tables(#[case] below: f64, #[case] freedoms: usize, #[case] expected: f64) {
        let limit = chi_square_limit(below, freedoms);
        assert!((limit - expected).abs() < 6e-4, "{limit}");
    }

    #[test]
    fn two_degrees_are_an_exponential() {
        for x in [0.01, 0.5, 1.9, 2.1, 5.0, 20.0] {
            let exact = 1.0 - f64::exp(-x / 2.0);
            assert!((chi_square_below(x, 2) - exact).abs() < 1e-14, "{x}");
        }
        assert!(chi_square_below(0.0, 3).abs() < 1e-300);
    }

    #[test]
    fn constants_are_what_they_say() {
        assert!((two_sided_limit(FALSE_ALARM) - SUSPECT).abs() < 1e-9);
        assert!((detectable(FALSE_ALARM, 0.8) - CAUGHT).abs() < 1e-9);
    }
}
