use rstest::rstest;

use super::*;
use crate::fit::{BoxPlace, Cavity, Kind, Placement, Wanted};
use crate::{Cuboid, Faces, Point, Size};

/// Strings of six in cavities of a metre.
fn request() -> Request {
    let cavity = |long| Cavity {
        space: Cuboid::at(
            Point::ZERO,
            Size([Length::mm(long), Length::mm(1000), Length::mm(1000)]),
        ),
        wall_margin: Faces::default(),
        keep_outs: vec![],
    };
    Request {
        cavities: vec![cavity(1000), cavity(1000), cavity(2000)],
        kinds: vec![Kind {
            size: Size([Length::mm(100), Length::mm(60), Length::mm(40)]),
            orientations: Orientation::all(),
            service: Faces::default(),
            on_hand: None,
            mass_g: 1000,
            stack: None,
        }],
        gap: Length::ZERO,
        boxes: None,
        wanted: Wanted::Strings {
            kind: 0,
            series: vec![6],
            parallel: 4,
        },
        pinned: Vec::new(),
    }
}

/// A box: its cavity, how many modules along, across and up, and where.
type Grid = (usize, [i64; 3], [i64; 3]);

/// Upright modules in boxes that fit them closely.
fn layout(boxes: &[Grid], spare_mm: i64) -> Layout {
    let mut layout = Layout {
        to_spare: Length::mm(spare_mm),
        ..Layout::default()
    };
    for (index, &(cavity, [long, wide, high], [x, y, z])) in boxes.iter().enumerate() {
        let body = Cuboid::at(
            Point([x, y, z].map(Length::mm)),
            Size([Length::mm(100 * long), Length::mm(60 * wide), Length::mm(40 * high)]),
        );
        layout.boxes.push(BoxPlace {
            cavity,
            body,
            inside: body,
            bay: None,
        });
        for (i, j, k) in (0..long).flat_map(|i| (0..wide).flat_map(move |j| (0..high).map(move |k| (i, j, k)))) {
            let step = Point([Length::mm(100 * i), Length::mm(60 * j), Length::mm(40 * k)]);
            layout.placements.push(Placement {
                cavity,
                in_box: Some(index),
                kind: 0,
                orientation: Orientation::UPRIGHT,
                cuboid: Cuboid::at(body.lo() + step, Size([100, 60, 40].map(Length::mm))),
                count: 1,
            });
            layout.count += 1;
        }
    }
    layout.by_kind = vec![layout.count];
    layout
}

fn rank(layout: &Layout) -> Rank {
    let request = request();
    Rank::of(&request, &Goal::of(&request), layout)
}

/// Every case: the first is better by one rule, and worse by those that come after it.
#[rstest]
#[case::more_modules_before_fewer_boxes(&[(0, [3, 2, 2], [0, 0, 0]), (1, [3, 2, 1], [0, 0, 0])], 1, &[(0, [3, 2, 2], [0, 0, 0])], 9)]
#[case::fewer_boxes_before_whole_strings(&[(0, [5, 2, 1], [0, 0, 9]), (1, [4, 2, 1], [0, 0, 9])], 1, &[(0, [3, 2, 1], [0, 0, 0]), (1, [3, 2, 1], [0, 0, 0]), (2, [3, 2, 1], [0, 0, 0])], 9)]
#[case::whole_strings_before_equal_boxes(&[(0, [3, 2, 2], [0, 0, 9]), (1, [3, 2, 1], [0, 0, 9])], 1, &[(0, [3, 3, 1], [0, 0, 0]), (1, [3, 3, 1], [0, 0, 0])], 9)]
#[case::equal_boxes_before_clearance(&[(0, [3, 2, 1], [0, 0, 9]), (1, [3, 2, 1], [0, 0, 9])], 1, &[(0, [6, 1, 1], [0, 0, 0]), (1, [3, 2, 1], [0, 0, 0])], 9)]
#[case::clearance_before_height(&[(0, [3, 2, 1], [0, 0, 9])], 2, &[(0, [3, 2, 1], [0, 0, 0])], 1)]
#[case::the_lower_of_two_that_spare_as_much(&[(0, [6, 1, 1], [0, 0, 9])], 1, &[(0, [3, 1, 2], [0, 0, 0])], 1)]
fn the_first_is_better(#[case] better: &[Grid], #[case] spare: i64, #[case] worse: &[Grid], #[case] other: i64) {
    assert!(rank(&layout(better, spare)) < rank(&layout(worse, other)));
}

#[test]
fn a_box_turned_by_a_quarter_is_cut_alike() {
    let equal = layout(&[(0, [3, 5, 1], [0, 0, 0])], 0);
    let mut turned = equal.clone();
    turned.boxes.push(BoxPlace {
        body: Cuboid::at(Point::ZERO, Size([300, 300, 40].map(Length::mm))),
        ..equal.boxes[0]
    });
    assert_eq!(sizes(&turned), 1);
    turned.boxes[1].body = Cuboid::at(Point::ZERO, Size([299, 300, 40].map(Length::mm)));
    assert_eq!(sizes(&turned), 2);
    assert_eq!(laid_long([2, 3, 1]), laid_long([3, 2, 1]));
    assert_ne!(laid_long([2, 3, 1]), laid_long([3, 1, 2]));
}

fn candidates(layouts: &[Layout]) -> Vec<Candidate> {
    let request = request();
    let ranked = |layout: &Layout| (rank(layout), Signature::of(&request, layout), layout.clone());
    layouts.iter().map(ranked).collect()
}

#[test]
fn near_copies_are_not_offered() {
    let best = layout(&[(0, [3, 2, 1], [0, 0, 0])], 5);
    let moved = layout(&[(0, [3, 2, 1], [10, 0, 0])], 4);
    let in_a_cavity_of_the_same_size = layout(&[(1, [3, 2, 1], [0, 0, 0])], 4);
    let elsewhere = layout(&[(2, [3, 2, 1], [0, 0, 0])], 3);
    let turned = layout(&[(0, [2, 3, 1], [0, 0, 0])], 2);
    let all = candidates(&[
        moved,
        in_a_cavity_of_the_same_size,
        turned.clone(),
        best.clone(),
        elsewhere.clone(),
    ]);
    assert_eq!(truly_different(all, 4), [best, elsewhere, turned]);
}

#[test]
fn one_box_in_three_that_stands_otherwise_is_a_near_copy() {
    let three = |last: [i64; 3]| {
        layout(
            &[
                (0, [3, 2, 1], [0, 0, 0]),
                (1, [3, 2, 1], [0, 0, 0]),
                (2, last, [0, 0, 0]),
            ],
            5,
        )
    };
    let all = candidates(&[three([3, 2, 1]), three([2, 3, 1])]);
    assert_eq!(truly_different(all, 4).len(), 1);
}

/// Of many ways to share out and to stand, one of the latter is always among the four.
#[test]
fn another_way_to_stand_has_its_place() {
    let shared: Vec<Layout> = [(12, 6), (6, 12), (10, 8), (8, 10), (4, 14)]
        .iter()
        .map(|&(n, m)| layout(&[(0, [n, 1, 1], [0, 0, 0]), (2, [m, 1, 1], [0, 0, 0])], 5))
        .filter(|layout| rank(layout).split == 0)
        .chain([
            layout(&[(0, [18, 1, 1], [0, 0, 0])], 5),
            layout(&[(2, [18, 1, 1], [0, 0, 0])], 5),
            layout(&[(2, [9, 2, 1], [0, 0, 0])], 1),
        ])
        .collect();
    let chosen = truly_different(candidates(&shared), 4);
    assert_eq!(chosen.len(), 4);
    assert!(
        chosen
            .iter()
            .any(|layout| layout.boxes[0].body.size().0[1] == Length::mm(120))
    );
    assert!(chosen.is_sorted_by_key(rank));
}
