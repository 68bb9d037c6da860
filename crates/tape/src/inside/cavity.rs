//! A shape with axes laid on it and its walls.

use super::frame::{Axes, Frame};
use super::jet::Jet;
use super::refusal::NoCuboid;
use super::rounding;
use super::shape::{COORDINATES, Shape};
use super::side::Side;
use super::wall::{self, Wall};
use crate::Length;

/// A shape with axes laid on it and a wall through each face: what cuboids are fitted into.
///
/// Inside, lengths are counted in a power of two of millimetres that makes the cavity about one, which loses nothing.
#[derive(Clone, Debug)]
pub struct Cavity {
    frame: Frame,
    axes: Axes,
    pub(super) scale: f64,
    pub(super) walls: Vec<Wall>,
    /// The corners in the axes of the cavity.
    pub(super) corners: [[f64; 3]; 8],
    /// And in those of the survey.
    pub(super) surveyed: [[f64; 3]; 8],
    pub(super) covariance: Box<[[f64; COORDINATES]; COORDINATES]>,
    /// How the way from what the cuboid is held by to the middle of the corners changes with each coordinate.
    pub(super) to_middle: [[f64; 3]; COORDINATES],
    /// Whether any corner is uncertain.
    pub(super) uncertain: bool,
}

impl Cavity {
    /// Lays axes on a shape.
    ///
    /// # Errors
    ///
    /// [`NoCuboid::Mirrored`] or [`NoCuboid::Twisted`].
    pub fn new(shape: &Shape, frame: Frame) -> Result<Self, NoCuboid> {
        untwisted(shape)?;
        let scale = shape.extent().log2().ceil().exp2();
        let corners = shape.corners().map(|corner| corner.map(|mm| mm / scale));
        let fixed = corners.map(|corner| corner.map(Jet::fixed));
        let directions = frame.directions(&fixed).map(|direction| direction.map(|jet| jet.value));
        let origin = frame.origin();
        let mut covariance = Box::new([[0.0; COORDINATES]; COORDINATES]);
        for (a, row) in covariance.iter_mut().enumerate() {
            for (b, entry) in row.iter_mut().enumerate() {
                *entry = f64::midpoint(shape.covariance(a, b), shape.covariance(b, a)) / (scale * scale);
            }
        }
        let in_axes = |corner: [f64; 3]| -> [f64; 3] {
            let from_origin = [0, 1, 2].map(|axis| corner[axis] - corners[origin][axis]);
            directions.map(|direction| direction.iter().zip(from_origin).map(|(d, p)| d * p).sum())
        };
        Ok(Self {
            frame,
            axes: Axes {
                origin: shape.corners()[origin],
                directions,
            },
            scale,
            walls: wall::walls(&corners, &covariance, frame),
            to_middle: wall::to_middle(&corners, frame),
            corners: corners.map(in_axes),
            surveyed: corners,
            uncertain: covariance.iter().flatten().any(|&entry| entry != 0.0),
            covariance,
        })
    }

    /// The floor and the rail that the axes are laid on.
    pub fn frame(&self) -> Frame {
        self.frame
    }

    /// Where the axes lie in the axes of the survey.
    pub fn axes(&self) -> Axes {
        self.axes
    }

    /// How far apart the two diagonals of each face pass, in the order of [`Side::ALL`]: zero where it is flat. Rounded
    /// up.
    pub fn warps(&self) -> [Length; 6] {
        Side::ALL.map(|side| {
            // The first wall of a side holds one diagonal, and the other diagonal is parallel to it.
            let holds = &self.walls[2 * side.index()];
            let other = self.corners[side.corners()[1]];
            rounding::uncertainty(holds.distance(other).abs() * self.scale)
        })
    }

    /// The standard uncertainty of a length that changes so with the corners, in the units of the cavity.
    pub(super) fn sigma_by(&self, gradient: &[f64; COORDINATES]) -> f64 {
        let spread = |row: &[f64; COORDINATES]| row.iter().zip(gradient).map(|(c, g)| c * g).sum::<f64>();
        let variance: f64 = self
            .covariance
            .iter()
            .zip(gradient)
            .map(|(row, g)| g * spread(row))
            .sum();
        variance.max(0.0).sqrt()
    }

    /// The corners in these axes, in mm.
    pub fn corners(&self) -> [[f64; 3]; 8] {
        self.corners.map(|corner| corner.map(|part| part * self.scale))
    }
}

/// Refuses a shape that is folded over at a corner.
fn untwisted(shape: &Shape) -> Result<(), NoCuboid> {
    let openings = shape.openings();
    let folded = |opening: f64| opening.is_nan() || opening <= 0.0;
    if openings.iter().all(|&opening| opening < 0.0) {
        return Err(NoCuboid::Mirrored);
    }
    let worst = (0..8).min_by(|&a, &b| openings[a].total_cmp(&openings[b]));
    match worst {
        Some(corner) if folded(openings[corner]) => Err(NoCuboid::Twisted { corner }),
        _ => Ok(()),
    }
}
