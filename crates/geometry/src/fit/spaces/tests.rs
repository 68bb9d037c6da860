use proptest::prelude::*;
use rstest::rstest;

use super::super::folded::Piece;
use super::*;

fn piece(kind: usize, size: V3, count: u32) -> Piece {
    Piece {
        shape: 0,
        kind,
        size,
        count,
    }
}

/// All ways round of one module.
fn any_way(kind: usize, [a, b, c]: V3) -> Vec<Piece> {
    let mut sizes = vec![[a, b, c], [a, c, b], [b, a, c], [b, c, a], [c, a, b], [c, b, a]];
    sizes.sort_unstable();
    sizes.dedup();
    sizes.into_iter().map(|size| piece(kind, size, 1)).collect()
}

fn hollow(dims: V3, blocks: Vec<Space>, pieces: Vec<Piece>) -> Folded {
    Folded {
        origin: [0; 3],
        dims,
        blocks,
        pieces,
    }
}

fn searched(folded: &Folded, caps: &[u32], steps: u64) -> Beam {
    let mut beam = Beam::new(folded, caps);
    beam.search(steps);
    beam
}

/// Whether something from `lo` to `hi` meets a block that may be inside out.
fn clear(lo: V3, hi: V3, (block_lo, block_hi): &Space) -> bool {
    (0..3).any(|k| lo[k] >= block_hi[k] || hi[k] <= block_lo[k])
}

/// Every cuboid with whole coordinates that is clear of the blocks and within no larger one.
fn all_empties(dims: V3, blocks: &[Space]) -> Vec<Space> {
    let spans = |k: usize| (0..dims[k]).flat_map(move |lo| (lo + 1..=dims[k]).map(move |hi| (lo, hi)));
    let mut empty: Vec<Space> = Vec::new();
    for x in spans(0) {
        for y in spans(1) {
            for z in spans(2) {
                let (lo, hi) = ([x.0, y.0, z.0], [x.1, y.1, z.1]);
                if blocks.iter().all(|block| clear(lo, hi, block)) {
                    empty.push((lo, hi));
                }
            }
        }
    }
    let within = |a: &Space, b: &Space| a != b && (0..3).all(|k| b.0[k] <= a.0[k] && a.1[k] <= b.1[k]);
    let mut largest: Vec<Space> = empty
        .iter()
        .filter(|space| !empty.iter().any(|other| within(space, other)))
        .copied()
        .collect();
    largest.sort_unstable();
    largest
}

fn corner(top: i64) -> impl Strategy<Value = V3> {
    prop::array::uniform3(-1..=top)
}

/// A block in a hollow of sides up to six, here and there thinner than nothing.
fn block() -> impl Strategy<Value = Space> {
    (corner(5), prop::array::uniform3(-2_i64..=4)).prop_map(|(lo, size)| (lo, std::array::from_fn(|k| lo[k] + size[k])))
}

proptest! {
    #[test]
    fn the_empties_are_all_the_largest_empty_cuboids(
        dims in prop::array::uniform3(1_i64..=6),
        blocks in prop::collection::vec(block(), 1..6),
        least in prop::array::uniform3(1_i64..=2),
    ) {
        let useful = |size: V3| (0..3).all(|k| size[k] >= least[k]);
        let mut empties = Empties::new(dims, &[], useful);
        for n in 1..=blocks.len() {
            empties.cut(&blocks[n - 1], useful);
            let mut found = empties.0.clone();
            found.sort_unstable();
            let mut expected = all_empties(dims, &blocks[..n]);
            expected.retain(|space| useful(size(space)));
            prop_assert_eq!(&found, &expected, "after {} blocks", n);
        }
    }

    #[test]
    fn layouts_stay_inside_apart_and_within_the_caps(
        dims in prop::array::uniform3(3_i64..=14),
        blocks in prop::collection::vec(block(), 0..4),
        pieces in prop::collection::vec((0_usize..2, prop::array::uniform3(1_i64..=5), 1_u32..=3), 1..5),
        caps in (0_u32..30, 0_u32..30),
    ) {
        let caps = [caps.0, caps.1];
        let mut pieces: Vec<Piece> = pieces.into_iter().map(|(kind, size, count)| piece(kind, size, count)).collect();
        pieces.retain(|piece| (0..3).all(|k| piece.size[k] <= dims[k]));
        let folded = hollow(dims, blocks, pieces);
        let beam = searched(&folded, &caps, 3_000);
        let laid = beam.best();
        let mut used = [0; 2];
        let extents: Vec<Space> = laid
            .iter()
            .map(|one| (one.at, std::array::from_fn(|k| one.at[k] + folded.pieces[one.piece].size[k])))
            .collect();
        for (i, &(lo, hi)) in extents.iter().enumerate() {
            prop_assert!((0..3).all(|k| lo[k] >= 0 && hi[k] <= dims[k]), "{:?} is outside", laid[i]);
            prop_assert!(folded.blocks.iter().all(|block| clear(lo, hi, block)), "{:?} meets a block", laid[i]);
            prop_assert!(extents[..i].iter().all(|other| clear(lo, hi, other)), "{:?} overlaps", laid[i]);
            let piece = &folded.pieces[laid[i].piece];
            used[piece.kind] += piece.count;
        }
        prop_assert!(used[0] <= caps[0] && used[1] <= caps[1]);
        prop_assert_eq!(used[0] + used[1], beam.count());
    }
}

#[rstest]
#[case::cubes([4, 6, 8], vec![], [2, 2, 2], 24)]
#[case::four_round_a_hole([5, 5, 1], vec![], [2, 3, 1], 4)]
#[case::conways_six([3, 3, 3], vec![], [1, 2, 2], 6)]
#[case::without_waste([7, 8, 9], vec![], [1, 2, 3], 84)]
#[case::over_a_step([6, 4, 4], vec![([0, 0, 0], [2, 4, 2])], [2, 2, 2], 10)]
#[case::on_both_sides_of_a_thin_plate([9, 3, 3], vec![([5, 0, 0], [4, 3, 3])], [3, 3, 3], 2)]
#[case::round_a_post([5, 5, 2], vec![([2, 2, 0], [3, 3, 2])], [2, 3, 2], 4)]
#[case::too_large([2, 2, 2], vec![], [1, 1, 3], 0)]
fn easy_hollows_are_filled_as_full_as_can_be(
    #[case] dims: V3,
    #[case] blocks: Vec<Space>,
    #[case] size: V3,
    #[case] most: u32,
) {
    let folded = hollow(dims, blocks, any_way(0, size));
    assert_eq!(searched(&folded, &[u32::MAX], 50_000).count(), most);
}

#[test]
fn the_kind_that_runs_out_leaves_room_for_the_other() {
    let pieces = vec![piece(0, [1, 1, 1], 1), piece(1, [2, 2, 2], 1)];
    let folded = hollow([4, 4, 4], Vec::new(), pieces);
    // Eight small ones take one place of a large one.
    assert_eq!(searched(&folded, &[8, u32::MAX], 50_000).count(), 8 + 7);
}

#[test]
fn large_hollows_are_filled_well() {
    let folded = hollow([3_000, 2_000, 700], Vec::new(), any_way(0, [323, 231, 145]));
    let count = searched(&folded, &[u32::MAX], 300_000).count();
    // By volume 388 at most; the best grid holds 360.
    assert!(count > 360, "only {count}");
}

#[test]
fn pauses_change_nothing() {
    let folded = hollow([31, 23, 17], vec![([9, 0, 0], [12, 23, 5])], any_way(0, [7, 5, 3]));
    let at_once = searched(&folded, &[u32::MAX], 20_000);
    let (mut in_turns, mut spent) = (Beam::new(&folded, &[u32::MAX]), 0);
    while spent < 20_000 && !in_turns.done() {
        spent += in_turns.search(1);
    }
    assert!(at_once.count() > 0);
    assert_eq!(at_once.best(), in_turns.best());
}
