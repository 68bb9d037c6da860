//! What is lost between the panel's plate and its leads.

use crate::check::within;
use crate::{Source, TruckError};

/// One loss.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loss {
    /// What of.
    pub name: &'static str,
    /// Percent.
    pub percent: f64,
}

const fn loss(name: &'static str, percent: f64) -> Loss {
    Loss { name, percent }
}

/// The losses of a usual set: 14.08 % together. No inverter and no heat of the cells is in them; its 3 % of shading is
/// that of an open field, not of a truck under trees.
pub const USUAL: [Loss; 8] = [
    loss("soiling", 2.0),
    loss("shading", 3.0),
    loss("mismatch", 2.0),
    loss("wiring", 2.0),
    loss("connections", 0.5),
    loss("first light", 1.5),
    loss("nameplate", 1.0),
    loss("availability", 3.0),
];

/// Where [`USUAL`] is from.
pub const USUAL_SOURCE: Source =
    Source::found("NREL PVWatts Version 5 manual (2014), loss model with its default values");

/// The share lost in all: `1 - product(1 - loss)`.
///
/// Source: [`USUAL_SOURCE`].
///
/// # Errors
///
/// [`TruckError::Outside`] for a loss outside 0 to 100 %.
pub fn total(losses_pct: impl IntoIterator<Item = f64>) -> Result<f64, TruckError> {
    let mut kept = 1.0;
    for percent in losses_pct {
        kept *= 1.0 - within("loss", percent, [0.0, 100.0], "enter percent")? / 100.0;
    }
    Ok(1.0 - kept)
}

/// The usual set with another shading, percent.
///
/// # Errors
///
/// [`TruckError::Outside`] for a shading outside 0 to 100 %.
pub fn usual_with_shading(percent: f64) -> Result<f64, TruckError> {
    total(
        USUAL
            .iter()
            .map(|loss| if loss.name == "shading" { percent } else { loss.percent }),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_set_loses_what_its_manual_says() {
        let all = total(USUAL.iter().map(|loss| loss.percent)).unwrap();
        assert!((all - 0.1408).abs() < 0.000_1);
        assert_eq!(usual_with_shading(3.0), Ok(all));
    }

    #[test]
    fn losses_do_not_add_up_beyond_all() {
        assert_eq!(total([]), Ok(0.0));
        assert_eq!(total([60.0, 60.0]).map(|all| (all * 100.0).round()), Ok(84.0));
        assert_eq!(usual_with_shading(100.0), Ok(1.0));
        assert!(total([101.0]).is_err());
        assert!(total([-1.0]).is_err());
    }
}
