//! Peak sun hours as a person has them: twelve, January first, or two, of the month with the most sun and of that with the
//! least.

/// What was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum SunHours {
    /// Of each month, January first.
    Months([f64; 12]),
    /// Of the best month and of the worst.
    Extremes([f64; 2]),
}

/// No place has more than the sun outside the air gives at midsummer.
const MOST: f64 = 12.0;

/// Reads them.
///
/// # Errors
///
/// What is wrong, and how to mend it.
pub(crate) fn read(text: &str) -> Result<SunHours, (String, String)> {
    let refuse = |problem: String| {
        let mend =
            "write the summer's and the winter's peak sun hours of a day, 5.8, 2.1, or twelve of them, January first";
        Err((problem, mend.to_owned()))
    };
    let hours: Option<Vec<f64>> = text
        .split([';', ' '])
        .map(|part| part.trim_end_matches(','))
        .filter(|part| !part.is_empty())
        .map(|part| part.parse().ok().filter(|hours| (0.0..=MOST).contains(hours)))
        .collect();
    let Some(hours) = hours else {
        return refuse(format!("{text:?} is not a list of hours from 0 to {MOST}"));
    };
    match (<[f64; 12]>::try_from(hours.as_slice()), hours.as_slice()) {
        (Ok(months), _) => Ok(SunHours::Months(months)),
        (_, [summer, winter]) if summer < winter => refuse(format!(
            "summer has {summer} hours and winter {winter}: the summer's come first"
        )),
        (_, [summer, winter]) => Ok(SunHours::Extremes([*summer, *winter])),
        _ => refuse(format!("{} figures: it takes two or twelve", hours.len())),
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[test]
    fn two_and_twelve_are_read() {
        assert_eq!(read("5.8, 2.1"), Ok(SunHours::Extremes([5.8, 2.1])));
        let months = [1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 6.0, 5.0, 4.0, 3.0, 2.0, 1.0];
        assert_eq!(read("1, 2, 3, 4, 5, 6, 6, 5, 4, 3, 2, 1"), Ok(SunHours::Months(months)));
    }

    #[rstest]
    #[case("")]
    #[case("4")]
    #[case("1, 2, 3")]
    #[case("2.1, 5.8")]
    #[case("13, 1")]
    #[case("-1, -2")]
    #[case("sunny")]
    fn refuses_what_is_none(#[case] text: &str) {
        assert!(read(text).is_err());
    }
}
