//! The checks of entries, shared by all formulas.

use crate::TruckError;
use crate::error::Quantity;

/// Passes a finite figure.
pub(crate) fn finite(field: &str, given: f64) -> Result<f64, TruckError> {
    if given.is_finite() {
        Ok(given)
    } else {
        Err(TruckError::NotFinite {
            field: field.to_owned(),
            given,
        })
    }
}

/// Passes a finite figure above zero.
pub(crate) fn positive(field: &str, given: f64, mend: &'static str) -> Result<f64, TruckError> {
    above(field, given, 0.0, mend)
}

/// Passes a finite figure above `least`.
pub(crate) fn above(field: &str, given: f64, least: f64, mend: &'static str) -> Result<f64, TruckError> {
    finite(field, given)?;
    if given > least {
        Ok(given)
    } else {
        Err(TruckError::NotAbove {
            field: field.to_owned(),
            given,
            least,
            quantity: Quantity::Plain,
            mend,
        })
    }
}

/// Passes a figure within a range, its ends included.
pub(crate) fn within(field: &str, given: f64, [least, most]: [f64; 2], mend: &'static str) -> Result<f64, TruckError> {
    if (least..=most).contains(&given) {
        Ok(given)
    } else {
        Err(TruckError::Outside {
            field: field.to_owned(),
            given,
            least,
            most,
            quantity: Quantity::Plain,
            mend,
        })
    }
}

/// Passes a finite figure of zero or more.
pub(crate) fn not_negative(field: &str, given: f64, mend: &'static str) -> Result<f64, TruckError> {
    finite(field, given)?;
    within(field, given, [0.0, f64::INFINITY], mend)
}

/// Tells that the figures of a refusal are masses in kilograms.
pub(crate) fn in_kg(error: TruckError) -> TruckError {
    error.of(Quantity::Mass)
}

/// Tells that they are lengths in metres.
pub(crate) fn in_m(error: TruckError) -> TruckError {
    error.of(Quantity::Length)
}

/// Tells that they are rates of springs in newtons a metre.
pub(crate) fn in_n_per_m(error: TruckError) -> TruckError {
    error.of(Quantity::Stiffness)
}

/// Passes a share above zero and at most one, such as an efficiency.
pub(crate) fn efficiency(field: &str, given: f64) -> Result<f64, TruckError> {
    const MEND: &str = "enter what comes out over what goes in, as a share up to 1";
    positive(field, given, MEND)?;
    within(field, given, [0.0, 1.0], MEND)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case(0.0)]
    #[case(-1.0)]
    #[case(f64::NAN)]
    #[case(f64::INFINITY)]
    fn what_is_not_above_zero_is_refused(#[case] given: f64) {
        assert!(positive("wheelbase", given, "measure it").is_err());
    }

    #[rstest]
    #[case(-1e-9)]
    #[case(f64::NAN)]
    #[case(f64::INFINITY)]
    fn what_is_below_zero_is_refused(#[case] given: f64) {
        assert!(not_negative("speed", given, "enter it").is_err());
    }

    #[test]
    fn a_refusal_names_entry_figure_range_and_mending() {
        let words = within("reserve", 1.2, [0.0, 1.0], "enter a share")
            .unwrap_err()
            .to_string();
        assert_eq!(words, "reserve: 1.2 is outside 0 to 1; enter a share");
        let words = positive("wheelbase", -2.0, "measure it").unwrap_err().to_string();
        assert_eq!(words, "wheelbase: -2 is not above 0; measure it");
        assert!(efficiency("charger", 0.0).is_err());
        assert!(efficiency("charger", 1.01).is_err());
        assert_eq!(efficiency("charger", 1.0), Ok(1.0));
    }
}
