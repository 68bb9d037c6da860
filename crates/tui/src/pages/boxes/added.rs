//! What goes in and on boxes beyond shell and lid: what is asked for, and where it went in a box.

use job::{BoxResult, Evaluation, Field, Figure, FrameHole, Id, PartSize, PlacesOf};

use crate::form::Row;
use crate::model::Model;
use crate::theme::Meaning;
use crate::widgets::toast::wrap;

/// Each choice with the fields that it asks for.
const CHOICES: [(Field, &[Field]); 7] = [
    (
        Field::Brackets,
        &[
            Field::BracketSides,
            Field::Figure(Figure::BracketsPerSide),
            Field::Figure(Figure::BracketBolts),
            Field::PartSize(PartSize::BracketLeg),
            Field::PartSize(PartSize::BracketThickness),
            Field::PartSize(PartSize::BracketLength),
            Field::PartSize(PartSize::BracketUp),
            Field::PartSize(PartSize::RailLow),
            Field::PartSize(PartSize::RailWeb),
        ],
    ),
    (
        Field::HoldDown,
        &[
            Field::HoldDownBar,
            Field::Figure(Figure::HoldDownBars),
            Field::PartSize(PartSize::BarWidth),
            Field::PartSize(PartSize::BarThickness),
            Field::PartSize(PartSize::BarPad),
            Field::PartSize(PartSize::BarThread),
            Field::Figure(Figure::HoldDownClass),
            Field::PartSize(PartSize::LugLeg),
            Field::PartSize(PartSize::LugThickness),
            Field::PartSize(PartSize::LugGap),
        ],
    ),
    (
        Field::Dividers,
        &[
            Field::PartSize(PartSize::DividerThickness),
            Field::PartSize(PartSize::DividerHeight),
        ],
    ),
    (
        Field::Standoffs,
        &[
            Field::StandoffsFixed,
            Field::PartSize(PartSize::StandoffHeight),
            Field::PartSize(PartSize::StandoffWidth),
        ],
    ),
    (
        Field::LidStiffened,
        &[
            Field::Figure(Figure::LidLoad),
            Field::Figure(Figure::LidStiffeners),
            Field::StiffenersFixed,
            Field::PartSize(PartSize::StiffenerLeg),
            Field::PartSize(PartSize::StiffenerThickness),
            Field::PartSize(PartSize::LidGives),
        ],
    ),
    (
        Field::FloorRails,
        &[
            Field::Figure(Figure::FloorRails),
            Field::FloorRailsFixed,
            Field::PartSize(PartSize::FloorRailLeg),
            Field::PartSize(PartSize::FloorRailThickness),
        ],
    ),
    (
        Field::Clamps,
        &[
            Field::Figure(Figure::TieRods),
            Field::PartSize(PartSize::TieRod),
            Field::PartSize(PartSize::TieInset),
        ],
    ),
];

/// The choices for all boxes, each with the sizes it asks for. Clamps are asked for where a kind is clamped.
pub(super) fn design_rows(model: &Model, rows: &mut Vec<Row>) {
    let job = model.job();
    let clamped = job.kinds.iter().any(|kind| kind.stack.is_some());
    rows.push(Row::Heading("brackets, and what goes inside".to_owned()));
    for (choice, fields) in CHOICES {
        if choice == Field::Clamps && !clamped {
            continue;
        }
        rows.push(Row::Field(choice));
        let asked = fields.iter().filter(|field| field.is_asked(&job.design));
        rows.extend(asked.copied().map(Row::Field));
    }
}

/// The leg of its brackets and the places that can be told in a box.
fn told(id: Id) -> impl Iterator<Item = Field> {
    let places = PlacesOf::ALL.map(|which| Field::BoxPlaces(id, which));
    [Field::BoxBracketLeg(id)].into_iter().chain(places)
}

/// Where things went in a box, and the holes they ask for in the frame.
pub(super) fn box_rows(model: &Model, battery_box: &BoxResult, width: u16, rows: &mut Vec<Row>) {
    let design = &model.job().design;
    let mut asked = told(battery_box.id).filter(|field| field.is_asked(design)).peekable();
    let added = &battery_box.added;
    if asked.peek().is_none() && added.faults.is_empty() && added.meets.is_empty() {
        return;
    }
    rows.push(Row::Text("brackets, and what is inside".to_owned(), Meaning::Heading));
    for field in asked {
        rows.push(Row::Field(field));
        if let Some(leg) = added
            .bracket_leg
            .as_ref()
            .filter(|_| matches!(field, Field::BoxBracketLeg(_)))
        {
            let lines = wrap(
                &format!("it is {}", leg.text(model.evaluation.style())),
                width.saturating_sub(3),
            );
            rows.extend(
                lines
                    .into_iter()
                    .map(|line| Row::Text(format!("   {line}"), Meaning::Dim)),
            );
        }
        let ruled = added
            .by_rule
            .iter()
            .find(|(which, _)| field == Field::BoxPlaces(battery_box.id, *which));
        if let Some((_, places)) = ruled {
            let places: Vec<String> = places.iter().map(|&place| model.evaluation.near(place)).collect();
            let lines = wrap(&format!("by rule at {}", places.join("; ")), width.saturating_sub(3));
            rows.extend(
                lines
                    .into_iter()
                    .map(|line| Row::Text(format!("   {line}"), Meaning::Dim)),
            );
        }
    }
    for words in added.faults.iter().chain(&added.meets) {
        let lines = wrap(&format!("{} {words}", Meaning::Stop.mark()), width);
        rows.extend(lines.into_iter().map(|line| Row::Text(line, Meaning::Stop)));
    }
    for seat in &added.seats {
        let gap = if seat.gap.is_negative() {
            format!("{} into", model.evaluation.up(-seat.gap))
        } else {
            format!("{} from", model.evaluation.up(seat.gap))
        };
        let words = format!("its {} brackets end {gap} {}", seat.face.name(), seat.to);
        rows.extend(
            wrap(&words, width)
                .into_iter()
                .map(|line| Row::Text(line, Meaning::Plain)),
        );
    }
    for hole in &added.frame_holes {
        let meaning = if hole.says.is_empty() {
            Meaning::Plain
        } else {
            Meaning::Caution
        };
        let lines = wrap(&hole_words(&model.evaluation, hole), width);
        rows.extend(lines.into_iter().map(|line| Row::Text(line, meaning)));
    }
}

fn hole_words(evaluation: &Evaluation, hole: &FrameHole) -> String {
    // Where the flanges are not told, nothing says that a new hole keeps off them.
    let mark = match (hole.says.is_empty(), hole.is_there || hole.to_flange.is_some()) {
        (true, true) => Meaning::Good.mark(),
        (true, false) => Meaning::Note.mark(),
        (false, _) => Meaning::Caution.mark(),
    };
    format!("{mark:<2} frame hole, {}", evaluation.frame_hole_text(hole))
}
