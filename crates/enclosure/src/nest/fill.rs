//! One sheet, or one offcut, filled with what is worth most.

use tape::Area;

use super::cover::{Counts, Holds, Oracle};
use super::meter::Meter;
use super::sheets::job::{Job, Laid, area};
use super::sheets::{Anyhow, Request, Sheet, told_sheet};
use super::{Budget, NestError, Watch, sheets};

/// A sheet filled with what is worth most.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Filled {
    /// The sheet; `None` when no part goes on it.
    pub sheet: Option<Sheet>,
    /// What the parts on it are worth together.
    pub worth: u64,
    /// Whether no other parts are worth more.
    pub proved: bool,
    /// Work done.
    pub work: u64,
}

/// Chooses parts for one sheet, of the first kind of stock, that are worth most together.
///
/// - `worth`: of one part of each line of [`Request::parts`], in any unit; a line without one is worth nothing.
///   With areas, it is the fullest sheet.
///
/// Branch and bound over how many of each part, by worth for its area; each choice is settled by the same code that
/// proves counts of sheets. Meant for some twenty parts; with more, or when stopped, the best so far is given.
///
/// # Errors
///
/// [`NestError`] for sizes that make no sense.
pub fn fill(request: &Request, worth: &[u64], budget: Budget, watch: &mut dyn Watch) -> Result<Filled, NestError> {
    sheets::validated(request)?;
    let mut meter = Meter::new(budget, watch);
    // Lines by index, since ids need not differ.
    let mut lines = request.clone();
    lines.stock.truncate(1);
    for (index, part) in lines.parts.iter_mut().enumerate() {
        part.id = index;
    }
    let mut job = Job::of(&lines);
    let of = |&(line, _): &(usize, bool)| worth.get(line).copied().unwrap_or(0);
    for class in &mut job.classes {
        class.ids.sort_by_key(|piece| std::cmp::Reverse(of(piece)));
    }
    let values: Vec<Vec<u64>> = job
        .classes
        .iter()
        .map(|class| class.ids.iter().map(of).collect())
        .collect();
    let Some(kind) = job.kinds.first() else {
        return Ok(Filled {
            sheet: None,
            worth: 0,
            proved: true,
            work: 0,
        });
    };
    let room = area(kind.sides);
    let mut order: Vec<usize> = (0..job.classes.len()).filter(|&class| values[class][0] > 0).collect();
    let density = |class: usize| i128::from(values[class][0]) * room / job.classes[class].area();
    order.sort_by_key(|&class| std::cmp::Reverse(density(class)));
    let mut choice = Choice {
        job: &job,
        values: &values,
        order: &order,
        oracle: Anyhow::new(&job, request.cutting, room),
        meter: &mut meter,
        now: vec![0; job.classes.len()],
        best: vec![0; job.classes.len()],
        best_worth: 0,
        complete: true,
    };
    choice.from(0, 0, room);
    let best = choice.best.clone();
    let laid = choice.oracle.laid(0, &best, choice.meter);
    let (best_worth, complete) = (choice.best_worth, choice.complete);
    let mut sheet = laid.map(|laid: Laid| told_sheet(&lines, &job, &laid));
    for part in sheet.iter_mut().flat_map(|sheet| &mut sheet.placed) {
        part.id = request.parts[part.id].id;
    }
    Ok(Filled {
        sheet,
        worth: best_worth,
        proved: complete && meter.goes_on(),
        work: meter.done(),
    })
}

/// The worth of the area of each part in square millimetres, rounded down: with it, [`fill`] wastes least.
pub fn by_area(request: &Request) -> Vec<u64> {
    let mm2 = |area: Area| u64::try_from(area.nm2() / 1_000_000_000_000).unwrap_or(0);
    request
        .parts
        .iter()
        .map(|part| mm2(part.sides[0] * part.sides[1]))
        .collect()
}

struct Choice<'a, 'w> {
    job: &'a Job,
    /// Of each class, what its pieces are worth, falling.
    values: &'a [Vec<u64>],
    order: &'a [usize],
    oracle: Anyhow<'a>,
    meter: &'a mut Meter<'w>,
    now: Counts,
    best: Counts,
    best_worth: u64,
    complete: bool,
}

impl Choice<'_, '_> {
    /// Tries every number of each class from `at` on.
    fn from(&mut self, at: usize, worth: u64, room: i128) {
        if !self.meter.spend(1) || self.at_most(at, worth, room) <= self.best_worth {
            return;
        }
        let Some(&class) = self.order.get(at) else {
            return;
        };
        let each = self.job.classes[class].area();
        let fit = u16::try_from(room / each)
            .unwrap_or(u16::MAX)
            .min(self.job.counts[class]);
        for n in (0..=fit).rev() {
            let more: u64 = self.values[class].iter().take(usize::from(n)).sum();
            self.now[class] = n;
            let holds = if n == 0 {
                Holds::Yes
            } else {
                self.oracle.holds(0, &self.now, self.meter)
            };
            self.complete &= holds != Holds::Open;
            if holds == Holds::Yes && worth + more > self.best_worth {
                self.best_worth = worth + more;
                self.best.clone_from(&self.now);
            }
            // What could not be settled may hold less of something else, but not more.
            if holds == Holds::Yes {
                self.from(at + 1, worth + more, room - each * i128::from(n));
            }
        }
        self.now[class] = 0;
    }

    /// What the area that is left could hold at most, each class at what its best piece is worth.
    fn at_most(&self, at: usize, worth: u64, room: i128) -> u64 {
        let (mut most, mut room) = (i128::from(worth), room);
        for &class in &self.order[at..] {
            let each = self.job.classes[class].area();
            let value = i128::from(self.values[class][0]);
            let all = each * i128::from(self.job.counts[class]);
            if all > room {
                most += (room * value + each - 1) / each;
                break;
            }
            most += value * i128::from(self.job.counts[class]);
            room -= all;
        }
        u64::try_from(most).unwrap_or(u64::MAX)
    }
}
