//! What of a box is welded, and how large.

use enclosure::{Built, Part, Role};
use tape::Length;

/// How two pieces come together at a seam.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Weld {
    /// Square edge to square edge, or flush at an outside corner.
    Square,
    /// In a corner: its leg is told.
    Fillet,
}

/// Where a seam runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Runs {
    /// Once round the floor.
    RoundFloor,
    /// Up the corners of the box.
    Corners,
    /// Once round under the rim.
    UnderRim,
    /// Across the corners of the rim.
    RimCorners,
    /// Once round the lid's edge.
    RoundLid,
    /// Up the corners of the lid's skirt.
    LidCorners,
    /// At the corners of the frame's foot.
    FootCorners,
    /// Where posts end.
    Posts,
}

impl Runs {
    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::RoundFloor => "floor to walls",
            Self::Corners => "corners of the walls",
            Self::UnderRim => "flange to walls, below",
            Self::RimCorners => "corners of the rim",
            Self::RoundLid => "lid plate to skirt",
            Self::LidCorners => "corners of the lid",
            Self::FootCorners => "corners of the foot",
            Self::Posts => "posts to rim and foot",
        }
    }

    /// Whether it goes all round.
    pub const fn all_round(self) -> bool {
        matches!(self, Self::RoundFloor | Self::UnderRim | Self::RoundLid)
    }
}

/// One kind of seam of a box.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Seam {
    /// Where.
    pub runs: Runs,
    /// How.
    pub weld: Weld,
    /// Leg of a fillet or depth of a square weld: as thick as the thinner of the two pieces, common practice for sheet.
    pub size: Length,
    /// How many seams of this kind; 1 for one that goes all round.
    pub count: u32,
}

/// The seams of a box, from the floor up. Panels in a frame of angle are not welded, only its bars are.
pub(crate) fn seams(built: &Built) -> Vec<Seam> {
    let part = |role| built.parts.iter().find(move |part| part.role == role);
    let thick = |part: &Part| part.sheet.thickness;
    let mut seams = Vec::new();
    let mut add = |runs: Runs, weld, size, count| {
        seams.push(Seam {
            runs,
            weld,
            size,
            count,
        });
    };
    let framed = part(Role::Post);
    if let (Some(floor), Some(wall), None) = (part(Role::Floor), part(Role::LongSide), framed) {
        let size = thick(floor).min(thick(wall));
        // Panels that meet corner to corner leave a groove; all others lie flush.
        let weld = if is_corner_to_corner(built, floor, wall) {
            Weld::Fillet
        } else {
            Weld::Square
        };
        add(Runs::RoundFloor, weld, size, 1);
        add(Runs::Corners, weld, thick(wall), 4);
    }
    if let Some(tray) = part(Role::Tray) {
        add(Runs::Corners, Weld::Fillet, thick(tray), 4);
        if tray.has_lips() {
            add(Runs::RimCorners, Weld::Square, thick(tray), 4);
        }
    }
    if let (Some(post), Some(foot), Some(ring)) = (framed, part(Role::FrameLong), part(Role::RingLong)) {
        add(Runs::FootCorners, Weld::Square, thick(foot), 4);
        add(Runs::Posts, Weld::Square, thick(post), 8);
        add(Runs::RimCorners, Weld::Square, thick(ring), 4);
    }
    if let (Some(bar), Some(wall)) = (part(Role::FlangeLong), part(Role::LongSide)) {
        add(Runs::UnderRim, Weld::Fillet, thick(bar).min(thick(wall)), 1);
        add(Runs::RimCorners, Weld::Square, thick(bar), 4);
    }
    if let (Some(plate), Some(skirt)) = (part(Role::LidPlate), part(Role::SkirtLong)) {
        add(Runs::RoundLid, Weld::Square, thick(plate).min(thick(skirt)), 1);
        add(Runs::LidCorners, Weld::Square, thick(skirt), 4);
    }
    if let Some(pan) = part(Role::PanLid) {
        add(Runs::LidCorners, Weld::Fillet, thick(pan), 4);
    }
    seams
}

/// Whether floor and long side are both no longer than the inside: the shell is longer by two walls.
fn is_corner_to_corner(built: &Built, floor: &Part, wall: &Part) -> bool {
    let over = built.shell[0].max(built.shell[1]);
    floor.length < over && wall.length < over && wall.length == floor.length && {
        let inside_depth = built.shell[2] - floor.sheet.thickness;
        wall.width == inside_depth
    }
}
