//! What a layout offers: candidates, one box by itself, wanted numbers, pinned modules, and spreading.

mod common;

use common::{built_in, plain};
use geometry::fit::{BoxPlace, Budget, Layout, Placement, Unwatched};
use geometry::{Cuboid, Point, Size};
use job::layout::{Aim, Count, Which, propose, propose_any, question, spread, take_over};
use job::{Edit, EditError, Evaluation, Field, Grave, History, Id, Job, evaluate, load, to_text};
use rstest::rstest;
use tape::Length;

const BUDGET: Budget = Budget { work: 200_000, seed: 1 };
const EXAMPLES: [&str; 3] = ["orchard-flatbed", "harbour-tender", "mountain-rescue"];

fn with(job: &Job, field: Field, text: &str) -> Job {
    let text = text.to_owned();
    job.with(&Edit::Set { field, text }).expect("the change fits the job")
}

fn in_box(evaluation: &Evaluation, id: Id) -> u32 {
    evaluation
        .battery_box(id)
        .expect("the box is there")
        .modules
        .iter()
        .map(|m| m.count)
        .sum()
}

#[rstest]
fn a_candidate_is_the_evaluation_of_the_job_with_it(#[values(0, 1, 2)] example: usize) {
    let job = built_in(EXAMPLES[example]);
    let proposal = propose(&job, &evaluate(&job), Aim::Whole, BUDGET, &mut Unwatched).unwrap();
    let candidates = proposal.candidates(&job);
    assert_eq!(candidates.len(), proposal.offered());
    for candidate in candidates {
        let after = evaluate(&job.with(&candidate.edit).unwrap());
        let figures = &candidate.figures;
        assert_eq!(candidate.evaluation, after);
        assert_eq!(figures.count, proposal.layout(candidate.index).unwrap().count);
        assert_eq!(figures.boxes, after.boxes.len());
        assert_eq!(figures.arrangement, after.headline.arrangement);
        let heaviest = after.boxes.iter().map(|b| b.mass.total_g()).max();
        assert_eq!(figures.heaviest.as_ref().map(|h| h.mass_g), heaviest);
        let least = after
            .boxes
            .iter()
            .flat_map(|b| &b.around)
            .map(|a| a.tightest().sure())
            .min();
        assert_eq!(figures.tightest.as_ref().map(|t| t.clearance.sure()), least);
    }
}

/// With half an inch of margin the orchard's crates go in as 4 and 6, so that a string crosses. Five and five stand in
/// rows across, which leaves less above and below; and one string alone needs but one box.
#[test]
fn what_is_given_up_for_whole_strings_or_fewer_boxes_is_offered_too() {
    let job = plain("orchard-flatbed");
    let proposal = propose(&job, &evaluate(&job), Aim::Whole, BUDGET, &mut Unwatched).unwrap();
    let figures: Vec<_> = proposal
        .candidates(&job)
        .into_iter()
        .map(|c| (c.margin, c.figures))
        .collect();
    let told = |margin: Length| {
        let of = figures.iter().filter(move |(other, _)| *other == margin);
        of.map(|(_, f)| (f.count, f.boxes, f.crossing)).collect::<Vec<_>>()
    };
    assert_eq!(told(Length::sixty_fourths(32)), [(10, 2, 1), (5, 1, 0)]);
    let narrower = figures
        .iter()
        .find(|(margin, _)| *margin < Length::sixty_fourths(32))
        .unwrap();
    assert_eq!((narrower.1.count, narrower.1.boxes, narrower.1.crossing), (10, 2, 0));
    let tightest = narrower.1.tightest.as_ref().unwrap().clearance.distance;
    assert!(tightest >= narrower.0, "it keeps the margin it was laid out with");
    // The first is what is taken unless another is asked for.
    assert_eq!(figures[0].1.crossing, 1);
}

/// Where the strings stand whole in their boxes already, no more margin is given up; what goes in with the margin asked
/// for is offered beside what goes in with less, and nothing twice.
#[test]
fn nothing_is_given_up_for_nothing() {
    let job = plain("harbour-tender");
    let proposal = propose(&job, &evaluate(&job), Aim::Whole, BUDGET, &mut Unwatched).unwrap();
    let asked = evaluate(&job).margin;
    assert!(proposal.margin < asked);
    let told = proposal.others.iter().map(|other| (other.margin, other.layout.count));
    assert_eq!(told.collect::<Vec<_>>(), [(asked, 8)]);
}

#[test]
fn the_centre_of_the_modules_is_as_weighed_by_hand() {
    // Equal modules, all upright in one layer: the middle of each is as high as the common centre of its box.
    let job = built_in("orchard-flatbed");
    let evaluation = evaluate(&job);
    let heights = evaluation.boxes.iter().flat_map(|b| {
        let floor = job.cavity(b.cavity).unwrap().place.as_ref().unwrap()[2].value();
        b.modules
            .iter()
            .map(move |m| (m.cuboid.lo().0[2] + m.cuboid.hi().0[2]).nm() / 2 + floor.nm())
    });
    let heights: Vec<i64> = heights.collect();
    let mean = heights.iter().sum::<i64>() / i64::try_from(heights.len()).unwrap();
    let centre = evaluation.headline.centre.unwrap();
    assert_eq!(centre.above, job::Above::Ground);
    assert!((centre.height.nm() - mean).abs() <= 1, "{centre:?} and {mean}");
}

#[rstest]
fn one_box_is_laid_out_anew_and_everything_else_stays(#[values(0, 1, 2)] example: usize) {
    let job = built_in(EXAMPLES[example]);
    let id = job.boxes[0].id;
    let proposal = propose(&job, &evaluate(&job), Aim::Box(id), BUDGET, &mut Unwatched).unwrap();
    let edit = proposal.edit(&job, 0).unwrap();
    let after = job.with(&edit).unwrap();
    assert_eq!(after.boxes.len(), job.boxes.len());
    assert_eq!(after.boxes[1..], job.boxes[1..]);
    assert_eq!((after.boxes[0].id, &after.boxes[0].name), (id, &job.boxes[0].name));
    let evaluation = evaluate(&after);
    assert_eq!(in_box(&evaluation, id), proposal.count());
    let before = evaluate(&job);
    assert!(
        proposal.count() >= in_box(&before, id),
        "no module is lost to the margin"
    );
    let kind = &evaluation.kinds[0];
    assert!(kind.placed <= kind.on_hand.unwrap(), "no more than are on hand");
    assert_eq!(evaluation.headline.stops, 0);
    let short = evaluation
        .findings
        .iter()
        .filter(|f| f.name == job.boxes[0].name && f.words.contains("less than the"));
    if proposal.margin == before.margin {
        assert_eq!(short.count(), 0, "every margin is kept");
    } else {
        assert!(proposal.words(&before).contains("but only with a margin of"));
    }
}

#[test]
fn one_of_two_boxes_in_a_cavity_keeps_clear_of_the_other() {
    let job = with(&plain("harbour-tender"), Field::BoxesPerCavity, "2");
    let first = evaluate(&job);
    // Both boxes in one cavity: the second is what is left of the first's place.
    let fill = Aim::Fill(job.cavities[1].id);
    let laid = propose(&job, &first, fill, BUDGET, &mut Unwatched).unwrap();
    let job = job.with(&laid.edit(&job, 0).unwrap()).unwrap();
    let cavity = job.cavities[1].id;
    let here: Vec<Id> = job.boxes.iter().filter(|b| b.cavity == cavity).map(|b| b.id).collect();
    for &id in &here {
        let anew = propose(&job, &evaluate(&job), Aim::Box(id), BUDGET, &mut Unwatched).unwrap();
        let after = evaluate(&job.with(&anew.edit(&job, 0).unwrap()).unwrap());
        let clash = |f: &&job::Finding| {
            here.iter().any(|i| f.subject == job::Subject::Box(*i))
                && f.grave != Grave::Note
                && !f.words.starts_with("the chance")
                && !f.words.starts_with("no breather")
        };
        assert_eq!(after.findings.iter().find(clash), None);
    }
}

#[test]
fn a_box_of_fixed_size_is_not_laid_out_anew() {
    let job = built_in("orchard-flatbed");
    let id = job.boxes[0].id;
    let job = with(&job, Field::BoxSize(id), "fixed");
    let refusal = question(&job, &evaluate(&job), Aim::Box(id)).unwrap_err();
    assert!(
        refusal.needs.contains("fixed size") && refusal.needs.contains("left box"),
        "{refusal}"
    );
}

#[test]
fn a_wanted_number_is_laid_out_and_taken_over_in_one_step() {
    let job = built_in("mountain-rescue");
    let count: Count = "12s2p".parse().unwrap();
    let evaluation = evaluate(&job);
    let proposal = propose(&job, &evaluation, Aim::Wanted(count), BUDGET, &mut Unwatched).unwrap();
    assert_eq!(proposal.count(), 24);
    assert!(proposal.is_all());
    assert_eq!(proposal.words(&evaluation), "wanted 12s2p = 24: all go in");
    let mut history = History::new(job.clone());
    history.apply(proposal.edit(&job, 0).unwrap()).unwrap();
    assert_eq!(
        (history.job().wanted.series, history.job().wanted.parallel),
        (Some(12), Some(2))
    );
    let pack = &evaluate(history.job()).packs[0];
    assert_eq!(pack.arrangement.map(Count::from), Some(count));
    assert_eq!(history.undo().unwrap(), "take over the layout of 12s2p");
    assert_eq!(history.job(), &job);
}

#[test]
fn a_wanted_number_that_does_not_go_in_says_how_many_do() {
    // The orchard's cavities hold 10 or so crates; on hand there are enough for 13.
    let job = built_in("orchard-flatbed");
    let kind = job.kinds[0].id;
    let job = with(&job, Field::KindOnHand(kind), "60");
    let evaluation = evaluate(&job);
    let count: Count = "12s5p".parse().unwrap();
    let proposal = propose(&job, &evaluation, Aim::Wanted(count), BUDGET, &mut Unwatched).unwrap();
    let (found, most) = (proposal.count(), proposal.answer.upper_bound);
    assert!(found < 60 && found > 0 && !proposal.is_all());
    let words = proposal.words(&evaluation);
    assert!(
        words.starts_with(&format!("wanted 12s5p = 60: {found} go in")),
        "{words}"
    );
    let bounded = words.contains(&format!("at most {most} by")) || words.contains("no more can go in");
    assert!(bounded || words.contains("but only with a margin of"), "{words}");
}

#[test]
fn of_several_wanted_numbers_the_first_that_goes_in_is_taken() {
    let job = built_in("mountain-rescue");
    let evaluation = evaluate(&job);
    let counts = job::layout::counts("50s2p,12s3p,12s2p").unwrap();
    let proposal = propose_any(&job, &evaluation, &counts, BUDGET, &mut Unwatched).unwrap();
    assert_eq!(proposal.question.aim, Aim::Wanted(counts[1]));
    // 50s2p takes 100 and 50 tiles are on hand: refused, when nothing else is acceptable.
    let refusal = propose_any(&job, &evaluation, &counts[..1], BUDGET, &mut Unwatched).unwrap_err();
    assert!(
        refusal
            .needs
            .starts_with("50s2p takes 100 modules, and 50 of tile are on hand"),
        "{refusal}"
    );
}

#[test]
fn strings_that_run_from_box_to_box_are_told() {
    // Five crates in each box make two strings of five, or one of ten.
    let job = built_in("orchard-flatbed");
    let five = with(&job, Field::WantedSeries, "5");
    let ten = with(&job, Field::WantedSeries, "10");
    let told = |job: &Job| {
        let evaluation = evaluate(job);
        let words = evaluation
            .findings
            .iter()
            .find(|f| f.words.contains("from box to box"))
            .map(|f| f.words.clone());
        (evaluation.headline.crossing, words)
    };
    assert_eq!(told(&five), (0, None));
    let words = "the string of 10 has to run from box to box: left box holds 5, right box holds 5";
    assert_eq!(told(&ten), (1, Some(words.to_owned())));
}

#[test]
fn a_pinned_module_is_not_moved_by_a_slip_of_a_key() {
    let start = built_in("orchard-flatbed");
    let (battery_box, module) = (start.boxes[0].id, start.boxes[0].modules[0].id);
    let mut history = History::new(start.clone());
    history.apply(Edit::Pin { module, pinned: true }).unwrap();
    let pinned = history.job().clone();
    let by = Point([Length::mm(1), Length::ZERO, Length::ZERO]);
    let to = pinned.boxes[1].id;
    let stands = geometry::Orientation::UPRIGHT.turned();
    for edit in [
        Edit::NudgeModule { module, by },
        Edit::NudgeBox { battery_box, by },
        Edit::Turn { module, to: stands },
        Edit::MoveToBox { module, to, at: by },
    ] {
        let refusal = history.apply(edit).unwrap_err();
        assert!(matches!(&refusal, EditError::Pinned(label) if *label == format!("M{}", module.0)));
        assert_eq!(refusal.mend(), format!("unpin M{} first", module.0));
        assert_eq!(history.job(), &pinned);
    }
    let evaluation = evaluate(&pinned);
    assert!(evaluation.module(module).unwrap().1.pinned);
    assert_eq!(load(to_text(&pinned).as_bytes()).as_ref(), Ok(&pinned));
    assert!(
        !to_text(&start).contains("pinned"),
        "a job without pins is written as before"
    );
    assert_eq!(history.undo().unwrap(), format!("pin M{}", module.0));
    assert_eq!(history.job(), &start);
}

#[test]
fn pinned_modules_are_told_box_by_box_and_keep_their_numbers() {
    let mut job = built_in("orchard-flatbed");
    let pins: Vec<Id> = [(1, 0), (1, 3), (0, 2)]
        .map(|(b, m): (usize, usize)| job.boxes[b].modules[m].id)
        .to_vec();
    for &module in &pins {
        job = job.with(&Edit::Pin { module, pinned: true }).unwrap();
    }
    let evaluation = evaluate(&job);
    let asked = question(&job, &evaluation, Aim::Whole).unwrap();
    let told: Vec<(Option<usize>, Cuboid)> = asked.request.pinned.iter().map(|p| (p.in_box, p.cuboid)).collect();
    let cuboid = |id: Id| evaluation.module(id).unwrap().1.cuboid;
    assert_eq!(
        told,
        [
            (Some(0), cuboid(pins[2])),
            (Some(1), cuboid(pins[0])),
            (Some(1), cuboid(pins[1]))
        ]
    );

    // A layout made by hand: the pinned ones as told, one new module beside them and one in a box of its own.
    let new = |in_box: usize, x: i64| Placement {
        in_box: Some(in_box),
        cuboid: Cuboid::at(
            Point([Length::mm(x), Length::mm(7), Length::mm(9)]),
            Size([Length::mm(10); 3]),
        ),
        ..asked.request.pinned[0]
    };
    let place = |cavity: usize| BoxPlace {
        cavity,
        body: Cuboid::default(),
        inside: Cuboid::default(),
        bay: None,
    };
    let mut placements = asked.request.pinned.clone();
    placements.extend([new(0, 500), new(2, 900)]);
    let layout = Layout {
        boxes: vec![place(0), place(1), place(0)],
        placements,
        count: 5,
        ..Layout::default()
    };
    let Edit::AcceptLayout(boxes) = take_over(&job, &asked, &layout) else {
        panic!("a whole layout is accepted as such");
    };
    assert_eq!(boxes.len(), 3);
    for (after, before) in boxes.iter().zip(&job.boxes) {
        assert_eq!(
            (after.id, &after.name, after.datum()),
            (before.id, &before.name, before.datum())
        );
        let kept: Vec<_> = before.modules.iter().filter(|m| m.pinned).cloned().collect();
        assert_eq!(after.modules[..kept.len()], kept);
    }
    let added = &boxes[0].modules[1];
    assert_eq!(
        boxes[0].datum() + added.corner(),
        Point([Length::mm(500), Length::mm(7), Length::mm(9)])
    );
    assert_eq!(boxes[2].name, "left saddle box");
    // New numbers are those of nothing that stays.
    let taken = job.with(&Edit::AcceptLayout(boxes)).unwrap();
    assert!(pins.iter().all(|&id| taken.placed(id).is_some()));
}

#[test]
fn pinned_modules_in_a_box_of_fixed_size_are_refused() {
    let job = built_in("orchard-flatbed");
    let (id, module) = (job.boxes[0].id, job.boxes[0].modules[0].id);
    let job = with(&job, Field::BoxSize(id), "fixed");
    let job = job.with(&Edit::Pin { module, pinned: true }).unwrap();
    let refusal = question(&job, &evaluate(&job), Aim::Whole).unwrap_err();
    assert!(refusal.needs.contains("unpin"), "{refusal}");
}

#[test]
fn numbers_that_run_out_at_the_top_go_on_below() {
    let mut job = built_in("orchard-flatbed");
    job.cavities[0].keep_outs[0].id = Id(1_000_000);
    let more = job.with(&Edit::AddCavity).unwrap().with(&Edit::AddKind).unwrap();
    let (cavity, kind) = (more.cavities.last().unwrap().id, more.kinds.last().unwrap().id);
    assert!(cavity.0 < 1_000_000 && kind.0 < 1_000_000 && cavity != kind);
    let laid = propose(&job, &evaluate(&job), Aim::Whole, BUDGET, &mut Unwatched).unwrap();
    job.with(&laid.edit(&job, 0).unwrap()).unwrap();
}

#[test]
fn on_hand_is_what_was_entered_though_more_are_placed() {
    let job = built_in("orchard-flatbed");
    let kind = job.kinds[0].id;
    let evaluation = evaluate(&with(&job, Field::KindOnHand(kind), "7"));
    assert_eq!((evaluation.packs[0].on_hand, evaluation.packs[0].placed), (7, 10));
}

#[rstest]
fn spreading_never_makes_the_least_clearance_smaller(
    #[values(0, 1, 2)] example: usize,
    #[values("all", "cavity", "box")] what: &str,
) {
    let job = built_in(EXAMPLES[example]);
    let before = evaluate(&job);
    let which = match what {
        "all" => Which::AllBoxes,
        "cavity" => Which::Boxes(job.cavities[0].id),
        _ => Which::Modules(job.boxes[0].id),
    };
    let spreading = spread(&job, &before, which).unwrap();
    assert!(spreading.after >= spreading.before);
    assert!(spreading.words.contains(" clearance"), "{}", spreading.words);
    let after = job.with(&spreading.edit).unwrap();
    let ids = |job: &Job| -> Vec<Id> { job.boxes.iter().flat_map(|b| b.modules.iter().map(|m| m.id)).collect() };
    assert_eq!(ids(&after), ids(&job));
    let evaluation = evaluate(&after);
    assert!(evaluation.headline.stops <= before.headline.stops);
    // What is told is what the evaluation then finds: the least that a box has beyond what is asked.
    if what == "all" {
        let clear = evaluation.boxes.iter().flat_map(|b| &b.around);
        let least = clear.map(|a| a.nearest.distance - a.nearest.asked).min().unwrap();
        assert!(least >= spreading.after, "{least:?} {spreading:?}");
    }
    let again = spread(&after, &evaluation, which).unwrap();
    assert_eq!(again.after, spreading.after, "there is no more to gain");
    let mut history = History::new(job.clone());
    history.apply(spreading.edit).unwrap();
    if history.job() != &job {
        assert!(history.undo().unwrap().starts_with("spread "));
    }
    assert_eq!(history.job(), &job);
}

#[test]
fn what_is_pinned_does_not_spread() {
    let job = built_in("mountain-rescue");
    let module = job.boxes[0].modules[0].id;
    let job = job.with(&Edit::Pin { module, pinned: true }).unwrap();
    let spreading = spread(&job, &evaluate(&job), Which::Modules(job.boxes[0].id)).unwrap();
    let after = job.with(&spreading.edit).unwrap();
    let at = |job: &Job| evaluate(job).module(module).unwrap().1.cuboid;
    assert_eq!(at(&after), at(&job));
}

#[rstest]
fn a_layout_never_moves_what_is_pinned(#[values(0, 1, 2)] example: usize, #[values(0, 1)] in_box: usize) {
    let job = built_in(EXAMPLES[example]);
    let module = job.boxes[in_box].modules[0].id;
    let job = job.with(&Edit::Pin { module, pinned: true }).unwrap();
    let before = evaluate(&job);
    let (was_in, was) = before.module(module).unwrap();
    let aims = [Aim::Whole, Aim::Fill(was_in.cavity), Aim::Box(was_in.id)];
    for aim in aims {
        let proposal = propose(&job, &before, aim, BUDGET, &mut Unwatched).unwrap();
        assert!(proposal.count() > 0);
        for candidate in proposal.candidates(&job) {
            let (is_in, is) = candidate.evaluation.module(module).unwrap();
            assert_eq!((is.cuboid, is.stands, is.pinned), (was.cuboid, was.stands, true));
            assert_eq!((is_in.id, &is_in.name), (was_in.id, &was_in.name));
        }
    }
}

#[test]
fn a_module_pinned_in_a_wall_is_told() {
    let job = built_in("orchard-flatbed");
    let (battery_box, module) = (job.boxes[0].id, job.boxes[0].modules[0].id);
    let by = Point([Length::mm(-500), Length::ZERO, Length::ZERO]);
    let job = job.with(&Edit::NudgeBox { battery_box, by }).unwrap();
    let job = job.with(&Edit::Pin { module, pinned: true }).unwrap();
    let refused = propose(&job, &evaluate(&job), Aim::Whole, BUDGET, &mut Unwatched).unwrap_err();
    let label = evaluate(&job).module(module).unwrap().1.label.clone();
    let name = &job.boxes[0].name;
    assert_eq!(
        refused.needs,
        format!(
            "{label} is pinned where it cannot stay: {name} round it would be in the front wall; unpin it, or move it"
        )
    );
}

/// Three fewer than a string takes: no pack, and the energy of those that are there.
#[test]
fn a_string_that_is_not_whole_is_told_as_what_there_is_of_it() {
    let mut job = built_in("harbour-tender");
    let whole = evaluate(&job).headline;
    let strings = whole.arrangement.expect("it is laid out");
    let placed = strings.series - 3;
    job.wanted.series = Some(strings.series);
    let mut left = placed;
    for battery_box in &mut job.boxes {
        battery_box.modules.retain(|m| {
            let keep = m.count <= left;
            left -= if keep { m.count } else { 0 };
            keep
        });
    }
    let evaluation = evaluate(&job);
    let figures = job::layout::Figures::of(&evaluation);
    assert_eq!((figures.count, figures.missing), (placed, 3));
    assert_eq!(figures.strings(), Some(format!("{placed} of {}s", strings.series)));
    assert_eq!(figures.volts, None);
    let each = whole.energy_kwh.expect("energy is known") / f64::from(strings.modules());
    let energy = figures.energy_kwh.expect("energy is known");
    assert!((energy - each * f64::from(placed)).abs() < 1e-9, "{energy}");
}

/// A box a quarter inch into the floor: up by that it is clear, though the margin asked for is not there.
#[test]
fn one_that_overlaps_is_moved_clear_though_the_margin_stays_short() {
    let job = built_in("orchard-flatbed");
    let bottom = geometry::Face::Bottom;
    let before = evaluate(&job);
    let tight = &before.boxes[0];
    let free = tight.around.as_ref().expect("it stands").faces[bottom.index()].distance;
    let up = job.boxes[0].at[2].value() - free - Length::sixty_fourths(16);
    let job = with(
        &job,
        Field::BoxAt(job.boxes[0].id, geometry::Axis::Z),
        &format!("{} mm", up.as_mm()),
    );
    let evaluation = evaluate(&job);
    let into: Vec<_> = evaluation
        .findings
        .iter()
        .filter(|f| f.grave == Grave::Stop && f.words.starts_with("runs into"))
        .collect();
    assert!(!into.is_empty());
    for finding in into {
        assert!(
            finding.fix.starts_with("move it up by"),
            "{}: {}",
            finding.words,
            finding.fix
        );
    }
    let tightest = evaluation.headline.tightest.expect("boxes stand");
    assert!(tightest.clearance.distance.is_negative());
    assert_eq!(tightest.fits, None);
}
