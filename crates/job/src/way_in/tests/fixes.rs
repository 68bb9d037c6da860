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

/// The modules need none of an empty bay: where the box is cut there, the bay is what gives, not the modules.
#[test]
fn a_box_cut_at_its_bay_is_told_to_make_that_less() {
    // 20 too wide, and nothing but the bay is free inside.
    let told = |deep: i64| {
        let mut moved = moved(1, &[body()], &[Face::Bottom]);
        moved.free[Axis::Y.index()] = Length::ZERO;
        let bar = [
            thing(7, [0, 470, 0], [1000, 500, 20]),
            thing(8, [0, 0, 0], [1000, 30, 20]),
        ];
        let ways = worked_out(vec![moved.clone()], bar.to_vec());
        let cut = |ways: &WaysIn| match &ways.boxes[0].outcome {
            Outcome::Stays { help, .. } => help.iter().find_map(|help| match help {
                Help::Smaller { axis: Axis::Y, cut, .. } => Some(*cut),
                _ => None,
            }),
            Outcome::Goes(_) => None,
        };
        let [low, _] = cut(&ways).expect("it is told");
        let end = if low > Length::ZERO { Face::Left } else { Face::Right };
        moved.bay = Some((end, Length::mm(deep)));
        let ways = worked_out(vec![moved], bar.to_vec());
        let lines = ways.boxes[0].lines(ways.question.style);
        let line = lines
            .into_iter()
            .find(|line| line.starts_with("fix: make it 20.0 mm less in width, "));
        line.expect("it is told")
    };
    let words = told(50);
    assert!(words.contains(", its bay less by 20.0 mm: then "), "{words}");
    assert!(!words.contains("fewer"), "{words}");
    // A bay of 15 gives no 20.
    let words = told(15);
    assert!(
        words.contains(", its bay less by 15.0 mm, with fewer modules: then "),
        "{words}"
    );
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

/// Whole numbers in a fixed order for a seed (a linear congruence; Knuth's multiplier, from memory).
pub(super) struct Dice(pub(super) u64);

impl Dice {
    pub(super) fn between(&mut self, low: i64, high: i64) -> i64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        low + i64::try_from((self.0 >> 33) % u64::try_from(high - low).unwrap()).unwrap()
    }
}

/// A body with a flange and screw heads over it and a gland at its front, under and beside things anywhere.
fn any_scene(seed: u64) -> Question {
    let mut dice = Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) + 1);
    let (x, y, z) = (dice.between(60, 200), dice.between(20, 60), dice.between(20, 80));
    let (x1, y1, z1) = (
        x + dice.between(300, 700),
        500 - dice.between(20, 60),
        280 - dice.between(0, 80),
    );
    let solids = [
        block([x, y, z], [x1, y1, z1]),
        block([x - 10, y - 10, z1 - 20], [x1 + 10, y1 + 10, z1 - 15]),
        block([x - 5, y - 5, z1], [x1 + 5, y1 + 5, z1 + 8]),
    ];
    let through = [
        &[Face::Bottom][..],
        &[Face::Left],
        &[Face::Rear],
        &[Face::Bottom, Face::Left],
    ];
    let mut moved = moved(1, &solids, through[usize::try_from(dice.between(0, 4)).unwrap()]);
    for (part, name) in moved.parts.iter_mut().zip(["body", "flange", "screw heads"]) {
        part.name = name.to_owned();
    }
    let gland = block([x - 25, 200, z + 60], [x, 230, z + 90]);
    moved.parts.push(Part {
        name: "gland".to_owned(),
        solid: gland,
        open: Some(gland),
        loose: None,
        own: Vec::new(),
    });
    let things = (7..7 + u32::try_from(dice.between(1, 5)).unwrap()).filter_map(|id| {
        let low = [dice.between(-20, 980), dice.between(-20, 480), dice.between(-20, 280)];
        let high = [0, 1, 2].map(|k| low[k] + [dice.between(10, 500), dice.between(10, 200), dice.between(5, 40)][k]);
        let thing = thing(id, low, high);
        let free = moved.parts.iter().all(|part| !part.solid.overlaps(&thing.1.expected));
        free.then_some(thing)
    });
    let things: Vec<_> = things.collect();
    // Now and then its opening is narrowed at two ends.
    let open = moved.through[0];
    let axis = if open.axis() == Axis::Y { Axis::X } else { Axis::Y };
    for end in [Face::low(axis), Face::high(axis)] {
        if dice.between(0, 3) > 0 {
            continue;
        }
        let mut lip = Faces::all(Length::ZERO);
        lip[open] = Length::mm(3);
        lip[open.opposite()] = -hollow().size()[open.axis()];
        lip[end.opposite()] = Length::mm(dice.between(40, 120)) - hollow().size()[axis];
        let solid = hollow().grown(lip).unwrap();
        moved.walls.push(Thing {
            name: format!("{} lip of the {} opening", end.name(), open.name()),
            what: What::Lip(open, end),
            expected: solid,
            sure: solid,
        });
    }
    asked(vec![moved], things)
}

/// The thing as it is after a fix, made here by hand.
fn mended(question: &Question, help: &Help) -> Option<Question> {
    let mut mended = question.clone();
    match help {
        Help::TakeOut { what, .. } => mended.things.retain(|(_, thing)| thing.what != *what),
        Help::Together { out, and, .. } => {
            mended
                .things
                .retain(|(_, thing)| out.iter().all(|(_, what)| thing.what != *what));
            return match and {
                Some(and) => self::mended(&mended, and),
                None => Some(mended),
            };
        }
        Help::Raise { by, .. } => mended.ground -= *by,
        Help::Smaller { axis, cut, .. } => {
            let body = question.boxes[0].parts[0].solid;
            for part in &mut mended.boxes[0].parts {
                let mut corners = [part.solid.lo(), part.solid.hi()];
                let rides_at_the_top = part.name != "body" && part.name != "gland" && *axis == Axis::Z;
                for (end, corner) in corners.iter_mut().enumerate() {
                    corner[*axis] += match part.name.as_str() {
                        // At the front wall, in the lower or the upper half of it, on one side.
                        "gland" => {
                            let middle = |solid: &Cuboid| (solid.lo()[*axis] + solid.hi()[*axis]).half_down();
                            if middle(&part.solid) < middle(&body) {
                                cut[0]
                            } else {
                                -cut[1]
                            }
                        }
                        _ if end == 1 || rides_at_the_top => -cut[1],
                        _ => cut[0],
                    };
                }
                part.solid = Cuboid::between(corners[0], corners[1]);
                part.open = Some(part.solid);
            }
        }
        Help::Wider { opening, lips, .. } => {
            for wall in &mut mended.boxes[0].walls {
                for (_, by) in lips.iter().filter(|(end, _)| wall.what == What::Lip(*opening, *end)) {
                    let What::Lip(_, end) = wall.what else { continue };
                    let mut less = Faces::all(Length::ZERO);
                    less[end.opposite()] = -*by;
                    wall.expected = wall.expected.grown(less).unwrap();
                    wall.sure = wall.expected;
                }
            }
        }
        Help::Bed { .. } | Help::LidOn { .. } | Help::LidBarred { .. } => return None,
    }
    Some(mended)
}

#[test]
fn every_fix_that_is_told_makes_a_way() {
    let (mut stays, mut told, mut wider, mut together) = (0, 0, 0, 0);
    for seed in 0..150 {
        let question = any_scene(seed);
        let ways = answer(question.clone(), WORK, &mut |_| true);
        let Outcome::Stays { help, .. } = &ways.boxes[0].outcome else {
            continue;
        };
        stays += 1;
        for help in help {
            let Some(mended) = mended(&question, help) else {
                continue;
            };
            told += 1;
            wider += usize::from(matches!(help, Help::Wider { .. }));
            together += usize::from(matches!(help, Help::Together { .. }));
            let then = answer(mended, WORK, &mut |_| true);
            assert!(
                then.boxes[0].outcome.way().is_some(),
                "seed {seed}: {}",
                help.words(question.style)
            );
        }
    }
    assert!(
        stays >= 15 && told >= 30 && wider >= 5 && together >= 5,
        "{stays} without a way, {told} fixes, {wider} of them openings, {together} of several things"
    );
}

#[test]
fn a_flange_that_is_longer_than_the_opening_is_helped_by_no_height() {
    // Open at the left through 40 less than the flange is long; the height is free.
    let solids = [
        block([100, 20, 50], [700, 480, 200]),
        block([80, 10, 170], [720, 490, 175]),
    ];
    let question = asked(
        vec![moved(1, &solids, &[Face::Left])],
        vec![
            thing(7, [0, -10, 0], [100, 0, 300]),
            thing(8, [700, -10, 0], [1000, 0, 300]),
        ],
    );
    let ways = answer(question, WORK, &mut |_| true);
    let Outcome::Stays { help, .. } = &ways.boxes[0].outcome else {
        panic!("640 does not go through 600")
    };
    let cuts: Vec<(Axis, Length)> = help
        .iter()
        .filter_map(|h| match h {
            Help::Smaller { axis, cut, .. } => Some((*axis, cut[0] + cut[1])),
            _ => None,
        })
        .collect();
    assert_eq!(cuts, [(Axis::X, Length::mm(40))]);
}

/// Modules lower by what is told: the box that is built round them goes in.
#[test]
fn a_job_changed_as_told_goes() {
    let (side, cavity, hull, space) = closed_below();
    // The upper lip is 12 mm into what stands over the box, and the lower one as far from the middle of the face.
    let half = hull.face(Face::Top) - Length::mm(12) - (space.lo()[Axis::Z] + space.hi()[Axis::Z]).half_down();
    let clear = format!("{} mm x {} mm", space.size()[Axis::X].as_mm(), (half + half).as_mm());
    let low = set(&side, WayField::Opening(cavity, Face::Left), &clear);
    let evaluation = evaluate(&low);
    let ways = ways_in(&low, &evaluation);
    let Outcome::Stays { help, .. } = &ways.boxes[0].outcome else {
        panic!("too high for its opening: {}", ways.text_of(None))
    };
    let lower = help.iter().find_map(|h| match h {
        Help::Smaller { axis: Axis::Z, cut, .. } => Some(*cut),
        _ => None,
    });
    let [bottom, top] = lower.unwrap_or_else(|| panic!("{}", ways.text_of(None)));
    let mut changed = low.clone();
    let height = changed.kinds[0].size[2].as_ref().unwrap().value() - bottom - top;
    changed.kinds[0].size[2] = Some(crate::Len::exactly(height, tape::Units::Millimetre));
    let at = &mut changed.boxes[0].at;
    at[2] = crate::Len::exactly(at[2].value() + bottom, tape::Units::Millimetre);
    let ways = ways_in(&changed, &evaluate(&changed));
    assert!(ways.boxes[0].outcome.way().is_some(), "{}", ways.text_of(None));
}

/// 460 wide and 440 of opening, 10 of it at each side: what has to be cut back, how large it is and has to be.
#[test]
fn a_lip_is_told_with_its_end_and_the_opening_with_its_sizes() {
    let mut narrow = moved(1, &[body(), block([100, 20, 245], [700, 480, 250])], &[Face::Bottom]);
    for (end, lo, hi) in [
        (Face::Left, [0, 0, -3], [1000, 30, 0]),
        (Face::Right, [0, 470, -3], [1000, 500, 0]),
    ] {
        let solid = block(lo, hi);
        narrow.walls.push(Thing {
            name: format!("{} lip of the bottom opening", end.name()),
            what: What::Lip(Face::Bottom, end),
            expected: solid,
            sure: solid,
        });
    }
    // Nothing slides: a rail stands at each side of its place.
    let rails = vec![
        thing(7, [0, 0, 100], [1000, 20, 150]),
        thing(8, [0, 480, 100], [1000, 500, 150]),
    ];
    let mut question = asked(vec![narrow], rails);
    question.pitch_deg = 0.0;
    let ways = answer(question, WORK, &mut |_| true);
    let text = ways.boxes[0].lines(ways.question.style).join("\n");
    let words = "fix: make the bottom opening larger, the left lip by 10.0 mm and the right lip by 10.0 mm: it has to be 460.0 mm \
                 in width, it is 440.0 mm; then it goes up from below, straight";
    assert!(text.contains(words), "{text}");
    // Each lip is told once, though body and flange meet it.
    for end in ["left", "right"] {
        let name = format!("{end} lip of the bottom opening is in the way");
        assert_eq!(text.matches(&name).count(), 1, "{text}");
    }
}
