//! Readings that cannot all be true, whatever the shape: three lines that make no triangle.

use std::fmt;

use super::chance::SUSPECT;
use super::corner::{Corner, Line};
use super::observation::Observation;

/// Three lines between three corners of which one is longer than the other two together.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenTriangle {
    /// The line that is too long.
    pub long: Line,
    /// The two that are too short for it.
    pub short: [Line; 2],
    /// By how much it cannot close, in millimetres.
    pub gap_mm: f64,
    /// The readings of the three lines, by index.
    pub readings: Vec<usize>,
}

impl fmt::Display for OpenTriangle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self {
            long, short: [a, b], ..
        } = self;
        write!(
            f,
            "{long} is longer than {a} and {b} together: one of the three is wrong; tape them again"
        )
    }
}

/// What was read along one line, together.
struct Read {
    line: Line,
    mm: f64,
    variance: f64,
    readings: Vec<usize>,
}

/// Returns the triangles that cannot close: by more than the sigmas of their readings explain.
pub fn open_triangles(observations: &[Observation]) -> Vec<OpenTriangle> {
    let read: Vec<Read> = Line::all()
        .into_iter()
        .filter_map(|line| read(line, observations))
        .collect();
    let of = |a: Corner, b: Corner| {
        let line = Line::new(a, b)?;
        read.iter().find(|read| read.line == line)
    };
    let mut open = Vec::new();
    for i in 0..8 {
        for j in i + 1..8 {
            for k in j + 1..8 {
                let [a, b, c] = [i, j, k].map(|index| Corner::ALL[index]);
                if let (Some(ab), Some(bc), Some(ca)) = (of(a, b), of(b, c), of(c, a)) {
                    open.extend(gap([ab, bc, ca]));
                }
            }
        }
    }
    open
}

fn gap(mut sides: [&Read; 3]) -> Option<OpenTriangle> {
    sides.sort_by(|a, b| b.mm.total_cmp(&a.mm));
    let [long, a, b] = sides;
    let gap_mm = long.mm - a.mm - b.mm;
    let noise = (long.variance + a.variance + b.variance).sqrt();
    (gap_mm > SUSPECT * noise).then(|| {
        let mut readings: Vec<usize> = sides.iter().flat_map(|side| side.readings.iter().copied()).collect();
        readings.sort_unstable();
        OpenTriangle {
            long: long.line,
            short: [a.line, b.line],
            gap_mm,
            readings,
        }
    })
}

/// The weighted mean of the readings of one line; `None` when there are none.
fn read(line: Line, observations: &[Observation]) -> Option<Read> {
    let (mut sum, mut weight, mut readings) = (0.0, 0.0, Vec::new());
    for (index, observation) in observations.iter().enumerate() {
        if observation.told.line() == Some(line) {
            let own = observation.sigma.as_mm().powi(-2);
            sum += own * observation.value.as_mm();
            weight += own;
            readings.push(index);
        }
    }
    (!readings.is_empty()).then(|| Read {
        line,
        mm: sum / weight,
        variance: 1.0 / weight,
        readings,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Length;

    fn read(from: usize, to: usize, mm: i64) -> Observation {
        Observation::distance(Corner::ALL[from], Corner::ALL[to], Length::mm(mm), Length::mm(1))
    }

    #[test]
    fn a_line_longer_than_the_way_round_names_its_readings() {
        let readings = [read(0, 1, 400), read(4, 5, 390), read(1, 2, 300), read(2, 0, 900)];
        let open = open_triangles(&readings);
        assert_eq!(open.len(), 1);
        assert_eq!(open[0].readings, [0, 2, 3]);
        assert_eq!(open[0].long.to_string(), "FLB to RRB");
        assert!((open[0].gap_mm - 200.0).abs() < 1e-9);
    }

    #[test]
    fn what_the_sigmas_explain_is_no_contradiction() {
        // Three sigmas of 1 mm make 1.7 mm together; 3.29 times that is 5.7 mm.
        let by = |mm: i64| open_triangles(&[read(0, 1, 400), read(1, 2, 300), read(2, 0, 700 + mm)]);
        assert!(by(5).is_empty());
        assert_eq!(by(6).len(), 1);
    }
}
