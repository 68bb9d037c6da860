//! How few sheets there could be: areas in other measures of both sides.
//!
//! Source: Fekete and Schepers 2004 (conservative scales); a part that may be turned counts as its lesser way.

use super::job::{Class, Job};
use crate::nest::cover::{Counts, Row};
use crate::nest::dual::{Measure, measures};

/// Steps of the finest rounding measure.
const FINEST: i64 = 8;
/// The most measures of one side.
const MOST_MEASURES: usize = 90;

/// The fewest sheets that must be bought for what fits bought sheets.
pub(super) fn at_least(job: &Job) -> u32 {
    let largest = job.largest_bought();
    if largest.is_empty() {
        return 0;
    }
    let from_bought = |class: &Class| {
        let fits = |&kind: &usize| class.ways.iter().any(|way| job.kinds[kind].takes(way));
        largest.iter().any(fits)
    };
    let mut counts = job.counts.clone();
    for (n, class) in counts.iter_mut().zip(&job.classes) {
        *n = if from_bought(class) { *n } else { 0 };
    }
    let mut at_least = 0;
    each_row(job, &counts, &mut |row| {
        let own: i128 = (0..job.kinds.len())
            .filter(|&kind| !job.kinds[kind].bought)
            .map(|kind| row.stock[kind] * i128::from(job.kinds[kind].on_hand))
            .sum();
        let sheet = largest.iter().map(|&kind| row.stock[kind]).max().unwrap_or(1).max(1);
        at_least = at_least.max(((row.total(&counts) - own).max(0) + sheet - 1) / sheet);
        true
    });
    u32::try_from(at_least).unwrap_or(u32::MAX)
}

/// The measures that leave least to spare with so many sheets; the first is the area itself.
pub(super) fn rows(job: &Job, available: &[u16], most: usize) -> Vec<Row> {
    let mut rows: Vec<(i128, Row)> = Vec::new();
    let mut plain = None;
    each_row(job, &job.counts, &mut |row| {
        if plain.is_none() {
            plain = Some(row.clone());
            return true;
        }
        let stock: i128 = row
            .stock
            .iter()
            .zip(available)
            .map(|(stock, &n)| stock * i128::from(n))
            .sum();
        // In millionths of the whole.
        let spare = (stock - row.total(&job.counts)) * 1_000_000 / stock.max(1);
        let at = rows.partition_point(|(known, _)| *known <= spare);
        if at < most {
            rows.insert(at, (spare, row.clone()));
            rows.truncate(most);
        }
        true
    });
    plain.into_iter().chain(rows.into_iter().map(|(_, row)| row)).collect()
}

/// Whether no measure speaks against some parts on one sheet of a kind.
pub(super) fn may_hold(job: &Job, kind: usize, counts: &Counts) -> bool {
    let mut may = true;
    each_row(job, counts, &mut |row| {
        may = row.total(counts) <= row.stock[kind];
        may
    });
    may
}

/// Goes through the measures of both sides that the parts make worth trying, until told to stop by `false`.
fn each_row(job: &Job, counts: &[u16], look: &mut dyn FnMut(&Row) -> bool) {
    let used: Vec<&Class> = job
        .classes
        .iter()
        .zip(counts)
        .filter(|&(_, &n)| n > 0)
        .map(|(class, _)| class)
        .collect();
    let whole: [i64; 2] = std::array::from_fn(|axis| job.kinds.iter().map(|kind| kind.sides[axis]).max().unwrap_or(0));
    let along = |axis: usize| -> Vec<Measure> {
        let mut lengths: Vec<i64> = used
            .iter()
            .flat_map(|class| class.ways.iter().map(move |way| [way.w, way.h][axis]))
            .collect();
        lengths.sort_unstable();
        lengths.dedup();
        thinned(measures(&lengths, whole[axis], FINEST))
    };
    let [across, up] = [along(0), along(1)];
    let table = |measures: &[Measure], axis: usize| -> Vec<Vec<[i128; 2]>> {
        let of_class = |measure: Measure, class: &Class| {
            let mut values = [i128::MAX; 2];
            for (value, way) in values.iter_mut().zip(&class.ways) {
                *value = measure.of([way.w, way.h][axis]);
            }
            values
        };
        measures
            .iter()
            .map(|&measure| job.classes.iter().map(|class| of_class(measure, class)).collect())
            .collect()
    };
    let (of_w, of_h) = (table(&across, 0), table(&up, 1));
    let mut row = Row {
        each: vec![0; job.classes.len()],
        stock: vec![0; job.kinds.len()],
    };
    for (f, of_w) in across.iter().zip(&of_w) {
        for (g, of_h) in up.iter().zip(&of_h) {
            for (class, each) in row.each.iter_mut().enumerate() {
                *each = if counts[class] == 0 {
                    0
                } else {
                    let ways = job.classes[class].ways.len();
                    (0..ways)
                        .map(|way| of_w[class][way] * of_h[class][way])
                        .min()
                        .unwrap_or(0)
                };
            }
            for (stock, kind) in row.stock.iter_mut().zip(&job.kinds) {
                *stock = f.of(kind.sides[0]) * g.of(kind.sides[1]);
            }
            if !look(&row) {
                return;
            }
        }
    }
}

/// As many of them as are worked with, evenly; the first stays.
fn thinned(all: Vec<Measure>) -> Vec<Measure> {
    let step = all.len().div_ceil(MOST_MEASURES);
    all.into_iter().step_by(step.max(1)).collect()
}
