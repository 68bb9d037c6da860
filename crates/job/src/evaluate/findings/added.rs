//! What goes in and on a box and cannot be made, meets something, or breaks a rule of drilling the frame.

use std::fmt::Write as _;

use enclosure::added::Fixed;
use enclosure::added::hold_down::EDGE_SOURCE;
use enclosure::{RivetHeads, Role};
use geometry::{Cuboid, Face, Point};
use tape::Length;
use tape::show::Style;

use super::{Look, finding, for_all_boxes};
use crate::evaluate::HEIGHT_SOURCE;
use crate::evaluate::{
    AddedResult, BoxResult, BracketSeat, DRAWN_UP, LegFrom, LinerResult, Near, RivetsMet, longest_leg_on_sale, marks,
};
use crate::finding::{Finding, Grave, Subject};
use crate::{BracketsName, PartSize, SidesName};

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    findings.extend(not_held(look));
    findings.extend(lugs_cost(look));
    for battery_box in &look.evaluation.boxes {
        inside(look, battery_box, findings);
        held_down(look, battery_box, findings);
        mount(look, battery_box, findings);
    }
}

fn not_held(look: &Look<'_>) -> Option<Finding> {
    if look.job.design.carried() != BracketsName::None {
        return None;
    }
    for_all_boxes(
        look,
        Grave::Caution,
        "no brackets: nothing here shows how the box is held; its mount bolts are summed, but nothing is drilled for \
         them and none are on the shopping list",
        "",
        "choose brackets on the Boxes page, or draw your own mount and have its bolts and welds checked",
    )
}

/// What lugs take beside the modules, which go straight down past them.
fn lugs_cost(look: &Look<'_>) -> Option<Finding> {
    let build = look.build;
    let Fixed::Lugs { leg, .. } = crate::assumed::hold_down(&look.job.design, build.material)?.fixed else {
        return None;
    };
    let more = Some(leg - build.liner).filter(|more| *more > Length::ZERO)?;
    let words = format!(
        "hold-down lugs of a leg of {} stay at the walls when modules go in and out: for that modules keep {} more off \
         every wall than liner and fitting room ask for",
        look.evaluation.style().near(leg),
        look.up(more)
    );
    let fix = "take thinner studs and lugs of a shorter leg, or bars on rods, which stand nearer to the wall";
    for_all_boxes(look, Grave::Note, words, "", fix)
}

fn inside(look: &Look<'_>, battery_box: &BoxResult, findings: &mut Vec<Finding>) {
    let subject = Subject::Box(battery_box.id);
    let mut say = |grave, words: String, source: &'static str, fix: &str| {
        findings.push(finding(grave, subject, &battery_box.name, words, source, fix));
    };
    let added = &battery_box.added;
    for fault in &added.faults {
        let words = format!("{fault}; left out");
        say(Grave::Stop, words, "", "change that value on the Boxes page");
    }
    for words in &added.meets {
        let fix = "move one of them on the Boxes page, make it smaller, or give the box more room";
        say(Grave::Stop, words.clone(), "", fix);
    }
    for clash in &added.clashes {
        say(Grave::Stop, clash.words.clone(), "", &clash.fix);
    }
    if !added.badly_stood.is_empty() {
        let words = format!(
            "{} rest{} on no two strips, one on each side of the middle",
            added.badly_stood.join(", "),
            if added.badly_stood.len() == 1 { "s" } else { "" }
        );
        let fix = "move the module in line with the others, or take narrower strips";
        say(Grave::Caution, words, "", fix);
    }
    if let Some(&gap) = added.undivided.iter().min() {
        let needs = look.job.design.added.sizes.sure(PartSize::DividerThickness);
        let words = format!(
            "no divider in {} of the gaps between rows: the narrowest has {}, the sheet needs {}",
            added.undivided.len(),
            look.down(gap.max(Length::ZERO)),
            look.up(needs)
        );
        say(
            Grave::Caution,
            words,
            "",
            "lay it out anew, which keeps room for them, or move the modules apart",
        );
    }
    for (label, depth) in &added.divider_in_service {
        let words = format!(
            "a divider stands {} deep in the service space of {label}: no room for links and a spanner",
            look.up(*depth)
        );
        let fix = format!("move the divider on the Boxes page, turn {label}, or move the rows apart");
        say(Grave::Stop, words, "", &fix);
    }
    for met in &added.rivets_met {
        let (words, fix) = rivets_met(look, met);
        say(Grave::Caution, words, HEIGHT_SOURCE, &fix);
    }
    for words in too_thin_to_sink(look, battery_box) {
        let fix = "dimple them instead, or take thicker sheet, thinner rivets or round heads on the Boxes page; or bond or \
                   weld";
        say(Grave::Caution, words, SINK_SOURCE, fix);
    }
    if let Some(near) = added.near_the_end {
        let words = format!(
            "the holes of its hold-down bars are {} from the end of the bar, and should be at least {}",
            look.down(near.has.max(Length::ZERO)),
            look.up(near.wants)
        );
        let lugs = near.lug.map_or(String::new(), |leg| {
            format!("lugs of a leg of {} or more, or ", look.up(leg))
        });
        say(
            Grave::Caution,
            words,
            EDGE_SOURCE,
            &format!("take {lugs}a thinner thread"),
        );
    }
    if let Some(lid) = added.lid.as_ref().filter(|lid| lid.stiffeners == 0) {
        let words = format!(
            "its lid is stiff enough without stiffeners: it gives {}, at most {}; none are cut, but their room \
             is kept",
            tape::show::caliper(Length::from_mm(lid.gives_mm), look.job.units.units()),
            tape::show::caliper(lid.most, look.job.units.units())
        );
        say(Grave::Note, words, "", "choose no lid stiffeners on the Boxes page");
    }
    if let Some(words) = added.liner.words() {
        say(Grave::Note, words, "", LinerResult::HOW);
    }
    before_terminals(battery_box, findings);
}

/// Rivets that stand into modules, in words, and what would mend it.
fn rivets_met(look: &Look<'_>, met: &RivetsMet) -> (String, String) {
    let what = match look.job.design.rivet_heads() {
        RivetHeads::Outside => "tails",
        RivetHeads::RoundInside | RivetHeads::FlushInside => "heads",
    };
    let [needs, has, more] = [look.up(met.needs), look.down(met.has), look.up(met.needs - met.has)];
    let modules = met.modules.join(", ");
    let s = if met.modules.len() == 1 { "s" } else { "" };
    if met.is_floor {
        (
            format!("{what} of rivets stand {needs} up from the floor under {modules}, which stand{s} {has} over it"),
            format!(
                "set them from inside with flush heads, on the Boxes page; or raise the modules by {more} or more: strips beside \
                 the rivets, or a thicker liner or pad with holes over them; or bond or weld instead of riveting"
            ),
        )
    } else {
        (
            format!("{what} of rivets stand {needs} in from the walls beside {modules}, which stand{s} {has} off them"),
            format!(
                "set them from inside with flush heads, on the Boxes page; or move the modules {more} or more off the walls; or \
                 bond instead of riveting"
            ),
        )
    }
}

/// Sheets that are too thin for the flush heads of their rivets.
fn too_thin_to_sink(look: &Look<'_>, battery_box: &BoxResult) -> Vec<String> {
    let Some(built) = &battery_box.built else {
        return Vec::new();
    };
    let mut found: Vec<(&'static str, Length, Length)> = Vec::new();
    if let Some((hole, heads)) = look.build.rivet()
        && let Some(needs) = heads.least_sheet(hole)
    {
        found.push(("the floor", look.build.floor, needs));
        found.push(("the walls", look.build.wall, needs));
    }
    for fixing in &built.fixings {
        if let Some(needs) = fixing.heads.least_sheet(fixing.hole) {
            let what = if fixing.role == Role::Standoff {
                "the strips"
            } else {
                "the floor"
            };
            found.push((what, fixing.inner, needs));
        }
    }
    let mut told: Vec<&'static str> = Vec::new();
    let thin = found.into_iter().filter(|(_, has, needs)| has < needs);
    thin.filter_map(|(what, has, needs)| {
        let is_new = !told.contains(&what);
        told.push(what);
        is_new.then(|| {
            format!(
                "flush rivets are countersunk into sheet of {} or more, and {what} {} {}",
                look.up(needs),
                if what == "the floor" { "is" } else { "are" },
                look.down(has)
            )
        })
    })
    .collect()
}

const SINK_SOURCE: &str = "least sheet for a machine countersink of 100 degrees: US Army TM 9-2320-363-34-2, table 4; of other heads \
                           their maker's figure decides";

/// Hold-down bars over terminals, or over faces that have them.
fn before_terminals(battery_box: &BoxResult, findings: &mut Vec<Finding>) {
    let added = &battery_box.added;
    let mut say = |words: String, fix: &str| {
        let subject = Subject::Box(battery_box.id);
        findings.push(finding(Grave::Caution, subject, &battery_box.name, words, "", fix));
    };
    if !added.over_terminals.is_empty() {
        let words = format!(
            "hold-down bars pass before the terminals of {}: a bar is bare metal there",
            added.over_terminals.join(", ")
        );
        let fix = "move the bars clear of terminals and links on the Boxes page, and sleeve them";
        say(words, fix);
    }
    if !added.over_terminal_faces.is_empty() {
        let words = format!(
            "hold-down bars pass before the terminal faces of {}: a bar is bare metal there; where on them the terminals are \
             nobody entered, so that the whole face counts",
            added.over_terminal_faces.join(", ")
        );
        let fix = "enter where plus and minus are on the module, or move the bars clear of terminals and links on the Boxes \
                   page, and sleeve them";
        say(words, fix);
    }
}

/// Modules that no hold-down bar touches, and bars that touch none.
fn held_down(look: &Look<'_>, battery_box: &BoxResult, findings: &mut Vec<Finding>) {
    let Some(held) = &battery_box.added.held_down else {
        return;
    };
    let mut say = |grave, words: String, source: &'static str, fix: &str| {
        let subject = Subject::Box(battery_box.id);
        findings.push(finding(grave, subject, &battery_box.name, words, source, fix));
    };
    let near = |length| look.evaluation.style().near(length);
    let is_held = |label: &String| !held.not_held.contains(label);
    if !held.not_held.is_empty() {
        let mut words = format!(
            "no hold-down bar lies on {}: nothing holds it down",
            held.not_held.join(", ")
        );
        if held.not_held.len() > 1 {
            words = words.replace("holds it down", "holds them down");
        }
        for lower in held.lower.iter().filter(|lower| !is_held(&lower.module)) {
            let _ = write!(
                words,
                "; the bar at {} lies on {}, and {} ends {} lower",
                near(lower.bar),
                lower.on,
                lower.module,
                look.up(lower.by)
            );
        }
        let fix = "place a bar over each of them on the Boxes page, clear of modules that stand higher: a bar lies on the \
                   highest module that it crosses";
        say(Grave::Stop, words, "", fix);
    }
    for lower in held.lower.iter().filter(|lower| is_held(&lower.module)) {
        let words = format!(
            "the hold-down bar at {} lies on {} alone: {} ends {} lower",
            near(lower.bar),
            lower.on,
            lower.module,
            look.up(lower.by)
        );
        match lower.pad {
            Some(pad) => {
                let fix = format!(
                    "put a pad of {} on {} there, or place a bar of its own over it",
                    look.up(pad),
                    lower.module
                );
                say(Grave::Caution, words, PACKED, &fix);
            }
            None => say(
                Grave::Note,
                words,
                "",
                "another bar holds it; place bars clear of each other's modules",
            ),
        }
    }
    if !held.idle.is_empty() {
        let at: Vec<String> = held.idle.iter().map(|&place| near(place)).collect();
        let words = format!("hold-down bars that lie over no module: at {}", at.join(", "));
        say(
            Grave::Caution,
            words,
            "",
            "move them over a module on the Boxes page, or take fewer",
        );
    }
}

const PACKED: &str = "a pad up to twice as thick as the others fills it: common practice, no source";

fn mount(look: &Look<'_>, battery_box: &BoxResult, findings: &mut Vec<Finding>) {
    let subject = Subject::Box(battery_box.id);
    let added = &battery_box.added;
    let mut say = |grave, words: String, source: &'static str, fix: &str| {
        findings.push(finding(grave, subject, &battery_box.name, words, source, fix));
    };
    if look.job.design.carried() == BracketsName::Web {
        for seat in &added.seats {
            if let Some((grave, words, fix)) = seat_words(look, seat, battery_box) {
                say(grave, words, SEAT, &fix);
            }
        }
        let sizes = &look.job.design.added.sizes;
        let told = sizes.get(PartSize::RailLow).and(sizes.get(PartSize::RailWeb)).is_some();
        if !told && added.frame_holes.iter().any(|hole| !hole.is_there) {
            let words =
                "where the flanges of the frame rail are is not told, so that the holes keep off them is not checked";
            let fix = "tape the rail's lower flange and web, and enter them on the Boxes page";
            say(Grave::Note, words.to_owned(), "", fix);
        }
    }
    // What is the same of several holes is said once.
    let mut said: Vec<(String, &'static str, usize)> = Vec::new();
    for says in added.frame_holes.iter().flat_map(|hole| &hole.says) {
        match said
            .iter_mut()
            .find(|(words, source, _)| *words == says.words && *source == says.source)
        {
            Some((_, _, count)) => *count += 1,
            None => said.push((says.words.clone(), says.source, 1)),
        }
    }
    for (words, source, count) in said {
        let holes = if count == 1 {
            "a hole".to_owned()
        } else {
            format!("{count} holes")
        };
        let words = format!("{holes} of its brackets in the frame: {words}");
        let fix = "move the brackets or the box, use a hole that is there, or bolt down on a rail of your own";
        say(Grave::Caution, words, source, fix);
    }
}

const SEAT: &str = "up to 1 mm is drawn up by the bolt or shimmed: common practice, no source";

/// What is to be said of brackets that end before or behind the rail, and what would mend it: `seat` is one of those of the
/// box.
fn seat_words(look: &Look<'_>, seat: &BracketSeat, battery_box: &BoxResult) -> Option<(Grave, String, String)> {
    let face = seat.face.name();
    if matches!(seat.near, Near::Box(_)) {
        let words = format!(
            "its {face} brackets face {}: no rail is between the two, so they hang on nothing",
            seat.to
        );
        return Some((Grave::Stop, words, across(look)));
    }
    let fix = || mend(look, battery_box).unwrap_or_else(|| no_leg(look, &battery_box.added));
    if seat.gap.is_negative() {
        let words = format!("its {face} brackets reach {} into {}", look.up(-seat.gap), seat.to);
        return Some((Grave::Stop, words, fix()));
    }
    // What is missing is rounded up: less would be no shortfall.
    let words = format!("its {face} brackets end {} short of {}", look.up(seat.gap), seat.to);
    if seat.gap > DRAWN_UP {
        return Some((Grave::Stop, format!("{words}: they hang on nothing"), fix()));
    }
    let shim = "draw them up by their bolts, or put shims in".to_owned();
    (seat.gap > Length::ZERO).then_some((Grave::Note, words, shim))
}

/// How boxes side by side are carried: on rails across the frame, under brackets on their two other walls.
fn across(look: &Look<'_>) -> String {
    let sides = match look.job.design.added.bracket_sides.unwrap_or(SidesName::Long) {
        SidesName::Long => SidesName::Short,
        SidesName::Short => SidesName::Long,
    };
    format!(
        "choose brackets \"{}\", on \"{}\", on the Boxes page, and lay two rails from frame rail to frame rail under the feet of \
         both boxes (these rails and their bolts are yours to draw and have checked); or stand the boxes one behind the other, \
         so that each has a frame rail on both sides",
        BracketsName::OwnRail.name(),
        sides.name()
    )
}

/// Why no leg would do: beside the box is less than one that takes its bolts, or it stands askew of what it hangs on.
fn no_leg(look: &Look<'_>, added: &AddedResult) -> String {
    let least = added.mount.map_or(Length::ZERO, |mount| mount.least_leg);
    format!(
        "move the box, make it smaller so that a leg of {} or more has room beside it, or take thinner bolts",
        look.up(least)
    )
}

/// What a box runs into when it is moved so far towards a face: a keep-out, or another box of its cavity with its brackets. What
/// it runs into where it stands counts, too, for as long as it still does.
fn in_the_way<'a>(look: &Look<'a>, battery_box: &BoxResult, face: Face, by: Length) -> Option<&'a str> {
    let by = Point::along(face.axis(), if face.is_high() { by } else { -by });
    let moved: Vec<Cuboid> = battery_box.solids.iter().map(|solid| solid.moved(by)).collect();
    let meets = |thing: &Cuboid| moved.iter().any(|solid| solid.overlaps(thing));
    let keep_outs = look.evaluation.cavity(battery_box.cavity)?.keep_outs.iter();
    let mut met = keep_outs.filter(|keep_out| keep_out.counts && meets(&keep_out.cuboid));
    let others = look.evaluation.boxes.iter();
    let mut others = others.filter(|other| other.cavity == battery_box.cavity && other.id != battery_box.id);
    let mut box_met = || others.find(|other| other.solids.iter().chain(&other.added.brackets).any(meets));
    let keep_out = met.next().map(|keep_out| keep_out.name.as_str());
    keep_out.or_else(|| box_met().map(|other| other.name.as_str()))
}

/// One leg for all brackets of a box, with which none runs into what it hangs on and none ends farther off than is drawn up:
/// where the box stands, else with the box moved to the middle between, where nothing else stands. On the person's marks, or
/// on finer ones.
fn mend(look: &Look<'_>, battery_box: &BoxResult) -> Option<String> {
    let added = &battery_box.added;
    let mount = added.mount?;
    let leg = mount.leg;
    // A leg that nobody entered follows the box.
    let follows = matches!(added.bracket_leg.as_ref()?.from, LegFrom::Gap(_) | LegFrom::Longest(_));
    // Another box carries nothing, whatever leg reaches it.
    let seats = || added.seats.iter().filter(|seat| !matches!(seat.near, Near::Box(_)));
    let nearest = seats().min_by_key(|seat| seat.gap)?;
    let farthest = seats().max_by_key(|seat| seat.gap)?;
    let own = look.evaluation.style();
    // One that was entered may be cleared, where a leg on sale reaches from where the box stands.
    let left_empty = |reaches: Length| {
        if !follows && reaches <= longest_leg_on_sale(own.units) {
            "clear the bracket leg that was entered, so that each box takes the one that reaches; or "
        } else {
            ""
        }
    };
    let reaching = |step: Length, [least, most]: [Length; 2]| {
        let reaches = (leg + least).round_down_to(step);
        let is_one = reaches >= mount.least_leg && reaches >= leg + most - DRAWN_UP;
        is_one.then_some(reaches)
    };
    let here = |style: Style| {
        let reaches = reaching(style.step(), [nearest.gap, farthest.gap])?;
        Some(format!(
            "{}move the box, or take an angle whose leg reaches: {} where the box stands now",
            left_empty(reaches),
            style.near(reaches)
        ))
    };
    let moved = |style: Style| {
        let step = style.step();
        let half = (farthest.gap - nearest.gap).half_down();
        let by = (half + step.half_down()).round_down_to(step);
        let [one, other] = [nearest.gap + by, farthest.gap - by];
        let reaches = reaching(step, [one.min(other), one.max(other)])?;
        if let Some(name) = in_the_way(look, battery_box, farthest.face, by) {
            return Some(format!(
                "one leg reaches both sides with the box {} nearer to {}, but there it runs into {name}: make the box smaller, \
                 or have {name} moved",
                style.near(by),
                farthest.to
            ));
        }
        let moves = format!("move the box {} towards {}", style.near(by), farthest.to);
        Some(if reaches == leg {
            moves
        } else if follows && reaches <= longest_leg_on_sale(own.units) {
            format!("{moves}: its brackets then take a leg of {}", style.near(reaches))
        } else {
            format!("{moves} and take an angle whose leg reaches: {}", style.near(reaches))
        })
    };
    marks(own).find_map(here).or_else(|| marks(own).find_map(moved))
}
