//! The Pack page: every arrangement against the drive's window, the pack as laid out, what was checked, and the entries.

mod facts;
mod ladder;
mod plot;

use job::{Field, Figure, PackResult};

use crate::form::Row;
use crate::model::Model;
use crate::theme::Meaning;
use crate::widgets::pen::width;
use crate::widgets::toast::wrap;

/// Choices that stand above everything else, of each kind.
const FIRST: usize = 6;

/// The rows: the choices with the reason beside each, then the pack as laid out, then the entries.
pub fn rows(model: &Model) -> Vec<Row> {
    let mut rows = Vec::new();
    let window = model.job().drive.min_volts.zip(model.job().drive.max_volts);
    let packs = &model.evaluation.packs;
    for pack in packs {
        rows.push(Row::Heading(format!(
            "{}: {} on hand, {} placed",
            pack.name, pack.on_hand, pack.placed
        )));
        choices(model, pack, window, Which::First, &mut rows);
    }
    rows.push(Row::Heading("drive and charger".to_owned()));
    rows.extend(WINDOWS.map(Row::Field));
    for pack in packs {
        if pack.arrangement.is_none() {
            continue;
        }
        rows.push(Row::Heading(format!("{} as laid out", pack.name)));
        rows.extend(facts::rows(pack, model.size.0));
        if let Some(electric) = &pack.electric {
            rows.extend(plot::lines(electric).into_iter().map(|l| Row::Line(l, Meaning::Plain)));
            rows.push(Row::Text(
                format!("volts at rest: {}", electric.curve_source),
                Meaning::Dim,
            ));
            rows.push(Row::Heading("checked".to_owned()));
            rows.extend(facts::checks(electric, model.size.0));
        }
    }
    for (title, fields) in GROUPS {
        rows.push(Row::Heading(title.to_owned()));
        rows.extend(fields.iter().copied().map(Row::Field));
    }
    for pack in packs {
        let mut more = Vec::new();
        choices(model, pack, window, Which::More, &mut more);
        if !more.is_empty() {
            rows.push(Row::Heading(format!("more choices of {}", pack.name)));
            rows.append(&mut more);
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

/// What the pack has to suit.
const WINDOWS: [Field; 10] = [
    Field::DriveMin,
    Field::DriveMax,
    Field::DriveAbsolute,
    Field::DrivePeak,
    Field::DriveContinuous,
    Field::ChargerMin,
    Field::ChargerMax,
    Field::WantedSeries,
    Field::WantedParallel,
    Field::Joined,
];

const fn f(figure: Figure) -> Field {
    Field::Figure(figure)
}

/// The other entries, by what they are for.
const GROUPS: [(&str, &[Field]); 5] = [
    (
        "use and charging",
        &[
            f(Figure::SocLow),
            f(Figure::SocHigh),
            f(Figure::Health),
            f(Figure::CruiseKw),
            f(Figure::ColdTimes),
            f(Figure::DriveRegen),
            f(Figure::LineVolts),
            f(Figure::LineAmps),
            f(Figure::ChargerPercent),
            f(Figure::ChargerAmps),
            f(Figure::ConverterMin),
            f(Figure::ConverterMax),
        ],
    ),
    (
        "links and cables",
        &[
            Field::LinkMadeOf,
            Field::Cable,
            f(Figure::LeadLength),
            f(Figure::CableSpare),
            f(Figure::LinkEnds),
            f(Figure::CableMore),
            f(Figure::LinkStock),
            f(Figure::JointResistance),
            f(Figure::Ambient),
            f(Figure::InsulationTemp),
            f(Figure::CableAmps),
            f(Figure::CableOutside),
            f(Figure::BendTimes),
            f(Figure::Stud),
            f(Figure::Torque),
        ],
    ),
    (
        "protection",
        &[
            f(Figure::FuseAmps),
            f(Figure::FuseVolts),
            f(Figure::FuseKa),
            f(Figure::FuseLoad),
            f(Figure::FuseWarm),
            f(Figure::StringFuse),
            f(Figure::ContactorAmps),
            f(Figure::ContactorVolts),
            f(Figure::DisconnectAfter),
            f(Figure::DriveCapacitors),
            f(Figure::PrechargeOhms),
            f(Figure::PrechargeSeconds),
            f(Figure::PrechargeLevel),
            f(Figure::BleedOhms),
            f(Figure::BleedSeconds),
            f(Figure::LoopInductance),
        ],
    ),
    (
        "insulation",
        &[
            f(Figure::OhmsPerVolt),
            f(Figure::YCapacitance),
            f(Figure::Pollution),
            f(Figure::MaterialGroup),
            f(Figure::Impulse),
            f(Figure::Altitude),
            f(Figure::JoinApart),
        ],
    ),
    (
        "measured",
        &[
            f(Figure::IsolationPack),
            f(Figure::IsolationMinus),
            f(Figure::IsolationPlus),
            f(Figure::IsolationResistor),
            f(Figure::IsolationAfter),
            f(Figure::BondMillivolts),
            f(Figure::BondAmps),
        ],
    ),
];

/// Bars of choices with what is to say of each, over as many lines as the window needs.
fn choices(
    model: &Model,
    pack: &PackResult,
    window: Option<(pack::Volts, pack::Volts)>,
    which: Which,
    rows: &mut Vec<Row>,
) {
    let all = ladder::worth_showing(pack);
    let first = &all[..all.len().min(FIRST)];
    let shown = match which {
        Which::First => first,
        Which::More => &all[first.len()..],
    };
    if shown.is_empty() {
        return;
    }
    let scale = ladder::Scale::of(window, first);
    rows.push(match pack.unknown {
        Some(unknown) => Row::Text(format!("? {}: {} below", unknown.what, unknown.fix), Meaning::Caution),
        None => Row::Text(scale.head(), Meaning::Dim),
    });
    for choice in shown {
        let meaning = if choice.fits() { Meaning::Plain } else { Meaning::Dim };
        let (mark, words) = ladder::verdict(pack, choice);
        let head = format!("{}{} {mark} ", ladder::name(choice), scale.bar(choice));
        let indent = width(&head);
        let room = model.size.0.saturating_sub(indent + 6).max(20);
        for (i, line) in wrap(&words, room).into_iter().enumerate() {
            if i == 0 {
                rows.push(Row::Choice {
                    arrangement: choice.arrangement,
                    words: format!("{head}{line}"),
                    meaning,
                });
            } else {
                rows.push(Row::Text(format!("{}{line}", " ".repeat(usize::from(indent))), meaning));
            }
        }
    }
}

/// Which of the choices.
#[derive(Clone, Copy)]
enum Which {
    First,
    More,
}
