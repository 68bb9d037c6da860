//! The rules of a layout, on whole numbers.
//!
//! Written from the words of the checks (`read_me` of the packing file), apart from the crates: it is what their
//! layouts are judged by, so it uses nothing of theirs.

use crate::Placed;

/// A block, by its lowest and highest corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Block {
    /// Lowest corner.
    pub lo: [i64; 3],
    /// Highest corner.
    pub hi: [i64; 3],
}

/// A cavity, from zero to its size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hollow {
    /// Its three sizes.
    pub size: [i64; 3],
    /// What must stay free. May overlap each other or stick out.
    pub obstructions: Vec<Block>,
}

/// A kind of module.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Item {
    /// Its three own sizes.
    pub size: [i64; 3],
    /// The most that may be placed; `None` for no limit.
    pub most: Option<u32>,
}

/// One case: what may be placed where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Instance {
    /// The cavities.
    pub hollows: Vec<Hollow>,
    /// The kinds of module.
    pub items: Vec<Item>,
    /// The ways a module may stand: its extent along axis `k` is `size[p[k]]`.
    pub turns: Vec<[usize; 3]>,
    /// The distance to walls and obstructions.
    pub margin: i64,
    /// The distance between modules of one cavity.
    pub gap: i64,
}

/// The first rule that a layout breaks, in words; `None` when it keeps them all.
pub fn breach(instance: &Instance, layout: &[Placed]) -> Option<String> {
    let alone = layout
        .iter()
        .enumerate()
        .find_map(|(index, module)| Some(format!("module {index} {}", misplaced(instance, module)?)));
    alone
        .or_else(|| too_many(instance, layout))
        .or_else(|| too_close(instance, layout))
}

/// What is wrong with a module, whatever the others do.
fn misplaced(instance: &Instance, module: &Placed) -> Option<String> {
    let Some(hollow) = instance.hollows.get(module.cavity) else {
        return Some(format!("is in cavity {}, which is not there", module.cavity));
    };
    let Some(item) = instance.items.get(module.kind) else {
        return Some(format!("is of kind {}, which is not there", module.kind));
    };
    let extents = [0, 1, 2].map(|axis| module.hi[axis] - module.lo[axis]);
    let stands = |turn: &[usize; 3]| turn.map(|own| item.size[own]) == extents;
    if !instance.turns.iter().any(stands) {
        return Some(format!("measures {extents:?}, which is no way it may stand"));
    }
    let margin = instance.margin;
    for axis in 0..3 {
        if module.lo[axis] < margin || module.hi[axis] > hollow.size[axis] - margin {
            return Some(format!("is nearer than {margin} to a wall along axis {axis}"));
        }
    }
    let body = Block {
        lo: module.lo,
        hi: module.hi,
    };
    let in_the_way = hollow
        .obstructions
        .iter()
        .position(|obstruction| !apart(&body, obstruction, margin));
    in_the_way.map(|index| format!("is nearer than {margin} to obstruction {index}"))
}

/// Whether two blocks are so far apart along at least one axis. Touching is no distance, and overlapping less.
fn apart(a: &Block, b: &Block, distance: i64) -> bool {
    (0..3).any(|axis| a.hi[axis] + distance <= b.lo[axis] || b.hi[axis] + distance <= a.lo[axis])
}

/// A kind of which more are placed than there are.
fn too_many(instance: &Instance, layout: &[Placed]) -> Option<String> {
    let over = |(kind, item): (usize, &Item)| {
        let placed = layout.iter().filter(|module| module.kind == kind).count();
        let most = usize::try_from(item.most?).ok()?;
        (placed > most).then(|| format!("{placed} of kind {kind} placed, of {most}"))
    };
    instance.items.iter().enumerate().find_map(over)
}

/// Two modules of one cavity that are nearer than the gap.
fn too_close(instance: &Instance, layout: &[Placed]) -> Option<String> {
    let block = |module: &Placed| Block {
        lo: module.lo,
        hi: module.hi,
    };
    for (index, module) in layout.iter().enumerate() {
        for (other_index, other) in layout.iter().enumerate().take(index) {
            let near = !apart(&block(module), &block(other), instance.gap);
            if module.cavity == other.cavity && near {
                let gap = instance.gap;
                return Some(format!(
                    "modules {other_index} and {index} are nearer than {gap} to each other"
                ));
            }
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    /// A cavity of 20 x 10 x 10 with a post in its far end; modules of 4 x 3 x 2 that may stand two ways.
    fn instance() -> Instance {
        Instance {
            hollows: vec![
                Hollow {
                    size: [20, 10, 10],
                    obstructions: vec![Block {
                        lo: [15, 0, 0],
                        hi: [16, 10, 5],
                    }],
                };
                2
            ],
            items: vec![Item {
                size: [4, 3, 2],
                most: Some(3),
            }],
            turns: vec![[0, 1, 2], [1, 0, 2]],
            margin: 1,
            gap: 2,
        }
    }

    fn at(lo: [i64; 3]) -> Placed {
        let size = [4, 3, 2];
        Placed {
            cavity: 0,
            kind: 0,
            lo,
            hi: [0, 1, 2].map(|axis| lo[axis] + size[axis]),
        }
    }

    fn in_cavity(cavity: usize, lo: [i64; 3]) -> Placed {
        Placed { cavity, ..at(lo) }
    }

    #[rstest]
    #[case::empty(vec![])]
    #[case::against_the_margin(vec![at([1, 1, 1])])]
    #[case::into_the_far_corner(vec![in_cavity(1, [15, 6, 7])])]
    #[case::margin_before_the_post(vec![at([10, 1, 1])])]
    #[case::margin_above_the_post(vec![at([13, 1, 6])])]
    #[case::gap_along_x(vec![at([1, 1, 1]), at([7, 1, 1])])]
    #[case::gap_along_z_is_enough(vec![at([1, 1, 1]), at([2, 2, 5])])]
    #[case::turned(vec![Placed { hi: [4, 5, 3], ..at([1, 1, 1]) }])]
    #[case::same_place_in_two_cavities(vec![at([1, 1, 1]), in_cavity(1, [1, 1, 1])])]
    fn a_layout_that_keeps_the_rules_is_not_refused(#[case] layout: Vec<Placed>) {
        assert_eq!(breach(&instance(), &layout), None);
    }

    #[rstest]
    #[case::overlap(vec![at([1, 1, 1]), at([3, 2, 2])], "modules 0 and 1 are nearer than 2")]
    #[case::on_the_same_spot(vec![at([1, 1, 1]), at([1, 1, 1])], "modules 0 and 1")]
    #[case::touching_with_a_gap_asked(vec![at([1, 1, 1]), at([5, 1, 1])], "nearer than 2")]
    #[case::one_short_of_the_gap(vec![at([1, 1, 1]), at([6, 1, 1])], "nearer than 2")]
    #[case::one_short_of_the_wall(vec![at([0, 1, 1])], "to a wall along axis 0")]
    #[case::out_of_the_cavity(vec![in_cavity(1, [15, 6, 8])], "to a wall along axis 2")]
    #[case::one_short_of_the_post(vec![at([11, 1, 1])], "to obstruction 0")]
    #[case::into_the_post(vec![at([13, 1, 4])], "to obstruction 0")]
    #[case::on_the_post(vec![at([13, 1, 5])], "to obstruction 0")]
    #[case::a_way_it_may_not_stand(vec![Placed { hi: [3, 4, 5], ..at([1, 1, 1]) }], "no way it may stand")]
    #[case::shrunk(vec![Placed { hi: [4, 4, 3], ..at([1, 1, 1]) }], "no way it may stand")]
    #[case::inside_out(vec![Placed { lo: [5, 4, 3], hi: [1, 1, 1], ..at([1, 1, 1]) }], "no way")]
    #[case::no_such_cavity(vec![in_cavity(2, [1, 1, 1])], "cavity 2")]
    #[case::no_such_kind(vec![Placed { kind: 1, ..at([1, 1, 1]) }], "kind 1")]
    #[case::more_than_there_are(
        vec![at([1, 1, 1]), at([7, 1, 1]), at([1, 6, 1]), at([7, 6, 1])],
        "4 of kind 0 placed, of 3"
    )]
    fn a_layout_that_breaks_a_rule_is_told_which(#[case] layout: Vec<Placed>, #[case] words: &str) {
        let said = breach(&instance(), &layout).unwrap();
        assert!(said.contains(words), "{said}");
    }
}
