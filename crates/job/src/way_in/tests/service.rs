//! What comes off before a module comes out.

use super::*;
use crate::LinkKind;

/// What is lowered bears no live cable to anything that stays: every cable that has a gland in its wall comes off before it,
/// and whatever ends at the pack's ends at its wall. A lead inside the pack's own box is one of them: it goes out to those.
#[test]
fn every_cable_that_leaves_a_box_comes_off_before_it_comes_down() {
    let (mut job, _) = built_in("orchard-flatbed");
    let plain = evaluate(&job);
    let exit_box = plain.boxes[0].id;
    job.wiring.exit_box = Some(exit_box);
    let evaluation = evaluate(&job);
    let ways = ways_in(&job, &evaluation);
    let module = unit_named(&ways, "14").expect("it is in the job");
    let service = ways.take_out(&evaluation, module).expect("it is in a box");
    let (_, electric) = evaluation.electrics().next().expect("wired");
    let wiring = electric.wiring.as_ref().expect("wired");
    assert_eq!((wiring.exit_box, service.boxes[0].at), (Some(exit_box), 0));
    let told = |number: u32, kind: LinkKind| {
        let name = format!("{} {number}: ", kind.name());
        service.boxes[0].cables.iter().any(|cable| cable.starts_with(&name))
    };
    let mut leads = 0;
    for exit in evaluation.exits_of(exit_box) {
        assert!(told(exit.link, exit.kind), "{} in {service:?}", exit.name);
        leads += usize::from(exit.kind == LinkKind::Lead);
    }
    assert!(leads > 0, "no lead goes from this box to the pack's ends");
    for link in wiring.links.iter().filter(|link| link.kind.is_cable()) {
        let at_the_ends = [link.from, link.to]
            .iter()
            .any(|end| matches!(end, crate::End::Exit { .. }));
        let has_gland = evaluation.exits_of(exit_box).any(|exit| exit.link == link.number);
        assert_eq!(told(link.number, link.kind), at_the_ends || has_gland, "{service:?}");
    }
    // The leads of the drive are on the pack's ends.
    let drive = wiring.links.iter().filter(|link| link.kind == LinkKind::Drive);
    assert_eq!(drive.filter(|link| told(link.number, link.kind)).count(), 2);
    // Nothing that is off then is told again with the lid open.
    let off = |link: &&str| service.boxes[0].cables.iter().any(|cable| cable == link);
    assert!(!service.links_in_the_box().iter().any(off));
}

/// Monitoring wires sit on the terminals under the same nuts, and are live.
#[test]
fn the_monitoring_wires_of_a_module_come_off_before_its_links() {
    let (job, evaluation) = built_in("mountain-rescue");
    let ways = ways_in(&job, &evaluation);
    let mut count = 0;
    for wiring in evaluation.electrics().filter_map(|(_, found)| found.wiring.as_ref()) {
        for tap in &wiring.taps {
            let seat = &wiring.seats[tap.at.0].seat;
            let Some(service) = ways.take_out(&evaluation, seat.placed) else {
                continue;
            };
            let steps = service.steps();
            let name = format!("channel {} at {seat} ", tap.channel);
            let off = steps.iter().position(|step| step.contains(&name));
            let links = service.links_in_the_box();
            let link = links
                .first()
                .and_then(|link| steps.iter().position(|step| step.contains(link)));
            assert!(off.is_some() && (link.is_none() || off < link), "{name}in {steps:?}");
            count += 1;
        }
    }
    assert!(count > 0);
}

/// One cable between two boxes that come out comes off once.
#[test]
fn a_cable_between_two_boxes_comes_off_with_the_first() {
    let out = |name: &str, cables: &[&str]| crate::way_in::service::OutFirst {
        at: 0,
        name: name.to_owned(),
        mass_g: 60_000,
        cables: cables.iter().map(|&cable| cable.to_owned()).collect(),
        without: Vec::new(),
        open: false,
        by: None,
    };
    let mut boxes = [
        out("right", &["box to box 5", "lead 9"]),
        out("left", &["box to box 5", "lead 1"]),
    ];
    crate::way_in::service::told_once(&mut boxes);
    assert_eq!(
        boxes.map(|out| out.cables.join(", ")),
        ["box to box 5, lead 9", "lead 1"]
    );
}

#[test]
fn what_comes_off_before_a_module_comes_out() {
    let (job, evaluation) = built_in("orchard-flatbed");
    let ways = ways_in(&job, &evaluation);
    let module = unit_named(&ways, "m14").unwrap();
    let service = ways.take_out(&evaluation, module).unwrap();
    // Under a roof the lid does not open: the box comes down, with all that is in it.
    assert_eq!(service.over_it(), Some("cavity roof"));
    let down: Vec<(&str, i64)> = service.boxes.iter().map(|d| (d.name.as_str(), d.mass_g)).collect();
    assert_eq!(down, [("left box", evaluation.boxes[0].mass.total_g())]);
    // One link at each of its terminals.
    assert_eq!((service.links.len(), service.before.len()), (2, 0), "{service:?}");
    assert!(service.troubles().is_empty());
    assert_eq!(service.mass_g, evaluation.kinds[0].mass_g);
    // A stack of a box under an open top comes out where it stands.
    let (job, evaluation) = built_in("mountain-rescue");
    let ways = ways_in(&job, &evaluation);
    let stack = unit_named(&ways, "S16").unwrap();
    // There is no S15: what there is is told in runs, and what is offered is one of it.
    let none = unit_named(&ways, "17").unwrap_err();
    assert_eq!(none.allowed, "S12 to S14, S16");
    assert!(none.mend().contains("12 or S12"), "{}", none.mend());
    let service = ways.take_out(&evaluation, stack).unwrap();
    assert_eq!((service.not_in_place.len(), service.boxes.len()), (0, 0));
    // With the bed on the frame it does not.
    assert_eq!(service.bed, Some(crate::BedName::Off));
    assert_eq!(service.steps()[1], "take the bed off the truck");
    assert!(
        service.lid_words().contains("with the bed off"),
        "{}",
        service.lid_words()
    );
    let job = set(&job, WayField::Bed, "on the frame");
    let evaluation = evaluate(&job);
    let ways = ways_in(&job, &evaluation);
    let service = ways.take_out(&evaluation, stack).unwrap();
    assert_eq!(
        (service.over_it(), service.boxes.len(), service.bed),
        (Some("bed"), 1, None)
    );
    // The other box has no other way than from above, and what would do is told.
    let Outcome::Stays { help, .. } = &ways.boxes[0].outcome else {
        panic!("its one open face is under the bed")
    };
    assert!(
        matches!(&help[..], [Help::Bed { bed: crate::BedName::Off, then }] if then.through == Face::Top),
        "{help:?}"
    );
}

/// A lead is as live as a link: with no box coming down, nothing else would say that it comes off.
#[test]
fn all_that_is_on_a_module_comes_off_before_it_comes_out() {
    let (job, evaluation) = built_in("mountain-rescue");
    let ways = ways_in(&job, &evaluation);
    let mut leads = 0;
    for wiring in evaluation.electrics().filter_map(|(_, found)| found.wiring.as_ref()) {
        for (at, seat) in wiring.seats.iter().enumerate() {
            let Some(service) = ways.take_out(&evaluation, seat.seat.placed) else {
                continue;
            };
            let steps = service.steps();
            let lift = format!("lift {} out", service.label);
            let out = steps.iter().position(|step| step.starts_with(&lift));
            for link in wiring.links.iter().filter(|link| link.touches(at)) {
                let name = format!("{} {}: ", link.kind.name(), link.number);
                let off = steps.iter().position(|step| step.contains(&name));
                assert!(off.is_some() && off < out, "{name}in {steps:?}");
                let count = steps.iter().filter(|step| step.contains(&name)).count();
                assert_eq!(count, 1, "{name}is told once: {steps:?}");
                assert!(service.links.iter().any(|told| told.starts_with(&name)), "{service:?}");
                leads += usize::from(service.boxes.is_empty() && link.kind.is_cable());
            }
        }
    }
    assert!(leads > 0, "no lead ends in a box that stays");
}

#[test]
fn a_service_trial_tells_what_is_too_low_and_what_comes_off_first() {
    let (job, evaluation) = built_in("orchard-flatbed");
    let ways = ways_in(&job, &evaluation);
    let module = unit_named(&ways, "14").unwrap();
    let service = ways.take_out(&evaluation, module).unwrap();
    let battery_box = &evaluation.boxes[0];
    let solid = battery_box.modules.iter().find(|m| m.id == module).unwrap().cuboid;
    let rim =
        ways.question.boxes[0].parts[0].open.unwrap().face(Face::Top) - ways.question.boxes[0].from_cavity[Axis::Z];
    let roof = evaluation
        .cavity(battery_box.cavity)
        .unwrap()
        .space
        .unwrap()
        .face(Face::Top);
    // A screw of the lid is under a bolt of the bed; and the module is under the roof.
    let [lid, barred] = &service.not_in_place[..] else {
        panic!("{service:?}")
    };
    assert!(
        matches!(&lid.bar, Bar::Screws { why } if why.contains("bed bolt")),
        "{lid:?}"
    );
    let Bar::Low { needs, has, .. } = &barred.bar else {
        panic!("{barred:?}")
    };
    // Its height over the rim, nobody having entered a hand; and from the rim to the roof, less what bulges.
    assert_eq!((barred.part.as_str(), *needs), ("M14", solid.size()[Axis::Z]));
    assert!((*has - (roof - rim)).abs() < Length::mm(10), "{has:?} {:?}", roof - rim);
    let text = service.text();
    assert!(
        text.contains("first out: left box") && text.contains("too little"),
        "{text}"
    );
}

/// By the side it comes in by, and with the bed out of the way where that closes it.
#[rstest]
#[case::down("orchard-flatbed", "M14", &["take left box down: "], None)]
#[case::sideways("orchard-flatbed", "M23", &["draw right box out to the right: "], None)]
#[case::upwards("mountain-rescue", "S13", &["lift box C1 out at the top: "], Some("take the bed off the truck"))]
fn a_box_comes_out_by_the_way_it_goes_in(
    #[case] example: &str,
    #[case] module: &str,
    #[case] begins: &[&str],
    #[case] bed: Option<&str>,
) {
    let (job, evaluation) = built_in(example);
    let ways = ways_in(&job, &evaluation);
    let module = unit_named(&ways, module).unwrap();
    let service = ways.take_out(&evaluation, module).unwrap();
    let steps = service.steps();
    let out: Vec<&str> = service.boxes.iter().map(|out| out.name.as_str()).collect();
    for (name, begins) in out.iter().zip(begins) {
        assert!(steps.iter().any(|step| step.starts_with(begins)), "{name}: {steps:?}");
    }
    assert_eq!(out.len(), begins.len(), "{steps:?}");
    assert_eq!(
        Some(steps[1].as_str()).filter(|step| step.contains("bed")),
        bed,
        "{steps:?}"
    );
    let way = ways.boxes[service.boxes.last().unwrap().at].outcome.way().unwrap();
    let told = service.text().contains("its way in the other way round");
    assert_eq!(
        told,
        way.motion != crate::way_in::Motion::Straight,
        "{}",
        service.text()
    );
}
