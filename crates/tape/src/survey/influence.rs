//! How much of a figure hangs on each reading.

use nalgebra::DVector;

use super::adjust::Adjustment;
use super::observation::{Corners, Observation};

impl Adjustment {
    /// Returns how much a figure changes with each of the observations that were adjusted: its derivative by what was
    /// read, a ratio, in their order.
    ///
    /// `slopes`: how the figure changes with the corners, in the axes of the adjustment; the figure must not depend on
    /// where the axes sit. To first order, `g' C a / sigma^2` with `a` the slopes of the observation.
    pub fn influence(&self, observations: &[Observation], slopes: &Corners) -> Vec<f64> {
        let spread = self.covariance_matrix() * DVector::from_column_slice(slopes.as_flattened());
        let of = |observation: &Observation| {
            let (_, slopes) = observation.told.at(&self.corners);
            let along: f64 = slopes.iter().zip(spread.iter()).map(|(a, s)| a * s).sum();
            along / observation.sigma.as_mm().powi(2)
        };
        observations.iter().map(of).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Line, adjust, square_box};
    use super::*;
    use crate::Length;

    /// A reading made a little longer moves an adjusted length by its influence.
    #[test]
    fn the_influence_is_what_a_longer_reading_does() {
        let corners = square_box([1067.0, 406.0, 229.0]);
        let survey: Vec<Observation> = Line::all()[..24]
            .iter()
            .map(|line| {
                let [from, to] = line.ends();
                let mm = (0..3)
                    .map(|i| (corners[from.index()][i] - corners[to.index()][i]).powi(2))
                    .sum::<f64>()
                    .sqrt();
                Observation::distance(from, to, Length::from_mm(mm), Length::mm(1))
            })
            .collect();
        let before = adjust(&survey).unwrap();
        let line = Line::all()[1];
        let [from, to] = line.ends();
        let mut slopes = [[0.0; 3]; 8];
        let mm = before.line(line).mm;
        let along: [f64; 3] =
            std::array::from_fn(|i| (before.corners[to.index()][i] - before.corners[from.index()][i]) / mm);
        slopes[to.index()] = along;
        slopes[from.index()] = along.map(|part| -part);
        let influence = before.influence(&survey, &slopes);
        let step = Length::from_nm(10_000);
        for (i, told) in influence.iter().enumerate() {
            let mut longer = survey.clone();
            longer[i].value += step;
            let moved = (adjust(&longer).unwrap().line(line).mm - mm) / step.as_mm();
            assert!((moved - told).abs() < 1e-4, "reading {i}: {moved} and {told}");
        }
    }
}
