//! Rivets that stand up from the floor under a module.

use enclosure::{BoxSpec, Built, Wall};
use geometry::Axis;
use tape::Length;

use super::{AddedResult, RivetsUnder, Site};

/// Where the height of a rivet's head and tail comes from.
pub(crate) const HEIGHT_SOURCE: &str = "common practice, no source: a rivet's tail as high as its hole is wide";

/// Notes the rivets of panels, and of what lies on or under the floor, that reach into a module over them: liner, strips and pads
/// raise it by what it stands over the floor.
pub(super) fn rivets(here: &Site<'_>, drawn: &BoxSpec, made: &Built, result: &mut AddedResult) {
    let panels = made.rivet_ends(drawn).into_iter();
    let of_floor = panels
        .filter(|(wall, _)| *wall == Wall::Floor)
        .flat_map(|(_, ends)| ends);
    let ends = of_floor.chain(made.fixing_ends.iter().copied());
    let mut found: Option<RivetsUnder> = None;
    for end in ends.filter(|end| end.hi[2] > Length::ZERO) {
        let solid = here.cuboid(&end);
        let over = here.modules.iter().filter(|module| module.cuboid.overlaps(&solid));
        for module in over {
            let needs = end.hi[2] - end.lo[2];
            let has = (module.cuboid.lo()[Axis::Z] - solid.lo()[Axis::Z]).max(Length::ZERO);
            let known = found.get_or_insert_with(|| RivetsUnder {
                modules: Vec::new(),
                needs,
                has,
            });
            known.needs = known.needs.max(needs);
            known.has = known.has.min(has);
            if !known.modules.contains(&module.label) {
                known.modules.push(module.label.clone());
            }
        }
    }
    result.rivets_under = found;
}
