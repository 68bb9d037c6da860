//! Chains that keep the volts between neighbours low.

use super::cost::Costs;
use super::links::{place_levels_of, touching};
use super::search::{self, Climb, Found, Rank, nearest_few};
use super::{Order, Question, Watch};

/// Modules in rows: box by box, along each axis in turn, every other row run backwards. With the short way run first, a
/// run to and fro keeps neighbours close in the chain.
pub(super) fn rows(question: &Question<'_>) -> Vec<Vec<usize>> {
    const AXES: [[usize; 3]; 6] = [[0, 1, 2], [1, 0, 2], [0, 2, 1], [2, 0, 1], [1, 2, 0], [2, 1, 0]];
    AXES.map(|axes| to_and_fro(question, axes)).to_vec()
}

/// Middles closer than this along an axis stand in one row, nanometres.
const SAME_ROW: i64 = 20_000_000;

fn to_and_fro(question: &Question<'_>, axes: [usize; 3]) -> Vec<usize> {
    let middle = |m: usize, axis: usize| {
        let [low, high] = question.modules[m].body;
        i64::midpoint(low[axis], high[axis])
    };
    let mut boxes: Vec<u32> = question.modules.iter().map(|m| m.in_box).collect();
    boxes.sort_unstable();
    boxes.dedup();
    let mut order = Vec::with_capacity(question.modules.len());
    for in_box in boxes {
        let mut here: Vec<usize> = (0..question.modules.len())
            .filter(|&m| question.modules[m].in_box == in_box)
            .collect();
        let mut back = [false; 2];
        here.sort_by_key(|&m| middle(m, axes[0]));
        for slice in split(&here, |m| middle(m, axes[0])) {
            let mut slice = slice;
            slice.sort_by_key(|&m| middle(m, axes[1]));
            let mut rows = split(&slice, |m| middle(m, axes[1]));
            if back[0] {
                rows.reverse();
            }
            back[0] = !back[0];
            for row in &mut rows {
                row.sort_by_key(|&m| middle(m, axes[2]));
                if back[1] {
                    row.reverse();
                }
                back[1] = !back[1];
                order.append(row);
            }
        }
    }
    order
}

/// Cuts a sorted list where the next is farther than a row is wide.
fn split(sorted: &[usize], at: impl Fn(usize) -> i64) -> Vec<Vec<usize>> {
    let mut found: Vec<Vec<usize>> = Vec::new();
    for &m in sorted {
        match found.last_mut() {
            Some(row) if at(m) - at(row[0]) <= SAME_ROW => row.push(m),
            _ => found.push(vec![m]),
        }
    }
    found
}

struct ByVolts<'a> {
    costs: &'a Costs<'a>,
    question: &'a Question<'a>,
    pairs: Vec<[usize; 2]>,
}

impl Rank for ByVolts<'_> {
    /// Broken locks, the most in series between neighbours, and the length.
    type Worth = (bool, usize, i64);

    fn worth(&self, order: &[usize]) -> Self::Worth {
        let levels = place_levels_of(self.question, order);
        let apart = self.pairs.iter().map(|&[a, b]| levels[a].abs_diff(levels[b]));
        let length = self.costs.best_turned(order);
        (length >= super::cost::BROKEN, apart.max().unwrap_or(0), length)
    }
}

pub(super) fn low_volts(
    question: &Question<'_>,
    costs: &Costs<'_>,
    start: &Order,
    work: u64,
    watch: &mut Watch<'_>,
) -> Found {
    let rank = ByVolts {
        costs,
        question,
        pairs: touching(question.modules, question.reach),
    };
    // The shortest may have low volts as well, and is never longer than it must be.
    let shortest = search::shortest(question, costs, start, work / 2, watch);
    let near = nearest_few(question, costs);
    let mut climb = Climb::new(&rank, &near, work / 2, watch);
    let mut best = (rank.worth(&shortest.order.order), shortest.order.order);
    // The best rows first: the work may not last for all.
    let mut starts = rows(question);
    starts.extend([start.order.clone(), best.1.clone()]);
    starts.sort_by_key(|order| rank.worth(order));
    for order in starts {
        let found = climb.up(order);
        if found.0 < best.0 {
            best = found;
        }
    }
    Found {
        order: costs.turned_best(best.1),
        proved: false,
        work: shortest.work + climb.spent,
    }
}
