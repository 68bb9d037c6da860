//! Fittings in the walls of boxes: holes in parts, room taken, and what is refused.

mod common;

use enclosure::Wall;
use geometry::{Axis, Face};
use job::{BoxResult, Edit, Evaluation, FaceName, Field, Figure, Finding, Grave, Id, Job, Len, Sum, evaluate};
use rstest::rstest;
use tape::Length;

fn set(job: &Job, field: Field, text: &str) -> Job {
    let text = text.to_owned();
    job.with(&Edit::Set { field, text }).expect("the edit fits the job")
}

/// The orchard flatbed with a gland in its left box, and the gland's number.
fn with_gland() -> (Job, Id) {
    let job = common::built_in("orchard-flatbed");
    let middle = left(&evaluate(&job)).inside.expect("it wraps modules").size();
    let at = [Axis::Y, Axis::Z].map(|axis| middle[axis].half_down());
    let into = job.boxes[0].id;
    let job = job.with(&Edit::AddFitting { into, at }).expect("there is a box");
    let id = job.boxes[0].fittings[0].id;
    (job, id)
}

fn left(evaluation: &Evaluation) -> &BoxResult {
    &evaluation.boxes[0]
}

#[test]
fn a_gland_is_a_hole_in_its_wall_and_takes_room_on_both_sides() {
    let bare = common::built_in("orchard-flatbed");
    let before = evaluate(&bare);
    let (job, id) = with_gland();
    let job = set(
        &set(&job, Field::FittingWall(id), "left"),
        Field::FittingAlong(id),
        "200 mm",
    );
    let after = evaluate(&job);
    let gland = &left(&after).fittings[0];
    assert_eq!(gland.fault, None);
    let parts = &left(&after).built.as_ref().unwrap().parts;
    let pierced: Vec<_> = parts
        .iter()
        .filter(|p| p.wall == Some(Wall::Left) && !p.role.is_liner())
        .collect();
    assert_eq!(pierced.len(), 1);
    assert_eq!(pierced[0].holes[0].diameter, Length::tenths_mm(405));
    // It stands 60 mm out of the coated wall, 35 mm more than the flange: the box has that much less room to its left.
    let to_left = |e: &Evaluation| left(e).around.as_ref().unwrap().faces[Face::Left.index()].distance;
    assert_eq!(to_left(&after), to_left(&before) - Length::mm(35));
    // 15 mm reach in from the sheet; the liner takes 1.5 of them.
    let inside = gland.inside.unwrap().size();
    assert_eq!(inside.0[1], Length::tenths_mm(135));
    // The lines of the cut list add up to as many pieces as before, the pierced side with a mark of its own.
    let pieces = |e: &Evaluation| e.cut.list.tables.iter().map(|t| t.pieces).sum::<u32>();
    assert_eq!(pieces(&before), pieces(&after));
    let names: Vec<&str> = after
        .cut
        .list
        .tables
        .iter()
        .flat_map(|t| &t.lines)
        .map(|l| l.name.as_str())
        .collect();
    assert!(names.contains(&"long side, left"), "{names:?}");
    assert!(names.contains(&"long side, right"), "{names:?}");
}

#[test]
fn a_fitting_off_its_wall_is_left_out_and_said() {
    let (job, id) = with_gland();
    let evaluation = evaluate(&set(&job, Field::FittingUp(id), "1 mm"));
    let gland = &left(&evaluation).fittings[0];
    assert!(gland.fault.is_some());
    assert_eq!((gland.outside, gland.inside), (None, None));
    assert!(left(&evaluation).built.is_some());
    let found = evaluation
        .findings
        .iter()
        .find(|f| f.words.starts_with("cable gland, front"))
        .unwrap();
    assert_eq!(found.grave, Grave::Stop);
    assert!(found.words.contains("must have its middle"), "{}", found.words);
}

#[test]
fn a_module_in_its_way_is_a_stop() {
    let (job, id) = with_gland();
    // The front of the box is its bay; behind the left wall stand modules.
    let job = set(&job, Field::FittingWall(id), "left");
    let free = evaluate(&set(&job, Field::FittingInward(id), "0 mm"));
    assert!(left(&free).fittings[0].meets.is_empty());
    let deep = evaluate(&set(&job, Field::FittingInward(id), "80 mm"));
    assert!(!left(&deep).fittings[0].meets.is_empty());
    let found = deep.findings.iter().find(|f| f.words.contains("it reaches into M"));
    assert_eq!(found.map(|f| f.grave), Some(Grave::Stop));
}

#[test]
fn fittings_are_kept_in_the_file_and_when_a_layout_is_taken_over_and_can_be_removed() {
    let (job, id) = with_gland();
    let read = job::load(job::to_text(&job).as_bytes()).unwrap();
    assert_eq!(read.boxes[0].fittings, job.boxes[0].fittings);
    let without = job.with(&Edit::RemoveFitting(id)).unwrap();
    assert!(without.boxes[0].fittings.is_empty());
    assert!(without.with(&Edit::RemoveFitting(id)).is_err());
}

fn figure(job: &Job, figure: Figure, text: &str) -> Job {
    set(job, Field::Figure(figure), text)
}

fn said<'a>(evaluation: &'a Evaluation, words: &str) -> Option<&'a Finding> {
    evaluation.findings.iter().find(|f| f.words.contains(words))
}

/// The gland's box with what its fitting is changed to.
fn with(what: &str, wall: &str) -> (Job, Id) {
    let (job, id) = with_gland();
    let job = set(&job, Field::FittingWhat(id), what);
    (set(&job, Field::FittingWall(id), wall), id)
}

/// 30 mm of bare metal round an M8 stud: pi / 4 x 900 = 706.9 mm2 less to coat.
#[test]
fn an_earth_stud_is_named_by_its_thread_and_keeps_its_place_bare() {
    let bare = common::built_in("orchard-flatbed");
    let before = evaluate(&bare);
    assert_eq!(said(&before, "no earth stud").map(|f| f.grave), Some(Grave::Note));
    assert!(
        said(&before, "no earth stud")
            .unwrap()
            .source
            .contains("see the local code")
    );
    let (job, id) = with("earth stud", "front");
    let after = evaluate(&job);
    let stud = &left(&after).fittings[0];
    assert_eq!(
        (stud.label.as_str(), stud.bare()),
        ("M8 earth stud, front", Some(Length::mm(30)))
    );
    let area = |e: &Evaluation| left(e).built.as_ref().unwrap().coat_area.as_mm2();
    assert!((area(&before) - area(&after) - 706.858).abs() < 0.01);
    // The other box still wants one.
    assert!(!said(&after, "no earth stud").unwrap().name.contains(&left(&after).name));
    let larger = evaluate(&set(&job, Field::FittingHole(id), "11 mm"));
    assert_eq!(left(&larger).fittings[0].label, "M10 earth stud, front");
    let purposes = left(&after)
        .built
        .as_ref()
        .unwrap()
        .parts
        .iter()
        .flat_map(|p| &p.holes)
        .map(|h| h.purpose);
    assert!(
        purposes
            .into_iter()
            .any(|purpose| purpose == enclosure::Purpose::EarthStud)
    );
}

#[test]
fn every_box_is_reminded_of_breather_and_drain_also_without_any_fitting() {
    let bare = evaluate(&common::built_in("orchard-flatbed"));
    for words in ["no breather", "no drain", "a way out of its own"] {
        let found = said(&bare, words).unwrap();
        let is_breather = words == "no breather";
        let grave = if is_breather { Grave::Caution } else { Grave::Note };
        assert_eq!(found.grave, grave, "{words}");
        assert!(found.name.contains("left box, right box"), "{}", found.name);
    }
    // One figure for two boxes is the larger one's, and says so.
    let air = &said(&bare, "no breather").unwrap().words;
    assert!(air.contains(" l of air round the modules in left box, "), "{air}");
    let (job, _) = with("breather", "front");
    let found = evaluate(&job);
    let found = said(&found, "no breather").unwrap();
    assert_eq!(found.name, "right box");
    assert!(found.words.contains(" l of air round the modules, "), "{}", found.words);
}

#[test]
fn a_drain_high_up_a_wall_leaves_water_and_one_in_the_floor_none() {
    let (job, id) = with("drain", "front");
    // A hole of 20.5 mm, its middle 60 mm up: 60 - 10.25 = 49.75 mm.
    let high = evaluate(&set(&job, Field::FittingUp(id), "60 mm"));
    let found = said(&high, "of water stay below its hole").unwrap();
    assert!(found.words.contains("drain, front: "), "{}", found.words);
    let floor = evaluate(&set(&job, Field::FittingWall(id), "bottom"));
    assert!(said(&floor, "of water stay below its hole").is_none());
}

/// The box stands in a cavity that has its place in the truck, so a depth above the ground tells.
#[test]
fn a_breather_below_the_wading_line_is_a_caution() {
    let (job, _) = with("breather", "front");
    let up = left(&evaluate(&job)).fittings[0].middle_up.unwrap();
    let place = job
        .cavities
        .iter()
        .find(|c| c.id == job.boxes[0].cavity)
        .unwrap()
        .place
        .as_ref();
    let Some(place) = place else {
        panic!("the example's cavities have places")
    };
    let above = (up + place[2].value()).as_mm();
    let deep = evaluate(&figure(&job, Figure::Wading, &format!("{:.0}", above + 20.0)));
    assert_eq!(
        said(&deep, "breather, front: its middle is").map(|f| f.grave),
        Some(Grave::Caution)
    );
    let shallow = evaluate(&figure(&job, Figure::Wading, &format!("{:.0}", above - 20.0)));
    assert!(said(&shallow, "breather, front: its middle is").is_none());
    assert!(said(&evaluate(&job), "breather, front: its middle is").is_none());
}

/// By hand, above the ground: the underside of the box where its cavity and its body are; its lid closes at the top of the body
/// less 2 mm of lid and 4 mm of gasket squeezed.
#[test]
fn what_of_a_box_stands_in_water_is_told() {
    let job = set(&with_gland().0, Field::Gasket, "6 mm");
    let job = set(&set(&job, Field::GasketSqueezed, "4 mm"), Field::Lid, "2 mm");
    let plain = evaluate(&job);
    let place = job.cavities[0]
        .place
        .as_ref()
        .expect("the example's cavities have places");
    let body = left(&plain).body.unwrap();
    let [bottom, top] = [Face::Bottom, Face::Top].map(|face| (body.face(face) + place[2].value()).as_mm());
    let gland = (left(&plain).fittings[0].middle_up.unwrap() + place[2].value()).as_mm();
    let at = |mm: f64| evaluate(&figure(&job, Figure::Wading, &format!("{mm:.0}")));
    let of = |evaluation: &Evaluation, words: &str| said(evaluation, words).map(|f| (f.grave, f.words.clone()));
    let dry = at(bottom - 3.0);
    assert_eq!((of(&dry, "its underside"), of(&dry, "its lid closes")), (None, None));
    // Needs are rounded up.
    let deep = at(bottom + 25.4);
    let (grave, words) = of(&deep, "its underside").unwrap();
    assert!(
        grave == Grave::Note && words.contains("the lowest 1 1/16\" of the box stand in water"),
        "{words}"
    );
    assert_eq!(of(&deep, "its lid closes"), None);
    assert_eq!(of(&at(gland - 2.0), "gland, front: its middle"), None);
    assert_eq!(
        of(&at(gland + 2.0), "gland, front: its middle").unwrap().0,
        Grave::Caution
    );
    assert_eq!(of(&at(top - 6.0 - 2.0), "its lid closes"), None);
    let drowned = at(top - 6.0 + 2.0);
    assert_eq!(of(&drowned, "its lid closes").unwrap().0, Grave::Caution);
    assert_eq!(of(&drowned, "its underside"), None);
}

#[test]
fn an_ip_code_is_told_in_words_with_what_the_box_lacks() {
    let job = common::built_in("orchard-flatbed");
    assert!(said(&evaluate(&job), "dust tight").is_none());
    let job = figure(&figure(&job, Figure::IpSolids, "6"), Figure::IpWater, "7");
    let found = said(&evaluate(&job), "IP67: dust tight; 1 m for 30 min")
        .unwrap()
        .clone();
    assert_eq!(found.grave, Grave::Caution);
    assert!(
        found.words.contains("lacks a breather that stands that water"),
        "{}",
        found.words
    );
    assert!(found.source.contains("IEC 60529"), "{}", found.source);
    let jets = figure(&job, Figure::IpWater, "6");
    assert_eq!(said(&evaluate(&jets), "IP66").map(|f| f.grave), Some(Grave::Note));
    let bare = evaluate(&set(&jets, Field::Gasket, "0 mm"));
    assert!(said(&bare, "lacks a gasket under the lid").is_some());
}

/// Cables of two boxes in one pack: each box has its ends, and a gland is proposed for each that hits nothing.
#[test]
fn glands_are_proposed_where_cables_leave_and_hit_nothing() {
    let job = common::built_in("orchard-flatbed");
    let before = evaluate(&job);
    let proposals = job::glands::propose(&job, &before);
    let exits: usize = before.exits.len();
    assert!(exits > 0, "its wiring has cables");
    let proposed: usize = proposals.iter().map(|p| p.glands.len() + p.without.len()).sum();
    assert_eq!(proposed, exits);
    assert!(said(&before, "no gland is let in").is_some());
    let after = proposals
        .iter()
        .filter_map(job::glands::Proposal::edit)
        .fold(job.clone(), |job, edit| job.with(&edit).expect("it can be let in"));
    let evaluation = evaluate(&after);
    let mut glands = 0;
    for battery_box in &evaluation.boxes {
        for fitting in &battery_box.fittings {
            glands += 1;
            assert_eq!(fitting.fault, None, "{}", fitting.label);
            assert!(fitting.meets.is_empty(), "{}: {:?}", fitting.label, fitting.meets);
            let inside = fitting.inside.unwrap();
            let rooms = battery_box.modules.iter().flat_map(|m| &m.service);
            assert!(
                rooms.into_iter().all(|room| !room.overlaps(&inside)),
                "{}",
                fitting.label
            );
        }
    }
    let without: usize = proposals.iter().map(|p| p.without.len()).sum();
    assert_eq!(glands + without, exits);
    if without == 0 {
        assert!(said(&evaluation, "no gland is let in").is_none());
    }
    // Nothing is proposed twice, and one step takes a box's glands back.
    let again = job::glands::propose(&after, &evaluation);
    assert!(again.iter().all(|p| p.glands.is_empty()));
    let edit = proposals[0].edit().unwrap();
    let mut history = job::History::new(job.clone());
    history.apply(edit).unwrap();
    history.undo();
    assert_eq!(*history.job(), job);
}

/// Two boxes behind each other in one cavity, their bays facing each other: each is free alone, and the glands of one must not
/// run into those of the other.
#[test]
fn glands_of_facing_boxes_keep_clear_of_each_other() {
    let mut job = common::built_in("orchard-flatbed");
    let mm = |mm: i64| Len::exactly(Length::mm(mm), job.units.units());
    let [at, other] = [[60, 50, 20], [1265, 50, 20]].map(|at| at.map(mm));
    job.cavities[0].readings = Vec::new();
    job.cavities[0].keep_outs = Vec::new();
    let cavity = job.cavities[0].id;
    for (line, text) in [("length", "2600 mm"), ("width", "430 mm"), ("height", "320 mm")] {
        let line = line.parse().expect("a line");
        let text = text.to_owned();
        job = job
            .with(&job::Edit::AddReading { cavity, line, text })
            .expect("a reading");
    }
    for (battery_box, (at, bay)) in job
        .boxes
        .iter_mut()
        .zip([(at, FaceName::Rear), (other, FaceName::Front)])
    {
        (battery_box.cavity, battery_box.at, battery_box.bay) = (cavity, at, Some(bay));
    }
    let before = evaluate(&job);
    let proposals = job::glands::propose(&job, &before);
    let walls = proposals
        .iter()
        .flat_map(|p| p.glands.iter().map(|g| g.fitting.wall.name()));
    assert_eq!(walls.collect::<Vec<_>>(), ["rear", "rear", "front", "front"]);
    let after = proposals
        .iter()
        .filter_map(job::glands::Proposal::edit)
        .fold(job.clone(), |job, edit| job.with(&edit).expect("it can be let in"));
    let stops = |evaluation: &job::Evaluation| evaluation.findings.iter().filter(|f| f.grave == Grave::Stop).count();
    assert_eq!(stops(&evaluate(&after)), stops(&before));
    assert!(proposals.iter().flat_map(|p| &p.glands).all(|gland| gland.keeps_margin));
}

/// Where every gland says that it keeps the margin outside, no face of the box has come short of it.
#[rstest]
fn a_proposed_gland_keeps_the_margin_outside_or_says_that_it_does_not(
    #[values("orchard-flatbed", "mountain-rescue", "harbour-tender")] name: &str,
) {
    let job = common::built_in(name);
    let before = evaluate(&job);
    let proposals = job::glands::propose(&job, &before);
    let after = proposals
        .iter()
        .filter_map(job::glands::Proposal::edit)
        .fold(job.clone(), |job, edit| job.with(&edit).expect("it can be let in"));
    let evaluation = evaluate(&after);
    let is_short = |evaluation: &Evaluation, id| {
        let found = evaluation.boxes.iter().find(|b| b.id == id).expect("it is there");
        let around = found.around.as_ref().expect("it stands in a cavity");
        around.faces.iter().filter(|clearance| clearance.is_short()).count()
    };
    for proposal in &proposals {
        let id = proposal.battery_box;
        let [was, is] = [&before, &evaluation].map(|evaluation| is_short(evaluation, id));
        let narrow = proposal.glands.iter().filter(|gland| !gland.keeps_margin).count();
        assert!(is <= was || narrow > 0, "{}: {was} to {is} faces short", proposal.name);
    }
}

/// The cable stands straight out for its bend: 4 times its outside beyond the gland.
#[test]
fn a_thicker_cable_asks_for_a_larger_gland_that_stands_out_more() {
    let job = common::built_in("orchard-flatbed");
    let of = |outside: &str| {
        let job = figure(&job, Figure::CableOutside, outside);
        job::glands::propose(&job, &evaluate(&job))
    };
    let thin = of("12");
    let gland = &thin[0].glands[0];
    assert_eq!(
        (gland.size, gland.fitting.out.as_ref().unwrap().value()),
        ("M20", Length::mm(28 + 48))
    );
    let thick = of("60");
    assert!(
        thick[0].glands.is_empty()
            && thick[0].without[0]
                .1
                .contains("no usual gland seals on 2.362\" (60.0 mm)")
    );
}

/// 90 kg of modules, 28.647 kg of steel as solid sheet, 2.375 kg of a fourth millimetre of floor (903 x 335), 2.475 kg of
/// liner. Less 36 holes of 7 mm in 2 mm of lid and 3 mm of flange, 38.48 mm2 each, 54.4 g in all, and an eye's of 13 mm in
/// the lid, 2.1 g: 123.440 kg. With the plate under the eye, 90.8 g, it is 123.531 kg. Four eyes share as two at 45 degrees; one hangs
/// upright with all of it.
#[test]
fn a_sling_has_as_many_legs_as_there_are_eyes() {
    let bare = common::built_in("orchard-flatbed");
    let lift = |job: &Job| left(&evaluate(job)).strength.as_ref().unwrap().lift.unwrap();
    assert!(
        lift(&bare)
            .words(tape::Units::Millimetre)
            .contains("no lifting eye is let in"),
        "{}",
        lift(&bare).words(tape::Units::Millimetre)
    );
    let (one, id) = with("lifting eye", "top");
    let hangs = lift(&one);
    assert_eq!((hangs.legs, hangs.carrying), (1, 1));
    assert!(
        (hangs.leg_n - 123.531 * 9.806_65).abs() < 0.05 && hangs.words(tape::Units::Millimetre).contains("hangs askew")
    );
    let strength = left(&evaluate(&figure(&one, Figure::EyeRated, "100")))
        .strength
        .clone()
        .unwrap();
    let eye = strength.check(Sum::Eye).unwrap();
    // 1.3 times what it pulls at rest.
    assert!((eye.of.share - 1.3 * 1.235_31).abs() < 1e-4, "{}", eye.of.share);
    assert!(strength.check(Sum::EyePlate).is_some());
    assert!(
        left(&evaluate(&one))
            .strength
            .as_ref()
            .unwrap()
            .check(Sum::Eye)
            .is_none(),
        "no rating, no sum"
    );
    let into = one.boxes[0].id;
    let first = one.fitting(id).unwrap().clone();
    let along = |mm| job::WallFitting {
        along: job::Len::exactly(Length::mm(mm), tape::Units::Millimetre),
        ..first.clone()
    };
    let fittings = vec![along(100), along(200), along(300)];
    let four = one.with(&Edit::LetIn { into, fittings }).unwrap();
    let hangs = lift(&four);
    assert_eq!((hangs.eyes, hangs.legs, hangs.carrying), (4, 4, 2));
}

/// Two eyes in each long wall, 897 mm inside the steel, bolted on at the same height. The centre of mass is about 505 mm behind the
/// front wall: with eyes at 100 and 800 mm three eyes at a time carry it, so one gets half at the most, by the lever along 405 / 700
/// shared by the two at that end; with all four before it it tips.
#[test]
fn a_sling_shares_by_where_the_eyes_are() {
    let with = |places: [i64; 2]| {
        let job = common::built_in("orchard-flatbed");
        let into = job.boxes[0].id;
        let eye = |wall, along| job::WallFitting {
            id: Id(0),
            what: job::FittingName::LiftingEye,
            wall,
            along: job::Len::exactly(Length::mm(along), tape::Units::Millimetre),
            up: job::Len::exactly(Length::mm(200), tape::Units::Millimetre),
            hole: None,
            across: None,
            out: None,
            inward: Some(job::Len::exactly(Length::ZERO, tape::Units::Millimetre)),
        };
        let walls = [job::WallName::Left, job::WallName::Right];
        let fittings = walls
            .into_iter()
            .flat_map(|wall| places.map(|at| eye(wall, at)))
            .collect();
        job.with(&Edit::LetIn { into, fittings }).unwrap()
    };
    let tips = |evaluation: &Evaluation| {
        let mut found = evaluation.findings.iter();
        found
            .find(|f| f.words.starts_with("lifted by its eyes it tips"))
            .map(|f| f.grave)
    };
    let ends = evaluate(&with([100, 800]));
    let hangs = left(&ends).strength.as_ref().unwrap().lift.unwrap();
    let kg = left(&ends).strength.as_ref().unwrap().mass_kg;
    assert!(!hangs.tips && tips(&ends).is_none());
    // Off the middle of the eyes, 450 mm, by d along: the two behind get (350 + d) / 700 together, one of them all but what
    // the one diagonally before it leaves.
    let off = hangs.off_mm.map(f64::abs);
    assert!(off[0] > 30.0 && off[1] < 1.0, "{off:?}");
    // 700 mm apart along and across so far as the box is wide: the hook stands over the middle, and the box sinks at the rear or
    // front by off / (hook above the eyes + eyes above the centre of mass).
    let hang = hangs.hang.unwrap();
    assert!(hang.deg > 1.0 && hang.towards[0].abs() > 0.999, "{hang:?}");
    assert!(
        hangs.words(tape::Units::Millimetre).contains("degrees out of level, "),
        "{}",
        hangs.words(tape::Units::Millimetre)
    );
    assert!((hangs.most_share - 0.5).abs() < 0.01, "{}", hangs.most_share);
    assert!((hangs.leg_n - hangs.most_share * kg * 9.806_65 * 2_f64.sqrt()).abs() < 0.01);
    assert!((hangs.picked_up_n() - 1.3 * hangs.leg_n).abs() < 1e-9);
    let front = evaluate(&with([60, 130]));
    let hangs = left(&front).strength.as_ref().unwrap().lift.unwrap();
    assert!(
        hangs.tips && hangs.words(tape::Units::Millimetre).contains("IT TIPS"),
        "{}",
        hangs.words(tape::Units::Millimetre)
    );
    assert_eq!(tips(&front), Some(Grave::Caution));
    // All of it between the eyes, and still some 187 mm off their middle: the hook stands hypot(197, 168) = 259 mm over them, they
    // some 90 over the centre of mass, atan(187 / 349) = 28 degrees. What stands in it slides at 15.
    let askew = evaluate(&with([495, 890]));
    let hangs = left(&askew).strength.as_ref().unwrap().lift.unwrap();
    let deg = hangs.hang.unwrap().deg;
    assert!(
        (25.0..31.0).contains(&deg) && hangs.tips && !hangs.is_beside,
        "{hangs:?}"
    );
    assert_eq!(tips(&askew), Some(Grave::Caution));
    let gently = evaluate(&figure(&with([100, 800]), Figure::LiftJerk, "1"));
    let hangs = left(&gently).strength.as_ref().unwrap().lift.unwrap();
    assert!((hangs.picked_up_n() - hangs.leg_n).abs() < 1e-9);
}

/// The flatbed with an eye in its left box: its wall, and its place on it in tenths of a millimetre.
fn with_eye(job: &Job, wall: job::WallName, at: [i64; 2]) -> Job {
    let [along, up] = at.map(|at| job::Len::exactly(Length::tenths_mm(at), tape::Units::Millimetre));
    let eye = job::WallFitting {
        id: Id(0),
        what: job::FittingName::LiftingEye,
        wall,
        along,
        up,
        hole: None,
        across: None,
        out: None,
        inward: None,
    };
    let into = job.boxes[0].id;
    let fittings = vec![eye];
    job.with(&Edit::LetIn { into, fittings }).expect("there is a box")
}

/// The lines of the left box that are cut for eyes.
fn plates(evaluation: &Evaluation) -> Vec<&enclosure::cutlist::Line> {
    let tables = evaluation.cut.list.tables.iter();
    let lines = tables.flat_map(|table| &table.lines);
    lines.filter(|line| line.name == "backing plate").collect()
}

/// An eye of 13 in a body of 55: 55 x 55, 13 / 4 = 3.25 and so 4 thick; (3025 - pi/4 x 169) x 4 x 7.85e-3 = 90.8 g, 91 more than the
/// box had added.
#[test]
fn an_eye_has_a_backing_plate_that_is_cut_and_weighed() {
    let bare = common::built_in("orchard-flatbed");
    let before = evaluate(&bare);
    assert!(plates(&before).is_empty() && left(&before).added.eye_plates.is_empty());
    let after = evaluate(&with_eye(&bare, job::WallName::Left, [1_000, 2_000]));
    let cut = plates(&after);
    assert_eq!(cut.len(), 1);
    let line = cut[0];
    assert_eq!(
        [line.length.exact, line.width.exact, line.sheet.thickness],
        [55, 55, 4].map(Length::mm)
    );
    assert_eq!((line.quantity, line.holes.len()), (1, 1));
    assert_eq!(line.holes[0].diameter, Length::mm(13));
    let added = left(&after).mass.added_g - left(&before).mass.added_g;
    // The liner's sheet lacks the room of the eye's body: a round of 55, a few grams less.
    let of_liner = |e: &Evaluation| -> f64 {
        let parts = left(e).built.as_ref().unwrap().parts.iter();
        let liner = parts.filter(|part| part.role.is_liner());
        liner.map(|part| part.grams() * f64::from(part.quantity)).sum()
    };
    let liner = of_liner(&before) - of_liner(&after);
    assert!((f64::from(i32::try_from(added).unwrap()) + liner - 90.8).abs() < 1.1);
    let plate = left(&after).added.eye_plates[0];
    assert_eq!(plate.eye, left(&after).fittings[0].id);
    assert_eq!(plate.solid.size().0, [55, 4, 55].map(Length::mm));
}

/// Nothing of it stands in the next wall: 27.5 off the floor is as low as it goes.
#[test]
fn a_backing_plate_that_cannot_lie_there_is_told() {
    let bare = common::built_in("orchard-flatbed");
    let low = evaluate(&with_eye(&bare, job::WallName::Left, [1_000, 250]));
    assert!(plates(&low).is_empty());
    let words = low.findings.iter().map(|found| found.words.as_str());
    let told: Vec<&str> = words.filter(|words| words.contains("backing plate")).collect();
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told[0].contains("it may be 1.083\" (27.5 mm) to"), "{told:?}");
}

/// Under a stiffener of the lid plate and stiffener want the same place.
#[test]
fn a_backing_plate_that_meets_a_stiffener_is_a_finding() {
    let job = set(
        &common::built_in("orchard-flatbed"),
        Field::LidStiffened,
        "angles under it",
    );
    let stiff = evaluate(&job);
    let of_lid = left(&stiff).built.as_ref().unwrap().added.iter();
    let mut stiffeners = of_lid.filter(|piece| piece.role == enclosure::Role::Stiffener);
    let block = stiffeners.next().expect("it is stiffened").block;
    let [x, y] = [0, 1].map(|axis| (block.lo[axis] + block.hi[axis]).nm() / 200_000);
    let met = evaluate(&with_eye(&job, job::WallName::Top, [x, y]));
    let is_told = |found: &Finding| {
        let words = &found.words;
        words.contains("backing plate") && words.contains("lid stiffener") && words.contains("want the same place")
    };
    assert!(met.findings.iter().any(is_told), "{:?}", left(&met).added.meets);
}

/// A flange of 3 mm on a rim 245.5 mm over the floor: its lower face is 242.5 up, and nuts and thread ends stand below it. A gland of
/// 36 mm at 230 reaches 248: it would stand in the flange; at 200 it reaches 218.
#[test]
fn a_gland_in_the_flange_or_behind_a_skirt_is_a_stop() {
    let (job, id) = with_gland();
    let set = |job: &Job, field, text: &str| {
        job.with(&Edit::Set {
            field,
            text: text.to_owned(),
        })
        .unwrap()
    };
    let found = |job: &Job| {
        let evaluation = evaluate(job);
        let mut stops = evaluation.findings.iter().filter(|f| f.grave == Grave::Stop);
        stops.any(|f| f.words.contains("runs into what stands out round the wall"))
    };
    let job = set(&job, Field::FittingHole(id), "25.5 mm");
    let low = set(
        &set(&job, Field::FittingAcross(id), "36 mm"),
        Field::FittingUp(id),
        "200 mm",
    );
    assert!(!found(&low));
    let high = set(&low, Field::FittingUp(id), "230 mm");
    assert!(found(&high));
    // The skirt of a cap, 60 deep, hangs down to about 190 above the floor.
    let cap = set(&set(&low, Field::Closing, "cap with a skirt"), Field::CapDeep, "60 mm");
    assert!(found(&cap));
    assert!(!found(&set(&cap, Field::FittingUp(id), "120 mm")));
}

/// The left box of the orchard flatbed with its panels in angle of 25 x 3, sheets of 2 mm: behind the walls the legs reach
/// 25 - 3 - 2 = 20 mm from the corner over the panel, the ring's 25 mm down from the rim, the foot's 25 - 3 - 3 = 19 mm up over
/// the floor of 3 mm.
fn framed(held: &str) -> Job {
    let job = common::built_in("orchard-flatbed");
    [
        (Field::Units, "millimetres"),
        (Field::Construction, "panels in an angle frame"),
        (Field::PanelsHeld, held),
        (Field::Floor, "3 mm"),
        (Field::Wall, "2 mm"),
        (Field::FrameLeg, "25 mm"),
        (Field::FrameThickness, "3 mm"),
    ]
    .into_iter()
    .fold(job, |job, (field, text)| set(&job, field, text))
}

/// Stops of what is let in, by their words.
fn stops_of(job: &Job, what: &str) -> Vec<String> {
    let evaluation = evaluate(job);
    let stops = evaluation.findings.iter().filter(|f| f.grave == Grave::Stop);
    stops
        .filter(|f| f.words.contains(what))
        .map(|f| f.words.clone())
        .collect()
}

/// In the field between the legs nothing is in the way, whatever holds the panels. A body 36 mm across reaches 18 mm: its middle is
/// 38 mm from a corner to be clear of a post, 37 over the floor of the foot; at 30 and 32 it
/// stands 8 and 5 mm in them. Adhesive of 1 mm under the legs lets them reach 1 mm less over the panel: 7 and 4 mm.
#[rstest]
#[case::in_the_field("80 mm", "120 mm", None)]
#[case::beside_the_post("38 mm", "120 mm", None)]
#[case::over_the_foot("80 mm", "37 mm", None)]
#[case::on_the_post("30 mm", "120 mm", Some(("the leg of the post at its left end", ["8.0 mm further right", "7.0 mm further right"])))]
#[case::on_the_foot("80 mm", "32 mm", Some(("the upright leg of the foot", ["5.0 mm further up", "4.0 mm further up"])))]
fn what_is_let_into_a_framed_wall_stops_on_a_leg_and_nowhere_else(
    #[case] along: &str,
    #[case] up: &str,
    #[case] leg: Option<(&str, [&str; 2])>,
    #[values("rivets", "adhesive")] held: &str,
) {
    let (_, id) = with_gland();
    let job = framed(held).with(&Edit::AddFitting {
        into: common::built_in("orchard-flatbed").boxes[0].id,
        at: [Length::mm(100); 2],
    });
    let job = job.expect("there is a box");
    let told = [
        (Field::FittingWall(id), "front"),
        (Field::FittingHole(id), "20 mm"),
        (Field::FittingAcross(id), "36 mm"),
        (Field::FittingAlong(id), along),
        (Field::FittingUp(id), up),
    ];
    let job = told.into_iter().fold(job, |job, (field, text)| set(&job, field, text));
    let stops = stops_of(&job, "cable gland");
    match leg {
        None => assert_eq!(stops, Vec::<String>::new()),
        Some((leg, ways)) => {
            let way = ways[usize::from(held == "adhesive")];
            assert!(
                stops.iter().any(|words| words.contains(leg) && words.contains(way)),
                "{stops:?}"
            );
        }
    }
}

/// The ring's leg ends 25 mm below the rim, and what hangs below its level leg is above that: a body 36 mm across, 40 mm below the
/// rim, stands 3 mm in it.
#[test]
fn what_is_let_in_behind_the_ring_is_told_how_far_down() {
    let job = framed("rivets");
    let into = job.boxes[0].id;
    let rim = evaluate(&job).boxes[0].built.as_ref().unwrap().shell[2] - Length::mm(3);
    let at = [Length::mm(100), rim - Length::mm(40)];
    let job = job.with(&Edit::AddFitting { into, at }).expect("there is a box");
    let id = job.boxes[0].fittings[0].id;
    let told = [(Field::FittingHole(id), "20 mm"), (Field::FittingAcross(id), "36 mm")];
    let job = told.into_iter().fold(job, |job, (field, text)| set(&job, field, text));
    let stops = stops_of(&job, "the upright leg of the ring");
    assert!(
        stops.iter().any(|words| words.contains("3.0 mm further down")),
        "{stops:?}"
    );
}

/// Glands are found between the legs of a riveted frame, and come out without a stop.
#[test]
fn glands_are_proposed_on_the_bare_panel_of_a_riveted_frame() {
    let job = framed("rivets");
    let proposals = job::glands::propose(&job, &evaluate(&job));
    let proposal = proposals.first().expect("a cable leaves the box");
    assert!(!proposal.glands.is_empty(), "{:?}", proposal.without);
    let job = job
        .with(&proposal.edit().expect("there are glands"))
        .expect("they fit the job");
    assert_eq!(stops_of(&job, "gland"), Vec::<String>::new());
}

/// A frame takes its ring only: a cap, and a lid without screws, are told; the ring and no choice are not.
#[rstest]
#[case::cap(Some("cap with a skirt"), true)]
#[case::without_screws(Some("flat lid on the rim"), true)]
#[case::ring(Some("flat lid on a flange"), false)]
fn a_closing_that_a_frame_does_not_take_is_told(#[case] closing: Option<&str>, #[case] is_told: bool) {
    let job = common::built_in("orchard-flatbed");
    let job = closing.map_or(job.clone(), |closing| set(&job, Field::Closing, closing));
    assert!(said(&evaluate(&job), "a frame of angle takes only").is_none());
    let job = set(&job, Field::Construction, "panels in an angle frame");
    let evaluation = evaluate(&job);
    let found = said(&evaluation, "a frame of angle takes only");
    assert_eq!(found.is_some(), is_told);
    assert!(found.is_none_or(|found| found.grave == Grave::Caution));
}

/// The far end of a gland's range, told in the inches of the job: see `a_refusal_says_where_the_middle_may_lie` of the boxes.
#[test]
fn a_gland_off_its_wall_is_told_in_inches() {
    let (job, id) = with("cable gland", "front");
    let evaluation = evaluate(&set(&job, Field::FittingAlong(id), "1/4"));
    let fault = left(&evaluation).fittings[0]
        .fault
        .clone()
        .expect("it runs off the wall");
    assert!(
        fault.contains("must have its middle ") && fault.contains("\" along it"),
        "{fault}"
    );
    assert!(!fault.contains(" mm along"), "{fault}");
}

/// 62.429168 mm is 2.4578 in, 2 29/64 in at the nearest mark: what a proposal wrote is read on the tape first. What a
/// person typed stays as typed.
#[test]
fn a_length_with_many_decimals_is_read_in_inches_first_and_to_a_tenth() {
    let (job, id) = with("cable gland", "front");
    let read = |text: &str| {
        let job = set(&job, Field::FittingOut(id), text);
        job::field::show(&job, &[Field::FittingOut(id)])[0].1.read_text()
    };
    assert_eq!(read("62.429168 mm"), "2 29/64\" (62.4 mm)");
    assert_eq!(read("62.5 mm"), "62.5 mm");
}
