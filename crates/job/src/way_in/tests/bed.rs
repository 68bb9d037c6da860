//! The bed, as it stands and as it turns.

use super::*;

#[test]
fn a_rib_of_the_bed_creeps_up_to_the_box() {
    let (job, evaluation) = built_in("orchard-flatbed");
    assert_eq!(evaluation.bed_sweep, None);
    let missing = |job: &Job| evaluate(job).bed_sweep.and_then(Result::err).unwrap();
    let place = Point(
        job.cavities[0]
            .place
            .as_ref()
            .unwrap()
            .each_ref()
            .map(crate::Len::value),
    );
    let body = evaluation.boxes[0].solids[0].moved(place);
    // 3-4-5: a rib whose lower front corner is 400 ahead of the hinge and 300 under it comes as far as 500 ahead of it, level
    // with it, at 36.87 degrees. The box ends 512 ahead of it.
    let hinge = [
        body.face(Face::Rear) + Length::mm(512),
        (body.face(Face::Bottom) + body.face(Face::Top)).half_down(),
    ];
    let text = |length: Length| format!("{} mm", length.as_mm());
    let mut job = set(&job, WayField::HingeX, &text(hinge[0]));
    assert!(missing(&job).contains("hinge"));
    job = set(&job, WayField::HingeZ, &text(hinge[1]));
    job = set(&job, WayField::Tilt, "37");
    assert!(missing(&job).contains("crossmembers"));
    job = job.with(&Edit::Bed(BedEdit::Add)).unwrap();
    for (field, at) in [
        (WayField::PartFrom(0), hinge[0] - Length::mm(400)),
        (WayField::PartTo(0), hinge[0] - Length::mm(380)),
        (WayField::PartLowest(0), hinge[1] - Length::mm(300)),
        (WayField::PartHighest(0), hinge[1] - Length::mm(100)),
    ] {
        job = set(&job, field, &text(at));
    }
    let found = evaluate(&job);
    let swept = found.bed_sweep.clone().unwrap().unwrap();
    let near = swept
        .nearest
        .iter()
        .find(|near| near.battery_box == evaluation.boxes[0].id)
        .unwrap();
    assert!((near.distance - Length::mm(12)).abs() < Length::from_nm(5), "{near:?}");
    assert!(
        (near.at_deg - 36.869_898).abs() < 1e-3 && near.meets_deg.is_none(),
        "{near:?}"
    );
    // 30 nearer: the lower edge of the box's end meets the rib's front face, 400 ahead of the hinge.
    let job = set(&job, WayField::HingeX, &text(hinge[0] - Length::mm(30)));
    let moved_with_it = [(WayField::PartFrom(0), 430), (WayField::PartTo(0), 410)];
    let job = moved_with_it.iter().fold(job, |job, (field, ahead)| {
        set(&job, *field, &text(hinge[0] - Length::mm(*ahead)))
    });
    let found = evaluate(&job);
    let swept = found.bed_sweep.clone().unwrap().unwrap();
    let near = swept
        .nearest
        .iter()
        .find(|near| near.battery_box == evaluation.boxes[0].id)
        .unwrap();
    let edge = [482.0, (body.size()[Axis::Z].as_mm()) / 2.0];
    let up = f64::hypot(edge[0], edge[1]).powi(2) - 400.0 * 400.0;
    let expected = (up.sqrt().atan2(400.0) - edge[1].atan2(edge[0])).to_degrees();
    assert!(
        found
            .findings
            .iter()
            .any(|f| f.grave == crate::Grave::Stop && f.words.contains("bed floor meets left box"))
    );
    assert!((near.meets_deg.unwrap() - expected).abs() < 1e-6, "{near:?} {expected}");
}

#[test]
fn the_bed_as_it_stands_is_in_the_way_of_every_opening() {
    // On the frame its tail hangs 100 below the box's top, behind the opening.
    let job = under_a_bed("on the frame");
    let ways = ways_in(&job, &evaluate(&job));
    let Outcome::Stays { tried, .. } = &ways.boxes[0].outcome else {
        panic!("through the tail: {}", ways.text_of(None))
    };
    assert_eq!((tried[0].through, tried[0].stops[0].what), (Face::Rear, What::Bed(1)));
    assert_eq!(tried[0].stops[0].overlap.0, Axis::Z);
    let off = set(&job, WayField::Bed, "off the truck");
    let ways = ways_in(&off, &evaluate(&off));
    assert_eq!(
        ways.boxes[0].outcome.way().map(|w| (w.through, w.motion)),
        Some((Face::Rear, Motion::Straight))
    );
    // What of it nobody entered is told as not looked at.
    let mut bare = job.clone();
    bare.way_in.bed_parts.clear();
    let asked = question(&bare, &evaluate(&bare));
    assert!(
        asked
            .not_looked_at
            .contains(&"the bed on the frame: enter its floor and its crossmembers".to_owned()),
        "{:?}",
        asked.not_looked_at
    );
}

#[test]
fn how_else_the_bed_may_stand_is_told_and_holds() {
    let job = under_a_bed("on the frame");
    let ways = ways_in(&job, &evaluate(&job));
    let Outcome::Stays { help, .. } = &ways.boxes[0].outcome else {
        panic!("its tail is in the way: {}", ways.text_of(None))
    };
    let beds: Vec<&str> = help
        .iter()
        .filter_map(|h| match h {
            Help::Bed { bed, .. } => Some(bed.name()),
            _ => None,
        })
        .collect();
    assert!(beds.contains(&"off the truck"), "{}", ways.text_of(None));
    for bed in &beds {
        let job = set(&job, WayField::Bed, bed);
        let then = ways_in(&job, &evaluate(&job));
        assert!(then.boxes[0].outcome.way().is_some(), "{bed}: {}", then.text_of(None));
    }
    // Every state that is not told is none.
    for bed in ["on the frame", "tilted up", "off the truck"] {
        let job = set(&job, WayField::Bed, bed);
        let goes = ways_in(&job, &evaluate(&job)).boxes[0].outcome.way().is_some();
        assert_eq!(goes, beds.contains(&bed), "{bed}");
    }
    let told = format!("with the bed {} also {}", beds[0], ways.boxes[0].name);
    assert!(ways.summary().contains(&told), "{}", ways.summary());
    assert!(
        ways.text_of(None)
            .contains("fix: take the bed off the truck: then it goes in from the rear, straight")
    );
}
