//! A label for each box that can be built: what it weighs, how it is lifted, what volts are in it.

use drawing::svg::escape;
use job::{BoxResult, Evaluation, PackResult};
use pack::Volts;
use pack::hazard::VoltageClass;

use super::{line, revision, short};
use crate::words;

/// Labels in the job's order.
pub(super) fn labels(evaluation: &Evaluation) -> Vec<String> {
    let built = evaluation.boxes.iter().filter(|b| b.built.is_some());
    built
        .zip(&evaluation.cut.list.boxes)
        .map(|(battery_box, summary)| {
            let cavity = evaluation.cavity(battery_box.cavity);
            let cavity = cavity.map_or_else(String::new, |cavity| short(&cavity.name, 40));
            let head = format!(
                "<p class=\"mark\">{} <span>{}</span></p>",
                escape(&format!("{}: {}", summary.letter, short(&battery_box.name, 30))),
                escape(&format!("cavity {cavity}, {}", revision(evaluation)))
            );
            let mut all = head;
            all.push_str(&volts(evaluation, battery_box));
            all.push_str(&lifting(evaluation, battery_box));
            for fitting in battery_box.fittings.iter().filter(|fitting| fitting.bare().is_some()) {
                all.push_str(&line("", &format!("{}: keep bare; bond to the chassis", fitting.label)));
            }
            all.push_str(&line(
                "",
                "Which marks must stand on it, and whether it may go on the road, local vehicle codes and licensed practice decide.",
            ));
            all
        })
        .collect()
}

/// Packs with modules in the box.
fn packs<'a>(evaluation: &'a Evaluation, battery_box: &BoxResult) -> impl Iterator<Item = &'a PackResult> {
    let kinds: Vec<job::Id> = battery_box.modules.iter().map(|module| module.kind).collect();
    evaluation.laid_out().filter(move |pack| kinds.contains(&pack.kind))
}

/// What is live in it, by the pack that its modules are part of: open links leave its own, a joined pack all of it.
fn volts(evaluation: &Evaluation, battery_box: &BoxResult) -> String {
    let highest = packs(evaluation, battery_box)
        .filter_map(|pack| Some((pack.figures.as_ref()?.volts.full, pack.voltage_class()?)))
        .max_by_key(|(full, _)| full.milli());
    let Some((full, class)) = highest else {
        return line(
            "danger",
            "DANGER: battery inside, volts not known. Take it for live and deadly until it is measured.",
        );
    };
    let mark = words::mark(evaluation.headline.assumed.volts);
    // Up: a label that says less than there may be lulls who reads it.
    let up_to = format!("up to {mark}{} V dc", whole_volts_up(full));
    let words = match class {
        VoltageClass::A => format!(
            "CAUTION: battery inside, {up_to} (class A: 60 V or less). It cannot be switched off. A short burns and throws \
             molten metal: no rings, insulated tools."
        ),
        VoltageClass::B | VoltageClass::Outside => format!(
            "DANGER: {up_to}. Touching it kills. It cannot be switched off: the modules are live with the disconnect open. Do \
             not open the lid: only who is trained for high voltage, after the service disconnect is open and after waiting."
        ),
    };
    line("danger", &words)
}

/// Whole volts, rounded up.
fn whole_volts_up(volts: Volts) -> i64 {
    let milli = volts.milli();
    milli.div_euclid(1000) + i64::from(milli.rem_euclid(1000) > 0)
}

fn lifting(evaluation: &Evaluation, battery_box: &BoxResult) -> String {
    let mark = words::mark(evaluation.headline.assumed.mass);
    let mut said = line(
        "strong",
        &format!(
            "weighs {mark}{} loaded, {mark}{} empty: lift it with machinery, never by hand over your feet",
            words::mass_of(evaluation, battery_box.mass.total_g()),
            words::mass_of(evaluation, battery_box.mass.empty_g())
        ),
    );
    if let Some(lift) = battery_box
        .strength
        .as_ref()
        .and_then(|strength| strength.lift.as_ref())
    {
        said.push_str(&line("", &lift.label_words(evaluation.units)));
    }
    said
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case(398_400, 399)]
    #[case(398_001, 399)]
    #[case(398_000, 398)]
    fn volts_on_a_label_are_never_less_than_they_may_be(#[case] milli: i64, #[case] whole: i64) {
        assert_eq!(whole_volts_up(Volts::from_milli(milli)), whole);
    }
}
