//! The electrics of a job: seats and terminals, wiring, protection, tested units.

mod common;

use geometry::{Axis, Point};
use job::units::{kind_of_sheet, matching, read_sheet, units_of};
use job::wiring::orders;
use job::{
    Edit, Electric, End, Field, Figure, Job, Joined, LinkKind, OrderFrom, Seat, UnitsEdit, Verdict, WiringEdit,
    evaluate,
};
use pack::arrangement::Objection;
use pack::matching::Goal;
use pack::wiring::WORK;
use tape::Length;

fn electric(job: &Job) -> Electric {
    let evaluation = evaluate(job);
    let pack = evaluation
        .packs
        .into_iter()
        .find(|p| p.placed > 0)
        .expect("a pack is laid out");
    pack.electric.expect("its modules are known")
}

#[expect(clippy::needless_pass_by_value, reason = "edits are made where they are used")]
fn with(job: &Job, edit: Edit) -> Job {
    job.with(&edit).expect("the edit fits the job")
}

fn set(job: &Job, field: Field, text: &str) -> Job {
    let text = text.to_owned();
    with(job, Edit::Set { field, text })
}

/// Ten crates in two boxes, two strings of five.
fn orchard() -> Job {
    common::built_in("orchard-flatbed")
}

#[test]
fn terminals_stand_where_the_rule_says_and_turn_with_the_module() {
    let wiring = electric(&orchard()).wiring.expect("a whole pack is wired");
    let first = wiring.seats.iter().find(|s| s.seat == Seat::lone(job::Id(13))).unwrap();
    // 320 x 142 x 212 mm, its length across the truck: terminals on the middle line, 40 mm from each end, on top.
    let size = first.cuboid.size();
    assert_eq!(size.0, [142, 320, 212].map(Length::mm));
    let at = |p: Point| Axis::ALL.map(|axis| (p[axis] - first.cuboid.lo()[axis]).as_mm());
    let mut ends = [at(first.plus), at(first.minus)];
    ends.sort_by(|a, b| a[1].total_cmp(&b[1]));
    assert_eq!(ends, [[71.0, 40.0, 212.0], [71.0, 280.0, 212.0]]);
    assert!(first.may_turn);
}

#[test]
fn every_series_link_joins_plus_to_minus_and_every_module_is_in_the_chain_once() {
    let wiring = electric(&orchard()).wiring.unwrap();
    assert_eq!((wiring.series, wiring.parallel, wiring.seats.len()), (5, 2, 10));
    let mut seats: Vec<Seat> = wiring.seats.iter().map(|s| s.seat).collect();
    seats.sort_unstable();
    seats.dedup();
    assert_eq!(seats.len(), 10);
    let mut series = 0;
    for link in &wiring.links {
        match (link.from, link.to) {
            (End::Terminal { plus: a, .. }, End::Terminal { plus: b, .. }) => {
                assert!(a && !b, "link {}", link.number);
                series += 1;
            }
            (End::Exit { plus: a } | End::Drive { plus: a }, End::Terminal { plus: b, .. })
            | (End::Terminal { plus: b, .. }, End::Exit { plus: a } | End::Drive { plus: a })
            | (End::Exit { plus: a }, End::Drive { plus: b })
            | (End::Drive { plus: a }, End::Exit { plus: b }) => assert_eq!(a, b),
            other => panic!("{other:?}"),
        }
    }
    assert_eq!(series, 8);
    // Both strings meet at the first box, and two leads go on to the drive.
    let count = |kind| wiring.links.iter().filter(|l| l.kind == kind).count();
    assert_eq!((count(LinkKind::Lead), count(LinkKind::Drive)), (4, 2));
    assert_eq!(wiring.taps.len(), 12);
    assert_eq!(wiring.from, OrderFrom::Nearest);
}

/// Two terminals of neighbouring crates: centres 144 mm apart along the truck, both on one line.
#[test]
fn links_are_as_long_as_their_way() {
    let wiring = electric(&orchard()).wiring.unwrap();
    let link = wiring.links.iter().find(|l| l.kind == LinkKind::Series).unwrap();
    assert_eq!(link.run, Length::mm(144));
    // 0.017241 x 0.144 / 75 ohm at 20 C, at 70 C 1 + 0.00393 x 50 times as much, and two joints of 40 micro-ohms.
    let expected = 0.017_241 * 0.144 / 75.0 * (1.0 + 0.003_93 * 50.0) * 1000.0 + 0.08;
    assert!((link.resistance.milliohms() - expected).abs() < 1e-5);
    // 400 A peak in two strings.
    assert!((link.amps.unwrap() - 200.0).abs() < 1e-9);
}

#[test]
fn an_order_is_taken_over_kept_and_mended_when_modules_go() {
    let job = orchard();
    let evaluation = evaluate(&job);
    let kind = evaluation.packs[0].kind;
    let [shortest, low] = orders(&job, &evaluation, kind, WORK, &mut |_| true).unwrap();
    assert!(shortest.length <= shortest.nearest);
    assert!(low.neighbour <= shortest.neighbour);
    assert_eq!(shortest.at_least, None, "ten modules are proved");
    let taken = with(&job, Edit::Wiring(shortest.edit));
    let wiring = electric(&taken).wiring.unwrap();
    assert_eq!(wiring.from, OrderFrom::Given);
    let pair = [wiring.seats[0].seat, wiring.seats[3].seat];
    let locked = with(&taken, Edit::Wiring(WiringEdit::Lock { pair, locked: true }));
    let evaluation = evaluate(&locked);
    let [kept, _] = orders(&locked, &evaluation, kind, WORK, &mut |_| true).unwrap();
    let WiringEdit::Order { order, .. } = kept.edit else {
        panic!("an order is taken over")
    };
    assert!(order.windows(2).any(|w| w == pair));
    // Taking one out and putting another in leaves the order of the rest.
    let mut without = taken.clone();
    let gone = without.wiring.order.remove(2);
    let mended = electric(&without).wiring.unwrap();
    assert_eq!(mended.from, OrderFrom::Mended);
    let rest: Vec<Seat> = mended.seats.iter().map(|s| s.seat).filter(|s| *s != gone).collect();
    assert_eq!(rest, without.wiring.order);
}

#[test]
fn a_turned_module_changes_its_terminals_and_nothing_else() {
    let job = orchard();
    let before = electric(&job).wiring.unwrap();
    let seat = before.seats[4].clone();
    let order: Vec<Seat> = before.seats.iter().map(|s| s.seat).collect();
    let turned: Vec<Seat> = before.seats.iter().filter(|s| s.turned).map(|s| s.seat).collect();
    let mut turned = turned;
    match turned.iter().position(|s| *s == seat.seat) {
        Some(at) => {
            turned.remove(at);
        }
        None => turned.push(seat.seat),
    }
    let job = with(&job, Edit::Wiring(WiringEdit::Order { order, turned }));
    let after = electric(&job).wiring.unwrap();
    let now = after.seats.iter().find(|s| s.seat == seat.seat).unwrap();
    assert_eq!((now.plus, now.minus, now.cuboid), (seat.minus, seat.plus, seat.cuboid));
    assert_eq!(now.turned, !seat.turned);
}

#[test]
fn groups_in_series_link_like_to_like_and_halve_the_channels() {
    let job = set(&orchard(), Field::Joined, "groups in series");
    let electric = electric(&job);
    assert_eq!(electric.joined, Joined::Groups);
    let wiring = electric.wiring.unwrap();
    let count = |kind| wiring.links.iter().filter(|l| l.kind == kind).count();
    let parallel = wiring.links.iter().filter(|l| match (l.from, l.to) {
        (End::Terminal { plus: a, .. }, End::Terminal { plus: b, .. }) => a == b,
        _ => false,
    });
    // Two links in each group of two, four joints between five groups, two leads.
    assert_eq!(
        (parallel.count(), count(LinkKind::Drive), wiring.taps.len()),
        (10, 2, 6)
    );
}

fn check(job: &Job, topic: &str) -> (Verdict, String) {
    let found = electric(job).checks.into_iter().find(|c| c.topic == topic);
    let check = found.unwrap_or_else(|| panic!("{topic} is checked"));
    (check.verdict, check.words)
}

/// 200 A continuous at 80 % takes 250 A; full are 142 V.
#[test]
fn the_main_fuse_is_held_against_amps_volts_and_short_circuit() {
    let job = set(&orchard(), Field::DriveContinuous, "200 A");
    assert!(check(&job, "main fuse").1.starts_with("250 A is the smallest"));
    let small = set(&job, Field::Figure(Figure::FuseAmps), "200");
    assert!(matches!(check(&small, "main fuse").0, Verdict::NotMet(_)));
    let right = set(&job, Field::Figure(Figure::FuseAmps), "250 A");
    assert_eq!(check(&right, "main fuse").0, Verdict::Met);
    let low = set(&right, Field::Figure(Figure::FuseVolts), "141");
    assert!(matches!(
        check(&low, "main fuse, dc volts").0,
        Verdict::NotMet(job::Grave::Stop)
    ));
    assert!(evaluate(&low).has_stop());
    let enough = set(&right, Field::Figure(Figure::FuseVolts), "142");
    assert_eq!(check(&enough, "main fuse, dc volts").0, Verdict::Met);
    let weak = set(&enough, Field::Figure(Figure::FuseKa), "1");
    assert!(matches!(check(&weak, "main fuse, breaks").0, Verdict::NotMet(_)));
}

/// The readings of check E063: 150 kohm at 380 V. Full 142 V asks for 71 kohm at 500 ohm/V.
#[test]
fn insulation_is_worked_out_from_the_readings() {
    let mut job = orchard();
    assert_eq!(check(&job, "insulation").0, Verdict::Open);
    for (figure, text) in [
        (Figure::IsolationPack, "380"),
        (Figure::IsolationMinus, "304"),
        (Figure::IsolationPlus, "76"),
        (Figure::IsolationResistor, "190"),
        (Figure::IsolationAfter, "186.323"),
    ] {
        job = set(&job, Field::Figure(figure), text);
    }
    let (verdict, words) = check(&job, "insulation");
    assert_eq!(verdict, Verdict::Met);
    assert!(words.starts_with("150 kohm"), "{words}");
    let damp = set(&job, Field::Figure(Figure::IsolationAfter), "290");
    assert!(matches!(
        check(&damp, "insulation").0,
        Verdict::NotMet(job::Grave::Stop)
    ));
}

#[test]
fn a_figure_is_refused_with_what_is_allowed() {
    let field = Field::Figure(Figure::Ambient);
    let refused = orchard()
        .with(&Edit::Set {
            field,
            text: "200 C".to_owned(),
        })
        .unwrap_err();
    assert_eq!(
        refused.to_string(),
        "air round the cables: \"200 C\" is not from -60 to 80 C"
    );
    assert_eq!(refused.mend(), "type a number from -60 to 80 C");
    assert!(
        orchard()
            .with(&Edit::Set {
                field,
                text: "-20".to_owned()
            })
            .is_ok()
    );
    let cable = orchard()
        .with(&Edit::Set {
            field: Field::Cable,
            text: "rope".to_owned(),
        })
        .unwrap_err();
    assert!(cable.mend().contains("50, 70"), "{}", cable.mend());
    assert!(set(&orchard(), Field::Cable, "2/0 awg").electrics.cable.as_deref() == Some("2/0 AWG"));
}

/// Twelve units for ten places: the two weakest are left over, and the pack is as strong as its strings.
#[test]
fn tested_units_are_matched_and_the_pack_counts_by_them() {
    let sheet = read_sheet(
        "unit,Ah,mohm,V\nU1,100,2.6,26.4\nU2,99,2.6,26.4\nU3,98,2.6,26.4\nU4,97,2.6,26.4\nU5,96,2.6,26.4\nU6,95,2.6,26.4\n\
         U7,94,2.6,26.4\nU8,93,2.6,26.4\nU9,92,2.6,26.4\nU10,91,2.6,26.4\nU11,90,2.6,26.4\nU12,60,2.6,26.9\n",
    );
    assert_eq!(sheet.faults, []);
    let job = orchard();
    let kind = kind_of_sheet(&job).unwrap();
    let job = with(&job, Edit::Units(UnitsEdit::TakeSheet(units_of(&sheet.rows, kind))));
    let evaluation = evaluate(&job);
    let found = matching(&job, &evaluation, kind, Goal::Strongest).unwrap();
    // Strings of the five strongest and the next five: 96 + 91.
    assert!((found.amp_hours[0] - 187.0).abs() < 1e-9);
    assert_eq!(found.spares, ["U11", "U12"]);
    let job = with(&job, Edit::Units(UnitsEdit::Seats(found.seats)));
    let electric = electric(&job);
    let matched = electric.matched.as_ref().unwrap();
    assert_eq!((matched.seated, matched.spare, matched.unassigned), (10, 2, 0));
    assert!((matched.amp_hours.unwrap() - 187.0).abs() < 1e-9);
    assert!((electric.energy.worn_kwh - 187.0 * 128.0 / 1000.0).abs() < 1e-9);
    assert!(electric.energy.measured);
    let odd = matched.units.iter().find(|u| u.name == "U12").unwrap();
    assert!(odd.odd.contains("far fewer amp-hours"), "{}", odd.odd);
    // A sheet that is read again replaces what it names and keeps where units are built in.
    let again = read_sheet("unit,Ah\nU1,90\n");
    let job = with(&job, Edit::Units(UnitsEdit::TakeSheet(units_of(&again.rows, kind))));
    assert_eq!(job.tested.len(), 12);
    assert!(job.tested[0].seat.is_some() && job.tested[0].amp_hours == Some(pack::AmpHours::from_milli(90_000)));
}

/// Two strings of five; the first measures 2 mohm a module, the second 3.
fn measured() -> Job {
    let sheet = read_sheet(
        "unit,Ah,mohm,V\nU1,100,2,26.4\nU2,99,2,26.4\nU3,98,2,26.4\nU4,97,2,26.4\nU5,96,2,26.4\nU6,95,3,26.4\n\
         U7,94,3,26.4\nU8,93,3,26.4\nU9,92,3,26.4\nU10,91,3,26.4\n",
    );
    let job = orchard();
    let kind = kind_of_sheet(&job).expect("modules are placed");
    let job = set(&job, Field::KindResistance(kind), "2.4");
    let job = with(&job, Edit::Units(UnitsEdit::TakeSheet(units_of(&sheet.rows, kind))));
    let found = matching(&job, &evaluate(&job), kind, Goal::Strongest).expect("ten units for ten places");
    with(&job, Edit::Units(UnitsEdit::Seats(found.seats)))
}

/// Strings of 5 x 2 = 10 and 5 x 3 = 15 mohm side by side are 6 mohm; as entered 5 x 2.4 / 2 = 6, at 2 mohm 5.
#[test]
fn what_modules_resist_follows_the_tested_units_and_a_short_circuit_the_harsher_of_both() {
    let job = measured();
    let kind = kind_of_sheet(&job).expect("modules are placed");
    let milliohms = |job: &Job| {
        let found = electric(job).resistances;
        assert!(found.measured);
        [found.modules, found.in_a_short].map(|r| r.expect("known"))
    };
    let expected = |values: [f64; 2]| values.map(pack::Ohms::nearest_milliohms);
    assert_eq!(
        milliohms(&set(&job, Field::KindResistance(kind), "2")),
        expected([6.0, 5.0])
    );
    assert_eq!(
        milliohms(&set(&job, Field::KindResistance(kind), "4")),
        expected([6.0, 6.0])
    );
    let load = |job: &Job| electric(job).load.expect("resistance is known").rows;
    let [good, poor] = ["2", "4"].map(|entered| load(&set(&job, Field::KindResistance(kind), entered)));
    assert_eq!(good, poor, "sag follows what was measured");
    let kiloamps = |entered: &str| {
        let checks = electric(&set(&job, Field::KindResistance(kind), entered)).checks;
        checks
            .into_iter()
            .find(|c| c.topic == "short circuit")
            .expect("told")
            .words
    };
    assert_ne!(kiloamps("2"), kiloamps("4"));
}

/// 2 x 5 modules of 2 mohm are 20 mohm; at 50 A of charge 1 V, at the 40 A of a module that gives less 0.8 V.
#[test]
fn strings_are_joined_by_what_the_one_that_is_charged_may_take() {
    let job = measured();
    let kind = kind_of_sheet(&job).expect("modules are placed");
    let limit = |charge: &str, continuous: &str| {
        let job = set(&job, Field::KindCharge(kind), charge);
        let job = set(&job, Field::KindContinuous(kind), continuous);
        let matched = electric(&job).matched.expect("units were tested");
        matched.may_be_apart.expect("all is known")
    };
    for (charge, continuous, volts, by) in [
        ("50", "120", 1.0, "charge amps"),
        ("50", "40", 0.8, "continuous amps"),
        // Not entered: the kind's 105 Ah in an hour, not its continuous amps: 105 x 0.02.
        ("", "120", 2.1, "amp-hours"),
    ] {
        let found = limit(charge, continuous);
        assert!((found.volts.get() - volts).abs() < 1e-9, "{found:?}");
        assert!(found.source.contains(by), "{found:?}");
        assert!(found.strings && found.words().starts_with("whole strings"), "{found:?}");
    }
}

#[test]
fn a_sheet_read_again_neither_wipes_readings_nor_brings_a_unit_back_into_use() {
    let job = orchard();
    let kind = kind_of_sheet(&job).expect("modules are placed");
    let read = |text: &str| UnitsEdit::TakeSheet(units_of(&read_sheet(text).rows, kind));
    let mut job = with(&job, Edit::Units(read("unit,Ah,V,note\nA1,98,26.4,bulges\n")));
    job.tested[0].set_aside = true;
    let job = with(&job, Edit::Units(read("unit,Ah\nA1,97\n")));
    let unit = &job.tested[0];
    assert_eq!(job.tested.len(), 1);
    assert!(unit.set_aside);
    assert_eq!(unit.amp_hours.map(pack::AmpHours::get), Some(97.0));
    assert_eq!(unit.rest_volts.map(pack::Volts::get), Some(26.4));
    assert_eq!(unit.note, "bulges");
}

#[test]
fn the_fuse_has_to_break_what_the_modules_alone_drive_whatever_the_leads_resist() {
    let breaks = |lead: &str| {
        check(
            &set(&orchard(), Field::Figure(Figure::LeadLength), lead),
            "short circuit",
        )
        .1
    };
    assert_eq!(breaks("0"), breaks("20"));
}

#[test]
fn a_pack_that_cuts_out_with_its_links_and_leads_is_found_whatever_its_modules_do_alone() {
    let mut only_with_links = 0;
    for least in 70..=128 {
        let job = set(&orchard(), Field::DriveMin, &least.to_string());
        let told = evaluate(&job)
            .findings
            .iter()
            .any(|f| f.words.contains("the drive cuts out"));
        let electric = electric(&job);
        let cuts_out = |row: &job::LoadRow| row.cuts_out && row.rest >= job.drive.min_volts.unwrap();
        let sags = evaluate(&job)
            .packs
            .iter()
            .any(|p| p.objections.iter().any(|o| matches!(o, Objection::Sags { .. })));
        let out = electric.load.unwrap().rows.iter().any(cuts_out);
        assert_eq!(told, out && !sags, "{least} V");
        only_with_links += u32::from(told);
    }
    assert!(only_with_links > 0, "some least volts lie between the two");
}

#[test]
fn the_file_keeps_all_of_it() {
    let mut job = set(&orchard(), Field::Figure(Figure::Ambient), "-10.5 C");
    job = set(&job, Field::LinkMadeOf, "20x5 alu");
    job = with(&job, Edit::Units(UnitsEdit::Add { kind: job::Id(11) }));
    job = set(&job, Field::UnitSeat(0), "m13");
    job.wiring.turned = vec![Seat::lone(job::Id(13))];
    job = set(&job, Field::KindRestCurve(job::Id(11)), "0 20.8, 50 26.2, 100 28.4");
    let text = job::to_text(&job);
    assert_eq!(job::load(text.as_bytes()).unwrap(), job);
    assert!(text.contains("\"ambient_c\": -10.5") && text.contains("20 x 5 mm aluminium bar"));
}

/// 48 modules in clamped stacks: each of a stack has its own place, and the chain holds all of them.
#[test]
fn modules_in_a_stack_are_wired_one_by_one() {
    let job = common::built_in("mountain-rescue");
    let wiring = electric(&job).wiring.expect("the rescue pack is whole");
    assert_eq!(wiring.seats.len(), 48);
    assert!(wiring.seats.iter().all(|s| s.seat.nth > 0));
    for (a, b) in wiring.seats.iter().zip(&wiring.seats[1..]) {
        assert!(!a.cuboid.overlaps(&b.cuboid));
    }
}
