//! What it would take, and how much may go wrong: the smallest change of one figure.

use tape::Length;

use super::{Budget, Layout, Progress, Request, RequestError, Unwatched, Watch, check, fit};
use crate::spread::{Move, as_it_stands, mended};

/// The least step.
const NANOMETRE: Length = Length::from_nm(1);
/// How often the search may come out empty without proof before the best so far has to do.
const MOST_MISSES: u32 = 4;

/// The smallest change found with which the wanted number fits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeastChange {
    /// The change; zero when nothing needs to change.
    pub change: Length,
    /// A layout that keeps every rule of the request so changed.
    pub layout: Layout,
    /// Modules in it, at least as many as wanted.
    pub count: u32,
    /// Whether it is proved that one nanometre less does not do.
    pub proved: bool,
    /// Work done in all, as of [`Budget`].
    pub work: u64,
}

/// The smallest change of a figure with which at least `wanted` modules fit; `None` when no layout was found even with
/// the whole of `up_to`, or the watcher said stop before.
///
/// `ask` builds the request with the figure changed by 0 to `up_to`; `None` from it counts as a change that cannot be
/// made. More change must never let fewer fit: a longer cavity, a keep-out moved out of the way, a smaller gap. The
/// request should want no more than `wanted`, so that nothing is spent on more.
///
/// A layout that is found tells more than its own change: it is moved over for less and less change while it keeps
/// every rule. So most answers take two or three runs of [`fit`], each with the whole budget at most: one that finds a
/// layout, and one with one nanometre less that proves there is none. Told to the watcher: the progress of each run, and
/// each layout for a smaller change.
///
/// # Errors
///
/// [`RequestError`] when a request cannot be worked on.
pub fn least_change(
    ask: &mut dyn FnMut(Length) -> Option<Request>,
    wanted: u32,
    up_to: Length,
    budget: Budget,
    watch: &mut dyn Watch,
) -> Result<Option<LeastChange>, RequestError> {
    let mut search = Search {
        ask,
        wanted,
        budget,
        watch,
        work: 0,
        stopped: false,
    };
    let refuted = match search.attempt(Length::ZERO)? {
        Trial::Fits(layout) => return Ok(Some(search.answer(Length::ZERO, layout, true))),
        Trial::CanNot => Some(Length::ZERO),
        Trial::NotFound => None,
    };
    if up_to <= Length::ZERO || search.stopped {
        return Ok(None);
    }
    let Trial::Fits(layout) = search.attempt(up_to)? else {
        return Ok(None);
    };
    search.narrow(refuted, up_to, layout).map(Some)
}

/// What is known of one change.
enum Trial {
    Fits(Layout),
    /// Proved.
    CanNot,
    NotFound,
}

struct Search<'a> {
    ask: &'a mut dyn FnMut(Length) -> Option<Request>,
    wanted: u32,
    budget: Budget,
    watch: &'a mut dyn Watch,
    work: u64,
    stopped: bool,
}

impl Search<'_> {
    /// Fits the request with so much change: the bounds alone first, for they may settle it.
    fn attempt(&mut self, change: Length) -> Result<Trial, RequestError> {
        let Some(request) = (self.ask)(change) else {
            return Ok(Trial::NotFound);
        };
        let bounds = fit(&request, Budget { work: 0, ..self.budget }, &mut Unwatched)?;
        if bounds.upper_bound < self.wanted {
            return Ok(Trial::CanNot);
        }
        let mut enough = Enough {
            watch: &mut *self.watch,
            wanted: self.wanted,
            found: None,
            stopped: false,
        };
        let answer = fit(&request, self.budget, &mut enough)?;
        self.stopped |= enough.stopped;
        self.work += answer.work;
        let best = answer
            .layouts
            .into_iter()
            .next()
            .filter(|layout| layout.count >= self.wanted);
        let found = best.or(enough.found).filter(|layout| check(&request, layout).is_ok());
        Ok(match found {
            Some(layout) => Trial::Fits(layout),
            None if answer.upper_bound < self.wanted => Trial::CanNot,
            None => Trial::NotFound,
        })
    }

    /// From a layout with `most` change to the smallest, zero having been tried and perhaps refuted. Looks by turns just
    /// below the smallest change known to do, and half-way to the largest that does not.
    fn narrow(
        &mut self,
        mut refuted: Option<Length>,
        most: Length,
        layout: Layout,
    ) -> Result<LeastChange, RequestError> {
        let mut low = Length::ZERO;
        let (mut high, mut best) = self.moved_over(low, most, layout);
        let (mut just_below, mut misses) = (true, 0);
        while high - low > NANOMETRE && misses <= MOST_MISSES && !self.stopped {
            let edge = high - NANOMETRE;
            let at = if just_below {
                edge
            } else {
                low + (high - low).half_down()
            };
            match self.attempt(at)? {
                Trial::Fits(layout) => {
                    (high, best) = self.moved_over(low, at, layout);
                    just_below = !just_below;
                }
                Trial::CanNot => {
                    (low, refuted) = (at, Some(at));
                    just_below = true;
                }
                Trial::NotFound if just_below => {
                    misses += 1;
                    just_below = false;
                }
                Trial::NotFound => {
                    misses += 1;
                    low = at;
                }
            }
        }
        Ok(self.answer(high, best, refuted == Some(high - NANOMETRE)))
    }

    /// The smallest change above `low` with which the layout still keeps every rule when its things are moved over.
    fn moved_over(&mut self, mut low: Length, mut high: Length, mut layout: Layout) -> (Length, Layout) {
        while high - low > NANOMETRE {
            let middle = low + (high - low).half_down();
            match (self.ask)(middle).and_then(|request| mended(&request, &layout, Move::Everything)) {
                Some(moved) => (high, layout) = (middle, moved),
                None => low = middle,
            }
        }
        self.watch.better(&layout);
        (high, layout)
    }

    fn answer(&self, change: Length, layout: Layout, proved: bool) -> LeastChange {
        LeastChange {
            change,
            count: layout.count,
            layout,
            proved,
            work: self.work,
        }
    }
}

/// Stops a fit as soon as the wanted number is in, or is known not to go in.
struct Enough<'a> {
    watch: &'a mut dyn Watch,
    wanted: u32,
    found: Option<Layout>,
    stopped: bool,
}

impl Watch for Enough<'_> {
    fn carry_on(&mut self, progress: Progress) -> bool {
        self.stopped |= !self.watch.carry_on(progress);
        // A bound of zero is one that is not told yet.
        let possible = progress.upper_bound >= self.wanted || progress.upper_bound == 0;
        !self.stopped && self.found.is_none() && possible
    }

    fn better(&mut self, layout: &Layout) {
        if layout.count >= self.wanted && self.found.is_none() {
            self.found = Some(layout.clone());
        }
    }
}

/// How a layout is held to its rules when a figure gets worse.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Hold {
    /// Modules stay where they are; boxes are as large as the figures then make them.
    AsItStands,
    /// Things may be moved over, in the same arrangement.
    MovedOver(Move),
}

/// How much worse a figure can get before the layout no longer keeps its rules, up to `up_to` and to the nanometre;
/// `None` when it does not keep them to begin with.
///
/// `ask` builds the request with the figure worse by so much; `None` from it counts as too much. Worse must never be
/// better again. Modules whose size changes grow about their middle.
pub fn tolerance(
    ask: &mut dyn FnMut(Length) -> Option<Request>,
    layout: &Layout,
    up_to: Length,
    hold: Hold,
) -> Option<Length> {
    let mut holds = |worse: Length| {
        ask(worse).is_some_and(|request| match hold {
            Hold::AsItStands => as_it_stands(&request, layout).is_some(),
            Hold::MovedOver(how) => mended(&request, layout, how).is_some(),
        })
    };
    if !holds(Length::ZERO) {
        return None;
    }
    if up_to <= Length::ZERO || holds(up_to) {
        return Some(up_to.max(Length::ZERO));
    }
    let (mut kept, mut broken) = (Length::ZERO, up_to);
    while broken - kept > NANOMETRE {
        let middle = kept + (broken - kept).half_down();
        if holds(middle) {
            kept = middle;
        } else {
            broken = middle;
        }
    }
    Some(kept)
}
