//! The points that count, and sums over the points of a spot.

use super::super::raster::{Raster, Spot};

/// Numbers of points along each axis.
type Counts = [usize; 3];

/// The grid of points: along each axis the places whose spots are not all among those of another place.
pub(super) struct Grid {
    axes: [Vec<i64>; 3],
    counts: Counts,
}

/// Which points a spot covers.
#[derive(Clone, Copy)]
pub(super) struct Cover {
    /// The points along each axis: from, to.
    pub(super) range: [(usize, usize); 3],
    /// Its eight corners among the sums: those to add, then those to take away.
    plus: [u32; 4],
    minus: [u32; 4],
}

impl Grid {
    pub(super) fn new(raster: &Raster) -> Self {
        let axes: [Vec<i64>; 3] = std::array::from_fn(|k| maximal_points(raster, k));
        let counts = [0, 1, 2].map(|k| axes[k].len());
        Self { axes, counts }
    }

    /// How many points there are.
    pub(super) fn points(&self) -> usize {
        self.counts.iter().product()
    }

    /// How many sums and loads there are: one more than points along each axis.
    pub(super) fn cells(&self) -> usize {
        self.counts.iter().map(|n| n + 1).product()
    }

    /// The index of a point.
    pub(super) fn point(&self, x: usize, y: usize, z: usize) -> usize {
        (x * self.counts[1] + y) * self.counts[2] + z
    }

    pub(super) fn cover(&self, spot: &Spot) -> Cover {
        let [x, y, z] = [0, 1, 2].map(|k| {
            let before = |at: i64| self.axes[k].partition_point(|&p| p < at);
            (before(spot.lo[k]), before(spot.hi[k]))
        });
        let cell = |x: usize, y: usize, z: usize| {
            let cell = (x * (self.counts[1] + 1) + y) * (self.counts[2] + 1) + z;
            u32::try_from(cell).expect("far fewer points than that")
        };
        Cover {
            range: [x, y, z],
            plus: [
                cell(x.1, y.1, z.1),
                cell(x.0, y.0, z.1),
                cell(x.0, y.1, z.0),
                cell(x.1, y.0, z.0),
            ],
            minus: [
                cell(x.0, y.1, z.1),
                cell(x.1, y.0, z.1),
                cell(x.1, y.1, z.0),
                cell(x.0, y.0, z.0),
            ],
        }
    }

    /// Calls `each` with the cell of every point, in the points' order.
    pub(super) fn each_point(&self, mut each: impl FnMut(usize)) {
        for x in 0..self.counts[0] {
            for y in 0..self.counts[1] {
                let row = (x * (self.counts[1] + 1) + y) * (self.counts[2] + 1);
                for z in 0..self.counts[2] {
                    each(row + z);
                }
            }
        }
    }

    fn strides(&self) -> (usize, usize) {
        let row = self.counts[2] + 1;
        (row, (self.counts[1] + 1) * row)
    }

    /// Sums of `weight` over all points below each cell.
    pub(super) fn sums(&self, weight: &[f64], sums: &mut [f64]) {
        let (row, plane) = self.strides();
        let mut at = 0;
        for x in 0..self.counts[0] {
            for y in 0..self.counts[1] {
                let here = (x + 1) * plane + (y + 1) * row;
                let mut line = 0.0;
                for z in 0..self.counts[2] {
                    line += weight[at];
                    at += 1;
                    let cell = here + z + 1;
                    sums[cell] = line + sums[cell - row] + sums[cell - plane] - sums[cell - row - plane];
                }
            }
        }
    }

    /// Turns the marks that [`Cover::load`] left into what lies on each point's cell.
    pub(super) fn spread_loads(&self, load: &mut [f64]) {
        let (row, plane) = self.strides();
        for start in (0..load.len()).step_by(row) {
            for z in start + 1..start + row {
                load[z] += load[z - 1];
            }
        }
        for x in 0..=self.counts[0] {
            for y in 1..=self.counts[1] {
                let here = x * plane + y * row;
                for z in here..here + row {
                    load[z] += load[z - row];
                }
            }
        }
        for z in plane..load.len() {
            load[z] += load[z - plane];
        }
    }
}

impl Cover {
    /// How many points.
    pub(super) fn points(&self) -> f64 {
        let points: usize = self.range.iter().map(|(from, to)| to - from).product();
        f64::from(u32::try_from(points).unwrap_or(u32::MAX))
    }

    /// The weight of its points, from [`Grid::sums`].
    pub(super) fn weight(&self, sums: &[f64]) -> f64 {
        let of = |cells: &[u32; 4]| cells.iter().map(|&cell| sums[cell as usize]).sum::<f64>();
        of(&self.plus) - of(&self.minus)
    }

    /// Marks `amount` to lie on each of its points.
    pub(super) fn load(&self, load: &mut [f64], amount: f64) {
        for &cell in &self.plus {
            load[cell as usize] -= amount;
        }
        for &cell in &self.minus {
            load[cell as usize] += amount;
        }
    }
}

/// The places along axis `k` whose spots are not all among those of another place.
fn maximal_points(raster: &Raster, k: usize) -> Vec<i64> {
    let mut spans: Vec<(i64, i64)> = raster.spots.iter().map(|spot| (spot.lo[k], spot.hi[k])).collect();
    spans.sort_unstable();
    spans.dedup();
    let mut starts: Vec<i64> = spans.iter().map(|span| span.0).collect();
    starts.dedup();
    // A start is dropped when nothing ends between it and the next start: the next has all its spots.
    let mut ends: Vec<i64> = spans.iter().map(|span| span.1).collect();
    ends.sort_unstable();
    let kept = |i: usize| {
        starts.get(i + 1).is_none_or(|&next| {
            let first = ends.partition_point(|&end| end <= starts[i]);
            ends.get(first).is_some_and(|&end| end <= next)
        })
    };
    (0..starts.len()).filter(|&i| kept(i)).map(|i| starts[i]).collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::super::folded::{Laid, Piece};
    use super::*;

    fn spots() -> impl Strategy<Value = Vec<Spot>> {
        let spot = ([0..7_i64, 0..5, 0..4], [1..5_i64, 1..4, 1..3]).prop_map(|(at, size)| {
            let piece = Piece {
                shape: 0,
                kind: 0,
                size,
                count: 1,
            };
            Spot::new(Laid { piece: 0, at }, &piece)
        });
        prop::collection::vec(spot, 1..12)
    }

    /// The indices of a spot's points.
    fn points_of(grid: &Grid, cover: &Cover) -> Vec<usize> {
        let [x, y, z] = cover.range.map(|(from, to)| from..to);
        let planes = x.flat_map(|x| y.clone().map(move |y| (x, y)));
        planes
            .flat_map(|(x, y)| z.clone().map(move |z| grid.point(x, y, z)))
            .collect()
    }

    fn overlap(a: &Spot, b: &Spot) -> bool {
        (0..3).all(|k| a.lo[k] < b.hi[k] && b.lo[k] < a.hi[k])
    }

    proptest! {
        /// Sums and loads by corners are those taken point by point, and just the spots that overlap share a point.
        #[test]
        fn corners_give_what_points_give(spots in spots(), weights in prop::collection::vec(0..13_u8, 4096)) {
            let raster = Raster::of(spots);
            let grid = Grid::new(&raster);
            let weight: Vec<f64> = weights[..grid.points()].iter().map(|&w| f64::from(w)).collect();
            let mut sums = vec![0.0; grid.cells()];
            grid.sums(&weight, &mut sums);
            let (mut load, mut direct) = (vec![0.0; grid.cells()], vec![0.0; grid.points()]);
            for spot in &raster.spots {
                let cover = grid.cover(spot);
                let points = points_of(&grid, &cover);
                let all: f64 = points.iter().map(|&point| weight[point]).sum();
                prop_assert!((cover.weight(&sums) - all).abs() < 1e-9);
                cover.load(&mut load, 1.0);
                for &point in &points {
                    direct[point] += 1.0;
                }
                for other in &raster.spots {
                    let shared = points_of(&grid, &grid.cover(other)).iter().any(|point| points.contains(point));
                    prop_assert_eq!(shared, overlap(spot, other));
                }
            }
            grid.spread_loads(&mut load);
            let mut loads = Vec::new();
            grid.each_point(|cell| loads.push(load[cell]));
            prop_assert!(loads.iter().zip(&direct).all(|(a, b)| (a - b).abs() < 1e-9));
        }
    }
}
