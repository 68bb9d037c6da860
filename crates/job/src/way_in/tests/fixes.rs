//! What is told to do for a box that stays.

use super::*;

/// The advice for a box that stays takes more steps than the pitched way of another: ways are looked for first.
#[test]
fn advice_for_one_box_leaves_the_steps_for_the_way_of_another() {
    // 20 too wide for what is open under it, in a place of its own; and the box that is pitched past a lip.
    let mut stays = moved(1, &[body()], &[Face::Bottom]);
    stays.world = 1;
    let narrow = [(7, [0, 470, 0], [1000, 500, 20]), (8, [0, 0, 0], [1000, 30, 20])];
    let narrow = narrow.map(|(id, lo, hi)| (1, thing(id, lo, hi).1));
    let pitched = moved(2, &[block([50, 20, 150], [650, 480, 250])], &[Face::Bottom]);
    let lips = [
        thing(9, [0, 0, 0], [100, 500, 20]),
        thing(10, [660, 0, 0], [1000, 500, 20]),
    ];
    let goes = answer(asked(vec![pitched.clone()], lips.to_vec()), WORK, &mut |_| true);
    assert!(goes.boxes[0].outcome.way().is_some());
    let first = answer(asked(vec![stays.clone()], narrow.to_vec()), WORK, &mut |_| true);
    let Outcome::Stays { help, .. } = &first.boxes[0].outcome else {
        panic!("it stays")
    };
    assert!(
        !help.is_empty() && first.work > goes.work,
        "{} {}",
        first.work,
        goes.work
    );
    let both = asked(vec![stays, pitched], narrow.into_iter().chain(lips).collect());
    let ways = answer(both, first.work + goes.work / 2, &mut |_| true);
    assert!(ways.boxes[1].outcome.way().is_some());
    assert_eq!(ways.order, [1]);
}

/// That the lid does not go on is a reason; what to do about it is the fix: 62 needed, 50 there.
#[test]
fn a_lid_that_stays_off_is_a_reason_and_no_fix() {
    let mut ways = worked_out(vec![moved(1, &[body()], &[Face::Bottom])], Vec::new());
    let barred = Barred {
        part: "the lid".to_owned(),
        bar: Bar::Low {
            by: "bed crossmember".to_owned(),
            needs: Length::mm(62),
            has: Length::mm(50),
        },
    };
    ways.boxes[0].outcome = Outcome::Stays {
        tried: Vec::new(),
        help: vec![Help::LidBarred { barred }],
    };
    let finding = &ways.findings()[0];
    assert!(
        finding
            .words
            .ends_with("; its lid keeps it out: open it goes in, but the lid does not go on there: the lid needs 62.0 mm over it, bed crossmember leaves 50.0 mm: 12.0 mm too little"),
        "{}",
        finding.words
    );
    let fix = "make 12.0 mm more room under bed crossmember, or take another closing, whose lid can be put on there";
    assert_eq!(finding.fix, fix);
    let lines = ways.boxes[0].lines(ways.question.style);
    assert!(lines[0].starts_with("its lid keeps it out"), "{lines:?}");
    assert_eq!(lines[1], format!("fix: {fix}"));
}

/// An opening of 10 1/64, its lip cut back by 1/4: told as 10 and 10 1/4.
#[test]
fn the_sizes_of_an_opening_and_the_cut_add_up() {
    let sixteenth = Length::sixty_fourths(4);
    let is = Length::sixty_fourths(641);
    let help = Help::Wider {
        opening: Face::Bottom,
        lips: vec![(Face::Rear, sixteenth * 4)],
        sizes: vec![(Axis::X, is, is + sixteenth * 4)],
        then: Then {
            through: Face::Bottom,
            motion: Motion::Straight,
            off: Off::default(),
            sure: true,
        },
    };
    let style = Style {
        units: tape::Units::Inch,
        fraction: Fraction::Sixteenth,
    };
    let words = help.words(style);
    assert!(
        words.contains("the rear lip by 1/4\": it has to be 10 1/4\" in length, it is 10\"; "),
        "{words}"
    );
}

/// 20 less in width, and 9.5 are free inside: fewer modules go into it then.
#[test]
fn a_box_made_smaller_than_its_modules_is_told_with_fewer() {
    let narrow = || {
        vec![
            thing(7, [0, 470, 0], [1000, 500, 20]),
            thing(8, [0, 0, 0], [1000, 30, 20]),
        ]
    };
    let told = |free: Length| {
        let mut moved = moved(1, &[body()], &[Face::Bottom]);
        moved.free[Axis::Y.index()] = free;
        let ways = worked_out(vec![moved], narrow());
        let lines = ways.boxes[0].lines(ways.question.style);
        lines
            .into_iter()
            .find(|line| line.starts_with("fix: make it 20.0 mm less in width, "))
    };
    let fewer = ", with fewer modules: 9.5 mm of room is free inside: ";
    let words = told(Length::tenths_mm(95)).expect("it is told");
    assert!(words.contains(fewer), "{words}");
    let words = told(Length::mm(20)).expect("it is told");
    assert!(!words.contains("fewer"), "{words}");
}

/// What is free inside is never more than what the modules leave of it.
#[test]
fn what_is_free_inside_is_within_what_the_modules_leave() {
    let mut count = 0;
    for example in EXAMPLES {
        let (job, evaluation) = built_in(example.name);
        for moved in crate::way_in::question(&job, &evaluation).boxes {
            let battery_box = evaluation.boxes.iter().find(|b| b.id == moved.id).expect("it is there");
            let modules: Vec<Cuboid> = battery_box.modules.iter().map(|m| m.cuboid).collect();
            let modules = Cuboid::hull_of(&modules).expect("modules").size();
            let inside = battery_box.inside.expect("it is built").size();
            for axis in Axis::ALL {
                assert!(
                    moved.free[axis.index()] <= inside[axis] - modules[axis],
                    "{}",
                    moved.name
                );
                count += 1;
            }
        }
    }
    assert!(count > 0);
}
