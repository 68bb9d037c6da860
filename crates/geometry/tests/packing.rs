//! Bare layouts against the outside check values in `tests/cases/packing.json`.

mod common;

use common::{packing_cases, small_budget};
use geometry::fit::{Unwatched, check, fit};

/// Instances whose best known count is reached with the small budget of the tests.
const REACHED_AT_LEAST: usize = 64;

#[test]
fn every_case_is_laid_out_by_the_rules_between_best_known_and_bound() {
    let cases = packing_cases();
    let mut reached = 0;
    let mut lines = Vec::new();
    for case in &cases {
        let answer = fit(&case.request, small_budget(), &mut Unwatched).unwrap();
        for layout in &answer.layouts {
            assert_eq!(check(&case.request, layout), Ok(()), "{}", case.name);
        }
        let count = answer.layouts[0].count;
        assert!(
            count <= case.upper_bound,
            "{}: {count} is above the known bound {}",
            case.name,
            case.upper_bound
        );
        assert!(
            answer.upper_bound >= case.best_known,
            "{}: bound {} is below {} which is known to fit",
            case.name,
            answer.upper_bound,
            case.best_known
        );
        assert!(count <= answer.upper_bound, "{}", case.name);
        assert_eq!(answer.proved, count == answer.upper_bound, "{}", case.name);
        if case.group == "definition" {
            assert_eq!(count, case.best_known, "{}", case.name);
        }
        if count >= case.best_known {
            reached += 1;
        } else {
            lines.push(format!(
                "{}: {count} of {}, at most {}",
                case.name, case.best_known, answer.upper_bound
            ));
        }
    }
    println!("{reached} of {} reached; short are\n{}", cases.len(), lines.join("\n"));
    assert!(reached >= REACHED_AT_LEAST, "only {reached} of {} reached", cases.len());
}
