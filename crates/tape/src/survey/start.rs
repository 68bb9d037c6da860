//! The square box that an adjustment starts from.

use nalgebra::{DMatrix, DVector};

use super::corner::{Corner, Direction, Line, LineKind};
use super::observation::{Corners, Observation};

/// A square box for a survey to start from: length, width and height in millimetres, each the mean of the edges read
/// in that direction.
///
/// A direction without an edge follows from the diagonals; one that nothing tells of gets the mean of the others.
pub fn start_box(observations: &[Observation]) -> [f64; 3] {
    let readings = || {
        let lines = observations
            .iter()
            .filter_map(|o| Some((o.told.line()?, o.value.as_mm())));
        lines.filter(|(_, value)| *value > 0.0)
    };
    let mut sides = Direction::ALL.map(|direction| {
        let edges = readings().filter(|(line, _)| line.kind() == LineKind::Edge(direction));
        mean(edges.map(|(_, value)| value))
    });
    if sides.contains(&None) {
        let diagonals: Vec<(Line, f64)> = readings().collect();
        sides = from_diagonals(sides, &diagonals);
    }
    let others = mean(sides.into_iter().flatten()).unwrap_or(1000.0);
    sides.map(|side| side.unwrap_or(others))
}

fn mean(values: impl Iterator<Item = f64>) -> Option<f64> {
    let (sum, count) = values.fold((0.0, 0.0), |(sum, count), value| (sum + value, count + 1.0));
    (count > 0.0).then(|| sum / count)
}

/// Fills in sides by least squares: the square of a line is the sum of the squares of the sides it spans.
fn from_diagonals(sides: [Option<f64>; 3], readings: &[(Line, f64)]) -> [Option<f64>; 3] {
    let unknown: Vec<usize> = (0..3).filter(|&i| sides[i].is_none()).collect();
    let mut rows = Vec::new();
    let mut squares = Vec::new();
    for (line, value) in readings {
        let [a, b] = line.ends();
        let spans = Direction::ALL.map(|direction| a.far(direction) != b.far(direction));
        let seen: Vec<f64> = unknown.iter().map(|&i| f64::from(u8::from(spans[i]))).collect();
        if seen.iter().any(|&part| part > 0.0) {
            let known = (0..3).filter(|&i| spans[i]).filter_map(|i| sides[i]);
            squares.push(value * value - known.map(|side| side * side).sum::<f64>());
            rows.extend(seen);
        }
    }
    let mut filled = sides;
    if squares.is_empty() {
        return filled;
    }
    let matrix = DMatrix::from_row_slice(squares.len(), unknown.len(), &rows);
    let least = readings
        .iter()
        .map(|(_, value)| value)
        .fold(f64::INFINITY, |a, b| a.min(*b))
        / 4.0;
    // Directions that are only told of together share alike; the pseudoinverse does that.
    let solved = matrix.clone().svd(true, true).solve(&DVector::from_vec(squares), 1e-9);
    if let Ok(found) = solved {
        for (column, &i) in unknown.iter().enumerate() {
            let told_of = matrix.column(column).iter().any(|&part| part > 0.0);
            filled[i] = told_of.then(|| found[column].max(least * least).sqrt());
        }
    }
    filled
}

/// The corners of a square box of these sides.
pub fn square_box(sides: [f64; 3]) -> Corners {
    Corner::ALL.map(|corner| Direction::ALL.map(|d| if corner.far(d) { sides[d.index()] } else { 0.0 }))
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;
    use crate::Length;

    fn read(from: usize, to: usize, mm: i64) -> Observation {
        Observation::distance(Corner::ALL[from], Corner::ALL[to], Length::mm(mm), Length::mm(1))
    }

    #[rstest]
    #[case::edges(&[read(0, 1, 1000), read(2, 3, 1010), read(0, 3, 400), read(0, 4, 300)], [1005.0, 400.0, 300.0])]
    #[case::a_repeat_counts(&[read(0, 1, 1000), read(0, 1, 1000), read(2, 3, 1030), read(0, 3, 400), read(0, 4, 300)], [1010.0, 400.0, 300.0])]
    // 300, 400, 500 is the right triangle that everyone knows.
    #[case::height_from_a_wall(&[read(0, 1, 400), read(0, 3, 200), read(0, 5, 500)], [400.0, 200.0, 300.0])]
    // Face diagonals of a box of 300, 400, 1200: 500, 1237 (rounded), 1265 (rounded).
    #[case::diagonals_alone(&[read(0, 2, 500), read(0, 5, 1237), read(0, 7, 1265)], [300.1, 400.0, 1200.0])]
    #[case::nothing_of_the_height(&[read(0, 1, 1000), read(0, 3, 400)], [1000.0, 400.0, 700.0])]
    fn the_box_follows_from_what_was_read(#[case] readings: &[Observation], #[case] expected: [f64; 3]) {
        let sides = start_box(readings);
        for (side, expected) in sides.into_iter().zip(expected) {
            assert!((side - expected).abs() < 0.6, "{sides:?}");
        }
    }

    #[test]
    fn a_diagonal_shorter_than_its_edge_still_gives_a_box() {
        let sides = start_box(&[read(0, 1, 400), read(0, 3, 200), read(0, 5, 390)]);
        assert!(sides[2] > 10.0, "{sides:?}");
    }
}
