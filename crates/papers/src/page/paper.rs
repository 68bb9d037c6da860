//! On which paper things are drawn: what was chosen, else what is usual with the units.

use job::{Evaluation, PaperName};
use plot::Paper;
use tape::Units;

/// The paper of the drawings: A3, or Tabloid for those who work in inches, unless another was chosen.
pub fn drawing_paper(evaluation: &Evaluation) -> Paper {
    chosen(evaluation).unwrap_or(match evaluation.units {
        Units::Inch => Paper::Tabloid,
        Units::Millimetre => Paper::A3,
    })
}

/// The paper of what a small printer takes (flat patterns, templates, nests): A4, or Letter for those who work in inches,
/// unless another was chosen.
pub(crate) fn printer_paper(evaluation: &Evaluation) -> Paper {
    chosen(evaluation).unwrap_or(small(evaluation.units))
}

/// Sheets of labels are not sold in large sizes: the small one that was chosen, else what is usual.
pub(crate) fn label_paper(evaluation: &Evaluation) -> Paper {
    let is_small = |paper: &Paper| matches!(paper, Paper::A4 | Paper::Letter);
    chosen(evaluation).filter(is_small).unwrap_or(small(evaluation.units))
}

const fn small(units: Units) -> Paper {
    match units {
        Units::Inch => Paper::Letter,
        Units::Millimetre => Paper::A4,
    }
}

fn chosen(evaluation: &Evaluation) -> Option<Paper> {
    evaluation.sheet.paper.map(|name| match name {
        PaperName::A4 => Paper::A4,
        PaperName::A3 => Paper::A3,
        PaperName::Letter => Paper::Letter,
        PaperName::Tabloid => Paper::Tabloid,
    })
}
