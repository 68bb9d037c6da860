//! Sharing parts out among stock: whether so many pieces of stock hold everything.
//!
//! The largest part left must lie somewhere, so every way to fill one piece of stock round it is tried, fullest first
//! (bin completion: Martello and Toth 1990, Korf 2002). What may still be wasted, in every measure that was given, cuts
//! most of it off; what was seen to fail is not tried again.

use std::collections::HashSet;

use super::meter::Meter;

/// How many of each class of part.
pub(super) type Counts = Vec<u16>;

/// What is known of whether some parts go on one piece of stock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Holds {
    Yes,
    No,
    /// Not settled within the work allowed.
    Open,
}

/// Tells whether parts go together on one piece of stock.
pub(super) trait Oracle {
    /// Whether `counts` of each class go on one piece of stock of that kind.
    fn holds(&mut self, stock: usize, counts: &[u16], meter: &mut Meter<'_>) -> Holds;
    /// Whether the first row alone decides it, as with lengths.
    fn rows_decide(&self) -> bool;
}

/// A measure of parts and stock: parts on one piece of stock never come to more than the stock.
#[derive(Clone, Debug)]
pub(super) struct Row {
    /// The measure of one part of each class.
    pub(super) each: Vec<i128>,
    /// The measure of each kind of stock.
    pub(super) stock: Vec<i128>,
}

impl Row {
    /// The measure of some parts.
    pub(super) fn total(&self, counts: &[u16]) -> i128 {
        self.each
            .iter()
            .zip(counts)
            .map(|(each, &n)| each * i128::from(n))
            .sum()
    }
}

/// What came of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Cover {
    /// The parts on each piece of stock, with the kind of stock.
    Found(Vec<(usize, Counts)>),
    /// Proved: it cannot be done.
    Impossible,
    /// Not settled within the work allowed.
    Open,
}

/// The most ways to fill one piece of stock that are looked at in one place.
const MOST_FILLS: usize = 60_000;
/// The most failures remembered.
const MOST_FAILED: usize = 400_000;

/// Whether `available` pieces of each kind of stock hold `counts` of each class.
///
/// `rows`: the first is the plain length or area. `order`: classes, the most awkward first.
pub(super) fn cover(
    rows: &[Row],
    order: &[usize],
    counts: &[u16],
    available: &[u16],
    oracle: &mut dyn Oracle,
    meter: &mut Meter<'_>,
) -> Cover {
    let mut search = Search {
        rows,
        order,
        oracle,
        meter,
        failed: HashSet::new(),
        complete: true,
        found: Vec::new(),
    };
    if search.goes(&mut counts.to_vec(), &mut available.to_vec()) {
        return Cover::Found(search.found);
    }
    if search.complete && search.meter.goes_on() {
        Cover::Impossible
    } else {
        Cover::Open
    }
}

struct Search<'a, 'w> {
    rows: &'a [Row],
    order: &'a [usize],
    oracle: &'a mut dyn Oracle,
    meter: &'a mut Meter<'w>,
    failed: HashSet<(Counts, Counts)>,
    complete: bool,
    found: Vec<(usize, Counts)>,
}

impl Search<'_, '_> {
    /// Whether what is left goes on the stock that is left.
    fn goes(&mut self, left: &mut Counts, available: &mut Counts) -> bool {
        let Some(&pivot) = self.order.iter().find(|&&class| left[class] > 0) else {
            return true;
        };
        if !self.meter.spend(1) {
            return false;
        }
        let spare: Vec<i128> = self
            .rows
            .iter()
            .map(|row| {
                let stock: i128 = row.stock.iter().zip(&*available).map(|(s, &n)| s * i128::from(n)).sum();
                stock - row.total(left)
            })
            .collect();
        if spare.iter().any(|&spare| spare < 0) || self.failed.contains(&(left.clone(), available.clone())) {
            return false;
        }
        for stock in 0..available.len() {
            if available[stock] == 0 {
                continue;
            }
            available[stock] -= 1;
            let fills = self.fills(pivot, stock, left, &spare);
            let mut accepted: Vec<Counts> = Vec::new();
            for fill in fills {
                if accepted.iter().any(|other| within(&fill, other)) {
                    continue;
                }
                let holds = self.oracle.holds(stock, &fill, self.meter);
                self.complete &= holds != Holds::Open;
                if holds != Holds::Yes {
                    if !self.meter.goes_on() {
                        return false;
                    }
                    continue;
                }
                subtract(left, &fill);
                self.found.push((stock, fill.clone()));
                if self.goes(left, available) {
                    return true;
                }
                self.found.pop();
                add(left, &fill);
                if !self.meter.goes_on() {
                    return false;
                }
                accepted.push(fill);
            }
            available[stock] += 1;
        }
        if self.failed.len() < MOST_FAILED {
            self.failed.insert((left.clone(), available.clone()));
        }
        false
    }

    /// The ways to fill one piece of stock with the pivot and others, fullest first, that waste no more than is spare.
    fn fills(&mut self, pivot: usize, stock: usize, left: &[u16], spare: &[i128]) -> Vec<Counts> {
        let order: Vec<usize> = self.order.iter().copied().filter(|&class| left[class] > 0).collect();
        let mut after = vec![vec![0_i128; self.rows.len()]; order.len() + 1];
        for at in (0..order.len()).rev() {
            for (r, row) in self.rows.iter().enumerate() {
                after[at][r] = after[at + 1][r] + row.each[order[at]] * i128::from(left[order[at]]);
            }
        }
        let room: Vec<i128> = self.rows.iter().map(|row| row.stock[stock]).collect();
        let mut filling = Filling {
            rows: self.rows,
            order: &order,
            left,
            spare,
            after: &after,
            maximal: self.oracle.rows_decide(),
            now: vec![0; left.len()],
            fills: Vec::new(),
            steps: 0,
            most_steps: self.meter.left(),
            cut_short: false,
        };
        debug_assert_eq!(order[0], pivot);
        filling.from(0, &room);
        let mut fills = filling.fills;
        self.complete &= !filling.cut_short;
        let steps = filling.steps;
        self.meter.spend(steps / 4);
        // Fullest first; of equally full ones, that which uses up awkward parts.
        fills.sort_by_cached_key(|fill| {
            let in_order: Vec<std::cmp::Reverse<u16>> = order.iter().map(|&c| std::cmp::Reverse(fill[c])).collect();
            (-self.rows[0].total(fill), in_order)
        });
        fills
    }
}

struct Filling<'a> {
    rows: &'a [Row],
    order: &'a [usize],
    left: &'a [u16],
    spare: &'a [i128],
    after: &'a [Vec<i128>],
    maximal: bool,
    now: Counts,
    fills: Vec<Counts>,
    steps: u64,
    most_steps: u64,
    cut_short: bool,
}

impl Filling<'_> {
    fn from(&mut self, at: usize, room: &[i128]) {
        self.steps += 1;
        if self.fills.len() >= MOST_FILLS || self.steps / 4 > self.most_steps {
            self.cut_short = true;
            return;
        }
        let too_empty = (0..room.len()).any(|r| room[r] - self.after[at][r] > self.spare[r]);
        if too_empty {
            return;
        }
        let Some(&class) = self.order.get(at) else {
            let addable = |&&class: &&usize| {
                self.now[class] < self.left[class]
                    && self.rows.iter().zip(room).all(|(row, room)| row.each[class] <= *room)
            };
            if !self.maximal || !self.order.iter().any(|class| addable(&class)) {
                self.fills.push(self.now.clone());
            }
            return;
        };
        let least = u16::from(at == 0);
        let mut most = self.left[class];
        for (row, room) in self.rows.iter().zip(room) {
            if row.each[class] > 0 {
                let fit = room / row.each[class];
                most = most.min(u16::try_from(fit).unwrap_or(u16::MAX));
            }
        }
        let mut rest = vec![0; room.len()];
        for n in (least..=most).rev() {
            for (r, row) in self.rows.iter().enumerate() {
                rest[r] = room[r] - row.each[class] * i128::from(n);
            }
            self.now[class] = n;
            self.from(at + 1, &rest);
        }
        self.now[class] = 0;
    }
}

/// Whether `inner` is no more than `outer` of any class.
pub(super) fn within(inner: &[u16], outer: &[u16]) -> bool {
    inner.iter().zip(outer).all(|(a, b)| a <= b)
}

/// Takes `what` away.
pub(super) fn subtract(from: &mut [u16], what: &[u16]) {
    for (a, b) in from.iter_mut().zip(what) {
        *a -= b;
    }
}

/// Adds `what`.
pub(super) fn add(to: &mut [u16], what: &[u16]) {
    for (a, b) in to.iter_mut().zip(what) {
        *a += b;
    }
}
