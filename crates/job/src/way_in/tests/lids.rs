//! Boxes that would go in open, and what is claimed of them.

use super::*;

/// 360 wide from 120 on, its lid the uppermost 20. By the left face, over a sill that ends at 45 and under a lip that begins
/// at 240, are 195: less than the 200 of the closed box, more than the 180 of the open one.
fn under_a_lip() -> Question {
    let (closed, open) = (
        block([100, 120, 50], [700, 480, 250]),
        block([100, 120, 50], [700, 480, 230]),
    );
    let mut moved = moved(1, &[closed], &[Face::Left]);
    moved.parts[0].open = Some(open);
    moved.walls.retain(|wall| wall.what != What::Wall(Face::Top));
    let things = vec![
        thing(7, [-3000, 0, 240], [4000, 10, 3000]),
        thing(8, [-3000, 0, -3000], [4000, 10, 45]),
    ];
    asked(vec![moved], things)
}

/// The lid alone has to rise behind the lip, and the blocks of the bed, larger than the bed is, keep it from that: with them
/// nothing is proved.
#[test]
fn a_box_is_not_proved_to_stay_while_its_lid_is_not() {
    let mut question = under_a_lip();
    let bed = block([-3000, -3000, 251], [4000, 4000, 400]);
    let thing = Thing {
        name: "bed".to_owned(),
        what: What::Bed(0),
        expected: bed,
        sure: bed,
    };
    question.things.push((0, thing));
    let ways = answer(question, WORK, &mut |_| true);
    assert!(ways.boxes[0].outcome.way().is_none());
    assert!(!ways.boxes[0].outcome.is_impossible(), "{:?}", ways.boxes[0]);
}

/// A lid that cannot be screwed on in its place is not taken off: the proof is of the closed box.
#[test]
fn a_proof_of_the_closed_box_alone_says_so() {
    let mut question = under_a_lip();
    // A roof over all, for nothing is proved of what could go up past the cavity.
    question.things.push(thing(9, [-3000, -3000, 300], [4000, 4000, 400]));
    question.boxes[0].lid_stays = Some("a spanner needs 100 mm over its screws, and there is 50 mm".to_owned());
    let ways = answer(question, WORK, &mut |_| true);
    assert!(ways.boxes[0].outcome.is_impossible());
    let style = ways.question.style;
    let verdict = ways.boxes[0].verdict(style);
    assert!(verdict.starts_with("no way in, proved, with its lid on; "), "{verdict}");
    let lines = ways.boxes[0].lines(style);
    assert!(lines[0].contains("as far as it may be, with its lid on; "), "{lines:?}");
}

/// It stops without what can be put on afterwards, and is drawn so there.
#[test]
fn a_box_that_stays_is_drawn_as_it_was_tried() {
    // A gland under the floor comes off; the body is 20 too wide for the opening all the same.
    let gland = block([300, 200, 20], [340, 240, 50]);
    let mut moved = moved(1, &[body(), gland], &[Face::Bottom]);
    moved.parts[1].loose = Some(Loose::Fitting);
    let narrow = vec![
        thing(7, [0, 470, 0], [1000, 500, 20]),
        thing(8, [0, 0, 0], [1000, 30, 20]),
    ];
    let ways = worked_out(vec![moved], narrow);
    let Outcome::Stays { tried, .. } = &ways.boxes[0].outcome else {
        panic!("it does not go")
    };
    assert!(tried[0].off.fittings);
    assert!(ways.pictures[0][0].poses.iter().all(|pose| pose.len() == 1));
}

/// A box 200 high whose lid is the uppermost 10, open at its left.
fn lidded(id: u32) -> Moved {
    let mut tight = moved(id, &[block([100, 100, 5], [700, 480, 205])], &[Face::Left]);
    tight.parts[0].open = Some(block([100, 100, 5], [700, 480, 195]));
    tight
}

/// A rail beside it, its underside 8 under the top of the lid and 2 over the rim: open it passes under with 2, and the lid
/// goes over the rail and down.
#[test]
fn a_box_goes_in_with_its_lid_off_where_the_lid_goes_on_after_it() {
    let rail = thing(7, [0, 0, 197], [1000, 20, 235]);
    let ways = worked_out(vec![lidded(1)], vec![rail]);
    let way = ways.boxes[0].outcome.way().expect("it goes in open");
    assert_eq!((way.off.lid, &way.without[..]), (true, &["lid".to_owned()][..]));
    let margin = way.margin.as_ref().expect("it passes the rail");
    assert_eq!((margin.distance, margin.what), (Length::mm(2), What::KeepOut(Id(7))));
    let verdict = ways.boxes[0].verdict(ways.question.style);
    assert!(verdict.ends_with(", with its lid off"), "{verdict}");
    let lines = ways.boxes[0].lines(ways.question.style);
    assert!(lines.contains(&"fitted when it is in: lid".to_owned()), "{lines:?}");
}

/// The same rail up to the roof: the box passes under it, the lid does not.
#[test]
fn a_lid_that_does_not_go_on_is_told() {
    let rail = thing(7, [0, 0, 197], [1000, 95, 300]);
    let ways = worked_out(vec![lidded(1)], vec![rail]);
    let Outcome::Stays { help, .. } = &ways.boxes[0].outcome else {
        panic!("its lid does not go on")
    };
    assert!(
        help.iter()
            .any(|h| matches!(h, Help::LidBarred { barred } if barred.by() == "thing 7")),
        "{help:?}"
    );
    let mut out_of_reach = lidded(1);
    out_of_reach.lid_stays = Some("no room for a spanner over 4 of its screws: rail".to_owned());
    let ways = worked_out(vec![out_of_reach], vec![thing(7, [0, 0, 197], [1000, 20, 235])]);
    let Outcome::Stays { help, .. } = &ways.boxes[0].outcome else {
        panic!("its lid stays on")
    };
    assert!(
        help.iter()
            .any(|h| matches!(h, Help::LidOn { why } if why.contains("spanner"))),
        "{help:?}"
    );
}

/// A cap is got at from beside, so low room over it is no matter of tools: it goes up by its skirt.
#[test]
fn a_cap_held_by_clamps_is_judged_by_a_hand_beside_them_and_by_its_skirt() {
    let (mut job, _) = built_in("orchard-flatbed");
    job.design.closing = Some(crate::Closing::Cap);
    job.design.cap_held = Some(crate::CapHeldName::Toggles);
    let evaluation = evaluate(&job);
    let asked = question(&job, &evaluation);
    let reach = evaluation.boxes[0].reach.as_ref().expect("clamps");
    assert_eq!((reach.what, reach.from_above), ("toggle clamps", false));
    let beside = "there is no room for a hand beside 5 of its toggle clamps (in the way: front wall of the cavity)";
    assert_eq!(asked.boxes[0].lid_stays.as_deref(), Some(beside));
    // With room beside every clamp nothing is asked for over them, however low the roof.
    let mut roomy = evaluation.clone();
    roomy.boxes[0].reach.as_mut().expect("clamps").over.clear();
    let asked = question(&job, &roomy);
    assert_eq!(asked.boxes[0].lid_stays, None);
    // Its own height, skirt and all; the clamps, which stand higher, stay on the walls.
    let parts = &asked.boxes[0].parts;
    let cap = parts.iter().find(|part| part.name == "cap").expect("a cap");
    let clamps = parts.iter().find(|part| part.name == "toggle clamps").expect("clamps");
    assert!(clamps.solid.face(Face::Top) > cap.solid.face(Face::Top));
    let barred = super::in_place::lid_barred(&super::scene::Scene::of(&asked, 0, &[])).expect("it is under a roof");
    let Bar::Low { needs, has, .. } = barred.bar else {
        panic!("{barred:?}")
    };
    assert_eq!(needs, cap.solid.size()[Axis::Z]);
    assert!(has < needs, "{has:?}");
}

/// What comes off with a cap is its own steel, and goes straight up off the open box, past clamps and screws: nothing of it
/// stands in what stays.
#[rstest]
#[case::clamps(crate::CapHeldName::Toggles)]
#[case::screws(crate::CapHeldName::Screws)]
#[case::loose(crate::CapHeldName::Nothing)]
fn the_solids_of_a_cap_are_round_the_body_and_not_in_it(#[case] held: crate::CapHeldName) {
    for name in ["orchard-flatbed", "harbour-tender"] {
        let (mut job, _) = built_in(name);
        job.design.closing = Some(crate::Closing::Cap);
        job.design.cap_held = Some(held);
        let asked = question(&job, &evaluate(&job));
        assert!(!asked.boxes.is_empty());
        for (i, moved) in asked.boxes.iter().enumerate() {
            let own = super::lid::of(moved);
            let scene = super::scene::Scene::of(&asked, i, &[]);
            let off = Off {
                lid: true,
                fittings: true,
                ..Off::default()
            };
            let around = super::lid::around(&scene, &own, off);
            let of_box = |thing: &&Thing| matches!(thing.what, What::Box(_));
            let stays: Vec<Cuboid> = around
                .things
                .iter()
                .filter(of_box)
                .map(|thing| thing.expected)
                .collect();
            assert!(own.parts.len() >= 5 && !stays.is_empty());
            for part in &own.parts {
                let up = part
                    .solid
                    .grown(Faces::floor_walls_top(Length::ZERO, Length::ZERO, Length::mm(500)));
                let met = stays.iter().find(|solid| up.is_some_and(|up| up.overlaps(solid)));
                assert_eq!(met, None, "{name}, {}: {:?}", moved.name, part.solid);
            }
        }
    }
}

/// A box under a cap of 30, its skirt 10 out, before a bar across the front of its hollow: closed it meets the bar, by 4;
/// open it passes under it and the cap over it, 36 up and down again under the roof at 300. Neither is pitched. A bar up to 272 leaves the cap no
/// room between it and the roof.
#[rstest]
#[case::the_cap_passes_over(256, true)]
#[case::the_cap_does_not(272, false)]
fn a_cap_goes_over_the_box_in_its_place_where_it_has_room(#[case] top: i64, #[case] goes: bool) {
    let mut capped = moved(1, &[block([100, 20, 50], [700, 480, 250])], &[Face::Front]);
    capped.parts[0].open = Some(block([100, 20, 50], [700, 480, 240]));
    let band = block([90, 10, 220], [710, 490, 250]);
    capped.parts.push(Part {
        name: "cap".to_owned(),
        solid: band,
        open: None,
        loose: None,
        own: super::lid::cap(&band, Length::mm(240), Length::mm(2)),
    });
    let floor = thing(7, [0, 0, 0], [1000, 500, 49]);
    let bar = thing(8, [0, 0, 246], [20, 500, top]);
    let level = Question {
        pitch_deg: 0.0,
        ..asked(vec![capped], vec![floor, bar])
    };
    let ways = answer(level, WORK, &mut |_| true);
    let outcome = &ways.boxes[0].outcome;
    if goes {
        let way = outcome.way().expect("open it goes in, and its cap after it");
        assert!(way.off.lid, "{way:?}");
        return;
    }
    let Outcome::Stays { help, .. } = outcome else {
        panic!("{outcome:?}")
    };
    let told = help.iter().find_map(|help| match help {
        Help::LidBarred { barred } => Some(&barred.bar),
        _ => None,
    });
    // Lifted by its height, the cap has 22 of itself before the bar.
    let overlap = (Axis::Z, Length::mm(22));
    let (by, through) = ("thing 8".to_owned(), Face::Front);
    assert_eq!(told, Some(&Bar::OnTheWay { through, by, overlap }));
}

#[test]
fn a_lid_needs_its_own_height_over_it_and_a_side_to_leave_by() {
    // 9 over the top of the lid at 120, all over it and past the sides: it neither lifts off by its 10, nor...
    let roof = || thing(7, [0, 0, 129], [1000, 500, 300]);
    let ways = with_modules(&[], vec![roof()]);
    let expected = Bar::Low {
        by: "thing 7".to_owned(),
        needs: Length::mm(10),
        has: Length::mm(9),
    };
    assert_eq!(bars(&ways, Filled::Empty)[0], ("the lid", &expected));
    // ... but it is slid out by an open side.
    let ways = with_modules(&[Face::Left], vec![roof()]);
    assert!(bars(&ways, Filled::Empty).iter().all(|(part, _)| *part != "the lid"));
    // With all the room over it and no side open it comes off, and stays in there.
    let ways = with_modules(&[], Vec::new());
    assert_eq!(bars(&ways, Filled::Empty)[0], ("the lid", &Bar::Closed));
    assert!(ways.states[0][2].goes, "loaded, nothing is opened in its place");
}
