//! Single figures for the sketch, in closed form.
//!
//! All are plane geometry; none looks at more than the edges it names.

use std::f64::consts::FRAC_PI_2;

use libm::{asin, atan2, cbrt, cos, hypot, sin};
use tape::Length;

use crate::OutOfRange;
use crate::out_of_range::within;

/// How many turns are looked at for the tightest.
const TURNS: u32 = 512;

/// The longest box round a corner, and the turn at which it is tightest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoundCorner {
    /// The longest that goes, rounded down.
    pub length: Length,
    /// The box's turn from the channel's direction where it is tightest.
    pub at_deg: f64,
}

/// The longest thin bar that goes from a shaft of width `a` into a channel of height `b` at right angles to it:
/// `(a^(2/3) + b^(2/3))^(3/2)`. Rounded down.
///
/// Source: the classical ladder problem.
///
/// # Errors
///
/// [`OutOfRange`] when a width is below zero.
pub fn bar_round_corner(shaft: Length, channel: Length) -> Result<Length, OutOfRange> {
    let [a, b] = [from_zero("shaft width", shaft)?, from_zero("channel height", channel)?].map(|v| {
        let root = cbrt(v);
        root * root
    });
    Ok(Length::from_mm_down((a + b) * (a + b).sqrt()))
}

/// The longest box of height `w` that goes from a shaft of width `a` into a channel of height `b` at right angles to it: the
/// least over `t` between 0 and 90 degrees of `(a cos t + b sin t - w) / (sin t cos t)`; for equal legs
/// `2 (a sqrt 2 - w)`.
///
/// Source: the line through the inner corner parallel to the edge that slides on the two outer walls.
///
/// # Errors
///
/// [`OutOfRange`] when a width is below zero, or the box does not fit both legs.
pub fn box_round_corner(shaft: Length, channel: Length, height: Length) -> Result<RoundCorner, OutOfRange> {
    let (a, b) = (from_zero("shaft width", shaft)?, from_zero("channel height", channel)?);
    let fix = "the box has to fit each leg: make it lower, or take it another way";
    let w = within("box height", height.as_mm(), 0.0, a.min(b), fix)?;
    let longest = |turn: f64| (a * cos(turn) + b * sin(turn) - w) / (sin(turn) * cos(turn));
    // The least of many turns, then between its neighbours by thirds.
    let turn = |n: u32| FRAC_PI_2 * f64::from(n) / f64::from(TURNS);
    let tightest = (1..TURNS).fold(1, |best, n| {
        if longest(turn(n)) < longest(turn(best)) {
            n
        } else {
            best
        }
    });
    let (mut low, mut high) = (turn(tightest - 1), turn(tightest + 1));
    for _ in 0..80 {
        let third = (high - low) / 3.0;
        if longest(low + third) < longest(high - third) {
            high -= third;
        } else {
            low += third;
        }
    }
    let at = f64::midpoint(low, high);
    Ok(RoundCorner {
        length: Length::from_mm_down(longest(at)),
        at_deg: at.to_degrees(),
    })
}

/// The thickest box that slides along its own axis through a slot of width `w` whose edges are `d` thick:
/// `w sin(turn) - d cos(turn)`, with `turn` between the travel and the plane of the opening. Rounded down; negative when
/// nothing goes.
///
/// Source: a parallel strip through a rectangular channel.
///
/// # Errors
///
/// [`OutOfRange`] when an extent is below zero or the turn is outside 0 to 90 degrees.
pub fn thick_slot(width: Length, depth: Length, turn_deg: f64) -> Result<Length, OutOfRange> {
    let fix = "give the angle between travel and opening, 90 when straight in";
    let turn = within("turn", turn_deg, 0.0, 90.0, fix)?.to_radians();
    let (w, d) = (from_zero("slot width", width)?, from_zero("slot depth", depth)?);
    Ok(Length::from_mm_down(w * sin(turn) - d * cos(turn)))
}

/// How far out of level a box may hang between two rails.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfLevel {
    /// The greatest turn, in degrees.
    pub turn_deg: f64,
    /// How much higher one lower corner is than the other then, rounded down.
    pub rise: Length,
}

/// How far out of level a box may hang while it goes down between two rails: a box `b` wide and `h` high needs
/// `b cos(turn) + h sin(turn)` of the clear width `s`, so `turn = asin(s / hypot(b, h)) - atan2(b, h)`. `None` when it may
/// hang any way.
///
/// Source: extent of a turned rectangle.
///
/// # Errors
///
/// [`OutOfRange`] when the box is wider than the gap, or an extent is below zero.
pub fn out_of_level(clear: Length, width: Length, height: Length) -> Result<Option<OutOfLevel>, OutOfRange> {
    let s = from_zero("clear width between the rails", clear)?;
    let fix = "make the box narrower than the gap";
    let b = within("box width", width.as_mm(), 0.0, s, fix)?;
    let h = from_zero("box height", height)?;
    if s >= hypot(b, h) {
        return Ok(None);
    }
    let turn = asin(s / hypot(b, h)) - atan2(b, h);
    Ok(Some(OutOfLevel {
        turn_deg: turn.to_degrees(),
        rise: Length::from_mm_down(b * sin(turn)),
    }))
}

/// A level box pushed obliquely between two edges.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Oblique {
    /// The gap between the edges, square to the travel, rounded down.
    pub gap: Length,
    /// What the box needs of it, rounded up.
    pub need: Length,
    /// The highest box of this length that goes, rounded down; negative when none does.
    pub most_height: Length,
}

/// A level box pushed between an upper edge `A` and a lower edge `B` without turning, towards smaller x and down by an
/// angle: with `d = (-cos, -sin)` the gap is `|(B - A) x d|`, and the box needs `L sin + H cos` of it.
///
/// Edges are (x, z).
///
/// Source: width of a rectangle seen along its travel.
///
/// # Errors
///
/// [`OutOfRange`] when the angle is outside 0 to 89 degrees or an extent is below zero.
pub fn oblique(
    upper: [Length; 2],
    lower: [Length; 2],
    length: Length,
    height: Length,
    down_deg: f64,
) -> Result<Oblique, OutOfRange> {
    let fix = "give degrees below level; upright is a straight way";
    let down = within("descent", down_deg, 0.0, 89.0, fix)?.to_radians();
    let (l, h) = (from_zero("box length", length)?, from_zero("box height", height)?);
    let (dx, dz) = ((lower[0] - upper[0]).as_mm(), (lower[1] - upper[1]).as_mm());
    let gap = (dx * -sin(down) - dz * -cos(down)).abs();
    Ok(Oblique {
        gap: Length::from_mm_down(gap),
        need: Length::from_mm_up(l * sin(down) + h * cos(down)),
        most_height: Length::from_mm_down((gap - l * sin(down)) / cos(down)),
    })
}

fn from_zero(field: &'static str, length: Length) -> Result<f64, OutOfRange> {
    let fix = "give it as it is taped";
    within(field, length.as_mm(), 0.0, f64::INFINITY, fix)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    #[test]
    fn a_box_without_height_is_a_bar() {
        for (a, b) in [(100.0, 100.0), (200.0, 690.0), (800.0, 300.0)] {
            let bar = bar_round_corner(mm(a), mm(b)).unwrap();
            let flat = box_round_corner(mm(a), mm(b), mm(0.0)).unwrap();
            assert!((bar - flat.length).abs() < Length::from_nm(100), "{bar:?} {flat:?}");
        }
    }

    #[test]
    fn equal_legs_have_a_plain_form() {
        let round = box_round_corner(mm(600.0), mm(600.0), mm(250.0)).unwrap();
        let plain = 2.0 * (600.0 * std::f64::consts::SQRT_2 - 250.0);
        assert!((round.length.as_mm() - plain).abs() < 1e-4);
        assert!((round.at_deg - 45.0).abs() < 1e-3);
    }

    #[test]
    fn the_least_is_the_least_of_many_turns() {
        for (a, b, w) in [(457.0, 762.0, 286.0), (300.0, 900.0, 299.0), (700.0, 500.0, 20.0)] {
            let round = box_round_corner(mm(a), mm(b), mm(w)).unwrap();
            let sampled = (1..100_000_u32)
                .map(|n| f64::from(n) * FRAC_PI_2 / 100_000.0)
                .map(|t| (a * cos(t) + b * sin(t) - w) / (sin(t) * cos(t)))
                .fold(f64::INFINITY, f64::min);
            assert!((round.length.as_mm() - sampled).abs() < 1e-3, "{round:?} {sampled}");
        }
    }

    #[test]
    fn at_the_greatest_turn_the_box_fills_the_gap() {
        let (s, b, h) = (520.0, 500.0, 230.0);
        let turn = out_of_level(mm(s), mm(b), mm(h))
            .unwrap()
            .unwrap()
            .turn_deg
            .to_radians();
        assert!((b * cos(turn) + h * sin(turn) - s).abs() < 1e-9);
        assert_eq!(out_of_level(mm(520.0), mm(100.0), mm(100.0)), Ok(None));
        assert!(out_of_level(mm(500.0), mm(501.0), mm(100.0)).is_err());
    }

    #[test]
    fn straight_in_only_the_gap_counts() {
        assert_eq!(thick_slot(mm(300.0), mm(80.0), 90.0).unwrap(), mm(300.0));
        let level = oblique([mm(0.0), mm(400.0)], [mm(900.0), mm(150.0)], mm(1000.0), mm(240.0), 0.0).unwrap();
        assert_eq!(
            (level.gap, level.need, level.most_height),
            (mm(250.0), mm(240.0), mm(250.0))
        );
    }
}
