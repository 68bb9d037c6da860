//! Adjusting a survey: the shape that fits all readings best, and how well it is known.

use nalgebra::{DMatrix, Matrix3, Vector3};

use super::chance::{CAUGHT, chi_square_below};
use super::closing::open_triangles;
use super::corner::{Corner, Direction, Line};
use super::observation::{Corners, Observation, Told, distance};
use super::refusal::{Refusal, Short};
use super::solve::{Measured, NO_CHECK, Solved, solve_within};
use super::start::{square_box, start_box};
use super::strength::{Strength, free_ways, loose_faces, loose_lines, strength};

/// The distance between two corners of an adjusted shape.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LineFigure {
    /// Which line.
    pub line: Line,
    /// Its adjusted length in millimetres.
    pub mm: f64,
    /// Standard uncertainty of that.
    pub sigma_mm: f64,
}

/// What the others say about one reading or statement.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure {
    /// Adjusted less read, in millimetres.
    pub residual_mm: f64,
    /// The redundancy number: how much of it the others check, 0 not at all, 1 fully.
    pub redundancy: f64,
    /// The standardised residual: the residual over its own sigma. `None` without a check.
    pub standardised: Option<f64>,
    /// The smallest slip that would be caught 8 times in 10, in millimetres. `None` without a check.
    pub detectable_mm: Option<f64>,
}

/// Whether the readings agree as well as their sigmas say.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Agreement {
    /// There is no spare reading to tell by.
    NoSpare,
    /// As well as expected, 19 times in 20.
    AsExpected,
    /// Better: sigmas are set too large, or readings were made to fit.
    Better,
    /// Worse: a slip, or sigmas are set too small.
    Worse,
}

/// An adjusted survey.
///
/// The corners stand in a frame of their own: front left bottom at the origin, x along the left edge of the floor,
/// the floor's front edge in the plane of x and y, z up; where statements tell the vertical, z is vertical and x the
/// level direction along that edge.
#[derive(Clone, Debug, PartialEq)]
pub struct Adjustment {
    /// The adjusted corners, in millimetres.
    pub corners: Corners,
    /// All 28 lines, in walking order.
    pub lines: [LineFigure; 28],
    /// What the others say about each reading and statement, in their order.
    pub figures: Vec<Figure>,
    /// How many readings there are more than it takes.
    pub spare: usize,
    /// Sum of the squares of residuals over sigmas.
    pub weighted_squares: f64,
    /// The square box that it started from: length, width, height.
    pub start: [f64; 3],
    /// How firmly the readings hold that box.
    pub strength_at_start: Strength,
    /// How firmly they hold the adjusted shape.
    pub strength: Strength,
    /// Corners at which the shape is inside out: with them it is no shape of a cavity, and a slip is gross.
    pub folded: Vec<Corner>,
    covariance: DMatrix<f64>,
    follow: DMatrix<f64>,
}

impl Adjustment {
    /// Covariance of two coordinates, each a corner and 0 to 2 for x, y, z, in mm².
    ///
    /// It belongs to the shape held still on the whole (inner constraints): use it for figures that do not depend on
    /// where the axes sit, such as distances. See [`Adjustment::variance`].
    pub fn covariance(&self, (a, i): (Corner, usize), (b, j): (Corner, usize)) -> f64 {
        self.covariance[(a.index() * 3 + i, b.index() * 3 + j)]
    }

    /// The whole 24 by 24 matrix of it, row by row, corner by corner in the order of [`Corner::ALL`].
    pub fn covariance_rows(&self) -> Vec<[f64; 24]> {
        let row = |i: usize| std::array::from_fn(|j| self.covariance[(i, j)]);
        (0..24).map(row).collect()
    }

    /// Variance of a figure that changes by `slopes` with the corners, in the square of its unit.
    pub fn variance(&self, slopes: &Corners) -> f64 {
        let slopes = DMatrix::from_column_slice(24, 1, slopes.as_flattened());
        (slopes.transpose() * &self.covariance * slopes)[0].max(0.0)
    }

    /// The adjusted length of a line.
    pub fn line(&self, line: Line) -> LineFigure {
        let [from, to] = line.ends().map(Corner::index);
        let (mm, slopes) = distance(&self.corners, from, to);
        LineFigure {
            line,
            mm,
            sigma_mm: self.sigma_of(&slopes),
        }
    }

    /// What the shape gives for something that could be measured, and the standard uncertainty of that, in
    /// millimetres.
    pub fn predict(&self, told: Told) -> (f64, f64) {
        let (mm, slopes) = told.at(&self.corners);
        (mm, self.sigma_of(&slopes))
    }

    /// [`Adjustment::weighted_squares`] for each spare reading: 1 when sigmas are right; `None` without spare ones.
    pub fn reference_variance(&self) -> Option<f64> {
        (self.spare > 0).then(|| self.weighted_squares / count(self.spare))
    }

    /// Whether the readings agree as well as their sigmas say: 19 times in 20, two-sided.
    pub fn agreement(&self) -> Agreement {
        if self.spare == 0 {
            return Agreement::NoSpare;
        }
        match chi_square_below(self.weighted_squares, self.spare) {
            below if below < 0.025 => Agreement::Better,
            below if below > 0.975 => Agreement::Worse,
            _ => Agreement::AsExpected,
        }
    }

    /// By how much all sigmas would have to be multiplied to fit the readings, when there are spare readings enough
    /// to tell (10) and they agree much better or worse than the sigmas say.
    pub fn fitting_sigma_factor(&self) -> Option<f64> {
        let apart = matches!(self.agreement(), Agreement::Better | Agreement::Worse);
        let variance = self.reference_variance()?;
        (apart && self.spare >= 10).then(|| variance.sqrt())
    }

    fn sigma_of(&self, slopes: &[f64; 24]) -> f64 {
        let slopes = DMatrix::from_column_slice(24, 1, slopes);
        (slopes.transpose() * &self.covariance * slopes)[0].max(0.0).sqrt()
    }

    /// How two standardised residuals go together, -1 to 1; `None` when one has no check.
    pub(super) fn correlation(&self, a: usize, b: usize) -> Option<f64> {
        let [of_a, of_b] = [a, b].map(|i| self.figures[i].redundancy);
        let checked = of_a >= NO_CHECK && of_b >= NO_CHECK;
        let both = -self.follow.row(a).dot(&self.follow.row(b));
        checked.then(|| both / (of_a * of_b).sqrt())
    }

    pub(super) fn covariance_matrix(&self) -> &DMatrix<f64> {
        &self.covariance
    }
}

#[expect(clippy::cast_precision_loss, reason = "counts of readings are small")]
fn count(n: usize) -> f64 {
    n as f64
}

/// Adjusts a survey.
///
/// Sigmas are used as they are told. All of the readings are used; who drops one does so before.
///
/// # Errors
///
/// [`Refusal`] when a reading makes no sense, readings contradict each other whatever the shape, or the shape is not
/// determined.
pub fn adjust(observations: &[Observation]) -> Result<Adjustment, Refusal> {
    check_each(observations)?;
    let open = open_triangles(observations);
    if !open.is_empty() {
        return Err(Refusal::CannotClose(open));
    }
    adjust_anyway(observations)
}

/// As many steps as an adjustment tries before it is said not to settle. Sensible surveys take about 8, those with a slip
/// of a foot up to 300; known by: computed.
const MOST_TRIES: usize = 400;

/// Refuses what makes no sense by itself.
pub(super) fn check_each(observations: &[Observation]) -> Result<(), Refusal> {
    for (index, Observation { told, value, sigma }) in observations.iter().enumerate() {
        let positive = matches!(told, Told::Distance(..));
        let not_negative = positive || matches!(told, Told::Offset { .. });
        let wrong = if !told.makes_sense() {
            "is between corners or edges that it cannot be between; choose others"
        } else if sigma.nm() <= 0 {
            "has no uncertainty; give one above zero"
        } else if (positive && value.nm() <= 0) || (not_negative && value.nm() < 0) {
            "is no distance; read it again"
        } else {
            continue;
        };
        return Err(Refusal::Senseless {
            index,
            told: *told,
            wrong,
        });
    }
    Ok(())
}

/// Adjusts a survey even if triangles in it cannot close: what comes of it serves to find the slip, not as a shape.
pub(super) fn adjust_anyway(observations: &[Observation]) -> Result<Adjustment, Refusal> {
    match adjust_within(observations, MOST_TRIES)? {
        (adjustment, true) => Ok(adjustment),
        (_, false) => Err(Refusal::Unsettled),
    }
}

/// As [`adjust_anyway`], but what has not settled after so many tries of a step stays on its way; tells whether it has.
pub(super) fn adjust_within(observations: &[Observation], tries: usize) -> Result<(Adjustment, bool), Refusal> {
    let told: Vec<Told> = observations.iter().map(|o| o.told).collect();
    let short = |strength: Strength, corners: &Corners| {
        let lines = loose_lines(&told, corners);
        Refusal::Short(Short {
            count: told.len(),
            strength,
            faces: loose_faces(&lines),
            lines,
        })
    };
    let sides = start_box(observations);
    let start = square_box(sides);
    let strength_at_start = strength(&told, &start);
    if strength_at_start.is_short() {
        return Err(short(strength_at_start, &start));
    }
    let cavity = Cavity {
        observations,
        told: &told,
    };
    let solved = settle(&cavity, &start, tries).ok_or(Refusal::Unsettled)?;
    let corners = corners_of(&solved.unknowns);
    let strength = strength(&told, &corners);
    if strength.is_short() {
        return Err(fallen_flat(observations, &corners).unwrap_or_else(|| short(strength, &corners)));
    }
    let spare = observations.len() - strength.wanted;
    let figures = figures(observations, &solved);
    let upright = told.iter().any(|t| t.ties_the_vertical());
    let (corners, covariance) = lay(&corners, &solved.cofactors, upright);
    let blank = Line::all().map(|line| LineFigure {
        line,
        mm: 0.0,
        sigma_mm: 0.0,
    });
    let mut adjustment = Adjustment {
        folded: folded(&corners),
        corners,
        lines: blank,
        figures,
        spare,
        weighted_squares: solved.weighted_squares,
        start: sides,
        strength_at_start,
        strength,
        covariance,
        follow: solved.follow,
    };
    adjustment.lines = Line::all().map(|line| adjustment.line(line));
    Ok((adjustment, solved.settled))
}

/// A shape that the readings hold at the start and not where they lead: a corner that they pulled flat.
fn fallen_flat(observations: &[Observation], corners: &Corners) -> Option<Refusal> {
    let told: Vec<Told> = observations.iter().map(|o| o.told).collect();
    let loose = loose_lines(&told, corners);
    let at_all = |corner: &Corner| !loose.is_empty() && loose.iter().all(|line| line.ends().contains(corner));
    let corner = Corner::ALL.into_iter().find(at_all)?;
    let to_it = observations
        .iter()
        .enumerate()
        .filter_map(|(index, o)| Some((index, o.told.line()?)));
    let (readings, lines) = to_it.filter(|(_, line)| line.ends().contains(&corner)).unzip();
    Some(Refusal::CannotMeet {
        corner,
        lines,
        readings,
    })
}

fn figures(observations: &[Observation], solved: &Solved) -> Vec<Figure> {
    let each = observations.iter().zip(&solved.residuals).zip(solved.redundancy());
    each.map(|((observation, &residual_mm), redundancy)| {
        // The sigma of the residual is this times the root of the redundancy; a slip shows by the redundancy only.
        let sigma = observation.sigma.as_mm();
        let checked = redundancy >= NO_CHECK;
        Figure {
            residual_mm,
            redundancy,
            standardised: checked.then(|| residual_mm / (sigma * redundancy.sqrt())),
            detectable_mm: checked.then(|| CAUGHT * sigma / redundancy.sqrt()),
        }
    })
    .collect()
}

/// Solves from the start. A corner that comes out on the wrong side of its three neighbours is put on the other side
/// and all is solved again: with few readings both fit alike, and only one is a cavity.
fn settle(cavity: &Cavity<'_>, start: &Corners, mut tries: usize) -> Option<Solved> {
    let mut best = solve_within(cavity, start.as_flattened(), &mut tries)?;
    for _ in 0..8 {
        let corners = corners_of(&best.unknowns);
        let Some(&corner) = folded(&corners).first() else {
            break;
        };
        let Some(other) = solve_within(cavity, mirrored(corners, corner).as_flattened(), &mut tries) else {
            break;
        };
        let fewer = folded(&corners_of(&other.unknowns)).len() < folded(&corners).len();
        let unsettled = best.settled && !other.settled;
        if !fewer || unsettled || other.weighted_squares > best.weighted_squares + 1e-6 * (1.0 + best.weighted_squares)
        {
            break;
        }
        best = other;
    }
    Some(best)
}

fn corners_of(unknowns: &[f64]) -> Corners {
    std::array::from_fn(|corner| std::array::from_fn(|i| unknowns[corner * 3 + i]))
}

fn point(corners: &Corners, corner: Corner) -> Vector3<f64> {
    Vector3::from(corners[corner.index()])
}

/// The corners whose three edges lie the wrong way round: mirror images of what a cavity has.
fn folded(corners: &Corners) -> Vec<Corner> {
    let wrong = |&corner: &Corner| {
        let edges = Direction::ALL.map(|d| point(corners, corner.across(d)) - point(corners, corner));
        let turned = Direction::ALL.into_iter().filter(|&d| corner.far(d)).count();
        let volume = edges[0].cross(&edges[1]).dot(&edges[2]);
        (volume > 0.0) != turned.is_multiple_of(2)
    };
    Corner::ALL.into_iter().filter(wrong).collect()
}

/// One corner on the other side of the plane through its three neighbours.
fn mirrored(mut corners: Corners, corner: Corner) -> Corners {
    let [a, b, c] = Direction::ALL.map(|d| point(&corners, corner.across(d)));
    if let Some(normal) = (b - a).cross(&(c - a)).try_normalize(1e-12) {
        let off = (point(&corners, corner) - a).dot(&normal);
        corners[corner.index()] = (point(&corners, corner) - normal * (2.0 * off)).into();
    }
    corners
}

/// Lays the shape into its frame.
fn lay(corners: &Corners, cofactors: &DMatrix<f64>, upright: bool) -> (Corners, DMatrix<f64>) {
    let origin = point(corners, Corner::ALL[0]);
    // A floor without an area, as gross slips can make it, has no frame of its own.
    let turn = frame(corners, upright).unwrap_or_else(Matrix3::identity);
    let laid = corners.map(|corner| (turn * (Vector3::from(corner) - origin)).into());
    let mut covariance = DMatrix::zeros(24, 24);
    for a in 0..8 {
        for b in 0..8 {
            let block = turn * cofactors.fixed_view::<3, 3>(a * 3, b * 3) * turn.transpose();
            covariance.fixed_view_mut::<3, 3>(a * 3, b * 3).copy_from(&block);
        }
    }
    (laid, covariance)
}

/// The turn into the frame of an [`Adjustment`].
fn frame(corners: &Corners, upright: bool) -> Option<Matrix3<f64>> {
    let [origin, along, across] = [0, 1, 3].map(|index| point(corners, Corner::ALL[index]));
    let along = along - origin;
    let (x, z) = if upright {
        let level = Vector3::new(along.x, along.y, 0.0);
        (level.try_normalize(1e-9)?, Vector3::z())
    } else {
        let x = along.try_normalize(1e-9)?;
        (x, x.cross(&(across - origin)).try_normalize(1e-9)?)
    };
    Some(Matrix3::from_columns(&[x, z.cross(&x), z]).transpose())
}

/// The observations as functions of the 24 coordinates.
struct Cavity<'a> {
    observations: &'a [Observation],
    told: &'a [Told],
}

impl Measured for Cavity<'_> {
    fn count(&self) -> usize {
        self.observations.len()
    }

    fn measured(&self, index: usize) -> (f64, f64) {
        let Observation { value, sigma, .. } = self.observations[index];
        (value.as_mm(), sigma.as_mm())
    }

    fn at(&self, unknowns: &[f64], index: usize, slopes: &mut [f64]) -> f64 {
        let (value, found) = self.told[index].at(&corners_of(unknowns));
        slopes.copy_from_slice(&found);
        value
    }

    fn free(&self, unknowns: &[f64]) -> DMatrix<f64> {
        free_ways(self.told, &corners_of(unknowns))
    }
}

#[cfg(test)]
mod tests;
