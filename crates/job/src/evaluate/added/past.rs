//! Rivets, nuts and rivet nuts: spaced past what stands in their way, and what of them wants the place of something else all the
//! same.

use enclosure::added::Block;
use enclosure::{BoxSpec, Built, Purpose, Role, Unspaced, Wall};
use geometry::{Axis, Face};
use tape::Length;
use tape::show::Style;

use super::super::fitting::FittingResult;
use super::{AddedResult, Site};

/// What wants the place of something else.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clash {
    /// What, where and how deep.
    pub words: String,
    /// How to mend it.
    pub fix: String,
}

/// What may be in the way, or have something in its way.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Thing {
    /// A rivet of a panel, by its wall.
    Rivet(Wall),
    /// A rivet of what lies on the floor.
    Fixing,
    /// The rivet nut of a screw that holds a cap.
    LidNut(Wall),
    /// A nut of a hold-down bar.
    Nut,
    /// What was added.
    Added(Role),
    /// What is let into a wall, by its place in the list.
    Fitting(usize),
}

impl Thing {
    /// Whether the two are checked against each other: what lies on something, or is checked elsewhere, is not.
    fn is_checked(self, other: Self) -> bool {
        match (self, other) {
            // A stud or rod has its own nut; what hangs from the lid is told with the lid.
            (Self::Nut, Self::Added(role)) => !matches!(role, Role::HoldDownRod | Role::Stiffener),
            (Self::LidNut(_) | Self::Rivet(_) | Self::Fixing, Self::Added(_) | Self::Nut)
            | (Self::Rivet(_) | Self::Fixing, Self::Fitting(_))
            | (Self::Rivet(_), Self::Fixing) => true,
            _ => false,
        }
    }

    fn names(self, fittings: &[FittingResult]) -> [String; 2] {
        let both = |one: &str, many: &str| [one.to_owned(), many.to_owned()];
        match self {
            Self::Rivet(_) => both("a rivet", "rivets"),
            Self::Fixing => both("a rivet of what lies on the floor", "rivets of what lies on the floor"),
            Self::LidNut(_) => both("a rivet nut of the lid", "rivet nuts of the lid"),
            Self::Nut => both("a nut of a hold-down bar", "nuts of hold-down bars"),
            Self::Added(role) => [format!("a {}", role.name()), format!("{}s", role.name())],
            Self::Fitting(index) => both(&fittings[index].label, &fittings[index].label),
        }
    }
}

/// Like things that want the same place.
struct Found {
    pair: [Thing; 2],
    count: usize,
    /// Where the first is: back, right and up from the inner corner at the front, left and floor.
    at: [Length; 3],
    depth: Length,
}

/// Spaces rivets and screws past what was added and let in, and notes what stands in their way all the same.
pub(super) fn space(
    here: &Site<'_>,
    drawn: &BoxSpec,
    fittings: &[FittingResult],
    made: &mut Built,
    result: &mut AddedResult,
) {
    let lets_in: Vec<(Thing, Block)> = fittings
        .iter()
        .enumerate()
        .flat_map(|(index, fitting)| {
            let spaces = [fitting.inside, fitting.outside].into_iter().flatten();
            spaces.map(move |space| (Thing::Fitting(index), here.block(&space)))
        })
        .collect();
    let others: Vec<Block> = lets_in.iter().map(|(_, block)| *block).collect();
    let unspaced = made.space_past(drawn, &others);
    let mut all: Vec<(Thing, Block)> = Vec::new();
    let ends = made.rivet_ends(drawn).into_iter();
    all.extend(ends.flat_map(|(wall, ends)| ends.map(|end| (Thing::Rivet(wall), end))));
    all.extend(made.fixing_ends.iter().map(|end| (Thing::Fixing, *end)));
    let lid = made.side_screws.iter().zip(&made.lid_nuts);
    all.extend(lid.map(|(hole, nut)| (Thing::LidNut(hole.wall), *nut)));
    all.extend(made.nuts.iter().map(|nut| (Thing::Nut, *nut)));
    if all.is_empty() {
        return;
    }
    all.extend(lets_in);
    let pieces = made.added.iter().filter(|piece| !piece.role.is_liner());
    all.extend(pieces.map(|piece| (Thing::Added(piece.role), piece.block)));
    let style = here.style();
    result.clashes = meeting(&mut all)
        .iter()
        .map(|found| found.told(style, fittings, &unspaced))
        .collect();
}

/// What wants the same place: swept along the length, so that only what is near is looked at.
fn meeting(all: &mut [(Thing, Block)]) -> Vec<Found> {
    all.sort_by_key(|(_, block)| block.lo[0]);
    let mut found: Vec<Found> = Vec::new();
    for (index, (one, block)) in all.iter().enumerate() {
        let near = all[index + 1..]
            .iter()
            .take_while(|(_, other)| other.lo[0] < block.hi[0]);
        for (other, its) in near {
            let (pair, at) = if one.is_checked(*other) {
                ([*one, *other], block)
            } else if other.is_checked(*one) {
                ([*other, *one], its)
            } else {
                continue;
            };
            let Some(depth) = block.depth_in(its) else { continue };
            match found.iter_mut().find(|known| known.pair == pair) {
                Some(known) => {
                    known.count += 1;
                    known.depth = known.depth.max(depth);
                }
                None => found.push(Found {
                    pair,
                    count: 1,
                    at: [0, 1, 2].map(|axis| (at.lo[axis] + at.hi[axis]).half_down()),
                    depth,
                }),
            }
        }
    }
    found
}

impl Found {
    fn told(&self, style: Style, fittings: &[FittingResult], unspaced: &[Unspaced]) -> Clash {
        let [one, other] = self.pair.map(|thing| thing.names(fittings));
        let (what, first) = if self.count == 1 {
            (format!("{} and {}", one[0], other[0]), "")
        } else {
            (format!("{} and {}", one[1], other[1]), ", the first")
        };
        let [x, y, z] = self.at.map(|at| style.near(at));
        let place = match self.pair[0] {
            Thing::Rivet(Wall::Floor) => format!("at the floor{first} {x} back and {y} right on it"),
            Thing::Rivet(wall) | Thing::LidNut(wall) => {
                let along = if matches!(wall, Wall::Front | Wall::Rear) { y } else { x };
                format!("at the {} wall{first} {along} along it and {z} up it", wall.name())
            }
            _ => format!("inside{first} {x} back, {y} right and {z} up"),
        };
        let words = format!("{what} want the same place {place}, {} deep", style.up(self.depth));
        let (purpose, wall, pitch, instead) = match self.pair[0] {
            Thing::Rivet(wall) => (Purpose::Rivet, wall, "rivet", "bond the panels in"),
            Thing::LidNut(wall) => (Purpose::LidNut, wall, "screw", "hold the cap by toggle clamps"),
            _ => {
                let fix = "move one of them on the Boxes page, or make it smaller".to_owned();
                return Clash { words, fix };
            }
        };
        let is_of = |line: &&Unspaced| {
            let same_pair = line.wall == wall || line.wall == wall.opposite();
            line.purpose == purpose && same_pair
        };
        let fix = match unspaced.iter().filter(is_of).max_by_key(|line| line.needs) {
            Some(Unspaced {
                needs: Some(needs),
                most,
                ..
            }) => {
                // Of rivets a crash asks how many there are: no wider pitch is told for them.
                let wider = if purpose == Purpose::Rivet {
                    String::new()
                } else {
                    format!(
                        ", enter a {pitch} pitch of {} or more on the Boxes page",
                        style.up(*needs)
                    )
                };
                format!(
                    "past it they would be {} apart, and may be {}: make what is in their way shorter by {}, move it{wider}, or {instead}",
                    style.up(*needs),
                    style.down(*most),
                    style.up(*needs - *most),
                )
            }
            Some(_) => format!(
                "the end of their line is covered: move what is there away from the corner of the box, or {instead}"
            ),
            None => format!("move it on the Boxes page, make it smaller, or {instead}"),
        };
        Clash { words, fix }
    }
}

/// The legs of the angle of a frame that something outside is let in behind, each with how deep it stands in it: moved so far
/// away from it, it lies beside it on the bare panel.
pub(super) fn in_frame(here: &Site<'_>, fitting: &FittingResult) -> Vec<(String, Length)> {
    let enclosure::Construction::Framed(skeleton) = here.spec.construction else {
        return Vec::new();
    };
    let (Some(middle), false) = (fitting.middle, fitting.wall == Face::Top) else {
        return Vec::new();
    };
    let [behind_wall, behind_floor, below_rim] = skeleton.covers(&here.spec);
    let is_floor = fitting.wall == Face::Bottom;
    let axes = Axis::ALL.into_iter().filter(|&axis| axis != fitting.wall.axis());
    let sides = axes.flat_map(|axis| [Face::low(axis), Face::high(axis)]);
    let half = fitting.across.max(fitting.hole).half_down();
    let met = sides.filter_map(|side| {
        let (leg, covers, away) = match side {
            Face::Bottom => ("the upright leg of the foot".to_owned(), behind_floor, "up"),
            Face::Top => ("the upright leg of the ring".to_owned(), below_rim, "down"),
            _ => {
                let name = side.name();
                let leg = if is_floor {
                    format!("the level leg of the foot at the {name}")
                } else {
                    format!("the leg of the post at its {name} end")
                };
                (leg, behind_wall, side.opposite().name())
            }
        };
        let from_side = (here.steel.face(side) - middle[side.axis()]).abs();
        let depth = half + covers - from_side;
        let words = || {
            format!(
                "{} stands in {leg}; it is clear {} further {away}",
                fitting.label,
                here.style().up(depth)
            )
        };
        (depth > Length::ZERO).then(|| (words(), depth))
    });
    met.collect()
}
