//! A surveyed cavity from one side: its shape against the square one, with what was read on the lines.

use job::{Evaluation, Id, Survey, Used};
use tape::survey::{Corner, Direction as Along, Line, LineKind};

use crate::{Direction, Side};

/// A cavity as its readings tell it, seen from a side.
///
/// Places are in mm, `u` to the right of the sheet and `v` down, from the front-left-bottom corner of the square shape.
#[derive(Clone, Debug, PartialEq)]
pub struct SurveyView {
    /// From which side.
    pub side: Side,
    /// The corners if the cavity were square, in the order of [`Corner::ALL`].
    pub square: [[f64; 2]; 8],
    /// The corners as surveyed, with what is not square drawn `factor` times as large; `None` without a shape.
    pub shape: Option<[[f64; 2]; 8]>,
    /// How many times too crooked the shape is drawn.
    pub factor: u32,
    /// The four edges of the face on this side of the cavity (the floor in a plan), left, right, top, bottom of the sheet.
    pub edges: [EdgeView; 4],
}

/// An edge with what was read along it.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgeView {
    /// Which line.
    pub line: Line,
    /// What was read, the readings after each other; empty when nothing was.
    pub read: String,
    /// Whether one of them looks wrong.
    pub is_suspect: bool,
}

/// The share of the smallest side that the largest deviation is drawn as.
const SHOWN_AS: f64 = 0.12;
/// More would show nothing but the noise of the tape.
const MOST_FACTOR: f64 = 40.0;

/// The view of a cavity from a side; `None` when there is no such cavity.
pub fn survey_view(evaluation: &Evaluation, cavity: Id, side: Side) -> Option<SurveyView> {
    let cavity = evaluation.cavity(cavity)?;
    let survey = &cavity.survey;
    let extents = match (&survey.shape, cavity.space) {
        (Some(shape), _) => shape.adjustment.start,
        (None, Some(space)) => space.size().0.map(tape::Length::as_mm),
        // Nothing is known of its extents yet: any hollow shows which line is meant.
        (None, None) => [1000.0, 420.0, 300.0],
    };
    let square = Corner::ALL.map(|corner| {
        std::array::from_fn(|axis| {
            if corner.far(Along::ALL[axis]) {
                extents[axis]
            } else {
                0.0
            }
        })
    });
    let deviations = survey.shape.as_ref().map(|shape| {
        let corners = shape.corners();
        std::array::from_fn::<[f64; 3], 8, _>(|n| std::array::from_fn(|axis| corners[n][axis] - square[n][axis]))
    });
    let factor = deviations.as_ref().map_or(1.0, |d| factor(d, extents));
    let shape = deviations.map(|d| {
        let drawn = std::array::from_fn::<[f64; 3], 8, _>(|n| {
            std::array::from_fn(|axis| square[n][axis] + factor * d[n][axis])
        });
        drawn.map(|corner| on_sheet(side, corner))
    });
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "1 to 40, and whole"
    )]
    let factor = factor as u32;
    Some(SurveyView {
        side,
        square: square.map(|corner| on_sheet(side, corner)),
        shape,
        factor,
        edges: edges(side).map(|line| edge(survey, line)),
    })
}

/// A whole number of times that makes the largest deviation plain to see.
fn factor(deviations: &[[f64; 3]; 8], size: [f64; 3]) -> f64 {
    let most = deviations.iter().flatten().fold(0.0_f64, |most, d| most.max(d.abs()));
    let smallest = size.into_iter().fold(f64::INFINITY, f64::min);
    if most > 0.0 {
        (SHOWN_AS * smallest / most).floor().clamp(1.0, MOST_FACTOR)
    } else {
        1.0
    }
}

fn on_sheet(side: Side, corner: [f64; 3]) -> [f64; 2] {
    let along = |direction| corner[side.axis(direction).index()];
    [along(Direction::U), -along(Direction::V)]
}

/// The edges of the face on the viewer's side, left, right, top, bottom of the sheet; in a plan those of the floor, which
/// are taped first.
fn edges(side: Side) -> [Line; 4] {
    let (u, v) = (side.axis(Direction::U).index(), side.axis(Direction::V).index());
    let depth = 3 - u - v;
    // Floor, left wall; the rear wall is the far one.
    let near_is_far_end = side == Side::FromRear;
    let corner = |at_u: bool, at_v: bool| {
        Corner::ALL.into_iter().find(|corner| {
            corner.far(Along::ALL[u]) == at_u
                && corner.far(Along::ALL[v]) == at_v
                && corner.far(Along::ALL[depth]) == near_is_far_end
        })
    };
    let between = |a: (bool, bool), b: (bool, bool)| {
        let line = corner(a.0, a.1)
            .zip(corner(b.0, b.1))
            .and_then(|(a, b)| Line::new(a, b));
        line.unwrap_or(Line::all()[0])
    };
    [
        between((false, false), (false, true)),
        between((true, false), (true, true)),
        between((false, true), (true, true)),
        between((false, false), (true, false)),
    ]
}

fn edge(survey: &Survey, line: Line) -> EdgeView {
    let readings = survey
        .readings
        .iter()
        .filter(|r| r.line.of_survey() == Some(line) && r.used != Used::LeftOut);
    let texts: Vec<&str> = readings.clone().map(|r| r.read.text()).collect();
    EdgeView {
        line,
        read: texts.join(", "),
        is_suspect: readings.clone().any(|r| r.suspect.is_some()),
    }
}

impl SurveyView {
    /// The 12 edges, as pairs of places in [`Corner::ALL`].
    pub fn strokes() -> Vec<[usize; 2]> {
        let edges = Line::all()
            .into_iter()
            .filter(|line| matches!(line.kind(), LineKind::Edge(_)));
        edges.map(|line| line.ends().map(Corner::index)).collect()
    }

    /// The smallest and the largest `u` and `v` of all that is drawn.
    pub fn bounds(&self) -> [[f64; 2]; 2] {
        let all = || self.square.iter().chain(self.shape.iter().flatten());
        let least = |i: usize| all().map(|p| p[i]).fold(f64::INFINITY, f64::min);
        let most = |i: usize| all().map(|p| p[i]).fold(f64::NEG_INFINITY, f64::max);
        [[least(0), least(1)], [most(0), most(1)]]
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    fn view(side: Side) -> SurveyView {
        let job = job::load(job::example("orchard-flatbed").unwrap().text.as_bytes()).unwrap();
        survey_view(&job::evaluate(&job), job.cavities[0].id, side).unwrap()
    }

    #[rstest]
    #[case::plan(Side::Plan, ["FLB to FRB", "RLB to RRB", "RRB to FRB", "FLB to RLB"])]
    #[case::left(Side::FromLeft, ["FLB to FLT", "RLB to RLT", "FLT to RLT", "FLB to RLB"])]
    #[case::rear(Side::FromRear, ["RLB to RLT", "RRB to RRT", "RLT to RRT", "RLB to RRB"])]
    fn the_edges_stand_where_they_are_looked_for(#[case] side: Side, #[case] lines: [&str; 4]) {
        let view = view(side);
        assert_eq!(view.edges.each_ref().map(|edge| edge.line.to_string()), lines);
    }

    #[test]
    fn the_deviation_is_drawn_larger_by_the_factor_told() {
        let job = job::load(job::example("orchard-flatbed").unwrap().text.as_bytes()).unwrap();
        let evaluation = job::evaluate(&job);
        let view = survey_view(&evaluation, job.cavities[0].id, Side::Plan).unwrap();
        let shape = evaluation.cavities[0].survey.shape.as_ref().unwrap();
        let (true_corner, drawn) = (shape.corners()[2], view.shape.unwrap()[2]);
        let square = view.square[2];
        let expected = square[0] + f64::from(view.factor) * (true_corner[0] - square[0]);
        assert!((drawn[0] - expected).abs() < 1e-9);
        assert!(view.factor > 1, "half an inch in a saddle would not be seen");
        assert_eq!(view.edges[3].read, "51\"");
    }
}
