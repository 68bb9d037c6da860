//! Rectangles on sheets: the fewest sheets to buy, cut edge to edge or freely.
//!
//! A part takes `(w + kerf)(h + kerf)` of a sheet's `(W - 2 trim + kerf)(H - 2 trim + kerf)`. Places are told from the
//! corner of the untrimmed sheet, `x` along its first side and `y` along its second. The cuts that trim the edges go
//! first, lie in the trim and are not listed.

mod bound;
mod check;
mod corner;
mod fitting;
mod improve;
pub(super) mod job;
mod offcuts;
mod oracle;
pub(super) mod patterns;
mod settle;
#[cfg(test)]
mod tests;
pub(super) mod tree;

pub use check::{Flaw, check};
pub(super) use oracle::Anyhow;

use tape::{Area, Length};

use super::meter::Meter;
use super::{Budget, Ended, LeftOut, NestError, Supply, Watch, validate};
use improve::Found;
use job::{Job, Laid};

/// How a sheet is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cutting {
    /// Edge to edge, as a shear or a panel saw does.
    Guillotine,
    /// Along any line, as a laser or a plasma torch does.
    Free,
}

/// Rectangles of one size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Part {
    /// Its two sides as cut; the first lies along the first side of the sheet.
    pub sides: [Length; 2],
    /// How many.
    pub quantity: u32,
    /// What the caller knows it by; told back, and otherwise not used.
    pub id: usize,
    /// Whether it may lie a quarter turn round: not where the grain matters.
    pub may_turn: bool,
}

/// Sheets of one size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stock {
    /// Its two full sides.
    pub sides: [Length; 2],
    /// How many there are.
    pub supply: Supply,
}

/// What is to be cut from what.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Request {
    /// The parts.
    pub parts: Vec<Part>,
    /// The sheets.
    pub stock: Vec<Stock>,
    /// Width of a cut.
    pub kerf: Length,
    /// What is cut off each edge of a sheet.
    pub trim: Length,
    /// How they are cut.
    pub cutting: Cutting,
    /// The least sides of an offcut worth keeping, either way round.
    pub keep: [Length; 2],
}

/// A part on a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placed {
    /// Its id.
    pub id: usize,
    /// The near corner along the first side of the sheet.
    pub x: Length,
    /// The near corner along the second side of the sheet.
    pub y: Length,
    /// Its sides along x and y, as it lies.
    pub sides: [Length; 2],
    /// Whether it lies a quarter turn from how it was told.
    pub turned: bool,
}

/// Which way a cut runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Along {
    /// Along the first side of the sheet.
    X,
    /// Along the second side of the sheet.
    Y,
}

/// A cut from edge to edge of the piece it is made in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cut {
    /// Which way it runs.
    pub along: Along,
    /// Where its near side is, across the way it runs; what it takes lies beyond.
    pub at: Length,
    /// Where it begins.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
}

/// A rectangle that is left and worth keeping.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Offcut {
    /// The near corner along the first side of the sheet.
    pub x: Length,
    /// The near corner along the second side of the sheet.
    pub y: Length,
    /// Its sides along x and y.
    pub sides: [Length; 2],
}

/// A sheet and what is cut from it.
///
/// `area of the sheet = parts + kerf + offcut`, exactly.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// Index into [`Request::stock`].
    pub stock: usize,
    /// The parts.
    pub placed: Vec<Placed>,
    /// The cuts, in an order they can be made in; none when cut freely.
    pub cuts: Vec<Cut>,
    /// Rectangles worth keeping, largest first; they do not overlap.
    pub offcuts: Vec<Offcut>,
    /// Area of the parts.
    pub parts: Area,
    /// What cutting turns to dust. Cut freely, a strip as wide as the kerf along two sides of each part.
    pub kerf: Area,
    /// Everything else, the trim with it.
    pub offcut: Area,
}

/// Sheets that hold the parts, and how few they could be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Nest {
    /// The sheets in use: bought ones first, then fullest first.
    pub sheets: Vec<Sheet>,
    /// Parts that are on none of them.
    pub left_out: Vec<LeftOut>,
    /// How many of the sheets are bought.
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

/// Lays the parts on the fewest bought sheets that can be found.
///
/// Sheets on hand are used where they save buying. Of several sizes on sale, each sheet is the smallest that holds what
/// lies on it; only the number of sheets is proved. The same request and budget give the same answer, unless the
/// watcher stops it; then the best so far is given.
///
/// Method: many greedy fillings; for small jobs all ways to share the parts out among sheets, each settled by all
/// guillotine patterns or by raster points; for others, two or three sheets at a time filled anew. Bounds come from
/// conservative scales and from those that were settled.
///
/// # Errors
///
/// [`NestError`] for sizes that make no sense; that parts fit no sheet is an answer, not an error.
pub fn nest(request: &Request, budget: Budget, watch: &mut dyn Watch) -> Result<Nest, NestError> {
    validated(request)?;
    let mut meter = Meter::new(budget, watch);
    let job = Job::of(request);
    let mut at_least = bound::at_least(&job);
    meter.tell_bound(at_least);
    let mut best = improve::first(&job, Cutting::Guillotine, &mut meter);
    if request.cutting == Cutting::Free {
        // What a shear can do, a laser can: half of the work goes into that, since it finds more, sooner.
        let share = meter.left() / 2;
        let mut of_shear = at_least;
        meter.stage(share, |meter| {
            work_on(&job, Cutting::Guillotine, &mut best, &mut of_shear, meter);
        });
        let freely = improve::first(&job, Cutting::Free, &mut meter);
        if freely.is_better(&best, &job) {
            best = freely;
        }
    }
    work_on(&job, request.cutting, &mut best, &mut at_least, &mut meter);
    improve::finish(&job, request.cutting, &mut best);
    let mut nest = told(request, &job, &best, at_least);
    nest.proved = nest.bought <= at_least;
    nest.work = meter.done();
    nest.ended = if nest.proved { Ended::Done } else { meter.ended() };
    debug_assert_eq!(check(request, &nest), Ok(()));
    Ok(nest)
}

/// Refuses sizes that make no sense.
pub(super) fn validated(request: &Request) -> Result<(), NestError> {
    validate(
        request
            .parts
            .iter()
            .map(|part| (part.id, part.sides.to_vec(), part.quantity)),
        request.stock.iter().map(|stock| stock.sides.to_vec()),
        [request.kerf, request.trim],
    )
}

/// Improves the best and the bound until they meet or the work is used up.
fn work_on(job: &Job, cutting: Cutting, best: &mut Found, at_least: &mut u32, meter: &mut Meter<'_>) {
    // A short search first: most jobs need no more.
    let short = meter.left() / 20;
    meter.stage(short, |meter| improve::improve(job, cutting, best, *at_least, meter));
    settle::settle(job, cutting, best, at_least, meter);
    improve::improve(job, cutting, best, *at_least, meter);
}

/// The answer in lengths as they are told.
fn told(request: &Request, job: &Job, best: &Found, at_least: u32) -> Nest {
    let mut ids: Vec<_> = job.classes.iter().map(|class| class.ids.iter().copied()).collect();
    let mut sheets: Vec<&Laid> = best.sheets.iter().filter(|laid| !laid.spots.is_empty()).collect();
    sheets.sort_by_key(|laid| {
        (
            !job.kinds[laid.kind].bought,
            std::cmp::Reverse(job.content(&laid.counts)),
        )
    });
    let sheets = sheets.into_iter().map(|laid| sheet(request, laid, &mut ids)).collect();
    let mut left_out = job.left_out.clone();
    for (class, &n) in best.over.iter().enumerate() {
        for (id, _) in ids[class].by_ref().take(usize::from(n)) {
            left_out.push(LeftOut {
                id,
                quantity: 1,
                why: super::Why::StockUsedUp,
            });
        }
    }
    left_out.dedup_by(|next, last| {
        let same = (next.id, next.why) == (last.id, last.why);
        last.quantity += if same { next.quantity } else { 0 };
        same
    });
    Nest {
        sheets,
        left_out,
        bought: job.bought(&best.sheets),
        at_least,
        proved: false,
        ended: Ended::Done,
        work: 0,
    }
}

/// One sheet of a job of its own.
pub(super) fn told_sheet(request: &Request, job: &Job, laid: &Laid) -> Sheet {
    let mut ids: Vec<_> = job.classes.iter().map(|class| class.ids.iter().copied()).collect();
    sheet(request, laid, &mut ids)
}

fn sheet(request: &Request, laid: &Laid, ids: &mut [impl Iterator<Item = (usize, bool)>]) -> Sheet {
    let sides = request.stock[laid.kind].sides;
    let place = |grown: i64| Length::from_nm(grown) + request.trim;
    let mut placed = Vec::with_capacity(laid.spots.len());
    for spot in &laid.spots {
        let Some((id, swapped)) = ids[spot.class].next() else {
            continue;
        };
        placed.push(Placed {
            id,
            x: place(spot.x),
            y: place(spot.y),
            sides: [spot.way.w, spot.way.h].map(|side| Length::from_nm(side) - request.kerf),
            turned: spot.way.turned != swapped,
        });
    }
    let cuts = match (&laid.tree, request.cutting) {
        (Some(tree), Cutting::Guillotine) => offcuts::cuts(request, laid.kind, tree),
        _ => Vec::new(),
    };
    let parts: Area = placed.iter().map(|part| part.sides[0] * part.sides[1]).sum();
    let usable = sides.map(|side| side - request.trim);
    let kerf: Area = match request.cutting {
        Cutting::Guillotine => offcuts::sawn(request, laid),
        Cutting::Free => {
            let grown = |part: &Placed| -> Area {
                let to = |at: Length, axis: usize| (at + part.sides[axis] + request.kerf).min(usable[axis]);
                (to(part.x, 0) - part.x) * (to(part.y, 1) - part.y)
            };
            placed.iter().map(grown).sum::<Area>() - parts
        }
    };
    Sheet {
        stock: laid.kind,
        cuts,
        offcuts: offcuts::worth_keeping(request, laid),
        parts,
        kerf,
        offcut: sides[0] * sides[1] - parts - kerf,
        placed,
    }
}
