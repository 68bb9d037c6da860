//! The order in which modules go into an open box, with room for hand and spanner.

use enclosure::Role;
use enclosure::added::Piece;
use geometry::way_in::service::{self, Over, Unit, over};
use geometry::{Axis, Cuboid, Face, Faces, Point};
use tape::Length;

use crate::{BoxResult, DividersName, Evaluation, Id, Job};

/// How thick the walls of a box are taken while a module is lifted: nothing goes through.
const WALL: Length = Length::mm(3_000);

/// A module or a stack in an open box.
#[derive(Clone, Debug, PartialEq)]
pub struct Lifted {
    /// Its number.
    pub id: Id,
    /// M7, or S7 for a stack.
    pub label: String,
    /// The names of the tested units in it.
    pub units: Vec<String>,
    /// What it weighs, in grams; `None` while nobody entered it.
    pub mass_g: Option<i64>,
    /// Its solid.
    pub solid: Cuboid,
    /// Room for spanner and hand at it.
    pub room: Vec<Cuboid>,
}

/// A box without its lid.
#[derive(Clone, Debug, PartialEq)]
pub struct Open {
    /// Its number.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// What is in it.
    pub modules: Vec<Lifted>,
    /// Its walls and what reaches in from them, by name.
    pub fixed: Vec<(String, Cuboid)>,
    /// The hold-down bars over them, put on last: what of each lies level.
    pub bars: Vec<Cuboid>,
    /// How far a module is lifted to be over its rim.
    pub lift: Length,
    /// Room for a hand, beside and over a module that is lifted.
    pub hand: Length,
}

/// Why a module does not come out of its open box.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Held {
    /// The module, or those that hold each other.
    pub modules: Vec<String>,
    /// What holds it; empty when they hold each other.
    pub by: String,
    /// How deep it stands in that; `None` when it is under it, or they hold each other.
    pub within: Option<Length>,
    /// Whether only the room for spanner and hand is missing.
    pub room_only: bool,
}

/// How a box is loaded.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Loading {
    /// The box.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// The modules, first one first; by their places in the open box.
    pub order: Vec<usize>,
    /// What is in the way of that.
    pub held: Vec<Held>,
}

impl Open {
    pub(super) fn of(job: &Job, battery_box: &BoxResult, evaluation: &Evaluation, hand: Length) -> Self {
        let mut fixed = Vec::new();
        let mut top = Length::ZERO;
        if let Some(inside) = battery_box.inside {
            top = inside.face(Face::Top);
            for face in [Face::Front, Face::Rear, Face::Left, Face::Right] {
                let mut grown = Faces::all(Length::ZERO);
                grown[face] = WALL;
                grown[face.opposite()] = -inside.size()[face.axis()];
                fixed.extend(
                    inside
                        .grown(grown)
                        .map(|wall| (format!("the {} wall", face.name()), wall)),
                );
            }
        }
        fixed.extend(battery_box.step_inside().map(|step| ("the step".to_owned(), step)));
        let inner = battery_box
            .fittings
            .iter()
            .filter_map(|f| Some((f.label.clone(), f.inside?)));
        fixed.extend(inner.filter(|(_, solid)| solid.face(Face::Top) < top));
        fixed.extend(welded_in(job, battery_box));
        let modules = battery_box.modules.iter().map(|module| {
            let each = evaluation.kind(module.kind).and_then(|kind| kind.mass_g);
            let mut room = module.service.clone();
            room.extend(grips(&module.cuboid, hand, &fixed));
            Lifted {
                id: module.id,
                label: module.label.clone(),
                units: units_in(evaluation, module.id),
                mass_g: each.map(|g| g * i64::from(module.count)),
                solid: module.cuboid,
                room,
            }
        });
        let modules: Vec<Lifted> = modules.collect();
        let rim = battery_box.body.map_or(top, |body| body.face(Face::Top));
        let lowest = modules.iter().map(|m| m.solid.face(Face::Bottom)).min();
        Self {
            id: battery_box.id,
            name: battery_box.name.clone(),
            modules,
            fixed,
            bars: bars(battery_box),
            lift: lowest.map_or(Length::ZERO, |lowest| rim - lowest),
            hand,
        }
    }

    /// What lies over what, with the room for spanner and hand or without.
    pub(super) fn over(&self, with_room: bool) -> Over {
        let units: Vec<Unit> = self
            .modules
            .iter()
            .map(|module| Unit {
                solids: vec![module.solid],
                hand: if with_room { module.room.clone() } else { Vec::new() },
            })
            .collect();
        let fixed: Vec<Cuboid> = self.fixed.iter().map(|(_, solid)| *solid).collect();
        over(&service::Open {
            units: &units,
            fixed: &fixed,
            through: Face::Top,
            lift: self.lift,
        })
    }

    /// How many hold-down bars lie over any of these modules, seen from above.
    pub(super) fn bars_over(&self, modules: &[usize]) -> usize {
        let lies_over = |bar: &&Cuboid| {
            let is_under = |&module: &usize| {
                let solid = &self.modules[module].solid;
                [Axis::X, Axis::Y]
                    .into_iter()
                    .all(|axis| bar.lo()[axis] < solid.hi()[axis] && solid.lo()[axis] < bar.hi()[axis])
            };
            modules.iter().any(is_under)
        };
        self.bars.iter().filter(lies_over).count()
    }

    pub(super) fn held(&self, held: &service::Held, room_only: bool) -> Held {
        match held {
            service::Held::ByBox { unit, fixed } => {
                let (module, (by, solid)) = (&self.modules[*unit], &self.fixed[*fixed]);
                Held {
                    modules: vec![module.label.clone()],
                    by: by.clone(),
                    within: module.solid.overlaps(solid).then(|| -module.solid.separation(solid)),
                    room_only,
                }
            }
            service::Held::ByEachOther(units) => Held {
                modules: units.iter().map(|&unit| self.modules[unit].label.clone()).collect(),
                by: String::new(),
                within: None,
                room_only,
            },
        }
    }
}

/// What is welded or bolted to floor and walls and stays when the box is opened, by name.
fn welded_in(job: &Job, battery_box: &BoxResult) -> Vec<(String, Cuboid)> {
    let dividers = job.design.added.dividers == Some(DividersName::Rows);
    let stays = |role: Role| match role {
        Role::Lug | Role::HoldDownRod | Role::Standoff | Role::EyePlate => true,
        Role::Divider => dividers,
        _ => false,
    };
    let with_lid = |piece: &Piece| {
        let made = battery_box.built.as_ref();
        made.is_some_and(|made| made.goes_with_lid(piece))
    };
    pieces(battery_box, |piece| stays(piece.role) && !with_lid(piece))
}

/// The solids of pieces that were added to a box, by name.
fn pieces(battery_box: &BoxResult, which: impl Fn(&Piece) -> bool) -> Vec<(String, Cuboid)> {
    let Some((made, steel)) = battery_box.built.as_ref().zip(battery_box.added.steel) else {
        return Vec::new();
    };
    let place = |corner| steel.lo() + Point(corner);
    let found = made.added.iter().filter(|piece| which(piece));
    found
        .map(|piece| {
            let solid = Cuboid::between(place(piece.block.lo), place(piece.block.hi));
            (format!("a {}", piece.role.name()), solid)
        })
        .collect()
}

/// The level part of each hold-down bar: a flat bar, or the lying leg of an angle.
fn bars(battery_box: &BoxResult) -> Vec<Cuboid> {
    let is_bar = |role| matches!(role, Role::HoldDownBar | Role::HoldDownAngle);
    let level = pieces(battery_box, |piece| is_bar(piece.role) && piece.thin == Axis::Z.index());
    level.into_iter().map(|(_, solid)| solid).collect()
}

/// Room for a hand at two opposite sides: those along the length, unless only those along the width are free of the walls.
fn grips(solid: &Cuboid, hand: Length, fixed: &[(String, Cuboid)]) -> Vec<Cuboid> {
    if hand <= Length::ZERO {
        return Vec::new();
    }
    let pair = |axis: Axis| -> Vec<Cuboid> {
        let beside = |face: Face| {
            let mut grown = Faces::all(Length::ZERO);
            grown[face] = hand;
            grown[face.opposite()] = -solid.size()[axis];
            solid.grown(grown)
        };
        [Face::low(axis), Face::high(axis)]
            .into_iter()
            .filter_map(beside)
            .collect()
    };
    let free = |pair: &Vec<Cuboid>| {
        pair.iter()
            .all(|grip| fixed.iter().all(|(_, wall)| !wall.overlaps(grip)))
    };
    let along = pair(Axis::X);
    if free(&along) {
        return along;
    }
    let across = pair(Axis::Y);
    if free(&across) { across } else { along }
}

/// The names of the tested units built in at a module or stack.
fn units_in(evaluation: &Evaluation, placed: Id) -> Vec<String> {
    let seats = evaluation
        .electrics()
        .filter_map(|(_, electric)| electric.wiring.as_ref())
        .flat_map(|wiring| &wiring.seats);
    seats
        .filter(|seat| seat.seat.placed == placed)
        .filter_map(|seat| seat.unit.clone())
        .collect()
}

/// The order in which a box is loaded: with room for hand and spanner if there is one, otherwise without it.
pub(super) fn of(open: &Open) -> Loading {
    let mut held = Vec::new();
    let order = match open.over(true).loading() {
        Ok(order) => order,
        Err(with_room) => match open.over(false).loading() {
            Ok(order) => {
                held.push(open.held(&with_room, true));
                order
            }
            Err(solid) => {
                held.push(open.held(&solid, false));
                Vec::new()
            }
        },
    };
    Loading {
        id: open.id,
        name: open.name.clone(),
        order,
        held,
    }
}
