//! The truck on the road: how far, in which gear, how long to charge, what the sun adds; then what it rests on.

use job::RoadField as F;
use job::{Field, Figure, Grave, RoadFigure as N, RoadResult, Subject};

use crate::form::Row;
use crate::model::Model;
use crate::theme::Meaning;
use crate::widgets::toast::wrap;

const fn n(figure: N) -> Field {
    Field::OfRoad(F::Figure(figure))
}

const fn own(field: F) -> Field {
    Field::OfRoad(field)
}

/// The entries, by what they are for.
const GROUPS: [(&str, &[Field]); 4] = [
    (
        "on the road: what it takes",
        &[
            own(F::Mass),
            own(F::Coastdown),
            n(N::Rolling),
            n(N::DragArea),
            n(N::Air),
            n(N::MassFactor),
            n(N::DriveEfficiency),
            n(N::Regen),
            n(N::SteadyDraw),
            n(N::CabinHeat),
            n(N::ColdLeft),
            n(N::UsableKwh),
            n(N::Reserve),
            n(N::CityShare),
            n(N::MotorKw),
            n(N::Grade),
            own(F::Cruise),
            own(F::Top),
            own(F::ADay),
        ],
    ),
    (
        "on the road: gears",
        &[
            own(F::Tyre),
            own(F::Rolled),
            own(F::Gears),
            n(N::FinalDrive),
            n(N::MotorNm),
            n(N::BaseRpm),
            n(N::BestRpm),
            n(N::LimitRpm),
        ],
    ),
    (
        "on the road: charging",
        &[
            Field::Figure(Figure::LineVolts),
            Field::Figure(Figure::LineAmps),
            n(N::Circuit),
            Field::Figure(Figure::ChargerPercent),
            Field::Figure(Figure::ChargerAmps),
            n(N::ChargeFrom),
            n(N::ChargeTo),
            n(N::TaperKnee),
            n(N::TaperLeft),
        ],
    ),
    (
        "on the road: panels",
        &[
            n(N::PanelWatts),
            own(F::Panels),
            own(F::InSeries),
            n(N::PanelVolts),
            n(N::PanelOpenVolts),
            own(F::PanelLength),
            own(F::PanelWidth),
            own(F::RoofLength),
            own(F::RoofWidth),
            own(F::PanelGap),
            own(F::Place),
            own(F::SunHours),
            n(N::Latitude),
            n(N::Clearness),
            own(F::SummerMonth),
            own(F::WinterMonth),
            n(N::Shade),
            n(N::StepUp),
            own(F::Isolated),
            own(F::CutOut),
        ],
    ),
];

/// The row that the section begins with.
pub fn first_row(rows: &[Row]) -> Option<usize> {
    rows.iter().position(|row| *row == Row::Heading(TITLE.to_owned()))
}

/// Whether the cursor is in the section: the rows then take the place of the side view.
pub(super) fn is_here(model: &Model) -> bool {
    first_row(&super::rows(model)).is_some_and(|first| model.truck.cursor > first)
}

const TITLE: &str = "on the road";

/// Big facts, the picture, what is wrong, the entries, then the tables.
pub(super) fn rows(model: &Model) -> Vec<Row> {
    let road = &model.evaluation.road;
    let room = model.size.0.saturating_sub(8).max(20);
    let mut rows = vec![Row::Heading(TITLE.to_owned())];
    for (what, value) in road.facts() {
        rows.push(Row::Line(format!(" {what:<16} {value}"), Meaning::Heading));
    }
    rows.extend(
        picture(road, room)
            .into_iter()
            .map(|line| Row::Line(line, Meaning::Plain)),
    );
    let say = |rows: &mut Vec<Row>, text: &str, meaning: Meaning| {
        rows.extend(wrap(text, room).into_iter().map(|line| Row::Line(line, meaning)));
    };
    for finding in model
        .evaluation
        .findings
        .iter()
        .filter(|finding| finding.subject == Subject::Road)
    {
        let (mark, meaning) = match finding.grave {
            Grave::Stop => ("!! ", Meaning::Stop),
            Grave::Caution => ("! ", Meaning::Caution),
            Grave::Note => ("", Meaning::Dim),
        };
        say(&mut rows, &format!("{mark}{}; {}", finding.words, finding.fix), meaning);
    }
    for waits in road.waits() {
        say(&mut rows, &waits, Meaning::Dim);
    }
    for (title, fields) in GROUPS {
        rows.push(Row::Heading(title.to_owned()));
        rows.extend(fields.iter().copied().map(Row::Field));
    }
    for table in road.tables() {
        rows.push(Row::Heading(table.title.to_owned()));
        rows.extend(
            table
                .lines(usize::from(room))
                .into_iter()
                .map(|line| Row::Line(line, Meaning::Plain)),
        );
        for note in &table.notes {
            say(&mut rows, note, Meaning::Dim);
        }
    }
    rows
}

/// Columns of the longest bar.
const BAR: f64 = 22.0;

/// What each steady speed takes, as bars, and beside it how fast the motor turns in each gear.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a share of a few columns, above zero"
)]
fn picture(road: &RoadResult, room: u16) -> Vec<String> {
    let Some(driven) = &road.driven else {
        return Vec::new();
    };
    let most = driven.curve.iter().map(|row| row.wh_per_mile).fold(0.0, f64::max);
    if most <= 0.0 {
        return Vec::new();
    }
    let gears = road.gears.as_ref();
    let head = match gears {
        Some(gears) => {
            let mark = |place| if gears.best == Some(place) { "*" } else { "" };
            let numbers = gears
                .rows
                .iter()
                .enumerate()
                .map(|(place, row)| format!("{}{}", mark(place), row.number));
            format!("{:>8} {:>33}{}", "steady", "rpm in gear", columns(numbers))
        }
        None => format!("{:>8}", "steady"),
    };
    let lines = driven.curve.iter().enumerate().map(|(at, row)| {
        let long = (row.wh_per_mile / most * BAR).round().max(0.0) as usize;
        let per = road.per_distance(row.wh_per_mile);
        let rpm = gears.map_or_else(String::new, |gears| {
            let over = |rpm: f64| if rpm > gears.limit_rpm { "!" } else { "" };
            columns(
                gears
                    .rows
                    .iter()
                    .filter_map(|gear| gear.rpm.get(at))
                    .map(|rpm| format!("{rpm:.0}{}", over(*rpm))),
            )
        });
        format!(
            "{:>8} {:<22} {per:>10}{rpm}",
            road.speed(row.speed_mps),
            "=".repeat(long)
        )
    });
    std::iter::once(head)
        .chain(lines)
        .map(|line| line.chars().take(usize::from(room)).collect())
        .collect()
}

/// Cells of seven columns.
fn columns(cells: impl Iterator<Item = String>) -> String {
    cells.fold(String::new(), |mut line, cell| {
        let room = 7_usize.saturating_sub(cell.chars().count());
        line.push_str(&" ".repeat(room));
        line.push_str(&cell);
        line
    })
}
