//! What a layout that is taken over leaves beside its boxes.

use geometry::fit::{Budget, Unwatched};
use geometry::{Cuboid, Face, Point};
use rstest::rstest;
use tape::{Length, Units};

use crate::document::{BedRoomName, BracketsName, FittingName, WallFitting, WallName};
use crate::layout::{Aim, propose};
use crate::{BedPart, EXAMPLES, Evaluation, Id, Job, Len, evaluate, load};

const BUDGET: Budget = Budget { work: 100_000, seed: 1 };

fn built_in(name: &str) -> Job {
    let example = EXAMPLES.iter().find(|e| e.name == name).expect("it is built in");
    load(example.text.as_bytes()).expect("it loads")
}

fn mm(n: i64) -> Len {
    Len::exactly(Length::mm(n), Units::Millimetre)
}

/// A gland in the front wall and a breather in the left one of every box, standing out so far.
fn with_fittings(mut job: Job, out: i64) -> Job {
    let mut id = 50_000;
    for battery_box in &mut job.boxes {
        for (what, wall) in [
            (FittingName::Gland, WallName::Front),
            (FittingName::Breather, WallName::Left),
        ] {
            id += 1;
            battery_box.fittings.push(WallFitting {
                id: Id(id),
                what,
                wall,
                along: mm(100),
                up: mm(60),
                hole: Some(mm(16)),
                across: Some(mm(22)),
                out: Some(mm(out)),
                inward: Some(mm(1)),
            });
        }
    }
    job
}

/// The job with the best layout that was found for the whole of it, and the margin that it keeps.
fn laid_out(job: &Job) -> (Evaluation, Length) {
    let evaluation = evaluate(job);
    let proposal = propose(job, &evaluation, Aim::Whole, BUDGET, &mut Unwatched).expect("a layout");
    assert!(proposal.count() > 0, "nothing goes in");
    let edit = proposal.edit(job, 0).expect("a layout to take over");
    (evaluate(&job.with(&edit).expect("it is taken over")), proposal.margin)
}

/// How far a solid is from the walls of its cavity and from what is in the way there, at the least.
fn least_room(evaluation: &Evaluation, cavity: Id, solid: &Cuboid) -> Length {
    let cavity = evaluation.cavity(cavity).expect("it is there");
    let space = cavity.usable.expect("it is taped");
    let walls = Face::ALL.map(|face| {
        let out = space.face(face) - solid.face(face);
        if face.is_high() { out } else { -out }
    });
    let apart = |other: &Cuboid| {
        let gaps = geometry::Axis::ALL.map(|axis| solid.gap_along(other, axis));
        gaps.into_iter().max().unwrap_or_default()
    };
    let kept = cavity.keep_outs.iter().filter(|k| k.counts).map(|k| apart(&k.sure));
    walls.into_iter().chain(kept).min().unwrap_or_default()
}

#[rstest]
fn a_layout_leaves_room_for_what_is_let_into_the_walls(
    #[values("orchard-flatbed", "harbour-tender", "mountain-rescue")] name: &str,
    #[values(8, 25)] out: i64,
) {
    let (found, margin) = laid_out(&with_fittings(built_in(name), out));
    let mut looked_at = 0;
    for battery_box in &found.boxes {
        for fitting in battery_box.fittings.iter().filter_map(|f| f.outside) {
            let room = least_room(&found, battery_box.cavity, &fitting);
            assert!(room >= margin, "{name}, {}: {room:?} of {margin:?}", battery_box.name);
            let others = found
                .boxes
                .iter()
                .filter(|b| b.cavity == battery_box.cavity && b.id != battery_box.id);
            assert!(others.flat_map(|b| &b.solids).all(|solid| !solid.overlaps(&fitting)));
            looked_at += 1;
        }
    }
    assert!(looked_at > 0);
}

#[rstest]
fn a_layout_leaves_room_for_brackets(
    #[values("orchard-flatbed", "harbour-tender", "mountain-rescue")] name: &str,
    #[values(BracketsName::Web, BracketsName::OwnRail)] brackets: BracketsName,
) {
    let mut job = built_in(name);
    job.design.added.brackets = Some(brackets);
    // The usual leg takes more than the cavities of the examples have beside a row of modules.
    *job.design.added.sizes.slot(crate::document::PartSize::BracketLeg) = Some(mm(25));
    let (found, _) = laid_out(&job);
    let mut looked_at = 0;
    for battery_box in &found.boxes {
        for bracket in &battery_box.added.brackets {
            let room = least_room(&found, battery_box.cavity, bracket);
            assert!(!room.is_negative(), "{name}, {}: {room:?}", battery_box.name);
            looked_at += 1;
        }
    }
    assert!(looked_at > 0, "{name}");
}

/// With no leg entered the room that is kept beside boxes is that of the least leg, and each box takes its own.
#[rstest]
fn with_no_leg_entered_every_box_hangs_on_its_own_rail(
    #[values("orchard-flatbed", "harbour-tender", "mountain-rescue")] name: &str,
) {
    let mut job = built_in(name);
    job.design.added.brackets = Some(BracketsName::Web);
    let (found, _) = laid_out(&job);
    assert!(!found.boxes.is_empty());
    for battery_box in &found.boxes {
        let (leg, seats) = (battery_box.added.bracket_leg.as_ref(), &battery_box.added.seats);
        let nearest = seats.iter().map(|seat| seat.gap).min().expect("it has brackets");
        assert!(
            !nearest.is_negative() && nearest <= Length::mm(1),
            "{name}: {leg:?}, {seats:?}"
        );
    }
}

/// A wide leg keeps boxes narrow: that is told, with what goes in when each box takes its own.
#[test]
fn a_leg_that_was_entered_is_told_when_it_is_why_fewer_go_in() {
    let mut found = 0;
    for name in ["orchard-flatbed", "harbour-tender", "mountain-rescue"] {
        let mut job = built_in(name);
        job.design.added.brackets = Some(BracketsName::Web);
        let of = |job: &Job| {
            let evaluation = evaluate(job);
            let proposal = propose(job, &evaluation, Aim::Whole, BUDGET, &mut Unwatched).expect("an answer");
            let words = proposal.words(&evaluation);
            ((proposal.count(), proposal.margin), proposal.for_legs, words)
        };
        let (free, ..) = of(&job);
        *job.design.added.sizes.slot(crate::document::PartSize::BracketLeg) = Some(mm(60));
        let (entered, why, words) = of(&job);
        let is_why = matches!(why, Some(crate::layout::ForLegs::Entered(_)));
        assert_eq!(is_why, free.0 > entered.0, "{name}: {why:?}");
        if is_why {
            let (count, margin) = free;
            let go_in = crate::layout::GoIn { count, margin };
            assert_eq!(why, Some(crate::layout::ForLegs::Entered(go_in)));
            // A smaller margin than what stands beside it is told with the number.
            assert_eq!(
                words.contains(&format!("rail, {count}, with a margin of ")),
                margin != entered.1,
                "{words}"
            );
            assert!(
                words.contains("the bracket leg that was entered is why no more"),
                "{words}"
            );
            found += 1;
        }
    }
    assert!(found > 0);
}

/// A folded box of flat modules is lower than the leg of its brackets: they hang down, and the margin is kept under them.
#[test]
fn a_layout_leaves_the_margin_under_brackets_of_boxes_lower_than_their_leg() {
    let mut job = built_in("orchard-flatbed");
    for kind in &mut job.kinds {
        kind.size[2] = Some(mm(40));
    }
    job.design.added.brackets = Some(BracketsName::OwnRail);
    *job.design.added.sizes.slot(crate::document::PartSize::BracketLeg) = Some(mm(100));
    let (found, margin) = laid_out(&job);
    let mut looked_at = 0;
    for battery_box in &found.boxes {
        let lowest = battery_box.added.brackets.iter().map(|b| b.face(Face::Bottom)).min();
        let (Some(lowest), Some(body)) = (lowest, battery_box.coated) else {
            continue;
        };
        assert!(lowest < body.face(Face::Bottom));
        let space = found.cavity(battery_box.cavity).and_then(|c| c.usable);
        let room = lowest - space.expect("it is taped").face(Face::Bottom);
        assert!(room >= margin, "{}: {room:?} of {margin:?}", battery_box.name);
        looked_at += 1;
    }
    assert!(looked_at > 0);
}

/// Where a new box begins by hand its brackets have room beside and below it.
#[test]
fn a_box_that_is_begun_by_hand_keeps_room_for_its_brackets() {
    let corner = |job: &Job| crate::layout::start_corner(job, &evaluate(job));
    let mut job = built_in("orchard-flatbed");
    let bare = corner(&job);
    job.design.added.brackets = Some(BracketsName::OwnRail);
    *job.design.added.sizes.slot(crate::document::PartSize::BracketLeg) = Some(mm(90));
    let hung = corner(&job);
    let evaluation = evaluate(&job);
    // A leg of 90 from the bare wall, in place of margin, flange and coating.
    let build = crate::assumed::build(&job.design);
    let trust = crate::assumed::trust(&job.settings, job.units);
    let beside = Length::mm(90) - trust.margin - build.flange_out - trust.coating;
    assert_eq!(hung - bare, Point([beside, beside, Length::ZERO]));
    assert!(!evaluation.boxes.is_empty());
    // Begun under the foot of a frame they hang below it.
    job.design.construction = Some(crate::ConstructionName::Framed);
    let framed = corner(&job);
    job.design.added.brackets = None;
    let below = framed[geometry::Axis::Z] - corner(&job)[geometry::Axis::Z];
    // The top of the level leg is at the top of a foot of this leg, which is as high as the frame.
    let leg = job
        .design
        .frame_leg
        .as_ref()
        .map_or(crate::assumed::FRAME_LEG, Len::value);
    // Room for the tails of rivets under the foot is kept without brackets too.
    assert_eq!(below, Length::mm(90) - leg - trust.coating - crate::assumed::RIVET);
}

/// On a frame of angle the brackets begin at its foot: their legs hang below floor and rails, and the margin is theirs.
#[test]
fn a_layout_leaves_the_margin_under_brackets_that_hang_below_a_frame() {
    let mut hang = 0;
    for name in ["orchard-flatbed", "harbour-tender", "mountain-rescue"] {
        let mut job = built_in(name);
        job.design.construction = Some(crate::ConstructionName::Framed);
        job.design.frame_leg = Some(mm(20));
        job.design.frame_thickness = Some(mm(2));
        // No rivets of the usual size go in so narrow an angle.
        job.design.held = Some(crate::HeldName::Bonded);
        job.design.added.brackets = Some(BracketsName::Web);
        *job.design.added.sizes.slot(crate::document::PartSize::BracketLeg) = Some(mm(25));
        let evaluation = evaluate(&job);
        let Ok(proposal) = propose(&job, &evaluation, Aim::Whole, BUDGET, &mut Unwatched) else {
            continue;
        };
        let Some(edit) = proposal.edit(&job, 0) else { continue };
        let found = evaluate(&job.with(&edit).expect("it is taken over"));
        for battery_box in &found.boxes {
            let lowest = battery_box.added.brackets.iter().map(|b| b.face(Face::Bottom)).min();
            let (Some(lowest), Some(body)) = (lowest, battery_box.coated) else {
                continue;
            };
            assert!(lowest < body.face(Face::Bottom), "{name}, {}", battery_box.name);
            let space = found.cavity(battery_box.cavity).and_then(|c| c.usable);
            let room = lowest - space.expect("it is taped").face(Face::Bottom);
            assert!(room >= proposal.margin, "{name}, {}: {room:?}", battery_box.name);
            hang += 1;
        }
    }
    assert!(hang > 0);
}

/// A bed whose rib turns into the box as it stands, as in the test of the sweep: laid out anew nothing meets it, unless its
/// room is used.
#[test]
fn a_layout_keeps_free_what_the_bed_sweeps() {
    let mut job = built_in("orchard-flatbed");
    let evaluation = evaluate(&job);
    let place = job.cavities[0]
        .place
        .as_ref()
        .expect("it has a place")
        .each_ref()
        .map(Len::value);
    let body = evaluation.boxes[0].solids[0].moved(Point(place));
    let hinge = [
        body.face(Face::Rear) + Length::mm(440),
        (body.face(Face::Bottom) + body.face(Face::Top)).half_down(),
    ];
    let at = |length: Length| Len::exactly(length, Units::Millimetre);
    job.way_in.hinge_x = Some(at(hinge[0]));
    job.way_in.hinge_z = Some(at(hinge[1]));
    job.way_in.tilt_deg = Some(37);
    job.way_in.bed_parts.push(BedPart {
        name: "rib".to_owned(),
        from: at(hinge[0] - Length::mm(400)),
        to: at(hinge[0] - Length::mm(380)),
        lowest: at(hinge[1] - Length::mm(300)),
        highest: at(hinge[1] - Length::mm(100)),
    });
    let meets = |found: &Evaluation| {
        found
            .bed_sweep
            .as_ref()
            .is_some_and(|s| s.as_ref().is_ok_and(crate::way_in::BedSweep::meets))
    };
    assert!(meets(&evaluate(&job)), "as it stands the rib turns into the box");
    let (kept, _) = laid_out(&job);
    assert!(!meets(&kept), "{:?}", kept.bed_sweep);
    job.way_in.bed_room = Some(BedRoomName::Used);
    let (used, _) = laid_out(&job);
    assert!(meets(&used));
}

/// One box of the job has a leg of 90 of its own, the others follow their gaps: room is kept for the longest.
#[test]
fn a_leg_told_for_one_box_counts_beside_boxes_without() {
    let mut job = built_in("orchard-flatbed");
    job.design.added.brackets = Some(BracketsName::Web);
    let bare = evaluate(&job);
    let boxes: Vec<&crate::BoxResult> = bare.boxes.iter().collect();
    assert_eq!(super::told(&job, &boxes), (None, true));
    job.boxes[0].bracket_leg = Some(mm(90));
    assert!(boxes.len() > 1);
    assert_eq!(super::told(&job, &boxes), (Some(Length::mm(90)), true));
    assert_eq!(super::told(&job, &boxes[..1]), (Some(Length::mm(90)), false));
    // Each box of the examples is alone in its cavity: here all share one.
    let evaluation = evaluate(&job);
    let cavity = &evaluation.cavities[0];
    let mut together: Vec<crate::BoxResult> = evaluation.boxes.clone();
    for battery_box in &mut together {
        battery_box.cavity = cavity.id;
    }
    let together: Vec<&crate::BoxResult> = together.iter().collect();
    let build = crate::assumed::build(&job.design);
    let trust = crate::assumed::trust(&job.settings, job.units);
    let around = crate::evaluate::allowances(&build, &trust);
    let rule = crate::layout::rule::box_rule(&job, &build, &around, trust.margin).expect("boxes can be built");
    let reaches = |legs| super::Reaches::of(&job, &evaluation, &rule, cavity, (&together, legs));
    let most = |reaches: &super::Reaches| Face::ALL.map(|face| reaches.seated[face]).into_iter().max();
    assert_eq!(most(&reaches(super::Legs::AsTold)), Some(Length::mm(90)));
    assert!(most(&reaches(super::Legs::Least)) < Some(Length::mm(90)));
}
