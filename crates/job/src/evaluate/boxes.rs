//! Each box as built round its modules, where it stands, and how far everything is from its neighbours.

use std::sync::Arc;

use enclosure::build::Built;
use enclosure::stock::rivet_nut_hole;
use enclosure::weld::WeldMap;
use enclosure::{BoxSpec, CapHold, Fastener, Flange, Gasket, Lid, Sheet, SideScrew, SpecError, Step, Toggle};
use geometry::clearance::{Neighbour, Scene, Solid, all_around};
use geometry::fit::Rim;
use geometry::{Axis, Cuboid, Face, Faces, Orientation, Point};
use tape::Length;

use super::added::{self, AddedResult, Before, BracketSeat};
use super::cavity::CavityResult;
use super::chance::{self, FitChance};
use super::fitting::{self, FittingResult};
use super::kind::KindResult;
use super::ledger::{self, Ledger};
use super::neighbours::{Near, SixClearances};
use super::reach::{self, LidReach};
use super::step;
use super::strength::{self, BoxStrength};
use super::tools::{self, NoRoom};
use super::welds::{self, CornerMet};
use crate::assumed::{Build, Trust};
use crate::document::{BatteryBox, BracketsName, CapHeldName, Closing, Placed};
use crate::{Id, Job, assumed};

/// A box as built and placed. Cuboids are in the cavity's frame.
#[derive(Clone, Debug, PartialEq)]
pub struct BoxResult {
    /// Its number.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// The cavity it stands in.
    pub cavity: Id,
    /// Whether its inside size is fixed by the person.
    pub fixed: bool,
    /// Which side the bay is on, when there is one.
    pub bay: Option<Face>,
    /// The space inside the liner; `None` for an empty box that wraps nothing.
    pub inside: Option<Cuboid>,
    /// The step in its underside, if it has one.
    pub step: Option<Step>,
    /// The outside of the body before coating: from under the floor to the top of the lid; with a step the block round
    /// it all, as if there were none.
    pub body: Option<Cuboid>,
    /// The middle of its mass without modules, of a box with a step: from its parts; of any other it is taken at the middle
    /// of the body.
    pub empty_middle: Option<Point>,
    /// The same as the body with its coating.
    pub coated: Option<Cuboid>,
    /// Everything that takes part in clearances, coating on: the body first (with a step as two, see [`BoxResult::body_solids`]),
    /// then flange or cap, screw heads, fittings.
    pub solids: Vec<Cuboid>,
    /// Parts, sizes and mass; `None` when it cannot be built as told.
    pub built: Option<Built>,
    /// Why it cannot be built.
    pub fault: Option<SpecError>,
    /// Its clearances in the cavity.
    pub around: Option<SixClearances>,
    /// The modules and stacks in it.
    pub modules: Vec<ModuleResult>,
    /// Every millimetre along length, width and height.
    pub ledgers: Vec<Ledger>,
    /// How likely it goes in, and its modules into it.
    pub fit: FitChance,
    /// Where it would have the most room between the walls of its surveyed cavity, keep-outs and other boxes aside.
    pub roomiest: Option<Roomiest>,
    /// The outside as drawn, coating on, where the person taped what was built.
    pub drawn: Option<Cuboid>,
    /// What is let into its walls.
    pub fittings: Vec<FittingResult>,
    /// What it weighs.
    pub mass: BoxMass,
    /// First-order sums of what holds it, carries its modules and seals it; `None` when it cannot be built as told.
    pub strength: Option<BoxStrength>,
    /// Its seams; `None` when it cannot be built as told.
    pub welds: Option<WeldMap>,
    /// What its making may take off the inside.
    pub losses: Losses,
    /// What is in the way of its lid's screws; `None` where no lid is screwed.
    pub reach: Option<LidReach>,
    /// Where other tools have no room: mount bolts, hold-down nuts, glands, the disconnect.
    pub tools: Vec<NoRoom>,
    /// What goes in and on it beyond shell and lid.
    pub added: AddedResult,
    /// Where a square edge of a module meets the weld bead or bend in a corner of the box.
    pub corners_met: Vec<CornerMet>,
}

impl BoxResult {
    /// All of it, coating on, down to the lowest of its brackets; at the sides without them: they are set against what
    /// carries them.
    pub(super) fn overall(&self) -> Option<Cuboid> {
        let all = self.solids.iter().copied().reduce(|a, b| a.hull(&b))?;
        let mut lo = all.lo();
        lo[Axis::Z] -= self.hanging();
        Some(Cuboid::between(lo, all.hi()))
    }

    /// How far its brackets hang below everything else of it.
    pub(super) fn hanging(&self) -> Length {
        let lowest = |solids: &[Cuboid]| solids.iter().map(|solid| solid.lo()[Axis::Z]).min();
        match (lowest(&self.solids), lowest(&self.added.brackets)) {
            (Some(own), Some(brackets)) => (own - brackets).max(Length::ZERO),
            _ => Length::ZERO,
        }
    }
}

/// The place where a box has the most room between leaning walls.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Roomiest {
    /// What its tightest side has there for sure.
    pub room: Length,
    /// What its tightest side to a wall has for sure where it stands.
    pub now: Length,
    /// How far it is from where it stands: rearward, to the right, up.
    pub away: Point,
}

/// The most that making a box may take off its inside, along length, width and height, as its sizes are cut.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Losses {
    /// Welds that draw in, when no sheet is cut larger for it; nothing once the shop was told what to hold.
    pub welds: [Length; 3],
    /// Sizes rounded down when they are marked out.
    pub rounding: [Length; 3],
}

/// What a box weighs, in grams.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct BoxMass {
    /// The steel or aluminium of shell, lid and frame.
    pub shell_g: i64,
    /// What goes in and on it beyond those: brackets, hold-down bars, end plates, the liner and the like.
    pub added_g: i64,
    /// The modules.
    pub modules_g: i64,
}

impl BoxMass {
    /// The box without modules.
    pub const fn empty_g(self) -> i64 {
        self.shell_g + self.added_g
    }

    /// Box and modules.
    pub const fn total_g(self) -> i64 {
        self.empty_g() + self.modules_g
    }
}

/// A module or a stack in its place, in the cavity's frame.
#[derive(Clone, Debug, PartialEq)]
pub struct ModuleResult {
    /// Its number.
    pub id: Id,
    /// M and its number, or S for a stack.
    pub label: String,
    /// Its kind.
    pub kind: Id,
    /// Modules in it.
    pub count: u32,
    /// Whether it stays where it is when the rest is laid out anew.
    pub pinned: bool,
    /// How it stands.
    pub stands: Orientation,
    /// The space it takes.
    pub cuboid: Cuboid,
    /// Towards which faces its terminals point.
    pub terminals: Vec<Face>,
    /// The service space in front of them.
    pub service: Vec<Cuboid>,
    /// Its clearances inside the box.
    pub around: Option<SixClearances>,
    /// What blocks its service space, by name.
    pub blocked_by: Option<String>,
}

/// The allowances from the inside of the liner outward and from it inward, as every box of the job has them.
pub(crate) struct Allowances {
    /// Room between liner and module, whatever the service space.
    pub(crate) fit: Faces<Length>,
    /// Least room beyond it; service space counts within.
    pub(crate) room: Faces<Length>,
    /// Liner on each face.
    pub(crate) liner: Faces<Length>,
    /// Coating on every outer face.
    pub(crate) coating: Length,
    /// What the room beyond the fitting room has to be at the walls for square edges to clear beads and bends in the
    /// corners; within `room`.
    pub(crate) corner: Length,
    /// The bay's length.
    pub(crate) bay: Length,
    /// What hold-down bars and stiffeners under the lid take over the modules; within `room`.
    pub(crate) over: Length,
    /// What modules stand on; within `room`.
    pub(crate) under: Length,
}

pub(crate) fn allowances(build: &Build, trust: &Trust) -> Allowances {
    let mut room = Faces::all(Length::ZERO);
    room[Face::Front] = build.room_ends;
    room[Face::Rear] = build.room_ends;
    room[Face::Top] = build.room_over.max(build.over_modules);
    room[Face::Bottom] = build.under_modules;
    let corner = (welds::Fills::of(build).off_walls(build.liner) - build.liner - build.fit).max(Length::ZERO);
    for wall in [Face::Front, Face::Rear, Face::Left, Face::Right] {
        room[wall] = room[wall]
            .max(corner)
            .max(build.beside_modules - build.liner - build.fit);
    }
    Allowances {
        fit: Faces::floor_walls_top(Length::ZERO, build.fit, Length::ZERO),
        room,
        liner: Faces::floor_walls_top(build.liner, build.liner, Length::ZERO),
        coating: trust.coating,
        corner,
        bay: build.bay,
        over: build.over_modules,
        under: build.under_modules,
    }
}

/// The construction of a box with this much space inside the steel.
pub(crate) fn spec(build: &Build, inside: [Length; 3]) -> BoxSpec {
    let sheet = |thickness| Sheet {
        material: build.material,
        thickness,
    };
    let gasket = (build.gasket > Length::ZERO).then_some(Gasket {
        free: build.gasket,
        squeezed: build.gasket_squeezed,
    });
    let fastener = Fastener {
        diameter: build.screw,
        hole: clearance_hole(build.screw),
        head_height: build.screw_head,
        below: build.screw_below,
        most_pitch: build.screw_pitch,
    };
    let lid = match build.closing {
        Closing::Flange => Lid::Flat {
            sheet: sheet(build.lid),
            flange: Some(Flange {
                width: build.flange_out,
                thickness: build.flange_thickness,
                joint: build.flange_joint,
            }),
            gasket,
            fastener: Some(fastener),
            edge: None,
        },
        Closing::Cap => Lid::Cap {
            sheet: sheet(build.lid),
            out: build.cap_out,
            deep: build.cap_deep,
            gasket,
            hold: match build.cap_held {
                CapHeldName::Screws => Some(CapHold::Screws(SideScrew {
                    fastener,
                    nut_hole: rivet_nut_hole(build.screw),
                })),
                CapHeldName::Toggles => Some(CapHold::Toggles(Toggle {
                    out: build.toggle_out,
                    most_pitch: build.screw_pitch,
                })),
                CapHeldName::Nothing => None,
            },
        },
        Closing::Flat => Lid::Flat {
            sheet: sheet(build.lid),
            flange: None,
            gasket,
            fastener: None,
            edge: None,
        },
    };
    BoxSpec {
        inside,
        wall: sheet(build.wall),
        floor: sheet(build.floor),
        construction: build.construction,
        corners: build.corners,
        lid,
        frame: None,
        step: None,
    }
}

/// A medium clearance hole: a tenth larger than the screw, rounded up to half a millimetre.
pub(crate) fn clearance_hole(screw: Length) -> Length {
    Length::from_mm_up(screw.as_mm() * 1.1).round_up_to(Length::tenths_mm(5))
}

/// The bands round a coated body, as the automatic layout and the clearances take them.
pub(crate) fn rims(built: &Built, coating: Length) -> Vec<Rim> {
    built
        .rims
        .iter()
        .map(|band| Rim {
            out: band.out,
            below_top: band.below_top + coating * 2,
            above_top: band.above_top,
        })
        .collect()
}

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
        battery_box.strength = strength::of(job, build, &limits, kinds, battery_box);
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

/// Builds the steel round `inside`.
fn steel(
    job: &Job,
    result: &mut BoxResult,
    (told, cavity): (&BatteryBox, Option<&CavityResult>),
    inside: Cuboid,
    (build, allowances, kinds): (&Build, &Allowances, &[KindResult]),
) {
    let Some(steel) = inside.grown(allowances.liner) else {
        return;
    };
    let spec = BoxSpec {
        step: result.step,
        ..spec(build, steel.size().0)
    };
    let (holes, faults) = fitting::holes(&spec, told);
    match enclosure::build_with(&spec, &holes) {
        Err(fault) => result.fault = Some(fault),
        Ok(mut made) => {
            let shell = Faces::floor_walls_top(made.under, made.beside, made.above_rim);
            let body = steel.grown(shell).unwrap_or(steel);
            let drawn = body.grown(Faces::all(allowances.coating)).unwrap_or(body);
            let mut coated = drawn;
            let (mut body, mut within_steel, mut within_liner) = (body, steel, inside);
            // What was taped is what stands there: the sheets are the same, so the inside follows. A box smaller than its
            // own sheets is none.
            let taped = as_built(told, &drawn)
                .and_then(|grows| Some((drawn.grown(grows)?, body.grown(grows)?, inside.grown(grows)?)));
            if let Some((outside, own, within)) = taped {
                (coated, body) = (outside, own);
                result.inside = Some(within);
                within_liner = within;
                within_steel = within.grown(allowances.liner).unwrap_or(steel);
                result.drawn = Some(drawn);
            }
            result.body = Some(body);
            result.coated = Some(coated);
            result.solids = step::parts(result.step.as_ref(), &coated);
            let rims = rims(&made, allowances.coating);
            result.solids.extend(rims.iter().map(|rim| rim.around(&coated)));
            let spaces = fitting::Walls {
                steel: within_steel,
                liner: within_liner,
                coated,
                step: result.step,
                rims,
            };
            result.fittings = fitting::placed(told, faults, &spaces, &result.modules);
            made.coat_area = made.coat_area - fitting::masked(&result.fittings);
            result.solids.extend(result.fittings.iter().filter_map(|f| f.outside));
            let shell_grams = made.grams;
            let there = (result.modules.as_slice(), result.fittings.as_slice());
            result.added = added::add(
                job,
                (build, &spec),
                kinds,
                (told, cavity),
                &within_steel,
                there,
                &mut made,
            );
            added::line(build, &spec, told, &mut made, &mut result.added);
            result.empty_middle =
                enclosure::empty_middle_mm(&spec, &made).map(|at| within_steel.lo() + Point(at.map(Length::from_mm)));
            result
                .solids
                .extend(added::outside(&made, &within_steel, allowances.coating));
            #[expect(clippy::cast_possible_truncation, reason = "a box weighs far less than 2^53 g")]
            {
                result.mass.shell_g = shell_grams.round() as i64;
                result.mass.added_g = (made.grams - shell_grams + result.added.on_hand_grams).round() as i64;
            }
            result.built = Some(made);
        }
    }
}

/// The place with the most room between the walls as they lean, for the box over everything.
fn roomiest(cavity: &CavityResult, battery_box: &BoxResult, sigmas: f64) -> Option<Roomiest> {
    let shape = cavity.survey.shape.as_deref()?;
    let overall = battery_box.overall()?;
    let (place, room) = shape.roomiest(overall.size(), sigmas)?;
    let sure =
        |clearance: &tape::inside::Clearance| clearance.distance - Length::from_mm_up(clearance.sigma.as_mm() * sigmas);
    let now = shape.clearances(&overall).iter().map(sure).min()?;
    Some(Roomiest {
        room,
        now,
        away: place.lo() - overall.lo(),
    })
}

/// How far each face of a box lies beyond where it was drawn, by what was taped after welding: lengthwise and crosswise
/// half at each side, in height all of it at the top.
fn as_built(told: &BatteryBox, drawn: &Cuboid) -> Option<Faces<Length>> {
    if told.as_built.is_open() {
        return None;
    }
    let mut grows = Faces::all(Length::ZERO);
    for axis in Axis::ALL {
        let Some(taped) = told.as_built.along(axis) else {
            continue;
        };
        let more = taped.value() - drawn.size()[axis];
        if axis == Axis::Z {
            grows[Face::Top] = more;
        } else {
            let half = Length::from_nm(more.nm().div_euclid(2));
            grows[Face::low(axis)] = half;
            grows[Face::high(axis)] = more - half;
        }
    }
    Some(grows)
}

/// Clearances of modules to each other and to the liner, and what blocks their service space.
fn inside_clearances(
    result: &mut BoxResult,
    inside: Cuboid,
    kinds: &[KindResult],
    allowances: &Allowances,
    gap: Length,
) {
    let mut solids: Vec<Solid> = result
        .modules
        .iter()
        .enumerate()
        .map(|(thing, m)| Solid {
            thing,
            cuboid: m.cuboid,
        })
        .collect();
    // The last thing, where there is one; it fills what the space lacks.
    let step = result.step_inside().map(|cuboid| Solid {
        thing: solids.len(),
        cuboid,
    });
    solids.extend(step);
    let scene = Scene {
        space: inside,
        solids: &solids,
    };
    let arounds = all_around(&scene);
    let rooms: Vec<(usize, Cuboid)> = result
        .modules
        .iter()
        .enumerate()
        .flat_map(|(thing, m)| m.service.iter().map(move |&room| (thing, room)))
        .collect();
    let blocked = geometry::clearance::blocked_service(&scene, &rooms);
    let bay = result.bay;
    let names: Vec<(Id, Arc<str>)> = result.modules.iter().map(|m| (m.id, m.label.as_str().into())).collect();
    let liners = Faces(Face::ALL.map(|face| Arc::<str>::from(format!("{} liner", face.name()))));
    for (module, around) in result.modules.iter_mut().zip(&arounds) {
        let service = kinds
            .iter()
            .find(|k| k.id == module.kind)
            .map(|k| k.service_towards(module.stands));
        let room = |face: Face| {
            let service = service.map_or(Length::ZERO, |s| s[face]);
            allowances.fit[face] + allowances.room[face].max(service)
        };
        module.around = Some(SixClearances::named(around, |neighbour, towards| match neighbour {
            Neighbour::Wall(face) => {
                let bay = if bay == Some(face) {
                    allowances.bay
                } else {
                    Length::ZERO
                };
                (Near::Liner(face), Arc::clone(&liners[face]), room(face) + bay)
            }
            Neighbour::Thing(thing) if thing == names.len() => {
                let name = if towards == Face::Bottom {
                    "raised floor"
                } else {
                    "riser"
                };
                (Near::Step, name.into(), room(towards))
            }
            Neighbour::Thing(thing) => (Near::Module(names[thing].0), Arc::clone(&names[thing].1), gap),
        }));
    }
    for (owner, neighbour) in blocked {
        let by = match neighbour {
            Neighbour::Wall(face) => format!("the {} liner", face.name()),
            Neighbour::Thing(thing) => names
                .get(thing)
                .map_or_else(|| "the step".to_owned(), |(_, name)| name.to_string()),
        };
        result.modules[owner].blocked_by.get_or_insert(by);
    }
}

/// Clearances of the boxes of one cavity to each other, to its walls and to its keep-outs. `is_hung`: their brackets hang on
/// the web of a rail, against which their ends lie.
fn in_cavity(cavity: &CavityResult, boxes: &mut [BoxResult], margin: Length, is_hung: bool) {
    let Some(space) = cavity.space else { return };
    let held_at = |near: Near, face: Face| match near {
        Near::Wall(wall) => cavity.held(wall),
        Near::KeepOut(id) => {
            let keep_out = cavity.keep_outs.iter().find(|k| k.id == id);
            keep_out.map_or(Length::ZERO, |k| k.held(face.opposite()))
        }
        _ => Length::ZERO,
    };
    let here: Vec<usize> = (0..boxes.len())
        .filter(|&i| boxes[i].cavity == cavity.id && !boxes[i].solids.is_empty())
        .collect();
    let mut solids = Vec::new();
    let mut things: Vec<(Near, Arc<str>, Length)> = Vec::new();
    for &i in &here {
        let thing = things.len();
        things.push((Near::Box(boxes[i].id), boxes[i].name.as_str().into(), margin));
        let own = boxes[i].solids.iter().chain(&boxes[i].added.brackets);
        solids.extend(own.map(|&cuboid| Solid { thing, cuboid }));
    }
    for keep_out in cavity.keep_outs.iter().filter(|k| k.counts) {
        let thing = things.len();
        things.push((
            Near::KeepOut(keep_out.id),
            keep_out.name.as_str().into(),
            keep_out.margin,
        ));
        solids.push(Solid {
            thing,
            cuboid: keep_out.cuboid,
        });
    }
    let around = |space: Cuboid, solids: &[Solid], thing| {
        geometry::clearance::around(&Scene { space, solids }, thing).map(|around| {
            let mut named = SixClearances::named(&around, |neighbour, _| match neighbour {
                Neighbour::Wall(face) => (Near::Wall(face), wall_name(face).into(), margin),
                Neighbour::Thing(thing) => things[thing].clone(),
            });
            named.hold_back(held_at);
            named
        })
    };
    for (thing, &i) in here.iter().enumerate() {
        boxes[i].around = around(space, &solids, thing);
        if boxes[i].added.brackets.is_empty() {
            continue;
        }
        // Brackets are set against what carries them: what is told at their faces is the room beside the body.
        let kept_outs = cavity.keep_outs.iter().filter(|k| k.counts);
        let mut before: Vec<Before> = kept_outs
            .map(|k| Before::of(k.cuboid, Near::KeepOut(k.id), &k.name))
            .collect();
        let others = here.iter().filter(|&&other| other != i).map(|&other| &boxes[other]);
        before.extend(others.flat_map(|b| {
            b.solids
                .iter()
                .map(|&solid| Before::of(solid, Near::Box(b.id), &b.name))
        }));
        let seats = added::seats(&boxes[i], space, &before);
        let brackets = &boxes[i].added.brackets;
        let bare: Vec<Solid> = solids
            .iter()
            .filter(|solid| solid.thing != thing || !brackets.contains(&solid.cuboid))
            .copied()
            .collect();
        let at_body = around(space, &bare, thing);
        if let (Some(all), Some(at_body)) = (&mut boxes[i].around, at_body) {
            for seat in &seats {
                all.faces[seat.face.index()] = at_body.faces[seat.face.index()].clone();
            }
            // The end of a bracket that hangs on a web touches it: how near it is there, its seat tells.
            let hangs_on = |solid: &&Solid| seats.iter().any(|seat| seat.near == things[solid.thing].0);
            let others: Vec<Solid> = solids.iter().filter(|solid| !hangs_on(solid)).copied().collect();
            if is_hung && let Some(elsewhere) = around(off_seats(space, &seats), &others, thing) {
                let at_body = at_body.nearest;
                all.nearest = if elsewhere.nearest.sure() < at_body.sure() {
                    elsewhere.nearest
                } else {
                    at_body
                };
            }
        }
        boxes[i].added.seats = seats;
    }
}

/// A space without the walls that brackets hang on: far beyond them.
fn off_seats(space: Cuboid, seats: &[BracketSeat]) -> Cuboid {
    let mut more = Faces::all(Length::ZERO);
    for seat in seats {
        if let Near::Wall(face) = seat.near {
            more[face] = space.size()[face.axis()] * 2;
        }
    }
    space.grown(more).unwrap_or(space)
}

/// What a bounding face of a cavity is called.
pub(crate) const fn wall_name(face: Face) -> &'static str {
    match face {
        Face::Front => "front wall",
        Face::Rear => "rear wall",
        Face::Left => "left wall",
        Face::Right => "right wall",
        Face::Bottom => "cavity floor",
        Face::Top => "cavity roof",
    }
}
