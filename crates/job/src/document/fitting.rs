//! What is let into the walls of a box: glands, breathers, drains, disconnects, lifting eyes, earth studs.

use geometry::Face;
use serde::{Deserialize, Serialize};
use tape::Length;

use super::{Id, Len};

/// What a fitting is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum FittingName {
    /// A cable gland.
    #[default]
    Gland,
    /// A membrane that lets the box breathe.
    Breather,
    /// A plug or valve at a low place.
    Drain,
    /// The service disconnect.
    Disconnect,
    /// An eye that the box is lifted by.
    LiftingEye,
    /// A stud on bare metal that the box is bonded to the chassis by.
    EarthStud,
}

/// The wall that something is let into.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum WallName {
    /// Low x.
    Front,
    /// High x.
    Rear,
    /// Low y.
    Left,
    /// High y.
    Right,
    /// The floor.
    Bottom,
    /// The lid.
    Top,
    /// The upright of a step in the underside, of a box that has one.
    Riser,
}

impl WallName {
    /// All of them.
    pub const ALL: [Self; 7] = [
        Self::Front,
        Self::Rear,
        Self::Left,
        Self::Right,
        Self::Bottom,
        Self::Top,
        Self::Riser,
    ];

    /// The face of the box that it is; `None` of a riser, which stands within.
    pub const fn face(self) -> Option<Face> {
        match self {
            Self::Riser => None,
            _ => Some(Face::ALL[self as usize]),
        }
    }

    /// That of `face`.
    pub const fn of(face: Face) -> Self {
        Self::ALL[face.index()]
    }

    /// The name.
    pub const fn name(self) -> &'static str {
        match self.face() {
            Some(face) => face.name(),
            None => "riser",
        }
    }
}

/// Sizes of a fitting that nobody has entered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct FittingSizes {
    /// The hole.
    pub(crate) hole: Length,
    /// Across its body, seen from outside.
    pub(crate) across: Length,
    /// How far it stands out from the wall.
    pub(crate) out: Length,
    /// How far it reaches in from the wall.
    pub(crate) inward: Length,
}

impl FittingName {
    /// All of them.
    pub const ALL: &[Self] = &[
        Self::Gland,
        Self::Breather,
        Self::Drain,
        Self::Disconnect,
        Self::LiftingEye,
        Self::EarthStud,
    ];

    /// The name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Gland => "cable gland",
            Self::Breather => "breather",
            Self::Drain => "drain",
            Self::Disconnect => "disconnect",
            Self::LiftingEye => "lifting eye",
            Self::EarthStud => "earth stud",
        }
    }

    /// Usual sizes (common practice, no source): an M40 gland with a little straight cable, an M12 breather, an M20 plug, a
    /// disconnect let in with a round flange, an M12 eye with its nut and plate, an
    /// M8 stud with its nut, washer and lug on 30 mm of bare metal. Measure the one in hand.
    pub(crate) const fn sizes(self) -> FittingSizes {
        let [hole, across, out, inward] = match self {
            Self::Gland => [405, 550, 600, 150],
            Self::Breather => [125, 200, 150, 120],
            Self::Drain => [205, 280, 150, 150],
            Self::Disconnect => [600, 900, 700, 500],
            Self::LiftingEye => [130, 550, 550, 150],
            Self::EarthStud => [90, 300, 250, 150],
        };
        FittingSizes {
            hole: Length::tenths_mm(hole),
            across: Length::tenths_mm(across),
            out: Length::tenths_mm(out),
            inward: Length::tenths_mm(inward),
        }
    }
}

/// Something let into a wall of a box.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct WallFitting {
    /// Its number.
    pub id: Id,
    /// What it is.
    pub what: FittingName,
    /// The wall it is in; bottom for the floor, top for the lid, riser for the upright of a step.
    pub wall: WallName,
    /// Its middle along the wall, inside the sheet: from the left on front and rear, from the front on all others; on a riser
    /// as on the wall that it stands before.
    pub along: Len,
    /// Its middle up the wall from the floor; on floor and lid, from the left.
    pub up: Len,
    /// Its hole.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hole: Option<Len>,
    /// Across its body, seen from outside.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub across: Option<Len>,
    /// How far it stands out from the wall, with the bend of its cable if it has one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub out: Option<Len>,
    /// How far it reaches in from the wall.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub inward: Option<Len>,
}

impl WallFitting {
    /// Its sizes, the usual ones for what was not entered.
    pub(crate) fn sizes(&self) -> FittingSizes {
        let usual = self.what.sizes();
        let or = |entered: &Option<Len>, usual| entered.as_ref().map_or(usual, Len::value);
        FittingSizes {
            hole: or(&self.hole, usual.hole),
            across: or(&self.across, usual.across),
            out: or(&self.out, usual.out),
            inward: or(&self.inward, usual.inward),
        }
    }
}
