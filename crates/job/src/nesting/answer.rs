//! From the question to the answer.

use enclosure::nest::sheets::{Along, Cut, Offcut};
use enclosure::nest::{self, Budget, LeftOut, NestError, Supply, Watch, Why, bars, sheets};
use tape::Length;

use super::{Buy, Group, Left, Nest, Nested, Nesting, Piece, Placing, Progress, Question, WORK, question};
use crate::{Evaluation, Job};

/// Lays out the cut list of a job, with the work that papers and the command line take.
pub fn nested(job: &Job, evaluation: &Evaluation) -> Nesting {
    nest(question(job, evaluation), WORK, &mut |_| true)
}

/// Lays the parts of each group on the fewest bought sheets or bars that can be found in `work` steps each.
///
/// Stock on hand goes to the groups in their order. `watch` is told how far it is and may stop it by `false`; every
/// group then has the best found so far. The same question and work give the same answer. Parts that fit no stock, and
/// sizes that make no sense, are left out and told.
pub fn nest(question: Question, work: u64, watch: &mut dyn FnMut(Progress) -> bool) -> Nesting {
    let mut left: Vec<Option<u32>> = question.pieces.iter().map(|piece| piece.on_hand).collect();
    let mut stocks = Vec::with_capacity(question.groups.len());
    let mut watched = Watched {
        watch,
        group: 0,
        of: question.groups.len(),
        work,
        stopped: false,
    };
    for (index, group) in question.groups.iter().enumerate() {
        watched.group = index;
        let (nested, used) = of_group(&question, group, &left, work, &mut watched)
            .unwrap_or_else(|error| (Nested::nothing(group, error), Vec::new()));
        for piece in used {
            if let Some(n) = &mut left[piece] {
                *n = n.saturating_sub(1);
            }
        }
        stocks.push(nested);
    }
    let stopped = watched.stopped;
    Nesting {
        question,
        stocks,
        stopped,
    }
}

impl Nested {
    /// All parts left out.
    fn nothing(group: &Group, error: NestError) -> Self {
        let why = match error {
            NestError::PartSize { .. } => "a size is not above zero",
            NestError::StockSize { .. } => "a size of the stock is not above zero",
            NestError::Negative { .. } => "kerf or trim is below zero",
            NestError::TooLarge => "too many or too large to lay out: split the list",
        };
        let left = |part: &super::Wanted| Left {
            mark: part.mark.clone(),
            quantity: part.quantity,
            why,
        };
        Self {
            label: group.label.clone(),
            is_bar: group.is_bar,
            nests: Vec::new(),
            buy: Vec::new(),
            bought: 0,
            at_least: 0,
            proved: false,
            ended: nest::Ended::Done,
            left_out: group.parts.iter().map(left).collect(),
            waste: 0.0,
            longest: Length::ZERO,
        }
    }
}

/// Tells how far all groups together are, and remembers that it was told to stop.
struct Watched<'w> {
    watch: &'w mut dyn FnMut(Progress) -> bool,
    group: usize,
    of: usize,
    work: u64,
    stopped: bool,
}

impl Watch for Watched<'_> {
    fn carry_on(&mut self, progress: nest::Progress) -> bool {
        let count = |n: usize| u64::try_from(n).unwrap_or(u64::MAX);
        self.stopped = self.stopped
            || !(self.watch)(Progress {
                group: self.group + 1,
                of: self.of,
                done: self
                    .work
                    .saturating_mul(count(self.group))
                    .saturating_add(progress.done),
                work: self.work.saturating_mul(count(self.of)),
                so_far: progress.sheets,
                at_least: progress.at_least,
            });
        !self.stopped
    }
}

/// The answer for one group, and which pieces it uses, one for each nest.
fn of_group(
    question: &Question,
    group: &Group,
    left: &[Option<u32>],
    work: u64,
    watch: &mut dyn Watch,
) -> Result<(Nested, Vec<usize>), NestError> {
    let offered: Vec<usize> = group.pieces.iter().copied().filter(|&i| left[i] != Some(0)).collect();
    let supply = |i: usize| left[i].map_or(Supply::Bought, Supply::OnHand);
    let budget = Budget { work };
    let laid = if group.is_bar {
        let request = bar_request(question, group, &offered, supply);
        Laid::of_bars(question, group, bars::nest(&request, budget, watch)?)
    } else {
        let request = sheet_request(question, group, &offered, supply);
        Laid::of_sheets(group, sheets::nest(&request, budget, watch)?)
    };
    let used: Vec<usize> = laid.nests.iter().map(|(stock, _)| offered[*stock]).collect();
    let mut nests = Vec::with_capacity(laid.nests.len());
    for ((_, mut nest), &piece) in laid.nests.into_iter().zip(&used) {
        nest.piece = question.pieces[piece].clone();
        nest.waste = waste(std::slice::from_ref(&nest), group);
        nests.push(nest);
    }
    let buy = offered
        .iter()
        .filter(|&&i| question.pieces[i].on_hand.is_none())
        .map(|&i| Buy {
            piece: question.pieces[i].clone(),
            count: u32::try_from(used.iter().filter(|&&u| u == i).count()).unwrap_or(u32::MAX),
        })
        .filter(|buy| buy.count > 0)
        .collect();
    let longest = offered.iter().map(|&i| question.pieces[i].sides[0]).max();
    let nested = Nested {
        label: group.label.clone(),
        is_bar: group.is_bar,
        waste: waste(&nests, group),
        nests,
        buy,
        bought: laid.bought,
        at_least: laid.at_least,
        proved: laid.proved,
        ended: laid.ended,
        left_out: laid.left_out.iter().map(|left| left_words(group, left)).collect(),
        longest: longest.unwrap_or_default(),
    };
    Ok((nested, used))
}

pub(super) fn sheet_request(
    question: &Question,
    group: &Group,
    offered: &[usize],
    supply: impl Fn(usize) -> Supply,
) -> sheets::Request {
    let how = question.how;
    sheets::Request {
        parts: (group.parts.iter().enumerate())
            .map(|(id, part)| sheets::Part {
                sides: part.sides,
                quantity: part.quantity,
                id,
                may_turn: how.may_turn,
            })
            .collect(),
        stock: offered
            .iter()
            .map(|&i| sheets::Stock {
                sides: question.pieces[i].sides,
                supply: supply(i),
            })
            .collect(),
        kerf: how.kerf,
        trim: how.trim,
        cutting: how.cutting,
        keep: [how.keep; 2],
    }
}

pub(super) fn bar_request(
    question: &Question,
    group: &Group,
    offered: &[usize],
    supply: impl Fn(usize) -> Supply,
) -> bars::Request {
    bars::Request {
        parts: (group.parts.iter().enumerate())
            .map(|(id, part)| bars::Part {
                length: part.sides[0],
                quantity: part.quantity,
                id,
            })
            .collect(),
        stock: offered
            .iter()
            .map(|&i| bars::Stock {
                length: question.pieces[i].sides[0],
                supply: supply(i),
            })
            .collect(),
        kerf: question.how.saw_kerf,
        trim: question.how.saw_trim,
    }
}

/// What both ways of nesting give: each nest with the index of its stock among those offered.
struct Laid {
    nests: Vec<(usize, Nest)>,
    bought: u32,
    at_least: u32,
    proved: bool,
    ended: nest::Ended,
    left_out: Vec<LeftOut>,
}

/// Stands in until the piece is known.
const NO_PIECE: Piece = Piece {
    sides: [Length::ZERO; 2],
    on_hand: None,
    price: None,
    assumed: false,
};

impl Laid {
    fn of_sheets(group: &Group, found: sheets::Nest) -> Self {
        let nests = found.sheets.into_iter().map(|sheet| {
            let parts = sheet
                .placed
                .iter()
                .map(|part| placing(group, part.id, [part.x, part.y], part.sides, part.turned));
            let nest = Nest {
                piece: NO_PIECE,
                parts: parts.collect(),
                cuts: sheet.cuts,
                offcuts: sheet.offcuts,
                waste: 0.0,
            };
            (sheet.stock, nest)
        });
        Self {
            nests: nests.collect(),
            bought: found.bought,
            at_least: found.at_least,
            proved: found.proved,
            ended: found.ended,
            left_out: found.left_out,
        }
    }

    fn of_bars(question: &Question, group: &Group, found: bars::Nest) -> Self {
        let (how, wide) = (question.how, group.parts.first().map_or(Length::ZERO, |p| p.sides[1]));
        let nests = found.bars.into_iter().map(|bar| {
            let parts = bar.pieces.iter().map(|piece| {
                placing(
                    group,
                    piece.id,
                    [piece.offset, Length::ZERO],
                    [piece.length, wide],
                    false,
                )
            });
            let ends = bar.pieces.iter().map(|piece| piece.offset + piece.length);
            let cuts = ends.clone().take(bar.cuts as usize).map(|at| Cut {
                along: Along::Y,
                at,
                from: Length::ZERO,
                to: wide,
            });
            let offcut = Offcut {
                x: ends.clone().next_back().unwrap_or(how.saw_trim) + how.saw_kerf,
                y: Length::ZERO,
                sides: [bar.offcut, wide],
            };
            let nest = Nest {
                piece: NO_PIECE,
                parts: parts.collect(),
                cuts: cuts.collect(),
                offcuts: if bar.offcut >= how.keep {
                    vec![offcut]
                } else {
                    Vec::new()
                },
                waste: 0.0,
            };
            (bar.stock, nest)
        });
        Self {
            nests: nests.collect(),
            bought: found.bought,
            at_least: found.at_least,
            proved: found.proved,
            ended: found.ended,
            left_out: found.left_out,
        }
    }
}

fn placing(group: &Group, id: usize, at: [Length; 2], sides: [Length; 2], turned: bool) -> Placing {
    let part = &group.parts[id];
    Placing {
        wanted: id,
        mark: part.mark.clone(),
        name: part.name.clone(),
        box_name: part.box_name.clone(),
        at,
        sides,
        turned,
    }
}

fn left_words(group: &Group, left: &LeftOut) -> Left {
    Left {
        mark: group.parts[left.id].mark.clone(),
        quantity: left.quantity,
        why: match (left.why, group.is_bar) {
            (Why::FitsNoStock, false) => "larger than every sheet",
            (Why::FitsNoStock, true) => "longer than every bar",
            (Why::StockUsedUp, _) => "all stock large enough is used up",
        },
    }
}

/// Share of some nests that is in no part, by its own edge, and in no offcut worth keeping; by length of bars, by area of sheets.
fn waste(nests: &[Nest], group: &Group) -> f64 {
    let of = |[a, b]: [Length; 2]| if group.is_bar { a.as_mm() } else { (a * b).as_mm2() };
    let whole: f64 = nests.iter().map(|nest| of(nest.piece.sides)).sum();
    let parts = nests.iter().flat_map(|nest| &nest.parts);
    let parts =
        parts.map(|part| of(part.sides) - group.parts.get(part.wanted).map_or(0.0, |wanted| wanted.cut_out_mm2));
    let kept = nests
        .iter()
        .flat_map(|nest| nest.offcuts.iter().map(|offcut| of(offcut.sides)));
    let used: f64 = parts.chain(kept).sum();
    if whole > 0.0 { 1.0 - used / whole } else { 0.0 }
}
