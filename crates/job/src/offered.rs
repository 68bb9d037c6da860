//! What is said of one of the layouts that are offered.

use crate::Evaluation;
use crate::layout::Proposal;

impl Proposal {
    /// What there is to say of the layout of this index: of the first what was found, see [`Proposal::words`]; of
    /// another its own modules and margin, and the most that were found to go in.
    pub fn words_of(&self, index: usize, evaluation: &Evaluation) -> String {
        let Some(layout) = self.layout(index).filter(|_| index > 0) else {
            return self.words(evaluation);
        };
        let (margin, asked) = (self.margin_of(index), evaluation.margin);
        let modules = if layout.count == 1 { "module" } else { "modules" };
        let with = if margin < asked {
            let (margin, asked) = (evaluation.down(margin), evaluation.down(asked));
            format!("a margin of {margin} instead of the {asked} asked for")
        } else {
            format!("the margin of {} asked for", evaluation.down(asked))
        };
        let most = if layout.count < self.count() {
            format!("; most found {}", self.count())
        } else {
            String::new()
        };
        format!("{} {modules} with {with}{most}", layout.count)
    }
}
