//! Findings of the truck on the road.

use pack::hazard::VoltageClass;
use truck::charge::CONTINUOUS_SHARE;
use truck::gear::Suits;
use truck::sun::step_up::{Advice, RATIO_SOURCE};

use super::{Look, finding};
use crate::evaluate::{PanelReach, RoadResult};
use crate::finding::{Finding, Grave, Subject};

const NAME: &str = "road";
const CUT_OUT: &str = "from memory, check it: cells must not be charged beyond their highest volts, and panels charge \
                       while nobody is there";

const STRAIGHT_THROUGH: &str = "a step-up stage has a coil and a diode from its entry to its exit: what is higher at the \
                                entry goes through";

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    let road = &look.evaluation.road;
    troubles(road, findings);
    if !road.is_asked {
        return;
    }
    packs(road, findings);
    range(road, findings);
    power(road, findings);
    gears(road, findings);
    circuit(road, findings);
    sun(road, findings);
}

fn say(grave: Grave, words: String, source: String, fix: &str) -> Finding {
    finding(grave, Subject::Road, NAME, words, source, fix)
}

fn troubles(road: &RoadResult, findings: &mut Vec<Finding>) {
    for words in &road.troubles {
        findings.push(say(
            Grave::Caution,
            words.clone(),
            String::new(),
            "mend the entry; what rests on it is not told until then",
        ));
    }
}

/// Which packs range and charging count, where that is not plain.
fn packs(road: &RoadResult, findings: &mut Vec<Finding>) {
    if !road.rests_on_packs() {
        return;
    }
    for apart in &road.apart {
        let words = format!("range and charging leave {} out: {}", apart.name, apart.why);
        let fix = "make it go on the drive, take it out, or enter the usable energy yourself";
        findings.push(say(Grave::Caution, words, String::new(), fix));
    }
    if road.drives.len() > 1 {
        let names: Vec<&str> = road.drives.iter().map(|pack| pack.name.as_str()).collect();
        let words = format!("range and charging count {} together", names.join(" and "));
        let fix = "each needs its own contactor and fuse at the drive and its own charge line; never join them while \
                   their volts differ";
        findings.push(say(Grave::Note, words, "common practice, no source".to_owned(), fix));
    }
    for pack in road.drives.iter().filter(|pack| pack.missing > 0) {
        let words = format!(
            "range and charging count a whole string of {}: {} still missing",
            pack.name, pack.missing
        );
        findings.push(say(Grave::Note, words, String::new(), "place the rest"));
    }
}

fn range(road: &RoadResult, findings: &mut Vec<Finding>) {
    let Some((wanted_m, range)) = road.wanted_m.zip(road.driven.as_ref().and_then(|driven| driven.range)) else {
        return;
    };
    if wanted_m <= range.winter.everyday_m {
        return;
    }
    let when = if wanted_m > range.summer.cycle_m {
        "not even on a warm day with a gentle foot"
    } else if wanted_m > range.summer.everyday_m && wanted_m > range.winter.cycle_m {
        "only on a warm day with a gentle foot"
    } else if wanted_m > range.summer.everyday_m {
        "with a gentle foot only"
    } else if wanted_m > range.winter.cycle_m {
        "in summer, but not in winter"
    } else {
        "in summer, in winter with a gentle foot only"
    };
    let words = format!(
        "{} wanted in a day: {when}; it goes {} in summer and {} in winter",
        road.distance(wanted_m),
        road.band(range.summer),
        road.band(range.winter)
    );
    findings.push(say(
        Grave::Caution,
        words,
        String::new(),
        "more modules, a lower speed, less heat, or charging on the way",
    ));
}

fn power(road: &RoadResult, findings: &mut Vec<Finding>) {
    let over = road.driven.iter().flat_map(|driven| &driven.over);
    for over in over {
        let (asked, there_is) = (over.asked_w / 1_000.0, over.there_is_w / 1_000.0);
        let (place, what, fix) = match over.of {
            "motor" => (
                "at the wheels",
                "the motor's peak",
                "a stronger motor, less mass, or gentler driving",
            ),
            _ => (
                "from the pack",
                "the drive's peak amps at nominal volts",
                "a drive or pack for more amps or volts, less mass, or gentler driving",
            ),
        };
        let grave = if over.is_everyday { Grave::Caution } else { Grave::Note };
        let words = format!(
            "{} asks for {asked:.0} kW {place}, {what} is {there_is:.0} kW: it does not keep up there",
            over.asks
        );
        findings.push(say(grave, words, String::new(), fix));
    }
}

fn gears(road: &RoadResult, findings: &mut Vec<Finding>) {
    let Some(gears) = &road.gears else {
        return;
    };
    let over: Vec<&super::super::GearRow> = gears
        .rows
        .iter()
        .filter(|row| row.at_top.1 == Suits::OverLimit)
        .collect();
    let Some(slowest) = over.last() else {
        return;
    };
    let top = road.speed(road.top_mps);
    let numbers: Vec<String> = over.iter().map(|row| row.number.to_string()).collect();
    let words = format!(
        "at {top} the motor turns {:.0} rpm in gear {}, over its limit of {:.0}",
        slowest.at_top.0, slowest.number, gears.limit_rpm
    );
    if over.len() == gears.rows.len() {
        let fix = format!(
            "keep below {}, or a longer gear or final drive",
            road.speed(slowest.top_mps)
        );
        findings.push(say(Grave::Caution, words, String::new(), &fix));
    } else {
        let fix = format!("at that speed no gear of: {}", numbers.join(", "));
        findings.push(say(Grave::Note, words, String::new(), &fix));
    }
    if gears.best.is_none() {
        findings.push(say(
            Grave::Caution,
            format!("at {}: {}", road.speed(road.cruise_mps), gears.best_why),
            String::new(),
            "another final drive, gearbox or motor",
        ));
    }
}

fn circuit(road: &RoadResult, findings: &mut Vec<Finding>) {
    let Some(circuit) = road.circuit.filter(|circuit| circuit.drawn_a > circuit.for_hours_a) else {
        return;
    };
    let words = format!(
        "the charger draws {:.1} A for hours from a circuit of {:.0} A, which gives {:.1} A",
        circuit.drawn_a, circuit.rated_a, circuit.for_hours_a
    );
    findings.push(say(
        Grave::Caution,
        words,
        CONTINUOUS_SHARE.source.words(),
        "set the charger lower, or have a larger circuit put in",
    ));
}

fn sun(road: &RoadResult, findings: &mut Vec<Finding>) {
    let Some(sun) = &road.sun else {
        return;
    };
    match sun.cut_out {
        Some(true) => {}
        Some(false) => findings.push(say(
            Grave::Stop,
            "panels without an over-charge cut-out: a parked truck is charged beyond full when the stage fails"
                .to_owned(),
            CUT_OUT.to_owned(),
            "a contactor or relay that opens at the pack's and each module's highest volts, whatever the stage does",
        )),
        None => findings.push(say(
            Grave::Caution,
            "panels, and nobody said whether they have an over-charge cut-out".to_owned(),
            CUT_OUT.to_owned(),
            "say whether something other than the stage's own setting stops them",
        )),
    }
    if let Some((open, words)) = sun.open.and_then(|open| Some((open, open.words()?))) {
        let grave = match open.reach() {
            PanelReach::Held | PanelReach::Empty => Grave::Caution,
            PanelReach::Full | PanelReach::Absolute => Grave::Stop,
        };
        findings.push(say(grave, words, STRAIGHT_THROUGH.to_owned(), &open.fix()));
    }
    if let Some(words) = sun.odd_words() {
        findings.push(say(Grave::Caution, words, String::new(), &sun.odd_fix()));
    }
    if let Some(step) = sun
        .step
        .filter(|step| step.is_held != Some(false) && step.up.advice != Advice::Plain)
    {
        let words = format!(
            "{:.1} times up from {:.0} V of the panels to {:.0} V of the full pack: {}",
            step.up.ratio,
            step.panel_v,
            step.pack_v,
            step.up.advice.words()
        );
        let fix = step.advised.map_or_else(
            || "more panels in series, or a stage with a transformer".to_owned(),
            |advised| format!("{advised} panels in series, or a stage with a transformer"),
        );
        findings.push(say(Grave::Caution, words, RATIO_SOURCE.words(), &fix));
    }
    if let Some(isolation) = sun
        .isolation
        .filter(|found| found.is_needed() && found.is_isolated != Some(true))
    {
        let words = match isolation.is_isolated {
            Some(_) => {
                "panels and pack are one circuit: leads on the roof are on pack volts, and wet panels pull its insulation down"
            }
            None => "the pack is above 60 V dc, and nobody said whether the panels are apart from it",
        };
        findings.push(say(
            Grave::Caution,
            words.to_owned(),
            format!("{}; {}", VoltageClass::SOURCE, VoltageClass::KNOWN_BY),
            "a step-up stage with a transformer, and insulation watched with the panels on",
        ));
    }
    if let Some(room) = sun.room.filter(|room| !room.fits()) {
        let words = format!(
            "{} panels do not go on in even rows: {} do",
            room.wanted,
            room.laid.count()
        );
        findings.push(say(
            Grave::Caution,
            words,
            String::new(),
            "fewer or smaller panels, or a larger place for them",
        ));
    }
}
