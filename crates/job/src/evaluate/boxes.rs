//! The boxes of a job: each wraps its modules, gets its steel, and is measured against what stands round it.

mod around;
mod construction;
mod result;
mod steel;

use geometry::{Cuboid, Face, Faces, Orientation};
use tape::Length;

use super::added::AddedResult;
use super::cavity::CavityResult;
use super::chance::{self, FitChance};
use super::kind::KindResult;
use super::{ledger, reach, step, strength, tools, welds};
use crate::Job;
use crate::assumed::{self, Build, Trust};
use crate::document::{BatteryBox, BracketsName, Placed};

pub(crate) use around::wall_name;
use around::{in_cavity, inside_clearances, roomiest};
pub(crate) use construction::{Allowances, allowances, clearance_hole, rims, solid_rims, spec};
pub use result::{BoxMass, BoxResult, Losses, ModuleResult, Roomiest};
use steel::steel;

pub(super) fn evaluate(
    job: &Job,
    trust: &Trust,
    build: &Build,
    cavities: &[CavityResult],
    kinds: &[KindResult],
) -> Vec<BoxResult> {
    let allowances = allowances(build, trust);
    let mut boxes: Vec<BoxResult> = job
        .boxes
        .iter()
        .map(|b| {
            let cavity = cavities.iter().find(|c| c.id == b.cavity);
            one(job, (b, cavity), build, &allowances, kinds, trust)
        })
        .collect();
    let is_hung = job.design.carried() == BracketsName::Web;
    for cavity in cavities {
        in_cavity(cavity, &mut boxes, trust.margin, is_hung);
    }
    let limits = assumed::limits(&job.settings, &job.design);
    let told = || job.boxes.iter();
    let outsides: Vec<_> = boxes
        .iter()
        .zip(told())
        .map(|(b, told)| (b.id, chance::built_outside(&limits, trust, told, b)))
        .collect();
    let inside = chance::Inside {
        trust,
        limits: &limits,
        build,
        kinds,
    };
    let mut floors = strength::Floors::default();
    for (battery_box, told) in boxes.iter_mut().zip(told()) {
        let cavity = cavities.iter().find(|c| c.id == battery_box.cavity);
        (battery_box.welds, battery_box.losses) =
            welds::of(build, &limits, trust.fraction, job.units.units(), battery_box);
        if job.settings.shop_class.is_some() || job.settings.shop_limits.is_some() {
            // What the shop is told to hold is the welded piece: it allows for what the seams draw in.
            battery_box.losses.welds = [Length::ZERO; 3];
        }
        if let Some(cavity) = cavity {
            let look = chance::Outside {
                cavity,
                built: &outsides,
            };
            battery_box.roomiest = roomiest(cavity, battery_box, trust.sigmas);
            battery_box.fit.outside = chance::outside_rooms(&look, battery_box);
            chance::give_or_take_of_sides(&look, battery_box);
        }
        chance::inside_rooms(&inside, told, battery_box);
        battery_box.ledgers = ledger::of(battery_box, cavity, build, &allowances);
        battery_box.strength = strength::of(job, build, &limits, kinds, battery_box, &mut floors);
        battery_box.corners_met = welds::met(build, &allowances, battery_box);
    }
    let reaches = reach::of(&boxes, cavities, build);
    for (battery_box, reach) in boxes.iter_mut().zip(reaches) {
        battery_box.reach = reach;
    }
    let bolt = strength::bolt_of(&job.electrics.figures);
    let tools = tools::of(&boxes, cavities, bolt);
    for (battery_box, tools) in boxes.iter_mut().zip(tools) {
        battery_box.tools = tools;
    }
    boxes
}

/// A box by itself: its modules, the inside that wraps them, and the steel round it.
fn one(
    job: &Job,
    (battery_box, cavity): (&BatteryBox, Option<&CavityResult>),
    build: &Build,
    allowances: &Allowances,
    kinds: &[KindResult],
    trust: &Trust,
) -> BoxResult {
    let modules: Vec<ModuleResult> = stands(battery_box, kinds).map(|stood| module(&stood)).collect();
    let bay = bay_of(battery_box, allowances);
    let inside = inside_of(battery_box, stands(battery_box, kinds), allowances);
    let mut result = BoxResult {
        id: battery_box.id,
        name: battery_box.name.clone(),
        cavity: battery_box.cavity,
        fixed: battery_box.fixed.is_some(),
        bay,
        inside,
        step: battery_box.step.as_ref().map(step::told),
        body: None,
        empty_middle: None,
        coated: None,
        solids: Vec::new(),
        built: None,
        fault: None,
        around: None,
        modules,
        ledgers: Vec::new(),
        fit: FitChance::default(),
        roomiest: None,
        drawn: None,
        fittings: Vec::new(),
        mass: BoxMass::default(),
        strength: None,
        welds: None,
        losses: Losses::default(),
        reach: None,
        tools: Vec::new(),
        added: AddedResult::default(),
        corners_met: Vec::new(),
    };
    result.mass.modules_g = stands(battery_box, kinds).map(|stood| stood.grams()).sum();
    if let Some(inside) = result.inside {
        steel(
            job,
            &mut result,
            (battery_box, cavity),
            inside,
            (build, allowances, kinds),
        );
        let inside = result.inside.unwrap_or(inside);
        inside_clearances(&mut result, inside, kinds, allowances, trust.gap);
    }
    result
}

/// Which side the bay is on, when there is one.
fn bay_of(battery_box: &BatteryBox, allowances: &Allowances) -> Option<Face> {
    (allowances.bay > Length::ZERO).then(|| battery_box.bay.map_or(assumed::BAY, crate::FaceName::face))
}

/// A module or a stack where it stands, in the cavity's frame.
pub(super) struct Stood<'a> {
    placed: &'a Placed,
    kind: &'a KindResult,
    stands: Orientation,
    cuboid: Cuboid,
}

impl Stood<'_> {
    /// What it weighs; nothing while its kind has no mass.
    pub(super) fn grams(&self) -> i64 {
        self.kind.mass_g.unwrap_or(0) * i64::from(self.placed.count)
    }
}

/// What stands in a box, of kinds that have a size.
pub(super) fn stands<'a>(battery_box: &'a BatteryBox, kinds: &'a [KindResult]) -> impl Iterator<Item = Stood<'a>> {
    let datum = battery_box.datum();
    battery_box.modules.iter().filter_map(move |placed| {
        let kind = kinds.iter().find(|k| k.id == placed.kind)?;
        let stands = placed.stands.orientation()?;
        let cuboid = kind.cuboid(datum + placed.corner(), stands, placed.count)?;
        Some(Stood {
            placed,
            kind,
            stands,
            cuboid,
        })
    })
}

/// The space inside the liner of a box: as fixed, else round what stands in it.
pub(super) fn inside_of<'a>(
    battery_box: &BatteryBox,
    stands: impl Iterator<Item = Stood<'a>>,
    allowances: &Allowances,
) -> Option<Cuboid> {
    match &battery_box.fixed {
        Some(size) => Some(Cuboid::at(
            battery_box.datum(),
            geometry::Size(size.each_ref().map(crate::Len::value)),
        )),
        None => wrap(stands, allowances, bay_of(battery_box, allowances)),
    }
}

fn module(stood: &Stood<'_>) -> ModuleResult {
    let Stood {
        placed,
        kind,
        stands,
        cuboid,
    } = *stood;
    let service_towards = kind.service_towards(stands);
    let terminals = kind
        .terminals
        .faces()
        .iter()
        .map(|&own| stands.world_face(own))
        .collect();
    let service = Face::ALL
        .into_iter()
        .filter(|&face| service_towards[face] > Length::ZERO)
        .map(|face| in_front(&cuboid, face, service_towards[face]))
        .collect();
    ModuleResult {
        id: placed.id,
        label: placed.label(),
        kind: placed.kind,
        count: placed.count,
        pinned: placed.pinned,
        stands,
        cuboid,
        terminals,
        service,
        around: None,
        blocked_by: None,
    }
}

/// The region of `depth` straight in front of one face.
pub(super) fn in_front(cuboid: &Cuboid, face: Face, depth: Length) -> Cuboid {
    let (mut lo, mut hi) = (cuboid.lo(), cuboid.hi());
    let axis = face.axis();
    if face.is_high() {
        lo[axis] = hi[axis];
        hi[axis] += depth;
    } else {
        hi[axis] = lo[axis];
        lo[axis] -= depth;
    }
    Cuboid::between(lo, hi)
}

/// The smallest space inside the liner that gives every module its room on every side.
fn wrap<'a>(stands: impl Iterator<Item = Stood<'a>>, allowances: &Allowances, bay: Option<Face>) -> Option<Cuboid> {
    stands
        .filter_map(|stood| {
            let service = stood.kind.service_towards(stood.stands);
            let need = Faces(Face::ALL.map(|face| {
                let bay = if bay == Some(face) {
                    allowances.bay
                } else {
                    Length::ZERO
                };
                allowances.fit[face] + allowances.room[face].max(service[face]) + bay
            }));
            stood.cuboid.grown(need)
        })
        .reduce(|a, b| a.hull(&b))
}
