//! How far each box and each module in it is from what stands round it.

use std::sync::Arc;

use geometry::clearance::{Neighbour, Scene, Solid, all_around};
use geometry::{Cuboid, Face, Faces};
use tape::Length;

use super::{Allowances, BoxResult, Roomiest};
use crate::Id;
use crate::evaluate::added::{self, Before, BracketSeat};
use crate::evaluate::cavity::CavityResult;
use crate::evaluate::kind::KindResult;
use crate::evaluate::neighbours::{Near, SixClearances};

/// The place with the most room between the walls as they lean, for the box over everything.
pub(super) fn roomiest(cavity: &CavityResult, battery_box: &BoxResult, sigmas: f64) -> Option<Roomiest> {
    let shape = cavity.survey.shape.as_deref()?;
    let overall = battery_box.overall()?;
    let (place, room) = shape.roomiest(overall.size(), sigmas)?;
    let sure =
        |clearance: &tape::inside::Clearance| clearance.distance - Length::from_mm_up(clearance.sigma.as_mm() * sigmas);
    let now = shape.clearances(&overall).iter().map(sure).min()?;
    Some(Roomiest {
        room,
        now,
        away: place.lo() - overall.lo(),
    })
}

/// Clearances of modules to each other and to the liner, and what blocks their service space.
pub(super) fn inside_clearances(
    result: &mut BoxResult,
    inside: Cuboid,
    kinds: &[KindResult],
    allowances: &Allowances,
    gap: Length,
) {
    let mut solids: Vec<Solid> = result
        .modules
        .iter()
        .enumerate()
        .map(|(thing, m)| Solid {
            thing,
            cuboid: m.cuboid,
        })
        .collect();
    // The last thing, where there is one; it fills what the space lacks.
    let step = result.step_inside().map(|cuboid| Solid {
        thing: solids.len(),
        cuboid,
    });
    solids.extend(step);
    let scene = Scene {
        space: inside,
        solids: &solids,
    };
    let arounds = all_around(&scene);
    let rooms: Vec<(usize, Cuboid)> = result
        .modules
        .iter()
        .enumerate()
        .flat_map(|(thing, m)| m.service.iter().map(move |&room| (thing, room)))
        .collect();
    let blocked = geometry::clearance::blocked_service(&scene, &rooms);
    let bay = result.bay;
    let names: Vec<(Id, Arc<str>)> = result.modules.iter().map(|m| (m.id, m.label.as_str().into())).collect();
    let liners = Faces(Face::ALL.map(|face| Arc::<str>::from(format!("{} liner", face.name()))));
    for (module, around) in result.modules.iter_mut().zip(&arounds) {
        let service = kinds
            .iter()
            .find(|k| k.id == module.kind)
            .map(|k| k.service_towards(module.stands));
        let room = |face: Face| {
            let service = service.map_or(Length::ZERO, |s| s[face]);
            allowances.fit[face] + allowances.room[face].max(service)
        };
        module.around = Some(SixClearances::named(around, |neighbour, towards| match neighbour {
            Neighbour::Wall(face) => {
                let bay = if bay == Some(face) {
                    allowances.bay
                } else {
                    Length::ZERO
                };
                (Near::Liner(face), Arc::clone(&liners[face]), room(face) + bay)
            }
            Neighbour::Thing(thing) if thing == names.len() => {
                let name = if towards == Face::Bottom {
                    "raised floor"
                } else {
                    "riser"
                };
                (Near::Step, name.into(), room(towards))
            }
            Neighbour::Thing(thing) => (Near::Module(names[thing].0), Arc::clone(&names[thing].1), gap),
        }));
    }
    for (owner, neighbour) in blocked {
        let by = match neighbour {
            Neighbour::Wall(face) => format!("the {} liner", face.name()),
            Neighbour::Thing(thing) => names
                .get(thing)
                .map_or_else(|| "the step".to_owned(), |(_, name)| name.to_string()),
        };
        result.modules[owner].blocked_by.get_or_insert(by);
    }
}

/// Clearances of the boxes of one cavity to each other, to its walls and to its keep-outs. `is_hung`: their brackets hang on
/// the web of a rail, against which their ends lie.
pub(super) fn in_cavity(cavity: &CavityResult, boxes: &mut [BoxResult], margin: Length, is_hung: bool) {
    let Some(space) = cavity.space else { return };
    let held_at = |near: Near, face: Face| match near {
        Near::Wall(wall) => cavity.held(wall),
        Near::KeepOut(id) => {
            let keep_out = cavity.keep_outs.iter().find(|k| k.id == id);
            keep_out.map_or(Length::ZERO, |k| k.held(face.opposite()))
        }
        _ => Length::ZERO,
    };
    let here: Vec<usize> = (0..boxes.len())
        .filter(|&i| boxes[i].cavity == cavity.id && !boxes[i].solids.is_empty())
        .collect();
    let mut solids = Vec::new();
    let mut things: Vec<(Near, Arc<str>, Length)> = Vec::new();
    for &i in &here {
        let thing = things.len();
        things.push((Near::Box(boxes[i].id), boxes[i].name.as_str().into(), margin));
        let own = boxes[i].solids.iter().chain(&boxes[i].added.brackets);
        solids.extend(own.map(|&cuboid| Solid { thing, cuboid }));
    }
    for keep_out in cavity.keep_outs.iter().filter(|k| k.counts) {
        let thing = things.len();
        things.push((
            Near::KeepOut(keep_out.id),
            keep_out.name.as_str().into(),
            keep_out.margin,
        ));
        solids.push(Solid {
            thing,
            cuboid: keep_out.cuboid,
        });
    }
    let around = |space: Cuboid, solids: &[Solid], thing| {
        geometry::clearance::around(&Scene { space, solids }, thing).map(|around| {
            let mut named = SixClearances::named(&around, |neighbour, _| match neighbour {
                Neighbour::Wall(face) => (Near::Wall(face), wall_name(face).into(), margin),
                Neighbour::Thing(thing) => things[thing].clone(),
            });
            named.hold_back(held_at);
            named
        })
    };
    for (thing, &i) in here.iter().enumerate() {
        boxes[i].around = around(space, &solids, thing);
        if boxes[i].added.brackets.is_empty() {
            continue;
        }
        // Brackets are set against what carries them: what is told at their faces is the room beside the body.
        let kept_outs = cavity.keep_outs.iter().filter(|k| k.counts);
        let mut before: Vec<Before> = kept_outs
            .map(|k| Before::of(k.cuboid, Near::KeepOut(k.id), &k.name))
            .collect();
        let others = here.iter().filter(|&&other| other != i).map(|&other| &boxes[other]);
        before.extend(others.flat_map(|b| {
            b.solids
                .iter()
                .map(|&solid| Before::of(solid, Near::Box(b.id), &b.name))
        }));
        let seats = added::seats(&boxes[i], space, &before);
        let brackets = &boxes[i].added.brackets;
        let bare: Vec<Solid> = solids
            .iter()
            .filter(|solid| solid.thing != thing || !brackets.contains(&solid.cuboid))
            .copied()
            .collect();
        let at_body = around(space, &bare, thing);
        if let (Some(all), Some(at_body)) = (&mut boxes[i].around, at_body) {
            for seat in &seats {
                all.faces[seat.face.index()] = at_body.faces[seat.face.index()].clone();
            }
            // The end of a bracket that hangs on a web touches it: how near it is there, its seat tells.
            let hangs_on = |solid: &&Solid| seats.iter().any(|seat| seat.near == things[solid.thing].0);
            let others: Vec<Solid> = solids.iter().filter(|solid| !hangs_on(solid)).copied().collect();
            if is_hung && let Some(elsewhere) = around(off_seats(space, &seats), &others, thing) {
                let at_body = at_body.nearest;
                all.nearest = if elsewhere.nearest.sure() < at_body.sure() {
                    elsewhere.nearest
                } else {
                    at_body
                };
            }
        }
        boxes[i].added.seats = seats;
    }
}

/// A space without the walls that brackets hang on: far beyond them.
fn off_seats(space: Cuboid, seats: &[BracketSeat]) -> Cuboid {
    let mut more = Faces::all(Length::ZERO);
    for seat in seats {
        if let Near::Wall(face) = seat.near {
            more[face] = space.size()[face.axis()] * 2;
        }
    }
    space.grown(more).unwrap_or(space)
}

/// What a bounding face of a cavity is called.
pub(crate) const fn wall_name(face: Face) -> &'static str {
    match face {
        Face::Front => "front wall",
        Face::Rear => "rear wall",
        Face::Left => "left wall",
        Face::Right => "right wall",
        Face::Bottom => "cavity floor",
        Face::Top => "cavity roof",
    }
}
