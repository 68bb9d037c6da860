//! From a field's name to what it names among the stock.

use tape::{Allow, Length};

use super::Field;
use super::access::{MOST_ROOM, MOST_SHEET, choice, open_choice};
use super::slot::{Choice, Otherwise, Slot};
use crate::assumed;
use crate::{CuttingName, Job, Len, StockForm, StockMaterialName, StockPiece, TurningName};

/// The longest sheet or bar.
const MOST_STOCK: Length = Length::mm(20_000);
/// The most pieces of one size.
const MOST_PIECES: u32 = 1_000;

/// Access to the value that `field` names; `None` when its piece is not in the list.
pub(super) fn slot(job: &mut Job, field: Field) -> Option<Slot<'_>> {
    let units = job.units.units();
    let default_sheet = assumed::stock_sheet(job.units);
    let how = assumed::how(&job.stock, job.units);
    let stock = &mut job.stock;
    let taken = |to, most, default| Slot::Length {
        to,
        allow: Allow::ZeroOrMore,
        most,
        otherwise: Otherwise::Assumed(assumed::text(default, units)),
    };
    Some(match field {
        Field::CuttingMethod => choice(
            &mut stock.cutting,
            CuttingName::ALL,
            CuttingName::name,
            assumed::CUTTING.name(),
        ),
        Field::Kerf => taken(&mut stock.kerf, MOST_SHEET, assumed::kerf(how.cutting)),
        Field::EdgeTrim => taken(&mut stock.trim, MOST_ROOM, assumed::trim(how.cutting)),
        Field::Turning => choice(
            &mut stock.turning,
            TurningName::ALL,
            TurningName::name,
            assumed::TURNING.name(),
        ),
        Field::SawKerf => taken(&mut stock.saw_kerf, MOST_SHEET, assumed::SAW_KERF),
        Field::SawTrim => taken(&mut stock.saw_trim, MOST_ROOM, assumed::SAW_TRIM),
        Field::KeepOffcut => Slot::Length {
            to: &mut stock.keep,
            allow: Allow::AboveZero,
            most: MOST_STOCK,
            otherwise: Otherwise::Assumed(assumed::text(assumed::keep(job.units), units)),
        },
        Field::StockForm(i) => {
            let shorter = Len::exactly(default_sheet.sides[0], units);
            form(stock.pieces.get_mut(i)?, shorter)
        }
        Field::StockMaterial(i) => open_choice(
            &mut stock.pieces.get_mut(i)?.material,
            StockMaterialName::ALL,
            StockMaterialName::name,
        ),
        Field::StockThickness(i) => {
            let piece = stock.pieces.get_mut(i)?;
            Slot::Thickness {
                material: piece.material.map(StockMaterialName::material),
                to: &mut piece.thickness,
                most: MOST_SHEET,
                otherwise: Otherwise::Open,
            }
        }
        Field::StockLength(i) => Slot::Needed {
            to: &mut stock.pieces.get_mut(i)?.length,
            most: MOST_STOCK,
        },
        Field::StockWidth(i) => {
            let piece = stock.pieces.get_mut(i)?;
            let needed = piece.form == StockForm::Sheet;
            Slot::Length {
                to: &mut piece.width,
                allow: Allow::AboveZero,
                most: MOST_STOCK,
                otherwise: if needed { Otherwise::Missing } else { Otherwise::Open },
            }
        }
        Field::StockOnHand(i) => Slot::Count {
            to: &mut stock.pieces.get_mut(i)?.on_hand,
            most: MOST_PIECES,
            otherwise: Otherwise::Open,
        },
        Field::StockPrice(i) => Slot::Price(&mut stock.pieces.get_mut(i)?.price, Otherwise::Open),
        _ => return None,
    })
}

/// Sheet or bar: a sheet that was a bar begins with the usual width, and a bar that was a sheet with any section.
fn form(piece: &mut StockPiece, shorter: Len) -> Slot<'_> {
    let now = StockForm::ALL.iter().position(|&form| form == piece.form);
    let options = StockForm::ALL.iter().map(|form| form.name()).collect();
    let pick = Box::new(move |picked: Option<usize>| {
        let Some(form) = picked.map(|i| StockForm::ALL[i]) else {
            return;
        };
        let (was, is) = (piece.form == StockForm::Sheet, form == StockForm::Sheet);
        if was != is {
            piece.width = is.then_some(shorter);
        } else if !form.has_width() {
            piece.width = None;
        }
        piece.form = form;
    });
    Slot::Choice(Choice { options, now, pick }, Otherwise::Missing)
}
