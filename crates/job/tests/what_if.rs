//! What one more would take, what keep-outs cost, how wrong readings may be: against sums by hand and by laying the
//! changed job out again.

mod common;

use common::built_in;
use geometry::fit::{self, Budget, Unwatched};
use geometry::{Axis, Face};
use job::layout::{Aim, Which, propose, question, spread};
use job::what_if::{Amount, Figure, Goal, Outcome, Tolerance, WhatIf, ask, gains, tolerances, what_if};
use job::{Edit, Evaluation, Field, Id, Job, UnitsName, evaluate};
use rstest::rstest;
use tape::Length;

const BUDGET: Budget = Budget { work: 50_000, seed: 1 };

fn set(job: Job, changes: &[(Field, &str)]) -> Job {
    changes.iter().fold(job, |job, (field, text)| {
        let edit = Edit::Set {
            field: *field,
            text: (*text).to_owned(),
        };
        job.with(&edit).expect("the change fits the job")
    })
}

fn mm(length: Length) -> String {
    job::Len::exactly(length, tape::Units::Millimetre).text().to_owned()
}

/// Cubes of 100 mm in a row. Along the length a box of `n` takes `100 n + 2 (n - 1)` with the gaps, 3 mm fitting room,
/// 1.5 mm liner, 3 mm wall, 0.125 mm coating and 25 mm flange at each end, and 12 mm margin beyond: 495.25 mm for four,
/// 597.25 mm for five. Across and up there is room for one. A post leaves 590 mm, so that four go in, 7.25 mm short of
/// five.
fn row() -> (Job, Id, Id) {
    let job = Job::empty(UnitsName::Millimetre);
    let (cavity, kind) = (job.cavities[0].id, job.kinds[0].id);
    let mut job = set(
        job,
        &[
            (Field::KindSize(kind, Axis::X), "100"),
            (Field::KindSize(kind, Axis::Y), "100"),
            (Field::KindSize(kind, Axis::Z), "100"),
            (Field::KindMass(kind), "10 kg"),
            (Field::KindNominal(kind), "24 V"),
            (Field::KindAmpHours(kind), "100 Ah"),
            (Field::KindOnHand(kind), "20"),
        ],
    );
    for (line, text) in [("length", "610"), ("width", "200"), ("height", "200")] {
        let line = line.parse().expect("a line");
        let text = text.to_owned();
        job = job.with(&Edit::AddReading { cavity, line, text }).expect("a reading");
    }
    job = job.with(&Edit::AddKeepOut(cavity)).expect("a keep-out");
    let post = job.cavities[0].keep_outs[0].id;
    let job = set(
        job,
        &[
            (Field::KeepOutFrom(post, Axis::X), "590 +- 0"),
            (Field::KeepOutTo(post, Axis::X), "610 +- 0"),
            (Field::KeepOutTo(post, Axis::Y), "200"),
            (Field::KeepOutTo(post, Axis::Z), "200"),
            (Field::KeepOutSource(post), "removable"),
        ],
    );
    (job, cavity, post)
}

fn asked(job: &Job, aim: Aim) -> WhatIf {
    what_if(job, &evaluate(job), aim, Goal::OneMore, BUDGET, &mut Unwatched).expect("the job is complete")
}

#[test]
fn a_row_is_as_summed_by_hand() {
    let (job, cavity, post) = row();
    let answer = asked(&job, Aim::Fill(cavity));
    assert_eq!(
        (answer.now, answer.wanted, answer.on_hand, answer.fits),
        (4, 5, 20, false)
    );
    let outcome = |figure| {
        answer
            .rows
            .iter()
            .find(|row| row.figure == figure)
            .expect("a row for it")
            .outcome
    };
    let um = |n: i64| Length::from_nm(n * 1_000);
    for (figure, from, by, to) in [
        (Figure::KeepOutMoved(post, Face::Rear), 590_000, 7_250, 597_250),
        // Four gaps share 7.25 mm; two margins do.
        (Figure::Gap, 2_000, 1_813, 187),
        (Figure::Margin, 12_000, 3_625, 8_375),
    ] {
        let Outcome::Helps {
            from: f,
            by: b,
            to: t,
            count,
            ..
        } = outcome(figure)
        else {
            panic!("{figure:?}: {:?}", outcome(figure));
        };
        // 7.25 mm over four gaps is 1.8125 mm: the sum above is to the micrometre.
        let near = |a: Length, b: Length| (a - b).abs() < um(1);
        assert!(
            f == um(from) && near(b, um(by)) && near(t, um(to)),
            "{figure:?}: {f:?} {b:?} {t:?}"
        );
        assert_eq!(count, 5);
    }
    assert!(matches!(outcome(Figure::KeepOutGone(post)), Outcome::Does { count: 5 }));
    // Two walls give 4 mm down to 1 mm sheet, two liners 3 mm, two fitting rooms 6 mm: none is 7.25 mm.
    for figure in [
        Figure::Wall,
        Figure::Liner,
        Figure::Fit,
        Figure::Usable(cavity, Axis::X),
    ] {
        assert!(
            matches!(outcome(figure), Outcome::NoHelp { up_to: Some(_), .. }),
            "{figure:?}"
        );
    }
    let helping: Vec<Length> = answer
        .rows
        .iter()
        .filter_map(|row| match row.outcome {
            Outcome::Helps { by, .. } => Some(by),
            _ => None,
        })
        .collect();
    assert!(helping.is_sorted());
    let first_no = answer.rows.iter().position(|row| !row.outcome.helps()).unwrap();
    assert!(
        answer.rows[first_no..].iter().all(|row| !row.outcome.helps()),
        "what helps comes first"
    );
    let shown = answer.rows[0].shown(&evaluate(&job));
    assert_eq!(
        (shown.name.as_str(), shown.from.as_str(), shown.by.as_str()),
        ("gap", "2.0 mm", "1.9 mm")
    );
}

/// The job with a figure of the table changed through the same edits that a person makes: a keep-out moved by `by`,
/// anything else brought `to` its value.
fn changed(job: &Job, figure: Figure, to: Length, by: Length) -> Option<Job> {
    let one = |field: Field, to: Length| set(job.clone(), &[(field, &mm(to))]);
    Some(match figure {
        Figure::Gap => one(Field::Gap, to),
        Figure::Margin => one(Field::Margin, to),
        Figure::Wall => one(Field::Wall, to),
        Figure::Floor => one(Field::Floor, to),
        Figure::Lid => one(Field::Lid, to),
        Figure::Liner => one(Field::Liner, to),
        Figure::Fit => one(Field::Fit, to),
        Figure::KeepOutMoved(id, face) => {
            let axis = face.axis();
            let evaluation = evaluate(job);
            let mut all = evaluation.cavities.iter().flat_map(|c| &c.keep_outs);
            let sure = all.find(|k| k.id == id)?.sure;
            let step = if face.is_high() { by } else { -by };
            // What is kept free for sure, told exactly: it is moved as it is.
            let end = |at: Length| format!("{} +- 0", mm(at + step));
            let ends = [
                (Field::KeepOutFrom(id, axis), end(sure.lo()[axis])),
                (Field::KeepOutTo(id, axis), end(sure.hi()[axis])),
            ];
            ends.into_iter()
                .fold(job.clone(), |job, (field, text)| set(job, &[(field, &text)]))
        }
        Figure::KeepOutGone(id) => job.with(&Edit::RemoveKeepOut(id)).ok()?,
        Figure::Stands(kind, stance) => set(job.clone(), &[(Field::KindStance(kind), stance.name())]),
        Figure::Usable(..) | Figure::BoxMass | Figure::BoxesPerCavity => return None,
    })
}

/// The job with a limit as it is entered, `less` grams or boxes below `to`.
fn with_limit(job: &Job, to: Amount, less: i64) -> Job {
    match to {
        Amount::Grams(grams) => {
            let grams = grams - less;
            set(
                job.clone(),
                &[(Field::BoxKg, &format!("{}.{:03} kg", grams / 1_000, grams % 1_000))],
            )
        }
        Amount::Boxes(boxes) => set(
            job.clone(),
            &[(Field::BoxesPerCavity, &(i64::from(boxes) - less).to_string())],
        ),
    }
}

fn outcome_of(answer: &WhatIf, figure: Figure) -> Outcome {
    let row = answer.rows.iter().find(|row| row.figure == figure);
    row.unwrap_or_else(|| panic!("no row for {figure:?}: {:?}", answer.rows))
        .outcome
}

/// Four of 10 kg with no post in the way; their steel weighs less than 40 kg, and five with theirs less than 140 kg.
fn held_by_mass() -> (Job, Id) {
    let (job, cavity, post) = row();
    let job = job.with(&Edit::RemoveKeepOut(post)).expect("the post is there");
    let limits = [(Field::BoxKg, "70 kg"), (Field::KindMass(Id(1002)), "15 kg")];
    (set(job, &limits), cavity)
}

#[test]
fn the_mass_that_a_box_may_have_is_tried() {
    let (job, cavity) = held_by_mass();
    let answer = asked(&job, Aim::Fill(cavity));
    let Outcome::More { from, to, count, .. } = outcome_of(&answer, Figure::BoxMass) else {
        panic!("{:?}", answer.rows);
    };
    assert_eq!((from, count), (Amount::Grams(70_000), answer.wanted));
    // The answer is what the box weighs when it is laid out with the limit far off, before its holes are made, to the gram.
    let free = set(
        job.clone(),
        &[
            (Field::BoxKg, "1000 kg"),
            (Field::KindOnHand(Id(1002)), &answer.wanted.to_string()),
        ],
    );
    let laid = propose(&free, &evaluate(&free), Aim::Fill(cavity), BUDGET, &mut Unwatched).unwrap();
    let free = free.with(&laid.edit(&free, 0).unwrap()).unwrap();
    let laid = evaluate(&free);
    let built = laid.boxes[0].built.as_ref().unwrap();
    #[expect(clippy::cast_possible_truncation, reason = "some grams")]
    let drilled = (built.solid_grams() - built.grams).round() as i64;
    let weighs = laid.headline.heaviest.unwrap().mass_g + drilled;
    assert!((to.number() - weighs).abs() <= 5, "{to:?} for {weighs} g");
    assert_eq!(
        laid_out(&with_limit(&job, to, 0), Aim::Fill(cavity), answer.wanted).0,
        answer.wanted
    );
    assert!(laid_out(&with_limit(&job, to, 5), Aim::Fill(cavity), answer.wanted).0 < answer.wanted);
    let row = answer.rows.iter().find(|row| row.figure == Figure::BoxMass).unwrap();
    let shown = row.shown(&evaluate(&job));
    assert_eq!(
        (shown.name.as_str(), shown.from.as_str()),
        ("box mass, at most", "70.0 kg")
    );
}

#[test]
fn without_a_limit_of_mass_there_is_none_to_change() {
    let (job, cavity, _) = row();
    let answer = asked(&job, Aim::Fill(cavity));
    assert!(answer.rows.iter().all(|row| row.figure != Figure::BoxMass));
}

#[test]
fn another_box_in_the_cavity_is_tried() {
    // A post in the middle of 900 mm leaves room for a box of two on each side of it: 2 x 291.25 mm with margins.
    let (job, cavity, post) = row();
    let job = set(
        job,
        &[
            (Field::ReadingValue(cavity, 0), "900"),
            (Field::KeepOutFrom(post, Axis::X), "440 +- 0"),
            (Field::KeepOutTo(post, Axis::X), "460 +- 0"),
        ],
    );
    let answer = asked(&job, Aim::Fill(cavity));
    let Outcome::More { from, to, count, .. } = outcome_of(&answer, Figure::BoxesPerCavity) else {
        panic!("{:?}", answer.rows);
    };
    assert_eq!((from, to), (Amount::Boxes(1), Amount::Boxes(2)));
    assert!(count > answer.now);
    // One box by itself stays one.
    let laid = propose(&job, &evaluate(&job), Aim::Fill(cavity), BUDGET, &mut Unwatched).unwrap();
    let job = job.with(&laid.edit(&job, 0).unwrap()).unwrap();
    let answer = asked(&job, Aim::Box(job.boxes[0].id));
    assert!(answer.rows.iter().all(|row| row.figure != Figure::BoxesPerCavity));
}

#[test]
fn modules_that_are_lacking_are_said_with_what_it_takes() {
    let (job, cavity, _) = row();
    let job = set(job, &[(Field::KindOnHand(Id(1002)), "4")]);
    let answer = asked(&job, Aim::Fill(cavity));
    assert_eq!((answer.now, answer.wanted, answer.fits), (4, 5, false));
    assert_eq!(
        answer.words(),
        "4 go in; for 5 it would take 1 more than the 4 on hand, and one of these:"
    );
    let (one, two) = (
        WhatIf {
            string: 5,
            ..answer.clone()
        },
        WhatIf {
            string: 5,
            wanted: 10,
            ..answer
        },
    );
    assert!(one.words().contains("for 5 (1 string of 5) it"), "{}", one.words());
    assert!(two.words().contains("for 10 (2 strings of 5) it"), "{}", two.words());
}

#[test]
fn a_usable_size_is_told_as_the_check_tells_it_and_never_changes_to_itself() {
    let (job, cavity, _) = row();
    let evaluation = evaluate(&job);
    let (from, by) = (Length::from_nm(1_398_040_000), Length::from_nm(10_000));
    let row = |figure, to| job::what_if::Row {
        figure,
        name: String::new(),
        outcome: Outcome::Helps {
            from,
            to,
            by,
            proved: true,
            count: 5,
        },
    };
    let shown = row(Figure::Usable(cavity, Axis::X), from + by).shown(&evaluation);
    assert_eq!(
        (shown.from, shown.to, shown.by),
        ("1398.0 mm".into(), "1398.1 mm".into(), "0.1 mm".into())
    );
    let shown = row(Figure::Gap, from - by).shown(&evaluation);
    assert_eq!((shown.from, shown.to), ("1398.1 mm".into(), "1398.0 mm".into()));
}

/// Five need 597.25 mm up to what is kept free for sure, however the post was read: one read in inches, in a job that is
/// told in mm, is moved with what its own tape may be off.
#[test]
fn a_keep_out_is_moved_with_what_its_tape_may_be_off() {
    let (job, cavity, post) = row();
    let job = set(job, &[(Field::KeepOutFrom(post, Axis::X), "23 1/4\"")]);
    let sure = evaluate(&job).cavities[0].keep_outs[0].sure;
    let Outcome::Helps { by, .. } = outcome_of(&asked(&job, Aim::Fill(cavity)), Figure::KeepOutMoved(post, Face::Rear))
    else {
        panic!("it is in the way");
    };
    assert_eq!(by, Length::from_nm(597_250_000) - sure.lo()[Axis::X]);
}

/// How many go in when `number` are on hand.
fn laid_out(job: &Job, aim: Aim, number: u32) -> (u32, u32) {
    let mut request = question(job, &evaluate(job), aim).expect("the job is complete").request;
    request.kinds[0].on_hand = Some(number);
    request.wanted = fit::Wanted::Exactly(vec![number]);
    let answer = fit::fit(&request, BUDGET, &mut Unwatched).expect("a sound request");
    (answer.layouts[0].count, answer.upper_bound)
}

#[rstest]
#[case::row(row().0, Aim::Fill(Id(1001)))]
#[case::harbour(built_in("harbour-tender"), Aim::Whole)]
#[case::orchard(built_in("orchard-flatbed"), Aim::Whole)]
#[case::rescue_one_cavity(built_in("mountain-rescue"), Aim::Fill(built_in("mountain-rescue").cavities[1].id))]
fn each_row_is_what_laying_the_changed_job_out_gives(#[case] job: Job, #[case] aim: Aim) {
    let answer = asked(&job, aim);
    for row in &answer.rows {
        match row.outcome {
            Outcome::Helps { to, by, proved, .. } => {
                let nm = Length::from_nm(1);
                let Some(enough) = changed(&job, row.figure, to, by) else {
                    continue;
                };
                assert!(
                    laid_out(&enough, aim, answer.wanted).0 >= answer.wanted,
                    "{}: {by:?} does",
                    row.name
                );
                let less = changed(&job, row.figure, to + nm, by - nm).unwrap();
                let (count, most) = laid_out(&less, aim, answer.wanted);
                assert!(
                    !proved || (count < answer.wanted && most < answer.wanted),
                    "{}: less does too",
                    row.name
                );
            }
            Outcome::Does { count } => {
                let job = changed(&job, row.figure, Length::ZERO, Length::ZERO).unwrap();
                assert!(laid_out(&job, aim, answer.wanted).0 >= count, "{}", row.name);
            }
            Outcome::More { from, to, proved, .. } => {
                let enough = with_limit(&job, to, 0);
                assert!(laid_out(&enough, aim, answer.wanted).0 >= answer.wanted, "{}", row.name);
                assert!(to.number() > from.number());
                let (count, most) = laid_out(&with_limit(&job, to, 1), aim, answer.wanted);
                assert!(
                    !proved || (count < answer.wanted && most < answer.wanted),
                    "{}: less does too",
                    row.name
                );
            }
            Outcome::NoHelp { .. } | Outcome::NoMore { .. } => {}
            Outcome::Stopped => panic!("nobody stopped it"),
        }
    }
}

#[test]
fn a_longer_cavity_is_the_sum_by_hand() {
    let (job, cavity, post) = row();
    let job = job.with(&Edit::RemoveKeepOut(post)).unwrap();
    let job = set(job, &[(Field::ReadingValue(cavity, 0), "560")]);
    let answer = asked(&job, Aim::Fill(cavity));
    let row = answer
        .rows
        .iter()
        .find(|r| r.figure == Figure::Usable(cavity, Axis::X))
        .unwrap();
    let Outcome::Helps { to, proved, .. } = row.outcome else {
        panic!("{row:?}");
    };
    assert_eq!(to, Length::from_nm(597_250_000));
    assert!(proved, "five lengths in a row are no search");
}

#[test]
fn room_for_more_than_are_on_hand_is_said() {
    let (job, cavity, _) = row();
    let job = set(job, &[(Field::KindOnHand(Id(1002)), "3")]);
    let answer = asked(&job, Aim::Fill(cavity));
    assert_eq!((answer.now, answer.wanted, answer.fits), (3, 4, true));
    assert_eq!(answer.rows, []);
    assert_eq!(
        answer.words(),
        "3 go in; there is room for 4 as it is, and 3 are on hand for it"
    );
}

#[test]
fn tasks_may_run_in_any_order() {
    let (job, cavity, _) = row();
    let evaluation = evaluate(&job);
    let asked_for = ask(
        &job,
        &evaluation,
        Aim::Fill(cavity),
        Goal::OneMore,
        BUDGET,
        &mut Unwatched,
    )
    .unwrap();
    let rows = asked_for
        .tasks
        .iter()
        .rev()
        .map(|task| task.run(BUDGET, &mut Unwatched))
        .collect();
    assert_eq!(asked_for.with_rows(rows), asked(&job, Aim::Fill(cavity)));
}

#[test]
fn a_wanted_number_is_a_goal_too() {
    let (job, cavity, _) = row();
    let evaluation = evaluate(&job);
    let goal = |n| {
        what_if(
            &job,
            &evaluation,
            Aim::Fill(cavity),
            Goal::Number(n),
            BUDGET,
            &mut Unwatched,
        )
        .unwrap()
    };
    assert!(goal(4).fits);
    let five = goal(5);
    assert!(!five.fits && five.rows.iter().any(|row| row.outcome.helps()));
    // Six in a row take 102 mm more than five: the post is not all that is in their way.
    assert!(
        !goal(6)
            .rows
            .iter()
            .any(|row| matches!(row.figure, Figure::KeepOutGone(_)) && row.outcome.helps())
    );
}

#[test]
fn a_stopped_row_says_so() {
    struct Never;
    impl fit::Watch for Never {
        fn carry_on(&mut self, _: fit::Progress) -> bool {
            false
        }
    }
    let job = built_in("harbour-tender");
    let asked_for = ask(&job, &evaluate(&job), Aim::Whole, Goal::OneMore, BUDGET, &mut Unwatched).unwrap();
    let row = asked_for.tasks[0].run(BUDGET, &mut Never);
    assert_eq!(row.outcome, Outcome::Stopped);
}

#[test]
fn a_keep_out_costs_what_goes_in_without_it() {
    let (job, cavity, post) = row();
    let gained = gains(&job, &evaluate(&job), Aim::Fill(cavity), BUDGET, &mut Unwatched).unwrap();
    let [gain] = &gained[..] else { panic!("{gained:?}") };
    assert_eq!((gain.keep_out, gain.now, gain.without), (post, 4, 5));
    assert_eq!(
        (gain.words().as_str(), gain.source),
        ("1 module", job::Source::Removable)
    );

    let job = built_in("harbour-tender");
    for gain in gains(&job, &evaluate(&job), Aim::Whole, BUDGET, &mut Unwatched).unwrap() {
        let without = job.with(&Edit::RemoveKeepOut(gain.keep_out)).unwrap();
        assert!(
            laid_out(&without, Aim::Whole, gain.without).0 >= gain.without,
            "{}",
            gain.name
        );
        assert!(laid_out(&job, Aim::Whole, gain.now).0 >= gain.now);
    }
}

#[test]
fn readings_may_be_wrong_by_what_is_free() {
    let (job, cavity, post) = row();
    let job = job.with(&Edit::RemoveKeepOut(post)).unwrap();
    let laid = propose(&job, &evaluate(&job), Aim::Fill(cavity), BUDGET, &mut Unwatched).unwrap();
    let job = job.with(&laid.edit(&job, 0).unwrap()).unwrap();
    let evaluation = evaluate(&job);
    assert_eq!(evaluation.headline.placed, 5);
    let all = tolerances(&job, &evaluation);
    assert_eq!(all.len(), 3);
    let length = all.iter().find(|t| t.axis == Axis::X).unwrap();
    // Of the usable length five take 597.25 mm with both margins, wherever the box stands between them.
    let usable = evaluation.cavity(cavity).unwrap().usable.unwrap().size()[Axis::X];
    assert_eq!(length.keeps.moved, usable - Length::from_nm(597_250_000));
    assert_eq!(length.touches.moved, Length::mm(610) - Length::from_nm(573_250_000));
    let rear = evaluation.boxes[0].around.as_ref().unwrap().faces[Face::Rear.index()].sure();
    assert_eq!(length.keeps.still, rear - Length::mm(12));
    assert_eq!(length.touches.still, rear + Length::mm(610) - usable);
}

#[test]
fn what_is_short_on_both_sides_is_short_in_sum_when_moved_over() {
    let (job, cavity, post) = row();
    let job = job.with(&Edit::RemoveKeepOut(post)).unwrap();
    // Laid out with a margin of 8 mm, in the middle of what five take with it; then 12 mm are asked for again.
    let job = set(job, &[(Field::ReadingValue(cavity, 0), "593"), (Field::Margin, "8")]);
    let laid = propose(&job, &evaluate(&job), Aim::Fill(cavity), BUDGET, &mut Unwatched).unwrap();
    let job = job.with(&laid.edit(&job, 0).unwrap()).unwrap();
    let job = set(job, &[(Field::Margin, "12")]);
    let evaluation = evaluate(&job);
    assert_eq!(evaluation.headline.placed, 5);
    let faces = &evaluation.boxes[0].around.as_ref().unwrap().faces;
    let [front, rear] = [Face::Front, Face::Rear].map(|face| faces[face.index()].sure());
    assert!(front < Length::mm(12) && rear < Length::mm(12));
    let all = tolerances(&job, &evaluation);
    let length = all.iter().find(|t| t.axis == Axis::X).unwrap();
    let usable = evaluation.cavity(cavity).unwrap().usable.unwrap().size()[Axis::X];
    // Five take 597.25 mm with both margins, wherever they stand.
    assert_eq!(length.keeps.moved, usable - Length::from_nm(597_250_000));
    assert_eq!(length.keeps.moved, front + rear - Length::mm(24));
    assert_eq!(length.keeps.still, rear - Length::mm(12));
    assert_eq!(length.touches.moved, Length::mm(593) - Length::from_nm(573_250_000));
}

#[test]
fn a_reading_shortened_by_less_keeps_every_margin_and_by_more_does_not() {
    let (job, cavity, post) = row();
    let job = job.with(&Edit::RemoveKeepOut(post)).unwrap();
    let laid = propose(&job, &evaluate(&job), Aim::Fill(cavity), BUDGET, &mut Unwatched).unwrap();
    let job = job.with(&laid.edit(&job, 0).unwrap()).unwrap();
    let evaluation = evaluate(&job);
    let short = |job: &Job| {
        evaluate(job)
            .findings
            .iter()
            .filter(|f| f.words.contains("less than the margin") || f.words.contains("may run into"))
            .count()
    };
    assert_eq!(short(&job), 0);
    // Sigma shrinks a little with the reading, so that the two are told apart by a tenth of a millimetre.
    let tenth = Length::tenths_mm(1);
    for tolerance in tolerances(&job, &evaluation) {
        let field = Field::ReadingValue(tolerance.cavity, tolerance.reading);
        let by = |less: Length| set(job.clone(), &[(field, &mm(tolerance.read - less))]);
        assert_eq!(short(&by(tolerance.keeps.still - tenth)), 0, "{}", tolerance.place);
        let more = by(tolerance.keeps.still + tenth);
        assert!(short(&more) > 0, "{}", tolerance.place);
        // Moved over they fit still, as spreading the boxes shows.
        let moved = by(tolerance.keeps.moved - tenth);
        let spreading = spread(&moved, &evaluate(&moved), Which::Boxes(tolerance.cavity)).unwrap();
        assert!(!spreading.after.is_negative(), "{}: {spreading:?}", tolerance.place);
        assert!(tolerance.keeps.still <= tolerance.keeps.moved && tolerance.touches.still <= tolerance.touches.moved);
    }
}

/// A slip in a reading that holds the shape reaches the room between the walls as they lean by the share told.
#[test]
fn a_slip_in_a_reading_of_a_shape_reaches_the_room_by_its_share() {
    let job = built_in("mountain-rescue");
    let evaluation = evaluate(&job);
    let slack = |evaluation: &Evaluation, tolerance: &Tolerance| -> f64 {
        let here = evaluation.boxes.iter().filter(|b| b.cavity == tolerance.cavity);
        let overall = here.flat_map(|b| &b.solids).copied().reduce(|a, b| a.hull(&b)).unwrap();
        let shape = evaluation
            .cavity(tolerance.cavity)
            .unwrap()
            .survey
            .shape
            .as_ref()
            .unwrap();
        let clearances = shape.clearances(&overall);
        let [low, high] = [0, 1].map(|end| clearances[2 * tolerance.axis.index() + end].distance.as_mm());
        low + high
    };
    let slip = Length::tenths_mm(3);
    let mut told = 0;
    for tolerance in tolerances(&job, &evaluation) {
        let reading = &job.cavity(tolerance.cavity).unwrap().readings[tolerance.reading];
        if reading.line.of_survey().is_none() {
            continue;
        }
        let field = Field::ReadingValue(tolerance.cavity, tolerance.reading);
        let slipped = evaluate(&set(job.clone(), &[(field, &mm(tolerance.read - slip))]));
        let share = (slack(&evaluation, &tolerance) - slack(&slipped, &tolerance)) / slip.as_mm();
        assert!(
            (share - tolerance.share).abs() < 0.02,
            "{} {}: {share} and {}",
            tolerance.place,
            tolerance.axis.extent_name(),
            tolerance.share
        );
        told += 1;
    }
    assert!(told > 20, "most readings move some room: {told}");
}
