//! The obvious checker: every rule of a request, one after another, straight from its words.
//!
//! It shares nothing with the search, so that neither can hide a slip of the other.

use std::fmt;

use tape::Length;

use super::{BoxRule, Cavity, Kind, Layout, Placement, Request, Wanted};
use crate::{Axis, Cuboid, Face, Faces};

/// The first rule found broken, with the places in the layout and the request.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flaw {
    /// A placement or a box names a cavity, a box or a kind that is not there, or a box in another cavity.
    Index {
        /// Index of the placement, or of the box if `of_box`.
        index: usize,
        /// Whether a box is meant.
        of_box: bool,
    },
    /// An orientation the kind does not allow.
    Orientation {
        /// Index of the placement.
        placement: usize,
    },
    /// A cuboid that is not the module's or the stack's size.
    Size {
        /// Index of the placement.
        placement: usize,
    },
    /// A stack of too few or too many modules, or several modules that are no stack.
    StackCount {
        /// Index of the placement.
        placement: usize,
    },
    /// A module too near a wall, of the cavity or of the box it is in.
    ModuleToWall {
        /// Index of the placement.
        placement: usize,
        /// The wall.
        face: Face,
    },
    /// A bare module too near a keep-out, or a keep-out in its service space.
    ModuleToKeepOut {
        /// Index of the placement.
        placement: usize,
        /// Index of the keep-out in its cavity.
        keep_out: usize,
    },
    /// Two modules nearer than the gap along every axis.
    Gap {
        /// Index of one placement.
        first: usize,
        /// Index of the other.
        second: usize,
    },
    /// A solid in a module's service space.
    Service {
        /// Index of the placement whose space it is.
        placement: usize,
        /// Index of the one that stands in it.
        other: usize,
    },
    /// Two modules of one box one over the other where nothing carries an upper tier.
    Tiers {
        /// Index of one placement.
        first: usize,
        /// Index of the other.
        second: usize,
    },
    /// A body that is not the inside with its shell, or a bay that is missing, unasked for or on a wrong side.
    Body {
        /// Index of the box.
        index: usize,
    },
    /// A body lower than its flange or cap needs.
    TooLow {
        /// Index of the box.
        index: usize,
    },
    /// A box or a rim too near a wall.
    BoxToWall {
        /// Index of the box.
        index: usize,
        /// The wall.
        face: Face,
    },
    /// A box or a rim too near a keep-out.
    BoxToKeepOut {
        /// Index of the box.
        index: usize,
        /// Index of the keep-out in its cavity.
        keep_out: usize,
    },
    /// Two boxes too near each other.
    Apart {
        /// Index of one box.
        first: usize,
        /// Index of the other.
        second: usize,
    },
    /// A box over the mass limit.
    Mass {
        /// Index of the box.
        index: usize,
    },
    /// More boxes in a cavity than allowed.
    Boxes {
        /// Index of the cavity.
        cavity: usize,
    },
    /// A box with nothing in it, a boxed module where none are asked for, or the other way round.
    Boxing,
    /// A pinned module that was moved, changed or left out, or is not in its turn.
    Pinned {
        /// Index into [`Request::pinned`].
        pinned: usize,
    },
    /// `count` or `by_kind` do not tell what is there.
    Count,
    /// More of a kind than are on hand or wanted.
    TooMany {
        /// Index of the kind.
        kind: usize,
    },
    /// Strings were wanted and the count makes no whole number of them.
    BrokenString,
    /// `to_spare` is not what is to spare.
    ToSpare,
}

impl fmt::Display for Flaw {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Index { index, of_box: true } => write!(f, "box {index} is nowhere"),
            Self::Index { index, of_box: false } => write!(f, "placement {index} is nowhere"),
            Self::Orientation { placement } => {
                write!(f, "placement {placement} stands as it must not")
            }
            Self::Size { placement } => write!(f, "placement {placement} has the wrong size"),
            Self::StackCount { placement } => {
                write!(f, "placement {placement} stacks a wrong number")
            }
            Self::ModuleToWall { placement, face } => {
                write!(f, "placement {placement} is too near the {} wall", face.name())
            }
            Self::ModuleToKeepOut { placement, keep_out } => {
                write!(f, "placement {placement} is too near keep-out {keep_out}")
            }
            Self::Gap { first, second } => {
                write!(f, "placements {first} and {second} are nearer than the gap")
            }
            Self::Service { placement, other } => {
                write!(f, "placement {other} stands in the service space of {placement}")
            }
            Self::Tiers { first, second } => {
                write!(f, "placements {first} and {second} stand one over the other")
            }
            Self::Body { index } => {
                write!(f, "box {index} is not its inside with its shell and bay")
            }
            Self::TooLow { index } => write!(f, "box {index} is lower than its lid needs"),
            Self::BoxToWall { index, face } => {
                write!(f, "box {index} is too near the {} wall", face.name())
            }
            Self::BoxToKeepOut { index, keep_out } => {
                write!(f, "box {index} is too near keep-out {keep_out}")
            }
            Self::Apart { first, second } => {
                write!(f, "boxes {first} and {second} are too near each other")
            }
            Self::Mass { index } => write!(f, "box {index} is too heavy"),
            Self::Boxes { cavity } => write!(f, "too many boxes in cavity {cavity}"),
            Self::Boxing => write!(f, "an empty box, or a module boxed or bare against the request"),
            Self::Pinned { pinned } => write!(f, "pinned {pinned} is not where it was"),
            Self::Count => write!(f, "the counts do not add up"),
            Self::TooMany { kind } => write!(f, "more of kind {kind} than there are or are wanted"),
            Self::BrokenString => write!(f, "the count makes no whole number of strings"),
            Self::ToSpare => write!(f, "the clearance to spare is not as told"),
        }
    }
}

impl std::error::Error for Flaw {}

/// Checks a layout against every rule of the request.
///
/// # Errors
///
/// The first rule found broken.
pub fn check(request: &Request, layout: &Layout) -> Result<(), Flaw> {
    indices(request, layout)?;
    let in_turn = |(i, pinned): (usize, &Placement)| layout.placements.get(i) == Some(pinned);
    if let Some(pinned) = request.pinned.iter().enumerate().position(|pinned| !in_turn(pinned)) {
        return Err(Flaw::Pinned { pinned });
    }
    for (index, placement) in layout.placements.iter().enumerate() {
        as_built(request, index, placement)?;
        walls_and_keep_outs(request, layout, index, placement)?;
    }
    pairs(request, layout)?;
    if let Some(rule) = &request.boxes {
        boxes(request, rule, layout)?;
    }
    counts(request, layout)?;
    if to_spare(request, layout) == layout.to_spare {
        Ok(())
    } else {
        Err(Flaw::ToSpare)
    }
}

/// How much every margin to walls and keep-outs could grow with all boxes (or bare modules) where they stand; zero for
/// an empty layout.
pub fn to_spare(request: &Request, layout: &Layout) -> Length {
    solids(request, layout)
        .iter()
        .map(|&(cavity, _, solid)| {
            let cavity = &request.cavities[cavity];
            let walls = Face::ALL
                .into_iter()
                .map(|face| wall_distance(&cavity.space, &solid, face) - cavity.wall_margin[face]);
            let keep_outs = cavity
                .keep_outs
                .iter()
                .map(|keep| keep.cuboid.separation(&solid) - keep.margin);
            walls.chain(keep_outs).min().unwrap_or_default()
        })
        .min()
        .unwrap_or_default()
}

fn indices(request: &Request, layout: &Layout) -> Result<(), Flaw> {
    for (index, place) in layout.boxes.iter().enumerate() {
        if place.cavity >= request.cavities.len() {
            return Err(Flaw::Index { index, of_box: true });
        }
        if !layout.placements.iter().any(|p| p.in_box == Some(index)) {
            return Err(Flaw::Boxing);
        }
    }
    for (index, placement) in layout.placements.iter().enumerate() {
        let lost = placement.cavity >= request.cavities.len()
            || placement.kind >= request.kinds.len()
            || placement
                .in_box
                .is_some_and(|b| layout.boxes.get(b).is_none_or(|place| place.cavity != placement.cavity));
        if lost {
            return Err(Flaw::Index { index, of_box: false });
        }
        if placement.in_box.is_some() != request.boxes.is_some() {
            return Err(Flaw::Boxing);
        }
    }
    Ok(())
}

/// Orientation, count and size.
fn as_built(request: &Request, index: usize, placement: &Placement) -> Result<(), Flaw> {
    let kind = &request.kinds[placement.kind];
    if !kind.orientations.contains(&placement.orientation) {
        return Err(Flaw::Orientation { placement: index });
    }
    let allowed = kind.stack.map_or(1..=1, |stack| stack.min..=stack.max);
    if !allowed.contains(&placement.count) {
        return Err(Flaw::StackCount { placement: index });
    }
    let mut own = kind.size;
    if let Some(stack) = kind.stack {
        own[stack.along] = stack.length(own[stack.along], placement.count);
    }
    if placement.cuboid.size() == placement.orientation.extents(own) {
        Ok(())
    } else {
        Err(Flaw::Size { placement: index })
    }
}

/// The service space asked for in front of the placement's face that points to `world`.
pub(crate) fn service(kind: &Kind, placement: &Placement, world: Face) -> Length {
    let own = placement.orientation.own_face(world);
    let clamped = kind.stack.is_some_and(|stack| stack.along == own.axis());
    if clamped {
        Length::ZERO
    } else {
        kind.service[own].max(Length::ZERO)
    }
}

/// The room in front of the placement's face that points to `world`; `None` when nothing is asked for.
fn room(kind: &Kind, placement: &Placement, world: Face) -> Option<Cuboid> {
    let depth = service(kind, placement, world);
    if depth <= Length::ZERO {
        return None;
    }
    let mut out = Faces::all(Length::ZERO);
    out[world] = depth;
    out[world.opposite()] = -placement.cuboid.size()[world.axis()];
    placement.cuboid.grown(out)
}

fn wall_distance(space: &Cuboid, solid: &Cuboid, face: Face) -> Length {
    if face.is_high() {
        space.face(face) - solid.face(face)
    } else {
        solid.face(face) - space.face(face)
    }
}

fn walls_and_keep_outs(request: &Request, layout: &Layout, index: usize, placement: &Placement) -> Result<(), Flaw> {
    let kind = &request.kinds[placement.kind];
    let cavity = &request.cavities[placement.cavity];
    for face in Face::ALL {
        let service = service(kind, placement, face);
        let (space, needed) = match (placement.in_box, &request.boxes) {
            (Some(in_box), Some(rule)) => {
                let place = &layout.boxes[in_box];
                let bay = rule
                    .bay
                    .filter(|_| place.bay == Some(face))
                    .map_or(Length::ZERO, |(_, depth)| depth);
                (&place.inside, rule.fit[face] + rule.room[face].max(service) + bay)
            }
            _ => (&cavity.space, cavity.wall_margin[face].max(service)),
        };
        if wall_distance(space, &placement.cuboid, face) < needed {
            return Err(Flaw::ModuleToWall { placement: index, face });
        }
    }
    if placement.in_box.is_some() {
        return Ok(());
    }
    for (keep_out, keep) in cavity.keep_outs.iter().enumerate() {
        let near = placement.cuboid.separation(&keep.cuboid) < keep.margin;
        let blocked = Face::ALL
            .into_iter()
            .filter_map(|face| room(kind, placement, face))
            .any(|room| room.overlaps(&keep.cuboid));
        if near || blocked {
            return Err(Flaw::ModuleToKeepOut {
                placement: index,
                keep_out,
            });
        }
    }
    Ok(())
}

/// Gap and service space between every two that share a box, or a cavity when bare.
fn pairs(request: &Request, layout: &Layout) -> Result<(), Flaw> {
    let placements = &layout.placements;
    let services = request.kinds.iter().flat_map(|kind| kind.service.0);
    let reach = services.chain([request.gap, Length::ZERO]).max().unwrap_or_default();
    let group = |i: usize| (placements[i].cavity, placements[i].in_box);
    let mut order: Vec<usize> = (0..placements.len()).collect();
    order.sort_by_key(|&i| (group(i), placements[i].cuboid.lo()[Axis::X]));
    for (n, &i) in order.iter().enumerate() {
        let end = placements[i].cuboid.hi()[Axis::X] + reach;
        // What starts behind the reach of this one is clear of it, and so is all that starts later.
        let near = |j: &&usize| group(**j) == group(i) && placements[**j].cuboid.lo()[Axis::X] < end;
        for &j in order[n + 1..].iter().take_while(near) {
            pair(request, layout, i.min(j), i.max(j))?;
            pair(request, layout, i.max(j), i.min(j))?;
        }
    }
    Ok(())
}

/// The gap between two, and the second in the service space of the first.
fn pair(request: &Request, layout: &Layout, first: usize, second: usize) -> Result<(), Flaw> {
    let (a, b) = (&layout.placements[first], &layout.placements[second]);
    if a.cuboid.separation(&b.cuboid) < request.gap.max(Length::ZERO) {
        return Err(Flaw::Gap { first, second });
    }
    let one_tier = request.boxes.as_ref().is_some_and(|rule| rule.one_tier);
    let both_pinned = first.max(second) < request.pinned.len();
    if one_tier && !both_pinned && a.cuboid.shares_floor(&b.cuboid) {
        return Err(Flaw::Tiers { first, second });
    }
    let kind = &request.kinds[a.kind];
    let mut rooms = Face::ALL.into_iter().filter_map(|face| room(kind, a, face));
    if rooms.any(|room| room.overlaps(&b.cuboid)) {
        return Err(Flaw::Service {
            placement: first,
            other: second,
        });
    }
    Ok(())
}

/// The solids that keep margins: cavity, box (or placement) and cuboid.
fn solids(request: &Request, layout: &Layout) -> Vec<(usize, usize, Cuboid)> {
    match &request.boxes {
        None => layout
            .placements
            .iter()
            .enumerate()
            .map(|(i, p)| (p.cavity, i, p.cuboid))
            .collect(),
        Some(rule) => layout
            .boxes
            .iter()
            .enumerate()
            .flat_map(|(i, place)| {
                let rims = rule.rims.iter().map(|rim| rim.around(&place.body));
                std::iter::once(place.body)
                    .chain(rims)
                    .map(move |solid| (place.cavity, i, solid))
            })
            .collect(),
    }
}

fn boxes(request: &Request, rule: &BoxRule, layout: &Layout) -> Result<(), Flaw> {
    for (index, place) in layout.boxes.iter().enumerate() {
        let bay_fits = match (rule.bay, place.bay) {
            (None, None) => true,
            (Some((asked, _)), Some(face)) => face == asked || (face.axis() != Axis::Z && asked.axis() != Axis::Z),
            _ => false,
        };
        if place.inside.grown(rule.shell) != Some(place.body) || !bay_fits {
            return Err(Flaw::Body { index });
        }
        if place.body.size()[Axis::Z] < rule.least_height {
            return Err(Flaw::TooLow { index });
        }
        if over_mass(request, rule, layout, index) {
            return Err(Flaw::Mass { index });
        }
    }
    let solids = solids(request, layout);
    for &(cavity, index, solid) in &solids {
        box_clear(&request.cavities[cavity], index, &solid)?;
    }
    for &(cavity, first, a) in &solids {
        for &(other, second, b) in &solids {
            // Beside each other, for a lid comes off upward, and so does a box.
            let beside = a.gap_along(&b, Axis::X).max(a.gap_along(&b, Axis::Y));
            if cavity == other && first != second && beside < rule.apart.max(Length::ZERO) {
                return Err(Flaw::Apart { first, second });
            }
        }
    }
    for cavity in 0..request.cavities.len() {
        let here = layout.boxes.iter().filter(|place| place.cavity == cavity).count();
        if here > usize::try_from(rule.per_cavity).unwrap_or(usize::MAX) {
            return Err(Flaw::Boxes { cavity });
        }
    }
    Ok(())
}

fn box_clear(cavity: &Cavity, index: usize, solid: &Cuboid) -> Result<(), Flaw> {
    for face in Face::ALL {
        if wall_distance(&cavity.space, solid, face) < cavity.wall_margin[face] {
            return Err(Flaw::BoxToWall { index, face });
        }
    }
    for (keep_out, keep) in cavity.keep_outs.iter().enumerate() {
        if solid.separation(&keep.cuboid) < keep.margin {
            return Err(Flaw::BoxToKeepOut { index, keep_out });
        }
    }
    Ok(())
}

fn over_mass(request: &Request, rule: &BoxRule, layout: &Layout, index: usize) -> bool {
    let Some(most) = rule.most_g else {
        return false;
    };
    let modules: i64 = layout
        .placements
        .iter()
        .filter(|p| p.in_box == Some(index))
        .map(|p| request.kinds[p.kind].mass_g * i64::from(p.count))
        .sum();
    modules + most.empty.grams(layout.boxes[index].inside.size()) > most.limit_g
}

fn counts(request: &Request, layout: &Layout) -> Result<(), Flaw> {
    let mut by_kind = vec![0_u32; request.kinds.len()];
    for placement in &layout.placements {
        by_kind[placement.kind] += placement.count;
    }
    if by_kind != layout.by_kind || by_kind.iter().sum::<u32>() != layout.count {
        return Err(Flaw::Count);
    }
    for (kind, (&placed, of)) in by_kind.iter().zip(&request.kinds).enumerate() {
        let wanted = match &request.wanted {
            Wanted::AsMany => u32::MAX,
            Wanted::Exactly(counts) => counts[kind],
            Wanted::Strings { kind: wanted, .. } if *wanted == kind => u32::MAX,
            Wanted::Strings { .. } => 0,
        };
        if placed > of.on_hand.unwrap_or(u32::MAX).min(wanted) {
            return Err(Flaw::TooMany { kind });
        }
    }
    if let Wanted::Strings { series, parallel, .. } = &request.wanted {
        let whole = series
            .iter()
            .any(|&s| layout.count.is_multiple_of(s) && layout.count / s <= *parallel);
        let less_than_one = series.iter().all(|&s| layout.count < s);
        // What is pinned stays, whatever it makes.
        let pinned = layout.placements.len() == request.pinned.len();
        if !whole && !less_than_one && !pinned {
            return Err(Flaw::BrokenString);
        }
    }
    Ok(())
}

/// Whether all placements of one cavity keep clear of its walls and keep-outs.
pub(super) fn stands(request: &Request, layout: &Layout, cavity: usize) -> bool {
    let mine = layout
        .placements
        .iter()
        .enumerate()
        .filter(|(_, placement)| placement.cavity == cavity);
    mine.into_iter()
        .all(|(index, placement)| walls_and_keep_outs(request, layout, index, placement).is_ok())
}
