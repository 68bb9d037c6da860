//! What holds a cap down on its gasket: screws through skirt and wall, or toggle clamps on the walls.

use tape::Length;

use super::RimBand;
use super::holes::intervals;
use super::past::{self, Unspaced};
use super::shell::Shell;
use super::wall_holes::{on_panel, on_tray};
use crate::added::Block;
use crate::build::lid::pan;
use crate::check::MOST_INTERVALS;
use crate::{BoxSpec, Built, CapHold, Construction, Hole, Lid, Part, Purpose, Role, SideScrew, Wall, WallHole};

/// The four walls that a skirt hangs over.
const SIDES: [Wall; 4] = [Wall::Front, Wall::Rear, Wall::Left, Wall::Right];

/// How high and low over its middle a toggle clamp reaches, from memory of the trade: it is as tall as a finger is long.
const TOGGLE_HALF: Length = Length::mm(35);

/// A cap that is held, with where the line of what holds it runs.
struct Held {
    hold: CapHold,
    /// From the top of the plate down to the line.
    below_top: Length,
    /// From the floor inside up to the line.
    up: Length,
    /// What skirt and wall have in common, from its upper edge to its lower one.
    overlap: Length,
}

fn held(spec: &BoxSpec) -> Option<Held> {
    let Lid::Cap {
        sheet,
        deep,
        gasket,
        hold: Some(hold),
        ..
    } = spec.lid
    else {
        return None;
    };
    let above_rim = crate::check::squeezed(gasket) + sheet.thickness;
    let overlap = deep - above_rim;
    let half = overlap.half_down();
    Some(Held {
        hold,
        below_top: above_rim + half,
        up: spec.inside[2] - half,
        overlap,
    })
}

/// What skirt and wall have in common, for the screws between them; `None` when no screws hold a cap.
pub(crate) fn screwed(spec: &BoxSpec) -> Option<(SideScrew, Length)> {
    match held(spec)? {
        Held {
            hold: CapHold::Screws(screw),
            overlap,
            ..
        } => Some((screw, overlap)),
        _ => None,
    }
}

/// How long the sleeves are between skirt and wall: the gap, less the rim of the nut that stands in it.
pub(super) fn sleeve(spec: &BoxSpec) -> Option<Length> {
    let Lid::Cap {
        sheet,
        out,
        hold: Some(CapHold::Screws(screw)),
        ..
    } = spec.lid
    else {
        return None;
    };
    let long = out - sheet.thickness - screw.nut_rim;
    (long > Length::ZERO).then_some(long)
}

/// Places along a wall of this length: as few as the pitch allows, two at least, half a pitch from each corner.
fn places(side: Length, most_pitch: Length) -> Vec<Length> {
    // Of a box that is not checked yet.
    if most_pitch <= Length::ZERO || most_pitch * MOST_INTERVALS < side {
        return Vec::new();
    }
    places_of(side, i64::from(intervals(side, most_pitch)).max(2))
}

/// So many places, each in the middle of its share.
fn places_of(side: Length, count: i64) -> Vec<Length> {
    let place = |i: i64| {
        let from_low = |i: i64| Length::from_nm((side.nm() * (2 * i + 1)).div_euclid(2 * count));
        // The second half mirrors the first, so that opposite walls are one piece, whichever way round.
        if 2 * i < count {
            from_low(i)
        } else {
            side - from_low(count - 1 - i)
        }
    };
    (0..count).map(place).collect()
}

/// Along a wall: its length inside.
fn side(spec: &BoxSpec, wall: Wall) -> Length {
    spec.inside[1 - wall.across().unwrap_or(0)]
}

/// The holes in the walls for the nuts of the screws that hold a cap.
pub(crate) fn holes(spec: &BoxSpec) -> Vec<WallHole> {
    match held(spec) {
        Some(Held {
            hold: CapHold::Screws(screw),
            up,
            ..
        }) => on_walls(spec, screw.fastener.most_pitch, up, screw.nut_hole),
        _ => Vec::new(),
    }
}

/// Where toggle clamps hold a cap.
pub(super) fn clamps(spec: &BoxSpec) -> Vec<WallHole> {
    match held(spec) {
        Some(Held {
            hold: CapHold::Toggles(toggle),
            up,
            ..
        }) => on_walls(spec, toggle.most_pitch, up, Length::ZERO),
        _ => Vec::new(),
    }
}

fn on_walls(spec: &BoxSpec, most_pitch: Length, up: Length, diameter: Length) -> Vec<WallHole> {
    let on_wall = |wall| {
        let places = places(side(spec, wall), most_pitch);
        places.into_iter().map(move |along| WallHole {
            wall,
            along,
            up,
            diameter,
            purpose: Purpose::LidNut,
        })
    };
    SIDES.into_iter().flat_map(on_wall).collect()
}

/// What stands out from the skirt, as one band round it.
pub(super) fn band(spec: &BoxSpec, out: Length) -> Option<RimBand> {
    let held = held(spec)?;
    let (reach, half) = match held.hold {
        // A head is about twice as wide as its thread.
        CapHold::Screws(screw) => (screw.fastener.head_height, screw.fastener.diameter),
        CapHold::Toggles(toggle) => (toggle.out, TOGGLE_HALF),
    };
    Some(RimBand {
        is_solid: true,
        out: out + reach,
        below_top: held.below_top + half,
        above_top: half - held.below_top,
    })
}

/// How many clamps, and what is bought of them; screws are [`Built::side_screws`].
pub(super) fn bought(spec: &BoxSpec) -> Option<(String, u32)> {
    let count = u32::try_from(clamps(spec).len()).unwrap_or(u32::MAX);
    (count > 0).then(|| ("toggle clamps with what fixes them".to_owned(), count))
}

/// What the nuts take up inside the walls, in the frame of the space inside the steel.
pub(super) fn nuts(spec: &BoxSpec, holes: &[WallHole]) -> Vec<Block> {
    let Some((screw, _)) = screwed(spec) else {
        return Vec::new();
    };
    let half = screw.nut_hole - screw.nut_hole.half_down();
    let around = |middle: Length| [middle - half, middle + half];
    let block = |hole: &WallHole| {
        let axis = hole.wall.across().unwrap_or(0);
        let inside = if hole.wall.is_high() {
            [spec.inside[axis] - screw.fastener.below, spec.inside[axis]]
        } else {
            [Length::ZERO, screw.fastener.below]
        };
        let mut ranges = [around(hole.along); 3];
        ranges[axis] = inside;
        ranges[2] = around(hole.up);
        Block::of(ranges)
    };
    holes.iter().map(block).collect()
}

/// Puts the holes of the screws into walls and skirt. Opposite walls have the same, so a pair stays one.
pub(super) fn drill(spec: &BoxSpec, shell: &Shell, parts: &mut [Part], holes: &[WallHole]) {
    let Some((screw, overlap)) = screwed(spec) else { return };
    let through = |part: &mut Part, [x, y]: [Length; 2], diameter, purpose| {
        part.holes.push(Hole {
            x,
            y,
            diameter,
            purpose,
        });
    };
    let screw_hole = (screw.fastener.hole, Purpose::LidScrew);
    for &hole in holes {
        let is_end = hole.wall.across() == Some(spec.long_axis());
        for part in parts.iter_mut() {
            match part.role {
                Role::Tray => {
                    let Construction::Folded(folding) = spec.construction else {
                        continue;
                    };
                    let at = on_tray(spec, &shell.tray(spec, folding), part, &hole);
                    through(part, at, hole.diameter, hole.purpose);
                }
                Role::PanLid => {
                    let Some(pan) = pan(spec, shell) else { continue };
                    // Told from the pan's own floor, which is the underside of the lid, and drawn from under it.
                    let up = pan.depth - overlap.half_down();
                    let [x, y] = on_tray(spec, &pan, part, &WallHole { up, ..hole });
                    let at = [x, part.width - y];
                    through(part, at, screw_hole.0, screw_hole.1);
                }
                // One of a pair is for both, unless they differ.
                _ if part.wall.is_some_and(|wall| wall != hole.wall) => {}
                _ if part.wall.is_none() && hole.wall.is_high() => {}
                Role::End if is_end => {
                    let at = on_panel(spec, part, &hole);
                    through(part, at, hole.diameter, hole.purpose);
                }
                Role::LongSide if !is_end => {
                    let at = on_panel(spec, part, &hole);
                    through(part, at, hole.diameter, hole.purpose);
                }
                Role::SkirtShort if is_end => {
                    let at = on_strip(spec, part, &hole, overlap);
                    through(part, at, screw_hole.0, screw_hole.1);
                }
                Role::SkirtLong if !is_end => {
                    let at = on_strip(spec, part, &hole, overlap);
                    through(part, at, screw_hole.0, screw_hole.1);
                }
                _ => {}
            }
        }
    }
    for part in parts {
        part.holes.sort_by_key(|hole| (hole.x, hole.y));
    }
}

/// Spaces the screws past what stands where their nuts stand in from the walls, the same on opposite walls.
pub(super) fn space_past(spec: &BoxSpec, built: &mut Built, things: &[Block], unspaced: &mut Vec<Unspaced>) {
    let (Some((screw, _)), Some(held)) = (screwed(spec), held(spec)) else {
        return;
    };
    let radius = screw.nut_hole - screw.nut_hole.half_down();
    let [low, high] = [held.up - radius, held.up + radius];
    let mut moved = Vec::new();
    for pair in [[Wall::Front, Wall::Rear], [Wall::Left, Wall::Right]] {
        let side = side(spec, pair[0]);
        let mut blocked = Vec::new();
        for wall in pair {
            let here = things.iter().filter_map(|thing| {
                let [along, up] = past::before(spec, wall, [Length::ZERO, screw.fastener.below], thing)?;
                (up[0] < high && low < up[1]).then(|| past::kept_clear(along, radius))
            });
            blocked.extend(here);
        }
        if blocked.is_empty() {
            continue;
        }
        // From either end alike, so that opposite walls are one piece; those of a tray need not be.
        let alike: Vec<[Length; 2]> = blocked
            .iter()
            .flat_map(|&[lo, hi]| [[lo, hi], [side - hi, side - lo]])
            .collect();
        let places = past_corners(side, &screw, &alike).or_else(|needs| match spec.construction {
            Construction::Folded(_) => past_corners(side, &screw, &blocked),
            Construction::Welded | Construction::Framed(_) => Err(needs),
        });
        match places {
            Ok(places) => moved.push((pair, places)),
            Err(needs) => unspaced.push(Unspaced {
                purpose: Purpose::LidNut,
                wall: pair[0],
                needs,
                most: screw.fastener.most_pitch,
            }),
        }
    }
    if moved.is_empty() {
        return;
    }
    let up = held.up;
    for (pair, places) in moved {
        built.side_screws.retain(|hole| !pair.contains(&hole.wall));
        built.side_screws.extend(pair.into_iter().flat_map(|wall| {
            places.iter().map(move |&along| WallHole {
                wall,
                along,
                up,
                diameter: screw.nut_hole,
                purpose: Purpose::LidNut,
            })
        }));
    }
    let order = |hole: &WallHole| SIDES.iter().position(|&wall| wall == hole.wall);
    built.side_screws.sort_by_key(|hole| (order(hole), hole.along));
    for part in &mut built.parts {
        let own = match part.role {
            Role::Tray | Role::End | Role::LongSide => Purpose::LidNut,
            Role::PanLid | Role::SkirtLong | Role::SkirtShort => Purpose::LidScrew,
            _ => continue,
        };
        part.holes.retain(|hole| hole.purpose != own);
    }
    drill(spec, &Shell::of(spec), &mut built.parts, &built.side_screws);
    built.lid_nuts = nuts(spec, &built.side_screws);
    built.grams = super::grams(built.parts.iter());
}

/// Places along a wall past what is blocked: as few as can be of even ones, else from about half a pitch from one corner to as
/// far from the other.
fn past_corners(side: Length, screw: &SideScrew, blocked: &[[Length; 2]]) -> Result<Vec<Length>, Option<Length>> {
    let is_clear = |place: Length| past::is_clear(place, blocked);
    let pitches = past::Pitches {
        most: screw.fastener.most_pitch,
        past: screw.fastener.most_pitch,
        least: screw.nut_hole * 2,
    };
    let fewest = i64::from(intervals(side, pitches.most)).max(2);
    let few = (fewest..fewest + 4).map(|count| places_of(side, count));
    let mut even = few.filter(|places| places.len() < 2 || places[1] - places[0] >= pitches.least);
    if let Some(places) = even.find(|places| places.iter().all(|&place| is_clear(place))) {
        return Ok(places);
    }
    let half = pitches.most.half_down();
    let usual = places_of(side, fewest)[0];
    // About half a pitch from the corner, or nearer to it, but not so near that it meets the nut of the next wall.
    let radius = screw.nut_hole - screw.nut_hole.half_down();
    let nearest = screw.nut_hole.max(screw.fastener.below + radius);
    let farthest = half.min((side - pitches.least).half_down());
    let from_corner = |place: &dyn Fn(Length) -> Length| {
        let edges = blocked.iter().flatten().map(|&edge| place(edge));
        std::iter::once(usual)
            .chain(edges)
            .filter(|&start| start >= nearest && start <= farthest && is_clear(place(start)))
            .max()
            .ok_or(None)
    };
    let start = from_corner(&|place| place)?;
    let end = from_corner(&|place| side - place)?;
    past::spaced([start, side - end], pitches, blocked)
}

/// On a strip of the skirt, its lower edge at y = 0.
fn on_strip(spec: &BoxSpec, strip: &Part, hole: &WallHole, overlap: Length) -> [Length; 2] {
    let from_low = (strip.length - side(spec, hole.wall)).half_down() + hole.along;
    [from_low, overlap - overlap.half_down()]
}

#[cfg(test)]
mod tests;
