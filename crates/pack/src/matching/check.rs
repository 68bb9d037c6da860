//! Units that are not like the others.

/// Units far from the middle of their lot.
#[derive(Clone, Debug, PartialEq)]
pub struct Outliers {
    /// The median.
    pub median: f64,
    /// How far from it a unit may be.
    pub within: f64,
    /// The units beyond.
    pub units: Vec<usize>,
}

/// Units more than three scaled median deviations from the median: `3 x 1.4826 x MAD`, which is three standard
/// deviations of a normal lot and is not moved by the outliers themselves. `None` with fewer than five units, where
/// nothing can be told. At least 2 % of the median is allowed, so that an even lot has no outliers by a hair.
///
/// Source: common practice in robust statistics.
pub fn outliers(values: &[f64]) -> Option<Outliers> {
    if values.len() < 5 {
        return None;
    }
    let middle = |values: &mut Vec<f64>| {
        values.sort_by(f64::total_cmp);
        let half = values.len() / 2;
        if values.len() % 2 == 1 {
            values[half]
        } else {
            f64::midpoint(values[half - 1], values[half])
        }
    };
    let median = middle(&mut values.to_vec());
    let mut off: Vec<f64> = values.iter().map(|v| (v - median).abs()).collect();
    let within = (3.0 * 1.4826 * middle(&mut off)).max(0.02 * median.abs());
    let beyond = values.iter().enumerate().filter(|(_, v)| (**v - median).abs() > within);
    Some(Outliers {
        median,
        within,
        units: beyond.map(|(i, _)| i).collect(),
    })
}
