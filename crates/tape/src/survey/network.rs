//! Networks of points with measured distances, in the plane or in space.
//!
//! The cavity survey is one in space with eight points; this is the general case, by the same solver.

use nalgebra::DMatrix;

use super::solve::{Measured, NO_CHECK, rigid, solve};

/// A measured distance between two points, in the unit of the network.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Distance {
    /// Index of a point.
    pub from: usize,
    /// Index of another.
    pub to: usize,
    /// What was measured.
    pub value: f64,
    /// Its standard uncertainty.
    pub sigma: f64,
}

/// A point of a network.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point<const D: usize> {
    /// Where it is, or is supposed to be.
    pub at: [f64; D],
    /// Whether it is known and stays there.
    pub fixed: bool,
}

/// An adjusted network.
#[derive(Clone, Debug, PartialEq)]
pub struct Adjusted<const D: usize> {
    /// Where the points are.
    pub points: Vec<[f64; D]>,
    /// Standard uncertainty of each coordinate; zero for fixed points. Where no point is fixed it holds for the shape
    /// held still on the whole (inner constraints).
    pub sigmas: Vec<[f64; D]>,
    /// Adjusted less measured, in the order of the distances.
    pub residuals: Vec<f64>,
    /// How much of each distance is checked by the others.
    pub redundancy: Vec<f64>,
    /// Residuals over their own sigmas; `None` for a distance without a check.
    pub standardised: Vec<Option<f64>>,
    /// Spare distances.
    pub freedoms: usize,
    /// Sum of the squares of residuals over sigmas.
    pub weighted_squares: f64,
}

/// Adjusts a network, in the plane (`D` = 2) or in space (3), from points near the answer.
///
/// With no fixed point the shape moves as little as possible from where the points are told.
///
/// Returns `None` when the distances do not determine the points, or name points that are not there.
pub fn adjust<const D: usize>(points: &[Point<D>], distances: &[Distance]) -> Option<Adjusted<D>> {
    let known = |d: &Distance| d.from.max(d.to) < points.len() && d.from != d.to && d.sigma > 0.0;
    if !(2..=3).contains(&D) || !distances.iter().all(known) {
        return None;
    }
    let network = Network::new(points, distances);
    let start: Vec<f64> = points
        .iter()
        .filter(|p| !p.fixed)
        .flat_map(|p| network.inner(p.at))
        .collect();
    let freedoms = (distances.len() + network.ways()).checked_sub(start.len())?;
    let solved = solve(&network, &start)?;
    let redundancy = solved.redundancy();
    let standardised = (0..distances.len())
        .map(|i| {
            let own = distances[i].sigma * redundancy[i].sqrt();
            (redundancy[i] >= NO_CHECK).then(|| solved.residuals[i] / own)
        })
        .collect();
    let sigma = |unknown: usize| solved.cofactors[(unknown, unknown)].max(0.0).sqrt();
    Some(Adjusted {
        points: (0..points.len())
            .map(|p| {
                let inner = network.place(p, &solved.unknowns);
                std::array::from_fn(|i| inner[i] + network.origin[i])
            })
            .collect(),
        sigmas: network
            .first
            .iter()
            .map(|first| std::array::from_fn(|i| first.map_or(0.0, |first| sigma(first + i))))
            .collect(),
        residuals: solved.residuals[..distances.len()].to_vec(),
        redundancy,
        standardised,
        freedoms,
        weighted_squares: solved.weighted_squares,
    })
}

struct Network<'a, const D: usize> {
    points: &'a [Point<D>],
    distances: &'a [Distance],
    /// Taken off all coordinates, since map coordinates are large and the shape is small.
    origin: [f64; D],
    /// The first unknown of each point that is not fixed.
    first: Vec<Option<usize>>,
}

impl<'a, const D: usize> Network<'a, D> {
    fn new(points: &'a [Point<D>], distances: &'a [Distance]) -> Self {
        let mut next = 0;
        let first = points.iter().map(|point| {
            let own = (!point.fixed).then_some(next);
            next += if point.fixed { 0 } else { D };
            own
        });
        Self {
            points,
            distances,
            origin: points.first().map_or([0.0; D], |point| point.at),
            first: first.collect(),
        }
    }

    fn inner(&self, at: [f64; D]) -> [f64; D] {
        std::array::from_fn(|i| at[i] - self.origin[i])
    }

    fn place(&self, point: usize, unknowns: &[f64]) -> [f64; D] {
        match self.first[point] {
            Some(first) => std::array::from_fn(|i| unknowns[first + i]),
            None => self.inner(self.points[point].at),
        }
    }

    /// In how many ways the whole can move.
    fn ways(&self) -> usize {
        let free = self.points.iter().all(|point| !point.fixed);
        if free { D * (D + 1) / 2 } else { 0 }
    }
}

impl<const D: usize> Measured for Network<'_, D> {
    fn count(&self) -> usize {
        self.distances.len()
    }

    fn measured(&self, index: usize) -> (f64, f64) {
        (self.distances[index].value, self.distances[index].sigma)
    }

    fn at(&self, unknowns: &[f64], index: usize, slopes: &mut [f64]) -> f64 {
        let Distance { from, to, .. } = self.distances[index];
        let [a, b] = [from, to].map(|point| self.place(point, unknowns));
        let along: [f64; D] = std::array::from_fn(|i| b[i] - a[i]);
        let length = along.iter().map(|part| part * part).sum::<f64>().sqrt();
        for (point, sign) in [(to, 1.0), (from, -1.0)] {
            if let Some(first) = self.first[point] {
                for i in 0..D {
                    slopes[first + i] += sign * along[i] / length;
                }
            }
        }
        length
    }

    fn free(&self, unknowns: &[f64]) -> DMatrix<f64> {
        match self.ways() {
            0 => DMatrix::zeros(unknowns.len(), 0),
            _ => rigid(unknowns, D),
        }
    }
}
