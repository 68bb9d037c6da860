//! First-order sums of a box: its floor, the bolts that hold it, its gasket, its folds, and the sling it hangs from.
//!
//! A few microseconds for a box: nothing here is summed twice.

mod floor;
mod hangers;
mod hold_down;
mod lift;
mod mount;
mod panels;
mod rim;
mod told;
mod trapped;

use enclosure::strength::Utilisation;
use enclosure::strength::crash::{Direction, Factor, harshest};
use enclosure::{Construction, KnownBy};
use tape::Units;

pub(super) use self::mount::bolt_of;
pub(in crate::evaluate) use self::panels::rivets_allowed;

pub(super) use self::floor::Floors;
use self::floor::floors;
pub use self::lift::Lift;
use self::mount::Held;
use self::rim::{folds, gasket, lid, screws};
use self::told::Told;
pub use self::trapped::Trapped;
use super::boxes::BoxResult;
use super::kind::KindResult;
use crate::assumed::{Build, Limits};
use crate::document::Figures;
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
    /// The inside radius of the bends against what the sheet stands.
    BendRadius,
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

    /// What is said in place of load and share where they mean nothing, since the plate gives more than its formula holds
    /// for; `None` where they are told.
    pub fn outside(&self) -> Option<&'static str> {
        (!self.of.is_told()).then_some("outside the formula")
    }

    /// The load as `5.74 kN`; of a sum that asks for a least, what there is; words where it is outside its formula.
    pub fn load_text(&self, units: Units) -> String {
        match self.outside() {
            Some(words) => words.to_owned(),
            None => figure_text(self.of.load, self.of.unit, units),
        }
    }

    /// The limit with the side it is on, as `at most 22.27 kN` or `at least 10 %`.
    pub fn limit_text(&self, units: Units) -> String {
        format!(
            "{} {}",
            self.of.bound.name(),
            figure_text(self.of.limit, self.of.unit, units)
        )
    }

    /// The share as `26 %`; rounded up, so that 100 % is not over.
    pub fn share_text(&self) -> String {
        match self.outside() {
            Some(_) => "over".to_owned(),
            None => share_text(self.of.share),
        }
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

/// A figure with its unit: newtons as kilonewtons, millimetres as inches for a person who works in them.
fn figure_text(value: f64, unit: &str, units: Units) -> String {
    match unit {
        _ if !value.is_finite() => "none".to_owned(),
        "N" => format!("{:.2} kN", value / 1000.0),
        "mm" if units == Units::Inch => format!("{:.3}\"", value / 25.4),
        "mm" => format!("{value:.2} mm"),
        // A squeeze of 9.6 % is less than 10 %.
        "%" => format!("{value:.1}").trim_end_matches(".0").to_owned() + " %",
        // What an eye is pulled with, and rated for, as what is lifted is told elsewhere.
        "kg" => super::kg_words(value, 1, tape::Units::Inch),
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
        let share = most.outside().map_or_else(|| most.share_text(), str::to_owned);
        Some(format!("governs: {}, {share}{load}", most.of.what))
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

/// The sums of one box; `None` while it cannot be built. `alike`: the floors of the boxes before it.
pub(super) fn of(
    job: &Job,
    build: &Build,
    limits: &Limits,
    kinds: &[KindResult],
    result: &BoxResult,
    alike: &mut Floors,
) -> Option<BoxStrength> {
    let made = result.built.as_ref()?;
    let (figures, units) = (&job.electrics.figures, job.units.units());
    let mass_kg = crate::Grams(result.mass.total_g()).kg();
    let held = Held::of(figures, result, kinds)?;
    let mut checks = Vec::new();
    let told = Told::of(&job.design, units);
    for plate in floors(result, &result.inside?, build.liner, kinds) {
        alike.checks((figures, told), build, plate, &mut checks);
    }
    held.checks((figures, told), mass_kg, &mut checks);
    let on = (result.added.mount, result.added.bracket_walls.as_slice());
    hangers::brackets((figures, told), build, on, (&held, mass_kg), &mut checks);
    panels::checks(job, build, result, made, &mut checks);
    hold_down::checks((figures, told), build, result, &mut checks);
    let lift = lift::of(figures, result, held.centre, mass_kg);
    if let Some(lift) = &lift {
        lift::checks((figures, told), build, lift, result, &mut checks);
    }
    lid(build, result, units, &mut checks);
    let longer = made.shell[0].max(made.shell[1]);
    gasket(build, limits, longer, units, &mut checks);
    screws(build, told, &mut checks);
    let trapped = trapped::of(figures, build, result, made);
    if let Some(trapped) = &trapped {
        trapped::checks((build, units), made, trapped, &mut checks);
    }
    folds(build, told, made.shell[2], &mut checks);
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
pub(super) fn factor(figures: &Figures, direction: Direction) -> Option<Factor> {
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

/// A count that was entered.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "within the ranges of the table, 1 to 64"
)]
pub(super) fn whole(count: f64) -> u32 {
    count.floor() as u32
}

/// Adds a check; of two on the same sum, as of two plates of one floor, the one that takes up more of its limit stays.
fn keep_worst(checks: &mut Vec<StrengthCheck>, check: StrengthCheck) {
    match checks.iter_mut().find(|known| known.sum == check.sum) {
        Some(known) if known.of.share >= check.of.share => {}
        Some(known) => *known = check,
        None => checks.push(check),
    }
}
