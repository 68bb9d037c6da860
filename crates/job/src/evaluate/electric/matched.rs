//! The tested units of a kind: how worn each is, where it is built in, what the groups come to.

use std::collections::BTreeMap;

use pack::arrangement::Arrangement;
use pack::matching::{lot_spread, outliers, weakest_group, widest};
use pack::{Ohms, Volts};

use super::wiring::WiringResult;
use crate::Job;
use crate::document::{Figure, Joined, Seat, Unit};
use crate::evaluate::kind::KindResult;

/// A tested unit.
#[derive(Clone, Debug, PartialEq)]
pub struct UnitResult {
    /// Its place in the job's list.
    pub index: usize,
    /// What is written on it.
    pub name: String,
    /// Measured amp-hours.
    pub amp_hours: Option<f64>,
    /// Measured milliohms.
    pub milliohms: Option<f64>,
    /// Measured volts at rest.
    pub rest_volts: Option<f64>,
    /// Amp-hours over those entered for the kind.
    pub health: Option<f64>,
    /// Where it is built in, when such a module is placed.
    pub seat: Option<Seat>,
    /// Its group, or its string and place, in words; empty for a spare.
    pub place: String,
    /// What is odd about it; empty when nothing is.
    pub odd: String,
    /// Whether it is not to be used.
    pub set_aside: bool,
}

/// Units in parallel, or in one string.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// Its number, from 1 at the pack's minus.
    pub number: u32,
    /// Places in the list of [`Matched::units`].
    pub units: Vec<usize>,
    /// Amp-hours: of a group their sum, of a string its weakest; `None` while one was not measured.
    pub amp_hours: Option<f64>,
    /// How far apart their volts are (of a group), while all were measured.
    pub apart: Option<Volts>,
    /// Amps at the moment the highest and the lowest are joined.
    pub first_amps: Option<f64>,
    /// Whether it limits the pack.
    pub weakest: bool,
}

/// The tested units.
#[derive(Clone, Debug, PartialEq)]
pub struct Matched {
    /// The units, in the order of the job's list.
    pub units: Vec<UnitResult>,
    /// Groups, or strings.
    pub groups: Vec<Group>,
    /// Units built in.
    pub seated: u32,
    /// Units that are neither built in nor set aside.
    pub spare: u32,
    /// Modules placed that no unit is assigned to.
    pub unassigned: u32,
    /// Amp-hours of the pack with these units, once all that are built in were measured.
    pub amp_hours: Option<f64>,
    /// What is lost because groups are not alike, as a share.
    pub loss: Option<f64>,
    /// Mean and least state of health of the measured ones.
    pub health: Option<[f64; 2]>,
    /// What the modules resist in their arrangement, each as measured, else as entered for its kind; `None` while none
    /// that is built in was measured, or one has neither.
    pub resistance: Option<Ohms>,
    /// How far apart volts may be when two are joined.
    pub may_be_apart: Option<JoinLimit>,
}

/// How far apart volts may be when units, or whole strings, are joined in parallel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct JoinLimit {
    /// Volts from the one to the other.
    pub volts: Volts,
    /// Whether they are those of whole strings, end to end; else of single modules.
    pub strings: bool,
    /// Where the limit comes from.
    pub source: &'static str,
}

impl JoinLimit {
    /// The limit in words: `strings at most 9.928 V apart, end to end`.
    pub fn words(&self) -> String {
        let volts = self.volts.shown(3);
        if self.strings {
            format!("whole strings at most {volts} V apart, end to end")
        } else {
            format!("modules at most {volts} V apart")
        }
    }
}

/// The part of the smaller capacity, as amps, that may flow when two are joined.
const JOIN_C: f64 = 1.0;

pub(super) fn evaluate(
    job: &Job,
    kind: &KindResult,
    joined: Joined,
    arrangement: Arrangement,
    wiring: Option<&WiringResult>,
) -> Option<Matched> {
    let of_kind: Vec<(usize, &Unit)> = job
        .tested
        .iter()
        .enumerate()
        .filter(|(_, u)| u.kind == kind.id)
        .collect();
    if of_kind.is_empty() {
        return None;
    }
    let rated = kind.module.map(|m| m.capacity.get());
    let mut units: Vec<UnitResult> = of_kind
        .iter()
        .map(|(index, unit)| unit_result(*index, unit, rated))
        .collect();
    odd_ones(job, &mut units, &of_kind);
    let groups = wiring.map_or(Vec::new(), |wiring| groups(kind, joined, wiring, &mut units));
    let known: Option<Vec<f64>> = groups.iter().map(|g| g.amp_hours).collect();
    let amp_hours = known.as_ref().filter(|g| !g.is_empty()).map(|groups| match joined {
        Joined::Groups => groups.iter().copied().fold(f64::INFINITY, f64::min),
        Joined::Strings => groups.iter().sum(),
    });
    let loss = known
        .filter(|_| joined == Joined::Groups)
        .and_then(|groups| Some(weakest_group(&groups, 1.0, 1.0)?.loss));
    let measured: Vec<f64> = units
        .iter()
        .filter(|u| !u.set_aside)
        .filter_map(|u| u.amp_hours)
        .collect();
    let health = rated
        .and_then(|rated| lot_spread(&measured, rated, 0.0))
        .map(|spread| [spread.mean_health, spread.least_health]);
    let seated = units.iter().filter(|u| u.seat.is_some()).count();
    Some(Matched {
        seated: number(seated),
        spare: number(units.iter().filter(|u| u.seat.is_none() && !u.set_aside).count()),
        unassigned: wiring.map_or(0, |w| number(w.seats.len().saturating_sub(seated))),
        amp_hours,
        loss,
        health,
        resistance: wiring.and_then(|wiring| resistance(kind, joined, wiring, &units)),
        may_be_apart: may_be_apart(job, kind, &units, joined, arrangement),
        groups,
        units,
    })
}

fn number(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

fn unit_result(index: usize, unit: &Unit, rated: Option<f64>) -> UnitResult {
    let amp_hours = unit.amp_hours.map(pack::AmpHours::get);
    #[expect(clippy::cast_precision_loss, reason = "micro-ohms of a module")]
    let milliohms = unit.resistance_mohm.map(|r| r.0 as f64 / 1000.0);
    UnitResult {
        index,
        name: unit.name.clone(),
        amp_hours,
        milliohms,
        rest_volts: unit.rest_volts.map(Volts::get),
        health: amp_hours
            .zip(rated)
            .filter(|(_, rated)| *rated > 0.0)
            .map(|(ah, rated)| ah / rated),
        seat: None,
        place: String::new(),
        odd: String::new(),
        set_aside: unit.set_aside,
    }
}

/// Units that are far from the others, below what cells may be, named twice, or built in where another is.
fn odd_ones(job: &Job, units: &mut [UnitResult], of_kind: &[(usize, &Unit)]) {
    let lowest = of_kind.first().and_then(|(_, u)| {
        let kind = job.kind(u.kind)?;
        let cells = crate::assumed::cells_series(kind)?;
        Some(crate::assumed::chemistry(kind).absolute_min().get() * f64::from(cells))
    });
    for (value, low, high) in [
        (
            (|u: &UnitResult| u.amp_hours) as fn(&UnitResult) -> Option<f64>,
            "far fewer amp-hours than the others",
            "far more amp-hours than the others: measure again",
        ),
        (
            |u: &UnitResult| u.milliohms,
            "far less resistance than the others: measure again",
            "far more resistance than the others",
        ),
        (
            |u: &UnitResult| u.rest_volts,
            "far lower volts than the others: charge it alone, and see if it holds",
            "far higher volts than the others: bring it to theirs first",
        ),
    ] {
        let used: Vec<usize> = (0..units.len())
            .filter(|&i| !units[i].set_aside && value(&units[i]).is_some())
            .collect();
        let values: Vec<f64> = used.iter().filter_map(|&i| value(&units[i])).collect();
        let Some(found) = outliers(&values) else { continue };
        for i in found.units {
            let words = if values[i] < found.median { low } else { high };
            push(&mut units[used[i]].odd, words);
        }
    }
    for i in 0..units.len() {
        if let (Some(volts), Some(lowest)) = (units[i].rest_volts, lowest)
            && volts < lowest
        {
            push(&mut units[i].odd, "below what its cells may ever be: do not charge it");
        }
        if units[..i].iter().any(|other| other.name == units[i].name) {
            push(&mut units[i].odd, "another unit has that name");
        }
    }
    let mut taken: BTreeMap<Seat, usize> = BTreeMap::new();
    for (i, (_, unit)) in of_kind.iter().enumerate() {
        if let Some(seat) = unit.seat.filter(|_| !unit.set_aside)
            && taken.insert(seat, i).is_some()
        {
            push(&mut units[i].odd, "another unit is built in there");
        }
    }
}

fn push(words: &mut String, more: &str) {
    if !words.is_empty() {
        words.push_str("; ");
    }
    words.push_str(more);
}

/// Groups or strings along the wiring, with the units that are built in.
fn groups(kind: &KindResult, joined: Joined, wiring: &WiringResult, units: &mut [UnitResult]) -> Vec<Group> {
    let (series, parallel) = (wiring.series as usize, wiring.parallel as usize);
    let size = match joined {
        Joined::Groups => parallel,
        Joined::Strings => series,
    };
    let mut found = Vec::new();
    for (number, seats) in (1_u32..).zip(wiring.seats.chunks(size.max(1))) {
        let mut here = Vec::new();
        for seat in seats {
            let Some(name) = &seat.unit else { continue };
            let Some(at) = units
                .iter()
                .position(|u| u.name == *name && !u.set_aside && u.seat.is_none())
            else {
                continue;
            };
            units[at].seat = Some(seat.seat);
            let place = wiring.place_of(seat.seat).and_then(|place| wiring.berth(place));
            units[at].place = place.unwrap_or_default();
            here.push(at);
        }
        let amp_hours: Option<Vec<f64>> = here.iter().map(|&i| units[i].amp_hours).collect();
        let amp_hours = amp_hours.filter(|ah| ah.len() == seats.len()).map(|ah| match joined {
            Joined::Groups => ah.iter().sum(),
            Joined::Strings => ah.iter().copied().fold(f64::INFINITY, f64::min),
        });
        let (apart, first_amps) = match joined {
            Joined::Groups => apart(kind, units, &here),
            Joined::Strings => (None, None),
        };
        found.push(Group {
            number,
            units: here,
            amp_hours,
            apart,
            first_amps,
            weakest: false,
        });
    }
    if joined == Joined::Strings && parallel > 1 {
        strings_apart(kind, units, &mut found, series);
    }
    let least = found.iter().filter_map(|g| g.amp_hours).fold(f64::INFINITY, f64::min);
    if let Some(weakest) = found.iter_mut().find(|g| g.amp_hours == Some(least)) {
        weakest.weakest = true;
    }
    found
}

/// How far the volts of units are apart that are joined, and the amps of the highest into the lowest.
fn apart(kind: &KindResult, units: &[UnitResult], here: &[usize]) -> (Option<Volts>, Option<f64>) {
    let measured: Option<Vec<_>> = here
        .iter()
        .map(|&i| Some((units[i].rest_volts?, milliohms(kind, &units[i]))))
        .collect();
    let Some((apart, amps)) = measured.filter(|m| m.len() > 1).and_then(|m| widest(&m)) else {
        return (None, None);
    };
    (Some(Volts::nearest(apart)), amps)
}

/// Milliohms of a unit as measured, else as entered for its kind.
fn milliohms(kind: &KindResult, unit: &UnitResult) -> Option<f64> {
    unit.milliohms.or_else(|| kind.resistance.map(pack::Ohms::milliohms))
}

/// How far each string's volts are above those of the lowest that was measured.
fn strings_apart(kind: &KindResult, units: &[UnitResult], strings: &mut [Group], series: usize) {
    let total = |group: &Group, value: &dyn Fn(usize) -> Option<f64>| -> Option<f64> {
        (group.units.len() == series).then(|| group.units.iter().map(|&i| value(i)).sum::<Option<f64>>())?
    };
    let measured: Vec<Option<(f64, Option<f64>)>> = strings
        .iter()
        .map(|string| {
            let ohms = total(string, &|i| milliohms(kind, &units[i]));
            Some((total(string, &|i| units[i].rest_volts)?, ohms))
        })
        .collect();
    let lowest = (0..measured.len())
        .filter_map(|i| Some((i, measured[i]?)))
        .min_by(|a, b| a.1.0.total_cmp(&b.1.0));
    let Some((lowest, low)) = lowest else { return };
    for (i, string) in strings.iter_mut().enumerate() {
        if let Some(own) = measured[i].filter(|_| i != lowest)
            && let Some((apart, amps)) = widest(&[low, own])
        {
            string.apart = Some(Volts::nearest(apart));
            string.first_amps = amps;
        }
    }
}

/// What the modules resist along the wiring. Those in parallel share the current as their conductances do: `1 / sum (1 / r)`
/// of each group, or of the strings.
fn resistance(kind: &KindResult, joined: Joined, wiring: &WiringResult, units: &[UnitResult]) -> Option<Ohms> {
    let entered = kind.resistance.map(Ohms::milliohms);
    let measured: Vec<Option<f64>> = wiring
        .seats
        .iter()
        .map(|seat| units.iter().find(|u| u.seat == Some(seat.seat))?.milliohms)
        .collect();
    if measured.iter().all(Option::is_none) {
        return None;
    }
    let each: Vec<f64> = measured.iter().map(|own| own.or(entered)).collect::<Option<_>>()?;
    let beside = |all: &mut dyn Iterator<Item = f64>| all.map(f64::recip).sum::<f64>().recip();
    let (series, parallel) = (wiring.series.max(1) as usize, wiring.parallel.max(1) as usize);
    let milliohms = match joined {
        Joined::Groups => each.chunks(parallel).map(|g| beside(&mut g.iter().copied())).sum(),
        Joined::Strings => beside(&mut each.chunks(series).map(|s| s.iter().sum())),
    };
    Some(Ohms::nearest_milliohms(milliohms))
}

/// How far apart volts may be when modules, or strings of them, are joined: as entered; else so that no more flows than
/// the one may give for long and the other, which it charges, may take. `amps x resistance x (1 + 1 / (parallel - 1))`:
/// the last one that is joined meets all the others side by side.
fn may_be_apart(
    job: &Job,
    kind: &KindResult,
    units: &[UnitResult],
    joined: Joined,
    arrangement: Arrangement,
) -> Option<JoinLimit> {
    let strings = joined.strings(arrangement.parallel) > 1;
    let limit = |volts, source| JoinLimit { volts, strings, source };
    if let Some(volts) = job.electrics.figures.get(Figure::JoinApart) {
        return Some(limit(Volts::nearest(volts), "your entry"));
    }
    let used = units.iter().filter(|u| !u.set_aside);
    let least = used.filter_map(|u| u.milliohms).fold(f64::INFINITY, f64::min);
    let ohms = if least.is_finite() {
        least
    } else {
        kind.resistance?.milliohms()
    } / 1000.0;
    let module = kind.module?;
    let (takes, of_charge) = match module.charge {
        Some(amps) => (
            amps.get(),
            "our rule: at the moment of joining one charges the other, by no more than the module's charge amps",
        ),
        None => (
            module.capacity.get() * JOIN_C,
            "our rule: no more amps at the moment of joining than the module has amp-hours, since its charge amps are not entered",
        ),
    };
    let (amps, source) = match module.continuous.map(pack::Amps::get).filter(|gives| *gives < takes) {
        Some(gives) => (
            gives,
            "our rule: no more than the module's continuous amps at the moment of joining",
        ),
        None => (takes, of_charge),
    };
    let in_a_row = if strings { arrangement.series } else { 1 };
    let others = f64::from(arrangement.parallel.max(2) - 1);
    let path = ohms * f64::from(in_a_row) * (1.0 + 1.0 / others);
    Some(limit(Volts::nearest(amps * path), source))
}

impl Matched {
    /// The result of a unit by its place in the job's list.
    pub fn unit(&self, index: usize) -> Option<&UnitResult> {
        self.units.iter().find(|u| u.index == index)
    }

    /// Units that may be put in the place of one that fails.
    pub fn spares(&self) -> impl Iterator<Item = &UnitResult> {
        self.units.iter().filter(|u| u.seat.is_none() && !u.set_aside)
    }
}
