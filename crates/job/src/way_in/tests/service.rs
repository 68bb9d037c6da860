//! What comes off before a module comes out.

use super::*;
use crate::LinkKind;

/// The leads to the drive leave by a box, and so come off before it comes down; a lead that stays in it comes off with the
/// lid open.
#[test]
fn the_leads_to_the_drive_come_off_the_box_that_they_leave_by() {
    let (mut job, _) = built_in("orchard-flatbed");
    let plain = evaluate(&job);
    let exit_box = plain.boxes[0].id;
    job.wiring.exit_box = Some(exit_box);
    let evaluation = evaluate(&job);
    let ways = ways_in(&job, &evaluation);
    let module = unit_named(&ways, "14").expect("it is in the job");
    let service = ways.take_out(&evaluation, module).expect("it is in a box");
    let wiring = evaluation
        .electrics()
        .find_map(|(_, found)| found.wiring.as_ref())
        .expect("wired");
    assert_eq!(wiring.exit_box, Some(exit_box));
    let cables = &service.down[0].cables;
    let is_told = |kind: LinkKind| {
        let links = wiring.links.iter().filter(move |link| link.kind == kind);
        links.map(move |link| {
            let name = format!("{} {}: ", kind.name(), link.number);
            cables.iter().any(|told| told.starts_with(&name))
        })
    };
    assert_eq!(is_told(LinkKind::Drive).collect::<Vec<_>>(), [true; 2], "{service:?}");
    // A lead from a module of another box ends in it.
    for (link, told) in wiring
        .links
        .iter()
        .filter(|link| link.kind == LinkKind::Lead)
        .zip(is_told(LinkKind::Lead))
    {
        let seat = [link.from, link.to].into_iter().find_map(|end| match end {
            crate::End::Terminal { seat, .. } => Some(seat),
            crate::End::Exit { .. } | crate::End::Drive { .. } => None,
        });
        let from = wiring.seats[seat.expect("a lead has a terminal")].battery_box;
        assert_eq!(told, from != exit_box, "{service:?}");
    }
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

/// One cable between two boxes that come down comes off once.
#[test]
fn a_cable_between_two_boxes_comes_off_with_the_first() {
    let down = |name: &str, cables: &[&str]| super::super::service::Down {
        at: 0,
        name: name.to_owned(),
        mass_g: 60_000,
        cables: cables.iter().map(|&cable| cable.to_owned()).collect(),
        under: false,
    };
    let mut boxes = [
        down("right", &["box to box 5", "lead 9"]),
        down("left", &["box to box 5", "lead 1"]),
    ];
    super::super::service::told_once(&mut boxes);
    assert_eq!(
        boxes.map(|down| down.cables.join(", ")),
        ["box to box 5, lead 9", "lead 1"]
    );
}
