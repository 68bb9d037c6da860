//! Shorter chains by moving and turning round pieces of them.

use super::cost::Costs;
use super::{Order, Question, Watch, exact, links};

/// What a search came to.
pub(super) struct Found {
    pub(super) order: Order,
    pub(super) proved: bool,
    pub(super) work: u64,
}

/// How many nearest modules each one is tried next to.
const NEAR: usize = 8;
/// Orders kept for the choice between those that are nearly as short.
const KEPT: usize = 12;
/// How much longer an order may be that has fewer links in each other's way: 2 %.
const NEARLY: i64 = 50;

/// A chain with how good it is; smaller is better.
pub(super) trait Rank {
    /// What is compared.
    type Worth: Ord + Copy;
    /// How good a chain is.
    fn worth(&self, order: &[usize]) -> Self::Worth;
}

struct ByLength<'a>(&'a Costs<'a>);

impl Rank for ByLength<'_> {
    type Worth = i64;
    fn worth(&self, order: &[usize]) -> i64 {
        self.0.best_turned(order)
    }
}

pub(super) fn shortest(
    question: &Question<'_>,
    costs: &Costs<'_>,
    start: &Order,
    work: u64,
    watch: &mut Watch<'_>,
) -> Found {
    if let Some(order) = exact::shortest(question, costs) {
        return Found {
            order,
            proved: true,
            work: 0,
        };
    }
    let rank = ByLength(costs);
    let near = nearest_few(question, costs);
    let mut climb = Climb::new(&rank, &near, work, watch);
    let mut kept: Vec<(i64, Vec<usize>)> = Vec::new();
    let mut starts = vec![start.order.clone()];
    starts.extend(super::low::rows(question));
    let mut best: Option<(i64, Vec<usize>)> = None;
    let mut first = (rank.worth(&start.order), start.order.clone());
    for order in starts {
        let found = climb.up(order);
        if best.as_ref().is_none_or(|(known, _)| found.0 < *known) {
            best = Some(found.clone());
        }
        keep(&mut kept, found);
    }
    let mut now = best.unwrap_or_else(|| first.clone());
    let mut seed = 0x005e_ed01_u64;
    while !climb.is_over() {
        let kicked = kick(&now.1, &mut seed);
        let found = climb.up(kicked);
        if found.0 <= now.0 {
            now = found.clone();
        }
        keep(&mut kept, found);
    }
    if now.0 > first.0 {
        std::mem::swap(&mut now, &mut first);
    }
    let shortest = now.0;
    let order = kept
        .into_iter()
        .filter(|(length, _)| *length <= shortest + shortest / NEARLY && *length <= first.0)
        .map(|(length, order)| (costs.turned_best(order), length))
        .chain([(costs.turned_best(now.1), now.0)])
        .min_by_key(|(order, length)| (links::tangles(question, order), *length))
        .map_or_else(|| start.clone(), |(order, _)| order);
    Found {
        order,
        proved: false,
        work: climb.spent,
    }
}

/// Keeps the best few different chains.
fn keep(kept: &mut Vec<(i64, Vec<usize>)>, found: (i64, Vec<usize>)) {
    if kept.iter().any(|(_, order)| *order == found.1) {
        return;
    }
    kept.push(found);
    kept.sort_by_key(|(length, _)| *length);
    kept.truncate(KEPT);
}

/// For each module the few that are nearest to it, whichever way round.
pub(super) fn nearest_few(question: &Question<'_>, costs: &Costs<'_>) -> Vec<Vec<usize>> {
    let n = question.modules.len();
    (0..n)
        .map(|a| {
            let mut others: Vec<(i64, usize)> = (0..n).filter(|&b| b != a).map(|b| (apart(costs, a, b), b)).collect();
            others.sort_unstable();
            others.into_iter().take(NEAR).map(|(_, b)| b).collect()
        })
        .collect()
}

/// The shortest link between two modules, whichever comes first and whichever way round.
pub(super) fn apart(costs: &Costs<'_>, a: usize, b: usize) -> i64 {
    let mut best = i64::MAX;
    for &a_turned in costs.ways(a) {
        for &b_turned in costs.ways(b) {
            for (first, second) in [((a, a_turned), (b, b_turned)), ((b, b_turned), (a, a_turned))] {
                best = best.min(costs.plain(super::cost::Step::Series, first, second));
            }
        }
    }
    best
}

/// A hill climb within a count of work.
pub(super) struct Climb<'a, 'w, R: Rank> {
    rank: &'a R,
    near: &'a [Vec<usize>],
    work: u64,
    pub(super) spent: u64,
    stopped: bool,
    watch: &'a mut Watch<'w>,
}

impl<'a, 'w, R: Rank> Climb<'a, 'w, R> {
    pub(super) fn new(rank: &'a R, near: &'a [Vec<usize>], work: u64, watch: &'a mut Watch<'w>) -> Self {
        Self {
            rank,
            near,
            work,
            spent: 0,
            stopped: false,
            watch,
        }
    }

    pub(super) fn is_over(&mut self) -> bool {
        self.stopped = self.stopped || !(self.watch)(self.spent);
        self.stopped || self.spent >= self.work
    }

    /// Takes every move that helps, until none does or the work is spent.
    pub(super) fn up(&mut self, order: Vec<usize>) -> (R::Worth, Vec<usize>) {
        let mut now = (self.rank.worth(&order), order);
        let mut better = true;
        while better && !self.is_over() {
            better = false;
            for module in 0..now.1.len() {
                if let Some(found) = self.best_move(&now, module) {
                    now = found;
                    better = true;
                }
            }
        }
        now
    }

    /// The best move that brings `module` next to one of its nearest.
    fn best_move(&mut self, now: &(R::Worth, Vec<usize>), module: usize) -> Option<(R::Worth, Vec<usize>)> {
        let mut best: Option<(R::Worth, Vec<usize>)> = None;
        let mut at = vec![0; now.1.len()];
        now.1.iter().enumerate().for_each(|(i, &m)| at[m] = i);
        let i = at[module];
        for &other in &self.near[module] {
            let j = at[other];
            for moved in moves(&now.1, i, j) {
                self.spent += now.1.len() as u64;
                let worth = self.rank.worth(&moved);
                if worth < now.0 && best.as_ref().is_none_or(|(known, _)| worth < *known) {
                    best = Some((worth, moved));
                }
            }
            if self.spent >= self.work {
                break;
            }
        }
        best
    }
}

/// Chains in which what stands at `i` comes next to what stands at `j`: the stretch between turned round, or one to three
/// from `i` on moved before or behind `j`, as they are or turned round.
fn moves(order: &[usize], i: usize, j: usize) -> Vec<Vec<usize>> {
    let n = order.len();
    let mut found = Vec::with_capacity(12);
    let (low, high) = (i.min(j), i.max(j));
    for (from, to) in [(low + 1, high), (low, high - 1)] {
        if from < to {
            let mut turned = order.to_vec();
            turned[from..=to].reverse();
            found.push(turned);
        }
    }
    for length in 1..=3 {
        if i + length > n || (i..i + length).contains(&j) {
            continue;
        }
        let piece = &order[i..i + length];
        let rest: Vec<usize> = order[..i].iter().chain(&order[i + length..]).copied().collect();
        let place = if j < i { j } else { j - length };
        for at in [place, place + 1] {
            for turned in [false, true] {
                if turned && length == 1 {
                    continue;
                }
                let mut moved = rest.clone();
                let mut piece = piece.to_vec();
                if turned {
                    piece.reverse();
                }
                moved.splice(at..at, piece);
                if moved != order {
                    found.push(moved);
                }
            }
        }
    }
    // Two that change places: what the ends of strings need.
    let mut swapped = order.to_vec();
    swapped.swap(i, j);
    found.push(swapped);
    found
}

/// A chain cut in four and put together in another order, near one place: enough to leave a dead end, not to start anew.
fn kick(order: &[usize], seed: &mut u64) -> Vec<usize> {
    let n = order.len();
    let mut next = |below: usize| {
        #[expect(clippy::cast_possible_truncation, reason = "below the number of modules")]
        let index = (crate::chance::next(seed) % below.max(1) as u64) as usize;
        index
    };
    let span = (n / 2).clamp(1, 12);
    let a = next(n.saturating_sub(2).max(1));
    let b = (a + 1 + next(span)).min(n - 1);
    let c = (b + 1 + next(span)).min(n);
    order[..a]
        .iter()
        .chain(&order[b..c])
        .chain(&order[a..b])
        .chain(&order[c..])
        .copied()
        .collect()
}
