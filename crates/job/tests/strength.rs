//! First-order sums of boxes: numbers worked by hand, what is found, and that what was entered wins.

mod common;

use enclosure::strength::crash::Direction;
use geometry::{Axis, Cuboid};
use job::{BoxStrength, Edit, Evaluation, Field, Figure, Grams, Grave, Job, PartSize, StrengthCheck, Sum, evaluate};
use rstest::rstest;
use tape::Length;

fn set(job: &Job, field: Field, text: &str) -> Job {
    let text = text.to_owned();
    job.with(&Edit::Set { field, text }).expect("the edit fits the job")
}

fn figure(job: &Job, figure: Figure, text: &str) -> Job {
    set(job, Field::Figure(figure), text)
}

/// With a floor of 3 mm, a millimetre less than the example has.
fn orchard() -> Job {
    set(&common::built_in("orchard-flatbed"), Field::Floor, "3 mm")
}

fn strength(evaluation: &Evaluation) -> &BoxStrength {
    evaluation.boxes[0].strength.as_ref().expect("its boxes can be built")
}

fn check(evaluation: &Evaluation, sum: Sum) -> &StrengthCheck {
    strength(evaluation).check(sum).expect("that sum is made")
}

fn near(got: f64, wanted: f64) {
    assert!((got - wanted).abs() < 1e-3 * wanted, "got {got}, wanted {wanted}");
}

/// What is found of a sum, by how it begins.
fn found(evaluation: &Evaluation, what: &str) -> Option<Grave> {
    let mut of_it = evaluation.findings.iter().filter(|f| f.words.starts_with(what));
    of_it.next().map(|f| f.grave)
}

/// 118.65 kg of steel and modules and 2.475 kg of liner: 121.125 kg loaded. M10: stress area 57.99 mm2, so
/// 0.6 x 800 x 57.99 / 1.25 = 22 268 N across each bolt and 33 402 N along it. Forwards 121.125 x 9.80665 x 20 = 23 757 N,
/// on four bolts under the quarter points of the long sides: an even share across with the twist of what the centre of
/// mass is off their middle, and F h / L along.
#[test]
fn mount_bolts_are_as_worked_by_hand() {
    let evaluation = evaluate(&orchard());
    let battery_box = &evaluation.boxes[0];
    let body = battery_box.body.unwrap();
    let [length, width, _] = body.size().0.map(Length::as_mm);
    let middle = |cuboid: &Cuboid| Axis::ALL.map(|axis| (cuboid.lo()[axis] + cuboid.hi()[axis]).as_mm() / 2.0);
    let empty = Grams(battery_box.mass.empty_g()).kg();
    let count = u32::try_from(battery_box.modules.len()).unwrap();
    let each = Grams(battery_box.mass.modules_g).kg() / f64::from(count);
    let centre = [0, 1, 2].map(|axis| {
        let modules: f64 = battery_box.modules.iter().map(|m| each * middle(&m.cuboid)[axis]).sum();
        (modules + empty * middle(&body)[axis]) / 121.125
    });
    let high = centre[2] - body.lo()[Axis::Z].as_mm();
    let [off_x, off_y] = [0, 1].map(|axis| centre[axis] - middle(&body)[axis]);
    let force = 121.125 * 9.806_65 * 20.0;
    let arm = [length / 4.0, width / 2.0];
    let twist = force * off_y.abs() / (4.0 * (arm[0].powi(2) + arm[1].powi(2)));
    let across = (force / 4.0 + twist * arm[1]).hypot(twist * arm[0]);
    let along = force * high / length;
    assert!(high > 50.0 && off_x.abs() < length / 4.0, "{high} {off_x}");
    let front = check(&evaluation, Sum::Bolts(Direction::Front));
    near(front.of.share, across / 22_267.96 + along / 1.4 / 33_401.9);
    assert!(front.of.share > 0.266_711, "more than the even share");
    assert_eq!(front.factor.map(|f| f.g), Some(20.0));
    assert!(front.says.contains("where the bolts are is not told"), "{}", front.says);
    // Sideways the bolts are nearer to each other, so the same height turns the box harder for each g.
    let side = check(&evaluation, Sum::Bolts(Direction::Side)).of.share;
    assert!(side / 15.0 > front.of.share / 20.0);
    assert_eq!(found(&evaluation, "mount bolts"), None);
    // 121.125 x 9.80665 / 2 / cos 45.
    near(strength(&evaluation).lift.unwrap().leg_n, 839.93);
}

/// Nothing but the bars holds: half of what is under the bar at each M8 stud of 36.61 mm2, 0.9 x 400 x 36.61 / 1.25 =
/// 10 544 N along and 0.6 x 400 x 36.61 / 1.25 = 7029 N across it, 10 g up and 20 g forwards.
#[test]
fn hold_downs_are_as_worked_by_hand() {
    let job = set(&orchard(), Field::HoldDown, "bars on lugs at the walls");
    let size = |job: &Job, size, text| set(job, Field::PartSize(size), text);
    let job = size(&job, PartSize::BarThread, "8 mm");
    let job = size(&size(&job, PartSize::LugLeg, "25 mm"), PartSize::LugGap, "0");
    let evaluation = evaluate(&job);
    let held = evaluation.boxes[0].added.held_down.as_ref().unwrap();
    assert!(held.not_held.is_empty() && held.mass_kg > 1.0);
    let up = held.mass_kg * 9.806_65 * 10.0;
    let span = held.span.as_mm();
    near(
        check(&evaluation, Sum::HoldStuds(Direction::Up)).of.share,
        up / 2.0 / 10_544.0,
    );
    near(
        check(&evaluation, Sum::HoldStuds(Direction::Front)).of.share,
        up / 7_029.4,
    );
    near(
        check(&evaluation, Sum::HoldStudsAtOnce).of.share,
        up / 7_029.4 + up / 2.0 / 10_544.0 / 1.4,
    );
    // A flat bar of 30 x 5, resting on its ends.
    near(check(&evaluation, Sum::HoldBar).of.load, up * span / 8.0 / 125.0);
    // The level leg of L 25 x 25 x 3, 30 mm long. The bar ends 3 + 2 off the wall, so the stud is in the middle between 5 and
    // 25, at 15: 12 from the upright leg, where it bends.
    near(check(&evaluation, Sum::HoldLug).of.load, up / 2.0 * 12.0 / 45.0);
    let strong = evaluate(&figure(&job, Figure::HoldDownClass, "8.8"));
    near(
        check(&strong, Sum::HoldStuds(Direction::Up)).of.share,
        up / 2.0 / 21_088.0,
    );
    // An angle is far stiffer: tables print 1.04 cm3 for L 30 x 30 x 5 with its toes rounded; sharp ones hold a little more.
    let angle = evaluate(&set(&job, Field::HoldDownBar, "angle"));
    let bent = check(&angle, Sum::HoldBar).of.load;
    assert!(
        (up * span / 8.0 / 1_090.0..up * span / 8.0 / 1_040.0).contains(&bent),
        "{bent}"
    );
    // Rods stand free: they hold up alone, and are told to.
    let rods = evaluate(&set(&job, Field::HoldDown, "bars on rods from the floor"));
    let rod = check(&rods, Sum::HoldStuds(Direction::Up));
    assert!(rod.says.contains("rods hold up only"), "{}", rod.says);
    assert!(strength(&rods).check(Sum::HoldStuds(Direction::Front)).is_none());
    assert!(strength(&rods).check(Sum::HoldLug).is_none());
}

/// Ten times 1.0705 mm (worked below) is past half of 3 mm, where 140 % would say nothing.
#[test]
fn what_governs_is_named_with_its_load_and_the_rest_follows_by_share() {
    let evaluation = evaluate(&orchard());
    let sums = strength(&evaluation);
    assert_eq!(
        sums.governs_text().as_deref(),
        Some("governs: floor, pressed down on, stress, outside the formula, 10 g down")
    );
    assert!(sums.checks.is_sorted_by(|one, next| one.of.share >= next.of.share));
}

/// 897 x 329 mm of 3 mm steel, 6.95 kg, under five modules of 18 kg, 142 x 320 mm each every 144 mm, the first 174.5 mm behind
/// the front wall and 4.5 mm off the left one: by Navier's double series, 80 terms across and 218 along, looked at every 160th of
/// each side, 32.850 N/mm2 and 1.0705 mm. Spread over the whole floor it were 26.99. In two spans of 448.5 mm the rear one has
/// 58.996 kg on it: 21.505 N/mm2 and 0.64172 mm.
#[test]
fn the_floor_is_as_worked_by_hand() {
    let evaluation = evaluate(&orchard());
    near(check(&evaluation, Sum::FloorStress).of.load, 32.850);
    near(check(&evaluation, Sum::FloorGives).of.load, 1.070_5);
    near(check(&evaluation, Sum::FloorPressed).of.share, 328.50 / 235.0);
    assert!(check(&evaluation, Sum::FloorPressed).says.contains("overstates"));
    // Pressed down on it gives 10.705 mm, and the formula holds to 1.5.
    assert_eq!(
        check(&evaluation, Sum::FloorPressed).load_text(evaluation.units),
        "outside the formula"
    );
    // 1.0705 mm is 0.04215 in.
    assert_eq!(
        check(&evaluation, Sum::FloorGives).load_text(evaluation.units),
        "0.042\""
    );
    assert_eq!(
        check(&evaluation, Sum::FloorGives).load_text(tape::Units::Millimetre),
        "1.07 mm"
    );
    // A caution, whether the 10 g down are from memory or the person's own.
    assert_eq!(found(&evaluation, "floor, pressed down on"), Some(Grave::Caution));
    let own = evaluate(&figure(&orchard(), Figure::CrashDown, "10"));
    assert_eq!(found(&own, "floor, pressed down on"), Some(Grave::Caution));
    assert_eq!(
        strength(&evaluation).governing().map(|c| c.sum),
        Some(Sum::FloorPressed)
    );
    let railed = evaluate(&figure(&orchard(), Figure::FloorSpans, "2"));
    near(check(&railed, Sum::FloorStress).of.load, 21.505);
    near(check(&railed, Sum::FloorGives).of.load, 0.641_72);
    near(check(&railed, Sum::FloorPressed).of.share, 215.05 / 235.0);
    assert_eq!(found(&railed, "floor"), None);
}

/// One rail in the middle of the same floor makes the same two spans of it. The rail, L 40 x 40 x 4, bears what stands from 224.25
/// to 672.75 mm: of five modules from 174.5 mm on, every 144 mm, 92.25 of 142 mm, two wholly, and 66.25 of 142 mm, 56.09 kg from
/// 4.5 to 324.5 mm of its 329, and 3.47 kg of floor all along. Times 10 g 5500.6 N and 340.8 N: 5500.6 / 2 x (164.5 - 80) +
/// 340.8 x 329 / 8 = 246 417 N mm. With a root of 6 mm and toes of 3 mm it has 307.86 mm2 with its middle at 11.196 mm, 44 730 mm4
/// about that (tables print 4.47 cm4), and 1552.9 mm3 at its far edge: 158.68 N/mm2.
#[test]
fn a_floor_on_a_rail_is_as_worked_by_hand() {
    let job = figure(
        &set(&orchard(), Field::FloorRails, "angles across under it"),
        Figure::FloorRails,
        "1",
    );
    let evaluation = evaluate(&job);
    near(check(&evaluation, Sum::FloorStress).of.load, 21.505);
    near(check(&evaluation, Sum::FloorGives).of.load, 0.641_72);
    let pressed = check(&evaluation, Sum::FloorPressed);
    near(pressed.of.share, 215.05 / 235.0);
    // 59.0 / 0.453 592 37 = 130.1.
    for told in [
        "59.0 kg (130.",
        " lb) on the span that bears most, 17 11/16\" x 12 15/16\" (448 x 329 mm)",
    ] {
        assert!(pressed.says.contains(told), "{}", pressed.says);
    }
    let rail = check(&evaluation, Sum::FloorRail);
    near(rail.of.load, 158.68);
    assert_eq!(rail.load_case().as_deref(), Some("10 g down"));
    // Spans that were entered are those of frame members; rails that are drawn count instead.
    let both = evaluate(&figure(&job, Figure::FloorSpans, "4"));
    near(check(&both, Sum::FloorStress).of.load, 21.505);
    let thin = evaluate(&set(
        &set(&job, Field::PartSize(PartSize::FloorRailLeg), "20 mm"),
        Field::PartSize(PartSize::FloorRailThickness),
        "3 mm",
    ));
    assert_eq!(found(&thin, "floor rail, pressed down on"), Some(Grave::Caution));
}

/// The same modules in a box of 1300 mm: 400 mm of its floor are empty. Each of five spans has what stands on it, so the empty one
/// makes the others no lighter, and a longer box with the same modules behind each other no stronger.
#[test]
fn a_floor_with_an_empty_part_is_no_stronger_than_one_without() {
    let with = |size: [i64; 3]| {
        let mut job = figure(
            &set(&orchard(), Field::FloorRails, "angles across under it"),
            Figure::FloorRails,
            "4",
        );
        let exactly = |side| job::Len::exactly(Length::mm(side), tape::Units::Millimetre);
        job.boxes[0].fixed = Some(size.map(exactly));
        evaluate(&job)
    };
    let long = with([1300, 330, 244]);
    let pressed = check(&long, Sum::FloorPressed);
    // Spans of 1303 / 5 = 260.6 mm wholly under modules of 18 kg every 144 mm, 142 x 320 mm: of 260.6 x 333 mm and 32.25 kg of
    // them the series gives more than spread evenly, and less than as if the modules' own pressure were all over it.
    let even = 32.25 + 2.04;
    assert!(
        pressed
            .says
            .contains("on the span that bears most, 13 1/8\" x 10 1/4\" (333 x 261 mm)"),
        "{}",
        pressed.says
    );
    let kg: f64 = pressed.says.split(' ').next().unwrap().parse().unwrap();
    assert!((kg - even).abs() < 0.9, "{kg}");
    let smeared = 96.8 / 1303.0 * 260.6;
    assert!(kg > 1.7 * smeared, "{kg} {smeared}");
}

#[test]
fn entered_load_factors_win_over_the_harshest() {
    let job = figure(&orchard(), Figure::CrashFront, "10 g");
    let evaluation = evaluate(&job);
    let front = check(&evaluation, Sum::Bolts(Direction::Front));
    let harshest = evaluate(&orchard());
    near(
        front.of.share,
        check(&harshest, Sum::Bolts(Direction::Front)).of.share / 2.0,
    );
    assert!(front.source_text().contains("load factor 10 g, your own figure"));
    let rear = check(&evaluation, Sum::Bolts(Direction::Rear));
    near(rear.of.share, check(&harshest, Sum::Bolts(Direction::Rear)).of.share);
    assert!(rear.source_text().contains("from memory"), "{}", rear.source_text());
    // Nothing pulls where the person says so.
    let none = evaluate(&figure(&job, Figure::CrashUp, "0"));
    near(check(&none, Sum::Bolts(Direction::Up)).of.share + 1.0, 1.0);
}

/// M5: 14.18 mm2, 5445 N a bolt: 5939 N across is too much for each of four by itself.
#[test]
fn bolts_too_thin_are_a_caution_that_says_what_the_worst_gets() {
    let job = figure(&orchard(), Figure::MountBolt, "5 mm");
    let evaluation = evaluate(&job);
    let words = &evaluation
        .findings
        .iter()
        .find(|f| f.words.starts_with("mount bolts, front"))
        .unwrap();
    assert_eq!(words.grave, Grave::Caution);
    assert!(
        words
            .words
            .contains("on 4 M5 of class 8.8; the bolt that gets most gets 5."),
        "{}",
        words.words
    );
    assert!(words.name.contains("left box, right box"), "{}", words.name);
    let more = evaluate(&figure(&job, Figure::MountBolts, "12"));
    assert_eq!(found(&more, "mount bolts"), None);
}

#[test]
fn sizes_between_those_on_the_list_are_taken_smaller_and_said() {
    let job = figure(&orchard(), Figure::MountBolt, "9");
    let evaluation = evaluate(&job);
    assert_eq!(strength(&evaluation).bolts, "4 M8 of class 8.8, none drawn");
    assert_eq!(
        found(&evaluation, "no 9 mm thread is on the list: M8 is taken"),
        Some(Grave::Note)
    );
    let high = evaluate(&figure(&orchard(), Figure::MountGrade, "10.9"));
    assert_eq!(strength(&high).bolts, "4 M10 of class 10.9, none drawn");
    assert!(strength(&high).taken.is_empty());
}

/// 3/8-16: 50.0 mm2 of stress area, 0.9 x 827.4 N/mm2 / 1.25 of it along the thread: 29.79 kN; grade 8 bears
/// 0.9 x 1034.2 / 1.25. Both ways at once grade 5 goes by the rule of 8.8, so its share is to that of M10 as 800 x 57.99 mm2
/// to 827.4 x 50.0.
#[test]
fn inch_bolts_are_chosen_by_name_with_their_own_grades() {
    let inch = figure(&orchard(), Figure::MountBolt, "3/8-16");
    let alone = evaluate(&inch);
    assert_eq!(strength(&alone).bolts, "4 3/8-16 of grade 5, none drawn");
    assert!(strength(&alone).taken.is_empty(), "nobody asked for a metric class");
    let share = |evaluation: &Evaluation| check(evaluation, Sum::Bolts(Direction::Front)).of.share;
    near(share(&alone) / share(&evaluate(&orchard())), 1.1214);
    let lifts = |job: &Job| {
        let evaluation = evaluate(&figure(job, Figure::HoldDownBolts, "4"));
        check(&evaluation, Sum::Bolts(Direction::Up)).of.limit
    };
    near(lifts(&inch), 29_787.0);
    let strong = evaluate(&figure(&inch, Figure::MountGrade, "grade 8"));
    assert_eq!(strength(&strong).bolts, "4 3/8-16 of grade 8, none drawn");
    near(lifts(&figure(&inch, Figure::MountGrade, "grade 8")), 37_231.0);
    // What is typed reads back from the file, and shows as typed.
    let back = job::load(job::to_text(&inch).as_bytes()).unwrap();
    assert_eq!(back, inch);
    let field = job::Field::Figure(Figure::MountBolt);
    assert_eq!(job::field::show(&inch, &[field])[0].1.text, "3/8-16");
}

/// What a class bears is never taken up: a weaker one, or one that the thread is not made in, is refused where it is typed
/// and where a file is read, with what may be written.
/// Plain studding is 4.6: what is below it was summed as if it were that.
#[test]
fn studs_below_class_4_6_are_refused() {
    let set = |text: &str| {
        let text = text.to_owned();
        let field = Field::Figure(Figure::HoldDownClass);
        orchard().with(&Edit::Set { field, text })
    };
    for text in ["4", "4.5", "4.599", "3.6"] {
        let error = set(text).expect_err("no studs are made in it");
        let words = format!("{error}; {}", error.mend());
        assert!(
            words.contains("hold-down studs, class") && words.contains(text),
            "{words}"
        );
        assert!(
            words.contains("type a class from 4.6, plain studding, to 12"),
            "{words}"
        );
    }
    assert!(set("4.6").is_ok() && set("4.8").is_ok());
}

#[test]
fn a_class_that_no_such_bolt_is_made_in_is_refused() {
    let refused = |job: &Job, figure, text: &str| {
        let text = text.to_owned();
        let field = Field::Figure(figure);
        let error = job.with(&Edit::Set { field, text }).expect_err("that is no class");
        format!("{error}; {}", error.mend())
    };
    let metric = orchard();
    for text in ["5.8", "4.6", "9.8", "10", "14.9", "grade 2"] {
        let words = refused(&metric, Figure::MountGrade, text);
        assert!(words.contains(text), "{words}");
        assert!(
            words.contains("8.8, 10.9 or 12.9 for metric threads, grade 5 or grade 8"),
            "{words}"
        );
    }
    let words = refused(&metric, Figure::MountGrade, "grade 5");
    assert!(words.contains("no M10 bolt is made in grade 5"), "{words}");
    let inch = figure(&metric, Figure::MountBolt, "3/8-16");
    let words = refused(&inch, Figure::MountGrade, "10.9");
    assert!(words.contains("no 3/8-16 bolt is made in class 10.9"), "{words}");
    let words = refused(&figure(&metric, Figure::MountGrade, "8.8"), Figure::MountBolt, "3/8-16");
    assert!(words.contains("empty the class before"), "{words}");
    // What is taken while nothing is entered can be confirmed for either thread.
    let field = Field::Figure(Figure::MountGrade);
    assert_eq!(job::field::show(&inch, &[field])[0].1.text, "grade 5");
    let confirmed = inch.with(&Edit::Confirm(field)).expect("it is one of its grades");
    assert_eq!(strength(&evaluate(&confirmed)).bolts, "4 3/8-16 of grade 5, none drawn");
    let file = |job: &Job, key: &str| {
        let mut file: serde_json::Value = serde_json::from_str(&job::to_text(job)).unwrap();
        file["electrics"]["figures"]["mount_grade"] = serde_json::from_str(key).unwrap();
        job::load(file.to_string().as_bytes()).map_err(|error| format!("{error}; {}", error.fix()))
    };
    let words = file(&metric, "5.8").unwrap_err();
    assert!(
        words.contains("mount_grade is 5.8; it may be 8.8, 10.9 or 12.9"),
        "{words}"
    );
    // A file that has it so is read, nothing of it lost, and told; the sums take what such a thread is made in.
    let read = file(&inch, "8.8").unwrap();
    assert_eq!(job::load(job::to_text(&read).as_bytes()).unwrap(), read);
    assert_eq!(job::field::show(&read, &[field])[0].1.text, "class 8.8");
    let evaluation = evaluate(&read);
    assert_eq!(strength(&evaluation).bolts, "4 3/8-16 of grade 5, none drawn");
    let told = |evaluation: &Evaluation| {
        let found = evaluation
            .findings
            .iter()
            .find(|f| f.words.contains("no 3/8-16 bolt is made in"));
        found.map(|f| (f.grave, f.words.clone(), f.fix.clone()))
    };
    let (grave, words, fix) = told(&evaluation).expect("it is told");
    assert_eq!(grave, job::Grave::Stop);
    assert_eq!(
        words,
        "mount bolts, class: no 3/8-16 bolt is made in class 8.8; they are summed as grade 5"
    );
    assert!(
        fix.contains("grade 5 or grade 8 for inch threads") && fix.contains("empty the class"),
        "{fix}"
    );
    // It is no reason to refuse another edit, and emptied it is gone; another that is not made is refused still.
    let other = figure(&read, Figure::MountBolts, "6");
    assert!(told(&evaluate(&other)).is_some());
    assert!(refused(&other, Figure::MountGrade, "10.9").contains("no 3/8-16 bolt is made in class 10.9"));
    assert_eq!(told(&evaluate(&figure(&other, Figure::MountGrade, ""))), None);
    // 12.9: 0.9 x 1200 x 57.99 / 1.25 = 50 103 N along each M10, 0.5 x 1200 x 57.99 / 1.25 = 27 835 N across it.
    let hard = figure(&file(&metric, "12.9").unwrap(), Figure::HoldDownBolts, "4");
    near(check(&evaluate(&hard), Sum::Bolts(Direction::Up)).of.limit, 50_103.0);
}

/// Four modules of 18 kg and, last in the row along the truck, one of 90 kg, 144 mm apart: about the middle one
/// 18 x (-288 - 144 + 0 + 144) + 90 x 288 = 20 736 kg mm. The box is 31.125 kg as in the sums above, 193.125 kg in all, so the
/// centre is 20 736 / 193.125 = 107.4 mm to the rear of where five alike would have it.
#[test]
fn a_heavy_module_pulls_the_centre_of_mass_its_way() {
    let alike = orchard();
    let mut job = alike.clone();
    let mut heavy = job.kinds[0].clone();
    heavy.id = job::Id(990);
    heavy.name = "heavy crate".to_owned();
    job.kinds.push(heavy);
    job.boxes[0].modules[4].kind = job::Id(990);
    let job = set(&job, Field::KindMass(job::Id(990)), "90 kg");
    let evaluation = evaluate(&job);
    near(strength(&evaluation).mass_kg, 193.125);
    // Over the middle of the body, as the modules' row is 5 x 18 kg of 121.125 kg when all are alike.
    let middle = |cuboid: &Cuboid| (cuboid.lo()[Axis::X] + cuboid.hi()[Axis::X]).as_mm() / 2.0;
    let battery_box = &evaluation.boxes[0];
    let third = battery_box.modules.iter().map(|m| middle(&m.cuboid)).sum::<f64>() / 5.0;
    let shift = middle(&battery_box.body.unwrap()) - third;
    let off = (20_736.0 + 31.125 * shift) / 193.125 - shift;
    let says = &check(&evaluation, Sum::Bolts(Direction::Front)).says;
    assert!(says.contains(&format!("({off:.0} mm) off it along")), "{off}: {says}");
    assert!(off > 90.0);
    // Pulled sideways the box turns about its bolts by that much, so they get more than their share of the greater mass.
    let even = check(&evaluate(&alike), Sum::Bolts(Direction::Side)).of.share;
    assert!(check(&evaluation, Sum::Bolts(Direction::Side)).of.share > even * 193.125 / 121.125);
}

/// A hole in one of two long sides parts the pair on the cut list; the sum of their rivets is told once, of the one that
/// bears more.
#[test]
fn a_pair_that_a_hole_parts_is_summed_once() {
    let job = set(&orchard(), Field::Construction, "panels in an angle frame");
    let into = job.boxes[0].id;
    let at = [Length::mm(150), Length::mm(100)];
    let job = job.with(&Edit::AddFitting { into, at }).expect("there is a box");
    let evaluation = evaluate(&job);
    let made = evaluation.boxes[0].built.as_ref().expect("it can be built");
    let rows = |role| made.parts.iter().filter(|part| part.role == role).count();
    let parted = rows(enclosure::Role::LongSide) + rows(enclosure::Role::End);
    assert_eq!(parted, 3, "one pair is parted");
    for direction in [Direction::Side, Direction::Front, Direction::Down] {
        let of_it = strength(&evaluation).checks.iter();
        assert_eq!(of_it.filter(|check| check.sum == Sum::Rivets(direction)).count(), 1);
    }
    // Rivets of 1 N/mm2 are too few everywhere: the box is named once.
    let soft = evaluate(&figure(&job, Figure::RivetBears, "1"));
    for finding in soft.findings.iter().filter(|f| f.words.starts_with("rivets")) {
        assert_eq!(finding.name.matches("left box").count(), 1, "{}", finding.name);
    }
    assert!(soft.findings.iter().any(|f| f.words.starts_with("rivets")));
}

#[test]
fn without_brackets_nothing_holds_the_box_and_no_bolts_are_bought() {
    let bare = evaluate(&orchard());
    assert_eq!(
        found(&bare, "no brackets: nothing here shows how the box is held"),
        Some(Grave::Caution)
    );
    let bolts = |job: &Job, evaluation: &Evaluation| {
        let items = job::shopping::to_buy(job, evaluation).items;
        items.iter().any(|item| item.what.starts_with("mount bolts"))
    };
    assert!(!bolts(&orchard(), &bare));
    let edit = Edit::Set {
        field: job::Field::Brackets,
        text: "to the web of a rail".to_owned(),
    };
    let held = orchard().with(&edit).unwrap();
    let evaluation = evaluate(&held);
    assert_eq!(found(&evaluation, "no brackets"), None);
    assert!(bolts(&held, &evaluation));
    assert_eq!(strength(&evaluation).bolts, "4 M10 of class 8.8");
}

/// M6: lid 2 mm on a flange of 3: 2 x 6 + 6 x 2 / (0.5 + 0.5) = 24 mm, closer than is taken unasked; lid and flange of 7:
/// 2 x 6 + 6 x 7 = 54 mm.
#[test]
fn an_empty_pitch_is_that_of_the_rule_but_no_closer_than_shops_set_screws() {
    let thick = ["7 mm", "7 mm"].into_iter().zip([Field::Lid, Field::FlangeThickness]);
    let thick = thick.fold(orchard(), |job, (text, field)| set(&job, field, text));
    let edit = |text: &str| set(&thick, Field::ScrewPitch, text);
    let shown = |job: &Job| job::field::show(job, &[job::Field::ScrewPitch])[0].1.clone();
    let ruled = edit("");
    assert_eq!(
        (shown(&ruled).text.as_str(), shown(&ruled).state),
        ("54 mm", job::State::Assumed)
    );
    let evaluation = evaluate(&ruled);
    let pitch = check(&evaluation, Sum::ScrewPitch);
    assert!(
        pitch.of.within() && pitch.says.contains("the pitch is that of the rule"),
        "{}",
        pitch.says
    );
    let typed = evaluate(&edit("75 mm"));
    assert!(!check(&typed, Sum::ScrewPitch).of.within(), "compared as ever");

    let thin = set(&orchard(), Field::ScrewPitch, "");
    assert_eq!(shown(&thin).text, "50 mm");
    let evaluation = evaluate(&thin);
    let pitch = check(&evaluation, Sum::ScrewPitch);
    near(pitch.of.limit, 24.0);
    assert!(!pitch.of.within() && pitch.says.contains("the closest that is taken unasked"));
    let told = evaluation
        .findings
        .iter()
        .find(|f| f.words.contains("lid screws, pitch"));
    assert_eq!(told.map(|f| f.grave), Some(Grave::Note));
}

/// A design of which nothing is entered asks for nothing that its own rules find more than a note about.
#[rstest]
#[case::flange(&[])]
#[case::cap(&[(Field::Closing, "cap with a skirt")])]
#[case::clamped(&[(Field::Closing, "cap with a skirt"), (Field::CapHeld, "toggle clamps")])]
#[case::folded(&[(Field::Construction, "folded tray")])]
#[case::framed(&[(Field::Construction, "panels in an angle frame")])]
fn an_untouched_lid_keeps_to_the_rules(#[case] entered: &[(Field, &str)]) {
    let mut job = orchard();
    job.design = job::Design::default();
    for &(field, text) in entered {
        job = set(&job, field, text);
    }
    let evaluation = evaluate(&job);
    for sum in [Sum::GasketLeast, Sum::GasketMost] {
        if let Some(check) = strength(&evaluation).check(sum) {
            assert!(check.of.within(), "{check:?}");
        }
    }
    let of_lid = [
        "lid screws",
        "gasket, squeezed",
        "nothing holds the lid",
        "the cap's skirt",
    ];
    let said = evaluation
        .findings
        .iter()
        .find(|f| f.grave != Grave::Note && of_lid.iter().any(|words| f.words.contains(words)));
    assert_eq!(said, None);
}

#[test]
fn hold_down_bolts_take_what_lifts_off() {
    let evaluation = evaluate(&figure(&orchard(), Figure::HoldDownBolts, "2"));
    let up = check(&evaluation, Sum::Bolts(Direction::Up));
    assert_eq!(up.of.what, "hold-down bolts, up");
    near(up.of.share, 0.088_904 * 2.0);
}

/// 6 mm squeezed to 4 mm is a third; 3 mm out of flat over 903 mm takes a quarter away or adds it.
#[test]
fn a_gasket_is_held_against_its_limits_as_drawn_and_over_the_rim() {
    let drawn = evaluate(&orchard());
    let low = check(&drawn, Sum::GasketAtLow);
    near(low.of.load, 100.0 / 12.0);
    assert_eq!(low.load_text(drawn.units), "8.3 %");
    assert_eq!(low.limit_text(drawn.units), "at least 10 %");
    let words = drawn
        .findings
        .iter()
        .find(|f| f.words.starts_with("gasket, rim's low spot"));
    let words = &words.expect("it is told").words;
    assert!(
        words.starts_with("gasket, rim's low spot: 8.3 %, at least 10 %: "),
        "{words}"
    );
    let high = check(&drawn, Sum::GasketAtHigh);
    assert_eq!(high.limit_text(drawn.units), "at most 50 %");
    near(check(&drawn, Sum::GasketAtHigh).of.load, 700.0 / 12.0);
    assert_eq!(found(&drawn, "gasket, rim"), Some(Grave::Note));
    assert_eq!(found(&drawn, "gasket, squeezed"), None);
    let loose = evaluate(&set(&orchard(), Field::GasketSqueezed, "5.6 mm"));
    assert_eq!(found(&loose, "gasket, squeezed"), Some(Grave::Caution));
    let none = evaluate(&set(&orchard(), Field::Gasket, "0 mm"));
    assert_eq!(found(&none, "gasket"), None);
}

/// 2 x 6 + 6 x 2 / (0.5 + 0.5) = 24 mm.
#[test]
fn a_wide_pitch_of_lid_screws_is_a_note_from_memory() {
    let evaluation = evaluate(&orchard());
    near(check(&evaluation, Sum::ScrewPitch).of.limit, 24.0);
    let found = evaluation
        .findings
        .iter()
        .find(|f| f.words.starts_with("lid screws"))
        .unwrap();
    assert_eq!(found.grave, Grave::Note);
    assert!(found.source.contains("from memory"));
}

/// A 24 mm die for 3 mm sheet holds 16.97 mm; a lip of 12 mm is 15 mm outside.
#[test]
fn a_lip_shorter_than_the_die_bends_is_a_caution() {
    let folded = set(&orchard(), Field::Construction, "folded");
    assert_eq!(found(&evaluate(&folded), "lip"), None);
    let short = evaluate(&set(&folded, Field::FlangeOut, "12 mm"));
    assert!(short.boxes[0].fault.is_none(), "{:?}", short.boxes[0].fault);
    assert_eq!(found(&short, "lip, folded"), Some(Grave::Caution));
}

/// What a sensible builder would choose carries 10 g down: 4 mm under the modules of the one, 188.39 N/mm2 by Navier's series
/// with each where it stands; 6 mm under the three stacks of 61.2 kg of the other, 592 x 232 mm each every 238 mm on 601 x 717
/// mm, 177.17 N/mm2; of 235.
#[test]
fn the_floors_of_the_examples_carry_what_presses_on_them() {
    for (name, mpa) in [("orchard-flatbed", 188.39), ("mountain-rescue", 177.17)] {
        let evaluation = evaluate(&common::built_in(name));
        near(check(&evaluation, Sum::FloorPressed).of.load, mpa);
        let over = |b: &job::BoxResult| {
            b.strength
                .iter()
                .flat_map(|s| &s.checks)
                .any(|c| c.over() == Some(Grave::Caution))
        };
        assert!(!evaluation.boxes.iter().any(over), "{name}");
    }
}

/// A gasket squeezed to four fifths of what crushes it holds nothing up.
#[test]
fn what_governs_is_what_carries() {
    let evaluation = evaluate(&common::built_in("harbour-tender"));
    let first = strength(&evaluation).governing().unwrap();
    assert!(
        first.of.what.starts_with("floor") || first.of.what.starts_with("mount bolts"),
        "{}",
        first.of.what
    );
}

/// A rivet of 4.9 mm is 18.857 mm2, at 45 N/mm2 848.58 N. Each panel is pushed by the 90 kg of modules and its own mass:
/// the floor 10 g down, an end 20 g forwards, a long side 15 g sideways, an even share on each of its rivets.
#[test]
fn rivets_of_a_framed_box_are_as_worked_by_hand() {
    let job = set(&orchard(), Field::Construction, "panels in an angle frame");
    let evaluation = evaluate(&job);
    let made = evaluation.boxes[0].built.as_ref().expect("it can be built");
    let panels = [
        (enclosure::Role::Floor, Direction::Down, 10.0),
        (enclosure::Role::End, Direction::Front, 20.0),
        (enclosure::Role::LongSide, Direction::Side, 15.0),
    ];
    for (role, direction, g) in panels {
        let panel = made
            .parts
            .iter()
            .find(|part| part.role == role)
            .expect("it has that panel");
        // Along each of two sides as many as keep 75 mm between them, one in each corner.
        let sum = check(&evaluation, Sum::Rivets(direction));
        let force = (90.0 + panel.grams() / 1000.0) * 9.806_65 * g;
        let rivets = panel
            .holes
            .iter()
            .filter(|hole| hole.purpose.plain() == enclosure::Purpose::Rivet)
            .count();
        near(sum.of.load, force / f64::from(u32::try_from(rivets).unwrap()));
        near(sum.of.limit, 848.58);
        assert!(sum.source_text().contains("from memory"), "{}", sum.source_text());
    }
    let hard = evaluate(&figure(&job, Figure::RivetBears, "90"));
    near(check(&hard, Sum::Rivets(Direction::Down)).of.limit, 2.0 * 848.58);
    assert!(
        check(&hard, Sum::Rivets(Direction::Down))
            .source_text()
            .contains("your own figure")
    );
    let few = evaluate(&figure(
        &set(&job, Field::RivetPitch, "400 mm"),
        Figure::RivetBears,
        "10",
    ));
    assert_eq!(found(&few, "rivets of the ends"), Some(Grave::Caution));
}

/// The angle of 30 x 3 stands 1 mm off the floor's edges, so it shares 26 mm with it all round: (L W - (L - 52) (W - 52)) of floor bear the
/// 10 g down.
#[test]
fn the_bond_of_a_framed_box_is_as_worked_by_hand() {
    let job = set(&orchard(), Field::Construction, "panels in an angle frame");
    let job = set(&job, Field::PanelsHeld, "adhesive");
    let evaluation = evaluate(&job);
    let made = evaluation.boxes[0].built.as_ref().expect("it can be built");
    let floor = made
        .parts
        .iter()
        .find(|part| part.role == enclosure::Role::Floor)
        .expect("it has a floor");
    let [length, width] = [floor.length, floor.width].map(Length::as_mm);
    let area = length * width - (length - 52.0) * (width - 52.0);
    let force = (90.0 + floor.grams() / 1000.0) * 9.806_65 * 10.0;
    let sum = check(&evaluation, Sum::Bond(Direction::Down));
    near(sum.of.load, force / area);
    near(sum.of.share, force / area / 2.0);
    assert!(strength(&evaluation).check(Sum::Rivets(Direction::Down)).is_none());
    assert!(
        sum.source_text().contains("common practice, no source"),
        "{}",
        sum.source_text()
    );
    let weak = evaluate(&figure(&job, Figure::BondBears, "0.1"));
    assert_eq!(found(&weak, "bond of the floor"), Some(Grave::Caution));
}

/// 6061-T6 of 3 mm wants 2.5 thicknesses, 7.5 mm; 5052-H32 1.5; mild steel is folded at its own thickness.
#[test]
fn a_bend_sharper_than_the_sheet_stands_is_a_caution() {
    let folded = set(&orchard(), Field::Construction, "folded");
    assert_eq!(found(&evaluate(&folded), "bends, inside radius"), None);
    let hard = set(&folded, Field::Material, "aluminium 6061");
    let evaluation = evaluate(&hard);
    let check = check(&evaluation, Sum::BendRadius);
    near(check.of.load, 3.0);
    near(check.of.limit, 7.5);
    assert_eq!(found(&evaluation, "bends, inside radius"), Some(Grave::Caution));
    let round = evaluate(&set(&hard, Field::BendRadius, "7.5 mm"));
    assert_eq!(found(&round, "bends, inside radius"), None);
}

/// How grave what is found is that has these words in it.
fn says(job: &Job, words: &str) -> Option<Grave> {
    let evaluation = evaluate(job);
    let mut found = evaluation.findings.iter().filter(|f| f.words.contains(words));
    found.next().map(|f| f.grave)
}

#[test]
fn a_lid_that_lies_on_the_rim_is_held_by_nothing() {
    let flat = set(&orchard(), Field::Closing, "flat lid on the rim");
    assert_eq!(says(&flat, "nothing holds the lid down"), Some(Grave::Caution));
    assert_eq!(says(&orchard(), "nothing holds the lid down"), None);
}

/// A skirt of 2 mm and 0.12 mm of coating on both: 2 mm out fit over nothing, 2.24 go on, 2.74 have the half millimetre.
#[test]
fn a_cap_needs_play_over_both_coatings() {
    let cap = |out: &str| {
        let job = set(&set(&orchard(), Field::Closing, "cap"), Field::Lid, "2 mm");
        set(&set(&job, Field::Coating, "0.12 mm"), Field::CapOut, out)
    };
    assert_eq!(says(&cap("2 mm"), "does not go over the body"), Some(Grave::Stop));
    assert_eq!(says(&cap("2.24 mm"), "does not go over the body"), Some(Grave::Stop));
    assert_eq!(says(&cap("2.5 mm"), "of play on each side"), Some(Grave::Caution));
    assert_eq!(says(&cap("2.74 mm"), "of play on each side"), None);
}

/// A lip of 18 bent to 6 has 12 flat, the holes' line at 9, and 4.5 of hole beside it: 13.5. M8 and its nut, 7.51 over the
/// corners, want 2 (6 + 7.51) = 27.02. An angle of 25 x 5 has 7.5 between line and upright leg, half of M10's nut is 8.
#[rstest]
#[case::into_the_bend("folded", &[(Field::FlangeOut, "18 mm"), (Field::BendRadius, "6 mm"), (Field::Screw, "8 mm")], "reach into the bend", Some(Grave::Stop))]
#[case::narrow("folded", &[(Field::FlangeOut, "26 mm"), (Field::BendRadius, "6 mm"), (Field::Screw, "8 mm")], "narrow for the lid screws and their nuts", Some(Grave::Caution))]
#[case::wide("folded", &[(Field::FlangeOut, "27.1 mm"), (Field::BendRadius, "6 mm"), (Field::Screw, "8 mm")], "narrow for the lid screws", None)]
#[case::no_gasket("folded", &[(Field::FlangeOut, "20 mm"), (Field::BendRadius, "6 mm"), (Field::Screw, "8 mm")], "no room for the gasket", Some(Grave::Caution))]
#[case::thin_gasket("folded", &[(Field::FlangeOut, "16 mm"), (Field::BendRadius, "3 mm"), (Field::Screw, "8 mm")], "the gasket is", Some(Grave::Caution))]
#[case::nut_in_the_leg("panels in an angle frame", &[(Field::PanelsHeld, "adhesive"), (Field::FrameLeg, "25 mm"), (Field::FrameThickness, "5 mm"), (Field::Screw, "10 mm")], "does not go beside the upright leg", Some(Grave::Stop))]
#[case::as_bought("panels in an angle frame", &[], "for the lid screws", None)]
#[case::welded("welded panels", &[], "the gasket is", None)]
fn a_rim_has_room_for_screws_and_gasket(
    #[case] made: &str,
    #[case] sizes: &[(Field, &str)],
    #[case] words: &str,
    #[case] grave: Option<Grave>,
) {
    let made = set(&orchard(), Field::Construction, made);
    let job = sizes.iter().fold(made, |job, &(field, text)| set(&job, field, text));
    assert_eq!(says(&job, words), grave);
}

/// What is offered for the pitch of rivets, and why.
fn pitch_offered(job: &Job) -> (String, String) {
    let shown = job::field::show(job, &[Field::RivetPitch]);
    (shown[0].1.text.clone(), shown[0].1.beside.clone())
}

/// The ends of 329 x 245.5 x 3 mm weigh 1.902 kg: with 90 kg of modules, 20 g forwards, 18 025 N, which 21.24, so 22 rivets of
/// 848.58 N bear. Their line is 2 x (329 - 2 x 10.5 + 245.5 - 12 - 15) = 1053 mm round: 47.9 apart, in whole millimetres 47.
/// At 5 N/mm2 each bears 94.29 N, so 192, 5.5 mm apart: three holes of 4.9 mm are 14.7, in whole millimetres 15.
/// At 200 N/mm2 3772 N, so 5 of them, 210 apart: the usual 75 do.
#[rstest]
#[case::as_bought(None, "47 mm", "from the crash load", None)]
#[case::soft(Some("5"), "15 mm", "from the crash load", Some(Grave::Caution))]
#[case::hard(Some("200"), "75 mm", "", None)]
fn rivets_are_as_close_as_the_crash_load_asks(
    #[case] bears: Option<&str>,
    #[case] pitch: &str,
    #[case] why: &str,
    #[case] grave: Option<Grave>,
) {
    let job = set(&orchard(), Field::Construction, "panels in an angle frame");
    let job = bears.map_or(job.clone(), |mpa| figure(&job, Figure::RivetBears, mpa));
    assert_eq!(pitch_offered(&job), (pitch.to_owned(), why.to_owned()));
    let evaluation = evaluate(&job);
    assert_eq!(found(&evaluation, "rivets of the ends"), grave);
    // The parts are drilled at the pitch that is offered: the same as if it had been entered.
    let entered = evaluate(&set(&job, Field::RivetPitch, pitch));
    let made = |evaluation: &Evaluation| evaluation.boxes[0].built.clone().expect("it can be built");
    assert_eq!(made(&evaluation), made(&entered));
    assert_eq!(evaluation.cut, entered.cut);
}

/// Soft rivets close up those of the walls to 15 mm; those of the floor rails stay at 75 unless a pitch is entered.
#[test]
fn a_crash_asks_nothing_of_the_rivets_of_floor_rails() {
    let framed = set(&orchard(), Field::Construction, "panels in an angle frame");
    let rails = [
        (Field::FloorRails, "angles across under it"),
        (Field::FloorRailsFixed, "riveted"),
    ];
    let job = rails.iter().fold(framed, |job, &(field, text)| set(&job, field, text));
    let of_rails = |job: &Job| -> u32 {
        let evaluation = evaluate(job);
        let built = evaluation.boxes[0].built.as_ref().expect("it can be built");
        built.fixings.iter().map(|fixing| fixing.rivets).sum()
    };
    let usual = of_rails(&figure(&job, Figure::RivetBears, "200"));
    let soft = figure(&job, Figure::RivetBears, "5");
    assert_eq!(pitch_offered(&soft).0, "15 mm");
    assert!(usual > 0 && of_rails(&soft) == usual);
    assert!(of_rails(&set(&soft, Field::RivetPitch, "40 mm")) > usual);
}

#[rstest]
fn rivets_of_defaults_bear_the_crash_load(
    #[values("orchard-flatbed", "harbour-tender", "mountain-rescue")] example: &str,
) {
    let job = set(
        &common::built_in(example),
        Field::Construction,
        "panels in an angle frame",
    );
    let evaluation = evaluate(&job);
    assert_eq!(found(&evaluation, "rivets of the"), None);
}

/// 12 F / (l pi tau) = 12 x 18 025 / (1053 x 3.1416 x 5) = 13.08 mm at 5 N/mm2 when they stand at three holes exactly; pitches
/// are whole millimetres, so at 40 mm it takes (4 x 40 F / (l pi tau))^0.5 = 13.205 mm, three of which are 39.9 in their turn.
/// 47 mm are 1.85 in, on the rule 1 13/16.
#[rstest]
#[case::closer("45", "put rivets at most 1 13/16\" apart")]
#[case::larger("5", "take rivets in holes of 0.524\" (13.3 mm) or more")]
fn what_would_do_for_rivets_too_far_apart_is_told(#[case] bears: &str, #[case] words: &str) {
    let job = set(&orchard(), Field::Construction, "panels in an angle frame");
    let job = figure(&set(&job, Field::RivetPitch, "75 mm"), Figure::RivetBears, bears);
    let evaluation = evaluate(&job);
    let mut over = evaluation
        .findings
        .iter()
        .filter(|f| f.words.starts_with("rivets of the ends"));
    let fix = &over.next().expect("they are too far apart").fix;
    assert!(fix.contains(words), "{fix}");
}
