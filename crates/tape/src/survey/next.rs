//! What to tape next.
//!
//! While the shape is not determined: the readings that hold it. When it is: the reading that makes a figure better
//! known, or that tells which of several readings is to blame.

use nalgebra::{DMatrix, DVector};

use super::adjust::Adjustment;
use super::corner::Line;
use super::observation::{Corners, Observation, Told, distance};
use super::solve::NO_CHECK;
use super::start::{square_box, start_box};
use super::strength::{Strength, open_ways, singular_values, strength};
use crate::Length;

/// Lines that hold the shape when they are read too.
#[derive(Clone, Debug, PartialEq)]
pub struct Repair {
    /// The lines to read, in walking order.
    pub lines: Vec<Line>,
    /// How firmly the shape is held then.
    pub strength: Strength,
}

/// What a reading would do for a figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gain {
    /// The line to read, for the first time or again.
    pub line: Line,
    /// Standard uncertainty of the figure with it, in the unit of the figure.
    pub sigma: f64,
}

/// Most lines that are sought at once to hold a shape; with more missing they are named one after another.
const TOGETHER: usize = 3;

/// As many of the likeliest sets as are looked at closely.
const CLOSELY: usize = 12;

/// Returns how firmly a shape is held when these lines are read too.
pub fn effect(told: &[Told], lines: &[Line], corners: &Corners) -> Strength {
    let mut told = told.to_vec();
    told.extend(lines.iter().map(|line| reading(*line)));
    strength(&told, corners)
}

/// Returns all sets of `count` lines among `candidates` that make a sound survey of what was told: held at each of
/// `shapes`, and firmly at the first of them. The firmest set comes first.
pub fn repairs(told: &[Told], candidates: &[Line], count: usize, shapes: &[Corners]) -> Vec<Repair> {
    let Some((first, others)) = shapes.split_first() else {
        return Vec::new();
    };
    let sets = likely(told, candidates, count, first)
        .into_iter()
        .map(|(_, lines)| lines);
    let mut found: Vec<Repair> = sets
        .filter_map(|lines| {
            let strength = effect(told, &lines, first);
            let held = others.iter().all(|shape| !effect(told, &lines, shape).is_short());
            (strength.is_sound() && held).then_some(Repair { lines, strength })
        })
        .collect();
    found.sort_by(|a, b| b.strength.smallest.total_cmp(&a.strength.smallest));
    found
}

/// Returns the fewest lines among `candidates` that make a sound survey of these readings, judged at the square box
/// that they suggest; empty when it is sound already or nothing among the candidates helps.
///
/// With one to three ways open the firmest set is sought; with more, each line is the one that helps most after
/// those before it. `candidates` are the lines that can be reached, in the order in which they are preferred.
pub fn what_fixes(observations: &[Observation], candidates: &[Line]) -> Vec<Line> {
    let told: Vec<Told> = observations.iter().map(|o| o.told).collect();
    let corners = square_box(start_box(observations));
    let now = strength(&told, &corners);
    let open = now.wanted - now.held;
    if now.is_sound() {
        return Vec::new();
    }
    if open > TOGETHER {
        return one_after_another(&told, candidates, &corners, open);
    }
    for count in open.max(1)..=TOGETHER {
        let sets = likely(&told, candidates, count, &corners);
        // With nothing open no set is likelier than another.
        let closely = if open == 0 { sets.len() } else { CLOSELY };
        let mut best: Option<Repair> = None;
        for (_, lines) in sets.into_iter().take(closely) {
            let strength = effect(&told, &lines, &corners);
            if strength.is_sound()
                && best
                    .as_ref()
                    .is_none_or(|b| strength.smallest > b.strength.smallest + 1e-9)
            {
                best = Some(Repair { lines, strength });
            }
        }
        if let Some(best) = best {
            return best.lines;
        }
    }
    Vec::new()
}

/// Returns what reading each of the 28 lines (again) would do for a figure that changes by `slopes` with the corners;
/// the line that helps most first. A reading is taken to have `sigma`.
///
/// The figure must not depend on where the axes sit.
pub fn gains(adjustment: &Adjustment, slopes: &Corners, sigma: Length) -> Vec<Gain> {
    let covariance = adjustment.covariance_matrix();
    let figure = DVector::from_column_slice(slopes.as_flattened());
    let spread = covariance * &figure;
    let before = figure.dot(&spread);
    let mut gains = Line::all().map(|line| {
        let row = row_of(line, &adjustment.corners);
        let noise = sigma.as_mm().powi(2) + row.dot(&(covariance * &row));
        let after = before - row.dot(&spread).powi(2) / noise;
        Gain {
            line,
            sigma: after.max(0.0).sqrt(),
        }
    });
    gains.sort_by(|a, b| a.sigma.total_cmp(&b.sigma));
    gains.to_vec()
}

/// Returns the line whose reading best tells which of the `tied` readings is to blame; `None` when none does, or fewer
/// than two are tied. A reading is taken to have `sigma`.
pub fn telling_apart(
    observations: &[Observation],
    adjustment: &Adjustment,
    tied: &[usize],
    sigma: Length,
) -> Option<Line> {
    let covariance = adjustment.covariance_matrix();
    let rows: Vec<DVector<f64>> = tied
        .iter()
        .map(|&i| {
            let (_, slopes) = observations[i].told.at(&adjustment.corners);
            DVector::from_column_slice(&slopes) / observations[i].sigma.as_mm()
        })
        .collect();
    let residuals = DMatrix::from_fn(rows.len(), rows.len(), |i, j| {
        f64::from(u8::from(i == j)) - rows[i].dot(&(covariance * &rows[j]))
    });
    let mut best: Option<(f64, Line)> = None;
    for line in Line::all() {
        let row = row_of(line, &adjustment.corners);
        let spread = covariance * &row;
        let noise = sigma.as_mm().powi(2) + row.dot(&spread);
        let seen = DVector::from_iterator(rows.len(), rows.iter().map(|of| of.dot(&spread)));
        // With the new reading the shape follows the old ones less, and they can be told apart better.
        let with = &residuals + &seen * seen.transpose() / noise;
        let tied = tied_together(&with);
        if best.is_none_or(|(least, _)| tied < least - 1e-9) {
            best = Some((tied, line));
        }
    }
    best.filter(|(tied, _)| *tied < 1.0 - 1e-3).map(|(_, line)| line)
}

/// The mean correlation, without its sign, of all pairs of residuals with this covariance; 1 without pairs.
///
/// The mean and not the largest: one reading more can hardly part all of a dozen from each other.
fn tied_together(residuals: &DMatrix<f64>) -> f64 {
    let (mut sum, mut pairs) = (0.0, 0.0);
    for i in 0..residuals.nrows() {
        for j in 0..i {
            let own = residuals[(i, i)] * residuals[(j, j)];
            if residuals[(i, i)] >= NO_CHECK && residuals[(j, j)] >= NO_CHECK {
                sum += residuals[(i, j)].abs() / own.sqrt();
                pairs += 1.0;
            }
        }
    }
    if pairs > 0.0 { sum / pairs } else { 1.0 }
}

/// Greedy: each line is the one that shuts most of what is still open.
fn one_after_another(told: &[Told], candidates: &[Line], corners: &Corners, open: usize) -> Vec<Line> {
    let ways = open_ways(told, corners);
    let mut rows: Vec<(Line, DVector<f64>)> = candidates
        .iter()
        .map(|&line| (line, ways.tr_mul(&row_of(line, corners))))
        .collect();
    let mut lines = Vec::new();
    while lines.len() < open {
        let mut best: Option<(usize, f64)> = None;
        for (index, (_, row)) in rows.iter().enumerate() {
            if row.norm() > best.map_or(1e-6, |(_, most)| most + 1e-9) {
                best = Some((index, row.norm()));
            }
        }
        let Some((index, _)) = best else { break };
        let (line, row) = rows.remove(index);
        lines.push(line);
        let shut = row.normalize();
        for (_, row) in &mut rows {
            *row -= &shut * shut.dot(row);
        }
    }
    lines
}

/// Sets of `count` unread lines that shut everything open at these corners, those that shut it most firmly first; all
/// sets when nothing is open.
fn likely(told: &[Told], candidates: &[Line], count: usize, corners: &Corners) -> Vec<(f64, Vec<Line>)> {
    let unread: Vec<Line> = candidates
        .iter()
        .copied()
        .filter(|&line| !told.iter().any(|told| told.line() == Some(line)))
        .collect();
    let ways = open_ways(told, corners);
    let rows: Vec<DVector<f64>> = unread.iter().map(|&line| ways.tr_mul(&row_of(line, corners))).collect();
    let now = strength(told, corners);
    let open = now.wanted - now.held;
    let mut sets: Vec<(f64, Vec<Line>)> = subsets(unread.len(), count)
        .into_iter()
        .filter_map(|set| {
            let columns: Vec<DVector<f64>> = set.iter().map(|&i| rows[i].clone()).collect();
            let firmness = firmness(&columns, open);
            (open == 0 || firmness > 1e-7).then(|| (firmness, set.iter().map(|&i| unread[i]).collect()))
        })
        .collect();
    sets.sort_by(|(a, _), (b, _)| b.total_cmp(a));
    sets
}

/// The singular value number `open` of these columns; 0 when there are fewer.
fn firmness(columns: &[DVector<f64>], open: usize) -> f64 {
    if open == 0 || columns.len() < open {
        return 0.0;
    }
    let values = singular_values(DMatrix::from_columns(columns));
    values.get(open - 1).copied().unwrap_or(0.0)
}

/// All sets of `count` of the numbers below `of`, in order.
fn subsets(of: usize, count: usize) -> Vec<Vec<usize>> {
    let mut sets: Vec<Vec<usize>> = vec![Vec::new()];
    for _ in 0..count {
        sets = sets
            .into_iter()
            .flat_map(|set| {
                let next = set.last().map_or(0, |last| last + 1);
                (next..of).map(move |more| [set.clone(), vec![more]].concat())
            })
            .collect();
    }
    sets
}

fn reading(line: Line) -> Told {
    let [from, to] = line.ends();
    Told::Distance(from, to)
}

/// Slopes of the length of a line.
fn row_of(line: Line, corners: &Corners) -> DVector<f64> {
    let [from, to] = line.ends();
    let (_, slopes) = distance(corners, from.index(), to.index());
    DVector::from_column_slice(&slopes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn from_nothing_the_lines_named_hold_the_shape() {
        let named = what_fixes(&[], &Line::all());
        assert_eq!(named.len(), 18);
        let told: Vec<Told> = named.iter().map(|line| reading(*line)).collect();
        let corners = square_box([1000.0, 400.0, 250.0]);
        assert!(!strength(&told, &corners).is_short());
    }

    #[test]
    fn only_lines_that_can_be_reached_are_named() {
        // Nothing across the roof, as under a bed that stays on: rim, cross and what ends up there.
        let all = Line::all();
        let reached: Vec<Line> = all[..18].to_vec();
        assert!(what_fixes(&[], &reached).iter().all(|line| reached.contains(line)));
    }

    #[test]
    fn one_short_reading_is_named_alone() {
        // The usual 24 without anything that holds the floor square but one cross, then that one out too.
        let corners = square_box([1000.0, 400.0, 250.0]);
        let read = |line: &Line| {
            let [from, to] = line.ends();
            let (mm, _) = distance(&corners, from.index(), to.index());
            Observation::distance(from, to, Length::from_mm(mm), Length::mm(1))
        };
        // 12 edges and a diagonal in all faces but the roof.
        let crosses = ["FLB to RRB", "FLB to RLT", "RLB to RRT", "RRB to FRT", "FRB to FLT"];
        let edge = |line: &Line| matches!(line.kind(), super::super::LineKind::Edge(_));
        let kept = Line::all()
            .into_iter()
            .filter(|line| edge(line) || crosses.contains(&line.to_string().as_str()));
        let survey: Vec<Observation> = kept.map(|line| read(&line)).collect();
        assert_eq!(survey.len(), 17);
        let named = what_fixes(&survey, &Line::all());
        let [line] = named[..] else { panic!("{named:?}") };
        assert!(
            ["FLT to RRT", "RLT to FRT"].contains(&line.to_string().as_str()),
            "{line}"
        );
        // Where the roof cannot be crossed, a line through the middle does it too.
        let through = &Line::all()[24..];
        assert_eq!(what_fixes(&survey, through).len(), 1);
        // And nothing does where nothing can be reached.
        assert_eq!(what_fixes(&survey, &[]), []);
    }
}
