//! How each box is lifted: by one person, by two, or with a hoist.

use geometry::{Axis, Face};
use truck::lift::{Hands, Load, NIOSH_KG, ONE_PERSON_KG, TWO_PERSONS_KG, lift};

use super::{counted, metres};
use crate::Id;
use crate::evaluate::boxes::BoxResult;
use crate::evaluate::kind::KindResult;

/// How one box is lifted, without and with its modules.
#[derive(Clone, Debug, PartialEq)]
pub struct BoxLift {
    /// Its number.
    pub battery_box: Id,
    /// Its name.
    pub name: String,
    /// Without modules, kilograms.
    pub shell_kg: f64,
    /// Hands for it without modules.
    pub shell_hands: Hands,
    /// With its modules, kilograms.
    pub loaded_kg: f64,
    /// Hands with its modules in.
    pub loaded_hands: Hands,
    /// Whether one person's load constant of the other equation is passed, loaded.
    pub above_niosh: bool,
    /// The middle of the mass, loaded, from the front left bottom corner of the body: rearward, right, up, metres.
    pub centre_m: [f64; 3],
    /// How far that is from the middle of the body: rearward and right, metres.
    pub off_middle_m: [f64; 2],
    /// The longer side, at whose ends it is held: along the truck or across.
    pub held_along: Axis,
    /// What the front and the rear end carry when it is held there, or the left and the right one, kilograms.
    pub ends_kg: [f64; 2],
    /// What a sling's leg at each corner carries of it, kilograms: front left, front right, rear left, rear right.
    pub corners_kg: [f64; 4],
}

impl BoxLift {
    /// The names of the two ends.
    pub const fn end_names(&self) -> [&'static str; 2] {
        [Face::low(self.held_along).name(), Face::high(self.held_along).name()]
    }
}

/// The limits for hands, kilograms, with where each comes from: one person, two, and one by another equation.
pub fn hands_limits() -> [(f64, String); 3] {
    [ONE_PERSON_KG, TWO_PERSONS_KG, NIOSH_KG].map(|limit| (limit.value, limit.source.words()))
}

/// The boxes that can be built and whose modules' mass is known.
pub(super) fn list(boxes: &[BoxResult], kinds: &[KindResult]) -> Vec<BoxLift> {
    boxes.iter().filter_map(|b| one(b, kinds)).collect()
}

fn one(battery_box: &BoxResult, kinds: &[KindResult]) -> Option<BoxLift> {
    battery_box.built.as_ref()?;
    let body = battery_box.body?;
    let centre = counted::centre(battery_box, kinds)?;
    let corner = Axis::ALL.map(|axis| metres(body.face(Face::low(axis))));
    let centre_m = [0, 1, 2].map(|i| centre.at_m[i] - corner[i]);
    let size_m = [Axis::X, Axis::Y].map(|axis| metres(body.size()[axis]));
    // Masses above zero and two ends apart are all that a lift asks for.
    let between_ends = |axis: usize, mass_kg: f64| {
        let held = lift(&Load {
            mass_kg,
            centre_m: centre_m[axis],
            grips_m: [0.0, size_m[axis]],
        });
        held.ok()
    };
    // Hands, straps and a beam take it at the ends of its longer side.
    let held_along = if size_m[1] > size_m[0] { Axis::Y } else { Axis::X };
    let held = between_ends(held_along.index(), centre.mass_kg)?;
    let [front_kg, rear_kg] = between_ends(0, centre.mass_kg)?.at_grips_kg;
    let [front, rear] = [between_ends(1, front_kg)?, between_ends(1, rear_kg)?].map(|end| end.at_grips_kg);
    let shell_kg = crate::Grams(battery_box.mass.empty_g()).kg();
    Some(BoxLift {
        battery_box: battery_box.id,
        name: battery_box.name.clone(),
        shell_kg,
        shell_hands: truck::lift::hands(shell_kg).ok()?,
        loaded_kg: centre.mass_kg,
        loaded_hands: held.hands,
        above_niosh: held.above_niosh,
        centre_m,
        off_middle_m: [0, 1].map(|axis| centre_m[axis] - size_m[axis] / 2.0),
        held_along,
        ends_kg: held.at_grips_kg,
        corners_kg: [front[0], front[1], rear[0], rear[1]],
    })
}
