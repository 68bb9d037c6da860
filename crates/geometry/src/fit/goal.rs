//! What is wanted, as caps and totals.

use super::{Flaw, Layout, Request, RequestError, Wanted, check, pins, to_spare};
use crate::Axis;
use tape::Length;

/// 100 m in nanometres.
const LONGEST: u64 = 100_000_000_000;

/// The most of each kind, and which totals are worth having.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Goal {
    /// The most of each kind that may be placed, the pinned ones among them.
    pub(super) caps: Vec<u32>,
    /// Pinned modules of each kind.
    pinned: Vec<u32>,
    /// For strings: modules in series (most liked first) and the most in parallel.
    strings: Option<(Vec<u32>, u32)>,
}

impl Goal {
    pub(super) fn of(request: &Request) -> Self {
        let on_hand = |kind: usize| request.kinds[kind].on_hand.unwrap_or(u32::MAX);
        let caps = (0..request.kinds.len()).map(|kind| match &request.wanted {
            Wanted::AsMany => on_hand(kind),
            Wanted::Exactly(counts) => counts[kind].min(on_hand(kind)),
            Wanted::Strings { kind: wanted, .. } if *wanted != kind => 0,
            Wanted::Strings { series, parallel, .. } => {
                let most = series.iter().map(|s| s.saturating_mul(*parallel)).max().unwrap_or(0);
                most.min(on_hand(kind))
            }
        });
        let pinned = pins::by_kind(request);
        let caps = caps.zip(&pinned).map(|(cap, &pinned)| cap.max(pinned)).collect();
        let strings = match &request.wanted {
            Wanted::Strings { series, parallel, .. } => Some((series.clone(), *parallel)),
            _ => None,
        };
        Self { caps, pinned, strings }
    }

    /// The caps' sum.
    pub(super) fn most(&self) -> u32 {
        self.caps.iter().copied().fold(0, u32::saturating_add)
    }

    /// The most of each kind that may be placed besides the pinned ones.
    pub(super) fn open(&self) -> Vec<u32> {
        self.caps
            .iter()
            .zip(&self.pinned)
            .map(|(cap, pinned)| cap - pinned)
            .collect()
    }

    /// The most modules worth placing when `fit` go in: all, or whole strings; what goes in when that is less than one.
    /// Never fewer than are pinned.
    pub(super) fn total(&self, fit: u32) -> u32 {
        let fit = fit.min(self.most());
        let total = match &self.strings {
            None => fit,
            Some((series, parallel)) => {
                let whole = series.iter().map(|&s| (fit / s).min(*parallel) * s).max().unwrap_or(0);
                if whole == 0 {
                    fit.min(series.iter().map(|s| s - 1).min().unwrap_or(0))
                } else {
                    whole
                }
            }
        };
        total.max(self.pinned.iter().sum())
    }

    /// What other numbers in series make of no more than `total` modules, each with as many strings as go: the most first.
    pub(super) fn other_totals(&self, total: u32) -> Vec<u32> {
        let Some((series, parallel)) = &self.strings else {
            return Vec::new();
        };
        let mut totals: Vec<u32> = series.iter().map(|&s| (total / s).min(*parallel) * s).collect();
        totals.retain(|&other| 0 < other && other < total && other >= self.pinned.iter().sum());
        totals.sort_unstable_by(|a, b| b.cmp(a));
        totals.dedup();
        totals
    }

    /// The modules of one string when `total` are placed; 1 when no strings are wanted.
    pub(super) fn string(&self, total: u32) -> u32 {
        let Some((series, parallel)) = &self.strings else {
            return 1;
        };
        series
            .iter()
            .copied()
            .find(|&s| total.is_multiple_of(s) && total / s <= *parallel)
            .unwrap_or(1)
    }
}

/// Refuses a request that cannot be worked on.
pub(super) fn validate(request: &Request) -> Result<(), RequestError> {
    if request.cavities.is_empty() {
        return Err(RequestError::Nothing("no cavity"));
    }
    if request.kinds.is_empty() {
        return Err(RequestError::Nothing("no kind of module"));
    }
    for (index, kind) in request.kinds.iter().enumerate() {
        if kind.orientations.is_empty() {
            return Err(RequestError::Nothing("a kind without an orientation"));
        }
        if kind.stack.is_some_and(|stack| stack.min == 0 || stack.max < stack.min) {
            return Err(RequestError::Nothing("a stack of no modules"));
        }
        let flat = Axis::ALL.into_iter().find(|&axis| {
            let thickness = kind.stack.filter(|stack| stack.along == axis);
            let size = thickness.map_or(kind.size[axis], |stack| stack.length(kind.size[axis], stack.min));
            kind.size[axis].nm() <= 0 || size.nm() <= 0
        });
        if let Some(axis) = flat {
            return Err(RequestError::NoSize {
                kind: index,
                axis: axis.extent_name(),
            });
        }
    }
    lengths(request)?;
    wanted(request)?;
    pinned(request)
}

/// Refuses lengths beyond all cavities, and thicknesses below zero.
fn lengths(request: &Request) -> Result<(), RequestError> {
    let long = |lengths: &[Length]| lengths.iter().any(|length| length.nm().unsigned_abs() > LONGEST);
    for cavity in &request.cavities {
        let keep_outs = cavity.keep_outs.iter();
        if long(&cavity.space.lo().0) || long(&cavity.space.hi().0) || long(&cavity.wall_margin.0) {
            return Err(RequestError::TooLong("a cavity, or a margin in it,"));
        }
        if keep_outs
            .clone()
            .any(|k| long(&k.cuboid.lo().0) || long(&k.cuboid.hi().0) || long(&[k.margin]))
        {
            return Err(RequestError::TooLong("a keep-out, or its margin,"));
        }
    }
    for kind in &request.kinds {
        let clamp = kind.stack.map_or([Length::ZERO; 2], |stack| [stack.end, stack.growth]);
        if long(&kind.size.0) || long(&kind.service.0) || long(&clamp) {
            return Err(RequestError::TooLong("a module, its service space or its clamp"));
        }
        if clamp[0].is_negative() {
            return Err(RequestError::BelowZero("what a clamp adds at each end"));
        }
    }
    if long(&[request.gap]) {
        return Err(RequestError::TooLong("the gap"));
    }
    let Some(rule) = &request.boxes else { return Ok(()) };
    let bay = rule.bay.map_or(Length::ZERO, |(_, depth)| depth);
    let around = [rule.shell.0, rule.fit.0, rule.room.0].concat();
    let rims = rule.rims.iter().flat_map(|rim| [rim.out, rim.below_top, rim.above_top]);
    let others: Vec<Length> = rims.chain([bay, rule.least_height, rule.apart]).collect();
    if long(&around) || long(&others) {
        return Err(RequestError::TooLong("a measure of the boxes"));
    }
    let thin = |faces: &crate::Faces<Length>| faces.0.iter().any(|length| length.is_negative());
    if thin(&rule.shell) || thin(&rule.fit) {
        return Err(RequestError::BelowZero("a wall of a box, or the free room at it,"));
    }
    Ok(())
}

/// Refuses pinned modules that are nowhere, or that no layout could hold as they are.
fn pinned(request: &Request) -> Result<(), RequestError> {
    let lost = |(index, p): (usize, &super::Placement)| {
        let mates = || request.pinned.iter().filter(|other| other.in_box == p.in_box);
        let nowhere = p.cavity >= request.cavities.len()
            || p.kind >= request.kinds.len()
            || p.in_box.is_some_and(|_| mates().any(|other| other.cavity != p.cavity))
            // Every box before it holds a pinned one too.
            || p.in_box.is_some_and(|number| (0..number).any(|before| pins::cavity_of(request, before).is_none()));
        let flaw = if p.in_box.is_some() != request.boxes.is_some() {
            Flaw::Boxing
        } else if nowhere {
            Flaw::Index { index, of_box: false }
        } else {
            return None;
        };
        Some(RequestError::Pinned { pinned: index, flaw })
    };
    if let Some(error) = request.pinned.iter().enumerate().find_map(lost) {
        return Err(error);
    }
    let layout = pins::alone(request);
    // Other modules may make a box higher than what is pinned in it does: then it is high enough for its lid, and its
    // rims are elsewhere.
    let mut eased = request.clone();
    if let Some(rule) = &mut eased.boxes {
        rule.least_height = Length::ZERO;
    }
    let mut checked = check(&eased, &layout);
    if let (Err(Flaw::BoxToKeepOut { .. } | Flaw::Apart { .. }), Some(rule)) = (checked, &mut eased.boxes) {
        rule.rims.clear();
        let to_spare = to_spare(&eased, &layout);
        checked = check(&eased, &Layout { to_spare, ..layout });
    }
    checked.map_err(|flaw| RequestError::Pinned {
        pinned: pins::who(request, flaw),
        flaw,
    })
}

fn wanted(request: &Request) -> Result<(), RequestError> {
    match &request.wanted {
        Wanted::AsMany => Ok(()),
        Wanted::Exactly(counts) if counts.len() != request.kinds.len() => {
            Err(RequestError::Wanted("one count for each kind is needed"))
        }
        Wanted::Exactly(counts) => {
            let short = counts
                .iter()
                .zip(&request.kinds)
                .any(|(&n, kind)| kind.on_hand.is_some_and(|have| n > have));
            if short {
                Err(RequestError::Wanted("more are wanted than are on hand"))
            } else {
                Ok(())
            }
        }
        Wanted::Strings { kind, .. } if *kind >= request.kinds.len() => {
            Err(RequestError::Wanted("no kind has that number"))
        }
        Wanted::Strings { series, parallel, .. } => {
            if series.is_empty() || series.contains(&0) || *parallel == 0 {
                Err(RequestError::Wanted(
                    "a string needs at least one module, and one string at least",
                ))
            } else {
                Ok(())
            }
        }
    }
}
