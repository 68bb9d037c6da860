//! What is taken when the person has not said: every default, in one place.

mod road;
pub(crate) mod truck;

use enclosure::added::{Bar, Fixed, HoldDown, hold_down};
use enclosure::material::Material;
use enclosure::nest::sheets::Cutting;
use enclosure::seal::{SOFT_GASKET_FACTOR, widest_pitch};
use enclosure::stock::{StockBar, StockSheet};
use enclosure::tolerance::{FlatnessClass, LengthClass};
use enclosure::{
    BendRule, Construction, Corners, Folding, Held, Joint, RivetHeads, Sheet, Skeleton, Temper, bend_limits, section,
    stock,
};
use geometry::{Axis, Point};
use pack::Volts;
use pack::chemistry::Chemistry;
use pack::conductor::Section;
use tape::reading::{Tape, TapeClass, default_sigma, limits_sigma};
use tape::{Length, Units};

use crate::document::{
    BarName, BedName, BedRoomName, BracketsName, CapHeldName, ClampsName, Closing, ConstructionName, CornersName,
    CuttingName, Design, DividersName, Electrics, FixingName, FlatnessName, FloorRailsName, FractionName, HeldName,
    HoldDownName, Joined, JointName, Kind, LinerName, MaterialName, PartSize, RivetHeadsName, Settings, ShopClassName,
    StandoffsName, StiffenersName, Stock, TapeClassName, Terminals, Thickness, TiersName, TurningName, UnitsName,
    WayIn,
};
use crate::nesting::How;
pub(crate) use road::{IN_SERIES, PANEL_GAP, PANELS, PLACE, cruise, top};

/// Takes `given`, or the default.
fn or(given: Option<&crate::Len>, default: Length) -> Length {
    given.map_or(default, crate::Len::value)
}

/// Takes the thickness given for a sheet of this material, or the default.
fn thick(given: Option<&Thickness>, material: Material, default: Length) -> Length {
    given.and_then(|given| given.value(material)).unwrap_or(default)
}

/// The material that boxes are made of.
pub(crate) fn material(design: &Design) -> Material {
    design.material.unwrap_or(MATERIAL).material()
}

/// The thickness of the walls.
pub(crate) fn wall(design: &Design) -> Length {
    thick(design.wall.as_ref(), material(design), WALL)
}

/// How readings are trusted and how much room is asked for, nothing left open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Trust {
    pub(crate) sigmas: f64,
    pub(crate) tape_class: TapeClass,
    /// Of a reading that says nothing of its own; `None` for what follows from the tape.
    pub(crate) reading_sigma: Option<Length>,
    pub(crate) margin: Length,
    pub(crate) gap: Length,
    pub(crate) coating: Length,
    pub(crate) fraction: FractionName,
}

/// How far off what is built may come out, nothing left open; limits, either way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Limits {
    pub(crate) class: LengthClass,
    /// The shop's own figure, in place of the class.
    pub(crate) shop: Option<Length>,
    pub(crate) flatness: FlatnessClass,
    pub(crate) wall: Length,
    pub(crate) floor: Length,
    pub(crate) lid: Length,
    pub(crate) coating: Length,
    pub(crate) liner: Length,
    pub(crate) module: Length,
}

/// Limits as they were typed after a size's own `+-`, or those of its sort.
pub(crate) fn own_limits(size: Option<&crate::Len>, otherwise: Length) -> Length {
    size.and_then(crate::Len::plus_minus).unwrap_or(otherwise)
}

pub(crate) fn limits(settings: &Settings, design: &Design) -> Limits {
    let sheet = or(settings.sheet_limits.as_ref(), SHEET_LIMITS);
    let coating = or(settings.coating_limits.as_ref(), COATING_LIMITS);
    let liner = or(settings.liner_limits.as_ref(), LINER_LIMITS);
    Limits {
        class: settings.shop_class.unwrap_or(SHOP_CLASS).class(),
        shop: settings.shop_limits.as_ref().map(crate::Len::value),
        flatness: settings.flatness.unwrap_or(FLATNESS).class(),
        wall: own_limits(design.wall.as_ref().and_then(Thickness::len), sheet),
        floor: own_limits(design.floor.as_ref().and_then(Thickness::len), sheet),
        lid: own_limits(design.lid.as_ref().and_then(Thickness::len), sheet),
        coating: own_limits(settings.coating.as_ref(), coating),
        liner: own_limits(design.liner.as_ref(), liner),
        module: or(settings.module_limits.as_ref(), MODULE_LIMITS),
    }
}

/// What may be missing between brackets on a wall of this height and the skirt of a cap that hangs over it: coating on both,
/// and the shop's limits for that height.
pub(crate) fn under_cap(job: &crate::Job, height: Length) -> Length {
    let limits = limits(&job.settings, &job.design);
    let held = limits.shop.unwrap_or_else(|| limits.class.limits(height));
    trust(&job.settings, job.units).coating * 2 + held
}

impl Trust {
    /// Standard uncertainty of a length as it was taped: from its `+-`; else as the person set it for all; else as it
    /// follows from the tape, with the marks of the units it was written in.
    pub(crate) fn sigma_of(&self, len: &crate::Len) -> Length {
        match (len.plus_minus(), self.reading_sigma) {
            (Some(limits), _) => limits_sigma(limits),
            (None, Some(sigma)) => sigma,
            (None, None) => default_sigma(len.value().abs(), &self.tape_of(len)),
        }
    }

    /// The tape that a length was read with: the job's class, with the marks of the units it was written in.
    pub(crate) fn tape_of(&self, len: &crate::Len) -> Tape {
        Tape {
            class: self.tape_class,
            ..Tape::of(len.written().units())
        }
    }
}

/// Two standard uncertainties: about 19 readings in 20 lie within.
pub(crate) const SIGMAS: f64 = 2.0;
pub(crate) const TAPE_CLASS: TapeClassName = TapeClassName::Two;
/// Half an inch is what builders ask for round a box (common practice).
pub(crate) const MARGIN_INCH: Length = Length::sixty_fourths(32);
pub(crate) const MARGIN_MM: Length = Length::mm(12);
const GAP_INCH: Length = Length::sixty_fourths(8);
const GAP_MM: Length = Length::mm(2);
/// Powder coat, 50 to 125 um a face, taken on the thick side.
pub(crate) const COATING: Length = Length::from_nm(125_000);
/// What a shop that was told nothing is taken to hold (common practice: ISO 13920-BF on the drawing).
pub(crate) const SHOP_CLASS: ShopClassName = ShopClassName::B;
pub(crate) const FLATNESS: FlatnessName = FlatnessName::F;
/// 7 gauge sheet was delivered 0.006 in thinner than the book; assumed of any sheet, either way.
pub(crate) const SHEET_LIMITS: Length = Length::from_nm(150_000);
/// Powder coat of 50 to 125 um: half of that range.
pub(crate) const COATING_LIMITS: Length = Length::from_nm(40_000);
pub(crate) const LINER_LIMITS: Length = Length::from_nm(300_000);
pub(crate) const MODULE_LIMITS: Length = Length::from_nm(500_000);
pub(crate) const FRACTION: FractionName = FractionName::Sixteenth;

pub(crate) const fn margin(units: UnitsName) -> Length {
    match units {
        UnitsName::Inch => MARGIN_INCH,
        UnitsName::Millimetre => MARGIN_MM,
    }
}

/// How far off a level, a plumb bob or a square may be over the length of a line (assumed).
pub(crate) const fn within(units: UnitsName) -> Length {
    match units {
        UnitsName::Inch => Length::sixty_fourths(8),
        UnitsName::Millimetre => Length::mm(3),
    }
}

pub(crate) const fn gap(units: UnitsName) -> Length {
    match units {
        UnitsName::Inch => GAP_INCH,
        UnitsName::Millimetre => GAP_MM,
    }
}

pub(crate) fn trust(settings: &Settings, units: UnitsName) -> Trust {
    Trust {
        sigmas: settings.sigmas.map_or(SIGMAS, crate::Sigmas::get),
        tape_class: settings.tape_class.unwrap_or(TAPE_CLASS).class(),
        reading_sigma: settings.reading_sigma.as_ref().map(crate::Len::value),
        margin: or(settings.margin.as_ref(), margin(units)),
        gap: or(settings.gap.as_ref(), gap(units)),
        coating: or(settings.coating.as_ref(), COATING),
        fraction: settings.fraction.unwrap_or(FRACTION),
    }
}

/// How boxes are built, nothing left open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Build {
    pub(crate) material: Material,
    pub(crate) construction: Construction,
    pub(crate) wall: Length,
    pub(crate) floor: Length,
    pub(crate) lid: Length,
    pub(crate) corners: Corners,
    pub(crate) weld_side: enclosure::weld::Side,
    /// `None` for the thinner of the two sheets.
    pub(crate) weld_leg: Option<Length>,
    pub(crate) closing: Closing,
    pub(crate) flange_out: Length,
    pub(crate) flange_thickness: Length,
    pub(crate) flange_joint: Joint,
    pub(crate) screw: Length,
    pub(crate) screw_head: Length,
    pub(crate) screw_below: Length,
    pub(crate) screw_pitch: Length,
    /// Whether nobody entered the pitch.
    pub(crate) pitch_by_rule: bool,
    pub(crate) cap_out: Length,
    pub(crate) cap_deep: Length,
    pub(crate) cap_held: CapHeldName,
    pub(crate) toggle_out: Length,
    pub(crate) gasket: Length,
    pub(crate) gasket_squeezed: Length,
    pub(crate) liner: Length,
    pub(crate) liner_material: Material,
    pub(crate) fit: Length,
    pub(crate) room_over: Length,
    pub(crate) room_ends: Length,
    pub(crate) bay: Length,
    pub(crate) one_tier: bool,
    pub(crate) boxes_per_cavity: u32,
    /// What hold-down bars, and stiffeners under the lid, take up over the modules.
    pub(crate) over_modules: Length,
    /// What modules stand on.
    pub(crate) under_modules: Length,
    /// What rods or lugs at the walls take up beside the modules, from the steel.
    pub(crate) beside_modules: Length,
    /// How high stiffeners stand over the lid.
    pub(crate) over_lid: Length,
    /// How far rails hang down under the floor, from its underside.
    pub(crate) under_floor: Length,
    /// Thickness of the walls between rows; nothing without any.
    pub(crate) divider: Length,
}

impl Build {
    /// The same with the rivets of panels at this pitch, which may be as far apart past something in their way as before: a load is
    /// borne by their number.
    #[must_use]
    pub(crate) fn riveted_at(mut self, pitch: Length) -> Self {
        if let Construction::Framed(Skeleton {
            held: Held::Riveted { most_pitch, .. },
            ..
        }) = &mut self.construction
        {
            *most_pitch = pitch;
        }
        self
    }

    /// How far what is under the body hangs below it: rails under the floor, which an angle's feet stand beside, or the rivets in
    /// those feet.
    pub(crate) fn below_body(&self) -> Length {
        (self.under_floor - self.angle()).max(self.rivets_stand()[0])
    }

    /// How far the rivets of panels stand out of angle and panel, outside and inside; nothing without any.
    pub(crate) fn rivets_stand(&self) -> [Length; 2] {
        match self.construction {
            Construction::Framed(skeleton) => skeleton.rivets_stand(),
            Construction::Welded | Construction::Folded(_) => [Length::ZERO; 2],
        }
    }

    /// The rule that the lengths of bends are worked out by; `None` when nothing is folded.
    pub(crate) fn bend_rule_words(&self) -> Option<String> {
        match self.construction {
            Construction::Folded(folding) => Some(folding.rule.words()),
            Construction::Welded | Construction::Framed(_) => None,
        }
    }

    /// What that is made up of, by name.
    pub(crate) fn frame_layers(&self) -> [(&'static str, Length); 2] {
        let line = match self.construction {
            Construction::Framed(skeleton) => skeleton.held.line(),
            Construction::Welded | Construction::Folded(_) => Length::ZERO,
        };
        [("angle frame", self.angle() - line), ("adhesive", line)]
    }

    /// How far the angle stands out of the panels: its thickness, and the adhesive under it; nothing without a frame.
    pub(crate) fn angle(&self) -> Length {
        match self.construction {
            Construction::Framed(skeleton) => skeleton.thickness + skeleton.held.line(),
            Construction::Welded | Construction::Folded(_) => Length::ZERO,
        }
    }
}

impl Build {
    /// The sheet that the gasket's pressure bends between two screws: the thinner of lid and flange, or a cap's own.
    pub(crate) fn bridged(&self) -> Length {
        match self.closing {
            Closing::Cap => self.lid,
            Closing::Flange | Closing::Flat => self.flange_thickness.min(self.lid),
        }
    }

    /// Whether screws close the lid.
    pub(crate) fn is_screwed(&self) -> bool {
        match self.closing {
            Closing::Flange => true,
            Closing::Cap => self.cap_held == CapHeldName::Screws,
            Closing::Flat => false,
        }
    }

    /// Across the bead of sealant under riveted panels; nothing where there are none, or none is laid.
    pub(crate) fn bead(&self) -> Option<Length> {
        match self.construction {
            Construction::Framed(Skeleton {
                held: Held::Riveted { bead, .. },
                ..
            }) => (bead > Length::ZERO).then_some(bead),
            _ => None,
        }
    }

    /// Whether panels are riveted into a frame with nothing that seals their seams.
    pub(crate) fn is_open_at_seams(&self) -> bool {
        self.rivet().is_some() && self.bead().is_none()
    }

    /// Hole of the rivets that hold panels, and which side they are set from; nothing where none do.
    pub(crate) const fn rivet(&self) -> Option<(Length, RivetHeads)> {
        match self.construction {
            Construction::Framed(Skeleton {
                held: Held::Riveted { hole, heads, .. },
                ..
            }) => Some((hole, heads)),
            _ => None,
        }
    }
}

pub(crate) const MATERIAL: MaterialName = MaterialName::MildSteel;
pub(crate) const CONSTRUCTION: ConstructionName = ConstructionName::Welded;
/// What the handbook says of soft steel and aluminium.
pub(crate) const BEND_RULE: BendRule = BendRule::Handbook(Temper::HalfHard);
/// A gap that a wall goes past its neighbour with when the fold is a little off.
pub(crate) const CORNER_GAP: Length = Length::tenths_mm(5);
pub(crate) const FRAME_LEG: Length = Length::mm(30);
pub(crate) const FRAME_THICKNESS: Length = Length::mm(3);
pub(crate) const HELD: HeldName = HeldName::Riveted;
/// Hole of a blind rivet of 4.8 mm.
pub(crate) const RIVET: Length = Length::tenths_mm(49);
/// The widest that is taken when none was entered; where the crash load asks for less, that (common practice, no source).
pub(crate) const RIVET_PITCH: Length = Length::mm(75);
/// Nothing of a rivet stands in the liner or beside a module, and no stub of a mandrel drops into the box.
pub(crate) const RIVET_HEADS: RivetHeadsName = RivetHeadsName::FlushInside;
/// A bead as the nozzle of a cartridge is cut for body seams: common practice, no source.
pub(crate) const SEALANT: Length = Length::mm(5);
pub(crate) const WALL: Length = Length::mm(3);
pub(crate) const FLOOR: Length = Length::mm(3);
pub(crate) const LID: Length = Length::mm(2);
pub(crate) const CORNERS: CornersName = CornersName::LongSidesRun;
/// Where modules have less than an inch to spare, no bead stands in their corners.
pub(crate) const WELD_SIDE: crate::WeldSideName = crate::WeldSideName::Outside;
pub(crate) const CLOSING: Closing = Closing::Flange;
pub(crate) const FLANGE_OUT: Length = Length::mm(25);
pub(crate) const FLANGE_THICKNESS: Length = Length::mm(3);
pub(crate) const FLANGE_JOINT: JointName = JointName::Butt;
pub(crate) const SCREW: Length = Length::mm(6);
/// Flanged head of an M6 screw with a washer.
pub(crate) const SCREW_HEAD: Length = Length::mm(6);
/// Nut and thread end under the flange.
pub(crate) const SCREW_BELOW: Length = Length::mm(8);
/// The closest pitch that is taken when none was entered (common practice, no source).
pub(crate) const CLOSEST_PITCH: Length = Length::mm(50);
pub(crate) const SCREW_PITCH: Length = Length::mm(75);
pub(crate) const CAP_OUT: Length = Length::mm(4);
pub(crate) const CAP_DEEP: Length = Length::mm(40);
/// What keeps a gasket squeezed for good and is bought anywhere.
pub(crate) const CAP_HELD: CapHeldName = CapHeldName::Screws;
/// A small toggle clamp, closed (from memory of the trade: measure yours).
pub(crate) const TOGGLE_OUT: Length = Length::mm(20);
/// From clamp to clamp (common practice, no source).
pub(crate) const TOGGLE_PITCH: Length = Length::mm(150);
pub(crate) const GASKET: Length = Length::mm(6);
pub(crate) const GASKET_SQUEEZED: Length = Length::mm(4);
pub(crate) const LINER: Length = Length::tenths_mm(15);
/// Keeps its shape, does not feed a flame, and is the heaviest of the usual ones: common practice, no source.
pub(crate) const LINER_MATERIAL: LinerName = LinerName::GlassFibre;
pub(crate) const FIT: Length = Length::mm(3);
/// Nothing carries an upper tier until the person sees to it.
pub(crate) const TIERS: TiersName = TiersName::One;
pub(crate) const BOXES_PER_CAVITY: u32 = 1;

impl Design {
    /// Whether floor and walls have a liner.
    pub fn is_lined(&self) -> bool {
        or(self.liner.as_ref(), LINER) > Length::ZERO
    }

    /// How floor and walls are made: as chosen, else welded.
    pub fn made(&self) -> ConstructionName {
        self.construction.unwrap_or(CONSTRUCTION)
    }

    /// What holds panels in a frame, were it made so.
    pub fn panels_held(&self) -> HeldName {
        self.held.unwrap_or(HELD)
    }

    /// Which side rivets are set from.
    pub(crate) fn rivet_heads(&self) -> RivetHeads {
        self.rivet_heads.unwrap_or(RIVET_HEADS).heads()
    }

    /// What holds a cap down, were the box closed by one: as chosen, else screws.
    pub fn cap_held_by(&self) -> CapHeldName {
        self.cap_held.unwrap_or(CAP_HELD)
    }

    /// What closes a box: as chosen, else a flat lid on a flange, which a frame's ring always is.
    pub fn closed_by(&self) -> Closing {
        match self.made() {
            ConstructionName::Framed => Closing::Flange,
            ConstructionName::Welded | ConstructionName::Folded => self.closing.unwrap_or(CLOSING),
        }
    }
}

pub(crate) fn build(design: &Design) -> Build {
    let material = material(design);
    let wall = wall(design);
    let construction = construction(design, material, wall);
    let mut build = Build {
        material,
        construction,
        wall,
        floor: thick(design.floor.as_ref(), material, FLOOR),
        lid: thick(design.lid.as_ref(), material, LID),
        corners: design.corners.unwrap_or(CORNERS).corners(),
        weld_side: design.weld_side.unwrap_or(WELD_SIDE).side(),
        weld_leg: design.weld_leg.as_ref().map(crate::Len::value),
        closing: design.closed_by(),
        flange_out: or(design.flange_out.as_ref(), FLANGE_OUT),
        flange_thickness: thick(design.flange_thickness.as_ref(), material, FLANGE_THICKNESS),
        flange_joint: design.flange_joint.unwrap_or(FLANGE_JOINT).joint(),
        screw: or(design.screw.as_ref(), SCREW),
        screw_head: or(design.screw_head.as_ref(), SCREW_HEAD),
        screw_below: or(design.screw_below.as_ref(), SCREW_BELOW),
        screw_pitch: SCREW_PITCH,
        pitch_by_rule: design.screw_pitch.is_none(),
        cap_out: or(design.cap_out.as_ref(), CAP_OUT),
        cap_deep: or(design.cap_deep.as_ref(), CAP_DEEP),
        cap_held: design.cap_held.unwrap_or(CAP_HELD),
        toggle_out: or(design.toggle_out.as_ref(), TOGGLE_OUT),
        gasket: or(design.gasket.as_ref(), GASKET),
        gasket_squeezed: or(design.gasket_squeezed.as_ref(), GASKET_SQUEEZED),
        liner: or(design.liner.as_ref(), LINER),
        liner_material: Material::Liner(design.liner_material.unwrap_or(LINER_MATERIAL).sort()),
        fit: or(design.fit.as_ref(), FIT),
        room_over: or(design.room_over.as_ref(), Length::ZERO),
        room_ends: or(design.room_ends.as_ref(), Length::ZERO),
        bay: or(design.bay.as_ref(), Length::ZERO),
        one_tier: design.tiers.unwrap_or(TIERS) == TiersName::One,
        boxes_per_cavity: design.boxes_per_cavity.unwrap_or(BOXES_PER_CAVITY),
        over_modules: Length::ZERO,
        under_modules: Length::ZERO,
        beside_modules: Length::ZERO,
        over_lid: Length::ZERO,
        under_floor: Length::ZERO,
        divider: Length::ZERO,
    };
    added_room(design, &mut build);
    // What one thing decides: a tray is one sheet, and the ring of a frame is what the lid is screwed to.
    match construction {
        Construction::Welded => {}
        Construction::Folded(_) => {
            build.floor = wall;
            build.flange_thickness = wall;
        }
        Construction::Framed(skeleton) => {
            build.flange_out = skeleton.leg;
            build.flange_thickness = skeleton.thickness;
        }
    }
    build.screw_pitch = or(design.screw_pitch.as_ref(), pitch_by_rule(&build));
    build
}

/// The screw pitch that is taken when none was entered: what lid and flange bridge without the gasket leaking between
/// screws, but no closer than [`CLOSEST_PITCH`]; where there is no gasket, common practice.
pub(crate) fn pitch_by_rule(build: &Build) -> Length {
    if build.closing == Closing::Cap && build.cap_held == CapHeldName::Toggles {
        return TOGGLE_PITCH;
    }
    if build.gasket <= Length::ZERO {
        return SCREW_PITCH;
    }
    let widest = widest_pitch(build.screw, build.bridged(), SOFT_GASKET_FACTOR);
    // As a rule is read off; a thin lid asks for more screws than any shop sets, so nobody gets them unasked.
    widest.round_down_to(Length::mm(1)).max(CLOSEST_PITCH)
}

/// What is added to a box takes up of the room in it.
fn added_room(design: &Design, build: &mut Build) {
    let size = |size| design.added.sizes.sure(size);
    if let Some(bars) = hold_down(design, build.material) {
        build.over_modules = size(PartSize::BarPad) + bars.height();
        build.beside_modules = match bars.fixed {
            Fixed::Rods => hold_down::rod_from_wall(bars.thread, PLAY) + (bars.thread - bars.thread.half_down()),
            // They stay when the box is opened, over the tops of the modules: those go straight down past them.
            Fixed::Lugs { leg, .. } => leg + build.fit,
        };
    }
    if build.closing == Closing::Cap && build.is_screwed() {
        // The rivet nuts stand in from the walls.
        build.beside_modules = build.beside_modules.max(build.screw_below);
    }
    let [_, inside] = build.rivets_stand();
    if inside > Length::ZERO {
        // Modules go straight down past them.
        build.beside_modules = build.beside_modules.max(inside + build.fit);
    }
    match design.added.stiffeners.unwrap_or(StiffenersName::None) {
        StiffenersName::None => {}
        StiffenersName::Under => {
            // They hang from the lid, which lies on the gasket.
            build.over_modules +=
                (size(PartSize::StiffenerLeg) - build.gasket_squeezed.min(build.gasket)).max(Length::ZERO);
        }
        StiffenersName::Over => build.over_lid = size(PartSize::StiffenerLeg),
    }
    if design.added.standoffs.unwrap_or(StandoffsName::None) == StandoffsName::Strips {
        build.under_modules = size(PartSize::StandoffHeight);
    }
    if design.is_floor_railed() {
        build.under_floor = size(PartSize::FloorRailLeg);
    }
    if design.is_divided() {
        build.divider = size(PartSize::DividerThickness);
    }
}

/// The hold-down bars of a design, without places and heights. `None` when it asks for none.
pub(crate) fn hold_down(design: &Design, material: Material) -> Option<HoldDown> {
    let size = |size| design.added.sizes.sure(size);
    let fixed = match design.held_down() {
        HoldDownName::None => return None,
        HoldDownName::Lugs => Fixed::Lugs {
            leg: size(PartSize::LugLeg),
            thickness: size(PartSize::LugThickness),
            gap: size(PartSize::LugGap),
        },
        HoldDownName::Rods => Fixed::Rods,
    };
    let width = size(PartSize::BarWidth);
    Some(HoldDown {
        along: 1,
        places: Vec::new(),
        unders: Vec::new(),
        sheet: Sheet {
            material,
            thickness: size(PartSize::BarThickness),
        },
        bar: match design.added.bar.unwrap_or(BarName::Flat) {
            BarName::Flat => Bar::Flat { width },
            BarName::Angle => Bar::Angle { leg: width },
        },
        fixed,
        thread: size(PartSize::BarThread),
        play: PLAY,
    })
}

/// What bars and stiffeners stay clear of the walls at each end, to go in at all (common practice, no source).
pub(crate) const PLAY: Length = Length::mm(2);

impl Design {
    /// How brackets carry a box: as chosen, else no brackets are drawn.
    pub fn carried(&self) -> BracketsName {
        self.added.brackets.unwrap_or(BracketsName::None)
    }

    /// What holds modules down: as chosen, else nothing that is drawn.
    pub fn held_down(&self) -> HoldDownName {
        self.added.hold_down.unwrap_or(HoldDownName::None)
    }

    /// Whether there are walls between rows.
    pub fn is_divided(&self) -> bool {
        self.added
            .dividers
            .is_some_and(|dividers| dividers != DividersName::None)
    }

    /// Whether anything that lies flat on floor or lid, or under the floor, is riveted to it.
    pub(crate) fn is_added_riveted(&self) -> bool {
        let added = &self.added;
        let strips = added
            .standoffs
            .is_some_and(|standoffs| standoffs != StandoffsName::None);
        (strips && added.standoffs_fixed == Some(FixingName::Riveted))
            || (self.is_lid_stiffened() && added.stiffeners_fixed == Some(FixingName::Riveted))
            || (self.is_floor_railed() && added.floor_rails_fixed == Some(FixingName::Riveted))
    }

    /// How something that lies flat on floor or lid is held to it: its rivets as far apart as was entered, else as usual, since what a
    /// crash asks of those of the walls is not asked of them.
    pub(crate) fn fixed_by(&self, fixing: Option<FixingName>) -> enclosure::added::Joined {
        match fixing.unwrap_or(FixingName::Welded) {
            FixingName::Welded => enclosure::added::Joined::Welded,
            FixingName::Riveted => enclosure::added::Joined::Riveted {
                pitch: rivet_pitch(self),
                hole: or(self.rivet.as_ref(), RIVET),
                heads: self.rivet_heads(),
            },
            FixingName::Bonded => enclosure::added::Joined::Bonded,
        }
    }

    /// Whether the lid is stiffened.
    pub fn is_lid_stiffened(&self) -> bool {
        self.added
            .stiffeners
            .is_some_and(|stiffeners| stiffeners != StiffenersName::None)
    }

    /// Whether rails under the floor are drawn.
    pub fn is_floor_railed(&self) -> bool {
        self.added
            .floor_rails
            .is_some_and(|rails| rails != FloorRailsName::None)
    }

    /// Whether end plates and tie rods are cut: as chosen, else they are.
    pub fn are_clamps_cut(&self) -> bool {
        self.added.clamps.unwrap_or(ClampsName::Cut) == ClampsName::Cut
    }
}

/// The pitch of rivets as entered, else the usual one; what the crash load asks for is known with the boxes only.
fn rivet_pitch(design: &Design) -> Length {
    or(design.rivet_pitch.as_ref(), RIVET_PITCH)
}

/// How floor and walls are made, nothing left open.
fn construction(design: &Design, material: Material, wall: Length) -> Construction {
    match design.made() {
        ConstructionName::Welded => Construction::Welded,
        ConstructionName::Folded => {
            let radius = or(design.bend_radius.as_ref(), wall);
            let relief = bend_limits::relief_hole(wall, radius);
            Construction::Folded(Folding {
                radius,
                rule: bend_rule(design),
                gap: or(design.corner_gap.as_ref(), CORNER_GAP),
                relief: relief.least.max(relief.usual),
            })
        }
        ConstructionName::Framed => {
            let leg = or(design.frame_leg.as_ref(), FRAME_LEG);
            let thickness = or(design.frame_thickness.as_ref(), FRAME_THICKNESS);
            let kg_per_m = section::listed_angle_kg_per_m(leg, thickness, material);
            #[expect(clippy::cast_possible_truncation, reason = "some kilograms a metre, saturating")]
            let grams_per_m = (kg_per_m * 1e3).round().max(1.0) as i64;
            Construction::Framed(Skeleton {
                leg,
                thickness,
                grams_per_m,
                joint: design.flange_joint.unwrap_or(FLANGE_JOINT).joint(),
                held: match design.panels_held() {
                    HeldName::Riveted => Held::Riveted {
                        hole: or(design.rivet.as_ref(), RIVET),
                        most_pitch: rivet_pitch(design),
                        // Closer rivets do not make what stands in their way shorter.
                        most_past: rivet_pitch(design).max(RIVET_PITCH),
                        bead: or(design.sealant.as_ref(), SEALANT),
                        heads: design.rivet_heads(),
                    },
                    HeldName::Bonded => Held::Bonded,
                },
            })
        }
    }
}

/// How the length of a bend is worked out.
pub(crate) fn bend_rule(design: &Design) -> BendRule {
    design
        .bend_rule
        .as_deref()
        .and_then(|text| text.parse().ok())
        .unwrap_or(BEND_RULE)
}

/// The most common salvaged family; nothing in a module's volts alone tells it from the others.
pub(crate) const CHEMISTRY: Chemistry = Chemistry::Nmc;

/// Room for a lug, a link and a spanner in front of a terminal face.
pub(crate) const SERVICE: Length = Length::mm(25);

pub(crate) fn chemistry(kind: &Kind) -> Chemistry {
    kind.chemistry.map_or(CHEMISTRY, |name| name.0)
}

/// Cells in series inside: as given, or the nearest whole number to nominal volts over the family's nominal volts.
pub(crate) fn cells_series(kind: &Kind) -> Option<u32> {
    kind.cells_series.or_else(|| {
        let each = chemistry(kind).cell_volts().nominal.get();
        let cells = (kind.nominal_volts?.get() / each).round().clamp(1.0, 1000.0);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "clamped to 1..=1000"
        )]
        Some(cells as u32)
    })
}

pub(crate) fn empty_volts(kind: &Kind) -> Option<Volts> {
    kind.empty_volts
        .or_else(|| Some(chemistry(kind).cell_volts().empty * cells_series(kind)?))
}

pub(crate) fn full_volts(kind: &Kind) -> Option<Volts> {
    kind.full_volts
        .or_else(|| Some(chemistry(kind).cell_volts().full * cells_series(kind)?))
}

pub(crate) fn service(kind: &Kind) -> Length {
    or(kind.service.as_ref(), SERVICE)
}

/// Strings in parallel, each whole, with its own fuse.
pub(crate) const JOINED: Joined = Joined::Strings;
/// What links in a box are taken to be.
pub(crate) const LINK: &str = "25 x 3 mm copper bar";
/// What cables between boxes are taken to be.
pub(crate) const CABLE: &str = "50 mm2";

/// How more than one in parallel are joined.
pub(crate) fn joined(electrics: &Electrics) -> Joined {
    electrics.joined.unwrap_or(JOINED)
}

/// What links in a box are made of.
pub(crate) fn link(electrics: &Electrics) -> Section {
    section(electrics.link.as_ref(), LINK)
}

/// What leads and cables from box to box are made of.
pub(crate) fn cable(electrics: &Electrics) -> Section {
    section(electrics.cable.as_ref(), CABLE)
}

fn section(entered: Option<&String>, default: &str) -> Section {
    entered
        .and_then(|text| Section::from_text(text).ok())
        .or_else(|| Section::from_text(default).ok())
        .expect("the default names a section")
}

/// How far a terminal is taken to be from a module's end, where both are on one face, at most.
const TERMINAL_INSET: Length = Length::mm(40);

/// Where plus and minus are on a module, from its own front-left-bottom corner, as far as its size is known: as given,
/// else by rule. On the top or a side both stand on the middle line, a quarter of the length from each end but at most
/// 40 mm, plus at the rear; on one end a quarter of the width from each side, plus at the right; on two faces in the
/// middle of each, plus at the rear or right.
pub(crate) fn terminal_points(kind: &Kind) -> [Option<Point>; 2] {
    let [Some(length), Some(width), Some(height)] = kind.size.each_ref().map(|s| s.as_ref().map(crate::Len::value))
    else {
        return [None, None];
    };
    let part = |side: Length, of: i64| Length::from_nm(side.nm() / of);
    let inset = part(length, 4).min(TERMINAL_INSET);
    let (mid_length, mid_width, mid_height) = (part(length, 2), part(width, 2), part(height, 2));
    let [plus, minus] = match kind.terminals.unwrap_or_default() {
        Terminals::Top => [[length - inset, mid_width, height], [inset, mid_width, height]],
        Terminals::OneEnd => [
            [length, width - part(width, 4), mid_height],
            [length, part(width, 4), mid_height],
        ],
        Terminals::BothEnds => [[length, mid_width, mid_height], [Length::ZERO, mid_width, mid_height]],
        Terminals::OneSide => [[length - inset, width, mid_height], [inset, width, mid_height]],
        Terminals::BothSides => [[mid_length, width, mid_height], [mid_length, Length::ZERO, mid_height]],
    };
    let filled = |rule: [Length; 3], given: &[Option<crate::Len>; 3]| {
        Point(Axis::ALL.map(|axis| or(given[axis.index()].as_ref(), rule[axis.index()])))
    };
    [Some(filled(plus, &kind.plus)), Some(filled(minus, &kind.minus))]
}

/// Cutting edge to edge, which a laser can do as well.
pub(crate) const CUTTING: CuttingName = CuttingName::Shear;
pub(crate) const TURNING: TurningName = TurningName::Either;
/// A thick cutting disc: thinner ones, and a shear, only leave more.
const DISC_KERF: Length = Length::mm(3);
/// Kerf with the bridge that a laser shop leaves between parts (from memory: ask the shop).
const LASER_KERF: Length = Length::mm(5);
/// The edge of a sheet that a laser's clamps hold, or that lies out of true (from memory: ask the shop).
const LASER_TRIM: Length = Length::mm(10);
/// A cut-off disc.
pub(crate) const SAW_KERF: Length = Length::mm(3);
/// Enough to square a sheared end (from memory).
pub(crate) const SAW_TRIM: Length = Length::mm(5);

/// What a cut through a sheet takes.
pub(crate) const fn kerf(cutting: Cutting) -> Length {
    match cutting {
        Cutting::Guillotine => DISC_KERF,
        Cutting::Free => LASER_KERF,
    }
}

/// What is lost along each edge of a sheet.
pub(crate) const fn trim(cutting: Cutting) -> Length {
    match cutting {
        Cutting::Guillotine => Length::ZERO,
        Cutting::Free => LASER_TRIM,
    }
}

/// The least offcut worth keeping.
pub(crate) const fn keep(units: UnitsName) -> Length {
    match units {
        UnitsName::Inch => Length::inches(12),
        UnitsName::Millimetre => Length::mm(300),
    }
}

/// The sheet that is bought when none is told.
pub(crate) fn stock_sheet(units: UnitsName) -> StockSheet {
    let name = match units {
        UnitsName::Inch => "4x8 ft",
        UnitsName::Millimetre => "1250x2500",
    };
    stock::sheet(name).expect("the usual sheet is on the list")
}

/// The bar that is bought when none is told.
pub(crate) fn stock_bar(units: UnitsName) -> StockBar {
    let name = match units {
        UnitsName::Inch => "20 ft",
        UnitsName::Millimetre => "6 m",
    };
    stock::bar(name).expect("the usual bar is on the list")
}

/// The threaded rods that are bought when none are told: of both lengths, whichever makes the fewest, and then the shortest.
pub(crate) fn stock_rods(units: UnitsName) -> [StockBar; 2] {
    let names = match units {
        UnitsName::Inch => ["3 ft", "6 ft"],
        UnitsName::Millimetre => ["1 m", "2 m"],
    };
    names.map(|name| {
        let found = stock::rods().iter().find(|rod| rod.name == name);
        *found.expect("the usual rods are on the list")
    })
}

/// How stock is cut, nothing left open.
pub(crate) fn how(stock: &Stock, units: UnitsName) -> How {
    let cutting = stock.cutting.unwrap_or(CUTTING).cutting();
    How {
        cutting,
        kerf: or(stock.kerf.as_ref(), kerf(cutting)),
        trim: or(stock.trim.as_ref(), trim(cutting)),
        may_turn: stock.turning.unwrap_or(TURNING) == TurningName::Either,
        saw_kerf: or(stock.saw_kerf.as_ref(), SAW_KERF),
        saw_trim: or(stock.saw_trim.as_ref(), SAW_TRIM),
        keep: or(stock.keep.as_ref(), keep(units)),
    }
}

/// A default length as it is shown: in the person's units where exact, else in millimetres.
pub(crate) fn text(length: Length, units: Units) -> String {
    crate::Len::exactly(length, units).text().to_owned()
}

/// The same for people to read: one that is in no mark of the inch has its inches first for a person who works in them,
/// `0.984" (25 mm)`.
pub(crate) fn told(length: Length, units: Units) -> String {
    let exact = text(length, units);
    if units == Units::Inch && exact.ends_with("mm") {
        format!("{} ({exact})", tape::show::hole_inches(length))
    } else {
        exact
    }
}

/// A default as a form shows it, `25 mm`, told as [`told`] has it; anything else as it is.
pub(crate) fn told_text(shown: &str, units: Units) -> String {
    let mm = shown.strip_suffix(" mm").and_then(|mm| mm.parse::<f64>().ok());
    mm.map_or_else(|| shown.to_owned(), |mm| told(Length::from_mm(mm), units))
}

/// The side of a box that the bay is on.
pub(crate) const BAY: geometry::Face = geometry::Face::Front;

/// How boxes are brought in, nothing left open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Handling {
    pub(crate) bed: BedName,
    pub(crate) raised: Length,
    pub(crate) jack: Length,
    pub(crate) pitch_deg: u32,
    pub(crate) hand: Length,
    pub(crate) is_bed_kept_free: bool,
}

/// Kept: a bed that meets a box does not tilt.
pub(crate) const BED_ROOM: BedRoomName = BedRoomName::Kept;
/// Off: it matters only where an opening at the top was entered, and nothing passes there with the bed on.
pub(crate) const BED: BedName = BedName::Off;
/// On its wheels: nothing is taken for granted that nobody raised.
pub(crate) const RAISED: Length = Length::ZERO;
/// A box that is tipped farther slides off a jack (common practice, no source).
pub(crate) const PITCH_DEG: u32 = 20;
/// Modules are lifted by straps or by their terminals, from above.
pub(crate) const HAND: Length = Length::ZERO;

/// A low trolley jack with a board on it (common practice, no source).
pub(crate) const fn jack(units: Units) -> Length {
    match units {
        Units::Inch => Length::inches(4),
        Units::Millimetre => Length::mm(100),
    }
}

/// The height of a crossmember and the length of a bed, for a part to be filled in.
pub(crate) const fn bed_part(units: Units) -> [Length; 2] {
    match units {
        Units::Inch => [Length::inches(3), Length::inches(96)],
        Units::Millimetre => [Length::mm(80), Length::mm(2500)],
    }
}

pub(crate) fn handling(way_in: &WayIn, units: Units) -> Handling {
    Handling {
        bed: way_in.bed.unwrap_or(BED),
        raised: or(way_in.raised.as_ref(), RAISED),
        jack: or(way_in.jack.as_ref(), jack(units)),
        pitch_deg: way_in.pitch_deg.unwrap_or(PITCH_DEG),
        hand: or(way_in.hand.as_ref(), HAND),
        is_bed_kept_free: way_in.bed_room.unwrap_or(BED_ROOM) == BedRoomName::Kept,
    }
}

/// The face of a cavity that is taken for open while none was entered: most boxes are jacked up from below.
pub(crate) const OPENING: geometry::Face = geometry::Face::Bottom;
