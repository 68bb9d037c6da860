//! Cavities to test with, and how well a survey knows them.

use super::super::shape::COORDINATES;
use super::super::*;

pub(super) type Corners8 = [[f64; 3]; 8];

/// Numbers that look random and are the same every time (`SplitMix64`, Steele and others 2014; known by: memory).
pub(super) struct Dice(pub(super) u64);

impl Dice {
    /// Evenly between -1 and 1.
    #[expect(clippy::cast_precision_loss, reason = "53 bits fit")]
    pub(super) fn even(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((mixed ^ (mixed >> 31)) >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
    }

    /// Normal, of standard deviation one (the polar method).
    pub(super) fn normal(&mut self) -> f64 {
        loop {
            let (a, b) = (self.even(), self.even());
            let square = a * a + b * b;
            if square > 0.0 && square < 1.0 {
                return a * (-2.0 * square.ln() / square).sqrt();
            }
        }
    }
}

/// A square cavity.
pub(super) fn square([length, width, height]: [f64; 3]) -> Corners8 {
    let floor = [[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]];
    std::array::from_fn(|corner| {
        let [x, y] = floor[corner % 4];
        [x, y, if corner < 4 { 0.0 } else { height }]
    })
}

/// A hollow of 42 x 16 x 9 in whose corners are up to `off` mm out of square along each axis.
pub(super) fn hollow(off: f64, dice: &mut Dice) -> Corners8 {
    square([1066.8, 406.4, 228.6]).map(|corner| corner.map(|mm| mm + off * dice.even()))
}

/// Turned about an axis through the origin by `turn` (radians, along the axis; Rodrigues), then moved.
pub(super) fn moved(corners: Corners8, turn: [f64; 3], shift: [f64; 3]) -> Corners8 {
    let rotation = rotation(turn);
    corners.map(|corner| std::array::from_fn(|axis| dot(rotation[axis], corner) + shift[axis]))
}

pub(super) fn rotation(turn: [f64; 3]) -> [[f64; 3]; 3] {
    let angle = dot(turn, turn).sqrt();
    let axis = turn.map(|part| if angle > 0.0 { part / angle } else { 0.0 });
    let (sin, cos) = angle.sin_cos();
    let [x, y, z] = axis;
    let across = [[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]];
    std::array::from_fn(|row| {
        std::array::from_fn(|column| {
            let same = if row == column { cos } else { 0.0 };
            same + sin * across[row][column] + (1.0 - cos) * axis[row] * axis[column]
        })
    })
}

pub(super) fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// How corners come out of a survey: what each normal error does to them, and their covariance.
pub(super) struct Survey {
    /// Error `n` of size one moves coordinate `c` by `moves[n][c]`.
    pub(super) moves: Vec<[f64; COORDINATES]>,
    pub(super) covariance: Vec<f64>,
}

impl Survey {
    /// Every edge and face diagonal taped once with this standard uncertainty: the least-squares corners, linearised at
    /// these, with inner constraints.
    pub(super) fn of_24(corners: &Corners8, sigma: f64) -> Self {
        let mut rows: Vec<[f64; COORDINATES]> = Vec::new();
        for a in 0..8 {
            for b in a + 1..8 {
                if Side::ALL
                    .iter()
                    .any(|side| [a, b].iter().all(|corner| side.corners().contains(corner)))
                {
                    rows.push(row(corners, a, b));
                }
            }
        }
        assert_eq!(rows.len(), 24);
        let rigid = rigid(corners);
        let mut normal = [[0.0; COORDINATES]; COORDINATES];
        for row in rows.iter().chain(&rigid) {
            for (a, line) in normal.iter_mut().enumerate() {
                for (b, entry) in line.iter_mut().enumerate() {
                    *entry += row[a] * row[b];
                }
            }
        }
        let inverse = inverted(normal);
        let moves: Vec<[f64; COORDINATES]> = rows
            .iter()
            .map(|row| std::array::from_fn(|c| sigma * (0..COORDINATES).map(|d| inverse[c][d] * row[d]).sum::<f64>()))
            .collect();
        let covariance = (0..COORDINATES * COORDINATES)
            .map(|n| moves.iter().map(|by| by[n / COORDINATES] * by[n % COORDINATES]).sum())
            .collect();
        Self { moves, covariance }
    }

    /// The corners as one survey of them finds them.
    pub(super) fn found(&self, corners: &Corners8, dice: &mut Dice) -> Corners8 {
        let mut found = *corners;
        for by in &self.moves {
            let error = dice.normal();
            for (n, by) in by.iter().enumerate() {
                found[n / 3][n % 3] += error * by;
            }
        }
        found
    }
}

/// How the distance of two corners changes with the coordinates.
fn row(corners: &Corners8, a: usize, b: usize) -> [f64; COORDINATES] {
    let way: [f64; 3] = std::array::from_fn(|axis| corners[b][axis] - corners[a][axis]);
    let length = dot(way, way).sqrt();
    let mut row = [0.0; COORDINATES];
    for axis in 0..3 {
        row[3 * a + axis] = -way[axis] / length;
        row[3 * b + axis] = way[axis] / length;
    }
    row
}

/// Six motions that leave the shape, square to each other and of length one.
pub(super) fn rigid(corners: &Corners8) -> Vec<[f64; COORDINATES]> {
    let mut motions: Vec<[f64; COORDINATES]> = Vec::new();
    for kind in 0..6 {
        let mut motion: [f64; COORDINATES] = std::array::from_fn(|n| {
            let (corner, axis) = (corners[n / 3], n % 3);
            match kind {
                0..3 => f64::from(u8::from(axis == kind)),
                _ if axis == (kind + 1) % 3 => -corner[(kind + 2) % 3],
                _ if axis == (kind + 2) % 3 => corner[(kind + 1) % 3],
                _ => 0.0,
            }
        });
        for other in &motions {
            let along: f64 = motion.iter().zip(other).map(|(a, b)| a * b).sum();
            motion
                .iter_mut()
                .zip(other)
                .for_each(|(part, other)| *part -= along * other);
        }
        let length = motion.iter().map(|part| part * part).sum::<f64>().sqrt();
        motions.push(motion.map(|part| part / length));
    }
    motions
}

/// By Gauss and Jordan; the matrix is definite.
fn inverted(mut matrix: [[f64; COORDINATES]; COORDINATES]) -> [[f64; COORDINATES]; COORDINATES] {
    for pivot in 0..COORDINATES {
        let inverse = 1.0 / matrix[pivot][pivot];
        matrix[pivot][pivot] = 1.0;
        matrix[pivot] = matrix[pivot].map(|entry| entry * inverse);
        let pivot_row = matrix[pivot];
        for (_, row) in matrix.iter_mut().enumerate().filter(|(n, _)| *n != pivot) {
            let factor = row[pivot];
            row[pivot] = 0.0;
            row.iter_mut()
                .zip(&pivot_row)
                .for_each(|(entry, pivot)| *entry -= factor * pivot);
        }
    }
    matrix
}
