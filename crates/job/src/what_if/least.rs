//! The smallest change with which a wanted number goes in.

use geometry::fit::{self, Answer, Budget, Layout, Request, RequestError, Watch};
use tape::Length;

/// The smallest change found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct LeastChange {
    /// The change.
    pub(super) change: Length,
    /// The layout that goes in with it.
    pub(super) layout: Layout,
    /// Modules in it.
    pub(super) count: u32,
    /// Whether with a nanometre less it is proved not to go in.
    pub(super) proved: bool,
}

/// Halves the range from nothing to `up_to` until the step between "goes in" and "does not" is one nanometre. `ask`
/// tells the question after a change; `None` where a change makes no sense.
pub(super) fn least_change(
    ask: &mut dyn FnMut(Length) -> Option<Request>,
    wanted: u32,
    up_to: Length,
    budget: Budget,
    watch: &mut dyn Watch,
) -> Result<Option<LeastChange>, RequestError> {
    let mut at = |change: i64| -> Result<Option<Answer>, RequestError> {
        let request = ask(Length::from_nm(change));
        request.map(|request| fit::fit(&request, budget, watch)).transpose()
    };
    let reached = |answer: &Option<Answer>| {
        let best = answer.as_ref()?.layouts.first()?;
        (best.count >= wanted).then(|| best.clone())
    };
    let (mut low, mut high) = (0, up_to.nm());
    let Some(mut layout) = reached(&at(high)?) else {
        return Ok(None);
    };
    let mut proved = false;
    while high - low > 1 {
        let middle = low + (high - low) / 2;
        let answer = at(middle)?;
        if let Some(better) = reached(&answer) {
            (high, layout) = (middle, better);
        } else {
            low = middle;
            proved = answer.is_some_and(|a| a.upper_bound < wanted);
        }
    }
    Ok(Some(LeastChange {
        change: Length::from_nm(high),
        count: layout.count,
        layout,
        proved,
    }))
}
