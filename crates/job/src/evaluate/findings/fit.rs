//! What does not fit: boxes in cavities, modules in boxes.

use enclosure::cutlist::BoxSummary;
use geometry::{Axis, Cuboid, Face};
use tape::Length;
use truck::lift::{Hands, TWO_PERSONS_KG};

use super::{Look, away, finding};
use crate::evaluate::room::{Free, asked_inside, between, to_keep_outs, to_walls};
use crate::evaluate::vehicle::{kg_words, lift_limit_words, lift_words};
use crate::evaluate::{BoxResult, KindResult, ModuleResult};
use crate::finding::{Finding, Grave, Subject};

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    for (i, battery_box) in look.evaluation.boxes.iter().enumerate() {
        build(look, battery_box, findings);
        in_cavity(look, battery_box, findings);
        for other in &look.evaluation.boxes[i + 1..] {
            if let Some(free) = between(look.evaluation, battery_box, other) {
                clash(look, battery_box, &free, findings);
            }
        }
        modules(look, battery_box, findings);
        mass(look, battery_box, findings);
    }
    for summary in &look.evaluation.cut.list.boxes {
        rounding(look, summary, findings);
    }
}

fn build(look: &Look<'_>, battery_box: &BoxResult, findings: &mut Vec<Finding>) {
    let subject = Subject::Box(battery_box.id);
    if let Some(fault) = &battery_box.fault {
        let fix = "change that value on the Boxes page";
        findings.push(finding(
            Grave::Stop,
            subject,
            &battery_box.name,
            format!("cannot be built: {}", fault.words(look.job.units.units())),
            "",
            fix,
        ));
    }
    if battery_box.inside.is_none() {
        findings.push(finding(
            Grave::Note,
            subject,
            &battery_box.name,
            "is empty, so it has no size",
            "",
            "put modules in it, or remove it",
        ));
    }
}

/// Overlaps and margins in the cavity. One finding for each wall or thing, not one for each face.
fn in_cavity(look: &Look<'_>, battery_box: &BoxResult, findings: &mut Vec<Finding>) {
    for free in to_walls(look.evaluation, battery_box) {
        clash(look, battery_box, &free, findings);
    }
    for (free, of_brackets) in to_keep_outs(look.evaluation, battery_box) {
        if let Some(brackets) = of_brackets.filter(|free| free.is_negative()) {
            let words = format!("its brackets run into {} by {}", free.to, look.up(-brackets));
            let subject = Subject::Box(battery_box.id);
            let fix = "move them or the box on the Boxes page, or take a narrower angle";
            findings.push(finding(Grave::Stop, subject, &battery_box.name, words, "", fix));
        }
        clash(look, battery_box, &free, findings);
    }
}

/// A finding when `free` is below zero (a stop) or below what was asked for (a caution).
fn clash(look: &Look<'_>, battery_box: &BoxResult, free: &Free<'_>, findings: &mut Vec<Finding>) {
    if !free.is_short() {
        return;
    }
    let &Free {
        expected,
        sure,
        asked,
        ref to,
        towards,
    } = free;
    let (grave, words, short) = if expected.is_negative() {
        let words = format!("runs into {to} by {}", look.up(-expected));
        (Grave::Stop, words, -expected)
    } else if sure.is_negative() {
        let words = format!(
            "may run into {to}: {} is expected, but the readings may be off by {}",
            look.down(expected),
            look.up(expected - sure)
        );
        (Grave::Caution, words, asked - sure)
    } else {
        let words = format!(
            "has {} to {to} for sure, less than the margin of {}",
            look.down(sure),
            look.up(asked)
        );
        (Grave::Caution, words, asked - sure)
    };
    let mut fix = match towards {
        Some(face) => fix(
            look,
            battery_box,
            face,
            asked - sure,
            Some(-expected).filter(|_| expected.is_negative()),
        ),
        None => format!("move it away by {}", look.up(short)),
    };
    if grave == Grave::Caution {
        fix.push_str(", or ask for a smaller margin");
    }
    let (subject, name) = (Subject::Box(battery_box.id), &battery_box.name);
    findings.push(finding(grave, subject, name, words, "", fix));
}

/// How to make room at `face`: by moving away from it where the other side has that much to give, else by a smaller
/// box or more space. Of one that runs into something `clear_by` is what it runs in by: less than the margin takes, and it
/// is moved by that where no more can be had.
fn fix(look: &Look<'_>, battery_box: &BoxResult, face: Face, short: Length, clear_by: Option<Length>) -> String {
    let other = battery_box
        .around
        .as_ref()
        .map(|around| &around.faces[face.opposite().index()]);
    match other {
        Some(other) if other.sure() - other.asked < short => {
            if let Some(by) = clear_by.filter(|&by| other.sure() >= by) {
                return format!(
                    "move it {} by {}: it is then clear, the margin still short",
                    away(face),
                    look.up(by)
                );
            }
            let to_share = battery_box
                .around
                .as_ref()
                .map_or(Length::ZERO, |a| a.faces[face.index()].sure())
                + other.sure();
            if to_share.is_negative() {
                return format!(
                    "moving it will not do: it is {} too large from {} to {}; make the box smaller or the space larger",
                    look.up(-to_share),
                    face.name(),
                    face.opposite().name()
                );
            }
            format!(
                "moving it will not do: {} to share between {} and {}; make the box smaller or the space larger",
                look.down(to_share),
                face.name(),
                face.opposite().name()
            )
        }
        _ => format!("move it {} by {}", away(face), look.up(short)),
    }
}

fn modules(look: &Look<'_>, battery_box: &BoxResult, findings: &mut Vec<Finding>) {
    for module in &battery_box.modules {
        if let Some(kind) = look.evaluation.kind(module.kind) {
            stance(module, kind, findings);
        }
        if let Some(by) = &module.blocked_by {
            findings.push(finding(
                Grave::Stop,
                Subject::Module(module.id),
                &module.label,
                format!("{by} stands in its service space: no room for links and a spanner"),
                "",
                format!("move or turn {}, or make its service space smaller", module.label),
            ));
        }
        if let Some(inside) = &battery_box.inside {
            sticks_out(look, battery_box, module, inside, findings);
            in_step(look, battery_box, module, findings);
            room_in_fixed(look, battery_box, module, findings);
        }
    }
    pairs(look, battery_box, findings);
}

fn stance(module: &ModuleResult, kind: &KindResult, findings: &mut Vec<Finding>) {
    let subject = Subject::Module(module.id);
    if !kind.orientations.contains(&module.stands) {
        let words = format!("stands in a way that {} may not", kind.name);
        findings.push(finding(
            Grave::Stop,
            subject,
            &module.label,
            words,
            "",
            "turn it, or allow that way",
        ));
    }
    match &kind.stack {
        Some(stack) if !(stack.min..=stack.max).contains(&module.count) => findings.push(finding(
            Grave::Stop,
            subject,
            &module.label,
            format!(
                "holds {} modules; a stack of {} holds {} to {}",
                module.count, kind.name, stack.min, stack.max
            ),
            "",
            "change the number in the stack",
        )),
        None if module.count > 1 => findings.push(finding(
            Grave::Stop,
            subject,
            &module.label,
            format!("is a stack, but {} is built in loose", kind.name),
            "",
            "set it to 1, or let the kind be clamped in stacks",
        )),
        _ => {}
    }
}

fn sticks_out(look: &Look<'_>, b: &BoxResult, module: &ModuleResult, inside: &Cuboid, findings: &mut Vec<Finding>) {
    for face in Face::ALL {
        let out = if face.is_high() {
            module.cuboid.face(face) - inside.face(face)
        } else {
            inside.face(face) - module.cuboid.face(face)
        };
        if out > Length::ZERO {
            findings.push(finding(
                Grave::Stop,
                Subject::Module(module.id),
                &module.label,
                format!("sticks {} out of {} at the {}", look.up(out), b.name, face.name()),
                "",
                format!("move it {}, or make the box larger", away(face)),
            ));
        }
    }
}

/// A module where the step of the underside is.
fn in_step(look: &Look<'_>, battery_box: &BoxResult, module: &ModuleResult, findings: &mut Vec<Finding>) {
    let Some(step) = battery_box.step_inside().filter(|step| step.overlaps(&module.cuboid)) else {
        return;
    };
    let up = step.hi()[Axis::Z] - module.cuboid.lo()[Axis::Z];
    let by = -module.cuboid.separation(&step);
    findings.push(finding(
        Grave::Stop,
        Subject::Module(module.id),
        &module.label,
        format!("stands {} in the step of {}", look.up(by), battery_box.name),
        "",
        format!(
            "move it {} up onto the raised floor, or away from the riser, or make the step smaller",
            look.up(up)
        ),
    ));
}

/// Room to the liner of a box whose size the person fixed, and to a step.
fn room_in_fixed(look: &Look<'_>, battery_box: &BoxResult, module: &ModuleResult, findings: &mut Vec<Finding>) {
    for clearance in asked_inside(battery_box, module) {
        if !clearance.distance.is_negative() && clearance.is_short() {
            findings.push(finding(
                Grave::Caution,
                Subject::Module(module.id),
                &module.label,
                format!(
                    "has {} to the {}, less than the {} asked for as fitting room, room for terminals and bay",
                    look.down(clearance.distance),
                    clearance.name,
                    look.up(clearance.asked)
                ),
                "",
                format!("move it {}, or make the box larger", away(clearance.face)),
            ));
        }
    }
}

/// Overlaps and gaps between modules, found from each module's nearest neighbours.
fn pairs(look: &Look<'_>, battery_box: &BoxResult, findings: &mut Vec<Finding>) {
    let gap = look.trust.gap;
    for (i, a) in battery_box.modules.iter().enumerate() {
        // Only modules that have something nearer than the gap are looked at pair by pair.
        let crowded = a
            .around
            .as_ref()
            .is_some_and(|x| x.nearest.distance < gap || x.faces.iter().any(|c| c.distance < gap));
        if !crowded {
            continue;
        }
        // One finding for each module, not one for each pair: a heap of modules would drown everything else.
        let short = battery_box.modules[i + 1..]
            .iter()
            .map(|b| (a.cuboid.separation(&b.cuboid), b));
        let short: Vec<(Length, &ModuleResult)> = short.filter(|(free, _)| *free < gap).collect();
        let Some(&(free, b)) = short.iter().min_by_key(|(free, b)| (*free, b.id)) else {
            continue;
        };
        let others = if short.len() > 1 {
            format!(" and {} more", short.len() - 1)
        } else {
            String::new()
        };
        let subject = Subject::Module(a.id);
        if free.is_negative() {
            let words = format!("and {} are in the same place by {}{others}", b.label, look.up(-free));
            findings.push(finding(Grave::Stop, subject, &a.label, words, "", "move one of them"));
        } else {
            let words = format!(
                "has {} to {}, less than the gap of {}{others}",
                look.down(free),
                b.label,
                look.up(gap)
            );
            let fix = format!("move one of them by {}", look.up(gap - free));
            findings.push(finding(Grave::Caution, subject, &a.label, words, "", fix));
        }
    }
}

fn mass(look: &Look<'_>, battery_box: &BoxResult, findings: &mut Vec<Finding>) {
    let total = battery_box.mass.total_g();
    let (subject, name) = (Subject::Box(battery_box.id), &battery_box.name);
    let kg = |grams: i64| kg_words(crate::Grams(grams).kg(), 0, look.job.units.units());
    if let Some(limit) = look.job.limits.box_kg
        && total > limit.0
    {
        let words = format!("weighs {} loaded, more than the {} you allow", kg(total), kg(limit.0));
        findings.push(finding(
            Grave::Caution,
            subject,
            name,
            words,
            "",
            "split it, or use lighter sheet",
        ));
    }
    let hands = truck::lift::hands(crate::Grams(total).kg());
    if battery_box.built.is_some() && hands == Ok(Hands::Hoist) {
        let words = format!(
            "weighs {} loaded, {} empty: over the {} that two people may lift",
            lift_words(crate::Grams(total).kg()),
            lift_words(crate::Grams(battery_box.mass.empty_g()).kg()),
            lift_limit_words(TWO_PERSONS_KG.value)
        );
        findings.push(finding(
            Grave::Note,
            subject,
            name,
            words,
            TWO_PERSONS_KG.source.words(),
            // Whether they go in there takes a search, which is not for every edit.
            "use a hoist or a jack table, or put its modules in where it stands if the lift plan tells that they go in there",
        ));
    }
}

/// Rounding on the cut list may take no more than the room that the modules have, and add no more than the clearance.
fn rounding(look: &Look<'_>, summary: &BoxSummary, findings: &mut Vec<Finding>) {
    let Some(battery_box) = look.evaluation.boxes.iter().find(|b| b.name == summary.name) else {
        return;
    };
    let (subject, name) = (Subject::Box(battery_box.id), &battery_box.name);
    for axis in Axis::ALL {
        let loss = summary.loss[axis.index()];
        let room = room_along(battery_box, axis);
        if loss > room {
            let words = format!(
                "cut to the marks of the tape its inside {} may come out {} shorter, more than the {} the modules have to spare",
                axis.extent_name(),
                look.up(loss),
                look.down(room)
            );
            findings.push(finding(
                Grave::Caution,
                subject,
                name,
                words,
                "",
                "cut to the mm sizes, or ask for more room",
            ));
        }
        let growth = summary.growth[axis.index()];
        let Some(around) = &battery_box.around else { continue };
        let sides = [Face::low(axis), Face::high(axis)].map(|face| around.faces[face.index()].sure());
        let clearance = sides[0].min(sides[1]);
        if growth > Length::ZERO && growth > clearance {
            let words = format!(
                "cut to the marks of the tape its outside {} may come out {} longer, more than the clearance of {}",
                axis.extent_name(),
                look.up(growth),
                look.down(clearance)
            );
            findings.push(finding(
                Grave::Caution,
                subject,
                name,
                words,
                "",
                "cut to the mm sizes, or leave more clearance",
            ));
        }
    }
}

/// What the modules have to spare along an axis: the least room at either end, added up.
fn room_along(battery_box: &BoxResult, axis: Axis) -> Length {
    let modules = battery_box.modules.iter().map(|m| m.cuboid).reduce(|a, b| a.hull(&b));
    match (battery_box.inside, modules) {
        (Some(inside), Some(all)) => inside.size()[axis] - all.size()[axis],
        _ => Length::ZERO,
    }
}
