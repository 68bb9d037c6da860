//! Everything that follows from a job: pure, complete, and fast enough for every key press.

mod added;
mod assumptions;
pub(crate) mod bolt;
mod boxes;
mod cavity;
mod centre;
mod chance;
mod cut;
pub(crate) mod electric;
mod exits;
mod findings;
mod fitting;
mod keep_outs;
mod kind;
mod ledger;
mod neighbours;
mod pack;
mod reach;
pub(crate) mod rivets;
mod road;
mod room;
mod sheets;
mod step;
mod strength;
mod strings;
mod survey;
mod tools;
mod unused;
mod vehicle;
mod welds;

use ::pack::CellVolts;
use ::pack::arrangement::Arrangement;
use enclosure::cutlist::{Rounded, Rounding};
use tape::{Length, Units};

pub(crate) use added::under::HEIGHT_SOURCE;
pub use added::{
    AddedResult, BracketLeg, BracketMount, BracketSeat, Clash, EyePlateResult, FloorRailsResult, FrameHole, HeldDown,
    LegFrom, LidResult, LinerResult, Lower, RailSays, RivetsMet,
};
pub(crate) use added::{DRAWN_UP, is_seat, least_leg_on_sale, lining, longest_leg_on_sale, marks, told_leg};
pub(crate) use boxes::{Allowances, allowances, rims, solid_rims, spec, wall_name};
pub use exits::CableExit;
pub(crate) use exits::leaves;
pub(crate) use fitting::{Spaces, band_met, spaces, thread as earth_thread, wall_named, wall_of};
pub use tools::{At as ToolAt, NoRoom};

pub use boxes::{BoxMass, BoxResult, Losses, ModuleResult, Roomiest};
pub use cavity::{CavityResult, Dimension};
pub use centre::{Above, CentreHeight};
pub use chance::{Cause, FitChance, NOT_IN_CHANCE, Room, Share, give_or_take, percent};
pub use cut::Cut;
pub use electric::{
    BarLength, Charging, Check, Cruise, CurvePoint, Disconnect, Electric, End, Energy, Fitting, FittingStep, Group,
    JoinLimit, LinkKind, LinkResult, Load, LoadRow, Loaded, Matched, Neighbour, OrderFrom, Rated, Resistances,
    SeatResult, Tap, UnitResult, Verdict, Warmth, Window, WiringResult, figures_in_words,
};
pub use fitting::FittingResult;
pub use keep_outs::{KeepOutResult, Unplaced};
pub use kind::KindResult;
pub use ledger::{Ledger, LedgerEntry};
pub use neighbours::{ClearanceResult, Near, SixClearances};
pub use pack::{PackResult, Unknown};
pub use reach::LidReach;
pub use road::{
    Apart, ChargeRow, Circuit, DriveRow, Driven, Drives, Entry, GearRow, Gears, Isolation, Missing, OpenVolts,
    OverPower, PanelReach, PanelRoom, Pull, Ranges, RoadResult, RoadTable, SpeedRow, Step, Sun, SunMonth, SunSeason,
    UsableShare, distance_words, grade_words, per_distance_words, speed_words,
};
pub use sheets::SheetResult;
pub use strength::{BoxStrength, Lift, StrengthCheck, Sum, Trapped, known_words};
pub use strings::{Crossing, InBox};
pub(crate) use survey::observe;
pub use survey::{Next, OutOfSquare, ReadingResult, Standing, StatementResult, Survey, Surveyed, Suspect, Used, Why};
pub use unused::Unused;
pub use vehicle::{
    Aboard, AxleRow, Axles, BedAtStop, BedTail, BoxLift, BoxMove, Corner as RampCorner, Counted, FrontShare,
    GroundFigures, GroundResult, GroundRow, Half, HeightConflict, HoistRoom, Load as TruckLoad, Low, LowestBox, Of,
    OffBy, Outline, Reweighed, SideBox, Stated, Sunk, TruckFact, TruckResult, Uncounted, box_kg_words, box_words,
    degrees_words, hands_limits, kg_words, left_words, lift_limit_words, lift_words, mass_words,
};
pub use welds::CornerMet;

use crate::changes::{Since, since_issue};
use crate::document::FractionName;
use crate::finding::{Assumption, Finding, Grave, Touches};
use crate::way_in::{self, BedSweep};
use crate::{Id, Job, assumed};

/// All derived figures of a job. Never stored, never edited.
#[derive(Clone, Debug, PartialEq)]
pub struct Evaluation {
    /// What the person calls the job.
    pub name: String,
    /// The truck.
    pub truck: String,
    /// Revision letter.
    pub revision: String,
    /// What stands on every drawn sheet.
    pub sheet: SheetResult,
    /// The units the person works in.
    pub units: Units,
    /// Fractions of an inch on the cut list.
    pub fraction: FractionName,
    /// The margin asked for.
    pub margin: Length,
    /// The gap asked for.
    pub gap: Length,
    /// Standard uncertainties taken off.
    pub sigmas: f64,
    /// Torque of the modules' terminals as entered, newton metres.
    pub torque_nm: Option<f64>,
    /// Thread of the modules' terminals, millimetres.
    pub stud_mm: f64,
    /// The cavities, in the job's order.
    pub cavities: Vec<CavityResult>,
    /// The kinds, in the job's order.
    pub kinds: Vec<KindResult>,
    /// The boxes, in the job's order.
    pub boxes: Vec<BoxResult>,
    /// A pack for each kind that is on hand or placed; the one with the most modules placed first.
    pub packs: Vec<PackResult>,
    /// The cables that leave boxes, by the order of the wiring.
    pub exits: Vec<CableExit>,
    /// The truck on the road.
    pub road: RoadResult,
    /// The big facts.
    pub headline: Headline,
    /// What the bed comes near to while it tilts, or what is missing for that; `None` where no such bed was entered.
    pub bed_sweep: Option<Result<BedSweep, String>>,
    /// What to cut.
    pub cut: Cut,
    /// What the boxes do to the truck.
    pub vehicle: TruckResult,
    /// What was entered of how boxes are built, and is not used as they are built now.
    pub unused: Vec<Unused>,
    /// How the lengths of bends are worked out, as printed on a drawing; `None` when nothing is folded.
    pub bend_rule: Option<String>,
    /// What the shop was given last, and what changed since; `None` when nothing was issued.
    pub issued: Option<Since>,
    /// What the program has to say, gravest first.
    pub findings: Vec<Finding>,
    /// What nobody entered.
    pub assumptions: Vec<Assumption>,
}

/// The big facts that always stand in the title block.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Headline {
    /// Modules placed.
    pub placed: u32,
    /// Series and parallel of the pack as laid out.
    pub arrangement: Option<Arrangement>,
    /// Volts of the pack as laid out, empty, nominal and full.
    pub volts: Option<CellVolts>,
    /// Nominal energy of the strings as laid out, without the modules that are missing from the first, kWh.
    pub energy_kwh: Option<f64>,
    /// Mass of boxes and modules, in grams.
    pub mass_g: Option<i64>,
    /// The tightest clearance of any box.
    pub tightest: Option<Tightest>,
    /// The heaviest box with what is in it.
    pub heaviest: Option<Heaviest>,
    /// How high the modules' common centre of mass is.
    pub centre: Option<CentreHeight>,
    /// Whole strings that cannot stand in one box each, at least.
    pub crossing: u32,
    /// Stops among the findings.
    pub stops: usize,
    /// Cautions among the findings.
    pub cautions: usize,
    /// Which of these figures rest on assumed values.
    pub assumed: Touches,
}

/// The smallest clearance between a box and anything in its cavity.
#[derive(Clone, Debug, PartialEq)]
pub struct Tightest {
    /// The box.
    pub battery_box: Id,
    /// Its name.
    pub name: String,
    /// The clearance.
    pub clearance: ClearanceResult,
    /// How far off it may be, 19 times in 20 with two sigma: as many of its sigma as are held back.
    pub give_or_take: Length,
    /// The chance that the box goes in along that axis, once built; it may be slid to the middle.
    pub fits: Option<f64>,
}

impl Tightest {
    /// As `5/16" +-1/16", 97 % fits`.
    pub fn text(&self, style: tape::show::Style) -> String {
        let fits = self
            .fits
            .map_or(String::new(), |chance| format!(", {} fits", percent(chance)));
        format!(
            "{} +-{}{fits}",
            style.down(self.clearance.distance),
            give_or_take(style, self.give_or_take)
        )
    }
}

/// The heaviest box.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Heaviest {
    /// The box.
    pub battery_box: Id,
    /// Its name.
    pub name: String,
    /// Box and modules, in grams.
    pub mass_g: i64,
}

/// Derives every figure from `job`.
pub fn evaluate(job: &Job) -> Evaluation {
    evaluate_after(job, None)
}

/// Derives every figure from `job`, taking over from the job before it and its evaluation what rests on nothing that
/// changed: the survey of a cavity does not change when a module moves. The outcome is that of [`evaluate`].
pub fn evaluate_after(job: &Job, before: Option<(&Job, &Evaluation)>) -> Evaluation {
    let trust = assumed::trust(&job.settings, job.units);
    let build = assumed::build(&job.design);
    let before = before.filter(|(was, _)| cavity::same_trust(was, job));
    let mut cavities: Vec<CavityResult> = job
        .cavities
        .iter()
        .map(|c| {
            let was = before.and_then(|(was, evaluation)| Some((was.cavity(c.id)?, evaluation.cavity(c.id)?)));
            cavity::evaluate(c, job, &trust, was)
        })
        .collect();
    let kinds: Vec<KindResult> = job.kinds.iter().map(|k| kind::evaluate(k, job)).collect();
    let asked = rivets::from_the_load(job, &trust, &build, &kinds);
    let build = match asked {
        Some(pitch) => build.riveted_at(pitch),
        None => build,
    };
    let boxes = boxes::evaluate(job, &trust, &build, &cavities, &kinds);
    for (cavity, result) in job.cavities.iter().zip(&mut cavities) {
        result.next = survey::next(cavity, result, &boxes);
    }
    let packs = pack::evaluate(job, &kinds, &boxes);
    let exits = exits::of(job, &packs);
    let cut = cut::evaluate(&boxes, trust.fraction);
    let mut assumptions = assumptions::list(job, asked);
    let assumed = rests_on(&assumptions);
    let vehicle = vehicle::evaluate(job, &boxes, &kinds, assumed);
    let road = road::evaluate(job, &packs, road::weighed(&vehicle, assumed.mass));
    if road.is_asked {
        assumptions.extend(assumptions::of_road(job));
    }
    let mut evaluation = Evaluation {
        name: job.name.clone(),
        truck: job.truck.clone(),
        revision: job.revision.clone(),
        sheet: sheets::evaluate(job),
        units: job.units.units(),
        fraction: trust.fraction,
        margin: trust.margin,
        gap: trust.gap,
        sigmas: trust.sigmas,
        torque_nm: job.electrics.figures.get(crate::Figure::Torque),
        stud_mm: job.electrics.figures.sure(crate::Figure::Stud),
        cavities,
        kinds,
        bed_sweep: way_in::bed_sweep(job, &boxes),
        boxes,
        packs,
        exits,
        road,
        headline: Headline::default(),
        cut,
        vehicle,
        unused: unused::list(job, &build),
        bend_rule: build.bend_rule_words(),
        issued: None,
        findings: Vec::new(),
        assumptions,
    };
    evaluation.issued = since_issue(job, &evaluation);
    evaluation.findings = findings::list(job, &trust, &build, &evaluation);
    evaluation.headline = headline(job, &evaluation, assumed);
    evaluation
}

fn headline(job: &Job, evaluation: &Evaluation, assumed: Touches) -> Headline {
    let pack = evaluation.laid_out().next();
    let [stops, cautions] = evaluation.counted();
    let tightest = evaluation
        .boxes
        .iter()
        .filter_map(|b| Some((b, b.around.as_ref()?.tightest())))
        .min_by_key(|(_, clearance)| clearance.sure())
        .map(|(b, clearance)| Tightest {
            battery_box: b.id,
            name: b.name.clone(),
            clearance: clearance.clone(),
            give_or_take: Length::from_mm_up(clearance.sigma.as_mm() * evaluation.sigmas),
            // Slid to the middle it may well go in; beside a place that overlaps that chance reads as of this place.
            fits: (b.fit.outside.get(clearance.face.axis().index()))
                .filter(|_| !clearance.distance.is_negative())
                .map(|room| room.fits),
        });
    let loaded = evaluation.boxes.iter().filter(|b| b.built.is_some());
    let heaviest = loaded
        .max_by_key(|b| (b.mass.total_g(), std::cmp::Reverse(b.id)))
        .map(|b| Heaviest {
            battery_box: b.id,
            name: b.name.clone(),
            mass_g: b.mass.total_g(),
        });
    Headline {
        placed: evaluation.kinds.iter().map(|k| k.placed).sum(),
        arrangement: pack.and_then(|p| p.arrangement),
        volts: pack.and_then(|p| p.figures.as_ref()).map(|f| f.volts),
        energy_kwh: pack.and_then(PackResult::placed_kwh),
        mass_g: (!evaluation.boxes.is_empty()).then(|| evaluation.boxes.iter().map(|b| b.mass.total_g()).sum()),
        tightest,
        heaviest,
        centre: centre::of(job, evaluation),
        crossing: evaluation
            .packs
            .iter()
            .filter_map(|p| p.crossing.as_ref())
            .map(|c| c.strings)
            .sum(),
        stops,
        cautions,
        assumed,
    }
}

/// Which figures rest on assumed values.
fn rests_on(assumptions: &[Assumption]) -> Touches {
    let mut assumed = Touches::default();
    for touches in assumptions.iter().map(|a| a.touches) {
        assumed.volts |= touches.volts;
        assumed.energy |= touches.energy;
        assumed.mass |= touches.mass;
        assumed.clearance |= touches.clearance;
        assumed.cut |= touches.cut;
    }
    assumed
}

impl Evaluation {
    /// The packs of which modules are placed.
    pub fn laid_out(&self) -> impl Iterator<Item = &PackResult> {
        self.packs.iter().filter(|p| p.placed > 0)
    }

    /// The packs that are laid out, with their electrics.
    pub fn electrics(&self) -> impl Iterator<Item = (&PackResult, &Electric)> {
        self.laid_out().filter_map(|pack| Some((pack, pack.electric.as_ref()?)))
    }

    /// The result for a cavity.
    pub fn cavity(&self, id: Id) -> Option<&CavityResult> {
        self.cavities.iter().find(|c| c.id == id)
    }

    /// The result for a kind.
    pub fn kind(&self, id: Id) -> Option<&KindResult> {
        self.kinds.iter().find(|k| k.id == id)
    }

    /// The result for a box.
    pub fn battery_box(&self, id: Id) -> Option<&BoxResult> {
        self.boxes.iter().find(|b| b.id == id)
    }

    /// The result for a placed module or stack, and its box.
    pub fn module(&self, id: Id) -> Option<(&BoxResult, &ModuleResult)> {
        self.boxes
            .iter()
            .find_map(|b| b.modules.iter().find(|m| m.id == id).map(|m| (b, m)))
    }

    /// The cables that leave a box.
    pub fn exits_of(&self, id: Id) -> impl Iterator<Item = &CableExit> {
        self.exits.iter().filter(move |exit| exit.battery_box == id)
    }

    /// The glands let into a box that seal on the cables which leave it.
    pub fn glands_of<'a>(&self, battery_box: &'a BoxResult) -> impl Iterator<Item = &'a FittingResult> + use<'a> {
        let outside = self.exits_of(battery_box.id).next().map(|exit| exit.outside);
        let serves = move |hole| outside.is_some_and(|outside| enclosure::seal::gland::serves(hole, outside));
        let glands = battery_box.fittings.iter();
        glands.filter(move |f| f.what == crate::FittingName::Gland && f.fault.is_none() && serves(f.hole))
    }

    /// Adds what a task found, gravest first, and counts it.
    #[must_use]
    pub fn with_findings(mut self, more: Vec<Finding>) -> Self {
        self.findings.extend(more);
        self.findings.sort_by_key(|f| f.grave);
        [self.headline.stops, self.headline.cautions] = self.counted();
        self
    }

    /// How many of the findings are stops, and how many cautions.
    fn counted(&self) -> [usize; 2] {
        [Grave::Stop, Grave::Caution].map(|grave| self.findings.iter().filter(|f| f.grave == grave).count())
    }

    /// Whether every box keeps its margins to walls, keep-outs and other boxes for sure, and every module its gaps and its
    /// room in the box: what is short is told by the findings.
    pub fn keeps_room(&self) -> bool {
        !room::is_short(self)
    }

    /// Whether any finding is a stop.
    pub fn has_stop(&self) -> bool {
        self.headline.stops > 0
    }

    /// Length, width and height of a cavity's usable cuboid, as `50 3/4" x 16 5/8" x 11 11/16"`.
    pub fn usable_text(&self, cavity: &CavityResult) -> Option<String> {
        let size = cavity.usable?.size().0;
        Some(size.map(|length| self.down(length)).join(" x "))
    }

    /// Where a box would have the most room between the walls of its surveyed cavity, in words.
    pub fn roomiest_text(&self, found: &Roomiest) -> String {
        let nothing = self.near(Length::ZERO);
        let steps: Vec<String> = geometry::Axis::ALL
            .into_iter()
            .map(|axis| (self.near(found.away[axis].abs()), axis))
            .filter(|(step, _)| *step != nothing)
            .map(|(step, axis)| {
                let face = if found.away[axis].is_negative() {
                    geometry::Face::low(axis)
                } else {
                    geometry::Face::high(axis)
                };
                format!("{step} {}", face.towards())
            })
            .collect();
        let gain = self.down(found.room - found.now);
        if steps.is_empty() || found.room <= found.now || gain == nothing {
            return "the walls leave its tightest side no more room anywhere".to_owned();
        }
        format!(
            "between the walls alone, {}, its tightest side would have {gain} more for sure",
            steps.join(", ")
        )
    }

    /// A gap or a space, rounded down, in the person's units.
    pub fn down(&self, length: Length) -> String {
        self.style().down(length)
    }

    /// An opening or a needed size, rounded up, in the person's units.
    pub fn up(&self, length: Length) -> String {
        self.style().up(length)
    }

    /// A size, rounded to nearest, in the person's units.
    pub fn near(&self, length: Length) -> String {
        self.style().near(length)
    }

    /// A size on the cut list, in inches whatever the person's units.
    pub fn near_inches(&self, length: Length) -> String {
        tape::show::inches(length, self.style().fraction, tape::show::Rounding::Nearest)
    }

    /// A size of the cut list in inches: to the mark; what is bought in its size, exact: `1.969"`.
    pub fn cut_inches(&self, size: Rounded) -> String {
        let step = self.cut.list.fineness.step().nm();
        if size.direction == Rounding::AsBought && size.exact.nm() % step != 0 {
            let inches = format!("{:.3}", size.exact.as_mm() / 25.4);
            return format!("{}\"", inches.trim_end_matches('0').trim_end_matches('.'));
        }
        self.near_inches(size.inches)
    }

    /// A size of the cut list in millimetres, without the unit: to 0.1; what is bought in its size, to 0.01 where it is no
    /// whole tenth.
    pub fn cut_mm(size: Rounded) -> String {
        let is_whole = size.exact.nm() % Length::tenths_mm(1).nm() == 0;
        let places = if size.direction == Rounding::AsBought && !is_whole {
            2
        } else {
            1
        };
        tape::show::millimetres_bare(size.tenth_mm, places, tape::show::Rounding::Nearest)
    }

    /// A size of the cut list in the person's units.
    pub fn cut_size(&self, size: Rounded) -> String {
        match self.units {
            Units::Inch => self.cut_inches(size),
            Units::Millimetre => format!("{} mm", Self::cut_mm(size)),
        }
    }

    /// How lengths are printed.
    pub const fn style(&self) -> tape::show::Style {
        style(self.units, self.fraction)
    }
}

pub(crate) const fn style(units: Units, fraction: FractionName) -> tape::show::Style {
    let fraction = match fraction {
        FractionName::Sixteenth => tape::show::Fraction::Sixteenth,
        FractionName::ThirtySecond => tape::show::Fraction::ThirtySecond,
    };
    tape::show::Style { units, fraction }
}
