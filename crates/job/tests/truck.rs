//! What the boxes do to the truck: figures worked out by hand, sums that must hold, what is said and what is kept.

mod common;

use common::built_in;
use job::{
    Aboard, Axles, Edit, Evaluation, Field, Finding, Grave, History, Job, Of, Subject, TruckEdit, TruckField as F,
    TruckFigure, UnitsName, WayName, evaluate, load, to_text,
};
use proptest::prelude::*;
use rstest::rstest;
use truck::lift::Hands;
use truck::mass::Axle;
use truck::rating::Limit;

fn set(job: &Job, field: F, text: &str) -> Job {
    let edit = Edit::Set {
        field: Field::OfTruck(field),
        text: text.to_owned(),
    };
    job.with(&edit)
        .unwrap_or_else(|error| panic!("{field:?} {text}: {error}; {}", error.mend()))
}

fn set_all(job: &Job, entries: &[(F, &str)]) -> Job {
    entries
        .iter()
        .fold(job.clone(), |job, (field, text)| set(&job, *field, text))
}

/// A component at so many millimetres behind the front axle.
fn with(job: &Job, way: WayName, name: &str, kg: &str, x_mm: &str) -> Job {
    let job = job
        .with(&Edit::Truck(TruckEdit::AddComponent(way)))
        .expect("it is added");
    let last = job.vehicle.components.len() - 1;
    set_all(
        &job,
        &[
            (F::ComponentName(last), name),
            (F::ComponentMass(last), kg),
            (F::ComponentAt(last, geometry::Axis::X), x_mm),
        ],
    )
}

/// 3 m from hub to hub, 900 kg in front, 600 kg behind; no boxes.
fn bare() -> Job {
    set_all(
        &Job::empty(UnitsName::Millimetre),
        &[(F::Wheelbase, "3000"), (F::FrontBefore, "900"), (F::RearBefore, "600")],
    )
}

/// The same with an engine and a tank out, a motor and a winch in, and a plate.
fn worked() -> Job {
    let job = with(&bare(), WayName::Out, "engine", "200", "0");
    let job = with(&job, WayName::Out, "tank", "50", "2500");
    let job = with(&job, WayName::In, "motor", "90", "300");
    let job = with(&job, WayName::In, "winch", "40", "-600");
    set_all(&job, &[(F::GrossRating, "1700"), (F::RearRating, "650")])
}

fn axles(job: &Job) -> Axles {
    let vehicle = evaluate(job).vehicle;
    assert_eq!(vehicle.faults, Vec::<String>::new());
    vehicle.axles.expect("wheelbase and loads are entered")
}

fn near(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a} is not {b} within {within}");
}

fn of_truck(evaluation: &Evaluation) -> Vec<&Finding> {
    let is_of_truck = |f: &&Finding| f.subject == Subject::Truck;
    evaluation.findings.iter().filter(is_of_truck).collect()
}

fn says(evaluation: &Evaluation, grave: Grave, words: &str) -> bool {
    evaluation
        .findings
        .iter()
        .any(|f| f.grave == grave && f.words.contains(words))
}

/// Rear: 600 - 50 x 2500/3000 + 90 x 300/3000 - 40 x 600/3000 = 600 - 41.667 + 9 - 8 = 559.333 kg.
/// Front: 900 - 200 - 50 x 500/3000 + 90 x 2700/3000 + 40 x 3600/3000 = 900 - 208.333 + 81 + 48 = 820.667 kg.
#[test]
fn axle_loads_are_those_worked_out_by_hand() {
    let axles = axles(&worked());
    near(axles.stripped.front_kg, 691.667, 0.001);
    near(axles.stripped.rear_kg, 558.333, 0.001);
    near(axles.after.front_kg, 820.667, 0.001);
    near(axles.after.rear_kg, 559.333, 0.001);
    // 1500 - 250 + 130.
    near(axles.after.total_kg(), 1_380.0, 1e-9);
    // 559.333 x 3 / 1380, and all at the height that is taken for all of them.
    near(axles.centre_after.x_m, 1.215_942, 1e-6);
    near(axles.centre_after.z_m, 0.65, 1e-9);
    assert!(axles.height_assumed && !axles.loads_assumed);
    near(axles.wheels.front_left_kg, 410.333, 0.001);
    near(axles.wheels.rear_right_kg, 279.667, 0.001);
}

/// One person of 68 kg halfway puts 34 kg on each axle: rear 593.333 of 650, 56.667 left; gross 1448 of 1700, 252 left.
/// At 2760 mm a kilogram puts 0.92 kg on the rear axle: 56.667 / 0.92 = 61.594 kg may still go on.
#[test]
fn the_weakest_limit_and_what_is_left_for_payload_are_those_worked_out_by_hand() {
    let axles = axles(&worked());
    let aboard: Vec<Aboard> = axles.stated.iter().map(|s| s.aboard.clone()).collect();
    assert_eq!(aboard, [Aboard::Nobody, Aboard::People(1)]);
    let weakest = axles.weakest.unwrap();
    assert_eq!(weakest.0.limit, Limit::Axle(Axle::Rear));
    near(weakest.0.left_kg(), 56.667, 0.001);
    let (payload, with) = axles.payload.unwrap();
    assert_eq!(with, Aboard::People(1));
    assert_eq!(payload.limited_by, Limit::Axle(Axle::Rear));
    near(payload.left_kg, 61.594, 0.001);
    let evaluation = evaluate(&worked());
    assert!(says(
        &evaluation,
        Grave::Caution,
        "only 61 kg (135 lb) of payload is left"
    ));
    assert!(axles.aboard_assumed, "nobody entered the person");
}

/// Front: readings 75, masses 5 %: 200 x 1 x 0.05 = 10, 50 x 0.1667 x 0.05 = 0.417, 90 x 0.9 x 0.05 = 4.05,
/// 40 x 1.2 x 0.05 = 2.4; root of 5625 + 100 + 0.174 + 16.403 + 5.76 = 75.811.
#[test]
fn what_the_loads_may_be_off_is_the_root_of_the_sum_of_squares() {
    near(axles(&worked()).after_off.front_kg, 75.811, 0.001);
    let weighed = set_all(&worked(), &[(F::BeforeBy, "weighbridge"), (F::ReadingOff, "10")]);
    near(axles(&weighed).before_off.total_kg, 14.142, 0.001);
}

/// A car's tyre of index 99 carries 775 kg: two of them on a truck 1550 / 1.10 = 1409.09 kg.
#[test]
fn passenger_tyres_count_for_a_tenth_less() {
    let job = set_all(&worked(), &[(F::FrontTyre, "99"), (F::TyreSort, "passenger car")]);
    let axles = axles(&job);
    let tyres = axles.stated[0]
        .margins
        .iter()
        .find(|m| m.limit == Limit::Tyres(Axle::Front));
    near(tyres.unwrap().limit_kg, 1_409.091, 0.001);
    assert!(axles.source_words(Limit::Tyres(Axle::Front)).contains("49 CFR 571.120"));
}

#[test]
fn over_a_rating_is_a_stop_with_the_plate_as_its_source_and_just_under_is_none() {
    let stops = |rating: &str| {
        let evaluation = evaluate(&set(&worked(), F::RearRating, rating));
        let found = of_truck(&evaluation)
            .into_iter()
            .filter(|f| f.grave == Grave::Stop)
            .cloned();
        found.collect::<Vec<_>>()
    };
    let [over] = &stops("593 kg")[..] else {
        panic!("one stop")
    };
    assert!(
        over.words.contains("rear axle rating") && over.words.contains("1 aboard"),
        "{over:?}"
    );
    assert_eq!(over.source, "plate of the truck, as entered");
    assert_eq!(stops("594 kg"), []);
    // With nobody aboard it is over already, by 0.333 kg; said once, at its worst: 559.333 + 34 are 34.333 over.
    let [over] = &stops("559 kg")[..] else {
        panic!("one stop")
    };
    assert!(over.words.contains("over by 34 kg (76 lb), 1 aboard"), "{over:?}");
}

/// 500 kg at 6 m takes 500 x 3/3 = 500 kg off the front: 400 of 2000 is 20 %. 1000 kg more lift it off the ground.
#[test]
fn a_heavy_tail_makes_the_front_light_and_then_lifts_it() {
    let job = set(&bare(), F::Figure(TruckFigure::People), "0");
    let tail = with(&job, WayName::In, "ballast", "500", "6000");
    near(axles(&tail).after.front_kg, 400.0, 1e-9);
    assert!(says(&evaluate(&tail), Grave::Caution, "carries 20 % of the whole"));
    let more = with(&tail, WayName::In, "more ballast", "1000", "6000");
    near(axles(&more).after.front_kg, -600.0, 1e-9);
    assert!(says(&evaluate(&more), Grave::Stop, "front axle lifts off the ground"));
}

#[test]
fn the_scale_afterwards_is_held_against_what_both_may_be_off() {
    let job = set_all(
        &worked(),
        &[
            (F::BeforeBy, "weighbridge"),
            (F::ReadingOff, "10"),
            (F::FrontAfter, "830"),
            (F::RearAfter, "565"),
        ],
    );
    // 9.33 kg and 5.67 kg apart.
    assert!(axles(&job).reweighed.unwrap().agrees());
    let off = set(&job, F::RearAfter, "640");
    let again = axles(&off).reweighed.unwrap();
    near(again.differs_kg[1], 80.667, 0.001);
    assert!(!again.agrees());
    assert!(says(
        &evaluate(&off),
        Grave::Caution,
        "weighed after the work: not as worked out"
    ));
}

/// What may be carried rests on the scale once there is one: rear 640 of 650 with 34 of the person is 24 over; with its reading off
/// by 10, both by 14.142; the calculation stays beside it.
#[test]
fn limits_and_payload_rest_on_the_scale_once_it_was_weighed_again() {
    let job = set_all(
        &worked(),
        &[
            (F::BeforeBy, "weighbridge"),
            (F::ReadingOff, "10"),
            (F::FrontAfter, "830"),
            (F::RearAfter, "640"),
        ],
    );
    let weighed = axles(&job);
    near(weighed.after.rear_kg, 640.0, 1e-9);
    near(weighed.worked_out.rear_kg, 559.333, 0.001);
    near(weighed.after_off.total_kg, 14.142, 0.001);
    near(weighed.stated[1].loads.rear_kg, 674.0, 1e-9);
    near(weighed.wheels.axles().rear_kg, 640.0, 1e-9);
    assert!(says(
        &evaluate(&job),
        Grave::Stop,
        "rear axle rating: 674 kg (1486 lb) of 650 kg (1433 lb), over by 24 kg (53 lb)"
    ));
    let (payload, _) = weighed.payload.clone().unwrap();
    assert!(payload.left_kg < 0.0, "{payload:?}");
    let names: Vec<String> = weighed.rows().into_iter().map(|row| row.name).collect();
    assert_eq!(
        names[3..],
        [
            "worked out, nobody aboard",
            "on the scale, nobody aboard",
            "after, 1 aboard"
        ]
    );
    let facts = evaluate(&job).truck_facts();
    assert!(
        facts[0].text.contains("rear 640 kg (1411 lb) +-10") && facts[0].text.contains("worked out: front 821 kg"),
        "{facts:?}"
    );
    // Half of a weighing is none.
    let half = set(&job, F::RearAfter, "");
    assert!(!axles(&half).is_weighed);
    near(axles(&half).after.rear_kg, 559.333, 0.001);
}

/// The truck's own lean: 470 and 430 in front, 310 and 290 behind; what comes out and goes in is in the middle, so half of
/// 820.667 - 900 = -79.333 and of 559.333 - 600 = -40.667 to each side. A reading off by 10 makes two of them off by 14.142.
#[test]
fn an_axle_is_the_sum_of_its_wheels_where_they_were_weighed() {
    use truck::mass::wheel::Wheel;
    let wheels = [
        (F::WheelBefore(Wheel::FrontLeft), "470"),
        (F::WheelBefore(Wheel::FrontRight), "430"),
        (F::WheelBefore(Wheel::RearLeft), "310"),
        (F::WheelBefore(Wheel::RearRight), "290"),
    ];
    let weighbridge = [(F::BeforeBy, "weighbridge"), (F::ReadingOff, "10")];
    let even = set_all(&worked(), &weighbridge);
    assert!(
        axles(&even)
            .wheel_words()
            .contains("before the work left is taken as equal to right")
    );
    let job = set_all(&even, &wheels);
    let by_wheels = set_all(&job, &[(F::FrontBefore, ""), (F::RearBefore, "")]);
    for job in [&job, &by_wheels] {
        let axles = axles(job);
        near(axles.after.front_kg, 820.667, 0.001);
        near(axles.before_off.front_kg, 14.142, 0.001);
        near(axles.wheels.front_left_kg, 430.333, 0.001);
        near(axles.wheels.rear_right_kg, 269.667, 0.001);
        // 34 kg of the person on each axle, in the middle.
        near(axles.stated[1].wheels.front_left_kg, 447.333, 0.001);
        let words = axles.wheel_words();
        assert!(
            !words.contains("equal to right") && words.contains("1 aboard in the middle of the cab: front left ~447"),
            "{words}"
        );
    }
    let evaluation = evaluate(&by_wheels);
    assert_eq!(evaluation.vehicle.needed, Vec::<&str>::new());
    assert!(
        evaluation
            .vehicle
            .halves
            .iter()
            .all(|half| !half.words.contains("before"))
    );
    // 900 entered for what weighs 950: three readings may be off by 17.3 together.
    let apart = set(&job, F::WheelBefore(Wheel::FrontLeft), "520");
    assert!(says(
        &evaluate(&apart),
        Grave::Caution,
        "front axle, before the work: 900 kg (1984 lb) entered, and its two wheels together 950 kg (2094 lb)"
    ));
    assert!(!says(&evaluate(&job), Grave::Caution, "its two wheels together"));
    // One wheel does not count, and says so.
    let one = set(&worked(), F::WheelBefore(Wheel::RearLeft), "310");
    assert!(says(
        &evaluate(&one),
        Grave::Caution,
        "one wheel of an axle does not count"
    ));
    near(axles(&one).before.rear_kg, 600.0, 1e-9);
}

/// 820.667 kg in front with a motor of 90 kg half a metre right: its 81 kg in front over a track of 1.5 m put 27 kg from left to right,
/// the person 17 to each side: 410.333 + 17 + 27 = 454.333. Index 80 is 450 kg: 900 for 854.667 of the axle.
#[test]
fn a_single_wheel_over_its_tyre_is_told_though_its_axle_is_within() {
    let job = set_all(
        &worked(),
        &[
            (F::FrontTyre, "80"),
            (F::FrontTrack, "1500"),
            (F::RearTrack, "1500"),
            (F::ComponentAt(2, geometry::Axis::Y), "500"),
        ],
    );
    let words = "front right wheel: ~454 kg (1002 lb) of the 450 kg (992 lb) that its tyre may carry";
    let evaluation = evaluate(&job);
    assert!(says(&evaluation, Grave::Caution, words), "{:?}", of_truck(&evaluation));
    assert!(!says(&evaluation, Grave::Caution, "front left wheel:"));
    assert!(!says(&evaluation, Grave::Stop, "front tyres"));
    let middle = set(&job, F::ComponentAt(2, geometry::Axis::Y), "0");
    assert!(!says(&evaluate(&middle), Grave::Caution, "that its tyre may carry"));
}

/// Nobody aboard, one, and one with cargo are each over; the stop tells the most that it is over by.
#[test]
fn an_overload_is_told_at_its_worst() {
    let job = set_all(
        &worked(),
        &[(F::GrossRating, "1300"), (F::Cargo, "300"), (F::CargoAt, "1500")],
    );
    // 1380 + 68 + 300.
    assert!(says(
        &evaluate(&job),
        Grave::Stop,
        "gross rating: 1748 kg (3854 lb) of 1300 kg (2866 lb), over by 448 kg (988 lb), 1 aboard and cargo"
    ));
}

#[test]
fn wheels_weighed_after_the_work_are_told_as_read() {
    use truck::mass::wheel::Wheel;
    let read = [
        (F::WheelAfter(Wheel::FrontLeft), "425"),
        (F::WheelAfter(Wheel::FrontRight), "400"),
        (F::WheelAfter(Wheel::RearLeft), "270"),
        (F::WheelAfter(Wheel::RearRight), "295"),
    ];
    let job = set_all(&worked(), &read);
    let axles = axles(&job);
    assert!(axles.is_weighed && axles.wheels_weighed() && !axles.wheels_assumed);
    near(axles.after.rear_kg, 565.0, 1e-9);
    near(axles.wheels.rear_right_kg, 295.0, 1e-9);
    near(axles.wheels_worked_out.rear_right_kg, 279.667, 0.001);
    assert_eq!(
        axles.reweighed.unwrap().wheels_kg,
        [Some([425.0, 400.0]), Some([270.0, 295.0])]
    );
    let again = load(to_text(&job).as_bytes()).expect("it is read again");
    assert_eq!(again, job);
    // Of the front axle alone the rear keeps the lean that was worked out.
    let front = set_all(&worked(), &[read[0], read[1], (F::RearAfter, "565")]);
    let axles = self::axles(&front);
    near(axles.wheels.front_left_kg, 425.0, 1e-9);
    near(axles.wheels.rear_left_kg, 282.5, 1e-9);
    assert!(!axles.wheels_weighed());
}

/// L 3 m, W 1500 kg, rear up 0.6 m: sin 0.2, tan 0.204124; 0.3 + 3 x 30 / (1500 x 0.204124) = 0.593939 m.
#[test]
fn raising_the_rear_wheels_tells_the_height_of_the_centre() {
    let job = set_all(
        &bare(),
        &[(F::RaisedFront, "930"), (F::RaisedBy, "600"), (F::RearRadius, "300")],
    );
    let axles = axles(&job);
    near(axles.centre_before.z_m, 0.593_939, 1e-6);
    assert!(!axles.height_assumed);
}

/// As above 3 / (1500 x 0.204124) = 9.798 mm a kilogram; two readings off by 10 kg each are 14.142 together: 138.6 mm, before
/// and, with nothing out or in, after.
#[test]
fn the_height_is_told_with_what_the_readings_may_be_off_and_against_an_entry() {
    let job = set_all(
        &bare(),
        &[
            (F::BeforeBy, "weighbridge"),
            (F::ReadingOff, "10"),
            (F::RaisedFront, "930"),
            (F::RaisedBy, "600"),
            (F::RearRadius, "300"),
        ],
    );
    let [before, after] = axles(&job).height_off_m.unwrap();
    near(before, 0.138_565, 1e-5);
    near(after, 0.138_565, 1e-5);
    let facts = evaluate(&job).truck_facts();
    let centre = facts.iter().find(|fact| fact.name == "centre of mass").unwrap();
    assert!(
        centre
            .text
            .contains("593.9 mm +- 138.6 mm up, 593.9 mm +- 138.6 mm before"),
        "{centre:?}"
    );
    // 90 kg goes in, 53 mm above the centre: 138.565 x 1500 / 1590, and 5 % of 90 x 0.053 / 1590, which is nothing.
    let more = with(&job, WayName::In, "motor", "90", "300");
    near(axles(&more).height_off_m.unwrap()[1], 0.130_7, 0.000_2);
    // Entered beside it: 206 mm apart is more than it may be off, 106 is not.
    let apart = set(&job, F::CentreHeight, "800");
    assert!(says(
        &evaluate(&apart),
        Grave::Caution,
        "is entered, and the weighing with the rear raised tells"
    ));
    near(axles(&apart).centre_before.z_m, 0.8, 1e-9);
    let close = set(&job, F::CentreHeight, "700");
    assert!(axles(&close).height_conflict.is_none() && axles(&close).height_off_m.is_none());
}

/// 1380 kg after the work and 68 of the driver are 1448 on the road; 5 % are 72. Stripped it is 1250.
#[rstest]
#[case::alike("1500", None)]
#[case::fuller("1740", Some((Grave::Note, "it may be so with more aboard")))]
#[case::beyond_all("2000", Some((Grave::Caution, "552 kg (1217 lb) more than the 1448 kg (3192 lb) of its axle loads")))]
#[case::below_stripped("1200", Some((Grave::Caution, "less than the 1250 kg (2756 lb) of the stripped truck")))]
fn a_mass_on_the_road_far_from_the_axles_is_told(#[case] mass: &str, #[case] expected: Option<(Grave, &str)>) {
    let cargo = [(F::Cargo, "300"), (F::CargoAt, "1500"), (F::BeforeBy, "weighbridge")];
    let job = set_all(&worked(), &cargo);
    let edit = Edit::Set {
        field: Field::OfRoad(job::RoadField::Mass),
        text: mass.to_owned(),
    };
    let evaluation = evaluate(&job.with(&edit).unwrap());
    match expected {
        Some((grave, words)) => assert!(says(&evaluation, grave, words), "{:?}", of_truck(&evaluation)),
        None => assert!(
            of_truck(&evaluation)
                .iter()
                .all(|f| !f.words.contains("mass on the road"))
        ),
    }
}

/// Hubs at 300, frame at 300: each tyre is touched at asin(300/1500) = 11.537 degrees, both together 23.074. The front
/// edge at 800, 300 high: asin(300/800) = 22.024. 100 kg on the rear axle sink it 9.80665 x 100 / 100 = 9.807 mm. The frame
/// then falls by that along 3000; trying every thousandth of a millimetre of it, the crest with the least angle, 22.698 degrees,
/// is 1511.962 behind the front axle, where it is 300 - 9.80665 x 1511.962 / 3000 = 295.058 up.
#[test]
fn ground_figures_are_those_worked_out_by_hand() {
    let job = set_all(
        &bare(),
        &[
            (F::FrontRadius, "300"),
            (F::RearRadius, "300"),
            (F::FrameHeight, "300"),
            (F::FrontOverhang, "800"),
            (F::FrontLow, "300"),
            (F::Figure(TruckFigure::People), "0"),
            (F::Figure(TruckFigure::FrontSpring), "100"),
            (F::Figure(TruckFigure::RearSpring), "100 N/mm"),
        ],
    );
    let job = with(&job, WayName::In, "ballast", "100", "3000");
    let ground = evaluate(&job).vehicle.ground.unwrap();
    near(ground.before.breakover.as_ref().unwrap().degrees, 23.074, 0.001);
    near(ground.before.approach.as_ref().unwrap().degrees, 22.024, 0.001);
    assert_eq!(ground.before.departure, None);
    let drop = ground.sunk_with.last().unwrap().drop;
    near(drop.front_m, 0.0, 1e-12);
    near(drop.rear_m, 0.009_807, 1e-6);
    let sunk = ground.sunk.unwrap();
    let breakover = sunk.breakover.unwrap();
    near(breakover.degrees, 22.697_71, 1e-5);
    near(breakover.at.x_m, 1.511_962, 1e-5);
    near(breakover.at.z_m, 0.295_058, 1e-6);
    near(sunk.lowest.unwrap().z_m, 0.290_193, 1e-6);
}

/// A flat from 692.5 to 2247.5, 249.5 up, hubs at 350: halfway 2 (atan(-100.5/1500) + asin(350/1503.363)) = 19.259 degrees.
/// As two points, its edges: 26.236 at the rear one.
#[test]
fn a_crest_comes_up_between_the_ends_of_a_flat_underside() {
    let mut job = set_all(&bare(), &[(F::FrontRadius, "350"), (F::RearRadius, "350")]);
    job = job.with(&Edit::Truck(job::TruckEdit::AddPoint)).unwrap();
    let tank = [
        (F::PointName(0), "tank"),
        (F::PointAlong(0), "2247.5"),
        (F::PointHeight(0), "249.5"),
    ];
    job = set_all(&job, &tank);
    let breakover = |job: &Job| evaluate(job).vehicle.ground.unwrap().before.breakover.unwrap();
    near(breakover(&job).degrees, 26.2357, 0.001);
    let flat = breakover(&set(&job, F::PointTo(0), "692.5"));
    near(flat.degrees, 19.2591, 0.001);
    near(flat.at.x_m, 1.5, 1e-6);
    assert_eq!(flat.at.name, "tank, underside");
}

/// Of every box of an example, its underside tried at each millimetre by the formula itself: nothing has less than what is told.
#[rstest]
fn no_spot_under_a_box_has_less_than_is_told(
    #[values("orchard-flatbed", "harbour-tender", "mountain-rescue")] name: &str,
) {
    let job = built_in(name);
    let evaluation = evaluate(&job);
    let ground = evaluation.vehicle.ground.unwrap();
    let told = ground.boxes.breakover.unwrap().degrees;
    let [front_m, rear_m] = ground.outline.radius_m;
    let angle = |d: f64, up: f64, r: f64| (up - r).atan2(d) + (r / d.hypot(up - r)).asin();
    let metres = |length: tape::Length| length.as_mm() / 1_000.0;
    for battery_box in &evaluation.boxes {
        let place = job.cavity(battery_box.cavity).unwrap().place.as_ref().unwrap();
        let [x, _, z] = place.each_ref().map(|at| metres(at.value()));
        for solid in battery_box.solids.iter().chain(&battery_box.added.brackets) {
            let at = |face| metres(solid.face(face));
            let up = z + at(geometry::Face::Bottom);
            let (from, to) = (x + at(geometry::Face::Front), x + at(geometry::Face::Rear));
            let mut d = from;
            while d <= to {
                let behind = ground.outline.wheelbase_m - d;
                if d > front_m && behind > rear_m {
                    let crest = (angle(d, up, front_m) + angle(behind, up, rear_m)).to_degrees();
                    assert!(
                        crest >= told - 1e-9,
                        "{crest} at {d} under {}, told {told}",
                        battery_box.name
                    );
                }
                d += 0.001;
            }
        }
    }
}

/// The boxes of an example counted anew, module by module, with the steel at the middle of the body.
#[rstest]
fn boxes_count_where_they_stand(#[values("orchard-flatbed", "harbour-tender", "mountain-rescue")] name: &str) {
    let job = built_in(name);
    let evaluation = evaluate(&job);
    let metres = |length: tape::Length| length.as_mm() / 1_000.0;
    let middle = |cuboid: &geometry::Cuboid| {
        geometry::Axis::ALL.map(|axis| {
            let [low, high] = [geometry::Face::low(axis), geometry::Face::high(axis)].map(|face| cuboid.face(face));
            f64::midpoint(metres(low), metres(high))
        })
    };
    for battery_box in &evaluation.boxes {
        let place = job.cavity(battery_box.cavity).unwrap().place.clone().unwrap();
        let mut parts = vec![(
            job::Grams(battery_box.mass.empty_g()).kg(),
            middle(&battery_box.body.unwrap()),
        )];
        for module in &battery_box.modules {
            let each = job::Grams(evaluation.kind(module.kind).unwrap().mass_g.unwrap()).kg();
            parts.push((each * f64::from(module.count), middle(&module.cuboid)));
        }
        let mass_kg: f64 = parts.iter().map(|(kg, _)| kg).sum();
        let counted = evaluation.vehicle.counted_box(battery_box.id).unwrap();
        near(counted.mass_kg, mass_kg, 1e-9);
        near(counted.mass_kg, job::Grams(battery_box.mass.total_g()).kg(), 1e-9);
        for (axis, at) in [counted.at.x_m, counted.at.y_m, counted.at.z_m].into_iter().enumerate() {
            let moment: f64 = parts.iter().map(|(kg, at)| kg * at[axis]).sum();
            near(at, moment / mass_kg + metres(place[axis].value()), 1e-9);
        }
        let lift = evaluation
            .vehicle
            .lifts
            .iter()
            .find(|l| l.battery_box == battery_box.id)
            .unwrap();
        near(lift.ends_kg.iter().sum(), mass_kg, 1e-9);
        assert_eq!(lift.loaded_hands, Hands::Hoist, "{name}: {mass_kg} kg");
    }
    let axles = evaluation.vehicle.axles.as_ref().unwrap();
    let changes: f64 = evaluation.vehicle.counted.iter().map(|one| one.item().mass_kg).sum();
    near(axles.after.total_kg(), axles.before.total_kg() + changes, 1e-9);
    near(axles.wheels.axles().front_kg, axles.after.front_kg, 1e-9);
    assert!(of_truck(&evaluation).iter().all(|f| f.grave != Grave::Stop), "{name}");
}

#[test]
fn a_box_whose_cavity_has_no_place_is_told_and_not_guessed() {
    let mut job = built_in("orchard-flatbed");
    let whole = axles(&job).after.total_kg();
    job.cavities[0].place = None;
    let evaluation = evaluate(&job);
    let missing = &evaluation.vehicle.uncounted;
    assert_eq!(missing.len(), 1);
    assert_eq!(missing[0].why, "cavity left saddle has no place in the truck");
    assert!(says(
        &evaluation,
        Grave::Caution,
        "left box does not count for the axle loads, its "
    ));
    // A mass is known without a place: what the truck weighs on the road stays the same, and says so.
    let road = |evaluation: &Evaluation| evaluation.road.driven.as_ref().unwrap().mass_kg;
    near(road(&evaluation), road(&evaluate(&built_in("orchard-flatbed"))), 1e-6);
    let from = &evaluation.road.driven.as_ref().unwrap().mass_from;
    assert!(
        from.contains("counted without a place in the truck: left box +"),
        "{from}"
    );
    assert!(axles(&job).after.total_kg() < whole - 100.0);
    // Entered again as one line, it counts again.
    let id = job.cavities[0].id;
    let again = set(&job, F::CavityAt(id), "1244 mm, -901 mm, 455 mm");
    near(axles(&again).after.total_kg(), whole, 1e-9);
    let refused = job.with(&Edit::Set {
        field: Field::OfTruck(F::CavityAt(id)),
        text: "49\", 12\"".to_owned(),
    });
    assert!(refused.unwrap_err().to_string().contains("2 of three lengths"));
}

/// A box moved by what the page says gives the split that was asked for.
#[test]
fn moving_a_box_by_what_is_told_gives_the_wanted_split() {
    let job = set(&built_in("mountain-rescue"), F::Figure(TruckFigure::WantedRear), "46");
    let found = axles(&job).moves;
    assert_eq!(found.len(), 2);
    assert!(!found[0].has_room(), "under half an inch a side");
    for one in found {
        let mut moved = job.clone();
        let cavity = evaluate(&job).battery_box(one.battery_box).unwrap().cavity;
        let cavity = moved.cavities.iter_mut().find(|c| c.id == cavity).unwrap();
        let place = cavity.place.as_mut().unwrap();
        place[0] = job::Len::exactly(place[0].value() + one.by, tape::Units::Millimetre);
        near(axles(&moved).after.rear_share().unwrap(), 0.46, 1e-6);
    }
}

/// Brackets on a rail of its own hang below the floor: clearance and angles are taken to them.
#[test]
fn brackets_below_the_floor_are_the_lowest_of_a_box() {
    let mut job = built_in("orchard-flatbed");
    job.design.added.brackets = Some(job::BracketsName::OwnRail);
    for (size, text) in [
        (job::PartSize::BracketLeg, "90 mm"),
        (job::PartSize::BracketUp, "20 mm"),
    ] {
        let (field, text) = (Field::PartSize(size), text.to_owned());
        job = job.with(&Edit::Set { field, text }).expect("it is in range");
    }
    let found = evaluate(&job);
    let lowest_of = |battery_box: &job::BoxResult| {
        let low = |solids: &[geometry::Cuboid]| solids.iter().map(|s| s.lo()[geometry::Axis::Z]).min().unwrap();
        let brackets = low(&battery_box.added.brackets);
        assert!(brackets < low(&battery_box.solids), "they hang below");
        let place = job.cavity(battery_box.cavity).unwrap().place.clone().unwrap();
        (place[2].value() + brackets).as_mm() / 1000.0
    };
    let expected = found.boxes.iter().map(lowest_of).fold(f64::INFINITY, f64::min);
    near(
        found.vehicle.ground.clone().unwrap().lowest_box.unwrap().height_m,
        expected,
        1e-9,
    );
}

#[test]
fn a_box_below_the_frame_is_said_with_by_how_much() {
    let job = built_in("orchard-flatbed");
    let low = |job: &Job| evaluate(job).vehicle.ground.unwrap().lowest_box.unwrap();
    assert!(low(&job).below_frame_m.unwrap() < 0.0);
    let high = set(&job, F::FrameHeight, "20\"");
    near(low(&high).below_frame_m.unwrap(), 0.508 - low(&job).height_m, 1e-9);
    assert!(says(
        &evaluate(&high),
        Grave::Caution,
        "below the frame's lowest member"
    ));
    assert!(!says(
        &evaluate(&job),
        Grave::Caution,
        "below the frame's lowest member"
    ));
}

#[test]
fn a_job_without_a_truck_says_nothing_of_one_and_a_half_entered_one_says_what_is_missing() {
    let job = Job::empty(UnitsName::Inch);
    let evaluation = evaluate(&job);
    assert!(!evaluation.vehicle.entered && of_truck(&evaluation).is_empty());
    assert!(!to_text(&job).contains("vehicle"));
    let half = set(&job, F::FrontBefore, "2000 lb");
    let evaluation = evaluate(&half);
    assert_eq!(evaluation.vehicle.axles, None);
    assert!(says(
        &evaluation,
        Grave::Note,
        "axle loads need the wheelbase and the rear axle before the work"
    ));
}

/// An entry that no formula holds for is told, and nothing is made of it.
#[test]
fn what_cannot_be_is_told() {
    let job = with(&bare(), WayName::Out, "too much", "1500", "1200");
    let vehicle = evaluate(&job).vehicle;
    assert_eq!(vehicle.axles, None);
    assert_eq!(
        vehicle.faults[0],
        "total mass: nothing is left of the truck: it weighs 1500 kg (3307 lb) before, and 1500 kg (3307 lb) comes out: too \
         much 1500 kg (3307 lb); mend the mass that is too much"
    );
}

#[test]
fn a_mass_below_zero_is_said_to_be() {
    let edit = Edit::Set {
        field: Field::OfTruck(F::FrontBefore),
        text: "-1 kg".to_owned(),
    };
    let refused = bare().with(&edit).unwrap_err().to_string();
    assert!(refused.contains("is below zero"), "{refused}");
}

#[rstest]
#[case(F::Wheelbase, "0")]
#[case(F::Wheelbase, "70000")]
#[case(F::FrontBefore, "-5")]
#[case(F::FrontTyre, "300")]
#[case(F::Figure(TruckFigure::LeastFront), "99")]
#[case(F::Figure(TruckFigure::RearTyres), "9")]
fn what_is_out_of_range_is_refused(#[case] field: F, #[case] text: &str) {
    let edit = Edit::Set {
        field: Field::OfTruck(field),
        text: text.to_owned(),
    };
    let error = bare().with(&edit).unwrap_err();
    assert!(error.to_string().contains(Field::OfTruck(field).label()), "{error}");
    assert!(!error.mend().is_empty());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// Whatever goes in and out: the axles carry all of it, a file keeps it, and undo gives the job back.
    #[test]
    fn axles_carry_all_of_it_files_keep_it_and_undo_gives_it_back(
        parts in prop::collection::vec((any::<bool>(), 1..300_u32, -1_500..6_000_i32), 0..8),
        wheelbase in 1_500..5_000_u32,
    ) {
        let start = set_all(&bare(), &[(F::Wheelbase, &wheelbase.to_string()), (F::FrontBefore, "3000")]);
        let mut history = History::new(start.clone());
        let mut change = 0.0;
        let mut done = 0;
        let mut apply = |history: &mut History, edit: Edit| {
            history.apply(edit).unwrap();
            done += 1;
        };
        for (i, (is_out, kg, x_mm)) in parts.iter().enumerate() {
            let way = if *is_out { WayName::Out } else { WayName::In };
            change += f64::from(*kg) * if *is_out { -1.0 } else { 1.0 };
            apply(&mut history, Edit::Truck(TruckEdit::AddComponent(way)));
            for (field, text) in [
                (F::ComponentMass(i), kg.to_string()),
                (F::ComponentAt(i, geometry::Axis::X), x_mm.to_string()),
            ] {
                apply(&mut history, Edit::Set { field: Field::OfTruck(field), text });
            }
        }
        let job = history.job().clone();
        let axles = axles(&job);
        prop_assert!((axles.after.total_kg() - 3_600.0 - change).abs() < 1e-9);
        let moment: f64 = evaluate(&job).vehicle.counted.iter().map(|one| {
            assert!(matches!(one.of, Of::Component(_)));
            one.item().mass_kg * one.at.x_m
        }).sum();
        let base_m = f64::from(wheelbase) / 1_000.0;
        prop_assert!((axles.after.rear_kg * base_m - 600.0 * base_m - moment).abs() < 1e-6);
        prop_assert_eq!(&load(to_text(&job).as_bytes()).unwrap(), &job);
        for _ in 0..done {
            history.undo();
        }
        prop_assert_eq!(history.job(), &start);
    }
}

/// Cargo behind the rear axle relieves the front one, so the front is weakest without it.
#[test]
fn the_weakest_limit_is_told_whoever_is_aboard() {
    let job = set_all(
        &built_in("orchard-flatbed"),
        &[(F::FrontRating, "1000"), (F::CargoAt, "160 in")],
    );
    let axles = axles(&job);
    let (margin, aboard) = axles.weakest.unwrap();
    assert_eq!(margin.limit, Limit::Axle(Axle::Front));
    assert!(!margin.within());
    assert_eq!(aboard, Aboard::People(2));
}

/// Soft springs and a tonne aboard: what comes to the ground is named, and the other figures stay.
#[test]
fn what_sinks_onto_the_ground_is_a_stop_and_the_rest_is_still_told() {
    let mut job = built_in("orchard-flatbed");
    job.vehicle.ground.points[0].height = Some(job::Len::exactly(tape::Length::mm(60), tape::Units::Millimetre));
    let job = set_all(
        &job,
        &[(F::Figure(job::TruckFigure::RearSpring), "40"), (F::Cargo, "1000")],
    );
    let evaluation = evaluate(&job);
    let ground = evaluation.vehicle.ground.as_ref().unwrap();
    let sunk = ground.sunk.as_ref().unwrap();
    assert!(
        sunk.touching.contains(&"spare wheel carrier".to_owned()),
        "{:?}",
        sunk.touching
    );
    assert!(ground.before.touching.is_empty() && ground.before.approach.is_some());
    assert!(sunk.approach.is_some());
    assert!(says(&evaluation, Grave::Stop, "spare wheel carrier: on the ground"));
}

/// A front reading that falls when the rear is raised puts the centre under the ground: it is told, and the rest stays.
#[test]
fn a_raised_reading_that_cannot_be_is_told() {
    let mut job = built_in("orchard-flatbed");
    job.vehicle.masses.centre_height = None;
    let job = set_all(&job, &[(F::RaisedFront, "500"), (F::RaisedBy, "20 in")]);
    let vehicle = evaluate(&job).vehicle;
    assert!(
        vehicle.faults[0].starts_with("front reading, raised"),
        "{:?}",
        vehicle.faults
    );
    assert!(vehicle.axles.unwrap().height_assumed);
    // In an inch job lengths are inches, and no figure has more digits than anyone reads.
    let high = set_all(
        &built_in("orchard-flatbed"),
        &[(F::RaisedFront, "1000"), (F::RaisedBy, "200 in")],
    );
    let fault = &evaluate(&high).vehicle.faults[0];
    assert!(
        fault.starts_with("lift of the rear axle: 200\" is outside 0\" to ") && !fault.contains('.'),
        "{fault}"
    );
}

/// Hubs at 300, springs with tyres 100 N/mm behind, tyres alone 400 N/mm. 102 kg on the rear axle are 1000.3 N: the frame
/// over the axle sinks 10.003 mm, the hub and what rides on its tube 1000.3/400 = 2.501 mm. Without the tyres' rate the tube
/// stays where it is.
#[test]
fn a_low_point_on_an_axle_sinks_with_its_tyres_alone() {
    let job = set_all(
        &bare(),
        &[
            (F::Figure(TruckFigure::People), "0"),
            (F::Figure(TruckFigure::FrontSpring), "100"),
            (F::Figure(TruckFigure::RearSpring), "100"),
        ],
    );
    let job = with(&job, WayName::In, "ballast", "102", "3000");
    let job = job.with(&Edit::Truck(TruckEdit::AddPoint)).expect("it is added");
    let job = set_all(&job, &[(F::PointAlong(0), "3000"), (F::PointHeight(0), "200")]);
    let lowest = |job: &Job| evaluate(job).vehicle.ground.unwrap().sunk.unwrap().lowest.unwrap().z_m;
    near(lowest(&job), 0.2 - 0.010_003, 1e-6);
    let on_axle = set(&job, F::PointRidesOn(0), "rear axle");
    near(lowest(&on_axle), 0.2, 1e-12);
    let tyres = set(&on_axle, F::Figure(TruckFigure::RearTyreRate), "400");
    near(lowest(&tyres), 0.2 - 0.002_501, 1e-6);
    // On the other axle, which carries no more.
    near(lowest(&set(&tyres, F::PointRidesOn(0), "front axle")), 0.2, 1e-12);
    let soft = evaluate(&set(&tyres, F::Figure(TruckFigure::RearTyreRate), "60")).vehicle;
    assert!(soft.faults[0].contains("rear tyres alone"), "{:?}", soft.faults);
    assert_eq!(load(to_text(&tyres).as_bytes()).expect("it reads back"), tyres);
    assert!(
        !to_text(&job).contains("rides_on"),
        "a point on the frame is written as before"
    );
}

#[rstest]
#[case::raised(F::RaisedFront, "930", F::RaisedBy, "600")]
#[case::front_end(F::FrontOverhang, "800", F::FrontLow, "300")]
#[case::rear_end(F::RearLow, "300", F::RearOverhang, "900")]
#[case::after(F::FrontAfter, "900", F::RearAfter, "600")]
#[case::springs(F::Figure(TruckFigure::RearSpring), "90", F::Figure(TruckFigure::FrontSpring), "90")]
#[case::plate(F::FrontRating, "1000", F::RearRating, "1000")]
#[case::tyres(F::RearTyre, "100", F::FrontTyre, "100")]
fn half_a_pair_is_told_with_how_to_mend_it(
    #[case] one: F,
    #[case] text: &str,
    #[case] other: F,
    #[case] other_text: &str,
) {
    let half = set(&bare(), one, text);
    let [one, other_name] = [one, other].map(|field| Field::OfTruck(field).label());
    let words = format!("{one} is entered and {other_name} is not");
    let evaluation = evaluate(&half);
    let told = evaluation.findings.iter().find(|f| f.words.starts_with(&words));
    let told = told.unwrap_or_else(|| panic!("{words}"));
    assert!(
        told.fix.contains(other_name) && told.subject == Subject::Truck,
        "{told:?}"
    );
    assert_eq!(evaluate(&set(&half, other, other_text)).vehicle.halves, []);
    assert_eq!(evaluate(&bare()).vehicle.halves, []);
}

#[test]
fn half_a_low_point_is_told() {
    let job = bare().with(&Edit::Truck(TruckEdit::AddPoint)).expect("it is added");
    let job = set(&job, F::PointHeight(0), "200");
    assert!(says(
        &evaluate(&job),
        Grave::Caution,
        "how far it is behind the front axle is not entered"
    ));
    assert_eq!(evaluate(&set(&job, F::PointAlong(0), "1000")).vehicle.halves, []);
}

/// The wheels rest on the tracks and on how far off the middle things are.
#[test]
fn wheels_that_rest_on_what_nobody_entered_are_marked() {
    assert!(axles(&worked()).wheel_words().contains("front left ~410, right ~410"));
    let tracks = set_all(&worked(), &[(F::FrontTrack, "1500"), (F::RearTrack, "1500")]);
    assert!(
        axles(&tracks).wheels_assumed,
        "nobody entered how far right the motor is"
    );
    let y = |i| F::ComponentAt(i, geometry::Axis::Y);
    let placed = (0..4).fold(tracks, |job, i| set(&job, y(i), "0"));
    assert!(!axles(&placed).wheels_assumed);
    assert!(
        axles(&placed)
            .wheel_words()
            .starts_with("front left 410, right 410, rear left 280, right 280 kg")
    );
}

/// A crew of 160 kg at 1200 and tools of 200 kg at 3300, alone and together, on the worked truck without anybody aboard:
/// the crew puts 160 x 1200/3000 = 64 kg behind and 96 in front, the tools 220 behind and -20 in front.
#[test]
fn each_set_of_loads_is_told_by_itself_and_the_worst_governs() {
    let job = set(&worked(), F::Figure(TruckFigure::People), "0");
    let job = (0..2).fold(job, |job, _| {
        job.with(&Edit::Truck(TruckEdit::AddCarried)).expect("it is added")
    });
    let half = evaluate(&job);
    assert!(says(
        &half,
        Grave::Caution,
        "load 1 does not count for the axle loads: its mass is not entered"
    ));
    let job = set_all(
        &job,
        &[
            (F::CarriedName(0), "crew"),
            (F::CarriedSets(0), "crew, full"),
            (F::CarriedMass(0), "160"),
            (F::CarriedAlong(0), "1200"),
            (F::CarriedName(1), "tools"),
            (F::CarriedSets(1), "full , tools alone"),
            (F::CarriedMass(1), "200"),
            (F::CarriedAlong(1), "3300"),
        ],
    );
    let axles = axles(&job);
    let told: Vec<String> = axles.stated.iter().map(|s| s.aboard.words()).collect();
    assert_eq!(told, ["nobody aboard", "crew", "full", "tools alone"]);
    let loads = |at: usize| [axles.stated[at].loads.front_kg, axles.stated[at].loads.rear_kg];
    let expected = [
        [820.667, 559.333],
        [916.667, 623.333],
        [896.667, 843.333],
        [800.667, 779.333],
    ];
    for (at, expected) in expected.into_iter().enumerate() {
        near(loads(at)[0], expected[0], 0.001);
        near(loads(at)[1], expected[1], 0.001);
    }
    // 650 kg allowed behind: full is over by 193, and least is left for payload with it.
    assert_eq!(axles.weakest.as_ref().unwrap().1, Aboard::Set("full".to_owned()));
    let (payload, with) = axles.payload.as_ref().unwrap();
    assert_eq!(*with, Aboard::Set("full".to_owned()));
    near(payload.left_kg, (650.0 - 843.333) / 0.92, 0.001);
    // The front is lightest of the whole with the tools alone: 800.667 of 1580.
    assert_eq!(axles.front_share.aboard, Aboard::Set("tools alone".to_owned()));
    near(axles.front_share.is, 0.506_751, 1e-6);
    let heaviest = evaluate(&job)
        .truck_facts()
        .into_iter()
        .find(|f| f.name == "most on the axles");
    let heaviest = heaviest.expect("sets are entered").text;
    assert!(
        heaviest.contains("front 917 kg") && heaviest.contains("rear 843 kg"),
        "{heaviest}"
    );
    assert_eq!(load(to_text(&job).as_bytes()).expect("it reads back"), job);
}

/// The rear sinks most with the tools, the front with the crew: each angle is that of its worst set.
#[test]
fn clearance_is_told_for_each_set_and_the_least_of_all() {
    let job = set_all(
        &bare(),
        &[
            (F::Figure(TruckFigure::People), "0"),
            (F::FrontOverhang, "800"),
            (F::FrontLow, "300"),
            (F::RearOverhang, "1000"),
            (F::RearLow, "400"),
            (F::Figure(TruckFigure::FrontSpring), "60"),
            (F::Figure(TruckFigure::RearSpring), "60"),
        ],
    );
    let job = (0..2).fold(job, |job, _| {
        job.with(&Edit::Truck(TruckEdit::AddCarried)).expect("it is added")
    });
    let job = set_all(
        &job,
        &[
            (F::CarriedSets(0), "crew"),
            (F::CarriedMass(0), "160"),
            (F::CarriedAlong(0), "1200"),
            (F::CarriedSets(1), "tools"),
            (F::CarriedMass(1), "200"),
            (F::CarriedAlong(1), "3300"),
        ],
    );
    let ground = evaluate(&job).vehicle.ground.unwrap();
    let [none, crew, tools] = &ground.sunk_with[..] else {
        panic!("nobody and two sets")
    };
    // 96 kg on the front axle: 9.80665 x 96 / 60.
    near(crew.drop.front_m, 0.015_691, 1e-6);
    near(tools.drop.rear_m, 0.035_958, 1e-6);
    let of = |figures: &job::GroundFigures| {
        [&figures.approach, &figures.departure].map(|corner| corner.as_ref().unwrap().degrees)
    };
    let sunk = of(ground.sunk.as_ref().unwrap());
    near(sunk[0], of(&crew.figures)[0], 1e-12);
    near(sunk[1], of(&tools.figures)[1], 1e-12);
    assert!(sunk[0] < of(&none.figures)[0] && sunk[1] < of(&crew.figures)[1]);
}

/// A box whose longer side lies across the truck is held at its left and right ends; corners and ends carry all of it, by
/// moments about the other end.
#[rstest]
fn a_box_is_held_at_the_ends_of_its_longer_side(
    #[values("orchard-flatbed", "harbour-tender", "mountain-rescue")] name: &str,
) {
    let evaluation = evaluate(&built_in(name));
    for lift in &evaluation.vehicle.lifts {
        let body = evaluation.battery_box(lift.battery_box).unwrap().body.unwrap();
        let size_m = [geometry::Axis::X, geometry::Axis::Y].map(|axis| body.size()[axis].as_mm() / 1_000.0);
        let along = usize::from(size_m[1] > size_m[0]);
        assert_eq!(
            lift.end_names(),
            [["front", "rear"], ["left", "right"]][along],
            "{}",
            lift.name
        );
        near(
            lift.ends_kg[1],
            lift.loaded_kg * lift.centre_m[along] / size_m[along],
            1e-9,
        );
        let [front_left, front_right, rear_left, rear_right] = lift.corners_kg;
        near(front_left + front_right + rear_left + rear_right, lift.loaded_kg, 1e-9);
        near(
            rear_left + rear_right,
            lift.loaded_kg * lift.centre_m[0] / size_m[0],
            1e-9,
        );
        near(
            front_right + rear_right,
            lift.loaded_kg * lift.centre_m[1] / size_m[1],
            1e-9,
        );
        near(
            lift.off_middle_m[along],
            lift.centre_m[along] - size_m[along] / 2.0,
            1e-12,
        );
    }
}

#[test]
fn boxes_that_lie_across_are_held_left_and_right() {
    let lifts = evaluate(&built_in("mountain-rescue")).vehicle.lifts;
    assert!(lifts.iter().all(|lift| lift.held_along == geometry::Axis::Y));
}

/// What comes out weighs less without a place too; what has no mass cannot.
#[test]
fn the_road_counts_a_component_of_known_mass_without_its_place() {
    let mut job = built_in("orchard-flatbed");
    let on_road = |job: &Job| evaluate(job).road.driven.unwrap().mass_kg;
    let whole = on_road(&job);
    let of = job
        .vehicle
        .components
        .iter()
        .position(|c| c.way == job::WayName::Out && c.mass_kg.is_some() && c.at[0].is_some())
        .expect("something comes out");
    job.vehicle.components[of].at[0] = None;
    near(on_road(&job), whole, 1e-6);
    let kg = job.vehicle.components[of].mass_kg.take().unwrap().kg();
    near(on_road(&job), whole + kg, 1e-6);
}

/// What the scale read after the work has all of it: 830 and 640 kg, and one person of 68 kg; no box or engine on top.
#[test]
fn the_road_counts_nothing_twice_once_it_was_weighed_again() {
    let mut job = set_all(
        &built_in("orchard-flatbed"),
        &[(F::FrontAfter, "830 kg"), (F::RearAfter, "640 kg")],
    );
    let on_road = |job: &Job| evaluate(job).road.driven.unwrap();
    let whole = on_road(&job).mass_kg;
    let people = axles(&job).stated[1].loads.total_kg() - 1470.0;
    near(whole, 1470.0 + people, 1e-6);
    job.cavities[0].place = None;
    let out = job
        .vehicle
        .components
        .iter()
        .position(|c| c.way == WayName::Out && c.mass_kg.is_some());
    job.vehicle.components[out.expect("something comes out")].at[0] = None;
    let found = on_road(&job);
    near(found.mass_kg, whole, 1e-6);
    assert!(!found.mass_from.contains("without a place"), "{}", found.mass_from);
    let evaluation = evaluate(&job);
    assert_eq!(evaluation.vehicle.uncounted.len(), 2);
    assert!(!says(&evaluation, Grave::Caution, "only for the road"));
}

/// Front read as one axle, rear wheel by wheel, each reading off by 20: 20 in front, 20 sqrt 2 = 28.3 behind.
#[test]
fn each_axle_is_told_with_what_it_may_be_off_itself() {
    use truck::mass::wheel::Wheel;
    let job = set_all(
        &worked(),
        &[
            (F::RearBefore, ""),
            (F::WheelBefore(Wheel::RearLeft), "310"),
            (F::WheelBefore(Wheel::RearRight), "290"),
            (F::ReadingOff, "20"),
        ],
    );
    let words = axles(&job).before_words();
    assert!(words.ends_with(": front +-20 kg, rear +-29 kg"), "{words}");
    let words = "the front axle may be off by 20 kg (44 lb), the rear one by 29 kg (64 lb)";
    let calculated = set(&job, F::BeforeBy, "calculated");
    assert!(says(&evaluate(&calculated), Grave::Note, words));
    let even = set_all(&worked(), &[(F::ReadingOff, "20"), (F::BeforeBy, "weighbridge")]);
    let words = axles(&even).before_words();
    assert!(words.ends_with(": each axle +-20 kg"), "{words}");
}

/// The front wheels were read after the work, the rear as one axle: the front left one is no estimate.
#[test]
fn wheels_of_one_axle_that_were_weighed_are_told_as_weighed() {
    use truck::mass::wheel::Wheel;
    let job = set_all(
        &worked(),
        &[
            (F::WheelAfter(Wheel::FrontLeft), "480"),
            (F::WheelAfter(Wheel::FrontRight), "345"),
            (F::RearAfter, "565"),
            (F::FrontTyre, "450 kg"),
        ],
    );
    let found = axles(&job);
    assert_eq!(found.wheels_read, [true, false]);
    assert!(found.is_weighed && !found.wheels_weighed());
    assert!(
        found.wheels_by.starts_with("front read off a scale; rear: "),
        "{}",
        found.wheels_by
    );
    let (wheel, margin, stated) = found
        .stated
        .iter()
        .find_map(|stated| {
            let (wheel, margin) = stated.of_wheels.iter().find(|(_, margin)| !margin.within())?;
            Some((*wheel, margin, stated))
        })
        .expect("it is over");
    assert_eq!(wheel, Wheel::FrontLeft);
    let words = found.wheel_over_words(wheel, margin, stated);
    assert!(
        words.starts_with("front left wheel: 480 kg (1058 lb) of the ") && !words.contains("estimate"),
        "{words}"
    );
}

/// An axle that its wheels stand for is told by them: its own field is empty.
#[test]
fn half_a_pair_of_axles_names_the_wheels_that_were_entered() {
    use truck::mass::wheel::Wheel;
    let job = set_all(
        &bare(),
        &[
            (F::WheelAfter(Wheel::FrontLeft), "425"),
            (F::WheelAfter(Wheel::FrontRight), "400"),
        ],
    );
    let label = |field| Field::OfTruck(field).label();
    let wheels = [Wheel::FrontLeft, Wheel::FrontRight].map(|wheel| label(F::WheelAfter(wheel)));
    let (told, open) = (wheels.join(" and "), label(F::RearAfter));
    let halves = evaluate(&job).vehicle.halves;
    let half = halves
        .iter()
        .find(|half| half.words.contains(open))
        .expect("it is told");
    assert!(
        half.words
            .starts_with(&format!("{told} are entered and {open} is not: ")),
        "{half:?}"
    );
    assert_eq!(half.fix, format!("enter {open} too on the Truck page, or clear {told}"));
}

/// Hinge 3000 behind the front axle and 900 up, floor from 1000 to 3400, 880 to 940 up, 50 degrees. Its front edge comes to 900 +
/// 2000 sin 50 + 40 cos 50 = 2457.80; its tail to 20 cos 50 + 400 sin 50 = 319.27 below the hinge, 580.73 up, 299.27 lower than
/// at rest. Over a box's rear edge, s ahead of the hinge, the underside is (s sin 50 - 20) / cos 50 above the hinge; it is
/// z above it from atan(z/s) + asin(20 / hypot(s, z)) on.
#[test]
fn the_bed_at_its_stop_is_told_as_worked_out_by_hand() {
    let part = |job: &Job, field, text: &str| {
        let edit = Edit::Set {
            field: Field::Way(field),
            text: text.to_owned(),
        };
        job.with(&edit).unwrap()
    };
    let job = built_in("orchard-flatbed");
    assert_eq!(evaluate(&job).vehicle.bed, None);
    let job = [
        (job::WayField::HingeX, "3000 mm"),
        (job::WayField::HingeZ, "900 mm"),
        (job::WayField::Tilt, "50"),
    ]
    .into_iter()
    .fold(job, |job, (field, text)| part(&job, field, text));
    let job = job.with(&Edit::Bed(job::BedEdit::Add)).unwrap();
    let job = [
        (job::WayField::PartFrom(0), "1000 mm"),
        (job::WayField::PartTo(0), "3400 mm"),
        (job::WayField::PartLowest(0), "880 mm"),
        (job::WayField::PartHighest(0), "940 mm"),
    ]
    .into_iter()
    .fold(job, |job, (field, text)| part(&job, field, text));
    let evaluation = evaluate(&job);
    let bed = evaluation.vehicle.bed.as_ref().unwrap();
    near(bed.reaches.as_mm(), 2457.80, 0.01);
    let tail = bed.tail.as_ref().unwrap();
    near(tail.drop.as_mm(), 299.27, 0.01);
    near(tail.height.as_mm(), 580.73, 0.01);
    assert_eq!(bed.boxes.len(), 2);
    for (room, battery_box) in bed.boxes.iter().zip(&evaluation.boxes) {
        let place = job.cavity(battery_box.cavity).unwrap().place.as_ref().unwrap();
        let solids = || battery_box.solids.iter().chain(&battery_box.added.brackets);
        let far = |face, axis: usize| {
            place[axis].value().as_mm() + solids().map(|s| s.face(face).as_mm()).fold(f64::MIN, f64::max)
        };
        let bottom = place[2].value().as_mm()
            + solids()
                .map(|s| s.face(geometry::Face::Bottom).as_mm())
                .fold(f64::MAX, f64::min);
        let (s, top) = (3000.0 - far(geometry::Face::Rear, 0), far(geometry::Face::Top, 2));
        let turn = 50.0_f64.to_radians();
        near(
            room.rises.unwrap().as_mm(),
            900.0 + (s * turn.sin() - 20.0) / turn.cos() - top,
            0.001,
        );
        let z = 2.0 * top - bottom - 900.0;
        let least = (z / s).atan() + (20.0 / s.hypot(z)).asin();
        near(room.least_deg.unwrap(), least.to_degrees().max(0.0), 1e-6);
    }
    let words = evaluation.bed_words().unwrap().join("; ");
    assert!(
        words.contains("have that head-room") && words.contains("its tail"),
        "{words}"
    );
    assert!(evaluation.truck_facts().iter().any(|fact| fact.name == "bed, tilted"));
}

/// 100 kg that settle the front by 10 mm and 200 kg that settle the rear by 20 are 98.0665 N/mm each: 100 kg of ballast over the
/// rear axle sink it 10 mm.
#[test]
fn sinking_is_told_by_heights_under_a_load() {
    let job = set_all(
        &bare(),
        &[
            (F::FrameHeight, "300"),
            (F::Figure(TruckFigure::People), "0"),
            (F::FrontSettled, "100 kg; 600; 590"),
        ],
    );
    let job = with(&job, WayName::In, "ballast", "100", "3000");
    let one = evaluate(&job).vehicle;
    assert_eq!(one.ground.unwrap().sunk_with, []);
    assert_eq!(one.halves.len(), 1);
    assert!(
        one.halves[0]
            .words
            .starts_with("front springs, by heights is entered and rear springs is not"),
        "{:?}",
        one.halves
    );
    let both = set(&job, F::RearSettled, "200 kg; 620; 600");
    let found = evaluate(&both).vehicle;
    assert_eq!(found.halves, []);
    near(found.ground.unwrap().sunk_with[0].drop.rear_m, 0.010, 1e-9);
    // A rate that was entered wins.
    let rate = set(&both, F::Figure(TruckFigure::RearSpring), "49.033 N/mm");
    near(
        evaluate(&rate).vehicle.ground.unwrap().sunk_with[0].drop.rear_m,
        0.020,
        1e-6,
    );
}

/// 560 lb/in are 560 x 4.4482216152605 / 25.4 = 98.071 N/mm.
#[test]
fn a_spring_rate_is_taken_in_pounds_an_inch() {
    let job = built_in("orchard-flatbed");
    let field = F::Figure(TruckFigure::RearSpring);
    for text in ["560 lb/in", "560 lbf/in", "560lbs/in"] {
        let job = set(&job, field, text);
        let figure = job.vehicle.figures.get(TruckFigure::RearSpring);
        assert_eq!(figure, Some(98.071), "{text}");
        let (_, shown) = job::field::show(&job, &[Field::OfTruck(field)]).pop().unwrap();
        assert_eq!(
            (shown.text.as_str(), shown.beside.as_str()),
            ("560 lb/in", "98.071 N/mm")
        );
    }
    // Told in what was typed: 1 N/mm is 5.71 lb/in and 2000 are 11420.29, so whole tenths from 5.8 to 11420.2 are in range.
    let typed = |text: &str| Edit::Set {
        field: Field::OfTruck(field),
        text: text.to_owned(),
    };
    let refused = job.with(&typed("12000 lb/in")).unwrap_err();
    assert!(
        refused.to_string().contains("is not from 5.8 to 11420.2 lb/in"),
        "{refused}"
    );
    assert_eq!(refused.mend(), "type a number from 5.8 to 11420.2 lb/in");
    for (text, is_taken) in [
        ("5.7 lb/in", false),
        ("5.8 lb/in", true),
        ("11420.2 lb/in", true),
        ("11420.3 lb/in", false),
    ] {
        assert_eq!(job.with(&typed(text)).is_ok(), is_taken, "{text}");
    }
    let refused = job.with(&typed("12000")).unwrap_err();
    assert!(refused.to_string().contains("is not from 1 to 2000 N/mm"), "{refused}");
    // As typed in N/mm it stays so, with pounds an inch beside it: 100 x 25.4 / 4.4482216 = 571.0.
    let job = set(&job, field, "100");
    let (_, shown) = job::field::show(&job, &[Field::OfTruck(field)]).pop().unwrap();
    assert_eq!((shown.text.as_str(), shown.beside.as_str()), ("100 N/mm", "571 lb/in"));
}
