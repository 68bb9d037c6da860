//! How each box is lifted: by one person, by two, or with a hoist.

use geometry::Axis;
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
    /// What the front and the rear end carry when it is held at its ends, kilograms.
    pub ends_kg: [f64; 2],
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
    let corner = Axis::ALL.map(|axis| metres(body.face(geometry::Face::low(axis))));
    let centre_m = [0, 1, 2].map(|i| centre.at_m[i] - corner[i]);
    // Masses above zero and two ends apart are all that a lift asks for.
    let held = lift(&Load {
        mass_kg: centre.mass_kg,
        centre_m: centre_m[0],
        grips_m: [0.0, metres(body.size()[Axis::X])],
    })
    .ok()?;
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
        ends_kg: held.at_grips_kg,
    })
}
