//! The stock on the Boxes page: how sheets and bars are cut, what is on sale, what lies there already.

use job::{Edit, Field, StockEdit, StockForm, StockPiece};

use crate::form::{Group, Row};
use crate::model::Model;
use crate::pages;
use crate::theme::Meaning;

/// How sheets and bars are cut.
const CUT: [Field; 7] = [
    Field::CuttingMethod,
    Field::Kerf,
    Field::EdgeTrim,
    Field::Turning,
    Field::SawKerf,
    Field::SawTrim,
    Field::KeepOffcut,
];

/// The rows: how it is cut, then each piece.
pub(super) fn rows(model: &Model) -> Vec<Row> {
    let mut rows = vec![Row::Heading("stock, and how it is cut".to_owned())];
    rows.extend(CUT.map(Row::Field));
    let pieces = &model.job().stock.pieces;
    for (index, piece) in pieces.iter().enumerate() {
        let of = Group::Stock(index);
        let open = model.boxes.open == Some(of);
        rows.push(Row::Group {
            of,
            title: title(piece),
            detail: detail(piece),
            open,
        });
        if open {
            rows.extend(fields(index, piece).map(Row::Field));
        }
    }
    if pieces.iter().all(|piece| piece.on_hand.is_some()) {
        let text = "nothing on sale entered: the usual sheet and bar are taken; b adds what is on sale, o an offcut";
        rows.push(Row::Text(text.to_owned(), Meaning::Dim));
    }
    rows
}

fn fields(index: usize, piece: &StockPiece) -> impl Iterator<Item = Field> {
    let has_width = piece.form.has_width();
    [
        Some(Field::StockForm(index)),
        Some(Field::StockLength(index)),
        has_width.then_some(Field::StockWidth(index)),
        Some(Field::StockMaterial(index)),
        Some(Field::StockThickness(index)),
        Some(Field::StockOnHand(index)),
        Some(Field::StockPrice(index)),
    ]
    .into_iter()
    .flatten()
}

fn title(piece: &StockPiece) -> String {
    let there = match piece.on_hand {
        Some(n) => format!("{n} on hand"),
        None => "on sale".to_owned(),
    };
    format!("{}, {there}", piece.form.name())
}

/// `96" x 48", mild steel, 3 mm, 84.50 each`.
fn detail(piece: &StockPiece) -> String {
    let width = piece.width.as_ref().map(|width| match piece.form {
        StockForm::Sheet => format!(" x {width}"),
        _ => format!(" of {width}"),
    });
    let mut parts = vec![format!("{}{}", piece.length, width.unwrap_or_default())];
    parts.push(
        piece
            .material
            .map_or("any material".to_owned(), |m| m.name().to_owned()),
    );
    parts.push(
        piece
            .thickness
            .as_ref()
            .map_or("any thickness".to_owned(), ToString::to_string),
    );
    if let Some(price) = piece.price {
        parts.push(format!("{} each", price.text()));
    }
    parts.join(", ")
}

/// Adds a sheet on sale, or an offcut on hand, and opens it.
pub fn add(model: &mut Model, on_hand: bool) {
    let form = StockForm::Sheet;
    // A refusal is already told in the message line.
    if model.apply(Edit::Stock(StockEdit::Add { form, on_hand })).is_err() {
        return;
    }
    let last = model.job().stock.pieces.len().saturating_sub(1);
    model.boxes.open = Some(Group::Stock(last));
    let rows = pages::rows(model);
    let wanted = if on_hand {
        Field::StockLength(last)
    } else {
        Field::StockForm(last)
    };
    if let Some(at) = rows.iter().position(|row| *row == Row::Field(wanted)) {
        model.boxes.cursor = at;
    }
}

/// Takes the piece at a place out of the list.
pub fn remove(model: &mut Model, index: usize) {
    // What is open is told by its place, which another piece may have now.
    model.boxes.open = None;
    let _ = model.apply(Edit::Stock(StockEdit::Remove(index)));
}
