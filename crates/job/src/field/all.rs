//! Every field that a job has now, and whether a file holds only what they take.

use geometry::{Axis, Face};
use tape::survey::Corner;

use super::slot::Slot;
use super::{Field, FieldError, State, access};
use crate::Job;

/// The fields of the job itself.
const OF_JOB: [Field; 96] = [
    Field::JobName,
    Field::Truck,
    Field::Revision,
    Field::Notes,
    Field::Units,
    Field::DriveMin,
    Field::DriveMax,
    Field::DriveAbsolute,
    Field::DrivePeak,
    Field::DriveContinuous,
    Field::ChargerMin,
    Field::ChargerMax,
    Field::WantedSeries,
    Field::WantedParallel,
    Field::Sigmas,
    Field::TapeClass,
    Field::ReadingSigma,
    Field::Margin,
    Field::Gap,
    Field::Coating,
    Field::Fraction,
    Field::ShopClass,
    Field::ShopLimits,
    Field::Flatness,
    Field::SheetLimits,
    Field::CoatingLimits,
    Field::LinerLimits,
    Field::ModuleLimits,
    Field::Shop,
    Field::DrawnBy,
    Field::PaperSize,
    Field::Projection,
    Field::Dummies,
    Field::Material,
    Field::Construction,
    Field::BendRule,
    Field::BendRadius,
    Field::CornerGap,
    Field::FrameLeg,
    Field::FrameThickness,
    Field::PanelsHeld,
    Field::Rivet,
    Field::RivetPitch,
    Field::RivetHeads,
    Field::Sealant,
    Field::Wall,
    Field::Floor,
    Field::Lid,
    Field::Corners,
    Field::WeldSide,
    Field::WeldLeg,
    Field::Brackets,
    Field::BracketSides,
    Field::HoldDown,
    Field::HoldDownBar,
    Field::Dividers,
    Field::Standoffs,
    Field::StandoffsFixed,
    Field::Clamps,
    Field::LidStiffened,
    Field::StiffenersFixed,
    Field::FloorRails,
    Field::FloorRailsFixed,
    Field::Closing,
    Field::FlangeOut,
    Field::FlangeThickness,
    Field::FlangeJoint,
    Field::Screw,
    Field::ScrewHead,
    Field::ScrewBelow,
    Field::ScrewPitch,
    Field::CapOut,
    Field::CapDeep,
    Field::CapHeld,
    Field::ToggleOut,
    Field::Gasket,
    Field::GasketSqueezed,
    Field::Liner,
    Field::LinerMaterial,
    Field::Fit,
    Field::RoomOver,
    Field::RoomEnds,
    Field::Bay,
    Field::Tiers,
    Field::BoxesPerCavity,
    Field::BoxKg,
    Field::CuttingMethod,
    Field::Kerf,
    Field::EdgeTrim,
    Field::Turning,
    Field::SawKerf,
    Field::SawTrim,
    Field::KeepOffcut,
    Field::Joined,
    Field::LinkMadeOf,
    Field::Cable,
];

/// Every field that `job` has now, those of the job itself first, then in the order of the file.
pub fn all(job: &Job) -> Vec<Field> {
    placed(job).into_iter().map(|(_, field)| field).collect()
}

/// Checks every value of a job that came out of a file against its field, as if it were typed.
///
/// Returns the place of the first that is refused, as `kinds[0]`. Words may be longer than the screens take them, but
/// hold no control characters, which would garble a terminal.
pub(crate) fn check_all(job: &Job) -> Result<(), (String, Box<FieldError>)> {
    let units = job.units.units();
    let mut copy = job.clone();
    for (place, field) in placed(job) {
        let words = match access::slot(&mut copy, field) {
            None => continue,
            Some(Slot::Text { to, needed }) => {
                let is_wrong = to.chars().any(char::is_control) || (needed && to.is_empty());
                is_wrong.then(|| to.clone())
            }
            Some(slot) => {
                let shown = slot.shown(field.label(), units);
                (shown.state == State::Given).then_some(shown.text)
            }
        };
        if let (Some(words), Some(slot)) = (words, access::slot(&mut copy, field)) {
            slot.set(field.label(), &words, units)
                .map_err(|error| (place, Box::new(error)))?;
        }
    }
    Ok(())
}

/// Every field that `job` has now, each with the name of what it belongs to; that is empty for the job itself.
pub(crate) fn named(job: &Job) -> Vec<(String, Field)> {
    let name = |place: &str| {
        let (list, rest) = place.split_once('[')?;
        let (index, _) = rest.split_once(']')?;
        let index: usize = index.parse().ok()?;
        Some(match list {
            "cavities" => job.cavities.get(index)?.name.clone(),
            "kinds" => job.kinds.get(index)?.name.clone(),
            "boxes" => job.boxes.get(index)?.name.clone(),
            "tested" => job.tested.get(index)?.name.clone(),
            _ => format!("stock {}", index + 1),
        })
    };
    placed(job)
        .into_iter()
        .map(|(place, field)| (name(&place).unwrap_or_default(), field))
        .collect()
}

/// The faces of a cavity, and the place of each opening that is smaller than its face.
fn openings(cavity: &crate::Cavity) -> Vec<Field> {
    let narrowed = cavity.openings.iter().filter(|o| o.clear.is_some());
    let faces = Face::ALL
        .into_iter()
        .map(|face| super::WayField::Opening(cavity.id, face));
    let places = narrowed.map(|o| super::WayField::OpeningAt(cavity.id, o.face.face()));
    faces.chain(places).map(Field::Way).collect()
}

fn placed(job: &Job) -> Vec<(String, Field)> {
    let mut found: Vec<(String, Field)> = OF_JOB.iter().map(|&field| ("the job".to_owned(), field)).collect();
    let mut add = |place: &str, fields: &[Field]| found.extend(fields.iter().map(|&field| (place.to_owned(), field)));
    add("design.added.sizes", &crate::PartSize::ALL.map(Field::PartSize));
    add("electrics", &crate::Figure::ALL.map(Field::Figure));
    add("way_in", &super::way_in::OF_WAY.map(Field::Way));
    for i in 0..job.way_in.bed_parts.len() {
        let place = format!("way_in.bed_parts[{i}]");
        add(&place, &super::way_in::OF_BED_PART.map(|field| Field::Way(field(i))));
    }
    for i in 0..job.stock.pieces.len() {
        add(&format!("stock.pieces[{i}]"), &OF_PIECE.map(|field| field(i)));
    }
    for (i, cavity) in job.cavities.iter().enumerate() {
        let id = cavity.id;
        add(&format!("cavities[{i}]"), &[Field::CavityName(id), Field::LaidOn(id)]);
        add(&format!("cavities[{i}].openings"), &openings(cavity));
        for j in 0..cavity.readings.len() {
            let of_reading = [
                Field::ReadingLine(id, j),
                Field::ReadingValue(id, j),
                Field::ReadingTaken(id, j),
                Field::ReadingDecided(id, j),
                Field::ReadingNote(id, j),
            ];
            add(&format!("cavities[{i}].readings[{j}]"), &of_reading);
        }
        for j in 0..cavity.statements.len() {
            add(
                &format!("cavities[{i}].statements[{j}]"),
                &[Field::StatementWithin(id, j)],
            );
        }
        for (j, keep_out) in cavity.keep_outs.iter().enumerate() {
            let (id, place) = (keep_out.id, format!("cavities[{i}].keep_outs[{j}]"));
            add(&place, &[Field::KeepOutName(id), Field::KeepOutSource(id)]);
            add(&place, &OF_KEEP_OUT.map(|field| field(id)));
            add(&place, &Corner::ALL.map(|corner| Field::KeepOutDistance(id, corner)));
            add(&place, &Face::ALL.map(|face| Field::KeepOutTravel(id, face)));
            add(&place, &Axis::ALL.map(|axis| Field::KeepOutFrom(id, axis)));
            add(&place, &Axis::ALL.map(|axis| Field::KeepOutTo(id, axis)));
            add(
                &place,
                &[
                    Field::KeepOutMargin(id),
                    Field::KeepOutTaken(id),
                    Field::KeepOutNote(id),
                ],
            );
        }
    }
    for (i, kind) in job.kinds.iter().enumerate() {
        let (id, place) = (kind.id, format!("kinds[{i}]"));
        add(&place, &[Field::KindName(id), Field::KindText(id)]);
        add(&place, &Axis::ALL.map(|axis| Field::KindSize(id, axis)));
        add(&place, &OF_KIND.map(|field| field(id)));
        add(&place, &Axis::ALL.map(|axis| Field::KindPlus(id, axis)));
        add(&place, &Axis::ALL.map(|axis| Field::KindMinus(id, axis)));
        if kind.stack.is_some() {
            add(&place, &OF_STACK.map(|field| field(id)));
        }
    }
    for (i, battery_box) in job.boxes.iter().enumerate() {
        let (id, place) = (battery_box.id, format!("boxes[{i}]"));
        add(&place, &[Field::BoxName(id), Field::BoxBay(id), Field::BoxSize(id)]);
        add(&place, &Axis::ALL.map(|axis| Field::BoxAt(id, axis)));
        add(&place, &Axis::ALL.map(|axis| Field::BoxBuilt(id, axis)));
        add(&place, &[Field::BoxStep(id), Field::BoxBracketLeg(id)]);
        if battery_box.step.is_some() {
            add(
                &format!("{place}.step"),
                &[Field::BoxStepRun(id), Field::BoxStepRise(id)],
            );
        }
        if battery_box.fixed.is_some() {
            add(&place, &Axis::ALL.map(|axis| Field::BoxFixed(id, axis)));
        }
        add(
            &format!("{place}.places"),
            &crate::PlacesOf::ALL.map(|which| Field::BoxPlaces(id, which)),
        );
        for (j, fitting) in battery_box.fittings.iter().enumerate() {
            let (id, place) = (fitting.id, format!("boxes[{i}].fittings[{j}]"));
            add(&place, &Field::of_fitting(id));
        }
        for (j, module) in battery_box.modules.iter().enumerate() {
            let (id, place) = (module.id, format!("boxes[{i}].modules[{j}]"));
            add(&place, &Axis::ALL.map(|axis| Field::PlacedAt(id, axis)));
            add(&place, &[Field::PlacedCount(id)]);
        }
    }
    let of_road: Vec<Field> = super::RoadField::all().map(Field::OfRoad).collect();
    add("vehicle.road", &of_road);
    for i in 0..job.tested.len() {
        add(&format!("tested[{i}]"), &OF_UNIT.map(|field| field(i)));
    }
    found.extend(super::truck::placed(job));
    found
}

/// The fields of a piece of stock.
const OF_PIECE: [fn(usize) -> Field; 7] = [
    Field::StockForm,
    Field::StockMaterial,
    Field::StockThickness,
    Field::StockLength,
    Field::StockWidth,
    Field::StockOnHand,
    Field::StockPrice,
];

/// The fields of a tested unit.
const OF_UNIT: [fn(usize) -> Field; 7] = [
    Field::UnitName,
    Field::UnitAmpHours,
    Field::UnitResistance,
    Field::UnitRestVolts,
    Field::UnitNote,
    Field::UnitSetAside,
    Field::UnitSeat,
];

/// How a keep-out is told.
const OF_KEEP_OUT: [fn(crate::Id) -> Field; 3] = [Field::KeepOutShape, Field::KeepOutDiameter, Field::KeepOutMeasured];

/// The fields of a kind, but for its name and size.
const OF_KIND: [fn(crate::Id) -> Field; 18] = [
    Field::KindMass,
    Field::KindNominal,
    Field::KindAmpHours,
    Field::KindOnHand,
    Field::KindChemistry,
    Field::KindCellsSeries,
    Field::KindCellsParallel,
    Field::KindEmpty,
    Field::KindFull,
    Field::KindContinuous,
    Field::KindResistance,
    Field::KindPeak,
    Field::KindCharge,
    Field::KindRestCurve,
    Field::KindTerminals,
    Field::KindService,
    Field::KindStance,
    Field::KindStacked,
];

/// The fields of a clamped kind.
const OF_STACK: [fn(crate::Id) -> Field; 7] = [
    Field::StackAlong,
    Field::StackFewest,
    Field::StackMost,
    Field::StackEndPlate,
    Field::StackRodEnd,
    Field::StackGrowth,
    Field::StackHeld,
];
