//! Made-up cavities and readings of them.

use tape::Length;
use tape::survey::{Corners, Line, Observation, square_box};

/// A seeded source of numbers. Source: split-mix of 64 bits, G. Steele, D. Lea and C. Flood (2014); known by: memory.
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Evenly between the two.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        let share = f64::from(u32::try_from(self.next() >> 32).expect("32 bits")) / f64::from(u32::MAX);
        low + share * (high - low)
    }

    pub(crate) fn below(&mut self, n: usize) -> usize {
        usize::try_from(self.next() % n as u64).expect("below n")
    }

    /// Standard normal, by Box and Muller.
    pub(crate) fn normal(&mut self) -> f64 {
        let radius = (-2.0 * self.between(1e-12, 1.0).ln()).sqrt();
        radius * self.between(0.0, std::f64::consts::TAU).cos()
    }
}

pub(crate) const INCH: f64 = 25.4;
pub(crate) const SIXTEENTH: Length = Length::sixty_fourths(4);

/// A cavity of 30 to 60 by 12 to 24 by 8 to 14 in, each corner up to 0.4 in off square in each direction.
pub(crate) fn cavity(dice: &mut Dice) -> Corners {
    skewed(0.4, dice)
}

/// The same with each corner up to `off_in` inches off.
pub(crate) fn skewed(off_in: f64, dice: &mut Dice) -> Corners {
    let sides = [(30.0, 60.0), (12.0, 24.0), (8.0, 14.0)];
    let mut corners = square_box(sides.map(|(low, high)| dice.between(low, high) * INCH));
    for part in corners.as_flattened_mut() {
        *part += dice.between(-off_in, off_in) * INCH;
    }
    corners
}

pub(crate) fn true_mm(corners: &Corners, line: Line) -> f64 {
    let [a, b] = line.ends().map(|corner| corners[corner.index()]);
    (0..3).map(|i| (a[i] - b[i]).powi(2)).sum::<f64>().sqrt()
}

pub(crate) fn read(line: Line, mm: f64, sigma: Length) -> Observation {
    let [from, to] = line.ends();
    Observation::distance(from, to, Length::from_mm(mm), sigma)
}

/// Readings of sigma 1/16 in along `lines`.
pub(crate) fn readings(corners: &Corners, lines: &[Line], dice: &mut Dice) -> Vec<Observation> {
    let noisy = |&line: &Line| {
        let mm = true_mm(corners, line) + dice.normal() * SIXTEENTH.as_mm();
        read(line, mm, SIXTEENTH)
    };
    lines.iter().map(noisy).collect()
}
