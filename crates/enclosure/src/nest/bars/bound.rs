//! How few bars there could be.

use super::Job;
use crate::nest::cover::{Counts, Row};
use crate::nest::dual::{Measure, measures};

/// Steps of the finest rounding measure.
const FINEST: i64 = 30;
/// The most measures that a search looks at.
const MOST_ROWS: usize = 5;

/// The fewest bars that must be bought for what fits bought bars, by the best of all measures.
pub(super) fn at_least(job: &Job) -> u32 {
    let Some(longest) = job.longest_bought() else {
        return 0;
    };
    let needed = all(job).into_iter().map(|measure| {
        let own: i128 = (0..job.stock.len())
            .filter(|&kind| !job.bought[kind])
            .map(|kind| measure.of(job.stock[kind]) * i128::from(job.on_hand[kind]))
            .sum();
        let parts: i128 = job
            .each
            .iter()
            .zip(&job.counts)
            .filter(|&(&each, _)| each <= job.stock[longest])
            .map(|(&each, &n)| measure.of(each) * i128::from(n))
            .sum();
        let bar = measure.of(job.stock[longest]).max(1);
        ((parts - own).max(0) + bar - 1) / bar
    });
    u32::try_from(needed.max().unwrap_or(0)).unwrap_or(u32::MAX)
}

/// The measures that leave least to spare with so many bars; the first is the length itself.
pub(super) fn rows(job: &Job, available: &Counts) -> Vec<Row> {
    let row = |measure: Measure| Row {
        each: job.each.iter().map(|&each| measure.of(each)).collect(),
        stock: job.stock.iter().map(|&length| measure.of(length)).collect(),
    };
    // In millionths of the whole.
    let spare = |measure: &Measure| {
        let row = row(*measure);
        let stock: i128 = row
            .stock
            .iter()
            .zip(available)
            .map(|(stock, &n)| stock * i128::from(n))
            .sum();
        (stock - row.total(&job.counts)) * 1_000_000 / stock.max(1)
    };
    let mut others = all(job).split_off(1);
    others.sort_by_cached_key(spare);
    let others = others.into_iter().take(MOST_ROWS - 1);
    std::iter::once(Measure::Plain).chain(others).map(row).collect()
}

fn all(job: &Job) -> Vec<Measure> {
    let whole = job.stock.iter().copied().max().unwrap_or(0);
    measures(&job.each, whole, FINEST)
}
