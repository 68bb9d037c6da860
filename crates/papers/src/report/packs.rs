//! The packs that the units on hand allow.

use job::{Evaluation, PackResult};
use pack::arrangement::Choice;

use super::sheet::Sheet;
use crate::words;

/// The most choices that are listed.
const MOST: usize = 16;

pub(crate) fn write(sheet: &mut Sheet, evaluation: &Evaluation) {
    let mark = words::mark(evaluation.headline.assumed.volts);
    for pack in &evaluation.packs {
        sheet.heading(&format!("pack of {}", pack.name));
        sheet.fact("on hand", &format!("{}, {} placed", pack.on_hand, pack.placed));
        let fits = match (pack.unknown, pack.fits) {
            (Some(unknown), _) => format!("? {}: {}", unknown.what, unknown.fix),
            (None, None) => "no count known to fit the drive".to_owned(),
            (None, Some((least, most))) if least == most => format!("{mark}only {least} in series fits the drive"),
            (None, Some((least, most))) => format!("{mark}{least} to {most} in series fit the drive"),
        };
        sheet.fact("series", &fits);
        if let Some(arrangement) = pack.arrangement {
            sheet.fact(
                "as laid out",
                &format!(
                    "{}, {} missing, {} left over",
                    words::arrangement(arrangement),
                    pack.missing,
                    pack.left_over
                ),
            );
        }
        if let Some(figures) = &pack.figures {
            sheet.fact(
                "",
                &format!("{mark}{}, {}", words::volts(figures.volts), words::kwh(figures)),
            );
        }
        if let Some(electric) = pack.electric.as_ref().filter(|_| pack.placed > 0) {
            crate::pack_text::figures(sheet, electric);
        }
        for objection in &pack.objections {
            sheet.item(16, "! ", &format!("{}; {}", objection.words(), objection.fix()));
        }
        choices(sheet, pack, mark);
    }
}

fn choices(sheet: &mut Sheet, pack: &PackResult, mark: &str) {
    let near: Vec<&Choice> = pack
        .choices
        .iter()
        .filter(|choice| is_near(choice, pack.fits))
        .collect();
    if near.is_empty() {
        return;
    }
    sheet.line("");
    sheet.item(0, "", "choices near the drive's window, best first:");
    for choice in near.iter().take(MOST) {
        let figures = &choice.figures;
        let verdict = match (choice.fits(), pack.unknown) {
            (false, _) => "does not fit",
            (true, Some(unknown)) => unknown.what,
            (true, None) => "fits",
        };
        sheet.item(
            2,
            &format!("{:<8}", words::arrangement(choice.arrangement)),
            &format!(
                "{mark}{} to {} V, {}, {} left over: {verdict}",
                figures.volts.empty.shown(1),
                figures.volts.full.shown(1),
                words::kwh(figures),
                choice.left_over
            ),
        );
        for objection in &choice.objections {
            sheet.item(10, "! ", &objection.words());
        }
    }
    let more = near.len().saturating_sub(MOST);
    if more > 0 {
        sheet.item(2, "", &format!("and {more} more"));
    }
}

/// Whether a choice fits, or is one module in series away from what fits; without a known fit every choice is near.
fn is_near(choice: &Choice, fits: Option<(u32, u32)>) -> bool {
    fits.is_none_or(|(least, most)| {
        (least.saturating_sub(1)..=most.saturating_add(1)).contains(&choice.arrangement.series)
    })
}
