//! A coast-down as a person writes it: `A, B, C` with the force's unit.

use truck::road::Resistance;

/// Kilometres an hour in a metre a second.
const KMH_PER_MPS: f64 = 3.6;

/// Reads `38 lbf, 0.25, 0.0224` (pounds of force, for each mph, for each mph squared) or `170 N, 1.1, 0.042` (newtons,
/// for each km/h, for each km/h squared).
///
/// # Errors
///
/// What is wrong, and how to mend it.
pub(crate) fn read(text: &str) -> Result<Resistance, (String, String)> {
    let mend = || {
        "write A, B and C of A + B v + C v2 with the unit behind A: 38 lbf, 0.25, 0.0224 with v in mph, or \
         170 N, 1.1, 0.042 with v in km/h"
            .to_owned()
    };
    let refuse = |problem: String| Err((problem, mend()));
    let lower = text.trim().to_ascii_lowercase();
    let is_us = lower.contains("lbf");
    let bare = lower.replace("lbf", " ").replace('n', " ");
    let parts: Option<Vec<f64>> = bare
        .split(',')
        .map(|part| part.trim().parse().ok().filter(|n: &f64| n.is_finite()))
        .collect();
    let Some(&[a, b, c]) = parts.as_deref() else {
        return refuse(format!("{text:?} is not three numbers with commas between"));
    };
    if !is_us && !lower.contains('n') {
        return refuse(format!("{text:?} has no unit of force"));
    }
    if a < 0.0 || c < 0.0 {
        return refuse("A and C may not be below zero".to_owned());
    }
    let resistance = if is_us {
        Resistance::coastdown_us(a, b, c)
    } else {
        Resistance::Coastdown {
            a_n: a,
            b_n_per_mps: b * KMH_PER_MPS,
            c_n_per_mps2: c * KMH_PER_MPS * KMH_PER_MPS,
        }
    };
    // A slip such as a C for km/h with a lbf behind shows as a force that no truck has.
    match resistance {
        Resistance::Coastdown {
            a_n,
            b_n_per_mps,
            c_n_per_mps2,
        } if (50.0..20_000.0).contains(&(a_n + (b_n_per_mps + c_n_per_mps2 * AT_MPS) * AT_MPS)) => Ok(resistance),
        _ => refuse(
            "it holds back less than 50 N or more than 20 000 N at 25 m/s (56 mph), which no truck does".to_owned(),
        ),
    }
}

/// A usual road speed, metres a second.
const AT_MPS: f64 = 25.0;

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    /// 38 + 0.25 x 56 + 0.0224 x 56^2 = 122.2464 lbf; 170 + 1.1 x 90 + 0.042 x 8100 = 609.2 N.
    #[rstest]
    #[case("38 lbf, 0.25, 0.0224", 56.0 * 0.447_04, 122.246_4 * 4.448_221_615)]
    #[case("170 N, 1.1, 0.042", 25.0, 609.2)]
    #[case("40lbf,-0.1,0.03", 50.0 * 0.447_04, 110.0 * 4.448_221_615)]
    fn reads_a_coast_down(#[case] text: &str, #[case] mps: f64, #[case] newtons: f64) {
        let Ok(Resistance::Coastdown {
            a_n,
            b_n_per_mps,
            c_n_per_mps2,
        }) = read(text)
        else {
            panic!("{text} is a coast-down");
        };
        let found = a_n + b_n_per_mps * mps + c_n_per_mps2 * mps * mps;
        assert!((found - newtons).abs() < 1e-3, "{found} for {newtons}");
    }

    #[rstest]
    #[case("")]
    #[case("38, 0.25, 0.0224")]
    #[case("38 lbf, 0.25")]
    #[case("38 lbf, 0.25, 0.02, 1")]
    #[case("-38 lbf, 0.25, 0.0224")]
    #[case("38 lbf, 0.25, 22")]
    #[case("a lbf, b, c")]
    #[case("38 lbf, inf, 0.0224")]
    fn refuses_what_is_none(#[case] text: &str) {
        assert!(read(text).is_err());
    }
}
