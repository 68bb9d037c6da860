//! Bolts that hold a stiff body, and a force that does not pull through their middle.

/// Three figures, along the length, the width and up.
pub type Three = [f64; 3];

/// The formula of [`shares_n`], as it goes beside a figure.
pub const FORMULA: &str = "each bolt F / n + (I^-1 M) x r, with M = the lever of the centre of mass x F about the middle of the \
     bolts and I = sum(r r - r (x) r); worst bolt Fv / Fv,Rd + Ft / (1.4 Ft,Rd) against 1";

/// The forces that bolts get from a stiff body that a force pulls at, in newtons, in the order of the bolts.
///
/// The body moves as one; every bolt gives alike in all directions, so bolt i gets `F / n + w x r_i` with
/// `w = I^-1 M`, `I = sum(|r|^2 - r r^T)`, `M = (at - middle) x F`. In one plane this is the elastic bolt group of steel
/// handbooks, its neutral axis through the middle of the bolts: tension `M y / sum y^2`, twist `M r / sum r^2`. That the
/// box bears on what it stands on, which helps, is left out.
///
/// - `bolts`, `at`: millimetres in one frame; `at` is where the force pulls.
/// - `force_n`: newtons.
///
/// `None` without bolts, and when they lie in one line or one place and the force turns the body about it: nothing
/// holds it then.
///
/// Source: statics of a stiff body on equal springs; elastic bolt groups as steel handbooks have them, by memory.
pub fn shares_n(bolts: &[Three], at: Three, force_n: Three) -> Option<Vec<Three>> {
    let count = u32::try_from(bolts.len()).ok().filter(|&count| count > 0)?;
    let middle = [0, 1, 2].map(|axis| bolts.iter().map(|bolt| bolt[axis]).sum::<f64>() / f64::from(count));
    let arms: Vec<Three> = bolts.iter().map(|bolt| less(*bolt, middle)).collect();
    let turn = turn(&arms, cross(less(at, middle), force_n))?;
    let even = force_n.map(|force| force / f64::from(count));
    Some(
        arms.iter()
            .map(|&arm| {
                let more = cross(turn, arm);
                [0, 1, 2].map(|axis| even[axis] + more[axis])
            })
            .collect(),
    )
}

/// `I^-1 M`; of bolts in a line, across it, when nothing turns the body about it.
fn turn(arms: &[Three], moment: Three) -> Option<Three> {
    let size = dot(moment, moment).sqrt();
    let spread: f64 = arms.iter().map(|arm| dot(*arm, *arm)).sum();
    if spread < TINY {
        return (size < TINY).then_some([0.0; 3]);
    }
    let entry = |row: usize, column: usize| {
        let products: f64 = arms.iter().map(|arm| arm[row] * arm[column]).sum();
        if row == column { spread - products } else { -products }
    };
    let rows = [0, 1, 2].map(|row| [0, 1, 2].map(|column| entry(row, column)));
    let [a, b, c] = rows;
    let whole = dot(a, cross(b, c));
    if whole > 1e-9 * spread.powi(3) {
        // Cramer's rule; the matrix is symmetric.
        return Some([
            dot(moment, cross(b, c)) / whole,
            dot(moment, cross(c, a)) / whole,
            dot(moment, cross(a, b)) / whole,
        ]);
    }
    let far = arms
        .iter()
        .copied()
        .max_by(|one, other| dot(*one, *one).total_cmp(&dot(*other, *other)))?;
    let about = dot(moment, far) / dot(far, far).sqrt();
    (about.abs() <= 1e-9 * size).then(|| moment.map(|part| part / spread))
}

/// Square millimetres, or newton millimetres, that are nothing.
const TINY: f64 = 1e-9;

fn less(one: Three, other: Three) -> Three {
    [0, 1, 2].map(|axis| one[axis] - other[axis])
}

fn dot(one: Three, other: Three) -> f64 {
    (0..3).map(|axis| one[axis] * other[axis]).sum()
}

fn cross(one: Three, other: Three) -> Three {
    [[1, 2], [2, 0], [0, 1]].map(|[next, last]| one[next] * other[last] - one[last] * other[next])
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn near(got: Three, wanted: Three) {
        for axis in 0..3 {
            assert!(
                (got[axis] - wanted[axis]).abs() < 1e-6,
                "got {got:?}, wanted {wanted:?}"
            );
        }
    }

    /// Four bolts at the corners of 600 x 400 mm. 6 kN forwards, 200 mm over their plane: 1.5 kN across each, and
    /// 6 kN x 200 mm / (4 x 300^2) x 300 = 1 kN along, up at the rear pair and down at the front pair.
    #[test]
    fn a_mass_over_the_plane_of_its_bolts_pulls_at_those_behind() {
        let bolts = [
            [-300.0, -200.0, 0.0],
            [-300.0, 200.0, 0.0],
            [300.0, -200.0, 0.0],
            [300.0, 200.0, 0.0],
        ];
        let shares = shares_n(&bolts, [0.0, 0.0, 200.0], [-6_000.0, 0.0, 0.0]).unwrap();
        near(shares[0], [-1_500.0, 0.0, -1_000.0]);
        near(shares[3], [-1_500.0, 0.0, 1_000.0]);
    }

    /// The same bolts, 6 kN forwards 100 mm to the right of their middle: twisted by 600 N m over
    /// 4 x (300^2 + 200^2) mm2.
    #[test]
    fn a_mass_beside_the_middle_twists_the_bolts() {
        let bolts = [
            [-300.0, -200.0, 0.0],
            [-300.0, 200.0, 0.0],
            [300.0, -200.0, 0.0],
            [300.0, 200.0, 0.0],
        ];
        let shares = shares_n(&bolts, [0.0, 100.0, 0.0], [-6_000.0, 0.0, 0.0]).unwrap();
        let turn = 600_000.0 / 520_000.0;
        near(shares[3], [-1_500.0 - turn * 200.0, turn * 300.0, 0.0]);
    }

    #[test]
    fn bolts_in_one_line_hold_no_turning_about_it() {
        let bolts = [[-300.0, 0.0, 0.0], [300.0, 0.0, 0.0]];
        assert_eq!(shares_n(&bolts, [0.0, 0.0, 100.0], [0.0, 1_000.0, 0.0]), None);
        let along = shares_n(&bolts, [0.0, 0.0, 100.0], [1_000.0, 0.0, 0.0]).unwrap();
        // 100 N m over two arms of 300 mm.
        near(along[0], [500.0, 0.0, 500.0 / 3.0]);
        assert_eq!(shares_n(&[], [0.0; 3], [1.0, 0.0, 0.0]), None);
        assert_eq!(
            shares_n(&[[0.0; 3]], [0.0, 0.0, 5.0], [0.0, 0.0, 7.0]),
            Some(vec![[0.0, 0.0, 7.0]])
        );
    }

    proptest! {
        /// What the bolts get is what pulls, and turns as much.
        #[test]
        fn forces_and_moments_balance(
            bolts in prop::collection::vec(prop::array::uniform3(-500.0..500.0_f64), 3..12),
            at in prop::array::uniform3(-500.0..500.0_f64),
            force in prop::array::uniform3(-1e4..1e4_f64),
        ) {
            let Some(shares) = shares_n(&bolts, at, force) else { return Ok(()) };
            let sum = |of: Vec<Three>| [0, 1, 2].map(|axis| of.iter().map(|one| one[axis]).sum::<f64>());
            let turned = bolts.iter().zip(&shares).map(|(&bolt, &share)| cross(bolt, share)).collect();
            let (all, turned, wanted) = (sum(shares), sum(turned), cross(at, force));
            for axis in 0..3 {
                prop_assert!((all[axis] - force[axis]).abs() < 1e-6);
                prop_assert!((turned[axis] - wanted[axis]).abs() < 1e-2, "{turned:?} {wanted:?}");
            }
        }
    }
}
