//! What must stay free in a cavity, as it counts.

use geometry::{Axis, Cuboid, Face, Faces, Point};
use tape::Length;
use tape::inside::{self, Shape};
use tape::point::{FromCorner, locate};
use tape::reading::{self, Tape, limits_sigma};
use tape::survey::{Corner, Direction, Line};

use super::survey::{Survey, Surveyed};
use crate::assumed::Trust;
use crate::document::{Cavity, KeepOut, MeasuredFrom, Source};
use crate::{Id, Len};

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

/// The keep-outs of a cavity whose space is known so far, and those that have no place in it yet.
pub(super) fn evaluate(
    cavity: &Cavity,
    survey: &Survey,
    space: Option<Cuboid>,
    trust: &Trust,
) -> (Vec<KeepOutResult>, Vec<Unplaced>) {
    let frame = Frame {
        shape: survey.shape.as_deref(),
        space,
        trust,
    };
    let (mut placed, mut unplaced) = (Vec::new(), Vec::new());
    for keep_out in &cavity.keep_outs {
        match frame.region(keep_out) {
            Ok((cuboid, sigmas)) => placed.push(result(keep_out, cuboid, sigmas, trust)),
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
        margin: keep_out.margin.as_ref().map_or(trust.margin, Len::value),
        counts: !(keep_out.taken_out && keep_out.source == Source::Removable),
    }
}

/// What the places of keep-outs are counted in.
struct Frame<'a> {
    shape: Option<&'a Surveyed>,
    space: Option<Cuboid>,
    trust: &'a Trust,
}

/// A place along one axis with its standard uncertainty, both in mm.
#[derive(Clone, Copy)]
struct Place {
    mm: f64,
    sigma_mm: f64,
}

impl Place {
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
        Ok((Cuboid::between(lo, hi), sigmas))
    }

    /// Where places are counted from.
    fn start(&self, keep_out: &KeepOut) -> Result<[Place; 3], String> {
        let measured = keep_out.measured_from.unwrap_or(MeasuredFrom::FrontLeftBottom);
        match measured.corner() {
            Some(corner) => self.corner(corner),
            None => self.middle(keep_out),
        }
    }

    /// A corner of the cavity. Along each axis where it is at the far end it is as uncertain as the edge that leads there.
    fn corner(&self, corner: Corner) -> Result<[Place; 3], String> {
        let exact = |mm: f64| Place { mm, sigma_mm: 0.0 };
        if corner == Corner::ALL[0] {
            return Ok([exact(0.0); 3]);
        }
        if let Some(shape) = self.shape {
            let at = shape.corners()[corner.index()];
            return Ok(std::array::from_fn(|axis| {
                let direction = Direction::ALL[axis];
                let edge = Line::new(corner, corner.across(direction)).filter(|_| corner.far(direction));
                Place {
                    mm: at[axis],
                    sigma_mm: edge.map_or(0.0, |edge| shape.adjustment.line(edge).sigma_mm),
                }
            }));
        }
        let space = self
            .space
            .ok_or("the cavity is not measured up to the corner it is taped from")?;
        Ok(std::array::from_fn(|axis| {
            let far = corner.far(Direction::ALL[axis]);
            exact(if far { space.hi().0[axis].as_mm() } else { 0.0 })
        }))
    }

    /// The middle of a keep-out by its distances from corners.
    fn middle(&self, keep_out: &KeepOut) -> Result<[Place; 3], String> {
        let readings: Vec<FromCorner> = Corner::ALL
            .into_iter()
            .filter_map(|corner| {
                let len = keep_out.distances.from(corner)?;
                let sigma = Length::from_mm_up(self.read(len).sigma_mm);
                Some(FromCorner {
                    corner,
                    value: len.value(),
                    sigma,
                })
            })
            .collect();
        let located = match self.shape {
            Some(shape) => shape.locate(&readings),
            None => locate(&self.square()?, &readings),
        };
        let found = located.map_err(|refusal| refusal.to_string())?;
        Ok(std::array::from_fn(|axis| Place {
            mm: found.place[axis],
            sigma_mm: found.covariance[axis][axis].max(0.0).sqrt(),
        }))
    }

    /// The space of a cavity that is taken as square, with walls that are known exactly.
    fn square(&self) -> Result<inside::Cavity, String> {
        let far = self.space.ok_or("the cavity is not measured yet")?.hi();
        let corners = Corner::ALL.map(|corner| {
            std::array::from_fn(|axis| {
                let is_far = corner.far(Direction::ALL[axis]);
                if is_far { far.0[axis].as_mm() } else { 0.0 }
            })
        });
        let shape = Shape::exact(corners).map_err(|e| e.to_string())?;
        inside::Cavity::new(&shape, inside::Frame::default()).map_err(|e| e.to_string())
    }

    /// A length as it was taped. At a wall nothing is read.
    fn read(&self, len: &Len) -> Place {
        let value = len.value();
        let tape = Tape {
            class: self.trust.tape_class,
            ..Tape::of(len.written().units())
        };
        let sigma = match (len.plus_minus(), self.trust.reading_sigma) {
            (Some(limits), _) => limits_sigma(limits),
            (None, _) if value == Length::ZERO => Length::ZERO,
            (None, Some(sigma)) => sigma,
            (None, None) => reading::default_sigma(value.abs(), &tape),
        };
        Place {
            mm: value.as_mm(),
            sigma_mm: sigma.as_mm(),
        }
    }
}
