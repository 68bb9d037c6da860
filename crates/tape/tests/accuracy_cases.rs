//! The check values for tape accuracy.

use serde_json::Value;
use tape::Length;
use tape::reading::{Tape, TapeClass, default_sigma, limits, limits_sigma, root_sum_square, worst_case};

fn part_e() -> Value {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/cases/survey.json");
    let text = std::fs::read_to_string(path).expect("the check values are there");
    serde_json::from_str::<Value>(&text).expect("the check values are JSON")["e_tape_accuracy"].take()
}

fn mm(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

/// Asserts agreement to the digits that the check value is given with.
#[track_caller]
fn assert_close(got: f64, expected: &Value, tolerance: f64) {
    assert!(
        (got - mm(expected)).abs() <= tolerance,
        "got {got}, expected {expected}"
    );
}

fn classes() -> [(TapeClass, &'static str); 3] {
    [
        (TapeClass::I, "class_I"),
        (TapeClass::II, "class_II"),
        (TapeClass::III, "class_III"),
    ]
}

#[test]
fn the_limits_of_every_class_are_as_in_the_examples() {
    for example in part_e()["examples"].as_array().unwrap() {
        let length = Length::from_mm(mm(&example["length_m"]) * 1000.0);
        for (class, name) in classes() {
            let from_hook = Tape {
                class,
                hook: true,
                ..Tape::default()
            };
            let from_mark = Tape {
                hook: false,
                ..from_hook
            };
            assert_close(limits(length, &from_mark).as_mm(), &example[name]["mpe_mm"], 1e-9);
            assert_close(
                limits(length, &from_hook).as_mm(),
                &example[name]["mpe_with_end_surface_mm"],
                1e-9,
            );
            let sigma = limits_sigma(limits(length, &from_hook));
            assert_close(sigma.as_mm(), &example[name]["sigma_mm_from_end_surface_limits"], 6e-6);
        }
    }
}

#[test]
fn the_limits_follow_the_table() {
    let part = part_e();
    for (class, name) in [(TapeClass::I, "I"), (TapeClass::II, "II"), (TapeClass::III, "III")] {
        let row = &part["tape_classes"]["table"][name];
        let [a, b, c] = ["a_mm", "b_mm_per_m", "c_mm"].map(|key| mm(&row[key]));
        for (length, metres) in [
            (Length::from_nm(1), 1.0),
            (Length::mm(1_000), 1.0),
            (Length::mm(9_001), 10.0),
        ] {
            let tape = Tape {
                class,
                hook: true,
                ..Tape::default()
            };
            assert!((limits(length, &tape).as_mm() - (a + b * metres + c)).abs() < 1e-9);
        }
    }
}

#[test]
fn a_reading_to_a_sixteenth_has_the_sigma_of_the_budget() {
    for budget in part_e()["reading_budget"].as_array().unwrap() {
        let inputs = &budget["inputs"];
        assert_eq!(inputs["tape_class"], "II");
        let tape = Tape {
            class: TapeClass::II,
            graduation: Length::from_mm(mm(&inputs["graduation_in"]) * 25.4),
            aim: Length::from_mm(mm(&inputs["aim_limits_mm"])),
            hook: true,
        };
        assert_eq!(tape, Tape::default());
        let length = Length::from_mm(mm(&inputs["length_m"]) * 1000.0);
        let sigma = default_sigma(length, &tape);
        assert_close(sigma.as_mm(), &budget["combined_sigma_mm"], 6e-6);
        assert_close(sigma.as_inches(), &budget["combined_sigma_in"], 6e-7);

        let parts = &budget["sigmas_mm"];
        assert_close(limits_sigma(limits(length, &tape)).as_mm(), &parts["tape_limits"], 6e-6);
        assert_close(limits_sigma(tape.aim).as_mm(), &parts["aim_first_end"], 6e-6);
        let half_graduation = Length::from_nm(tape.graduation.nm() / 2);
        assert_close(
            limits_sigma(half_graduation).as_mm(),
            &parts["graduation_half_interval"],
            6e-6,
        );
        let most = [limits(length, &tape), half_graduation, tape.aim, tape.aim].map(Length::as_mm);
        assert_close(worst_case(&most), &budget["worst_case_mm"], 1e-9);
    }
}

#[test]
fn limits_count_as_rectangular() {
    let example = &part_e()["rectangular"]["example"];
    assert_close(
        limits_sigma(Length::from_mm(mm(&example["a"]))).as_mm(),
        &example["sigma"],
        6e-6,
    );
}

#[test]
fn tolerances_stack_as_in_the_examples() {
    for example in part_e()["stack_up"]["examples"].as_array().unwrap() {
        let tolerances: Vec<f64> = example["tolerances"].as_array().unwrap().iter().map(mm).collect();
        assert_close(worst_case(&tolerances), &example["worst_case"], 1e-9);
        assert_close(root_sum_square(&tolerances), &example["rss"], 6e-7);
    }
}
