//! The room that a turning outline sweeps, as rectangles and as keep-outs of a layout.

use std::num::NonZeroU32;

use tape::Length;

use super::{Outline, Turn};
use crate::plane::Turned;
use crate::{Cuboid, Point};

/// Where the hinge is, in the frame of the keep-outs: x rearward, y to the right, z up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hinge {
    /// Its axis along x.
    pub x: Length,
    /// Its axis' height.
    pub z: Length,
    /// From left to right, what turns.
    pub across: [Length; 2],
}

/// Rectangles that together hold all that an outline sweeps, one for each of `pieces` equal shares of the turn: the more, the
/// less is kept free needlessly. Each is the smallest round its share of the turn, rounded outward.
pub fn swept(outline: &Outline, turn: Turn, pieces: NonZeroU32) -> Vec<Outline> {
    let rect = outline.rect();
    let share = (turn.to - turn.from) / f64::from(pieces.get());
    let piece = |n: u32| {
        let middle = turn.from + share * (f64::from(n) + 0.5);
        let reach = Turned::about(&rect, middle, share / 2.0);
        let outward = |[low, high]: [f64; 2]| [Length::from_mm_down(low), Length::from_mm_up(high)];
        Outline {
            u: outward(reach.along),
            z: outward(reach.up),
        }
    };
    (0..pieces.get()).map(piece).collect()
}

/// The same as solids to keep free, in the frame of the hinge's place.
pub fn keep_outs(outline: &Outline, turn: Turn, pieces: NonZeroU32, hinge: &Hinge) -> Vec<Cuboid> {
    let solid = |outline: Outline| {
        let corner = |k: usize| Point([hinge.x - outline.u[k], hinge.across[k], hinge.z + outline.z[k]]);
        Cuboid::between(corner(0), corner(1))
    };
    swept(outline, turn, pieces).into_iter().map(solid).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_turn_is_within_its_piece() {
        let rib = Outline {
            u: [380, 400].map(Length::mm),
            z: [-300, -100].map(Length::mm),
        };
        let turn = Turn::between(0.0, 60.0).unwrap();
        let pieces = NonZeroU32::new(6).unwrap();
        let swept = swept(&rib, turn, pieces);
        for n in 0..=600_u32 {
            let at = f64::from(n) / 10.0;
            let reach = Turned::by(&rib.rect(), at.to_radians());
            let piece = swept[usize::try_from((n / 100).min(5)).unwrap()].rect();
            assert!(
                piece.along[0] <= reach.along[0] && reach.along[1] <= piece.along[1],
                "{at}"
            );
            assert!(piece.up[0] <= reach.up[0] && reach.up[1] <= piece.up[1], "{at}");
        }
        // The first reaches as far forward as the corner gets at 10 degrees; all together to the circle.
        let farthest = swept.iter().map(|piece| piece.u[1]).max().unwrap();
        assert!((farthest - Length::mm(500)).abs() < Length::from_nm(3));
    }

    #[test]
    fn forward_is_towards_smaller_x() {
        let floor = Outline {
            u: [0, 1000].map(Length::mm),
            z: [0, 50].map(Length::mm),
        };
        let hinge = Hinge {
            x: Length::mm(4000),
            z: Length::mm(700),
            across: [-800, 800].map(Length::mm),
        };
        let still = Turn::between(0.0, 0.0).unwrap();
        let solids = keep_outs(&floor, still, NonZeroU32::MIN, &hinge);
        let (lo, hi) = (solids[0].lo(), solids[0].hi());
        // A nanometre more all round at most, for rounding.
        for (got, want) in lo.0.into_iter().chain(hi.0).zip([3000, -800, 700, 4000, 800, 750]) {
            assert!((got - Length::mm(want)).abs() <= Length::from_nm(1), "{got:?} {want}");
        }
    }
}
