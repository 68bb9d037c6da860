//! What the ways in rest on: the bed over the cavities, how high the truck stands, jack and hands.

use serde::{Deserialize, Serialize};

use super::Len;
use super::settings::named;

/// How boxes are brought in. `None` means that the stated default holds.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct WayIn {
    /// Where the bed is while boxes go in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bed: Option<BedName>,
    /// How much higher the truck stands on stands than on its wheels.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub raised: Option<Len>,
    /// How high the jack or trolley under a box is when it is all the way down, with the board on it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub jack: Option<Len>,
    /// How far a box may be pitched either way while it goes in, in degrees.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pitch_deg: Option<u32>,
    /// Room for a hand beside a module that is lifted out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hand: Option<Len>,
    /// The axis of the bed's hinge, rearward from the front axle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hinge_x: Option<Len>,
    /// The axis of the bed's hinge above the ground, the truck on its wheels.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hinge_z: Option<Len>,
    /// How far the bed tilts, in degrees.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tilt_deg: Option<u32>,
    /// Whether the automatic layout keeps free what the bed sweeps while it tilts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bed_room: Option<BedRoomName>,
    /// What of the bed turns with it: its floor, its crossmembers.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub bed_parts: Vec<BedPart>,
}

impl WayIn {
    /// Whether nothing was entered.
    pub(crate) fn is_open(&self) -> bool {
        *self == Self::default()
    }
}

named! {
    /// Where the bed is while boxes go in.
    BedName {
        /// It lies on the frame: nothing comes in from above.
        On = "on" / "on the frame",
        /// It is off the truck.
        Off = "off" / "off the truck",
        /// It stands tilted about its hinge.
        Tilted = "tilted" / "tilted up",
    }
}

named! {
    /// What the automatic layout does about the bed that tilts.
    BedRoomName {
        /// No box is laid out where the bed passes.
        Kept = "kept" / "kept free",
        /// Boxes are laid out there too: the bed comes off whole.
        Used = "used" / "used for boxes",
    }
}

/// Something of the bed that turns with it, seen from the side and as it lies at rest, in the vehicle's frame.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct BedPart {
    /// What it is.
    pub name: String,
    /// Its front, rearward from the front axle.
    pub from: Len,
    /// Its rear, rearward from the front axle.
    pub to: Len,
    /// Its lowest edge above the ground.
    pub lowest: Len,
    /// Its highest edge above the ground.
    pub highest: Len,
}
