//! What a lot of units and its groups come to.

/// How a lot of units is spread.
#[derive(Clone, Debug, PartialEq)]
pub struct LotSpread {
    /// Mean capacity.
    pub mean: f64,
    /// Standard deviation, with n - 1.
    pub deviation: f64,
    /// Deviation over mean.
    pub variation: f64,
    /// Largest less smallest, over the mean.
    pub range: f64,
    /// Mean state of health.
    pub mean_health: f64,
    /// Least state of health.
    pub least_health: f64,
    /// Units below the asked state of health.
    pub rejected: Vec<usize>,
}

/// How `capacities` are spread against what the label says; `None` with fewer than two, or a label of nothing.
///
/// Source: elementary statistics.
pub fn lot_spread(capacities: &[f64], rated: f64, least_health: f64) -> Option<LotSpread> {
    if capacities.len() < 2 || rated <= 0.0 {
        return None;
    }
    #[expect(clippy::cast_precision_loss, reason = "a count of units")]
    let n = capacities.len() as f64;
    let mean = capacities.iter().sum::<f64>() / n;
    let deviation = (capacities.iter().map(|c| (c - mean).powi(2)).sum::<f64>() / (n - 1.0)).sqrt();
    let least = capacities.iter().copied().fold(f64::INFINITY, f64::min);
    let most = capacities.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let below = capacities
        .iter()
        .enumerate()
        .filter(|(_, c)| **c / rated < least_health);
    Some(LotSpread {
        mean,
        deviation,
        variation: deviation / mean,
        range: (most - least) / mean,
        mean_health: mean / rated,
        least_health: least / rated,
        rejected: below.map(|(i, _)| i).collect(),
    })
}

/// What the weakest group leaves of a pack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weakest {
    /// Which group.
    pub group: usize,
    /// Amp-hours that can be used: its own, over the window.
    pub amp_hours: f64,
    /// Energy that can be used, kWh.
    pub kwh: f64,
    /// What it would be with all groups at the mean.
    pub kwh_if_equal: f64,
    /// What is lost of that.
    pub loss: f64,
}

/// What a string of groups gives: every group gives what the weakest does. `None` without groups.
///
/// - `window`: the share of the capacity that is used, 0 to 1.
/// - `volts_per_group`: mean volts of one group.
pub fn weakest_group(amp_hours: &[f64], volts_per_group: f64, window: f64) -> Option<Weakest> {
    let (group, &least) = amp_hours.iter().enumerate().min_by(|a, b| a.1.total_cmp(b.1))?;
    #[expect(clippy::cast_precision_loss, reason = "a count of groups")]
    let n = amp_hours.len() as f64;
    let mean = amp_hours.iter().sum::<f64>() / n;
    let kwh = |ah: f64| ah * window * volts_per_group * n / 1000.0;
    Some(Weakest {
        group,
        amp_hours: least * window,
        kwh: kwh(least),
        kwh_if_equal: kwh(mean),
        loss: 1.0 - least / mean,
    })
}

/// How a current divides among units in parallel.
#[derive(Clone, Debug, PartialEq)]
pub struct CurrentShare {
    /// Amps through each.
    pub amps: Vec<f64>,
    /// What they resist together, milliohms.
    pub milliohms: f64,
    /// The largest amps over amp-hours.
    pub worst_c_rate: f64,
}

/// How `amps` divide among units of these resistances at equal open-circuit volts; `None` when a resistance is not above
/// zero or the lists differ in length.
pub fn current_share(amps: f64, milliohms: &[f64], amp_hours: &[f64]) -> Option<CurrentShare> {
    if milliohms.is_empty() || milliohms.len() != amp_hours.len() || milliohms.iter().any(|r| *r <= 0.0) {
        return None;
    }
    let together: f64 = milliohms.iter().map(|r| 1.0 / r).sum();
    let each: Vec<f64> = milliohms.iter().map(|r| amps / r / together).collect();
    let worst = each.iter().zip(amp_hours).map(|(i, ah)| i / ah).fold(0.0, f64::max);
    Some(CurrentShare {
        amps: each,
        milliohms: 1.0 / together,
        worst_c_rate: worst,
    })
}

/// What strings of `series` come to when they are taken in the order given: each is as strong as its weakest, and they
/// add up.
pub fn strings_sum(units: &[i64], series: usize, parallel: usize) -> i64 {
    let strings = units.chunks(series.max(1)).take(parallel);
    strings.map(|string| string.iter().min().copied().unwrap_or(0)).sum()
}

/// The mean of [`strings_sum`] for `times` orders by chance, from a stated seed.
pub fn mean_of_random_strings(units: &[i64], series: usize, parallel: usize, times: u32, seed: u64) -> f64 {
    mean_by_chance(units, times, seed, |order| strings_sum(order, series, parallel))
}

fn mean_by_chance(units: &[i64], times: u32, seed: u64, of: impl Fn(&[i64]) -> i64) -> f64 {
    let times = times.max(1);
    let sums = (0..times).map(|i| of(&shuffled(units, seed.wrapping_add(u64::from(i)))));
    #[expect(clippy::cast_precision_loss, reason = "capacities are far below 2^53")]
    let mean = sums.sum::<i64>() as f64 / f64::from(times);
    mean
}

/// The smallest sum of groups of `per_group` taken in the order given.
pub fn label_order(units: &[i64], groups: usize, per_group: usize) -> i64 {
    smallest_sum(units.iter().copied(), groups, per_group)
}

/// The smallest sum of `groups` groups of `per_group`, taken one after the other.
pub fn smallest_sum(units: impl Iterator<Item = i64>, groups: usize, per_group: usize) -> i64 {
    let taken: Vec<i64> = units.take(groups * per_group).collect();
    taken
        .chunks(per_group.max(1))
        .map(|group| group.iter().sum())
        .min()
        .unwrap_or(0)
}

/// The mean smallest sum of `times` groupings by chance, from a stated seed.
pub fn mean_of_random(units: &[i64], groups: usize, per_group: usize, times: u32, seed: u64) -> f64 {
    mean_by_chance(units, times, seed, |order| {
        smallest_sum(order.iter().copied(), groups, per_group)
    })
}

/// Units in an order by chance, from a stated seed.
pub fn shuffled(units: &[i64], seed: u64) -> Vec<i64> {
    let mut state = seed;
    let mut shuffled = units.to_vec();
    for last in (1..shuffled.len()).rev() {
        let among = last as u64 + 1;
        #[expect(clippy::cast_possible_truncation, reason = "below the number of units")]
        shuffled.swap(last, (crate::chance::next(&mut state) % among) as usize);
    }
    shuffled
}
