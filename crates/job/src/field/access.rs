//! From a field's name to the value it names.

mod choices;
mod kind;
mod words;

use geometry::Axis;
use tape::{Allow, Length};

pub(super) use choices::{choice, needed_choice, open_choice};
use choices::{fixed_or_wraps, yes_no};
use kind::kind_slot;
use words::{GRADE, THREAD, bend_rule, named_figure, places, seat, section};

use super::Field;
use super::slot::{Otherwise, Slot};
use crate::assumed;
use crate::document::quantity::to_thousandths;
use crate::evaluate::bolt;
use crate::{
    BarName, BracketsName, CapHeldName, ClampsName, Closing, ConstructionName, CornersName, Decided, DividersName,
    DummiesName, FaceName, Figure, FittingName, FixingName, FlatnessName, FloorRailsName, FractionName, HeldName,
    HoldDownName, Id, Job, Joined, JointName, KeepOut, KeepOutShape, LaidOn, Len, LinerName, MaterialName,
    MeasuredFrom, PaperName, ProjectionName, RivetHeadsName, ShopClassName, SidesName, Source, StandoffsName,
    StiffenersName, Taken, TapeClassName, TiersName, UnitsName, WallName, WeldSideName,
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
        Field::RivetHeads => choice(
            &mut job.design.rivet_heads,
            RivetHeadsName::ALL,
            RivetHeadsName::name,
            assumed::RIVET_HEADS.name(),
        ),
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

fn cavity(job: &mut Job, id: Id) -> Option<&mut crate::Cavity> {
    job.cavities.iter_mut().find(|c| c.id == id)
}

fn keep_out(job: &mut Job, id: Id) -> Option<&mut KeepOut> {
    job.cavities
        .iter_mut()
        .flat_map(|c| &mut c.keep_outs)
        .find(|k| k.id == id)
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
