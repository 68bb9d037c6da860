//! Boxes and what is in them.

use geometry::Point;
use serde::{Deserialize, Serialize};

use super::cavity::point;
use super::{FaceName, Id, Len, Stands};

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
    /// The modules and stacks in it.
    #[serde(default)]
    pub modules: Vec<Placed>,
}

impl BatteryBox {
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
