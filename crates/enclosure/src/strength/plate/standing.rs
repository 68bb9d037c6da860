//! A panel that rests on its four edges, under what stands on parts of it: Navier's double series.

use std::f64::consts::PI;

use tape::Length;

use super::{Panel, PanelError};
use crate::material::Material;
use crate::strength::Utilisation;

/// Part of a panel that something stands on, its weight spread evenly over it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Patch {
    /// From where to where along either side of the panel, millimetres from one corner of it; what lies beyond the panel
    /// bears elsewhere and is to be cut off before.
    pub over_mm: [[f64; 2]; 2],
    /// Newtons for each square millimetre.
    pub pressure_mpa: f64,
}

impl Patch {
    /// The part of it within a panel that lies from `from_mm` to `to_mm`, told from the corner of that; `None` of one beside it.
    pub fn within(&self, from_mm: [f64; 2], to_mm: [f64; 2]) -> Option<Self> {
        let over_mm =
            [0, 1].map(|axis| self.over_mm[axis].map(|at| at.clamp(from_mm[axis], to_mm[axis]) - from_mm[axis]));
        let is_some = over_mm.iter().all(|[lo, hi]| lo < hi);
        is_some.then_some(Self { over_mm, ..*self })
    }

    /// The whole force in newtons.
    pub fn force_n(&self) -> f64 {
        let [along, across] = self.over_mm.map(|[lo, hi]| hi - lo);
        self.pressure_mpa * along * across
    }
}

/// What patches do to a panel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stood {
    /// How far it gives where it gives most, millimetres.
    pub deflection_mm: f64,
    /// The largest stress of bending, megapascals.
    pub stress_mpa: f64,
}

/// Terms taken along the shorter side: the stress of a panel covered all over is then 0.05 % off that of Levy's series.
const TERMS: f64 = 16.0;
/// As many more along the longer side as it is longer, but no more than this.
const MOST_TERMS: f64 = 96.0;
/// The panel is looked at where lines that part each side into as many meet.
const LINES: u32 = 10;

/// What patches do to a panel of these sides that rests on all four edges.
///
/// `w = sum p_mn sin sin / (pi^4 D ((m/a)^2 + (n/b)^2)^2)` with
/// `p_mn = 4 q / (pi^2 m n) (cos(m pi x1 / a) - cos(m pi x2 / a)) (cos(n pi y1 / b) - cos(n pi y2 / b))`, its moments from it
/// and `stress = 6 M / t^2`. Twist near the corners is left out.
///
/// - `sides`: in the order of [`Patch::over_mm`].
/// - `e_mpa`, `nu`: modulus of elasticity and Poisson's ratio.
///
/// Good to 0.5 % where patches are no smaller than a quarter of the shorter side. Takes some ten microseconds.
///
/// Source: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells: Navier's solution, uniform load over a rectangle.
///
/// # Errors
///
/// [`PanelError`] when a side or the thickness is not above zero.
pub fn under(
    sides: [Length; 2],
    thickness: Length,
    patches: &[Patch],
    [e_mpa, nu]: [f64; 2],
) -> Result<Stood, PanelError> {
    Panel::new(sides, thickness, super::Edges::Simple)?;
    let sides = sides.map(Length::as_mm);
    let t = thickness.as_mm();
    let terms = Terms::of(sides, patches);
    let stiffness = e_mpa * t.powi(3) / 12.0 / (1.0 - nu * nu);
    let moments =
        terms.at_most(|along, across| [along + nu * across, nu * along + across].map(|part| part / PI.powi(2)));
    let gives = terms.at_most(|_, _| [1.0 / (PI.powi(4) * stiffness)]);
    Ok(Stood {
        deflection_mm: gives,
        stress_mpa: 6.0 * moments / t.powi(2),
    })
}

impl Panel {
    /// What patches do to a panel that rests on its edges, against the yield strength of its material and half its thickness:
    /// as [`Panel::utilisations`], of a load that is not spread evenly.
    ///
    /// # Errors
    ///
    /// [`PanelError`] when a side or the thickness is not above zero.
    pub fn stood_on(
        what: &str,
        sides: [Length; 2],
        thickness: Length,
        patches: &[Patch],
        material: Material,
    ) -> Result<[Utilisation; 2], PanelError> {
        let panel = Self::new(sides, thickness, super::Edges::Simple)?;
        let figures = material.stiffness();
        let stood = under(sides, thickness, patches, [figures.e_mpa, figures.nu])?;
        let formulas = [
            "6 M / t^2 by Navier's series against yield strength",
            "Navier's series against t / 2",
        ];
        Ok(panel.against(what, [stood.stress_mpa, stood.deflection_mm], formulas, material))
    }
}

/// Cosines or sines of 0, 1, 2 and so on times an angle, from the first two: `f(n + 1) = 2 cos f(n) - f(n - 1)`. A floor has
/// thousands of them, and each by itself would take as long as all the rest.
fn multiples(cos: f64, first: [f64; 2]) -> impl Iterator<Item = f64> {
    std::iter::successors(Some(first), move |[last, this]| Some([*this, 2.0 * cos * this - last])).map(|[last, _]| last)
}

/// Adds a part that many times to a sum.
fn add<const N: usize>(sum: &mut [f64; N], part: &[f64; N], times: f64) {
    for (sum, part) in sum.iter_mut().zip(part) {
        *sum += times * part;
    }
}

/// The terms of the series: of the load over `((m/a)^2 + (n/b)^2)^2`.
struct Terms {
    /// `m / a` squared, and `n / b` squared.
    squares: [Vec<f64>; 2],
    /// By m, then by n.
    loads: Vec<f64>,
}

impl Terms {
    fn of(sides: [f64; 2], patches: &[Patch]) -> Self {
        let short = sides[0].min(sides[1]);
        let counts = sides.map(|side| {
            (1..)
                .map(f64::from)
                .take_while(move |m| *m <= (TERMS * side / short).min(MOST_TERMS))
        });
        let orders = counts.map(Iterator::collect::<Vec<f64>>);
        let squares = [0, 1].map(|axis| orders[axis].iter().map(|m| (m / sides[axis]).powi(2)).collect());
        let mut loads = vec![0.0; orders[0].len() * orders[1].len()];
        for patch in patches {
            let [along, across] = [0, 1].map(|axis| {
                let [lo, hi] = patch.over_mm[axis].map(|at| PI * at / sides[axis]);
                let both = multiples(lo.cos(), [1.0, lo.cos()]).zip(multiples(hi.cos(), [1.0, hi.cos()]));
                let part = |(m, (lo, hi)): (&f64, (f64, f64))| (lo - hi) / m;
                orders[axis].iter().zip(both.skip(1)).map(part).collect::<Vec<f64>>()
            });
            let pressure = 4.0 * patch.pressure_mpa / PI.powi(2);
            for (row, m) in loads.chunks_mut(across.len()).zip(&along) {
                row.iter_mut()
                    .zip(&across)
                    .for_each(|(load, n)| *load += pressure * m * n);
            }
        }
        let mut terms = Self { squares, loads };
        terms.over_squares();
        terms
    }

    fn over_squares(&mut self) {
        let [along, across] = &self.squares;
        for (row, m) in self.loads.chunks_mut(across.len()).zip(along) {
            row.iter_mut()
                .zip(across)
                .for_each(|(load, n)| *load /= (m + n).powi(2));
        }
    }

    /// The largest that a figure gets anywhere, of those that `weights` makes of `(m/a)^2` and `(n/b)^2`.
    fn at_most<const N: usize>(&self, weights: impl Fn(f64, f64) -> [f64; N]) -> f64 {
        let [along, across] = &self.squares;
        let weighed: Vec<[f64; N]> = along
            .iter()
            .flat_map(|&m| across.iter().map(move |&n| (m, n)))
            .zip(&self.loads)
            .map(|((m, n), load)| weights(m, n).map(|weight| weight * load))
            .collect();
        let shares = (1..LINES)
            .map(|line| f64::from(line) / f64::from(LINES))
            .collect::<Vec<f64>>();
        let first = self.highest(&weighed, [&shares, &shares]);
        // Once more round the highest, at a quarter of the pitch.
        let near = |at: f64| {
            (-3..=3)
                .map(|step| at + f64::from(step) / f64::from(4 * LINES))
                .collect::<Vec<f64>>()
        };
        let [x, y] = first.1;
        self.highest(&weighed, [&near(x), &near(y)]).0.max(0.0)
    }

    /// The highest of all places, told as shares of the sides, and where it is.
    fn highest<const N: usize>(&self, weighed: &[[f64; N]], places: [&[f64]; 2]) -> (f64, [f64; 2]) {
        let waves = [0, 1].map(|axis| {
            let terms = self.squares[axis].len();
            let wave = |&at: &f64| {
                let (sin, cos) = (PI * at).sin_cos();
                multiples(cos, [0.0, sin]).skip(1).take(terms).collect::<Vec<f64>>()
            };
            places[axis].iter().map(wave).collect::<Vec<Vec<f64>>>()
        });
        let rows = self.squares[1].len();
        let mut best = (f64::NEG_INFINITY, [0.5; 2]);
        for (along, &x) in waves[0].iter().zip(places[0]) {
            // Summed over m first, so that each place across costs the terms across alone.
            let mut across = vec![[0.0; N]; rows];
            for (row, wave) in weighed.chunks(rows).zip(along) {
                for (sum, part) in across.iter_mut().zip(row) {
                    add(sum, part, *wave);
                }
            }
            for (waves, &y) in waves[1].iter().zip(places[1]) {
                let mut sum = [0.0; N];
                for (part, wave) in across.iter().zip(waves) {
                    add(&mut sum, part, *wave);
                }
                let high = sum.into_iter().fold(f64::NEG_INFINITY, f64::max);
                if high > best.0 {
                    best = (high, [x, y]);
                }
            }
        }
        best
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rstest::rstest;

    use super::*;
    use crate::strength::plate::Edges;

    const STEEL: [f64; 2] = [205_000.0, 0.3];

    fn patch(over_mm: [[f64; 2]; 2], force_n: f64) -> Patch {
        let [along, across] = over_mm.map(|[lo, hi]| hi - lo);
        Patch {
            over_mm,
            pressure_mpa: force_n / along / across,
        }
    }

    fn on(long: i64, short: i64, patches: &[Patch]) -> Stood {
        under([Length::mm(long), Length::mm(short)], Length::mm(3), patches, STEEL).unwrap()
    }

    fn near(got: f64, wanted: f64, share: f64) {
        assert!((got - wanted).abs() < share * wanted, "got {got}, wanted {wanted}");
    }

    /// Covered all over it is the panel of the other series.
    #[rstest]
    #[case(400, 400)]
    #[case(800, 400)]
    #[case(330, 1300)]
    #[case(2400, 300)]
    fn a_panel_covered_all_over_is_that_of_the_tables(#[case] along: i64, #[case] across: i64) {
        let all = [0.0, 1.0];
        let over = [along, across].map(|side| all.map(|share| share * Length::mm(side).as_mm()));
        let stood = on(along, across, &[patch(over, 500.0)]);
        let panel = Panel::new([Length::mm(along), Length::mm(across)], Length::mm(3), Edges::Simple).unwrap();
        let pressure = 500.0 / (Length::mm(along).as_mm() * Length::mm(across).as_mm());
        let bent = panel.under(pressure, STEEL[0], STEEL[1]);
        near(stood.stress_mpa, bent.stress_mpa, 2e-3);
        near(stood.deflection_mm, bent.deflection_mm, 1e-3);
    }

    /// A very long panel, loaded for 700 of its 2000 mm: there it is a strip of 300 mm under `q = 980.665 / 210 000`, so
    /// `q b^2 / 8 / (t^2 / 6)` = 35.02 N/mm2 at the most; with 60 terms the series has 32.04. Spread over the whole panel it were 12.25.
    #[test]
    fn half_a_floor_under_the_whole_load_is_stressed_as_one_covered_by_as_much_again() {
        let stood = on(2000, 300, &[patch([[0.0, 700.0], [0.0, 300.0]], 980.665)]);
        near(stood.stress_mpa, 32.04, 1e-3);
        near(stood.deflection_mm, 0.8718, 1e-3);
    }

    /// 980.665 N on 100 x 100 mm in the middle of 800 x 400: the table of a load on a small circle of the same area, radius
    /// 56.4 mm, gives 3 F / (2 pi t^2) ((1 + nu) ln(2 b / (pi r)) + beta) with beta 0.958: 156.4 N/mm2 by memory of it.
    #[test]
    fn a_small_patch_in_the_middle_is_near_the_table_of_a_round_one() {
        let stood = on(800, 400, &[patch([[350.0, 450.0], [150.0, 250.0]], 980.665)]);
        near(stood.stress_mpa, 156.4, 0.06);
    }

    #[test]
    fn what_lies_beside_a_span_does_not_load_it() {
        let whole = patch([[100.0, 300.0], [0.0, 200.0]], 60.0);
        let part = whole.within([200.0, 0.0], [400.0, 200.0]).unwrap();
        near(part.force_n(), 30.0, 1e-12);
        assert_eq!(part.over_mm, [[0.0, 100.0], [0.0, 200.0]]);
        assert_eq!(whole.within([300.0, 0.0], [400.0, 200.0]), None);
    }

    proptest! {
        /// Turned round, the panel is the same; with no less on it, it is stressed no less.
        #[test]
        fn turned_it_is_the_same_and_more_never_eases_it(x in 0.0..500.0_f64, y in 0.0..200.0_f64, f in 1.0..2e3_f64) {
            let one = patch([[x, x + 150.0], [y, y + 120.0]], f);
            let turned = Patch { over_mm: [one.over_mm[1], one.over_mm[0]], ..one };
            let [flat, upright] = [on(700, 350, &[one]), on(350, 700, &[turned])];
            prop_assert!((flat.stress_mpa - upright.stress_mpa).abs() < 1e-9 * flat.stress_mpa);
            let own = patch([[0.0, 700.0], [0.0, 350.0]], 70.0);
            prop_assert!(on(700, 350, &[one, own]).stress_mpa >= flat.stress_mpa);
        }
    }
}
