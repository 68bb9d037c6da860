//! Volts at rest over the state of charge.
//!
//! A curve is a list of points with straight lines between. [`Chemistry::ocv`](crate::chemistry::Chemistry::ocv) has a
//! typical one for one cell of each family; [`OcvCurve::for_module`] fits it to a module's own volts.

mod typical;

use crate::{CellVolts, Volts};

/// Why a list of points is no curve, or why a curve does not fit a module.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum CurveError {
    /// It does not go from empty to full.
    #[error("volts over state of charge: should go from 0 to 1; add the points for empty and full")]
    Ends,
    /// Volts or state of charge do not rise from one point to the next.
    #[error("volts over state of charge: point {number} is not above the one before; sort them or leave it out")]
    NotRising {
        /// The point, from 1.
        number: usize,
    },
    /// The curve's mean is not between a module's empty and full.
    #[error(
        "volts of the module: {empty_v:.1} V empty to {full_v:.1} V full do not hold the {mean_v:.1} V that its cells \
         have on average; check the family and how many cells are in series"
    )]
    OtherCells {
        /// The mean of the curve for so many cells, in volts.
        mean_v: f64,
        /// Empty, in volts.
        empty_v: f64,
        /// Full, in volts.
        full_v: f64,
    },
}

/// Volts at rest over the state of charge, of a cell or of cells in series.
///
/// At rest means that nothing has flowed for hours, and room temperature.
#[derive(Clone, Debug, PartialEq)]
pub struct OcvCurve {
    /// State of charge and volts, both rising; from 0.0 to 1.0; two at least.
    points: Vec<(f64, f64)>,
}

impl OcvCurve {
    /// A curve through these points: state of charge `0.0..=1.0` and volts.
    ///
    /// # Errors
    ///
    /// [`CurveError::Ends`] or [`CurveError::NotRising`].
    pub fn new(points: Vec<(f64, f64)>) -> Result<Self, CurveError> {
        let ends = [points.first(), points.last()].map(|end| end.map(|point| point.0));
        if ends != [Some(0.0), Some(1.0)] {
            return Err(CurveError::Ends);
        }
        // Written so that what is no number does not count as rising.
        let rising = |pair: &[(f64, f64)]| pair[1].0 > pair[0].0 && pair[1].1 > pair[0].1;
        match points.windows(2).position(|pair| !rising(pair)) {
            Some(before) => Err(CurveError::NotRising { number: before + 2 }),
            None => Ok(Self { points }),
        }
    }

    /// The points: state of charge and volts.
    pub fn points(&self) -> &[(f64, f64)] {
        &self.points
    }

    /// Volts at a state of charge, to the nearest millivolt; `None` outside `0.0..=1.0`.
    pub fn volts_at(&self, soc: f64) -> Option<Volts> {
        (0.0..=1.0).contains(&soc).then(|| Volts::nearest(self.height_at(soc)))
    }

    /// State of charge at these volts at rest, not rounded; `None` below empty and above full.
    ///
    /// On a flat curve (LFP) volts tell little: ask [`OcvCurve::soc_between`] how little.
    pub fn soc_at(&self, volts: Volts) -> Option<f64> {
        let (empty, full) = self.ends();
        (empty..=full)
            .contains(&volts.get())
            .then(|| self.soc_held(volts.get()))
    }

    /// The states of charge, least and most, that volts read to within `off` either way can mean; `None` when all of
    /// that is below empty or above full.
    pub fn soc_between(&self, volts: Volts, off: Volts) -> Option<(f64, f64)> {
        let (empty, full) = self.ends();
        let (low, high) = ((volts - off).get(), (volts + off).get());
        (low <= full && high >= empty).then(|| (self.soc_held(low), self.soc_held(high)))
    }

    /// Mean volts over the charge, in volts, not rounded: times amp-hours they are the energy, at amps near zero.
    pub fn mean_v(&self) -> f64 {
        let areas = self
            .points
            .windows(2)
            .map(|pair| (pair[1].0 - pair[0].0) * (pair[1].1 + pair[0].1) / 2.0);
        areas.sum()
    }

    /// The curve of so many in series.
    #[must_use]
    pub fn in_series(&self, count: u32) -> Self {
        self.with_volts(|volts| volts * f64::from(count))
    }

    /// This curve of one cell for a module of `cells_series` with its own volts, so that 0 is its empty and 1 its full.
    ///
    /// Where the module stops short of the curve, what is beyond is cut off and the rest spread over 0 to 1. Where it
    /// goes further, the volts of the outermost tenth of the charge are stretched evenly until they reach; all between
    /// stays, so that a flat family stays flat where it was. Both are assumptions: full volts are often those of the
    /// charger and not of rest. Nominal volts do not count: makers give them with amps flowing, and round them.
    ///
    /// # Errors
    ///
    /// [`CurveError::OtherCells`] unless the curve's mean is between empty and full.
    pub fn for_module(&self, volts: &CellVolts, cells_series: u32) -> Result<Self, CurveError> {
        let cells = self.in_series(cells_series);
        let (mean_v, empty_v, full_v) = (cells.mean_v(), volts.empty.get(), volts.full.get());
        if !(empty_v < mean_v && mean_v < full_v) {
            return Err(CurveError::OtherCells {
                mean_v,
                empty_v,
                full_v,
            });
        }
        let cut = cells.cut(cells.soc_held(empty_v), cells.soc_held(full_v));
        Ok(cut.stretched(empty_v, full_v))
    }

    /// The part of the curve between two states of charge, spread over 0 to 1.
    fn cut(&self, from: f64, to: f64) -> Self {
        let inside = self.points.iter().filter(|point| from < point.0 && point.0 < to);
        let mut points = vec![(0.0, self.height_at(from))];
        points.extend(inside.map(|&(soc, volts)| ((soc - from) / (to - from), volts)));
        points.push((1.0, self.height_at(to)));
        Self { points }
    }

    /// The curve with its outermost tenths stretched so that they reach these volts.
    fn stretched(self, empty_v: f64, full_v: f64) -> Self {
        const TENTHS: [f64; 2] = [0.1, 0.9];
        let (first, last) = self.ends();
        let [low, high] = TENTHS.map(|soc| self.height_at(soc));
        let stretch = |volts: f64, at: f64, end: f64, wanted: f64| at + (volts - at) * (wanted - at) / (end - at);
        // The stretching bends at the tenths, so that there have to be points.
        let bent = TENTHS.into_iter().fold(self, Self::with_point_at);
        bent.with_volts(|volts| {
            if volts < low {
                stretch(volts, low, first, empty_v)
            } else if volts > high {
                stretch(volts, high, last, full_v)
            } else {
                volts
            }
        })
    }

    /// The same curve with a point of its own at this state of charge, above 0.0 and not above 1.0.
    fn with_point_at(mut self, soc: f64) -> Self {
        let next = self.points.partition_point(|point| point.0 < soc);
        if self.points[next].0 > soc {
            let volts = self.height_at(soc);
            self.points.insert(next, (soc, volts));
        }
        self
    }

    fn with_volts(&self, change: impl Fn(f64) -> f64) -> Self {
        let points = self.points.iter().map(|&(soc, volts)| (soc, change(volts)));
        Self {
            points: points.collect(),
        }
    }

    /// Volts empty and full.
    fn ends(&self) -> (f64, f64) {
        (self.points[0].1, self.points[self.points.len() - 1].1)
    }

    /// Volts at a state of charge within `0.0..=1.0`, not rounded.
    fn height_at(&self, soc: f64) -> f64 {
        let last = self.points.partition_point(|point| point.0 < soc);
        let last = last.clamp(1, self.points.len() - 1);
        between(soc, self.points[last - 1], self.points[last])
    }

    /// State of charge at these volts, held at 0 and 1 beyond the ends.
    fn soc_held(&self, volts: f64) -> f64 {
        let last = self.points.partition_point(|point| point.1 < volts);
        let last = last.clamp(1, self.points.len() - 1);
        let turned = |point: (f64, f64)| (point.1, point.0);
        between(volts, turned(self.points[last - 1]), turned(self.points[last])).clamp(0.0, 1.0)
    }
}

/// The height at `x` of the line through two points.
fn between(x: f64, a: (f64, f64), b: (f64, f64)) -> f64 {
    a.1 + (b.1 - a.1) * (x - a.0) / (b.0 - a.0)
}

#[cfg(test)]
mod tests;
