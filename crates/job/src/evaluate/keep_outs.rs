//! What must stay free in a cavity, as it counts.

mod corners;
#[cfg(test)]
mod tests;

use geometry::{Axis, Cuboid, Face, Faces, Point};
use tape::Length;
use tape::point::FromCorner;
use tape::survey::{Corner, Direction};

use super::cavity::Dimension;
use super::survey::{Survey, Surveyed};
use crate::assumed::Trust;
use crate::document::{Cavity, KeepOut, MeasuredFrom, Source};
use crate::{Id, Len};
use corners::Corners;

/// A keep-out as it counts.
#[derive(Clone, Debug, PartialEq)]
pub struct KeepOutResult {
    /// Its number.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// Where it comes from.
    pub source: Source,
    /// The region, as it was taped, with all that it moves through.
    pub cuboid: Cuboid,
    /// Standard uncertainty of each of its faces.
    pub sigmas: Faces<Length>,
    /// The region that is kept free for sure: with so many of them at each face.
    pub sure: Cuboid,
    /// The margin asked for to it.
    pub margin: Length,
    /// Whether it counts: not taken out.
    pub counts: bool,
}

impl KeepOutResult {
    /// What is kept free beyond a face for what the tape may be off.
    pub fn held(&self, face: Face) -> Length {
        (self.sure.face(face) - self.cuboid.face(face)).abs()
    }
}

/// A keep-out that has no place yet, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unplaced {
    /// Its number.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// Why.
    pub why: String,
}

/// The keep-outs of a cavity whose space is known so far, and those that have no place in it yet and need one.
pub(super) fn evaluate(
    cavity: &Cavity,
    survey: &Survey,
    dimensions: &[Option<Dimension>; 3],
    trust: &Trust,
) -> (Vec<KeepOutResult>, Vec<Unplaced>) {
    let frame = Frame {
        shape: survey.shape.as_deref(),
        corners: Corners::new(survey, dimensions),
        trust,
    };
    let (mut placed, mut unplaced) = (Vec::new(), Vec::new());
    for keep_out in &cavity.keep_outs {
        match frame.region(keep_out) {
            Ok((cuboid, sigmas)) => placed.push(result(keep_out, cuboid, sigmas, trust)),
            // What is taken out is in nobody's way, wherever it was.
            Err(_) if !counts(keep_out) => {}
            Err(why) => unplaced.push(Unplaced {
                id: keep_out.id,
                name: keep_out.name.clone(),
                why,
            }),
        }
    }
    (placed, unplaced)
}

fn result(keep_out: &KeepOut, cuboid: Cuboid, sigmas: Faces<Length>, trust: &Trust) -> KeepOutResult {
    let held = Faces(sigmas.0.map(|sigma| Length::from_mm_up(sigma.as_mm() * trust.sigmas)));
    KeepOutResult {
        id: keep_out.id,
        name: keep_out.name.clone(),
        source: keep_out.source,
        cuboid,
        sigmas,
        sure: cuboid.grown(held).unwrap_or(cuboid),
        margin: margin(keep_out, trust),
        counts: counts(keep_out),
    }
}

/// The margin asked for to a keep-out.
pub(super) fn margin(keep_out: &KeepOut, trust: &Trust) -> Length {
    keep_out.margin.as_ref().map_or(trust.margin, Len::value)
}

fn counts(keep_out: &KeepOut) -> bool {
    !(keep_out.taken_out && keep_out.source == Source::Removable)
}

/// What the places of keep-outs are counted in.
struct Frame<'a> {
    shape: Option<&'a Surveyed>,
    corners: Corners<'a>,
    trust: &'a Trust,
}

/// Where a wall is along the axis across it, in mm, beside the four corners of a region: between the corners of the wall
/// as they lie, straight from one to the next.
fn wall_beside(corners: &[[f64; 3]; 8], axis: Axis, far: bool, region: &Cuboid) -> [f64; 4] {
    let across = axis.index();
    let [first, second] = [(across + 1) % 3, (across + 2) % 3];
    let of_wall = |far_first: bool, far_second: bool| {
        let found = Corner::ALL.into_iter().find(|corner| {
            corner.far(Direction::ALL[across]) == far
                && corner.far(Direction::ALL[first]) == far_first
                && corner.far(Direction::ALL[second]) == far_second
        });
        found.map_or([0.0; 3], |corner| corners[corner.index()])
    };
    let (near, along) = (of_wall(false, false), of_wall(true, false));
    let (beside, opposite) = (of_wall(false, true), of_wall(true, true));
    let share = |at: f64, from: f64, to: f64| ((at - from) / (to - from)).clamp(0.0, 1.0);
    let end = |axis: usize, high: bool| {
        let corner = if high { region.hi() } else { region.lo() };
        corner.0[axis].as_mm()
    };
    let at = |(high_first, high_second): (bool, bool)| {
        let go = share(end(first, high_first), near[first], along[first]);
        let turn = share(end(second, high_second), near[second], beside[second]);
        let low = near[across] + go * (along[across] - near[across]);
        let high = beside[across] + go * (opposite[across] - beside[across]);
        low + turn * (high - low)
    };
    [(false, false), (true, false), (false, true), (true, true)].map(at)
}

/// A place along one axis with its standard uncertainty, both in mm.
#[derive(Clone, Copy)]
struct Place {
    mm: f64,
    sigma_mm: f64,
}

impl Place {
    const EXACTLY_ZERO: Self = Self { mm: 0.0, sigma_mm: 0.0 };

    fn and(self, other: Self) -> Self {
        Self {
            mm: self.mm + other.mm,
            sigma_mm: self.sigma_mm.hypot(other.sigma_mm),
        }
    }

    const fn back(self) -> Self {
        Self { mm: -self.mm, ..self }
    }
}

impl Frame<'_> {
    /// The region with all that it moves through, and the sigma of each face.
    ///
    /// # Errors
    ///
    /// What is missing, in words.
    fn region(&self, keep_out: &KeepOut) -> Result<(Cuboid, Faces<Length>), String> {
        let start = self.start(keep_out)?;
        let along = keep_out.shape.and_then(crate::KeepOutShape::along);
        let across = match (along, &keep_out.diameter) {
            (None, _) => None,
            (Some(_), None) => return Err("its diameter is not known".to_owned()),
            (Some(_), Some(diameter)) => Some(self.read(diameter)),
        };
        let (mut lo, mut hi) = (Point::ZERO, Point::ZERO);
        let mut sigmas = Faces::all(Length::ZERO);
        for axis in Axis::ALL {
            let i = axis.index();
            let told = |len: &Len| {
                let place = self.read(len);
                start[i].and(if keep_out.is_counted_back(axis) {
                    place.back()
                } else {
                    place
                })
            };
            let ends = match (along, across) {
                // Across a round one: half of the diameter to both sides of its middle.
                (Some(own), Some(diameter)) if own != axis => {
                    let (middle, half) = (told(&keep_out.from[i]), diameter.mm / 2.0);
                    let sigma_mm = middle.sigma_mm.hypot(diameter.sigma_mm / 2.0);
                    [-half, half].map(|half| Place {
                        mm: middle.mm + half,
                        sigma_mm,
                    })
                }
                _ => {
                    let mut ends = [told(&keep_out.from[i]), told(&keep_out.to[i])];
                    ends.sort_by(|a, b| a.mm.total_cmp(&b.mm));
                    ends
                }
            };
            for (end, face) in ends.into_iter().zip([Face::low(axis), Face::high(axis)]) {
                let moved = keep_out.travel.towards(face).map(|len| self.read(len));
                let place = match moved {
                    Some(by) => end.and(if face.is_high() { by } else { by.back() }),
                    None => end,
                };
                let at = Length::from_mm(place.mm);
                if face.is_high() {
                    hi[axis] = at;
                } else {
                    lo[axis] = at;
                }
                sigmas[face] = Length::from_mm_up(place.sigma_mm);
            }
        }
        let cuboid = Cuboid::between(lo, hi);
        Ok((self.over_leaning_walls(keep_out, cuboid), sigmas))
    }

    /// The region with what the walls that it was taped from lean, over its own extent: the tape was hooked to the wall
    /// beside it, and that is nowhere just where it is at the corner.
    fn over_leaning_walls(&self, keep_out: &KeepOut, cuboid: Cuboid) -> Cuboid {
        let measured = keep_out.measured_from.unwrap_or(MeasuredFrom::FrontLeftBottom);
        let (Some(shape), Some(corner)) = (self.shape, measured.corner()) else {
            return cuboid;
        };
        let corners = shape.corners();
        let (mut lo, mut hi) = (cuboid.lo(), cuboid.hi());
        for axis in Axis::ALL {
            let i = axis.index();
            let own = corners[corner.index()][i];
            let leans = wall_beside(&corners, axis, corner.far(Direction::ALL[i]), &cuboid).map(|at| at - own);
            let [least, most] = [
                leans.iter().copied().fold(0.0, f64::min),
                leans.iter().copied().fold(0.0, f64::max),
            ];
            lo[axis] += Length::from_mm_down(least);
            hi[axis] += Length::from_mm_up(most);
        }
        Cuboid::between(lo, hi)
    }

    /// Where places are counted from.
    fn start(&self, keep_out: &KeepOut) -> Result<[Place; 3], String> {
        let measured = keep_out.measured_from.unwrap_or(MeasuredFrom::FrontLeftBottom);
        match measured.corner() {
            Some(corner) => self.corners.corner(corner),
            None => self.middle(keep_out),
        }
    }

    /// The middle of a keep-out by its distances from corners.
    fn middle(&self, keep_out: &KeepOut) -> Result<[Place; 3], String> {
        let readings: Vec<FromCorner> = Corner::ALL
            .into_iter()
            .filter_map(|corner| {
                let len = keep_out.distances.distance(corner)?;
                let sigma = Length::from_mm_up(self.read(len).sigma_mm).max(Length::tenths_mm(1));
                Some(FromCorner {
                    corner,
                    value: len.value(),
                    sigma,
                })
            })
            .collect();
        self.corners.point(&readings)
    }

    /// A length as it was taped. At a wall nothing is read.
    fn read(&self, len: &Len) -> Place {
        let value = len.value();
        let at_the_wall = value == Length::ZERO && len.plus_minus().is_none();
        let sigma = if at_the_wall {
            Length::ZERO
        } else {
            self.trust.sigma_of(len)
        };
        Place {
            mm: value.as_mm(),
            sigma_mm: sigma.as_mm(),
        }
    }
}
