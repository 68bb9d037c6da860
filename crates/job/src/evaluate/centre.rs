//! How high the modules stand.

use geometry::{Axis, Face};
use tape::Length;

use super::Evaluation;
use crate::Job;

/// How high the modules' common centre of mass is, boxes not counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CentreHeight {
    /// The height.
    pub height: Length,
    /// Above what.
    pub above: Above,
}

/// What a height is told from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Above {
    /// The ground: every cavity with modules has its place in the truck.
    Ground,
    /// The floor of the cavity that each module stands in.
    CavityFloor,
}

impl Above {
    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Ground => "ground",
            Self::CavityFloor => "cavity floor",
        }
    }
}

/// The mean height of the modules' middles, weighed by their mass; `None` without a module of known mass.
pub(super) fn of(job: &Job, evaluation: &Evaluation) -> Option<CentreHeight> {
    let filled = evaluation.boxes.iter().filter(|b| !b.modules.is_empty());
    let floors: Option<Vec<Length>> = filled
        .clone()
        .map(|b| Some(job.cavity(b.cavity)?.place.as_ref()?[Axis::Z.index()].value()))
        .collect();
    let above = if floors.is_some() {
        Above::Ground
    } else {
        Above::CavityFloor
    };
    let (mut mass, mut moment) = (0_i128, 0_i128);
    for (i, battery_box) in filled.enumerate() {
        let floor = floors.as_ref().map_or(Length::ZERO, |floors| floors[i]);
        for module in &battery_box.modules {
            let grams = i128::from(evaluation.kind(module.kind)?.mass_g?) * i128::from(module.count);
            let middle = (module.cuboid.face(Face::Bottom) + module.cuboid.face(Face::Top)).half_down() + floor;
            mass += grams;
            moment += grams * i128::from(middle.nm());
        }
    }
    let height = i64::try_from(moment.checked_div(mass)?).ok()?;
    Some(CentreHeight {
        height: Length::from_nm(height),
        above,
    })
}
