//! What holds for every job, whatever was done to it.

mod common;

use common::{assert_consistent, built_in};
use geometry::{Axis, Face, Orientation, Point};
use job::{
    Edit, EditError, Evaluation, Field, History, Id, Job, Near, State, UnitsName, evaluate, field, load, to_text,
};
use proptest::prelude::*;
use tape::Length;

/// Something a person may try: what sort of edit, on which things (counted round), by how much, with which words.
#[derive(Clone, Debug)]
struct Try {
    sort: u8,
    which: [usize; 2],
    by: [i64; 3],
    text: String,
}

/// What may be typed: good in some field, or in none.
fn typed() -> impl Strategy<Value = String> {
    let likely = prop::sample::select(vec![
        "",
        "3 mm",
        "41 5/8\"",
        "1/2",
        "12",
        "yes",
        "no",
        "front",
        "rear",
        "25.6 V",
        "105 Ah",
        "8",
        "24",
        "1",
        "top",
        "cap with a skirt",
        "flat lid on the rim",
        "fixed",
        "wraps its modules",
        "clamped stacks",
        "loose modules",
        "width at front top",
        "FLB to RLB",
        "height",
        "width across bottom at 12\"",
        "0",
        "0 mm",
        "-5 mm",
        "1000000",
        "100 m",
        "101 m",
        "0.001 mm",
        "2048",
        "4294967296",
        "1e300",
        "inches",
        "millimetres",
        "LFP",
        "A",
        "II",
        "any way",
        "both ends",
        "removable",
        "18 kg",
        "40 lb",
        "50 mm",
        "1 mm",
        "NaN",
        "\u{1b}[2J",
        "415/8",
        "41 5/8 +- 1/16",
        "box",
        "0.5",
        "width aaaaaaaaaa bbbbbbbbbb cccccccccc dddddddddd eeeeeeeeee ffffffffff gggggggggg hhhhhhhhhh i jjjjj",
    ]);
    prop_oneof![3 => likely.prop_map(str::to_owned), 1 => any::<String>()]
}

fn tries(most: usize) -> impl Strategy<Value = Vec<Try>> {
    let step = prop_oneof![
        Just(0_i64),
        -20_000_000..20_000_000_i64,
        Just(1_587_500),
        Just(200_000_000_000)
    ];
    let one = (0..21_u8, any::<[usize; 2]>(), prop::array::uniform3(step), typed());
    prop::collection::vec(
        one.prop_map(|(sort, which, by, text)| Try { sort, which, by, text }),
        0..most,
    )
}

fn start() -> impl Strategy<Value = Job> {
    (0..5_usize).prop_map(|i| match i {
        0..3 => built_in(job::EXAMPLES[i].name),
        3 => Job::empty(UnitsName::Inch),
        _ => Job::empty(UnitsName::Millimetre),
    })
}

fn pick<T: Copy>(list: &[T], which: usize) -> Option<T> {
    (!list.is_empty()).then(|| list[which % list.len()])
}

/// The edit that `t` comes to in `job`; a thing that is not there is asked for as number 9999.
fn edit(job: &Job, t: &Try) -> Edit {
    let gone = Id(9_999);
    let one = |list: Vec<Id>, i: usize| pick(&list, t.which[i]).unwrap_or(gone);
    let cavity = |i| one(job.cavities.iter().map(|c| c.id).collect(), i);
    let kind = |i| one(job.kinds.iter().map(|k| k.id).collect(), i);
    let battery_box = |i| one(job.boxes.iter().map(|b| b.id).collect(), i);
    let module = |i| one(job.boxes.iter().flat_map(|b| &b.modules).map(|m| m.id).collect(), i);
    let keep_out = |i| {
        one(
            job.cavities.iter().flat_map(|c| &c.keep_outs).map(|k| k.id).collect(),
            i,
        )
    };
    let by = Point(t.by.map(Length::from_nm));
    let stands = Orientation::all()[t.which[1] % 24];
    let field = pick(&field::all(job), t.which[0]).unwrap_or(Field::JobName);
    match t.sort {
        0..3 => Edit::Set {
            field,
            text: t.text.clone(),
        },
        3 => Edit::Confirm(field),
        4 => Edit::AddCavity,
        5 if t.which[1].is_multiple_of(4) => Edit::RemoveCavity(cavity(0)),
        5 | 6 => {
            let line = ["length", "width at rear", "height", "FLB to RRB"][t.which[1] % 4];
            Edit::AddReading {
                cavity: cavity(0),
                line: line.parse().expect("a line"),
                text: t.text.clone(),
            }
        }
        7 => Edit::RemoveReading {
            cavity: cavity(0),
            index: t.which[1] % 30,
        },
        8 => Edit::AddKeepOut(cavity(0)),
        9 => Edit::RemoveKeepOut(keep_out(0)),
        10 if t.which[1].is_multiple_of(4) => Edit::RemoveKind(kind(0)),
        10 => Edit::AddKind,
        11 => Edit::AddBox {
            cavity: cavity(0),
            at: by,
        },
        12 if t.which[1].is_multiple_of(4) => Edit::RemoveBox(battery_box(0)),
        12 | 13 => {
            let count = u32::try_from(t.which[0] % 13).expect("below 13");
            Edit::AddModule {
                into: battery_box(1),
                kind: kind(0),
                at: by,
                stands,
                count,
            }
        }
        14 => Edit::RemoveModule(module(0)),
        15 | 16 => Edit::NudgeModule { module: module(0), by },
        17 => Edit::NudgeBox {
            battery_box: battery_box(0),
            by,
        },
        19 => Edit::Pin {
            module: module(0),
            pinned: t.which[1].is_multiple_of(2),
        },
        18 => Edit::Turn {
            module: module(0),
            to: stands,
        },
        _ => Edit::MoveToBox {
            module: module(0),
            to: battery_box(1),
            at: by,
        },
    }
}

/// Tries each edit; a refused one must leave the job alone and say what is wrong and how to mend it.
fn try_all(history: &mut History, tries: &[Try]) -> Result<(), TestCaseError> {
    for t in tries {
        let edit = edit(history.job(), t);
        let before = history.job().clone();
        prop_assert!(!edit.words(&before).is_empty());
        if let Err(refusal) = history.apply(edit) {
            prop_assert_eq!(history.job(), &before);
            prop_assert!(!refusal.to_string().is_empty());
            prop_assert!(!refusal.mend().is_empty(), "{:?}", refusal);
            if let EditError::Field(error) = refusal {
                prop_assert!(!error.label.is_empty() && !error.problem.is_empty());
                prop_assert!(
                    error.at.is_none_or(|at| at <= error.given.chars().count()),
                    "{:?}",
                    error
                );
            }
        }
    }
    Ok(())
}

/// The figures, without what nobody entered.
fn figures(evaluation: &Evaluation) -> Evaluation {
    let mut figures = evaluation.clone();
    figures.assumptions.clear();
    figures.road.entries.clear();
    // Whether the grain was told is a mark of its own on the cut list.
    figures.sheet.grain = None;
    figures.headline.assumed = job::Touches::default();
    if let Some(axles) = &mut figures.vehicle.axles {
        (axles.loads_assumed, axles.aboard_assumed, axles.height_assumed) = (false, false, false);
    }
    if let Some(ground) = &mut figures.vehicle.ground {
        ground.is_assumed = false;
    }
    figures
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]

    #[test]
    fn undoing_everything_restores_the_job_and_redoing_gives_the_end_again(start in start(), tries in tries(40)) {
        let mut history = History::new(start.clone());
        try_all(&mut history, &tries)?;
        let end = history.job().clone();
        while let Some(words) = history.undo() {
            prop_assert!(!words.is_empty());
        }
        prop_assert_eq!(history.job(), &start);
        while history.redo().is_some() {}
        prop_assert_eq!(history.job(), &end);
    }

    #[test]
    fn a_saved_job_loads_as_the_same_job(start in start(), tries in tries(40)) {
        let mut history = History::new(start);
        try_all(&mut history, &tries)?;
        let text = to_text(history.job());
        let loaded = load(text.as_bytes());
        prop_assert_eq!(loaded.as_ref(), Ok(history.job()), "{}", text);
        prop_assert_eq!(to_text(&loaded.unwrap()), text);
    }

    #[test]
    fn evaluating_twice_gives_the_same_consistent_figures(start in start(), tries in tries(40)) {
        let mut history = History::new(start);
        try_all(&mut history, &tries)?;
        let evaluation = evaluate(history.job());
        assert_consistent(history.job(), &evaluation);
        prop_assert_eq!(evaluate(history.job()), evaluation);
    }

    #[test]
    fn what_a_field_shows_can_be_typed_in_again(start in start(), tries in tries(30)) {
        let mut history = History::new(start);
        try_all(&mut history, &tries)?;
        let job = history.job();
        let fields = field::all(job);
        let shown = field::show(job, &fields);
        prop_assert_eq!(shown.len(), fields.len());
        for (field, shown) in shown {
            prop_assert_eq!(shown.label, field.label());
            prop_assert!(!field.help().is_empty());
            if shown.state == State::Given {
                let again = job.with(&Edit::Set { field, text: shown.text.clone() });
                prop_assert_eq!(again.as_ref(), Ok(job), "{:?} {:?}", field, shown);
            }
        }
    }

    #[test]
    fn confirming_what_is_assumed_changes_no_figure(start in start(), tries in tries(30), which in any::<usize>()) {
        let mut history = History::new(start);
        try_all(&mut history, &tries)?;
        let before = figures(&evaluate(history.job()));
        // What is not asked for is on no page to be confirmed; once entered it is told as not used.
        let mut fields = field::all(history.job());
        fields.retain(|field| field.is_asked(&history.job().design));
        let field = fields[which % fields.len()];
        let confirmed = history.job().with(&Edit::Confirm(field)).expect("a default is a value that the field takes");
        prop_assert_eq!(figures(&evaluate(&confirmed)), before, "{:?}", field);
    }

    #[test]
    fn any_text_in_any_field_is_taken_or_refused(start in start(), which in any::<usize>(), text in typed()) {
        let fields = field::all(&start);
        let field = fields[which % fields.len()];
        if let Ok(job) = start.with(&Edit::Set { field, text }) {
            assert_consistent(&job, &evaluate(&job));
        }
    }

    #[test]
    fn a_nudge_there_and_back_changes_no_figure(start in start(), which in any::<usize>(), by in prop::array::uniform3(-50_000_000..50_000_000_i64)) {
        let modules: Vec<Id> = start.boxes.iter().flat_map(|b| &b.modules).map(|m| m.id).collect();
        if let Some(module) = pick(&modules, which) {
            let by = Point(by.map(Length::from_nm));
            let there = start.with(&Edit::NudgeModule { module, by }).unwrap();
            prop_assert_eq!(there.placed(module).unwrap().1.corner(), start.placed(module).unwrap().1.corner() + by);
            let back = there.with(&Edit::NudgeModule { module, by: -by }).unwrap();
            prop_assert_eq!(evaluate(&back), evaluate(&start));
        }
    }

    #[test]
    fn moving_a_box_keeps_the_clearances_inside_it(start in start(), which in any::<usize>(), by in prop::array::uniform3(-50_000_000..50_000_000_i64)) {
        let boxes: Vec<Id> = start.boxes.iter().map(|b| b.id).collect();
        if let Some(id) = pick(&boxes, which) {
            let moved = start.with(&Edit::NudgeBox { battery_box: id, by: Point(by.map(Length::from_nm)) }).unwrap();
            let (before, after) = (evaluate(&start), evaluate(&moved));
            let (before, after) = (before.battery_box(id).unwrap(), after.battery_box(id).unwrap());
            prop_assert_eq!(&before.built, &after.built);
            for (a, b) in before.modules.iter().zip(&after.modules) {
                prop_assert_eq!(&a.around, &b.around);
                prop_assert_eq!(&a.blocked_by, &b.blocked_by);
            }
        }
    }

    #[test]
    fn two_boxes_are_as_far_from_each_other_as_the_other_way_round(start in start(), by in prop::array::uniform3(-400_000_000..400_000_000_i64)) {
        if start.boxes.len() > 1 {
            // Both into one cavity, the second anywhere near.
            let mut job = start;
            job.boxes[1].cavity = job.boxes[0].cavity;
            let id = job.boxes[1].id;
            let job = job.with(&Edit::NudgeBox { battery_box: id, by: Point(by.map(Length::from_nm)) }).unwrap();
            let evaluation = evaluate(&job);
            let [a, b] = [0, 1].map(|i| &evaluation.boxes[i]);
            for (one, other) in [(a, b), (b, a)] {
                for face in Face::ALL {
                    let there = &one.around.as_ref().unwrap().faces[face.index()];
                    let back = &other.around.as_ref().unwrap().faces[face.opposite().index()];
                    prop_assert_ne!(there.near, Near::Box(one.id));
                    if there.near == Near::Box(other.id) {
                        prop_assert!(back.distance <= there.distance);
                        prop_assert!(back.near != Near::Box(one.id) || back.distance == there.distance);
                    }
                }
            }
            let overlap = a.solids.iter().any(|x| b.solids.iter().any(|y| x.overlaps(y)));
            let told = evaluation.findings.iter().any(|f| f.name == a.name && f.words.starts_with(&format!("runs into {} by", b.name)));
            prop_assert_eq!(overlap, told);
        }
    }

    #[test]
    fn a_larger_margin_moves_nothing(start in start(), mm in 0..1_000_i64) {
        let set = Edit::Set { field: Field::Margin, text: format!("{mm} mm") };
        let (before, after) = (evaluate(&start), evaluate(&start.with(&set).unwrap()));
        for (a, b) in before.boxes.iter().zip(&after.boxes) {
            prop_assert_eq!((a.body, &a.ledgers), (b.body, &b.ledgers));
        }
        for axis in Axis::ALL {
            for (a, b) in before.cavities.iter().zip(&after.cavities) {
                prop_assert_eq!(&a.dimensions[axis.index()], &b.dimensions[axis.index()]);
            }
        }
    }
}

#[test]
fn nudges_of_one_module_undo_together_and_those_of_another_apart() {
    let start = built_in("orchard-flatbed");
    let (one, other) = (start.boxes[0].modules[0].id, start.boxes[0].modules[1].id);
    let mut history = History::new(start.clone());
    let mut nudge = |module| {
        let by = Point::along(Axis::X, Length::mm(1));
        history.apply(Edit::NudgeModule { module, by }).unwrap();
        history.job().clone()
    };
    nudge(one);
    let three_of_one = {
        nudge(one);
        nudge(one)
    };
    let one_of_other = nudge(other);
    nudge(one);
    for before in [&one_of_other, &three_of_one, &start] {
        assert!(history.undo().unwrap().starts_with("nudge M"));
        assert_eq!(history.job(), before);
    }
    assert_eq!(history.undo(), None);
}
