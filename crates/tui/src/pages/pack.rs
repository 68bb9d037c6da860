//! The Pack page: the drive and the charger, and every series and parallel that the units allow.

use job::Field;
use pack::arrangement::{Choice, Objection};

use crate::form::Row;
use crate::model::Model;
use crate::theme::Meaning;
use crate::widgets::pen::width;
use crate::widgets::toast::wrap;

/// The rows: the windows to fill in, then the pack as laid out, then the table of choices with the reason beside each.
pub fn rows(model: &Model) -> Vec<Row> {
    let mut rows = vec![Row::Heading("drive and charger".to_owned())];
    rows.extend(
        [
            Field::DriveMin,
            Field::DriveMax,
            Field::DriveAbsolute,
            Field::DrivePeak,
            Field::DriveContinuous,
            Field::ChargerMin,
            Field::ChargerMax,
            Field::WantedSeries,
            Field::WantedParallel,
        ]
        .map(Row::Field),
    );
    for pack in &model.evaluation.packs {
        rows.push(Row::Heading(format!(
            "{}: {} on hand, {} placed",
            pack.name, pack.on_hand, pack.placed
        )));
        rows.extend(laid_out(pack));
        for choice in worth_showing(&pack.choices) {
            let meaning = if choice.fits() { Meaning::Plain } else { Meaning::Dim };
            let lines = choice_lines(choice, model.size.0).into_iter().enumerate();
            rows.extend(lines.map(|(i, line)| match i {
                0 => Row::Choice {
                    arrangement: choice.arrangement,
                    words: line,
                    meaning,
                },
                _ => Row::Text(line, meaning),
            }));
        }
    }
    rows.push(Row::Heading("before you touch it".to_owned()));
    rows.extend(
        papers::cautions()
            .iter()
            .map(|c| Row::Text((*c).to_owned(), Meaning::Caution)),
    );
    rows
}

fn laid_out(pack: &job::PackResult) -> Vec<Row> {
    let (Some(a), Some(f)) = (pack.arrangement, pack.figures.as_ref()) else {
        return Vec::new();
    };
    let state = if pack.missing > 0 {
        format!(", {} short", pack.missing)
    } else {
        String::new()
    };
    let mut rows = vec![Row::Text(
        format!(
            "as laid out {}s{}p: {}/{}/{} V  {} Ah  {:.1} kWh{state}",
            a.series,
            a.parallel,
            f.volts.empty.shown(1),
            f.volts.nominal.shown(1),
            f.volts.full.shown(1),
            f.capacity.shown(1),
            f.energy.kwh()
        ),
        Meaning::Heading,
    )];
    if let Some(crossing) = &pack.crossing {
        let text = format!(
            "! strings that have to cross from one box to another: {} of {}",
            crossing.strings, crossing.of
        );
        rows.push(Row::Text(text, Meaning::Caution));
    }
    if pack.left_over > 0 {
        rows.push(Row::Text(
            format!("{} placed belong to no whole string", pack.left_over),
            Meaning::Caution,
        ));
    }
    rows
}

/// All that fit, and of those that do not the ones whose series count is nearest to one that does, with one string.
fn worth_showing(choices: &[Choice]) -> Vec<&Choice> {
    let fits: Vec<u32> = choices
        .iter()
        .filter(|c| c.fits())
        .map(|c| c.arrangement.series)
        .collect();
    let off = |c: &Choice| fits.iter().map(|s| s.abs_diff(c.arrangement.series)).min().unwrap_or(0);
    let mut near: Vec<&Choice> = choices
        .iter()
        .filter(|c| !c.fits() && c.arrangement.parallel == 1 && off(c) <= 2)
        .collect();
    near.sort_by_key(|c| (off(c), c.arrangement.series));
    choices.iter().filter(|c| c.fits()).chain(near).take(60).collect()
}

/// A choice with its figures and what speaks against it, over as many lines as the window needs.
fn choice_lines(choice: &Choice, columns: u16) -> Vec<String> {
    let (a, f) = (choice.arrangement, &choice.figures);
    let arrangement = format!("{}s{}p", a.series, a.parallel);
    let volts = format!("{}/{} V", f.volts.empty.shown(1), f.volts.full.shown(1));
    let head = format!("{arrangement:<7}{volts:<15}{:>5.1} kWh ", f.energy.kwh());
    let why: Vec<String> = choice.objections.iter().map(Objection::words).collect();
    let (mark, why) = match (choice.fits(), why.is_empty()) {
        (true, true) => ("ok", format!("{} left over", choice.left_over)),
        (true, false) => ("! ", why.join("; ")),
        (false, _) => ("!!", why.join("; ")),
    };
    let indent = width(&head) + width(mark) + 1;
    let room = columns.saturating_sub(indent + 5).max(20);
    let mut lines = Vec::new();
    for (i, line) in wrap(&why, room).into_iter().enumerate() {
        let start = if i == 0 {
            format!("{head}{mark} ")
        } else {
            " ".repeat(usize::from(indent))
        };
        lines.push(format!("{start}{line}"));
    }
    lines
}
