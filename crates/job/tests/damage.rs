//! Damaged, hostile and extreme files: refused in one line with a way to mend them, or loaded and evaluated; never a
//! panic. Tests run with overflow checks on, so an overflow is a panic too.

mod common;

use common::{Dice, assert_consistent, built_in};
use job::{EXAMPLES, Job, LoadError, evaluate, load, to_text};
use rstest::rstest;
use serde_json::{Value, json};

/// Loads, and whatever loads must evaluate and come out of its own file again.
#[track_caller]
fn load_or_refuse(bytes: &[u8]) -> Result<Job, LoadError> {
    let loaded = load(bytes);
    match &loaded {
        Ok(job) => {
            assert_consistent(job, &evaluate(job));
            assert_eq!(load(to_text(job).as_bytes()).as_ref(), Ok(job));
        }
        Err(refusal) => {
            let words = refusal.to_string();
            assert!(!words.is_empty() && !words.chars().any(char::is_control), "{words:?}");
            assert!(words.chars().count() < 600, "{} characters", words.chars().count());
            assert!(
                !refusal.fix().is_empty() && !refusal.fix().chars().any(char::is_control),
                "{refusal:?}"
            );
        }
    }
    loaded
}

/// Flips, deletes, inserts, truncates or duplicates.
fn damage(bytes: &mut Vec<u8>, dice: &mut Dice) {
    let at = dice.below(bytes.len());
    let end = (at + 1 + dice.below(40)).min(bytes.len());
    match dice.below(6) {
        0 if at < bytes.len() => bytes[at] ^= 1 << dice.below(8),
        1 => drop(bytes.drain(at..end)),
        2 => bytes.insert(at, u8::try_from(dice.below(256)).expect("below 256")),
        3 => bytes.truncate(at),
        4 => {
            let copy = bytes[at..end].to_vec();
            let to = dice.below(bytes.len());
            bytes.splice(to..to, copy);
        }
        // A digit or a letter for another keeps the JSON whole and reaches deeper.
        _ if at < bytes.len() => bytes[at] = b"0123456789-.emntINF\"{}[],"[dice.below(25)],
        _ => {}
    }
}

#[rstest]
#[case(0)]
#[case(1)]
#[case(2)]
fn a_damaged_file_is_refused_or_loads(#[case] example: usize) {
    let mut dice = Dice(example as u64 + 1);
    let mut loaded = 0;
    for _ in 0..1_000 {
        let mut bytes = EXAMPLES[example].text.as_bytes().to_vec();
        for _ in 0..=dice.below(2) {
            damage(&mut bytes, &mut dice);
        }
        loaded += u32::from(load_or_refuse(&bytes).is_ok());
    }
    assert!(
        (10..950).contains(&loaded),
        "{loaded} of 1000 load: the damage is too light or too heavy to tell anything"
    );
}

/// Values that fit no field, or just one more than a field should take.
fn hostile() -> Vec<Value> {
    let mut values: Vec<Value> = [
        "0 mm",
        "-3 mm",
        "100 m",
        "-100 m",
        "0.000001 mm",
        "",
        "width",
        "FLB to RRT",
        "top",
        "rear",
        "cap",
        "flat",
    ]
    .map(Value::from)
    .into();
    values.extend([
        json!(0),
        json!(-1),
        json!(1),
        json!(2),
        json!(0.001),
        json!(2048),
        json!(4096),
        json!(1_000_000),
    ]);
    values.extend([
        json!(u32::MAX),
        json!(u64::MAX),
        json!(i64::MIN),
        json!(1e300),
        json!(-1e-300),
        json!(1_000_000.001),
    ]);
    values.extend([
        Value::Null,
        json!(true),
        json!([]),
        json!({}),
        json!("x".repeat(100_000)),
        json!("a\nb\u{1b}[2J"),
    ]);
    values
}

/// Every value in the file that is no list and no object, by its place.
fn leaves(value: &Value, place: String, found: &mut Vec<String>) {
    match value {
        Value::Object(fields) => fields
            .iter()
            .for_each(|(name, v)| leaves(v, format!("{place}/{name}"), found)),
        Value::Array(items) => items
            .iter()
            .enumerate()
            .for_each(|(i, v)| leaves(v, format!("{place}/{i}"), found)),
        _ => found.push(place),
    }
}

#[rstest]
#[case(0)]
#[case(1)]
#[case(2)]
fn hostile_values_are_refused_or_evaluate(#[case] example: usize) {
    let job: Value = serde_json::from_str(EXAMPLES[example].text).unwrap();
    let (mut places, hostile) = (Vec::new(), hostile());
    leaves(&job, String::new(), &mut places);
    let mut dice = Dice(example as u64 + 77);
    for _ in 0..1_000 {
        let mut changed = job.clone();
        for _ in 0..=dice.below(2) {
            let place = &places[dice.below(places.len())];
            *changed.pointer_mut(place).unwrap() = hostile[dice.below(hostile.len())].clone();
        }
        let _ = load_or_refuse(changed.to_string().as_bytes());
    }
}

#[test]
fn a_place_of_an_opening_without_a_size_is_refused() {
    let mut job = serde_json::to_value(built_in("orchard-flatbed")).expect("a job is JSON");
    job["cavities"][0]["openings"] = json!([{ "face": "rear", "at": ["10 mm", "10 mm"] }]);
    let refusal = load_or_refuse(job.to_string().as_bytes()).unwrap_err();
    assert!(refusal.to_string().contains("cavities[0].openings[0].at"), "{refusal}");
    assert!(refusal.fix().contains("write its clear size"), "{refusal:?}");
}

#[test]
fn a_newer_file_is_refused_and_says_so() {
    let text = EXAMPLES[0].text.replacen("\"version\": 1", "\"version\": 2", 1);
    let refusal = load_or_refuse(text.as_bytes()).unwrap_err();
    assert_eq!(refusal, LoadError::Newer { given: 2 });
    assert_eq!(
        refusal.to_string(),
        "it has version 2, and this program reads up to version 1"
    );
    assert_eq!(refusal.fix(), "open it with the newer program; it has not been changed");
}

#[rstest]
#[case::unknown_field("/design", json!({ "wal": "3 mm" }), "design.wal")]
#[case::control_characters_in_a_name("/design", json!({ "a\nb\u{1b}": 1 }), "unknown field")]
#[case::no_unit("/design/wall", json!("3"), "design.wall")]
#[case::negative_thickness("/design/wall", json!("-3 mm"), "wall")]
#[case::thick_sheet("/design/wall", json!("51 mm"), "at most")]
#[case::negative_size("/kinds/0/size/1", json!("-142 mm"), "kinds[0].size[1]")]
#[case::huge_number("/kinds/0/mass_kg", json!(1e300), "kinds[0].mass_kg")]
#[case::no_mass("/kinds/0/mass_kg", json!(0), "kinds[0].mass_kg")]
#[case::no_series("/wanted", json!({ "series": 0 }), "series")]
#[case::number_twice("/boxes/0/modules/1/id", json!(13), "id 13")]
#[case::number_zero("/kinds/0/id", json!(0), "id 0")]
#[case::box_in_no_cavity("/boxes/0/cavity", json!(999), "boxes[0].cavity")]
#[case::module_of_no_kind("/boxes/0/modules/2/kind", json!(12), "boxes[0].modules[2].kind")]
#[case::faces_across("/boxes/0/modules/0/stands/rear", json!("bottom"), "boxes[0].modules[0].stands")]
#[case::half_a_module("/boxes/0/modules/0/count", json!(0), "boxes[0].modules[0].count")]
#[case::reading_of_nothing("/cavities/0/readings/3/read", json!("0 mm"), "cavities[0].readings[3].read")]
#[case::no_line("/cavities/0/readings/3/line", json!("FLB to FLB"), "cavities[0].readings[3].line")]
#[case::name_for_a_terminal("/cavities/0/name", json!("left\u{1b}[2J"), "cavities[0]")]
#[case::seven_sigmas("/settings/sigmas", json!(6.5), "settings.sigmas")]
fn a_value_that_cannot_be_names_its_place(#[case] at: &str, #[case] value: Value, #[case] named: &str) {
    let mut job: Value = serde_json::from_str(EXAMPLES[0].text).unwrap();
    match at.rsplit_once('/') {
        Some((parent, name)) if job.pointer(at).is_none() => job.pointer_mut(parent).unwrap()[name] = value,
        _ => *job.pointer_mut(at).unwrap() = value,
    }
    let refusal = load_or_refuse(job.to_string().as_bytes()).unwrap_err();
    assert!(refusal.to_string().contains(named), "{refusal}");
}

#[rstest]
#[case::nothing("", "line 1")]
#[case::no_json("format: packwright-job", "line 1, column")]
#[case::list("[]", "not a packwright job")]
#[case::another_format("{\"format\": \"shopping\", \"version\": 1}", "its format is another")]
#[case::no_format("{\"version\": 1}", "no format field")]
#[case::no_version("{\"format\": \"packwright-job\"}", "no version")]
#[case::version_zero("{\"format\": \"packwright-job\", \"version\": 0}", "no version")]
#[case::version_in_words("{\"format\": \"packwright-job\", \"version\": \"1\"}", "no version")]
fn another_file_is_refused(#[case] text: &str, #[case] words: &str) {
    let refusal = load_or_refuse(text.as_bytes()).unwrap_err().to_string();
    assert!(refusal.contains(words), "{refusal}");
}

#[test]
fn bytes_that_are_no_text_and_depths_without_end_are_refused() {
    assert_eq!(
        load_or_refuse(b"{\"name\": \"\xff\"}").unwrap_err(),
        LoadError::NotText(11)
    );
    assert!(load_or_refuse("[".repeat(100_000).as_bytes()).is_err());
    assert!(matches!(
        load_or_refuse(&vec![b' '; 17 << 20]),
        Err(LoadError::TooLarge(_))
    ));
}

#[test]
fn a_job_with_nothing_in_it_loads() {
    load_or_refuse(b"{\"format\": \"packwright-job\", \"version\": 1}").unwrap();
}

fn list(value: &mut Value) -> &mut Vec<Value> {
    value.as_array_mut().expect("a list")
}

/// Every length at `far`, every quantity and count at its limit.
fn extreme(length: &str, modules: u32, closing: &str) -> Value {
    let mut job = serde_json::to_value(built_in("mountain-rescue")).expect("a job is JSON");
    for cavity in list(&mut job["cavities"]) {
        for reading in list(&mut cavity["readings"]) {
            reading["read"] = "100 m".into();
        }
        for keep_out in list(&mut cavity["keep_outs"]) {
            keep_out["from"] = json!(["-100 m", "-100 m", "-100 m"]);
            keep_out["to"] = json!(["100 m", "100 m", "100 m"]);
        }
    }
    for kind in list(&mut job["kinds"]) {
        kind["size"] = json!([length, length, length]);
        for quantity in [
            "mass_kg",
            "nominal_volts",
            "amp_hours",
            "empty_volts",
            "full_volts",
            "continuous_amps",
            "peak_amps",
        ] {
            kind[quantity] = 1_000_000.into();
        }
        (kind["on_hand"], kind["cells_series"], kind["cells_parallel"]) = (2_048.into(), 1_000.into(), 10_000.into());
        kind["service"] = "1 m".into();
        if kind.get("stack").is_some() {
            for size in ["end_plate", "rod_end", "growth"] {
                kind["stack"][size] = "100 m".into();
            }
            (kind["stack"]["fewest"], kind["stack"]["most"]) = (1.into(), 2_048.into());
        }
    }
    for (i, battery_box) in list(&mut job["boxes"]).iter_mut().enumerate() {
        let at = if i == 0 {
            json!(["100 m", "100 m", "100 m"])
        } else {
            json!(["-100 m", "-100 m", "-100 m"])
        };
        battery_box["at"] = at.clone();
        for module in list(&mut battery_box["modules"]) {
            module["at"] = at.clone();
            module["count"] = modules.into();
        }
    }
    for room in [
        "liner",
        "fit",
        "room_over",
        "room_ends",
        "bay",
        "gasket",
        "gasket_squeezed",
        "flange_out",
        "cap_deep",
    ] {
        job["design"][room] = "1000 mm".into();
    }
    for sheet in ["wall", "floor", "lid", "flange_thickness", "screw", "cap_out"] {
        job["design"][sheet] = "50 mm".into();
    }
    (job["design"]["closing"], job["design"]["screw_pitch"]) = (closing.into(), "0.001 mm".into());
    for quantity in [
        "min_volts",
        "max_volts",
        "absolute_max_volts",
        "peak_amps",
        "continuous_amps",
    ] {
        job["drive"][quantity] = 1_000_000.into();
    }
    job["wanted"] = json!({ "series": 2_048, "parallel": 2_048 });
    (job["settings"]["margin"], job["settings"]["gap"]) = ("1 m".into(), "1 m".into());
    job["limits"]["box_kg"] = 1_000_000.into();
    job
}

#[rstest]
fn the_largest_of_everything_evaluates(
    #[values("12 m", "0.000001 mm")] length: &str,
    #[values(1, 1_024)] modules: u32,
    #[values("flange", "cap", "flat")] closing: &str,
) {
    let mut job = load_or_refuse(extreme(length, modules, closing).to_string().as_bytes()).unwrap();
    let (into, kind) = (job.boxes[0].id, job.kinds[0].id);
    let _ = job::layout::next_place(&evaluate(&job), into, kind, 2_048, job.boxes[0].datum());
    // Every length of stack that the units on hand allow is looked at: enough of them to meet every sum.
    job.kinds.iter_mut().for_each(|kind| kind.on_hand = Some(100));
    let aims = [
        job::layout::Aim::Whole,
        job::layout::Aim::Fill(job.cavities[0].id),
        job::layout::Aim::Box(job.boxes[0].id),
    ];
    for aim in aims {
        let budget = geometry::fit::Budget { work: 2_000, seed: 1 };
        let _ = job::layout::propose(&job, &evaluate(&job), aim, budget, &mut geometry::fit::Unwatched);
        let evaluation = evaluate(&job);
        let goal = job::what_if::Goal::OneMore;
        if let Ok(asked) = job::what_if::ask(&job, &evaluation, aim, goal, budget, &mut geometry::fit::Unwatched) {
            for task in asked.tasks.iter().step_by(5) {
                let row = task.run(budget, &mut geometry::fit::Unwatched);
                assert!(!row.shown(&evaluation).brings.is_empty());
            }
        }
    }
    let evaluation = evaluate(&job);
    let budget = geometry::fit::Budget { work: 2_000, seed: 1 };
    let aim = job::layout::Aim::Fill(job.cavities[0].id);
    if let Ok(tasks) = job::what_if::gain_tasks(&job, &evaluation, aim, budget, &mut geometry::fit::Unwatched) {
        let gained = tasks.iter().map(|task| task.run(budget, &mut geometry::fit::Unwatched));
        assert!(gained.into_iter().all(|gain| gain.without >= gain.now));
    }
    let _ = job::what_if::tolerances(&job, &evaluation);
    for which in [
        job::layout::Which::AllBoxes,
        job::layout::Which::Modules(job.boxes[0].id),
    ] {
        let _ = job::layout::spread(&job, &evaluation, which);
    }
}

#[test]
fn as_many_modules_as_a_job_may_hold_all_in_one_place_evaluate() {
    let mut job = built_in("orchard-flatbed");
    job.kinds[0].on_hand = Some(2_048);
    let module = job.boxes[0].modules[0].clone();
    job.boxes[0].modules = (0..2_000)
        .map(|i| job::Placed {
            id: job::Id(1_000 + i),
            ..module.clone()
        })
        .collect();
    let evaluation = evaluate(&job);
    assert!(evaluation.has_stop());
    assert!(
        evaluation.findings.len() < 5_000,
        "{} findings are no help",
        evaluation.findings.len()
    );
}
