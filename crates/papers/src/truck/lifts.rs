//! How each box is lifted, as text.

use job::{BoxLift, Evaluation, mass_words};

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
                mass_words(lift.shell_kg),
                lift.shell_hands.words(),
                mass_words(lift.loaded_kg),
                lift.loaded_hands.words()
            ),
        );
        sheet.item(16, "", &centre(evaluation, lift));
    }
    for source in sources() {
        sheet.item(0, "", &source);
    }
}

/// How large it is over all, and where the middle of the mass is.
pub(super) fn centre(evaluation: &Evaluation, lift: &BoxLift) -> String {
    let [x, y, z] = lift
        .centre_m
        .map(|m| evaluation.near(tape::Length::from_mm(m * 1_000.0)));
    let built = evaluation.battery_box(lift.battery_box).and_then(|b| b.built.as_ref());
    let over = built.map_or_else(String::new, |built| {
        let size = built.overall.map(|side| evaluation.up(side)).join(" x ");
        format!("{size} over all; ")
    });
    format!(
        "{over}middle of the mass {x} from its front, {y} from its left, {z} from its bottom; held at its ends the front end \
         carries {:.0} kg, the rear end {:.0} kg",
        lift.ends_kg[0], lift.ends_kg[1]
    )
}

/// Where the limits for hands come from.
pub(super) fn sources() -> Vec<String> {
    let [one, two, niosh] = job::hands_limits();
    [
        ("one person", one),
        ("two persons", two),
        ("another equation, one person at best", niosh),
    ]
    .map(|(who, (kg, source))| format!("{who}: up to {}: {source}.", mass_words(kg)))
    .to_vec()
}
