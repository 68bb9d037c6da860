//! Lengths on bars: the fewest bars to buy.
//!
//! A part takes `length + kerf` of a bar's `length - 2 trim + kerf`. A part that ends where the usable bar ends needs no
//! cut of its own; the two trim cuts lie in the trim and are not counted.

mod bound;
mod check;
mod greedy;
#[cfg(test)]
mod tests;

pub use check::{Flaw, check};

use tape::Length;

use super::cover::{self, Counts, Cover, Holds, Oracle};
use super::meter::{Dice, Meter};
use super::{Budget, Ended, LeftOut, NestError, Supply, Watch, Why, validate};

/// Parts of one length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Part {
    /// Its length as cut.
    pub length: Length,
    /// How many.
    pub quantity: u32,
    /// What the caller knows it by; told back, and otherwise not used.
    pub id: usize,
}

/// Bars of one length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stock {
    /// Its full length.
    pub length: Length,
    /// How many there are.
    pub supply: Supply,
}

/// What is to be cut from what.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Request {
    /// The parts.
    pub parts: Vec<Part>,
    /// The bars.
    pub stock: Vec<Stock>,
    /// Width of a cut.
    pub kerf: Length,
    /// What is cut off each end of a bar.
    pub trim: Length,
}

/// A part on a bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Piece {
    /// Its id.
    pub id: usize,
    /// From the untrimmed end of the bar to its near end.
    pub offset: Length,
    /// Its length.
    pub length: Length,
}

/// A bar and what is cut from it.
///
/// `stock = 2 trim + lengths of pieces + sawn + offcut`, exactly.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bar {
    /// Index into [`Request::stock`].
    pub stock: usize,
    /// The pieces from one end on, longest first.
    pub pieces: Vec<Piece>,
    /// Cuts after a piece; trim cuts are not counted.
    pub cuts: u32,
    /// What those cuts turn to dust: `kerf * cuts`, less what the last one saws past the end of the usable bar.
    pub sawn: Length,
    /// What is left after the last cut, without the trim.
    pub offcut: Length,
}

/// Bars that hold the parts, and how few they could be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Nest {
    /// The bars in use: bought ones first, then longest first.
    pub bars: Vec<Bar>,
    /// Parts that are on none of them.
    pub left_out: Vec<LeftOut>,
    /// How many of the bars are bought.
    pub bought: u32,
    /// No way of cutting buys fewer.
    pub at_least: u32,
    /// Whether no way of cutting buys fewer: `bought == at_least`.
    pub proved: bool,
    /// How the search ended.
    pub ended: Ended,
    /// Work done.
    pub work: u64,
}

/// Lays the parts on the fewest bought bars that can be found, of the least total length.
///
/// Bars on hand are used where they save buying. The same request and budget give the same answer, unless the watcher
/// stops it; then the best so far is given. The number is proved for what a shop cuts; that no other choice of lengths
/// of the same number of bars is shorter, only with few bars.
///
/// Method: minimum bin slack (Gupta and Ho 1999) from many starts, then bin completion against bounds from dual
/// feasible functions.
///
/// # Errors
///
/// [`NestError`] for sizes that make no sense; that parts fit no bar is an answer, not an error.
pub fn nest(request: &Request, budget: Budget, watch: &mut dyn Watch) -> Result<Nest, NestError> {
    validate(
        request
            .parts
            .iter()
            .map(|part| (part.id, vec![part.length], part.quantity)),
        request.stock.iter().map(|stock| vec![stock.length]),
        [request.kerf, request.trim],
    )?;
    let mut meter = Meter::new(budget, watch);
    let job = Job::of(request);
    let mut at_least = bound::at_least(&job);
    meter.tell_bound(at_least);
    let mut best = greedy::first(&job);
    improve(&job, &mut best, &mut at_least, &mut meter);
    shorten(&job, &mut best, &mut meter);
    let mut nest = told(request, &job, best, at_least);
    nest.proved = nest.bought <= at_least;
    nest.work = meter.done();
    nest.ended = if nest.proved { Ended::Done } else { meter.ended() };
    debug_assert_eq!(check(request, &nest), Ok(()));
    Ok(nest)
}

/// The request in grown lengths: parts and bars with the kerf added, bars without trim.
struct Job {
    /// Grown length of each class, longest first.
    each: Vec<i64>,
    counts: Counts,
    /// Ids of each class, one for each piece.
    ids: Vec<Vec<usize>>,
    /// Grown usable length of each kind of bar; zero when trim uses it up.
    stock: Vec<i64>,
    /// How many there are; `u16::MAX` when bought.
    on_hand: Counts,
    bought: Vec<bool>,
    left_out: Vec<LeftOut>,
}

/// Pieces on one bar: the kind of bar, and how many of each class.
type Pattern = (usize, Counts);

impl Job {
    fn of(request: &Request) -> Self {
        let usable = |stock: &Stock| {
            let usable = stock.length - request.trim * 2;
            if usable > Length::ZERO {
                (usable + request.kerf).nm()
            } else {
                0
            }
        };
        let stock: Vec<i64> = request.stock.iter().map(usable).collect();
        let bought: Vec<bool> = request
            .stock
            .iter()
            .map(|stock| stock.supply == Supply::Bought)
            .collect();
        let on_hand = request.stock.iter().map(|stock| stock.supply.number());
        let longest = stock.iter().copied().max().unwrap_or(0);
        let mut job = Self {
            each: Vec::new(),
            counts: Vec::new(),
            ids: Vec::new(),
            on_hand: on_hand.collect(),
            stock,
            bought,
            left_out: Vec::new(),
        };
        let mut parts: Vec<&Part> = request.parts.iter().filter(|part| part.quantity > 0).collect();
        parts.sort_by_key(|part| std::cmp::Reverse(part.length));
        for part in parts {
            let grown = (part.length + request.kerf).nm();
            if grown > longest {
                job.left_out.push(LeftOut {
                    id: part.id,
                    quantity: part.quantity,
                    why: Why::FitsNoStock,
                });
                continue;
            }
            if job.each.last() != Some(&grown) {
                job.each.push(grown);
                job.counts.push(0);
                job.ids.push(Vec::new());
            }
            let (Some(count), Some(ids)) = (job.counts.last_mut(), job.ids.last_mut()) else {
                continue;
            };
            *count = count.saturating_add(u16::try_from(part.quantity).unwrap_or(u16::MAX));
            ids.extend((0..part.quantity).map(|_| part.id));
        }
        job
    }

    /// The longest bar that is bought.
    fn longest_bought(&self) -> Option<usize> {
        let bought = (0..self.stock.len()).filter(|&kind| self.bought[kind] && self.stock[kind] > 0);
        bought.max_by_key(|&kind| (self.stock[kind], std::cmp::Reverse(kind)))
    }

    fn count_bought(&self, bars: &[Pattern]) -> u32 {
        u32::try_from(bars.iter().filter(|(kind, _)| self.bought[*kind]).count()).unwrap_or(u32::MAX)
    }
}

/// Lengths side by side: the rows say all.
struct SideBySide;

impl Oracle for SideBySide {
    fn holds(&mut self, _: usize, _: &[u16], _: &mut Meter<'_>) -> Holds {
        Holds::Yes
    }

    fn rows_decide(&self) -> bool {
        true
    }
}

/// The most rounds of many starts.
const ROUNDS: u64 = 400;
/// The share of the budget for settling one number of bars.
const FOR_ONE: u64 = 4;

/// Improves the best until it is as few as `at_least`, which goes up as more is proved.
fn improve(job: &Job, best: &mut greedy::Found, at_least: &mut u32, meter: &mut Meter<'_>) {
    let Some(longest) = job.longest_bought() else {
        return;
    };
    let mut dice = Dice::new();
    for _ in 0..ROUNDS {
        if job.count_bought(&best.bars) <= *at_least || !meter.goes_on() {
            break;
        }
        let found = greedy::round(job, &mut dice, meter);
        if found.is_better(best, job) {
            *best = found;
        }
        meter.tell_count(job.count_bought(&best.bars));
    }
    // One more bar at a time is tried until so many hold all; each that does not is proved to be too few.
    while *at_least < job.count_bought(&best.bars) {
        let mut available = job.on_hand.clone();
        for (kind, n) in available.iter_mut().enumerate().filter(|&(kind, _)| job.bought[kind]) {
            *n = if kind == longest {
                u16::try_from(*at_least).unwrap_or(u16::MAX)
            } else {
                0
            };
        }
        match settle(job, &available, meter) {
            Cover::Found(bars) => {
                best.bars = bars;
                best.over = vec![0; job.each.len()];
            }
            Cover::Impossible if best.over.iter().all(|&n| n == 0) => *at_least += 1,
            Cover::Impossible | Cover::Open => break,
        }
        meter.tell_bound(*at_least);
    }
}

/// Whether so many bars of each kind hold all that can be bought for.
fn settle(job: &Job, available: &Counts, meter: &mut Meter<'_>) -> Cover {
    let rows = bound::rows(job, available);
    let order: Vec<usize> = (0..job.each.len()).collect();
    let share = meter.left() / FOR_ONE;
    meter.stage(share, |meter| {
        cover::cover(&rows, &order, &job.counts, available, &mut SideBySide, meter)
    })
}

/// The most choices of bought lengths that are tried.
const MOST_CHOICES: usize = 200;

/// Makes bought bars shorter where that does, first one at a time, then by choosing all lengths anew.
fn shorten(job: &Job, best: &mut greedy::Found, meter: &mut Meter<'_>) {
    let mut kinds: Vec<usize> = (0..job.stock.len())
        .filter(|&kind| job.bought[kind] && job.stock[kind] > 0)
        .collect();
    kinds.sort_by_key(|&kind| job.stock[kind]);
    kinds.dedup_by_key(|kind| job.stock[*kind]);
    if kinds.len() < 2 {
        return;
    }
    let length = |counts: &Counts| -> i64 { counts.iter().zip(&job.each).map(|(&n, each)| i64::from(n) * each).sum() };
    for (kind, counts) in best.bars.iter_mut().filter(|(kind, _)| job.bought[*kind]) {
        let needed = length(counts);
        *kind = kinds
            .iter()
            .copied()
            .find(|&kind| job.stock[kind] >= needed)
            .unwrap_or(*kind);
    }
    let bought = usize::try_from(job.count_bought(&best.bars)).unwrap_or(0);
    if best.over.iter().any(|&n| n > 0) {
        return;
    }
    let total = |choice: &[usize]| -> i64 { choice.iter().map(|&kind| job.stock[kind]).sum() };
    let now: Vec<usize> = best
        .bars
        .iter()
        .map(|(kind, _)| *kind)
        .filter(|&kind| job.bought[kind])
        .collect();
    let mut choices = Vec::new();
    choose(&kinds, bought, &mut Vec::new(), &mut choices);
    choices.retain(|choice| total(choice) < total(&now));
    choices.sort_by_key(|choice| total(choice));
    for choice in choices {
        let mut available = job.on_hand.clone();
        for kind in (0..available.len()).filter(|&kind| job.bought[kind]) {
            let n = choice.iter().filter(|&&chosen| chosen == kind).count();
            available[kind] = u16::try_from(n).unwrap_or(u16::MAX);
        }
        if let Cover::Found(bars) = settle(job, &available, meter) {
            best.bars = bars;
            return;
        }
    }
}

/// Every choice of `n` of the kinds, in any number each, as long as they are few.
fn choose(kinds: &[usize], n: usize, chosen: &mut Vec<usize>, all: &mut Vec<Vec<usize>>) {
    if all.len() >= MOST_CHOICES {
        return;
    }
    if n == 0 {
        all.push(chosen.clone());
        return;
    }
    for (at, &kind) in kinds.iter().enumerate() {
        chosen.push(kind);
        choose(&kinds[at..], n - 1, chosen, all);
        chosen.pop();
    }
}

/// The answer in lengths as they are told.
fn told(request: &Request, job: &Job, best: greedy::Found, at_least: u32) -> Nest {
    let mut ids: Vec<std::vec::IntoIter<usize>> = job.ids.iter().map(|ids| ids.clone().into_iter()).collect();
    let bought = job.count_bought(&best.bars);
    let mut patterns = best.bars;
    patterns.retain(|(_, counts)| counts.iter().any(|&n| n > 0));
    patterns.sort_by_key(|(kind, counts)| {
        (
            !job.bought[*kind],
            std::cmp::Reverse(job.stock[*kind]),
            *kind,
            std::cmp::Reverse(counts.clone()),
        )
    });
    let bars = patterns
        .into_iter()
        .map(|(kind, counts)| bar(request, job, kind, &counts, &mut ids))
        .collect();
    let mut left_out = job.left_out.clone();
    for (class, &n) in best.over.iter().enumerate() {
        for id in ids[class].by_ref().take(usize::from(n)) {
            match left_out.last_mut() {
                Some(last) if last.id == id && last.why == Why::StockUsedUp => last.quantity += 1,
                _ => left_out.push(LeftOut {
                    id,
                    quantity: 1,
                    why: Why::StockUsedUp,
                }),
            }
        }
    }
    Nest {
        bars,
        left_out,
        bought,
        at_least,
        proved: false,
        ended: Ended::Done,
        work: 0,
    }
}

fn bar(request: &Request, job: &Job, stock: usize, counts: &Counts, ids: &mut [std::vec::IntoIter<usize>]) -> Bar {
    let end = request.stock[stock].length - request.trim;
    let mut at = request.trim;
    let mut bar = Bar {
        stock,
        pieces: Vec::new(),
        cuts: 0,
        sawn: Length::ZERO,
        offcut: Length::ZERO,
    };
    for (class, &n) in counts.iter().enumerate() {
        for id in ids[class].by_ref().take(usize::from(n)) {
            let length = Length::from_nm(job.each[class]) - request.kerf;
            bar.pieces.push(Piece { id, offset: at, length });
            at += length;
            if at < end {
                let sawn = request.kerf.min(end - at);
                bar.cuts += 1;
                bar.sawn += sawn;
                at += sawn;
            }
        }
    }
    bar.offcut = end - at;
    bar
}
