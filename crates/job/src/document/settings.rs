//! What the person asks for: margins, the drive's window, how boxes are built.
//!
//! `None` means that the stated default holds, shown as assumed until the person confirms it.

use enclosure::liner::Liner;
use enclosure::material::Material;
use enclosure::tolerance::{FlatnessClass, LengthClass};
use enclosure::{Corners, Joint, RivetHeads};
use pack::{Amps, Volts};
use serde::{Deserialize, Serialize};
use tape::reading::TapeClass;

use super::quantity::optional;
use super::{Added, Grams, Len, Sheets, Thickness};

macro_rules! optional_fields {
    ($(#[$outer:meta])* pub struct $name:ident {
        $($(#[$inner:meta])* pub $field:ident: $type:ty,)*
        $(; $(#[$tail_meta:meta])* pub $tail:ident: $tail_type:ty,)?
    }) => {
        $(#[$outer])*
        #[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
        #[cfg_attr(test, derive(schemars::JsonSchema))]
        #[serde(deny_unknown_fields, default)]
        pub struct $name {
            $($(#[$inner])* #[serde(skip_serializing_if = "Option::is_none")] pub $field: Option<$type>,)*
            $($(#[$tail_meta])* pub $tail: $tail_type,)?
        }
    };
}

/// The drive's window and draw.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Drive {
    /// The least volts it works at.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub min_volts: Option<Volts>,
    /// The most volts it works at.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub max_volts: Option<Volts>,
    /// The volts that destroy it.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub absolute_max_volts: Option<Volts>,
    /// The most amps it draws for a short time.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub peak_amps: Option<Amps>,
    /// The most amps it draws for long.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub continuous_amps: Option<Amps>,
}

/// The charger's window.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Charger {
    /// The least volts it starts at.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub min_volts: Option<Volts>,
    /// The most volts it reaches.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub max_volts: Option<Volts>,
}

optional_fields! {
    /// What pack is wanted.
    pub struct Wanted {
        /// Modules in series; default: the best count that fits the drive.
        pub series: u32,
        /// The most strings in parallel; default: as many as the units on hand allow.
        pub parallel: u32,
    }
}

optional_fields! {
    /// How readings are trusted and how much room is asked for.
    pub struct Settings {
        /// Standard uncertainties taken off the smallest reading.
        pub sigmas: Sigmas,
        /// Accuracy class of the tape.
        pub tape_class: TapeClassName,
        /// Standard uncertainty of a reading that says nothing of its own, in place of what follows from the tape.
        pub reading_sigma: Len,
        /// Clearance asked for between a box and anything in its cavity.
        pub margin: Len,
        /// Gap asked for between modules, or between stacks.
        pub gap: Len,
        /// Coating thickness on each outer face.
        pub coating: Len,
        /// Fractions of an inch on the cut list.
        pub fraction: FractionName,
        /// What the shop holds lengths to.
        pub shop_class: ShopClassName,
        /// What the shop says it holds the outside to, either way, in place of the class.
        pub shop_limits: Len,
        /// What the shop holds walls flat to.
        pub flatness: FlatnessName,
        /// How much thicker or thinner than its size a sheet may be delivered.
        pub sheet_limits: Len,
        /// How much thicker or thinner than its figure the coating may be on a face.
        pub coating_limits: Len,
        /// How much thicker or thinner than its size the liner may be.
        pub liner_limits: Len,
        /// How much longer or shorter than its size a module may be.
        pub module_limits: Len,
        ;
        /// What stands on every drawn sheet.
        #[serde(skip_serializing_if = "Sheets::is_open")]
        pub sheets: Sheets,
    }
}

optional_fields! {
    /// How boxes are built.
    pub struct Design {
        /// What sheets are made of.
        pub material: MaterialName,
        /// How floor and walls are made.
        pub construction: ConstructionName,
        /// How the length of a bend is worked out: `K 0.44`, `DIN 6935`, `soft steel`, `cold-rolled`, `deduction 3.4 mm`.
        pub bend_rule: String,
        /// Inside radius of bends.
        pub bend_radius: Len,
        /// How far the walls of a folded box end short of the inside corners.
        pub corner_gap: Len,
        /// Leg of the angle round a framed box.
        pub frame_leg: Len,
        /// Thickness of that angle.
        pub frame_thickness: Len,
        /// What holds panels in the frame.
        pub held: HeldName,
        /// Diameter of the rivets' holes.
        pub rivet: Len,
        /// The widest rivet pitch.
        pub rivet_pitch: Len,
        /// Which side rivets are set from.
        pub rivet_heads: RivetHeadsName,
        /// Across the bead of sealant between riveted panels and their angle; 0 for none.
        pub sealant: Len,
        /// Wall thickness.
        pub wall: Thickness,
        /// Floor thickness.
        pub floor: Thickness,
        /// Lid thickness.
        pub lid: Thickness,
        /// How panels meet.
        pub corners: CornersName,
        /// On which side floor and corners are welded.
        pub weld_side: WeldSideName,
        /// Leg of every weld bead.
        pub weld_leg: Len,
        /// What closes the box.
        pub closing: Closing,
        /// How far the flange reaches out from the walls.
        pub flange_out: Len,
        /// Flange thickness.
        pub flange_thickness: Thickness,
        /// How flange bars meet.
        pub flange_joint: JointName,
        /// Lid screw diameter.
        pub screw: Len,
        /// Height of screw head and washer above the lid.
        pub screw_head: Len,
        /// What hangs below the flange: nut and thread end.
        pub screw_below: Len,
        /// The widest screw pitch.
        pub screw_pitch: Len,
        /// How far the cap's skirt stands out from the walls, outside.
        pub cap_out: Len,
        /// How far the cap's skirt hangs down.
        pub cap_deep: Len,
        /// What holds a cap down.
        pub cap_held: CapHeldName,
        /// How far a closed toggle clamp stands out from the skirt.
        pub toggle_out: Len,
        /// Gasket before it is squeezed.
        pub gasket: Len,
        /// Gasket when the lid is down.
        pub gasket_squeezed: Len,
        /// Liner on floor and walls.
        pub liner: Len,
        /// What the liner is cut from.
        pub liner_material: LinerName,
        /// Room on each side between liner and modules.
        pub fit: Len,
        /// Least room over the modules (links, straps); their service space counts within it.
        pub room_over: Len,
        /// Least room at each end of the box's length; service space counts within it.
        pub room_ends: Len,
        /// Bay for fuse, contactor and cable bend at one side of the box.
        pub bay: Len,
        /// Whether modules may stand one over another in a box.
        pub tiers: TiersName,
        /// The most boxes the automatic layout makes in one cavity.
        pub boxes_per_cavity: u32,
        ;
        /// What goes in and on a box beyond its shell and lid.
        #[serde(skip_serializing_if = "Added::is_open")]
        pub added: Added,
    }
}

/// The most that one loaded box may weigh.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Limits {
    /// The most that one loaded box may weigh, kg; none for no limit.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub box_kg: Option<Grams>,
}

/// How many standard uncertainties are taken off, 0 to 6 in tenths.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(try_from = "f64", into = "f64")]
pub struct Sigmas(f64);

impl Sigmas {
    /// `k` standard uncertainties; `None` outside 0 to 6.
    pub fn new(k: f64) -> Option<Self> {
        (0.0..=6.0).contains(&k).then_some(Self(k))
    }

    /// The number.
    pub const fn get(self) -> f64 {
        self.0
    }
}

impl TryFrom<f64> for Sigmas {
    type Error = &'static str;

    fn try_from(k: f64) -> Result<Self, Self::Error> {
        Self::new(k).ok_or("must be a number from 0 to 6")
    }
}

impl From<Sigmas> for f64 {
    fn from(sigmas: Sigmas) -> Self {
        sigmas.0
    }
}

/// An enum whose values have a word in the file and words on the screens.
macro_rules! named {
    ($(#[$outer:meta])* $name:ident { $($(#[$inner:meta])* $variant:ident = $word:literal / $text:literal,)* }) => {
        $(#[$outer])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
        #[cfg_attr(test, derive(schemars::JsonSchema))]
        pub enum $name {
            $($(#[$inner])* #[serde(rename = $word)] $variant,)*
        }

        impl $name {
            /// All of them, in the order they are offered.
            pub const ALL: &'static [Self] = &[$(Self::$variant),*];

            /// The words for it.
            pub const fn name(self) -> &'static str {
                match self { $(Self::$variant => $text,)* }
            }
        }
    };
}

pub(super) use {named, optional_fields};

named! {
    /// Accuracy class of the tape.
    TapeClassName {
        /// The finest.
        One = "I" / "I",
        /// The usual.
        Two = "II" / "II",
        /// The coarsest.
        Three = "III" / "III",
        /// A metal tape without a class, by the tolerances of the United States.
        UsMetal = "US metal" / "US metal tape",
    }
}

impl TapeClassName {
    /// The class.
    pub const fn class(self) -> TapeClass {
        match self {
            Self::One => TapeClass::I,
            Self::Two => TapeClass::II,
            Self::Three => TapeClass::III,
            Self::UsMetal => TapeClass::UsMetal,
        }
    }
}

named! {
    /// Class for the lengths of welded work.
    ShopClassName {
        /// The finest.
        A = "A" / "ISO 13920 A",
        /// What shops usually hold.
        B = "B" / "ISO 13920 B",
        /// Coarse.
        C = "C" / "ISO 13920 C",
        /// The coarsest.
        D = "D" / "ISO 13920 D",
    }
}

impl ShopClassName {
    /// The class.
    pub const fn class(self) -> LengthClass {
        match self {
            Self::A => LengthClass::A,
            Self::B => LengthClass::B,
            Self::C => LengthClass::C,
            Self::D => LengthClass::D,
        }
    }
}

named! {
    /// How many tiers of modules the automatic layout makes in a box.
    TiersName {
        /// Every module stands on the floor.
        One = "one" / "one, on the floor",
        /// As many as go in, whatever carries the upper ones.
        Several = "several" / "several, if they go in",
    }
}

named! {
    /// Class for the flatness of welded work.
    FlatnessName {
        /// The finest.
        E = "E" / "ISO 13920 E",
        /// What goes with class B.
        F = "F" / "ISO 13920 F",
        /// Coarse.
        G = "G" / "ISO 13920 G",
        /// The coarsest.
        H = "H" / "ISO 13920 H",
    }
}

impl FlatnessName {
    /// The class.
    pub const fn class(self) -> FlatnessClass {
        match self {
            Self::E => FlatnessClass::E,
            Self::F => FlatnessClass::F,
            Self::G => FlatnessClass::G,
            Self::H => FlatnessClass::H,
        }
    }
}

named! {
    /// Fractions of an inch.
    FractionName {
        /// Sixteenths.
        Sixteenth = "1/16" / "1/16 in",
        /// Thirty-seconds.
        ThirtySecond = "1/32" / "1/32 in",
    }
}

named! {
    /// What sheets are made of.
    MaterialName {
        /// Mild steel.
        MildSteel = "mild steel" / "mild steel",
        /// Zinc-coated steel.
        Galvanised = "galvanised steel" / "galvanised steel",
        /// Stainless 304.
        Stainless = "stainless 304" / "stainless 304",
        /// Aluminium 5052.
        Aluminium5052 = "aluminium 5052" / "aluminium 5052",
        /// Aluminium 6061.
        Aluminium6061 = "aluminium 6061" / "aluminium 6061",
    }
}

impl MaterialName {
    /// The material.
    pub const fn material(self) -> Material {
        match self {
            Self::MildSteel => Material::MildSteel,
            Self::Galvanised => Material::Galvanised,
            Self::Stainless => Material::Stainless304,
            Self::Aluminium5052 => Material::Aluminium5052,
            Self::Aluminium6061 => Material::Aluminium6061,
        }
    }
}

named! {
    /// What a liner is cut from.
    LinerName {
        /// Glass cloth and epoxy.
        GlassFibre = "glass-fibre laminate" / "glass-fibre laminate",
        /// Paper and phenolic resin.
        PhenolicPaper = "phenolic paper laminate" / "phenolic paper laminate",
        /// Polycarbonate.
        Polycarbonate = "polycarbonate" / "polycarbonate",
        /// Polypropylene.
        Polypropylene = "polypropylene" / "polypropylene",
        /// Polyethylene of high density.
        Polyethylene = "polyethylene" / "polyethylene",
        /// EPDM rubber.
        Epdm = "EPDM rubber" / "EPDM rubber",
    }
}

impl LinerName {
    /// The sort of sheet.
    pub const fn sort(self) -> Liner {
        match self {
            Self::GlassFibre => Liner::GlassFibre,
            Self::PhenolicPaper => Liner::PhenolicPaper,
            Self::Polycarbonate => Liner::Polycarbonate,
            Self::Polypropylene => Liner::Polypropylene,
            Self::Polyethylene => Liner::Polyethylene,
            Self::Epdm => Liner::Epdm,
        }
    }
}

named! {
    /// How floor and walls are made.
    ConstructionName {
        /// Panels welded edge to edge.
        Welded = "welded" / "welded panels",
        /// A tray folded from one sheet.
        Folded = "folded" / "folded tray",
        /// Panels in a frame of angle.
        Framed = "framed" / "panels in an angle frame",
    }
}

named! {
    /// What holds panels in a frame.
    HeldName {
        /// Rivets.
        Riveted = "riveted" / "rivets",
        /// Adhesive.
        Bonded = "bonded" / "adhesive",
    }
}

named! {
    /// Which side of the box the heads of its rivets are on: they are set from there, and the tails are on the other.
    RivetHeadsName {
        /// Countersunk into the panel.
        FlushInside = "flush_inside" / "inside, flush",
        /// Round ones inside.
        RoundInside = "round_inside" / "inside, round",
        /// Round ones outside, tails inside.
        Outside = "outside" / "outside, tails inside",
    }
}

impl RivetHeadsName {
    pub(crate) const fn heads(self) -> RivetHeads {
        match self {
            Self::FlushInside => RivetHeads::FlushInside,
            Self::RoundInside => RivetHeads::RoundInside,
            Self::Outside => RivetHeads::Outside,
        }
    }
}

named! {
    /// How panels meet at the corners.
    CornersName {
        /// Convention A.
        LongSidesRun = "A" / "A: floor under walls, long sides through",
        /// Convention B.
        WallsWrapFloor = "B" / "B: walls wrap the floor",
        /// Convention C.
        EndsRun = "C" / "C: floor under walls, ends through",
        /// Convention D.
        CornerToCorner = "D" / "D: corner to corner, groove for the weld",
    }
}

impl CornersName {
    /// The convention.
    pub const fn corners(self) -> Corners {
        match self {
            Self::LongSidesRun => Corners::LongSidesRun,
            Self::WallsWrapFloor => Corners::WallsWrapFloor,
            Self::EndsRun => Corners::EndsRun,
            Self::CornerToCorner => Corners::CornerToCorner,
        }
    }
}

named! {
    /// On which side floor and corners are welded.
    WeldSideName {
        /// Nothing of the weld stands where modules go.
        Outside = "outside" / "outside only",
        /// A bead lies in every inside corner.
        Inside = "inside" / "inside, a bead in every corner",
    }
}

impl WeldSideName {
    /// The side.
    pub const fn side(self) -> enclosure::weld::Side {
        match self {
            Self::Outside => enclosure::weld::Side::Outside,
            Self::Inside => enclosure::weld::Side::Inside,
        }
    }
}

named! {
    /// How flange bars meet.
    JointName {
        /// Butted.
        Butt = "butt" / "butt",
        /// Mitred.
        Mitred = "mitred" / "mitred",
    }
}

impl JointName {
    /// The joint.
    pub const fn joint(self) -> Joint {
        match self {
            Self::Butt => Joint::Butt,
            Self::Mitred => Joint::Mitred,
        }
    }
}

named! {
    /// What holds a cap down.
    CapHeldName {
        /// Screws through skirt and wall into rivet nuts.
        Screws = "screws" / "screws through skirt and wall",
        /// Toggle clamps on the walls.
        Toggles = "toggle clamps" / "toggle clamps",
        /// Nothing that is drawn.
        Nothing = "nothing" / "nothing that is drawn",
    }
}

named! {
    /// What closes a box.
    Closing {
        /// A flat lid screwed to a flange.
        Flange = "flange" / "flat lid on a flange",
        /// A cap with a skirt outside the walls.
        Cap = "cap" / "cap with a skirt",
        /// A flat lid on the rim, no flange.
        Flat = "flat" / "flat lid on the rim",
    }
}
