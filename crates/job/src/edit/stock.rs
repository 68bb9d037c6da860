//! What a person does to the list of stock.

use crate::{EditError, Job, Len, PartSize, StockForm, StockPiece, Thickness, assumed};

/// One thing done to the list of stock. What is entered of a piece is set through its fields.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StockEdit {
    /// Adds a sheet or bar of the usual size, to be changed; on hand, of the material and thickness of the walls, or of
    /// the flange.
    Add {
        /// Sheet or bar.
        form: StockForm,
        /// Whether one lies there already; else it is bought, as many as wanted.
        on_hand: bool,
    },
    /// Removes the piece at a place in the list.
    Remove(usize),
}

pub(super) fn apply(job: &mut Job, edit: &StockEdit) -> Result<(), EditError> {
    let units = job.units.units();
    match *edit {
        StockEdit::Add { form, on_hand } => {
            let (length, width) = match form {
                StockForm::Sheet => {
                    let [shorter, longer] = assumed::stock_sheet(job.units).sides;
                    (longer, Some(Len::exactly(shorter, units)))
                }
                StockForm::Bar | StockForm::FlatBar | StockForm::Angle => (assumed::stock_bar(job.units).length, None),
                StockForm::Rod => (assumed::stock_rods(job.units)[0].length, None),
            };
            // What is bought serves whatever is asked for; what lies there is of something.
            let build = assumed::build(&job.design);
            let design = &job.design;
            let (as_written, value) = match form {
                StockForm::Sheet => (design.wall.clone(), build.wall),
                StockForm::Rod => (None, design.added.sizes.sure(PartSize::BarThread)),
                StockForm::Bar | StockForm::FlatBar | StockForm::Angle => {
                    (design.flange_thickness.clone(), build.flange_thickness)
                }
            };
            let thickness = as_written.unwrap_or_else(|| Thickness::exactly(value, units));
            let material = job.design.material.unwrap_or(assumed::MATERIAL);
            job.stock.pieces.push(StockPiece {
                form,
                on_hand: on_hand.then_some(1),
                material: on_hand.then(|| material.into()),
                thickness: on_hand.then_some(thickness),
                length: Len::exactly(length, units),
                width,
                price: None,
            });
        }
        StockEdit::Remove(at) => {
            if at >= job.stock.pieces.len() {
                return Err(EditError::Gone("the piece of stock"));
            }
            job.stock.pieces.remove(at);
        }
    }
    Ok(())
}

impl StockEdit {
    pub(super) fn words(self) -> String {
        match self {
            Self::Add { form, on_hand } => {
                let form = match form {
                    StockForm::Sheet => "a sheet",
                    StockForm::Bar => "a bar",
                    StockForm::FlatBar => "a flat bar",
                    StockForm::Angle => "an angle",
                    StockForm::Rod => "a threaded rod",
                };
                format!("add {form} {}", if on_hand { "on hand" } else { "to buy" })
            }
            Self::Remove(_) => "remove a piece of stock".to_owned(),
        }
    }
}
