//! Beads and bends in the inside corners, and the welds of a box.

use job::{Field, Grave, Job, Len, Subject, WeldSideName, evaluate, example, load};
use tape::{Length, Units};

fn orchard() -> Job {
    let text = example("orchard-flatbed").expect("it is built in").text;
    load(text.as_bytes()).expect("it loads")
}

fn len(mm: i64) -> Len {
    Len::exactly(Length::mm(mm), Units::Millimetre)
}

/// Liner 2, fitting room 1: a square module stands 3 off every wall and 2 off the floor.
fn job(side: WeldSideName, leg: i64) -> Job {
    let mut job = orchard();
    job.design.weld_side = Some(side);
    job.design.weld_leg = Some(len(leg));
    job.design.liner = Some(len(2));
    job.design.fit = Some(len(1));
    job.design.room_over = None;
    job.design.room_ends = None;
    job.design.bay = None;
    job
}

fn cautions(job: &Job) -> usize {
    let is_of_corner = |f: &&job::Finding| {
        f.grave == Grave::Caution && matches!(f.subject, Subject::Module(_)) && f.words.contains("square edge")
    };
    evaluate(job).findings.iter().filter(is_of_corner).count()
}

#[test]
fn a_box_that_wraps_its_modules_makes_room_for_the_bead() {
    let width = |job: &Job| evaluate(job).boxes[0].inside.unwrap().size().0;
    let outside = width(&job(WeldSideName::Outside, 8));
    // On 2 of liner the floor's bead of 8 asks for 6 off the wall: 3 more than liner and fitting room.
    let inside = width(&job(WeldSideName::Inside, 8));
    for axis in 0..2 {
        let grown = inside[axis] - outside[axis];
        assert!(grown >= Length::ZERO && grown <= Length::mm(6), "{grown:?}");
    }
    assert!(inside[0] + inside[1] > outside[0] + outside[1]);
    assert_eq!(inside[2], outside[2]);
    assert_eq!(cautions(&job(WeldSideName::Inside, 8)), 0);
    // A bead of 5 lies within what is there: 5 - 2 = 3.
    assert_eq!(width(&job(WeldSideName::Inside, 5)), outside);
}

#[test]
fn in_a_box_of_fixed_size_the_modules_in_the_corners_are_told() {
    let mut told = job(WeldSideName::Outside, 8);
    let inside = evaluate(&told).boxes[0].inside.unwrap();
    let id = told.boxes[0].id;
    told.boxes[0].fixed = Some(inside.size().0.map(|side| Len::exactly(side, Units::Millimetre)));
    // The datum of a fixed box is its low corner.
    let shift = inside.lo() - told.boxes[0].datum();
    for (axis, at) in told.boxes[0].at.iter_mut().enumerate() {
        *at = Len::exactly(at.value() + shift.0[axis], Units::Millimetre);
    }
    for module in &mut told.boxes[0].modules {
        for (axis, at) in module.at.iter_mut().enumerate() {
            *at = Len::exactly(at.value() - shift.0[axis], Units::Millimetre);
        }
    }
    assert_eq!(cautions(&told), 0, "nothing lies in the corners");
    told.design.weld_side = Some(WeldSideName::Inside);
    let evaluation = evaluate(&told);
    let met = &evaluation.battery_box(id).unwrap().corners_met;
    assert!(!met.is_empty());
    // 8 - 2 of liner - 3 off the wall.
    assert!(met.iter().all(|met| met.short == Length::mm(3)), "{met:?}");
    assert_eq!(
        cautions(&told),
        met.len() + evaluation.boxes[1..].iter().map(|b| b.corners_met.len()).sum::<usize>()
    );
}

#[test]
fn the_ledger_names_the_room_off_the_bead_and_still_sums_up() {
    let evaluation = evaluate(&job(WeldSideName::Inside, 8));
    let ledgers = &evaluation.boxes[0].ledgers;
    let named = |axis: usize| {
        ledgers[axis]
            .entries
            .iter()
            .filter(|e| e.words.contains("weld bead"))
            .count()
    };
    assert!(named(0) + named(1) > 0);
    assert_eq!(named(2), 0);
    for ledger in ledgers {
        assert_eq!(ledger.entries.iter().map(|e| e.length).sum::<Length>(), ledger.total);
    }
}

#[test]
fn every_box_of_panels_has_its_welds() {
    let evaluation = evaluate(&orchard());
    for battery_box in &evaluation.boxes {
        let welds = battery_box.welds.as_ref().unwrap();
        let [length, width, _] = battery_box.built.as_ref().unwrap().shell;
        assert!(welds.welded() > (length + width) * 2);
        assert_eq!(welds.diagonals.len(), 3);
    }
}

#[test]
fn a_leg_of_nothing_is_refused() {
    let edit = job::Edit::Set {
        field: Field::WeldLeg,
        text: "0".to_owned(),
    };
    assert!(orchard().with(&edit).is_err());
}
