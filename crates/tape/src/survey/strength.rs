//! Whether readings hold a shape at all, and how firmly.
//!
//! The count of readings is no test: 12 edges and 4 space diagonals leave a square cavity three ways to move. The
//! singular values of the slopes (each reading by each coordinate, unweighted) are: as many as there are unknowns must
//! be above zero, and the smallest of them tells how firmly the shape is held.

use nalgebra::DMatrix;

use super::corner::{Face, Line, LineKind};
use super::observation::{Corners, Told, distance};
use super::solve::rigid;

/// A set whose smallest singular value is below it is weak. Good sets have 0.2 to 0.4. Known by: computed, on square
/// and skewed shapes.
pub const WEAK: f64 = 0.05;

/// Singular values below this share of the largest are zero.
const ZERO: f64 = 1e-7;

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
    let values = slopes(told, corners).singular_values();
    let mut values: Vec<f64> = values.iter().copied().collect();
    values.sort_unstable_by(|a, b| b.total_cmp(a));
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
    null_space(&slopes.resize_vertically(rows, 0.0))
}

/// Orthonormal columns that a matrix with no fewer rows than columns takes to nothing.
fn null_space(matrix: &DMatrix<f64>) -> DMatrix<f64> {
    let columns = matrix.ncols();
    let svd = matrix.clone().svd(false, true);
    let largest = svd.singular_values.max();
    let zero = |way: &usize| svd.singular_values[*way] <= ZERO * largest;
    let ways: Vec<usize> = (0..columns).filter(zero).collect();
    match &svd.v_t {
        Some(rows) => DMatrix::from_fn(columns, ways.len(), |i, way| rows[(ways[way], i)]),
        None => DMatrix::zeros(columns, 0),
    }
}

/// Orthonormal columns: the ways in which the whole can move as one body without changing what was told. Six, less
/// those that statements about the vertical take away.
pub(super) fn free_ways(told: &[Told], corners: &Corners) -> DMatrix<f64> {
    let whole = rigid(corners.as_flattened(), 3);
    let upright: Vec<Told> = told.iter().copied().filter(|t| t.ties_the_vertical()).collect();
    if upright.is_empty() {
        return whole;
    }
    let seen = slopes(&upright, corners) * &whole;
    let rows = seen.nrows().max(6);
    &whole * null_space(&seen.resize_vertically(rows, 0.0))
}

/// Slopes of what was told by the 24 coordinates; one row of zeros when nothing was.
fn slopes(told: &[Told], corners: &Corners) -> DMatrix<f64> {
    if told.is_empty() {
        return DMatrix::zeros(1, 24);
    }
    let rows: Vec<f64> = told.iter().flat_map(|told| told.at(corners).1).collect();
    DMatrix::from_row_slice(told.len(), 24, &rows)
}
