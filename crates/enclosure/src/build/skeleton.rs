//! The frame of angle that panels are riveted or bonded into.

use tape::{Area, Length};

use super::frame;
use super::holes::{Drill, Holes, Place, intervals};
use super::past::{self, Unspaced};
use super::shell::Shell;
use super::wall_holes::{on_level, on_panel};
use crate::added::Block;
use crate::material::Material;
use crate::{
    BoxSpec, Built, Construction, EndCut, Frame, Held, Hole, Joint, Part, Purpose, RimBand, RivetHeads, Role, Sheet,
    Skeleton, Wall, WallHole,
};

impl Skeleton {
    /// Its ring at the floor.
    pub(crate) const fn foot(&self) -> Frame {
        Frame {
            leg: self.leg,
            thickness: self.thickness,
            grams_per_m: self.grams_per_m,
            joint: self.joint,
        }
    }

    fn bar(&self, role: Role, quantity: u32, material: Material, length: Length, end: EndCut) -> Part {
        let sheet = Sheet {
            material,
            thickness: self.thickness,
        };
        let mut bar = Part::plate(role, quantity, sheet, [length, self.leg]);
        bar.ends = [end; 2];
        bar.solid_grams = frame::grams(self.foot(), length);
        bar
    }
}

/// The ring at the rim: its upright leg outside the wall, down from the rim, its level leg standing out, flush with it.
///
/// Long bars, and mitred short ones, reach over the level legs beside them; a butted short bar stands between the long
/// ones, as long as the wall, and needs no coping.
pub(super) fn ring(
    skeleton: &Skeleton,
    material: Material,
    [long, short]: [Length; 2],
    holes: Option<&Holes>,
) -> [Part; 2] {
    let leg = skeleton.leg;
    let over = [long + leg * 2, short + leg * 2];
    let (short_length, short_start, end) = match skeleton.joint {
        Joint::Mitred => (over[1], Length::ZERO, EndCut::Mitre45),
        Joint::Butt => (short, leg, EndCut::Square),
    };
    let mut bars = [
        skeleton.bar(Role::RingLong, 2, material, over[0], end),
        skeleton.bar(Role::RingShort, 2, material, short_length, end),
    ];
    if let Some(holes) = holes {
        let free = leg - skeleton.thickness;
        bars[0].holes = holes.on(&Place::long_bar(over, free, end));
        bars[1].holes = holes.on(&Place::short_bar(over, short_start, free, end));
    }
    bars
}

/// Four posts at the corners, outside the walls, between the two rings.
pub(crate) fn posts(skeleton: &Skeleton, material: Material, shell: &Shell) -> Part {
    skeleton.bar(Role::Post, 4, material, post_length(skeleton, shell), EndCut::Square)
}

/// From the upper edge of the foot's upright, its leg less the foot's thickness and the adhesive above the floor's underside, to the lower
/// edge of the ring's.
pub(crate) fn post_length(skeleton: &Skeleton, shell: &Shell) -> Length {
    shell.height() - skeleton.leg * 2 + skeleton.thickness + shell.line
}

/// Rivet holes in floor, long sides and ends, in the middle of what they share with the angle; how many in all.
///
/// They are drilled on through the angle once the panel is clamped in it, so the bars have none.
pub(crate) fn rivet(skeleton: &Skeleton, shell: &Shell, panels: &mut [Part]) -> u32 {
    let Held::Riveted {
        hole,
        most_pitch,
        heads,
        ..
    } = skeleton.held
    else {
        return 0;
    };
    let mut count = 0;
    for panel in panels {
        let Some([side, lower, upper]) = edges(skeleton, shell, panel.role) else {
            continue;
        };
        let line = [panel.length - side * 2, panel.width - lower - upper];
        let drill = Drill {
            diameter: hole,
            most_pitch,
            purpose: heads.inside(Purpose::Rivet),
        };
        let holes = Holes::on_line([side, lower], line, drill);
        count += holes.pattern.count * panel.quantity;
        panel.holes = holes.all();
    }
    count
}

/// The line that the rivets of one panel of a frame go round on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RivetLine {
    /// Floor, long side or end.
    pub role: Role,
    /// Once round it.
    pub around: Length,
    /// The panel's mass in grams before any hole.
    pub grams: f64,
}

/// The lines of one floor, one long side and one end; none of a box without a frame of angle. They rest on the sizes of
/// panels and angle alone, so they are there before anybody has said how close rivets are.
pub fn rivet_lines(spec: &BoxSpec) -> Vec<RivetLine> {
    let Construction::Framed(skeleton) = &spec.construction else {
        return Vec::new();
    };
    let shell = Shell::of(spec);
    let line = |panel: &Part| {
        let [side, lower, upper] = edges(skeleton, &shell, panel.role)?;
        let around = (panel.length - side * 2 + panel.width - lower - upper) * 2;
        (around > Length::ZERO).then_some(RivetLine {
            role: panel.role,
            around,
            grams: panel.solid_grams,
        })
    };
    shell.panels(spec).iter().filter_map(line).collect()
}

impl Skeleton {
    /// How far its legs reach over the panels behind them, from the space inside on: the posts and the foot's level leg from a
    /// wall, the foot's upright leg from the floor, the ring's from the rim. What of a panel lies between is free.
    pub fn covers(&self, spec: &BoxSpec) -> [Length; 3] {
        let behind = self.leg - self.thickness - self.held.line();
        [behind - spec.wall.thickness, behind - spec.floor.thickness, self.leg].map(|deep| deep.max(Length::ZERO))
    }

    /// How far its rivets stand out of angle and panel, outside and inside; nothing without rivets.
    pub fn rivets_stand(&self) -> [Length; 2] {
        match self.held {
            Held::Riveted { hole, heads, .. } => heads.stand(hole),
            Held::Bonded => [Length::ZERO; 2],
        }
    }
}

/// What the rivets take up outside the angle, as one block round all: from under the foot to over the upper row of the walls.
pub(super) fn band(skeleton: &Skeleton, shell: &Shell, top: Length) -> Option<RimBand> {
    let Held::Riveted { hole, .. } = skeleton.held else {
        return None;
    };
    let [_, _, upper] = edges(skeleton, shell, Role::LongSide)?;
    let [out, _] = skeleton.rivets_stand();
    Some(RimBand {
        is_solid: false,
        out,
        below_top: top + skeleton.thickness + out,
        above_top: shell.height() - upper + hole - top,
    })
}

/// What is kept free for the rivets of a wall: from where to where over its inner face; below zero outside of it.
fn layers(built: &Built, wall: Wall, hole: Length, heads: RivetHeads) -> [[Length; 2]; 2] {
    let out = if wall == Wall::Floor { built.under } else { built.beside };
    let [outside, inside] = heads.free(hole);
    [[-out - outside, -out], [Length::ZERO, inside]]
}

/// The walls that a panel is, and its rivets' holes lie in.
fn walls(spec: &BoxSpec, panel: &Part) -> Vec<Wall> {
    let across = match panel.role {
        Role::Floor => return vec![Wall::Floor],
        Role::End => spec.long_axis(),
        Role::LongSide => 1 - spec.long_axis(),
        _ => return Vec::new(),
    };
    match (panel.wall, across) {
        (Some(wall), _) => vec![wall],
        (None, 0) => vec![Wall::Front, Wall::Rear],
        (None, _) => vec![Wall::Left, Wall::Right],
    }
}

/// A place of a wall on its panel.
fn on(spec: &BoxSpec, panel: &Part, wall: Wall, [along, up]: [Length; 2]) -> [Length; 2] {
    let hole = WallHole {
        wall,
        along,
        up,
        diameter: Length::ZERO,
        purpose: Purpose::Rivet,
    };
    if wall == Wall::Floor {
        on_level(spec, panel, &hole)
    } else {
        on_panel(spec, panel, &hole)
    }
}

/// Spaces the rivets of each panel past what lies over their heads or tails.
pub(super) fn space_past(
    spec: &BoxSpec,
    built: &mut Built,
    (hole, pitches, heads): (Length, past::Pitches, RivetHeads),
    things: &[Block],
    unspaced: &mut Vec<Unspaced>,
) {
    let mut parts = std::mem::take(&mut built.parts);
    for panel in &mut parts {
        let walls = walls(spec, panel);
        let mut covered: Vec<[[Length; 2]; 2]> = Vec::new();
        for &wall in &walls {
            let layers = layers(built, wall, hole, heads);
            let here = things
                .iter()
                .filter_map(|thing| layers.iter().find_map(|&layer| past::before(spec, wall, layer, thing)));
            covered.extend(here.map(|[along, up]| {
                let [a, b] = [0, 1].map(|end| on(spec, panel, wall, [along[end], up[end]]));
                [0, 1].map(|k| past::kept_clear([a[k].min(b[k]), a[k].max(b[k])], hole))
            }));
        }
        let own: Vec<Hole> = panel.holes_for(Purpose::Rivet).copied().collect();
        let is_over = |hole: &Hole| {
            let is_in = |[lo, hi]: [Length; 2], at| lo < at && at < hi;
            covered.iter().any(|[x, y]| is_in(*x, hole.x) && is_in(*y, hole.y))
        };
        if !own.iter().any(is_over) {
            continue;
        }
        let ends = |at: fn(&Hole) -> Length| Some([own.iter().map(at).min()?, own.iter().map(at).max()?]);
        let (Some(x), Some(y)) = (ends(|hole| hole.x), ends(|hole| hole.y)) else {
            continue;
        };
        let (places, needs) = enough_past([x, y], pitches, &covered);
        unspaced.extend(needs.into_iter().map(|needs| Unspaced {
            purpose: Purpose::Rivet,
            wall: walls[0],
            needs,
            most: pitches.past,
        }));
        panel.holes.retain(|hole| hole.purpose.plain() != Purpose::Rivet);
        panel.holes.extend(places.into_iter().map(|[x, y]| Hole {
            x,
            y,
            diameter: hole,
            purpose: heads.inside(Purpose::Rivet),
        }));
        panel.holes.sort_by_key(|hole| (hole.x, hole.y));
    }
    built.parts = parts;
    let rivets = |part: &Part| part.holes_for(Purpose::Rivet).count() * part.quantity as usize;
    let count = built
        .parts
        .iter()
        .filter(|part| is_panel(part))
        .map(rivets)
        .sum::<usize>();
    built.rivets = u32::try_from(count).unwrap_or(u32::MAX);
    built.grams = super::grams(built.parts.iter());
}

/// Places of rivets on the edges of a rectangle, and how far two would be apart on each edge that finds none past what is
/// covered, `None` where its end is; such an edge has those it would have with nothing in the way.
type Past = (Vec<[Length; 2]>, Vec<Option<Length>>);

/// Places past what is covered, no fewer than the edges are long over the pitch: two of them may be farther apart past
/// something than the pitch, and where that leaves too few to share a load, the pitch is taken closer, down to the least.
fn enough_past(edges: [[Length; 2]; 2], mut pitches: past::Pitches, covered: &[[[Length; 2]; 2]]) -> Past {
    let [x, y] = edges.map(|[from, to]| to - from);
    let fewest = intervals((x + y) * 2, pitches.most) as usize;
    loop {
        let found = places_past(edges, pitches, covered);
        let closer = pitches.most - Length::mm(1);
        if found.0.len() >= fewest || closer < pitches.least {
            return found;
        }
        pitches.most = closer;
    }
}

fn places_past([x, y]: [[Length; 2]; 2], pitches: past::Pitches, covered: &[[[Length; 2]; 2]]) -> Past {
    let (mut places, mut unspaced) = (Vec::new(), Vec::new());
    // The rows with their corners, then the columns without.
    for (line, of, levels) in [(0, x, y), (1, y, x)] {
        for level in levels {
            let blocked: Vec<[Length; 2]> = covered
                .iter()
                .filter(|range| range[1 - line][0] < level && level < range[1 - line][1])
                .map(|range| range[line])
                .collect();
            let along = past::spaced(of, pitches, &blocked).unwrap_or_else(|needs| {
                unspaced.push(needs);
                past::spaced(of, pitches, &[]).unwrap_or_default()
            });
            let inner = along.len().saturating_sub(1);
            let along = if line == 0 { &along[..] } else { &along[1..inner.max(1)] };
            places.extend(
                along
                    .iter()
                    .map(|&at| if line == 0 { [at, level] } else { [level, at] }),
            );
        }
    }
    (places, unspaced)
}

pub(super) const fn is_panel(part: &Part) -> bool {
    matches!(part.role, Role::Floor | Role::LongSide | Role::End)
}

/// What is kept free for the rivets of the panels beyond panel and angle, each with its wall: outside and inside, in the frame of
/// the space inside the steel.
pub(super) fn rivet_ends(spec: &BoxSpec, heads: RivetHeads, built: &Built) -> Vec<(Wall, [Block; 2])> {
    let mut found = Vec::new();
    for panel in built.parts.iter().filter(|part| is_panel(part)) {
        for wall in walls(spec, panel) {
            // From a place on the panel back to the wall: the same sizes, from the corner that lies at its beginning.
            let zero = on(spec, panel, wall, [Length::ZERO; 2]);
            let step = Length::mm(1);
            let [one_along, one_up] = [[step, Length::ZERO], [Length::ZERO, step]].map(|at| on(spec, panel, wall, at));
            let sign = |from: Length, to: Length| (to - from).nm().signum();
            let is_turned = one_along[0] == zero[0];
            for hole in panel.holes_for(Purpose::Rivet) {
                let off = [hole.x - zero[0], hole.y - zero[1]];
                let at = if is_turned {
                    [off[1] * sign(zero[1], one_along[1]), off[0] * sign(zero[0], one_up[0])]
                } else {
                    [off[0] * sign(zero[0], one_along[0]), off[1] * sign(zero[1], one_up[1])]
                };
                let ranges = at.map(|middle| [middle - hole.diameter, middle + hole.diameter]);
                let layers = layers(built, wall, hole.diameter, heads);
                found.push((wall, layers.map(|heights| past::layer(spec, wall, heights, ranges))));
            }
        }
    }
    found
}

/// How far the rivets' line runs inside a panel's edges: left and right, below, above.
pub(crate) fn edges(skeleton: &Skeleton, shell: &Shell, role: Role) -> Option<[Length; 3]> {
    let shared = skeleton.leg - skeleton.thickness - shell.line;
    let middle = shared.half_down();
    let lower = (shared - shell.floor).half_down();
    match role {
        Role::Floor => Some([middle, middle, middle]),
        Role::LongSide => Some([middle, lower, skeleton.leg.half_down()]),
        // An end stands between the long sides.
        Role::End => Some([middle - shell.wall, lower, skeleton.leg.half_down()]),
        _ => None,
    }
}

/// What one panel of this role shares with the angle round it: where it is riveted or bonded.
///
/// As wide on each side as twice the way to the middle of the rivets' line, so never more than there is.
pub(super) fn shared(skeleton: &Skeleton, shell: &Shell, panel: &Part) -> Option<Area> {
    let [side, lower, upper] = edges(skeleton, shell, panel.role)?;
    let free = [panel.length - side * 4, panel.width - (lower + upper) * 2].map(|free| free.max(Length::ZERO));
    Some(panel.length * panel.width - free[0] * free[1])
}

/// What ring and posts add to the outside of the panels. Each leg covers as much of a panel as it is itself, so it is only
/// that they stand out by their thickness at the corners, and the free edges: two of each post, the lower one of the ring.
pub(crate) fn coat_area(skeleton: &Skeleton, shell: &Shell) -> Area {
    let Skeleton { leg, thickness, .. } = *skeleton;
    let posts = post_length(skeleton, shell);
    let girth: Length = shell.within_angle().into_iter().sum();
    let corners = (leg + posts) * ((thickness + shell.line) * 8);
    let edges = posts * (thickness * 8) + girth * 2 * thickness;
    corners + edges
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 561 by 100 mm at 53: 1322 / 53 = 24.9, so 25. Four things of 74 on both rows leave five spans of 53, one pitch each: ten
    /// rivets a row, one in the middle of each column, 22. At 52 the spans are parted, fifteen a row: 32, none over 74 apart.
    #[test]
    fn things_in_the_way_never_take_rivets_that_the_load_needs() {
        let pitches = past::Pitches {
            most: Length::mm(53),
            past: Length::mm(75),
            least: Length::mm(15),
        };
        let covered: Vec<[[Length; 2]; 2]> = (0..4)
            .flat_map(|i| [0, 100].map(|y| [[53 + i * 127, 127 + i * 127], [y - 1, y + 1]]))
            .map(|block| block.map(|range| range.map(Length::mm)))
            .collect();
        let edges = [[0, 561], [0, 100]].map(|edge| edge.map(Length::mm));
        assert_eq!(places_past(edges, pitches, &covered).0.len(), 22);
        let (places, needs) = enough_past(edges, pitches, &covered);
        assert_eq!((places.len(), needs), (32, vec![]));
    }
}
