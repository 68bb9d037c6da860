//! What the truck may not carry, what hangs too low, and what is missing to tell it.

use ::truck::mass::Axle;
use ::truck::rating::Limit;

use super::{Look, finding};
use crate::document::KnownName;
use crate::evaluate::road::weighed;
use crate::evaluate::vehicle::{Axles, down, left_words, mass_words};
use crate::finding::{Finding, Grave, Subject};

/// What to do about too much mass, and nothing else.
const fn lighter(limit: Limit) -> &'static str {
    match limit {
        Limit::Gross => {
            "take mass off: wherever it is, it counts; ratings stay as the maker set them, ask a licensed engineer"
        }
        _ => "take mass off or move it to the other axle; ratings stay as the maker set them, ask a licensed engineer",
    }
}

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    let vehicle = &look.evaluation.vehicle;
    if !vehicle.entered {
        return;
    }
    for fault in &vehicle.faults {
        findings.push(of_truck(
            look,
            Grave::Caution,
            fault.clone(),
            "",
            "mend the entry on the Truck page",
        ));
    }
    for conflict in &vehicle.conflicts {
        let fix = "clear the reading that is not right; weigh again where you do not know which";
        findings.push(of_truck(look, Grave::Caution, conflict.clone(), "", fix));
    }
    if !vehicle.needed.is_empty() {
        let words = format!("axle loads need {}", vehicle.needed.join(" and "));
        let fix = "enter it on the Truck page; a public weighbridge tells both axles for a small fee";
        findings.push(of_truck(look, Grave::Note, words, "", fix));
    }
    for half in &vehicle.halves {
        findings.push(of_truck(look, Grave::Caution, half.words.clone(), "", &half.fix));
    }
    for missing in &vehicle.uncounted {
        findings.push(of_truck(look, Grave::Caution, missing.words(), "", missing.fix));
    }
    if let Some(axles) = &vehicle.axles {
        of_limits(look, axles, findings);
        of_wheels(look, axles, findings);
        of_front(look, axles, findings);
        of_knowledge(look, axles, findings);
    }
    if let Some(ground) = &vehicle.ground {
        let sunk = ground.sunk.as_ref().map_or(&[][..], |sunk| &sunk.touching);
        for name in &ground.boxes.touching {
            let words = format!("{name}: not above the ground, as its place and heights were entered");
            let fix = "check the heights: above level ground, the truck on its wheels";
            findings.push(of_truck(look, Grave::Stop, words, String::new(), fix));
        }
        for name in sunk.iter().filter(|name| !ground.boxes.touching.contains(name)) {
            let words = format!("{name}: on the ground once the springs give under the load");
            let fix = "stiffer springs, less aboard, or move it up; a low point on an axle does not sink with the springs: enter what it rides on";
            findings.push(of_truck(look, Grave::Stop, words, String::new(), fix));
        }
        if let Some(low) = &ground.lowest_box
            && let Some(below_m) = low.below_frame_m.filter(|below_m| *below_m > 0.0)
        {
            let words = format!(
                "it hangs {} below the frame's lowest member, {} above the ground with nothing sunk",
                look.up(tape::Length::from_mm(below_m * 1_000.0)),
                look.down(tape::Length::from_mm(low.height_m * 1_000.0))
            );
            let fix = "raise it, or put a skid of its own under it: it is the first to touch";
            let subject = Subject::Box(low.battery_box);
            findings.push(finding(Grave::Caution, subject, &low.name, words, "", fix));
        }
        if ground.sunk.is_none() && vehicle.axles.is_some() {
            let words = "spring rates are not entered: clearance and angles are told with nothing sunk".to_owned();
            let fix = "put a known mass over each axle, tape how far it sinks, and enter 9.81 x kg / mm";
            findings.push(of_truck(look, Grave::Note, words, "", fix));
        }
    }
}

fn of_truck(
    look: &Look<'_>,
    grave: Grave,
    words: String,
    source: impl Into<std::borrow::Cow<'static, str>>,
    fix: &str,
) -> Finding {
    let name = if look.job.truck.is_empty() {
        "truck"
    } else {
        &look.job.truck
    };
    finding(grave, Subject::Truck, name, words, source, fix)
}

/// Each limit once, with what is aboard when it is farthest over it; and what is left beyond them.
fn of_limits(look: &Look<'_>, axles: &Axles, findings: &mut Vec<Finding>) {
    let mut any_over = false;
    for (margin, stated) in axles.least_margins() {
        if margin.within() {
            continue;
        }
        any_over = true;
        let words = format!("{}, {}", axles.margin_words(margin, false), stated.aboard.words());
        let source = axles.source_words(margin.limit).to_owned();
        findings.push(of_truck(look, Grave::Stop, words, source, lighter(margin.limit)));
    }
    // What is within, but by less than the scale may be off, is said once.
    for (margin, _) in axles.least_margins() {
        let off = axles.after_off.of(margin.limit);
        if margin.within() && margin.left_kg() < off {
            let words = format!(
                "{}: {} is left, and the load may be off by {}",
                margin.limit.words(),
                left_words(margin.left_kg()),
                mass_words(off)
            );
            let fix = "weigh it when the work is done, before it goes on the road";
            findings.push(of_truck(
                look,
                Grave::Caution,
                words,
                axles.source_words(margin.limit).to_owned(),
                fix,
            ));
        }
    }
    let Some((payload, _)) = &axles.payload else {
        let words = "no rating is entered: nothing tells what the truck may carry".to_owned();
        let fix = "read gross and axle ratings off the plate in the door, load index off the side walls";
        findings.push(of_truck(look, Grave::Caution, words, "", fix));
        return;
    };
    if !any_over && payload.left_kg < axles.payload_wanted_kg {
        let words = format!(
            "only {} of payload is left where the cargo goes; {} is wanted",
            left_words(payload.left_kg),
            mass_words(axles.payload_wanted_kg)
        );
        let source = axles.source_words(payload.limited_by).to_owned();
        findings.push(of_truck(
            look,
            Grave::Caution,
            words,
            source,
            lighter(payload.limited_by),
        ));
    }
}

/// A wheel that is over though its axle is within.
fn of_wheels(look: &Look<'_>, axles: &Axles, findings: &mut Vec<Finding>) {
    for (wheel, margin, stated) in axles.wheels_over() {
        let words = axles.wheel_over_words(wheel, margin, stated);
        let source = axles.source_words(margin.limit).to_owned();
        let fix = "weigh each wheel before it goes on the road; move mass to the other side, or take some off";
        findings.push(of_truck(look, Grave::Caution, words, source, fix));
    }
}

/// How far the mass on the road may be from that of the axle loads before it is said: a tank, a passenger.
const ROAD_MASS_SHARE: f64 = 0.05;

/// The mass entered for the road beside that of the axle loads.
fn of_road_mass(look: &Look<'_>, axles: &Axles, findings: &mut Vec<Finding>) {
    let entered = look.job.vehicle.road.mass_kg.map(crate::Grams::kg);
    let Some((entered_kg, by_axles)) = entered.zip(weighed(&look.evaluation.vehicle, false)) else {
        return;
    };
    let may_kg = (by_axles.kg * ROAD_MASS_SHARE).max(axles.after_off.total_kg);
    let apart_kg = entered_kg - by_axles.kg;
    if apart_kg.abs() <= may_kg {
        return;
    }
    let totals = axles.stated.iter().map(|stated| stated.loads.total_kg());
    let most_kg = totals.fold(by_axles.kg, f64::max);
    let stripped_kg = axles.stripped.total_kg();
    // With more aboard it may well weigh that: what is beyond the fullest, or lighter than the people's truck, is a slip.
    let (grave, and) = if entered_kg < stripped_kg {
        let words = format!(
            "; that is less than the {} of the stripped truck",
            mass_words(stripped_kg)
        );
        (Grave::Caution, words)
    } else if (by_axles.kg..=most_kg + may_kg).contains(&entered_kg) {
        (Grave::Note, "; it may be so with more aboard".to_owned())
    } else {
        (Grave::Caution, String::new())
    };
    let more = if apart_kg > 0.0 { "more" } else { "less" };
    let words = format!(
        "mass on the road: {} is entered, {} {more} than the {} of {}{and}; range rests on what is entered",
        mass_words(entered_kg),
        mass_words(apart_kg.abs()),
        mass_words(by_axles.kg),
        by_axles.from
    );
    let fix = "clear the mass on the road, and the axle loads count; or mend the reading that is off";
    findings.push(of_truck(look, grave, words, "", fix));
}

fn of_front(look: &Look<'_>, axles: &Axles, findings: &mut Vec<Finding>) {
    let lifted = axles.stated.iter().find_map(|s| Some((s, s.loads.lifted()?)));
    if let Some((stated, axle)) = lifted {
        let words = format!(
            "the {} axle lifts off the ground, {}",
            axle.name(),
            stated.aboard.words()
        );
        findings.push(of_truck(
            look,
            Grave::Stop,
            words,
            "moments about the front axle",
            "move mass to it",
        ));
        return;
    }
    let share = &axles.front_share;
    if share.is < share.least {
        let words = format!(
            "the {} axle carries {:.0} % of the whole, {}; {:.0} % is asked for: it steers and brakes badly",
            Axle::Front.name(),
            down(share.is * 100.0),
            share.aboard.words(),
            share.least * 100.0
        );
        let source =
            "as asked for on the Truck page; the usual 30 % is from memory of body builders' guides: ask the maker";
        let fix = "move mass forward; what is behind the rear axle lifts the front";
        findings.push(of_truck(look, Grave::Caution, words, source, fix));
    }
}

/// How well the loads are known.
fn of_knowledge(look: &Look<'_>, axles: &Axles, findings: &mut Vec<Finding>) {
    if let Some(conflict) = &axles.height_conflict {
        let near = |m: f64| look.evaluation.near(tape::Length::from_mm(m * 1_000.0));
        let words = format!(
            "centre of gravity: {} up is entered, and the weighing with the rear raised tells {}, give or take {}; what is \
             entered counts",
            near(conflict.entered_m),
            near(conflict.weighed_m),
            look.evaluation.up(tape::Length::from_mm(conflict.off_m * 1_000.0))
        );
        let fix =
            "clear the height where the weighing is better, or weigh again, springs blocked and the rear higher up";
        findings.push(of_truck(look, Grave::Caution, words, "", fix));
    }
    of_road_mass(look, axles, findings);
    if axles.before_by == KnownName::Calculated {
        let [front, rear] = axles.before_off.axles_up().map(mass_words);
        let off = if front == rear {
            format!("each axle may be off by {front}")
        } else {
            format!("the front axle may be off by {front}, the rear one by {rear}")
        };
        let words = format!("the loads before the work are calculated, not weighed: {off}");
        let fix = "drive it over a weighbridge, each axle by itself, and note tank and people";
        findings.push(of_truck(look, Grave::Note, words, "", fix));
    }
    if let Some(again) = axles.reweighed.as_ref().filter(|again| !again.agrees())
        && let Some(words) = axles.reweighed_words()
    {
        let more = if again.differs_kg[2] > 0.0 { "on" } else { "out" };
        let fix = format!("look for what went {more} and is not in the list, or weigh again");
        findings.push(of_truck(
            look,
            Grave::Caution,
            format!("weighed after the work: {words}"),
            "",
            &fix,
        ));
    }
}
