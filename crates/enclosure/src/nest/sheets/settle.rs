//! Small jobs: every way to share the parts out among sheets, until the number of sheets is proved.

use super::improve::Found;
use super::job::{Job, area};
use super::{Anyhow, Cutting, bound};
use crate::nest::cover::{Counts, Cover, cover};
use crate::nest::meter::Meter;

/// The most measures that are looked at with each way.
const MOST_ROWS: usize = 6;
/// The share of the work that one number of sheets gets.
const SHARE: u64 = 3;
/// The most parts that are shared out in every way.
const MOST_PIECES: u32 = 60;

/// The most choices of sizes for one number of sheets.
const MOST_CHOICES: usize = 50;

/// What came of trying some sheets.
enum Tried {
    Holds,
    TooFew,
    Open,
}

/// Takes one more sheet at a time until so many hold everything; each number that does not is proved to be too few.
pub(super) fn settle(job: &Job, cutting: Cutting, best: &mut Found, at_least: &mut u32, meter: &mut Meter<'_>) {
    let pieces: u32 = job.counts.iter().map(|&n| u32::from(n)).sum();
    let largest = job.largest_bought();
    if pieces > MOST_PIECES || best.over.iter().any(|&n| n > 0) || largest.is_empty() {
        return;
    }
    while *at_least < job.bought(&best.sheets) {
        let choices = choices(job, &largest, *at_least);
        let mut all_too_few = choices.len() <= MOST_CHOICES;
        for available in choices.into_iter().take(MOST_CHOICES) {
            let share = meter.left() / SHARE;
            match meter.stage(share, |meter| attempt(job, cutting, &available, best, meter)) {
                Tried::Holds => return,
                Tried::TooFew => {}
                Tried::Open => all_too_few = false,
            }
        }
        if !all_too_few {
            return;
        }
        *at_least += 1;
        meter.tell_bound(*at_least);
    }
}

/// Whether these sheets hold all; if so, that is the best.
fn attempt(job: &Job, cutting: Cutting, available: &Counts, best: &mut Found, meter: &mut Meter<'_>) -> Tried {
    let rows = bound::rows(job, available, MOST_ROWS);
    let order: Vec<usize> = (0..job.classes.len()).collect();
    let stock: i128 = job
        .kinds
        .iter()
        .zip(available)
        .map(|(kind, &n)| area(kind.sides) * i128::from(n))
        .sum();
    let mut oracle = Anyhow::new(job, cutting, stock - job.content(&job.counts));
    match cover(&rows, &order, &job.counts, available, &mut oracle, meter) {
        Cover::Impossible => Tried::TooFew,
        Cover::Open => Tried::Open,
        Cover::Found(shares) => {
            let laid = shares.iter().map(|(kind, counts)| oracle.laid(*kind, counts, meter));
            let Some(sheets) = laid.collect::<Option<Vec<_>>>() else {
                return Tried::Open;
            };
            best.sheets = sheets;
            meter.tell_count(job.bought(&best.sheets));
            Tried::Holds
        }
    }
}

/// The sheets there are with `n` bought ones, in every choice of the largest kinds; some of them when there are too many.
fn choices(job: &Job, largest: &[usize], n: u32) -> Vec<Counts> {
    let on_hand = job.kinds.iter().map(|kind| if kind.bought { 0 } else { kind.on_hand });
    let mut all = vec![on_hand.collect::<Counts>()];
    for _ in 0..n {
        let mut more: Vec<Counts> = Vec::new();
        for sheets in &all {
            for &kind in largest {
                let mut with = sheets.clone();
                with[kind] += 1;
                if !more.contains(&with) {
                    more.push(with);
                }
            }
        }
        more.truncate(MOST_CHOICES + 1);
        all = more;
    }
    all
}
