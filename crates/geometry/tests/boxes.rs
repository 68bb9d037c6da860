//! The two demo jobs with boxes, against figures worked out by hand.

mod common;

use common::{orchard, rescue};
use geometry::fit::{Answer, Budget, Layout, Request, Unwatched, check, fit};
use geometry::{Axis, Size};
use tape::Length;

fn answer(request: &Request) -> Answer {
    let answer = fit(request, Budget::default(), &mut Unwatched).expect("the request can be worked on");
    for layout in &answer.layouts {
        assert_eq!(check(request, layout), Ok(()));
    }
    answer
}

fn modules_in(layout: &Layout, index: usize) -> u32 {
    layout
        .placements
        .iter()
        .filter(|p| p.in_box == Some(index))
        .map(|p| p.count)
        .sum()
}

fn size_tenths(size: [i64; 3]) -> Size {
    Size(size.map(Length::tenths_mm))
}

#[test]
fn two_strings_of_five_crates_make_two_equal_boxes() {
    let answer = answer(&orchard());
    let best = &answer.layouts[0];
    assert_eq!((best.count, answer.upper_bound, answer.proved), (10, 10, true));
    assert_eq!((modules_in(best, 0), modules_in(best, 1)), (5, 5));
    for place in &best.boxes {
        // 5 x 142 + 4 x 2 + 2 x 3 + 170 + 2 x 4.5; 320 + 2 x 3 + 2 x 4.5; 212 + 32 + 4.5 + 6.
        assert_eq!(place.body.size(), size_tenths([9030, 3350, 2545]));
        assert!(place.bay.is_some_and(|bay| bay.axis() == Axis::X));
    }
    // Across: (425 - 335 - 2 x 25) / 2 - 12.7.
    assert_eq!(best.to_spare, Length::tenths_mm(73));
}

#[test]
fn two_strings_of_tiles_make_a_box_of_three_stacks_and_a_box_of_one() {
    let answer = answer(&rescue());
    let best = &answer.layouts[0];
    assert_eq!((best.count, answer.proved), (48, true));
    assert_eq!((modules_in(best, 0), modules_in(best, 1)), (36, 12));
    assert!(best.placements.iter().all(|p| p.count == 12));
    assert_eq!(best.boxes[0].body.size(), size_tenths([6070, 7230, 3185]));
    assert_eq!(best.boxes[1].body.size(), size_tenths([2470, 6070, 3185]));
    // Ahead of the axle: between brake line and bolt head (762 - 15.9 - 723 - 4) / 2 - 6.35 = 3.2.
    // Behind it: (276.2 - 247) / 2 - 6.35 = 8.25, more.
    assert_eq!(best.to_spare, Length::tenths_mm(32));
}
