//! The pieces to cut.

use std::f64::consts::FRAC_PI_4;

use tape::{Area, Length};

use crate::section::listed_angle_kg_per_m;
use crate::strength::bolt::BOLTS;
use crate::{Notch, Sheet, Wall};

/// What a part is in the box.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// The floor.
    Floor,
    /// The floor over a step.
    RaisedFloor,
    /// The upright panel between deep and raised floor.
    Riser,
    /// A long side.
    LongSide,
    /// An end.
    End,
    /// A long bar of the lid flange.
    FlangeLong,
    /// A short bar of the lid flange.
    FlangeShort,
    /// The lid plate, or the plate of a cap.
    LidPlate,
    /// A long strip of a cap's skirt.
    SkirtLong,
    /// A short strip of a cap's skirt.
    SkirtShort,
    /// A long bar of the angle frame.
    FrameLong,
    /// A short bar of the angle frame.
    FrameShort,
    /// A tray: floor and walls folded from one sheet, with the lips that the lid is screwed to, if it has any.
    Tray,
    /// A lid folded from one sheet like a pan.
    PanLid,
    /// A long bar of the angle ring at the rim.
    RingLong,
    /// A short bar of the angle ring at the rim.
    RingShort,
    /// An upright of the angle frame.
    Post,
    /// A bracket of angle that carries the box.
    Bracket,
    /// A flat bar over the modules.
    HoldDownBar,
    /// An angle over the modules.
    HoldDownAngle,
    /// A lug of angle at the wall that a hold-down bar is bolted to.
    Lug,
    /// A threaded rod that a hold-down bar is bolted to.
    HoldDownRod,
    /// A wall between rows of modules.
    Divider,
    /// A strip that modules stand on.
    Standoff,
    /// An end plate of a clamped stack.
    EndPlate,
    /// A tie rod of a clamped stack.
    TieRod,
    /// An angle across the lid.
    Stiffener,
    /// An angle under the floor.
    FloorRail,
    /// A plate under the nut of a lifting eye.
    EyePlate,
    /// The liner's sheet on the floor.
    LinerFloor,
    /// The liner's sheet on the raised floor of a step.
    LinerRaised,
    /// The liner's sheet on the riser of a step.
    LinerRiser,
    /// The liner's sheet on a long side.
    LinerSide,
    /// The liner's sheet on an end.
    LinerEnd,
}

impl Role {
    /// Whether it is of the lid itself: its plate, with the skirts of a cap. What lies on it is not.
    pub const fn is_of_lid(self) -> bool {
        self.is_lid_plate() || matches!(self, Self::SkirtLong | Self::SkirtShort)
    }

    /// Whether it is a bar of the rim that the lid is screwed to.
    pub const fn is_of_rim(self) -> bool {
        matches!(
            self,
            Self::FlangeLong | Self::FlangeShort | Self::RingLong | Self::RingShort
        )
    }

    /// Whether so many bends make it a tray whose walls end in lips: more than the four of its floor.
    const fn has_lips(self, bends: usize) -> bool {
        matches!(self, Self::Tray) && bends > 4
    }

    /// Whether the lid is screwed to it: a bar of the rim, or a tray with lips.
    pub(crate) const fn takes_the_lid(self, bends: usize) -> bool {
        self.is_of_rim() || self.has_lips(bends)
    }

    /// Whether it is the one sheet that covers the box.
    pub const fn is_lid_plate(self) -> bool {
        matches!(self, Self::LidPlate | Self::PanLid)
    }

    /// The name as printed on a cut list.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Floor => "floor",
            Self::RaisedFloor => "raised floor",
            Self::Riser => "riser",
            Self::LongSide => "long side",
            Self::End => "end",
            Self::FlangeLong => "flange long bar",
            Self::FlangeShort => "flange short bar",
            Self::LidPlate => "lid plate",
            Self::SkirtLong => "skirt long strip",
            Self::SkirtShort => "skirt short strip",
            Self::FrameLong => "frame long bar",
            Self::FrameShort => "frame short bar",
            Self::Tray => "tray",
            Self::PanLid => "pan lid",
            Self::RingLong => "ring long bar",
            Self::RingShort => "ring short bar",
            Self::Post => "post",
            Self::Bracket => "bracket",
            Self::HoldDownBar | Self::HoldDownAngle => "hold-down bar",
            Self::Lug => "hold-down lug",
            Self::HoldDownRod => "hold-down rod",
            Self::Divider => "divider",
            Self::Standoff => "standoff",
            Self::EndPlate => "end plate",
            Self::TieRod => "tie rod",
            Self::Stiffener => "lid stiffener",
            Self::FloorRail => "floor rail",
            Self::EyePlate => "backing plate",
            Self::LinerFloor => "liner floor",
            Self::LinerRaised => "liner raised floor",
            Self::LinerRiser => "liner riser",
            Self::LinerSide => "liner long side",
            Self::LinerEnd => "liner end",
        }
    }

    /// What it is cut from.
    pub const fn form(self) -> Form {
        match self {
            Self::Floor
            | Self::RaisedFloor
            | Self::Riser
            | Self::LongSide
            | Self::End
            | Self::LidPlate
            | Self::SkirtLong
            | Self::SkirtShort
            | Self::Tray
            | Self::PanLid
            | Self::Divider
            | Self::EndPlate
            | Self::EyePlate
            | Self::LinerFloor
            | Self::LinerRaised
            | Self::LinerRiser
            | Self::LinerSide
            | Self::LinerEnd => Form::Sheet,
            Self::FlangeLong | Self::FlangeShort | Self::HoldDownBar | Self::Standoff => Form::FlatBar,
            Self::FrameLong
            | Self::FrameShort
            | Self::RingLong
            | Self::RingShort
            | Self::Post
            | Self::Bracket
            | Self::HoldDownAngle
            | Self::Lug
            | Self::Stiffener
            | Self::FloorRail => Form::Angle,
            Self::HoldDownRod | Self::TieRod => Form::Rod,
        }
    }

    /// Whether it is of what goes in or on a box beyond shell, lid and frame: see [`crate::added`].
    pub const fn is_added(self) -> bool {
        matches!(
            self,
            Self::Bracket
                | Self::HoldDownBar
                | Self::HoldDownAngle
                | Self::Lug
                | Self::HoldDownRod
                | Self::Divider
                | Self::Standoff
                | Self::EndPlate
                | Self::TieRod
                | Self::Stiffener
                | Self::FloorRail
                | Self::EyePlate
        ) || self.is_liner()
    }

    /// Whether it is a sheet of the liner: cut with a knife or a saw, laid in when all is welded.
    pub const fn is_liner(self) -> bool {
        matches!(
            self,
            Self::LinerFloor | Self::LinerRaised | Self::LinerRiser | Self::LinerSide | Self::LinerEnd
        )
    }

    /// Whether it is a wall, or the liner of one, that may stand beside a step.
    pub(crate) const fn stands_beside(self) -> bool {
        matches!(self, Self::LongSide | Self::End | Self::LinerSide | Self::LinerEnd)
    }

    /// Whether it is a rod that goes through a hole in the other.
    pub(crate) const fn is_rod_through(self, other: Self) -> bool {
        match self {
            Self::HoldDownRod => matches!(other, Self::HoldDownBar | Self::HoldDownAngle),
            Self::TieRod => matches!(other, Self::EndPlate),
            _ => false,
        }
    }
}

/// The form in which stock is bought.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Form {
    /// Sheet.
    Sheet,
    /// Flat bar; a part's width is the bar's.
    FlatBar,
    /// Equal angle; a part's width is the leg.
    Angle,
    /// Threaded rod; a part's width and its thickness are the thread's diameter.
    Rod,
}

/// How an end is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EndCut {
    /// Square.
    Square,
    /// At 45 degrees; the length is told to the long point.
    Mitre45,
    /// Square with the foot coped to fit.
    Coped,
}

impl EndCut {
    /// The cut as printed on a cut list: `90`, `45`, `90 coped`, in degrees.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Square => "90",
            Self::Mitre45 => "45",
            Self::Coped => "90 coped",
        }
    }
}

/// What a hole is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Purpose {
    /// A screw of the lid.
    LidScrew,
    /// The rivet nut of a screw of the lid.
    LidNut,
    /// A rivet that holds a panel in a frame of angle.
    Rivet,
    /// One whose flush head is sunk into the panel, on the inside.
    SunkRivet,
    /// A rivet that holds what lies flat on floor or lid.
    FixingRivet,
    /// One whose flush head is sunk into this part.
    SunkFixingRivet,
    /// A cable gland.
    CableGland,
    /// A membrane that the box breathes through.
    Breather,
    /// A drain.
    Drain,
    /// The service disconnect.
    Disconnect,
    /// An eye that the box is lifted by.
    LiftingEye,
    /// A stud that the box is bonded to the chassis by.
    EarthStud,
    /// A bolt that the box hangs by.
    MountBolt,
    /// A bolt of a bar that holds modules down.
    HoldDown,
    /// A rod that clamps a stack.
    TieRod,
}

impl Purpose {
    /// All of them.
    pub const ALL: [Self; 15] = [
        Self::LidScrew,
        Self::LidNut,
        Self::Rivet,
        Self::SunkRivet,
        Self::FixingRivet,
        Self::SunkFixingRivet,
        Self::CableGland,
        Self::Breather,
        Self::Drain,
        Self::Disconnect,
        Self::LiftingEye,
        Self::EarthStud,
        Self::MountBolt,
        Self::HoldDown,
        Self::TieRod,
    ];

    /// The same without its countersink.
    #[must_use]
    pub const fn plain(self) -> Self {
        match self {
            Self::SunkRivet => Self::Rivet,
            Self::SunkFixingRivet => Self::FixingRivet,
            plain => plain,
        }
    }

    /// The name as printed in a table of holes.
    pub const fn name(self) -> &'static str {
        match self {
            Self::LidScrew => "lid screw",
            Self::LidNut => "rivet nut",
            Self::Rivet => "rivet",
            Self::SunkRivet => "rivet countersunk inside",
            Self::FixingRivet => "fixing rivet",
            Self::SunkFixingRivet => "fixing rivet countersunk inside",
            Self::CableGland => "cable gland",
            Self::Breather => "breather",
            Self::Drain => "drain",
            Self::Disconnect => "disconnect",
            Self::LiftingEye => "lifting eye",
            Self::EarthStud => "earth stud",
            Self::MountBolt => "mount bolt",
            Self::HoldDown => "hold-down bolt",
            Self::TieRod => "tie rod",
        }
    }
}

/// A round hole, placed from the part's lower left corner, length along x.
///
/// A bar lies with its outer edge (away from the box) along x, so a mitred bar is the trapezoid whose long edge is
/// at y = 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hole {
    /// Along the length.
    pub x: Length,
    /// Along the width.
    pub y: Length,
    /// Diameter.
    pub diameter: Length,
    /// What it is for.
    pub purpose: Purpose,
}

/// A corner of an outline, with what leads from it to the next one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vertex {
    /// Along the length.
    pub x: Length,
    /// Along the width.
    pub y: Length,
    /// 0 for a straight edge; for an arc the tangent of a quarter of its angle, above 0 when it turns to the left.
    pub bulge: f64,
}

impl Vertex {
    /// A corner from which a straight edge leads on.
    pub const fn straight([x, y]: [Length; 2]) -> Self {
        Self { x, y, bulge: 0.0 }
    }
}

/// Which way a bend is folded, seen from the drawn face.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Fold {
    /// Towards the viewer.
    Up,
    /// Away from the viewer.
    Down,
}

impl Fold {
    /// As written beside a bend line.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Up => "up",
            Self::Down => "down",
        }
    }
}

/// The middle line of a bend on the flat sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BendLine {
    /// Where it begins.
    pub from: [Length; 2],
    /// Where it ends.
    pub to: [Length; 2],
    /// The angle that the sheet is turned through, in degrees.
    pub turn_deg: f64,
    /// Inside radius.
    pub radius: Length,
    /// Which way.
    pub fold: Fold,
}

/// An even row of holes round a rectangle, corners shared.
///
/// Pitch = side / ceil(side / widest pitch allowed), so every pitch is at most that.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HolePattern {
    /// Length of the hole line.
    pub line_length: Length,
    /// Width of the hole line.
    pub line_width: Length,
    /// Pitches along the length.
    pub intervals_long: u32,
    /// Pitches along the width.
    pub intervals_short: u32,
    /// Holes in all.
    pub count: u32,
}

/// One row of a cut list: a piece and how many of it.
///
/// The length of floor and lid plate lies along the box's longer horizontal side; that of a side, end or strip lies
/// level, its width upright, even when the box is deeper than it is wide. So does that of a riser; a floor that a step cuts
/// short keeps its direction.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// What it is.
    pub role: Role,
    /// Which wall it is, where it differs from the one opposite.
    pub wall: Option<Wall>,
    /// How many.
    pub quantity: u32,
    /// What it is cut from.
    pub sheet: Sheet,
    /// Exact length (for a mitred bar, to the long point).
    pub length: Length,
    /// Exact width (for an angle bar, its leg).
    pub width: Length,
    /// How its two ends are cut.
    pub ends: [EndCut; 2],
    /// Holes to make before welding.
    pub holes: Vec<Hole>,
    /// Its edge, anticlockwise, closed, from the lower left corner of `length` x `width`; of an angle bar, of one leg.
    pub outline: Vec<Vertex>,
    /// Its bends, from the drawn face, which becomes the inside of a tray.
    pub bends: Vec<BendLine>,
    /// Exact face area: of a mitred bar, the trapezoid's; of a folded sheet, the flat one's, corner reliefs not taken off.
    pub area: Area,
    /// Mass of one in grams before holes and corner reliefs, from the exact area; of an angle bar from its mass per metre
    /// or its section, of a rod from that across its flanks. [`Part::grams`] is what it weighs.
    pub solid_grams: f64,
}

impl Part {
    /// Mass of one in grams: that of the solid piece less [`Part::taken_out_grams`].
    pub fn grams(&self) -> f64 {
        self.solid_grams - self.taken_out_grams()
    }

    /// Mass in grams of what its holes and its corner reliefs take out of one.
    ///
    /// Holes that are drilled through several pieces at once after welding (rivets through the angle, lid screws through
    /// a joint of the flange) are in the sheet's piece alone, so a bar weighs up to a few grams too much.
    pub fn taken_out_grams(&self) -> f64 {
        let holes_mm2: f64 = self
            .holes
            .iter()
            .map(|hole| FRAC_PI_4 * hole.diameter.as_mm() * hole.diameter.as_mm())
            .sum();
        let reliefs_mm2 = self.area.as_mm2() - outline_mm2(&self.outline);
        // A square millimetre of one millimetre: kg/m3 x mm3 = 1e-6 g.
        (holes_mm2 + reliefs_mm2) * self.sheet.thickness.as_mm() * self.sheet.material.density_kg_m3() * 1e-6
    }

    /// Whether it is a tray whose walls end in lips: it has bends beyond the four of its floor.
    pub fn has_lips(&self) -> bool {
        self.role.has_lips(self.bends.len())
    }

    /// Its holes of one purpose.
    pub fn holes_for(&self, purpose: Purpose) -> impl Iterator<Item = &Hole> {
        self.holes.iter().filter(move |hole| hole.purpose.plain() == purpose)
    }

    /// Whether the lid is screwed to it.
    pub(crate) fn takes_the_lid(&self) -> bool {
        self.role.takes_the_lid(self.bends.len())
    }

    /// A square-cut piece of sheet without holes.
    pub(crate) fn plate(role: Role, quantity: u32, sheet: Sheet, [length, width]: [Length; 2]) -> Self {
        let area = length * width;
        Self {
            role,
            wall: None,
            quantity,
            sheet,
            length,
            width,
            ends: [EndCut::Square; 2],
            holes: Vec::new(),
            outline: outline([
                [Length::ZERO; 2],
                [length, Length::ZERO],
                [length, width],
                [Length::ZERO, width],
            ]),
            bends: Vec::new(),
            area,
            solid_grams: sheet.grams(area),
        }
    }

    /// The corner that it lacks, when it stands beside a step.
    pub fn notch(&self) -> Option<Notch> {
        Notch::of(&self.outline).filter(|_| self.role.stands_beside())
    }

    /// Takes a lower corner away.
    pub(crate) fn cut_out(&mut self, notch: Notch) {
        self.outline = notch.outline([self.length, self.width]);
        self.area = area_within(&self.outline);
        self.solid_grams = self.sheet.grams(self.area);
    }

    /// Cuts two corners off at 45 degrees, this far along both edges: those of the lower edge, else of the left one.
    pub(crate) fn cut_corners(&mut self, cut: Length, lower: bool) {
        let (zero, length, width) = (Length::ZERO, self.length, self.width);
        let corners = if lower {
            [
                [cut, zero],
                [length - cut, zero],
                [length, cut],
                [length, width],
                [zero, width],
                [zero, cut],
            ]
        } else {
            [
                [cut, zero],
                [length, zero],
                [length, width],
                [cut, width],
                [zero, width - cut],
                [zero, cut],
            ]
        };
        self.outline = outline(corners);
    }

    /// Square-cut flat bars, the bar's width across.
    pub(crate) fn bar(role: Role, quantity: u32, sheet: Sheet, size: [Length; 2]) -> Self {
        Self::plate(role, quantity, sheet, size)
    }

    /// Square-cut pieces of equal angle of this length and leg: of a listed size by the mass per metre that its rounded root
    /// makes, else its corners taken as sharp.
    pub(crate) fn angle(role: Role, quantity: u32, sheet: Sheet, [length, leg]: [Length; 2]) -> Self {
        let mut part = Self::plate(role, quantity, sheet, [length, leg]);
        // Kilograms a metre are grams a millimetre.
        part.solid_grams = listed_angle_kg_per_m(leg, sheet.thickness, sheet.material) * length.as_mm();
        part
    }

    /// Pieces of threaded rod, as heavy as a plain one across the flanks of its thread ([`crate::strength::bolt::Bolt::pitch_diameter_mm`]); a thread
    /// that is not on the list of bolts is taken as full, on the generous side.
    pub(crate) fn rod(role: Role, quantity: u32, thread: Sheet, length: Length) -> Self {
        let diameter = thread.thickness;
        let mut part = Self::plate(role, quantity, thread, [length, diameter]);
        let listed = BOLTS.iter().find(|bolt| bolt.diameter == diameter);
        let across = listed.map_or(1.0, |bolt| bolt.pitch_diameter_mm() / diameter.as_mm());
        part.solid_grams *= FRAC_PI_4 * across * across;
        part
    }

    /// A pair of flat bars; a mitred one is a trapezoid, its length told to the long points.
    pub(crate) fn flat_bars(role: Role, sheet: Sheet, [length, width]: [Length; 2], end: EndCut) -> Self {
        let mut bar = Self::plate(role, 2, sheet, [length, width]);
        bar.ends = [end; 2];
        if end == EndCut::Mitre45 {
            bar.area = width * (length - width);
            bar.solid_grams = sheet.grams(bar.area);
            bar.outline = outline([
                [Length::ZERO; 2],
                [length, Length::ZERO],
                [length - width, width],
                [width, width],
            ]);
        }
        bar
    }
}

/// An outline of straight edges.
pub(crate) fn outline(corners: impl IntoIterator<Item = [Length; 2]>) -> Vec<Vertex> {
    corners.into_iter().map(Vertex::straight).collect()
}

/// The area within straight edges; arcs are taken as their chords.
pub(crate) fn area_within(outline: &[Vertex]) -> Area {
    let next = outline.iter().cycle().skip(1);
    let twice: Area = outline.iter().zip(next).map(|(a, b)| a.x * b.y - b.x * a.y).sum();
    // Edges are square to the sheet or at 45 degrees: what is rounded off is below a square nanometre.
    twice.half_down()
}

/// The area within an edge in square millimetres, its arcs with it.
///
/// The polygon of the corners, and for each arc the segment between it and its chord: `r^2 (a - sin a) / 2`, where the
/// arc turns by `a = 4 atan(bulge)` and `r = chord / (2 sin(a / 2))`.
///
/// Source: geometry of the circle.
pub(crate) fn outline_mm2(outline: &[Vertex]) -> f64 {
    let segment = |(from, to): (&Vertex, &Vertex)| {
        if from.bulge == 0.0 {
            return 0.0;
        }
        let turn = 4.0 * libm::atan(from.bulge);
        let chord = libm::hypot((to.x - from.x).as_mm(), (to.y - from.y).as_mm());
        let radius = chord / (2.0 * libm::sin(turn / 2.0));
        radius * radius * (turn - libm::sin(turn)) / 2.0
    };
    let next = outline.iter().cycle().skip(1);
    area_within(outline).as_mm2() + outline.iter().zip(next).map(segment).sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_lid_is_its_plate_and_the_skirts_of_a_cap() {
        let of_lid = [Role::LidPlate, Role::PanLid, Role::SkirtLong, Role::SkirtShort];
        assert!(of_lid.into_iter().all(Role::is_of_lid));
        assert_eq!(of_lid.map(Role::is_lid_plate), [true, true, false, false]);
        let others = [
            Role::FlangeLong,
            Role::RingShort,
            Role::Stiffener,
            Role::Floor,
            Role::Tray,
        ];
        assert!(!others.into_iter().any(Role::is_of_lid));
    }
    use crate::material::Material;

    /// Half a metre of L 40 x 40 x 4: tables print 2.42 kg/m, so 1210 g. Not listed, L 41 x 41 x 4 is 4 x 78 mm2 of steel,
    /// 0.5 x 312 x 7.85 = 1224.6 g.
    #[test]
    fn a_listed_angle_weighs_what_tables_print() {
        let sheet = Sheet {
            material: Material::MildSteel,
            thickness: Length::mm(4),
        };
        let angle = |leg| Part::angle(Role::Bracket, 2, sheet, [Length::mm(500), Length::mm(leg)]);
        assert!((angle(40).solid_grams - 1210.0).abs() < 2.5);
        assert!(
            angle(40).solid_grams > 0.5 * 4.0 * 76.0 * 7.85 + 10.0,
            "more than with sharp corners"
        );
        assert!((angle(41).solid_grams - 1224.6).abs() < 0.05);
    }

    /// A metre of steel rod: M6 is 6 - 0.6495 = 5.3505 across its flanks, 22.484 mm2, 176.5 g (full, 221.9); M10 10 - 0.97425 =
    /// 9.02575, 63.981 mm2, 502.3 g; 3/8-16 9.525 - 0.6495 x 1.5875 = 8.49392, 56.664 mm2, 444.8 g. 9 mm is no thread on
    /// the list: 63.617 mm2, 499.4 g.
    #[test]
    fn a_threaded_rod_weighs_as_a_plain_one_across_its_flanks() {
        for (thread, grams) in [
            (Length::mm(6), 176.5),
            (Length::mm(10), 502.3),
            (Length::sixty_fourths(24), 444.8),
            (Length::mm(9), 499.4),
        ] {
            let steel = Sheet {
                material: Material::MildSteel,
                thickness: thread,
            };
            let rod = Part::rod(Role::TieRod, 1, steel, Length::mm(1_000));
            assert!((rod.grams() - grams).abs() < 0.05, "{thread:?}: {}", rod.grams());
        }
    }
}
