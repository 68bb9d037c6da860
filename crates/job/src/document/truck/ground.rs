//! How the truck stands on its wheels, and what is lowest under it.

use serde::{Deserialize, Serialize};

use crate::Len;
use crate::document::settings::named;

/// How the truck stands and what is under it, before the work, on level ground. `None` means not entered.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Ground {
    /// From the ground to the front hub, tyre loaded.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub front_radius: Option<Len>,
    /// From the ground to the rear hub.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rear_radius: Option<Len>,
    /// From the front axle to the foremost point that touches a ramp.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub front_overhang: Option<Len>,
    /// Height of that point above the ground.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub front_low: Option<Len>,
    /// From the rear axle to the rearmost point that touches a ramp.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rear_overhang: Option<Len>,
    /// Height of that point above the ground.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rear_low: Option<Len>,
    /// From the ground to the underside of the frame between the axles.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub frame: Option<Len>,
    /// What was put on the front axle and how the frame over it settled, as `120 kg; 24 1/2"; 23 1/4"`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub front_settled: Option<String>,
    /// The same of the rear axle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rear_settled: Option<String>,
    /// Other low points: axle housing, gearbox, exhaust.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub points: Vec<LowPoint>,
}

impl Ground {
    /// Whether nothing was entered.
    pub(crate) fn is_open(&self) -> bool {
        *self == Self::default()
    }

    /// Whether anything was entered that has no default.
    pub(crate) fn is_told(&self) -> bool {
        let lengths = [
            &self.front_overhang,
            &self.front_low,
            &self.rear_overhang,
            &self.rear_low,
            &self.frame,
        ];
        let settled = [&self.front_settled, &self.rear_settled];
        !self.points.is_empty()
            || settled.iter().any(|text| text.is_some())
            || lengths.iter().any(|length| length.is_some())
    }
}

/// A low point of the truck.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct LowPoint {
    /// What it is.
    pub name: String,
    /// Behind the front axle; before it below zero.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub along: Option<Len>,
    /// The other end of a flat underside, behind the front axle; absent: a point.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<Len>,
    /// Above the ground.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub height: Option<Len>,
    /// What it rides on.
    #[serde(skip_serializing_if = "RidesName::is_frame")]
    pub rides_on: RidesName,
}

named! {
    /// What a low point rides on.
    #[derive(Default)]
    RidesName {
        /// It sinks with the springs.
        #[default]
        Frame = "frame" / "frame",
        /// The front axle's tube, differential or spring plates.
        FrontAxle = "front_axle" / "front axle",
        /// The rear axle's.
        RearAxle = "rear_axle" / "rear axle",
    }
}

impl RidesName {
    #[expect(clippy::trivially_copy_pass_by_ref, reason = "the signature that serde calls")]
    const fn is_frame(&self) -> bool {
        matches!(self, Self::Frame)
    }
}
