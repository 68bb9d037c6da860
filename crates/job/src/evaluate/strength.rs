//! First-order sums of a box: its floor, the bolts that hold it, its gasket, its folds, and the sling it hangs from.
//!
//! A few microseconds for a box: nothing here is summed twice.

mod trapped;

use enclosure::added::Reach;
use enclosure::seal::{PITCH_KNOWN_BY, SOFT_GASKET_FACTOR, squeeze, widest_pitch};
use enclosure::strength::beam::{Leg, Root};
use enclosure::strength::bolt::grade::Grade;
use enclosure::strength::bolt::mount::{Mount, Pull};
use enclosure::strength::bolt::{BOLTS, Bolt, Pitch};
use enclosure::strength::crash::{Direction, Factor, harshest};
use enclosure::strength::lift::{Sling, leg_n};
use enclosure::strength::plate::{Edges, Panel};
use enclosure::strength::{Limit, Utilisation, force_n};
use enclosure::{Construction, Gasket, KnownBy, Sheet, bend_limits};
use tape::Length;

pub use trapped::Trapped;

use super::added::BracketMount;
use super::boxes::BoxResult;
use crate::assumed::{Build, Limits};
use crate::document::{Closing, Figures};
use crate::finding::Grave;
use crate::{Figure, Job};

/// How a figure is known, in words that go beside it.
pub const fn known_words(known: KnownBy) -> &'static str {
    match known {
        KnownBy::Found => "read in a published table",
        KnownBy::Computed => "worked out from a stated rule",
        KnownBy::Memory => "from memory, not read: check it",
    }
}

/// What a sum is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sum {
    /// Stress of the floor, the truck standing.
    FloorStress,
    /// How far the floor gives, the truck standing, against what the formula holds to.
    FloorGives,
    /// Stress of the floor, pressed down on.
    FloorPressed,
    /// The bolts, pulled that way.
    Bolts(Direction),
    /// The gasket squeezed least: as drawn.
    GasketLeast,
    /// The gasket squeezed most: as drawn.
    GasketMost,
    /// The gasket where the rim is lowest.
    GasketAtLow,
    /// The gasket where the rim is highest.
    GasketAtHigh,
    /// Pitch of the lid screws.
    ScrewPitch,
    /// A folded wall, lip or skirt against the die.
    Fold,
    /// The leg of the brackets that is bent, pulled that way.
    Brackets(Direction),
    /// How far the stiffened lid gives under the load on it.
    LidGives,
    /// What holds the lid, pushed up by trapped air.
    LidHeld,
    /// Stress of the lid, pushed up by trapped air.
    LidPushed,
    /// How far the lid bulges under trapped air, against what the formula holds to.
    LidBulges,
}

impl Sum {
    /// Whether it is of what carries the box or its modules.
    const fn carries(self) -> bool {
        matches!(
            self,
            Self::FloorStress | Self::FloorPressed | Self::Bolts(_) | Self::Brackets(_)
        )
    }

    /// How grave it is when the load is over the limit.
    pub const fn grave(self) -> Grave {
        match self {
            // A formula that overstates, a starting point by memory, a lid taken to stay flat: worth knowing.
            Self::FloorGives
            | Self::ScrewPitch
            | Self::GasketAtLow
            | Self::GasketAtHigh
            // That there is no breather is a caution of its own; these say what comes of it.
            | Self::LidHeld
            | Self::LidPushed
            | Self::LidBulges => Grave::Note,
            _ => Grave::Caution,
        }
    }
}

/// A load against its limit, and what goes with it.
#[derive(Clone, Debug, PartialEq)]
pub struct StrengthCheck {
    /// What it is about.
    pub sum: Sum,
    /// Load, limit, share, formula, source.
    pub of: Utilisation,
    /// The load factor that the load rests on, where one does.
    pub factor: Option<Factor>,
    /// What the rule asks for and what there is, or what the sum takes for granted; empty when there is no more to say.
    pub says: String,
    /// What would bring the load within the limit; empty while it is.
    pub fix: String,
}

impl StrengthCheck {
    /// How grave it is, when it is over its limit.
    pub fn over(&self) -> Option<Grave> {
        (!self.of.within()).then(|| self.grave())
    }

    /// A load factor that nobody has read is offered, never told as a rule: a note, until the person enters one.
    fn grave(&self) -> Grave {
        match self.factor {
            Some(factor) if factor.source != OWN && factor.known == KnownBy::Memory => Grave::Note,
            _ => self.sum.grave(),
        }
    }

    /// The load as `5.74 kN`.
    pub fn load_text(&self) -> String {
        figure_text(self.of.load, self.of.unit)
    }

    /// The limit as `22.27 kN`.
    pub fn limit_text(&self) -> String {
        figure_text(self.of.limit, self.of.unit)
    }

    /// The share as `26 %`; rounded up, so that 100 % is not over.
    pub fn share_text(&self) -> String {
        share_text(self.of.share)
    }

    /// Formula, source, and how it is known; the load factor's source and how that is known behind.
    pub fn source_text(&self) -> String {
        let mut text = format!(
            "{}; {} ({})",
            self.of.formula,
            self.of.source,
            known_words(self.of.known)
        );
        if let Some(factor) = self.factor {
            text.push_str("; ");
            text.push_str(&factor_text(factor));
        }
        text
    }
}

/// A load factor with its source, as `20 g: ...`.
fn factor_text(factor: Factor) -> String {
    if factor.source == OWN {
        return format!("load factor {} g, your own figure", factor.g);
    }
    format!(
        "load factor {} g: {} ({})",
        factor.g,
        factor.source,
        known_words(factor.known)
    )
}

fn share_text(share: f64) -> String {
    if share.is_finite() && share < 99.99 {
        format!("{:.0} %", (share * 100.0 - 1e-9).ceil().max(0.0))
    } else {
        "none left".to_owned()
    }
}

/// A figure with its unit: newtons as kilonewtons.
fn figure_text(value: f64, unit: &str) -> String {
    match unit {
        _ if !value.is_finite() => "none".to_owned(),
        "N" => format!("{:.2} kN", value / 1000.0),
        "mm" => format!("{value:.2} mm"),
        "%" => format!("{value:.0} %"),
        unit => format!("{value:.1} {unit}"),
    }
}

/// Lifting by a sling of four legs, of which two are taken as carrying.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lift {
    /// Of a leg from upright.
    pub angle_deg: f64,
    /// The force in a leg, newtons, at rest.
    pub leg_n: f64,
}

impl Lift {
    /// In one sentence.
    pub fn words(&self) -> String {
        format!(
            "lifted by a sling of four legs, {} degrees from upright, each of the two that carry pulls {:.2} kN at rest; \
             a jerk adds to it",
            self.angle_deg,
            self.leg_n / 1000.0
        )
    }
}

/// The sums of one box.
#[derive(Clone, Debug, PartialEq)]
pub struct BoxStrength {
    /// What it weighs loaded, kilograms.
    pub mass_kg: f64,
    /// The bolts that hold it, as `4 M10 of class 8.8`.
    pub bolts: String,
    /// The same as bought, each with how many: `M10 bolts of class 8.8`, hold-down bolts with them.
    pub fasteners: Vec<(String, u32)>,
    /// What was entered that is not on the list of sizes and classes, and what is taken for it; empty when all is.
    pub taken: String,
    /// What carries first, then what else would be a caution, then what would be a note; of each the largest share first.
    pub checks: Vec<StrengthCheck>,
    /// What trapped air would do; `None` for a box that is not tight.
    pub trapped: Option<Trapped>,
    /// The sling.
    pub lift: Option<Lift>,
}

impl BoxStrength {
    /// The sum that takes up most of its limit, of those of floor and bolts: what carries.
    pub fn governing(&self) -> Option<&StrengthCheck> {
        let carries = self.checks.iter().filter(|check| check.sum.carries());
        carries.max_by(|a, b| a.of.share.total_cmp(&b.of.share))
    }

    /// The check of a sum.
    pub fn check(&self, sum: Sum) -> Option<&StrengthCheck> {
        self.checks.iter().find(|check| check.sum == sum)
    }
}

pub(super) fn of(job: &Job, build: &Build, limits: &Limits, result: &BoxResult) -> Option<BoxStrength> {
    let made = result.built.as_ref()?;
    let figures = &job.electrics.figures;
    let mass_kg = crate::Grams(result.mass.total_g()).kg();
    let mount = result.added.mount;
    let held = Held::of(figures, mount);
    let mut checks = Vec::new();
    let inside = result.inside?.size();
    let steel = [inside.0[0], inside.0[1]].map(|side| side + build.liner * 2);
    floor(figures, build, result.mass.modules_g, steel, &mut checks);
    held.checks(figures, mass_kg, &mut checks);
    brackets(figures, build, mount, mass_kg, &mut checks);
    lid(result, &mut checks);
    let longer = made.shell[0].max(made.shell[1]);
    gasket(build, limits, longer, &mut checks);
    screws(build, &mut checks);
    let trapped = trapped::of(figures, build, result, made);
    if let Some(trapped) = &trapped {
        trapped::checks(build, made, trapped, &mut checks);
    }
    folds(build, made.shell[2], &mut checks);
    // Stable: of equal shares, the order they were summed in.
    checks.sort_by(|a, b| {
        let key = |check: &StrengthCheck| (check.grave(), !check.sum.carries());
        key(a).cmp(&key(b)).then(b.of.share.total_cmp(&a.of.share))
    });
    let angle_deg = figures.sure(Figure::LiftAngle);
    Some(BoxStrength {
        mass_kg,
        bolts: held.words(held.count),
        fasteners: held
            .bought()
            .into_iter()
            .chain(made.fasteners.iter().cloned())
            .collect(),
        taken: held.taken,
        checks,
        trapped,
        lift: leg_n(mass_kg, Sling::Four, angle_deg)
            .ok()
            .map(|leg_n| Lift { angle_deg, leg_n }),
    })
}

const OWN: &str = "the person's own figure";

/// The load factor of a direction: as entered, else the harshest of the sets.
fn factor(figures: &Figures, direction: Direction) -> Option<Factor> {
    let own = figures.get(match direction {
        Direction::Front => Figure::CrashFront,
        Direction::Rear => Figure::CrashRear,
        Direction::Side => Figure::CrashSide,
        Direction::Up => Figure::CrashUp,
        Direction::Down => Figure::CrashDown,
    });
    match own {
        Some(g) => Some(Factor {
            g,
            source: OWN,
            known: KnownBy::Memory,
        }),
        None => harshest().factor(direction),
    }
}

/// The bolts that hold a box.
struct Held {
    count: u32,
    down: Option<u32>,
    bolt: &'static Bolt,
    grade: Grade,
    /// How brackets reach out, when they are what the bolts hold.
    reach: Option<Reach>,
    taken: String,
}

/// The bolt of the list that is entered, or the next smaller one.
fn listed_bolt(figures: &Figures) -> &'static Bolt {
    let asked = figures.sure(Figure::MountBolt);
    let metric = BOLTS.iter().filter(|bolt| matches!(bolt.pitch, Pitch::Metric(_)));
    metric
        .take_while(|bolt| bolt.diameter.as_mm() <= asked)
        .last()
        .unwrap_or(&BOLTS[0])
}

/// Diameter of the mount bolts.
pub(super) fn bolt_of(figures: &Figures) -> Length {
    listed_bolt(figures).diameter
}

impl Held {
    fn of(figures: &Figures, mount: Option<BracketMount>) -> Self {
        let asked = figures.sure(Figure::MountBolt);
        let bolt = listed_bolt(figures);
        let class = figures.sure(Figure::MountGrade);
        let grade = if class >= 10.9 {
            Grade::Class10_9
        } else {
            Grade::Class8_8
        };
        let mut taken = Vec::new();
        if (bolt.diameter.as_mm() - asked).abs() > 1e-9 {
            taken.push(format!("no {asked} mm thread is on the list: {} is taken", bolt.name));
        }
        if grade.name() != class.to_string() {
            taken.push(format!("no class {class} is on the list: {} is taken", grade.name()));
        }
        Self {
            count: mount.map_or_else(
                || whole(figures.sure(Figure::MountBolts)),
                |mount| mount.brackets * mount.bolts_each,
            ),
            reach: mount.map(|mount| mount.reach),
            down: figures.get(Figure::HoldDownBolts).map(whole),
            bolt,
            grade,
            taken: taken.join("; "),
        }
    }

    fn bought(&self) -> Vec<(String, u32)> {
        let what = format!("mount bolts {} of class {}", self.bolt.name, self.grade.name());
        vec![(what, self.count + self.down.unwrap_or(0))]
    }

    fn words(&self, count: u32) -> String {
        format!("{count} {} of class {}", self.bolt.name, self.grade.name())
    }

    fn checks(&self, figures: &Figures, mass_kg: f64, checks: &mut Vec<StrengthCheck>) {
        // Bolts through a web carry the box's weight, too; others only hold it down on what carries it.
        let through_web = self.reach == Some(Reach::Web);
        let directions = [
            Direction::Front,
            Direction::Rear,
            Direction::Side,
            Direction::Up,
            Direction::Down,
        ];
        for direction in directions.into_iter().filter(|&d| through_web || d != Direction::Down) {
            let Some(factor) = factor(figures, direction) else {
                continue;
            };
            let (pull, count, which) = match (direction, self.down) {
                (Direction::Up, Some(count)) => (Pull::Tension, count, "hold-down bolts"),
                (Direction::Up, None) if !through_web => (Pull::Tension, self.count, "mount bolts"),
                // Through a web the bolts lie level, along the pull to the side.
                (Direction::Side, _) if through_web => (Pull::Tension, self.count, "mount bolts"),
                _ => (Pull::Shear, self.count, "mount bolts"),
            };
            let mount = Mount::of(count, self.bolt, self.grade);
            let what = format!("{which}, {}", direction.name());
            let of = mount.utilisation(&what, pull, mass_kg, factor.g);
            let shared = mount.share(pull, mass_kg, factor.g);
            let each = format!("{} of class {}", self.bolt.name, self.grade.name());
            let needs = shared.least_bolts.map_or_else(
                || format!("no number of {each} will do"),
                |least| format!("this rule needs {} {each}; yours has {count}", least.max(1)),
            );
            let fix = if of.within() {
                String::new()
            } else {
                format!("{needs}: put in more, thicker or of a higher class, or make the box lighter")
            };
            let says = format!(
                "{mass_kg:.1} kg pull like {} times their weight, {:.2} kN; {needs}",
                factor.g,
                shared.force_n / 1000.0
            );
            checks.push(StrengthCheck {
                sum: Sum::Bolts(direction),
                of,
                factor: Some(factor),
                says,
                fix,
            });
        }
    }
}

/// The leg of a bracket that the weight bends, pulled up and pressed down; every bracket bears an even share.
fn brackets(
    figures: &Figures,
    build: &Build,
    mount: Option<BracketMount>,
    mass_kg: f64,
    checks: &mut Vec<StrengthCheck>,
) {
    let Some(mount) = mount else { return };
    let leg = Leg {
        width: mount.length,
        thickness: mount.thickness,
        lever: mount.lever,
    };
    let root = match mount.reach {
        Reach::Web => Root::Welded,
        Reach::Foot => Root::Rolled,
    };
    for direction in [Direction::Up, Direction::Down] {
        let Some(factor) = factor(figures, direction) else {
            continue;
        };
        let each_n = force_n(mass_kg, factor.g) / f64::from(mount.brackets.max(1));
        let what = format!("brackets, bent {}", direction.name());
        let of = leg.utilisation(&what, each_n, build.material, root);
        let fix = if of.within() {
            ""
        } else {
            "put in more brackets, or longer, thicker or narrower ones"
        };
        checks.push(StrengthCheck {
            sum: Sum::Brackets(direction),
            fix: fix.to_owned(),
            says: format!(
                "{} brackets of {:.0} mm, {:.2} kN each at {:.1} mm from the root, which is {}",
                mount.brackets,
                mount.length.as_mm(),
                each_n / 1000.0,
                mount.lever.as_mm(),
                match root {
                    Root::Welded => "welded to the wall",
                    Root::Rolled => "the angle's own",
                }
            ),
            of,
            factor: Some(factor),
        });
    }
}

/// How far a stiffened lid gives in its widest field.
fn lid(result: &BoxResult, checks: &mut Vec<StrengthCheck>) {
    let Some(lid) = result.added.lid else { return };
    let by = Limit {
        value: lid.most.as_mm(),
        formula: "alpha q b^4 / (E t^3), each field resting on all sides, against what it may give",
        source: "plate theory; that a stiffener holds like an edge is taken for granted",
        known: KnownBy::Memory,
    };
    let of = Utilisation::of("lid, gives", lid.gives_mm, "mm", by);
    let fix = if of.within() {
        ""
    } else {
        "put in more stiffeners, or take a thicker lid"
    };
    checks.push(StrengthCheck {
        sum: Sum::LidGives,
        fix: fix.to_owned(),
        says: format!(
            "{} kg spread evenly over the lid, {} stiffener{} across it",
            lid.load_kg,
            lid.stiffeners,
            if lid.stiffeners == 1 { "" } else { "s" }
        ),
        of,
        factor: None,
    });
}

/// A count that was entered.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "within the ranges of the table, 1 to 64"
)]
pub(super) fn whole(count: f64) -> u32 {
    count.floor() as u32
}

/// A floor that rests on supports all round each span, under its own weight and that of the modules.
fn floor(figures: &Figures, build: &Build, modules_g: i64, steel: [Length; 2], checks: &mut Vec<StrengthCheck>) {
    let spans = whole(figures.sure(Figure::FloorSpans));
    let [long, short] = [steel[0].max(steel[1]), steel[0].min(steel[1])];
    let span = Length::from_nm(long.nm() / i64::from(spans.max(1)));
    let Ok(panel) = Panel::new([span, short], build.floor, Edges::Simple) else {
        return;
    };
    let sheet = Sheet {
        material: build.material,
        thickness: build.floor,
    };
    let mass_kg = crate::Grams(modules_g).kg() + sheet.grams(long * short) / 1000.0;
    let pressure = panel.pressure_mpa(mass_kg / f64::from(spans.max(1)), 1.0);
    let [stress, gives] = panel.utilisations("floor, standing", pressure, build.material);
    let spans_words = format!(
        "{mass_kg:.1} kg spread evenly over {spans} span{} of {:.0} x {:.0} mm that rest on all sides",
        if spans == 1 { "" } else { "s" },
        span.as_mm(),
        short.as_mm()
    );
    let overstated = !gives.within();
    let doubt = |over: bool| {
        if over {
            "; it gives more than half its thickness, so the formula overstates"
        } else {
            ""
        }
    };
    let rail = "put a rail under the floor (more spans), or take thicker sheet";
    let fix = |of: &Utilisation| if of.within() { "" } else { rail }.to_owned();
    if let Some(factor) = factor(figures, Direction::Down) {
        // Linear: pressed down on, everything is that many times as much.
        let limit = Limit {
            value: stress.limit,
            formula: stress.formula,
            source: stress.source,
            known: stress.known,
        };
        let pressed = Utilisation::of("floor, pressed down on, stress", stress.load * factor.g, "MPa", limit);
        checks.push(StrengthCheck {
            sum: Sum::FloorPressed,
            fix: fix(&pressed),
            says: format!(
                "{spans_words}, at {} times their weight{}",
                factor.g,
                doubt(gives.share * factor.g > 1.0)
            ),
            of: pressed,
            factor: Some(factor),
        });
    }
    for (sum, of) in [(Sum::FloorStress, stress), (Sum::FloorGives, gives)] {
        checks.push(StrengthCheck {
            sum,
            fix: fix(&of),
            says: format!("{spans_words}{}", doubt(overstated)),
            of,
            factor: None,
        });
    }
}

/// At least: the load is what is wanted, the limit what there is.
fn at_least(what: &str, wanted: f64, there_is: f64, unit: &'static str, by: Limit) -> Utilisation {
    Utilisation::of(what, wanted, unit, Limit { value: there_is, ..by })
}

/// The squeeze of the gasket as drawn and over the flatness of the rim's longer side.
fn gasket(build: &Build, limits: &Limits, longer: Length, checks: &mut Vec<StrengthCheck>) {
    let gasket = Gasket {
        free: build.gasket,
        squeezed: build.gasket_squeezed,
    };
    if gasket.free <= Length::ZERO {
        return;
    }
    let limit = |value: f64, formula| Limit {
        value: value * 100.0,
        formula,
        source: squeeze::LIMITS_SOURCE,
        known: squeeze::LIMITS_KNOWN_BY,
    };
    let flatness = limits.flatness.limits(longer);
    let range = squeeze::over(gasket, flatness);
    let drawn = squeeze::share(gasket);
    let least = |what, share: f64, formula| {
        let by = limit(squeeze::LEAST, formula);
        at_least(what, squeeze::LEAST * 100.0, share.max(0.0) * 100.0, "%", by)
    };
    let most = |what, share: f64, formula| Utilisation::of(what, share * 100.0, "%", limit(squeeze::MOST, formula));
    let uneven = format!(
        "rim out of flat by {:.1} mm from its lowest to its highest spot, under a lid that stays flat; a lid that \
         follows the rim does better",
        flatness.as_mm()
    );
    let told = format!("{} mm squeezed to {} mm", gasket.free.as_mm(), gasket.squeezed.as_mm());
    let flat = "least 10 % squeezed where the rim is lowest: (free - squeezed - flatness / 2) / free";
    let proud = "at most 50 % squeezed where the rim is highest: (free - squeezed + flatness / 2) / free";
    let thicker = format!(
        "ask for a flatter rim (its class is on the Boxes page), or take a gasket of {:.1} mm or more",
        (squeeze::least_free(flatness).as_mm() * 10.0).ceil() / 10.0
    );
    let rows = [
        (
            Sum::GasketLeast,
            least(
                "gasket, squeezed at least",
                drawn,
                "(free - squeezed) / free, 10 % at least",
            ),
            "squeeze it more",
        ),
        (
            Sum::GasketMost,
            most("gasket, squeezed", drawn, "(free - squeezed) / free, 50 % at most"),
            "squeeze it less: it is crushed for good",
        ),
        (
            Sum::GasketAtLow,
            least("gasket, rim's low spot", range.at_low_spot, flat),
            thicker.as_str(),
        ),
        (
            Sum::GasketAtHigh,
            most("gasket, rim's high spot", range.at_high_spot, proud),
            thicker.as_str(),
        ),
    ];
    for (sum, of, fix) in rows {
        let drawn = matches!(sum, Sum::GasketLeast | Sum::GasketMost);
        checks.push(StrengthCheck {
            sum,
            fix: if of.within() { String::new() } else { fix.to_owned() },
            says: if drawn {
                told.clone()
            } else {
                format!("{told}; {uneven}")
            },
            of,
            factor: None,
        });
    }
}

/// The pitch of the lid screws against what a flange of that thickness bridges.
fn screws(build: &Build, checks: &mut Vec<StrengthCheck>) {
    if build.closing != Closing::Flange || build.gasket <= Length::ZERO {
        return;
    }
    let thinner = build.flange_thickness.min(build.lid);
    let widest = widest_pitch(build.screw, thinner, SOFT_GASKET_FACTOR);
    let by = Limit {
        value: widest.as_mm(),
        formula: "P = 2 d + 6 t / (m + 0.5), m 0.5 for a soft gasket",
        source: "flange practice: a starting point",
        known: PITCH_KNOWN_BY,
    };
    let of = Utilisation::of("lid screws, pitch", build.screw_pitch.as_mm(), "mm", by);
    let fix = if of.within() {
        String::new()
    } else {
        "put screws closer, take a thicker lid and flange, stiffen the lid's edge, or try a lid with water first"
            .to_owned()
    };
    checks.push(StrengthCheck {
        sum: Sum::ScrewPitch,
        fix,
        says: format!(
            "M{} through {} mm, the thinner of lid and flange",
            build.screw.as_mm(),
            thinner.as_mm()
        ),
        of,
        factor: None,
    });
}

/// Folded walls, lips and skirts against the shortest that the usual die bends.
fn folds(build: &Build, height: Length, checks: &mut Vec<StrengthCheck>) {
    if !matches!(build.construction, Construction::Folded(_)) {
        return;
    }
    let mut legs = vec![("wall, folded", build.wall, height)];
    match build.closing {
        // A lip turned out is measured from the inside of the wall, which is the outside of its bend.
        Closing::Flange => legs.push(("lip, folded", build.wall, build.flange_out + build.wall)),
        Closing::Cap => legs.push(("cap's skirt, folded", build.lid, build.cap_deep)),
        Closing::Flat => {}
    }
    for (what, thickness, leg) in legs {
        let die = bend_limits::v_die(thickness);
        let by = Limit {
            value: leg.as_mm(),
            formula: "the larger of 2 t + r and 0.707 V, outside, against what is drawn",
            source: bend_limits::V_DIE_SOURCE,
            known: bend_limits::V_DIE_KNOWN_BY,
        };
        let of = at_least(what, die.least_flange().as_mm(), leg.as_mm(), "mm", by);
        let fix = if of.within() {
            String::new()
        } else {
            "make it longer, take thinner sheet, or ask the shop for a narrower die".to_owned()
        };
        checks.push(StrengthCheck {
            sum: Sum::Fold,
            fix,
            says: format!(
                "a die of {:.0} mm for sheet of {} mm",
                die.opening.as_mm(),
                thickness.as_mm()
            ),
            of,
            factor: None,
        });
    }
}
