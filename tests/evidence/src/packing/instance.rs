//! A case read, and asked as a request.

use geometry::fit::{Cavity, KeepOut, Kind, Request, Wanted};
use geometry::{Cuboid, Faces, Orientation, Point, Size};
use serde_json::Value;
use tape::Length;

use super::rules::{Block, Hollow, Instance, Item};
use crate::inputs::{Clear, Inputs, Unclear, count};

/// Reads the case.
pub(super) fn read(entry: Inputs<'_>) -> Clear<Instance> {
    let hollows = if entry.has("containers") {
        let list = entry.list("containers")?.iter();
        list.map(|hollow| read_hollow(Inputs(hollow), "size"))
            .collect::<Clear<_>>()?
    } else {
        vec![read_hollow(entry, "container")?]
    };
    let items = if entry.has("items") {
        let list = entry.list("items")?.iter();
        list.map(|item| read_item(Inputs(item), "size")).collect::<Clear<_>>()?
    } else {
        vec![read_item(entry, "item")?]
    };
    let distance = |key| {
        if entry.has(key) { entry.whole(key) } else { Ok(0) }
    };
    Ok(Instance {
        hollows,
        items,
        turns: read_turns(&entry.0["orientations"])?,
        margin: distance("margin")?,
        gap: distance("gap")?,
    })
}

fn read_hollow(entry: Inputs<'_>, size: &str) -> Clear<Hollow> {
    let block = |value| {
        let entry = Inputs(value);
        Ok(Block {
            lo: entry.triple("min")?,
            hi: entry.triple("max")?,
        })
    };
    let obstructions = if entry.has("obstructions") {
        entry.list("obstructions")?
    } else {
        &[]
    };
    Ok(Hollow {
        size: entry.triple(size)?,
        obstructions: obstructions.iter().map(block).collect::<Clear<_>>()?,
    })
}

fn read_item(entry: Inputs<'_>, size: &str) -> Clear<Item> {
    let most = &entry.0["count_max"];
    if !most.is_null() && count(most).is_none() {
        return Err(Unclear("count_max should be a count or null".to_owned()));
    }
    Ok(Item {
        size: entry.triple(size)?,
        most: count(most),
    })
}

const ALL_TURNS: [[usize; 3]; 6] = [[0, 1, 2], [1, 0, 2], [0, 2, 1], [2, 0, 1], [1, 2, 0], [2, 1, 0]];

fn read_turns(value: &Value) -> Clear<Vec<[usize; 3]>> {
    if value == "all" {
        return Ok(ALL_TURNS.to_vec());
    }
    let turn = |value: &Value| {
        let numbers: Vec<u64> = value.as_array()?.iter().map(Value::as_u64).collect::<Option<_>>()?;
        ALL_TURNS
            .into_iter()
            .find(|turn| turn.iter().map(|&k| k as u64).eq(numbers.iter().copied()))
    };
    let turns: Option<Vec<_>> = value.as_array().and_then(|list| list.iter().map(turn).collect());
    turns.ok_or_else(|| Unclear("orientations should be \"all\" or a list of permutations of 0, 1, 2".to_owned()))
}

/// The case as a request: one unit is one nanometre, so that nothing is rounded.
pub(super) fn request(instance: &Instance) -> Request {
    let margin = Length::from_nm(instance.margin);
    let cavity = |hollow: &Hollow| Cavity {
        space: Cuboid::at(Point::ZERO, Size(lengths(hollow.size))),
        wall_margin: Faces::all(margin),
        keep_outs: hollow
            .obstructions
            .iter()
            .map(|block| KeepOut {
                cuboid: Cuboid::between(Point(lengths(block.lo)), Point(lengths(block.hi))),
                margin,
            })
            .collect(),
    };
    let kind = |item: &Item| Kind {
        size: Size(lengths(item.size)),
        orientations: instance.turns.iter().filter_map(orientation).collect(),
        service: Faces::default(),
        on_hand: item.most,
        mass_g: 1,
        stack: None,
    };
    Request {
        cavities: instance.hollows.iter().map(cavity).collect(),
        kinds: instance.items.iter().map(kind).collect(),
        gap: Length::from_nm(instance.gap),
        boxes: None,
        wanted: Wanted::AsMany,
        pinned: Vec::new(),
    }
}

fn lengths(units: [i64; 3]) -> [Length; 3] {
    units.map(Length::from_nm)
}

/// One of the ways to stand that put own extent `turn[k]` along axis `k`. Mirrored ways take the same space.
fn orientation(turn: &[usize; 3]) -> Option<Orientation> {
    let marks = [10, 20, 30].map(Length::from_nm);
    let wanted = Size(turn.map(|own| marks[own]));
    Orientation::all()
        .into_iter()
        .find(|orientation| orientation.extents(Size(marks)) == wanted)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_turn_is_an_orientation_that_takes_its_extents() {
        let size = Size(lengths([7, 11, 13]));
        for turn in ALL_TURNS {
            let stands = orientation(&turn).unwrap().extents(size);
            assert_eq!(stands, Size(turn.map(|own| size.0[own])));
        }
    }
}
