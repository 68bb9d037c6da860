//! The ratios of a gearbox as a person writes them: `3.59, 2.09, 1.38, 1, 0.83`.

/// The most gears.
const MOST: usize = 12;

/// Reads the ratios, first gear first.
///
/// # Errors
///
/// What is wrong, and how to mend it.
pub(crate) fn read(text: &str) -> Result<Vec<f64>, (String, String)> {
    let refuse = |problem: String| {
        let mend = "write turns of the motor for one of the propshaft, first gear first: 3.59, 2.09, 1.38, 1, 0.83; \
                    1 where the motor drives the propshaft straight";
        Err((problem, mend.to_owned()))
    };
    let ratios: Option<Vec<f64>> = text
        .split([';', ' '])
        .map(|part| part.trim_end_matches(','))
        .filter(|part| !part.is_empty())
        .map(|part| part.parse().ok().filter(|ratio| (0.2..=20.0).contains(ratio)))
        .collect();
    match ratios {
        None => refuse(format!("{text:?} is not a list of ratios from 0.2 to 20")),
        Some(ratios) if ratios.is_empty() => refuse("it takes one ratio at least".to_owned()),
        Some(ratios) if ratios.len() > MOST => refuse(format!("{} gears are too many; at most {MOST}", ratios.len())),
        Some(ratios) if ratios.windows(2).any(|pair| pair[0] <= pair[1]) => {
            refuse("each gear has to be longer than the one before: a smaller ratio".to_owned())
        }
        Some(ratios) => Ok(ratios),
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case("3.59, 2.09, 1", vec![3.59, 2.09, 1.0])]
    #[case("3.59 2.09;1", vec![3.59, 2.09, 1.0])]
    #[case("1", vec![1.0])]
    fn reads_ratios(#[case] text: &str, #[case] ratios: Vec<f64>) {
        assert_eq!(read(text), Ok(ratios));
    }

    #[rstest]
    #[case("")]
    #[case("0")]
    #[case("1, 2")]
    #[case("5,1")]
    #[case("3, 3")]
    #[case("359")]
    #[case("NaN")]
    #[case("first")]
    #[case("9 8 7 6 5 4 3 2 1 0.9 0.8 0.7 0.6")]
    fn refuses_what_is_none(#[case] text: &str) {
        assert!(read(text).is_err());
    }
}
