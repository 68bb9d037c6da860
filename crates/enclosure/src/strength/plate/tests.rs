use proptest::prelude::*;
use rstest::rstest;

use super::*;

fn near(got: f64, wanted: f64, share: f64) {
    assert!(
        (got - wanted).abs() <= share * wanted.abs(),
        "got {got}, wanted {wanted}"
    );
}

/// Navier's double series, summed without thought: what the quick series has to give.
fn navier(ratio: f64, nu: f64) -> Coefficients {
    use std::f64::consts::PI;
    let [mut deflection, mut moment] = [0.0; 2];
    for m in (1..400).step_by(2) {
        for n in (1..400).step_by(2) {
            let sign = if (m + n) % 4 == 2 { 1.0 } else { -1.0 };
            let [along, across] = [f64::from(m) / ratio, f64::from(n)].map(|waves| waves * waves);
            let term = sign * 16.0 / (PI.powi(6) * f64::from(m * n) * (along + across).powi(2));
            deflection += term;
            moment += term * PI * PI * (across + nu * along);
        }
    }
    Coefficients {
        alpha: 12.0 * (1.0 - nu * nu) * deflection,
        beta: 6.0 * moment,
    }
}

#[rstest]
fn simple_edges_agree_with_the_double_series(
    #[values(1.0, 1.3, 1.7, 2.0, 3.5)] ratio: f64,
    #[values(0.0, 0.3, 0.33)] nu: f64,
) {
    let [quick, slow] = [coefficients(Edges::Simple, ratio, nu), navier(ratio, nu)];
    near(quick.alpha, slow.alpha, 1e-6);
    near(quick.beta, slow.beta, 2e-4);
}

/// Shapes in each direction of [`ritz`].
const SHAPES: usize = 5;

/// Another way to a clamped panel: least energy of sums of `(1 - x^2)^2 x^(2i)` in each direction.
fn ritz(ratio: f64, nu: f64) -> Coefficients {
    let exponents = [0, 2, 4, 6, 8];
    let shape = |i: usize, x: f64| (1.0 - x * x).powi(2) * x.powi(exponents[i]);
    let bend = |i: usize, x: f64| {
        // Second derivative of x^p - 2 x^(p+2) + x^(p+4).
        let term = |p: i32| f64::from(p * (p - 1)) * if p < 2 { 0.0 } else { x.powi(p - 2) };
        let p = exponents[i];
        term(p) - 2.0 * term(p + 2) + term(p + 4)
    };
    let sum = |of: &dyn Fn(f64) -> f64| {
        let marks = 2_000;
        let step = 2.0 / f64::from(marks);
        (0..marks)
            .map(|k| of(-1.0 + (f64::from(k) + 0.5) * step) * step)
            .sum::<f64>()
    };
    let pairs = |of: &dyn Fn(usize, usize, f64) -> f64| {
        let mut table = [[0.0; SHAPES]; SHAPES];
        for (i, row) in table.iter_mut().enumerate() {
            for (k, entry) in row.iter_mut().enumerate() {
                *entry = sum(&|x| of(i, k, x));
            }
        }
        table
    };
    let bend_bend = pairs(&|i, k, x| bend(i, x) * bend(k, x));
    let bend_shape = pairs(&|i, k, x| bend(i, x) * shape(k, x));
    let shape_shape = pairs(&|i, k, x| shape(i, x) * shape(k, x));
    let [along, across] = [2.0 / ratio, 2.0].map(|scale: f64| scale * scale);
    let both: Vec<(usize, usize)> = (0..SHAPES).flat_map(|i| (0..SHAPES).map(move |j| (i, j))).collect();
    let stiffness = |(i, j): (usize, usize), (k, l): (usize, usize)| {
        bend_bend[i][k] * shape_shape[j][l] * along * along
            + (bend_shape[i][k] * bend_shape[l][j] + bend_shape[k][i] * bend_shape[j][l]) * along * across
            + shape_shape[i][k] * bend_bend[j][l] * across * across
    };
    let load = |i| sum(&|x| shape(i, x));
    let rows = both.iter().map(|&row| {
        let of_row = both.iter().map(|&column| stiffness(row, column));
        of_row.chain([load(row.0) * load(row.1)]).collect()
    });
    let parts = solved(rows.collect());
    // Only the first shape is not zero in the middle, where it is 1; each bends by 8 at the edge.
    Coefficients {
        alpha: 12.0 * (1.0 - nu * nu) * parts[0],
        beta: 6.0 * across * 8.0 * parts[..SHAPES].iter().sum::<f64>(),
    }
}

/// Solves equations, each with its right-hand side last, by elimination.
fn solved(mut rows: Vec<Vec<f64>>) -> Vec<f64> {
    let count = rows.len();
    for pivot in 0..count {
        let best = (pivot..count).max_by(|&a, &b| rows[a][pivot].abs().total_cmp(&rows[b][pivot].abs()));
        rows.swap(pivot, best.unwrap());
        let head: Vec<f64> = rows[pivot].iter().map(|entry| entry / rows[pivot][pivot]).collect();
        for row in &mut rows {
            let times = row[pivot];
            for (entry, of_head) in row.iter_mut().zip(&head) {
                *entry -= times * of_head;
            }
        }
        rows[pivot] = head;
    }
    rows.iter().map(|row| row[count]).collect()
}

#[rstest]
#[case(1.0)]
#[case(1.4)]
#[case(2.0)]
#[case(3.0)]
fn clamped_edges_agree_with_least_energy(#[case] ratio: f64) {
    let [series, energy] = [coefficients(Edges::Clamped, ratio, 0.3), ritz(ratio, 0.3)];
    near(series.alpha, energy.alpha, 1e-3);
    near(series.beta, energy.beta, 1e-2);
}

/// Against the same series taken much further, 60 terms and 20 turns: it has converged.
#[rstest]
#[case(1.0, 0.013_817, 0.308_003)]
#[case(1.2, 0.018_836, 0.383_387)]
#[case(2.0, 0.027_660, 0.497_196)]
#[case(3.0, 0.028_580, 0.502_659)]
#[case(5.0, 0.028_438, 0.499_994)]
fn few_terms_are_enough_for_clamped_edges(#[case] ratio: f64, #[case] alpha: f64, #[case] beta: f64) {
    let got = coefficients(Edges::Clamped, ratio, 0.3);
    near(got.alpha, alpha, 1e-4);
    near(got.beta, beta, 5e-4);
}

/// A panel far longer than wide is a strip of its stiffness: 5/384 and 1/8, or 1/384 and 1/12.
#[rstest]
#[case(Edges::Simple, 5.0 / 384.0, 1.0 / 8.0)]
#[case(Edges::Clamped, 1.0 / 384.0, 1.0 / 12.0)]
fn a_long_panel_is_a_strip(
    #[case] edges: Edges,
    #[case] deflection: f64,
    #[case] moment: f64,
    #[values(12.0, 1e6)] ratio: f64,
) {
    let got = coefficients(edges, ratio, 0.3);
    near(got.alpha, 12.0 * 0.91 * deflection, 3e-4);
    near(got.beta, 6.0 * moment, 5e-4);
}

#[rstest]
#[case::no_side([0, 400], 3, "side")]
#[case::below_zero([600, -1], 3, "side")]
#[case::no_thickness([600, 400], 0, "thickness")]
fn what_has_no_size_is_no_panel(#[case] sides: [i64; 2], #[case] t: i64, #[case] what: &str) {
    let refused = Panel::new(sides.map(Length::mm), Length::mm(t), Edges::Simple).unwrap_err();
    assert_eq!(refused.what, what);
    assert!(refused.to_string().ends_with(" mm; give one above zero"), "{refused}");
}

#[test]
fn the_linear_sum_holds_to_half_the_thickness() {
    let panel = Panel::new([Length::mm(300); 2], Length::mm(2), Edges::Simple).unwrap();
    let at = |pressure| panel.under(pressure, 69_000.0, 0.3);
    let per_mpa = at(1.0).deflection_mm;
    assert!(at(0.999 / per_mpa).small_deflection_valid);
    assert!(!at(1.001 / per_mpa).small_deflection_valid);
}

/// A clamped aluminium panel is told against what is left beside its weld.
#[test]
fn a_welded_edge_counts_with_its_weld() {
    let limit = |edges| {
        let panel = Panel::new([Length::mm(600), Length::mm(400)], Length::mm(4), edges).unwrap();
        let [stress, _] = panel.utilisations("floor", 0.002, Material::Aluminium6061);
        stress.limit
    };
    assert!(limit(Edges::Clamped) < limit(Edges::Simple) / 2.0);
}

proptest! {
    #[test]
    fn clamped_edges_hold_better_than_simple_ones(ratio in 1.0..20.0, nu in 0.0..0.5) {
        let [simple, clamped] = [Edges::Simple, Edges::Clamped].map(|edges| coefficients(edges, ratio, nu));
        prop_assert!(clamped.alpha < simple.alpha && clamped.alpha > 0.19 * simple.alpha);
        prop_assert!(clamped.beta > 0.0);
    }

    #[test]
    fn sides_in_either_order_are_one_panel(a in 50..2_000_i64, b in 50..2_000_i64) {
        let bent = |sides: [i64; 2]| {
            let panel = Panel::new(sides.map(Length::mm), Length::mm(3), Edges::Clamped).unwrap();
            panel.under(0.001, 205_000.0, 0.3)
        };
        prop_assert_eq!(bent([a, b]), bent([b, a]));
    }

    #[test]
    fn a_thicker_panel_gives_less(a in 50..2_000_i64, b in 50..2_000_i64, tenths in 5..100_i64) {
        let bent = |tenths| {
            let panel = Panel::new([a, b].map(Length::mm), Length::tenths_mm(tenths), Edges::Simple).unwrap();
            panel.under(0.001, 205_000.0, 0.3)
        };
        let [thin, thick] = [bent(tenths), bent(tenths + 1)];
        prop_assert!(thick.deflection_mm < thin.deflection_mm && thick.stress_mpa < thin.stress_mpa);
    }

    #[test]
    fn a_longer_panel_on_simple_edges_gives_more(ratio in 1.0..6.0, more in 0.01..1.0) {
        let [short, long] = [ratio, ratio + more].map(|ratio| coefficients(Edges::Simple, ratio, 0.3));
        prop_assert!(long.alpha > short.alpha && long.beta > short.beta);
    }
}

// 1 kN on a plate of 60 mm in the middle of 600 x 300 mm of 3 mm: 3000 / (2 pi 9) x (1.3 x ln(600 / (30 pi)) + 0.958) =
// 53.05 x (1.3 x 1.8509 + 0.958) = 178.5 MPa.
#[test]
fn a_pull_in_the_middle_is_as_worked_by_hand() {
    let panel = Panel::new([Length::mm(600), Length::mm(300)], Length::mm(3), Edges::Simple).unwrap();
    let stress = panel.pulled_stress_mpa(1_000.0, Length::mm(60), 0.3);
    assert!((stress - 178.5).abs() < 0.1, "{stress}");
    let square = Panel::new([Length::mm(300); 2], Length::mm(3), Edges::Simple).unwrap();
    let less = square.pulled_stress_mpa(1_000.0, Length::mm(60), 0.3);
    assert!((stress - less - 53.05 * (0.958 - 0.435)).abs() < 0.1, "{less}");
    // A wider plate spreads it.
    assert!(panel.pulled_stress_mpa(1_000.0, Length::mm(100), 0.3) < stress);
}
