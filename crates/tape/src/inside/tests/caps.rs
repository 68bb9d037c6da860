//! Spaces made no longer than readings between the corners leave.

use proptest::prelude::*;

use super::super::*;
use crate::Length;

const USABLE: Space = Space {
    lo: [Length::ZERO, Length::mm(3), Length::mm(-2)],
    hi: [Length::mm(1000), Length::mm(403), Length::mm(198)],
};

fn cap(axis: usize, mm: i64, sigma_tenths: i64) -> Cap {
    Cap {
        axis,
        value: Length::mm(mm),
        sigma: Length::tenths_mm(sigma_tenths),
    }
}

#[test]
fn the_smallest_reading_less_its_sigmas_sets_the_side_and_both_ends_give_alike() {
    // 396 less two of 1 mm are 394, below 395 less two of 0.1 mm.
    let caps = [cap(1, 396, 10), cap(1, 395, 1), cap(0, 1010, 10)];
    let left = capped(&USABLE, &caps, 2.0).unwrap();
    assert_eq!(left.size(), [1000, 394, 200].map(Length::mm));
    assert_eq!(left.lo, [0, 6, -2].map(Length::mm));
    // With nothing kept back it is the other one.
    assert_eq!(capped(&USABLE, &caps, 0.0).unwrap().size()[1], Length::mm(395));
    assert_eq!(capped(&USABLE, &[], 2.0), Ok(USABLE));
}

#[test]
fn a_cap_that_takes_it_all_leaves_nothing() {
    for value in [0, 1, -5] {
        let left = capped(&USABLE, &[cap(2, value, 10)], 2.0).unwrap();
        assert_eq!(left.size(), [Length::mm(1000), Length::mm(400), Length::ZERO]);
        assert_eq!(left.lo[2], Length::mm(98));
    }
}

#[test]
fn what_cannot_be_kept_back_is_refused() {
    for sigmas in [-1.0, f64::NAN, f64::INFINITY] {
        assert_eq!(capped(&USABLE, &[cap(0, 900, 1)], sigmas), Err(NoCuboid::NotKeptBack));
    }
    assert_eq!(capped(&USABLE, &[cap(0, 900, -1)], 1.0), Err(NoCuboid::NotKeptBack));
}

proptest! {
    #[test]
    fn a_capped_space_lies_inside_and_is_short_enough_by_no_more_than_a_nanometre(
        lo in -5_000_000..5_000_000_i64, size in 0..5_000_000_i64, value in -100_000..6_000_000_i64, sigma in 0..1000_i64,
    ) {
        let mut space = USABLE;
        (space.lo[0], space.hi[0]) = (Length::from_nm(lo), Length::from_nm(lo + size));
        let cap = Cap { axis: 0, value: Length::from_nm(value), sigma: Length::from_nm(sigma) };
        let left = capped(&space, &[cap], 2.0).unwrap();
        prop_assert!(left.lo[0] >= space.lo[0] && left.hi[0] <= space.hi[0]);
        let most = (value - 2 * sigma).clamp(0, size);
        let short = most - left.size()[0].nm();
        prop_assert!((0..=1).contains(&short), "{short}");
        // In the middle, unless nothing is left of an odd side.
        let off = (left.lo[0] - space.lo[0]) - (space.hi[0] - left.hi[0]);
        prop_assert!(off.abs().nm() <= i64::from(most == 0), "{off:?}");
    }
}
