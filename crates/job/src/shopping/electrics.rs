//! What the pack's electrics take: cable and lugs, link bars, fuses, contactors, pre-charge, disconnects, caps and glands,
//! each with the figure it follows from. Where only the need is known the rating is left to who is licensed to choose it.

use enclosure::nest::bars::{self, Part, Stock};
use enclosure::nest::{Budget, Supply, Unwatched};
use enclosure::seal::gland::{self, for_cable};
use pack::conductor::Section;
use pack::protection::{fuse, precharge, short_circuit};
use tape::Length;

use super::{Item, SPARES, Shop, Unit, tenth_up, whole_up};
use crate::document::{Figures, FittingName};
use crate::nesting::stock_text;
use crate::{Electric, End, Evaluation, Figure, Id, Job, LinkResult, PackResult, WiringResult, assumed};

/// Steps of work for the bars of one section: a few dozen links take far fewer.
const WORK: u64 = 1_000_000;
/// Said of every part whose rating nobody entered.
const CHOSEN: &str = "rating to be chosen by the licensed electrician, by local code";
/// Said of a disconnect that is let into a wall beyond those that the chains take.
const NO_PLACE: &str = "let into a wall; the wiring has no place for it";
/// Said of a fuse while that is not known.
const FOLLOWS: &str = "its rating follows from the drive's amps for long, which are not entered";

/// The lines, like ones of several packs together.
pub(super) fn items(job: &Job, evaluation: &Evaluation) -> Vec<Item> {
    let mut list = List::default();
    let mut let_in = LetIn::all(evaluation);
    for (pack, electric) in evaluation.electrics() {
        let of = Of::new(job, evaluation, pack, electric);
        if let Some(wiring) = &electric.wiring {
            of.cables(wiring, &mut list);
            of.bars(wiring, &mut list);
            of.caps(wiring, &mut list);
        }
        of.fuses(&mut list);
        of.contactors(&mut list);
        of.precharge(&mut list);
        if let Some(wiring) = &electric.wiring {
            of.disconnects(wiring, &mut let_in, &mut list);
        }
    }
    for one in let_in {
        list.pieces(one.words(job), 1, Spare::None, false, NO_PLACE.to_owned());
    }
    glands(evaluation, &mut list);
    list.0
}

/// Lines as they are found; what is alike is counted together.
#[derive(Default)]
struct List(Vec<Item>);

impl List {
    /// Adds so many pieces, `spare` of them for one that fails.
    fn pieces(&mut self, what: String, count: usize, spare: Spare, assumed: bool, note: String) {
        if count == 0 {
            return;
        }
        #[expect(clippy::cast_precision_loss, reason = "pieces of a pack")]
        let needed = count as f64;
        self.add(what, Unit::Pieces, needed, needed + spare.of(needed), assumed, note);
    }

    fn add(&mut self, what: String, unit: Unit, needed: f64, buy: f64, assumed: bool, note: String) {
        if let Some(known) = self.0.iter_mut().find(|item| item.what == what && item.note == note) {
            known.needed += needed;
            known.buy += buy;
            known.assumed |= assumed;
            return;
        }
        self.0.push(Item {
            shop: Shop::Electrical,
            what,
            unit,
            needed,
            buy,
            cost: None,
            assumed,
            note,
        });
    }
}

/// What is bought beyond what is built in (from memory of the trade).
#[derive(Clone, Copy)]
enum Spare {
    None,
    One,
    /// As of fasteners: one in ten, and two at least.
    Tenth,
}

impl Spare {
    fn of(self, needed: f64) -> f64 {
        match self {
            Self::None => 0.0,
            Self::One => 1.0,
            Self::Tenth => (needed * SPARES.0).ceil().max(SPARES.1),
        }
    }
}

/// One pack and what its parts follow from.
struct Of<'a> {
    job: &'a Job,
    evaluation: &'a Evaluation,
    electric: &'a Electric,
    entered: &'a Figures,
    /// Strings side by side.
    strings: u32,
    /// Full volts.
    full_v: f64,
    /// Amps of the drive, and whether it draws them for long; else for a short time.
    amps: Option<(f64, bool)>,
    is_link_entered: bool,
    /// Whether the pack's volts rest on a value that nobody entered.
    are_volts_assumed: bool,
}

impl<'a> Of<'a> {
    fn new(job: &'a Job, evaluation: &'a Evaluation, pack: &PackResult, electric: &'a Electric) -> Self {
        let long = job.drive.continuous_amps.map(|amps| (amps.get(), true));
        let short = job.drive.peak_amps.map(|amps| (amps.get(), false));
        Self {
            job,
            evaluation,
            electric,
            entered: &job.electrics.figures,
            strings: electric
                .joined
                .strings(pack.arrangement.map_or(1, |a| a.parallel).max(1)),
            full_v: pack.figures.map_or(0.0, |figures| figures.volts.full.get()),
            amps: long.or(short),
            is_link_entered: job.electrics.link.is_some(),
            are_volts_assumed: evaluation.headline.assumed.volts,
        }
    }

    /// `full 403.2 V dc`, rounded up: what parts have to stand.
    fn volts(&self) -> String {
        format!("full {}{:.1} V dc", mark(self.are_volts_assumed), tenth_up(self.full_v))
    }

    /// `200 A for long`, of a share of the drive's amps, rounded up: what parts have to carry.
    fn amps_words(&self, share: f64) -> String {
        match self.amps {
            Some((amps, true)) => format!("{:.0} A for long", whole_up(amps * share)),
            Some((amps, false)) => format!(
                "{:.0} A for a short time (its amps for long are not entered)",
                whole_up(amps * share)
            ),
            None => "the drive's amps, which are not entered".to_owned(),
        }
    }

    /// Cables by section, and the lugs at their ends by section and stud.
    fn cables(&self, wiring: &WiringResult, list: &mut List) {
        let stud = format!("M{}", self.evaluation.stud_mm);
        let more = self.entered.sure(Figure::CableMore);
        for section in sections(wiring, |section| matches!(section, Section::Cable(_))) {
            let links: Vec<&LinkResult> = of_section(wiring, &section).collect();
            let metres = links.iter().map(|link| link.cut.as_mm()).sum::<f64>() / 1e3;
            let most = links.iter().filter_map(|link| link.amps).fold(0.0, f64::max);
            let outside = links.iter().filter(|link| link.kind.is_cable()).count();
            let is_entered = if outside > 0 {
                self.job.electrics.cable.is_some()
                    && self.entered.is_given(Figure::LeadLength)
                    && self.entered.is_given(Figure::CableSpare)
            } else {
                self.is_link_entered
            };
            let orange = if outside > 0 {
                "; orange covering outside boxes"
            } else {
                ""
            };
            list.add(
                format!("cable {section}, fine copper strands"),
                Unit::Metres,
                metres,
                metres * (1.0 + more / 100.0),
                !is_entered || wiring.estimated,
                format!(
                    "{} lengths, lugs and slack in them, {more} % more for cutting; for {} and {}{orange}",
                    links.len(),
                    flows(most),
                    self.volts()
                ),
            );
            let ends = || links.iter().flat_map(|link| [link.from, link.to]);
            let at_modules = ends().filter(|end| matches!(end, End::Terminal { .. })).count();
            // Where a disconnect is set into a cable, two more ends are made.
            let cut_in_two = links.iter().filter(|link| link.disconnect).count();
            let elsewhere = ends().count() - at_modules + 2 * cut_in_two;
            list.pieces(
                format!("lugs {section} for {stud}"),
                at_modules,
                Spare::Tenth,
                !is_entered || !self.entered.is_given(Figure::Stud),
                format!(
                    "at the modules' terminals; one in ten to spare, two at least; for {}",
                    flows(most)
                ),
            );
            list.pieces(
                format!("lugs {section} for studs of drive, fuses and contactors"),
                elsewhere,
                Spare::Tenth,
                !is_entered,
                "at least: one at each end that is not at a module; their studs by the data sheets; one in ten to spare, two \
                 at least"
                    .to_owned(),
            );
        }
    }

    /// Link bars as whole lengths, cut with their ends beyond the holes.
    fn bars(&self, wiring: &WiringResult, list: &mut List) {
        let units = self.evaluation.units;
        let how = assumed::how(&self.job.stock, self.job.units);
        let stock = Length::from_mm(self.entered.sure(Figure::LinkStock));
        let is_entered = self.is_link_entered && self.entered.is_given(Figure::LinkStock);
        for section in sections(wiring, |section| matches!(section, Section::Bar { .. })) {
            // Where the service disconnect sits there is no bar.
            let lengths: Vec<_> = wiring.bars.iter().filter(|bar| bar.section == section).collect();
            let part = |(id, bar): (usize, &&crate::BarLength)| Part {
                length: bar.cut,
                quantity: bar.count,
                id,
            };
            let request = bars::Request {
                parts: lengths.iter().enumerate().map(part).collect(),
                stock: vec![Stock {
                    length: stock,
                    supply: Supply::Bought,
                }],
                kerf: how.saw_kerf,
                trim: how.saw_trim,
            };
            let Ok(nest) = bars::nest(&request, Budget { work: WORK }, &mut Unwatched) else {
                continue;
            };
            let count: u32 = lengths.iter().map(|bar| bar.count).sum();
            let cut: f64 = lengths.iter().map(|bar| bar.cut.as_mm() * f64::from(bar.count)).sum();
            let most = of_section(wiring, &section)
                .filter_map(|link| link.amps)
                .fold(0.0, f64::max);
            list.pieces(
                format!("{section}, {}", stock_text(&[stock], units)),
                nest.bars.len(),
                Spare::None,
                !is_entered,
                format!(
                    "{count} links, {:.2} m cut with their ends, kerf {}{}; for {}",
                    cut / 1e3,
                    assumed::told(how.saw_kerf, units),
                    if nest.proved { ", proved" } else { "" },
                    flows(most)
                ),
            );
            for left in &nest.left_out {
                let long = lengths.get(left.id).map_or(Length::ZERO, |bar| bar.cut);
                list.pieces(
                    format!("{section}, at least {}", self.evaluation.up(long)),
                    left.quantity as usize,
                    Spare::None,
                    !is_entered,
                    format!("longer than a bar of {}", stock_text(&[stock], units)),
                );
            }
        }
    }

    /// A cap for each terminal: every one of them is live from the day the modules stand in their boxes.
    fn caps(&self, wiring: &WiringResult, list: &mut List) {
        list.pieces(
            format!("insulating caps for terminals M{}", self.evaluation.stud_mm),
            2 * wiring.seats.len(),
            Spare::Tenth,
            !self.entered.is_given(Figure::Stud),
            format!(
                "two for each module, on until its link is fitted; for {}; one in ten to spare, two at least",
                self.volts()
            ),
        );
    }

    fn fuses(&self, list: &mut List) {
        let share = |figure| self.entered.sure(figure) / 100.0;
        let least = |amps: f64| fuse::least_rating(amps, share(Figure::FuseLoad), share(Figure::FuseWarm));
        let modules = self.electric.resistances.in_a_short.map(pack::Ohms::milliohms);
        let short = modules.and_then(|modules| {
            short_circuit::short_circuit(self.full_v, modules, 0.0, self.entered.sure(Figure::LoopInductance))
        });
        let breaks = short.map_or_else(
            || "breaks what the pack gives in a short circuit, which is not known".to_owned(),
            |short| {
                let volts = mark(self.are_volts_assumed);
                format!("breaks at least {volts}{:.1} kA dc", tenth_up(short.amps / 1e3))
            },
        );
        let is_load_assumed = !(self.entered.is_given(Figure::FuseLoad) && self.entered.is_given(Figure::FuseWarm));
        let mut line = |name: &str, rated: Figure, count: u32, share: f64| {
            let rated = self.entered.get(rated);
            let need = match self.amps {
                Some((amps, true)) => format!(
                    "at least {}{:.0} A for {}",
                    mark(is_load_assumed),
                    whole_up(least(amps * share)),
                    self.amps_words(share)
                ),
                Some((amps, false)) => format!("{:.0} A for a short time, {FOLLOWS}", whole_up(amps * share)),
                None => FOLLOWS.to_owned(),
            };
            let (what, chosen) = match rated {
                Some(amps) => (format!("{name} {amps} A"), String::new()),
                None => (name.to_owned(), format!("; {CHOSEN}")),
            };
            list.pieces(
                format!(
                    "{what}, for {}{:.0} V dc or more",
                    mark(self.are_volts_assumed),
                    whole_up(self.full_v)
                ),
                count as usize,
                Spare::One,
                self.are_volts_assumed
                    || (is_load_assumed && rated.is_none() && self.amps.is_some_and(|(_, long)| long)),
                format!("{need}; {}, {breaks}; one to spare{chosen}", self.volts()),
            );
        };
        line("main fuse with its holder", Figure::FuseAmps, 1, 1.0);
        if self.strings > 1 {
            line(
                "string fuse with its holder",
                Figure::StringFuse,
                self.strings,
                1.0 / f64::from(self.strings),
            );
        }
    }

    fn contactors(&self, list: &mut List) {
        let rated = (
            self.entered.get(Figure::ContactorAmps),
            self.entered.get(Figure::ContactorVolts),
        );
        let (what, chosen) = match rated {
            (Some(amps), Some(volts)) => (format!("main contactor {amps} A, {volts} V dc"), String::new()),
            _ => ("main contactor".to_owned(), format!("; {CHOSEN}")),
        };
        list.pieces(
            what,
            2,
            Spare::None,
            false,
            format!(
                "one in each pole at the pack's end (common practice, no source); carries {}, breaks {}{chosen}",
                self.amps_words(1.0),
                self.volts()
            ),
        );
    }

    /// The resistor that fills the drive's capacitors, and the contactor that switches it.
    fn precharge(&self, list: &mut List) {
        let farads = self.entered.get(Figure::DriveCapacitors).map(|uf| uf * 1e-6);
        let Some(farads) = farads.filter(|farads| *farads > 0.0) else {
            list.pieces(
                "pre-charge resistor and contactor".to_owned(),
                1,
                Spare::None,
                false,
                format!(
                    "for {}; the drive's capacitors are not entered, which it follows from; {CHOSEN}",
                    self.volts()
                ),
            );
            return;
        };
        let level = self.entered.sure(Figure::PrechargeLevel) / 100.0;
        let within = self.entered.sure(Figure::PrechargeSeconds).max(0.001);
        let is_time_assumed =
            !(self.entered.is_given(Figure::PrechargeLevel) && self.entered.is_given(Figure::PrechargeSeconds));
        // As printed: one of these ohms is quick enough, and what it has to stand follows from them.
        let sized = figures_down(precharge::resistor(self.full_v, farads, level, within).ohms);
        let entered = self.entered.get(Figure::PrechargeOhms).filter(|ohms| *ohms > 0.0);
        let ohms = entered.unwrap_or(sized);
        let (what, chosen) = match entered {
            Some(ohms) => (format!("pre-charge resistor {ohms} ohm"), String::new()),
            None => (
                format!("pre-charge resistor, {}{sized} ohm at most", mark(is_time_assumed)),
                format!("; {CHOSEN}"),
            ),
        };
        // Amps and watts rest on the ohms, joules on the level alone.
        let of_ohms = mark(self.are_volts_assumed || (is_time_assumed && entered.is_none()));
        let of_level = mark(self.are_volts_assumed || !self.entered.is_given(Figure::PrechargeLevel));
        list.pieces(
            what,
            1,
            Spare::One,
            self.are_volts_assumed || is_time_assumed,
            format!(
                "{:.0} uF to {}{:.0} % within {}{within} s at {}: {of_ohms}{:.0} W at first, takes {of_level}{:.0} J in one \
                 pulse; one to spare{chosen}",
                farads * 1e6,
                mark(!self.entered.is_given(Figure::PrechargeLevel)),
                level * 100.0,
                mark(!self.entered.is_given(Figure::PrechargeSeconds)),
                self.volts(),
                whole_up(self.full_v * self.full_v / ohms),
                whole_up(precharge::taken_j(self.full_v, farads, level))
            ),
        );
        list.pieces(
            "pre-charge contactor".to_owned(),
            1,
            Spare::None,
            self.are_volts_assumed || (is_time_assumed && entered.is_none()),
            format!(
                "carries {of_ohms}{:.1} A at first, breaks {}; {CHOSEN}",
                tenth_up(self.full_v / ohms),
                self.volts()
            ),
        );
    }

    /// One in each string: those let into the walls of the pack's boxes, which are taken off `let_in`, then those that have
    /// no hole yet.
    fn disconnects(&self, wiring: &WiringResult, let_in: &mut Vec<LetIn>, list: &mut List) {
        let places = wiring.links.iter().filter(|link| link.disconnect).count();
        let share = 1.0 / f64::from(self.strings);
        let need = format!("carries {}, for {}; {CHOSEN}", self.amps_words(share), self.volts());
        let is_own = |one: &LetIn| wiring.seats.iter().any(|seat| seat.battery_box == one.battery_box);
        let mut without = places;
        while let Some(own) = let_in.iter().position(is_own).filter(|_| without > 0) {
            let what = let_in.remove(own).words(self.job);
            list.pieces(what, 1, Spare::None, false, need.clone());
            without -= 1;
        }
        list.pieces(
            "service disconnect with its plug".to_owned(),
            without,
            Spare::None,
            false,
            format!("set into the chain, let into no wall yet; {need}"),
        );
    }
}

/// A disconnect that is let into a wall.
struct LetIn {
    battery_box: Id,
    hole: Length,
}

impl LetIn {
    fn all(evaluation: &Evaluation) -> Vec<Self> {
        let boxes = evaluation.boxes.iter();
        boxes
            .flat_map(|b| {
                let own = b.fittings.iter();
                let own = own.filter(|f| f.what == FittingName::Disconnect && f.fault.is_none());
                own.map(|f| Self {
                    battery_box: b.id,
                    hole: f.hole,
                })
            })
            .collect()
    }

    fn words(&self, job: &Job) -> String {
        let hole = tape::show::hole(self.hole, job.units.units());
        format!("service disconnect with its plug, for a hole of {hole}")
    }
}

/// What stands before a figure that rests on a value nobody entered.
const fn mark(assumed: bool) -> &'static str {
    if assumed { "~" } else { "" }
}

/// Down to three figures, whole from a hundred on: what is at most so much.
fn figures_down(amount: f64) -> f64 {
    let steps = match amount {
        _ if amount >= 100.0 => 1.0,
        _ if amount >= 10.0 => 10.0,
        _ if amount >= 1.0 => 100.0,
        // Less than a thousandth is left as it is.
        _ if amount >= 0.001 => 1000.0,
        _ => return amount,
    };
    (amount * steps + 1e-9).floor() / steps
}

/// `up to 200 A`.
fn flows(amps: f64) -> String {
    if amps > 0.0 {
        format!("up to {:.0} A", whole_up(amps))
    } else {
        "amps that are not known".to_owned()
    }
}

/// The sections of the links that are of a sort, each once.
fn sections(wiring: &WiringResult, is_of: impl Fn(&Section) -> bool) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    for link in &wiring.links {
        if !found.contains(&link.section) && Section::from_text(&link.section).is_ok_and(|section| is_of(&section)) {
            found.push(link.section.clone());
        }
    }
    found
}

/// The links of a section; a disconnect takes the place of a link in a box, and is set into a cable outside.
fn of_section<'a>(wiring: &'a WiringResult, section: &'a str) -> impl Iterator<Item = &'a LinkResult> {
    let is_made = |link: &&LinkResult| !link.disconnect || link.kind.is_cable();
    wiring
        .links
        .iter()
        .filter(is_made)
        .filter(move |link| link.section == section)
}

/// Glands for the cables that cross walls and have none let in that seals on them; those that are let in are listed with the
/// walls.
fn glands(evaluation: &Evaluation, list: &mut List) {
    for battery_box in &evaluation.boxes {
        let exits: Vec<_> = evaluation.exits_of(battery_box.id).collect();
        let let_in = evaluation.glands_of(battery_box).count();
        let (Some(exit), without) = (exits.first(), exits.len().saturating_sub(let_in)) else {
            continue;
        };
        let outside = exit.outside.as_mm();
        let (what, range) = match for_cable(exit.outside) {
            Some(gland) => {
                let [least, most] = gland.seals.map(Length::as_mm);
                (
                    format!("cable gland {} for a cable {outside:.1} mm outside", gland.name),
                    format!("seals on {least} to {most} mm, {}", gland::SOURCE),
                )
            }
            None => (
                format!("cable gland for a cable {outside:.1} mm outside"),
                "no usual gland seals on it".to_owned(),
            ),
        };
        list.pieces(
            what,
            without,
            Spare::None,
            exit.is_typical,
            format!("not let into a wall yet: packwright glands; {range}"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_at_most_so_much_is_rounded_down_and_never_to_nothing() {
        let down = [333.8, 40.0, 39.999, 5.678, 0.9996, 0.0004].map(|ohms| figures_down(ohms).to_string());
        assert_eq!(down, ["333", "40", "39.9", "5.67", "0.999", "0.0004"]);
    }
}
