//! The Boxes page: how boxes are built, their sizes and mass, the allowance ledger, and what to cut.

mod added;
pub mod bed;
pub mod changed;
pub mod picture;
pub mod stock;
mod strength;

use geometry::{Axis, Face};
use job::{BoxResult, Field, Figure, Id, Room, give_or_take, percent};
use tape::Length;

use crate::form::{Group, Row};
use crate::model::Model;
use crate::pages::beside::columns_of_rows;
use crate::pages::nests;
use crate::theme::Meaning;
use crate::widgets::toast::wrap;

/// The rows: the construction, then each box with its sizes, clearances and ledger, then the cut list.
pub fn rows(model: &Model) -> Vec<Row> {
    let mut rows = Vec::new();
    for battery_box in &model.evaluation.boxes {
        rows.extend(box_rows(model, battery_box));
    }
    rows.push(Row::Heading("how boxes are built".to_owned()));
    let design = &model.job().design;
    rows.extend(MADE.into_iter().filter(|field| field.is_asked(design)).map(Row::Field));
    let within = [
        Field::Gasket,
        Field::GasketSqueezed,
        Field::Liner,
        Field::LinerMaterial,
        Field::Fit,
        Field::RoomOver,
        Field::RoomEnds,
        Field::Bay,
        Field::Coating,
        Field::Tiers,
        Field::BoxesPerCavity,
        Field::BoxKg,
        Field::Fraction,
    ];
    rows.extend(
        within
            .into_iter()
            .filter(|field| field.is_asked(design))
            .map(Row::Field),
    );
    rows.extend(unused_rows(model));
    added::design_rows(model, &mut rows);
    rows.push(Row::Heading("mounts and loads".to_owned()));
    rows.extend(strength::FIELDS.map(Row::Field));
    rows.push(Row::Heading("water, air and paint".to_owned()));
    rows.extend(
        [Figure::IpSolids, Figure::IpWater, Figure::Wading, Figure::Coverage]
            .map(|figure| Row::Field(Field::Figure(figure))),
    );
    rows.push(Row::Heading("how true the shop builds".to_owned()));
    rows.extend(
        [
            Field::ShopClass,
            Field::ShopLimits,
            Field::Flatness,
            Field::SheetLimits,
            Field::CoatingLimits,
            Field::LinerLimits,
            Field::ModuleLimits,
        ]
        .map(Row::Field),
    );
    rows.push(Row::Heading("drawings and templates".to_owned()));
    rows.extend(
        [
            Field::Shop,
            Field::DrawnBy,
            Field::PaperSize,
            Field::Projection,
            Field::Dummies,
        ]
        .map(Row::Field),
    );
    rows.extend(bed::rows(model));
    rows.extend(stock::rows(model));
    rows.extend(cut_rows(model));
    rows
}

/// What was entered and is not used as boxes are built now, each with why: it is cleared here.
fn unused_rows(model: &Model) -> Vec<Row> {
    let unused = &model.evaluation.unused;
    if unused.is_empty() {
        return Vec::new();
    }
    let mut rows = vec![Row::Heading("entered, and not used".to_owned())];
    for entry in unused {
        rows.push(Row::Field(entry.field));
        let meaning = if entry.grave == job::Grave::Caution {
            Meaning::Caution
        } else {
            Meaning::Dim
        };
        let lines = wrap(
            &format!("not used: {}", entry.why),
            columns_of_rows(model).saturating_sub(3),
        );
        rows.extend(lines.into_iter().map(|line| Row::Text(format!("   {line}"), meaning)));
    }
    rows
}

/// Columns from which the cut list tells what makes each piece.
const MADE_FROM: u16 = 96;

/// How a box is made and closed, in the order of the page; those that its design asks for are shown.
const MADE: [Field; 32] = [
    Field::Material,
    Field::Construction,
    Field::Wall,
    Field::Floor,
    Field::Lid,
    Field::Corners,
    Field::BendRule,
    Field::BendRadius,
    Field::CornerGap,
    Field::WeldSide,
    Field::WeldLeg,
    Field::FrameLeg,
    Field::FrameThickness,
    Field::PanelsHeld,
    Field::Rivet,
    Field::RivetPitch,
    Field::RivetHeads,
    Field::Sealant,
    Field::Figure(Figure::RivetBears),
    Field::Figure(Figure::BondBears),
    Field::Closing,
    Field::FlangeOut,
    Field::FlangeThickness,
    Field::FlangeJoint,
    Field::CapOut,
    Field::CapDeep,
    Field::CapHeld,
    Field::ToggleOut,
    Field::Screw,
    Field::ScrewHead,
    Field::ScrewBelow,
    Field::ScrewPitch,
];

fn box_rows(model: &Model, battery_box: &BoxResult) -> Vec<Row> {
    let evaluation = &model.evaluation;
    let open = model.boxes.open == Some(Group::Box(battery_box.id));
    let size = match (&battery_box.built, &battery_box.fault) {
        (Some(built), _) => {
            let [x, y, z] = built.overall.map(|l| evaluation.up(l));
            format!("{x} x {y} x {z} {}", drawing::WITH_HEADS)
        }
        (None, Some(fault)) => format!("cannot be built: {fault}"),
        (None, None) => "empty".to_owned(),
    };
    let mut rows = vec![Row::Group {
        of: Group::Box(battery_box.id),
        title: battery_box.name.clone(),
        detail: size,
        open,
    }];
    if !open {
        return rows;
    }
    let id = battery_box.id;
    let width = columns_of_rows(model).saturating_sub(8);
    if battery_box.built.is_some() {
        let kg = job::Grams(battery_box.mass.total_g()).kg();
        rows.push(Row::Text(format!("{kg:.0} kg loaded"), Meaning::Plain));
    }
    rows.extend([Field::BoxName(id), Field::BoxSize(id)].map(Row::Field));
    if battery_box.fixed {
        rows.extend(Axis::ALL.map(|axis| Row::Field(Field::BoxFixed(id, axis))));
    }
    rows.extend(step_rows(battery_box));
    rows.extend(Axis::ALL.map(|axis| Row::Field(Field::BoxAt(id, axis))));
    if battery_box.bay.is_some() {
        rows.push(Row::Field(Field::BoxBay(id)));
    }
    if let Some(drawn) = battery_box.drawn.as_ref().or(battery_box.coated.as_ref()) {
        let [x, y, z] = drawn.size().0.map(|l| evaluation.near(l));
        let words = format!("body as drawn, over the walls and to the top of the lid: {x} x {y} x {z}");
        let lines = wrap(&words, width);
        rows.extend(lines.into_iter().map(|line| Row::Text(line, Meaning::Dim)));
    }
    rows.extend(Axis::ALL.map(|axis| Row::Field(Field::BoxBuilt(id, axis))));
    let exits: Vec<String> = evaluation
        .exits_of(id)
        .map(|exit| format!("{} ({} outside)", exit.name, evaluation.near(exit.outside)))
        .collect();
    if !exits.is_empty() {
        let words = format!("cables that cross its walls: {}; p proposes glands", exits.join(", "));
        let lines = wrap(&words, width);
        rows.extend(lines.into_iter().map(|line| Row::Text(line, Meaning::Plain)));
    }
    fitting_rows(battery_box, width, &mut rows);
    added::box_rows(model, battery_box, width, &mut rows);
    chance_rows(model, "the box goes in", &battery_box.fit.outside, &mut rows);
    chance_rows(model, "its modules go in", &battery_box.fit.inside, &mut rows);
    if let Some(around) = &battery_box.around {
        for face in Face::ALL {
            let clearance = &around.faces[face.index()];
            let (mark, meaning) = if clearance.is_short() {
                ("! ", Meaning::Caution)
            } else {
                ("ok", Meaning::Plain)
            };
            rows.push(Row::Text(
                format!(
                    "{mark} {:<7}{:>10}  to {}, {} of it for sure",
                    face.name(),
                    evaluation.down(clearance.distance),
                    clearance.name,
                    evaluation.down(clearance.sure())
                ),
                meaning,
            ));
        }
    }
    if let Some(found) = &battery_box.roomiest {
        for line in wrap(&evaluation.roomiest_text(found), width) {
            rows.push(Row::Text(format!("   {line}"), Meaning::Dim));
        }
    }
    if let Some(sums) = &battery_box.strength {
        strength::rows(sums, model.shown().units, width, &mut rows);
    }
    if let Some(welds) = battery_box.welds.as_ref().filter(|welds| !welds.seams.is_empty()) {
        let words = format!(
            "welds: {:.2} m in {} seams, {:.0} g of weld metal; order and diagonals are in weld-map.html",
            welds.welded().as_mm() / 1000.0,
            welds.count(),
            welds.metal_g()
        );
        let lines = wrap(&words, width);
        rows.extend(lines.into_iter().map(|line| Row::Text(line, Meaning::Plain)));
    }
    ledger_rows(model, battery_box, &mut rows);
    rows
}

/// Every bit of length, width and height, each summed.
fn ledger_rows(model: &Model, battery_box: &BoxResult, rows: &mut Vec<Row>) {
    let evaluation = &model.evaluation;
    for ledger in &battery_box.ledgers {
        rows.push(Row::Text(
            format!(
                "every bit of the {}, {} up to where the walls are expected:",
                ledger.axis.extent_name(),
                evaluation.near(ledger.total)
            ),
            Meaning::Heading,
        ));
        rows.extend(ledger.entries.iter().map(|entry| {
            Row::Text(
                ledger_words(evaluation.units, &entry.words, entry.length),
                Meaning::Plain,
            )
        }));
    }
}

/// The step in the underside, and its sizes where there is one.
fn step_rows(battery_box: &BoxResult) -> impl Iterator<Item = Row> {
    let id = battery_box.id;
    let sizes = battery_box
        .step
        .map(|_| [Field::BoxStepRun(id), Field::BoxStepRise(id)]);
    let fields = [Field::BoxStep(id)].into_iter().chain(sizes.into_iter().flatten());
    fields.map(Row::Field)
}

/// What is let into the walls, with what is wrong with it.
fn fitting_rows(battery_box: &BoxResult, width: u16, rows: &mut Vec<Row>) {
    if battery_box.fittings.is_empty() {
        let words =
            "nothing is let into its walls: a adds a gland, breather, drain, disconnect, lifting eye or earth stud";
        rows.extend(wrap(words, width).into_iter().map(|line| Row::Text(line, Meaning::Dim)));
    }
    for fitting in &battery_box.fittings {
        rows.push(Row::Text(format!("let in: {}", fitting.label), Meaning::Heading));
        let wrong = fitting.fault.clone().or_else(|| {
            let meets = fitting.meets.join(", ");
            (!meets.is_empty()).then(|| format!("it reaches into {meets}"))
        });
        if let Some(wrong) = wrong {
            let lines = wrap(&format!("{} {wrong}", Meaning::Stop.mark()), width);
            rows.extend(lines.into_iter().map(|line| Row::Text(line, Meaning::Stop)));
        }
        rows.extend(Field::of_fitting(fitting.id).map(Row::Field));
    }
}

/// The room along each axis, how likely it is enough, and what costs most.
fn chance_rows(model: &Model, what: &str, rooms: &[Room], rows: &mut Vec<Row>) {
    let evaluation = &model.evaluation;
    if rooms.is_empty() {
        return;
    }
    let all: f64 = rooms.iter().map(|room| room.fits).product();
    rows.push(Row::Text(
        format!("chance that {what}, once built: {}", percent(all)),
        Meaning::Heading,
    ));
    for room in rooms {
        let take = Length::from_mm_up(room.sigma.as_mm() * evaluation.sigmas);
        let meaning = if room.fits < DOUBTFUL {
            Meaning::Caution
        } else {
            Meaning::Plain
        };
        let most = room.shares.first().map_or(String::new(), |share| {
            format!(
                "most by {}, {} without",
                share.words(evaluation.style()),
                percent(share.fits_without)
            )
        });
        let line = format!(
            "{:<2} {:<7}{:>7}  {} to share +-{}",
            meaning.mark(),
            room.axis.extent_name(),
            percent(room.fits),
            evaluation.down(room.free),
            give_or_take(evaluation.style(), take),
        );
        // In a narrow window the cause has a row of its own.
        if most.is_empty() {
            rows.push(Row::Text(line, meaning));
        } else if line.len() + most.len() + 8 <= usize::from(columns_of_rows(model)) {
            rows.push(Row::Text(format!("{line}; {most}"), meaning));
        } else {
            rows.push(Row::Text(line, meaning));
            rows.push(Row::Text(format!("   {most}"), Meaning::Dim));
        }
    }
}

/// Below it a chance is marked.
const DOUBTFUL: f64 = 0.95;

/// A number of pieces in words.
pub fn pieces(n: u32) -> String {
    format!("{n} piece{}", if n == 1 { "" } else { "s" })
}

fn cut_rows(model: &Model) -> Vec<Row> {
    let cut = &model.evaluation.cut;
    let mut rows = vec![Row::Heading(format!("to cut: {:.1} kg", cut.list.grams / 1000.0))];
    let nests = nests::of_job(model);
    if nests.is_none() && !cut.list.tables.is_empty() {
        rows.push(Row::Text("n lays it on sheets and bars".to_owned(), Meaning::Dim));
    }
    for (index, table) in cut.list.tables.iter().enumerate() {
        rows.push(Row::Text(
            format!("{}: {}", table.label(), pieces(table.pieces)),
            Meaning::Heading,
        ));
        if let Some(nested) = nests.and_then(|nests| nests.nesting.stocks.get(index)) {
            let width = columns_of_rows(model).saturating_sub(8);
            let lines = wrap(&nested.summary(model.evaluation.units), width);
            rows.extend(
                lines
                    .into_iter()
                    .map(|line| Row::Text(format!("  {line}"), Meaning::Plain)),
            );
        }
        rows.extend(table.lines.iter().flat_map(|line| {
            let evaluation = &model.evaluation;
            let [length, width] = [line.length, line.width].map(job::Evaluation::cut_mm);
            let mm = format!("{length:>8} x {width} mm");
            // What makes it is told where there is room.
            let made = if columns_of_rows(model) >= MADE_FROM {
                format!("{mm:<22}{}", line.machine(evaluation.sheet.cutting))
            } else {
                mm
            };
            let row = Row::Text(
                format!(
                    "  {:<4}{:<22}x{:<3}{:>10} x {:>10}  {made}",
                    line.mark,
                    line.name,
                    line.quantity,
                    evaluation.cut_inches(line.length),
                    evaluation.cut_inches(line.width),
                ),
                Meaning::Plain,
            );
            let notch = line.notch().map(|notch| {
                let [along, up] = notch.size.map(|side| evaluation.near(side));
                Row::Text(format!("      less {along} x {up} at a lower corner"), Meaning::Dim)
            });
            [row].into_iter().chain(notch)
        }));
    }
    rows
}

/// The box whose group the cursor is in.
pub fn box_at(rows: &[Row], cursor: usize) -> Option<Id> {
    let before = &rows[..=cursor.min(rows.len().saturating_sub(1))];
    before.iter().rev().find_map(|row| match row {
        Row::Group { of: Group::Box(id), .. } => Some(Some(*id)),
        Row::Group { .. } | Row::Heading(_) => Some(None),
        _ => None,
    })?
}

/// A line of a ledger: finer than the tape's marks, so that the lines add up to their sum as shown.
fn ledger_words(units: tape::Units, words: &str, length: tape::Length) -> String {
    match units {
        tape::Units::Inch => format!("  {words:<40}{:>9.3} in", length.as_inches()),
        tape::Units::Millimetre => format!("  {words:<40}{:>9.2} mm", length.as_mm()),
    }
}

#[cfg(test)]
mod tests {
    use super::pieces;

    #[test]
    fn one_piece_is_one() {
        assert_eq!([0, 1, 2].map(pieces), ["0 pieces", "1 piece", "2 pieces"]);
    }
}
