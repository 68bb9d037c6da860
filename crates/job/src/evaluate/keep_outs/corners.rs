//! Where the corners of a cavity are, and what that may be off: what keep-outs are counted from.

use std::cell::OnceCell;

use tape::inside::{self, Shape};
use tape::point::{self, FromCorner, Located};
use tape::survey::{Corner, Direction};

use super::Place;
use crate::evaluate::cavity::Dimension;
use crate::evaluate::survey::Survey;

/// The corners of a cavity; worked out when something is counted from them.
pub(super) struct Corners<'a> {
    survey: &'a Survey,
    dimensions: &'a [Option<Dimension>; 3],
    square: OnceCell<Option<inside::Cavity>>,
    located: OnceCell<[Located; 8]>,
}

impl<'a> Corners<'a> {
    pub(super) const fn new(survey: &'a Survey, dimensions: &'a [Option<Dimension>; 3]) -> Self {
        Self {
            survey,
            dimensions,
            square: OnceCell::new(),
            located: OnceCell::new(),
        }
    }

    /// A corner, in the cavity's frame.
    ///
    /// # Errors
    ///
    /// What is missing, in words.
    pub(super) fn corner(&self, corner: Corner) -> Result<[Place; 3], String> {
        let is_first = corner == Corner::ALL[0];
        if is_first && !self.survey.is_shaped() {
            return Ok([Place::EXACTLY_ZERO; 3]);
        }
        let located = match (&self.survey.shape, self.square()) {
            (Some(shape), _) => self.located.get_or_init(|| shape.located_corners()),
            (None, Some(square)) => self.located.get_or_init(|| point::corners(square)),
            (None, None) => return Err("the cavity is not measured up to the corner it is taped from".to_owned()),
        };
        let mut places = places(&located[corner.index()]);
        if is_first {
            // The frame begins there, to less than a nanometre.
            for place in &mut places {
                place.mm = 0.0;
            }
        }
        Ok(places)
    }

    /// A point by its distances from corners, in the cavity's frame.
    ///
    /// # Errors
    ///
    /// What is missing, in words.
    pub(super) fn point(&self, readings: &[FromCorner]) -> Result<[Place; 3], String> {
        let located = match (&self.survey.shape, self.square()) {
            (Some(shape), _) => shape.locate(readings),
            (None, Some(square)) => point::locate(square, readings),
            (None, None) => return Err("the cavity is not measured yet".to_owned()),
        };
        located
            .map(|found| places(&found))
            .map_err(|refusal| refusal.to_string())
    }

    fn square(&self) -> Option<&inside::Cavity> {
        let wanted = !self.survey.is_shaped();
        self.square
            .get_or_init(|| if wanted { square(self.dimensions) } else { None })
            .as_ref()
    }
}

fn places(located: &Located) -> [Place; 3] {
    std::array::from_fn(|axis| Place {
        mm: located.place[axis],
        sigma_mm: located.covariance[axis][axis].max(0.0).sqrt(),
    })
}

/// The cavity that three dimensions make when it is taken as square.
///
/// The far wall of each is where the smallest reading has it; it may be off by what a reading of it may be, and by as
/// much as the readings at other places differ.
fn square(dimensions: &[Option<Dimension>; 3]) -> Option<inside::Cavity> {
    let [Some(x), Some(y), Some(z)] = dimensions else {
        return None;
    };
    let dimensions = [x, y, z];
    let variances = dimensions.map(|dimension| {
        let sigma = dimension.usable.places.iter().map(|place| place.sigma).max();
        // Limits with nothing known inside them: a third of the square.
        sigma.unwrap_or_default().as_mm().powi(2) + dimension.usable.spread.as_mm().powi(2) / 3.0
    });
    let is_far = |corner: Corner, axis: usize| corner.far(Direction::ALL[axis]);
    let corners = Corner::ALL.map(|corner| {
        std::array::from_fn(|axis| {
            if is_far(corner, axis) {
                dimensions[axis].smallest.as_mm()
            } else {
                0.0
            }
        })
    });
    let coordinates = || (0..24).map(|n| (Corner::ALL[n / 3], n % 3));
    let covariance: Vec<f64> = coordinates()
        .flat_map(|(one, axis)| {
            coordinates().map(move |(other, across)| {
                // The corners of a wall are off together.
                let same_wall = axis == across && is_far(one, axis) && is_far(other, axis);
                if same_wall { variances[axis] } else { 0.0 }
            })
        })
        .collect();
    let shape = Shape::new(corners, &covariance).ok()?;
    inside::Cavity::new(&shape, inside::Frame::default()).ok()
}
