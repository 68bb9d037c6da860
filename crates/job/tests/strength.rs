//! First-order sums of boxes: numbers worked by hand, what is found, and that what was entered wins.

mod common;

use enclosure::strength::crash::Direction;
use job::{BoxStrength, Edit, Evaluation, Field, Figure, Grave, Job, StrengthCheck, Sum, evaluate};

fn set(job: &Job, field: Field, text: &str) -> Job {
    let text = text.to_owned();
    job.with(&Edit::Set { field, text }).expect("the edit fits the job")
}

fn figure(job: &Job, figure: Figure, text: &str) -> Job {
    set(job, Field::Figure(figure), text)
}

fn orchard() -> Job {
    common::built_in("orchard-flatbed")
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

/// 118.65 kg of steel and modules and 2.475 kg of liner: 121.125 kg loaded. M10: stress area 57.99 mm2, so 0.6 x 800 x 57.99 / 1.25 = 22 268 N across each bolt and 33 402 N
/// along it. Forwards 121.125 x 9.80665 x 20 / 4 = 5939 N a bolt.
#[test]
fn mount_bolts_are_as_worked_by_hand() {
    let evaluation = evaluate(&orchard());
    let front = check(&evaluation, Sum::Bolts(Direction::Front));
    near(front.of.load, 5_939.1);
    near(front.of.limit, 22_267.96);
    near(front.of.share, 0.266_711);
    assert_eq!(front.factor.map(|f| f.g), Some(20.0));
    assert!(
        front.says.contains("this rule needs 2 M10 of class 8.8; yours has 4"),
        "{}",
        front.says
    );
    near(check(&evaluation, Sum::Bolts(Direction::Side)).of.share, 0.200_033);
    near(check(&evaluation, Sum::Bolts(Direction::Up)).of.share, 0.088_904);
    assert_eq!(found(&evaluation, "mount bolts"), None);
    // 121.125 x 9.80665 / 2 / cos 45.
    near(strength(&evaluation).lift.unwrap().leg_n, 839.93);
}

/// 897 x 329 mm of 3 mm steel, 6.95 kg, under 90 kg of modules: by Navier's double series alpha is 0.12981 and beta
/// 0.69662 at a ratio of 2.726; 0.074652 and 0.44008 in two spans of 448.5 mm.
#[test]
fn the_floor_is_as_worked_by_hand() {
    let evaluation = evaluate(&orchard());
    near(check(&evaluation, Sum::FloorStress).of.load, 26.991);
    near(check(&evaluation, Sum::FloorGives).of.load, 0.885_24);
    near(check(&evaluation, Sum::FloorPressed).of.share, 1.148_56);
    assert!(check(&evaluation, Sum::FloorPressed).says.contains("overstates"));
    // 10 g down is from memory: a note, until the person enters a factor.
    assert_eq!(found(&evaluation, "floor, pressed down on"), Some(Grave::Note));
    let own = evaluate(&figure(&orchard(), Figure::CrashDown, "10"));
    assert_eq!(found(&own, "floor, pressed down on"), Some(Grave::Caution));
    assert_eq!(
        strength(&evaluation).governing().map(|c| c.sum),
        Some(Sum::FloorPressed)
    );
    let railed = evaluate(&figure(&orchard(), Figure::FloorSpans, "2"));
    near(check(&railed, Sum::FloorStress).of.load, 17.051);
    near(check(&railed, Sum::FloorGives).of.load, 0.509_08);
    near(check(&railed, Sum::FloorPressed).of.share, 0.725_59);
    assert_eq!(found(&railed, "floor"), None);
}

#[test]
fn entered_load_factors_win_over_the_harshest() {
    let job = figure(&orchard(), Figure::CrashFront, "10 g");
    let evaluation = evaluate(&job);
    let front = check(&evaluation, Sum::Bolts(Direction::Front));
    near(front.of.share, 0.266_711 / 2.0);
    assert!(front.source_text().contains("load factor 10 g, your own figure"));
    let rear = check(&evaluation, Sum::Bolts(Direction::Rear));
    near(rear.of.share, 0.266_711);
    assert!(rear.source_text().contains("from memory"), "{}", rear.source_text());
    // Nothing pulls where the person says so.
    let none = evaluate(&figure(&job, Figure::CrashUp, "0"));
    near(check(&none, Sum::Bolts(Direction::Up)).of.share + 1.0, 1.0);
}

/// M5: 14.18 mm2, 5445 N a bolt; 23 757 N want 4.36 of them.
#[test]
fn bolts_too_few_are_a_caution_that_says_how_many() {
    let job = figure(&orchard(), Figure::MountBolt, "5 mm");
    let evaluation = evaluate(&job);
    let words = &evaluation
        .findings
        .iter()
        .find(|f| f.words.starts_with("mount bolts, front"))
        .unwrap();
    assert_eq!(words.grave, Grave::Caution);
    assert!(
        words.fix.starts_with("this rule needs 5 M5 of class 8.8; yours has 4"),
        "{}",
        words.fix
    );
    assert!(words.name.contains("left box, right box"), "{}", words.name);
    let more = evaluate(&figure(&job, Figure::MountBolts, "5"));
    assert_eq!(found(&more, "mount bolts"), None);
}

#[test]
fn sizes_between_those_on_the_list_are_taken_smaller_and_said() {
    let job = figure(&figure(&orchard(), Figure::MountBolt, "9"), Figure::MountGrade, "10");
    let evaluation = evaluate(&job);
    assert_eq!(strength(&evaluation).bolts, "4 M8 of class 8.8");
    assert_eq!(
        found(&evaluation, "no 9 mm thread is on the list: M8 is taken"),
        Some(Grave::Note)
    );
    let high = evaluate(&figure(&orchard(), Figure::MountGrade, "10.9"));
    assert_eq!(strength(&high).bolts, "4 M10 of class 10.9");
    assert!(strength(&high).taken.is_empty());
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
    near(check(&drawn, Sum::GasketAtLow).of.limit, 100.0 / 12.0);
    near(check(&drawn, Sum::GasketAtHigh).of.load, 700.0 / 12.0);
    assert_eq!(found(&drawn, "gasket, rim"), Some(Grave::Note));
    assert_eq!(found(&drawn, "gasket, squeezed"), None);
    let loose = evaluate(&set(&orchard(), Field::GasketSqueezed, "5.6 mm"));
    assert_eq!(found(&loose, "gasket, squeezed at least"), Some(Grave::Caution));
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
