//! From a field's name to the value it names.

use enclosure::BendRule;
use enclosure::bend::NoRule;
use geometry::Axis;
use pack::chemistry::Chemistry;
use pack::conductor::Section;
use tape::{Allow, Length, notation};

use super::Field;
use super::slot::{Choice, Otherwise, Slot, Words, Wrong};
use crate::assumed;
use crate::document::kind::StackRule;
use crate::document::quantity::{thousandths_text, to_thousandths};
use crate::evaluate::bolt;
use crate::{
    AxisName, BarName, BracketsName, CapHeldName, ChemistryName, ClampsName, Closing, ConstructionName, CornersName,
    Decided, DividersName, DummiesName, FaceName, Figure, FittingName, FixingName, FlatnessName, FloorRailsName,
    FractionName, HeldName, HoldDownName, Id, Job, Joined, JointName, KeepOut, KeepOutShape, Kind, LaidOn, Len,
    LinerName, MaterialName, MeasuredFrom, PaperName, Places, PlacesOf, ProjectionName, Seat, ShopClassName, SidesName,
    Source, Stance, StandoffsName, StiffenersName, Taken, TapeClassName, Terminals, TiersName, UnitsName, WallName,
    WeldSideName,
};

/// The largest module, box or cavity dimension: longer than any truck bed.
const MOST_SIZE: Length = Length::mm(12_000);
/// The thickest sheet, coating, liner or gasket.
pub(super) const MOST_SHEET: Length = Length::mm(50);
/// The widest margin, gap, flange or bay.
pub(super) const MOST_ROOM: Length = Length::mm(1_000);
/// The most modules of one kind.
const MOST_UNITS: u32 = 2_048;

/// Access to the value that `field` names; `None` when its subject is not in the job.
#[expect(clippy::too_many_lines, reason = "a table, one row for each field")]
pub(super) fn slot(job: &mut Job, field: Field) -> Option<Slot<'_>> {
    let units = job.units.units();
    let assumed_length = |length: Length| Otherwise::Assumed(assumed::text(length, units));
    let default_margin = assumed::margin(job.units);
    let default_gap = assumed::gap(job.units);
    let default_within = assumed::within(job.units);
    let sheet = |to, default| Slot::Length {
        to,
        allow: Allow::AboveZero,
        most: MOST_SHEET,
        otherwise: assumed_length(default),
    };
    let material = assumed::material(&job.design);
    let thickness = |to, default| Slot::Thickness {
        to,
        material: Some(material),
        most: MOST_SHEET,
        otherwise: assumed_length(default),
    };
    let room = |to, default| Slot::Length {
        to,
        allow: Allow::ZeroOrMore,
        most: MOST_ROOM,
        otherwise: assumed_length(default),
    };
    let limits = |to, default| Slot::Length {
        to,
        allow: Allow::ZeroOrMore,
        most: MOST_SHEET,
        otherwise: assumed_length(default),
    };
    Some(match field {
        Field::JobName => Slot::Text {
            to: &mut job.name,
            needed: true,
        },
        Field::Truck => Slot::Text {
            to: &mut job.truck,
            needed: false,
        },
        Field::Revision => Slot::Text {
            to: &mut job.revision,
            needed: false,
        },
        Field::Notes => Slot::Text {
            to: &mut job.notes,
            needed: false,
        },
        Field::Units => needed_choice(&mut job.units, &[UnitsName::Inch, UnitsName::Millimetre], |u| match u {
            UnitsName::Inch => "inches",
            UnitsName::Millimetre => "millimetres",
        }),
        Field::DriveMin => Slot::Volts(&mut job.drive.min_volts, Otherwise::Missing),
        Field::DriveMax => Slot::Volts(&mut job.drive.max_volts, Otherwise::Missing),
        Field::DriveAbsolute => Slot::Volts(&mut job.drive.absolute_max_volts, Otherwise::Open),
        Field::DrivePeak => Slot::Amps(&mut job.drive.peak_amps, Otherwise::Open),
        Field::DriveContinuous => Slot::Amps(&mut job.drive.continuous_amps, Otherwise::Open),
        Field::ChargerMin => Slot::Volts(&mut job.charger.min_volts, Otherwise::Open),
        Field::ChargerMax => Slot::Volts(&mut job.charger.max_volts, Otherwise::Open),
        Field::WantedSeries => Slot::Count {
            to: &mut job.wanted.series,
            most: MOST_UNITS,
            otherwise: Otherwise::Assumed("best that fits the drive".to_owned()),
        },
        Field::WantedParallel => Slot::Count {
            to: &mut job.wanted.parallel,
            most: MOST_UNITS,
            otherwise: Otherwise::Assumed("as many as the units allow".to_owned()),
        },
        Field::Sigmas => Slot::Sigmas(
            &mut job.settings.sigmas,
            Otherwise::Assumed(assumed::SIGMAS.to_string()),
        ),
        Field::TapeClass => choice(
            &mut job.settings.tape_class,
            TapeClassName::ALL,
            TapeClassName::name,
            assumed::TAPE_CLASS.name(),
        ),
        Field::ReadingSigma => Slot::Length {
            to: &mut job.settings.reading_sigma,
            allow: Allow::AboveZero,
            most: MOST_SHEET,
            otherwise: Otherwise::Open,
        },
        Field::Margin => room(&mut job.settings.margin, default_margin),
        Field::Gap => room(&mut job.settings.gap, default_gap),
        Field::Coating => Slot::Length {
            to: &mut job.settings.coating,
            allow: Allow::ZeroOrMore,
            most: MOST_SHEET,
            otherwise: assumed_length(assumed::COATING),
        },
        Field::Fraction => choice(
            &mut job.settings.fraction,
            FractionName::ALL,
            FractionName::name,
            assumed::FRACTION.name(),
        ),
        Field::ShopClass => choice(
            &mut job.settings.shop_class,
            ShopClassName::ALL,
            ShopClassName::name,
            assumed::SHOP_CLASS.name(),
        ),
        Field::ShopLimits => Slot::Length {
            to: &mut job.settings.shop_limits,
            allow: Allow::ZeroOrMore,
            most: MOST_SHEET,
            otherwise: Otherwise::Open,
        },
        Field::Flatness => choice(
            &mut job.settings.flatness,
            FlatnessName::ALL,
            FlatnessName::name,
            assumed::FLATNESS.name(),
        ),
        Field::SheetLimits => limits(&mut job.settings.sheet_limits, assumed::SHEET_LIMITS),
        Field::CoatingLimits => limits(&mut job.settings.coating_limits, assumed::COATING_LIMITS),
        Field::LinerLimits => limits(&mut job.settings.liner_limits, assumed::LINER_LIMITS),
        Field::ModuleLimits => limits(&mut job.settings.module_limits, assumed::MODULE_LIMITS),
        Field::Shop => Slot::Text {
            to: &mut job.settings.sheets.shop,
            needed: false,
        },
        Field::DrawnBy => Slot::Text {
            to: &mut job.settings.sheets.drawn_by,
            needed: false,
        },
        Field::PaperSize => {
            let default = PaperName::default_of(job.units).name();
            choice(&mut job.settings.sheets.paper, PaperName::ALL, PaperName::name, default)
        }
        Field::Projection => {
            let default = ProjectionName::default_of(job.units).name();
            let to = &mut job.settings.sheets.projection;
            choice(to, ProjectionName::ALL, ProjectionName::name, default)
        }
        Field::Dummies => choice(
            &mut job.settings.sheets.dummies,
            DummiesName::ALL,
            DummiesName::name,
            DummiesName::None.name(),
        ),
        Field::Material => choice(
            &mut job.design.material,
            MaterialName::ALL,
            MaterialName::name,
            assumed::MATERIAL.name(),
        ),
        Field::Construction => choice(
            &mut job.design.construction,
            ConstructionName::ALL,
            ConstructionName::name,
            assumed::CONSTRUCTION.name(),
        ),
        Field::BendRule => bend_rule(&mut job.design.bend_rule),
        Field::BendRadius => {
            let wall = assumed::wall(&job.design);
            sheet(&mut job.design.bend_radius, wall)
        }
        Field::CornerGap => limits(&mut job.design.corner_gap, assumed::CORNER_GAP),
        Field::FrameLeg => Slot::Length {
            to: &mut job.design.frame_leg,
            allow: Allow::AboveZero,
            most: MOST_ROOM,
            otherwise: assumed_length(assumed::FRAME_LEG),
        },
        Field::FrameThickness => sheet(&mut job.design.frame_thickness, assumed::FRAME_THICKNESS),
        Field::PanelsHeld => choice(
            &mut job.design.held,
            HeldName::ALL,
            HeldName::name,
            assumed::HELD.name(),
        ),
        Field::Rivet => sheet(&mut job.design.rivet, assumed::RIVET),
        Field::RivetPitch => Slot::Length {
            to: &mut job.design.rivet_pitch,
            allow: Allow::AboveZero,
            most: MOST_ROOM,
            otherwise: assumed_length(assumed::RIVET_PITCH),
        },
        Field::Sealant => Slot::Length {
            to: &mut job.design.sealant,
            allow: Allow::ZeroOrMore,
            most: MOST_SHEET,
            otherwise: assumed_length(assumed::SEALANT),
        },
        Field::Wall => thickness(&mut job.design.wall, assumed::WALL),
        Field::Floor => thickness(&mut job.design.floor, assumed::FLOOR),
        Field::Lid => thickness(&mut job.design.lid, assumed::LID),
        Field::Corners => choice(
            &mut job.design.corners,
            CornersName::ALL,
            CornersName::name,
            assumed::CORNERS.name(),
        ),
        Field::WeldSide => choice(
            &mut job.design.weld_side,
            WeldSideName::ALL,
            WeldSideName::name,
            assumed::WELD_SIDE.name(),
        ),
        Field::WeldLeg => Slot::Length {
            to: &mut job.design.weld_leg,
            allow: Allow::AboveZero,
            most: MOST_SHEET,
            otherwise: Otherwise::Open,
        },
        Field::Brackets => choice(
            &mut job.design.added.brackets,
            BracketsName::ALL,
            BracketsName::name,
            BracketsName::None.name(),
        ),
        Field::BracketSides => choice(
            &mut job.design.added.bracket_sides,
            SidesName::ALL,
            SidesName::name,
            SidesName::Long.name(),
        ),
        Field::HoldDown => choice(
            &mut job.design.added.hold_down,
            HoldDownName::ALL,
            HoldDownName::name,
            HoldDownName::None.name(),
        ),
        Field::HoldDownBar => choice(
            &mut job.design.added.bar,
            BarName::ALL,
            BarName::name,
            BarName::Flat.name(),
        ),
        Field::Dividers => choice(
            &mut job.design.added.dividers,
            DividersName::ALL,
            DividersName::name,
            DividersName::None.name(),
        ),
        Field::Standoffs => choice(
            &mut job.design.added.standoffs,
            StandoffsName::ALL,
            StandoffsName::name,
            StandoffsName::None.name(),
        ),
        Field::StandoffsFixed => choice(
            &mut job.design.added.standoffs_fixed,
            FixingName::ALL,
            FixingName::name,
            FixingName::Welded.name(),
        ),
        Field::Clamps => choice(
            &mut job.design.added.clamps,
            ClampsName::ALL,
            ClampsName::name,
            ClampsName::Cut.name(),
        ),
        Field::LidStiffened => choice(
            &mut job.design.added.stiffeners,
            StiffenersName::ALL,
            StiffenersName::name,
            StiffenersName::None.name(),
        ),
        Field::StiffenersFixed => choice(
            &mut job.design.added.stiffeners_fixed,
            FixingName::ALL,
            FixingName::name,
            FixingName::Welded.name(),
        ),
        Field::FloorRails => choice(
            &mut job.design.added.floor_rails,
            FloorRailsName::ALL,
            FloorRailsName::name,
            FloorRailsName::None.name(),
        ),
        Field::FloorRailsFixed => choice(
            &mut job.design.added.floor_rails_fixed,
            FixingName::ALL,
            FixingName::name,
            FixingName::Welded.name(),
        ),
        Field::BoxBracketLeg(id) => Slot::Length {
            to: &mut battery_box(job, id)?.bracket_leg,
            allow: crate::PartSize::BracketLeg.row().allow,
            most: MOST_SIZE,
            otherwise: Otherwise::Open,
        },
        Field::PartSize(size) => {
            // To a web the leg follows from each box's own gap while nobody entered it.
            let follows = size == crate::PartSize::BracketLeg && job.design.carried() == BracketsName::Web;
            Slot::Length {
                to: job.design.added.sizes.slot(size),
                allow: size.row().allow,
                most: MOST_SIZE,
                otherwise: size
                    .default()
                    .filter(|_| !follows)
                    .map_or(Otherwise::Open, assumed_length),
            }
        }
        Field::BoxPlaces(id, which) => places(&mut battery_box(job, id)?.places, which, units),
        Field::Closing => choice(
            &mut job.design.closing,
            Closing::ALL,
            Closing::name,
            assumed::CLOSING.name(),
        ),
        Field::FlangeOut => Slot::Length {
            to: &mut job.design.flange_out,
            allow: Allow::AboveZero,
            most: MOST_ROOM,
            otherwise: assumed_length(assumed::FLANGE_OUT),
        },
        Field::FlangeThickness => thickness(&mut job.design.flange_thickness, assumed::FLANGE_THICKNESS),
        Field::FlangeJoint => choice(
            &mut job.design.flange_joint,
            JointName::ALL,
            JointName::name,
            assumed::FLANGE_JOINT.name(),
        ),
        Field::Screw => sheet(&mut job.design.screw, assumed::SCREW),
        Field::ScrewHead => room(&mut job.design.screw_head, assumed::SCREW_HEAD),
        Field::ScrewBelow => room(&mut job.design.screw_below, assumed::SCREW_BELOW),
        Field::ScrewPitch => Slot::Length {
            otherwise: assumed_length(assumed::pitch_by_rule(&assumed::build(&job.design))),
            to: &mut job.design.screw_pitch,
            allow: Allow::AboveZero,
            most: MOST_ROOM,
        },
        Field::CapHeld => choice(
            &mut job.design.cap_held,
            CapHeldName::ALL,
            CapHeldName::name,
            assumed::CAP_HELD.name(),
        ),
        Field::ToggleOut => room(&mut job.design.toggle_out, assumed::TOGGLE_OUT),
        Field::CapOut => sheet(&mut job.design.cap_out, assumed::CAP_OUT),
        Field::CapDeep => Slot::Length {
            to: &mut job.design.cap_deep,
            allow: Allow::AboveZero,
            most: MOST_ROOM,
            otherwise: assumed_length(assumed::CAP_DEEP),
        },
        Field::Gasket => room(&mut job.design.gasket, assumed::GASKET),
        Field::GasketSqueezed => room(&mut job.design.gasket_squeezed, assumed::GASKET_SQUEEZED),
        Field::Liner => room(&mut job.design.liner, assumed::LINER),
        Field::LinerMaterial => choice(
            &mut job.design.liner_material,
            LinerName::ALL,
            LinerName::name,
            assumed::LINER_MATERIAL.name(),
        ),
        Field::Fit => room(&mut job.design.fit, assumed::FIT),
        Field::RoomOver => room(&mut job.design.room_over, Length::ZERO),
        Field::RoomEnds => room(&mut job.design.room_ends, Length::ZERO),
        Field::Bay => room(&mut job.design.bay, Length::ZERO),
        Field::Tiers => choice(
            &mut job.design.tiers,
            TiersName::ALL,
            TiersName::name,
            assumed::TIERS.name(),
        ),
        Field::BoxesPerCavity => Slot::Count {
            to: &mut job.design.boxes_per_cavity,
            most: 8,
            otherwise: Otherwise::Assumed(assumed::BOXES_PER_CAVITY.to_string()),
        },
        Field::BoxKg => Slot::Mass(&mut job.limits.box_kg, Otherwise::Open),
        Field::CuttingMethod
        | Field::Kerf
        | Field::EdgeTrim
        | Field::Turning
        | Field::SawKerf
        | Field::SawTrim
        | Field::KeepOffcut
        | Field::StockForm(_)
        | Field::StockMaterial(_)
        | Field::StockThickness(_)
        | Field::StockLength(_)
        | Field::StockWidth(_)
        | Field::StockOnHand(_)
        | Field::StockPrice(_) => return super::stock::slot(job, field),
        Field::Way(field) => return super::way_in::slot(job, field),
        Field::CavityName(id) => Slot::Text {
            to: &mut cavity(job, id)?.name,
            needed: true,
        },
        Field::LaidOn(id) => choice(
            &mut cavity(job, id)?.laid_on,
            LaidOn::ALL,
            LaidOn::name,
            LaidOn::FloorLeft.name(),
        ),
        Field::StatementWithin(id, i) => Slot::Length {
            to: &mut cavity(job, id)?.statements.get_mut(i)?.within,
            allow: Allow::AboveZero,
            most: MOST_SHEET,
            otherwise: assumed_length(default_within),
        },
        Field::ReadingLine(id, i) => Slot::Line(&mut cavity(job, id)?.readings.get_mut(i)?.line),
        Field::ReadingValue(id, i) => Slot::Place {
            to: &mut cavity(job, id)?.readings.get_mut(i)?.read,
            allow: Allow::AboveZero,
        },
        Field::ReadingTaken(id, i) => open_choice(
            &mut cavity(job, id)?.readings.get_mut(i)?.taken,
            Taken::ALL,
            Taken::name,
        ),
        Field::ReadingDecided(id, i) => open_choice(
            &mut cavity(job, id)?.readings.get_mut(i)?.decided,
            Decided::ALL,
            Decided::name,
        ),
        Field::ReadingNote(id, i) => Slot::Text {
            to: &mut cavity(job, id)?.readings.get_mut(i)?.note,
            needed: false,
        },
        Field::KeepOutName(id) => Slot::Text {
            to: &mut keep_out(job, id)?.name,
            needed: true,
        },
        Field::KeepOutSource(id) => needed_choice(&mut keep_out(job, id)?.source, &Source::ALL, Source::name),
        Field::KeepOutShape(id) => choice(
            &mut keep_out(job, id)?.shape,
            KeepOutShape::ALL,
            KeepOutShape::name,
            KeepOutShape::Block.name(),
        ),
        Field::KeepOutDiameter(id) => {
            let keep_out = keep_out(job, id)?;
            let round = keep_out.shape.is_some_and(|shape| shape.along().is_some());
            Slot::Length {
                to: &mut keep_out.diameter,
                allow: Allow::AboveZero,
                most: MOST_ROOM,
                otherwise: if round { Otherwise::Missing } else { Otherwise::Open },
            }
        }
        Field::KeepOutMeasured(id) => choice(
            &mut keep_out(job, id)?.measured_from,
            MeasuredFrom::ALL,
            MeasuredFrom::name,
            MeasuredFrom::FrontLeftBottom.name(),
        ),
        Field::KeepOutDistance(id, corner) => Slot::Length {
            to: keep_out(job, id)?.distances.distance_mut(corner),
            allow: Allow::AboveZero,
            most: MOST_SIZE,
            otherwise: Otherwise::Open,
        },
        Field::KeepOutTravel(id, face) => Slot::Length {
            to: keep_out(job, id)?.travel.towards_mut(face),
            allow: Allow::ZeroOrMore,
            most: MOST_ROOM,
            otherwise: Otherwise::Open,
        },
        Field::KeepOutFrom(id, axis) => place(&mut keep_out(job, id)?.from, axis),
        Field::KeepOutTo(id, axis) => place(&mut keep_out(job, id)?.to, axis),
        Field::KeepOutMargin(id) => {
            let otherwise = job.settings.margin.as_ref().map_or_else(
                || assumed_length(default_margin),
                |m| Otherwise::Assumed(m.text().to_owned()),
            );
            Slot::Length {
                to: &mut keep_out(job, id)?.margin,
                allow: Allow::ZeroOrMore,
                most: MOST_ROOM,
                otherwise,
            }
        }
        Field::KeepOutTaken(id) => yes_no(&mut keep_out(job, id)?.taken_out),
        Field::KeepOutNote(id) => Slot::Text {
            to: &mut keep_out(job, id)?.note,
            needed: false,
        },
        Field::BoxName(id) => Slot::Text {
            to: &mut battery_box(job, id)?.name,
            needed: true,
        },
        Field::BoxAt(id, axis) => place(&mut battery_box(job, id)?.at, axis),
        Field::BoxBay(id) => {
            let sides = &[FaceName::Front, FaceName::Rear, FaceName::Left, FaceName::Right];
            choice(
                &mut battery_box(job, id)?.bay,
                sides,
                |f| f.face().name(),
                assumed::BAY.name(),
            )
        }
        Field::BoxSize(id) => fixed_or_wraps(battery_box(job, id)?, units),
        Field::BoxStep(id) => super::step::wall(battery_box(job, id)?, units),
        Field::BoxStepRun(id) => Slot::Needed {
            to: &mut battery_box(job, id)?.step.as_mut()?.run,
            most: MOST_SIZE,
        },
        Field::BoxStepRise(id) => Slot::Needed {
            to: &mut battery_box(job, id)?.step.as_mut()?.rise,
            most: MOST_SIZE,
        },
        Field::BoxBuilt(id, axis) => Slot::Length {
            to: battery_box(job, id)?.as_built.along_mut(axis),
            allow: Allow::AboveZero,
            most: MOST_SIZE,
            otherwise: Otherwise::Open,
        },
        Field::BoxFixed(id, axis) => place_above_zero(battery_box(job, id)?.fixed.as_mut()?, axis),
        Field::FittingWhat(id) => needed_choice(&mut fitting(job, id)?.what, FittingName::ALL, FittingName::name),
        Field::FittingWall(id) => needed_choice(&mut fitting(job, id)?.wall, &WallName::ALL, WallName::name),
        Field::FittingAlong(id) => Slot::Place {
            to: &mut fitting(job, id)?.along,
            allow: Allow::Signed,
        },
        Field::FittingUp(id) => Slot::Place {
            to: &mut fitting(job, id)?.up,
            allow: Allow::Signed,
        },
        Field::FittingHole(id) => {
            let fitting = fitting(job, id)?;
            let usual = fitting.what.sizes().hole;
            Slot::Length {
                to: &mut fitting.hole,
                allow: Allow::AboveZero,
                most: MOST_ROOM,
                otherwise: assumed_length(usual),
            }
        }
        Field::FittingAcross(id) => {
            let fitting = fitting(job, id)?;
            let usual = fitting.what.sizes().across;
            room(&mut fitting.across, usual)
        }
        Field::FittingOut(id) => {
            let fitting = fitting(job, id)?;
            let usual = fitting.what.sizes().out;
            room(&mut fitting.out, usual)
        }
        Field::FittingInward(id) => {
            let fitting = fitting(job, id)?;
            let usual = fitting.what.sizes().inward;
            room(&mut fitting.inward, usual)
        }
        Field::PlacedAt(id, axis) => place(&mut placed(job, id)?.at, axis),
        Field::PlacedCount(id) => Slot::Number {
            to: &mut placed(job, id)?.count,
            most: MOST_UNITS,
        },
        Field::OfRoad(field) => super::road::slot(job, field),
        Field::Figure(Figure::MountBolt) => {
            let to = job.electrics.figures.slot(Figure::MountBolt);
            named_figure(to, &THREAD, THREAD.figure.row().default)
        }
        Field::Figure(Figure::MountGrade) => {
            let figures = &mut job.electrics.figures;
            let usual = bolt::usual_grade(figures.sure(Figure::MountBolt));
            let usual = to_thousandths(bolt::grade_figure(usual)).ok();
            named_figure(figures.slot(Figure::MountGrade), &GRADE, usual)
        }
        Field::Figure(figure) => Slot::Figure(figure.row(), job.electrics.figures.slot(figure)),
        Field::Joined => choice(
            &mut job.electrics.joined,
            Joined::ALL,
            Joined::name,
            assumed::JOINED.name(),
        ),
        Field::LinkMadeOf => section(&mut job.electrics.link, assumed::LINK),
        Field::Cable => section(&mut job.electrics.cable, assumed::CABLE),
        Field::UnitName(i) => Slot::Text {
            to: &mut job.tested.get_mut(i)?.name,
            needed: true,
        },
        Field::UnitAmpHours(i) => Slot::AmpHours(&mut job.tested.get_mut(i)?.amp_hours, Otherwise::Open),
        Field::UnitResistance(i) => Slot::Resistance(&mut job.tested.get_mut(i)?.resistance_mohm, Otherwise::Open),
        Field::UnitRestVolts(i) => Slot::Volts(&mut job.tested.get_mut(i)?.rest_volts, Otherwise::Open),
        Field::UnitNote(i) => Slot::Text {
            to: &mut job.tested.get_mut(i)?.note,
            needed: false,
        },
        Field::UnitSetAside(i) => yes_no(&mut job.tested.get_mut(i)?.set_aside),
        Field::UnitSeat(i) => seat(&mut job.tested.get_mut(i)?.seat),
        Field::OfTruck(field) => super::truck::slot(job, field)?,
        of_kind => kind_slot(job, of_kind)?,
    })
}

/// The fields of one kind of module.
#[expect(clippy::too_many_lines, reason = "a table, one row for each field")]
fn kind_slot(job: &mut Job, field: Field) -> Option<Slot<'_>> {
    let units = job.units.units();
    let assumed_length = |length: Length| Otherwise::Assumed(assumed::text(length, units));
    Some(match field {
        Field::KindName(id) => Slot::Text {
            to: &mut kind(job, id)?.name,
            needed: true,
        },
        Field::KindText(id) => Slot::Text {
            to: &mut kind(job, id)?.text,
            needed: false,
        },
        Field::KindSize(id, axis) => Slot::Length {
            to: &mut kind(job, id)?.size[axis.index()],
            allow: Allow::AboveZero,
            most: MOST_SIZE,
            otherwise: Otherwise::Missing,
        },
        Field::KindMass(id) => Slot::Mass(&mut kind(job, id)?.mass_kg, Otherwise::Missing),
        Field::KindNominal(id) => Slot::Volts(&mut kind(job, id)?.nominal_volts, Otherwise::Missing),
        Field::KindAmpHours(id) => Slot::AmpHours(&mut kind(job, id)?.amp_hours, Otherwise::Missing),
        Field::KindOnHand(id) => Slot::Count {
            to: &mut kind(job, id)?.on_hand,
            most: MOST_UNITS,
            otherwise: Otherwise::Missing,
        },
        Field::KindChemistry(id) => {
            let to = &mut kind(job, id)?.chemistry;
            let now = to.and_then(|name| Chemistry::ALL.iter().position(|&c| c == name.0));
            let pick = Box::new(move |i: Option<usize>| *to = i.map(|i| ChemistryName(Chemistry::ALL[i])));
            let options = Chemistry::ALL.iter().map(|c| c.name()).collect();
            Slot::Choice(
                Choice { options, now, pick },
                Otherwise::Assumed(assumed::CHEMISTRY.name().to_owned()),
            )
        }
        Field::KindCellsSeries(id) => {
            let kind = kind(job, id)?;
            let otherwise = worked_out(assumed::cells_series(&Kind {
                cells_series: None,
                ..kind.clone()
            }));
            Slot::Count {
                to: &mut kind.cells_series,
                most: 1000,
                otherwise,
            }
        }
        Field::KindCellsParallel(id) => Slot::Count {
            to: &mut kind(job, id)?.cells_parallel,
            most: 10_000,
            otherwise: Otherwise::Assumed("1".to_owned()),
        },
        Field::KindEmpty(id) => {
            let kind = kind(job, id)?;
            let volts = assumed::empty_volts(&Kind {
                empty_volts: None,
                ..kind.clone()
            });
            Slot::Volts(
                &mut kind.empty_volts,
                worked_out(volts.map(|v| format!("{} V", thousandths_text(v.milli())))),
            )
        }
        Field::KindFull(id) => {
            let kind = kind(job, id)?;
            let volts = assumed::full_volts(&Kind {
                full_volts: None,
                ..kind.clone()
            });
            Slot::Volts(
                &mut kind.full_volts,
                worked_out(volts.map(|v| format!("{} V", thousandths_text(v.milli())))),
            )
        }
        Field::KindResistance(id) => Slot::Resistance(&mut kind(job, id)?.resistance_mohm, Otherwise::Open),
        Field::KindContinuous(id) => Slot::Amps(&mut kind(job, id)?.continuous_amps, Otherwise::Open),
        Field::KindPeak(id) => Slot::Amps(&mut kind(job, id)?.peak_amps, Otherwise::Open),
        Field::KindCharge(id) => Slot::Amps(&mut kind(job, id)?.charge_amps, Otherwise::Open),
        Field::KindRestCurve(id) => rest_curve(kind(job, id)?),
        Field::KindPlus(id, axis) | Field::KindMinus(id, axis) => {
            let kind = kind(job, id)?;
            let [plus, minus] = assumed::terminal_points(kind);
            let (to, rule) = if matches!(field, Field::KindPlus(..)) {
                (&mut kind.plus, plus)
            } else {
                (&mut kind.minus, minus)
            };
            Slot::Length {
                to: &mut to[axis.index()],
                allow: Allow::ZeroOrMore,
                most: MOST_SIZE,
                otherwise: rule.map_or(Otherwise::Open, |point| assumed_length(to_a_mark(point[axis], units))),
            }
        }
        Field::KindTerminals(id) => {
            let to = &mut kind(job, id)?.terminals;
            choice(to, &Terminals::ALL, Terminals::name, Terminals::default().name())
        }
        Field::KindService(id) => Slot::Length {
            to: &mut kind(job, id)?.service,
            allow: Allow::ZeroOrMore,
            most: MOST_ROOM,
            otherwise: assumed_length(assumed::SERVICE),
        },
        Field::KindStance(id) => {
            let to = &mut kind(job, id)?.stance;
            choice(to, &Stance::ALL, Stance::name, Stance::default().name())
        }
        Field::KindStacked(id) => stacked(kind(job, id)?, units),
        Field::StackAlong(id) => needed_choice(&mut stack(job, id)?.along, &AxisName::ALL, |a| a.axis().extent_name()),
        Field::StackFewest(id) => Slot::Number {
            to: &mut stack(job, id)?.fewest,
            most: MOST_UNITS,
        },
        Field::StackMost(id) => Slot::Number {
            to: &mut stack(job, id)?.most,
            most: MOST_UNITS,
        },
        Field::StackEndPlate(id) => Slot::Place {
            to: &mut stack(job, id)?.end_plate,
            allow: Allow::ZeroOrMore,
        },
        Field::StackRodEnd(id) => Slot::Place {
            to: &mut stack(job, id)?.rod_end,
            allow: Allow::ZeroOrMore,
        },
        Field::StackGrowth(id) => Slot::Place {
            to: &mut stack(job, id)?.growth,
            allow: Allow::ZeroOrMore,
        },
        Field::StackHeld(id) => yes_no(&mut stack(job, id)?.growth_held),
        _ => return None,
    })
}

/// What a conductor is made of, in words that name a section.
fn section<'a>(to: &'a mut Option<String>, default: &str) -> Slot<'a> {
    let now = to.clone();
    let put = move |text: Option<&str>| -> Result<(), Wrong> {
        *to = match text {
            None => None,
            Some(text) => {
                let section = Section::from_text(text).map_err(|e| (e.to_string(), e.mend().to_owned()))?;
                Some(section.name())
            }
        };
        Ok(())
    };
    Slot::Words(
        Words {
            now,
            put: Box::new(put),
        },
        Otherwise::Assumed(default.to_owned()),
    )
}

/// A figure that people write as a name.
struct NamedFigure {
    figure: Figure,
    read: fn(&str) -> Option<f64>,
    text: fn(f64) -> String,
    allowed: &'static str,
}

const THREAD: NamedFigure = NamedFigure {
    figure: Figure::MountBolt,
    read: bolt::read_thread,
    text: bolt::thread_text,
    allowed: bolt::THREADS,
};

const GRADE: NamedFigure = NamedFigure {
    figure: Figure::MountGrade,
    read: bolt::read_grade,
    text: bolt::grade_text,
    allowed: bolt::GRADES,
};

/// A thread or a class of bolts.
fn named_figure<'a>(to: &'a mut Option<i64>, named: &'static NamedFigure, usual: Option<i64>) -> Slot<'a> {
    #[expect(clippy::cast_precision_loss, reason = "within the range of the figure")]
    let text = |n: i64| (named.text)(n as f64 / 1000.0);
    let row = named.figure.row();
    let now = to.map(text);
    let default = usual.map_or(Otherwise::Open, |n| Otherwise::Assumed(text(n)));
    let put = move |typed: Option<&str>| -> Result<(), Wrong> {
        *to = match typed {
            None => None,
            Some(typed) => {
                let figure = (named.read)(typed).and_then(|number| to_thousandths(number).ok());
                let within = figure.filter(|&n| row.takes(n));
                Some(within.ok_or_else(|| {
                    let problem = format!("{typed:?} is not one of those on the list");
                    (problem, format!("write {}", named.allowed))
                })?)
            }
        };
        Ok(())
    };
    Slot::Words(
        Words {
            now,
            put: Box::new(put),
        },
        default,
    )
}

/// How the length of a bend is worked out.
fn bend_rule(to: &mut Option<String>) -> Slot<'_> {
    let now = to.clone();
    let put = move |text: Option<&str>| -> Result<(), Wrong> {
        *to = match text {
            None => None,
            Some(text) => {
                let rule: BendRule = text
                    .parse()
                    .map_err(|e: NoRule| (e.to_string(), NoRule::MEND.to_owned()))?;
                Some(rule.text())
            }
        };
        Ok(())
    };
    Slot::Words(
        Words {
            now,
            put: Box::new(put),
        },
        Otherwise::Assumed(assumed::BEND_RULE.text()),
    )
}

/// Where something goes in or on a box: places with a semicolon between, a hole's three lengths with an x.
fn places(to: &mut Places, which: PlacesOf, units: tape::Units) -> Slot<'_> {
    let now = to.text(which);
    let put = move |text: Option<&str>| -> Result<(), Wrong> {
        let entry = |entry: &str| -> Result<Vec<Len>, Wrong> {
            let parts: Vec<&str> = entry.split('x').collect();
            let wanted = which.lengths();
            if parts.len() != wanted {
                let what = if wanted == 1 {
                    "one length"
                } else {
                    "three lengths, as 120 x 60 x 11"
                };
                let given = format!("{:?} has {} where each entry is {what}", entry.trim(), parts.len());
                return Err((given, "put a semicolon between one place and the next".to_owned()));
            }
            let len = |(i, part): (usize, &&str)| {
                // Across a hole is a size; all else is a place.
                let allow = if i == 2 { Allow::AboveZero } else { Allow::Signed };
                let read = notation::read(part, units, allow).map_err(|e| (e.to_string(), e.mend()))?;
                if read.value().abs() > MOST_SIZE {
                    let most = assumed::text(MOST_SIZE, units);
                    return Err((format!("{part} is beyond {most}"), "check the unit".to_owned()));
                }
                Ok(Len::new(read))
            };
            parts.iter().enumerate().map(len).collect()
        };
        let list = match text {
            None => Vec::new(),
            Some(text) => text.split(';').map(entry).collect::<Result<_, _>>()?,
        };
        to.put(which, list);
        Ok(())
    };
    Slot::Words(
        Words {
            now,
            put: Box::new(put),
        },
        Otherwise::Open,
    )
}

/// Where a unit is built in.
fn seat(to: &mut Option<Seat>) -> Slot<'_> {
    let now = to.map(|seat| seat.to_string());
    let put = move |text: Option<&str>| -> Result<(), Wrong> {
        let mend = || "write M7 for a module, S7.3 for the third of a stack".to_owned();
        *to = text
            .map(str::parse)
            .transpose()
            .map_err(|e: crate::SeatError| (e.to_string(), mend()))?;
        Ok(())
    };
    Slot::Words(
        Words {
            now,
            put: Box::new(put),
        },
        Otherwise::Open,
    )
}

/// Open-circuit volts over state of charge.
fn rest_curve(kind: &mut Kind) -> Slot<'_> {
    let otherwise = Otherwise::Assumed(format!("typical for {}", assumed::chemistry(kind).name()));
    let to = &mut kind.rest_curve;
    let now = to.clone();
    let put = move |text: Option<&str>| -> Result<(), Wrong> {
        *to = match text {
            None => None,
            Some(text) => {
                crate::document::electrics::rest_curve(text)?;
                Some(text.to_owned())
            }
        };
        Ok(())
    };
    Slot::Words(
        Words {
            now,
            put: Box::new(put),
        },
        otherwise,
    )
}

fn cavity(job: &mut Job, id: Id) -> Option<&mut crate::Cavity> {
    job.cavities.iter_mut().find(|c| c.id == id)
}

fn keep_out(job: &mut Job, id: Id) -> Option<&mut KeepOut> {
    job.cavities
        .iter_mut()
        .flat_map(|c| &mut c.keep_outs)
        .find(|k| k.id == id)
}

fn kind(job: &mut Job, id: Id) -> Option<&mut Kind> {
    job.kinds.iter_mut().find(|k| k.id == id)
}

fn stack(job: &mut Job, id: Id) -> Option<&mut StackRule> {
    kind(job, id)?.stack.as_mut()
}

fn battery_box(job: &mut Job, id: Id) -> Option<&mut crate::BatteryBox> {
    job.boxes.iter_mut().find(|b| b.id == id)
}

fn fitting(job: &mut Job, id: Id) -> Option<&mut crate::WallFitting> {
    job.boxes.iter_mut().flat_map(|b| &mut b.fittings).find(|f| f.id == id)
}

fn placed(job: &mut Job, id: Id) -> Option<&mut crate::Placed> {
    job.boxes.iter_mut().flat_map(|b| &mut b.modules).find(|m| m.id == id)
}

fn place(at: &mut [Len; 3], axis: Axis) -> Slot<'_> {
    Slot::Place {
        to: &mut at[axis.index()],
        allow: Allow::Signed,
    }
}

fn place_above_zero(size: &mut [Len; 3], axis: Axis) -> Slot<'_> {
    Slot::Place {
        to: &mut size[axis.index()],
        allow: Allow::AboveZero,
    }
}

/// A length that a rule makes of others, to the nearest mark of a tape, 1/64 in or 0.1 mm, unless it is one of either.
fn to_a_mark(length: Length, units: tape::Units) -> Length {
    let marks = [Length::sixty_fourths(1), Length::tenths_mm(1)];
    if marks.iter().any(|&mark| length.round_to(mark) == length) {
        return length;
    }
    length.round_to(marks[usize::from(units == tape::Units::Millimetre)])
}

fn worked_out(value: Option<impl ToString>) -> Otherwise {
    value.map_or(Otherwise::Missing, |v| Otherwise::Assumed(v.to_string()))
}

pub(super) fn choice<'a, T: Copy + PartialEq>(
    to: &'a mut Option<T>,
    all: &'a [T],
    name: fn(T) -> &'static str,
    default: &str,
) -> Slot<'a> {
    let now = to.and_then(|value| all.iter().position(|&v| v == value));
    let pick = Box::new(move |i: Option<usize>| *to = i.map(|i| all[i]));
    let options = all.iter().map(|&v| name(v)).collect();
    Slot::Choice(Choice { options, now, pick }, Otherwise::Assumed(default.to_owned()))
}

/// A choice that may stay open, with nothing resting on it.
pub(super) fn open_choice<'a, T: Copy + PartialEq>(
    to: &'a mut Option<T>,
    all: &'a [T],
    name: fn(T) -> &'static str,
) -> Slot<'a> {
    match choice(to, all, name, "") {
        Slot::Choice(choice, _) => Slot::Choice(choice, Otherwise::Open),
        other => other,
    }
}

pub(super) fn needed_choice<'a, T: Copy + PartialEq>(
    to: &'a mut T,
    all: &'a [T],
    name: fn(T) -> &'static str,
) -> Slot<'a> {
    let now = all.iter().position(|v| v == to);
    let options = all.iter().map(|&v| name(v)).collect();
    let pick = Box::new(move |i: Option<usize>| {
        if let Some(i) = i {
            *to = all[i];
        }
    });
    Slot::Choice(Choice { options, now, pick }, Otherwise::Missing)
}

fn yes_no(to: &mut bool) -> Slot<'_> {
    needed_choice(to, &[false, true], |yes| if yes { "yes" } else { "no" })
}

/// Whether a kind only lives in clamped stacks; choosing yes starts with common figures for the person to change.
fn stacked(kind: &mut Kind, units: tape::Units) -> Slot<'_> {
    let now = Some(usize::from(kind.stack.is_some()));
    let pick = Box::new(move |i: Option<usize>| match (i, &kind.stack) {
        (Some(1), None) => {
            kind.stack = Some(StackRule {
                along: AxisName::Height,
                fewest: 2,
                most: 12,
                end_plate: Len::exactly(Length::mm(8), units),
                rod_end: Len::exactly(Length::mm(12), units),
                growth: Len::exactly(Length::ZERO, units),
                growth_held: true,
            });
        }
        (Some(0), Some(_)) => kind.stack = None,
        _ => {}
    });
    Slot::Choice(
        Choice {
            options: vec!["loose modules", "clamped stacks"],
            now,
            pick,
        },
        Otherwise::Missing,
    )
}

/// Whether a box wraps its modules or has a fixed inside size.
fn fixed_or_wraps(battery_box: &mut crate::BatteryBox, units: tape::Units) -> Slot<'_> {
    let now = Some(usize::from(battery_box.fixed.is_some()));
    let pick = Box::new(move |i: Option<usize>| match (i, &battery_box.fixed) {
        (Some(1), None) => {
            let size = |mm| Len::exactly(Length::mm(mm), units);
            battery_box.fixed = Some([size(600), size(300), size(250)]);
        }
        (Some(0), Some(_)) => battery_box.fixed = None,
        _ => {}
    });
    Slot::Choice(
        Choice {
            options: vec!["wraps its modules", "fixed"],
            now,
            pick,
        },
        Otherwise::Missing,
    )
}
