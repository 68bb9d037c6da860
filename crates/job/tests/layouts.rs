//! A layout that is taken over must stand up to the evaluation: no stop, and the margin that was promised.

mod common;

use common::built_in;
use geometry::fit::{Budget, Unwatched};
use job::layout::{Aim, propose};
use job::{Edit, Field, Grave, Job, evaluate};
use rstest::rstest;

fn with(job: Job, changes: &[(Field, &str)]) -> Job {
    changes.iter().fold(job, |job, (field, text)| {
        let edit = Edit::Set {
            field: *field,
            text: (*text).to_owned(),
        };
        job.with(&edit).expect("the change fits the job")
    })
}

#[rstest]
#[case::as_it_is(&[])]
#[case::coated(&[(Field::Coating, "0.125 mm")])]
#[case::flange_with_screws(&[(Field::Closing, "flat lid on a flange"), (Field::FlangeOut, "25 mm"), (Field::ScrewHead, "6 mm"), (Field::ScrewBelow, "10 mm")])]
#[case::cap(&[(Field::Closing, "cap with a skirt"), (Field::CapOut, "6 mm"), (Field::CapDeep, "55 mm")])]
#[case::plain_lid(&[(Field::Closing, "flat lid on the rim"), (Field::Liner, "3 mm"), (Field::Fit, "5 mm")])]
#[case::rooms(&[(Field::RoomOver, "40 mm"), (Field::RoomEnds, "30 mm")])]
#[case::bay(&[(Field::Bay, "120 mm")])]
#[case::small_margin(&[(Field::Margin, "3 mm"), (Field::Gap, "1/4\"")])]
#[case::no_margin(&[(Field::Margin, "0 mm"), (Field::Gap, "0 mm")])]
#[case::several_boxes(&[(Field::BoxesPerCavity, "3"), (Field::BoxKg, "70 kg")])]
fn what_is_taken_over_keeps_what_was_promised(
    #[case] changes: &[(Field, &str)],
    #[values("orchard-flatbed", "harbour-tender", "mountain-rescue")] name: &str,
) {
    let job = with(built_in(name), changes);
    let before = evaluate(&job);
    let proposal = propose(
        &job,
        &before,
        Aim::Whole,
        Budget { work: 200_000, seed: 1 },
        &mut Unwatched,
    )
    .unwrap();
    let edit = proposal
        .edit(&job, 0)
        .expect("there is always a layout, if an empty one");
    let promised = format!("{} mm", proposal.margin.as_mm());
    let laid_out = with(job.with(&edit).unwrap(), &[(Field::Margin, &promised)]);
    let evaluation = evaluate(&laid_out);
    assert_eq!(evaluation.headline.placed, proposal.answer.layouts[0].count);
    let short: Vec<String> = evaluation
        .findings
        .iter()
        .filter(|f| f.grave == Grave::Stop || f.words.contains("less than the"))
        .map(|f| format!("{}: {}", f.name, f.words))
        .collect();
    assert_eq!(short, Vec::<String>::new());
}

/// Hung on two rails, a box stands in the middle between them, since one length of leg is cut for both sides: its brackets reach
/// both, unless the gaps are wider than the longest leg on sale, where a leg that does is told.
#[rstest]
fn what_hangs_on_the_web_of_two_rails_reaches_both(
    #[values("orchard-flatbed", "harbour-tender", "mountain-rescue")] name: &str,
) {
    let job = with(built_in(name), &[(Field::Brackets, "to the web of a rail")]);
    let budget = Budget { work: 200_000, seed: 1 };
    let before = evaluate(&job);
    let proposal = propose(&job, &before, Aim::Whole, budget, &mut Unwatched).unwrap();
    let laid_out = job.with(&proposal.edit(&job, 0).expect("it is offered")).unwrap();
    let evaluation = evaluate(&laid_out);
    for battery_box in &evaluation.boxes {
        let [one, other] = battery_box.added.seats.as_slice() else {
            panic!("{}: {:?}", battery_box.name, battery_box.added.seats);
        };
        let askew = (one.gap - other.gap).abs();
        assert!(askew <= tape::Length::mm(1), "{}: {one:?} {other:?}", battery_box.name);
    }
    let stops: Vec<_> = evaluation.findings.iter().filter(|f| f.grave == Grave::Stop).collect();
    assert!(stops.is_empty(), "{stops:?}");
}
