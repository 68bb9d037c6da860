//! What nobody entered, and which figures rest on it.

use tape::Length;

use super::road;
use crate::finding::{Assumption, Touches};
use crate::{Field, Job, Kind, PartSize, Shown, State, TruckField, TruckFigure, field};

const VOLTS: Touches = Touches {
    volts: true,
    energy: false,
    mass: false,
    clearance: false,
    cut: false,
};
const CLEARANCE: Touches = Touches {
    volts: false,
    energy: false,
    mass: false,
    clearance: true,
    cut: false,
};
const CUT: Touches = Touches {
    volts: false,
    energy: false,
    mass: false,
    clearance: false,
    cut: true,
};
const BODY: Touches = Touches {
    volts: false,
    energy: false,
    mass: true,
    clearance: true,
    cut: true,
};
const MASS: Touches = Touches {
    volts: false,
    energy: false,
    mass: true,
    clearance: false,
    cut: false,
};
const STEEL: Touches = Touches {
    volts: false,
    energy: false,
    mass: true,
    clearance: false,
    cut: true,
};

/// Fields of the whole job that have a default, with what rests on each.
fn of_job(job: &Job) -> Vec<(Field, Touches)> {
    let mut fields = vec![
        (Field::Sigmas, CLEARANCE),
        (Field::TapeClass, CLEARANCE),
        (Field::Margin, Touches::default()),
        (Field::Gap, Touches::default()),
        (Field::Coating, CLEARANCE),
        (Field::ShopClass, CLEARANCE),
        (Field::Flatness, CLEARANCE),
        (Field::SheetLimits, Touches::default()),
        (Field::CoatingLimits, Touches::default()),
        (Field::LinerLimits, Touches::default()),
        (Field::ModuleLimits, Touches::default()),
        (Field::Material, STEEL),
        (Field::Wall, BODY),
        (Field::Floor, BODY),
        (Field::Lid, BODY),
        (Field::Corners, CUT),
        (Field::BendRule, CUT),
        (Field::BendRadius, CUT),
        (Field::CornerGap, CUT),
        (Field::WeldSide, BODY),
        (Field::FrameLeg, BODY),
        (Field::FrameThickness, BODY),
        (Field::PanelsHeld, CUT),
        (Field::Rivet, CUT),
        (Field::RivetPitch, CUT),
        (Field::RivetHeads, BODY),
        (Field::Sealant, Touches::default()),
        (Field::Closing, BODY),
        (Field::Gasket, CUT),
        (Field::GasketSqueezed, CLEARANCE),
        (Field::Liner, BODY),
        (Field::LinerMaterial, MASS),
        (Field::Fit, BODY),
        (Field::RoomOver, BODY),
        (Field::RoomEnds, BODY),
        (Field::Bay, BODY),
        (Field::FlangeOut, BODY),
        (Field::FlangeThickness, BODY),
        (Field::FlangeJoint, CUT),
        (Field::Screw, CUT),
        (Field::ScrewHead, CLEARANCE),
        (Field::ScrewBelow, CLEARANCE),
        (Field::ScrewPitch, CUT),
        (Field::CapOut, BODY),
        (Field::CapDeep, BODY),
        (Field::CapHeld, BODY),
        (Field::ToggleOut, CLEARANCE),
    ];
    let clamped = job.kinds.iter().any(|kind| kind.stack.is_some());
    let of_clamps = |size| matches!(size, PartSize::TieRod | PartSize::TieInset);
    let sizes = PartSize::ALL.into_iter().filter(|&size| clamped || !of_clamps(size));
    // Clamps are within the size of their stack, whatever they are cut from.
    let touches = |size| if of_clamps(size) { STEEL } else { BODY };
    fields.extend(sizes.map(|size| (Field::PartSize(size), touches(size))));
    if clamped {
        fields.push((Field::Clamps, STEEL));
    }
    fields.retain(|(field, _)| field.is_asked(&job.design));
    fields
}

fn of_kind(kind: &Kind) -> Vec<(Field, Touches)> {
    let id = kind.id;
    let mut fields = vec![(Field::KindTerminals(id), CLEARANCE), (Field::KindService(id), BODY)];
    fields.push((Field::KindStance(id), Touches::default()));
    if kind.nominal_volts.is_some() && (kind.empty_volts.is_none() || kind.full_volts.is_none()) {
        fields.push((Field::KindChemistry(id), VOLTS));
        fields.push((Field::KindCellsSeries(id), VOLTS));
    }
    fields.push((Field::KindEmpty(id), VOLTS));
    fields.push((Field::KindFull(id), VOLTS));
    fields
}

/// Fields of the truck that have a default, once anything of it was entered. Nothing in the title block rests on them.
fn of_truck(job: &Job) -> Vec<(Field, Touches)> {
    if !job.vehicle.is_told() {
        return Vec::new();
    }
    let of_truck = TruckField::OF_TRUCK.into_iter();
    let figures = TruckFigure::ALL.into_iter().map(TruckField::Figure);
    let components = (0..job.vehicle.components.len()).flat_map(TruckField::of_component);
    of_truck
        .chain(figures)
        .chain(components)
        .map(|field| (Field::OfTruck(field), Touches::default()))
        .collect()
}

/// What the job as a whole rests on.
///
/// - `asked`: the pitch of rivets that the load asks for, where it does.
pub(super) fn list(job: &Job, asked: Option<Length>) -> Vec<Assumption> {
    // A box's build rests on nothing until there is a box, but it is still assumed, and said so.
    let mut fields: Vec<(Field, Touches)> = of_job(job);
    for kind in &job.kinds {
        fields.extend(of_kind(kind));
    }
    fields.extend(of_truck(job));
    assumed(job, &fields, asked)
}

/// Those of the truck on the road, once it is told. Nothing in the title block rests on them; what the electrics have of it
/// is told with them.
pub(super) fn of_road(job: &Job) -> Vec<Assumption> {
    let fields = road::entries::used(job).into_iter();
    let of_road = fields.filter(|field| matches!(field, Field::OfRoad(_)));
    let fields: Vec<(Field, Touches)> = of_road.map(|field| (field, Touches::default())).collect();
    assumed(job, &fields, None)
}

/// Those of the fields that nobody entered.
fn assumed(job: &Job, fields: &[(Field, Touches)], asked: Option<Length>) -> Vec<Assumption> {
    let names: Vec<Field> = fields.iter().map(|(field, _)| *field).collect();
    field::show_riveted(job, &names, || asked)
        .into_iter()
        .filter(|(_, shown)| shown.state == State::Assumed)
        .map(|(field, shown)| Assumption {
            field,
            label: label(job, field),
            text: told(&shown, job.units.units()),
            touches: fields
                .iter()
                .find(|(f, _)| *f == field)
                .map_or(Touches::default(), |(_, touches)| *touches),
        })
        .collect()
}

/// What is taken, and why where it is another than usual.
fn told(shown: &Shown, units: tape::Units) -> String {
    let text = crate::assumed::told_text(&shown.text, units);
    if shown.beside.is_empty() {
        text
    } else {
        format!("{text}, {}", shown.beside)
    }
}

/// The field's label, with the kind's name where it belongs to one of several kinds.
fn label(job: &Job, field: Field) -> String {
    match field {
        Field::KindChemistry(id)
        | Field::KindCellsSeries(id)
        | Field::KindEmpty(id)
        | Field::KindFull(id)
        | Field::KindTerminals(id)
        | Field::KindService(id)
        | Field::KindStance(id) => match job.kind(id) {
            Some(kind) => format!("{}: {}", kind.name, field.label()),
            None => field.label().to_owned(),
        },
        Field::OfTruck(TruckField::ComponentAt(index, _)) => match job.vehicle.components.get(index) {
            Some(component) => format!("{}: {}", component.name, field.label()),
            None => field.label().to_owned(),
        },
        _ => field.label().to_owned(),
    }
}
