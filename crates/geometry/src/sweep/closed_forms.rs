//! Single figures of a tilting bed, in closed form.
//!
//! Depths are below the hinge's axis, positive downward. All follow from turning a point or a line about the hinge
//! (plane geometry).

use libm::{acos, asin, atan2, cos, hypot, sin};
use tape::Length;

use crate::OutOfRange;
use crate::out_of_range::within;

/// How low a corner behind the hinge comes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TailDrop {
    /// Its greatest depth below the hinge's axis, to the nearest nanometre.
    pub lowest: Length,
    /// The turn at which that is.
    pub at_deg: f64,
    /// How much lower than at rest.
    pub drop: Length,
}

/// How low the tail swings: `depth = e cos(turn) + o sin(turn)`, greatest at `atan2(o, e)` with `hypot(o, e)`, or at the
/// end of the turn when that comes first.
///
/// - `overhang`: how far the corner is behind the hinge, `o`.
/// - `depth`: how far the corner is below the hinge's axis at rest, `e`.
/// - `turn_deg`: how far the bed tilts, 0 to 90.
///
/// # Errors
///
/// [`OutOfRange`] when `overhang` is below zero or the turn is outside its range.
pub fn tail_drop(overhang: Length, depth: Length, turn_deg: f64) -> Result<TailDrop, OutOfRange> {
    let turn = tilt(turn_deg)?;
    let behind = from_zero("overhang behind the hinge", overhang)?;
    let below = depth.as_mm();
    // A corner above the axis, at most a right angle away from the lowest point, still goes down all the time.
    let at = atan2(behind, below).min(turn).max(0.0);
    let lowest = below * cos(at) + behind * sin(at);
    Ok(TailDrop {
        lowest: Length::from_mm(lowest),
        at_deg: at.to_degrees(),
        drop: Length::from_mm(lowest - below),
    })
}

/// A hanging rib passing the rear top edge of a box in front of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RibPass {
    /// Radius of the circle that the rib's lower front corner moves on.
    pub radius: Length,
    /// The gap from the corner to the box's rear face at rest, along u.
    pub gap_at_rest: Length,
    /// The least distance over the whole turn; zero when they meet.
    pub least: Length,
    /// The turn at which that is.
    pub at_deg: f64,
    /// How far the corner goes forward beyond where it rests: `hypot(s, e) - s` when the turn gets that far.
    pub creep: Length,
}

/// How near a rib below the hinge's axis comes to a box that fills everything forward of its rear face and below its top.
/// A rib below the axis first moves *forward*.
///
/// - `forward`, `depth`: the rib's lower corner, forward of the hinge and below its axis.
/// - `face`: the box's rear face, forward of the hinge; at or ahead of the rib.
/// - `top`: the height of the box's top over the hinge's axis (negative below it).
/// - `turn_deg`: how far the bed tilts, 0 to 90.
///
/// # Errors
///
/// [`OutOfRange`] when the rib is not forward of and below the hinge, the box begins behind it, or the turn is outside its
/// range.
pub fn rib_pass(
    forward: Length,
    depth: Length,
    face: Length,
    top: Length,
    turn_deg: f64,
) -> Result<RibPass, OutOfRange> {
    let turn = tilt(turn_deg)?;
    let (s, e) = (
        from_zero("rib forward of the hinge", forward)?,
        from_zero("rib below the hinge", depth)?,
    );
    let fix = "give a box ahead of the rib, or look at the bed as a whole";
    let face = within("rear face of the box", face.as_mm(), s, f64::INFINITY, fix)?;
    let top = top.as_mm();
    let (radius, rest) = (hypot(s, e), atan2(-e, s));
    let distance = |turn: f64| {
        let (u, z) = (radius * cos(rest + turn), radius * sin(rest + turn));
        hypot((face - u).max(0.0), (z - top).max(0.0))
    };
    // Nearest at an end, where the corner is farthest forward, where it passes the edge, or at the height of the top.
    let edge = atan2(top, face) - rest;
    let level = if top.abs() <= radius {
        asin(top / radius) - rest
    } else {
        0.0
    };
    let (least, at) = [turn, -rest, edge, level]
        .into_iter()
        .filter(|at| (0.0..=turn).contains(at))
        .map(|at| (distance(at), at))
        .fold(
            (distance(0.0), 0.0),
            |best, next| if next.0 < best.0 { next } else { best },
        );
    Ok(RibPass {
        radius: Length::from_mm(radius),
        gap_at_rest: Length::from_mm(face - s),
        least: Length::from_mm_down(least),
        at_deg: at.to_degrees(),
        creep: Length::from_mm_up(radius * cos((rest + turn).min(0.0)) - s),
    })
}

/// The turn at which a flat underside meets a point fixed behind the hinge: with the gap square to the underside
/// `(e + g) cos(turn) - f sin(turn) - e`, contact is at `acos(e / hypot(e + g, f)) - atan2(f, e + g)`.
///
/// - `behind`: how far the point is behind the hinge, `f`. The bed has to reach past it.
/// - `gap`: how far the point is below the underside at rest, `g`.
/// - `depth`: how far the underside is below the hinge's axis, `e`.
///
/// In degrees.
///
/// # Errors
///
/// [`OutOfRange`] when `behind` or `gap` is not above zero, or `depth` is below zero.
pub fn underside_contact_deg(behind: Length, gap: Length, depth: Length) -> Result<f64, OutOfRange> {
    let (f, g, e) = underside(behind, gap, depth)?;
    Ok((acos(e / hypot(e + g, f)) - atan2(f, e + g)).to_degrees())
}

/// The gap from a flat underside to a point fixed behind the hinge at a turn, square to the underside; negative past
/// contact. The arguments are those of [`underside_contact_deg`]. Rounded down.
///
/// # Errors
///
/// As [`underside_contact_deg`], and a turn outside 0 to 90 degrees.
pub fn underside_gap(behind: Length, gap: Length, depth: Length, turn_deg: f64) -> Result<Length, OutOfRange> {
    let (f, g, e) = underside(behind, gap, depth)?;
    let turn = tilt(turn_deg)?;
    Ok(Length::from_mm_down((e + g) * cos(turn) - f * sin(turn) - e))
}

fn underside(behind: Length, gap: Length, depth: Length) -> Result<(f64, f64, f64), OutOfRange> {
    Ok((
        from_zero("distance behind the hinge", behind)?,
        from_zero("gap at rest", gap)?,
        from_zero("underside below the hinge", depth)?,
    ))
}

/// The height of the bed's underside over the hinge's axis, at a distance forward of the hinge:
/// `(s sin(turn) - e) / cos(turn)`. Rounded down.
///
/// # Errors
///
/// [`OutOfRange`] for a turn outside 0 to 89 degrees, or a place behind the hinge.
pub fn headroom(forward: Length, depth: Length, turn_deg: f64) -> Result<Length, OutOfRange> {
    let turn = within("tilt", turn_deg, 0.0, 89.0, "give degrees of tilt below upright")?.to_radians();
    let s = from_zero("distance forward of the hinge", forward)?;
    Ok(Length::from_mm_down((s * sin(turn) - depth.as_mm()) / cos(turn)))
}

/// The least tilt, in degrees, at which the underside clears a height over the hinge's axis at a distance forward of it:
/// from `s sin(turn) - z cos(turn) >= e`, `turn = atan2(z, s) + asin(e / hypot(s, z))`. Zero when it clears at rest.
///
/// # Errors
///
/// [`OutOfRange`] when the place is behind the hinge, or so close that the underside never gets there.
pub fn least_tilt_deg(forward: Length, depth: Length, clear: Length) -> Result<f64, OutOfRange> {
    let s = from_zero("distance forward of the hinge", forward)?;
    let (e, z) = (depth.as_mm(), clear.as_mm());
    let far = hypot(s, z);
    let fix = "the underside passes closer to the hinge than that; move the box forward";
    within("underside below the hinge", e, -far, far, fix)?;
    Ok((atan2(z, s) + asin(e / far)).to_degrees().max(0.0))
}

fn tilt(turn_deg: f64) -> Result<f64, OutOfRange> {
    within(
        "tilt",
        turn_deg,
        0.0,
        90.0,
        "give degrees of tilt from level to upright",
    )
    .map(f64::to_radians)
}

fn from_zero(field: &'static str, length: Length) -> Result<f64, OutOfRange> {
    let fix = "measure in the direction that the name says";
    within(field, length.as_mm(), 0.0, f64::INFINITY, fix)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    #[test]
    fn a_tail_at_the_height_of_the_axis_drops_by_its_overhang() {
        let down = tail_drop(mm(300.0), mm(0.0), 90.0).unwrap();
        assert_eq!((down.lowest, down.drop), (mm(300.0), mm(300.0)));
        assert!((down.at_deg - 90.0).abs() < 1e-9);
        // 3-4-5: passes its lowest point on the way.
        let down = tail_drop(mm(40.0), mm(30.0), 90.0).unwrap();
        assert_eq!((down.lowest, down.drop), (mm(50.0), mm(20.0)));
    }

    #[test]
    fn half_an_inch_can_vanish() {
        // 3-4-5: the corner 400 forward and 300 down creeps 100 forward.
        let pass = |face: f64| rib_pass(mm(400.0), mm(300.0), mm(face), mm(500.0), 60.0).unwrap();
        assert_eq!(pass(510.0).creep, mm(100.0));
        assert!((pass(510.0).least - mm(10.0)).abs() <= Length::from_nm(2));
        assert_eq!(pass(490.0).least, Length::ZERO);
    }

    #[test]
    fn the_gap_is_gone_at_contact() {
        let (f, g, e) = (mm(230.0), mm(30.0), mm(50.0));
        let at = underside_contact_deg(f, g, e).unwrap();
        assert!(underside_gap(f, g, e, at).unwrap().abs() < Length::from_nm(3));
        assert_eq!(underside_gap(f, g, e, 0.0).unwrap(), g);
    }

    #[test]
    fn the_least_tilt_gives_the_headroom() {
        let (s, e, z) = (mm(760.0), mm(50.0), mm(450.0));
        let tilt = least_tilt_deg(s, e, z).unwrap();
        assert!((headroom(s, e, tilt).unwrap() - z).abs() < Length::from_nm(3));
        assert!(least_tilt_deg(mm(10.0), mm(50.0), mm(20.0)).is_err());
    }

    #[test]
    fn a_tilt_past_upright_is_refused() {
        let refused = tail_drop(mm(1.0), mm(1.0), 91.0).unwrap_err();
        assert_eq!(
            refused.to_string(),
            "tilt: 91 is outside 0 to 90; give degrees of tilt from level to upright"
        );
    }
}
