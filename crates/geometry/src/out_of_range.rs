//! A figure that a closed form cannot take.

/// A figure outside what a formula holds for. Nothing is clamped: the caller asks for another.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{field}: {given} is outside {allowed}; {fix}")]
pub struct OutOfRange {
    /// Which figure.
    pub field: &'static str,
    /// What was given, in millimetres or degrees.
    pub given: f64,
    /// What is allowed, in words.
    pub allowed: String,
    /// What to do.
    pub fix: &'static str,
}

/// Refuses `given` when it is not within `low..=high` (NaN is not).
pub(crate) fn within(
    field: &'static str,
    given: f64,
    low: f64,
    high: f64,
    fix: &'static str,
) -> Result<f64, OutOfRange> {
    if (low..=high).contains(&given) {
        Ok(given)
    } else {
        let allowed = if high.is_finite() {
            format!("{low} to {high}")
        } else {
            format!("{low} and above")
        };
        Err(OutOfRange {
            field,
            given,
            allowed,
            fix,
        })
    }
}
