//! What each step along the chain costs.

use super::{Joined, Order, Place, Question};

/// More than any chain is long, and far from overflow: what a broken lock costs.
pub(super) const BROKEN: i64 = 1 << 50;

/// The way along the axes.
pub(super) fn way(a: Place, b: Place) -> i64 {
    (a[0] - b[0]).abs() + (a[1] - b[1]).abs() + (a[2] - b[2]).abs()
}

/// Costs of steps, by module and way round.
pub(super) struct Costs<'a> {
    question: &'a Question<'a>,
    /// The module that has to follow, and the one that has to come before.
    after: Vec<Option<usize>>,
    before: Vec<Option<usize>>,
}

/// What a step from one place of the chain to the next is.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Step {
    Series,
    /// Through the service disconnect.
    Middle,
    Parallel,
    /// From the end of a string to the start of the next, by way of the pack's ends.
    Boundary,
}

impl<'a> Costs<'a> {
    pub(super) fn new(question: &'a Question<'a>) -> Self {
        let n = question.modules.len();
        let (mut after, mut before) = (vec![None; n], vec![None; n]);
        for &[a, b] in question.locks {
            after[a] = Some(b);
            before[b] = Some(a);
        }
        Self {
            question,
            after,
            before,
        }
    }

    pub(super) fn terminal(&self, module: usize, turned: bool, plus: bool) -> Place {
        let module = &self.question.modules[module];
        if plus == turned { module.minus } else { module.plus }
    }

    /// The step that leads to place `at` of the chain, from 1.
    pub(super) fn step_to(&self, at: usize) -> Step {
        let q = self.question;
        match q.joined {
            Joined::Strings if at.is_multiple_of(q.series) => Step::Boundary,
            Joined::Strings if q.series > 1 && at % q.series == q.series / 2 => Step::Middle,
            Joined::Groups if !at.is_multiple_of(q.parallel) => Step::Parallel,
            Joined::Groups if at / q.parallel == q.series / 2 => Step::Middle,
            Joined::Strings | Joined::Groups => Step::Series,
        }
    }

    pub(super) fn lead(&self, module: usize, turned: bool, plus: bool) -> i64 {
        let exit = self.question.exits[usize::from(plus)];
        exit.map_or(0, |exit| way(exit, self.terminal(module, turned, plus)))
    }

    /// A step without its locks.
    pub(super) fn plain(&self, step: Step, (a, a_turned): (usize, bool), (b, b_turned): (usize, bool)) -> i64 {
        match step {
            Step::Series => way(self.terminal(a, a_turned, true), self.terminal(b, b_turned, false)),
            Step::Middle => {
                let (from, to) = (self.terminal(a, a_turned, true), self.terminal(b, b_turned, false));
                match self.question.disconnect {
                    Some(through) => way(from, through) + way(through, to),
                    None => way(from, to),
                }
            }
            Step::Parallel => {
                way(self.terminal(a, a_turned, true), self.terminal(b, b_turned, true))
                    + way(self.terminal(a, a_turned, false), self.terminal(b, b_turned, false))
            }
            Step::Boundary => self.lead(a, a_turned, true) + self.lead(b, b_turned, false),
        }
    }

    pub(super) fn step(&self, step: Step, a: (usize, bool), b: (usize, bool)) -> i64 {
        // No link joins the end of a string to the begin of the next: a pair that is kept cannot stand there.
        let kept = match step {
            Step::Boundary => self.after[a.0].is_none() && self.before[b.0].is_none(),
            _ => self.after[a.0].is_none_or(|next| next == b.0) && self.before[b.0].is_none_or(|last| last == a.0),
        };
        self.plain(step, a, b) + if kept { 0 } else { BROKEN }
    }

    pub(super) fn first(&self, module: usize, turned: bool) -> i64 {
        let broken = if self.before[module].is_some() { BROKEN } else { 0 };
        self.lead(module, turned, false) + broken
    }

    pub(super) fn last(&self, module: usize, turned: bool) -> i64 {
        let broken = if self.after[module].is_some() { BROKEN } else { 0 };
        self.lead(module, turned, true) + broken
    }

    pub(super) const fn ways(&self, module: usize) -> &'static [bool] {
        if self.question.modules[module].may_turn {
            &[false, true]
        } else {
            &[false]
        }
    }

    /// The length of an order as it is.
    pub(super) fn length(&self, order: &Order) -> i64 {
        let (Some(&first), Some(&last)) = (order.order.first(), order.order.last()) else {
            return 0;
        };
        let at = |module: usize| (module, order.turned[module]);
        let steps: i64 = (1..order.order.len())
            .map(|i| self.plain(self.step_to(i), at(order.order[i - 1]), at(order.order[i])))
            .sum();
        let ends = self.lead(first, order.turned[first], false) + self.lead(last, order.turned[last], true);
        steps + ends
    }

    /// The least cost of modules in this order, whichever way round each is.
    pub(super) fn best_turned(&self, order: &[usize]) -> i64 {
        let Some(&first) = order.first() else { return 0 };
        let mut now = [i64::MAX; 2];
        for &turned in self.ways(first) {
            now[usize::from(turned)] = self.first(first, turned);
        }
        for at in 1..order.len() {
            let (a, b) = (order[at - 1], order[at]);
            let step = self.step_to(at);
            let mut next = [i64::MAX; 2];
            for &b_turned in self.ways(b) {
                for &a_turned in self.ways(a) {
                    let cost = now[usize::from(a_turned)] + self.step(step, (a, a_turned), (b, b_turned));
                    let slot = &mut next[usize::from(b_turned)];
                    *slot = cost.min(*slot);
                }
            }
            now = next;
        }
        let last = order[order.len() - 1];
        self.ways(last)
            .iter()
            .map(|&turned| now[usize::from(turned)] + self.last(last, turned))
            .min()
            .unwrap_or(0)
    }

    /// Turns every module of an order so that it is as short as it can be.
    pub(super) fn turned_best(&self, order: Vec<usize>) -> Order {
        let n = order.len();
        let mut cost = vec![[i64::MAX; 2]; n];
        let mut from = vec![[false; 2]; n];
        for &turned in self.ways(order[0]) {
            cost[0][usize::from(turned)] = self.first(order[0], turned);
        }
        for at in 1..n {
            let (a, b) = (order[at - 1], order[at]);
            let step = self.step_to(at);
            for &b_turned in self.ways(b) {
                for &a_turned in self.ways(a) {
                    let sum = cost[at - 1][usize::from(a_turned)] + self.step(step, (a, a_turned), (b, b_turned));
                    if sum < cost[at][usize::from(b_turned)] {
                        cost[at][usize::from(b_turned)] = sum;
                        from[at][usize::from(b_turned)] = a_turned;
                    }
                }
            }
        }
        let last = order[n - 1];
        let mut turned = vec![false; n];
        let mut way = self
            .ways(last)
            .iter()
            .copied()
            .min_by_key(|&turned| cost[n - 1][usize::from(turned)].saturating_add(self.last(last, turned)))
            .unwrap_or(false);
        for at in (0..n).rev() {
            turned[order[at]] = way;
            way = from[at][usize::from(way)];
        }
        Order { order, turned }
    }
}
