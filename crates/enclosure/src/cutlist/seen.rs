//! From which side a piece of sheet is drawn, and which way its edges lie in the box.

use super::Line;
use crate::{Built, Form, Part, Role, Wall};

/// The face that is towards the reader.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// The one that is inside the box: of what stands, and of what is folded into tray or pan.
    Inside,
    /// The upper one: of what lies.
    Above,
}

impl Seen {
    /// As printed on a pattern.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Inside => "seen from the inside of the box",
            Self::Above => "seen from above",
        }
    }

    /// That of a role; `None` of what is the same from both faces, and of bars.
    const fn of(role: Role) -> Option<Self> {
        match role {
            Role::LongSide
            | Role::End
            | Role::Riser
            | Role::Tray
            | Role::PanLid
            | Role::LinerSide
            | Role::LinerEnd
            | Role::LinerRiser => Some(Self::Inside),
            Role::Floor | Role::RaisedFloor | Role::LidPlate | Role::LinerFloor | Role::LinerRaised => {
                Some(Self::Above)
            }
            _ => None,
        }
    }
}

/// The names of the four edges of a drawn piece, left, right, lower, upper; empty where one has none.
pub type Edges = [&'static str; 4];

impl Line {
    /// Which face is drawn; `None` where both are the same, where one size serves for what lies and what stands, and of bars.
    pub fn seen(&self) -> Option<Seen> {
        let mut faces = self.roles.iter().map(|&role| Seen::of(role));
        let first = faces.next().flatten()?;
        faces.all(|face| face == Some(first)).then_some(first)
    }

    /// In words, for each sheet of a pattern and each table of holes; `None` of bars.
    pub fn seen_words(&self) -> Option<&'static str> {
        let both = "the same from both faces";
        (self.form() == Form::Sheet).then(|| self.seen().map_or(both, Seen::words))
    }

    /// The names of its left and right edge on each of several walls that it serves for: they lie the other way round on walls
    /// that face each other.
    pub fn sides_by_wall(&self) -> Vec<(Wall, [&'static str; 2])> {
        let many = self.walls.len() > 1;
        let walls = self.walls.iter().filter(|_| many);
        walls.map(|&wall| (wall, wall.sides_from_inside())).collect()
    }
}

impl Wall {
    /// What is at the left and at the right hand of who looks at it from inside the box.
    const fn sides_from_inside(self) -> [&'static str; 2] {
        match self {
            Self::Front => ["left", "right"],
            Self::Rear => ["right", "left"],
            Self::Left => ["rear", "front"],
            Self::Right => ["front", "rear"],
            Self::Floor | Self::Lid | Self::Riser => ["", ""],
        }
    }
}

/// The edges of a part of a box.
///
/// What lies has its length along the longer side of the box: from the front, or where the box stands across the truck from the
/// left. A pan is drawn from under the lid, so the edges along its length change places.
pub(super) fn edges(part: &Part, built: &Built) -> Edges {
    let [length, width, _] = built.shell;
    let is_across = width > length;
    match (Seen::of(part.role), part.role) {
        (Some(_), Role::PanLid) if is_across => ["left", "right", "front", "rear"],
        (Some(_), Role::PanLid) => ["front", "rear", "right", "left"],
        (Some(Seen::Above), _) | (_, Role::Tray) if is_across => ["left", "right", "rear", "front"],
        (Some(Seen::Above), _) | (_, Role::Tray) => ["front", "rear", "left", "right"],
        (Some(Seen::Inside), role) => {
            let at_step = built
                .step
                .filter(|_| matches!(role, Role::Riser | Role::LinerRiser))
                .map(|step| step.at);
            let [left, right] = part.wall.or(at_step).map_or(["", ""], Wall::sides_from_inside);
            [left, right, "", "up"]
        }
        (None, Role::SkirtLong | Role::SkirtShort | Role::Divider) => ["", "", "", "up"],
        (None, _) => [""; 4],
    }
}

/// What two pieces that are cut alike have in common.
pub(super) fn common(one: Edges, other: Edges) -> Edges {
    [0, 1, 2, 3].map(|edge| if one[edge] == other[edge] { one[edge] } else { "" })
}
