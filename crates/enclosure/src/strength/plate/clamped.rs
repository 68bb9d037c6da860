//! A panel held fast at its four edges: the simply supported one with moments along its edges that turn them back.
//!
//! Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, chapter 6: with the sides `a` and `b` and edge
//! moments `E_m` along the long edges, `F_m` along the short ones (cosine series, odd `m`), no slope at either edge
//! gives two sets of equations that are solved by turns. What is left to mend falls to about a third from turn to turn.

use std::f64::consts::PI;

use super::Coefficients;

/// Terms of each series, and turns.
const TERMS: usize = 14;
const TURNS: usize = 16;

/// Beyond this ratio the middle does not feel the short edges: what they do dies out as `exp(-4.2 x / b)`, 3e-5 here.
/// The series for the long edge, on the other hand, would want ever more terms.
const LONGEST: f64 = 5.0;

type Series = [f64; TERMS];

/// `1, 3, 5, ...`
fn odd() -> Series {
    let mut next = -1.0;
    [(); TERMS].map(|()| {
        next += 2.0;
        next
    })
}

pub(super) fn coefficients(ratio: f64, nu: f64) -> Coefficients {
    let ratio = ratio.min(LONGEST);
    let [long, short] = edge_moments(ratio);
    let deflection =
        strip_less_short_edges(ratio) + ratio * ratio * given_back(&long, ratio.recip()) + given_back(&short, ratio);
    Coefficients {
        alpha: 12.0 * (1.0 - nu * nu) * deflection,
        beta: -6.0 * at_middle(&long),
    }
}

/// Moments along the long and the short edges, as shares of `q b^2`.
fn edge_moments(ratio: f64) -> [Series; 2] {
    let odd = odd();
    let squared = ratio * ratio;
    // Slope that term `n` of the short edges' moments leaves at the long edges, in their term `m`; the other way round
    // it is the transposed times the ratio squared.
    let coupling = odd.map(|m| odd.map(|n| 8.0 * m * n * ratio / (PI * (squared * n * n + m * m).powi(2))));
    let long_edge = odd.map(|m| Own::new(m, ratio.recip(), squared));
    let short_edge = odd.map(|m| Own::new(m, ratio, 1.0));
    let [mut long, mut short] = [[0.0; TERMS]; 2];
    for _ in 0..TURNS {
        for m in 0..TERMS {
            let from_short: f64 = (0..TERMS).map(|n| coupling[m][n] * short[n]).sum();
            long[m] = long_edge[m].moment(from_short);
        }
        for n in 0..TERMS {
            let from_long: f64 = (0..TERMS).map(|m| coupling[m][n] * long[m]).sum();
            short[n] = short_edge[n].moment(squared * from_long);
        }
    }
    [long, short]
}

/// What one term of an edge does to its own slope.
struct Own {
    m: f64,
    /// Slope by the load.
    by_load: f64,
    /// Slope by a moment of 1.
    by_moment: f64,
}

impl Own {
    /// Term `m` of an edge whose plate reaches `reach` times its length away from it; `squared`: its length squared.
    fn new(m: f64, reach: f64, squared: f64) -> Self {
        let half = m * PI * reach / 2.0;
        let fading = half / half.cosh().powi(2);
        Self {
            m,
            by_load: 4.0 * squared / (PI.powi(3) * m.powi(4)) * (fading - half.tanh()),
            by_moment: half.tanh() + fading,
        }
    }

    /// The moment that leaves no slope.
    fn moment(&self, from_other_edges: f64) -> f64 {
        self.m * (self.by_load - from_other_edges) / self.by_moment
    }
}

/// The signs of a cosine series of odd terms in the middle: `+ - + -`.
fn signs() -> impl Iterator<Item = f64> {
    [1.0, -1.0].into_iter().cycle()
}

/// The sum of a series in the middle of its edge.
///
/// The terms change sign and fall slowly, so the last is taken by half: the mean of the last two sums.
fn at_middle(moments: &Series) -> f64 {
    let terms = moments.iter().zip(signs()).map(|(moment, sign)| moment * sign);
    let last = moments[TERMS - 1] * if TERMS.is_multiple_of(2) { -1.0 } else { 1.0 };
    terms.sum::<f64>() - last / 2.0
}

/// How far edge moments lift the middle of a panel that reaches `reach` times the edge's length away from it.
fn given_back(moments: &Series, reach: f64) -> f64 {
    let term = |((m, moment), sign): ((f64, &f64), f64)| {
        let half = m * PI * reach / 2.0;
        sign * moment / (m * m) * half * half.tanh() / half.cosh()
    };
    odd().into_iter().zip(moments).zip(signs()).map(term).sum::<f64>() / (2.0 * PI * PI)
}

/// Deflection of the simply supported panel, as a share of `q b^4 / D`.
fn strip_less_short_edges(ratio: f64) -> f64 {
    super::simple::coefficients(ratio, 0.0).alpha / 12.0
}
