//! Spreading against a linear program: with the same things kept apart the same way, no places leave more.

mod arranged;

use std::collections::BTreeMap;

use arranged::{Arranged, Edge, Mover, Rule, arranged, least, rules};
use geometry::Axis;
use geometry::fit::check;
use geometry::spread::{Move, spread};
use microlp::{ComparisonOp, OptimizationDirection, Problem, Variable};

const NM_PER_MM: f64 = 1e6;

#[expect(
    clippy::cast_precision_loss,
    reason = "lengths in a cavity are far below 2^53 nanometres"
)]
fn mm(nm: i64) -> f64 {
    nm as f64 / NM_PER_MM
}

/// The largest over in millimetres, all three axes in one program.
fn most_over(rules: &[Rule]) -> f64 {
    let mut program = Problem::new(OptimizationDirection::Maximize);
    let everywhere = (f64::NEG_INFINITY, f64::INFINITY);
    let over = program.add_var(1.0, everywhere);
    let mut places: BTreeMap<(Axis, Mover), Variable> = BTreeMap::new();
    for rule in rules {
        let mut terms = Vec::new();
        for (Edge { mover, .. }, sign) in [(rule.to, 1.0), (rule.from, -1.0)] {
            if mover != Mover::Ground {
                let place = places
                    .entry((rule.axis, mover))
                    .or_insert_with(|| program.add_var(0.0, everywhere));
                terms.push((*place, sign));
            }
        }
        if terms.len() == 2 && terms[0].0 == terms[1].0 {
            terms.clear();
        }
        if rule.counts {
            terms.push((over, -1.0));
        }
        let apart = rule.asked + rule.from.more - rule.to.more;
        program.add_constraint(&terms, ComparisonOp::Ge, mm(apart));
    }
    let solution = program.solve().expect("walls on all sides make it bounded");
    solution
        .into_solution()
        .expect("a linear program is solved at once")
        .objective()
}

#[test]
fn no_places_leave_more_than_spreading_does() {
    let (mut modules, mut grew, mut mended) = (0, 0, 0);
    for seed in 1..=120 {
        let Arranged { request, layout, how } = arranged(seed);
        let spread = spread(&request, &layout, how).unwrap();
        if layout.placements.is_empty() {
            assert_eq!(spread.chain, None);
            continue;
        }
        // What it says of itself, from the definition.
        assert_eq!(Some(spread.before), least(&request, &layout, how), "seed {seed}");
        assert_eq!(Some(spread.least), least(&request, &spread.layout, how), "seed {seed}");
        assert!(spread.least >= spread.before, "seed {seed}");
        if !spread.least.is_negative() && (how == Move::Everything || request.boxes.is_none()) {
            assert_eq!(check(&request, &spread.layout), Ok(()), "seed {seed}");
        }
        // The program's own view of the ways things are kept apart at the end.
        let (rules, _) = rules(&request, &spread.layout, how);
        let most = most_over(&rules);
        let least = mm(spread.least.nm());
        assert!(
            least <= most + 1e-6 * most.abs().max(1.0) && most - least < 1.0 / NM_PER_MM + 1e-6 * most.abs(),
            "seed {seed}: {least} mm by spreading, {most} mm by the program"
        );
        modules += layout.placements.len();
        grew += usize::from(spread.least > spread.before);
        mended += usize::from(spread.before.is_negative() && !spread.least.is_negative());
    }
    assert!(modules > 1200 && grew > 80 && mended > 5, "{modules} {grew} {mended}");
}
