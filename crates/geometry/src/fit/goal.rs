//! What is wanted, as caps and totals.

use super::{Request, RequestError, Wanted};
use crate::Axis;

/// The most of each kind, and which totals are worth having.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Goal {
    /// The most of each kind that may be placed.
    pub(super) caps: Vec<u32>,
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
        let caps = caps.collect();
        let strings = match &request.wanted {
            Wanted::Strings { series, parallel, .. } => Some((series.clone(), *parallel)),
            _ => None,
        };
        Self { caps, strings }
    }

    /// The caps' sum.
    pub(super) fn most(&self) -> u32 {
        self.caps.iter().copied().fold(0, u32::saturating_add)
    }

    /// The most modules worth placing when `fit` go in: all, or whole strings; what goes in when that is less than one.
    pub(super) fn total(&self, fit: u32) -> u32 {
        let fit = fit.min(self.most());
        match &self.strings {
            None => fit,
            Some((series, parallel)) => {
                let whole = series.iter().map(|&s| (fit / s).min(*parallel) * s).max().unwrap_or(0);
                if whole == 0 {
                    fit.min(series.iter().map(|s| s - 1).min().unwrap_or(0))
                } else {
                    whole
                }
            }
        }
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
    wanted(request)
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
