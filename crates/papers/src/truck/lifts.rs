//! How each box is lifted, as text.

use job::{BoxLift, Evaluation, lift_limit_words, lift_words};

use crate::report::sheet::Sheet;

/// A fact for each box that can be built.
pub(super) fn write(sheet: &mut Sheet, evaluation: &Evaluation) {
    if evaluation.vehicle.lifts.is_empty() {
        return;
    }
    sheet.heading("lifting the boxes");
    for lift in &evaluation.vehicle.lifts {
        sheet.fact(
            &lift.name,
            &format!(
                "empty {}: {}; with its modules {}: {}",
                lift_words(lift.shell_kg),
                lift.shell_hands.words(),
                lift_words(lift.loaded_kg),
                lift.loaded_hands.words()
            ),
        );
        sheet.item(16, "", &centre(evaluation, lift));
    }
    for source in sources() {
        sheet.item(0, "", &source);
    }
}

/// How large it is over all, where the middle of the mass is from the corner of its body, brackets and rim left out, and what each end and each corner carries of it.
pub(super) fn centre(evaluation: &Evaluation, lift: &BoxLift) -> String {
    let near = |m: f64| evaluation.near(tape::Length::from_mm(m * 1_000.0));
    let [x, y, z] = lift.centre_m.map(near);
    let built = evaluation.battery_box(lift.battery_box).and_then(|b| b.built.as_ref());
    let over = built.map_or_else(String::new, |built| {
        let size = built.overall.map(|side| evaluation.up(side)).join(" x ");
        format!("{size} {}; ", drawing::WITH_HEADS)
    });
    let [low, high] = lift.end_names();
    let kg = |kg: f64| job::kg_words(kg, 0, evaluation.units);
    let [front_left, front_right, rear_left, rear_right] = lift.corners_kg.map(kg);
    format!(
        "{over}middle of the mass {x} from the front of its body, {y} from the body's left, {z} from the body's bottom{}; held \
         at the ends of its longer side the {low} end carries {}, the {high} end {}; of a sling at its corners front left \
         {front_left}, front right {front_right}, rear left {rear_left}, rear right {rear_right}",
        off_middle(evaluation, lift),
        kg(lift.ends_kg[0]),
        kg(lift.ends_kg[1])
    )
}

/// How far that is from the middle of the body, where the hook would hang it askew; empty where it is in the middle.
fn off_middle(evaluation: &Evaluation, lift: &BoxLift) -> String {
    let near = |m: f64| evaluation.near(tape::Length::from_mm(m * 1_000.0));
    let nothing = near(0.0);
    let named = lift
        .off_middle_m
        .into_iter()
        .zip([["forward", "rearward"], ["left", "right"]]);
    let told: Vec<String> = named
        .filter(|(m, _)| near(m.abs()) != nothing)
        .map(|(m, [low, high])| format!("{} {}", near(m.abs()), if m < 0.0 { low } else { high }))
        .collect();
    if told.is_empty() {
        String::new()
    } else {
        format!(
            ", {} of the body's middle: hook over it, or it hangs askew",
            told.join(" and ")
        )
    }
}

/// Where the limits for hands come from.
pub(crate) fn sources() -> Vec<String> {
    let [one, two, niosh] = job::hands_limits();
    [
        ("one person", one),
        ("two persons", two),
        ("another equation, one person at best", niosh),
    ]
    .map(|(who, (kg, source))| format!("{who}: up to {}: {source}.", lift_limit_words(kg)))
    .to_vec()
}
