//! Stock and cutting as told on the command line.

use clap::Args;
use job::nesting::read_size;
use job::{Edit, Field, Job, Len, StockForm, StockPiece, UnitsName};
use tape::Length;

use crate::trouble::Trouble;

#[derive(Debug, Args)]
pub(crate) struct StockArgs {
    /// A sheet (4x8 ft, 1250x2500 mm), a bar (20 ft, 6 m) or a threaded rod (rod 1 m) on sale, in place of those of the job; may be repeated
    #[arg(long, value_name = "SIZE", allow_hyphen_values = true)]
    stock: Vec<String>,
    /// Width of a cut through a sheet, or the bridge between parts
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    kerf: Option<String>,
    /// What is lost along each edge of a sheet
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    trim: Option<String>,
    /// Width of a cut through a bar
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    saw_kerf: Option<String>,
    /// What is cut off each end of a bar
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    saw_trim: Option<String>,
    /// The least side of an offcut worth keeping
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    keep: Option<String>,
    /// Sheets are cut edge to edge, by a shear or a saw
    #[arg(long, conflicts_with = "laser")]
    shear: bool,
    /// Sheets are cut along any line, by a laser or a torch
    #[arg(long)]
    laser: bool,
    /// Parts lie with their length along the sheet's, since the grain matters
    #[arg(long)]
    grain: bool,
}

impl StockArgs {
    /// The job with what was told in place of its own; bare lengths in `units`.
    pub(super) fn put_into(&self, job: Job, units: UnitsName) -> Result<Job, Trouble> {
        let mut job = job;
        let own = std::mem::replace(&mut job.units, units);
        let cutting = match (self.shear, self.laser) {
            (true, _) => Some("shear"),
            (_, true) => Some("laser"),
            _ => None,
        };
        let grain = self.grain.then_some("length along the sheet's");
        let told = [
            ("--shear", Field::CuttingMethod, cutting),
            ("--kerf", Field::Kerf, self.kerf.as_deref()),
            ("--trim", Field::EdgeTrim, self.trim.as_deref()),
            ("--grain", Field::Turning, grain),
            ("--saw-kerf", Field::SawKerf, self.saw_kerf.as_deref()),
            ("--saw-trim", Field::SawTrim, self.saw_trim.as_deref()),
            ("--keep", Field::KeepOffcut, self.keep.as_deref()),
        ];
        for (option, field, text) in told {
            let Some(text) = text else { continue };
            let text = text.to_owned();
            job = job
                .with(&Edit::Set { field, text })
                .map_err(|error| Trouble::new(format!("{option}: {error}"), error.mend()))?;
        }
        self.sizes(&mut job, units)?;
        job.units = own;
        Ok(job)
    }

    /// Sizes on sale, in place of those of the job; what is on hand stays.
    fn sizes(&self, job: &mut Job, units: UnitsName) -> Result<(), Trouble> {
        for of in [StockForm::Sheet, StockForm::Bar, StockForm::Rod] {
            let mut told = Vec::new();
            for text in &self.stock {
                let (is_rod, text) = match text.trim().strip_prefix("rod ") {
                    Some(size) => (true, size),
                    None => (false, text.as_str()),
                };
                let (length, width) = read_size(text, units.units())
                    .map_err(|error| Trouble::new(format!("--stock: {error}"), error.mend))?;
                if let Some(meant) = in_feet(text, length, width) {
                    return Err(Trouble::new(
                        format!(
                            "--stock: {text:?} has no unit, and {} is shorter than what is on sale",
                            show(length.max(width.unwrap_or(length)), units)
                        ),
                        format!("write --stock {meant:?}, or the unit behind the size"),
                    ));
                }
                let form = match (is_rod, width) {
                    (true, Some(_)) => {
                        return Err(Trouble::new(
                            format!("--stock: \"rod {text}\" is a rod with a width"),
                            "a rod has a length alone: --stock \"rod 1 m\"",
                        ));
                    }
                    (true, None) => StockForm::Rod,
                    (false, Some(_)) => StockForm::Sheet,
                    (false, None) => StockForm::Bar,
                };
                if form != of {
                    continue;
                }
                told.push(StockPiece {
                    form,
                    on_hand: None,
                    material: None,
                    thickness: None,
                    length: Len::exactly(length, units.units()),
                    width: width.map(|width| Len::exactly(width, units.units())),
                    price: None,
                });
            }
            if !told.is_empty() {
                // Flat bars and angles are bars, too.
                let kind = |form: StockForm| match form {
                    StockForm::Sheet | StockForm::Rod => form,
                    StockForm::Bar | StockForm::FlatBar | StockForm::Angle => StockForm::Bar,
                };
                job.stock
                    .pieces
                    .retain(|piece| piece.on_hand.is_some() || kind(piece.form) != of);
                job.stock.pieces.extend(told);
            }
        }
        Ok(())
    }
}

/// No sheet or bar on sale is shorter: common practice, no source.
const SHORTEST: Length = Length::sixty_fourths(24 * 64);

/// What was meant by a size without a unit that is too small to be on sale.
fn in_feet(text: &str, length: Length, width: Option<Length>) -> Option<String> {
    let bare = |c: char| c.is_ascii_digit() || matches!(c, '.' | ' ' | 'x' | 'X' | '/' | '-');
    let longest = width.map_or(length, |width| width.max(length));
    (text.chars().all(bare) && longest < SHORTEST).then(|| format!("{} ft", text.trim()))
}

fn show(length: Length, units: UnitsName) -> String {
    match units {
        UnitsName::Inch => format!("{} in", length.as_inches()),
        UnitsName::Millimetre => format!("{} mm", length.as_mm()),
    }
}
