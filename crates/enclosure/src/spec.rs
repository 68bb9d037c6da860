//! What a box is to be.

use tape::show::{Fraction, Rounding, Style, hole, millimetres_bare, thousandths, thousandths_bare};
use tape::{Area, Length, Units};

use crate::material::Material;
use crate::{BendRule, RivetHeads, Step, gauge};

/// A sheet: material and thickness as delivered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// The material.
    pub material: Material,
    /// The thickness.
    pub thickness: Length,
}

impl Sheet {
    /// Material and thickness as written on a cut list: `mild steel 3 mm`, thickness to 0.001 mm; where it is just that
    /// of a gauge, the gauge behind it: `mild steel 1.897 mm (14 ga)`.
    pub fn label(self) -> String {
        let millimetres = format!("{} {} mm", self.material.name(), thousandths_bare(self.thickness));
        match self
            .material
            .scale()
            .and_then(|scale| gauge::named(scale, self.thickness))
        {
            Some(number) => format!("{millimetres} ({number} ga)"),
            None => millimetres,
        }
    }

    /// Mass in grams of a piece of this face area.
    pub fn grams(self, area: Area) -> f64 {
        // kg/m3 x mm3 = 1e-6 g
        (area * self.thickness).as_mm3() * self.material.density_kg_m3() * 1e-6
    }
}

/// How the panels meet at the corners of a welded box.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Corners {
    /// A: floor under the walls, long sides full length, ends between them.
    LongSidesRun,
    /// B: walls wrap the floor and stand level with its underside; long sides full length, ends between.
    WallsWrapFloor,
    /// C: floor under the walls, ends full width, long sides between them.
    EndsRun,
    /// D: corner to corner, every panel equals its inside face; the groove is left for the weld.
    CornerToCorner,
}

/// How flange or frame bars meet at the corners.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Joint {
    /// 45 degrees, lengths told to the long point.
    Mitred,
    /// Long bars full length, short bars between them.
    Butt,
}

/// How floor and walls are made.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Construction {
    /// Panels of sheet, welded edge to edge; [`BoxSpec::corners`] says how they meet.
    #[default]
    Welded,
    /// A tray folded from one sheet, its corners welded.
    Folded(Folding),
    /// Panels of sheet in a frame of angle, inside it.
    Framed(Skeleton),
}

/// How sheet is folded.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Folding {
    /// Inside radius of every bend.
    pub radius: Length,
    /// How the length of a bend is worked out.
    pub rule: BendRule,
    /// How far each wall ends short of the inside corner, so that it goes past its neighbour.
    pub gap: Length,
    /// Diameter of the hole that relieves a corner where two bends meet.
    pub relief: Length,
}

/// A frame of equal angle outside the panels: a ring at the floor with its foot under it, a post at each corner, and a
/// ring at the rim whose level leg stands out and takes the lid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Skeleton {
    /// Leg of the angle.
    pub leg: Length,
    /// Thickness of the angle.
    pub thickness: Length,
    /// Mass in grams per metre.
    pub grams_per_m: i64,
    /// How bars meet.
    pub joint: Joint,
    /// What holds the panels.
    pub held: Held,
}

/// What holds panels in a frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    /// Rivets in the middle of what the panel and the angle share, drilled through both once the panel is clamped.
    Riveted {
        /// Diameter of the hole.
        hole: Length,
        /// The widest pitch, which decides how many there are.
        most_pitch: Length,
        /// How far two of them may be apart past something in their way; no less than the pitch.
        most_past: Length,
        /// Across the bead of sealant that is laid on the angle under each panel; zero for none.
        bead: Length,
        /// Which side they are set from.
        heads: RivetHeads,
    },
    /// Adhesive all over what the panel and the angle share.
    Bonded,
}

/// How thick adhesive stands between panel and angle: what sheet and angle are out of flat has to be filled (common practice, no
/// source).
pub const BOND_LINE: Length = Length::mm(1);

impl Held {
    /// What lies between the face of a panel and the leg of its angle: nothing under rivets, which pull them together.
    pub const fn line(self) -> Length {
        match self {
            Self::Riveted { .. } => Length::ZERO,
            Self::Bonded => BOND_LINE,
        }
    }
}

/// A flange of flat bar outside the walls, flush with the rim, of the walls' material.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Flange {
    /// How far it reaches out from the wall.
    pub width: Length,
    /// Bar thickness.
    pub thickness: Length,
    /// How bars meet.
    pub joint: Joint,
}

/// The seal between rim and lid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gasket {
    /// Thickness before it is squeezed.
    pub free: Length,
    /// Thickness when the lid is down.
    pub squeezed: Length,
}

/// Lid screws.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fastener {
    /// Thread diameter.
    pub diameter: Length,
    /// Clearance hole.
    pub hole: Length,
    /// Height of head and washer above the lid.
    pub head_height: Length,
    /// Length below the flange: nut and thread end.
    pub below: Length,
    /// The widest pitch allowed.
    pub most_pitch: Length,
}

/// The lid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lid {
    /// No lid drawn.
    None,
    /// A flat plate as large as the body (with its flange, if it has one), on a gasket.
    Flat {
        /// The plate.
        sheet: Sheet,
        /// The flange it is screwed to, if any.
        flange: Option<Flange>,
        /// The seal, if any.
        gasket: Option<Gasket>,
        /// The screws, if any: in the middle of the flange unless `edge` says otherwise.
        fastener: Option<Fastener>,
        /// Distance of the hole line from the lid's edge; `None` for half the flange's width.
        edge: Option<Length>,
    },
    /// A cap: a plate with a skirt that hangs down outside the walls.
    Cap {
        /// Plate and skirt.
        sheet: Sheet,
        /// How far the outside of the skirt stands out from the wall; at least the sheet's thickness.
        out: Length,
        /// How far the skirt hangs down, from the top of the plate.
        deep: Length,
        /// The seal, if any, on the rim.
        gasket: Option<Gasket>,
        /// What holds it down, if anything.
        hold: Option<CapHold>,
    },
}

/// What holds a cap down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CapHold {
    /// Screws through skirt and wall, put in while the cap is pressed down: they keep the gasket squeezed.
    Screws(SideScrew),
    /// Toggle clamps on the walls, which pull the skirt down. Their own holes are marked from the clamp in hand.
    Toggles(Toggle),
}

/// Screws of a cap, in the middle of what skirt and wall have in common; each wall has them at even places.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SideScrew {
    /// The screw: its head stands out from the skirt, and `below` is how far its nut stands in from the wall.
    pub fastener: Fastener,
    /// The hole in the wall for its rivet nut.
    pub nut_hole: Length,
    /// How thick the rim of that nut is, on the outside of the wall.
    pub nut_rim: Length,
}

/// Toggle clamps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Toggle {
    /// How far a closed clamp stands out from the skirt.
    pub out: Length,
    /// The widest pitch allowed.
    pub most_pitch: Length,
}

/// A frame of angle round the outside of the box at the floor, upright leg against the wall, foot turned in under the
/// floor, of the walls' material.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Frame {
    /// Leg of the angle.
    pub leg: Length,
    /// Thickness of the angle.
    pub thickness: Length,
    /// Mass in grams per metre.
    pub grams_per_m: i64,
    /// How bars meet.
    pub joint: Joint,
}

/// A box, told by the space inside the sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoxSpec {
    /// Length, width and depth inside the steel: floor to rim, wall to wall.
    pub inside: [Length; 3],
    /// The walls.
    pub wall: Sheet,
    /// The floor.
    pub floor: Sheet,
    /// How it is made.
    pub construction: Construction,
    /// How panels meet; a folded tray has none.
    pub corners: Corners,
    /// The lid.
    pub lid: Lid,
    /// A frame under it, if any.
    pub frame: Option<Frame>,
    /// A step in its underside, if any: a box welded of sheet alone can have one.
    pub step: Option<Step>,
}

/// A box that cannot be built as told.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SpecError {
    /// A size or thickness of zero or less.
    #[error("{what} must be above zero")]
    NotAboveZero {
        /// Which one, in words.
        what: &'static str,
    },
    /// The cap's skirt would stand inside the wall.
    #[error("the cap's skirt must stand out at least its sheet's thickness")]
    SkirtInsideWall,
    /// The gasket is thicker squeezed than free.
    #[error("the gasket must be thinner squeezed than free")]
    GasketGrows,
    /// The skirt hangs lower than the box is deep, or is shorter than the lid's own thickness.
    #[error("the cap's skirt must hang lower than its plate and end above the floor")]
    SkirtDepth,
    /// Screws that break out of the skirt or the wall.
    #[error("the cap's skirt is too short for its screws: hang it lower, or take thinner screws")]
    HoleOffSkirt,
    /// A measure below zero that may be zero.
    #[error("{what} must be zero or more")]
    BelowZero {
        /// Which one, in words.
        what: &'static str,
    },
    /// A size beyond anything a box can have.
    #[error("{what} must be at most 100 m")]
    TooLarge {
        /// Which one, in words.
        what: &'static str,
    },
    /// Two parts want the same place.
    #[error("the {first} and the {second} would pass through each other: make one of them smaller")]
    PartsMeet {
        /// One part.
        first: &'static str,
        /// The other.
        second: &'static str,
    },
    /// A tray of two thicknesses.
    #[error("a folded tray is one sheet: floor, walls and lips must be of one material and thickness")]
    TwoSheets,
    /// A side too short to be folded.
    #[error("{what} must be longer than its bends take up")]
    TooShortToFold {
        /// Which one, in words.
        what: &'static str,
    },
    /// Two lips that want the same place on the flat sheet.
    #[error("the walls are too low for lips this wide: the corners of the lips would overlap on the flat sheet")]
    LipsOverlap,
    /// A lid that a frame of angle cannot take.
    #[error("a box in a frame of angle is closed by a flat lid screwed to the ring at its rim")]
    LidOnFrame,
    /// Rivets that break out of the panel.
    #[error("{}", self.words(Units::Millimetre))]
    RivetsOffAngle {
        /// From the middle of the hole to the nearest edge.
        has: Length,
        /// How far it has to be.
        needs: Length,
    },
    /// Lid screws with nothing to hold them and no hole line.
    #[error("lid screws need a flange, or the distance of their hole line from the lid's edge")]
    ScrewsWithoutFlange,
    /// The screw does not pass its hole.
    #[error("the screws' clearance hole must be at least their diameter")]
    HoleTooSmall,
    /// A hole that breaks out of the lid's edge or the flange.
    #[error("the lid's holes must lie wholly on the flange: move the hole line or widen the flange")]
    HoleOffFlange,
    /// A step in a box that is not welded of sheet alone.
    #[error(
        "a step in the underside is built in a welded box without a frame of angle only: make the box welded, or take the step out"
    )]
    StepNotWelded,
    /// A step at the floor or the lid.
    #[error("a step is at the {given}: it may be at the front, rear, left or right wall")]
    StepWall {
        /// Which one was given.
        given: &'static str,
    },
    /// A step that leaves nothing of the deep part, or nothing of the wall over it.
    #[error("{}", self.words(Units::Millimetre))]
    StepSize {
        /// Runs in, or rises.
        what: &'static str,
        /// By how much.
        given: Length,
        /// It must be more than this.
        above: Length,
        /// And less than this.
        below: Length,
        /// How to mend it.
        mend: &'static str,
    },
    /// A hole that does not lie wholly on the flat of its wall.
    #[error("{}", self.words(Units::Millimetre))]
    HoleOffWall {
        /// Which wall.
        wall: &'static str,
        /// Of the hole.
        diameter: Length,
        /// Where its middle may lie: see [`BoxSpec::hole_rooms`].
        rooms: Vec<[[Length; 2]; 2]>,
    },
    /// Two holes of one wall that run into each other.
    #[error("two holes in the {wall} run into each other")]
    HolesMeet {
        /// Which wall.
        wall: &'static str,
    },
    /// A hole in a lid that is not there.
    #[error("there is no {wall} to make a hole in")]
    NoSuchWall {
        /// Which wall.
        wall: &'static str,
    },
    /// Screws so close that their holes run into each other.
    #[error("the widest pitch of screws must be at least twice their hole, and a 1000th of the side")]
    PitchTooSmall,
    /// Rivets so close that the sheet between them tears.
    #[error("{}", self.words(Units::Millimetre))]
    RivetsTooClose {
        /// How far apart they have to be.
        least: Length,
    },
}

impl SpecError {
    /// The same, its lengths as a person reads them who works in those units.
    pub fn words(&self, units: Units) -> String {
        let told = |length| thousandths(length, units);
        match self {
            Self::RivetsOffAngle { has, needs } => format!(
                "rivets of this hole would be {} from the edge of a panel, and need {}, one and a half holes: widen the \
                 angle's leg or take smaller rivets",
                told(*has),
                told(*needs)
            ),
            Self::StepSize {
                what,
                given,
                above,
                below,
                mend,
            } => format!(
                "the step {what} {}: it may be above {} and below {}; {mend}",
                told(*given),
                first_of_two(*above, units),
                told(*below)
            ),
            Self::HoleOffWall { wall, diameter, rooms } => off_wall(wall, *diameter, rooms, units),
            Self::RivetsTooClose { least } => format!(
                "the widest pitch of rivets must be at least {}, three holes, and a 1000th of the side",
                told(*least)
            ),
            other => other.to_string(),
        }
    }
}

/// A length to 0.001 mm where the other end of the range follows, which tells that both are millimetres.
pub(crate) fn first_of_two(length: Length, units: Units) -> String {
    match units {
        Units::Millimetre => thousandths_bare(length),
        Units::Inch => thousandths(length, units),
    }
}

/// The rooms are rounded to what a tape shows, and inwards: a hole marked there lies on the flat.
fn off_wall(wall: &str, diameter: Length, rooms: &[[[Length; 2]; 2]], units: Units) -> String {
    let of = match units {
        Units::Millimetre => format!("{} mm", thousandths_bare(diameter.round_up_to(Length::tenths_mm(1)))),
        Units::Inch => hole(diameter, units),
    };
    let of = format!("a hole of {of} in the {wall}");
    if rooms.is_empty() {
        return format!("{of} has no room on its flat");
    }
    let style = Style {
        units,
        fraction: Fraction::Sixteenth,
    };
    let tenths = |length, rounding| millimetres_bare(length, 1, rounding).trim_end_matches(".0").to_owned();
    let rooms = rooms.iter().map(|room| {
        let [along, up] = room.map(|[from, to]| match units {
            Units::Millimetre => format!("{} to {} mm", tenths(from, Rounding::Up), tenths(to, Rounding::Down)),
            Units::Inch => format!("{} to {}", style.up(from), style.down(to)),
        });
        format!("{along} along it and {up} up it")
    });
    format!("{of} must have its middle {}", rooms.collect::<Vec<_>>().join(", or "))
}

impl BoxSpec {
    /// Which horizontal axis the long sides run along: 0 for length, 1 for width; length when both are equal.
    ///
    /// A part of role `Long...`, and the length of floor and lid plate, lie along it.
    pub fn long_axis(&self) -> usize {
        usize::from(self.inside[1] > self.inside[0])
    }
}
