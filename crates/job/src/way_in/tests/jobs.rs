//! What holds of whole jobs.

use super::*;

#[test]
fn the_boxes_of_every_built_in_job_go_in() {
    for example in EXAMPLES {
        let (job, evaluation) = built_in(example.name);
        let ways = ways_in(&job, &evaluation);
        assert_eq!(ways.order.len(), evaluation.boxes.len(), "{}", ways.text_of(None));
        // The same question gives the same answer.
        assert_eq!(ways, ways_in(&job, &evaluation));
    }
}

#[test]
fn a_face_that_is_closed_is_no_way() {
    let (job, _) = built_in("orchard-flatbed");
    let cavity = job.cavities[0].id;
    let side = set(&job, WayField::Opening(cavity, Face::Bottom), "closed");
    let ways = ways_in(&side, &evaluate(&side));
    assert_eq!(ways.boxes[0].outcome.way().map(|way| way.through), Some(Face::Left));
    // The last one stays open.
    let text = "closed".to_owned();
    let field = Field::Way(WayField::Opening(cavity, Face::Left));
    let refused = side.with(&Edit::Set { field, text }).unwrap_err();
    assert_eq!(refused.mend(), "open another face first");
    // An opening 300 mm too short for the box, and no other.
    let overall = evaluate(&side).boxes[0]
        .solids
        .iter()
        .copied()
        .reduce(|a, b| a.hull(&b))
        .unwrap()
        .size();
    let Size([length, _, height]) = overall;
    let clear = format!("{} mm x {} mm", length.as_mm() - 300.0, height.as_mm() + 20.0);
    let narrow = set(&side, WayField::Opening(cavity, Face::Left), &clear);
    let ways = ways_in(&narrow, &evaluate(&narrow));
    let Outcome::Stays { tried, .. } = &ways.boxes[0].outcome else {
        panic!("300 mm too long for its opening")
    };
    assert!(
        tried[0]
            .stops
            .iter()
            .any(|stop| matches!(stop.what, What::Lip(Face::Left, _)))
    );
}

#[test]
fn entries_survive_the_file_and_are_checked_in_it() {
    let (job, _) = built_in("mountain-rescue");
    let job = set(&job, WayField::Bed, "tilted up");
    let job = set(&job, WayField::Jack, "5 1/2");
    let job = job.with(&Edit::Bed(BedEdit::Add)).unwrap();
    let text = crate::to_text(&job);
    assert_eq!(load(text.as_bytes()).unwrap(), job);
    let wrong = text.replace("\"jack\": \"5 1/2\\\"\"", "\"jack\": \"-1\\\"\"");
    assert_ne!(wrong, text);
    let refused = load(wrong.as_bytes()).unwrap_err().to_string();
    assert!(refused.contains("way_in"), "{refused}");
}

#[test]
fn the_first_face_that_is_entered_leaves_the_assumed_one_open() {
    let job = Job::empty(crate::UnitsName::Millimetre);
    let cavity = job.cavities[0].id;
    let shown = |job: &Job, face| {
        let field = Field::Way(WayField::Opening(cavity, face));
        let shown = crate::field::show(job, &[field]).remove(0).1;
        (shown.text, shown.state)
    };
    assert_eq!(shown(&job, Face::Bottom), ("open".to_owned(), crate::State::Assumed));
    let job = set(&job, WayField::Opening(cavity, Face::Left), "open");
    for (face, word) in [(Face::Bottom, "open"), (Face::Left, "open"), (Face::Top, "closed")] {
        assert_eq!(shown(&job, face), (word.to_owned(), crate::State::Given), "{face:?}");
    }
}

/// Brackets of the design go in with the box, and stiffeners are not taken for fittings.
#[test]
fn brackets_and_stiffeners_of_a_design_are_parts_of_what_goes_in() {
    let (mut job, _) = built_in("orchard-flatbed");
    job.design.added.brackets = Some(crate::BracketsName::Web);
    let evaluation = evaluate(&job);
    let asked = question(&job, &evaluation);
    let battery_box = &evaluation.boxes[0];
    let of_box = asked
        .boxes
        .iter()
        .find(|b| b.id == battery_box.id)
        .expect("it can be brought in");
    let brackets = of_box.parts.iter().filter(|part| part.loose == Some(Loose::Bracket));
    assert_eq!(brackets.count(), battery_box.added.brackets.len());
    assert!(!battery_box.added.brackets.is_empty());
    assert_eq!(
        of_box.parts.len(),
        battery_box.solids.len() + battery_box.added.brackets.len()
    );
    let open: i64 = of_box
        .parts
        .iter()
        .filter_map(|p| p.open)
        .map(|s| s.face(Face::Top).nm())
        .max()
        .expect("a rim");
    let closed: i64 = of_box
        .parts
        .iter()
        .map(|p| p.solid.face(Face::Top).nm())
        .max()
        .expect("a top");
    assert!(open < closed, "the lid lies on the rim");
}

/// A narrowed opening in the middle of its face stops the box; where it was measured to be, it goes in.
#[test]
fn where_a_narrowed_opening_is_is_entered_and_else_told_as_assumed() {
    let (side, cavity, hull, space) = closed_below();
    // As long as the face, 30 mm higher than the box, and lying where the box is, not in the middle.
    let mut high = side.clone();
    high.cavities[0].keep_outs.clear();
    let text = |length: Length| format!("{} mm", length.as_mm());
    let clear = format!(
        "{} x {}",
        text(hull.size().0[0] + Length::mm(30)),
        text(space.size()[Axis::Z])
    );
    let narrow = set(&high, WayField::Opening(cavity, Face::Left), &clear);
    let place = |job: &Job| {
        let field = Field::Way(WayField::OpeningAt(cavity, Face::Left));
        let shown = crate::field::show(job, &[field]).remove(0).1;
        (shown.text, shown.state)
    };
    assert_eq!(place(&narrow), ("middle".to_owned(), crate::State::Assumed));
    let asked = question(&narrow, &evaluate(&narrow));
    let words = "the left opening in the middle of its face";
    assert!(asked.assumed.iter().any(|a| a.ends_with(words)), "{:?}", asked.assumed);
    let lips = |asked: &Question| -> Vec<(Face, Cuboid)> {
        let walls = asked.boxes[0].walls.iter();
        let lips = walls.filter_map(|w| match w.what {
            What::Lip(Face::Left, end) => Some((end, w.expected.moved(-asked.boxes[0].from_cavity))),
            _ => None,
        });
        lips.collect()
    };
    let ends: Vec<Face> = lips(&asked).iter().map(|(end, _)| *end).collect();
    assert_eq!(ends, [Face::Front, Face::Rear]);
    // 15 mm before the box.
    let at = hull.face(Face::Front) - space.face(Face::Front) - Length::mm(15);
    let placed = set(
        &narrow,
        WayField::OpeningAt(cavity, Face::Left),
        &format!("{} x 0 mm", text(at)),
    );
    assert_eq!(place(&placed).1, crate::State::Given);
    let asked = question(&placed, &evaluate(&placed));
    assert!(asked.assumed.iter().all(|a| !a.contains(words)), "{:?}", asked.assumed);
    let [front, rear] = lips(&asked)[..] else {
        panic!("a lip at each end")
    };
    assert_eq!(front.1.face(Face::Rear), hull.face(Face::Front) - Length::mm(15));
    assert_eq!(rear.1.face(Face::Front), hull.face(Face::Rear) + Length::mm(15));
    assert!(asked.boxes[0].in_the_middle.is_empty());
    // It survives the file, and goes with the size that it belongs to.
    assert_eq!(load(crate::to_text(&placed).as_bytes()).unwrap(), placed);
    let open = set(&placed, WayField::Opening(cavity, Face::Left), "open");
    assert_eq!(open.cavities[0].openings.iter().find(|o| o.at.is_some()), None);
    let field = Field::Way(WayField::OpeningAt(cavity, Face::Left));
    let refused = placed
        .with(&Edit::Set {
            field,
            text: "3".to_owned(),
        })
        .unwrap_err();
    assert!(refused.mend().contains("front and lower edges"), "{}", refused.mend());
}

#[test]
fn a_proof_says_that_it_rests_on_an_opening_in_the_middle() {
    let narrow = || {
        let mut narrow = moved(1, &[body()], &[Face::Bottom]);
        narrow.walls.extend([Face::Left, Face::Right].map(|end| {
            let solid = match end {
                Face::Left => block([0, 0, -3], [1000, 30, 0]),
                _ => block([0, 470, -3], [1000, 500, 0]),
            };
            Thing {
                name: format!("{} lip of the bottom opening", end.name()),
                what: What::Lip(Face::Bottom, end),
                expected: solid,
                sure: solid,
            }
        }));
        narrow
    };
    let words = "with the bottom opening in the middle of its face";
    let mut in_the_middle = narrow();
    in_the_middle.in_the_middle = vec![Face::Bottom];
    for (moved, told) in [(narrow(), false), (in_the_middle, true)] {
        let ways = worked_out(vec![moved], Vec::new());
        assert!(ways.boxes[0].outcome.is_impossible());
        let style = ways.question.style;
        assert_eq!(ways.boxes[0].verdict(style).contains(words), told);
        assert_eq!(ways.boxes[0].lines(style)[0].contains(words), told);
    }
}

#[test]
fn every_face_that_was_tried_has_its_picture_and_the_bed_is_in_it() {
    let job = under_a_bed("on the frame");
    let cavity = job.cavities[0].id;
    let job = set(&job, WayField::Opening(cavity, Face::Top), "open");
    let job = set(&job, WayField::Opening(cavity, Face::Front), "20 mm x 20 mm");
    let ways = ways_in(&job, &evaluate(&job));
    let Outcome::Stays { tried, .. } = &ways.boxes[0].outcome else {
        panic!("{}", ways.text_of(None))
    };
    assert_eq!((tried.len(), ways.pictures[0].len()), (2, 2));
    for picture in &ways.pictures[0] {
        assert_eq!(picture.bed_words, "the bed on the frame");
        let names: Vec<&str> = picture.bed.iter().map(|bed| bed.name.as_str()).collect();
        assert!(names.contains(&"bed floor"), "{names:?}");
        let [along, up] = picture.window;
        let is_shown = |[a, u]: &[Length; 2]| along[0] <= *a && *a <= along[1] && up[0] <= *u && *u <= up[1];
        assert!(picture.bed.iter().flat_map(|bed| &bed.corners).all(is_shown));
    }
    let rear = tried.iter().position(|t| t.through == Face::Rear).unwrap();
    assert!(
        ways.pictures[0][rear]
            .bed
            .iter()
            .any(|bed| bed.name == "tail" && bed.is_met)
    );
    // Tilted, each outline is within the blocks that stand for it.
    let job = set(&job, WayField::Bed, "tilted up");
    let asked = question(&job, &evaluate(&job));
    for (part, outline) in asked.bed_outlines.iter().enumerate() {
        let blocks = asked.things.iter().filter(|(_, thing)| thing.what == What::Bed(part));
        let blocks: Vec<Cuboid> = blocks.map(|(_, thing)| thing.expected).collect();
        for [x, z] in outline {
            let near = Length::from_nm(5);
            let holds = |b: &Cuboid| {
                b.face(Face::Front) - near <= *x
                    && *x <= b.face(Face::Rear) + near
                    && b.face(Face::Bottom) - near <= *z
                    && *z <= b.face(Face::Top) + near
            };
            assert!(blocks.iter().any(holds), "{part}: {x:?} {z:?}");
        }
    }
}
