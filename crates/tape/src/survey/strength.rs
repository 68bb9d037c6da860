//! Whether readings hold a shape at all, and how firmly.
//!
//! The count of readings is no test: 12 edges and 4 space diagonals leave a square cavity three ways to move. The
//! singular values of the slopes (each reading by each coordinate, unweighted) are: as many as there are unknowns must
//! be above zero, and the smallest of them tells how firmly the shape is held.

use nalgebra::{DMatrix, SVD};

use super::corner::{Face, Line, LineKind};
use super::observation::{Corners, Told, distance};
use super::solve::rigid;

/// A set whose smallest singular value is below it is weak. Good sets have 0.2 to 0.4. Known by: computed, on square
/// and skewed shapes.
pub const WEAK: f64 = 0.05;

/// Singular values below this share of the largest are zero.
const ZERO: f64 = 1e-7;

/// A tilt that statements about the vertical see less than this share of another is not seen.
const UNSEEN: f64 = 0.05;

/// As many sweeps of a decomposition as no sound matrix takes.
const MOST_SWEEPS: usize = 10_000;

/// How firmly a set of readings holds a shape.
#[derive(Clone, Debug, PartialEq)]
pub struct Strength {
    /// How many independent things the readings tell.
    pub held: usize,
    /// How many it takes: 18 for readings alone, up to 20 with statements that tell which way is up.
    pub wanted: usize,
    /// The singular value that decides, the `wanted`th; 0 when fewer are held.
    pub smallest: f64,
}

impl Strength {
    /// Whether the shape is not determined.
    pub const fn is_short(&self) -> bool {
        self.held < self.wanted
    }

    /// Whether the shape is determined but poorly.
    pub fn is_weak(&self) -> bool {
        !self.is_short() && self.smallest < WEAK
    }

    /// Whether it is neither short nor weak.
    pub fn is_sound(&self) -> bool {
        !self.is_short() && !self.is_weak()
    }
}

/// Returns how firmly `told` holds a shape with these corners.
pub fn strength(told: &[Told], corners: &Corners) -> Strength {
    let wanted = 24 - free_ways(told, corners).ncols();
    let values = singular_values(slopes(told, corners));
    let largest = values.first().copied().unwrap_or(0.0);
    let held = values
        .iter()
        .filter(|&&value| value > ZERO * largest)
        .count()
        .min(wanted);
    Strength {
        held,
        wanted,
        smallest: if held < wanted { 0.0 } else { values[wanted - 1] },
    }
}

/// The lines whose length `told` leaves open at these corners, in walking order.
pub(super) fn loose_lines(told: &[Told], corners: &Corners) -> Vec<Line> {
    let open = open_ways(told, corners);
    let loose = |line: &Line| {
        let [from, to] = line.ends();
        let (_, slopes) = distance(corners, from.index(), to.index());
        let moves = DMatrix::from_row_slice(1, 24, &slopes) * &open;
        moves.norm() > 1e-6
    };
    Line::all().into_iter().filter(loose).collect()
}

/// The faces that can still be pushed out of square: those with both diagonals among `loose`.
pub(super) fn loose_faces(loose: &[Line]) -> Vec<Face> {
    let mut faces: Vec<Face> = Vec::new();
    let mut once: Vec<Face> = Vec::new();
    for line in loose {
        if let LineKind::FaceDiagonal(face) = line.kind() {
            if once.contains(&face) {
                faces.push(face);
            }
            once.push(face);
        }
    }
    faces
}

/// Orthonormal columns: all ways of moving the corners that change nothing told, those of the whole as one body too.
pub(super) fn open_ways(told: &[Told], corners: &Corners) -> DMatrix<f64> {
    let slopes = slopes(told, corners);
    // Padded to square, so that the decomposition has a direction for each coordinate.
    let rows = slopes.nrows().max(24);
    null_space(&slopes.resize_vertically(rows, 0.0), ZERO)
}

/// Orthonormal columns that a matrix with no fewer rows than columns takes to nothing: to less than `zero` of what it
/// does to others.
fn null_space(matrix: &DMatrix<f64>, zero: f64) -> DMatrix<f64> {
    let columns = matrix.ncols();
    let Some(SVD {
        singular_values,
        v_t: Some(rows),
        ..
    }) = SVD::try_new(matrix.clone(), false, true, f64::EPSILON, MOST_SWEEPS)
    else {
        return DMatrix::zeros(columns, 0);
    };
    let largest = singular_values.max();
    let zero = |way: &usize| singular_values[*way] <= zero * largest;
    let ways: Vec<usize> = (0..columns).filter(zero).collect();
    DMatrix::from_fn(columns, ways.len(), |i, way| rows[(ways[way], i)])
}

/// Singular values, the largest first; none when they are not to be had.
pub(super) fn singular_values(matrix: DMatrix<f64>) -> Vec<f64> {
    let svd = SVD::try_new(matrix, false, false, f64::EPSILON, MOST_SWEEPS);
    let mut values: Vec<f64> = svd.iter().flat_map(|svd| svd.singular_values.iter().copied()).collect();
    values.sort_unstable_by(|a, b| b.total_cmp(a));
    values
}

/// Orthonormal columns: the ways in which the whole can move as one body without changing what was told. Six, less
/// those that statements about the vertical take away.
///
/// A tilt that they hardly see counts as free, and is held as it is: two rails said to be level along their length tell
/// whether the floor is twisted, and would otherwise be made to tell by a wild tilt how it stands across.
pub(super) fn free_ways(told: &[Told], corners: &Corners) -> DMatrix<f64> {
    let whole = rigid(corners.as_flattened(), 3);
    let upright: Vec<Told> = told.iter().copied().filter(|t| t.ties_the_vertical()).collect();
    if upright.is_empty() {
        return whole;
    }
    let seen = slopes(&upright, corners) * &whole;
    let rows = seen.nrows().max(6);
    &whole * null_space(&seen.resize_vertically(rows, 0.0), UNSEEN)
}

/// Slopes of what was told by the 24 coordinates; one row of zeros when nothing was. What makes no sense, or none at
/// these corners, tells nothing.
fn slopes(told: &[Told], corners: &Corners) -> DMatrix<f64> {
    if told.is_empty() {
        return DMatrix::zeros(1, 24);
    }
    let sensible = |slopes: &[f64; 24]| slopes.iter().all(|slope| slope.is_finite());
    let row = |told: &Told| Some(told.at(corners).1).filter(|slopes| told.makes_sense() && sensible(slopes));
    let rows: Vec<f64> = told.iter().flat_map(|told| row(told).unwrap_or([0.0; 24])).collect();
    DMatrix::from_row_slice(told.len(), 24, &rows)
}
