//! Room for a spanner or a hand at what is screwed beside the lid: mount bolts on feet and in webs, nuts of hold-down bars with the lid
//! off, glands, the disconnect.
//!
//! How much a tool takes is common practice, known by: memory.

use enclosure::Role;
use enclosure::added::{Block, Reach};
use geometry::{Axis, Cuboid, Face, Faces, Point};
use tape::Length;

use super::boxes::{BoxResult, in_front};
use super::cavity::CavityResult;
use super::reach::{beyond, ring, room_over};
use crate::document::FittingName;

/// Socket and ratchet, or a ring spanner with a hand, over a nut or head.
const TOOL: Length = Length::mm(60);
/// Beside a gland, for the jaw of a spanner; before a bolt in a web, for its head and the ring of a spanner.
const JAW: Length = Length::mm(20);
/// From the middle of a bolt to the end of the spanner's handle, which swings by a sixth of a turn.
const HANDLE: Length = Length::mm(150);
/// Before a disconnect, for a hand.
const HAND: Length = Length::mm(100);

/// Where room for a tool is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum At {
    /// Over a mount bolt that stands in the foot of a bracket.
    MountBolt,
    /// Before a mount bolt that lies in the web of a rail, between bracket and box.
    WebBolt,
    /// Over the nut of a hold-down bar, the lid off.
    HoldDownNut,
    /// Beside a gland.
    Gland,
    /// Before the disconnect.
    Disconnect,
}

impl At {
    /// The words for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::MountBolt => "over a mount bolt, for a socket",
            Self::WebBolt => {
                "between box and bracket at a mount bolt in a web, for a ring spanner that swings by a sixth of a turn"
            }
            Self::HoldDownNut => "over the nut of a hold-down bar, for a ring spanner with the lid off",
            Self::Gland => "beside a gland, for the jaw of a spanner",
            Self::Disconnect => "before the disconnect, for a hand",
        }
    }

    /// How much: over a head, beside a body, before a handle.
    pub const fn needs(self) -> Length {
        match self {
            Self::MountBolt | Self::HoldDownNut => TOOL,
            Self::Gland | Self::WebBolt => JAW,
            Self::Disconnect => HAND,
        }
    }

    /// What would mend it.
    pub const fn fix(self) -> &'static str {
        match self {
            Self::MountBolt => "set the brackets lower or move them, or use studs with the nut where there is room",
            Self::WebBolt => {
                "turn the bolt round so that it is tightened from inside the rail, take a wider leg, or move the bracket"
            }
            Self::HoldDownNut => "use an open-ended spanner, take a wider lug, or move the bar",
            Self::Gland => "move the gland, or screw it in before the box goes in",
            Self::Disconnect => "let it into another wall, or move what is before it",
        }
    }
}

/// Places without room for a tool that one thing takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NoRoom {
    /// Where.
    pub at: At,
    /// What is in the way.
    pub by: String,
    /// At how many places.
    pub count: u32,
    /// Of how many.
    pub of: u32,
}

/// What stands where tools have to go, for each box.
pub(super) fn of(boxes: &[BoxResult], cavities: &[CavityResult], mount_bolt: Length) -> Vec<Vec<NoRoom>> {
    let one = |battery_box: &BoxResult| {
        let cavity = cavities.iter().find(|c| c.id == battery_box.cavity);
        let mut found = Vec::new();
        let round = around(battery_box, boxes, cavity);
        let space = cavity.and_then(|cavity| cavity.usable);
        let own = own_rim(battery_box);
        let feet: Vec<Cuboid> = match battery_box.added.mount.map(|mount| mount.reach) {
            Some(Reach::Foot) => {
                let bolts = battery_box.added.mount_bolts.iter();
                bolts.map(|&at| room_over(at, ring(mount_bolt), TOOL)).collect()
            }
            _ => Vec::new(),
        };
        let mut before = round.clone();
        before.extend(own.iter().map(|rim| ("its own rim".to_owned(), *rim)));
        gather(At::MountBolt, &feet, &before, space, &mut found);
        in_web(battery_box, &before, space, ring(mount_bolt), &mut found);
        let (nuts, inside, steel) = nuts(battery_box);
        gather(At::HoldDownNut, &nuts, &inside, steel, &mut found);
        let mut beside = round;
        let fittings = battery_box.fittings.iter();
        beside.extend(fittings.clone().filter_map(|f| Some((f.label.clone(), f.outside?))));
        let of = |what| fittings.clone().filter(move |f| f.what == what && f.fault.is_none());
        for gland in of(FittingName::Gland) {
            let Some(body) = gland.outside else { continue };
            let wide = Faces(Face::ALL.map(|face| {
                if face.axis() == gland.wall.axis() {
                    Length::ZERO
                } else {
                    JAW
                }
            }));
            let Some(room) = body.grown(wide) else { continue };
            let mut others: Vec<(String, Cuboid)> =
                beside.iter().filter(|(_, solid)| *solid != body).cloned().collect();
            if gland.in_riser {
                let own = battery_box.body_solids().into_iter();
                others.extend(own.map(|solid| ("its own raised floor".to_owned(), solid)));
            }
            gather(At::Gland, &[room], &others, space, &mut found);
        }
        // Each gland has its own neighbours; what stands beside several is told once, of them all.
        let glands = u32::try_from(of(FittingName::Gland).count()).unwrap_or(u32::MAX);
        for no_room in found.iter_mut().filter(|no_room| no_room.at == At::Gland) {
            no_room.of = glands;
        }
        for disconnect in of(FittingName::Disconnect) {
            let Some(body) = disconnect.outside else { continue };
            let room = in_front(&body, disconnect.wall, HAND);
            let others: Vec<(String, Cuboid)> = beside.iter().filter(|(_, solid)| *solid != body).cloned().collect();
            gather(At::Disconnect, &[room], &others, space, &mut found);
        }
        found
    };
    boxes.iter().map(one).collect()
}

/// What is in the way of a ring spanner on the bolts of brackets that hang down a web: its head, and its handle, which may
/// swing straight down, or down to either side from where it lies level.
fn in_web(
    battery_box: &BoxResult,
    before: &[(String, Cuboid)],
    space: Option<Cuboid>,
    across: Length,
    found: &mut Vec<NoRoom>,
) {
    let (Some(mount), Some(body)) = (battery_box.added.mount, battery_box.body) else {
        return;
    };
    if mount.reach != Reach::Web {
        return;
    }
    let mut solids = before.to_vec();
    solids.push(("its own wall".to_owned(), body));
    let brackets = battery_box.added.brackets.iter();
    solids.extend(brackets.map(|solid| ("a bracket".to_owned(), *solid)));
    let fittings = battery_box.fittings.iter();
    solids.extend(fittings.filter_map(|f| Some((f.label.clone(), f.outside?))));
    let is_free = |room: &Cuboid| {
        !solids.iter().any(|(_, solid)| room.overlaps(solid))
            && space.is_none_or(|space| beyond(&space, room).is_none())
    };
    let rooms: Vec<Cuboid> = battery_box
        .added
        .mount_bolts
        .iter()
        .filter_map(|&at| {
            let face = [Face::Front, Face::Rear, Face::Left, Face::Right]
                .into_iter()
                .find(|&face| is_beyond(&body, face, at))?;
            let [head, swings @ ..] = spanner(at, face, mount.thickness, across);
            let [down, ..] = swings;
            let blocked = is_free(&head) && !swings.iter().any(is_free);
            Some(if blocked { down } else { head })
        })
        .collect();
    gather(At::WebBolt, &rooms, &solids, space, found);
}

/// Whether a place lies out beyond a face of a body.
fn is_beyond(body: &Cuboid, face: Face, at: Point) -> bool {
    let (own, wall) = (at[face.axis()], body.face(face));
    if face.is_high() { own > wall } else { own < wall }
}

/// The room of a ring spanner on a bolt in the middle of a hanging leg of this thickness: its head; then its handle
/// swinging straight down, down from level towards the low end of the wall, and towards its high end.
fn spanner(at: Point, face: Face, thickness: Length, across: Length) -> [Cuboid; 4] {
    let axis = face.axis();
    let along = if axis == Axis::X { Axis::Y } else { Axis::X };
    let half = across.half_down();
    let leg = thickness.half_down();
    let room = |from: Length, to: Length, down: Length, up: Length| {
        let (mut lo, mut hi) = (at, at);
        if face.is_high() {
            hi[axis] -= leg;
            lo[axis] = hi[axis] - JAW;
        } else {
            lo[axis] += leg;
            hi[axis] = lo[axis] + JAW;
        }
        lo[along] -= from;
        hi[along] += to;
        lo[Axis::Z] -= down;
        hi[Axis::Z] += up;
        Cuboid::between(lo, hi)
    };
    // A sixth of a turn: half the handle to each side of straight down, 0.87 of it below level.
    let aside = HANDLE.half_down();
    let below = Length::from_nm(HANDLE.nm() * 87 / 100);
    [
        room(half, half, half, half),
        room(aside, aside, HANDLE, half),
        room(HANDLE, half, below, half),
        room(half, HANDLE, below, half),
    ]
}

/// Other boxes of the cavity and what is kept out of it, by name.
fn around(battery_box: &BoxResult, boxes: &[BoxResult], cavity: Option<&CavityResult>) -> Vec<(String, Cuboid)> {
    let others = boxes
        .iter()
        .filter(|b| b.cavity == battery_box.cavity && b.id != battery_box.id);
    let mut solids: Vec<(String, Cuboid)> = others
        .flat_map(|b| b.solids.iter().map(|&solid| (b.name.clone(), solid)))
        .collect();
    let keep_outs = cavity
        .iter()
        .flat_map(|cavity| cavity.keep_outs.iter().filter(|k| k.counts));
    solids.extend(keep_outs.map(|k| (k.name.clone(), k.cuboid)));
    solids
}

/// The band of flange, cap and what hangs below it, round the body.
fn own_rim(battery_box: &BoxResult) -> Option<Cuboid> {
    let (body, made) = (battery_box.body?, battery_box.built.as_ref()?);
    let bands = made.rims.iter().filter(|band| !band.above_top.is_negative());
    let widest = bands.max_by_key(|band| band.out)?;
    let (mut lo, mut hi) = (body.lo(), body.hi());
    for axis in [Axis::X, Axis::Y] {
        lo[axis] -= widest.out;
        hi[axis] += widest.out;
    }
    lo[Axis::Z] = hi[Axis::Z] - widest.below_top;
    Some(Cuboid::between(lo, hi))
}

/// The room for a ring spanner over each nut of a hold-down bar, what stands in the box, and the space inside its steel.
fn nuts(battery_box: &BoxResult) -> (Vec<Cuboid>, Vec<(String, Cuboid)>, Option<Cuboid>) {
    let Some((made, steel)) = battery_box.built.as_ref().zip(battery_box.added.steel) else {
        return (Vec::new(), Vec::new(), None);
    };
    let place = |block: &Block| Cuboid::between(steel.lo() + Point(block.lo), steel.lo() + Point(block.hi));
    let thread = battery_box
        .added
        .held_down
        .as_ref()
        .map_or(Length::ZERO, |held| held.thread);
    let tools = made.nuts.iter().map(|nut| {
        let nut = place(nut);
        let mut middle = nut.lo();
        for axis in [Axis::X, Axis::Y] {
            middle[axis] = (nut.lo()[axis] + nut.hi()[axis]).half_down();
        }
        room_over(middle, ring(thread), TOOL)
    });
    let tools: Vec<Cuboid> = tools.collect();
    let pieces = made.added.iter().filter(|piece| {
        matches!(
            piece.role,
            Role::Lug | Role::HoldDownAngle | Role::Divider | Role::EndPlate
        )
    });
    let mut inside: Vec<(String, Cuboid)> = pieces
        .map(|piece| (format!("a {}", piece.role.name()), place(&piece.block)))
        .collect();
    inside.extend(battery_box.modules.iter().map(|m| (m.label.clone(), m.cuboid)));
    inside.extend(
        battery_box
            .fittings
            .iter()
            .filter_map(|f| Some((f.label.clone(), f.inside?))),
    );
    // The lid is off, so there is no end above.
    let mut high = steel.hi();
    high[Axis::Z] += TOOL * 4;
    (tools, inside, Some(Cuboid::between(steel.lo(), high)))
}

/// Notes at how many of the places something is in the way: a solid, else the end of the space on a level axis.
fn gather(at: At, tools: &[Cuboid], solids: &[(String, Cuboid)], space: Option<Cuboid>, found: &mut Vec<NoRoom>) {
    let of = u32::try_from(tools.len()).unwrap_or(u32::MAX);
    for tool in tools {
        let solid = solids
            .iter()
            .find(|(_, solid)| tool.overlaps(solid))
            .map(|(name, _)| name.clone());
        let Some(by) = solid.or_else(|| Some(format!("the {} wall", beyond(space.as_ref()?, tool)?.name()))) else {
            continue;
        };
        match found.iter_mut().find(|no_room| no_room.at == at && no_room.by == by) {
            Some(same) => same.count += 1,
            None => found.push(NoRoom { at, by, count: 1, of }),
        }
    }
}
