//! On which paper things are drawn: what was chosen, else what is usual with the units.

use job::{Evaluation, PaperName};
use plot::Paper;

/// The paper of the drawings: A3, or Tabloid for those who work in inches, unless another was chosen.
pub fn drawing_paper(evaluation: &Evaluation) -> Paper {
    match evaluation.sheet.paper {
        PaperName::A4 => Paper::A4,
        PaperName::A3 | PaperName::A3AndA4 => Paper::A3,
        PaperName::Letter => Paper::Letter,
        PaperName::Tabloid | PaperName::TabloidAndLetter => Paper::Tabloid,
    }
}

/// The paper of what a small printer takes (flat patterns, templates, nests): A4, or Letter for those who work in inches,
/// unless another was chosen.
pub(crate) fn printer_paper(evaluation: &Evaluation) -> Paper {
    match evaluation.sheet.paper {
        PaperName::A3AndA4 => Paper::A4,
        PaperName::TabloidAndLetter => Paper::Letter,
        PaperName::A4 | PaperName::A3 | PaperName::Letter | PaperName::Tabloid => drawing_paper(evaluation),
    }
}

/// Sheets of labels are not sold in large sizes: half of a large one, which is the small one of its row.
pub(crate) fn label_paper(evaluation: &Evaluation) -> Paper {
    match drawing_paper(evaluation) {
        Paper::A4 | Paper::A3 => Paper::A4,
        Paper::Letter | Paper::Tabloid => Paper::Letter,
    }
}
