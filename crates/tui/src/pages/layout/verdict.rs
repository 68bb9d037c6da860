//! What an answer of the automatic layout proves, in few words.

use geometry::fit::{BoundBy, Ended};
use job::Evaluation;
use job::layout::{Aim, Proposal};

/// What was found and how sure it is, the big facts first.
pub fn verdict(proposal: &Proposal, evaluation: &Evaluation) -> String {
    let (answer, count) = (&proposal.answer, proposal.count());
    let by = answer.bound_by.words();
    let own_words = proposal.with_asked_margin.is_some() || matches!(proposal.question.aim, Aim::Wanted(_));
    let of = match proposal.question.aim {
        Aim::Fill(id) => evaluation.cavity(id).map(|c| &c.name),
        Aim::Box(id) => evaluation.battery_box(id).map(|b| &b.name),
        Aim::Whole | Aim::Wanted(_) => None,
    };
    let of = of.map_or_else(String::new, |name| format!("{name}: "));
    let told = match (answer.proved, answer.bound_by, answer.ended) {
        _ if own_words => proposal.words(evaluation),
        (true, BoundBy::WholeStrings, _) => format!("proved: {count} fit, another whole string can't"),
        (true, BoundBy::OnHand, _) => proposal.words(evaluation),
        (true, ..) => format!("proved: {count} fit, {} can't (by {by})", count + 1),
        (false, _, Ended::Stopped) => {
            format!("stopped: best so far {count}, at most {} by {by}", answer.upper_bound)
        }
        (false, ..) => format!("best found {count}, at most {} by {by}", answer.upper_bound),
    };
    of + &told
}
