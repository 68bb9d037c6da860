//! What differs between two states of a job, for the person and for the shop.
//!
//! [`changes`] compares two jobs; [`Since`] is how a job differs from what the shop was given of it.
//! Both compare what the shop gets through [`shop::given`], so that they cannot disagree.

mod entries;
mod issue;
mod made;
mod parts;
mod shop;
mod since;
mod told;

use geometry::Face;
use tape::show::Style;

use crate::shopping::ToBuy;
use crate::{Evaluation, Grams, Id, Job, ModuleResult, SeatResult, WiringResult};

pub use entries::EntryChange;
pub use issue::{NotIssued, issue, next_letter};
pub use parts::{BoxChange, Kept, PartChange, ShopChanges};
pub use shop::given;
pub use since::Since;
pub(crate) use since::since_issue;

/// One figure or text before and after. An empty text stands for nothing there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    /// What it is of.
    pub what: String,
    /// As it was.
    pub before: String,
    /// As it is.
    pub after: String,
}

impl Difference {
    /// The difference, if there is one.
    pub(crate) fn of(what: impl Into<String>, before: impl Into<String>, after: impl Into<String>) -> Option<Self> {
        let (before, after) = (before.into(), after.into());
        (before != after).then(|| Self {
            what: what.into(),
            before,
            after,
        })
    }

    /// As `mass 41.2 kg -> 43.0 kg`.
    pub fn words(&self) -> String {
        let or_none = |text: &str| if text.is_empty() { "none" } else { text }.to_owned();
        let told = format!("{} -> {}", or_none(&self.before), or_none(&self.after));
        if self.what.is_empty() {
            told
        } else {
            format!("{} {told}", self.what)
        }
    }
}

/// How many modules or stacks stand elsewhere or otherwise.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Moved {
    /// Put in.
    pub added: usize,
    /// Taken out.
    pub removed: usize,
    /// Standing at another place of a cavity, or in another cavity.
    pub moved: usize,
    /// Standing the other way round, or as another number in a stack.
    pub turned: usize,
}

impl Moved {
    /// As `3 moved, 1 put in`; empty when all stand as they stood.
    pub fn words(self) -> String {
        let told = [
            (self.moved, "moved"),
            (self.turned, "turned or restacked"),
            (self.added, "put in"),
            (self.removed, "taken out"),
        ];
        let told = told.iter().filter(|(count, _)| *count > 0);
        told.map(|(count, what)| format!("{count} {what}"))
            .collect::<Vec<_>>()
            .join(", ")
    }
}

/// What differs between two jobs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Changes {
    /// The figures of the title block and what rests on them.
    pub facts: Vec<Difference>,
    /// What the shop cuts, folds and welds.
    pub shop: ShopChanges,
    /// Clearances of boxes that are there before and after, by box and side, rounded down.
    pub clearances: Vec<Difference>,
    /// Where modules stand.
    pub modules: Moved,
    /// The order and the links of each pack, in words.
    pub wiring: Vec<Difference>,
    /// What was entered.
    pub entries: Vec<EntryChange>,
}

impl Changes {
    /// Whether nothing differs.
    pub fn is_none(&self) -> bool {
        let Self {
            facts,
            shop,
            clearances,
            modules,
            wiring,
            entries,
        } = self;
        let none_of_fit = clearances.is_empty() && modules.words().is_empty();
        facts.is_empty() && shop.is_none() && none_of_fit && wiring.is_empty() && entries.is_empty()
    }
}

/// What differs between two jobs; each evaluation is of the job before it. Sizes are told in the units of the new one.
pub fn changes(old: &Job, old_evaluation: &Evaluation, new: &Job, new_evaluation: &Evaluation) -> Changes {
    Changes {
        facts: facts(old_evaluation, new_evaluation),
        shop: parts::compare(
            &given(old, old_evaluation),
            &given(new, new_evaluation),
            new_evaluation.style(),
        ),
        clearances: clearances(old_evaluation, new_evaluation),
        modules: moved(old_evaluation, new_evaluation),
        wiring: wiring(old_evaluation, new_evaluation),
        entries: entries::compare(old, new),
    }
}

/// What differs in what to buy.
pub fn to_buy(old: &ToBuy, new: &ToBuy) -> Vec<Difference> {
    let names = old.items.iter().chain(&new.items).map(|item| item.what.as_str());
    let mut seen: Vec<&str> = Vec::new();
    for name in names {
        if !seen.contains(&name) {
            seen.push(name);
        }
    }
    let amount = |list: &ToBuy, name: &str| {
        let item = list.items.iter().find(|item| item.what == name);
        item.map_or_else(String::new, |item| item.unit.text(item.buy))
    };
    let mut told: Vec<Difference> = seen
        .into_iter()
        .filter_map(|name| Difference::of(name, amount(old, name), amount(new, name)))
        .collect();
    let cost = |list: &ToBuy| list.cost.map_or_else(String::new, crate::Price::text);
    told.extend(Difference::of("cost of what has a price", cost(old), cost(new)));
    told
}

fn facts(old: &Evaluation, new: &Evaluation) -> Vec<Difference> {
    let style = new.style();
    let fact = |what: &str, of: &dyn Fn(&Evaluation) -> String| Difference::of(what, of(old), of(new));
    [
        fact("revision", &|e| e.revision.clone()),
        fact("modules placed", &|e| e.headline.placed.to_string()),
        fact("pack", &|e| {
            let arrangement = e.headline.arrangement;
            arrangement.map_or_else(String::new, |a| format!("{}s{}p", a.series, a.parallel))
        }),
        fact("volts", &|e| {
            let volts = e.headline.volts;
            volts.map_or_else(String::new, |v| {
                format!("{} to {} V", v.empty.shown(1), v.full.shown(1))
            })
        }),
        fact("energy", &|e| {
            let energy = e.headline.energy_kwh;
            energy.map_or_else(String::new, |kwh| format!("{kwh:.1} kWh"))
        }),
        fact("mass of boxes and modules", &|e| {
            let mass = e.headline.mass_g;
            mass.map_or_else(String::new, |grams| crate::kg_words(Grams(grams).kg(), 1, e.units))
        }),
        fact("tightest clearance", &|e| {
            let tightest = e.headline.tightest.as_ref();
            tightest.map_or_else(String::new, |t| {
                format!("{} at {}", style.down(t.clearance.distance), t.name)
            })
        }),
        fact("stops", &|e| e.headline.stops.to_string()),
        fact("cautions", &|e| e.headline.cautions.to_string()),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn clearances(old: &Evaluation, new: &Evaluation) -> Vec<Difference> {
    let style = new.style();
    let mut told = Vec::new();
    for is in &new.boxes {
        let was = old.battery_box(is.id).and_then(|b| b.around.as_ref());
        let (Some(was), Some(around)) = (was, &is.around) else {
            continue;
        };
        for face in Face::ALL {
            let [before, after] = [was, around].map(|a| style.down(a.faces[face.index()].distance));
            told.extend(Difference::of(format!("{}, {}", is.name, face.name()), before, after));
        }
    }
    told
}

fn moved(old: &Evaluation, new: &Evaluation) -> Moved {
    let mut moved = Moved::default();
    let mut stayed = 0;
    for (cavity, was) in placed(old) {
        let is = placed(new).find(|(_, is)| is.id == was.id && is.kind == was.kind);
        let Some((to, is)) = is else {
            moved.removed += 1;
            continue;
        };
        stayed += 1;
        if (is.stands, is.count) != (was.stands, was.count) {
            moved.turned += 1;
        } else if (to, is.cuboid) != (cavity, was.cuboid) {
            moved.moved += 1;
        }
    }
    moved.added = placed(new).count() - stayed;
    moved
}

/// Every module or stack with the cavity that it stands in.
fn placed(evaluation: &Evaluation) -> impl Iterator<Item = (Id, &ModuleResult)> {
    let boxes = evaluation.boxes.iter();
    boxes.flat_map(|b| b.modules.iter().map(|module| (b.cavity, module)))
}

/// The order of each pack by the names of its modules, and its links by count and length.
fn wiring(old: &Evaluation, new: &Evaluation) -> Vec<Difference> {
    let mut names: Vec<&str> = Vec::new();
    for (pack, _) in old.electrics().chain(new.electrics()) {
        if !names.contains(&pack.name.as_str()) {
            names.push(&pack.name);
        }
    }
    let told = |name: &str| {
        let order = Difference::of(format!("order of {name}"), order(old, name), order(new, name));
        let length = |e| links(e, name, new.style());
        [
            order,
            Difference::of(format!("links of {name}"), length(old), length(new)),
        ]
    };
    names.into_iter().flat_map(told).flatten().collect()
}

fn wired<'a>(evaluation: &'a Evaluation, name: &str) -> Option<&'a WiringResult> {
    let mut packs = evaluation.electrics();
    let (_, electric) = packs.find(|(pack, _)| pack.name == name)?;
    electric.wiring.as_ref()
}

/// The modules along the chain; `'` behind one that is built in the other way round.
fn order(evaluation: &Evaluation, name: &str) -> String {
    let seats = wired(evaluation, name).map_or(&[][..], |wiring| &wiring.seats);
    let label = |seat: &SeatResult| format!("{}{}", seat.seat, if seat.turned { "'" } else { "" });
    seats.iter().map(label).collect::<Vec<_>>().join(" ")
}

fn links(evaluation: &Evaluation, name: &str, style: Style) -> String {
    wired(evaluation, name).map_or_else(String::new, |wiring| {
        format!("{}, {} in all", wiring.links.len(), style.up(wiring.length))
    })
}
