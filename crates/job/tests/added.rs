//! Brackets, hold-down bars, dividers, standoffs, clamps and lid stiffeners: where they go, what they weigh and what is
//! said of them.

mod common;

use enclosure::{Form, Purpose, Role, Wall};
use geometry::{Axis, Face};
use job::{BoxResult, Edit, Evaluation, Field, Figure, Grave, Job, PartSize, PlacesOf, Sum, evaluate};
use proptest::prelude::*;
use rstest::rstest;
use tape::Length;

fn set(job: &Job, values: &[(Field, &str)]) -> Job {
    values.iter().fold(job.clone(), |job, &(field, text)| {
        let text = text.to_owned();
        job.with(&Edit::Set { field, text }).expect("the edit fits the job")
    })
}

fn orchard(values: &[(Field, &str)]) -> (Job, Evaluation) {
    let job = set(&common::built_in("orchard-flatbed"), values);
    let evaluation = evaluate(&job);
    (job, evaluation)
}

fn pieces(battery_box: &BoxResult, role: Role) -> u32 {
    let built = battery_box.built.as_ref().expect("it can be built");
    built.parts.iter().filter(|p| p.role == role).map(|p| p.quantity).sum()
}

fn said<'a>(evaluation: &'a Evaluation, words: &str) -> Option<&'a job::Finding> {
    evaluation.findings.iter().find(|f| f.words.contains(words))
}

/// Two brackets a side of L 50 x 50 x 5, 80 long, with a root of 7 mm and toes of 3.5: 95 x 5 + 0.2146 x (49 - 24.5) =
/// 480.26 mm2 x 80 mm at 7.85 mg/mm3 is 301.60 g each, less an 11 mm hole for its M10 bolt, 95.03 mm2 x 5 mm: 3.73 g.
#[test]
fn brackets_are_cut_weighed_and_counted() {
    let (_, bare) = orchard(&[]);
    let (_, with) = orchard(&[
        (Field::Brackets, "to the web of a rail"),
        (Field::PartSize(PartSize::BracketLeg), "50 mm"),
    ]);
    let battery_box = &with.boxes[0];
    assert_eq!(pieces(battery_box, Role::Bracket), 4);
    let more = battery_box.built.as_ref().unwrap().grams - bare.boxes[0].built.as_ref().unwrap().grams;
    assert!((more - 4.0 * (301.602 - 3.73)).abs() < 0.01, "{more}");
    assert_eq!(battery_box.added.faults, Vec::<String>::new());
    let [low, high] = [0, 1].map(|i| battery_box.added.by_rule[i].1.clone());
    assert_eq!((low.len(), &low), (2, &high));
    // Both legs of each; the far leg's outside is 50 mm from the wall.
    assert_eq!(battery_box.added.brackets.len(), 8);
    let body = battery_box.body.unwrap();
    assert!(
        body.size()[Axis::X] > body.size()[Axis::Y],
        "the long sides face left and right"
    );
    let out = battery_box.added.brackets.iter().map(|solid| solid.hi()[Axis::Y]).max();
    assert_eq!(out, Some(body.hi()[Axis::Y] + Length::mm(50)));
    // Four bolts hold it now, as the bracket count says, and the bolts bear its weight, too.
    let strength = battery_box.strength.as_ref().unwrap();
    assert!(strength.bolts.starts_with("4 M10"), "{}", strength.bolts);
    let down = enclosure::strength::crash::Direction::Down;
    assert!(strength.check(Sum::Bolts(down)).is_some() && strength.check(Sum::Brackets(down)).is_some());
    assert!(
        bare.boxes[0]
            .strength
            .as_ref()
            .unwrap()
            .check(Sum::Bolts(down))
            .is_none()
    );
}

/// The stress at the root by hand: the worst share of the force times lever over b t^2 / 6. The bolts lie at the corners of a
/// rectangle, so the worst gets a quarter and what the centre of mass is off their middle, over four times its own distance
/// from it, each way.
#[test]
fn a_bracket_is_bent_by_the_worst_share_of_the_weight() {
    let (_, evaluation) = orchard(&[
        (Field::Brackets, "to the web of a rail"),
        (Field::PartSize(PartSize::BracketLeg), "50 mm"),
        (Field::Figure(Figure::CrashDown), "10"),
    ]);
    let battery_box = &evaluation.boxes[0];
    let strength = battery_box.strength.as_ref().unwrap();
    let down = enclosure::strength::crash::Direction::Down;
    let check = strength.check(Sum::Brackets(down)).unwrap();
    let bolts = &battery_box.added.mount_bolts;
    assert_eq!(bolts.len(), 4);
    let middle = |axis: usize| bolts.iter().map(|bolt| bolt.0[axis].as_mm()).sum::<f64>() / 4.0;
    let body = battery_box.body.unwrap();
    let mid = |cuboid: &geometry::Cuboid, axis: geometry::Axis| (cuboid.lo()[axis] + cuboid.hi()[axis]).as_mm() / 2.0;
    let off = |axis: geometry::Axis| {
        let each = 90.0 / 5.0;
        let modules: f64 = battery_box.modules.iter().map(|m| each * mid(&m.cuboid, axis)).sum();
        let centre = (modules + (strength.mass_kg - 90.0) * mid(&body, axis)) / strength.mass_kg;
        let arm = (bolts[0].0[axis.index()].as_mm() - middle(axis.index())).abs();
        ((centre - middle(axis.index())) / arm).abs()
    };
    let share = (1.0 + off(geometry::Axis::X) + off(geometry::Axis::Y)) / 4.0;
    assert!(share > 0.3, "{share}");
    let by_hand = strength.mass_kg * 9.80665 * 10.0 * share * 47.5 / (80.0 * 25.0 / 6.0);
    assert!(
        (check.of.load - by_hand).abs() < 1e-6 * by_hand,
        "{} {by_hand}",
        check.of.load
    );
    // Pulled sideways, bolts pull off the web or press on it, 25 mm below the leg's middle less half of its own thickness.
    let side = strength
        .check(Sum::Brackets(enclosure::strength::crash::Direction::Side))
        .unwrap();
    assert!(side.of.load > check.of.load, "{}", side.of.load);
    assert!(
        side.says.contains("kN off its rail") || side.says.contains("kN against its rail"),
        "{}",
        side.says
    );
}

#[test]
fn the_rail_is_asked_for_then_its_rules_are_checked() {
    let web = [(Field::Brackets, "to the web of a rail")];
    let (job, evaluation) = orchard(&web);
    assert!(said(&evaluation, "where the flanges of the frame rail are is not told").is_some());
    let up = evaluation.boxes[0].added.frame_holes[0].at.unwrap()[1];
    // A web that ends 30 mm over the bolts: less than 1 1/2 in from the hole's edge to the flange.
    let low = format!("{} mm", (up - Length::mm(100)).as_mm());
    let rail = [
        (Field::PartSize(PartSize::RailLow), low.as_str()),
        (Field::PartSize(PartSize::RailWeb), "130 mm"),
    ];
    let near = evaluate(&set(&job, &rail));
    assert!(said(&near, "where the flanges of the frame rail are is not told").is_none());
    let found = said(&near, "1.5 in from the hole's edge").unwrap();
    assert_eq!(found.grave, Grave::Caution);
    let wide = [
        (Field::PartSize(PartSize::RailLow), low.as_str()),
        (Field::PartSize(PartSize::RailWeb), "200 mm"),
    ];
    assert!(said(&evaluate(&set(&job, &wide)), "1.5 in from the hole's edge").is_none());
    let flange = evaluate(&set(&job, &[(Field::Brackets, "down on the frame's flange")]));
    assert!(said(&flange, "never drill the flanges").is_some());
    let own = evaluate(&set(&job, &[(Field::Brackets, "down on a rail of your own")]));
    assert!(own.boxes[0].added.frame_holes.is_empty());
}

#[test]
fn a_hole_that_is_there_moves_the_bracket_to_it() {
    let (job, evaluation) = orchard(&[(Field::Brackets, "to the web of a rail")]);
    let id = job.boxes[0].id;
    let hole = &evaluation.boxes[0].added.frame_holes[0];
    let [along, up] = hole.at.unwrap().map(Length::as_mm);
    let text = format!("{} mm x {up} mm x 11 mm", along + 12.0);
    let with = evaluate(&set(&job, &[(Field::BoxPlaces(id, PlacesOf::HolesLow), &text)]));
    let used: Vec<_> = with.boxes[0].added.frame_holes.iter().filter(|h| h.is_there).collect();
    assert_eq!(used.len(), 1);
    // Told by hand it stays where it was put.
    let inside = format!("{along} mm; {} mm", along + 150.0);
    let told = set(&job, &[(Field::BoxPlaces(id, PlacesOf::BracketsLow), &inside)]);
    assert_eq!(told.boxes[0].places.brackets_low.len(), 2);
}

#[rstest]
#[case::two_lengths("120 mm x 40 mm", "one length")]
#[case::no_length("soon", "soon")]
fn places_that_are_none_are_refused(#[case] text: &str, #[case] named: &str) {
    let job = common::built_in("orchard-flatbed");
    let field = Field::BoxPlaces(job.boxes[0].id, PlacesOf::Bars);
    let text = text.to_owned();
    let refusal = job.with(&Edit::Set { field, text }).unwrap_err().to_string();
    assert!(refusal.contains(named), "{refusal}");
}

/// The box grows by what its modules are held down with: a lug of 30 whose level leg of 3 ends 3 under the bar, which is 8
/// over the modules: 8 - 3 - 3 + 30. Bar, nut and thread end stay below that: 8 + 5 + 9.
#[test]
fn hold_down_bars_and_standoffs_make_the_box_higher() {
    let none = [(Field::RoomOver, "0 mm"), (Field::KindService(kind()), "0 mm")];
    let (_, bare) = orchard(&none);
    let mut values = none.to_vec();
    values.push((Field::HoldDown, "bars on lugs at the walls"));
    let (job, held) = orchard(&values);
    let height = |e: &Evaluation| e.boxes[0].inside.unwrap().size()[Axis::Z];
    assert_eq!(height(&held), height(&bare) + Length::mm(32));
    // And wider, for modules to go down past its lugs: 30 and a fitting room of 3 off the steel, where a liner of 1.5 and that
    // room were asked for. That is told.
    let room = |e: &Evaluation| {
        let (inside, modules) = (e.boxes[0].inside.unwrap(), &e.boxes[0].modules);
        let low = modules.iter().map(|m| m.cuboid.lo()[Axis::Y]).min().unwrap();
        low - inside.lo()[Axis::Y] + Length::tenths_mm(15)
    };
    assert_eq!(room(&held), Length::mm(33));
    assert!(room(&bare) < Length::mm(30));
    let cost = said(&held, "hold-down lugs of a leg of").expect("it is told");
    assert_eq!(cost.grave, Grave::Note);
    assert!(cost.words.contains("1 1/8\" more off every wall"), "{}", cost.words);
    assert_eq!(held.boxes[0].added.meets, Vec::<String>::new());
    assert!(pieces(&held.boxes[0], Role::HoldDownBar) > 0);
    assert_eq!(
        pieces(&held.boxes[0], Role::Lug),
        2 * pieces(&held.boxes[0], Role::HoldDownBar)
    );
    let stood = evaluate(&set(&job, &[(Field::Standoffs, "strips across the floor")]));
    assert_eq!(height(&stood), height(&held) + Length::mm(6));
    assert_eq!(stood.boxes[0].added.meets, Vec::<String>::new());
    assert_eq!(stood.boxes[0].added.badly_stood, Vec::<String>::new());
    let words = |e: &Evaluation, what: &str| {
        let entries = &e.boxes[0].ledgers[2].entries;
        entries
            .iter()
            .find(|entry| entry.words.contains(what))
            .map(|entry| entry.length)
    };
    assert_eq!(words(&stood, "hold-down bars"), Some(Length::mm(32)));
    assert_eq!(words(&stood, "standoffs"), Some(Length::mm(6)));
}

fn kind() -> job::Id {
    let job = common::built_in("orchard-flatbed");
    job.boxes[0].modules[0].kind
}

/// A pad of 2 puts the lugs, which end 3 under the bar, below the tops of the modules: those stand clear of them, but for a
/// box whose inside was fixed before it had any.
#[test]
fn lugs_too_low_are_told_to_stand_in_modules_that_are_not_clear_of_them() {
    let low = [
        (Field::HoldDown, "bars on lugs at the walls"),
        (Field::PartSize(PartSize::BarPad), "2 mm"),
    ];
    let (_, clear) = orchard(&low);
    assert!(said(&clear, "hold-down lug stands in M").is_none());
    let (mut job, before) = orchard(&[]);
    let exactly = |length| job::Len::exactly(length, tape::Units::Millimetre);
    let (told, result) = (&mut job.boxes[0], &before.boxes[0]);
    let inside = result.inside.unwrap();
    told.at = inside.lo().0.map(exactly);
    told.fixed = Some(inside.size().0.map(exactly));
    for (placed, module) in told.modules.iter_mut().zip(&result.modules) {
        placed.at = (module.cuboid.lo() - inside.lo()).0.map(exactly);
    }
    let found = evaluate(&set(&job, &low));
    let found = said(&found, "hold-down lug stands in M").unwrap();
    assert_eq!(found.grave, Grave::Stop);
}

/// Bars of 30 lie along the middle of modules 142 wide, from 56 to 86: over the whole face of terminals that nobody placed, over
/// studs of M6 on the middle line, whose spanner is 15.5 across, and clear of studs 20 from the edge, from 12.25 to 27.75.
#[rstest]
#[case::nobody_placed_them(None, Some("pass before the terminal faces of M13"))]
#[case::in_the_middle(Some("71 mm"), Some("pass before the terminals of M13"))]
#[case::at_the_edge(Some("20 mm"), None)]
fn bars_are_held_against_the_terminals_that_were_entered(#[case] across: Option<&str>, #[case] told: Option<&str>) {
    let mut values = vec![(Field::HoldDown, "bars on lugs at the walls")];
    if let Some(text) = across {
        values.push((Field::KindPlus(kind(), Axis::Y), text));
        values.push((Field::KindMinus(kind(), Axis::Y), text));
    }
    let (_, evaluation) = orchard(&values);
    let found = said(&evaluation, "hold-down bars pass before");
    assert_eq!(found.is_some(), told.is_some(), "{found:?}");
    if let Some((found, told)) = found.zip(told) {
        assert!(found.words.contains(told), "{}", found.words);
        assert_eq!(found.words.contains("the whole face counts"), across.is_none());
    }
}

/// A drain in the middle of the floor, under a divider or a strip, wants the same place as it.
#[test]
fn a_fitting_in_the_way_of_a_strip_is_told() {
    let (job, evaluation) = orchard(&[(Field::Standoffs, "strips across the floor")]);
    let strip = evaluation.boxes[0]
        .built
        .as_ref()
        .unwrap()
        .added
        .iter()
        .find(|p| p.role == Role::Standoff);
    let middle = strip.unwrap().block.lo[0] + Length::mm(15);
    let into = job.boxes[0].id;
    let at = [Length::mm(150), Length::mm(60)];
    let job = job.with(&Edit::AddFitting { into, at }).expect("there is a box");
    let id = job.boxes[0].fittings[0].id;
    let along = format!("{} mm", middle.as_mm());
    let values = [
        (Field::FittingWhat(id), "drain"),
        (Field::FittingWall(id), "bottom"),
        (Field::FittingAlong(id), along.as_str()),
        (Field::FittingUp(id), "150 mm"),
    ];
    let evaluation = evaluate(&set(&job, &values));
    assert!(said(&evaluation, "standoff stands in what is let in: drain").is_some());
}

#[test]
fn the_lid_has_the_fewest_stiffeners_that_do() {
    let values = [
        (Field::LidStiffened, "angles under it"),
        (Field::PartSize(PartSize::LidGives), "0.5 mm"),
    ];
    let (_, evaluation) = orchard(&values);
    let lid = evaluation.boxes[0].added.lid.unwrap();
    assert_eq!(pieces(&evaluation.boxes[0], Role::Stiffener), lid.stiffeners);
    assert!(lid.stiffeners > 0 && lid.gives_mm <= 0.5);
    let mut fewer = values.to_vec();
    let one_less = (lid.stiffeners - 1).to_string();
    if lid.stiffeners > 1 {
        fewer.push((Field::Figure(Figure::LidStiffeners), &one_less));
        let (_, evaluation) = orchard(&fewer);
        assert!(evaluation.boxes[0].added.lid.unwrap().gives_mm > 0.5);
        assert!(said(&evaluation, "lid, gives").is_some());
    }
}

#[test]
fn a_lid_that_needs_no_stiffeners_is_told_and_one_that_has_them_is_not() {
    let asked = |gives: &str| {
        let values = [
            (Field::LidStiffened, "angles under it"),
            (Field::PartSize(PartSize::LidGives), gives),
        ];
        orchard(&values).1
    };
    let stiff = asked("20 mm");
    assert_eq!(stiff.boxes[0].added.lid.unwrap().stiffeners, 0);
    let words = "stiff enough without stiffeners";
    assert!(said(&stiff, words).is_some());
    assert!(said(&asked("0.5 mm"), words).is_none());
}

/// Angles of 25 mm over the lid are the highest solids of the box; screw heads stand 5 mm over it.
#[test]
fn stiffeners_over_the_lid_take_part_in_clearances() {
    let highest = |e: &Evaluation| e.boxes[0].solids.iter().map(|solid| solid.hi()[Axis::Z]).max().unwrap();
    let values = [
        (Field::PartSize(PartSize::LidGives), "0.5 mm"),
        (Field::Coating, "0.1 mm"),
    ];
    let (_, bare) = orchard(&values);
    let (_, over) = orchard(&[values[0], values[1], (Field::LidStiffened, "angles over it")]);
    let lid = bare.boxes[0].solids[0].hi()[Axis::Z];
    assert_eq!(highest(&bare), lid + Length::mm(5));
    assert_eq!(highest(&over), lid + Length::mm(25));
    // The automatic layout keeps that room, too.
    let rim = |values: &[(Field, &str)]| {
        let (job, evaluation) = orchard(values);
        let question = job::layout::question(&job, &evaluation, job::layout::Aim::Whole).unwrap();
        let rims = question.request.boxes.unwrap().rims;
        rims.iter().map(|rim| rim.above_top).max().unwrap()
    };
    assert_eq!(rim(&[(Field::LidStiffened, "angles over it")]), Length::mm(25));
    assert_eq!(rim(&[]), Length::mm(5));
}

/// Eight-millimetre plates as large as the modules' faces at both ends of every stack, and four rods as long as it.
#[test]
fn clamped_stacks_have_their_plates_and_rods() {
    let job = common::built_in("mountain-rescue");
    let on_hand = evaluate(&set(&job, &[(Field::Clamps, "on hand")]));
    let cut = evaluate(&set(&job, &[(Field::Clamps, "cut with the box")]));
    let stacks = |e: &Evaluation| -> u32 {
        let count = e.boxes.iter().flat_map(|b| &b.modules).filter(|m| m.count > 1).count();
        u32::try_from(count).unwrap()
    };
    let all = |e: &Evaluation, role| e.boxes.iter().map(|b| pieces(b, role)).sum::<u32>();
    assert_eq!(all(&cut, Role::EndPlate), 2 * stacks(&cut));
    assert_eq!(all(&cut, Role::TieRod), 4 * stacks(&cut));
    assert_eq!(all(&on_hand, Role::EndPlate) + all(&on_hand, Role::TieRod), 0);
    // What is on hand is in the box all the same.
    let added = |e: &Evaluation| e.boxes.iter().map(|b| b.mass.added_g).collect::<Vec<_>>();
    assert_eq!(added(&on_hand), added(&cut));
    assert!(added(&cut).iter().sum::<i64>() > 0);
    for battery_box in &cut.boxes {
        let built = battery_box.built.as_ref().unwrap();
        let rods = built.parts.iter().filter(|p| p.role.form() == Form::Rod);
        assert!(rods.clone().count() > 0);
        for (rod, stack) in rods.zip(battery_box.modules.iter().filter(|m| m.count > 1)) {
            let longest = stack.cuboid.size().0.into_iter().max().unwrap();
            assert!(rod.length <= longest, "a rod is as long as its stack");
        }
    }
}

const BRACKETS: [&str; 4] = [
    "none",
    "to the web of a rail",
    "down on a rail of your own",
    "down on the frame's flange",
];
const HOLD_DOWN: [&str; 3] = ["none", "bars on lugs at the walls", "bars on rods from the floor"];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Whatever is chosen: mass is that of the parts, the cut list has every piece, the ledger sums to the cavity, and
    /// the file gives the job back.
    #[test]
    fn whatever_is_added_adds_up(
        construction in prop::sample::select(vec!["welded", "folded", "angle frame"]),
        brackets in prop::sample::select(BRACKETS.to_vec()),
        hold_down in prop::sample::select(HOLD_DOWN.to_vec()),
        bar in prop::sample::select(vec!["flat bar", "angle"]),
        divided in any::<bool>(),
        stood in any::<bool>(),
        lid in prop::sample::select(vec!["none", "angles under it", "angles over it"]),
        per_side in 1..5_u32,
    ) {
        let job = common::built_in("orchard-flatbed");
        let made = field_option(&job, Field::Construction, construction);
        let count = per_side.to_string();
        let job = set(&job, &[
            (Field::Construction, made.as_str()),
            (Field::Brackets, brackets),
            (Field::HoldDown, hold_down),
            (Field::HoldDownBar, bar),
            (Field::Dividers, if divided { "between rows" } else { "none" }),
            (Field::Standoffs, if stood { "strips across the floor" } else { "none" }),
            (Field::LidStiffened, lid),
            (Field::Figure(Figure::BracketsPerSide), &count),
        ]);
        let text = job::to_text(&job);
        prop_assert_eq!(&job::load(text.as_bytes()).unwrap(), &job);
        let evaluation = evaluate(&job);
        let mut all = 0;
        for battery_box in &evaluation.boxes {
            let built = battery_box.built.as_ref().unwrap();
            let grams: f64 = built.parts.iter().map(|p| p.grams() * f64::from(p.quantity)).sum();
            prop_assert!((built.grams - grams).abs() < 1e-6 * grams);
            all += built.parts.iter().map(|p| p.quantity).sum::<u32>();
            for (index, part) in built.parts.iter().enumerate().filter(|(_, p)| p.role.is_added()) {
                let solids = built.added.iter().filter(|piece| piece.part == index).count();
                let each = if part.role.form() == Form::Angle { 2 } else { 1 };
                prop_assert_eq!(solids, part.quantity as usize * each);
            }
            let space = evaluation.cavity(battery_box.cavity).unwrap().space.unwrap();
            for ledger in &battery_box.ledgers {
                prop_assert_eq!(ledger.total, space.size()[ledger.axis]);
            }
        }
        let listed: u32 = evaluation.cut.list.tables.iter().map(|t| t.pieces).sum();
        prop_assert_eq!(listed, all);
    }
}

/// The option of a choice that holds these words.
fn field_option(job: &Job, field: Field, words: &str) -> String {
    let shown = job::field::show(job, &[field]);
    let found = shown[0].1.options.iter().find(|option| option.contains(words));
    (*found.unwrap_or_else(|| panic!("{:?}", shown[0].1.options))).to_owned()
}

#[rstest]
#[case::half_a_bracket(Figure::BracketsPerSide, "2.5", "is not a whole number, 1 to 16")]
#[case::half_a_bar(Figure::HoldDownBars, "1.5", "is not a whole number, 1 to 32")]
#[case::half_a_stiffener(Figure::LidStiffeners, "3.2", "is not a whole number, 1 to 16")]
#[case::three_rods(Figure::TieRods, "3", "is not 2 or 4")]
fn a_count_that_cannot_be_is_refused(#[case] figure: Figure, #[case] text: &str, #[case] named: &str) {
    let job = common::built_in("orchard-flatbed");
    let (field, text) = (Field::Figure(figure), text.to_owned());
    let job::EditError::Field(refusal) = job.with(&Edit::Set { field, text }).unwrap_err() else {
        panic!("the value is refused")
    };
    assert!(refusal.problem.contains(named), "{}", refusal.problem);
    assert!(refusal.mend.starts_with("type "), "{}", refusal.mend);
}

#[test]
fn a_file_with_three_tie_rods_is_refused() {
    let job = set(
        &common::built_in("mountain-rescue"),
        &[(Field::Figure(Figure::TieRods), "2")],
    );
    let text = job::to_text(&job);
    assert!(text.contains("\"tie_rods\": 2"), "it stands in the file");
    let three = text.replace("\"tie_rods\": 2", "\"tie_rods\": 3");
    let refusal = job::load(three.as_bytes()).unwrap_err().to_string();
    assert!(refusal.contains("tie_rods is 3; it may be 2 or 4"), "{refusal}");
}

/// Lugs of 25 under a thread of 8: (25 - 3 - 2) / 2 is 10 to the end, where two diameters are 16 and ask for a leg of 37.
#[test]
fn a_hole_near_the_end_of_a_bar_is_told_with_its_mend() {
    let lugs = (Field::HoldDown, "bars on lugs at the walls");
    let near = "the holes of its hold-down bars are";
    let small = [
        lugs,
        (Field::PartSize(PartSize::BarThread), "8 mm"),
        (Field::PartSize(PartSize::LugLeg), "25 mm"),
        (Field::Units, "millimetres"),
    ];
    let (_, evaluation) = orchard(&small);
    let found = said(&evaluation, near).unwrap();
    assert_eq!(found.grave, Grave::Caution);
    assert!(
        found
            .words
            .contains("10.0 mm from the end of the bar, and should be at least 16.0 mm"),
        "{}",
        found.words
    );
    assert!(found.fix.contains("37.0 mm or more"), "{}", found.fix);
    for fixed in ["bars on lugs at the walls", "bars on rods from the floor"] {
        let (_, usual) = orchard(&[(Field::HoldDown, fixed)]);
        assert!(said(&usual, near).is_none(), "the usual sizes keep off the ends");
    }
}

/// A box of aluminium: rods of steel on its cut list, and by their steel in its mass.
#[test]
fn rods_are_cut_from_steel_whatever_the_box() {
    let job = set(
        &common::built_in("mountain-rescue"),
        &[(Field::Clamps, "cut with the box")],
    );
    let aluminium = field_option(&job, Field::Material, "aluminium 5052");
    let evaluation = evaluate(&set(&job, &[(Field::Material, &aluminium)]));
    let rods: Vec<_> = evaluation
        .cut
        .list
        .tables
        .iter()
        .filter(|t| t.form == Form::Rod)
        .collect();
    assert_eq!(rods.len(), 1);
    assert!(rods[0].label().contains("steel"), "{}", rods[0].label());
    for battery_box in &evaluation.boxes {
        let parts = &battery_box.built.as_ref().unwrap().parts;
        for part in parts.iter().filter(|part| !part.role.is_liner()) {
            assert_eq!(
                part.sheet.material.is_aluminium(),
                part.role.form() != Form::Rod,
                "{:?}",
                part.role
            );
        }
    }
    // Steel rods cannot be welded to its floor.
    let held = evaluate(&set(
        &job,
        &[
            (Field::Material, &aluminium),
            (Field::HoldDown, "bars on rods from the floor"),
        ],
    ));
    assert!(said(&held, "hold-down rods, floor they are welded to: aluminium 5052").is_some());
}

/// Welded parts are among the seams with their length; riveted ones are bought instead; loose ones are neither.
#[test]
fn what_is_welded_is_on_the_weld_map() {
    use enclosure::weld::At;
    let choices = [
        (Field::Brackets, "to the web of a rail"),
        (Field::HoldDown, "bars on lugs at the walls"),
        (Field::Dividers, "between rows"),
        (Field::Standoffs, "strips across the floor"),
        (Field::LidStiffened, "angles over it"),
        (Field::Figure(Figure::LidStiffeners), "2"),
        (Field::PartSize(PartSize::DividerThickness), "1 mm"),
    ];
    let (job, evaluation) = orchard(&choices);
    let battery_box = &evaluation.boxes[0];
    let count = |e: &Evaluation, at: At| -> u32 {
        let welds = e.boxes[0].welds.as_ref().unwrap();
        welds
            .seams
            .iter()
            .filter(|seam| seam.at == at)
            .map(|seam| seam.count)
            .sum()
    };
    let off = |role| pieces(battery_box, role);
    assert_eq!(count(&evaluation, At::Bracket), 2 * off(Role::Bracket));
    assert_eq!(count(&evaluation, At::Lug), 4 * off(Role::Lug));
    assert!(off(Role::Divider) > 0 && off(Role::Standoff) > 0);
    assert_eq!(count(&evaluation, At::Divider), 3 * off(Role::Divider));
    assert_eq!(count(&evaluation, At::Standoff), 2 * off(Role::Standoff));
    assert_eq!(count(&evaluation, At::Stiffener), 2 * 2);
    let otherwise = evaluate(&set(
        &job,
        &[
            (Field::Dividers, "between rows, set in loose"),
            (Field::StandoffsFixed, "bonded"),
            (Field::StiffenersFixed, "riveted"),
        ],
    ));
    for at in [At::Divider, At::Standoff, At::Stiffener] {
        assert_eq!(count(&otherwise, at), 0, "{at:?}");
    }
    let fasteners = &otherwise.boxes[0].built.as_ref().unwrap().fasteners;
    assert!(
        fasteners
            .iter()
            .any(|(what, n)| what.starts_with("blind rivets") && what.ends_with(", lid stiffeners") && *n >= 4),
        "{fasteners:?}"
    );
    let metres = |e: &Evaluation| e.boxes[0].welds.as_ref().unwrap().welded();
    assert!(metres(&otherwise) < metres(&evaluation));
}

/// A gland in the lid under a stiffener, and a lid whose screws stand near the wall.
#[test]
fn a_stiffener_in_the_way_of_what_is_on_the_lid_is_told() {
    let values = [
        (Field::LidStiffened, "angles over it"),
        (Field::Figure(Figure::LidStiffeners), "1"),
    ];
    let (job, evaluation) = orchard(&values);
    assert_eq!(evaluation.boxes[0].added.meets, Vec::<String>::new());
    let stiffener = evaluation.boxes[0]
        .built
        .as_ref()
        .unwrap()
        .added
        .iter()
        .find(|p| p.role == Role::Stiffener);
    let block = stiffener.unwrap().block;
    let into = job.boxes[0].id;
    let at = [Length::mm(150), Length::mm(60)];
    let with = job.with(&Edit::AddFitting { into, at }).expect("there is a box");
    let id = with.boxes[0].fittings[0].id;
    let place = |shift: i64| {
        let along = format!("{} mm", (block.lo[0] + Length::mm(12 + shift)).as_mm());
        let values = [
            (Field::FittingWhat(id), "lifting eye"),
            (Field::FittingWall(id), "top"),
            (Field::FittingAlong(id), along.as_str()),
            (Field::FittingUp(id), "150 mm"),
        ];
        evaluate(&set(&with, &values))
    };
    let found = place(0);
    let found = said(&found, "a lid stiffener stands in what is let in: lifting eye").unwrap();
    assert!(found.words.ends_with("deep"), "with its figure: {}", found.words);
    assert!(said(&place(100), "a lid stiffener stands in").is_none());
    let narrow = evaluate(&set(
        &job,
        &[
            (Field::FlangeOut, "10 mm"),
            (Field::Figure(Figure::LidStiffeners), "12"),
        ],
    ));
    assert!(said(&narrow, "where the spanner goes over the head of a lid screw").is_some());
}

/// A divider in the middle of what is kept free before the terminals of a module, as high as that.
#[test]
fn a_divider_in_the_service_space_is_told() {
    let (job, evaluation) = orchard(&[
        (Field::Dividers, "between rows"),
        (Field::Liner, "0 mm"),
        (Field::Units, "millimetres"),
    ]);
    let words = "deep in the service space of";
    assert!(said(&evaluation, words).is_none());
    let battery_box = &evaluation.boxes[0];
    let inside = battery_box.inside.unwrap();
    let room = battery_box.modules[0].service.first().expect("its terminals need room");
    let middle = (room.lo()[Axis::X] + room.hi()[Axis::X]).half_down() - inside.lo()[Axis::X];
    let high = (room.lo()[Axis::Z] + room.hi()[Axis::Z]).half_down() - inside.lo()[Axis::Z];
    let at = format!("{} mm", middle.as_mm());
    let high = format!("{} mm", high.as_mm());
    let values = [
        (Field::BoxPlaces(battery_box.id, PlacesOf::Dividers), at.as_str()),
        (Field::PartSize(PartSize::DividerHeight), high.as_str()),
    ];
    let told = evaluate(&set(&job, &values));
    let found = said(&told, words).unwrap();
    assert_eq!(found.grave, Grave::Stop);
    // The least way out is down, by half the height of the room over the terminals.
    let half = format!(
        "{:.1} mm deep",
        (room.hi()[Axis::Z] - room.lo()[Axis::Z]).half_down().as_mm()
    );
    assert!(found.words.contains(&half), "{half}: {}", found.words);
    assert!(found.fix.contains("move the divider"), "{}", found.fix);
}

/// Two walls of 3 mm and 329 mm inside are 335 mm of L 40 x 40 x 4, 304 mm2 and 0.2146 x (36 - 18) of its root of
/// 6 mm and its toes, 307.86 mm2: 809.6 g of steel. It hangs 40 mm down from the floor, which is 3 mm under the inside.
#[test]
fn floor_rails_are_cut_weighed_welded_and_in_the_way() {
    use enclosure::weld::At;
    let choices = [
        (Field::FloorRails, "angles across under it"),
        (Field::Figure(Figure::FloorRails), "1"),
    ];
    let (_, bare) = orchard(&[]);
    let (job, evaluation) = orchard(&choices);
    let battery_box = &evaluation.boxes[0];
    assert_eq!(pieces(battery_box, Role::FloorRail), 1);
    let made = battery_box.built.as_ref().unwrap();
    let rail = made.parts.iter().find(|part| part.role == Role::FloorRail).unwrap();
    assert_eq!([rail.length, rail.width], [335, 40].map(Length::mm));
    assert!((rail.grams() - 809.6).abs() < 0.1, "{}", rail.grams());
    let more = battery_box.mass.total_g() - bare.boxes[0].mass.total_g();
    assert!((more - 810).abs() <= 1, "{more}");
    let lowest = |b: &BoxResult| b.solids.iter().map(|solid| solid.lo()[Axis::Z]).min().unwrap();
    assert_eq!(lowest(&bare.boxes[0]) - lowest(battery_box), Length::mm(40));
    let below = |b: &BoxResult| b.around.as_ref().unwrap().faces[Face::Bottom.index()].distance;
    assert_eq!(below(&bare.boxes[0]) - below(battery_box), Length::mm(40));
    let welds = battery_box.welds.as_ref().unwrap();
    let seams: u32 = welds
        .seams
        .iter()
        .filter(|s| s.at == At::FloorRail)
        .map(|s| s.count)
        .sum();
    assert_eq!(seams, 2);
    // Riveted, it has none, but rivets to buy: 335 mm less twice 9.8 at the ends in pitches of 75 are five, six rivets, through 4 mm
    // of rail and 4 of floor.
    let riveted = evaluate(&set(&job, &[(Field::FloorRailsFixed, "riveted")]));
    // 8 mm are 0.315 in: of inch rivets of 3/16 in the one that grips to 3/8 in.
    let fasteners = &riveted.boxes[0].built.as_ref().unwrap().fasteners;
    assert!(
        fasteners.contains(&(
            "countersunk blind rivets for a hole of 0.193\" (4.9 mm), grip 0.315\" (8.0 mm), 0.525\" (13.3 mm) long, floor rails"
                .to_owned(),
            6
        )),
        "{fasteners:?}"
    );
    let built = riveted.boxes[0].built.as_ref().unwrap();
    let holes = |role| {
        let part = built.parts.iter().find(|part| part.role == role).unwrap();
        part.holes_for(Purpose::FixingRivet).count()
    };
    assert_eq!([holes(Role::FloorRail), holes(Role::Floor)], [6, 6]);
    let welds = riveted.boxes[0].welds.as_ref().unwrap();
    let last = welds.order.last().unwrap().words();
    assert!(
        last.starts_with("floor rails: clamp them flat to the floor") && last.contains("6 rivets"),
        "{last}"
    );
    assert_eq!(riveted.boxes[0].added.clashes, []);
    // Along the box: 897 + 6 mm.
    let along = evaluate(&set(&job, &[(Field::FloorRails, "angles along under it")]));
    let rails = along.boxes[0].added.floor_rails.clone().unwrap();
    let made = along.boxes[0].built.as_ref().unwrap();
    let rail = made.parts.iter().find(|part| part.role == Role::FloorRail).unwrap();
    assert_eq!(rail.length, Length::mm(903));
    assert_eq!(rails.span, Length::tenths_mm(1_645));
}

/// Rails that bend too far: those that lie the longer way are told to lie the shorter way, those that do are not. Whatever is told, a
/// floor is told in a thickness that bears it when it is taken.
#[test]
fn the_advice_for_floor_and_floor_rails_works_when_it_is_followed() {
    let thin = [
        (Field::Floor, "1 mm"),
        (Field::PartSize(PartSize::FloorRailLeg), "15 mm"),
        (Field::PartSize(PartSize::FloorRailThickness), "2 mm"),
    ];
    let (job, bare) = orchard(&thin);
    let fix_of = |evaluation: &Evaluation, sum: job::Sum| {
        let sums = evaluation.boxes[0].strength.as_ref().expect("it is summed");
        let check = sums
            .checks
            .iter()
            .find(|check| check.sum == sum)
            .expect("it is checked");
        (check.of.within(), check.fix.clone())
    };
    let rail = |rails: &str| {
        fix_of(
            &evaluate(&set(&job, &[(Field::FloorRails, rails)])),
            job::Sum::FloorRail,
        )
        .1
    };
    let (across, along) = (rail("angles across under it"), rail("angles along under it"));
    assert!(
        across.contains("larger or thicker angle") && !across.contains("shorter way"),
        "{across}"
    );
    assert!(along.contains("lay them the shorter way"), "{along}");
    let thick = |fix: &str| {
        // As `0.157" (4 mm) or more`: the floor was entered in millimetres, in a job in inches.
        let (_, rest) = fix.split_once("take a floor of ").expect(fix);
        let (_, rest) = rest.split_once('(').expect(fix);
        rest.split_once(" mm) or more").expect(fix).0.to_owned()
    };
    let (is_within, fix) = fix_of(&bare, job::Sum::FloorPressed);
    assert!(!is_within);
    for floor in [thick(&fix), thick(&across)] {
        let mended = evaluate(&set(&job, &[(Field::Floor, &format!("{floor} mm"))]));
        for sum in [job::Sum::FloorPressed, job::Sum::FloorStress, job::Sum::FloorGives] {
            assert!(fix_of(&mended, sum).0, "{floor} mm: {sum:?}");
        }
    }
}

#[test]
fn a_floor_rail_beyond_the_floor_or_in_a_drain_is_told() {
    let (job, evaluation) = orchard(&[(Field::FloorRails, "angles across under it")]);
    assert!(evaluation.boxes[0].added.faults.is_empty());
    let field = Field::BoxPlaces(job.boxes[0].id, PlacesOf::FloorRails);
    let far = evaluate(&set(&job, &[(field, "200 mm; 890 mm")]));
    let fault = said(&far, "floor rails, place: 35.039\" (890 mm) is out of range").unwrap();
    assert_eq!(fault.grave, Grave::Stop);
    assert!(far.boxes[0].added.floor_rails.is_none());
    let placed = set(&job, &[(field, "200 mm; 600 mm")]);
    let rails = evaluate(&placed).boxes[0].added.floor_rails.clone().unwrap();
    assert_eq!([rails.span, rails.bears], [Length::mm(400), Length::tenths_mm(3_485)]);
    let into = job.boxes[0].id;
    let at = [Length::mm(150), Length::mm(60)];
    let drained = placed.with(&Edit::AddFitting { into, at }).expect("there is a box");
    let id = drained.boxes[0].fittings[0].id;
    let values = [
        (Field::FittingWhat(id), "drain"),
        (Field::FittingWall(id), "bottom"),
        (Field::FittingAlong(id), "200 mm"),
        (Field::FittingUp(id), "150 mm"),
    ];
    let evaluation = evaluate(&set(&drained, &values));
    assert!(said(&evaluation, "floor rail stands in what is let in: drain").is_some());
}

/// A bracket of L 43 x 43 x 5 has 38 mm between its hanging leg and the wall, of which a ring spanner asks for 20; one of
/// 22 x 3 for an M5 has 19.
#[test]
fn a_spanner_goes_on_the_bolts_in_a_web_or_it_is_told() {
    let web = (Field::Brackets, "to the web of a rail");
    let (_, wide) = orchard(&[web, (Field::PartSize(PartSize::BracketLeg), "43 mm")]);
    let told = said(&wide, "ring spanner that swings").map(|found| &found.words);
    assert_eq!(told, None, "{:?}", wide.boxes[0].added.seats);
    let narrow = [
        web,
        (Field::PartSize(PartSize::BracketLeg), "22 mm"),
        (Field::PartSize(PartSize::BracketThickness), "3 mm"),
        (Field::Figure(Figure::MountBolt), "5"),
    ];
    let (_, evaluation) = orchard(&narrow);
    let found = said(&evaluation, "ring spanner that swings").unwrap();
    assert_eq!(found.grave, Grave::Note);
    assert!(found.words.ends_with("at 4 of 4: its own wall"), "{}", found.words);
}

/// A bracket whose leg ends short of what it hangs on holds nothing; what a bolt draws up is a note.
#[test]
fn brackets_that_end_short_of_their_rail_are_a_stop_with_the_leg_that_reaches() {
    let web = (Field::Brackets, "to the web of a rail");
    let millimetres = (Field::Units, "millimetres");
    let sure = |words: &str| {
        let (_, evaluation) = orchard(&[web, millimetres, (Field::PartSize(PartSize::BracketLeg), words)]);
        let seat = evaluation.boxes[0].added.seats[0].clone();
        let words = format!("its {} brackets end", seat.face.name());
        let found = said(&evaluation, &words).map(|f| (f.grave, f.words.clone(), f.fix.clone()));
        (seat.gap, found)
    };
    let (gap, found) = sure("20 mm");
    assert!(gap > Length::mm(1), "{gap:?}");
    let (grave, words, fix) = found.unwrap();
    assert_eq!(grave, Grave::Stop);
    assert!(words.ends_with("they hang on nothing"), "{words}");
    let reaches = gap + Length::mm(20);
    assert!(fix.contains("take an angle whose leg reaches: "), "{fix}");
    assert_eq!(sure(&format!("{} mm", reaches.as_mm())), (Length::ZERO, None));
    let almost = reaches - Length::tenths_mm(9);
    let (gap, found) = sure(&format!("{} mm", almost.as_mm()));
    assert_eq!(
        (gap, found.map(|found| found.0)),
        (Length::tenths_mm(9), Some(Grave::Note))
    );
}

/// Two boxes side by side hung on the web: each has a rail on one side only, and another box is none, whatever leg reaches it.
/// What the stop says is done as it says: brackets down on rails across the frame, on the two other walls.
#[test]
fn boxes_side_by_side_are_told_to_stand_on_rails_across_the_frame() {
    let (mut job, _) = orchard(&[(Field::Brackets, "to the web of a rail"), (Field::Units, "millimetres")]);
    let exactly = |length| job::Len::exactly(length, tape::Units::Millimetre);
    let cavity = &mut job.cavities[0];
    cavity.keep_outs.clear();
    cavity
        .readings
        .retain(|reading| reading.line.to_string() == "FLB to FRB");
    cavity.readings[0].read = exactly(Length::mm(900));
    for (line, read) in [("FLB to RLB", 1300), ("FLB to FLT", 320)] {
        let mut reading = cavity.readings[0].clone();
        reading.line = line.parse().unwrap();
        reading.read = exactly(Length::mm(read));
        cavity.readings.push(reading);
    }
    for (battery_box, right) in job.boxes.iter_mut().zip([60, 510]) {
        battery_box.cavity = job.cavities[0].id;
        battery_box.at = [250, right, 40].map(|mm| exactly(Length::mm(mm)));
    }
    let hung = evaluate(&job);
    let on_nothing: Vec<_> = hung
        .findings
        .iter()
        .filter(|f| f.words.contains("no rail is between the two"))
        .collect();
    assert_eq!(on_nothing.len(), 2, "one for each box: {:?}", hung.findings);
    assert!(on_nothing.iter().all(|found| found.grave == Grave::Stop));
    let fix = &on_nothing[0].fix;
    let [brackets, sides] = ["down on a rail of your own", "ends"];
    assert!(
        fix.starts_with(&format!(
            "choose brackets \"{brackets}\", on \"{sides}\", on the Boxes page"
        )),
        "{fix}"
    );
    let mended = evaluate(&set(&job, &[(Field::Brackets, brackets), (Field::BracketSides, sides)]));
    let stops: Vec<_> = mended.findings.iter().filter(|f| f.grave == Grave::Stop).collect();
    assert!(stops.is_empty(), "{stops:?}");
    // Their feet lie at one height, for one rail before both.
    let tops: Vec<_> = mended
        .boxes
        .iter()
        .map(|b| b.added.brackets.iter().map(|foot| foot.hi()[Axis::Z]).max())
        .collect();
    assert!(tops[0].is_some() && tops[0] == tops[1], "{tops:?}");
}

/// Sixteenths, and a box that is nearer to one side: the shortfall that is told is never less than it is, and what is advised
/// leaves no bracket that runs into anything or hangs on nothing.
#[rstest]
#[case::where_it_stands("0 mm")]
#[case::a_little_aside("3 mm")]
#[case::far_aside("9 mm")]
fn the_leg_that_is_advised_suits_both_sides(#[case] aside: &str) {
    let mut job = set(
        &common::built_in("harbour-tender"),
        &[
            (Field::Brackets, "to the web of a rail"),
            (Field::Units, "inches"),
            (Field::PartSize(PartSize::BracketLeg), "5/8\""),
            (Field::PartSize(PartSize::BracketThickness), "3 mm"),
            (Field::Figure(Figure::MountBolt), "5"),
        ],
    );
    let seats = |job: &Job| evaluate(job).boxes[0].added.seats.clone();
    let found = seats(&job);
    let axis = found[0].face.axis().index();
    // To the middle, then aside.
    let aside = Length::mm(aside.trim_end_matches(" mm").parse::<i64>().unwrap());
    let to = |job: &mut Job, by: Length| {
        let at = job.boxes[0].at[axis].value() + by;
        job.boxes[0].at[axis] = job::Len::exactly(at, tape::Units::Millimetre);
    };
    let middle = (found[1].gap - found[0].gap).half_down();
    to(&mut job, middle + aside);
    let evaluation = evaluate(&job);
    let name = &evaluation.boxes[0].name;
    let of_box = |f: &&job::Finding| &f.name == name && f.fix.contains("take an angle whose leg reaches");
    let short: Vec<_> = evaluation.findings.iter().filter(of_box).collect();
    assert_eq!(short.len(), 2, "{:?}", evaluation.boxes[0].added.seats);
    let fix = &short[0].fix;
    assert_eq!(fix, &short[1].fix);
    if let Some((moves, _)) = fix
        .strip_prefix("move the box ")
        .and_then(|rest| rest.split_once(" towards "))
    {
        assert!(aside > Length::mm(1), "{fix}");
        let by = tape::notation::read(moves, tape::Units::Inch, tape::Allow::AboveZero)
            .unwrap()
            .value();
        to(&mut job, -by);
    }
    let (_, leg) = fix.split_once("reaches: ").unwrap();
    let leg = leg.trim_end_matches(" where the box stands now");
    let mended = set(&job, &[(Field::PartSize(PartSize::BracketLeg), leg)]);
    for seat in seats(&mended) {
        assert!(!seat.gap.is_negative() && seat.gap <= Length::mm(1), "{fix}: {seat:?}");
    }
}

/// The end of a bracket that hangs on a web is no thing that a margin is asked from; the body beside it is.
#[test]
fn no_margin_is_asked_from_the_end_of_a_bracket_that_hangs_on_a_web() {
    let web = (Field::Brackets, "to the web of a rail");
    let nearest = |job: &Job| evaluate(job).boxes[0].around.clone().unwrap().nearest;
    let bare = common::built_in("orchard-flatbed");
    let own = nearest(&bare);
    let (job, evaluation) = orchard(&[web, (Field::PartSize(PartSize::BracketLeg), "43 mm")]);
    let seats = &evaluation.boxes[0].added.seats;
    assert!(seats.iter().any(|seat| seat.gap < own.sure()), "{seats:?}");
    assert_eq!(nearest(&job), own);
}

/// Brackets on the foot of a frame of angle hang below floor and rails, and the ledger has a line for it: its clearance is the
/// one that is told of the bottom.
#[test]
fn the_ledger_goes_down_to_the_lowest_bracket() {
    let (_, evaluation) = orchard(&[
        (Field::Construction, "panels in an angle frame"),
        (Field::PanelsHeld, "adhesive"),
        (Field::Brackets, "to the web of a rail"),
    ]);
    let battery_box = &evaluation.boxes[0];
    let ledger = &battery_box.ledgers[2];
    let line = |words: &str| ledger.entries.iter().find(|e| e.words == words).map(|e| e.length);
    assert!(line("brackets below the floor").unwrap() > Length::ZERO);
    let bottom = &battery_box.around.as_ref().unwrap().faces[Face::Bottom.index()];
    assert_eq!(line("clearance for sure at the bottom"), Some(bottom.sure()));
}

/// With no leg entered a box's brackets reach the nearer of its rails: the least leg on sale that ends there or no more than
/// a millimetre short, else one cut down to it. An entered one is kept, and one of the box alone before it.
#[test]
fn a_box_takes_the_leg_that_reaches_its_rail_unless_one_was_entered() {
    use job::LegFrom;
    let web = [(Field::Brackets, "to the web of a rail"), (Field::Units, "millimetres")];
    let (job, evaluation) = orchard(&web);
    let of = |evaluation: &Evaluation| {
        let added = &evaluation.boxes[0].added;
        let leg = added.bracket_leg.clone().expect("it has brackets");
        (leg, added.seats.iter().map(|seat| seat.gap).min().unwrap())
    };
    let (leg, gap) = of(&evaluation);
    assert!(matches!(leg.from, LegFrom::Gap(_)), "{leg:?}");
    assert!(!gap.is_negative() && gap <= Length::tenths_mm(1), "{gap:?}");
    // From the wall of the box to the rail, as the seats of another leg tell it.
    let all = set(&job, &[(Field::PartSize(PartSize::BracketLeg), "20 mm")]);
    let (entered, short) = of(&evaluate(&all));
    assert_eq!((entered.length, entered.from), (Length::mm(20), LegFrom::OfAll));
    assert_eq!(short + Length::mm(20), leg.length + gap);
    let own = set(&all, &[(Field::BoxBracketLeg(job.boxes[0].id), "24 mm")]);
    let evaluation = evaluate(&own);
    let (leg, _) = of(&evaluation);
    assert_eq!((leg.length, leg.from), (Length::mm(24), LegFrom::OfBox));
    // Parts, strength and cut list are of that leg.
    let made = evaluation.boxes[0].built.as_ref().unwrap();
    let bracket = made.parts.iter().find(|part| part.role == Role::Bracket).unwrap();
    assert_eq!(bracket.width, Length::mm(24));
    assert_eq!(evaluation.boxes[0].added.mount.unwrap().lever, Length::tenths_mm(215));
    let listed = evaluation.cut.list.tables.iter().flat_map(|table| &table.lines);
    assert!(listed.clone().any(|line| line.width.exact == Length::mm(24)));
    // It is saved with the box.
    let text = job::to_text(&own);
    assert!(text.contains("\"bracket_leg\": \"24 mm\""), "{text}");
    assert_eq!(
        job::load(text.as_bytes()).unwrap().boxes[0].bracket_leg,
        own.boxes[0].bracket_leg
    );
}

/// Both rails are farther than the longest leg on sale: the leg follows no gap then, and is not said to.
#[test]
fn a_leg_that_ends_short_of_both_rails_is_told_as_the_longest_on_sale() {
    let (mut job, _) = orchard(&[(Field::Brackets, "to the web of a rail")]);
    job.boxes[0].modules.truncate(1);
    let axis = evaluate(&job).boxes[0].added.seats[0].face.axis();
    let told = &mut job.boxes[0];
    let at = told.at[axis.index()].value() + Length::mm(400);
    told.at[axis.index()] = job::Len::exactly(at, tape::Units::Millimetre);
    let evaluation = evaluate(&job);
    let added = &evaluation.boxes[0].added;
    let short = added.seats.iter().map(|seat| seat.gap).min().expect("it has brackets");
    assert!(short > Length::mm(1), "{:?}", added.seats);
    let leg = added.bracket_leg.as_ref().expect("it has brackets");
    let text = leg.text(evaluation.style());
    assert!(
        text.contains(", the longest on sale: ") && text.ends_with(" is farther"),
        "{text}"
    );
    assert!(!text.contains("from its own gap"), "{text}");
}

/// What is told of a box aside when a pipe lies beside its foot, a millimetre off, where the move would take it.
fn told_with_a_pipe_beside(aside: &Job, evaluation: &Evaluation, axis: Axis) -> String {
    let battery_box = &evaluation.boxes[0];
    let body = battery_box.solids[0];
    let (mut from, mut to) = (body.lo(), body.hi());
    from[axis] = body.hi()[axis] + Length::mm(1);
    to[axis] = from[axis] + Length::mm(1);
    to[Axis::Z] = from[Axis::Z] + Length::mm(10);
    let mut job = aside.clone();
    let cavity = job
        .cavities
        .iter_mut()
        .find(|c| c.id == battery_box.cavity)
        .expect("its cavity");
    let told = |at: geometry::Point| at.0.map(|at| job::Len::exactly(at, tape::Units::Millimetre));
    cavity.keep_outs.push(job::KeepOut {
        id: job::Id(9_001),
        name: "brake pipe".to_owned(),
        source: job::Source::default(),
        shape: None,
        diameter: None,
        measured_from: None,
        distances: job::FromCorners::default(),
        from: told(from),
        to: told(to),
        travel: job::Travel::default(),
        margin: None,
        taken_out: false,
        note: String::new(),
    });
    let evaluation = evaluate(&job);
    let found = said(&evaluation, "they hang on nothing").expect("the farther rail is not reached");
    found.fix.clone()
}

/// A box aside in its cavity: its brackets reach the nearer rail, and what is told of the other is how far to move it and the
/// leg that it then takes.
#[test]
fn a_box_that_stands_aside_is_told_how_far_to_move_and_which_leg_it_then_takes() {
    let web = [(Field::Brackets, "to the web of a rail"), (Field::Units, "millimetres")];
    let (job, evaluation) = orchard(&web);
    let seats = &evaluation.boxes[0].added.seats;
    let axis = seats[0].face.axis();
    let mut aside = job.clone();
    let at = aside.boxes[0].at[axis.index()].value() - Length::mm(4);
    aside.boxes[0].at[axis.index()] = job::Len::exactly(at, tape::Units::Millimetre);
    let evaluation = evaluate(&aside);
    let found = said(&evaluation, "they hang on nothing").expect("the farther rail is not reached");
    let (moves, leg) = found
        .fix
        .split_once(": its brackets then take a leg of ")
        .expect(&found.fix);
    let by = moves
        .strip_prefix("move the box ")
        .and_then(|rest| rest.split_once(" towards "))
        .unwrap()
        .0;
    let by = tape::notation::read(by, tape::Units::Millimetre, tape::Allow::AboveZero)
        .unwrap()
        .value();
    let seated = told_with_a_pipe_beside(&aside, &evaluation, axis);
    assert!(seated.contains(", but there it runs into brake pipe: "), "{seated}");
    let mut mended = aside.clone();
    mended.boxes[0].at[axis.index()] = job::Len::exactly(at + by, tape::Units::Millimetre);
    let evaluation = evaluate(&mended);
    let added = &evaluation.boxes[0].added;
    assert!(
        added
            .seats
            .iter()
            .all(|seat| !seat.gap.is_negative() && seat.gap <= Length::mm(1)),
        "{:?}",
        added.seats
    );
    assert_eq!(evaluation.near(added.bracket_leg.as_ref().unwrap().length), leg);
}

/// Every rivet, rivet nut and nut of a box against all that was added and is no liner.
fn stands_in_the_way(battery_box: &BoxResult, fasteners: &[enclosure::added::Block]) -> usize {
    let built = battery_box.built.as_ref().expect("it is built");
    let pieces = || built.added.iter().filter(|piece| !piece.role.is_liner());
    let meets = |block: &&enclosure::added::Block| pieces().any(|piece| piece.block.meets(block));
    fasteners.iter().filter(meets).count()
}

const CAPPED: [(Field, &str); 7] = [
    (Field::Construction, "folded"),
    (Field::Closing, "cap"),
    (Field::ScrewPitch, "50 mm"),
    (Field::HoldDown, "bars on rods from the floor"),
    (Field::LidStiffened, "angles under it"),
    (Field::Units, "millimetres"),
    (Field::CapDeep, "70 mm"),
];

/// Nuts stand 8 mm or more in from the walls, bars and stiffeners end 2 to 4 mm from them: at even places some meet.
#[test]
fn screws_of_a_cap_go_past_bars_and_stiffeners() {
    let mut values = CAPPED.to_vec();
    values.push((Field::Figure(Figure::LidStiffeners), "3"));
    let (_, evaluation) = orchard(&values);
    let battery_box = &evaluation.boxes[0];
    let built = battery_box.built.as_ref().unwrap();
    assert_eq!(battery_box.added.clashes, []);
    assert_eq!(stands_in_the_way(battery_box, &built.lid_nuts), 0);
    assert_eq!(built.side_screws.len(), built.lid_nuts.len());
    let tray = built.parts.iter().find(|part| part.role == Role::Tray).unwrap();
    let pan = built.parts.iter().find(|part| part.role == Role::PanLid).unwrap();
    let [nuts, screws] =
        [(tray, Purpose::LidNut), (pan, Purpose::LidScrew)].map(|(part, of)| part.holes_for(of).count());
    assert_eq!([nuts, screws], [built.side_screws.len(); 2]);
    // None farther from the next than the pitch, nor from a corner than half of it.
    let steel = battery_box.added.steel.unwrap();
    for wall in [Wall::Front, Wall::Rear, Wall::Left, Wall::Right] {
        let side = steel.size()[if matches!(wall, Wall::Front | Wall::Rear) {
            Axis::Y
        } else {
            Axis::X
        }];
        let mut places: Vec<Length> = built
            .side_screws
            .iter()
            .filter(|s| s.wall == wall)
            .map(|s| s.along)
            .collect();
        places.sort_unstable();
        let widest = places.windows(2).map(|pair| pair[1] - pair[0]).max().unwrap();
        assert!(widest <= Length::mm(50) + Length::from_nm(1), "{wall:?} {widest:?}");
        assert!(
            places[0] <= Length::mm(25) && side - *places.last().unwrap() <= Length::mm(25),
            "{wall:?}"
        );
    }
    let (job, evaluation) = orchard(&CAPPED);
    let sold = job::shopping::to_buy(&job, &evaluation).items;
    let sold = sold.iter().find(|item| item.what.starts_with("lid screws")).unwrap();
    let all = evaluation.boxes.iter().filter_map(|b| b.built.as_ref());
    let all: usize = all.map(|built| built.side_screws.len()).sum();
    assert!(
        (sold.needed - f64::from(u32::try_from(all).unwrap())).abs() < 1e-9,
        "{sold:?}"
    );
    let (_, bare) = orchard(&[CAPPED[0], CAPPED[1], CAPPED[2], CAPPED[3], CAPPED[5], CAPPED[6]]);
    let without = bare.boxes[0].built.as_ref().unwrap();
    assert_ne!(without.side_screws, built.side_screws, "stiffeners are gone past");
}

/// A nut of 9 mm beside a bar of 60 would be 60 + 9 mm and twice 1 mm from the next: more than 50.
#[test]
fn screws_that_find_no_place_past_a_bar_are_a_stop() {
    let mut values = CAPPED.to_vec();
    values.push((Field::PartSize(PartSize::BarWidth), "60 mm"));
    let (_, evaluation) = orchard(&values);
    let clashes = &evaluation.boxes[0].added.clashes;
    assert!(
        !clashes.is_empty(),
        "{:?} {:?}",
        evaluation.boxes[0].added.faults,
        evaluation.boxes[0].fault
    );
    let found = said(&evaluation, &clashes[0].words).unwrap();
    assert_eq!(found.grave, Grave::Stop);
    assert!(
        found.fix.contains("would be 71.0 mm apart, and may be 50.0 mm"),
        "{}",
        found.fix
    );
    assert!(found.fix.contains("shorter by 21.0 mm"), "{}", found.fix);
}

const RIVETED: [(Field, &str); 5] = [
    (Field::Construction, "panels in an angle frame"),
    (Field::PanelsHeld, "rivets"),
    (Field::Brackets, "down on a rail of your own"),
    (Field::HoldDown, "bars on lugs at the walls"),
    (Field::Units, "millimetres"),
];

/// Heads as wide as twice their hole of 4.9 mm: past a bracket of 60 they are 60 + 2 x 4.9 + 2 x 1 mm apart, past one of 80 they
/// would be 91.8, and may be 75.
#[test]
fn rivets_go_past_brackets_and_lugs_or_it_is_a_stop() {
    let with = |length: &str| {
        let mut values = RIVETED.to_vec();
        values.push((Field::PartSize(PartSize::BracketLength), length));
        orchard(&values).1
    };
    let evaluation = with("60 mm");
    let battery_box = &evaluation.boxes[0];
    let built = battery_box.built.as_ref().unwrap();
    assert_eq!(battery_box.added.clashes, []);
    let sides: u32 = [Role::Floor, Role::LongSide, Role::End]
        .iter()
        .flat_map(|&role| built.parts.iter().filter(move |part| part.role == role))
        .map(|part| part.quantity * u32::try_from(part.holes_for(Purpose::Rivet).count()).unwrap())
        .sum();
    assert_eq!(sides, built.rivets);
    let side = built.parts.iter().find(|part| part.role == Role::LongSide).unwrap();
    let lowest = side.holes_for(Purpose::Rivet).map(|hole| hole.y).min().unwrap();
    let mut lower: Vec<Length> = side
        .holes_for(Purpose::Rivet)
        .filter(|h| h.y == lowest)
        .map(|h| h.x)
        .collect();
    lower.sort_unstable();
    let steps = lower.windows(2).map(|pair| pair[1] - pair[0]);
    assert_eq!(steps.max(), Some(Length::tenths_mm(718)));
    let grams: f64 = built
        .parts
        .iter()
        .map(|part| part.grams() * f64::from(part.quantity))
        .sum();
    assert!((grams - built.grams).abs() < 1e-6);
    let long = with("80 mm");
    let found = said(&long, "rivets and brackets want the same place at the").unwrap();
    assert_eq!(found.grave, Grave::Stop);
    assert!(
        found.fix.contains("would be 91.8 mm apart, and may be 75.0 mm"),
        "{}",
        found.fix
    );
}

/// Under the skirt of a cap: 0.125 mm of coating on both, the limits of the shop, and the 2 mm that a gasket of 5 squeezed to 3
/// gives once more. Told higher than that, a bracket is left out.
#[test]
fn a_cap_never_lands_on_brackets() {
    let values = [
        (Field::Closing, "cap"),
        (Field::Brackets, "down on a rail of your own"),
        (Field::Coating, "0.125 mm"),
        (Field::ShopLimits, "1.5 mm"),
        (Field::Gasket, "5 mm"),
        (Field::GasketSqueezed, "3 mm"),
        (Field::Units, "millimetres"),
    ];
    let (job, evaluation) = orchard(&values);
    let room = |b: &BoxResult| {
        let built = b.built.as_ref().unwrap();
        let skirt = b.body.unwrap().hi()[Axis::Z] - built.rims.iter().map(|rim| rim.below_top).max().unwrap();
        let top = b.added.brackets.iter().map(|solid| solid.hi()[Axis::Z]).max();
        (skirt - top.unwrap(), b.added.steel.unwrap().lo()[Axis::Z], top.unwrap())
    };
    let (gap, floor, top) = room(&evaluation.boxes[0]);
    assert_eq!(gap, Length::tenths_mm(15) + Length::mm(2) + Length::from_mm(0.25));
    let up = |more: f64| {
        let text = format!("{} mm", (top - floor).as_mm() + more);
        evaluate(&set(&job, &[(Field::PartSize(PartSize::BracketUp), text.as_str())]))
    };
    assert_eq!(up(0.0).boxes[0].added.faults, Vec::<String>::new());
    assert!(said(&up(0.1), "brackets, top of the level leg").is_some());
}

/// A tail as high as its hole of 4.9 mm under modules on a liner of 1.5: told, with 3.4 mm to raise them by; on a liner of 6,
/// with the rails welded, or with the rivets set from inside, it is not.
#[test]
fn rivets_under_a_module_are_told_when_it_stands_lower_than_their_tails() {
    let values = [
        (Field::FloorRails, "angles across under it"),
        (Field::FloorRailsFixed, "riveted"),
        (Field::RivetHeads, "outside, tails inside"),
    ];
    let (job, evaluation) = orchard(&values);
    let found = said(&evaluation, "tails of rivets stand").unwrap();
    assert_eq!(found.grave, Grave::Caution);
    let [met] = &evaluation.boxes[0].added.rivets_met[..] else {
        panic!("one floor")
    };
    assert_eq!([met.needs, met.has], [49, 15].map(Length::tenths_mm));
    for (field, text) in [
        (Field::FloorRailsFixed, "welded"),
        (Field::Liner, "6 mm"),
        (Field::RivetHeads, "inside, flush"),
    ] {
        let mended = evaluate(&set(&job, &[(field, text)]));
        assert_eq!(mended.boxes[0].added.rivets_met, [], "{text}");
    }
}

/// A frame of angle as it comes, nothing else entered: flush heads inside, tails of 4.9 mm beside and below that keep their
/// distance like all else of the box.
#[test]
fn a_frame_as_it_comes_is_not_cautioned_for_its_rivets() {
    let (job, evaluation) = orchard(&[
        (Field::Construction, "panels in an angle frame"),
        (Field::Units, "millimetres"),
    ]);
    for battery_box in &evaluation.boxes {
        assert_eq!(battery_box.added.rivets_met, []);
        let body = battery_box.coated.unwrap();
        let lowest = battery_box
            .solids
            .iter()
            .map(|solid| solid.lo()[Axis::Z])
            .min()
            .unwrap();
        assert_eq!(body.lo()[Axis::Z] - lowest, Length::tenths_mm(49));
        let built = battery_box.built.as_ref().unwrap();
        assert_eq!(built.hull.lo[2], -built.under - Length::tenths_mm(49));
    }
    let of_rivets = |e: &Evaluation| -> Vec<String> {
        let words = e
            .findings
            .iter()
            .filter(|f| f.grave != Grave::Note)
            .map(|f| f.words.clone());
        let is_of_heads = |words: &String| words.contains("of rivets stand") || words.contains("flush rivets");
        words.filter(is_of_heads).collect()
    };
    assert_eq!(of_rivets(&evaluation), Vec::<String>::new());
    // Sheet of 1.5 mm is too thin to countersink: 0.072 in, 1.83 mm, for a rivet of 3/16 in.
    let thin = evaluate(&set(&job, &[(Field::Wall, "1.5 mm")]));
    let found = said(&thin, "flush rivets are countersunk into sheet of").unwrap();
    assert!(found.words.contains("the walls are 1.5 mm"), "{}", found.words);
    assert_eq!(
        said(&thin, "flush rivets are countersunk into sheet of 1.9 mm").map(|f| f.grave),
        Some(Grave::Caution)
    );
    let round = evaluate(&set(
        &job,
        &[(Field::Wall, "1.5 mm"), (Field::RivetHeads, "outside, tails inside")],
    ));
    assert!(said(&round, "flush rivets are countersunk").is_none());
}

/// Tails of 4.9 mm and the fitting room of 3 between wall and module, where liner and fitting room are 4.5: 3.4 mm more at each
/// side. In a box that is too small for that, the modules beside them are told.
#[test]
fn tails_inside_keep_modules_off_the_walls() {
    let framed = [
        (Field::Construction, "panels in an angle frame"),
        (Field::Units, "millimetres"),
        (Field::Liner, "1.5 mm"),
        (Field::Fit, "3 mm"),
        (Field::RoomEnds, "0 mm"),
    ];
    let (job, flush) = orchard(&framed);
    let outside = set(&job, &[(Field::RivetHeads, "outside, tails inside")]);
    let tails = evaluate(&outside);
    let width = |e: &Evaluation| e.boxes[0].inside.unwrap().size()[Axis::Y];
    let more = width(&tails) - width(&flush);
    assert_eq!(more, Length::tenths_mm(68));
    let walls = |e: &Evaluation| e.boxes[0].added.rivets_met.iter().filter(|met| !met.is_floor).count();
    assert_eq!(walls(&tails), 0);
}

/// Of legs of 55 mm or more only 60 x 6 is on the list, of frames of 30 mm only 3 mm; what is on it is not told.
#[test]
fn angles_that_nobody_sells_are_told_with_those_on_sale() {
    let framed = [
        (Field::Construction, "panels in an angle frame"),
        (Field::Brackets, "down on a rail of your own"),
        (Field::FloorRails, "angles across under it"),
        (Field::HoldDown, "bars on lugs at the walls"),
        (Field::LidStiffened, "angles over it"),
        (Field::Units, "millimetres"),
    ];
    let (job, evaluation) = orchard(&framed);
    for what in [
        "brackets: no angle",
        "frame: no angle",
        "hold-down lugs: no",
        "lid stiffeners: no",
        "floor rails: no",
    ] {
        assert!(said(&evaluation, what).is_none(), "{what}");
    }
    let odd = evaluate(&set(
        &job,
        &[
            (Field::PartSize(PartSize::BracketLeg), "55 mm"),
            (Field::FrameThickness, "4.5 mm"),
            (Field::PartSize(PartSize::FloorRailThickness), "4.4 mm"),
        ],
    ));
    let brackets = said(
        &odd,
        "brackets: no angle with a leg of 55 mm or more on the list is 5 mm thick",
    )
    .unwrap();
    assert_eq!(
        (brackets.grave, brackets.fix.as_str()),
        (Grave::Note, "take 60 mm x 6 mm; or ask the supplier for it")
    );
    let frame = said(&odd, "frame: no angle with a leg of 30 mm on the list is 4.5 mm thick").unwrap();
    assert_eq!(frame.fix, "take 30 mm x 3 mm; or ask the supplier for it");
    // Within half a millimetre of one on the list it is that one, measured.
    assert!(said(&odd, "floor rails: no angle").is_none());
    let flange = evaluate(&set(
        &job,
        &[(Field::Construction, "welded panels"), (Field::FlangeOut, "28 mm")],
    ));
    assert!(said(&flange, "flange: no flat bar of 28 mm x 3 mm").is_some());
    assert!(
        said(
            &evaluate(&set(&job, &[(Field::Construction, "welded panels")])),
            "flange: no flat bar"
        )
        .is_none()
    );
}

/// An entry that the construction makes no use of is told where it was made; a sheet that is of another thickness than
/// entered is a caution.
#[test]
fn what_a_construction_makes_no_use_of_is_told() {
    let entered = [(Field::Floor, "1/8"), (Field::Wall, "14 ga"), (Field::Corners, "B")];
    let (job, welded) = orchard(&entered);
    assert_eq!(welded.unused, []);
    let tray = evaluate(&set(&job, &[(Field::Construction, "folded")]));
    let told: Vec<(Field, Grave)> = tray.unused.iter().map(|unused| (unused.field, unused.grave)).collect();
    // The example has a flange of 4 mm, mitred: a tray's lips are of its wall, 0.0747 in.
    let (caution, note) = (Grave::Caution, Grave::Note);
    assert_eq!(
        told,
        [
            (Field::Floor, caution),
            (Field::Corners, note),
            (Field::FlangeThickness, caution),
            (Field::FlangeJoint, note)
        ]
    );
    let caution = said(&tray, "entered, and not used as boxes are built now: \"floor\" 1/8").expect("it is told");
    assert_eq!(caution.grave, Grave::Caution);
    assert!(
        caution
            .words
            .contains("(a folded tray is one sheet, its floor as thick as its wall)"),
        "{}",
        caution.words
    );
    let framed = evaluate(&set(
        &job,
        &[
            (Field::Construction, "panels in an angle frame"),
            (Field::FlangeThickness, "1/4"),
        ],
    ));
    let told: Vec<Field> = framed.unused.iter().map(|unused| unused.field).collect();
    assert_eq!(
        told,
        [
            Field::Corners,
            Field::WeldSide,
            Field::FlangeOut,
            Field::FlangeThickness
        ]
    );
}
