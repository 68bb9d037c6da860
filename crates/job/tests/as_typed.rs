//! Values as a person types them and reads them again: units that were meant, pounds, revisions, numbers of modules.

use geometry::{Axis, Orientation, Point};
use job::{Edit, EditError, Field, History, Issued, Job, TruckField, UnitsName, example, field, load};
use rstest::rstest;

fn job(name: &str) -> Job {
    load(example(name).expect("a built-in job").text.as_bytes()).expect("it loads")
}

fn set(job: &Job, field: Field, text: &str) -> Result<Job, EditError> {
    job.with(&Edit::Set {
        field,
        text: text.to_owned(),
    })
}

fn shown(job: &Job, field: Field) -> String {
    field::show(job, &[field]).pop().expect("the field is there").1.text
}

fn refused(job: &Job, field: Field, text: &str) -> String {
    let error = set(job, field, text).expect_err("it is refused");
    format!("{error}; {}", error.mend())
}

#[rstest]
#[case::sheet_in_inches(UnitsName::Inch, Field::Wall, "4", "did you mean 4 mm?")]
#[case::named_unit_is_meant(UnitsName::Inch, Field::Wall, "400 mm", "check the unit")]
#[case::no_unit_helps(UnitsName::Inch, Field::Wall, "400", "check the unit")]
fn a_length_in_the_other_unit_is_asked_for(
    #[case] units: UnitsName,
    #[case] field: Field,
    #[case] text: &str,
    #[case] mend: &str,
) {
    let words = refused(&Job::empty(units), field, text);
    assert!(words.contains(mend), "{words}");
}

#[rstest]
#[case::pounds("2680 lb", "2680 lb")]
#[case::tenths("14.5 lb", "14.5 lb")]
#[case::kilograms("14.5 kg", "14.5 kg")]
#[case::bare("237", "237 kg")]
#[case::grams("14.503 kg", "14.503 kg")]
fn a_mass_reads_as_it_was_typed(#[case] typed: &str, #[case] reads: &str) {
    let empty = Job::empty(UnitsName::Inch);
    let field = Field::KindMass(empty.kinds[0].id);
    let job = set(&empty, field, typed).expect("the field takes it");
    assert_eq!(shown(&job, field), reads);
    // What is shown can be typed again, and is the same.
    let again = set(&job, field, reads).expect("the field takes what it shows");
    assert_eq!(again, job);
}

#[test]
fn a_mass_in_a_metric_job_is_never_told_in_pounds() {
    let empty = Job::empty(UnitsName::Millimetre);
    let field = Field::KindMass(empty.kinds[0].id);
    let job = set(&empty, field, "2680 lb").expect("the field takes it");
    assert_eq!(shown(&job, field), "1215.628 kg");
}

#[test]
fn volts_are_asked_for_as_their_sign_is_written() {
    let words = refused(&Job::empty(UnitsName::Inch), Field::DriveMin, "lots");
    assert!(words.contains("as 25.6 V"), "{words}");
}

#[rstest]
#[case::semicolons("40; -36 1/2; 18")]
#[case::commas("40, -36 1/2, 18")]
fn a_place_in_the_truck_is_three_lengths(#[case] typed: &str) {
    let empty = Job::empty(UnitsName::Inch);
    let field = Field::OfTruck(TruckField::CavityAt(empty.cavities[0].id));
    let job = set(&empty, field, typed).expect("the field takes it");
    assert_eq!(shown(&job, field), "40\"; -36 1/2\"; 18\"");
    let words = refused(&empty, field, "40");
    assert!(words.contains("40; -36 1/2; 18"), "{words}");
    assert!(field.help().contains("40; -36 1/2; 18"));
}

#[test]
fn a_revision_is_letters_and_goes_forward() {
    let mut job = job("orchard-flatbed");
    for (typed, why) in [("30", "letters A to Z"), ("A1", "letters A to Z")] {
        let words = refused(&job, Field::Revision, typed);
        assert!(words.contains(why), "{typed}: {words}");
    }
    for typed in ["A", "b", "C", "AA", ""] {
        set(&job, Field::Revision, typed).unwrap_or_else(|e| panic!("{typed}: {e}"));
    }
    job.issued.push(Issued {
        revision: "C".to_owned(),
        ..Issued::default()
    });
    let words = refused(&job, Field::Revision, "B");
    assert!(words.contains("B comes before C, which was issued"), "{words}");
    set(&job, Field::Revision, "AA").expect("two letters come after one");
}

#[test]
fn modules_of_a_new_job_count_from_one() {
    let mut job = Job::empty(UnitsName::Inch);
    let (cavity, kind) = (job.cavities[0].id, job.kinds[0].id);
    job = job
        .with(&Edit::AddBox {
            cavity,
            at: Point::ZERO,
        })
        .expect("a box goes in");
    let into = job.boxes[0].id;
    let add = |job: &Job| {
        job.with(&Edit::AddModule {
            into,
            kind,
            at: Point::ZERO,
            stands: Orientation::UPRIGHT,
            count: 1,
        })
        .expect("a module goes in")
    };
    job = add(&add(&job));
    job = job
        .with(&Edit::AddBox {
            cavity,
            at: Point::ZERO,
        })
        .expect("another box goes in");
    job = add(&job);
    let labels: Vec<String> = job.boxes[0].modules.iter().map(job::Placed::label).collect();
    assert_eq!(labels, ["M1", "M2", "M3"]);
}

#[test]
fn a_module_of_a_stored_job_never_takes_the_number_of_something_else() {
    let mut job = job("orchard-flatbed");
    let (into, kind) = (job.boxes[0].id, job.kinds[0].id);
    for _ in 0..30 {
        job = job
            .with(&Edit::AddModule {
                into,
                kind,
                at: Point::ZERO,
                stands: Orientation::UPRIGHT,
                count: 1,
            })
            .expect("every number is free");
    }
    let before = load(example("orchard-flatbed").expect("built in").text.as_bytes()).expect("it loads");
    let label = |job: &Job, at: usize| job.boxes[0].modules[at].label();
    assert_eq!(label(&job, 0), label(&before, 0), "what is there keeps its number");
}

#[test]
fn a_nudge_is_told_in_marks_of_the_tape() {
    let mut history = History::new(job("orchard-flatbed"));
    let module = history.job().boxes[0].modules[0].id;
    let nudge = |by: i64| Edit::NudgeModule {
        module,
        by: Point::along(Axis::Y, tape::Length::from_nm(by)),
    };
    history.apply(nudge(-7_630_189)).expect("it moves");
    assert_eq!(history.undo().as_deref(), Some("nudge M13 by 19/64\" left"));
}

/// In a job in inches what the program worked out is read in inches first: places of a layout, defaults, stock of metric sizes.
/// 226 mm are 8.8976 in, 8 57/64; what was typed stays as it was typed, and what is typed over is the exact text.
#[test]
fn what_was_worked_out_is_read_in_inches_first() {
    let job = job("orchard-flatbed");
    assert_eq!(job.units.units(), tape::Units::Inch);
    let shown = |job: &Job, of: Field| field::show(job, &[of])[0].1.clone();
    let datum = Field::BoxAt(job.boxes[0].id, Axis::X);
    assert_eq!(shown(&job, datum).text, "226 mm");
    assert_eq!(shown(&job, datum).read_text(), "8 57/64\" (226 mm)");
    // 5 mm are 0.19685 in, 13/64 (0.2031) is nearer than 12/64.
    let assumed = Field::PartSize(job::PartSize::BracketThickness);
    assert_eq!(shown(&job, assumed).read_text(), "13/64\" (5 mm)");
    let typed = set(&job, assumed, "5 mm").expect("it fits");
    assert_eq!(shown(&typed, assumed).read_text(), "5 mm");
    let metric = set(&job, Field::Units, "millimetres").expect("it fits");
    assert_eq!(shown(&metric, datum).read_text(), "226 mm");
    assert_eq!(shown(&metric, assumed).read_text(), "5 mm");
    let sheet = job::nesting::Piece {
        sides: [2_500, 1_250].map(tape::Length::mm),
        on_hand: None,
        price: None,
        assumed: true,
    };
    assert_eq!(
        sheet.size_text(tape::Units::Inch),
        "1250x2500 mm (49 3/16\" x 98 7/16\")"
    );
    assert_eq!(sheet.size_text(tape::Units::Millimetre), "1250x2500 mm");
}
