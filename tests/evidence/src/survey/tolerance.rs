//! How far the figures of an adjustment may be off, as the file states it.

use serde_json::{Number, Value};

use crate::compare::magnitude;

/// The tolerances of a file, in the unit of the case where they are no ratios.
#[derive(Clone, Copy)]
pub(super) struct Tolerances {
    distance: f64,
    sd: f64,
    redundancy: f64,
    squares_relative: f64,
    w: f64,
}

impl Tolerances {
    pub(super) fn of(file: &Value) -> Self {
        let stated = &file["convention"]["tolerances"];
        let of = |key: &str, usual: f64| stated[key].as_f64().unwrap_or(usual);
        Self {
            distance: of("adjusted_distance", 1e-5),
            sd: of("standard_deviation", 1e-5),
            redundancy: of("redundancy_number", 1e-5),
            squares_relative: of("weighted_sum_of_squares_relative", 1e-5),
            w: of("w", 1e-4),
        }
    }

    /// What a number may be off: told by its key, or the key of what it is one of.
    pub(super) fn allowed(self) -> impl Fn(&str, &Number) -> f64 {
        move |key, expected| match key {
            "redundancy_numbers" => self.redundancy,
            "standardised_residuals" | "w" | "w_of_planted" | "second_largest_abs_w" | "largest_abs_w" => self.w,
            // Printed to seven places, which is less than the share allowed of a small one.
            "weighted_sum_of_squares" | "reference_variance" | "s0" => {
                (self.squares_relative * magnitude(expected)).max(1e-7)
            }
            "minimal_detectable_blunder" => 1e-3 * magnitude(expected),
            // Printed to four places.
            key if key.contains("singular_value") || key == "fix_strength" => 5.1e-5,
            key if key.starts_with("sd_") => self.sd,
            _ if expected.is_f64() => self.distance,
            _ => 0.0,
        }
    }
}
