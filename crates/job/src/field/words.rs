//! What each field is called and what it takes.

use geometry::{Axis, Face};

use super::Field;
use crate::PlacesOf;

const WHICH_END: &str = "from the cavity's front-left-bottom corner: rearward, to the right, up";
const COUNTED: &str =
    "from the walls that meet in the corner it is measured from, inward; rearward, right, up from its middle";

const TERMINAL: &str = "from the module's own front-left-bottom corner, standing upright";

/// Label and help of a field.
#[expect(clippy::too_many_lines, reason = "a table, one row for each field")]
fn row(field: Field) -> (&'static str, &'static str) {
    match field {
        Field::JobName => ("job", "what you call this job"),
        Field::Truck => ("truck", "which truck, for the papers"),
        Field::Revision => ("revision", "letter of this state of the drawing, for the papers"),
        Field::Notes => ("notes", "anything to remember"),
        Field::Units => (
            "units",
            "inches or millimetres for a number typed without a unit; what is written stays as it is",
        ),
        Field::DriveMin => (
            "drive, least volts",
            "the least volts the controller or inverter works at",
        ),
        Field::DriveMax => (
            "drive, most volts",
            "the most volts the controller or inverter works at",
        ),
        Field::DriveAbsolute => ("drive, destroyed above", "volts that destroy it, from its data sheet"),
        Field::DrivePeak => ("drive, peak amps", "the most battery amps it draws for a short time"),
        Field::DriveContinuous => ("drive, continuous amps", "the most battery amps it draws for long"),
        Field::ChargerMin => ("charger, least volts", "the least volts it starts charging at"),
        Field::ChargerMax => ("charger, most volts", "the most volts it reaches"),
        Field::WantedSeries => ("modules in series", "empty for the best count that fits the drive"),
        Field::WantedParallel => (
            "strings in parallel, at most",
            "empty for as many as the units on hand allow",
        ),
        Field::Sigmas => (
            "sigmas taken off",
            "how many standard uncertainties are taken off the smallest reading, 0 to 6; 2 covers 19 in 20",
        ),
        Field::TapeClass => (
            "tape class",
            "accuracy class printed on the tape: I, II or III (II is usual), or a US metal tape without one",
        ),
        Field::ReadingSigma => (
            "give or take of a reading",
            "standard uncertainty of a reading without a +- of its own; empty for what follows from the tape",
        ),
        Field::Margin => (
            "margin",
            "clearance you ask for between a box and anything in its cavity",
        ),
        Field::Gap => ("gap", "distance you ask for between modules, or between stacks"),
        Field::Coating => (
            "coating",
            "paint or powder on each outer face; 0 for sizes before coating",
        ),
        Field::Fraction => ("cut list fractions", "inches on the cut list go to this fraction"),
        Field::ShopClass => (
            "shop holds lengths to",
            "tolerance class of the welding shop: ask for it; A is fine, B usual, C and D coarse",
        ),
        Field::ShopLimits => (
            "shop's own figure",
            "what the shop says it holds the outside to, either way, as 2 mm; it wins over the class",
        ),
        Field::Flatness => (
            "shop holds walls flat to",
            "flatness class: E is fine, F usual, G and H coarse",
        ),
        Field::SheetLimits => (
            "sheet, give or take",
            "how far the delivered sheet may be off its thickness; 0 when you measured it",
        ),
        Field::CoatingLimits => (
            "coating, give or take",
            "how far the coating may be off its thickness on a face",
        ),
        Field::LinerLimits => ("liner, give or take", "how far the liner may be off its thickness"),
        Field::ModuleLimits => ("module, give or take", "how far a module may be off its size"),
        Field::Shop => (
            "shop",
            "whose drawings these are: stands in every title block as the owner",
        ),
        Field::DrawnBy => ("drawn by", "who made the drawings: stands in every title block"),
        Field::PaperSize => (
            "paper",
            "what is in the printer: drawings, flat patterns and templates are made for it",
        ),
        Field::Projection => (
            "projection",
            "third angle has the plan over the view from the left, first angle under it",
        ),
        Field::Dummies => (
            "templates",
            "whether the cardboard templates have the faces of modules too, to make dummies of",
        ),
        Field::Material => ("material", "what the sheets are made of"),
        Field::Construction => (
            "construction",
            "welded panels, a folded tray, or panels in an angle frame: its lid lies flat on the ring",
        ),
        Field::BendRule => (
            "bend, length by",
            "soft steel, cold-rolled, DIN 6935, K 0.44, or what a test strip lost as deduction 3.4 mm: bend one and measure",
        ),
        Field::BendRadius => (
            "bend, inside radius",
            "what the brake's punch and die make; ask the folding shop",
        ),
        Field::CornerGap => (
            "gap at corners",
            "how far each folded wall ends short of the inside corner, so that it goes past its neighbour",
        ),
        Field::FrameLeg => ("angle, leg", "leg of the equal angle round the panels"),
        Field::FrameThickness => ("angle, thickness", "thickness of that angle"),
        Field::PanelsHeld => ("panels held by", "rivets or adhesive"),
        Field::Rivet => ("rivet, hole", "diameter of the hole that the rivet asks for"),
        Field::RivetPitch => ("rivet, pitch", "the widest distance from rivet to rivet"),
        Field::RivetHeads => (
            "rivet, heads",
            "the side they are set from: flush ones inside leave floor and walls smooth for liner and modules, the tails stand out below and beside; of a lid they are above",
        ),
        Field::Sealant => (
            "sealant, bead",
            "across the bead laid on the angle under each riveted panel; 0 for none, which no water is kept out by",
        ),
        Field::Wall => ("wall", "wall thickness as delivered: measure it"),
        Field::Floor => ("floor", "floor thickness as delivered: measure it"),
        Field::Lid => ("lid", "lid thickness as delivered: measure it"),
        Field::Corners => ("corners", "how the panels meet: A, B, C or D"),
        Field::WeldSide => (
            "welded",
            "side of floor and corner seams: inside leaves a bead where modules go",
        ),
        Field::WeldLeg => (
            "weld, leg",
            "leg of every bead; left open, the thinner of the two sheets",
        ),
        Field::Brackets => (
            "brackets",
            "angles on two walls that carry the box on the frame; without them the mount bolts are only counted",
        ),
        Field::BracketSides => ("brackets, on", "which two walls of the box they are welded to"),
        Field::HoldDown => (
            "hold-down",
            "bars over the modules that keep them from lifting off the floor",
        ),
        Field::HoldDownBar => ("hold-down, section", "flat bar or equal angle"),
        Field::Dividers => (
            "dividers",
            "walls of sheet across the box, one between every two rows of modules along it: welded to floor and walls, or loose",
        ),
        Field::Standoffs => (
            "modules stand on",
            "the floor, or strips across it that keep them off damp and let air under",
        ),
        Field::StandoffsFixed => (
            "strips, held by",
            "welded to the floor along both edges, riveted to it in one line, drilled in place, or bonded",
        ),
        Field::Clamps => (
            "end plates and tie rods",
            "of clamped stacks: cut with the box, or on hand with the modules",
        ),
        Field::LidStiffened => (
            "lid stiffeners",
            "angles across the lid, as many as the load on it asks for",
        ),
        Field::StiffenersFixed => (
            "lid stiffeners, held by",
            "welded to the lid along both edges, riveted to it in one line, drilled in place, or bonded",
        ),
        Field::FloorRails => (
            "floor rails",
            "angles under the floor, across the box or along it, that keep it from giving",
        ),
        Field::FloorRailsFixed => (
            "floor rails, held by",
            "welded to the floor along both edges, riveted to it in one line, drilled in place, or bonded",
        ),
        Field::PartSize(size) => (size.label(), size.row().help),
        Field::BoxPlaces(_, which) => places(which),
        Field::Closing => ("closing", "what closes the box"),
        Field::FlangeOut => ("flange, out", "how far the flange reaches out from the walls"),
        Field::FlangeThickness => ("flange, thickness", "thickness of the flange bar"),
        Field::FlangeJoint => ("flange, corners", "butt or mitred"),
        Field::Screw => ("lid screw", "thread diameter"),
        Field::ScrewHead => ("lid screw, head", "height of head and washer above the lid"),
        Field::ScrewBelow => (
            "lid screw, below",
            "nut and thread end below the flange; of a cap, how far the rivet nut stands in from the wall",
        ),
        Field::ScrewPitch => (
            "lid screw, pitch",
            "the widest distance from screw to screw; empty for 2 d + 6 t / (m + 0.5), flange practice from memory, but no \
             closer than 50 mm (common practice); of toggle clamps 150 mm, common practice",
        ),
        Field::CapOut => ("cap, out", "how far the outside of the skirt stands out from the wall"),
        Field::CapDeep => ("cap, deep", "how far the skirt hangs down from the top"),
        Field::CapHeld => ("cap, held by", "what keeps the cap down and its gasket squeezed"),
        Field::ToggleOut => (
            "toggle clamp, out",
            "how far a closed clamp stands out from the skirt: measure it",
        ),
        Field::Gasket => ("gasket, free", "gasket thickness before it is squeezed"),
        Field::GasketSqueezed => ("gasket, squeezed", "gasket thickness with the lid down"),
        Field::Liner => (
            "liner",
            "thickness of the insulating sheet on floor and walls; 0 for none",
        ),
        Field::LinerMaterial => ("liner, material", "the insulating sheet that the liner is cut from"),
        Field::Fit => (
            "fitting room",
            "room on each of the four sides between liner and modules",
        ),
        Field::RoomOver => (
            "room over modules",
            "least room over the modules for links and straps; service space counts within it",
        ),
        Field::RoomEnds => (
            "room at ends",
            "least room at each end of the box; service space counts within it",
        ),
        Field::Bay => (
            "bay",
            "extra length at one side of each box for fuse, contactor and cable bend",
        ),
        Field::Tiers => (
            "tiers of modules",
            "the automatic layout stands modules on the floor; of several tiers, you carry the upper ones",
        ),
        Field::BoxesPerCavity => ("boxes per cavity, at most", "what the automatic layout may make"),
        Field::BoxKg => ("box mass, at most", "most that one loaded box may weigh, kg or lb"),
        Field::CavityName(_) => ("cavity", "what you call this hollow"),
        Field::ReadingLine(..) => (
            "line",
            "which line: width at front top, FLB to RLB, width across bottom at 12 5/8\", RLT off FLB to RLB",
        ),
        Field::ReadingValue(..) => ("reading", "what the tape says, as 41 5/8, 1057 mm, or 41 5/8 +- 1/16"),
        Field::ReadingTaken(..) => (
            "taken",
            "rule in the open, hooked blind, by eye; empty for the tape with both ends in view",
        ),
        Field::ReadingDecided(..) => (
            "decided",
            "left out: it is wrong; stands: looked at again, and right; empty for not decided",
        ),
        Field::LaidOn(_) => (
            "laid on",
            "the floor (or roof) and the rail that boxes are marked out from",
        ),
        Field::StatementWithin(..) => (
            "within",
            "how far it may be off, either way, over the length of the line",
        ),
        Field::ReadingNote(..) => ("note", "anything to remember of this reading"),
        Field::KeepOutName(_) => ("keep-out", "what is in the way"),
        Field::KeepOutSource(_) => (
            "comes from",
            "frame: never moves; sweep: all a moving thing can reach; removable: can go",
        ),
        Field::KeepOutShape(_) => (
            "taken as",
            "block, or round along the length, width or height (pipe, shaft, exhaust)",
        ),
        Field::KeepOutDiameter(_) => ("diameter", "through a round one, with what is wrapped round it"),
        Field::KeepOutMeasured(_) => (
            "measured from",
            "the corner whose walls you hooked the tape to, or distances from corners to its middle",
        ),
        Field::KeepOutDistance(_, corner) => (
            CORNERS[corner.index()],
            "from this corner to the middle of it; three corners or more place it",
        ),
        Field::KeepOutTravel(_, face) => (
            match face {
                Face::Front => "moves forward by",
                Face::Rear => "moves rearward by",
                Face::Left => "moves left by",
                Face::Right => "moves right by",
                Face::Bottom => "moves down by",
                Face::Top => "moves up by",
            },
            "how far it moves from where you taped it, as at bump or droop",
        ),
        Field::KeepOutFrom(_, axis) => (
            match axis {
                Axis::X => "from, length",
                Axis::Y => "from, width",
                Axis::Z => "from, height",
            },
            COUNTED,
        ),
        Field::KeepOutTo(_, axis) => (
            match axis {
                Axis::X => "to, length",
                Axis::Y => "to, width",
                Axis::Z => "to, height",
            },
            COUNTED,
        ),
        Field::KeepOutMargin(_) => ("margin to it", "empty for the job's margin"),
        Field::KeepOutTaken(_) => ("taken out", "yes when you have decided to remove it"),
        Field::KeepOutNote(_) => ("note", "anything to remember of it"),
        Field::KindName(_) => ("kind", "what you call this type of module"),
        Field::KindText(_) => ("description", "what it is"),
        Field::KindSize(_, axis) => (
            match axis {
                Axis::X => "module length",
                Axis::Y => "module width",
                Axis::Z => "module height",
            },
            "over everything but terminals and links, standing upright",
        ),
        Field::KindMass(_) => ("module mass", "one module, kg or lb: weigh it"),
        Field::KindNominal(_) => ("module volts", "nominal volts of one module"),
        Field::KindAmpHours(_) => ("module amp-hours", "rated or measured capacity of one module"),
        Field::KindOnHand(_) => ("modules on hand", "how many you have"),
        Field::KindChemistry(_) => (
            "cell family",
            "NMC, LFP, NCA, LMO, NMC-LMO or LTO; sets empty and full volts unless you give them",
        ),
        Field::KindCellsSeries(_) => ("cells in series", "inside one module"),
        Field::KindCellsParallel(_) => ("cells in parallel", "inside one module"),
        Field::KindEmpty(_) => (
            "module volts, empty",
            "at cut-off; the module's own data win over the family's",
        ),
        Field::KindFull(_) => (
            "module volts, full",
            "at the end of charge; the module's own data win over the family's",
        ),
        Field::KindResistance(_) => (
            "module resistance",
            "internal resistance of one module, milliohms, measured or from its data",
        ),
        Field::KindContinuous(_) => ("continuous amps", "the most amps one module gives for long"),
        Field::KindPeak(_) => ("peak amps", "the most amps one module gives for a short time"),
        Field::KindTerminals(_) => ("terminals on", "which faces carry the terminals, standing upright"),
        Field::KindService(_) => (
            "service space",
            "room in front of each terminal face for links and a spanner",
        ),
        Field::KindStance(_) => (
            "may stand",
            "which ways round it may be built in; it may always be turned flat",
        ),
        Field::KindStacked(_) => (
            "built in as",
            "loose modules, or only in clamped stacks with end plates and rods",
        ),
        Field::StackAlong(_) => (
            "stacked along",
            "which of the module's own dimensions the stack runs along",
        ),
        Field::StackFewest(_) => ("stack, fewest", "fewest modules in one stack"),
        Field::StackMost(_) => ("stack, most", "most modules in one stack"),
        Field::StackEndPlate(_) => ("end plate", "thickness of the plate at each end"),
        Field::StackRodEnd(_) => ("rod and nut", "what stands out beyond each end plate"),
        Field::StackGrowth(_) => ("growth each", "what each module grows over its life"),
        Field::StackHeld(_) => (
            "clamp holds growth",
            "yes: the clamp keeps the length; no: room is kept for the growth",
        ),
        Field::BoxName(_) => ("box", "what you call this box"),
        Field::BoxAt(_, axis) => (
            match axis {
                Axis::X => "datum, rearward",
                Axis::Y => "datum, right",
                Axis::Z => "datum, up",
            },
            WHICH_END,
        ),
        Field::BoxBay(_) => ("bay on", "which side the bay is on"),
        Field::BoxSize(_) => ("inside size", "wraps its modules with the allowances, or fixed by you"),
        Field::BoxStep(_) => (
            "step at",
            "at this wall the underside is higher, to clear a crossmember; none for a flat underside",
        ),
        Field::BoxStepRun(_) => (
            "step runs in",
            "from the outside of that wall, how far the underside is higher",
        ),
        Field::BoxStepRise(_) => ("step rises", "how much higher the underside is there"),
        Field::BoxBracketLeg(_) => (
            "its bracket's leg",
            "of this box alone; empty for the one of all boxes, or the one that reaches its own rail",
        ),
        Field::BoxBuilt(_, axis) => (
            match axis {
                Axis::X => "as built, length",
                Axis::Y => "as built, width",
                Axis::Z => "as built, height",
            },
            "outside of the welded body as it is now, as 607 mm or 607 mm +- 1; without flange and screw heads",
        ),
        Field::BoxFixed(_, axis) => (
            match axis {
                Axis::X => "inside length",
                Axis::Y => "inside width",
                Axis::Z => "inside height",
            },
            "between the liners",
        ),
        Field::PlacedAt(_, axis) => (
            match axis {
                Axis::X => "corner, rearward",
                Axis::Y => "corner, right",
                Axis::Z => "corner, up",
            },
            "from the box's datum",
        ),
        Field::FittingWhat(_) => (
            "fitting",
            "cable gland, breather, drain, disconnect, lifting eye or earth stud",
        ),
        Field::FittingWall(_) => (
            "in the wall",
            "bottom is the floor, top the lid, riser the upright of a step",
        ),
        Field::FittingAlong(_) => (
            "middle, along",
            "along the wall inside the sheet: from the left on front and rear, from the front on the others",
        ),
        Field::FittingUp(_) => (
            "middle, up",
            "from the floor inside the sheet; on floor and lid, from the left",
        ),
        Field::FittingHole(_) => ("hole", "diameter of the hole to drill"),
        Field::FittingAcross(_) => (
            "body, across",
            "the widest of nut, flange and body, outside or inside; of an earth stud the metal kept free of paint",
        ),
        Field::FittingOut(_) => (
            "stands out",
            "from the outside of the wall, with the bend of its cable: 4 to 6 times the cable's diameter",
        ),
        Field::FittingInward(_) => ("reaches in", "from the inside of the sheet: nut, thread and cable"),
        Field::PlacedCount(_) => ("modules in stack", "how many modules are clamped together"),
        Field::OfRoad(field) => super::road::row(field),
        Field::Figure(figure) => (figure.row().label, figure.row().help),
        Field::Joined => (
            "more than one in parallel",
            "whole strings joined at their ends, or groups in parallel joined one after the other",
        ),
        Field::LinkMadeOf => (
            "links in a box",
            "bar or cable between terminals: 25 x 3 mm copper bar, 50 mm2 or 2/0 AWG",
        ),
        Field::Cable => (
            "cable",
            "between boxes and to the drive: 50 mm2 or 2/0 AWG; orange outside boxes",
        ),
        Field::KindCharge(_) => ("charge amps", "the most amps one module may be charged with for long"),
        Field::KindRestCurve(_) => (
            "volts at rest",
            "over state of charge in percent, as 0 20.8, 50 26.2, 100 28.4; empty for a typical curve",
        ),
        Field::KindPlus(_, axis) => (
            match axis {
                Axis::X => "plus terminal, along",
                Axis::Y => "plus terminal, across",
                Axis::Z => "plus terminal, up",
            },
            TERMINAL,
        ),
        Field::KindMinus(_, axis) => (
            match axis {
                Axis::X => "minus terminal, along",
                Axis::Y => "minus terminal, across",
                Axis::Z => "minus terminal, up",
            },
            TERMINAL,
        ),
        Field::CuttingMethod => (
            "sheets cut by",
            "a shear or a saw cuts from edge to edge; a laser or a torch along any line",
        ),
        Field::Kerf => (
            "kerf",
            "what a cut through a sheet takes: 0 for a shear, the disc's width; for a laser the bridge between parts",
        ),
        Field::EdgeTrim => (
            "edge trim",
            "what is lost along each edge of a sheet: bent, rusty, or held by clamps",
        ),
        Field::Turning => (
            "parts lie",
            "either way round, or with their length along the sheet's where the grain matters",
        ),
        Field::SawKerf => ("saw kerf", "what a cut through a bar takes"),
        Field::SawTrim => ("saw end trim", "what is cut off each end of a bar to square it"),
        Field::KeepOffcut => (
            "least offcut kept",
            "the least side of a piece of sheet, and length of a piece of bar, that is worth keeping",
        ),
        Field::StockForm(_) => (
            "stock",
            "sheet, any bar (flat bar or angle), flat bar, angle or threaded rod",
        ),
        Field::StockMaterial(_) => ("stock, material", "empty for whatever the parts are of"),
        Field::StockThickness(_) => (
            "stock, thickness",
            "of a rod its thread; empty for whatever the parts ask for",
        ),
        Field::StockLength(_) => ("stock, length", "its full length: 8 ft, 2500 mm, 20 ft"),
        Field::StockWidth(_) => (
            "stock, width",
            "of a sheet its other side; of a flat bar its width, of an angle its leg; empty for any",
        ),
        Field::StockOnHand(_) => (
            "stock, on hand",
            "how many lie there already; empty when it is bought, as many as wanted",
        ),
        Field::StockPrice(_) => ("stock, price each", "in your own money; empty when not known"),
        Field::OfTruck(field) => super::truck::row(field),
        Field::UnitName(_) => ("unit", "what is written on the module"),
        Field::UnitAmpHours(_) => ("unit, amp-hours", "measured capacity"),
        Field::UnitResistance(_) => ("unit, resistance", "measured internal resistance, milliohms"),
        Field::UnitRestVolts(_) => ("unit, volts", "measured with nothing connected, after resting"),
        Field::UnitNote(_) => ("note", "date, who measured, what it looks like"),
        Field::UnitSetAside(_) => (
            "set aside",
            "yes when it is not to be used: swollen, leaking, dented, hot",
        ),
        Field::UnitSeat(_) => (
            "built in at",
            "M7 for a module, S7.3 for the third of a stack; empty for a spare",
        ),
        Field::Way(field) => super::way_in::words(field),
    }
}

const fn places(which: PlacesOf) -> (&'static str, &'static str) {
    match which {
        PlacesOf::BracketsLow => (
            "brackets, front or left",
            "middles along the wall inside, as 120 mm; 480 mm; empty for even places that suit the rail's holes",
        ),
        PlacesOf::BracketsHigh => (
            "brackets, rear or right",
            "middles along the wall inside, as 120 mm; 480 mm; empty for even places that suit the rail's holes",
        ),
        PlacesOf::Bars => (
            "hold-down bars at",
            "middles along the box inside, as 150 mm; 450 mm; empty for over the middle of each row",
        ),
        PlacesOf::Dividers => (
            "dividers at",
            "near faces along the box inside, as 298 mm; empty for the middle of each gap between rows",
        ),
        PlacesOf::Stiffeners => (
            "lid stiffeners at",
            "middles along the box inside, as 200 mm; 400 mm; empty for even places",
        ),
        PlacesOf::FloorRails => (
            "floor rails at",
            "middles inside, along the box for rails across it, from its side for rails along it, as 200 mm; 400 mm; empty for \
             even places",
        ),
        PlacesOf::HolesLow => (
            "rail holes, front or left",
            "holes there already: along from the cavity's front (or left) x up from its floor x across, as \
             120 mm x 60 mm x 11 mm; 300 mm x 60 mm x 11 mm",
        ),
        PlacesOf::HolesHigh => (
            "rail holes, rear or right",
            "holes there already: along from the cavity's front (or left) x up from its floor x across, as \
             120 mm x 60 mm x 11 mm; 300 mm x 60 mm x 11 mm",
        ),
    }
}

pub(super) fn label(field: Field) -> &'static str {
    row(field).0
}

pub(super) fn help(field: Field) -> &'static str {
    row(field).1
}

/// What the distance from each corner is called, in the order of [`tape::survey::Corner::ALL`].
const CORNERS: [&str; 8] = [
    "from FLB to its middle",
    "from RLB to its middle",
    "from RRB to its middle",
    "from FRB to its middle",
    "from FLT to its middle",
    "from RLT to its middle",
    "from RRT to its middle",
    "from FRT to its middle",
];
