//! What was added against modules and their terminals, the lid and its screws, what is let into the walls, and each other.

use enclosure::added::Piece;
use enclosure::{Built, Role};
use geometry::{Axis, Cuboid};
use tape::Length;

use super::super::fitting::FittingResult;
use super::super::reach;
use super::{AddedResult, EyePlateResult, Site, past};

/// What meets what, each once with the deepest.
#[derive(Default)]
struct Met(Vec<(String, Length)>);

impl Met {
    /// Notes two solids that share room.
    fn note(&mut self, words: &str, one: &Cuboid, other: &Cuboid) {
        let depth = -one.separation(other);
        if depth > Length::ZERO {
            self.deep(words, depth);
        }
    }

    fn deep(&mut self, words: &str, depth: Length) {
        match self.0.iter_mut().find(|(known, _)| known == words) {
            Some((_, deepest)) => *deepest = depth.max(*deepest),
            None => self.0.push((words.to_owned(), depth)),
        }
    }
}

/// Notes all that meets anything.
pub(super) fn all(here: &Site<'_>, fittings: &[FittingResult], made: &Built, result: &mut AddedResult) {
    let mut met = Met::default();
    for ([one, other], depth) in made.added_that_meet() {
        let words = if one == other {
            format!("two {}s want the same place", one.name())
        } else {
            format!("a {} and a {} want the same place", one.name(), other.name())
        };
        met.deep(&words, depth);
    }
    inside(here, fittings, made, &mut met);
    for (fitting, space) in fittings.iter().filter_map(|f| Some((f, f.outside?))) {
        let words = format!("a bracket stands in what is let in: {}", fitting.label);
        for bracket in &result.brackets {
            met.note(&words, bracket, &space);
        }
    }
    for (_, rail) in solids(here, made, |role| role == Role::FloorRail) {
        for (fitting, space) in fittings.iter().filter_map(|f| Some((f, f.outside?))) {
            met.note(
                &format!("a floor rail stands in what is let in: {}", fitting.label),
                &rail,
                &space,
            );
        }
    }
    on_lid(here, fittings, made, &mut met);
    let_in(here, fittings, &mut met);
    eye_plates(here, fittings, &result.eye_plates, &mut met);
    let style = here.style();
    let words = met.0.into_iter();
    result.meets = words
        .map(|(words, depth)| format!("{words}, {} deep", style.up(depth)))
        .collect();
    result.divider_in_service = in_service(here, made);
}

/// The pieces of these roles, as solids.
fn solids<'a>(
    here: &'a Site<'_>,
    made: &'a Built,
    is: impl Fn(Role) -> bool + 'a,
) -> impl Iterator<Item = (&'static str, Cuboid)> + 'a {
    let pieces = made.added.iter().filter(move |piece: &&Piece| is(piece.role));
    pieces.map(|piece| (piece.role.name(), here.cuboid(&piece.block)))
}

/// What stands on the floor or hangs at the walls.
fn inside(here: &Site<'_>, fittings: &[FittingResult], made: &Built, met: &mut Met) {
    let top = here.steel.hi()[Axis::Z] + made.above_rim - here.build.lid;
    let elsewhere = |role| {
        matches!(
            role,
            Role::Bracket | Role::EndPlate | Role::TieRod | Role::Stiffener | Role::FloorRail | Role::EyePlate
        )
    };
    let is_inside = |role: Role| !elsewhere(role) && !role.is_liner();
    let nuts = made.nuts.iter().map(|nut| ("nut of a hold-down bar", nut));
    let nuts = nuts.chain(made.lid_nuts.iter().map(|nut| ("rivet nut of the lid", nut)));
    let all = solids(here, made, is_inside).chain(nuts.map(|(name, nut)| (name, here.cuboid(nut))));
    for (name, solid) in all {
        for module in here.modules {
            met.note(&format!("a {name} stands in {}", module.label), &solid, &module.cuboid);
        }
        for fitting in fittings {
            if let Some(space) = &fitting.inside {
                met.note(
                    &format!("a {name} stands in what is let in: {}", fitting.label),
                    &solid,
                    space,
                );
            }
        }
        let over = solid.hi()[Axis::Z] - top;
        if over > Length::ZERO {
            met.deep(&format!("a {name} stands in the lid"), over);
        }
    }
}

/// Backing plates against modules and what else is let in.
fn eye_plates(here: &Site<'_>, fittings: &[FittingResult], plates: &[EyePlateResult], met: &mut Met) {
    for EyePlateResult { eye, solid } in plates {
        for module in here.modules {
            met.note(
                &format!("a backing plate stands in {}", module.label),
                solid,
                &module.cuboid,
            );
        }
        // It lies in the room of its own eye.
        let others = fittings.iter().filter(|fitting| fitting.id != *eye);
        for (fitting, space) in others.filter_map(|f| Some((f, f.inside?))) {
            let words = format!("a backing plate stands in what is let in: {}", fitting.label);
            met.note(&words, solid, &space);
        }
    }
}

/// What is let into the walls against each other and the angle of a frame.
fn let_in(here: &Site<'_>, fittings: &[FittingResult], met: &mut Met) {
    for (index, fitting) in fittings.iter().enumerate() {
        for other in &fittings[..index] {
            let pairs = [(other.inside, fitting.inside), (other.outside, fitting.outside)];
            for (one, two) in pairs.iter().filter_map(|(one, two)| one.as_ref().zip(two.as_ref())) {
                if one.overlaps(two) {
                    met.note(
                        &format!("{} and {} want the same place", other.label, fitting.label),
                        one,
                        two,
                    );
                }
            }
        }
        for (words, depth) in past::in_frame(here, fitting) {
            met.deep(&words, depth);
        }
    }
}

/// Stiffeners against what is under the lid, let into it, and screwed through it.
fn on_lid(here: &Site<'_>, fittings: &[FittingResult], made: &Built, met: &mut Met) {
    let tools = reach::over_screws(made, &here.steel, here.build.screw);
    for (_, solid) in solids(here, made, |role| role == Role::Stiffener) {
        for module in here.modules {
            let words = format!("a lid stiffener stands in {}", module.label);
            met.note(&words, &solid, &module.cuboid);
        }
        for nut in &made.nuts {
            let words = "a lid stiffener and a nut of a hold-down bar want the same place";
            met.note(words, &solid, &here.cuboid(nut));
        }
        for fitting in fittings {
            let words = format!("a lid stiffener stands in what is let in: {}", fitting.label);
            for space in [&fitting.inside, &fitting.outside].into_iter().flatten() {
                met.note(&words, &solid, space);
            }
        }
        for tool in &tools {
            let words = "a lid stiffener stands where the spanner goes over the head of a lid screw";
            met.note(words, &solid, tool);
        }
    }
}

/// The modules in whose service space a divider stands, with how deep.
fn in_service(here: &Site<'_>, made: &Built) -> Vec<(String, Length)> {
    let dividers: Vec<Cuboid> = solids(here, made, |role| role == Role::Divider)
        .map(|(_, solid)| solid)
        .collect();
    let depth = |rooms: &[Cuboid]| {
        let pairs = rooms
            .iter()
            .flat_map(|room| dividers.iter().map(move |solid| -room.separation(solid)));
        pairs.max().filter(|&depth| depth > Length::ZERO)
    };
    let modules = here.modules.iter();
    modules
        .filter_map(|m| Some((m.label.clone(), depth(&m.service)?)))
        .collect()
}
