//! Boxes and what is in them.

use geometry::{Axis, Point};
use serde::{Deserialize, Serialize};

use super::cavity::point;
use super::{BoxStep, FaceName, Id, Len, Places, Stands, WallFitting};

/// A box in a cavity.
///
/// Its inside wraps its modules with the allowances that the design asks for, unless the person fixed its size. Moving
/// a module at the edge therefore moves the wall with it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct BatteryBox {
    /// Its number.
    pub id: Id,
    /// What the person calls it.
    pub name: String,
    /// The cavity it stands in.
    pub cavity: Id,
    /// The box's datum in the cavity's frame: modules are placed from it. With a fixed size it is the front-left-bottom
    /// corner inside the liner.
    pub at: [Len; 3],
    /// Which side the bay is on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bay: Option<FaceName>,
    /// Length, width and height inside the liner, when the person fixed them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fixed: Option<[Len; 3]>,
    /// The step in its underside, if it has one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub step: Option<BoxStep>,
    /// What it measures outside now that it is welded, where the person taped it.
    #[serde(default, skip_serializing_if = "AsBuilt::is_open")]
    pub as_built: AsBuilt,
    /// What is let into its walls.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub fittings: Vec<WallFitting>,
    /// The leg of its brackets, where it is another than that of all boxes, or than the one that reaches its rail.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bracket_leg: Option<Len>,
    /// Where brackets, bars, dividers and stiffeners go, where the person told.
    #[serde(default, skip_serializing_if = "Places::is_open")]
    pub places: Places,
    /// The modules and stacks in it.
    #[serde(default)]
    pub modules: Vec<Placed>,
}

/// The outside of a box's body as it was taped after welding, with whatever is on it: over the walls, and from under the
/// floor to the top of the lid; flange and screw heads not counted.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct AsBuilt {
    /// Front to rear.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length: Option<Len>,
    /// Left to right.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub width: Option<Len>,
    /// Floor to lid.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub height: Option<Len>,
}

impl AsBuilt {
    /// Whether nothing was taped.
    pub const fn is_open(&self) -> bool {
        self.length.is_none() && self.width.is_none() && self.height.is_none()
    }

    /// What was taped along an axis.
    pub const fn along(&self, axis: Axis) -> Option<&Len> {
        match axis {
            Axis::X => self.length.as_ref(),
            Axis::Y => self.width.as_ref(),
            Axis::Z => self.height.as_ref(),
        }
    }

    pub(crate) const fn along_mut(&mut self, axis: Axis) -> &mut Option<Len> {
        match axis {
            Axis::X => &mut self.length,
            Axis::Y => &mut self.width,
            Axis::Z => &mut self.height,
        }
    }
}

impl BatteryBox {
    /// The numbers of its fittings and modules.
    pub(crate) fn numbers_in_it(&self) -> impl Iterator<Item = Id> {
        let fittings = self.fittings.iter().map(|f| f.id);
        fittings.chain(self.modules.iter().map(|m| m.id))
    }

    /// The datum.
    pub fn datum(&self) -> Point {
        point(&self.at)
    }
}

/// One module, or one clamped stack of modules, in a box.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Placed {
    /// Its number, which it keeps for life: shown as M7, or S7 for a stack.
    pub id: Id,
    /// Its kind.
    pub kind: Id,
    /// Its front-left-bottom corner, from the box's datum.
    pub at: [Len; 3],
    /// How it stands.
    pub stands: Stands,
    /// Modules in it: 1, or the count of a stack.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub count: u32,
    /// Whether it stays where it stands in its cavity when the rest is laid out anew.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub pinned: bool,
}

impl Placed {
    /// Its front-left-bottom corner, from the box's datum.
    pub fn corner(&self) -> Point {
        point(&self.at)
    }
}

const fn one() -> u32 {
    1
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "the signature that serde calls")]
const fn is_one(count: &u32) -> bool {
    *count == 1
}
