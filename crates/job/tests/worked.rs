//! The built-in jobs against figures worked by hand in their scenarios, not by this program.

mod common;

use common::{built_in, plain};
use geometry::{Axis, Face};
use job::layout::{Aim, question};
use job::{BoxResult, Evaluation, Near, evaluate};
use rstest::rstest;
use serde_json::Value;

fn evaluation(name: &str) -> Evaluation {
    evaluate(&built_in(name))
}

fn named<'a>(evaluation: &'a Evaluation, name: &str) -> &'a BoxResult {
    evaluation
        .boxes
        .iter()
        .find(|b| b.name == name)
        .expect("a box of this name")
}

#[track_caller]
fn assert_near(got: f64, expected: f64, within: f64, what: &str) {
    assert!(
        (got - expected).abs() <= within,
        "{what}: got {got}, expected {expected} within {within}"
    );
}

/// Worked by hand in the scenario: volts add up in series, amp-hours in parallel.
#[rstest]
#[case::orchard("orchard-flatbed", (5, 2), [104.0, 128.0, 142.0], 210.0, 26.88, 180.0)]
#[case::harbour("harbour-tender", (8, 2), [288.0, 350.4, 398.4], 126.0, 44.1504, 214.4)]
#[case::rescue("mountain-rescue", (24, 2), [288.0, 355.2, 398.4], 112.0, 39.7824, 244.8)]
fn the_pack_is_as_worked_by_hand(
    #[case] name: &str,
    #[case] arrangement: (u32, u32),
    #[case] volts: [f64; 3],
    #[case] amp_hours: f64,
    #[case] kwh: f64,
    #[case] modules_kg: f64,
) {
    let ((series, parallel), [empty, nominal, full]) = (arrangement, volts);
    let evaluation = evaluation(name);
    let headline = &evaluation.headline;
    let arrangement = headline.arrangement.unwrap();
    assert_eq!((arrangement.series, arrangement.parallel), (series, parallel));
    assert_eq!(headline.placed, series * parallel);
    let volts = headline.volts.unwrap();
    assert_near(volts.empty.get(), empty, 1e-9, "empty volts");
    assert_near(volts.nominal.get(), nominal, 1e-9, "nominal volts");
    assert_near(volts.full.get(), full, 1e-9, "full volts");
    assert_near(headline.energy_kwh.unwrap(), kwh, 1e-9, "kWh");
    assert_near(
        evaluation.packs[0].figures.unwrap().capacity.get(),
        amp_hours,
        1e-9,
        "Ah",
    );
    let modules_g: i64 = evaluation.boxes.iter().map(|b| b.mass.modules_g).sum();
    assert_near(job::Grams(modules_g).kg(), modules_kg, 1e-9, "mass of the modules");
    assert_eq!(headline.stops, 0, "{:#?}", evaluation.findings);
}

/// Worked by hand in the scenario: the one count in series that fits, and what is wrong with the ones beside it.
#[rstest]
#[case::orchard(
    "orchard-flatbed",
    5,
    "empty 83.2 V is under the drive's least 90 V",
    "full 170.4 V is over the drive's 160 V"
)]
#[case::harbour(
    "harbour-tender",
    8,
    "empty 252 V is under the drive's least 260 V",
    "full 448.2 V is over the drive's 420 V"
)]
#[case::rescue(
    "mountain-rescue",
    24,
    "empty 276 V is under the drive's least 280 V",
    "full 415 V is over the drive's 405 V"
)]
fn one_count_in_series_fits(#[case] name: &str, #[case] series: u32, #[case] fewer: &str, #[case] more: &str) {
    let evaluation = evaluation(name);
    let pack = &evaluation.packs[0];
    assert_eq!(pack.fits, Some((series, series)));
    assert!(
        pack.choices
            .iter()
            .all(|c| c.fits() == (c.arrangement.series == series))
    );
    let against = |series: u32| -> Vec<String> {
        let choice = pack.choices.iter().find(|c| c.arrangement.series == series).unwrap();
        choice
            .objections
            .iter()
            .map(pack::arrangement::Objection::words)
            .collect()
    };
    assert!(
        against(series - 1).iter().any(|words| words == fewer),
        "{:?}",
        against(series - 1)
    );
    assert!(
        against(series + 1).iter().any(|words| words == more),
        "{:?}",
        against(series + 1)
    );
}

/// Worked by hand in the scenario: body, size over flange or cap, plates.
///
/// The floors are thicker than there, since 3 mm do not carry what presses on them: 4 mm in the orchard, 903 x 335 x 1 at
/// 7.85 more, 2.4 kg; 6 mm for the rescue, 607 x 723 x 3 or 10.3 kg, and 247 x 607 x 3 or 3.5 kg.
///
/// Plates are known to the digit that the scenario gives; for the harbour it takes the skirt a little too long and the
/// sheet a little too heavy (2700 for 2680 kg/m3), which makes 1.1 %.
#[rstest]
#[case::orchard_left("orchard-flatbed", "left box", [903.0, 335.0, 255.5], (953.0, 385.0), 31.0, 0.05)]
#[case::orchard_right("orchard-flatbed", "right box", [903.0, 335.0, 255.5], (953.0, 385.0), 31.0, 0.05)]
#[case::harbour_left("harbour-tender", "left box", [1609.0, 243.0, 191.0], (1618.0, 252.0), 15.2, 0.17)]
#[case::harbour_right("harbour-tender", "right box", [1609.0, 243.0, 191.0], (1618.0, 252.0), 15.2, 0.17)]
#[case::rescue_c1("mountain-rescue", "box C1", [607.0, 723.0, 321.5], (615.0, 731.0), 48.3, 0.5)]
#[case::rescue_c2("mountain-rescue", "box C2", [247.0, 607.0, 321.5], (255.0, 615.0), 22.9, 0.5)]
fn the_boxes_are_as_worked_by_hand(
    #[case] job: &str,
    #[case] name: &str,
    #[case] body: [f64; 3],
    #[case] over: (f64, f64),
    #[case] plates_kg: f64,
    #[case] within: f64,
) {
    let evaluation = evaluation(job);
    let battery_box = named(&evaluation, name);
    let got = battery_box.body.unwrap().size();
    for (axis, expected) in Axis::ALL.into_iter().zip(body) {
        assert_near(got[axis].as_mm(), expected, 1e-9, axis.extent_name());
    }
    let all = battery_box
        .solids
        .iter()
        .copied()
        .reduce(|a, b| a.hull(&b))
        .unwrap()
        .size();
    assert_near(all[Axis::X].as_mm(), over.0, 1e-9, "length over everything");
    assert_near(all[Axis::Y].as_mm(), over.1, 1e-9, "width over everything");
    assert_near(job::Grams(battery_box.mass.shell_g).kg(), plates_kg, within, "plates");
}

/// Worked by hand in the scenario: 12 x 46 + 2 x 8 end plates + 2 x 12 rod nuts.
#[test]
fn a_stack_is_592_long() {
    let evaluation = evaluation("mountain-rescue");
    for stack in &named(&evaluation, "box C1").modules {
        assert_eq!((stack.count, stack.cuboid.size()[Axis::X]), (12, tape::Length::mm(592)));
    }
    assert_eq!(
        named(&evaluation, "box C2").modules[0].cuboid.size()[Axis::Y],
        tape::Length::mm(592)
    );
}

/// Worked by hand in the scenario: between the brake line (15.875 mm proud, against the 723 body) and the bolt head
/// (at 762, against the 731 cap), 762 - 15.875 - 727 is shared evenly.
#[test]
fn the_rescue_box_has_as_much_to_the_brake_line_as_to_the_bolt_head() {
    // By the readings as they are; walls that lean would take their own share.
    let evaluation = evaluate(&plain("mountain-rescue"));
    let around = named(&evaluation, "box C1").around.as_ref().unwrap();
    let [left, right] = [Face::Left, Face::Right].map(|face| &around.faces[face.index()]);
    assert_near(left.distance.as_mm(), 9.5625, 1e-9, "left");
    assert_near(right.distance.as_mm(), 9.5625, 1e-9, "right");
    assert_eq!(&*left.name, "brake line on the left rail");
    assert_eq!(&*right.name, "bed-mount bolt head, right rail");
    assert!(matches!(left.near, Near::KeepOut(_)) && matches!(right.near, Near::KeepOut(_)));
}

/// Without diagonals the shape is not held: the smallest edge reading less two sigma, with sigma worked out here from the table of tape classes: limits
/// a + b x metres (rounded up) + c for the hook, half a mark, and 1 mm aim at both ends.
#[rstest]
#[case("orchard-flatbed", "left saddle", 25.4, [50.0 + 15.0 / 16.0, 16.75, 11.0 + 11.0 / 16.0])]
#[case("orchard-flatbed", "right saddle", 25.4, [50.75, 16.0 + 7.0 / 16.0, 11.625])]
#[case("mountain-rescue", "C1, ahead of the axle", 25.4, [25.125, 30.375, 14.0 + 7.0 / 16.0])]
#[case("mountain-rescue", "C2, behind the axle", 25.4, [11.0 + 3.0 / 16.0, 25.375, 13.0 + 11.0 / 16.0])]
#[case("harbour-tender", "left pocket", 1.0, [1661.0, 284.0, 238.0])]
#[case("harbour-tender", "right pocket", 1.0, [1658.0, 286.0, 240.0])]
fn usable_is_the_smallest_reading_less_two_sigma(
    #[case] job: &str,
    #[case] cavity: &str,
    #[case] unit_mm: f64,
    #[case] smallest: [f64; 3],
) {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/cases/survey.json");
    let cases: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let class = &cases["e_tape_accuracy"]["tape_classes"]["table"]["II"];
    let [a, b, c] = ["a_mm", "b_mm_per_m", "c_mm"].map(|key| class[key].as_f64().unwrap());
    let mark = if unit_mm > 1.0 { 25.4 / 16.0 } else { 1.0 };
    let mut job = built_in(job);
    job.settings.reading_sigma = None;
    for cavity in &mut job.cavities {
        cavity.readings.retain(|r| r.line.dimension().is_some());
    }
    let evaluation = evaluate(&job);
    let cavity = evaluation.cavities.iter().find(|c| c.name == cavity).unwrap();
    assert_eq!(cavity.survey.standing, job::Standing::AssumedSquare);
    for (axis, smallest) in Axis::ALL.into_iter().zip(smallest) {
        let mm = smallest * unit_mm;
        let limits = a + b * (mm / 1000.0).ceil() + c;
        let sigma = (limits.powi(2) / 3.0 + f64::powi(mark, 2) / 12.0 + 2.0 / 3.0).sqrt();
        let usable = cavity.usable.unwrap().size()[axis].as_mm();
        assert_near(usable, mm - 2.0 * sigma, 1e-5, axis.extent_name());
        assert!(usable <= mm - 2.0 * sigma, "{} is rounded up", axis.extent_name());
    }
}

/// Worked by hand in the scenario: the drive needs 8 loaves in series (288.0 to 398.4 V), and 6 are on hand.
#[test]
fn six_loaves_cannot_make_eight_in_series() {
    let mut job = built_in("mountain-rescue");
    let evaluation = evaluate(&job);
    let loaf = evaluation.packs.iter().find(|p| p.name == "loaf").unwrap();
    assert_eq!((loaf.on_hand, loaf.fits), (6, Some((8, 8))));
    assert!(loaf.choices.iter().all(|c| c.arrangement.series <= 6 && !c.fits()));

    job.boxes.clear();
    job.kinds.retain(|k| k.name == "loaf");
    let refusal = question(&job, &evaluate(&job), Aim::Whole).unwrap_err();
    assert_eq!(
        refusal.to_string(),
        "no layout yet: the drive needs 8 in series, and 6 are on hand"
    );
}
