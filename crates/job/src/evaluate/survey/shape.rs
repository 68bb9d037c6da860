//! The adjusted shape of a cavity, in the frame that boxes are placed in.

use geometry::{Axis, Cuboid, Point, Size};
use tape::Length;
use tape::inside::{self, KeepBack, NoCuboid, Space};
use tape::point::{self, FromCorner, Located, NoPoint, locate};
use tape::survey::{self, Adjustment, Corner, Direction, Face, Line};

use super::Observed;

/// The adjusted shape of a cavity with its walls.
///
/// The frame is the cavity's: its front-left-bottom corner at the origin, axes along the floor and the rail that it is
/// laid on.
#[derive(Clone, Debug)]
pub struct Surveyed {
    /// The adjusted survey.
    pub adjustment: Adjustment,
    /// The largest cuboid that the readings guarantee; its place is in the axes of the walls.
    pub usable: inside::Usable,
    pub(crate) observed: Observed,
    walls: inside::Cavity,
    /// The front-left-bottom corner in the axes of the walls.
    origin: [Length; 3],
}

impl PartialEq for Surveyed {
    /// The walls follow from the adjustment and the frame.
    fn eq(&self, other: &Self) -> bool {
        self.adjustment == other.adjustment
            && self.walls.frame() == other.walls.frame()
            && self.usable == other.usable
            && self.observed == other.observed
    }
}

/// Two lines that would be equally long in a square cavity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OutOfSquare {
    /// The face whose diagonals they are.
    pub face: Face,
    /// By how much they differ.
    pub by: Length,
    /// The longer of them.
    pub longer: Line,
}

impl Surveyed {
    /// The shape with `sigmas` standard uncertainties kept back from its walls.
    pub(super) fn new(
        adjustment: Adjustment,
        observed: Observed,
        frame: inside::Frame,
        sigmas: f64,
    ) -> Result<Self, NoCuboid> {
        let covariance = adjustment.covariance_rows().concat();
        let shape = inside::Shape::new(adjustment.corners, &covariance)?;
        let walls = inside::Cavity::new(&shape, frame)?;
        let usable = walls.largest(KeepBack::sigmas(sigmas))?;
        let origin = walls.corners()[0].map(Length::from_mm);
        Ok(Self {
            adjustment,
            usable,
            observed,
            walls,
            origin,
        })
    }

    /// The corners in the cavity's frame, in mm, in the order of [`Corner::ALL`].
    pub fn corners(&self) -> [[f64; 3]; 8] {
        let origin = self.origin.map(Length::as_mm);
        self.walls
            .corners()
            .map(|corner| std::array::from_fn(|axis| corner[axis] - origin[axis]))
    }

    /// The usable cuboid in the cavity's frame.
    pub fn usable_cuboid(&self) -> Cuboid {
        self.cuboid_of(&self.usable.space)
    }

    /// The usable cuboid with what is kept back given again at each side: where the walls are expected.
    pub(crate) fn expected_cuboid(&self) -> Cuboid {
        let mut space = self.usable.space;
        let grow = |space: &mut Space, clearance: &inside::Clearance, by: Length| {
            let axis = clearance.wall.axis();
            if clearance.wall.is_high() {
                space.hi[axis] += by;
            } else {
                space.lo[axis] -= by;
            }
        };
        for clearance in self.walls.clearances(&self.usable.space) {
            grow(&mut space, &clearance, clearance.distance);
        }
        // Grown on all sides at once, corners may have come through walls that lean.
        for clearance in self.walls.clearances(&space) {
            grow(&mut space, &clearance, clearance.distance.min(Length::ZERO));
        }
        self.cuboid_of(&space)
    }

    /// The place of a point by its distances from corners, in the cavity's frame.
    pub(crate) fn locate(&self, readings: &[FromCorner]) -> Result<Located, NoPoint> {
        locate(&self.walls, readings).map(|found| self.in_frame(found))
    }

    /// The corners with what their places may be off, in the cavity's frame.
    pub(crate) fn located_corners(&self) -> [Located; 8] {
        point::corners(&self.walls).map(|corner| self.in_frame(corner))
    }

    /// What is told from the origin of the walls, told from the front left bottom corner.
    fn in_frame(&self, mut found: Located) -> Located {
        for (place, origin) in found.place.iter_mut().zip(self.origin) {
            *place -= origin.as_mm();
        }
        found
    }

    /// The distances of a cuboid in the cavity's frame from the walls as they lean, in the order of [`inside::Side::ALL`].
    pub fn clearances(&self, cuboid: &Cuboid) -> [inside::Clearance; 6] {
        self.walls.clearances(&self.to_walls(cuboid))
    }

    /// Where a cuboid of this size has the most room between the walls as they lean, and how much on its tightest side with
    /// `sigmas` standard uncertainties held back; `None` where nothing is left for sure.
    pub(crate) fn roomiest(&self, size: Size, sigmas: f64) -> Option<(Cuboid, Length)> {
        let placed = self.walls.roomiest(size.0, KeepBack::sigmas(sigmas)).ok()?;
        Some((self.cuboid_of(&placed.space), placed.room))
    }

    /// What a cuboid has to spare between the two walls across an axis, as they lean.
    pub(crate) fn slack(&self, cuboid: &Cuboid, axis: Axis) -> inside::Slack {
        self.walls.slack(&self.to_walls(cuboid), axis.index())
    }

    /// How that changes with each coordinate of the corners.
    pub(crate) fn slack_slopes(&self, cuboid: &Cuboid, axis: Axis) -> survey::Corners {
        let gradient = self.slack(cuboid, axis).gradient;
        std::array::from_fn(|corner| std::array::from_fn(|axis| gradient[3 * corner + axis]))
    }

    /// Standard uncertainty, in mm, of a figure that changes so with the corners.
    pub(crate) fn sigma_mm(&self, slopes: &survey::Corners) -> f64 {
        self.adjustment.variance(slopes).sqrt()
    }

    /// What each reading of the cavity (by its place in the list) does to a figure that changes so with the corners.
    pub(crate) fn influence(&self, slopes: &survey::Corners) -> Vec<(usize, f64)> {
        let each = self.adjustment.influence(&self.observed.observations, slopes);
        let from = self.observed.from.iter().zip(each);
        from.filter_map(|(from, influence)| match from {
            super::From::Reading(i) => Some((*i, influence)),
            super::From::Statement(_) => None,
        })
        .collect()
    }

    fn to_walls(&self, cuboid: &Cuboid) -> Space {
        Space {
            lo: std::array::from_fn(|axis| cuboid.lo().0[axis] + self.origin[axis]),
            hi: std::array::from_fn(|axis| cuboid.hi().0[axis] + self.origin[axis]),
        }
    }

    fn cuboid_of(&self, space: &Space) -> Cuboid {
        let place = |at: [Length; 3]| Point(std::array::from_fn(|axis| at[axis] - self.origin[axis]));
        Cuboid::between(place(space.lo), place(space.hi))
    }
}

/// The face whose two diagonals differ most, by their lengths in mm.
pub(super) fn out_of_square(length: impl Fn(Line) -> Option<f64>) -> Option<OutOfSquare> {
    let faces = Direction::ALL
        .into_iter()
        .flat_map(|across| [false, true].map(|far| Face { across, far }));
    let each = faces.filter_map(|face| {
        let [a, b] = diagonals(face)?;
        let (of_a, of_b) = (length(a)?, length(b)?);
        Some(OutOfSquare {
            face,
            by: Length::from_mm((of_a - of_b).abs()),
            longer: if of_a >= of_b { a } else { b },
        })
    });
    each.max_by_key(|found| found.by)
}

/// The two diagonals of a face.
fn diagonals(face: Face) -> Option<[Line; 2]> {
    let [first, second] = match face.across {
        Direction::Length => [Direction::Width, Direction::Height],
        Direction::Width => [Direction::Length, Direction::Height],
        Direction::Height => [Direction::Length, Direction::Width],
    };
    let near = Corner::ALL
        .into_iter()
        .find(|c| c.far(face.across) == face.far && !c.far(first) && !c.far(second))?;
    Some([
        Line::new(near, near.across(first).across(second))?,
        Line::new(near.across(first), near.across(second))?,
    ])
}
