//! Looking for slips: the reading that agrees least with the others, one after another.
//!
//! Source: data snooping, W. Baarda (1968); how far two readings can be told apart follows from the correlation of
//! their standardised residuals, W. Forstner, Reliability and discernability of extended Gauss-Markov models (1983);
//! known by: memory.

use super::adjust::{Adjustment, adjust_anyway, adjust_within, check_each};
use super::chance::SUSPECT;
use super::closing::{OpenTriangle, open_triangles};
use super::observation::Observation;
use super::refusal::Refusal;

/// A reading whose redundancy is below it counts as unchecked: a slip in it would have to be over 41 sigmas to be
/// caught 8 times in 10.
pub const UNCHECKED: f64 = 0.01;

/// Standardised residuals within it of the largest are as suspect.
const TIED: f64 = 1e-4;

/// As many suspects as are sought. Where the seventh would be, the survey is no set of readings with slips in it but
/// nonsense, and to be begun again.
const MOST_SUSPECTS: usize = 6;

/// As many steps as an adjustment in between tries. Where slips are gross it settles slowly, and long before it does the
/// reading to blame stands out.
const TRIES: usize = 30;

/// One step of a search: what disagrees most with all that is left.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// The reading, by its index in the survey; or all of those that could equally be to blame.
    pub readings: Vec<usize>,
    /// Others that may be to blame instead: readings whose disagreement goes together with that of the first, and is
    /// smaller by no more than noise explains 19 times in 20. Without space diagonals there are often some.
    pub rivals: Vec<usize>,
    /// The standardised residual of the first of them; over [`SUSPECT`] without its sign.
    pub standardised: f64,
    /// What the others say that it should be, with the standard uncertainty of that, in millimetres. `None` when
    /// several are tied, or the others do not tell.
    pub predicted: Option<(f64, f64)>,
}

/// What a search for slips found.
#[derive(Clone, Debug, PartialEq)]
pub struct Search {
    /// The suspects, in the order in which they were found, each with those before set aside; six at most.
    pub suspects: Vec<Suspect>,
    /// Triangles that cannot close; one of their readings is wrong for sure.
    pub open: Vec<OpenTriangle>,
    /// Readings and statements that no other checks, by their index in the survey.
    pub unchecked: Vec<usize>,
    /// Whether what is left agrees. When it does not, and there are suspects, more slips are in it: the last of them could
    /// not be told from others, or there were too many to go on. When it does not and there are none, a vouched reading
    /// disagrees with all the others.
    pub consistent: bool,
    /// The survey without the suspects. Not a shape to build by unless it is consistent; and with suspects it leaves
    /// out readings that the person did not drop.
    pub without: Adjustment,
}

/// Looks for slips: sets the most suspect reading aside, adjusts again from the start, until what is left agrees, the one
/// to blame cannot be told, or six have been set aside.
///
/// It drops nothing from the survey: the person accepts, tapes again or overrules.
///
/// # Errors
///
/// [`Refusal`] as [`adjust`](super::adjust()), but for triangles that cannot close: they are told in [`Search::open`].
pub fn search(observations: &[Observation]) -> Result<Search, Refusal> {
    search_with(observations, &[])
}

/// As [`search`], with readings that the person vouches for, by their index in the survey: they are never suspect, whatever
/// disagrees with them, and never named as rivals. Once nothing else is suspect the search ends, consistent or not.
///
/// # Errors
///
/// As [`search`].
pub fn search_with(observations: &[Observation], vouched: &[usize]) -> Result<Search, Refusal> {
    check_each(observations)?;
    let mut left: Vec<usize> = (0..observations.len()).collect();
    let mut without = adjust_for_search(observations)?;
    let unchecked = unchecked(&without);
    let mut suspects: Vec<Suspect> = Vec::new();
    while suspects.len() < MOST_SUSPECTS {
        let free = |&i: &usize| !vouched.contains(&left[i]);
        let Some((standardised, tied)) = worst(&without, free) else {
            break;
        };
        let mut suspect = Suspect {
            readings: tied.iter().map(|&i| left[i]).collect(),
            rivals: rivals(&without, &tied, free).into_iter().map(|i| left[i]).collect(),
            standardised,
            predicted: None,
        };
        if let [alone] = tied[..] {
            let reading = left.remove(alone);
            let rest: Vec<Observation> = left.iter().map(|&i| observations[i]).collect();
            if let Ok(next) = adjust_for_search(&rest) {
                suspect.predicted = Some(next.predict(observations[reading].told));
                suspects.push(suspect);
                without = next;
                continue;
            }
        }
        suspects.push(suspect);
        break;
    }
    Ok(Search {
        suspects,
        open: open_triangles(observations),
        unchecked,
        consistent: worst(&without, |_| true).is_none(),
        without,
    })
}

/// Adjusts as far as it takes to see what is suspect; to the end where nothing is.
fn adjust_for_search(observations: &[Observation]) -> Result<Adjustment, Refusal> {
    let (adjustment, settled) = adjust_within(observations, TRIES)?;
    if settled || worst(&adjustment, |_| true).is_some() {
        Ok(adjustment)
    } else {
        adjust_anyway(observations)
    }
}

/// The largest standardised residual above the limit among the `free`, with those tied for it, largest first.
fn worst(adjustment: &Adjustment, free: impl Fn(&usize) -> bool) -> Option<(f64, Vec<usize>)> {
    let figures = adjustment.figures.iter().enumerate();
    let sizes = || {
        let standardised = figures
            .clone()
            .filter_map(|(i, figure)| Some((i, figure.standardised?)));
        standardised.filter(|(i, _)| free(i))
    };
    // The first of equals, so that the order of the readings decides and not rounding.
    let largest = sizes().map(|(_, w)| w.abs()).fold(0.0, f64::max);
    if largest <= SUSPECT {
        return None;
    }
    let tied: Vec<usize> = sizes()
        .filter(|(_, w)| w.abs() >= largest - TIED)
        .map(|(i, _)| i)
        .collect();
    let first = adjustment.figures[*tied.first()?].standardised?;
    Some((first, tied))
}

/// The `free` readings that noise may have kept behind the first of `tied`.
///
/// The difference of two standardised residuals that go together by `c` has variance `2·(1 - |c|)`.
fn rivals(adjustment: &Adjustment, tied: &[usize], free: impl Fn(&usize) -> bool) -> Vec<usize> {
    const QUANTILE: f64 = 1.644_853_626_951_47;
    let size = |i: usize| adjustment.figures[i].standardised.map(f64::abs);
    let Some((&first, largest)) = tied.first().and_then(|first| Some((first, size(*first)?))) else {
        return Vec::new();
    };
    let close = |&other: &usize| {
        let both = size(other).zip(adjustment.correlation(first, other));
        both.is_some_and(|(own, c)| largest - own <= QUANTILE * (2.0 * (1.0 - c.abs()).max(0.0)).sqrt())
    };
    (0..adjustment.figures.len())
        .filter(|i| free(i) && !tied.contains(i))
        .filter(close)
        .collect()
}

fn unchecked(adjustment: &Adjustment) -> Vec<usize> {
    let figures = adjustment.figures.iter().enumerate();
    figures
        .filter(|(_, figure)| figure.redundancy < UNCHECKED)
        .map(|(i, _)| i)
        .collect()
}

/// Returns the smallest slip in a reading, in millimetres, that would be caught and pinned on that reading about 97
/// times in 100; `None` when another reading is always as suspect, or nothing checks it.
///
/// A slip of `m` sigmas of its residual is caught when `m` is above [`SUSPECT`] by the normal quantile of 0.97, and told
/// from a reading whose standardised residual goes together with its own by `c` when `m · √((1 - |c|)/2)` is above that
/// quantile.
pub fn nameable_mm(observations: &[Observation], adjustment: &Adjustment, reading: usize) -> Option<f64> {
    const QUANTILE: f64 = 1.880_793_608_151_25;
    let figure = adjustment.figures.get(reading)?;
    figure.standardised?;
    let others = (0..observations.len()).filter(|&other| other != reading);
    let closest = others
        .filter_map(|other| adjustment.correlation(reading, other))
        .fold(0.0_f64, |most, c| most.max(c.abs()));
    let apart = ((1.0 - closest) / 2.0).max(0.0).sqrt();
    if apart < 1e-3 {
        return None;
    }
    let own = observations[reading].sigma.as_mm() / figure.redundancy.sqrt();
    Some(own * (SUSPECT + QUANTILE).max(QUANTILE / apart))
}
