//! What is said of one of the layouts that are offered.

use crate::Evaluation;
use crate::layout::Proposal;

impl Proposal {
    /// What there is to say of the layout of this index: of the first what was found, see [`Proposal::words`]; of
    /// another its own modules and margin, and how many go in at most with those that were found.
    pub fn words_of(&self, index: usize, evaluation: &Evaluation) -> String {
        let Some(layout) = self.layout(index).filter(|_| index > 0) else {
            return self.words(evaluation);
        };
        let (margin, asked) = (self.margin_of(index), evaluation.margin);
        let mut words = format!(
            "{} module{}, with ",
            layout.count,
            if layout.count == 1 { "" } else { "s" }
        );
        words += &if margin < asked {
            format!(
                "a margin of {} instead of the {} asked for",
                evaluation.down(margin),
                evaluation.down(asked)
            )
        } else {
            format!("the margin of {} asked for", evaluation.down(asked))
        };
        if layout.count < self.count() {
            words += &format!("; the most found is {}", self.count());
        }
        words
    }
}
