//! The Modules page: the kinds of module on the pallet.

use geometry::Axis;
use job::{Field, Id, Kind};

use crate::form::Row;
use crate::model::Model;

/// The rows: for each kind the seven values a first layout needs, then what has a default.
pub fn rows(model: &Model) -> Vec<Row> {
    let mut rows = Vec::new();
    for kind in &model.job().kinds {
        let id = kind.id;
        rows.push(Row::Heading(heading(model, kind)));
        rows.push(Row::Field(Field::KindName(id)));
        rows.extend(needed(id).map(Row::Field));
        rows.extend(
            [
                Field::KindChemistry(id),
                Field::KindCellsSeries(id),
                Field::KindEmpty(id),
                Field::KindFull(id),
                Field::KindPeak(id),
                Field::KindContinuous(id),
                Field::KindCharge(id),
                Field::KindResistance(id),
                Field::KindRestCurve(id),
                Field::KindTerminals(id),
                Field::KindPlus(id, Axis::X),
                Field::KindPlus(id, Axis::Y),
                Field::KindPlus(id, Axis::Z),
                Field::KindMinus(id, Axis::X),
                Field::KindMinus(id, Axis::Y),
                Field::KindMinus(id, Axis::Z),
                Field::KindService(id),
                Field::KindStance(id),
                Field::KindStacked(id),
            ]
            .map(Row::Field),
        );
        if kind.stack.is_some() {
            rows.extend(
                [
                    Field::StackAlong(id),
                    Field::StackFewest(id),
                    Field::StackMost(id),
                    Field::StackEndPlate(id),
                    Field::StackRodEnd(id),
                    Field::StackGrowth(id),
                    Field::StackHeld(id),
                ]
                .map(Row::Field),
            );
        }
        rows.push(Row::Field(Field::KindText(id)));
    }
    rows.push(Row::Heading("between modules".to_owned()));
    rows.push(Row::Field(Field::Gap));
    rows
}

/// The values of a kind that a first layout needs, in the order they are asked.
pub fn needed(id: Id) -> [Field; 7] {
    [
        Field::KindSize(id, Axis::X),
        Field::KindSize(id, Axis::Y),
        Field::KindSize(id, Axis::Z),
        Field::KindMass(id),
        Field::KindNominal(id),
        Field::KindAmpHours(id),
        Field::KindOnHand(id),
    ]
}

fn heading(model: &Model, kind: &Kind) -> String {
    let Some(result) = model.evaluation.kind(kind.id) else {
        return kind.name.clone();
    };
    let on_hand = result
        .on_hand
        .map_or(String::new(), |n| format!(", {n} on hand, {} placed", result.placed));
    match &result.module {
        Some(module) => format!(
            "{}: {}/{}/{} V, {:.2} kWh each{on_hand}",
            kind.name,
            module.volts.empty.shown(1),
            module.volts.nominal.shown(1),
            module.volts.full.shown(1),
            module.energy().kwh()
        ),
        None => format!("{}{on_hand}", kind.name),
    }
}

/// The kind that the row under the cursor belongs to.
pub fn kind_at(model: &Model, rows: &[Row], cursor: usize) -> Option<Id> {
    let own = |row: &Row| match row {
        Row::Field(Field::KindName(id) | Field::KindText(id)) => Some(*id),
        _ => None,
    };
    let before = &rows[..=cursor.min(rows.len().saturating_sub(1))];
    before
        .iter()
        .rev()
        .find_map(own)
        .or(model.job().kinds.first().map(|k| k.id))
}
