//! Entries that contradict each other, and modules that nothing carries, are told.

mod common;

use job::{Edit, Evaluation, Field, Grave, Job, Len, evaluate};
use rstest::rstest;
use tape::{Length, Units};

fn set(job: &Job, values: &[(Field, &str)]) -> Job {
    values.iter().fold(job.clone(), |job, &(field, text)| {
        let text = text.to_owned();
        job.with(&Edit::Set { field, text }).expect("the edit fits the job")
    })
}

fn said<'a>(evaluation: &'a Evaluation, words: &str) -> Option<&'a job::Finding> {
    evaluation.findings.iter().find(|f| f.words.contains(words))
}

#[rstest]
#[case::volts(&[(Field::DriveMin, "160"), (Field::DriveMax, "100")], "its least volts, 160 V is over its most, 100 V", Grave::Stop)]
#[case::amps(&[(Field::DriveContinuous, "900"), (Field::DrivePeak, "250")], "900 A for long is over 250 A", Grave::Caution)]
fn a_pair_of_the_drive(#[case] values: &[(Field, &str)], #[case] words: &str, #[case] grave: Grave) {
    let job = common::built_in("orchard-flatbed");
    assert_eq!(said(&evaluate(&job), words), None);
    let evaluation = evaluate(&set(&job, values));
    let found = said(&evaluation, words).expect("it is told");
    assert_eq!((found.grave, found.name.as_str()), (grave, "drive"));
}

#[test]
fn a_keep_out_from_beyond_its_to() {
    let mut job = common::built_in("orchard-flatbed");
    let words = "lies beyond to";
    assert_eq!(said(&evaluate(&job), words), None);
    let keep_out = &mut job.cavities[0].keep_outs[0];
    keep_out.shape = None;
    keep_out.measured_from = None;
    (keep_out.from[0], keep_out.to[0]) = (mm(200), mm(100));
    let evaluation = evaluate(&job);
    let found = said(&evaluation, words).expect("it is told");
    assert!(found.words.starts_with("rearward: from 200 mm"), "{}", found.words);
}

#[test]
fn an_opening_larger_than_its_face() {
    let mut job = common::built_in("orchard-flatbed");
    let words = "the cavity only";
    assert_eq!(said(&evaluate(&job), words), None);
    let opening = &mut job.cavities[0].openings[0];
    opening.clear = Some([mm(3000), mm(100)]);
    assert!(said(&evaluate(&job), words).is_some());
}

fn mm(mm: i64) -> Len {
    Len::exactly(Length::mm(mm), Units::Millimetre)
}

/// The second module lifted over the first: on nothing at 25 mm over it, on its case at 2 mm.
#[rstest]
#[case::on_nothing(25, "stands on nothing", Grave::Caution)]
#[case::on_its_case(2, "stands on other modules", Grave::Note)]
fn a_module_over_another(#[case] gap_mm: i64, #[case] words: &str, #[case] grave: Grave) {
    let mut job = common::built_in("orchard-flatbed");
    assert_eq!(said(&evaluate(&job), "stands on"), None);
    let before = evaluate(&job).boxes[0].modules[0].cuboid.size().0[2];
    let modules = &mut job.boxes[0].modules;
    let below = modules[0].clone();
    modules[1].stands = below.stands;
    modules[1].at = below.at.clone();
    modules[1].at[2] = Len::exactly(below.at[2].value() + before + Length::mm(gap_mm), Units::Millimetre);
    let evaluation = evaluate(&job);
    let found = said(&evaluation, words).expect("it is told");
    assert_eq!(found.grave, grave);
    let label = &evaluation.boxes[0].modules[1].label;
    assert!(found.words.starts_with(label.as_str()), "{}", found.words);
}
