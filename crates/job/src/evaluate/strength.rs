//! First-order sums of a box: its floor, the bolts that hold it, its gasket, its folds, and the sling it hangs from.
//!
//! A few microseconds for a box: nothing here is summed twice.

mod hold_down;
mod lift;
mod mount;
mod panels;
mod trapped;

use enclosure::added::Bar;
use enclosure::seal::{PITCH_KNOWN_BY, SOFT_GASKET_FACTOR, squeeze, widest_pitch};
use enclosure::strength::beam::bar_utilisation;
use enclosure::strength::crash::{Direction, Factor, harshest};
use enclosure::strength::plate::{Edges, Panel};
use enclosure::strength::{Limit, Utilisation, force_n};
use enclosure::{Construction, Gasket, KnownBy, Sheet, bend_limits};
use geometry::Axis;
use tape::Length;

pub(super) use self::mount::bolt_of;

pub use self::lift::Lift;
use self::mount::Held;
pub use self::trapped::Trapped;
use super::added::FloorRailsResult;
use super::boxes::{BoxResult, ModuleResult};
use super::kind::KindResult;
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
    /// Stress of a rail under the floor, pressed down on.
    FloorRail,
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
    /// The rivets that hold a panel in a frame of angle, pushed at that way by what stands behind it.
    Rivets(Direction),
    /// The adhesive that holds it, pushed at that way.
    Bond(Direction),
    /// The bar over the modules, bent up by those under it.
    HoldBar,
    /// The studs or rods at the ends of that bar, pulled that way.
    HoldStuds(Direction),
    /// The same, pulled up and level at once.
    HoldStudsAtOnce,
    /// The lug that a stud pulls at.
    HoldLug,
    /// The lifting eye against its rating.
    Eye,
    /// The sheet that a lifting eye pulls at.
    EyePlate,
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
            Self::FloorStress
                | Self::FloorPressed
                | Self::FloorRail
                | Self::Bolts(_)
                | Self::Brackets(_)
                | Self::Rivets(_)
                | Self::Bond(_)
                | Self::HoldBar
                | Self::HoldStuds(_)
                | Self::HoldStudsAtOnce
                | Self::HoldLug
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
    /// How grave it is, when it is on the wrong side of its limit; wherever a load factor comes from.
    pub fn over(&self) -> Option<Grave> {
        (!self.of.within()).then(|| self.sum.grave())
    }

    /// The load factor with its direction, as `10 g down`; `None` of a sum that rests on none.
    pub fn load_case(&self) -> Option<String> {
        let g = self.factor?.g;
        Some(match self.sum {
            Sum::Bolts(direction)
            | Sum::Brackets(direction)
            | Sum::Rivets(direction)
            | Sum::Bond(direction)
            | Sum::HoldStuds(direction) => {
                format!("{g} g {}", direction.name())
            }
            Sum::HoldBar | Sum::HoldLug | Sum::HoldStudsAtOnce => format!("{g} g {}", Direction::Up.name()),
            _ => format!("{g} g {}", Direction::Down.name()),
        })
    }

    /// The load as `5.74 kN`; of a sum that asks for a least, what there is.
    pub fn load_text(&self) -> String {
        figure_text(self.of.load, self.of.unit)
    }

    /// The limit with the side it is on, as `at most 22.27 kN` or `at least 10 %`.
    pub fn limit_text(&self) -> String {
        format!("{} {}", self.of.bound.name(), figure_text(self.of.limit, self.of.unit))
    }

    /// The share as `26 %`; rounded up, so that 100 % is not over.
    pub fn share_text(&self) -> String {
        share_text(self.of.share)
    }

    /// Formula, source, and how it is known; the load factor's source and how that is known behind.
    pub fn source_text(&self) -> String {
        let mut text = match self.of.source {
            OWN => format!("{}; the limit is your own figure", self.of.formula),
            source => format!("{}; {source} ({})", self.of.formula, known_words(self.of.known)),
        };
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
        // A squeeze of 9.6 % is less than 10 %.
        "%" => format!("{value:.1}").trim_end_matches(".0").to_owned() + " %",
        "of 1" => format!("{value:.2}"),
        unit => format!("{value:.1} {unit}"),
    }
}

/// The sums of one box.
#[derive(Clone, Debug, PartialEq)]
pub struct BoxStrength {
    /// What it weighs loaded, kilograms.
    pub mass_kg: f64,
    /// The bolts that hold it, as `4 M10 of class 8.8`; without brackets `none drawn` behind.
    pub bolts: String,
    /// How many bolts hold it to the truck.
    pub mount_bolts: u32,
    /// What is bought to fix it and what is added to it, each with how many: its mount bolts only where brackets take them.
    pub fasteners: Vec<(String, u32)>,
    /// What was entered that is not on the list of sizes and classes, and what is taken for it; empty when all is.
    pub taken: String,
    /// The largest share first.
    pub checks: Vec<StrengthCheck>,
    /// What is not summed of what holds its panels; empty when they are welded.
    pub not_summed: &'static str,
    /// What trapped air would do; `None` for a box that is not tight.
    pub trapped: Option<Trapped>,
    /// The sling.
    pub lift: Option<Lift>,
}

impl BoxStrength {
    /// The sum that governs, in words: `governs: floor, pressed down on, stress, 115 %, 10 g down`.
    pub fn governs_text(&self) -> Option<String> {
        let most = self.governing()?;
        let load = most.load_case().map(|case| format!(", {case}")).unwrap_or_default();
        Some(format!("governs: {}, {}{load}", most.of.what, most.share_text()))
    }

    /// The sum that takes up most of its limit, of those of what carries the box and its modules; a gasket or a lid is none.
    pub fn governing(&self) -> Option<&StrengthCheck> {
        let carries = self.checks.iter().filter(|check| check.sum.carries());
        carries.max_by(|a, b| a.of.share.total_cmp(&b.of.share))
    }

    /// The check of a sum.
    pub fn check(&self, sum: Sum) -> Option<&StrengthCheck> {
        self.checks.iter().find(|check| check.sum == sum)
    }
}

pub(super) fn of(
    job: &Job,
    build: &Build,
    limits: &Limits,
    kinds: &[KindResult],
    result: &BoxResult,
) -> Option<BoxStrength> {
    let made = result.built.as_ref()?;
    let figures = &job.electrics.figures;
    let mass_kg = crate::Grams(result.mass.total_g()).kg();
    let held = Held::of(figures, result, kinds)?;
    let mut checks = Vec::new();
    let inside = result.inside?.size();
    let steel = [inside.0[0], inside.0[1]].map(|side| side + build.liner * 2);
    for plate in floors(result, steel, kinds) {
        floor(figures, build, &plate, &mut checks);
    }
    held.checks(figures, mass_kg, &mut checks);
    mount::brackets(figures, build, result.added.mount, mass_kg, &mut checks);
    panels::checks(figures, build, result, made, &mut checks);
    hold_down::checks(figures, build, result, &mut checks);
    let lift = lift::of(figures, result, mass_kg);
    if let Some(lift) = &lift {
        lift::checks(figures, build, lift, result, &mut checks);
    }
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
    checks.sort_by(|a, b| b.of.share.total_cmp(&a.of.share));
    Some(BoxStrength {
        mass_kg,
        bolts: held.words(),
        mount_bolts: held.count,
        fasteners: held
            .bought()
            .into_iter()
            .chain(made.fasteners.iter().cloned())
            .collect(),
        taken: held.taken,
        checks,
        not_summed: match build.construction {
            Construction::Framed(_) => RIVETS,
            Construction::Welded | Construction::Folded(_) => "",
        },
        trapped,
        lift,
    })
}

/// Said of framed boxes: what their sums of rivets and adhesive leave out.
const RIVETS: &str = "of the rivets or the adhesive that hold the panels only shear is summed: how sheet tears at a rivet, how a \
     bond peels, and what age and heat take from it is not; ask their maker, and test a joint to breaking";

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

/// How a floor is held, in words: by its walls, by the rails drawn under it, and by what the person says lies under it.
fn floor_held(build: &Build, plate: &Plate, spans: u32) -> String {
    let by = match build.construction {
        Construction::Welded => "welded to the walls round it",
        Construction::Folded(_) => "folded up into the walls round it",
        Construction::Framed(_) => "held by the angle round it",
    };
    if let Some(rails) = plate.rails {
        let plural = if rails.count == 1 { "" } else { "s" };
        return format!(
            "from middle to middle of what carries it, taken as resting on all sides: the floor is {by}, and lies on {} \
             rail{plural} drawn under it",
            rails.count
        );
    }
    match spans {
        0 | 1 => format!("each taken as resting on all sides: the floor is {by}, and nothing lies under it"),
        _ => {
            let members = spans - 1;
            let plural = if members == 1 { "" } else { "s" };
            format!(
                "each taken as resting on all sides: the floor is {by}, and lies on {members} frame member{plural} between"
            )
        }
    }
}

/// A plate of a floor with what stands on it.
struct Plate {
    /// What it is called.
    name: &'static str,
    /// Length and width inside the steel.
    steel: [Length; 2],
    /// The modules on it.
    modules_g: i64,
    /// The rails drawn under it.
    rails: Option<FloorRailsResult>,
}

impl Plate {
    /// The sides of its widest span, in the order of [`Plate::steel`]: between the rails drawn under it, else between the
    /// frame members that make this many equal spans of its longer side.
    fn span(&self, spans: u32) -> [Length; 2] {
        let mut sides = self.steel;
        if let Some(rails) = self.rails {
            sides[1 - rails.along.index()] = rails.span;
        } else {
            let long = usize::from(sides[1] > sides[0]);
            sides[long] = Length::from_nm(sides[long].nm() / i64::from(spans.max(1)));
        }
        sides
    }
}

/// The floor; over a step a raised one as well, with the modules that stand wholly over it.
fn floors(result: &BoxResult, steel: [Length; 2], kinds: &[KindResult]) -> Vec<Plate> {
    let whole = Plate {
        name: "floor",
        steel,
        modules_g: result.mass.modules_g,
        rails: result.added.floor_rails,
    };
    let (Some(step), Some(block)) = (result.step, result.step_inside()) else {
        return vec![whole];
    };
    let axis = Axis::ALL[step.axis()];
    let each = |m: &ModuleResult| {
        let kind = kinds.iter().find(|k| k.id == m.kind);
        kind.and_then(|k| k.mass_g).unwrap_or(0) * i64::from(m.count)
    };
    let over = |m: &&ModuleResult| block.lo()[axis] <= m.cuboid.lo()[axis] && m.cuboid.hi()[axis] <= block.hi()[axis];
    let raised_g: i64 = result.modules.iter().filter(over).map(each).sum();
    let [mut deep, mut raised] = [steel; 2];
    raised[step.axis()] = step.run;
    deep[step.axis()] -= step.run;
    vec![
        Plate {
            name: "deep floor",
            steel: deep,
            modules_g: whole.modules_g - raised_g,
            rails: whole.rails,
        },
        Plate {
            name: "raised floor",
            steel: raised,
            modules_g: raised_g,
            rails: None,
        },
    ]
}

/// Adds a check; of two on the same sum, as of two plates of one floor, the one that takes up more of its limit stays.
fn keep_worst(checks: &mut Vec<StrengthCheck>, check: StrengthCheck) {
    match checks.iter_mut().find(|known| known.sum == check.sum) {
        Some(known) if known.of.share >= check.of.share => {}
        Some(known) => *known = check,
        None => checks.push(check),
    }
}

/// A floor that rests on supports all round each span, under its own weight and that of the modules.
fn floor(figures: &Figures, build: &Build, plate: &Plate, checks: &mut Vec<StrengthCheck>) {
    let (steel, modules_g) = (plate.steel, plate.modules_g);
    let spans = whole(figures.sure(Figure::FloorSpans));
    let span = plate.span(spans);
    let Ok(panel) = Panel::new(span, build.floor, Edges::Simple) else {
        return;
    };
    let sheet = Sheet {
        material: build.material,
        thickness: build.floor,
    };
    let area = steel[0] * steel[1];
    let mass_kg = crate::Grams(modules_g).kg() + sheet.grams(area) / 1000.0;
    let pressure = force_n(mass_kg, 1.0) / area.as_mm2();
    let [stress, gives] = panel.utilisations(&format!("{}, standing", plate.name), pressure, build.material);
    let sides = [span[0].max(span[1]), span[0].min(span[1])].map(Length::as_mm);
    let over = match (plate.rails, spans) {
        (Some(_), _) => "the floor, its widest span".to_owned(),
        (None, 0 | 1) => "1 span of".to_owned(),
        (None, _) => format!("{spans} spans of"),
    };
    let spans_words = format!(
        "{mass_kg:.1} kg spread evenly over {over} {:.0} x {:.0} mm, {}",
        sides[0],
        sides[1],
        floor_held(build, plate, spans)
    );
    let overstated = !gives.within();
    let doubt = |over: bool| {
        if over {
            "; it gives more than half its thickness, so the formula overstates"
        } else {
            ""
        }
    };
    let rail = if plate.rails.is_some() {
        "put in more floor rails, or take thicker sheet"
    } else {
        "put floor rails under it (on the Boxes page), enter the spans that frame members under it make, or take thicker sheet"
    };
    let fix = |of: &Utilisation| if of.within() { "" } else { rail }.to_owned();
    if let Some(factor) = factor(figures, Direction::Down) {
        floor_rail(build, plate, pressure, factor, checks);
        // Linear: pressed down on, everything is that many times as much.
        let limit = Limit {
            value: stress.limit,
            formula: stress.formula,
            source: stress.source,
            known: stress.known,
        };
        let pressed = Utilisation::of(
            format!("{}, pressed down on, stress", plate.name),
            stress.load * factor.g,
            "MPa",
            limit,
        );
        let check = StrengthCheck {
            sum: Sum::FloorPressed,
            fix: fix(&pressed),
            says: format!(
                "{spans_words}, at {} times their weight{}",
                factor.g,
                doubt(gives.share * factor.g > 1.0)
            ),
            of: pressed,
            factor: Some(factor),
        };
        keep_worst(checks, check);
    }
    for (sum, of) in [(Sum::FloorStress, stress), (Sum::FloorGives, gives)] {
        let check = StrengthCheck {
            sum,
            fix: fix(&of),
            says: format!("{spans_words}{}", doubt(overstated)),
            of,
            factor: None,
        };
        keep_worst(checks, check);
    }
}

/// The rail that bears most of the floor, from wall to wall, the floor above it left out.
fn floor_rail(build: &Build, plate: &Plate, pressure_mpa: f64, factor: Factor, checks: &mut Vec<StrengthCheck>) {
    let Some(rails) = plate.rails else { return };
    let [leg, thickness] = rails.angle;
    let force = pressure_mpa * (rails.bears * rails.length).as_mm2() * factor.g;
    let span = rails.length.as_mm();
    let modulus = Bar::Angle { leg }.section_modulus_mm3(thickness);
    let of = bar_utilisation(
        "floor rail, pressed down on",
        force * span / 8.0 / modulus,
        build.material,
    );
    let fix = if of.within() {
        ""
    } else {
        "take a larger or thicker angle, put in more rails, or lay them the shorter way"
    };
    checks.push(StrengthCheck {
        sum: Sum::FloorRail,
        fix: fix.to_owned(),
        says: format!(
            "{:.2} kN on the rail that bears most, {:.0} mm of floor across it, spread evenly over {span:.0} mm from wall to \
             wall, which are taken to carry its ends; the floor it is joined to is left out",
            force / 1000.0,
            rails.bears.as_mm()
        ),
        of,
        factor: Some(factor),
    });
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
        Utilisation::at_least(what, share.max(0.0) * 100.0, "%", limit(squeeze::LEAST, formula))
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
            least("gasket, squeezed", drawn, "(free - squeezed) / free, 10 % at least"),
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
    if !build.is_screwed() || build.gasket <= Length::ZERO {
        return;
    }
    let thinner = build.bridged();
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
            "M{} through {} mm, {}; {}",
            build.screw.as_mm(),
            thinner.as_mm(),
            if build.closing == Closing::Cap {
                "the cap"
            } else {
                "the thinner of lid and flange"
            },
            if build.pitch_by_rule && of.within() {
                "the pitch is that of the rule, in whole millimetres"
            } else if build.pitch_by_rule {
                "the pitch is the closest that is taken unasked"
            } else {
                "the pitch is your own"
            }
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
            value: die.least_flange().as_mm(),
            formula: "the larger of 2 t + r and 0.707 V, outside, against what is drawn",
            source: bend_limits::V_DIE_SOURCE,
            known: bend_limits::V_DIE_KNOWN_BY,
        };
        let of = Utilisation::at_least(what, leg.as_mm(), "mm", by);
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
