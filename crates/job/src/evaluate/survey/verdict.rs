//! From readings to what is said of them.

use std::sync::Arc;

use tape::reading::limits_sigma;
use tape::survey::{
    self, Agreement, Body, Line, Observation, Refusal, Search, Told, guesses, telling_apart, what_fixes,
};
use tape::{Length, inside};

use super::odd::odd_edges;
use super::shape::out_of_square;
use super::{
    From, Next, Observed, ReadingResult, Standing, StatementResult, Survey, Surveyed, Suspect, Used, Why, frame, sigma,
};
use crate::assumed::{self, Trust};
use crate::document::{Cavity, Decided, Reading, Statement};
use crate::{Line as JobLine, UnitsName};

/// Works out the survey of a cavity.
pub(in crate::evaluate) fn of(cavity: &Cavity, trust: &Trust, units: UnitsName) -> Survey {
    of_observed(cavity, trust, units, &Observed::of(cavity, trust, units))
}

fn of_observed(cavity: &Cavity, trust: &Trust, units: UnitsName, observed: &Observed) -> Survey {
    let mut survey = Survey {
        senseless: observed.senseless.clone(),
        readings: cavity.readings.iter().map(|r| plain(r, trust)).collect(),
        odd: odd_edges(cavity),
        statements: cavity.statements.iter().map(|s| stated(s, units)).collect(),
        out_of_square: out_of_square(|line| read_mm(cavity, line)),
        ..Survey::default()
    };
    if observed.observations.is_empty() {
        return survey;
    }
    let vouched: Vec<usize> = (0..observed.from.len())
        .filter(|&i| match observed.from[i] {
            From::Reading(reading) => cavity.readings[reading].decided == Some(Decided::Stands),
            From::Statement(_) => false,
        })
        .collect();
    match survey::search_with(&observed.observations, &vouched) {
        Ok(search) => {
            let against = against_statements(observed, &search);
            if against.is_empty() {
                shaped(&mut survey, cavity, trust, observed, search);
            } else {
                // A statement that the readings speak against is set aside whole, and told as such.
                let without = observed.without_statements(&against);
                let mut survey = of_observed(cavity, trust, units, &without);
                survey.disproved.extend(against);
                return survey;
            }
        }
        Err(refusal) => refused(&mut survey, cavity, observed, &refusal),
    }
    survey
}

/// The statements that a search sets aside, by their place in the list.
fn against_statements(observed: &Observed, search: &Search) -> Vec<usize> {
    let aside = search
        .suspects
        .iter()
        .filter(|s| s.readings.len() == 1)
        .flat_map(|s| &s.readings);
    let mut statements: Vec<usize> = aside
        .filter_map(|&i| match observed.from[i] {
            From::Statement(statement) => Some(statement),
            From::Reading(_) => None,
        })
        .collect();
    statements.sort_unstable();
    statements.dedup();
    statements
}

/// What holds of a reading before anything is adjusted.
fn plain(reading: &Reading, trust: &Trust) -> ReadingResult {
    let used = match (&reading.line, reading.decided) {
        (_, Some(Decided::LeftOut)) => Used::LeftOut,
        (line, _) if line.dimension().is_some() => Used::Square,
        _ => Used::Kept,
    };
    ReadingResult {
        line: reading.line.clone(),
        read: reading.read.clone(),
        sigma: sigma(reading, trust),
        used,
        adjusted: None,
        checked: None,
        standardised: None,
        detectable: None,
        suspect: None,
    }
}

/// What was stated, before anything is adjusted.
fn stated(statement: &Statement, units: UnitsName) -> StatementResult {
    let lines: Vec<String> = statement.lines.iter().map(JobLine::to_string).collect();
    let within = match &statement.within {
        Some(within) => within.to_string(),
        None => assumed::text(assumed::within(units), units.units()),
    };
    StatementResult {
        words: format!("{} {} within {within}", lines.join(" and "), statement.says.name()),
        off: None,
        standardised: None,
    }
}

/// The mean of what was read along a line.
fn read_mm(cavity: &Cavity, line: Line) -> Option<f64> {
    let counts = |r: &&Reading| r.line.of_survey() == Some(line) && r.decided != Some(Decided::LeftOut);
    let read: Vec<f64> = cavity
        .readings
        .iter()
        .filter(counts)
        .map(|r| r.read.value().as_mm())
        .collect();
    #[expect(clippy::cast_precision_loss, reason = "counts of readings are small")]
    let mean = read.iter().sum::<f64>() / read.len() as f64;
    (!read.is_empty()).then_some(mean)
}

/// Lines that the tape can be laid along, in walking order, those read already too.
pub(super) fn reachable(cavity: &Cavity) -> Vec<Line> {
    let out: Vec<Line> = cavity.out_of_reach.iter().filter_map(JobLine::of_survey).collect();
    Line::all().into_iter().filter(|line| !out.contains(line)).collect()
}

fn refused(survey: &mut Survey, cavity: &Cavity, observed: &Observed, refusal: &Refusal) {
    survey.trouble = Some(refusal.to_string());
    let lines = match refusal {
        Refusal::Short(_) => what_fixes(&observed.observations, &reachable(cavity))
            .into_iter()
            .map(|line| Next { line, why: Why::Holds })
            .collect(),
        Refusal::CannotMeet { lines, .. } => lines.iter().map(|&line| Next { line, why: Why::Again }).collect(),
        Refusal::CannotClose(open) => open
            .iter()
            .flat_map(|triangle| &triangle.readings)
            .filter_map(|&i| observed.observations[i].told.line())
            .map(|line| Next { line, why: Why::Again })
            .collect(),
        Refusal::Senseless { .. } | Refusal::Unsettled => Vec::new(),
    };
    survey.next = lines;
}

fn shaped(survey: &mut Survey, cavity: &Cavity, trust: &Trust, observed: &Observed, search: Search) {
    survey.open = search.open.iter().map(ToString::to_string).collect();
    suspects(survey, cavity, observed, &search);
    let left = remaining(observed, &search);
    let adjustment = search.without;
    survey.agreement = Some(adjustment.agreement());
    survey.spare = adjustment.spare;
    survey.most_off = most_off(&left, &adjustment);
    survey.fitting_sigma = fitting_sigma(&left, &adjustment, cavity);
    figures(survey, observed, &left, &adjustment);
    survey.standing = match (search.suspects.is_empty(), search.consistent) {
        (true, true) => Standing::Held,
        (false, true) => Standing::Doubtful,
        (_, false) => Standing::Contradictory,
    };
    again(survey, cavity, observed, &search.suspects, &adjustment);
    if survey.standing == Standing::Held && survey.agreement == Some(Agreement::Worse) {
        survey.next.extend(agrees_least(&left, &adjustment));
    }
    if adjustment.strength.is_weak() || adjustment.strength_at_start.is_weak() {
        let fixes = what_fixes(&left.observations, &reachable(cavity));
        survey
            .next
            .extend(fixes.into_iter().map(|line| Next { line, why: Why::Holds }));
    }
    let square = out_of_square(|line| Some(adjustment.line(line).mm));
    match Surveyed::new(adjustment, left, frame(cavity.laid_on), trust.sigmas) {
        Ok(shape) => {
            survey.out_of_square = square;
            survey.shape = Some(Arc::new(shape));
        }
        Err(trouble) => not_a_cavity(survey, &trouble),
    }
}

/// A shape that no cuboid goes into for sure has no space, and is no reason to fall back on the smallest readings.
fn not_a_cavity(survey: &mut Survey, trouble: &inside::NoCuboid) {
    survey.trouble = Some(trouble.to_string());
    survey.nothing_left = true;
}

/// What the search left in.
fn remaining(observed: &Observed, search: &Search) -> Observed {
    let alone = search.suspects.iter().filter(|s| s.predicted.is_some());
    let aside: Vec<usize> = alone.flat_map(|s| s.readings.iter().copied()).collect();
    let kept = (0..observed.from.len()).filter(|i| !aside.contains(i));
    let (observations, from) = kept.map(|i| (observed.observations[i], observed.from[i])).unzip();
    Observed {
        observations,
        from,
        senseless: Vec::new(),
    }
}

fn figures(survey: &mut Survey, observed: &Observed, left: &Observed, adjustment: &survey::Adjustment) {
    let reading_of = |from: &From| match from {
        From::Reading(i) => Some(*i),
        From::Statement(_) => None,
    };
    for (from, observation) in observed.from.iter().zip(&observed.observations) {
        let Some(i) = reading_of(from) else { continue };
        let (mm, _) = adjustment.predict(observation.told);
        survey.readings[i].adjusted = Some(Length::from_mm(mm));
        survey.readings[i].used = Used::SetAside;
    }
    for (from, figure) in left.from.iter().zip(&adjustment.figures) {
        let i = match *from {
            From::Reading(i) => i,
            From::Statement(i) => {
                let statement = &mut survey.statements[i];
                let off = Length::from_mm(figure.residual_mm.abs());
                if statement.off.is_none_or(|worst| off > worst) {
                    statement.off = Some(off);
                    statement.standardised = figure.standardised;
                }
                continue;
            }
        };
        let reading = &mut survey.readings[i];
        reading.used = Used::Shape;
        reading.checked = Some(figure.redundancy);
        reading.standardised = figure.standardised;
        reading.detectable = figure.detectable_mm.map(Length::from_mm_up);
    }
    for reading in &mut survey.readings {
        if reading.used == Used::Square {
            reading.used = Used::Cap;
        }
    }
}

fn suspects(survey: &mut Survey, cavity: &Cavity, observed: &Observed, search: &Search) {
    let readings_of = |indices: &[usize]| -> Vec<usize> {
        let of = indices.iter().filter_map(|&i| match observed.from[i] {
            From::Reading(reading) => Some(reading),
            From::Statement(_) => None,
        });
        of.collect()
    };
    for (rank, suspect) in search.suspects.iter().enumerate() {
        for &index in &suspect.readings {
            let From::Reading(i) = observed.from[index] else {
                continue;
            };
            let reading = &cavity.readings[i];
            // By what is left in the end: when it was set aside, others that are wrong were still in.
            let told = observed.observations[index].told;
            let predicted = suspect.predicted.map(|_| search.without.predict(told));
            let guesses = predicted.map_or_else(Vec::new, |predicted| {
                guesses(
                    reading.read.value(),
                    reading.read.written().units(),
                    survey.readings[i].sigma,
                    predicted,
                    Body::default(),
                )
            });
            survey.readings[i].suspect = Some(Suspect {
                rank,
                tied: suspect.readings.len(),
                rivals: readings_of(&suspect.rivals),
                should_be: predicted.map(|(mm, sigma)| (Length::from_mm(mm), Length::from_mm_up(sigma))),
                guesses,
            });
        }
    }
}

/// The reading that agrees least with the others.
fn agrees_least(left: &Observed, adjustment: &survey::Adjustment) -> Option<Next> {
    let each = left.observations.iter().zip(&adjustment.figures);
    let off = each.filter_map(|(o, figure)| Some((o.told.line()?, figure.standardised?.abs())));
    let (line, _) = off.max_by(|(_, a), (_, b)| a.total_cmp(b))?;
    Some(Next {
        line,
        why: Why::AgreesLeast,
    })
}

/// What to tape again, and what tells the tied apart.
fn again(
    survey: &mut Survey,
    cavity: &Cavity,
    observed: &Observed,
    suspects: &[survey::Suspect],
    adjustment: &survey::Adjustment,
) {
    let mut next: Vec<Next> = Vec::new();
    for suspect in suspects {
        if suspect.predicted.is_some() {
            let lines = suspect
                .readings
                .iter()
                .filter_map(|&i| observed.observations[i].told.line());
            next.extend(lines.map(|line| Next { line, why: Why::Again }));
            continue;
        }
        let sigma = typical_sigma(observed, cavity);
        if let Some(line) = telling_apart(&observed.observations, adjustment, &suspect.readings, sigma) {
            next.push(Next {
                line,
                why: Why::TellsApart,
            });
        }
    }
    survey.next = next;
}

/// The sigma that a reading to come is taken to have: the middle one of those there are.
pub(super) fn typical_sigma(observed: &Observed, cavity: &Cavity) -> Length {
    let is_reading = |told: &Told| told.line().is_some();
    let of = observed.observations.iter().filter(|o| is_reading(&o.told));
    let mut sigmas: Vec<Length> = of.map(|o| o.sigma).collect();
    sigmas.sort_unstable();
    let middle = sigmas.get(sigmas.len() / 2).copied();
    middle.unwrap_or_else(|| {
        // Nothing was read from corner to corner yet; any sigma tells the same line.
        cavity.readings.first().map_or(limits_sigma(Length::mm(2)), |r| {
            r.read.plus_minus().map_or(Length::mm(1), limits_sigma)
        })
    })
}

/// The most that any reading is off.
fn most_off(left: &Observed, adjustment: &survey::Adjustment) -> Option<Length> {
    let readings = left.observations.iter().zip(&adjustment.figures);
    let off = readings
        .filter(|(o, _)| o.told.line().is_some())
        .map(|(_, f)| f.residual_mm.abs());
    let most = off.fold(0.0_f64, f64::max);
    (adjustment.spare > 0).then(|| Length::from_mm_up(most))
}

/// What a reading's sigma would have to be, when the readings tell and it is not told for each of them.
fn fitting_sigma(left: &Observed, adjustment: &survey::Adjustment, cavity: &Cavity) -> Option<Length> {
    let factor = adjustment.fitting_sigma_factor()?;
    let own = |observation: &Observation, from: &From| match from {
        From::Reading(i) => {
            let reading = &cavity.readings[*i];
            (reading.read.plus_minus().is_none() && reading.taken.is_none()).then_some(observation.sigma)
        }
        From::Statement(_) => None,
    };
    let mut sigmas: Vec<Length> = left
        .observations
        .iter()
        .zip(&left.from)
        .filter_map(|(o, from)| own(o, from))
        .collect();
    sigmas.sort_unstable();
    let middle = sigmas.get(sigmas.len() / 2)?;
    Some(Length::from_mm(middle.as_mm() * factor))
}
