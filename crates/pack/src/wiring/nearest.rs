//! Chains that are there at once: from nearest to nearest, and an order made whole after modules came and went.

use super::cost::{self, BROKEN, Costs, Step};
use super::{Order, Question};

/// The chain that goes from each module to the nearest that is left: from the one nearest to the minus exit (the first
/// when there is no exit), each module turned as is nearest.
pub fn nearest(question: &Question<'_>) -> Order {
    let costs = Costs::new(question);
    let n = question.modules.len();
    let mut left: Vec<usize> = (0..n).collect();
    let mut order = Vec::with_capacity(n);
    let mut turned = vec![false; n];
    let mut last: Option<(usize, bool)> = None;
    for at in 0..n {
        let step = costs.step_to(at);
        let best = match (step, last) {
            (_, None) => least(&costs, &left, |module, way| costs.first(module, way)),
            // By far the most steps, and no pair is kept: only the way counts.
            (Step::Series, Some((a, turned))) if question.locks.is_empty() => {
                let from = costs.terminal(a, turned, true);
                least(&costs, &left, |module, way| {
                    cost::way(from, costs.terminal(module, way, false))
                })
            }
            (_, Some(last)) => least(&costs, &left, |module, way| costs.step(step, last, (module, way))),
        };
        let Some((place, way)) = best else { break };
        // Those that are left stay in their order, so that the first of several that are equally near is taken.
        let module = left.remove(place);
        turned[module] = way;
        order.push(module);
        last = Some((module, way));
    }
    Order { order, turned }
}

/// Which of those that are left costs least, as its place among them and its way round: the first of several.
fn least(costs: &Costs<'_>, left: &[usize], cost: impl Fn(usize, bool) -> i64) -> Option<(usize, bool)> {
    let mut best: Option<(i64, usize, bool)> = None;
    for (place, &module) in left.iter().enumerate() {
        for &way in costs.ways(module) {
            let cost = cost(module, way);
            if best.is_none_or(|(known, ..)| cost < known) {
                best = Some((cost, place, way));
            }
        }
    }
    best.map(|(_, place, way)| (place, way))
}

/// An order made whole: modules that are named twice or are not there are dropped, those that are missing are put where
/// they lengthen the chain least; which way round each is stays as it was for those that may turn.
pub fn mended(question: &Question<'_>, order: &[usize], turned: &[bool]) -> Order {
    let costs = Costs::new(question);
    let n = question.modules.len();
    let mut seen = vec![false; n];
    let mut whole: Vec<usize> = Vec::with_capacity(n);
    for &module in order {
        if module < n && !std::mem::replace(&mut seen[module], true) {
            whole.push(module);
        }
    }
    let turned: Vec<bool> = (0..n)
        .map(|m| question.modules[m].may_turn && turned.get(m).copied().unwrap_or(false))
        .collect();
    for module in 0..n {
        if seen[module] {
            continue;
        }
        // Between two that follow one another by a plain link: where ends of strings fall shifts with every insertion.
        let added = |at: usize| {
            let this = (module, turned[module]);
            let here = |m: usize| (m, turned[m]);
            let link = |a, b| costs.step(Step::Series, a, b);
            let into = if at == 0 { 0 } else { link(here(whole[at - 1]), this) };
            let out = if at == whole.len() {
                0
            } else {
                link(this, here(whole[at]))
            };
            let gone = if at == 0 || at == whole.len() {
                0
            } else {
                link(here(whole[at - 1]), here(whole[at]))
            };
            // A lock that the gap holds together is worth more than any way.
            into + out - gone.min(BROKEN)
        };
        let at = (0..=whole.len()).min_by_key(|&at| added(at)).unwrap_or(0);
        whole.insert(at, module);
    }
    Order { order: whole, turned }
}
