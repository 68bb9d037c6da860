//! What was checked of protection and conductors, each against its limit and with its source.

use pack::arrangement::Figures;
use pack::conductor::{BEND_SOURCE, Section};
use pack::hazard::{Current, VoltageClass, voltage_class};
use pack::protection::distance::{self, Group, Pollution};
use pack::protection::isolation::{self, Readings};
use pack::protection::{adiabatic, bleed, bonding, fuse, precharge, short_circuit, touch};
use tape::Length;
use tape::show::inches_first;

use super::load::Resistances;
use super::wiring::{LinkKind, WiringResult};
use super::{Check, Electric, Verdict};
use crate::document::{Figure, Figures as Entered, Joined};
use crate::finding::Grave;
use crate::{Job, assumed};

/// What the checks are made from.
struct Look<'a> {
    job: &'a Job,
    entered: &'a Entered,
    figures: &'a Figures,
    /// Full volts.
    full: f64,
    resistances: &'a Resistances,
    wiring: Option<&'a WiringResult>,
    joined: Joined,
    parallel: u32,
    /// Amps for long, and whose they are.
    amps: Option<f64>,
}

pub(super) fn checks(job: &Job, figures: &Figures, electric: &Electric, parallel: u32) -> Vec<Check> {
    let look = Look {
        job,
        entered: &job.electrics.figures,
        figures,
        full: figures.volts.full.get(),
        resistances: &electric.resistances,
        wiring: electric.wiring.as_ref(),
        joined: electric.joined,
        parallel,
        amps: job.drive.continuous_amps.map(pack::Amps::get),
    };
    let mut found = vec![class(&look)];
    let short = short_circuit_check(&look, &mut found);
    let fuse = main_fuse(&look, short, &mut found);
    conductors(&look, fuse, short, &mut found);
    string_fuse(&look, &mut found);
    contactor(&look, &mut found);
    disconnect(&look, &mut found);
    capacitors(&look, &mut found);
    insulation(&look, &mut found);
    bond(&look, &mut found);
    distances(&look, &mut found);
    found.push(
        figure(
            "touching",
            format!("covers under the bed: {}", touch::degree(touch::Place::Elsewhere)),
            touch::SOURCE.words(),
        )
        .beside("IPXXD where people or luggage are; covers open only with a tool"),
    );
    found
}

fn figure(topic: &'static str, words: String, source: String) -> Check {
    Check {
        topic,
        words,
        limit: String::new(),
        verdict: Verdict::Figure,
        source,
        fix: String::new(),
    }
}

fn open(topic: &'static str, limit: String, source: String, fix: &str) -> Check {
    figure(topic, "not entered".to_owned(), source).open(limit, fix)
}

impl Check {
    /// Held against a limit: `fix` is told when it is not met.
    fn held(self, limit: String, is_met: bool, otherwise: Grave, fix: impl Into<String>) -> Self {
        let (verdict, fix) = if is_met {
            (Verdict::Met, String::new())
        } else {
            (Verdict::NotMet(otherwise), fix.into())
        };
        Self {
            limit,
            verdict,
            fix,
            ..self
        }
    }

    /// Not to be told until `fix` is done.
    fn open(self, limit: String, fix: &str) -> Self {
        Self {
            limit,
            verdict: Verdict::Open,
            fix: fix.to_owned(),
            ..self
        }
    }

    /// A figure with the limit that it is to be read with.
    fn beside(self, limit: impl Into<String>) -> Self {
        Self {
            limit: limit.into(),
            ..self
        }
    }
}

/// A figure with as many decimals as it is worth.
fn few(value: f64) -> String {
    let decimals = match value.abs() {
        v if v >= 100.0 => 0,
        v if v >= 10.0 => 1,
        v if v >= 1.0 => 2,
        _ => 3,
    };
    let text = format!("{value:.decimals$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

fn class(look: &Look<'_>) -> Check {
    let class = voltage_class(look.figures.volts.full, Current::Dc);
    let words = format!("full {} V dc is voltage class {}", few(look.full), class.name());
    let source = format!("{} ({})", VoltageClass::SOURCE, VoltageClass::KNOWN_BY);
    let limit = "class A up to 60 V dc; above it touching can kill".to_owned();
    let check = figure("voltage class", words, source);
    match class {
        VoltageClass::A | VoltageClass::B => check.beside(limit),
        VoltageClass::Outside => check.held(limit, false, Grave::Stop, "put fewer modules in series"),
    }
}

fn short_circuit_check(look: &Look<'_>, found: &mut Vec<Check>) -> Option<f64> {
    let modules = look.resistances.in_a_short.map(pack::Ohms::milliohms);
    // At the pack's own ends, with nothing but its modules: cold links and no leads are what the fuse has to break.
    let short = modules.and_then(|modules| {
        short_circuit::short_circuit(look.full, modules, 0.0, look.entered.sure(Figure::LoopInductance))
    });
    found.push(match &short {
        Some(short) => figure(
            "short circuit",
            format!(
                "a dead short at the pack draws up to {} kA, rising in {} ms",
                few(short.amps / 1000.0),
                few(short.tau_s * 1000.0)
            ),
            "Ohm's law, Voc / R of the modules alone, at the pack's own ends; the rise by L / R".to_owned(),
        ),
        None => open(
            "short circuit",
            String::new(),
            "Ohm's law".to_owned(),
            "enter the modules' resistance: good modules are the hard case",
        ),
    });
    short.map(|s| s.amps)
}

/// The main fuse; the rating that the cable has to carry.
fn main_fuse(look: &Look<'_>, short: Option<f64>, found: &mut Vec<Check>) -> Option<f64> {
    let load = look.entered.sure(Figure::FuseLoad) / 100.0;
    let warm = look.entered.sure(Figure::FuseWarm) / 100.0;
    let least = look.amps.map(|amps| fuse::least_rating(amps, load, warm));
    let picked = least.and_then(fuse::pick).map(f64::from);
    let entered = look.entered.get(Figure::FuseAmps);
    let limit = least.map_or(String::new(), |least| format!("at least {} A", few(least)));
    let amps = few(look.amps.unwrap_or(0.0));
    let check = |words: String| figure("main fuse", words, fuse::LOAD_SOURCE.words());
    found.push(match (entered, least, picked) {
        (Some(rating), Some(least), _) => check(format!("{} A for {amps} A continuous", few(rating))).held(
            limit,
            rating >= least,
            Grave::Caution,
            picked.map_or(String::new(), |p| format!("take {} A", few(p))),
        ),
        (None, Some(_), Some(picked)) => figure(
            "main fuse",
            format!("{} A is the smallest that carries {amps} A for long", few(picked)),
            format!(
                "{}; ratings: {}",
                fuse::LOAD_SOURCE.words(),
                fuse::RATINGS_SOURCE.words()
            ),
        )
        .open(limit, "enter the fuse that you bought"),
        (Some(rating), None, _) => check(unheld(rating, "A")).open(limit, "enter the drive's continuous amps"),
        (None, Some(_), None) => check("more than any rating listed".to_owned())
            .open(limit, "ask its maker, or put strings in parallel with a fuse each"),
        (None, None, _) => open(
            "main fuse",
            limit,
            fuse::LOAD_SOURCE.words(),
            "enter the drive's continuous amps, and the fuse",
        ),
    });
    let (topic, limit) = ("main fuse, dc volts", format!("at least full {} V", few(look.full)));
    let source = fuse::VOLTS_SOURCE.words();
    found.push(match look.entered.get(Figure::FuseVolts) {
        Some(volts) => figure(topic, format!("{} V dc", few(volts)), source).held(
            limit,
            volts >= look.full,
            Grave::Stop,
            "take a fuse for more dc volts",
        ),
        None => open(topic, limit, source, "enter its dc volts from its data sheet"),
    });
    breaks(look, short, found);
    entered.or(picked)
}

/// Whether the main fuse breaks the short circuit.
fn breaks(look: &Look<'_>, short: Option<f64>, found: &mut Vec<Check>) {
    let (topic, source) = ("main fuse, breaks", fuse::BREAKING_SOURCE.words());
    let limit = short.map_or(String::new(), |short| format!("at least {} kA", few(short / 1000.0)));
    found.push(match (look.entered.get(Figure::FuseKa), short) {
        (Some(ka), Some(short)) => figure(topic, format!("{} kA dc", few(ka)), source).held(
            limit,
            ka * 1000.0 >= short,
            Grave::Stop,
            "take a fuse that breaks more",
        ),
        (Some(ka), None) => figure(
            topic,
            format!("{} kA dc; the short circuit is not known", few(ka)),
            source,
        )
        .open(limit, "enter the modules' resistance"),
        (None, _) => open(topic, limit, source, "enter its breaking capacity at dc"),
    });
}

/// What was entered of a part while its limit is not known.
fn unheld(value: f64, unit: &str) -> String {
    format!("{} {unit}; what it has to carry is not known", few(value))
}

fn conductors(look: &Look<'_>, fuse: Option<f64>, short: Option<f64>, found: &mut Vec<Check>) {
    let electrics = &look.job.electrics;
    let insulation = look.entered.sure(Figure::InsulationTemp);
    let ambient = look.entered.sure(Figure::Ambient);
    cable(
        look,
        &assumed::cable(electrics),
        fuse,
        short,
        [insulation, ambient],
        found,
    );
    links(look, &assumed::link(electrics), fuse, [insulation, ambient], found);
    if let Some(wiring) = look.wiring
        && let Some(amps) = look.amps
    {
        let leads: f64 = wiring
            .links
            .iter()
            .filter(|l| l.kind == LinkKind::Drive)
            .filter_map(|l| l.drop.map(pack::Volts::get))
            .sum();
        found.push(figure(
            "drop",
            format!("leads to the drive drop {} V both ways at {} A", few(leads), few(amps)),
            "Ohm's law; IEC 60228 class 5 or the section's area, warm".to_owned(),
        ));
    }
}

/// The leads: what they carry for long, what they outlive, how they bend.
fn cable(
    look: &Look<'_>,
    cable: &Section,
    fuse: Option<f64>,
    short: Option<f64>,
    [insulation, ambient]: [f64; 2],
    found: &mut Vec<Check>,
) {
    let table = cable.carries(insulation, ambient);
    let (carries, source) = match (look.entered.get(Figure::CableAmps), table) {
        (Some(amps), _) => (Some(amps), "your entry, from the cable's maker".to_owned()),
        (None, Some(t)) => (
            Some(t.amps),
            format!(
                "guidance for fixed wiring, the maker's figure wins: {} ({})",
                t.source.words(),
                t.conditions
            ),
        ),
        (None, None) => (None, String::new()),
    };
    let limit = match (fuse, look.amps) {
        (Some(fuse), _) => format!("at least the fuse's {} A", few(fuse)),
        (None, Some(amps)) => format!("at least {} A", few(amps)),
        (None, None) => String::new(),
    };
    found.push(match (carries, fuse.or(look.amps)) {
        (Some(carries), Some(needs)) => figure(
            "cable",
            format!("{cable} carries {} A for long in {} C air", few(carries), few(ambient)),
            format!("{source}; {}", fuse::CABLE_SOURCE.words()),
        )
        .held(
            limit,
            carries >= needs,
            Grave::Caution,
            "take a thicker cable, or a smaller fuse",
        ),
        (Some(carries), None) => figure("cable", format!("{cable} carries {} A for long", few(carries)), source),
        (None, _) => open("cable", limit, source, "enter what its maker allows"),
    });
    if let Some(short) = short {
        let k = adiabatic::copper_for(insulation);
        let longest = adiabatic::longest_s(short, cable.area_mm2(), k.k).min(adiabatic::LONGEST_S);
        let words = format!(
            "{cable} outlives {} kA for {} s ({})",
            few(short / 1000.0),
            few(longest),
            k.name
        );
        found.push(
            figure("cable in a short", words, adiabatic::SOURCE.words())
                .beside("the fuse has to be quicker: see its melting curve at that current"),
        );
    }
    bend(look, cable, found);
}

/// Links have to carry what the fuse before them lets through for long; the string's own fuse in a string.
fn links(look: &Look<'_>, link: &Section, fuse: Option<f64>, [insulation, ambient]: [f64; 2], found: &mut Vec<Check>) {
    let share = match look.joined {
        Joined::Strings => 1.0 / f64::from(look.parallel.max(1)),
        Joined::Groups => 1.0,
    };
    let fuse = match look.joined {
        Joined::Strings if look.parallel > 1 => look.entered.get(Figure::StringFuse),
        _ => fuse,
    };
    let whose = if fuse.is_some() { "the fuse's " } else { "" };
    match (
        link.carries(insulation, ambient),
        fuse.or(look.amps.map(|amps| amps * share)),
    ) {
        (Some(carries), Some(needs)) => found.push(
            figure(
                "links",
                format!("{link} carries {} A for long", few(carries.amps)),
                format!("{}; {}", carries.source.words(), carries.conditions),
            )
            .held(
                format!("at least {whose}{} A", few(needs)),
                carries.amps >= needs,
                Grave::Caution,
                "take a wider bar or a thicker cable",
            ),
        ),
        (Some(carries), None) => found.push(figure(
            "links",
            format!("{link} carries {} A for long", few(carries.amps)),
            carries.source.words(),
        )),
        (None, needs) => found.push(
            figure(
                "links",
                format!(
                    "no table at hand tells what {link} carries with insulation for {} C",
                    few(insulation)
                ),
                String::new(),
            )
            .open(
                needs.map_or(String::new(), |needs| format!("at least {whose}{} A", few(needs))),
                "see the figure of its maker, or take a section that the tables have",
            ),
        ),
    }
}

/// Millimetres with as few decimals as tell them; for a person who works in inches those first, to a thousandth.
fn both(mm: f64, look: &Look<'_>) -> String {
    inches_first(format!("{} mm", few(mm)), look.job.units.units(), || {
        format!("{:.3}\"", mm / 25.4)
    })
}

/// Whether a cable's bend fits the bay that boxes have for it.
fn bend(look: &Look<'_>, cable: &Section, found: &mut Vec<Check>) {
    let outside = look.entered.get(Figure::CableOutside);
    let times = look.entered.sure(Figure::BendTimes);
    let diameter = outside.unwrap_or_else(|| cable.typical_outside_mm());
    let needs = Length::from_mm(diameter * (times + 0.5));
    let has = look.job.design.bay.as_ref().map_or(Length::ZERO, crate::Len::value);
    let guess = if outside.is_some() {
        ""
    } else {
        " (typical, from memory: measure it)"
    };
    let words = format!(
        "{cable} of {} outside{guess} bends to {}; with its half thickness {}",
        both(diameter, look),
        both(diameter * times, look),
        both(needs.as_mm(), look)
    );
    let check = figure("cable bend", words, BEND_SOURCE.words());
    found.push(if has == Length::ZERO {
        check.open(
            "no bay is kept for it in the boxes".to_owned(),
            "enter a bay on the Boxes page, or lead the cable straight out",
        )
    } else {
        check.held(
            format!("the bay of {}", both(has.as_mm(), look)),
            needs <= has,
            Grave::Caution,
            "keep a deeper bay, or lead the cable straight out",
        )
    });
}

fn string_fuse(look: &Look<'_>, found: &mut Vec<Check>) {
    if look.joined != Joined::Strings || look.parallel < 2 {
        return;
    }
    let load = look.entered.sure(Figure::FuseLoad) / 100.0;
    let warm = look.entered.sure(Figure::FuseWarm) / 100.0;
    let least = look
        .amps
        .map(|amps| fuse::least_rating(amps / f64::from(look.parallel), load, warm));
    let limit = least.map_or(String::new(), |least| {
        format!("at least {} A, in every string", few(least))
    });
    let topic = "string fuse";
    found.push(match (look.entered.get(Figure::StringFuse), least) {
        (Some(rating), Some(least)) => figure(
            topic,
            format!("{} A in each of {} strings", few(rating), look.parallel),
            fuse::LOAD_SOURCE.words(),
        )
        .held(limit, rating >= least, Grave::Caution, "take a larger one"),
        (Some(rating), None) => figure(topic, unheld(rating, "A"), fuse::LOAD_SOURCE.words())
            .open(limit, "enter the drive's continuous amps"),
        (None, _) => open(
            topic,
            limit,
            "common practice, no source: a string that fails must not be fed by the others".to_owned(),
            "enter the fuse of each string",
        ),
    });
}

fn contactor(look: &Look<'_>, found: &mut Vec<Check>) {
    let source = || "your entries; common practice: one contactor in each pole at the pack's end".to_owned();
    let entered = [
        (Figure::ContactorAmps, "contactor, amps", look.amps, "A"),
        (Figure::ContactorVolts, "contactor, dc volts", Some(look.full), "V"),
    ];
    for (of, topic, least, unit) in entered {
        let limit = least.map_or(String::new(), |least| format!("at least {} {unit}", few(least)));
        found.push(match (look.entered.get(of), least) {
            (Some(has), Some(least)) => figure(topic, format!("{} {unit}", few(has)), source()).held(
                limit,
                has >= least,
                Grave::Stop,
                "take a contactor for more",
            ),
            (Some(has), None) => {
                figure(topic, unheld(has, unit), source()).open(limit, "enter the drive's continuous amps")
            }
            (None, _) => open(topic, limit, source(), "enter it from its data sheet"),
        });
    }
}

fn disconnect(look: &Look<'_>, found: &mut Vec<Check>) {
    let Some(open) = look.wiring.and_then(|w| w.disconnect.as_ref()) else {
        return;
    };
    let [first, second] = open.halves.map(|v| v.shown(1));
    let class = if open.class_a {
        "both halves are of class A then"
    } else {
        "a half above 60 V stays live and can kill"
    };
    let each = if look.joined == Joined::Strings && look.parallel > 1 {
        ", one in every string,"
    } else {
        ""
    };
    found.push(
        figure(
            "service disconnect",
            format!(
                "behind {} in series{each} it leaves {first} V and {second} V",
                open.after
            ),
            "Ohm's law of sums; usual order (from memory, check it): fuse at or in the disconnect".to_owned(),
        )
        .beside(class),
    );
}

/// Whether a figure is the person's or ours.
fn whose(look: &Look<'_>, figure: Figure) -> &'static str {
    if look.entered.is_given(figure) {
        "your"
    } else {
        "an assumed"
    }
}

fn capacitors(look: &Look<'_>, found: &mut Vec<Check>) {
    let Some(farads) = look
        .entered
        .get(Figure::DriveCapacitors)
        .map(|uf| uf * 1e-6)
        .filter(|f| *f > 0.0)
    else {
        found.push(open(
            "pre-charge",
            String::new(),
            "charging a capacitor through a resistor".to_owned(),
            "enter the drive's capacitors: without pre-charge they weld the contactor",
        ));
        return;
    };
    let level = look.entered.sure(Figure::PrechargeLevel) / 100.0;
    let within = look.entered.sure(Figure::PrechargeSeconds);
    let sized = precharge::resistor(look.full, farads, level, within.max(0.001));
    let ohms = look.entered.get(Figure::PrechargeOhms).filter(|o| *o > 0.0);
    let used = ohms.unwrap_or(sized.ohms);
    let seconds = precharge::seconds_to(used, farads, level);
    let joules = precharge::taken_j(look.full, farads, level);
    let words = format!(
        "{} ohm: {} % in {} s; {} W at first, {} J each time",
        few(used),
        few(level * 100.0),
        few(seconds),
        few(look.full * look.full / used),
        few(joules)
    );
    let check = figure(
        "pre-charge",
        words,
        format!(
            "charging a capacitor through a resistor; {} time, {} level",
            whose(look, Figure::PrechargeSeconds),
            whose(look, Figure::PrechargeLevel)
        ),
    );
    let limit = format!(
        "within {} s; a resistor that takes the joules in one pulse",
        few(within)
    );
    found.push(if ohms.is_some() {
        check.held(
            limit,
            seconds <= within * (1.0 + 1e-9),
            Grave::Caution,
            format!("take at most {} ohm", few(sized.ohms)),
        )
    } else {
        check.beside(limit)
    });
    let limit_s = look.entered.sure(Figure::BleedSeconds);
    let largest = bleed::largest_ohms(look.full, farads, limit_s);
    let source = format!("{}; {}", bleed::CRASH_SOURCE.words(), bleed::LIMIT_SOURCE.words());
    match (look.entered.get(Figure::BleedOhms).filter(|o| *o > 0.0), largest) {
        (Some(ohms), _) => {
            let seconds = bleed::seconds_to_class_a(look.full, farads, ohms);
            let words = format!(
                "{} ohm: 60 V after {} s, {} W all the time; then {} J are left",
                few(ohms),
                few(seconds),
                few(bleed::standing_w(look.full, ohms)),
                few(precharge::stored_j(bleed::TO_VOLTS.min(look.full), farads))
            );
            found.push(figure("bleed-down", words, source).held(
                format!("within {} s ({} time)", few(limit_s), whose(look, Figure::BleedSeconds)),
                seconds <= limit_s,
                Grave::Caution,
                largest.map_or(String::new(), |o| format!("take at most {} ohm", few(o))),
            ));
        }
        (None, Some(ohms)) => {
            let words = format!(
                "at most {} ohm across the drive's capacitors, {} W all the time",
                few(ohms),
                few(bleed::standing_w(look.full, ohms))
            );
            found.push(figure("bleed-down", words, source).beside(format!(
                "60 V within {} s ({} time)",
                few(limit_s),
                whose(look, Figure::BleedSeconds)
            )));
        }
        (None, None) => {}
    }
}

fn insulation(look: &Look<'_>, found: &mut Vec<Check>) {
    let per_volt = look.entered.sure(Figure::OhmsPerVolt);
    let least = isolation::least_kohm(look.full, per_volt);
    let limit = format!(
        "at least {} kohm: {} ohm/V of full {} V",
        few(least),
        few(per_volt),
        few(look.full)
    );
    let read = |figure| look.entered.get(figure);
    let readings = (|| {
        Some(Readings {
            pack: read(Figure::IsolationPack)?,
            minus: read(Figure::IsolationMinus)?,
            plus: read(Figure::IsolationPlus)?,
            resistor_kohm: read(Figure::IsolationResistor)?,
            with_resistor: read(Figure::IsolationAfter)?,
        })
    })();
    let source = format!("{}; {}", isolation::SOURCE.words(), isolation::METHOD_SOURCE.words());
    let check = |words: String| figure("insulation", words, source);
    found.push(match readings.map(|r| r.kohm()) {
        None => check("not measured".to_owned()).open(
            limit,
            "measure it before the first start, dry and after wetting, and enter the readings",
        ),
        Some(None) => check("the readings make no sense: with the resistor the volts have to fall".to_owned()).held(
            limit,
            false,
            Grave::Caution,
            "put the resistor across the pole with the larger reading and read that again",
        ),
        Some(Some(kohm)) => check(format!(
            "{} kohm measured, {} ohm/V",
            few(kohm),
            few(kohm * 1000.0 / look.full)
        ))
        .held(
            limit,
            kohm >= least,
            Grave::Stop,
            "do not switch on: look for damp, a chafed cable, a leaking module",
        ),
    });
    if let Some(uf) = look.entered.get(Figure::YCapacitance) {
        let joules = touch::y_energy_j(uf, look.full);
        let words = format!("{} uF hold {} J", few(uf), few(joules));
        found.push(
            figure("capacitors to chassis", words, bleed::ENERGY_SOURCE.words()).held(
                format!("under {} J, {} uF", bleed::HARMLESS_J, few(touch::y_most_uf(look.full))),
                joules < bleed::HARMLESS_J,
                Grave::Caution,
                "touch nothing for as long as they take to empty",
            ),
        );
    }
}

fn bond(look: &Look<'_>, found: &mut Vec<Check>) {
    let limit = "below 0.1 ohm at 0.2 A or more, every box to chassis; no paint under it".to_owned();
    let read = look
        .entered
        .get(Figure::BondMillivolts)
        .zip(look.entered.get(Figure::BondAmps));
    let check = |words: String| figure("bond to chassis", words, bonding::SOURCE.words());
    found.push(match read {
        Some((millivolts, amps)) => {
            let ohms = bonding::ohms(millivolts, amps).map_or("no amps".to_owned(), |o| format!("{} ohm", few(o)));
            check(format!("{ohms} at {} A", few(amps))).held(
                limit,
                bonding::passes(millivolts, amps),
                Grave::Caution,
                "take the paint off, or measure with more amps",
            )
        }
        None => check("not measured".to_owned()).open(limit, "measure each box, and enter the worst"),
    });
}

fn distances(look: &Look<'_>, found: &mut Vec<Check>) {
    let two = look.entered.sure(Figure::Pollution) < 2.5;
    let (pollution, degree) = if two {
        (Pollution::Two, 2)
    } else {
        (Pollution::Three, 3)
    };
    let (group, name) = match look.entered.sure(Figure::MaterialGroup) {
        g if g < 1.5 => (Group::I, "I"),
        g if g < 2.5 => (Group::II, "II"),
        _ => (Group::III, "III"),
    };
    found.push(match distance::creepage(look.full, pollution, group) {
        Some(creepage) => figure(
            "creepage",
            format!(
                "{} over surfaces between poles and to chassis ({} V row, pollution degree {degree}, group {name})",
                both(creepage.basic_mm, look),
                creepage.row_volts
            ),
            distance::CREEPAGE_SOURCE.words(),
        )
        .beside(format!(
            "twice that, {}, for reinforced insulation (from memory, check it)",
            both(creepage.reinforced_mm, look)
        )),
        None => open(
            "creepage",
            "beyond the table's 1000 V".to_owned(),
            distance::CREEPAGE_SOURCE.words(),
            "ask someone licensed",
        ),
    });
    let (impulse, altitude) = (look.entered.sure(Figure::Impulse), look.entered.sure(Figure::Altitude));
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "metres within the range"
    )]
    let higher = distance::altitude_source(altitude.ceil() as u32);
    let source = if altitude > 2000.0 {
        format!("{}; {}", distance::clearance_source(impulse).words(), higher.words())
    } else {
        distance::clearance_source(impulse).words()
    };
    let topic = "clearance through air";
    found.push(match distance::clearance(impulse, altitude, pollution) {
        Some([_, mm]) => figure(
            topic,
            format!(
                "{} for {} kV impulse at {} m",
                both(mm, look),
                few(impulse),
                few(altitude)
            ),
            source,
        ),
        None => figure(
            topic,
            format!("no figure for {} kV at {} m", few(impulse), few(altitude)),
            source,
        )
        .open(String::new(), "ask someone licensed"),
    });
}
