//! The Pack page: the drive and the charger, and every series and parallel that the units allow.

use job::Field;
use pack::arrangement::Choice;

use crate::form::Row;
use crate::model::Model;
use crate::theme::Meaning;

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
        rows.push(Row::Heading(format!("{}: {} on hand, {} placed", pack.name, pack.on_hand, pack.placed)));
        rows.extend(laid_out(pack));
        for choice in worth_showing(&pack.choices) {
            let meaning = if choice.fits() { Meaning::Plain } else { Meaning::Dim };
            rows.push(Row::Text(choice_words(choice), meaning));
        }
    }
    rows.push(Row::Heading("before you touch it".to_owned()));
    rows.extend(papers::cautions().iter().map(|c| Row::Text((*c).to_owned(), Meaning::Caution)));
    rows
}

fn laid_out(pack: &job::PackResult) -> Vec<Row> {
    let (Some(a), Some(f)) = (pack.arrangement, pack.figures.as_ref()) else { return Vec::new() };
    let state = if pack.missing > 0 { format!(", {} short", pack.missing) } else { String::new() };
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
    if pack.left_over > 0 {
        rows.push(Row::Text(format!("{} placed belong to no whole string", pack.left_over), Meaning::Caution));
    }
    rows
}

/// All that fit, and the nearest that do not: those whose series count is one off, with one string.
fn worth_showing(choices: &[Choice]) -> Vec<&Choice> {
    let fits: Vec<u32> = choices.iter().filter(|c| c.fits()).map(|c| c.arrangement.series).collect();
    let near = |series: u32| match (fits.iter().min(), fits.iter().max()) {
        (Some(&least), Some(&most)) => series + 2 >= least && series <= most + 2,
        _ => true,
    };
    let few = choices.iter().filter(|c| !c.fits() && c.arrangement.parallel == 1 && near(c.arrangement.series));
    choices.iter().filter(|c| c.fits()).chain(few).take(60).collect()
}

fn choice_words(choice: &Choice) -> String {
    let (a, f) = (choice.arrangement, &choice.figures);
    let why: Vec<String> = choice.objections.iter().map(pack::arrangement::Objection::words).collect();
    let verdict = match (choice.fits(), why.is_empty()) {
        (true, true) => format!("ok  {} left over", choice.left_over),
        (true, false) => format!("!   {}", why.join("; ")),
        (false, _) => format!("!!  {}", why.join("; ")),
    };
    format!(
        "{:>3}s{:<2}p {:>6}/{:>6} V {:>6.1} kWh  {verdict}",
        a.series,
        a.parallel,
        f.volts.empty.shown(1),
        f.volts.full.shown(1),
        f.energy.kwh()
    )
}
