//! Rivets that stand in from floor or walls into a module.

use enclosure::added::Block;
use enclosure::{BoxSpec, Built, Wall};
use tape::Length;

use super::{AddedResult, RivetsMet, Site};

/// Where the height of a rivet's head and tail comes from.
pub(crate) const HEIGHT_SOURCE: &str =
    "common practice, no source: a rivet's tail as high as its hole is wide, a round head half of that";

/// Notes the rivets of panels, and of what lies on or under the floor, that reach into a module: liner, strips and pads raise it
/// by what it stands over the floor, liner and fitting room keep it off the walls.
pub(super) fn rivets(here: &Site<'_>, drawn: &BoxSpec, made: &Built, result: &mut AddedResult) {
    let [_, stand] = here.build.rivets_stand();
    let own = made.fixing_ends.iter().filter(|end| end.hi[2] > Length::ZERO);
    let mut floor: Vec<Block> = own.copied().collect();
    let highest = floor.iter().map(|end| end.hi[2]).fold(stand, Length::max);
    if highest <= Length::ZERO {
        return;
    }
    let modules: Vec<(&str, Block)> = here
        .modules
        .iter()
        .map(|module| (module.label.as_str(), here.block(&module.cuboid)))
        .collect();
    let most = |wall: Wall| if wall == Wall::Floor { highest } else { stand };
    let is_near = |wall: Wall| modules.iter().any(|(_, block)| off(drawn, wall, block) < most(wall));
    let near: Vec<Wall> = ALL.into_iter().filter(|&wall| is_near(wall)).collect();
    if near.is_empty() {
        return;
    }
    let mut walls: Vec<(Wall, Block)> = Vec::new();
    if stand > Length::ZERO {
        for (wall, [_, inside]) in made.rivet_ends(drawn) {
            match wall {
                Wall::Floor => floor.push(inside),
                _ => walls.push((wall, inside)),
            }
        }
    }
    let of_floor = floor.into_iter().map(|end| (Wall::Floor, end));
    for ends in [of_floor.collect::<Vec<_>>(), walls] {
        result.rivets_met.extend(met(drawn, &modules, &near, &ends));
    }
}

const ALL: [Wall; 5] = [Wall::Floor, Wall::Front, Wall::Rear, Wall::Left, Wall::Right];

/// How far a block stands off the inner face of a wall.
fn off(drawn: &BoxSpec, wall: Wall, block: &Block) -> Length {
    match wall {
        Wall::Front => block.lo[0],
        Wall::Rear => drawn.inside[0] - block.hi[0],
        Wall::Left => block.lo[1],
        Wall::Right => drawn.inside[1] - block.hi[1],
        _ => block.lo[2],
    }
}

/// How far one that stands on a wall reaches in from it.
fn reach(drawn: &BoxSpec, wall: Wall, end: &Block) -> Length {
    match wall {
        Wall::Front => end.hi[0],
        Wall::Rear => drawn.inside[0] - end.lo[0],
        Wall::Left => end.hi[1],
        Wall::Right => drawn.inside[1] - end.lo[1],
        _ => end.hi[2],
    }
}

fn met(drawn: &BoxSpec, modules: &[(&str, Block)], near: &[Wall], ends: &[(Wall, Block)]) -> Option<RivetsMet> {
    let mut found: Option<RivetsMet> = None;
    for (wall, end) in ends.iter().filter(|(wall, _)| near.contains(wall)) {
        for (label, block) in modules.iter().filter(|(_, block)| block.meets(end)) {
            let needs = reach(drawn, *wall, end);
            let has = off(drawn, *wall, block).max(Length::ZERO);
            let known = found.get_or_insert_with(|| RivetsMet {
                is_floor: *wall == Wall::Floor,
                modules: Vec::new(),
                needs,
                has,
            });
            known.needs = known.needs.max(needs);
            known.has = known.has.min(has);
            if !known.modules.iter().any(|known| known == label) {
                known.modules.push((*label).to_owned());
            }
        }
    }
    found
}
