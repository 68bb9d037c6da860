//! Modules into a box and out of it.

use super::*;

#[test]
fn a_module_is_lifted_only_when_nothing_lies_on_it() {
    let lifted = |id: u32, solid: Cuboid| crate::way_in::loading::Lifted {
        id: Id(id),
        label: format!("M{id}"),
        units: Vec::new(),
        mass_g: Some(18_000),
        solid,
        room: vec![],
    };
    let mut open = crate::way_in::loading::Open {
        id: Id(1),
        name: "box".to_owned(),
        modules: vec![
            lifted(2, block([0, 0, 0], [100, 100, 100])),
            lifted(3, block([0, 0, 100], [100, 100, 200])),
            lifted(4, block([110, 0, 0], [210, 100, 100])),
        ],
        fixed: vec![("the rear wall".to_owned(), block([210, -50, 0], [900, 150, 300]))],
        bars: Vec::new(),
        lift: Length::mm(310),
        hand: Length::ZERO,
    };
    assert_eq!(open.over(true).before(0), Ok(vec![1]));
    let loading = crate::way_in::loading::of(&open);
    assert_eq!((&loading.order[..], loading.held.len()), (&[0, 1, 2][..], 0));
    // A spanner of 30 in front of its rear face: in the wall. It still goes in, and that is told.
    open.modules[2].room = vec![block([210, 40, 50], [240, 60, 100])];
    let loading = crate::way_in::loading::of(&open);
    assert_eq!(loading.order.len(), 3);
    let held = &loading.held[0];
    assert_eq!((held.room_only, held.by.as_str()), (true, "the rear wall"));
    // A spanner over the first module, where the second lies: the first is bolted before the second is in.
    open.modules[2].room = vec![block([60, 40, 120], [100, 60, 150])];
    assert_eq!(crate::way_in::loading::of(&open).order, [0, 2, 1]);
}

/// A module 2 into the step of its box goes in in no order, so the box goes in no state with all that is to be in it.
#[test]
fn a_module_in_the_step_is_told_as_that_and_no_state_goes() {
    let (low, mut open) = loaded(&[Face::Left]);
    open.fixed = vec![("the step".to_owned(), block([598, 20, 0], [700, 480, 60]))];
    let ask = |open: &crate::way_in::loading::Open| {
        let mut question = asked(vec![low.clone()], Vec::new());
        question.loading = vec![open.clone()];
        answer(question, WORK, &mut |_| true)
    };
    let ways = ask(&open);
    let style = ways.question.style;
    assert_eq!(ways.loading[0].held[0].words(style), "M3 stands 2.0 mm in the step");
    assert_eq!(ways.states[0].iter().map(|s| s.goes).collect::<Vec<_>>(), [false; 3]);
    let words = ways.state_words(0);
    assert!(
        words
            .iter()
            .all(|words| words.ends_with("M3 stands 2.0 mm in the step")),
        "{words:?}"
    );
    // Beside the step, where only the hand meets it: it goes.
    open.fixed[0].1 = block([600, 20, 0], [700, 480, 60]);
    open.modules[1].room = vec![block([600, 100, 40], [620, 200, 60])];
    let ways = ask(&open);
    let held = &ways.loading[0].held[0];
    assert!(held.room_only);
    assert_eq!(
        held.words(style),
        "no room for hand or spanner: that of M3 meets the step"
    );
    assert_eq!(ways.states[0].iter().map(|s| s.goes).collect::<Vec<_>>(), [true; 3]);
}

/// Lugs are welded to the walls and stay: a module under them is lifted out by no order, and goes in by none. A box keeps
/// its modules clear of them; the inside of one whose size was fixed before there were any does not.
#[rstest]
#[case::lugs(crate::HoldDownName::Lugs, false)]
#[case::lugs_in_a_box_of_fixed_size(crate::HoldDownName::Lugs, true)]
#[case::rods_beside_them(crate::HoldDownName::Rods, false)]
fn what_is_welded_to_the_walls_stays_when_modules_are_lifted(
    #[case] hold_down: crate::HoldDownName,
    #[case] holds: bool,
) {
    let (mut job, before) = built_in("orchard-flatbed");
    let exactly = |length| crate::Len::exactly(length, tape::Units::Millimetre);
    for (told, result) in job.boxes.iter_mut().zip(before.boxes.iter().filter(|_| holds)) {
        let inside = result.inside.expect("it has modules");
        told.at = inside.lo().0.map(exactly);
        told.fixed = Some(inside.size().0.map(exactly));
        for (placed, module) in told.modules.iter_mut().zip(&result.modules) {
            placed.at = (module.cuboid.lo() - inside.lo()).0.map(exactly);
        }
    }
    job.design.added.hold_down = Some(hold_down);
    let evaluation = evaluate(&job);
    let ways = ways_in(&job, &evaluation);
    let role = if hold_down == crate::HoldDownName::Lugs {
        enclosure::Role::Lug
    } else {
        enclosure::Role::HoldDownRod
    };
    let made = evaluation.boxes[0].built.as_ref().expect("it is built");
    let count = made.added.iter().filter(|piece| piece.role == role).count();
    let of_role = |(name, _): &&(String, Cuboid)| name.ends_with(role.name());
    assert_eq!(ways.question.loading[0].fixed.iter().filter(of_role).count(), count);
    assert!(count > 0);
    let module = unit_named(&ways, "14").expect("it is in the job");
    let held = ways.take_out(&evaluation, module).expect("it is in a box").held;
    let by_lug = |held: &crate::way_in::loading::Held| held.by == "a hold-down lug" && !held.room_only;
    assert_eq!(held.as_ref().is_some_and(by_lug), holds, "{held:?}");
    assert_eq!(ways.loading[0].held.iter().any(by_lug), holds, "{:?}", ways.loading[0]);
    let style = ways.question.style;
    let told = ways.loading[0].held.iter().map(|held| held.words(style));
    assert_eq!(
        told.filter(|words| words.contains("lugs of a shorter leg")).count(),
        usize::from(holds)
    );
}

/// Hold-down bars lie over the modules: they go on last, and those over a module come off before it does.
#[test]
fn bars_over_a_module_come_off_first_and_go_on_last() {
    let (mut job, _) = built_in("orchard-flatbed");
    job.design.added.hold_down = Some(crate::HoldDownName::Lugs);
    let evaluation = evaluate(&job);
    let ways = ways_in(&job, &evaluation);
    let module = unit_named(&ways, "14").expect("it is in the job");
    let service = ways.take_out(&evaluation, module).expect("it is in a box");
    let steps = service.steps();
    let place = |words: &str| steps.iter().position(|step| step.contains(words));
    let bar = place("take off the bar over M14 (2 nuts)");
    assert!(
        place("take the lid off") < bar && bar < place("lift M14 out"),
        "{steps:?}"
    );
    // One over each row, and one module in a row.
    let held = evaluation.boxes[0].added.held_down.as_ref().expect("bars");
    let count = held.bars;
    let words = ways.loading[0].words(&ways.question.loading[0]);
    let last = format!("; then the {count} bars over them ({} nuts)", count * 2);
    assert!(words.ends_with(&last), "{words}");
    // An angle is one bar too, and so is what lies half beside a module.
    let (_, mut open) = loaded(&[]);
    open.bars = vec![
        block([110, 0, 105], [125, 480, 110]),
        block([320, 0, 105], [400, 480, 110]),
    ];
    assert_eq!(
        (open.bars_over(&[0]), open.bars_over(&[1]), open.bars_over(&[0, 1])),
        (1, 0, 1)
    );
}

#[test]
fn a_box_is_lifted_empty_half_loaded_or_loaded() {
    let ways = with_modules(&[Face::Left], Vec::new());
    // 12 kg, and 18 for each module: one person to 25, two to 33.
    let told: Vec<(Filled, Option<i64>, Option<&str>, bool)> = ways.states[0]
        .iter()
        .map(|s| (s.filled, s.mass_g, s.hands().map(truck::lift::Hands::words), s.goes))
        .collect();
    assert_eq!(
        told,
        [
            (Filled::Empty, Some(12_000), Some("one person"), true),
            (Filled::Half, Some(30_000), Some("two persons"), true),
            (Filled::Loaded, Some(48_000), Some("hoist or jack"), true),
        ]
    );
    // The second half goes in where the box stands, in the order of loading.
    assert_eq!(ways.states[0][1].within, ways.loading[0].order[..1]);
    assert_eq!(ways.states[0][1].rest, ways.loading[0].order[1..]);
    let lines = ways.state_words(0);
    assert_eq!(
        lines[1],
        "half loaded 30.0 kg, two persons: goes; then in its place M3, and the lid"
    );
    // Without the mass of a module only the empty box is weighed.
    let (low, mut open) = loaded(&[Face::Left]);
    open.modules[1].mass_g = None;
    let mut question = asked(vec![low], Vec::new());
    question.loading = vec![open];
    let ways = answer(question, WORK, &mut |_| true);
    let masses: Vec<Option<i64>> = ways.states[0].iter().map(|s| s.mass_g).collect();
    assert_eq!(masses, [Some(12_000), Some(30_000), None]);
}

#[rstest]
#[case::just_enough(220, None)]
#[case::one_too_low(219, Some(109))]
fn a_module_needs_its_height_and_a_hand_over_the_rim(#[case] underside: i64, #[case] has: Option<i64>) {
    // A rail over M2 alone: 90 and 20 over the rim at 110 end at 220.
    let rail = thing(7, [100, 0, underside], [330, 500, 300]);
    let ways = with_modules(&[Face::Left], vec![rail]);
    let expected = has.map(|has| Bar::Low {
        by: "thing 7".to_owned(),
        needs: Length::mm(110),
        has: Length::mm(has),
    });
    assert_eq!(
        bars(&ways, Filled::Empty),
        expected.iter().map(|bar| ("M2", bar)).collect::<Vec<_>>()
    );
    // M2 is the first half: with it in, nothing is in the way of M3.
    assert_eq!(ways.loading[0].order, [0, 1]);
    assert!(bars(&ways, Filled::Half).is_empty() && bars(&ways, Filled::Loaded).is_empty());
    assert_eq!(ways.states[0][0].goes, has.is_none());
    let words = ways.state_words(0).remove(0);
    let told = words.contains("M2 needs 110.0 mm over the rim, thing 7 leaves 109.0 mm: 1.0 mm too little");
    assert_eq!(told, has.is_some(), "{words}");
}

/// 1 19/32 is read as 1 5/8 when it is needed, 27/64 as 3/8 when it is there: 1 1/4 is what those two lack, where 1 11/64 alone
/// would be told as 1 3/16.
#[test]
fn what_is_too_little_adds_up_as_it_is_read() {
    let barred = super::Barred {
        part: "M2".to_owned(),
        bar: Bar::Low {
            by: "rail".to_owned(),
            needs: Length::sixty_fourths(102),
            has: Length::sixty_fourths(27),
        },
    };
    assert_eq!(
        barred.words(tape::show::Style::default()),
        "M2 needs 1 5/8\" over the rim, rail leaves 3/8\": 1 1/4\" too little"
    );
}

/// What bars a lid and the modules under it is a sentence.
#[test]
fn several_things_that_are_barred_make_a_sentence() {
    let why = "there is no room for a spanner over 1 of its screws (in the way: bed bolt, front)";
    let barred = |part: &str| super::Barred {
        part: part.to_owned(),
        bar: Bar::Screws { why: why.to_owned() },
    };
    let mut state = with_modules(&[Face::Left], Vec::new()).states[0][0].clone();
    state.barred = ["the lid", "M13", "M14", "M15"].map(barred).to_vec();
    let ways = with_modules(&[Face::Left], Vec::new());
    let way = ways.boxes[0].outcome.way();
    let words = |state: &super::State| state.goes_words(&ways.question.loading[0], way, tape::show::Style::default());
    assert_eq!(
        words(&state),
        format!(
            "no: the lid cannot be taken off or put on there, since {why}; M13, M14 and M15 do not go in there either"
        )
    );
    state.barred.truncate(2);
    assert!(words(&state).ends_with("; M13 does not go in there either"));
}

#[test]
fn what_is_beside_the_opening_stops_a_module_on_its_way_out() {
    // Over the left sill a rail from 150 up: lifted by 100 the module and the hand reach from 110 to 220.
    let rail = thing(7, [0, 0, 150], [1000, 10, 300]);
    // Behind the box all is taken; without that the module is let down there and taken out under the rail.
    let behind = thing(8, [700, 0, 0], [1000, 500, 300]);
    let ways = with_modules(&[Face::Left], vec![rail.clone()]);
    assert!(bars(&ways, Filled::Half).is_empty());
    let ways = with_modules(&[Face::Left], vec![rail, behind]);
    let found = bars(&ways, Filled::Half);
    let expected = Bar::OnTheWay {
        through: Face::Left,
        by: "thing 7".to_owned(),
        overlap: (Axis::Z, Length::mm(70)),
    };
    assert_eq!(found, [("M3", &expected)]);
}

/// A way for the box is not the whole of it: what goes in neither empty, half loaded nor loaded is told with its reason in the
/// first line.
#[test]
fn a_box_that_has_a_way_and_no_order_of_loading_is_told_first() {
    let mut ways = worked_out(vec![moved(1, &[body()], &[Face::Bottom])], Vec::new());
    assert_eq!(ways.summary(), "1 of 1 boxes go in: box 1");
    let held = Held {
        modules: vec!["M1".to_owned()],
        by: "breather".to_owned(),
        within: Some(Length::mm(8)),
        room_only: false,
    };
    let state = |filled: Filled, goes: bool| State {
        filled,
        within: Vec::new(),
        rest: Vec::new(),
        mass_g: None,
        barred: Vec::new(),
        held: if goes { Vec::new() } else { vec![held.clone()] },
        goes,
    };
    ways.states = vec![vec![state(Filled::Empty, false), state(Filled::Loaded, false)]];
    let first = "1 of 1 boxes go in: box 1; box 1 cannot be loaded as planned: M1 stands 8.0 mm in breather";
    assert_eq!(ways.summary(), first);
    let stops = ways.findings();
    let [stop] = &stops[..] else { panic!("{stops:?}") };
    assert_eq!((stop.grave, stop.name.as_str()), (crate::Grave::Stop, "box 1"));
    assert_eq!(
        stop.words,
        "it cannot be loaded as planned: M1 stands 8.0 mm in breather"
    );
    ways.states = vec![vec![state(Filled::Empty, false), state(Filled::Loaded, true)]];
    assert_eq!(ways.summary(), "1 of 1 boxes go in: box 1");
    assert!(ways.findings().is_empty());
}
