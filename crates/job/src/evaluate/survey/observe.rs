//! Readings and statements of a job as the adjustment takes them.

use tape::survey::{Direction, LineKind, Observation, Told};
use tape::{Length, survey};

use crate::assumed::{self, Trust};
use crate::document::{Cavity, Decided, Reading, Says, Statement, Taken};
use crate::{Line, UnitsName};

/// Where an observation comes from: the place in the cavity's list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum From {
    /// A reading.
    Reading(usize),
    /// A statement.
    Statement(usize),
}

/// What of a cavity is adjusted.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Observed {
    pub(crate) observations: Vec<Observation>,
    pub(crate) from: Vec<From>,
    /// Statements that lines of that sort cannot have, with what is wrong.
    pub(crate) senseless: Vec<(usize, &'static str)>,
}

impl Observed {
    pub(super) fn of(cavity: &Cavity, trust: &Trust, units: UnitsName) -> Self {
        let mut observed = Self::default();
        for (i, reading) in cavity.readings.iter().enumerate() {
            if reading.decided != Some(Decided::LeftOut)
                && let Some(told) = told(&reading.line)
            {
                observed.observations.push(Observation {
                    told,
                    value: reading.read.value(),
                    sigma: sigma(reading, trust),
                });
                observed.from.push(From::Reading(i));
            }
        }
        for (i, statement) in cavity.statements.iter().enumerate() {
            let within = statement
                .within
                .as_ref()
                .map_or(assumed::within(units), crate::Len::value);
            match observe(statement, within) {
                Ok(observations) => {
                    observed.from.extend(observations.iter().map(|_| From::Statement(i)));
                    observed.observations.extend(observations);
                }
                Err(why) => observed.senseless.push((i, why)),
            }
        }
        observed
    }
}

impl Observed {
    /// All but what comes from these statements.
    pub(super) fn without_statements(&self, statements: &[usize]) -> Self {
        let kept = |from: &From| !matches!(from, From::Statement(i) if statements.contains(i));
        let each = self.observations.iter().zip(&self.from).filter(|(_, from)| kept(from));
        let (observations, from) = each.map(|(o, from)| (*o, *from)).unzip();
        Self {
            observations,
            from,
            senseless: self.senseless.clone(),
        }
    }
}

fn told(line: &Line) -> Option<Told> {
    match line {
        Line::Corners(from, to) => Some(Told::Distance(*from, *to)),
        Line::Off { corner, string } => Some(Told::Offset {
            corner: *corner,
            line: *string,
        }),
        Line::Along { .. } | Line::Across { .. } => None,
    }
}

/// Standard uncertainty of a reading: from its `+-`; else from how it was taken; else as the person set it for all;
/// else as it follows from the tape.
pub(crate) fn sigma(reading: &Reading, trust: &Trust) -> Length {
    /// Nobody tapes better, whatever was typed; and none at all would leave the adjustment nothing to weigh by.
    const LEAST: Length = Length::tenths_mm(1);
    match (reading.read.plus_minus(), reading.taken) {
        (None, Some(taken)) => taken.sigma(),
        _ => trust.sigma_of(&reading.read).max(LEAST),
    }
}

impl Taken {
    /// What it makes of the standard uncertainty: 1/32 in for a rule in the open, 1/8 in for a blind reach, 1/4 in by
    /// eye. Assumed; common practice, no source.
    pub(crate) const fn sigma(self) -> Length {
        Length::sixty_fourths(match self {
            Self::Rule => 2,
            Self::Blind => 8,
            Self::Eye => 16,
        })
    }
}

/// A statement as the adjustment takes it.
///
/// # Errors
///
/// What is wrong, when its lines cannot have it.
pub(crate) fn observe(statement: &Statement, within: Length) -> Result<Vec<Observation>, &'static str> {
    const NOT_CORNERS: &str = "a statement is about lines from corner to corner";
    if statement.lines.len() != statement.says.lines() {
        return Err("a statement of level or plumb is about one line, of parallel or square about two");
    }
    let lines: Option<Vec<survey::Line>> = statement.lines.iter().map(Line::of_survey).collect();
    let lines = lines.ok_or(NOT_CORNERS)?;
    match (statement.says, &lines[..]) {
        (Says::Level, [line]) => Ok(vec![Observation::level(*line, within)]),
        (Says::Plumb, [line]) if line.kind() == LineKind::Edge(Direction::Height) => {
            Ok(Observation::plumb(*line, within).to_vec())
        }
        (Says::Plumb, _) => Err("only a post, from a bottom corner to the top one over it, can be plumb"),
        (Says::Parallel, [edge, to]) => Observation::parallel(*edge, *to, within)
            .map(|both| both.to_vec())
            .ok_or("only two edges along the same direction can be parallel"),
        (Says::Square, [along, end]) => square(*along, *end, within)
            .map(|one| vec![one])
            .ok_or("only two edges that meet in a corner can be square"),
        _ => Err(NOT_CORNERS),
    }
}

fn square(along: survey::Line, end: survey::Line, within: Length) -> Option<Observation> {
    let (LineKind::Edge(first), LineKind::Edge(second)) = (along.kind(), end.kind()) else {
        return None;
    };
    let at = along.ends().into_iter().find(|corner| end.ends().contains(corner))?;
    Observation::square(at, first, second, within)
}
