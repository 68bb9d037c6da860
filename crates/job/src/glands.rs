//! Glands for the cables that leave boxes: which size, and where in which wall. A person takes them over as an edit.

use enclosure::added::Block;
use enclosure::seal::gland::{Gland, for_cable};
use enclosure::{BoxSpec, Built, Purpose, WallHole};
use geometry::fit::Rim;
use geometry::{Axis, Cuboid, Face, Faces, Point};
use tape::show::{caliper, own_first};
use tape::{Length, Units};

use crate::assumed::{self, Build, Trust};
use crate::document::{FittingName, Len, WallFitting, WallName};
use crate::evaluate::{
    BoxResult, CableExit, Spaces, allowances, band_met, solid_rims, spaces, spec, wall_named, wall_of,
};

use crate::{Edit, Evaluation, Figure, Id, Job};
pub use enclosure::seal::gland::SOURCE as SIZES_SOURCE;

/// What is proposed for one box.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// The box.
    pub battery_box: Id,
    /// Its name.
    pub name: String,
    /// The glands, each with the cable it is for.
    pub glands: Vec<Proposed>,
    /// Cables that get none, with why.
    pub without: Vec<(String, String)>,
}

/// One gland.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposed {
    /// Its thread: `M32`.
    pub size: &'static str,
    /// The cable, from where to where.
    pub cable: String,
    /// What is let in.
    pub fitting: WallFitting,
    /// Whether nothing outside the box is in its way or in that of its cable's bend.
    pub is_clear_outside: bool,
    /// Whether outside the box there is the margin round it and its cable's bend, not only the bare room.
    pub keeps_margin: bool,
}

impl Proposed {
    /// In words, the person's own unit first: `M32 for M4 + to drive +: front wall, 4 3/4" (120.0 mm) along, ...`.
    pub fn words(&self, units: Units) -> String {
        let told = |length: &Len| own_first(length.value(), units);
        let narrow = match (self.is_clear_outside, self.keeps_margin) {
            (true, true) => "",
            (true, false) => "; outside it is free, but with less than the margin, and nowhere on the box is more",
            (false, _) => "; something outside is in the way of it or its cable, and nowhere on the box is free",
        };
        format!(
            "{} for {}: {} wall, {} along, {} up, {} out with the cable's bend{narrow}",
            self.size,
            self.cable,
            self.fitting.wall.name(),
            told(&self.fitting.along),
            told(&self.fitting.up),
            self.fitting.out.as_ref().map_or_else(String::new, told),
        )
    }
}

impl Proposal {
    /// What takes the glands over; `None` when there are none.
    pub fn edit(&self) -> Option<Edit> {
        (!self.glands.is_empty()).then(|| Edit::LetIn {
            into: self.battery_box,
            fittings: self.glands.iter().map(|gland| gland.fitting.clone()).collect(),
        })
    }
}

/// From place to place that is tried on a wall.
const STEP: i64 = 10;

/// A gland for each cable that leaves a box and has none yet, box after box; those without cables are left out.
///
/// A gland that is let in already, and seals on the cable, serves the one nearest to it. A new one goes into the upright wall where the way from
/// the terminal through it to where the cable goes is shortest, clear inside of modules, of their service space, of what
/// was added and of other fittings, below what stands out round the rim, and outside clear of brackets, keep-outs, other
/// boxes and the cavity's walls: with the margin where that is possible, else without it, else wherever it is; each tells
/// which. Places are tried every 10 mm.
pub fn propose(job: &Job, evaluation: &Evaluation) -> Vec<Proposal> {
    let trust = assumed::trust(&job.settings, job.units);
    let build = assumed::build(&job.design);
    // What glands take outside their boxes, with their cavities: the next box keeps clear of it.
    let mut taken: Vec<(Id, Cuboid)> = Vec::new();
    let mut proposals = Vec::new();
    for battery_box in &evaluation.boxes {
        let here = taken.iter().filter(|(cavity, _)| *cavity == battery_box.cavity);
        let before: Vec<Cuboid> = here.map(|(_, space)| *space).collect();
        let Some(site) = Site::of(job, evaluation, (&build, &trust), battery_box, &before) else {
            continue;
        };
        if let Some((proposal, outside)) = for_box(evaluation, &site) {
            taken.extend(outside.into_iter().map(|space| (battery_box.cavity, space)));
            proposals.push(proposal);
        }
    }
    proposals
}

/// The proposal for one box, with what its glands take outside; `None` of one that no cable leaves.
fn for_box(evaluation: &Evaluation, site: &Site) -> Option<(Proposal, Vec<Cuboid>)> {
    let battery_box = site.result;
    let units = site.job.units.units();
    let mut exits: Vec<&CableExit> = evaluation.exits_of(battery_box.id).collect();
    if exits.is_empty() {
        return None;
    }
    for gland in evaluation.glands_of(battery_box) {
        let Some(space) = gland.outside.or(gland.inside) else {
            continue;
        };
        let nearest = (0..exits.len()).min_by_key(|&i| away(&exits[i].from, &space.lo()));
        if let Some(nearest) = nearest {
            exits.remove(nearest);
        }
    }
    let mut proposal = Proposal {
        battery_box: battery_box.id,
        name: battery_box.name.clone(),
        glands: Vec::new(),
        without: Vec::new(),
    };
    let mut taken: Vec<(WallFitting, Spaces)> = Vec::new();
    for exit in exits {
        let Some(gland) = for_cable(exit.outside) else {
            let why = format!("no usual gland seals on {}", caliper(exit.outside, units));
            proposal.without.push((exit.name.clone(), why));
            continue;
        };
        match site.place(exit, gland, &taken) {
            Some((fitting, spaces, free)) => {
                taken.push((fitting.clone(), spaces));
                proposal.glands.push(Proposed {
                    size: gland.name,
                    cable: exit.name.clone(),
                    fitting,
                    is_clear_outside: free != Free::Blocked,
                    keeps_margin: free == Free::Kept,
                });
            }
            None => proposal.without.push((
                exit.name.clone(),
                format!(
                    "no wall has {} free inside for a gland {}: keep a bay",
                    caliper(gland.across, units),
                    gland.name
                ),
            )),
        }
    }
    let outside = taken.iter().filter_map(|(_, spaces)| spaces.outside).collect();
    Some((proposal, outside))
}

/// Along the axes from one place to another.
fn away(from: &Point, to: &Point) -> Length {
    Axis::ALL.into_iter().map(|axis| (from[axis] - to[axis]).abs()).sum()
}

/// What rivets take up inside and outside, in the frame of the space inside the steel.
fn rivets(spec: &BoxSpec, made: &Built) -> [Vec<Block>; 2] {
    let (beyond, inside): (Vec<Block>, Vec<Block>) = made
        .rivet_ends(spec)
        .into_iter()
        .map(|(_, [out, inside])| (out, inside))
        .unzip();
    [
        inside.into_iter().chain(made.fixing_ends.iter().copied()).collect(),
        beyond,
    ]
}

/// How free a place is outside; the best comes first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Free {
    /// With the margin.
    Kept,
    /// Without it.
    Bare,
    /// Something is in the way.
    Blocked,
}

/// A box with what stands in it and round it, in the cavity's frame.
struct Site<'a> {
    job: &'a Job,
    spec: BoxSpec,
    result: &'a BoxResult,
    steel: Cuboid,
    liner: Cuboid,
    coated: Cuboid,
    holes: Vec<WallHole>,
    inside: Vec<Cuboid>,
    /// What is the box's own outside.
    outside: Vec<Cuboid>,
    /// Other boxes with what is let into them, and keep-outs, each with the margin to it.
    others: Vec<(Cuboid, Length)>,
    /// The cavity, and the margin to its walls.
    space: Option<Cuboid>,
    margin: Length,
    /// How far the flange or skirt and what hangs below it reach down from the top of the body.
    rim: Length,
    /// What stands out round the outside, which no gland is let in behind.
    rims: Vec<Rim>,
    bend: Length,
}

impl<'a> Site<'a> {
    /// `before`: what glands of boxes before it take in this cavity. `None` of a box that cannot be built.
    fn of(
        job: &'a Job,
        evaluation: &Evaluation,
        (build, trust): (&Build, &Trust),
        result: &'a BoxResult,
        before: &[Cuboid],
    ) -> Option<Self> {
        let made = result.built.as_ref()?;
        let liner = result.inside?;
        let steel = liner.grown(allowances(build, trust).liner)?;
        let coated = *result.solids.first()?;
        let cavity = evaluation.cavity(result.cavity)?;
        let modules = result.modules.iter();
        let mut inside: Vec<Cuboid> = modules
            .flat_map(|m| std::iter::once(m.cuboid).chain(m.service.iter().copied()))
            .collect();
        let from = steel.lo();
        let blocks = made
            .added
            .iter()
            .map(|piece| piece.block)
            .chain(made.nuts.iter().copied());
        inside.extend(blocks.map(|block| Cuboid::between(from + Point(block.lo), from + Point(block.hi))));
        let own_spec = BoxSpec {
            step: result.step,
            ..spec(build, steel.size().0)
        };
        let here = |block: Block| Cuboid::between(from + Point(block.lo), from + Point(block.hi));
        let [within, beyond] = rivets(&own_spec, made);
        inside.extend(within.into_iter().map(here));
        inside.extend(result.fittings.iter().filter_map(|f| f.inside));
        let others = evaluation
            .boxes
            .iter()
            .filter(|b| b.cavity == result.cavity && b.id != result.id);
        let of_boxes = others.flat_map(|b| b.solids.iter().chain(&b.added.brackets));
        let mut others: Vec<(Cuboid, Length)> = of_boxes.chain(before).map(|solid| (*solid, trust.margin)).collect();
        let counted = cavity.keep_outs.iter().filter(|k| k.counts);
        others.extend(counted.map(|k| (k.sure, k.margin)));
        let mut outside: Vec<Cuboid> = result.added.brackets.clone();
        outside.extend(result.fittings.iter().filter_map(|f| f.outside));
        outside.extend(beyond.into_iter().map(here));
        let bands = made.rims.iter().filter(|band| !band.above_top.is_negative());
        Some(Self {
            job,
            spec: own_spec,
            result,
            steel,
            liner,
            coated,
            holes: made.wall_holes.clone(),
            inside,
            outside,
            others,
            space: cavity.usable,
            margin: trust.margin,
            rims: solid_rims(made, trust.coating),
            rim: bands.map(|band| band.below_top).max().unwrap_or(Length::ZERO),
            bend: Length::from_mm(job.electrics.figures.sure(Figure::BendTimes)),
        })
    }

    /// The best place for a gland, what it takes there, and how free it is outside.
    fn place(
        &self,
        exit: &CableExit,
        gland: &Gland,
        taken: &[(WallFitting, Spaces)],
    ) -> Option<(WallFitting, Spaces, Free)> {
        let units = self.job.units.units();
        let bend = Length::from_mm_up(self.bend.as_mm() * exit.outside.as_mm());
        let mut best: Option<((Free, Length), WallFitting, Spaces)> = None;
        let walls = [Face::Front, Face::Rear, Face::Left, Face::Right].into_iter();
        let rooms = walls.flat_map(|wall| {
            let rooms = self.spec.hole_rooms(wall_of(wall), gland.across);
            rooms.into_iter().map(move |room| (wall, room))
        });
        for (wall, [along, up]) in rooms {
            for along in steps(along) {
                for up in steps(up) {
                    let fitting = WallFitting {
                        id: Id(0),
                        what: FittingName::Gland,
                        wall: WallName::of(wall),
                        along: Len::exactly(along, units),
                        up: Len::exactly(up, units),
                        hole: Some(Len::exactly(gland.hole, units)),
                        across: Some(Len::exactly(gland.across, units)),
                        out: Some(Len::exactly(gland.out + bend, units)),
                        inward: Some(Len::exactly(gland.inward, units)),
                    };
                    let cost = self.way(exit, wall, along, up);
                    let is_better = |free: Free| best.as_ref().is_none_or(|(key, ..)| (free, cost) < *key);
                    if !is_better(Free::Kept) {
                        continue;
                    }
                    let spaces = spaces(&fitting, wall, &self.steel, &self.liner, &self.coated);
                    if !self.is_free_inside(&fitting, &spaces, taken) {
                        continue;
                    }
                    let free = self.free_outside(&spaces, taken);
                    if is_better(free) {
                        best = Some(((free, cost), fitting, spaces));
                    }
                }
            }
        }
        best.map(|((free, _), fitting, spaces)| (fitting, spaces, free))
    }

    /// The way of the cable along the axes: to the gland, and on to where it goes.
    fn way(&self, exit: &CableExit, wall: Face, along: Length, up: Length) -> Length {
        let other = if wall.axis() == Axis::X { Axis::Y } else { Axis::X };
        let mut at = self.steel.lo();
        at[other] += along;
        at[Axis::Z] += up;
        at[wall.axis()] = self.steel.face(wall);
        away(&exit.from, &at) + exit.towards.map_or(Length::ZERO, |towards| away(&at, &towards))
    }

    fn is_free_inside(&self, fitting: &WallFitting, spaces: &Spaces, taken: &[(WallFitting, Spaces)]) -> bool {
        let hole = WallHole {
            wall: wall_named(fitting.wall),
            along: fitting.along.value(),
            up: fitting.up.value(),
            // The bodies have to stand side by side, so they are what may not meet.
            diameter: fitting.sizes().across,
            purpose: Purpose::CableGland,
        };
        let own = spaces.inside;
        let (floor, top) = (self.steel.lo()[Axis::Z], self.coated_top());
        let wall = fitting.wall.face().unwrap_or(Face::Front);
        let behind_band = band_met(fitting, wall, floor, top, &self.rims).is_some();
        let blocked = |solid: &Cuboid| own.is_some_and(|own| own.overlaps(solid));
        !behind_band
            && self.spec.check_hole(&hole, &self.holes).is_ok()
            && !self.inside.iter().any(blocked)
            && !taken
                .iter()
                .any(|(_, other)| other.inside.as_ref().is_some_and(blocked))
            && !taken.iter().any(|(_, other)| meet(spaces.outside, other.outside))
    }

    fn coated_top(&self) -> Length {
        self.result.coated.unwrap_or(self.coated).hi()[Axis::Z]
    }

    /// How free a place is outside. What is the box's own needs no margin.
    fn free_outside(&self, spaces: &Spaces, taken: &[(WallFitting, Spaces)]) -> Free {
        let Some(own) = spaces.outside else {
            return Free::Kept;
        };
        let below_rim = self
            .result
            .body
            .is_none_or(|body| own.hi()[Axis::Z] <= body.hi()[Axis::Z] - self.rim);
        let is_bare = below_rim
            && self.space.is_none_or(|space| space.contains(&own))
            && !self.outside.iter().any(|solid| own.overlaps(solid))
            && !self.others.iter().any(|(solid, _)| own.overlaps(solid))
            && !taken.iter().any(|(_, other)| meet(Some(own), other.outside));
        if !is_bare {
            return Free::Blocked;
        }
        let with = |margin: Length| own.grown(Faces([margin; 6])).unwrap_or(own);
        let is_kept = self.space.is_none_or(|space| space.contains(&with(self.margin)))
            && !self.others.iter().any(|(solid, margin)| with(*margin).overlaps(solid));
        if is_kept { Free::Kept } else { Free::Bare }
    }
}

fn meet(one: Option<Cuboid>, other: Option<Cuboid>) -> bool {
    one.zip(other).is_some_and(|(one, other)| one.overlaps(&other))
}

/// Places from end to end of a range, both ends with them.
fn steps([from, to]: [Length; 2]) -> impl Iterator<Item = Length> + Clone {
    let step = Length::mm(STEP);
    let count = (to - from).nm() / step.nm();
    (0..=count)
        .map(move |n| from + step * n)
        .chain((from + step * count < to).then_some(to))
}
