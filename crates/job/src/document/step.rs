//! A step in the underside of a box.

use serde::{Deserialize, Serialize};

use super::{FaceName, Len};

/// A step: at one wall, over a length from the outside of the body, the underside of a welded box is higher, so that it
/// clears a crossmember.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct BoxStep {
    /// At which wall the box is less deep: front, rear, left or right.
    pub at: FaceName,
    /// How far it runs in, from the outside of the wall.
    pub run: Len,
    /// How much higher the underside is there.
    pub rise: Len,
}

impl BoxStep {
    /// The walls that it may be at.
    pub(crate) const WALLS: [FaceName; 4] = [FaceName::Front, FaceName::Rear, FaceName::Left, FaceName::Right];
}
