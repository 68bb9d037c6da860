//! What it would take, and how much may go wrong: verified by fitting again.

mod arranged;

use arranged::Dice;
use geometry::fit::{
    BoxRule, Budget, Cavity, Hold, KeepOut, Kind, Layout, Progress, Request, Unwatched, Wanted, Watch, check, fit,
    least_change, tolerance,
};
use geometry::spread::Move;
use geometry::{Axis, Cuboid, Face, Faces, Orientation, Point, Size};
use rstest::rstest;
use tape::Length;

const BUDGET: Budget = Budget { work: 20_000, seed: 3 };

/// `wanted` modules of one kind in a cavity of the size, 5 mm from its walls and 2 mm from each other.
fn request(cavity: [i64; 3], module: [i64; 3], wanted: u32) -> Request {
    Request {
        cavities: vec![Cavity {
            space: Cuboid::at(Point::ZERO, Size(cavity.map(Length::mm))),
            wall_margin: Faces::all(Length::mm(5)),
            keep_outs: Vec::new(),
        }],
        kinds: vec![Kind {
            size: Size(module.map(Length::mm)),
            orientations: vec![Orientation::UPRIGHT],
            service: Faces::default(),
            on_hand: None,
            mass_g: 5000,
            stack: None,
        }],
        gap: Length::mm(2),
        boxes: None,
        wanted: Wanted::Exactly(vec![wanted]),
        pinned: Vec::new(),
    }
}

fn box_up(request: &mut Request) {
    request.boxes = Some(BoxRule {
        shell: Faces::all(Length::mm(6)),
        fit: Faces::all(Length::mm(1)),
        room: Faces::default(),
        bay: None,
        rims: Vec::new(),
        least_height: Length::ZERO,
        most_g: None,
        one_tier: false,
        per_cavity: 1,
        apart: Length::ZERO,
    });
}

/// A figure of a request that gives more room when it is changed by so much.
#[derive(Clone, Copy, Debug)]
enum Figure {
    Length(Axis),
    KeepOut,
    Gap,
    Margin(Face),
    Shell(Face),
}

impl Figure {
    fn changed(self, request: &Request, by: Length) -> Option<Request> {
        let mut request = request.clone();
        let cavity = &mut request.cavities[0];
        match self {
            Self::Length(axis) => {
                let more = Point::along(axis, by);
                cavity.space = Cuboid::between(cavity.space.lo(), cavity.space.hi() + more);
            }
            Self::KeepOut => {
                let keep = &mut cavity.keep_outs[0];
                keep.cuboid = keep.cuboid.moved(Point::along(Axis::X, by));
            }
            Self::Gap => request.gap -= by,
            Self::Margin(face) => cavity.wall_margin[face] -= by,
            Self::Shell(face) => {
                let shell = &mut request.boxes.as_mut()?.shell;
                shell[face] -= by;
                (!shell[face].is_negative()).then_some(())?;
            }
        }
        (!request.gap.is_negative() && !request.cavities[0].wall_margin.0.iter().any(|m| m.is_negative()))
            .then_some(request)
    }

    fn up_to(self, request: &Request) -> Length {
        match self {
            Self::Length(_) | Self::KeepOut => Length::mm(120),
            Self::Gap => request.gap,
            Self::Margin(face) => request.cavities[0].wall_margin[face],
            Self::Shell(face) => request.boxes.as_ref().map_or(Length::ZERO, |rule| rule.shell[face]),
        }
    }
}

fn ledge(x: i64) -> KeepOut {
    KeepOut {
        cuboid: Cuboid::between(
            Point([Length::mm(x), Length::mm(-1), Length::mm(-1)]),
            Point([Length::mm(5000); 3]),
        ),
        margin: Length::mm(1),
    }
}

#[rstest]
// 3 x 100 + 2 x 2 + 2 x 5 = 314.
#[case::length([300, 115, 60], Figure::Length(Axis::X), Length::mm(14))]
// 308 of 314, over two gaps of 2: 3 each, more than there is.
#[case::gap_too_small([308, 115, 60], Figure::Gap, Length::mm(-1))]
#[case::gap([311, 115, 60], Figure::Gap, Length::from_nm(1_500_000))]
#[case::gap_in_odd_nanometres([312, 115, 60], Figure::Gap, Length::mm(1))]
#[case::margin([311, 115, 60], Figure::Margin(Face::Rear), Length::mm(3))]
fn a_row_of_three_takes_what_the_sum_says(#[case] cavity: [i64; 3], #[case] figure: Figure, #[case] change: Length) {
    let request = request(cavity, [100, 100, 50], 3);
    let mut ask = |by| figure.changed(&request, by);
    let found = least_change(&mut ask, 3, figure.up_to(&request), BUDGET, &mut Unwatched).unwrap();
    match found {
        None => assert!(change.is_negative(), "{figure:?} was to do"),
        Some(found) => {
            assert_eq!((found.change, found.count, found.proved), (change, 3, true));
            assert_eq!(check(&ask(change).unwrap(), &found.layout), Ok(()));
        }
    }
}

#[test]
fn a_keep_out_moves_and_a_shell_thins_by_what_the_sum_says() {
    let mut with_ledge = request([700, 110, 60], [100, 100, 50], 3);
    // 5 + 304 + 1 = 310.
    with_ledge.cavities[0].keep_outs = vec![ledge(298)];
    let mut ask = |by| Figure::KeepOut.changed(&with_ledge, by);
    let found = least_change(&mut ask, 3, Length::mm(100), BUDGET, &mut Unwatched)
        .unwrap()
        .unwrap();
    assert_eq!((found.change, found.proved), (Length::mm(12), true));

    // 10 + 12 + 2 + 304 = 328.
    let mut boxed = request([325, 200, 200], [100, 100, 50], 3);
    box_up(&mut boxed);
    // Nowhere else for the third.
    boxed.cavities[0].space = Cuboid::at(Point::ZERO, Size([325, 140, 80].map(Length::mm)));
    let mut ask = |by| Figure::Shell(Face::Front).changed(&boxed, by);
    let found = least_change(&mut ask, 3, Length::mm(6), BUDGET, &mut Unwatched)
        .unwrap()
        .unwrap();
    assert_eq!((found.change, found.proved), (Length::mm(3), true));
}

#[test]
fn nothing_needs_to_change_when_they_fit_and_nothing_helps_when_they_cannot() {
    let request = request([320, 115, 60], [100, 100, 50], 3);
    let mut ask = |by| Figure::Length(Axis::X).changed(&request, by);
    let found = least_change(&mut ask, 3, Length::mm(50), BUDGET, &mut Unwatched)
        .unwrap()
        .unwrap();
    assert_eq!((found.change, found.proved), (Length::ZERO, true));
    let mut too_low = |by| Figure::Length(Axis::Z).changed(&request, by);
    assert_eq!(
        least_change(&mut too_low, 4, Length::mm(40), BUDGET, &mut Unwatched),
        Ok(None)
    );
    assert_eq!(
        least_change(&mut |_| None, 4, Length::mm(40), BUDGET, &mut Unwatched),
        Ok(None)
    );
}

/// A case for the seed: some modules that nearly go in, and a figure to change.
fn nearly(seed: u64) -> (Request, u32, Figure) {
    let mut dice = Dice(seed);
    let module = [dice.between(60, 140), dice.between(50, 100), dice.between(40, 80)];
    let grid = [dice.between(1, 4), dice.between(1, 3), dice.between(1, 2)];
    let wanted = u32::try_from(grid.iter().product::<i64>()).expect("few");
    let boxed = dice.one_in(3);
    let around = if boxed { 10 + 12 + 2 } else { 10 };
    let mut size: [i64; 3] = std::array::from_fn(|k| grid[k] * module[k] + 2 * (grid[k] - 1) + around);
    for extent in &mut size {
        *extent += dice.between(0, 12);
    }
    let pick = dice.between(0, 4);
    let axis = Axis::ALL[usize::try_from(dice.between(0, 2)).expect("0 to 2")];
    let exact = grid[axis.index()] * module[axis.index()] + 2 * (grid[axis.index()] - 1) + around;
    let short = dice.between(1, 4);
    size[axis.index()] = exact - short;
    let mut figure = match pick {
        1 if grid[axis.index()] > 1 => Figure::Gap,
        2 => Figure::Margin(Face::low(axis)),
        3 if boxed => Figure::Shell(Face::high(axis)),
        _ => Figure::Length(axis),
    };
    let mut request = request(size, module, wanted);
    if boxed {
        box_up(&mut request);
    }
    if pick == 4 {
        // A keep-out ends the hollow, which across is just large enough: then what is free tells what goes in.
        let exact: [i64; 3] = std::array::from_fn(|k| grid[k] * module[k] + 2 * (grid[k] - 1) + around);
        let space = Size([exact[0] + 300, exact[1], exact[2]].map(Length::mm));
        request.cavities[0].space = Cuboid::at(Point::ZERO, space);
        request.cavities[0].keep_outs = vec![ledge(exact[0] - 4 - short)];
        figure = Figure::KeepOut;
    }
    (request, wanted, figure)
}

#[test]
fn with_the_change_they_fit_and_with_a_nanometre_less_they_do_not() {
    let fits = |request: &Request| fit(request, BUDGET, &mut Unwatched).unwrap();
    let (mut proved, mut kinds) = (0, [0; 5]);
    for seed in 1..=40 {
        let (request, wanted, figure) = nearly(seed);
        let mut ask = |by| figure.changed(&request, by);
        let found = least_change(&mut ask, wanted, figure.up_to(&request), BUDGET, &mut Unwatched).unwrap();
        let Some(found) = found else {
            // Then it is not to be found with all of it either.
            assert!(
                fits(&ask(figure.up_to(&request)).unwrap()).layouts[0].count < wanted,
                "seed {seed}"
            );
            continue;
        };
        assert!(
            found.change <= figure.up_to(&request) && found.count == wanted,
            "seed {seed}"
        );
        assert_eq!(check(&ask(found.change).unwrap(), &found.layout), Ok(()), "seed {seed}");
        assert_eq!(
            fits(&ask(found.change).unwrap()).layouts[0].count,
            wanted,
            "seed {seed} {figure:?}"
        );
        if found.proved && found.change > Length::ZERO {
            let less = fits(&ask(found.change - Length::from_nm(1)).unwrap());
            assert!(less.upper_bound < wanted, "seed {seed} {figure:?}: {less:?}");
            proved += 1;
            kinds[match figure {
                Figure::Length(_) => 0,
                Figure::KeepOut => 1,
                Figure::Gap => 2,
                Figure::Margin(_) => 3,
                Figure::Shell(_) => 4,
            }] += 1;
        }
    }
    assert!(
        proved >= 20 && kinds.iter().all(|&n| n > 0),
        "{proved} proved: {kinds:?}"
    );
}

/// Says stop at the given look, and counts the layouts told.
struct StopAt(u32, usize);

impl Watch for StopAt {
    fn carry_on(&mut self, _: Progress) -> bool {
        self.0 = self.0.saturating_sub(1);
        self.0 > 0
    }

    fn better(&mut self, _: &Layout) {
        self.1 += 1;
    }
}

#[test]
fn a_watcher_that_says_stop_gets_no_proof_it_has_not_seen() {
    let request = request([300, 115, 60], [100, 100, 50], 3);
    let mut ask = |by| Figure::Length(Axis::X).changed(&request, by);
    let mut watch = StopAt(1, 0);
    let found = least_change(&mut ask, 3, Length::mm(50), BUDGET, &mut watch).unwrap();
    assert!(found.is_none_or(|found| found.change > Length::ZERO));
    let mut watch = StopAt(u32::MAX, 0);
    let found = least_change(&mut ask, 3, Length::mm(50), BUDGET, &mut watch)
        .unwrap()
        .unwrap();
    assert!(watch.1 >= 1 && found.proved);
}

#[rstest]
// As they stand: three modules with 2 between, the last 11 from the wall that it keeps 5 from.
#[case::length_as_it_stands(Figure::Length(Axis::X), Hold::AsItStands, 6)]
#[case::gap_as_it_stands(Figure::Gap, Hold::AsItStands, 0)]
#[case::margin_as_it_stands(Figure::Margin(Face::Rear), Hold::AsItStands, 6)]
#[case::margin_at_the_front_as_it_stands(Figure::Margin(Face::Front), Hold::AsItStands, 0)]
#[case::length_moved(Figure::Length(Axis::X), Hold::MovedOver(Move::Everything), 6)]
#[case::gap_moved(Figure::Gap, Hold::MovedOver(Move::Everything), 3)]
#[case::margin_at_the_front_moved(Figure::Margin(Face::Front), Hold::MovedOver(Move::Everything), 6)]
fn how_much_worse_a_figure_may_get(#[case] figure: Figure, #[case] hold: Hold, #[case] worse: i64) {
    let request = request([320, 115, 60], [100, 100, 50], 3);
    let mut layout = fit(&request, BUDGET, &mut Unwatched).unwrap().layouts.swap_remove(0);
    for (n, placement) in (0..).zip(&mut layout.placements) {
        placement.cuboid = Cuboid::at(Point([5 + 102 * n, 5, 5].map(Length::mm)), placement.cuboid.size());
    }
    let mut ask = |by: Length| figure.changed(&request, -by);
    assert_eq!(
        tolerance(&mut ask, &layout, Length::mm(50), hold),
        Some(Length::mm(worse))
    );
    assert_eq!(tolerance(&mut ask, &layout, Length::ZERO, hold), Some(Length::ZERO));
    layout.placements[1].cuboid = layout.placements[0].cuboid;
    assert_eq!(tolerance(&mut ask, &layout, Length::mm(50), Hold::AsItStands), None);
}

#[test]
fn a_thicker_shell_takes_what_the_box_has_to_spare() {
    let mut request = request([340, 140, 80], [100, 100, 50], 3);
    box_up(&mut request);
    let layout = fit(&request, BUDGET, &mut Unwatched).unwrap().layouts.swap_remove(0);
    // The box is 12 + 2 + 304 = 318 of 340 - 10 = 330, in the middle.
    let mut ask = |by: Length| Figure::Shell(Face::Front).changed(&request, -by);
    let mut much = |hold| tolerance(&mut ask, &layout, Length::mm(50), hold);
    assert_eq!(much(Hold::AsItStands), Some(Length::mm(6)));
    assert_eq!(much(Hold::MovedOver(Move::Boxes)), Some(Length::mm(12)));
    assert_eq!(much(Hold::MovedOver(Move::Everything)), Some(Length::mm(12)));
    // A module that swells all round by half as much on each side.
    let mut swollen = |by: Length| {
        let mut request = request.clone();
        request.kinds[0].size.0[2] += by;
        Some(request)
    };
    // 80 - 10 - 14 - 50 = 6 above and below together.
    assert_eq!(
        tolerance(&mut swollen, &layout, Length::mm(50), Hold::AsItStands),
        Some(Length::mm(6))
    );
}
