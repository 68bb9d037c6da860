//! Fittings that cannot be let in where they were told, or that modules stand in the way of; and what every closed box
//! wants let in: a breather, a drain, a bond to the chassis, a gland for each cable.

use enclosure::seal::{breath, ip};
use geometry::{Axis, Cuboid, Face};
use pack::hazard::VoltageClass;
use tape::Length;

use super::{Look, finding};
use crate::Figure;
use crate::document::{Closing, FittingName};
use crate::evaluate::{BoxResult, FittingResult};
use crate::finding::{Finding, Grave, Subject};

/// Water that may stay below a drain's hole (common practice, no source).
const PUDDLE: Length = Length::mm(3);

/// How fast the air in a box is taken to warm, minutes (common practice, no source).
const WARMS_WITHIN: f64 = 30.0;

const BREATHES: &str = "dV = V dT / T, dp = p dT / T, ideal gas; 30 minutes are common practice, no source";

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    for battery_box in &look.evaluation.boxes {
        let subject = Subject::Box(battery_box.id);
        let mut say = |grave, words: String, source: &'static str, fix: &str| {
            findings.push(finding(grave, subject, &battery_box.name, words, source, fix));
        };
        for fitting in &battery_box.fittings {
            if let Some(fault) = &fitting.fault {
                say(
                    Grave::Stop,
                    format!("{}: {fault}; it is left out", fitting.label),
                    "",
                    "move it on the Boxes page, or take a smaller one",
                );
            }
            if !fitting.meets.is_empty() {
                let words = format!("{}: it reaches into {}", fitting.label, fitting.meets.join(", "));
                say(
                    Grave::Stop,
                    words,
                    "",
                    "move it, choose another wall, or move the module away",
                );
            }
        }
        for fitting in &battery_box.fittings {
            let Some([low, high]) = fitting.at_band else { continue };
            say(
                Grave::Stop,
                format!(
                    "{}: it runs into what stands out round the wall from {} to {} above the floor inside: flange and lid, a cap's \
                     skirt and what holds it, or the frame",
                    fitting.label,
                    look.down(low),
                    look.up(high)
                ),
                "",
                "move it lower down or higher up the wall on the Boxes page, take a smaller one, or make the box higher",
            );
        }
        for (label, left) in puddles(battery_box) {
            say(
                Grave::Note,
                format!("{label}: {} of water stay below its hole", look.up(left)),
                "common practice, no source: at most 3 mm; the box taken to stand level",
                "let it into the floor, or lower down the wall",
            );
        }
    }
    breather_and_drain(look, findings);
    let closed = look.evaluation.boxes.iter().filter(|b| b.built.is_some());
    findings.extend(together(
        closed,
        Grave::Note,
        "gas that a failing cell gives off wants a way out of its own, led outside, and an opening to look in: nothing here \
         sizes them"
            .to_owned(),
        "no rule of thumb with a source is known here",
        "ask the modules' maker for the area of the outlet, and draw it on the box",
    ));
    for battery_box in &look.evaluation.boxes {
        findings.extend(glands(look, battery_box));
    }
    findings.extend(bond(look));
    findings.extend(code(look));
}

/// Boxes with no breather or no drain.
fn breather_and_drain(look: &Look<'_>, findings: &mut Vec<Finding>) {
    for (what, words, source, fix) in [
        (
            FittingName::Breather,
            String::new(),
            BREATHES,
            "add a breather on the Boxes page, above the wading line",
        ),
        (
            FittingName::Drain,
            "no drain: what condenses or leaks in stays in".to_owned(),
            "common practice, no source",
            "add a drain on the Boxes page, in the floor or at the lowest corner, with a plug",
        ),
    ] {
        let is_breather = what == FittingName::Breather;
        // What is not tight breathes past its lid.
        let is_tight = |b: &BoxResult| b.strength.as_ref().is_some_and(|sums| sums.trapped.is_some());
        let without = look
            .evaluation
            .boxes
            .iter()
            .filter(|b| b.built.is_some() && !has(b, what) && (!is_breather || is_tight(b)));
        let words = if is_breather {
            air(look, &without.clone().collect::<Vec<_>>())
        } else {
            words
        };
        let grave = if is_breather { Grave::Caution } else { Grave::Note };
        findings.extend(together(without, grave, words, source, fix));
    }
}

fn has(battery_box: &BoxResult, what: FittingName) -> bool {
    battery_box.fittings.iter().any(|f| f.what == what && f.fault.is_none())
}

/// One finding for all of these boxes; `None` of none.
fn together<'a>(
    boxes: impl Iterator<Item = &'a BoxResult>,
    grave: Grave,
    words: String,
    source: &'static str,
    fix: &str,
) -> Option<Finding> {
    let boxes: Vec<&BoxResult> = boxes.collect();
    let names: Vec<&str> = boxes.iter().map(|b| b.name.as_str()).collect();
    let first = boxes.first()?;
    Some(finding(
        grave,
        Subject::Box(first.id),
        &names.join(", "),
        words,
        source,
        fix,
    ))
}

/// More cables than glands for them.
fn glands(look: &Look<'_>, battery_box: &BoxResult) -> Option<Finding> {
    let exits: Vec<_> = look.evaluation.exits_of(battery_box.id).collect();
    let glands = look.evaluation.glands_of(battery_box).count();
    let is_gland = |f: &&crate::FittingResult| f.what == FittingName::Gland && f.fault.is_none();
    let others = battery_box.fittings.iter().filter(is_gland).count() - glands;
    if exits.len() <= glands || battery_box.built.is_none() {
        return None;
    }
    let names: Vec<&str> = exits.iter().map(|exit| exit.name.as_str()).collect();
    let outside = exits.first().map_or(Length::ZERO, |exit| exit.outside);
    let outside = tape::show::caliper(outside, look.job.units.units());
    let (to_seal, others) = match others {
        0 => (String::new(), String::new()),
        1 => (
            format!(" that seals on {outside}"),
            "; the size of another does not fit them".to_owned(),
        ),
        _ => (
            format!(" that seals on {outside}"),
            format!("; the sizes of {others} others do not fit them"),
        ),
    };
    let words = format!(
        "{} cable{} its walls ({}), and {} let in{others}",
        exits.len(),
        if exits.len() == 1 { " crosses" } else { "s cross" },
        names.join(", "),
        match glands {
            0 => format!("no gland{to_seal} is"),
            1 => format!("one gland{to_seal} is"),
            glands => format!("{glands} glands{} are", to_seal.replace("seals", "seal")),
        }
    );
    let fix = "let p on the Boxes page propose glands (packwright glands on the command line), or add them by hand";
    let subject = Subject::Box(battery_box.id);
    Some(finding(
        Grave::Note,
        subject,
        &battery_box.name,
        words,
        "the order of the wiring",
        fix,
    ))
}

/// What the air does in that of the boxes without a breather that has most of it; of several, which that is.
fn air(look: &Look<'_>, without: &[&BoxResult]) -> String {
    let warms = look.figure(Figure::LidWarmed).unwrap_or_default();
    let free = |battery_box: &BoxResult| {
        let litres = |cuboid: &Cuboid| cuboid.size().0.map(Length::as_mm).iter().product::<f64>() / 1e6;
        let modules = battery_box.modules.iter().map(|m| m.cuboid);
        let taken = modules.chain(battery_box.step_inside());
        Some(litres(&battery_box.inside?) - taken.map(|cuboid| litres(&cuboid)).sum::<f64>())
    };
    let most = without.iter().filter_map(|b| Some((free(b)?, b.name.as_str())));
    let (litres, name) = most.fold((0.0, ""), |most, one| if one.0 > most.0 { one } else { most });
    let whose = if without.len() > 1 {
        format!(" in {name}")
    } else {
        String::new()
    };
    let air = breath(litres, 293.15, 293.15 + warms, WARMS_WITHIN);
    format!(
        "no breather: {litres:.1} l of air round the modules{whose}, {warms} K warmer, want {:.2} l out and draw them in again, with \
         water past the gasket; within {WARMS_WITHIN:.0} minutes that is {:.0} ml a minute for the breather, and with no way \
         out {:.1} kPa on lid and walls",
        air.volume_l, air.flow_ml_per_min, air.pressure_if_sealed_kpa
    )
}

/// Drains that leave water standing, with how deep.
fn puddles(battery_box: &BoxResult) -> Vec<(&str, Length)> {
    let Some(inside) = battery_box.inside else {
        return Vec::new();
    };
    let left = |fitting: &FittingResult| {
        let wall = !matches!(fitting.wall, Face::Bottom | Face::Top);
        let middle = fitting.middle_up.filter(|_| wall)?;
        Some(middle - fitting.hole.half_down() - inside.lo()[Axis::Z])
    };
    let drains = battery_box
        .fittings
        .iter()
        .filter(|f| f.what == FittingName::Drain && f.fault.is_none());
    drains
        .filter_map(|drain| Some((drain.label.as_str(), left(drain)?)))
        .filter(|(_, left)| *left > PUDDLE)
        .collect()
}

/// Metal boxes without a bond of their own, with more volts in them than may be touched.
fn bond(look: &Look<'_>) -> Option<Finding> {
    let high = |battery_box: &&BoxResult| {
        battery_box.built.is_some()
            && look.evaluation.laid_out().any(|pack| {
                pack.voltage_class().is_some_and(|class| class != VoltageClass::A)
                    && battery_box.modules.iter().any(|m| m.kind == pack.kind)
            })
    };
    let without = look
        .evaluation
        .boxes
        .iter()
        .filter(high)
        .filter(|b| !has(b, FittingName::EarthStud));
    together(
        without,
        Grave::Note,
        "no earth stud: a metal box with more than 60 V dc in it is bonded to the chassis".to_owned(),
        "asked for by common practice; see the local code",
        "add an earth stud on the Boxes page, and keep the metal round it bare",
    )
}

/// What the IP code that is wanted asks for, and what the boxes lack for it.
fn code(look: &Look<'_>) -> Option<Finding> {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "0 to 9 by their rows"
    )]
    let digit = |figure| look.figure(figure).map(|digit| digit as u8);
    let (solids, water) = (digit(Figure::IpSolids), digit(Figure::IpWater));
    if solids.is_none() && water.is_none() {
        return None;
    }
    let mut lacks = Vec::new();
    let tight = solids.is_some_and(|digit| digit >= 5) || water.is_some_and(|digit| digit >= 4);
    if tight && look.build.gasket <= Length::ZERO {
        lacks.push("a gasket under the lid");
    }
    if tight && look.build.closing == Closing::Flat {
        lacks.push("a lid that is screwed down on a flange, or hangs over as a cap");
    }
    if tight && look.build.is_open_at_seams() {
        lacks.push("sealant in the seams between panels and angle: enter its bead");
    }
    let built = || look.evaluation.boxes.iter().filter(|b| b.built.is_some());
    if water.is_some_and(|digit| digit >= 7) && built().any(|b| !has(b, FittingName::Breather)) {
        lacks.push("a breather that stands that water");
    }
    let words = format!(
        "{}. Every gland, breather, drain and plug in it needs that mark, too, and a box is proved by the test alone{}",
        ip::asks(solids, water),
        if lacks.is_empty() {
            String::new()
        } else {
            format!("; this one lacks {}", lacks.join(", "))
        }
    );
    let grave = if lacks.is_empty() { Grave::Note } else { Grave::Caution };
    let fix = "buy fittings with that mark, screw the lid down all round, and try the box with water before anything is in it";
    let mut found = together(built(), grave, words, "", fix)?;
    found.source = format!("{} ({})", ip::SOURCE, crate::evaluate::known_words(ip::KNOWN_BY)).into();
    Some(found)
}

impl Look<'_> {
    /// A figure as entered, else its default.
    pub(super) fn figure(&self, figure: Figure) -> Option<f64> {
        self.job.electrics.figures.get(figure)
    }
}
